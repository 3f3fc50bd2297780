/* check_report_profile.c - a profile said back: each thing as it was taken, and what comes of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/batchplan.h>
#include <afterboil/unreckoned.h>
#include "base/alloc.h"

/* 2031-03-03, a Monday, was day 22341. */
#define MONDAY (22341 * 86400.0)
#define BREWERY(attrs, inner) "<brewery xmlns='urn:afterboil:profile:1' " attrs ">\n" inner "\n</brewery>"

static struct ab_arena *arena;
static struct ab_item items[RC_CHANGES];
static struct ab_fact without[RC_FACTS];
static struct ab_unreckoned kept[2] = { { 9, "crash", NULL, "by itself no fact comes of it", -1 },
	{ 10, "gear", "dose", "what its label says is not known", -1 } };

static void setup(void)
{
	arena = ab_arena_new();
}

static void teardown(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

/* The tube is owned and stands in place of the box; the cellar is free to begin. */
static struct ab_advice advice(bool in_place)
{
	struct ab_advice a = rc_advice(items);
	a.n_batches = 0;
	items[RC_TUBE].owned = true;
	items[RC_TUBE].barred = NULL;
	items[RC_CELLAR].unused = true;
	items[RC_BOX].unused = true;
	items[RC_FRIDGE].owned = !in_place;
	items[RC_BOX].in_place = items[RC_FRIDGE].in_place = in_place ? &rc_rules.changes[RC_TUBE] : NULL;
	return a;
}

/* The rules, and two things: a tub, with which two of the changes cost less, and a stove. */
static struct ab_knowledge rules(struct ab_advice *a)
{
	static struct ab_thing things[] = { { .id = "tub", .title = "a tub" }, { .id = "stove", .title = "a stove" } };
	static struct ab_spares spares = { .thing = 0 };
	static struct ab_change changes[RC_CHANGES];
	struct ab_knowledge k = rc_rules;
	k.things = things;
	k.n_things = 2;
	memcpy(changes, rc_rules.changes, sizeof changes);
	changes[RC_BOX].spares = changes[RC_FRIDGE].spares = &spares;
	changes[RC_BOX].n_spares = changes[RC_FRIDGE].n_spares = 1;
	k.changes = changes;
	for (size_t i = 0; i < RC_CHANGES; i++)
		a->items[i].in_place = a->items[i].in_place == NULL ? NULL : &changes[RC_TUBE];
	items[RC_BOX].have = items[RC_TUBE].have = "you have a tub";
	return k;
}

static enum ab_status tell(const char *xml, const struct ab_look *look, bool in_place, char **text)
{
	struct ab_diag diag;
	struct ab_profile *p;
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_days days;
	struct ab_advice a = advice(in_place);
	struct ab_understood u = { .advice = &a, .usual = &c, .without = without, .unreckoned = kept, .n_unreckoned = 2,
		.days = &days };
	ab_diag_init(&diag);
	rc_case(&c, &d);
	rc_facts[RC_TEMP] = (struct ab_fact){ .origin = AB_ORIGIN_USUAL, .value = 20, .guess = true };
	rc_facts[RC_PLACE] = (struct ab_fact){ .origin = AB_ORIGIN_ASSUMED, .value = 2, .lines = { 7 } };
	rc_facts[RC_COUNT] = without[RC_COUNT] = (struct ab_fact){ .origin = AB_ORIGIN_ASSUMED, .value = 3 };
	ck_assert_msg(ab_profile_read_memory(xml, strlen(xml), "p.xml", arena, &p, &diag) == AB_OK, "%s", diag.text);
	u.profile = p;
	ck_assert_int_eq(ab_days_of_profile(p, MONDAY, true, &days, &u.days_told, &diag), AB_OK);
	struct ab_knowledge k = rules(&a);
	return ab_report_profile(&k, &u, look, text, &diag);
}

static const struct { const char *title, *xml; bool in_place; const char *want, *not_there; } rows[] = {
	{ "in use", BREWERY("", "<owns change='tube'/>"), false,
	    "  line 2, owns: \"A new tube\" (tube): owned and in use; not advised again\n", "nor is" },
	{ "and in place of another", BREWERY("", "<owns change='tube'/>"), true,
	    "owned and in use; not advised again; nor are \"A cold box\", \"A fridge\"\n", "more" },
	{ "not used", BREWERY("", "<owns change='cellar' unused='yes' guess='yes'/>"), false,
	    "\"Use the cellar\" (cellar): owned, not used: costs nothing (a guess)\n", "to start" },
	{ "not used, and costs something to run", BREWERY("", "<owns change='box' unused='yes'/>"), false,
	    "(box): owned, not used: costs nothing to start\n", "in use" },
	{ "nobody said whether", BREWERY("", "<owns change='box'/>"), false,
	    "(box): owned, and taken as not used, since it would help against what is wrong (unused=\"no\"", "in use" },
	{ "no change", BREWERY("", "\n<owns change='mill'/>"), false,
	    "line 3, owns: \"mill\" is no change of the rules: nothing comes of it", "owned" },
	{ "a thing, and what it makes cheaper here", BREWERY("", "<owns thing='tub' guess='yes'/>"), false,
	    "line 2, owns: a tub: makes cheaper \"A cold box\" (box) (a guess)\n", "A fridge" },
	{ "a thing of no use", BREWERY("", "<owns thing='stove'/>"), false,
	    "line 2, owns: a stove: no change is cheaper by it\n", "makes cheaper" },
	{ "a thing in use", BREWERY("", "<owns thing='tub' unused='no'/>"), false,
	    "line 2, owns: a tub, in use: nothing comes of it\n", "makes cheaper" },
	{ "no thing", BREWERY("", "<owns thing='mill'/>"), false,
	    "line 2, owns: \"mill\" is no thing of the rules: nothing comes of it\n", "makes cheaper" },
	{ "a cause", BREWERY("", "<trouble cause='warm'/>"), false,
	    "line 2, trouble: \"warm\" is the cause \"Too warm\"\n", "refuses" },
	{ "nothing", BREWERY("", "<trouble fault='nothing'/>"), false,
	    "line 2, trouble: nothing is wrong with the beer; believed as", "refuses" },
	{ "no cause", BREWERY("", "<trouble cause='wet'/>"), false,
	    "trouble: \"wet\" is nothing that the rules know: advice refuses it", "the cause" },
	{ "refused", BREWERY("", "<refuses change='box'/>"), false,
	    "refuses: \"A cold box\" (box): never advised", "no change of" },
	{ "a price", BREWERY("", "<price change='box' cost='40' per-year='3' time='20 min'/>"), false,
	    "price: \"A cold box\" (box): $40 to buy, $3 a year to run, 20 minutes a batch", "no change of" },
	{ "a price of one part", BREWERY("", "<price change='box' per-year='3'/>"), false,
	    "price: \"A cold box\" (box): $3 a year to run\n", "to buy" },
	{ "changed", BREWERY("", "<changed what='box' on='2031-02-01' line='pale'/>"), false,
	    "changed: \"A cold box\" (box): in force from the first batch of pale brewed on 2031-02-01 or later",
	    "no change of" },
	{ "changed in own words", BREWERY("", "<changed on='2031-02-01'>new hose</changed>"), false,
	    "changed: \"new hose\": in force from the first batch brewed on 2031-02-01 or later", " of pale" },
	{ "money", BREWERY("", "<money now='40' per-year='10'/>"), false,
	    "money now: at most $40 for changes\n", "free changes" },
	{ "money a year", BREWERY("", "<money now='40' per-year='10'/>"), false,
	    "at most $10 a year to run them", "brewed" },
	{ "no money", BREWERY("", "<money now='0'/>"), false,
	    "money now: nothing is bought; free changes only", "at most" },
	{ "time", BREWERY("", "<time per-batch='45 min' away='10 h'/>"), false,
	    "at most 45 minutes more a batch", "money" },
	{ "away from home", BREWERY("", "<time away='10 h'/>"), false,
	    "nobody at home up to 10 hours", "more a batch" },
	{ "none brewed", BREWERY("brewed-so-far='0'", ""), false, "brewed-so-far: none yet", "kept" },
	{ "six brewed", BREWERY("brewed-so-far='6'", ""), false,
	    "brewed-so-far: 6 batches; kept, and nothing is reckoned from it", "none yet" },
	{ "room, noise, fumes", BREWERY("space='drawer' noise-matters='yes' smoke-matters='no'", ""), false,
	    "space: drawer: what takes more room is left out\n  noise-matters: what is noisy is left out\n", "fumes" },
	{ "what for", BREWERY("goal='time'", ""), false, "goal: a shorter, easier brew day", "money" },
	{ "families", BREWERY("", "<brews family='wheat' share='60 %'/>"), false,
	    "brews: wheat, 60 % of the batches", "money" },
	/* days, from Monday 2031-03-03 on */
	{ "weeknights", BREWERY("", "<week free='weeknights, sat'/>"), false,
	    "week: days with time: Monday from 19:00, Tuesday from 19:00, Wednesday from 19:00, Thursday from 19:00, "
	    "Friday from 19:00, Saturday\n", "Sunday" },
	{ "a rota", BREWERY("", "<week free='every other sat from 2031-03-15' time='6 h' begins='9:30'/>"), false,
	    "days with time: Saturday (2031-03-15, 2031-03-29) from 09:30\n", "Monday" },
	{ "hours of them", BREWERY("", "<week free='sun' time='6 h' other='30 min' other-begins='20:30'/>"), false,
	    "week: 6 hours on such a day\n  line 2, week: 30 minutes on any other from 20:30\n", "Monday" },
	{ "a day long past", BREWERY("", "<week free='2030-01-01'/>"), false,
	    "week: no day with time in the four weeks from 2031-03-03 on", "Monday" },
	{ "away", BREWERY("", "<away days='2031-03-05..2031-03-09, 2031-04-01'/>"), false,
	    "line 2, away: not at home 2031-03-05 to 2031-03-09, 2031-04-01\n", "week" },
	{ "long over", BREWERY("", "<away days='2030-03-05'/>"), false,
	    "away: no day of them is to come, from 2031-03-03 on", "not at home" },
	/* habits */
	{ "what the habits amount to", BREWERY("", ""), false, "  usual: w.temp = 20 C (a guess)\n", "w.count" },
	{ "what the model takes for it, too, with its line", BREWERY("", ""), false,
	    "  line 7, usual: w.place = shed\n", "w.flag" },
	{ "what comes to nothing", BREWERY("", ""), false,
	    "line 9, usual: crash is told, but not reckoned: by itself no fact comes of it\n", "money" },
	{ "and a field of it", BREWERY("", ""), false,
	    "gear dose is told, but not reckoned: what its label says", "money" },
};

START_TEST(says_it_back)
{
	struct ab_look look = rc_look(AB_TEXT);
	char *text = NULL;
	ck_assert_int_eq(tell(rows[_i].xml, &look, rows[_i].in_place, &text), AB_OK);
	rc_has(rows[_i].title, text, "How the profile was understood\n");
	rc_has(rows[_i].title, text, rows[_i].want);
	rc_lacks(rows[_i].title, text, rows[_i].not_there);
	ab_report_free(text);
}
END_TEST

START_TEST(in_us_units)
{
	struct ab_look look = rc_look(AB_TEXT);
	char *text = NULL;
	look.us_units = true;
	ck_assert_int_eq(tell(BREWERY("", ""), &look, false, &text), AB_OK);
	rc_has("Fahrenheit", text, "usual: w.temp = 68 F (a guess)");
	ab_report_free(text);
}
END_TEST

/* Nothing is lost or leaked, whichever allocation fails. */
START_TEST(short_memory)
{
	const char *xml = BREWERY("", "<owns change='tube'/><owns thing='tub'/><week free='sat'/>");
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_days days;
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_diag diag;
	struct ab_profile *p;
	struct ab_advice a = advice(true);
	struct ab_understood u = { .advice = &a, .usual = &c, .without = without, .days = &days };
	struct ab_knowledge known = rules(&a);
	enum ab_status st = AB_ENOMEM;
	ab_diag_init(&diag);
	rc_case(&c, &d);
	ck_assert_int_eq(ab_profile_read_memory(xml, strlen(xml), "p.xml", arena, &p, &diag), AB_OK);
	u.profile = p;
	ck_assert_int_eq(ab_days_of_profile(p, MONDAY, true, &days, &u.days_told, &diag), AB_OK);
	for (long k = 0; st != AB_OK && k < 500; k++) {
		char *text = NULL;
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_report_profile(&known, &u, &look, &text, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || (st == AB_ENOMEM && text == NULL), "allocation %ld", k);
		ab_report_free(text);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("report_profile");
	TCase *tc = tcase_create("report_profile");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, says_it_back, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, in_us_units);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
