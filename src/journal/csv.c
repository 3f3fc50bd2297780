/* csv.c - lines, fields and times of a logger's CSV
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/csv.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/when.h>
#include "base/decimal.h"

enum { MINUTE = 60, HOUR = 3600, LONGEST = 40 };
#define MILLISECONDS_FROM 1e11   /* as seconds: the year 5138 */
#define EPOCH_FROM 1e8           /* the year 1973; smaller numbers are counters, not times */

static bool is_blank(char c)
{
	return c == ' ' || c == '\r' || c == '\t';
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* Not copied and not NUL terminated: a log of megabytes is walked in place. */
bool ab_csv_line(const char **text, const char *end, struct ab_csv_line *line)
{
	const char *from = *text;
	if (from >= end)
		return false;
	const char *newline = memchr(from, '\n', (size_t)(end - from));
	const char *stop = newline != NULL ? newline : end;
	*text = newline != NULL ? newline + 1 : end;
	*line = (struct ab_csv_line){ .at = from, .end = stop, .whole = newline != NULL };
	while (from < stop && is_blank(*from))
		from++;
	/* Lines that start with '#' are what some loggers write above their columns. */
	line->blank = from == stop || *from == '#';
	return true;
}

/* The rarer sign first: where ';' or a tab parts the columns a ',' may be a decimal point, never the other
 * way round. Quoted signs do not count. */
char ab_csv_separator(const struct ab_csv_line *header)
{
	static const char separators[] = ";\t,";
	for (const char *s = separators; *s != '\0'; s++) {
		bool quoted = false;
		for (const char *p = header->at; p < header->end; p++) {
			/* A doubled quote inside quotes flips twice and so changes nothing. */
			quoted ^= *p == '"';
			if (*p == *s && !quoted)
				return *s;
		}
	}
	return ',';
}

/* Quotes round a whole field are cut; a doubled quote inside stays, since no number or time holds one. */
bool ab_csv_field(struct ab_csv_line *line, char separator, struct ab_csv_field *field)
{
	if (line->done)
		return false;
	bool quoted = false;
	const char *from = line->at, *to = from;
	for (; to < line->end && (quoted || *to != separator); to++)
		quoted ^= *to == '"';
	assert(to >= line->at && to <= line->end);
	line->done = to == line->end;
	/* A line ending in a separator has one empty field more; done is set only when no separator was
	 * met. */
	line->at = to + !line->done;
	while (from < to && is_blank(*from))
		from++;
	while (from < to && is_blank(to[-1]))
		to--;
	if (to - from >= 2 && *from == '"' && to[-1] == '"') {
		from++;
		to--;
	}
	*field = (struct ab_csv_field){ from, (size_t)(to - from) };
	return true;
}

/* ":30" or ":30.25" after the minutes. */
static bool read_seconds(const char **text, double *s)
{
	double v, step;
	const char *p = *text;
	if (*p != ':')
		return true;
	if (!is_digit(p[1]) || !is_digit(p[2]))
		return false;
	p++;
	/* Sixty for a leap second, which clocks do show. */
	if (ab_decimal_read(&p, &v, &step) != AB_DECIMAL_OK || v >= 61)
		return false;
	*text = p;
	*s += v;
	return true;
}

/* "Z", "+02:00", "+0200" or "-05"; east is plus. */
static bool read_zone(const char *p, double *offset)
{
	if (p[0] == 'Z' || p[0] == 'z') {
		*offset = 0;
		return p[1] == '\0';
	}
	int sign = p[0] == '-' ? -1 : 1;
	if ((p[0] != '+' && p[0] != '-') || !is_digit(p[1]) || !is_digit(p[2]))
		return false;
	int hours = (p[1] - '0') * 10 + p[2] - '0', minutes = 0;
	p += 3;
	p += *p == ':';
	if (is_digit(p[0]) && is_digit(p[1])) {
		minutes = (p[0] - '0') * 10 + p[1] - '0';
		p += 2;
	}
	*offset = sign * (hours * HOUR + minutes * MINUTE);
	return *p == '\0' && hours <= 15 && minutes < 60;
}

/* The part up to the minutes is a moment as in journals; seconds and zone are the logger's own. */
static bool read_iso(const char *text, double utc_offset_s, double *s)
{
	enum { TO_MINUTES = 16 };
	char head[TO_MINUTES + 1], why[8];
	struct ab_when when;
	if (strlen(text) < TO_MINUTES)
		return false;
	memcpy(head, text, TO_MINUTES);
	head[TO_MINUTES] = '\0';
	if (!ab_when_read(head, &when, why, sizeof why) || when.relative || when.date_only)
		return false;
	const char *rest = text + TO_MINUTES;
	double zone;
	*s = when.s;
	if (!read_seconds(&rest, s))
		return false;
	rest += *rest == ' ';
	if (*rest == '\0')
		return true;
	if (!read_zone(rest, &zone))
		return false;
	/* A time without a zone is local already, as in the journal, and is not shifted. */
	*s += utc_offset_s - zone;
	return true;
}

bool ab_csv_time(const char *text, size_t len, double utc_offset_s, double *s)
{
	char copy[LONGEST + 1];
	const char *p = copy;
	double v, step;
	/* No sign: a time before 1970 is a logger that lost its clock. */
	if (len == 0 || len > LONGEST || !is_digit(text[0]))
		return false;
	memcpy(copy, text, len);
	copy[len] = '\0';
	if (ab_decimal_read(&p, &v, &step) != AB_DECIMAL_OK || *p != '\0')
		return read_iso(copy, utc_offset_s, s);
	if (v < EPOCH_FROM)
		return false;
	/* No logger ran in 5138, so larger numbers are milliseconds; saying so would be one more thing to
	 * get wrong. */
	*s = (v >= MILLISECONDS_FROM ? v / 1000 : v) + utc_offset_s;
	return *s < ab_when_from_civil(3000, 1, 1);
}
