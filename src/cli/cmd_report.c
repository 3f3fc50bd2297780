/* cmd_report.c - afterboil report: one page about a folder of journals
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include <afterboil/calendar.h>
#include <afterboil/overview.h>

/* Told in full when nothing else is asked for: a page of every batch would be read by nobody. */
enum { SHOWN = 3, RUNNING = 2 };

/* The newest that were tasted, with --batch those named, and above them those that came since and may still be
 * running. Each is worked again, with its reasons. */
static enum ab_status choose(struct cli *cli, struct ab_case **cases, size_t **shown, size_t *n)
{
	size_t most = !isnan(cli->o.last) ? (size_t)cli->o.last : cli->o.all ? cli->n_batches : SHOWN;
	size_t total = cli->n_batches < most + RUNNING ? cli->n_batches : most + RUNNING, tasted = 0;
	enum ab_status st = AB_OK;

	*n = 0;
	*shown = ab_arena_alloc(cli->arena, cli->n_batches, sizeof **shown);
	if (*shown == NULL)
		return cli_nomem(cli);
	progress_begin("batches told in full");
	for (size_t i = cli->n_batches; st == AB_OK && i-- > 0 && tasted < most;) {
		struct ab_diagnose_options options;
		if (!cases[i]->tasted && (tasted > 0 || *n >= RUNNING))
			continue;
		tasted += cases[i]->tasted;
		work_options(cli, true, &options);
		st = ab_case_work(
		    cli->k, cli->batches[i], cli->profile, &options, cli->arena, &cases[i], &cli->diag);
		(*shown)[(*n)++] = i;
		progress_step(*n, total);
	}
	progress_hide();
	return st;
}

static enum ab_status advice_of(struct cli *cli, struct ab_case *const *cases, const struct ab_advice **out)
{
	struct ab_advice_options options;
	struct ab_advice *advice;
	enum ab_status st = advise_options(cli, cases, &options);

	if (st != AB_OK)
		return st;
	progress_begin("trials of the plan");
	st =
	    ab_advise(cli->k, cases, cli->n_batches, cli->profile, &options, cli->arena, &advice, &cli->diag);

	progress_hide();
	*out = st == AB_OK ? advice : NULL;
	return st;
}

/* --last bounds what is told in full; what is learned from stays the whole folder. */
static enum ab_status read_all(struct cli *cli)
{
	double last = cli->o.last;
	enum ab_status st;

	cli->o.last = NAN;
	st = which_here(cli);
	if (st == AB_OK)
		st = inputs_read(cli, true);
	cli->o.last = last;
	return st;
}

/* The newest two tasted brews of one line: of the line brewed last. NULL when no line was brewed twice. */
static enum ab_status compare_of(struct cli *cli, struct ab_case *const *cases, struct ab_overview *o)
{
	for (size_t b = cli->n_batches; b-- > 0;) {
		const char *line = cases[b]->batch->line;
		if (line == NULL || !cases[b]->tasted)
			continue;
		for (size_t a = b; a-- > 0;) {
			struct ab_comparison *c;
			if (!cases[a]->tasted || cases[a]->batch->line == NULL ||
			    strcmp(cases[a]->batch->line, line) != 0)
				continue;
			enum ab_status st = ab_compare(cli->k, cases[a], cases[b], cli->arena, &c, &cli->diag);
			o->comparison = st == AB_OK ? c : NULL;
			return st;
		}
	}
	return AB_OK;
}

/* What the brewer's own history was promised, if there is one: looked up, never made. */
static enum ab_status promises_of(struct cli *cli, struct ab_overview *o)
{
	struct ab_history *store = NULL;
	struct ab_promise *made = ab_arena_alloc(cli->arena, o->trend != NULL ? o->trend->n_changes : 0, sizeof *made);
	enum ab_status st = made == NULL ? cli_nomem(cli) : AB_OK;

	if (st != AB_OK || o->trend == NULL || o->trend->n_changes == 0 || !store_there(cli))
		return st;
	st = store_open(cli, &store);
	for (size_t i = 0; st == AB_OK && i < o->trend->n_changes; i++) {
		const char *change = o->trend->changes[i].id;
		struct ab_promised was;
		if (ab_history_promise(store, change, &was))
			made[o->n_promises++] =
			    (struct ab_promise){ change, was.load_before, was.load_after, was.alone };
	}
	ab_history_close(store);
	o->promises = made;
	return st;
}

/* Through a history in memory: the page is about this folder, whatever else the brewer's history holds. */
static enum ab_status trend_of(struct cli *cli, struct ab_case *const *cases, struct ab_overview *o)
{
	struct ab_history *store = NULL;
	struct series s = { .line = NULL, .last = (double)NAN };
	enum ab_status st = ab_history_open(":memory:", &store, &cli->diag);

	if (st == AB_OK)
		st = ab_history_begin(store, &cli->diag);
	for (size_t i = 0; st == AB_OK && i < cli->n_batches; i++) {
		struct store_counts counts = { 0, 0, 0 };
		if (ab_shown_on_paper(cases[i]->batch))   /* a step of the drawings that nobody brewed */
			continue;
		st = store_case(cli, store, cases[i], NULL, &counts);
	}
	if (st == AB_OK && cli->profile != NULL)
		st = ab_history_put_changed(store, cli->profile, &cli->diag);
	if (st == AB_OK)
		st = ab_history_commit(store, &cli->diag);
	if (st == AB_OK)
		st = series_read(cli, store, &s);
	if (st == AB_OK) {
		o->n_batches = s.n;
		o->batches = s.batches;
		o->trend = s.trend;
	}
	ab_history_close(store);
	return st;
}

enum ab_status cmd_report(struct cli *cli)
{
	struct ab_overview o = { 0 };
	struct ab_case **cases;
	size_t *shown;
	char *text = NULL;
	enum ab_status st = rules_load(cli);

	if (st == AB_OK)
		st = read_all(cli);
	if (st == AB_OK)
		st = work_cases(cli, cli->batches, cli->n_batches, REASONS_LAST, &cases);
	if (st == AB_OK)
		st = choose(cli, cases, &shown, &o.n_shown);
	if (st == AB_OK)
		st = advice_of(cli, cases, &o.advice);
	if (st == AB_OK)
		st = trend_of(cli, cases, &o);
	if (st == AB_OK)
		st = compare_of(cli, cases, &o);
	if (st == AB_OK)
		st = promises_of(cli, &o);
	if (st != AB_OK)
		return st;
	work_warn_of(cli, cases, cli->n_batches);
	o.k = cli->k;
	o.profile = cli->profile;
	o.cases = cases;
	o.n_cases = cli->n_batches;
	o.shown = shown;
	terminal_look(cli);
	st = ab_report_overview(&o, &cli->look, &text, &cli->diag);
	return st == AB_OK ? out_document(cli, text) : st;
}
