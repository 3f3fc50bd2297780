/* wording.c - numbers as words, the same everywhere
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/diagnose.h>

/* From hardly up. The scale follows the habit of forecasters to keep "probably" above three in five; that
 * the words keep their promise is tested on simulated brewers. */
const struct ab_likely ab_likely_words[AB_LIKELY_WORDS] = {
	{ "hardly", 0, 0.1, 0 }, { "possibly", 0.1, 0.3, 0 }, { "perhaps", 0.3, 0.6, 0.1 },
	{ "probably", 0.6, 0.9, 0.3 }, { "almost certainly", 0.9, 1, 0.7 },
};

/* "Hardly" needs a high end that is low, too. */
const char *ab_likely_word(double p, double low, double high)
{
	const struct ab_likely *w = ab_likely_words;
	int at = AB_LIKELY_WORDS - 1;
	while (at > 0 && (p < w[at].least || low < w[at].low))
		at--;
	if (at == 0 && high >= w[1].most)
		at = 1;
	return w[at].word;
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
