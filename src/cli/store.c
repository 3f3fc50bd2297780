/* store.c - where the history is, and how batches get into it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <assert.h>
#include <stdlib.h>
#include <unistd.h>

/* $XDG_DATA_HOME/afterboil/history.db, else under ~/.local/share: XDG Base Directory Specification 0.8 (a
 * relative path there is ignored). */
static const char *usual_path(struct cli *cli)
{
	const char *data = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
	if (data != NULL && data[0] == '/')
		return ab_arena_printf(cli->arena, "%s/afterboil/history.db", data);
	if (home != NULL && home[0] == '/')
		return ab_arena_printf(cli->arena, "%s/.local/share/afterboil/history.db", home);
	return NULL;
}

bool store_there(struct cli *cli)
{
	const char *path = cli->o.no_store ? NULL : cli->o.store != NULL ? cli->o.store : usual_path(cli);
	return path != NULL && access(path, F_OK) == 0;
}

/* In memory for --no-store, so that the commands need no second way. */
enum ab_status store_open(struct cli *cli, struct ab_history **out)
{
	*out = NULL;
	const char *path = cli->o.no_store ? ":memory:" : cli->o.store != NULL
	    ? cli->o.store : usual_path(cli);
	if (path == NULL)
		return ab_fail(&cli->diag, AB_ESYSTEM, NULL, 0,
		    "no place for the history: neither XDG_DATA_HOME nor HOME is set; use --store FILE or "
		    "--no-store");
	return ab_history_open(path, out, &cli->diag);
}

/* added: 0 known, 1 new, 2 changed (history.h). */
enum ab_status store_case(struct cli *cli, struct ab_history *store, const struct ab_case *c, const char *digest,
    struct store_counts *counts)
{
	char made[AB_HISTORY_DIGEST];
	int added = 0;
	if (counts->added + counts->changed + counts->known == 0)   /* once a run */
		ab_history_judged_with(store, cli->profile, PACKAGE_VERSION);
	enum ab_status st = digest == NULL ? ab_history_digest(c->batch, made, &cli->diag) : AB_OK;
	if (st == AB_OK)
		st = ab_history_put(store, cli->k, c, digest == NULL ? made : digest, &added, &cli->diag);
	if (st == AB_OK)
		++*(added == 1 ? &counts->added : added == 2 ? &counts->changed : &counts->known);
	assert(added >= 0 && added <= 2);
	return st;
}

/* Said only when something is new: a daily run without news stays silent. */
enum ab_status store_end(
    struct cli *cli, struct ab_history *store, enum ab_status st, const struct store_counts *counts)
{
	if (st == AB_OK && cli->profile != NULL)
		st = ab_history_put_changed(store, cli->profile, &cli->diag);
	if (st == AB_OK)
		st = ab_history_commit(store, &cli->diag);
	else
		ab_history_rollback(store);
	if (st == AB_OK && !cli->o.no_store && counts->added + counts->changed > 0)
		err_note("history: %zu new, %zu changed, %zu known already", counts->added, counts->changed,
		    counts->known);
	return st;
}

/* One transaction, or a thousand batches would wait for the disk a thousand times. */
enum ab_status store_cases(struct cli *cli, struct ab_history *store, struct ab_case *const *cases, size_t n)
{
	struct store_counts counts = { 0, 0, 0 };
	enum ab_status st = ab_history_begin(store, &cli->diag);
	if (st != AB_OK)
		return st;
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = store_case(cli, store, cases[i], NULL, &counts);
	return store_end(cli, store, st, &counts);
}
