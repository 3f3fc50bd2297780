/* calendar_rows.c - the touches of all batches in order of time, and the hour of each
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>
#include <stdlib.h>

enum { HOUR = 3600, MINUTE = 60 };

/* now_hour is NAN for any day but today, and fmax then takes the other. */
static double begins(const struct ab_calendar_touch *t)
{
	double from = ab_day_begins(t->day, t->from_hour, t->takes->minutes);
	return fmax(isnan(t->hour) ? from : t->hour, t->now_hour);
}

/* Within a day by the hour, and within a batch as it was laid out. */
static int by_time(const void *a, const void *b)
{
	const struct calendar_row *x = a, *y = b;
	if (x->begins_s != y->begins_s)
		return x->begins_s < y->begins_s ? -1 : 1;
	if (x->of != y->of)
		return x->of < y->of ? -1 : 1;
	return x->t < y->t ? -1 : x->t > y->t;
}

struct calendar_row *report_calendar_rows(
    const struct ab_calendar_of *of, size_t n, struct ab_arena *arena, size_t *n_rows)
{
	size_t all = 0;
	*n_rows = 0;
	for (size_t i = 0; i < n; i++)
		all += of[i].plan->calendar->n;
	struct calendar_row *rows = ab_arena_alloc(arena, all + 1, sizeof *rows);
	for (size_t i = 0; rows != NULL && i < n; i++)
		for (size_t k = 0; k < of[i].plan->calendar->n; k++) {
			const struct ab_calendar_touch *t = &of[i].plan->calendar->touches[k];
			double s = t->day_s + begins(t) * HOUR;
			/* what was laid after another on its day stays after it */
			if (k > 0 && t[-1].day_s == t->day_s)
				s = fmax(s, rows[*n_rows - 1].begins_s);
			rows[(*n_rows)++] = (struct calendar_row){ &of[i], t, s };
		}
	if (*n_rows > 0)
		qsort(rows, *n_rows, sizeof *rows, by_time);
	for (size_t i = 1; i < *n_rows; i++) {
		const struct calendar_row *last = &rows[i - 1];
		double free_s = last->begins_s + round(last->t->takes->minutes) * MINUTE;
		if (last->t->day_s == rows[i].t->day_s)
			rows[i].begins_s = fmax(rows[i].begins_s, free_s);
	}
	return rows;
}
