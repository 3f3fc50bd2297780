/* copies.c - changes that outdo others: of n copies of one change 2^n plans would be equally good
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/reducing.h"

/* Linear: arcs are few, and this is asked only while the model is built. */
bool
plan_has_arc(const struct plan_model *m, int change, int needs)
{
	size_t k;

	for (k = 0; k < m->n_arcs; k++)
		if (m->arcs[k].change == change && m->arcs[k].needs == needs)
			return true;
	return false;
}

/* Does u remove at least as much of everything as v, at no more of any budget? Both use lists are in
 * order of cause, so one pass over the two is enough. */
static bool
outdoes(const struct plan_model *m, size_t u, size_t v)
{
	size_t b, a = m->use_first[u], k;

	for (b = 0; b < m->n_budgets; b++)
		if (m->cost[u * m->n_budgets + b] > m->cost[v * m->n_budgets + b])
			return false;
	/* alone tells nothing of what a table says of sets */
	for (k = m->use_first[u]; k < m->use_first[u + 1]; k++)
		if (m->table[m->cause[m->use[k]]] != NULL)
			return false;
	for (k = m->use_first[v]; k < m->use_first[v + 1]; k++)
		if (m->table[m->cause[m->use[k]]] != NULL)
			return false;
	for (k = m->use_first[v]; k < m->use_first[v + 1]; k++) {
		while (a < m->use_first[u + 1] && m->cause[m->use[a]] < m->cause[m->use[k]])
			a++;
		if (a == m->use_first[u + 1] || m->cause[m->use[a]] != m->cause[m->use[k]] ||
		    m->share[m->use[a]] < m->share[m->use[k]])
			return false;
	}
	return true;
}

/* May u always stand in for v? Nobody may need v, and u may need nothing v does not. A group of several
 * may only be left for one of itself, else the swap could break "one of a group". */
static bool
stands_in(const struct plan_model *m, size_t n_needs, int u, int v)
{
	size_t k, g = (size_t)m->group[u];

	if (m->group_first[g + 1] - m->group_first[g] > 1 && m->group[u] != m->group[v])
		return false;
	for (k = 0; k < n_needs; k++) {
		if (m->arcs[k].needs == v)
			return false;
		if (m->arcs[k].change == u && !plan_has_arc(m, v, m->arcs[k].needs))
			return false;
	}
	return outdoes(m, (size_t)u, (size_t)v);
}

/* An earlier change that outdoes a later one comes first: swapping them loses nothing and is preferred among
 * equals. Without this, n copies of one change make 2^n equally good plans. Within one group the arc says
 * "never", which is right as well. */
void
plan_order_copies(struct plan_model *m)
{
	size_t n_needs = m->n_arcs;
	int u, v;

	for (v = 1; v < (int)m->n; v++) {
		for (u = v - 1; u >= 0 && !stands_in(m, n_needs, u, v); u--)
			;
		if (u >= 0 && !plan_has_arc(m, v, u)) {
			m->arcs[m->n_arcs++] = (struct plan_arc){ v, u };
			m->has_needs[v] = 1;
		}
	}
}
