/* boxes.c - what a batch sheet may ask for, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <string.h>

#include "base/record.h"

/* What an aim may name in braces; who makes the sheet puts the numbers in. */
static const char *const names[] = { "yeast.low", "yeast.high", "yeast.rest", "yeast.days", "yeast.lag", "co2.low",
	"co2.high", "co2", "og", "fg", "fg.low", "fg.high", "volume", NULL };

static bool is_name(const char *at, size_t len)
{
	for (size_t i = 0; names[i] != NULL; i++)
		if (strlen(names[i]) == len && memcmp(names[i], at, len) == 0)
			return true;
	return false;
}

static void check_names(struct compiler *c, const char *says, long line)
{
	for (const char *at = strchr(says, '{'); at != NULL; at = strchr(at, '{')) {
		size_t len = strcspn(++at, "}");
		if (at[len] != '}' || !is_name(at, len)) {
			compile_wrong(c, line,
			    "an aim knows no \"{%.*s}\"; it may name yeast.low, yeast.high, yeast.rest, "
			    "yeast.days, yeast.lag, co2.low, co2.high, co2, og, fg, fg.low, fg.high, volume",
			    (int)(len < 40 ? len : 40), at);
			return;
		}
		at += len;
	}
}

static void add_aims(struct compiler *c, const struct raw_box *raw, struct ab_box *box)
{
	const struct raw_aim *items = raw->aims.items;

	box->aims = compile_room(c, raw->aims.n, sizeof *box->aims);
	for (size_t i = 0; box->aims != NULL && i < raw->aims.n; i++) {
		check_names(c, items[i].says, items[i].mark.line);
		box->aims[box->n_aims++] = (struct ab_aim){ items[i].says, compile_conds(c, &items[i].whens) };
	}
}

static void add_also(struct compiler *c, const struct raw_box *raw, struct ab_box *box)
{
	const char *const *items = raw->also.items;

	box->also = compile_room(c, raw->also.n, sizeof *box->also);
	for (size_t i = 0; box->also != NULL && i < raw->also.n; i++) {
		int slot = compile_slot(c, items[i], raw->head.mark.line);
		if (slot >= 0)
			box->also[box->n_also++] = slot;
	}
}

static double days(const struct ab_num *s)
{
	return s->known ? s->v / 86400 : 0;
}

void compile_boxes(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_BOX].n;

	c->k->boxes = compile_room(c, n, sizeof *c->k->boxes);
	for (size_t i = 0; c->k->boxes != NULL && i < n; i++) {
		const struct raw_box *raw = RAW_AT(const struct raw_box, c->all, RAW_BOX, i);
		struct ab_box *box = &c->k->boxes[c->k->n_boxes++];
		long line = raw->head.mark.line;
		c->file = raw->head.file;
		*box = (struct ab_box){ .id = raw->head.id,
			.title = compile_text(raw->title),
			.caution = compile_text(raw->caution),
			.slot = compile_slot(c, raw->fact, line),
			.day = raw->day - 1,
			.core = raw->core == AB_YES,
			.first_d = days(&raw->first_s),
			.apart_d = days(&raw->apart_s),
			.source = compile_source(c, raw->head.source, line),
			.line = line,
			.file = raw->head.file };
		if (box->slot >= 0 && box->title == NULL && c->facts->defs[box->slot].asks == NULL)
			compile_wrong(c, line, "box \"%s\" needs a <title>: its fact has no question", box->id);
		box->only_for = compile_alternatives(c, &raw->only_for);
		box->n_only_for = raw->only_for.n;
		add_also(c, raw, box);
		add_aims(c, raw, box);
	}
}
