/* trend_csv.c - the history as a table for a spreadsheet: RFC 4180, one row a batch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/report.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <afterboil/when.h>
#include "base/str.h"

/* Quoted always, quotes doubled. A text that a spreadsheet would take for a formula gets an apostrophe before
 * it: a journal may come from a stranger. */
static void put_text(struct ab_str *s, const char *text)
{
	ab_str_add(s, "\"");
	if (text != NULL && *text != '\0' && strchr("=+-@\t\r", *text) != NULL)
		ab_str_add(s, "'");
	for (; text != NULL && *text != '\0'; text++)
		ab_str_addn(s, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
	ab_str_add(s, "\"");
}

/* Unknown is an empty cell. */
static void put_number(struct ab_str *s, double x)
{
	ab_str_add(s, ",");
	if (isfinite(x))
		ab_str_addf(s, "%.10g", x);
}

static double habit(const struct ab_trend_batch *b, int slot)
{
	for (size_t i = 0; i < b->n_facts; i++)
		if (b->slots[i] == slot)
			return b->values[i];
	return (double)NAN;
}

static void put_changes(struct ab_str *s, const struct ab_trend_batch *b)
{
	struct ab_str all;

	ab_str_init(&all, 0);
	for (size_t i = 0; i < b->n_changes; i++)
		ab_str_addf(&all, "%s%s", i > 0 ? "; " : "", b->changes[i]);
	ab_str_add(s, ",");
	put_text(s, ab_str_text(&all));
	ab_str_clear(&all);
}

static void put_batch(struct ab_str *s, const struct ab_trend_batch *b, const struct ab_trend *trend,
    const int *habits)
{
	char date[24];
	const struct ab_when when = { .known = true, .date_only = true, .s = b->brewed_s };

	put_text(s, b->id);
	ab_str_add(s, ",");
	put_text(s, b->line);
	ab_str_addf(s, ",%s", ab_when_write(&when, date, sizeof date));
	put_number(s, b->load);
	put_number(s, b->load_low);
	put_number(s, b->load_high);
	for (int i = 0; i < AB_TREND_HABITS; i++)
		put_number(s, habit(b, habits[i]));
	for (size_t i = 0; i < trend->n_main_faults; i++)
		put_number(s, b->tasted ? b->fault_load[trend->main_faults[i]] : (double)NAN);
	put_changes(s, b);
	ab_str_add(s, ",");
	put_text(s, b->rules);
	ab_str_add(s, ",");
	put_text(s, b->profile);
	ab_str_add(s, ",");
	put_text(s, b->program);
	ab_str_add(s, "\r\n");
}

enum ab_status ab_report_trend_csv(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend, char **out, struct ab_diag *diag)
{
	struct ab_str s;
	int habits[AB_TREND_HABITS];

	ab_str_init(&s, 0);
	ab_trend_habit_slots(k->facts, habits);
	ab_str_add(&s, "batch,line,brewed,load,load low,load high");
	for (int i = 0; i < AB_TREND_HABITS; i++)
		ab_str_addf(&s, ",%s", ab_trend_habits[i]);
	for (size_t i = 0; i < trend->n_main_faults; i++)
		ab_str_addf(&s, ",%s", k->faults[trend->main_faults[i]].id);
	ab_str_add(&s, ",changes,rules,profile,program\r\n");
	for (size_t i = 0; i < n; i++)
		put_batch(&s, &batches[i], trend, habits);
	*out = NULL;
	if (!ab_str_ok(&s)) {
		ab_str_clear(&s);
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	}
	*out = s.text;
	return AB_OK;
}
