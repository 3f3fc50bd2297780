/* loop_learned.c - what can be learned of a simulated brewer's hidden chances: by who is told everything, and by who is told the tastings
 *
 * Both know how brewers are drawn, and what each change takes. Neither forgets, for nothing fades in these worlds.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <math.h>
#include <string.h>

#include <afterboil/together.h>

/* What a change takes is known: a beta of so many strikes is as narrow as the sweeps' quadrature bears. */
static const double SURE = AB_TOGETHER_SURE;

static void *room(const struct loop_brewer *b, size_t n, size_t size)
{
	void *p = ab_arena_alloc(b->arena, n, size);

	if (p == NULL)
		loop_give_up("bounds", "out of memory");
	return p;
}

/* Beta before, a strike or none with each batch's share of the chance after: exact by a rule of more nodes than half the batches. */
void loop_learned(const struct loop_brewer *b, double *mean)
{
	double at[AB_TOGETHER_RATES], weight[AB_TOGETHER_RATES];

	for (size_t c = 0; c < b->world->truth->n_causes; c++) {
		double p = b->before[c], all = 0, sum = 0;
		mean[c] = 0;
		if (!(p > 0 && p < 1))
			continue;
		if (!ab_beta_rule(loop_same_brewer * p, loop_same_brewer * (1 - p), AB_TOGETHER_RATES, at, weight))
			loop_give_up("bounds", "out of memory");
		for (size_t i = 0; i < AB_TOGETHER_RATES; i++) {
			double likely = weight[i];
			for (size_t t = 0; t < b->n_cases; t++)
				likely *= b->struck[t][c] ? at[i] : 1 - at[i] * b->left[t][c];
			all += likely;
			sum += likely * at[i];
		}
		mean[c] = sum / all;
	}
}

/* Its chances are those of the brewer before any change, and what the changes take is held off; nothing more of a tasting that the rules of
 * the world cannot explain. */
static struct ab_together_batch batch_of(const struct loop_brewer *b, size_t t)
{
	const struct ab_knowledge *k = b->world->truth;
	struct ab_net *net = room(b, 1, sizeof *net);
	double *held = room(b, k->n_causes, sizeof *held), *odds = room(b, k->n_causes, sizeof *odds);
	struct ab_together_batch batch = { .alone = b->before, .held = held };
	struct ab_diag diag;

	for (size_t c = 0; c < k->n_causes; c++) {
		held[c] = 1 - b->left[t][c];
		odds[c] = b->before[c] > 0 ? fmin(log(b->before[c] / (1 - b->before[c])), 500) : -INFINITY;
	}
	ab_diag_init(&diag);
	if (ab_diagnose_net(k, b->was[t], &b->cases[t]->evidence, b->arena, net, &diag) != AB_OK)
		return batch;
	net->log_odds = odds;
	if (net->n_faults > 0 && ab_net_solve_in(b->scratch, net, &(struct ab_beliefs){ 0 }, &diag) == AB_OK)
		batch.net = net;
	return batch;
}

/* A batch more, of which nothing is told and which no change touches: what is known of it is the mean. */
void loop_heard(const struct loop_brewer *b, double *mean)
{
	size_t n = b->n_cases + 1, n_causes = b->world->truth->n_causes;
	struct ab_together_batch *batches = room(b, n, sizeof *batches);
	const struct ab_together_of of = { .batches = batches, .n_batches = n, .n_causes = n_causes, .rate_batches = loop_same_brewer,
	    .share_batches = SURE, .keeps = 1, .rounds = 30, .settled = 0.005, .scratch = b->scratch };
	struct ab_together together;
	struct ab_diag diag;

	for (size_t t = 0; t + 1 < n; t++)
		batches[t] = batch_of(b, t);
	batches[n - 1].alone = b->before;
	ab_diag_init(&diag);
	if (ab_together_solve(&of, b->arena, &together, &diag) != AB_OK)
		loop_give_up("bounds", diag.text);
	memcpy(mean, together.before + (n - 1) * n_causes, n_causes * sizeof *mean);
}
