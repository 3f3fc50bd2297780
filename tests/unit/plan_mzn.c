/* plan_mzn.c - a planning problem with diminishing returns within a cause as a MiniZinc model, and our own answer
 * to it
 *
 * plan_mzn SEED FILE writes the model and prints what our best plan removes ("infeasible" if none), and how far
 * rounding may part the two: the model counts in whole millionths, and what is left of each cause is rounded once
 * in each of two plans.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plan.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include "plan_cases.h"

#define SCALE 1e6

static struct plan_case drawn;

static long
whole(double x)
{
	return lround(x * SCALE);
}

/* What is left of each cause under every set of what touches it, multiplied out here: left = load x product of 1 -
 * share. */
static void
write_cause(const struct ab_problem *p, size_t i, FILE *out)
{
	const struct ab_effect *on[AB_PLAN_JOINT];
	size_t n = 0, k, set;

	for (k = 0; k < p->n_effects; k++)
		if ((size_t)p->effects[k].cause == i && n < AB_PLAN_JOINT)
			on[n++] = &p->effects[k];
	fprintf(out, "array[0..%zu] of int: t%zu = array1d(0..%zu, [", ((size_t)1 << n) - 1, i, ((size_t)1 << n) - 1);
	for (set = 0; set < (size_t)1 << n; set++) {
		double left = p->load[i];

		for (k = 0; k < n; k++)
			left *= set >> k & 1 ? 1 - on[k]->share : 1;
		fprintf(out, "%s%ld", set > 0 ? "," : "", whole(left));
	}
	fprintf(out, "]);\nvar 0..%ld: left%zu = t%zu[0", whole(p->load[i]), i, i);
	for (k = 0; k < n; k++)
		fprintf(out, " + %zu * x%d", (size_t)1 << k, on[k]->change);
	fputs("];\n", out);
}

static void
write_rules(const struct ab_problem *p, FILE *out)
{
	size_t k, u, v, b;

	for (b = 0; b < p->n_budgets; b++) {
		fputs("constraint 0", out);
		for (u = 0; u < p->n_changes; u++)
			fprintf(out, " + %ld * x%zu", whole(p->cost[u * p->n_budgets + b]), u);
		fprintf(out, " <= %ld;\n", whole(p->budget[b]));
	}
	for (k = 0; k < p->n_needs; k++)
		fprintf(out, "constraint x%d <= x%d;\n", p->needs[k].change, p->needs[k].needs);
	for (u = 0; u < p->n_changes; u++)
		for (v = u + 1; v < p->n_changes; v++)
			if (p->group[u] >= 0 && p->group[u] == p->group[v])
				fprintf(out, "constraint x%zu + x%zu <= 1;\n", u, v);
}

static void
write_model(const struct ab_problem *p, FILE *out)
{
	size_t u, i;
	double all = 0;

	for (u = 0; u < p->n_changes; u++)
		fprintf(out, "var 0..1: x%zu;\n", u);
	for (i = 0; i < p->n_causes; i++)
		write_cause(p, i, out);
	write_rules(p, out);
	for (i = 0; i < p->n_causes; i++)
		all += (double)whole(p->load[i]);
	fprintf(out, "var 0..%.0f: removed = %.0f", all, all);
	for (i = 0; i < p->n_causes; i++)
		fprintf(out, " - left%zu", i);
	fputs(";\nsolve maximize removed;\noutput [show(removed)];\n", out);
}

int
main(int argc, char **argv)
{
	unsigned char chosen[AB_PLAN_CHANGES];
	struct ab_choice choice = { .chosen = chosen };
	struct plan_shape shape;
	enum ab_status st;
	FILE *out;
	int seed;

	if (argc != 3 || (out = fopen(argv[2], "w")) == NULL) {
		fputs("usage: plan_mzn SEED FILE\n", stderr);
		return 2;
	}
	seed = atoi(argv[1]);
	shape = (struct plan_shape){ .changes = 8 + seed % 4,
		.causes = 5,
		.touches = 3,
		.budgets = 1 + seed % 2,
		.tight = 0.2 + 0.1 * (seed % 5),
		.needs = seed % 2 == 1,
		.groups = seed % 3 == 1,
		.savings = seed % 4 >= 2 };
	plan_case_make(&drawn, &shape, (unsigned long long)seed);
	write_model(&drawn.problem, out);
	if (fclose(out) != 0)
		return 4;
	st = ab_plan_solve(&drawn.problem, &choice, NULL);
	if (st == AB_EINPUT)
		puts("infeasible 0");
	else if (st == AB_OK && choice.gap <= 0)
		printf("%.7f %.7f\n", choice.removed, 2 * (double)drawn.problem.n_causes / SCALE);
	else
		return 1;
	return 0;
}
