/* taste_entry.c - what was tasted, in plain words, becomes one element of a journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/taste_entry.h>

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "casework/taste_words.h"

/* MOST: a line has no room for more. */
enum { USUAL = 3, NEAR = 3, MOST = AB_ENTRY_LIMIT / 2 };

struct sentence {
	const struct ab_knowledge *k;
	struct ab_str xml, echo, remarks;
	bool nothing, praised, found, rest;
	const char *extent;                                        /* of all that tell none of their own, or NULL */
	struct told {
		int fault, intensity;
		bool absent;
		const char *extent;
	} told[MOST];
	size_t n; /* in the order they were told, each once */
};

/* One thing as it was said, without what parts it from others. */
static void add_piece(struct ab_str *to, const char *from, const char *end)
{
	from += strspn(from, " \t\r\n,;+&.:");
	while (end > from && strchr(" \t\r\n,;+&", end[-1]) != NULL)
		end--;
	/* "and" between two belongs to neither. */
	if (end - from > 4 && strncmp(end - 4, " and", 4) == 0)
		end -= 4;
	ab_str_addf(to, "%s%.*s", to->len > 0 ? ", " : "", (int)(end - from), from);
}

static bool is_known(const struct case_taste *taste)
{
	return taste->fault >= 0 || taste->extent != NULL || taste->rest || case_is_clean(taste->word) ||
	    case_is_compared(taste->word);
}

/* Nothing of such a line is taken; it comes back without what was not understood, which a note can hold. */
static enum ab_status no_fault(const struct sentence *s, const char *words, const char *word, struct ab_diag *diag)
{
	struct ab_str known, others;
	struct case_taste taste;
	const char *near[NEAR] = { NULL };
	char list[200] = "";
	size_t n = 0;

	ab_str_init(&known, 0);
	ab_str_init(&others, 0);
	for (const char *from = words; case_next_taste(s->k, &words, &taste); from = words)
		add_piece(is_known(&taste) && taste.intensity >= 0 ? &known : &others, from, words);
	ab_fault_word(s->k, word, near, NEAR, &n);
	for (size_t i = 0; i < n; i++)
		snprintf(list + strlen(list), sizeof list - strlen(list), "%s\"%s\"",
		    i > 0 ? ", " : "; nearest is ", near[i]);
	bool good = ab_str_ok(&others) && (known.len == 0 || ab_str_ok(&known));
	enum ab_status st = !good ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory")
	    : known.len > 0
	    ? ab_fail(diag, AB_EUSAGE, NULL, 0,
		  "\"%.80s\" is no fault that is known here%s. Example: %.200s --note \"%.80s\" (\"afterboil "
		  "rules list faults\" lists all)",
		  word, list, ab_str_text(&known), ab_str_text(&others))
	    : ab_fail(diag, AB_EUSAGE, NULL, 0,
		  "\"%.40s\" is no fault that is known here%s. Example: buttery 3, green apple 1, no sour "
		  "(\"afterboil rules list faults\" lists all)",
		  word, list);
	ab_str_clear(&known);
	ab_str_clear(&others);
	return st;
}

/* Told once more: the stronger of the two. */
static enum ab_status add_taste(struct sentence *s, const struct case_taste *taste, struct ab_diag *diag)
{
	int intensity = taste->absent ? 0 : taste->intensity > 0 ? taste->intensity : USUAL;

	for (size_t i = 0; i < s->n; i++) {
		if (s->told[i].fault != taste->fault)
			continue;
		if (s->told[i].absent != taste->absent)
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "%.60s is told to be there and not to be; which of the two?",
			    s->k->faults[taste->fault].title);
		s->told[i].intensity = intensity > s->told[i].intensity ? intensity : s->told[i].intensity;
		s->told[i].extent = taste->extent != NULL ? taste->extent : s->told[i].extent;
		return AB_OK;
	}
	if (s->n < MOST)
		s->told[s->n++] = (struct told){ taste->fault, intensity, taste->absent, taste->extent };
	s->found = s->found || !taste->absent;
	return AB_OK;
}

static void write_told(struct sentence *s, const struct told *told)
{
	const struct ab_fault *fault = &s->k->faults[told->fault];

	ab_str_add(&s->echo, s->echo.len > 0 ? ", " : "");
	if (told->absent) {
		ab_str_addf(&s->xml, "<absent fault=\"%s\"/>", fault->id);
		ab_str_addf(&s->echo, "no %s", fault->title);
	} else {
		const char *extent = told->extent != NULL ? told->extent : s->extent;
		ab_str_addf(&s->xml, "<found fault=\"%s\" intensity=\"%d\"%s%s%s/>", fault->id, told->intensity,
		    extent != NULL ? " extent=\"" : "", extent != NULL ? extent : "", extent != NULL ? "\"" : "");
		ab_str_addf(&s->echo, "%s %d%s%s%s", fault->title, told->intensity, extent != NULL ? " (" : "",
		    extent != NULL ? extent : "", extent != NULL ? ")" : "");
	}
}

static enum ab_status add_one(
    struct sentence *s, const char *words, const struct case_taste *taste, struct ab_diag *diag)
{
	bool praise = taste->fault < 0 && case_is_praise(taste->word),
	     compared = taste->fault < 0 && case_is_compared(taste->word);

	if (praise || compared) {
		ab_str_addf(&s->remarks, "%s%s", s->remarks.len > 0 ? ", " : "", taste->word);
		s->praised = s->praised || praise;
		return AB_OK;
	}
	if (taste->fault < 0 && taste->rest) {
		s->rest = true;
		return AB_OK;
	}
	if (taste->fault < 0 && taste->extent != NULL) {
		if (s->extent != NULL && strcmp(s->extent, taste->extent) != 0)
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "who has it is told twice, %s and %s; say it behind each fault", s->extent,
			    taste->extent);
		s->extent = taste->extent;
		return AB_OK;
	}
	if (taste->fault < 0 && case_is_clean(taste->word)) {
		s->nothing = true;
		return AB_OK;
	}
	if (taste->intensity < 0)
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "how strong %.40s is goes from 1 (barely there) to 5 (undrinkable)", taste->word);
	return taste->fault < 0 ? no_fault(s, words, taste->word, diag) : add_taste(s, taste, diag);
}

/* Praise alone says that nothing is wrong; beside a fault it is a remark, and kept as one. */
static enum ab_status add_words(struct sentence *s, const char *words, struct ab_diag *diag)
{
	struct case_taste taste;
	enum ab_status st = AB_OK;

	for (const char *rest = words; st == AB_OK && case_next_taste(s->k, &rest, &taste);)
		st = add_one(s, words, &taste, diag);
	for (size_t i = 0; st == AB_OK && i < s->n; i++)
		write_told(s, &s->told[i]);
	if (st != AB_OK)
		return st;
	s->nothing = s->nothing || ((s->praised || s->rest) && s->n == 0);
	if (!ab_str_ok(&s->xml) || !ab_str_ok(&s->echo) || !ab_str_ok(&s->remarks))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (s->n == 0 && !s->nothing)
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "what was tasted? Write it like \"buttery 3, green apple 1, no sour\", or \"nothing\"");
	if (s->nothing && s->found)
		return ab_fail(
		    diag, AB_EUSAGE, NULL, 0, "\"nothing\" and a fault are told at once; which of the two?");
	return AB_OK;
}

static const char *attributes(const struct ab_tasting_more *more, bool nothing, const struct ab_when *at,
    struct ab_arena *arena)
{
	char when[32] = "";
	const char *by = more->by != NULL ? ab_entry_escaped(arena, more->by) : "";
	const char *slash = more->score != NULL ? strchr(more->score, '/') : NULL;
	const char *score = "", *mark = more->mark != NULL ? ab_entry_escaped(arena, more->mark) : "";

	if (at->known)
		ab_when_write(at, when, sizeof when);
	if (slash != NULL)
		score = ab_arena_printf(arena, " score=\"%.*s\" score-of=\"%s\"", (int)(slash - more->score),
		    more->score, slash + 1);
	if (by == NULL || score == NULL || mark == NULL)
		return NULL;
	return ab_arena_printf(arena, "%s%s%s%s%s%s%s%s%s%s%s", at->known ? " at=\"" : "", when,
	    at->known ? "\"" : "", *by != '\0' ? " by=\"" : "", by, *by != '\0' ? "\"" : "",
	    more->complete || nothing ? " complete=\"yes\"" : "", score, *mark != '\0' ? " mark=\"" : "", mark,
	    *mark != '\0' ? "\"" : "");
}

static bool is_score(const char *text)
{
	int of = 0, n = 0;

	return sscanf(text, "%*3[0-9]/%3d%n", &of, &n) == 1 && of > 0 && text[n] == '\0';
}

static enum ab_status finish(struct sentence *s, const struct ab_tasting_more *more, const struct ab_when *at,
    struct ab_arena *arena, struct ab_entry **out, struct ab_diag *diag)
{
	struct ab_entry *entry = ab_arena_alloc(arena, 1, sizeof *entry);
	const char *attrs = attributes(more, s->nothing || s->rest, at, arena);
	/* "good" alone is no remark: it is that nothing is wrong. */
	const char *remark = s->n > 0 && s->remarks.len > 0 ? ab_str_text(&s->remarks) : "";
	const char *both = more->note == NULL ? remark
	    : *remark == '\0'                 ? more->note
					      : ab_arena_printf(arena, "%s; %s", remark, more->note);
	const char *note = both == NULL ? NULL : *both != '\0' ? ab_entry_escaped(arena, both) : "";
	const char *next = more->next_time != NULL ? ab_entry_escaped(arena, more->next_time) : "";

	if (entry == NULL || attrs == NULL || note == NULL || next == NULL || !ab_str_ok(&s->xml) ||
	    !ab_str_ok(&s->echo))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	entry->element = ab_arena_printf(arena, "<tasting%s>%s%s%s%s%s%s%s</tasting>", attrs, ab_str_text(&s->xml),
	    *note != '\0' ? "<note>" : "", note, *note != '\0' ? "</note>" : "", *next != '\0' ? "<next-time>" : "",
	    next, *next != '\0' ? "</next-time>" : "");
	entry->echo =
	    ab_arena_printf(arena, "tasting: %s%s%s%s", s->echo.len > 0 ? ab_str_text(&s->echo) : "no fault",
		more->complete || s->nothing || s->rest ? "; all faults were considered" : "",
		*remark != '\0' ? "; noted: " : "", remark);
	entry->name = "tasting";
	if (entry->element == NULL || entry->echo == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*out = entry;
	return AB_OK;
}

enum ab_status ab_tasting_read(const struct ab_knowledge *k, const char *words,
    const struct ab_tasting_more *more, const struct ab_when *at, struct ab_arena *arena,
    struct ab_entry **out, struct ab_diag *diag)
{
	struct sentence s = { .k = k };
	enum ab_status st;

	*out = NULL;
	if (strlen(words) > AB_ENTRY_LIMIT)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "a line may be %d bytes long, this one has %zu",
		    AB_ENTRY_LIMIT, strlen(words));
	if (more->score != NULL && !is_score(more->score))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "score %.20s: write it like 32/50", more->score);
	ab_str_init(&s.xml, 0);
	ab_str_init(&s.echo, 0);
	ab_str_init(&s.remarks, 0);
	ab_str_add(&s.xml, "");
	ab_str_add(&s.remarks, "");
	st = add_words(&s, words, diag);
	if (st == AB_OK)
		st = finish(&s, more, at, arena, out, diag);
	ab_str_clear(&s.xml);
	ab_str_clear(&s.echo);
	ab_str_clear(&s.remarks);
	return st;
}
