/* sheet_answer.c - what was written on the sheet, typed in, into the text of the journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/sheeting.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"
#include "casework/interviewing.h"

/* Another day than the page's: "2031-03-07T18:30", or with a blank between. */
static bool read_moment(const char *text, struct case_said *out)
{
	char iso[CASE_LINE], why[CASE_WHY];
	struct ab_when at;
	snprintf(iso, sizeof iso, "%s", text);
	char *gap = strchr(iso, ' ');
	if (gap != NULL)
		*gap = 'T';
	for (char *c = iso; *c != '\0'; c++)
		*c = *c == 't' ? 'T' : *c;
	if (!ab_when_read(iso, &at, why, sizeof why) || at.relative || at.date_only)
		return false;
	*out = (struct case_said){ .kind = CASE_SAID_VALUE };
	snprintf(out->value, sizeof out->value, "%.40s", iso);
	return true;
}

/* "9:30" or "18:30" of the day of brewing. */
static bool read_clock(const struct ab_sheet *sheet, const char *text, struct case_said *out)
{
	int hour, minute, n = 0;
	int y, m, d;
	if (sscanf(text, "%2d:%2d%n", &hour, &minute, &n) != 2 || text[n] != '\0' || hour < 0 || hour > 23 ||
	    minute < 0 || minute > 59 || !isdigit((unsigned char)text[0]))
		return false;
	ab_when_to_civil(sheet->setup->on->s, &y, &m, &d);
	*out = (struct case_said){ .kind = CASE_SAID_VALUE };
	snprintf(out->value, sizeof out->value, "%04d-%02d-%02dT%02d:%02d", y, m, d, hour, minute);
	return true;
}

static bool is_same(const char *text)
{
	static const char *const words[] = { "same", "the same", "same again", "as last time", "as before", "=", NULL };
	return case_is_one_of(text, words);
}

static void read_answer(const struct ab_sheet *sheet, const struct ab_sheet_part *part, const struct case_asked *asked,
    const char *said, struct case_said *out)
{
	char plain[CASE_LINE];
	bool time = asked->spec != NULL && asked->spec->kind == AB_ATTR_WHEN;
	case_plain(said, plain);
	if (time && (read_clock(sheet, plain, out) || read_moment(plain, out)))
		return;
	if (!is_same(plain)) {
		case_read_said(asked, said, out);
		return;
	}
	*out = (struct case_said){ .kind = CASE_SAID_VALUE };
	snprintf(out->value, sizeof out->value, "%s", part->last);
	if (part->last[0] == '\0') {
		out->kind = CASE_SAID_WRONG;
		snprintf(out->why, sizeof out->why,
		    "Nothing was written here the last time; please say it, or leave it blank.");
	}
}

/* A moment that is still to come, of a beer that is brewed already: a slip of the date. */
static void refuse_to_come(
    const struct ab_sheet *sheet, const struct case_asked *asked, const char *today, struct case_said *out)
{
	struct ab_when at = { 0 }, now = { 0 };
	char why[CASE_WHY];
	bool time = asked->spec != NULL && (asked->spec->kind == AB_ATTR_WHEN || asked->spec->kind == AB_ATTR_DATE);
	if (!time || out->kind != CASE_SAID_VALUE || !ab_when_read(out->value, &at, why, sizeof why) || at.relative ||
	    !ab_when_read(today, &now, why, sizeof why) || sheet->setup->on->s > now.s || at.s <= now.s + 2 * 86400.0)
		return;
	out->kind = CASE_SAID_WRONG;
	snprintf(out->why, sizeof out->why,
	    "%.40s is still to come (today is %.20s). Please answer with the day it was, or leave it blank.",
	    out->value, today);
}

static enum ab_status write(const struct ab_sheet_part *part, const struct case_said *said,
    const char *today, const struct ab_edit_place *place, char **out, size_t *out_len, struct ab_diag *diag)
{
	struct iv_writing w;
	iv_begin(&w, place, today, diag);
	if (said->edits != NULL)
		iv_edits(&w, said->edits);
	else
		iv_set(&w, part->target, said->value, said->guess);
	*out = iv_done(&w, out_len);
	return w.st;
}

enum ab_status ab_sheet_answer(const struct ab_sheet *sheet, const struct ab_sheet_part *part, const char *said,
    const char *today, const char *text, size_t len, long line, struct ab_sheet_reply *reply, char **out,
    size_t *out_len, struct ab_diag *diag)
{
	struct ab_edit_place place = { text, len, sheet->setup->batch->id, line };
	struct ab_arena *arena = ab_arena_new();
	struct case_asked asked;
	struct case_said answer;
	*reply = (struct ab_sheet_reply){ .taken = true };
	*out = NULL;
	if (arena == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	sheet_asked(sheet->setup, part, today, arena, &asked);
	if (part->n_choices > 0 && asked.n_choices == 0) {
		ab_arena_free(arena);
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	}
	read_answer(sheet, part, &asked, said, &answer);
	refuse_to_come(sheet, &asked, today, &answer);
	enum ab_status st = AB_OK;
	reply->unknown = answer.kind == CASE_SAID_UNKNOWN;
	reply->taken = answer.kind != CASE_SAID_WRONG;
	if (answer.kind == CASE_SAID_WRONG)
		snprintf(reply->says, sizeof reply->says, "%s", answer.why);
	else if (answer.kind == CASE_SAID_VALUE) {
		snprintf(reply->value, sizeof reply->value, "%s", answer.value);
		st = write(part, &answer, today, &place, out, out_len, diag);
	}
	ab_arena_free(arena);
	return st;
}
