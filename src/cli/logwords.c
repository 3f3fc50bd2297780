/* logwords.c - what a line of afterboil log means beyond its words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/logwords.h"

#include <string.h>

#include "base/spelled.h"
#include "base/str.h"

enum ab_status log_which_volume(struct cli *cli, const struct ab_batch *batch, const char *words, struct ab_entry *entry)
{
	static const char *const planned[] = { "recipe", "plan", "planned", NULL };
	const char *first = ab_arena_strndup(cli->arena, words, strcspn(words, " "));
	bool plan = false;

	if (first == NULL)
		return cli_nomem(cli);
	for (const char *const *p = planned; *p != NULL; p++)
		plan = plan || ab_word_cmp(first, *p) == 0;
	if (plan || entry->n_sets != 1 || strcmp(entry->sets[0].target, "!recipe volume") != 0)
		return AB_OK;
	const char *value = entry->sets[0].value;
	if (batch->package != NULL) {
		struct ab_entry_set *set = ab_arena_alloc(cli->arena, 1, sizeof *set);
		if (set == NULL)
			return cli_nomem(cli);
		*set = (struct ab_entry_set){ "!package volume", value };
		entry->name = "package";
		entry->sets = set;
		entry->echo = ab_arena_printf(cli->arena, "packaging: volume %s", value);
		return entry->echo != NULL ? AB_OK : cli_nomem(cli);
	}
	if (batch->pitch == NULL || batch->recipe == NULL || !batch->recipe->volume_l.known)
		return AB_OK;
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "the recipe has a volume already, and the yeast is in; write \"recipe %.40s\" when the recipe "
	    "is to be changed, \"bottled %.40s\" when it is packaged, or \"note ...\" for what is in the fermenter", value, value);
}

/* What the touch wants to be told instead, with the batch's name in it. */
static const char *tell_of(struct cli *cli, const struct ab_touch *t, const char *id)
{
	const char *gap = t->tell == NULL ? NULL : strstr(t->tell, "BATCH");

	return gap == NULL ? NULL : ab_arena_printf(cli->arena, "afterboil %.*s%s%s", (int)(gap - t->tell), t->tell, id, gap + 5);
}

static enum ab_status no_touch(struct cli *cli, const char *said, const char *const *near, size_t n)
{
	const char *list = n > 0 ? near[0] : "";

	for (size_t i = 1; list != NULL && i < n; i++)
		list = ab_arena_printf(cli->arena, "%s\", \"%s", list, near[i]);
	for (size_t i = 0; n == 0 && list != NULL && i < cli->k->n_touches; i++)
		if (ab_touch_by_note(cli->k->touches[i].shown))
			list = ab_arena_printf(cli->arena, "%s%s%s", list, *list == '\0' ? "" : "\", \"", cli->k->touches[i].title);
	return list == NULL ? cli_nomem(cli) : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, n > 0
	    ? "done \"%.60s\": more than one is called so: \"%s\"" : "done \"%.60s\": the calendar has nothing of that name; what is told so "
	    "is \"%s\", and a note may say anything else", said, list);
}

enum ab_status log_which_touch(struct cli *cli, const struct ab_batch *batch, const char **words)
{
	const char *near[AB_ENTRY_WAYS], *said = ab_word_begins(*words, "done");
	size_t n_near;

	if (said == NULL)
		return AB_OK;
	said += strspn(said, ": ");
	if (*said == '\0')
		return AB_OK;
	/* "done bottling not yet" */
	if (ab_denies(said))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "\"%.60s\" says that it is not done; write \"note %.200s\" to keep it in your own words", *words, said);
	int at = ab_touch_word(cli->k, said, near, AB_ENTRY_WAYS, &n_near);
	if (at < 0)
		return no_touch(cli, said, near, n_near);
	const struct ab_touch *t = &cli->k->touches[at];
	const char *tell = tell_of(cli, t, batch->id);
	if (!ab_touch_by_note(t->shown))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "\"%s\" is done when what came of it is written down%s%s%s", t->title,
		    tell != NULL ? ", as in \"" : "", tell != NULL ? tell : "", tell != NULL ? "\"" : "");
	*words = ab_arena_printf(cli->arena, "done %s", t->title);
	return *words != NULL ? AB_OK : cli_nomem(cli);
}
