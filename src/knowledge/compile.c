/* compile.c - what every kind of rule needs to be compiled: names to places, conditions, values, strengths
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/decimal.h"
#include "base/str.h"

/* Words of a condition are kept as bits of one long long. */
enum { MAX_FACT_WORDS = 64 };

/* Never NULL for n = 0 unless memory is short: the arena gives even an empty array an address. */
void *compile_room(struct compiler *c, size_t n, size_t size)
{
	void *room = ab_arena_alloc(c->arena, n, size);
	if (room == NULL)
		c->lint->no_memory = true;
	return room;
}

/* ---- names ---- */

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
static void index_kind(struct compiler *c, enum raw_kind kind)
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

static void index_facts(struct compiler *c)
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

/* "a, b, c" cut at size. */
static void list_words(const char *const *words, char *buf, size_t size)
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
	char allowed[400];
	for (int i = 0; words[i] != NULL; i++)
		if (ab_word_cmp(words[i], word) == 0)
			return i + 1;
	list_words(words, allowed, sizeof allowed);
	compile_wrong(c, line, "%s \"%s\" is not known; allowed: %s", what, word, allowed);
	return 0;
}

/* ---- texts and sources ---- */

const char *compile_text(const struct raw_text *text)
{
	return text == NULL || text->text == NULL || text->text[0] == '\0' ? NULL : text->text;
}

/* Every number must say where it is from. One that begins with "estimate" is also redrawn when the likely
 * range is asked for, so the word is more than a remark. */
struct ab_source_note compile_source(struct compiler *c, const char *source, long line)
{
	if (source == NULL || source[0] == '\0')
		compile_wrong(c, line,
		    "a number needs a source: say where it is from, or source=\"estimate\"");
	return (struct ab_source_note){ source, source != NULL && strncmp(source, "estimate", 8) == 0,
	    line, c->file };
}

/* ---- values of facts ---- */

static bool number_value(struct compiler *c, const struct ab_fact_def *def, const char *attr,
    const char *text, long line, double *value)
{
	const char *s = text;
	char lo[32], hi[32];
	double step;
	if (ab_decimal_read(&s, value, &step) != AB_DECIMAL_OK) {
		compile_wrong(c, line, "%s \"%.40s\" is no number; fact \"%s\" is a number in %s", attr, text,
		    def->name, def->unit);
		return false;
	}
	/* The unit may be left out but not be another one: nothing is converted here, since facts have one
	 * unit each. */
	s += strspn(s, " \t\n\r");
	if (*s != '\0' && strcmp(s, def->unit) != 0) {
		compile_wrong(c, line, "%s \"%.40s\" has the wrong unit; fact \"%s\" is in %s", attr, text,
		    def->name, def->unit);
		return false;
	}
	/* A threshold outside the fact's range could never be passed, and its rule would sleep unnoticed. */
	if (*value < def->lo || *value > def->hi) {
		compile_wrong(c, line, "%s \"%.40s\" is out of range; fact \"%s\" goes from %s to %s %s",
		    attr, text, def->name, ab_num_text(def->lo, lo, sizeof lo),
		    ab_num_text(def->hi, hi, sizeof hi), def->unit);
		return false;
	}
	return true;
}

static bool word_value(struct compiler *c, const struct ab_fact_def *def, const char *attr, const char *text,
    long line, double *value)
{
	static const char *const yes_no[] = { "no", "yes", NULL };
	const char *const *words = def->kind == AB_FACT_FLAG ? yes_no : def->words;
	char allowed[400];
	int at = ab_fact_word(def, text);
	if (at >= 0) {
		*value = at;
		return true;
	}
	list_words(words, allowed, sizeof allowed);
	compile_wrong(c, line, "%s \"%.40s\" is no word of fact \"%s\"; allowed: %s", attr, text,
	    def->name, allowed);
	return false;
}

/* A word becomes its place, a flag 0 or 1, so that later every fact is one double. */
bool compile_value(struct compiler *c, int slot, const char *attr, const char *text, long line, double *value)
{
	const struct ab_fact_def *def = &c->facts->defs[slot];
	return def->kind == AB_FACT_NUMBER ? number_value(c, def, attr, text, line, value)
	                                   : word_value(c, def, attr, text, line, value);
}

/* ---- conditions ---- */

/* The bits of the words in a text like "bottles cask". A set of words as bits: a condition on any number
 * of them costs one shift. */
static unsigned long long word_bits(struct compiler *c, int slot, const char *attr,
    const char *text, long line)
{
	static const char gaps[] = " ,\t\n\r";
	unsigned long long bits = 0;
	char word[64];
	text += strspn(text, gaps);
	if (*text == '\0')
		compile_wrong(c, line, "%s=\"\" names no word", attr);
	while (*text != '\0') {
		size_t len = strcspn(text, gaps), kept = len < sizeof word ? len : sizeof word - 1;
		double at;
		memcpy(word, text, kept);
		word[kept] = '\0';
		if (word_value(c, &c->facts->defs[slot], attr, word, line, &at) && at < MAX_FACT_WORDS)
			bits |= 1ULL << (int)at;
		text += len;
		text += strspn(text, gaps);
	}
	return bits;
}

static void add_words(struct compiler *c, struct ab_cond *cond, int slot, enum ab_cmp cmp, const char *attr,
    const char *text, long line)
{
	const struct ab_fact_def *def = &c->facts->defs[slot];
	*cond = (struct ab_cond){ .slot = slot, .cmp = cmp };
	if (def->kind == AB_FACT_NUMBER)
		compile_wrong(c, line, "fact \"%s\" is a number: ask over= or under=, not %s=",
		    def->name, attr);
	else
		cond->words = word_bits(c, slot, attr, text, line);
}

static void add_number(struct compiler *c, struct ab_cond *cond, int slot, enum ab_cmp cmp, const char *attr,
    const char *text, long line)
{
	const struct ab_fact_def *def = &c->facts->defs[slot];
	*cond = (struct ab_cond){ .slot = slot, .cmp = cmp };
	if (def->kind != AB_FACT_NUMBER)
		compile_wrong(c, line, "fact \"%s\" is no number: ask is= or not=, not %s=", def->name, attr);
	else
		compile_value(c, slot, attr, text, line, &cond->value);
}

/* One <when> may ask several things of its fact; each becomes a condition, since all have to hold anyway. */
static size_t add_when(struct compiler *c, const struct raw_when *when, struct ab_cond *conds)
{
	size_t n = 0;
	int slot = compile_slot(c, when->fact, when->mark.line);
	if (slot < 0)
		return 0;
	if (when->is != NULL)
		add_words(c, &conds[n++], slot, AB_CMP_IS, "is", when->is, when->mark.line);
	if (when->is_not != NULL)
		add_words(c, &conds[n++], slot, AB_CMP_NOT, "not", when->is_not, when->mark.line);
	if (when->over != NULL)
		add_number(c, &conds[n++], slot, AB_CMP_OVER, "over", when->over, when->mark.line);
	if (when->under != NULL)
		add_number(c, &conds[n++], slot, AB_CMP_UNDER, "under", when->under, when->mark.line);
	if (when->known != AB_UNKNOWN)
		conds[n++] = (struct ab_cond){ .slot = slot,
		    .cmp = when->known == AB_YES ? AB_CMP_KNOWN : AB_CMP_UNKNOWN };
	if (n == 0)
		compile_wrong(c, when->mark.line,
		    "<when> asks nothing of fact \"%s\"; it needs is=, not=, over=, under= or known=",
		    when->fact);
	return n;
}

/* is, not, over, under, known: the most that one <when> can ask. */
enum { CONDS_OF_WHEN = 5 };

/* A block at a time: what a batch asks is fetched together, then. Where it stands already, when memory is short. */
static const struct ab_cond *beside_others(struct compiler *c, const struct ab_cond *conds, size_t n)
{
	enum { BLOCK = 256 };
	if (c->cond_left < n) {
		c->cond_left = n > BLOCK ? n : BLOCK;
		c->cond_room = compile_room(c, c->cond_left, sizeof *c->cond_room);
		if (c->cond_room == NULL) {
			c->cond_left = 0;
			return conds;
		}
	}
	struct ab_cond *to = c->cond_room;
	memcpy(to, conds, n * sizeof *conds);
	c->cond_room += n;
	c->cond_left -= n;
	return to;
}

/* Dozens of gates, links and signs ask the same: they share one place, which stays at hand in the fastest
 * memory while a batch is weighed. */
static struct ab_conds shared(struct compiler *c, struct ab_conds conds)
{
	for (size_t i = 0; i < c->conds.n; i++) {
		const struct ab_conds *other = &c->conds.items[i];
		if (other->n == conds.n && memcmp(other->items, conds.items, conds.n * sizeof *conds.items) == 0)
			return *other;
	}
	conds.place = (unsigned)c->conds.n + 1;
	conds.items = beside_others(c, conds.items, conds.n);
	struct ab_conds *slot = ab_arena_push(c->arena, &c->conds.items, &c->conds.n, &c->conds.cap, sizeof *slot);
	if (slot == NULL)
		c->lint->no_memory = true;
	else
		*slot = conds;
	return conds;
}

struct ab_conds compile_conds(struct compiler *c, const struct ab_list *whens)
{
	struct ab_conds none = { NULL, 0, 0 };
	const struct raw_when *items = whens->items;
	size_t n = 0;
	if (whens->n == 0)
		return none;
	struct ab_cond *conds = compile_room(c, whens->n * CONDS_OF_WHEN, sizeof *conds);
	if (conds == NULL)
		return none;
	for (size_t i = 0; i < whens->n; i++)
		n += add_when(c, &items[i], conds + n);
	assert(n <= whens->n * CONDS_OF_WHEN);
	return shared(c, (struct ab_conds){ conds, (unsigned)n, 0 });
}

struct ab_conds *compile_alternatives(struct compiler *c, const struct ab_list *list)
{
	const struct raw_whens *items = list->items;
	struct ab_conds *out = compile_room(c, list->n, sizeof *out);
	for (size_t i = 0; out != NULL && i < list->n; i++)
		out[i] = compile_conds(c, &items[i].whens);
	return out;
}

/* ---- strengths ---- */

/* tail[k] is the chance of grade k or more, so it falls from 1; the sweep relies on that (differences of
 * neighbours are probabilities). Rules that break it are refused here, not mended. */
void compile_tail(struct compiler *c, const struct raw_strength *raw, double *tail)
{
	tail[0] = 1;
	tail[1] = raw->noticeable.v;
	tail[3] = raw->strong.v;
	/* In between by the geometric mean: the same step of log strength from slight to moderate as from
	 * moderate to strong. */
	tail[2] = raw->moderate.known ? raw->moderate.v : sqrt(tail[1] * tail[3]);
	if (tail[1] < tail[2] || tail[2] < tail[3])
		compile_wrong(c, raw->mark.line,
		    "strengths must not rise: noticeable is the chance of any grade, so moderate and then "
		    "strong are "
		    "at most as much");
}

/* ---- the whole ---- */

/* Faults before causes before changes and checks only for the order of messages: references are by place,
 * and every kind has been indexed already. */
static void compile_kinds(struct compiler *c)
{
	const struct raw_all *all = c->all;
	struct ab_knowledge *k = c->k;
	for (size_t i = 0; i < k->n_faults && !c->lint->no_memory; i++)
		compile_fault(c, RAW_AT(const struct raw_fault, all, RAW_FAULT, i), &k->faults[i]);
	for (size_t i = 0; i < k->n_causes && !c->lint->no_memory; i++)
		compile_cause(c, RAW_AT(const struct raw_cause, all, RAW_CAUSE, i), &k->causes[i]);
	for (size_t i = 0; i < k->n_changes && !c->lint->no_memory; i++)
		compile_change(c, RAW_AT(const struct raw_change, all, RAW_CHANGE, i), &k->changes[i]);
	for (size_t i = 0; i < k->n_checks && !c->lint->no_memory; i++)
		compile_check(c, RAW_AT(const struct raw_check, all, RAW_CHECK, i), &k->checks[i]);
}

/* All places at once, so that a reference from one thing to a later one can be taken before that is
 * compiled. */
static void make_room(struct compiler *c)
{
	struct ab_knowledge *k = c->k;
	k->n_faults = c->all->kinds[RAW_FAULT].n;
	k->n_causes = c->all->kinds[RAW_CAUSE].n;
	k->n_changes = c->all->kinds[RAW_CHANGE].n;
	k->n_checks = c->all->kinds[RAW_CHECK].n;
	k->faults = compile_room(c, k->n_faults, sizeof *k->faults);
	k->causes = compile_room(c, k->n_causes, sizeof *k->causes);
	k->changes = compile_room(c, k->n_changes, sizeof *k->changes);
	k->checks = compile_room(c, k->n_checks, sizeof *k->checks);
}

enum ab_status rules_compile(const struct raw_all *all, const struct ab_fact_table *facts,
    const struct ab_vocabulary *vocabulary, struct ab_arena *arena, struct lint *lint, struct ab_knowledge *k,
    struct ab_diag *diag)
{
	struct compiler c = { .facts = facts, .vocabulary = vocabulary, .arena = arena, .lint = lint,
	    .all = all, .k = k };
	k->facts = facts;
	for (enum raw_kind kind = 0; kind < RAW_KINDS; kind++)
		index_kind(&c, kind);
	index_facts(&c);
	make_room(&c);
	if (!lint->no_memory)
		compile_kinds(&c);
	if (!lint->no_memory)
		compile_kins(&c);
	if (!lint->no_memory)
		compile_contraries(&c);
	if (!lint->no_memory)
		compile_boxes(&c);
	if (!lint->no_memory)
		compile_touches(&c);
	if (!lint->no_memory)
		compile_families(&c);
	if (!lint->no_memory)
		compile_reports(&c);
	if (!lint->no_memory)
		compile_hearing(&c);
	if (!lint->no_memory)
		compile_norms(&c);
	if (!lint->no_memory)
		compile_spoken(&c);
	return lint->no_memory ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : AB_OK;
}
