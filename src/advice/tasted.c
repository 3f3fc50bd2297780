/* tasted.c - what this brewer has tasted and what is only feared; what was tasted and is gone
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <string.h>

static const double EVEN = 0.5;

static bool gives(const struct ab_cause *cause, int fault)
{
	for (size_t i = 0; i < cause->n_links; i++)
		if (cause->links[i].fault == fault && cause->links[i].tail[1] > 0)
			return true;
	return false;
}

/* Most likely nothing is wrong with it: a reading not corrected, a beer still young, what belongs to its yeast.
 * That clears the faults that it gives, or another of its kin, and no other: a true one beside them stays. Bottles
 * that may burst are no false alarm, whatever they taste of. */
static bool false_alarm(const struct ab_knowledge *k, const struct ab_case *c, int fault)
{
	const struct ab_diagnosis *d = c->diagnosis;
	struct ab_leading lead;
	const struct ab_cause *first;

	if (d == NULL || ab_case_bursting(c) != NULL || !d->verdict_benign)
		return false;
	lead = ab_diagnosis_leading(d);
	if (lead.suspect == NULL || lead.blame < EVEN)
		return false;
	first = &k->causes[lead.suspect->cause];
	if (first->expects || gives(first, fault))
		return true;
	for (size_t i = 0; d->lead != NULL && i < d->n_suspects; i++)
		if (k->causes[d->suspects[i].cause].kin == d->lead->kin &&
		    gives(&k->causes[d->suspects[i].cause], fault))
			return true;
	return false;
}

/* What the beer is meant to have is no flaw; without loads whatever was found is one. */
static bool flawed(const struct ab_knowledge *k, const struct ab_case *c, int fault)
{
	if (false_alarm(k, c, fault))
		return false;
	if (c->fault_load != NULL)
		return c->fault_load[fault] > 0;
	return c->fault_intensity != NULL && c->fault_intensity[fault] > 0;
}

bool advising_last_had(const struct advising *a, int fault)
{
	size_t b = a->n_cases;

	if (a->told != NULL && a->told->fault_intensity[fault] > 0)
		return true;
	while (b > 0 && !a->cases[b - 1]->tasted)
		b--;
	return b > 0 && flawed(a->k, a->cases[b - 1], fault);
}

/* Another beer's cleanliness proves nothing, unless nobody told which beer it was. */
static bool same_line(const struct ab_batch *x, const struct ab_batch *y)
{
	return x->line == NULL || y->line == NULL || strcmp(x->line, y->line) == 0;
}

static bool acts_on(const struct advising *a, const struct ab_change *change, int fault)
{
	for (size_t i = 0; i < change->n_prevents; i++)
		if (gives(&a->k->causes[change->prevents[i].cause], fault))
			return true;
	return false;
}

/* Kept, not tried: what a trial cured comes back with the next brew without it. */
static bool changed_between(const struct advising *a, size_t before, size_t after, int fault)
{
	for (size_t u = 0; u < a->k->n_changes; u++)
		if (a->adopted[u] > before && a->adopted[u] <= after && acts_on(a, &a->k->changes[u], fault))
			return true;
	return false;
}

/* Without a change in between it is luck, and may come again. */
static bool is_gone(const struct advising *a, size_t last, int fault)
{
	for (size_t b = last + 1; b < a->n_cases; b++)
		if (a->cases[b]->tasted && same_line(a->cases[last]->batch, a->cases[b]->batch) &&
		    changed_between(a, last, b, fault))
			return true;
	return false;
}

bool advising_found(const struct advising *a, int fault)
{
	for (size_t b = 0; fault >= 0 && b < a->n_cases; b++)
		if (flawed(a->k, a->cases[b], fault))
			return true;
	return false;
}

enum advising_tasted advising_tasted(const struct advising *a, int fault)
{
	if (fault >= 0 && a->told != NULL && a->told->fault_intensity[fault] > 0)
		return ADVISING_THERE;
	for (size_t b = a->n_cases; fault >= 0 && b-- > 0;)
		if (flawed(a->k, a->cases[b], fault))
			return is_gone(a, b, fault) ? ADVISING_GONE : ADVISING_THERE;
	return ADVISING_NEVER;
}

/* What was brewed so that its bottles may burst, tasted or not yet, is not to be brewed so again, however well it
 * tastes. */
static bool is_pressed(const struct ab_case *c)
{
	return c->diagnosis != NULL && ab_case_pressed(c);
}

bool advising_well_by_word(const struct advising *a)
{
	if (!a->fine)
		return false;
	for (size_t b = 0; b < a->n_cases; b++)
		if (a->cases[b]->tasted || is_pressed(a->cases[b]))
			return false;
	return true;
}

bool advising_well(const struct advising *a)
{
	size_t b = a->n_cases;
	bool bursts = false;

	if (advising_well_by_word(a))
		return true;
	for (; b > 0 && !a->cases[b - 1]->tasted; b--)
		bursts |= is_pressed(a->cases[b - 1]);
	if (b == 0 || bursts || is_pressed(a->cases[b - 1]))
		return false;
	for (size_t f = 0; f < a->k->n_faults; f++)
		if (flawed(a->k, a->cases[b - 1], (int)f) || advising_tasted(a, (int)f) == ADVISING_THERE)
			return false;
	return true;
}
