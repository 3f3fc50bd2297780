/* manformats.c - the manual pages of the formats, made from the tables of their readers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/manformats.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/str.h"
#include "cli/roff.h"

/* ---- what there is ---- */

const char *format_note_of(const struct format_page *page, const char *element, const char *attribute)
{
	const char *any = NULL;
	for (const struct format_note *n = page->notes; n->attribute != NULL; n++)
		if (strcmp(n->attribute, attribute) != 0)
			continue;
		else if (n->element == NULL)
			any = n->says;
		else if (strcmp(n->element, element) == 0)
			return n->says;
	return any;
}

static bool listed(const struct ab_elem_spec *const *elems, size_t n, const char *name)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(elems[i]->name, name) == 0)
			return true;
	return false;
}

static size_t add_held(const struct ab_elem_spec **out, size_t n, const struct ab_elem_spec *e)
{
	if ((e->attrs == NULL && e->children == NULL) || listed(out, n, e->name))
		return n;
	assert(n < FORMAT_MOST);
	out[n++] = e;
	for (const struct ab_elem_spec *c = e->children; c != NULL && c->name != NULL; c++)
		n = add_held(out, n, c);
	return n;
}

size_t format_elements(const struct format_page *page, const struct ab_elem_spec *out[FORMAT_MOST])
{
	size_t n = 0;
	for (size_t i = 0; i < FORMAT_PARTS && page->parts[i].doc != NULL; i++)
		n = add_held(out, n, page->parts[i].doc->root);
	return n;
}

/* ---- values ---- */

/* Bounds are kept in small units; a brewer reads them in those of the size of the thing. */
static const struct scale { int dim; double worth; const char *unit; } scales[] = {
	{ AB_DIM_TIME, 31557600, "y" }, { AB_DIM_TIME, 86400, "d" }, { AB_DIM_TIME, 3600, "h" },
	{ AB_DIM_TIME, 60, "min" }, { AB_DIM_MASS, 1000, "kg" }, { AB_DIM_LENGTH, 1000, "m" },
	{ AB_DIM_SHARE, 0.01, "%" }
};

static void add_bound(struct ab_str *s, int dim, double x)
{
	char text[32];
	const char *unit = ab_dim_kept((enum ab_dim)dim);
	double worth = 1;
	for (size_t i = sizeof scales / sizeof *scales; i-- > 0;)
		if (scales[i].dim == dim && (fabs(x) >= 2 * scales[i].worth || dim == AB_DIM_SHARE)) {
			worth = scales[i].worth;
			unit = scales[i].unit;
		}
	double step = fabs(x / worth) < 100 ? 0.001 : 1;
	ab_num_text(round(x / worth / step) * step, text, sizeof text);
	ab_str_addf(s, "%s%s%s", text, *unit == '\0' || x == 0 ? "" : " ", x == 0 ? "" : unit);
}

static void add_words(struct ab_str *s, const char *const *words)
{
	for (size_t i = 0; words[i] != NULL; i++)
		ab_str_addf(s, "%s%s", i == 0 ? "one of " : ", ", words[i]);
}

/* Times of the day and the like are explained once, under VALUES. */
static const char *const kind_names[] = {
	[AB_ATTR_TEXT] = "text", [AB_ATTR_ID] = "a short name", [AB_ATTR_IDS] = "short names",
	[AB_ATTR_YESNO] = "yes or no", [AB_ATTR_WHEN] = "a moment", [AB_ATTR_DATE] = "a date"
};

static void add_kind(struct ab_str *s, const struct ab_attr_spec *a)
{
	if (a->kind == AB_ATTR_WORD) {
		add_words(s, a->words);
		return;
	}
	if (a->kind != AB_ATTR_QUANTITY && a->kind != AB_ATTR_NUMBER) {
		ab_str_add(s, kind_names[a->kind]);
		return;
	}
	int dim = a->kind == AB_ATTR_NUMBER ? AB_DIM_NONE : a->dim;
	ab_str_add(s, ab_dim_name((enum ab_dim)dim));
	if (a->lo == 0 && a->hi == 0)
		return;
	ab_str_add(s, " from ");
	add_bound(s, dim, a->lo);
	ab_str_add(s, " to ");
	add_bound(s, dim, a->hi);
}

/* The units of each kind of quantity that an element of the page takes. */
static void add_units(struct ab_str *s, const struct ab_elem_spec *const *elems, size_t n)
{
	bool used[AB_DIM_MAX_] = { false };
	for (size_t i = 0; i < n; i++)
		for (const struct ab_attr_spec *a = elems[i]->attrs; a != NULL && a->name != NULL; a++)
			used[a->dim] |= a->kind == AB_ATTR_QUANTITY;
	ab_str_add(s, ".Pp\nUnits:\n.Bl -tag -width Ds\n");
	for (int d = AB_DIM_NONE + 1; d < AB_DIM_MAX_; d++)
		if (used[d])
			ab_str_addf(s, ".It %s\n%s\n", ab_dim_name((enum ab_dim)d), ab_dim_units((enum ab_dim)d));
	ab_str_add(s, ".El\n");
}

/* ---- elements ---- */

static void add_attribute(struct ab_str *s, const struct format_page *page, const char *element,
    const struct ab_attr_spec *a)
{
	const char *note = format_note_of(page, element, a->name);
	struct ab_str kind;
	ab_str_addf(s, ".It Cm %s\n", a->name);
	if (note != NULL)
		roff_sentence(s, note);
	ab_str_init(&kind, 0);
	ab_str_add(&kind, a->required ? "needed: " : "");
	add_kind(&kind, a);
	s->bad |= !ab_str_ok(&kind);
	roff_sentence(s, ab_str_ok(&kind) ? ab_str_text(&kind) : "-");
	ab_str_clear(&kind);
}

static void add_child(struct ab_str *s, const struct ab_elem_spec *c)
{
	ab_str_addf(s, ".It Ic <%s>\n", c->name);
	roff_sentence(s, c->says);
	ab_str_add(s, c->required && c->many ? "Needed, once or more.\n" : c->required ? "Needed, once.\n"
	    : c->many ? "Any number.\n" : "At most once.\n");
}

static bool holds(const struct ab_elem_spec *e, const char *name)
{
	for (const struct ab_elem_spec *c = e->children; c != NULL && c->name != NULL; c++)
		if (strcmp(c->name, name) == 0)
			return true;
	return false;
}

/* Nothing for a root, which stands in no other. */
static void add_where(struct ab_str *s, const struct ab_elem_spec *const *elems, size_t n, const char *name)
{
	const char *mark = "Stands in";
	for (size_t i = 0; i < n; i++)
		if (holds(elems[i], name)) {
			ab_str_addf(s, "%s <%s>", mark, elems[i]->name);
			mark = ",";
		}
	if (*mark == ',')
		ab_str_add(s, ".\n");
}

/* An element whose children another has shown already holds what that one holds: a profile's usual, a whole batch. */
static const char *like(const struct ab_elem_spec *const *elems, const struct ab_elem_spec *e)
{
	for (; *elems != e; elems++)
		if ((*elems)->children == e->children && holds(*elems, "note"))
			return (*elems)->name;
	return NULL;
}

static void add_element(struct ab_str *s, const struct format_page *page, const struct ab_elem_spec *const *elems,
    size_t n, const struct ab_elem_spec *e)
{
	const char *same = e->children == NULL ? NULL : like(elems, e);
	ab_str_addf(s, ".Ss <%s>\n", e->name);
	add_where(s, elems, n, e->name);
	if (e->has_text)
		ab_str_add(s, "Holds text.\n");
	if (same != NULL)
		ab_str_addf(s, "Holds what <%s> holds.\n", same);
	if (e->attrs == NULL && same != NULL)
		return;
	ab_str_add(s, ".Bl -tag -width Ds\n");
	for (const struct ab_attr_spec *a = e->attrs; a != NULL && a->name != NULL; a++)
		add_attribute(s, page, e->name, a);
	for (const struct ab_elem_spec *c = e->children; same == NULL && c != NULL && c->name != NULL; c++)
		add_child(s, c);
	ab_str_add(s, ".El\n");
}

static void add_parts(struct ab_str *s, const struct format_page *page, const struct ab_elem_spec *const *elems,
    size_t n)
{
	size_t part = 0;
	for (size_t i = 0; i < n; i++) {
		if (part < FORMAT_PARTS && page->parts[part].doc != NULL && page->parts[part].doc->root == elems[i]) {
			ab_str_addf(s, ".Sh %s\n", page->parts[part].title);
			roff_prose(s, page->parts[part++].says);
		}
		add_element(s, page, elems, n, elems[i]);
	}
}

static void add_examples(struct ab_str *s, const struct format_page *page)
{
	ab_str_add(s, ".Sh EXAMPLES\n");
	for (size_t i = 0; i < FORMAT_EXAMPLES && page->examples[i].file != NULL; i++) {
		ab_str_add(s, i == 0 ? "" : ".Pp\n");
		roff_prose(s, page->examples[i].says);
		roff_display(s, page->examples[i].file);
		if (page->examples[i].typed != NULL) {
			ab_str_add(s, ".Pp\nThen type:\n");
			roff_display(s, page->examples[i].typed);
		}
	}
}

/* A line of what is to be said and what it makes known, and below it how it is written. */
static void add_howto(struct ab_str *s, const struct format_howto *rows)
{
	struct ab_str lines;
	if (rows == NULL)
		return;
	ab_str_add(s, ".Sh HOW TO SAY IT\n"
	    "Each of these stands in a <batch>, alone or with others.\n"
	    "Behind the colon is what\n.Ql afterboil facts\nmakes of it.\n"
	    "What was tried against a fault, in this brew or another, is told as\n"
	    ".Ql <tried what=\"treat-all-water\" helped=\"no\"/> ;\n"
	    "it counts for or against the causes which that change acts on.\n");
	while (rows->written != NULL) {
		ab_str_addf(s, ".Pp\n%s\n", rows->written);
		ab_str_init(&lines, 0);
		for (rows++; rows->says != NULL; rows++) {
			ab_str_addf(&lines, "%s: %s\n    ", rows->says, rows->fact);
			for (const char *c = rows->written; *c != '\0'; c++)
				ab_str_add(&lines, *c == '\n' ? "\n    " : (char[]){ *c, '\0' });
			ab_str_add(&lines, "\n");
		}
		s->bad |= !ab_str_ok(&lines);
		roff_display(s, ab_str_ok(&lines) ? ab_str_text(&lines) : "");
		ab_str_clear(&lines);
	}
}

/* Of a word of a list: "dextrose: corn sugar, glucose". Was there any? */
static bool add_said_for(
    struct ab_str *s, const struct ab_by_hand *hand, const char *const *list, const char *word, bool first)
{
	bool any = false;
	for (size_t t = 0; t < 2; t++)
		for (const struct ab_alias *a = hand->aliases[t]; a->said != NULL; a++)
			if (a->list == list && strcmp(a->word, word) == 0 && ab_word_cmp(a->said, word) != 0) {
				if (any)
					ab_str_addf(s, ", %s", a->said);
				else
					ab_str_addf(s, "%s%s: %s", first ? "" : ".br\n", word, a->said);
				any = true;
			}
	ab_str_add(s, any ? "\n" : "");
	return any;
}

/* By the attribute that takes the list, each list once. */
static void add_other_words(
    struct ab_str *s, const struct ab_by_hand *hand, const struct ab_elem_spec *const *elems, size_t n)
{
	const char *const *seen[FORMAT_MOST];
	size_t n_seen = 0;
	if (hand == NULL)
		return;
	ab_str_add(s, ".Sh OTHER WORDS\nFor words of the lists these are read as well.\n.Bl -tag -width Ds\n");
	for (size_t i = 0; i < n; i++)
		for (const struct ab_attr_spec *a = elems[i]->attrs; a != NULL && a->name != NULL; a++) {
			bool again = a->kind != AB_ATTR_WORD || n_seen == FORMAT_MOST, any = false;
			for (size_t k = 0; k < n_seen && !again; k++)
				again = seen[k] == a->words;
			for (size_t t = 0; t < 2 && !again; t++)
				for (const struct ab_alias *w = hand->aliases[t]; w->said != NULL; w++)
					any |= w->list == a->words;
			if (!any)
				continue;
			seen[n_seen++] = a->words;
			ab_str_addf(s, ".It Cm %s No of <%s>\n", a->name, elems[i]->name);
			bool first = true;
			for (size_t k = 0; a->words[k] != NULL; k++)
				first = !add_said_for(s, hand, a->words, a->words[k], first) && first;
		}
	ab_str_add(s, ".El\n");
}

static enum ab_status write_page(struct cli *cli, const struct format_page *page)
{
	const struct ab_elem_spec *elems[FORMAT_MOST];
	size_t n = format_elements(page, elems);
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, page->head);
	add_units(&s, elems, n);
	add_howto(&s, page->howto);
	add_parts(&s, page, elems, n);
	add_other_words(&s, page->by_hand, elems, n);
	add_examples(&s, page);
	ab_str_add(&s, page->tail);
	return roff_write(cli, &s);
}

enum ab_status journal_page(struct cli *cli)
{
	return write_page(cli, &format_journal);
}

enum ab_status rules_page(struct cli *cli)
{
	return write_page(cli, &format_rules);
}
