/* cmd_facts.c - afterboil facts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

/* No reasons and no redraws: facts do not depend on them, and they take most of the time. */
enum ab_status cmd_facts(struct cli *cli)
{
	struct ab_case **cases;
	char *text = NULL;
	enum ab_status st = rules_load(cli);
	if (st == AB_OK)
		st = which_named(cli);
	if (st == AB_OK)
		st = which_here(cli);
	if (st == AB_OK)
		st = inputs_read(cli, true);
	if (st == AB_OK)
		st = work_cases(cli, cli->batches, cli->n_batches, REASONS_NONE, &cases);
	if (st != AB_OK)
		return st;
	terminal_look(cli);
	st = ab_report_facts(cli->k, cases, cli->n_batches, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
