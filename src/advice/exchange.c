/* exchange.c - a set in which nothing is too small, made better by going without one of it
 *
 * Ruling out the smallest again and again (policy.c) may end beside a better set that shares little with what was
 * there. So each of the set is left out in turn, and what then adds most is taken in while there is room and it
 * adds enough.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/stepping.h"

#include <math.h>
#include <string.h>
#include "advice/planning.h"

static bool group_taken(const struct stepping *s, const unsigned char *set, size_t u)
{
	const int *group = s->problem.group;

	for (size_t v = 0; group != NULL && group[u] >= 0 && v < s->problem.n_changes; v++)
		if (group[v] == group[u] && (set[v] || s->state[v] == AB_CHANGE_OWNED))
			return true;
	return false;
}

static bool missing(const struct stepping *s, const unsigned char *set, int u)
{
	return !set[u] && s->state[u] != AB_CHANGE_OWNED;
}

/* The change with all it needs; false where that cannot be. */
static bool take(const struct stepping *s, unsigned char *set, int u)
{
	if (s->state[u] != AB_CHANGE_OPEN || group_taken(s, set, (size_t)u))
		return false;
	set[u] = 1;
	for (bool again = true; again;) {
		again = false;
		for (size_t i = 0; i < s->problem.n_needs; i++) {
			int v = s->problem.needs[i].needs;

			if (!set[s->problem.needs[i].change] || !missing(s, set, v))
				continue;
			if (s->state[v] != AB_CHANGE_OPEN || group_taken(s, set, (size_t)v))
				return false;
			set[v] = again = true;
		}
	}
	return true;
}

/* And all that needs it. */
static void leave(const struct stepping *s, unsigned char *set, size_t u)
{
	set[u] = 0;
	for (bool again = true; again;) {
		again = false;
		for (size_t i = 0; i < s->problem.n_needs; i++)
			if (set[s->problem.needs[i].change] && missing(s, set, s->problem.needs[i].needs)) {
				set[s->problem.needs[i].change] = 0;
				again = true;
			}
	}
}

/* Takes in what adds most of all there is room for, so that no part of the set is then too small. */
static bool fill(const struct stepping *s, unsigned char *set, size_t without, double *removed)
{
	size_t n = s->problem.n_changes;
	int best = -1;

	for (size_t u = 0; u < n; u++) {
		double r;

		memcpy(s->trial, set, n);
		if (set[u] || !take(s, s->trial, (int)u) || s->trial[without])
			continue;
		r = ab_plan_removed(&s->problem, s->trial);
		if (r > *removed && plan_within(&s->problem, s->trial) && stepping_smallest(s, s->trial) < 0) {
			*removed = r;
			best = (int)u;
		}
	}
	return best >= 0 && take(s, set, best);
}

static double refilled(const struct stepping *s, const unsigned char *chosen, size_t without, unsigned char *set)
{
	double removed;

	memcpy(set, chosen, s->problem.n_changes);
	leave(s, set, without);
	if (!plan_within(&s->problem, set))
		return 0;
	removed = ab_plan_removed(&s->problem, set);
	while (fill(s, set, without, &removed))
		;
	return stepping_smallest(s, set) < 0 ? removed : 0;
}

void stepping_exchange(struct stepping *s, unsigned char *chosen, double *removed)
{
	size_t n = s->problem.n_changes;
	bool better = true;

	while (better) {
		better = false;
		for (size_t u = 0; u < n && !better; u++) {
			double r = chosen[u] ? refilled(s, chosen, u, s->set) : 0;

			better = r > *removed * (1 + 1e-12);
			if (better) {
				memcpy(chosen, s->set, n);
				*removed = r;
			}
		}
	}
}
