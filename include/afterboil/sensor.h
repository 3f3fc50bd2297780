/* sensor.h - temperature (and gravity) logs in CSV
 *
 * The first line names the columns: time (or date+time in one column), temperature, gravity; other columns are passed over.
 * Names, case-blind: "time", "timestamp", "datetime"; "temp", "temperature", "wort", "beer", "room", "ambient" with an optional unit in
 * "(C)", "[F]", "_c", "_f"; "gravity", "sg" . Separator comma, semicolon or tab (found in the header line); decimal point, or decimal comma when the
 * separator is not the comma. Times ISO 8601 local, with optional zone or Z, or epoch seconds or milliseconds (then, and with a zone, shifted by utc_offset_s).
 * Disorder is sorted, duplicates of one time averaged, implausible values (below -10 C, above 60 C) dropped, gaps over 3 h counted: all reported in counts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_SENSOR_H
#define AFTERBOIL_SENSOR_H

#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>

struct ab_sample { double s; double wort_c, room_c, gravity_sg; };  /* NAN where not logged; s on the same clock as ab_when */

struct ab_sensor {
	struct ab_sample *samples;   /* in order of time, no two at the same time */
	size_t n;
	size_t rows, duplicates, disorder, dropped, gaps;   /* what had to be handled */
	double longest_gap_s;
};

enum { AB_SENSOR_LIMIT = 32 * 1024 * 1024, AB_SENSOR_ROWS = 2000000 };

/* Reads a log. AB_EINPUT with the line for a header without time or temperature, a row that is no row, or more than half the rows
 * dropped; AB_ELIMIT; AB_ENOMEM. */
enum ab_status ab_sensor_read(const char *text, size_t len, const char *name, double utc_offset_s, struct ab_arena *arena,
    struct ab_sensor **out, struct ab_diag *diag);

#endif
