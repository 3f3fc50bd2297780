/* folds.c - are the rules fitted to the stories? Groups apart, and cross-validation of what could be refitted
 *
 * No number of the rules was fitted to stories by machine, so leaving stories out changes none of them; what can be
 * tried is what a fit would do. Four numbers scale the rules as a whole: log ratios of signs times a factor, log
 * odds of priors drawn towards their mean, links and leaks moved in logit. They are chosen on all groups but one
 * (mean log of the blame of the settled cause), then judged on that group: the figure for stories not seen by the
 * fit. Groups: by the stage of the settled cause, so that no neighbour of a story takes part in its fit
 * (leave-one-group-out: Arlot & Celisse 2010, Stat. Surv. 4). When the rules as written do as well as the fit, they
 * owe nothing to it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "stories.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/redraw.h>

static const double signs[] = { 1, 0.5, 0.75, 1.5, 2 }, priors[] = { 1, 0.5, 1.5 }, links[] = { 0, -0.7, 0.7 },
		    leaks[] = { 0, -1, 1, -2 };
enum { SIGNS = 5, PRIORS = 3, LINKS = 3, LEAKS = 4, FITS = SIGNS * PRIORS * LINKS * LEAKS, GROUPS = 32 };
static const double LEAST = 0.005;   /* blame of what is not given at all */

/* What came of one story under one fit. */
struct outcome { double log_blame; int rank; };

struct folds {
	struct run *run;
	struct ab_case *worked[STORIES];
	struct outcome (*of)[STORIES];   /* [fit][story]; fit 0 = the rules as written */
};

static void *room(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_alloc(arena, n + 1, size);

	if (p == NULL)
		stories_give_up("folds", "out of memory");
	return p;
}

static void *copy(struct ab_arena *arena, const void *from, size_t n, size_t size)
{
	void *to = room(arena, n, size);

	if (n > 0)
		memcpy(to, from, n * size);
	return to;
}

/* ---- rules scaled as a whole ---- */

struct fit { double signs, priors, links, leaks; };

static struct fit fit_of(int i)
{
	return (struct fit){ signs[i % SIGNS], priors[i / SIGNS % PRIORS], links[i / (SIGNS * PRIORS) % LINKS],
	    leaks[i / (SIGNS * PRIORS * LINKS)] };
}

static double logit(double p)
{
	return log(p / (1 - p));
}

static double mean_odds(const struct ab_knowledge *k)
{
	double sum = 0;

	for (size_t i = 0; i < k->n_causes; i++)
		sum += logit(k->causes[i].priors[0].p) / (double)k->n_causes;
	return sum;
}

static void move_tail(double *tail, double by)
{
	for (int g = 1; g < AB_GRADES; g++)
		tail[g] = fmin(ab_logit_move(tail[g], by), tail[g - 1]);
}

static void scale_cause(struct ab_cause *c, const struct fit *fit, double mean, struct ab_arena *arena)
{
	c->priors = copy(arena, c->priors, c->n_priors, sizeof *c->priors);
	c->signs = copy(arena, c->signs, c->n_signs, sizeof *c->signs);
	c->links = copy(arena, c->links, c->n_links, sizeof *c->links);
	for (size_t i = 0; i < c->n_priors; i++)
		c->priors[i].p = 1 / (1 + exp(-(mean + fit->priors * (logit(c->priors[i].p) - mean))));
	for (size_t i = 0; i < c->n_signs; i++) {
		for (size_t j = 0; j < AB_CURVE_POINTS; j++)
			c->signs[i].log_ratio[j] *= fit->signs;
		for (size_t j = 0; j < AB_WORDS; j++)
			c->signs[i].word_log_ratio[j] *= fit->signs;
	}
	for (size_t i = 0; i < c->n_links; i++)
		move_tail(c->links[i].tail, fit->links);
}

static const struct ab_knowledge *scale(const struct ab_knowledge *k, const struct fit *fit, struct ab_arena *arena)
{
	struct ab_knowledge *other = copy(arena, k, 1, sizeof *k);

	other->causes = copy(arena, k->causes, k->n_causes, sizeof *k->causes);
	other->faults = copy(arena, k->faults, k->n_faults, sizeof *k->faults);
	for (size_t i = 0; i < k->n_causes; i++)
		scale_cause(&other->causes[i], fit, mean_odds(k), arena);
	for (size_t f = 0; f < k->n_faults; f++) {
		struct ab_fault *fault = &other->faults[f];
		fault->leaks = copy(arena, fault->leaks, fault->n_leaks, sizeof *fault->leaks);
		for (size_t i = 0; i < fault->n_leaks; i++)
			move_tail(fault->leaks[i].tail, fit->leaks);
	}
	struct ab_diag diag;
	ab_diag_init(&diag);
	if (ab_knowledge_settle(other, arena, &diag) != AB_OK) {
		printf("folds: %s\n", diag.text);
		exit(1);
	}
	return other;
}

/* ---- outcomes ---- */

static bool accepted(const struct story *s, int cause)
{
	for (size_t i = 0; i < s->n_accept; i++)
		if (s->accept[i] == cause)
			return true;
	return false;
}

static struct outcome judge(struct run *run, const struct story *s, const struct ab_knowledge *k,
    const struct ab_case *c, struct ab_arena *arena)
{
	struct ab_diagnose_options options = { .redraws = 0 };
	struct outcome o = { log(LEAST), DEEP };
	struct ab_diagnosis *d;

	if (ab_diagnose(k, c->facts, &c->evidence, &options, arena, &d, &run->diag) != AB_OK)
		stories_give_up(s->id, run->diag.text);
	for (size_t i = 0; i < d->n_suspects; i++)
		if (accepted(s, d->suspects[i].cause)) {
			o.rank = o.rank == DEEP ? (int)i + 1 : o.rank;
			o.log_blame = fmax(o.log_blame, log(d->suspects[i].blame));
		}
	return o;
}

static void try_all(struct folds *folds)
{
	for (int i = 0; i < FITS; i++) {
		struct ab_arena *arena = ab_arena_new();
		struct fit fit = fit_of(i);
		const struct ab_knowledge *k = scale(folds->run->k, &fit, arena);
		for (size_t s = 0; s < folds->run->n; s++)
			folds->of[i][s] = judge(folds->run, &folds->run->story[s], k, folds->worked[s], arena);
		ab_arena_free(arena);
	}
}

/* ---- groups ---- */

static int group_of(const struct run *run, size_t story)
{
	return run->k->causes[run->story[story].main].stage;
}

/* The fit with the best mean log blame over all stories but those of one group. */
static int best_without(const struct folds *folds, int group)
{
	double most = -INFINITY;
	int best = 0;

	for (int i = 0; i < FITS; i++) {
		double sum = 0;
		for (size_t s = 0; s < folds->run->n; s++)
			sum += group_of(folds->run, s) != group ? folds->of[i][s].log_blame : 0;
		if (sum > most) {
			most = sum;
			best = i;
		}
	}
	return best;
}

struct tally { int n, first, three, five; double log_blame; };

static void tally_add(struct tally *t, const struct outcome *o)
{
	t->n++;
	t->first += o->rank <= 1;
	t->three += o->rank <= 3;
	t->five += o->rank <= 5;
	t->log_blame += o->log_blame;
}

static void print_tally(const char *what, const struct tally *t)
{
	printf("%-28s %2d ", what, t->n);
	stories_print_share(t->first, t->n);
	stories_print_share(t->three, t->n);
	stories_print_share(t->five, t->n);
	printf("  mean log blame %.3f\n", t->log_blame / t->n);
}

static void print_group(const struct folds *folds, int group, struct tally *written, struct tally *refitted)
{
	struct tally here = { 0 }, fitted = { 0 };
	int best = best_without(folds, group);
	struct fit fit = fit_of(best);

	for (size_t s = 0; s < folds->run->n; s++)
		if (group_of(folds->run, s) == group) {
			tally_add(&here, &folds->of[0][s]);
			tally_add(&fitted, &folds->of[best][s]);
			tally_add(written, &folds->of[0][s]);
			tally_add(refitted, &folds->of[best][s]);
		}
	if (here.n == 0)
		return;
	printf(
	    "%-11s %2d  as written %2d %2d %2d; signs x %.2f, priors x %.2f, links %+.1f, leaks %+.1f: %2d %2d %2d\n",
	    ab_words_stage[group], here.n, here.first, here.three, here.five, fit.signs, fit.priors, fit.links,
	    fit.leaks, fitted.first, fitted.three, fitted.five);
}

static void print_side(const struct folds *folds, enum ab_side side, bool benign, const char *what)
{
	struct tally t = { 0 };

	for (size_t s = 0; s < folds->run->n; s++) {
		const struct ab_cause *main = &folds->run->k->causes[folds->run->story[s].main];
		if (main->benign == benign && (benign || main->side == side))
			tally_add(&t, &folds->of[0][s]);
	}
	if (t.n > 0)
		print_tally(what, &t);
}

void folds_print(struct run *run)
{
	struct ab_arena *arena = ab_arena_new();
	struct folds folds = { run, { NULL }, room(arena, FITS, sizeof *folds.of) };
	struct tally written = { 0 }, refitted = { 0 };

	run->arena = arena;
	for (size_t s = 0; s < run->n; s++)
		folds.worked[s] = stories_work(run, &run->story[s]);
	try_all(&folds);
	printf("\nby kind: settled cause first, in three, in five\n");
	print_side(&folds, AB_SIDE_COLD, false, "cold side");
	print_side(&folds, AB_SIDE_HOT, false, "hot side");
	print_side(&folds, AB_SIDE_COLD, true, "nothing wrong");
	printf(
	    "\nby stage of the settled cause: first, in three, in five as written; with what a fit to the other "
	    "groups makes of the rules\n");
	for (int group = 0; ab_words_stage[group] != NULL; group++)
		print_group(&folds, group, &written, &refitted);
	print_tally("as written", &written);
	print_tally("refitted on other groups", &refitted);
	printf("fold\twritten\t%d\t%d\t%d\t%d\t%.4f\n", written.n, written.first, written.three, written.five,
	    written.log_blame / written.n);
	printf("fold\trefitted\t%d\t%d\t%d\t%d\t%.4f\n", refitted.n, refitted.first, refitted.three, refitted.five,
	    refitted.log_blame / refitted.n);
	ab_arena_free(arena);
}
