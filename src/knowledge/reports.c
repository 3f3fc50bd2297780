/* reports.c - what a cause may be reported as
 *
 * A cause gives faults, and faults are mistaken for each other: both together are reckoned when the rules load,
 * once and for all where no condition has a say. Thousands of batches then only look it up.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { GRADES = 4 };

bool ab_row_reports(const struct ab_row *row, const struct ab_fault *faults, int fault, double tail[4],
    bool *estimate)
{
	const struct ab_fault *f = &faults[fault];
	bool any = row->has[fault];
	double miss[GRADES];

	for (int k = 1; k < GRADES; k++)
		/* Ways to be reported at grade k or above are independent: the chance that all fail is a
		 * product. */
		miss[k] = any ? 1 - row->tail[fault][k] : 1;
	*estimate = any && row->estimate[fault];
	for (size_t i = 0; i < f->n_confusions; i++) {
		const struct ab_confusion *c = &f->confusions[i];
		if (!row->has[c->with])
			continue;
		for (int k = 1; k < GRADES; k++)
			miss[k] *= 1 - c->share * row->tail[c->with][k];
		*estimate = *estimate || c->source.estimate || row->estimate[c->with];
		any = true;
	}
	tail[0] = 1;
	for (int k = 1; k < GRADES; k++)
		/* The products fall with k, but 1 - miss rounds; the solver refuses a tail that rises by a
		 * single bit. */
		tail[k] = 1 - miss[k] < tail[k - 1] ? 1 - miss[k] : tail[k - 1];
	return any && tail[1] > 0;
}

double ab_row_noticed(const struct ab_row *row, const struct ab_fault *faults, int fault)
{
	const struct ab_fault *f = &faults[fault];
	double miss = row->has[fault] ? 1 - row->tail[fault][1] : 1;

	for (size_t i = 0; i < f->n_confusions; i++)
		if (row->has[f->confusions[i].with])
			miss *= 1 - f->confusions[i].share * row->tail[f->confusions[i].with][1];
	return 1 - miss;
}

/* A cause's links as if every condition held. firm: given without a condition, so always and as written. */
struct widest { struct ab_row row; bool *firm; };

static bool make_row(struct compiler *c, struct widest *w)
{
	size_t n = c->k->n_faults;
	w->row.tail = compile_room(c, n, sizeof *w->row.tail);
	w->row.has = compile_room(c, n, sizeof *w->row.has);
	w->row.estimate = compile_room(c, n, sizeof *w->row.estimate);
	w->firm = compile_room(c, n, sizeof *w->firm);
	return w->firm != NULL && w->row.tail != NULL && w->row.has != NULL && w->row.estimate != NULL;
}

static void fill_row(const struct ab_knowledge *k, const struct ab_cause *cause, struct widest *w)
{
	memset(w->row.has, 0, k->n_faults * sizeof *w->row.has);
	for (size_t i = 0; i < cause->n_links; i++) {
		const struct ab_link *link = &cause->links[i];
		assert(link->fault >= 0 && (size_t)link->fault < k->n_faults);
		w->firm[link->fault] = link->when.n == 0 && !w->row.has[link->fault];
		w->row.has[link->fault] = true;
		memcpy(w->row.tail[link->fault], link->tail, sizeof link->tail);
		w->row.estimate[link->fault] = link->source.estimate;
	}
	/* Which traits are expected hangs on the family, and how they weigh on what was found. */
	for (size_t i = 0; cause->expects && i < k->n_families; i++)
		for (size_t j = 0; j < k->families[i].n_expects; j++) {
			w->row.has[k->families[i].expects[j].fault] = true;
			w->firm[k->families[i].expects[j].fault] = false;
		}
}

/* Is the fault, or one that is mistaken for it, among what the cause gives? fixed: without any condition. */
static bool touches(const struct widest *w, const struct ab_fault *fault, int at, bool *fixed)
{
	bool any = w->row.has[at];
	*fixed = !any || w->firm[at];
	for (size_t i = 0; i < fault->n_confusions; i++) {
		int with = fault->confusions[i].with;
		any = any || w->row.has[with];
		*fixed = *fixed && (!w->row.has[with] || w->firm[with]);
	}
	return any;
}

/* Whether the cause may be reported as the fault, and how. */
static bool report_of(const struct ab_knowledge *k, const struct widest *w, int fault, struct ab_report *r)
{
	*r = (struct ab_report){ .fault = fault };
	return touches(w, &k->faults[fault], fault, &r->fixed) &&
	    (!r->fixed || ab_row_reports(&w->row, k->faults, fault, r->tail, &r->estimate));
}

/* Room for all causes at once, of which each takes what it needs: what a batch looks at stands side by side then, and
 * the processor fetches it ahead. */
struct pools { struct ab_report *reports; struct ab_noticed *noticed; int *loose; };

static bool make_pools(struct compiler *c, struct pools *p)
{
	size_t n = c->k->n_faults * c->k->n_causes;
	p->reports = compile_room(c, n, sizeof *p->reports);
	p->noticed = compile_room(c, n, sizeof *p->noticed);
	p->loose = compile_room(c, n, sizeof *p->loose);
	c->k->report_at = compile_room(c, n, sizeof *c->k->report_at);
	c->k->reported = compile_room(c, n, sizeof *c->k->reported);
	return p->reports != NULL && p->noticed != NULL && p->loose != NULL && c->k->report_at != NULL &&
	    c->k->reported != NULL;
}

/* Of one cause, each report at its fault's and its own place for now. */
static void add_reports(struct ab_knowledge *k, size_t at, const struct widest *w, struct pools *p)
{
	struct ab_cause *cause = &k->causes[at];
	cause->n_noticed = cause->n_loose = 0;
	cause->noticed = p->noticed;
	cause->loose = p->loose;
	for (size_t f = 0; f < k->n_faults; f++) {
		struct ab_report *r = &p->reports[f * k->n_causes + at];
		if (!report_of(k, w, (int)f, r))
			continue;
		k->report_at[f * k->n_causes + at] = 1;
		if (r->fixed)
			cause->noticed[cause->n_noticed++] = (struct ab_noticed){ (int)f, r->tail[1] };
		else
			cause->loose[cause->n_loose++] = (int)f;
	}
	p->noticed += cause->n_noticed;
	p->loose += cause->n_loose;
}

/* Without the places between. */
static void close_up(struct ab_knowledge *k, const struct pools *p)
{
	unsigned short n = 0;
	for (size_t i = 0; i < k->n_faults * k->n_causes; i++)
		if (k->report_at[i] != 0) {
			k->reported[n++] = p->reports[i];
			k->report_at[i] = n;
		}
}

void compile_reports(struct compiler *c)
{
	struct widest w;
	struct pools p;
	if (!make_row(c, &w) || !make_pools(c, &p))
		return;
	for (size_t i = 0; i < c->k->n_causes; i++) {
		fill_row(c->k, &c->k->causes[i], &w);
		add_reports(c->k, i, &w, &p);
	}
	close_up(c->k, &p);
}

enum ab_status ab_knowledge_settle(struct ab_knowledge *k, struct ab_arena *arena, struct ab_diag *diag)
{
	struct lint lint = { 0 };
	struct compiler c = { .arena = arena, .lint = &lint, .k = k };

	for (size_t i = 0; i < k->n_causes; i++)
		for (size_t j = 0; j < k->causes[i].n_priors; j++) {
			struct ab_prior *prior = &k->causes[i].priors[j];
			prior->log_odds = log(prior->p) - log1p(-prior->p);
		}
	compile_reports(&c);
	if (!lint.no_memory)
		compile_hearing(&c);
	return lint.no_memory ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : AB_OK;
}
