/* oxygen_budget.h - what each way brings into a litre of beer: ranges in, ranges out
 *
 * All results in mg/L of beer. Words are 1 + their place in the journal's lists, 0 not told, yes/no -1 not
 * told. No controlled measurement of a home brewer's steps is published: what is not arithmetic is an
 * estimate, grade C, and its range is wide.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_OXYGEN_BUDGET_H
#define AB_PROCESS_OXYGEN_BUDGET_H

#include <stdbool.h>
#include <afterboil/oxygen.h>
#include "process/oxygen_ways.h"

struct ab_range ab_range_times(struct ab_range r, double factor);
/* The product of two independent positive estimates: the relative widths combine as a root of squares. */
struct ab_range ab_range_product(struct ab_range a, struct ab_range b);
/* Sum of independent estimates. */
struct ab_range ab_range_sum(struct ab_range a, struct ab_range b);
/* The range as a standard uncertainty: nine in ten are 3.3 of it. */
double ab_range_u(struct ab_range r);

/* One move. Splashed or poured into air 1 to 5, quiet 0.3 to 1 (bounds derived from what home racking can
 * take up), closed 0.02 to 0.1; a target without air leaves a tenth of it, one emptied of liquid a thirtieth
 * (estimates). how, target: words; splashed 1, 0 or -1. */
struct ab_range ab_oxygen_move(int how, int target, int splashed);
/* Through the wall of a silicone hose, 9.5 by 12.7 mm, while beer runs through it: at most what a beer
 * without oxygen would draw, a half of it taken. */
struct ab_range ab_oxygen_hose(double metres, double minutes, double beer_l);
/* Filling bottles: from the bottom 0.1 to 0.5, from above 0.5 to 3 (estimates). bottom_filled 1, 0 or -1. */
struct ab_range ab_oxygen_filling(int bottom_filled);
/* No more than beer takes up under such gas in so many days, by whatever ways it came. */
struct ab_range ab_oxygen_at_most(struct ab_range r, double days, double share);
/* Air of head_l over beer_l for days, of which the beer takes ab_oxygen_taken; at least three tenths of that,
 * at most with 3 d for 8.5 and to the last of it; and never more than beer holds under such gas and a milligram a
 * day that it uses up (at most three). */
struct ab_range ab_oxygen_over(double head_l, double beer_l, double days, double share);
/* A lid off for minutes: of head_l so much is changed for air, 1 - exp(-min/30) (10 to 120 min for 30:
 * estimate), then as above. */
struct ab_range ab_oxygen_opened(double minutes, double head_l, double beer_l, double days);
/* Dry hops: 1 to 2 L of air a kg between them (estimate), and the lid, two minutes an addition, as far as it
 * was open. opened: word. active: beer was still fermenting, and took nine tenths of it up. */
struct ab_range ab_oxygen_hops(double load_gl, int additions, int opened, bool active, double head_l,
    double beer_l, double days);
/* A cold crash by ab_crash_air: between an eighth and all of it, 0.4 in the middle, 0.7 where it was seen to
 * be drawn in, 0.15 where not. lock: word; nothing where it was sealed, hung with a gas bag or under
 * pressure. sucked 1, 0 or -1. */
struct ab_range ab_oxygen_crash(int lock, int sucked, double beer_l, double head_l, double from_c,
    double to_c, double days);
/* Through the fermenter's wall in days. kind: word; only plastics. leaky: the lid was not tight. */
struct ab_range ab_oxygen_wall(int kind, bool leaky, double beer_l, double days);
/* The neck of bottles, all of it. mm with its u; litres NAN = the usual size; on_foam 1, 0, -1: foam drives
 * out all but a fifth to a twentieth. */
struct ab_range ab_oxygen_neck(int bottle, double mm, double mm_u, double litres, int on_foam);
/* A keg's gas: of head_l all, of what the beer displaced a tenth where it had been purged. filled: word;
 * cycles NAN = not told; fermented volumes of its own gas that flowed through, NAN = not told. */
struct ab_range ab_oxygen_keg(int filled, double cycles, double gauge_kpa, double own_volumes, double keg_l,
    double beer_l, struct ab_range head_l);
/* Through cap or seals in days. bottle 0: a keg, with rubber seals. leaks 1, 0, -1. */
struct ab_range ab_oxygen_closure(int bottle, int cap, int leaks, double litres, double days);
/* Share of what got in that yeast takes up: bottles that referment 0.6 (0.3 to 0.9), others 0.1 (0 to 0.3):
 * yeast is fast, but not faster than all staling (estimate after an instrument maker and a trade journal, who
 * disagree). */
struct ab_range ab_oxygen_eaten(bool referments);

/* Puts the last item, "taken up by yeast", and the totals; kept[i]: item i came too late for the yeast. */
void ab_oxygen_close(struct ab_oxygen *budget, const bool *kept, struct ab_range eaten);

#endif
