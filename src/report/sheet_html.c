/* sheet_html.c - the batch sheet as a page to print: black on white, boxes to write into, room for scribbles
 *
 * Everything from a journal goes through page_escaped.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/sheeting.h"

#include <stdio.h>
#include <string.h>

#include "report/saying.h"
#include "report/svg.h"

/* Points and millimetres: it is for paper. A box is never torn over two pages; a heading stays with its first box. */
static const char STYLE[] =
    "*{box-sizing:border-box}body{background:#fff;color:#000;font:10.5pt/1.35 sans-serif;max-width:none;"
    "margin:0;padding:0}"
    "@media screen{body{max-width:200mm;margin:8mm auto;padding:0 6mm}}"
    "h1{font-size:15pt;margin:0 0 1mm}header{border-bottom:1.2pt solid #000;padding-bottom:2mm}header p{margin:.6mm 0}"
    "section{display:grid;grid-template-columns:1fr 46mm;column-gap:4mm;border-bottom:.5pt solid #000;padding:1.6mm 0}"
    "h2{font-size:10.5pt;grid-column:1/3;margin:0 0 .6mm;break-after:avoid}section{break-inside:avoid}"
    ".box{margin:0 0 1.2mm;break-inside:avoid;display:flex;flex-wrap:wrap;align-items:center;column-gap:3mm}"
    ".what{margin:0}.aim{font-style:italic}.last{font-size:8.5pt;white-space:nowrap}"
    ".trial{border-left:2.5pt solid #000;padding-left:1.6mm}.trial .what{font-weight:bold}"
    ".fill{margin:0;line-height:8.4mm}.part{white-space:nowrap;margin-right:4mm;display:inline-block}"
    ".blank{display:inline-block;width:19mm;height:7mm;border:.7pt solid #000;vertical-align:middle;margin:0 1mm}"
    ".wide .blank{width:52mm}.tick{display:inline-block;width:3.6mm;height:3.6mm;border:.7pt solid #000;"
    "vertical-align:-.4mm;margin:0 1mm 0 2.4mm}"
    ".care{font-size:8.5pt;margin:.4mm 0 0;width:100%}.notes{border:.5pt dotted #000;min-height:14mm;"
    "font-size:8pt;padding:.5mm 1mm}"
    ".box .line{width:100%}"
    "@media screen and (max-width:600px){section{grid-template-columns:1fr}h2{grid-column:1}.part,"
    ".last{white-space:normal}.blank{max-width:100%}}"
    ".line{border-bottom:.5pt solid #000;height:8mm;margin:0 0 1mm}footer{font-size:8.5pt;margin-top:2mm}";

static void put(struct page *p, const char *markup)
{
	ab_str_add(&p->out, markup);
}

static void put_in(struct page *p, const char *open, const char *text, const char *close)
{
	put(p, open);
	page_escaped(p, text);
	put(p, close);
}

static void put_part(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_part *part)
{
	const char *label = sheet_label(p, sheet, part), *last = sheet_last_words(p, part);
	bool ticks = sheet_ticks(part);
	if (part->told)
		return;
	/* Many words may wrap; a blank and its unit belong together. */
	put(p, ticks ? "<span>" : part->n_choices > 0 ? "<span class=\"part wide\">" : "<span class=\"part\">");
	page_escaped(p, label);
	for (size_t i = 0; ticks && i < part->n_choices; i++)
		put_in(p, "<span class=\"part\" style=\"margin:0\"><span class=\"tick\"></span>", part->choices[i],
		    "</span> ");
	if (!ticks)
		put_in(p, "<span class=\"blank\"></span>", part->unit, "");
	if (last[0] != '\0')
		put_in(p, " <span class=\"last\">(", last, ")</span>");
	put(p, "</span>\n");
}

static void put_box(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_box *box)
{
	const char *aim = sheet_aim_words(p, box);
	put(p, box->trial ? "<div class=\"box trial\">" : "<div class=\"box\">");
	put_in(p, "<p class=\"what\">", say_words(p, box->title), "");
	if (aim[0] != '\0')
		put_in(p, " <span class=\"aim\">(", aim, ")</span>");
	put(p, "</p>\n<p class=\"fill\">");
	for (size_t i = 0; i < box->n_parts; i++)
		put_part(p, sheet, &box->parts[i]);
	put(p, "</p>");
	const char *sugar = sheet_sugar(p, sheet, box);
	if (sugar[0] != '\0')
		put_in(p, "<p class=\"care\">", sugar, "</p>");
	if (box->box->caution != NULL)
		put_in(p, "<p class=\"care\"><b>Take care:</b> ", box->box->caution, "</p>");
	put(p, "</div>\n");
}

static void put_head(struct page *p, const struct ab_sheet *sheet)
{
	const struct ab_sheet_setup *s = sheet->setup;
	put_in(p, "<header><h1>", sheet->title, "</h1>\n<p>");
	if (s->batch != NULL)
		put_in(p, "Batch ", s->batch->id, " &nbsp; ");
	put_in(p, "Brewed ", s->on->known ? sheet_date(p, sheet, 0) : "______________", "</p>\n");
	for (size_t i = 0; i < sheet->n_trials; i++)
		put_in(p, "<p><b>On trial: ", ab_changed_title(s->k, sheet->trials[i]), "</b></p>\n");
	if (sheet->next_time != NULL) {
		put_in(p, "<p>Next time, you wrote after ", sheet->next_of->id, ": ");
		put_in(p, "<i>", sheet->next_time, "</i></p>\n");
	}
	put(p, "</header>\n<main>\n");
}

/* The notes' column is as high as the boxes beside it. */
static void put_day(struct page *p, const struct ab_sheet *sheet, int day)
{
	bool any = day == AB_DAY_TASTE;
	for (size_t i = 0; i < sheet->n_boxes; i++)
		any = any || sheet->boxes[i].box->day == day;
	if (!any)
		return;
	put_in(p, "<section><h2>", sheet_day(day), "</h2>\n<div>\n");
	for (size_t i = 0; i < sheet->n_boxes; i++)
		if (sheet->boxes[i].box->day == day)
			put_box(p, sheet, &sheet->boxes[i]);
	if (day == AB_DAY_TASTE)
		put(p,
		    "<div class=\"box\"><p class=\"what\">Date, and what is wrong, from 1 (barely there) to 5 "
		    "(undrinkable); or nothing</p>"
		    "<div class=\"line\"></div><div class=\"line\"></div></div>\n"
		    "<div class=\"box\"><p class=\"what\">Next time</p><div class=\"line\"></div></div>\n");
	put(p, "</div><div class=\"notes\">notes</div></section>\n");
}

enum ab_status report_sheet_html(const struct ab_sheet *sheet, enum ab_paper paper, const struct ab_look *look,
    char **out, struct ab_diag *diag)
{
	struct ab_look html = *look;
	struct page p;
	html.format = AB_HTML;
	page_start(&p, &html, "Batch sheet");
	/* What the reader's rules say of reports is put aside: this page is for paper. */
	ab_str_clear(&p.out);
	put(&p, "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
	    "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n<title>");
	put_in(&p, "", sheet->title, ": batch sheet</title>\n<style>@page{size:");
	put(&p, paper == AB_LETTER ? "letter" : "A4");
	put(&p, " portrait;margin:10mm 14mm}");
	put(&p, STYLE);
	put(&p, "</style></head><body>\n");
	put_head(&p, sheet);
	for (int day = 0; day < AB_DAYS; day++)
		put_day(&p, sheet, day);
	put(&p, "</main>\n");
	if (sheet->setup->batch != NULL)
		put_in(&p, "<footer>Typed in afterwards with: afterboil enter ", sheet->setup->batch->id,
		    "</footer>\n");
	return page_finish(&p, out, diag);
}
