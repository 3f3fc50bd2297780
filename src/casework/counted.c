/* counted.c - what a journal tells that counts and has no number: faults found and judged absent, checks, changes,
 * remedies, marks
 *
 * For who wants to see that it was understood. Nothing is decided here: the evidence (evidence.c, checked.c,
 * marked.c), the facts of the tasting and the history take these from the same records.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* The list while it grows. */
struct counting { const struct ab_knowledge *k; struct ab_arena *arena; struct ab_list list; bool short_of_memory; };

static void count(struct counting *c, long line, const char *fmt, ...) __attribute__((format(printf, 3, 4)));

/* Cut, never overrun: words of a change may be long. */
static void count(struct counting *c, long line, const char *fmt, ...)
{
	char text[200];
	va_list ap;
	va_start(ap, fmt);
	int n = vsnprintf(text, sizeof text, fmt, ap);
	va_end(ap);
	struct ab_counted *slot = ab_arena_push(c->arena, &c->list.items, &c->list.n, &c->list.cap, sizeof *slot);
	if (slot != NULL)
		*slot = (struct ab_counted){ line,
			ab_arena_strndup(c->arena, text, n < (int)sizeof text ? (size_t)n : sizeof text - 1) };
	c->short_of_memory |= slot == NULL || slot->text == NULL;
}

/* The fault that a word means, in its own name where that is another: " (diacetyl)". NULL when it means none. */
static const char *meant(const struct counting *c, const char *word, char *own, size_t size)
{
	size_t near = 0;
	int fault = word == NULL ? -1 : ab_fault_word(c->k, word, NULL, 0, &near);
	if (fault < 0)
		return NULL;
	const char *id = c->k->faults[fault].id;
	bool same = strcmp(id, word) == 0;
	snprintf(own, size, "%s%s%s", same ? "" : " (", same ? "" : id, same ? "" : ")");
	return own;
}

static void count_absent(struct counting *c, const struct ab_absent *a)
{
	char own[80];
	if (meant(c, a->fault, own, sizeof own) != NULL)
		count(c, a->mark.line, "judged absent: %.60s%s", a->fault, own);
}

static void count_found(struct counting *c, const struct ab_found *f)
{
	char own[80];
	if (meant(c, f->fault, own, sizeof own) == NULL)
		return;
	if (f->feared == AB_YES)
		count(c, f->mark.line, "feared, not found: %.60s%s", f->fault, own);
	else
		count(c, f->mark.line, "found: %.60s%s, intensity %g%s", f->fault, own,
		    f->intensity.known ? f->intensity.v : CASE_UNTOLD_INTENSITY,
		    f->intensity.known ? "" : " (not told: taken for moderate)");
}

/* What a marked bottle is held against: all that are not marked so (marked.c, and the counts of the report). */
static const char *others_of(const struct ab_batch *b, const struct ab_tasting *t)
{
	bool plain = false, marked = false;

	for (AB_EACH(const struct ab_tasting, other, b->tastings)) {
		plain |= other->mark_on == NULL;
		marked |= other->mark_on != NULL && !ab_same_bottles(other, t);
	}
	return plain && marked ? "held against all others"
	    : plain    ? "held against those without a mark"
	    : marked   ? "held against those with another mark"
		       : "and no others were tasted to hold them against";
}

static void count_tasting(struct counting *c, const struct ab_batch *b, const struct ab_tasting *t)
{
	if (t->complete == AB_YES)
		count(c, t->mark.line, "complete: what is not named there counts as hardly noticed");
	if (t->first_time == AB_YES)
		count(c, t->mark.line, "no batch had it before");
	if (t->mark_on != NULL)
		count(c, t->mark.line, "bottles marked \"%.60s\", %s", t->mark_on, others_of(b, t));
	for (AB_EACH(const struct ab_found, f, t->found))
		count_found(c, f);
	for (AB_EACH(const struct ab_absent, a, t->absent))
		count_absent(c, a);
}

static void count_change(struct counting *c, const struct ab_change_note *n)
{
	const char *what = n->what != NULL ? n->what : n->text;
	if (what != NULL)
		count(c, n->mark.line, "changed since the last batch: %.80s%s", what,
		    n->adopted == AB_NO ? ", on trial" : "");
}

static void count_remedy(struct counting *c, const struct ab_remedy *r)
{
	int change = case_remedy(c->k, r);
	const char *said = r->what != NULL ? r->what : r->text;
	const char *title = change >= 0 ? c->k->changes[change].title : NULL;
	if (said != NULL && r->helped != AB_UNKNOWN)
		count(c, r->mark.line, "tried, and it %s: %.80s%s%.80s%s",
		    r->helped == AB_YES ? "helped" : "did not help", said, title != NULL ? ", taken for \"" : "",
		    title != NULL ? title : "", title != NULL ? "\"" : " (no change known here: it tells nothing)");
}

bool case_counted(const struct ab_knowledge *k, struct ab_case *out, struct ab_arena *arena)
{
	struct counting c = { .k = k, .arena = arena };
	for (AB_EACH(const struct ab_tasting, t, out->batch->tastings))
		count_tasting(&c, out->batch, t);
	for (AB_EACH(const struct ab_test, t, out->batch->tests))
		count(&c, t->mark.line, "check %.60s: %s", t->kind, t->result == AB_YES ? "yes" : "no");
	for (AB_EACH(const struct ab_change_note, n, out->batch->changes))
		count_change(&c, n);
	for (AB_EACH(const struct ab_remedy, r, out->batch->remedies))
		count_remedy(&c, r);
	out->counted = c.list.items;
	out->n_counted = c.list.n;
	return !c.short_of_memory;
}
