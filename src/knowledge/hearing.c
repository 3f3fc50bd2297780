/* hearing.c - lays the signs of all causes out by the fact they read
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/hearing.h"

#include <assert.h>
#include <string.h>

#include "knowledge/compile.h"

/* Everything at its largest: a few words weigh nothing and leave a little room unused. */
static bool make_room(struct compiler *c, struct ab_hearing *h)
{
	size_t n = h->n_signs;
	h->curve_from = compile_room(c, h->n_facts + 1, sizeof *h->curve_from);
	h->word_from = compile_room(c, h->n_facts * AB_WORDS + 1, sizeof *h->word_from);
	h->curves = compile_room(c, n, sizeof *h->curves);
	h->when = compile_room(c, n + 1, sizeof *h->when);
	h->group = compile_room(c, n, sizeof *h->group);
	h->first = compile_room(c, h->n_causes, sizeof *h->first);
	h->made_of = compile_room(c, h->n_causes, sizeof *h->made_of);
	return h->curve_from != NULL && h->word_from != NULL && h->curves != NULL && h->when != NULL &&
	    h->group != NULL && h->first != NULL && h->made_of != NULL;
}

/* One place for conditions that are the same: rules that ask the same share them. */
static unsigned short when_at(struct ab_hearing *h, const struct ab_conds *when)
{
	size_t i = 0;
	while (i < h->n_when && (h->when[i].items != when->items || h->when[i].n != when->n))
		i++;
	if (i == h->n_when)
		h->when[h->n_when++] = *when;
	return (unsigned short)i;
}

/* The signs in order of causes: who they are, and how many there are of each fact (from, one place up) and word. */
static size_t list_signs(const struct ab_knowledge *k, struct ab_hearing *h, struct hearing_who *who)
{
	size_t at = 0, words = 0;
	for (size_t c = 0; c < k->n_causes; c++) {
		const struct ab_cause *cause = &k->causes[c];
		h->first[c] = (unsigned short)at;
		h->made_of[c] = cause->signs;
		for (size_t i = 0; i < cause->n_signs; i++, at++) {
			const struct ab_sign *sign = &cause->signs[i];
			who[at] = (struct hearing_who){ (unsigned short)c, (unsigned short)i, (unsigned short)at,
				when_at(h, &sign->when) };
			h->group[at] = (short)sign->group;
			if (sign->n > 0)
				h->curve_from[sign->slot + 1]++;
			for (int w = 0; sign->n == 0 && w < AB_WORDS; w++)
				if (sign->word_log_ratio[w] != 0) {
					h->word_from[sign->slot * AB_WORDS + w + 1]++;
					words++;
				}
		}
	}
	return words;
}

static void add_up(unsigned *from, size_t n)
{
	for (size_t i = 0; i < n; i++)
		from[i + 1] += from[i];
}

/* Each sign to its place; from[] moves up by one entry as it fills. */
static void place_sign(struct ab_hearing *h, const struct ab_sign *sign, struct hearing_who who)
{
	if (sign->n > 0)
		h->curves[h->curve_from[sign->slot]++] =
		    (struct hearing_curve){ who, sign->n, sign->x, sign->log_ratio, sign->nominal };
	for (int w = 0; sign->n == 0 && w < AB_WORDS; w++)
		if (sign->word_log_ratio[w] != 0)
			h->words[h->word_from[sign->slot * AB_WORDS + w]++] =
			    (struct hearing_word){ who, sign->word_log_ratio[w] };
}

/* What filling moved up is where the next begins. */
static void move_back(unsigned *from, size_t n)
{
	memmove(from + 1, from, n * sizeof *from);
	from[0] = 0;
}

/* Numbers of curves side by side, in the order in which they are read. */
static bool copy_numbers(struct compiler *c, struct ab_hearing *h)
{
	size_t n = h->curve_from[h->n_facts], need = 0;
	for (size_t i = 0; i < n; i++)
		need += 2 * h->curves[i].n;
	double *to = compile_room(c, need, sizeof *to);
	for (size_t i = 0; to != NULL && i < n; i++) {
		struct hearing_curve *curve = &h->curves[i];
		memcpy(to, curve->x, curve->n * sizeof *to);
		memcpy(to + curve->n, curve->log_ratio, curve->n * sizeof *to);
		curve->x = to;
		curve->log_ratio = to + curve->n;
		to += 2 * curve->n;
	}
	return need == 0 || to != NULL;
}

static bool fill(struct compiler *c, struct ab_hearing *h)
{
	const struct ab_knowledge *k = c->k;
	struct hearing_who *who = compile_room(c, h->n_signs, sizeof *who);
	if (who == NULL || !make_room(c, h))
		return false;
	h->n_when = 1; /* fresh memory: no conditions */
	h->words = compile_room(c, list_signs(k, h, who), sizeof *h->words);
	if (h->words == NULL)
		return false;
	add_up(h->curve_from, h->n_facts);
	add_up(h->word_from, h->n_facts * AB_WORDS);
	for (size_t i = 0; i < h->n_signs; i++)
		place_sign(h, &k->causes[who[i].cause].signs[who[i].sign], who[i]);
	move_back(h->curve_from, h->n_facts);
	move_back(h->word_from, h->n_facts * AB_WORDS);
	return copy_numbers(c, h);
}

void compile_hearing(struct compiler *c)
{
	struct ab_hearing *h = compile_room(c, 1, sizeof *h);
	c->k->hearing = NULL;
	if (h == NULL)
		return;
	h->n_facts = c->k->facts->n;
	h->n_causes = c->k->n_causes;
	for (size_t i = 0; i < h->n_causes; i++)
		h->n_signs += c->k->causes[i].n_signs;
	if (h->n_signs > HEARING_SIGNS || h->n_causes > HEARING_CAUSES)
		return;
	if (fill(c, h))
		c->k->hearing = h;
}
