/* brewers.h - brewers simulated from the rules: what was so, what was tasted, and whose doing it was
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_BREWERS_H
#define AB_TESTS_BREWERS_H

#include <gsl/gsl_rng.h>

#include <afterboil/diagnose.h>

/* How the rules of a world differ from the rules as written. step: logits up or down, by a coin of its own for each
 * estimated prior, link and leak. sd, sign_share: the same with normal errors, and estimated signs times 1 +
 * sign_share z. odds: added to every prior's log odds. priors, links: as step, of estimated priors alone, of
 * estimated links and leaks alone. together: one normal error for all links and leaks. stages: causes hang
 * together, one normal error of the log odds for all causes of a stage (a brewer careless in one thing is so in the
 * next). */
struct shift { double step, sd, sign_share, odds, priors, links, together, stages; };

/* A copy in the arena; what is not shifted is shared with k. */
const struct ab_knowledge *brewers_shift(
    const struct ab_knowledge *k, const struct shift *shift, gsl_rng *rng, struct ab_arena *arena);

enum tasting {
	TASTE_SOME,     /* some faults, chosen beforehand, are looked for by tasters who miss nothing; of the others
			   nothing is told */
	TASTE_COMPLETE, /* all are looked for; of what each cause or leak contributes a taster notices a share of
			   0.4, one by one */
	TASTE_BADLY,    /* 30 % of the faults there are go unnoticed, 10 % are called by the name of one taken for
			 * them; half the tastings are complete */
};

/* Of TASTE_COMPLETE, what of a contribution is noticed; of TASTE_BADLY, what goes unnoticed, and by another name. */
extern const double brewers_noticed, brewers_missed, brewers_mistaken;

/* One simulated batch; arrays in the arena. */
struct brew {
	bool *active, *to_blame;          /* n_causes: it was so; it pushed a fault found to its grade */
	struct ab_finding *finding;       /* n_faults: as the program is told */
	size_t n_found;
};

/* Draws causes from their chances on these facts, what each gives from its links (the last that holds), and the
 * tasting. Of TASTE_BADLY confusions are the tasters'; else they are contributions of their own, as the rules say.
 */
struct brew *brewers_brew(const struct ab_knowledge *world, const struct ab_fact *facts, enum tasting tasting,
    gsl_rng *rng, struct ab_arena *arena);

/* The same when it is known already which causes (n_causes) were there. */
struct brew *brewers_taste(const struct ab_knowledge *world, const struct ab_fact *facts, const bool *active,
    enum tasting tasting, gsl_rng *rng, struct ab_arena *arena);

#endif
