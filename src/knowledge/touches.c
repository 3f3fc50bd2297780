/* touches.c - what a batch asks of a brewer's time, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <math.h>
#include <string.h>

#include "base/str.h"

enum { DAY = 86400 };

bool ab_touch_by_note(enum ab_shown shown)
{
	static const bool needs_record[] = { [AB_SHOWN_PITCH] = true,
		[AB_SHOWN_GRAVITY] = true,
		[AB_SHOWN_SAME_GRAVITY] = true,
		[AB_SHOWN_DRY_HOP] = true,
		[AB_SHOWN_PACKAGE] = true,
		[AB_SHOWN_TASTING] = true,
		[AB_SHOWN_RETASTE] = true,
		[AB_SHOWN_CLEANING] = false,
		[AB_SHOWN_COOL] = false,
		[AB_SHOWN_FORCED] = false };
	return !needs_record[shown];
}

/* after="dry-hop reading": names of touches that stand before this one, so that no ring can be tied. */
static void add_after(struct compiler *c, const struct raw_touch *raw, struct ab_touch *touch, int own)
{
	const char *text = raw->after == NULL ? "" : raw->after;
	char id[72];
	touch->after = compile_room(c, strlen(text) / 2 + 1, sizeof *touch->after);
	while (touch->after != NULL && compile_next(&text, id, sizeof id)) {
		int after = compile_ref(c, RAW_TOUCH, id, raw->head.mark.line);
		if (after >= own)
			compile_wrong(c, raw->head.mark.line, "touch \"%s\" comes after \"%s\", which must stand "
			    "before it in the rules", touch->id, id);
		else if (after >= 0)
			touch->after[touch->n_after++] = after;
	}
}

static void add_takes(struct compiler *c, const struct raw_touch *raw, struct ab_touch *touch)
{
	const struct raw_takes *items = raw->takes.items;
	touch->takes = compile_room(c, raw->takes.n, sizeof *touch->takes);
	for (size_t i = 0; touch->takes != NULL && i < raw->takes.n; i++) {
		const struct raw_takes *t = &items[i];
		if (!(t->low.v <= t->minutes.v && t->minutes.v <= t->high.v))
			compile_wrong(
			    c, t->mark.line, "minutes of touch \"%s\" must rise: low, minutes, high", touch->id);
		touch->takes[touch->n_takes++] = (struct ab_takes){ t->minutes.v, t->low.v, t->high.v,
			compile_conds(c, &t->whens), compile_source(c, t->source, t->mark.line) };
	}
	if (touch->n_takes > 0 && touch->takes[0].when.n > 0)
		compile_wrong(c, items[0].mark.line, "the first <takes> of touch \"%s\" must hold always: no <when>",
		    touch->id);
}

static void add_dues(struct compiler *c, const struct raw_touch *raw, struct ab_touch *touch)
{
	const struct raw_due *items = raw->dues.items;
	touch->dues = compile_room(c, raw->dues.n, sizeof *touch->dues);
	for (size_t i = 0; touch->dues != NULL && i < raw->dues.n; i++) {
		const struct raw_due *d = &items[i];
		touch->dues[touch->n_dues++] = (struct ab_due){ .pace = (enum ab_pace)d->pace,
			.share = d->share.known ? d->share.v : 1, .slow = d->slow.known ? d->slow.v : 1,
			.from_days = d->from_s.known ? d->from_s.v / DAY : 0, .waits_days = d->waits_s.v / DAY,
			.when = compile_conds(c, &d->whens), .source = compile_source(c, d->source, d->mark.line) };
	}
	if (touch->n_dues > 0 && touch->dues[0].when.n > 0)
		compile_wrong(c, items[0].mark.line, "the first <due> of touch \"%s\" must hold always: no <when>",
		    touch->id);
}

/* What a touch prepares stands after it, so that the schedule can lay it first. */
static void add_before(struct compiler *c, const struct raw_touch *raw, struct ab_touch *touch, int own)
{
	touch->before = raw->before == NULL ? -1 : compile_ref(c, RAW_TOUCH, raw->before, raw->head.mark.line);
	if (touch->before >= 0 && touch->before <= own)
		compile_wrong(c, raw->head.mark.line, "touch \"%s\" comes before \"%s\", which must stand after it in "
		    "the rules", touch->id, raw->before);
}

/* A note must tick one touch and no other: no word is, or begins, that of another. */
static void check_words(struct compiler *c, const struct ab_touch *touch, const char *word, long line)
{
	for (size_t i = 0; i < c->k->n_touches; i++)
		for (size_t j = 0; j < c->k->touches[i].n_words; j++)
			if (ab_word_begins(word, c->k->touches[i].words[j]) ||
			    ab_word_begins(c->k->touches[i].words[j], word))
				compile_wrong(c, line,
				    "the word \"%s\" of touch \"%s\" begins as \"%s\" of \"%s\" does: a note ticks "
				    "one touch",
				    word, touch->id, c->k->touches[i].words[j], c->k->touches[i].id);
}

static void add_words(struct compiler *c, const struct raw_touch *raw, struct ab_touch *touch)
{
	const struct raw_text *items = raw->words.items;
	touch->words = compile_room(c, raw->words.n + 1, sizeof *touch->words);
	for (size_t i = 0; touch->words != NULL && i < raw->words.n; i++) {
		const char *word = compile_text(&items[i]);
		if (word == NULL || word[0] == '\0') {
			compile_wrong(c, items[i].mark.line, "<word/> is empty");
			continue;
		}
		check_words(c, touch, word, items[i].mark.line);
		touch->words[touch->n_words++] = word;
	}
	if (touch->n_words > 0 && !ab_touch_by_note(touch->shown))
		compile_wrong(c, raw->head.mark.line,
		    "touch \"%s\" is shown by a record, so no note ticks it: leave its <word> out", touch->id);
}

static void compile_touch(struct compiler *c, const struct raw_touch *raw, struct ab_touch *touch, int own)
{
	long line = raw->head.mark.line;
	c->file = raw->head.file;
	*touch = (struct ab_touch){ .id = raw->head.id,
		.title = compile_text(raw->title),
		.how = compile_text(raw->how),
		.waiting = compile_text(raw->waiting),
		.caution = compile_text(raw->caution),
		.goal = raw->goal == AB_YES,
		.upkeep = raw->upkeep == AB_YES,
		.lapses = raw->lapses == AB_YES,
		.shared = raw->shared == AB_YES,
		.tell = compile_text(raw->tell),
		.item = raw->item,
		.shown = (enum ab_shown)raw->shown,
		.hour = raw->hour.known ? raw->hour.v : (double)NAN,
		.source = compile_source(c, raw->head.source, line),
		.line = line,
		.file = raw->head.file };
	add_after(c, raw, touch, own);
	add_before(c, raw, touch, own);
	add_words(c, raw, touch);
	if ((touch->shown == AB_SHOWN_CLEANING) != (raw->item != NULL))
		compile_wrong(c, line,
		    "touch \"%s\": item= says of what the cleaning shows it; the one needs the other", touch->id);
	else if (raw->item != NULL && c->vocabulary != NULL)
		compile_word(c, "item", raw->item, c->vocabulary->gear, line);
	touch->tells = compile_tells(c, &raw->tells, "tell", touch->tell, touch->id, &touch->n_tells);
	add_takes(c, raw, touch);
	add_dues(c, raw, touch);
	touch->only_for = compile_alternatives(c, &raw->only_for);
	touch->n_only_for = raw->only_for.n;
	touch->not_for = compile_alternatives(c, &raw->not_for);
	touch->n_not_for = raw->not_for.n;
	/* The first begins the batch; all others hang on something. */
	if ((own == 0) != (raw->after == NULL) || (own == 0) != (raw->dues.n == 0))
		compile_wrong(c, line,
		    own == 0 ? "touch \"%s\" is the first: it comes after nothing and is due at no time"
			     : "touch \"%s\" needs after= and a <due>",
		    touch->id);
	if (own == 0 && raw->only_for.n + raw->not_for.n > 0)
		compile_wrong(c, line, "touch \"%s\" is the first: it is for every beer", touch->id);
}

void compile_touches(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_TOUCH].n, goals = 0;
	c->k->touches = compile_room(c, n, sizeof *c->k->touches);
	for (size_t i = 0; c->k->touches != NULL && i < n; i++) {
		compile_touch(c, RAW_AT(const struct raw_touch, c->all, RAW_TOUCH, i), &c->k->touches[i], (int)i);
		c->k->n_touches++;
		goals += c->k->touches[i].goal;
	}
	if (n > 0 && goals != 1 && c->k->touches != NULL)
		lint_say(c->lint, true, c->k->touches[0].file, c->k->touches[0].line,
		    "%zu touches say goal=\"yes\"; one must: that with which the beer is there", goals);
}
