/* faults.c - faults of the rules, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <assert.h>

/* The leak is what keeps a fault possible when no known cause is; without it one wrong gate would make true
 * evidence impossible and the diagnosis fail instead of saying "unexplained". */
static void add_leaks(struct compiler *c, const struct raw_fault *raw, struct ab_fault *fault)
{
	const struct raw_strength *items = raw->leaks.items;
	fault->leaks = compile_room(c, raw->leaks.n, sizeof *fault->leaks);
	if (fault->leaks == NULL)
		return;
	/* The last leak that holds is used, so the first has to be the one for every beer. */
	if (raw->leaks.n == 0 || items[0].whens.n > 0)
		compile_wrong(c, raw->head.mark.line,
		    "the first <leak> of fault \"%s\" must be there and have no <when>: every fault "
		    "comes now and "
		    "then without a cause known here", raw->head.id);
	for (size_t i = 0; i < raw->leaks.n; i++) {
		struct ab_leak *leak = &fault->leaks[fault->n_leaks++];
		compile_tail(c, &items[i], leak->tail);
		leak->when = compile_conds(c, &items[i].whens);
		leak->source = compile_source(c, items[i].source, items[i].mark.line);
		/* At the strongest grade above 0, and at any grade below 1: then no grade found is
		 * impossible, and none is sure. */
		if (!(leak->tail[3] > 0) || !(leak->tail[1] < 1))
			compile_wrong(c, items[i].mark.line,
			    "a leak must be above 0 and below 1, else a fault found would be "
			    "impossible or sure");
	}
}

/* One direction only: that "papery" is said for "cardboard" does not mean that it is said the other way
 * round as often. */
static void add_confusions(struct compiler *c, const struct raw_fault *raw, struct ab_fault *fault)
{
	const struct raw_confused *items = raw->confused.items;
	fault->confusions = compile_room(c, raw->confused.n, sizeof *fault->confusions);
	for (size_t i = 0; fault->confusions != NULL && i < raw->confused.n; i++) {
		int with = compile_ref(c, RAW_FAULT, items[i].with, items[i].mark.line);
		if (with < 0)
			continue;
		assert((size_t)with < c->k->n_faults);
		if (&c->k->faults[with] == fault)
			compile_wrong(c, items[i].mark.line, "fault \"%s\" cannot be confused with itself",
			    raw->head.id);
		fault->confusions[fault->n_confusions++] = (struct ab_confusion){ with, items[i].share.v,
			compile_source(c, items[i].source, items[i].mark.line) };
	}
}

/* One more than needed: the list ends with NULL, as ab_nearest wants it. */
static const char **add_words(struct compiler *c, const struct ab_list *raw, const char *element, size_t *n)
{
	const struct raw_text *items = raw->items;
	const char **words = compile_room(c, raw->n + 1, sizeof *words);
	for (size_t i = 0; words != NULL && i < raw->n; i++) {
		if (compile_text(&items[i]) == NULL)
			compile_wrong(c, items[i].mark.line, "<%s/> is empty", element);
		else
			words[(*n)++] = items[i].text;
	}
	return words;
}

/* c->file first: all that is said of this fault below names the file it stands in, also when rules of
 * several folders are merged. */
void compile_fault(struct compiler *c, const struct raw_fault *raw, struct ab_fault *fault)
{
	c->file = raw->head.file;
	fault->id = raw->head.id;
	fault->title = compile_text(raw->title);
	fault->like = compile_text(raw->like);
	fault->caution = compile_text(raw->caution);
	fault->cautions = compile_tells(c, &raw->cautions, "caution", fault->caution, fault->id, &fault->n_cautions);
	fault->severity = raw->severity.v;
	fault->packaged_only = raw->packaged_only == AB_YES;
	fault->line = raw->head.mark.line;
	fault->file = raw->head.file;
	fault->source = compile_source(c, raw->head.source, fault->line);
	if (fault->title == NULL)
		compile_wrong(c, fault->line, "<title> of fault \"%s\" is empty", fault->id);
	fault->words = add_words(c, &raw->words, "word", &fault->n_words);
	fault->opposites = add_words(c, &raw->opposites, "opposite", &fault->n_opposites);
	add_leaks(c, raw, fault);
	add_confusions(c, raw, fault);
}
