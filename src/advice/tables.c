/* tables.c - what sets of changes take away of each cause, by joint replay over the whole history
 *
 * For each cause the open changes that do something to it, at most AB_PLAN_JOINT: the strongest. Batch by
 * batch, those that replay there act together on the facts, and the rated shares of the others multiply onto
 * what is left; the batches are weighed as in effects.c. Two of one group are never in a plan together, so
 * their sets are not worked out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <string.h>

/* One table in the making. Bits of a mask are places in changes[]. */
struct making {
	const struct advising *a;
	size_t cause, n;
	int changes[AB_PLAN_JOINT];
	double *share;                 /* 2^n */
	double *fell, *left;           /* 2^n, of one batch: what replay takes; what rating leaves */
	struct ab_fact *after;
	unsigned conflict[AB_PLAN_JOINT];   /* those of the same group, below it */
};

static double gain_of(const struct advising *a, size_t u, size_t cause)
{
	return a->load[cause] * a->effect[u * a->k->n_causes + cause];
}

/* Does the change do anything to the cause, alone or together with others? What moves a fact the cause looks
 * at may matter only beside another change, so a gain of nothing alone is no proof. */
static bool matters(const struct advising *a, size_t u, size_t cause)
{
	const struct ab_change *c = &a->k->changes[u];

	if (!a->touches[u * a->k->n_causes + cause])
		return false;
	if (gain_of(a, u, cause) > 0)
		return true;
	for (size_t b = 0; b < a->n_sets; b++)
		if (advising_present_in(a, b, cause) > 0 && advising_replayable(a, c, cause, a->facts[b]))
			return true;
	return false;
}

/* What only a limit of the brewer bars is worked out too, where there is room beside the open ones: what the
 * limit costs is asked later (leftout.c). */
static bool barred_by_limit(const struct advising *a, size_t u)
{
	return a->problem.state[u] == AB_CHANGE_OUT && a->out->items[u].limits != 0;
}

/* The strongest stay; equal ones in the order of the rules. */
static void add_change(struct making *m, size_t u, double *neglected)
{
	double gain = gain_of(m->a, u, m->cause);
	size_t weakest = 0;

	if (m->n < AB_PLAN_JOINT) {
		m->changes[m->n++] = (int)u;
		return;
	}
	for (size_t i = 1; i < m->n; i++)
		if (gain_of(m->a, (size_t)m->changes[i], m->cause) <=
		    gain_of(m->a, (size_t)m->changes[weakest], m->cause))
			weakest = i;
	if (gain <= gain_of(m->a, (size_t)m->changes[weakest], m->cause)) {
		*neglected += gain;
		return;
	}
	*neglected += gain_of(m->a, (size_t)m->changes[weakest], m->cause);
	memmove(&m->changes[weakest], &m->changes[weakest + 1], (m->n - weakest - 1) * sizeof *m->changes);
	m->changes[m->n - 1] = (int)u;   /* the list stays in the order of the rules: u is the highest yet */
}

static void note_conflicts(struct making *m)
{
	const int *group = m->a->problem.group;

	for (size_t i = 0; i < m->n; i++) {
		m->conflict[i] = 0;
		for (size_t j = 0; j < i; j++)
			if (group[m->changes[i]] >= 0 && group[m->changes[i]] == group[m->changes[j]])
				m->conflict[i] |= 1U << j;
	}
}

static bool may_be(const struct making *m, unsigned mask)
{
	for (size_t i = 0; i < m->n; i++)
		if (mask >> i & 1 && mask & m->conflict[i])
			return false;
	return true;
}

/* The sets of one batch that replay: every subset of `replays`, smaller ones first as they are smaller
 * numbers. A set that cannot be takes the figure of a part of it; it is never chosen. */
static void fill_fell(struct making *m, size_t b, unsigned replays)
{
	int set[AB_PLAN_JOINT];

	m->fell[0] = 0;
	for (unsigned mask = 1; mask < 1U << m->n; mask++) {
		size_t n = 0;

		if (mask & ~replays) {
			m->fell[mask] = m->fell[mask & replays];
			continue;
		}
		if (!may_be(m, mask)) {
			m->fell[mask] = m->fell[mask & (mask - 1)];
			continue;
		}
		for (size_t i = 0; i < m->n; i++)
			if (mask >> i & 1)
				set[n++] = m->changes[i];
		advising_replay(m->a, b, m->cause, set, n, m->after);
		m->fell[mask] = advising_fell(m->a, b, m->cause, m->after);
	}
}

/* Place of the lowest bit of a set that is not empty. */
static size_t lowest(unsigned mask)
{
	size_t i = 0;

	while (!(mask >> i & 1))
		i++;
	return i;
}

static void add_batch(struct making *m, size_t b)
{
	const struct advising *a = m->a;
	const struct ab_fact *facts = a->facts[b];
	double w = advising_present_in(a, b, m->cause) / a->seen[m->cause], rated[AB_PLAN_JOINT];
	unsigned replays = 0;

	for (size_t i = 0; i < m->n; i++) {
		const struct ab_change *c = &a->k->changes[m->changes[i]];

		rated[i] = 0;
		if (advising_replayable(a, c, m->cause, facts))
			replays |= 1U << i;
		else
			rated[i] = advising_rated(c, m->cause, facts);
	}
	fill_fell(m, b, replays);
	m->left[0] = 1;
	for (unsigned mask = 1; mask < 1U << m->n; mask++) {
		m->left[mask] = m->left[mask & (mask - 1)] * (1 - rated[lowest(mask)]);
		m->share[mask] += w * (1 - m->left[mask] * (1 - m->fell[mask]));
	}
}

/* What was tried does of its work what it was seen to do (learning.c): the figures are linear in that, so one pass
 * for each such change is enough, and batches need not be told apart. */
static void learn(struct making *m)
{
	const struct advising *a = m->a;

	for (size_t i = 0; i < m->n; i++) {
		double held = a->held[(size_t)m->changes[i] * a->k->n_causes + m->cause];

		if (!advising_tried(a, (size_t)m->changes[i], m->cause))
			continue;
		for (unsigned mask = 1; mask < 1U << m->n; mask++)
			if (mask >> i & 1)
				m->share[mask] = advising_as_learned(m->share[mask], m->share[mask & ~(1U << i)], held);
	}
}

/* Rounding of the sum over batches must not make a share of more than all. */
static void finish(struct making *m, struct ab_joint *joint)
{
	for (unsigned mask = 0; mask < 1U << m->n; mask++)
		m->share[mask] = m->share[mask] < 0 ? 0 : m->share[mask] > 1 ? 1 : m->share[mask];
	m->share[0] = 0;
	*joint = (struct ab_joint){ .cause = (int)m->cause, .n = m->n, .share = m->share };
}

static enum ab_status make_table(struct advising *a, struct making *m, struct ab_joint *joint,
    struct ab_diag *diag)
{
	int *changes = ab_arena_alloc(a->arena, m->n, sizeof *changes);

	m->share = ab_arena_alloc(a->arena, (size_t)1 << m->n, sizeof *m->share);
	if (changes == NULL || m->share == NULL)
		return advising_nomem(diag);
	memcpy(changes, m->changes, m->n * sizeof *changes);
	note_conflicts(m);
	for (size_t b = 0; b < a->n_sets; b++)
		if (advising_present_in(a, b, m->cause) > 0)
			add_batch(m, b);
	learn(m);
	finish(m, joint);
	joint->changes = changes;
	return advising_short_of_memory(a) ? advising_nomem(diag) : AB_OK;
}

enum ab_status advising_tables(struct advising *a, struct ab_diag *diag)
{
	size_t most = (size_t)1 << AB_PLAN_JOINT;
	struct making m = { .a = a, .after = ab_arena_alloc(a->arena, a->k->facts->n, sizeof *m.after),
		.fell = ab_arena_alloc(a->arena, most, sizeof *m.fell),
		.left = ab_arena_alloc(a->arena, most, sizeof *m.left) };
	struct ab_joint *joints = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *joints);
	enum ab_status st = AB_OK;

	if (m.after == NULL || m.fell == NULL || m.left == NULL || joints == NULL)
		return advising_nomem(diag);
	a->problem.joints = joints;
	for (m.cause = 0; st == AB_OK && m.cause < a->k->n_causes; m.cause++) {
		m.n = 0;
		for (size_t u = 0; a->load[m.cause] > 0 && u < a->k->n_changes; u++)
			if (a->problem.state[u] == AB_CHANGE_OPEN && matters(a, u, m.cause))
				add_change(&m, u, &a->neglected);
		for (size_t u = 0; a->load[m.cause] > 0 && u < a->k->n_changes && m.n < AB_PLAN_JOINT; u++)
			if (barred_by_limit(a, u) && matters(a, u, m.cause))
				m.changes[m.n++] = (int)u;
		if (m.n > 0)
			st = make_table(a, &m, &joints[a->problem.n_joints++], diag);
	}
	return st;
}
