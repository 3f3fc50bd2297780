/* check_ahead.c - "spend nothing yet": what a check is worth before buying, against advice given once it is answered and counting every set
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <string.h>

#include "advicecase.h"

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

#define SMELL(p) "<check id='smell' minutes='5' cost='0' base='0.02' source='estimate'><title>Does it smell stale?</title><how>sniff</how>" \
	"<yes cause='stale' p='" p "' source='estimate'/></check>\n"
#define X BUY("x", "50", PREVENTS("stale", "0.9"))
#define Y BUY("y", "50", PREVENTS("husky", "0.9"))

/* One batch that tastes of paper: stale or husky. answer: 1 yes, -1 no, 0 not asked. */
static const struct ab_advice *advise(const char *changes, double budget, signed char answer)
{
	const struct ab_diagnose_options reasons = { .reasons = true };
	struct ab_case *c;

	brewery_open(&b, changes);
	c = brewery_batch(&b);
	c->tasted = true;
	c->evidence.finding = ab_arena_alloc(b.arena, b.k->n_faults, sizeof *c->evidence.finding);
	c->fault_load = ab_arena_alloc(b.arena, b.k->n_faults, sizeof *c->fault_load);
	c->evidence.finding[1] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	c->fault_intensity[1] = 3;
	c->fault_load[1] = 4;
	if (answer != 0) {
		signed char *check = ab_arena_alloc(b.arena, b.k->n_checks, 1);

		check[0] = answer;
		c->evidence.check = check;
	}
	ck_assert_int_eq(ab_diagnose(b.k, c->facts, &c->evidence, &reasons, b.arena, &c->diagnosis, &b.diag), AB_OK);
	b.options.budget = budget;
	return brewery_advise(&b);
}

struct loads { double stale, husky, log_p; };

static struct loads loads_of(const struct ab_advice *a)
{
	struct loads l = { .log_p = b.cases[0]->diagnosis->log_evidence };

	for (size_t i = 0; i < a->n_recurrences; i++)
		if (a->recurrences[i].cause == C_STALE)
			l.stale = a->recurrences[i].load;
		else if (a->recurrences[i].cause == C_HUSKY)
			l.husky = a->recurrences[i].load;
	return l;
}

/* The best of nothing, x, y and both. */
static double best(double stale, double husky, double budget)
{
	return budget >= 100 ? 0.9 * (stale + husky) : budget >= 50 ? 0.9 * fmax(stale, husky) : 0;
}

static const struct { const char *title, *changes; double budget; bool first; } rows[] = {
	{ "one of two can be bought, and the nose tells which", X Y SMELL("0.95"), 50, true },
	{ "money for both: whatever it smells of, both", X Y SMELL("0.95"), 100, false },
	{ "no money: nothing hangs on it", X Y SMELL("0.95"), 49, false },
	{ "a nose that tells nothing", X Y SMELL("0.02"), 50, false },
};

START_TEST(worth_as_counted)
{
	struct loads yes, no;
	double budget = rows[_i].budget, p, now, after;

	yes = loads_of(advise(rows[_i].changes, budget, 1));
	brewery_close(&b);
	no = loads_of(advise(rows[_i].changes, budget, -1));
	brewery_close(&b);
	const struct ab_advice *a = advise(rows[_i].changes, budget, 0);
	p = 1 / (1 + exp(no.log_p - yes.log_p));
	now = best(p * yes.stale + (1 - p) * no.stale, p * yes.husky + (1 - p) * no.husky, budget);
	after = p * best(yes.stale, yes.husky, budget) + (1 - p) * best(no.stale, no.husky, budget);
	ck_assert_msg(fabs(a->ahead.worth - (after - now)) < 1e-9, "%s: worth %g, counted %g", rows[_i].title, a->ahead.worth, after - now);
	ck_assert_msg(a->ahead.first == rows[_i].first, "%s", rows[_i].title);
	ck_assert_msg((a->ahead.ask != NULL) == rows[_i].first, "%s: only what is worth something is told", rows[_i].title);
	if (a->ahead.ask == NULL)
		return;
	ck_assert_double_eq_tol(a->ahead.p_yes, p, 1e-9);
	ck_assert_ptr_eq(a->first_check, a->ahead.ask);
	/* x is bought as things are or after a yes, y in the other case: the two answers differ in just that */
	for (int i = 0; i < 2; i++)
		ck_assert_msg((a->ahead.take[i] >= 0) == (a->ahead.drop[i] >= 0), "one for the other");
	ck_assert((a->ahead.take[0] >= 0) != (a->ahead.take[1] >= 0));
	ck_assert_str_eq(b.k->changes[a->ahead.take[0] >= 0 ? a->ahead.take[0] : a->ahead.drop[1]].id, "x");
}
END_TEST

int main(void)
{
	Suite *s = suite_create("ahead");
	TCase *tc = tcase_create("ahead");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, worth_as_counted, 0, sizeof rows / sizeof *rows);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
