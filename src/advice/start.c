/* start.c - good plans to begin with: by gain per cost, by what the prices say, and by swapping
 *
 * None of this decides anything: a poor start only makes the proof longer.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/planning.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* A set is a node without prices: light enough to build hundreds for one swap. */
static void
set_from_node(const struct plan_model *m, const struct plan_node *node, struct plan_set *set)
{
	size_t u;

	for (u = 0; u < m->n; u++)
		set->in[u] = node->state[u] == PLAN_IN;
	memcpy(set->left, node->left, m->m * sizeof *set->left);
	memcpy(set->mask, node->mask, m->m * sizeof *set->mask);
	memcpy(set->room, node->room, sizeof set->room);
	assert(m->m <= AB_PLAN_CAUSES && m->n <= AB_PLAN_CHANGES);
}

/* u itself does not stand in its own way. */
static bool
group_is_free(const struct plan_model *m, const struct plan_set *set, int u)
{
	size_t g = (size_t)m->group[u], k;

	for (k = m->group_first[g]; k < m->group_first[g + 1]; k++)
		if (m->member[k] != u && set->in[m->member[k]])
			return false;
	return true;
}

/* u and everything it needs that is not in yet; 0 when that cannot be had. Breadth first over the
 * needs. Two of one group among them cannot be had together. */
static size_t
closure(const struct plan_model *m, const struct plan_node *node, const struct plan_set *set,
    int u, int *list)
{
	size_t n = 1, done, k, a;

	list[0] = u;
	for (done = 0; done < n; done++) {
		if (node->state[list[done]] == PLAN_NOT || !group_is_free(m, set, list[done]))
			return 0;
		for (a = 0; m->has_needs[list[done]] && a < m->n_arcs; a++) {
			int v = m->arcs[a].needs;

			if (m->arcs[a].change != list[done] || set->in[v])
				continue;
			for (k = 0; k < n && list[k] != v && m->group[list[k]] != m->group[v]; k++)
				;
			if (k < n && list[k] != v)
				return 0;
			if (k == n)
				list[n++] = v;
		}
	}
	return n;
}

/* Never makes an overdrawn budget worse, so a plan that starts below zero can be mended by savings first. */
static bool
list_fits(const struct plan_model *m, const struct plan_set *set, const int *list, size_t n)
{
	size_t b, k;

	for (b = 0; b < m->n_budgets; b++) {
		double cost = 0;

		for (k = 0; k < n; k++)
			cost += m->cost[(size_t)list[k] * m->n_budgets + b];
		if (cost > 0 && set->room[b] - cost < -m->slack[b])
			return false;
	}
	return true;
}

/* The same arithmetic as plan_node_take, on a set that is thrown away. */
static void
set_add(const struct plan_model *m, struct plan_set *set, int u)
{
	size_t k, b;

	set->in[u] = 1;
	for (k = m->use_first[u]; k < m->use_first[u + 1]; k++) {
		size_t e = m->use[k];

		set->left[m->cause[e]] *= 1 - m->share[e];
		set->mask[m->cause[e]] |= 1U << m->bit[e];
	}
	for (b = 0; b < m->n_budgets; b++)
		set->room[b] -= m->cost[(size_t)u * m->n_budgets + b];
}

/* All of the closure or nothing: half of a tool and its use is no plan. list: room for what was added, as many as
 * are returned. */
static size_t
set_try(const struct plan_model *m, const struct plan_node *node, struct plan_set *set, int u, int *list)
{
	size_t n, k;

	if (set->in[u])
		return 0;
	n = closure(m, node, set, u, list);
	if (n == 0 || !list_fits(m, set, list, n))
		return 0;
	for (k = 0; k < n; k++)
		set_add(m, set, list[k]);
	return n;
}

/* list_fits lets an overdrawn start be mended step by step; whether it was is asked here. */
static void
offer_if_feasible(struct plan_search *s, const struct plan_set *set)
{
	size_t b;

	for (b = 0; b < s->model->n_budgets; b++)
		if (set->room[b] < -s->model->slack[b])
			return;
	plan_search_offer(s, set->in);
}

/* Gain over the share of the scarcest budgets it takes; the dearest part rules out division by nothing.
 * A budget nearly used up makes what it costs dear. What gives back earns a little, so that free
 * savings are taken. */
static double
gain_per_cost(const struct plan_model *m, const struct plan_set *set, int u)
{
	double gain = 0, cost = 1e-3;
	size_t k, b;

	for (k = m->use_first[u]; k < m->use_first[u + 1]; k++)
		gain += plan_model_gain(m, m->use[k], set->left[m->cause[m->use[k]]],
		    set->mask[m->cause[m->use[k]]]);
	for (b = 0; b < m->n_budgets; b++) {
		double c = m->cost[(size_t)u * m->n_budgets + b];
		double size = (set->room[b] > 0 ? set->room[b] : 0) + 1e9 * m->slack[b];

		cost += c > 0 ? c / size : 0;
		gain += c < 0 ? -c / size * 1e-3 * m->before : 0;
	}
	return gain / cost;
}

/* What gain_per_cost said, as long as nothing it rests on has moved. */
struct scores { double of[AB_PLAN_CHANGES]; unsigned char known[AB_PLAN_CHANGES]; };

/* A score rests on what is left of the causes its change has a share in, and on the room in the budgets it costs. */
static void
outdate(const struct plan_model *m, int added, struct scores *scores)
{
	size_t k, e, b, u;

	for (k = m->use_first[added]; k < m->use_first[added + 1]; k++) {
		size_t i = (size_t)m->cause[m->use[k]];

		for (e = m->first[i]; e < m->first[i + 1]; e++)
			scores->known[m->change[e]] = 0;
	}
	for (b = 0; b < m->n_budgets; b++) {
		double c = m->cost[(size_t)added * m->n_budgets + b];

		for (u = 0; (c > 0 || c < 0) && u < m->n; u++)
			if (m->cost[u * m->n_budgets + b] > 0 || m->cost[u * m->n_budgets + b] < 0)
				scores->known[u] = 0;
	}
}

static double
score_of(const struct plan_model *m, const struct plan_set *set, struct scores *scores, int u)
{
	if (!scores->known[u]) {
		scores->of[u] = gain_per_cost(m, set, u);
		scores->known[u] = 1;
	}
	return scores->of[u];
}

/* What is left of a cause shrinks with each, so scores are taken anew where they moved. `never` keeps a swap from
 * putting back what it took out. */
static void
greedy(const struct plan_model *m, const struct plan_node *node, struct plan_set *set, int never)
{
	unsigned char tried[AB_PLAN_CHANGES] = { 0 };
	struct scores scores = { .known = { 0 } };
	int list[AB_PLAN_CHANGES];
	size_t n, k;

	for (;;) {
		double best = 0;
		int who = -1, u;

		for (u = 0; u < (int)m->n; u++) {
			if (tried[u] || set->in[u] || node->state[u] != PLAN_OPEN || u == never)
				continue;
			if (score_of(m, set, &scores, u) > best) {
				best = scores.of[u];
				who = u;
			}
		}
		if (who < 0)
			return;
		n = set_try(m, node, set, who, list);
		tried[who] = n == 0;
		for (k = 0; k < n; k++)
			outdate(m, list[k], &scores);
	}
}

/* What another chosen change stands on cannot be swapped out alone. */
static bool
is_needed(const struct plan_model *m, const unsigned char *in, int u)
{
	size_t a;

	for (a = 0; a < m->n_arcs; a++)
		if (m->arcs[a].needs == u && in[m->arcs[a].change])
			return true;
	return false;
}

/* The plan rebuilt without one change. What the node has taken already stays. */
static void
set_of(const struct plan_model *m, const struct plan_node *node, const unsigned char *in, int without,
    struct plan_set *set)
{
	int u;

	set_from_node(m, node, set);
	for (u = 0; u < (int)m->n; u++)
		if (in[u] && u != without && !set->in[u])
			set_add(m, set, u);
}

struct ranked { double score; int change; };

/* Ties by index, for the same plan on every machine. */
static int
by_score(const void *a, const void *b)
{
	const struct ranked *x = a, *y = b;

	if (x->score < y->score || x->score > y->score)
		return x->score > y->score ? -1 : 1;
	return x->change < y->change ? -1 : x->change > y->change;
}

/* Each change of the plan left out once, and the room filled again. */
static void
swap_out(struct plan_search *s, const unsigned char *from)
{
	const struct plan_model *m = s->model;
	struct plan_set set;
	int u;

	for (u = 0; u < (int)m->n; u++) {
		if (!from[u] || is_needed(m, from, u))
			continue;
		set_of(m, s->blank, from, u, &set);
		greedy(m, s->blank, &set, u);
		offer_if_feasible(s, &set);
	}
}

/* Each change outside the plan forced in once, then what still fits of the plan, the best value first,
 * then anything else. Values are taken from an empty plan, so that order does not depend on what was
 * chosen with what. */
static void
swap_in(struct plan_search *s, const unsigned char *from)
{
	const struct plan_model *m = s->model;
	struct ranked order[AB_PLAN_CHANGES];
	struct plan_set set;
	int list[AB_PLAN_CHANGES], u;
	size_t n = 0, k;

	set_from_node(m, s->blank, &set);
	for (u = 0; u < (int)m->n; u++)
		if (from[u])
			order[n++] = (struct ranked){ gain_per_cost(m, &set, u), u };
	qsort(order, n, sizeof *order, by_score);
	for (u = 0; u < (int)m->n; u++) {
		if (from[u])
			continue;
		set_from_node(m, s->blank, &set);
		if (set_try(m, s->blank, &set, u, list) == 0)
			continue;
		for (k = 0; k < n; k++)
			set_try(m, s->blank, &set, order[k].change, list);
		greedy(m, s->blank, &set, -1);
		offer_if_feasible(s, &set);
	}
}

/* Eight rounds at most: this is a help, not the proof. */
void
plan_start_swap(struct plan_search *s)
{
	unsigned char from[AB_PLAN_CHANGES];
	int rounds;

	for (rounds = 0; s->found && s->top_value > s->swapped_value && rounds < 8; rounds++) {
		s->swapped_value = s->top_value;
		memcpy(from, s->best, s->model->n);
		swap_out(s, from);
		swap_in(s, from);
	}
}

/* From the blank node: the root may have fixed changes already by a bound that wants this plan first. */
void
plan_start_greedy(struct plan_search *s)
{
	struct plan_set set;

	set_from_node(s->model, s->blank, &set);
	greedy(s->model, s->blank, &set, -1);
	offer_if_feasible(s, &set);
	plan_start_swap(s);
}

/* loss_not - loss_in is how strongly the prices want a change: at good prices it is nearly the optimal
 * plan, read off in order. */
void
plan_start_priced(struct plan_search *s, const struct plan_node *node)
{
	const struct plan_model *m = s->model;
	struct ranked order[AB_PLAN_CHANGES];
	struct plan_set set;
	int list[AB_PLAN_CHANGES];
	size_t k;

	for (k = 0; k < s->bound.n_open; k++) {
		int u = s->bound.open[k];

		order[k] = (struct ranked){ s->bound.loss_not[u] - s->bound.loss_in[u], u };
	}
	qsort(order, s->bound.n_open, sizeof *order, by_score);
	set_from_node(m, node, &set);
	for (k = 0; k < s->bound.n_open; k++)
		set_try(m, node, &set, order[k].change, list);
	offer_if_feasible(s, &set);
}
