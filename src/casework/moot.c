/* moot.c - questions that a brewer would shake the head at: of the package of what was not packaged, of a keg
 * when there is none
 *
 * The network weighs what an answer would do; whether the question makes sense for this beer it cannot know.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <assert.h>
#include <string.h>

/* What nobody can tell of a beer that is still in the fermenter. */
static const char *const of_the_package[] = { "pack.", "keg.", "store.", "serve.", "ferment.days",
    "gravity.drop-in-package", "taste.at-packaging", "taste.tap-only", "taste.some-bottles",
    "looks.neck-ring", "bottles.clean", NULL };
/* Only-at-the-tap needs a tap. */
static const char *const of_a_tap[] = { "taste.tap-only", NULL };
/* What was done to a keg needs one. */
static const char *const of_a_keg[] = { "keg.", "pack.filled", "pack.purges", NULL };
/* And bottles are none of a keg's. */
static const char *const of_bottles[] = { "pack.neck", "pack.cap", "pack.bottom-filled", "pack.colour",
	"bottles.clean", "looks.neck-ring", "taste.some-bottles", NULL };
/* Where most of the wort came from extract, grain was steeped and not sparged. */
static const char *const of_a_sparge[] = { "mash.sparge", "mash.last-runnings", "mash.runnings-ph", NULL };
/* Gas and foam come with the package: of a flat or gushing beer nobody can say how it was before. */
static const char *const of_before[] = { "taste.at-packaging", NULL };

/* Facts are named here and may be missing from a table of a test: a name that is not there is unknown,
 * never an error. */
static const struct ab_fact *known(const struct ab_knowledge *k, const struct ab_case *c, const char *name)
{
	int slot = ab_fact_slot(k->facts, name);
	return slot >= 0 && AB_FACT_KNOWN(&c->facts[slot]) ? &c->facts[slot] : NULL;
}

static bool is_word(const struct ab_knowledge *k, const struct ab_case *c, const char *name, const char *word)
{
	const struct ab_fact *fact = known(k, c, name);
	const char *const *words = fact == NULL ? NULL : k->facts->defs[ab_fact_slot(k->facts, name)].words;
	assert(words == NULL || fact->value >= 0);
	return words != NULL && strcmp(words[(size_t)fact->value], word) == 0;
}

static bool is_unpackaged(const struct ab_knowledge *k, const struct ab_case *c)
{
	const struct ab_fact *fact = known(k, c, "taste.before-packaging-only");
	return fact != NULL && fact->value > 0;
}

/* Is there a word of a keg or a tap? */
static bool has_tap(const struct ab_knowledge *k, const struct ab_case *c)
{
	return is_word(k, c, "pack.into", "keg") || is_word(k, c, "pack.into", "cask") ||
	    is_word(k, c, "serve.from", "tap") || is_word(k, c, "serve.from", "cask");
}

/* Were only faults found that come with the gas of the package? */
static bool only_of_the_package(const struct ab_knowledge *k, const struct ab_case *c)
{
	size_t found = 0;
	for (size_t f = 0; f < k->n_faults; f++) {
		if (c->evidence.finding[f].seen != AB_SEEN_FOUND)
			continue;
		if (!k->faults[f].packaged_only)
			return false;
		found++;
	}
	return found > 0;
}

static bool starts_with_any(const char *name, const char *const *starts)
{
	for (; *starts != NULL; starts++)
		if (strncmp(name, *starts, strlen(*starts)) == 0)
			return true;
	return false;
}

/* Is the fact named in one of the lists that hold for this beer? The last list is NULL. */
static bool is_moot(const struct ab_knowledge *k, const char *const *const *lists, int slot)
{
	for (; *lists != NULL; lists++)
		if (starts_with_any(k->facts->defs[slot].name, *lists))
			return true;
	return false;
}

/* Is there an amount of it in the journal, so that only the beer it went into is missing? */
static bool is_amount_told(const struct ab_batch *batch, const char *name)
{
	bool told = false;

	if (strcmp(name, "hops.dry-load") == 0)
		for (AB_EACH(struct ab_dryhop, h, batch->dryhops))
			told |= h->amount_g.known;
	if (strcmp(name, "pitch.rate-share") == 0)
		for (AB_EACH(struct ab_yeast, y, batch->yeasts))
			told |= y->amount_g.known || y->packs.known;
	if (strcmp(name, "pack.priming-rate") == 0)
		told = batch->package != NULL && batch->package->priming_g.known;
	return told;
}

const char *ab_case_asks(const struct ab_knowledge *k, const struct ab_case *c, int slot)
{
	const struct ab_fact_def *def = &k->facts->defs[slot];
	int volume = ab_fact_slot(k->facts, "recipe.volume");

	if (volume >= 0 && c->batch != NULL && known(k, c, "recipe.volume") == NULL &&
	    is_amount_told(c->batch, def->name))
		def = &k->facts->defs[volume];
	return def->asks;
}

/* Dropped after weighing and not before: which question is moot changes no weight, and the list is short.
 * Checks stay, for their rules say themselves when they can be done. */
void case_drop_moot(const struct ab_knowledge *k, struct ab_case *c)
{
	struct ab_diagnosis *d = c->diagnosis;
	const char *const *lists[7] = { NULL };
	const struct ab_fact *extract = known(k, c, "recipe.extract-share");
	size_t n = 0, asks = 0, unknown = 0;
	if (d->n_asks == 0 && d->n_unknown == 0)
		return;
	if (is_unpackaged(k, c))
		lists[n++] = of_the_package;
	if (!has_tap(k, c))
		lists[n++] = of_a_tap;
	if (is_word(k, c, "pack.into", "bottles"))
		lists[n++] = of_a_keg;
	if (is_word(k, c, "pack.into", "keg") && !is_word(k, c, "serve.from", "bottle"))
		lists[n++] = of_bottles;
	if (extract != NULL && extract->value > 0.5)
		lists[n++] = of_a_sparge;
	if (only_of_the_package(k, c))
		lists[n++] = of_before;
	assert(n < sizeof lists / sizeof *lists);
	for (size_t i = 0; i < d->n_asks; i++)
		if (d->asks[i].is_check || !is_moot(k, lists, d->asks[i].slot))
			d->asks[asks++] = d->asks[i];
	for (size_t i = 0; i < d->n_unknown; i++)
		if (!is_moot(k, lists, d->unknown[i]))
			d->unknown[unknown++] = d->unknown[i];
	d->n_asks = asks;
	d->n_unknown = unknown;
}
