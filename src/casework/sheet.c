/* sheet.c - which boxes the next batch's sheet has
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/sheeting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "process/slots.h"

/* FADES: the batch before counts for so much (estimate): what was lacking long ago may have been learned since. */
enum { ASKED = 5, SIGNS = 2 };
static const double FADES = 0.7;

static bool makes_known(const struct ab_box *box, int slot)
{
	if (box->slot == slot)
		return true;
	for (size_t i = 0; i < box->n_also; i++)
		if (box->also[i] == slot)
			return true;
	return false;
}

/* ---- what the last batches lacked ---- */

static enum ab_status ask(struct sheeting *s, const struct ab_batch *b, double weight, struct ab_diag *diag)
{
	const struct ab_knowledge *k = s->setup->k;
	const struct ab_diagnose_options options = { .reasons = true };
	struct ab_case *c;
	enum ab_status st = ab_case_work(k, b, s->setup->profile, &options, s->arena, &c, diag);
	if (st != AB_OK)
		return st;
	s->sheet->n_asked++;
	for (size_t i = 0; i < c->diagnosis->n_asks; i++)
		for (size_t j = 0; !c->diagnosis->asks[i].is_check && j < k->n_boxes; j++)
			if (makes_known(&k->boxes[j], c->diagnosis->asks[i].slot))
				s->bits[j] += weight * c->diagnosis->asks[i].bits;
	return AB_OK;
}

/* The newest tasted: of the beer, or, where it has none, of the brewer. */
static enum ab_status ask_batches(struct sheeting *s, bool of_line, struct ab_diag *diag)
{
	const struct ab_sheet_setup *setup = s->setup;
	const struct ab_batch *beer = setup->batch != NULL ? setup->batch : setup->like;
	enum ab_status st = AB_OK;
	double weight = 1;
	for (size_t i = setup->n; st == AB_OK && i-- > 0 && s->sheet->n_asked < ASKED;) {
		const struct ab_batch *b = setup->batches[i];
		if (b == setup->batch || b->tastings.n == 0 || (of_line && (beer == NULL || !ab_line_same(b, beer))))
			continue;
		st = ask(s, b, weight, diag);
		weight *= FADES;
	}
	return st;
}

/* ---- what a change on trial calls for ---- */

static bool mark_slot(struct sheeting *s, int slot)
{
	bool any = false;
	for (size_t j = 0; j < s->setup->k->n_boxes; j++)
		if (makes_known(&s->setup->k->boxes[j], slot))
			any = s->trial[j] = true;
	return any;
}

static double strength(const struct ab_sign *sign)
{
	double most = 0;
	for (size_t i = 0; i < sign->n; i++)
		most = fmax(most, fabs(sign->log_ratio[i]));
	for (size_t i = 0; sign->n == 0 && i < AB_WORDS; i++)
		most = fmax(most, fabs(sign->word_log_ratio[i]));
	return most;
}

/* The strongest signs of a cause that a box can tell. */
static void mark_signs(struct sheeting *s, const struct ab_cause *cause)
{
	bool done[AB_CAUSE_SIGNS] = { false };
	for (int marked = 0; marked < SIGNS;) {
		size_t best = cause->n_signs;
		for (size_t i = 0; i < cause->n_signs; i++)
			if (!done[i] &&
			    (best == cause->n_signs || strength(&cause->signs[i]) > strength(&cause->signs[best])))
				best = i;
		if (best == cause->n_signs)
			return;
		done[best] = true;
		marked += mark_slot(s, cause->signs[best].slot);
	}
}

static void mark_trials(struct sheeting *s)
{
	const struct ab_knowledge *k = s->setup->k;
	for (size_t i = 0; i < s->sheet->n_trials; i++) {
		const char *what = s->sheet->trials[i]->what;
		int place = what != NULL ? ab_change_find(k, what) : -1;
		const struct ab_change *change = place >= 0 ? &k->changes[place] : NULL;
		bool any = false;
		for (size_t j = 0; change != NULL && j < change->n_sets; j++)
			any = mark_slot(s, change->sets[j].slot) || any;
		for (size_t j = 0; change != NULL && !any && j < change->n_prevents; j++)
			mark_signs(s, &k->causes[change->prevents[j].cause]);
	}
}

/* ---- choosing ---- */

static bool is_for(const struct sheeting *s, const struct ab_box *box)
{
	for (size_t i = 0; i < box->n_only_for; i++)
		if (ab_conds_hold(&box->only_for[i], s->facts))
			return true;
	return box->n_only_for == 0;
}

/* Told by the batch itself: by what was written there, or reckoned from it. */
static bool is_told(const struct sheeting *s, const struct ab_sheet_box *box)
{
	const struct ab_fact *fact = &s->own[box->box->slot];
	size_t told = 0;
	for (size_t i = 0; i < box->n_parts; i++)
		told += box->parts[i].told;
	bool known = fact->origin == AB_ORIGIN_MEASURED || fact->origin == AB_ORIGIN_DERIVED;
	return told == box->n_parts || (box->n_parts == 1 && known);
}

struct rank { double bits; size_t at; };

static int by_bits(const void *a, const void *b)
{
	const struct rank *x = a, *y = b;
	if (x->bits != y->bits)
		return x->bits < y->bits ? 1 : -1;
	return (x->at > y->at) - (x->at < y->at);
}

/* Marks what comes on the sheet: core and trial first, then by bits until it is full. */
static bool choose(struct sheeting *s, bool *wanted)
{
	const struct ab_knowledge *k = s->setup->k;
	struct rank *ranks = ab_arena_alloc(s->arena, k->n_boxes, sizeof *ranks);
	size_t n = 0;
	if (ranks == NULL)
		return false;
	for (size_t i = 0; i < k->n_boxes; i++) {
		ranks[i] = (struct rank){ s->bits[i], i };
		wanted[i] = is_for(s, &k->boxes[i]) && (k->boxes[i].core || s->trial[i]);
		n += wanted[i];
	}
	if (k->n_boxes > 0)
		qsort(ranks, k->n_boxes, sizeof *ranks, by_bits);
	for (size_t i = 0; i < k->n_boxes && n < s->setup->most && ranks[i].bits > 0; i++)
		if (!wanted[ranks[i].at] && is_for(s, &k->boxes[ranks[i].at])) {
			wanted[ranks[i].at] = true;
			n++;
		}
	return true;
}

/* In the order of the days, and within one in that of the rules. */
static bool fill(struct sheeting *s, const bool *wanted)
{
	const struct ab_knowledge *k = s->setup->k;
	struct ab_sheet *sheet = s->sheet;
	sheet->boxes = ab_arena_alloc(s->arena, k->n_boxes, sizeof *sheet->boxes);
	if (sheet->boxes == NULL)
		return false;
	for (int day = 0; day < AB_DAYS; day++)
		for (size_t i = 0; i < k->n_boxes; i++) {
			if (!wanted[i] || k->boxes[i].day != day)
				continue;
			struct ab_sheet_box box = { .box = &k->boxes[i], .trial = s->trial[i], .bits = s->bits[i],
				.title = k->boxes[i].title != NULL ? k->boxes[i].title
				: k->facts->defs[k->boxes[i].slot].asks,
				.aim = sheet_aim(s, &k->boxes[i]) };
			sheet_parts(s, &box);
			if (box.n_parts > 0 && !is_told(s, &box))
				sheet->boxes[sheet->n_boxes++] = box;
		}
	return !s->no_memory;
}

/* ---- the whole ---- */

static enum ab_status facts_of(struct sheeting *s, const struct ab_batch *b, struct ab_fact **out, struct ab_diag *diag)
{
	*out = ab_arena_alloc(s->arena, ab_fact_defs()->n, sizeof **out);
	if (*out == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	return b == NULL ? AB_OK : ab_facts_bare(b, s->setup->profile, &s->setup->k->norms, s->arena, *out, diag);
}

static enum ab_status merge_facts(struct sheeting *s, struct ab_diag *diag)
{
	enum ab_status st = facts_of(s, s->setup->batch, &s->own, diag);
	if (st == AB_OK)
		st = facts_of(s, s->setup->like, &s->facts, diag);
	for (size_t i = 0; st == AB_OK && i < ab_fact_defs()->n; i++)
		if (AB_FACT_KNOWN(&s->own[i]))
			s->facts[i] = s->own[i];
	return st;
}

static void name(struct sheeting *s)
{
	const struct ab_batch *b = s->setup->batch != NULL ? s->setup->batch : s->setup->like;
	struct ab_sheet *sheet = s->sheet;
	sheet->title = b == NULL ? "The first batch" : b->title != NULL ? b->title : b->line != NULL ? b->line : b->id;
	sheet->next_time = b != NULL ? ab_line_next_time(s->setup->batches, s->setup->n, b, &sheet->next_of) : NULL;
	sheet->n_trials = ab_line_on_trial(s->setup->profile, s->setup->batches, s->setup->n,
	    b != NULL ? b->line : NULL, s->setup->on, sheet->trials, AB_SHEET_TRIALS);
}

enum ab_status ab_sheet_make(const struct ab_sheet_setup *setup, struct ab_arena *arena, struct ab_sheet **out,
    struct ab_diag *diag)
{
	struct sheeting s = { .setup = setup, .arena = arena, .sheet = ab_arena_alloc(arena, 1, sizeof *s.sheet),
		.bits = ab_arena_alloc(arena, setup->k->n_boxes, sizeof *s.bits),
		.trial = ab_arena_alloc(arena, setup->k->n_boxes, sizeof *s.trial) };
	bool *wanted = ab_arena_alloc(arena, setup->k->n_boxes, sizeof *wanted);
	*out = NULL;
	if (s.sheet == NULL || s.bits == NULL || s.trial == NULL || wanted == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	s.sheet->setup = setup;
	enum ab_status st = merge_facts(&s, diag);
	if (st == AB_OK)
		st = ask_batches(&s, true, diag);
	if (st == AB_OK && s.sheet->n_asked == 0)
		st = ask_batches(&s, false, diag);
	if (st != AB_OK)
		return st;
	name(&s);
	sheet_yeast(&s);
	mark_trials(&s);
	if (!choose(&s, wanted) || !fill(&s, wanted))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*out = s.sheet;
	return AB_OK;
}
