/* check_oxygen_rules.c - what the project's rules make of reckoned oxygen: which journal makes which cause
 * likelier, and what replaying a change does
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>
#include <afterboil/diagnose.h>
#include "advice/advising.h"
#include "factcase.h"
#include "rulecase.h"

#define VOLUME "<recipe volume='20 L'/>"
#define OG(sg) "<reading at='+0d' gravity='" sg " SG' instrument='hydrometer' sample='20 C'/>"
#define DONE "<yeast class='clean-ale' form='liquid'/>" OG("1.048") \
	"<reading at='+5d' gravity='1.010 SG' instrument='hydrometer' sample='20 C'/>"
#define AT "at='2031-03-11T18:00' "
#define FILLED "<package " AT "into='bottles' bottle='longneck' size='355 mL'/>"
#define BOTTLES(more) VOLUME "<package " AT "into='bottles' bottle='longneck' size='355 mL' " more "/>"
#define KEG(more) VOLUME "<package " AT "into='keg' size='19 L' volume='18 L' headspace='1 L' " more "/>"
#define TASTED "<tasting at='2031-05-10T18:00'/>"
#define CRASH(head, lock) VOLUME DONE "<vessel kind='glass' headspace='" head \
	"'/><crash at='+6d' temp='2 C' airlock='" lock "'/>" FILLED
#define SECOND(head, from) VOLUME DONE "<vessel kind='glass'/>" \
	"<vessel kind='glass' second='yes' headspace='" head "' from='" from "'/>" FILLED
#define HOPS(opened) VOLUME DONE "<vessel kind='glass' headspace='4 L'/>" \
	"<dry-hop at='+6d' amount='100 g' opened='" opened "'/>" FILLED

/* The first journal makes the cause clearly likelier than the second: odds at least so many times. */
static const struct { const char *title, *cause, *more, *less; double times; } pairs[] = {
	{ "necks of 4 cm and of 1 cm", "open-fill-headspace", BOTTLES("neck='4 cm'"), BOTTLES("neck='1 cm'"), 4 },
	{ "4 cm, without and with foam", "open-fill-headspace", BOTTLES("neck='4 cm' cap-on-foam='no'"),
	BOTTLES("neck='4 cm' cap-on-foam='yes'"), 5 },
	{ "foam makes up for a low fill", "open-fill-headspace", BOTTLES("neck='3 cm' cap-on-foam='no'"),
	BOTTLES("neck='4 cm' cap-on-foam='yes'"), 3 },
	{ "one purge and five", "open-fill-headspace", KEG("filled='air-filled' purges='1'"),
	KEG("filled='air-filled' purges='5'"), 2.5 },
	{ "purged to 0.3 and to 2 bar", "open-fill-headspace",
	KEG("filled='air-filled' purges='4' purge-pressure='0.3 bar'"),
	  KEG("filled='air-filled' purges='4' purge-pressure='2 bar'"), 1.8 },
	{ "untold height, without and with foam", "open-fill-headspace", BOTTLES("cap-on-foam='no'"),
	BOTTLES("cap-on-foam='yes'"), 3 },
	{ "poured or closed", "splashy-transfer", VOLUME "<transfer how='poured'/>",
	VOLUME "<transfer how='closed'/>", 4 },
	{ "into bottles from above or from the bottom", "splashy-transfer", BOTTLES("wand='no'"),
	BOTTLES("wand='yes'"), 1.5 },
	{ "through the lid or from a dropper", "dry-hop-oxygen", HOPS("open-lid"), HOPS("dropper"), 2 },
	{ "through the lid or while it worked", "dry-hop-oxygen", HOPS("open-lid"), HOPS("while-active"), 4 },
	{ "much and little gas over a crash", "crash-suckback", CRASH("7 L", "airlock"), CRASH("7 L", "gas-bag"),
	20 },
	{ "a second vessel half full and full", "secondary-vessel", SECOND("6 L", "+6d"), SECOND("0.5 L", "+6d"), 4 },
	{ "a second vessel for a week and for an hour", "secondary-vessel", SECOND("4 L", "+3d"), SECOND("4 L",
	"+9d 23h"), 2.5 },
	{ "used twist-offs for two months, and new crowns", "leaky-closure",
	BOTTLES("cap='twist-off-reused'") TASTED, BOTTLES("cap='plain'") TASTED, 2 },
	{ "not aired and aired with oxygen", "under-aerated-wort", VOLUME DONE "<aerate method='none'/>",
	VOLUME DONE "<aerate method='oxygen' time='1 min'/>", 4 },
	{ "shaken for 5 s and for a minute", "under-aerated-wort",
	VOLUME DONE "<aerate method='shake' time='5 s'/>", VOLUME DONE "<aerate method='shake' time='1 min'/>", 1.5 },
	{ "strong wort and ordinary", "under-aerated-wort",
	VOLUME "<yeast form='liquid'/>" OG("1.090") "<aerate method='shake' time='1 min'/>",
	  VOLUME "<yeast form='liquid'/>" OG("1.045") "<aerate method='shake' time='1 min'/>", 1.8 },
	{ "kept warm and cold", "warm-long-storage", BOTTLES("neck='4 cm'") "<store for='60 d' temp='24 C'/>" TASTED,
	  BOTTLES("neck='4 cm'") "<store for='60 d' temp='4 C'/>" TASTED, 4 },
};

START_TEST(likelier)
{
	double more = rules_odds(rules_facts(pairs[_i].more), pairs[_i].cause),
	    less = rules_odds(rules_facts(pairs[_i].less), pairs[_i].cause);
	ck_assert_msg(more >= pairs[_i].times * less, "%s: odds of %s %g and %g", pairs[_i].title,
	    pairs[_i].cause, more, less);
}
END_TEST

/* One measurement counts once: told and reckoned together no more than twice what the reckoned sign says at most. */
static const struct { const char *title, *cause, *journal; double most; } onces[] = {
	{ "an open keg of air, never purged", "open-fill-headspace", KEG("filled='air-filled' purges='0'"), 6 },
	{ "a bottle filled to 8 cm without foam", "open-fill-headspace", BOTTLES("neck='8 cm' cap-on-foam='no'"), 6 },
	{ "much air over a second vessel, but its own sign", "secondary-vessel", SECOND("15 L", "+5d"), 6 * 5 },
	{ "not aired, for no time, in strong wort", "under-aerated-wort",
	VOLUME "<yeast form='liquid'/>" OG("1.090") "<aerate method='none' time='0 min'/>", 4 },
};

START_TEST(counts_once)
{
	double with = rules_odds(rules_facts(onces[_i].journal), onces[_i].cause),
	    without = rules_odds(rules_facts("<note/>"), onces[_i].cause);
	ck_assert_msg(with <= onces[_i].most * without * 1.001, "%s: odds of %s %g times", onces[_i].title,
	    onces[_i].cause, with / without);
}
END_TEST

/* A change replayed on facts: what it moves makes the reckoned fact unknown, and the cause becomes less likely,
 * not stuck. */
static const struct { const char *change, *cause, *journal; } replays[] = {
	{ "purge-five-times", "open-fill-headspace", KEG("filled='air-filled' purges='0'") },
	{ "liquid-purge-keg", "open-fill-headspace", KEG("filled='air-filled'") },
	{ "cap-on-foam", "open-fill-headspace", BOTTLES("neck='5 cm' cap-on-foam='no'") },
	{ "dry-hop-while-active", "dry-hop-oxygen", HOPS("open-lid") },
	{ "hop-dropper", "dry-hop-oxygen", HOPS("open-lid") }, { "stop-crash-suckback", "crash-suckback",
	CRASH("5 L", "airlock") },
	{ "skip-second-vessel", "secondary-vessel", SECOND("4 L", "+6d") }, { "quiet-transfer",
	"splashy-transfer", VOLUME "<transfer splashed='yes'/>" },
	{ "fill-from-bottom", "splashy-transfer", BOTTLES("wand='no'") },
	{ "oxygen-wand", "under-aerated-wort",
	VOLUME "<yeast form='liquid'/>" OG("1.048") "<aerate method='none'/>" },
};

START_TEST(replayed)
{
	const int change = rules_change(replays[_i].change);
	struct ab_fact *facts = rules_facts(replays[_i].journal), *scratch = ab_arena_alloc(rules_arena,
	    ab_fact_defs()->n, sizeof *scratch);
	double before = rules_chance(facts, replays[_i].cause);

	ck_assert_msg(ab_replay(rules, facts, &change, 1, scratch, NULL) > 0, "%s moves nothing", replays[_i].change);
	double after = rules_chance(scratch, replays[_i].cause);
	ck_assert_msg(after < 0.7 * before, "%s: %s %g, then %g", replays[_i].change, replays[_i].cause, before,
	    after);
}
END_TEST

/* The same asked of the physics: as if the change had been made. */
START_TEST(as_if_agrees_with_replay)
{
	struct ab_as_if five = { ab_fact_slot(ab_fact_defs(), "pack.purges"), 5 };
	const char *journal = KEG("filled='air-filled' purges='0'");
	struct ab_fact *other = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *other);
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_facts_recompute(fact_read(journal, rules_arena), NULL, &rules->norms, &five, 1,
			     rules_arena, other, &diag),
	    AB_OK);
	ck_assert_double_lt(rules_chance(other, "open-fill-headspace"), 0.5 * rules_chance(rules_facts(journal),
	    "open-fill-headspace"));
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("oxygen in the rules");
	TCase *tc = tcase_create("rules");
	SRunner *sr;

	tcase_add_checked_fixture(tc, rules_read, rules_drop);
	tcase_add_loop_test(tc, likelier, 0, sizeof pairs / sizeof *pairs);
	tcase_add_loop_test(tc, counts_once, 0, sizeof onces / sizeof *onces);
	tcase_add_loop_test(tc, replayed, 0, sizeof replays / sizeof *replays);
	tcase_add_test(tc, as_if_agrees_with_replay);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
