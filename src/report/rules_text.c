/* rules_text.c - the rules as a brewer may read them: a list, or one of them explained
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>
#include <string.h>

#include "report/json.h"
#include "report/saying.h"

/* What every kind of rule has for a list; note says what matters most about it, or is empty. */
struct entry { const char *id, *title, *note; };

/* One kind of rule: how many there are, and the i-th. */
struct kind {
	const char *name, *heading, *hint;
	size_t (*count)(const struct ab_knowledge *k);
	struct entry (*at)(const struct ab_knowledge *k, size_t i);
};

/* Small getters, so that the table below can hold a kind without a switch anywhere. */
static size_t n_faults(const struct ab_knowledge *k) { return k->n_faults; }
static size_t n_causes(const struct ab_knowledge *k) { return k->n_causes; }
static size_t n_changes(const struct ab_knowledge *k) { return k->n_changes; }
static size_t n_checks(const struct ab_knowledge *k) { return ab_asked_checks(k); }
static size_t n_families(const struct ab_knowledge *k) { return k->n_families; }
static size_t n_chores(const struct ab_knowledge *k) { return k->n_chores; }
static size_t n_things(const struct ab_knowledge *k) { return k->n_things; }
static size_t n_touches(const struct ab_knowledge *k) { return k->n_touches; }
static size_t n_boxes(const struct ab_knowledge *k) { return k->n_boxes; }
static size_t n_yeasts(const struct ab_knowledge *k) { return k->norms.n_yeasts; }
static size_t n_facts(const struct ab_knowledge *k) { return k->facts->n; }

static struct entry fault_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->faults[i].id, k->faults[i].title, "" };
}

static struct entry cause_at(const struct ab_knowledge *k, size_t i)
{
	const struct ab_cause *c = &k->causes[i];
	return (struct entry){ c->id, c->title, c->benign ? "harmless" : ab_words_stage[c->stage] };
}

static struct entry change_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->changes[i].id, k->changes[i].title,
	    k->changes[i].habit ? "habit" : "upgrade" };
}

static struct entry check_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->checks[i].id, k->checks[i].title, "" };
}

static struct entry family_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->families[i].id, k->families[i].title, "" };
}

static struct entry yeast_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->norms.yeasts[i].id, k->norms.yeasts[i].title, "" };
}

static struct entry chore_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->chores[i].id, k->chores[i].title, "" };
}

static struct entry thing_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->things[i].id, k->things[i].title, "" };
}

static struct entry touch_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->touches[i].id, k->touches[i].title, "" };
}

/* A box without words of its own asks with those of its fact. */
static struct entry box_at(const struct ab_knowledge *k, size_t i)
{
	const struct ab_box *b = &k->boxes[i];
	const struct ab_fact_def *def = &k->facts->defs[b->slot];
	return (struct entry){ b->id,
		b->title != NULL        ? b->title
		    : def->asks != NULL ? def->asks
					: def->title,
		ab_words_day[b->day] };
}

static struct entry fact_at(const struct ab_knowledge *k, size_t i)
{
	return (struct entry){ k->facts->defs[i].name, k->facts->defs[i].title, k->facts->defs[i].unit };
}

/* One row a kind of rule: text, JSON and the order of both come from here. */
static const struct kind kinds[] = {
	{ "faults", "Faults: what a taster may find",
	  "Tasters' own words mean them, too: \"afterboil rules explain buttery\" shows which, by the fault or any of "
	  "its words.", n_faults, fault_at },
	{ "causes", "Causes: what in the process makes them", NULL, n_causes, cause_at },
	{ "changes", "Changes: habits and upgrades", NULL, n_changes, change_at },
	{ "checks", "Checks: cheap tests that tell causes apart", NULL, n_checks, check_at },
	{ "families", "Style families", NULL, n_families, family_at },
	{ "yeasts", "Yeast classes", NULL, n_yeasts, yeast_at },
	{ "chores", "Chores: burdens that no beer tastes of", NULL, n_chores, chore_at },
	{ "things", "Things: what you may have to spare, for <owns thing=>", NULL, n_things, thing_at },
	{ "touches", "Touches: what a batch asks of your time", NULL, n_touches, touch_at },
	{ "boxes", "Boxes: what a batch sheet asks for", NULL, n_boxes, box_at },
	{ "facts", "Facts that the rules speak about", NULL, n_facts, fact_at },
};
enum { KINDS = sizeof kinds / sizeof *kinds };

const char *report_rules_kind(size_t i)
{
	return i < KINDS ? kinds[i].name : NULL;
}

/* No cells and no rows are different things: the first is lack of memory, the second a kind without
 * rules. */
static void list_kind(struct page *p, const struct ab_knowledge *k, const struct kind *kind)
{
	size_t n = kind->count(k);
	const char **cells = p->bad ? NULL : ab_arena_alloc(p->arena, 3 * n, sizeof *cells);
	if (cells == NULL) {
		p->bad = true;
		return;
	}
	for (size_t i = 0; i < n; i++) {
		struct entry e = kind->at(k, i);
		cells[3 * i] = e.id;
		cells[3 * i + 1] = e.title;
		cells[3 * i + 2] = e.note;
	}
	page_section(p, page_text(p, "%s (%zu)", kind->heading, n));
	if (n > 0)
		page_table(p, 2, "lxl", false, cells, n);
	if (n > 0 && kind->hint != NULL)
		page_para(p, 2, PLAIN, kind->hint);
}

/* Facts only when asked for by name: they are of use to authors of rules, and many. */
void report_rules_list(struct page *p, const struct ab_knowledge *k, const char *kind)
{
	page_title(p, page_text(p, "Rules, version %s", k->version));
	for (size_t i = 0; i < KINDS; i++)
		if (kind == NULL ? strcmp(kinds[i].name, "facts") != 0 : strcmp(kind, kinds[i].name) == 0)
			list_kind(p, k, &kinds[i]);
}

/* All kinds when none is named, facts too: a program can pass them over, an eye cannot. */
json_t *report_rules_json(const struct ab_knowledge *k, const char *kind)
{
	struct put o = put_begin();
	put_text(&o, "version", k->version);
	for (size_t i = 0; i < KINDS; i++) {
		json_t *array = json_array();
		if (kind != NULL && strcmp(kind, kinds[i].name) != 0) {
			json_decref(array);
			continue;
		}
		for (size_t j = 0; j < kinds[i].count(k); j++) {
			struct entry e = kinds[i].at(k, j);
			struct put one = put_begin();
			put_text(&one, "id", e.id);
			put_text(&one, "title", e.title);
			put_text(&one, "note", e.note);
			array = json_add(array, put_end(&one));
		}
		put_value(&o, kinds[i].name, array);
	}
	return put_end(&o);
}
