/* units.h - the units of each dimension, as quantity.c reads them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_UNITS_H
#define AB_BASE_UNITS_H

#include <afterboil/quantity.h>

/* Exact by definition; whoever needs one takes it from here. */
#define AB_GALLON_L 3.785411784     /* 231 cubic inches of 25.4 mm */
#define AB_FLOZ_ML 29.5735295625    /* a gallon's 128th */
#define AB_POUND_G 453.59237
#define AB_OUNCE_G (AB_POUND_G / 16)

/* FAHRENHEIT is straight too, but worked out in one go so that 212 F is 100 C to the last bit. */
enum curve { STRAIGHT, FAHRENHEIT, PLATO };

/* One row a spelling. Case counts ("mL", not "ML"; "g" is not "G"), for in SI a letter's case changes its
 * meaning by powers of ten; a slip in case alone is named in the message. */
struct unit {
	const char *name;
	double factor, offset;
	enum curve curve;
};

/* bare: the number may stand without a unit. */
struct dim {
	const char *name, *units, *kept, *example;
	bool bare;
	const struct unit *table;   /* NULL: no units */
};

/* By enum ab_dim. */
extern const struct dim ab_dims[];

#endif
