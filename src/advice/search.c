/* search.c - branch and bound over the changes, depth first, the more promising child first
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/planning.h"

#include <assert.h>
#include <math.h>
#include <string.h>
#include "base/alloc.h"

/* A node: draw conclusions; lower the bound step by step; after each step fix every change whose forced
 * inclusion or exclusion would drop the bound below the best plan; branch on what the prices are least sure
 * of. Equally good plans are searched too, for the one with the fewest changes and then the lowest indices: a
 * node that can at best tie is left when it already takes as many changes as the best plan has, and after
 * TIE_NODES of them the rest are left (then only the preference is uncertain). */
enum { ROOT_STEPS = 300, CHILD_STEPS = 20, TIE_NODES = 10000 };

/* Levels below the root are made when first reached: most searches never go deep. */
bool
plan_search_init(struct plan_search *s, const struct plan_model *model, const struct plan_options *options,
    long node_limit)
{
	memset(s, 0, sizeof *s);
	s->model = model;
	s->node_limit = node_limit;
	s->root_steps = options->root_steps > 0 ? options->root_steps : ROOT_STEPS;
	s->level[0] = plan_node_new(model);
	s->blank = plan_node_new(model);
	return plan_bound_init(&s->bound, model, options->scan) && s->level[0] != NULL && s->blank != NULL;
}

/* Levels that were never reached are NULL, which is fine. */
void
plan_search_clear(struct plan_search *s)
{
	size_t k;

	plan_bound_clear(&s->bound);
	plan_node_free(s->blank);
	for (k = 0; k < sizeof s->level / sizeof *s->level; k++)
		plan_node_free(s->level[k]);
}

/* Every node's taken set is a plan if it fits: the best ones are often met far above the leaves. */
static void
offer_taken(struct plan_search *s, const struct plan_node *node)
{
	unsigned char chosen[AB_PLAN_CHANGES];
	size_t u;

	if (!plan_node_fits(s->model, node))
		return;
	for (u = 0; u < s->model->n; u++)
		chosen[u] = node->state[u] == PLAN_IN;
	plan_search_offer(s, chosen);
}

/* Can the node hold neither a better plan nor a preferred one among the equally good? A node that takes
 * as many changes as the best plan cannot be preferred: more are not fewer. */
static bool
hopeless(const struct plan_search *s, const struct plan_node *node)
{
	if (node->bound < plan_search_cutoff(s))
		return true;
	return s->found && node->bound <= s->top_value + s->model->tie && node->taken >= s->best_count;
}

/* Decides every change of which the last pricing says that the other way cannot matter. Reduced-cost
 * fixing: the losses bound what the other decision could still reach. It decides most changes without a
 * branch. */
static bool
fix_changes(struct plan_search *s, struct plan_node *node, double bound)
{
	double cutoff = plan_search_cutoff(s);
	bool changed = false;
	size_t k;

	for (k = 0; k < s->bound.n_open; k++) {
		int u = s->bound.open[k];

		if (bound - s->bound.loss_in[u] < cutoff) {
			node->state[u] = PLAN_NOT;
			changed = true;
		} else if (bound - s->bound.loss_not[u] < cutoff) {
			plan_node_take(s->model, node, u);
			changed = true;
		}
	}
	return changed;
}

/* Conclusions, then the taken set as a plan. False when the node is done. The bound's lists of what is
 * open are stale after any conclusion, hence focus here. */
static bool
settle(struct plan_search *s, struct plan_node *node)
{
	if (!plan_node_propagate(s->model, node))
		return false;
	offer_taken(s, node);
	plan_bound_focus(&s->bound, node);
	return s->bound.n_open > 0;
}

/* Lowers the node's bound in at most `steps` steps. Returns the last pricing, at the best prices met;
 * NAN when the node is done. After a fix the old best belongs to another node and is forgotten. The
 * pace falls when six steps bring nothing: Polyak's step overshoots when the hoped-for value is out of
 * reach. */
static double
tighten(struct plan_search *s, struct plan_node *node, int steps, bool fix)
{
	double best = INFINITY, pace = 1, bound;
	int stale = 0, k;

	for (k = 0; k < steps; k++) {
		/* Charges react to all other prices at once; an exact step for them now and then saves
		 * many small ones. */
		if (k % 25 == 0)
			plan_bound_charge(&s->bound, node);
		bound = plan_bound_price(&s->bound, node);
		node->bound = bound < node->bound ? bound : node->bound;
		if (fix && hopeless(s, node))
			return NAN;
		if (fix && fix_changes(s, node, bound)) {
			if (!settle(s, node))
				return NAN;
			best = INFINITY;
			continue;
		}
		if (bound < best) {
			best = bound;
			plan_bound_keep(&s->bound, node);
			stale = 0;
		} else if (++stale >= 6) {
			pace *= 0.6;
			stale = 0;
		}
		if (fix && k % 25 == 24)
			plan_start_priced(s, node);
		plan_bound_step(&s->bound, node, pace * (bound - (s->found ? s->top_value : 0)), k == 0);
	}
	if (isfinite(best))
		plan_bound_restore(&s->bound, node);
	bound = plan_bound_price(&s->bound, node);
	node->bound = bound < node->bound ? bound : node->bound;
	return bound;
}

/* Both children should lose much: then both are cut early. The tenth of the sum breaks ties between
 * changes whose better side is equal. */
static int
choose_branch(const struct plan_search *s)
{
	assert(s->bound.n_open > 0);
	const struct plan_bound *b = &s->bound;
	double best = -1;
	int who = b->open[0];
	size_t k;

	for (k = 0; k < b->n_open; k++) {
		int u = b->open[k];
		double in = b->loss_in[u], out = b->loss_not[u];
		double doubt = (in < out ? in : out) + 0.1 * (in + out);

		if (doubt > best) {
			best = doubt;
			who = u;
		}
	}
	return who;
}

static void dive(struct plan_search *s, size_t depth);

/* One node a depth is enough, for a child is done before its sister begins. */
static void
visit_child(struct plan_search *s, size_t depth, int u, enum plan_state state, double bound)
{
	struct plan_node *child;

	assert(depth + 1 < sizeof s->level / sizeof *s->level);
	if (s->status != AB_OK)
		return;
	if (s->level[depth + 1] == NULL)
		s->level[depth + 1] = plan_node_new(s->model);
	child = s->level[depth + 1];
	if (child == NULL) {
		s->status = AB_ENOMEM;
		return;
	}
	plan_node_copy(child, s->level[depth]);
	child->bound = bound < child->bound ? bound : child->bound;
	if (state == PLAN_IN)
		plan_node_take(s->model, child, u);
	else
		child->state[u] = PLAN_NOT;
	dive(s, depth + 1);
}

/* The better side first: a good plan found early cuts the other side. Both get their bound by the
 * losses before any work is done on them. */
static void
branch(struct plan_search *s, size_t depth, double bound)
{
	int u = choose_branch(s);
	double in = s->bound.loss_in[u], out = s->bound.loss_not[u];

	if (in <= out)
		visit_child(s, depth, u, PLAN_IN, bound - in);
	visit_child(s, depth, u, PLAN_NOT, bound - out);
	if (in > out)
		visit_child(s, depth, u, PLAN_IN, bound - in);
}

/* A node given up at the limit leaves its bound in open_bound: the answer then tells its gap honestly. */
static void
dive(struct plan_search *s, size_t depth)
{
	struct plan_node *node = s->level[depth];
	double bound;

	if (node->bound < plan_search_cutoff(s))
		return;
	if (s->nodes >= s->node_limit) {
		s->open_bound = node->bound > s->open_bound ? node->bound : s->open_bound;
		return;
	}
	s->nodes++;
	if (!settle(s, node) || hopeless(s, node))
		return;
	if (depth == 0) {
		plan_start_greedy(s);
		plan_bound_sweep(&s->bound, node);
	}
	bound = tighten(s, node, depth == 0 ? s->root_steps : CHILD_STEPS, true);
	if (isnan(bound) || hopeless(s, node))
		return;
	/* Only nodes that cannot be better, just as good, are left unsearched: never a better plan. */
	if (s->found && node->bound <= s->top_value + s->model->tie && ++s->tie_nodes > TIE_NODES)
		return;
	plan_start_priced(s, node);
	plan_start_swap(s);
	branch(s, depth, bound);
}

/* Found nothing: with open nodes left nothing is known (a limit), else it is proved that no plan exists
 * (bad input). */
enum ab_status
plan_search_run(struct plan_search *s, struct ab_diag *diag)
{
	plan_node_reset(s->model, s->level[0]);
	plan_node_reset(s->model, s->blank);
	s->nodes = s->tie_nodes = 0;
	s->swapped_value = -1;
	s->open_bound = -INFINITY;
	dive(s, 0);
	if (s->status == AB_ENOMEM)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while searching for the plan");
	if (s->found)
		return AB_OK;
	if (s->open_bound >= 0)
		return ab_fail(diag, AB_ELIMIT, NULL, 0,
		    "no plan within the budgets was found in %ld steps of the search; "
		    "raise a budget", s->nodes);
	return ab_fail(diag, AB_EINPUT, NULL, 0,
	    "no choice of changes keeps every budget, not even buying nothing; raise a budget");
}

/* No fixing and no branching here, so the prices belong to the whole problem and anybody can check the
 * bound with the formula of bound.c. */
enum ab_status
plan_certify(const struct ab_problem *problem, const struct plan_options *options,
    struct plan_certificate *out, struct ab_diag *diag)
{
	struct plan_model *m = NULL;
	struct plan_search *s = NULL;
	enum ab_status st = plan_model_new(problem, -1, &m, diag);
	size_t k;

	if (st != AB_OK)
		return st;
	s = ab_malloc(sizeof *s);
	if (s == NULL || !plan_search_init(s, m, options, 1)) {
		st = ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
		goto out;
	}
	plan_node_reset(m, s->level[0]);
	plan_bound_focus(&s->bound, s->level[0]);
	plan_bound_sweep(&s->bound, s->level[0]);
	out->bound = tighten(s, s->level[0], s->root_steps, false);
	memset(out->pay, 0, plan_places(problem) * sizeof *out->pay);
	memset(out->open, 0, problem->n_changes);
	memset(out->charge, 0, sizeof out->charge);
	for (k = 0; k < m->n_edges; k++)
		out->pay[m->effect[k]] = s->level[0]->pay[k];
	for (k = 0; k < m->n; k++)
		out->open[m->original[k]] = 1;
	for (k = 0; k < m->n_budgets; k++)
		out->charge[m->axis[k]] = s->level[0]->charge[k];
	for (k = 0; k < m->n_arcs; k++) {
		out->arcs[k] = (struct plan_arc){ m->original[m->arcs[k].change],
		    m->original[m->arcs[k].needs] };
		out->subsidy[k] = s->level[0]->subsidy[k];
	}
	out->n_arcs = m->n_arcs;
out:
	if (s != NULL)
		plan_search_clear(s);
	ab_free(s);
	plan_model_free(m);
	return st;
}
