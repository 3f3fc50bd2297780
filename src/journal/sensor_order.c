/* sensor_order.c - the samples of a log in order: sorted, duplicates averaged, gaps counted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/sensor_order.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* Three hours: long enough for a rise of some degrees to go unseen (estimate). */
#define GAP_S (3 * 3600.0)

/* Equal times may come out in any order: they are averaged right after. */
static int by_time(const void *a, const void *b)
{
	const struct ab_sample *x = a, *y = b;
	return (x->s > y->s) - (x->s < y->s);
}

/* Of the values that are there: a channel silent in one row of two keeps what the other says. */
static double mean_of(const struct ab_sample *from, const struct ab_sample *to, size_t member)
{
	double sum = 0;
	size_t n = 0;
	for (; from < to; from++) {
		double v;
		memcpy(&v, (const char *)from + member, sizeof v);
		if (isnan(v))
			continue;
		sum += v;
		n++;
	}
	return n > 0 ? sum / (double)n : NAN;
}

/* Two rows of one second come from clocks set back in autumn, or from logs glued together; a step of no
 * time would have an infinite slope. */
static void merge_duplicates(struct ab_sensor *o)
{
	struct ab_sample *to = o->samples, *end = o->samples + o->n;
	for (struct ab_sample *from = o->samples, *next; from < end; from = next) {
		next = from + 1;
		while (next < end && next->s == from->s)
			next++;
		struct ab_sample one = *from;
		if (next - from > 1)
			one = (struct ab_sample){ from->s,
			    mean_of(from, next, offsetof(struct ab_sample, wort_c)),
				mean_of(from, next, offsetof(struct ab_sample, room_c)),
				mean_of(from, next, offsetof(struct ab_sample, gravity_sg)) };
		o->duplicates += (size_t)(next - from - 1);
		*to++ = one;
	}
	o->n = (size_t)(to - o->samples);
}

static void count_gaps(struct ab_sensor *o)
{
	for (size_t i = 1; i < o->n; i++) {
		double gap = o->samples[i].s - o->samples[i - 1].s;
		o->gaps += gap > GAP_S;
		if (gap > o->longest_gap_s)
			o->longest_gap_s = gap;
	}
}

void sensor_put_in_order(struct ab_sensor *o)
{
	/* Most logs are in order already, and a sort of a sorted array is still a sort. */
	if (o->disorder > 0)
		qsort(o->samples, o->n, sizeof *o->samples, by_time);
	merge_duplicates(o);
	count_gaps(o);
}
