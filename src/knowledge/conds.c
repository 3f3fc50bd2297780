/* conds.c - values of facts as rules write them, and <when> into conditions on them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "base/decimal.h"
#include "base/str.h"

/* Words of a condition are kept as bits of one long long. */
enum { MAX_FACT_WORDS = 64 };

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
	compile_list_words(words, allowed, sizeof allowed);
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

/* The bits of the words in a text like "bottles cask". A set of words as bits: a condition on any number
 * of them costs one shift. */
static unsigned long long word_bits(struct compiler *c, int slot, const char *attr,
    const char *text, long line)
{
	unsigned long long bits = 0;
	char word[64];
	double at;
	size_t n = 0;
	for (; compile_next(&text, word, sizeof word); n++)
		if (word_value(c, &c->facts->defs[slot], attr, word, line, &at) && at < MAX_FACT_WORDS)
			bits |= 1ULL << (int)at;
	if (n == 0)
		compile_wrong(c, line, "%s=\"\" names no word", attr);
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
	if (when->unless != NULL)
		add_words(c, &conds[n++], slot, AB_CMP_UNLESS, "unless", when->unless, when->mark.line);
	if (when->over != NULL)
		add_number(c, &conds[n++], slot, AB_CMP_OVER, "over", when->over, when->mark.line);
	if (when->under != NULL)
		add_number(c, &conds[n++], slot, AB_CMP_UNDER, "under", when->under, when->mark.line);
	if (when->known != AB_UNKNOWN)
		conds[n++] = (struct ab_cond){ .slot = slot,
		    .cmp = when->known == AB_YES ? AB_CMP_KNOWN : AB_CMP_UNKNOWN };
	if (n == 0)
		compile_wrong(c, when->mark.line,
		    "<when> asks nothing of fact \"%s\"; it needs is=, not=, unless=, over=, under= or known=",
		    when->fact);
	return n;
}

/* is, not, unless, over, under, known: the most that one <when> can ask. */
enum { CONDS_OF_WHEN = 6 };

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

/* Without a condition it would never leave a turn to the words beside it; and it goes before some that are there. */
struct ab_tell *compile_tells(
    struct compiler *c, const struct ab_list *list, const char *name, const char *beside, const char *id, size_t *n)
{
	const struct raw_tell *items = list->items;
	struct ab_tell *tells = compile_room(c, list->n, sizeof *tells);
	for (size_t i = 0; tells != NULL && i < list->n; i++) {
		if (items[i].whens.n == 0 || beside == NULL)
			compile_wrong(c, items[i].mark.line,
			    "<%s-when> of \"%s\" needs a <when>, and a <%s> beside it", name, id, name);
		tells[(*n)++] = (struct ab_tell){ items[i].says, compile_conds(c, &items[i].whens) };
	}
	return tells;
}

struct ab_conds *compile_alternatives(struct compiler *c, const struct ab_list *list)
{
	const struct raw_whens *items = list->items;
	struct ab_conds *out = compile_room(c, list->n, sizeof *out);
	for (size_t i = 0; out != NULL && i < list->n; i++)
		out[i] = compile_conds(c, &items[i].whens);
	return out;
}
