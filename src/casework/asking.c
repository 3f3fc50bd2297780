/* asking.c - which question comes next, and when there is none
 *
 * Nothing is asked whose answer would not make the fact known in this batch, and nothing goes on when no answer
 * would change the advice; trials.c finds out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/quantity.h>

#include "base/alloc.h"
#include "casework/interviewing.h"
#include "process/slots.h"

/* Bits a minute of effort, where asking at all takes two minutes (asks.c): a question that only wants
 * remembering is worth it from 0.02 bits on (estimate). */
static const double WORTH_IT = 0.01;

/* ---- which rows are open ---- */

static bool is_packaged(const struct ab_interview *iv)
{
	return iv->now.batch->package != NULL && iv->now.batch->package->into != 0;
}

static bool is_slurry(const struct ab_interview *iv)
{
	const struct ab_fact *form = &iv->now.c->facts[AB_F_YEAST_FORM];
	return AB_FACT_KNOWN(form) && strcmp(ab_words_yeast_form[(size_t)form->value], "slurry") == 0;
}

bool iv_holds(const struct ab_interview *iv, const struct case_row *row)
{
	switch (row->when) {
	case CASE_ALWAYS: return true;
	case CASE_DATED: return is_packaged(iv) && iv_is_dated(iv);
	case CASE_UNDATED: return is_packaged(iv) && !iv_is_dated(iv);
	case CASE_PACKAGED: return is_packaged(iv);
	case CASE_UNPACKAGED: return !is_packaged(iv);
	case CASE_SLURRY: return is_slurry(iv);
	case CASE_NO_SLURRY: return !is_slurry(iv);
	}
	return false;
}

bool iv_is_told(const struct ab_interview *iv, const struct case_row *row)
{
	struct ab_edit_place place = iv_place(iv);
	char target[IV_TARGET];
	iv_target(iv, row, target, sizeof target);
	return (row->own != 0 && AB_FACT_KNOWN(&iv->now.c->facts[row->own])) ||
	    (target[0] != '!' && ab_edit_told(&place, target));
}

/* ---- opening questions ---- */

static bool is_known(const struct ab_interview *iv, int slot)
{
	return AB_FACT_KNOWN(&iv->now.c->facts[slot]);
}

static bool opening_is_answered(const struct ab_interview *iv, const struct case_row *row)
{
	const struct ab_batch *b = iv->now.batch;
	if (iv_not_known(iv, row->name) || !iv_holds(iv, row))
		return true;
	if (strcmp(row->name, "recipe.family") == 0)
		return is_known(iv, AB_F_RECIPE_FAMILY);
	if (strcmp(row->name, "yeast.class") == 0)
		return is_known(iv, AB_F_YEAST_PHENOLIC) || iv_is_told(iv, row);
	if (strcmp(row->name, "batch.brewed") == 0)
		return iv_is_dated(iv);
	if (strcmp(row->name, "pack.into") == 0) {
		for (AB_EACH(const struct ab_tasting, t, b->tastings))
			if (t->from != 0)
				return true;
		return is_packaged(iv);
	}
	return strcmp(row->name, "store.days") == 0 ? b->stores.n > 0 : b->package->at.known;
}

static const struct case_row *open_opening(const struct ab_interview *iv)
{
	for (size_t i = 0; i < case_n_openings; i++)
		if (!opening_is_answered(iv, &case_openings[i]))
			return &case_openings[i];
	return NULL;
}

/* Named without a number: the first such fault, unless the brewer would not say. */
static const struct case_row *open_strength(const struct ab_interview *iv)
{
	static const struct case_row strength = { .slot = AB_F_MAX_, .name = "tasting.intensity",
		.asks = "How strong is it, from 1 (barely there) to 5 (undrinkable)?",
		.target = "tasting/found intensity" };
	if (iv->was_tasted || iv_not_known(iv, strength.name))
		return NULL;
	for (AB_EACH(const struct ab_tasting, t, iv->now.batch->tastings))
		for (AB_EACH(const struct ab_found, f, t->found))
			if (!f->intensity.known)
				return &strength;
	return NULL;
}

/* ---- choosing ---- */

/* Of several faults the one meant is named; NULL when memory is short. */
static const char *asks_of(const struct ab_interview *iv, const struct case_row *row)
{
	const char *asks = row->asks != NULL ? row->asks : iv->setup.k->facts->defs[row->slot].asks;
	const char *word = iv_found_word(iv, row);
	const struct ab_tasting *t = iv->now.batch->tastings.items;
	return word == NULL || t->found.n < 2 ? asks : ab_arena_printf(iv->now.arena, "About \"%s\": %s", word, asks);
}

/* Up to the next bar; "" when memory is short would be no example, so NULL. */
static const char *first_of(const struct ab_interview *iv, const char *at)
{
	return ab_arena_strndup(iv->now.arena, at, strcspn(at, "|"));
}

/* What an answer may look like: the middle one of the tries; in US units by the unit alone. */
static const char *example_of(const struct ab_interview *iv, const struct case_row *row)
{
	static const struct { const char *unit, *example; } us[] = { { "oz", "4 oz" },
		{ "gal", "5 gal" }, { "psi", "12 psi" }, { "in", "1 in" }, { "ft", "6 ft" } };
	const char *at = row->tries;
	struct ab_quantity q;
	char why[CASE_WHY];
	size_t n = 1;
	for (size_t i = 0; iv->setup.us_units && row->us != NULL && i < sizeof us / sizeof *us; i++)
		if (strcmp(us[i].unit, row->us) == 0)
			return us[i].example;
	if (at == NULL)
		return "";
	for (const char *p = at; *p != '\0'; p++)
		n += *p == '|';
	for (size_t i = 0; i < n / 2; i++)
		at = strchr(at, '|') + 1;
	const char *example = first_of(iv, at);
	if (example != NULL && iv->setup.us_units && row->us != NULL && strcmp(row->us, "F") == 0 &&
	    ab_quantity_read(example, AB_DIM_TEMP, &q, why, sizeof why))
		return ab_arena_printf(iv->now.arena, "%.0f F", q.value * 1.8 + 32);
	return first_of(iv, at);
}

/* Texts of the question live with the case. */
static bool pose(struct ab_interview *iv, const struct case_row *row, int slot, size_t number, bool again)
{
	struct case_asked asked;
	struct ab_question *q = &iv->turn.question;
	iv_asked(iv, row, &asked);
	*q = (struct ab_question){ .name = iv_name(iv, row),
		.asks = asks_of(iv, row),
		.slot = slot,
		.number = number,
		.again = again,
		.wanted = asked.n_choices == 0                     ? AB_WANT_NUMBER
		    : row->choices == NULL && asked.n_choices == 2 ? AB_WANT_YESNO
								   : AB_WANT_CHOICE };
	const char **choices = ab_arena_alloc(iv->now.arena, asked.n_choices, sizeof *choices);
	q->example = example_of(iv, row);
	for (size_t i = 0; choices != NULL && i < asked.n_choices; i++)
		choices[i] = asked.choices[i].says;
	q->choices = choices;
	q->n_choices = asked.n_choices;
	iv->turn.row = row;
	iv->turn.asking = true;
	return choices != NULL && q->example != NULL && q->asks != NULL;
}

static void pose_taste(struct ab_interview *iv)
{
	bool again = iv->now.batch->tastings.n > 0;
	iv->turn.question = (struct ab_question){ .wanted = AB_WANT_TASTE,
		.name = "tasting",
		.slot = -1,
		.again = again,
		.asks = again ? "Anything else?" : "What do you taste, smell or see that should not be there?" };
	iv->turn.row = NULL;
	iv->turn.asking = true;
}

/* The next open row of a fact; NULL when it is known, or was not. */
static const struct case_row *open_row(const struct ab_interview *iv, int slot)
{
	if (slot < 0 || is_known(iv, slot) || iv_not_known(iv, iv->setup.k->facts->defs[slot].name))
		return NULL;
	for (size_t i = 0; i < case_n_rows; i++) {
		const struct case_row *row = &case_rows[i];
		if (row->slot != slot || !iv_holds(iv, row) || iv_is_told(iv, row))
			continue;
		/* Asked for another fact's sake, and not known: then this one cannot be known either. */
		const char *part = iv_part(iv, row);
		return part != NULL && iv_not_known(iv, part) ? NULL : row;
	}
	return NULL;
}

/* The best question that can be asked; *slot -1 when there is none. settled: all that are left were tried, and
 * no answer, nor the worst two together, changes the advice. */
static enum ab_status best_question(struct ab_interview *iv, int *slot, bool *settled, struct ab_diag *diag)
{
	const struct ab_diagnosis *d = iv->now.c->diagnosis;
	struct iv_outlook outlook;
	enum ab_status st = AB_OK;
	*slot = -1;
	iv_outlook_begin(&outlook, iv);
	for (size_t i = 0; st == AB_OK && !outlook.changes && i < d->n_asks && d->asks[i].worth >= WORTH_IT; i++) {
		bool tells = false;
		if (d->asks[i].is_check || open_row(iv, d->asks[i].slot) == NULL)
			continue;
		st = iv_outlook_add(&outlook, d->asks[i].slot, &tells, diag);
		if (st == AB_OK && tells && *slot < 0)
			*slot = d->asks[i].slot;
	}
	if (st == AB_OK && !outlook.changes)
		st = iv_outlook_pairs(&outlook, diag);
	*settled = !outlook.changes && *slot >= 0;
	iv_outlook_end(&outlook);
	return st;
}

static void end_with(struct ab_interview *iv, enum ab_interview_end end)
{
	iv->turn.end = end;
	iv->turn.asking = false;
}

static enum ab_status choose_fact(struct ab_interview *iv, struct ab_diag *diag)
{
	const struct iv_state *now = iv_now(iv);
	int slot;
	bool settled;
	enum ab_status st = best_question(iv, &slot, &settled, diag);
	if (st != AB_OK)
		return st;
	if (slot < 0 || settled) {
		end_with(iv, slot < 0 ? AB_END_NOTHING_WORTH : AB_END_SETTLED);
		return AB_OK;
	}
	if (now->asked >= iv->setup.questions) {
		end_with(iv, AB_END_ENOUGH);
		return AB_OK;
	}
	return pose(iv, open_row(iv, slot), slot, now->asked + 1, false) ? AB_OK
	    : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

enum ab_status iv_choose(struct ab_interview *iv, struct ab_diag *diag)
{
	const struct iv_state *now = iv_now(iv);
	const struct case_row *row;
	bool good = true;
	iv->turn = (struct iv_turn){ .end = AB_END_NOT_YET };
	if ((row = open_strength(iv)) != NULL)
		good = pose(iv, row, -1, 0, false);
	else if (!iv_is_tasted(iv))
		pose_taste(iv);
	else if (iv->now.c->diagnosis->nothing_found)
		end_with(iv, AB_END_NOTHING_FOUND);
	else if ((row = open_opening(iv)) != NULL)
		good = pose(iv, row, -1, 0, false);
	else if ((row = open_row(iv, now->slot)) != NULL)
		good = pose(iv, row, now->slot, now->asked, true);
	else
		return choose_fact(iv, diag);
	return good ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* ---- why ---- */

struct spread { const struct ab_interview *iv; double *low, *high; };

static bool see_spread(void *ctx, const struct iv_work *w, const char *text, size_t len)
{
	struct spread *s = ctx;
	(void)text;
	(void)len;
	for (size_t i = 0; i < s->iv->setup.k->n_causes; i++) {
		s->low[i] = fmin(s->low[i], w->c->diagnosis->blame[i]);
		s->high[i] = fmax(s->high[i], w->c->diagnosis->blame[i]);
	}
	return true;
}

static int by_spread(const void *a, const void *b)
{
	const struct ab_why *x = a, *y = b;
	double dx = x->highest - x->lowest, dy = y->highest - y->lowest;
	if (dx != dy)
		return dx < dy ? 1 : -1;
	return (x->cause > y->cause) - (x->cause < y->cause);
}

enum ab_status ab_interview_why(struct ab_interview *iv, struct ab_why *why, size_t max, size_t *n,
    struct ab_diag *diag)
{
	static const double LEAST = 0.02;
	size_t causes = iv->setup.k->n_causes;
	struct spread s = { iv, ab_arena_alloc(iv->now.arena, causes, sizeof(double)),
		ab_arena_alloc(iv->now.arena, causes, sizeof(double)) };
	struct ab_why *all = ab_arena_alloc(iv->now.arena, causes, sizeof *all);
	int slot = iv->turn.question.slot;
	*n = 0;
	if (!iv->turn.asking || iv->turn.row == NULL || slot < 0)
		return AB_OK;
	if (s.low == NULL || s.high == NULL || all == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	for (size_t i = 0; i < causes; i++)
		s.low[i] = s.high[i] = iv->now.c->diagnosis->blame[i];
	const struct ab_edit_place place = iv_place(iv);
	enum ab_status st = iv_each_trial(iv, &place, slot, see_spread, &s, diag);
	if (st != AB_OK)
		return st;
	for (size_t i = 0; i < causes; i++)
		all[i] = (struct ab_why){ (int)i, iv->now.c->diagnosis->blame[i], s.low[i], s.high[i] };
	if (causes > 0)
		qsort(all, causes, sizeof *all, by_spread);
	while (*n < max && *n < causes && all[*n].highest - all[*n].lowest >= LEAST) {
		why[*n] = all[*n];
		++*n;
	}
	return AB_OK;
}
