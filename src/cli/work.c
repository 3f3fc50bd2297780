/* work.c - many batches taken through the pipe
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/batchplan.h>
#include <afterboil/nextstep.h>

enum { REDRAWS = 200, SEED = 1 };   /* 200 steady the range to about two percent points (estimate) */

/* Without reasons nobody sees the likely ranges, and the redraws behind them take most of the time. */
void work_options(const struct cli *cli, bool reasons, struct ab_diagnose_options *options)
{
	*options = (struct ab_diagnose_options){ .reasons = reasons,
	    .seed = isnan(cli->o.seed) ? SEED : (unsigned long)cli->o.seed };
	if (reasons)
		options->redraws = isnan(cli->o.redraws) ? REDRAWS : (size_t)cli->o.redraws;
}

static enum ab_status work_one(struct cli *cli, const struct ab_batch *batch, enum reasons reasons,
    struct ab_net_scratch *scratch, struct ab_case **out)
{
	struct ab_diagnose_options options;
	work_options(cli, reasons == REASONS_ALL, &options);
	options.beliefs_only = reasons == REASONS_ERRORS;
	options.scratch = scratch;
	return ab_case_work(cli->k, batch, cli->profile, &options, cli->arena, out, &cli->diag);
}

/* The last batch that has something to explain and is of a day that has come. Place + 1; 0 = none, which size_t has
 * no other way to say. */
static size_t last_bad(struct ab_case *const *cases, size_t n, const struct ab_dated *limits)
{
	while (n > 0 && (!cases[n - 1]->tasted || cases[n - 1]->diagnosis->nothing_found ||
	    ab_next_dated_ahead(cases[n - 1]->batch, limits)))
		n--;
	return n;
}

/* Advice needs the questions of one case only, so all are worked the short way first and that one again
 * in full: cheaper than reasons for a history of hundreds. One scratch for all, as it is costly to
 * make. */
enum ab_status work_cases(
    struct cli *cli, struct ab_batch *const *batches, size_t n, enum reasons reasons, struct ab_case ***out)
{
	struct ab_case **cases = ab_arena_alloc(cli->arena, n, sizeof *cases);
	struct ab_net_scratch *scratch = ab_net_scratch_new();
	struct ab_dated limits;
	enum ab_status st = cases == NULL || scratch == NULL ? cli_nomem(cli) : AB_OK;
	progress_begin("batches worked out");
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		st = work_one(cli, batches[i], reasons, scratch, &cases[i]);
		progress_step(i + 1, n);
	}
	if (st == AB_OK && reasons == REASONS_LAST)
		st = work_dated(cli, &limits);
	size_t bad = st == AB_OK && reasons == REASONS_LAST ? last_bad(cases, n, &limits) : 0;
	if (bad > 0)
		st = work_one(cli, batches[bad - 1], REASONS_ALL, scratch, &cases[bad - 1]);
	progress_hide();
	ab_net_scratch_free(scratch);
	*out = cases;
	return st;
}

bool work_unknown_yeast(const struct cli *cli, const struct ab_yeast *yeast)
{
	return yeast->klass != NULL && ab_yeast_find(cli->k, yeast->klass) < 0;
}

/* A class that the rules do not know tells nothing; that must not go unseen. A note, not an error: the
 * rest of the batch can still be judged. */
void work_note_yeasts(const struct cli *cli, const struct ab_batch *b)
{
	for (AB_EACH(struct ab_yeast, y, b->yeasts))
		if (work_unknown_yeast(cli, y))
			err_note("%s:%ld: no yeast class is called \"%.40s\", so it tells nothing; "
				 "\"afterboil rules list yeasts\" shows them",
			    b->source != NULL ? b->source : "journal", y->mark.line, y->klass);
}

enum ab_status work_bursting(
    struct cli *cli, struct ab_batch *const *batches, size_t n, const struct ab_batch *const **out, size_t *n_out)
{
	const struct ab_batch **found = ab_arena_alloc(cli->arena, n + 1, sizeof *found);
	struct ab_case **one;
	enum ab_status st = found == NULL ? cli_nomem(cli) : AB_OK;
	*n_out = 0;
	for (size_t i = n; st == AB_OK && i-- > 0;) {
		st = work_cases(cli, &batches[i], 1, REASONS_ERRORS, &one);
		if (st == AB_OK && ab_next_danger(&cli->k->norms, one[0], work_today_s()))
			found[(*n_out)++] = batches[i];
		if (st == AB_OK || st == AB_ENOMEM)
			continue;
		st = AB_OK;
		ab_diag_init(&cli->diag);
	}
	*out = found;
	return st;
}

void work_warn(struct cli *cli, const struct ab_batch *const *bursting, size_t n)
{
	const char *ids = "";
	for (size_t i = n; i-- > 0 && ids != NULL;)
		ids = ab_arena_printf(cli->arena, "%s%s%s", ids, *ids != '\0' ? ", " : "", bursting[i]->id);
	if (n == 0)
		return;
	cli->attention = true;
	err_note(
	    "take care: if bottles are left of these batches, they may burst: %s; \"afterboil diagnose --batch "
	    "ID\" tells more",
	    ids != NULL ? ids : "several");
}

void work_warn_of(struct cli *cli, struct ab_case *const *cases, size_t n)
{
	const struct ab_batch **bursting = ab_arena_alloc(cli->arena, n + 1, sizeof *bursting);
	const struct ab_batch *any = NULL;
	size_t found = 0;
	for (size_t i = n; i-- > 0;)
		if (ab_next_danger(&cli->k->norms, cases[i], work_today_s())) {
			any = cases[i]->batch;
			if (bursting != NULL)
				bursting[found++] = any;
		}
	if (any != NULL)
		work_warn(cli, bursting != NULL ? bursting : &any, bursting != NULL ? found : 1);
}

struct finding { const char *id; struct ab_batch *batch; };

static enum ab_status find(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct finding *f = ctx;
	(void)diag;
	f->batch = strcmp(batch->id, f->id) == 0 ? batch : f->batch;
	return AB_OK;
}

enum ab_status work_say_alarm(struct cli *cli, const struct ab_case *c, bool near)
{
	char *text = NULL;
	bool bursting = ab_case_bursting(c) != NULL;

	if (!bursting && !(near && ab_case_near_limit(cli->k, c) != NULL))
		return AB_OK;
	cli->attention = cli->attention || bursting;
	terminal_look(cli);
	enum ab_status st = ab_report_alarm(c, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}

enum ab_status work_alarm(struct cli *cli, const char *path, const char *id, bool yeast, bool near)
{
	struct finding f = { id, NULL };
	struct ab_case **cases;
	enum ab_status st = ab_journal_read_file(path, cli->arena, find, &f, &cli->diag);
	if (st != AB_OK || f.batch == NULL)
		return st;
	if (yeast)
		work_note_yeasts(cli, f.batch);
	st = work_cases(cli, &f.batch, 1, REASONS_NONE, &cases);
	/* The line stands in the journal: what is odd elsewhere, in a profile or in too many faults, does not undo
	 * it. */
	if (st != AB_OK && st != AB_ENOMEM) {
		err_note("written; whether bottles may burst could not be worked out: %.400s", cli->diag.text);
		ab_diag_init(&cli->diag);
		return AB_OK;
	}
	return st != AB_OK ? st : work_say_alarm(cli, cases[0], near);
}

enum ab_status work_cool(struct cli *cli, const char *path, const char *id)
{
	struct finding f = { id, NULL };
	enum ab_status st = ab_journal_read_file(path, cli->arena, find, &f, &cli->diag);
	const struct ab_batchplan_asked asked = {
		.k = cli->k, .profile = cli->profile, .batches = cli->batches, .n = cli->n_batches
	};
	const struct ab_touch *touch =
	    st == AB_OK && f.batch != NULL ? ab_batchplan_too_warm(&asked, f.batch, work_today_s()) : NULL;
	char *text = NULL;

	if (touch == NULL)
		return st;
	terminal_look(cli);
	st = ab_report_now(touch, id, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}

double work_today_s(void)
{
	struct ab_when today = { 0 };
	char text[24], why[512];
	talk_today(text, sizeof text);
	return ab_when_read(text, &today, why, sizeof why) ? today.s : (double)-INFINITY;
}

enum ab_status work_dated(struct cli *cli, struct ab_dated *limits)
{
	double *days_s = ab_arena_alloc(cli->arena, cli->n_batches, sizeof *days_s);
	if (days_s == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < cli->n_batches; i++)
		days_s[i] = cli->batches[i]->brewed.known ? cli->batches[i]->brewed.s : (double)NAN;
	*limits = ab_dated_limits(days_s, cli->n_batches, work_today_s());
	return AB_OK;
}

size_t work_threads(void)
{
	long n = sysconf(_SC_NPROCESSORS_ONLN);

	return n > 0 ? (size_t)n : 1;
}
