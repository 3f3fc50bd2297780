/* amend.c - one element more, or one less, in a brewery profile, every other byte as it was
 *
 * As append.c does it for journals: what the small scanner finds is believed only if the real reader sees the
 * same profile with just that difference.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/profile.h>

#include <assert.h>
#include <string.h>

#include "base/alloc.h"
#include "base/lock.h"
#include "base/savefile.h"
#include "base/str.h"
#include "journal/scan.h"
#include "journal/tables.h"

enum { CHANGED = -1, ADDED = 1 };

/* By the table, so that an element added to the profile is counted without a line here. The profile stands
 * first in what the table describes (profile.c). */
static size_t count(const struct ab_profile *p)
{
	size_t n = 0;
	for (const struct ab_elem_spec *e = ab_profile_doc.root->children; e->name != NULL; e++) {
		struct ab_list list = { 0 };
		if (e->many)
			memcpy(&list, (const char *)p + e->at, sizeof list);
		else
			memcpy(&list.items, (const char *)p + e->at, sizeof list.items);
		n += e->many ? list.n : list.items != NULL;
	}
	return n;
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

/* As a line of its own where the end tag has one, indented by two blanks. */
static bool build_added(const char *text, size_t len, const char *element, struct ab_str *out)
{
	struct ab_scan_batch root;
	if (!ab_scan_find_root(text, len, &root))
		return false;
	const char *at = root.end_tag != NULL ? root.end_tag : root.slash, *start = at;
	const char *ns = root.prefixed ? " xmlns=\"" AB_PROFILE_NS "\"" : "";
	size_t name = strcspn(element, " />");
	while (root.end_tag != NULL && start > text && is_blank(start[-1]))
		start--;
	bool own = root.end_tag != NULL && start > text && start[-1] == '\n';
	ab_str_addn(out, text, (size_t)((own ? start : at) - text));
	ab_str_add(out, root.end_tag == NULL ? ">\n  " : own ? "  " : "\n  ");
	ab_str_addn(out, element, name);
	ab_str_addf(out, "%s%s\n", ns, element + name);
	if (root.end_tag != NULL) {
		ab_str_addn(out, own ? start : at, len - (size_t)((own ? start : at) - text));
		return true;
	}
	ab_str_addf(out, "</%.*s", (int)root.name_len, root.name);
	ab_str_addn(out, root.slash + 1, len - (size_t)(root.slash + 1 - text));
	return true;
}

/* With its line, when it has one to itself. */
static bool build_removed(const char *text, size_t len, size_t n, struct ab_str *out)
{
	struct ab_scan_batch root, last;
	const char *begin, *end, *line, *past;
	if (n == 0 || !ab_scan_find_root(text, len, &root) || !ab_scan_find_child(&root, "changed", n - 1, &last))
		return false;
	begin = last.start;
	end = memchr(last.end_tag != NULL ? last.end_tag : last.slash, '>',
	    (size_t)(text + len - (last.end_tag != NULL ? last.end_tag : last.slash)));
	if (end++ == NULL)
		return false;
	for (line = begin; line > text && is_blank(line[-1]); line--)
		;
	for (past = end; past < text + len && (is_blank(*past) || *past == '\r'); past++)
		;
	if ((line == text || line[-1] == '\n') && past < text + len && *past == '\n') {
		begin = line;
		end = past + 1;
	}
	ab_str_addn(out, text, (size_t)(begin - text));
	ab_str_addn(out, end, len - (size_t)(end - text));
	return true;
}

/* What the real reader makes of it must differ by one element, and by a <changed> when one was taken out. */
static enum ab_status check(const char *path, const struct ab_str *s, const struct ab_profile *before,
    int more, struct ab_arena *arena, struct ab_diag *diag)
{
	struct ab_profile *after;
	struct ab_diag why;
	ab_diag_init(&why);
	enum ab_status st = ab_profile_read_memory(ab_str_text(s), s->len, path, arena, &after, &why);
	if (st != AB_OK)
		return ab_fail(diag, st, path, why.line, "not written, for the profile would not read any more: %.600s",
		    why.text);
	if (count(after) != count(before) + (size_t)more ||
	    (more == CHANGED && after->changed.n + 1 != before->changed.n))
		return ab_fail(diag, AB_EINPUT, path, 0,
		    "not written: the profile would differ in more than one element");
	return AB_OK;
}

/* Everything under the lock: reading too, or another's entry could come in between. */
static enum ab_status amend(const char *path, const char *element, ab_profile_may_go *may, void *ctx,
    struct ab_arena *arena, struct ab_profile **before, struct ab_diag *diag)
{
	char *text = NULL;
	size_t len = 0;
	int lock = -1, more = element != NULL ? ADDED : CHANGED;
	struct ab_str out;
	ab_str_init(&out, AB_JOURNAL_LIMIT);
	enum ab_status st = ab_lock_beside(path, &lock, diag);
	if (st == AB_OK)
		st = ab_loadfile(path, AB_JOURNAL_LIMIT, &text, &len, diag);
	if (st == AB_OK)
		st = ab_profile_read_memory(text, len, path, arena, before, diag);
	if (st == AB_OK && more == CHANGED && (*before)->changed.n == 0)
		st = ab_fail(diag, AB_EUSAGE, path, 0, "no change is noted there to take back");
	if (st == AB_OK && may != NULL)
		st = may(ctx, &((const struct ab_changed *)(*before)->changed.items)[(*before)->changed.n - 1], diag);
	if (st == AB_OK && !(element != NULL ? build_added(text, len, element, &out)
					     : build_removed(text, len, (*before)->changed.n, &out)))
		st = ab_fail(diag, AB_EINPUT, path, 0, "the place to write to was not found; save the file as UTF-8");
	if (st == AB_OK && !ab_str_ok(&out))
		st = ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
	if (st == AB_OK)
		st = check(path, &out, *before, more, arena, diag);
	if (st == AB_OK)
		st = ab_savefile(path, ab_str_text(&out), out.len, diag);
	ab_unlock(lock);
	ab_str_clear(&out);
	ab_free(text);
	return st;
}

enum ab_status ab_profile_append(const char *path, const char *element, struct ab_diag *diag)
{
	struct ab_profile *before;
	struct ab_arena *arena = ab_arena_new();
	enum ab_status st = arena == NULL ? ab_fail(diag, AB_ENOMEM, path, 0, "out of memory")
					  : amend(path, element, NULL, NULL, arena, &before, diag);
	ab_arena_free(arena);
	return st;
}

enum ab_status ab_profile_undo_changed(const char *path, ab_profile_may_go *may, void *ctx, struct ab_arena *arena,
    struct ab_changed **removed, struct ab_diag *diag)
{
	struct ab_profile *before = NULL;
	enum ab_status st = amend(path, NULL, may, ctx, arena, &before, diag);
	*removed = NULL;
	if (st != AB_OK)
		return st;
	assert(before->changed.n > 0);
	struct ab_changed *all = before->changed.items;
	*removed = &all[before->changed.n - 1];
	return AB_OK;
}
