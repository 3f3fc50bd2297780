/* table.c - passes over the table of subsets of found faults
 *
 * A table has 2^width entries; entry E belongs to the set E of open faults already pushed to their grade.
 * Each pass handles one child of one cause over all pairs (E without the fault, E with it). Every term is
 * positive.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* These loops are the whole cost of a solve; gcc 12 vectorises them only from -O3 on, which doubles their
 * speed. */
#if defined __OPTIMIZE__ && defined __GNUC__ && !defined __clang__
#pragma GCC optimize ("O3")
#endif

/* Where the loader can choose between two copies of a function, one for processors that take four numbers at once: the
 * same operations in the same order, so the same bits. */
#if defined __x86_64__ && defined __gnu_linux__ && defined __GNUC__ && !defined __clang__ && \
    !defined __SANITIZE_ADDRESS__ && !defined __SANITIZE_THREAD__
#define WIDE __attribute__((target_clones("avx2", "default")))
#else
#define WIDE
#endif

/* Runs body over all blocks of pairs, x the half without the fault, y the half with it. The loops are written
 * once and specialised by the compiler for short steps, where an inner loop of unknown length would not
 * pay. */
#define BY_BLOCKS(body, size, step, ...) \
	do { \
		for (size_t at = 0; at < (size); at += 2 * (step)) { \
			if ((step) == 1) body(at, at + 1, 1, __VA_ARGS__); \
			else if ((step) == 2) body(at, at + 2, 2, __VA_ARGS__); \
			else body(at, at + (step), (step), __VA_ARGS__); \
		} \
	} while (0)

/* lo: the child stays below the grade; eq: it is pushed to the grade now; hi: it was pushed already, and
 * may stay or be pushed again. Above the grade is not there: that would contradict the finding. */
static inline void pass(size_t x, size_t y, size_t n, double *to, const double *from, double lo,
    double eq, double hi)
{
	double *restrict tx = to + x, *restrict ty = to + y;
	const double *restrict fx = from + x, *restrict fy = from + y;

	for (size_t i = 0; i < n; i++) {
		tx[i] = lo * fx[i];
		ty[i] = hi * fy[i] + eq * fx[i];
	}
}

/* y before x, for y needs the old x. */
static inline void pass_in_place(size_t x, size_t y, size_t n, double *to, double lo, double eq, double hi)
{
	double *restrict tx = to + x, *restrict ty = to + y;

	for (size_t i = 0; i < n; i++) {
		ty[i] = hi * ty[i] + eq * tx[i];
		tx[i] = lo * tx[i];
	}
}

WIDE void net_pass(double *to, const double *from, size_t size, size_t step, double lo, double eq, double hi)
{
	assert(step > 0 && 2 * step <= size && size % (2 * step) == 0);
	if (to == from)
		BY_BLOCKS(pass_in_place, size, step, to, lo, eq, hi);
	else
		BY_BLOCKS(pass, size, step, to, from, lo, eq, hi);
}

/* The last pass of a cause and the mix with its inactive part in one sweep over memory, which is what the
 * time goes into. */
static inline void pass_add(size_t x, size_t y, size_t n, double *to, const double *from, const double *old,
    double in, double lo, double eq, double hi)
{
	double *restrict tx = to + x, *restrict ty = to + y;

	for (size_t i = 0; i < n; i++) {
		tx[i] = in * old[x + i] + lo * from[x + i];
		ty[i] = in * old[y + i] + (hi * from[y + i] + eq * from[x + i]);
	}
}

/* to is neither from nor old. */
WIDE void net_pass_add(double *to, const double *from, const double *old, double in, size_t size, size_t step,
    double lo, double eq, double hi)
{
	BY_BLOCKS(pass_add, size, step, to, from, old, in, lo, eq, hi);
}

/* The transpose of pass: what flowed from x to y forward flows from y to x here. */
static inline void pass_back(size_t x, size_t y, size_t n, double *to, const double *from, double lo,
    double eq, double hi)
{
	double *restrict tx = to + x, *restrict ty = to + y;
	const double *restrict fx = from + x, *restrict fy = from + y;

	for (size_t i = 0; i < n; i++) {
		tx[i] = lo * fx[i] + eq * fy[i];
		ty[i] = hi * fy[i];
	}
}

static inline void pass_back_in_place(size_t x, size_t y, size_t n, double *to, double lo,
    double eq, double hi)
{
	double *restrict tx = to + x, *restrict ty = to + y;

	for (size_t i = 0; i < n; i++) {
		tx[i] = lo * tx[i] + eq * ty[i];
		ty[i] = hi * ty[i];
	}
}

WIDE void net_pass_back(double *to, const double *from, size_t size, size_t step, double lo, double eq, double hi)
{
	assert(step > 0 && 2 * step <= size && size % (2 * step) == 0);
	if (to == from)
		BY_BLOCKS(pass_back_in_place, size, step, to, lo, eq, hi);
	else
		BY_BLOCKS(pass_back, size, step, to, from, lo, eq, hi);
}

/* Whether the fault had been pushed before or not, now it is pushed: both halves come from y of b. */
static inline void push_first(size_t x, size_t y, size_t n, double *to, const double *b, double eq)
{
	double *restrict tx = to + x, *restrict ty = to + y;

	for (size_t i = 0; i < n; i++)
		tx[i] = ty[i] = eq * b[y + i];
}

/* to = the part in which the first child is pushed. */
WIDE void net_push_first(double *to, const double *b, size_t size, size_t step, double eq)
{
	BY_BLOCKS(push_first, size, step, to, b, eq);
}

static inline void push_next(size_t x, size_t y, size_t n, double *to, const double *b, double c, double lo,
    double eq, double hi)
{
	double *restrict tx = to + x, *restrict ty = to + y;

	for (size_t i = 0; i < n; i++) {
		double now = c * b[y + i];

		tx[i] = lo * tx[i] + eq * (ty[i] + now);
		ty[i] = hi * ty[i] + eq * now;
	}
}

/* to = pushed earlier (this child's step applied), or pushed now for the first time; c = chance of no push so
 * far. */
WIDE void net_push_next(double *to, const double *b, double c, size_t size, size_t step, double lo,
    double eq, double hi)
{
	BY_BLOCKS(push_next, size, step, to, b, c, lo, eq, hi);
}

/* b = in b + rest_by rest + push_by push; push may be NULL, rest may be b. */
WIDE void net_mix(double *b, double in, const double *rest, double rest_by, const double *push, double push_by,
    size_t size)
{
	if (rest == b && push != NULL)
		for (size_t i = 0; i < size; i++)
			b[i] = (in + rest_by) * b[i] + push_by * push[i];
	else if (push != NULL)
		for (size_t i = 0; i < size; i++)
			b[i] = in * b[i] + rest_by * rest[i] + push_by * push[i];
	else
		for (size_t i = 0; i < size; i++)
			b[i] = in * b[i] + rest_by * rest[i];
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

/* By powers of two, which change no digit: scaling leaves no trace in the result. */
WIDE long net_rescale(double *table, size_t n, int top)
{
	double of[8] = { 0 }, max = 0, half, rest;
	int e;

	for (size_t i = 0; i < n; i += 8)   /* eight at a time: a single running maximum would wait for
	                                     * itself */
		for (size_t k = 0; k < 8 && i + k < n; k++)
			of[k] = table[i + k] > of[k] ? table[i + k] : of[k];
	for (size_t k = 0; k < 8; k++)
		max = of[k] > max ? of[k] : max;
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
