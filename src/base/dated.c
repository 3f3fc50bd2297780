/* dated.c - how far ahead a journal may be dated
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/dated.h>

#include <math.h>
#include <stdlib.h>

#define DAY 86400.0
#define YEAR (365.25 * DAY)

static int by_day(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

static size_t known_first(double *days_s, size_t n)
{
	size_t known = 0;

	for (size_t i = 0; i < n; i++)
		if (isfinite(days_s[i])) {
			double day = days_s[i];

			days_s[i] = days_s[known];
			days_s[known++] = day;
		}
	return known;
}

/* The lower middle, so that of two batches the earlier is believed. One alone has nothing beside it but the clock,
 * which is then believed only against a day that is out of all reason. */
struct ab_dated ab_dated_limits(double *days_s, size_t n, double today_s)
{
	size_t known = known_first(days_s, n);
	double middle, far;

	if (known == 0)
		return (struct ab_dated){ INFINITY, INFINITY };
	qsort(days_s, known, sizeof *days_s, by_day);
	middle = days_s[(known - 1) / 2];
	if (middle <= today_s + AB_DATED_DAYS * DAY)
		return (struct ab_dated){ today_s + AB_DATED_DAYS * DAY, today_s + AB_DATED_PLANNED_DAYS * DAY };
	if (known == 1 && !isfinite(today_s))
		return (struct ab_dated){ INFINITY, INFINITY };
	far = (known == 1 ? today_s : middle) + AB_DATED_YEARS * YEAR;
	return (struct ab_dated){ far, far };
}
