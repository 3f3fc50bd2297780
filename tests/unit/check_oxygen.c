/* check_oxygen.c - the oxygen budget: each way in by hand, the balance, what never may happen, and "as if"
 *
 * A litre of air at 20 C holds 278.62 mg; three quarters of (1 - exp(-d/8.5)) of what lies over beer is taken
 * up in d days.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>
#include <afterboil/oxygen.h>
#include "base/alloc.h"
#include "factcase.h"
#include "process/oxygen_budget.h"
#include "process/words.h"

#define AIR 278.6228
#define NAN_ ((double)NAN)
#define RECIPE "<recipe volume='20 L'/>"
#define BUCKET "<vessel id='a' kind='bucket' volume='27 L' headspace='7 L' sealed='yes'/>"
/* done after five days; packaged on the tenth */
#define DONE "<yeast class='clean-ale'/>" "<reading at='+0d' gravity='1.048 SG' instrument='hydrometer' " \
	"sample='20 C'/>" \
	"<reading at='+5d' gravity='1.010 SG' instrument='hydrometer' sample='20 C'/>" \
	"<reading at='+9d' gravity='1.010 SG' instrument='hydrometer' sample='20 C'/>"
#define AT "at='2031-03-11T18:00' "
#define BOTTLES(more) "<package " AT "into='bottles' bottle='longneck' size='355 mL' " more "/>"
#define KEG(more) "<package " AT "into='keg' size='19 L' volume='18 L' headspace='1 L' " more "/>"

static const struct fact_row rows[] = {
	/* moving and filling */
	{ .title = "nothing told of moves", RECIPE, "oxygen.transfer", AB_SILENT },
	{ .title = "splashed", RECIPE "<transfer splashed='yes' how='siphon' target='air-filled'/>",
	  "oxygen.transfer", 2.2, 1e-9, .u = 4 / 3.29 },
	{ .title = "poured", RECIPE "<transfer how='poured'/>", "oxygen.transfer", 2.2, 1e-9 },
	{ .title = "quiet", RECIPE "<transfer splashed='no' how='siphon'/>", "oxygen.transfer", 0.55, 1e-9 },
	{ .title = "not said whether quiet", RECIPE "<transfer how='tap'/>", "oxygen.transfer", 0.8, 1e-9 },
	{ .title = "closed", RECIPE "<transfer how='closed' splashed='yes'/>", "oxygen.transfer", 0.05, 1e-9 },
	{ .title = "into a purged vessel", RECIPE "<transfer splashed='no' target='purged'/>", "oxygen.transfer",
	  0.055, 1e-9 },
	/* 10.63 mg/h and metre at most: 1.5 m for ten minutes into 20 L, half of it */
	{ .title = "through a silicone hose",
	  RECIPE "<gear item='hose' material='silicone'/><transfer splashed='no'/>", "oxygen.transfer",
	  0.55 + 10.63 * 1.5 / 6 / 20 / 2, 1e-3 },
	{ .title = "through another hose",
	  RECIPE "<gear item='hose' material='vinyl'/><transfer splashed='no'/>", "oxygen.transfer", 0.55, 1e-9 },
	{ .title = "twice", RECIPE "<transfer splashed='no'/><transfer splashed='yes'/>", "oxygen.transfer",
	  2.75, 1e-9, .u = 1.2345 },
	{ .title = "from the bottom", RECIPE BOTTLES("wand='yes'"), "oxygen.transfer", 0.25, 1e-9 },
	{ .title = "from above", RECIPE BOTTLES("wand='no'"), "oxygen.transfer", 1.2, 1e-9 },
	{ .title = "moved and filled", RECIPE "<transfer splashed='no'/>" BOTTLES("wand='no'"),
	  "oxygen.transfer", 1.75, 1e-9 },
	/* second vessel: 4 L of air over 20 L, ten days */
	{ .title = "second vessel",
	  RECIPE BUCKET "<vessel id='b' second='yes' headspace='4 L' from='2031-03-07T18:00'/>"
	  KEG("filled='liquid-purged'"),
	  "oxygen.second-vessel", 8.5 + 4, 0.02 },
	{ .title = "since when untold: since the end of fermentation, at most two weeks",
	  RECIPE DONE BUCKET "<vessel id='b' second='yes' headspace='4 L'/>" KEG("filled='liquid-purged'"),
	  "oxygen.second-vessel", 8.5 + 5, 0.1 },
	{ .title = "second vessel, purged",
	  RECIPE BUCKET "<transfer target='purged'/><vessel second='yes' headspace='4 L' from='2031-03-07T18:00'/>"
	  KEG("filled='liquid-purged'"), "oxygen.second-vessel", 0.4 * AIR / 18 * 0.75 * (1 - 0.62462), 0.002 },
	{ .title = "a little air: all that it gives",
	  RECIPE BUCKET "<vessel id='b' second='yes' headspace='1 L' from='2031-03-07T18:00'/>"
	  KEG("filled='liquid-purged'"),
	  "oxygen.second-vessel", AIR / 18 * 0.75 * (1 - 0.62462), 0.02 },
	{ .title = "much air: no more than beer holds, and what it used up since",
	  RECIPE BUCKET "<vessel id='b' second='yes' headspace='40 L' from='2031-03-07T18:00'/>"
	  KEG("filled='liquid-purged'"),
	  "oxygen.second-vessel", 8.5 + 4, 0.02 },
	{ .title = "no second vessel", RECIPE BUCKET BOTTLES("neck='30 mm'"), "oxygen.second-vessel", AB_SILENT },
	/* an opened lid */
	{ .title = "opened on the fifth day before packaging",
	  RECIPE DONE BUCKET "<opened at='+5d' for='10 min'/>" BOTTLES(""), "oxygen.opened",
	  7 * AIR / 20 * 0.75 * (1 - 0.55531) * (1 - 0.71653), 0.05 },
	{ .title = "the bottling vessel stood open",
	    RECIPE DONE BUCKET "<opened at='+5d' for='10 min' vessel='bottling-vessel'/>" BOTTLES(""),
	  "oxygen.opened", AB_SILENT },
	{ .title = "which is a vessel that stood open",
	    RECIPE DONE BUCKET "<opened at='+5d' for='10 min' vessel='bottling-vessel'/>" BOTTLES(""),
	  "vessel.open-time", 10, 1e-9 },
	{ .title = "the second vessel stood open",
	    RECIPE DONE BUCKET "<opened at='+5d' for='10 min' vessel='second'/>" BOTTLES(""),
	  "oxygen.opened", 7 * AIR / 20 * 0.75 * (1 - 0.55531) * (1 - 0.71653), 0.05 },
	{ .title = "open for days, and again: no more than beer takes up",
	    RECIPE DONE BUCKET "<opened at='+5d' for='3 d'/><opened at='+5d 3h' for='1 d'/>"
	  BOTTLES(""), "oxygen.opened", 8.5 + 5, 0.05 },
	{ .title = "gas over the beer untold: a fifth",
	  RECIPE DONE "<vessel kind='glass'/><opened at='+5d' for='10 min'/>" BOTTLES(""),
	  "oxygen.opened", 4 * AIR / 20 * 0.75 * (1 - 0.55531) * (1 - 0.71653), 0.03 },
	{ .title = "opened while it fermented", RECIPE DONE BUCKET "<opened at='+1d' for='10 min'/>" BOTTLES(""),
	  "oxygen.opened", 0, 1e-9 },
	{ .title = "opened for the dry hops",
	  RECIPE DONE BUCKET "<dry-hop at='+5d 1h' amount='100 g' opened='open-lid'/>"
	  "<opened at='+5d 1h' for='2 min'/>" BOTTLES(""),
	  "oxygen.opened", 0, 1e-9 },
	{ .title = "never opened", RECIPE DONE BUCKET BOTTLES(""), "oxygen.opened", AB_SILENT },
	/* dry hops: 5 g/L x 1.5 L/kg = 2.0897 mg/L, and the lid */
	{ .title = "through the open lid",
	  RECIPE DONE BUCKET "<dry-hop at='+5d' amount='100 g' opened='open-lid'/>" BOTTLES(""), "oxygen.dry-hop",
	  2.0897 + 7 * AIR / 20 * 0.75 * (1 - 0.55531) * (1 - 0.93551), 0.02 },
	{ .title = "by a dropper",
	  RECIPE DONE BUCKET "<dry-hop at='+5d' amount='100 g' opened='dropper'/>" BOTTLES(""), "oxygen.dry-hop",
	  1.4628, 1e-3 },
	{ .title = "into purged gas",
	  RECIPE DONE BUCKET "<dry-hop at='+5d' amount='100 g' opened='purged'/>" BOTTLES(""), "oxygen.dry-hop",
	  0.20897, 1e-4 },
	{ .title = "while it fermented",
	  RECIPE DONE BUCKET "<dry-hop at='+2d' amount='100 g' opened='dropper'/>" BOTTLES(""), "oxygen.dry-hop",
	  0.14628, 1e-4 },
	{ .title = "no dry hops", RECIPE DONE BUCKET BOTTLES(""), "oxygen.dry-hop", AB_SILENT },
	/* cold crash: 20 L under 3 L from 20 to 2 C: 1.305 L of air, two fifths of it, three days */
	{ .title = "crash with an airlock",
	  RECIPE DONE "<vessel kind='glass' headspace='3 L' control='fridge' target='20 C'/>"
	  "<crash at='2031-03-08T18:00' temp='2 C' airlock='airlock'/>" BOTTLES(""), "oxygen.crash", 1.6218, 0.01 },
	{ .title = "drawn in, it was seen",
	  RECIPE DONE "<vessel kind='glass' headspace='3 L' control='fridge' target='20 C'/>"
	  "<crash at='2031-03-08T18:00' temp='2 C' airlock='airlock' sucked-back='yes'/>" BOTTLES(""),
	  "oxygen.crash", 1.6218 * 7 / 4, 0.01 },
	{ .title = "not drawn in", RECIPE DONE "<vessel kind='glass' headspace='3 L' control='fridge' target='20 C'/>"
	  "<crash at='2031-03-08T18:00' temp='2 C' airlock='blow-off' sucked-back='no'/>" BOTTLES(""),
	  "oxygen.crash", 1.6218 * 3 / 8, 0.01 },
	{ .title = "to an untold cold: 3 C",
	    RECIPE DONE "<vessel kind='glass' headspace='3 L' control='fridge' target='20 C'/>"
	  "<crash at='2031-03-08T18:00' airlock='airlock'/>" BOTTLES(""), "oxygen.crash", 1.5407, 0.01 },
	{ .title = "the reading at the crash is cold already", RECIPE DONE "<vessel kind='glass' headspace='3 L'/>"
	  "<reading at='+6d' wort='20 C'/><reading at='+7d' wort='4 C'/>"
	  "<crash at='2031-03-08T18:00' temp='2 C' airlock='airlock'/>" BOTTLES(""), "oxygen.crash", 1.6218, 0.01 },
	{ .title = "under a gas bag",
	  RECIPE DONE BUCKET "<crash at='2031-03-08T18:00' temp='2 C' airlock='gas-bag'/>" BOTTLES(""),
	  "oxygen.crash", 0, 1e-9 },
	{ .title = "sealed",
	  RECIPE DONE BUCKET "<crash at='2031-03-08T18:00' temp='2 C' airlock='sealed'/>" BOTTLES(""),
	  "oxygen.crash", 0, 1e-9 },
	{ .title = "under pressure",
	  RECIPE DONE BUCKET "<crash at='2031-03-08T18:00' temp='2 C' airlock='top-pressure'/>" BOTTLES(""),
	  "oxygen.crash", 0, 1e-9 },
	{ .title = "a crash, but not what was on it",
	  RECIPE DONE BUCKET "<crash at='2031-03-08T18:00' temp='2 C'/>" BOTTLES(""), "oxygen.crash", AB_SILENT },
	{ .title = "no crash", RECIPE DONE BUCKET BOTTLES(""), "oxygen.crash", AB_SILENT },
	/* the wall: 179 ppb a day in 20 L of a bucket, 15.4 in PET; from the end of fermentation (day 5: the
	 * first reading at the final gravity) */
	{ .title = "bucket", RECIPE DONE BUCKET BOTTLES(""), "oxygen.permeation", 5 * 0.17942, 0.03 },
	{ .title = "PET carboy", RECIPE DONE "<vessel kind='pet'/>" BOTTLES(""), "oxygen.permeation",
	  5 * 0.01538, 0.003 },
	{ .title = "glass", RECIPE DONE "<vessel kind='glass'/>" BOTTLES(""), "oxygen.permeation", 0, 1e-9 },
	{ .title = "steel", RECIPE DONE "<vessel kind='steel' sealed='no'/>" BOTTLES(""), "oxygen.permeation", 0,
	  1e-9 },
	{ .title = "a loose lid", RECIPE DONE "<vessel kind='bucket' sealed='no'/>" BOTTLES(""),
	  "oxygen.permeation", 15 * 0.17942, 0.09 },
	{ .title = "vessel untold", RECIPE DONE BOTTLES(""), "oxygen.permeation", AB_SILENT },
	/* necks: 25 mm 6.224 mL, 40 mm 11.235 mL, in 355 mL */
	{ .title = "25 mm", RECIPE BOTTLES("neck='25 mm' cap-on-foam='no'"), "oxygen.headspace", 4.8852, 1e-3,
	  .u = 0.773 },
	{ .title = "4 cm", RECIPE BOTTLES("neck='4 cm'"), "oxygen.headspace", 8.8181, 1e-3 },
	{ .title = "4 cm, capped on foam", RECIPE BOTTLES("neck='4 cm' cap-on-foam='yes'"), "oxygen.headspace",
	  0.88181, 1e-4 },
	{ .title = "size untold", RECIPE "<package into='bottles' bottle='longneck' neck='4 cm'/>",
	  "oxygen.headspace", 8.8181, 1e-3 },
	{ .title = "height untold", RECIPE BOTTLES(""), "oxygen.headspace", AB_SILENT },
	/* kegs: 1 L over 18 L */
	{ .title = "keg of air", RECIPE KEG("filled='air-filled'"), "oxygen.headspace", AIR / 18, 1e-3 },
	{ .title = "purged once", RECIPE KEG("filled='air-filled' purges='1' purge-pressure='2 bar'"),
	  "oxygen.headspace", AIR / 18 * 0.33626, 1e-3 },
	{ .title = "purged five times", RECIPE KEG("filled='air-filled' purges='5' purge-pressure='2 bar'"),
	  "oxygen.headspace", AIR / 18 * 0.0042992, 1e-4 },
	{ .title = "purged thirty times: the gas itself",
	  RECIPE KEG("filled='air-filled' purges='30' purge-pressure='2 bar'"), "oxygen.headspace",
	  AIR / 18 * 5e-5 / 0.20946, 1e-6 },
	{ .title = "pushed out with liquid", RECIPE KEG("filled='liquid-purged'"), "oxygen.headspace", (1 +
	  0.1 * 18) * AIR * 0.05 / 19 / 18, 1e-4 },
	{ .title = "two kegs of one batch", RECIPE "<package " AT
	  "into='keg' size='19 L' volume='38 L' headspace='1 L' filled='air-filled'/>", "oxygen.headspace",
	  AIR / 19, 1e-3 },
	{ .title = "what the keg holds less the beer", RECIPE "<package " AT
	  "into='keg' size='19 L' volume='17 L' filled='air-filled'/>", "oxygen.headspace", 2 * AIR / 17, 2e-3 },
	/* four of eight volumes; with the gravities eighteen, and then the gas itself */
	{ .title = "its own gas, how much untold", RECIPE KEG("filled='flow-purged'"), "oxygen.headspace",
	  2.8 * AIR / 18 * 0.018316, 1e-3 },
	{ .title = "its own gas", RECIPE DONE KEG("filled='flow-purged'"), "oxygen.headspace",
	  2.8 * AIR / 18 * 5e-5 / 0.20946, 1e-4 },
	{ .title = "keg of untold air", RECIPE KEG(""), "oxygen.headspace", AB_SILENT },
	/* closures: sixty days */
	{ .title = "crowns", RECIPE BOTTLES("cap='plain'") "<store for='60 d' temp='20 C'/>", "oxygen.closure",
	  0.33723, 1e-4 },
	{ .title = "caps that take oxygen up",
	  RECIPE BOTTLES("cap='oxygen-absorbing'") "<store for='60 d' temp='20 C'/>", "oxygen.closure",
	  0.33723 * 2 / 15, 1e-4 },
	{ .title = "they leak",
	  RECIPE KEG("filled='purged' seal-checked='no'")
	  "<carbonate lost-pressure='yes'/><store for='60 d' temp='4 C'/>", "oxygen.closure",
	  3 * 0.2644, 1e-3 },
	{ .title = "seals", RECIPE KEG("filled='purged'") "<store for='60 d' temp='4 C'/>", "oxygen.closure",
	  0.2644, 1e-3 },
	{ .title = "the keg's size untold", RECIPE "<package " AT
	  "into='keg' volume='18 L' filled='purged'/><store for='60 d' temp='4 C'/>", "oxygen.closure", 0.2644, 1e-3 },
	/* cap 0.2394 and wall 4.306 */
	{ .title = "soft-drink bottles", RECIPE "<package " AT
	  "into='bottles' bottle='pet' size='500 mL' cap='screw'/><store for='30 d' temp='20 C'/>",
	  "oxygen.closure", 4.5454, 2e-3 },
	{ .title = "not stored yet", RECIPE BOTTLES("cap='plain'"), "oxygen.closure", AB_SILENT },
	/* totals */
	{ .title = "not packaged", RECIPE BUCKET, "oxygen.total", AB_SILENT },
	{ .title = "a cask", RECIPE "<package into='cask'/>", "oxygen.total", AB_SILENT },
	{ .title = "bottles at rest: a tenth taken up",
	  RECIPE "<transfer splashed='no'/>" BOTTLES("neck='4 cm' wand='yes'"), "oxygen.total",
	  (0.55 + 0.25 + 8.8181) * 0.9, 1e-3, NULL, AB_ORIGIN_DERIVED },
	{ .title = "bottles that referment",
	  RECIPE "<transfer splashed='no'/>" BOTTLES("neck='4 cm' wand='yes' priming='120 g' sugar='sucrose'"),
	  "oxygen.total", (0.55 + 0.25 + 8.8181) * 0.4, 1e-3, .u = 2.097 },
	{ .title = "fresh yeast at bottling",
	  RECIPE "<transfer splashed='no'/>" BOTTLES("neck='4 cm' wand='yes' fresh-yeast='yes'"),
	  "oxygen.total", (0.55 + 0.25 + 8.8181) * 0.4, 1e-3 },
	{ .title = "a keg, not told whether purged", RECIPE "<transfer splashed='no'/>" KEG(""), "oxygen.total",
	  (0.55 + 0.3 * AIR / 18) * 0.9, 1e-3, NULL, AB_ORIGIN_ASSUMED },
	{ .title = "something assumed", RECIPE BOTTLES("neck='4 cm' wand='yes'"), "oxygen.total", (0.8 + 0.25 +
	  8.8181) * 0.9, 1e-3, NULL, AB_ORIGIN_ASSUMED },
	{ .title = "the cap's comes too late for the yeast", RECIPE "<transfer splashed='no'/>"
	  BOTTLES("neck='4 cm' wand='yes' cap='plain' priming='120 g' sugar='sucrose'")
	  "<store for='60 d' temp='20 C'/>", "oxygen.total",
	  (0.55 + 0.25 + 8.8181) * 0.4 + 0.33723, 1e-3 },
};

/* Journals for the balance and for "as if". */
static const char *const stories[] = {
	RECIPE DONE BUCKET "<transfer splashed='no'/>" BOTTLES("neck='4 cm' wand='yes' cap='plain' "
	"priming='120 g' sugar='sucrose'") "<store for='60 d' temp='20 C'/>",
	RECIPE DONE BUCKET "<dry-hop at='+5d' amount='100 g' opened='open-lid'/><opened at='+7d' for='5 min'/>"
	    "<crash at='2031-03-09T18:00' temp='2 C' airlock='airlock'/><transfer how='poured'/>"
	    KEG("filled='air-filled' purges='1' purge-pressure='2 bar'")
	    "<store for='60 d' temp='4 C'/>",
	RECIPE BUCKET "<transfer target='air-filled' splashed='yes'/>"
	"<vessel kind='glass' second='yes' headspace='4 L' from='2031-03-07T18:00'/>" BOTTLES(""),
	RECIPE KEG("filled='flow-purged'"), RECIPE KEG(""), RECIPE BUCKET "<opened at='+9d'/>",
	    "<package into='bottles'/>", "<note>nothing</note>",
};

static struct ab_oxygen budget_of(const char *journal, const struct ab_as_if *as_if, size_t n)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_oxygen out;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_oxygen_budget(fact_read(journal, arena), NULL, &fact_norms, as_if, n, arena, &out,
	    &diag), AB_OK);
	ab_arena_free(arena);   /* names and phrases are static */
	return out;
}

START_TEST(the_balance_closes)
{
	struct ab_oxygen b = budget_of(stories[_i], NULL, 0);
	double sum = 0;

	for (size_t i = 0; i < b.n; i++) {
		const struct ab_oxygen_item *item = &b.items[i];
		sum += item->mgl;
		ck_assert_msg(item->low <= item->mgl && item->mgl <= item->high, "story %d, %s: %g <= %g <= %g",
		    _i, item->name, item->low, item->mgl, item->high);
		ck_assert_msg(item->name != NULL && item->how != NULL && item->grade == 'C',
		    "story %d, item %zu", _i, i);
		ck_assert_msg((item->mgl < 0) == (strcmp(item->name, "taken up by yeast") == 0),
		    "story %d, %s: %g", _i, item->name, item->mgl);
	}
	ck_assert_double_eq_tol(sum, b.total, 1e-12);
	ck_assert(b.low <= b.total && b.total <= b.high && b.low >= 0);
	ck_assert_uint_le(b.n, AB_OXYGEN_ITEMS);
}
END_TEST

/* Facts and budget are one reckoning. */
START_TEST(facts_are_the_items)
{
	static const struct { const char *fact, *name; } pairs[] = {
		{ "oxygen.dry-hop", "dry hops" }, { "oxygen.crash", "cold crash" }, { "oxygen.opened",
		"opened lid" }, { "oxygen.closure", "through the closure" },
		{ "oxygen.permeation", "through the fermenter's wall" }, { "oxygen.headspace", "air in the keg" },
	};
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = calloc(ab_fact_defs()->n, sizeof *facts);
	struct ab_oxygen b = budget_of(stories[1], NULL, 0);

	fact_compute(stories[1], NULL, arena, facts);
	for (size_t p = 0; p < sizeof pairs / sizeof *pairs; p++) {
		bool met = false;
		for (size_t i = 0; i < b.n; i++)
			met |= strcmp(b.items[i].name, pairs[p].name) == 0 && b.items[i].mgl == fact_get(facts,
			    pairs[p].fact)->value;
		ck_assert_msg(met, "%s", pairs[p].fact);
	}
	ck_assert_double_eq(b.total, fact_get(facts, "oxygen.total")->value);
	ck_assert_double_eq_tol(fact_get(facts, "oxygen.total")->u, (b.high - b.low) / 3.29, 1e-9);
	free(facts);
	ab_arena_free(arena);
}
END_TEST

static int slot(const char *name)
{
	int s = ab_fact_slot(ab_fact_defs(), name);
	ck_assert_msg(s >= 0, "%s", name);
	return s;
}

/* What if: a fact given, and whether the total falls (-1), rises (1) or stays (0). */
static const struct { const char *title; int story; const char *fact; double value; int way; } what_ifs[] = {
	{ "purged five times", 1, "pack.purges", 5, -1 }, { "not purged at all", 1, "pack.purges", 0, 1 },
	{ "pushed out with liquid", 1, "pack.filled", AB_TARGET_LIQUID - 1, -1 }, { "not poured", 1,
	"transfer.splashed", 0, -1 },
	{ "into a vessel without air", 1, "transfer.target", AB_TARGET_LIQUID - 1, -1 },
	{ "hops while it fermented", 1, "hops.dry-opened", AB_OPEN_ACTIVE - 1, -1 },
	{ "crash under a gas bag", 1, "crash.airlock", AB_LOCK_GAS_BAG - 1, -1 }, { "capped on foam", 0,
	"pack.cap-on-foam", 1, -1 },
	{ "filled higher", 0, "pack.neck", 15, -1 }, { "filled lower", 0, "pack.neck", 60, 1 }, { "better caps",
	0, "pack.cap", AB_CAP_ABSORBING - 1, -1 },
	{ "filled from above", 0, "pack.bottom-filled", 0, 1 }, { "no priming sugar", 0, "pack.priming-rate", 0,
	1 }, { "kept longer", 0, "store.days", 120, 1 },
	{ "no second vessel", 2, "vessel.second", 0, -1 }, { "less air there", 2, "vessel.second-headspace", 0.5,
	-1 },
	{ "splashed, where nothing was told", 4, "transfer.splashed", 1, 1 }, { "a warmer mash", 0, "mash.temp",
	70, 0 },
};

START_TEST(what_if)
{
	struct ab_as_if as_if = { slot(what_ifs[_i].fact), what_ifs[_i].value };
	double was = budget_of(stories[what_ifs[_i].story], NULL, 0).total,
	    is = budget_of(stories[what_ifs[_i].story], &as_if, 1).total;

	ck_assert_msg((is > was) - (is < was) == what_ifs[_i].way, "%s: %g -> %g mg/L", what_ifs[_i].title, was, is);
}
END_TEST

/* The same through the facts: what is given stands, what rests on it follows, the rest stays. */
START_TEST(facts_as_if)
{
	struct ab_arena *arena = ab_arena_new();
	size_t n = ab_fact_defs()->n;
	struct ab_fact *plain = calloc(n, sizeof *plain), *other = calloc(n, sizeof *other);
	struct ab_as_if as_if[] = { { slot("pack.priming-rate"), 12 }, { slot("store.equivalent-days"), 10 },
	    { slot("pack.neck"), 10 } };
	struct ab_diag diag;

	ab_diag_init(&diag);
	struct ab_batch *batch = fact_read(stories[0], arena);
	ck_assert_int_eq(ab_facts_compute(batch, NULL, &fact_norms, arena, plain, &diag), AB_OK);
	ck_assert_int_eq(ab_facts_recompute(batch, NULL, &fact_norms, as_if, 3, arena, other, &diag), AB_OK);
	ck_assert_double_eq(fact_get(other, "pack.neck")->value, 10);
	ck_assert_int_eq(fact_get(other, "pack.neck")->origin, AB_ORIGIN_ASSUMED);
	ck_assert_double_eq_tol(fact_get(other, "pack.co2-expected")->value - fact_get(plain,
	    "pack.co2-expected")->value,
	    (12 - fact_get(plain, "pack.priming-rate")->value) / 4, 1e-9);
	ck_assert_double_gt(fact_get(other, "pack.pressure-worst")->value, fact_get(plain,
	    "pack.pressure-worst")->value);
	ck_assert_double_lt(fact_get(other, "stale.dose")->value, fact_get(plain, "stale.dose")->value / 6);
	ck_assert_double_eq(fact_get(other, "gravity.og")->value, fact_get(plain, "gravity.og")->value);
	ck_assert_double_eq(fact_get(other, "store.days")->value, fact_get(plain, "store.days")->value);
	free(plain);
	free(other);
	ab_arena_free(arena);
}
END_TEST

START_TEST(outdated)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = calloc(ab_fact_defs()->n, sizeof *facts);

	fact_compute(stories[1], NULL, arena, facts);
	ab_facts_outdate(facts, slot("mash.temp"));
	ck_assert(AB_FACT_KNOWN(fact_get(facts, "oxygen.total")));
	ab_facts_outdate(facts, slot("pack.purges"));
	ck_assert(!AB_FACT_KNOWN(fact_get(facts, "oxygen.headspace")) && !AB_FACT_KNOWN(fact_get(facts,
	    "oxygen.total")));
	ck_assert(!AB_FACT_KNOWN(fact_get(facts, "stale.dose")) && !AB_FACT_KNOWN(fact_get(facts, "stale.outlook")));
	ck_assert(AB_FACT_KNOWN(fact_get(facts, "oxygen.crash")) && AB_FACT_KNOWN(fact_get(facts, "pack.purges")));
	fact_compute(stories[1], NULL, arena, facts);
	ab_facts_outdate(facts, slot("recipe.family"));
	ck_assert(AB_FACT_KNOWN(fact_get(facts, "stale.dose")) && !AB_FACT_KNOWN(fact_get(facts, "stale.outlook")));
	fact_compute(stories[1], NULL, arena, facts);
	ab_facts_outdate(facts, slot("stale.dose"));   /* a fact moved itself stays */
	ck_assert(AB_FACT_KNOWN(fact_get(facts, "stale.dose")));
	free(facts);
	ab_arena_free(arena);
}
END_TEST

/* Memory fails at the first, the second, ... allocation: told as such each time, until it suffices. */
START_TEST(short_of_memory)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_batch *batch = fact_read(stories[1], arena);
	enum ab_status st = AB_ENOMEM;
	struct ab_oxygen out;
	struct ab_diag diag;
	long failed = 0;

	for (long n = 0; st != AB_OK && n < 1000; n++) {
		struct ab_arena *own = ab_arena_new();
		ab_diag_init(&diag);
		ab_alloc_fail_at(n);
		st = ab_oxygen_budget(batch, NULL, &fact_norms, NULL, 0, own, &out, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_int_eq(st, diag.status);
		failed += st == AB_ENOMEM;
		ab_arena_free(own);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(failed, 0);
	ab_arena_free(arena);
}
END_TEST

static void rises(const char *title, struct ab_range less, struct ab_range more)
{
	ck_assert_msg(less.low <= more.low + 1e-12 && less.mid <= more.mid + 1e-12 && less.high <= more.high +
	    1e-12, "%s: %g %g %g, then %g %g %g", title,
	    less.low, less.mid, less.high, more.low, more.mid, more.high);
	ck_assert_msg(0 <= more.low && more.low <= more.mid && more.mid <= more.high, "%s: %g %g %g", title,
	    more.low, more.mid, more.high);
}

START_TEST(more_air_is_never_less_oxygen)
{
	for (double x = 0; x < 12; x += 0.25) {
		rises("gas over beer", ab_oxygen_over(x, 20, 7, AB_AIR_OXYGEN), ab_oxygen_over(x + 0.25, 20, 7,
		    AB_AIR_OXYGEN));
		rises("time over beer", ab_oxygen_over(3, 20, x, AB_AIR_OXYGEN), ab_oxygen_over(3, 20, x + 0.25,
		    AB_AIR_OXYGEN));
		rises("minutes open", ab_oxygen_opened(x, 5, 20, 7), ab_oxygen_opened(x + 0.25, 5, 20, 7));
		rises("gas under the lid", ab_oxygen_opened(5, x, 20, 7), ab_oxygen_opened(5, x + 0.25, 20, 7));
		rises("more hops", ab_oxygen_hops(x, 1, AB_OPEN_LID, false, 5, 20, 7), ab_oxygen_hops(x + 0.25,
		    1, AB_OPEN_LID, false, 5, 20, 7));
		rises("gas in the crash", ab_oxygen_crash(AB_LOCK_AIRLOCK, -1, 20, x, 20, 2, 3),
		    ab_oxygen_crash(AB_LOCK_AIRLOCK, -1, 20, x + 0.25, 20, 2, 3));
		rises("colder crash", ab_oxygen_crash(AB_LOCK_AIRLOCK, -1, 20, 3, 20, 14 - x, 3),
		    ab_oxygen_crash(AB_LOCK_AIRLOCK, -1, 20, 3, 20, 13.75 - x, 3));
		rises("a longer hose", ab_oxygen_hose(x, 10, 20), ab_oxygen_hose(x + 0.25, 10, 20));
		rises("days in plastic", ab_oxygen_wall(AB_VESSEL_BUCKET, false, 20, x),
		    ab_oxygen_wall(AB_VESSEL_BUCKET, false, 20, x + 0.25));
	}
	for (double mm = 0; mm < 120; mm++)
		for (int bottle = 0; bottle < AB_BOTTLE_MAX_; bottle++)
			for (int foam = -1; foam <= 1; foam++)
				rises("neck", ab_oxygen_neck(bottle, mm, 2, NAN_, foam), ab_oxygen_neck(bottle,
				    mm + 1, 2, NAN_, foam));
	for (double l = 0; l < 5; l += 0.1)
		for (int filled = 0; filled <= AB_TARGET_FLOW; filled++)
			rises("gas in the keg", ab_oxygen_keg(filled, 2, 100, NAN_, 19, 14, (struct ab_range){ l,
			    l * 0.8, l * 1.2 }),
			    ab_oxygen_keg(filled, 2, 100, NAN_, 19, 14, (struct ab_range){ l + 0.1, (l +
			    0.1) * 0.8, (l + 0.1) * 1.2 }));
}
END_TEST

START_TEST(more_purging_is_never_more_oxygen)
{
	const struct ab_range head = { 1, 0.8, 1.2 };

	for (int filled = 0; filled <= AB_TARGET_FLOW; filled++)
		for (double n = 0; n < 30; n++)
			for (double kpa = 0; kpa < 300; kpa += 50) {
				rises("a cycle more", ab_oxygen_keg(filled, n + 1, kpa, NAN_, 19, 18, head),
				    ab_oxygen_keg(filled, n, kpa, NAN_, 19, 18, head));
				rises("a higher cycle", ab_oxygen_keg(filled, n, kpa + 50, NAN_, 19, 18, head),
				    ab_oxygen_keg(filled, n, kpa, NAN_, 19, 18, head));
				rises("more of its own gas", ab_oxygen_keg(AB_TARGET_FLOW, n, kpa, 22, 19, 18,
				    head), ab_oxygen_keg(AB_TARGET_FLOW, n, kpa, 21, 19, 18, head));
			}
	for (int target = AB_TARGET_PURGED; target <= AB_TARGET_FLOW; target++)
		for (int splashed = -1; splashed <= 1; splashed++)
			rises("a purged target", ab_oxygen_move(AB_HOW_TAP, target, splashed),
			    ab_oxygen_move(AB_HOW_TAP, AB_TARGET_AIR, splashed));
	rises("quiet", ab_oxygen_move(AB_HOW_TAP, 0, 0), ab_oxygen_move(AB_HOW_TAP, 0, 1));
	rises("yeast that works takes more", ab_oxygen_eaten(false), ab_oxygen_eaten(true));
	rises("foam", ab_oxygen_neck(1, 30, 0, 0.355, 1), ab_oxygen_neck(1, 30, 0, 0.355, 0));
}
END_TEST

/* 20 % and 30 % are 36 % as a root of squares; nothing below nothing. */
START_TEST(ranges)
{
	struct ab_range p = ab_range_product((struct ab_range){ 10, 8, 12 }, (struct ab_range){ 2, 1.4, 2.6 });
	ck_assert_double_eq_tol(p.mid, 20, 1e-12);
	ck_assert_double_eq_tol(p.low, 20 * (1 - hypot(0.2, 0.3)), 1e-9);
	ck_assert_double_eq_tol(p.high, 20 * (1 + hypot(0.2, 0.3)), 1e-9);
	p = ab_range_product((struct ab_range){ 1, 0.1, 5 }, (struct ab_range){ 1, 0.1, 5 });
	ck_assert_double_eq(p.low, 0);
	p = ab_range_product((struct ab_range){ 0, 0, 2 }, (struct ab_range){ 3, 1, 4 });
	ck_assert(p.mid == 0 && p.low == 0 && p.high == 6);
	p = ab_range_sum((struct ab_range){ 1, 0, 4 }, (struct ab_range){ 2, 2, 6 });
	ck_assert(p.mid == 3 && p.low == 2 && fabs(p.high - 8) < 1e-12);
	ck_assert_double_eq_tol(ab_range_u((struct ab_range){ 2, 1, 4.29 }), 1, 1e-12);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("budget");

	tcase_add_loop_test(tc, the_balance_closes, 0, sizeof stories / sizeof *stories);
	tcase_add_test(tc, facts_are_the_items);
	tcase_add_loop_test(tc, what_if, 0, sizeof what_ifs / sizeof *what_ifs);
	tcase_add_test(tc, facts_as_if);
	tcase_add_test(tc, outdated);
	tcase_add_test(tc, short_of_memory);
	tcase_add_test(tc, more_air_is_never_less_oxygen);
	tcase_add_test(tc, more_purging_is_never_more_oxygen);
	tcase_add_test(tc, ranges);
	return fact_rows_run("oxygen", rows, sizeof rows / sizeof *rows, tc);
}
