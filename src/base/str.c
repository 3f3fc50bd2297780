/* str.c - a growing text buffer with a cap and a sticky error; text from strangers made harmless
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/str.h"

#include <assert.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"

enum { DEFAULT_LIMIT = 64 * 1024 * 1024, FIRST_CAP = 256 };

void ab_str_init(struct ab_str *s, size_t limit)
{
	*s = (struct ab_str){ .limit = limit > 0 ? limit : DEFAULT_LIMIT };
}

void ab_str_clear(struct ab_str *s)
{
	ab_free(s->text);
	ab_str_init(s, s->limit);
}

/* Room for n more bytes and the NUL. The error sticks: a text with a hole in its middle must never look
 * whole, so nothing is appended after a failure, even if it would fit. */
static bool grow(struct ab_str *s, size_t n)
{
	if (s->bad)
		return false;
	assert(s->len <= s->limit);
	/* Written as a subtraction, which cannot wrap round, since len never exceeds limit. */
	if (n > s->limit - s->len) {
		s->bad = true;
		return false;
	}
	size_t need = s->len + n + 1;
	if (need <= s->cap)
		return true;
	size_t cap = s->cap > SIZE_MAX / 2 ? need : s->cap * 2;
	if (cap < FIRST_CAP)
		cap = FIRST_CAP;
	if (cap < need)
		cap = need;
	char *text = ab_realloc(s->text, cap);
	if (text == NULL) {
		s->bad = true;
		return false;
	}
	s->text = text;
	s->cap = cap;
	return true;
}

void ab_str_add(struct ab_str *s, const char *text)
{
	ab_str_addn(s, text, strlen(text));
}

void ab_str_addn(struct ab_str *s, const char *text, size_t len)
{
	if (!grow(s, len))
		return;
	memcpy(s->text + s->len, text, len);
	s->len += len;
	s->text[s->len] = '\0';
}

void ab_str_addf(struct ab_str *s, const char *fmt, ...)
{
	va_list args;
	va_start(args, fmt);
	int n = vsnprintf(NULL, 0, fmt, args);
	va_end(args);
	if (n < 0)
		s->bad = true;
	if (n < 0 || !grow(s, (size_t)n))
		return;
	va_start(args, fmt);
	vsnprintf(s->text + s->len, (size_t)n + 1, fmt, args);
	va_end(args);
	s->len += (size_t)n;
}

bool ab_str_ok(const struct ab_str *s)
{
	return !s->bad;
}

const char *ab_str_text(const struct ab_str *s)
{
	return s->text == NULL ? "" : s->text;
}

/* Length of the valid UTF-8 sequence at s (NUL terminated), 0 when invalid: overlong forms, surrogates
 * and values beyond U+10FFFF are invalid (Unicode 15, table 3-7). A table of lead bytes with the range
 * of the second one: overlong forms and surrogates are exactly what that range shuts out. Reading stops
 * at a NUL by itself, since no range holds 0. */
static size_t utf8_len(const unsigned char *s)
{
	static const struct { unsigned char lo, hi, second_lo, second_hi, len; } forms[] = {
		{ 0x00, 0x7F, 0, 0, 1 }, { 0xC2, 0xDF, 0x80, 0xBF, 2 }, { 0xE0, 0xE0, 0xA0, 0xBF, 3 },
		{ 0xE1, 0xEC, 0x80, 0xBF, 3 }, { 0xED, 0xED, 0x80, 0x9F, 3 }, { 0xEE, 0xEF, 0x80, 0xBF, 3 },
		{ 0xF0, 0xF0, 0x90, 0xBF, 4 }, { 0xF1, 0xF3, 0x80, 0xBF, 4 }, { 0xF4, 0xF4, 0x80, 0x8F, 4 },
	};
	for (size_t f = 0; f < sizeof forms / sizeof *forms; f++) {
		if (s[0] < forms[f].lo || s[0] > forms[f].hi)
			continue;
		if (forms[f].len > 1 && (s[1] < forms[f].second_lo || s[1] > forms[f].second_hi))
			return 0;
		for (size_t i = 2; i < forms[f].len; i++)
			if (s[i] < 0x80 || s[i] > 0xBF)
				return 0;
		return forms[f].len;
	}
	return 0;
}

/* Marks that turn the direction of writing, and would let a text show other than it reads: U+061C, U+200E,
 * U+200F, U+202A to U+202E, U+2066 to U+2069 (Unicode 15, Bidi_Control). s holds valid UTF-8. */
static bool turns_text(const unsigned char *s)
{
	if (s[0] == 0xD8)
		return s[1] == 0x9C;
	if (s[0] != 0xE2 || (s[1] != 0x80 && s[1] != 0x81))
		return false;
	return s[1] == 0x80 ? s[2] == 0x8E || s[2] == 0x8F || (s[2] >= 0xAA && s[2] <= 0xAE) : s[2] >= 0xA6 &&
	    s[2] <= 0xA9;
}

/* How many bytes at s may be shown as they are; 0 when *skip bytes must become one '?'. Control
 * characters could move a terminal's cursor, change its title or hide text; invalid bytes may be
 * swallowed together with the quote that follows them. */
static size_t harmless(const char *text, bool keep_nl, size_t *skip)
{
	const unsigned char *s = (const unsigned char *)text;
	size_t len = utf8_len(s);
	*skip = len > 0 ? len : 1;
	if (len == 0 || (s[0] < 0x20 && !(keep_nl && s[0] == '\n')) || s[0] == 0x7F)
		return 0;
	/* C1 controls (U+0080 to U+009F): some terminals obey them like ESC sequences. */
	if ((s[0] == 0xC2 && s[1] < 0xA0) || turns_text(s))
		return 0;
	return len;
}

/* Runs are appended whole: most text is harmless, and byte by byte would be slow. */
void ab_str_add_safe(struct ab_str *s, const char *text, bool keep_nl)
{
	while (*text != '\0') {
		size_t run = 0, skip = 0, n;
		while (text[run] != '\0' && (n = harmless(text + run, keep_nl, &skip)) > 0)
			run += n;
		ab_str_addn(s, text, run);
		text += run;
		if (*text != '\0') {
			ab_str_addn(s, "?", 1);
			text += skip;
		}
	}
}

/* In place is safe since a '?' is never longer than what it replaces: to never overtakes text. */
void ab_text_scrub(char *text)
{
	char *to = text;
	while (*text != '\0') {
		size_t skip, n = harmless(text, false, &skip);
		if (n > 0)
			memmove(to, text, n);
		else
			*to = '?';
		to += n > 0 ? n : 1;
		text += skip;
	}
	*to = '\0';
}

char *ab_num_text(double x, char *buf, size_t size)
{
	if (!(x > -1e15 && x < 1e15)) {
		snprintf(buf, size, "%s", x > 0 ? "very large" : x < 0 ? "very small" : "not a number");
		return buf;
	}
	/* Whole and millionths apart, so that printf never meets the locale's point. */
	double size_of = x < 0 ? -x : x;
	uint64_t whole = (uint64_t)size_of;
	uint64_t part = (uint64_t)((size_of - (double)whole) * 1e6 + 0.5);
	/* 0.9999999 rounds up to the next whole. */
	if (part == 1000000) {
		whole++;
		part = 0;
	}
	/* No "-0": what rounds to nothing has no sign. */
	const char *sign = x < 0 && (whole > 0 || part > 0) ? "-" : "";
	if (part == 0) {
		snprintf(buf, size, "%s%llu", sign, (unsigned long long)whole);
		return buf;
	}
	int n = snprintf(buf, size, "%s%llu.%06llu", sign, (unsigned long long)whole,
	    (unsigned long long)part);
	while (n > 0 && (size_t)n < size && buf[n - 1] == '0')
		buf[--n] = '\0';
	return buf;
}

static bool is_gap(char c)
{
	return c == ' ' || c == '-' || c == '_';
}

/* The next letter of a word: small, a run of gaps as one '-'. Both words are walked at once without
 * copies; a word of any length compares. */
static int next_letter(const char **p)
{
	const char *s = *p;
	if (is_gap(*s)) {
		while (is_gap(*s))
			s++;
		*p = s;
		return '-';
	}
	int c = (unsigned char)*s;
	if (c != '\0')
		*p = s + 1;
	return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c;
}

static bool is_small(char c)
{
	return c >= 'a' && c <= 'z';
}

const char *ab_word_begins(const char *text, const char *words)
{
	text += strspn(text, " -_");
	words += strspn(words, " -_");
	while (*words != '\0') {
		if (next_letter(&text) != next_letter(&words))
			return NULL;
	}
	bool goes_on = (*text | 0x20) >= 'a' && (*text | 0x20) <= 'z';
	return goes_on || (*text >= '0' && *text <= '9') || (unsigned char)*text >= 0x80 ? NULL : text;
}

/* FNV-1a. */
size_t ab_word_sum(const char *word)
{
	uint32_t sum = 2166136261u;
	for (int c; (c = next_letter(&word)) != '\0';)
		sum = (sum ^ (uint32_t)c) * 16777619u;
	return sum;
}

int ab_word_cmp(const char *a, const char *b)
{
	/* Mostly two words are spelled alike or differ at once: equal bytes need no second look, but for gaps. */
	while (*a == *b && *a != '\0' && !is_gap(*a)) {
		a++;
		b++;
	}
	if (is_small(*a) && is_small(*b))
		return *a < *b ? -1 : 1;
	if (*a == '\0' && *b == '\0')
		return 0;
	for (;;) {
		int x = next_letter(&a), y = next_letter(&b);
		if (x != y)
			return x < y ? -1 : 1;
		if (x == '\0')
			return 0;
	}
}
