/* oxygen_gather.h - the oxygen budget while it grows, shared by the files that gather its items
 *
 * oxygen.c begins and closes it; oxygen_ferment.c adds what comes in while the beer stands in a fermenter,
 * oxygen_package.c what comes in on the way to the package and in it. Formulas: oxygen_budget.h. Each
 * ab_oxygen_gather_*() adds no item where nothing is told that would bear one.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_OXYGEN_GATHER_H
#define AB_PROCESS_OXYGEN_GATHER_H

#include <stdbool.h>
#include <afterboil/oxygen.h>
#include "process/oxygen_budget.h"
#include "process/working.h"

/* Of an untold beer; it is also what gas is reckoned at. */
#define AB_OXYGEN_USUAL_C 20.0

/* An item that rests on a told fact sets that fact too (ab_oxygen_add_told); an assumed one stands in the
 * total only, so no rule takes a guess of ours for something the brewer said. final_h: when fermentation was
 * over, hours from pitching. */
struct ab_oxygen_gathering {
	struct ab_work *w;
	struct ab_oxygen *out;
	double beer_l, final_h;
	bool kept[AB_OXYGEN_ITEMS];           /* came too late for the yeast */
	struct ab_basis all;
};

/* Yes 1, no 0, not told -1: the form that oxygen_budget.h asks in. */
int ab_oxygen_answer(const struct ab_work *w, int slot);
struct ab_oxygen_item *ab_oxygen_add(struct ab_oxygen_gathering *g, const char *name, const char *how,
    struct ab_range r, const struct ab_basis *basis);
void ab_oxygen_set(struct ab_oxygen_gathering *g, int slot, const struct ab_range *r,
    const struct ab_basis *basis, const char *how);
void ab_oxygen_add_told(struct ab_oxygen_gathering *g, int slot, const char *name, const char *how,
    struct ab_range r, const struct ab_basis *basis);

/* Days to packaging. An untold hour counts from the end of fermentation, the longest time it could have been
 * in the beer without yeast at work. */
double ab_oxygen_days_left(const struct ab_oxygen_gathering *g, double from_h);
/* The usual vessels stand in only as a whole: see find_kit in hygiene.c. */
const struct ab_list *ab_oxygen_vessels(const struct ab_work *w, bool *usual);
/* Gas over the beer in the first fermenter: told, or what it holds less the beer, or a fifth of the beer
 * (estimate). */
double ab_oxygen_head_l(const struct ab_oxygen_gathering *g, struct ab_basis *basis);

void ab_oxygen_gather_second(struct ab_oxygen_gathering *g);
void ab_oxygen_gather_opened(struct ab_oxygen_gathering *g);
void ab_oxygen_gather_hops(struct ab_oxygen_gathering *g);
void ab_oxygen_gather_crash(struct ab_oxygen_gathering *g);
void ab_oxygen_gather_wall(struct ab_oxygen_gathering *g);

void ab_oxygen_gather_moves(struct ab_oxygen_gathering *g);
void ab_oxygen_gather_filling(struct ab_oxygen_gathering *g);
/* oxygen.transfer: moving and filling, as far as they are told. To be called while only these two are among
 * the items: the sum over all of them is just these two. */
void ab_oxygen_set_transfer(struct ab_oxygen_gathering *g);
void ab_oxygen_gather_neck(struct ab_oxygen_gathering *g);
/* Gas over the beer in a keg of so many litres: as told, else what is left of the keg; L. */
#define AB_USUAL_KEG_L 19.0
/* Litres of one keg: as told, else a usual one's; of a mini keg 5 (common practice). */
double ab_oxygen_keg_l(const struct ab_package *p);
struct ab_range ab_oxygen_keg_head(const struct ab_package *p, double keg_l, double beer_l);
void ab_oxygen_gather_keg(struct ab_oxygen_gathering *g);
void ab_oxygen_gather_closure(struct ab_oxygen_gathering *g);

#endif
