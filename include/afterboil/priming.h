/* priming.h - how much sugar a beer wants in the bottle, or why nobody should say yet
 *
 * Sugar makes what is wanted less what the beer still holds: Henry's law at the warmest it met since it fermented,
 * under the air's pressure and what a valve held over it, and 4.0 g of sucrose in a litre for a volume (3.844 by
 * stoichiometry, and 5 % that goes into yeast; trust A for the arithmetic, B for the practice). A volume is 1 L of
 * CO2 at 0 C and 1 atm per litre of beer. Wanted is the recipe's, else the middle of what is usual for its family
 * (rules/families.xml), less where the bottle would not bear it.
 *
 * Sugar in beer that still ferments bursts bottles. So nothing is reckoned unless the gravity stood for three days,
 * at least about where it should end, with nothing put in since that may set it going again. Beer that stands
 * further over its expected end hangs: it counts as done after longer at one gravity, a week after it was warmed
 * and roused among them, unless ferment.stalled says that far too much is left or a forced sample fell. A yeast
 * that eats starch must stand for longer and must not hang by where its class ends, or a forced sample must have
 * ended there (such strains go on slowly, by less than a reading shows). How long and how far, with their sources:
 * rules/numbers.xml.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_PRIMING_H
#define AFTERBOIL_PRIMING_H

#include <afterboil/fact.h>
#include <afterboil/journal.h>
#include <afterboil/profile.h>

/* READY, or the first thing that stands against it. NOT_ASKED: it is packaged, or not to be bottled. */
enum ab_priming_why {
	AB_PRIMING_NOT_ASKED,
	AB_PRIMING_READY,
	AB_PRIMING_NO_GRAVITY,
	AB_PRIMING_NO_END,
	AB_PRIMING_NOT_STILL,
	AB_PRIMING_POINTS_LEFT,
	AB_PRIMING_SLOW_YEAST,
	AB_PRIMING_SUGAR_SINCE,
	AB_PRIMING_HOPS_SINCE,
	AB_PRIMING_NO_TEMPERATURE,
	AB_PRIMING_HOLDS_ENOUGH,
	AB_PRIMING_BOTTLE,
	AB_PRIMING_WHYS
};

/* Of a beer that is known to be done. volumes and vol_u: wanted, and how far what comes may be from it (one
 * standard uncertainty); limit_kpa: what the bottle bears at hottest_c, 0 = not known; over_kpa, over_u: gauge
 * pressure over the beer when it had fermented; atm: the air's pressure, 0 = sea level. */
struct ab_priming_of { double volumes, warmest_c, warmest_u, hottest_c, limit_kpa, over_kpa, over_u, atm; };
/* Sucrose in g/L, and from low to high by what is not known better; u of the gas in volumes. READY, HOLDS_ENOUGH
 * (no sugar is wanted) or BOTTLE (two standard uncertainties more gas than planned would be more than it bears). */
struct ab_priming_rate { double g_per_l, low, high, vol_u, kpa; };
enum ab_priming_why ab_priming_rate(const struct ab_priming_of *of, struct ab_priming_rate *out);

/* volume_l: NAN where nobody told how much beer there is. stood_days, last_sg, end_sg: NAN unknown. usual: volumes
 * are the family's and not the recipe's. read_then: the temperature was read since the gravity stood; else it is
 * how the fermenter is held, and doubted by 3 K, or where that is not told either (cool_guess) the coolest read
 * after the first three days, of these alone no more than 20 C (working value): too cool a guess makes too little
 * gas, not too much. told_bottle: which bottle is known, else an ordinary one is reckoned with. */
struct ab_priming {
	enum ab_priming_why why;
	struct ab_priming_of of;
	struct ab_priming_rate rate;
	double volume_l, stood_days, last_sg, end_sg;
	double hung_days, slow_days; /* at one gravity it would count as done: one that hangs, one of a slow yeast
				      */
	double read_sg[3]; size_t n_read;             /* the newest gravities, oldest of them first */
	bool forced;  /* a forced sample ended where the beer stands, within two readings of a hydrometer */
	bool stalled; /* POINTS_LEFT that no waiting acquits: it hangs far too high, or a forced sample fell lower
		       */
	bool misled;  /* NO_GRAVITY, for those since the start are of a refractometer and not corrected for alcohol
		       */
	bool usual, told_bottle, read_then, cool_guess;
	bool assumed; /* of ab_priming_once_done: nobody told how warm it is, and 20 C are taken (working value), or
		       * the low end of its yeast's range where that is cooler: the safe side */
};
/* AB_ENOMEM only. profile may be NULL. */
enum ab_status ab_priming_of_batch(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_priming *out, struct ab_diag *diag);
/* The same as if it stood at its end now: READY, HOLDS_ENOUGH, BOTTLE or NOT_ASKED. For a page that is printed
 * before; never to be told without what stands against it. */
enum ab_status ab_priming_once_done(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_priming *out, struct ab_diag *diag);

#endif
