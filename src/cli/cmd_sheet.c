/* cmd_sheet.c - afterboil sheet: a page to write on; which batch it and "enter" are for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/sheetrun.h"

#include <math.h>
#include <string.h>

#include "base/alloc.h"
#include "base/savefile.h"

/* BOXES: what fits on one page beside room to scribble (tried on A4 and Letter). */
enum { BOXES = 16 };

/* ---- which batch, which brew before it ---- */

static enum ab_status load(struct cli *cli, const struct ab_batch *b, char **text, size_t *len)
{
	return b == NULL ? AB_OK : ab_loadfile(b->source, AB_JOURNAL_LIMIT, text, len, &cli->diag);
}

/* A batch that was tasted is done with: its sheet is for the next brew of its beer. */
static void choose_like(struct sheet_run *r, const struct ab_batch *named, bool next)
{
	const struct cli *cli = r->cli;
	r->setup.batch = next && named != NULL && named->tastings.n > 0 ? NULL : named;
	r->setup.like = r->setup.batch == NULL ? named : NULL;
	for (size_t i = 0; r->setup.batch != NULL && i < cli->n_batches; i++)
		if (cli->batches[i] != named && ab_line_same(cli->batches[i], named) &&
		    cli->batches[i]->brewed.s <= named->brewed.s &&
		    (named->wort == NULL || cli->batches[i]->wort == NULL ||
			strcmp(named->wort, cli->batches[i]->wort) != 0))
			r->setup.like = cli->batches[i];
}

static const char *named(struct cli *cli)
{
	const char *all = cli->n_args > 0 ? cli->args[0] : NULL;
	for (size_t i = 1; i < cli->n_args && all != NULL; i++)
		all = ab_arena_printf(cli->arena, "%s %s", all, cli->args[i]);
	return all;
}

static enum ab_status choose(struct sheet_run *r, bool next)
{
	struct cli *cli = r->cli;
	const struct ab_batch *b = cli->n_batches > 0 ? cli->batches[cli->n_batches - 1] : NULL;
	const char *name = named(cli);
	enum ab_status st = AB_OK;
	if (cli->n_args > 0 && name == NULL)
		return cli_nomem(cli);
	if (name != NULL) {
		/* A beer, else a batch. */
		b = next ? ab_line_find(cli->batches, cli->n_batches, name, cli->arena) : NULL;
		st = b == NULL ? which_batch(cli, name, &b) : AB_OK;
	}
	if (st == AB_OK && b == NULL && !next)
		st = ab_fail(
		    &cli->diag, AB_EUSAGE, NULL, 0, "there is no journal here; \"afterboil new BEER\" begins one");
	if (st == AB_OK)
		choose_like(r, b, next);
	return st;
}

enum ab_status sheet_prepare(struct sheet_run *r, bool next)
{
	struct cli *cli = r->cli;
	enum ab_status st = rules_load(cli);
	if (st == AB_OK)
		st = which_folder(cli, false);
	if (st == AB_OK)
		st = choose(r, next);
	if (st == AB_OK)
		st = load(cli, r->setup.batch, &r->text, &r->setup.len);
	if (st == AB_OK)
		st = load(cli, r->setup.like, &r->like_text, &r->setup.like_len);
	if (st != AB_OK)
		return st;
	terminal_look(cli);
	talk_today(r->today, sizeof r->today);
	if (r->setup.batch != NULL)
		r->on = r->setup.batch->brewed;
	r->setup.k = cli->k;
	r->setup.profile = cli->profile;
	r->setup.batches = cli->batches;
	r->setup.n = cli->n_batches;
	r->setup.text = r->text;
	r->setup.like_text = r->like_text;
	r->setup.on = &r->on;
	r->setup.most = isnan(cli->o.boxes) ? BOXES : (size_t)cli->o.boxes;
	r->setup.us_units = cli->look.us_units;
	/* What is in force today is on trial in a batch that has no day yet. */
	struct ab_when today = { 0 };
	char why[200];
	bool good = ab_when_read(r->today, &today, why, sizeof why);
	st = sheet_days(r, good ? today.s : 0, next);
	if (st != AB_OK)
		return st;
	if (!r->on.known && good)
		r->setup.on = &today;
	st = ab_sheet_make(&r->setup, cli->arena, &r->sheet, &cli->diag);
	r->setup.on = &r->on;
	return st;
}

void sheet_done(struct sheet_run *r)
{
	ab_free(r->text);
	ab_free(r->like_text);
}

/* ---- the sheet ---- */

/* In the order of the words: where nothing was said, that of the brewer's units. */
static enum ab_paper paper_of(const struct cli *cli)
{
	enum { AUTO, A4, LETTER };
	return cli->o.paper == LETTER || (cli->o.paper == AUTO && cli->look.us_units) ? AB_LETTER : AB_A4;
}

enum ab_status cmd_sheet(struct cli *cli)
{
	struct sheet_run r = { .cli = cli };
	char *text = NULL;
	enum ab_status st = sheet_prepare(&r, true);
	if (st == AB_OK && cli->o.format == AB_JSON)
		st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--format json: a sheet is html, to print, or text");
	if (st == AB_OK) {
		cli->look.format = (enum ab_format)cli->o.format;
		cli->look.unicode = cli->look.unicode || cli->look.format == AB_HTML;
		st = ab_report_sheet(r.sheet, paper_of(cli), &cli->look, &text, &cli->diag);
	}
	if (st == AB_OK)
		st = out_document(cli, text);
	sheet_done(&r);
	return st;
}
