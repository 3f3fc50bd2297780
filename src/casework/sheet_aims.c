/* sheet_aims.c - what to aim at: the rules' words, with the numbers of the yeast, the family and the recipe
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/sheeting.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "process/slots.h"

static const char *class_of(const struct ab_batch *b)
{
	const char *found = NULL;
	if (b == NULL)
		return NULL;
	for (AB_EACH(const struct ab_yeast, y, b->yeasts))
		found = y->klass != NULL ? y->klass : found;
	return found;
}

static const struct ab_box *stable_box(const struct ab_knowledge *k)
{
	for (size_t i = 0; i < k->n_boxes; i++)
		if (k->boxes[i].slot == AB_F_GRAVITY_STABLE_DAYS)
			return &k->boxes[i];
	return NULL;
}

/* As the calendar has laid them; else when the yeast is usually through, else the day the rules name. */
void sheet_yeast(struct sheeting *s)
{
	const struct ab_knowledge *k = s->setup->k;
	const struct ab_box *box = stable_box(k);
	const char *klass = class_of(s->setup->batch);
	if (klass == NULL)
		klass = class_of(s->setup->like);
	int place = klass != NULL ? ab_yeast_find(k, klass) : -1;
	s->yeast = place >= 0 ? &k->norms.yeasts[place] : NULL;
	s->sheet->first_d = s->setup->first_d > 0 ? s->setup->first_d : s->yeast != NULL ? round(s->yeast->primary_days)
	    : box != NULL ? box->first_d : 0;
	s->sheet->second_d = s->setup->second_d > s->sheet->first_d ? s->setup->second_d
	    : s->sheet->first_d + (box != NULL ? box->apart_d : 0);
}

/* ---- names in braces ---- */

static struct ab_num planned(const struct sheeting *s, size_t at)
{
	const struct ab_batch *const both[] = { s->setup->batch, s->setup->like };
	struct ab_num num = { 0 };
	for (size_t i = 0; i < 2 && !num.known; i++)
		if (both[i] != NULL && both[i]->recipe != NULL)
			memcpy(&num, (const char *)both[i]->recipe + at, sizeof num);
	return num;
}
#define PLANNED(s, member) planned(s, offsetof(struct ab_recipe, member))

/* Apparent attenuation of what there is to ferment. */
static double final_gravity(const struct sheeting *s, double attenuation)
{
	struct ab_num og = PLANNED(s, og_sg);
	return og.known ? 1 + (og.v - 1) * (1 - attenuation) : (double)NAN;
}

static double of_yeast(const struct sheeting *s, const char *name)
{
	const struct ab_yeast_norm *y = s->yeast;
	if (strcmp(name, "yeast.days") == 0)
		return s->sheet->first_d;
	if (y == NULL)
		return (double)NAN;
	const struct { const char *name; double value; } list[] = { { "yeast.low", y->low_c }, { "yeast.high",
	    y->high_c },
		{ "yeast.rest", y->rest_c }, { "yeast.lag", y->lag_h }, { "fg.low", final_gravity(s, y->att_high) },
		{ "fg.high", final_gravity(s, y->att_low) } };
	for (size_t i = 0; i < sizeof list / sizeof *list; i++)
		if (strcmp(list[i].name, name) == 0)
			return list[i].value;
	return (double)NAN;
}

static double of_recipe(const struct sheeting *s, const char *name)
{
	const struct ab_fact *family = &s->facts[AB_F_RECIPE_FAMILY];
	const struct ab_family *f = AB_FACT_KNOWN(family) && family->value < (double)s->setup->k->n_families
	    ? &s->setup->k->families[(size_t)family->value] : NULL;
	const struct { const char *name; struct ab_num num; } list[] = { { "og", PLANNED(s, og_sg) },
	    { "fg", PLANNED(s, fg_sg) },
		{ "co2", PLANNED(s, co2_vol) }, { "volume", PLANNED(s, volume_l) },
		{ "co2.low", { .known = f != NULL && f->co2_high > 0, .v = f != NULL ? f->co2_low : 0 } },
		{ "co2.high", { .known = f != NULL && f->co2_high > 0, .v = f != NULL ? f->co2_high : 0 } } };
	for (size_t i = 0; i < sizeof list / sizeof *list; i++)
		if (strcmp(list[i].name, name) == 0)
			return list[i].num.known ? list[i].num.v : (double)NAN;
	return (double)NAN;
}

/* Gravities with three digits, all else as it is. */
static bool put_name(struct sheeting *s, struct ab_str *out, const char *name)
{
	char number[32];
	double x = of_recipe(s, name);
	x = isfinite(x) ? x : of_yeast(s, name);
	if (!isfinite(x))
		return false;
	if (strcmp(name, "og") == 0 || strncmp(name, "fg", 2) == 0)
		ab_str_addf(out, "%.3f", x);
	else
		ab_str_add(out, ab_num_text(round(x * 10) / 10, number, sizeof number));
	return true;
}

static bool fill(struct sheeting *s, const char *says, struct ab_str *out)
{
	char name[32];
	while (*says != '\0') {
		size_t n = strcspn(says, "{");
		ab_str_addn(out, says, n);
		says += n;
		if (*says == '\0')
			break;
		size_t len = strcspn(++says, "}");
		snprintf(name, sizeof name, "%.*s", (int)len, says);
		if (!put_name(s, out, name))
			return false;
		says += len + (says[len] == '}');
	}
	return true;
}

const char *sheet_aim(struct sheeting *s, const struct ab_box *box)
{
	for (size_t i = box->n_aims; i-- > 0;) {
		struct ab_str made;
		ab_str_init(&made, 0);
		bool holds = ab_conds_hold(&box->aims[i].when, s->facts) && fill(s, box->aims[i].says, &made);
		const char *aim = holds && ab_str_ok(&made) ? ab_arena_strdup(s->arena, ab_str_text(&made)) : NULL;
		s->no_memory = s->no_memory || !ab_str_ok(&made) || (holds && aim == NULL);
		ab_str_clear(&made);
		if (holds)
			return aim;
	}
	return NULL;
}
