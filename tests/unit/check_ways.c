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

static struct ab_arena *rules_arena;
static struct ab_knowledge *k;

static void read_rules(void)
{
	const char *dir = getenv("AFTERBOIL_RULES");
	struct ab_diag diag;

	ab_diag_init(&diag);
	rules_arena = ab_arena_new();
	ck_assert_msg(dir != NULL, "AFTERBOIL_RULES is not set");
	ck_assert_msg(ab_knowledge_read(&dir, 1, ab_fact_defs(), ab_casework_vocabulary(), rules_arena, &k, &diag) == AB_OK, "%s",
	    diag.text);
}

static void drop_rules(void)
{
	ab_arena_free(rules_arena);
}

/* Relative: a probability of 1e-9 is to agree in its digits as well. */
static void agree(const char *source, const char *what, const char *id, double one, double other)
{
	ck_assert_msg(isnan(one) ? isnan(other) : fabs(one - other) <= 1e-12 * fmax(fabs(one), 1e-12), "%s: %s of %s: %.17g and %.17g",
	    source, what, id, one, other);
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
	const struct ab_diagnose_options slow = { .reasons = true, .redraws = 16 }, fast = { .beliefs_only = true, .scratch = w->scratch };
	struct ab_case *full = NULL, *quick = NULL;

	ck_assert_msg(ab_case_work(k, batch, NULL, &slow, w->arena, &full, diag) == AB_OK, "%s: %s", batch->source, diag->text);
	ck_assert_msg(ab_case_work(k, batch, NULL, &fast, w->arena, &quick, diag) == AB_OK, "%s: %s", batch->source, diag->text);
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
		ck_assert_msg(ab_journal_read_file(files.gl_pathv[i], w.arena, work_both, &w, &diag) == AB_OK, "%s", diag.text);
		ab_arena_reset(w.arena);
	}
	ck_assert_uint_ge(w.n, folders[_i].least);
	ck_assert_uint_ge(w.tasted, folders[_i].least / 2);
	globfree(&files);
	ab_net_scratch_free(w.scratch);
	ab_arena_free(w.arena);
}
END_TEST

/* A copy whose numbers were changed speaks with the new ones once it is settled: a sure prior, and a fault that this cause no longer gives. */
START_TEST(changed_numbers_count_once_settled)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_knowledge other = *k;
	int c = ab_cause_find(k, "ferment-too-warm"), fault = ab_fault_find(k, "fusel");
	struct ab_fact *facts = ab_arena_alloc(arena, k->facts->n, sizeof *facts);
	struct ab_finding *finding = ab_arena_alloc(arena, k->n_faults, sizeof *finding);
	double *alone = ab_arena_alloc(arena, k->n_causes, sizeof *alone);
	struct ab_evidence evidence = { finding, NULL, -1 };
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
	ck_assert_double_lt(after->blame[c], before->blame[c]);   /* though it is likelier now: what is left is what it gives that is taken for fusel */
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
	tcase_add_test(tc, changed_numbers_count_once_settled);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
