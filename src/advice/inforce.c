/* inforce.c - which batch was brewed with which change, by journals and profile
 *
 * A change of one beer only is judged on the batches of that beer: the others are brewed without it for another reason.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

/* seconds */
enum { DAY = 86400 };

/* Noted in a batch's journal as made, kept or as a trial. */
static bool in_journal(const struct ab_batch *batch, const char *id, bool trial)
{
	for (AB_EACH(const struct ab_change_note, note, batch->changes))
		if (note->what != NULL && (note->adopted == AB_NO) == trial && strcmp(note->what, id) == 0)
			return true;
	return false;
}

/* The profile's day is its noon; a batch brewed earlier on that day, by the hour its journal tells, is under the
 * change too: nobody notes the hour of a change. */
static bool on_or_after(const struct ab_when *brewed, const struct ab_when *on)
{
	return brewed->known && on->known && floor(brewed->s / DAY) >= floor(on->s / DAY);
}

/* Noted in the profile, and in force when the batch was brewed. */
static bool in_profile(const struct advising *a, const struct ab_batch *batch, const char *id)
{
	if (a->profile == NULL)
		return false;
	for (AB_EACH(const struct ab_changed, c, a->profile->changed))
		if (c->what != NULL && strcmp(c->what, id) == 0 && on_or_after(&batch->brewed, &c->on) &&
		    (c->line == NULL || (batch->line != NULL && strcmp(c->line, batch->line) == 0)))
			return true;
	return false;
}

/* For every beer, and brewed with it. */
static bool noted_for_all(const struct advising *a, const struct ab_batch *batch, const char *id)
{
	if (a->profile == NULL)
		return false;
	for (AB_EACH(const struct ab_changed, c, a->profile->changed))
		if (c->what != NULL && c->line == NULL && strcmp(c->what, id) == 0 &&
		    on_or_after(&batch->brewed, &c->on))
			return true;
	return false;
}

/* For the beer of this batch, whenever. */
static bool noted_for_line(const struct advising *a, const struct ab_batch *batch, const char *id)
{
	for (AB_EACH(const struct ab_changed, c, a->profile->changed))
		if (c->what != NULL && c->line != NULL && batch->line != NULL && strcmp(c->what, id) == 0 &&
		    strcmp(c->line, batch->line) == 0)
			return true;
	return false;
}

/* A change of one beer is that beer's, tried or kept: where the other beers are most of today's brewing, it is for them
 * at hand, and not in use. */
bool advising_for_most(const struct advising *a, const char *id)
{
	double share = 0;

	for (size_t b = 0; b < a->n_cases; b++)
		if (in_journal(a->cases[b]->batch, id, false) || noted_for_all(a, a->cases[b]->batch, id))
			return true;
	for (size_t b = 0; b < a->n_sets && b < a->n_cases && a->profile != NULL; b++)
		share += noted_for_line(a, a->cases[b]->batch, id) ? a->weight[b] : 0;
	return share >= 0.5;
}

/* n_cases means never: a place no batch has, so comparisons need no special case. */
size_t advising_adopted(const struct advising *a, int change)
{
	return a->adopted[change];
}

/* Of one beer only: no journal and no line of the profile has made it for all. */
static bool of_lines_only(const struct advising *a, const char *id)
{
	bool of_line = false, of_all = false;

	for (size_t b = 0; b < a->n_cases; b++)
		of_all = of_all || in_journal(a->cases[b]->batch, id, false);
	if (a->profile != NULL)
		for (AB_EACH(const struct ab_changed, c, a->profile->changed))
			if (c->what != NULL && strcmp(c->what, id) == 0) {
				of_line = of_line || c->line != NULL;
				of_all = of_all || c->line == NULL;
			}
	return of_line && !of_all;
}

/* Journals by one walk: from the first note on it is kept; a trial is of its own batch. */
static void note_change(struct advising *a, size_t u)
{
	const char *id = a->k->changes[u].id;
	bool kept = false, of_lines = of_lines_only(a, id);

	a->adopted[u] = a->n_cases;
	for (size_t b = 0; b < a->n_cases; b++) {
		const struct ab_batch *batch = a->cases[b]->batch;
		bool of_line = in_profile(a, batch, id), trial = in_journal(batch, id, true);

		kept = kept || in_journal(batch, id, false);
		a->in_force[u * a->n_cases + b] = kept || of_line || trial;
		a->tells_of[u * a->n_cases + b] = !of_lines || trial || noted_for_line(a, batch, id);
		if ((kept || of_line) && a->adopted[u] == a->n_cases)
			a->adopted[u] = b;
	}
}

enum ab_status advising_forces(struct advising *a, struct ab_diag *diag)
{
	a->in_force = ab_arena_alloc(a->arena, a->k->n_changes * a->n_cases, 1);
	a->tells_of = ab_arena_alloc(a->arena, a->k->n_changes * a->n_cases, 1);
	a->adopted = ab_arena_alloc(a->arena, a->k->n_changes, sizeof *a->adopted);
	if (a->in_force == NULL || a->tells_of == NULL || a->adopted == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < a->k->n_changes; u++)
		note_change(a, u);
	return AB_OK;
}

bool advising_from_the_first(const struct advising *a, size_t u)
{
	size_t b = 0;

	while (b < a->n_cases && !a->tells_of[u * a->n_cases + b])
		b++;
	return b < a->n_cases && a->in_force[u * a->n_cases + b];
}
