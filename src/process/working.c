/* working.c - looking fields up, collecting what a fact rests on, setting it with its working
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

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

void ab_rest_on_basis(struct ab_basis *basis, const struct ab_basis *other)
{
	basis->guess |= other->guess;
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
	double u = resolution / 3.4641016151377544;
	return guess ? fmax(AB_GUESS_WIDENS * u, at_least) : u;
}

/* The one place that reads records by offset. A row made by AB_ONE or AB_MANY has its member's type
 * checked by nobody, so kind must match the member: number, or word and yes/no (both int). */
static bool read_field(const char *record, const struct ab_plain *row, double *v, double *resolution)
{
	if (row->kind == AB_FIELD_NUM) {
		const struct ab_num *num = (const void *)(record + row->field);
		*v = num->v * row->factor;
		*resolution = num->resolution * row->factor;
		return num->known;
	}
	int word = *(const int *)(const void *) (record + row->field);
	*v = word - 1;     /* AB_NO is 1, AB_YES 2: the same step as words */
	*resolution = 0;
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
		double v, resolution;
		if (!read_field(record, row, &v, &resolution) || (told->known && !better(row, v, told->v)))
			continue;
		told->known = true;
		told->v = v;
		told->resolution = resolution;
		told->basis = ab_basis_new();
		ab_rest_on(&told->basis, (const void *)record, usual);
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
	struct ab_told told = { .known = false };

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

static void set(struct ab_work *w, int slot, const struct ab_basis *basis, double value, double u, char grade)
{
	struct ab_fact *fact = &w->facts[slot];

	assert(slot >= 0 && slot < AB_F_MAX_ && basis->n <= AB_FACT_LINES);
	fact->origin = basis->origin;
	fact->value = value;
	fact->u = ab_fact_defs()->defs[slot].kind == AB_FACT_NUMBER ? u : 0;
	fact->guess = basis->guess;
	fact->grade = grade;
	memcpy(fact->lines, basis->lines, basis->n * sizeof *basis->lines);
}

/* How wide a guessed number is at least: a tenth of it, but temperatures and gravities count from zeros that
 * mean nothing here. */
static double guess_width(int slot, double v)
{
	const char *unit = ab_fact_defs()->defs[slot].unit;
	if (strcmp(unit, "C") == 0)
		return 1.5;
	return strcmp(unit, "SG") == 0 ? 0.003 : 0.1 * fabs(v);
}

/* A field read as it stands is a measurement; an origin that is worse already stays. */
void ab_set_told(struct ab_work *w, int slot, const struct ab_told *told)
{
	struct ab_basis basis = told->basis;
	double u = 0;

	if (!told->known || !isfinite(told->v) || ab_is_as_if(w, slot))
		return;
	/* Counted things are not rounded. */
	if (basis.guess || strcmp(ab_fact_defs()->defs[slot].unit, "count") != 0)
		u = ab_reading_u(told->resolution, basis.guess, basis.guess ? guess_width(slot, told->v) : 0);
	if (basis.origin == AB_ORIGIN_DERIVED)
		basis.origin = AB_ORIGIN_MEASURED;
	set(w, slot, &basis, told->v, u, 0);
}

/* x with so many digits after the point, whatever the locale. Beyond 1e14 the digits would be invented
 * by the double. Digits come out in reverse and are turned round. */
static size_t put_number(char *buf, size_t size, double x, int digits)
{
	static const double scale[] = { 1, 10, 100, 1000, 10000 };
	char turned[32];
	size_t n = 0, k = 0;

	assert(digits >= 0 && (size_t)digits < sizeof scale / sizeof *scale);
	if (!(fabs(x) < 1e14)) {
		memcpy(buf, "?", size > 1 ? 1 : 0);
		return size > 1 ? 1 : 0;
	}
	double steps = round(fabs(x) * scale[digits]);
	unsigned long long left = (unsigned long long)steps;
	for (int i = 0; i <= digits || left > 0; i++, left /= 10) {
		if (i > 0 && i == digits)
			turned[k++] = '.';
		turned[k++] = (char)('0' + left % 10);
	}
	if (x < 0 && steps > 0)
		turned[k++] = '-';
	while (k > 0 && n + 1 < size)
		buf[n++] = turned[--k];
	return n;
}

/* Cut, never overrun: workings are for reading. */
static size_t put_text(char *buf, size_t size, const char *text)
{
	size_t n = strlen(text);
	if (n >= size)
		n = size - 1;
	memcpy(buf, text, n);
	return n;
}

/* A small vsnprintf for workings: a tenth of its time, and blind to the locale. An unknown letter after
 * % is shown as it is: the format attribute has the compiler find it anyway. */
static size_t format(char *buf, size_t size, const char *fmt, va_list ap)
{
	size_t n = 0;

	while (*fmt != '\0' && n + 1 < size) {
		if (*fmt != '%') {
			buf[n++] = *fmt++;
			continue;
		}
		fmt++;
		if (*fmt == 's')
			n += put_text(buf + n, size - n, va_arg(ap, const char *));
		else if (*fmt == 'd')
			n += put_number(buf + n, size - n, va_arg(ap, int), 0);
		else if (*fmt == '.' && fmt[1] >= '0' && fmt[1] <= '4' && fmt[2] == 'f') {
			n += put_number(buf + n, size - n, va_arg(ap, double), fmt[1] - '0');
			fmt += 2;
		} else
			buf[n++] = '%';
		fmt++;
	}
	return n;
}

/* Not finite means that some part was unknown: the fact then stays unknown, which spares every caller
 * the check. */
void ab_set(struct ab_work *w, int slot, const struct ab_basis *basis, double value, double u, char grade,
    const char *fmt, ...)
{
	char text[400];
	va_list ap;

	if (!isfinite(value) || ab_is_as_if(w, slot))
		return;
	set(w, slot, basis, value, isfinite(u) ? fabs(u) : 0, grade);
	if (fmt == NULL || w->bare)
		return;
	va_start(ap, fmt);
	size_t n = format(text, sizeof text, fmt, ap);
	va_end(ap);
	w->facts[slot].working = ab_arena_strndup(w->arena, text, n);
	if (w->facts[slot].working == NULL)
		w->short_of_memory = true;
}
