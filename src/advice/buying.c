/* buying.c - the order of things: what acts on the trouble told, else on what was tasted; habits, the cold side at
 * equal worth, then by what money buys
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of money; minutes and habits have limits of their own. What stands there unused is free to start, whatever
 * its electricity costs. */
bool advising_is_free(const struct ab_item *item)
{
	return item->cost <= 0 && (item->running_cost <= 0 || item->unused || item->begun != NULL);
}

/* Gain per money, running cost of the horizon included; free things are ranked by gain alone. Under 1
 * of money counts as 1, lest a thing for pennies outrank all. */
double advising_worth(const struct advising *a, const struct ab_item *item, double gain)
{
	double money = item->cost + (item->running_cost > 0 ? item->running_cost * a->out->horizon_years : 0);

	return advising_is_free(item) ? gain : gain / (money < 1 ? 1 : money);
}

/* An item with what it adds, to the load and against what was tasted. */
struct adding { const struct ab_item *item; double load, there; };

/* Does it act on what is wrong: on the trouble told, else on what was tasted and is still there? */
static bool answers(const struct advising *a, const struct adding *x)
{
	return advising_wrong(a) ? advising_answers(a, x->item->change) : x->there >= a->there_least;
}

/* What a change is ranked by: minutes where time is wanted; where it acts on what was tasted what it takes of that;
 * else the load it takes. */
static double merit(const struct advising *a, const struct adding *x)
{
	if (advising_for_time(a))
		return fmax(0, -x->item->minutes);
	return x->there >= a->there_least ? x->there : x->load;
}

/* Does x come before y? What acts on the trouble told or tasted comes before what might happen to anybody, then
 * what is free. No strict order (equal within 5 % is not transitive), so it is only used to insert and to pick,
 * never in qsort. */
static bool before(const struct advising *a, const struct adding *x, const struct adding *y)
{
	double wx = advising_worth(a, x->item, merit(a, x)), wy = advising_worth(a, y->item, merit(a, y));
	double equal = a->options->policy != NULL ? a->options->policy->equal : ab_policy_usual.equal;
	enum ab_side sx = a->k->changes[x->item->change].side, sy = a->k->changes[y->item->change].side;

	if (answers(a, x) != answers(a, y))
		return answers(a, x);
	if (advising_is_free(x->item) != advising_is_free(y->item))
		return advising_is_free(x->item);
	if (sx != sy && fabs(wx - wy) <= equal * fmax(wx, wy))
		return sx == AB_SIDE_COLD;
	return wx > wy;
}

/* share (n_causes): what is taken of each cause. */
static double of_there(const struct advising *a, const double *share)
{
	double sum = 0;

	for (size_t i = 0; i < a->k->n_causes; i++)
		sum += a->there[i] * share[i];
	return sum;
}

/* What acts on what was tasted: whatever takes a third of what the best that may be chosen takes of it, and a real
 * part of the whole (both estimates: what does less would not be noticed beside the best). Where time is wanted, or
 * a trouble is told, that leads. */
static void find_least(struct advising *a)
{
	static const double BESIDE_BEST = 1.0 / 3, REAL = 0.05;
	double best = 0, all = 0;

	for (size_t i = 0; i < a->k->n_causes; i++)
		all += a->there[i];
	for (size_t u = 0; u < a->k->n_changes; u++)
		if (a->out->items[u].barred == NULL && !a->out->items[u].owned)
			best = fmax(best, of_there(a, &a->effect[u * a->k->n_causes]));
	a->there_least = advising_wrong(a) || advising_for_time(a) || !(best > 0)
	    ? (double)INFINITY
	    : fmax(BESIDE_BEST * best, REAL * all);
}

/* A tool must be bought before what works with it, however little it does by itself. */
static bool needs_met(const struct advising *a, int change, const unsigned char *taken)
{
	const struct advising_needs *needs = &a->needs[change];

	for (size_t i = 0; i < needs->n; i++)
		if (!taken[needs->on[i]] && !a->out->items[needs->on[i]].owned)
			return false;
	return true;
}

/* The best to take next after the n in order, by what each adds to them; its item NULL when nothing is
 * left. By marginal gain: two that do the same work are not told one after the other. done: what those n do. */
static struct adding next_best(const struct advising *a, const unsigned char *taken, int *order, size_t n,
    const struct adding *done, double *share)
{
	struct adding best = { NULL, 0, 0 };

	for (size_t u = 0; u < a->k->n_changes; u++) {
		struct adding x = { &a->out->items[u], 0, 0 };

		if (!x.item->chosen || taken[u] || !needs_met(a, (int)u, taken))
			continue;
		order[n] = (int)u;
		x.load = advising_joint(a, order, n + 1, share) - done->load;
		x.there = of_there(a, share) - done->there;
		if (best.item == NULL || before(a, &x, &best))
			best = x;
	}
	return best;
}

/* Greedy by what each adds, in joint replay, to those taken before it: the buying order, and joint_gain.
 * items[] is still in the order of the rules here. */
static enum ab_status buying_order(struct advising *a, int *order, size_t *n_order, struct ab_diag *diag)
{
	unsigned char *taken = ab_arena_alloc(a->arena, a->k->n_changes, 1);
	double *share = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *share);
	struct adding done = { NULL, 0, 0 }, best;

	if (taken == NULL || share == NULL)
		return advising_nomem(diag);
	find_least(a);
	while ((best = next_best(a, taken, order, *n_order, &done, share)).item != NULL) {
		int u = (int)(best.item - a->out->items);

		taken[u] = 1;
		done.load += best.load;
		done.there += best.there;
		a->out->items[u].joint_gain = best.load;
		a->out->items[u].answers = answers(a, &best);
		order[(*n_order)++] = u;
	}
	return AB_OK;
}

static struct adding alone(const struct advising *a, const struct ab_item *item)
{
	return (struct adding){ item, item->gain, of_there(a, &a->effect[(size_t)item->change * a->k->n_causes]) };
}

/* By insertion, since `before` is no strict order. */
static void rank_items(struct advising *a)
{
	struct ab_item *items = a->out->items;

	for (size_t i = 1; i < a->out->n_items; i++) {
		struct ab_item x = items[i];
		struct adding of = alone(a, &x), other;
		size_t j = i;

		for (; j > 0 && (other = alone(a, &items[j - 1]), before(a, &of, &other)); j--)
			items[j] = items[j - 1];
		items[j] = x;
	}
}

double advising_takes_of_there(const struct advising *a, const struct ab_item *item)
{
	return alone(a, item).there;
}

/* The fault a cause brings that weighs most for this brewer. 10: any fault tasted here outweighs all
 * that is only possible. */
int advising_heaviest_fault(const struct advising *a, size_t cause)
{
	assert(cause < a->k->n_causes);
	const struct ab_cause *c = &a->k->causes[cause];
	double best = -1, w;
	int fault = -1;

	for (size_t i = 0; i < c->n_links; i++) {
		const struct ab_link *l = &c->links[i];

		w = a->k->faults[l->fault].severity * (l->tail[1] + l->tail[2] + l->tail[3]);
		for (size_t b = 0; b < a->n_cases; b++)   /* faults this brewer has tasted come first */
			if (a->cases[b]->fault_intensity != NULL &&
			    a->cases[b]->fault_intensity[l->fault] > 0)
				w += 10 * a->weight[b];
		if (a->told != NULL && a->told->fault_intensity[l->fault] > 0)
			w += 10;
		if (w > best) {
			best = w;
			fault = l->fault;
		}
	}
	return fault;
}

/* The MOST heaviest, kept in order while passing: a sorted list of three needs no sort. */
static enum ab_status give_reasons(struct advising *a, struct ab_diag *diag)
{
	enum { MOST = 3 };

	for (size_t u = 0; u < a->out->n_items; u++) {
		struct ab_item *item = &a->out->items[u];
		const double *effect = &a->effect[(size_t)item->change * a->k->n_causes];

		item->because = ab_arena_alloc(a->arena, MOST, sizeof *item->because);
		if (item->because == NULL)
			return advising_nomem(diag);
		for (size_t i = 0; i < a->k->n_causes; i++) {
			struct ab_because b = { .cause = (int)i, .load = a->load[i] * effect[i] };
			size_t j = item->n_because;

			if (b.load <= 0 || (j == MOST && item->because[MOST - 1].load >= b.load))
				continue;
			b.fault = advising_heaviest_fault(a, i);
			b.tasted = advising_tasted(a, b.fault) != ADVISING_NEVER;
			b.gone = advising_tasted(a, b.fault) == ADVISING_GONE;
			b.named = b.tasted && !advising_found(a, b.fault);
			if (j == MOST)
				j--;
			else
				item->n_because++;
			for (; j > 0 && item->because[j - 1].load < b.load; j--)
				item->because[j] = item->because[j - 1];
			item->because[j] = b;
		}
	}
	return AB_OK;
}

/* Reasons first: they need the items in the order of the rules. */
enum ab_status advising_order(struct advising *a, struct ab_diag *diag)
{
	struct ab_advice *out = a->out;
	enum ab_status st;

	out->plan = ab_arena_alloc(a->arena, a->k->n_changes, sizeof *out->plan);
	if (out->plan == NULL)
		return advising_nomem(diag);
	st = give_reasons(a, diag);
	if (st == AB_OK)
		st = buying_order(a, out->plan, &out->n_plan, diag);
	return st;
}

/* Sorts items and turns the plan's change numbers into places in items; the last step, since everything
 * before counts by change. */
void advising_rank(struct advising *a)
{
	rank_items(a);
	for (size_t i = 0; i < a->out->n_plan; i++)
		for (size_t j = 0; j < a->out->n_items; j++)
			if (a->out->items[j].change == a->out->plan[i]) {
				a->out->plan[i] = (int)j;
				break;
			}
	advising_cheaper(a);
	advising_begin(a);
}
