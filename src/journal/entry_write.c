/* entry_write.c - what a line of plain words told goes into the journal: as an element of the batch, into its
 * recipe, or as attributes of what is there
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "journal/edit.h"

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* The text as a copy of its own, for the editor of files. */
static enum ab_status hand_over(struct ab_str *s, char **text, size_t *len, struct ab_diag *diag)
{
	*text = ab_str_ok(s) ? ab_strdup(ab_str_text(s)) : NULL;
	*len = s->len;
	return *text != NULL ? AB_OK : nomem(diag);
}

static enum ab_status no_batch(const struct ab_edit_place *p, struct ab_diag *diag)
{
	return ab_fail(diag, AB_EINPUT, NULL, p->line,
	    "the batch \"%.64s\" was not found in the text; write its id plainly", p->batch_id);
}

/* What the makers of a new text are handed. */
struct writing { const struct ab_entry *entry; };

/* ---- the recipe ---- */

/* Right behind the start of the batch, where a journal begins with it: what is logged later stands below, and can be
 * taken back as the last entry. */
static void add_recipe(struct ab_str *out, const struct ab_edit_place *p, const struct ab_scan_batch *batch)
{
	const char *behind = batch->attrs_end + 1;

	if (batch->end_tag == NULL) {
		ab_append_inside(out, p->text, p->len, batch, "<recipe>\n\t</recipe>");
		return;
	}
	ab_str_addn(out, p->text, (size_t)(behind - p->text));
	ab_str_addf(out, "\n\t<%.*srecipe>\n\t</%.*srecipe>",
	    (int)(batch->prefixed ? strcspn(batch->name, ":") + 1 : 0), batch->name,
	    (int)(batch->prefixed ? strcspn(batch->name, ":") + 1 : 0), batch->name);
	ab_str_addn(out, behind, p->len - (size_t)(behind - p->text));
}

/* The text with a recipe in its batch, as it is when it has one. */
static enum ab_status with_recipe(const struct ab_edit_place *p, struct ab_str *out, struct ab_diag *diag)
{
	struct ab_scan_batch batch, recipe;

	if (!ab_scan_find_batch(p->text, p->len, p->batch_id, p->line, &batch))
		return no_batch(p, diag);
	if (ab_scan_find_child(&batch, "recipe", 0, &recipe))
		ab_str_addn(out, p->text, p->len);
	else
		add_recipe(out, p, &batch);
	return ab_str_ok(out) ? AB_OK : nomem(diag);
}

static enum ab_status make_inside(void *ctx, const struct ab_edit_place *place, const struct ab_batch *b, char **text,
    size_t *len, struct ab_diag *diag)
{
	const struct ab_entry *entry = ((const struct writing *)ctx)->entry;
	struct ab_scan_batch batch, recipe;
	struct ab_str first, out;
	(void)b;

	ab_str_init(&first, AB_JOURNAL_LIMIT);
	ab_str_init(&out, AB_JOURNAL_LIMIT);
	enum ab_status st = with_recipe(place, &first, diag);
	if (st == AB_OK && (!ab_scan_find_batch(ab_str_text(&first), first.len, place->batch_id, place->line, &batch) ||
	    !ab_scan_find_child(&batch, "recipe", 0, &recipe)))
		st = no_batch(place, diag);
	if (st == AB_OK) {
		ab_append_inside(&out, ab_str_text(&first), first.len, &recipe, entry->element);
		st = hand_over(&out, text, len, diag);
	}
	ab_str_clear(&first);
	ab_str_clear(&out);
	return st;
}

/* ---- attributes ---- */

static enum ab_status make_sets(void *ctx, const struct ab_edit_place *place, const struct ab_batch *b, char **text,
    size_t *len, struct ab_diag *diag)
{
	const struct ab_entry *entry = ((const struct writing *)ctx)->entry;
	struct ab_str now, next;
	(void)b;

	ab_str_init(&now, AB_JOURNAL_LIMIT);
	enum ab_status st = strcmp(entry->name, "recipe") == 0 ? with_recipe(place, &now, diag) : AB_OK;
	if (st == AB_OK && now.len == 0)
		ab_str_addn(&now, place->text, place->len);
	for (size_t i = 0; st == AB_OK && i < entry->n_sets; i++) {
		struct ab_edit_place at = { ab_str_text(&now), now.len, place->batch_id, place->line };
		ab_str_init(&next, AB_JOURNAL_LIMIT);
		st = ab_str_ok(&now)
		    ? ab_edit(&at, entry->sets[i].target, entry->sets[i].value,
			  entry->guess || entry->sets[i].rough, &next, diag)
		    : nomem(diag);
		ab_str_clear(&now);
		now = next;
	}
	if (st == AB_OK)
		st = hand_over(&now, text, len, diag);
	ab_str_clear(&now);
	return st;
}

enum ab_status ab_entry_write(
    const char *path, const char *batch_id, const struct ab_entry *entry, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	for (; st == AB_OK && entry != NULL; entry = entry->also) {
		struct writing w = { entry };
		st = entry->n_sets > 0 ? ab_edit_file(path, batch_id, make_sets, &w, diag)
		    : entry->inside != NULL ? ab_edit_file(path, batch_id, make_inside, &w, diag)
		    : ab_journal_append(path, batch_id, entry->element, diag);
	}
	return st;
}

/* ---- taken back ---- */

struct taking { const char *part; char *removed; };

/* The last element of that name in the recipe. */
static bool find_last(const struct ab_edit_place *place, const char *part, struct ab_scan_batch *out)
{
	struct ab_scan_batch batch, recipe;
	bool any = false;

	if (!ab_scan_find_batch(place->text, place->len, place->batch_id, place->line, &batch) ||
	    !ab_scan_find_child(&batch, "recipe", 0, &recipe))
		return false;
	for (size_t i = 0; ab_scan_find_child(&recipe, part, i, out); i++)
		any = true;
	for (size_t i = 0; any && ab_scan_find_child(&recipe, part, i, &batch); i++)
		*out = batch;
	return any;
}

/* Where the element ends, and the line it had to itself. */
static void bounds(const struct ab_edit_place *p, const struct ab_scan_batch *e, const char **from, const char **to)
{
	const char *end = p->text + p->len, *gt = memchr(e->end_tag != NULL ? e->end_tag : e->attrs_end, '>',
	    (size_t)(end - (e->end_tag != NULL ? e->end_tag : e->attrs_end)));

	*from = e->start;
	*to = gt != NULL ? gt + 1 : end;
	const char *start = e->start, *after = *to;
	while (start > p->text && (start[-1] == ' ' || start[-1] == '\t'))
		start--;
	after += after < end && *after == '\r';
	if (start > p->text && start[-1] == '\n' && after < end && *after == '\n') {
		*from = start;
		*to = after + 1;
	}
}

static enum ab_status make_taken(void *ctx, const struct ab_edit_place *place, const struct ab_batch *b, char **text,
    size_t *len, struct ab_diag *diag)
{
	struct taking *t = ctx;
	struct ab_scan_batch element;
	struct ab_str out;
	const char *from, *to;
	(void)b;

	if (!find_last(place, t->part, &element))
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "the recipe of \"%.64s\" has no %s that could be taken back", place->batch_id, t->part);
	bounds(place, &element, &from, &to);
	t->removed = ab_malloc((size_t)(to - from) + 1);
	if (t->removed == NULL)
		return nomem(diag);
	size_t n = strcspn(element.start, ">") + 1;
	memcpy(t->removed, element.start, n);
	t->removed[n] = '\0';
	ab_str_init(&out, AB_JOURNAL_LIMIT);
	ab_str_addn(&out, place->text, (size_t)(from - place->text));
	ab_str_addn(&out, to, place->len - (size_t)(to - place->text));
	enum ab_status st = hand_over(&out, text, len, diag);
	ab_str_clear(&out);
	return st;
}

enum ab_status ab_entry_take_back(const char *path, const char *batch_id, const char *part, char **removed,
    struct ab_diag *diag)
{
	struct taking t = { part, NULL };
	enum ab_status st = ab_edit_file(path, batch_id, make_taken, &t, diag);

	*removed = t.removed;
	if (st == AB_OK)
		return st;
	ab_free(t.removed);
	*removed = NULL;
	return st;
}
