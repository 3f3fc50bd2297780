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
	{ .title = "weakest dose", GEAR("hose", "label-share='100 %'") GEAR("tap", "label-share='40 %'"),
	  "sanitise.dose-share", 0.4, 1e-9 },
	{ .title = "mixed too long ago", GEAR("hose", "sanitiser='iodine' mixed-age='4 d'"),
	  "sanitise.mix-age", 3, 1e-9 },
	{ .title = "mixed today", GEAR("hose", "sanitiser='acid' mixed-age='1 h'"), "sanitise.mix-age", 0, 0 },
	/* missed */
	{ .title = "hose not sanitised", GEAR("fermenter", "sanitiser='acid'") GEAR("hose",
	  "sanitiser='none'"), "sanitise.missed", 1, 0 },
	{ .title = "all sanitised", GEAR("fermenter", "sanitiser='acid'") GEAR("hose", "sanitiser='boiling'"),
	  "sanitise.missed", 0, 0 },
	{ .title = "nothing told", GEAR("fermenter", ""), "sanitise.missed", AB_SILENT },
	{ .title = "at pitching", "<pitch at='2031-03-01T18:00' clean='no'/>", "sanitise.missed", 1, 0 },
	{ .title = "clean pitching does not clear the rest", "<pitch at='2031-03-01T18:00' clean='yes'/>",
	  "sanitise.missed", AB_SILENT },
	{ .title = "fruit", "<recipe><extra name='cherry' sanitised='no'/></recipe>", "sanitise.missed", 1, 0 },
	{ .title = "a coil is boiled anyway", "<chill method='coil'/>" GEAR("chiller", "sanitiser='none'"),
	  "sanitise.missed", AB_SILENT },
	{ .title = "a plate chiller is not", "<chill method='plate'/>" GEAR("chiller", "sanitiser='none'"),
	  "sanitise.missed", 1, 0 },
	{ .title = "not on the cold side", GEAR("other", "sanitiser='none'"), "sanitise.missed", AB_SILENT },
	{ .title = "habit", "", "sanitise.missed", 1, 0, "<usual>" GEAR("hose", "sanitiser='none'") "</usual>",
	  AB_ORIGIN_USUAL },
	{ .title = "gear told beats habit", GEAR("hose", "sanitiser='acid'"), "sanitise.missed", 0, 0,
	  "<usual>" GEAR("tap", "sanitiser='none'") "</usual>" },
	/* agents */
	{ .title = "rinsed from the tap", GEAR("hose", "sanitiser='acid' rinse='tap'"), "sanitise.rinsed-tap", 1, 0 },
	{ .title = "not rinsed", GEAR("hose", "sanitiser='acid' rinse='none'"), "sanitise.rinsed-tap", 0, 0 },
	{ .title = "only cleaned and rinsed", GEAR("hose", "sanitiser='none' rinse='tap'"),
	  "sanitise.rinsed-tap", AB_SILENT },
	{ .title = "bleach as sanitiser", GEAR("hose", "sanitiser='bleach'"), "sanitise.bleach", 1, 0 },
	{ .title = "bleach as cleaner", GEAR("hose", "cleaned='bleach'"), "sanitise.bleach", 1, 0 },
	{ .title = "no bleach", GEAR("hose", "cleaned='percarbonate' sanitiser='acid'"), "sanitise.bleach", 0, 0 },
	{ .title = "scent", GEAR("hose", "cleaned='scented-soap'"), "clean.scented-soap", 1, 0 },
	{ .title = "no scent", GEAR("hose", "cleaned='water'"), "clean.scented-soap", 0, 0 },
	{ .title = "alkaline", GEAR("hose", "cleaned='percarbonate'"), "clean.alkaline", 1, 0 },
	{ .title = "detergent is not", GEAR("hose", "cleaned='detergent'"), "clean.alkaline", 0, 0 },
	{ .title = "a cleaner left in", GEAR("keg", "cleaned='percarbonate' rinse='none'"), "clean.unrinsed", 1, 0 },
	{ .title = "left in one of two", GEAR("keg", "cleaned='caustic' rinse='none'") GEAR("hose", "cleaned='detergent' rinse='tap'"),
	  "clean.unrinsed", 1, 0 },
	{ .title = "rinsed off", GEAR("keg", "cleaned='percarbonate' sanitiser='acid' rinse='boiled'"), "clean.unrinsed", 0, 0 },
	{ .title = "not rinsed after the sanitiser", GEAR("keg", "cleaned='percarbonate' sanitiser='acid' rinse='none'"),
	  "clean.unrinsed", AB_SILENT },
	{ .title = "rinsing untold", GEAR("keg", "cleaned='percarbonate'"), "clean.unrinsed", AB_SILENT },
	{ .title = "water leaves nothing", GEAR("keg", "cleaned='water' rinse='none'"), "clean.unrinsed", AB_SILENT },
	{ .title = "soil", GEAR("hose", "soil='no'") GEAR("tap", "soil='yes'"), "clean.soil-left", 1, 0 },
	{ .title = "no soil", GEAR("hose", "soil='no'"), "clean.soil-left", 0, 0 },
	{ .title = "dismantled", GEAR("tap", "dismantled='yes'"), "clean.dismantled", 1, 0 },
	{ .title = "one of two not", GEAR("tap", "dismantled='yes'") GEAR("wand", "dismantled='no'"),
	  "clean.dismantled", 0, 0 },
	{ .title = "faucet", "<serve faucet-dismantled='no'/>", "clean.dismantled", 0, 0 },
	{ .title = "soft parts", GEAR("hose", "age='3 y'") GEAR("tap", "age='1 y'"), "gear.soft-age",
	  3 * 365.25, 1e-6 },
	{ .title = "hose of the transfer", GEAR("tap", "age='1 y'") "<transfer hose-age='2 y'/>",
	  "gear.soft-age", 2 * 365.25, 1e-6 },
	{ .title = "steel does not age", GEAR("keg", "age='9 y'"), "gear.soft-age", AB_SILENT },
	{ .title = "rust", GEAR("spoon", "rusty='yes'"), "gear.rusty", 1, 0 },
	{ .title = "bottles", GEAR("bottles", "cleaned='percarbonate' sanitiser='acid'"), "bottles.clean", 1, 0 },
	{ .title = "bottles not sanitised", GEAR("bottles", "cleaned='percarbonate' sanitiser='none'"),
	  "bottles.clean", 0, 0 },
	{ .title = "bottles soiled", GEAR("bottles", "cleaned='water' sanitiser='acid' soil='yes'"),
	  "bottles.clean", 0, 0 },
	{ .title = "bottles half told", GEAR("bottles", "sanitiser='acid'"), "bottles.clean", AB_SILENT },
	{ .title = "bottles washed", "<package bottles-washed='no'/>", "bottles.clean", 0, 0 },
};

int main(void)
{
	return fact_rows_run("hygiene", rows, sizeof rows / sizeof *rows, NULL);
}
