/* run_questions.c - how many questions until the true cause leads: our order, a printed list's, and any order
 *
 * run_questions RULES-DIR JOURNAL... Each brewer has the frame of one journal, causes drawn on it, facts and outcomes of checks drawn given
 * the causes (hidden.h), and tells what was tasted; nothing else is known at first. All orders are judged by the same diagnosis; only what
 * is asked next differs. Found: a cause that did push a fault found leads with blame >= 0.5. Not found within MOST questions counts as MOST.
 * Who would not be found with every question answered is left out, the same for every order. The printed lists go through the causes in the
 * order in which published tables (tables.h) give them for the strongest fault, then the next: of each the question that decides it most,
 * whatever it costs, or ("cheap") most for its effort. Intervals: percentile bootstrap over brewers, 95 % (Efron 1979, Ann. Stat. 7),
 * differences paired by brewer.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_math.h>

#include <afterboil/casework.h>

#include "brewers.h"
#include "hidden.h"
#include "tables.h"

enum { MOST = 20, RESAMPLES = 4000, ORDERS = 4, QUESTIONS_MAX = 400 };
enum { OURS, PRINTED, CHEAP, ANY };
static const char *const orders[ORDERS] = { "ours", "printed list", "printed, cheap", "any order" };
static const double LEADS_BY = 0.5;
/* Effort in minutes, as the program counts it: to ask at all, a dollar, a day's wait. */
static const double TO_ASK = 2, A_DOLLAR = 10, A_DAY = 15;

struct world {
	const char *name, *title;
	enum tasting tasting;
	struct shift shift;
	double dont_know, wrong;    /* shares of answers */
	size_t brewers;
};

static const struct world worlds[] = {
	{ .name = "itself", .title = "truth as the rules say, every answer true", .tasting = TASTE_SOME, .brewers = 160 },
	{ .name = "unsure", .title = "truth as the rules say; one answer in five is \"don't know\"", .tasting = TASTE_SOME, .dont_know = 0.2, .brewers = 160 },
	{ .name = "shifted", .title = "estimates 0.7 logit off, signs 25 %, tasters who miss and mistake, 20 % don't know, 10 % wrong", .tasting = TASTE_BADLY,
	    .shift = { .step = 0.7, .sign_share = 0.25 }, .dont_know = 0.2, .wrong = 0.1, .brewers = 160 },
};
enum { WORLDS = sizeof worlds / sizeof *worlds };

/* What was counted for one brewer and order. */
struct count { double questions, effort, to_lead; bool found, right[MOST + 1]; };

struct run {
	const struct ab_knowledge *k;
	struct hidden *hidden;
	struct ab_fact **journal; size_t n_journals;
	gsl_rng *rng;
	struct ab_net_scratch *scratch;
	const struct world *world;
	struct count *count[ORDERS]; size_t n;
	bool *can_be_asked;         /* by slot */
	size_t found;               /* brewers with a fault found and a cause to blame; n of them are found when all is told */
};

/* A question is a fact (slot) or a check; the other is -1. */
struct question { int slot, check; };

/* One brewer being asked. */
struct asked {
	struct run *run;
	struct ab_arena *arena;
	const struct brew *brew;
	const struct ab_fact *truth;
	const signed char *outcome;           /* of each check */
	const bool *dont_know, *wrong;        /* by slot, then by check: the same for every order */
	const double *other;                  /* the wrong value */
	struct ab_fact *facts;                /* told so far */
	signed char *checks;
	bool *done;                           /* by slot, then by check */
	struct question list[QUESTIONS_MAX]; size_t n_list;   /* an order fixed beforehand */
};

static _Noreturn void give_up(const char *what, const char *why)
{
	printf("run_questions: %s: %s\n", what, why);
	exit(1);
}

static void *room(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_alloc(arena, n + 1, size);

	if (p == NULL)
		give_up("room", "out of memory");
	return p;
}

/* ---- what can be asked ---- */

static size_t place(const struct run *run, struct question q)
{
	return q.slot >= 0 ? (size_t)q.slot : run->k->facts->n + (size_t)q.check;
}

static bool may_check(const struct ab_check *check, const struct ab_fact *facts)
{
	for (size_t i = 0; i < check->n_only_for; i++)
		if (ab_conds_hold(&check->only_for[i], facts))
			return true;
	return check->n_only_for == 0;
}

/* A fact that is only reckoned comes with the plainer one in whose name its own begins: early-mean-over with early-mean. */
static bool comes_with(const struct ab_fact_table *facts, size_t slot, size_t asked)
{
	size_t n = strlen(facts->defs[asked].name);

	return slot == asked || (facts->defs[slot].asks == NULL && strncmp(facts->defs[slot].name, facts->defs[asked].name, n) == 0 &&
	    facts->defs[slot].name[n] == '-');
}

static void find_askable(struct run *run)
{
	for (size_t slot = 0; slot < run->k->facts->n; slot++)
		for (size_t s = 0; run->k->facts->defs[slot].asks != NULL && s < run->k->facts->n; s++)
			if (run->hidden->fact[s].n > 0 && comes_with(run->k->facts, s, slot))
				run->can_be_asked[slot] = true;
}

static double effort_of(const struct run *run, struct question q)
{
	if (q.slot >= 0)
		return TO_ASK + run->k->facts->defs[q.slot].minutes;
	const struct ab_check *c = &run->k->checks[q.check];
	return TO_ASK + c->minutes + A_DOLLAR * c->cost + A_DAY * c->wait_days;
}

/* ---- answering ---- */

static void tell(struct asked *a, struct question q)
{
	size_t at = place(a->run, q);

	a->done[at] = true;
	if (a->dont_know[at])
		return;
	if (q.check >= 0) {
		a->checks[q.check] = (signed char)(a->wrong[at] ? -a->outcome[q.check] : a->outcome[q.check]);
		return;
	}
	for (size_t s = 0; s < a->run->k->facts->n; s++)
		if (comes_with(a->run->k->facts, s, (size_t)q.slot))
			a->facts[s] = a->truth[s];
	if (a->wrong[at] && AB_FACT_KNOWN(&a->truth[q.slot]) && a->run->hidden->fact[q.slot].n > 0)
		a->facts[q.slot].value = a->other[q.slot];
}

static struct ab_diagnosis *diagnose(struct asked *a, bool asks)
{
	struct ab_evidence evidence = { a->brew->finding, a->checks, -1 };
	struct ab_diagnose_options options = { .reasons = asks, .scratch = a->run->scratch };
	struct ab_diagnosis *d = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	enum ab_status st = ab_diagnose(a->run->k, a->facts, &evidence, &options, a->arena, &d, &diag);
	if (st != AB_OK && st != AB_ELIMIT && st != AB_EIMPOSSIBLE)
		give_up("diagnosis", diag.text);
	return st == AB_OK ? d : NULL;
}

/* ---- orders ---- */

/* The best of the program's own list that was not asked before: asked and not known, it stays in the list. */
static bool ask_ours(const struct asked *a, const struct ab_diagnosis *d, struct question *q)
{
	for (size_t i = 0; i < d->n_asks; i++) {
		*q = (struct question){ d->asks[i].is_check ? -1 : d->asks[i].slot, d->asks[i].is_check ? d->asks[i].check : -1 };
		if (!a->done[place(a->run, *q)])
			return true;
	}
	return false;
}

static bool ask_list(const struct asked *a, struct question *q)
{
	for (size_t i = 0; i < a->n_list; i++)
		if (!a->done[place(a->run, a->list[i])]) {
			*q = a->list[i];
			return true;
		}
	return false;
}

static bool listed(const struct asked *a, struct question q)
{
	for (size_t i = 0; i < a->n_list; i++)
		if (a->list[i].slot == q.slot && a->list[i].check == q.check)
			return true;
	return false;
}

static void add(struct asked *a, struct question q)
{
	if (a->n_list < QUESTIONS_MAX && !listed(a, q))
		a->list[a->n_list++] = q;
}

static void list_any(struct asked *a)
{
	const struct ab_knowledge *k = a->run->k;

	for (size_t s = 0; s < k->facts->n; s++)
		if (a->run->can_be_asked[s])
			add(a, (struct question){ (int)s, -1 });
	for (size_t c = 0; c < k->n_checks; c++)
		if (may_check(&k->checks[c], a->truth))
			add(a, (struct question){ -1, (int)c });
	for (size_t i = a->n_list; i > 1; i--) {
		size_t j = gsl_rng_uniform_int(a->run->rng, i);
		struct question q = a->list[i - 1];
		a->list[i - 1] = a->list[j];
		a->list[j] = q;
	}
}

/* How far the answers of a question can drive the odds of one cause apart, nothing else known. */
static double decides(const struct asked *a, size_t cause, struct question q)
{
	const struct ab_knowledge *k = a->run->k;
	double most = 0, least = 0;

	if (q.check >= 0) {
		const struct ab_check *c = &k->checks[q.check];
		for (size_t i = 0; i < c->n_yes; i++)
			if (c->yes[i].cause == (int)cause) {
				double p = 1 - (1 - c->base) * (1 - c->yes[i].p);
				return log(p / c->base) - log((1 - p) / (1 - c->base));
			}
		return 0;
	}
	for (size_t i = 0; i < k->causes[cause].n_signs; i++) {
		const struct ab_sign *sign = &k->causes[cause].signs[i];
		if (!comes_with(k->facts, (size_t)sign->slot, (size_t)q.slot))
			continue;
		for (size_t j = 0; j < AB_CURVE_POINTS && j < sign->n; j++)
			most = fmax(most, sign->log_ratio[j]), least = fmin(least, sign->log_ratio[j]);
		for (size_t j = 0; sign->n == 0 && j < AB_WORDS; j++)
			most = fmax(most, sign->word_log_ratio[j]), least = fmin(least, sign->word_log_ratio[j]);
	}
	return most - least;
}

/* The question that decides a cause best and is not in the list yet. */
static bool add_decider(struct asked *a, size_t cause, bool cheap)
{
	const struct ab_knowledge *k = a->run->k;
	struct question best = { -1, -1 };
	double most = 0;

	for (size_t i = 0; i < k->facts->n + k->n_checks; i++) {
		bool fact = i < k->facts->n;
		struct question q = { fact ? (int)i : -1, fact ? -1 : (int)(i - k->facts->n) };
		if (listed(a, q) || (fact ? !a->run->can_be_asked[i] : !may_check(&k->checks[q.check], a->truth)))
			continue;
		double by = decides(a, cause, q) / (cheap ? effort_of(a->run, q) : 1);
		if (by > most) {
			most = by;
			best = q;
		}
	}
	if (most > 0)
		add(a, best);
	return most > 0;
}

static void add_cause(int *cause, size_t *n, int c)
{
	for (size_t i = 0; i < *n; i++)
		if (cause[i] == c)
			return;
	if (c >= 0)
		cause[(*n)++] = c;
}

static double strength(const struct ab_cause *c, int fault)
{
	double most = 0;

	for (size_t i = 0; i < c->n_links; i++)
		if (c->links[i].fault == fault)
			most = fmax(most, c->links[i].tail[1]);
	return most;
}

/* The causes that print gives for one fault, list after list in their order; then what else the rules link to it, strongest first. */
static void add_printed(const struct run *run, int fault, int *cause, size_t *n)
{
	const struct ab_knowledge *k = run->k;

	for (size_t r = 0; r < n_listed_rows; r++)
		for (int c = 0; c < COLUMNS && ab_fault_find(k, listed_rows[r].fault) == fault; c++) {
			char copy[1024], *save = NULL;
			snprintf(copy, sizeof copy, "%s", listed_rows[r].column[c] == NULL ? "" : listed_rows[r].column[c]);
			for (char *id = strtok_r(copy, " ", &save); id != NULL; id = strtok_r(NULL, " ", &save))
				add_cause(cause, n, ab_cause_find(k, id));
		}
	for (double at = 1; at > 0; at -= 0.05)
		for (size_t c = 0; c < k->n_causes; c++) {
			double s = strength(&k->causes[c], fault);
			if (s <= at && s > at - 0.05)
				add_cause(cause, n, (int)c);
		}
}

/* Faults from the strongest down; for each cause in turn the question that decides it; then, all over again, the next best ones. */
static void list_printed(struct asked *a, bool cheap)
{
	const struct ab_knowledge *k = a->run->k;
	int *cause = room(a->arena, k->n_causes, sizeof *cause);
	size_t n = 0;
	bool more = true;

	for (int grade = AB_GRADES - 1; grade > 0; grade--)
		for (size_t f = 0; f < k->n_faults; f++)
			if (a->brew->finding[f].seen == AB_SEEN_FOUND && a->brew->finding[f].grade == grade)
				add_printed(a->run, (int)f, cause, &n);
	for (int round = 0; more && round < MOST; round++) {
		more = false;
		for (size_t i = 0; i < n; i++)
			more = add_decider(a, (size_t)cause[i], cheap) || more;
	}
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
		if (!(order == OURS ? ask_ours(a, d, &q) : ask_list(a, &q))) {
			for (int later = asked; later <= MOST; later++)
				count->right[later] = count->right[asked];
			return;
		}
		count->effort += effort_of(a->run, q);
		tell(a, q);
	}
}

static void ask_in(struct asked *a, int order, struct count *count)
{
	size_t n_facts = a->run->k->facts->n, n_checks = a->run->k->n_checks;

	a->facts = room(a->arena, n_facts, sizeof *a->facts);
	a->checks = room(a->arena, n_checks, 1);
	a->done = room(a->arena, n_facts + n_checks, sizeof *a->done);
	a->n_list = 0;
	if (order == PRINTED || order == CHEAP)
		list_printed(a, order == CHEAP);
	else if (order == ANY)
		list_any(a);
	ask_all(a, order, count);
}

/* Does the true cause lead by half when every question has been answered? */
static bool found_at_last(struct asked *a)
{
	size_t n_facts = a->run->k->facts->n, n_checks = a->run->k->n_checks;

	a->facts = room(a->arena, n_facts, sizeof *a->facts);
	a->checks = room(a->arena, n_checks, 1);
	a->done = room(a->arena, n_facts + n_checks, sizeof *a->done);
	a->n_list = 0;
	list_any(a);
	for (size_t i = 0; i < a->n_list; i++)
		tell(a, a->list[i]);
	const struct ab_diagnosis *d = diagnose(a, false);
	return d != NULL && d->n_suspects > 0 && a->brew->to_blame[d->suspects[0].cause] && d->suspects[0].blame >= LEADS_BY;
}

/* P(yes) = 1 - (1 - base) times, for each cause there, 1 - its p. */
static signed char *draw_outcomes(struct run *run, const bool *active, struct ab_arena *arena)
{
	signed char *outcome = room(arena, run->k->n_checks, 1);

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
	bool *flag = room(arena, n, sizeof *flag);

	for (size_t i = 0; i < n; i++)
		flag[i] = gsl_rng_uniform(run->rng) < share;
	return flag;
}

static double *draw_others(struct run *run, struct ab_arena *arena)
{
	double *other = room(arena, run->k->facts->n, sizeof *other);

	for (size_t s = 0; s < run->k->facts->n; s++)
		if (run->hidden->fact[s].n > 0)
			other[s] = hidden_any(run->hidden, (int)s, run->rng);
	return other;
}

/* False: nothing found, or nothing but chance to blame. */
static bool ask_brewer(struct run *run, struct ab_arena *arena)
{
	const struct ab_knowledge *k = run->k, *world = brewers_shift(k, &run->world->shift, run->rng, arena);
	struct ab_fact *truth = hidden_frame(run->hidden, run->journal[gsl_rng_uniform_int(run->rng, run->n_journals)], arena);
	double *alone = room(arena, k->n_causes, sizeof *alone);
	bool *active = room(arena, k->n_causes, sizeof *active), blamed = false;

	ab_alone(world, truth, alone);
	for (size_t c = 0; c < k->n_causes; c++)
		active[c] = gsl_rng_uniform(run->rng) < alone[c];
	hidden_draw(run->hidden, world, active, run->rng, truth);
	const struct brew *brew = brewers_taste(world, truth, active, run->world->tasting, run->rng, arena);
	for (size_t c = 0; c < k->n_causes; c++)
		blamed = blamed || brew->to_blame[c];
	if (!blamed || brew->n_found == 0)
		return false;
	struct asked a = { .run = run, .arena = arena, .brew = brew, .truth = truth, .outcome = draw_outcomes(run, active, arena),
	    .dont_know = draw_flags(run, run->world->dont_know, arena), .wrong = draw_flags(run, run->world->wrong, arena),
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
static double within_5(const struct run *run, size_t i, int o) { return run->count[o][i].found && run->count[o][i].questions <= 5; }
static double within_10(const struct run *run, size_t i, int o) { return run->count[o][i].found && run->count[o][i].questions <= 10; }
static double effort_spent(const struct run *run, size_t i, int o) { return run->count[o][i].effort; }
static double right_0(const struct run *run, size_t i, int o) { return run->count[o][i].right[0]; }
static double right_5(const struct run *run, size_t i, int o) { return run->count[o][i].right[5]; }
static double right_10(const struct run *run, size_t i, int o) { return run->count[o][i].right[10]; }

static const struct { const char *name; figure of; } figures[] = {
	{ "questions until it leads by half", questions_of }, { "questions until it leads", lead_of },
	{ "effort in minutes", effort_spent }, { "leads by half within 5", within_5 }, { "leads by half within 10", within_10 },
	{ "leads by half within 20", found_of }, { "leads before any question", right_0 }, { "leads after 5", right_5 }, { "leads after 10", right_10 },
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
		give_up("tables", "out of memory");
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

	printf("\n%s: %s\n%zu brewers with a cause to blame, of whom %zu are found when every question is answered\n  %-34s", run->world->name,
	    run->world->title, run->found, run->n, "mean (95 % interval)");
	for (int o = 0; o < ORDERS; o++)
		printf("  %-21s", orders[o]);
	printf("  ours less printed\n");
	for (int f = 0; f < FIGURES; f++) {
		printf("  %-34s", figures[f].name);
		for (int o = 0; o <= ORDERS; o++) {
			estimate(run, figures[f].of, o < ORDERS ? o : OURS, o < ORDERS ? -1 : PRINTED, &mean, &low, &high);
			printf("  %6.2f (%5.2f to %5.2f)", mean, low, high);
		}
		printf("\n");
	}
	for (int less = PRINTED; less <= ANY; less++) {
		double base, no;
		estimate(run, questions_of, OURS, less, &mean, &low, &high);
		estimate(run, questions_of, less, -1, &base, &no, &no);
		printf("less\t%s\t%s\t%zu\t%.4f\t%.4f\t%.4f\t%.4f\n", run->world->name, orders[less], run->n, mean, low, high, base);
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
		struct ab_fact *facts = room(arena, run->k->facts->n, sizeof *facts);
		struct ab_diag diag;
		ab_diag_init(&diag);
		if (ab_journal_read_file(paths[i], arena, keep, &batch, &diag) != AB_OK || batch == NULL ||
		    ab_facts_compute(batch, NULL, &run->k->norms, arena, facts, &diag) != AB_OK)
			give_up(paths[i], diag.text);
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
		give_up("arguments", "RULES-DIR JOURNAL...");
	if (ab_knowledge_read((const char *const[]){ argv[1] }, 1, ab_fact_defs(), ab_casework_vocabulary(), arena, &k, &diag) != AB_OK)
		give_up(argv[1], diag.text);
	run.k = k;
	run.hidden = hidden_new(k, arena);
	run.can_be_asked = room(arena, k->facts->n, sizeof *run.can_be_asked);
	find_askable(&run);
	run.journal = room(arena, (size_t)argc, sizeof *run.journal);
	for (int o = 0; o < ORDERS; o++)
		run.count[o] = room(arena, 10000, sizeof *run.count[o]);
	read_journals(&run, argv + 2, (size_t)argc - 2, arena);
	print_ratios(&run);
	for (int w = 0; w < WORLDS; w++)
		simulate(&run, &worlds[w]);
	ab_net_scratch_free(run.scratch);
	gsl_rng_free(run.rng);
	ab_arena_free(arena);
	return 0;
}
