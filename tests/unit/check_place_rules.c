/* check_place_rules.c - what the project's rules make of where and when a fault shows, of plain sights, of a
 * brewer's own word, and of what lives on in a vessel
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>
#include <check.h>
#include <afterboil/diagnose.h>
#include "factcase.h"
#include "rulecase.h"

#define PART(from, extent) "<package into='" from \
	"'/><tasting from='other'><found fault='gushing' extent='" extent "'/></tasting>"
#define SQUIRT(into, extent) "<package into='" into \
	"'/><tasting from='fermenter'><found fault='musty' extent='" extent "'/></tasting><tasting from='bottle'/>"
#define DRY(much, long) "<recipe volume='20 L'/><dry-hop amount='" much "' contact='" long "'/>"
#define STOOD(after) "<reading at='+0h' gravity='1.060 SG'/><reading at='+8d' gravity='1.012 SG'/><reading at='+12d' " \
	"gravity='1.012 SG'/><dry-hop at='+12d'/><reading at='+16d' gravity='" after " SG'/>"
#define BUTTER(before) "<dry-hop at='+12d'/><tasting at='+12d'>" before \
	"</tasting><tasting at='+20d'><found fault='butter' intensity='3'/></tasting>"
#define HOPS "<recipe volume='20 L'/><dry-hop at='+5d' amount='100 g' loose='"

/* The first journal makes the cause likelier than the second: odds at least so many times. */
static const struct { const char *title, *cause, *more, *less; double times; } pairs[] = {
	{ "islands of yeast, and a skin", "normal-appearance", "<looks surface='yeast-islands'/>",
	    "<looks surface='film'/>", 8 },
	{ "a film told without more, and a skin", "normal-appearance", "<looks film='yes'/>",
	    "<looks surface='film'/>", 1.5 },
	{ "islands called a film", "normal-appearance", "<looks film='yes' surface='yeast-islands'/>",
	    "<looks film='yes'/>", 4 },
	{ "fur, and foam", "open-exposure", "<looks surface='mould'/>", "<looks surface='foam'/>", 6 },
	{ "a skin, and islands", "poor-cleaning", "<looks surface='film'/>", "<looks surface='yeast-islands'/>", 3 },
	{ "a skin is told once", "poor-cleaning", "<looks film='yes'/>", "<looks/>", 1.9 },
	{ "loose hops, and bagged", "hop-debris-in-package", HOPS "yes'/>", HOPS "no'/>", 6 },
	{ "top-up, boiling untold, and none", "post-boil-water", "<recipe volume='20 L'/><water top-up='6 L'/>",
	    "<recipe volume='20 L'/><water top-up='0 L'/>", 8 },
	{ "unboiled top-up, and boiling untold", "post-boil-water",
	    "<recipe volume='20 L'/><water top-up='6 L' top-up-boiled='no'/>",
	    "<recipe volume='20 L'/><water top-up='6 L'/>", 1.5 },
	{ "little yeast by the brewer's word, and plenty", "under-pitch", "<yeast judged='little'/>",
	    "<yeast judged='plenty'/>", 12 },
	{ "plenty, and the usual", "over-pitch", "<yeast judged='plenty'/>", "<yeast judged='usual'/>", 4 },
	{ "the beer before with this yeast spoilt, and sound", "infected-yeast",
	    "<yeast form='slurry' last-spoilt='yes'/>",
	    "<yeast form='slurry' last-spoilt='no'/>", 10 },
	{ "the vessel's last batch spoilt, and sound", "worn-plastic", "<vessel kind='bucket' last-spoilt='yes'/>",
	    "<vessel kind='bucket' last-spoilt='no'/>", 4 },
	{ "the same for soil", "poor-cleaning", "<vessel last-spoilt='yes'/>", "<vessel last-spoilt='no'/>", 3 },
	{ "the last half of the bottles, and every one", "uneven-priming", PART("bottles", "last-half"),
	    PART("bottles", "every-bottle"), 3 },
	{ "the first half of the bottles, and every one", "uneven-priming", PART("bottles", "first-half"),
	    PART("bottles", "every-bottle"), 3 },
	{ "the first half of the keg, and all of it", "hop-debris-in-package", PART("keg", "first-half"),
	    PART("keg", "every-bottle"), 1.9 },
	{ "the first glass, and the last half", "dirty-lines", PART("keg", "first-pour-only"),
	    PART("keg", "last-half"), 5 },
	{ "the first glass foams, and half the keg", "unbalanced-lines", PART("keg", "first-pour-only"),
	    PART("keg", "first-half"), 3 },
	{ "the first glass cloudy, and the last half", "yeast-poured", PART("keg", "first-pour-only"),
	    PART("keg", "last-half"), 2 },
	{ "the first squirt from the fermenter, and all of it", "dirty-bottling-gear",
	    SQUIRT("bottles", "first-pour-only"), SQUIRT("bottles", "every-bottle"), 6 },
	{ "the same, and it went into a keg", "poor-cleaning", SQUIRT("keg", "first-pour-only"),
	    SQUIRT("keg", "every-bottle"), 3 },
	{ "three days of very many hops, and of many", "overlong-dry-hop", DRY("440 g", "3 d"),
	    DRY("160 g", "3 d"), 3 },
	{ "so many in three days, and in ten", "overlong-dry-hop", DRY("440 g", "10 d"), DRY("440 g", "3 d"), 1.5 },
	{ "hops by no weight: it had stood and fell, and stood on", "hop-creep", STOOD("1.009"), STOOD("1.012"), 8 },
	{ "butter that came with the hops, and from before", "hop-creep", BUTTER("<absent fault='butter'/>"),
	    BUTTER("<found fault='butter' intensity='3'/>"), 4 },
	{ "the last bottles, and the first", "splashy-transfer", PART("bottles", "last-half"),
	    PART("bottles", "first-half"), 1.5 },
	{ "half of a keg is no bottle that differs", "keg-pressure-mismatch", PART("keg", "last-half"),
	    PART("bottles", "some-bottles"), 5 },
};

START_TEST(likelier)
{
	double more = rules_odds(rules_facts(pairs[_i].more), pairs[_i].cause),
	       less = rules_odds(rules_facts(pairs[_i].less), pairs[_i].cause);

	ck_assert_msg(more >= pairs[_i].times * less, "%s: odds of %s %g and %g", pairs[_i].title, pairs[_i].cause,
	    more, less);
}
END_TEST

/* Where cells can be reckoned, the brewer's word is not counted beside them. */
START_TEST(a_count_beats_a_word)
{
	static const char counted[] = "<recipe volume='20 L' og='1.050 SG'/><yeast form='dry' amount='11 g' judged='";
	double little = rules_odds(rules_facts(ab_arena_printf(rules_arena, "%slittle'/>", counted)), "under-pitch");
	double plenty = rules_odds(rules_facts(ab_arena_printf(rules_arena, "%splenty'/>", counted)), "under-pitch");

	ck_assert_double_eq(little, plenty);
}
END_TEST

/* Grist that tastes of smoke or roast excuses it; the same fault without such malt is not excused. */
static const struct { const char *title, *with, *without, *fault; } grists[] = {
	{ "smoke", "<recipe><malt kind='pale' amount='3 kg'/><malt kind='smoked' amount='2 kg'/></recipe>",
	    "<recipe><malt kind='pale' amount='5 kg'/></recipe>", "burnt" },
	{ "smoke called plaster",
	    "<recipe><malt kind='pale' amount='3 kg'/><malt kind='smoked' amount='2 kg'/></recipe>",
	    "<recipe><malt kind='pale' amount='5 kg'/></recipe>", "medicinal" },
	{ "roast", "<recipe><malt kind='pale' amount='4 kg'/><malt kind='roasted' amount='500 g'/></recipe>",
	    "<recipe><malt kind='pale' amount='5 kg'/></recipe>", "burnt" },
	{ "dark grain", "<recipe><malt kind='pale' amount='4 kg'/><malt kind='roasted' amount='500 g'/></recipe>",
	    "<recipe><malt kind='pale' amount='5 kg'/></recipe>", "astringent" },
};

static const struct ab_diagnosis *diagnosed(const char *journal, const char *fault, int grade)
{
	const struct ab_evidence evidence = {
		.finding = ab_arena_alloc(rules_arena, rules->n_faults, sizeof *evidence.finding), .family = -1
	};
	const struct ab_diagnose_options plainly = { 0 };
	struct ab_diagnosis *d;
	struct ab_diag diag;

	ab_diag_init(&diag);
	evidence.finding[ab_fault_find(rules, fault)] = (struct ab_finding){ AB_SEEN_FOUND, grade, 0 };
	ck_assert_int_eq(ab_diagnose(rules, rules_facts(journal), &evidence, &plainly, rules_arena, &d, &diag), AB_OK);
	return d;
}

static double blamed_at(const char *journal, const char *fault, int grade, const char *cause)
{
	return diagnosed(journal, fault, grade)->blame[rules_cause(cause)];
}

static double blamed(const char *journal, const char *fault, const char *cause)
{
	return blamed_at(journal, fault, 1, cause);
}

static double excused(const char *journal, const char *fault)
{
	return blamed(journal, fault, "expected-character");
}

/* What youth is blamed for hangs on how long gas and sugar take. */
#define KEGGED(at) "<package at='+10d' into='keg'/><tasting at='" at "'><found fault='flat'/></tasting>"
#define TASTED(at) "<yeast class='clean-ale'/><tasting at='" at "'><found fault='sweet'/></tasting>"
static const struct { const char *title, *more, *less, *fault; double times; } youths[] = {
	{ "flat after less than two weeks in the keg, and after more", KEGGED("+23d"), KEGGED("+26d"),
	    "under-carbonated", 1.7 },
	{ "sweet on day four, and on day seven", TASTED("+4d"), TASTED("+7d"), "sweet-underattenuated", 1.2 },
};

START_TEST(of_youth)
{
	double more = blamed(youths[_i].more, youths[_i].fault, "still-young"),
	       less = blamed(youths[_i].less, youths[_i].fault, "still-young");

	ck_assert_msg(more >= youths[_i].times * less, "%s: %g and %g", youths[_i].title, more, less);
}
END_TEST

/* A little tart is how young beer is, with its gas and its yeast; plainly sour it is not. Green apple may be both. */
START_TEST(youth_is_tart_not_sour)
{
	const char *young = TASTED("+16d");
	double tart = blamed_at(young, "sour-lactic", 1, "still-young");
	double sour = blamed_at(young, "sour-lactic", 2, "still-young");

	ck_assert_msg(sour < 0.5 * tart, "tart %g, sour %g", tart, sour);
	ck_assert_double_gt(blamed_at(young, "acetaldehyde", 2, "still-young"), 2 * sour);
}
END_TEST

START_TEST(of_the_grist)
{
	double with = excused(grists[_i].with, grists[_i].fault),
	       without = excused(grists[_i].without, grists[_i].fault);

	ck_assert_msg(with > 0.03 && with > 3 * without, "%s: %s excused with %g, without with %g",
	    grists[_i].title, grists[_i].fault, with, without);
}
END_TEST

/* Contradictions are said aloud; each of the two statements alone is not. */
static const struct { const char *id, *both, *one; } contraries[] = {
	{ "contrary-finished",
	    "<reading at='+6d' gravity='1.012 SG'/><reading at='+10d' gravity='1.012 SG'/><package at='+10d'/>"
	    "<reading at='+40d' gravity='1.006 SG'/>",
	    "<reading at='+6d' gravity='1.012 SG'/><reading at='+10d' gravity='1.012 SG'/><package at='+10d'/>" },
	{ "contrary-sealed", "<vessel sealed='yes'/><opened for='30 min'/>",
	    "<vessel sealed='yes'/><opened for='2 min'/>" },
	{ "contrary-clean",
	    "<gear item='bottles' cleaned='percarbonate' sanitiser='acid'/><looks neck-ring='yes'/>",
	"<looks neck-ring='yes'/>" },
	{ "contrary-bottles", "<tasting><found fault='sour' extent='some-bottles' at-packaging='yes'/></tasting>",
	    "<tasting><found fault='sour' extent='every-bottle' at-packaging='yes'/></tasting>" },
};

static bool says_contrary(const char *journal, const char *id)
{
	const struct ab_fact *facts = rules_facts(journal);
	bool known = false, said = false;

	for (size_t i = 0; i < rules->n_contraries; i++)
		if (strcmp(rules->contraries[i].id, id) == 0) {
			known = true;
			said = case_is_contrary(&rules->contraries[i], facts);
		}
	ck_assert_msg(known, "no contrary \"%s\"", id);
	return said;
}

START_TEST(contrary)
{
	ck_assert_msg(says_contrary(contraries[_i].both, contraries[_i].id), "%s is not said", contraries[_i].id);
	ck_assert_msg(!says_contrary(contraries[_i].one, contraries[_i].id), "%s is said of one statement",
	    contraries[_i].id);
}
END_TEST

/* Haze that goes when the glass warms is looks only, and no process is blamed before that; haze that stays is not, nor
 * does a fault of taste beside it become harmless. */
static struct ab_diagnosis *of_haze(signed char clears, const char *beside)
{
	signed char *check = ab_arena_alloc(rules_arena, rules->n_checks, 1);
	const struct ab_evidence evidence = {
		.finding = ab_arena_alloc(rules_arena, rules->n_faults, sizeof *evidence.finding), .check = check,
		.family = -1
	};
	const struct ab_diagnose_options plainly = { 0 };
	struct ab_diagnosis *d;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_ge(ab_check_find(rules, "clear-warm"), 0);
	check[ab_check_find(rules, "clear-warm")] = clears;
	evidence.finding[ab_fault_find(rules, "haze-chill")] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	if (beside != NULL)
		evidence.finding[ab_fault_find(rules, beside)] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	ck_assert_int_eq(ab_diagnose(rules, rules_facts("<package into='bottles'/>"), &evidence, &plainly, rules_arena,
			     &d, &diag),
	    AB_OK);
	return d;
}

/* Pepper after very many hops is theirs, unless the strain is known for it; without them it is not. */
START_TEST(pepper_of_hops)
{
	const char *many = DRY("440 g", "3 d"), *known = DRY("440 g", "3 d") "<yeast class='german-wheat'/>";

	ck_assert_double_gt(blamed(many, "clove-phenolic", "overlong-dry-hop"),
	    blamed(many, "clove-phenolic", "strain-choice"));
	ck_assert_double_lt(blamed(known, "clove-phenolic", "overlong-dry-hop"),
	    blamed(known, "clove-phenolic", "strain-choice"));
	ck_assert_double_lt(blamed(DRY("100 g", "3 d"), "clove-phenolic", "overlong-dry-hop"), 0.001);
}
END_TEST

static bool is_risk(const struct ab_diagnosis *d, const char *cause)
{
	bool is = false;

	for (size_t i = 0; i < d->n_risks; i++)
		is = is || d->risks[i] == rules_cause(cause);
	return is;
}

/* A risk is what was told, not what is usual, nor what the behaviour of a fault makes likely. */
START_TEST(risks_are_told)
{
	static const char flat[] = "<tasting><found fault='flat' at-packaging='yes'/></tasting>";
	const struct ab_diagnosis *untold = diagnosed(flat, "under-carbonated", 2),
	    *told = diagnosed(ab_arena_printf(rules_arena, "<water source='tap'/>%s", flat), "under-carbonated", 2);

	ck_assert_double_gt(untold->present[rules_cause("chlorine-water")], 0.3);
	ck_assert(!is_risk(untold, "chlorine-water"));
	ck_assert(is_risk(told, "chlorine-water"));
}
END_TEST

/* What is advised can be done where the beer stands. */
#define YOUNG(more) "<pitch at='2031-03-01T18:00'/>" more
static const struct { const char *cause, *journal, *with, *without; } followed[] = {
	{ "still-young", YOUNG("<yeast class='lager'/><tasting at='+6d' from='fermenter'/>"), "lager", "room" },
	{ "still-young", YOUNG("<yeast class='clean-ale'/><tasting at='+15h' from='fermenter'/>"), "three days",
	    "room" },
	{ "still-young", YOUNG("<tasting at='+5d' from='fermenter'/>"), "fermenter", "room" },
	{ "still-young", "<package into='keg'/>", "keg", "room" },
	{ "still-young", "<package into='bottles'/>", "room", "keg" },
	{ "leaky-closure", "<package into='keg'/>", "soap", "bottle" },
	{ "leaky-closure", "<package into='bottles' cap='swing'/>", "rubbers", "capper" },
	{ "leaky-closure", "<package into='bottles'/>", "capper", "soap" },
	{ "hot-alkaline-sparge",
	    "<recipe><extract kind='dry' amount='3 kg'/><malt kind='crystal' amount='500 g'/></recipe>", "Steep",
	    "parge" },
	{ "hot-alkaline-sparge", "<recipe><malt kind='pale' amount='4 kg'/></recipe>", "sparge", "Steep" },
};

START_TEST(advice_can_be_followed)
{
	const struct ab_cause *cause = &rules->causes[rules_cause(followed[_i].cause)];
	const char *next = ab_cause_next(cause, rules_facts(followed[_i].journal));

	ck_assert_msg(strstr(next, followed[_i].with) != NULL && strstr(next, followed[_i].without) == NULL,
	    "%s with %s: %s", followed[_i].cause, followed[_i].journal, next);
	ck_assert_str_eq(ab_cause_next(cause, NULL), cause->next);
}
END_TEST

START_TEST(haze_that_goes_when_warm)
{
	int harmless = rules_cause("chill-haze");
	const struct ab_diagnosis *goes = of_haze(1, NULL), *stays = of_haze(-1, NULL),
	    *sour = of_haze(1, "sour-lactic");

	ck_assert_int_eq(goes->suspects[0].cause, harmless);
	ck_assert(goes->verdict_benign && !sour->verdict_benign);
	ck_assert_double_gt(goes->suspects[0].blame, 1.5 * goes->suspects[1].blame);
	ck_assert_int_ne(stays->suspects[0].cause, harmless);
	ck_assert_double_gt(goes->blame[harmless], 4 * stays->blame[harmless]);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("places and sights in the rules");
	TCase *tc = tcase_create("rules");
	SRunner *sr;

	tcase_add_checked_fixture(tc, rules_read, rules_drop);
	tcase_add_loop_test(tc, likelier, 0, sizeof pairs / sizeof *pairs);
	tcase_add_test(tc, a_count_beats_a_word);
	tcase_add_loop_test(tc, of_the_grist, 0, sizeof grists / sizeof *grists);
	tcase_add_loop_test(tc, of_youth, 0, sizeof youths / sizeof *youths);
	tcase_add_test(tc, youth_is_tart_not_sour);
	tcase_add_test(tc, pepper_of_hops);
	tcase_add_test(tc, risks_are_told);
	tcase_add_loop_test(tc, advice_can_be_followed, 0, sizeof followed / sizeof *followed);
	tcase_add_test(tc, haze_that_goes_when_warm);
	tcase_add_loop_test(tc, contrary, 0, sizeof contraries / sizeof *contraries);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
