/* newbatch.h - the journal of a batch that is about to be brewed, and what its line has to say before it is
 *
 * A new journal repeats what was intended the last time (the recipe: amounts, gravities, hops, and how long after
 * pitching sugar or fruit went into the fermenting beer), and nothing of what happened: no other times, no
 * readings, no tastings. How the last brew was done stands in a comment, to be taken over or not: what is in a
 * comment is no fact, so a habit that may repeat is not told as if it had. For another volume the comment leaves
 * amounts out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_NEWBATCH_H
#define AFTERBOIL_NEWBATCH_H

#include <afterboil/profile.h>

struct ab_newbatch {
	const char *id, *line, *title, *family, *wort;   /* id is needed; the others may be NULL. wort: shared with
	                                                  * the other parts of a split brew */
	struct ab_when brewed;                /* known, a date */
	const struct ab_profile *profile;     /* gives the batch size where no recipe does; or NULL */
	const struct ab_batch *like;          /* the brew to repeat; or NULL */
	const char *like_text; size_t like_len;   /* the UTF-8 text of the file it was read from */
	const struct ab_num *volume;          /* L; amounts are scaled to it; or NULL */
	const char *volume_text;              /* the same as written, "4 L" */
	const char *const *notes; size_t n_notes;   /* become <note>s */
};

/* The whole text, in the arena. Amounts are scaled to three significant digits when a volume is given and the
 * recipe to repeat tells its own. AB_EINPUT: like is not found in its text (an id written with a character
 * reference); AB_ENOMEM. */
enum ab_status ab_newbatch_text(const struct ab_newbatch *b, struct ab_arena *arena, const char **out,
    struct ab_diag *diag);

/* Letters and digits of text in small letters with single hyphens between, at most 40: "House Pale!" is
 * "house-pale". "" when none is left; NULL when memory is short. */
const char *ab_newbatch_slug(struct ab_arena *arena, const char *text);

/* An id no batch has: the stem with the number after the highest in use ("house-pale-7"), at least 1. */
const char *ab_newbatch_id(struct ab_batch *const *batches, size_t n, const char *stem, struct ab_arena *arena);
/* The id without the number it ends with: "house-pale-6" is "house-pale". */
const char *ab_newbatch_stem(struct ab_arena *arena, const char *id);

/* ---- what a line says; batches stand in order of brewing ---- */

/* The newest batch called so: by its line, its title, or its id without the number; letters' size, blanks and
 * hyphens do not matter. NULL when there is none. */
const struct ab_batch *ab_line_find(struct ab_batch *const *batches, size_t n, const char *name,
    struct ab_arena *arena);
/* Are both of one line? Without a line a batch is only like itself. */
bool ab_line_same(const struct ab_batch *a, const struct ab_batch *b);

/* The newest "next time" told of the line of b, and of which batch; NULL when there is none. */
const char *ab_line_next_time(struct ab_batch *const *batches, size_t n, const struct ab_batch *b,
    const struct ab_batch **of);

/* Changes of the profile that a brew of this line on this day is to try: in force then, and no batch brewed
 * with it (of its line, where it has one) was tasted yet. At most max are written, newest first; how many is
 * returned. */
size_t ab_line_on_trial(const struct ab_profile *profile, struct ab_batch *const *batches, size_t n,
    const char *line, const struct ab_when *on, const struct ab_changed **out, size_t max);

#endif
