/* row.c - the forward and the backward sweep over the batches, for one cause
 *
 * The state is a node of the grid; from batch to batch it stays with the chance `keeps`, else it is drawn anew. All
 * terms are positive.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/row.h"

#include <math.h>
#include <string.h>

/* gcc 12 runs loops over nodes two and more at once only from -O3 on; sums stay in order. */
#if defined __OPTIMIZE__ && defined __GNUC__ && !defined __clang__
#pragma GCC optimize ("O3")
#endif

#define EDGE 1e-9

bool row_possible(double alone)
{
	return alone > EDGE && alone < 1 - EDGE;
}

static double held_in(const struct ab_together_of *of, size_t b, size_t cause)
{
	return of->batches[b].held != NULL ? of->batches[b].held[cause] : 0;
}

static void survey(const struct ab_together_of *of, struct row *row)
{
	for (size_t b = 0; b < of->n_batches; b++) {
		double alone = of->batches[b].alone[row->cause], held = held_in(of, b, row->cause);

		if (!row_possible(alone))
			continue;
		row->possible++;
		row->mean += alone;
		row->held += held > 0;
		row->most = fmax(row->most, held);
	}
	if (row->possible > 0)
		row->mean /= (double)row->possible;
	row->most = fmin(row->most, 1 - EDGE);
}

static size_t at_most(size_t n, size_t most)
{
	return n < most ? n : most;
}

bool row_open(const struct ab_together_of *of, size_t cause, struct ab_arena *arena, struct row *row)
{
	double rate[AB_TOGETHER_RATES], by_rate[AB_TOGETHER_RATES], share[AB_TOGETHER_SHARES] = { 0 },
	    by_share[AB_TOGETHER_SHARES] = { 1 };
	size_t rates, shares = 1;

	*row = (struct row){ .cause = cause };
	survey(of, row);
	if (row->possible < 1)
		return true;
	/* a polynomial of the degree `possible` and one: each batch, and the mean for the next; n nodes serve to
	 * the degree 2n - 1 */
	rates = at_most((row->possible + 3) / 2, AB_TOGETHER_RATES);
	if (!ab_beta_rule(of->rate_batches * row->mean, of->rate_batches * (1 - row->mean), rates, rate, by_rate))
		return false;
	if (row->held > 0) {
		shares = at_most((row->held + 3) / 2, AB_TOGETHER_SHARES);
		if (!ab_beta_rule(of->share_batches * row->most, of->share_batches * (1 - row->most), shares, share,
			by_share))
			return false;
	}
	row->n_nodes = rates * shares;
	row->rate = ab_arena_alloc(arena, row->n_nodes, sizeof *row->rate);
	row->share = ab_arena_alloc(arena, row->n_nodes, sizeof *row->share);
	row->weight = ab_arena_alloc(arena, row->n_nodes, sizeof *row->weight);
	if (row->rate == NULL || row->share == NULL || row->weight == NULL)
		return false;
	for (size_t i = 0; i < row->n_nodes; i++) {
		row->rate[i] = rate[i / shares];
		row->share[i] = share[i % shares];
		row->weight[i] = by_rate[i / shares] * by_share[i % shares];
	}
	return true;
}

/* P(it strikes in such a batch) = (from + by rate) (1 - of share): its mean over the prior is alone x (1 - held). */
struct chance { double from, by, of; };

static struct chance chance_of(const struct row *row, double alone, double held)
{
	struct chance c = { 0, alone / row->mean, row->most > 0 ? held / row->most : 0 };

	if (alone > row->mean) {
		c.by = (1 - alone) / (1 - row->mean);
		c.from = 1 - c.by;
	}
	return c;
}

static double chance_at(const struct row *row, struct chance c, size_t node)
{
	return (c.from + c.by * row->rate[node]) * (1 - c.of * row->share[node]);
}

/* One step on: what stays, and what is drawn anew. to may be from. */
static void pass_on(const struct row *row, double keeps, const double *from, const double *likely, double *to)
{
	double sum = 0;

	for (size_t i = 0; i < row->n_nodes; i++)
		sum += to[i] = from[i] * likely[i];
	for (size_t i = 0; i < row->n_nodes; i++)
		to[i] = keeps * (to[i] / sum) + (1 - keeps) * row->weight[i];
}

static void pass_back(const struct row *row, double keeps, const double *likely, double *back)
{
	double sum = 0;

	for (size_t i = 0; i < row->n_nodes; i++)
		sum += row->weight[i] * (back[i] *= likely[i]);
	for (size_t i = 0; i < row->n_nodes; i++)
		back[i] = keeps * (back[i] / sum) + (1 - keeps);
}

/* P(its tasting) up to a factor; what is sure one way or the other leaves the chance of just that. */
static void likely_of(const struct row *row, struct chance c, double ratio, double *likely)
{
	for (size_t i = 0; i < row->n_nodes; i++)
		likely[i] = chance_at(row, c, i);
	if (isinf(ratio))
		return;
	for (size_t i = 0; i < row->n_nodes; i++)
		likely[i] = likely[i] * ratio + 1 - likely[i];
	for (size_t i = 0; ratio > 1 && i < row->n_nodes; i++)
		likely[i] /= ratio;
}

static void fill_likely(const struct ab_together_of *of, const struct row *row, const double *ratio, double *likely)
{
	for (size_t b = 0; b < of->n_batches; b++, likely += ROW_NODES) {
		double alone = of->batches[b].alone[row->cause];

		if (row_possible(alone))
			likely_of(row, chance_of(row, alone, held_in(of, b, row->cause)),
			    ratio[b * of->n_causes + row->cause], likely);
		for (size_t i = 0; !row_possible(alone) && i < row->n_nodes; i++)
			likely[i] = 1;
	}
}

static double inside(double p)
{
	return fmin(fmax(p, EDGE), 1 - EDGE);
}

static double mean_chance(const struct row *row, struct chance c, const double *forward, const double *back)
{
	double sum = 0, all = 0;

	for (size_t i = 0; i < row->n_nodes; i++) {
		double w = forward[i] * back[i];

		all += w;
		sum += w * chance_at(row, c, i);
	}
	return inside(sum / all);
}

/* Nothing that was tasted speaks of the cause: to the last bit what its facts say. */
static bool silent(const struct ab_together_of *of, const struct row *row, const double *ratio)
{
	for (size_t b = 0; b < of->n_batches; b++) {
		double r = ratio[b * of->n_causes + row->cause];

		if (r < 1 || r > 1)
			return false;
	}
	return true;
}

/* What the facts of each batch say, less what is held off. */
static void fill_by_facts(const struct ab_together_of *of, const struct row *row, double *to)
{
	for (size_t b = 0; b < of->n_batches; b++) {
		double alone = of->batches[b].alone[row->cause];

		to[b * of->n_causes] = row_possible(alone) ? alone * (1 - held_in(of, b, row->cause)) : alone;
	}
}

void row_before(const struct ab_together_of *of, const struct row *row, const double *ratio, struct row_room *room,
    double *before)
{
	fill_by_facts(of, row, before);
	if (row->possible < 2 || silent(of, row, ratio))
		return;
	fill_likely(of, row, ratio, room->likely);
	for (size_t i = 0; i < row->n_nodes; i++) {
		room->forward[i] = row->weight[i];
		room->back[i] = 1;
	}
	for (size_t b = 1; b < of->n_batches; b++)
		pass_on(row, of->keeps, room->forward + (b - 1) * ROW_NODES, room->likely + (b - 1) * ROW_NODES,
		    room->forward + b * ROW_NODES);
	for (size_t b = of->n_batches; b-- > 0;) {
		double alone = of->batches[b].alone[row->cause];

		if (row_possible(alone))
			before[b * of->n_causes] = mean_chance(row, chance_of(row, alone, held_in(of, b, row->cause)),
			    room->forward + b * ROW_NODES, room->back);
		pass_back(row, of->keeps, room->likely + b * ROW_NODES, room->back);
	}
}

/* Rates and shares as all batches leave them: of the chance, which is linear in each, only three means matter. */
void row_next(const struct ab_together_of *of, const struct row *row, const double *ratio, struct row_room *room,
    double *next)
{
	double *at = room->forward, rate = 0, share = 0, both = 0;

	fill_by_facts(of, row, next);
	if (row->possible < 1 || silent(of, row, ratio))
		return;
	fill_likely(of, row, ratio, room->likely);
	memcpy(at, row->weight, row->n_nodes * sizeof *at);
	for (size_t b = 0; b < of->n_batches; b++)
		pass_on(row, of->keeps, at, room->likely + b * ROW_NODES, at);
	for (size_t i = 0; i < row->n_nodes; i++) {
		rate += at[i] * row->rate[i];
		share += at[i] * row->share[i];
		both += at[i] * row->rate[i] * row->share[i];
	}
	for (size_t b = 0; b < of->n_batches; b++) {
		double alone = of->batches[b].alone[row->cause];
		struct chance c = chance_of(row, alone, held_in(of, b, row->cause));

		if (row_possible(alone))
			next[b * of->n_causes] = inside(c.from * (1 - c.of * share) + c.by * (rate - c.of * both));
	}
}
