/* facts_json.c - facts as data; the shape is a contract, rules/facts.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include <assert.h>
#include "report/reports.h"
#include "report/saying.h"

static json_t *value_of(const struct ab_fact_def *def, const struct ab_fact *f)
{
	assert(AB_FACT_KNOWN(f));
	if (def->kind == AB_FACT_FLAG)
		return json_boolean(f->value > 0);
	return def->kind == AB_FACT_WORD ? json_text(def->words[(int)f->value]) : json_number(f->value);
}

/* 0 ends the list; a fact of the usual batch has none. */
static json_t *lines_of(const struct ab_fact *f)
{
	json_t *array = json_array();
	for (int i = 0; i < AB_FACT_LINES && f->lines[i] > 0; i++)
		array = json_add(array, json_integer(f->lines[i]));
	return array;
}

/* Always in the store's units, whatever the reader's look: data is not prose. */
static json_t *one(const struct ab_fact_def *def, const struct ab_fact *f)
{
	char grade[2] = { f->grade, '\0' };
	struct put o = put_begin();
	put_text(&o, "name", def->name);
	put_value(&o, "value", value_of(def, f));
	put_text(&o, "unit", def->unit);
	put_text(&o, "origin", say_origin(f->origin));
	put_number(&o, "u", f->u);
	put_text(&o, "grade", f->grade == 0 ? NULL : grade);
	put_flag(&o, "guess", f->guess);
	put_value(&o, "lines", lines_of(f));
	put_text(&o, "working", f->working);
	return put_end(&o);
}

static json_t *counted_of(const struct ab_case *c)
{
	json_t *array = json_array();
	for (size_t i = 0; i < c->n_counted; i++) {
		struct put o = put_begin();
		put_value(&o, "line", json_integer(c->counted[i].line));
		put_text(&o, "text", c->counted[i].text);
		array = json_add(array, put_end(&o));
	}
	return array;
}

static json_t *unreckoned_of(const struct ab_knowledge *k, const struct ab_case *c)
{
	json_t *array = json_array();
	for (size_t i = 0; i < c->n_unreckoned; i++) {
		const struct ab_unreckoned *u = &c->unreckoned[i];
		struct put o = put_begin();
		put_value(&o, "line", json_integer(u->line));
		put_text(&o, "element", u->element);
		put_text(&o, "attribute", u->attr);
		put_text(&o, "why", u->why);
		put_text(&o, "fact", u->slot >= 0 ? k->facts->defs[u->slot].name : NULL);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* Unknown facts are left out rather than null: there are too many of them. */
json_t *report_facts_json(const struct ab_knowledge *k, const struct ab_case *c)
{
	json_t *facts = json_array();
	struct put o = put_begin();
	for (size_t i = 0; i < k->facts->n; i++)
		if (AB_FACT_KNOWN(&c->facts[i]))
			facts = json_add(facts, one(&k->facts->defs[i], &c->facts[i]));
	put_text(&o, "batch", c->batch->id);
	put_value(&o, "facts", facts);
	put_value(&o, "counted", counted_of(c));
	put_value(&o, "unreckoned", unreckoned_of(k, c));
	return put_end(&o);
}
