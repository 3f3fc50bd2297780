/* marked.c - bottles marked when they were filled, held against the others of the batch: checks they answer
 *
 * A mark names what was done to some bottles (splashed) or what they were kept from (shielded). Tasted beside the
 * others they are the test that a check asks for. A whole step of intensity between the two is a difference, as in
 * process/tasting.c (estimate); tastings so far apart that they tell of time, too, are not compared.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <math.h>
#include <string.h>
#include <strings.h>

static const double STEP = 1, DAY = 86400;

static bool in_word(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-';
}

/* Is one of the words of text one of those in list? Blanks part the words of both. */
static bool has_word(const char *text, const char *list)
{
	for (const char *w = list; w != NULL && *w != '\0'; w += strcspn(w, " "), w += strspn(w, " ")) {
		size_t len = strcspn(w, " ");
		for (const char *at = text; *at != '\0'; at++) {
			bool begins = at == text || !in_word(at[-1]);
			if (begins && strncasecmp(at, w, len) == 0 && !in_word(at[len]))
				return true;
		}
	}
	return false;
}

/* 1: treated as the check suspects; -1: kept from it; 0: nothing is said. */
static int side_of(const struct ab_check *check, const struct ab_tasting *t)
{
	if (t->mark_on == NULL)
		return 0;
	bool refused = has_word(t->mark_on, "not no never without");
	int side = has_word(t->mark_on, check->marked) ? 1 : has_word(t->mark_on, check->spared) ? -1 : 0;
	return refused ? -side : side;
}

/* Intensity of a fault in one glass; 0 where it was looked for, AB_NAN where nobody spoke of it. */
static double intensity(const struct ab_knowledge *k, const struct ab_tasting *t, int fault)
{
	for (AB_EACH(const struct ab_found, f, t->found))
		if (f->feared != AB_YES && f->fault != NULL && ab_fault_word(k, f->fault, NULL, 0, NULL) == fault)
			return f->intensity.known ? f->intensity.v : CASE_UNTOLD_INTENSITY;
	for (AB_EACH(const struct ab_absent, a, t->absent))
		if (a->fault != NULL && ab_fault_word(k, a->fault, NULL, 0, NULL) == fault)
			return 0;
	return t->complete == AB_YES ? 0 : (double)NAN;
}

static bool near_in_time(const struct ab_knowledge *k, const struct ab_tasting *a, const struct ab_tasting *b)
{
	return !(fabs(ab_when_apart(&a->at, &b->at)) >= k->norms.numbers[AB_NUM_TOGETHER_D] * DAY);
}

/* Does any cause that the check is about give the fault? */
static bool concerns(const struct ab_knowledge *k, const struct ab_check *check, int fault)
{
	for (size_t i = 0; i < check->n_yes; i++) {
		const struct ab_cause *cause = &k->causes[check->yes[i].cause];
		for (size_t j = 0; j < cause->n_links; j++)
			if (cause->links[j].fault == fault)
				return true;
	}
	return false;
}

/* What bottles with the suspected treatment have more of the fault than the others, the mean over all pairs; AB_NAN
 * without any. Where only the spared ones are marked, the others are the suspects. */
static double more_in_marked(const struct ab_knowledge *k, const struct ab_batch *batch, const struct ab_check *check,
    int fault, bool only_spared, bool *found)
{
	double sum = 0, n = 0;
	for (AB_EACH(const struct ab_tasting, a, batch->tastings)) {
		int side = side_of(check, a);
		if (only_spared ? side < 0 : side <= 0)
			continue;
		for (AB_EACH(const struct ab_tasting, b, batch->tastings)) {
			int other = side_of(check, b);
			double with = intensity(k, a, fault), without = intensity(k, b, fault);
			if ((only_spared ? other >= 0 : other > 0) || !near_in_time(k, a, b) || isnan(with) ||
			    isnan(without))
				continue;
			sum += with - without;
			n++;
			*found = *found || with > 0 || without > 0;
		}
	}
	return n > 0 ? sum / n : (double)NAN;
}

/* 1 yes, -1 no, 0 where the bottles do not tell. */
static int answer_of(const struct ab_knowledge *k, const struct ab_batch *batch, const struct ab_check *check)
{
	bool marked = false, spared = false, tells = false;
	for (AB_EACH(const struct ab_tasting, t, batch->tastings)) {
		marked = marked || side_of(check, t) > 0;
		spared = spared || side_of(check, t) < 0;
	}
	for (size_t f = 0; (marked || spared) && f < k->n_faults; f++) {
		bool found = false;
		double more = !concerns(k, check, (int)f) ? (double)NAN
		    : more_in_marked(k, batch, check, (int)f, !marked, &found);
		if (more >= STEP)
			return 1;
		tells = tells || (!isnan(more) && found);
	}
	return tells ? -1 : 0;
}

void case_marked(const struct ab_knowledge *k, const struct ab_batch *batch, signed char *answers)
{
	bool any = false;
	for (AB_EACH(const struct ab_tasting, t, batch->tastings))
		any = any || t->mark_on != NULL;
	for (size_t i = 0; any && i < k->n_checks; i++)
		if (k->checks[i].marked != NULL || k->checks[i].spared != NULL)
			answers[i] = (signed char)answer_of(k, batch, &k->checks[i]);
}
