/* check_calendar.c - a batch over a brewer's days: free days in words, windows kept, wishes met or not
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/calendar.h>
#include <afterboil/journal.h>
#include <afterboil/when.h>
#include "base/alloc.h"
#include "rulecase.h"

enum { DAY = 86400 };

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_days days;
static struct ab_fact *facts;

/* 2031-03-03 was a Monday. */
static void begin(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	ab_days_start(&days, ab_when_from_civil(2031, 3, 3), 720, 30);
	facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
}

static void end(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

/* ---- days in words: f free, h home, a away, from Monday on for two weeks ---- */

static const struct { const char *free, *away, *days; } words[] = {
	{ "sat, sun", NULL, "hhhhhffhhhhhff" }, { "Saturday,SUN", NULL, "hhhhhffhhhhhff" },
	{ "mon..wed", NULL, "fffhhhhfffhhhh" },
	{ "fri to mon", NULL, "fhhhfffFhhhfff" }, { "2031-03-05", NULL, "hhfhhhhhhhhhhh" },
	{ "2031-03-05..2031-03-07, 2031-03-10", NULL, "hhfffhhfhhhhhh" }, { "sat", "2031-03-08", "hhhhhahhhhhhfh" },
	{ NULL, "2031-03-04..2031-03-06", "faaaffffffffff" }, { "sun", "2030-01-01..2031-03-03", "ahhhhhfhhhhhhf" },
	{ "every other sat from 2031-03-08", NULL, "hhhhhfhhhhhhhhhhhhhfhhhhhhhh" },
	{ "sat, sun, not every other sat from 2031-03-15", NULL, "hhhhhffhhhhhhfhhhhhffhhhhhhf" },
	/* counted from long before, and from later than the days */
	{ "every other sat from 2030-12-14", NULL, "hhhhhfhhhhhhhhhhhhhfhhhhhhhh" },
	{ "every second sat from 2031-05-17", NULL, "hhhhhfhhhhhhhhhhhhhfhhhhhhhh" },
	{ "every other fri to sun from 2031-03-07", NULL, "hhhhfffhhhhhhhhhhhfffhhhhhhh" },
	{ "mon to sun, not wed, except 2031-03-06", NULL, "ffhhfffffhffff" },
	{ "saturdays, sundays", NULL, "hhhhhffhhhhhff" }, { "tue+sat", NULL, "hfhhhfhhfhhhfh" },
	{ "Tuesday and Saturday", NULL, "hfhhhfhhfhhhfh" },
	{ "weekends", NULL, "hhhhhffhhhhhff" }, { "the weekend", NULL, "hhhhhffhhhhhff" },
	{ "every day", NULL, "ffffffffffffff" }, { "every evening", NULL, "ffffffffffffff" },
	{ "weekdays", NULL, "fffffhhfffffhh" }, { "weekday evenings, sat", NULL, "ffffffhffffffh" },
	{ "tuesday evening", NULL, "hfhhhhhhfhhhhh" },
	{ "weeknights", NULL, "fffffhhfffffhh" }, { "Weeknights, not wed, sat", NULL, "ffhfffhffhfffh" },
	{ "every weeknight", NULL, "fffffhhfffffhh" }, { "week nights after 20:00", NULL, "fffffhhfffffhh" },
	{ "weekdays after work; sun", NULL, "fffffhffffffhf" }, { "after work", NULL, "fffffhhfffffhh" },
	{ "every saturday", NULL, "hhhhhfhhhhhhfh" }, { "on saturday mornings; weds", NULL, "hhfhhfhhhfhhfh" },
	{ "tue 19:00, sat 10:00", NULL, "hfhhhfhhfhhhfh" },
	{ "sat from 9am & sun after 2 pm", NULL, "hhhhhffhhhhhff" },
	{ "mon to thu evenings", NULL, "ffffhhhffffhhh" }, { "evenings", NULL, "ffffffffffffff" },
	{ "every day, not sun", NULL, "ffffffhffffffh" }, { "2031-03-05 19:00", NULL, "hhfhhhhhhhhhhh" },
	{ "sat,,", NULL, "hhhhhfhhhhhhfh" }, { "wed .. wed", NULL, "hhfhhhhhhfhhhh" },
};

START_TEST(days_in_words)
{
	char why[400] = "";
	if (words[_i].free != NULL)
		ck_assert_msg(ab_days_free(&days, words[_i].free, false, why, sizeof why), "%s", why);
	if (words[_i].away != NULL)
		ck_assert_msg(ab_days_away(&days, words[_i].away, why, sizeof why), "%s", why);
	for (int i = 0; words[_i].days[i] != '\0'; i++)
		ck_assert_msg("hfa"[days.day[i]] == (words[_i].days[i] | 0x20), "%s: day %d", words[_i].free, i);
}
END_TEST

static const char *const no_days[] = { "", " , ", "sa", "satx", "someday", "2031-02-30", "2031-03-09..2031-03-05",
	"sat..2031-03-05", "2031-03-05T10:00", "+3d", "..", "sat..", "every other sat", "every other sat from sat",
	"every other from 2031-03-05", "not", "not someday", "every third sat", "tue 25:00", "sat 13pm", "sat 10",
	"sat 0pm", "weekendx", "tue 19:00x", "every", "evening sat", "week", "every week",
	"blurps", "blurps evenings", "fortnights", "after works",
	"satsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsatsat" };

START_TEST(no_days_in_words)
{
	char why[400] = "";
	ck_assert_msg(!ab_days_free(&days, no_days[_i], false, why, sizeof why), "%s", no_days[_i]);
	ck_assert(why[0] != '\0');
}
END_TEST

/* Each day has its own hour, else that of all. */
static const struct { const char *free; int day; double hour; bool all; } begins[] = {
	{ "tue 19:00, sat 10:00", 1, 19, true }, { "tue 19:00, sat 10:00", 5, 10, true },
	{ "tuesday evening and saturday morning", 1, 19, true },
	{ "tuesday evening and saturday morning", 12, 9, true }, { "tue 7pm, sat", 1, 19, false },
	{ "tue 7:30 pm, sat", 1, 19.5, false }, { "tue 7pm, sat", 5, 11, false },
	{ "every evening", 3, 19, true }, { "every evening, sat 9:30", 5, 9.5, true },
	{ "sat at 12 pm", 5, 12, true }, { "sat 12am", 5, 0, true },
	{ "sat from 08:15", 5, 8.25, true }, { "mon to thu 20:30", 2, 20.5, true }, { "sat, sun", 6, 11, false },
	{ "every other sat from 2031-03-08", 5, 11, false },
	{ "weeknights", 3, 19, true }, { "weeknights from 20:15", 4, 20.25, true }, { "tuesday night", 1, 20.5, true },
	{ "weekdays after work, sat", 0, 19, false }, { "weekday nights", 0, 20.5, true },
	{ "tue 19:00", 0, 20, true }, { "sat 9:00, not 2031-03-08", 5, 20, true },
};

START_TEST(hours_of_days)
{
	char why[400] = "";
	days.free_hour = 11;
	days.home_hour = 20;
	ck_assert_msg(ab_days_free(&days, begins[_i].free, false, why, sizeof why), "%s", why);
	ck_assert_double_eq_tol(ab_days_begin(&days, begins[_i].day), begins[_i].hour, 1e-12);
	ck_assert_int_eq(ab_days_hours_told(&days), begins[_i].all);
}
END_TEST

/* Away is told in dates: a weekday away for ever would leave no calendar. */
START_TEST(away_is_no_weekday)
{
	char why[400];
	ck_assert(!ab_days_away(&days, "sat", why, sizeof why));
	ck_assert(!ab_days_away(&days, "weeknights", why, sizeof why));
	ck_assert_ptr_nonnull(strstr(why, "\"weeknights\" is no day; allowed: a date as 2031-03-07"));
}
END_TEST

/* ---- the calendar ---- */

static const struct ab_yeast_norm *yeast(const char *id)
{
	return &rules->norms.yeasts[ab_yeast_find(rules, id)];
}

static void set(const char *fact, double value)
{
	facts[ab_fact_slot(ab_fact_defs(), fact)] = (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = value };
}

static struct ab_calendar *make(const char *klass, double drink_s)
{
	struct ab_calendar *c = NULL;
	struct ab_calendar_asked asked = { .days = &days, .drink_s = drink_s, .facts = facts };
	ck_assert_int_eq(
	    ab_calendar_pace_of(yeast(klass), NULL, 0, NULL, &rules->norms, arena, &asked.pace, &diag), AB_OK);
	ck_assert_int_eq(ab_calendar_make(rules, &asked, arena, &c, &diag), AB_OK);
	return c;
}

static const struct ab_calendar_touch *touch(const struct ab_calendar *c, const char *id)
{
	for (size_t i = 0; i < c->n; i++)
		if (strcmp(c->touches[i].touch->id, id) == 0)
			return &c->touches[i];
	return NULL;
}

static int between(const struct ab_calendar *c, const char *a, const char *b)
{
	ck_assert_msg(touch(c, a) != NULL && touch(c, b) != NULL, "%s, %s", a, b);
	return (int)lround((touch(c, b)->day_s - touch(c, a)->day_s) / DAY);
}

/* Whatever the days: in order, within the windows, on days with the time, two readings three days apart, and nothing
 * packaged before the second. */
static void keeps_its_word(const struct ab_calendar *c)
{
	for (size_t i = 0; i < c->n; i++) {
		const struct ab_calendar_touch *t = &c->touches[i];
		ck_assert(i == 0 || c->touches[i - 1].day_s <= t->day_s);
		ck_assert(t->day_s >= t->due_s && t->day_s <= t->latest_s);
		ck_assert(t->after < (int)i && (t->after >= 0 || i == 0));
		ck_assert(t->pressed || t->day == AB_DAY_FREE || t->takes->minutes <= 30);
		ck_assert(t->pressed || t->day != AB_DAY_AWAY);
	}
	ck_assert_int_ge(between(c, "reading-1", "reading-2"), 3);
	ck_assert_int_ge(between(c, "reading-2", "package"), 0);
}

static const struct { const char *yeast, *free, *away; bool keg, hops, lager; int from_brew_to_tasting; } plans[] = {
	{ "clean-ale", NULL, NULL, false, false, false, 7 + 3 + 14 },
	{ "clean-ale", NULL, NULL, true, false, false, 7 + 3 + 7 },
	{ "lager", NULL, NULL, false, false, true, 14 + 14 + 14 },
	{ "clean-ale", NULL, NULL, false, true, false, 7 + 3 + 3 + 14 },
	/* brewed and bottled on Saturdays only: 10 days become 14 */
	{ "clean-ale", "sat", NULL, false, false, false, 14 + 14 },
	{ "kveik", NULL, NULL, false, false, false, 4 + 3 + 14 },
	/* away over the second and third weekend: bottled on the fourth; or brewed after it, whichever is sooner */
	{ "clean-ale", "sat, sun", "2031-03-15..2031-03-23", false, false, false, -1 },
};

START_TEST(laid_out)
{
	char why[400];
	if (plans[_i].free != NULL)
		ck_assert(ab_days_free(&days, plans[_i].free, false, why, sizeof why));
	if (plans[_i].away != NULL)
		ck_assert(ab_days_away(&days, plans[_i].away, why, sizeof why));
	set("pack.into", plans[_i].keg ? 1 : 0);
	set("yeast.lager", plans[_i].lager);
	if (plans[_i].hops)
		set("hops.dry-load", 3);
	struct ab_calendar *c = make(plans[_i].yeast, (double)NAN);
	ck_assert_int_eq(c->fit, AB_FIT_ALL);
	keeps_its_word(c);
	if (plans[_i].from_brew_to_tasting > 0)
		ck_assert_int_eq(between(c, "brew-day", "first-tasting"), plans[_i].from_brew_to_tasting);
	ck_assert((touch(c, "clean-lines") != NULL) == plans[_i].keg);
	ck_assert((touch(c, "wash-bottles") != NULL) == !plans[_i].keg);
	ck_assert((touch(c, "dry-hop") != NULL) == plans[_i].hops);
	ck_assert((touch(c, "rest") != NULL) == plans[_i].lager);
	ck_assert(c->quiet < c->n && c->quiet_days <= c->quiet_most_days);
	ck_assert(c->low <= c->minutes && c->minutes <= c->high && c->upkeep_minutes > 0);
}
END_TEST

static double minutes_into(double into)
{
	set("pack.into", into);
	return touch(make("clean-ale", (double)NAN), "package")->takes->minutes;
}

/* Bottling is far longer than a keg; a cask is one vessel, too; cans are many, and new; mini kegs are a few. */
START_TEST(keg_is_quicker)
{
	enum { BOTTLES, KEG, CASK, CANS, MINI_KEG = 9 };
	double bottles = minutes_into(BOTTLES), keg = minutes_into(KEG), cask = minutes_into(CASK),
	       cans = minutes_into(CANS);

	ck_assert(bottles >= 2 * keg);
	ck_assert(keg < cask && cask < cans && cans < bottles);
	set("pack.kind", MINI_KEG);
	double mini = minutes_into(KEG);
	ck_assert(keg < mini && mini <= bottles - 60);
	/* the kind of the cans says nothing here */
	ck_assert_double_eq(minutes_into(CANS), cans);
	ck_assert_str_eq(ab_words_package[CANS], "cans");
	ck_assert_str_eq(ab_words_bottle[MINI_KEG], "mini-keg");
}
END_TEST

/* Counted back: kept, as late as may be, and with the yeast slow (1.5 times 7 days is 11, 1.5 times 3 is 5). */
START_TEST(for_a_day)
{
	double feast = days.first_s + 60.0 * DAY;
	struct ab_calendar *c = make("clean-ale", feast);
	ck_assert_int_eq(c->fit, AB_FIT_ALL);
	keeps_its_word(c);
	ck_assert(c->ready_s == feast);
	/* what waits still leaves the beer its time: 14 days in the bottle, 5 between the readings */
	ck_assert(touch(c, "first-tasting")->latest_s <= feast);
	ck_assert(touch(c, "package")->latest_s + 14.0 * DAY <= feast);
	ck_assert(touch(c, "reading-1")->latest_s + (5 + 14.0) * DAY <= feast);
	ck_assert_int_eq(between(c, "brew-day", "reading-1"), 11);
	ck_assert_int_eq(between(c, "brew-day", "first-tasting"), 11 + 5 + 14);
}
END_TEST

/* Too soon whatever is freed; and one that freeing a day would keep. */
START_TEST(not_by_that_day)
{
	char why[400];
	struct ab_calendar *c = make("clean-ale", days.first_s + 10.0 * DAY);
	ck_assert_int_eq(c->fit, AB_FIT_LATER);
	ck_assert_uint_eq(c->n_wanted, 0);
	ck_assert(c->ready_s == days.first_s + 30.0 * DAY);
	keeps_its_word(c);
	ck_assert(ab_days_free(&days, "sun", false, why, sizeof why));
	c = make("clean-ale", days.first_s + 30.0 * DAY);
	ck_assert_int_eq(c->fit, AB_FIT_LATER);
	ck_assert_uint_ge(c->n_wanted, 1);
	ck_assert(c->wanted_s[0] == days.first_s);
	ck_assert(c->ready_s > days.first_s + 30.0 * DAY);
	keeps_its_word(c);
}
END_TEST

/* A single free day: brewing fits, bottling needs another; what it asks for is marked, and no more than that. */
START_TEST(pressed)
{
	char why[400];
	size_t n = 0;
	ck_assert(ab_days_free(&days, "2031-03-08", false, why, sizeof why));
	set("pack.into", 0);
	struct ab_calendar *c = make("clean-ale", (double)NAN);
	ck_assert_int_eq(c->fit, AB_FIT_PRESSED);
	keeps_its_word(c);
	for (size_t i = 0; i < c->n; i++)
		n += c->touches[i].pressed;
	/* of brew day, washing, bottling and cleaning up one falls on the free day */
	ck_assert_msg(n >= 2 && n <= 3, "%zu", n);
	ck_assert(ab_days_away(&days, "2031-03-03..2040-01-01", why, sizeof why));
	c = make("clean-ale", (double)NAN);
	ck_assert_int_eq(c->fit, AB_FIT_AWAY);
}
END_TEST

/* Five hours of Saturdays from 10:00: the evening of the brew day is there for a look, and takes nothing longer;
 * without an evening no schedule fits. */
START_TEST(evening_of_a_free_day)
{
	char why[400];
	ck_assert(ab_days_free(&days, "sat, sun", false, why, sizeof why));
	days.free_minutes = 300;
	ck_assert_int_eq(make("clean-ale", (double)NAN)->fit, AB_FIT_PRESSED);
	days.evenings = true;
	struct ab_calendar *c = make("clean-ale", (double)NAN);
	ck_assert_int_eq(c->fit, AB_FIT_ALL);
	keeps_its_word(c);
	ck_assert_int_eq(touch(c, "brew-day")->day, AB_DAY_FREE);
	ck_assert_int_eq(touch(c, "first-look")->day, AB_DAY_HOME);
	ck_assert_int_eq(between(c, "brew-day", "first-look"), 0);
	ck_assert_double_eq(touch(c, "first-look")->from_hour, 19);
	/* a brew day of five hours goes into no four hours and a half hour of the evening, or two hours of it */
	days.free_minutes = 240;
	for (int minutes = 30; minutes <= 120; minutes += 90) {
		days.home_minutes = minutes;
		ck_assert_int_eq(make("clean-ale", (double)NAN)->fit, AB_FIT_PRESSED);
	}
}
END_TEST

START_TEST(no_day_wanted_before_the_first)
{
	struct ab_calendar *c;
	struct ab_calendar_asked asked = { .days = &days, .drink_s = days.first_s - DAY, .facts = facts };
	asked.pace = (struct ab_calendar_pace){ .primary = 7, .clean = 3, .slow_primary = (double)NAN };
	ck_assert_int_eq(ab_calendar_make(rules, &asked, arena, &c, &diag), AB_EUSAGE);
}
END_TEST

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

/* The brewer's own gravities: the logistic of which they are read ends where it says. P = 3 + 9/(1 + exp(0.1 (t -
 * 40))): 0.25 over the end at 40 + ln(9/0.25 - 1)/0.1 h = 75.55 h, 3.15 days. */
START_TEST(own_pace)
{
	static const double p[] = { 11.838, 10.927, 7.5, 4.073, 3.162, 3.022 };
	char text[2000];
	struct ab_batch *batch = NULL;
	size_t n = (size_t)snprintf(text, sizeof text,
	    "<batch xmlns='urn:afterboil:journal:1' id='own' brewed='2031-01-01'>"
	    "<pitch at='2031-01-01T12:00' temp='20 C'/>");
	for (size_t i = 0; i < 6; i++)
		n += (size_t)snprintf(
		    text + n, sizeof text - n, "<reading at='+%zuh' gravity='%.2f P'/>", 20 * i, p[i]);
	n += (size_t)snprintf(text + n, sizeof text - n, "</batch>");
	struct ab_calendar_pace pace;
	ck_assert_msg(
	    ab_journal_read_memory(text, n, "own.xml", NULL, arena, keep, &batch, &diag) == AB_OK, "%s", diag.text);
	const struct ab_batch *const batches[] = { batch };
	ck_assert_int_eq(
	    ab_calendar_pace_of(yeast("clean-ale"), batches, 1, NULL, &rules->norms, arena, &pace, &diag), AB_OK);
	ck_assert_uint_eq(pace.brews, 1);
	ck_assert_double_eq_tol(pace.primary, 75.55 / 24, 0.3);
	ck_assert(pace.slow_primary > pace.primary);
	ck_assert_double_eq_tol(pace.clean, 3, 1e-9);
}
END_TEST

START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	struct ab_calendar_asked asked = { .days = &days, .drink_s = days.first_s + 10.0 * DAY, .facts = facts };
	asked.pace = (struct ab_calendar_pace){ .primary = 7, .clean = 3, .slow_primary = (double)NAN };
	for (long at = 0; st != AB_OK && at < 200; at++) {
		struct ab_calendar *c;
		struct ab_diag d;
		ab_diag_init(&d);
		ab_alloc_fail_at(at);
		struct ab_arena *own = ab_arena_new();
		st = own == NULL ? AB_ENOMEM : ab_calendar_make(rules, &asked, own, &c, &d);
		ab_alloc_fail_at(-1);
		ab_arena_free(own);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

/* Free from 10:00 for 12 hours, at home from 19:00 for 30 minutes; told hours go before. An evening's minutes are
 * left in any case. */
static const struct { bool free; double begins, hour; int left; } nows[] = {
	{ true, NAN, 0, 720 }, { true, NAN, 10, 720 }, { true, NAN, 12, 600 }, { true, NAN, 19.1, 174 },
	{ true, NAN, 23, 30 },
	{ true, 8, 10, 600 }, { true, 14, 10, 720 }, { false, NAN, 7, 30 }, { false, NAN, 19.4, 30 },
	{ false, NAN, 23, 30 } };

/* With the five hours from 10:00 told apart from the evening, nothing is left of them at night, and the evening is. */
START_TEST(evening_that_is_left)
{
	struct ab_days own;
	static const struct { double hour; int left; } rows[] = { { 8, 330 }, { 12, 210 }, { 15, 30 }, { 22, 30 } };
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ab_days_start(&own, 0, 300, 30);
		own.evenings = true;
		ab_days_now(&own, rows[i].hour);
		ck_assert_int_eq(300 + 30 - own.used[0], rows[i].left);
	}
}
END_TEST

START_TEST(hours_that_are_past)
{
	struct ab_days own;
	ab_days_start(&own, 0, 720, 30);
	ck_assert(isnan(own.now_hour));
	own.day[0] = nows[_i].free ? AB_DAY_FREE : AB_DAY_HOME;
	own.free_hour = nows[_i].begins;
	ab_days_now(&own, nows[_i].hour);
	ck_assert_int_eq((nows[_i].free ? 720 : 30) - own.used[0], nows[_i].left);
	ck_assert_double_eq(own.now_hour, nows[_i].hour);
	ck_assert_int_eq(own.used[1], 0);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("calendar");
	TCase *tc = tcase_create("calendar");
	tcase_set_timeout(tc, 120);
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, begin, end);
	tcase_add_loop_test(tc, days_in_words, 0, sizeof words / sizeof *words);
	tcase_add_loop_test(tc, no_days_in_words, 0, sizeof no_days / sizeof *no_days);
	tcase_add_loop_test(tc, hours_of_days, 0, sizeof begins / sizeof *begins);
	tcase_add_test(tc, away_is_no_weekday);
	tcase_add_loop_test(tc, laid_out, 0, sizeof plans / sizeof *plans);
	tcase_add_test(tc, keg_is_quicker);
	tcase_add_test(tc, for_a_day);
	tcase_add_test(tc, not_by_that_day);
	tcase_add_test(tc, pressed);
	tcase_add_test(tc, evening_of_a_free_day);
	tcase_add_test(tc, no_day_wanted_before_the_first);
	tcase_add_test(tc, own_pace);
	tcase_add_test(tc, evening_that_is_left);
	tcase_add_loop_test(tc, hours_that_are_past, 0, sizeof nows / sizeof *nows);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
