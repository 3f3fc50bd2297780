/* panel_json.c - a blind tasting as data; the shape is a contract, rules/panel.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

#include <stdint.h>

static json_t *count_or_null(size_t n, size_t none)
{
	return n == none ? json_null() : json_integer((json_int_t)n);
}

static json_t *least_of(const struct ab_panel *t)
{
	json_t *array = json_array();
	for (int i = 0; i < AB_PANEL_LEVELS && t->n > 0; i++) {
		struct put o = put_begin();
		put_number(&o, "level", ab_panel_levels[i]);
		put_value(&o, "right", count_or_null(t->least[i], SIZE_MAX));
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* share: of the tasters who can truly tell. */
static json_t *needed_of(const struct ab_panel *t)
{
	json_t *array = json_array();
	for (int i = 0; i < AB_PANEL_SHARES; i++) {
		struct put o = put_begin();
		put_number(&o, "share", ab_panel_shares[i]);
		put_value(&o, "tastings", count_or_null(t->needed[i], 0));
		put_number(&o, "power", t->n > 0 ? t->power[i] : 0);
		array = json_add(array, put_end(&o));
	}
	return array;
}

static json_t *serving_of(const struct ab_serving *s)
{
	struct put o = put_begin();
	json_t *codes = json_array();
	for (int i = 0; i < s->cups; i++)
		codes = json_add(codes, s->code[i] == 0 ? json_null() : json_integer(s->code[i]));
	put_text(&o, "pour", s->beer);
	put_value(&o, "codes", codes);
	put_value(&o, "right", s->odd < 0 ? json_null() : json_integer(s->code[s->odd]));
	return put_end(&o);
}

json_t *report_panel_json(const struct ab_panel *t)
{
	struct put o = put_begin();
	json_t *servings = json_array();
	for (size_t i = 0; i < t->n_servings; i++)
		servings = json_add(servings, serving_of(&t->servings[i]));
	put_text(&o, "test", ab_panel_words[t->test]);
	put_count(&o, "tastings", t->n);
	put_value(&o, "right", t->tasted ? json_integer((json_int_t)t->right) : json_null());
	put_number(&o, "p", t->p);
	put_value(&o, "difference", t->tasted ? json_number(t->belief.difference) : json_null());
	put_value(&o, "share", t->tasted ? json_number(t->belief.share) : json_null());
	put_value(&o, "share_low", t->tasted ? json_number(t->belief.low) : json_null());
	put_value(&o, "share_high", t->tasted ? json_number(t->belief.high) : json_null());
	put_value(&o, "least", least_of(t));
	put_value(&o, "needed", needed_of(t));
	put_value(&o, "servings", servings);
	return put_end(&o);
}
