/* run_tables.c - puts the published tables to the rules: run_tables RULES-DIR
 *
 * One line a row: "held" or "failed", the row, what came, why it is known not to hold (empty = it should), tabs
 * between. Benign explanations are left out of the order: the tables list what can be done wrong, never "nothing
 * is".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/casework.h>

#include "tables.h"

enum { TOP = 5, WORD = 128 };

static const struct ab_knowledge *k;
static struct ab_arena *arena;
static struct ab_fact *facts;
static struct ab_finding *finding;
static signed char *checks;

static _Noreturn void give_up(const char *what, const char *why)
{
	printf("run_tables: %s: %s\n", what, why);
	exit(1);
}

/* ---- evidence from words ---- */

static void forget_all(void)
{
	memset(facts, 0, k->facts->n * sizeof *facts);
	memset(finding, 0, k->n_faults * sizeof *finding);
	memset(checks, 0, k->n_checks);
}

/* "diacetyl sour-lactic !estery": found, found, judged absent; a moderate grade. */
static void find_faults(const char *list)
{
	char copy[WORD], *save = NULL;

	snprintf(copy, sizeof copy, "%s", list);
	for (char *id = strtok_r(copy, " ", &save); id != NULL; id = strtok_r(NULL, " ", &save)) {
		int fault = ab_fault_find(k, id + (*id == '!'));
		if (fault < 0)
			give_up(id, "no fault of the rules");
		if (*id == '!')
			finding[fault] = (struct ab_finding){ .seen = AB_SEEN_ABSENT, .sensitivity = 0.8 };
		else
			finding[fault] = (struct ab_finding){ .seen = AB_SEEN_FOUND, .grade = 2 };
	}
}

static double value_of(const struct ab_fact_def *def, const char *word)
{
	char *end = NULL;
	int place;

	if (def->kind == AB_FACT_NUMBER) {
		double v = strtod(word, &end);
		if (end == word || *end != '\0')
			give_up(word, "no number");
		return v;
	}
	place = ab_fact_word(def, word);
	if (place < 0)
		give_up(word, "no word of its fact");
	return place;
}

static void tell_one(char *name)
{
	char *word = strchr(name, ' ');

	if (word == NULL)
		give_up(name, "a name, a blank, a value");
	*word++ = '\0';
	if (strncmp(name, "check:", 6) == 0) {
		int check = ab_check_find(k, name + 6);
		if (check < 0)
			give_up(name, "no check of the rules");
		checks[check] = strcmp(word, "yes") == 0 ? 1 : -1;
		return;
	}
	int slot = ab_fact_slot(k->facts, name);
	if (slot < 0)
		give_up(name, "no fact");
	facts[slot].origin = AB_ORIGIN_MEASURED;
	facts[slot].value = value_of(&k->facts->defs[slot], word);
}

/* "pack.into keg,pack.filled purged" */
static void tell(const char *told)
{
	char copy[WORD], *save = NULL;

	snprintf(copy, sizeof copy, "%s", told == NULL ? "" : told);
	for (char *one = strtok_r(copy, ",", &save); one != NULL; one = strtok_r(NULL, ",", &save))
		tell_one(one);
}

static const struct ab_diagnosis *work(void)
{
	struct ab_diagnose_options options = { .redraws = 0 };
	struct ab_evidence evidence = { finding, checks, -1, false };
	struct ab_diagnosis *d = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (ab_diagnose(k, facts, &evidence, &options, arena, &d, &diag) != AB_OK)
		give_up("diagnosis", diag.text);
	return d;
}

/* ---- answers ---- */

static void say(bool held, const char *row, const char *came, const char *known)
{
	printf("%s\t%s\t%s\t%s\n", held ? "held" : "failed", row, came, known == NULL ? "" : known);
}

static bool stands_in(const char *list, const char *id)
{
	size_t n = strlen(id);

	for (const char *at = list; at != NULL && (at = strstr(at, id)) != NULL; at += n)
		if ((at == list || at[-1] == ' ') && (at[n] == ' ' || at[n] == '\0'))
			return true;
	return false;
}

static bool known_ids(const char *list)
{
	char copy[512], *save = NULL;

	snprintf(copy, sizeof copy, "%s", list);
	for (char *id = strtok_r(copy, " ", &save); id != NULL; id = strtok_r(NULL, " ", &save))
		if (ab_cause_find(k, id) < 0)
			give_up(id, "no cause of the rules");
	return true;
}

/* The first causes that are somebody's doing. */
static size_t first_causes(const struct ab_diagnosis *d, const char *top[TOP])
{
	size_t n = 0;

	for (size_t i = 0; i < d->n_suspects && n < TOP; i++)
		if (!k->causes[d->suspects[i].cause].benign)
			top[n++] = k->causes[d->suspects[i].cause].id;
	return n;
}

/* The first cause stands in a seen column, and the first five hold one from each of two columns (of one, where one
 * was seen). */
static void put_listed(const struct listed *row)
{
	const char *top[TOP];
	char came[256] = "";
	bool first = false;
	int seen = 0, met = 0;
	size_t n;

	forget_all();
	find_faults(row->fault);
	n = first_causes(work(), top);
	for (size_t i = 0, at = 0; i < n && at < sizeof came; i++)
		at += (size_t)snprintf(came + at, sizeof came - at, "%s%s", i > 0 ? " " : "", top[i]);
	for (int c = 0; c < COLUMNS; c++) {
		bool met_here = false;
		if (row->column[c] == NULL || !known_ids(row->column[c]))
			continue;
		seen++;
		first = first || (n > 0 && stands_in(row->column[c], top[0]));
		for (size_t i = 0; i < n; i++)
			met_here = met_here || stands_in(row->column[c], top[i]);
		met += met_here;
	}
	say(first && met >= (seen < 2 ? seen : 2), row->fault, came, row->known);
}

static double blame_of(const char *id)
{
	int cause = ab_cause_find(k, id);

	if (cause < 0)
		give_up(id, "no cause of the rules");
	return work()->blame[cause];
}

static void say_move(const char *row, double before, double after, bool up, const char *known)
{
	char came[64];

	snprintf(came, sizeof came, "%.4f to %.4f", before, after);
	say(up ? after > before * 1.001 : after < before * 0.999, row, came, known);
}

static void put_side(const struct sided *row, const char *told, bool up)
{
	char title[256];
	double before;

	if (told == NULL)
		return;
	forget_all();
	find_faults(row->fault);
	before = blame_of(row->cause);
	tell(told);
	snprintf(title, sizeof title, "%s %s with %s, %s", row->cause, up ? "rises" : "falls", told, row->fault);
	say_move(title, before, blame_of(row->cause), up, row->known);
}

static void put_pushed(const struct pushed *row)
{
	char title[256];
	double before;

	forget_all();
	find_faults(row->before);
	before = blame_of(row->cause);
	find_faults(row->after);
	for (int i = 0; i < OTHERS; i++)
		tell(row->told[i]);
	snprintf(title, sizeof title, "%s: %s %s", row->what, row->cause, row->up ? "rises" : "falls");
	say_move(title, before, blame_of(row->cause), row->up != 0, row->known);
}

int main(int argc, char **argv)
{
	struct ab_knowledge *rules = NULL;
	struct ab_diag diag;

	if (argc != 2)
		give_up("arguments", "RULES-DIR");
	arena = ab_arena_new();
	ab_diag_init(&diag);
	if (ab_knowledge_read((const char *const[]){ argv[1] }, 1, ab_fact_defs(), ab_casework_vocabulary(), arena,
		&rules, &diag) != AB_OK)
		give_up(diag.source, diag.text);
	k = rules;
	facts = ab_arena_alloc(arena, k->facts->n, sizeof *facts);
	finding = ab_arena_alloc(arena, k->n_faults, sizeof *finding);
	checks = ab_arena_alloc(arena, k->n_checks, sizeof *checks);
	for (size_t i = 0; i < n_listed_rows; i++)
		put_listed(&listed_rows[i]);
	for (size_t i = 0; i < n_sided_rows; i++) {
		put_side(&sided_rows[i], sided_rows[i].for_it, true);
		put_side(&sided_rows[i], sided_rows[i].against_it, false);
	}
	for (size_t i = 0; i < n_pushed_rows; i++)
		put_pushed(&pushed_rows[i]);
	ab_arena_free(arena);
	return 0;
}
