/* check_unreckoned.c - what is told and no fact came of is said with what was missing, and no longer once it is
 * told too
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"

#include <stdio.h>
#include <string.h>
#include <afterboil/unreckoned.h>

/* lost: a journal in which the field tells nothing; why: part of the reason, NULL: it is not listed; with: what
 * makes it count. */
static const struct { const char *title, *lost, *attr, *why, *with; } rows[] = {
	{ "sugar for an untold volume", "<package into='bottles' priming='120 g' sugar='sucrose'/>", "priming",
	    "how much beer",
	  "<recipe volume='20 L'/>" },
	{ "a line without a pressure", "<serve line-length='2 m' line-bore='5 mm'/>", "line-length",
	    "the keg's pressure",
	  "<carbonate pressure='0.8 bar'/>" },
	{ "a line of no bore", "<serve line-length='2 m' pressure='0.8 bar'/>", "line-length", "how wide", NULL },
	{ "a bore of no line", "<serve line-bore='5 mm' pressure='0.8 bar'/>", "line-bore", "how long", NULL },
	{ "air over working beer", "<vessel kind='plastic' headspace='21 L'/>", "headspace", "drives its air out",
	    "<vessel second='yes' headspace='4 L'/>" },
	{ "warmth for no yeast", "<reading at='+1d' wort='27 C'/>", "wort", "yeast's class",
	    "<yeast class='clean-ale'/>" },
	{ "warmth of no hour", "<yeast class='clean-ale'/><reading wort='27 C'/>", "wort", "when it was read", NULL },
	{ "a pitch for no yeast", "<pitch temp='27 C'/>", "temp", "yeast's class", "<yeast class='clean-ale'/>" },
	{ "a lag of no yeast", "<lag first-signs='40 h'/>", "first-signs", "yeast's class",
	    "<yeast class='clean-ale'/>" },
	{ "yeast for an untold volume", "<yeast form='dry' amount='11 g'/><reading at='+0d' gravity='1.050 SG'/>",
	    "amount", "how much wort",
	  "<recipe volume='20 L'/>" },
	{ "yeast for an untold gravity", "<recipe volume='20 L'/><yeast form='dry' amount='11 g'/>", "amount",
	    "original gravity",
	  "<reading at='+0d' gravity='1.050 SG'/>" },
	{ "two yeasts, one of no amount", "<recipe volume='20 L' og='1.050 SG'/><yeast form='dry' amount='11 g'/>"
	  "<yeast form='dry'/>", "amount", "in one <yeast>", NULL },
	{ "one yeast on two lines", "<recipe volume='20 L' og='1.050 SG'/><yeast form='dry' amount='11 g'/>"
	  "<yeast judged='little'/>", "amount", NULL, NULL },
	{ "hops for an untold volume", "<dry-hop amount='100 g'/>", "amount", "how much beer",
	    "<recipe volume='20 L'/>" },
	{ "sun on bottles of no colour", "<package into='bottles'/><store for='20 d' light='sun'/>", "light",
	    "colour", NULL },
	{ "dark is dark", "<package into='bottles'/><store for='20 d' light='dark'/>", "light", NULL, NULL },
	{ "a warm store for no time", "<package into='bottles'/><store temp='25 C'/>", "temp", "how long", NULL },
	{ "a heat for no gas", "<store for='100 d' hottest='40 C'/>", "hottest",
	    "of the pressure", "<package into='keg'/><carbonate pressure='0.8 bar' temp='4 C'/>" },
	{ "a keg of no warmth", "<carbonate pressure='0.8 bar'/>", "pressure", "how cold", NULL },
	{ "a keg of no pressure", "<carbonate temp='4 C'/>", "temp", "its pressure", NULL },
	{ "one piece sanitised", "<gear item='hose' sanitiser='acid'/>", "sanitiser", "item=\"everything\"", NULL },
	{ "all sanitised", "<gear item='everything' sanitiser='acid'/>", "sanitiser", NULL, NULL },
	{ "one piece not: that is known", "<gear item='hose' sanitiser='none'/>", "sanitiser", NULL, NULL },
	{ "a dose of no label", "<gear item='hose' sanitiser='acid' dose='1.6 mL/L'/>", "dose", "label", NULL },
	{ "a cleaner and a sanitiser that wants no rinse",
	    "<gear item='keg' cleaned='caustic' sanitiser='acid' rinse='none'/>", "rinse", "line of its own",
	    "<gear item='keg' cleaned='caustic' rinse='none'/>" },
	{ "bleach wants one as well", "<gear item='keg' cleaned='caustic' sanitiser='bleach' rinse='none'/>",
	    "rinse", NULL, NULL },
	{ "and after a cleaner of which nothing is known", "<gear item='keg' cleaned='yes' sanitiser='bleach' "
	  "rinse='none'/>", "rinse", NULL, NULL },
	{ "a kettle", "<gear item='kettle' cleaned='caustic' sanitiser='acid' rinse='none'/>", "rinse", NULL, NULL },
	{ "no cleaner to rinse off", "<gear item='keg' cleaned='water' sanitiser='acid' rinse='none'/>",
	    "rinse", NULL, NULL },
	{ "foam that fell", "<looks at='+5d' krausen-fell='no'/>", "krausen-fell", "nothing is reckoned", NULL },
	{ "oats, and what else?", "<recipe><malt kind='oats'/></recipe>", "kind", "not all amounts", NULL },
	{ "oats, and nothing else", "<recipe complete='yes'><malt kind='oats'/></recipe>", "kind", NULL, NULL },
	{ "so much oats", "<recipe><malt kind='oats' share='100 %'/></recipe>", "kind", NULL, NULL },
	{ "a rest of no length", "<yeast class='lager'/><rest/>", "for", "how long", NULL },
	{ "a rest of no yeast", "<rest for='3 d'/>", "for", "yeast's class", "<yeast class='lager'/>" },
#define PARTS(one, two) "<tasting><found fault='a' extent='" one "'/><found fault='b' extent='" two "'/></tasting>"
	{ "first and last bottles", PARTS("first-half", "last-half"), "extent", "the first that is told", NULL },
	{ "one part", PARTS("last-half", "last-half"), "extent", NULL, NULL },
	{ "some, and the last", PARTS("some-bottles", "last-half"), "extent", NULL, NULL },
	{ "nothing told", "", "krausen-fell", NULL, NULL },
};

static const struct ab_unreckoned *find(const char *journal, const char *attr, struct ab_arena *arena)
{
	struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
	struct ab_unreckoned *out = ab_arena_alloc(arena, AB_UNRECKONED_MOST, sizeof *out);
	fact_compute(journal, NULL, arena, facts);
	size_t n = ab_unreckoned(fact_read(journal, arena), facts, out);
	ck_assert_uint_le(n, AB_UNRECKONED_MOST);
	for (size_t i = 1; i < n; i++)
		ck_assert_int_le(out[i - 1].line, out[i].line);
	for (size_t i = 0; i < n; i++)
		if (strcmp(out[i].attr, attr) == 0)
			return &out[i];
	return NULL;
}

/* What is usual has no name, and no day on which it was poured. */
START_TEST(a_stay_that_is_usual)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
	struct ab_unreckoned *out = ab_arena_alloc(arena, AB_UNRECKONED_MOST, sizeof *out);
	struct ab_batch batch = *fact_read("<store temp='30 C' for='4 mo'/>", arena);

	ck_assert_uint_eq(ab_unreckoned(&batch, facts, out), 1);
	ck_assert_str_eq(out[0].why, "how long it stood so warm is not told");
	batch.id = NULL;
	ck_assert_uint_eq(ab_unreckoned(&batch, facts, out), 1);
	ck_assert_ptr_nonnull(strstr(out[0].why, "a habit has no tasting"));
	ab_arena_free(arena);
}
END_TEST

START_TEST(says_what_is_missing)
{
	struct ab_arena *arena = ab_arena_new();
	const struct ab_unreckoned *lost = find(rows[_i].lost, rows[_i].attr, arena);
	ck_assert_msg((lost != NULL) == (rows[_i].why != NULL), "%s", rows[_i].title);
	if (lost != NULL) {
		ck_assert_msg(strstr(lost->why, rows[_i].why) != NULL, "%s: %s", rows[_i].title, lost->why);
		ck_assert_int_gt(lost->line, 0);
		ck_assert_int_lt(lost->slot, (int)ab_fact_defs()->n);
	}
	ab_arena_free(arena);
}
END_TEST

START_TEST(is_silent_once_it_counts)
{
	char both[512];
	struct ab_arena *arena = ab_arena_new();
	if (rows[_i].with != NULL) {
		snprintf(both, sizeof both, "%s%s", rows[_i].with, rows[_i].lost);
		ck_assert_msg(find(both, rows[_i].attr, arena) == NULL, "%s", rows[_i].title);
	}
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("told");
	tcase_add_test(tc, a_stay_that_is_usual);
	tcase_add_loop_test(tc, says_what_is_missing, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(tc, is_silent_once_it_counts, 0, sizeof rows / sizeof *rows);
	return fact_rows_run("unreckoned", NULL, 0, tc);
}
