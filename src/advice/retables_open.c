/* retables_open.c - the states of the facts that sets of changes lead to, looked at once for all draws of the estimates
 *
 * What a set does to the facts of a batch hangs on no estimate, so each state of the facts is looked at once: which
 * prior holds, which signs speak (of a group the one that is strongest as written) and how loud. A draw then costs
 * a few sums (retables.c). The sets are those of tables.c on the changes that are open to the plan.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/redrawing.h"

#include <math.h>
#include <string.h>

static int prior_at(const struct ab_cause *c, const struct ab_fact *facts)
{
	size_t i = c->n_priors - 1;

	while (i > 0 && !ab_conds_hold(&c->priors[i].when, facts))
		i--;
	return (int)i;
}

static bool same_state(const struct retables *r, const struct retables_state *x, const struct retables_state *y)
{
	if (x->prior != y->prior || x->n != y->n)
		return false;
	for (size_t i = 0; i < x->n; i++) {
		const struct retables_word *v = &r->words[x->first + i], *w = &r->words[y->first + i];

		if (v->sign != w->sign || v->weight < w->weight || v->weight > w->weight)
			return false;
	}
	return true;
}

/* Place of the state, among those of this table and sort (from `first` on) if it is one of them. */
static bool note_state(struct retables *r, size_t cause, const struct ab_fact *facts, size_t first, unsigned *at)
{
	const struct ab_cause *c = &r->a->k->causes[cause];
	double used[AB_CAUSE_SIGNS], odds = ab_cause_log_odds(c, facts, used);
	struct retables_state s = { .prior = isinf(odds) ? -1 : prior_at(c, facts), .first = r->n_words };
	struct retables_state *stored;

	for (size_t j = 0; j < c->n_signs; j++) {
		struct retables_word *w;

		if (!(used[j] < 0 || used[j] > 0))
			continue;
		w = ab_arena_push(r->a->arena, &r->words, &r->n_words, &r->cap_words, sizeof *w);
		if (w == NULL)
			return false;
		*w = (struct retables_word){ (short)j, used[j] };
		s.n++;
	}
	for (*at = (unsigned)first; *at < r->n_states; ++*at)
		if (same_state(r, &r->states[*at], &s)) {
			r->n_words = s.first;
			return true;
		}
	stored = ab_arena_push(r->a->arena, &r->states, &r->n_states, &r->cap_states, sizeof *stored);
	if (stored != NULL)
		*stored = s;
	return stored != NULL;
}

static int prevents_at(const struct ab_change *c, size_t cause, const struct ab_fact *facts)
{
	int at = BY_NOTHING;

	for (size_t i = 0; i < c->n_prevents; i++)
		if ((size_t)c->prevents[i].cause == cause && ab_conds_hold(&c->prevents[i].when, facts))
			at = (int)i;
	return at;
}

/* Every set of what replays in set b; other masks stand for that part of theirs which replays. As the sort `at`. */
static bool note_sort(struct retables *r, struct retable *t, size_t b, size_t at)
{
	const struct advising *a = r->a;
	unsigned *state = &t->state[at << t->n];
	size_t first = r->n_states;
	unsigned replays = 0;

	for (size_t i = 0; i < t->n; i++) {
		const struct ab_change *c = &a->k->changes[t->changes[i]];
		bool replay = advising_replayable(a, c, t->cause, a->facts[b]);

		t->by[at * t->n + i] = replay ? BY_REPLAY : prevents_at(c, t->cause, a->facts[b]);
		replays |= (unsigned)replay << i;
	}
	advising_replay(a, b, t->cause, NULL, 0, a->scratch);
	if (!note_state(r, t->cause, a->scratch, first, &state[0]))
		return false;
	for (unsigned mask = 1; mask < 1U << t->n; mask++) {
		int set[AB_PLAN_JOINT];
		size_t n = 0;

		state[mask] = state[mask & replays];
		if (mask & ~replays)
			continue;
		for (size_t i = 0; i < t->n; i++)
			if (mask >> i & 1)
				set[n++] = t->changes[i];
		advising_replay(a, b, t->cause, set, n, a->scratch);
		if (!note_state(r, t->cause, a->scratch, first, &state[mask]))
			return false;
	}
	return true;
}

static bool same_sort(const struct retables *r, const struct retable *t, size_t x, size_t y)
{
	if (memcmp(&t->by[x * t->n], &t->by[y * t->n], t->n * sizeof *t->by) != 0)
		return false;
	for (unsigned mask = 0; mask < 1U << t->n; mask++)
		if (!same_state(r, &r->states[t->state[(x << t->n) + mask]], &r->states[t->state[(y << t->n) + mask]]))
			return false;
	return true;
}

/* Where it is one of those before, nothing is kept of it. */
static bool note_set(struct retables *r, struct retable *t, size_t b)
{
	size_t states = r->n_states, words = r->n_words, at = 0;

	if (!note_sort(r, t, b, t->n_sorts))
		return false;
	while (at < t->n_sorts && !same_sort(r, t, at, t->n_sorts))
		at++;
	t->sort[b] = at;
	if (at == t->n_sorts) {
		t->n_sorts++;
	} else {
		r->n_states = states;
		r->n_words = words;
	}
	return true;
}

static bool table_room(const struct advising *a, struct retable *t)
{
	size_t sets = 0, masks = (size_t)1 << t->n;

	for (size_t b = 0; b < a->n_sets; b++)
		sets += advising_present_in(a, b, t->cause) > 0;
	t->sort = ab_arena_alloc(a->arena, a->n_sets, sizeof *t->sort);
	t->by = ab_arena_alloc(a->arena, sets * t->n, sizeof *t->by);
	t->state = ab_arena_alloc(a->arena, sets * masks, sizeof *t->state);
	t->taken = ab_arena_alloc(a->arena, sets * masks, sizeof *t->taken);
	t->share = ab_arena_alloc(a->arena, masks, sizeof *t->share);
	t->fell = ab_arena_alloc(a->arena, masks, sizeof *t->fell);
	t->left = ab_arena_alloc(a->arena, masks, sizeof *t->left);
	t->all = ab_arena_alloc(a->arena, masks, sizeof *t->all);
	t->short_by = ab_arena_alloc(a->arena, masks, sizeof *t->short_by);
	return t->sort != NULL && t->by != NULL && t->state != NULL && t->taken != NULL && t->share != NULL &&
	    t->fell != NULL && t->left != NULL && t->all != NULL && t->short_by != NULL;
}

static bool open_table(struct retables *r, struct retable *t, const struct ab_joint *joint)
{
	const struct advising *a = r->a;

	*t = (struct retable){ .cause = (size_t)joint->cause };
	for (size_t i = 0; i < joint->n; i++)
		if (a->state[joint->changes[i]] == AB_CHANGE_OPEN)
			t->changes[t->n++] = joint->changes[i];
	if (t->n == 0)
		return true;
	if (!table_room(a, t))
		return false;
	for (size_t b = 0; b < a->n_sets; b++)
		if (advising_present_in(a, b, t->cause) > 0 && !note_set(r, t, b))
			return false;
	r->n_shares += t->n;
	t->end = r->n_states;
	return true;
}

enum ab_status retables_open(
    struct retables *r, const struct advising *a, const struct estimates *e, struct ab_diag *diag)
{
	*r = (struct retables){ .a = a, .e = e };
	r->tables = ab_arena_alloc(a->arena, a->problem.n_joints, sizeof *r->tables);
	r->joints = ab_arena_alloc(a->arena, a->problem.n_joints, sizeof *r->joints);
	if (r->tables == NULL || r->joints == NULL)
		return advising_nomem(diag);
	for (size_t j = 0; j < a->problem.n_joints; j++) {
		struct retable *t = &r->tables[r->n];

		if (!open_table(r, t, &a->problem.joints[j]))
			return advising_nomem(diag);
		if (t->n == 0)
			continue;
		r->joints[r->n++] = (struct ab_joint){
			.cause = (int)t->cause, .n = t->n, .changes = t->changes, .share = t->share
		};
	}
	r->p = ab_arena_alloc(a->arena, r->n_states, sizeof *r->p);
	if (r->p == NULL)
		return advising_nomem(diag);
	retables_fill(r, a, NULL);
	for (size_t j = 0; j < r->n; j++)   /* what each was before learning: joints are read off as filled */
		for (size_t i = 0; i < r->tables[j].n; i++)
			r->tables[j].alone[i] = r->tables[j].left[1U << i];
	return advising_short_of_memory(a) ? advising_nomem(diag) : AB_OK;
}
