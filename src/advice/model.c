/* model.c - what is left of a planning problem once the decided parts are gone (reduce.c), laid out for the search
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/reducing.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/alloc.h"

/* Twice, first to measure: as in bound.c. */
static void
lay_out(struct plan_model *m, char *base, size_t *used)
{
	*used = 0;
	m->original = plan_carve(base, used, m->n, sizeof *m->original);
	m->load = plan_carve(base, used, m->m, sizeof *m->load);
	m->first = plan_carve(base, used, m->m + 1, sizeof *m->first);
	m->change = plan_carve(base, used, m->n_edges, sizeof *m->change);
	m->cause = plan_carve(base, used, m->n_edges, sizeof *m->cause);
	m->effect = plan_carve(base, used, m->n_edges, sizeof *m->effect);
	m->share = plan_carve(base, used, m->n_edges, sizeof *m->share);
	m->table = plan_carve(base, used, m->m, sizeof *m->table);
	m->bit = plan_carve(base, used, m->n_edges, sizeof *m->bit);
	m->use_first = plan_carve(base, used, m->n + 1, sizeof *m->use_first);
	m->use = plan_carve(base, used, m->n_edges, sizeof *m->use);
	m->cost = plan_carve(base, used, m->n * AB_BUDGETS, sizeof *m->cost);
	m->arcs = plan_carve(base, used, m->n_arcs, sizeof *m->arcs);
	m->has_needs = plan_carve(base, used, m->n, sizeof *m->has_needs);
	m->group = plan_carve(base, used, m->n, sizeof *m->group);
	m->group_first = plan_carve(base, used, m->n + 1, sizeof *m->group_first);
	m->member = plan_carve(base, used, m->n, sizeof *m->member);
}

/* A total order (the change breaks ties), or qsort could give two machines two plans. */
static int
by_cause_then_strength(const void *a, const void *b)
{
	const struct plan_place *x = a, *y = b;

	if (x->cause != y->cause)
		return x->cause < y->cause ? -1 : 1;
	if (x->share < y->share || x->share > y->share)
		return x->share > y->share ? -1 : 1;
	return x->change < y->change ? -1 : x->change > y->change;
}

/* Counting sort: edges already lie by cause, so those of a change come out by cause as well. */
static void
index_by_change(struct plan_model *m)
{
	size_t fill[AB_PLAN_CHANGES], e, u;

	for (e = 0; e < m->n_edges; e++)
		m->use_first[m->change[e] + 1]++;
	for (u = 0; u < m->n; u++)
		m->use_first[u + 1] += m->use_first[u];
	memcpy(fill, m->use_first, m->n * sizeof *fill);
	for (e = 0; e < m->n_edges; e++)
		m->use[fill[m->change[e]]++] = e;
}

/* Sorted once here, so that pricing walks memory in order and scanning finds the strongest first. */
static bool
fill_edges(const struct plan_reduction *r, struct plan_model *m)
{
	const struct ab_problem *p = r->problem;
	struct plan_place *edges = ab_malloc((m->n_edges + 1) * sizeof *edges);
	size_t k, e = 0, i;

	if (edges == NULL)
		return false;
	for (k = 0; k < plan_places(p); k++) {
		struct plan_place x = plan_place_at(p, k);

		x.change = r->change_at[x.change];
		x.cause = r->cause_at[x.cause];
		if (x.change >= 0 && x.cause >= 0)
			edges[e++] = x;
	}
	qsort(edges, m->n_edges, sizeof *edges, by_cause_then_strength);
	assert(e == m->n_edges);
	for (e = 0; e < m->n_edges; e++) {
		m->cause[e] = edges[e].cause;
		m->change[e] = edges[e].change;
		m->effect[e] = edges[e].effect;
		m->share[e] = edges[e].share;
		m->bit[e] = edges[e].bit;
		m->first[edges[e].cause + 1]++;
	}
	for (i = 0; i < m->m; i++)
		m->first[i + 1] += m->first[i];
	for (k = 0; k < p->n_joints; k++)
		if (r->cause_at[p->joints[k].cause] >= 0) {
			i = (size_t)r->cause_at[p->joints[k].cause];
			m->table[i] = p->joints[k].share;
			if (m->first[i + 1] - m->first[i] > (size_t)m->joint)
				m->joint = (int)(m->first[i + 1] - m->first[i]);
		}
	index_by_change(m);
	ab_free(edges);
	return true;
}

/* A budget counts as kept when it is exceeded by no more than the rounding of its sums. An unlimited axis
 * gets a limit that never binds, so that the frontier can lower it. */
static void
fill_budgets(const struct plan_reduction *r, struct plan_model *m)
{
	const struct ab_problem *p = r->problem;
	size_t u, b;

	for (b = 0; b < p->n_budgets; b++) {
		size_t to = m->n_budgets;
		double size = 0, most = 0;

		if (!isfinite(p->budget[b]) && (int)b != r->keep_axis)
			continue;
		for (u = 0; u < p->n_changes; u++) {
			double c = p->cost[u * p->n_budgets + b];

			size += fabs(c);
			most += c > 0 ? c : 0;
		}
		m->axis[to] = (int)b;
		m->slack[to] = 1e-11 * size;
		m->budget[to] = isfinite(p->budget[b]) ? p->budget[b] : most;
		m->n_budgets++;
	}
	for (u = 0; u < m->n; u++)
		for (b = 0; b < m->n_budgets; b++)
			m->cost[u * m->n_budgets + b] = p->cost[(size_t)m->original[u] * p->n_budgets +
			    (size_t)m->axis[b]];
}

static void
fill_groups(const struct plan_reduction *r, struct plan_model *m)
{
	const struct ab_problem *p = r->problem;
	size_t u, v, n = 0;

	for (u = 0; u < m->n; u++)
		m->group[u] = -1;
	for (u = 0; u < m->n; u++) {
		int g = plan_group_of(p, (size_t)m->original[u]);

		if (m->group[u] >= 0)
			continue;
		m->group_first[m->n_groups] = n;
		for (v = u; v < m->n; v++) {
			if (v != u && (g < 0 || plan_group_of(p, (size_t)m->original[v]) != g))
				continue;
			m->group[v] = (int)m->n_groups;
			m->member[n++] = (int)v;
		}
		m->n_groups++;
	}
	m->group_first[m->n_groups] = n;
}

/* A need that is owned is met for ever; one that was dropped took its change along (drop_unreachable). */
static void
fill_needs(const struct plan_reduction *r, struct plan_model *m)
{
	const struct ab_problem *p = r->problem;
	size_t k;

	m->n_arcs = 0;
	for (k = 0; k < p->n_needs; k++) {
		int u = r->change_at[p->needs[k].change], v = r->change_at[p->needs[k].needs];

		if (u < 0 || v < 0 || u == v || plan_has_arc(m, u, v))
			continue;
		m->arcs[m->n_arcs++] = (struct plan_arc){ u, v };
		m->has_needs[u] = 1;
	}
}

/* tie is relative to all the load: below it two plans differ by rounding only. */
static void
fill_model(const struct plan_reduction *r, struct plan_model *m)
{
	const struct ab_problem *p = r->problem;
	size_t u, i;

	for (u = 0; u < p->n_changes; u++)
		if (r->change_at[u] >= 0)
			m->original[r->change_at[u]] = (int)u;
	for (i = 0; i < p->n_causes; i++) {
		m->before += r->load[i];
		if (r->cause_at[i] >= 0)
			m->load[r->cause_at[i]] = r->load[i];
	}
	m->tie = 1e-12 * m->before;
	fill_budgets(r, m);
	fill_groups(r, m);
	fill_needs(r, m);
	plan_order_copies(m);
}

/* The arrays are sized by upper bounds (a need, and one order of copies a change), then filled. */
enum ab_status
plan_model_new(const struct ab_problem *problem, int keep_axis, struct plan_model **out, struct ab_diag *diag)
{
	struct plan_reduction r = { .problem = problem, .keep_axis = keep_axis };
	struct plan_model *m = ab_calloc(1, sizeof *m);
	size_t used;

	*out = NULL;
	if (m == NULL)
		goto nomem;
	m->n = plan_reduce(&r, &m->m, &m->n_edges);
	m->n_arcs = problem->n_needs + m->n;
	lay_out(m, NULL, &used);
	m->block = ab_calloc(1, used);
	if (m->block == NULL)
		goto nomem;
	lay_out(m, m->block, &used);
	if (!fill_edges(&r, m))
		goto nomem;
	fill_model(&r, m);
	*out = m;
	return AB_OK;
nomem:
	plan_model_free(m);
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while setting up the plan");
}

/* NULL is fine, and so is a model half built. */
void
plan_model_free(struct plan_model *model)
{
	if (model != NULL)
		ab_free(model->block);
	ab_free(model);
}

double
plan_model_gain(const struct plan_model *m, size_t e, double left, unsigned mask)
{
	const double *table = m->table[m->cause[e]];

	return table == NULL ? left * m->share[e]
	    : m->load[m->cause[e]] * (table[mask | 1U << m->bit[e]] - table[mask]);
}

/* Always in the order of edges: adding up in the order of choosing would give one set two values, and
 * ties would hang on rounding. */
double
plan_model_value(const struct plan_model *m, const unsigned char *chosen)
{
	double sum = 0;
	size_t i, e;

	for (i = 0; i < m->m; i++) {
		double keep = 1;
		unsigned mask = 0;

		for (e = m->first[i]; e < m->first[i + 1]; e++)
			if (chosen[m->change[e]]) {
				keep *= 1 - m->share[e];
				mask |= 1U << m->bit[e];
			}
		sum += m->load[i] * (m->table[i] != NULL ? m->table[i][mask] : 1 - keep);
	}
	return sum;
}

double
plan_model_cost(const struct plan_model *m, const unsigned char *chosen, size_t budget)
{
	double sum = 0;
	size_t u;

	for (u = 0; u < m->n; u++)
		if (chosen[u])
			sum += m->cost[u * m->n_budgets + budget];
	return sum;
}

/* The 16 spare bytes keep arrays of length 0 at distinct places. */
void *
plan_carve(char *base, size_t *used, size_t count, size_t size)
{
	size_t at = *used;

	*used = (at + count * size + 15) / 16 * 16 + 16;
	return base == NULL ? NULL : base + at;
}
