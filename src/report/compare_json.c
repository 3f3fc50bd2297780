/* compare_json.c - two brews side by side, as data; the shape is a contract, rules/compare.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

static json_t *side(const struct ab_case *c)
{
	struct put o = put_begin();
	put_text(&o, "batch", c->batch->id);
	put_text(&o, "line", c->batch->line);
	put_text(&o, "wort", c->batch->wort);
	put_flag(&o, "tasted", c->tasted);
	put_number(&o, "load", c->load);
	put_number(&o, "load_low", c->load_low);
	put_number(&o, "load_high", c->load_high);
	return put_end(&o);
}

/* As in the facts' own report: a number in the unit, a flag, or a word. */
static json_t *value(const struct ab_fact_def *def, const struct ab_fact *f)
{
	if (!AB_FACT_KNOWN(f))
		return json_null();
	switch (def->kind) {
	case AB_FACT_FLAG:
		return json_boolean(f->value > 0);
	case AB_FACT_WORD:
		return json_text(def->words[(size_t)f->value]);
	default:
		return json_number(f->value);
	}
}

static json_t *fact_of(const struct ab_knowledge *k, const struct ab_comparison *c,
    const struct ab_compare_fact *f)
{
	const struct ab_fact_def *def = &k->facts->defs[f->slot];
	struct put o = put_begin();
	put_text(&o, "name", def->name);
	put_text(&o, "unit", def->unit);
	put_value(&o, "a", value(def, &c->a->facts[f->slot]));
	put_value(&o, "b", value(def, &c->b->facts[f->slot]));
	put_number(&o, "matters", f->blamed);
	put_number(&o, "moves", f->any);
	put_text(&o, "cause", f->cause < 0 ? NULL : k->causes[f->cause].id);
	put_value(&o, "p_a", f->cause < 0 ? json_null() : json_number(f->p_a));
	put_value(&o, "p_b", f->cause < 0 ? json_null() : json_number(f->p_b));
	return put_end(&o);
}

static json_t *pair(const char *id, double a, double b)
{
	struct put o = put_begin();
	put_text(&o, "id", id);
	put_number(&o, "a", a);
	put_number(&o, "b", b);
	return put_end(&o);
}

json_t *report_compare_json(const struct ab_knowledge *k, const struct ab_comparison *c)
{
	struct put o = put_begin();
	json_t *facts = json_array(), *untold = json_array(), *faults = json_array(), *causes = json_array();
	for (size_t i = 0; i < c->n_facts; i++)
		facts = json_add(facts, fact_of(k, c, &c->facts[i]));
	for (size_t i = 0; i < c->n_untold; i++)
		untold = json_add(untold, fact_of(k, c, &c->untold[i]));
	for (size_t i = 0; i < c->n_faults; i++)
		faults = json_add(faults, pair(k->faults[c->faults[i].fault].id, c->faults[i].a, c->faults[i].b));
	for (size_t i = 0; i < c->n_causes; i++)
		causes = json_add(causes, pair(k->causes[c->causes[i].cause].id, c->causes[i].a, c->causes[i].b));
	put_value(&o, "a", side(c->a));
	put_value(&o, "b", side(c->b));
	put_value(&o, "faults", faults);
	put_value(&o, "facts", facts);
	put_value(&o, "untold", untold);
	put_value(&o, "causes", causes);
	put_count(&o, "alike", c->same);
	put_count(&o, "one_sided", c->one_sided);
	return put_end(&o);
}
