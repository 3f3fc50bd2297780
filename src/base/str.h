/* str.h - a growing text buffer with a cap and a sticky error
 *
 * Append as you like; when memory is short or the cap is met the buffer goes bad, later appends do nothing,
 * and
 * ab_str_ok says so once at the end.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_STR_H
#define AB_BASE_STR_H

#include <stdbool.h>
#include <stddef.h>

struct ab_str {
	char *text;     /* NUL terminated once something was appended; NULL before */
	size_t len, cap, limit;
	bool bad;
};

/* Empty, holding at most limit bytes (0 = 64 MiB). No allocation yet. */
void ab_str_init(struct ab_str *s, size_t limit);
/* Frees the text and makes it empty again, with the same limit; bad is forgotten. */
void ab_str_clear(struct ab_str *s);

/* Append. Beyond the limit, or when memory is short, nothing more is appended and the string is bad for good:
 * so a chain of appends is checked once, at its end. */
void ab_str_add(struct ab_str *s, const char *text);
void ab_str_addn(struct ab_str *s, const char *text, size_t len);
void ab_str_addf(struct ab_str *s, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

/* False once an append failed. */
bool ab_str_ok(const struct ab_str *s);
/* The text, "" when nothing was appended. Borrowed until the next append or clear. */
const char *ab_str_text(const struct ab_str *s);

/* Appends text with every control character (C0 except '\n' when keep_nl, DEL, C1 in UTF-8) and every invalid
 * UTF-8 byte shown as '?': nothing from a stranger's journal may drive a terminal. */
void ab_str_add_safe(struct ab_str *s, const char *text, bool keep_nl);

/* The same in place, newlines included: what messages quote. The text never grows. */
void ab_text_scrub(char *text);

/* x as plain decimal text, at most six digits after the point and no trailing zeros, whatever the locale
 * ("1.5", "-20"). Beyond +-1e15 or not finite: "very large" and the like. Returns buf, which holds at least
 * 32 bytes. */
char *ab_num_text(double x, char *buf, size_t size);

/* Case-blind comparison of ASCII letters only (the locale is never read); hyphen, underscore and space runs
 * equal. */
int ab_word_cmp(const char *a, const char *b);
/* A number that words equal by that comparison share: they are looked up by it. */
size_t ab_word_sum(const char *word);
/* Does the text begin with these words, by that comparison, and does a word end there? The place behind them, or
 * NULL. */
const char *ab_word_begins(const char *text, const char *words);

#endif
