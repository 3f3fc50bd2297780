/* chores.c - burdens of brewing that no beer tastes of, compiled and found by their words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include "base/str.h"

static void add_eases(struct compiler *c, const struct raw_chore *raw, struct ab_chore *chore)
{
	const struct raw_ease *items = raw->eases.items;

	chore->eases = compile_room(c, raw->eases.n, sizeof *chore->eases);
	for (size_t i = 0; chore->eases != NULL && i < raw->eases.n; i++) {
		int change = compile_ref(c, RAW_CHANGE, items[i].change, items[i].mark.line);
		bool twice = false;

		for (size_t j = 0; j < chore->n_eases; j++)
			twice = twice || chore->eases[j].change == change;
		if (twice && change >= 0)
			compile_wrong(c, items[i].mark.line, "chore \"%s\" is eased by \"%s\" twice", chore->id,
			    items[i].change);
		else if (change >= 0)
			chore->eases[chore->n_eases++] =
			    (struct ab_ease){ change, items[i].share.v, items[i].anew == AB_YES,
				    items[i].without != NULL
					? compile_ref(c, RAW_CHANGE, items[i].without, items[i].mark.line)
					: -1,
				    compile_source(c, items[i].source, items[i].mark.line) };
	}
}

void compile_chores(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_CHORE].n;

	c->k->chores = compile_room(c, n, sizeof *c->k->chores);
	for (size_t i = 0; c->k->chores != NULL && i < n; i++) {
		const struct raw_chore *raw = RAW_AT(const struct raw_chore, c->all, RAW_CHORE, i);
		struct ab_chore *chore = &c->k->chores[c->k->n_chores++];

		c->file = raw->head.file;
		*chore = (struct ab_chore){ .id = raw->head.id, .title = compile_text(raw->title),
			.source = compile_source(c, raw->head.source, raw->head.mark.line), .line = raw->head.mark.line,
			.file = raw->head.file };
		if (chore->title == NULL)
			compile_wrong(c, chore->line, "<title> of chore \"%s\" is empty", chore->id);
		chore->n_words =
		    compile_names(c, &raw->words, "chore", chore->id, (int)i, ab_chore_word, &chore->words);
		add_eases(c, raw, chore);
	}
}

static bool is_called(const struct ab_chore *chore, const char *word)
{
	bool called =
	    ab_word_cmp(chore->id, word) == 0 || (chore->title != NULL && ab_word_cmp(chore->title, word) == 0);

	for (size_t i = 0; i < chore->n_words; i++)
		called = called || ab_word_cmp(chore->words[i], word) == 0;
	return called;
}

int ab_chore_word(const struct ab_knowledge *k, const char *word)
{
	for (size_t i = 0; i < k->n_chores; i++)
		if (is_called(&k->chores[i], word))
			return (int)i;
	return -1;
}
