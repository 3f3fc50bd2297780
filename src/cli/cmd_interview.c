/* cmd_interview.c - afterboil interview: questions out, answers in, the journal saved after each
 *
 * What to ask and what an answer means is the library's (interview.h); here is only talk and files. The file
 * is replaced whole after every answer, so a kill at any moment leaves all answers given.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/sitting.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"
#include "base/str.h"
#include "casework/casework.h"

/* ---- saying ---- */

static enum ab_status say(struct sitting *s, enum ab_status st, char *text)
{
	return out_report(s->cli, st, text);
}

static enum ab_status say_question(struct sitting *s)
{
	char *text = NULL;
	enum ab_status st = ab_report_question(s->iv, s->questions, &s->cli->look, &text, &s->cli->diag);
	if (st == AB_OK)
		st = out_text(s->cli, "\n");
	return say(s, st, text);
}

static enum ab_status say_why(struct sitting *s)
{
	struct ab_why why[2];
	size_t n;
	char *text = NULL;
	enum ab_status st = ab_interview_why(s->iv, why, 2, &n, &s->cli->diag);
	if (st == AB_OK)
		st = ab_report_why(s->cli->k, s->iv, why, n, &s->cli->look, &text, &s->cli->diag);
	return say(s, st, text);
}

static enum ab_status say_words(struct sitting *s)
{
	char *text = NULL;
	enum ab_status st = ab_report_taste_words(s->cli->k, &s->cli->look, &text, &s->cli->diag);
	return say(s, st, text);
}

/* ---- answers ---- */

static const char *const stop_words[] = { "stop", "quit", "exit", "q", "bye", NULL };

static enum ab_status go_back(struct sitting *s, bool *again)
{
	bool went;
	enum ab_status st = ab_interview_back(s->iv, &went, &s->cli->diag);
	if (st != AB_OK)
		return st;
	*again = !went;
	return went ? sitting_save(s) : talk_say(s->cli, "  There is nothing to take back.");
}

/* The first time the answers point to bottles that may burst. */
static enum ab_status warn(struct sitting *s)
{
	char *text = NULL;
	if (s->warned || ab_case_bursting(ab_interview_case(s->iv)) == NULL)
		return AB_OK;
	s->warned = true;
	enum ab_status st = ab_report_alarm(ab_interview_case(s->iv), &s->cli->look, &text, &s->cli->diag);
	return say(s, st, text);
}

static enum ab_status give(struct sitting *s, const char *answer, bool *again)
{
	struct ab_reply reply;
	char *text = NULL;
	enum ab_status st = ab_interview_answer(s->iv, answer, &reply, &s->cli->diag);
	*again = st == AB_OK && !reply.taken;
	s->n_near = *again ? reply.n_near : 0;
	memcpy(s->near, reply.near, sizeof s->near);
	if (st == AB_OK && reply.taken)
		st = sitting_save(s);
	if (st == AB_OK)
		st = ab_report_reply(s->cli->k, s->iv, &reply, &s->cli->look, &text, &s->cli->diag);
	st = say(s, st, text);
	return st == AB_OK ? warn(s) : st;
}

/* "yes" to "do you mean?", or the number of one offered. */
static const char *offered(const struct sitting *s, const char *line)
{
	static const char *const yes[] = { "yes", "y", "yeah", NULL };
	if (s->n_near == 1 && talk_is_word(line, yes))
		return s->near[0];
	bool number = line[0] >= '1' && line[0] <= '9' && line[1] == '\0' && (size_t)(line[0] - '0') <= s->n_near;
	return number ? s->near[line[0] - '1'] : line;
}

/* One line of the brewer's. again: the same question stays, and needs not be said once more. */
static enum ab_status hear(struct sitting *s, const char *line, bool *again)
{
	static const char *const back[] = { "back", "undo", NULL }, *const why[] = { "?", "why", "help", NULL };
	static const char *const list[] = { "list", "words", NULL };
	const struct ab_question *q = ab_interview_question(s->iv);
	*again = true;
	if (talk_is_word(line, back))
		return go_back(s, again);
	if (talk_is_word(line, why))
		return say_why(s);
	if (q->wanted == AB_WANT_TASTE && talk_is_word(line, list))
		return say_words(s);
	return give(s, offered(s, line), again);
}

/* What an option told already. */
static const char *told_before(const struct sitting *s)
{
	const struct ab_question *q = ab_interview_question(s->iv);
	return s->cli->o.family != NULL && strcmp(q->name, "recipe.family") == 0 ? s->cli->o.family : NULL;
}

/* Until it ends, or the brewer does. */
static enum ab_status converse(struct sitting *s, enum talk *last)
{
	char line[TALK_LONGEST + 1];
	enum ab_status st = AB_OK;
	bool said = false;   /* the question stands above, and what was typed was no answer */
	*last = TALK_LINE;
	while (st == AB_OK && ab_interview_question(s->iv) != NULL) {
		const char *told = told_before(s);
		if (told != NULL) {
			st = give(s, told, &said);
			continue;
		}
		st = said ? AB_OK : say_question(s);
		if (st != AB_OK)
			break;
		said = true;
		*last = talk_ask(s->cli, line);
		if (*last == TALK_END || *last == TALK_INTERRUPTED)
			/* The prompt stands at the end of its line. */
			return s->cli->diag.status == AB_OK ? out_text(s->cli, "\n") : s->cli->diag.status;
		if (*last == TALK_ODD)
			st = talk_say(
			    s->cli, "  That line was too long, or held what is no text; please type it again.");
		else if (talk_is_word(line, stop_words)) {
			*last = TALK_END;
			return AB_OK;
		} else
			st = hear(s, line, &said);
	}
	return st;
}

/* ---- before it begins ---- */

static enum ab_status give_option(struct sitting *s, const char *text, bool absent)
{
	struct ab_reply reply;
	size_t n = strcspn(text, "=");
	char *word = ab_arena_strndup(s->cli->arena, text, n);
	const char *said = word == NULL ? NULL : absent ? ab_arena_printf(s->cli->arena, "not %s", word) : text;
	if (said == NULL)
		return cli_nomem(s->cli);
	if (case_word(s->cli->k, word, NULL, 0, AB_EUSAGE, &s->cli->diag) < 0)
		return AB_EUSAGE;
	enum ab_status st = ab_interview_answer(s->iv, said, &reply, &s->cli->diag);
	return st != AB_OK || reply.taken ? st : ab_fail(&s->cli->diag, AB_EUSAGE, NULL, 0,
	    "--fault %.60s: write a word and an intensity from 1 to 5, such as buttery=3", text);
}

/* Faults named on the command line are all there are, as for diagnose. */
static enum ab_status give_options(struct sitting *s)
{
	const struct options *o = &s->cli->o;
	struct ab_reply reply;
	enum ab_status st = AB_OK;
	const struct ab_question *q = ab_interview_question(s->iv);
	if (o->faults.n > 0 && (q == NULL || q->wanted != AB_WANT_TASTE))
		return ab_fail(&s->cli->diag, AB_EUSAGE, NULL, 0,
		    "the journal holds a tasting already; --fault is for one "
		    "that does not");
	for (size_t i = 0; st == AB_OK && i < o->faults.n; i++) {
		st = give_option(s, o->faults.items[i], false);
		q = ab_interview_question(s->iv);
		/* Not told: what is asked next; the middle is taken then. */
		if (st == AB_OK && q != NULL && q->wanted == AB_WANT_NUMBER)
			st = ab_interview_answer(s->iv, "3", &reply, &s->cli->diag);
	}
	for (size_t i = 0; st == AB_OK && i < o->absent.n; i++)
		st = give_option(s, o->absent.items[i], true);
	if (st == AB_OK && o->faults.n > 0)
		st = ab_interview_answer(s->iv, "", &reply, &s->cli->diag);
	return st == AB_OK && o->faults.n > 0 ? sitting_save(s) : st;
}

/* May the file of --output be written? */
static enum ab_status may_write(struct sitting *s, bool *may)
{
	static const char *const yes[] = { "yes", "y", NULL };
	char line[TALK_LONGEST + 1];
	*may = true;
	if (!s->named || s->cli->o.force || !sitting_exists(s->path))
		return AB_OK;
	if (!talk_is_terminal())
		return ab_fail(&s->cli->diag, AB_EUSAGE, s->path, 0,
		    "the file is there already; --force overwrites it, and "
		    "\"afterboil interview FILE\" continues it");
	snprintf(line, sizeof line, "%.800s is there already. Overwrite it? yes or no", s->path);
	enum ab_status st = talk_say(s->cli, line);
	*may = st == AB_OK && talk_ask(s->cli, line) == TALK_LINE && talk_is_word(line, yes);
	return st;
}

static enum ab_status open_interview(struct sitting *s)
{
	struct cli *cli = s->cli;
	const struct ab_interview_setup setup = { .k = cli->k, .profile = cli->profile, .name = s->path,
		.folder = s->folder, .today = s->today, .us_units = cli->look.us_units, .questions = s->questions };
	return ab_interview_new(&setup, s->saved, s->len, s->batch, &s->iv, &cli->diag);
}

static enum ab_status greet(struct sitting *s)
{
	char *text = NULL;
	enum ab_status st = ab_report_greeting(s->iv, s->questions, &s->cli->look, &text, &s->cli->diag);
	return say(s, st, text);
}

/* ---- the whole ---- */

/* The shell must see that an interrupt ended it, as it would have without us. */
static void end_interrupted(struct sitting *s)
{
	sitting_say_where(s);
	fflush(stdout);
	talk_over();
	raise(SIGINT);
}

static enum ab_status sit(struct sitting *s)
{
	enum talk last = TALK_END;
	bool may = true;
	enum ab_status st = may_write(s, &may);
	if (st != AB_OK || !may)
		return st == AB_OK ? talk_say(s->cli, "Nothing was written. --output FILE names another file.") : st;
	st = give_options(s);
	if (st == AB_OK)
		st = greet(s);
	if (st == AB_OK)
		st = converse(s, &last);
	if (st == AB_OK && ab_interview_question(s->iv) == NULL)
		st = sitting_say_last(s);
	if (st == AB_OK && ab_interview_question(s->iv) == NULL && last == TALK_LINE)
		st = sitting_check(s, &last);
	if (st == AB_OK && last == TALK_INTERRUPTED) {
		end_interrupted(s);
		return AB_OK;
	}
	if (st == AB_OK && ab_interview_case(s->iv)->tasted)
		st = sitting_say_end(s);
	return st == AB_OK ? sitting_say_where(s) : st;
}

enum ab_status cmd_interview(struct cli *cli)
{
	struct sitting s = { .cli = cli };
	enum ab_status st = sitting_check_options(cli);
	if (st == AB_OK)
		st = rules_load(cli);
	if (st == AB_OK)
		st = sitting_prepare(&s);
	if (st == AB_OK) {
		terminal_look(cli);
		st = open_interview(&s);
	}
	if (st == AB_OK) {
		talk_begin();
		st = sit(&s);
		talk_over();
	}
	ab_interview_free(s.iv);
	ab_free(s.saved);
	return st;
}
