/* table.c - passes over the table of subsets of found faults
 *
 * A table has 2^width entries; entry E belongs to the set E of open faults already pushed to their grade. Each pass
 * handles one child of one cause over all pairs (E without the fault, E with it). Every term is positive.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <math.h>
#include <string.h>

/* The pair loops are written once and specialised by the compiler for short steps, where an inner loop would not pay. */
#define FOR_PAIRS(size, step) \
	for (size_t base = 0; base < (size); base += 2 * (step)) \
		for (size_t i = base; i < base + (step); i++)

#define BY_STEP(body, step, ...) \
	do { \
		if ((step) == 1) body(__VA_ARGS__, 1); \
		else if ((step) == 2) body(__VA_ARGS__, 2); \
		else body(__VA_ARGS__, (step)); \
	} while (0)

static inline void pass(double *to, const double *from, size_t size, double lo, double eq, double hi, size_t step)
{
	FOR_PAIRS(size, step) {
		double x = from[i], y = from[i + step];

		to[i] = lo * x;
		to[i + step] = hi * y + eq * x;
	}
}

void net_pass(double *to, const double *from, size_t size, size_t step, double lo, double eq, double hi)
{
	BY_STEP(pass, step, to, from, size, lo, eq, hi);
}

static inline void pass_add(double *restrict to, const double *from, const double *old, double in, size_t size, double lo,
    double eq, double hi, size_t step)
{
	FOR_PAIRS(size, step) {
		double x = from[i], y = from[i + step];

		to[i] = in * old[i] + lo * x;
		to[i + step] = in * old[i + step] + (hi * y + eq * x);
	}
}

void net_pass_add(double *to, const double *from, const double *old, double in, size_t size, size_t step, double lo, double eq,
    double hi)
{
	BY_STEP(pass_add, step, to, from, old, in, size, lo, eq, hi);
}

static inline void pass_back(double *to, const double *from, size_t size, double lo, double eq, double hi, size_t step)
{
	FOR_PAIRS(size, step) {
		double x = from[i], y = from[i + step];

		to[i] = lo * x + eq * y;
		to[i + step] = hi * y;
	}
}

void net_pass_back(double *to, const double *from, size_t size, size_t step, double lo, double eq, double hi)
{
	BY_STEP(pass_back, step, to, from, size, lo, eq, hi);
}

static inline void push_first(double *restrict to, const double *restrict b, size_t size, double eq, size_t step)
{
	FOR_PAIRS(size, step)
		to[i] = to[i + step] = eq * b[i + step];
}

/* to = the part in which the first child is pushed. */
void net_push_first(double *to, const double *b, size_t size, size_t step, double eq)
{
	BY_STEP(push_first, step, to, b, size, eq);
}

static inline void push_next(double *restrict y, const double *restrict b, double c, size_t size, double lo, double eq, double hi,
    size_t step)
{
	FOR_PAIRS(size, step) {
		double with = y[i + step], now = c * b[i + step];

		y[i] = lo * y[i] + eq * (with + now);
		y[i + step] = hi * with + eq * now;
	}
}

/* y = pushed earlier (this child's step applied), or pushed now for the first time; c = chance of no push so far. */
void net_push_next(double *y, const double *b, double c, size_t size, size_t step, double lo, double eq, double hi)
{
	BY_STEP(push_next, step, y, b, c, size, lo, eq, hi);
}

/* Keeps the half with the fault pushed: size entries become size / 2. */
void net_forget(double *to, const double *from, size_t size, size_t step)
{
	for (size_t base = step; base < size; base += 2 * step, to += step)
		memcpy(to, from + base, step * sizeof *to);
}

/* The transpose: size / 2 entries become size, zero where the fault is not pushed. */
void net_unforget(double *to, const double *from, size_t size, size_t step)
{
	for (size_t base = 0; base < size; base += 2 * step, from += step) {
		memset(to + base, 0, step * sizeof *to);
		memcpy(to + base + step, from, step * sizeof *to);
	}
}

/* Pairwise: the error grows with log n, not n. */
double net_dot(const double *a, const double *b, size_t n)
{
	double s[4] = { 0, 0, 0, 0 };

	if (n > 256)
		return net_dot(a, b, n / 2) + net_dot(a + n / 2, b + n / 2, n - n / 2);
	if (n < 4) {
		for (size_t i = 0; i < n; i++)
			s[0] += a[i] * b[i];
		return s[0];
	}
	for (size_t i = 0; i < n; i += 4)   /* n is a power of two */
		for (size_t k = 0; k < 4; k++)
			s[k] += a[i + k] * b[i + k];
	return (s[0] + s[1]) + (s[2] + s[3]);
}

long net_rescale(double *table, size_t n, int top)
{
	double max = 0, half, rest;
	int e;

	for (size_t i = 0; i < n; i++)
		max = table[i] > max ? table[i] : max;
	if (max <= 0)
		return 0;
	(void)frexp(max, &e);
	e -= top;
	/* Two factors: 2^-e alone may be out of range when the largest entry is subnormal. */
	half = ldexp(1, -e / 2);
	rest = ldexp(1, -e - -e / 2);
	for (size_t i = 0; i < n; i++)
		table[i] = table[i] * half * rest;
	return e;
}
