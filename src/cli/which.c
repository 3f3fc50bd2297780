/* which.c - which batch is meant, by enough of its name
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <string.h>

/* How well a name fits an id: the whole, a whole part of it at the end or the beginning, its beginning, or
 * any of it. "14" is "pale-14", not "pale-140". */
enum fit { NO_FIT, WITHIN, BEGINS, FIRST_PART, LAST_PART, WHOLE };

static enum fit fit(const char *id, const char *name)
{
	size_t len = strlen(id), n = strlen(name);

	if (strcmp(id, name) == 0)
		return WHOLE;
	if (n == 0 || n >= len)
		return NO_FIT;
	if (strcmp(id + len - n, name) == 0 && strchr("-_.", id[len - n - 1]) != NULL)
		return LAST_PART;
	if (strncmp(id, name, n) == 0)
		return strchr("-_.", id[n]) != NULL ? FIRST_PART : BEGINS;
	return strstr(id, name) != NULL ? WITHIN : NO_FIT;
}

static enum ab_status ambiguous(struct cli *cli, const char *name, enum fit best)
{
	char list[300] = "";

	for (size_t i = 0, n = 0; i < cli->n_batches && n < 6; i++)
		if (fit(cli->batches[i]->id, name) == best) {
			strncat(list, n++ > 0 ? ", " : "", sizeof list - strlen(list) - 1);
			strncat(list, cli->batches[i]->id, sizeof list - strlen(list) - 1);
		}
	return ab_fail(
	    &cli->diag, AB_EUSAGE, NULL, 0, "\"%.40s\" may be any of %s; write more of the name", name, list);
}

static enum ab_status no_such_batch(struct cli *cli, const char *name)
{
	char list[300] = "";

	for (size_t i = cli->n_batches, n = 0; i-- > 0 && n < 4; n++) {
		strncat(list, n > 0 ? ", " : "; the newest are ", sizeof list - strlen(list) - 1);
		strncat(list, cli->batches[i]->id, sizeof list - strlen(list) - 1);
	}
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "no batch here is called \"%.40s\"%s", name, list);
}

enum ab_status which_batch(struct cli *cli, const char *name, const struct ab_batch **out)
{
	enum fit best = NO_FIT;
	size_t n = 0;

	*out = NULL;
	if (strcmp(name, "last") == 0 && cli->n_batches > 0) {
		*out = cli->batches[cli->n_batches - 1];
		return AB_OK;
	}
	for (size_t i = 0; i < cli->n_batches; i++) {
		enum fit f = fit(cli->batches[i]->id, name);
		n = f > best ? 0 : n;
		best = f > best ? f : best;
		if (f != NO_FIT && f == best) {
			*out = cli->batches[i];
			n++;
		}
	}
	return n == 1 ? AB_OK : n == 0 ? no_such_batch(cli, name) : ambiguous(cli, name, best);
}

enum ab_status which_folder(struct cli *cli, bool needed)
{
	char **args = cli->args, *here = ab_arena_strdup(cli->arena, cli->o.in != NULL ? cli->o.in : ".");
	size_t n = cli->n_args;

	if (here == NULL)
		return cli_nomem(cli);
	cli->empty_is_fine = !needed;
	cli->args = &here;
	cli->n_args = 1;
	enum ab_status st = inputs_read(cli, needed);
	cli->args = args;
	cli->n_args = n;
	return st;
}
