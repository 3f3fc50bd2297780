/* run_loop.c - does the advice work? Simulated brewers follow it for ten batches; so do their twins who follow
 * something else
 *
 * run_loop RULES-DIR BREWERS[@FIRST] JOURNAL... Every brewer has the facts of one of the journals; another
 * FIRST means other brewers. Where the world differs from the rules each brewer lives in one of their own: in
 * one world for all, its draw would be luck that the errors over brewers do not see. Each policy meets the same
 * brewers: same hidden chances, own luck. After each batch one change or three may be begun. What counts is the
 * true expected flaw load, which no policy sees: nothing sampled is in it. Beside the policies stands an oracle
 * that knows the truth, and bounds that know what nobody can know at home: they say where the rest is lost.
 * Prints tables; lines for programs begin with "loop", "ahead", "bound" (by how much of what the oracle removes
 * a bound is ahead of ours), "lost", "share", "said" or "knew". Intervals: mean and twice its standard error
 * over brewers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "loop.h"

enum { BATCHES = 10, LATE = 6, POLICIES = 16 };

struct sim { const char *name, *title; enum tasting tasting; struct shift shift; double hidden; size_t at_once; };
static const struct sim sims[] = {
	{ .name = "itself", .title = "the world is as the rules say; complete tastings; one change a batch",
	    .tasting = TASTE_COMPLETE,
	    .at_once = 1 },
	{ .name = "itself-3", .title = "the same; up to three changes a batch", .tasting = TASTE_COMPLETE,
	    .at_once = 3 },
	{ .name = "shifted",
	    .title = "estimates 0.7 logit off, 30 % of faults missed, 10 % misnamed, 30 % of facts not told",
	.tasting = TASTE_BADLY,
	    .shift = { .step = 0.7 }, .hidden = 0.3, .at_once = 1 },
	{ .name = "shifted-3", .title = "the same; up to three changes a batch", .tasting = TASTE_BADLY,
	    .shift = { .step = 0.7 }, .hidden = 0.3,
	    .at_once = 3 },
};

struct sum { double n, removed, squares, spent, batches[BATCHES + 1], changes, seconds; };

/* Two loads removed, brewer by brewer: sums, squares, products. */
struct pair { double n, x, y, xx, yy, xy; };

/* Chances of a cause in the next batch, as the advice says them and as they are. */
static const double said_to[] = { 0.01, 0.03, 0.1, 0.2, 0.3, 0.5, 1 };
enum { SAID = sizeof said_to / sizeof *said_to };
struct said { double n, said, so; };

/* What was wrong in the end with what was begun. */
enum { PLACES_EMPTY, HABITS_WRONG, MONEY_LEFT, BOUGHT_WRONG, WRONGS, JUDGED = 3 };
static const char *const judged[JUDGED] = { "ours", "learner", "told-best" };

struct run {
	struct loop_read read;
	struct sum policy[POLICIES], oracle;      /* the policies, and behind them the bounds */
	double before, last_before;
	double wrong[JUDGED][WRONGS];
	struct said said[SAID], knew[SAID];       /* knew: the best learner, of the chances before any change */
	struct pair of_oracle, learner_of_oracle, of_learner;
	struct sum ahead[POLICIES]; /* removed: how much more of what the oracle removes ours took away than this
				     * one, brewer by brewer: who brews worst does not decide alone */
};

static void add(struct sum *sum, double removed)
{
	sum->n++;
	sum->removed += removed;
	sum->squares += removed * removed;
}

static void add_pair(struct pair *p, double x, double y)
{
	p->n++;
	p->x += x;
	p->y += y;
	p->xx += x * x;
	p->yy += y * y;
	p->xy += x * y;
}

static void note_said(struct said *said, double p, double is)
{
	size_t at = 0;

	while (at + 1 < SAID && p >= said_to[at])
		at++;
	said[at].n++;
	said[at].said += p;
	said[at].so += is;
}

static void hear_learner(struct said *said, const struct loop_brewer *b)
{
	for (size_t c = 0; c < b->world->truth->n_causes; c++)
		if (!b->world->truth->causes[c].benign && b->before[c] > 0)
			note_said(said, b->mean[c], b->chance[c]);
}

static void hear(struct said *said, struct loop_brewer *b)
{
	const struct ab_advice *advice = loop_advice(b);

	loop_load(b, NULL);
	for (size_t i = 0; i < advice->n_recurrences; i++) {
		const struct ab_recurrence *r = &advice->recurrences[i];
		if (!b->world->truth->causes[r->cause].benign && b->before[r->cause] > 0)
			note_said(said, r->p, b->now[r->cause]);
	}
}

/* One brewer's ten batches under one policy; the true load taken away in the end. said: the advice, knew: the
 * learner is asked; NULL = not. */
static double follow(struct sum *sum, struct loop_brewer *b, loop_policy *next, struct said *said, struct said *knew)
{
	double before = loop_load(b, NULL), load = before;

	sum->batches[0] += before;
	for (size_t i = 1; i <= b->world->batches; i++) {
		loop_brew(b);
		if (said != NULL)
			hear(said, b);
		for (size_t j = 0; j < b->world->at_once; j++) {
			int u = next(b);
			if (j == 0 && knew != NULL)
				hear_learner(knew, b);
			if (u < 0)
				break;
			loop_adopt(b, u);
			sum->changes++;
		}
		load = loop_load(b, NULL);
		sum->batches[i] += load;
	}
	add(sum, before - load);
	sum->spent += b->spent;
	return before - load;
}

static double follow_oracle(struct sum *sum, struct loop_brewer *b)
{
	unsigned char *plan = ab_arena_alloc(b->arena, b->world->k->n_changes, 1);

	if (plan == NULL)
		loop_give_up("oracle", "out of memory");
	loop_oracle(b, b->world->batches * b->world->at_once, plan);
	for (size_t u = 0; u < b->world->k->n_changes; u++)
		if (plan[u]) {
			sum->spent += b->world->k->changes[u].cost;
			sum->changes++;
		}
	double removed = loop_load(b, NULL) - loop_load(b, plan);
	add(sum, removed);
	return removed;
}

static size_t n_all(void)
{
	return n_loop_policies + n_loop_bounds;
}

static const struct loop_named *named(size_t p)
{
	return p < n_loop_policies ? &loop_policies[p] : &loop_bounds[p - n_loop_policies];
}

static size_t bound(const char *name)
{
	for (size_t p = n_loop_policies; p < n_all(); p++)
		if (strcmp(named(p)->name, name) == 0)
			return p;
	loop_give_up("no such bound", name);
}

/* ---- what was wrong with what was begun, by who knows the truth ---- */

static const char *const wrongs[] = { "habits not taken: places left empty", "habits not taken: others in their place",
	"purchases not made: money left", "money spent on the wrong things" };

/* What is left of the load with the best of `most` changes more; money: of what is not spent so much may be. */
static double filled(const struct loop_brewer *b, size_t most, bool money)
{
	struct loop_brewer other = *b;
	struct loop_world world = *b->world;
	unsigned char *plan = ab_arena_alloc(b->arena, world.k->n_changes, 1);

	if (plan == NULL)
		loop_give_up("oracle", "out of memory");
	world.budget = money ? world.budget : b->spent;
	other.world = &world;
	loop_oracle(&other, most, plan);
	return loop_load(b, plan);
}

/* Each step lets who knows the truth mend more of what was done: the places that were left empty, with free
 * changes; all free changes; more purchases, too; all. whole: load under the oracle. wrong: what each adds. */
static void find_wrongs(const struct loop_brewer *b, double whole, double *wrong)
{
	const struct ab_knowledge *k = b->world->k;
	struct loop_brewer purchases = *b;
	size_t places = b->world->batches * b->world->at_once, begun = 0, bought = 0;
	double left[WRONGS + 1] = { loop_load(b, NULL) };

	purchases.has = ab_arena_alloc(b->arena, k->n_changes, 1);
	if (purchases.has == NULL)
		loop_give_up("oracle", "out of memory");
	purchases.minutes = 0;
	for (size_t u = 0; u < k->n_changes; u++) {
		begun += b->has[u];
		purchases.has[u] = b->has[u] && k->changes[u].cost > 0;
		bought += purchases.has[u];
		purchases.minutes += purchases.has[u] ? k->changes[u].minutes : 0;
	}
	left[1] = fmin(left[0], filled(b, places - begun, false));
	left[2] = fmin(left[1], filled(&purchases, places - bought, false));
	left[3] = fmin(left[2], filled(&purchases, places - bought, true));
	left[4] = fmin(left[3], whole);
	for (size_t i = 0; i < WRONGS; i++)
		wrong[i] += left[i] - left[i + 1];
}

/* All policies meet the same person in the same world; luck follows the seed and the course of events. */
static void one_brewer(struct run *run, const struct loop_world *of, size_t i)
{
	const struct ab_fact *facts = run->read.facts[i % run->read.n_facts];
	unsigned long seed = 1000 + i;
	double first = 0, best = 0, learned = 0;

	for (size_t p = 0; p <= n_all(); p++) {
		struct ab_arena *arena = ab_arena_new();
		struct loop_world world = *of;
		if (arena == NULL)
			loop_give_up("brewer", "out of memory");
		world.told_causes = p > 0 && named(p - 1)->told_causes;
		world.asked = p > 0 && named(p - 1)->asked;
		struct loop_brewer *b = loop_begin(&world, facts, seed, run->read.scratch, arena);
		if (p == 0) {
			run->last_before = loop_load(b, NULL);
			run->before += run->last_before;
			best = follow_oracle(&run->oracle, b);
		} else {
			double removed = follow(&run->policy[p - 1], b, named(p - 1)->next, p == 1 ? run->said : NULL,
			    p - 1 == bound("learner") ? run->knew : NULL);
			first = p == 1 ? removed : first;
			learned = p - 1 == bound("learner") ? removed : learned;
			for (size_t w = 0; w < JUDGED; w++)
				if (strcmp(named(p - 1)->name, judged[w]) == 0)
					find_wrongs(b, run->last_before - best, run->wrong[w]);
			if (best > 0)
				add(&run->ahead[p - 1], (first - removed) / best);
		}
		gsl_rng_free(b->rng);
		ab_arena_free(arena);
	}
	add_pair(&run->of_oracle, first, best);
	add_pair(&run->learner_of_oracle, learned, best);
	add_pair(&run->of_learner, first, learned);
}

/* shift: how this brewer's world differs from the rules, drawn for each anew. */
static void one_in_a_world(struct run *run, const struct loop_world *of, const struct shift *shift, size_t i)
{
	struct ab_arena *arena = ab_arena_new();
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
	struct loop_world world = *of;

	if (arena == NULL || rng == NULL)
		loop_give_up("world", "out of memory");
	gsl_rng_set(rng, 7 + i);
	world.truth = brewers_shift(world.k, shift, rng, arena);
	one_brewer(run, &world, i);
	gsl_rng_free(rng);
	ab_arena_free(arena);
}

static double two_errors(double n, double sum, double squares)
{
	double mean = sum / n;

	return n > 1 ? 2 * sqrt(fmax(0, squares / n - mean * mean) / (n - 1)) : INFINITY;
}

static void print_sum(
    const char *world, const char *name, const char *title, const struct sum *s, const struct sum *oracle)
{
	double mean = s->removed / s->n, share = s->removed / oracle->removed;

	printf("  %-46s %6.3f +- %.3f  %5.1f %%  %6.1f  %5.1f  %8.2f\n", title, mean,
	    two_errors(s->n, s->removed, s->squares), 100 * share, s->spent / s->n, s->changes / s->n,
	    s->spent > 0 ? 100 * s->removed / s->spent : INFINITY);
	printf("loop\t%s\t%s\t%.0f\t%.6f\t%.6f\t%.6f\t%.4f\n", world, name, s->n, mean,
	    two_errors(s->n, s->removed, s->squares), share, s->spent / s->n);
}

static void print_ahead(const char *world, const char *name, const struct sum *s)
{
	printf("  ours ahead of %-10s by %5.1f +- %.1f %% of what the oracle removes, brewer by brewer\n", name,
	    100 * s->removed / s->n, 100 * two_errors(s->n, s->removed, s->squares));
	printf("ahead\t%s\t%s\t%.6f\t%.6f\n", world, name, s->removed / s->n, two_errors(s->n, s->removed, s->squares));
}

static void print_bound(const char *world, const char *name, const struct sum *s)
{
	printf("  ours behind who %-9s by %5.1f +- %.1f %% of what the oracle removes, brewer by brewer\n", name,
	    -100 * s->removed / s->n, 100 * two_errors(s->n, s->removed, s->squares));
	printf("bound\t%s\t%s\t%.6f\t%.6f\n", world, name, -s->removed / s->n,
	    two_errors(s->n, s->removed, s->squares));
}

/* What of the oracle's whole work is done after so many batches. */
static double share_at(const struct run *run, size_t p, int batch)
{
	return (run->policy[p].batches[0] - run->policy[p].batches[batch]) / run->oracle.removed;
}

static void print_course(const struct run *run)
{
	printf("  taken away, batch by batch, in %% of what the oracle takes away in the end:\n");
	for (size_t p = 0; p < n_all(); p++) {
		printf("    %-10s", named(p)->name);
		for (int i = 1; i <= BATCHES; i++)
			printf(" %5.1f", 100 * share_at(run, p, i));
		printf("\n");
	}
}

/* Each step from who knows everything towards us gives something up; together with what is taken away they make the
 * whole. */
static void print_lost(const char *world, const struct run *run)
{
	const size_t at[] = { bound("knowing"), bound("told-best"), bound("learner"), bound("said"), 0 };
	static const char *const why[] = { "few changes a batch", "not brewed before", "tastings tell no more",
		"ours: what it believes", "ours: what it plans" };

	printf("  where the rest goes, batch by batch, in %% of the same (6 to 10: their mean):\n");
	for (size_t w = 0; w < sizeof why / sizeof *why; w++) {
		double late = 0;
		printf("    %-22s", why[w]);
		for (int i = 1; i <= BATCHES; i++) {
			double lost = (w == 0 ? 1 : share_at(run, at[w - 1], i)) - share_at(run, at[w], i);
			late += i >= LATE ? lost / (BATCHES - LATE + 1) : 0;
			printf(" %5.1f", 100 * lost);
		}
		printf("  6 to 10: %5.1f\n", 100 * late);
		printf("lost\t%s\t%s\t%.6f\t%.6f\n", world, why[w],
		    (w == 0 ? 1 : share_at(run, at[w - 1], BATCHES)) - share_at(run, at[w], BATCHES), late);
	}
}

static void print_wrongs(const struct run *run)
{
	printf("  what who knows the truth would mend in the end, in %% of the same: %13s", "");
	for (size_t i = 0; i < JUDGED; i++)
		printf(" %10s", judged[i]);
	for (size_t w = 0; w < WRONGS; w++) {
		printf("\n    %-75s", wrongs[w]);
		for (size_t i = 0; i < JUDGED; i++)
			printf(" %10.1f", 100 * run->wrong[i][w] / run->oracle.removed);
	}
	printf("\n");
}

/* One sum by another over the same brewers, and twice the error of that, by its residuals (ratio estimator; Cochran
 * 1977, Sampling Techniques). */
static double share_of(const struct pair *p, double *error)
{
	double share = p->x / p->y, rest = p->xx - 2 * share * p->xy + share * share * p->yy;

	*error = p->n > 1 ? 2 * sqrt(fmax(0, rest) * p->n / (p->n - 1)) / p->y : INFINITY;
	return share;
}

static void print_share(const char *world, const char *name, const char *title, const struct pair *p)
{
	double error, share = share_of(p, &error);

	printf("  %s: %.1f +- %.1f %%\n", title, 100 * share, 100 * error);
	printf("share\t%s\t%s\t%.6f\t%.6f\n", world, name, share, error);
}

/* Can the aim be reached at all by who must learn? */
static void print_reach(const struct pair *learner)
{
	double error, share = share_of(learner, &error);

	printf("  nine tenths of what the oracle takes away: %s\n",
	    share + error < 0.9       ? "out of reach even for the best learner"
		: share - error > 0.9 ? "the best learner reaches it"
				      : "the best learner comes as near as its error");
}

static void print_said(const char *world, const char *tag, const char *title, const struct said *said)
{
	printf("  %s:\n", title);
	for (size_t i = 0; i < SAID; i++)
		if (said[i].n > 0) {
			printf("    below %.2f: %6.0f times, said %.4f, so %.4f\n", said_to[i], said[i].n,
			    said[i].said / said[i].n, said[i].so / said[i].n);
			printf("%s\t%s\t%.0f\t%.6f\t%.6f\n", tag, world, said[i].n, said[i].said / said[i].n,
			    said[i].so / said[i].n);
		}
}

static void one_world(struct run *run, const struct sim *sim, size_t first, size_t brewers)
{
	const struct loop_world world = { .k = run->read.k,
		.tasting = sim->tasting,
		.hidden = sim->hidden,
		.budget = 120,
		.minutes = 45,
		.batches = BATCHES,
		.at_once = sim->at_once };
	memset(run->policy, 0, sizeof run->policy);
	memset(run->said, 0, sizeof run->said);
	memset(run->knew, 0, sizeof run->knew);
	memset(run->wrong, 0, sizeof run->wrong);
	run->of_oracle = run->learner_of_oracle = run->of_learner = (struct pair){ 0 };
	memset(run->ahead, 0, sizeof run->ahead);
	run->oracle = (struct sum){ 0 };
	run->before = 0;
	for (size_t i = 0; i < brewers; i++)
		one_in_a_world(run, &world, &sim->shift, first + i);
	printf(
	    "\n%s: %s\n  %zu brewers, %d batches, %.0f of money, %.0f minutes more a batch; true load before %.3f\n",
	    sim->name, sim->title, brewers, BATCHES, world.budget, world.minutes, run->before / (double)brewers);
	printf("  %-46s %15s  %7s  %6s  %5s  %8s\n", "policy", "load removed", "oracle", "spent", "begun", "per 100");
	print_sum(sim->name, "oracle", "an oracle that knows the truth", &run->oracle, &run->oracle);
	for (size_t p = 0; p < n_all(); p++)
		print_sum(sim->name, named(p)->name, named(p)->title, &run->policy[p], &run->oracle);
	for (size_t p = 1; p < n_all(); p++)
		(p < n_loop_policies ? print_ahead : print_bound)(sim->name, named(p)->name, &run->ahead[p]);
	print_course(run);
	print_lost(sim->name, run);
	print_wrongs(run);
	print_share(sim->name, "oracle", "ours, of what the oracle takes away", &run->of_oracle);
	print_share(sim->name, "attainable", "the best that a learner could do, of the same", &run->learner_of_oracle);
	print_share(sim->name, "learner", "ours, of what the best learner takes away", &run->of_learner);
	print_reach(&run->learner_of_oracle);
	print_said(sim->name, "said", "chance of a cause in the next batch, as ours says it and as it is", run->said);
	print_said(sim->name, "knew",
	    "chance of a cause before any change, as the best learner says it and as it is", run->knew);
	fflush(stdout);
}

int main(int argc, char **argv)
{
	static struct run run;
	struct ab_arena *arena = ab_arena_new();

	if (argc < 4 || arena == NULL || n_all() > POLICIES)
		loop_give_up("usage", "run_loop RULES-DIR BREWERS[@FIRST] JOURNAL...");
	const char *first = strchr(argv[2], '@');
	loop_read(&run.read, argv[1], argv + 3, (size_t)argc - 3, arena);
	for (size_t i = 0; i < sizeof sims / sizeof *sims; i++)
		one_world(&run, &sims[i], (size_t)strtoul(first != NULL ? first + 1 : "0", NULL, 10),
		    (size_t)atoi(argv[2]));
	ab_net_scratch_free(run.read.scratch);
	ab_arena_free(arena);
	return 0;
}
