/* bound.c - how much a node of the plan search can still remove at most
 *
 * For any payments w, charges lambda >= 0 and subsidies mu >= 0, every feasible S extending the changes taken
 * satisfies
 *   f(S) <= f(taken) + sum_i max_A [f_i(A) - w_i(A)] + sum_b lambda_b room_b + sum_groups max(0, max_u r_u),
 *   r_u = sum_i w_iu - sum_b lambda_b c_bu - subsidies paid + subsidies received.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/planning.h"

/* Why it holds: adding and subtracting the payments changes nothing; each maximum is at least its value at S;
 * what S leaves of a budget is worth lambda_b >= 0 each, whatever the signs of the costs; and a subsidy moves
 * worth from u to the v it needs, which is in S whenever u is. f_i(A), what cause i still loses to A, has
 * diminishing returns, so only the strongest open changes of a cause are scanned (2^k sets) and the rest may
 * be paid in full, left_i * share, without ever falling short. A cause with a table may have any returns: all
 * its sets are scanned.
 *
 * The bound is convex in the prices. It is lowered by coordinate descent (sweeps; charges by bisection) and
 * by subgradient steps after Polyak: whoever would buy without the cause agreeing pays less, and the other
 * way round. */

#include <assert.h>
#include <math.h>
#include <string.h>
#include "base/alloc.h"

/* Called twice, with NULL to measure and then to place: one list of arrays, so the two cannot disagree. */
static void
lay_out(struct plan_bound *b, char *base, size_t *used)
{
	const struct plan_model *m = b->model;

	*used = 0;
	b->keep = plan_carve(base, used, (size_t)1 << b->scan, sizeof *b->keep);
	b->value = plan_carve(base, used, (size_t)1 << (m->joint > b->scan ? m->joint : b->scan),
	    sizeof *b->value);
	b->index = plan_carve(base, used, (size_t)1 << m->joint, sizeof *b->index);
	b->open = plan_carve(base, used, m->n, sizeof *b->open);
	b->live = plan_carve(base, used, m->m, sizeof *b->live);
	b->scan_first = plan_carve(base, used, m->m + 1, sizeof *b->scan_first);
	b->scanned = plan_carve(base, used, m->n_edges, sizeof *b->scanned);
	b->worth = plan_carve(base, used, m->n, sizeof *b->worth);
	b->loss_in = plan_carve(base, used, m->n, sizeof *b->loss_in);
	b->loss_not = plan_carve(base, used, m->n, sizeof *b->loss_not);
	b->edge_in = plan_carve(base, used, m->n_edges, sizeof *b->edge_in);
	b->edge_not = plan_carve(base, used, m->n_edges, sizeof *b->edge_not);
	b->slope = plan_carve(base, used, m->n_edges, sizeof *b->slope);
	b->best_pay = plan_carve(base, used, m->n_edges, sizeof *b->best_pay);
	b->best_subsidy = plan_carve(base, used, m->n_arcs, sizeof *b->best_subsidy);
	b->slope_subsidy = plan_carve(base, used, m->n_arcs, sizeof *b->slope_subsidy);
	b->in_scan = plan_carve(base, used, m->n_edges, sizeof *b->in_scan);
	b->picked = plan_carve(base, used, m->n, sizeof *b->picked);
}

/* The scan tables need no more room than the most crowded cause. */
static int
most_of_a_cause(const struct plan_model *m, int scan)
{
	int most = 1;
	size_t i;

	for (i = 0; i < m->m; i++)
		if (m->first[i + 1] - m->first[i] > (size_t)most)
			most = (int)(m->first[i + 1] - m->first[i]);
	return most < scan ? most : scan;
}

/* A scan of k changes takes 2^k steps, hence PLAN_SCAN_MAX whatever is asked. */
bool
plan_bound_init(struct plan_bound *b, const struct plan_model *model, int scan)
{
	size_t used;

	memset(b, 0, sizeof *b);
	b->model = model;
	b->scan = scan < 1 ? PLAN_SCAN : scan > PLAN_SCAN_MAX ? PLAN_SCAN_MAX : scan;
	b->scan = most_of_a_cause(model, b->scan);
	assert(b->scan >= 1 && b->scan <= PLAN_SCAN_MAX);
	lay_out(b, NULL, &used);
	b->block = ab_calloc(1, used);
	if (b->block == NULL)
		return false;
	lay_out(b, b->block, &used);
	return true;
}

void
plan_bound_clear(struct plan_bound *b)
{
	ab_free(b->block);
	b->block = NULL;
}

/* Lists what is open once, so that pricing, which runs hundreds of times a node, touches nothing
 * decided. Edges lie strongest first, so the first `scan` of a cause are the ones worth scanning
 * exactly. */
void
plan_bound_focus(struct plan_bound *b, struct plan_node *node)
{
	const struct plan_model *m = b->model;
	size_t u, i, e, n = 0;

	b->n_open = b->n_live = 0;
	for (u = 0; u < m->n; u++)
		if (node->state[u] == PLAN_OPEN)
			b->open[b->n_open++] = (int)u;
	for (i = 0; i < m->m; i++) {
		size_t from = n;

		if (!(node->left[i] > 0))
			continue;
		for (e = m->first[i]; e < m->first[i + 1]; e++) {
			if (node->state[m->change[e]] != PLAN_OPEN)
				continue;
			b->in_scan[e] = m->table[i] != NULL || n - from < (size_t)b->scan;
			if (b->in_scan[e])
				b->scanned[n++] = e;
			else
				node->pay[e] = node->left[i] * m->share[e];
			b->edge_in[e] = b->edge_not[e] = b->slope[e] = 0;
		}
		if (n > from) {
			assert(n - from <= b->n_open);
			b->live[b->n_live] = (int)i;
			b->scan_first[b->n_live++] = from;
		}
	}
	b->scan_first[b->n_live] = n;
}

/* Two running maxima: without the chain of one comparison waiting for the last, the compiler can
 * overlap them. This is the innermost loop of the planner. n is a power of two. */
static double
highest(const double *x, size_t n)
{
	double a = x[0], b = x[0];
	size_t k;

	assert(n > 0 && (n & (n - 1)) == 0);
	if (n == 1)
		return a;
	for (k = 0; k < n; k += 2) {
		a = a > x[k] ? a : x[k];
		b = b > x[k + 1] ? b : x[k + 1];
	}
	return a > b ? a : b;
}

/* From what each of the 2^k sets is worth to the best with and without each change: folding the table over
 * its top bit keeps the best over that change, so all 2k maxima cost two passes. Returns the best. edge_in
 * and edge_not end as losses: how much worse the cause's part gets when that change is forced in, or out. */
static double
fold(struct plan_bound *b, const size_t *edge, size_t k)
{
	double *restrict value = b->value;
	size_t j, x, half;

	for (j = k; j-- > 0; ) {
		half = (size_t)1 << j;
		b->edge_not[edge[j]] = highest(value, half);
		b->edge_in[edge[j]] = highest(value + half, half);
		for (x = 0; x < half; x++)
			value[x] = value[x] > value[x + half] ? value[x] : value[x + half];
	}
	for (j = 0; j < k; j++) {
		b->edge_not[edge[j]] = value[0] - b->edge_not[edge[j]];
		b->edge_in[edge[j]] = value[0] - b->edge_in[edge[j]];
	}
	return value[0];
}

/* The same for a cause whose sets are told in a table: no set is inferred from another, so it may hold
 * anything, and none of its changes may be left to be paid in full. */
static double
scan_table(struct plan_bound *b, const struct plan_node *node, size_t live)
{
	const struct plan_model *m = b->model;
	const size_t *edge = b->scanned + b->scan_first[live], cause = (size_t)b->live[live];
	const double *table = m->table[cause];
	size_t k = b->scan_first[live + 1] - b->scan_first[live], j, x, half;
	double *restrict value = b->value, load = m->load[cause], base = table[node->mask[cause]];
	unsigned *restrict index = b->index;

	assert(k <= (size_t)m->joint);
	index[0] = node->mask[cause];
	value[0] = 0;
	for (j = 0; j < k; j++) {
		double pay = node->pay[edge[j]];
		unsigned bit = 1U << m->bit[edge[j]];

		half = (size_t)1 << j;
		for (x = 0; x < half; x++) {
			value[x + half] = value[x] - pay;
			index[x + half] = index[x] | bit;
		}
	}
	for (x = 1; x < (size_t)1 << k; x++)
		value[x] += load * (table[index[x]] - base);
	return fold(b, edge, k);
}

/* All 2^k sets of the scanned changes of one cause at the node's payments; the best of them (fold). */
static double
scan_cause(struct plan_bound *b, const struct plan_node *node, size_t live)
{
	const struct plan_model *m = b->model;
	const size_t *edge = b->scanned + b->scan_first[live];
	size_t k = b->scan_first[live + 1] - b->scan_first[live], j, x, half;
	double left = node->left[b->live[live]], *restrict keep = b->keep, *restrict value = b->value;

	if (m->table[b->live[live]] != NULL)
		return scan_table(b, node, live);
	assert(live < b->n_live && k <= (size_t)b->scan);
	/* keep[x]: share that survives set x, times left; value[x]: what x has removed after payments */
	keep[0] = left;
	value[0] = 0;
	for (j = 0; j < k; j++) {
		double share = m->share[edge[j]], pay = node->pay[edge[j]];

		half = (size_t)1 << j;
		for (x = 0; x < half; x++) {
			value[x + half] = value[x] + (keep[x] * share - pay);
			keep[x + half] = keep[x] * (1 - share);
		}
	}
	return fold(b, edge, k);
}

/* An arc with a decided end is settled by propagation and has no price any more. */
static bool
arc_live(const struct plan_model *m, const struct plan_node *node, size_t k)
{
	return node->state[m->arcs[k].change] == PLAN_OPEN && node->state[m->arcs[k].needs] == PLAN_OPEN;
}

/* r_u of the formula above. */
static void
weigh_changes(struct plan_bound *b, const struct plan_node *node)
{
	const struct plan_model *m = b->model;
	size_t j, k, a;

	for (j = 0; j < b->n_open; j++) {
		size_t u = (size_t)b->open[j];
		double r = 0;

		for (k = m->use_first[u]; k < m->use_first[u + 1]; k++)
			if (node->left[m->cause[m->use[k]]] > 0)
				r += node->pay[m->use[k]];
		for (a = 0; a < m->n_budgets; a++)
			r -= node->charge[a] * m->cost[u * m->n_budgets + a];
		b->worth[u] = r;
	}
	for (a = 0; a < m->n_arcs; a++)
		if (arc_live(m, node, a)) {
			b->worth[m->arcs[a].change] -= node->subsidy[a];
			b->worth[m->arcs[a].needs] += node->subsidy[a];
		}
}

/* The groups' part of the bound, and what forcing a change in or out costs it. One of a group at most:
 * its part is the best worth, or 0 for taking none. To lose the picked one falls to the second, which
 * is why the second is kept. */
static double
price_groups(struct plan_bound *b, const struct plan_node *node)
{
	const struct plan_model *m = b->model;
	double sum = 0;
	size_t g, k;

	for (g = 0; g < m->n_groups; g++) {
		double top = 0, second = 0;
		int who = -1;

		for (k = m->group_first[g]; k < m->group_first[g + 1]; k++) {
			int u = m->member[k];

			if (node->state[u] != PLAN_OPEN)
				continue;
			if (b->worth[u] > top) {
				second = top;
				top = b->worth[u];
				who = u;
			} else if (b->worth[u] > second) {
				second = b->worth[u];
			}
		}
		for (k = m->group_first[g]; k < m->group_first[g + 1]; k++) {
			int u = m->member[k];

			b->picked[u] = u == who;
			b->loss_in[u] = top - b->worth[u];
			b->loss_not[u] = u == who ? top - second : 0;
		}
		sum += top;
	}
	return sum;
}

/* The losses of groups and causes add, since each is the fall of its own term; together they are a
 * valid bound on what a decision costs, and fix_changes in search.c lives on that. */
double
plan_bound_price(struct plan_bound *b, struct plan_node *node)
{
	const struct plan_model *m = b->model;
	double bound = node->value;
	size_t i, a;

	weigh_changes(b, node);
	bound += price_groups(b, node);
	for (i = 0; i < b->n_live; i++)
		bound += scan_cause(b, node, i);
	for (a = 0; a < b->scan_first[b->n_live]; a++) {
		size_t e = b->scanned[a];

		b->loss_in[m->change[e]] += b->edge_in[e];
		b->loss_not[m->change[e]] += b->edge_not[e];
	}
	for (a = 0; a < m->n_budgets; a++)
		bound += node->charge[a] * node->room[a];
	return bound;
}

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
		weigh_changes(b, node);
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
		scan_cause(b, node, (size_t)at[m->cause[e]]);
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
	weigh_changes(b, node);
	for (k = 0; k < m->n_arcs; k++) {
		int u = m->arcs[k].change, v = m->arcs[k].needs;
		double move;

		if (!arc_live(m, node, k))
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
		if (!arc_live(m, node, k))
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
		node->subsidy[k] -= arc_live(m, node, k) ? step * b->slope_subsidy[k] : 0;
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
