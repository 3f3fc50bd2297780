/* moments.c - every point in time a batch tells, found through the tables
 *
 * An attribute added there is resolved and checked without a line here.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/moments.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "journal/tables.h"

enum { HALF_DAY = 12 * 3600, DAY = 24 * 3600, MOST_MOMENTS = 8 };   /* of one element */

/* One walk over the tables with the visitor it serves, passed down unchanged. */
struct walk {
	const struct ab_batch *batch;
	ab_moment_visit *visit;
	void *ctx;
	struct ab_diag *diag;
};

/* The rows of an element that are points in time: found once for all its records, of which a log kept by hand
 * has hundreds. */
struct moment_rows { const struct ab_attr_spec *at[MOST_MOMENTS]; size_t n; };

static struct moment_rows moment_rows(const struct ab_elem_spec *spec)
{
	struct moment_rows rows = { .n = 0 };
	for (const struct ab_attr_spec *a = spec->attrs; a != NULL && a->name != NULL; a++)
		if (a->kind == AB_ATTR_WHEN) {
			assert(rows.n < MOST_MOMENTS);
			rows.at[rows.n++] = a;
		}
	return rows;
}

/* A struct of a record begins with its mark, whatever the record: the table engine relies on it as well. */
static enum ab_status visit_record(const struct walk *w, const struct ab_elem_spec *spec,
    const struct moment_rows *rows, char *record)
{
	const struct ab_mark *mark = (const void *)record;
	for (size_t i = 0; i < rows->n; i++) {
		struct ab_when *when = (void *)(record + rows->at[i]->at);
		if (!when->known)
			continue;
		assert(mark->line >= 0);
		const struct ab_moment m = { spec->name, rows->at[i]->name, when, mark->line };
		enum ab_status st = w->visit(w->ctx, w->batch, &m, w->diag);
		if (st != AB_OK)
			return st;
	}
	return AB_OK;
}

/* An element that may stand once is a pointer, one that may repeat a list; a pointer is made to look like a
 * list of one, so that one loop serves both. */
static enum ab_status visit_children(const struct walk *w, const struct ab_elem_spec *specs,
    const char *parent)
{
	for (; specs != NULL && specs->name != NULL; specs++) {
		struct ab_list list = { 0 };
		if (specs->many)
			memcpy(&list, parent + specs->at, sizeof list);
		else
			memcpy(&list.items, parent + specs->at, sizeof list.items);
		list.n = specs->many ? list.n : list.items != NULL;
		if (list.n == 0)
			continue;
		const struct moment_rows rows = moment_rows(specs);
		if (rows.n == 0 && specs->children == NULL)
			continue;
		for (size_t i = 0; i < list.n; i++) {
			char *record = (char *)list.items + i * specs->size;
			enum ab_status st = visit_record(w, specs, &rows, record);
			if (st == AB_OK && specs->children != NULL)
				st = visit_children(w, specs->children, record);
			if (st != AB_OK)
				return st;
		}
	}
	return AB_OK;
}

enum ab_status ab_batch_each_moment(const struct ab_batch *batch, ab_moment_visit *visit, void *ctx,
    struct ab_diag *diag)
{
	const struct walk w = { batch, visit, ctx, diag };
	return visit_children(&w, ab_batch_children, (const char *)batch);
}

/* Certainly before: a date alone may be any time of its day (it is kept as its noon), so its end is
 * compared on the left and its start on the right. What cannot be told is not called before, or a true
 * journal would be refused. */
bool ab_when_before(const struct ab_when *a, const struct ab_when *b)
{
	if (!a->known && !b->known)
		return ab_when_apart(a, b) > 0;
	if (!a->known || !b->known || a->relative || b->relative)
		return false;
	double from = b->s - (b->date_only ? HALF_DAY : 0);
	return a->date_only ? a->s + HALF_DAY <= from : a->s < from;
}

/* How far a moment lies after packaging, s: positive after, negative before, 0 where it may be either. A day on
 * either side is left open, as what is told of a day may be of any hour of it; no beer is in its bottles a day after
 * it was pitched (common practice), so that much is before a packaging of no day too. */
static double after_packaging(const struct ab_batch *batch, const struct ab_when *when)
{
	const struct ab_package *p = batch->package;
	double since = ab_batch_since_pitch(batch, when);
	double packed = p != NULL ? ab_batch_since_pitch(batch, &p->at) : NAN;
	double after = !when->known && when->packaged ? when->s : since - packed;

	if (isnan(after))
		return since <= DAY ? since - DAY - 1 : 0;
	return fabs(after) >= DAY ? after : 0;
}

/* The highest ever told: the planned figure may be missed, and the first reading may be forgotten. What was read in
 * the package is none of it. INFINITY when nothing is surely from before packaging, so that nothing can be above it. */
double ab_batch_original_gravity(const struct ab_batch *batch)
{
	bool sure = batch->recipe != NULL && batch->recipe->og_sg.known;
	double highest = sure ? batch->recipe->og_sg.v : -INFINITY;

	for (AB_EACH(struct ab_reading, r, batch->readings)) {
		double after = r->gravity_sg.known ? after_packaging(batch, &r->at) : INFINITY;
		if (after > 0)
			continue;
		sure |= after < 0;
		highest = fmax(highest, r->gravity_sg.v);
	}
	return sure ? highest : INFINITY;
}
