/* check_staling.c - oxygen x days at 20 C, and the word for it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include "process/staling.h"
#include "process/storage.h"
#include "rulecase.h"

/* neck 40 mm of 355 mL: 8.80 mg/L; filled from the bottom 0.25; one untold move 0.8; yeast at rest takes a
 * tenth: 8.865 left, and 60 days through the cap 0.337 */
#define BOTTLED "<recipe volume='20 L'/><package at='2031-03-11T18:00' into='bottles' bottle='longneck' " \
	"size='355 mL' neck='40 mm' wand='yes' " \
	"cap-on-foam='no' cap='plain'/>"
#define LEFT ((0.8 + 0.25 + 8.8) * 0.9)
#define CAPS(days) (0.005621 * (days))
#define STORED(days, temp) "<store for='" days "' temp='" temp "'/>"

static const struct fact_row rows[] = {
	{ .title = "no storage told", BOTTLED, "stale.dose", AB_SILENT },
	{ .title = "no package told", STORED("60 d", "20 C"), "stale.dose", AB_SILENT },
	{ .title = "sixty days at 20 C", BOTTLED STORED("60 d", "20 C"), "stale.dose", (LEFT +
	  CAPS(60) / 2) * 60, 1, NULL, AB_ORIGIN_ASSUMED },
	{ .title = "sixty days at 4 C", BOTTLED STORED("60 d", "4 C"), "stale.dose", (LEFT +
	  CAPS(60) / 2) * 60 * 0.28324, 0.5 },
	{ .title = "sixty days at 30 C", BOTTLED STORED("60 d", "30 C"), "stale.dose", (LEFT +
	  CAPS(60) / 2) * 60 * 2.2, 3 },
	{ .title = "outlook of an untold family", BOTTLED STORED("60 d", "20 C"), "stale.outlook", 0, 0,
	  .word = "stale" },
	{ .title = "hoppy beer", "family='pale-hoppy'", "stale.outlook", AB_SILENT },
	{ .title = "a day", BOTTLED STORED("1 d", "20 C"), "stale.outlook", 0, 0, .word = "fresh" },
	{ .title = "a month", BOTTLED STORED("30 d", "20 C"), "stale.outlook", 0, 0, .word = "fading" },
	{ .title = "half a year", BOTTLED STORED("180 d", "20 C"), "stale.outlook", 0, 0, .word = "long-stale" },
	{ .title = "half a year in the cold", BOTTLED STORED("180 d", "0 C"), "stale.outlook", 0, 0,
	  .word = "stale" },
};

START_TEST(colder_is_never_staler)
{
	for (double t = -1; t < 40; t++)
		for (double q = 2; q <= 3; q += 0.1) {
			double colder = ab_stale_dose(3, 1, ab_equivalent_days(60, t, q)),
			    warmer = ab_stale_dose(3, 1, ab_equivalent_days(60, t + 1, q));
			ck_assert_double_lt(colder, warmer);
			for (size_t i = 0; i < fact_norms.n_freshness; i++)
				if (fact_norms.freshness[i].fading > 0)
					ck_assert_int_le(ab_stale_outlook(colder, 60, &fact_norms.freshness[i]),
					    ab_stale_outlook(warmer, 60, &fact_norms.freshness[i]));
		}
}
END_TEST

START_TEST(more_oxygen_is_never_fresher)
{
	for (double mgl = 0; mgl < 30; mgl += 0.5) {
		ck_assert_double_le(ab_stale_dose(mgl, 1, 30), ab_stale_dose(mgl + 0.5, 1, 30));
		ck_assert_double_lt(ab_stale_dose(mgl, 1, 30), ab_stale_dose(mgl, 1.5, 30));
		ck_assert_double_le(ab_stale_dose(mgl, 1, 30), ab_stale_dose(mgl + 1, 0,
		    30));   /* early counts more than late */
	}
}
END_TEST

static const struct { const char *title; double dose, days; int family, word; } words[] = {
	{ "nothing", 0, 0, 2, AB_OUTLOOK_FRESH }, { "hoppy, just under", 59.9, 10, 1, AB_OUTLOOK_FRESH },
	{ "hoppy", 60, 10, 1, AB_OUTLOOK_FADING },
	{ "hoppy, stale", 150, 10, 1, AB_OUTLOOK_STALE }, { "hoppy, long", 500, 10, 1, AB_OUTLOOK_LONG_STALE },
	{ "dark bears it", 299, 10, 4, AB_OUTLOOK_FRESH }, { "strong bears it", 150, 10, 8, AB_OUTLOOK_FRESH },
	{ "lager", 150, 10, 2, AB_OUTLOOK_FADING }, { "no oxygen, but years", 0, 800, 1, AB_OUTLOOK_STALE },
};

START_TEST(outlook)
{
	const struct ab_freshness_norm *norm = &fact_norms.freshness[words[_i].family - 1];

	ck_assert_msg(ab_stale_outlook(words[_i].dose, words[_i].days, norm) == words[_i].word, "%s",
	    words[_i].title);
}
END_TEST

/* Rules that say nothing of the family: the dose is known, no word is said of it. */
START_TEST(silent_rules_say_nothing)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
	struct ab_freshness_norm none[9] = { { .fading = 0 } };
	struct ab_norms norms = fact_norms;
	struct ab_diag diag;

	for (size_t n = 0; n <= 9; n += 9) {
		norms.freshness = none;
		norms.n_freshness = n;
		ab_diag_init(&diag);
		ck_assert_int_eq(ab_facts_compute(fact_read(BOTTLED STORED("60 d", "20 C"), arena), NULL, &norms,
		    arena, facts, &diag), AB_OK);
		ck_assert(AB_FACT_KNOWN(fact_get(facts, "stale.dose")));
		ck_assert(!AB_FACT_KNOWN(fact_get(facts, "stale.outlook")));
	}
	ab_arena_free(arena);
}
END_TEST

/* The project's own rules: a scale for each family, and the longer a beer is known to bear it, the higher. */
START_TEST(every_family_has_a_scale)
{
	rules_read();
	const struct ab_norms *norms = &rules->norms;
	ck_assert_uint_eq(norms->n_freshness, 9);
	for (size_t i = 0; i < norms->n_freshness; i++) {
		const struct ab_freshness_norm *norm = &norms->freshness[i];
		ck_assert_ptr_null(i + 1 < norms->n_freshness ? NULL : ab_words_family[i + 1]);
		ck_assert_ptr_nonnull(norm->source);
		ck_assert_int_eq(ab_stale_outlook(0, 0, norm), AB_OUTLOOK_FRESH);
		ck_assert_int_eq(ab_stale_outlook(1e5, 0, norm), AB_OUTLOOK_LONG_STALE);
	}
	/* hoppy pale beer goes first, dark and strong beers last: what every handbook says of keeping beer */
	enum { HOPPY, LAGER, AMBER, DARK, STRONG = 7 };
	ck_assert_double_lt(norms->freshness[HOPPY].fading, norms->freshness[LAGER].fading);
	ck_assert_double_lt(norms->freshness[LAGER].fading, norms->freshness[AMBER].fading);
	ck_assert_double_lt(norms->freshness[AMBER].fading, norms->freshness[DARK].fading);
	ck_assert_double_le(norms->freshness[AMBER].fading, norms->freshness[STRONG].fading);
	ck_assert_str_eq(ab_words_outlook[AB_OUTLOOK_LONG_STALE], "long-stale");
	ck_assert_ptr_null(ab_words_outlook[AB_OUTLOOK_LONG_STALE + 1]);
	rules_drop();
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("dose and outlook");

	tcase_add_test(tc, colder_is_never_staler);
	tcase_add_test(tc, more_oxygen_is_never_fresher);
	tcase_add_loop_test(tc, outlook, 0, sizeof words / sizeof *words);
	tcase_add_test(tc, silent_rules_say_nothing);
	tcase_add_test(tc, every_family_has_a_scale);
	return fact_rows_run("staling", rows, sizeof rows / sizeof *rows, tc);
}
