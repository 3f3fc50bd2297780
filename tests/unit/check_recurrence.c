/* check_recurrence.c - how often a cause strikes the next batch, and what it brings then: against hand computation
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/together.h>
#include "advicecase.h"

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

static const struct ab_recurrence *of(const struct ab_advice *advice, int cause)
{
	for (size_t i = 0; i < advice->n_recurrences; i++)
		if (advice->recurrences[i].cause == cause)
			return &advice->recurrences[i];
	ck_abort_msg("no recurrence of cause %d", cause);
	return NULL;
}

static void batch_with(double present_warm)
{
	struct ab_case *c = brewery_batch(&b);

	ab_alone(b.k, c->facts, c->diagnosis->present);
	c->diagnosis->present[C_WARM] = present_warm;
}

/* ---- worked out by the definition ---- */

enum { YES = 1, NO = 0, OPEN = -1 };   /* it struck, did not, nothing is known */

static double rising(double a, int n)
{
	double p = 1;

	for (int i = 0; i < n; i++)
		p *= a + i;
	return p;
}

/* P(such a row) on one rate: Beta(0.6, 1.4). */
static double on_one_rate(const int *row, size_t n)
{
	int yes = 0, no = 0;

	for (size_t i = 0; i < n; i++) {
		yes += row[i] == YES;
		no += row[i] == NO;
	}
	return rising(0.6, yes) * rising(1.4, no) / rising(2, yes + no);
}

/* Over every way of the rate being drawn anew between batches, which it is with 0.15. */
static double chance_of_row(const int *row, size_t n)
{
	double sum = 0;

	for (unsigned anew = 0; anew < 1U << (n - 1); anew++) {
		double way = 1;
		size_t from = 0;
		for (size_t i = 1; i <= n; i++) {
			bool cut = i == n || (anew >> (i - 1) & 1);
			way *= i == n ? 1 : cut ? 0.15 : 0.85;
			if (cut) {
				way *= on_one_rate(row + from, i - from);
				from = i;
			}
		}
		sum += way;
	}
	return sum;
}

/* P(it strikes in one more) after such a row. */
static double one_more(const int *row, size_t n)
{
	int more[8];

	memcpy(more, row, n * sizeof *row);
	more[n] = YES;
	return chance_of_row(more, n + 1) / chance_of_row(row, n);
}

static const struct {
	const char *title;
	size_t n;
	int struck[4];
	double weight, observed;
} decays[] = {
	{ "one, sure", 1, { YES }, 1, 1 },
	{ "one, innocent", 1, { NO }, 1, 0 },
	{ "the newest weighs most", 2, { YES, NO }, 1.85, 0.85 / 1.85 },
	{ "the other way round", 2, { NO, YES }, 1.85, 1 / 1.85 },
	/* one that tells nothing, then a sure one: rates that stay with 0.85 make the first 0.85 E[r^2] / E[r] +
	 * 0.15 x 0.3, and by the moments of Beta(0.6, 1.4) E[r^2] / E[r] = 1.6 / 3 */
	{ "what is sure of one tells of the other", 2, { OPEN, YES }, 1.85,
	    (0.85 * (0.85 * 1.6 / 3 + 0.045) + 1) / 1.85 },
	{ "what agrees with the prior changes nothing", 3, { OPEN, OPEN, OPEN }, 2.5725, 0.3 },
	{ "three of four", 4, { YES, YES, NO, YES }, 3.186625, 1 - 0.85 / 3.186625 },
};

START_TEST(one_more_as_counted)
{
	const char *t = decays[_i].title;

	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	for (size_t i = 0; i < decays[_i].n; i++)
		batch_with(decays[_i].struck[i] == OPEN ? 0.3 : decays[_i].struck[i]);
	const struct ab_recurrence *r = of(brewery_advise(&b), C_WARM);
	ck_assert_msg(fabs(r->prior - 0.3) < 1e-12, "%s: prior %g", t, r->prior);
	ck_assert_msg(fabs(r->data_weight - decays[_i].weight) < 1e-12, "%s: weight %g", t, r->data_weight);
	ck_assert_msg(fabs(r->observed - decays[_i].observed) < 1e-12, "%s: observed %g", t, r->observed);
	ck_assert_msg(fabs(r->p - one_more(decays[_i].struck, decays[_i].n)) < 1e-8, "%s: %.9g", t, r->p);
	ck_assert_msg(fabs(r->expected - r->p * 2.4) < 1e-12, "%s: expected %g", t, r->expected);
}
END_TEST

/* Four batches with these chances of the cause, under a prior of 0.3; the first weighs 0.614125, and so on. */
static const double four[] = { 0.9, 0.7, 0.2, 0.1 }, weights[] = { 0.614125, 0.7225, 0.85, 1 };

/* What is believed of them in the light of all four, and of one more like each: the sums of together.h
 * (check_together.c holds them against every way it can have been); held: what changes in force are expected to
 * hold off. */
static void in_the_light(const double *held, double *present, double *next)
{
	static const double alone = 0.3;
	struct ab_together_batch batches[4];
	struct ab_together_of together = { .batches = batches,
		.n_batches = 4,
		.n_causes = 1,
		.rate_batches = 2,
		.share_batches = 4,
		.keeps = 0.85,
		.rounds = 1 };
	double ratio[4];
	struct ab_together t;

	for (size_t i = 0; i < 4; i++) {
		ratio[i] = four[i] / (1 - four[i]) * 0.7 / 0.3;
		batches[i] = (struct ab_together_batch){ .alone = &alone, .ratio = &ratio[i], .held = &held[i] };
	}
	ck_assert_int_eq(ab_together_solve(&together, b.arena, &t, &b.diag), AB_OK);
	memcpy(present, t.present, 4 * sizeof *present);
	memcpy(next, t.next, 4 * sizeof *next);
}

/* The turn: the batch from which on is counted (0: all); what is held off in each batch. */
struct turn { size_t at; double held[4]; };
static void as_counted(const char *t, const struct ab_advice *advice, const struct turn *turn)
{
	const struct ab_recurrence *r = of(advice, C_WARM);
	double present[4], next[4], n = 0, seen = 0, p = 0;

	in_the_light(turn->held, present, next);
	for (size_t i = turn->at; i < 4; i++) {
		n += weights[i];
		seen += weights[i] * present[i];
		p += weights[i] * next[i];
	}
	ck_assert_msg(fabs(r->prior - 0.3) < 1e-9, "%s: prior %.9g", t, r->prior);
	ck_assert_msg(fabs(r->data_weight - n) < 1e-9, "%s: weight %.9g, not %.9g", t, r->data_weight, n);
	ck_assert_msg(fabs(r->observed - seen / n) < 1e-9, "%s: observed %.9g, not %.9g", t, r->observed, seen / n);
	ck_assert_msg(fabs(r->p - p / n) < 1e-9, "%s: %.9g, not %.9g", t, r->p, p / n);
}

#define LAST_TWO { 0, 0, 0.5, 0.5 }
#define LAST { 0, 0, 0, 0.5 }
#define NONE { 0 }
static const struct {
	const char *title, *changes;
	struct { int at; const char *what; int adopted; } notes[3];
	struct turn turn;
} splits[] = {
	{ "nothing adopted", HABIT("x", PREVENTS("warm", "0.5")), { { 2, NULL, 0 } }, { 0, NONE } },
	{ "adopted at the third", HABIT("x", PREVENTS("warm", "0.5")), { { 2, "x", AB_YES } }, { 2, LAST_TWO } },
	{ "adopted, in no words", HABIT("x", PREVENTS("warm", "0.5")), { { 2, "x", AB_UNKNOWN } }, { 2, LAST_TWO } },
	{ "noted again later: the first counts", HABIT("x", PREVENTS("warm", "0.5")),
	    { { 2, "x", AB_YES }, { 3, "x", AB_YES } },
	  { 2, LAST_TWO } },
	{ "a trial is not kept", HABIT("x", PREVENTS("warm", "0.5")), { { 2, "x", AB_NO } }, { 0, { 0, 0, 0.5, 0 } } },
	{ "in free words: not known", HABIT("x", PREVENTS("warm", "0.5")), { { 2, "something else", AB_YES } },
	    { 0, NONE } },
	{ "too small a share to start anew", HABIT("x", PREVENTS("warm", "0.29")), { { 2, "x", AB_YES } },
	    { 0, { 0, 0, 0.29, 0.29 } } },
	{ "just enough", HABIT("x", PREVENTS("warm", "0.3")), { { 2, "x", AB_YES } }, { 2, { 0, 0, 0.3, 0.3 } } },
	{ "for another cause", HABIT("x", PREVENTS("husky", "0.9")), { { 2, "x", AB_YES } }, { 0, NONE } },
	{ "there from the first on: no before", HABIT("x", PREVENTS("warm", "0.5")), { { 0, "x", AB_YES } },
	    { 0, NONE } },
	{ "two, one after the other: the newest",
	    HABIT("x", PREVENTS("warm", "0.5")) HABIT("y", PREVENTS("warm", "0.4")),
	  { { 2, "x", AB_YES }, { 3, "y", AB_YES } }, { 3, { 0, 0, 0.5, 1 - 0.5 * 0.6 } } },
	{ "the order of the rules does not matter",
	    HABIT("y", PREVENTS("warm", "0.4")) HABIT("x", PREVENTS("warm", "0.5")),
	  { { 2, "x", AB_YES }, { 3, "y", AB_YES } }, { 3, { 0, 0, 0.5, 1 - 0.5 * 0.6 } } },
	{ "two at once work together", HABIT("x", PREVENTS("warm", "0.5")) HABIT("y", PREVENTS("warm", "0.4")),
	  { { 2, "x", AB_YES }, { 2, "y", AB_YES } }, { 2, { 0, 0, 0.7, 0.7 } } },
	{ "a condition that fails takes the lower share",
	  HABIT("x", PREVENTS("warm", "0.1")
	  "<prevents cause='warm' share='0.9' source='estimate'><when fact='t.odd' is='yes'/></prevents>"),
	  { { 2, "x", AB_YES } }, { 0, { 0, 0, 0.1, 0.1 } } },
};

START_TEST(before_and_after_a_change)
{
	const char *t = splits[_i].title;

	brewery_open(&b, splits[_i].changes);
	for (size_t i = 0; i < 4; i++)
		batch_with(four[i]);
	for (size_t i = 0; i < 3 && splits[_i].notes[i].what != NULL; i++)
		brewery_note(
		    &b, b.cases[splits[_i].notes[i].at], splits[_i].notes[i].what, splits[_i].notes[i].adopted);
	const struct ab_advice *advice = brewery_advise(&b);
	as_counted(t, advice, &splits[_i].turn);
	ck_assert_msg(fabs(of(advice, C_YOUNG)->data_weight - 3.186625) < 1e-9, "%s: other causes go on counting", t);
}
END_TEST

/* The four batches are brewed on the 1st, 3rd, 5th and 7th, the third in the morning; house, house, shed, house. */
#define ON_DAY(n) { .known = true, .date_only = true, .s = (n) * 86400. + 43200 }
static const struct {
	const char *title;
	int journal;                             /* the batch whose journal notes x, too; -1 none */
	int adopted;
	struct ab_changed note;
	struct turn turn;
	bool owned;
} profiles[] = {
	{ "in a journal", 2, AB_YES, { .what = NULL }, { 2, LAST_TWO }, true },
	{ "in the profile, the day before", -1, 0, { .what = "x", .on = ON_DAY(4) }, { 2, LAST_TWO }, true },
	{ "on the day, brewed in the morning", -1, 0, { .what = "x", .on = ON_DAY(5) }, { 2, LAST_TWO }, true },
	{ "the day after", -1, 0, { .what = "x", .on = ON_DAY(6) }, { 3, LAST }, true },
	{ "for its line: the first of it", -1, 0, { .what = "x", .on = ON_DAY(4), .line = "house" }, { 3, LAST },
	    true },
	/* the second and the fourth, but not the third; 1.7225 of 2.5725 of the brewing since */
	{ "for its line: what is brewed beside it goes on as before", -1, 0,
	    { .what = "x", .on = ON_DAY(3), .line = "house" },
	  { 1, { 0, 0.5, 0, 0.5 } }, true },
	{ "for another line", -1, 0, { .what = "x", .on = ON_DAY(4), .line = "wheat" }, { 0, NONE }, false },
	{ "after the last of its line", -1, 0, { .what = "x", .on = ON_DAY(6), .line = "shed" }, { 0, NONE }, false },
	{ "after the last batch", -1, 0, { .what = "x", .on = ON_DAY(8) }, { 0, NONE }, false },
	{ "before the first: no before", -1, 0, { .what = "x", .on = ON_DAY(0) }, { 0, NONE }, true },
	{ "in own words", -1, 0, { .text = "x", .on = ON_DAY(4) }, { 0, NONE }, false },
	{ "another change", -1, 0, { .what = "y", .on = ON_DAY(4) }, { 0, NONE }, false },
	{ "in both: the first counts", 3, AB_YES, { .what = "x", .on = ON_DAY(4) }, { 2, LAST_TWO }, true },
	{ "tried in a journal, kept by the profile", 1, AB_NO, { .what = "x", .on = ON_DAY(4) },
	    { 2, { 0, 0.5, 0.5, 0.5 } }, true },
};

START_TEST(noted_in_the_profile)
{
	static const char *const lines[] = { "house", "house", "shed", "house" };
	const char *t = profiles[_i].title;

	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.5")));
	for (size_t i = 0; i < 4; i++) {
		batch_with(four[i]);
		if (profiles[_i].journal == (int)i)
			brewery_note(&b, b.cases[i], "x", profiles[_i].adopted);
		struct ab_batch *batch = brewery_brewed(&b);
		ck_assert_ptr_nonnull(batch);
		*batch = *b.cases[i]->batch;
		batch->line = lines[i];
		batch->brewed =
		    (struct ab_when){ .known = true, .s = (double)(2 * i + 1) * 86400 + (i == 2 ? 28800 : 43200) };
		b.cases[i]->batch = batch;
	}
	if (profiles[_i].note.on.known)
		*(struct ab_changed *)brewery_push(&b, &b.profile->changed, sizeof(struct ab_changed)) =
		    profiles[_i].note;
	const struct ab_advice *advice = brewery_advise(&b);
	as_counted(t, advice, &profiles[_i].turn);
	ck_assert_msg(brewery_item(&b, advice, "x")->owned == profiles[_i].owned, "%s: there or not", t);
}
END_TEST

/* A batch since the change of which nothing is known speaks neither for nor against it. Where it is known, by the
 * moments of Beta(0.6, 1.4), E[r] = 0.3 and E[r^2] = 0.16, and of what is let through, E[l] = 0.5 and E[l^2] = 0.3
 * of Beta(2, 2): one more is E[(r l)^2] / E[r l] or (E[r l] - E[(r l)^2]) / (1 - E[r l]), with 0.85; else 0.15. */
#define LET 0.15
#define TWICE (0.16 * 0.3)
static const struct { const char *title; double present, p; } silent[] = {
	{ "nothing known", 0.3, LET }, { "surely not", 0, 0.85 * (LET - TWICE) / (1 - LET) + 0.15 * LET },
	{ "surely", 1, 0.85 * TWICE / LET + 0.15 * LET },
};

START_TEST(a_silent_batch)
{
	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.5")));
	batch_with(0.3);
	batch_with(silent[_i].present);
	brewery_note(&b, b.cases[1], "x", AB_YES);
	double p = of(brewery_advise(&b), C_WARM)->p;
	ck_assert_msg(fabs(p - silent[_i].p) < 1e-12, "%s: %.12g", silent[_i].title, p);
}
END_TEST

/* Where the facts of the batches since tell of the change, they tell of the next as well. */
START_TEST(told_by_facts)
{
	brewery_open(&b, HABIT("x", COOLS PREVENTS("warm", "0.5")));
	batch_with(0.3);
	batch_with(0.3);
	b.cases[1]->facts[T_OVER] = tiny_fact(0);
	brewery_ready(&b);
	brewery_note(&b, b.cases[1], "x", AB_YES);
	ck_assert_double_eq_tol(of(brewery_advise(&b), C_WARM)->p, 3.0 / 17, 1e-12);
}
END_TEST

/* The prior is that of such a brewer: words of the batches count, by their weights; measurements do not. */
START_TEST(prior_of_the_kind_of_brewing)
{
	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	brewery_batch(&b)->facts[T_CONTROL] = tiny_fact(0);
	struct ab_case *c = brewery_batch(&b);
	c->facts[T_CONTROL] = tiny_fact(2);
	c->facts[T_OVER] = tiny_fact(4);
	brewery_ready(&b);
	const struct ab_recurrence *r = of(brewery_advise(&b), C_WARM);
	ck_assert_double_eq_tol(r->prior, (0.85 * 0.3 + 1 * 0.1) / 1.85, 1e-12);
	/* the second alone: odds 1/9 x 8 */
	ck_assert_double_eq_tol(r->observed, (0.85 * 0.3 + 8.0 / 17) / 1.85, 1e-12);
}
END_TEST

/* ---- what it brings ---- */

START_TEST(loads_by_family)
{
	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	batch_with(0.3);
	b.cases[0]->evidence.family = 1;   /* odd: butter weighs 1.5, slight paper is meant */
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_double_eq_tol(of(advice, C_WARM)->expected, 0.3 * 2.4 * 1.5, 1e-12);
	/* paper counts from moderate on, then from the ground up: 2 x 0.2 + 0.05 grades of 2 each (0.75 grades
	 * where none is meant) */
	ck_assert_double_eq_tol(of(advice, C_STALE)->expected, 0.2 * 2 * (2 * 0.2 + 0.05), 1e-12);
	ck_assert_double_eq_tol(of(advice, C_HUSKY)->expected, 0.15 * 2 * (2 * 0.2), 1e-12);
	ck_assert_double_eq(of(advice, C_YOUNG)->expected, 0);   /* nothing is wrong with young beer */
	b.cases[0]->evidence.family = -1;
	advice = brewery_advise(&b);
	ck_assert_double_eq_tol(of(advice, C_WARM)->expected, 0.3 * 2.4, 1e-12);
	ck_assert_double_eq_tol(of(advice, C_STALE)->expected, 0.2 * 1.5, 1e-12);
	/* nothing was tasted: the rules' figure at a third, as home brewers report */
	ck_assert_double_eq_tol(advice->load_before, (0.3 * 2.4 + 0.2 * 1.5 + 0.15 * 1.2) / 3, 1e-12);
	/* flawless: no leak of 0.02 and 0.05, no cause with a noticeable fault, all brought down alike */
	ck_assert_double_eq_tol(advice->flawless_before,
	    cbrt(0.98 * 0.95) * (1 - 0.3 * 0.5 / 3) * (1 - 0.2 * 0.5 / 3) * (1 - 0.15 * 0.4 / 3), 1e-12);
	ck_assert_double_eq_tol(advice->flawless_after,
	    cbrt(0.98 * 0.95) * (1 - 0.3 * 0.5 / 3) * (1 - 0.2 * 0.5 / 3) * (1 - 0.15 * 0.5 * 0.4 / 3), 1e-12);
	ck_assert_uint_eq(advice->n_recurrences, C_CAUSES);
	for (size_t i = 1; i < C_CAUSES; i++)
		ck_assert(advice->recurrences[i - 1].load >= advice->recurrences[i].load);
}
END_TEST

/* Asked for one family: its batches say what it brings, all say how often; none of it: all are taken as of it. */
static const struct { const char *title, *family; int of[2]; double warm_load; } asked[] = {
	{ "both kinds", NULL, { 0, 1 }, 2.4 * (0.85 + 1.5) / 1.85 },
	{ "the odd ones", "odd", { 0, 1 }, 2.4 * 1.5 },
	{ "the plain ones", "plain", { 0, 1 }, 2.4 },
	{ "odd, though all were plain", "odd", { 0, 0 }, 2.4 * 1.5 },
	{ "plain, though nothing is known", "plain", { -1, -1 }, 2.4 },
};

START_TEST(one_family_asked_for)
{
	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	batch_with(1);
	batch_with(0);
	b.cases[0]->evidence.family = asked[_i].of[0];
	b.cases[1]->evidence.family = asked[_i].of[1];
	b.options.family = asked[_i].family;
	const struct ab_recurrence *r = of(brewery_advise(&b), C_WARM);
	ck_assert_msg(fabs(r->p - one_more((const int[]){ YES, NO }, 2)) < 1e-8, "%s: %g", asked[_i].title, r->p);
	ck_assert_msg(fabs(r->expected - r->p * asked[_i].warm_load) < 1e-12, "%s: expected %g", asked[_i].title,
	    r->expected);
}
END_TEST

/* ---- without batches ---- */

static void brews(int family, double share)
{
	struct ab_brews *x = brewery_push(&b, &b.profile->brews, sizeof *x);

	x->family = family + 1;
	x->share = (struct ab_num){ .v = share, .known = share > 0 };
}

static const struct { const char *title; bool profile; int families[2]; double shares[2]; const char *asked;
    double warm_load; } priors[] = {
	{ "no profile", false, { -1, -1 }, { 0, 0 }, NULL, 2.4 },
	{ "a profile that tells nothing", true, { -1, -1 }, { 0, 0 }, NULL, 2.4 },
	{ "one family", true, { 1, -1 }, { 1, 0 }, NULL, 2.4 * 1.5 },
	{ "two, by their shares", true, { 0, 1 }, { 0.75, 0.25 }, NULL, 2.4 * (0.75 + 0.25 * 1.5) },
	{ "two, shares that are not 1 in all", true, { 0, 1 }, { 0.6, 0.6 }, NULL, 2.4 * 1.25 },
	{ "two, shares not told", true, { 0, 1 }, { 0, 0 }, NULL, 2.4 * 1.25 },
	{ "one of them asked for", true, { 0, 1 }, { 0.75, 0.25 }, "odd", 2.4 * 1.5 },
	{ "another asked for", false, { -1, -1 }, { 0, 0 }, "odd", 2.4 * 1.5 },
};

START_TEST(no_batches)
{
	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.5")));
	for (size_t i = 0; i < 2 && priors[_i].families[i] >= 0; i++)
		brews(priors[_i].families[i], priors[_i].shares[i]);
	if (!priors[_i].profile)
		b.profile = NULL;
	b.options.family = priors[_i].asked;
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_recurrence *r = of(advice, C_WARM);
	ck_assert_msg(fabs(r->p - 0.3) < 1e-12 && r->data_weight == 0 && isnan(r->observed), "%s: %g",
	    priors[_i].title, r->p);
	ck_assert_msg(fabs(r->load - 0.3 * priors[_i].warm_load / 3) < 1e-12, "%s: load %g", priors[_i].title, r->load);
	ck_assert_msg(strstr(advice->reason, "No batch of yours was read") == advice->reason, "%s: %s",
	    priors[_i].title, advice->reason);
	if (priors[_i].profile) {
		b.profile->brewed = (struct ab_num){ .known = true, .v = 0 };
		ck_assert_ptr_nonnull(strstr(brewery_advise(&b)->reason, "You have brewed nothing yet: this rests on"));
		b.profile->brewed.v = 1;
		ck_assert_ptr_nonnull(strstr(brewery_advise(&b)->reason, "No batch of yours was read: this rests on"));
	}
	ck_assert_uint_eq(advice->n_batches, 0);
	ck_assert_int_eq(brewery_item(&b, advice, "x")->basis, AB_BASIS_RATED);
	ck_assert_double_eq_tol(brewery_item(&b, advice, "x")->gain, r->load / 2, 1e-12);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("recurrence");
	TCase *tc = tcase_create("recurrence");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, one_more_as_counted, 0, sizeof decays / sizeof *decays);
	tcase_add_loop_test(tc, noted_in_the_profile, 0, sizeof profiles / sizeof *profiles);
	tcase_add_loop_test(tc, before_and_after_a_change, 0, sizeof splits / sizeof *splits);
	tcase_add_loop_test(tc, a_silent_batch, 0, sizeof silent / sizeof *silent);
	tcase_add_test(tc, told_by_facts);
	tcase_add_test(tc, prior_of_the_kind_of_brewing);
	tcase_add_test(tc, loads_by_family);
	tcase_add_loop_test(tc, one_family_asked_for, 0, sizeof asked / sizeof *asked);
	tcase_add_loop_test(tc, no_batches, 0, sizeof priors / sizeof *priors);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
