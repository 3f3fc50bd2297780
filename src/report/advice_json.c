/* advice_json.c - advice as data; the shape is a contract, rules/advise.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

#include <math.h>

/* The heaviest first, as buying.c orders them: a reader that wants one takes the first. */
static json_t *because(const struct ab_knowledge *k, const struct ab_item *item)
{
	json_t *array = json_array();
	for (size_t i = 0; i < item->n_because; i++) {
		struct put o = put_begin();
		put_text(&o, "fault", k->faults[item->because[i].fault].id);
		put_text(&o, "cause", k->causes[item->because[i].cause].id);
		put_number(&o, "load", item->because[i].load);
		put_flag(&o, "tasted", item->because[i].tasted);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* gain is what the change does alone, joint_gain what it adds after those before it in the plan;
 * outside the plan the latter has no meaning and is 0. */
static json_t *item_of(const struct ab_knowledge *k, const struct ab_item *item)
{
	static const char *const basis[] = {
		[AB_BASIS_REPLAY] = "replay", [AB_BASIS_RATED] = "rated", [AB_BASIS_MIXED] = "mixed",
		[AB_BASIS_FACTS] = "facts"
	};
	const struct ab_change *c = &k->changes[item->change];
	struct put o = put_begin();
	put_text(&o, "id", c->id);
	put_text(&o, "title", c->title);
	put_text(&o, "kind", c->habit ? "habit" : "upgrade");
	put_text(&o, "side", ab_words_side[c->side]);
	put_number(&o, "cost", item->cost);
	put_number(&o, "running_cost", item->running_cost);
	put_number(&o, "minutes", item->minutes);
	put_number(&o, "gain", item->gain);
	put_number(&o, "joint_gain", item->chosen ? item->joint_gain : 0);
	put_text(&o, "basis", basis[item->basis]);
	put_number(&o, "stays", item->stays);
	put_number(&o, "place_stays", item->place_stays);
	put_flag(&o, "in_best", item->in_best);
	put_flag(&o, "chosen", item->chosen);
	put_flag(&o, "owned", item->owned);
	put_text(&o, "have", item->have);
	put_flag(&o, "learned", item->learned);
	put_flag(&o, "begun", item->begun != NULL);
	put_text(&o, "barred", item->barred);
	put_value(&o, "because", because(k, item));
	return put_end(&o);
}

/* What costs money in a plan of the frontier, to buy or to run. */
static json_t *bought(const struct ab_knowledge *k, const struct ab_advice *a, const struct ab_step *step)
{
	json_t *array = json_array();
	for (size_t i = 0; step->chosen != NULL && i < a->n_items; i++)
		if (step->chosen[a->items[i].change] && (a->items[i].cost > 0 || a->items[i].running_cost > 0))
			array = json_add(array, json_string(k->changes[a->items[i].change].id));
	return array;
}

/* Cheapest first; what each budget leaves, not what it removes, since a curve of what is left needs no
 * second figure. */
static json_t *frontier(const struct ab_knowledge *k, const struct ab_advice *a)
{
	json_t *array = json_array();
	for (size_t i = 0; i < a->n_frontier; i++) {
		struct put o = put_begin();
		put_number(&o, "cost", a->frontier[i].cost);
		put_number(&o, "load", a->frontier[i].load);
		put_value(&o, "buys", bought(k, a, &a->frontier[i]));
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* best = given up in all + load_before - load_after: a reader can add it up. */
static json_t *given_up(const struct ab_advice *a)
{
	json_t *array = json_array();
	for (size_t i = 0; i < AB_POLICY_STEPS; i++) {
		struct put o = put_begin();
		put_text(&o, "why", ab_policy_words[i]);
		put_number(&o, "load", a->given_up[i]);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* Limits that keep nothing out are not told. */
static json_t *left_out(const struct ab_knowledge *k, const struct ab_advice *a)
{
	json_t *array = json_array();
	for (int l = 0; l < AB_LIMITS; l++) {
		struct put o;
		if (!(a->left_out[l].more > 0))
			continue;
		o = put_begin();
		put_text(&o, "limit", ab_limit_words[l]);
		put_text(&o, "change", k->changes[a->left_out[l].change].id);
		put_number(&o, "more", a->left_out[l].more);
		array = json_add(array, put_end(&o));
	}
	return array;
}

static void put_change(struct put *o, const char *name, const struct ab_knowledge *k, int change)
{
	put_text(o, name, change >= 0 ? k->changes[change].id : NULL);
}

/* null when no single estimate would change the plan. */
static json_t *pivot(const struct ab_knowledge *k, const struct ab_advice *a)
{
	struct put o;

	if (!a->pivot.known)
		return json_null();
	o = put_begin();
	put_text(&o, "cause", k->causes[a->pivot.cause].id);
	put_change(&o, "change", k, a->pivot.change);
	put_flag(&o, "higher", a->pivot.higher);
	put_change(&o, "take", k, a->pivot.take);
	put_change(&o, "drop", k, a->pivot.drop);
	put_number(&o, "regret", a->pivot.regret);
	return put_end(&o);
}

/* null when no purchase is likelier to be in vain than not, or no cheaper plan does nearly as much. */
static json_t *cheaper(const struct ab_knowledge *k, const struct ab_advice *a)
{
	struct put o;

	if (!a->cheaper.known)
		return json_null();
	o = put_begin();
	put_text(&o, "without", k->changes[a->items[a->cheaper.without].change].id);
	put_number(&o, "saves", a->cheaper.saves);
	put_number(&o, "removed", a->frontier[a->cheaper.step].removed);
	put_number(&o, "better", a->cheaper.better);
	return put_end(&o);
}

/* What the fact is then; null of a check, which says yes or no. */
static json_t *answer(const struct ab_knowledge *k, const struct ab_ask *ask, int i)
{
	const struct ab_fact_def *def = ask->is_check ? NULL : &k->facts->defs[ask->weighed];

	if (def == NULL)
		return json_null();
	return def->kind == AB_FACT_NUMBER
	    ? json_real(ask->answer[i])
	    : json_string(def->kind == AB_FACT_FLAG ? (ask->answer[i] > 0 ? "yes" : "no")
						    : def->words[(int)ask->answer[i]]);
}

static json_t *answered(const struct ab_knowledge *k, const struct ab_ahead *ahead, int i)
{
	struct put o = put_begin();
	put_value(&o, "answer", answer(k, ahead->ask, i));
	put_change(&o, "take", k, ahead->take[i]);
	put_change(&o, "drop", k, ahead->drop[i]);
	return put_end(&o);
}

/* null when no check or answer at hand would change what to do. */
static json_t *ahead(const struct ab_knowledge *k, const struct ab_advice *a)
{
	struct put o;

	if (a->ahead.ask == NULL)
		return json_null();
	o = put_begin();
	put_text(&o, "check", a->ahead.ask->is_check ? k->checks[a->ahead.ask->check].id : NULL);
	put_text(&o, "fact", a->ahead.ask->is_check ? NULL : k->facts->defs[a->ahead.ask->weighed].name);
	put_number(&o, "minutes", a->ahead.ask->minutes);
	put_number(&o, "cost", a->ahead.ask->cost);
	put_number(&o, "p_yes", a->ahead.p_yes);
	put_number(&o, "worth", a->ahead.worth);
	put_number(&o, "bought", a->ahead.bought);
	put_flag(&o, "first", a->ahead.first);
	put_value(&o, "if_yes", answered(k, &a->ahead, 0));
	put_value(&o, "if_no", answered(k, &a->ahead, 1));
	return put_end(&o);
}

/* Members that do not belong to a kind are null. */
static json_t *steps(const struct ab_knowledge *k, const struct ab_advice *a)
{
	json_t *array = json_array();
	for (size_t i = 0; i < a->n_steps; i++) {
		const struct ab_next_step *s = &a->steps[i];
		struct put o = put_begin();
		put_text(&o, "do", ab_next_words[s->kind]);
		put_text(&o, "batch", s->batch != NULL ? s->batch->id : NULL);
		put_text(&o, "touch", s->due != NULL ? s->due->touch->id : NULL);
		put_value(&o, "day", json_date(s->due != NULL ? s->due->day_s : (double)NAN));
		put_flag(&o, "overdue", s->due != NULL && s->due->overdue);
		put_text(&o, "cause", s->cause >= 0 ? k->causes[s->cause].id : NULL);
		put_text(&o, "trial",
		    s->trial == NULL             ? NULL
			: s->trial->what != NULL ? s->trial->what
						 : s->trial->text);
		put_value(&o, "better", json_number(s->kept != NULL ? s->kept->p_better : (double)NAN));
		put_text(&o, "check", s->check == NULL ? NULL
		    : s->check->is_check ? k->checks[s->check->check].id : k->facts->defs[s->check->slot].name);
		put_change(&o, "change", k, s->item >= 0 ? a->items[s->item].change : -1);
		put_text(&o, "line", s->line);
		put_text(&o, "under", s->under != NULL ? s->under->what : NULL);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* The order of members is the schema's (diffs of two runs stay readable); a new one goes where it
 * belongs. */
json_t *report_advice_json(const struct ab_knowledge *k, const struct ab_advice *a)
{
	/* ranked holds the plan's items again, with "chosen": programs want one list to sort as they
	 * please. */
	json_t *plan = json_array(), *ranked = json_array();
	struct put o = put_begin();
	for (size_t i = 0; i < a->n_plan; i++)
		plan = json_add(plan, item_of(k, &a->items[a->plan[i]]));
	for (size_t i = 0; i < a->n_items; i++)
		ranked = json_add(ranked, item_of(k, &a->items[i]));
	put_number(&o, "budget", a->budget);
	put_text(&o, "currency", a->currency);
	put_count(&o, "batches", a->n_batches);
	put_number(&o, "load_before", a->load_before);
	put_number(&o, "load_after", a->load_after);
	put_number(&o, "flawless_before", a->flawless_before);
	put_number(&o, "flawless_after", a->flawless_after);
	put_number(&o, "best", a->best);
	put_number(&o, "gap", a->gap);
	put_value(&o, "given_up", given_up(a));
	put_value(&o, "left_out", left_out(k, a));
	put_number(&o, "regret", a->regret);
	put_number(&o, "regret_high", a->regret_high);
	put_value(&o, "pivot", pivot(k, a));
	put_value(&o, "ahead", ahead(k, a));
	put_number(&o, "minutes", a->minutes);
	put_number(&o, "away_hours", a->away_hours);
	put_number(&o, "horizon_years", a->horizon_years);
	put_number(&o, "brews", a->brews);
	put_number(&o, "minutes_added", a->minutes_added);
	put_number(&o, "running_added", a->running_added);
	put_number(&o, "enough", a->enough);
	put_flag(&o, "hot_side", a->hot_side);
	put_flag(&o, "buy_nothing", a->buy_nothing);
	put_text(&o, "next", a->next >= 0 ? k->changes[a->items[a->next].change].id : NULL);
	put_text(&o, "until", a->until >= 0 ? k->changes[a->items[a->until].change].id : NULL);
	put_text(&o, "stands_for", a->stands_for >= 0 ? k->changes[a->items[a->stands_for].change].id : NULL);
	put_text(&o, "next_eases", a->next_eases != NULL ? k->chores[a->next_eases->chore].id : NULL);
	put_value(&o, "eases", report_eases_json(k, a));
	put_value(&o, "cheaper", cheaper(k, a));
	put_value(&o, "steps", steps(k, a));
	put_value(&o, "plan", plan);
	put_value(&o, "ranked", ranked);
	put_value(&o, "learned", report_tried_json(k, a));
	put_value(&o, "turned", report_turned_json(k, &a->turned));
	put_flag(&o, "unsettled", a->unsettled);
	put_value(&o, "frontier", frontier(k, a));
	put_text(&o, "reason", a->reason);
	return put_end(&o);
}
