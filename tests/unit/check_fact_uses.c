/* check_fact_uses.c - every fact is shown by an example, and looked at by a rule or by somebody who says why not;
 * what can still be found out can be told
 *
 * Needs AFTERBOIL_RULES and top_srcdir, as make check sets them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <check.h>
#include <afterboil/facts.h>
#include <afterboil/interview.h>
#include <afterboil/profile.h>
#include "rulecase.h"

/* Facts that no example shows, each with why. */
static const struct { const char *name, *why; } unshown[] = {
	{ "taste.part", "wants a batch of which only the first or the last pours have it" },
	{ "taste.one-package", "wants a batch in bottles and in a keg, of which one is clean" },
	{ "hops.fall-from-rest", "wants a batch read before and after its dry hops" },
	{ "taste.since-hops", "wants a batch tasted before its dry hops" },
	{ "ferment.roused", "wants a batch that hung" }, { "keg.gas", "wants a keg under mixed gas" },
	{ "keg.pressure-if-warm", "wants a keg that holds gravity yet" },
	{ "yeast.last-spoilt", "wants yeast taken from another beer" }, { NULL, NULL },
};

/* Facts that no rule looks at, each with what it is for. Those with a comment in fact_list.h. */
static const struct { const char *name, *why; } unruled[] = {
	{ "recipe.one-malt-one-hop", "the evidence: hides less from tasters" },
	{ "gravity.curve-final", "the brewer who waits" }, { "gravity.curve-finish-day", "the brewer who waits" },
	{ "gravity.half-time", "ends the early days" }, { "ferment.heat-rise", "explains ferment.early-mean" },
	{ "vessel.ua", "the brewer's own vessel" }, { "pack.co2-expected", "pack.co2-over" },
	{ "pack.kind", "the calendar's minutes" }, { "ferment.pressure", "pack.co2-expected" },
	{ "pack.pressure-worst", "pack.pressure-share" }, { "pack.pressure-share", "the warning" },
	{ "keg.gas", "the warning" }, { "keg.pressure-if-warm", "the warning" },
	{ "oxygen.opened", "an item of oxygen.total" }, { "oxygen.permeation", "an item of oxygen.total" },
	{ "taste.scores", "how far verdicts" }, { "taste.score", "how far verdicts" },
	{ "taste.score-spread", "how far verdicts" },
	{ "oxygen.total", "stale.dose" }, { "stale.dose", "stale.outlook" },
};

#define N_FACTS (ab_fact_defs()->n)

/* ---- shown ---- */

struct looking { bool *shown; struct ab_arena *arena; const struct ab_profile *profile; };

static enum ab_status look(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct looking *l = ctx;
	struct ab_fact *facts = ab_arena_alloc(l->arena, N_FACTS, sizeof *facts);
	enum ab_status st = ab_facts_compute(batch, l->profile, &rules->norms, l->arena, facts, diag);

	for (size_t i = 0; st == AB_OK && i < N_FACTS; i++)
		l->shown[i] |= AB_FACT_KNOWN(&facts[i]);
	return st;
}

static void read_examples(bool *shown)
{
	const char *top = getenv("top_srcdir");
	struct looking l = { shown, rules_arena, NULL };
	struct ab_profile *profile = NULL;
	struct ab_diag diag;
	char path[4096];
	glob_t found;

	ab_diag_init(&diag);
	ck_assert_ptr_nonnull(top);
	snprintf(path, sizeof path, "%s/examples/profile.xml", top);
	ck_assert_msg(ab_profile_read_file(path, rules_arena, &profile, &diag) == AB_OK, "%s", diag.text);
	l.profile = profile;
	snprintf(path, sizeof path, "%s/examples/[0-9]*.xml", top);
	ck_assert_int_eq(glob(path, 0, NULL, &found), 0);
	ck_assert_uint_ge(found.gl_pathc, 15);
	for (size_t i = 0; i < found.gl_pathc; i++)
		ck_assert_msg(ab_journal_read_file(found.gl_pathv[i], rules_arena, look, &l, &diag) == AB_OK, "%s: %s",
		    found.gl_pathv[i], diag.text);
	globfree(&found);
}

START_TEST(every_fact_is_shown)
{
	bool *shown = ab_arena_alloc(rules_arena, N_FACTS, sizeof *shown);

	read_examples(shown);
	for (size_t i = 0; i < N_FACTS; i++) {
		bool excused = false;
		for (size_t k = 0; unshown[k].name != NULL; k++)
			excused |= strcmp(unshown[k].name, ab_fact_defs()->defs[i].name) == 0;
		ck_assert_msg(shown[i] != excused, "%s: %s", ab_fact_defs()->defs[i].name, excused
		    ? "is shown after all" : "no example shows it, and no reason is given why");
	}
}
END_TEST

/* ---- looked at ---- */

static void see(bool *seen, const struct ab_conds *conds)
{
	for (size_t i = 0; i < conds->n; i++)
		seen[conds->items[i].slot] = true;
}

static void see_causes(bool *seen)
{
	for (size_t i = 0; i < rules->n_causes; i++) {
		const struct ab_cause *c = &rules->causes[i];
		for (size_t k = 0; k < c->n_priors; k++)
			see(seen, &c->priors[k].when);
		for (size_t k = 0; k < c->n_gates; k++)
			see(seen, &c->gates[k].when);
		for (size_t k = 0; k < c->n_links; k++)
			see(seen, &c->links[k].when);
		for (size_t k = 0; k < c->n_signs; k++) {
			seen[c->signs[k].slot] = true;
			see(seen, &c->signs[k].when);
		}
	}
}

static void see_changes(bool *seen)
{
	for (size_t i = 0; i < rules->n_changes; i++) {
		const struct ab_change *c = &rules->changes[i];
		for (size_t k = 0; k < c->n_sets; k++)
			seen[c->sets[k].slot] = true;
		for (size_t k = 0; k < c->n_prevents; k++)
			see(seen, &c->prevents[k].when);
		for (size_t k = 0; k < c->n_only_for; k++)
			see(seen, &c->only_for[k]);
		for (size_t k = 0; k < c->n_not_for; k++)
			see(seen, &c->not_for[k]);
		for (size_t k = 0; k < c->n_practices; k++)
			see(seen, &c->practices[k]);
	}
}

START_TEST(every_fact_is_looked_at)
{
	bool *seen = ab_arena_alloc(rules_arena, N_FACTS, sizeof *seen);

	see_causes(seen);
	see_changes(seen);
	for (size_t i = 0; i < rules->n_faults; i++)
		for (size_t k = 0; k < rules->faults[i].n_leaks; k++)
			see(seen, &rules->faults[i].leaks[k].when);
	for (size_t i = 0; i < rules->n_checks; i++)
		for (size_t k = 0; k < rules->checks[i].n_only_for; k++)
			see(seen, &rules->checks[i].only_for[k]);
	for (size_t i = 0; i < N_FACTS; i++) {
		bool excused = false;
		for (size_t k = 0; k < sizeof unruled / sizeof *unruled; k++)
			excused |= strcmp(unruled[k].name, ab_fact_defs()->defs[i].name) == 0;
		ck_assert_msg(seen[i] != excused, "%s: %s", ab_fact_defs()->defs[i].name, excused
		    ? "a rule looks at it after all" : "no rule looks at it, and nothing is said of what it is for");
	}
}
END_TEST

/* "Find it out before you buy" helps nobody who cannot write the answer down. */
START_TEST(what_lasts_can_be_told)
{
	size_t lasting = 0;

	for (size_t i = 0; i < N_FACTS; i++) {
		const struct ab_fact_def *def = &ab_fact_defs()->defs[i];
		lasting += def->lasting;
		ck_assert_msg(!def->lasting || (def->asks != NULL && ab_interview_can_ask((int)i)),
		    "%s: nobody asks for it", def->name);
	}
	ck_assert_uint_gt(lasting, 0);
	/* one of the day, and one that stays */
	ck_assert(!ab_fact_defs()->defs[ab_fact_slot(ab_fact_defs(), "ferment.early-mean")].lasting);
	ck_assert(ab_fact_defs()->defs[ab_fact_slot(ab_fact_defs(), "vessel.scratched")].lasting);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("uses of facts");
	TCase *tc = tcase_create("facts");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(tc, rules_read, rules_drop);
	tcase_add_test(tc, every_fact_is_shown);
	tcase_add_test(tc, every_fact_is_looked_at);
	tcase_add_test(tc, what_lasts_can_be_told);
	suite_add_tcase(s, tc);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
