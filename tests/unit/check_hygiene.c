/* check_hygiene.c - cleaning and sanitising
 *
 * The label's contact in the tests' norms: acid 60 s, keeps 7 d mixed; iodine 120 s, keeps 1 d.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"

#define GEAR(item, more) "<gear item='" item "' " more "/>"

static const struct fact_row rows[] = {
	{ .title = "long enough", GEAR("fermenter", "sanitiser='acid' contact='120 s'"),
	  "sanitise.contact-share", 2, 1e-9 },
	{ .title = "the shortest counts", GEAR("fermenter", "sanitiser='acid' contact='120 s'") GEAR("hose",
	  "sanitiser='iodine' contact='30 s'"),
	  "sanitise.contact-share", 0.25, 1e-9 },
	{ .title = "a sanitiser without a norm", GEAR("hose", "sanitiser='alcohol' contact='5 s'"),
	  "sanitise.contact-share", AB_SILENT },
	{ .title = "contact untold", GEAR("hose", "sanitiser='acid'"), "sanitise.contact-share", AB_SILENT },
	/* heat, by Del Vecchio's law: 20 min at 77 C are 20 x 1.393^17 = 5600 units, 10 min at 80 C 7569 */
	{ .title = "heat by the book", GEAR("tap", "sanitiser='heat' heat='77 C' contact='20 min'"),
	  "sanitise.contact-share", 1, 1e-9, .u = 0.35 },
	{ .title = "hotter and shorter", GEAR("tap", "sanitiser='heat' heat='80 C' contact='10 min'"),
	  "sanitise.contact-share", 1.35152, 1e-4 },
	{ .title = "lukewarm for long", GEAR("tap", "sanitiser='heat' heat='60 C' contact='30 min'"),
	  "sanitise.contact-share", 0.005357, 1e-5 },
	{ .title = "nobody says how hot", GEAR("tap", "sanitiser='heat' contact='10 min'"),
	  "sanitise.contact-share", 0.5, 1e-9 },
	{ .title = "heat against acid: the least counts", GEAR("tap", "sanitiser='heat' heat='77 C' contact='20 min'")
	  GEAR("hose", "sanitiser='acid' contact='30 s'"), "sanitise.contact-share", 0.5, 1e-9 },
	{ .title = "units", GEAR("tap", "sanitiser='heat' heat='77 C' contact='20 min'"), "sanitise.heat-units",
	  5600.14, 0.1, .u = 1960 },
	{ .title = "the coldest piece", GEAR("tap", "sanitiser='heat' heat='77 C' contact='20 min'")
	  GEAR("wand", "sanitiser='heat' heat='60 C' contact='30 min'"), "sanitise.heat-units", 30, 1e-9 },
	{ .title = "boiled counts as 80 C", GEAR("tap", "sanitiser='boiling' contact='10 min'"),
	  "sanitise.heat-units", 7568.72, 0.1 },
	{ .title = "in Fahrenheit", GEAR("tap", "sanitiser='heat' heat='170.6 F' contact='20 min'"),
	  "sanitise.heat-units", 5600.14, 0.1 },
	{ .title = "a warm acid is no heat", GEAR("tap", "sanitiser='acid' heat='60 C' contact='60 s'"),
	  "sanitise.heat-units", AB_SILENT },
	{ .title = "no heat without its warmth", GEAR("tap", "sanitiser='heat' contact='20 min'"),
	  "sanitise.heat-units", AB_SILENT },
	{ .title = "by habit", "", "sanitise.heat-units", 30, 1e-9,
	  "<usual>" GEAR("tap", "sanitiser='heat' heat='60 C' contact='30 min'") "</usual>", AB_ORIGIN_USUAL },
	{ .title = "weakest dose", GEAR("hose", "label-share='100 %'") GEAR("tap", "label-share='40 %'"),
	  "sanitise.dose-share", 0.4, 1e-9 },
	{ .title = "mixed too long ago", GEAR("hose", "sanitiser='iodine' mixed-age='4 d'"),
	  "sanitise.mix-age", 3, 1e-9 },
	{ .title = "mixed today", GEAR("hose", "sanitiser='acid' mixed-age='1 h'"), "sanitise.mix-age", 0, 0 },
	/* missed */
	{ .title = "hose not sanitised", GEAR("fermenter", "sanitiser='acid'") GEAR("hose",
	  "sanitiser='none'"), "sanitise.missed", 1, 0 },
	{ .title = "all sanitised", GEAR("everything", "sanitiser='acid'"), "sanitise.missed", 0, 0, NULL,
	    AB_ORIGIN_DERIVED },
	{ .title = "one piece tells of itself", GEAR("fermenter", "sanitiser='acid'"), "sanitise.missed", AB_SILENT },
	{ .title = "two pieces too", GEAR("fermenter", "sanitiser='acid'") GEAR("hose", "sanitiser='boiling'"),
	  "sanitise.missed", AB_SILENT },
	{ .title = "two hoses are one kind",
	    GEAR("fermenter", "sanitiser='acid'") GEAR("hose", "sanitiser='acid'") GEAR("hose", "sanitiser='acid'"),
	  "sanitise.missed", AB_SILENT },
	{ .title = "three kinds: taken for all", GEAR("fermenter", "sanitiser='acid'") GEAR("hose", "sanitiser='acid'")
	  GEAR("bottles", "sanitiser='acid'"), "sanitise.missed", 0, 0, NULL, AB_ORIGIN_ASSUMED },
	{ .title = "three, and one that was not", GEAR("fermenter", "sanitiser='acid'") GEAR("hose", "sanitiser='acid'")
	  GEAR("bottles", "sanitiser='acid'") GEAR("tap", "sanitiser='none'"), "sanitise.missed", 1, 0, NULL,
	  AB_ORIGIN_DERIVED },
	{ .title = "all but one", GEAR("everything", "sanitiser='acid'") GEAR("tap", "sanitiser='none'"),
	    "sanitise.missed", 1, 0 },
	{ .title = "nothing was", GEAR("everything", "sanitiser='none'"), "sanitise.missed", 1, 0 },
	{ .title = "nothing told", GEAR("fermenter", ""), "sanitise.missed", AB_SILENT },
	{ .title = "at pitching", "<pitch at='2031-03-01T18:00' clean='no'/>", "sanitise.missed", 1, 0 },
	{ .title = "clean pitching does not clear the rest", "<pitch at='2031-03-01T18:00' clean='yes'/>",
	  "sanitise.missed", AB_SILENT },
	{ .title = "fruit", "<recipe><extra name='cherry' sanitised='no'/></recipe>", "sanitise.missed", 1, 0 },
	{ .title = "a coil is boiled anyway", "<chill method='coil'/>" GEAR("chiller", "sanitiser='none'"),
	  "sanitise.missed", AB_SILENT },
	{ .title = "a plate chiller is not", "<chill method='plate'/>" GEAR("chiller", "sanitiser='none'"),
	  "sanitise.missed", 1, 0 },
	{ .title = "what samples are taken with",
	    GEAR("fermenter", "sanitiser='acid'") GEAR("sampler", "sanitiser='none'"),
	  "sanitise.missed", 1, 0 },
	{ .title = "not on the cold side", GEAR("other", "sanitiser='none'"), "sanitise.missed", AB_SILENT },
	/* the kettle: wort boils in it */
	{ .title = "a kettle not sanitised", GEAR("kettle", "sanitiser='none'"), "sanitise.missed", AB_SILENT },
	{ .title = "a kettle clears nothing", GEAR("pot", "sanitiser='acid'") GEAR("fermenter", "sanitiser='acid'")
	  GEAR("hose", "sanitiser='acid'"), "sanitise.missed", AB_SILENT },
	{ .title = "a burnt ring in the kettle", GEAR("kettle", "soil='yes'"), "clean.soil-left", AB_SILENT },
	{ .title = "lye in the kettle", GEAR("kettle", "cleaned='caustic' rinse='none'"), "clean.unrinsed", AB_SILENT },
	{ .title = "a kettle boiled a minute", GEAR("kettle", "sanitiser='heat' heat='70 C' contact='1 min'"),
	  "sanitise.heat-units", AB_SILENT },
	{ .title = "a rusty kettle", GEAR("kettle", "rusty='yes'"), "gear.rusty", 1, 0 },
	{ .title = "its sealant", GEAR("boil kettle", "for-food='no'"), "gear.for-food", 0, 0 },
	{ .title = "beside a kettle the habit stands", GEAR("kettle", "rusty='yes'"), "sanitise.missed", 1, 0,
	  "<usual>" GEAR("hose", "sanitiser='none'") "</usual>", AB_ORIGIN_USUAL },
	{ .title = "habit", "", "sanitise.missed", 1, 0, "<usual>" GEAR("hose", "sanitiser='none'") "</usual>",
	  AB_ORIGIN_USUAL },
	{ .title = "gear told beats habit", GEAR("hose", "sanitiser='acid'"), "sanitise.missed", AB_SILENT, 0,
	  "<usual>" GEAR("tap", "sanitiser='none'") "</usual>" },
	/* agents */
	{ .title = "rinsed from the tap", GEAR("hose", "sanitiser='acid' rinse='tap'"), "sanitise.rinsed-tap", 1, 0 },
	{ .title = "not rinsed", GEAR("everything", "sanitiser='acid' rinse='none'"), "sanitise.rinsed-tap", 0, 0 },
	{ .title = "one piece not rinsed", GEAR("hose", "sanitiser='acid' rinse='none'"), "sanitise.rinsed-tap",
	    AB_SILENT },
	{ .title = "only cleaned and rinsed", GEAR("hose", "sanitiser='none' rinse='tap'"),
	  "sanitise.rinsed-tap", AB_SILENT },
	{ .title = "bleach as sanitiser", GEAR("hose", "sanitiser='bleach'"), "sanitise.bleach", 1, 0 },
	{ .title = "bleach as cleaner", GEAR("hose", "cleaned='bleach'"), "sanitise.bleach", 1, 0 },
	{ .title = "no bleach", GEAR("everything", "cleaned='percarbonate' sanitiser='acid'"), "sanitise.bleach", 0,
	    0 },
	{ .title = "no bleach in the hose", GEAR("hose", "cleaned='percarbonate' sanitiser='acid'"),
	    "sanitise.bleach", AB_SILENT },
	{ .title = "cleaned without it, and sanitised?", GEAR("everything", "cleaned='percarbonate'"),
	    "sanitise.bleach", AB_SILENT },
	{ .title = "no bleach on three",
	    GEAR("hose", "sanitiser='acid'") GEAR("keg", "sanitiser='acid'") GEAR("tap", "sanitiser='heat'"),
	  "sanitise.bleach", 0, 0, NULL, AB_ORIGIN_ASSUMED },
	/* cleaned, and nobody tells with what */
	{ .title = "cleaned with something", GEAR("bottles", "cleaned='yes' sanitiser='acid'"), "bottles.clean", 1, 0 },
	{ .title = "which may be bleach", GEAR("everything", "cleaned='yes' sanitiser='acid'"), "sanitise.bleach",
	  AB_SILENT },
	{ .title = "or scented", GEAR("everything", "cleaned='yes'"), "clean.scented-soap", AB_SILENT },
	{ .title = "or lye", GEAR("everything", "cleaned='yes'"), "clean.alkaline", AB_SILENT },
	{ .title = "or water, so nothing is known to be left", GEAR("hose", "cleaned='yes' rinse='none'"),
	  "clean.unrinsed", AB_SILENT },
	{ .title = "scent", GEAR("hose", "cleaned='scented-soap'"), "clean.scented-soap", 1, 0 },
	{ .title = "no scent", GEAR("everything", "cleaned='water'"), "clean.scented-soap", 0, 0 },
	{ .title = "alkaline", GEAR("hose", "cleaned='percarbonate'"), "clean.alkaline", 1, 0 },
	{ .title = "detergent is not", GEAR("everything", "cleaned='detergent'"), "clean.alkaline", 0, 0 },
	{ .title = "the hose in detergent, the rest untold", GEAR("hose", "cleaned='detergent'"), "clean.alkaline",
	    AB_SILENT },
	{ .title = "a cleaner left in", GEAR("keg", "cleaned='percarbonate' rinse='none'"), "clean.unrinsed", 1, 0 },
	{ .title = "left in one of two",
	    GEAR("keg", "cleaned='caustic' rinse='none'") GEAR("hose", "cleaned='detergent' rinse='tap'"),
	  "clean.unrinsed", 1, 0 },
	{ .title = "rinsed off", GEAR("everything", "cleaned='percarbonate' sanitiser='acid' rinse='boiled'"),
	    "clean.unrinsed", 0, 0 },
	{ .title = "one of them rinsed off", GEAR("keg", "cleaned='percarbonate' sanitiser='acid' rinse='boiled'"),
	    "clean.unrinsed", AB_SILENT },
	{ .title = "not rinsed after the sanitiser",
	    GEAR("keg", "cleaned='percarbonate' sanitiser='acid' rinse='none'"),
	  "clean.unrinsed", AB_SILENT },
	{ .title = "nor after hot water",
	    GEAR("keg", "cleaned='percarbonate' sanitiser='heat' rinse='none'"), "clean.unrinsed", AB_SILENT },
	{ .title = "not rinsed after both", GEAR("bottles", "cleaned='percarbonate' sanitiser='bleach' rinse='none'"),
	  "clean.unrinsed", 1, 0 },
	{ .title = "nor after a sanitiser of no name",
	    GEAR("bottles", "cleaned='percarbonate' sanitiser='other' rinse='none'"), "clean.unrinsed", 1, 0 },
	{ .title = "water, and a sanitiser of no name",
	    GEAR("bottles", "cleaned='water' sanitiser='other' rinse='none'"), "clean.unrinsed", AB_SILENT },
	{ .title = "two lines, two rinses",
	    GEAR("keg", "cleaned='percarbonate' rinse='none'") GEAR("keg", "sanitiser='acid' rinse='none'"),
	  "clean.unrinsed", 1, 0 },
	{ .title = "rinsing untold", GEAR("keg", "cleaned='percarbonate'"), "clean.unrinsed", AB_SILENT },
	{ .title = "water leaves nothing", GEAR("keg", "cleaned='water' rinse='none'"), "clean.unrinsed", AB_SILENT },
	{ .title = "soil", GEAR("hose", "soil='no'") GEAR("tap", "soil='yes'"), "clean.soil-left", 1, 0 },
	{ .title = "no soil", GEAR("everything", "soil='no'"), "clean.soil-left", 0, 0 },
	{ .title = "no soil in the hose", GEAR("hose", "soil='no'"), "clean.soil-left", AB_SILENT },
	{ .title = "dismantled", GEAR("tap", "dismantled='yes'"), "clean.dismantled", 1, 0 },
	{ .title = "one of two not", GEAR("tap", "dismantled='yes'") GEAR("wand", "dismantled='no'"),
	  "clean.dismantled", 0, 0 },
	{ .title = "faucet", "<serve faucet-dismantled='no'/>", "clean.dismantled", 0, 0 },
	{ .title = "soft parts", GEAR("hose", "age='3 y'") GEAR("tap", "age='1 y'"), "gear.soft-age",
	  3 * 365.25, 1e-6 },
	{ .title = "hose of the transfer", GEAR("tap", "age='1 y'") "<transfer hose-age='2 y'/>",
	  "gear.soft-age", 2 * 365.25, 1e-6 },
	{ .title = "steel does not age", GEAR("keg", "age='9 y'"), "gear.soft-age", AB_SILENT },
	{ .title = "a garden hose", GEAR("hose", "for-food='no' material='garden hose'"), "gear.for-food", 0, 0 },
	{ .title = "one part is enough", GEAR("tap", "for-food='yes'") GEAR("hose", "for-food='no'"),
	    "gear.for-food", 0, 0 },
	{ .title = "made for food", GEAR("everything", "for-food='yes'"), "gear.for-food", 1, 0 },
	{ .title = "the hose is", GEAR("hose", "for-food='yes'"), "gear.for-food", AB_SILENT },
	{ .title = "not told what it is made for", GEAR("hose", "material='vinyl'"), "gear.for-food", AB_SILENT },
	{ .title = "rust", GEAR("spoon", "rusty='yes'"), "gear.rusty", 1, 0 },
	{ .title = "no rust", GEAR("everything", "rusty='no'"), "gear.rusty", 0, 0 },
	{ .title = "no rust on the spoon", GEAR("spoon", "rusty='no'"), "gear.rusty", AB_SILENT },
	{ .title = "a keg that smells", GEAR("keg", "smells='yes'") GEAR("hose", "smells='no'"), "gear.smells", 1, 0 },
	{ .title = "a hose that does not", GEAR("hose", "smells='no'"), "gear.smells", AB_SILENT },
	{ .title = "nothing does", GEAR("everything", "smells='no'"), "gear.smells", 0, 0 },
	{ .title = "a bucket that smells", GEAR("fermenter", "smells='yes'"), "gear.smells", 1, 0 },
	{ .title = "a smell is no scratch", GEAR("fermenter", "smells='yes'"), "vessel.scratched", AB_SILENT },
	{ .title = "a scratch is", GEAR("fermenter", "scratched='yes'"), "vessel.scratched", 1, 0 },
	{ .title = "whatever it is", GEAR("other", "smells='yes'"), "gear.smells", 1, 0 },
	{ .title = "nobody smelled at the tap", GEAR("tap", "age='1 y'"), "gear.smells", AB_SILENT },
	{ .title = "bottles", GEAR("bottles", "cleaned='percarbonate' sanitiser='acid'"), "bottles.clean", 1, 0 },
	{ .title = "bottles not sanitised", GEAR("bottles", "cleaned='percarbonate' sanitiser='none'"),
	  "bottles.clean", 0, 0 },
	{ .title = "bottles soiled", GEAR("bottles", "cleaned='water' sanitiser='acid' soil='yes'"),
	  "bottles.clean", 0, 0 },
	{ .title = "bottles among all", GEAR("everything", "cleaned='percarbonate' sanitiser='acid'"),
	    "bottles.clean", 1, 0 },
	{ .title = "no bottles of a keg",
	    "<package into='keg'/>" GEAR("everything", "cleaned='percarbonate' sanitiser='acid'"),
	  "bottles.clean", AB_SILENT },
	{ .title = "bottles half told", GEAR("bottles", "sanitiser='acid'"), "bottles.clean", AB_SILENT },
	{ .title = "bottles washed", "<package bottles-washed='no'/>", "bottles.clean", 0, 0 },
};

/* One rinse of two agents: sure where both ask for it. */
static const struct { const char *journal; bool guess; } lefts[] = {
	{ GEAR("keg", "cleaned='percarbonate' rinse='none'"), false },
	{ GEAR("keg", "cleaned='percarbonate' sanitiser='none' rinse='none'"), false },
	{ GEAR("keg", "cleaned='percarbonate' sanitiser='bleach' rinse='none'"), false },
	{ GEAR("keg", "cleaned='percarbonate' sanitiser='other' rinse='none'"), true },
};

START_TEST(of_two_agents_it_may_be_a_guess)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);

	fact_compute(lefts[_i].journal, NULL, arena, facts);
	const struct ab_fact *left = fact_get(facts, "clean.unrinsed");
	ck_assert_msg(AB_FACT_KNOWN(left) && left->guess == lefts[_i].guess, "%s", lefts[_i].journal);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("left");

	tcase_add_loop_test(tc, of_two_agents_it_may_be_a_guess, 0, sizeof lefts / sizeof *lefts);
	return fact_rows_run("hygiene", rows, sizeof rows / sizeof *rows, tc);
}
