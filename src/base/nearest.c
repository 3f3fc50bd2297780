/* nearest.c - what a mistyped name was meant to be
 *
 * Edit distance by the row-at-a-time dynamic programme (Wagner & Fischer 1974), letters compared case-blind.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/record.h"

#include <assert.h>
#include <string.h>

/* CLOSE: two, for two letters that changed places, a common slip of the fingers, cost two in this
 * distance. */
enum { LONGEST = 64, CLOSE = 2 };

/* Not tolower: it reads the locale, and in Turkish an I would not be an i. */
static char small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static size_t least(size_t a, size_t b)
{
	return a < b ? a : b;
}

/* row[j] is the distance from the first i letters of a to the first j of b; corner keeps what the row above
 * held one place to the left, the only old value a step still needs. One row instead of a matrix, since
 * only the last number is wanted. */
static size_t distance(const char *a, size_t na, const char *b, size_t nb)
{
	size_t row[LONGEST + 1];
	assert(na <= LONGEST && nb <= LONGEST);
	for (size_t j = 0; j <= nb; j++)
		row[j] = j;
	for (size_t i = 1; i <= na; i++) {
		size_t corner = row[0];
		row[0] = i;
		for (size_t j = 1; j <= nb; j++) {
			size_t swap = corner + (small(a[i - 1]) != small(b[j - 1]));
			corner = row[j];
			row[j] = least(swap, 1 + least(row[j], row[j - 1]));
		}
	}
	return row[nb];
}

const char *ab_nearest(const char *found, const char *const *names)
{
	size_t len = strlen(found), best = CLOSE + 1;
	const char *nearest = NULL;
	if (len > LONGEST)
		return NULL;
	for (; *names != NULL; names++) {
		size_t n = strlen(*names);
		/* Lengths that differ by more than CLOSE are never that close: most names are passed over
		 * unmeasured. */
		if (n > LONGEST || n > len + CLOSE || len > n + CLOSE)
			continue;
		size_t d = distance(found, len, *names, n);
		/* Less than half the letters may differ, else "tap" would be offered for "cup". Of equals the
		 * first stays, so the answer does not depend on anything but the order of the list. */
		if (d < best && d * 2 < len) {
			best = d;
			nearest = *names;
		}
	}
	return nearest;
}
