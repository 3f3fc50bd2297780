/* entering_answer.c - one answer of a sheet into the journal, and back out of it
 *
 * The file is replaced after every answer, under a lock; what another program wrote meanwhile stays.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/entering.h"

#include <stdio.h>
#include <string.h>

#include "base/alloc.h"
#include "journal/edit.h"

static enum ab_status make_answer(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch,
    char **text, size_t *len, struct ab_diag *diag)
{
	struct entering *e = ctx;
	struct step *step = &e->steps[e->n_steps];
	(void)batch;
	e->reached = true;
	enum ab_status st = ab_sheet_answer(e->run.sheet, e->items[e->at].part, e->said, e->run.today, place->text,
	    place->len, place->line, &e->reply, text, len, diag);
	if (st != AB_OK)
		return st;
	/* Nothing to write: the file as it is. */
	if (*text == NULL)
		*text = ab_strndup(place->text, *len = place->len);
	else
		*step = (struct step){ e->at, ab_strndup(place->text, place->len), ab_strndup(*text, *len),
			place->len, *len };
	bool short_of = *text == NULL || (step->before_len > 0 && (step->before == NULL || step->after == NULL));
	return short_of ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : AB_OK;
}

void entering_watch(struct entering *e)
{
	undo_watch(e->path, &e->undo);
}

void entering_keep(struct entering *e, enum ab_status st)
{
	char words[60];
	snprintf(words, sizeof words, "enter, %zu %s", e->written, e->written == 1 ? "answer" : "answers");
	undo_keep(&e->undo, st,
	    &(struct ab_undo_entry){ .kind = "enter", .batch = e->id, .words = words, .goes_on = e->kept });
	e->kept = e->kept || st == AB_OK;
}

void entering_forget(struct step *step)
{
	ab_free(step->before);
	ab_free(step->after);
	*step = (struct step){ 0 };
}

enum ab_status entering_write(struct entering *e, const char *said, enum heard *heard)
{
	struct ab_diag why;
	ab_diag_init(&why);
	e->said = said;
	e->reached = false;
	e->steps[e->n_steps] = (struct step){ 0 };
	entering_watch(e);
	enum ab_status st = ab_edit_file(e->path, e->id, make_answer, e, &why);
	bool written = st == AB_OK && e->reply.taken && !e->reply.unknown;
	e->n_steps += written;
	e->written += written;
	entering_keep(e, st);
	bool refused = e->reached && (st == AB_EINPUT || st == AB_EIMPOSSIBLE);
	*heard = refused || !e->reply.taken ? AGAIN : HEARD;
	if (st != AB_OK)
		entering_forget(&e->steps[e->n_steps]);
	if (st != AB_OK && !refused)
		return ab_fail(&e->cli->diag, st, why.source, why.line, "%s", why.text);
	if (refused) {
		char text[700];
		snprintf(text, sizeof text, "  That does not fit what is told already: %.600s", why.text);
		return talk_say(e->cli, text);
	}
	if (e->reply.taken)
		return AB_OK;
	char text[700];
	snprintf(text, sizeof text, "  %.600s", e->reply.says);
	return talk_say(e->cli, text);
}

static enum ab_status make_back(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch,
    char **text, size_t *len, struct ab_diag *diag)
{
	struct entering *e = ctx;
	struct step *step = &e->steps[e->n_steps - 1];
	(void)batch;
	if (place->len != step->after_len || memcmp(place->text, step->after, place->len) != 0)
		return ab_fail(diag, AB_EUSAGE, e->path, 0,
		    "another program changed this file meanwhile; \"afterboil log --undo\" "
		    "takes its last entry back");
	*text = ab_strndup(step->before, *len = step->before_len);
	return *text != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

enum ab_status entering_back(struct entering *e)
{
	if (e->n_steps == 0)
		return talk_say(e->cli, "  There is nothing to take back.");
	entering_watch(e);
	enum ab_status st = ab_edit_file(e->path, e->id, make_back, e, &e->cli->diag);
	e->written -= st == AB_OK;
	entering_keep(e, st);
	if (st != AB_OK)
		return st;
	struct step *step = &e->steps[--e->n_steps];
	e->at = step->at;
	entering_forget(step);
	return AB_OK;
}
