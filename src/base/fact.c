/* fact.c - looking facts and their words up by name
 *
 * Both are plain walks: names are resolved once, when rules load, never while facts are computed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/fact.h>
#include <string.h>

int ab_fact_slot(const struct ab_fact_table *table, const char *name)
{
	for (size_t i = 0; i < table->n; i++)
		if (table->defs[i].name[0] == name[0] && strcmp(table->defs[i].name, name) == 0)
			return (int)i;
	return -1;
}

/* A flag has no list of words in its table: "no" and "yes" are the places 0 and 1 of a list that every flag
 * shares, so that conditions on flags and on words are compiled alike. */
int ab_fact_word(const struct ab_fact_def *def, const char *word)
{
	if (def->kind == AB_FACT_FLAG)
		return strcmp(word, "yes") == 0 ? 1 : strcmp(word, "no") == 0 ? 0 : -1;
	if (def->words == NULL)
		return -1;
	for (int i = 0; def->words[i] != NULL; i++)
		if (strcmp(def->words[i], word) == 0)
			return i;
	return -1;
}
