/* changed_undo.c - the change noted last is taken out of the profile again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/changed.h"

#include <string.h>

#include <afterboil/newbatch.h>
#include "cli/logwords.h"

/* What stands last, if "changed" did not write it: asked about at a terminal, and left alone elsewhere. */
static enum ab_status settle_strange(struct cli *cli, const struct ab_changed *last, bool *kept)
{
	const char *key = changed_key(cli, last), *line = changed_told(cli, last);
	bool yes = false;

	if (key == NULL || line == NULL)
		return cli_nomem(cli);
	enum ab_status st = ab_undo_kept(cli->o.profile, AB_UNDO_CHANGED, key, false, kept, &cli->diag);
	if (st != AB_OK || *kept)
		return st;
	if (talk_is_terminal()) {
		st = aside_yes(cli,
		    ab_arena_printf(cli->arena,
			"The last change there, %s, was not kept when it was noted, as when it is written by "
			"hand. Take it out all the same? "
			"yes or no",
			line),
		    &yes);
		if (st != AB_OK || yes)
			return st;
	}
	return ab_fail(&cli->diag, AB_EUSAGE, cli->o.profile, 0,
	    "nothing was taken back: the last change there, %.200s, was not kept when it was noted, as when it is "
	    "written by hand, and that is not lost; take it out with an editor",
	    line);
}

/* The profile was read without its lock: what is last now must be what was looked at. */
struct looked_at { struct cli *cli; const char *key; };
static enum ab_status is_that(void *ctx, const struct ab_changed *last, struct ab_diag *diag)
{
	const struct looked_at *at = ctx;
	const char *key = changed_key(at->cli, last);

	return key == NULL              ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory")
	    : strcmp(key, at->key) == 0 ? AB_OK
					: ab_fail(diag, AB_EUSAGE, at->cli->o.profile, 0,
					      "nothing was taken back: another change was noted there meanwhile");
}

enum ab_status changed_undo(struct cli *cli)
{
	const struct ab_list *all = &cli->profile->changed;
	const struct ab_changed *last = all->n > 0 ? &((const struct ab_changed *)all->items)[all->n - 1] : NULL;
	struct looked_at at = { cli, last != NULL ? changed_key(cli, last) : "" };
	struct ab_changed *gone;
	struct ab_diag ignored;
	bool kept = false;
	enum ab_status st = at.key == NULL ? cli_nomem(cli) : last != NULL ? settle_strange(cli, last, &kept) : AB_OK;

	if (st == AB_OK)
		st = ab_profile_undo_changed(cli->o.profile, is_that, &at, cli->arena, &gone, &cli->diag);
	const char *line = st == AB_OK ? changed_told(cli, gone) : NULL;
	if (st == AB_OK && line == NULL)
		return cli_nomem(cli);
	ab_diag_init(&ignored);
	if (st == AB_OK && kept)
		(void)ab_undo_kept(cli->o.profile, AB_UNDO_CHANGED, at.key, true, &kept, &ignored);
	return st == AB_OK ? out_text(cli, ab_arena_printf(cli->arena, "Taken back: %s\n", line)) : st;
}
