/* check_redrawn.c - worlds drawn again on the project's own rules: the journals of the examples, and a trouble that
 * is told
 *
 * With nothing moved, all is as it was reckoned; of one told trouble, which nothing is carried over to, a world
 * that was moved is what comes of reckoning all from the start on its rules.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <glob.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "advice/redrawing.h"
#include "insidecase.h"
#include "rulecase.h"

static struct brewery b;
static struct advising a;
static struct redrawing r;

static const struct { const char *title; size_t batches; const char *troubles; } rows[] = {
	{ "the examples", MOST_BATCHES, "" },
	{ "the examples, and a trouble", MOST_BATCHES, "<trouble fault='buttery'/>" },
	{ "their first three, two faults and a cause", 3,
	    "<trouble fault='buttery'/><trouble fault='green apple'/><trouble cause='ferment-swings'/>" },
	{ "nothing but a trouble", 0, "<trouble fault='buttery'/>" },
	{ "nothing but two", 0, "<trouble fault='wet cardboard'/><trouble fault='solvent'/>" },
};
enum { ALONE = 3 };   /* rows from here on have no batches */

static enum ab_status add_case(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	const struct ab_diagnose_options options = { .redraws = 0 };

	if (b.n >= *(const size_t *)ctx)
		return AB_OK;
	return ab_case_work(rules, batch, b.profile, &options, b.arena, &b.cases[b.n++], diag);
}

static void read_examples(size_t most)
{
	char path[4096];
	glob_t found;

	snprintf(path, sizeof path, "%s/examples/[0-9]*.xml", getenv("top_srcdir"));
	ck_assert_int_eq(glob(path, 0, NULL, &found), 0);
	for (size_t i = 0; i < found.gl_pathc && b.n < most; i++)
		ck_assert_msg(ab_journal_read_file(found.gl_pathv[i], b.arena, add_case, &most, &b.diag) == AB_OK,
		    "%s", b.diag.text);
	globfree(&found);
	ck_assert(most < MOST_BATCHES ? b.n == most : b.n >= 15);
}

static void open_world(int row)
{
	char profile[600];

	b = (struct brewery){ .k = rules,
		.arena = ab_arena_new(),
		.options = {
		    .budget = 120, .minutes = NAN, .away_hours = NAN, .horizon_years = NAN, .running = NAN } };
	ab_diag_init(&b.diag);
	snprintf(profile, sizeof profile,
	    "<brewery xmlns='urn:afterboil:profile:1'><brews family='pale-lager'/>%s</brewery>",
	    rows[row].troubles);
	ck_assert_msg(
	    ab_profile_read_memory(profile, strlen(profile), "p.xml", b.arena, &b.profile, &b.diag) == AB_OK, "%s",
	    b.diag.text);
	if (rows[row].batches > 0)
		read_examples(rows[row].batches);
	inside_open(&a, &b, rules);
	ck_assert((a.told != NULL) == (*rows[row].troubles != '\0'));
	ck_assert_msg(redrawing_open(&r, &a, &b.diag) == AB_OK, "%s", b.diag.text);
}

static void close_world(void)
{
	redrawing_close(&r);
	inside_close(&a);
	ab_arena_free(b.arena);
}

static void as_reckoned(const char *title)
{
	struct ab_problem as_it_was = advising_same_money(&a);
	unsigned char plan[AB_PLAN_CHANGES] = { 0 };
	double was, is;

	for (size_t i = 0; i < rules->n_causes; i++)
		ck_assert_msg(fabs(r.load[i] - a.load[i]) <= 1e-11 * fmax(a.load[i], 1e-3),
		    "%s: load of %s: %.12g, not %.12g", title, rules->causes[i].id, r.load[i], a.load[i]);
	for (size_t u = 0; u < rules->n_changes; u++)
		plan[u] = a.out->items[u].chosen;
	was = ab_plan_removed(&as_it_was, plan);
	is = ab_plan_removed(&r.problem, plan);
	ck_assert_msg(was > 0 && fabs(is - was) <= 1e-10 * was, "%s: ours removes %.12g, not %.12g", title, is, was);
}

/* As opened; after wild worlds; and the wild ones are others. */
START_TEST(nothing_moved)
{
	gsl_rng *still = inside_rng(1, 0), *wild = inside_rng(3, ULONG_MAX);
	double moved = 0;
	int drawn = 0;

	open_world(_i);
	as_reckoned(rows[_i].title);
	for (int i = 0; i < 4; i++) {
		enum ab_status st = redrawing_draw(&r, wild, &b.diag);
		ck_assert_msg(st == AB_OK || st == AB_EIMPOSSIBLE, "%s", b.diag.text);
		ab_diag_init(&b.diag);
		drawn += st == AB_OK;
		for (size_t c = 0; st == AB_OK && c < rules->n_causes; c++)
			moved = fmax(moved, fabs(r.load[c] - a.load[c]) / a.out->load_before);
	}
	ck_assert_msg(drawn > 0 && moved > 0.01, "%s: no load moves", rows[_i].title);
	ck_assert_msg(redrawing_draw(&r, still, &b.diag) == AB_OK, "%s", b.diag.text);
	as_reckoned(rows[_i].title);
	close_world();
	inside_rng_free(still);
	inside_rng_free(wild);
}
END_TEST

/* Only what the rules tell is drawn, and no setting falls short of its mark (another step, of no rule's number).
 * The told case is worked again on the drawn rules; what its tasting makes likely there is what the world believes.
 */
START_TEST(told_from_the_start)
{
	double moved = 0;
	int drawn = 0;

	open_world(_i);
	for (unsigned long seed = 1; seed <= 6; seed++) {
		gsl_rng *all = inside_rng(seed, ULONG_MAX), *rng;
		struct advising again;
		enum ab_status st;

		ck_assert_int_eq(estimates_draw(&r.e, all, &b.diag), AB_OK);
		rng = inside_rng(seed, inside_rng_given(all));
		st = redrawing_draw(&r, rng, &b.diag);
		ck_assert_msg(st == AB_OK || st == AB_EIMPOSSIBLE, "%s", b.diag.text);
		ab_diag_init(&b.diag);
		if (st == AB_OK) {
			inside_open(&again, &b, &r.e.drawn);
			for (size_t i = 0; i < rules->n_causes; i++) {
				ck_assert_msg(fabs(r.load[i] - again.load[i]) <= 1e-7 * fmax(again.load[i], 1e-3),
				    "%s, seed %lu: load of %s: %.12g, from "
				    "the start %.12g",
				    rows[_i].title, seed, rules->causes[i].id, r.load[i], again.load[i]);
				moved = fmax(moved, fabs(r.load[i] - a.load[i]) / a.out->load_before);
			}
			inside_close(&again);
			drawn++;
		}
		inside_rng_free(all);
		inside_rng_free(rng);
	}
	printf("# %s: of 6 worlds %d could be; a load moves by up to %.3f of all\n", rows[_i].title, drawn, moved);
	ck_assert(drawn >= 3 && moved > 0.02);
	close_world();
}
END_TEST

int main(void)
{
	Suite *s = suite_create("redrawn");
	TCase *tc = tcase_create("redrawn");
	int all = (int)(sizeof rows / sizeof *rows);

	tcase_set_timeout(tc, 120);
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_loop_test(tc, nothing_moved, 0, all);
	tcase_add_loop_test(tc, told_from_the_start, ALONE, all);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
