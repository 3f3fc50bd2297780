/* sensor.h - temperature (and gravity) logs in CSV
 *
 * The first line names the columns: time (or date+time in one column), temperature, gravity; other columns
 * are passed over. Names, case-blind: "time", "timestamp", "datetime"; "temp", "temperature", "wort", "beer"
 * for the beer, "room", "ambient" for the room around it; "gravity", "sg". A unit may follow, "(C)", "[F]",
 * "_c", "_f", for gravity "(P)" for Plato; a column with any other word in its name ("target temp") is not
 * read, and of two alike the first is. Separator semicolon, tab or comma (the first of these found in the
 * header line); decimal point, or decimal comma when the separator is not the comma. Empty, "-", "nan",
 * "null", "none" and "n/a" say nothing. Blank lines and lines that start with '#' are passed over.
 * Times ISO 8601 local, seconds optional, with optional zone or Z, or epoch seconds or milliseconds (then,
 * and with a zone, shifted by utc_offset_s from UTC to the brewer's clock).
 * Disorder is sorted, duplicates of one time averaged, implausible values (below -10 C, above 60 C; gravity
 * outside 0.97 to 1.25 SG) dropped, gaps over 3 h counted: all reported in counts. A last line without its
 * newline may be half a line: when it cannot be read it is dropped.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_SENSOR_H
#define AFTERBOIL_SENSOR_H

#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>

/* NAN where not logged; s on the same clock as ab_when */
struct ab_sample { double s; double wort_c, room_c, gravity_sg; };

struct ab_sensor {
	struct ab_sample *samples;   /* in order of time, no two at the same time */
	size_t n;
	size_t rows;                 /* lines of values, whatever became of them */
	size_t duplicates;           /* rows merged into an earlier one of the same time */
	size_t disorder;             /* rows earlier than the row before */
	size_t dropped;              /* rows with an implausible value (only that value is dropped) or with
	                              * none */
	size_t gaps;                 /* of more than 3 h */
	double longest_gap_s;        /* between any two samples; 0 when there are fewer */
};

enum { AB_SENSOR_LIMIT = 32 * 1024 * 1024, AB_SENSOR_ROWS = 2000000 };

/* Reads a log. AB_EINPUT with the line for a header without time or temperature, a row that is no row, or
 * when more than half the rows have no believable value; AB_ELIMIT; AB_ENOMEM. */
enum ab_status ab_sensor_read(const char *text, size_t len, const char *name, double utc_offset_s,
    struct ab_arena *arena, struct ab_sensor **out, struct ab_diag *diag);

#endif
