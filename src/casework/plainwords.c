/* plainwords.c - families of beer, classes of yeast and malts as brewers call them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plainwords.h>

#include <string.h>

#include <afterboil/journal.h>
#include "base/str.h"
#include "casework/said.h"

/* The opening question of the interview has the list. */
static const struct case_row *family_row(size_t *n)
{
	for (size_t i = 0; i < case_n_openings; i++)
		if (strcmp(case_openings[i].target, "batch family") == 0) {
			for (*n = 0; case_openings[i].choices[*n].says != NULL;)
				++*n;
			return &case_openings[i];
		}
	*n = 0;
	return NULL;
}

const char *ab_family_choice(size_t i)
{
	size_t n;
	const struct case_row *row = family_row(&n);

	return i < n ? row->choices[i].says : NULL;
}

const char *ab_family_said(const char *said, bool *unknown)
{
	size_t n;
	const struct case_row *row = family_row(&n);
	const struct case_asked asked = {
		.row = row, .choices = row != NULL ? row->choices : NULL, .n_choices = n, .today = ""
	};
	struct case_said out = { .kind = CASE_SAID_WRONG };

	if (row != NULL)
		case_read_said(&asked, said, &out);
	*unknown = out.kind == CASE_SAID_UNKNOWN;
	for (size_t i = 0; out.kind == CASE_SAID_VALUE && i < n; i++)
		if (strcmp(row->choices[i].value, out.value) == 0)
			return row->choices[i].value;
	return NULL;
}

/* The whole phrase, or without the word that says what it is. */
static bool is_other_word(const char *id, const char *said)
{
	char plain[CASE_LINE];

	case_plain(said, plain);
	for (const char *at = case_other_words(id); at != NULL && *at != '\0';) {
		size_t len = strcspn(at, "|");
		bool begins = strncmp(plain, at, len) == 0;
		if (begins &&
		    (plain[len] == '\0' || strcmp(plain + len, " yeast") == 0 ||
			strcmp(plain + len, " ale yeast") == 0 || strcmp(plain + len, " beer") == 0))
			return true;
		at += len + (at[len] == '|');
	}
	return false;
}

static const char *family_word(const struct ab_knowledge *k, const char *said)
{
	size_t n;
	const struct case_row *row = family_row(&n);

	for (size_t i = 0; i < n; i++)
		if (ab_word_cmp(row->choices[i].says, said) == 0 || is_other_word(row->choices[i].value, said))
			return row->choices[i].value;
	for (size_t i = 0; i < k->n_families; i++)
		if (ab_word_cmp(k->families[i].title, said) == 0)
			return k->families[i].id;
	return NULL;
}

static const char *class_word(const struct ab_knowledge *k, const char *said)
{
	const struct ab_norms *norms = &k->norms;

	for (size_t i = 0; i < norms->n_yeasts; i++)
		if (ab_word_cmp(norms->yeasts[i].id, said) == 0 || ab_word_cmp(norms->yeasts[i].title, said) == 0)
			return norms->yeasts[i].id;
	for (size_t i = 0; i < norms->n_yeasts; i++)
		if (is_other_word(norms->yeasts[i].id, said))
			return norms->yeasts[i].id;
	return NULL;
}

const char *ab_plain_word(const struct ab_knowledge *k, const char *attr, const char *said)
{
	return strcmp(attr, "family") == 0 ? family_word(k, said)
	    : strcmp(attr, "class") == 0   ? class_word(k, said)
					   : NULL;
}

const char *ab_plain_choice(const struct ab_knowledge *k, const char *attr, size_t i)
{
	if (strcmp(attr, "kind") == 0)
		return i < ab_asked_checks(k) ? k->checks[i].id : NULL;
	return strcmp(attr, "class") == 0 && i < k->norms.n_yeasts ? k->norms.yeasts[i].id : NULL;
}

const struct ab_alias *ab_plain_malts(const struct ab_knowledge *k, struct ab_arena *arena, size_t *n)
{
	struct ab_alias *words;
	size_t most = 0;

	for (size_t i = 0; i < k->n_malts; i++)
		most += k->malts[i].n_words;
	*n = 0;
	words = ab_arena_alloc(arena, most, sizeof *words);
	for (size_t i = 0; words != NULL && i < k->n_malts; i++)
		for (size_t j = 0; j < k->malts[i].n_words; j++)
			words[(*n)++] = (struct ab_alias){ k->malts[i].words[j], k->malts[i].kind, ab_words_malt };
	return words;
}
