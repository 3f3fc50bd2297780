/* check_sheet.c - the batch sheet: which boxes, what to aim at, and that what is written comes into the journal
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"
#include "casework/sheeting.h"
#include "process/slots.h"
#include "rulecase.h"

#define NS "xmlns='urn:afterboil:journal:1'"
enum { EVERYTHING = 1000 };

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_batch *batches[16];
static size_t n_batches;
static struct ab_when on;
static struct ab_sheet_setup setup;

static void set_up(void)
{
	char why[200];
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
	ab_diag_init(&diag);
	n_batches = 0;
	ck_assert(ab_when_read("2031-05-10", &on, why, sizeof why));
	setup = (struct ab_sheet_setup){ .k = rules, .batches = batches, .on = &on, .most = EVERYTHING };
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	batches[n_batches++] = batch;
	return AB_OK;
}

static struct ab_batch *read(const char *text)
{
	ck_assert_msg(ab_journal_read_memory(text, strlen(text), "t", NULL, arena, keep, NULL, &diag) == AB_OK,
	    "%s: %s", text, diag.text);
	setup.n = n_batches;
	return batches[n_batches - 1];
}

static struct ab_sheet *make(void)
{
	struct ab_sheet *sheet;
	ck_assert_msg(ab_sheet_make(&setup, arena, &sheet, &diag) == AB_OK, "%s", diag.text);
	return sheet;
}

static void begin(const char *text)
{
	setup.batch = read(text);
	setup.text = text;
	setup.len = strlen(text);
}

static void like(const char *text)
{
	setup.like = read(text);
	setup.like_text = text;
	setup.like_len = strlen(text);
}

static const struct ab_sheet_box *box_of(const struct ab_sheet *sheet, const char *id)
{
	for (size_t i = 0; i < sheet->n_boxes; i++)
		if (strcmp(sheet->boxes[i].box->id, id) == 0)
			return &sheet->boxes[i];
	return NULL;
}

/* ---- every box of the rules can be filled in ---- */

/* What else must be known for a box's fact to follow from it: a size, a gravity, days. */
#define AROUND "<recipe volume='20 L' og='1.050 SG'/><pitch at='2031-05-10T18:00'/><yeast class='clean-ale'/>" \
    "<package at='2031-06-01'/><tasting at='2031-08-01'/>"
#define BATCH(inside) "<batch " NS " id='b' brewed='2031-05-10' family='pale-hoppy'>" inside "</batch>"

static const char *good_answer(const struct ab_sheet_part *part)
{
	static char text[64];
	if (strcmp(part->target, "pitch at") == 0)
		return "18:30";
	if (strcmp(part->target, "package at") == 0)
		return "2031-06-01";
	if (part->n_choices > 0)
		return "1";
	ck_assert_msg(part->row->tries != NULL, "%s has no example", part->target);
	snprintf(text, sizeof text, "%.*s", (int)strcspn(part->row->tries, "|"), part->row->tries);
	return text;
}

/* The box alone, as it would be on a sheet. */
static void alone(const struct ab_box *box, struct ab_sheet_box *out)
{
	static struct ab_sheet none;
	struct sheeting s = { .setup = &setup, .arena = arena, .sheet = &none };
	none = (struct ab_sheet){ .setup = &setup, .first_d = 10, .second_d = 13 };
	*out = (struct ab_sheet_box){ .box = box };
	sheet_parts(&s, out);
	ck_assert(!s.no_memory);
}

/* All parts of the box answered, one after another, into the journal; the fact follows. */
START_TEST(a_filled_box_makes_its_fact_known)
{
	ck_assert_uint_gt(rules->n_boxes, 60);
	for (size_t i = 0; i < rules->n_boxes; i++) {
		const struct ab_box *box = &rules->boxes[i];
		bool bare = box->slot == AB_F_PITCH_TEMP_OVER || box->slot == AB_F_YEAST_PHENOLIC ||
		    box->slot == AB_F_PACK_INTO;
		const char *base = bare ? BATCH("<recipe volume='20 L'/>" ) : BATCH(AROUND);
		char *text = ab_strdup(
		    bare && box->slot == AB_F_PITCH_TEMP_OVER ? BATCH("<yeast class='clean-ale'/>") : base);
		struct ab_sheet_box filled;
		n_batches = 0;
		begin(text);
		alone(box, &filled);
		ck_assert_msg(filled.n_parts > 0, "%s has nothing to write", box->id);
		struct ab_sheet sheet = { .setup = &setup };
		for (size_t j = 0; j < filled.n_parts; j++) {
			struct ab_sheet_reply reply;
			char *next;
			size_t len;
			if (filled.parts[j].told)
				continue;
			const char *answer = good_answer(&filled.parts[j]);
			ck_assert_msg(ab_sheet_answer(&sheet, &filled.parts[j], answer, "2031-08-01", text,
					  strlen(text), 1, &reply, &next, &len, &diag) == AB_OK,
			    "%s: %s", box->id, diag.text);
			ck_assert_msg(reply.taken && next != NULL, "%s, \"%s\": %s", box->id, answer, reply.says);
			ck_assert_uint_eq(len, strlen(next));
			ab_free(text);
			text = next;
		}
		n_batches = 0;
		const struct ab_batch *b = read(text);
		struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
		ck_assert(ab_facts_bare(b, NULL, &rules->norms, arena, facts, &diag) == AB_OK);
		ck_assert_msg(AB_FACT_KNOWN(&facts[box->slot]), "%s filled in: %s is not known from %s", box->id,
		    ab_fact_defs()->defs[box->slot].name, text);
		/* and then it is not asked any more */
		begin(text);
		alone(box, &filled);
		for (size_t j = 0; j < filled.n_parts; j++)
			ck_assert_msg(filled.parts[j].told || strcmp(filled.parts[j].target, "pitch at") == 0 ||
			    filled.parts[j].n_choices > 0, "%s: %s is asked again", box->id, filled.parts[j].target);
		ab_free(text);
	}
}
END_TEST

START_TEST(no_part_twice)
{
	static const char *const journals[] = { BATCH(""), BATCH("<package into='keg'/>"),
		BATCH("<package into='bottles'/>") };
	for (size_t i = 0; i < 3; i++) {
		n_batches = 0;
		begin(journals[i]);
		for (size_t j = 0; j < rules->n_boxes; j++)
			((struct ab_box *)&rules->boxes[j])->core = true;
		const struct ab_sheet *sheet = make();
		int day = 0;
		for (size_t j = 0; j < sheet->n_boxes; j++) {
			ck_assert_int_ge(sheet->boxes[j].box->day, day);
			day = sheet->boxes[j].box->day;
			for (size_t k = 0; k < sheet->boxes[j].n_parts; k++)
				for (size_t l = 0; l < j; l++)
					for (size_t m = 0; m < sheet->boxes[l].n_parts; m++)
						ck_assert_str_ne(sheet->boxes[j].parts[k].target,
						    sheet->boxes[l].parts[m].target);
		}
		ck_assert_uint_gt(sheet->n_boxes, 40);
	}
}
END_TEST

/* ---- choosing ---- */

static const char *const core[] = { "box-og", "box-pitch", "box-yeast", "box-early", "box-stable", "box-into",
	"box-priming" };

START_TEST(a_first_batch_has_the_core)
{
	setup.most = 1;
	const struct ab_sheet *sheet = make();
	for (size_t i = 0; i < sizeof core / sizeof *core; i++)
		ck_assert_msg(box_of(sheet, core[i]) != NULL, "no %s", core[i]);
	for (size_t i = 0; i < sheet->n_boxes; i++)
		ck_assert(sheet->boxes[i].box->core && sheet->boxes[i].bits == 0 && !sheet->boxes[i].trial);
	ck_assert_str_eq(sheet->title, "The first batch");
	ck_assert_ptr_null(sheet->next_time);
	/* no yeast is known, so there is nothing to aim at; nor was anything done before */
	ck_assert_ptr_null(box_of(sheet, "box-pitch")->aim);
	ck_assert_str_eq(box_of(sheet, "box-pitch")->parts[1].last, "");
	/* the day of the first of two gravities is that of the rules */
	ck_assert_double_eq(sheet->first_d, 10);
	ck_assert_double_eq(sheet->second_d, 13);
}
END_TEST

#define SOUR "<batch " NS " id='p-1' brewed='2031-03-01' line='pale'><tasting at='2031-05-01' complete='yes'>" \
    "<found fault='sour' intensity='4'/><next-time>cleaner</next-time></tasting></batch>"

START_TEST(what_was_lacking_comes_on_the_sheet)
{
	read(SOUR);
	begin("<batch " NS " id='p-2' brewed='2031-05-10' line='pale'/>");
	const struct ab_sheet *all = make();
	ck_assert_uint_eq(all->n_asked, 1);
	size_t asked = 0;
	for (size_t i = 0; i < all->n_boxes; i++)
		asked += !all->boxes[i].box->core;
	ck_assert_uint_gt(asked, 3);
	/* a sour beer asks for what is sanitised; one that was never tasted asks for nothing of the kind */
	ck_assert(box_of(all, "box-missed") != NULL || box_of(all, "box-sanitiser") != NULL);
	ck_assert_str_eq(all->next_time, "cleaner");
	/* a full sheet keeps the best: none that is left out promised more than one that stays */
	setup.most = all->n_boxes - 2;
	const struct ab_sheet *some = make();
	ck_assert_uint_le(some->n_boxes, setup.most);
	double least = INFINITY;
	for (size_t i = 0; i < some->n_boxes; i++)
		if (!some->boxes[i].box->core)
			least = fmin(least, some->boxes[i].bits);
	for (size_t i = 0; i < all->n_boxes; i++)
		if (box_of(some, all->boxes[i].box->id) == NULL)
			ck_assert(all->boxes[i].bits <= least);
}
END_TEST

START_TEST(another_beer_counts_where_the_beer_has_none)
{
	read(SOUR);
	begin("<batch " NS " id='s-1' brewed='2031-05-10' line='stout'/>");
	ck_assert_uint_eq(make()->n_asked, 1);
	/* but not beside its own */
	n_batches = 0;
	read(SOUR);
	read("<batch " NS " id='s-0' brewed='2031-04-01' line='stout'><tasting/></batch>");
	begin("<batch " NS " id='s-1' brewed='2031-05-10' line='stout'/>");
	ck_assert_uint_eq(make()->n_asked, 1);
	ck_assert_ptr_null(make()->next_time);
}
END_TEST

START_TEST(a_change_on_trial)
{
	char why[100];
	struct ab_changed change = { .what = "cap-on-foam" };
	struct ab_profile profile = { .changed = { &change, 1, 1 } };
	ck_assert(ab_when_read("2031-05-01", &change.on, why, sizeof why));
	setup.profile = &profile;
	setup.most = 1;
	const struct ab_sheet *sheet = make();
	size_t trials = 0;
	ck_assert_uint_eq(sheet->n_trials, 1);
	for (size_t i = 0; i < sheet->n_boxes; i++)
		trials += sheet->boxes[i].trial;
	ck_assert_uint_ge(trials, 1);
	ck_assert_ptr_nonnull(box_of(sheet, "box-foam"));
	/* the brewer's own words set no fact: nothing to ask for */
	change.what = NULL;
	change.text = "sang to it";
	sheet = make();
	for (size_t i = 0; i < sheet->n_boxes; i++)
		ck_assert(!sheet->boxes[i].trial);
}
END_TEST

START_TEST(kegs_and_bottles)
{
	begin(BATCH("<package into='keg'/>"));
	const struct ab_sheet *keg = make();
	ck_assert_ptr_null(box_of(keg, "box-priming"));
	/* as the last one, until this batch says otherwise */
	n_batches = 0;
	setup.batch = NULL;
	setup.text = NULL;
	like("<batch " NS " id='a' brewed='2031-01-01'><package into='keg'/></batch>");
	ck_assert_ptr_null(box_of(make(), "box-priming"));
	begin("<batch " NS " id='b' brewed='2031-05-10'><package into='bottles'/></batch>");
	ck_assert_ptr_nonnull(box_of(make(), "box-priming"));
}
END_TEST

START_TEST(what_is_told_is_left_out)
{
	begin(BATCH("<reading at='+0h' gravity='1.050 SG'/><pitch temp='18 C'/><reading at='+2d' wort='20 C'/>"));
	const struct ab_sheet *sheet = make();
	ck_assert_ptr_null(box_of(sheet, "box-og"));
	const struct ab_sheet_box *pitch = box_of(sheet, "box-pitch"), *early = box_of(sheet, "box-early");
	ck_assert(!pitch->parts[0].told && pitch->parts[1].told);
	ck_assert(!early->parts[0].told && early->parts[1].told && !early->parts[2].told);
}
END_TEST

/* ---- aims ---- */

static const struct { const char *journal, *box, *aim; } aims[] = {
	{ BATCH("<yeast class='clean-ale'/>"), "box-pitch", "17 to 20 C" },
	{ BATCH("<yeast class='lager'/>"), "box-pitch", "8 to 13 C" },
	{ BATCH("<yeast class='not-known'/>"), "box-pitch", NULL },
	{ BATCH("<recipe og='1.048 SG' fg='1.010 SG'/>"), "box-og", "1.048" },
	{ BATCH("<recipe og='1.048 SG' fg='1.010 SG'/>"), "box-stable", "the same twice, near 1.010" },
	/* 73 to 80 % of 50 points */
	{ BATCH("<recipe og='1.050 SG'/><yeast class='clean-ale'/>"), "box-stable",
	    "the same twice, near 1.010 to 1.014" },
	{ BATCH(""), "box-stable", NULL },
	{ BATCH(""), "box-og", NULL },
	{ BATCH(""), "box-priming", "what makes 2.2 to 2.8 vol" },
	{ BATCH("<recipe co2='2.4 vol'/>"), "box-priming", "what makes 2.4 vol" },
	{ "<batch " NS " id='b' brewed='2031-05-10'/>", "box-priming", NULL },
};

START_TEST(aim)
{
	begin(aims[_i].journal);
	const struct ab_sheet_box *box = box_of(make(), aims[_i].box);
	ck_assert_ptr_nonnull(box);
	if (aims[_i].aim == NULL)
		ck_assert_msg(box->aim == NULL, "%s", box->aim);
	else
		ck_assert_str_eq(box->aim, aims[_i].aim);
}
END_TEST

START_TEST(aims_under_conditions)
{
	static const struct { const char *malt, *aim; } rows[] = { { "pale", "60 min" }, { "pilsner", "90 min" } };
	for (size_t i = 0; i < 2; i++) {
		char text[300];
		snprintf(text, sizeof text,
		    "<batch " NS
		    " id='b' brewed='2031-05-10'><recipe><malt kind='%s' share='100 %%'/></recipe></batch>",
		    rows[i].malt);
		n_batches = 0;
		begin(text);
		for (size_t j = 0; j < rules->n_boxes; j++)
			if (strcmp(rules->boxes[j].id, "box-boil-time") == 0)
				((struct ab_box *)&rules->boxes[j])->core = true;
		ck_assert_str_eq(box_of(make(), "box-boil-time")->aim, rows[i].aim);
	}
}
END_TEST

START_TEST(days_of_the_yeast)
{
	begin(BATCH("<yeast class='lager'/>"));
	const struct ab_sheet *sheet = make();
	/* a fortnight, as the calendar has it; then three days */
	ck_assert_double_eq(sheet->first_d, 14);
	ck_assert_str_eq(box_of(sheet, "box-stable")->parts[0].target, "reading{at=+14d} gravity");
	ck_assert_str_eq(box_of(sheet, "box-stable")->parts[1].says, "day 17");
	/* the calendar, where it is told, goes before the yeast */
	setup.first_d = 15;
	setup.second_d = 20;
	sheet = make();
	ck_assert_str_eq(box_of(sheet, "box-stable")->parts[0].target, "reading{at=+15d} gravity");
	ck_assert_str_eq(box_of(sheet, "box-stable")->parts[1].says, "day 20");
}
END_TEST

/* ---- what is typed ---- */

/* box, part, what is typed, what stands in the journal then: NULL nothing, "?" not understood */
static const struct { const char *box; size_t part; const char *said, *written; } typed[] = {
	{ "box-pitch", 0, "18:30", "<pitch at=\"2031-05-10T18:30\"/>" },
	{ "box-pitch", 0, "9:05", "<pitch at=\"2031-05-10T09:05\"/>" },
	{ "box-pitch", 0, "25:00", "?" }, { "box-pitch", 0, "18:61", "?" }, { "box-pitch", 0, "18:30 h", "?" },
	{ "box-pitch", 0, "", NULL }, { "box-pitch", 0, "don't know", NULL }, { "box-pitch", 0, "same", "?" },
	{ "box-pitch", 1, "19", "<pitch temp=\"19 C\"/>" }, { "box-pitch", 1, "67 F", "<pitch temp=\"67 F\"/>" },
	{ "box-pitch", 1, "about 19", "<pitch temp=\"about 19 C\"/>" },
	{ "box-pitch", 1, "same", "<pitch temp=\"21 C\"/>" },
	{ "box-pitch", 1, "190", "?" }, { "box-pitch", 1, "warm", "?" }, { "box-pitch", 1, "19 L", "?" },
	{ "box-early", 1, "20.5", "<reading at=\"+2d\" wort=\"20.5 C\"/>" }, { "box-early", 1, "same", "?" },
	{ "box-yeast", 0, "same", "<yeast class=\"clean-ale\"/>" },
	{ "box-yeast", 0, "lager", "<yeast class=\"lager\"/>" },
	{ "box-stable", 0, "1.012", "<reading at=\"+7d\" gravity=\"1.012 SG\"/>" },
	{ "box-into", 0, "2031-06-01", "<package at=\"2031-06-01\"/>" },
	{ "box-into", 0, "yesterday", "<package at=\"2031-06-09\"/>" },
	{ "box-into", 1, "bottles", "<package into=\"bottles\"/>" },
	{ "box-into", 1, "1", "<package into=\"bottles\"/>" },
	{ "box-into", 1, "7", "?" }, { "box-priming", 1, "table sugar", "<package sugar=\"sucrose\"/>" },
};

START_TEST(typing)
{
	static const char text[] =
	    "<batch " NS
	    " id='b' brewed='2031-05-10'>\n  <!-- kept --><x:y xmlns:x='urn:x'>&amp;</x:y>\n</batch>\n";
	struct ab_sheet_reply reply;
	char *out;
	size_t len;
	like(
	    "<batch " NS
	    " id='a' brewed='2031-01-01'><pitch at='2031-01-01T18:00' temp='21 C'/><yeast class='clean-ale'/></batch>");
	begin(text);
	const struct ab_sheet *sheet = make();
	const struct ab_sheet_box *box = box_of(sheet, typed[_i].box);
	ck_assert_ptr_nonnull(box);
	ck_assert(ab_sheet_answer(sheet, &box->parts[typed[_i].part], typed[_i].said, "2031-06-10", text,
		      strlen(text), 1, &reply, &out, &len, &diag) == AB_OK);
	const char *want = typed[_i].written;
	bool wrong = want != NULL && want[0] == '?';
	ck_assert_msg(reply.taken == !wrong, "%s", reply.says);
	ck_assert(reply.unknown == (want == NULL));
	ck_assert((reply.says[0] != '\0') == wrong);
	ck_assert((out != NULL) == (want != NULL && !wrong));
	if (out != NULL) {
		ck_assert_msg(strstr(out, want) != NULL, "%s is not in %s", want, out);
		ck_assert_ptr_nonnull(strstr(out, "\n  <!-- kept --><x:y xmlns:x='urn:x'>&amp;</x:y>\n"));
	}
	ab_journal_free(out);
}
END_TEST

START_TEST(us_units)
{
	setup.us_units = true;
	static const char text[] = "<batch " NS " id='b' brewed='2031-05-10'/>";
	begin(text);
	const struct ab_sheet *sheet = make();
	const struct ab_sheet_part *wort = &box_of(sheet, "box-pitch")->parts[1];
	struct ab_sheet_reply reply;
	char *out;
	size_t len;
	ck_assert_str_eq(wort->unit, "F");
	ck_assert(ab_sheet_answer(
		      sheet, wort, "67", "2031-06-10", text, strlen(text), 1, &reply, &out, &len, &diag) == AB_OK);
	ck_assert_ptr_nonnull(strstr(out, "temp=\"67 F\""));
	ab_journal_free(out);
}
END_TEST

/* ---- trouble ---- */

START_TEST(making_without_memory)
{
	like(SOUR);
	begin("<batch " NS " id='p-2' brewed='2031-05-10' line='pale'/>");
	enum ab_status st = AB_ENOMEM;
	/* The arena asks rarely and in large pieces; the solver asks often: steps grow. */
	for (long k = 0; st == AB_ENOMEM; k += 1 + k / 8) {
		struct ab_arena *own = ab_arena_new();
		struct ab_sheet *sheet = NULL;
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_sheet_make(&setup, own, &sheet, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || (st == AB_ENOMEM && sheet == NULL), "%ld: %s", k, diag.text);
		ck_assert(k > 0 || st == AB_ENOMEM);
		ck_assert_int_lt(k, 1000000);
		ab_arena_free(own);
	}
}
END_TEST

START_TEST(answering_without_memory)
{
	static const char text[] = "<batch " NS " id='b' brewed='2031-05-10'/>";
	begin(text);
	const struct ab_sheet *sheet = make();
	static const char *const boxes[] = { "box-yeast", "box-early" };
	for (size_t i = 0; i < 2; i++) {
		enum ab_status st = AB_ENOMEM;
		for (long k = 0; st == AB_ENOMEM; k++) {
			struct ab_sheet_reply reply;
			char *out;
			size_t len;
			ab_diag_init(&diag);
			ab_alloc_fail_at(k);
			st = ab_sheet_answer(sheet, box_of(sheet, boxes[i])->parts, i == 0 ? "lager" : "19",
			    "2031-06-10", text, strlen(text), 1, &reply, &out, &len, &diag);
			ab_alloc_fail_at(-1);
			ck_assert((st == AB_OK) == (out != NULL));
			ck_assert(k > 0 || st == AB_ENOMEM);
			ck_assert_int_lt(k, 1000);
			ab_journal_free(out);
		}
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("sheet");
	TCase *tc = tcase_create("sheet");
	tcase_set_timeout(tc, 120);
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_test(tc, a_filled_box_makes_its_fact_known);
	tcase_add_test(tc, no_part_twice);
	tcase_add_test(tc, a_first_batch_has_the_core);
	tcase_add_test(tc, what_was_lacking_comes_on_the_sheet);
	tcase_add_test(tc, another_beer_counts_where_the_beer_has_none);
	tcase_add_test(tc, a_change_on_trial);
	tcase_add_test(tc, kegs_and_bottles);
	tcase_add_test(tc, what_is_told_is_left_out);
	tcase_add_loop_test(tc, aim, 0, sizeof aims / sizeof *aims);
	tcase_add_test(tc, aims_under_conditions);
	tcase_add_test(tc, days_of_the_yeast);
	tcase_add_loop_test(tc, typing, 0, sizeof typed / sizeof *typed);
	tcase_add_test(tc, us_units);
	tcase_add_test(tc, making_without_memory);
	tcase_add_test(tc, answering_without_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
