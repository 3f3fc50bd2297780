/* series.c - a quantity over time: order, means, extremes, falls
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/series.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* The cap is fixed: every caller can count its readings beforehand, and the arena does not grow arrays. */
bool ab_series_new(struct ab_series *s, struct ab_arena *arena, size_t cap)
{
	s->n = 0;
	s->cap = cap;
	s->at = ab_arena_alloc(arena, cap, sizeof *s->at);
	return s->at != NULL;
}

/* Not finite means an unknown hour or value: passing it over here saves each caller the same test. */
void ab_series_add(struct ab_series *s, double h, double v)
{
	if (s->n < s->cap && isfinite(h) && isfinite(v))
		s->at[s->n++] = (struct ab_point){ h, v };
}

static int by_time(const void *a, const void *b)
{
	const struct ab_point *p = a, *q = b;
	return (p->h > q->h) - (p->h < q->h);
}

/* Logs come in order but for a few points, which are moved to their places. False, with all points still there,
 * when that would take long. */
static bool insert_few(struct ab_series *s)
{
	size_t moves = 8 * s->n;

	for (size_t i = 1; i < s->n; i++) {
		struct ab_point p = s->at[i];
		size_t to = i;
		for (; to > 0 && s->at[to - 1].h > p.h && moves > 0; to--, moves--)
			s->at[to] = s->at[to - 1];
		s->at[to] = p;
		if (moves == 0)
			return false;
	}
	return true;
}

/* Equal hours must go: every line between two points divides by their distance. */
void ab_series_settle(struct ab_series *s)
{
	size_t i, kept = 0;
	bool ordered = true;

	for (i = 1; i < s->n && ordered; i++)
		ordered = s->at[i - 1].h < s->at[i].h;
	if (ordered)
		return;
	if (!insert_few(s))
		qsort(s->at, s->n, sizeof *s->at, by_time);
	for (i = 0; i < s->n;) {
		double sum = 0, h = s->at[i].h;
		size_t first = i;
		for (; i < s->n && s->at[i].h <= h; i++)
			sum += s->at[i].v;
		s->at[kept++] = (struct ab_point){ h, sum / (double)(i - first) };
	}
	s->n = kept;
}

/* Value on the straight line from p to q. */
static double between(const struct ab_point *p, const struct ab_point *q, double h)
{
	assert(q->h > p->h);
	return p->v + (q->v - p->v) * (h - p->h) / (q->h - p->h);
}

double ab_series_at(const struct ab_series *s, double h)
{
	if (s->n == 0)
		return AB_NAN;
	if (h <= s->at[0].h)
		return s->at[0].v;
	if (!(h <= s->at[s->n - 1].h))
		return s->at[s->n - 1].v;
	/* at[low] is before h, at[high] is not: a log is asked as often as it has points */
	size_t low = 0, high = s->n - 1;
	while (high - low > 1) {
		size_t mid = low + (high - low) / 2;
		*(h <= s->at[mid].h ? &high : &low) = mid;
	}
	return between(&s->at[low], &s->at[high], h);
}

/* How many points stand before an hour, or at it where that counts. All stand before what is no hour, none at it. */
static size_t points_until(const struct ab_series *s, double h, bool at_it)
{
	size_t low = 0, high = s->n;

	while (low < high) {
		size_t mid = low + (high - low) / 2;
		if (at_it ? s->at[mid].h <= h : !(s->at[mid].h >= h))
			low = mid + 1;
		else
			high = mid;
	}
	return low;
}

/* Calls each with every straight piece of the window, the held ends included. */
typedef void piece_fn(void *ctx, double h0, double v0, double h1, double v1);

/* One walk for mean, maximum and hours, so their treatment of ends cannot differ; inline, for a call would cost more
 * than what each of them does. */
static inline __attribute__((always_inline)) void pieces(const struct ab_series *s, double from, double to,
    piece_fn *each, void *ctx)
{
	double h = from, v = ab_series_at(s, from);

	assert(s->n > 0 && to > from);
	for (size_t i = points_until(s, from, true); i < s->n && s->at[i].h < to; i++) {
		each(ctx, h, v, s->at[i].h, s->at[i].v);
		h = s->at[i].h;
		v = s->at[i].v;
	}
	each(ctx, h, v, to, ab_series_at(s, to));
}

static inline void add_area(void *ctx, double h0, double v0, double h1, double v1)
{
	*(double *)ctx += (h1 - h0) * (v0 + v1) / 2;
}

double ab_series_mean(const struct ab_series *s, double from_h, double to_h)
{
	double area = 0;
	if (s->n == 0 || !(to_h > from_h))
		return AB_NAN;
	pieces(s, from_h, to_h, add_area, &area);
	return area / (to_h - from_h);
}

static inline void raise(void *ctx, double h0, double v0, double h1, double v1)
{
	double *max = ctx;
	(void) h0, (void) h1;
	*max = v0 > *max ? v0 : *max;
	*max = v1 > *max ? v1 : *max;
}

double ab_series_max(const struct ab_series *s, double from_h, double to_h)
{
	double max = -AB_INF;
	if (s->n == 0 || !(to_h > from_h))
		return AB_NAN;
	pieces(s, from_h, to_h, raise, &max);
	return max;
}

size_t ab_series_count(const struct ab_series *s, double from_h, double to_h)
{
	size_t first = points_until(s, from_h, false), end = points_until(s, to_h, true);
	return end > first ? end - first : 0;
}

/* What pieces() carries along for one count of hours. */
struct above { double limit, sign, hours; };

/* Exact where the line crosses the limit: only the part above counts. */
static inline void add_above(void *ctx, double h0, double v0, double h1, double v1)
{
	struct above *a = ctx;
	double over0 = a->sign * (v0 - a->limit), over1 = a->sign * (v1 - a->limit);

	if (over0 > 0 && over1 > 0)
		a->hours += h1 - h0;
	else if (over0 > 0 || over1 > 0)
		a->hours += (h1 - h0) * fmax(over0, over1) / fabs(over0 - over1);
}

double ab_series_hours_above(const struct ab_series *s, double limit, double sign, double from_h, double to_h)
{
	struct above a = { limit, sign, 0 };
	if (s->n > 0 && to_h > from_h)
		pieces(s, from_h, to_h, add_above, &a);
	return a.hours;
}

/* The points of the window that may still be the top of a later fall stand in a queue, highest first (each
 * point enters and leaves it once, so the pass is linear however fine the log). */
double ab_series_fall(const struct ab_series *s, double sign, double window_h, double from_h, double to_h,
    struct ab_arena *arena)
{
	size_t head = 0, tail = 0;
	struct ab_point *queue = ab_arena_raw(arena, s->n, sizeof *queue);
	double most = 0;

	if (queue == NULL)
		return AB_NAN;
	for (const struct ab_point *at = s->at, *end = at + s->n; at < end && at->h <= to_h; at++) {
		const struct ab_point p = { at->h, sign * at->v };
		if (p.h < from_h)
			continue;
		while (head < tail && p.h - queue[head].h > window_h)
			head++;
		while (head < tail && queue[tail - 1].v <= p.v)
			tail--;
		queue[tail++] = p;
		assert(head < tail && tail <= s->n);
		most = queue[head].v - p.v > most ? queue[head].v - p.v : most;
	}
	return most;
}

/* A point off its neighbours' line by e has variance (1 + f^2 + (1-f)^2) of one reading, which is
 * divided out. Mean of |x|, not of squares: one wild reading must not set the noise of all. */
double ab_series_scatter(const struct ab_series *s, double within_h)
{
	/* mean of |x| to standard deviation of a normal x */
	static const double TO_SD = 1.2533141373155;
	double sum = 0;
	size_t n = 0;

	for (size_t i = 1; i + 1 < s->n; i++) {
		const struct ab_point *p = &s->at[i - 1], *q = &s->at[i + 1];
		if (s->at[i].h - p->h > within_h || q->h - s->at[i].h > within_h)
			continue;
		double far = (s->at[i].h - p->h) / (q->h - p->h);
		sum += fabs(s->at[i].v - between(p, q, s->at[i].h)) /
		    sqrt(1 + far * far + (1 - far) * (1 - far));
		n++;
	}
	return n >= 8 ? TO_SD * sum / (double)n : AB_NAN;
}

/* The crossing is interpolated, not the reading after it: gravity is often read days apart. */
double ab_series_first_below(const struct ab_series *s, double v)
{
	for (size_t i = 0; i < s->n; i++) {
		if (s->at[i].v > v)
			continue;
		if (i == 0 || s->at[i - 1].v - s->at[i].v <= 0)
			return s->at[i].h;
		return s->at[i - 1].h + (s->at[i].h - s->at[i - 1].h) * (s->at[i - 1].v - v) /
		    (s->at[i - 1].v - s->at[i].v);
	}
	return AB_NAN;
}
