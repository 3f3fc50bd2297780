/* hidden.h - what a simulated brewer knows and has not told: facts drawn so that the ratios of the rules hold
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_HIDDEN_H
#define AB_TESTS_HIDDEN_H

#include <gsl/gsl_rng.h>

#include <afterboil/diagnose.h>

enum { HIDDEN_VALUES = 32 };

/* The values a fact can have, and how often each comes when none of its causes is there: as even as can be such
 * that, for each cause with a sign on it, the mean of its ratio is 1; then P(value | cause) = often * ratio adds up
 * to 1. Where a cause's signs only raise (or only lower) that cannot be: then the values that move it come as
 * seldom as 1 in 50 of even. */
struct hidden_fact { size_t n; double value[HIDDEN_VALUES], often[HIDDEN_VALUES]; };

struct hidden {
	const struct ab_knowledge *k;
	struct hidden_fact *fact;   /* of each slot; n = 0: no sign looks at it */
	bool *frame; /* slots that gates, priors, links, leaks or checks ask about: what kind of batch it is */
};

struct hidden *hidden_new(const struct ab_knowledge *k, struct ab_arena *arena);

/* One brewer. The frame is taken from a journal; causes are drawn from their chances on it, then each other fact
 * that signs look at, given the causes there (often times their ratios, on what was drawn before). World: the rules
 * the truth comes from. */
struct ab_fact *hidden_frame(const struct hidden *h, const struct ab_fact *journal, struct ab_arena *arena);
void hidden_draw(const struct hidden *h, const struct ab_knowledge *world, const bool *active, gsl_rng *rng,
    struct ab_fact *facts);

/* A wrong answer: any of the fact's values, whatever the causes. */
double hidden_any(const struct hidden *h, int slot, gsl_rng *rng);

/* The mean of a cause's ratio over a fact's values: how far from 1 it is left. */
double hidden_mean_ratio(const struct hidden *h, int slot, size_t cause);

#endif
