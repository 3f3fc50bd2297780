/* plan_lp.c - a linear planning problem written for MILP solvers, and our own answer to it
 *
 * plan_lp SEED FILE writes the problem in CPLEX LP format and prints what our best plan removes, or "infeasible".
 * Linear: each cause is touched by at most one change, so the objective is a sum over the changes.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plan.h>

#include <stdio.h>
#include <stdlib.h>
#include "plan_cases.h"

static struct plan_case drawn;

static double
gain_of(const struct ab_problem *p, int u)
{
	double gain = 0;
	size_t k;

	for (k = 0; k < p->n_effects; k++)
		if (p->effects[k].change == u)
			gain += p->load[p->effects[k].cause] * p->effects[k].share;
	return gain;
}

static void
write_budgets(const struct ab_problem *p, FILE *out)
{
	size_t u, b;

	for (b = 0; b < p->n_budgets; b++) {
		fprintf(out, " b%zu:", b);
		for (u = 0; u < p->n_changes; u++)
			fprintf(out, "%s %+.15g x%zu", u % 8 == 7 ? "\n" : "", p->cost[u * p->n_budgets + b], u);
		fprintf(out, "\n  <= %.15g\n", p->budget[b]);
	}
}

static void
write_rules(const struct ab_problem *p, FILE *out)
{
	size_t k, u, v;

	for (k = 0; k < p->n_needs; k++)
		if (p->needs[k].change != p->needs[k].needs)
			fprintf(out, " n%zu: x%d - x%d <= 0\n", k, p->needs[k].change, p->needs[k].needs);
	for (u = 0; u < p->n_changes; u++)
		for (v = u + 1; v < p->n_changes; v++)
			if (p->group[u] >= 0 && p->group[u] == p->group[v])
				fprintf(out, " g%zu_%zu: x%zu + x%zu <= 1\n", u, v, u, v);
}

static void
write_lp(const struct ab_problem *p, FILE *out)
{
	size_t u;

	fputs("Maximize\n f:", out);
	for (u = 0; u < p->n_changes; u++)
		fprintf(out, "%s %+.15g x%zu", u % 8 == 7 ? "\n" : "", gain_of(p, (int)u), u);
	fputs("\nSubject To\n", out);
	write_budgets(p, out);
	write_rules(p, out);
	fputs("Binary\n", out);
	for (u = 0; u < p->n_changes; u++)
		fprintf(out, " x%zu\n", u);
	fputs("End\n", out);
}

static struct plan_shape
shape_of(int seed)
{
	return (struct plan_shape){ .changes = 10 + seed % 5 * 10, .causes = 200, .touches = 3, .budgets = 1 + seed % 4,
	    .tight = 0.1 + 0.1 * (seed % 6), .needs = seed % 2 == 1, .shared_needs = seed % 5 == 2,
	    .groups = seed % 3 == 1,
	    .savings = seed % 4 >= 2, .overdrawn = seed % 8 == 7, .linear = true };
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
		fputs("usage: plan_lp SEED FILE\n", stderr);
		return 2;
	}
	seed = atoi(argv[1]);
	shape = shape_of(seed);
	plan_case_make(&drawn, &shape, (unsigned long long)seed);
	write_lp(&drawn.problem, out);
	if (fclose(out) != 0)
		return 4;
	st = ab_plan_solve(&drawn.problem, &choice, NULL);
	if (st == AB_EINPUT)
		puts("infeasible");
	else if (st == AB_OK && choice.gap <= 0)
		printf("%.10f\n", choice.removed);
	else
		return 1;
	return 0;
}
