/* contradicted.c - one fault found and absent in one tasting, by two words for it
 *
 * The same word twice is refused by the reader (journal/check.c); that two words are one fault only the rules know.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

static int fault_of(const struct ab_knowledge *k, const char *word)
{
	return word == NULL ? -1 : ab_fault_word(k, word, NULL, 0, NULL);
}

/* The first that was found of that fault; NULL: none. */
static const struct ab_found *found_as(const struct ab_knowledge *k, const struct ab_tasting *t, int fault)
{
	for (AB_EACH(const struct ab_found, f, t->found))
		if (fault >= 0 && fault_of(k, f->fault) == fault)
			return f;
	return NULL;
}

static bool tell(const struct ab_knowledge *k, const struct ab_found *f, const struct ab_absent *a,
    struct ab_arena *arena, struct ab_list *out)
{
	const char *text = ab_arena_printf(arena,
	    "\"%.60s\" is absent and \"%.60s\" found (line %ld) in one tasting, and both are \"%.60s\" here%s. "
	    "Leave one out, or tell the difference in a <note>", a->fault, f->fault, f->mark.line,
	    k->faults[fault_of(k, a->fault)].title, f->feared == AB_YES ? "" : "; it counts as found");
	struct ab_odd *slot = text == NULL ? NULL : ab_arena_push(arena, &out->items, &out->n, &out->cap, sizeof *slot);
	if (slot != NULL)
		*slot = (struct ab_odd){ a->mark.line, text, false };
	return slot != NULL;
}

enum ab_status ab_case_odd(const struct ab_knowledge *k, const struct ab_batch *batch, struct ab_arena *arena,
    struct ab_list *out, struct ab_diag *diag)
{
	for (AB_EACH(const struct ab_tasting, t, batch->tastings))
		for (AB_EACH(const struct ab_absent, a, t->absent)) {
			const struct ab_found *f = found_as(k, t, fault_of(k, a->fault));
			if (f != NULL && !tell(k, f, a, arena, out))
				return ab_fail(diag, AB_ENOMEM, batch->source, 0, "out of memory for the tastings");
		}
	return AB_OK;
}
