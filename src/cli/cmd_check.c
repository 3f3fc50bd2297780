/* cmd_check.c - afterboil check: reads everything and says what is odd
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <string.h>

#include <afterboil/check.h>
#include <afterboil/nextstep.h>
#include <afterboil/plainwords.h>
#include "base/record.h"
#include "base/str.h"
#include "cli/checking.h"

/* The names of files and yeasts come from outside and may hold anything, escape sequences too. */
enum ab_status check_line(struct cli *cli, const char *text)
{
	struct ab_str safe;
	ab_str_init(&safe, 0);
	if (text != NULL)
		ab_str_add_safe(&safe, text, false);
	ab_str_add(&safe, "\n");
	enum ab_status st = text == NULL || !ab_str_ok(&safe)
	    ? cli_nomem(cli) : out_text(cli, ab_str_text(&safe));
	ab_str_clear(&safe);
	return st;
}

/* The class that the word is said for ("american-ale"), or one spelt nearly so; else all there are. */
static const char *class_hint(struct cli *cli, const char *klass)
{
	const struct ab_norms *norms = &cli->k->norms;
	const char **ids = ab_arena_alloc(cli->arena, norms->n_yeasts + 1, sizeof *ids), *list = "";
	if (ids == NULL)
		return NULL;
	for (size_t i = 0; i < norms->n_yeasts; i++)
		ids[i] = norms->yeasts[i].id;
	char *said = ab_arena_strdup(cli->arena, klass);
	if (said == NULL)
		return NULL;
	for (char *c = said; *c != '\0'; c++)
		*c = *c == '-' || *c == '_' ? ' ' : *c;
	const char *near = ab_plain_word(cli->k, "class", said);
	near = near != NULL ? near : ab_nearest(klass, ids);
	if (near != NULL)
		return ab_arena_printf(cli->arena, "; did you mean \"%s\"?", near);
	for (size_t i = 0; list != NULL && i < norms->n_yeasts; i++)
		list = ab_arena_printf(cli->arena, "%s%s%s", list, i > 0 ? ", " : " (classes: ", ids[i]);
	return list == NULL ? NULL : ab_arena_printf(cli->arena, "%s%s", list, *list != '\0' ? ")" : "");
}

/* An unknown class is no error, as rules may be older than the yeast; but silence about it would hide
 * why facts are missing. */
static enum ab_status check_yeasts(struct cli *cli, const struct ab_batch *b, const char *name, size_t *n)
{
	enum ab_status st = AB_OK;
	for (AB_EACH(struct ab_yeast, y, b->yeasts)) {
		if (st != AB_OK || !work_unknown_yeast(cli, y))
			continue;
		++*n;
		const char *hint = class_hint(cli, y->klass);
		st = hint == NULL ? cli_nomem(cli) : check_line(cli,
		    ab_arena_printf(cli->arena,
			"%s:%ld: odd: no yeast class is called \"%.40s\"; \"afterboil rules list "
			"yeasts\" shows them%s", name, y->mark.line, y->klass, hint));
	}
	return st;
}

/* Against the clock, which the journals' own checks do not read, and the other batches here. */
static enum ab_status check_day(struct cli *cli, const struct ab_batch *b, const struct ab_dated *limits, size_t *n)
{
	char today[24], brewed[32];
	if (!ab_next_dated_ahead(b, limits))
		return AB_OK;
	++*n;
	talk_today(today, sizeof today);
	return check_line(cli,
	    ab_arena_printf(cli->arena,
		"%s:%ld: odd: brewed %s or a tasting of it has not come yet (today is %s): is "
		"the year right? \"advise\" and \"trend\" leave this batch out",
		b->source != NULL ? b->source : "journal", b->mark.line,
		ab_when_write(&b->brewed, brewed, sizeof brewed), today));
}

/* The words of its tastings and changes are looked up only here: so they are checked by working the
 * case. One line a finding, as compilers do, so that editors can jump to it. */
static enum ab_status check_batch(struct cli *cli, const struct ab_batch *b, const struct ab_dated *limits)
{
	struct ab_list odd = { NULL, 0, 0 };
	const char *name = b->source != NULL ? b->source : "journal";
	enum ab_status st = ab_batch_odd(b, cli->arena, &odd, &cli->diag);
	size_t n = 0;
	if (st == AB_OK)
		st = ab_case_odd(cli->k, b, cli->arena, &odd, &cli->diag);
	for (AB_EACH(struct ab_odd, o, odd)) {
		n += !o->untold;
		if (st == AB_OK)
			st = check_line(cli, ab_arena_printf(cli->arena, "%s:%ld: %s: %s", name, o->line,
			    o->untold ? "untold" : "odd", o->text));
	}
	if (st == AB_OK)
		st = check_day(cli, b, limits, &n);
	if (st == AB_OK)
		st = check_yeasts(cli, b, name, &n);
	if (n > 0)
		cli->attention = true;
	return st != AB_OK ? st : check_line(cli, ab_arena_printf(cli->arena, "%s:%ld: OK, batch %s", name,
	    b->mark.line, b->id));
}

/* Told in own words it may be a change that the rules know. */
static enum ab_status check_remedy(struct cli *cli, const char *name, const struct ab_remedy *r)
{
	size_t n;
	bool own = r->what == NULL && r->text != NULL && ab_change_word(cli->k, r->text, NULL, 0, &n) < 0;

	return check_change(cli, name, "tried", r->mark.line, own ? r->text : r->what);
}

/* What was changed or tried under a name that the rules do not know tells nothing. */
static enum ab_status check_changes(struct cli *cli, const struct ab_batch *b)
{
	const char *name = b->source != NULL ? b->source : "journal";
	enum ab_status st = AB_OK;
	for (AB_EACH(const struct ab_change_note, c, b->changes))
		st = st != AB_OK ? st : check_change(cli, name, "change", c->mark.line, c->what);
	for (AB_EACH(const struct ab_remedy, r, b->remedies))
		st = st != AB_OK ? st : check_remedy(cli, name, r);
	return st;
}

/* The cases are worked for the sake of their errors, and of bottles that may burst. */
enum ab_status cmd_check(struct cli *cli)
{
	struct ab_case **cases;
	struct ab_dated limits;
	enum ab_status st = rules_load(cli);
	if (st == AB_OK)
		st = inputs_or_profile(cli, true);
	/* One a folder up belongs to other folders, too: then one without a journal is most likely a slip. */
	cli->empty_is_fine = cli->empty_is_fine && strstr(cli->o.profile, "/../") == NULL;
	if (st == AB_OK)
		st = inputs_read(cli, cli->n_args > 0 && !cli->empty_is_fine);
	if (st == AB_OK)
		st = work_cases(cli, cli->batches, cli->n_batches, REASONS_ERRORS, &cases);
	if (st == AB_OK)
		st = check_line(cli,
		    ab_arena_printf(cli->arena,
			"%s: OK, rules version %s: %zu faults, %zu causes, %zu changes, %zu checks",
			cli->rules_base, cli->k->version, cli->k->n_faults, cli->k->n_causes,
			cli->k->n_changes, ab_asked_checks(cli->k)));
	if (st == AB_OK)
		st = check_profile(cli);
	/* Of a profile alone it is all there is to see. */
	if (st == AB_OK && cli->profile != NULL && (cli->o.all || cli->n_batches == 0))
		st = check_understood(cli, cases);
	if (st == AB_OK)
		st = work_dated(cli, &limits);
	for (size_t i = 0; st == AB_OK && i < cli->n_batches; i++) {
		st = check_changes(cli, cli->batches[i]);
		if (st == AB_OK)
			st = check_batch(cli, cli->batches[i], &limits);
		if (st == AB_OK)
			st = work_say_alarm(cli, cases[i], false);
	}
	return st;
}
