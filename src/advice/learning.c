/* learning.c - what came of the changes that were made, and what is expected of them from now on
 *
 * For each change that some batches were brewed with and each cause it should prevent, held.h weighs the batches
 * without and with it. The share expected is the mean over the batches without it, by how likely the cause was in
 * them: replayed or rated, as for any change (effects.c). The rate without any change starts from what such brewing
 * suffers from, in those batches.
 * Several changes against one cause are taken by turns, in the order they came: each with the others at the share
 * now believed of them, SWEEPS times. So what failed twice speaks against both, and what was held off is not
 * credited to each in full. Those that came with the same batches cannot be told apart, and are marked. A batch in
 * which the cause cannot be (no dry hops, no bottles) tells nothing of what held it off; nor, of a change made for
 * one beer only, does another beer. A brewer who gets better all the while is allowed for (held.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <afterboil/held.h>

/* A share below this is not worth a claim of its own, nor is a move of it below this a finding. LOST: as with
 * verdicts (revise.h). All policy by estimate. */
#define LEAST 0.05
#define LOST (1.0 / 3)
enum { SWEEPS = 2 };

const char *const ab_proved_words[] = { [AB_PROVED_NOTHING] = "too early to tell",
	[AB_PROVED_FAILED] = "did not hold as promised",
	[AB_PROVED_LESS] = "held less than promised",
	[AB_PROVED_GOOD] = "held as promised or better" };

struct learning {
	struct advising *a;
	size_t from;                   /* the newest AB_HELD_MOST batches: from here on */
	double *expected, *now;        /* n_changes x n_causes; 0 = nothing to learn */
	struct ab_exposed *batches;    /* AB_HELD_MOST */
	double *place;                 /* of each of them */
	double *weight;                /* n_changes: flaw load that was there to hold off */
};

bool advising_tried(const struct advising *a, size_t change, size_t cause)
{
	double held = a->held[change * a->k->n_causes + cause];

	return held < 1 || held > 1;
}

double advising_as_learned(double all, double without, double held)
{
	return fmin(fmax(without + held * (all - without), 0), 1);
}

static bool with(const struct learning *l, size_t u, size_t b)
{
	return l->a->in_force[u * l->a->n_cases + b] != 0;
}

static double before(const struct learning *l, size_t cause, size_t b)
{
	return l->a->context[b * l->a->k->n_causes + cause];
}

static bool possible(const struct learning *l, size_t cause, size_t b)
{
	return before(l, cause, b) > 0 && before(l, cause, b) < 1;
}

/* Does batch b tell of the change and the cause? */
static bool tells_of(const struct learning *l, size_t u, size_t cause, size_t b)
{
	return l->a->tells_of[u * l->a->n_cases + b] && possible(l, cause, b);
}

/* The chance that what batch b tells of the change still holds. Of a batch with it: of how it works today. Of one
 * without it: of what would come without it, in the batches with it that it is held against; the nearest counts. */
static double tells(const struct learning *l, size_t u, size_t b)
{
	size_t n = l->a->n_cases, near = n, age;

	for (size_t i = l->from; i < n && !with(l, u, b); i++)
		if (with(l, u, i) && (i < b ? b - i : i - b) < near)
			near = i < b ? b - i : i - b;
	age = with(l, u, b) ? n - 1 - b : near - 1;
	return pow(ADVISING_DECAY, (double)age);
}

/* Over the batches without it; where there are none, what the rules say of the first with it. */
static double expect(const struct learning *l, size_t u, size_t cause)
{
	const struct advising *a = l->a;
	double sum = 0, all = 0;
	size_t first = a->n_cases;

	for (size_t b = a->n_cases; b-- > 0;) {
		double w = a->tells_of[u * a->n_cases + b] ? advising_present_in(a, b, cause) : 0;

		if (with(l, u, b)) {
			first = b;
			continue;
		}
		if (!(w > 0))
			continue;
		sum += w * advising_takes(a, b, cause, (int)u);
		all += w;
	}
	if (first == a->n_cases)
		return 0;
	return all > 0 ? sum / all : advising_rated(&a->k->changes[u], cause, a->facts[first]);
}

/* What the changes but this one leave of the cause in batch b. */
static double left_by_others(const struct learning *l, size_t u, size_t cause, size_t b)
{
	double left = 1;

	for (size_t v = 0; v < l->a->k->n_changes; v++)
		if (v != u && with(l, v, b))
			left *= 1 - l->now[v * l->a->k->n_causes + cause];
	return left;
}

static bool untouched(const struct learning *l, size_t cause, size_t b)
{
	for (size_t v = 0; v < l->a->k->n_changes; v++)
		if (l->expected[v * l->a->k->n_causes + cause] > 0 && with(l, v, b))
			return false;
	return true;
}

/* How often such brewing suffers from it: by the batches without any change against it, else by all; of those that tell
 * of the change. */
static double rate_of(const struct learning *l, size_t u, size_t cause)
{
	double sum[2] = { 0, 0 }, all[2] = { 0, 0 };

	for (size_t b = l->from; b < l->a->n_cases; b++) {
		size_t which = untouched(l, cause, b) ? 0 : 1;

		if (!tells_of(l, u, cause, b))
			continue;
		sum[which] += before(l, cause, b);
		all[which]++;
	}
	return all[0] > 0 ? sum[0] / all[0] : all[1] > 0 ? sum[1] / all[1] : 0;
}

/* plain: as if nothing faded and no other change were there, for counts to show. */
static struct ab_share_learned weigh(const struct learning *l, size_t u, size_t cause, bool plain)
{
	const struct advising *a = l->a;
	double expected = l->expected[u * a->k->n_causes + cause], rate = rate_of(l, u, cause);
	size_t n = 0;

	for (size_t b = l->from; b < a->n_cases; b++) {
		double ratio;

		if (!tells_of(l, u, cause, b))
			continue;
		ratio = ab_exposed_faded(before(l, cause, b), a->tasted_only[b][cause],
		    plain ? 1 : tells(l, u, b));
		l->place[n] = (double)b;
		l->batches[n++] =
		    (struct ab_exposed){ plain ? ratio : ab_exposed_beside(ratio, left_by_others(l, u, cause, b)),
			    with(l, u, b) };
	}
	assert(n <= AB_HELD_MOST);
	return plain ? ab_held_share(expected, rate, l->batches, n)
		     : ab_held_share_drifting(expected, rate, l->batches, l->place, n);
}

/* In the order they came: the place of the first batch with it, n_cases for none; equal ones in the order of the
 * rules. */
static size_t first_with(const struct learning *l, size_t u)
{
	size_t b = l->from;

	while (b < l->a->n_cases && !with(l, u, b))
		b++;
	return b;
}

static void sweep(struct learning *l, size_t cause)
{
	size_t n = l->a->k->n_changes, n_causes = l->a->k->n_causes;

	for (size_t b = l->from; b < l->a->n_cases; b++)
		for (size_t u = 0; u < n; u++)
			if (l->expected[u * n_causes + cause] > 0 && first_with(l, u) == b && rate_of(l, u, cause) > 0)
				l->now[u * n_causes + cause] = weigh(l, u, cause, false).share;
}

static enum ab_proved judge(double prior, double share)
{
	if (fabs(share - prior) < LEAST)
		return AB_PROVED_NOTHING;
	return share > prior ? AB_PROVED_GOOD : share <= (1 - LOST) * prior ? AB_PROVED_FAILED : AB_PROVED_LESS;
}

/* Another change with just the same batches, against the same cause; -1 = none. */
static int together_with(const struct learning *l, size_t u, size_t cause)
{
	for (size_t v = 0; v < l->a->k->n_changes; v++) {
		size_t b = l->from;

		if (v == u || !(l->expected[v * l->a->k->n_causes + cause] > 0))
			continue;
		while (b < l->a->n_cases && (with(l, u, b) == with(l, v, b) || !l->a->tells_of[u * l->a->n_cases + b]))
			b++;
		if (b == l->a->n_cases)
			return (int)v;
	}
	return -1;
}

static void count(const struct learning *l, size_t cause, struct ab_tried *t)
{
	for (size_t b = l->from; b < l->a->n_cases; b++) {
		if (!tells_of(l, (size_t)t->change, cause, b))
			continue;
		if (with(l, (size_t)t->change, b))
			t->with++;
		else
			t->without++;
	}
}

static double since(const struct learning *l, size_t u)
{
	size_t b = 0;

	while (!with(l, u, b))
		b++;
	return l->a->cases[b]->batch->brewed.s;
}

/* What was at stake: the load there was to keep off. */
static double weight_of(const struct learning *l, const struct ab_tried *t)
{
	return l->a->brings[t->cause] * (t->struck + t->came) * t->prior;
}

/* Insertion keeps the order of the rules among equals. */
static void add(struct learning *l, const struct ab_tried *t)
{
	struct ab_advice *out = l->a->out;
	size_t j = out->n_tried++;

	l->weight[t->change] += weight_of(l, t);
	for (; j > 0 && weight_of(l, &out->tried[j - 1]) < weight_of(l, t); j--)
		out->tried[j] = out->tried[j - 1];
	out->tried[j] = *t;
}

static void tell(struct learning *l, size_t u, size_t cause)
{
	struct advising *a = l->a;
	struct ab_share_learned s = weigh(l, u, cause, false), plain = weigh(l, u, cause, true);
	struct ab_tried t = { .change = (int)u, .cause = (int)cause, .prior = s.prior, .share = s.share, .sd = s.sd,
		.struck = plain.struck, .came = plain.would - plain.held, .since_s = since(l, u),
		.kept = advising_adopted(a, (int)u) < a->n_cases, .together = together_with(l, u, cause),
		.proved = judge(s.prior, s.share) };

	count(l, cause, &t);
	t.few = t.with + t.without < AB_HELD_DRIFT_LEAST;
	if (t.with == 0)
		return;
	a->held[u * a->k->n_causes + cause] = s.share / s.prior;
	add(l, &t);
}

static bool goes_before(const struct learning *l, const struct ab_tried *x, const struct ab_tried *y)
{
	double wx = l->weight[x->change], wy = l->weight[y->change];

	return wx > wy || (wx >= wy && x->change < y->change);
}

/* The rows of a change stand together, in the order they have. */
static void group(struct learning *l)
{
	struct ab_tried *t = l->a->out->tried;

	for (size_t i = 1; i < l->a->out->n_tried; i++) {
		struct ab_tried x = t[i];
		size_t j = i;

		for (; j > 0 && goes_before(l, &x, &t[j - 1]); j--)
			t[j] = t[j - 1];
		t[j] = x;
	}
}

static bool make_room(struct learning *l)
{
	struct advising *a = l->a;
	size_t n = a->k->n_changes * a->k->n_causes;

	a->held = ab_arena_alloc(a->arena, n, sizeof *a->held);
	l->expected = ab_arena_alloc(a->arena, n, sizeof *l->expected);
	l->now = ab_arena_alloc(a->arena, n, sizeof *l->now);
	l->batches = ab_arena_alloc(a->arena, AB_HELD_MOST, sizeof *l->batches);
	l->place = ab_arena_alloc(a->arena, AB_HELD_MOST, sizeof *l->place);
	l->weight = ab_arena_alloc(a->arena, a->k->n_changes, sizeof *l->weight);
	for (size_t i = 0; a->held != NULL && i < n; i++)
		a->held[i] = 1;
	return a->held != NULL && l->expected != NULL && l->now != NULL && l->batches != NULL && l->place != NULL &&
	    l->weight != NULL;
}

/* What is expected of each change that was made; how many there are, by cause. */
static size_t expect_all(struct learning *l)
{
	size_t n_causes = l->a->k->n_causes, n = 0;

	for (size_t u = 0; u < l->a->k->n_changes; u++)
		for (size_t i = 0; first_with(l, u) < l->a->n_cases && i < n_causes; i++) {
			double share = l->a->k->causes[i].benign ? 0 : expect(l, u, i);

			if (share < LEAST)
				continue;
			l->expected[u * n_causes + i] = l->now[u * n_causes + i] = share;
			n++;
		}
	return n;
}

enum ab_status advising_learn(struct advising *a, struct ab_diag *diag)
{
	struct learning l = { .a = a, .from = a->n_cases > AB_HELD_MOST ? a->n_cases - AB_HELD_MOST : 0 };
	size_t n;

	if (!make_room(&l))
		return advising_nomem(diag);
	n = expect_all(&l);
	a->out->tried = ab_arena_alloc(a->arena, n, sizeof *a->out->tried);
	if (a->out->tried == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; n > 0 && i < a->k->n_causes; i++) {
		for (int s = 0; s < SWEEPS; s++)
			sweep(&l, i);
		for (size_t u = 0; u < a->k->n_changes; u++)
			if (l.expected[u * a->k->n_causes + i] > 0 && rate_of(&l, u, i) > 0)
				tell(&l, u, i);
	}
	group(&l);
	return AB_OK;
}
