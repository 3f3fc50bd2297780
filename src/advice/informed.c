/* informed.c - what it is worth to learn something before choosing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plan.h>

#include <math.h>
#include "base/alloc.h"

static enum ab_status mean_load(const struct ab_problem *p, const struct ab_outcome *outcomes, size_t n, double *load,
    struct ab_diag *diag)
{
	double sum = 0;

	for (size_t o = 0; o < n; o++) {
		if (!(outcomes[o].p >= 0 && outcomes[o].p <= 1))
			return ab_fail(diag, AB_EUSAGE, NULL, 0, "outcome %zu has the chance %g", o, outcomes[o].p);
		sum += outcomes[o].p;
		for (size_t i = 0; i < p->n_causes; i++)
			load[i] += outcomes[o].p * outcomes[o].load[i];
	}
	if (!(fabs(sum - 1) <= 1e-9))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "the chances of the outcomes sum to %g", sum);
	return AB_OK;
}

static enum ab_status solve(struct ab_problem *p, const double *load, unsigned char *chosen, double *removed,
    double *gap, struct ab_diag *diag)
{
	struct ab_choice choice = { .chosen = chosen };
	enum ab_status st;

	p->load = load;
	st = ab_plan_solve(p, &choice, diag);
	*removed = choice.removed;
	*gap += choice.gap;
	return st;
}

/* Below 0 only by rounding: the plan of now is open to every outcome. What rounding could make is nothing. */
enum ab_status ab_plan_informed(const struct ab_problem *problem, const struct ab_outcome *outcomes,
    size_t n_outcomes, struct ab_informed *informed, struct ab_diag *diag)
{
	struct ab_problem p = *problem;
	double *mean = ab_calloc(p.n_causes + 1, sizeof *mean);
	enum ab_status st;

	informed->removed_now = informed->removed_after = informed->worth = informed->gap = 0;
	if (mean == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for what a check is worth");
	st = mean_load(&p, outcomes, n_outcomes, mean, diag);
	if (st == AB_OK)
		st = solve(&p, mean, informed->now, &informed->removed_now, &informed->gap, diag);
	for (size_t o = 0; st == AB_OK && o < n_outcomes; o++) {
		double removed = 0;

		st = solve(&p, outcomes[o].load, informed->after + o * p.n_changes, &removed, &informed->gap, diag);
		informed->removed_after += outcomes[o].p * removed;
	}
	if (informed->removed_after - informed->removed_now > 1e-12 * informed->removed_after)
		informed->worth = informed->removed_after - informed->removed_now;
	ab_free(mean);
	return st;
}
