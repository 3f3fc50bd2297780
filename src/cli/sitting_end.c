/* sitting_end.c - what follows the questions of an interview: a check done already, the diagnosis, where the
 * answers are
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/sitting.h"

#include <stdio.h>

/* SOON: a check of this batch, not of the next one, has its answer within so many days. */
enum { CHECKS = 3, SOON = 10 };

/* ---- checks that were done ---- */

static enum ab_status say_checks(struct sitting *s, const int *checks, size_t n)
{
	enum ab_status st = out_text(s->cli, "\n");
	if (st == AB_OK)
		st = talk_say(s->cli, "Did you do one of these already? Its number, or just Enter.");
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		char line[300];
		snprintf(line, sizeof line, "  %zu  %.250s", i + 1, s->cli->k->checks[checks[i]].title);
		st = talk_say(s->cli, line);
	}
	return st;
}

enum ab_status sitting_check(struct sitting *s, enum talk *last)
{
	static const char *const yes[] = { "yes", "y", NULL }, *const no[] = { "no", "n", NULL };
	int checks[CHECKS];
	char line[TALK_LONGEST + 1];
	size_t n = ab_interview_checks(s->iv, SOON, checks, CHECKS);
	if (n == 0 || ab_interview_case(s->iv)->diagnosis->nothing_found)
		return AB_OK;
	enum ab_status st = say_checks(s, checks, n);
	*last = st == AB_OK ? talk_ask(s->cli, line) : TALK_END;
	if (*last != TALK_LINE || line[0] < '1' || line[0] > '0' + (int)n || line[1] != '\0')
		return st;
	int check = checks[line[0] - '1'];
	st = talk_say(s->cli, s->cli->k->checks[check].title);
	*last = st == AB_OK ? talk_ask(s->cli, line) : TALK_END;
	if (*last != TALK_LINE || (!talk_is_word(line, yes) && !talk_is_word(line, no)))
		return st;
	st = ab_interview_checked(s->iv, check, talk_is_word(line, yes), &s->cli->diag);
	return st == AB_OK ? sitting_save(s) : st;
}

/* ---- the end ---- */

enum ab_status sitting_say_last(struct sitting *s)
{
	char *text = NULL;
	enum ab_status st = ab_report_last_question(s->iv, &s->cli->look, &text, &s->cli->diag);
	if (st == AB_OK && text[0] != '\0')
		st = out_text(s->cli, "\n");
	return out_report(s->cli, st, text);
}

enum ab_status sitting_say_end(struct sitting *s)
{
	struct cli *cli = s->cli;
	struct ab_batch *batch = ab_interview_batch(s->iv);
	struct ab_case **cases;
	char *text = NULL;
	enum ab_status st = out_text(cli, "\n");
	if (st == AB_OK)
		st = work_cases(cli, &batch, 1, REASONS_ALL, &cases);
	if (st != AB_OK)
		return st;
	cli->attention = cli->attention || ab_case_bursting(cases[0]) != NULL;
	st = ab_report_interview_end(cli->k, cases[0], &cli->look, &text, &cli->diag);
	return out_report(s->cli, st, text);
}

enum ab_status sitting_say_where(struct sitting *s)
{
	char line[1100];
	if (s->fresh)
		return talk_say(s->cli, "Nothing was answered, so nothing was written.");
	snprintf(line, sizeof line, "\nYour answers are in %.900s", s->path);
	enum ab_status st = out_text(s->cli, "\n");
	return st == AB_OK ? talk_say(s->cli, line + 1) : st;
}
