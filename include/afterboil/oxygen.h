/* oxygen.h - where the oxygen in a beer came from: the budget after fermentation, item by item
 *
 * All in mg of oxygen per L of beer, what got in from the end of fermentation to the last tasting. Each item
 * has a range in which it is held to lie nine times in ten. The last item, "taken up by yeast", is negative:
 * so the items sum to the total. The sum of oxygen brought in, and the facts oxygen.headspace, .transfer and
 * so on, are before that; oxygen.total is after.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_OXYGEN_H
#define AFTERBOIL_OXYGEN_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/facts.h>

/* One item. name: "moving the beer", "filling the bottles", "air in the neck", "air in the keg", "second
 * vessel", "opened lid", "dry hops", "cold crash", "through the fermenter's wall", "through the closure",
 * "taken up by yeast". how: what it was reckoned from, a static phrase. low and high bound mgl. lines:
 * journal lines, 0-terminated unless full. assumed: the journal does not tell it, a usual value stands in. */
struct ab_oxygen_item {
	const char *name, *how;
	double mgl, low, high;
	char grade;
	bool assumed;
	long lines[AB_FACT_LINES];
};

enum { AB_OXYGEN_ITEMS = 12 };

/* complete: packaged in bottles or keg, so that total covers every way (fact oxygen.total is known); else
 * total is what is known of so far. total lies from low to high: the items' ranges combined as independent of
 * each other, not added up. */
struct ab_oxygen {
	size_t n;
	struct ab_oxygen_item items[AB_OXYGEN_ITEMS];
	double total, low, high;
	bool complete;
};

/* The budget of a batch. as_if (n_as_if of them, or NULL and 0): facts that stand otherwise than told, as in
 * ab_facts_recompute, "as if purged five times": the inputs that count are transfer.splashed,
 * transfer.target, vessel.second, vessel.second-headspace, hops.dry-load, hops.dry-opened, crash.airlock,
 * crash.sucked-back, pack.into, pack.neck, pack.cap, pack.cap-on-foam, pack.bottom-filled, pack.filled,
 * pack.purges, pack.leaks, pack.priming-rate and store.days. profile may be NULL. AB_ENOMEM only. */
enum ab_status ab_oxygen_budget(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms,
    const struct ab_as_if *as_if, size_t n_as_if, struct ab_arena *arena, struct ab_oxygen *out,
    struct ab_diag *diag);

#endif
