/* check_ways.c - the short way of a history and the full way of one batch give the same numbers
 *
 * Every journal there is: the example brewer's, the told stories, the plain ones. Needs AFTERBOIL_RULES and srcdir.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/casework.h>
#include "base/alloc.h"

static struct ab_arena *rules_arena;
static struct ab_knowledge *k;

static void read_rules(void)
{
	const char *dir = getenv("AFTERBOIL_RULES");
	struct ab_diag diag;

	ab_diag_init(&diag);
	rules_arena = ab_arena_new();
	ck_assert_msg(dir != NULL, "AFTERBOIL_RULES is not set");
	ck_assert_msg(
	    ab_knowledge_read(&dir, 1, ab_fact_defs(), ab_casework_vocabulary(), rules_arena, &k, &diag) == AB_OK,
	    "%s", diag.text);
}

static void drop_rules(void)
{
	ab_arena_free(rules_arena);
}

/* Relative: a probability of 1e-9 is to agree in its digits as well. */
static void agree(const char *source, const char *what, const char *id, double one, double other)
{
	ck_assert_msg(isnan(one) ? isnan(other) : fabs(one - other) <= 1e-12 * fmax(fabs(one), 1e-12),
	    "%s: %s of %s: %.17g and %.17g", source, what, id, one, other);
}

static void compare(const struct ab_case *full, const struct ab_case *quick)
{
	const char *source = full->batch->source;
	const struct ab_diagnosis *f = full->diagnosis, *q = quick->diagnosis;

	for (size_t i = 0; i < k->n_causes; i++) {
		agree(source, "present", k->causes[i].id, f->present[i], q->present[i]);
		agree(source, "alone", k->causes[i].id, f->alone[i], q->alone[i]);
		agree(source, "blame", k->causes[i].id, f->blame[i], q->blame[i]);
	}
	agree(source, "evidence", "all", f->log_evidence, q->log_evidence);
	agree(source, "load", "all", full->load, quick->load);
	for (size_t i = 0; i < k->n_faults; i++) {
		agree(source, "load", k->faults[i].id, full->fault_load[i], quick->fault_load[i]);
		agree(source, "intensity", k->faults[i].id, full->fault_intensity[i], quick->fault_intensity[i]);
	}
	for (size_t i = 0; i < k->facts->n; i++) {
		ck_assert_int_eq(full->facts[i].origin, quick->facts[i].origin);
		agree(source, "fact", k->facts->defs[i].name, full->facts[i].value, quick->facts[i].value);
		agree(source, "error", k->facts->defs[i].name, full->facts[i].u, quick->facts[i].u);
	}
}

struct work { struct ab_arena *arena; struct ab_net_scratch *scratch; size_t n, tasted; };

static enum ab_status work_both(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct work *w = ctx;
	const struct ab_diagnose_options slow = { .reasons = true, .redraws = 16 },
					 fast = { .beliefs_only = true, .scratch = w->scratch };
	struct ab_case *full = NULL, *quick = NULL;

	ck_assert_msg(ab_case_work(k, batch, NULL, &slow, w->arena, &full, diag) == AB_OK, "%s: %s", batch->source,
	    diag->text);
	ck_assert_msg(ab_case_work(k, batch, NULL, &fast, w->arena, &quick, diag) == AB_OK, "%s: %s", batch->source,
	    diag->text);
	compare(full, quick);
	w->n++;
	w->tasted += full->tasted;
	return AB_OK;
}

static const struct { const char *pattern; size_t least; } folders[] = {
	{ "examples/[0-9]*.xml", 12 },
	{ "tests/cases/case-*.xml", 40 },
	{ "tests/cases/plain/*.xml", 12 },
};

START_TEST(ways_agree)
{
	struct work w = { ab_arena_new(), ab_net_scratch_new(), 0, 0 };
	const char *top = getenv("srcdir");
	struct ab_diag diag;
	char pattern[1000];
	glob_t files;

	ck_assert_msg(top != NULL, "srcdir is not set");
	snprintf(pattern, sizeof pattern, "%s/%s", top, folders[_i].pattern);
	ck_assert_msg(glob(pattern, 0, NULL, &files) == 0, "no %s", pattern);
	for (size_t i = 0; i < files.gl_pathc; i++) {
		ab_diag_init(&diag);
		ck_assert_msg(ab_journal_read_file(files.gl_pathv[i], w.arena, work_both, &w, &diag) == AB_OK, "%s",
		    diag.text);
		ab_arena_reset(w.arena);
	}
	ck_assert_uint_ge(w.n, folders[_i].least);
	ck_assert_uint_ge(w.tasted, folders[_i].least / 2);
	globfree(&files);
	ab_net_scratch_free(w.scratch);
	ab_arena_free(w.arena);
}
END_TEST

/* ---- a few at once ---- */

enum { MOST = 64 };

struct few { struct ab_arena *arena, *passing; const struct ab_batch *batches[MOST]; size_t n; };

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct few *f = ctx;

	(void)diag;
	ck_assert_uint_lt(f->n, MOST);
	f->batches[f->n++] = batch;
	return AB_OK;
}

static void same_bits(const struct ab_batch *batch, const char *what, const double *one, const double *other, size_t n)
{
	ck_assert_msg(memcmp(one, other, n * sizeof *one) == 0, "%s: %s", batch->source, what);
}

/* To the last bit, also in what no number of a case shows: who looks at the store sees these. */
static void same_case(const struct ab_case *one, const struct ab_case *other)
{
	const struct ab_batch *batch = one->batch;

	ck_assert_ptr_eq(batch, other->batch);
	same_bits(batch, "present", one->diagnosis->present, other->diagnosis->present, k->n_causes);
	same_bits(batch, "alone", one->diagnosis->alone, other->diagnosis->alone, k->n_causes);
	same_bits(batch, "blame", one->diagnosis->blame, other->diagnosis->blame, k->n_causes);
	same_bits(batch, "load", &one->load, &other->load, 3);
	same_bits(batch, "faults", one->fault_load, other->fault_load, k->n_faults);
	same_bits(batch, "intensities", one->fault_intensity, other->fault_intensity, k->n_faults);
	ck_assert_int_eq(one->tasted, other->tasted);
	ck_assert_uint_eq(other->diagnosis->n_warnings, 0);
	for (size_t i = 0; i < k->facts->n; i++) {
		const struct ab_fact *a = &one->facts[i], *b = &other->facts[i];

		ck_assert_int_eq(a->origin, b->origin);
		ck_assert_int_eq(a->guess, b->guess);
		ck_assert_int_eq(a->grade, b->grade);
		ck_assert(memcmp(a->lines, b->lines, sizeof a->lines) == 0);
		same_bits(batch, k->facts->defs[i].name, &a->value, &b->value, 1);
		same_bits(batch, k->facts->defs[i].name, &a->u, &b->u, 1);
	}
}

START_TEST(few_as_one_by_one)
{
	static const size_t sizes[] = { 1, 2, 7, MOST };
	struct few f = { ab_arena_new(), ab_arena_new(), { NULL }, 0 };
	struct ab_arena *work = ab_arena_new();
	const struct ab_diagnose_options single = { .beliefs_only = true };
	const struct ab_diagnose_options options = { .beliefs_only = true, .passing = f.passing };
	struct ab_case *cases[MOST], *one;
	struct ab_diag diag;
	char pattern[1000];
	glob_t files;

	ab_diag_init(&diag);
	snprintf(pattern, sizeof pattern, "%s/%s", getenv("srcdir"), folders[_i].pattern);
	ck_assert_msg(glob(pattern, 0, NULL, &files) == 0, "no %s", pattern);
	for (size_t i = 0; i < files.gl_pathc; i++)
		ck_assert_msg(
		    ab_journal_read_file(files.gl_pathv[i], f.arena, keep, &f, &diag) == AB_OK, "%s", diag.text);
	ck_assert_uint_ge(f.n, folders[_i].least);
	for (size_t s = 0; s < sizeof sizes / sizeof *sizes; s++)
		for (size_t from = 0; from < f.n; from += sizes[s]) {
			size_t n = f.n - from < sizes[s] ? f.n - from : sizes[s];

			ck_assert_int_eq(
			    ab_case_work_few(k, f.batches + from, n, NULL, &options, work, cases, &diag), AB_OK);
			for (size_t i = 0; i < n; i++) {
				ck_assert_int_eq(
				    ab_case_work(k, f.batches[from + i], NULL, &single, work, &one, &diag), AB_OK);
				same_case(one, cases[i]);
			}
			ab_arena_reset(work);
		}
	ck_assert_int_eq(ab_case_work_few(k, f.batches, 0, NULL, &options, work, cases, &diag), AB_OK);
	globfree(&files);
	ab_arena_free(work);
	ab_arena_free(f.passing);
	ab_arena_free(f.arena);
}
END_TEST

/* Both fail, the first in the last stage and the second before it: the first is told of. */
START_TEST(first_of_few_is_told)
{
	struct ab_arena *arena = ab_arena_new();
	const struct ab_diagnose_options options = { .beliefs_only = true };
	const char **every = ab_arena_alloc(arena, k->n_faults, sizeof *every);
	static const char *const one[] = { "buttery" };
	struct ab_batch *fine, *much, *wrong;
	struct ab_case *cases[3];
	struct ab_diag diag;

	for (size_t i = 0; i < k->n_faults; i++)
		every[i] = k->faults[i].id;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_case_from_faults(k, one, NULL, 1, NULL, arena, &fine, &diag), AB_OK);
	ck_assert_int_eq(ab_case_from_faults(k, one, NULL, 1, NULL, arena, &wrong, &diag), AB_OK);
	ck_assert_int_eq(ab_case_from_faults(k, every, NULL, k->n_faults, NULL, arena, &much, &diag), AB_OK);
	((struct ab_found *)((struct ab_tasting *)wrong->tastings.items)->found.items)->fault = "no such word";
	ck_assert_int_eq(ab_case_work_few(k, (const struct ab_batch *[]){ fine, much, wrong }, 3, NULL, &options,
			     arena, cases, &diag),
	    AB_ELIMIT);
	ck_assert_msg(strstr(diag.text, "at most 20") != NULL, "%s", diag.text);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_case_work_few(k, (const struct ab_batch *[]){ fine, wrong, much }, 3, NULL, &options,
			     arena, cases, &diag),
	    AB_EINPUT);
	ck_assert_msg(strstr(diag.text, "no such word") != NULL, "%s", diag.text);
	ab_arena_free(arena);
}
END_TEST

/* Whichever allocation fails: done after all, singly, or a clean "out of memory"; never a half result. */
START_TEST(few_out_of_memory)
{
	static const char *const words[] = { "buttery", "over-carbonated" };
	struct ab_arena *journal = ab_arena_new();
	struct ab_batch *batches[2];
	struct ab_diag diag;
	size_t refused = 0;

	ab_diag_init(&diag);
	for (int i = 0; i < 2; i++)
		ck_assert_int_eq(ab_case_from_faults(k, words, NULL, 2, NULL, journal, &batches[i], &diag), AB_OK);
	for (long at = 0; at < 60; at++) {
		struct ab_arena *own = ab_arena_new(), *passing = ab_arena_new();
		const struct ab_diagnose_options options = { .beliefs_only = true, .passing = passing };
		struct ab_case *cases[2] = { NULL, NULL };

		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		enum ab_status st = ab_case_work_few(
		    k, (const struct ab_batch *[]){ batches[0], batches[1] }, 2, NULL, &options, own, cases, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", at, diag.text);
		if (st == AB_OK)
			same_bits(batches[0], "blame", cases[0]->diagnosis->blame, cases[1]->diagnosis->blame,
			    k->n_causes);
		else
			ck_assert_ptr_nonnull(strstr(diag.text, "memory"));
		refused += st != AB_OK;
		ab_arena_free(passing);
		ab_arena_free(own);
	}
	ck_assert_uint_gt(refused, 0);
	ab_arena_free(journal);
}
END_TEST

/* A copy whose numbers were changed speaks with the new ones once it is settled: a sure prior, and a fault that
 * this cause no longer gives. */
START_TEST(changed_numbers_count_once_settled)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_knowledge other = *k;
	int c = ab_cause_find(k, "ferment-too-warm"), fault = ab_fault_find(k, "fusel");
	struct ab_fact *facts = ab_arena_alloc(arena, k->facts->n, sizeof *facts);
	struct ab_finding *finding = ab_arena_alloc(arena, k->n_faults, sizeof *finding);
	double *alone = ab_arena_alloc(arena, k->n_causes, sizeof *alone);
	struct ab_evidence evidence = { finding, NULL, -1, false };
	struct ab_diagnose_options options = { .seed = 1 };
	struct ab_diagnosis *before, *after;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert(c >= 0 && fault >= 0);
	finding[fault] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	ck_assert_int_eq(ab_diagnose(k, facts, &evidence, &options, arena, &before, &diag), AB_OK);
	other.causes = ab_arena_alloc(arena, k->n_causes, sizeof *other.causes);
	memcpy(other.causes, k->causes, k->n_causes * sizeof *other.causes);
	struct ab_cause *cause = &other.causes[c];
	for (size_t i = 0; i < k->n_causes; i++) {
		struct ab_prior *priors = ab_arena_alloc(arena, k->causes[i].n_priors, sizeof *priors);
		memcpy(priors, k->causes[i].priors, k->causes[i].n_priors * sizeof *priors);
		other.causes[i].priors = priors;
	}
	cause->priors[0].p = 0.5;
	cause->links = ab_arena_alloc(arena, cause->n_links, sizeof *cause->links);
	memcpy(cause->links, k->causes[c].links, cause->n_links * sizeof *cause->links);
	for (size_t i = 0; i < cause->n_links; i++)
		for (int g = 1; g < 4 && cause->links[i].fault == fault; g++)
			cause->links[i].tail[g] = 0;
	ck_assert_int_eq(ab_knowledge_settle(&other, arena, &diag), AB_OK);
	ab_alone(&other, facts, alone);
	ck_assert_double_eq_tol(alone[c], 0.5, 1e-12);
	ck_assert_int_eq(ab_diagnose(&other, facts, &evidence, &options, arena, &after, &diag), AB_OK);
	ck_assert_double_gt(before->blame[c], 0.2);
	ck_assert_double_lt(after->blame[c], before->blame[c]); /* though it is likelier now: what is left is what
								   it gives that is taken for fusel */
	ab_alone(k, facts, alone);
	ck_assert_double_lt(alone[c], 0.45);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("ways");
	TCase *tc = tcase_create("ways");
	tcase_add_unchecked_fixture(tc, read_rules, drop_rules);
	tcase_set_timeout(tc, 300);
	tcase_add_loop_test(tc, ways_agree, 0, sizeof folders / sizeof *folders);
	tcase_add_loop_test(tc, few_as_one_by_one, 0, sizeof folders / sizeof *folders);
	tcase_add_test(tc, first_of_few_is_told);
	tcase_add_test(tc, few_out_of_memory);
	tcase_add_test(tc, changed_numbers_count_once_settled);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
