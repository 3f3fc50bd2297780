/* sheet_text.c - the batch sheet on a terminal, and what typing it in says
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/sheeting.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/reports.h"
#include "report/saying.h"

enum { TICKS = 6, TICK_LETTERS = 90, IN_A_ROW = 3 };

/* ---- words that all forms share ---- */

const char *sheet_day(int day)
{
	static const char *const days[AB_DAYS] = { "Before the brew day", "Mash and boil", "Chill", "Yeast in",
		"Days 1 to 3", "Until it stands still", "Packaging", "Storage", "Tasting" };
	return days[day];
}

const char *sheet_date(struct page *p, const struct ab_sheet *sheet, double days)
{
	static const char *const week[] = { "Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed" };
	static const char *const month[] = { "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct",
		"Nov", "Dec" };
	const struct ab_when *on = sheet->setup->on;
	int y, m, d;
	if (!on->known)
		return "";
	double s = on->s + days * 86400;
	ab_when_to_civil(s, &y, &m, &d);
	/* 1970 began on a Thursday. */
	long since = (long)(s / 86400);
	return page_text(p, "%s %d %s", week[((since % 7) + 7) % 7], d, month[m - 1]);
}

const char *sheet_label(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_part *part)
{
	bool clock = strcmp(part->target, "pitch at") == 0;
	const char *date = clock                  ? sheet_date(p, sheet, 0)
	    : strncmp(part->says, "day ", 4) == 0 ? sheet_date(p, sheet, strtod(part->says + 4, NULL))
						  : "";
	return date[0] != '\0' ? page_text(p, "%s, %s", part->says, date) : part->says;
}

const char *sheet_aim_words(struct page *p, const struct ab_sheet_box *box)
{
	return box->aim == NULL ? "" : page_text(p, "aim: %s", say_words(p, box->aim));
}

const char *sheet_last_words(struct page *p, const struct ab_sheet_part *part)
{
	return part->last_says[0] == '\0' ? "" : page_text(p, "last time %s", say_words(p, part->last_says));
}

bool sheet_ticks(const struct ab_sheet_part *part)
{
	size_t letters = 0;
	for (size_t i = 0; i < part->n_choices; i++)
		letters += strlen(part->choices[i]) + 4;
	return part->n_choices > 0 && part->n_choices <= TICKS && letters <= TICK_LETTERS;
}

const char *sheet_sugar(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_box *box)
{
	const struct ab_sheet_setup *s = sheet->setup;
	for (size_t i = 0; s->priming != NULL && s->once_done != NULL && i < box->n_parts; i++)
		if (strcmp(box->parts[i].target, "package priming") == 0)
			return report_priming_ahead(p, s->priming, s->once_done);
	return "";
}

/* ---- the sheet as text ---- */

static void say_part(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_part *part)
{
	const char *label = sheet_label(p, sheet, part), *last = sheet_last_words(p, part);
	if (part->told)
		return;
	page_begin(p, 4);
	if (label[0] != '\0')
		page_say(p, PLAIN, page_text(p, "%s ", label));
	if (sheet_ticks(part))
		for (size_t i = 0; i < part->n_choices; i++)
			page_say(p, PLAIN, page_text(p, "%s[ ] %s", i > 0 ? "  " : "", part->choices[i]));
	else
		page_say(p, PLAIN, page_text(p, "________ %s", part->unit));
	if (last[0] != '\0')
		page_say(p, QUIET, page_text(p, "  (%s)", last));
	page_end(p);
}

static void say_box(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_box *box)
{
	const char *aim = sheet_aim_words(p, box);
	page_begin(p, 2);
	page_say(p, box->trial ? LOUD : PLAIN, say_words(p, box->title));
	if (aim[0] != '\0')
		page_say(p, QUIET, page_text(p, "  (%s)", aim));
	if (box->trial)
		page_say(p, LOUD, "  on trial");
	page_end(p);
	for (size_t i = 0; i < box->n_parts; i++)
		say_part(p, sheet, &box->parts[i]);
	const char *sugar = sheet_sugar(p, sheet, box);
	if (sugar[0] != '\0')
		page_para(p, 4, PLAIN, sugar);
	if (box->box->caution != NULL)
		page_para(p, 4, CAREFUL, page_text(p, "Take care: %s", box->box->caution));
}

static void say_head(struct page *p, const struct ab_sheet *sheet)
{
	const struct ab_sheet_setup *s = sheet->setup;
	page_title(p,
	    page_text(p, "%s%s%s%s%s", sheet->title, s->batch != NULL ? ", batch " : "",
		s->batch != NULL ? s->batch->id : "", s->on->known ? ", " : "", sheet_date(p, sheet, 0)));
	for (size_t i = 0; i < sheet->n_trials; i++)
		page_para(p, 0, LOUD, page_text(p, "On trial: %s", ab_changed_title(s->k, sheet->trials[i])));
	if (sheet->next_time != NULL)
		page_para(p, 0, PLAIN,
		    page_text(p, "Next time, you wrote after %s: %s", sheet->next_of->id, sheet->next_time));
}

static enum ab_status sheet_text(
    const struct ab_sheet *sheet, const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	int day = -1;
	page_start(&p, look, "Batch sheet");
	say_head(&p, sheet);
	for (size_t i = 0; i < sheet->n_boxes; i++) {
		if (sheet->boxes[i].box->day != day) {
			day = sheet->boxes[i].box->day;
			page_section(&p, sheet_day(day));
		}
		say_box(&p, sheet, &sheet->boxes[i]);
	}
	if (day != AB_DAY_TASTE)
		page_section(&p, sheet_day(AB_DAY_TASTE));
	page_para(&p, 2, PLAIN, "What is wrong, how strongly from 1 (barely there) to 5 (undrinkable); or nothing");
	page_para(&p, 4, PLAIN, "________________________________");
	page_para(&p, 2, PLAIN, "Next time");
	page_para(&p, 4, PLAIN, "________________________________");
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_sheet(
    const struct ab_sheet *sheet, enum ab_paper paper, const struct ab_look *look, char **out, struct ab_diag *diag)
{
	return look->format == AB_HTML ? report_sheet_html(sheet, paper, look, out, diag)
	    : sheet_text(sheet, look, out, diag);
}

/* ---- typing it in ---- */

static void say_choices(struct page *p, const struct ab_sheet_part *part)
{
	size_t columns = 0;
	for (size_t i = 0; i < part->n_choices; i++)
		columns += strlen(part->choices[i]) + 6;
	bool row = part->n_choices <= IN_A_ROW || (int)columns < p->look->width;
	if (row)
		page_begin(p, 2);
	for (size_t i = 0; i < part->n_choices; i++)
		if (row)
			page_say(p, PLAIN, page_text(p, "%s%zu %s", i > 0 ? ",  " : "", i + 1, part->choices[i]));
		else
			page_point(p, 2, page_text(p, "%2zu", i + 1), PLAIN, part->choices[i]);
	if (row)
		page_end(p);
}

/* Of several parts the aim is that of the first with a unit, and of those like it. */
static bool aims_at(const struct ab_sheet_box *box, const struct ab_sheet_part *part)
{
	for (size_t i = 0; i < box->n_parts; i++)
		if (box->parts[i].unit[0] != '\0')
			return strcmp(box->parts[i].unit, part->unit) == 0;
	return part == box->parts;
}

enum ab_status ab_report_sheet_part(const struct ab_sheet *sheet, const struct ab_sheet_box *box,
    const struct ab_sheet_part *part, bool new_day, const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	page_start(&p, look, "Batch sheet");
	const char *label = sheet_label(&p, sheet, part), *aim = aims_at(box, part) ? sheet_aim_words(&p, box) : "",
		   *last = sheet_last_words(&p, part);
	if (new_day)
		page_section(&p, sheet_day(box->box->day));
	page_begin(&p, 0);
	page_say(&p, LOUD, say_words(&p, box->title));
	if (label[0] != '\0')
		page_say(&p, LOUD, page_text(&p, ": %s", label));
	if (part->unit[0] != '\0')
		page_say(&p, PLAIN, page_text(&p, " (%s)", part->unit));
	if (aim[0] != '\0')
		page_say(&p, QUIET, page_text(&p, "  %s", aim));
	if (last[0] != '\0')
		page_say(&p, QUIET, page_text(&p, "%s%s", aim[0] != '\0' ? "; " : "  ", last));
	page_end(&p);
	say_choices(&p, part);
	return page_finish(&p, out, diag);
}
