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
 * its sets are scanned. */

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

double
plan_bound_scan(struct plan_bound *b, const struct plan_node *node, size_t live)
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

void
plan_bound_weigh(struct plan_bound *b, const struct plan_node *node)
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
		if (plan_arc_live(m, node, a)) {
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

	plan_bound_weigh(b, node);
	bound += price_groups(b, node);
	for (i = 0; i < b->n_live; i++)
		bound += plan_bound_scan(b, node, i);
	for (a = 0; a < b->scan_first[b->n_live]; a++) {
		size_t e = b->scanned[a];

		b->loss_in[m->change[e]] += b->edge_in[e];
		b->loss_not[m->change[e]] += b->edge_not[e];
	}
	for (a = 0; a < m->n_budgets; a++)
		bound += node->charge[a] * node->room[a];
	return bound;
}
