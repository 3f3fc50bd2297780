/* check_entry.c - lines of plain words become elements, and elements read back; what is not understood is said
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"

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

static enum ab_status say(const char *words, const char *at)
{
	struct ab_when when = { 0 };
	char why[200];

	ab_diag_init(&diag);
	if (at != NULL)
		ck_assert(ab_when_read(at, &when, why, sizeof why));
	return ab_entry_read(words, &when, arena, &entry, &diag);
}

static enum ab_status ignore(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

/* The journal that holds nothing but this element. */
static struct ab_batch *read_back(const char *element)
{
	struct ab_batch *batch = NULL;
	char text[4000];

	snprintf(text, sizeof text, "<batch xmlns=\"urn:afterboil:journal:1\" id=\"a\" brewed=\"2031-03-07\">%s</batch>", element);
	ab_diag_init(&diag);
	ck_assert_msg(ab_journal_read_memory(text, strlen(text), "t", NULL, arena, ignore, &batch, &diag) == AB_OK, "%s: %s", element, diag.text);
	ck_assert_ptr_nonnull(batch);
	return batch;
}

#define AT "2031-03-08T19:30"
static const struct { const char *words, *element; } rows[] = {
	{ "wort 19.5 C", "<reading at=\"" AT "\" wort=\"19.5 C\"/>" },
	{ "Wort at 67F, room 70 F", "<reading at=\"" AT "\" wort=\"67F\" room=\"70 F\"/>" },
	{ "beer about 20 C", "<reading at=\"" AT "\" wort=\"20 C\" guess=\"yes\"/>" },
	{ "gravity 1.020 SG at 22 C", "<reading at=\"" AT "\" gravity=\"1.020 SG\" sample=\"22 C\"/>" },
	{ "gravity 1.012", "<reading at=\"" AT "\" gravity=\"1.012 SG\"/>" },
	{ "SG 11.9 P by refractometer corrected", "<reading at=\"" AT "\" gravity=\"11.9 P\" instrument=\"refractometer\" corrected=\"yes\"/>" },
	{ "dry hop 60 g opened lid", "<dry-hop at=\"" AT "\" amount=\"60 g\" opened=\"open-lid\"/>" },
	{ "dry hops 2 oz through port for 3 d loose", "<dry-hop at=\"" AT "\" amount=\"2 oz\" opened=\"port\" contact=\"3 d\" loose=\"yes\"/>" },
	{ "racked into purged keg", "<transfer at=\"" AT "\" target=\"purged\"/>" },
	{ "racked by siphon into liquid purged keg, splashed", "<transfer at=\"" AT "\" how=\"siphon\" target=\"liquid-purged\" splashed=\"yes\"/>" },
	{ "racked", "<transfer at=\"" AT "\"/>" },
	{ "crashed to 2 C under gas bag", "<crash at=\"" AT "\" temp=\"2 C\" airlock=\"gas-bag\"/>" },
	{ "cold crash to 35 F", "<crash at=\"" AT "\" temp=\"35 F\"/>" },
	{ "rest at 21 C for 3 d", "<rest at=\"" AT "\" temp=\"21 C\" for=\"3 d\"/>" },
	{ "pitched at 18 C", "<pitch at=\"" AT "\" temp=\"18 C\"/>" },
	{ "yeast clean-ale dry 11 g", "<yeast class=\"clean-ale\" form=\"dry\" amount=\"11 g\"/>" },
	{ "aerated by shaking for 2 min", "<aerate method=\"shake\" time=\"2 min\"/>" },
	{ "first signs after 9 h", "<lag first-signs=\"9 h\"/>" },
	{ "cooled in 25 min by coil to 20 C", "<chill to-pitch=\"25 min\" method=\"coil\" end-temp=\"20 C\"/>" },
	{ "boiled for 60 min lid off", "<boil time=\"60 min\" lid=\"off\"/>" },
	{ "bottled with 120 g table sugar at 1.011 SG", "<package at=\"" AT "\" into=\"bottles\" priming=\"120 g\" sugar=\"sucrose\" gravity=\"1.011 SG\"/>" },
	{ "kegged into purged keg, purged 5 times to 2 bar", "<package at=\"" AT "\" into=\"keg\" filled=\"purged\" purges=\"5\" purge-pressure=\"2 bar\"/>" },
	{ "carbonated at 0.9 bar and 5 C", "<carbonate pressure=\"0.9 bar\" temp=\"5 C\"/>" },
	{ "stored at 12 C in the cellar", "<store from=\"" AT "\" temp=\"12 C\" light=\"dark\"/>" },
	{ "sanitised hose with acid for 2 min", "<gear item=\"hose\" sanitiser=\"acid\" contact=\"2 min\"/>" },
	{ "cleaned bucket with percarbonate", "<gear item=\"fermenter\" cleaned=\"percarbonate\"/>" },
	{ "opened for 2 min", "<opened at=\"" AT "\" for=\"2 min\"/>" },
	{ "note smells of apples, <really> & \"so\"", "<note>" AT ": smells of apples, &lt;really&gt; &amp; &quot;so&quot;</note>" },
	{ "changed cap on foam, each bottle", "<change>cap on foam, each bottle</change>" },
	{ "fined with gelatine", "<fining at=\"" AT "\" name=\"gelatine\"/>" },
	{ "ph 4.4", "<reading at=\"" AT "\" ph=\"4.4\"/>" },
};

/* Attributes in whatever order: the text is that of the slots as they were said, so it is compared as a set. */
static int attrs(const char *element, char found[][80])
{
	int n = 0;

	for (const char *p = strchr(element, ' '); p != NULL && n < 16; n++) {
		const char *quote = strchr(p, '"'), *end = quote != NULL ? strchr(quote + 1, '"') : NULL;
		if (end == NULL)
			break;
		snprintf(found[n], 80, "%.*s", (int)(end - p), p);
		p = end[1] == ' ' ? end + 1 : NULL;
	}
	qsort(found, (size_t)n, 80, (int (*)(const void *, const void *))strcmp);
	return n;
}

START_TEST(understood)
{
	char have[16][80], want[16][80];

	ck_assert_msg(say(rows[_i].words, AT) == AB_OK, "%s: %s", rows[_i].words, diag.text);
	if (strstr(rows[_i].element, "</") != NULL) {
		ck_assert_str_eq(entry->element, rows[_i].element);
	} else {
		int n = attrs(entry->element, have);
		ck_assert_msg(n == attrs(rows[_i].element, want), "%s", entry->element);
		for (int i = 0; i < n; i++)
			ck_assert_str_eq(have[i], want[i]);
	}
	read_back(entry->element);
	ck_assert_ptr_nonnull(strchr(entry->echo, entry->echo[0]));
	ck_assert_uint_gt(strlen(entry->echo), 3);
}
END_TEST

static const struct { const char *words, *says; } refused[] = {
	{ "", "begins nothing" }, { "flew to the moon", "begins nothing" }, { "wort", "nothing is said" }, { "wort 20", "has no place" },
	{ "wort 20 L", "has no place" }, { "gravity 1.020 SG by telescope", "has no place" }, { "dry hop 60 g 40 g", "has no place" },
	{ "bottled with love", "has no place" }, { "rest at 21 C at 22 C", "has no place" }, { "note", "nothing is said" },
	{ "wort <b>", "has no place" }, { "kegged purged five times", "has no place" },
};
START_TEST(not_understood)
{
	ck_assert_int_eq(say(refused[_i].words, AT), AB_EUSAGE);
	ck_assert_ptr_null(entry);
	ck_assert_msg(strstr(diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].words, diag.text);
}
END_TEST

/* Every example that help and messages show is understood, and the journal reads it. */
START_TEST(examples)
{
	size_t n = 0;

	for (; ab_entry_example(n) != NULL; n++) {
		ck_assert_msg(say(ab_entry_example(n), AT) == AB_OK, "%s: %s", ab_entry_example(n), diag.text);
		read_back(entry->element);
	}
	ck_assert_uint_gt(n, 20);
}
END_TEST

START_TEST(without_a_time)
{
	ck_assert_int_eq(say("wort 20 C", NULL), AB_OK);
	ck_assert_str_eq(entry->element, "<reading wort=\"20 C\"/>");
	ck_assert_int_eq(say("note good", NULL), AB_OK);
	ck_assert_str_eq(entry->element, "<note>good</note>");
}
END_TEST

START_TEST(values_are_read_back)
{
	ck_assert_int_eq(say("gravity 1.020 SG at 22 C by hydrometer", AT), AB_OK);
	struct ab_reading *r = read_back(entry->element)->readings.items;
	ck_assert_double_eq_tol(r->gravity_sg.v, 1.020, 1e-12);
	ck_assert_double_eq_tol(r->sample_c.v, 22, 1e-12);
	ck_assert_int_eq(r->instrument, 1);
	ck_assert(r->at.known);
	ck_assert_int_eq(say("wort about 68 F", AT), AB_OK);
	r = read_back(entry->element)->readings.items;
	ck_assert_double_eq_tol(r->wort_c.v, 20, 1e-12);
	ck_assert(r->mark.guess);
}
END_TEST

START_TEST(too_long)
{
	char words[AB_ENTRY_LIMIT + 10];

	memset(words, 'x', sizeof words);
	memcpy(words, "note ", 5);
	words[sizeof words - 1] = '\0';
	ck_assert_int_eq(say(words, AT), AB_ELIMIT);
	words[AB_ENTRY_LIMIT] = '\0';
	ck_assert_int_eq(say(words, AT), AB_OK);
}
END_TEST

/* A note of many words keeps them all; a reading of many words is refused. */
START_TEST(many_words)
{
	char words[600] = "note";

	for (int i = 0; i < 100; i++)
		strcat(words, " ab");
	ck_assert_int_eq(say(words, NULL), AB_OK);
	ck_assert_uint_eq(strlen(entry->element), strlen("<note></note>") + 100 * 3 - 1);
	memcpy(words, "room", 4);
	ck_assert_int_eq(say(words, NULL), AB_EUSAGE);
}
END_TEST

START_TEST(control_characters)
{
	ck_assert_int_eq(say("note a\033[31mb\xff", NULL), AB_OK);
	ck_assert_str_eq(entry->element, "<note>a?[31mb?</note>");
}
END_TEST

START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;

	for (long i = 0; i < 400 && st != AB_OK; i++) {
		ab_alloc_fail_at(i);
		st = say("racked by siphon into liquid purged keg, splashed", AT);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || (st == AB_ENOMEM && entry == NULL) || st == AB_EUSAGE);
		ck_assert_int_ne(st, AB_EUSAGE);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("entry");
	TCase *t = tcase_create("entry");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_loop_test(t, understood, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(t, not_understood, 0, sizeof refused / sizeof *refused);
	tcase_add_test(t, examples);
	tcase_add_test(t, without_a_time);
	tcase_add_test(t, values_are_read_back);
	tcase_add_test(t, too_long);
	tcase_add_test(t, many_words);
	tcase_add_test(t, control_characters);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
