/* taste_words.c - what was tasted, as it is said
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/taste_words.h"

#include <stdio.h>
#include <string.h>

#include "base/spelled.h"
#include "base/str.h"

bool case_is_clean(const char *text)
{
	static const char *const clean[] = { "nothing", "nothing wrong", "nothing is wrong", "none",
		"no fault", "fine", "it is fine", "it's fine", "all good", "good", "it is good",
		"it tastes good", "tastes good", "tastes fine", "ok", "okay", "nothing really", "no faults",
		"nothing at all", "great", "clean", "no off flavours", "no off flavors", "no off-flavours",
		"no off-flavors", "no off flavour",
		"no off flavor", "no faults at all", "no flaws", "nothing off", "no off tastes", NULL };
	return case_is_one_of(text, clean) || case_is_praise(text);
}

bool case_is_praise(const char *text)
{
	static const char *const praise[] = { "nice", "good", "great", "fine", "ok", "okay", "lovely", "delicious",
		"tasty", "excellent", "very drinkable", NULL };

	case_strength(&text);
	return case_is_one_of(text, praise);
}

bool case_is_compared(const char *text)
{
	static const char *const compared[] = { "better", "much better", "a lot better", "better now",
		"better than last time", "worse", "much worse", "a bit better", "a little better", "the same",
		"same as before", NULL };

	return case_is_one_of(text, compared);
}

/* ---- one thing ---- */

/* "it tastes like butter" to "butter". */
static const char *without_filler(const char *text)
{
	static const char *const fillers[] = { "it tastes", "tastes", "taste", "it smells", "smells", "smell",
		"it is", "it's", "its", "there is", "there's", "i taste", "i get", "i smell", "like", "of",
		"the beer is", "beer is", "has", "it has", "and", "also", "but", "still", "just", "again",
		"only", "now", "otherwise", "overall", "apart from that", NULL };
	for (size_t i = 0; fillers[i] != NULL; i++) {
		size_t n = strlen(fillers[i]);
		if (strncmp(text, fillers[i], n) == 0 && text[n] == ' ')
			return without_filler(text + n + 1);
	}
	return text;
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* A number at the end, after a blank, "=", ":" or in brackets, "/5" behind it or not: cut off. */
static int cut_intensity(char *text)
{
	static const char before[] = " =(:";
	size_t end = strlen(text);
	end -= end > 0 && text[end - 1] == ')';
	if (end > 2 && strncmp(text + end - 2, "/5", 2) == 0)
		end -= 2;
	end -= end > 0 && text[end - 1] == ')';
	size_t from = end;
	while (from > 0 && is_digit(text[from - 1]))
		from--;
	if (from == end || from == 0 || strchr(before, text[from - 1]) == NULL)
		return 0;
	int intensity = end - from == 1 && text[from] >= '1' && text[from] <= '5' ? text[from] - '0' : -1;
	while (from > 0 && strchr(before, text[from - 1]) != NULL)
		from--;
	text[from] = '\0';
	return intensity;
}

/* "5 buttery" too. */
static int lead_intensity(const char **text)
{
	if ((*text)[0] < '1' || (*text)[0] > '5' || (*text)[1] != ' ')
		return 0;
	*text += 2;
	return (*text)[-2] - '0';
}

/* The listed word of which alone this one is a slip of the hand, or two of one fault; NULL when it is listed
 * itself, is a slip for none, or for words of two faults. */
static const struct ab_spoken *slip_of(const struct ab_knowledge *k, const char *word)
{
	const struct ab_spoken *found = NULL;
	for (size_t i = 0; i < k->n_spoken; i++) {
		if (ab_word_cmp(k->spoken[i].word, word) == 0)
			return NULL;
		if (!ab_is_slip(word, k->spoken[i].word))
			continue;
		if (found != NULL && k->spoken[i].fault != found->fault)
			return NULL;
		found = &k->spoken[i];
	}
	return found;
}

/* "bananna" is known by the word it is a slip for, which *word becomes. */
static int fault_of(const struct ab_knowledge *k, const char **word)
{
	size_t n_near;
	int found = (*word)[0] == '\0' ? -1 : ab_fault_word(k, *word, NULL, 0, &n_near);
	const struct ab_spoken *slip = found < 0 && (*word)[0] != '\0' ? slip_of(k, *word) : NULL;
	if (slip == NULL)
		return found;
	*word = slip->word;
	return slip->fault;
}

/* "fruity like banana": one fault by two of its names, the second of which *word becomes. */
static int fault_of_both(const struct ab_knowledge *k, const char **word)
{
	static const char LIKE[] = " like ";
	char first[CASE_LINE];
	const char *like = strstr(*word, LIKE), *one = first;
	if (like == NULL)
		return -1;
	snprintf(first, sizeof first, "%.*s", (int)(like - *word), *word);
	const char *two = like + strlen(LIKE);
	int fault = fault_of(k, &one);
	if (fault < 0 || fault_of(k, &two) != fault)
		return -1;
	*word = two;
	return fault;
}

/* "no hint of butter" denies butter; "not very sour" may well be sour, and is asked back. */
static void read_denial(const struct ab_knowledge *k, struct case_taste *taste)
{
	enum { WEAK = 2 };
	static const char *const denials[] = { "not", "no", "without", "nothing", "isn't", "no longer", "no more",
		NULL };
	for (size_t i = 0; denials[i] != NULL; i++) {
		const char *word = case_after(taste->word, denials[i]);
		if (word == NULL || case_strength(&word) > WEAK || case_after(word, "too") != NULL)
			continue;
		/* "no smell of eggs" */
		word = without_filler(word);
		taste->fault = fault_of(k, &word);
		if (taste->fault < 0)
			continue;
		taste->word = word;
		taste->absent = true;
		return;
	}
}

/* "no banana any more": what stands behind, and tells nothing. False when nothing does. */
static bool cut_tail(char *text)
{
	static const char *const tails[] = { "any more", "anymore", "left", "at all", "now", "at the end",
		"in the end", "in the finish", "in the aftertaste", "in the nose", "in it", "again", "when opened",
		"when i open it", "on opening", "when poured", "on pouring", "in the mouth", "on the tongue",
		"on the palate", "on the nose", NULL };
	for (size_t i = 0; tails[i] != NULL; i++) {
		size_t len = strlen(text), n = strlen(tails[i]);
		if (len <= n + 1 || text[len - n - 1] != ' ' || strcmp(text + len - n, tails[i]) != 0)
			continue;
		text[len - n - 1] = '\0';
		return true;
	}
	return false;
}

/* ---- who has it ---- */

/* "nothing else": no fault beside those told. */
static bool is_rest(const char *text)
{
	static const char *const rests[] = { "nothing else", "nothing more", "nothing else wrong",
		"nothing else at all", "no other faults", "no other flaws", "no other off flavours",
		"no other off flavors", "otherwise clean", "otherwise faultless", "otherwise nothing",
		"otherwise no faults", "else nothing", "rest is clean", "the rest is clean", NULL };

	return case_is_one_of(text, rests);
}

static void read_one(const struct ab_knowledge *k, struct case_taste *taste);

/* Who has it, and what is left of the words; last: how strong it was told to be at their end. What is not there, or
 * is no fault, is in no bottle, and then all of it is as it was said: "nothing in some bottles" is not nothing. */
static void read_extent(const struct ab_knowledge *k, struct case_taste *taste, int last)
{
	char whole[CASE_LINE];

	snprintf(whole, sizeof whole, "%s", taste->text);
	taste->extent = case_cut_extent(taste->text);
	if (taste->extent == NULL)
		return;
	read_one(k, taste);
	taste->intensity = last != 0 ? last : taste->intensity;
	if (!taste->absent && (taste->fault >= 0 || taste->text[0] == '\0'))
		return;
	snprintf(taste->text, sizeof taste->text, "%s", whole);
	taste->word = taste->text;
	taste->fault = -1;
	taste->absent = taste->rest = false;
	taste->extent = NULL;
}

/* As it stands before as a denial: "no head" is a fault and not a head that is absent. Without its word of
 * strength first, for the rules' own search would step over that, and it would not be counted. */
static void read_one(const struct ab_knowledge *k, struct case_taste *taste)
{
	int last = cut_intensity(taste->text);
	taste->absent = false;
	taste->rest = is_rest(taste->text);
	taste->word = without_filler(taste->text);
	if (taste->rest || case_is_clean(taste->word) || case_is_compared(taste->word)) {
		taste->fault = -1;
		taste->intensity = 0;
		return;
	}
	int first = lead_intensity(&taste->word);
	const char *full = taste->word;
	int strength = case_strength(&taste->word);
	taste->intensity = last != 0 ? last : first != 0 ? first
							 : strength;
	taste->word = without_filler(taste->word);
	taste->fault = fault_of(k, &taste->word);
	if (taste->fault < 0 && strength > 0 && last == 0 && first == 0) {
		taste->fault = fault_of(k, &full);
		if (taste->fault >= 0) {
			taste->word = full;
			taste->intensity = 0;
		}
	}
	if (taste->fault < 0)
		taste->fault = fault_of_both(k, &taste->word);
	if (taste->fault < 0)
		read_denial(k, taste);
	if (taste->fault < 0 && last == 0 && cut_tail(taste->text))
		read_one(k, taste);
	if (taste->fault < 0 && taste->extent == NULL)
		read_extent(k, taste, last);
}

/* ---- one after the other ---- */

enum { AND = 5 }; /* " and ", " but " */

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

static bool is_and(const char *text)
{
	static const char *const joints[] = { "and", "but" };
	bool any = false;
	for (size_t k = 0; is_blank(text[0]) && k < sizeof joints / sizeof *joints && !any; k++) {
		any = true;
		for (size_t i = 0; joints[k][i] != '\0' && any; i++)
			any = text[i + 1] == joints[k][i] || text[i + 1] == joints[k][i] - 'a' + 'A';
	}
	return any && is_blank(text[AND - 1]);
}

/* How much of the first len bytes stands before their last "and" or "but"; 0 when there is none. */
static size_t before_and(const char *text, size_t len)
{
	size_t at = len >= AND ? len - AND : 0;
	while (at > 0 && !is_and(text + at))
		at--;
	return at;
}

/* What does not fit is no word of anybody's. */
static bool read_part(const struct ab_knowledge *k, const char *text, size_t len, struct case_taste *taste)
{
	char part[CASE_LINE];
	snprintf(part, sizeof part, "%.*s", len < sizeof part ? (int)len : CASE_LINE, text);
	case_plain(part, taste->text);
	size_t end = strlen(taste->text);
	while (end > 0 && strchr(" .:", taste->text[end - 1]) != NULL)
		end--;
	taste->text[end] = '\0';
	taste->extent = NULL;
	read_one(k, taste);
	if (len >= sizeof part)
		taste->fault = -1;
	return taste->fault >= 0;
}

bool case_next_taste(const struct ab_knowledge *k, const char **rest, struct case_taste *taste)
{
	const char *text = *rest + strspn(*rest, " \t\r\n,;+&.:");
	size_t len = strcspn(text, ",;+&");
	*rest = text;
	if (*text == '\0')
		return false;
	/* All of it, then less and less of it; when no part is known, the first is what is asked about. */
	while (!read_part(k, text, len, taste) && before_and(text, len) > 0)
		len = before_and(text, len);
	*rest += len;
	if (is_and(*rest))
		*rest += AND;
	return true;
}
