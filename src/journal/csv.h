/* csv.h - lines, fields and times of a logger's CSV
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_CSV_H
#define AB_JOURNAL_CSV_H

#include <stdbool.h>
#include <stddef.h>

/* A line, and how far its fields have been read. whole: it ended in a newline; blank: nothing but blanks, or
 * a "#" comment. */
struct ab_csv_line { const char *at, *end; bool whole, blank, done; };
/* A field, borrowed from the text, blanks and one pair of quotes cut. */
struct ab_csv_field { const char *text; size_t len; };

/* The next line of *text; false at the end. */
bool ab_csv_line(const char **text, const char *end, struct ab_csv_line *line);
/* Semicolon, tab or comma: the first of these that stands in the header outside quotes. */
char ab_csv_separator(const struct ab_csv_line *header);
/* The next field of line; false when there is none. */
bool ab_csv_field(struct ab_csv_line *line, char separator, struct ab_csv_field *field);

/* A time as sensor.h says, in seconds on the wall clock; utc_offset_s is added to one with a zone and to an
 * epoch. False when it is none, or lies outside the years 1900 to 2999. */
bool ab_csv_time(const char *text, size_t len, double utc_offset_s, double *s);

#endif
