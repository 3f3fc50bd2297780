/* overview_notes.c - what the brewer wrote in plain words about a batch: the notes of its journal
 *
 * Nobody but the brewer can read them for what they are: shown as they stand, and never weighed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <string.h>

#include "report/saying.h"

/* More would bury the page; the journal has them all. */
enum { MOST_NOTES = 12, MOST_LETTERS = 600 };

struct noting {
	struct page *p;
	size_t told, left;
};

/* An empty note is no note. Cut between letters, and said to be cut. */
static void note(struct noting *n, const char *about, const char *text)
{
	if (text == NULL || text[strspn(text, " \t\r\n")] == '\0')
		return;
	if (n->told == MOST_NOTES) {
		n->left++;
		return;
	}
	if (n->told++ == 0)
		page_section(n->p, "What you wrote down");
	size_t len = strlen(text), fit = page_fit(text, len, MOST_LETTERS);
	page_item(n->p, 2, "*", PLAIN);
	page_say(n->p, QUIET, page_text(n->p, "%s: ", about));
	page_say(n->p, PLAIN, fit < len ? page_text(n->p, "%.*s\u2026 (the rest stands in the journal)", (int)fit, text) : text);
	page_end(n->p);
}

static void notes_of(struct noting *n, const char *about, const struct ab_list *notes)
{
	for (AB_EACH(const struct ab_note, one, *notes))
		note(n, about, one->text);
}

static void tasting_notes(struct noting *n, const struct ab_tasting *t)
{
	const char *when = t->at.known ? page_text(n->p, "Tasted %s", say_date(n->p, t->at.s)) : "Tasted";
	const char *about = t->by != NULL ? page_text(n->p, "%s by %s", when, t->by) : when;

	notes_of(n, about, &t->notes);
	for (AB_EACH(const struct ab_found, f, t->found))
		note(n, page_text(n->p, "%s, %s", about, f->fault), f->note);
	note(n, page_text(n->p, "%s, for next time", about), t->next_time);
}

bool overview_notes(struct page *p, const struct ab_batch *batch)
{
	struct noting n = { p, 0, 0 };

	notes_of(&n, "The batch", &batch->notes);
	if (batch->recipe != NULL)
		notes_of(&n, "The recipe", &batch->recipe->notes);
	for (AB_EACH(const struct ab_change_note, c, batch->changes))
		note(&n, "New with it", c->text);
	for (AB_EACH(const struct ab_tasting, t, batch->tastings))
		tasting_notes(&n, t);
	if (n.left > 0)
		page_para(p, 2, QUIET, page_text(p, "And %zu more in the journal.", n.left));
	return n.told > 0;
}
