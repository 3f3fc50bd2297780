/* check_odd.c - what is refused as impossible, what is listed as odd, and what is neither
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/check.h>
#include "base/alloc.h"
#include "readcase.h"

#define BATCH(inner) "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'>\n" inner "\n</batch>"
#define PITCH "<pitch at='2031-03-07T18:00' temp='18 C'/>"

/* says NULL: allowed, at the edge of what is refused. */
static const struct { const char *title, *text, *says; } impossible[] = {
	{ "reading before the brew date", BATCH("<reading at='2031-03-06T23:59' wort='18 C'/>"), "at of <reading>" },
	{ "reading on the brew date", BATCH("<reading at='2031-03-07T00:00' wort='18 C'/>"), NULL },
	{ "tasting a year early", BATCH("<tasting at='2030-04-01'/>"), "at of <tasting>" },
	{ "packaged before pitching", BATCH(PITCH "<package at='2031-03-07T12:00'/>"), "before <pitch>" },
	{ "packaged on the day of pitching, no time", BATCH(PITCH "<package at='2031-03-07'/>"), NULL },
	{ "store backwards", BATCH("<store from='2031-04-02' until='2031-04-01'/>"), "until of <store>" },
	{ "store of one day", BATCH("<store from='2031-04-02' until='2031-04-02'/>"), NULL },
	{ "vessel backwards", BATCH("<vessel from='+5d' until='+4d'/>"), "until of <vessel>" },
	{ "fg over og", BATCH("<recipe og='1.010 SG' fg='1.048 SG'/>"), "exchanged" },
	{ "final far above original", BATCH("<recipe og='1.040 SG'/><package gravity='1.061 SG'/>"), "far above" },
	{ "final a little above", BATCH("<recipe og='1.040 SG'/><package gravity='1.059 SG'/>"), NULL },
	{ "a reading counts as original",
	    BATCH("<recipe og='1.040 SG'/><reading gravity='1.060 SG'/><package gravity='1.061 SG'/>"), NULL },
	{ "no original, no verdict", BATCH("<package gravity='1.100 SG'/>"), NULL },
	{ "shares of 106 %",
	    BATCH("<recipe><malt share='80 %'/><sugar share='16 %'/><extract share='10 %'/></recipe>"), "106 %" },
	{ "shares of 104 %",
	    BATCH("<recipe><malt share='80 %'/><sugar share='14 %'/><extract share='10 %'/></recipe>"), NULL },
	{ "beer at 61 C", BATCH(PITCH "<reading at='+1d' wort='61 C'/>"), "no beer is that hot" },
	{ "wort at 61 C before pitching", BATCH(PITCH "<reading at='2031-03-07T17:00' wort='61 C'/>"), NULL },
	{ "more air than vessel", BATCH("<vessel volume='20 L' headspace='21 L'/>"), "larger than its volume" },
	{ "score above its maximum", BATCH("<tasting score='51' score-of='50'/>"), "score-of" },
	{ "full score", BATCH("<tasting score='50' score-of='50'/>"), NULL },
	{ "half an intensity", BATCH("<tasting><found fault='sour' intensity='2.5'/></tasting>"), "1, 2, 3, 4, 5" },
	{ "half a person", BATCH("<tasting panel='1.5'/>"), "whole number" },
	{ "found and absent", BATCH("<tasting><found fault='Green Apple'/><absent fault='green-apple'/></tasting>"),
	    "both found" },
	{ "a bottle before bottling", BATCH("<package at='2031-03-21'/><tasting at='2031-03-20' from='bottle'/>"),
	    "from the fermenter" },
	{ "the fermenter before bottling",
	    BATCH("<package at='2031-03-21'/><tasting at='2031-03-20' from='fermenter'/>"), NULL },
};

START_TEST(refused)
{
	enum ab_status st = rd_text(impossible[_i].text);
	const char *says = impossible[_i].says;
	ck_assert_msg(st == (says != NULL ? AB_EINPUT : AB_OK), "%s: %s %s", impossible[_i].title,
	    ab_status_name(st), rd.diag.text);
	if (says != NULL)
		ck_assert_msg(strstr(rd.diag.text, says) != NULL && rd.diag.line >= 2, "%s: %ld: %s",
		    impossible[_i].title, rd.diag.line, rd.diag.text);
}
END_TEST

static const struct { const char *title, *text, *says; } oddities[] = {
	{ "nothing odd", BATCH(PITCH "<reading at='+1d' wort='19 C'/><tasting at='2031-04-01'/>"), NULL },
	{ "years later", BATCH("<tasting at='2041-04-01'/>"), "five years" },
	{ "pitched late", BATCH("<pitch at='2031-03-20'/>"), "a week" },
	{ "dry hops in bottles", BATCH("<package at='2031-03-20' into='bottles'/><dry-hop at='2031-03-22'/>"),
	    "<dry-hop>" },
	{ "dry hops in a keg", BATCH("<package at='2031-03-20' into='keg'/><dry-hop at='2031-03-22'/>"), NULL },
	{ "stored before packaging", BATCH("<package at='2031-03-20'/><store from='2031-03-10'/>"), "<vessel>" },
	{ "pitched hot", BATCH("<pitch temp='68 C'/>"), "is the unit F" },
	{ "old yeast", BATCH("<yeast best-before='2028-01-01'/>"), "two years" },
	{ "a starter stirred that was not made", BATCH("<yeast starter='0 L' stirred='yes'/>"), "stirred" },
	{ "six days of lag", BATCH("<lag first-signs='6 d'/>"), "five days" },
	{ "a beer at 45 C", BATCH(PITCH "<reading at='+2d' wort='45 C'/>"), "45 C" },
	{ "a warm cold crash", BATCH("<crash temp='18 C'/>"), "no cold crash" },
	{ "hottest below usual", BATCH("<store temp='20 C' hottest='15 C'/>"), "hottest" },
	{ "an empty reading", BATCH("<reading at='+1d'/>"), "says nothing" },
	{ "a reading without a time", BATCH("<reading wort='18 C'/>"), "no at" },
	{ "gravity rising", BATCH(PITCH "<recipe og='1.040 SG'/><reading at='+3d' gravity='1.050 SG'/>"),
	    "above the planned" },
	{ "a broken thermometer", BATCH("<instrument item='thermometer' off-temp='-9 K'/>"), "broken" },
	{ "primed and under gas", BATCH("<package into='keg' priming='80 g'/><carbonate pressure='1 bar'/>"),
	    "over-carbonated" },
	{ "bottles under gas", BATCH("<package into='bottles'/><carbonate/>"), "for kegs" },
	{ "five bar", BATCH("<carbonate pressure='5 bar'/>"), "gauge" },
	{ "much sugar", BATCH("<package priming='400 g' volume='20 L'/>"), "12 g/L" },
	{ "sugar a little over", BATCH("<package priming='250 g' volume='20 L'/>"), "12 g/L" },
	{ "sugar of one bottle or litre", BATCH("<package priming='10 g' mixing='per-bottle' volume='19 L'/>"),
	    "less than 2 g/L" },
	{ "more beer than wort", BATCH("<recipe volume='10 L'/><package volume='19 L'/>"), "half as much" },
	{ "final above original", BATCH("<recipe og='1.040 SG'/><package gravity='1.050 SG'/>"),
	    "above every gravity" },
	{ "shares of 60 %", BATCH("<recipe><malt share='50 %'/><sugar share='10 %'/></recipe>"), "60 %" },
	{ "one share untold", BATCH("<recipe><malt share='50 %'/><malt/></recipe>"), NULL },
	{ "fruit of no amount and no time", BATCH("<recipe><extra name='cherry'/></recipe>"),
	    "\"cherry\" tells no amount and no time: if it ferments" },
	{ "an extra without a name", BATCH("<recipe><extra at='+5d'/></recipe>"),
	    "<extra> tells no amount: if it ferments" },
	{ "what does not ferment", BATCH("<recipe><extra name='oak' sugars='0 %'/></recipe>"), NULL },
	{ "fruit of told amount", BATCH("<recipe><extra name='cherry' amount='2 kg'/></recipe>"), NULL },
	{ "late sugar of no amount", BATCH("<recipe><sugar kind='sucrose' at='+5d'/></recipe>"),
	    "went in later tells no amount" },
	{ "sugar of the wort", BATCH("<recipe><sugar kind='sucrose'/></recipe>"), NULL },
	{ "transfer to nowhere", BATCH("<vessel id='x'/><transfer to='y'/>"), "\"y\"" },
	{ "transfer to the package", BATCH("<package id='y'/><transfer to='y'/>"), NULL },
	{ "found twice", BATCH("<tasting at='+9d'><found fault='sour'/><found fault='Sour'/></tasting>"), "twice" },
	{ "feared and strong",
	    BATCH("<tasting at='+9d'><found fault='sour' feared='yes' intensity='4'/></tasting>"), "only feared" },
	{ "tastings without a date",
	    BATCH("<tasting complete='yes'/><tasting at='+9d'><found fault='sour'/></tasting>"), "no at" },
	{ "the only tasting without a date", BATCH("<tasting><found fault='sour'/></tasting>"), NULL },
	{ "behaviour told", BATCH("<tasting at='+9d' complete='yes'/>"
	    "<tasting><found fault='sour' behaviour='fading'/></tasting>"), NULL },
	{ "of one told, of one not", BATCH("<tasting at='+9d' complete='yes'/>"
	    "<tasting><found fault='sour' behaviour='fading'/><found fault='papery'/></tasting>"), "no at" },
	{ "score of how many", BATCH("<tasting at='+9d' score='31'/>"), "out of how many" },
	{ "tastings in disorder", BATCH("<tasting at='2031-04-09'/><tasting at='2031-04-02'/>"),
	    "before the one above" },
	{ "written twice", BATCH("<tasting at='2031-04-09' by='Mo'/><tasting at='2031-04-09' by='Mo'/>"),
	    "written twice" },
	{ "two tasters of one day", BATCH("<tasting at='2031-04-09' by='Mo'/><tasting at='2031-04-09' by='Al'/>"),
	    NULL },
};

START_TEST(listed)
{
	struct ab_list out = { 0 };
	const char *says = oddities[_i].says;
	ck_assert_msg(rd_text(oddities[_i].text) == AB_OK, "%s: %s", oddities[_i].title, rd.diag.text);
	ck_assert_int_eq(ab_batch_odd(rd.got, rd.arena, &out, &rd.diag), AB_OK);
	const struct ab_odd *first = out.items;
	if (says == NULL)
		ck_assert_msg(out.n == 0, "%s: %s", oddities[_i].title, out.n > 0 ? first->text : "");
	else
		ck_assert_msg(out.n == 1 && strstr(first->text, says) != NULL && first->line == 2, "%s: %zu: %s",
		    oddities[_i].title, out.n, out.n > 0 ? first->text : "nothing");
}
END_TEST

START_TEST(short_memory)
{
	struct ab_list out = { 0 };
	ck_assert_int_eq(rd_text(BATCH("<tasting score='31'/>")), AB_OK);
	struct ab_arena *fresh = ab_arena_new();
	ab_alloc_fail_at(0);
	/* fill what the rd.arena holds in reserve */
	while (ab_arena_alloc(fresh, 1, 64) != NULL)
		;
	enum ab_status st = ab_batch_odd(rd.got, fresh, &out, &rd.diag);
	ab_alloc_fail_at(-1);
	ab_arena_free(fresh);
	ck_assert_int_eq(st, AB_ENOMEM);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("odd");
	TCase *tc = tcase_create("odd");
	tcase_add_checked_fixture(tc, rd_set_up, rd_tear_down);
	tcase_add_loop_test(tc, refused, 0, sizeof impossible / sizeof *impossible);
	tcase_add_loop_test(tc, listed, 0, sizeof oddities / sizeof *oddities);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
