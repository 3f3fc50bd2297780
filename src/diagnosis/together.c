/* together.c - messages between a brewer's batches and the causes' rows, round after round
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/together.h>

#include <math.h>
#include <string.h>

#include "diagnosis/row.h"

#define MOST_RATIO 1e9
/* A batch is solved again when something known of it moved by so much of what may still move in the end. */
static const double WORTH = 0.25;

struct work {
	const struct ab_together_of *of;
	struct ab_arena *arena;
	struct ab_together *out;
	struct ab_diag *diag;
	struct ab_net_scratch *scratch;
	struct row *rows;                /* n_causes */
	struct row_room room;
	double *used;                    /* n_batches x n_causes: before, as it was when the batch was solved last */
	double *log_odds, *present;      /* n_causes */
	bool *solved;                    /* n_batches */
};

static enum ab_status no_memory(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the batches taken together");
}

static bool in_range(const struct ab_together_of *of)
{
	return of->rate_batches > 0 && of->rate_batches <= AB_TOGETHER_SURE && of->share_batches > 0 &&
	    of->share_batches <= AB_TOGETHER_SURE && of->keeps >= 0 && of->keeps <= 1 && of->rounds >= 1 &&
	    of->settled >= 0;
}

static bool batch_in_range(const struct ab_together_batch *b, size_t n_causes)
{
	bool good = b->net == NULL || b->net->n_causes == n_causes;

	for (size_t i = 0; i < n_causes; i++)
		good = good && b->alone[i] >= 0 && b->alone[i] <= 1 && (b->ratio == NULL || b->ratio[i] >= 0) &&
		    (b->held == NULL || (b->held[i] >= 0 && b->held[i] <= 1));
	return good;
}

static enum ab_status check(const struct ab_together_of *of, struct ab_diag *diag)
{
	bool good = in_range(of);

	for (size_t b = 0; good && b < of->n_batches; b++)
		good = batch_in_range(&of->batches[b], of->n_causes);
	return good ? AB_OK
		    : ab_fail(diag, AB_EUSAGE, NULL, 0, "batches taken together: a number is outside its range");
}

static bool make_room(struct work *w)
{
	size_t n = w->of->n_batches * w->of->n_causes;
	double **arrays[] = { &w->out->before, &w->out->ratio, &w->out->present, &w->out->blame, &w->out->next,
		&w->used };

	for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++)
		if ((*arrays[i] = ab_arena_alloc(w->arena, n, sizeof(double))) == NULL)
			return false;
	w->rows = ab_arena_alloc(w->arena, w->of->n_causes, sizeof *w->rows);
	w->room.forward = ab_arena_alloc(w->arena, w->of->n_batches * ROW_NODES, sizeof(double));
	w->room.likely = ab_arena_alloc(w->arena, w->of->n_batches * ROW_NODES, sizeof(double));
	w->log_odds = ab_arena_alloc(w->arena, w->of->n_causes, sizeof(double));
	w->present = ab_arena_alloc(w->arena, w->of->n_causes, sizeof(double));
	w->solved = ab_arena_alloc(w->arena, w->of->n_batches, sizeof *w->solved);
	if (w->rows == NULL || w->room.forward == NULL || w->room.likely == NULL || w->log_odds == NULL ||
	    w->present == NULL || w->solved == NULL)
		return false;
	for (size_t i = 0; i < w->of->n_causes; i++)
		if (!row_open(w->of, i, w->arena, &w->rows[i]))
			return false;
	return true;
}

/* Where nothing moved the network's own number stands, to the last bit. */
static void move_odds(const struct ab_together_batch *batch, size_t n, const double *before, double *log_odds)
{
	for (size_t i = 0; i < n; i++) {
		double alone = batch->alone[i], p = before[i];

		log_odds[i] = batch->net->log_odds[i];
		if (row_possible(alone) && (p < alone || p > alone))
			log_odds[i] = log(p / (1 - p));
	}
}

static enum ab_status solve_on(const struct ab_together_batch *batch, struct ab_net_scratch *scratch,
    const double *log_odds, struct ab_beliefs *beliefs, struct ab_diag *diag)
{
	struct ab_net net = *batch->net;

	net.log_odds = log_odds;
	return ab_net_solve_in(scratch, &net, beliefs, diag);
}

static double ratio_of(double before, double after)
{
	double r = after / (1 - after) * (1 - before) / before;

	return isnan(r) ? 1 : fmin(fmax(r, 1 / MOST_RATIO), MOST_RATIO);
}

static double believed(double before, double ratio)
{
	if (isinf(ratio))
		return 1;
	return before * ratio / (before * ratio + 1 - before);
}

/* What was given, once. */
static void begin(const struct work *w)
{
	for (size_t b = 0; b < w->of->n_batches; b++)
		for (size_t i = 0; i < w->of->n_causes; i++) {
			const struct ab_together_batch *batch = &w->of->batches[b];
			bool given = batch->net == NULL && batch->ratio != NULL && row_possible(batch->alone[i]);

			w->out->ratio[b * w->of->n_causes + i] = given ? batch->ratio[i] : 1;
		}
}

static void pass_rows(struct work *w)
{
	for (size_t i = 0; i < w->of->n_causes; i++)
		row_before(w->of, &w->rows[i], w->out->ratio, &w->room, w->out->before + i);
}

static double farthest(const double *a, const double *b, size_t n)
{
	double most = 0;

	for (size_t i = 0; i < n; i++)
		most = fmax(most, fabs(a[i] - b[i]));
	return most;
}

/* The batch on what the others say of it now. Half of what a round finds is taken over (the mean of the
 * logarithms), so that two causes that push each other do not swing: usual practice. */
static enum ab_status pass_batch(struct work *w, size_t b)
{
	size_t n = w->of->n_causes;
	const struct ab_together_batch *batch = &w->of->batches[b];
	double *before = w->out->before + b * n, *ratio = w->out->ratio + b * n, *present = w->out->present + b * n;
	struct ab_beliefs beliefs = { .present = w->present };
	enum ab_status st;

	if (w->solved[b] && !(farthest(before, w->used + b * n, n) > WORTH * w->of->settled))
		return AB_OK;
	move_odds(batch, n, before, w->log_odds);
	st = solve_on(batch, w->scratch, w->log_odds, &beliefs, w->diag);
	if (st != AB_OK)
		return st;
	for (size_t i = 0; i < n; i++) {
		double r = row_possible(batch->alone[i]) ? ratio_of(before[i], w->present[i]) : 1;

		ratio[i] = w->solved[b] ? sqrt(ratio[i] * r) : r;
	}
	w->out->moved = fmax(w->out->moved, w->solved[b] ? farthest(w->present, present, n) : 1);
	memcpy(present, w->present, n * sizeof *present);
	memcpy(w->used + b * n, before, n * sizeof *before);
	w->solved[b] = true;
	return AB_OK;
}

static enum ab_status pass_batches(struct work *w)
{
	enum ab_status st = AB_OK;

	w->out->moved = 0;
	for (size_t b = 0; st == AB_OK && b < w->of->n_batches; b++)
		if (w->of->batches[b].net != NULL)
			st = pass_batch(w, b);
	return st;
}

/* The last word: on the last messages, with blame and the next batch. */
static enum ab_status finish(struct work *w)
{
	enum ab_status st = AB_OK;
	size_t n = w->of->n_causes;

	pass_rows(w);
	for (size_t i = 0; i < n; i++)
		row_next(w->of, &w->rows[i], w->out->ratio, &w->room, w->out->next + i);
	for (size_t b = 0; st == AB_OK && b < w->of->n_batches; b++) {
		const double *before = w->out->before + b * n;
		struct ab_beliefs beliefs = { .present = w->out->present + b * n, .blame = w->out->blame + b * n };

		if (w->of->batches[b].net != NULL)
			st = ab_together_again(&w->of->batches[b], n, before, w->scratch, &beliefs, w->diag);
		else
			for (size_t i = 0; i < n; i++)
				beliefs.present[i] = believed(before[i], w->out->ratio[b * n + i]);
	}
	return st;
}

static enum ab_status run(struct work *w)
{
	enum ab_status st = AB_OK;

	begin(w);
	while (st == AB_OK && !w->out->settled && w->out->rounds < w->of->rounds) {
		pass_rows(w);
		st = pass_batches(w);
		w->out->rounds++;
		w->out->settled = !(w->out->moved > w->of->settled);
	}
	return st == AB_OK ? finish(w) : st;
}

enum ab_status ab_together_solve(const struct ab_together_of *of, struct ab_arena *arena, struct ab_together *out,
    struct ab_diag *diag)
{
	struct work w = { .of = of, .arena = arena, .out = out, .diag = diag, .scratch = of->scratch };
	enum ab_status st = check(of, diag);

	*out = (struct ab_together){ 0 };
	if (st != AB_OK)
		return st;
	if (w.scratch == NULL)
		w.scratch = ab_net_scratch_new();
	st = w.scratch == NULL || !make_room(&w) ? no_memory(diag) : run(&w);
	if (w.scratch != of->scratch)
		ab_net_scratch_free(w.scratch);
	return st;
}

enum ab_status ab_together_again(const struct ab_together_batch *batch, size_t n_causes, const double *before,
    struct ab_net_scratch *scratch, struct ab_beliefs *beliefs, struct ab_diag *diag)
{
	double log_odds[AB_NET_CAUSES];

	if (n_causes > AB_NET_CAUSES)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "more than %d causes", AB_NET_CAUSES);
	move_odds(batch, n_causes, before, log_odds);
	return solve_on(batch, scratch, log_odds, beliefs, diag);
}

static bool next_again(const struct ab_together_of *of, const double *ratio, struct row_room *room,
    struct ab_arena *arena, double *next)
{
	struct row row;

	room->forward = ab_arena_alloc(arena, ROW_NODES, sizeof(double));
	room->likely = ab_arena_alloc(arena, of->n_batches * ROW_NODES, sizeof(double));
	for (size_t i = 0; room->forward != NULL && room->likely != NULL && i < of->n_causes; i++) {
		if (!row_open(of, i, arena, &row))
			return false;
		row_next(of, &row, ratio, room, next + i);
	}
	return room->forward != NULL && room->likely != NULL;
}

enum ab_status ab_together_next(const struct ab_together_of *of, const struct ab_together *found, size_t batch,
    const double *present, double *next, struct ab_diag *diag)
{
	struct ab_arena *arena = ab_arena_new();
	size_t n = of->n_batches * of->n_causes;
	double *ratio = arena != NULL ? ab_arena_alloc(arena, n, sizeof *ratio) : NULL;
	struct row_room room;
	bool good = ratio != NULL;

	if (good) {
		memcpy(ratio, found->ratio, n * sizeof *ratio);
		for (size_t i = batch * of->n_causes, c = 0; c < of->n_causes; i++, c++)
			ratio[i] =
			    row_possible(of->batches[batch].alone[c]) ? ratio_of(found->before[i], present[c]) : 1;
		good = next_again(of, ratio, &room, arena, next);
	}
	ab_arena_free(arena);
	return good ? AB_OK : no_memory(diag);
}
