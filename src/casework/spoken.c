/* spoken.c - numbers with units and times as they are said: "about 20", "two weeks ago", "68f"
 *
 * Forgiving where one meaning is plain, and asking back where it is not ("12" for a gravity may be Plato or
 * points).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/quantity.h>
#include <afterboil/when.h>

#include "base/spelled.h"
#include "base/str.h"
#include "casework/said.h"

static const double DAY_S = 86400;

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* ---- numbers ---- */

/* Words that add nothing to a number. */
static bool is_filler(const char *word)
{
	static const char *const fillers[] = { "and", "of", "ago", "old", "degrees", "degree", "deg", "at", "for",
		"after", "days'", "before", "since", "in", "all", "each", "the", "in all", "below", "under", "long",
		NULL };
	return case_is_one_of(word, fillers);
}

/* What has been put together of a spoken quantity. */
struct building { char *to; size_t size, n; bool number, unit, bare; };

static void put(struct building *b, const char *text, size_t len)
{
	if (b->n + len + 1 < b->size) {
		memcpy(b->to + b->n, text, len);
		b->n += len;
		b->to[b->n] = '\0';
	}
}

/* One number; a comma between digits is a point. */
static const char *put_number(struct building *b, const char *at)
{
	if (b->n > 0)
		put(b, " ", 1);
	for (; is_digit(*at) || ((*at == '.' || *at == ',') && is_digit(at[1])) || *at == '+' || *at == '-'; at++)
		put(b, *at == ',' ? "." : at, 1);
	b->number = true;
	b->unit = false;
	return at;
}

/* One word: a number, a unit, or filler. False when it is none of them. */
static bool put_word(struct building *b, int dim, const char *word)
{
	const char *number = ab_number_spelled(word), *unit = ab_unit_spelled((enum ab_dim)dim, word);
	if (b->number && !b->unit && unit != NULL && *unit != '\0') {
		put(b, " ", 1);
		put(b, unit, strlen(unit));
		b->unit = true;
		b->bare = false;
		return true;
	}
	if (number != NULL && !b->number) {
		put_number(b, number);
		return true;
	}
	/* "2 packets" where packs are counted. */
	if (b->number && dim == AB_DIM_NONE && ab_unit_spelled(AB_DIM_PACKS, word) != NULL)
		return true;
	return is_filler(word) || (number != NULL && b->number);
}

/* "two weeks ago" as "2 wk", "20" as "20". False when a word is strange. */
static bool put_together(struct building *b, int dim, const char *text)
{
	char word[32];
	while (*text != '\0') {
		if (is_digit(*text) || ((*text == '-' || *text == '+' || *text == '.') && is_digit(text[1]))) {
			text = put_number(b, text);
			continue;
		}
		if (*text == ' ' || *text == ',' || *text == '\'' || strncmp(text, "\302\260", 2) == 0) {
			text += *text == '\302' ? 2 : 1;
			continue;
		}
		size_t n = 0;
		while (text[n] != '\0' && strchr(" ,0123456789", text[n]) == NULL)
			n++;
		if (n >= sizeof word)
			return false;
		memcpy(word, text, n);
		word[n] = '\0';
		text += n;
		if (n == 0 || !put_word(b, dim, word))
			return false;
	}
	return b->number;
}

/* "18-20" and "18 to 20": the middle, as a guess. Both must be plain numbers; what follows is the unit. */
static bool middle_of(const char *text, char *to, size_t size)
{
	struct ab_quantity low, high;
	char why[CASE_WHY], a[32], b[32], mean[32];
	size_t n = strspn(text, "0123456789.");
	const char *rest = text + n;
	if (n == 0 || n >= sizeof a)
		return false;
	rest += *rest == ' ';
	rest = case_after(rest, "to") != NULL ? case_after(rest, "to") : *rest == '-' ? rest + 1 : NULL;
	if (rest == NULL)
		return false;
	rest += *rest == ' ';
	size_t m = strspn(rest, "0123456789.");
	if (m == 0 || m >= sizeof b)
		return false;
	snprintf(a, sizeof a, "%.*s", (int)n, text);
	snprintf(b, sizeof b, "%.*s", (int)m, rest);
	if (!ab_quantity_read(a, AB_DIM_NONE, &low, why, sizeof why) ||
	    !ab_quantity_read(b, AB_DIM_NONE, &high, why, sizeof why))
		return false;
	snprintf(to, size, "%s%s", ab_num_text((low.value + high.value) / 2, mean, sizeof mean), rest + m);
	return true;
}

/* A gravity without unit: 1.048 and 1048 are plain, 48 is not. */
static bool plain_gravity(char *number)
{
	struct ab_quantity q;
	char why[CASE_WHY];
	if (!ab_quantity_read(number, AB_DIM_NONE, &q, why, sizeof why))
		return false;
	if (q.value >= 900 && q.value < 1300)
		ab_num_text(q.value / 1000, number, 32);
	return (q.value >= 0.9 && q.value < 1.3) || (q.value >= 900 && q.value < 1300);
}

static void say_wrong_number(const struct case_asked *a, struct case_said *out)
{
	char low[32], high[32];
	const char *unit = a->us_units ? a->row->us : a->row->metric;
	const char *end = a->row->tries == NULL ? "" : strchr(a->row->tries, '|');
	int len = a->row->tries == NULL ? 0 : end == NULL ? (int)strlen(a->row->tries)
	    : (int)(end - a->row->tries);
	if (unit != NULL && strcmp(unit, "SG") == 0)
		snprintf(out->why, sizeof out->why, "Please write a gravity as \"1.048\" or \"12 P\", or leave it "
		    "blank if you do not know.");
	else if (a->spec->kind == AB_ATTR_NUMBER && a->row->tries == NULL)
		snprintf(out->why, sizeof out->why,
		    "Please answer with a number from %s to %s, or leave it blank if you "
		    "do not know.",
		    ab_num_text(a->spec->lo, low, sizeof low), ab_num_text(a->spec->hi, high, sizeof high));
	else if (a->spec->kind == AB_ATTR_NUMBER)
		snprintf(out->why, sizeof out->why,
		    "Please answer with a number, such as \"%.*s\", or leave it blank if "
		    "you do not know.",
		    len, a->row->tries);
	else
		snprintf(out->why, sizeof out->why, "Please answer with a number and its unit, such as \"%.*s\"; "
		    "\"about\" before it is fine. Blank if you do not know.", len,
		    a->row->tries == NULL ? "3" : a->row->tries);
}

/* "1.052" where no gravity is asked for: three decimals about one, and no unit. */
static bool looks_like_gravity(const struct case_asked *a, int dim, const char *text)
{
	bool form = strspn(text, "01") == 1 && strchr(".,", text[1]) != NULL && text[1] != '\0' && strlen(text) == 5 &&
	    strspn(text + 2, "0123456789") == 3;
	return form && dim != AB_DIM_GRAVITY && dim != AB_DIM_PH && (text[0] == '1' || text[2] == '9') &&
	    a->spec->kind != AB_ATTR_WHEN;
}

static void say_no_gravity(const struct case_asked *a, const char *text, struct case_said *out)
{
	const char *end = a->row->tries == NULL ? "" : strchr(a->row->tries, '|');
	int len = a->row->tries == NULL ? 0 : end == NULL ? (int)strlen(a->row->tries) : (int)(end - a->row->tries);
	snprintf(out->why, sizeof out->why,
	    "%.40s looks like a gravity, and none is asked for here. Please answer with %s such as \"%.*s\", or "
	    "leave it blank.",
	    text, a->spec->kind == AB_ATTR_NUMBER ? "a number" : "a number and its unit", len > 0 ? len : 1,
	    len > 0 ? a->row->tries : "3");
}

/* What such a number can be at all, where the row says so: whole packs, halves and quarters. */
static bool is_plausible(const struct case_asked *a, double v)
{
	const struct case_row *row = a->row;
	return row->most <= 0 || (v >= row->least && v <= row->most && (row->step <= 0 || fmod(v, row->step) == 0));
}

static void say_implausible(const struct case_asked *a, const char *text, struct case_said *out)
{
	char low[32], high[32], step[32];
	bool steps = a->row->step > 0;
	snprintf(out->why, sizeof out->why,
	    "%.40s cannot be right here: what is allowed goes from %s to %s%s%s. Please answer again, or leave "
	    "it blank.",
	    text, ab_num_text(a->row->least, low, sizeof low), ab_num_text(a->row->most, high, sizeof high),
	    steps ? " in steps of " : "", steps ? ab_num_text(a->row->step, step, sizeof step) : "");
}

/* A number of the wrong size is most often one in the other unit. */
static void say_out_of_range(const struct case_asked *a, const char *text, bool bare, struct case_said *out)
{
	if (bare && a->spec->dim == AB_DIM_TEMP)
		snprintf(out->why, sizeof out->why, "%.40s cannot be right. If you mean Fahrenheit, write \"68 F\"; "
		    "if Celsius, \"20 C\".", text);
	else
		snprintf(out->why, sizeof out->why, "%.40s cannot be right; please look at the number and its unit "
		    "again.", text);
}

static bool in_range(const struct ab_attr_spec *spec, double v)
{
	return (spec->lo == 0 && spec->hi == 0) || (v >= spec->lo && v <= spec->hi);
}

/* text becomes "20 C" in out->value; true when it is a quantity in range. */
static bool read_quantity(const struct case_asked *a, int dim, const char *text, struct ab_quantity *q,
    struct case_said *out)
{
	struct building b = { .to = out->value, .size = sizeof out->value, .bare = true };
	const char *unit = a->us_units ? a->row->us : a->row->metric;
	char why[CASE_WHY], middle[CASE_LINE];
	out->value[0] = '\0';
	if (middle_of(text, middle, sizeof middle)) {
		text = middle;
		out->guess = true;
	}
	if (!put_together(&b, dim, text)) {
		say_wrong_number(a, out);
		return false;
	}
	bool plain = dim != AB_DIM_GRAVITY || !b.bare || plain_gravity(out->value);
	if (b.bare && dim != AB_DIM_NONE && unit != NULL) {
		b.n = strlen(out->value);
		put(&b, " ", 1);
		put(&b, unit, strlen(unit));
	}
	if (!plain || !ab_quantity_read(out->value, (enum ab_dim)dim, q, why, sizeof why)) {
		say_wrong_number(a, out);
		return false;
	}
	return true;
}

void case_read_number(const struct case_asked *a, const char *text, struct case_said *out)
{
	struct ab_quantity q;
	int dim = a->spec->kind == AB_ATTR_NUMBER ? AB_DIM_NONE : a->spec->dim;
	const char *no = case_yes_or_no(text);
	if (no != NULL && strcmp(no, "no") == 0 && a->spec->lo <= 0)
		text = "0";
	if (looks_like_gravity(a, dim, text)) {
		say_no_gravity(a, text, out);
		return;
	}
	if (!read_quantity(a, dim, text, &q, out))
		return;
	if (!in_range(a->spec, q.value)) {
		say_out_of_range(a, text, strspn(text, "0123456789.,-") == strlen(text), out);
		return;
	}
	if (!is_plausible(a, q.value)) {
		say_implausible(a, text, out);
		return;
	}
	out->kind = CASE_SAID_VALUE;
}

/* ---- times ---- */

static bool is_date(const char *text)
{
	return strspn(text, "0123456789-") == strlen(text) && strlen(text) == 10 && text[4] == '-';
}

static void say_wrong_time(const struct case_asked *a, struct case_said *out)
{
	snprintf(out->why, sizeof out->why, a->row->after_pitch
	    ? "Please answer with a length of time, such as \"14 days\" or \"3 weeks\"."
	    : "Please answer with a length of time or a date, such as \"6 weeks ago\" or \"%s\".", a->today);
}

/* A date, or how long ago; or, from pitching on, "+14d". */
void case_read_time(const struct case_asked *a, const char *text, struct case_said *out)
{
	struct ab_quantity q;
	struct ab_when when, today;
	char why[CASE_WHY];
	bool date = is_date(text), good;
	if (strcmp(text, "today") == 0 || strcmp(text, "yesterday") == 0)
		text = text[0] == 't' ? "0 days" : "1 day";
	if (date && !a->row->after_pitch) {
		good = ab_when_read(text, &when, why, sizeof why);
		snprintf(out->value, sizeof out->value, "%s", text);
	} else {
		good = !date && read_quantity(a, AB_DIM_TIME, text, &q, out) && q.value >= 0 &&
		    q.value <= 100 * 366 * DAY_S && ab_when_read(a->today, &today, why, sizeof why);
		when = (struct ab_when){ .known = true, .relative = a->row->after_pitch,
			.date_only = !a->row->after_pitch,
			.s = good ? a->row->after_pitch ? q.value : today.s - q.value : 0 };
		if (good)
			ab_when_write(&when, out->value, sizeof out->value);
	}
	out->kind = good ? CASE_SAID_VALUE : CASE_SAID_WRONG;
	if (!good)
		say_wrong_time(a, out);
}
