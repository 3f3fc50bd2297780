/* working.c - looking fields up, and collecting what a fact rests on
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <assert.h>
#include <string.h>
#include "base/rough.h"

/* Derived is the least of origins a computed fact can have; resting on something worse makes it worse. */
struct ab_basis ab_basis_new(void)
{
	return (struct ab_basis){ .origin = AB_ORIGIN_DERIVED };
}

/* Line 0 is "no line"; a record cited twice is one. More than AB_FACT_LINES are dropped: nobody reads a
 * longer list. */
static void add_line(struct ab_basis *basis, long line)
{
	if (basis->n == AB_FACT_LINES)
		return;
	for (size_t i = 0; i < basis->n; i++)
		if (basis->lines[i] == line)
			return;
	if (line > 0)
		basis->lines[basis->n++] = line;
}

/* Origins are ordered by how little they are worth, so the worst wins by comparison. A usual record
 * lends no line: it stands in another file. */
void ab_rest_on(struct ab_basis *basis, const struct ab_mark *mark, bool usual)
{
	basis->guess |= mark->guess;
	if (usual)
		basis->origin = basis->origin > AB_ORIGIN_USUAL ? basis->origin : AB_ORIGIN_USUAL;
	else
		add_line(basis, mark->line);
}

void ab_rest_on_num(struct ab_basis *basis, const struct ab_mark *mark, const struct ab_num *num, bool usual)
{
	ab_rest_on(basis, mark, usual);
	if (!num->known)
		return;
	basis->guess |= num->guess;
	if (num->bound != AB_BOUND_NONE)
		basis->bound = num->bound;
}

double ab_num_at_most(const struct ab_num *num)
{
	return num->bound == AB_BOUND_UNDER ? num->v + num->resolution / AB_RESOLUTION_OF_U : num->v;
}

double ab_num_at_least(const struct ab_num *num)
{
	return num->bound == AB_BOUND_OVER ? num->v - num->resolution / AB_RESOLUTION_OF_U : num->v;
}

/* All but the lines' places, of which the first says that there is none: to clear them all would be most of the
 * work. */
static void nothing_told(struct ab_told *told)
{
	told->known = false;
	told->v = told->resolution = 0;
	told->basis.origin = AB_ORIGIN_UNKNOWN;
	told->basis.guess = false;
	told->basis.bound = AB_BOUND_NONE;
	told->basis.n = 0;
	told->basis.lines[0] = 0;
}

static void tell(struct ab_told *told, const struct ab_mark *mark, const struct ab_num *num, double factor, bool usual)
{
	nothing_told(told);
	told->known = num->known;
	told->v = num->v * factor;
	told->resolution = num->resolution * factor;
	told->basis.origin = AB_ORIGIN_DERIVED;
	ab_rest_on_num(&told->basis, mark, num, usual);
}

struct ab_told ab_told_num(const struct ab_mark *mark, const struct ab_num *num, double factor, bool usual)
{
	struct ab_told told;

	tell(&told, mark, num, factor, usual);
	return told;
}

void ab_rest_on_basis(struct ab_basis *basis, const struct ab_basis *other)
{
	basis->guess |= other->guess;
	if (other->bound != AB_BOUND_NONE)
		basis->bound = other->bound;
	if (other->origin > basis->origin)
		basis->origin = other->origin;
	for (size_t i = 0; i < other->n; i++)
		add_line(basis, other->lines[i]);
}

/* A fact's lines end at the first 0 unless all places are taken. */
void ab_rest_on_fact(struct ab_basis *basis, const struct ab_fact *fact)
{
	if (!AB_FACT_KNOWN(fact))
		return;
	basis->guess |= fact->guess;
	if (fact->origin > basis->origin)
		basis->origin = fact->origin;
	for (size_t i = 0; i < AB_FACT_LINES && fact->lines[i] != 0; i++)
		add_line(basis, fact->lines[i]);
}

bool ab_known(const struct ab_work *w, int slot)
{
	assert(slot >= 0 && slot < AB_F_MAX_);
	return AB_FACT_KNOWN(&w->facts[slot]);
}

/* At most a handful are given: no index needed. */
bool ab_is_as_if(const struct ab_work *w, int slot)
{
	for (size_t i = 0; i < w->n_as_if; i++)
		if (w->as_if[i].slot == slot)
			return true;
	return false;
}

double ab_value(const struct ab_work *w, int slot)
{
	return ab_known(w, slot) ? w->facts[slot].value : AB_NAN;
}

int ab_word(const struct ab_work *w, int slot)
{
	return ab_known(w, slot) ? 1 + (int)w->facts[slot].value : 0;
}

/* sqrt 12: the standard deviation of a reading rounded to one step. 3: who guesses is off by more than
 * a step of the scale (estimate). */
double ab_reading_u(double resolution, bool guess, double at_least)
{
	double u = resolution / AB_RESOLUTION_OF_U;
	return guess ? fmax(AB_GUESS_WIDENS * u, at_least) : u;
}

/* What lies beyond a bound is as wide as it is, guessed or not. */
static double reading_u(double resolution, bool guess, unsigned char bound, double at_least)
{
	double u = resolution / AB_RESOLUTION_OF_U;
	return bound == AB_BOUND_NONE ? ab_reading_u(resolution, guess, at_least) : guess ? fmax(u, at_least) : u;
}

double ab_num_u(const struct ab_mark *mark, const struct ab_num *num, double at_least)
{
	return reading_u(num->resolution, mark->guess || num->guess, num->bound, at_least);
}

double ab_told_u(const struct ab_told *told, double at_least)
{
	return reading_u(told->resolution, told->basis.guess, told->basis.bound, at_least);
}

/* The one place that reads records by offset. A row made by AB_ONE or AB_MANY has its member's type
 * checked by nobody, so kind must match the member: number, or word and yes/no (both int). */
static bool read_field(const char *record, const struct ab_plain *row, struct ab_num *out)
{
	if (row->kind == AB_FIELD_NUM) {
		const struct ab_num *num = (const void *)(record + row->field);
		if (num->known)
			*out = *num;
		return num->known;
	}
	int word = *(const int *)(const void *) (record + row->field);
	/* AB_NO is 1, AB_YES 2: the same step as words */
	*out = (struct ab_num){ .v = word - 1, .known = word > 0 };
	return word > 0;
}

/* AB_TAKE_FIRST is none of the three: what stands stays. */
static bool better(const struct ab_plain *row, double v, double than)
{
	return (row->how == AB_TAKE_LARGEST && v > than) || (row->how == AB_TAKE_SMALLEST && v < than) ||
	    row->how == AB_TAKE_LAST;
}

/* Every record of the journal begins with its mark, hence the cast at the end. */
static void look_in(const struct ab_batch *batch, const struct ab_plain *row, bool usual,
    struct ab_told *told)
{
	const char *base = (const char *)batch + row->at, *record;
	size_t n = 1;

	if (row->size == 0) {
		record = *(const char *const *)(const void *) base;
	} else {
		const struct ab_list *list = (const void *)base;
		record = list->items;
		n = list->n;
	}
	if (record == NULL)
		return;
	for (size_t i = 0; i < n; i++, record += row->size) {
		struct ab_num num;
		double factor = row->kind == AB_FIELD_NUM ? row->factor : 1;
		if (!read_field(record, row, &num) || (told->known && !better(row, num.v * factor, told->v)))
			continue;
		tell(told, (const void *)record, &num, factor, usual);
	}
}

/* A keg has none of the habits of bottling: caps, colour and wand of the usual bottles are not its own. */
static bool of_another_kind(const struct ab_work *w, const struct ab_plain *row)
{
	const struct ab_package *own = w->batch->package, *usual = w->usual->package;

	return row->size == 0 && row->at == offsetof(struct ab_batch, package) && own != NULL && usual != NULL &&
	    own->into != 0 && usual->into != 0 && own->into != usual->into;
}

/* The usual batch is asked only when this one is silent on the field, not when it lacks the record:
 * half-filled records are common. Of what is not known only that is set. */
static void look(const struct ab_work *w, const struct ab_plain *row, struct ab_told *told)
{
	told->known = false;
	look_in(w->batch, row, false, told);
	if (!told->known && w->usual != NULL && !of_another_kind(w, row))
		look_in(w->usual, row, true, told);
}

struct ab_told ab_look(const struct ab_work *w, const struct ab_plain *row)
{
	struct ab_told told;

	nothing_told(&told);
	look(w, row, &told);
	return told;
}

/* Most rows are not told: nothing is cleared or copied for them. */
void ab_set_plain(struct ab_work *w, const struct ab_plain *rows, size_t n)
{
	struct ab_told told;

	for (size_t i = 0; i < n; i++) {
		look(w, &rows[i], &told);
		if (told.known)
			ab_set_told(w, rows[i].slot, &told);
	}
}
