/* causes.c - causes of the rules, compiled: priors, gates, signs as curves of log ratio, links to faults
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "base/str.h"

/* The last prior whose conditions hold is used (weight.c walks from the end), so the first must be the one
 * for everybody: without it a cause might have no prior at all, and a bare one later would hide those above
 * it. */
static void add_priors(struct compiler *c, const struct raw_cause *raw, struct ab_cause *cause)
{
	const struct raw_prior *items = raw->priors.items;
	cause->priors = compile_room(c, raw->priors.n, sizeof *cause->priors);
	for (size_t i = 0; cause->priors != NULL && i < raw->priors.n; i++) {
		struct ab_prior *prior = &cause->priors[cause->n_priors++];
		prior->p = items[i].p.v;
		/* log1p keeps the digits of a prior near 1. */
		prior->log_odds = log(prior->p) - log1p(-prior->p);
		prior->when = compile_conds(c, &items[i].whens);
		prior->source = compile_source(c, items[i].source, items[i].mark.line);
		/* Written with ! so that a value that is no number is refused as well. At 0 or 1 no
		 * evidence could ever move the odds. */
		if (!(prior->p > 0 && prior->p < 1))
			compile_wrong(c, items[i].mark.line,
			    "a prior must be above 0 and below 1; what cannot be is said by a <gate>");
		if (i == 0 && items[i].whens.n > 0)
			compile_wrong(c, items[i].mark.line,
			    "the first <prior> must have no <when>: it is used when no other holds");
		if (i > 0 && items[i].whens.n == 0)
			compile_wrong(c, items[i].mark.line,
			    "only the first <prior> may have no <when>: the last that holds is used, "
			    "so this one "
			    "hides those before it");
	}
}

static void add_gates(struct compiler *c, const struct raw_cause *raw, struct ab_cause *cause)
{
	const struct raw_gate *items = raw->gates.items;
	cause->gates = compile_room(c, raw->gates.n, sizeof *cause->gates);
	for (size_t i = 0; cause->gates != NULL && i < raw->gates.n; i++) {
		struct ab_conds when = compile_conds(c, &items[i].whens);
		/* A gate whose conditions could not be read must not shut for ever. */
		if (when.n > 0)
			cause->gates[cause->n_gates++] = (struct ab_gate){ when, items[i].says };
	}
}

/* ---- signs ---- */

/* The unit is said again in the sign, though the fact has one: a curve written for minutes and read in
 * seconds would be wrong without any other trace. */
static bool curve_fits(struct compiler *c, const struct raw_sign *raw, const struct ab_fact_def *def)
{
	char lo[32], hi[32];
	long line = raw->mark.line;
	if (raw->unit == NULL || strcmp(raw->unit, def->unit) != 0) {
		compile_wrong(c, line, "the unit of fact \"%s\" is \"%s\", not \"%s\"; its points are read "
		    "in that unit", def->name, def->unit, raw->unit == NULL ? "" : raw->unit);
		return false;
	}
	/* One point would be a ratio whatever the fact says, which belongs into the prior. */
	if (raw->at.n < 2 || raw->at.n > AB_CURVE_POINTS || raw->is.n > 0) {
		compile_wrong(c, line, "fact \"%s\" is a number: its sign needs 2 to %d <at x= ratio=/> and "
		    "no <is/>", def->name, AB_CURVE_POINTS);
		return false;
	}
	const struct raw_at *at = raw->at.items;
	for (size_t i = 0; i < raw->at.n; i++) {
		/* Equal x would divide by zero between the points. */
		if (i > 0 && !(at[i].x.v > at[i - 1].x.v))
			compile_wrong(c, at[i].mark.line,
			    "the curve is out of order: x must rise from point to point");
		if (at[i].x.v < def->lo || at[i].x.v > def->hi)
			compile_wrong(c, at[i].mark.line,
			    "x is out of range; fact \"%s\" goes from %s to %s %s", def->name,
			    ab_num_text(def->lo, lo, sizeof lo), ab_num_text(def->hi, hi, sizeof hi),
			    def->unit);
	}
	return true;
}

/* Logs are taken once, at load: thousands of batches then only add and multiply. */
static void set_curve(struct compiler *c, const struct raw_sign *raw, const struct ab_fact_def *def,
    struct ab_sign *sign)
{
	const struct raw_at *at = raw->at.items;
	if (!curve_fits(c, raw, def))
		return;
	for (size_t i = 0; i < raw->at.n; i++) {
		sign->x[i] = at[i].x.v;
		sign->log_ratio[i] = log(at[i].ratio.v);
	}
	sign->n = raw->at.n;
}

/* A word not listed keeps the log ratio 0 of fresh memory, that is ratio 1: it says nothing either way. */
static void set_words(struct compiler *c, const struct raw_sign *raw, const struct ab_fact_def *def,
    struct ab_sign *sign)
{
	const struct raw_is *is = raw->is.items;
	unsigned long long seen = 0;
	if (raw->is.n == 0 || raw->at.n > 0)
		compile_wrong(c, raw->mark.line,
		    "fact \"%s\" is no number: its sign needs <is word= ratio=/> and no <at/>", def->name);
	if (raw->unit != NULL && raw->unit[0] != '\0')
		compile_wrong(c, raw->mark.line, "fact \"%s\" has no unit; leave unit=\"%s\" out",
		    def->name, raw->unit);
	for (size_t i = 0; i < raw->is.n; i++) {
		double at;
		if (!compile_value(c, sign->slot, "word", is[i].word, is[i].mark.line, &at))
			continue;
		if (at >= AB_WORDS) {
			compile_wrong(c, is[i].mark.line,
			    "fact \"%s\" has more than %d words; a sign holds no more", def->name, AB_WORDS);
			continue;
		}
		assert(at >= 0);
		if (seen >> (int)at & 1)
			compile_wrong(c, is[i].mark.line, "the word \"%s\" stands a second time in this sign",
			    is[i].word);
		seen |= 1ULL << (int)at;
		sign->word_log_ratio[(int)at] = log(is[i].ratio.v);
	}
}

/* Groups are numbered by the first sign that names them. */
static int group_of(const struct raw_sign *items, size_t at)
{
	if (items[at].group == NULL)
		return -1;
	for (size_t i = 0; i < at; i++)
		if (items[i].group != NULL && strcmp(items[i].group, items[at].group) == 0)
			return (int)i;
	return (int)at;
}

static void add_signs(struct compiler *c, const struct raw_cause *raw, struct ab_cause *cause)
{
	const struct raw_sign *items = raw->signs.items;
	cause->signs = compile_room(c, raw->signs.n, sizeof *cause->signs);
	if (raw->signs.n > AB_CAUSE_SIGNS) {
		compile_wrong(c, raw->head.mark.line, "cause \"%s\" has more than %d signs", raw->head.id,
		    AB_CAUSE_SIGNS);
		return;
	}
	for (size_t i = 0; cause->signs != NULL && i < raw->signs.n; i++) {
		const struct raw_sign *r = &items[i];
		struct ab_sign *sign = &cause->signs[cause->n_signs];
		int slot = compile_slot(c, r->fact, r->mark.line);
		if (slot < 0)
			continue;
		assert(cause->n_signs < raw->signs.n);
		/* Counted only when the fact exists, so that a lint with one wrong name still shows what is
		 * wrong in the others. */
		cause->n_signs++;
		sign->slot = slot;
		sign->group = group_of(items, i);
		sign->nominal = r->nominal == AB_YES;
		sign->says_for = r->says_for;
		sign->says_against = r->says_against;
		sign->when = compile_conds(c, &r->whens);
		sign->source = compile_source(c, r->source, r->mark.line);
		if (c->facts->defs[slot].kind == AB_FACT_NUMBER)
			set_curve(c, r, &c->facts->defs[slot], sign);
		else
			set_words(c, r, &c->facts->defs[slot], sign);
	}
}

static void note_slots(struct compiler *c, struct ab_cause *cause)
{
	short *slots = compile_room(c, cause->n_signs, sizeof *slots);
	for (size_t i = 0; slots != NULL && i < cause->n_signs; i++)
		slots[i] = (short)cause->signs[i].slot;
	cause->sign_slots = slots;
}

/* ---- links ---- */

/* Two entries for one fault are fine when the later has a condition: it is the exception to the first. */
static void add_links(struct compiler *c, const struct raw_cause *raw, struct ab_cause *cause)
{
	const struct raw_strength *items = raw->gives.items;
	cause->links = compile_room(c, raw->gives.n, sizeof *cause->links);
	for (size_t i = 0; cause->links != NULL && i < raw->gives.n; i++) {
		struct ab_link *link = &cause->links[cause->n_links];
		int fault = compile_ref(c, RAW_FAULT, items[i].fault, items[i].mark.line);
		if (fault < 0)
			continue;
		for (size_t j = 0; j < cause->n_links; j++)
			if (cause->links[j].fault == fault && items[i].whens.n == 0)
				compile_wrong(c, items[i].mark.line,
				    "cause \"%s\" gives fault \"%s\" a second time without a <when>; the "
				    "last that holds is "
				    "used, so this one hides the first", raw->head.id, items[i].fault);
		cause->n_links++;
		link->fault = fault;
		compile_tail(c, &items[i], link->tail);
		link->when = compile_conds(c, &items[i].whens);
		link->source = compile_source(c, items[i].source, items[i].mark.line);
		/* A link that never shows would still open its fault in the network and cost width for
		 * nothing. */
		if (!(link->tail[1] > 0))
			compile_wrong(c, items[i].mark.line,
			    "a link of strength 0 is no link; leave <gives> out");
	}
}

/* What a reader is told of a kin is its title and what its members are to it: both must be there. */
void compile_kins(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_KIN].n;
	c->k->kins = compile_room(c, n, sizeof *c->k->kins);
	for (size_t i = 0; c->k->kins != NULL && i < n; i++) {
		const struct raw_kin *raw = RAW_AT(const struct raw_kin, c->all, RAW_KIN, i);
		struct ab_kin *kin = &c->k->kins[c->k->n_kins++];
		c->file = raw->head.file;
		*kin = (struct ab_kin){ .id = raw->head.id, .title = compile_text(raw->title),
			.ways = compile_text(raw->ways), .why = compile_text(raw->why),
			.next = compile_text(raw->next), .line = raw->head.mark.line,
			.file = raw->head.file };
		if (kin->title == NULL || kin->ways == NULL)
			compile_wrong(c, kin->line, "<title> or <ways> of kin \"%s\" is empty", kin->id);
	}
}

void compile_cause(struct compiler *c, const struct raw_cause *raw, struct ab_cause *cause)
{
	c->file = raw->head.file;
	cause->id = raw->head.id;
	cause->title = compile_text(raw->title);
	cause->why = compile_text(raw->why);
	cause->next = compile_text(raw->next);
	cause->caution = compile_text(raw->caution);
	cause->nexts = compile_tells(c, &raw->nexts, "next", cause->next, cause->id, &cause->n_nexts);
	cause->cautions = compile_tells(c, &raw->cautions, "caution", cause->caution, cause->id, &cause->n_cautions);
	assert(raw->side >= 1 && raw->stage >= 1);
	/* Words are stored from 1, with 0 for "not given"; the tables require these two, so they are at
	 * least 1. */
	cause->side = (enum ab_side)(raw->side - 1);
	cause->stage = raw->stage - 1;
	cause->benign = raw->kind == 2;
	cause->expects = raw->expects == AB_YES;
	cause->at_hand = raw->at_hand == AB_YES;
	cause->kin = raw->kin == NULL ? -1 : compile_ref(c, RAW_KIN, raw->kin, raw->head.mark.line);
	cause->line = raw->head.mark.line;
	cause->file = raw->head.file;
	if (cause->title == NULL)
		compile_wrong(c, cause->line, "<title> of cause \"%s\" is empty", cause->id);
	if (raw->gives.n == 0 && !cause->expects)
		compile_wrong(c, cause->line,
		    "cause \"%s\" gives no fault; it needs a <gives/>, or expects=\"yes\"", cause->id);
	add_priors(c, raw, cause);
	add_gates(c, raw, cause);
	add_signs(c, raw, cause);
	note_slots(c, cause);
	add_links(c, raw, cause);
}
