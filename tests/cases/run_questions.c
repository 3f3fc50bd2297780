/* run_questions.c - how many questions until the true cause leads: our order, a printed list's, and any order
 *
 * run_questions RULES-DIR JOURNAL... Each brewer has the frame of one journal, causes drawn on it, facts and
 * outcomes of checks drawn given the causes (hidden.h), and tells what was tasted; nothing else is known at first.
 * All orders are judged by the same diagnosis; only what is asked next differs. Found: a cause that did push a
 * fault found leads with blame >= 0.5. Not found within MOST questions counts as MOST. Who would not be found with
 * every question answered is left out, the same for every order. The printed lists go through the causes in the
 * order in which published tables (tables.h) give them for the strongest fault, then the next: of each the question
 * that decides it most, whatever it costs, or ("cheap") most for its effort. Intervals: percentile bootstrap over
 * brewers, 95 % (Efron 1979, Ann. Stat. 7), differences paired by brewer.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_math.h>

#include "questions.h"

enum { RESAMPLES = 4000 };
static const char *const orders[ORDERS] = { "ours", "printed list", "printed, cheap", "any order" };
static const double LEADS_BY = 0.5;

static const struct world worlds[] = {
	{ .name = "itself", .title = "truth as the rules say, every answer true", .tasting = TASTE_SOME,
	    .brewers = 160 },
	{ .name = "unsure", .title = "truth as the rules say; one answer in five is \"don't know\"",
	    .tasting = TASTE_SOME, .dont_know = 0.2, .brewers = 160 },
	{ .name = "shifted", .title = "estimates 0.7 logit off, signs 25 %, tasters who miss and mistake, 20 % "
	    "don't know, 10 % wrong", .tasting = TASTE_BADLY,
	    .shift = { .step = 0.7, .sign_share = 0.25 }, .dont_know = 0.2, .wrong = 0.1, .brewers = 160 },
};
enum { WORLDS = sizeof worlds / sizeof *worlds };

/* ---- answering ---- */

static void tell(struct asked *a, struct question q)
{
	size_t at = questions_place(a->run, q);

	a->done[at] = true;
	if (a->dont_know[at])
		return;
	if (q.check >= 0) {
		a->checks[q.check] = (signed char)(a->wrong[at] ? -a->outcome[q.check] : a->outcome[q.check]);
		return;
	}
	for (size_t s = 0; s < a->run->k->facts->n; s++)
		if (questions_come_with(a->run->k->facts, s, (size_t)q.slot))
			a->facts[s] = a->truth[s];
	if (a->wrong[at] && AB_FACT_KNOWN(&a->truth[q.slot]) && a->run->hidden->fact[q.slot].n > 0)
		a->facts[q.slot].value = a->other[q.slot];
}

static struct ab_diagnosis *diagnose(struct asked *a, bool asks)
{
	struct ab_evidence evidence = { a->brew->finding, a->checks, -1, false };
	struct ab_diagnose_options options = { .reasons = asks, .scratch = a->run->scratch };
	struct ab_diagnosis *d = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	enum ab_status st = ab_diagnose(a->run->k, a->facts, &evidence, &options, a->arena, &d, &diag);
	if (st != AB_OK && st != AB_ELIMIT && st != AB_EIMPOSSIBLE)
		questions_give_up("diagnosis", diag.text);
	return st == AB_OK ? d : NULL;
}

/* ---- one brewer, one order ---- */

static void ask_all(struct asked *a, int order, struct count *count)
{
	struct question q;

	*count = (struct count){ .questions = MOST, .to_lead = MOST };
	for (int asked = 0; asked <= MOST; asked++) {
		const struct ab_diagnosis *d = diagnose(a, order == OURS);
		if (d == NULL)
			return;
		const struct ab_suspect *top = d->n_suspects > 0 ? &d->suspects[0] : NULL;
		count->right[asked] = top != NULL && a->brew->to_blame[top->cause];
		if (count->right[asked] && asked < count->to_lead)
			count->to_lead = asked;
		if (count->right[asked] && top->blame >= LEADS_BY) {
			for (int later = asked; later <= MOST; later++)
				count->right[later] = true;
			count->questions = asked;
			count->found = true;
			return;
		}
		if (!(order == OURS ? questions_ours(a, d, &q) : questions_listed(a, &q))) {
			for (int later = asked; later <= MOST; later++)
				count->right[later] = count->right[asked];
			return;
		}
		count->effort += questions_effort(a->run, q);
		tell(a, q);
	}
}

static void ask_in(struct asked *a, int order, struct count *count)
{
	size_t n_facts = a->run->k->facts->n, n_checks = a->run->k->n_checks;

	a->facts = questions_room(a->arena, n_facts, sizeof *a->facts);
	a->checks = questions_room(a->arena, n_checks, 1);
	a->done = questions_room(a->arena, n_facts + n_checks, sizeof *a->done);
	a->n_list = 0;
	if (order == PRINTED || order == CHEAP)
		questions_list_printed(a, order == CHEAP);
	else if (order == ANY)
		questions_list_any(a);
	ask_all(a, order, count);
}

/* Does the true cause lead by half when every question has been answered? */
static bool found_at_last(struct asked *a)
{
	size_t n_facts = a->run->k->facts->n, n_checks = a->run->k->n_checks;

	a->facts = questions_room(a->arena, n_facts, sizeof *a->facts);
	a->checks = questions_room(a->arena, n_checks, 1);
	a->done = questions_room(a->arena, n_facts + n_checks, sizeof *a->done);
	a->n_list = 0;
	questions_list_any(a);
	for (size_t i = 0; i < a->n_list; i++)
		tell(a, a->list[i]);
	const struct ab_diagnosis *d = diagnose(a, false);
	return d != NULL && d->n_suspects > 0 && a->brew->to_blame[d->suspects[0].cause] &&
	    d->suspects[0].blame >= LEADS_BY;
}

/* P(yes) = 1 - (1 - base) times, for each cause there, 1 - its p. */
static signed char *draw_outcomes(struct run *run, const bool *active, struct ab_arena *arena)
{
	signed char *outcome = questions_room(arena, run->k->n_checks, 1);

	for (size_t i = 0; i < run->k->n_checks; i++) {
		const struct ab_check *c = &run->k->checks[i];
		double no = 1 - c->base;
		for (size_t j = 0; j < c->n_yes; j++)
			no *= active[c->yes[j].cause] ? 1 - c->yes[j].p : 1;
		outcome[i] = gsl_rng_uniform(run->rng) < no ? -1 : 1;
	}
	return outcome;
}

static bool *draw_flags(struct run *run, double share, struct ab_arena *arena)
{
	size_t n = run->k->facts->n + run->k->n_checks;
	bool *flag = questions_room(arena, n, sizeof *flag);

	for (size_t i = 0; i < n; i++)
		flag[i] = gsl_rng_uniform(run->rng) < share;
	return flag;
}

static double *draw_others(struct run *run, struct ab_arena *arena)
{
	double *other = questions_room(arena, run->k->facts->n, sizeof *other);

	for (size_t s = 0; s < run->k->facts->n; s++)
		if (run->hidden->fact[s].n > 0)
			other[s] = hidden_any(run->hidden, (int)s, run->rng);
	return other;
}

/* False: nothing found, or nothing but chance to blame. */
static bool ask_brewer(struct run *run, struct ab_arena *arena)
{
	const struct ab_knowledge *k = run->k, *world = brewers_shift(k, &run->world->shift, run->rng, arena);
	struct ab_fact *truth =
	    hidden_frame(run->hidden, run->journal[gsl_rng_uniform_int(run->rng, run->n_journals)], arena);
	double *alone = questions_room(arena, k->n_causes, sizeof *alone);
	bool *active = questions_room(arena, k->n_causes, sizeof *active), blamed = false;

	ab_alone(world, truth, alone);
	for (size_t c = 0; c < k->n_causes; c++)
		active[c] = gsl_rng_uniform(run->rng) < alone[c];
	hidden_draw(run->hidden, world, active, run->rng, truth);
	const struct brew *brew = brewers_taste(world, truth, active, run->world->tasting, run->rng, arena);
	for (size_t c = 0; c < k->n_causes; c++)
		blamed = blamed || brew->to_blame[c];
	if (!blamed || brew->n_found == 0)
		return false;
	struct asked a = { .run = run,
		.arena = arena,
		.brew = brew,
		.truth = truth,
		.outcome = draw_outcomes(run, active, arena),
		.dont_know = draw_flags(run, run->world->dont_know, arena),
		.wrong = draw_flags(run, run->world->wrong, arena),
		.other = draw_others(run, arena) };
	run->found++;
	if (!found_at_last(&a))
		return false;
	for (int o = 0; o < ORDERS; o++)
		ask_in(&a, o, &run->count[o][run->n]);
	return true;
}

/* ---- tables ---- */

typedef double (*figure)(const struct run *run, size_t brewer, int order);

static double questions_of(const struct run *run, size_t i, int o) { return run->count[o][i].questions; }
static double lead_of(const struct run *run, size_t i, int o) { return run->count[o][i].to_lead; }
static double found_of(const struct run *run, size_t i, int o) { return run->count[o][i].found; }
static double within_5(const struct run *run, size_t i, int o)
{
	return run->count[o][i].found && run->count[o][i].questions <= 5;
}
static double within_10(const struct run *run, size_t i, int o)
{
	return run->count[o][i].found && run->count[o][i].questions <= 10;
}
static double effort_spent(const struct run *run, size_t i, int o) { return run->count[o][i].effort; }
static double right_0(const struct run *run, size_t i, int o) { return run->count[o][i].right[0]; }
static double right_5(const struct run *run, size_t i, int o) { return run->count[o][i].right[5]; }
static double right_10(const struct run *run, size_t i, int o) { return run->count[o][i].right[10]; }

static const struct { const char *name; figure of; } figures[] = {
	{ "questions until it leads by half", questions_of }, { "questions until it leads", lead_of },
	{ "effort in minutes", effort_spent }, { "leads by half within 5", within_5 },
	{ "leads by half within 10", within_10 },
	{ "leads by half within 20", found_of }, { "leads before any question", right_0 },
	{ "leads after 5", right_5 }, { "leads after 10", right_10 },
};
enum { FIGURES = sizeof figures / sizeof *figures };

static int by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

/* Mean of a figure of one order, less that of another (-1: none), with its interval. */
static void estimate(const struct run *run, figure of, int order, int less, double *mean, double *low, double *high)
{
	static double draw[RESAMPLES];
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	double *x = calloc(run->n, sizeof *x);

	if (x == NULL)
		questions_give_up("tables", "out of memory");
	*mean = 0;
	for (size_t i = 0; i < run->n; i++) {
		x[i] = of(run, i, order) - (less < 0 ? 0 : of(run, i, less));
		*mean += x[i] / (double)run->n;
	}
	gsl_rng_set(rng, 1979);
	for (int r = 0; r < RESAMPLES; r++) {
		draw[r] = 0;
		for (size_t i = 0; i < run->n; i++)
			draw[r] += x[gsl_rng_uniform_int(rng, run->n)] / (double)run->n;
	}
	qsort(draw, RESAMPLES, sizeof *draw, by_size);
	*low = draw[RESAMPLES / 40];
	*high = draw[RESAMPLES - 1 - RESAMPLES / 40];
	gsl_rng_free(rng);
	free(x);
}

static void print_world(const struct run *run)
{
	double mean, low, high;

	printf(
	    "\n%s: %s\n%zu brewers with a cause to blame, of whom %zu are found when every question is "
	    "answered\n  %-34s",
	    run->world->name, run->world->title, run->found, run->n, "mean (95 % interval)");
	for (int o = 0; o < ORDERS; o++)
		printf("  %-21s", orders[o]);
	printf("  ours less printed\n");
	for (int f = 0; f < FIGURES; f++) {
		printf("  %-34s", figures[f].name);
		for (int o = 0; o <= ORDERS; o++) {
			estimate(run, figures[f].of, o < ORDERS ? o : OURS, o < ORDERS ? -1 : PRINTED, &mean, &low,
			    &high);
			printf("  %6.2f (%5.2f to %5.2f)", mean, low, high);
		}
		printf("\n");
	}
	for (int less = PRINTED; less <= ANY; less++) {
		double base, no;
		estimate(run, questions_of, OURS, less, &mean, &low, &high);
		estimate(run, questions_of, less, -1, &base, &no, &no);
		printf("less\t%s\t%s\t%zu\t%.4f\t%.4f\t%.4f\t%.4f\n", run->world->name, orders[less], run->n, mean,
		    low, high, base);
	}
}

static void simulate(struct run *run, const struct world *world)
{
	run->world = world;
	run->n = run->found = 0;
	gsl_rng_set(run->rng, 20310307);
	for (size_t tries = 0; run->n < world->brewers && tries < 50 * world->brewers; tries++) {
		struct ab_arena *arena = ab_arena_new();
		run->n += ask_brewer(run, arena);
		ab_arena_free(arena);
	}
	print_world(run);
}

/* ---- the whole ---- */

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static void read_journals(struct run *run, char **paths, size_t n, struct ab_arena *arena)
{
	for (size_t i = 0; i < n; i++) {
		struct ab_batch *batch = NULL;
		struct ab_fact *facts = questions_room(arena, run->k->facts->n, sizeof *facts);
		struct ab_diag diag;
		ab_diag_init(&diag);
		if (ab_journal_read_file(paths[i], arena, keep, &batch, &diag) != AB_OK || batch == NULL ||
		    ab_facts_compute(batch, NULL, &run->k->norms, arena, facts, &diag) != AB_OK)
			questions_give_up(paths[i], diag.text);
		run->journal[run->n_journals++] = facts;
	}
}

/* How well the drawn facts keep to the ratios of the rules. */
static void print_ratios(const struct run *run)
{
	size_t n = 0, near = 0;

	for (size_t s = 0; s < run->k->facts->n; s++)
		for (size_t c = 0; c < run->k->n_causes && run->hidden->fact[s].n > 0; c++) {
			double mean = hidden_mean_ratio(run->hidden, (int)s, c);
			bool moved = false;
			for (size_t i = 0; i < run->k->causes[c].n_signs; i++)
				moved = moved || run->k->causes[c].signs[i].slot == (int)s;
			n += moved;
			near += moved && mean > 0.8 && mean < 1.25;
		}
	printf("facts of causes whose mean ratio is within 0.8 to 1.25 of 1: %zu of %zu\n", near, n);
	printf("ratio\t%zu\t%zu\n", near, n);
}

int main(int argc, char **argv)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_knowledge *k = NULL;
	struct run run = { .rng = gsl_rng_alloc(gsl_rng_mt19937), .scratch = ab_net_scratch_new() };
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (argc < 3)
		questions_give_up("arguments", "RULES-DIR JOURNAL...");
	if (ab_knowledge_read((const char *const[]){ argv[1] }, 1, ab_fact_defs(), ab_casework_vocabulary(), arena,
		&k, &diag) != AB_OK)
		questions_give_up(argv[1], diag.text);
	run.k = k;
	run.hidden = hidden_new(k, arena);
	run.can_be_asked = questions_room(arena, k->facts->n, sizeof *run.can_be_asked);
	questions_find_askable(&run);
	run.journal = questions_room(arena, (size_t)argc, sizeof *run.journal);
	for (int o = 0; o < ORDERS; o++)
		run.count[o] = questions_room(arena, 10000, sizeof *run.count[o]);
	read_journals(&run, argv + 2, (size_t)argc - 2, arena);
	print_ratios(&run);
	for (int w = 0; w < WORLDS; w++)
		simulate(&run, &worlds[w]);
	ab_net_scratch_free(run.scratch);
	gsl_rng_free(run.rng);
	ab_arena_free(arena);
	return 0;
}
