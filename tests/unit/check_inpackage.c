/* check_inpackage.c - gravity lost in the package: the number, what it moves, and that it speaks once
 *
 * What fermented priming takes off by itself, from outside: 6 g/L of sucrose become 2.9 g/L of alcohol (Balling:
 * 1 g from 2.0665 g), and 1 % by weight of alcohol lowers the density of water from 0.9982 to 0.9963 (CRC
 * Handbook, ethanol in water at 20 C, from memory): 0.55 points, where Balling's extracts give 0.51.
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/casework.h>
#include "factcase.h"
#include "rulecase.h"

#define AT(when, sg, more) "<reading at='" when "' gravity='" sg " SG' instrument='hydrometer' " more "/>"
#define OG AT("+0d", "1.050", "")
#define PACK(more) "<package at='+10d' into='bottles' volume='20 L' " more "/>"
#define BOTTLE(when, sg) "<test kind='gravity-of-a-bottle' result='yes' " when " gravity='" sg " SG'/>"
#define PRIMED "priming='120 g' sugar='sucrose'"
#define DROP "gravity.drop-in-package"

static const struct fact_row rows[] = {
	{ .title = "by a reading", OG AT("+9d", "1.012", "") PACK("") AT("+40d", "1.006", ""), DROP, 6, 1e-6,
	  NULL, AB_ORIGIN_DERIVED, .u = 1.08 },
	{ .title = "by the check", OG AT("+9d", "1.012", "") PACK("") BOTTLE("at='+40d'", "1.006"), DROP, 6, 1e-6 },
	{ .title = "by the check without its day", OG AT("+9d", "1.012", "") PACK("") BOTTLE("", "1.006"), DROP, 6,
	  1e-6 },
	{ .title = "warm sample", OG AT("+9d", "1.012", "") PACK("") AT("+40d", "1.006", "sample='30 C'"), DROP,
	  3.68, 0.05 },
	{ .title = "the later one", OG AT("+9d", "1.012", "") PACK("") BOTTLE("at='+60d'", "1.004") AT("+40d",
	  "1.006", ""), DROP, 8, 1e-6 },
	{ .title = "not fallen, primed: less than nothing", OG PACK("gravity='1.012 SG' " PRIMED) BOTTLE("at='+40d'",
	  "1.012"), DROP, -0.516, 1e-3 },
	{ .title = "only the priming's alcohol", OG PACK("gravity='1.012 SG' " PRIMED) BOTTLE("at='+40d'",
	  "1.0115"), DROP, 0, 0.03 },
	{ .title = "no bottle measured", OG AT("+9d", "1.012", "") PACK(""), DROP, AB_SILENT },
	{ .title = "bottling day itself", OG AT("+9d", "1.012", "") PACK("") AT("+10d 2h", "1.012", ""), DROP,
	  AB_SILENT },
	{ .title = "a check before packaging", OG AT("+9d", "1.012", "") PACK("") BOTTLE("at='+9d'", "1.006"), DROP,
	  AB_SILENT },
	{ .title = "another check's gravity", OG AT("+9d", "1.012", "") PACK("")
	  "<test kind='forced-fermentation' result='yes' at='+40d' gravity='1.006 SG'/>", DROP, AB_SILENT },
	{ .title = "a refractometer", OG AT("+9d", "1.012", "") PACK("")
	  "<reading at='+40d' gravity='1.020 SG' instrument='refractometer'/>", DROP, AB_SILENT },
	{ .title = "never packaged", OG AT("+9d", "1.012", "") BOTTLE("", "1.006"), DROP, AB_SILENT },
	{ .title = "nothing before", PACK("") BOTTLE("", "1.006"), DROP, AB_SILENT },
	/* the last gravity six days before bottling: the eight points over 1.012 may have gone before it */
	{ .title = "measured long before", "<recipe fg='1.012 SG'/>" OG AT("+4d", "1.020", "") PACK("")
	  BOTTLE("", "1.012"), DROP, 8, 1e-6, .u = 8.1 },
	{ .title = "two weeks in the bottle, and no day of bottling", OG AT("+9d", "1.012", "")
	  "<package into='bottles'/>" AT("package+14d", "1.006", ""), DROP, 6, 1e-6 },
	{ .title = "on the day of bottling it is none of the bottle's", OG AT("+9d", "1.012", "")
	  "<package into='bottles'/>" AT("package+1h", "1.006", ""), DROP, AB_SILENT },
	{ .title = "what is read in the bottle is not what the fermenter ended at", OG
	  "<package into='bottles'/>" AT("package+14d", "1.006", ""), "gravity.last", AB_SILENT },
	{ .title = "a guess", OG AT("+9d", "1.012", "") PACK("") "<reading at='+40d' gravity='1.006 SG' guess='yes'/>",
	  DROP, 6, 1e-6, .u = 3.2 },
};

/* Six points lost against none, all else the same: each of these is likelier by so much, and what only priming
 * brings less likely. */
static const struct { const char *cause; double times; } moved[] = {
	{ "packaged-unfinished", 10 }, { "wild-cross-contamination", 4 }, { "hop-creep", 4 },
	{ "dirty-bottling-gear", 3 }, { "weak-sanitising", 2 }, { "poor-cleaning", 2 }, { "worn-plastic", 2 },
};

#define HOPPY "<dry-hop at='+6d' amount='100 g'/>"
#define LOST(sg) "<recipe volume='20 L' fg='1.012 SG'/>" OG HOPPY PACK("gravity='1.014 SG'") BOTTLE("at='+40d'", sg)

START_TEST(moves)
{
	double lost = rules_odds(rules_facts(LOST("1.008")), moved[_i].cause),
	    kept = rules_odds(rules_facts(LOST("1.014")), moved[_i].cause);
	ck_assert_msg(lost > moved[_i].times * kept, "%s: odds %g and %g", moved[_i].cause, lost, kept);
}
END_TEST

START_TEST(acquits_the_sugar)
{
	ck_assert_double_lt(rules_odds(rules_facts(LOST("1.008")), "over-priming"),
	    rules_odds(rules_facts(LOST("1.014")), "over-priming"));
}
END_TEST

/* What was lost is gas now: half a volume a point, on top of the priming. */
START_TEST(becomes_gas)
{
#define GAS(sg) OG PACK("gravity='1.014 SG' " PRIMED) BOTTLE("at='+40d'", sg)
	double lost = fact_get(rules_facts(GAS("1.010")), "pack.co2-expected")->value,
	    kept = fact_get(rules_facts(GAS("1.0135")), "pack.co2-expected")->value;
	ck_assert_double_eq_tol(lost - kept, 0.5 * 3.5, 0.05);
}
END_TEST

/* A check with its gravity speaks through the fact and not as an answer too; without one, as an answer. */
START_TEST(speaks_once)
{
	static const char *const journals[] = { LOST("1.008"),
		OG PACK("gravity='1.014 SG'") "<test kind='gravity-of-a-bottle' result='yes'/>" };
	for (size_t i = 0; i < 2; i++) {
		struct ab_batch *batch = fact_read(journals[i], rules_arena);
		struct ab_evidence e;
		struct ab_diag diag;
		ab_diag_init(&diag);
		ck_assert_int_eq(ab_case_evidence(rules, batch, NULL, rules_facts(journals[i]), rules_arena, &e, &diag),
		    AB_OK);
		ck_assert_int_eq(e.check[ab_check_find(rules, "gravity-of-a-bottle")], (int)i);
	}
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("in the package");

	tcase_add_checked_fixture(tc, rules_read, rules_drop);
	tcase_add_loop_test(tc, moves, 0, sizeof moved / sizeof *moved);
	tcase_add_test(tc, acquits_the_sugar);
	tcase_add_test(tc, becomes_gas);
	tcase_add_test(tc, speaks_once);
	return fact_rows_run("in the package", rows, sizeof rows / sizeof *rows, tc);
}
