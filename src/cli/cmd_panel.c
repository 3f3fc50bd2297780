/* cmd_panel.c - afterboil panel: blind difference tests
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/panel.h>
#include "base/record.h"

enum { SEED = 1 };

static enum ab_status test_of(struct cli *cli, enum ab_panel_test *test)
{
	const char *word = cli->n_args > 0 ? cli->args[0] : NULL, *near;
	size_t i = 0;

	if (word == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "which test? Allowed are triangle, duo-trio, pair, preference");
	while (ab_panel_words[i] != NULL && strcmp(ab_panel_words[i], word) != 0)
		i++;
	*test = (enum ab_panel_test)i;
	if (ab_panel_words[i] != NULL)
		return AB_OK;
	near = ab_nearest(word, ab_panel_words);
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "there is no test \"%.40s\"%s%s%s; allowed are "
	    "triangle, duo-trio, pair, preference", word, near == NULL ? "" : ", do you mean ",
	    near == NULL ? "" : near, near == NULL ? "" : "?");
}

/* A whole number without sign; where it ended. False when there is none, or one beyond any panel. */
static bool take_count(const char **at, size_t *n)
{
	char *end;

	if (**at < '0' || **at > '9')
		return false;
	*n = strtoul(*at, &end, 10);
	*at = end;
	return *n <= 1000000;
}

/* "12" or "7/12". */
static enum ab_status counts_of(struct cli *cli, size_t *n, bool *tasted, size_t *right)
{
	const char *at = cli->n_args > 1 ? cli->args[1] : "0";
	bool good;

	*tasted = strchr(at, '/') != NULL;
	good = take_count(&at, *tasted ? right : n);
	if (good && *tasted)
		good = *at++ == '/' && take_count(&at, n);
	if (!good || *at != '\0')
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "\"%.40s\": how many? As in \"12\" tastings, or "
		    "\"7/12\", 7 right of 12", cli->args[1]);
	if (cli->n_args > 2)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "too much after \"panel %s %s\": \"%.40s\"",
		    cli->args[0], cli->args[1], cli->args[2]);
	return AB_OK;
}

/* Needs no rules and no journals: it is the one question about beer that is all arithmetic. */
enum ab_status cmd_panel(struct cli *cli)
{
	enum ab_panel_test test = AB_PANEL_TRIANGLE;
	struct ab_panel *panel;
	size_t n = 0, right = 0;
	bool tasted = false;
	char *text = NULL;
	enum ab_status st = test_of(cli, &test);
	if (st == AB_OK)
		st = counts_of(cli, &n, &tasted, &right);
	if (st == AB_OK)
		st = ab_panel_work(test, n, tasted, right, isnan(cli->o.seed) ? SEED : (unsigned long)cli->o.seed,
		    cli->arena, &panel, &cli->diag);
	if (st != AB_OK)
		return st;
	terminal_look(cli);
	st = ab_report_panel(panel, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
