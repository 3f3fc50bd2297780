/* factcase.c - for tests of facts: a journal as text goes in, one fact comes out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <afterboil/journal.h>
#include <afterboil/profile.h>

static const struct ab_yeast_norm yeasts[] = {
	{ .id = "clean-ale", .title = "clean ale", .low_c = 17, .high_c = 20, .tolerated_low_c = 15,
	  .tolerated_high_c = 22, .att_low = 0.73, .stands_in = true,
	  .att_high = 0.80, .pitch_rate = 0.75, .rest_c = 18, .primary_days = 7, .clean_days = 3, .lag_h = 24 },
	{ .id = "lager", .title = "lager", .low_c = 8, .high_c = 13, .tolerated_low_c = 7,
	  .tolerated_high_c = 15, .att_low = 0.70,
	  .att_high = 0.77, .pitch_rate = 1.5, .rest_c = 16, .primary_days = 14, .clean_days = 7, .lag_h = 36,
	  .lager = true, .sulphury = true },
	{ .id = "farmhouse", .title = "farmhouse", .low_c = 20, .high_c = 30, .tolerated_low_c = 18,
	  .tolerated_high_c = 35, .att_low = 0.80,
	  .att_high = 0.95, .pitch_rate = 0.75, .rest_c = 20, .primary_days = 10, .clean_days = 4, .lag_h = 24,
	  .phenolic = true,
	  .diastatic = true, .fruity = true },
};
/* by place: 1 acid, 2 iodine, 7 heat, 8 boiling in ab_words_sanitiser; 0 longneck, 2 heavy in ab_words_bottle */
static const struct ab_sanitiser_norm sanitisers[] = {
	{ .word = 1, .contact_s = 60, .max_mix_age_d = 7, .no_rinse = true },
	{ .word = 2, .contact_s = 120, .max_mix_age_d = 1, .no_rinse = true },
	{ .word = 7, .contact_s = 1200, .max_mix_age_d = 1000, .heat_c = 77, .no_rinse = true },
	{ .word = 8, .contact_s = 600, .max_mix_age_d = 1000, .heat_c = 100, .no_rinse = true },
};
static const struct ab_bottle_norm bottles[] = {
	{ .word = 0, .limit_vol = 3.0 }, { .word = 2, .limit_vol = 3.5, .limit_kpa = 400 },
};
/* Two words for one fault; every other word is unknown. */
static int fault_of(const void *vocabulary, const char *word)
{
	(void)vocabulary;
	return strcmp(word, "buttery") == 0 || strcmp(word, "butterscotch") == 0 ? 0 : -1;
}

/* by place in ab_words_family: pale-hoppy pale-lager amber-malty dark-roast wheat belgian-farmhouse sour-mixed
 * (nothing known) strong other */
static const struct ab_freshness_norm freshness[] = {
	{ 60, 150, 500, "" }, { 100, 250, 800, "" }, { 180, 500, 1500, "" }, { 300, 900, 3000, "" },
	{ 100, 250, 800, "" }, { 180, 500, 1500, "" }, { .fading = 0 }, { 300, 900, 3000, "" },
	{ 120, 300, 1000, "" },
};

const struct ab_norms fact_norms = { yeasts, 3, sanitisers, 4, bottles, 2, freshness, 9, NULL, 0,
	{ [AB_NUM_STILL_D] = 2.6, [AB_NUM_SLOW_STILL_D] = 14, [AB_NUM_HANGS_POINTS] = 3, [AB_NUM_HUNG_STILL_D] = 14,
	[AB_NUM_PILSNER_SHARE] = 0.85, [AB_NUM_PILSNER_SHARE_U] = 0.1, [AB_NUM_ROASTED_SHARE] = 0.07,
	[AB_NUM_ROASTED_SHARE_U] = 0.03,
	[AB_NUM_SMOKED_SHARE] = 0.3, [AB_NUM_SMOKED_SHARE_U] = 0.2, [AB_NUM_SUGAR_SHARE] = 0.1,
	[AB_NUM_SUGAR_SHARE_U] = 0.06,
	[AB_NUM_EXTRACT_SHARE] = 0.9, [AB_NUM_EXTRACT_SHARE_U] = 0.1, [AB_NUM_BESIDE_SHARE] = 0.85,
	[AB_NUM_BESIDE_SHARE_U] = 0.1, [AB_NUM_KIT_G] = 1650, [AB_NUM_KIT_G_U] = 400,
	[AB_NUM_TOGETHER_D] = 14 },
	fault_of, NULL };

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void) diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static struct ab_profile *read_profile(const char *body, struct ab_arena *arena)
{
	struct ab_profile *profile = NULL;
	struct ab_diag diag;
	char *text;

	if (body == NULL)
		return NULL;
	ab_diag_init(&diag);
	bool attributes = body[0] != '<';
	text = ab_arena_printf(arena, "<brewery xmlns=\"urn:afterboil:profile:1\" %s>%s</brewery>",
	  attributes ? body : "", attributes ? "" : body);
	ck_assert_msg(ab_profile_read_memory(text, strlen(text), "test", arena, &profile, &diag) == AB_OK,
	  "profile: %s", diag.text);
	return profile;
}

struct ab_batch *fact_read(const char *journal, struct ab_arena *arena)
{
	struct ab_batch *batch = NULL;
	struct ab_diag diag;
	char *text;

	ab_diag_init(&diag);
	bool attributes = journal[0] != '<';
	text = ab_arena_printf(arena,
	  "<batch xmlns=\"urn:afterboil:journal:1\" id=\"t\" brewed=\"2031-03-01\" %s>%s%s</batch>",
	    attributes ? journal : "", strstr(journal, "<pitch") != NULL ? "" : "<pitch at=\"2031-03-01T18:00\"/>",
	    attributes ? "" : journal);
	ck_assert_msg(ab_journal_read_memory(text, strlen(text), "test", NULL, arena, keep, &batch,
	  &diag) == AB_OK, "%s\n%s", diag.text, text);
	ck_assert_ptr_nonnull(batch);
	return batch;
}

void fact_compute(const char *journal, const char *profile, struct ab_arena *arena, struct ab_fact *facts)
{
	struct ab_batch *batch = fact_read(journal, arena);
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_facts_compute(batch, read_profile(profile, arena), &fact_norms, arena, facts,
	  &diag), AB_OK);
}

const struct ab_fact *fact_get(const struct ab_fact *facts, const char *name)
{
	int slot = ab_fact_slot(ab_fact_defs(), name);
	ck_assert_msg(slot >= 0, "no fact %s", name);
	return &facts[slot];
}

void fact_row_check(const struct fact_row *row)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = calloc(ab_fact_defs()->n, sizeof *facts);
	double want = row->want;

	fact_compute(row->journal, row->profile, arena, facts);
	const struct ab_fact *f = fact_get(facts, row->fact);
	if (row->word != NULL)
		want = ab_fact_word(&ab_fact_defs()->defs[f - facts], row->word);
	if (isnan(want)) {
		ck_assert_msg(!AB_FACT_KNOWN(f), "%s: %s is %g (%s), not unknown", row->title, row->fact,
		  f->value, f->working);
	} else {
		ck_assert_msg(AB_FACT_KNOWN(f), "%s: %s is unknown, not %g", row->title, row->fact, want);
		ck_assert_msg(fabs(f->value - want) <= row->within + 1e-9, "%s: %s is %.6g (%s), not %.6g",
		  row->title, row->fact, f->value,
		    f->working != NULL ? f->working : "as told", want);
		ck_assert_msg(row->origin == 0 || f->origin == row->origin, "%s: origin %d, not %d",
		  row->title, (int)f->origin,
		    (int)row->origin);
		ck_assert_msg(row->u <= 0 || fabs(f->u - row->u) <= 0.1 * row->u, "%s: u is %g, not %g",
		  row->title, f->u, row->u);
	}
	free(facts);
	ab_arena_free(arena);
}

static const struct fact_row *rows_now;

START_TEST(one_row)
{
	fact_row_check(&rows_now[_i]);
}
END_TEST

int fact_rows_run(const char *name, const struct fact_row *rows, size_t n, TCase *more)
{
	Suite *suite = suite_create(name);
	TCase *tc = tcase_create("rows");
	SRunner *sr;

	rows_now = rows;
	tcase_add_loop_test(tc, one_row, 0, (int)n);
	suite_add_tcase(suite, tc);
	if (more != NULL)
		suite_add_tcase(suite, more);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}

double fact_value(const char *text, const char *fact)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = calloc(ab_fact_defs()->n, sizeof *facts);
	fact_compute(text, NULL, arena, facts);
	double value = fact_get(facts, fact)->value;
	free(facts);
	ab_arena_free(arena);
	return value;
}
