/* sheet_parts.c - what is written into a box of the sheet, and where in the journal it goes
 *
 * What the interview asks in one question a sheet may spread over days; such boxes have their parts here, all
 * others those of the interview.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/sheeting.h"

#include <stdio.h>
#include <string.h>

#include "journal/edit.h"
#include "process/slots.h"

#define CHOICES(name, ...) static const struct case_choice name[] = { __VA_ARGS__, { NULL, NULL } }
CHOICES(sugars, { "table sugar", "sucrose" }, { "dextrose", "dextrose" }, { "honey", "honey" },
    { "dry malt extract", "dry-extract" },
    { "something else", "other" });

/* $first, $second: the days of the two gravities. Units and choices not named here are those of the interview's row
 * with the same target. */
struct part_row {
	int slot;
	const char *target, *says, *metric, *us;
	const struct case_choice *choices;
	const char *tries;
};
static const struct part_row rows[] = {
	{ AB_F_GRAVITY_OG, "reading{at=+0h} gravity", "", "SG", "SG", NULL, "1.012" },
	{ AB_F_PITCH_TEMP_OVER, "pitch at", "time of day", NULL, NULL, NULL, NULL },
	{ AB_F_PITCH_TEMP_OVER, "pitch temp", "the wort", NULL, NULL, NULL, NULL },
	{ AB_F_YEAST_PHENOLIC, "yeast class", "", NULL, NULL, NULL, NULL },
	{ AB_F_PITCH_RATE_SHARE, "yeast form", "form", NULL, NULL, NULL, NULL },
	{ AB_F_PITCH_RATE_SHARE, "yeast packs", "packs", NULL, NULL, NULL, NULL },
	{ AB_F_PITCH_RATE_SHARE, "yeast amount", "or by weight", "g", "oz", NULL, "11 g" },
	{ AB_F_FERMENT_EARLY_MEAN, "reading{at=+1d} wort", "day 1", "C", "F", NULL, "19 C" },
	{ AB_F_FERMENT_EARLY_MEAN, "reading{at=+2d} wort", "day 2", "C", "F", NULL, "19 C" },
	{ AB_F_FERMENT_EARLY_MEAN, "reading{at=+3d} wort", "day 3", "C", "F", NULL, "19 C" },
	{ AB_F_GRAVITY_STABLE_DAYS, "reading{at=+$firstd} gravity", "day $first", "SG", "SG", NULL, "1.012" },
	{ AB_F_GRAVITY_STABLE_DAYS, "reading{at=+$secondd} gravity", "day $second", "SG", "SG", NULL, "1.012" },
	{ AB_F_GRAVITY_LAST, "package gravity", "", "SG", "SG", NULL, "1.012" },
	{ AB_F_PACK_INTO, "package at", "date", NULL, NULL, NULL, NULL },
	{ AB_F_PACK_INTO, "package into", "into", NULL, NULL, NULL, NULL },
	{ AB_F_PACK_PRIMING, "package priming", "sugar in all", NULL, NULL, NULL, NULL },
	{ AB_F_PACK_PRIMING, "package sugar", "kind", NULL, NULL, sugars, NULL },
	{ AB_F_PACK_PRIMING, "package volume", "beer", NULL, NULL, NULL, NULL },
	{ AB_F_PACK_FOAM, "package cap-on-foam", "", NULL, NULL, NULL, NULL },
	{ AB_F_SANITISE_CONTACT, "gear{item=other} sanitiser", "what", NULL, NULL, NULL, NULL },
	{ AB_F_SANITISE_CONTACT, "gear{item=other} contact", "how long", NULL, NULL, NULL, NULL },
	{ AB_F_WATER_CHLORINE, "water source", "from", NULL, NULL, NULL, NULL },
	{ AB_F_WATER_CHLORINE, "water treatment", "treated with", NULL, NULL, NULL, NULL },
	{ AB_F_KEG_CO2, "carbonate pressure", "pressure", NULL, NULL, NULL, NULL },
	{ AB_F_KEG_CO2, "carbonate temp", "temperature", NULL, NULL, NULL, NULL },
};
enum { N_ROWS = sizeof rows / sizeof *rows };

static bool has_rows(int slot)
{
	for (size_t i = 0; i < N_ROWS; i++)
		if (rows[i].slot == slot)
			return true;
	return false;
}

static const struct case_row *asked_row(const char *target)
{
	for (size_t i = 0; i < case_n_rows; i++)
		if (strcmp(case_rows[i].target, target) == 0)
			return &case_rows[i];
	return NULL;
}

/* ---- one part ---- */

static const char *put_days(struct sheeting *s, const char *text)
{
	const char *first_at = strstr(text, "$first"), *at = first_at != NULL ? first_at : strstr(text, "$second");
	bool first = first_at != NULL;
	if (at == NULL)
		return text;
	const char *made = ab_arena_printf(s->arena, "%.*s%.0f%s", (int)(at - text), text,
	    first ? s->sheet->first_d : s->sheet->second_d, at + strlen(first ? "$first" : "$second"));
	s->no_memory = s->no_memory || made == NULL;
	return made != NULL ? made : "";
}

void sheet_asked(const struct ab_sheet_setup *setup, const struct ab_sheet_part *part, const char *today,
    struct ab_arena *arena, struct case_asked *asked)
{
	const struct case_row *row = part->row;
	*asked = (struct case_asked){
		.row = row, .spec = ab_edit_spec(part->target), .today = today, .us_units = setup->us_units
	};
	if (strcmp(row->target, "yeast class") == 0) {
		const struct ab_norms *norms = &setup->k->norms;
		struct case_choice *list = ab_arena_alloc(arena, norms->n_yeasts, sizeof *list);
		for (size_t i = 0; list != NULL && i < norms->n_yeasts; i++)
			list[i] = (struct case_choice){ norms->yeasts[i].title, norms->yeasts[i].id };
		asked->choices = list;
		asked->n_choices = list != NULL ? norms->n_yeasts : 0;
	}
	case_take_choices(asked);
}

static bool is_time(const struct ab_attr_spec *spec)
{
	return spec != NULL && (spec->kind == AB_ATTR_WHEN || spec->kind == AB_ATTR_DATE);
}

static void add_choices(struct sheeting *s, struct ab_sheet_part *part, const struct case_asked *asked)
{
	const char **list = ab_arena_alloc(s->arena, asked->n_choices, sizeof *list);
	s->no_memory = s->no_memory || list == NULL;
	for (size_t i = 0; list != NULL && i < asked->n_choices; i++) {
		list[i] = asked->choices[i].says;
		if (asked->choices[i].value != NULL && strcmp(asked->choices[i].value, part->last) == 0)
			part->last_says = list[i];
	}
	part->choices = list;
	part->n_choices = asked->n_choices;
}

static struct ab_edit_place place_of(const char *text, size_t len, const struct ab_batch *b)
{
	return (struct ab_edit_place){ text, len, b->id, b->mark.line };
}

/* ---- told in another way ---- */

/* One way of telling makes the others needless: packs or grams of yeast. */
static const char *const ways[] = { "yeast packs", "yeast amount", "yeast volume", "yeast cells" };
enum { N_WAYS = sizeof ways / sizeof *ways };

static bool is_way(const char *target)
{
	for (size_t i = 0; i < N_WAYS; i++)
		if (strcmp(ways[i], target) == 0)
			return true;
	return false;
}

bool ab_sheet_instead(const struct ab_sheet_part *answered, const struct ab_sheet_part *other)
{
	return answered != other && is_way(answered->target) && is_way(other->target);
}

/* Was it read about then? Half a day on either side (estimate): a reading of that day, whenever it was taken. */
static bool was_read(const struct ab_batch *b, const char *target)
{
	static const double HALF_DAY = 43200;
	double day;
	char what[16];
	int n = 0;
	if (sscanf(target, "reading{at=+%lfd} %15s%n", &day, what, &n) != 2 || target[n] != '\0')
		return false;
	for (AB_EACH(const struct ab_reading, r, b->readings)) {
		bool of_it = strcmp(what, "wort") == 0 ? r->wort_c.known
						       : strcmp(what, "gravity") == 0 && r->gravity_sg.known;
		double since = ab_batch_since_pitch(b, &r->at) - day * 86400;
		if (of_it && since >= -HALF_DAY && since <= HALF_DAY)
			return true;
	}
	return false;
}

static bool told_otherwise(const struct ab_batch *b, const struct ab_edit_place *place, const char *target)
{
	bool told = was_read(b, target);
	for (size_t i = 0; i < N_WAYS && is_way(target); i++)
		told = told || ab_edit_told(place, ways[i]);
	return told;
}

/* What stood there last time; of a moment in time nothing repeats. */
static void look_up(struct sheeting *s, struct ab_sheet_part *part, const struct ab_attr_spec *spec)
{
	const struct ab_sheet_setup *setup = s->setup;
	char value[CASE_VALUE];
	part->last = "";
	if (setup->like != NULL && setup->like_text != NULL && !is_time(spec)) {
		struct ab_edit_place place = place_of(setup->like_text, setup->like_len, setup->like);
		ab_edit_value(&place, part->target, value, sizeof value);
		part->last = value[0] != '\0' ? ab_arena_strdup(s->arena, value) : "";
		s->no_memory = s->no_memory || part->last == NULL;
	}
	part->last_says = part->last;
	if (setup->batch != NULL && setup->text != NULL) {
		struct ab_edit_place place = place_of(setup->text, setup->len, setup->batch);
		part->told = ab_edit_told(&place, part->target) || told_otherwise(setup->batch, &place, part->target);
	}
}

static bool is_taken(const struct sheeting *s, const char *target)
{
	for (size_t i = 0; i < s->sheet->n_boxes; i++)
		for (size_t j = 0; j < s->sheet->boxes[i].n_parts; j++)
			if (strcmp(s->sheet->boxes[i].parts[j].target, target) == 0)
				return true;
	return false;
}

static void add_part(struct sheeting *s, struct ab_sheet_box *box, const struct case_row *from, const char *says)
{
	struct ab_sheet_part part = { .says = says };
	struct case_row *row = ab_arena_alloc(s->arena, 1, sizeof *row);
	struct case_asked asked;
	if (row == NULL) {
		s->no_memory = true;
		return;
	}
	*row = *from;
	row->target = part.target = put_days(s, from->target);
	part.says = put_days(s, says);
	part.row = row;
	/* A word of a tasting that is not there yet, or a day that only the interview has. */
	if (is_taken(s, part.target) || strchr(part.target, '$') != NULL)
		return;
	sheet_asked(s->setup, &part, "", s->arena, &asked);
	const char *unit = s->setup->us_units ? row->us : row->metric;
	part.unit = is_time(asked.spec) || unit == NULL ? "" : unit;
	look_up(s, &part, asked.spec);
	if (part.last == NULL)
		return;
	add_choices(s, &part, &asked);
	box->parts[box->n_parts++] = part;
}

/* What the interview takes for the same, where it always makes a new element of it. */
static void take_bounds(struct case_row *row)
{
	for (size_t i = 0; i < case_n_rows; i++)
		if (case_rows[i].slot == row->slot && case_rows[i].target[0] == '+' &&
		    strcmp(case_rows[i].target + 1, row->target) == 0) {
			row->least = case_rows[i].least;
			row->most = case_rows[i].most;
			row->step = case_rows[i].step;
			return;
		}
}

static void own_part(struct sheeting *s, struct ab_sheet_box *box, const struct part_row *r)
{
	const struct case_row *like = asked_row(r->target);
	struct case_row row = like != NULL ? *like : (struct case_row){ .slot = r->slot, .target = r->target };
	row.slot = r->slot;
	row.also = NULL;
	if (like == NULL)
		take_bounds(&row);
	if (r->metric != NULL) {
		row.metric = r->metric;
		row.us = r->us;
		row.tries = r->tries;
	}
	if (r->choices != NULL)
		row.choices = r->choices;
	/* Typed in afterwards: a date, or how long ago, not how long after pitching. */
	row.after_pitch = false;
	add_part(s, box, &row, r->says);
}

void sheet_parts(struct sheeting *s, struct ab_sheet_box *box)
{
	int slot = box->box->slot;
	box->parts = ab_arena_alloc(s->arena, case_n_rows + N_ROWS, sizeof *box->parts);
	if (box->parts == NULL) {
		s->no_memory = true;
		return;
	}
	for (size_t i = 0; i < N_ROWS; i++)
		if (rows[i].slot == slot)
			own_part(s, box, &rows[i]);
	for (size_t i = 0; !has_rows(slot) && i < case_n_rows; i++)
		if (case_rows[i].slot == slot)
			add_part(s, box, &case_rows[i], case_rows[i].asks != NULL ? case_rows[i].asks : "");
}
