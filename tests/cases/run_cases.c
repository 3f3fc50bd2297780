/* run_cases.c - diagnoses the told stories and counts how often the settled cause comes first, among three, among
 * five
 *
 * run_cases RULES-DIR CASES-DIR ANSWERS. Beside ours stand three others from the same rules: the printed table (the
 * causes of the fault named first, by strength of the link), the faults alone (no fact known), the signs alone (no
 * link). Intervals: Wilson 1927, 95 %.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "stories.h"

static const char *const methods[METHODS] = { "afterboil", "printed table", "faults alone", "signs alone" };
enum { OURS, TABLE, FAULTS, SIGNS };
static const char *const levels[LEVELS] = { "confirmed", "accepted", "consensus", "opinion" };

/* A cause and what it is ranked by: the larger first, then the larger tie, then the place in the rules. */
struct place { int cause; double by, tie; };

static int by_place(const void *a, const void *b)
{
	const struct place *x = a, *y = b;

	if (x->by != y->by)
		return x->by > y->by ? -1 : 1;
	if (x->tie != y->tie)
		return x->tie > y->tie ? -1 : 1;
	return x->cause - y->cause;
}

_Noreturn void stories_give_up(const char *what, const char *why)
{
	printf("run_cases: %s: %s\n", what, why);
	exit(1);
}

static _Noreturn void give_up_on(const struct ab_diag *diag)
{
	char at[300];

	snprintf(at, sizeof at, "%s:%ld", diag->source, diag->line);
	stories_give_up(at, diag->text);
}

/* ---- the answers ---- */

static int cause_named(const struct ab_knowledge *k, const char *id)
{
	int cause = ab_cause_find(k, id);

	if (cause < 0)
		stories_give_up(id, "no cause of the rules");
	return cause;
}

static int level_named(const char *word)
{
	for (int i = 0; i < LEVELS; i++)
		if (strcmp(levels[i], word) == 0)
			return i;
	stories_give_up(word, "no level of confirmation");
}

/* id, level, benign, contested, main, accept,accept */
static void read_answer(struct run *run, char *line)
{
	struct story *s = &run->story[run->n++];
	char *field[6], *save = NULL;

	for (int i = 0; i < 6; i++)
		if ((field[i] = strtok_r(i == 0 ? line : NULL, "\t\n", &save)) == NULL)
			stories_give_up("answers", "a line of fewer than six fields");
	snprintf(s->id, sizeof s->id, "%s", field[0]);
	s->level = level_named(field[1]);
	s->benign = strcmp(field[2], "yes") == 0;
	s->contested = strcmp(field[3], "yes") == 0;
	s->main = cause_named(run->k, field[4]);
	for (char *id = strtok_r(field[5], ",", &save); id != NULL; id = strtok_r(NULL, ",", &save)) {
		if (s->n_accept == ACCEPTED)
			stories_give_up(s->id, "too many accepted causes");
		s->accept[s->n_accept++] = cause_named(run->k, id);
	}
}

static void read_answers(struct run *run, const char *path)
{
	char line[512];
	FILE *f = fopen(path, "r");

	if (f == NULL)
		stories_give_up(path, "cannot be opened");
	while (fgets(line, sizeof line, f) != NULL)
		if (line[0] != '#') {
			if (run->n == STORIES)
				stories_give_up(path, "too many stories");
			read_answer(run, line);
		}
	fclose(f);
}

/* ---- the four rankings ---- */

static int rank_in(const struct story *s, const struct place *places, size_t n)
{
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j < s->n_accept; j++)
			if (places[i].cause == s->accept[j])
				return (int)i + 1;
	return DEEP;
}

static void settle(const struct run *run, struct story *s, int method, struct place *places, size_t n)
{
	qsort(places, n, sizeof *places, by_place);
	s->rank[method] = rank_in(s, places, n);
	s->verdict[method] = n > 0 && run->k->causes[places[0].cause].benign;
	for (size_t i = 0; method == OURS && i < FIRST; i++) {
		s->given[i] = i < n ? places[i].cause : -1;
		s->blame[i] = i < n ? places[i].by : 0;
	}
}

static void by_blame(const struct run *run, struct story *s, int method, const struct ab_diagnosis *d)
{
	struct place places[DEEP];
	size_t n = 0;

	for (; n < d->n_suspects && n < DEEP; n++)
		places[n] = (struct place){ d->suspects[n].cause, d->suspects[n].blame, d->suspects[n].present };
	settle(run, s, method, places, n);
}

static void by_signs(const struct run *run, struct story *s, const struct ab_diagnosis *d)
{
	struct place places[DEEP];
	size_t n = run->k->n_causes;

	for (size_t i = 0; i < n; i++)
		places[i] = (struct place){ (int)i, d->alone[i], 0 };
	settle(run, s, SIGNS, places, n);
}

/* How strongly the cause gives the fault when no fact is known; 0 = not at all. */
static double strength(const struct ab_cause *c, int fault, const struct ab_fact *unknown)
{
	double tail = 0;

	for (size_t i = 0; i < c->n_links; i++)
		if (c->links[i].fault == fault && ab_conds_hold(&c->links[i].when, unknown))
			tail = c->links[i].tail[1];
	return tail;
}

/* The fault a reader of the table would look up: the first that any tasting found. */
static const char *first_found(const struct run *run, const struct story *s)
{
	const struct ab_tasting *t = run->batch->tastings.items;

	for (size_t i = 0; i < run->batch->tastings.n; i++)
		if (t[i].found.n > 0)
			return ((const struct ab_found *)t[i].found.items)->fault;
	stories_give_up(s->id, "no tasting that found a fault");
}

static void by_table(const struct run *run, struct story *s, const struct ab_fact *unknown)
{
	const struct ab_knowledge *k = run->k;
	int fault = ab_fault_word(k, first_found(run, s), NULL, 0, &(size_t){ 0 });
	struct place places[DEEP];
	double prior[DEEP];
	size_t n = 0;

	ab_alone(k, unknown, prior);
	for (size_t i = 0; i < k->n_causes; i++) {
		double by = strength(&k->causes[i], fault, unknown);
		if (by > 0)
			places[n++] = (struct place){ (int)i, by, prior[i] };
	}
	settle(run, s, TABLE, places, n);
}

/* ---- one story ---- */

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct run *run = ctx;

	(void)diag;
	run->batch = batch;
	return AB_OK;
}

struct ab_case *stories_work(struct run *run, const struct story *s)
{
	struct ab_diagnose_options options = { .redraws = 0 };
	struct ab_case *c = NULL;
	char path[512];

	snprintf(path, sizeof path, "%s/%s.xml", run->cases, s->id);
	run->batch = NULL;
	if (ab_journal_read_file(path, run->arena, keep, run, &run->diag) != AB_OK)
		give_up_on(&run->diag);
	if (run->batch == NULL || run->batch->tastings.n == 0)
		stories_give_up(path, "no batch with a tasting");
	if (ab_case_work(run->k, run->batch, NULL, &options, run->arena, &c, &run->diag) != AB_OK)
		give_up_on(&run->diag);
	return c;
}

static void work(struct run *run, struct story *s)
{
	struct ab_diagnose_options options = { .redraws = 0 };
	struct ab_fact *unknown;
	struct ab_diagnosis *blind = NULL;

	run->arena = ab_arena_new();
	unknown = ab_arena_alloc(run->arena, run->k->facts->n, sizeof *unknown);
	struct ab_case *c = stories_work(run, s);
	by_blame(run, s, OURS, c->diagnosis);
	by_signs(run, s, c->diagnosis);
	by_table(run, s, unknown);
	c->evidence.check = NULL;
	if (ab_diagnose(run->k, unknown, &c->evidence, &options, run->arena, &blind, &run->diag) != AB_OK)
		give_up_on(&run->diag);
	by_blame(run, s, FAULTS, blind);
	ab_arena_free(run->arena);
}

/* ---- the tables ---- */

/* Wilson's interval of a share, in per cent: E. B. Wilson, JASA 22 (1927) 209. */
void stories_print_share(int hits, int n)
{
	double z = gsl_cdf_ugaussian_Pinv(0.975), p = n > 0 ? (double)hits / n : 0;
	double mid = (p + z * z / (2 * n)) / (1 + z * z / n);
	double half = z * sqrt(p * (1 - p) / n + z * z / (4.0 * n * n)) / (1 + z * z / n);

	if (n == 0)
		printf("  %-16s", "-");
	else
		printf("  %2d %3.0f%% (%2.0f-%3.0f)", hits, 100 * p, 100 * (mid - half), 100 * (mid + half));
}

static int count(const struct run *run, int method, int level, int within, int *n)
{
	int hits = 0;

	*n = 0;
	for (size_t i = 0; i < run->n; i++)
		if (level < 0 || run->story[i].level == level) {
			*n += 1;
			hits += run->story[i].rank[method] <= within;
		}
	return hits;
}

static void print_level(const struct run *run, int level)
{
	static const int within[] = { 1, 3, 5 };
	int n = 0;

	for (int m = 0; m < METHODS; m++) {
		count(run, m, level, 1, &n);
		printf("%-10s %2d  %-14s", level < 0 ? "all" : levels[level], n, methods[m]);
		for (size_t i = 0; i < sizeof within / sizeof *within; i++)
			stories_print_share(count(run, m, level, within[i], &n), n);
		printf("\n");
	}
}

static void print_benign(const struct run *run)
{
	for (int m = 0; m < METHODS; m++) {
		int benign = 0, seen = 0, wrong = 0;
		for (size_t i = 0; i < run->n; i++) {
			const struct story *s = &run->story[i];
			benign += s->benign;
			seen += s->benign && (s->verdict[m] || s->rank[m] == 1);
			wrong += !s->benign && s->verdict[m];
		}
		printf("%-14s nothing wrong, seen:", methods[m]);
		stories_print_share(seen, benign);
		printf("  nothing wrong, said of the others:");
		stories_print_share(wrong, (int)run->n - benign);
		printf("\n");
	}
}

static void print_misses(const struct run *run)
{
	printf(
	    "\nmissed: rank of the settled cause (- = not given), what it is, the first three given with their "
	    "blame\n");
	for (size_t i = 0; i < run->n; i++) {
		const struct story *s = &run->story[i];
		char rank[16];
		if (s->rank[OURS] == 1)
			continue;
		snprintf(rank, sizeof rank, "%d", s->rank[OURS]);
		printf("%s  %3s  %s%s <-", s->id, s->rank[OURS] == DEEP ? "-" : rank, run->k->causes[s->main].id,
		    s->contested ? " (contested)" : "");
		for (int j = 0; j < 3 && s->given[j] >= 0; j++)
			printf(" %s %.2f", run->k->causes[s->given[j]].id, s->blame[j]);
		printf("\n");
	}
}

/* For programs: method, stories, first, in three, in five. */
static void print_sums(const struct run *run)
{
	int n = 0;

	printf("\n");
	for (int m = 0; m < METHODS; m++) {
		printf("sum\t%s", methods[m]);
		count(run, m, -1, 1, &n);
		printf("\t%d\t%d\t%d\t%d\n", n, count(run, m, -1, 1, &n), count(run, m, -1, 3, &n),
		    count(run, m, -1, 5, &n));
	}
}

int main(int argc, char **argv)
{
	static struct run run;
	struct ab_arena *rules = ab_arena_new();
	struct ab_knowledge *k = NULL;

	if (argc != 4)
		stories_give_up("arguments", "RULES-DIR CASES-DIR ANSWERS");
	ab_diag_init(&run.diag);
	if (ab_knowledge_read((const char *const[]){ argv[1] }, 1, ab_fact_defs(), ab_casework_vocabulary(), rules, &k,
	    &run.diag) != AB_OK)
		give_up_on(&run.diag);
	run.k = k;
	run.cases = argv[2];
	if (k->n_causes > DEEP)
		stories_give_up("rules", "more causes than room for them");
	read_answers(&run, argv[3]);
	for (size_t i = 0; i < run.n; i++)
		work(&run, &run.story[i]);
	printf("%zu stories; settled cause first, in three, in five: count, share (95 %% interval)\n", run.n);
	for (int level = 0; level < LEVELS; level++)
		print_level(&run, level);
	print_level(&run, -1);
	print_benign(&run);
	print_misses(&run);
	folds_print(&run);
	print_sums(&run);
	ab_arena_free(rules);
	return 0;
}
