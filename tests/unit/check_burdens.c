/* check_burdens.c - burdens of brewing as a profile names them, on the project's own rules: by which words they are
 * found, and whom what eases them is for
 *
 * Only what must hold whatever the figures of the rules are is asserted: that a word finds its burden, that a thing
 * is offered or is not, and that the one rests on what was told.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/advice.h>
#include "rulecase.h"

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

static const struct ab_advice *advise(const char *inner)
{
	struct ab_advice_options options = {
		.budget = NAN, .minutes = NAN, .away_hours = NAN, .horizon_years = NAN, .running = NAN
	};
	const char *text =
	    ab_arena_printf(arena, "<brewery xmlns='urn:afterboil:profile:1'>\n%s</brewery>", inner);
	struct ab_profile *p = NULL;
	struct ab_advice *out = NULL;
	enum ab_status st = ab_profile_read_memory(text, strlen(text), "p.xml", arena, &p, &diag);

	if (st == AB_OK)
		st = ab_advise(rules, NULL, 0, p, &options, arena, &out, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s: %s", inner, ab_status_name(st), diag.text);
	return out;
}

/* From 1; 0 = it is not listed against that burden. */
static size_t place(const struct ab_advice *a, const char *chore, const char *change)
{
	for (size_t i = 0; i < a->n_easings; i++)
		for (size_t j = 0; strcmp(rules->chores[a->easings[i].chore].id, chore) == 0 && j < a->easings[i].n;
		     j++)
			if (a->items[a->easings[i].by[j].item].change == rules_change(change))
				return j + 1;
	return 0;
}

static const struct { const char *word, *chore; } words[] = {
	{ "inconsistent", "not-repeatable" }, { "Not Repeatable", "not-repeatable" },
	{ "can't make the same beer twice", "not-repeatable" }, { "hit-and-miss", "not-repeatable" },
	{ "different every time", "not-repeatable" }, { "wasting water", "chilling-water" },
	{ "drought", "chilling-water" }, { "water is metered", "chilling-water" }, { "lifting", "lifting" },
	{ "heavy carrying", "lifting" },
};

START_TEST(found_by_its_word)
{
	int at = ab_chore_word(rules, words[_i].word);

	ck_assert_msg(at >= 0 && strcmp(rules->chores[at].id, words[_i].chore) == 0, "%s: %s", words[_i].word,
	    at < 0 ? "none" : rules->chores[at].id);
}
END_TEST

#define NAMED(chore, more) "<trouble chore='" chore "'/>" more
#define USUAL(inner) "<usual>" inner "</usual>"
static const struct { const char *title, *chore, *change, *profile; bool offered; } rows[] = {
	{ "who has nothing written down", "not-repeatable", "write-it-down", NAMED("inconsistent", ""), true },
	{ "a scale for bottles", "not-repeatable", "weigh-priming", NAMED("inconsistent", "<packs into='bottles'/>"),
	    true },
	{ "priming is not of kegs", "not-repeatable", "weigh-priming", NAMED("inconsistent", "<packs into='keg'/>"),
	    false },
	{ "a mill is dear", "not-repeatable", "grain-mill", NAMED("inconsistent", "<money now='20'/>"), false },
	{ "a coil wastes", "chilling-water", "catch-chilling-water",
	    NAMED("drought", USUAL("<chill method='coil'/>")), true },
	{ "nothing flows round an ice bath", "chilling-water", "catch-chilling-water",
	    NAMED("drought", USUAL("<chill method='ice-bath'/>")), false },
	{ "ice water goes through a coil", "chilling-water", "pre-chill-ice-water",
	    NAMED("drought", "<owns change='immersion-chiller'/>"), true },
	{ "and wants one", "chilling-water", "pre-chill-ice-water", NAMED("drought", ""), false },
	{ "no chilling", "chilling-water", "no-chill-next-day", NAMED("drought", "<money now='60'/>"), true },
	{ "not for nothing", "chilling-water", "no-chill-next-day", NAMED("drought", "<money now='0'/>"), false },
	{ "but with a can that stands there", "chilling-water", "no-chill-next-day",
	    NAMED("drought", "<money now='0'/><owns thing='food-grade jerry can'/>"), true },
	{ "a large batch is halved", "lifting", "half-at-once", NAMED("lifting", "<batch-size volume='38 L'/>"), true },
	{ "a small one is not", "lifting", "half-at-once", NAMED("lifting", "<batch-size volume='8 L'/>"), false },
	{ "half is sooner hot, whatever is topped up", "slow-boil", "half-at-once",
	    NAMED("slow boil", "<batch-size volume='23 L'/>"), true },
	{ "a pump lifts", "lifting", "wort-pump", NAMED("lifting", "<money now='600'/>"), true },
	{ "within the money", "lifting", "wort-pump", NAMED("lifting", "<money now='50'/>"), false },
	{ "grain on a pulley", "lifting", "grain-pulley", NAMED("lifting", ""), true },
	{ "where there is grain", "lifting", "grain-pulley",
	    NAMED("lifting", USUAL("<recipe volume='20 L'><extract kind='liquid' amount='3 kg'/></recipe>")), false },
	{ "who mashes may mash in a bag", "long-brew-day", "bag-without-sparge",
	    NAMED("long brew day", "<owns change='all-grain'/>"), true },
	{ "who does not has nothing of it", "long-brew-day", "bag-without-sparge", NAMED("long brew day", ""), false },
};

START_TEST(offered_to)
{
	size_t at = place(advise(rows[_i].profile), rows[_i].chore, rows[_i].change);

	ck_assert_msg((at > 0) == rows[_i].offered, "%s: %s is at place %zu", rows[_i].title, rows[_i].change, at);
}
END_TEST

/* What can scald, fall or shock says so. */
static const struct { const char *change, *says; } cares[] = {
	{ "wort-pump", "scald" }, { "wort-pump", "residual-current" }, { "grain-pulley", "rated" },
	{ "grain-pulley", "never in plaster" }, { "bag-without-sparge", "hot" }, { "catch-chilling-water", "scald" },
	{ "slow-chilling-water", "scald" }, { "half-at-once", "bursts" }, { "no-chill-next-day", "botulism" },
	{ "no-chill-next-day", "made for food" },
};

START_TEST(cautions_stand_beside)
{
	const char *caution = rules->changes[rules_change(cares[_i].change)].caution;

	ck_assert_msg(caution != NULL && strstr(caution, cares[_i].says) != NULL, "%s: %s", cares[_i].change,
	    caution != NULL ? caution : "none");
}
END_TEST

int main(void)
{
	Suite *s = suite_create("burdens");
	TCase *tc = tcase_create("burdens");

	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, found_by_its_word, 0, (int)(sizeof words / sizeof *words));
	tcase_add_loop_test(tc, offered_to, 0, (int)(sizeof rows / sizeof *rows));
	tcase_add_loop_test(tc, cautions_stand_beside, 0, (int)(sizeof cares / sizeof *cares));
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
