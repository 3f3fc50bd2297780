/* check_cold_rules.c - what the project's rules make of reckoned clean-up, DMS, doublings, light and gravity's
 * state: which journal makes which cause likelier, that nothing counts twice, and what replaying a change does
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>
#include <afterboil/diagnose.h>
#include "advice/advising.h"
#include "factcase.h"
#include "rulecase.h"

#define LAGER "<yeast class='lager'/>"
#define ALE "<yeast class='clean-ale'/>"
#define G(at, sg) "<reading at='" at "' gravity='" sg " SG' instrument='hydrometer'/>"
#define PACKED(days) "<package at='+" days "d' into='bottles'/>"
#define PILS "<recipe og='1.048 SG'><malt kind='pilsner' amount='4 kg'/></recipe><boil time='60 min'/>"
#define PALE "<recipe og='1.048 SG'><malt kind='pale' amount='4 kg'/></recipe><boil time='60 min'/>"
#define DRY "<recipe og='1.048 SG'><malt kind='pale' amount='4 kg'/></recipe><mash temp='66 C'/>" \
	ALE G("+0h", "1.048") G("+14d", "1.005")
#define BOTTLES(colour, light) "<vessel kind='bucket' light='dark'/>" \
	"<package at='+10d' into='bottles' colour='" colour "'/><store light='" light "'/>" \
	"<tasting at='2031-03-31T18:00'/>"

/* The first journal makes the cause clearly likelier than the second: odds at least so many times. */
static const struct { const char *title, *cause, *more, *less; double times; } pairs[] = {
	{ "a lager held cold to the end, and one rested", "no-diacetyl-rest",
	    LAGER "<vessel control='fridge' target='9 C'/>" PACKED("14"),
	  LAGER "<vessel control='fridge' target='9 C'/><rest at='+9d' temp='18 C' for='5 d'/>" PACKED("14"), 4 },
	{ "half an hour hot with Pilsner malt, and five minutes", "slow-chill", PILS "<chill above-80='60 min'/>",
	    PILS "<chill above-80='5 min'/>",
	  6 },
	{ "a day of warm wort without yeast, and an hour", "wort-left-unpitched",
	    "<chill method='coil' to-pitch='30 h'/><lag first-signs='24 h'/>",
	  "<chill method='coil' to-pitch='1 h'/><lag first-signs='8 h'/>", 10 },
	{ "a long warm lag, and a short cold one", "open-exposure",
	    "<pitch at='2031-03-01T18:00' temp='26 C'/><lag first-signs='40 h'/>",
	  "<pitch at='2031-03-01T18:00' temp='12 C'/><lag first-signs='10 h'/>", 1.8 },
	{ "clear bottles at the window, and brown ones", "light-exposure", BOTTLES("clear", "window"),
	    BOTTLES("brown", "window"), 4 },
	{ "clear bottles in the sun, and indoors", "light-exposure", BOTTLES("clear", "sun"),
	    BOTTLES("clear", "indoor"), 2 },
	/* were the spoon the evener, nothing would be gained by going over to syrup */
	{ "a spoon of sugar in each bottle, and beer run onto the syrup", "uneven-priming",
	    "<package into='bottles' mixing='per-bottle'/>", "<package into='bottles' mixing='onto-syrup'/>",
	  1.8 },
	{ "a spoon of sugar in each bottle, and a drop", "uneven-priming",
	    "<package into='bottles' mixing='per-bottle'/>", "<package into='bottles' mixing='drops'/>", 8 },
	{ "never mixed, and a spoon of sugar in each bottle", "uneven-priming",
	    "<package into='bottles' mixing='unmixed'/>", "<package into='bottles' mixing='per-bottle'/>", 2 },
	/* what the cold side is mistaken for */
	{ "pure water without salts, and water of the mains", "water-without-salts",
	    "<water source='reverse-osmosis' salts='none'/>",
	  "<water source='tap' salts='none'/>", 50 },
	{ "pure water without salts, and nothing told of salts", "water-without-salts",
	    "<water source='reverse-osmosis' salts='none'/>",
	  "<water source='reverse-osmosis'/>", 3 },
	{ "a beer that ended low by a thermometer nobody checked, and by a checked one", "mash-too-cool",
	    DRY "<instrument item='thermometer' checked='no'/>",
	  DRY "<instrument item='thermometer' checked='yes'/>", 3 },
	{ "the same, and nothing told of the thermometer", "mash-too-cool",
	    DRY "<instrument item='thermometer' checked='no'/>", DRY, 1.8 },
	{ "packaged while it fell, and come to rest as high", "packaged-unfinished",
	    ALE G("+0h", "1.050") G("+48h", "1.030") G("+72h", "1.020")
	  PACKED("4"), ALE G("+0h", "1.050") G("+48h", "1.020") G("+120h", "1.020") PACKED("6"), 2 },
};

START_TEST(likelier)
{
	double more = rules_odds(rules_facts(pairs[_i].more), pairs[_i].cause),
	       less = rules_odds(rules_facts(pairs[_i].less), pairs[_i].cause);
	ck_assert_msg(more >= pairs[_i].times * less, "%s: odds of %s %g and %g", pairs[_i].title, pairs[_i].cause,
	    more, less);
}
END_TEST

/* One measurement counts once: with the reckoned fact taken away the odds may move, but both together are never
 * more than the stronger alone. */
static const struct { const char *title, *cause, *journal, *reckoned, *plain[4]; } onces[] = {
	{ "rest", "no-diacetyl-rest", LAGER "<vessel control='fridge' target='9 C'/>" PACKED("8"),
	    "ferment.cleanup-share", { "ferment.rest-days" } },
	{ "hot", "slow-chill", PILS "<chill above-80='60 min'/>", "chill.dms-potential", { "chill.above-80" } },
	{ "unpitched", "wort-left-unpitched", "<chill method='coil' to-pitch='50 h'/><lag first-signs='48 h'/>",
	    "pitch.doublings-before-yeast",
	  { "chill.to-pitch", "lag.time" } },
	{ "unsanitised", "weak-sanitising", "<chill method='coil' to-pitch='50 h'/><lag first-signs='48 h'/>",
	    "pitch.doublings-before-yeast",
	  { "chill.to-pitch" } },
	{ "open", "open-exposure", "<lag first-signs='48 h'/>", "pitch.doublings-before-yeast", { "lag.time" } },
	{ "falling", "packaged-unfinished", ALE G("+0h", "1.050") G("+48h", "1.030") G("+72h", "1.020") PACKED("4"),
	    "gravity.state",
	  { "gravity.stable-days", "gravity.readings" } },
};

static double without(const struct ab_fact *facts, const char *const *names, size_t n, const char *cause)
{
	struct ab_fact *some = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *some);

	memcpy(some, facts, ab_fact_defs()->n * sizeof *some);
	for (size_t i = 0; i < n && names[i] != NULL; i++)
		some[ab_fact_slot(ab_fact_defs(), names[i])].origin = AB_ORIGIN_UNKNOWN;
	return rules_odds(some, cause);
}

START_TEST(counts_once)
{
	const struct ab_fact *facts = rules_facts(onces[_i].journal);
	const char *cause = onces[_i].cause, *all[5] = { onces[_i].reckoned };
	double both = rules_odds(facts, cause);

	ck_assert_msg(AB_FACT_KNOWN(fact_get(facts, onces[_i].reckoned)), "%s: %s is unknown", onces[_i].title,
	    onces[_i].reckoned);
	memcpy(all + 1, onces[_i].plain, sizeof onces[_i].plain);
	double plain = without(facts, all, 1, cause), reckoned = without(facts, onces[_i].plain, 4, cause),
	       neither = without(facts, all, 5, cause);
	ck_assert_msg(both <= fmax(plain, reckoned) * 1.0001, "%s: %g together, %g and %g alone", onces[_i].title,
	    both, plain, reckoned);
	/* and it does say something by itself */
	ck_assert_msg(fabs(log(reckoned / neither)) > 0.05, "%s: %s says nothing", onces[_i].title, onces[_i].reckoned);
}
END_TEST

/* Glass and light speak only where the dose does not. */
START_TEST(light_counts_once)
{
	const struct ab_fact *facts = rules_facts(BOTTLES("clear", "sun"));
	static const char *const glass[] = { "pack.colour", "pack.into", "vessel.light", "store.light" };

	ck_assert(AB_FACT_KNOWN(fact_get(facts, "light.dose")));
	double with = rules_odds(facts, "light-exposure"), bare = without(facts, glass, 4, "light-exposure");
	ck_assert_double_eq_tol(with, bare, 1e-9 * bare);
	facts = rules_facts("<package at='+10d' into='bottles' colour='clear'/>");
	ck_assert(!AB_FACT_KNOWN(fact_get(facts, "light.dose")));
	ck_assert(rules_odds(facts, "light-exposure") > 3 * without(facts, glass, 1, "light-exposure"));
}
END_TEST

static const struct { const char *change, *cause, *journal; } replays[] = {
	{ "immersion-chiller", "slow-chill", PILS "<chill method='air' above-80='60 min'/>" },
	{ "ice-bath-and-stir", "slow-chill", PALE "<chill method='air' above-80='60 min'/>" },
	{ "brown-bottles", "light-exposure", BOTTLES("clear", "window") },
	{ "cover-with-towel", "light-exposure", BOTTLES("clear", "window") },
};

START_TEST(replayed)
{
	const int change = rules_change(replays[_i].change);
	struct ab_fact *facts = rules_facts(replays[_i].journal),
		       *scratch = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *scratch);
	double before = rules_chance(facts, replays[_i].cause);

	ck_assert_msg(ab_replay(rules, facts, &change, 1, scratch, NULL) > 0, "%s moves nothing", replays[_i].change);
	double after = rules_chance(scratch, replays[_i].cause);
	ck_assert_msg(after < 0.7 * before, "%s: %s %g, then %g", replays[_i].change, replays[_i].cause, before, after);
}
END_TEST

/* As if the room had been cooler: the reconstruction follows, and the cause with it. */
START_TEST(as_if_in_a_cooler_room)
{
	struct ab_as_if cool = { ab_fact_slot(ab_fact_defs(), "ferment.room"), 17 };
	const char *journal = ALE "<recipe volume='20 L' og='1.050 SG'/><vessel kind='bucket' room='25 C'/>";
	struct ab_fact *other = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *other),
		       *told = rules_facts(journal);
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_facts_recompute(fact_read(journal, rules_arena), NULL, &rules->norms, &cool, 1,
			     rules_arena, other, &diag),
	    AB_OK);
	ck_assert_double_eq_tol(
	    fact_get(told, "ferment.early-mean")->value - fact_get(other, "ferment.early-mean")->value, 8, 1e-6);
	ck_assert_double_lt(rules_chance(other, "ferment-too-warm"), 0.5 * rules_chance(told, "ferment-too-warm"));
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("the cold side in the rules");
	TCase *tc = tcase_create("rules");
	SRunner *sr;

	tcase_add_checked_fixture(tc, rules_read, rules_drop);
	tcase_add_loop_test(tc, likelier, 0, sizeof pairs / sizeof *pairs);
	tcase_add_loop_test(tc, counts_once, 0, sizeof onces / sizeof *onces);
	tcase_add_test(tc, light_counts_once);
	tcase_add_loop_test(tc, replayed, 0, sizeof replays / sizeof *replays);
	tcase_add_test(tc, as_if_in_a_cooler_room);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
