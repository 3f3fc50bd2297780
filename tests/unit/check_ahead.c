/* check_ahead.c - "spend nothing yet": what a check, or an answer about the batch, is worth before buying, against
 * advice given once it is answered and counting every set
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

#define SMELL(p) "<check id='smell' minutes='5' cost='0' base='0.02' source='estimate'>" \
	"<title>Does it smell stale?</title><how>sniff</how>" \
	"<yes cause='stale' p='" p "' source='estimate'/></check>\n"
#define X BUY("x", "50", PREVENTS("stale", "0.9"))
#define Y BUY("y", "50", PREVENTS("husky", "0.9"))

/* One batch that tastes of paper, and nothing else known of it. */
static struct ab_case *papery(void)
{
	struct ab_case *c = brewery_batch(&b);

	c->tasted = true;
	c->evidence.finding = ab_arena_alloc(b.arena, b.k->n_faults, sizeof *c->evidence.finding);
	c->fault_load = ab_arena_alloc(b.arena, b.k->n_faults, sizeof *c->fault_load);
	c->evidence.finding[1] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	c->fault_intensity[1] = 3;
	c->fault_load[1] = 4;
	return c;
}

static void diagnose(struct ab_case *c)
{
	const struct ab_diagnose_options reasons = { .reasons = true };

	ck_assert_int_eq(ab_diagnose(b.k, c->facts, &c->evidence, &reasons, b.arena, &c->diagnosis, &b.diag), AB_OK);
}

/* One batch that tastes of paper: stale or husky. answer: 1 yes, -1 no, 0 not asked. */
static const struct ab_advice *advise(const char *changes, double budget, signed char answer)
{
	struct ab_case *c;

	brewery_open(&b, changes);
	c = papery();
	if (answer != 0) {
		signed char *check = ab_arena_alloc(b.arena, b.k->n_checks, 1);

		check[0] = answer;
		c->evidence.check = check;
	}
	diagnose(c);
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
	ck_assert_msg(fabs(a->ahead.worth - (after - now)) < 1e-9, "%s: worth %g, counted %g", rows[_i].title,
	    a->ahead.worth, after - now);
	ck_assert_msg(a->ahead.first == rows[_i].first, "%s", rows[_i].title);
	ck_assert_msg(
	    (a->ahead.ask != NULL) == rows[_i].first, "%s: only what is worth something is told", rows[_i].title);
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

/* ---- a fact that the journal does not tell ---- */

/* A third thing that tastes of paper. By the fact's two ratios, 4 and 1/4: an answer that speaks for it comes with
 * P = 1/5 where it is not, and 4/5 where it is (checks.h: q = (1 - l) / (h - l)). */
#define LEAKY(fact) "<cause id='leaky' side='cold' stage='package'><title>Leaky</title><why>so</why>" \
	"<prior p='0.2' source='estimate'/>" \
	"<sign fact='" fact "' source='estimate'><is word='no' ratio='4'/><is word='yes' ratio='0.25'/></sign>" \
	"<gives fault='paper' noticeable='0.5' moderate='0.2' strong='0.05' source='estimate'/></cause>\n"
#define Z BUY("z", "50", PREVENTS("leaky", "0.9"))
enum { LEAKY_AT = C_CAUSES };

/* sealed: 1 yes, 0 no, -1 nobody told. */
static const struct ab_advice *advise_sealed(const char *changes, double budget, int sealed)
{
	struct ab_case *c;

	brewery_open(&b, changes);
	c = papery();
	if (sealed >= 0)
		c->facts[T_SEALED] = tiny_fact(sealed);
	diagnose(c);
	b.options.budget = budget;
	return brewery_advise(&b);
}

static double load_at(const struct ab_advice *a, int cause)
{
	for (size_t i = 0; i < a->n_recurrences; i++)
		if (a->recurrences[i].cause == cause)
			return a->recurrences[i].load;
	return 0;
}

static const struct { const char *title, *changes; double budget; bool told, first; } facts[] = {
	{ "one of two can be bought, and an answer tells which", X Z LEAKY("t.sealed"), 50, true, true },
	{ "money for both: whatever the answer, both", X Z LEAKY("t.sealed"), 100, false, false },
	{ "no money: nothing hangs on it", X Z LEAKY("t.sealed"), 49, false, false },
	{ "nothing to buy against it, and nothing else to buy", X LEAKY("t.sealed"), 50, false, false },
	{ "what nobody can find out any more", X Z LEAKY("t.odd"), 50, false, false },
};

START_TEST(fact_worth_as_counted)
{
	bool has_z = strstr(facts[_i].changes, "'z'") != NULL, lasts = strstr(facts[_i].changes, "t.odd") == NULL;
	double p, stale[2], leaky[2], now = 0, after = 0, budget = facts[_i].budget;

	for (int i = 0; i < 2; i++) {
		const struct ab_advice *known = advise_sealed(facts[_i].changes, budget, i);

		stale[i] = load_at(known, C_STALE);
		leaky[i] = has_z ? load_at(known, LEAKY_AT) : 0;
		brewery_close(&b);
	}
	const struct ab_advice *a = advise_sealed(facts[_i].changes, budget, -1);
	p = 0.2 + 0.6 * b.cases[0]->diagnosis->present[LEAKY_AT];   /* of "no" */
	if (lasts) {
		now = best(p * stale[0] + (1 - p) * stale[1], p * leaky[0] + (1 - p) * leaky[1], budget);
		after = p * best(stale[0], leaky[0], budget) + (1 - p) * best(stale[1], leaky[1], budget);
	}
	ck_assert_msg(fabs(a->ahead.worth - (after - now)) < 1e-9, "%s: worth %g, counted %g", facts[_i].title,
	    a->ahead.worth, after - now);
	ck_assert_msg((a->ahead.ask != NULL) == facts[_i].told, "%s", facts[_i].title);
	ck_assert_msg(a->ahead.first == facts[_i].first, "%s", facts[_i].title);
	if (a->ahead.ask == NULL)
		return;
	ck_assert(!a->ahead.ask->is_check);
	ck_assert_int_eq(a->ahead.ask->slot, T_SEALED);
	ck_assert(!(a->ahead.ask->answer[0] > 0) && a->ahead.ask->answer[1] > 0);
	ck_assert_double_eq_tol(a->ahead.p_yes, p, 1e-9);
	ck_assert_ptr_eq(a->first_check, a->ahead.ask);
	ck_assert_ptr_eq(a->ahead.batch, b.cases[0]->batch);
}
END_TEST

/* Numbers that look like chance and come out the same every time. */
static double drawn(unsigned *seed)
{
	*seed = *seed * 1103515245u + 12345u;
	return (double)(*seed >> 8 & 0xffff) / 65536;
}

/* Several batches, of which only the newest may tell; where no money is spent whatever it says, an answer is worth
 * nothing. */
START_TEST(fact_worth_is_never_negative)
{
	unsigned seed = (unsigned)_i + 1;

	brewery_open(&b, X Y Z LEAKY("t.sealed") SMELL("0.9"));
	for (size_t n = 1 + (size_t)(4 * drawn(&seed)), i = 0; i < n; i++) {
		struct ab_case *c = papery();

		if (drawn(&seed) < 0.5)
			c->facts[T_SHARE] = tiny_fact(drawn(&seed));
		if (drawn(&seed) < 0.3)
			c->facts[T_SEALED] = tiny_fact(drawn(&seed) < 0.5);
		diagnose(c);
	}
	b.options.budget = 160 * drawn(&seed);
	const struct ab_advice *a = brewery_advise(&b);
	ck_assert(a->ahead.worth >= 0 && a->ahead.worth <= a->load_before);
	ck_assert_msg((a->ahead.worth > 0) == (a->ahead.ask != NULL), "what is worth nothing is not told");
	if (b.options.budget < 50 || b.options.budget >= 150)
		ck_assert_msg(!(a->ahead.worth > 0),
		    "budget %g: the plan is the same whatever is answered, yet worth %g", b.options.budget,
		    a->ahead.worth);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("ahead");
	TCase *tc = tcase_create("ahead");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, worth_as_counted, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(tc, fact_worth_as_counted, 0, sizeof facts / sizeof *facts);
	tcase_add_loop_test(tc, fact_worth_is_never_negative, 0, 60);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
