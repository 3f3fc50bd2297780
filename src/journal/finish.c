/* finish.c - members that follow from others, and relative times made absolute
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/finish.h"

#include <assert.h>
#include <math.h>

#include "journal/moments.h"

enum { DAY = 86400, EVENING = 6 * 3600 };   /* from noon, where a date stands, to 18:00 */

static enum ab_status wrong(const struct ab_batch *b, long line, struct ab_diag *diag, const char *text)
{
	return ab_fail(diag, AB_EINPUT, b->source, line, "%s", text);
}

/* A yes/no that a number told beside it already answers. */
static bool answer_follows(int *answer, const struct ab_num *num)
{
	int told = num->known ? (num->v > 0 ? AB_YES : AB_NO) : AB_UNKNOWN;
	/* Only one of the two may have been written; both facts can then be asked without a rule that
	 * knows of the other. A contradiction is refused: neither is worth more. */
	if (told == AB_UNKNOWN || *answer == told)
		return true;
	if (*answer != AB_UNKNOWN)
		return false;
	*answer = told;
	return true;
}

static enum ab_status derive_tasting(const struct ab_batch *b, struct ab_tasting *t, struct ab_diag *diag)
{
	t->next_time = t->next_note != NULL ? t->next_note->text : NULL;
	for (AB_EACH(struct ab_found, f, t->found))
		if (f->fault[0] == '\0')
			return wrong(b, f->mark.line, diag,
			    "fault of <found> is empty; write what was tasted, such as \"buttery\"");
	for (AB_EACH(struct ab_absent, a, t->absent))
		if (a->fault[0] == '\0')
			return wrong(b, a->mark.line, diag,
			    "fault of <absent> is empty; write what was looked for, such as \"buttery\"");
	return AB_OK;
}

enum ab_status ab_batch_derive(struct ab_batch *b, struct ab_diag *diag)
{
	for (AB_EACH(struct ab_yeast, y, b->yeasts))
		if (!answer_follows(&y->made_starter, &y->starter_l))
			return wrong(b, y->mark.line, diag,
			    "made-starter and starter of <yeast> contradict each other; starter=\"0 "
			    "L\" means none");
	for (AB_EACH(struct ab_vessel, v, b->vessels))
		if (!answer_follows(&v->rated, &v->rated_kpa))
			return wrong(b, v->mark.line, diag,
			    "rated and rated-pressure of <vessel> contradict each other; leave one out");
	for (AB_EACH(struct ab_instrument, i, b->instruments))
		if (i->off_sg.known)
			i->off_sg.v -= 1;   /* "2 points" is read as 1.002 */
	for (AB_EACH(struct ab_log, l, b->logs))
		if (l->file[0] == '\0')
			return wrong(b, l->mark.line, diag,
			    "file of <log> is empty; write the name of a CSV file beside the journal");
	for (AB_EACH(struct ab_tasting, t, b->tastings)) {
		enum ab_status st = derive_tasting(b, t, diag);
		if (st != AB_OK)
			return st;
	}
	return AB_OK;
}

/* When the beer was pitched, or nearly; NAN in a profile's usual habits. Without a time of pitching the
 * evening of the brew day is taken: a brew day begun in the morning is pitched about then (estimate),
 * and half a day's error matters little to what is counted in days. */
static double origin(const struct ab_batch *b)
{
	if (b->pitch != NULL && b->pitch->at.known && !b->pitch->at.relative)
		return b->pitch->at.s;
	return b->brewed.known ? b->brewed.s + EVENING : NAN;
}

struct resolving { double from; bool packaged; };   /* the latter: some moment counts from packaging */

static enum ab_status resolve_moment(void *ctx, const struct ab_batch *b, const struct ab_moment *m,
    struct ab_diag *diag)
{
	struct resolving *r = ctx;
	(void)b;
	(void)diag;
	r->packaged |= m->when->packaged;
	if (m->when->relative && !m->when->packaged)
		*m->when = (struct ab_when){ .known = true, .s = m->when->s + r->from };
	return AB_OK;
}

/* After all others, when the packaging's own day is absolute. A day and whole days more are a day. Without that day the
 * moment keeps only what it counts from packaging on (when.h). */
static enum ab_status resolve_packaged(void *ctx, const struct ab_batch *b, const struct ab_moment *m,
    struct ab_diag *diag)
{
	const struct ab_when *from = ctx;
	struct ab_when *when = m->when;
	if (!when->packaged)
		return AB_OK;
	if (from == when)
		return ab_fail(diag, AB_EINPUT, b->source, m->line,
		    "%s of <%s> counts from packaging, and is the day of packaging itself; write a date, or the time "
		    "since pitching such as \"+14d\"",
		    m->attribute, m->element);
	if (from == NULL || !from->known || from->relative) {
		when->known = false;
		return AB_OK;
	}
	double s = from->s + when->s;
	bool whole = from->date_only && fmod(when->s, DAY) < 1;
	*when = (struct ab_when){ .known = true, .date_only = whole, .s = s };
	return AB_OK;
}

enum ab_status ab_batch_resolve(struct ab_batch *b, struct ab_diag *diag)
{
	if (b->pitch != NULL && b->pitch->at.relative)
		return wrong(b, b->pitch->mark.line, diag,
		    "at of <pitch> is itself a time since pitching; write the date and time, "
		    "such as \"2031-03-07T15:30\", or leave it out");
	struct resolving r = { .from = origin(b) };
	enum ab_status st = ab_batch_each_moment(b, resolve_moment, &r, diag);
	return st != AB_OK || !r.packaged
	    ? st
	    : ab_batch_each_moment(b, resolve_packaged, b->package != NULL ? &b->package->at : NULL, diag);
}

double ab_batch_since_pitch(const struct ab_batch *batch, const struct ab_when *when)
{
	assert(batch != NULL && when != NULL);
	if (!when->known)
		return NAN;
	/* Still relative only before ab_batch_resolve, and in usual habits, which never are resolved. */
	return when->relative ? when->s : when->s - origin(batch);
}
