/* logwords.c - what a line of afterboil log means beyond its words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/logwords.h"

#include <string.h>

#include "base/spelled.h"
#include "base/str.h"

enum ab_status log_which_volume(
    struct cli *cli, const struct ab_batch *batch, const char *words, struct ab_entry *entry)
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
		*set = (struct ab_entry_set){ "!package volume", value, false };
		entry->name = "package";
		entry->sets = set;
		entry->echo = ab_arena_printf(cli->arena, "packaging: volume %s", value);
		return entry->echo != NULL ? AB_OK : cli_nomem(cli);
	}
	if (batch->pitch == NULL || batch->recipe == NULL || !batch->recipe->volume_l.known)
		return AB_OK;
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
	    "the recipe has a volume already, and the yeast is in; write \"recipe %.40s\" when the recipe "
	    "is to be changed, \"bottled %.40s\" when it is packaged, or \"note ...\" for what is in the fermenter",
	    value, value);
}

static const char *named(struct cli *cli, const char *tell, const char *id)
{
	const char *gap = tell == NULL ? NULL : strstr(tell, "BATCH");

	return gap == NULL
	    ? NULL
	    : ab_arena_printf(cli->arena, "afterboil %.*s%s%s", (int)(gap - tell), tell, id, gap + 5);
}

/* What the touch wants to be told instead, with the batch's name in it: in each way there is. */
static const char *tell_of(struct cli *cli, const struct ab_touch *t, const char *id)
{
	const char *all = named(cli, t->tell, id);

	for (size_t i = 0; all != NULL && i < t->n_tells; i++) {
		const char *one = named(cli, t->tells[i].says, id);
		all = one == NULL ? all : ab_arena_printf(cli->arena, "%s\" or \"%s", all, one);
	}
	return all;
}

static enum ab_status no_touch(struct cli *cli, const char *said, const char *const *near, size_t n)
{
	const char *list = n > 0 ? near[0] : "";

	for (size_t i = 1; list != NULL && i < n; i++)
		list = ab_arena_printf(cli->arena, "%s\", \"%s", list, near[i]);
	for (size_t i = 0; n == 0 && list != NULL && i < cli->k->n_touches; i++)
		if (ab_touch_by_note(cli->k->touches[i].shown))
			list = ab_arena_printf(
			    cli->arena, "%s%s%s", list, *list == '\0' ? "" : "\", \"", cli->k->touches[i].title);
	return list == NULL ? cli_nomem(cli)
			    : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
				  n > 0 ? "done \"%.60s\": more than one is called so: \"%s\""
					: "done \"%.60s\": the calendar has nothing of that name; what is told so "
					  "is \"%s\", and a note may say anything else",
				  said, list);
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
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "\"%.60s\" says that it is not done; write \"note %.200s\" to keep it in your own words",
		    *words, said);
	int at = ab_touch_word(cli->k, said, near, AB_ENTRY_WAYS, &n_near);
	if (at < 0)
		return no_touch(cli, said, near, n_near);
	const struct ab_touch *t = &cli->k->touches[at];
	const char *tell = tell_of(cli, t, batch->id);
	if (!ab_touch_by_note(t->shown))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "\"%s\" is done when what came of it is written down%s%s%s", t->title,
		    tell != NULL ? ", as in \"" : "", tell != NULL ? tell : "", tell != NULL ? "\"" : "");
	*words = ab_arena_printf(cli->arena, "done %s", t->title);
	return *words != NULL ? AB_OK : cli_nomem(cli);
}

/* Which change of the rules, if any: then it is written by its id, which is what advice and trend go by. */
static enum ab_status name_change(struct cli *cli, struct ab_entry *entry, const char **id)
{
	const char *words = entry->text, *safe;
	size_t n;
	int place = ab_change_word(cli->k, words, NULL, 0, &n);

	*id = place < 0 ? NULL : cli->k->changes[place].id;
	if (place < 0)
		return AB_OK;
	safe = ab_entry_escaped(cli->arena, words);
	entry->element =
	    safe == NULL ? NULL : ab_arena_printf(cli->arena, "<change what=\"%s\">%s</change>", *id, safe);
	entry->echo = ab_arena_printf(cli->arena, "%s (%s)", entry->echo, cli->k->changes[place].title);
	return entry->element == NULL || entry->echo == NULL ? cli_nomem(cli) : AB_OK;
}

/* A remedy stays in the brewer's words; whether the rules know what is meant is said, for only then does it tell
 * anything. */
static enum ab_status name_remedy(struct cli *cli, struct ab_entry *entry)
{
	size_t n;
	int place = ab_change_word(cli->k, entry->text, NULL, 0, &n);

	entry->echo = ab_arena_printf(cli->arena, "%s (%s)", entry->echo, place >= 0 ? cli->k->changes[place].title
	    : "kept in your words; it is none of the changes known here, so that it tells nothing");
	return entry->echo == NULL ? cli_nomem(cli) : AB_OK;
}

static enum ab_status say_noted(
    struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry, const struct ab_changed *c)
{
	char date[24];
	const char *where = c == NULL ? "in its journal" : ab_arena_printf(cli->arena, "in the profile, since %s",
	    ab_when_write(&c->on, date, sizeof date));
	char *line = where == NULL ? NULL
				   : ab_arena_printf(cli->arena, "%s: %s: already noted %s; it counts once\n",
					 batch->id, entry->echo, where);

	return line == NULL ? cli_nomem(cli) : out_text(cli, line);
}

/* *noted: in the journal, or in the profile and in force when this was brewed; that was said then. */
static enum ab_status look_up(struct cli *cli, const struct ab_batch *batch, struct ab_entry *e, bool *noted)
{
	const char *id;
	enum ab_status st = name_change(cli, e, &id);

	if (st != AB_OK)
		return st;
	const struct ab_changed *c =
	    noted_in_batch(cli, batch, id, e->text) ? NULL : noted_in_profile(cli, id, e->text, batch->line, NULL);
	*noted = c != NULL ? noted_for_brew(batch, c) : noted_in_batch(cli, batch, id, e->text);
	return *noted ? say_noted(cli, batch, e, c) : AB_OK;
}

enum ab_status log_which_change(struct cli *cli, const struct ab_batch *batch, struct ab_entry **entry)
{
	enum ab_status st = AB_OK;

	for (struct ab_entry **at = entry; st == AB_OK && *at != NULL;) {
		bool noted = false;
		if (strcmp((*at)->name, "change") == 0 && (*at)->text != NULL)
			st = look_up(cli, batch, *at, &noted);
		if (strcmp((*at)->name, "tried") == 0 && (*at)->text != NULL)
			st = name_remedy(cli, *at);
		if (noted)
			*at = (*at)->next;
		else
			at = &(*at)->next;
	}
	return st;
}
