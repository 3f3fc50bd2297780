/* check_sensor.c - sensor logs: columns, units, times, and everything a logger does wrong
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/sensor.h>
#include <afterboil/when.h>
#include "base/alloc.h"

#define T "time,temp\n"
#define AT(h, v) "2031-03-07T" h "," v "\n"

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

/* What the first sample and the counts must be; hours from midnight of 2031-03-07; -99 stands for "not logged". */
static const struct {
	const char *title, *text;
	double offset_h, hour, wort, room, gravity;
	size_t n, rows, duplicates, disorder, dropped, gaps;
	double longest_h;
} reads[] = {
	{ "plain", T AT("18:00", "19.5") AT("19:00", "20"), 0, 18, 19.5, -99, -99, 2, 2, 0, 0, 0, 0, 1 },
	{ "header only", T, 0, 0, -99, -99, -99, 0, 0, 0, 0, 0, 0, 0 },
	{ "decimal comma", "Datetime;Beer (C);Room (C);SG\n2031-03-07 18:00;19,5;18,25;1,048\n", 0, 18, 19.5, 18.25,
	    1.048, 1, 1, 0, 0, 0, 0, 0 },
	{ "tabs and Fahrenheit", "timestamp\ttemp [F]\n2031-03-07T18:00\t68\n", 0, 18, 20, -99, -99, 1, 1, 0, 0, 0,
	    0, 0 },
	{ "suffix _f", "time,temp_f\n" AT("18:00", "212") AT("18:30", "50") AT("18:45", "50"), 0, 18.5, 10, -99,
	    -99, 2, 3, 0, 0, 1, 0, 0.25 },
	{ "degree sign", "time,wort (\xC2\xB0" "F)\n" AT("18:00", "68"), 0, 18, 20, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "ambient", "time,Ambient\n" AT("18:00", "17"), 0, 18, -99, 17, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "room temperature", "time,room temperature\n" AT("18:00", "17"), 0, 18, -99, 17, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "a target is no temperature", "time,target temp,temp\n" AT("18:00", "9,19"), 0, 18, 19, -99, -99, 1, 1, 0,
	    0, 0, 0, 0 },
	{ "Plato", "time,temp,gravity (P)\n" AT("18:00", "19,0"), 0, 18, 19, -99, 1.0, 1, 1, 0, 0, 0, 0, 0 },
	{ "seconds", T AT("18:00:36", "19"), 0, 18.01, 19, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "Zulu, brewer two hours east", T AT("18:00Z", "19"), 2, 20, 19, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "a zone", T AT("18:00+05:30", "19"), 0, 12.5, 19, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "a zone west, brewer there", T AT("18:00:00-0500", "19"), -5, 18, 19, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "local time is not shifted", T AT("18:00", "19"), 2, 18, 19, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	/* 2031-03-07T18:00Z by GNU date: date -u -d 2031-03-07T18:00Z +%s */
	{ "epoch seconds", T "1930672800,19\n", 1, 19, 19, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "epoch milliseconds", T "1930672800000,19\n", 0, 18, 19, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
	{ "disorder", T AT("20:00", "20") AT("18:00", "18") AT("19:00", "19"), 0, 18, 18, -99, -99, 3, 3, 0, 1, 0,
	    0, 1 },
	{ "duplicates averaged", T AT("18:00", "18") AT("18:00", "21") AT("18:00", "-"), 0, 18, 19.5, -99, -99, 1,
	    3, 1, 0, 1, 0, 0 },
	{ "gaps over three hours", T AT("01:00", "18") AT("04:00", "18") AT("07:01", "18") AT("20:00", "18"), 0, 1,
	    18, -99, -99, 4, 4, 0, 0, 0, 2,
	    12 + 59.0 / 60 },
	{ "power-on spikes", T AT("17:00", "85") AT("18:00", "18") AT("19:00", "-127") AT("20:00", "18"), 0, 18, 18,
	    -99, -99, 2, 4, 0, 0, 2, 0, 2 },
	{ "a bad room keeps the wort", "time,temp,room\n" AT("18:00", "18,85"), 0, 18, 18, -99, -99, 1, 1, 0, 0, 1,
	    0, 0 },
	{ "gravity of an unset sensor", "time,temp,sg\n" AT("18:00", "18,0"), 0, 18, 18, -99, -99, 1, 1, 0, 0, 1, 0,
	    0 },
	{ "empty and nan say nothing",
	    "time,temp,room\n" AT("18:00", "18,nan") AT("19:00", ",N/A") AT("20:00", "20,"), 0, 18, 18, -99, -99, 2,
	3, 0,
	    0, 1, 0, 2 },
	{ "quotes", "\"time\",\"note, free\",\"temp\"\n\"2031-03-07T18:00\",\"a, b\",\"18\"\n", 0, 18, 18, -99, -99,
	    1, 1, 0, 0, 0, 0, 0 },
	{ "BOM, CRLF, blanks, comments",
	    "\xEF\xBB\xBF\r\n# made by hand\r\n time , temp \r\n\r\n" "2031-03-07T18:00 , 18 \r\n", 0, 18, 18, -99,
	-99, 1, 1,
	    0, 0, 0, 0, 0 },
	{ "half a line at the end", T AT("18:00", "18") "2031-03-0", 0, 18, 18, -99, -99, 1, 2, 0, 0, 1, 0, 0 },
	{ "no newline at the end", T "2031-03-07T18:00,18", 0, 18, 18, -99, -99, 1, 1, 0, 0, 0, 0, 0 },
};

static void same(double found, double wanted, const char *title, const char *what)
{
	if (wanted < -98)
		ck_assert_msg(isnan(found), "%s: %s is %g, wanted nothing", title, what, found);
	else
		ck_assert_msg(fabs(found - wanted) < 1e-7, "%s: %s is %.9g, wanted %.9g", title, what, found, wanted);
}

START_TEST(good)
{
	struct ab_sensor *s;
	const char *t = reads[_i].title;
	enum ab_status st = ab_sensor_read(
	    reads[_i].text, strlen(reads[_i].text), "log.csv", reads[_i].offset_h * 3600, arena, &s, &diag);
	ck_assert_msg(st == AB_OK, "%s: %ld: %s", t, diag.line, diag.text);
	ck_assert_msg(
	    s->n == reads[_i].n && s->rows == reads[_i].rows, "%s: %zu samples of %zu rows", t, s->n, s->rows);
	ck_assert_msg(s->duplicates == reads[_i].duplicates, "%s: %zu duplicates", t, s->duplicates);
	ck_assert_msg(s->disorder == reads[_i].disorder, "%s: %zu in disorder", t, s->disorder);
	ck_assert_msg(s->dropped == reads[_i].dropped, "%s: %zu dropped", t, s->dropped);
	ck_assert_msg(s->gaps == reads[_i].gaps, "%s: %zu gaps", t, s->gaps);
	same(s->longest_gap_s / 3600, reads[_i].longest_h, t, "longest gap");
	if (s->n == 0)
		return;
	same((s->samples[0].s - ab_when_from_civil(2031, 3, 7)) / 3600, reads[_i].hour, t, "time");
	same(s->samples[0].wort_c, reads[_i].wort, t, "wort");
	same(s->samples[0].room_c, reads[_i].room, t, "room");
	if (fabs(reads[_i].gravity - 1) > 1e-9)
		same(s->samples[0].gravity_sg, reads[_i].gravity, t, "gravity");
	else
		ck_assert_msg(fabs(s->samples[0].gravity_sg - 1) < 1e-4, "%s: %g", t, s->samples[0].gravity_sg);
}
END_TEST

static const struct { const char *title, *text; long line; const char *says; } slips[] = {
	{ "empty", "", 0, "empty" },
	{ "only blank lines", "\n\n", 2, "empty" },
	{ "no time", "when,temp\n1,2\n", 1, "time" },
	{ "no temperature", "time,pressure\n" AT("18:00", "1"), 1, "temperature" },
	{ "gravity alone is not enough", "time,sg\n" AT("18:00", "1.048"), 1, "temperature" },
	{ "junk time", T "yesterday,18\n", 2, "yesterday" },
	{ "time without minutes", T "2031-03-07,18\n", 2, "2031-03-07" },
	{ "a counter is no time", T "12,18\n", 2, "12" },
	{ "an hour there is not", T AT("25:00", "18"), 2, "25:00" },
	{ "a zone there is not", T AT("18:00+99:00", "18"), 2, "+99" },
	{ "seconds there are not", T AT("18:00:99", "18"), 2, ":99" },
	{ "junk value", T AT("18:00", "18") "\n" AT("19:00", "warm"), 4, "warm" },
	{ "exponent", T AT("18:00", "1.8e1"), 2, "1.8e1" },
	{ "short row", "time,room,temp\n" AT("18:00", "18") AT("19:00", "18,19"), 2, "2 fields" },
	{ "Fahrenheit untold", T AT("18:00", "66") AT("19:00", "67") AT("20:00", "68"), 4, "Fahrenheit" },
};

START_TEST(bad)
{
	struct ab_sensor *s = NULL;
	enum ab_status st = ab_sensor_read(slips[_i].text, strlen(slips[_i].text), "log.csv", 0, arena, &s, &diag);
	ck_assert_msg(st == AB_EINPUT && s == NULL, "%s: %s", slips[_i].title, ab_status_name(st));
	ck_assert_msg(diag.line == slips[_i].line && strstr(diag.text, slips[_i].says) != NULL &&
		strcmp(diag.source, "log.csv") == 0,
	    "%s: %ld: %s", slips[_i].title, diag.line, diag.text);
}
END_TEST

START_TEST(too_many)
{
	size_t len = (size_t)AB_SENSOR_ROWS + 10;
	char *text = malloc(len);
	struct ab_sensor *s;
	ck_assert_ptr_nonnull(text);
	memset(text, '\n', len);
	ck_assert_int_eq(ab_sensor_read(text, len, "log.csv", 0, arena, &s, &diag), AB_ELIMIT);
	free(text);
}
END_TEST

START_TEST(short_memory)
{
	struct ab_sensor *s;
	static const char text[] = T AT("18:00", "18");
	ab_alloc_fail_at(0);
	/* the arena's first block may serve it without asking the heap: a log this long does not fit */
	char *big = malloc(1 << 20);
	memset(big, '\n', 1 << 20);
	memcpy(big, text, sizeof text - 1);
	enum ab_status st = ab_sensor_read(big, 1 << 20, "log.csv", 0, arena, &s, &diag);
	ab_alloc_fail_at(-1);
	ck_assert_int_eq(st, AB_ENOMEM);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_sensor_read(big, 1 << 20, "log.csv", 0, arena, &s, &diag), AB_OK);
	ck_assert_uint_eq(s->n, 1);
	free(big);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("sensor");
	TCase *tc = tcase_create("sensor");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, good, 0, sizeof reads / sizeof *reads);
	tcase_add_loop_test(tc, bad, 0, sizeof slips / sizeof *slips);
	tcase_add_test(tc, too_many);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
