/* answering.c - one answer into the text of the journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/interviewing.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"
#include "process/slots.h"

enum { TARGET = 160, VALUE = 128 };

/* ---- one edit after another ---- */

void iv_begin(struct iv_writing *w, const struct ab_edit_place *place, const char *today, struct ab_diag *diag)
{
	*w = (struct iv_writing){ .place = *place, .today = today, .diag = diag };
}

/* The edit's text becomes that of the next one. */
static void take_over(struct iv_writing *w, struct ab_str *s)
{
	if (w->st != AB_OK) {
		ab_str_clear(s);
		return;
	}
	ab_free(w->text);
	w->text = s->text;
	w->place.text = s->text;
	w->place.len = s->len;
}

void iv_set(struct iv_writing *w, const char *target, const char *value, bool guess)
{
	struct ab_str s;
	if (w->st != AB_OK)
		return;
	ab_str_init(&s, AB_JOURNAL_LIMIT);
	w->st = ab_edit(&w->place, target, strcmp(value, "$today") == 0 ? w->today : value, guess, &s, w->diag);
	take_over(w, &s);
}

void iv_note(struct iv_writing *w, const char *note)
{
	struct ab_str s;
	if (w->st != AB_OK)
		return;
	ab_str_init(&s, AB_JOURNAL_LIMIT);
	w->st = ab_edit_note(&w->place, note, &s, w->diag);
	take_over(w, &s);
}

void iv_edits(struct iv_writing *w, const char *edits)
{
	char target[TARGET], value[VALUE];
	while (edits != NULL && *edits != '\0') {
		size_t n = strcspn(edits, "&");
		char one[TARGET + VALUE];
		snprintf(one, sizeof one, "%.*s", (int)n, edits);
		/* The last "=": targets hold some of their own. */
		char *equals = strrchr(one, '=');
		assert(equals != NULL && n < sizeof one);
		snprintf(value, sizeof value, "%s", equals + 1);
		snprintf(target, sizeof target, "%.*s", (int)(equals - one), one);
		bool told = target[0] != '+' && target[0] != '!' && w->st == AB_OK &&
		    ab_edit_told(&w->place, target);
		if (!told)
			iv_set(w, target, value, false);
		edits += n + (edits[n] == '&');
	}
}

char *iv_done(struct iv_writing *w, size_t *len)
{
	if (w->st != AB_OK) {
		ab_free(w->text);
		return NULL;
	}
	if (w->text == NULL) {
		/* Nothing was edited: the text as it was. */
		w->text = ab_malloc(w->place.len + 1);
		if (w->text == NULL) {
			w->st = ab_fail(w->diag, AB_ENOMEM, NULL, 0, "out of memory");
			return NULL;
		}
		memcpy(w->text, w->place.text, w->place.len);
		w->text[w->place.len] = '\0';
	}
	*len = w->place.len;
	return w->text;
}

/* ---- targets ---- */

/* The heaviest fault that the question can be about: gas and foam come with the package, so of them nobody can
 * say how they were before. */
const char *iv_found_word(const struct ab_interview *iv, const struct case_row *row)
{
	const struct ab_knowledge *k = iv->setup.k;
	const struct ab_list *tastings = &iv->now.batch->tastings;
	const struct ab_tasting *first = tastings->items;
	const char *word = NULL;
	double most = -1;
	if (strstr(row->target, "$found") == NULL || tastings->n == 0)
		return NULL;
	for (AB_EACH(const struct ab_found, f, first->found)) {
		size_t n;
		int fault = ab_fault_word(k, f->fault, NULL, 0, &n);
		if (fault < 0 || (row->slot == AB_F_TASTE_AT_PACKAGING && k->faults[fault].packaged_only))
			continue;
		double weight = k->faults[fault].severity * (f->intensity.known ? f->intensity.v : 3);
		if (weight > most) {
			most = weight;
			word = f->fault;
		}
	}
	return word;
}

static void put_in(const char *target, const char *what, const char *by, char *to, size_t size)
{
	const char *at = strstr(target, what);
	if (at == NULL || by == NULL)
		snprintf(to, size, "%s", target);
	else
		snprintf(to, size, "%.*s%s%s", (int)(at - target), target, by, at + strlen(what));
}

void iv_target(const struct ab_interview *iv, const struct case_row *row, char *to, size_t size)
{
	char dated[IV_TARGET];
	put_in(row->target, "$today", iv->setup.today, dated, sizeof dated);
	put_in(dated, "$found", iv_found_word(iv, row), to, size);
}

/* ---- an answer ---- */

static bool is_yeast(const struct case_row *row)
{
	return strcmp(row->target, "yeast class") == 0;
}

void iv_asked(const struct ab_interview *iv, const struct case_row *row, struct case_asked *asked)
{
	*asked = (struct case_asked){ .row = row, .spec = ab_edit_spec(row->target), .today = iv->setup.today,
		.us_units = iv->setup.us_units };
	if (is_yeast(row)) {
		asked->choices = iv->yeasts;
		asked->n_choices = iv->n_yeasts;
	}
	case_take_choices(asked);
	assert(asked->spec != NULL);
}

/* The marker that the day is not told goes with the day; its line and all. */
static void drop_no_date(struct iv_writing *w)
{
	static const char mark[] = "<note>" IV_NO_DATE "</note>";
	struct ab_str s;
	const char *at = w->st != AB_OK ? NULL : strstr(w->place.text, mark);
	if (at == NULL)
		return;
	const char *end = at + strlen(mark), *start = at;
	while (start > w->place.text && (start[-1] == ' ' || start[-1] == '\t'))
		start--;
	if (start > w->place.text && start[-1] == '\n' && *end == '\n')
		start--;
	else
		start = at;
	ab_str_init(&s, AB_JOURNAL_LIMIT);
	ab_str_addn(&s, w->place.text, (size_t)(start - w->place.text));
	ab_str_addn(&s, end, (size_t)(w->place.text + w->place.len - end));
	w->st = ab_str_ok(&s) ? AB_OK : ab_fail(w->diag, AB_ENOMEM, NULL, 0, "out of memory");
	take_over(w, &s);
}

/* A guessed day: the day itself carries no mark, so the pitching of that day does. */
static void write_brewed(struct iv_writing *w, const struct case_said *said)
{
	iv_set(w, "!batch brewed", said->value, false);
	drop_no_date(w);
	if (said->guess && !ab_edit_told(&w->place, "pitch at"))
		iv_set(w, "pitch at", said->value, true);
}

static void note_unknown(struct iv_writing *w, const char *name)
{
	char note[VALUE];
	if (name == NULL)
		return;
	snprintf(note, sizeof note, IV_NOT_KNOWN "%s", name);
	iv_note(w, note);
}

enum ab_status iv_written(const struct ab_interview *iv, const struct ab_edit_place *place,
    const struct case_row *row, const struct case_said *said, char **text, size_t *len, struct ab_diag *diag)
{
	struct iv_writing w;
	iv_begin(&w, place, iv->setup.today, diag);
	if (said->kind == CASE_SAID_UNKNOWN) {
		note_unknown(&w, iv_name(iv, row));
		note_unknown(&w, iv_part(iv, row));
	} else if (said->edits != NULL) {
		iv_edits(&w, said->edits);
	} else if (strcmp(row->target, "!batch brewed") == 0) {
		write_brewed(&w, said);
	} else {
		char target[IV_TARGET];
		iv_target(iv, row, target, sizeof target);
		iv_set(&w, target, said->value, said->guess);
	}
	if (said->kind == CASE_SAID_VALUE && row->also != NULL)
		iv_edits(&w, row->also + 1);
	*text = iv_done(&w, len);
	return w.st;
}

/* ---- the public side ---- */

static void refuse(struct ab_interview *iv, struct ab_reply *reply, const char *says)
{
	snprintf(iv->says, sizeof iv->says, "%s", says);
	reply->says = iv->says;
}

/* "at of <package> is 2031-03-07, before ...": the file's words for the part, which no brewer was asked in. */
static const char *after_place(const char *text)
{
	const char *at = text + strcspn(text, " "), *is = strncmp(at, " of <", 5) == 0 ? strstr(at, "> is ") : NULL;
	return is == NULL ? NULL : is + strlen("> is ");
}

/* What the reader refuses is the brewer's to mend, not the program's failure. */
static enum ab_status understood(struct ab_interview *iv, enum ab_status st, const struct ab_diag *why,
    struct ab_reply *reply, struct ab_diag *diag)
{
	if (st == AB_OK) {
		reply->taken = true;
		return AB_OK;
	}
	if (st != AB_EINPUT && st != AB_EIMPOSSIBLE)
		return ab_fail(diag, st, why->source, why->line, "%s", why->text);
	char says[CASE_WHY + 200];
	const char *plain = after_place(why->text);
	snprintf(says, sizeof says, "That does not fit what is told already: %s%.400s",
	    plain == NULL ? "" : "it would be ", plain == NULL ? why->text : plain);
	refuse(iv, reply, says);
	return AB_OK;
}

static enum ab_status answer_row(struct ab_interview *iv, const char *said, struct ab_reply *reply,
    struct ab_diag *diag)
{
	const struct iv_state *now = iv_now(iv);
	struct ab_edit_place place = iv_place(iv);
	struct case_asked asked;
	struct case_said answer;
	struct ab_diag why;
	char *text = NULL;
	size_t len = 0;
	iv_asked(iv, iv->turn.row, &asked);
	case_read_said(&asked, said, &answer);
	if (answer.kind == CASE_SAID_WRONG) {
		refuse(iv, reply, answer.why);
		return AB_OK;
	}
	ab_diag_init(&why);
	enum ab_status st = iv_written(iv, &place, iv->turn.row, &answer, &text, &len, &why);
	bool counts = iv->turn.question.number > 0;
	if (st == AB_OK)
		st = iv_push(iv, text, len, counts ? iv->turn.question.number : now->asked,
		    counts ? iv->turn.question.slot : -1, &why);
	reply->unknown = answer.kind == CASE_SAID_UNKNOWN;
	reply->guess = answer.guess && answer.kind == CASE_SAID_VALUE;
	return understood(iv, st, &why, reply, diag);
}

enum ab_status ab_interview_answer(struct ab_interview *iv, const char *said, struct ab_reply *reply,
    struct ab_diag *diag)
{
	*reply = (struct ab_reply){ .taken = false };
	if (!iv->turn.asking)
		return AB_OK;
	if (iv->turn.row == NULL)
		return iv_answer_taste(iv, said, reply, diag);
	return answer_row(iv, said, reply, diag);
}

enum ab_status ab_interview_checked(struct ab_interview *iv, int check, bool yes, struct ab_diag *diag)
{
	const struct iv_state *now = iv_now(iv);
	struct ab_edit_place place = iv_place(iv);
	struct iv_writing w;
	char target[TARGET];
	size_t len;
	snprintf(target, sizeof target, "+test{kind=%.64s} result", iv->setup.k->checks[check].id);
	iv_begin(&w, &place, iv->setup.today, diag);
	iv_set(&w, target, yes ? "yes" : "no", false);
	char *text = iv_done(&w, &len);
	return text == NULL ? w.st : iv_push(iv, text, len, now->asked, -1, diag);
}
