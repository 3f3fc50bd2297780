/* elimination.c - what batches with one fault all share, and what they do not
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/elimination.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Blamed so much in one batch it was a suspect; so much in each it still is (estimates). */
static const double SUSPECT = 0.2, OPEN = AB_HARDLY;

/* The batches looked at, and which of them have the fault: 1, -1 clean of it, 0 not tasted. */
struct looked {
	const struct ab_knowledge *k;
	const struct ab_trend_batch *batches;
	size_t n;
	signed char *has;
	struct ab_arena *arena;
};

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while looking for what is left");
}

static bool usable(const struct ab_trend_batch *b)
{
	return b->tasted && b->fault_load != NULL;
}

/* ---- which fault ---- */

static size_t count_with(const struct looked *l, size_t fault, bool *recent)
{
	size_t with = 0, tasted = 0;

	*recent = false;
	for (size_t i = l->n; i > 0; i--) {
		const struct ab_trend_batch *b = &l->batches[i - 1];

		if (!usable(b))
			continue;
		tasted++;
		if (!(b->fault_load[fault] > 0))
			continue;
		with++;
		*recent = *recent || tasted <= AB_ELIMINATE_RECENT;
	}
	return with;
}

static double weight_of(const struct looked *l, size_t fault)
{
	double sum = 0;

	for (size_t i = 0; i < l->n; i++)
		sum += usable(&l->batches[i]) ? l->batches[i].fault_load[fault] : 0;
	return sum;
}

/* The one that comes most often; of equals the heavier. */
static int fault_of(const struct looked *l)
{
	size_t most = AB_ELIMINATE_LEAST - 1;
	int found = -1;

	for (size_t f = 0; f < l->k->n_faults; f++) {
		bool recent;
		size_t with = count_with(l, f, &recent);

		if (recent &&
		    (with > most ||
			(found >= 0 && with == most && weight_of(l, f) > weight_of(l, (size_t)found)))) {
			most = with;
			found = (int)f;
		}
	}
	return found;
}

/* From the first with the fault on: what was before it is another story. */
static void since_first(struct looked *l, struct ab_elimination *e)
{
	size_t first = 0;

	while (!(usable(&l->batches[first]) && l->batches[first].fault_load[e->fault] > 0))
		first++;
	e->since = l->batches[first].id;
	for (size_t i = 0; i < l->n; i++) {
		bool with = usable(&l->batches[i]) && l->batches[i].fault_load[e->fault] > 0;

		l->has[i] = !usable(&l->batches[i]) ? 0 : with ? 1 : -1;
		e->with += with;
		e->tasted += i >= first && usable(&l->batches[i]);
	}
}

/* ---- things with a name ---- */

static bool tells(const struct ab_trend_batch *b, const char *factor)
{
	for (size_t i = 0; i < b->n_factors; i++)
		if (strcmp(b->factors[i].name, factor) == 0)
			return true;
	return false;
}

static bool had(const struct ab_trend_batch *b, const struct ab_factor *factor)
{
	for (size_t i = 0; i < b->n_factors; i++)
		if (strcmp(b->factors[i].name, factor->name) == 0 && strcmp(b->factors[i].value, factor->value) == 0)
			return true;
	return false;
}

/* Batches of a kind (1 with the fault, -1 clean) that tell of the factor, and those of them that had this value. */
static size_t telling(const struct looked *l, int kind, const struct ab_factor *factor, size_t *with)
{
	size_t told = 0;

	*with = 0;
	for (size_t i = 0; i < l->n; i++)
		if (l->has[i] == kind && tells(&l->batches[i], factor->name)) {
			told++;
			*with += had(&l->batches[i], factor);
		}
	return told;
}

/* Was it met in an earlier batch with the fault, or earlier in this one? By its name alone, or with its value. */
static bool met(const struct looked *l, size_t at, size_t which, bool value)
{
	const struct ab_factor *f = &l->batches[at].factors[which];

	for (size_t i = 0; i <= at; i++)
		for (size_t j = 0; l->has[i] == 1 && j < (i < at ? l->batches[i].n_factors : which); j++)
			if (strcmp(l->batches[i].factors[j].name, f->name) == 0 &&
			    (!value || strcmp(l->batches[i].factors[j].value, f->value) == 0))
				return true;
	return false;
}

/* "red, blue": all that batches with the fault had of a factor. NULL when memory is short. */
static const char *values_of(const struct looked *l, const char *factor)
{
	const char *all = "";

	for (size_t i = 0; i < l->n; i++)
		for (size_t j = 0; all != NULL && l->has[i] == 1 && j < l->batches[i].n_factors; j++)
			if (strcmp(l->batches[i].factors[j].name, factor) == 0 && !met(l, i, j, true))
				all = ab_arena_printf(l->arena, "%s%s%s", all, *all == '\0' ? "" : ", ",
				    l->batches[i].factors[j].value);
	return all;
}

/* Every value that all of them had. */
static void add_left(const struct looked *l, const char *factor, struct ab_elimination *e)
{
	for (size_t i = 0; i < l->n; i++)
		for (size_t j = 0; l->has[i] == 1 && j < l->batches[i].n_factors; j++) {
			const struct ab_factor *f = &l->batches[i].factors[j];
			size_t with, clean_with;

			if (strcmp(f->name, factor) != 0 || met(l, i, j, true))
				continue;
			size_t told = telling(l, 1, f, &with);
			if (with < told)
				continue;
			size_t clean = telling(l, -1, f, &clean_with);
			e->left[e->n_left++] = (struct ab_elim_thing){ f->name, f->value, told, clean_with, clean };
		}
}

static int by_clean(const void *x, const void *y)
{
	const struct ab_elim_thing *a = x, *b = y;
	double p = a->clean == 0 ? 0 : (double)a->clean_with / (double)a->clean;
	double q = b->clean == 0 ? 0 : (double)b->clean_with / (double)b->clean;

	return p != q ? (p < q ? -1 : 1) : strcmp(a->factor, b->factor);
}

static enum ab_status sort_things(const struct looked *l, struct ab_elimination *e, struct ab_diag *diag)
{
	size_t total = 0;

	for (size_t i = 0; i < l->n; i++)
		total += l->batches[i].n_factors;
	e->left = ab_arena_alloc(l->arena, total + 1, sizeof *e->left);
	e->out = ab_arena_alloc(l->arena, total + 1, sizeof *e->out);
	if (e->left == NULL || e->out == NULL)
		return nomem(diag);
	for (size_t i = 0; i < l->n; i++)
		for (size_t j = 0; l->has[i] == 1 && j < l->batches[i].n_factors; j++) {
			const struct ab_factor *f = &l->batches[i].factors[j];
			size_t before = e->n_left, with, told = telling(l, 1, f, &with);

			if (told < AB_ELIMINATE_LEAST || met(l, i, j, false))
				continue;
			add_left(l, f->name, e);
			if (e->n_left > before)
				continue;
			const char *values = values_of(l, f->name);
			if (values == NULL)
				return nomem(diag);
			e->out[e->n_out++] = (struct ab_elim_thing){ f->name, values, told, 0, 0 };
		}
	if (e->n_left > 1)
		qsort(e->left, e->n_left, sizeof *e->left, by_clean);
	return AB_OK;
}

/* ---- causes ---- */

static bool gives(const struct ab_cause *cause, int fault)
{
	for (size_t i = 0; i < cause->n_links; i++)
		if (cause->links[i].fault == fault)
			return true;
	return false;
}

static int by_share(const void *x, const void *y)
{
	const struct ab_elim_cause *a = x, *b = y;

	return a->share != b->share ? (a->share > b->share ? -1 : 1) : a->cause - b->cause;
}

/* The least blame a cause bears in any of the batches, and where; and the most. */
static void weigh_cause(const struct looked *l, size_t cause, struct ab_elimination *e)
{
	double least = 1, most = 0;
	const char *where = NULL;

	for (size_t i = 0; i < l->n; i++) {
		const struct ab_trend_batch *b = &l->batches[i];

		if (l->has[i] != 1 || b->blame == NULL)
			continue;
		where = where == NULL || b->blame[cause] < least ? b->id : where;
		least = fmin(least, b->blame[cause]);
		most = fmax(most, b->blame[cause]);
	}
	if (where == NULL)
		return;
	if (least < AB_HARDLY && most >= SUSPECT)
		e->out_causes[e->n_out_causes++] = (struct ab_elim_cause){ (int)cause, least, where };
	else if (least >= OPEN)
		e->causes[e->n_causes++] = (struct ab_elim_cause){ (int)cause, least, NULL };
}

static enum ab_status sort_causes(const struct looked *l, struct ab_elimination *e, struct ab_diag *diag)
{
	e->causes = ab_arena_alloc(l->arena, l->k->n_causes + 1, sizeof *e->causes);
	e->out_causes = ab_arena_alloc(l->arena, l->k->n_causes + 1, sizeof *e->out_causes);
	if (e->causes == NULL || e->out_causes == NULL)
		return nomem(diag);
	for (size_t c = 0; c < l->k->n_causes; c++)
		if (gives(&l->k->causes[c], e->fault))
			weigh_cause(l, c, e);
	if (e->n_causes > 1)
		qsort(e->causes, e->n_causes, sizeof *e->causes, by_share);
	return AB_OK;
}

enum ab_status ab_eliminate(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    struct ab_arena *arena, struct ab_elimination **out, struct ab_diag *diag)
{
	size_t from = n, tasted = 0;

	*out = NULL;
	while (from > 0 && tasted < AB_ELIMINATE_NEWEST)
		tasted += usable(&batches[--from]);
	struct looked l = { k, batches + from, n - from, ab_arena_alloc(arena, n - from + 1, 1), arena };
	struct ab_elimination *e = ab_arena_alloc(arena, 1, sizeof *e);
	if (l.has == NULL || e == NULL)
		return nomem(diag);
	e->fault = fault_of(&l);
	if (e->fault < 0)
		return AB_OK;
	since_first(&l, e);
	enum ab_status st = sort_things(&l, e, diag);
	if (st == AB_OK)
		st = sort_causes(&l, e, diag);
	if (st == AB_OK)
		*out = e;
	return st;
}
