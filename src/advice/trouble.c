/* trouble.c - what the brewer says is wrong in batch after batch, taken as batches with that fault or
 * cause and no other
 *
 * A trouble named in the profile is not one unlucky batch: it is what keeps coming back, among all that
 * could. Named faults are diagnosed on the newest batch (else on the usual habits alone) as one full
 * tasting; a named cause is believed at SURE. The result counts as ADVISING_TOLD batches. What is owned but
 * not said to be in use, against a trouble it would take away for the most part, is taken as not in use: it
 * costs nothing to start, and a fridge that is in use does not leave the beer warm.
 * Who says that nothing is wrong is believed as much: as many batches, in full tastings without a fault.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* How far a brewer is believed who names a cause and not what it tastes of (estimate). */
#define SURE 0.9
/* A thing owned that would take away this much of the trouble is the thing to look at (estimate). */
#define WOULD_HELP 0.3
/* What takes away this much of it acts on it (estimate: less would not be noticed by who asks for help
 * with it). */
#define ANSWERS 0.05
/* The intensity of what is meant to be there and is complained of: strong (estimate). */
#define MORE_THAN_MEANT 4

static enum ab_status no_such_cause(const struct advising *a, const struct ab_trouble *t,
    struct ab_diag *diag)
{
	char instead[200];

	ab_trouble_instead(a->k, AB_TROUBLE_CAUSE, t->cause, instead, sizeof instead);
	return ab_fail(diag, AB_EINPUT, a->profile->source, t->mark.line,
	    "no cause is called \"%.40s\"; \"afterboil rules list causes\" shows them%s%s", t->cause,
	    instead[0] != '\0' ? "; " : "", instead);
}

/* What is no fault but a cause or chore is told to be one; of other words the case says that they are none. */
static enum ab_status check_fault(const struct advising *a, const struct ab_trouble *t, struct ab_diag *diag)
{
	const char *near[1];
	size_t n = 0;
	char instead[200];

	if (t->fault == NULL || ab_fault_word(a->k, t->fault, near, 1, &n) >= 0)
		return AB_OK;
	ab_trouble_instead(a->k, AB_TROUBLE_FAULT, t->fault, instead, sizeof instead);
	return strncmp(instead, "it is", strlen("it is")) != 0
	    ? AB_OK
	    : ab_fail(diag, AB_EINPUT, a->profile->source, t->mark.line, "no fault is called \"%.40s\"; %s",
		  t->fault, instead);
}

/* The word a trouble's fault stands for, -1 = none (ab_case_work will say so). */
static int fault_of(const struct ab_knowledge *k, const char *word)
{
	const char *near[1];
	size_t n = 0;

	return word == NULL ? -1 : ab_fault_word(k, word, near, 1, &n);
}

/* Where the newest batch was tasted with that fault, and what was written of it last; NULL = it was not, or only
 * feared. */
static const struct ab_found *last_found(const struct advising *a, int fault, const struct ab_tasting **in)
{
	const struct ab_found *last = NULL;

	if (a->n_cases == 0 || fault < 0)
		return NULL;
	for (AB_EACH(const struct ab_tasting, tasting, a->cases[a->n_cases - 1]->batch->tastings))
		for (AB_EACH(const struct ab_found, f, tasting->found))
			if (f->feared != AB_YES && fault_of(a->k, f->fault) == fault) {
				last = f;
				*in = tasting;
			}
	return last;
}

/* The named faults as one tasting. Whoever says what is wrong says all of it: what is not named is weakly
 * absent. How strong it is, whether it grows and in which bottles is as the newest batch had it. */
static struct ab_tasting *taste(const struct advising *a)
{
	struct ab_tasting *tasting = ab_arena_alloc(a->arena, 1, sizeof *tasting);

	if (tasting == NULL)
		return NULL;
	tasting->complete = AB_YES;
	for (AB_EACH(const struct ab_trouble, t, a->profile->troubles)) {
		const struct ab_tasting *in = NULL;
		const struct ab_found *last = last_found(a, fault_of(a->k, t->fault), &in);
		struct ab_found *found;

		if (t->fault == NULL)
			continue;
		found = ab_arena_push(a->arena, &tasting->found.items, &tasting->found.n, &tasting->found.cap,
		    sizeof *found);
		if (found == NULL)
			return NULL;
		if (last != NULL) {
			*found = *last;
			tasting->at = in->at;
			tasting->from = in->from;
			tasting->every_batch = in->every_batch;
		}
		found->mark = t->mark;
		found->fault = t->fault;
	}
	return tasting;
}

/* Who complains of what the beer is meant to have finds more of it than is meant. Was anything raised? */
static bool raise_meant(const struct advising *a, struct ab_tasting *tasting)
{
	const struct ab_case *told = a->told;
	struct ab_found *found = tasting->found.items;
	bool raised = false;

	for (size_t i = 0; i < tasting->found.n; i++) {
		int fault = fault_of(a->k, found[i].fault);
		int grade = ab_grade_of_intensity(told->fault_intensity[fault]);

		if (!ab_fault_expected(a->k, told->facts, told->evidence.family, fault, grade))
			continue;
		found[i].intensity = (struct ab_num){ .known = true, .v = MORE_THAN_MEANT };
		raised = true;
	}
	return raised;
}

/* The newest batch as it was brewed, or one of which only the family is known; with that tasting instead
 * of its own. */
static struct ab_batch *batch_of(const struct advising *a, struct ab_tasting *tasting)
{
	struct ab_batch *batch = ab_arena_alloc(a->arena, 1, sizeof *batch);

	if (batch == NULL)
		return NULL;
	if (a->n_cases > 0)
		*batch = *a->cases[a->n_cases - 1]->batch;
	else if (a->profile->brews.n == 1)
		batch->family = ((const struct ab_brews *)a->profile->brews.items)->family;
	batch->id = "trouble";
	batch->source = a->profile->source;
	batch->tastings = (struct ab_list){ .items = tasting, .n = a->fine || tasting->found.n > 0, .cap = 1 };
	return batch;
}

/* Burdens that no beer tastes of are for easing.c. */
static bool of_the_beer(const struct advising *a)
{
	if (a->profile != NULL)
		for (AB_EACH(const struct ab_trouble, t, a->profile->troubles))
			if (t->fault != NULL || t->cause != NULL)
				return true;
	return false;
}

enum ab_status advising_told(struct advising *a, struct ab_diag *diag)
{
	const struct ab_diagnose_options short_way = { .redraws = 0 };
	struct ab_tasting *tasting;
	struct ab_batch *batch;
	enum ab_status st;

	a->fine = a->profile != NULL && a->profile->fine != NULL;
	if (!a->fine && !of_the_beer(a))
		return AB_OK;
	for (AB_EACH(const struct ab_trouble, t, a->profile->troubles)) {
		st = check_fault(a, t, diag);
		if (st != AB_OK)
			return st;
	}
	tasting = taste(a);
	batch = tasting != NULL ? batch_of(a, tasting) : NULL;
	a->told_part = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *a->told_part);
	if (batch == NULL || a->told_part == NULL)
		return advising_nomem(diag);
	st = ab_case_work(a->k, batch, a->profile, &short_way, a->arena, &a->told, diag);
	if (st == AB_OK && raise_meant(a, tasting))
		st = ab_case_work(a->k, batch, a->profile, &short_way, a->arena, &a->told, diag);
	for (AB_EACH(const struct ab_trouble, t, a->profile->troubles)) {
		int cause = t->cause != NULL ? ab_cause_find(a->k, t->cause) : -1;

		if (st != AB_OK)
			return st;
		if (t->cause != NULL && cause < 0)
			return no_such_cause(a, t, diag);
		if (cause >= 0)
			a->told->diagnosis->present[cause] = fmax(a->told->diagnosis->present[cause], SURE);
	}
	return st;
}

bool advising_wrong(const struct advising *a)
{
	return a->told != NULL && !a->fine;
}

/* A cause named outright brings what the rules say it brings, in full: the brewer has noticed it. */
void advising_told_causes(struct advising *a)
{
	if (a->told == NULL)
		return;
	for (AB_EACH(const struct ab_trouble, t, a->profile->troubles)) {
		int cause = t->cause != NULL ? ab_cause_find(a->k, t->cause) : -1;

		if (cause >= 0)
			a->told_part[cause] = fmax(a->told_part[cause], SURE * a->brings[cause]);
	}
}

static double share_of_trouble(const struct advising *a, int change)
{
	double of = 0, sum = 0;

	for (size_t i = 0; i < a->k->n_causes; i++) {
		of += a->told_part[i];
		sum += a->told_part[i] * advising_rated(&a->k->changes[change], i, a->told->facts);
	}
	return of > 0 ? sum / of : 0;
}

double advising_of_trouble(const struct advising *a, int change)
{
	double of = 0, sum = 0;

	for (size_t i = 0; a->told != NULL && i < a->k->n_causes; i++) {
		of += a->told_part[i];
		sum += a->told_part[i] * a->effect[(size_t)change * a->k->n_causes + i];
	}
	return of > 0 ? sum / of : 0;
}

bool advising_answers(const struct advising *a, int change)
{
	return advising_of_trouble(a, change) >= ANSWERS;
}

/* All that it would make of words and flags is so already: the coil that is owned is what the wort is chilled with. */
static bool shows_in_use(const struct advising *a, const struct ab_change *c)
{
	size_t of = 0, so = 0;

	for (size_t i = 0; i < c->n_sets; i++) {
		const struct ab_sets *s = &c->sets[i];
		double share = 0;

		if (s->mode != AB_SET_TO || a->k->facts->defs[s->slot].kind == AB_FACT_NUMBER)
			continue;
		for (size_t b = 0; b < a->n_sets; b++)
			share += AB_FACT_KNOWN(&a->facts[b][s->slot]) && a->facts[b][s->slot].value == s->value
			    ? a->weight[b]
			    : 0;
		of++;
		so += share >= 0.5;
	}
	return of > 0 && so == of;
}

/* Against what is wrong, or a burden that is named. */
static bool is_wanted(const struct advising *a, int change)
{
	return (a->told != NULL && share_of_trouble(a, change) >= WOULD_HELP) || advising_eases_named(a, change);
}

/* "since" with batches brewed after it, or a journal that notes the change, is use. */
enum ab_status advising_idle(struct advising *a, struct ab_diag *diag)
{
	(void)diag;
	if (a->profile == NULL)
		return AB_OK;
	for (AB_EACH(const struct ab_owns, owns, a->profile->owns)) {
		int u = ab_change_find(a->k, owns->change);
		struct ab_item *item = u >= 0 ? &a->out->items[u] : NULL;

		if (item == NULL || !item->owned || owns->unused != 0 || owns->since.known ||
		    item->barred != NULL || advising_adopted(a, u) < a->n_cases ||
		    shows_in_use(a, &a->k->changes[u]) || !is_wanted(a, u))
			continue;
		item->owned = false;
		item->unused = true;
		item->cost = 0;
	}
	return AB_OK;
}
