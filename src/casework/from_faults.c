/* from_faults.c - a batch of which nothing is known but what was tasted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <math.h>

#include "base/record.h"
#include "base/str.h"

static enum ab_status no_memory(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

static int place_of(const char *word, const char *const *words)
{
	for (int i = 0; words[i] != NULL; i++)
		if (ab_word_cmp(words[i], word) == 0)
			return i + 1;
	return 0;
}

static enum ab_status set_family(struct ab_batch *batch, const char *family, struct ab_diag *diag)
{
	const char *near;
	if (family == NULL)
		return AB_OK;
	batch->family = place_of(family, ab_words_family);
	if (batch->family > 0)
		return AB_OK;
	near = ab_nearest(family, ab_words_family);
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "there is no style family \"%.40s\"%s%s%s", family,
	    near == NULL ? "" : "; do you mean \"", near == NULL ? "" : near, near == NULL ? "" : "\"?");
}

/* The word is looked up here only to refuse it early and as a wrong use of the command, not as a bad file;
 * the reading of the tasting looks it up again. */
static enum ab_status add_found(const struct ab_knowledge *k, const char *word, double intensity,
    struct ab_arena *arena, struct ab_tasting *tasting, struct ab_diag *diag)
{
	char buf[32];
	if (case_word(k, word, NULL, 0, AB_EUSAGE, diag) < 0)
		return AB_EUSAGE;
	/* NAN means not told: the middle of the scale is taken later, as for a journal. */
	if (!isnan(intensity) && !(intensity >= 1 && intensity <= 5))
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "\"%.40s\" has intensity %s; allowed is 1 (barely there) to 5 (undrinkable)", word,
		    ab_num_text(intensity, buf, sizeof buf));
	struct ab_found *found = ab_arena_push(arena, &tasting->found.items, &tasting->found.n,
	    &tasting->found.cap, sizeof *found);
	if (found == NULL || (found->fault = ab_arena_strdup(arena, word)) == NULL)
		return no_memory(diag);
	found->intensity = (struct ab_num){ .v = intensity, .resolution = 1, .known = !isnan(intensity) };
	return AB_OK;
}

/* A batch like any other, with everything but one tasting missing: no second path through the pipe that
 * could differ from the first. */
enum ab_status ab_case_from_faults(const struct ab_knowledge *k, const char *const *words,
    const double *intensity, size_t n, const char *family, struct ab_arena *arena, struct ab_batch **out,
    struct ab_diag *diag)
{
	struct ab_batch *batch = ab_arena_alloc(arena, 1, sizeof *batch);
	enum ab_status st = AB_OK;
	*out = NULL;
	if (batch == NULL)
		return no_memory(diag);
	batch->id = "faults";
	struct ab_tasting *tasting = ab_arena_push(arena, &batch->tastings.items, &batch->tastings.n,
	    &batch->tastings.cap, sizeof *tasting);
	if (tasting == NULL)
		return no_memory(diag);
	/* Who lists what is wrong with a beer lists all of it: what is not named is weakly absent. */
	tasting->complete = AB_YES;
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = add_found(k, words[i], intensity == NULL ? (double)NAN : intensity[i], arena,
		    tasting, diag);
	if (st == AB_OK)
		st = set_family(batch, family, diag);
	if (st == AB_OK)
		*out = batch;
	return st;
}
