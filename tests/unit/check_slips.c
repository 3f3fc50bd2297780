/* check_slips.c - a slip of the unit or the decimal point is caught, and an odd brewer is not
 *
 * The bounds themselves are estimates in journal/tables.c. Here stand, as text, what real people do at the far
 * ends, and what nobody does.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>

static struct ab_arena *arena;
static struct ab_diag diag;

static void set_up(void)
{
	arena = ab_arena_new();
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)ctx;
	(void)batch;
	(void)d;
	return AB_OK;
}

static enum ab_status read_inner(const char *inner)
{
	const char *text = ab_arena_printf(
	    arena, "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'>\n%s</batch>", inner);
	ab_diag_init(&diag);
	return ab_journal_read_memory(text, strlen(text), "j.xml", NULL, arena, keep, NULL, &diag);
}

static const struct { const char *title, *odd, *slip; } rows[] = {
	{ "a batch: a jar, a shared pilot kit", "<recipe volume='1 L'/>", "<recipe volume='20000 L'/>" },
	{ "a batch of nothing", "<recipe volume='100 mL'/>", "<recipe volume='20 mL'/>" },
	{ "original gravity: small beer", "<recipe og='1.018 SG'/>", "<recipe og='10.48 SG'/>" },
	{ "original gravity: the strongest there are", "<recipe og='1.200 SG'/>", "<recipe og='1.480 SG'/>" },
	{ "original gravity: wort is no lighter than water", "<recipe og='1.000 SG'/>", "<recipe og='0.990 SG'/>" },
	{ "final gravity: bone dry", "<recipe fg='0.990 SG'/>", "<recipe fg='0.912 SG'/>" },
	{ "gas: as flat as cask, as lively as a sparkling beer", "<recipe co2='5 vol'/>", "<recipe co2='24 vol'/>" },
	{ "bitterness", "<recipe bitterness='200 IBU'/>", "<recipe bitterness='3500 IBU'/>" },
	{ "alpha acids: the highest bred", "<recipe><hop alpha='22 %'/></recipe>",
	    "<recipe><hop alpha='65 %'/></recipe>" },
	{ "malt: a sack for a pilot kit", "<recipe><malt amount='400 kg'/></recipe>",
	    "<recipe><malt amount='5000 kg'/></recipe>" },
	{ "mash: a raw ale", "<mash temp='50 C'/>", "<mash temp='152 C'/>" },
	{ "mash: an acid rest", "<mash temp='35 C'/>", "<mash temp='6.6 C'/>" },
	{ "mash: overnight", "<mash time='14 h'/>", "<mash time='90 h'/>" },
	{ "sparge: boiling at sea level", "<mash sparge-temp='100 C'/>", "<mash sparge-temp='170 C'/>" },
	{ "last runnings: water", "<mash last-runnings='1.000 SG'/>", "<mash last-runnings='1.480 SG'/>" },
	{ "runnings' pH", "<mash runnings-ph='6.5'/>", "<mash runnings-ph='56'/>" },
	{ "boil: six hours for a barley wine", "<boil time='6 h'/>", "<boil time='90 h'/>" },
	{ "boil-off: half of it", "<boil off='50 %'/>", "<boil off='95 %'/>" },
	{ "stand: kept warm for souring", "<stand temp='40 C' time='40 h'/>", "<stand temp='185 C'/>" },
	{ "chill: three days closed", "<chill to-pitch='3 d'/>", "<chill to-pitch='4 mo'/>" },
	{ "iron: a rusty well", "<water iron='20 mg/L'/>", "<water iron='300 mg/L'/>" },
	{ "sulphate: a famous town's", "<water sulphate='800 mg/L'/>", "<water sulphate='8 g/L'/>" },
	{ "yeast: found in the back of the fridge", "<yeast age='10 y'/>", "<yeast age='100 y'/>" },
	{ "packs of yeast", "<yeast packs='12'/>", "<yeast packs='11500'/>" },
	{ "cells", "<yeast cells='900 Gcells'/>", "<yeast cells='200000000 Gcells'/>" },
	{ "times reused", "<yeast generation='40'/>", "<yeast generation='2031'/>" },
	{ "pitched near freezing", "<pitch temp='4 C'/>", "<pitch temp='-20 C'/>" },
	{ "pitched as hot as farm yeast bears", "<pitch temp='43 C'/>", "<pitch temp='190 C'/>" },
	{ "aerated all night by a fish pump", "<aerate time='10 h'/>", "<aerate time='40 d'/>" },
	{ "a fermenter in the snow", "<vessel room='-15 C'/>", "<vessel room='-50 C'/>" },
	{ "a fermenter in a hot shed", "<vessel room='45 C'/>", "<vessel room='70 C'/>" },
	{ "a tank under pressure", "<vessel rated-pressure='6 bar'/>", "<vessel rated-pressure='60 bar'/>" },
	{ "frozen to slush", "<reading at='+9d' wort='-3 C'/>", "<reading at='+9d' wort='-18 C'/>" },
	{ "wort near boiling", "<reading wort='100 C'/>", "<reading wort='212 C'/>" },
	{ "a dry reading", "<reading at='+9d' gravity='0.985 SG'/>", "<reading at='+9d' gravity='0.105 SG'/>" },
	{ "sour beer", "<reading at='+9d' ph='2.9'/>", "<reading at='+9d' ph='0.43'/>" },
	{ "lag: three weeks in a cellar", "<lag first-signs='21 d'/>", "<lag first-signs='72 d'/>" },
	{ "rest: a year on oak", "<rest for='1 y'/>", "<rest for='30 y'/>" },
	{ "crash: below freezing", "<crash temp='-2 C'/>", "<crash temp='-28 C'/>" },
	{ "dry hops: none weighed", "<dry-hop amount='0 g'/>", "<dry-hop amount='-60 g'/>" },
	{ "sanitiser: twice the label", "<gear item='hose' label-share='200 %'/>",
	    "<gear item='hose' label-share='20000 %'/>" },
	{ "sanitiser: forgotten for weeks", "<gear item='hose' contact='20 d'/>",
	    "<gear item='hose' contact='20 y'/>" },
	{ "dose", "<gear item='hose' dose='30 mL/L'/>", "<gear item='hose' dose='3000 mL/L'/>" },
	{ "not primed", "<package priming='0 g'/>", "<package priming='-1 g'/>" },
	{ "primed: a pinch", "<package priming='0.5 g'/>", "<package priming='700 kg'/>" },
	{ "filled to the brim", "<package neck='0 mm'/>", "<package neck='6 m'/>" },
	{ "no purge, and forty", "<package purges='0'/>", "<package purges='10000'/>" },
	{ "the smallest bottle", "<package size='100 mL'/>", "<package size='33 mL'/>" },
	{ "a soda keg at full line", "<carbonate pressure='4 bar'/>", "<carbonate pressure='120 bar'/>" },
	{ "a keg let off", "<carbonate pressure='0 kPa'/>", "<carbonate pressure='-20 kPa'/>" },
	{ "stored: decades", "<store for='40 y'/>", "<store for='75 y'/>" },
	{ "stored: a car in the sun", "<store hottest='75 C'/>", "<store hottest='95 C'/>" },
	{ "stored: a freezing shed", "<store temp='-8 C'/>", "<store temp='-18 C'/>" },
	{ "a line of 30 m", "<serve line-length='30 m'/>", "<serve line-length='300 m'/>" },
	{ "a line of 3 mm", "<serve line-bore='3 mm'/>", "<serve line-bore='0.19 mm'/>" },
	{ "a wide hose", "<serve line-bore='12 mm'/>", "<serve line-bore='187 mm'/>" },
	{ "a thermometer off by 20 K", "<instrument item='thermometer' off-temp='20 K'/>",
	    "<instrument item='thermometer' off-temp='68 K'/>" },
	{ "a hydrometer off by 10 points, too little", "<instrument item='hydrometer' off-gravity='-10 points'/>",
	  "<instrument item='hydrometer' off-gravity='-90 points'/>" },
	{ "intensity", "<tasting><found fault='sour' intensity='1'/></tasting>",
	    "<tasting><found fault='sour' intensity='6'/></tasting>" },
	{ "intensity of nothing is absence", "<tasting><found fault='sour' intensity='5'/></tasting>",
	  "<tasting><found fault='sour' intensity='0'/></tasting>" },
	{ "served frozen", "<tasting temp='-1 C'/>", "<tasting temp='-40 C'/>" },
	{ "a panel of a club", "<tasting panel='40'/>", "<tasting panel='0'/>" },
	{ "a score of nothing", "<tasting score='0' score-of='50'/>", "<tasting score='0' score-of='0'/>" },
	{ "a test's gravity", "<test kind='forced' result='yes' gravity='0.998 SG'/>",
	    "<test kind='forced' result='yes' gravity='1.998 SG'/>" },
};

START_TEST(slip)
{
	ck_assert_msg(read_inner(rows[_i].odd) == AB_OK, "%s: %s", rows[_i].title, diag.text);
	ck_assert_msg(
	    read_inner(rows[_i].slip) == AB_EINPUT, "%s: the slip is read: %s", rows[_i].title, rows[_i].slip);
	ck_assert_int_eq(diag.line, 2);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("slips");
	TCase *tc = tcase_create("slips");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, slip, 0, sizeof rows / sizeof *rows);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
