/* diagnosis_json.c - a diagnosis as data; the shape is a contract, rules/diagnose.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

/* blame_without: what would be left of the blame if this one thing were not known. */
static json_t *reasons(const struct ab_knowledge *k, const struct ab_reason *list, size_t n)
{
	json_t *array = json_array();
	for (size_t i = 0; i < n; i++) {
		struct put o = put_begin();
		put_text(&o, "kind", list[i].is_check ? "check" : list[i].is_fault ? "fault" : "fact");
		put_text(&o, "id", list[i].is_check ? k->checks[list[i].check].id
		    : list[i].is_fault ? k->faults[list[i].fault].id : k->facts->defs[list[i].slot].name);
		put_text(&o, "text", list[i].text);
		put_number(&o, "blame_without", list[i].blame_without);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* All suspects, not the handful of the text: a program may cut them where it likes. */
static json_t *causes(const struct ab_knowledge *k, const struct ab_diagnosis *d)
{
	json_t *array = json_array();
	for (size_t i = 0; i < d->n_suspects; i++) {
		const struct ab_suspect *s = &d->suspects[i];
		const struct ab_cause *cause = &k->causes[s->cause];
		struct put o = put_begin();
		put_text(&o, "id", cause->id);
		put_text(&o, "title", cause->title);
		put_text(&o, "side", ab_words_side[cause->side]);
		put_text(&o, "stage", ab_words_stage[cause->stage]);
		put_text(&o, "kind", cause->benign ? "benign" : "process");
		put_number(&o, "blame", s->blame);
		put_number(&o, "blame_low", s->blame_low);
		put_number(&o, "blame_high", s->blame_high);
		put_number(&o, "present", s->present);
		put_value(&o, "for", reasons(k, s->pro, s->n_pro));
		put_value(&o, "against", reasons(k, s->con, s->n_con));
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* The causes of a kin stand in full among the causes; here only what they are together. leads: the answer is
 * the kin, whichever way it came about. */
static json_t *kins(const struct ab_knowledge *k, const struct ab_diagnosis *d)
{
	json_t *array = json_array();
	for (size_t i = 0; i < d->n_kins; i++) {
		const struct ab_kin_blame *kin = &d->kins[i];
		struct put o = put_begin();
		put_text(&o, "id", k->kins[kin->kin].id);
		put_text(&o, "title", k->kins[kin->kin].title);
		put_number(&o, "blame", kin->blame);
		put_number(&o, "blame_low", kin->low);
		put_number(&o, "blame_high", kin->high);
		put_flag(&o, "leads", kin == d->lead);
		json_t *ids = json_array();
		for (size_t j = 0; j < d->n_suspects; j++)
			if (k->causes[d->suspects[j].cause].kin == kin->kin)
				ids = json_add(ids, json_text(k->causes[d->suspects[j].cause].id));
		put_value(&o, "causes", ids);
		put_value(&o, "for", reasons(k, kin->pro, kin->n_pro));
		put_value(&o, "against", reasons(k, kin->con, kin->n_con));
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* Only what was found: absent and unspoken faults are no part of a diagnosis, and the journal has them. */
static json_t *found(const struct ab_knowledge *k, const struct ab_case *c)
{
	json_t *array = json_array();
	for (size_t f = 0; f < k->n_faults; f++) {
		if (c->evidence.finding[f].seen != AB_SEEN_FOUND)
			continue;
		struct put o = put_begin();
		put_text(&o, "id", k->faults[f].id);
		put_text(&o, "grade", ab_grade_name(c->evidence.finding[f].grade));
		put_number(&o, "intensity", c->fault_intensity[f]);
		put_number(&o, "load", c->fault_load[f]);
		put_flag(&o, "gone", ab_case_gone(c, f));
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* Questions carry their own wording where the facts have one; a title is the last resort. */
static json_t *asks(const struct ab_knowledge *k, const struct ab_case *c)
{
	const struct ab_diagnosis *d = c->diagnosis;
	json_t *array = json_array();
	for (size_t i = 0; i < d->n_asks; i++) {
		const struct ab_ask *ask = &d->asks[i];
		const struct ab_fact_def *def = ask->is_check ? NULL : &k->facts->defs[ask->slot];
		struct put o = put_begin();
		put_text(&o, "id", ask->is_check ? k->checks[ask->check].id : def->name);
		put_text(&o, "kind", ask->is_check ? "check" : "question");
		put_text(&o, "title",
		    ask->is_check           ? k->checks[ask->check].title
			: ab_case_asks(k, c, ask->slot) != NULL ? ab_case_asks(k, c, ask->slot)
								: def->title);
		put_number(&o, "bits", ask->bits);
		put_number(&o, "minutes", ask->minutes);
		put_number(&o, "cost", ask->cost);
		put_number(&o, "wait_days", ask->wait_days);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* Alarms among them carry no mark of their own: their ids are the contract (casework.h). */
static json_t *warnings(const struct ab_diagnosis *d)
{
	json_t *array = json_array();
	for (size_t i = 0; i < d->n_warnings; i++) {
		struct put o = put_begin();
		put_text(&o, "id", d->warnings[i].id);
		put_text(&o, "text", d->warnings[i].text);
		array = json_add(array, put_end(&o));
	}
	return array;
}

/* Ids only, where the same cause stands in full elsewhere or its title can be looked up in the rules. */
static json_t *cause_ids(const struct ab_knowledge *k, const int *list, size_t n)
{
	json_t *array = json_array();
	for (size_t i = 0; i < n; i++)
		array = json_add(array, json_text(k->causes[list[i]].id));
	return array;
}

static json_t *fault_ids(const struct ab_knowledge *k, const int *list, size_t n)
{
	json_t *array = json_array();
	for (size_t i = 0; i < n; i++)
		array = json_add(array, json_text(k->faults[list[i]].id));
	return array;
}

/* Names, as journals and rules use them; slots are places in a table that may move. */
static json_t *fact_names(const struct ab_knowledge *k, const int *list, size_t n)
{
	json_t *array = json_array();
	for (size_t i = 0; i < n; i++)
		array = json_add(array, json_text(k->facts->defs[list[i]].name));
	return array;
}

/* Everything is there for untasted batches too, so a reader needs no case for them. */
json_t *report_diagnosis_json(const struct ab_knowledge *k, const struct ab_case *c)
{
	const struct ab_diagnosis *d = c->diagnosis;
	struct put o = put_begin();
	put_text(&o, "batch", c->batch->id);
	put_text(&o, "line", c->batch->line);
	put_text(&o, "family", d->family < 0 ? NULL : k->families[d->family].id);
	put_flag(&o, "tasted", c->tasted);
	put_flag(&o, "benign", d->verdict_benign);
	put_number(&o, "load", c->load);
	put_number(&o, "load_low", c->load_low);
	put_number(&o, "load_high", c->load_high);
	put_value(&o, "found", found(k, c));
	put_value(&o, "causes", causes(k, d));
	put_value(&o, "kins", kins(k, d));
	put_value(&o, "story", cause_ids(k, d->story, d->n_story));
	put_number(&o, "story_share", d->story_share);
	put_value(&o, "risks", cause_ids(k, d->risks, d->n_risks));
	put_value(&o, "warnings", warnings(d));
	put_value(&o, "unknown", fact_names(k, d->unknown, d->n_unknown));
	put_value(&o, "unexplained", fault_ids(k, d->unexplained, d->n_unexplained));
	put_value(&o, "expected", fault_ids(k, d->expected, d->n_expected));
	put_value(&o, "next", asks(k, c));
	return put_end(&o);
}
