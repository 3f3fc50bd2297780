/* setting.c - a fact is set, with its working
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <assert.h>
#include <stdarg.h>
#include <string.h>
#include "base/rough.h"

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

/* What a fact was reckoned from; text of n bytes. */
static void set_working(struct ab_work *w, int slot, const char *text, size_t n)
{
	w->facts[slot].working = ab_arena_strndup(w->arena, text, n);
	if (w->facts[slot].working == NULL)
		w->short_of_memory = true;
}

static size_t format_of(char *buf, size_t size, const char *fmt, ...)
	__attribute__((format(printf, 3, 4)));

static size_t format_of(char *buf, size_t size, const char *fmt, ...)
{
	va_list ap;

	va_start(ap, fmt);
	size_t n = format(buf, size, fmt, ap);
	va_end(ap);
	return n;
}

/* The figure told is the end from which the value lies by its own width (field.h). */
static void say_bound(struct ab_work *w, int slot, const struct ab_told *told)
{
	const struct ab_fact *fact = &w->facts[slot];
	const char *unit = ab_fact_defs()->defs[slot].unit;
	bool over = told->basis.bound == AB_BOUND_OVER;
	double by = told->resolution / AB_RESOLUTION_OF_U, end = over ? told->v - by : told->v + by;
	double scale = strcmp(unit, "share") == 0 ? 100 : 1;
	char text[200];

	if (w->bare)
		return;
	size_t n = format_of(text, sizeof text,
	    strcmp(unit, "SG") == 0 ? "%s %.3f %s is told: taken as %.3f (estimate)"
				    : "%s %.1f %s is told: taken as %.1f (estimate)",
	    over ? "more than" : "less than", scale * end, scale > 1 ? "%" : unit, scale * fact->value);
	set_working(w, slot, text, n);
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
		u = ab_told_u(told, basis.guess ? guess_width(slot, told->v) : 0);
	if (basis.origin == AB_ORIGIN_DERIVED)
		basis.origin = AB_ORIGIN_MEASURED;
	set(w, slot, &basis, told->v, u, 0);
	if (told->basis.bound != AB_BOUND_NONE && ab_fact_defs()->defs[slot].kind == AB_FACT_NUMBER)
		say_bound(w, slot, told);
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
	w->facts[slot].guess |= basis->bound != AB_BOUND_NONE;
	if ((fmt == NULL && basis->bound == AB_BOUND_NONE) || w->bare)
		return;
	va_start(ap, fmt);
	size_t n = fmt == NULL ? 0 : format(text, sizeof text, fmt, ap);
	va_end(ap);
	if (basis->bound != AB_BOUND_NONE)
		n += format_of(text + n, sizeof text - n, "%s%s", n > 0 ? "; " : "",
		    "a figure is told as \"more\" or \"less than\", how far beyond is an estimate");
	set_working(w, slot, text, n);
}
