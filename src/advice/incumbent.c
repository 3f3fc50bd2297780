/* incumbent.c - the best plan the search has met, the preferred one among equals, and the cheaper ones beside it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/planning.h"

#include <string.h>

/* One tie below the best: plans as good are still wanted, for the preferred one among them. */
double
plan_search_cutoff(const struct plan_search *s)
{
	return s->found ? s->top_value - s->model->tie : -s->model->tie;
}

static int
count(const unsigned char *chosen, size_t n)
{
	int sum = 0;
	size_t u;

	for (u = 0; u < n; u++)
		sum += chosen[u];
	return sum;
}

/* Fewer changes, then the plan holding the lower index where they first differ. Without a rule among
 * equals the answer would change with the order of branching. */
static bool
preferred(const struct plan_search *s, const unsigned char *chosen, int n)
{
	size_t u;

	if (n != s->best_count)
		return n < s->best_count;
	for (u = 0; u < s->model->n; u++)
		if (chosen[u] != s->best[u])
			return chosen[u];
	return false;
}

/* The pool keeps a Pareto front of (cost, value); when it is full new plans are lost, which costs time,
 * not truth. */
static void
remember(struct plan_pool *pool, const struct plan_model *m, const unsigned char *chosen, double value)
{
	double cost = plan_model_cost(m, chosen, pool->axis);
	size_t k, to = 0;

	for (k = 0; k < pool->n; k++)
		if (pool->met[k].cost <= cost && pool->met[k].value >= value)
			return;
	for (k = 0; k < pool->n; k++)
		if (pool->met[k].cost < cost || pool->met[k].value > value)
			pool->met[to++] = pool->met[k];
	pool->n = to;
	if (pool->n == pool->room)
		return;
	pool->met[pool->n].cost = cost;
	pool->met[pool->n].value = value;
	memcpy(pool->met[pool->n++].chosen, chosen, m->n);
}

/* best_value and top_value are kept apart so that a chain of ties, each a little worse, cannot creep
 * downwards. */
void
plan_search_offer(struct plan_search *s, const unsigned char *chosen)
{
	double value = plan_model_value(s->model, chosen), tie = s->model->tie;
	int n = count(chosen, s->model->n);

	if (s->pool != NULL)
		remember(s->pool, s->model, chosen, value);
	if (s->found && value < s->top_value - tie)
		return;
	if (!s->found || value > s->best_value + tie || preferred(s, chosen, n)) {
		memcpy(s->best, chosen, s->model->n);
		s->best_count = n;
		s->best_value = value;
	}
	if (!s->found || value > s->top_value)
		s->top_value = value;
	s->found = true;
}
