/* mentions.c - who said what: of each taster the last word about each fault, and what they found before; who is
 * blind to it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/mentions.h"

#include <math.h>
#include <stdio.h>

#include "base/str.h"

static const double FEARED_INTENSITY = 1;   /* the least of the scale */
/* As process/tasting.c: nearer ones tell of the taster, not of time. */
static const double TREND_S = 7 * 86400.0;

enum ab_status tally_no_memory(struct tally *t)
{
	return ab_fail(t->diag, AB_ENOMEM, t->batch->source, 0, "out of memory for the tastings");
}

int case_word(const struct ab_knowledge *k, const char *word, const char *source, long line,
    enum ab_status st, struct ab_diag *diag)
{
	enum { NEAR = 4 };
	const char *near[NEAR];
	char hint[200] = "";
	size_t n = 0, at = 0;
	int fault = ab_fault_word(k, word, near, NEAR, &n);
	if (fault >= 0)
		return fault;
	int opposite = ab_opposite_word(k, word);
	bool chore = ab_chore_word(k, word) >= 0;
	if (opposite >= 0) {
		ab_fail(diag, st, source, line,
		    "\"%.60s\" is no fault, but the opposite of \"%.60s\" (%.60s); say whether that one was found or "
		    "absent, or write a note", word, k->faults[opposite].title, k->faults[opposite].id);
		return -1;
	}
	for (size_t i = 0; i < n && at < sizeof hint && !chore; i++)
		at += (size_t)snprintf(hint + at, sizeof hint - at,
		    "%s\"%.40s\"", i > 0 ? ", " : "; do you mean ", near[i]);
	ab_fail(diag, st, source, line, "no fault is called \"%.60s\"%s%s", word, hint,
	    chore ? "; it is no taste but a chore, and a profile names it: <trouble chore=\"...\"/>"
	    : n > 0 ? "?" : "; \"afterboil rules list faults\" shows what there is");
	return -1;
}

bool tally_same_taster(const char *a, const char *b)
{
	return a == NULL || b == NULL ? a == b : ab_word_cmp(a, b) == 0;
}

double tally_panel(const struct ab_tasting *tasting)
{
	return tasting->panel.known && tasting->panel.v >= 1 ? tasting->panel.v : 1;
}

/* What cannot be compared here, a date and a time since pitching, stands in the journal's order, that is its place in
 * the array. */
static bool is_later(const struct ab_tasting *a, const struct ab_tasting *b)
{
	double apart = ab_when_apart(&b->at, &a->at);
	return isnan(apart) ? a > b : apart > 0;
}

/* Place of a tasting in time; those without a time stand where the journal has them. */
static size_t order_of(const struct ab_batch *batch, const struct ab_tasting *tasting)
{
	size_t n = 0;
	for (AB_EACH(const struct ab_tasting, other, batch->tastings))
		n += other != tasting && is_later(tasting, other);
	return n;
}

/* Less than a week apart, as far as is known: then the later word puts the earlier one right. */
static bool is_soon_after(const struct ab_tasting *a, const struct ab_tasting *b)
{
	return fabs(ab_when_apart(&a->at, &b->at)) < TREND_S;
}

/* The later of two words of one taster on two sheets, and what the earlier one found. A fear was no taste. */
static struct mention later_of(const struct mention *older, struct mention newer)
{
	if (older->order > newer.order)
		return later_of(&newer, *older);
	newer.before = fmax(newer.before, older->before);
	if (older->found && !older->feared && !is_soon_after(older->tasting, newer.tasting))
		newer.before = fmax(newer.before, older->intensity);
	return newer;
}

/* A later word of the same taster about the same fault replaces the earlier one, unless it is of bottles with another
 * mark: those are another glass, not a later one. */
static enum ab_status add_mention(struct tally *t, struct mention m)
{
	struct mention *items = t->mentions.items;
	for (size_t i = 0; i < t->mentions.n; i++) {
		if (items[i].fault != m.fault || !tally_same_taster(items[i].tasting->by, m.tasting->by) ||
		    !ab_same_bottles(items[i].tasting, m.tasting))
			continue;
		if (items[i].tasting != m.tasting)
			items[i] = later_of(&items[i], m);
		else if (m.found && (!items[i].found || m.intensity > items[i].intensity)) {
			m.before = items[i].before;
			items[i] = m;   /* two words for one fault on one sheet: the stronger */
		}
		return AB_OK;
	}
	struct mention *slot = ab_arena_push(t->arena, &t->mentions.items, &t->mentions.n, &t->mentions.cap,
	    sizeof *slot);
	if (slot == NULL)
		return tally_no_memory(t);
	*slot = m;
	t->spoken_of[m.fault] = true;
	return AB_OK;
}

enum ab_status tally_tasting(struct tally *t, const struct ab_tasting *tasting)
{
	size_t order = order_of(t->batch, tasting);
	enum ab_status st = AB_OK;
	for (AB_EACH(const struct ab_found, f, tasting->found)) {
		int fault = f->fault == NULL ? -1 : case_word(t->k, f->fault, t->batch->source, f->mark.line,
		    AB_EINPUT, t->diag);
		double intensity = f->intensity.known ? f->intensity.v : CASE_UNTOLD_INTENSITY;
		if (fault < 0)
			return AB_EINPUT;
		/* Feared is not tasted: it counts, but as the least. */
		if (f->feared == AB_YES)
			intensity = FEARED_INTENSITY;
		st = add_mention(t, (struct mention){ fault, tasting, order, true, f->feared == AB_YES, intensity, 0 });
		if (st != AB_OK)
			return st;
	}
	for (AB_EACH(const struct ab_absent, a, tasting->absent)) {
		int fault = a->fault == NULL ? -1 : case_word(t->k, a->fault, t->batch->source, a->mark.line,
		    AB_EINPUT, t->diag);
		if (fault < 0)
			return AB_EINPUT;
		st = add_mention(t, (struct mention){ fault, tasting, order, false, false, 0, 0 });
		if (st != AB_OK)
			return st;
	}
	return st;
}

/* ---- blind spots ---- */

enum ab_status tally_blind_spots(struct tally *t, const struct ab_profile *profile)
{
	for (AB_EACH(const struct ab_taster, taster, profile->tasters)) {
		const char *const *words = taster->blind_to.items;
		for (size_t i = 0; i < taster->blind_to.n; i++) {
			int fault = case_word(t->k, words[i], profile->source, taster->mark.line,
			    AB_EINPUT, t->diag);
			if (fault < 0)
				return AB_EINPUT;
			struct blind *slot = ab_arena_push(t->arena, &t->blinds.items, &t->blinds.n,
			    &t->blinds.cap, sizeof *slot);
			if (slot == NULL)
				return tally_no_memory(t);
			*slot = (struct blind){ taster, fault };
			t->spoken_of[fault] = true;
		}
	}
	return AB_OK;
}

double tally_able(const struct tally *t, const struct ab_tasting *tasting, int fault)
{
	const struct blind *blinds = t->blinds.items;
	double panel = tally_panel(tasting);
	for (size_t i = 0; i < t->blinds.n && tasting->by != NULL; i++)
		if (blinds[i].fault == fault && blinds[i].taster->name != NULL &&
		    ab_word_cmp(blinds[i].taster->name, tasting->by) == 0)
			/* One of the sheet's tasters, the named one, is blind; the others of the panel are
			 * not. */
			return panel - 1;
	return panel;
}
