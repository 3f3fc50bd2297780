/* sensor.c - temperature and gravity logs in CSV
 *
 * One pass over the text into an array as long as the text has lines, then put in order.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/sensor_order.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/decimal.h"
#include "base/str.h"
#include "journal/csv.h"

enum channel { TIME, WORT, ROOM, GRAVITY, CHANNELS };

/* What a probe in or near beer can show. Outside it is a broken wire or a start-up value (-127 and 85 C
 * of common digital probes, from memory), not weather. */
#define LOWEST_C -10.0
#define HIGHEST_C 60.0
#define LOWEST_SG 0.97
#define HIGHEST_SG 1.25

struct column { int at; bool fahrenheit, plato; };  /* at: -1 when the log has none */

/* The state of one pass. samples has room for as many rows as the text has lines, so a row never needs to
 * ask for memory. */
struct csv {
	const char *text, *end, *name;
	long line;
	char separator;
	struct column columns[CHANNELS];
	double utc_offset_s;
	struct ab_sensor *out;
	size_t lost;                /* rows with nothing left to keep */
	double last_s;
};

/* ---- the header ---- */

/* Lower-case words of a column's name; a degree sign and the brackets of a unit count as blanks. Bytes
 * above 127 are gaps: the degree sign has two spellings, and a byte-order mark may stick to the first. */
static size_t words_of(const struct ab_csv_field *f, char *buf, size_t size, char **words, size_t most)
{
	size_t n = 0, at = 0;
	bool inside = false;
	for (size_t i = 0; i < f->len && at + 2 < size; i++) {
		char c = f->text[i];
		c = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
		bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '+';
		if (letter && !inside) {
			if (n == most)
				return 0;
			words[n++] = buf + at;
		}
		if (letter)
			buf[at++] = c;
		else if (inside)
			buf[at++] = '\0';
		inside = letter;
	}
	buf[at] = '\0';
	return n;
}

static bool is_one_of(const char *word, const char *const *list)
{
	for (; *list != NULL; list++)
		if (strcmp(word, *list) == 0)
			return true;
	return false;
}

/* What a column holds; CHANNELS when it is none of ours. Every word must be known: "target temp" is no
 * temperature of the beer. */
static enum channel channel_of(const struct ab_csv_field *f, struct column *c)
{
	static const char *const times[] = { "time", "timestamp", "datetime", NULL };
	static const char *const worts[] = { "temp", "temperature", "wort", "beer", NULL };
	static const char *const rooms[] = { "room", "ambient", NULL };
	static const char *const gravities[] = { "gravity", "sg", NULL };
	static const char *const fahrenheits[] = { "f", "fahrenheit", NULL };
	static const char *const platos[] = { "p", "plato", NULL };
	static const char *const rest[] = { "c", "celsius", "date", "utc", "local", "deg", NULL };
	char buf[80], *words[6];
	bool seen[CHANNELS] = { false };
	size_t n = words_of(f, buf, sizeof buf, words, 6);
	for (size_t i = 0; i < n; i++) {
		/* The unit is part of the header: "Temp (F)". A number alone cannot tell, for 60 may be
		 * either. */
		bool f_unit = is_one_of(words[i], fahrenheits), p_unit = is_one_of(words[i], platos);
		c->fahrenheit |= f_unit;
		c->plato |= p_unit;
		if (is_one_of(words[i], times))
			seen[TIME] = true;
		else if (is_one_of(words[i], rooms))
			seen[ROOM] = true;
		else if (is_one_of(words[i], worts))
			seen[WORT] = true;
		else if (is_one_of(words[i], gravities))
			seen[GRAVITY] = true;
		else if (!f_unit && !p_unit && !is_one_of(words[i], rest))
			return CHANNELS;
	}
	/* "room temp" is of the room; temp alone is of the beer. */
	seen[WORT] &= !seen[ROOM];
	int kinds = seen[TIME] + seen[WORT] + seen[ROOM] + seen[GRAVITY];
	if (kinds != 1)
		return CHANNELS;
	return seen[TIME] ? TIME : seen[WORT] ? WORT : seen[ROOM] ? ROOM : GRAVITY;
}

static enum ab_status read_header(struct csv *c, struct ab_diag *diag)
{
	struct ab_csv_line line;
	for (int i = 0; i < CHANNELS; i++)
		c->columns[i] = (struct column){ .at = -1 };
	/* The mark that some programs put before UTF-8. */
	if (c->end - c->text >= 3 && memcmp(c->text, "\xEF\xBB\xBF", 3) == 0)
		c->text += 3;
	do {
		if (!ab_csv_line(&c->text, c->end, &line))
			return ab_fail(diag, AB_EINPUT, c->name, c->line,
			    "the log is empty; its first line names the columns: time,temperature");
		c->line++;
	} while (line.blank);
	c->separator = ab_csv_separator(&line);
	struct ab_csv_field f;
	for (int i = 0; ab_csv_field(&line, c->separator, &f); i++) {
		struct column col = { .at = i };
		enum channel ch = channel_of(&f, &col);
		/* The first of two that fit, so that a column added at the right changes nothing. */
		if (ch != CHANNELS && c->columns[ch].at < 0)
			c->columns[ch] = col;
	}
	if (c->columns[TIME].at < 0)
		return ab_fail(diag, AB_EINPUT, c->name, c->line,
		    "no column of the first line is the time; name it \"time\", \"timestamp\" or "
		    "\"datetime\"");
	if (c->columns[WORT].at < 0 && c->columns[ROOM].at < 0)
		return ab_fail(diag, AB_EINPUT, c->name, c->line,
		    "no column of the first line is a temperature; name it \"temperature\", "
		    "\"wort\", \"beer\", \"room\" or \"ambient\", with (F) if it is in Fahrenheit");
	return AB_OK;
}

/* ---- a row ---- */

/* The many ways in which loggers write "no value"; none of them is zero. */
static bool is_nothing(const struct ab_csv_field *f)
{
	static const char *const nothing[] = { "", "-", "--", "nan", "na", "n/a", "null", "none" };
	char word[8];
	if (f->len >= sizeof word)
		return false;
	memcpy(word, f->text, f->len);
	word[f->len] = '\0';
	for (size_t i = 0; i < sizeof nothing / sizeof *nothing; i++)
		if (strcmp(word, nothing[i]) == 0 || (word[0] != '-' && ab_word_cmp(word, nothing[i]) == 0))
			return true;
	return false;
}

static enum ab_status bad_field(const struct csv *c, const struct ab_csv_field *f, const char *what,
    struct ab_diag *diag)
{
	char shown[41];
	size_t len = f->len < sizeof shown - 1 ? f->len : sizeof shown - 1;
	memcpy(shown, f->text, len);
	shown[len] = '\0';
	return ab_fail(diag, AB_EINPUT, c->name, c->line, "\"%s\" is no %s", shown, what);
}

static bool read_number(const struct csv *c, const struct ab_csv_field *f, double *out)
{
	char buf[48];
	double step;
	const char *s = buf;
	if (f->len >= sizeof buf)
		return false;
	memcpy(buf, f->text, f->len);
	buf[f->len] = '\0';
	/* A decimal comma, but only where the comma does not part the columns. */
	char *comma = c->separator != ',' ? strchr(buf, ',') : NULL;
	if (comma != NULL && strchr(buf, '.') == NULL)
		*comma = '.';
	return ab_decimal_read(&s, out, &step) == AB_DECIMAL_OK && *s == '\0';
}

/* An impossible value is left out and counted, not clamped: clamped it would look like a measurement. */
static double plausible(double v, double lo, double hi, bool *dropped)
{
	if (v >= lo && v <= hi)
		return v;
	*dropped = true;
	return NAN;
}

/* One channel of a row; NAN when it says nothing. */
static enum ab_status read_value(const struct csv *c, enum channel ch, const struct ab_csv_field *f,
    double *out, bool *dropped, struct ab_diag *diag)
{
	const struct column *col = &c->columns[ch];
	double v;
	if (is_nothing(f))
		return AB_OK;
	if (!read_number(c, f, &v))
		return bad_field(c, f, ch == GRAVITY ? "gravity (a plain number such as 1.048)"
		    : "temperature (a plain number such as 19.5)", diag);
	if (ch == GRAVITY) {
		v = !col->plato ? v : v >= -5 && v <= 40 ? ab_sg_from_plato(v) : NAN;
		*out = plausible(v, LOWEST_SG, HIGHEST_SG, dropped);
		return AB_OK;
	}
	*out = plausible(col->fahrenheit ? (v - 32) * 5 / 9 : v, LOWEST_C, HIGHEST_C, dropped);
	return AB_OK;
}

static enum ab_status read_time(const struct csv *c, const struct ab_csv_field *f, double *s,
    struct ab_diag *diag)
{
	if (ab_csv_time(f->text, f->len, c->utc_offset_s, s))
		return AB_OK;
	return bad_field(c, f, "time; write 2031-03-07T15:30, the same with Z or a zone, or seconds since "
	    "1970", diag);
}

static void keep_row(struct csv *c, const double *v, bool dropped)
{
	struct ab_sensor *o = c->out;
	o->dropped += dropped;
	if (isnan(v[WORT]) && isnan(v[ROOM]) && isnan(v[GRAVITY])) {
		o->dropped += !dropped;
		c->lost++;
		return;
	}
	o->disorder += o->n > 0 && v[TIME] < c->last_s;
	c->last_s = v[TIME];
	assert(!isnan(v[TIME]) && o->n < o->rows);
	o->samples[o->n++] = (struct ab_sample){ v[TIME], v[WORT], v[ROOM], v[GRAVITY] };
}

/* whole: the line ends in a newline. A logger that lost its power leaves half a line at the end; that is
 * passed over. */
static enum ab_status read_row(struct csv *c, struct ab_csv_line *line, struct ab_diag *diag)
{
	double v[CHANNELS] = { NAN, NAN, NAN, NAN };
	bool dropped = false;
	struct ab_csv_field f;
	int i = 0, need = 0;
	for (int ch = 0; ch < CHANNELS; ch++)
		need += c->columns[ch].at >= 0;
	enum ab_status st = AB_OK;
	for (; ab_csv_field(line, c->separator, &f); i++)
		for (int ch = 0; ch < CHANNELS && st == AB_OK; ch++) {
			if (c->columns[ch].at != i)
				continue;
			need--;
			st = ch == TIME ? read_time(c, &f, &v[TIME], diag) : read_value(c, (enum channel)ch,
			    &f, &v[ch], &dropped, diag);
		}
	if (st == AB_OK && need > 0)
		st = ab_fail(diag, AB_EINPUT, c->name, c->line,
		    "the row has %d fields only; the first line promises more", i);
	if (st == AB_OK)
		keep_row(c, v, dropped);
	return st;
}

static enum ab_status read_rows(struct csv *c, struct ab_diag *diag)
{
	struct ab_csv_line line;
	while (ab_csv_line(&c->text, c->end, &line)) {
		c->line++;
		if (line.blank)
			continue;
		c->out->rows++;
		/* The fault of a half line is kept out of the caller's diag, where it would stay as the
		 * first error. */
		struct ab_diag half = { 0 };
		enum ab_status st = read_row(c, &line, line.whole ? diag : &half);
		if (st != AB_OK && line.whole)
			return st;
		if (st != AB_OK) {
			c->out->dropped++;
			c->lost++;
		}
	}
	/* More than half lost: the log is in another unit, or of something else. Half a log silently read
	 * would make a false picture of the fermentation. */
	if (c->lost * 2 > c->out->rows)
		return ab_fail(diag, AB_EINPUT, c->name, c->line,
		    "%zu of %zu rows hold no believable value (%.0f to %.0f C); if it is in "
		    "Fahrenheit, say (F) in the first line", c->lost, c->out->rows, LOWEST_C, HIGHEST_C);
	return AB_OK;
}

/* ---- the whole ---- */

static size_t count_lines(const char *text, const char *end)
{
	size_t n = 1;
	for (; text < end && (text = memchr(text, '\n', (size_t)(end - text))) != NULL; text++)
		n++;
	return n;
}

enum ab_status ab_sensor_read(const char *text, size_t len, const char *name, double utc_offset_s,
    struct ab_arena *arena, struct ab_sensor **out, struct ab_diag *diag)
{
	struct csv c = { .text = text, .end = text + len, .name = name, .utc_offset_s = utc_offset_s };
	size_t lines = count_lines(text, text + len);
	*out = NULL;
	if (len > AB_SENSOR_LIMIT || lines > AB_SENSOR_ROWS)
		return ab_fail(diag, AB_ELIMIT, name, 0,
		    "the log has %zu bytes and %zu lines; at most %d and %d are read", len, lines,
		    AB_SENSOR_LIMIT, AB_SENSOR_ROWS);
	c.out = ab_arena_alloc(arena, 1, sizeof *c.out);
	if (c.out != NULL)
		c.out->samples = ab_arena_alloc(arena, lines, sizeof *c.out->samples);
	if (c.out == NULL || c.out->samples == NULL)
		return ab_fail(diag, AB_ENOMEM, name, 0, "out of memory");
	enum ab_status st = read_header(&c, diag);
	if (st == AB_OK)
		st = read_rows(&c, diag);
	if (st != AB_OK)
		return st;
	sensor_put_in_order(c.out);
	*out = c.out;
	return AB_OK;
}
