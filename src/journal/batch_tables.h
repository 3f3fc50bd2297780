/* batch_tables.h - the parts of the tables of a batch, and the bounds of what they hold
 *
 * Bounds are in the unit the dimension is kept in. They are estimates, generous: they catch a wrong unit or a lost
 * decimal point ("200 C", "10.48 SG"), never an unusual brewer.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_BATCH_TABLES_H
#define AB_JOURNAL_BATCH_TABLES_H

#include "journal/tables.h"

enum { HOUR = 3600, DAY = 24 * HOUR, YEAR = 365 * DAY + DAY / 4 };

/* Largest values, by what is measured. */
#define MOST_L 2000.0           /* a shared pilot kit holds hundreds */
#define MOST_G 500e3
#define BEER_C -10.0, 60.0      /* a beer: frozen hard to a car in the sun */
#define ROOM_C -40.0, 60.0
#define WORT_C -5.0, 110.0
#define SG 0.97, 1.25           /* dry mead-like to the thickest wort */
#define AGE 0.0, 50.0 * YEAR
#define SPAN 0.0, 10.0 * YEAR
#define SHARE 0.0, 1.0
#define KPA 0.0, 1500.0
#define MGL 0.0, 5000.0

/* ---- tables_brewing.c ---- */
extern const struct ab_attr_spec ab_attrs_recipe[], ab_attrs_mash[], ab_attrs_water[], ab_attrs_boil[],
    ab_attrs_stand[], ab_attrs_chill[], ab_attrs_yeast[], ab_attrs_pitch[], ab_attrs_aerate[];
extern const struct ab_elem_spec ab_recipe_children[];

/* ---- tables_cellar.c ---- */
extern const struct ab_attr_spec ab_attrs_vessel[], ab_attrs_reading[], ab_attrs_log[], ab_attrs_lag[],
    ab_attrs_rest[], ab_attrs_crash[], ab_attrs_fining[], ab_attrs_spund[], ab_attrs_dryhop[],
    ab_attrs_transfer[], ab_attrs_opened[], ab_attrs_gear[];

#endif
