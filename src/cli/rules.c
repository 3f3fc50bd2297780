/* rules.c - where the rules are
 *
 * The base folder is the first of: --rules-base; the variable AFTERBOIL_RULES; where they were installed;
 * "rules" beside the program's folder or one up (a build tree). Folders of --rules come after it and may
 * replace what it says.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/plainwords.h>

enum { PATH = 4096 };

/* faults.xml stands for all: a folder of rules without faults is none. */
static bool holds_rules(struct cli *cli, const char *dir)
{
	const char *path = ab_arena_printf(cli->arena, "%s/faults.xml", dir);
	return path != NULL && access(path, R_OK) == 0;
}

/* The folder of the running program, or NULL. Linux only; elsewhere it is NULL, and the installed
 * folder or the option must do. */
static const char *own_folder(struct cli *cli)
{
	char path[PATH];
	ssize_t n = readlink("/proc/self/exe", path, sizeof path - 1);
	if (n <= 0)
		return NULL;
	path[n] = '\0';
	char *slash = strrchr(path, '/');
	if (slash != NULL)
		*slash = '\0';
	return ab_arena_strdup(cli->arena, path);
}

/* The most explicit first: option, environment, installed, then beside the program for a tree that was
 * built but not installed. What was named is not tested here: a wrong name must be an error, not a
 * silent fallback. */
static const char *find_base(struct cli *cli)
{
	const char *named = getenv("AFTERBOIL_RULES"), *own = own_folder(cli);
	if (cli->o.rules_base != NULL)
		return cli->o.rules_base;
	if (named != NULL && *named != '\0')
		return named;
	if (holds_rules(cli, AB_RULES_DIR))
		return AB_RULES_DIR;
	static const char *const beside[] = { "rules", "../rules" };
	for (size_t i = 0; own != NULL && i < sizeof beside / sizeof *beside; i++) {
		const char *dir = ab_arena_printf(cli->arena, "%s/%s", own, beside[i]);
		if (dir != NULL && holds_rules(cli, dir))
			return dir;
	}
	return NULL;
}

/* Own folders come after the base, in the order given: later ones replace earlier ones' rules. */
enum ab_status rules_folders(struct cli *cli, struct texts *dirs)
{
	cli->rules_base = find_base(cli);
	if (cli->rules_base == NULL)
		return ab_fail(&cli->diag, AB_ESYSTEM, NULL, 0,
		    "no rules were found: neither %s nor a folder \"rules\" beside the program; "
		    "name one with "
		    "--rules-base DIR or "
		    "in AFTERBOIL_RULES",
		    AB_RULES_DIR);
	enum ab_status st = text_push(cli, dirs, cli->rules_base);
	for (size_t i = 0; st == AB_OK && i < cli->o.rules.n; i++)
		st = text_push(cli, dirs, cli->o.rules.items[i]);
	return st;
}

enum ab_status rules_load(struct cli *cli)
{
	struct texts dirs = { NULL, 0, 0 };
	enum ab_status st = rules_folders(cli, &dirs);
	if (st == AB_OK)
		st = ab_knowledge_read(
		    dirs.items, dirs.n, ab_fact_defs(), ab_casework_vocabulary(), cli->arena, &cli->k, &cli->diag);
	if (st != AB_OK)
		return st;
	cli->malts = ab_plain_malts(cli->k, cli->arena, &cli->n_malts);
	return cli->malts != NULL ? AB_OK : cli_nomem(cli);
}
