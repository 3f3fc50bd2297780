/* growing.c - whether the day of a tasting would tell anything of a fault's course
 *
 * For `afterboil check`, which asks for a day only where it is missed. Words are taken as they were typed: this room
 * knows no faults, so two words for one are not seen here.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/odd.h"

#include "base/str.h"

/* Bottle beside tap, cap beside cork: that compares beers and not days. */
static bool of_same_glass(const struct ab_tasting *a, const struct ab_tasting *b)
{
	return a->from == b->from && ab_same_bottles(a, b);
}

/* Is it told of the fault anywhere that it grows, fades or stays? */
static bool behaves(const struct ab_batch *b, const char *fault)
{
	for (AB_EACH(struct ab_tasting, t, b->tastings))
		for (AB_EACH(struct ab_found, f, t->found))
			if (f->behaviour != 0 && ab_word_cmp(f->fault, fault) == 0)
				return true;
	return false;
}

static const struct ab_found *found_in(const struct ab_tasting *t, const char *fault)
{
	for (AB_EACH(struct ab_found, f, t->found))
		if (ab_word_cmp(f->fault, fault) == 0)
			return f;
	return NULL;
}

static bool misses(const struct ab_tasting *t, const char *fault)
{
	for (AB_EACH(struct ab_absent, a, t->absent))
		if (ab_word_cmp(a->fault, fault) == 0)
			return true;
	return t->complete == AB_YES;
}

/* Would the days of the two tell whether it grows, or how long the beer was sound? Only where the other glass speaks of
 * it too (process/tasting.c: strengths both told, or a glass in which it and all else was missing). */
static bool may_grow(const struct ab_found *f, const struct ab_tasting *other)
{
	const struct ab_found *again = found_in(other, f->fault);

	if (again != NULL)
		return f->intensity.known && again->intensity.known;
	return misses(other, f->fault) && (f->intensity.known || other->found.n == 0);
}

/* Does a fault of these two want their days, by which alone it would be seen to grow or fade? */
static bool want_days(const struct ab_batch *b, const struct ab_tasting *one, const struct ab_tasting *other)
{
	const struct ab_tasting *two[] = { one, other };
	for (size_t i = 0; i < 2; i++)
		for (AB_EACH(struct ab_found, f, two[i]->found))
			if (may_grow(f, two[1 - i]) && !behaves(b, f->fault))
				return true;
	return false;
}

/* Of one glass nobody asks what came before. */
bool ab_tasting_wants_day(const struct ab_batch *b, const struct ab_tasting *t)
{
	for (AB_EACH(struct ab_tasting, other, b->tastings))
		if (!t->at.known && !t->at.packaged && other != t && of_same_glass(t, other) && want_days(b, t, other))
			return true;
	return false;
}
