/* attr.c - one attribute of a record: text into a field
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/attr.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/plain.h"
#include "base/rough.h"
#include "base/str.h"

/* The lengths of what messages show are cut: an attribute from a stranger may hold 8 KiB, and a message
 * that long hides its own point. */
enum { MAX_ID = 64, WHY = 400, SHOWN = 60 };

/* A value and what its reader needs to know. */
struct value {
	const struct ab_attr_spec *spec;
	const char *text;           /* blanks at both ends cut: len counts, not the NUL */
	size_t len;
	const char *whole;          /* as given, NUL terminated */
	void *field;
	struct ab_arena *arena;
	const struct ab_attr_place *place;
	struct ab_diag *diag;
};

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static enum ab_status no_memory(const struct value *v)
{
	return ab_fail(v->diag, AB_ENOMEM, v->place->source, v->place->line, "out of memory");
}

/* For readers whose reason already quotes the value. */
static enum ab_status wrong(const struct value *v, const char *why)
{
	return ab_fail(v->diag, AB_EINPUT, v->place->source, v->place->line, "%s of <%s>: %s", v->spec->name,
	    v->place->element, why);
}

/* The reader gets the nearest name and the whole list, since a slip in spelling and an attribute put into
 * the wrong element look alike from here. A list longer than its buffer ends in "...". */
enum ab_status ab_attr_unknown(const char *what, const char *found, const char *const *names,
    const struct ab_attr_place *place, struct ab_diag *diag)
{
	char list[WHY], hint[2 * SHOWN] = "";
	size_t at = 0;
	list[0] = '\0';
	for (size_t i = 0; names[i] != NULL && at < sizeof list; i++) {
		int n = snprintf(list + at, sizeof list - at, "%s%s", i > 0 ? ", " : "", names[i]);
		at += (size_t)(n > 0 ? n : 0);
	}
	const char *near = ab_nearest(found, names);
	if (near != NULL)
		snprintf(hint, sizeof hint, "; did you mean \"%.*s\"?", SHOWN, near);
	return ab_fail(diag, AB_EINPUT, place->source, place->line,
	    "%s \"%.*s\" is not known here%s (allowed: %s%s)", what, SHOWN,
	    found, hint, names[0] == NULL ? "none" : list, at >= sizeof list ? " ..." : "");
}

static enum ab_status read_text(const struct value *v)
{
	char *copy = ab_arena_strndup(v->arena, v->text, v->len);
	if (copy == NULL)
		return no_memory(v);
	*(const char **)v->field = copy;
	return AB_OK;
}

static bool is_id_char(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
	    c == '_' || c == '-';
}

/* Ids become file names, SQL values and anchors in HTML; so the letters are those that need quoting in none
 * of them. */
static enum ab_status check_id(const struct value *v, const char *id, size_t len)
{
	char why[WHY];
	size_t good = 0;
	while (good < len && is_id_char(id[good]))
		good++;
	if (len > 0 && good == len && len <= MAX_ID)
		return AB_OK;
	/* Words with blanks between are the commonest slip, and ids have hyphens there. */
	char joined[SHOWN + 1] = "";
	bool blank = false;
	for (size_t i = 0; i < len && len <= SHOWN; i++) {
		joined[i] = id[i] == ' ' ? '-' : id[i];
		blank |= id[i] == ' ';
	}
	for (size_t i = 0; joined[i] != '\0'; i++)
		blank = blank && is_id_char(joined[i]);
	snprintf(why, sizeof why,
	    "\"%.*s%s\" is no id; write 1 to %d of the letters a to z and A to Z, digits, '.', '_' and '-'%s%s%s",
	    (int)(len < SHOWN ? len : SHOWN), id, len > SHOWN ? "..." : "", MAX_ID, blank ? "; as in \"" : "",
	    blank ? joined : "", blank ? "\"" : "");
	return wrong(v, why);
}

static enum ab_status read_id(const struct value *v)
{
	enum ab_status st = check_id(v, v->text, v->len);
	return st == AB_OK ? read_text(v) : st;
}

/* Blanks and commas both part, since people write both; an empty part (", ,") is no mistake worth stopping
 * for. */
static enum ab_status read_ids(const struct value *v)
{
	struct ab_list *list = v->field;
	const char *s = v->text, *end = v->text + v->len;
	while (s < end) {
		size_t len = 0;
		while (s + len < end && !is_blank(s[len]) && s[len] != ',')
			len++;
		if (len > 0) {
			enum ab_status st = check_id(v, s, len);
			if (st != AB_OK)
				return st;
			char *copy = ab_arena_strndup(v->arena, s, len);
			const char **slot = copy == NULL ? NULL : ab_arena_push(v->arena, &list->items,
			    &list->n, &list->cap, sizeof *slot);
			if (slot == NULL)
				return no_memory(v);
			*slot = copy;
		}
		s += len + 1;
	}
	return AB_OK;
}

/* The value as kept stands beside the value as written: "200 F" out of a range given in C would otherwise
 * puzzle. */
static enum ab_status out_of_range(const struct value *v, enum ab_dim dim, double found)
{
	char why[WHY], lo[32], hi[32], is[32];
	const char *kept = ab_dim_kept(dim);
	if (dim == AB_DIM_NONE || kept[0] == '\0')
		snprintf(why, sizeof why, "\"%.*s\" is out of range; allowed is %s to %s",
		    (int)v->len, v->text, ab_num_text(v->spec->lo, lo, sizeof lo),
		    ab_num_text(v->spec->hi, hi, sizeof hi));
	else
		snprintf(why, sizeof why, "\"%.*s\" (%s %s) is out of range; allowed is %s to %s %s",
		    (int)v->len, v->text, ab_num_text(found, is, sizeof is), kept,
		    ab_num_text(v->spec->lo, lo, sizeof lo),
		    ab_num_text(v->spec->hi, hi, sizeof hi), kept);
	return wrong(v, why);
}

/* Both 0 means that the row of the table sets no bound: a range of only zero would be of no use. */
static bool is_bounded_out(const struct ab_attr_spec *spec, double x)
{
	return (spec->lo != 0 || spec->hi != 0) && (x < spec->lo || x > spec->hi);
}

static enum ab_status keep_number(const struct value *v, enum ab_dim dim, const struct ab_quantity *q)
{
	if (is_bounded_out(v->spec, q->value))
		return out_of_range(v, dim, q->value);
	*(struct ab_num *)v->field = (struct ab_num){ .v = q->value, .resolution = q->resolution, .known = true };
	return AB_OK;
}

static enum ab_status keep_rough(const struct value *v, enum ab_dim dim, const struct ab_rough *r)
{
	/* Both ends of a range: "1.016-10.20 SG" has lost its point. */
	if (is_bounded_out(v->spec, r->low) || is_bounded_out(v->spec, r->high))
		return out_of_range(v, dim, is_bounded_out(v->spec, r->low) ? r->low : r->high);
	struct ab_num *num = v->field;
	*num = (struct ab_num){ r->value, r->resolution, true, r->guess, (unsigned char)r->bound };
	/* "above 99 C": no further than can be. */
	if (r->bound != AB_BOUND_NONE && is_bounded_out(v->spec, r->value)) {
		num->v = r->bound == AB_BOUND_OVER ? v->spec->hi : v->spec->lo;
		num->resolution = fabs(num->v - r->low) * AB_RESOLUTION_OF_U;
	}
	return AB_OK;
}

/* Why it is not read, and how a rough amount would be: said where no number stands in front, or more than one. */
static enum ab_status wrong_quantity(const struct value *v, enum ab_dim dim, char why[WHY], const char *rough_why)
{
	size_t sign = v->text[0] == '-' || v->text[0] == '+', digits = sign + strspn(v->text + sign, "0123456789.");
	const char *behind = v->text + (digits < v->len ? digits : v->len);
	bool rough = digits == sign || strpbrk(behind, "-0123456789~?") != NULL || strstr(behind, " to ") != NULL;
	size_t n = strlen(why);
	if (rough_why[0] != '\0')
		return wrong(v, rough_why);
	if (v->place->by_hand != NULL && rough && dim != AB_DIM_MONEY)
		snprintf(why + n, WHY - n, "%s",
		    dim == AB_DIM_TIME
			? "; not known well: \"about 3 d\", \"2-3 d\", \"below 3 d\", \"a few days\"; not "
			    "known: leave it out"
			: "; not known well: put \"about\" or \"below\" in front, or write a range such as "
			    "\"1-2\" and the unit; not known: leave it out");
	return wrong(v, why);
}

static enum ab_status read_quantity(const struct value *v)
{
	char why[WHY], rough_why[WHY];
	struct ab_quantity q;
	struct ab_rough r;
	enum ab_dim dim = (enum ab_dim)v->spec->dim;
	rough_why[0] = '\0';
	if (ab_quantity_read(v->whole, dim, &q, why, sizeof why))
		return keep_number(v, dim, &q);
	if (v->place->by_hand != NULL && ab_rough_read(v->whole, dim, &r, rough_why, sizeof rough_why))
		return keep_rough(v, dim, &r);
	return wrong_quantity(v, dim, why, rough_why);
}

static enum ab_status read_number(const struct value *v)
{
	char why[WHY];
	struct ab_quantity q;
	if (!ab_quantity_read(v->whole, AB_DIM_NONE, &q, why, sizeof why)) {
		size_t n = strlen(why);
		if (v->place->by_hand != NULL)
			snprintf(why + n, sizeof why - n,
			    "; not known well: one number, of a range its middle, and guess=\"yes\"; not known: "
			    "leave it out");
		return wrong(v, why);
	}
	return keep_number(v, AB_DIM_NONE, &q);
}

/* The word of the list that people also call so, or NULL. */
static const char *of_aliases(const struct value *v, const char *word)
{
	for (size_t t = 0; v->place->by_hand != NULL && t < 2; t++)
		for (const struct ab_alias *a = v->place->by_hand->aliases[t]; a->said != NULL; a++)
			if (a->list == v->spec->words && ab_word_cmp(a->said, word) == 0)
				return a->word;
	return NULL;
}

/* Stored as place + 1, so that the 0 of fresh arena memory means "not given" and unknown is never mistaken
 * for the first word of a list. */
static enum ab_status read_word(const struct value *v)
{
	char word[SHOWN + 1], what[2 * SHOWN + 16];
	size_t len = v->len < SHOWN ? v->len : SHOWN;
	/* Nearly always it is spelled as listed. */
	for (int i = 0; v->len <= SHOWN && v->spec->words[i] != NULL; i++) {
		const char *listed = v->spec->words[i];
		if (listed[0] == v->text[0] && strncmp(listed, v->text, len) == 0 && listed[len] == '\0') {
			*(int *)v->field = i + 1;
			return AB_OK;
		}
	}
	memcpy(word, v->text, len);
	word[len] = '\0';
	/* A word cut to fit the buffer must not match a listed word that happens to be its start. */
	for (int i = 0; v->len <= SHOWN && v->spec->words[i] != NULL; i++)
		if (ab_word_cmp(word, v->spec->words[i]) == 0) {
			*(int *)v->field = i + 1;
			return AB_OK;
		}
	const char *meant = v->len <= SHOWN ? of_aliases(v, word) : NULL;
	for (int i = 0; meant != NULL && v->spec->words[i] != NULL; i++)
		if (strcmp(v->spec->words[i], meant) == 0) {
			*(int *)v->field = i + 1;
			return AB_OK;
		}
	snprintf(what, sizeof what, "%s of <%s>:", v->spec->name, v->place->element);
	return ab_attr_unknown(what, word, v->spec->words, v->place, v->diag);
}

enum ab_status ab_attr_yesno(const char *name, const char *value, int *out, const struct ab_attr_place *place,
    struct ab_diag *diag)
{
	static const char *const words[] = { "no", "yes", NULL };
	const struct ab_attr_spec spec = { .name = name, .kind = AB_ATTR_WORD, .words = words };
	_Static_assert(AB_NO == 1 && AB_YES == 2, "the answers are the places in the list of words");
	return ab_attr_store(&spec, value, strlen(value), out, NULL, place, diag);
}

static enum ab_status read_yesno(const struct value *v)
{
	return ab_attr_yesno(v->spec->name, v->whole, v->field, v->place, v->diag);
}

static enum ab_status read_when(const struct value *v)
{
	char why[WHY];
	return ab_when_read(v->whole, v->field, why, sizeof why) ? AB_OK : wrong(v, why);
}

/* A brew date with a time of day would give relative times a false origin; refused rather than cut. */
static enum ab_status read_date(const struct value *v)
{
	char why[WHY];
	struct ab_when when;
	if (!ab_when_read(v->whole, &when, why, sizeof why))
		return wrong(v, why);
	if (!when.date_only) {
		snprintf(why, sizeof why,
		    "\"%.*s\" is more than a date; write only the date, such as \"2031-03-07\"",
		    (int)v->len, v->text);
		return wrong(v, why);
	}
	*(struct ab_when *)v->field = when;
	return AB_OK;
}

/* By kind: a kind added without a reader fails the assertion below at its first use in any test. */
static enum ab_status (*const readers[])(const struct value *) = {
	[AB_ATTR_TEXT] = read_text,
	[AB_ATTR_ID] = read_id,
	[AB_ATTR_IDS] = read_ids,
	[AB_ATTR_QUANTITY] = read_quantity,
	[AB_ATTR_NUMBER] = read_number,
	[AB_ATTR_WORD] = read_word,
	[AB_ATTR_YESNO] = read_yesno,
	[AB_ATTR_WHEN] = read_when,
	[AB_ATTR_DATE] = read_date,
};

/* What is out of range is none: it is read again, for the words. */
static bool keep_plain(const struct ab_attr_spec *spec, const char *value, struct ab_num *num)
{
	struct ab_quantity q;
	if (!ab_quantity_plain(value, (enum ab_dim)spec->dim, &q) || is_bounded_out(spec, q.value))
		return false;
	*num = (struct ab_num){ .v = q.value, .resolution = q.resolution, .known = true };
	return true;
}

bool ab_attr_plain(const struct ab_attr_spec *spec, const char *value, void *record)
{
	void *field = (char *)record + spec->at;
	if (spec->kind == AB_ATTR_WHEN)
		return ab_when_plain(value, field);
	return spec->kind == AB_ATTR_QUANTITY && keep_plain(spec, value, field);
}

enum ab_status ab_attr_store(const struct ab_attr_spec *spec, const char *value, size_t len, void *record,
    struct ab_arena *arena, const struct ab_attr_place *place, struct ab_diag *diag)
{
	struct value v = { spec, value, len, value, (char *)record + spec->at, arena, place, diag };
	while (v.len > 0 && is_blank(v.text[0])) {
		v.text++;
		v.len--;
	}
	while (v.len > 0 && is_blank(v.text[v.len - 1]))
		v.len--;
	assert(spec->name != NULL && record != NULL);
	assert((size_t)spec->kind < sizeof readers / sizeof *readers);
	return readers[spec->kind](&v);
}
