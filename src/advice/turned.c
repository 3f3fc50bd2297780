/* turned.c - where the look at all batches names another suspect than a batch did by itself
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

/* Below this a first suspect was hardly one, and of what was believed a third must be lost: as with verdicts that
 * later batches speak against (revise.h). Both policy by estimate. */
static const double SUSPECT = 0.3, LOST = 1.0 / 3;
/* A change that takes less of a cause than this was not made against it (as in learning.c). */
static const double AGAINST = 0.05;

static int leader(const struct advising *a, const double *blame)
{
	int best = -1;

	for (size_t i = 0; i < a->k->n_causes; i++)
		if (blame[i] > (best >= 0 ? blame[best] : 0))
			best = (int)i;
	return best;
}

/* The first of the changes the batch was brewed with that should have kept the cause off; -1 = none. */
static int made_against(const struct advising *a, size_t cause, size_t b)
{
	for (size_t from = 1; from <= b; from++)
		for (size_t u = 0; u < a->k->n_changes; u++) {
			const unsigned char *in_force = &a->in_force[u * a->n_cases];

			if (in_force[from] && in_force[b] && !in_force[0] &&
			    advising_rated(&a->k->changes[u], cause, a->cases[b]->facts) >= AGAINST)
				return (int)u;
		}
	return -1;
}

/* Of the newest batch with a fault: an old one's verdict is for the trend to look at again. */
void advising_turned(struct advising *a)
{
	struct ab_turned *t = &a->out->turned;
	size_t b = a->n_cases;
	const double *alone, *now;
	int first, then;

	while (b > 0 && (!a->cases[b - 1]->tasted || a->cases[b - 1]->diagnosis->nothing_found))
		b--;
	if (b-- == 0 || a->before[b] == NULL || a->cases[b]->diagnosis->blame == NULL)
		return;
	alone = a->cases[b]->diagnosis->blame;
	now = a->blame[b];
	first = leader(a, alone);
	then = leader(a, now);
	if (first < 0 || then < 0 || then == first || alone[first] < SUSPECT || now[first] > (1 - LOST) * alone[first])
		return;
	*t = (struct ab_turned){ .told = true, .batch = a->cases[b]->batch->id, .first = first, .now = then,
		.first_alone = alone[first], .first_now = now[first], .now_alone = alone[then], .now_now = now[then],
		.change = made_against(a, (size_t)first, b) };
}
