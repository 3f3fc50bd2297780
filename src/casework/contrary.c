/* contrary.c - what a journal says that cannot well be true together
 *
 * The diagnosis takes every statement as it stands; where two of them speak against each other the brewer is told,
 * for one of the two is wrong, or something else went on. Of one statement alone src/journal/odd.c speaks.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <assert.h>

/* A fact above its bound, or (below) under it; flags are 0 and 1. */
struct said { const char *fact; double bound; bool below; };

/* Bounds are well beyond what reading errors make (estimates). */
static const struct { const char *id; struct said one, other; const char *text; } pairs[] = {
	{ "contrary-finished", { "gravity.stable-days", 2, false }, { "gravity.drop-in-package", 2, false },
	    "You say the gravity stood still before packaging, and yet it fell further in the package: one of the "
	    "readings is wrong, or something that the yeast could not eat was eaten by something else." },
	{ "contrary-stalled", { "ferment.stalled", 0.5, false }, { "gravity.over-expected", -1, true },
	    "You say it stopped early, and yet the gravity went as low as such a beer goes: look at the readings "
	    "again." },
	{ "contrary-sealed", { "vessel.sealed", 0.5, false }, { "vessel.open-time", 10, false },
	    "You say the lid was tight all the time, and yet the fermenter stood open for more than ten minutes." },
	{ "contrary-clean", { "bottles.clean", 0.5, false }, { "looks.neck-ring", 0.5, false },
	    "You say the bottles were cleaned and sanitised, and yet there is a ring in their necks: the cleaning "
	    "does not reach everything, or the ring grew from what came with the beer." },
	{ "contrary-bottles", { "taste.some-bottles", 0.5, false }, { "taste.at-packaging", 0.5, false },
	    "You say it was there at packaging, and yet only some bottles have it: there may be two faults under "
	    "one name." },
};
enum { PAIRS = sizeof pairs / sizeof *pairs };

static bool holds(const struct ab_knowledge *k, const struct ab_case *c, const struct said *s)
{
	int slot = ab_fact_slot(k->facts, s->fact);
	/* Names that are missing from a table of a test are unknown, never an error. */
	if (slot < 0 || !AB_FACT_KNOWN(&c->facts[slot]) || c->facts[slot].guess)
		return false;
	double value = c->facts[slot].value;
	return s->below ? value < s->bound : value > s->bound;
}

size_t case_contrary(const struct ab_knowledge *k, const struct ab_case *c, struct ab_warning *out, size_t max)
{
	size_t n = 0;
	assert(max >= PAIRS);
	for (size_t i = 0; i < PAIRS && n < max; i++)
		if (holds(k, c, &pairs[i].one) && holds(k, c, &pairs[i].other))
			out[n++] = (struct ab_warning){ pairs[i].id, pairs[i].text };
	return n;
}
