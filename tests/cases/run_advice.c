/* run_advice.c - real set-ups put to the adviser: how often what helped comes first or among the first three, and
 * what was advised against, beside the order guides usually give and the order people usually buy in
 *
 * run_advice RULES-DIR CASES-DIR ANSWERS. A case is a profile and, where there was a beer, a journal; it is worked
 * as `afterboil advise` works it. A place in a usual order may be met by several changes: it is counted once by the
 * first of them not owned and once by any. Counts have Wilson's interval (JASA 22, 1927), shares weighted by how
 * firm the advice is one by bootstrap over the cases (Efron 1979).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/advice.h>

enum { CASES = 200, IDS = 16, MAPS = 300, PLACES = 40, THREE = 3, RESAMPLES = 2000, TEXT = 400 };
enum { OURS, GUIDES, GUIDES_ANY, SHOPS, METHODS };
enum { FIRST, IN_THREE, THEIR_FIRST, AGAINST, SCORES };
/* "Changes": whatever costs money at once; that nothing is to be done. */
enum { BUYS = -2, NOTHING = -3 };

static const char *const methods[METHODS] = { "afterboil", "guides", "guides, any", "shops" };
static const char *const scores[SCORES] = { "first", "in-three", "their-first-in-three", "against-in-three" };
static const struct { const char *word; double weight; } levels[] = {
	{ "experience", 1 }, { "accepted", 0.8 }, { "consensus", 0.8 }, { "opinion", 0.4 } };

struct ids { int id[IDS]; size_t n; };
/* order: 'A' or 'B' */
struct place { char order; struct ids changes; };
struct map { char word[64]; struct ids changes; };

struct told {
	char id[32], tags[160], recommended[TEXT], against_words[TEXT];
	double weight;
	struct ids wanted, leading, against;  /* leading: what their first recommendation means */
	bool hit[METHODS][SCORES];
	char given[TEXT];                     /* our first three, for reading */
};

struct run {
	const struct ab_knowledge *k;
	const char *cases;
	struct ab_diag diag;
	struct told told[CASES]; size_t n;
	struct map map[MAPS]; size_t n_maps;
	struct place place[PLACES]; size_t n_places;
	gsl_rng *rng;
};

static _Noreturn void give_up(const char *what, const char *why)
{
	printf("run_advice: %s: %s\n", what, why);
	exit(1);
}

static _Noreturn void give_up_on(const struct ab_diag *diag)
{
	char at[300];

	snprintf(at, sizeof at, "%s:%ld", diag->source, diag->line);
	give_up(at, diag->text);
}

/* ---- the answers ---- */

static void add(struct ids *ids, int id)
{
	if (ids->n == IDS)
		give_up("answers", "too many changes in one field");
	ids->id[ids->n++] = id;
}

/* What is no change of the rules: its place, or as the rules know the word. */
static int place_of(const struct run *run, const char *word)
{
	static const struct { const char *word; int place; } others[] = { { "@buys", BUYS }, { "@nothing", NOTHING } };

	for (size_t i = 0; i < sizeof others / sizeof *others; i++)
		if (strcmp(word, others[i].word) == 0)
			return others[i].place;
	return ab_change_find(run->k, word);
}

/* "a,b" of the rules, "-" for none, "@buys" for whatever costs money, "@nothing" for none at all. */
static struct ids changes_named(const struct run *run, char *list)
{
	struct ids ids = { .n = 0 };
	char *save = NULL;

	for (char *id = strtok_r(list, ",", &save); id != NULL; id = strtok_r(NULL, ",", &save)) {
		int change = place_of(run, id);
		if (strcmp(id, "-") == 0)
			continue;
		if (change == -1)
			give_up(id, "no change of the rules");
		add(&ids, change);
	}
	return ids;
}

/* What a word of a case means: as mapped, else the change of that name. */
static struct ids meaning(const struct run *run, char *word)
{
	for (size_t i = 0; i < run->n_maps; i++)
		if (strcmp(run->map[i].word, word) == 0)
			return run->map[i].changes;
	return changes_named(run, word);
}

static struct ids meanings(const struct run *run, const char *list, struct ids *leading)
{
	struct ids all = { .n = 0 };
	char copy[TEXT], *save = NULL;
	size_t at = 0;

	snprintf(copy, sizeof copy, "%s", list);
	for (char *word = strtok_r(copy, ",", &save); word != NULL; word = strtok_r(NULL, ",", &save)) {
		struct ids one = meaning(run, word);
		if (at++ == 0 && leading != NULL)
			*leading = one;
		for (size_t i = 0; i < one.n; i++)
			add(&all, one.id[i]);
	}
	return all;
}

static double weight_of(const char *word)
{
	for (size_t i = 0; i < sizeof levels / sizeof *levels; i++)
		if (strcmp(levels[i].word, word) == 0)
			return levels[i].weight;
	give_up(word, "no level of firmness");
}

static void read_told(struct run *run, char **field)
{
	struct told *t = &run->told[run->n++];

	snprintf(t->id, sizeof t->id, "%s", field[0]);
	t->weight = weight_of(field[1]);
	snprintf(t->tags, sizeof t->tags, "%s", field[2]);
	snprintf(t->recommended, sizeof t->recommended, "%s", field[3]);
	snprintf(t->against_words, sizeof t->against_words, "%s", field[4]);
}

static void read_line(struct run *run, char *line)
{
	char *field[5], *save = NULL;
	size_t n = 0;

	for (char *f = strtok_r(line, "\t\n", &save); f != NULL && n < 5; f = strtok_r(NULL, "\t\n", &save))
		field[n++] = f;
	if (n < 4 || run->n == CASES || run->n_maps == MAPS || run->n_places == PLACES)
		give_up("answers", "a line of too few fields, or too many lines");
	if (strcmp(field[0], "map") == 0) {
		struct map *m = &run->map[run->n_maps++];
		snprintf(m->word, sizeof m->word, "%s", field[1]);
		m->changes = changes_named(run, field[2]);
	} else if (strcmp(field[0], "order") == 0) {
		run->place[run->n_places++] = (struct place){ field[1][0], changes_named(run, field[2]) };
	} else if (n == 5) {
		read_told(run, field);
	} else {
		give_up(field[0], "a case of fewer than five fields");
	}
}

/* The meanings once all lines are read: the table of words stands below the cases. */
static void read_answers(struct run *run, const char *path)
{
	char line[1000];
	FILE *f = fopen(path, "r");

	if (f == NULL)
		give_up(path, "cannot be opened");
	while (fgets(line, sizeof line, f) != NULL)
		if (line[0] != '#')
			read_line(run, line);
	fclose(f);
	for (size_t i = 0; i < run->n; i++) {
		struct told *t = &run->told[i];
		t->wanted = meanings(run, t->recommended, &t->leading);
		t->against = meanings(run, t->against_words, NULL);
	}
}

/* ---- what each method gives first ---- */

static bool is_among(const struct ids *ids, int change, bool bought)
{
	for (size_t i = 0; i < ids->n; i++)
		if (ids->id[i] == change || (ids->id[i] == BUYS && bought))
			return true;
	return false;
}

/* given: up to three places, each of one change or more; bought: NULL = what the rules have a price for. */
static void score(const struct run *run, struct told *t, int method, const struct ids *given, size_t n,
    const bool *bought)
{
	bool *hit = t->hit[method];

	for (size_t p = 0; p < n && p < THREE; p++)
		for (size_t i = 0; i < given[p].n; i++) {
			int change = given[p].id[i];
			bool buys = bought != NULL ? bought[p] : change >= 0 && run->k->changes[change].cost > 0;
			hit[FIRST] |= p == 0 && is_among(&t->wanted, change, buys);
			hit[IN_THREE] |= is_among(&t->wanted, change, buys);
			hit[THEIR_FIRST] |= is_among(&t->leading, change, buys);
			hit[AGAINST] |= is_among(&t->against, change, buys);
		}
}

static bool owned(const struct run *run, const struct ab_profile *profile, int change)
{
	for (AB_EACH(const struct ab_owns, owns, profile->owns))
		if (owns->unused != AB_YES && ab_change_find(run->k, owns->change) == change)
			return true;
	return false;
}

/* A usual order with what is owned taken out; any: the whole place counts, not just its first change. */
static void usual(const struct run *run, struct told *t, int method, char order, bool any,
    const struct ab_profile *profile)
{
	struct ids given[PLACES];
	size_t n = 0;

	for (size_t p = 0; p < run->n_places; p++) {
		given[n] = (struct ids){ .n = 0 };
		for (size_t i = 0; run->place[p].order == order && i < run->place[p].changes.n; i++)
			if (!owned(run, profile, run->place[p].changes.id[i]) && (any || given[n].n == 0))
				add(&given[n], run->place[p].changes.id[i]);
		n += given[n].n > 0;
	}
	score(run, t, method, given, n, NULL);
}

/* That nothing is to be done is told by a plan without a change, or before the plan: leave the beer, or brew it
 * just so. */
static bool says_nothing(const struct ab_advice *a)
{
	for (size_t i = 0; i < a->n_steps; i++)
		if (a->steps[i].kind == AB_NEXT_WAIT || (a->steps[i].kind == AB_NEXT_SAME && a->steps[i].well))
			return true;
	return a->n_plan == 0;
}

static size_t once(const struct ab_advice *a, int place, const struct ab_item **items, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (place < 0 || items[i] == &a->items[place])
			return n;
	if (place < 0 || n == THREE)
		return n;
	items[n] = &a->items[place];
	return n + 1;
}

/* As a reader meets them: what to begin with; what eases a burden that was named, where that is it; the plan. */
static size_t first_three(const struct ab_advice *a, const struct ab_item **items)
{
	size_t n = once(a, a->next, items, 0);

	for (size_t i = 0; a->next_eases != NULL && i < a->next_eases->n; i++)
		n = once(a, a->next_eases->by[i].item, items, n);
	for (size_t i = 0; i < a->n_plan; i++)
		n = once(a, a->plan[i], items, n);
	return n;
}

/* A free start of what is owned is no purchase, whatever its price. */
static void ours(const struct run *run, struct told *t, const struct ab_advice *a)
{
	const struct ab_item *items[THREE];
	struct ids given[THREE];
	bool bought[THREE];
	size_t n_items = first_three(a, items), n = 0, at = 0;

	for (; n < n_items; n++) {
		given[n] = (struct ids){ { items[n]->change }, 1 };
		bought[n] = items[n]->cost > 0;
		at += (size_t)snprintf(t->given + at, sizeof t->given - at, " %s%s",
		    run->k->changes[items[n]->change].id, bought[n] ? "($)" : "");
	}
	if (n == 0) {
		given[n] = (struct ids){ .n = 0 };
		bought[n++] = false;
	}
	if (says_nothing(a)) {
		add(&given[0], NOTHING);
		snprintf(t->given + at, sizeof t->given - at, " (nothing to do)");
	}
	score(run, t, OURS, given, n, bought);
}

/* ---- one case ---- */

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static void work(struct run *run, struct told *t)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_diagnose_options how = { .reasons = true, .redraws = 0 };
	struct ab_advice_options options = {
		.budget = NAN, .minutes = NAN, .away_hours = NAN, .horizon_years = NAN, .running = NAN
	};
	struct ab_profile *profile = NULL;
	struct ab_batch *batch = NULL;
	struct ab_case *one = NULL;
	struct ab_advice *advice = NULL;
	char path[512];

	snprintf(path, sizeof path, "%s/%s.xml", run->cases, t->id);
	if (ab_profile_read_file(path, arena, &profile, &run->diag) != AB_OK)
		give_up_on(&run->diag);
	snprintf(path, sizeof path, "%s/%s-batch.xml", run->cases, t->id);
	if (access(path, F_OK) == 0 && ab_journal_read_file(path, arena, keep, &batch, &run->diag) != AB_OK)
		give_up_on(&run->diag);
	if (batch != NULL && ab_case_work(run->k, batch, profile, &how, arena, &one, &run->diag) != AB_OK)
		give_up_on(&run->diag);
	if (ab_advise(run->k, &one, batch != NULL, profile, &options, arena, &advice, &run->diag) != AB_OK)
		give_up_on(&run->diag);
	ours(run, t, advice);
	usual(run, t, GUIDES, 'A', false, profile);
	usual(run, t, GUIDES_ANY, 'A', true, profile);
	usual(run, t, SHOPS, 'B', false, profile);
	ab_arena_free(arena);
}

/* ---- the tables ---- */

/* Where nothing that could be counted was advised against, a case says nothing about it. */
static bool counts(const struct told *t, const char *tag, int what)
{
	return (tag == NULL || strstr(t->tags, tag) != NULL) && (what != AGAINST || t->against.n > 0);
}

static int count(const struct run *run, const char *tag, int method, int what, int *n)
{
	int hits = 0;

	*n = 0;
	for (size_t i = 0; i < run->n; i++)
		if (counts(&run->told[i], tag, what)) {
			*n += 1;
			hits += run->told[i].hit[method][what];
		}
	return hits;
}

static void print_count(int hits, int n)
{
	double z = gsl_cdf_ugaussian_Pinv(0.975), p = n > 0 ? (double)hits / n : 0;
	double mid = (p + z * z / (2 * n)) / (1 + z * z / n);
	double half = z * sqrt(p * (1 - p) / n + z * z / (4.0 * n * n)) / (1 + z * z / n);

	if (n == 0)
		printf("  %-18s", "-");
	else
		printf("  %2d/%-2d %3.0f%% (%2.0f-%3.0f)", hits, n, 100 * p, 100 * (mid - half), 100 * (mid + half));
}

/* The weighted share over the cases numbered in draw; NAN when none of them counts. */
static double share(const struct run *run, const size_t *draw, int method, int what)
{
	double sum = 0, of = 0;

	for (size_t i = 0; i < run->n; i++) {
		const struct told *t = &run->told[draw[i]];
		double w = counts(t, NULL, what) ? t->weight : 0;
		of += w;
		sum += t->hit[method][what] ? w : 0;
	}
	return of > 0 ? sum / of : (double)NAN;
}

static void print_weighted(struct run *run, int method, int what)
{
	static double resampled[RESAMPLES];
	size_t draw[CASES];

	for (size_t i = 0; i < run->n; i++)
		draw[i] = i;
	double all = share(run, draw, method, what);
	for (size_t r = 0; r < RESAMPLES; r++) {
		for (size_t i = 0; i < run->n; i++)
			draw[i] = gsl_rng_uniform_int(run->rng, run->n);
		resampled[r] = share(run, draw, method, what);
	}
	gsl_sort(resampled, 1, RESAMPLES);
	printf("  %5.0f%% (%2.0f-%3.0f)   ", 100 * all,
	    100 * gsl_stats_quantile_from_sorted_data(resampled, 1, RESAMPLES, 0.025),
	    100 * gsl_stats_quantile_from_sorted_data(resampled, 1, RESAMPLES, 0.975));
}

static void print_tag(const struct run *run, const char *tag)
{
	for (int m = 0; m < METHODS; m++) {
		printf("%-26s %-12s", tag == NULL ? "all" : tag, methods[m]);
		for (int what = 0, n; what < SCORES; what++) {
			int hits = count(run, tag, m, what, &n);
			print_count(hits, n);
		}
		printf("\n");
	}
}

/* Each tag once, in the order met. */
static void print_tags(const struct run *run)
{
	char seen[2000] = ",";

	for (size_t i = 0; i < run->n; i++) {
		char tags[sizeof run->told[i].tags], *save = NULL, mark[170];
		snprintf(tags, sizeof tags, "%s", run->told[i].tags);
		for (char *tag = strtok_r(tags, ",", &save); tag != NULL; tag = strtok_r(NULL, ",", &save)) {
			snprintf(mark, sizeof mark, ",%s,", tag);
			if (strcmp(tag, "-") == 0 || strstr(seen, mark) != NULL)
				continue;
			strncat(seen, mark + 1, sizeof seen - strlen(seen) - 1);
			print_tag(run, tag);
		}
	}
}

static void print_cases(const struct run *run)
{
	printf(
	    "\nour first three ($ = bought) <- what was recommended, - what was advised against; 1 first, 3 in "
	    "three, . missed, ! against\n");
	for (size_t i = 0; i < run->n; i++) {
		const struct told *t = &run->told[i];
		const bool *hit = t->hit[OURS];
		printf("%s %s%s %s <- %s - %s\n", t->id, hit[FIRST] ? "1" : hit[IN_THREE] ? "3" : ".",
		    hit[AGAINST] ? "!" : " ", t->given, t->recommended, t->against_words);
	}
}

/* For programs: sum, method, score, tag, hits, cases; "misled": the cases of the tags named. */
static void print_sums(const struct run *run, const char *const *tags, size_t n_tags)
{
	for (int m = 0; m < METHODS; m++)
		for (int what = 0, n; what < SCORES; what++) {
			int hits = count(run, NULL, m, what, &n), misled = 0, of = 0;
			printf("sum\t%s\t%s\tall\t%d\t%d\n", methods[m], scores[what], hits, n);
			for (size_t i = 0; i < run->n; i++) {
				bool in = false;
				for (size_t t = 0; t < n_tags; t++)
					in = in || counts(&run->told[i], tags[t], what);
				of += in;
				misled += in && run->told[i].hit[m][what];
			}
			printf("sum\t%s\t%s\tmisled\t%d\t%d\n", methods[m], scores[what], misled, of);
		}
}

int main(int argc, char **argv)
{
	/* where the usual order is known to mislead: what was said of it before any case was put to the program */
	static const char *const misleads[] = { "after-packaging-or-serving", "measurement-or-nothing-wrong",
		"hot-side-first", "owned-but-unused", "no-space-or-money", "time-or-convenience" };
	static struct run run;
	struct ab_arena *rules = ab_arena_new();
	struct ab_knowledge *k = NULL;

	if (argc != 4)
		give_up("arguments", "RULES-DIR CASES-DIR ANSWERS");
	ab_diag_init(&run.diag);
	if (ab_knowledge_read((const char *const[]){ argv[1] }, 1, ab_fact_defs(), ab_casework_vocabulary(), rules, &k,
	    &run.diag) != AB_OK)
		give_up_on(&run.diag);
	run.k = k;
	run.cases = argv[2];
	run.rng = gsl_rng_alloc(gsl_rng_mt19937);
	read_answers(&run, argv[3]);
	for (size_t i = 0; i < run.n; i++)
		work(&run, &run.told[i]);
	printf(
	    "%zu cases; recommended: first, in three, their first in ours; advised against: in three (95 %% "
	    "intervals)\n",
	    run.n);
	print_tags(&run);
	print_tag(&run, NULL);
	for (int m = 0; m < METHODS; m++) {
		printf("%-26s %-12s", "by firmness", methods[m]);
		for (int what = 0; what < SCORES; what++)
			print_weighted(&run, m, what);
		printf("\n");
	}
	print_cases(&run);
	print_sums(&run, misleads, sizeof misleads / sizeof *misleads);
	gsl_rng_free(run.rng);
	ab_arena_free(rules);
	return 0;
}
