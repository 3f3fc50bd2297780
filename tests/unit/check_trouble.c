/* check_trouble.c - what a profile says is wrong, what it wants and what it owns, as seen in the advice: on the
 * project's own rules
 *
 * Only what must hold whatever the figures of the rules are is asserted: directions, orders, and what is told to
 * the reader.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/advice.h>
#include "base/alloc.h"
#include "rulecase.h"

#define PROFILE(attrs, inner) "<brewery xmlns='urn:afterboil:profile:1' " attrs ">\n" inner "</brewery>"
#define BATCH(inner) "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-03-01'>" inner "</batch>"

static struct ab_arena *arena;
static struct ab_diag diag;

static void setup(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void teardown(void)
{
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static enum ab_status try_advise(
    struct ab_arena *into, const char *profile, const char *journal, struct ab_advice **out)
{
	struct ab_advice_options options = {
		.budget = NAN, .minutes = NAN, .away_hours = NAN, .horizon_years = NAN, .running = NAN
	};
	struct ab_diagnose_options how = { .redraws = 0 };
	struct ab_profile *p = NULL;
	struct ab_batch *batch = NULL;
	struct ab_case *one = NULL;
	enum ab_status st = ab_profile_read_memory(profile, strlen(profile), "p.xml", into, &p, &diag);

	if (st == AB_OK && journal != NULL)
		st = ab_journal_read_memory(journal, strlen(journal), "j.xml", NULL, into, keep, &batch, &diag);
	if (st == AB_OK && batch != NULL)
		st = ab_case_work(rules, batch, p, &how, into, &one, &diag);
	return st != AB_OK ? st : ab_advise(rules, &one, batch != NULL, p, &options, into, out, &diag);
}

static const struct ab_advice *advise(const char *profile, const char *journal)
{
	struct ab_advice *out = NULL;
	enum ab_status st = try_advise(arena, profile, journal, &out);

	ck_assert_msg(st == AB_OK, "%s: %s", ab_status_name(st), diag.text);
	return out;
}

static const struct ab_recurrence *recurrence(const struct ab_advice *a, const char *cause)
{
	for (size_t i = 0; i < a->n_recurrences; i++)
		if (a->recurrences[i].cause == rules_cause(cause))
			return &a->recurrences[i];
	ck_abort_msg("no recurrence of %s", cause);
	return NULL;
}

static const struct ab_item *item(const struct ab_advice *a, const char *change)
{
	for (size_t i = 0; i < a->n_items; i++)
		if (a->items[i].change == rules_change(change))
			return &a->items[i];
	ck_abort_msg("no item %s", change);
	return NULL;
}

/* From 1; 0 = not in the plan. */
static size_t place(const struct ab_advice *a, const char *change)
{
	for (size_t i = 0; i < a->n_plan; i++)
		if (a->items[a->plan[i]].change == rules_change(change))
			return i + 1;
	return 0;
}

/* ---- causes and faults named ---- */

static const struct { const char *cause, *remedy; } named[] = {
	{ "ferment-too-warm", "water-bath-ice" }, { "dirty-lines", "clean-lines-each-keg" },
	{ "light-exposure", "cover-with-towel" },
	{ "over-priming", "weigh-priming" }, { "crush-too-fine", "widen-mill-gap" },
	{ "chlorine-water", "treat-all-water" },
	{ "leaky-closure", "bench-capper" }, { "stale-hops", "fresher-hops" },
};

/* A cause named weighs more than it did, those not named less, and what removes it is among the first three (what
 * is free first). */
START_TEST(a_named_cause_leads)
{
	char *profile = ab_arena_printf(arena, PROFILE("", "<trouble cause='%s'/>"), named[_i].cause);
	const struct ab_advice *without = advise(PROFILE("", ""), NULL), *with = advise(profile, NULL);

	ck_assert_double_gt(recurrence(with, named[_i].cause)->load, recurrence(without, named[_i].cause)->load);
	ck_assert_double_gt(recurrence(with, named[_i].cause)->p, recurrence(without, named[_i].cause)->p);
	for (size_t i = 0; i < rules->n_causes; i++)
		if (strcmp(rules->causes[i].id, named[_i].cause) != 0)
			ck_assert_double_le(recurrence(with, rules->causes[i].id)->load,
			    recurrence(without, rules->causes[i].id)->load + 1e-12);
	ck_assert_int_eq(with->recurrences[0].cause, rules_cause(named[_i].cause));
	ck_assert_uint_eq(with->n_batches, 0);
	size_t at = place(with, named[_i].remedy);
	ck_assert_msg(at >= 1 && at <= 3, "%s: %s is at place %zu", named[_i].cause, named[_i].remedy, at);
}
END_TEST

/* What the rules say the change takes of the cause where nothing is known. */
static double rated(const struct ab_item *item, const char *cause)
{
	const struct ab_change *c = &rules->changes[item->change];
	double most = 0;

	for (size_t i = 0; i < c->n_prevents; i++)
		if (c->prevents[i].cause == rules_cause(cause) && c->prevents[i].when.n == 0)
			most = fmax(most, c->prevents[i].share);
	return most;
}

/* What takes most of the cause is begun with, of a purchase half (policy.bought); in the plan what is free stands
 * first all the same. */
START_TEST(what_does_most_is_begun_with)
{
	const struct ab_advice *a =
	    advise(ab_arena_printf(arena, PROFILE("", "<trouble cause='%s'/>"), named[_i].cause), NULL);
	const struct ab_item *next = &a->items[a->next];
	double worth = rated(next, named[_i].cause) * (next->cost > 0 || next->running_cost > 0 ? 0.5 : 1);

	ck_assert(a->stands_for >= 0 || next->answers);
	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *x = &a->items[a->plan[i]];
		bool costs = x->cost > 0 || x->running_cost > 0;

		if (a->stands_for < 0 && x->answers)
			ck_assert_msg(rated(x, named[_i].cause) * (costs ? 0.5 : 1) <= worth + 1e-9,
			    "%s: %s before %s", named[_i].cause, rules->changes[next->change].id,
			    rules->changes[x->change].id);
		if (i > 0 && x->answers && !costs)
			ck_assert_msg(!(a->items[a->plan[i - 1]].cost > 0), "%s: a purchase before %s",
			    named[_i].cause, rules->changes[x->change].id);
	}
}
END_TEST

static const struct { const char *fault, *cause; } tasted[] = {
	{ "skunky", "light-exposure" }, { "foamy-pour", "unbalanced-lines" }, { "butter", "no-diacetyl-rest" },
	{ "sticking plaster", "chlorine-water" }, { "estery", "ferment-too-warm" },
};

/* A fault named without any batch puts its causes forward; what the plan then begins with acts on that fault. */
START_TEST(a_named_fault_leads)
{
	char *profile = ab_arena_printf(arena, PROFILE("", "<trouble fault='%s'/>"), tasted[_i].fault);
	const struct ab_advice *without = advise(PROFILE("", ""), NULL), *with = advise(profile, NULL);
	int fault = ab_fault_word(rules, tasted[_i].fault, NULL, 0, &(size_t){ 0 });

	ck_assert_double_gt(recurrence(with, tasted[_i].cause)->load, recurrence(without, tasted[_i].cause)->load);
	ck_assert_uint_ge(with->n_plan, 1);
	const struct ab_item *first = &with->items[with->plan[0]];
	ck_assert_uint_ge(first->n_because, 1);
	ck_assert_msg(first->because[0].fault == fault, "%s: begins with %s, for %s", tasted[_i].fault,
	    rules->changes[first->change].id, rules->faults[first->because[0].fault].id);
}
END_TEST

/* English yeast is meant to bring some fruit; who complains of it is helped all the same, and the plan begins with
 * what acts on it. */
START_TEST(what_is_meant_may_be_complained_of)
{
	const struct ab_advice *with = advise(PROFILE("", "<trouble fault='estery'/>"),
	    BATCH("<yeast class='english-ale' form='dry'/>"
		  "<pitch temp='25 C'/><reading at='+1d' wort='26 C'/><reading at='+3d' wort='26 C'/>"));

	ck_assert_uint_ge(with->n_plan, 1);
	ck_assert_int_eq(with->items[with->plan[0]].answers, true);
}
END_TEST

/* A trouble is what the newest batch had: there before packaging, storing did not bring it. */
START_TEST(a_trouble_is_as_it_was_tasted)
{
	const char *profile = PROFILE("", "<trouble fault='sherry-honey'/>");
	const struct ab_advice *plain = advise(profile, BATCH("<tasting><found fault='sherry-honey'/></tasting>")),
	    *early = advise(profile, BATCH("<tasting><found fault='sherry-honey' at-packaging='yes'/></tasting>"));

	ck_assert_double_lt(
	    recurrence(early, "warm-long-storage")->load, 0.5 * recurrence(plain, "warm-long-storage")->load);
}
END_TEST

/* Named beside a batch that has the fault: it weighs more than tasted in one batch. */
START_TEST(named_outweighs_tasted_once)
{
	static const char batch[] = BATCH("<tasting><found fault='skunky'/></tasting>");
	const struct ab_advice *once = advise(PROFILE("", ""), batch),
	    *always = advise(PROFILE("", "<trouble fault='skunky'/>"), batch);

	ck_assert_double_gt(recurrence(always, "light-exposure")->load, recurrence(once, "light-exposure")->load);
	ck_assert_double_eq(
	    recurrence(always, "light-exposure")->data_weight, recurrence(once, "light-exposure")->data_weight);
	ck_assert_uint_eq(always->n_batches, 1);
}
END_TEST

/* Told of in the profile alone, it is named; of a fault that a batch had as a flaw it is not. */
static const struct { const char *title, *profile, *batch; bool tasted, named; } known_by[] = {
	{ "in the profile alone", "<trouble fault='skunky'/>", BATCH(""), true, true },
	{ "in both", "<trouble fault='skunky'/>", BATCH("<tasting><found fault='skunky'/></tasting>"), true, false },
	{ "in a batch", "", BATCH("<tasting><found fault='skunky'/></tasting>"), true, false },
	{ "in neither", "", BATCH(""), false, false },
};

START_TEST(named_or_found)
{
	const struct ab_advice *advice =
	    advise(ab_arena_printf(arena, PROFILE("", "%s"), known_by[_i].profile), known_by[_i].batch);
	size_t seen = 0;

	for (size_t i = 0; i < advice->n_items; i++)
		for (size_t j = 0; j < advice->items[i].n_because; j++) {
			const struct ab_because *b = &advice->items[i].because[j];

			if (strcmp(rules->faults[b->fault].id, "lightstruck") != 0)
				continue;
			seen++;
			ck_assert_msg(b->tasted == known_by[_i].tasted && b->named == known_by[_i].named, "%s: %d %d",
			    known_by[_i].title, b->tasted, b->named);
		}
	ck_assert_uint_gt(seen, 0);
}
END_TEST

static const struct { const char *title, *inner; long line; const char *says; } slips[] = {
	{ "no such cause", "<trouble cause='gremlins'/>", 2, "gremlins" },
	{ "no such fault", "<note>n</note>\n<trouble fault='gremlins'/>", 3, "gremlins" },
};

START_TEST(what_is_not_known_is_refused)
{
	struct ab_advice *out = NULL;
	enum ab_status st = try_advise(arena, ab_arena_printf(arena, PROFILE("", "%s"), slips[_i].inner), NULL, &out);

	ck_assert_msg(st == AB_EINPUT && out == NULL, "%s: %s", slips[_i].title, ab_status_name(st));
	ck_assert_str_eq(diag.source, "p.xml");
	ck_assert_msg(diag.line == slips[_i].line && strstr(diag.text, slips[_i].says) != NULL, "%s: %ld: %s",
	    slips[_i].title, diag.line, diag.text);
}
END_TEST

/* A false alarm is a trouble too: what shows it for one is worth something, though it takes away no flaw. */
START_TEST(a_false_alarm_is_worth_finding_out)
{
	ck_assert_double_eq(item(advise(PROFILE("", ""), NULL), "correct-refractometer")->gain, 0);
	ck_assert_double_gt(
	    item(advise(PROFILE("", "<trouble fault='sweet-underattenuated'/>"), NULL), "correct-refractometer")
		->gain,
	    0);
}
END_TEST

/* ---- what is owned ---- */

static const struct { const char *title, *owns, *trouble; bool unused; } owning[] = {
	{ "against the trouble, use not told", "", "<trouble cause='ferment-swings'/>", true },
	{ "said to be unused", " unused='yes'", "", true },
	{ "said to be in use", " unused='no'", "<trouble cause='ferment-swings'/>", false },
	{ "in use since", " since='2030-01-01'", "<trouble cause='ferment-swings'/>", false },
	{ "another trouble", "", "<trouble cause='light-exposure'/>", false },
	{ "no trouble", "", "", false },
};

START_TEST(what_is_owned)
{
	const struct ab_advice *a =
	    advise(ab_arena_printf(arena, PROFILE("space='none'", "<owns change='thermostat-fridge'%s/>%s"),
		       owning[_i].owns, owning[_i].trouble),
		NULL);
	const struct ab_item *fridge = item(a, "thermostat-fridge");

	ck_assert_msg(fridge->unused == owning[_i].unused && fridge->owned == !owning[_i].unused,
	    "%s: unused %d, owned %d", owning[_i].title, fridge->unused, fridge->owned);
	if (!fridge->unused)
		return;
	ck_assert_double_eq(fridge->cost, 0);
	ck_assert_ptr_null(fridge->barred);        /* it stands there: no room is no reason */
	if (*owning[_i].trouble != '\0')
		ck_assert_uint_eq(place(a, "thermostat-fridge"), 1);
}
END_TEST

/* ---- the habits without any batch ---- */

START_TEST(habits_speak_without_a_batch)
{
	const struct ab_advice *keg = advise(PROFILE("", "<packs into='keg'/>"), NULL),
			       *bottles = advise(PROFILE("", "<packs into='bottles'/>"), NULL);

	ck_assert_ptr_null(item(keg, "leak-check")->barred);
	ck_assert_ptr_nonnull(item(bottles, "leak-check")->barred);
	ck_assert_ptr_nonnull(item(keg, "cap-on-foam")->barred);
	ck_assert_double_gt(
	    recurrence(advise(PROFILE("room='28 C'", "<usual><yeast class='clean-ale'/></usual>"), NULL),
		"ferment-too-warm")
		->load,
	    recurrence(advise(PROFILE("room='15 C'", "<usual><yeast class='clean-ale'/></usual>"), NULL),
		"ferment-too-warm")
		->load);
}
END_TEST

/* ---- time ---- */

/* Every item saves time, the habits come first by minutes, and the plan says how much in all. */
START_TEST(time_is_wanted)
{
	const struct ab_advice *a = advise(PROFILE("goal='time'", "<money now='100'/>"), NULL);
	double sum = 0, spent = 0, last = INFINITY;
	bool bought = false;

	ck_assert_uint_ge(a->n_plan, 2);
	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *it = &a->items[a->plan[i]];
		bool costs = it->cost > 0 || it->running_cost > 0;

		ck_assert_double_lt(it->minutes, 0);
		ck_assert_msg(costs || !bought, "%s after what is bought", rules->changes[it->change].id);
		if (!costs) {
			ck_assert_double_le(-it->minutes, last);
			last = -it->minutes;
		}
		bought |= costs;
		sum += it->minutes;
		spent += it->cost;
		ck_assert(isnan(it->stays));
	}
	ck_assert_double_eq_tol(a->minutes_added, sum, 1e-9);
	ck_assert_double_le(spent, 100);
	ck_assert_double_le(a->load_after, a->load_before);
	ck_assert_ptr_nonnull(strstr(a->reason, "You want time"));
	ck_assert_ptr_null(strstr(advise(PROFILE("goal='quality'", ""), NULL)->reason, "You want time"));
}
END_TEST

/* The most that the money can save: no open change that saves time and fits could be added. */
START_TEST(no_time_is_left_lying)
{
	const struct ab_advice *a = advise(PROFILE("goal='time'", "<money now='0' per-year='0'/>"), NULL);
	double least = INFINITY;
	size_t habits = 0;

	for (size_t i = 0; i < a->n_plan; i++) {
		ck_assert_double_eq(a->items[a->plan[i]].cost, 0);
		least = fmin(least, -a->items[a->plan[i]].minutes);
		habits++;
	}
	ck_assert_uint_le(habits, a->changes);
	for (size_t i = 0; i < a->n_items; i++) {
		const struct ab_item *it = &a->items[i];
		const struct ab_change *c = &rules->changes[it->change];

		if (it->chosen || it->barred != NULL || it->cost > 0 || it->running_cost > 0 || c->group != NULL ||
		    c->n_needs > 0)
			continue;
		ck_assert_msg(habits < a->changes ? -it->minutes < 5 : -it->minutes <= least, "%s saves %g", c->id,
		    -it->minutes);
	}
}
END_TEST

/* Minutes of what is complained of come first: a coil that stands there, though more can be saved elsewhere. */
START_TEST(the_time_complained_of_comes_first)
{
	const struct ab_advice *a =
	    advise(PROFILE("goal='time'", "<owns change='immersion-chiller'/><trouble cause='slow-chill'/>"), NULL);

	ck_assert_uint_eq(place(a, "immersion-chiller"), 1);
	ck_assert_uint_eq(
	    place(advise(PROFILE("goal='time'", "<owns change='immersion-chiller'/>"), NULL), "immersion-chiller"),
	    0);
}
END_TEST

/* ---- nothing is wrong ---- */

#define FINE "<trouble fault='nothing'/>"
#define BUTTERY BATCH("<package into='keg' at='+20d'/>" \
	"<tasting at='+40d'><found fault='butter' intensity='4'/></tasting>")

static const struct ab_next_step *same_again(const struct ab_advice *a)
{
	for (size_t i = 0; i < a->n_steps; i++)
		if (a->steps[i].kind == AB_NEXT_SAME && a->steps[i].well)
			return &a->steps[i];
	return NULL;
}

/* As strong as a named trouble, and the other way: each cause weighs less than it did, all of them together less
 * than half, and what is begun with is the same beer again. */
START_TEST(nothing_wrong_weighs)
{
	const struct ab_advice *without = advise(PROFILE("", ""), NULL), *with = advise(PROFILE("", FINE), NULL);

	for (size_t i = 0; i < rules->n_causes; i++)
		ck_assert_double_le(recurrence(with, rules->causes[i].id)->load,
		    recurrence(without, rules->causes[i].id)->load + 1e-12);
	ck_assert_double_lt(with->load_before, 0.5 * without->load_before);
	ck_assert_ptr_null(same_again(without));
	ck_assert_ptr_nonnull(same_again(with));
	ck_assert(same_again(with)->by_word);
	ck_assert_uint_lt(with->n_plan, without->n_plan);
	ck_assert(with->buy_nothing && !without->buy_nothing);
	ck_assert_ptr_nonnull(strstr(with->reason, "you say that nothing is wrong with your beer"));
	ck_assert_ptr_null(strstr(with->reason, "costs"));
}
END_TEST

/* A flaw in the glass is not talked away, though it weighs less; a batch without one agrees. */
START_TEST(nothing_wrong_and_tasted)
{
	const struct ab_advice *butter = advise(PROFILE("", FINE), BUTTERY),
			       *clean = advise(PROFILE("", FINE), BATCH("<tasting at='+40d' complete='yes'/>"));

	ck_assert_ptr_null(same_again(butter));
	ck_assert_double_lt(butter->load_before, advise(PROFILE("", ""), BUTTERY)->load_before);
	ck_assert_ptr_nonnull(same_again(clean));
	ck_assert(!same_again(clean)->by_word);
}
END_TEST

/* A burden is answered all the same, and bought for; so is a wish for time. */
START_TEST(nothing_wrong_but_a_burden)
{
	const struct ab_advice *a = advise(PROFILE("", FINE "<trouble chore='bottling'/>"), NULL);

	ck_assert_uint_eq(a->n_easings, 1);
	ck_assert_ptr_nonnull(a->next_eases);
	ck_assert_ptr_null(same_again(a));
	ck_assert_ptr_null(item(a, "kegs")->barred);
	ck_assert_ptr_nonnull(item(a, "oxygen-wand")->barred);
	a = advise(PROFILE("goal='time'", FINE), NULL);
	ck_assert_ptr_null(same_again(a));
	ck_assert_uint_gt(a->n_plan, 0);
}
END_TEST

/* ---- short of memory ---- */

START_TEST(short_memory)
{
	enum ab_status st = AB_ENOMEM;
	long k;

	for (k = 0; st != AB_OK && k < 20000; k += k < 200 ? 1 : 37) {
		struct ab_advice *out;

		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		struct ab_arena *a = ab_arena_new();
		st = a == NULL ? AB_ENOMEM
			       : try_advise(a,
				     PROFILE("goal='time'",
					 "<owns change='immersion-chiller'/><trouble cause='slow-chill'/>"
					 "<trouble fault='butter'/>"),
				     NULL, &out);
		ab_arena_free(a);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", k, diag.text);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

/* ---- what is told decides what is offered ---- */

#define CARRIES "it would carry on what was wrong with the last batch"
#define UNSAID "nothing told speaks of what it would change"
#define OTHERS "not for the way you brew"
#define HAS_IT "what you have does without it"
static const struct { const char *title, *profile, *journal, *change, *barred; } offered[] = {
	/* slurry of a beer that was not sound */
	{ "slurry of a sour beer", PROFILE("", ""),
	    BATCH("<tasting at='+30d'><found fault='sour-lactic'/></tasting>"), "reuse-fresh-slurry", CARRIES },
	{ "of buttery beer, told of all", PROFILE("", "<trouble fault='diacetyl'/>"), NULL, "reuse-fresh-slurry",
	    CARRIES },
	{ "of a hot one", PROFILE("", "<trouble fault='fusel'/>"), NULL, "reuse-fresh-slurry", CARRIES },
	{ "of a skunky one", PROFILE("", "<trouble fault='lightstruck'/>"), NULL, "reuse-fresh-slurry", NULL },
	{ "of a wheat beer that is meant to have clove", PROFILE("", ""),
	    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-03-01' "
	  "family='wheat'><yeast class='wheat' form='liquid'/><tasting at='+30d'>"
	  "<found fault='clove-phenolic' intensity='2'/></tasting></batch>", "reuse-fresh-slurry", NULL },
	/* two packs */
	{ "two were pitched", PROFILE("", "<usual><yeast form='dry' packs='2'/></usual>"), NULL, "two-packs", OTHERS },
	{ "one was", PROFILE("", "<usual><yeast form='dry' packs='1'/></usual>"), NULL, "two-packs", NULL },
	{ "it was plenty", PROFILE("", "<usual><yeast form='dry' judged='plenty'/></usual>"), NULL, "two-packs",
	    OTHERS },
	{ "it was little", PROFILE("", "<usual><yeast form='dry' judged='little'/></usual>"), NULL, "two-packs", NULL },
	/* cold that is there */
	{ "a second controller",
	    PROFILE("", "<owns change='thermostat-fridge' unused='no'/><usual><vessel control='fridge'/></usual>"),
	NULL,
	  "ready-wired-controller", HAS_IT },
	{ "the first", PROFILE("", "<usual><vessel control='fridge'/></usual>"), NULL, "ready-wired-controller", NULL },
	{ "a tub beside a fridge", PROFILE("", "<usual><vessel control='fridge'/></usual>"), NULL, "water-bath-ice",
	    OTHERS },
	{ "a tub in a cool room", PROFILE("room='16 C'", "<trouble fault='fusel'/>"), NULL, "water-bath-ice", OTHERS },
	{ "in a warm one", PROFILE("room='24 C'", "<trouble fault='fusel'/>"), NULL, "water-bath-ice", NULL },
	/* nothing was said of it */
	{ "salts", PROFILE("", ""), NULL, "weigh-salts", UNSAID },
	{ "salts by eye", PROFILE("", "<usual><water salts='by-eye'/></usual>"), NULL, "weigh-salts", NULL },
	{ "salts against what tastes of them", PROFILE("", "<trouble fault='mineral-salty'/>"), NULL, "weigh-salts",
	    NULL },
	{ "bleach", PROFILE("", ""), NULL, "iodine-not-bleach", UNSAID },
	{ "a refractometer", PROFILE("", "<trouble fault='sweet-underattenuated'/>"), NULL, "correct-refractometer",
	    UNSAID },
	{ "it is told, and no reading with it",
	    PROFILE("",
	    "<trouble fault='sweet-underattenuated'/><usual><instrument item='refractometer'/></usual>"), NULL,
	  "correct-refractometer", NULL },
	{ "a tap", PROFILE("", "<trouble fault='acetic'/>"), NULL, "rinse-spout", UNSAID },
	{ "a keg", PROFILE("", "<packs into='keg'/><trouble fault='acetic'/>"), NULL, "rinse-spout", NULL },
	{ "dry hops", PROFILE("", ""), NULL, "shorter-dry-hop", UNSAID },
	{ "hoppy beer", PROFILE("", "<brews family='pale-hoppy'/>"), NULL, "shorter-dry-hop", NULL },
};

START_TEST(what_is_offered)
{
	const char *barred = item(advise(offered[_i].profile, offered[_i].journal), offered[_i].change)->barred;

	ck_assert_msg((barred == NULL) == (offered[_i].barred == NULL) &&
		(barred == NULL || strcmp(barred, offered[_i].barred) == 0),
	    "%s: %s", offered[_i].title, barred != NULL ? barred : "open");
}
END_TEST

/* No plan cools with ice and warms with a room. */
START_TEST(not_cold_and_warm)
{
	const struct ab_advice *a =
	    advise(PROFILE("", "<trouble fault='sweet-underattenuated'/><trouble fault='estery'/>"), NULL);

	ck_assert(!(item(a, "water-bath-ice")->chosen && item(a, "warmer-place")->chosen));
	ck_assert(!(item(a, "water-bath-ice")->chosen && item(a, "heat-wrap-with-controller")->chosen));
}
END_TEST

/* A cure, and nothing that costs forty minutes beside it; a controller that failed is had again by whoever owns one. */
START_TEST(ends_with_the_cure)
{
	const struct ab_advice *a = advise(PROFILE("", "<trouble fault='lightstruck'/>"),
	    BATCH("<tasting at='+30d'><found fault='lightstruck'/></tasting>"));

	ck_assert(item(a, "cover-with-towel")->chosen);
	ck_assert(!item(a, "water-bath-ice")->chosen);
	a = advise(PROFILE("", "<owns change='thermostat-fridge'/><trouble chore='controller-failed'/>"), NULL);
	ck_assert_int_eq(a->items[a->next].change, rules_change("ready-wired-controller"));
	a = advise(PROFILE("goal='time'", "<owns change='no-chill-next-day'/><trouble chore='long-brew-day'/>"), NULL);
	ck_assert(item(a, "no-chill-next-day")->unused && item(a, "no-chill-next-day")->chosen);
	a = advise(
	    PROFILE("",
		"<owns change='immersion-chiller'/><trouble chore='chilling-time'/><usual><chill method='coil'/>"
		"</usual>"),
	    NULL);
	ck_assert(item(a, "immersion-chiller")->owned);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("trouble");
	TCase *tc = tcase_create("trouble");
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, what_is_offered, 0, (int)(sizeof offered / sizeof *offered));
	tcase_add_test(tc, not_cold_and_warm);
	tcase_add_test(tc, ends_with_the_cure);
	tcase_add_loop_test(tc, a_named_cause_leads, 0, sizeof named / sizeof *named);
	tcase_add_loop_test(tc, what_does_most_is_begun_with, 0, sizeof named / sizeof *named);
	tcase_add_loop_test(tc, a_named_fault_leads, 0, sizeof tasted / sizeof *tasted);
	tcase_add_test(tc, what_is_meant_may_be_complained_of);
	tcase_add_test(tc, a_trouble_is_as_it_was_tasted);
	tcase_add_loop_test(tc, named_or_found, 0, (int)(sizeof known_by / sizeof *known_by));
	tcase_add_test(tc, named_outweighs_tasted_once);
	tcase_add_loop_test(tc, what_is_not_known_is_refused, 0, sizeof slips / sizeof *slips);
	tcase_add_test(tc, a_false_alarm_is_worth_finding_out);
	tcase_add_loop_test(tc, what_is_owned, 0, sizeof owning / sizeof *owning);
	tcase_add_test(tc, habits_speak_without_a_batch);
	tcase_add_test(tc, time_is_wanted);
	tcase_add_test(tc, no_time_is_left_lying);
	tcase_add_test(tc, the_time_complained_of_comes_first);
	tcase_add_test(tc, nothing_wrong_weighs);
	tcase_add_test(tc, nothing_wrong_and_tasted);
	tcase_add_test(tc, nothing_wrong_but_a_burden);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
