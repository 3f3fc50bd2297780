/* check_taste_entry.c - tastings in plain words become elements, and read back as told
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/taste_entry.h>

#include <check.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"

/* In the order that ab_fault_word searches: by word. */
static struct ab_fault faults[] = { { .id = "diacetyl", .title = "Butter" }, { .id = "acetaldehyde",
    .title = "Green apple" },
	{ .id = "sour-lactic", .title = "Sour" }, { .id = "salt-pepper", .title = "Salt and pepper" } };
static struct ab_spoken spoken[] = { { "buttery", 0 }, { "diacetyl", 0 }, { "green apple", 1 }, { "sour", 2 },
    { "very dry", 3 } };
static const struct ab_knowledge k = { .faults = faults, .n_faults = 4, .spoken = spoken, .n_spoken = 5 };

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_entry *entry;

static void setup(void)
{
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
}

static void teardown(void)
{
	ab_arena_free(arena);
}

static enum ab_status say(const char *words, const struct ab_tasting_more *more)
{
	static const struct ab_tasting_more none;
	struct ab_when when = { .known = true, .s = 0 };

	ab_diag_init(&diag);
	return ab_tasting_read(&k, words, more != NULL ? more : &none, &when, arena, &entry, &diag);
}

#define T "<tasting at=\"1970-01-01T00:00\">"
#define C "<tasting at=\"1970-01-01T00:00\" complete=\"yes\">"
#define F(id, n) "<found fault=\"" id "\" intensity=\"" n "\"/>"
#define X(id, n, who) "<found fault=\"" id "\" intensity=\"" n "\" extent=\"" who "\"/>"
#define A(id) "<absent fault=\"" id "\"/>"
static const struct { const char *words, *element; } rows[] = {
	{ "buttery 3", T F("diacetyl", "3") "</tasting>" },
	{ "buttery 3, green apple 1, no sour",
	    T F("diacetyl", "3") F("acetaldehyde", "1") A("sour-lactic") "</tasting>" },
	{ "buttery", T F("diacetyl", "3") "</tasting>" },
	{ "Buttery=5", T F("diacetyl", "5") "</tasting>" },
	{ "slightly sour and strong green apple.", T F("sour-lactic", "1") F("acetaldehyde", "4") "</tasting>" },
	{ "nothing sour, slightly buttery", T A("sour-lactic") F("diacetyl", "1") "</tasting>" },
	{ "not sour, without green apple", T A("sour-lactic") A("acetaldehyde") "</tasting>" },
	{ "nothing", C "</tasting>" },
	{ "clean, no sour", C A("sour-lactic") "</tasting>" },
	{ "salt and pepper 2 and buttery and sour",
	    T F("salt-pepper", "2") F("diacetyl", "3") F("sour-lactic", "3") "</tasting>" },
	{ "buttery\tAND salt  and pepper", T F("diacetyl", "3") F("salt-pepper", "3") "</tasting>" },
	{ "it tastes like butter; also sour (2/5) & green apple: 4", T F("diacetyl", "3") F("sour-lactic", "2")
	    F("acetaldehyde", "4") "</tasting>" },
	{ "5 buttery, a bit sour", T F("diacetyl", "5") F("sour-lactic", "2") "</tasting>" },
	{ "very dry", T F("salt-pepper", "3") "</tasting>" },   /* the word's own "very" is no strength */
	{ "very sour 2", T F("sour-lactic", "2") "</tasting>" },
	{ "no hint of sour, without a trace of butter", T A("sour-lactic") A("diacetyl") "</tasting>" },
	/* fillers, strengths, remarks, slips of the hand, one fault by two names */
	{ "way too sour", T F("sour-lactic", "4") "</tasting>" },
	{ "bit sour", T F("sour-lactic", "2") "</tasting>" }, { "still buttery", T F("diacetyl", "3") "</tasting>" },
	{ "still a little buttery", T F("diacetyl", "2") "</tasting>" },
	{ "butter like diacetyl", T F("diacetyl", "3") "</tasting>" },
	{ "much better, just a touch of butter", T F("diacetyl", "1") "<note>much better</note></tasting>" },
	{ "good, slightly sour at the end", T F("sour-lactic", "1") "<note>good</note></tasting>" },
	{ "clean and really nice", C "</tasting>" },
	{ "really nice", C "</tasting>" }, { "no off flavours", C "</tasting>" },
	{ "buttrey, gren apple 2", T F("diacetyl", "3") F("acetaldehyde", "2") "</tasting>" },
	{ "no butter any more", T A("diacetyl") "</tasting>" },
	{ "almost no butter left", T F("diacetyl", "1") "</tasting>" },
	{ "buttery 2, diacetyl 4", T F("diacetyl", "4") "</tasting>" },
	{ "no sour, nice", T A("sour-lactic") "<note>nice</note></tasting>" },
	{ "kinda sour", T F("sour-lactic", "2") "</tasting>" },
	{ "sorta buttery", T F("diacetyl", "2") "</tasting>" },
	{ "sort of sour, kind of buttery", T F("sour-lactic", "2") F("diacetyl", "2") "</tasting>" },
	{ "pretty sour", T F("sour-lactic", "3") "</tasting>" },
	{ "rather sour, fairly buttery", T F("sour-lactic", "3") F("diacetyl", "3") "</tasting>" },
	{ "a tad buttery", T F("diacetyl", "1") "</tasting>" },
	{ "a bit too sour", T F("sour-lactic", "2") "</tasting>" },
	{ "super sour when opened", T F("sour-lactic", "4") "</tasting>" },
	{ "no butter on the palate", T A("diacetyl") "</tasting>" },
	{ "no smell of butter any more", T A("diacetyl") "</tasting>" },
	{ "bit sour, otherwise nice", T F("sour-lactic", "2") "<note>nice</note></tasting>" },
	{ "pretty good", C "</tasting>" },
	{ "nice but a tad sour", T F("sour-lactic", "1") "<note>nice</note></tasting>" },
	{ "sour BUT buttery", T F("sour-lactic", "3") F("diacetyl", "3") "</tasting>" },
	/* who has it, and that there is no more */
	{ "buttery 3, one bottle only", T X("diacetyl", "3", "some-bottles") "</tasting>" },
	{ "buttery in some bottles", T X("diacetyl", "3", "some-bottles") "</tasting>" },
	{ "only from the tap: buttery 2", T X("diacetyl", "2", "tap-only") "</tasting>" },
	{ "sour 2 from the tap only, butter in every bottle", T X("sour-lactic", "2", "tap-only")
	    X("diacetyl", "3", "every-bottle") "</tasting>" },
	{ "sour 2, buttery, not in every bottle",
	    T X("sour-lactic", "2", "some-bottles") X("diacetyl", "3", "some-bottles") "</tasting>" },
	{ "only in one bottle, no butter, sour", T A("diacetyl") X("sour-lactic", "3", "some-bottles") "</tasting>" },
	{ "a bit sour in the first glass only", T X("sour-lactic", "2", "first-pour-only") "</tasting>" },
	{ "Sour in SOME bottles 4", T X("sour-lactic", "4", "some-bottles") "</tasting>" },
	{ "sour 1, nothing else", C F("sour-lactic", "1") "</tasting>" }, { "nothing else", C "</tasting>" },
	{ "no sour, otherwise clean", C A("sour-lactic") "</tasting>" },
	{ "buttery 3 and nothing more, some bottles only", C X("diacetyl", "3", "some-bottles") "</tasting>" },
	{ "sour, no other faults", C F("sour-lactic", "3") "</tasting>" },
	{ "  buttery 2 ,, sour 1 ,", T F("diacetyl", "2") F("sour-lactic", "1") "</tasting>" },
};

START_TEST(understood)
{
	ck_assert_msg(say(rows[_i].words, NULL) == AB_OK, "%s: %s", rows[_i].words, diag.text);
	ck_assert_str_eq(entry->element, rows[_i].element);
}
END_TEST

static const struct { const char *words, *says; } refused[] = {
	/* one word nobody knows: nothing is taken, and the rest comes back with it as a note */
	{ "buttery 3, loud, no sour", "Example: buttery 3, no sour --note \"loud\" (" },
	{ "Loud and sour 2 and purple", "Example: sour 2 --note \"Loud, purple\" (" },
	{ "loud, nice", "Example: nice --note \"loud\" (" },
	{ "loud, purple", "Example: buttery 3, green apple 1, no sour (" }, { "loud, sour 9", "Example: buttery 3," },
	{ "", "what was tasted" }, { ",", "what was tasted" }, { "loud", "no fault" }, { "buttery 0", "from 1" },
	{ "buttery 6", "from 1" },
	{ "buttery 12", "from 1" }, { "buttery (7/5)", "from 1" }, { "not very sour", "\"not very sour\" is no fault" },
	{ "not too sour", "no fault" }, { "loud and sour", "\"loud\" is no fault" }, { "and", "no fault" },
	{ "sour and", "\"sour and\" is no fault" }, { "nothing, sour", "which of the two" },
	{ "clean, sour", "which of the two" }, { "sour, no sour", "which of the two" }, { "better", "what was tasted" },
	{ "no butter in some bottles", "no fault" }, { "loud in one bottle", "no fault" },
	{ "nothing in some bottles", "no fault" }, { "better in some bottles", "no fault" },
	{ "nothing else in one bottle", "no fault" }, { "one bottle only", "what was tasted" },
	{ "sour, one bottle only, every bottle", "told twice" },
	{ "sour, one bottle of four", "no fault" }, { "sour like butter", "no fault" },
	{ "less sour than before", "no fault" }, { "buttre", "nearest is \"" }, { "sour like loud", "no fault" },
	{ "buttery 3 sour 2", "no fault" }, { "no", "no fault" },
};
START_TEST(not_understood)
{
	ck_assert_int_eq(say(refused[_i].words, NULL), AB_EUSAGE);
	ck_assert_ptr_null(entry);
	ck_assert_msg(strstr(diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].words, diag.text);
}
END_TEST

/* A phrase longer than any word is refused whole, wherever its known words stand. */
START_TEST(too_long_a_phrase)
{
	char words[600];

	for (size_t i = 0; i < sizeof words - 1; i++)
		words[i] = i < 6 ? "buttery"[i] : i == 6 ? 'y' : ' ';
	words[sizeof words - 2] = 'x';
	words[sizeof words - 1] = '\0';
	ck_assert_int_eq(say(words, NULL), AB_EUSAGE);
	words[7] = ',';
	ck_assert_int_eq(say(words, NULL), AB_EUSAGE);
	words[sizeof words - 2] = ' ';
	ck_assert_int_eq(say(words, NULL), AB_OK);
	ck_assert_str_eq(entry->element, T F("diacetyl", "3") "</tasting>");
}
END_TEST

START_TEST(the_rest)
{
	const struct ab_tasting_more more = { true, "A \"B\" <c>", "32/50", "x & y", "splashed & \"late\"",
		"cooler & slower" };

	ck_assert_int_eq(say("sour", &more), AB_OK);
	ck_assert_str_eq(entry->element,
	    "<tasting at=\"1970-01-01T00:00\" by=\"A &quot;B&quot; &lt;c&gt;\" complete=\"yes\" score=\"32\" "
	    "score-of=\"50\" "
	    "mark=\"splashed &amp; &quot;late&quot;\">" F(
		"sour-lactic", "3") "<note>x &amp; y</note><next-time>cooler &amp; slower</next-time></tasting>");
	static const char *const bad[] = { "", "32", "/50", "32/", "32/0", "a/b", "32/50/60", "32/50\"/>" };
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		const struct ab_tasting_more wrong = { .score = bad[i] };
		ck_assert_msg(say("sour", &wrong) == AB_EUSAGE, "%s", bad[i]);
	}
}
END_TEST

START_TEST(short_of_memory)
{
	const struct ab_tasting_more more = { true, "me", "32/50", "note", "splashed", "next" };
	enum ab_status st = AB_ENOMEM;
	long i = 0;

	for (; i < 200 && st != AB_OK; i++) {
		ab_alloc_fail_at(i);
		st = say("buttery 3, no sour", &more);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || (st == AB_ENOMEM && entry == NULL));
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(i, 2);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("tasting");
	TCase *t = tcase_create("tasting");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_loop_test(t, understood, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(t, not_understood, 0, sizeof refused / sizeof *refused);
	tcase_add_test(t, too_long_a_phrase);
	tcase_add_test(t, the_rest);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
