/* units.h - the units of each dimension, as quantity.c reads them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_UNITS_H
#define AB_BASE_UNITS_H

#include <afterboil/quantity.h>

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
