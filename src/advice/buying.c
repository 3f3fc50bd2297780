/* buying.c - the order of things: what acts on the trouble told, else on what was tasted; habits, the cold side at equal
 * worth, then by what money buys
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
	return a->told != NULL ? advising_answers(a, x->item->change) : x->there >= a->there_least;
}

/* What a change is ranked by: minutes where time is wanted; where it acts on what was tasted what it takes of that; else the
 * load it takes. */
static double merit(const struct advising *a, const struct adding *x)
{
	if (advising_for_time(a))
		return fmax(0, -x->item->minutes);
	return x->there >= a->there_least ? x->there : x->load;
}

/* Does x come before y? What acts on the trouble told or tasted comes before what might happen to anybody, then what is
 * free. No strict order (equal within 5 % is not transitive), so it is only used to insert and to pick, never in qsort. */
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

/* What acts on what was tasted: whatever takes a third of what the best that may be chosen takes of it, and a real part of the
 * whole (both estimates: what does less would not be noticed beside the best). Where time is wanted, or a trouble is told,
 * that leads. */
static void find_least(struct advising *a)
{
	static const double BESIDE_BEST = 1.0 / 3, REAL = 0.05;
	double best = 0, all = 0;

	for (size_t i = 0; i < a->k->n_causes; i++)
		all += a->there[i];
	for (size_t u = 0; u < a->k->n_changes; u++)
		if (a->out->items[u].barred == NULL && !a->out->items[u].owned)
			best = fmax(best, of_there(a, &a->effect[u * a->k->n_causes]));
	a->there_least = a->told != NULL || advising_for_time(a) || !(best > 0) ? (double)INFINITY : fmax(BESIDE_BEST * best, REAL * all);
}

/* A tool must be bought before what works with it, however little it does by itself. */
static bool needs_met(const struct advising *a, int change, const unsigned char *taken)
{
	const struct ab_change *c = &a->k->changes[change];

	for (size_t i = 0; i < c->n_needs; i++)
		if (!taken[c->needs[i]] && !a->out->items[c->needs[i]].owned)
			return false;
	return true;
}

/* The best to take next after the n in order, by what each adds to them; its item NULL when nothing is
 * left. By marginal gain: two that do the same work are not told one after the other. done: what those n do. */
static struct adding next_best(const struct advising *a, const unsigned char *taken, int *order, size_t n, const struct adding *done,
    double *share)
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

/* What it needs is there, or not in the plan (then the limits have seen to it). */
static bool may_begin(const struct advising *a, const struct ab_item *item)
{
	const struct ab_change *c = &a->k->changes[item->change];

	for (size_t i = 0; i < a->out->n_plan; i++)
		for (size_t j = 0; j < c->n_needs; j++)
			if (a->out->items[a->out->plan[i]].change == c->needs[j])
				return false;
	return true;
}

/* By what it brings alone where it acts on what was tasted or told: nothing else is begun with it. */
static double begin_worth(const struct advising *a, const struct ab_item *item)
{
	double bought = a->options->policy != NULL ? a->options->policy->bought : ab_policy_usual.bought;

	double gain = !item->answers ? item->joint_gain : a->told == NULL ? alone(a, item).there : advising_of_trouble(a, item->change);

	return gain * (advising_is_free(item) ? 1 : bought);
}

/* What an item acts on, by its weightiest reason. */
static enum advising_tasted against(const struct ab_item *item)
{
	if (item->answers)
		return ADVISING_THERE;
	if (item->n_because == 0 || !item->because[0].tasted)
		return ADVISING_NEVER;
	return item->because[0].gone ? ADVISING_GONE : ADVISING_THERE;
}

/* Which of the plan is asked about: bits of 1 << enum advising_tasted; only what acts on what is wrong. */
struct sort { unsigned which; bool answers; };

/* Of the plan the heaviest of at least so much worth. fresh: of what is not begun already. */
static int heaviest(const struct advising *a, bool fresh, struct sort sort, double least)
{
	const struct ab_advice *out = a->out;
	int best = -1;

	for (size_t i = 0; i < out->n_plan; i++) {
		const struct ab_item *item = &out->items[out->plan[i]];
		if ((fresh && item->begun != NULL) || !may_begin(a, item) || !(begin_worth(a, item) >= least) ||
		    !(sort.which >> against(item) & 1) || (sort.answers && !item->answers))
			continue;
		if (best < 0 || begin_worth(a, item) > begin_worth(a, &out->items[best]))
			best = out->plan[i];
	}
	return best;
}

/* The plan lists what is free before what is bought; begun with is what brings most, for each batch teaches about
 * one change only. First of what acts on what was tasted; of what is worth the same (policy.equal) what acts on a fault that was tasted: that the brewer can
 * taste again, what is feared may never come. What is gone is worth no new habit while there is anything else. */
static int begin_with(const struct advising *a, bool fresh)
{
	enum { NEVER = 1U << ADVISING_NEVER, GONE = 1U << ADVISING_GONE, THERE = 1U << ADVISING_THERE };
	const struct ab_advice *out = a->out;
	double equal = a->options->policy != NULL ? a->options->policy->equal : ab_policy_usual.equal;

	for (size_t i = 0; i < out->n_plan && advising_for_time(a); i++) {
		const struct ab_item *item = &out->items[out->plan[i]];
		if (!(fresh && item->begun != NULL) && may_begin(a, item))
			return out->plan[i];
	}
	int wrong = heaviest(a, fresh, (struct sort){ THERE, true }, -INFINITY);
	if (wrong >= 0)
		return wrong;
	int most = heaviest(a, fresh, (struct sort){ NEVER | THERE, false }, -INFINITY);
	if (most < 0)
		return heaviest(a, fresh, (struct sort){ GONE, false }, -INFINITY);
	int tasted = heaviest(a, fresh, (struct sort){ THERE, false }, (1 - equal) * begin_worth(a, &out->items[most]));
	return tasted >= 0 ? tasted : most;
}

/* A free change outside the plan only because the purchase `place`, of its group, does the same and more: the place of
 * the best of them that brings no less than the purchase weighed by policy.bought; else -1. Better habits come before
 * better kit, and whoever tries the habit first also learns whether the kit is against the right cause. */
static int stand_in(const struct advising *a, int place, bool fresh)
{
	const struct ab_advice *out = a->out;
	const struct ab_item *bought = place < 0 ? NULL : &out->items[place];
	double weight = a->options->policy != NULL ? a->options->policy->bought : ab_policy_usual.bought;
	const char *group = bought == NULL || advising_is_free(bought) ? NULL : a->k->changes[bought->change].group;
	int best = -1;

	for (size_t i = 0; group != NULL && i < out->n_items; i++) {
		const struct ab_item *item = &out->items[i];
		const struct ab_change *c = &a->k->changes[item->change];

		if (item->chosen || item->owned || item->barred != NULL || !advising_is_free(item) || (fresh && item->begun != NULL) ||
		    c->group == NULL || strcmp(c->group, group) != 0 || c->n_needs > 0 || item->gain < weight * bought->gain)
			continue;
		if (best < 0 || item->gain > out->items[best].gain)
			best = (int)i;
	}
	return best;
}

bool advising_needs_owned(const struct advising *a, const struct ab_change *c)
{
	bool all = true;

	for (size_t i = 0; i < a->out->n_items; i++)
		for (size_t j = 0; j < c->n_needs; j++)
			all = all && (a->out->items[i].change != c->needs[j] || a->out->items[i].owned);
	return all;
}

/* Instead of a purchase that is not firm (cheaper.c) the heaviest of the plan and of the cheaper one; -1 = there is nothing else. */
static int besides(const struct advising *a, int place, bool fresh)
{
	const struct ab_advice *out = a->out;
	const unsigned char *cheaper = out->cheaper.known ? out->frontier[out->cheaper.step].chosen : NULL;
	double bought = a->options->policy != NULL ? a->options->policy->bought : ab_policy_usual.bought, most = 0;
	int best = -1;

	for (size_t i = 0; cheaper != NULL && i < out->n_items; i++) {
		const struct ab_item *item = &out->items[i];
		double weight = ab_item_brings(item) * (advising_is_free(item) ? 1 : bought);

		if ((int)i == place || !(item->chosen || cheaper[item->change]) || item->owned || (fresh && item->begun != NULL) ||
		    !advising_needs_owned(a, &a->k->changes[item->change]) || !(weight > most))
			continue;
		most = weight;
		best = (int)i;
	}
	return best;
}

static int instead_of(const struct advising *a, int place, bool fresh)
{
	int other = a->out->cheaper.known && place == a->out->cheaper.without ? besides(a, place, fresh) : -1;

	return other >= 0 ? other : place;
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
	a->out->next = begin_with(a, false);
	a->out->after = begin_with(a, true);
	a->out->stands_for = -1;
	int free = stand_in(a, a->out->next, false), free_after = stand_in(a, a->out->after, true);
	if (free >= 0)
		a->out->stands_for = a->out->next;
	a->out->next = free >= 0 ? free : instead_of(a, a->out->next, false);
	a->out->after = free_after >= 0 ? free_after : instead_of(a, a->out->after, true);
}
