/* interview.c - the journal of an interview: read again after every answer, and taken back
 *
 * The text is all there is. A question is open when the text does not answer it, so a journal continued
 * tomorrow, or after a kill, goes on where it stood.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/interviewing.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"
#include "process/slots.h"

static enum ab_status no_memory(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

const struct iv_state *iv_now(const struct ab_interview *iv)
{
	assert(iv->n > 0);
	return &iv->states[iv->n - 1];
}

struct ab_edit_place iv_place(const struct ab_interview *iv)
{
	const struct iv_state *now = iv_now(iv);
	return (struct ab_edit_place){ now->text, now->len, iv->id, iv->now.batch->mark.line };
}

/* ---- what the text says of the questions ---- */

static bool has_note(const struct ab_batch *batch, const char *head, const char *rest)
{
	size_t n = strlen(head);
	for (AB_EACH(const struct ab_note, note, batch->notes))
		if (note->text != NULL && strncmp(note->text, head, n) == 0 &&
		    strcmp(note->text + n, rest) == 0)
			return true;
	return false;
}

bool iv_not_known(const struct ab_interview *iv, const char *name)
{
	return has_note(iv->now.batch, IV_NOT_KNOWN, name);
}

bool iv_is_dated(const struct ab_interview *iv)
{
	return !has_note(iv->now.batch, IV_NO_DATE, "");
}

const char *iv_name(const struct ab_interview *iv, const struct case_row *row)
{
	return row->slot == AB_F_MAX_ ? row->name : iv->setup.k->facts->defs[row->slot].name;
}

const char *iv_part(const struct ab_interview *iv, const struct case_row *row)
{
	return row->slot == AB_F_MAX_ ? NULL : row->own != 0 ? iv->setup.k->facts->defs[row->own].name : row->name;
}

/* ---- a text through the pipe ---- */

struct found { const char *id; struct ab_batch *batch; };

static enum ab_status on_batch(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct found *f = ctx;
	(void)diag;
	if (strcmp(batch->id, f->id) == 0)
		f->batch = batch;
	return AB_OK;
}

void iv_drop(struct iv_work *w)
{
	ab_arena_free(w->arena);
	*w = (struct iv_work){ .arena = NULL };
}

enum ab_status iv_work(struct ab_interview *iv, const char *text, size_t len, bool reasons, struct iv_work *w,
    struct ab_diag *diag)
{
	struct found f = { .id = iv->id };
	const struct ab_diagnose_options options = { .reasons = reasons, .scratch = iv->scratch };
	*w = (struct iv_work){ .arena = ab_arena_new() };
	enum ab_status st = w->arena == NULL ? no_memory(diag) : ab_journal_read_memory(text, len,
	    iv->setup.name, iv->setup.folder, w->arena, on_batch, &f, diag);
	if (st == AB_OK && f.batch == NULL)
		st = ab_fail(diag, AB_EINPUT, iv->setup.name, 0, "no batch here has the id \"%.64s\"", iv->id);
	if (st == AB_OK)
		st = ab_case_work(iv->setup.k, f.batch, iv->setup.profile, &options, w->arena, &w->c, diag);
	w->batch = f.batch;
	if (st != AB_OK)
		iv_drop(w);
	return st;
}

/* ---- states ---- */

/* Kept before the case is replaced, so that the answer's effect can be shown. */
static void keep_blame(struct ab_interview *iv)
{
	iv->moved = iv->now.c != NULL;
	for (size_t i = 0; i < iv->setup.k->n_causes; i++)
		iv->before[i] = iv->now.c == NULL ? 0 : iv->now.c->diagnosis->blame[i];
}

static bool grow(struct ab_interview *iv)
{
	if (iv->n < iv->cap)
		return true;
	size_t cap = iv->cap == 0 ? 32 : 2 * iv->cap;
	struct iv_state *states = ab_realloc(iv->states, cap * sizeof *states);
	if (states == NULL)
		return false;
	iv->states = states;
	iv->cap = cap;
	return true;
}

enum ab_status iv_push(struct ab_interview *iv, char *text, size_t len, size_t asked, int slot,
    struct ab_diag *diag)
{
	struct iv_work work, old = iv->now;
	enum ab_status st = grow(iv) ? iv_work(iv, text, len, true, &work, diag) : no_memory(diag);
	if (st != AB_OK) {
		ab_free(text);
		return st;
	}
	iv->states[iv->n++] = (struct iv_state){ text, len, asked, slot };
	iv->now = work;
	struct iv_turn turn = iv->turn;
	st = iv_choose(iv, diag);
	if (st != AB_OK) {
		iv->turn = turn;
		ab_free(iv->states[--iv->n].text);
		iv->now = old;
		iv_drop(&work);
		return st;
	}
	iv->now = old;
	keep_blame(iv);
	iv->now = work;
	iv_drop(&old);
	return AB_OK;
}

enum ab_status ab_interview_back(struct ab_interview *iv, bool *went, struct ab_diag *diag)
{
	struct iv_work work, old = iv->now;
	*went = iv->n > 1;
	if (iv->n < 2)
		return AB_OK;
	const struct iv_state *to = &iv->states[iv->n - 2];
	enum ab_status st = iv_work(iv, to->text, to->len, true, &work, diag);
	if (st != AB_OK)
		return st;
	iv->n--;
	iv->now = work;
	struct iv_turn turn = iv->turn;
	st = iv_choose(iv, diag);
	if (st != AB_OK) {
		iv->turn = turn;
		iv->n++;
		iv->now = old;
		iv_drop(&work);
		return st;
	}
	ab_free(iv->states[iv->n].text);
	iv_drop(&old);
	iv->moved = false;
	return AB_OK;
}

/* ---- beginning and end ---- */

static enum ab_status list_yeasts(struct ab_interview *iv, struct ab_diag *diag)
{
	const struct ab_norms *norms = &iv->setup.k->norms;
	struct case_choice *list = ab_arena_alloc(iv->arena, norms->n_yeasts, sizeof *list);
	if (list == NULL)
		return no_memory(diag);
	for (size_t i = 0; i < norms->n_yeasts; i++)
		list[i] = (struct case_choice){ norms->yeasts[i].title, norms->yeasts[i].id };
	iv->yeasts = list;
	iv->n_yeasts = norms->n_yeasts;
	return AB_OK;
}

static char *new_text(const struct ab_interview *iv, size_t *len)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<batch xmlns=\"urn:afterboil:journal:1\" id=\"");
	ab_edit_escape(&s, iv->id);
	ab_str_addf(&s, "\" brewed=\"%s\">\n\t<note>" IV_NO_DATE "</note>\n</batch>\n", iv->setup.today);
	*len = s.len;
	if (ab_str_ok(&s))
		return s.text;
	ab_str_clear(&s);
	return NULL;
}

static enum ab_status begin(struct ab_interview *iv, const char *text, size_t len, struct ab_diag *diag)
{
	enum ab_status st = list_yeasts(iv, diag);
	iv->before = ab_arena_alloc(iv->arena, iv->setup.k->n_causes, sizeof *iv->before);
	if (st != AB_OK || iv->before == NULL)
		return no_memory(diag);
	/* The scanner looks for bytes, as append.c says. */
	if (text != NULL && len >= 2 && (memchr(text, '\0', len) != NULL || (unsigned char)text[0] >= 0xFE))
		return ab_fail(diag, AB_EINPUT, iv->setup.name, 1,
		    "only a UTF-8 journal can be continued; save it as UTF-8 first");
	char *copy = text == NULL ? new_text(iv, &len) : ab_strndup(text, len);
	if (copy == NULL)
		return no_memory(diag);
	iv->was_tasted = false;
	if (text != NULL) {
		struct iv_work w;
		st = iv_work(iv, copy, len, false, &w, diag);
		if (st != AB_OK) {
			ab_free(copy);
			return st;
		}
		iv->was_tasted = w.batch->tastings.n > 0;
		iv_drop(&w);
	}
	st = iv_push(iv, copy, len, 0, -1, diag);
	iv->moved = false;
	return st;
}

enum ab_status ab_interview_new(const struct ab_interview_setup *setup, const char *text, size_t len,
    const char *batch_id, struct ab_interview **out, struct ab_diag *diag)
{
	struct ab_interview *iv = ab_calloc(1, sizeof *iv);
	*out = NULL;
	if (iv == NULL)
		return no_memory(diag);
	assert(setup->k != NULL && setup->today != NULL);
	iv->setup = *setup;
	strncat(iv->id, batch_id, sizeof iv->id - 1);
	iv->arena = ab_arena_new();
	iv->scratch = ab_net_scratch_new();
	enum ab_status st = iv->arena == NULL || iv->scratch == NULL ? no_memory(diag)
	    : begin(iv, text, len, diag);
	if (st != AB_OK) {
		ab_interview_free(iv);
		return st;
	}
	*out = iv;
	return AB_OK;
}

void ab_interview_free(struct ab_interview *iv)
{
	if (iv == NULL)
		return;
	for (size_t i = 0; i < iv->n; i++)
		ab_free(iv->states[i].text);
	ab_free(iv->states);
	iv_drop(&iv->now);
	ab_net_scratch_free(iv->scratch);
	ab_arena_free(iv->arena);
	ab_free(iv);
}

/* ---- what is asked of it ---- */

const char *ab_interview_text(const struct ab_interview *iv, size_t *len)
{
	*len = iv_now(iv)->len;
	return iv_now(iv)->text;
}

const struct ab_case *ab_interview_case(const struct ab_interview *iv)
{
	return iv->now.c;
}

struct ab_batch *ab_interview_batch(const struct ab_interview *iv)
{
	return iv->now.batch;
}

enum ab_interview_end ab_interview_end(const struct ab_interview *iv)
{
	return iv->turn.end;
}

const struct ab_question *ab_interview_question(const struct ab_interview *iv)
{
	return iv->turn.asking ? &iv->turn.question : NULL;
}

bool ab_interview_can_ask(int slot)
{
	return case_can_ask(slot);
}

static int by_step(const void *a, const void *b)
{
	const struct ab_move *x = a, *y = b;
	double dx = fabs(x->after - x->before), dy = fabs(y->after - y->before);
	if (dx != dy)
		return dx < dy ? 1 : -1;
	return (x->cause > y->cause) - (x->cause < y->cause);
}

size_t ab_interview_moves(const struct ab_interview *iv, struct ab_move *moves, size_t max)
{
	static const double LEAST = 0.02;
	enum { MOST = 64 };
	struct ab_move all[MOST];
	size_t n = 0;
	for (size_t i = 0; iv->moved && i < iv->setup.k->n_causes && n < MOST; i++) {
		struct ab_move m = { (int)i, iv->before[i], iv->now.c->diagnosis->blame[i] };
		if (fabs(m.after - m.before) >= LEAST)
			all[n++] = m;
	}
	if (n > 0)
		qsort(all, n, sizeof *all, by_step);
	n = n < max ? n : max;
	for (size_t i = 0; i < n; i++)
		moves[i] = all[i];
	return n;
}

size_t ab_interview_checks(const struct ab_interview *iv, double wait_days, int *checks, size_t max)
{
	static const double WORTH_DOING = 0.05;
	const struct ab_diagnosis *d = iv->now.c->diagnosis;
	size_t n = 0;
	for (size_t i = 0; i < d->n_asks && n < max; i++)
		if (d->asks[i].is_check && d->asks[i].bits >= WORTH_DOING && d->asks[i].wait_days <= wait_days)
			checks[n++] = d->asks[i].check;
	return n;
}
