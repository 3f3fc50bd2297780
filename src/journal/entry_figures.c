/* entry_figures.c - numbers of a line as people type them: "1 1/2", "19 to 20", "five and a half", "20ish"
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_figures.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/spelled.h"

bool entry_plain_number(const char *text, double *x)
{
	char *end;
	size_t n = strspn(text, "0123456789.");

	*x = strtod(text, &end);
	return n > 0 && text[n] == '\0' && *end == '\0';
}

/* "1/2", "3/4" and, of two words, "1 1/2". */
static size_t fraction(const struct sentence *s, size_t at, char *digits, const char **tail)
{
	size_t whole = strspn(s->word[at], "0123456789"), n = 1;
	double sum = 0;
	int above = 0, below = 0, used = 0;

	if (whole > 0 && s->word[at][whole] == '\0' && at + 1 < s->n && strchr(s->word[at + 1], '/') != NULL) {
		sum = strtod(s->word[at], NULL);
		n = 2;
	}
	const char *word = s->word[at + n - 1];
	if (sscanf(word, "%2d/%2d%n", &above, &below, &used) < 2 || above < 1 || below < 2 || above >= below ||
	    !isdigit((unsigned char)word[0]))
		return 0;
	*tail = word + used;
	return ab_num_text(sum + floor(1000.0 * above / below + 0.5) / 1000, digits, ENTRY_NUMBER_SIZE) != NULL ? n : 0;
}

/* The middle of "19-20" and "19 to 20"; 0 when it is none. */
static size_t middle(const struct sentence *s, size_t at, char *digits, const char **tail)
{
	char low[ENTRY_NUMBER_SIZE], high[ENTRY_NUMBER_SIZE];
	const char *rest, *second;
	double a, b;
	bool doubt, empty;
	size_t n = 1;

	if (!ab_number_typed(s->word[at], low, sizeof low, &rest, &doubt) || doubt)
		return 0;
	if (*rest == '-' && isdigit((unsigned char)rest[1])) {
		second = rest + 1;
	} else if (*rest == '\0' && at + 2 < s->n && entry_one_of(s, at + 1, "to|-|or|and", &empty) > 0) {
		second = s->word[at + 2];
		n = 3;
	} else {
		return 0;
	}
	if (!ab_number_typed(second, high, sizeof high, tail, &doubt) || doubt || !entry_plain_number(low, &a) ||
	    !entry_plain_number(high, &b) || a >= b)
		return 0;
	return ab_num_text((a + b) / 2, digits, ENTRY_NUMBER_SIZE) != NULL ? n : 0;
}

bool entry_is_rough(const struct sentence *s, size_t at, size_t n)
{
	char digits[ENTRY_NUMBER_SIZE];
	const char *tail;

	for (size_t i = at; i < at + n && i < s->n; i++) {
		size_t len = strlen(s->word[i]);
		if (middle(s, i, digits, &tail) > 0 ||
		    (len > 3 && isdigit((unsigned char)s->word[i][0]) &&
			strstr(s->word[i], "ish") == s->word[i] + len - 3))
			return true;
	}
	return false;
}

/* "five and a half gallons" */
static bool and_a_half(const struct sentence *s, size_t at, struct entry_figure *f)
{
	bool empty;
	double x;
	size_t half = *f->tail == '\0' && at + f->n < s->n
	    ? entry_one_of(s, at + f->n, "and a half|and one half", &empty)
	    : 0;

	if (half == 0 || f->doubt || !entry_plain_number(f->digits, &x) || strchr(f->digits, '.') != NULL)
		return true;
	f->n += half;
	return ab_num_text(x + 0.5, f->digits, sizeof f->digits) != NULL;
}

bool entry_figure_at(const struct sentence *s, size_t at, struct entry_figure *f)
{
	const char *spelled = at < s->n ? ab_number_spelled(s->word[at]) : NULL;

	*f = (struct entry_figure){ .tail = "", .n = 1 };
	if (at >= s->n)
		return false;
	if (spelled != NULL) {
		/* "half an hour", "a couple of weeks" */
		const char *second = at + 1 < s->n ? ab_number_spelled(s->word[at + 1]) : NULL;
		snprintf(f->digits, sizeof f->digits, "%s", second != NULL && s->word[at][0] == 'a' ? second : spelled);
		f->spelled = true;
		f->n += second != NULL;
		f->n += at + f->n < s->n && strcmp(s->word[at + f->n], "of") == 0;
		return and_a_half(s, at, f);
	}
	size_t n = fraction(s, at, f->digits, &f->tail);
	n = n > 0 ? n : middle(s, at, f->digits, &f->tail);
	f->n = n > 0 ? n : 1;
	if (n == 0 &&
	    !ab_number_typed(
		s->word[at] + (s->word[at][0] == '~'), f->digits, sizeof f->digits, &f->tail, &f->doubt))
		return false;
	if (strcmp(f->tail, "ish") == 0)
		f->tail = "";
	return n > 0 || and_a_half(s, at, f);
}
