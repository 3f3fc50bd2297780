/* lower.c - the prices of a node's bound moved until it lies low
 *
 * The bound (top of bound.c) is convex in the prices. It is lowered by coordinate descent (sweeps; charges by
 * bisection) and by subgradient steps after Polyak: whoever would buy without the cause agreeing pays less, and
 * the other way round.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/planning.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Slope of the bound in one charge: room left when every group buys what it likes best at that charge.
 * At a kink the slope of either side will do for a bisection. */
static double
slope_of_charge(const struct plan_bound *b, const struct plan_node *node, size_t axis, const double *base,
    double charge)
{
	const struct plan_model *m = b->model;
	double slope = node->room[axis];
	size_t g, k;

	for (g = 0; g < m->n_groups; g++) {
		double top = 0, cost = 0;

		for (k = m->group_first[g]; k < m->group_first[g + 1]; k++) {
			size_t u = (size_t)m->member[k];
			double c = m->cost[u * m->n_budgets + axis], worth;

			if (node->state[u] != PLAN_OPEN)
				continue;
			worth = base[u] - charge * c;
			if (worth > top) {
				top = worth;
				cost = c;
			}
		}
		slope -= cost;
	}
	return slope;
}

/* The bound is convex in one charge, so its slope has one change of sign: bracket, then bisect. From
 * the last charge the bracket starts narrow, as it hardly moves between steps. 1e11 undoes the scale of
 * slack (1e-11 of the costs). */
static double
best_charge(const struct plan_bound *b, const struct plan_node *node, size_t axis, const double *base)
{
	double low = 0, high = node->charge[axis], start = high;
	int k;

	if (slope_of_charge(b, node, axis, base, 0) >= 0)
		return 0;
	if (!(high > 0))
		high = 1e-9 * b->model->before / (b->model->slack[axis] * 1e11);
	for (k = 0; k < 200 && slope_of_charge(b, node, axis, base, high) < 0; k++) {
		low = high;
		high *= high == start ? 1.25 : 2;
	}
	if (low <= 0 && start > 0 && slope_of_charge(b, node, axis, base, 0.8 * high) < 0)
		low = 0.8 * high;
	for (k = 0; k < 40 && high - low > 1e-5 * high; k++) {
		double mid = (low + high) / 2;

		if (slope_of_charge(b, node, axis, base, mid) < 0)
			low = mid;
		else
			high = mid;
	}
	return high;
}

/* One budget at a time with the others held: coordinate descent. base is what each change is worth
 * without this charge. */
void
plan_bound_charge(struct plan_bound *b, struct plan_node *node)
{
	const struct plan_model *m = b->model;
	double base[AB_PLAN_CHANGES];
	size_t axis, u;

	for (axis = 0; axis < m->n_budgets; axis++) {
		plan_bound_weigh(b, node);
		for (u = 0; u < m->n; u++)
			base[u] = b->worth[u] + node->charge[axis] * m->cost[u * m->n_budgets + axis];
		node->charge[axis] = best_charge(b, node, axis, base);
	}
}

/* What u would have to beat inside its group. 0 is a rival too: the group may take nothing. */
static double
rival_worth(const struct plan_bound *b, const struct plan_node *node, int u)
{
	const struct plan_model *m = b->model;
	size_t g = (size_t)m->group[u], k;
	double top = 0;

	for (k = m->group_first[g]; k < m->group_first[g + 1]; k++) {
		int v = m->member[k];

		if (v != u && node->state[v] == PLAN_OPEN && b->worth[v] > top)
			top = b->worth[v];
	}
	return top;
}

/* Evens out one change: its advantage becomes the same in each of its causes and in its group. edge_in
 * and edge_not of its causes are brought up to date on the way; `at` maps a cause to its place among
 * the live ones. Where a change is worth the same to its group and to all its causes, no single move of
 * payments lowers the bound any further. */
static void
sweep_change(struct plan_bound *b, struct plan_node *node, int u, const int *at)
{
	const struct plan_model *m = b->model;
	double total, paid = 0, share;
	size_t k, n = 0;

	total = b->worth[u] - rival_worth(b, node, u);
	for (k = m->use_first[u]; k < m->use_first[u + 1]; k++) {
		size_t e = m->use[k];

		if (at[m->cause[e]] < 0 || !b->in_scan[e])
			continue;
		plan_bound_scan(b, node, (size_t)at[m->cause[e]]);
		total += b->edge_not[e] - b->edge_in[e];
		n++;
	}
	share = total / (double)(n + 1);
	for (k = m->use_first[u]; k < m->use_first[u + 1]; k++) {
		size_t e = m->use[k];
		double wanted;

		if (at[m->cause[e]] < 0 || !b->in_scan[e])
			continue;
		wanted = b->edge_not[e] - b->edge_in[e] - share;
		node->pay[e] += wanted;
		paid += wanted;
	}
	b->worth[u] += paid;
}

/* Subsidies first: they move worth to a dear tool that is only bought for what needs it. */
void
plan_bound_sweep(struct plan_bound *b, struct plan_node *node)
{
	const struct plan_model *m = b->model;
	int at[AB_PLAN_CAUSES];
	size_t i, k;

	assert(m->m <= AB_PLAN_CAUSES);
	for (i = 0; i < m->m; i++)
		at[i] = -1;
	for (i = 0; i < b->n_live; i++)
		at[b->live[i]] = (int)i;
	plan_bound_weigh(b, node);
	for (k = 0; k < m->n_arcs; k++) {
		int u = m->arcs[k].change, v = m->arcs[k].needs;
		double move;

		if (!plan_arc_live(m, node, k))
			continue;
		move = (b->worth[u] - b->worth[v]) / 2;
		move = move < -node->subsidy[k] ? -node->subsidy[k] : move;
		node->subsidy[k] += move;
		b->worth[u] -= move;
		b->worth[v] += move;
	}
	for (k = 0; k < b->n_open; k++)
		sweep_change(b, node, b->open[k], at);
}

/* Direction: the fresh slope with some of the last one, which damps the zigzag. Budgets are measured in
 * units of their own size, or money would drown minutes. A price at 0 that wants to fall has slope 0,
 * as it may not. */
static double
set_slopes(struct plan_bound *b, const struct plan_node *node, double memory)
{
	const struct plan_model *m = b->model;
	double norm = 0;
	size_t k, u, a;

	for (k = 0; k < b->scan_first[b->n_live]; k++) {
		size_t e = b->scanned[k];

		b->slope[e] = memory * b->slope[e] + (b->picked[m->change[e]] ? 1 : 0) -
		    (b->edge_in[e] > 0 ? 0 : 1);
		norm += b->slope[e] * b->slope[e];
	}
	for (k = 0; k < m->n_arcs; k++) {
		if (!plan_arc_live(m, node, k))
			continue;
		b->slope_subsidy[k] = memory * b->slope_subsidy[k] + b->picked[m->arcs[k].needs] -
		    b->picked[m->arcs[k].change];
		if (node->subsidy[k] <= 0 && b->slope_subsidy[k] > 0)
			b->slope_subsidy[k] = 0;
		norm += b->slope_subsidy[k] * b->slope_subsidy[k];
	}
	for (a = 0; a < m->n_budgets; a++) {
		double room = node->room[a], size = 1e11 * m->slack[a] / (double)m->n;

		for (k = 0; k < b->n_open; k++) {
			u = (size_t)b->open[k];
			if (b->picked[u])
				room -= m->cost[u * m->n_budgets + a];
		}
		b->slope_charge[a] = size > 0 ? memory * b->slope_charge[a] + room / size : 0;
		if (node->charge[a] <= 0 && b->slope_charge[a] > 0)
			b->slope_charge[a] = 0;
		norm += b->slope_charge[a] * b->slope_charge[a];
	}
	return norm;
}

/* Polyak's rule: gap / norm would land on the optimum if the bound were linear. 0.7 of the last
 * direction is common practice; fresh forgets it, for it belongs to another node. */
void
plan_bound_step(struct plan_bound *b, struct plan_node *node, double gap, bool fresh)
{
	const struct plan_model *m = b->model;
	double norm = set_slopes(b, node, fresh ? 0 : 0.7), step;
	size_t k, a;

	if (!(norm > 0))
		return;
	step = gap / norm;
	for (k = 0; k < b->scan_first[b->n_live]; k++)
		node->pay[b->scanned[k]] -= step * b->slope[b->scanned[k]];
	for (k = 0; k < m->n_arcs; k++) {
		node->subsidy[k] -= plan_arc_live(m, node, k) ? step * b->slope_subsidy[k] : 0;
		node->subsidy[k] = node->subsidy[k] > 0 ? node->subsidy[k] : 0;
	}
	for (a = 0; a < m->n_budgets; a++) {
		double size = 1e11 * m->slack[a] / (double)m->n;

		node->charge[a] -= size > 0 ? step * b->slope_charge[a] / size : 0;
		node->charge[a] = node->charge[a] > 0 ? node->charge[a] : 0;
	}
}

/* Subgradient steps may raise the bound; the best prices met are kept aside. */
void
plan_bound_keep(struct plan_bound *b, const struct plan_node *node)
{
	const struct plan_model *m = b->model;

	memcpy(b->best_pay, node->pay, m->n_edges * sizeof *node->pay);
	memcpy(b->best_subsidy, node->subsidy, m->n_arcs * sizeof *node->subsidy);
	memcpy(b->best_charge, node->charge, sizeof node->charge);
}

void
plan_bound_restore(const struct plan_bound *b, struct plan_node *node)
{
	const struct plan_model *m = b->model;

	memcpy(node->pay, b->best_pay, m->n_edges * sizeof *node->pay);
	memcpy(node->subsidy, b->best_subsidy, m->n_arcs * sizeof *node->subsidy);
	memcpy(node->charge, b->best_charge, sizeof node->charge);
}
