/* things.c - what stands in a house and serves a change: compiled, and found by its words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <string.h>
#include <strings.h>

#include "base/str.h"

/* ---- by words ---- */

/* "a fridge", "an old fridge", "my fridge": the thing is what comes after. */
static const char *bare(const char *word)
{
	static const char *const before[] = { "a ", "an ", "the ", "my ", "our ", "old ", "spare ", "second ", NULL };

	for (size_t i = 0; before[i] != NULL; i++)
		if (strncasecmp(word, before[i], strlen(before[i])) == 0)
			return bare(word + strlen(before[i]));
	return word;
}

static bool is_one(const char *name, const char *word)
{
	return name != NULL && (ab_word_cmp(name, word) == 0 || ab_word_cmp(bare(name), bare(word)) == 0);
}

static bool is_called(const struct ab_thing *thing, const char *word)
{
	bool called = is_one(thing->id, word) || is_one(thing->title, word);

	for (size_t i = 0; i < thing->n_words; i++)
		called = called || is_one(thing->words[i], word);
	return called;
}

/* A word of so many letters of the one stands in the other. */
static bool shares(const char *one, size_t least, const char *other)
{
	for (size_t n; one += strspn(one, " -,"), (n = strcspn(one, " -,")) > 0; one += n)
		for (const char *at = other; n >= least && *at != '\0'; at++)
			if (strncasecmp(at, one, n) == 0)
				return true;
	return false;
}

/* What is said in a name, or the other way round: "fridges". Titles hold small words that say nothing. */
static bool is_near(const struct ab_thing *thing, const char *said)
{
	enum { SAID = 4, NAMED = 3 };
	bool near = shares(said, SAID, thing->id) || shares(thing->id, NAMED, said) ||
	    (thing->title != NULL && shares(said, SAID, thing->title));

	for (size_t i = 0; i < thing->n_words; i++)
		near = near || shares(said, SAID, thing->words[i]) || shares(thing->words[i], NAMED, said);
	return near;
}

int ab_thing_word(const struct ab_knowledge *k, const char *word, const char **near, size_t max, size_t *n_near)
{
	if (n_near != NULL)
		*n_near = 0;
	for (size_t i = 0; i < k->n_things; i++)
		if (is_called(&k->things[i], word))
			return (int)i;
	for (size_t i = 0; near != NULL && n_near != NULL && *n_near < max && i < k->n_things; i++)
		if (is_near(&k->things[i], word))
			near[(*n_near)++] = k->things[i].id;
	return -1;
}

/* ---- compiled ---- */

static int find(const struct ab_knowledge *k, const char *word)
{
	return ab_thing_word(k, word, NULL, 0, NULL);
}

static void add_from(struct compiler *c, const struct raw_thing *raw, struct ab_thing *thing)
{
	const struct raw_ref *items = raw->from.items;

	thing->from = compile_room(c, raw->from.n, sizeof *thing->from);
	for (size_t i = 0; thing->from != NULL && i < raw->from.n; i++) {
		int change = compile_ref(c, RAW_CHANGE, items[i].change, items[i].mark.line);

		if (change >= 0)
			thing->from[thing->n_from++] = change;
	}
}

static bool serves(const struct ab_knowledge *k, int thing)
{
	for (size_t u = 0; u < k->n_changes; u++) {
		const struct ab_change *c = &k->changes[u];

		for (size_t i = 0; i < c->n_spares; i++)
			if (c->spares[i].thing == thing)
				return true;
		for (size_t i = 0; i < c->n_needs; i++)
			if (c->or_thing[i] == thing)
				return true;
	}
	return false;
}

void compile_things(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_THING].n;

	c->k->things = compile_room(c, n, sizeof *c->k->things);
	for (size_t i = 0; c->k->things != NULL && i < n; i++) {
		const struct raw_thing *raw = RAW_AT(const struct raw_thing, c->all, RAW_THING, i);
		struct ab_thing *thing = &c->k->things[c->k->n_things++];

		c->file = raw->head.file;
		*thing = (struct ab_thing){ .id = raw->head.id, .title = compile_text(raw->title),
			.line = raw->head.mark.line, .file = raw->head.file };
		if (thing->title == NULL)
			compile_wrong(c, thing->line, "<title> of thing \"%s\" is empty", thing->id);
		thing->n_words = compile_names(c, &raw->words, "thing", thing->id, (int)i, find, &thing->words);
		add_from(c, raw, thing);
		if (!serves(c->k, (int)i))
			compile_advise(c, thing->line,
			    "thing \"%s\" spares no change anything: who has it gains nothing", thing->id);
	}
}

/* What is told of a thing twice would be taken off twice. */
static bool is_told(const struct ab_change *change, int thing)
{
	for (size_t i = 0; i < change->n_spares; i++)
		if (change->spares[i].thing == thing)
			return true;
	return false;
}

static void check_spares(struct compiler *c, const struct raw_spares *raw, const struct ab_change *change)
{
	if (raw->cost.v > change->cost || (raw->running.v > 0 && raw->running.v > change->running_per_batch))
		compile_wrong(c, raw->mark.line, "thing \"%s\" spares more than change \"%s\" costs", raw->thing,
		    change->id);
	if (!(raw->cost.v > 0) && !(raw->running.v > 0) && raw->room != AB_YES)
		compile_wrong(c, raw->mark.line, "<spares> needs one of cost=, running=, room=\"yes\"");
}

void compile_spares(struct compiler *c, const struct raw_change *raw, struct ab_change *change)
{
	const struct raw_spares *items = raw->spares.items;

	change->spares = compile_room(c, raw->spares.n, sizeof *change->spares);
	for (size_t i = 0; change->spares != NULL && i < raw->spares.n; i++) {
		int thing = compile_ref(c, RAW_THING, items[i].thing, items[i].mark.line);

		if (thing < 0)
			continue;
		check_spares(c, &items[i], change);
		if (is_told(change, thing))
			compile_wrong(c, items[i].mark.line, "thing \"%s\" stands a second time in change \"%s\"",
			    items[i].thing, change->id);
		change->spares[change->n_spares++] = (struct ab_spares){ thing, items[i].cost.v, items[i].running.v,
			items[i].room == AB_YES, items[i].leaves,
			compile_source(c, items[i].source, items[i].mark.line) };
	}
}

/* By the change it stands for: a need that was not found has no place in needs. */
void compile_or_things(struct compiler *c, const struct raw_change *raw, struct ab_change *change)
{
	const struct raw_ref *items = raw->needs.items;

	change->or_thing = compile_room(c, change->n_needs, sizeof *change->or_thing);
	for (size_t j = 0; change->or_thing != NULL && j < change->n_needs; j++) {
		const struct raw_change *need =
		    RAW_AT(const struct raw_change, c->all, RAW_CHANGE, (size_t)change->needs[j]);

		change->or_thing[j] = -1;
		for (size_t i = 0; i < raw->needs.n; i++)
			if (items[i].or_thing != NULL && strcmp(items[i].change, need->head.id) == 0)
				change->or_thing[j] =
				    compile_ref(c, RAW_THING, items[i].or_thing, items[i].mark.line);
	}
}
