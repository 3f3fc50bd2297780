/* when.h - dates and times as a brewer writes them
 *
 * "2031-03-07", "2031-03-07T15:30" or "2031-03-07 15:30" (ISO 8601, local clock, no zone), or "+3d 4h": an
 * interval after pitching, or "package+14d": one after packaging. Local times are counted as seconds since
 * 1970-01-01T00:00 on the wall clock, without zone or summer time: a brewer's notes carry neither, and an hour
 * twice a year is below what any fact here resolves (said in the manual). The library never reads the clock.
 *
 * Where nobody tells the day of packaging, a moment counted from it has no day: it is not known, but packaged and s
 * still tell how long after.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_WHEN_H
#define AFTERBOIL_WHEN_H

#include <stdbool.h>
#include <stddef.h>

struct ab_when {
	bool known;
	bool relative;    /* s counts from pitching, not from 1970 */
	bool packaged;    /* with relative: s counts from packaging; also where !known (see above) */
	bool date_only;   /* no time of day was given; s is noon of that day, +- 12 h */
	double s;
};

/* Reads text. True on success; otherwise false and why says what was found and what is allowed.
 * Years 1900 to 2999; leap years by the Gregorian rule. */
bool ab_when_read(const char *text, struct ab_when *out, char *why, size_t size);

/* Seconds from one to the other, of a journal that was read. NAN where they do not tell. */
double ab_when_apart(const struct ab_when *from, const struct ab_when *to);

/* Seconds since 1970 of a civil date at 00:00 (proleptic Gregorian; days-from-civil), and back. */
double ab_when_from_civil(int year, int month, int day);
void ab_when_to_civil(double s, int *year, int *month, int *day);

/* "2031-03-07" or "2031-03-07T15:30" into buf (at least 20 bytes); returns buf. Relative times give "+3d
 * 4h" and "package+14d". */
char *ab_when_write(const struct ab_when *when, char *buf, size_t size);

#endif
