/* heat.h - how warm fermenting beer gets by its own heat, and how fast its vessel loses it
 *
 *     C dT/dt = q(t) - UA (T - room(t)),   C = 4.0 kJ/(kg K) x SG x volume
 *
 * q is the heat of fermentation, 586 to 652 kJ for a kg of extract (252 and 280 BTU/lb, the trade's two
 * figures; trust B), released along the gravity curve (curve.h). A figure of 1.217 kJ/g that is quoted as
 * "per g glucose" is free energy, twice too much: it is not used.
 * UA are estimates (0.4 m2 x 4 to 8 W/(m2 K) for 20 L; trust C): fit one's own from a log. Numbers in,
 * numbers out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_HEAT_H
#define AFTERBOIL_HEAT_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/fact.h>
#include <afterboil/journal.h>
#include <afterboil/profile.h>

/* kJ per g of extract fermented: the least, the middle and the most of what the trade says. */
#define AB_HEAT_LOW 0.5862
#define AB_HEAT_MID 0.619
#define AB_HEAT_HIGH 0.652

/* How a vessel stands, and what it loses then, W/K for 20 L; other volumes by (V/20)^(2/3). */
enum ab_heat_way { AB_HEAT_STILL_AIR, AB_HEAT_JACKET, AB_HEAT_FAN, AB_HEAT_BATH, AB_HEAT_FRIDGE,
    AB_HEAT_WAY_MAX_ };
struct ab_heat_ua { double low, mid, high; };
struct ab_heat_ua ab_heat_ua_usual(enum ab_heat_way way, double volume_l);

/* One batch. room_h ascending; the room runs straight between its points and is held beyond them; n_room at
 * least 1. */
struct ab_heat_in {
	double capacity_kjk;              /* C, over 0 */
	double heat_kj;                   /* released in all */
	double b, m_h;                    /* of the gravity curve, 1/h and h */
	double ua_wk;                     /* 0: a perfect jacket */
	double start_c;
	const double *room_h, *room_c;
	size_t n_room;
};

/* Extract fermented, g/L, from SG 20/20 to SG 20/20, by Balling's real extract: 10 (OE - RE) SG 0.9982. */
double ab_heat_extract(double og_sg, double fg_sg);
/* kJ/K of so many litres of wort. */
double ab_heat_capacity(double volume_l, double og_sg);
/* Temperatures at hours 0, step_h, ... (n - 1) step_h, into c. Each step is exact for its mean room and its
 * own share of the heat, so no heat is ever lost or made. */
void ab_heat_trace(const struct ab_heat_in *in, double step_h, size_t n, double *c);

/* What a log of beer and room says of UA: least squares of the whole series against the trace that starts at
 * its first beer reading. False when it cannot tell: fewer than 6 beer readings, or UA outside 0.3 to 40 W/K,
 * or more than half of itself wide. u from the curvature of the squares, with at least 0.3 K for a
 * thermometer. ua_wk and start_c of in are not read. */
bool ab_heat_fit_ua(const struct ab_heat_in *in, const double *beer_h, const double *beer_c, size_t n,
    double *ua_wk, double *u_wk);

/* The beer of a batch, reconstructed hour by hour for drawing; n == 0 when it was measured, held by a
 * control, or no room is known. low and high: UA, heat and rate at the ends of what is usual, all at once.
 * mid always lies between. */
struct ab_heat_of { size_t n; double step_h; const double *mid, *low, *high; };
/* AB_ENOMEM only. The series live in the arena. */
enum ab_status ab_heat_of_batch(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_heat_of *out, struct ab_diag *diag);

#endif
