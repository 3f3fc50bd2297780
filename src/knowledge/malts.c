/* malts.c - what malts are called, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include "base/str.h"

/* The malt that has the word already; NULL when none does. */
static const struct ab_malt_names *called_so(const struct ab_knowledge *k, const char *word)
{
	for (size_t i = 0; i < k->n_malts; i++)
		for (size_t j = 0; j < k->malts[i].n_words; j++)
			if (ab_word_cmp(k->malts[i].words[j], word) == 0)
				return &k->malts[i];
	return NULL;
}

static bool is_kind(const struct compiler *c, const char *word)
{
	const char *const *kinds = c->vocabulary == NULL ? NULL : c->vocabulary->malts;
	for (; kinds != NULL && *kinds != NULL; kinds++)
		if (ab_word_cmp(*kinds, word) == 0)
			return true;
	return false;
}

/* A word that two malts have would mean whichever is read first, and one that is a kind means that kind, whatever
 * stands here. */
static void add_word(struct compiler *c, struct ab_malt_names *malt, const struct raw_text *raw)
{
	const char *word = compile_text(raw);
	const struct ab_malt_names *other = word == NULL ? NULL : called_so(c->k, word);
	if (word == NULL)
		compile_wrong(c, raw->mark.line, "<word/> is empty");
	else if (other != NULL)
		compile_wrong(c, raw->mark.line, "the word \"%s\" of malt \"%s\" is one of malt \"%s\" already",
		    word, malt->id, other->id);
	else if (is_kind(c, word))
		compile_wrong(c, raw->mark.line,
		    "the word \"%s\" of malt \"%s\" is a kind of malt itself, and known without this", word,
		    malt->id);
	else
		malt->words[malt->n_words++] = word;
}

static void compile_malt(struct compiler *c, const struct raw_malt *raw, struct ab_malt_names *malt)
{
	const struct raw_text *items = raw->words.items;
	long line = raw->head.mark.line;
	c->file = raw->head.file;
	*malt = (struct ab_malt_names){ .id = raw->head.id,
		.kind = raw->kind,
		.words = compile_room(c, raw->words.n, sizeof *malt->words),
		.source = compile_source(c, raw->head.source, line),
		.line = line,
		.file = raw->head.file };
	int kind = c->vocabulary == NULL || c->vocabulary->malts == NULL
	    ? 0
	    : compile_word(c, "kind", raw->kind, c->vocabulary->malts, line);
	if (kind > 0)
		malt->kind = c->vocabulary->malts[kind - 1];
	/* Counted before its words are looked at, so that one it tells twice is found, too. */
	c->k->n_malts++;
	for (size_t i = 0; malt->words != NULL && i < raw->words.n; i++)
		add_word(c, malt, &items[i]);
}

void compile_malts(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_MALT].n;
	c->k->malts = compile_room(c, n, sizeof *c->k->malts);
	for (size_t i = 0; c->k->malts != NULL && i < n; i++)
		compile_malt(c, RAW_AT(const struct raw_malt, c->all, RAW_MALT, i), &c->k->malts[i]);
}
