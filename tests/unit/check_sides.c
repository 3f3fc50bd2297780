/* check_sides.c - every cause and change stands on the right side and in a stage of that side
 *
 * Common practice: the cold side is all that comes after the boil, from chilling to the glass; water, malt, hops,
 * mash and boil are before it. Measuring belongs to what is measured. The hot-side lists are written out here by
 * hand: what is not in them is cold.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <string.h>

#include "rulecase.h"

static const char *const hot_causes[] = {
	"short-or-covered-boil", "bittering-error", "scorched-extract", "darkened-extract", "wort-over-diluted",
	"stale-hops", "stale-malt-extract", "damp-mouldy-store", "mash-too-hot", "mash-too-cool", "hot-alkaline-sparge",
	"crush-too-fine", "crush-too-coarse", "chlorine-water", "mineral-water",
	"water-without-salts", "raw-grain-souring",
	NULL
};
static const char *const hot_changes[] = {
	"lid-off-rolling-boil", "strong-burner", "late-extract", "smaller-batch-full-boil", "bigger-kettle",
	"hop-holder", "bitterness-by-alpha", "measure-preboil", "fresh-extract", "airtight-bins", "no-sparge",
	"ph-meter", "acidify-sparge", "widen-mill-gap", "crush-finer", "grain-mill", "mash-by-thermometer",
	"all-grain", "probe-thermometer",
	"treat-all-water", "carbon-filter", "reverse-osmosis", "bought-water", "weigh-salts",
	"pure-culture-souring", "swap-sugar-for-malt",
	"fresher-hops", "vacuum-sealer", "dry-store", "overlap-tasks", "clean-during-mash", "fixed-hoses",
	"insulate-till-boil", "two-evenings", "half-hour-boil",
	"half-at-once", "wort-pump", "grain-pulley", "bag-without-sparge",
	NULL
};
/* Stages that lie wholly on one side; "measure" is on both. */
static const char *const hot_stages[] = { "mash", "boil", "water", "ingredients", NULL };

static bool listed(const char *const *list, const char *id)
{
	for (; *list != NULL; list++)
		if (strcmp(*list, id) == 0)
			return true;
	return false;
}

static void fits(const char *id, enum ab_side side, int stage, const char *const *hot)
{
	const char *name = ab_words_stage[stage];

	ck_assert_msg(
	    (side == AB_SIDE_HOT) == listed(hot, id), "%s is said to be on the %s side", id, ab_words_side[side]);
	if (strcmp(name, "measure") != 0)
		ck_assert_msg((side == AB_SIDE_HOT) == listed(hot_stages, name),
		    "%s: stage %s is not of the %s side", id, name, ab_words_side[side]);
}

START_TEST(causes)
{
	for (size_t i = 0; i < rules->n_causes; i++)
		fits(rules->causes[i].id, rules->causes[i].side, rules->causes[i].stage, hot_causes);
	for (size_t i = 0; hot_causes[i] != NULL; i++)
		rules_cause(hot_causes[i]);   /* none of the list is a name that is gone */
}
END_TEST

START_TEST(changes)
{
	for (size_t i = 0; i < rules->n_changes; i++)
		fits(rules->changes[i].id, rules->changes[i].side, rules->changes[i].stage, hot_changes);
	for (size_t i = 0; hot_changes[i] != NULL; i++)
		rules_change(hot_changes[i]);
}
END_TEST

/* The named heart of the cold side: fermentation, its temperature, air at pitching, air after it, packaging,
 * serving. */
static const struct { const char *cause, *stage; } heart[] = {
	{ "ferment-too-warm", "ferment" }, { "ferment-swings", "ferment" }, { "ferment-too-cold", "ferment" },
	{ "under-aerated-wort", "pitch" },
	{ "under-pitch", "pitch" }, { "pitch-too-warm", "pitch" }, { "slow-chill", "chill" },
	{ "splashy-transfer", "transfer" },
	{ "crash-suckback", "transfer" }, { "dry-hop-oxygen", "dry-hop" }, { "open-fill-headspace", "package" },
	{ "over-priming", "package" },
	{ "warm-long-storage", "store" }, { "light-exposure", "store" }, { "dirty-lines", "serve" },
	{ "dirty-glass", "serve" },
};

START_TEST(heart_of_the_cold_side)
{
	const struct ab_cause *c = &rules->causes[rules_cause(heart[_i].cause)];

	ck_assert_msg(c->side == AB_SIDE_COLD && strcmp(ab_words_stage[c->stage], heart[_i].stage) == 0,
	    "%s stands at %s", heart[_i].cause, ab_words_stage[c->stage]);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("sides");
	TCase *tc = tcase_create("sides");
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_test(tc, causes);
	tcase_add_test(tc, changes);
	tcase_add_loop_test(tc, heart_of_the_cold_side, 0, sizeof heart / sizeof *heart);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
