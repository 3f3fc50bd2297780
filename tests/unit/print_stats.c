/* print_stats.c - what the statistics of trend say to questions on standard input, for comparison with another
 * program
 *
 * A question a line: "means FLOOR NA a.. b..", "shares WITH_A NA WITH_B NB", "beta A1 A2 B1 B2", "fisher A B C D",
 * "least WITH BAD N", "slope y..", "thread N FACTORS load.. value.." (values are numbers, N a factor; "drawn" the
 * same), "given N a.. b.. use..", "panel TEST RIGHT N", "enough TEST N LEVEL..", "power TEST N LEVEL SHARE", "learn
 * PRIOR SD DATA SD", "standard FLOOR CLIP x.." (CLIP 0 = none), "shift x.." (place of the first value of each new
 * level), "ewma CENTRE SD WEIGHT WIDTH x..", "cusum TARGET SLACK x..", "runs 1 WEIGHT WIDTH SHIFT SELF RUNS" (mean
 * run length and its error, of an EWMA; "runs 0 SLACK LIMIT SHIFT SELF RUNS" of a CUSUM; SELF values before the
 * shift, self-starting, or 0), "more", "held", "next" and "blamed" as said at each, "tasters TEST LEVEL SHARE
 * POWER" (TEST 0 triangle, 1 duo-trio, 2 pair, 3 preference). What stands after '=' is passed over. Prints the
 * question, '=' and the answers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <afterboil/chart.h>
#include <afterboil/panel.h>
#include "trend/shuffle.h"
#include "trend/stats.h"

enum { MOST = 512 };

static void means(const double *x, size_t n)
{
	size_t na = (size_t)x[1];
	double p, low, high;

	ab_trend_two_means(x + 2, na, x + 2 + na, n - 2 - na, x[0], &p, &low, &high);
	printf(" %.15g %.15g %.15g", p, low, high);
}

/* "allow AT N load.. line..": batches from place AT on are after. */
static void allow(const double *x, size_t n)
{
	static struct stats_row rows[MOST];
	struct ab_trend_allowed a;
	size_t m = (size_t)x[1];

	for (size_t i = 0; i < m && 2 + m + i < n; i++)
		rows[i] = (struct stats_row){ x[2 + m + i] > 1 ? "b" : "a", x[2 + i], (double)i, (double)i >= x[0],
			false };
	stats_allowing(rows, m, 0, &a);
	printf(" %.15g %.15g %.15g %.15g", a.lighter, a.p_better, a.low, a.high);
}

static void shares(const double *x, size_t n)
{
	(void)n;
	printf(" %.15g", ab_trend_two_shares((size_t)x[0], (size_t)x[1], (size_t)x[2], (size_t)x[3]));
}

static void beta(const double *x, size_t n)
{
	(void)n;
	printf(" %.15g", stats_beta_below(x[0], x[1], x[2], x[3]));
}

static void fisher(const double *x, size_t n)
{
	(void)n;
	printf(" %.15g", ab_fisher((size_t)x[0], (size_t)x[1], (size_t)x[2], (size_t)x[3]));
}

static void least(const double *x, size_t n)
{
	(void)n;
	printf(" %.15g", stats_least_fisher((size_t)x[0], (size_t)x[1], (size_t)x[2]));
}

static void slope(const double *x, size_t n)
{
	static double slopes[MOST * MOST / 2];
	double middle, low, high;

	stats_theil_sen(x, n, slopes, &middle, &low, &high);
	printf(" %.15g %.15g %.15g", middle, low, high);
}

/* All p, least first, then all corrected ones. */
static void thread(const double *x, size_t n)
{
	size_t n_batches = (size_t)x[0], n_factors = (size_t)x[1];
	static struct ab_trend_batch batches[MOST];
	static struct ab_factor factors[MOST];
	static char names[MOST][24], values[MOST][24];
	const double *loads = x + 2, *cell = x + 2 + n_batches;
	struct ab_arena *arena = ab_arena_new();
	struct ab_trend *t = NULL;
	struct ab_diag diag;

	(void)n;
	ab_diag_init(&diag);
	for (size_t i = 0; i < n_batches; i++) {
		batches[i] = (struct ab_trend_batch){ .tasted = true,
			.load = loads[i],
			.load_low = NAN,
			.load_high = NAN,
			.factors = &factors[i * n_factors],
			.n_factors = n_factors };
		for (size_t f = 0; f < n_factors; f++) {
			snprintf(names[f], sizeof names[f], "f%zu", f);
			snprintf(values[i * n_factors + f], sizeof values[0], "%d", (int)cell[f * n_batches + i]);
			factors[i * n_factors + f] = (struct ab_factor){ names[f], values[i * n_factors + f] };
		}
	}
	if (ab_trend_work(batches, n_batches, 0, arena, &t, &diag) == AB_OK) {
		for (size_t i = 0; i < t->n_common; i++)
			printf(" %.15g", t->common[i].p);
		for (size_t i = 0; i < t->n_common; i++)
			printf(" %.15g", t->common[i].p_adjusted);
	}
	ab_arena_free(arena);
}

/* A split given another: "given N a.. b.. use..". */
static void given(const double *x, size_t n)
{
	static signed char a[MOST], b[MOST], use[MOST];
	const signed char *const on[] = { a, b };
	const struct shuffle s = { on, use, NULL, 2, (size_t)x[0] };
	struct ab_arena *arena = ab_arena_new();
	double p = NAN;

	for (size_t i = 0; i < s.n && 1 + 2 * s.n + i < n; i++) {
		a[i] = (signed char)x[1 + i];
		b[i] = (signed char)x[1 + s.n + i];
		use[i] = (signed char)x[1 + 2 * s.n + i];
	}
	if (shuffle_given(&s, 0, 1, arena, &p, NULL) == AB_OK)
		printf(" %.15g", p);
	ab_arena_free(arena);
}

/* p, how likely a difference is, the share who can tell with its range. */
static void panel(const double *x, size_t n)
{
	struct ab_panel_belief b;

	(void)n;
	ab_panel_believe((enum ab_panel_test)x[0], (size_t)x[1], (size_t)x[2], &b);
	printf(" %.15g %.15g %.15g %.15g %.15g", ab_panel_p((enum ab_panel_test)x[0], (size_t)x[1], (size_t)x[2]),
	    b.difference, b.share, b.low, b.high);
}

/* The fewest right at each level asked for; 0 = none. */
static void enough(const double *x, size_t n)
{
	for (size_t i = 2; i < n; i++) {
		size_t least = ab_panel_least((enum ab_panel_test)x[0], (size_t)x[1], x[i]);

		printf(" %zu", least == SIZE_MAX ? 0 : least);
	}
}

static void power(const double *x, size_t n)
{
	(void)n;
	printf(" %.15g", ab_panel_power((enum ab_panel_test)x[0], (size_t)x[1], x[2], x[3]));
}

static void tasters(const double *x, size_t n)
{
	(void)n;
	printf(" %zu", ab_panel_tasters((enum ab_panel_test)x[0], x[1], x[2], x[3]));
}

/* "more APART NB NA": batches still needed (-1 = never), and the chance that it is seen with NB and NA. */
static void more(const double *x, size_t n)
{
	size_t needed = stats_more_needed(x[0], 1, (size_t)x[1], (size_t)x[2]);

	(void)n;
	printf(" %.15g %.15g", needed == SIZE_MAX ? -1 : (double)needed, stats_power(x[0], (size_t)x[1], (size_t)x[2]));
}

/* "held PROMISED NA a.. b..": loads before and after; 1 when the promise held. */
static void held(const double *x, size_t n)
{
	size_t na = (size_t)x[1], nb = n - 2 - na;
	const double *a = x + 2, *b = x + 2 + na;
	struct ab_trend_change c = { .before = stats_mean(a, na), .after = stats_mean(b, nb) };
	struct ab_learned l;

	ab_trend_two_means(a, na, b, nb, 0, &c.p_better, &c.low, &c.high);
	if (ab_trend_learn_change(&c, x[0], 0, &l))
		printf(" %d", ab_trend_held(&l));
}

/* "next x..": the level of a chart and where its next value is expected; "odd" when the chart sees more than one
 * level. */
static void next(const double *x, size_t n)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_chart c;

	if (ab_chart_work(x, n, 0, arena, &c, NULL) == AB_OK)
		printf(c.n_shifts > 0 ? " odd" : " %.15g %.15g %.15g", c.mean, c.low, c.high);
	ab_arena_free(arena);
}

/* "blamed NB NA p..": blame of one cause in batches before and after a change: the sums, and P(blamed less often
 * after). */
static void blamed(const double *x, size_t n)
{
	static struct ab_trend_batch batches[MOST];
	size_t nb = (size_t)x[0], all = nb + (size_t)x[1];
	static const char *const what[] = { "x" };
	struct ab_arena *arena = ab_arena_new();
	struct ab_trend *t = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	for (size_t i = 0; i < all && i + 2 < n; i++)
		batches[i] = (struct ab_trend_batch){ .id = "b",
			.tasted = true,
			.load = 1,
			.load_low = 1,
			.load_high = 1,
			.changes = what,
			.n_changes = i == nb,
			.blame = &x[2 + i] };
	if (ab_trend_work(batches, all, 0, arena, &t, &diag) == AB_OK &&
	    ab_trend_causes(batches, 1, arena, t, &diag) == AB_OK)
		for (size_t i = 0; i < t->changes[0].n_causes; i++)
			printf(" %.15g %.15g %.15g", t->changes[0].causes[i].before, t->changes[0].causes[i].after,
			    t->changes[0].causes[i].p_better);
	ab_arena_free(arena);
}

static void learn(const double *x, size_t n)
{
	struct ab_learned l = ab_trend_learn(x[0], x[1], x[2], x[3]);

	(void)n;
	printf(" %.15g %.15g", l.mean, l.sd);
}

/* Pairs batch, score in order of batch: mean, noise and between. */
static void verdicts(const double *x, size_t n)
{
	struct ab_verdict_group groups[MOST] = { { 0, 0, 0 } };
	struct ab_verdicts v;
	size_t m = 0;

	for (size_t i = 0; i + 1 < n; i += 2) {
		struct ab_verdict_group *g = &groups[m];
		double off = x[i + 1] - g->mean, squares = g->n > 1 ? g->sd * g->sd * (double)(g->n - 1) : 0;

		g->n++;
		g->mean += off / (double)g->n;
		squares += off * (x[i + 1] - g->mean);
		g->sd = g->n > 1 ? sqrt(squares / (double)(g->n - 1)) : 0;
		m += i + 2 < n && x[i + 2] != x[i];
	}
	ab_verdicts_work(groups, m + 1, &v);
	printf(" %.15g %.15g %.15g", v.mean, v.noise, v.between);
}

/* Self-starting standard values with a floor. */
static void standard(const double *x, size_t n)
{
	double u[MOST];

	ab_chart_standardise(x + 2, n - 2, x[0], x[1] > 0 ? x[1] : INFINITY, u);
	for (size_t i = 0; i + 2 < n; i++)
		printf(" %.15g", u[i]);
}

static void shift(const double *x, size_t n)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_chart c;

	if (ab_chart_work(x, n, 0, arena, &c, NULL) == AB_OK)
		for (size_t i = 0; i < c.n_shifts; i++)
			printf(" %zu", c.shifts[i].from + 1);
	ab_arena_free(arena);
}

static void ewma(const double *x, size_t n)
{
	double z[MOST], reach[MOST];

	ab_chart_ewma(x + 4, n - 4, x[0], x[1], x[2], x[3], z, reach);
	for (size_t i = 0; i + 4 < n; i++)
		printf(" %.15g %.15g", z[i], reach[i]);
}

static void cusum(const double *x, size_t n)
{
	double up[MOST], down[MOST];

	ab_chart_cusum(x + 2, n - 2, x[0], x[1], up, down);
	for (size_t i = 0; i + 2 < n; i++)
		printf(" %.15g %.15g", up[i], down[i]);
}

/* Mean run length to the first alarm, by drawing: with known level and scatter, or self-starting (then two values
 * more). */
static void run_length(const double *x, size_t n)
{
	enum { LONGEST = 8192, SPAN = 64 };
	static double v[LONGEST], u[LONGEST], a[LONGEST], b[LONGEST];
	bool by_ewma = x[0] > 0, starting = x[4] > 0;
	size_t runs = (size_t)x[5], warm = starting ? (size_t)x[4] : 0;
	double sum = 0, squares = 0;
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);

	(void)n;
	gsl_rng_set(rng, 20310307);
	for (size_t r = 0; r < runs; r++) {
		size_t at = 0, have = 0;

		while (at == have && have < LONGEST) {   /* in pieces: most runs are short */
			size_t more = have < SPAN ? SPAN : have;
			for (size_t i = have; i < have + more && i < LONGEST; i++)
				v[i] = gsl_ran_ugaussian(rng) + (i >= warm ? x[3] : 0);
			have = have + more < LONGEST ? have + more : LONGEST;
			if (starting)
				ab_chart_standardise(v, have, 0, INFINITY, u);
			else
				memcpy(u, v, have * sizeof *u);
			if (by_ewma)
				ab_chart_ewma(u, have, 0, 1, x[1], x[2], a, b);
			else
				ab_chart_cusum(u, have, 0, x[1], a, b);
			while (at < have && (by_ewma ? fabs(a[at]) <= b[at] : a[at] <= x[2] && b[at] <= x[2]))
				at++;
		}
		sum += (double)(at + 1);
		squares += (double)(at + 1) * (double)(at + 1);
	}
	gsl_rng_free(rng);
	printf(" %.15g %.15g", sum / (double)runs,
	    sqrt((squares / (double)runs - sum / (double)runs * (sum / (double)runs)) / (double)runs));
}

static const struct { const char *name; void (*answer)(const double *, size_t); size_t least; } questions[] = {
	{ "means", means, 4 }, { "allow", allow, 8 }, { "shares", shares, 4 }, { "beta", beta, 4 },
	{ "fisher", fisher, 4 }, { "least", least, 3 }, { "slope", slope, 1 },
	{ "thread", thread, 3 }, { "drawn", thread, 3 }, { "given", given, 7 },
	{ "verdicts", verdicts, 4 },
	{ "more", more, 3 }, { "held", held, 5 }, { "next", next, 5 }, { "blamed", blamed, 4 },
	{ "learn", learn, 4 }, { "standard", standard, 3 }, { "shift", shift, 5 }, { "ewma", ewma, 5 },
	{ "cusum", cusum, 3 }, { "runs", run_length, 6 },
	{ "panel", panel, 3 }, { "enough", enough, 3 }, { "power", power, 4 }, { "tasters", tasters, 4 },
};

static int answer(char *line)
{
	double x[MOST];
	size_t n = 0;
	char *end = strchr(line, '='), *rest, *word;

	if (end != NULL)
		*end = '\0';
	line[strcspn(line, "\n")] = '\0';
	printf("%s=", line);
	word = strtok_r(line, " ", &rest);
	for (char *t; n < MOST && (t = strtok_r(NULL, " ", &rest)) != NULL; n++)
		x[n] = strtod(t, NULL);
	for (size_t i = 0; word != NULL && i < sizeof questions / sizeof *questions; i++)
		if (strcmp(questions[i].name, word) == 0 && n >= questions[i].least) {
			questions[i].answer(x, n);
			printf("\n");
			return 0;
		}
	fprintf(stderr, "print_stats: not a question: %s\n", word != NULL ? word : "");
	return 2;
}

int main(void)
{
	static char line[16384];
	int st = 0;

	while (st == 0 && fgets(line, sizeof line, stdin) != NULL)
		st = answer(line);
	return st;
}
