/* entering.c - afterboil enter: a filled-in sheet typed into the journal, blank after blank
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/entering.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- asking ---- */

enum heard entering_hear(struct entering *e, char *line, enum ab_status *st)
{
	static const char *const stop[] = { "stop", "quit", "exit", "q", "bye", NULL };
	enum talk what = talk_ask(e->cli, line);
	*st = e->cli->diag.status;
	if (*st != AB_OK)
		return STOPPED;
	if (what == TALK_END || what == TALK_INTERRUPTED) {
		*st = out_text(e->cli, "\n");
		return what == TALK_END ? STOPPED : BROKEN_OFF;
	}
	if (what == TALK_ODD) {
		*st = talk_say(e->cli, "  That line was too long, or held what is no text; please type it again.");
		return AGAIN;
	}
	return talk_is_word(line, stop) ? STOPPED : HEARD;
}

static enum ab_status say_item(struct entering *e)
{
	const struct item *item = &e->items[e->at];
	bool new_day = e->at == 0 || e->items[e->at - 1].box->box->day != item->box->box->day;
	char *text = NULL;
	enum ab_status st = out_text(e->cli, "\n");
	if (st == AB_OK)
		st = ab_report_sheet_part(
		    e->run.sheet, item->box, item->part, new_day, &e->cli->look, &text, &e->cli->diag);
	st = out_report(e->cli, st, text);
	/* Once, before its first blank. */
	if (st == AB_OK && item->box->box->caution != NULL && item->part == item->box->parts) {
		char care[600];
		snprintf(care, sizeof care, "  Take care: %.560s", item->box->box->caution);
		st = talk_say(e->cli, care);
	}
	return st;
}

/* Answered in another way a moment ago. */
static bool is_needless(const struct entering *e)
{
	for (size_t i = 0; i < e->n_steps; i++)
		if (ab_sheet_instead(e->items[e->steps[i].at].part, e->items[e->at].part))
			return true;
	return false;
}

static enum ab_status ask_all(struct entering *e, enum heard *heard)
{
	static const char *const back[] = { "back", "undo", NULL };
	char line[TALK_LONGEST + 1];
	enum ab_status st = AB_OK;
	*heard = HEARD;
	for (bool again = false; st == AB_OK && e->at < e->n;) {
		if (!again && is_needless(e)) {
			e->at++;
			continue;
		}
		st = again ? AB_OK : say_item(e);
		if (st != AB_OK)
			return st;
		*heard = entering_hear(e, line, &st);
		if (*heard == STOPPED || *heard == BROKEN_OFF || st != AB_OK)
			return st;
		again = *heard == AGAIN;
		if (again)
			continue;
		if (talk_is_word(line, back)) {
			st = entering_back(e);
			continue;
		}
		st = entering_write(e, line, heard);
		again = *heard == AGAIN;
		e->at += !again;
	}
	return st;
}

/* ---- the whole ---- */

/* Days from brewing on that have passed; infinite of a beer that is still to be brewed, whose days are all ahead,
 * and of one that is packaged. */
static double days_passed(const struct entering *e)
{
	enum { DAY = 86400 };
	struct ab_when today = { 0 };
	char why[200];
	bool dated = ab_when_read(e->run.today, &today, why, sizeof why) && e->run.on.known && !e->run.on.relative;
	double days = dated ? floor(today.s / DAY) - floor(e->run.on.s / DAY) : -1;
	return days < 0 || e->run.setup.batch->package != NULL ? (double)INFINITY : days;
}

/* How many days after brewing a question can have an answer: its own day where it has one ("at=+10d"), else the
 * first that the stage can be reached on. */
static double day_of(const struct cli *cli, const struct ab_box *box, const struct ab_sheet_part *part)
{
	const char *at = strstr(part->target, "at=+");
	if (at != NULL)
		return strtod(at + 4, NULL);
	return box->day >= AB_DAY_PACKAGE ? cli->k->norms.numbers[AB_NUM_FIRST_PACKAGED_D]
	    : box->day >= AB_DAY_EARLY    ? 1
					  : 0;
}

static void add_item(struct entering *e, const struct ab_sheet_box *box, const struct ab_sheet_part *part)
{
	double d = day_of(e->cli, box->box, part);
	if (part->told)
		return;
	if (d <= days_passed(e)) {
		e->items[e->n++] = (struct item){ box, part };
		return;
	}
	e->later_d = e->later == 0 || d < e->later_d ? d : e->later_d;
	e->later++;
}

static enum ab_status list_items(struct entering *e)
{
	const struct ab_sheet *sheet = e->run.sheet;
	size_t n = 0;
	for (size_t i = 0; i < sheet->n_boxes; i++)
		n += sheet->boxes[i].n_parts;
	e->items = ab_arena_alloc(e->cli->arena, n, sizeof *e->items);
	e->steps = ab_arena_alloc(e->cli->arena, n + 1, sizeof *e->steps);
	if (e->items == NULL || e->steps == NULL)
		return cli_nomem(e->cli);
	for (size_t i = 0; i < sheet->n_boxes; i++)
		for (size_t j = 0; j < sheet->boxes[i].n_parts; j++)
			add_item(e, &sheet->boxes[i], &sheet->boxes[i].parts[j]);
	return AB_OK;
}

static enum ab_status say_where(struct entering *e)
{
	if (e->written == 0)
		return talk_say(e->cli, "Nothing was answered, so nothing was written.");
	const char *path = strncmp(e->path, "./", 2) == 0 ? e->path + 2 : e->path;
	return talk_say(e->cli, ab_arena_printf(e->cli->arena, "%zu %s written into %.900s", e->written,
	    e->written == 1 ? "answer" : "answers", path));
}

/* The batch as it stands now, with all that was answered; where that cannot be worked out "afterboil" alone tells
 * why. */
static enum ab_status say_next(struct entering *e)
{
	struct cli *cli = e->cli;
	struct ab_diag before = cli->diag;
	bool attention = cli->attention;
	char *text = NULL;
	enum ab_status st;
	if (e->later > 0) {
		char day[32];
		const struct ab_when then = { .known = true, .date_only = true, .s = e->run.on.s + e->later_d * 86400 };
		st = talk_say(cli,
		    ab_arena_printf(cli->arena, "What is still to come is not asked yet: %zu %s, from %s on.",
			e->later, e->later == 1 ? "question" : "questions", ab_when_write(&then, day, sizeof day)));
		if (st != AB_OK)
			return st;
	}
	if (isinf(days_passed(e)) && e->run.setup.batch->package == NULL)
		return AB_OK;
	cli->n_batches = 0;
	st = which_folder(cli, true);
	if (st == AB_OK)
		st = help_steps(cli, 1, &text);
	cli->attention = attention;
	if (st != AB_OK || text == NULL) {
		ab_report_free(text);
		if (st == AB_ENOMEM)
			return st;
		cli->diag = before;
		return talk_say(cli, "Next: \"afterboil\" alone tells what is to be done.");
	}
	st = out_text(cli, "Next:\n");
	return out_report(cli, st, text);
}

/* The shell must see that an interrupt ended it. */
static void end_interrupted(struct entering *e)
{
	say_where(e);
	fflush(stdout);
	talk_over();
	raise(SIGINT);
}

/* The page went by the next day that is free; whoever brewed on the day the journal names would write another one
 * into it. */
static enum ab_status say_day(struct entering *e)
{
	const struct ab_batch *b = e->run.setup.batch;
	double meant_s = floor(b->brewed.s / 86400) * 86400;
	char meant[32], laid[32];
	if (!b->brewed.known || isinf(days_passed(e)) || b->pitch != NULL ||
	    meant_s == floor(e->run.on.s / 86400) * 86400)
		return AB_OK;
	const struct ab_when of_journal = { .known = true, .date_only = true, .s = meant_s },
	    of_page = { .known = true, .date_only = true, .s = e->run.on.s };
	return talk_say(e->cli,
	    ab_arena_printf(e->cli->arena,
		"Its journal is dated %s, and its page goes by the free day after that, %s. Was it "
		"brewed on the first? Then answer the time of day with that date, like %sT15:00.",
		ab_when_write(&of_journal, meant, sizeof meant), ab_when_write(&of_page, laid, sizeof laid),
		meant));
}

static enum ab_status converse(struct entering *e)
{
	enum heard heard;
	enum ab_status st = talk_say(e->cli,
	    ab_arena_printf(e->cli->arena,
		"The sheet of %s. Enter leaves a blank, \"same\" is what it was the "
		"last time, \"back\" takes the last answer back, \"stop\" ends.",
		e->id));
	if (st == AB_OK)
		st = say_day(e);
	if (st == AB_OK)
		st = entering_recipe(e, &heard);
	if (st == AB_OK && heard == HEARD)
		st = ask_all(e, &heard);
	if (st == AB_OK && heard == HEARD)
		st = entering_note(e, &heard);
	if (st == AB_OK && heard == HEARD && days_passed(e) >= e->cli->k->norms.numbers[AB_NUM_FIRST_PACKAGED_D])
		st = entering_tasting(e, &heard);
	if (st != AB_OK)
		return st;
	if (heard == BROKEN_OFF) {
		end_interrupted(e);
		return AB_OK;
	}
	st = out_text(e->cli, "\n");
	if (st == AB_OK && e->written > 0)
		st = work_alarm(e->cli, e->path, e->id, false, true);
	if (st == AB_OK)
		st = say_where(e);
	return st == AB_OK ? say_next(e) : st;
}

enum ab_status cmd_enter(struct cli *cli)
{
	struct entering e = { .cli = cli, .run = { .cli = cli } };
	enum ab_status st = sheet_prepare(&e.run, false);
	if (st == AB_OK) {
		e.path = e.run.setup.batch->source;
		e.id = e.run.setup.batch->id;
		st = list_items(&e);
	}
	if (st == AB_OK) {
		talk_begin();
		st = converse(&e);
		talk_over();
	}
	for (size_t i = 0; i < e.n_steps; i++)
		entering_forget(&e.steps[i]);
	sheet_done(&e.run);
	return st;
}
