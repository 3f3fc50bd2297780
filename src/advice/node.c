/* node.c - one node of the plan search: what is taken, what is out, and what follows from that
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/planning.h"

#include <assert.h>
#include <math.h>
#include <string.h>
#include "base/alloc.h"

/* Prices live in the node beside the states, so that a child starts from its parent's prices: they are
 * nearly right, and the bound takes a few steps instead of hundreds. */
static void
lay_out(const struct plan_model *m, struct plan_node *node, char *base)
{
	size_t used = 0;

	node->left = plan_carve(base, &used, m->m, sizeof *node->left);
	node->mask = plan_carve(base, &used, m->m, sizeof *node->mask);
	node->pay = plan_carve(base, &used, m->n_edges, sizeof *node->pay);
	node->subsidy = plan_carve(base, &used, m->n_arcs, sizeof *node->subsidy);
	node->state = plan_carve(base, &used, m->n, sizeof *node->state);
	node->block = base;
	node->size = used;
}

struct plan_node *
plan_node_new(const struct plan_model *model)
{
	struct plan_node *node = ab_calloc(1, sizeof *node);
	void *block;

	if (node == NULL)
		return NULL;
	lay_out(model, node, NULL);
	block = ab_calloc(1, node->size);
	if (block == NULL) {
		ab_free(node);
		return NULL;
	}
	lay_out(model, node, block);
	return node;
}

void
plan_node_free(struct plan_node *node)
{
	if (node != NULL)
		ab_free(node->block);
	ab_free(node);
}

/* Prices stay: those of a near budget are the best start there is (frontier.c). */
void
plan_node_reset(const struct plan_model *m, struct plan_node *node)
{
	memset(node->state, PLAN_OPEN, m->n);
	if (m->m > 0)
		memcpy(node->left, m->load, m->m * sizeof *m->load);
	if (m->m > 0)
		memset(node->mask, 0, m->m * sizeof *node->mask);
	memcpy(node->room, m->budget, sizeof node->room);
	node->value = 0;
	node->taken = 0;
	node->bound = INFINITY;
}

/* The pointers of `to` lead into its own block and must not be copied; everything else is. */
void
plan_node_copy(struct plan_node *to, const struct plan_node *from)
{
	assert(to->size == from->size);
	memcpy(to->block, from->block, from->size);
	memcpy(to->charge, from->charge, sizeof to->charge);
	memcpy(to->room, from->room, sizeof to->room);
	to->value = from->value;
	to->bound = from->bound;
	to->taken = from->taken;
}

/* The slack is for rounding: a plan that costs the budget to the cent must fit. */
bool
plan_node_fits(const struct plan_model *m, const struct plan_node *node)
{
	size_t b;

	for (b = 0; b < m->n_budgets; b++)
		if (node->room[b] < -m->slack[b])
			return false;
	return true;
}

/* value grows by what is left of each cause, not by the load: diminishing returns. */
void
plan_node_take(const struct plan_model *m, struct plan_node *node, int u)
{
	size_t k, b;

	assert(u >= 0 && (size_t)u < m->n && node->state[u] == PLAN_OPEN);
	for (k = m->use_first[u]; k < m->use_first[u + 1]; k++) {
		size_t e = m->use[k], i = (size_t)m->cause[e];

		node->value += plan_model_gain(m, e, node->left[i], node->mask[i]);
		node->mask[i] |= 1U << m->bit[e];
		node->left[i] = m->table[i] != NULL ? m->load[i] * (1 - m->table[i][node->mask[i]])
		    : node->left[i] * (1 - m->share[e]);
	}
	for (b = 0; b < m->n_budgets; b++)
		node->room[b] -= m->cost[(size_t)u * m->n_budgets + b];
	node->state[u] = PLAN_IN;
	node->taken++;
}

/* An arc inside one group says "never": both cannot be chosen (see fill_order_of_copies). */
static bool
follow_needs(const struct plan_model *m, struct plan_node *node, bool *changed)
{
	size_t k;

	for (k = 0; k < m->n_arcs; k++) {
		int u = m->arcs[k].change, v = m->arcs[k].needs;
		bool never = m->group[u] == m->group[v] || node->state[v] == PLAN_NOT;

		if (node->state[u] == PLAN_NOT || (node->state[v] == PLAN_IN && !never))
			continue;
		if (node->state[u] == PLAN_IN && never)
			return false;
		if (never) {
			node->state[u] = PLAN_NOT;
			*changed = true;
		} else if (node->state[u] == PLAN_IN) {
			plan_node_take(m, node, v);
			*changed = true;
		}
	}
	return true;
}

/* False when a group holds two: no plan is left in the node. */
static bool
follow_groups(const struct plan_model *m, struct plan_node *node, bool *changed)
{
	size_t g, k;

	for (g = 0; g < m->n_groups; g++) {
		int in = 0;

		if (m->group_first[g + 1] - m->group_first[g] == 1)
			continue;
		for (k = m->group_first[g]; k < m->group_first[g + 1]; k++)
			in += node->state[m->member[k]] == PLAN_IN;
		for (k = m->group_first[g]; in > 0 && k < m->group_first[g + 1]; k++)
			if (node->state[m->member[k]] == PLAN_OPEN) {
				node->state[m->member[k]] = PLAN_NOT;
				*changed = true;
			}
		if (in > 1)
			return false;
	}
	return true;
}

/* What the open changes of a group could give back of a budget: the best of them. One of a group at
 * most can be taken, so savings of a group do not add. */
static double
saving_of(const struct plan_model *m, const struct plan_node *node, size_t g, size_t b)
{
	double most = 0;
	size_t k;

	for (k = m->group_first[g]; k < m->group_first[g + 1]; k++) {
		size_t u = (size_t)m->member[k];

		if (node->state[u] == PLAN_OPEN && -m->cost[u * m->n_budgets + b] > most)
			most = -m->cost[u * m->n_budgets + b];
	}
	return most;
}

/* A saving frees budget, so "does not fit" means: not even when every other group gives back all it
 * can. A single change whose absence would overdraw is a saving that must be taken. */
static bool
follow_budget(const struct plan_model *m, struct plan_node *node, size_t b, bool *changed)
{
	double reach = node->room[b] + m->slack[b];
	assert(b < m->n_budgets);
	size_t g, k;

	for (g = 0; g < m->n_groups; g++)
		reach += saving_of(m, node, g, b);
	if (reach < 0)
		return false;
	for (g = 0; g < m->n_groups; g++) {
		double others = reach - saving_of(m, node, g, b);
		bool single = m->group_first[g + 1] - m->group_first[g] == 1;

		for (k = m->group_first[g]; k < m->group_first[g + 1]; k++) {
			size_t u = (size_t)m->member[k];

			if (node->state[u] != PLAN_OPEN)
				continue;
			if (others - m->cost[u * m->n_budgets + b] < 0) {
				node->state[u] = PLAN_NOT;
				*changed = true;
			} else if (single && others < 0) {
				plan_node_take(m, node, (int)u);
				*changed = true;
				return true;    /* room and reach are stale now; the caller comes back */
			}
		}
	}
	return true;
}

/* The same as drop_useless of model.c, for causes that are gone by now. Left open they would double the
 * search for nothing: no bound ever falls by deciding them. */
static void
drop_useless(const struct plan_model *m, struct plan_node *node, bool *changed)
{
	size_t u, k, b;

	for (u = 0; u < m->n; u++) {
		bool useful = node->state[u] != PLAN_OPEN;

		for (k = m->use_first[u]; !useful && k < m->use_first[u + 1]; k++)
			useful = node->left[m->cause[m->use[k]]] > 0;
		for (b = 0; !useful && b < m->n_budgets; b++)
			useful = m->cost[u * m->n_budgets + b] < 0;
		for (k = 0; !useful && k < m->n_arcs; k++)
			useful = m->arcs[k].needs == (int)u && node->state[m->arcs[k].change] == PLAN_OPEN;
		if (!useful) {
			node->state[u] = PLAN_NOT;
			*changed = true;
		}
	}
}

/* To a fixed point: each conclusion may open another. It ends, because every change is decided at most
 * once. */
bool
plan_node_propagate(const struct plan_model *m, struct plan_node *node)
{
	bool changed = true;
	size_t b;

	while (changed) {
		changed = false;
		if (!follow_needs(m, node, &changed) || !follow_groups(m, node, &changed))
			return false;
		for (b = 0; b < m->n_budgets; b++)
			if (!follow_budget(m, node, b, &changed))
				return false;
		drop_useless(m, node, &changed);
	}
	return true;
}
