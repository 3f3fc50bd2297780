/* asides.c - what a command asks on the way, of whoever sits at a terminal: is that day right, which of these is meant
 *
 * Where nobody can be asked, the same is said on standard error, and what cannot be decided is an error.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <afterboil/plainwords.h>
#include "base/str.h"

enum { A_DAY = 86400 };

void aside_now(struct ab_when *when)
{
	time_t t = time(NULL);
	struct tm local;

	*when = (struct ab_when){ 0 };
	if (localtime_r(&t, &local) == NULL)
		return;
	when->known = true;
	when->s = ab_when_from_civil(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday) +
	    local.tm_hour * 3600.0 + local.tm_min * 60.0;
}

/* A line from the terminal; false when it ended, or was no text. */
static bool hear(struct cli *cli, const char *question, char *line)
{
	return out_text(cli, question) == AB_OK && out_text(cli, "\n") == AB_OK && talk_ask(cli, line) == TALK_LINE;
}

static bool is_yes(const char *line)
{
	return ab_word_cmp(line, "y") == 0 || ab_word_cmp(line, "yes") == 0;
}

enum ab_status aside_yes(struct cli *cli, const char *question, bool *yes)
{
	char line[TALK_LONGEST + 1] = "";

	*yes = false;
	if (question == NULL)
		return cli_nomem(cli);
	if (!hear(cli, question, line) || line[0] == '\0')
		return cli->diag.status != AB_OK ? cli->diag.status
						 : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was written");
	*yes = is_yes(line);
	return AB_OK;
}

/* The yeast of that name in the brews there are, which all that tell its class tell alike; NULL when there is none. */
static const struct ab_yeast *same_strain(const struct cli *cli, const char *said)
{
	const struct ab_yeast *found = NULL;

	for (size_t i = 0; i < cli->n_batches; i++)
		for (AB_EACH(const struct ab_yeast, y, cli->batches[i]->yeasts)) {
			if (y->strain == NULL || y->klass == NULL || ab_word_cmp(y->strain, said) != 0)
				continue;
			if (found != NULL && strcmp(found->klass, y->klass) != 0)
				return NULL;
			found = y;
		}
	return found;
}

static const char *plain_word(void *ctx, const char *attr, const char *said)
{
	const struct cli *cli = ctx;
	bool strain = strcmp(attr, "strain") == 0;
	const char *word = strain ? NULL : ab_plain_word(cli->k, attr, said);
	/* What names a class is one, whatever a packet is called. */
	const struct ab_yeast *same = word == NULL && (strain || strcmp(attr, "class") == 0) &&
	    ab_plain_word(cli->k, "class", said) == NULL ? same_strain(cli, said) : NULL;

	return same == NULL ? word : strain ? same->strain : same->klass;
}

static const char *plain_choice(void *ctx, const char *attr, size_t i)
{
	return ab_plain_choice(((struct cli *)ctx)->k, attr, i);
}

struct ab_entry_help aside_help(struct cli *cli, struct ab_entry_doubt *doubt)
{
	return (struct ab_entry_help){ .units = cli->profile != NULL ? cli->profile->units : 0, .word = plain_word,
		.choice = plain_choice, .ctx = cli, .doubt = doubt, .words = cli->malts, .n_words = cli->n_malts };
}

static bool is_future(const struct ab_when *when)
{
	struct ab_when now;

	aside_now(&now);
	return when->known && !when->relative && now.known && when->s - now.s > A_DAY;
}

void aside_future_said(const struct ab_when *when, const char *what)
{
	char day[32];

	if (is_future(when) && !talk_is_terminal())
		err_note("%s is in the future: %s was written down as it was said; take it back if the date is a slip",
		    ab_when_write(when, day, sizeof day), what);
}

enum ab_status aside_future(struct cli *cli, const struct ab_when *when)
{
	char line[TALK_LONGEST + 1], day[32];

	if (!is_future(when) || !talk_is_terminal())
		return AB_OK;
	ab_when_write(when, day, sizeof day);
	const char *question = ab_arena_printf(cli->arena, "%s is in the future. Is that right? yes or no", day);
	if (question == NULL)
		return cli_nomem(cli);
	return hear(cli, question, line) && is_yes(line) ? AB_OK
	    : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was written: %s is in the future", day);
}

enum ab_status aside_which(struct cli *cli, const char *const *ways, size_t n, size_t *out)
{
	char line[TALK_LONGEST + 1], *end;

	*out = n;
	for (size_t i = 0; i < n; i++) {
		char *text = ab_arena_printf(cli->arena, "  %zu) %s", i + 1, ways[i]);
		if (text == NULL)
			return cli_nomem(cli);
		ab_text_scrub(text);
		if (out_text(cli, text) != AB_OK || out_text(cli, "\n") != AB_OK)
			return cli->diag.status;
	}
	if (!hear(cli, "Which of these? Its number; Enter for none.", line) || line[0] == '\0')
		return cli->diag.status;
	long number = strtol(line, &end, 10);
	if (*end == '\0' && number >= 1 && (size_t)number <= n)
		*out = (size_t)number - 1;
	return AB_OK;
}

/* ---- which kind of beer ---- */

static enum ab_status no_family(struct cli *cli, const char *said)
{
	const char *list = ab_family_choice(0);

	for (size_t i = 1; list != NULL && ab_family_choice(i) != NULL; i++)
		list = ab_arena_printf(cli->arena, "%s; %s", list, ab_family_choice(i));
	return list == NULL ? cli_nomem(cli)
			    : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
				  "--family %.40s: there is no such kind of beer; there are %s", said, list);
}

static enum ab_status say_families(struct cli *cli)
{
	enum ab_status st = out_text(cli, "What kind of beer is it? What is normal in it hangs on that.\n");

	for (size_t i = 0; st == AB_OK && ab_family_choice(i) != NULL; i++) {
		const char *line = ab_arena_printf(cli->arena, "  %zu) %s\n", i + 1, ab_family_choice(i));
		st = line != NULL ? out_text(cli, line) : cli_nomem(cli);
	}
	return st;
}

enum ab_status aside_family(struct cli *cli, const char **family)
{
	char line[TALK_LONGEST + 1];
	bool unknown = false;

	if (cli->o.family != NULL) {
		*family = ab_family_said(cli->o.family, &unknown);
		return *family != NULL ? AB_OK : no_family(cli, cli->o.family);
	}
	if (*family != NULL || !talk_is_terminal())
		return AB_OK;
	enum ab_status st = say_families(cli);
	while (st == AB_OK && *family == NULL && !unknown) {
		/* What ended is no answer, and no reason to begin no journal. */
		if (!hear(cli, "Its number or its name; Enter when you do not know.", line))
			return cli->diag.status;
		*family = ab_family_said(line, &unknown);
		if (*family == NULL && !unknown)
			st = out_text(cli, "  That is none of them. Its number, or words of it, such as \"wheat\".\n");
	}
	return st;
}
