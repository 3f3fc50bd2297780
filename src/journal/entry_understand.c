/* entry_understand.c - one sentence is understood
 *
 * The row is the one whose lead the sentence begins with (the longest); then, word by word from the left, each slot
 * that is still free is tried: first those whose little word stands there, then the bare ones. What no slot takes
 * is an error.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_read.h"

#include <string.h>

#include "base/spelled.h"

/* Whoever only tries a line needs no words why not; and looking for them would try lines again, without end. */
static enum ab_status misunderstood(const struct sentence *s, struct ab_diag *diag)
{
	const char *why = s->trying ? "not understood" : entry_doubt(s);

	return why != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why)
			   : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* Words before what happened that say nothing of it: "we added", "it is". */
static const char opening[] =
    "i we the my our just have has had now then and so also it it's its is was a an of in did added add threw "
    "got put took made some used still again really actually hit reached ok okay finally oh well alright today";

/* Past when it happened and what says nothing, to the lead. NULL when there is none, and s->at is where it would be. */
static const struct entry_row *find_lead(struct sentence *s, size_t *n, const char **why)
{
	const struct entry_row *row;

	*why = NULL;
	size_t when = entry_when_at(s, s->at, &s->when, why), from;
	/* "+3d" may be all that is said, and "2 days ago" no reading. */
	s->at += *why == NULL && s->at + when < s->n ? when : 0;
	from = s->at;
	while ((row = entry_row_at(s, s->at, n)) == NULL && s->at + 1 < s->n &&
	    entry_is_filler(opening, s->word[s->at]))
		s->at++;
	if (row == NULL && s->at + 1 == s->n && !entry_is_filler(opening, s->word[from]))
		s->at = from;
	return row;
}

/* The row, and the one that a sentence of it may tell of as well. */
static void begin_parts(struct sentence *s, const struct entry_row *row, size_t lead)
{
	s->at += lead;
	s->lead = s->taken = s->at;
	s->part[s->n_parts++].row = row;
	const struct entry_row *with;
	for (size_t i = 0; row->with != NULL && (with = entry_row(i)) != NULL; i++)
		if (strcmp(with->element, row->with) == 0) {
			s->part[s->n_parts++].row = with;
			break;
		}
}

/* When it happened, said behind it. */
static enum ab_status take_when(struct sentence *s, bool *taken, struct ab_diag *diag)
{
	const char *why = NULL;
	size_t n = s->when.known ? 0 : entry_when_at(s, s->at, &s->when, &why);

	*taken = n > 0 && why == NULL;
	s->at += *taken ? n : 0;
	s->taken = *taken ? s->at : s->taken;
	return why == NULL ? AB_OK
	    : *why == '\0' ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory")
			   : ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why);
}

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

static enum ab_status no_lead(struct sentence *s, const struct ab_when *at, const char **instead, struct ab_diag *diag)
{
	const char *ways[AB_ENTRY_WAYS], *why;

	if (s->trying)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "not understood");
	size_t n = entry_ways_meant(s, s->when.known ? &s->when : at, ways);
	if (n == ENTRY_NOMEM)
		return nomem(diag);
	if (n == 1) {
		*instead = ways[0];
		return AB_OK;
	}
	why = entry_no_lead(s);
	return why != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why) : nomem(diag);
}

/* All that stands behind the lead. */
static enum ab_status take_all(struct sentence *s, const struct ab_when *at, const char **content,
    struct entry_ahead *next, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	while (st == AB_OK && s->at < s->n) {
		bool taken = false;
		if (s->word[s->at][0] == '~')
			s->about = true;
		if (entry_take(s, content) || entry_take_item(s))
			continue;
		if (entry_next_begins(s, at, next) == AB_ENOMEM)
			return nomem(diag);
		if (next->words != NULL)
			return AB_OK;
		st = take_when(s, &taken, diag);
		if (st == AB_OK && !taken && !entry_pass_over(s))
			return misunderstood(s, diag);
	}
	return st == AB_OK && s->more && !s->part[0].row->text ? misunderstood(s, diag) : st;
}

/* "sanitised the bucket with" a name nobody knows here: it was done, with what is not told, and that is kept as a
 * note. */
static bool unknown_agent(const struct sentence *s)
{
	bool with = s->at > 0 && s->at < s->n && entry_is_filler("with using", s->word[s->at - 1]) && s->part[0].any &&
	    strncmp(s->part[0].row->leads, "sanitised", 9) == 0 && entry_near(s, s->at) == NULL;

	for (size_t i = s->at; with && i < s->n; i++)
		with = !s->breath[i] && strspn(s->word[i], "0123456789") == 0;
	return with && !s->trying && !ab_denies(s->said);
}

static enum ab_status nothing_said(const struct sentence *s, const struct entry_row *row, struct ab_diag *diag)
{
	const char *note = s->trying || s->n < 2 ? NULL : ab_arena_printf(s->arena, "note %s", s->said);

	if (note == NULL)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "nothing is said about %s. Example: %s", row->title,
		    entry_example_of(s));
	entry_offer(s, note);
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "nothing is said about %s. Example: %s; or write \"%.200s\"",
	    row->title, entry_example_of(s), note);
}

enum ab_status entry_understand(struct sentence *s, const struct ab_when *at, const char **content,
    const char **instead, struct entry_ahead *next, struct ab_diag *diag)
{
	const char *why;
	size_t lead;
	const struct entry_row *row = find_lead(s, &lead, &why);

	if (why != NULL)
		return *why == '\0' ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory")
				    : ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why);
	if (entry_asks_back(s) && (row == NULL || !row->text))
		return (why = s->trying ? "not understood" : entry_denied(s)) != NULL
		    ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why)
		    : nomem(diag);
	if (row == NULL)
		return no_lead(s, at, instead, diag);
	begin_parts(s, row, lead);
	enum ab_status st = take_all(s, at, content, next, diag);
	if (st == AB_EUSAGE && unknown_agent(s)) {
		ab_diag_init(diag);
		if (s->help != NULL && s->help->doubt != NULL)
			s->help->doubt->n = 0;
		*instead = ab_arena_printf(s->arena, "note %s", s->said);
		return *instead != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	}
	if (st != AB_OK)
		return st;
	st = entry_since_pitched(s, at, diag);
	st = st == AB_OK ? entry_forced_result(s, diag) : st;
	if (st != AB_OK)
		return st;
	if ((s->part[0].any || !row->need) && !entry_lacks_gravity(s))
		return entry_lacks_answer(s, diag);
	return nothing_said(s, row, diag);
}
