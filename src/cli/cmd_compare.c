/* cmd_compare.c - afterboil compare: two brews side by side
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <string.h>

#include <afterboil/compare.h>

/* The names come first and the files after them. Given to the reader as --batch, which makes ids of them, and
 * refuses by name what is in no file. */
static enum ab_status take_ids(struct cli *cli)
{
	size_t n = cli->n_args < 2 ? 0 : 2;
	for (size_t i = 0; i < n; i++)
		if (text_push(cli, &cli->o.batch, cli->args[i]) != AB_OK)
			return cli->diag.status;
	cli->args += n;
	cli->n_args -= n;
	enum ab_status st = n > 0 ? which_here(cli) : AB_OK;
	if (st == AB_OK && (n == 0 || cli->n_args == 0))
		st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "two batches and where they are: afterboil "
		    "compare BATCH BATCH journals/");
	return st;
}

static const struct ab_case *case_of(struct cli *cli, struct ab_case *const *cases, const char *id)
{
	for (size_t i = 0; i < cli->n_batches; i++)
		if (strcmp(cases[i]->batch->id, id) == 0)
			return cases[i];
	ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "no batch read has the id \"%.60s\"; \"afterboil check\" lists "
	    "what there is", id);
	return NULL;
}

enum ab_status cmd_compare(struct cli *cli)
{
	struct ab_case **cases;
	const struct ab_case *a, *b;
	struct ab_comparison *comparison;
	char *text = NULL;
	enum ab_status st = take_ids(cli);
	if (st == AB_OK)
		st = rules_load(cli);
	if (st == AB_OK)
		st = inputs_read(cli, true);
	if (st == AB_OK && strcmp(cli->o.batch.items[0], cli->o.batch.items[1]) == 0)
		st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "a batch is like itself (%.60s); name two",
		    cli->o.batch.items[0]);
	if (st == AB_OK)
		st = work_cases(cli, cli->batches, cli->n_batches, REASONS_NONE, &cases);
	if (st != AB_OK)
		return st;
	a = case_of(cli, cases, cli->o.batch.items[0]);
	b = a == NULL ? NULL : case_of(cli, cases, cli->o.batch.items[1]);
	if (b == NULL)
		return cli->diag.status;
	st = ab_compare(cli->k, a, b, cli->arena, &comparison, &cli->diag);
	if (st != AB_OK)
		return st;
	work_warn_of(cli, cases, cli->n_batches);
	terminal_look(cli);
	st = ab_report_compare(cli->k, comparison, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
