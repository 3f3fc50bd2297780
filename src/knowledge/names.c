/* names.c - names of rules and facts to their places, words to their numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"

static int by_name(const void *a, const void *b)
{
	return strcmp(((const struct name_at *)a)->name, ((const struct name_at *)b)->name);
}

/* Makes the index of names that stand in index->names already. */
static void sort_index(struct compiler *c, struct name_index *index, size_t n)
{
	index->items = compile_room(c, n, sizeof *index->items);
	if (index->items == NULL)
		return;
	index->n = n;
	for (size_t i = 0; i < n; i++)
		index->items[i] = (struct name_at){ index->names[i], (int)i };
	if (n > 0)
		qsort(index->items, n, sizeof *index->items, by_name);
}

/* Every reference of the rules is a name: sorted once and halved, instead of a walk each. The names
 * stand by themselves as well, ended by NULL, because that is what ab_nearest wants. */
void compile_index_kind(struct compiler *c, enum raw_kind kind)
{
	struct name_index *index = &c->index[kind];
	size_t n = c->all->kinds[kind].n;
	index->names = compile_room(c, n + 1, sizeof *index->names);
	if (index->names == NULL)
		return;
	for (size_t i = 0; i < n; i++)
		index->names[i] = RAW_AT(struct raw_head, c->all, kind, i)->id;
	sort_index(c, index, n);
}

void compile_index_facts(struct compiler *c)
{
	struct name_index *index = &c->fact_index;
	index->names = compile_room(c, c->facts->n + 1, sizeof *index->names);
	if (index->names == NULL)
		return;
	for (size_t i = 0; i < c->facts->n; i++)
		index->names[i] = c->facts->defs[i].name;
	sort_index(c, index, c->facts->n);
}

/* A name that is not there is a finding, never an end of the reading: one lint shall show all of them. */
static int look_up(struct compiler *c, const struct name_index *index, const char *what,
    const char *name, long line)
{
	assert(index->items != NULL || index->n == 0);
	struct name_at key = { name, 0 };
	const struct name_at *found = index->n == 0 ? NULL : bsearch(&key, index->items, index->n,
	    sizeof key, by_name);
	if (found != NULL)
		return found->at;
	const char *near = ab_nearest(name, index->names);
	compile_wrong(c, line, "there is no %s \"%s\"%s%s%s", what, name,
	    near == NULL ? "" : "; did you mean \"", near == NULL ? "" : near, near == NULL ? "" : "\"?");
	return -1;
}

int compile_ref(struct compiler *c, enum raw_kind kind, const char *id, long line)
{
	return look_up(c, &c->index[kind], ab_rules_kind(kind)->name, id, line);
}

int compile_slot(struct compiler *c, const char *fact, long line)
{
	return look_up(c, &c->fact_index, "fact", fact, line);
}

void compile_list_words(const char *const *words, char *buf, size_t size)
{
	size_t at = 0;
	buf[0] = '\0';
	for (; *words != NULL && at + strlen(*words) + 3 < size; words++) {
		const char *gap = at > 0 ? ", " : "";
		memcpy(buf + at, gap, strlen(gap));
		at += strlen(gap);
		memcpy(buf + at, *words, strlen(*words) + 1);
		at += strlen(*words);
	}
}

int compile_word(struct compiler *c, const char *what, const char *word, const char *const *words, long line)
{
	char allowed[600];   /* the ids of all numbers fit */
	for (int i = 0; words[i] != NULL; i++)
		if (ab_word_cmp(words[i], word) == 0)
			return i + 1;
	compile_list_words(words, allowed, sizeof allowed);
	compile_wrong(c, line, "%s \"%s\" is not known; allowed: %s", what, word, allowed);
	return 0;
}

bool compile_next(const char **text, char *word, size_t size)
{
	static const char gaps[] = " ,\t\n\r";
	const char *from = *text + strspn(*text, gaps);
	size_t len = strcspn(from, gaps), kept = len < size ? len : size - 1;
	memcpy(word, from, kept);
	word[kept] = '\0';
	*text = from + len;
	return len > 0;
}

size_t compile_names(struct compiler *c, const struct ab_list *list, const char *kind, const char *id, int at,
    compile_finder *find, const char ***names)
{
	const struct raw_text *items = list->items;
	size_t n = 0;

	*names = compile_room(c, list->n, sizeof **names);
	for (size_t i = 0; *names != NULL && i < list->n; i++) {
		int is = compile_text(&items[i]) == NULL || find == NULL ? -1 : find(c->k, items[i].text);

		if (compile_text(&items[i]) == NULL)
			compile_wrong(c, items[i].mark.line, "<word/> is empty");
		else if (is >= 0 && is != at)
			compile_wrong(c, items[i].mark.line,
			    "the word \"%s\" of %s \"%s\" names another %s already", items[i].text, kind, id, kind);
		else
			(*names)[n++] = items[i].text;
	}
	return n;
}
