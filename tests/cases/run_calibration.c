/* run_calibration.c - are things so as often as the program says? Brewers simulated from the rules, diagnosed,
 * compared with the truth
 *
 * run_calibration RULES-DIR JOURNAL... (each brewer has the facts of one of the journals). Prints tables, and lines
 * for programs that begin with sum, range or word. Reliability in ten bins: Murphy 1977 (J. R. Stat. Soc. C 26);
 * expected calibration error: the mean over all answers of |said - was| of their bin.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_math.h>

#include <afterboil/casework.h>

#include "brewers.h"

enum { BINS = 10, WORDS = AB_LIKELY_WORDS, REDRAWS = 60 };

/* One step of the scale on which strengths are rated, in logit (ranges.c). */
#define STEP 0.85

/* Who brews, who tastes, who diagnoses. */
struct sim {
	const char *name, *title;
	enum tasting tasting;
	struct shift world, program;
	double hidden;              /* share of known facts that the program is not told */
	size_t brews, with_ranges;  /* of which the first are diagnosed with ranges */
};

static const struct sim sims[] = {
	{ .name = "itself", .title = "from the rules themselves; some faults looked for, nothing missed",
	    .tasting = TASTE_SOME,
	    .brews = 8000, .with_ranges = 2000 },
	{ .name = "doubled", .title = "the same, diagnosed with all prior odds doubled (must be noticed)",
	    .tasting = TASTE_SOME,
	    .program = { .odds = M_LN2 }, .brews = 8000 },
	{ .name = "complete", .title = "from the rules; complete tastings, 0.4 of each contribution noticed",
	    .tasting = TASTE_COMPLETE,
	    .brews = 3000, .with_ranges = 2000 },
	{ .name = "links", .title = "estimated links and leaks one step (0.85 logit) off, each up or down",
	    .tasting = TASTE_SOME,
	    .world = { .links = STEP }, .brews = 2000, .with_ranges = 2000 },
	{ .name = "priors", .title = "estimated priors one step off", .tasting = TASTE_SOME,
	    .world = { .priors = STEP }, .brews = 2000, .with_ranges = 2000 },
	{ .name = "both", .title = "links, leaks and priors one step off, signs by a quarter", .tasting = TASTE_SOME,
	    .world = { .step = STEP, .sign_share = 0.25 }, .brews = 2000, .with_ranges = 2000 },
	{ .name = "together", .title = "all links and leaks stronger or weaker together, by one step",
	    .tasting = TASTE_SOME,
	    .world = { .together = STEP }, .brews = 2000, .with_ranges = 2000 },
	{ .name = "careless",
	    .title = "causes of one stage hang together: their odds rise and fall by 1 logit, batch by batch",
	.tasting = TASTE_SOME,
	    .world = { .stages = 1 }, .brews = 2000, .with_ranges = 2000 },
	{ .name = "shifted", .title = "estimates 0.7 logit off, 30 % missed, 10 % mistaken, 30 % of facts hidden",
	    .tasting = TASTE_BADLY,
	    .world = { .step = 0.7 }, .hidden = 0.3, .brews = 3000, .with_ranges = 2000 },
	/* the errors that ranges.c allows for */
	{ .name = "allowed", .title = "estimates off by what the ranges allow for; tasted as \"itself\"",
	    .tasting = TASTE_SOME,
	    .world = { .sd = 0.8, .sign_share = 0.25 }, .brews = 2000, .with_ranges = 2000 },
};
enum { SIMS = sizeof sims / sizeof *sims };

struct bin { double n, said, was, variance, of_brew, squares; };
struct score {
	struct bin bin[BINS];
	double n, brier, brier_alone, was;
};
struct word_count { double n, present, blamed; };

struct run {
	const struct ab_knowledge *k;
	struct ab_fact **facts; size_t n_facts;
	gsl_rng *rng;
	struct ab_net_scratch *scratch;
	const struct sim *sim;
	struct score present, blame;
	struct word_count word[WORDS], word_all[WORDS];   /* of one simulation, of all */
	double ranged, inside, below, found;
	size_t brews, too_wide, impossible;
};

static _Noreturn void give_up(const char *what, const char *why)
{
	printf("run_calibration: %s: %s\n", what, why);
	exit(1);
}

/* ---- facts ---- */

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static void add_facts(struct run *run, const struct ab_batch *batch, struct ab_arena *arena)
{
	struct ab_fact *facts = ab_arena_alloc(arena, run->k->facts->n, sizeof *facts);
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (facts == NULL || ab_facts_compute(batch, NULL, &run->k->norms, arena, facts, &diag) != AB_OK)
		give_up("facts", diag.text);
	run->facts[run->n_facts++] = facts;
}

static void read_journals(struct run *run, char **paths, size_t n, struct ab_arena *arena)
{
	for (size_t i = 0; i < n; i++) {
		struct ab_batch *batch = NULL;
		struct ab_diag diag;
		ab_diag_init(&diag);
		if (ab_journal_read_file(paths[i], arena, keep, &batch, &diag) != AB_OK || batch == NULL)
			give_up(paths[i], diag.text);
		add_facts(run, batch, arena);
	}
}

static struct ab_fact *hide_facts(const struct run *run, const struct ab_fact *facts, struct ab_arena *arena)
{
	struct ab_fact *told = ab_arena_alloc(arena, run->k->facts->n, sizeof *told);

	if (told == NULL)
		give_up("facts", "out of memory");
	for (size_t i = 0; i < run->k->facts->n; i++)
		if (gsl_rng_uniform(run->rng) >= run->sim->hidden)
			told[i] = facts[i];
	return told;
}

/* ---- scores ---- */

static void score_add(struct score *s, double said, double alone, bool was)
{
	struct bin *b = &s->bin[GSL_MIN((int)(said * BINS), BINS - 1)];

	s->n++;
	s->was += was;
	s->brier += (said - was) * (said - was);
	s->brier_alone += (alone - was) * (alone - was);
	b->n++;
	b->said += said;
	b->was += was;
	b->variance += said * (1 - said);
	b->of_brew += was - said;
}

/* Causes of one batch hang together; batches do not: the error of a bin is reckoned from the sums of batches. */
static void score_close_brew(struct score *s)
{
	for (int i = 0; i < BINS; i++) {
		s->bin[i].squares += s->bin[i].of_brew * s->bin[i].of_brew;
		s->bin[i].of_brew = 0;
	}
}

/* Standard error of a bin's sum of (was - said) when all that is said is right. */
static double bin_error(const struct bin *b)
{
	return sqrt(fmax(b->squares, b->variance));
}

/* Expected calibration error of answers that are right: each bin's |sum| is half-normal with mean sqrt(2/pi) e and
 * deviation sqrt(1 - 2/pi) e. The bound is the mean of their sum and three deviations, as large as they can be: all
 * bins erring together. */
static double ece(const struct score *s, double *bound)
{
	double sum = 0, errors = 0;

	for (int i = 0; i < BINS; i++) {
		sum += fabs(s->bin[i].was - s->bin[i].said);
		errors += bin_error(&s->bin[i]);
	}
	*bound = (sqrt(2 / M_PI) + 3 * sqrt(1 - 2 / M_PI)) * errors / s->n;
	return sum / s->n;
}

static void print_score(const struct run *run, const char *what, const struct score *s)
{
	double bound, error = ece(s, &bound), share = s->was / s->n;

	printf("\n%s, %s: %s\n  bin         count    said     was   errors off\n", run->sim->name, what,
	    run->sim->title);
	for (int i = 0; i < BINS; i++) {
		const struct bin *b = &s->bin[i];
		if (b->n > 0)
			printf("  %.1f-%.1f  %9.0f  %6.4f  %6.4f  %+6.1f\n", i / 10.0, (i + 1) / 10.0, b->n,
			    b->said / b->n, b->was / b->n, (b->was - b->said) / bin_error(b));
	}
	printf("  Brier %.5f (prior %.5f, one share for all %.5f); calibration error %.5f, bound %.5f\n",
	    s->brier / s->n, s->brier_alone / s->n, share * (1 - share), error, bound);
	printf("sum\t%s\t%s\t%.0f\t%.6f\t%.6f\t%.6f\t%.6f\t%.6f\n", run->sim->name, what, s->n, error, bound,
	    s->brier / s->n, s->brier_alone / s->n, share * (1 - share));
}

/* ---- one batch ---- */

/* NULL: more faults at once than the program takes, or the rules of the program say it cannot be. */
static struct ab_diagnosis *diagnose(struct run *run, const struct ab_knowledge *k, const struct ab_fact *facts,
    const struct brew *brew, size_t redraws, struct ab_arena *arena)
{
	struct ab_evidence evidence = { brew->finding, NULL, -1, false };
	struct ab_diagnose_options options = { .redraws = redraws, .seed = run->brews + 1, .scratch = run->scratch };
	struct ab_diagnosis *d = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	enum ab_status st = ab_diagnose(k, facts, &evidence, &options, arena, &d, &diag);
	run->too_wide += st == AB_ELIMIT;
	run->impossible += st == AB_EIMPOSSIBLE;
	if (st != AB_OK && st != AB_ELIMIT && st != AB_EIMPOSSIBLE)
		give_up("diagnosis", diag.text);
	return st == AB_OK ? d : NULL;
}

static void count_words(struct run *run, const struct ab_diagnosis *d, const struct brew *brew)
{
	for (size_t i = 0; i < d->n_suspects; i++) {
		const struct ab_suspect *s = &d->suspects[i];
		const char *word = ab_likely_word(s->blame, s->blame_low, s->blame_high);
		int w = 0;
		while (w + 1 < WORDS && strcmp(ab_likely_words[w].word, word) != 0)
			w++;
		run->word[w].n++;
		run->word[w].present += brew->active[s->cause];
		run->word[w].blamed += brew->to_blame[s->cause];
	}
}

/* The truth is what the rules of the brewer's world make of the same facts and findings. */
static void count_ranges(struct run *run, const struct ab_diagnosis *d, const struct ab_diagnosis *truth)
{
	for (size_t i = 0; truth != NULL && i < d->n_suspects; i++) {
		const struct ab_suspect *s = &d->suspects[i];
		double blame = truth->blame[s->cause];
		if (s->blame < 0.05)
			continue;
		run->ranged++;
		run->below += blame < s->blame_low;
		run->inside += blame >= s->blame_low && blame <= s->blame_high;
	}
}

static void brew_one(struct run *run, const struct ab_knowledge *program)
{
	struct ab_arena *arena = ab_arena_new();
	const struct sim *sim = run->sim;
	const struct ab_knowledge *world = brewers_shift(run->k, &sim->world, run->rng, arena);
	const struct ab_fact *facts = run->facts[gsl_rng_uniform_int(run->rng, run->n_facts)];
	const struct brew *brew = brewers_brew(world, facts, sim->tasting, run->rng, arena);
	const struct ab_fact *told = hide_facts(run, facts, arena);
	bool ranges = run->brews < sim->with_ranges;
	struct ab_diagnosis *d =
	    brew->n_found == 0 ? NULL : diagnose(run, program, told, brew, ranges ? REDRAWS : 0, arena);

	for (size_t c = 0; d != NULL && c < run->k->n_causes; c++) {
		score_add(&run->present, d->present[c], d->alone[c], brew->active[c]);
		score_add(&run->blame, d->blame[c], d->alone[c], brew->to_blame[c]);
	}
	score_close_brew(&run->present);
	score_close_brew(&run->blame);
	if (d != NULL && ranges) {
		count_words(run, d, brew);
		count_ranges(run, d, diagnose(run, world, told, brew, 0, arena));
	}
	run->brews += d != NULL;
	run->found += d != NULL ? (double)brew->n_found : 0;
	ab_arena_free(arena);
}

/* ---- one simulation ---- */

/* Of the causes called so, the share to blame beside the share promised; the error is that of a share, every answer
 * counted for itself. */
static void print_words(const char *name, const struct word_count *word)
{
	printf("\n%s, words: of the causes called so, present, to blame (promised)\n", name);
	for (int w = 0; w < WORDS; w++) {
		const struct ab_likely *likely = &ab_likely_words[w];
		double n = fmax(word[w].n, 1), blamed = word[w].blamed / n,
		       error = sqrt(fmax(blamed * (1 - blamed), 0.25 / n) / n);
		printf("  %-16s  %6.0f  present %.3f  to blame %.3f +- %.3f (%.1f to %.1f)\n", likely->word,
		    word[w].n, word[w].present / n, blamed, error, likely->least, likely->most);
		printf("word\t%s\t%s\t%.0f\t%.4f\t%.4f\t%.4f\t%.2f\t%.2f\n", name, likely->word, word[w].n,
		    word[w].present / n, blamed, error, likely->least, likely->most);
	}
}

static void simulate(struct run *run, const struct sim *sim)
{
	struct ab_arena *arena = ab_arena_new();

	run->sim = sim;
	run->brews = run->too_wide = run->impossible = 0;
	run->ranged = run->inside = run->below = run->found = 0;
	memset(&run->present, 0, sizeof run->present);
	memset(&run->blame, 0, sizeof run->blame);
	memset(run->word, 0, sizeof run->word);
	gsl_rng_set(run->rng, 20310307);
	const struct ab_knowledge *program = brewers_shift(run->k, &sim->program, run->rng, arena);
	for (size_t tries = 0; run->brews < sim->brews && tries < 10 * sim->brews; tries++)
		brew_one(run, program);
	printf("\n%s: %zu batches with faults found, %.1f a batch; left out: %zu too wide, %zu impossible\n",
	    sim->name, run->brews, run->found / (double)run->brews, run->too_wide, run->impossible);
	print_score(run, "present", &run->present);
	print_score(run, "blame", &run->blame);
	if (sim->with_ranges > 0) {
		print_words(sim->name, run->word);
		for (int w = 0; w < WORDS; w++) {
			run->word_all[w].n += run->word[w].n;
			run->word_all[w].present += run->word[w].present;
			run->word_all[w].blamed += run->word[w].blamed;
		}
		printf("\n%s, likely ranges: %.0f with blame >= 0.05; the truth inside %.1f %%, below %.1f %%\n",
		    sim->name, run->ranged, 100 * run->inside / run->ranged, 100 * run->below / run->ranged);
		printf("range\t%s\t%.0f\t%.4f\n", sim->name, run->ranged, run->inside / run->ranged);
	}
	ab_arena_free(arena);
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
	if (ab_knowledge_read((const char *const[]){ argv[1] }, 1, ab_fact_defs(), ab_casework_vocabulary(), arena,
		&k, &diag) != AB_OK)
		give_up(argv[1], diag.text);
	run.k = k;
	run.facts = ab_arena_alloc(arena, (size_t)argc, sizeof *run.facts);
	if (run.facts == NULL || run.scratch == NULL)
		give_up("facts", "out of memory");
	read_journals(&run, argv + 2, (size_t)argc - 2, arena);
	printf("%zu causes, %zu faults, facts of %zu journals\n", k->n_causes, k->n_faults, run.n_facts);
	for (int i = 0; i < SIMS; i++)
		simulate(&run, &sims[i]);
	print_words("all", run.word_all);
	ab_net_scratch_free(run.scratch);
	gsl_rng_free(run.rng);
	ab_arena_free(arena);
	return 0;
}
