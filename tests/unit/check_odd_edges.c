/* check_odd_edges.c - just inside and just outside of every bound that the checks of a journal have
 *
 * What is refused or odd at all is in check_odd.c; here each bound is walked up to from both sides, so that it
 * cannot move unseen. Bounds are those said in the messages.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/check.h>
#include "readcase.h"

#define PITCH "<pitch at='2031-03-07T18:00'/>"

static struct ab_list odd;

/* ---- refused ---- */

static const struct { const char *title, *inside, *outside, *says; } refusals[] = {
	{ "the brew date itself", "<reading at='2031-03-07' wort='18 C'/>", "<reading at='2031-03-06' wort='18 C'/>",
	  "at of <reading> is 2031-03-06, before the brew date 2031-03-07; one of the two is a slip" },
	{ "a minute before pitching", PITCH "<package at='2031-03-07T18:00'/>",
	    PITCH "<package at='2031-03-07T17:59'/>",
	  "<package> is at a time before <pitch>; beer is packaged after pitching" },
	{ "until and from, to the minute", "<store from='+20d 1h' until='+20d 1h'/>",
	    "<store from='+20d 1h' until='+20d 59min'/>",
	  "until of <store> is before its from" },
	{ "a vessel's until", "<vessel from='2031-03-08T10:00' until='2031-03-08'/>",
	    "<vessel from='2031-03-08T10:00' until='2031-03-07'/>",
	  "until of <vessel> is before its from" },
	{ "fg equal to og", "<recipe og='1.040 SG' fg='1.040 SG'/>", "<recipe og='1.040 SG' fg='1.0401 SG'/>",
	  "fg of <recipe> is above its og; were the two exchanged?" },
	{ "a final gravity 20 points up", "<recipe og='1.040 SG'/><package gravity='1.0599 SG'/>",
	    "<recipe og='1.040 SG'/><package gravity='1.0601 SG'/>",
	  "gravity of <package> is 1.060 SG, far above the original gravity of 1.040 SG" },
	{ "shares of 105 %", "<recipe><malt share='60 %'/><sugar share='25 %'/><extract share='20 %'/></recipe>",
	  "<recipe><malt share='60 %'/><sugar share='25 %'/><extract share='21 %'/></recipe>",
	  "the shares of malt, sugar and extract in <recipe> add up to 106 %; they are shares of one whole, at "
	  "most 100 %" },
	{ "beer of 60 C", PITCH "<reading at='+1d' wort='60 C'/>", PITCH "<reading at='+1d' wort='60.1 C'/>",
	  "wort of <reading> is 60.1 C long after pitching; no beer is that hot: check the unit (F?) and the time" },
	{ "hot wort half a day after pitching", PITCH "<reading at='+12h' wort='90 C'/>",
	    PITCH "<reading at='+721min' wort='90 C'/>",
	  "wort of <reading> is 90.0 C long after pitching; no beer is that hot: check the unit (F?) and the time" },
	{ "hot wort, pitch untold: 18:00 of the brew date", "<reading at='2031-03-08T06:00' wort='90 C'/>",
	    "<reading at='2031-03-08T06:01' wort='90 C'/>",
	  "wort of <reading> is 90.0 C long after pitching; no beer is that hot: check the unit (F?) and the time" },
	{ "an empty vessel", "<vessel volume='20 L' headspace='20 L'/>", "<vessel volume='20 L' headspace='20.1 L'/>",
	  "headspace of <vessel> is larger than its volume; volume is what the vessel can hold" },
	{ "the highest score", "<tasting score='20' score-of='20'/>", "<tasting score='20.5' score-of='20'/>",
	  "score of <tasting> is above its score-of, the highest score there is" },
	{ "a panel of whole people", "<tasting panel='3'/>", "<tasting panel='3.2'/>",
	    "panel of <tasting> is a number of people; write a whole number" },
	{ "a whole intensity", "<tasting><found fault='sour' intensity='5'/></tasting>",
	    "<tasting><found fault='sour' intensity='4.9'/></tasting>",
	  "intensity of <found> is one of 1, 2, 3, 4, 5: 1 barely there, 5 undrinkable" },
	{ "a bottle on the day of bottling", "<package at='2031-03-21T10:00'/><tasting at='2031-03-21' from='bottle'/>",
	  "<package at='2031-03-21T10:00'/><tasting at='2031-03-20' from='bottle'/>",
	  "<tasting> from a bottle or keg is at a time before <package>; was it from the fermenter?" },
	{ "a keg before it was filled",
	    "<package at='2031-03-21T10:00'/><tasting at='2031-03-21T09:00' from='packaging'/>",
	  "<package at='2031-03-21T10:00'/><tasting at='2031-03-21T09:00' from='tap-keg'/>",
	  "<tasting> from a bottle or keg is at a time before <package>; was it from the fermenter?" },
	{ "absent and found in two tastings",
	    "<tasting><found fault='sour'/></tasting><tasting><absent fault='sour'/></tasting>",
	  "<tasting><found fault='sour'/><absent fault='SOUR'/></tasting>",
	  "\"SOUR\" is both found (line 2) and absent in one tasting; keep one" },
};

START_TEST(refused)
{
	ck_assert_msg(rd_inner(refusals[_i].inside) == AB_OK, "%s: inside: %s", refusals[_i].title, rd.diag.text);
	ck_assert_msg(rd_inner(refusals[_i].outside) == AB_EINPUT, "%s: outside is read", refusals[_i].title);
	ck_assert_msg(strcmp(rd.diag.text, refusals[_i].says) == 0, "%s: %s", refusals[_i].title, rd.diag.text);
	ck_assert_int_eq(rd.diag.line, 2);
	ck_assert_str_eq(rd.diag.source, "j.xml");
}
END_TEST

/* ---- odd ---- */

/* Before what is only left out. */
#define UNTOLD "untold: "

static const struct { const char *title, *inside, *outside, *says; } oddities[] = {
	{ "five years", "<tasting at='2036-03-05'/>", "<tasting at='2036-03-06'/>",
	  "at of <tasting> is 2036-03-06, more than five years after the brew date" },
	{ "a week to pitching", "<pitch at='2031-03-14T12:00'/>", "<pitch at='2031-03-14T12:01'/>",
	    "<pitch> is more than a week after the brew date" },
	{ "hops on the day of bottling", "<package at='2031-03-20' into='bottles'/><dry-hop at='2031-03-20'/>",
	  "<package at='2031-03-20' into='bottles'/><dry-hop at='2031-03-21'/>",
	  "<dry-hop> is after <package> into bottles" },
	{ "stored on the day of packaging", "<package at='2031-03-20T12:00'/><store from='2031-03-20T12:00'/>",
	  "<package at='2031-03-20T12:00'/><store from='2031-03-20T11:59'/>",
	  "<store> starts before <package>; the fermenter's time belongs to <vessel>" },
	{ "pitched at 40 C", "<pitch temp='40 C'/>", "<pitch temp='41 C'/>",
	    "pitched at 41 C: above 40 C yeast dies; is the unit F?" },
	{ "yeast two years past its date", "<yeast best-before='2029-03-07'/>", "<yeast best-before='2029-03-06'/>",
	  "best-before of <yeast> is more than two years before the brew date" },
	{ "no starter, not stirred", "<yeast made-starter='no' stirred='no'/>",
	    "<yeast made-starter='no' stirred='yes'/>",
	  "<yeast> says that no starter was made and that it was stirred" },
	{ "five days of lag", "<lag first-signs='5 d'/>", "<lag first-signs='121 h'/>",
	    "first-signs of <lag> is more than five days" },
	{ "beer at 40 C", PITCH "<reading at='+1d' wort='40 C'/>", PITCH "<reading at='+1d' wort='41 C'/>",
	  "wort of <reading> is 41 C after pitching: hotter than beer gets but by kveik and accident" },
	{ "warm wort half a day after pitching", PITCH "<reading at='+12h' wort='50 C'/>",
	    PITCH "<reading at='+13h' wort='50 C'/>",
	  "wort of <reading> is 50 C after pitching: hotter than beer gets but by kveik and accident" },
	{ "a crash to 15 C", "<crash temp='15 C'/>", "<crash temp='16 C'/>", "<crash> to 16 C is no cold crash" },
	{ "hottest as usual", "<store temp='20 C' hottest='20 C'/>", "<store temp='20 C' hottest='19 C'/>",
	    "hottest of <store> is below its temp" },
	{ "a reading of pH alone", "<reading at='+1d' ph='4.4'/>", "<reading at='+1d' instrument='strip'/>",
	  "<reading> says nothing: it has no wort, room, gravity or ph" },
	{ "a reading of the room alone", "<reading at='+1d' room='18 C'/>", "<reading room='18 C'/>",
	  UNTOLD "<reading> has no at, so nobody knows when it was" },
	{ "4 points over plan", PITCH "<recipe og='1.040 SG'/><reading at='+3d' gravity='1.0439 SG'/>",
	  PITCH "<recipe og='1.040 SG'/><reading at='+3d' gravity='1.0441 SG'/>",
	  "gravity of <reading> is above the planned original gravity days after pitching" },
	{ "over plan, but within two days", PITCH "<recipe og='1.040 SG'/><reading at='+48h' gravity='1.050 SG'/>",
	  PITCH "<recipe og='1.040 SG'/><reading at='+49h' gravity='1.050 SG'/>",
	  "gravity of <reading> is above the planned original gravity days after pitching" },
	{ "a thermometer off by 5 K", "<instrument item='thermometer' off-temp='-5 K'/>",
	    "<instrument item='thermometer' off-temp='-6 K'/>",
	  "off-temp of <instrument> is -6 K: such an instrument is broken" },
	{ "a keg primed, not under gas", "<package into='keg' priming='80 g'/><carbonate temp='4 C'/>",
	  "<package into='keg' priming='80 g'/><carbonate pressure='80 kPa'/>",
	  "the keg has priming sugar and was put under gas as well: it may end over-carbonated" },
	{ "a keg under gas, not primed", "<package into='keg' priming='0 g'/><carbonate pressure='80 kPa'/>",
	  "<package into='keg' priming='1 g'/><carbonate pressure='80 kPa'/>",
	  "the keg has priming sugar and was put under gas as well: it may end over-carbonated" },
	{ "a cask under gas", "<package into='cask'/><carbonate temp='4 C'/>",
	    "<package into='bottles'/><carbonate temp='4 C'/>",
	  "<carbonate> is for kegs, and <package> says bottles" },
	{ "bottles filled from a keg", "<package into='bottles' priming='0 g'/><carbonate temp='4 C'/>",
	  "<package into='bottles' priming='1 g'/><carbonate temp='4 C'/>",
	  "<carbonate> is for kegs, and <package> says bottles with priming sugar: if both went into the same "
	  "beer, the bottles may "
	  "burst" },
	{ "four bar", "<carbonate pressure='400 kPa'/>", "<carbonate pressure='401 kPa'/>",
	  "pressure of <carbonate> is 401 kPa: is it gauge pressure, and the unit right?" },
	{ "12 g of sugar a litre", "<package priming='240 g' volume='20 L'/>",
	    "<package priming='241 g' volume='20 L'/>",
	  "241 g of priming in 20.0 L is more than 12 g/L" },
	{ "half as much again", "<recipe volume='20 L'/><package volume='30 L'/>",
	    "<recipe volume='20 L'/><package volume='30.1 L'/>",
	  "volume of <package> is half as much again as the recipe's" },
	{ "packaged at its original gravity", "<recipe og='1.040 SG'/><package gravity='1.0439 SG'/>",
	    "<recipe og='1.040 SG'/><package gravity='1.0441 SG'/>",
	  "gravity of <package> is above every gravity before it" },
	{ "read in the bottle", "<package at='+14d' gravity='1.009 SG'/><reading at='+75d' gravity='1.003 SG'/>",
	    "<package at='+14d' gravity='1.009 SG'/><reading at='+12d' gravity='1.003 SG'/>",
	  "gravity of <package> is above every gravity before it" },
	{ "read on some day", "<package at='+14d' gravity='1.009 SG'/><reading gravity='1.003 SG' at='+14d'/>",
	    "<package at='+14d' gravity='1.009 SG'/><reading gravity='1.003 SG' at='+13d'/>",
	  "gravity of <package> is above every gravity before it" },
	{ "packaged on some day", "<package gravity='1.009 SG'/><reading at='+75d' gravity='1.003 SG'/>",
	    "<package gravity='1.009 SG'/><reading at='+0d' gravity='1.003 SG'/>",
	  "gravity of <package> is above every gravity before it" },
	{ "read so long after packaging", "<package at='2031-03-27' gravity='1.009 SG'/>"
	    "<reading at='package+3d' gravity='1.003 SG'/>",
	    "<package at='2031-03-27' gravity='1.009 SG'/><reading at='2031-03-20' gravity='1.003 SG'/>"
	    "<reading at='package+3d' gravity='1.020 SG'/>",
	  "gravity of <package> is above every gravity before it" },
	{ "perhaps before", "<package gravity='1.009 SG'/><reading at='+0d' gravity='1.003 SG'/>"
	    "<reading at='+9d' gravity='1.012 SG'/>",
	    "<package gravity='1.009 SG'/><reading at='+0d' gravity='1.003 SG'/>"
	    "<reading at='+9d' gravity='1.002 SG'/>",
	  "gravity of <package> is above every gravity before it" },
	{ "shares of 95 %", "<recipe><malt share='70 %'/><sugar share='15 %'/><extract share='10.1 %'/></recipe>",
	  "<recipe><malt share='70 %'/><sugar share='14 %'/><extract share='10 %'/></recipe>",
	  UNTOLD "the shares in <recipe> add up to 94 % only: what the rest was is not known" },
	{ "all told, of 95 %", "<recipe complete='yes'><malt share='95.1 %'/></recipe>",
	  "<recipe complete='yes'><malt share='94 %'/></recipe>",
	  "the shares in <recipe>, which is said to be complete, add up to 94 % only" },
	{ "a vessel's own id", "<vessel id='x'/><transfer to='x'/>", "<vessel id='x'/><transfer to='X'/>",
	  "to of <transfer> is \"X\", and no vessel or package of this batch has that id" },
	{ "feared, barely", "<tasting at='+9d'><found fault='sour' feared='yes' intensity='1'/></tasting>",
	  "<tasting at='+9d'><found fault='sour' feared='yes' intensity='2'/></tasting>",
	  "\"sour\" is only feared, yet has an intensity above 1" },
	{ "found once each", "<tasting at='+9d'><found fault='sour'/><found fault='papery'/></tasting>",
	  "<tasting at='+9d'><found fault='green apple'/><found fault='papery'/><found fault='Green-Apple'/></tasting>",
	  "\"Green-Apple\" is found twice in one tasting" },
#define FOUND(more) "<found fault='sour'" more "/>"
#define NO_DAY "<tasting> has no at, and there is another; without their days it cannot be told whether a fault " \
	"grows or fades (behaviour of <found> says it too)"
#define CLEAN(more) "<tasting complete='yes'" more "/>"
	{ "a dated tasting", "<tasting at='+9d'>" FOUND("") "</tasting>" CLEAN(" at='+10d'"),
	  "<tasting at='+9d'>" FOUND("") "</tasting>" CLEAN(""), UNTOLD NO_DAY },
	{ "nothing found, nothing to grow", CLEAN(" at='+9d'") CLEAN(" by='Mo'"),
	  CLEAN(" at='+9d'") "<tasting by='Mo'>" FOUND("") "</tasting>", UNTOLD NO_DAY },
	{ "told there that it fades", "<tasting at='+9d'>" FOUND(" behaviour='fading'") "</tasting>" CLEAN(""),
	  "<tasting at='+9d'>" FOUND("") "</tasting>" CLEAN(""), UNTOLD NO_DAY },
	{ "told of the same fault in the other glass",
	  "<tasting at='+9d'>" FOUND(" intensity='1' behaviour='growing'") "</tasting><tasting>"
	  FOUND(" intensity='3'") "</tasting>",
	  "<tasting at='+9d'><found fault='buttery' behaviour='growing'/><absent fault='sour'/></tasting><tasting>"
	  FOUND(" intensity='3'") "</tasting>", UNTOLD NO_DAY },
	{ "the other glass is silent about it", "<tasting at='+9d'>" FOUND("") "</tasting><tasting>"
	  "<absent fault='papery'/></tasting>",
	  "<tasting at='+9d'>" FOUND("") "</tasting><tasting><absent fault='Sour'/></tasting>", UNTOLD NO_DAY },
	{ "how strong it was is not told", "<tasting at='+9d'>" FOUND("") "</tasting><tasting>"
	  FOUND(" intensity='3'") "</tasting>",
	  "<tasting at='+9d'>" FOUND(" intensity='1'") "</tasting><tasting>" FOUND(" intensity='3'") "</tasting>",
	  UNTOLD NO_DAY },
	{ "bottle beside tap", "<tasting from='bottle' at='+9d'>" FOUND("") "</tasting>" CLEAN(" from='tap-keg'"),
	  "<tasting from='bottle' at='+9d'>" FOUND("") "</tasting>" CLEAN(" from='bottle'"), UNTOLD NO_DAY },
	{ "cap beside cork", "<tasting mark='cap' at='+9d'>" FOUND("") "</tasting>" CLEAN(" mark='cork'"),
	  "<tasting mark='cap' at='+9d'>" FOUND("") "</tasting>" CLEAN(" mark='cap'"), UNTOLD NO_DAY },
	{ "a score of so many", "<tasting at='+9d' score='31' score-of='50'/>", "<tasting at='+9d' score='31'/>",
	  UNTOLD "score of <tasting> has no score-of: out of how many?" },
	{ "tastings of one day", "<tasting at='2031-04-09' by='Mo'/><tasting at='2031-04-09T10:00' by='Mo'/>",
	  "<tasting at='2031-04-09' by='Mo'/><tasting at='2031-04-08' by='Mo'/>",
	  "<tasting> is dated before the one above it (line 2)" },
	{ "one taster, bottle and tap",
	    "<tasting at='2031-04-09' by='Mo' from='bottle'/><tasting at='2031-04-09' by='Mo' from='tap-keg'/>",
	  "<tasting at='2031-04-09' by='Mo' from='bottle'/><tasting at='2031-04-09' by='Mo' from='bottle'/>",
	  "<tasting> has the date and the taster of the one above it (line 2): written twice?" },
	{ "two tastings by nobody", "<tasting at='2031-04-09'/><tasting at='2031-04-09'/>",
	  "<tasting at='2031-04-09' by='Al'/><tasting at='2031-04-09' by='Al'/>",
	  "<tasting> has the date and the taster of the one above it (line 2): written twice?" },
};

static const struct ab_odd *list_odd(const char *title, const char *inner)
{
	ck_assert_msg(rd_inner(inner) == AB_OK, "%s: %s", title, rd.diag.text);
	odd = (struct ab_list){ 0 };
	ck_assert_int_eq(ab_batch_odd(rd.got, rd.arena, &odd, &rd.diag), AB_OK);
	return odd.items;
}

START_TEST(listed_as_odd)
{
	const struct ab_odd *items = list_odd(oddities[_i].title, oddities[_i].inside);
	ck_assert_msg(odd.n == 0, "%s: inside: %s", oddities[_i].title, odd.n > 0 ? items[0].text : "");
	items = list_odd(oddities[_i].title, oddities[_i].outside);
	ck_assert_msg(odd.n == 1, "%s: outside: %zu are odd", oddities[_i].title, odd.n);
	const char *says = oddities[_i].says;
	bool untold = strncmp(says, UNTOLD, strlen(UNTOLD)) == 0;
	ck_assert_msg(items[0].untold == untold, "%s: untold?", oddities[_i].title);
	says += untold ? strlen(UNTOLD) : 0;
	ck_assert_msg(strcmp(items[0].text, says) == 0, "%s: %s", oddities[_i].title, items[0].text);
	ck_assert_int_eq(items[0].line, 2);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("odd-edges");
	TCase *tc = tcase_create("edges");

	tcase_add_checked_fixture(tc, rd_set_up, rd_tear_down);
	tcase_add_loop_test(tc, refused, 0, sizeof refusals / sizeof *refusals);
	tcase_add_loop_test(tc, listed_as_odd, 0, sizeof oddities / sizeof *oddities);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
