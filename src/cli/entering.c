/* entering.c - afterboil enter: a filled-in sheet typed into the journal
 *
 * The file is replaced after every answer, under a lock; what another program wrote meanwhile stays.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/sheetrun.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <afterboil/entry.h>
#include <afterboil/taste_entry.h>
#include "base/alloc.h"
#include "base/str.h"
#include "journal/edit.h"

/* One answer that was written, and the text from before it. */
struct step { size_t at; char *before, *after; size_t before_len, after_len; };

/* What is asked, one after another. */
struct item { const struct ab_sheet_box *box; const struct ab_sheet_part *part; };

struct entering {
	struct cli *cli;
	struct sheet_run run;
	const char *path, *id;
	struct item *items; size_t n, at;
	size_t later; double later_d;         /* questions of days to come, and the first of those days, from brewing on */
	struct step *steps; size_t n_steps;   /* room for n */
	/* of the answer being written */
	const char *said;
	struct ab_sheet_reply reply;
	bool reached;                         /* the text was read, and what fails now is the answer */
	size_t written;
};

enum heard { HEARD, AGAIN, STOPPED, BROKEN_OFF };

static char *copy(const char *text, size_t len)
{
	char *to = ab_malloc(len + 1);
	if (to != NULL) {
		memcpy(to, text, len);
		to[len] = '\0';
	}
	return to;
}

/* ---- writing ---- */

static enum ab_status make_answer(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch,
    char **text, size_t *len, struct ab_diag *diag)
{
	struct entering *e = ctx;
	struct step *step = &e->steps[e->n_steps];
	(void)batch;
	e->reached = true;
	enum ab_status st = ab_sheet_answer(e->run.sheet, e->items[e->at].part, e->said, e->run.today, place->text,
	    place->len, place->line, &e->reply, text, len, diag);
	if (st != AB_OK)
		return st;
	/* Nothing to write: the file as it is. */
	if (*text == NULL)
		*text = copy(place->text, *len = place->len);
	else
		*step = (struct step){ e->at, copy(place->text, place->len), copy(*text, *len), place->len, *len };
	bool short_of = *text == NULL || (step->before_len > 0 && (step->before == NULL || step->after == NULL));
	return short_of ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : AB_OK;
}

static void forget(struct step *step)
{
	ab_free(step->before);
	ab_free(step->after);
	*step = (struct step){ 0 };
}

/* An answer the journal would refuse is the brewer's to mend. */
static enum ab_status write_answer(struct entering *e, const char *said, enum heard *heard)
{
	struct ab_diag why;
	ab_diag_init(&why);
	e->said = said;
	e->reached = false;
	e->steps[e->n_steps] = (struct step){ 0 };
	enum ab_status st = ab_edit_file(e->path, e->id, make_answer, e, &why);
	bool refused = e->reached && (st == AB_EINPUT || st == AB_EIMPOSSIBLE);
	*heard = refused || !e->reply.taken ? AGAIN : HEARD;
	if (st != AB_OK)
		forget(&e->steps[e->n_steps]);
	if (st != AB_OK && !refused)
		return ab_fail(&e->cli->diag, st, why.source, why.line, "%s", why.text);
	if (refused) {
		char text[700];
		snprintf(text, sizeof text, "  That does not fit what is told already: %.600s", why.text);
		return talk_say(e->cli, text);
	}
	if (e->reply.taken && !e->reply.unknown) {
		e->n_steps++;
		e->written++;
	}
	if (e->reply.taken)
		return AB_OK;
	char text[700];
	snprintf(text, sizeof text, "  %.600s", e->reply.says);
	return talk_say(e->cli, text);
}

static enum ab_status make_back(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch,
    char **text, size_t *len, struct ab_diag *diag)
{
	struct entering *e = ctx;
	struct step *step = &e->steps[e->n_steps - 1];
	(void)batch;
	if (place->len != step->after_len || memcmp(place->text, step->after, place->len) != 0)
		return ab_fail(diag, AB_EUSAGE, e->path, 0, "another program changed this file meanwhile; \"afterboil log --undo\" "
		    "takes its last entry back");
	*text = copy(step->before, *len = step->before_len);
	return *text != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

static enum ab_status go_back(struct entering *e)
{
	if (e->n_steps == 0)
		return talk_say(e->cli, "  There is nothing to take back.");
	enum ab_status st = ab_edit_file(e->path, e->id, make_back, e, &e->cli->diag);
	if (st != AB_OK)
		return st;
	struct step *step = &e->steps[--e->n_steps];
	e->at = step->at;
	e->written--;
	forget(step);
	return AB_OK;
}

/* ---- asking ---- */

/* One line, with what every question knows. */
static enum heard hear(struct entering *e, char *line, enum ab_status *st)
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
		st = ab_report_sheet_part(e->run.sheet, item->box, item->part, new_day, &e->cli->look, &text, &e->cli->diag);
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
		*heard = hear(e, line, &st);
		if (*heard == STOPPED || *heard == BROKEN_OFF || st != AB_OK)
			return st;
		again = *heard == AGAIN;
		if (again)
			continue;
		if (talk_is_word(line, back)) {
			st = go_back(e);
			continue;
		}
		st = write_answer(e, line, heard);
		again = *heard == AGAIN;
		e->at += !again;
	}
	return st;
}

/* ---- before the sheet: what went into a beer that was never brewed before ---- */

static bool lacks_recipe(const struct entering *e)
{
	const struct ab_recipe *r = e->run.setup.batch->recipe;
	return e->run.setup.like == NULL && (r == NULL || r->malts.n + r->extracts.n + r->sugars.n == 0);
}

/* One line of it: written, or what would be right said. */
static enum ab_status take_recipe(struct entering *e, const char *line)
{
	const struct ab_entry_help help = aside_help(e->cli, NULL);
	const struct ab_when never = { 0 };
	struct ab_entry *entry = NULL;
	struct ab_diag why;
	ab_diag_init(&why);
	enum ab_status st = ab_entry_read(line, &never, &help, e->cli->arena, &entry, &why);
	for (const struct ab_entry *x = entry; st == AB_OK && x != NULL; x = x->next)
		if (x->inside == NULL && x->n_sets == 0)
			return talk_say(e->cli, "  That is no part of a recipe: malt, sugar, extract, hops, extra, recipe, volume or family begin a line of it.");
	for (; st == AB_OK && entry != NULL; entry = entry->next) {
		st = ab_entry_write(e->path, e->id, entry, &why);
		if (st == AB_OK) {
			e->written++;
			st = talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", entry->echo));
		}
	}
	if (st == AB_OK)
		return AB_OK;
	if (st != AB_EUSAGE && st != AB_EINPUT && st != AB_ELIMIT)
		return ab_fail(&e->cli->diag, st, why.source, why.line, "%s", why.text);
	return talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", why.text));
}

static enum ab_status ask_recipe(struct entering *e, enum heard *heard)
{
	char line[TALK_LONGEST + 1];
	enum ab_status st = AB_OK;
	*heard = HEARD;
	if (!lacks_recipe(e))
		return AB_OK;
	st = talk_say(e->cli, "What went into it? A line each, like \"malt 4.5 kg pale\", \"extract 1.7 kg liquid aged 8 mo\", \"hops 30 g at 60 min\", "
	    "\"recipe 20 L OG 1.048\"; Enter when that is all.");
	while (st == AB_OK) {
		*heard = hear(e, line, &st);
		if (st != AB_OK || *heard == STOPPED || *heard == BROKEN_OFF || (*heard == HEARD && line[0] == '\0'))
			return st;
		if (*heard == HEARD)
			st = take_recipe(e, line);
	}
	return st;
}

/* ---- the end of the sheet: notes and tasting ---- */

static enum ab_status ask_note(struct entering *e, enum heard *heard)
{
	char line[TALK_LONGEST + 1];
	enum ab_status st = out_text(e->cli, "\n");
	if (st == AB_OK)
		st = talk_say(e->cli, "Any notes? In your own words; Enter for none.");
	if (st != AB_OK)
		return st;
	*heard = hear(e, line, &st);
	if (st != AB_OK || *heard != HEARD || line[0] == '\0')
		return st;
	const char *safe = ab_entry_escaped(e->cli->arena, line);
	const char *note = safe != NULL ? ab_arena_printf(e->cli->arena, "<note>%s</note>", safe) : NULL;
	if (note == NULL)
		return cli_nomem(e->cli);
	e->written++;
	return ab_journal_append(e->path, e->id, note, &e->cli->diag);
}

/* After tomorrow, of a beer that is brewed: one that is to be brewed has all its days ahead. */
static bool is_to_come(const struct entering *e, const struct ab_when *at)
{
	struct ab_when today = { 0 };
	char why[200];
	return !at->relative && ab_when_read(e->run.today, &today, why, sizeof why) && e->run.on.s <= today.s &&
	    at->s > today.s + 2 * 86400.0;
}

/* The day of the tasting: today, or the one that is typed; not known when it was broken off. */
static enum ab_status ask_day(struct entering *e, struct ab_when *at, enum heard *heard)
{
	char line[TALK_LONGEST + 1], why[300];
	enum ab_status st = talk_say(e->cli, "Tasted on which day? As 2031-03-07; Enter for today.");
	while (st == AB_OK) {
		*at = (struct ab_when){ 0 };
		*heard = hear(e, line, &st);
		if (*heard == STOPPED || *heard == BROKEN_OFF || st != AB_OK)
			return st;
		const char *day = line[0] == '\0' ? e->run.today : line;
		bool good = *heard == HEARD && ab_when_read(day, at, why, sizeof why);
		if (good && is_to_come(e, at))
			st = talk_say(e->cli, "  That day is still to come. Please answer with the day it was tasted, such as 2031-03-07.");
		else if (good)
			return AB_OK;
		if (good)
			continue;
		if (*heard == HEARD)
			st = talk_say(e->cli, "  Please answer with a day, such as 2031-03-07.");
	}
	return st;
}

/* With its day, which the journal may refuse; without one where it was broken off: what was tasted is kept. */
static enum ab_status add_tasting(struct entering *e, const char *words, const struct ab_tasting_more *more,
    enum heard *heard)
{
	struct ab_when at = { 0 };
	struct ab_entry *entry;
	struct ab_diag why;
	for (;;) {
		enum ab_status st = *heard == HEARD ? ask_day(e, &at, heard) : AB_OK;
		if (st == AB_OK)
			st = ab_tasting_read(e->cli->k, words, more, &at, e->cli->arena, &entry, &e->cli->diag);
		if (st != AB_OK)
			return st;
		ab_diag_init(&why);
		st = ab_journal_append(e->path, e->id, entry->element, &why);
		if (st == AB_OK)
			e->written++;
		if (st != AB_EINPUT || !at.known)
			return st == AB_OK ? AB_OK : ab_fail(&e->cli->diag, st, why.source, why.line, "%s", why.text);
		st = talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", why.text));
		if (st != AB_OK)
			return st;
	}
}

static enum ab_status write_tasting(struct entering *e, const char *words, enum heard *heard)
{
	char next[TALK_LONGEST + 1] = "";
	struct ab_tasting_more more = { 0 };
	struct ab_when at = { 0 };
	struct ab_entry *entry;
	struct ab_diag why;
	ab_diag_init(&why);
	/* Understood before more is asked. */
	enum ab_status st = ab_tasting_read(e->cli->k, words, &more, &at, e->cli->arena, &entry, &why);
	if (st == AB_EUSAGE) {
		*heard = AGAIN;
		return talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", why.text));
	}
	if (st != AB_OK)
		return ab_fail(&e->cli->diag, st, NULL, 0, "%s", why.text);
	st = talk_say(e->cli, "What would you do differently the next time? Enter for nothing.");
	do
		*heard = st == AB_OK ? hear(e, next, &st) : STOPPED;
	while (st == AB_OK && *heard == AGAIN);
	more.next_time = *heard == HEARD && next[0] != '\0' ? next : NULL;
	return st == AB_OK ? add_tasting(e, words, &more, heard) : st;
}

static enum ab_status ask_tasting(struct entering *e, enum heard *heard)
{
	char line[TALK_LONGEST + 1];
	enum ab_status st = out_text(e->cli, "\n");
	if (st == AB_OK)
		st = talk_say(e->cli, "What does it taste of? Like \"buttery 3, no sour\"; \"nothing\" when nothing is wrong; Enter when it was not "
		    "tasted yet.");
	*heard = AGAIN;
	while (st == AB_OK && *heard == AGAIN) {
		*heard = hear(e, line, &st);
		if (st == AB_OK && *heard == HEARD && line[0] != '\0')
			st = write_tasting(e, line, heard);
	}
	return st;
}

/* ---- the whole ---- */

/* Days from brewing on that have passed; infinite of a beer that is still to be brewed, whose days are all ahead, and of one
 * that is packaged. */
static double days_passed(const struct entering *e)
{
	enum { DAY = 86400 };
	struct ab_when today = { 0 };
	char why[200];
	bool dated = ab_when_read(e->run.today, &today, why, sizeof why) && e->run.on.known && !e->run.on.relative;
	double days = dated ? floor(today.s / DAY) - floor(e->run.on.s / DAY) : -1;
	return days < 0 || e->run.setup.batch->package != NULL ? (double)INFINITY : days;
}

/* How many days after brewing a question can have an answer: its own day where it has one ("at=+10d"), else the first that the
 * stage can be reached on. A beer is packaged and tasted after three days at the earliest (working estimate). */
enum { READY_D = 3 };
static double day_of(const struct ab_box *box, const struct ab_sheet_part *part)
{
	static const struct { const char *day; double d; } days[] = { { "early", 1 }, { "ferment", 1 }, { "package", READY_D }, { "store", READY_D },
		{ "taste", READY_D } };
	const char *at = strstr(part->target, "at=+");
	if (at != NULL)
		return strtod(at + 4, NULL);
	for (size_t i = 0; i < sizeof days / sizeof *days; i++)
		if (strcmp(ab_words_day[box->day], days[i].day) == 0)
			return days[i].d;
	return 0;
}

static void add_item(struct entering *e, const struct ab_sheet_box *box, const struct ab_sheet_part *part)
{
	double d = day_of(box->box, part);
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

/* The batch as it stands now, with all that was answered; where that cannot be worked out "afterboil" alone tells why. */
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
		st = talk_say(cli, ab_arena_printf(cli->arena, "What is still to come is not asked yet: %zu %s, from %s on.", e->later,
		    e->later == 1 ? "question" : "questions", ab_when_write(&then, day, sizeof day)));
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

static enum ab_status converse(struct entering *e)
{
	enum heard heard;
	enum ab_status st = talk_say(e->cli, ab_arena_printf(e->cli->arena, "The sheet of %s. Enter leaves a blank, \"same\" is what it was the "
	    "last time, \"back\" takes the last answer back, \"stop\" ends.", e->id));
	if (st == AB_OK)
		st = ask_recipe(e, &heard);
	if (st == AB_OK && heard == HEARD)
		st = ask_all(e, &heard);
	if (st == AB_OK && heard == HEARD)
		st = ask_note(e, &heard);
	if (st == AB_OK && heard == HEARD && days_passed(e) >= READY_D)
		st = ask_tasting(e, &heard);
	if (st != AB_OK)
		return st;
	if (heard == BROKEN_OFF) {
		end_interrupted(e);
		return AB_OK;
	}
	st = out_text(e->cli, "\n");
	if (st == AB_OK && e->written > 0)
		st = work_alarm(e->cli, e->path, e->id, false);
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
		forget(&e.steps[i]);
	sheet_done(&e.run);
	return st;
}
