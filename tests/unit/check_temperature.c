/* check_temperature.c - how warm it fermented
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include "process/slots.h"

#define ALE "<yeast class='clean-ale'/>"
#define T(when, t) "<reading at='" when "' wort='" t " C'/>"

static const struct fact_row rows[] = {
	{ .title = "constant", ALE T("+6h", "22") T("+30h", "22") T("+60h", "22"), "ferment.early-mean", 22,
	  1e-9, NULL, AB_ORIGIN_DERIVED, .u = 0.8 },
	/* 20 held to 24 h, straight to 24 at 48 h, held: (24 x 20 + 24 x 22 + 24 x 24)/72 */
	{ .title = "weighted by time", ALE T("+24h", "20") T("+48h", "24"), "ferment.early-mean", 22, 1e-9 },
	/* many readings of one hour weigh as one hour */
	{ .title = "not by number", ALE T("+24h", "20") T("+47h", "24") T("+48h", "24") T("+49h", "24"),
	  "ferment.early-mean",
	  (24 * 20 + 23 * 22 + 25 * 24) / 72.0, 1e-6 },
	{ .title = "two readings are less sure than three", ALE T("+24h", "20") T("+48h", "20"),
	  "ferment.early-mean", 20, 1e-9, .u = 1.1 },
	{ .title = "one still less", ALE T("+24h", "20"), "ferment.early-mean", 20, 1e-9, .u = 1.6 },
	/* one reading 1.6, half of the range 5.5, together sqrt(1.6^2 + 5.5^2) */
	{ .title = "a range is as uncertain as half of it is wide", ALE T("+24h", "16-27"), "ferment.early-mean",
	    21.5, 1e-9, .u = 5.73 },
	{ .title = "about is a guess", ALE T("+24h", "about 20"), "ferment.early-mean", 20, 1e-9, .u = 2.19 },
	{ .title = "a guess widens", ALE "<reading at='+24h' wort='20 C' guess='yes'/>", "ferment.early-mean",
	  20, 1e-9, .u = 2.19 },
	{ .title = "later days do not count", ALE T("+24h", "20") T("+72h", "20") T("+120h", "30"),
	  "ferment.early-mean", 20, 1e-9 },
	{ .title = "pitching temperature is the first point", ALE "<pitch at='2031-03-01T18:00' temp='30 C'/>"
	  T("+36h", "20"), "ferment.early-mean",
	  (36 * 25 + 36 * 20) / 72.0, 1e-6 },
	{ .title = "pitching temperature alone says nothing", ALE "<pitch at='2031-03-01T18:00' temp='30 C'/>",
	  "ferment.early-mean", AB_SILENT },
	/* half of 1.050 to 1.010 is 1.030, passed at 36 h */
	{ .title = "to half attenuation",
	  ALE "<recipe fg='1.010 SG'/><reading at='+0h' wort='20 C' gravity='1.050 SG'/>"
	  "<reading at='+36h' wort='20 C' gravity='1.030 SG'/>"
	  "<reading at='+60h' wort='26 C' gravity='1.012 SG'/>", "ferment.early-mean", 20, 1e-6 },
	{ .title = "first reading after a week", ALE T("+8d", "20"), "ferment.early-mean", AB_SILENT },
	{ .title = "thermometer reads high", ALE T("+24h", "22")
	  "<instrument item='thermometer' off-temp='1.5 K'/>", "ferment.early-mean", 20.5, 1e-9 },
	{ .title = "thermometer reads low by nobody knows what", ALE T("+24h", "22")
	  "<instrument item='thermometer' off-temp='below 0 K'/>", "ferment.early-mean", 24, 1e-9, .u = 2.56 },
	{ .title = "over the range", ALE T("+24h", "24") T("+48h", "24"), "ferment.early-mean-over", 4, 1e-9 },
	{ .title = "no class, no range", T("+24h", "24"), "ferment.early-mean-over", AB_SILENT },
	{ .title = "lager", "<yeast class='lager'/>" T("+24h", "12") T("+48h", "12"),
	  "ferment.early-mean-over", -1, 1e-9 },
	/* nobody measured the beer: reconstructed; the means and peaks by scipy's solve_ivp on the same 20 L,
	 * 1.048 to 1.012, 619 kJ/kg, B 0.12/h, M 30 h (farmhouse 0.084, 42.9) and 2.5 W/K (bath 10) */
	{ .title = "room only", ALE "<vessel kind='bucket' room='21 C'/>", "ferment.early-mean", 22.35, 0.02,
	  NULL, AB_ORIGIN_DERIVED, .u = 1.07 },
	{ .title = "room only, peak", ALE "<vessel kind='bucket' room='21 C'/>", "ferment.peak-over", 3.638, 0.02,
	  .u = 1.2846 },
	{ .title = "fridge and target", ALE "<vessel control='fridge' target='18 C' room='25 C'/>",
	  "ferment.early-mean", 18, 1e-9, .u = 1 },
	{ .title = "target without control is a wish",
	  ALE "<vessel control='none' target='18 C' room='21 C'/>", "ferment.early-mean", 22.35, 0.02 },
	{ .title = "an aim, and nothing about what held it", ALE "<vessel target='18 C'/>", "ferment.early-mean",
	    18, 1e-9, NULL,
	  AB_ORIGIN_DERIVED },
	{ .title = "an aim that nothing holds", ALE "<vessel control='none' target='18 C'/>", "ferment.early-mean",
	    AB_SILENT },
	{ .title = "an aim beside a room is a wish", ALE "<vessel target='18 C' room='21 C'/>",
	    "ferment.early-mean", 22.35, 0.02 },
	{ .title = "fridge without target", ALE "<vessel control='fridge' room='25 C'/>", "ferment.early-mean",
	  AB_SILENT },
	/* the room of the second week tells little of the first days: 2.24 K for five days, 1 K for one look,
	 * beside the 1.07 of "room only" */
	{ .title = "a room read late", ALE "<vessel kind='bucket'/><reading at='+8d' room='21 C'/>",
	  "ferment.early-mean", 22.35, 0.02, NULL, AB_ORIGIN_DERIVED, .u = 2.67 },
	{ .title = "water bath", ALE "<vessel control='water-bath' room='21 C'/>", "ferment.early-mean", 21.348,
	  0.02, .u = 1.2 },
	{ .title = "readings beat targets", ALE "<vessel control='fridge' target='18 C'/>" T("+24h", "21")
	  T("+48h", "21"), "ferment.early-mean", 21, 1e-9 },
	{ .title = "usual fridge", ALE, "ferment.early-mean-over", -2, 1e-9,
	  "<usual><vessel control='chamber' target='18 C'/></usual>", AB_ORIGIN_USUAL },
	{ .title = "room read beside the beer",
	  "<reading at='+0h' room='20 C'/><reading at='+24h' room='22 C'/>", "ferment.room", 21, 1e-9 },
	{ .title = "room of the profile", "", "ferment.room", 19, 1e-9, "<usual><vessel room='19 C'/></usual>",
	  AB_ORIGIN_USUAL },
	{ .title = "room of the brewery is the last resort", ALE, "ferment.early-mean", 23.35, 0.02,
	  "room='22 C'", AB_ORIGIN_USUAL },
	{ .title = "the vessel's room comes first", "<vessel room='18 C'/>", "ferment.room", 18, 1e-9,
	  "room='22 C'", AB_ORIGIN_MEASURED },
	{ .title = "control", "<vessel control='wet-cloth'/>", "ferment.control", 0, 0, .word = "wet-cloth" },
	/* peak, below, out */
	{ .title = "peak", ALE T("+24h", "20") T("+40h", "26.5") T("+60h", "21"), "ferment.peak-over", 6.5, 1e-9 },
	{ .title = "peak after the end does not count", ALE T("+24h", "20") T("+60h", "20") T("+168h", "20")
	  T("+200h", "28"), "ferment.peak-over", 0, 1e-9 },
	{ .title = "below", "<yeast class='farmhouse'/>" T("+24h", "16") T("+100h", "16") T("+239h", "16"),
	  "ferment.below-range", 4, 1e-9 },
	{ .title = "within is negative", ALE T("+24h", "19") T("+100h", "19"), "ferment.below-range", -2, 1e-9 },
	/* straight from 20 to 26 over 24 h: above 22 for two thirds of it, then held to 168 h: 16 + 120 */
	{ .title = "hours out above", ALE T("+24h", "20") T("+48h", "26"), "ferment.hours-out", 16 + 120, 1e-6 },
	{ .title = "hours out below", ALE T("+24h", "12") T("+48h", "12"), "ferment.hours-out", 168, 1e-6 },
	{ .title = "within", ALE T("+24h", "19") T("+48h", "20"), "ferment.hours-out", 0, 1e-9 },
	{ .title = "one reading cannot tell", ALE T("+24h", "25"), "ferment.hours-out", AB_SILENT },
	{ .title = "held within", ALE "<vessel control='fridge' target='18 C'/>", "ferment.hours-out", 0, 1e-9 },
	/* swings */
	{ .title = "swing", ALE T("+8h", "19") T("+20h", "23") T("+32h", "18") T("+44h", "22"),
	  "ferment.swing", 5, 1e-9 },
	{ .title = "drop", ALE T("+8h", "19") T("+20h", "23") T("+32h", "18") T("+44h", "22"),
	  "ferment.largest-drop", 5, 1e-9 },
	{ .title = "rise only", ALE T("+8h", "18") T("+20h", "21") T("+30h", "24"), "ferment.largest-drop", 0, 1e-9 },
	{ .title = "a rise is a swing", ALE T("+8h", "18") T("+20h", "21") T("+30h", "24"), "ferment.swing", 6,
	  1e-9 },
	{ .title = "slower than a day", ALE T("+10h", "24") T("+40h", "22") T("+70h", "20"),
	  "ferment.largest-drop", 0, 1e-9 },
	{ .title = "the crash after the end is no drop", ALE T("+10h", "20") T("+90h", "20") T("+160h", "20")
	  T("+180h", "2"), "ferment.largest-drop", 0, 1e-9 },
	/* rests: primary 7 d, so from hour 112 on; rest from 18 C */
	{ .title = "warm to the end", ALE T("+24h", "19") T("+200h", "19") "<package at='+10d'/>",
	  "ferment.rest-days", 10 - 112 / 24.0, 1e-6 },
	{ .title = "cold at the end", ALE T("+24h", "16") T("+200h", "16") "<package at='+10d'/>",
	  "ferment.rest-days", 0, 1e-9 },
	{ .title = "until the crash", ALE T("+24h", "19") T("+200h", "19")
	  "<crash at='+7d' temp='2 C'/><package at='+10d'/>", "ferment.rest-days",
	  7 - 112 / 24.0, 1e-6 },
	{ .title = "rest as told", "<yeast class='lager'/><rest at='+12d' temp='17 C' for='3 d'/>",
	  "ferment.rest-days", 3, 1e-9 },
	{ .title = "a rest too cold", "<yeast class='lager'/><rest at='+12d' temp='12 C' for='3 d'/>",
	  "ferment.rest-days", 0, 1e-9 },
	/* a rest of no told length may have lasted any time; its warmth tells that of one too cold, and readings
	 * tell how long */
	{ .title = "a rest of no told length", "<yeast class='lager'/><rest at='+12d' temp='17 C'/>",
	    "ferment.rest-days", AB_SILENT },
	{ .title = "neither length nor warmth", "<yeast class='lager'/><rest at='+12d'/>", "ferment.rest-days",
	    AB_SILENT },
	{ .title = "of no told length and too cold", "<yeast class='lager'/><rest at='+12d' temp='12 C'/>",
	    "ferment.rest-days", 0, 1e-9 },
	{ .title = "the room does not stand in for it",
	    ALE "<vessel room='16 C'/><rest at='+6d' temp='20 C'/><package at='+10d'/>",
	  "ferment.rest-days", AB_SILENT },
	{ .title = "two rests, one told",
	    "<yeast class='lager'/><rest at='+12d' temp='17 C' for='2 d'/><rest at='+15d' temp='17 C'/>",
	  "ferment.rest-days", 2, 1e-9 },
	{ .title = "readings beside it", ALE T("+24h", "19") T("+200h", "19") "<rest at='+6d'/><package at='+10d'/>",
	  "ferment.rest-days", 10 - 112 / 24.0, 1e-6 },
	{ .title = "nothing told", ALE, "ferment.rest-days", AB_SILENT },
	/* nobody measured: the room decides; a beer at its end is about as warm as that */
	{ .title = "warm room", ALE "<vessel room='20 C'/><package at='+10d'/>", "ferment.rest-days",
	  10 - 112 / 24.0, 1e-6 },
	{ .title = "cold room", ALE "<vessel room='16 C'/><package at='+10d'/>", "ferment.rest-days", 0, 1e-9 },
	{ .title = "a room too cold for a rest, if the rush was warm enough",
	    ALE "<vessel room='17.5 C'/><package at='+10d'/>",
	  "ferment.rest-days", 0, 1e-9 },
	{ .title = "target at the rest's warmth",
	  ALE "<vessel control='fridge' target='18 C'/><package at='+10d'/>", "ferment.rest-days",
	  10 - 112 / 24.0, 1e-6 },
	{ .title = "target below it", ALE "<vessel control='fridge' target='17 C'/><package at='+10d'/>",
	  "ferment.rest-days", 0, 1e-9 },
	{ .title = "below, by the target",
	  "<yeast class='farmhouse'/><vessel control='fridge' target='17 C'/>", "ferment.below-range", 3, 1e-9 },
	{ .title = "below, by the room", "<yeast class='farmhouse'/><vessel room='15 C'/>",
	  "ferment.below-range", 20 - 15.423, 0.02 },
	{ .title = "held out of it", ALE "<vessel control='fridge' target='24 C'/>", "ferment.hours-out", 168, 1e-9 },
	{ .title = "the room is no measurement of hours", ALE "<vessel room='25 C'/>", "ferment.hours-out",
	  AB_SILENT },
	{ .title = "packaged before its end", ALE T("+24h", "26") T("+96h", "26") "<package at='+4d'/>",
	  "ferment.hours-out", 96, 1e-6 },
	/* final gravity between readings: the class's day within them, else the nearer reading */
	{ .title = "far apart: the class's day", ALE T("+24h", "26") T("+96h", "26")
	  "<reading at='+0h' gravity='1.050 SG'/><reading at='+13d' gravity='1.011 SG'/>",
	  "ferment.hours-out", 168, 1e-6 },
	{ .title = "sooner than the class", ALE T("+24h", "26") T("+96h", "26")
	  "<reading at='+0h' gravity='1.050 SG'/><reading at='+4d' gravity='1.011 SG'/>",
	  "ferment.hours-out", 96, 1e-6 },
	{ .title = "later than the class", ALE T("+24h", "26") T("+96h", "26")
	  "<reading at='+0h' gravity='1.050 SG'/><reading at='+9d' gravity='1.020 SG'/>"
	  "<reading at='+12d' gravity='1.011 SG'/>", "ferment.hours-out", 216, 1e-6 },
	{ .title = "still for two days, if high", ALE T("+24h", "26") T("+96h", "26")
	  "<reading at='+0h' gravity='1.050 SG'/><reading at='+4d' gravity='1.020 SG'/>"
	  "<reading at='+6d' gravity='1.020 SG'/>", "ferment.hours-out", 96, 1e-6 },
	/* days */
	{ .title = "days", "<package at='+12d'/>", "ferment.days", 12, 1e-9 },
	{ .title = "not packaged", "", "ferment.days", AB_SILENT },
	{ .title = "short", ALE "<package at='+6d'/>", "ferment.days-short", 4, 1e-9 },
	{ .title = "on the yeast", "<package at='+60d'/>", "ferment.on-yeast", 60, 1e-9 },
	{ .title = "racked off it", "<vessel second='yes' from='+14d'/><package at='+60d'/>",
	  "ferment.on-yeast", 14, 1e-9 },
};

START_TEST(working_says_the_numbers)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = calloc(ab_fact_defs()->n, sizeof *facts);

	fact_compute(ALE T("+24h", "24") T("+48h", "24"), NULL, arena, facts);
	const struct ab_fact *f = fact_get(facts, "ferment.early-mean-over");
	ck_assert_str_eq(f->working,
	  "(24.0 C, mean of 2 readings to 72 h, weighted by time) - (20.0 C, top of the range of clean ale)");
	ck_assert_int_eq(f->grade, 'B');
	ck_assert_int_eq(f->lines[0], 1);
	ck_assert_int_eq(f->lines[1], 0);
	free(facts);
	ab_arena_free(arena);
}
END_TEST

/* A float in the beer: every quarter of an hour for ten days, 22 C for two days, then 19 C; gravity from 1.050
 * straight to 1.010 in 100 h. */
START_TEST(sensor_logs_count)
{
	enum { ROWS = 960 };
	static struct ab_sample samples[ROWS];
	static struct ab_fact facts[AB_F_MAX_];
	double pitched = ab_when_from_civil(2031, 3, 1) + 18 * 3600;
	struct ab_sensor sensor = { .samples = samples, .n = ROWS };
	struct ab_log log = { .mark = { .line = 7 }, .sensor = &sensor };
	struct ab_pitch pitch = { .at = { .known = true, .s = pitched } };
	struct ab_yeast yeast = { .klass = "clean-ale" };
	struct ab_recipe recipe = { .og_sg = { 1.050, 0.001, true, false, 0 },
		.fg_sg = { 1.010, 0.001, true, false, 0 } };
	struct ab_batch batch = { .id = "t", .pitch = &pitch, .recipe = &recipe, .logs = { &log, 1, 1 },
	  .yeasts = { &yeast, 1, 1 } };
	struct ab_arena *arena = ab_arena_new();
	struct ab_diag diag;

	for (int i = 0; i < ROWS; i++)
		samples[i] = (struct ab_sample){ pitched + 900 * i, i < 192 ? 22 : 19, 20, fmax(1.010,
		  1.050 - 0.0001 * i) };
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_facts_compute(&batch, NULL, &fact_norms, arena, facts, &diag), AB_OK);
	/* half of the attenuation near 50 h (the curve, bent where this log is straight, has it at 48.5): 48 h at
	 * 22, a quarter of an hour of falling, then 19 */
	double half = facts[AB_F_GRAVITY_HALF_TIME].value;
	ck_assert_double_eq_tol(half, 50, 2);
	ck_assert_double_eq_tol(
	    facts[AB_F_FERMENT_EARLY_MEAN].value, (47.75 * 22 + 0.25 * 20.5 + (half - 48) * 19) / half, 1e-3);
	ck_assert_double_eq_tol(facts[AB_F_FERMENT_EARLY_MEAN].u, 0.5, 1e-9);
	ck_assert_int_eq(facts[AB_F_FERMENT_EARLY_MEAN].lines[0], 7);
	ck_assert_double_eq_tol(facts[AB_F_FERMENT_DROP].value, 3, 1e-9);
	ck_assert_double_eq_tol(facts[AB_F_FERMENT_ROOM].value, 20, 1e-9);
	ck_assert_double_eq_tol(facts[AB_F_GRAVITY_LAST].value, 1.010, 1e-9);
	ck_assert_int_eq((int)facts[AB_F_GRAVITY_READINGS].value, ROWS);
	/* still from 98.25 h, the first row less than 0.0008 above the last, to that at 239.75 h */
	ck_assert_double_eq_tol(facts[AB_F_GRAVITY_STABLE_DAYS].value, (239.75 - 98.25) / 24, 0.02);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("more");
	tcase_add_test(tc, working_says_the_numbers);
	tcase_add_test(tc, sensor_logs_count);
	return fact_rows_run("temperature", rows, sizeof rows / sizeof *rows, tc);
}
