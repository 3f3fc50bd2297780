/* trend_json.c - the trend as data; the shape is a contract, rules/trend.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

#include <stdint.h>

#include <afterboil/revise.h>

/* Only faults that were found: absent members mean 0, and most are. */
static json_t *batch_of(const struct ab_knowledge *k, const struct ab_trend_batch *b)
{
	json_t *faults = json_object(), *changes = json_array();
	struct put o = put_begin(), f = { faults, faults == NULL };
	for (size_t i = 0; b->tasted && i < k->n_faults; i++)
		if (b->fault_load[i] > 0)
			put_number(&f, k->faults[i].id, b->fault_load[i]);
	for (size_t i = 0; i < b->n_changes; i++)
		changes = json_add(changes, json_text(b->changes[i]));
	put_text(&o, "id", b->id);
	put_text(&o, "line", b->line);
	put_value(&o, "brewed", json_date(b->brewed_s));
	put_flag(&o, "tasted", b->tasted);
	put_number(&o, "load", b->load);
	put_number(&o, "load_low", b->load_low);
	put_number(&o, "load_high", b->load_high);
	put_value(&o, "faults", put_end(&f));
	put_value(&o, "changes", changes);
	put_text(&o, "rules", b->rules);
	put_text(&o, "profile", b->profile);
	put_text(&o, "program", b->program);
	return put_end(&o);
}

/* Counts beside the chance: whoever distrusts the one has the other. */
static json_t *shifts(const struct ab_knowledge *k, const struct ab_trend_change *c)
{
	json_t *array = json_array();
	for (size_t i = 0; i < c->n_faults; i++) {
		struct put o = put_begin();
		put_text(&o, "id", k->faults[c->faults[i].fault].id);
		put_count(&o, "before_with", c->faults[i].before_with);
		put_count(&o, "after_with", c->faults[i].after_with);
		put_number(&o, "p_better", c->faults[i].p_better);
		array = json_add(array, put_end(&o));
	}
	return array;
}

static json_t *blamed(const struct ab_knowledge *k, const struct ab_trend_change *c)
{
	json_t *array = json_array();
	for (size_t i = 0; i < c->n_causes; i++) {
		struct put o = put_begin();
		put_text(&o, "id", k->causes[c->causes[i].cause].id);
		put_number(&o, "before", c->causes[i].before);
		put_number(&o, "after", c->causes[i].after);
		put_number(&o, "p_better", c->causes[i].p_better);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* null, not an empty object: nothing was promised. What was learned from it is null until there is an
 * outcome. */
static json_t *promised(const struct ab_promise *promise, const struct ab_trend_change *c)
{
	struct put o = put_begin(), l = put_begin();
	struct ab_learned learned;
	bool known = promise != NULL &&
	    ab_trend_learn_change(c, promise->load_before, promise->load_after, &learned);
	if (promise == NULL || !known)
		json_decref(put_end(&l));
	if (promise == NULL) {
		json_decref(put_end(&o));
		return json_null();
	}
	put_number(&o, "before", promise->load_before);
	put_number(&o, "after", promise->load_after);
	put_flag(&o, "alone", promise->alone);
	if (known) {
		put_number(&l, "prior", learned.prior);
		put_number(&l, "prior_sd", learned.prior_sd);
		put_number(&l, "data", learned.data);
		put_number(&l, "data_sd", learned.data_sd);
		put_number(&l, "mean", learned.mean);
		put_number(&l, "sd", learned.sd);
	}
	put_value(&o, "learned", known ? put_end(&l) : json_null());
	return put_end(&o);
}

/* SIZE_MAX stands for "cannot be told" inside; a reader gets null. */
static json_t *change_of(
    const struct ab_knowledge *k, const struct ab_trend_change *c, const struct ab_promise *promise)
{
	struct put o = put_begin();
	put_text(&o, "id", c->id);
	put_text(&o, "line", c->line);
	put_value(&o, "date", json_date(c->date_s));
	put_number(&o, "before", c->before);
	put_number(&o, "after", c->after);
	put_count(&o, "n_before", c->n_before);
	put_count(&o, "n_after", c->n_after);
	put_number(&o, "p_better", c->p_better);
	put_number(&o, "low", c->low);
	put_number(&o, "high", c->high);
	put_number(&o, "allowed", c->allowed.lighter);
	put_number(&o, "allowed_p_better", c->allowed.p_better);
	put_number(&o, "allowed_low", c->allowed.low);
	put_number(&o, "allowed_high", c->allowed.high);
	put_flag(&o, "together", c->together);
	put_value(&o, "more_needed",
	    c->more_needed == SIZE_MAX ? json_null() : json_integer((json_int_t)c->more_needed));
	put_value(&o, "faults", shifts(k, c));
	put_value(&o, "causes", blamed(k, c));
	put_value(&o, "promised", promised(promise, c));
	return put_end(&o);
}

/* p as it is, p corrected for all that was compared, and the least p that so few batches allow. */
static json_t *common_of(const struct ab_common *c)
{
	struct put o = put_begin();
	put_text(&o, "factor", c->factor);
	put_text(&o, "value", c->value);
	put_text(&o, "also", c->also);
	put_text(&o, "beside", c->beside == NULL ? NULL : c->beside->factor);
	put_text(&o, "beside_value", c->beside == NULL ? NULL : c->beside->value);
	put_count(&o, "bad", c->bad_with);
	put_count(&o, "bad_all", c->bad);
	put_count(&o, "good", c->good_with);
	put_count(&o, "good_all", c->good);
	put_number(&o, "p", c->p);
	put_number(&o, "p_adjusted", c->p_adjusted);
	put_number(&o, "p_least", c->p_least);
	return put_end(&o);
}

/* leader is null where something leads that the rules do not name. */
static json_t *revision_of(const struct ab_knowledge *k, const struct ab_revision *r)
{
	struct put o = put_begin();
	put_text(&o, "batch", r->batch);
	put_text(&o, "line", r->line);
	put_text(&o, "fault", k->faults[r->fault].id);
	put_text(&o, "cause", k->causes[r->cause].id);
	put_number(&o, "before", r->before);
	put_number(&o, "after", r->after);
	put_text(&o, "leader", r->leader >= 0 ? k->causes[r->leader].id : NULL);
	put_number(&o, "leader_before", r->leader_before);
	put_number(&o, "leader_after", r->leader_after);
	put_count(&o, "later", r->later);
	put_count(&o, "found", r->found);
	put_count(&o, "came_without", r->came_without);
	put_count(&o, "stayed_away", r->stayed_away);
	put_flag(&o, "acted", r->acted);
	return put_end(&o);
}

/* Names of the batches at places of a chart. */
static const char *batch_at(const struct ab_chart *c, const struct ab_trend_batch *batches, size_t i)
{
	return batches[c->batch[i]].id;
}

static json_t *points_of(const struct ab_chart *c, const struct ab_trend_batch *batches)
{
	json_t *array = json_array();
	for (size_t i = 0; i < c->n; i++) {
		struct put o = put_begin();
		put_text(&o, "batch", batch_at(c, batches, i));
		put_number(&o, "value", c->x[i]);
		put_number(&o, "standard", c->u[i]);
		put_number(&o, "ewma", c->ewma[i]);
		put_number(&o, "limit", c->reach[i]);
		put_number(&o, "up", c->up[i]);
		put_number(&o, "down", c->down[i]);
		put_flag(&o, "odd", c->odd[i]);
		array = json_add(array, put_end(&o));
	}
	return array;
}

static json_t *chart_of(const struct ab_knowledge *k, const struct ab_chart *c,
    const struct ab_trend_batch *batches)
{
	struct put o = put_begin();
	json_t *shifts = json_array();
	for (size_t i = 0; i < c->n_shifts; i++) {
		struct put s = put_begin();
		put_text(&s, "from", batch_at(c, batches, c->shifts[i].from));
		put_text(&s, "seen", batch_at(c, batches, c->shifts[i].seen));
		put_number(&s, "before", c->shifts[i].before);
		put_number(&s, "after", c->shifts[i].after);
		shifts = json_add(shifts, put_end(&s));
	}
	put_text(&o, "fact", k->facts->defs[c->slot].name);
	put_text(&o, "unit", k->facts->defs[c->slot].unit);
	put_number(&o, "mean", c->mean);
	put_number(&o, "next_low", c->low);
	put_number(&o, "next_high", c->high);
	put_value(&o, "shifts", shifts);
	put_value(&o, "points", points_of(c, batches));
	return put_end(&o);
}

/* NULL when too few scores tell. */
static json_t *scores_of(const struct ab_verdicts *v)
{
	struct put o;
	if (!(v->noise > 0))
		return json_null();
	o = put_begin();
	put_count(&o, "batches", v->n_batches);
	put_count(&o, "scores", v->n);
	put_number(&o, "mean", v->mean);
	put_number(&o, "noise", v->noise);
	put_number(&o, "noise_low", v->noise_low);
	put_number(&o, "noise_high", v->noise_high);
	put_number(&o, "between", v->between);
	put_number(&o, "apart", v->apart);
	put_number(&o, "tell", v->tell);
	return put_end(&o);
}

/* Batches oldest first, the order the slope is reckoned in. */
json_t *report_trend_json(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend, const struct ab_promise *promises, size_t n_promises)
{
	json_t *all = json_array(), *ahead = json_array(), *changes = json_array(), *common = json_array(),
	       *charts = json_array(), *revised = json_array();
	struct put o = put_begin();
	for (size_t i = 0; i < n; i++)
		all = json_add(all, batch_of(k, &batches[i]));
	for (size_t i = 0; i < trend->n_ahead; i++)
		ahead = json_add(ahead, batch_of(k, &trend->ahead[i]));
	for (size_t i = 0; i < trend->n_changes; i++)
		changes = json_add(changes,
		    change_of(k, &trend->changes[i],
		    report_promise(promises, n_promises, trend->changes[i].id)));
	for (size_t i = 0; i < trend->n_common; i++)
		common = json_add(common, common_of(&trend->common[i]));
	for (size_t i = 0; i < trend->n_charts; i++)
		charts = json_add(charts, chart_of(k, &trend->charts[i], batches));
	for (size_t i = 0; i < trend->n_revisions; i++)
		revised = json_add(revised, revision_of(k, &trend->revisions[i]));
	put_value(&o, "batches", all);
	put_value(&o, "ahead", ahead);
	put_value(&o, "changes", changes);
	put_value(&o, "revised", revised);
	put_value(&o, "common", common);
	put_count(&o, "common_draws", trend->common_draws);
	put_value(&o, "charts", charts);
	put_value(&o, "scores", scores_of(&trend->verdicts));
	put_number(&o, "slope_per_batch", trend->slope_per_batch);
	put_number(&o, "slope_low", trend->slope_low);
	put_number(&o, "slope_high", trend->slope_high);
	return put_end(&o);
}
