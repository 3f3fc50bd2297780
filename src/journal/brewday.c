/* brewday.c - the day a batch was really brewed, where its journal was begun on another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <math.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "journal/edit.h"
#include "journal/moments.h"

enum { DAY = 86400 };

static bool says(const struct ab_entry *e, const char *target, const char *value)
{
	for (size_t i = 0; i < e->n_said; i++)
		if (strcmp(e->said[i].target, target) == 0 && (value == NULL || strcmp(e->said[i].value, value) == 0))
			return true;
	return false;
}

/* The original gravity counts from pitching, and moves with it. */
static enum ab_status stop_at_any(void *ctx, const struct ab_batch *b, const struct ab_moment *m, struct ab_diag *diag)
{
	(void)ctx;
	return ab_batch_since_pitch(b, m->when) == 0 ? AB_OK
						     : ab_fail(diag, AB_EINPUT, NULL, 0, "something has happened");
}

static bool is_untouched(const struct ab_batch *b)
{
	return b->pitch == NULL && b->mash == NULL && b->boil == NULL && b->chill == NULL && b->stand == NULL &&
	    b->lag == NULL && b->package == NULL && b->aerations.n == 0 &&
	    ab_batch_each_moment(b, stop_at_any, NULL, NULL) == AB_OK;
}

bool ab_entry_moves_brew(const struct ab_batch *batch, const struct ab_entry *entry, struct ab_when *day)
{
	static const char *const parts[] = { "mash", "boil", "stand", "chill", "aerate", "pitch", NULL };
	bool brewing = says(entry, "!reading at", "+0h");
	for (const char *const *p = parts; *p != NULL; p++)
		brewing = brewing || strcmp(entry->name, *p) == 0;
	double s = floor(entry->at.s / DAY) * DAY;

	if (!brewing || !entry->at.known || entry->at.relative || !batch->brewed.known || !(s > batch->brewed.s) ||
	    !is_untouched(batch))
		return false;
	*day = (struct ab_when){ .known = true, .date_only = true, .s = s + DAY / 2 };
	return true;
}

static enum ab_status make_moved(void *ctx, const struct ab_edit_place *place, const struct ab_batch *b, char **text,
    size_t *len, struct ab_diag *diag)
{
	struct ab_str out;
	(void)b;

	ab_str_init(&out, AB_JOURNAL_LIMIT);
	enum ab_status st = ab_edit(place, "!batch brewed", ctx, false, &out, diag);
	*text = st == AB_OK && ab_str_ok(&out) ? ab_strdup(ab_str_text(&out)) : NULL;
	*len = out.len;
	ab_str_clear(&out);
	return st != AB_OK ? st : *text != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

enum ab_status ab_entry_move_brew(
    const char *path, const char *batch_id, const struct ab_when *day, struct ab_diag *diag)
{
	char text[32];

	ab_when_write(day, text, sizeof text);
	return ab_edit_file(path, batch_id, make_moved, text, diag);
}
