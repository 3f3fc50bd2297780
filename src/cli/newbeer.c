/* newbeer.c - which beer the next batch is one of: known, new, or a slip of the name
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/making.h"

#include <string.h>

#include "base/record.h"
#include "base/savefile.h"

enum ab_status new_which_beer(struct cli *cli)
{
	char list[300] = "";
	size_t said = 0;

	for (size_t i = cli->n_batches; i-- > 0 && said < 4;) {
		const char *name = cli->batches[i]->line != NULL ? cli->batches[i]->line : cli->batches[i]->title;
		bool again = name == NULL || strlen(name) > 60 || strstr(list, name) != NULL;
		if (again)
			continue;
		strncat(list, said++ > 0 ? ", " : "; you brewed ", sizeof list - strlen(list) - 1);
		strncat(list, name, sizeof list - strlen(list) - 1);
	}
	return ab_fail(
	    &cli->diag, AB_EUSAGE, NULL, 0, "which beer? Write it like \"afterboil new House pale\"%s", list);
}

/* Of a beer that was brewed before, a name like that of this new one; NULL when there is none. */
static const char *near_beer(const struct making *m)
{
	const char *names[64] = { NULL };
	size_t n = 0;

	for (size_t i = m->cli->n_batches; i-- > 0 && n + 1 < sizeof names / sizeof *names;)
		if (m->cli->batches[i]->line != NULL)
			names[n++] = m->cli->batches[i]->line;
	return m->b.line != NULL ? ab_nearest(m->b.line, names) : NULL;
}

/* As it was written by the brewer, without the number of the brew. */
static const char *beer_name(const struct making *m, const char *line)
{
	const struct ab_batch *b = ab_line_find(m->cli->batches, m->cli->n_batches, line, m->cli->arena);
	const char *name = b != NULL && b->title != NULL
	    ? ab_arena_strndup(m->cli->arena, b->title, strcspn(b->title, ","))
	    : line;

	return name != NULL ? name : line;
}

/* A name like one that is there may be a slip: asked before anything is written; where nobody can be asked it must
 * be said. */
static enum ab_status settle_near(struct making *m)
{
	struct cli *cli = m->cli;
	const char *line = m->b.like == NULL && !cli->o.force ? near_beer(m) : NULL;
	const char *name = line != NULL ? beer_name(m, line) : NULL;
	bool yes = false;

	if (name == NULL)
		return AB_OK;
	if (!talk_is_terminal())
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "no beer here is called \"%.60s\"; did you mean \"%.60s\"? Write that, or add --force "
		    "when it is a beer of its own",
		    m->beer, name);
	enum ab_status st = aside_yes(cli,
	    ab_arena_printf(cli->arena,
		"No beer here is called \"%.60s\". Did you mean \"%.60s\"? yes, or no when it is "
		"a beer of its own",
		m->beer, name),
	    &yes);
	if (st != AB_OK || !yes)
		return st;
	m->beer = name;
	m->b = (struct ab_newbatch){ .profile = m->b.profile,
		.brewed = m->b.brewed,
		.volume = m->b.volume,
		.volume_text = m->b.volume_text };
	return new_choose_beer(m);
}

static enum ab_status load_like(struct making *m)
{
	const struct ab_batch *like = m->b.like;
	size_t len = 0;

	if (like == NULL)
		return AB_OK;
	enum ab_status st = ab_loadfile(like->source, AB_JOURNAL_LIMIT, &m->like_text, &len, &m->cli->diag);
	m->b.like_text = m->like_text;
	m->b.like_len = len;
	return st;
}

enum ab_status new_choose_beer(struct making *m)
{
	struct cli *cli = m->cli;
	enum ab_status st = AB_OK;
	const struct ab_batch *same = ab_line_find(cli->batches, cli->n_batches, m->beer, cli->arena);
	const char *slug = ab_newbatch_slug(cli->arena, m->beer);

	m->b.like = same;
	if (cli->o.like != NULL)
		st = which_batch(cli, cli->o.like, &m->b.like);
	if (st != AB_OK)
		return st;
	if (slug == NULL)
		return cli_nomem(cli);
	m->b.title = m->beer;
	if (same != NULL && same->title != NULL) {
		/* "House pale, sixth" was the sixth. */
		m->b.title = ab_arena_strndup(cli->arena, same->title, strcspn(same->title, ","));
		if (m->b.title == NULL)
			return cli_nomem(cli);
	}
	m->b.line = same != NULL && same->line != NULL ? same->line : slug[0] != '\0' ? slug : NULL;
	m->stem = same != NULL ? ab_newbatch_stem(cli->arena, same->id) : slug[0] != '\0' ? slug : "batch";
	if (m->stem == NULL)
		return cli_nomem(cli);
	st = settle_near(m);
	if (st != AB_OK || m->settled)
		return st;
	m->settled = true;
	if (m->b.like != NULL && m->b.like->family > 0)
		m->b.family = ab_words_family[m->b.like->family - 1];
	st = aside_family(cli, &m->b.family);
	return st == AB_OK ? load_like(m) : st;
}
