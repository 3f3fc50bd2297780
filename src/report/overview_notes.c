/* overview_notes.c - what the brewer wrote in plain words about a batch: the notes of its journal
 *
 * Nobody but the brewer can read them for what they are: shown as they stand, and never weighed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <string.h>

#include "report/saying.h"

/* More would bury the page; the journal has them all. What is longer than a look unfolds. */
enum { MOST_NOTES = 12, MOST_LETTERS = 600, A_LOOK = 500 };

struct noting {
	struct page *p;
	bool counting;         /* the first of two walks: how many there are, and how long */
	size_t told, left, letters;
};

/* Lines are broken by the page, not as the journal's were. */
static const char *in_one_line(struct page *p, const char *text)
{
	char *line = p->bad ? NULL : ab_arena_alloc(p->arena, strlen(text) + 1, 1);
	size_t n = 0;

	if (line == NULL) {
		p->bad = true;
		return "";
	}
	for (const char *at = text; *at != '\0'; at++) {
		bool blank = strchr(" \t\r\n", *at) != NULL;
		if (!blank || (n > 0 && line[n - 1] != ' '))
			line[n++] = blank ? ' ' : *at;
	}
	line[n] = '\0';
	return line;
}

/* An empty note is no note. Cut between letters, and said to be cut. */
static void note(struct noting *n, const char *about, const char *text)
{
	if (text == NULL || text[strspn(text, " \t\r\n")] == '\0')
		return;
	if (n->told == MOST_NOTES) {
		n->left++;
		return;
	}
	n->told++;
	size_t len = strlen(text);
	n->letters += len < MOST_LETTERS ? len : MOST_LETTERS;
	if (n->counting)
		return;
	const char *line = in_one_line(n->p, text);
	size_t fit = page_fit(line, strlen(line), MOST_LETTERS);
	page_item(n->p, 2, "*", PLAIN);
	page_say(n->p, QUIET, page_text(n->p, "%s: ", about));
	page_say(n->p, PLAIN,
	    line[fit] != '\0' ? page_text(n->p, "%.*s\u2026 (the rest stands in the journal)", (int)fit, line)
			      : line);
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

static void walk(struct noting *n, const struct ab_batch *batch)
{
	notes_of(n, "The batch", &batch->notes);
	if (batch->recipe != NULL)
		notes_of(n, "The recipe", &batch->recipe->notes);
	for (AB_EACH(const struct ab_change_note, c, batch->changes))
		note(n, "New with it", c->text);
	for (AB_EACH(const struct ab_remedy, r, batch->remedies))
		note(n, r->helped == AB_YES ? "Tried, and it helped" : "Tried, and it did not help", r->text);
	for (AB_EACH(const struct ab_tasting, t, batch->tastings))
		tasting_notes(n, t);
}

bool overview_notes(struct page *p, const struct ab_batch *batch)
{
	struct noting count = { .p = p, .counting = true }, n = { .p = p };

	walk(&count, batch);
	if (count.told == 0)
		return false;
	bool folded = count.letters > A_LOOK;
	if (folded) {
		page_end(p);
		ab_str_addf(&p->out, "<details class=\"words\"><summary>What you wrote down, %zu %s</summary>\n",
		    count.told + count.left, count.told == 1 ? "note" : "notes");
	} else {
		page_section(p, "What you wrote down");
	}
	walk(&n, batch);
	if (n.left > 0)
		page_para(p, 2, QUIET, page_text(p, "And %zu more in the journal.", n.left));
	page_end(p);
	ab_str_add(&p->out, folded ? "</details>\n" : "");
	return true;
}
