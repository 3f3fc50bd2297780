/* check_advice.c - which changes may stand in a plan, which do, in which order, and what the figures add up to
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "advicecase.h"
#include "base/alloc.h"

static struct brewery b;

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	brewery_close(&b);
}

/* ---- what may be chosen: one row, one setting ---- */

#define NOTHING 1e-9   /* a limit of nothing: 0 stands for "not told" in the rows */
struct setting {
	const char *owns, *refuses;
	int unused, space, noise, smoke;
	struct { const char *change; double cost, running, minutes; } price;
	double money_now, money_per_year, minutes_per_batch, horizon_years, batches_a_year;   /* of the profile */
	double budget, minutes, horizon, running, away, away_profile;                         /* of the options */
	size_t habits;
};

static void own(const char *id, int unused)
{
	struct ab_owns *o = brewery_push(&b, &b.profile->owns, sizeof *o);

	o->change = id;
	o->unused = unused;
}

static struct ab_num known(double v)
{
	return (struct ab_num){ .v = v, .known = v != 0 };
}

static double told(double v)
{
	return v != 0 ? v : NAN;
}

static void settle(const struct setting *s)
{
	struct ab_profile *p = b.profile;

	if (s->owns != NULL)
		own(s->owns, s->unused);
	if (s->refuses != NULL)
		((struct ab_refuses *)brewery_push(&b, &p->refuses, sizeof(struct ab_refuses)))->change = s->refuses;
	if (s->price.change != NULL) {
		struct ab_price *price = brewery_push(&b, &p->prices, sizeof *price);

		*price = (struct ab_price){ .change = s->price.change,
			.cost = known(s->price.cost),
			.running_per_year = known(s->price.running),
			.minutes_s = known(s->price.minutes * 60) };
	}
	p->space = s->space;
	p->noise_matters = s->noise;
	p->smoke_matters = s->smoke;
	p->money_now = known(s->money_now);
	p->money_per_year = known(s->money_per_year);
	p->time_per_batch_s = known(s->minutes_per_batch * 60);
	p->horizon_s = known(s->horizon_years * 365.25 * 86400);
	p->batches_per_year = known(s->batches_a_year);
	b.options.budget = told(s->budget);
	b.options.minutes = told(s->minutes);
	p->away_s = known(s->away_profile * 3600);
	b.options.away_hours = told(s->away);
	b.options.horizon_years = told(s->horizon);
	b.options.running = told(s->running);
	b.options.changes = s->habits;
}

#define ATTR(more, body) CHANGE("x", "upgrade", "cold", "stage='ferment' " more, body)
#define ONLY(how) "<only-for><when fact='t.control' " how "/></only-for>"
#define NOT(how) "<not-for><when fact='t.control' " how "/></not-for>"
static const struct {
	const char *title, *changes;
	struct setting s;
	const char *plan;        /* in buying order */
	const char *barred;      /* why x may not be chosen */
} rows[] = {
	{ "a plain purchase", BUY("x", "50", WARM), { 0 }, "x", NULL },
	{ "owned is not bought again", BUY("x", "50", WARM), { .owns = "x" }, "", NULL },
	{ "owned but not used: start using it", BUY("x", "50", WARM),
	    { .owns = "x", .unused = AB_YES, .budget = NOTHING }, "x", NULL },
	{ "owned, and used for sure", BUY("x", "50", WARM), { .owns = "x", .unused = AB_NO }, "", NULL },
	{ "refused", BUY("x", "50", WARM), { .refuses = "x" }, "", "refused in the profile" },
	{ "something else is refused", BUY("x", "50", WARM), { .refuses = "y" }, "x", NULL },
	{ "too large", ATTR("cost='5' space='drawer'", WARM), { .space = 1 }, "", "no room for it" },
	{ "just fits", ATTR("cost='5' space='drawer'", WARM), { .space = 2 }, "x", NULL },
	{ "room not told", ATTR("cost='5' space='drawer'", WARM), { 0 }, "x", NULL },
	{ "noise matters", ATTR("cost='5' noisy='yes'", WARM), { .noise = AB_YES }, "", "too noisy" },
	{ "noise does not", ATTR("cost='5' noisy='yes'", WARM), { .noise = AB_NO }, "x", NULL },
	{ "fumes matter", ATTR("cost='5' smoky='yes'", WARM), { .smoke = AB_YES }, "", "fumes" },
	{ "away too long", ATTR("cost='5' attend='12 h'", WARM), { .away = 12.1 }, "",
	    "needs somebody at home more often" },
	{ "back in time", ATTR("cost='5' attend='12 h'", WARM), { .away = 12 }, "x", NULL },
	{ "the profile's hours", ATTR("cost='5' attend='12 h'", WARM), { .away_profile = 13 }, "",
	    "needs somebody at home more often" },
	{ "the option outweighs them", ATTR("cost='5' attend='12 h'", WARM), { .away_profile = 13, .away = 8 }, "x",
	    NULL },
	{ "hours away not told", ATTR("cost='5' attend='12 h'", WARM), { 0 }, "x", NULL },
	{ "may be left alone", ATTR("cost='5'", WARM), { .away = 1000 }, "x", NULL },
	{ "only for what is done here", BUY("x", "5", WARM ONLY("is='room'")), { 0 }, "x", NULL },
	{ "only for what is not", BUY("x", "5", WARM ONLY("is='fridge'")), { 0 }, "", "not for the way you brew" },
	{ "only for what is not, but it stands there by the brewer's word", BUY("x", "5", WARM ONLY("is='fridge'")),
	    { .owns = "x", .unused = AB_YES }, "x", NULL },
	{ "and is in use", BUY("x", "5", WARM ONLY("is='fridge'")), { .owns = "x", .unused = AB_NO }, "",
	    "not for the way you brew" },
	{ "what it is not for stays so", BUY("x", "5", WARM NOT("is='room'")), { .owns = "x", .unused = AB_YES },
	    "", "not for the way you brew" },
	{ "any of two is enough", BUY("x", "5", WARM ONLY("is='fridge'") ONLY("is='room'")), { 0 }, "x", NULL },
	{ "not for what is done here", BUY("x", "5", WARM NOT("is='room'")), { 0 }, "", "not for the way you brew" },
	{ "not for what is not", BUY("x", "5", WARM NOT("is='fridge'")), { 0 }, "x", NULL },
	{ "one ban of two", BUY("x", "5", WARM NOT("is='fridge'") NOT("is='room'")), { 0 }, "",
	    "not for the way you brew" },
#define DONE(how) "<practice><when fact='t.control' " how "/></practice>"
	{ "what is done here may be changed", BUY("x", "5", WARM DONE("is='room'")), { 0 }, "x", NULL },
	{ "nobody said that it is done", BUY("x", "5", WARM DONE("is='fridge'")), { 0 }, "",
	    "nothing told speaks of what it would change" },
	{ "one of two is said", BUY("x", "5", WARM DONE("is='fridge'") DONE("is='room'")), { 0 }, "x", NULL },
	{ "but it stands there", BUY("x", "5", WARM DONE("is='fridge'")), { .owns = "x", .unused = AB_YES }, "x",
	    NULL },
	{ "what is in use does the same",
	    BUY("x", "5", WARM "<excludes change='y'/>") BUY("y", "5", PREVENTS("husky", "0.001")), { .owns = "y" }, "",
	  "what you have does without it" },
	{ "what is owned and not in use does not",
	    BUY("x", "5", WARM "<excludes change='y'/>") BUY("y", "5", PREVENTS("husky", "0.001")),
	  { .owns = "y", .unused = AB_YES }, "x", NULL },
	/* money */
	{ "within the budget", BUY("x", "50", WARM), { .budget = 50 }, "x", NULL },
	{ "beyond it", BUY("x", "50", WARM), { .budget = 49.99 }, "", NULL },
	{ "the profile's money", BUY("x", "50", WARM), { .money_now = 49 }, "", NULL },
	{ "the option outweighs the profile", BUY("x", "50", WARM), { .money_now = 49, .budget = 50 }, "x", NULL },
	{ "an own price, lower", BUY("x", "50", WARM), { .price = { .change = "x", .cost = 20 }, .budget = 20 },
	    "x", NULL },
	{ "an own price, higher", BUY("x", "50", WARM), { .price = { .change = "x", .cost = 80 }, .budget = 79 },
	    "", NULL },
	{ "a price of something else", BUY("x", "50", WARM),
	    { .price = { .change = "y", .cost = 20 }, .budget = 20 }, "", NULL },
	{ "two, but money for one: the better", BUY("x", "50", WARM) BUY("y", "50", STALE), { .budget = 60 }, "x",
	    NULL },
	{ "two cheap ones beat a dear one",
	    BUY("x", "60", WARM) BUY("y", "30", PREVENTS("stale", "0.8")) BUY("z", "30", PREVENTS("husky", "0.9")),
	  { .budget = 60 }, "y z", NULL },
	/* minutes: 15 a batch, and 100 once over 10 batches a year */
	{ "minutes enough", ATTR("cost='5' minutes='15'", WARM), { .minutes = 15 }, "x", NULL },
	{ "a minute short", ATTR("cost='5' minutes='15'", WARM), { .minutes = 14 }, "", NULL },
	{ "the profile's minutes", ATTR("cost='5' minutes='15'", WARM), { .minutes_per_batch = 14 }, "", NULL },
	{ "minutes spent once are shared out", ATTR("cost='5' once-minutes='100'", WARM), { .minutes = 10 }, "x",
	    NULL },
	{ "over few batches they weigh more", ATTR("cost='5' once-minutes='100'", WARM),
	    { .minutes = 10, .batches_a_year = 9 }, "", NULL },
	{ "over more years less", ATTR("cost='5' once-minutes='100'", WARM),
	    { .minutes = 10, .batches_a_year = 5, .horizon = 2 }, "x", NULL },
	{ "own minutes", ATTR("cost='5' minutes='15'", WARM),
	    { .price = { .change = "x", .minutes = 5 }, .minutes = 5 }, "x", NULL },
	{ "one that saves time pays for another",
	    ATTR("cost='5' minutes='15'", WARM) CHANGE("y", "upgrade", "cold",
	    "stage='ferment' cost='9' minutes='-10'", STALE),
	  { .minutes = 5 }, "x y", NULL },
	/* running cost: 2 a batch and 10 a year: 30 a year at 10 batches */
	{ "running cost of a year", ATTR("cost='5' running='2' running-per-year='10'", WARM), { .running = 30 },
	    "x", NULL },
	{ "a cent short", ATTR("cost='5' running='2' running-per-year='10'", WARM), { .running = 29.99 }, "", NULL },
	{ "of two years", ATTR("cost='5' running='2' running-per-year='10'", WARM), { .running = 59, .horizon = 2 },
	    "", NULL },
	{ "of two years, the profile's", ATTR("cost='5' running='2' running-per-year='10'", WARM),
	    { .running = 60, .horizon_years = 2 }, "x", NULL },
	{ "the profile's money a year counts each year", ATTR("cost='5' running='2' running-per-year='10'", WARM),
	  { .money_per_year = 30, .horizon = 3 }, "x", NULL },
	{ "more batches a year cost more", ATTR("cost='5' running='2' running-per-year='10'", WARM),
	    { .running = 30, .batches_a_year = 11 }, "", NULL },
	{ "nothing to spend is nothing to run either", ATTR("cost='0' running='2'", WARM), { .budget = NOTHING },
	    "", NULL },
	{ "running cost not told: as much a year as may be spent now",
	    ATTR("cost='5' running='2' running-per-year='10'", WARM), { .budget = 30 }, "x", NULL },
	{ "what stands there already may run", ATTR("cost='50' running='2'", WARM),
	    { .owns = "x", .unused = AB_YES, .budget = NOTHING }, "x", NULL },
	{ "not beyond what was told to run", ATTR("cost='50' running='2'", WARM),
	    { .owns = "x", .unused = AB_YES, .running = 19 }, "", NULL },
	{ "a cent less than that", ATTR("cost='5' running='2' running-per-year='10'", WARM), { .budget = 29.99 },
	    "", NULL },
	{ "of more years", ATTR("cost='5' running='2' running-per-year='10'", WARM), { .budget = 30, .horizon = 3 },
	    "x", NULL },
	{ "told it outweighs that", ATTR("cost='5' running='2' running-per-year='10'", WARM),
	    { .budget = 10, .running = 30 }, "x", NULL },
	{ "free before what costs nothing to buy but money to run", ATTR("cost='0' running='2' group='g'", WARM)
	  CHANGE("y", "habit", "cold", "stage='ferment' cost='0' group='g'", WARM), { 0 }, "y", NULL },
	{ "own running cost", ATTR("cost='5' running='2' running-per-year='10'", WARM),
	    { .price = { .change = "x", .running = 12 }, .running = 12 }, "x", NULL },
	/* habits */
	{ "three habits", HABIT("x", WARM) HABIT("y", STALE) HABIT("z", HUSKY), { 0 }, "x y z", NULL },
	{ "at most two: the best", HABIT("x", WARM) HABIT("y", STALE) HABIT("z", HUSKY), { .habits = 2 }, "x y", NULL },
	{ "at most one", HABIT("x", WARM) HABIT("y", STALE) HABIT("z", HUSKY), { .habits = 1 }, "x", NULL },
	{ "what costs money is no habit to count", HABIT("x", WARM) BUY("y", "5", STALE) BUY("z", "5", HUSKY),
	    { .habits = 1, .budget = 100 }, "x y z", NULL },
	{ "no limit told: enough, not everything", HABIT("x", WARM) BUY("y", "5", STALE) BUY("z", "5", HUSKY),
	    { 0 }, "x y", NULL },
	/* needs, groups, excludes */
	{ "what it needs comes with it, first",
	    BUY("x", "5", WARM "<needs change='y'/>") BUY("y", "5", PREVENTS("husky", "0.3")), { 0 }, "y x", NULL },
	{ "too dear together", BUY("x", "50", WARM "<needs change='y'/>") BUY("y", "50", PREVENTS("husky", "0.3")),
	    { .budget = 99 }, "y", NULL },
	{ "what it needs is owned",
	    BUY("x", "50", WARM "<needs change='y'/>") BUY("y", "50", PREVENTS("husky", "0.3")),
	{ .budget = 50, .owns = "y" }, "x", NULL },
	{ "what it needs does nothing by itself",
	    BUY("x", "5", WARM "<needs change='y'/>") BUY("y", "5", PREVENTS("husky", "0.001")), { 0 }, "y x", NULL },
	{ "what it needs may not be had", BUY("x", "5", WARM "<needs change='y'/>") BUY("y", "5", HUSKY),
	    { .refuses = "y" }, "", NULL },
	{ "a chain of needs",
	    BUY("x", "5", WARM "<needs change='y'/>") BUY("y", "5",
	    PREVENTS("husky", "0.001") "<needs change='z'/>") BUY("z", "5", PREVENTS("husky", "0.001")),
	  { 0 }, "z y x", NULL },
	{ "one of a group",
	    ATTR("cost='5' group='g'", WARM) CHANGE("y", "upgrade", "cold", "stage='ferment' cost='5' group='g'",
	    STALE), { 0 }, "x", NULL },
	{ "two groups",
	    ATTR("cost='5' group='g'", WARM) CHANGE("y", "upgrade", "cold", "stage='ferment' cost='5' group='h'",
	    STALE), { 0 }, "x y", NULL },
	{ "excluded", BUY("x", "5", WARM) BUY("y", "5", STALE "<excludes change='x'/>"), { 0 }, "x", NULL },
	{ "what is in use takes away as much, of one group", ATTR("cost='5' group='g'", WARM)
	  CHANGE("y", "upgrade", "cold", "stage='ferment' cost='5' group='g'", WARM), { .owns = "y" }, "",
	  "what you do already does as much" },
	{ "owned, and not in use, it does not", ATTR("cost='5' group='g'", WARM)
	  CHANGE("y", "upgrade", "cold", "stage='ferment' cost='50' group='g'", WARM),
	  { .owns = "y", .unused = AB_YES, .budget = 5 }, "y", NULL },
	{ "of another group it is no matter", ATTR("cost='5' group='g'", WARM)
	  CHANGE("y", "upgrade", "cold", "stage='ferment' cost='5' group='h'", WARM), { .owns = "y" }, "x", NULL },
	{ "a better one of the group may be bought beside an owned", ATTR("cost='5' group='g'", WARM)
	  CHANGE("y", "upgrade", "cold", "stage='ferment' cost='5' group='g'", STALE), { .owns = "y" }, "x", NULL },
	/* order */
	{ "free habits first, whatever they bring", BUY("x", "1", WARM) HABIT("y", HUSKY), { 0 }, "y x", NULL },
	{ "by gain for money", BUY("x", "50", WARM) BUY("y", "5", STALE), { 0 }, "y x", NULL },
	{ "running cost counts as money", ATTR("cost='5' running='6'", WARM) BUY("y", "20", STALE), { 0 }, "y x",
	    NULL },
	{ "habits among themselves by gain", HABIT("x", HUSKY) HABIT("y", WARM), { 0 }, "y x", NULL },
	{ "nothing is bought for a habit: it is for who has it",
	    HABIT("x", WARM "<needs change='y'/>") BUY("y", "5", HUSKY), { 0 }, "y",
	"it makes use of kit you do not have" },
	{ "a habit with what is owned", HABIT("x", WARM "<needs change='y'/>") BUY("y", "5", HUSKY),
	    { .owns = "y" }, "x", NULL },
	{ "and with what is owned and stands unused", HABIT("x", WARM "<needs change='y'/>") BUY("y", "5", HUSKY),
	    { .owns = "y", .unused = AB_YES }, "y x", NULL },
	{ "cold before hot at equal worth",
	    CHANGE("x", "habit", "hot", "stage='mash' cost='0'", PREVENTS("stale", "0.5"))
	  HABIT("y", PREVENTS("stale", "0.5")), { 0 }, "y x", NULL },
	{ "hot first where it is worth more",
	    CHANGE("x", "habit", "hot", "stage='mash' cost='0'", WARM) HABIT("y", HUSKY), { 0 }, "x y", NULL },
	/* worth */
	{ "too little to taste", BUY("x", "5", PREVENTS("warm", "0.001")), { 0 }, "", NULL },
	{ "not padded with what money is left",
	    BUY("y", "5", PREVENTS("warm", "0.95")) BUY("x", "5", PREVENTS("warm", "0.1")), { .budget = 1000 }, "y",
	NULL },
	{ "nothing at hand", HABIT("x", PREVENTS("young", "0.9")), { 0 }, "", NULL },
};

START_TEST(setting)
{
	char plan[256];

	brewery_open(&b, rows[_i].changes);
	brewery_batch(&b)->facts[T_CONTROL] = tiny_fact(1);   /* ferments at room temperature */
	brewery_ready(&b);
	settle(&rows[_i].s);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_item *x = brewery_item(&b, advice, "x");
	brewery_plan(&b, advice, plan, sizeof plan);
	ck_assert_msg(
	    strcmp(plan, rows[_i].plan) == 0, "%s: plan \"%s\", not \"%s\"", rows[_i].title, plan, rows[_i].plan);
	ck_assert_msg((x->barred == NULL) == (rows[_i].barred == NULL) &&
		(x->barred == NULL || strcmp(x->barred, rows[_i].barred) == 0),
	    "%s: barred: %s", rows[_i].title, x->barred != NULL ? x->barred : "no");
	bool in_place = x->barred != NULL && strncmp(x->barred, "what you ", 9) == 0;
	ck_assert_msg(in_place ? x->in_place != NULL && strcmp(x->in_place->id, "y") == 0 : x->in_place == NULL,
	    "%s: in its place", rows[_i].title);
	for (size_t i = 0; i < advice->n_items; i++) {
		bool planned = false;

		for (size_t j = 0; j < advice->n_plan; j++)
			planned = planned || advice->plan[j] == (int)i;
		ck_assert_msg(planned == advice->items[i].chosen, "%s: chosen and plan agree", rows[_i].title);
	}
}
END_TEST

/* A journal begun for the next brew tells nothing of it, wherever it stands: the plan and its loads are as without
 * it; but a batch of which anything is told counts, and so does the first journal of all. */
START_TEST(paper_is_no_batch)
{
	char before[200], after[200];
	brewery_open(&b, BUY("x", "50", WARM) HABIT("y", STALE));
	brewery_bad_batches(&b, 2);
	const struct ab_advice *two = brewery_advise(&b);
	brewery_plan(&b, two, before, sizeof before);
	struct ab_case *paper = brewery_batch(&b);
	struct ab_batch *meant = ab_arena_alloc(b.arena, 1, sizeof *meant);
	meant->recipe = ab_arena_alloc(b.arena, 1, sizeof *meant->recipe);
	paper->batch = meant;
	brewery_ready(&b);
	const struct ab_advice *as_before = brewery_advise(&b);
	ck_assert_str_eq(brewery_plan(&b, as_before, after, sizeof after), before);
	ck_assert_uint_eq(as_before->n_batches, 2);
	ck_assert_double_eq(as_before->load_before, two->load_before);
	meant->mash = ab_arena_alloc(b.arena, 1, sizeof *meant->mash);
	const struct ab_advice *three = brewery_advise(&b);
	ck_assert_uint_eq(three->n_batches, 3);
	ck_assert(three->load_before < two->load_before);
	meant->mash = NULL;
	b.cases[0] = paper;
	b.n = 1;
	ck_assert_uint_eq(brewery_advise(&b)->n_batches, 1);
}
END_TEST

/* Most batches, by weight, decide what kind of brewing it is. */
static const struct { const char *title; int control[3]; bool may; } kinds[] = {
	{ "all so", { 1, 1, 1 }, false }, { "the newest two", { 2, 1, 1 }, false },
	{ "only the newest: 1 of 2.5725", { 2, 2, 1 }, true },
	{ "the older two: 1.5725 of 2.5725", { 1, 1, 2 }, false }, { "only the oldest", { 1, 2, 2 }, true },
};

START_TEST(most_batches_decide)
{
	brewery_open(&b, BUY("x", "5", WARM NOT("is='room'")));
	for (size_t i = 0; i < 3; i++)
		brewery_batch(&b)->facts[T_CONTROL] = tiny_fact(kinds[_i].control[i]);
	brewery_ready(&b);
	ck_assert_msg(
	    (brewery_item(&b, brewery_advise(&b), "x")->barred == NULL) == kinds[_i].may, "%s", kinds[_i].title);
}
END_TEST

START_TEST(noted_in_a_journal_is_owned)
{
	brewery_open(&b, BUY("x", "50", WARM) BUY("y", "50", STALE));
	brewery_bad_batches(&b, 2);
	brewery_note(&b, b.cases[1], "x", AB_YES);
	own("x", AB_YES);   /* the profile is older */
	brewery_note(&b, b.cases[1], "y", AB_NO);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_item *x = brewery_item(&b, advice, "x"), *y = brewery_item(&b, advice, "y");
	ck_assert(x->owned && !x->unused && !x->chosen);
	ck_assert(!y->owned && y->chosen);   /* a trial only */
}
END_TEST

/* A change noted for one beer, and brewed with: is it in use, or at hand and to be begun with the others? lines of the
 * batches, oldest first, brewed on the first days of 2031; the newest weigh most. */
static const struct { const char *title, *lines[4], *line; double on_day; bool kept, owned, unused, begun;
    } of_lines[] = {
	{ "of all the beers there are", { "pale", "pale", "pale", "pale" }, "pale", 2, false, true, false, false },
	{ "of the one brewed most and last", { "stout", "pale", "pale", "pale" }, "pale", 2, false, true, false,
	    false },
	{ "of one of two in turn, not the last", { "pale", "stout", "pale", "stout" }, "pale", 0, false, false,
	    true, false },
	{ "of one that is hardly brewed", { "pale", "stout", "stout", "stout" }, "pale", 0, false, false, true, false },
	{ "of that one, and a journal kept it", { "pale", "stout", "stout", "stout" }, "pale", 0, true, true, false,
	    false },
	{ "of every beer", { "pale", "stout", "stout", "stout" }, NULL, 2, false, true, false, false },
	{ "of every beer, and not brewed with yet", { "pale", "stout", "stout", "stout" }, NULL, 9, false, false,
	    false, true },
	{ "of one, and not brewed with yet", { "pale", "stout", "stout", "stout" }, "pale", 9, false, false, false,
	    true },
	{ "of a beer nobody brews", { "pale", "stout", "stout", "stout" }, "wheat", 0, false, false, false, true },
};

START_TEST(a_change_of_one_beer)
{
	const double first = ab_when_from_civil(2031, 1, 1) + 43200;

	brewery_open(&b, BUY("x", "50", WARM) HABIT("y", PREVENTS("stale", "0.5") "<needs change='x'/>"));
	brewery_bad_batches(&b, 4);
	for (size_t i = 0; i < 4; i++) {
		struct ab_batch *batch = brewery_brewed(&b);

		ck_assert_ptr_nonnull(batch);
		*batch = *b.cases[i]->batch;
		b.cases[i]->batch = batch;
		batch->line = of_lines[_i].lines[i];
		batch->brewed = (struct ab_when){ .known = true, .s = first + (double)i * 86400 };
	}
	struct ab_changed *c = brewery_push(&b, &b.profile->changed, sizeof *c);
	c->what = "x";
	c->line = of_lines[_i].line;
	c->on = (struct ab_when){ .known = true, .s = first + of_lines[_i].on_day * 86400 };
	if (of_lines[_i].kept)
		brewery_note(&b, b.cases[1], "x", AB_YES);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_item *x = brewery_item(&b, advice, "x");
	ck_assert_ptr_null(brewery_item(&b, advice, "y")->barred); /* a habit makes use of it, in use, at hand or
								      begun */
	ck_assert_msg(x->owned == of_lines[_i].owned && x->unused == of_lines[_i].unused &&
		(x->begun != NULL) == of_lines[_i].begun,
	    "%s: owned %d, unused %d, begun %d", of_lines[_i].title, x->owned, x->unused, x->begun != NULL);
	ck_assert_double_eq(x->cost, x->unused || x->begun != NULL ? 0 : 50);   /* at hand costs nothing */
}
END_TEST

/* A tub that does two thirds of what a fridge of 50 does comes first, unless ten times its price was told to be
 * there. */
static const struct { const char *title; double budget; const char *next, *stands_for, *until; } ample[] = {
	{ "money for it", 60, "tub", "fridge", NULL }, { "not quite ten times", 499, "tub", "fridge", NULL },
	{ "ten times", 500, "fridge", NULL, "tub" }, { "no limit told is no plenty", NAN, "tub", "fridge", NULL },
};

static void is_at(const char *title, const struct ab_advice *advice, int place, const char *want)
{
	ck_assert_msg(want == NULL ? place < 0
				   : place >= 0 && strcmp(b.k->changes[advice->items[place].change].id, want) == 0,
	    "%s: wanted %s", title, want != NULL ? want : "nothing");
}

/* What leads is weighed by what would be begun with: the tub, more than half of the fridge and more than a curtain. */
static const struct { const char *title, *curtain; double budget; const char *next, *stands_for; } before_less[] = {
	{ "a curtain that does less than the tub", "0.55", 60, "tub", "fridge" },
	{ "one that does more", "0.7", 60, "curtain", NULL },
	{ "with money for it the fridge is weighed as bought", "0.55", 500, "curtain", NULL },
};

START_TEST(what_helps_out_leads)
{
	struct ab_arena *arena = ab_arena_new();
	brewery_open(&b, ab_arena_printf(arena, "%s%s%s",
	    CHANGE("tub", "habit", "cold", "stage='ferment' cost='0' group='g'", PREVENTS("warm", "0.6"))
	    CHANGE("fridge", "upgrade", "cold", "stage='ferment' cost='50' group='g'", PREVENTS("warm", "0.9"))
	    "<change id='curtain' kind='habit' side='cold' stage='ferment' cost='0' source='estimate'>"
	    "<title>A curtain</title><prevents cause='warm' share='", before_less[_i].curtain,
	    "' source='estimate'/></change>"));
	ab_arena_free(arena);
	*(struct ab_trouble *)brewery_push(&b, &b.profile->troubles, sizeof(struct ab_trouble)) =
	    (struct ab_trouble){ .cause = "warm" };
	b.options.budget = before_less[_i].budget;
	const struct ab_advice *advice = brewery_advise(&b);
	is_at(before_less[_i].title, advice, advice->next, before_less[_i].next);
	is_at(before_less[_i].title, advice, advice->stands_for, before_less[_i].stands_for);
}
END_TEST

START_TEST(what_helps_out)
{
	brewery_open(&b, CHANGE("tub", "habit", "cold", "stage='ferment' cost='0' group='g'", PREVENTS("warm", "0.6"))
	    CHANGE("fridge", "upgrade", "cold", "stage='ferment' cost='50' group='g'", PREVENTS("warm", "0.9")));
	brewery_bad_batches(&b, 3);
	b.options.budget = ample[_i].budget;
	const struct ab_advice *advice = brewery_advise(&b);
	is_at(ample[_i].title, advice, advice->next, ample[_i].next);
	is_at(ample[_i].title, advice, advice->stands_for, ample[_i].stands_for);
	is_at(ample[_i].title, advice, advice->until, ample[_i].until);
}
END_TEST

/* x is on trial: is what comes after it against the same cause? */
static const struct { const char *title, *changes; const char *after; bool under; } trials[] = {
	{ "against the same", HABIT("x", PREVENTS("warm", "0.5")) HABIT("y", PREVENTS("warm", "0.8")), "y", true },
	{ "against another", HABIT("x", PREVENTS("warm", "0.5")) HABIT("y", PREVENTS("stale", "0.8")), "y", false },
	{ "a little against the same is no reason to wait",
	    HABIT("x", PREVENTS("stale", "0.5") PREVENTS("warm", "0.05")) HABIT("y", PREVENTS("warm", "0.8")), "y",
	false },
	{ "by what it sets", HABIT("x", COOLS) HABIT("y", PREVENTS("warm", "0.95")), "y", true },
};

START_TEST(a_second_against_one_cause)
{
	double first = ab_when_from_civil(2031, 1, 10);
	const struct ab_next_step *after = NULL;

	brewery_open(&b, trials[_i].changes);
	brewery_bad_batches(&b, 3);
	for (size_t i = 0; i < 3; i++) {
		struct ab_batch *batch = brewery_brewed(&b);

		*batch = *b.cases[i]->batch;
		b.cases[i]->batch = batch;
		batch->brewed = (struct ab_when){ .known = true, .s = first + (double)i * 86400 };
		b.cases[i]->tasted = true;
	}
	struct ab_changed *c = brewery_push(&b, &b.profile->changed, sizeof *c);
	c->what = "x";
	c->on = (struct ab_when){ .known = true, .s = first + 10.0 * 86400 };
	const struct ab_advice *advice = brewery_advise(&b);
	for (size_t i = 0; i < advice->n_steps; i++)
		if (advice->steps[i].kind == AB_NEXT_AFTER)
			after = &advice->steps[i];
	ck_assert_msg(after != NULL, "%s", trials[_i].title);
	ck_assert_str_eq(b.k->changes[advice->items[after->item].change].id, trials[_i].after);
	ck_assert_msg((after->under == c) == trials[_i].under, "%s", trials[_i].title);
}
END_TEST

START_TEST(infeasible)
{
	struct ab_advice *advice;

	brewery_open(&b, BUY("x", "50", WARM));
	brewery_bad_batches(&b, 1);
	b.options.minutes = -5;
	ck_assert_int_eq(ab_advise(b.k, b.cases, 1, b.profile, &b.options, b.arena, &advice, &b.diag), AB_EINPUT);
	ck_assert_ptr_null(advice);
	ck_assert_str_ne(b.diag.text, "");
}
END_TEST

START_TEST(unknown_family)
{
	struct ab_advice *advice;

	brewery_open(&b, BUY("x", "50", WARM));
	b.options.family = "wheaty";
	ck_assert_int_eq(ab_advise(b.k, b.cases, 0, NULL, &b.options, b.arena, &advice, &b.diag), AB_EUSAGE);
	ck_assert_str_eq(b.diag.text, "there is no style family \"wheaty\"; there are plain, odd");
	ck_assert_ptr_null(advice);
}
END_TEST

START_TEST(limits_used)
{
	brewery_open(&b, BUY("x", "50", WARM));
	brewery_bad_batches(&b, 1);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert(isinf(advice->budget) && isinf(advice->minutes) && isinf(advice->running));
	ck_assert_double_eq(advice->horizon_years, 1);
	ck_assert_uint_eq(advice->changes, ab_policy_usual.habits);
	ck_assert_str_eq(advice->currency, "$");
	settle(&(struct setting){
	    .money_now = 100, .money_per_year = 30, .minutes_per_batch = 20, .horizon_years = 4, .habits = 3 });
	b.profile->currency = "EUR";
	advice = brewery_advise(&b);
	ck_assert_double_eq(advice->budget, 100);
	ck_assert_double_eq_tol(advice->minutes, 20, 1e-9);
	ck_assert_double_eq_tol(advice->horizon_years, 4, 1e-12);
	ck_assert_double_eq_tol(advice->running, 120, 1e-9);   /* of all four years */
	ck_assert_uint_eq(advice->changes, 3);
	ck_assert_str_eq(advice->currency, "EUR");
}
END_TEST

/* ---- words ---- */

static const struct { const char *title, *changes; size_t batches; double budget; const char *reason;
    bool buy_nothing, hot; } words[] = {
	{ "a purchase", BUY("x", "50", WARM), 3, 0, "What costs you most, over your batches, is: Too warm (it "
	    "would strike about 77 of 100 batches brewed like yours). "
	  "One change at a time, and the same beer again after each: then its taste tells what it did.", false, false },
	{ "habits do it", HABIT("x", WARM), 3, 0, "What costs you most, over your batches, is: Too warm (it "
	    "would strike about 77 of 100 batches brewed like yours). "
	  "Nothing needs to be bought: the free changes do what can be done.", true, false },
	{ "nothing within the limits", BUY("x", "50", WARM), 3, NOTHING,
	    "What costs you most, over your batches, is: Too warm (it would strike about 77 of 100 batches "
	    "brewed like yours). "
	  "Nothing within these limits is worth doing: brew on, taste, and write it down.", true, false },
	{ "few batches", HABIT("x", WARM), 1, 0,
	    "Few batches were read, so what is usual still weighs much. What costs you most, over your batches, is: "
	  "Too warm (it would strike about 77 of 100 batches brewed like yours). Nothing needs to be bought: "
	  "the free changes do what can be done.", true, false },
	{ "the hot side", "<cause id='scorched' side='hot' stage='boil'><title>Scorched</title><why>so</why>"
	    "<prior p='0.8' source='estimate'/>"
	  "<gives fault='butter' noticeable='0.9' strong='0.8' source='estimate'/></cause>"
	  HABIT("x", PREVENTS("scorched", "0.5")), 3, 0,
	  "What costs you most, over your batches, is: Scorched (it would strike about 80 of 100 batches brewed "
	  "like yours). Most of the trouble comes from before the end of "
	  "the boil: your cold side is not the place to spend. Nothing needs to be bought: the free changes do "
	  "what can be done.", true, true },
};

/* 3 batches at 24/31: (0.6 + 2.5725 x 24/31) / 4.5725 = 0.5668; 1 batch: (0.6 + 24/31) / 3 = 0.458 */
START_TEST(reasons)
{
	brewery_open(&b, words[_i].changes);
	brewery_bad_batches(&b, words[_i].batches);
	for (size_t i = 0; i < b.n; i++)
		b.cases[i]->fault_intensity[0] = 3;
	b.options.budget = told(words[_i].budget);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_msg(strcmp(advice->reason, words[_i].reason) == 0, "%s:\n%s\nnot\n%s", words[_i].title,
	    advice->reason, words[_i].reason);
	ck_assert_msg(advice->buy_nothing == words[_i].buy_nothing && advice->hot_side == words[_i].hot, "%s",
	    words[_i].title);
	ck_assert_uint_eq(advice->n_batches, words[_i].batches);
}
END_TEST

START_TEST(because)
{
	brewery_open(&b, HABIT("x", PREVENTS("stale", "0.5") PREVENTS("warm", "0.5") PREVENTS("husky", "0.5")));
	brewery_batch(&b);
	brewery_ready(&b);
	const struct ab_item *x = brewery_item(&b, brewery_advise(&b), "x");
	ck_assert_uint_eq(x->n_because, 3);
	ck_assert_int_eq(x->because[0].cause, C_WARM);
	ck_assert_int_eq(x->because[0].fault, 0);
	ck_assert_double_eq_tol(x->because[0].load, 0.3 * 2.4 / 2 / 3, 1e-12);
	ck_assert_int_eq(x->because[1].cause, C_STALE);
	ck_assert_int_eq(x->because[1].fault, 1);
	ck_assert_int_eq(x->because[2].cause, C_HUSKY);
	ck_assert_double_eq_tol(x->gain, (0.72 + 0.3 + 0.18) / 2 / 3, 1e-12);
}
END_TEST

/* The check of these rules looks at "warm". */
static const struct { const char *title, *change; bool tasted, nothing_found, benign, is_check; double bits;
    bool offered; } asks[] = {
	{ "a telling check", BUY("x", "5", WARM), true, false, false, true, 0.3, true },
	{ "not telling enough", BUY("x", "5", WARM), true, false, false, true, 0.1, false },
	{ "a question, no check", BUY("x", "5", WARM), true, false, false, false, 0.3, false },
	{ "the beer was good", BUY("x", "5", WARM), true, true, false, true, 0.3, false },
	{ "nothing is wrong, wait", BUY("x", "5", WARM), true, false, true, true, 0.3, false },
	{ "not tasted", BUY("x", "5", WARM), false, false, false, true, 0.3, false },
	{ "what is free is begun without", HABIT("x", WARM), true, false, false, true, 0.3, false },
	{ "nor what costs money later", HABIT("x", WARM) BUY("y", "5", STALE), true, false, false, true, 0.3, false },
	{ "what costs only to run does ask for it",
	    CHANGE("x", "upgrade", "cold", "stage='ferment' cost='0' running='2'", WARM), true, false, false, true,
	0.3, true },
	{ "it looks at what this does not act on", BUY("x", "5", STALE), true, false, false, true, 0.3, false },
};

START_TEST(a_check_first)
{
	char rules[2000];
	snprintf(rules, sizeof rules,
	    "%s<check id='smell' minutes='5' cost='0' base='0.02' source='estimate'>"
	    "<title>Does it smell warm?</title><how>sniff</how>"
	    "<yes cause='warm' p='0.7' source='estimate'/></check>",
	    asks[_i].change);
	struct ab_policy policy = ab_policy_usual;
	policy.spared = 0;   /* no fault is told of these batches, and yet something is to be bought */
	brewery_open(&b, rules);
	b.options.policy = &policy;
	brewery_bad_batches(&b, 1);
	struct ab_ask ask = { .is_check = asks[_i].is_check, .bits = asks[_i].bits };
	struct ab_diagnosis *d = b.cases[0]->diagnosis;
	d->asks = &ask;
	d->n_asks = 1;
	d->nothing_found = asks[_i].nothing_found;
	d->verdict_benign = asks[_i].benign;
	b.cases[0]->tasted = asks[_i].tasted;
	d->blame = ab_arena_alloc(b.arena, b.k->n_causes, sizeof *d->blame);
	d->blame[C_WARM] = d->blame[C_STALE] = 0.4;
	ck_assert_msg((brewery_advise(&b)->first_check == &ask) == asks[_i].offered, "%s", asks[_i].title);
}
END_TEST


/* Words of care that hold of most batches go before the change's own, the last of several; of unknown facts none do. */
static const struct { const char *title; double over[3]; const char *care; } cared[] = {
	{ "nothing known", { NAN, NAN, NAN }, "hot" }, { "one of three", { 4, 0, 0 }, "hot" },
	{ "two of three", { 4, 4, 0 }, "warm" },
	{ "all", { 4, 4, 4 }, "warm" }, { "all, and the later words too", { 9, 9, 9 }, "torrid" },
};
START_TEST(care_of_most)
{
	brewery_open(&b,
	    HABIT("x",
		"<caution>hot</caution><caution-when says='warm'><when fact='t.over' over='3'/></caution-when>"
		"<caution-when says='torrid'><when fact='t.over' over='8'/></caution-when>" PREVENTS(
		    "warm", "0.25")) HABIT("y", PREVENTS("warm", "0.1")));
	for (int i = 0; i < 3; i++) {
		struct ab_case *c = brewery_batch(&b);
		if (isfinite(cared[_i].over[i]))
			c->facts[T_OVER] = tiny_fact(cared[_i].over[i]);
	}
	brewery_ready(&b);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_str_eq(ab_item_caution(b.k, brewery_item(&b, advice, "x")), cared[_i].care);
	ck_assert_ptr_null(ab_item_caution(b.k, brewery_item(&b, advice, "y")));
}
END_TEST

/* Each brew begins one change: of three worth having the best that there are brews for, bought or free. Told
 * outright, by the profile (a year's brewing, and the horizon), or not at all. */
static const struct { const char *title; size_t brews; double a_year, horizon; double limit; const char *plan;
    } brewing[] = {
	{ "not told", 0, NAN, NAN, INFINITY, "xzy" }, { "one brew", 1, NAN, NAN, 1, "x" },
	{ "two", 2, NAN, NAN, 2, "xy" }, { "enough", 3, NAN, NAN, 3, "xzy" },
	{ "two a year", 0, 2, NAN, 2, "xy" }, { "told outright beside it", 1, 12, NAN, 1, "x" },
	{ "four a year, half a year", 0, 4, 0.5, 2, "xy" },
	{ "one in two years", 0, 0.5, NAN, 1, "x" },
};

START_TEST(one_change_a_brew)
{
	char plan[8] = "";

	brewery_open(&b,
	    HABIT("x", PREVENTS("warm", "0.9")) BUY("y", "5", PREVENTS("stale", "0.8"))
		HABIT("z", PREVENTS("husky", "0.4")));
	b.options.budget = 10;   /* without a limit the plan stops at what is enough */
	b.options.brews = brewing[_i].brews;
	b.options.horizon_years = brewing[_i].horizon;
	b.profile->batches_per_year = (struct ab_num){ .known = !isnan(brewing[_i].a_year), .v = brewing[_i].a_year };
	const struct ab_advice *advice = brewery_advise(&b);
	for (size_t i = 0; i < advice->n_plan && i < 3; i++)
		strcat(plan, b.k->changes[advice->items[advice->plan[i]].change].id);
	ck_assert_msg(strcmp(plan, brewing[_i].plan) == 0, "%s: plan %s", brewing[_i].title, plan);
	ck_assert_msg(advice->brews == brewing[_i].limit, "%s: %g brews", brewing[_i].title, advice->brews);
	/* and what the limit keeps out is told */
	ck_assert_int_eq(advice->left_out[AB_LIMIT_BREWS].more > 0, strlen(plan) < 3);
	if (strlen(plan) < 3)
		ck_assert_int_ne(advice->left_out[AB_LIMIT_BREWS].change, ab_change_find(b.k, "x"));
}
END_TEST

/* A plan that is livable may hold what the best one does not: what it holds is kept out by nothing. */
START_TEST(what_is_planned_is_not_kept_out)
{
	brewery_open(&b,
	    HABIT("x", PREVENTS("warm", "0.8")) BUY("y", "50", PREVENTS("warm", "0.82"))
		HABIT("z", PREVENTS("husky", "0.05")));
	b.options.budget = 60;
	b.options.brews = 1;
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_item *x = brewery_item(&b, advice, "x");
	const struct ab_left_out *out = &advice->left_out[AB_LIMIT_BREWS];
	ck_assert(x->chosen && !x->in_best);
	ck_assert_double_gt(out->more, 0);
	ck_assert_int_eq(out->change, ab_change_find(b.k, "z"));
	ck_assert_double_le(out->more, brewery_item(&b, advice, "z")->gain * 1.0001);
}
END_TEST

/* ---- memory ---- */

START_TEST(out_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	long at = 0;

	brewery_open(&b, HABIT("x", COOLS WARM) BUY("y", "5", STALE "<needs change='x'/>") BUY("z", "50", HUSKY));
	brewery_bad_batches(&b, 3);
	b.options.redraws = 3;
	for (; st != AB_OK && at < 5000; at++) {
		struct ab_arena *arena = ab_arena_new();
		struct ab_advice *advice = NULL;
		ab_diag_init(&b.diag);
		ab_alloc_fail_at(at);
		st = ab_advise(b.k, b.cases, b.n, b.profile, &b.options, arena, &advice, &b.diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: status %d", at, (int)st);
		ck_assert((advice != NULL) == (st == AB_OK));
		ab_arena_free(arena);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 5);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("advice");
	TCase *tc = tcase_create("advice");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, setting, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, paper_is_no_batch);
	tcase_add_loop_test(tc, most_batches_decide, 0, sizeof kinds / sizeof *kinds);
	tcase_add_test(tc, noted_in_a_journal_is_owned);
	tcase_add_loop_test(tc, a_change_of_one_beer, 0, (int)(sizeof of_lines / sizeof *of_lines));
	tcase_add_loop_test(tc, what_helps_out, 0, sizeof ample / sizeof *ample);
	tcase_add_loop_test(tc, what_helps_out_leads, 0, sizeof before_less / sizeof *before_less);
	tcase_add_loop_test(tc, a_second_against_one_cause, 0, sizeof trials / sizeof *trials);
	tcase_add_test(tc, infeasible);
	tcase_add_test(tc, unknown_family);
	tcase_add_test(tc, limits_used);
	tcase_add_loop_test(tc, reasons, 0, sizeof words / sizeof *words);
	tcase_add_test(tc, because);
	tcase_add_loop_test(tc, care_of_most, 0, (int)(sizeof cared / sizeof *cared));
	tcase_add_test(tc, what_is_planned_is_not_kept_out);
	tcase_add_loop_test(tc, one_change_a_brew, 0, sizeof brewing / sizeof *brewing);
	tcase_add_loop_test(tc, a_check_first, 0, sizeof asks / sizeof *asks);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
