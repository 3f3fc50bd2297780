/* trials.c - what an answer would do, found by giving it
 *
 * Each answer that may come is written into the text, and the text goes through the whole pipe: so what
 * follows from it by the physics is there too, and nothing is approximated.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"
#include "casework/interviewing.h"

/* ---- trying answers ---- */

/* The answers to try of a row: its choices, else its tries. False beyond the last. */
static bool nth_try(const struct case_asked *asked, size_t i, char *to, size_t size)
{
	const char *at = asked->row->tries;
	if (asked->n_choices > 0) {
		if (i < asked->n_choices)
			snprintf(to, size, "%zu", i + 1);
		return i < asked->n_choices;
	}
	for (; at != NULL && i > 0; i--) {
		at = strchr(at, '|');
		at = at == NULL ? NULL : at + 1;
	}
	if (at != NULL)
		snprintf(to, size, "%.*s", (int)strcspn(at, "|"), at);
	return at != NULL;
}

struct trial { struct ab_interview *iv; const struct ab_edit_place *place; int slot; struct ab_diag *diag; };

/* The text with the answers of all rows of the fact: of row `vary` the try of this number, of the others the
 * first. NULL with AB_OK when there is no such try. */
static enum ab_status answered_text(const struct trial *t, size_t vary, size_t number, char **text, size_t *len)
{
	struct ab_edit_place place = *t->place;
	size_t at = 0;
	bool varied = false;
	enum ab_status st = AB_OK;
	*text = NULL;
	for (size_t i = 0; st == AB_OK && i < case_n_rows; i++) {
		const struct case_row *row = &case_rows[i];
		struct case_asked asked;
		struct case_said said;
		char word[64], *next = NULL;
		if (row->slot != t->slot || !iv_holds(t->iv, row) || iv_is_told(t->iv, row))
			continue;
		iv_asked(t->iv, row, &asked);
		bool here = at++ == vary;
		if (!nth_try(&asked, here ? number : 0, word, sizeof word))
			break;
		varied = varied || here;
		case_read_said(&asked, word, &said);
		st = iv_written(t->iv, &place, row, &said, &next, len, t->diag);
		ab_free(*text);
		*text = next;
		place.text = next;
		place.len = *len;
	}
	if (st != AB_OK || !varied) {
		ab_free(*text);
		*text = NULL;
	}
	return st;
}

/* One try; *there: false when there is none of this number. *more: on has not had enough. */
static enum ab_status one_trial(const struct trial *t, size_t vary, size_t number, iv_on_trial *on, void *ctx,
    bool *there, bool *more)
{
	struct ab_diag ignored;
	const struct trial quiet = { t->iv, t->place, t->slot, &ignored };
	struct iv_work w;
	char *text;
	size_t len = 0;
	ab_diag_init(&ignored);
	enum ab_status st = answered_text(&quiet, vary, number, &text, &len);
	*there = st != AB_OK || text != NULL;
	if (st == AB_OK && text != NULL)
		st = iv_work(t->iv, text, len, false, &w, &ignored);
	if (st == AB_OK && text != NULL) {
		*more = on(ctx, &w, text, len);
		iv_drop(&w);
	}
	ab_free(text);
	/* What the reader refuses nobody can answer; only real trouble is passed on. */
	return st == AB_ENOMEM || st == AB_ESYSTEM
	    ? ab_fail(t->diag, st, ignored.source, ignored.line, "%s", ignored.text) : AB_OK;
}

enum ab_status iv_each_trial(struct ab_interview *iv, const struct ab_edit_place *place, int slot,
    iv_on_trial *on, void *ctx, struct ab_diag *diag)
{
	const struct trial t = { iv, place, slot, diag };
	for (size_t vary = 0;; vary++)
		for (size_t number = 0;; number++) {
			bool there, more = true;
			enum ab_status st = one_trial(&t, vary, number, on, ctx, &there, &more);
			if (st != AB_OK || !more || (!there && number == 0))
				return st;
			if (!there)
				break;
		}
}

/* ---- does it matter? ---- */

static struct iv_advised advice_of(const struct ab_interview *iv, const struct ab_case *c)
{
	const struct ab_knowledge *k = iv->setup.k;
	const struct ab_diagnosis *d = c->diagnosis;
	const struct ab_suspect *first = ab_diagnosis_leading(d).suspect;
	struct iv_advised a = { NULL, d->verdict_benign, false };
	if (d->lead != NULL)
		a.next = k->kins[d->lead->kin].next;
	if (a.next == NULL && first != NULL)
		a.next = ab_cause_next(&k->causes[first->cause], c->facts);
	for (size_t i = 0; i < d->n_warnings; i++)
		a.alarm = a.alarm || strncmp(d->warnings[i].id, "bottle-", 7) == 0;
	return a;
}

static bool is_same_advice(const struct iv_advised *a, const struct iv_advised *b)
{
	if (a->benign != b->benign || a->alarm != b->alarm)
		return false;
	return a->next == b->next || (a->next != NULL && b->next != NULL && strcmp(a->next, b->next) == 0);
}

/* By how much the lead leads: its blame less that of the first suspect outside it. */
static double margin_of(const struct ab_interview *iv, const struct ab_case *c)
{
	const struct ab_cause *causes = iv->setup.k->causes;
	const struct ab_diagnosis *d = c->diagnosis;
	const struct ab_leading lead = ab_diagnosis_leading(d);
	for (size_t i = 0; i < d->n_suspects; i++) {
		const struct ab_suspect *s = &d->suspects[i];
		if (s != lead.suspect && !(d->lead != NULL && causes[s->cause].kin == d->lead->kin))
			return lead.blame - s->blame;
	}
	return 1;
}

/* What the tries of one question do. */
struct effect { struct iv_outlook *o; bool tells, failed; struct iv_worst worst; };

static bool see_effect(void *ctx, const struct iv_work *w, const char *text, size_t len)
{
	struct effect *e = ctx;
	struct ab_interview *iv = e->o->iv;
	struct iv_advised then = advice_of(iv, w->c);
	double margin = margin_of(iv, w->c);
	e->tells = e->tells || e->worst.slot < 0 || AB_FACT_KNOWN(&w->c->facts[e->worst.slot]);
	e->o->changes = e->o->changes || !is_same_advice(&then, &e->o->now);
	if (margin < e->worst.margin) {
		char *copy = ab_malloc(len + 1);
		e->failed = e->failed || copy == NULL;
		if (copy != NULL) {
			memcpy(copy, text, len + 1);
			ab_free(e->worst.text);
			e->worst = (struct iv_worst){ e->worst.slot, margin, copy, len };
		}
	}
	return !e->failed && !(e->tells && e->o->changes);
}

void iv_outlook_begin(struct iv_outlook *o, struct ab_interview *iv)
{
	*o = (struct iv_outlook){ .iv = iv, .now = advice_of(iv, iv->now.c) };
}

void iv_outlook_end(struct iv_outlook *o)
{
	for (size_t i = 0; i < o->n; i++)
		ab_free(o->worst[i].text);
	o->n = 0;
}

/* Among the worst, in order; what falls off the end is freed. */
static void keep_worst(struct iv_outlook *o, struct iv_worst *worst)
{
	size_t at = o->n;
	while (at > 0 && o->worst[at - 1].margin > worst->margin)
		at--;
	if (at == IV_WORST) {
		ab_free(worst->text);
		return;
	}
	if (o->n == IV_WORST)
		ab_free(o->worst[--o->n].text);
	memmove(&o->worst[at + 1], &o->worst[at], (o->n - at) * sizeof *o->worst);
	o->worst[at] = *worst;
	o->n++;
	assert(o->n <= IV_WORST);
}

static enum ab_status no_memory(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

enum ab_status iv_outlook_add(struct iv_outlook *o, int slot, bool *tells, struct ab_diag *diag)
{
	const struct ab_edit_place place = iv_place(o->iv);
	struct effect e = { .o = o, .worst = { .slot = slot, .margin = (double)INFINITY } };
	enum ab_status st = iv_each_trial(o->iv, &place, slot, see_effect, &e, diag);
	*tells = e.tells;
	if (st == AB_OK && e.failed)
		st = no_memory(diag);
	if (st == AB_OK && e.worst.text != NULL && e.tells)
		keep_worst(o, &e.worst);
	else
		ab_free(e.worst.text);
	return st;
}

/* Upon the worst answer of one question every answer of another. */
enum ab_status iv_outlook_pairs(struct iv_outlook *o, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;
	for (size_t i = 0; st == AB_OK && i < o->n; i++)
		for (size_t j = i + 1; st == AB_OK && !o->changes && j < o->n; j++) {
			const struct ab_edit_place place = { o->worst[i].text, o->worst[i].len, o->iv->id,
				o->iv->now.batch->mark.line };
			struct effect e = { .o = o, .worst = { .slot = -1, .margin = -2 } };
			st = iv_each_trial(o->iv, &place, o->worst[j].slot, see_effect, &e, diag);
		}
	return st;
}
