/* loop_policies.c - ways to choose the next change: ours, and those it is held against
 *
 * The two fixed orders are what public guides advise, and what their readers buy (a count over 20 guides, by hand;
 * from memory where no guide gives a whole order).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const usually_advised[] = { "sanitiser-by-label", "no-rinse-sanitiser", "alkaline-cleaner",
	"water-bath-ice", "thermostat-fridge", "dry-yeast", "two-packs", "starter-jar", "bigger-kettle",
	"immersion-chiller", "shake-hard", "two-equal-gravities", "wait-a-week-more", "kegs", "quiet-transfer",
	"closed-transfer", "probe-thermometer", "measure-with-hydrometer", "treat-all-water", "ph-meter",
	"all-grain", "pump-and-plate-chiller", "steel-bucket", "glycol-chiller", NULL };
static const char *const usually_bought[] = { "bigger-kettle", "immersion-chiller", "strong-burner", "stir-plate",
	"new-bucket", "thermostat-fridge", "all-grain", "kegs", "grain-mill", NULL };

static int from_list(const struct loop_brewer *b, const char *const *ids)
{
	for (; *ids != NULL; ids++) {
		int u = ab_change_find(b->world->k, *ids);
		if (u < 0) {
			printf("loop: the rules have no change \"%s\"\n", *ids);
			exit(1);
		}
		if (loop_may(b, u))
			return u;
	}
	return -1;
}

static int advised(struct loop_brewer *b)
{
	return from_list(b, usually_advised);
}

static int bought(struct loop_brewer *b)
{
	return from_list(b, usually_bought);
}

static int nothing(struct loop_brewer *b)
{
	(void)b;
	return -1;
}

static const struct ab_advice *advice_of(const struct loop_brewer *b)
{
	struct ab_advice_options options = { .budget = b->world->budget - b->spent,
		.minutes = b->world->minutes - b->minutes,
		.horizon_years = 1,
		.running = INFINITY,
		.brews = (b->world->batches + 1 - b->n_cases) * b->world->at_once };
	struct ab_advice *advice = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (ab_advise(b->world->k, b->cases, b->n_cases, NULL, &options, b->arena, &advice, &diag) != AB_OK) {
		printf("loop: advice: %s\n", diag.text);
		exit(1);
	}
	return advice;
}

const struct ab_advice *loop_advice(struct loop_brewer *b)
{
	if (b->advice == NULL || b->advised != b->n_cases)
		b->advice = advice_of(b);
	b->advised = b->n_cases;
	return b->advice;
}

/* Of the plan what is not begun yet: as the program says what to begin with. */
int loop_ours(struct loop_brewer *b)
{
	double most = -1;
	int best = -1;

	loop_advice(b);
	if (b->advice->next >= 0 && loop_may(b, b->advice->items[b->advice->next].change))
		return b->advice->items[b->advice->next].change;
	for (size_t i = 0; i < b->advice->n_plan; i++) {
		const struct ab_item *item = &b->advice->items[b->advice->plan[i]];
		double weight = item->joint_gain * (item->cost > 0 ? ab_policy_usual.bought : 1);
		if (weight > most && loop_may(b, item->change)) {
			most = weight;
			best = item->change;
		}
	}
	return best;
}

static double strongest_link(const struct ab_cause *c, size_t fault)
{
	double most = 0;

	for (size_t i = 0; i < c->n_links; i++)
		if ((size_t)c->links[i].fault == fault)
			most = fmax(most, c->links[i].tail[1]);
	return most;
}

static double takes(const struct ab_change *change, size_t cause)
{
	double most = 0;

	for (size_t i = 0; i < change->n_prevents; i++)
		if ((size_t)change->prevents[i].cause == cause)
			most = fmax(most, change->prevents[i].share);
	return most;
}

/* The heaviest fault of the last batch that had any, or -1. */
static int worst_fault(const struct loop_brewer *b)
{
	for (size_t i = b->n_cases; i-- > 0;) {
		int worst = -1;
		for (size_t f = 0; f < b->world->k->n_faults; f++)
			if (b->cases[i]->fault_load[f] > (worst >= 0 ? b->cases[i]->fault_load[worst] : 0))
				worst = (int)f;
		if (worst >= 0)
			return worst;
	}
	return -1;
}

/* What takes the most of this cause, the cheaper of equals; -1 when nothing may be begun against it. */
static int against(const struct loop_brewer *b, size_t cause)
{
	const struct ab_knowledge *k = b->world->k;
	int best = -1;

	for (size_t u = 0; u < k->n_changes; u++) {
		double share = takes(&k->changes[u], cause), most = best >= 0 ? takes(&k->changes[best], cause) : 0;
		if (share > 0 && (share > most || (share >= most && k->changes[u].cost < k->changes[best].cost)) &&
		    loop_may(b, (int)u))
			best = (int)u;
	}
	return best;
}

/* A printed table: the causes of the fault in the order of their strength, whatever the facts say. */
static int printed(struct loop_brewer *b)
{
	const struct ab_knowledge *k = b->world->k;
	int fault = worst_fault(b);
	double last = INFINITY;

	while (fault >= 0 && last > 0) {
		double next = 0;
		for (size_t c = 0; c < k->n_causes; c++) {
			double s = k->causes[c].benign ? 0 : strongest_link(&k->causes[c], (size_t)fault);
			if (s < last && s > next)
				next = s;
		}
		for (size_t c = 0; next > 0 && c < k->n_causes; c++)
			if (!k->causes[c].benign && strongest_link(&k->causes[c], (size_t)fault) == next) {
				int u = against(b, c);
				if (u >= 0)
					return u;
			}
		last = next;
	}
	return -1;
}

/* The cheapest thing that is said to help against any cause of that fault. */
static int cheapest(struct loop_brewer *b)
{
	const struct ab_knowledge *k = b->world->k;
	int fault = worst_fault(b), best = -1;

	for (size_t u = 0; fault >= 0 && u < k->n_changes; u++) {
		bool helps = false;
		for (size_t i = 0; i < k->changes[u].n_prevents; i++)
			helps |= strongest_link(&k->causes[k->changes[u].prevents[i].cause], (size_t)fault) > 0;
		if (helps && loop_may(b, (int)u) && (best < 0 || k->changes[u].cost < k->changes[best].cost))
			best = (int)u;
	}
	return best;
}

const struct loop_named loop_policies[] = {
	{ "ours", "afterboil's plan", loop_ours, false, false },
	{ "printed", "a printed table of faults and causes", printed, false, false },
	{ "cheapest", "the cheapest thing said to help", cheapest, false, false },
	{ "advised", "the order guides advise", advised, false, false },
	{ "bought", "the order people buy in", bought, false, false },
	{ "nothing", "no change at all", nothing, false, false },
};
const size_t n_loop_policies = sizeof loop_policies / sizeof *loop_policies;

/* ---- who knows the truth ---- */

/* The next change of the oracle: takes the most true load, per cost raised to a power: several powers are tried and
 * the best set kept. helps: those that take anything from what is in force. */
static int best_next(struct loop_brewer *b, double power, const unsigned char *helps)
{
	const struct ab_knowledge *k = b->world->k;
	double before = loop_load(b, NULL), best_worth = 1e-9;
	int best = -1;

	for (size_t u = 0; u < k->n_changes; u++) {
		if (!helps[u] || !loop_may(b, (int)u))
			continue;
		loop_with(b, (int)u, b->with);
		double gain = before - loop_load(b, b->with), worth = gain / pow(k->changes[u].cost + 5, power);
		if (gain > 1e-9 && worth > best_worth) {
			best_worth = worth;
			best = (int)u;
		}
	}
	return best;
}

static double try_power(
    const struct loop_brewer *b, double power, size_t most, const unsigned char *helps, unsigned char *plan)
{
	struct loop_brewer other = *b;
	size_t n = b->world->k->n_changes;

	other.has = ab_arena_alloc(b->arena, n, 1);
	other.with = ab_arena_alloc(b->arena, n, 1);
	if (other.has == NULL || other.with == NULL)
		exit(1);
	memcpy(other.has, b->has, n);
	for (size_t i = 0; i < most; i++) {
		int u = best_next(&other, power, helps);
		if (u < 0)
			break;
		loop_adopt(&other, u);
	}
	memcpy(plan, other.has, n);
	return loop_load(&other, NULL);
}

void loop_oracle(const struct loop_brewer *b, size_t most, unsigned char *plan)
{
	static const double powers[] = { 0, 0.3, 0.6, 1 };
	size_t n = b->world->k->n_changes;
	unsigned char *one = ab_arena_alloc(b->arena, n, 1), *helps = ab_arena_alloc(b->arena, n, 1);
	double best = INFINITY, before = loop_load(b, NULL);

	if (one == NULL || helps == NULL)
		exit(1);
	for (size_t u = 0; u < n; u++) {
		loop_with(b, (int)u, one);
		helps[u] = loop_load(b, one) < before - 1e-9;
	}
	for (size_t i = 0; i < sizeof powers / sizeof *powers; i++) {
		double load = try_power(b, powers[i], most, helps, one);
		if (load < best) {
			best = load;
			memcpy(plan, one, n);
		}
	}
}

int loop_most_of(struct loop_brewer *b, const unsigned char *plan, double *chance)
{
	struct loop_brewer other = *b;
	double most = 0, before;
	int best = -1;

	other.chance = chance;
	before = loop_load(&other, NULL);
	for (size_t u = 0; u < b->world->k->n_changes; u++) {
		if (!plan[u] || !loop_may(b, (int)u))
			continue;
		loop_with(b, (int)u, b->with);
		double gain = before - loop_load(&other, b->with);
		if (gain > most) {
			most = gain;
			best = (int)u;
		}
	}
	return best;
}
