/* quantity.h - "20 L", "67 F", "1.048 SG": numbers with units, in and out
 *
 * A quantity is written "number unit" with one space or none between them ("19.5 C", "12psi"). The number is
 * a plain decimal (no exponent, no thousands separator, '.' as the point, an optional sign). Read values are
 * kept in one unit per dimension, SI or accepted for use with the SI (BIPM, SI Brochure, 9th ed., table 8),
 * named below; metric and US units go in. Factors: NIST SP 811 (2008) appendix B, and checked in
 * tests/handbook against GNU units. "gal", "qt", "pt" and "floz" are the US ones; "impgal" the imperial one.
 * "11.9 P" (degrees Plato) and "1.048 SG" are one dimension, gravity, kept as SG 20/20.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_QUANTITY_H
#define AFTERBOIL_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>

enum ab_dim {
	AB_DIM_NONE,        /* a bare number */
	AB_DIM_VOLUME,      /* kept in L    : L mL hL gal qt pt floz impgal cup */
	AB_DIM_MASS,        /* kept in g    : g kg mg oz lb */
	AB_DIM_TEMP,        /* kept in C    : C F K (K absolute) */
	AB_DIM_TEMP_DIFF,   /* kept in K    : K C F (differences) */
	AB_DIM_TIME,        /* kept in s    : s min h d wk mo y  (mo = 30.4375 d, y = 365.25 d); several may
	                     * be added up: "3d 4h" */
	AB_DIM_PRESSURE,    /* kept in kPa, gauge : kPa bar mbar psi atm */
	AB_DIM_GRAVITY,     /* kept in SG 20/20 : SG P (Plato) points (10 points = 1.010) */
	AB_DIM_LENGTH,      /* kept in mm   : mm cm m in ft */
	AB_DIM_SHARE,       /* kept as 0..1 : % */
	AB_DIM_CO2,         /* kept in volumes : vol g/L (1 vol = 1.9768 g/L, real gas at 0 C, 1 atm) */
	AB_DIM_CONC,        /* kept in mg/L : mg/L ppm g/L ug/L ppb */
	AB_DIM_DOSE,        /* kept in mL/L : mL/L  mL/gal floz/gal oz/gal (fluid) */
	AB_DIM_CELLS,       /* kept in 1e9 cells : Gcells Mcells */
	AB_DIM_BITTERNESS,  /* kept in IBU  : IBU */
	AB_DIM_PH,          /* kept as pH   : pH (the unit may be left out) */
	AB_DIM_AREA,        /* kept in m2   : m2 cm2 ft2 */
	AB_DIM_PACKS,       /* kept as a count : packs pack packet packets */
	AB_DIM_MONEY,       /* kept in the profile's currency : a bare number, or with a currency sign or
	                     * 3-letter code around it */
	AB_DIM_MAX_
};

struct ab_quantity {
	double value;       /* in the unit the dimension is kept in */
	double resolution;  /* one step of the last digit written, in the same unit: "19.5 C" -> 0.1; bounds
	                     * the rounding */
	const char *unit;   /* the unit as written (static string from the table) */
};

/* Reads text as a quantity of dimension dim. True on success. Otherwise false, out untouched, and why (size
 * bytes, NUL terminated) holds a sentence with what was found and the units allowed, ready for ab_fail. Text
 * longer than 64 bytes, a number of more than 17 digits, a temperature below absolute zero, or a gravity
 * outside -5 to 40 P (written in P) is refused.
 * Units are spelled exactly as above; blanks at both ends are cut. */
bool ab_quantity_read(const char *text, enum ab_dim dim, struct ab_quantity *out, char *why, size_t size);

/* "L, mL, gal ...": the units allowed for dim, static. And the name of dim ("a volume"), static; and the unit
 * it is kept in. */
const char *ab_dim_units(enum ab_dim dim);
const char *ab_dim_name(enum ab_dim dim);
const char *ab_dim_kept(enum ab_dim dim);

/* Degrees Plato <-> SG 20/20 (ASBC polynomial; physics trust grade A; sg 1.000..1.12, p 0..28; clamped to 0 P
 * below 1.000 only where the polynomial is negative by rounding: -0.0030 at 1.000). The inverse is by
 * bisection to 1e-12. */
double ab_plato_from_sg(double sg);
double ab_sg_from_plato(double plato);

#endif
