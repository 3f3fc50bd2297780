/* check_sugar.c - the sugar for the bottles, and that none is told for a beer that may not be done
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/priming.h>
#include "base/alloc.h"
#include "process/co2.h"
#include "rulecase.h"

enum { TEXT = 3000 };
static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_batch *journal;

static void begin(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void end(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	journal = batch;
	return AB_OK;
}

static struct ab_priming of(const char *family, const char *body)
{
	char text[TEXT];
	struct ab_priming out;
	int len = snprintf(text, sizeof text,
	    "<batch xmlns='urn:afterboil:journal:1' id='own-1' brewed='2031-03-01' %s>%s</batch>", family, body);
	ck_assert_int_lt(len, TEXT);
	ck_assert_msg(ab_journal_read_memory(text, (size_t)len, "own.xml", NULL, arena, keep, NULL, &diag) == AB_OK,
	    "%s", diag.text);
	ck_assert_int_eq(ab_priming_of_batch(journal, NULL, &rules->norms, arena, &out, &diag), AB_OK);
	return out;
}

/* ---- the rate ---- */

/* A worked example of a trade magazine: 2.4 volumes wanted, 0.9 held, 23 L: 1.5 x 4 g/L x 23 L = 138 g (it prints
 * 140). And the trade's "4 g of any simple sugar in a litre for a volume". */
START_TEST(worked_example)
{
	struct ab_priming_of asked = { .volumes = 2.4, .warmest_c = 0, .hottest_c = 20, .limit_kpa = 300 };
	struct ab_priming_rate rate;
	while (ab_co2_residual(asked.warmest_c) > 0.9)
		asked.warmest_c += 0.01;
	ck_assert(asked.warmest_c > 15 && asked.warmest_c < 20);
	ck_assert_int_eq(ab_priming_rate(&asked, &rate), AB_PRIMING_READY);
	ck_assert_double_eq_tol(23 * rate.g_per_l, 138, 0.2);
	ck_assert(23 * rate.low < 138 && 140 < 23 * rate.high);
	/* one volume more of it */
	struct ab_priming_rate more;
	asked.volumes = 3.4;
	asked.limit_kpa = 0;
	ck_assert_int_eq(ab_priming_rate(&asked, &more), AB_PRIMING_READY);
	ck_assert_double_eq_tol(more.g_per_l - rate.g_per_l, 4, 1e-9);
}
END_TEST

/* What is told makes what is wanted by the model that judges bottled beer; warmer beer wants more; never a negative
 * weight. */
START_TEST(agrees_with_the_facts)
{
	double last = 0;
	for (double c = 2; c <= 30; c += 2) {
		struct ab_priming_of asked = { .volumes = 2.4, .warmest_c = c, .hottest_c = 25 };
		struct ab_priming_rate rate;
		ck_assert_int_eq(ab_priming_rate(&asked, &rate), AB_PRIMING_READY);
		ck_assert_double_eq_tol(ab_co2_residual(c) + ab_co2_from_sucrose(rate.g_per_l), 2.4, 1e-9);
		ck_assert(rate.g_per_l > last && rate.low >= 0 && rate.low < rate.g_per_l &&
		    rate.high > rate.g_per_l && rate.vol_u >= 0.08);
		last = rate.g_per_l;
	}
	/* under pressure it holds more: less sugar; high up less: more sugar, and more pressure on the glass from
	 * the same gas */
	struct ab_priming_of plain = { .volumes = 2.4, .warmest_c = 20, .hottest_c = 25 }, under = plain, high = plain;
	struct ab_priming_rate rates[3];
	under.over_kpa = 50;
	high.atm = 0.8346;
	ab_priming_rate(&plain, &rates[0]);
	ab_priming_rate(&under, &rates[1]);
	ab_priming_rate(&high, &rates[2]);
	ck_assert_double_eq_tol(rates[0].g_per_l - rates[1].g_per_l, 4 * 0.839 * 50 / 101.325, 0.005);
	ck_assert_double_eq_tol(rates[2].g_per_l - rates[0].g_per_l, 4 * 0.839 * (1 - 0.8346), 0.005);
	ck_assert_double_eq_tol(
	    rates[2].kpa, ab_co2_bottle_kpa(2.4 + 2 * rates[2].vol_u, 25) + 101.325 * (1 - 0.8346), 1e-6);
	struct ab_priming_of cold = { .volumes = 1.5, .warmest_c = 1, .hottest_c = 25 };
	struct ab_priming_rate none;
	ck_assert_int_eq(ab_priming_rate(&cold, &none), AB_PRIMING_HOLDS_ENOUGH);
	ck_assert(none.g_per_l <= 0 && none.high <= 0);
}
END_TEST

/* The bottle is asked with two uncertainties more gas than planned. */
START_TEST(bottle_bears_it)
{
	struct ab_priming_of asked = { .volumes = 2.4, .warmest_c = 20, .hottest_c = 25, .limit_kpa = 1e6 };
	struct ab_priming_rate rate;
	ab_priming_rate(&asked, &rate);
	ck_assert_double_gt(rate.kpa, ab_co2_bottle_kpa(2.4, 25));
	asked.limit_kpa = rate.kpa - 1;
	ck_assert_int_eq(ab_priming_rate(&asked, &rate), AB_PRIMING_BOTTLE);
	asked.limit_kpa = rate.kpa + 1;
	ck_assert_int_eq(ab_priming_rate(&asked, &rate), AB_PRIMING_READY);
}
END_TEST

/* ---- of a journal ---- */

#define ALE "<yeast class='clean-ale'/><pitch at='2031-03-01T18:00' temp='19 C'/>"
#define RECIPE(more) "<recipe volume='19 L' og='1.050 SG' fg='1.011 SG' " more "/>"
#define OG "<reading at='+0h' gravity='1.050 SG' instrument='hydrometer'/>"
#define AT(day, sg) "<reading at='2031-03-" day "T19:00' wort='20 C' gravity='" sg " SG' instrument='hydrometer'/>"
#define DRY(day, sg) "<reading at='2031-03-" day "T19:00' gravity='" sg " SG' instrument='hydrometer'/>"
#define FORCED(sg) "<test kind='forced-fermentation' result='yes' gravity='" sg " SG'/>"
#define DONE AT("08", "1.012") AT("11", "1.012")
static const struct { const char *title, *family, *body; enum ab_priming_why why; double volumes, litres; } rows[] = {
	/* the middle of 2.2 to 2.8; held at 20 C: 0.839 */
	{ "done", "family='pale-hoppy'", RECIPE("") ALE OG DONE, AB_PRIMING_READY, 2.5, 19 },
	{ "as the recipe wants", "family='pale-hoppy'", RECIPE("co2='2.2 vol'") ALE OG DONE, AB_PRIMING_READY, 2.2,
	    19 },
	{ "of which nobody tells the kind: 1.8 to 3", "", RECIPE("") ALE OG DONE, AB_PRIMING_READY, 2.4, 19 },
	{ "how much beer is not told", "family='pale-hoppy'", "<recipe fg='1.011 SG'/>" ALE OG DONE,
	    AB_PRIMING_READY, 2.5, NAN },
	{ "a keg", "", RECIPE("") ALE OG DONE "<package into='keg'/>", AB_PRIMING_NOT_ASKED, 0, 0 },
	{ "in bottles already", "", RECIPE("") ALE OG DONE "<package at='2031-03-12' into='bottles'/>",
	    AB_PRIMING_NOT_ASKED, 0, 0 },
	{ "nothing read", "", RECIPE("") ALE, AB_PRIMING_NO_GRAVITY, 0, 0 },
	{ "only at the start", "", RECIPE("") ALE OG, AB_PRIMING_NO_GRAVITY, 0, 0 },
	{ "read by a refractometer", "",
	    RECIPE("") ALE OG "<reading at='2031-03-08T19:00' gravity='1.028 SG' instrument='refractometer'/>",
	AB_PRIMING_NO_GRAVITY, 0, 0 },
	{ "read once", "", RECIPE("") ALE OG AT("11", "1.012"), AB_PRIMING_NOT_STILL, 0, 0 },
	{ "two days", "", RECIPE("") ALE OG AT("09", "1.012") AT("11", "1.012"), AB_PRIMING_NOT_STILL, 0, 0 },
	{ "still falling", "", RECIPE("") ALE OG AT("08", "1.016") AT("11", "1.012"), AB_PRIMING_NOT_STILL, 0, 0 },
	{ "stuck half way", "", RECIPE("") ALE OG AT("08", "1.025") AT("11", "1.025"), AB_PRIMING_POINTS_LEFT, 0, 0 },
	{ "four points over the recipe's end", "", RECIPE("") ALE OG AT("08", "1.015") AT("11", "1.015"),
	    AB_PRIMING_POINTS_LEFT, 0, 0 },
	/* two weeks at rest acquit a beer that hangs, but not one of which a forced sample went on */
	{ "it hangs for two weeks", "family='pale-hoppy'", RECIPE("") ALE OG AT("08", "1.015") AT("23", "1.015"),
	    AB_PRIMING_READY, 2.5, 19 },
	{ "it hangs for two weeks, but a forced sample fell", "family='pale-hoppy'",
	    RECIPE("") ALE OG AT("08", "1.014") AT("23", "1.014") FORCED("1.005"),
	  AB_PRIMING_POINTS_LEFT, 0, 0 },
	{ "a forced sample fell by two points", "", RECIPE("") ALE OG DONE FORCED("1.010"), AB_PRIMING_POINTS_LEFT,
	    0, 0 },
	{ "a forced sample stayed", "family='pale-hoppy'",
	    RECIPE("") ALE OG AT("08", "1.015") AT("11", "1.015") FORCED("1.014"), AB_PRIMING_READY, 2.5, 19 },
	{ "the brewer says that it stalled", "", RECIPE("") ALE OG DONE "<lag stalled='yes'/>",
	    AB_PRIMING_POINTS_LEFT, 0, 0 },
	{ "where it should end is not known", "",
	    "<recipe volume='19 L'/><pitch at='2031-03-01T18:00' temp='19 C'/>" DONE, AB_PRIMING_NO_END, 0, 0 },
	{ "a yeast that eats starch, after three days", "",
	    RECIPE("") "<yeast class='farmhouse'/><pitch at='2031-03-01T18:00'/>" OG AT("08", "1.009") AT("11",
	    "1.009"),
	  AB_PRIMING_SLOW_YEAST, 0, 0 },
	{ "four points over what it does, as planned", "",
	    "<recipe volume='19 L' fg='1.010 SG'/>" "<yeast class='farmhouse'/><pitch at='2031-03-01T18:00'/>"
	  OG AT("10", "1.010") AT("25", "1.010"), AB_PRIMING_SLOW_YEAST, 0, 0 },
	{ "and low, after two weeks", "family='pale-hoppy'",
	    "<recipe volume='19 L' fg='1.010 SG'/>" "<yeast class='farmhouse'/><pitch at='2031-03-01T18:00'/>"
	  OG AT("10", "1.006") AT("25", "1.006"), AB_PRIMING_READY, 2.5, 19 },
	/* 1.050 to 1.006 is the middle of what it does, 1.012 six points over: no waiting tells that it is done */
	{ "a yeast that eats starch, low, after two weeks", "family='pale-hoppy'",
	    "<recipe volume='19 L'/>" "<yeast class='farmhouse'/><pitch at='2031-03-01T18:00'/>"
	  OG AT("10", "1.007") AT("25", "1.007"), AB_PRIMING_READY, 2.5, 19 },
	{ "a yeast that eats starch, as high as planned, after two weeks", "",
	    RECIPE("") "<yeast class='farmhouse'/><pitch at='2031-03-01T18:00'/>"
	  OG AT("10", "1.012") AT("25", "1.012"), AB_PRIMING_POINTS_LEFT, 0, 0 },
	{ "a yeast that eats starch, high, and a forced sample ended there", "family='pale-hoppy'",
	    "<recipe volume='19 L'/>" "<yeast class='farmhouse'/>"
	  "<pitch at='2031-03-01T18:00'/>" OG AT("10", "1.009") AT("25", "1.009") FORCED("1.008"),
	  AB_PRIMING_READY, 2.5, 19 },
	{ "sugar went in since", "", "<recipe volume='19 L' fg='1.011 SG'>"
	    "<sugar kind='sucrose' amount='300 g' at='2031-03-12T19:00'/></recipe>" ALE OG DONE,
	  AB_PRIMING_SUGAR_SINCE, 0, 0 },
	{ "fruit of which nobody told the day", "",
	    "<recipe volume='19 L' fg='1.011 SG'><extra name='cherry' amount='2 kg'/></recipe>" ALE OG DONE,
	  AB_PRIMING_SUGAR_SINCE, 0, 0 },
	{ "a spice of which nobody told the day", "family='pale-hoppy'",
	    "<recipe volume='19 L' fg='1.011 SG'><extra name='coriander' amount='20 g'/></recipe>" ALE OG
	  DONE, AB_PRIMING_READY, 2.5, 19 },
	{ "fruit of before, and still since", "family='pale-hoppy'",
	    "<recipe volume='19 L' fg='1.011 SG'><extra name='cherry' amount='2 kg' at='2031-03-05T19:00'/>"
	  "</recipe>" ALE OG DONE, AB_PRIMING_READY, 2.5, 19 },
	{ "hops went in since", "", RECIPE("") ALE OG DONE "<dry-hop at='2031-03-12T19:00' amount='60 g'/>",
	    AB_PRIMING_HOPS_SINCE, 0, 0 },
	{ "hops went in while it stood", "",
	    RECIPE("") ALE OG DONE "<dry-hop at='2031-03-09T19:00' amount='60 g'/>", AB_PRIMING_HOPS_SINCE, 0, 0 },
	{ "hops of which nobody told the day", "", RECIPE("") ALE OG DONE "<dry-hop amount='60 g'/>",
	    AB_PRIMING_HOPS_SINCE, 0, 0 },
	{ "hops of before, and still since", "family='pale-hoppy'",
	    RECIPE("") ALE OG DONE "<dry-hop at='2031-03-05T19:00' amount='60 g'/>", AB_PRIMING_READY, 2.5, 19 },
	{ "how warm is not told", "",
	    RECIPE("") "<yeast class='clean-ale'/>" OG DRY("08", "1.012") DRY("11", "1.012"),
	AB_PRIMING_NO_TEMPERATURE, 0, 0 },
	{ "more gas than an ordinary bottle bears", "", RECIPE("co2='3.4 vol'") ALE OG DONE, AB_PRIMING_BOTTLE, 3.4,
	    19 },
	{ "a can of plastic, whose limit nobody knows", "",
	    RECIPE("co2='3.4 vol'") ALE OG DONE "<package into='bottles' bottle='plastic-can'/>", AB_PRIMING_BOTTLE,
	3.4, 19 },
	{ "a mini keg told as a bottle", "",
	    RECIPE("co2='3.4 vol'") ALE OG DONE "<package into='bottles' bottle='mini-keg'/>", AB_PRIMING_BOTTLE,
	3.4, 19 },
	{ "glass of unknown make", "", RECIPE("") ALE OG DONE "<package into='bottles' bottle='unknown-glass'/>",
	    AB_PRIMING_BOTTLE, 1.8, 19 },
};

START_TEST(journals)
{
	struct ab_priming p = of(rows[_i].family, rows[_i].body);
	ck_assert_msg(p.why == rows[_i].why, "%s: %d, not %d", rows[_i].title, (int)p.why, (int)rows[_i].why);
	ck_assert_msg(p.misled == (strstr(rows[_i].body, "refractometer") != NULL), "%s: misled", rows[_i].title);
	/* no weight ever beside a reason against it */
	ck_assert_msg(p.forced == (strstr(rows[_i].body, "forced-") != NULL && p.why == AB_PRIMING_READY),
	    "%s: forced", rows[_i].title);
	ck_assert_msg(
	    p.why == AB_PRIMING_READY || p.why == AB_PRIMING_BOTTLE || p.rate.g_per_l <= 0, "%s", rows[_i].title);
	/* once it is done: never what its time stands against, and the very same of one that is done */
	struct ab_priming then;
	ck_assert_int_eq(ab_priming_once_done(journal, NULL, &rules->norms, arena, &then, &diag), AB_OK);
	ck_assert_msg(then.why == AB_PRIMING_READY || then.why == AB_PRIMING_BOTTLE ||
		then.why == AB_PRIMING_HOLDS_ENOUGH || (then.why == p.why && p.why == AB_PRIMING_NOT_ASKED),
	    "%s: %d", rows[_i].title, (int)then.why);
	ck_assert_msg(then.why != AB_PRIMING_READY || then.rate.g_per_l > 0, "%s", rows[_i].title);
	ck_assert(p.why != AB_PRIMING_READY || fabs(p.rate.g_per_l - then.rate.g_per_l) < 1e-12);
	if (p.why != AB_PRIMING_READY)
		return;
	ck_assert_msg(fabs(p.of.volumes - rows[_i].volumes) < 1e-9, "%s: %g", rows[_i].title, p.of.volumes);
	ck_assert(isnan(rows[_i].litres) ? isnan(p.volume_l) : fabs(p.volume_l - rows[_i].litres) < 1e-9);
	ck_assert_double_eq_tol(p.rate.g_per_l, 4 * (rows[_i].volumes - 0.839), 0.01);
	ck_assert_double_eq_tol(p.of.warmest_c, 20, 1e-9);
	ck_assert(p.rate.kpa <= p.of.limit_kpa && p.of.limit_kpa > 0);
}
END_TEST

/* Chilled before the sugar: what left when it was warm is gone. */
START_TEST(warmest_counts)
{
	struct ab_priming p = of("family='pale-hoppy'",
	    RECIPE("") ALE OG AT("08", "1.012") "<reading at='2031-03-09T19:00' wort='22 C'/>" DRY(
		"11", "1.012") "<reading at='2031-03-13T19:00' wort='2 C'/>");
	ck_assert_int_eq(p.why, AB_PRIMING_READY);
	ck_assert_double_eq_tol(p.of.warmest_c, 22, 1e-9);
}
END_TEST

/* Nothing was read since it stands still, and no room or control is told: of what was read after the rush the
 * coolest, of the rush alone never more than is assumed; a reading of the first day that was warm takes no sugar
 * more. */
static const struct { const char *title, *read; double c; } guesses[] = {
	{ "a warm first day", "<reading at='2031-03-01T21:00' wort='26 C'/>", 20 },
	{ "a cool first day", "<reading at='2031-03-01T21:00' wort='17 C'/>", 17 },
	{ "cooler later",
	    "<reading at='2031-03-01T21:00' wort='26 C'/><reading at='2031-03-05T19:00' wort='19 C'/>", 19 },
	{ "warmer later",
	    "<reading at='2031-03-01T21:00' wort='18 C'/><reading at='2031-03-05T19:00' wort='23 C'/>", 23 },
	{ "two later", "<reading at='2031-03-05T19:00' wort='23 C'/><reading at='2031-03-06T19:00' wort='21 C'/>", 21 },
};

START_TEST(guessed)
{
	char body[800];
	snprintf(body, sizeof body, "%s<yeast class='clean-ale'/>%s%s%s%s", RECIPE(""), OG, guesses[_i].read,
	    DRY("08", "1.012"), DRY("11", "1.012"));
	struct ab_priming p = of("family='pale-hoppy'", body);
	ck_assert_msg(p.why == AB_PRIMING_READY, "%s: %d", guesses[_i].title, (int)p.why);
	ck_assert_msg(p.cool_guess && !p.read_then, "%s", guesses[_i].title);
	ck_assert_msg(fabs(p.of.warmest_c - guesses[_i].c) < 1e-9, "%s: %g", guesses[_i].title, p.of.warmest_c);
}
END_TEST

/* Read only while it fermented: a wider band. */
START_TEST(read_before)
{
	struct ab_priming then = of("family='pale-hoppy'", RECIPE("") ALE OG DONE);
	struct ab_priming p = of("family='pale-hoppy'",
	    RECIPE("") "<yeast class='clean-ale'/>" OG
		       "<reading at='2031-03-03T19:00' wort='20 C'/>" DRY("08", "1.012") DRY("11", "1.012"));
	ck_assert_int_eq(p.why, AB_PRIMING_READY);
	ck_assert(!p.read_then && then.read_then);
	ck_assert_double_eq_tol(p.of.warmest_c, 20, 1e-9);
	ck_assert_double_gt(p.rate.vol_u, then.rate.vol_u + 0.005);
}
END_TEST

/* A wheat beer wants more than an ordinary bottle bears, in the middle of what is usual; its low end is asked then. */
START_TEST(low_end)
{
	struct ab_priming p = of("family='wheat'", RECIPE("") ALE OG DONE);
	ck_assert(p.usual && p.of.volumes <= 2.8 + 1e-9);
	ck_assert(p.why == AB_PRIMING_BOTTLE || p.rate.kpa <= p.of.limit_kpa);
	p = of("family='wheat'", RECIPE("") ALE OG DONE "<package into='bottles' bottle='sparkling'/>");
	ck_assert_int_eq(p.why, AB_PRIMING_READY);
	ck_assert(p.told_bottle && fabs(p.of.volumes - 3.4) < 1e-9);
}
END_TEST

START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	of("", RECIPE("") ALE OG DONE);
	for (long at = 0; st != AB_OK && at < 500; at++) {
		struct ab_priming out;
		struct ab_diag d;
		ab_diag_init(&d);
		ab_alloc_fail_at(at);
		struct ab_arena *own = ab_arena_new();
		st = own == NULL ? AB_ENOMEM : ab_priming_of_batch(journal, NULL, &rules->norms, own, &out, &d);
		ab_alloc_fail_at(-1);
		ab_arena_free(own);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("sugar");
	TCase *tc = tcase_create("sugar");
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, begin, end);
	tcase_add_test(tc, worked_example);
	tcase_add_test(tc, agrees_with_the_facts);
	tcase_add_test(tc, bottle_bears_it);
	tcase_add_loop_test(tc, journals, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, warmest_counts);
	tcase_add_loop_test(tc, guessed, 0, sizeof guesses / sizeof *guesses);
	tcase_add_test(tc, read_before);
	tcase_add_test(tc, low_end);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
