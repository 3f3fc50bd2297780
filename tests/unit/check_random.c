/* check_random.c - what must hold for every journal: properties on random ones
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>
#include "factcase.h"
#include "journal/tables.h"
#include "randjournal.h"

enum { JOURNALS = 12, SLOTS = 256 };

static struct ab_arena *arena;
static struct ab_fact facts[SLOTS], other[SLOTS];
static struct rj_dice dice;

static void set_up(void)
{
	arena = ab_arena_new();
	ck_assert_uint_le(ab_fact_defs()->n, SLOTS);
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

/* NULL when the checks refuse the content: that must be by a line and words, never by a failure to read. */
static struct ab_batch *read(const char *text)
{
	struct ab_batch *batch = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	enum ab_status st = ab_journal_read_memory(text, strlen(text), "random", NULL, arena, keep, &batch, &diag);
	if (st == AB_OK)
		return batch;
	ck_assert_msg(st == AB_EINPUT, "status %d: %s", (int)st, diag.text);
	ck_assert_msg(
	    strstr(diag.text, "unknown") == NULL && strstr(diag.text, "cannot be read") == NULL, "%s", diag.text);
	ck_assert_msg(diag.line > 0 && diag.text[0] != '\0', "refused without a line");
	return NULL;
}

static void compute(const struct ab_batch *batch, struct ab_fact *into)
{
	struct ab_diag diag;

	ab_diag_init(&diag);
	memset(into, 0, SLOTS * sizeof *into);
	ck_assert_int_eq(ab_facts_compute(batch, NULL, &fact_norms, arena, into, &diag), AB_OK);
}

/* The i-th journal that the checks let pass. */
static struct rj_element *draw_valid(int i, bool wild, const struct rj_style *style)
{
	rj_seed(&dice, (uint64_t)i + (wild ? 1000 : 0));
	for (int tries = 0; tries < 200; tries++) {
		struct rj_element *batch = rj_draw(&dice, wild, arena);
		const struct ab_batch *b = read(rj_write(batch, style, arena));
		if (b == NULL)
			continue;
		compute(b, facts);
		return batch;
	}
	ck_abort_msg("journal %d: the checks refused 200 of 200", i);
	return NULL;
}

static void compute_as(const struct rj_element *batch, const struct rj_style *style, struct ab_fact *into)
{
	const char *text = rj_write(batch, style, arena);
	const struct ab_batch *b = read(text);

	ck_assert_msg(b != NULL, "refused when written another way:\n%s", text);
	compute(b, into);
}

static const char *name(size_t i)
{
	return ab_fact_defs()->defs[i].name;
}

static bool near(double a, double b, double rel)
{
	return fabs(a - b) <= rel * fmax(1, fmax(fabs(a), fabs(b)));
}

/* ---- one journal ---- */

static const struct rj_style plain;

static void sane(int row, const struct ab_fact *f, size_t i, long lines)
{
	const struct ab_fact_def *d = &ab_fact_defs()->defs[i];

	if (!AB_FACT_KNOWN(f))
		return;
	ck_assert_msg(isfinite(f->value), "%d: %s is %g", row, d->name, f->value);
	ck_assert_msg(isfinite(f->u) && f->u >= 0, "%d: u of %s is %g", row, d->name, f->u);
	ck_assert_msg(d->kind == AB_FACT_NUMBER || !(f->u > 0), "%d: %s is no number and has u %g", row, d->name, f->u);
	ck_assert_msg(
	    f->grade == 0 || (f->grade >= 'A' && f->grade <= 'C'), "%d: grade of %s is %d", row, d->name, f->grade);
	if (d->kind == AB_FACT_FLAG)
		ck_assert_msg(
		    near(f->value, 0, 0) || near(f->value, 1, 0), "%d: flag %s is %g", row, d->name, f->value);
	if (d->kind == AB_FACT_WORD) {
		size_t n = 0;
		while (d->words[n] != NULL)
			n++;
		ck_assert_msg(f->value >= 0 && f->value < (double)n && near(f->value, floor(f->value), 0),
		    "%d: word %s is %g", row, d->name, f->value);
	}
	for (size_t k = 0; k < AB_FACT_LINES && f->lines[k] != 0; k++)
		ck_assert_msg(f->lines[k] > 0 && f->lines[k] <= lines, "%d: %s from line %ld of %ld", row, d->name,
		    f->lines[k], lines);
	if (f->working != NULL)
		ck_assert_msg(strstr(f->working, "nan") == NULL && strstr(f->working, "inf ") == NULL &&
			strchr(f->working, '\n') == NULL,
		    "%d: %s: %s", row, d->name, f->working);
	/* What was read off the journal says where. */
	if (f->origin == AB_ORIGIN_MEASURED)
		ck_assert_msg(f->lines[0] > 0, "%d: %s is measured on no line", row, d->name);
}

static long lines_of(const char *text)
{
	long n = 1;
	for (; *text != '\0'; text++)
		n += *text == '\n';
	return n;
}

static void check_sane(int row, bool wild)
{
	const struct rj_style spread = { .spread = true };
	struct rj_element *batch = draw_valid(row, wild, &spread);
	long lines = lines_of(rj_write(batch, &spread, arena));

	for (size_t i = 0; i < ab_fact_defs()->n; i++)
		sane(row, &facts[i], i, lines);
}

START_TEST(facts_are_sane)
{
	check_sane(_i, false);
}
END_TEST

START_TEST(facts_of_wild_journals_are_sane)
{
	check_sane(_i, true);
}
END_TEST

/* The list's range is what rules may speak about: a home brewer's batch lies inside. */
START_TEST(homely_facts_lie_in_the_lists_range)
{
	draw_valid(_i, false, &plain);
	for (size_t i = 0; i < ab_fact_defs()->n; i++) {
		const struct ab_fact_def *d = &ab_fact_defs()->defs[i];
		if (d->kind != AB_FACT_NUMBER || !AB_FACT_KNOWN(&facts[i]))
			continue;
		ck_assert_msg(facts[i].value >= d->lo - 1e-9 && facts[i].value <= d->hi + 1e-9,
		    "%d: %s is %g, outside %g..%g (%s)", _i, d->name, facts[i].value, d->lo, d->hi,
		    facts[i].working != NULL ? facts[i].working : "as told");
	}
}
END_TEST

/* ---- the same content, written another way ---- */

static void compare(int row, const char *what, double rel)
{
	for (size_t i = 0; i < ab_fact_defs()->n; i++) {
		const struct ab_fact *a = &facts[i], *b = &other[i];
		ck_assert_msg(a->origin == b->origin, "%d: %s: %s has origin %d, then %d", row, what, name(i),
		    (int)a->origin, (int)b->origin);
		if (!AB_FACT_KNOWN(a))
			continue;
		ck_assert_msg(near(a->value, b->value, rel), "%d: %s: %s is %.9g (%s), then %.9g (%s)", row, what,
		    name(i), a->value, a->working != NULL ? a->working : "", b->value,
		    b->working != NULL ? b->working : "");
		ck_assert_msg(near(a->u, b->u, rel * 10), "%d: %s: u of %s is %.9g, then %.9g", row, what, name(i),
		    a->u, b->u);
		ck_assert_msg(a->guess == b->guess, "%d: %s: %s is a guess in one only", row, what, name(i));
		ck_assert_msg(a->grade == b->grade, "%d: %s: grade of %s", row, what, name(i));
	}
}

static const struct { const char *title; struct rj_style style; double rel; } ways[] = {
	{ "the same again", { 0 }, 0 },
	{ "US units and dates", { .other_units = true }, 1e-5 },
	{ "another order of elements and attributes", { .shuffle = 1 }, 1e-12 },
	{ "yet another order", { .shuffle = 77 }, 1e-12 },
	{ "foreign elements and attributes", { .foreign = true }, 0 },
	{ "one attribute a line, comments between", { .spread = true }, 0 },
	{ "all of it at once", { .other_units = true, .shuffle = 5, .foreign = true, .spread = true }, 1e-5 },
};
enum { WAYS = sizeof ways / sizeof *ways };

START_TEST(written_another_way)
{
	struct rj_element *batch = draw_valid(_i / WAYS, false, &plain);

	compute_as(batch, &ways[_i % WAYS].style, other);
	compare(_i / WAYS, ways[_i % WAYS].title, ways[_i % WAYS].rel);
}
END_TEST

/* ---- a guess ---- */

START_TEST(a_guess_makes_nothing_more_certain)
{
	struct rj_element *batch = draw_valid(_i, false, &plain);
	long n = rj_count(batch);

	for (long g = 1; g <= n; g += 3) {
		struct rj_style style = { .guess = g };
		compute_as(batch, &style, other);
		for (size_t i = 0; i < ab_fact_defs()->n; i++) {
			const struct ab_fact *a = &facts[i], *b = &other[i];
			ck_assert_msg(!a->guess || b->guess || !AB_FACT_KNOWN(b),
			    "%d: %s was a guess and is none with <%s> guessed", _i, name(i), rj_name(batch, g));
			if (!AB_FACT_KNOWN(a) || !AB_FACT_KNOWN(b) || !near(a->value, b->value, 0))
				continue;
			ck_assert_msg(b->u >= a->u - 1e-9 * fmax(1, a->u),
			    "%d: %s has u %g, and %g when <%s> is a guess", _i, name(i), a->u, b->u,
			    rj_name(batch, g));
			ck_assert_msg(b->guess || near(a->u, b->u, 1e-9),
			    "%d: u of %s grew from %g to %g by <%s>, and it is no guess", _i, name(i), a->u, b->u,
			    rj_name(batch, g));
		}
	}
}
END_TEST

/* ---- what if ---- */

START_TEST(as_if_it_were_so_as_it_is)
{
	struct ab_diag diag;
	const struct rj_element *drawn = draw_valid(_i, false, &plain);
	const struct ab_batch *batch = read(rj_write(drawn, &plain, arena));

	ab_diag_init(&diag);
	memset(other, 0, sizeof other);
	ck_assert_int_eq(ab_facts_recompute(batch, NULL, &fact_norms, NULL, 0, arena, other, &diag), AB_OK);
	compare(_i, "nothing assumed", 0);
	for (size_t i = (size_t)_i; i < ab_fact_defs()->n; i += JOURNALS / 4) {
		const struct ab_fact_def *d = &ab_fact_defs()->defs[i];
		struct ab_as_if as_if = { (int)i, d->kind == AB_FACT_NUMBER ? (d->lo + d->hi) / 2 : 1 };
		memset(other, 0, sizeof other);
		ck_assert_int_eq(ab_facts_recompute(batch, NULL, &fact_norms, &as_if, 1, arena, other, &diag), AB_OK);
		ck_assert_msg(near(other[i].value, as_if.value, 0) && other[i].origin == AB_ORIGIN_ASSUMED &&
			near(other[i].u, 0, 0),
		    "%d: %s assumed %g is %g, origin %d, u %g", _i, d->name, as_if.value, other[i].value,
		    (int)other[i].origin, other[i].u);
		for (size_t j = 0; j < ab_fact_defs()->n; j++)
			ck_assert_msg(!AB_FACT_KNOWN(&other[j]) || (isfinite(other[j].value) && other[j].u >= 0),
			    "%d: %s is %g when %s is assumed", _i, name(j), other[j].value, d->name);
	}
}
END_TEST

/* ---- the generator itself ---- */

/* Every attribute of every element is met, and most draws pass the checks: else the properties above would prove
 * little. */
START_TEST(everything_is_drawn)
{
	struct rj_element *drawn[200];
	size_t passed = 0, known = 0;
	static bool met[SLOTS];

	rj_seed(&dice, 4711);
	for (size_t i = 0; i < 200; i++) {
		drawn[i] = rj_draw(&dice, false, arena);
		const struct ab_batch *b = read(rj_write(drawn[i], &plain, arena));
		passed += b != NULL;
		if (b == NULL)
			continue;
		compute(b, facts);
		for (size_t s = 0; s < ab_fact_defs()->n; s++)
			met[s] = met[s] || AB_FACT_KNOWN(&facts[s]);
	}
	ck_assert_msg(passed >= 80, "only %zu of 200 pass", passed);
	for (const struct ab_elem_spec *e = ab_batch_children; e->name != NULL; e++)
		for (const struct ab_attr_spec *a = e->attrs; a != NULL && a->name != NULL; a++) {
			bool has = strcmp(e->name, "log") == 0;
			for (size_t i = 0; i < 200 && !has; i++)
				has = rj_has(drawn[i], e->name, a->name);
			ck_assert_msg(has, "%s of <%s> is never drawn", a->name, e->name);
		}
	for (size_t s = 0; s < ab_fact_defs()->n; s++)
		known += met[s];
	ck_assert_msg(known >= ab_fact_defs()->n - 6, "only %zu of %zu facts are ever known", known, ab_fact_defs()->n);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("random");
	TCase *tc = tcase_create("properties");
	SRunner *sr;

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, facts_are_sane, 0, JOURNALS);
	tcase_add_loop_test(tc, facts_of_wild_journals_are_sane, 0, JOURNALS);
	tcase_add_loop_test(tc, homely_facts_lie_in_the_lists_range, 0, JOURNALS);
	tcase_add_loop_test(tc, written_another_way, 0, 8 * WAYS);
	tcase_add_loop_test(tc, a_guess_makes_nothing_more_certain, 0, 10);
	tcase_add_loop_test(tc, as_if_it_were_so_as_it_is, 0, 10);
	tcase_add_test(tc, everything_is_drawn);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
