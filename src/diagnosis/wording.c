/* wording.c - numbers as words, the same everywhere
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/diagnose.h>

/* From hardly up; each word begins at its least probability. The scale follows the habit of forecasters to
 * keep "probably" above three in five; the exact cuts are estimates. */
static const struct { double least; const char *word; } words[] = {
	{ 0, "hardly" }, { 0.1, "possibly" }, { 0.3, "perhaps" }, { 0.6, "probably" },
	{ 0.9, "almost certainly" },
};
enum { WORDS = sizeof words / sizeof *words };

static int level(double p)
{
	int at = 0;
	while (at + 1 < WORDS && p >= words[at + 1].least)
		at++;
	return at;
}

/* A word may lie one step above what the low end of the range would get; "hardly" needs a high end that is
 * low, too. */
const char *ab_likely_word(double p, double low, double high)
{
	int at = level(p), floor_at = level(low), top = level(high);
	if (at > floor_at + 1)
		at = floor_at + 1;
	if (at == 0 && top > 1)
		at = 1;
	return words[at].word;
}

/* 1 and 2 slight, 3 moderate, 4 and 5 strong; halves come from means of several tasters and go up. */
int ab_grade_of_intensity(double intensity)
{
	return intensity < 2.5 ? 1 : intensity < 3.5 ? 2 : 3;
}

const char *ab_grade_name(int grade)
{
	static const char *const names[] = { "none", "slight", "moderate", "strong" };
	return names[grade < 0 ? 0 : grade > 3 ? 3 : grade];
}
