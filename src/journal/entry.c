/* entry.c - a line of plain words becomes elements of a journal
 *
 * The line is cut into sentences, each sentence into words and understood (entry_understand.c); a slip of the hand
 * is put right, and the line read once more.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <string.h>

#include "journal/entry_dose.h"
#include "journal/entry_read.h"

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

static enum ab_status read_one(const char *words, const struct ab_when *at, const struct sentence *like,
    struct ab_entry **out, struct entry_ahead *next, struct ab_diag *diag);

/* The line once more, without the slip of the hand that it was not understood for; the echo says so. AB_EUSAGE:
 * that is none, or not all; diag is as it was. */
static enum ab_status read_mended(const struct sentence *s, const struct ab_when *at, struct ab_entry **out,
    struct entry_ahead *next, struct ab_diag *diag)
{
	enum { MOST = 3 };
	struct ab_entry_help help = s->help != NULL ? *s->help : (struct ab_entry_help){ 0 };
	const struct sentence like = {
		.arena = s->arena, .help = s->help != NULL ? &help : NULL, .mends = s->mends + 1
	};
	const char *as, *line = NULL;
	struct ab_diag why;
	enum ab_status st = s->trying || s->mends == MOST ? AB_OK : entry_mended(s, &as, &line);

	/* What else it may be is offered of the line as it was said. */
	help.doubt = NULL;
	ab_diag_init(&why);
	if (st == AB_OK)
		st = line == NULL ? AB_EUSAGE : read_one(line, at, &like, out, next, &why);
	if (st != AB_OK && st != AB_ENOMEM)
		return AB_EUSAGE;
	if (st == AB_OK) {
		(*out)->echo = ab_arena_printf(s->arena, "%s (\"%.40s\" read as \"%s\")", (*out)->echo,
		    strchr(as, ' ') != NULL ? entry_joined(s, s->at, 2) : s->word[s->at], as);
		st = (*out)->echo != NULL ? AB_OK : AB_ENOMEM;
	}
	if (st == AB_OK && s->help != NULL && s->help->doubt != NULL)
		s->help->doubt->n = 0;
	ab_diag_init(diag);
	return st == AB_OK ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* One sentence; next: what stands behind it, or NULL. like: whose help, arena, trying and mends. */
static enum ab_status read_one(const char *words, const struct ab_when *at, const struct sentence *like,
    struct ab_entry **out, struct entry_ahead *next, struct ab_diag *diag)
{
	struct sentence s = { .arena = like->arena, .help = like->help, .trying = like->trying, .mends = like->mends };
	const char *content = NULL, *instead = NULL;
	enum ab_status st;

	*next = (struct entry_ahead){ NULL, NULL };
	ab_str_init(&s.echo, 0);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_init(&s.part[i].xml, 0);
	st = entry_cut(&s, words) ? entry_understand(&s, at, &content, &instead, next, diag)
				  : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (st == AB_OK && instead != NULL)
		st = read_one(instead, s.when.known ? &s.when : at, like, out, next, diag);
	else if (st == AB_OK)
		st = entry_finish(&s, at, content, out, diag);
	if (st == AB_EUSAGE)
		st = read_mended(&s, at, out, next, diag);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_clear(&s.part[i].xml);
	ab_str_clear(&s.echo);
	return st;
}

/* A later sentence was refused: what can be meant is offered with all that was said before it, or that would be
 * lost. */
static enum ab_status with_head(const struct sentence *like, const char *head, struct ab_diag *diag)
{
	struct ab_entry_doubt *d = like->help != NULL ? like->help->doubt : NULL;
	struct ab_diag why = *diag;

	for (size_t i = 0; d != NULL && i < d->n; i++) {
		d->ways[i] = ab_arena_printf(like->arena, "%s%s", head, d->ways[i]);
		if (d->ways[i] == NULL)
			return AB_ENOMEM;
	}
	ab_diag_init(diag);
	if (d != NULL && d->n > 0)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "%.700s. The whole line: \"%.400s\"", why.text, d->ways[0]);
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "%.700s. Nothing of \"%.200s\" was written either", why.text, head);
}

static enum ab_status read_all(const char *words, const struct ab_when *at, const struct sentence *like,
    struct ab_entry **out, struct ab_diag *diag)
{
	struct ab_entry *first = NULL, **to = &first;
	struct ab_when moment = *at;
	struct entry_ahead next = { words, NULL };
	const char *head = "";
	enum ab_status st = AB_OK;

	*out = NULL;
	if (strlen(words) > AB_ENTRY_LIMIT)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "a line may be %d bytes long, this one has %zu",
		    AB_ENTRY_LIMIT, strlen(words));
	while (st == AB_OK && next.words != NULL) {
		words = next.words;
		st = read_one(words, &moment, like, to, &next, diag);
		if (st == AB_OK) {
			moment = (*to)->at;
			while (*to != NULL)
				to = &(*to)->next;
		}
		if (st == AB_OK && next.words != NULL && !like->trying &&
		    (head = ab_arena_printf(like->arena, "%s%s", head, next.head)) == NULL)
			return nomem(diag);
	}
	if (st == AB_OK)
		*out = first;
	if (st == AB_EUSAGE && *head != '\0' && with_head(like, head, diag) == AB_ENOMEM)
		return nomem(diag);
	return st;
}

enum ab_status ab_entry_read(const char *words, const struct ab_when *at, const struct ab_entry_help *help,
    struct ab_arena *arena, struct ab_entry **out, struct ab_diag *diag)
{
	const struct sentence like = { .arena = arena, .help = help };

	if (help != NULL && help->doubt != NULL)
		help->doubt->n = 0;
	*out = NULL;
	bool pieces = false;
	enum ab_status st =
	    strlen(words) > AB_ENTRY_LIMIT ? AB_OK : entry_dose(words, help, arena, &words, &pieces, diag);
	if (st == AB_OK)
		st = read_all(words, at, &like, out, diag);
	/* The note on them is the last that the line says. */
	struct ab_entry *last = st == AB_OK ? *out : NULL;
	while (last != NULL && last->next != NULL)
		last = last->next;
	if (pieces && last != NULL) {
		last->echo = ab_arena_printf(arena,
		    "%s. How much was that? Drops, cubes and spoons differ: weigh some, and write \"primed with ... g "
		    "sugar\", the sugar of the whole beer; till then nobody can tell how much gas there will be",
		    last->echo);
		st = last->echo != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	}
	return st;
}

enum ab_status entry_understood(const struct sentence *s, const char *line)
{
	const struct ab_when never = { 0 }, *now = s->help != NULL ? s->help->now : NULL;
	const struct sentence like = { .arena = s->arena, .help = s->help, .trying = s->trying + 1 };
	struct ab_entry *entry;
	struct ab_diag diag;

	ab_diag_init(&diag);
	return read_all(line, now != NULL ? now : &never, &like, &entry, &diag);
}

bool ab_entry_when(const char *words, const struct ab_when *now, const struct ab_when *pitched,
    struct ab_arena *arena, struct ab_when *out)
{
	const struct ab_entry_help help = { .now = now, .pitched = pitched };
	struct sentence s = { .arena = arena, .help = &help };
	struct ab_when when;
	const char *why = NULL;
	bool good = strlen(words) <= AB_ENTRY_LIMIT && entry_cut(&s, words) && s.n > 0 &&
	    entry_when_at(&s, 0, &when, &why) == s.n && why == NULL;

	if (good)
		*out = when;
	return good;
}

const char *ab_entry_recipe_part(const char *words, struct ab_arena *arena)
{
	struct sentence s = { .arena = arena };
	size_t n = 0;
	const struct entry_row *row =
	    strlen(words) <= AB_ENTRY_LIMIT && entry_cut(&s, words) ? entry_row_at(&s, 0, &n) : NULL;

	return row != NULL && row->inside != NULL && n == s.n ? row->element : NULL;
}
