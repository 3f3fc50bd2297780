/* check_byhand.c - what people write by hand: other words for those of the lists, rough amounts, moments counted
 * from packaging
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include <afterboil/profile.h>
#include "base/attr.h"
#include "base/str.h"
#include "journal/tables.h"
#include "readcase.h"

#define DAY 86400.0

/* ---- other words ---- */

static int place_of(const char *const *list, const char *word)
{
	for (int i = 0; list[i] != NULL; i++)
		if (ab_word_cmp(list[i], word) == 0)
			return i + 1;
	return 0;
}

/* Each is read as its word where documents are written by hand, and refused in rules. */
START_TEST(every_other_word)
{
	const struct ab_attr_place hand = { "a.xml", "x", 1, &ab_by_hand }, exact = { "a.xml", "x", 1, NULL };
	size_t n = 0;

	for (size_t t = 0; t < 2; t++)
		for (const struct ab_alias *a = ab_by_hand.aliases[t]; a->said != NULL; a++, n++) {
			const struct ab_attr_spec spec = { .name = "w", .kind = AB_ATTR_WORD, .words = a->list };
			int word = 0;
			int own = place_of(a->list, a->said);
			ck_assert_msg(own == 0 || own == place_of(a->list, a->word),
			    "\"%s\" is another word of its list", a->said);
			ck_assert_msg(ab_attr_store(&spec, a->said, strlen(a->said), &word, rd.arena, &hand,
					  &rd.diag) == AB_OK &&
				word > 0,
			    "%s: %s", a->said, rd.diag.text);
			ck_assert_msg(word == place_of(a->list, a->word), "\"%s\" is read as place %d, not as %s",
			    a->said, word, a->word);
			ab_diag_init(&rd.diag);
			ck_assert(ab_attr_store(&spec, a->said, strlen(a->said), &word, rd.arena, &exact,
				      &rd.diag) == (own > 0 ? AB_OK : AB_EINPUT));
			ab_diag_init(&rd.diag);
		}
	ck_assert_uint_gt(n, 200);
}
END_TEST

static const struct { const char *inner, *says; } refused[] = {
	{ "<vessel kind='carbuoy'/>", "kind of <vessel>: \"carbuoy\" is not known here (allowed: bucket, pet, glass" },
	{ "<package sugar='dextrosse'/>", "did you mean \"dextrose\"?" },
	{ "<pitch temp='16-27'/>", "not known well: put \"about\" or \"below\" in front, or write a range" },
	{ "<pitch temp='27-16 C'/>", "temp of <pitch>: \"27-16 C\" runs from the larger to the smaller" },
	{ "<pitch temp='warm'/>", "not known: leave it out" },
	{ "<rest for='a few'/>", "\"a few days\"" },
	{ "<yeast packs='2-3'/>", "of a range its middle" },
	{ "<yeast class='american ale'/>", "as in \"american-ale\"" },
	{ "<pitch temp='20 X'/>", "has an unknown unit; write a temperature such as \"19.5 C\" (units: C, F, K)" },
	{ "<package at='bottling+3d'/>", "is the day of packaging itself" },
	{ "<store from='package+14d' until='package+3d'/>", "until of <store> is before its from" },
	{ "<package at='+14d'/><tasting at='package-3d'/>", "since packaging such as \"package+14d\"" },
};

START_TEST(refused_in_words)
{
	ck_assert_msg(rd_inner(refused[_i].inner) == AB_EINPUT, "%s", refused[_i].inner);
	ck_assert_msg(strstr(rd.diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].inner, rd.diag.text);
}
END_TEST

/* Nobody tells the day of packaging: neither is the moment's, but how long after stays. */
static const char *const undated[] = { "<tasting at='package+3d'/>", "<package/><tasting at='bottling +3d'/>",
	"<tasting at='kegged+3d'/><package into='keg'/>" };

START_TEST(packaging_without_a_day)
{
	ck_assert_msg(rd_inner(undated[_i]) == AB_OK, "%s: %s", undated[_i], rd.diag.text);
	const struct ab_when *at = &((const struct ab_tasting *)rd.got->tastings.items)->at;
	ck_assert_msg(!at->known && at->packaged, "%s", undated[_i]);
	ck_assert_double_eq(at->s, 3 * 86400.0);
	ck_assert_msg(isnan(ab_batch_since_pitch(rd.got, at)), "%s", undated[_i]);
}
END_TEST

/* ---- rough amounts ---- */

/* What is rough is that figure: only guess="yes" speaks of the whole element. */
static const struct { const char *inner; double v, half; bool guess, all; enum ab_bound bound; } rough[] = {
	{ "<reading wort='16-27 C'/>", 21.5, 5.5, false, false, AB_BOUND_NONE },
	{ "<reading wort='about 16-27 C'/>", 21.5, 5.5, true, false, AB_BOUND_NONE },
	{ "<reading wort='20 C'/>", 20, 0, false, false, AB_BOUND_NONE },
	{ "<reading wort='20 C' guess='yes'/>", 20, 0, false, true, AB_BOUND_NONE },
	{ "<reading wort='about 20 C'/>", 20, 0, true, false, AB_BOUND_NONE },
	{ "<reading wort='about 20 C' guess='no'/>", 20, 0, true, false, AB_BOUND_NONE },
	{ "<reading wort='about 20 C' guess='yes'/>", 20, 0, true, true, AB_BOUND_NONE },
	{ "<reading wort='20 C' room='about 18 C'/>", 20, 0, false, false, AB_BOUND_NONE },
	{ "<reading wort='&lt;15.5 C'/>", 13.5, 2, false, false, AB_BOUND_UNDER },
	{ "<reading wort='over 25 C'/>", 27, 2, false, false, AB_BOUND_OVER },
	/* no further than a wort can be (-5 to 110 C) */
	{ "<reading wort='over 109 C'/>", 110, 1, false, false, AB_BOUND_OVER },
	{ "<reading wort='below -4 C'/>", -5, 1, false, false, AB_BOUND_UNDER },
};

START_TEST(rough_amounts)
{
	ck_assert_msg(rd_inner(rough[_i].inner) == AB_OK, "%s: %s", rough[_i].inner, rd.diag.text);
	const struct ab_reading *r = rd.got->readings.items;
	ck_assert_msg(
	    r->wort_c.known && fabs(r->wort_c.v - rough[_i].v) < 1e-9, "%s: %g", rough[_i].inner, r->wort_c.v);
	ck_assert_msg(r->wort_c.guess == rough[_i].guess, "%s: guess %d", rough[_i].inner, r->wort_c.guess);
	ck_assert_msg(r->mark.guess == rough[_i].all, "%s: all %d", rough[_i].inner, r->mark.guess);
	ck_assert_msg(r->wort_c.bound == rough[_i].bound, "%s: side %d", rough[_i].inner, r->wort_c.bound);
	if (rough[_i].half > 0)
		ck_assert_msg(fabs(r->wort_c.resolution / sqrt(12) - rough[_i].half) < 1e-9, "%s: %g",
		    rough[_i].inner, r->wort_c.resolution);
}
END_TEST

/* ---- from packaging on ---- */

static const struct { const char *package, *at; double days; bool date_only; } moments[] = {
	/* days from the midnight of the brew day on; a date is its noon, pitching untold is at 18:00 */
	{ "2031-03-21", "package+14d", 28.5, true }, { "2031-03-21", "bottling+2wk", 28.5, true },
	{ "2031-03-21", "Packaged +1d", 15.5, true },
	{ "2031-03-21", "kegged+12h", 15, false }, { "2031-03-21T18:00", "package+14d", 28.75, false },
	{ "+14d", "package+14d", 28.75, false },
	{ "2031-03-21", "package+0d", 14.5, true },
};

START_TEST(from_packaging)
{
	char inner[200];

	/* the order of elements does not matter */
	for (int swap = 0; swap < 2; swap++) {
		if (swap)
			snprintf(inner, sizeof inner, "<tasting at='%s'/><package at='%s'/>", moments[_i].at,
			    moments[_i].package);
		else
			snprintf(inner, sizeof inner, "<package at='%s'/><tasting at='%s'/>", moments[_i].package,
			    moments[_i].at);
		ck_assert_msg(rd_inner(inner) == AB_OK, "%s: %s", inner, rd.diag.text);
		const struct ab_tasting *t = rd.got->tastings.items;
		double days = (t->at.s - (rd.got->brewed.s - DAY / 2)) / DAY;
		ck_assert_msg(
		    t->at.known && !t->at.relative && !t->at.packaged && fabs(days - moments[_i].days) < 1e-9,
		    "%s: %g", inner, days);
		ck_assert_msg(t->at.date_only == moments[_i].date_only, "%s", inner);
	}
}
END_TEST

START_TEST(profiles_too)
{
	static const char text[] =
	    "<brewery xmlns='urn:afterboil:profile:1' room='18-24 C' goal='convenience'><packs into='both'/></brewery>";
	static const char from[] =
	    "<brewery xmlns='urn:afterboil:profile:1'><usual>\n<store from='package+1d'/></usual></brewery>";
	struct ab_profile *p;

	ck_assert_msg(ab_profile_read_memory(text, sizeof text - 1, "p.xml", rd.arena, &p, &rd.diag) == AB_OK, "%s",
	    rd.diag.text);
	ck_assert_double_eq_tol(p->room_c.v, 21, 1e-9);
	ck_assert_str_eq(ab_words_goal[p->goal - 1], "time");
	ck_assert_int_eq(p->packs, 0);   /* of neither can it be said that beer goes into it */
	ck_assert(ab_profile_read_memory(from, sizeof from - 1, "p.xml", rd.arena, &p, &rd.diag) == AB_EINPUT);
	ck_assert_msg(rd.diag.line == 2 && strstr(rd.diag.text, "which what is usual has no day of") != NULL, "%s",
	    rd.diag.text);
}
END_TEST

#define N(list) (sizeof list / sizeof *list)

int main(void)
{
	Suite *s = suite_create("byhand");
	TCase *t = tcase_create("byhand");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(t, rd_set_up, rd_tear_down);
	tcase_add_test(t, every_other_word);
	tcase_add_loop_test(t, refused_in_words, 0, N(refused));
	tcase_add_loop_test(t, packaging_without_a_day, 0, N(undated));
	tcase_add_loop_test(t, rough_amounts, 0, N(rough));
	tcase_add_loop_test(t, from_packaging, 0, N(moments));
	tcase_add_test(t, profiles_too);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
