/* noted.c - a change that is noted already, in the profile or in a journal, is not noted a second time
 *
 * Noted twice it would be two changes to a trend, neither to be told from the other.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "base/str.h"

enum { DAY = 86400 };

static bool same_change(const char *what, const char *text, const char *id, const char *words)
{
	if (what != NULL || id != NULL)
		return what != NULL && id != NULL && strcmp(what, id) == 0;
	return text != NULL && words != NULL && ab_word_cmp(text, words) == 0;
}

static bool same_line(const char *line, const char *wanted)
{
	return line == NULL || (wanted != NULL && strcmp(line, wanted) == 0);
}

static double day_of(const struct ab_when *at)
{
	return floor(at->s / DAY);
}

const struct ab_changed *noted_in_profile(const struct cli *cli, const char *id, const char *words, const char *line,
    const struct ab_when *on)
{
	if (cli->profile != NULL)
		for (AB_EACH(const struct ab_changed, c, cli->profile->changed))
			if (same_change(c->what, c->text, id, words) && same_line(c->line, line) &&
			    (on == NULL || day_of(on) == day_of(&c->on)))
				return c;
	return NULL;
}

/* A journal written by hand may say it in words that the rules know. */
static const char *id_of(const struct ab_knowledge *k, const char *what, const char *text)
{
	size_t n;
	int place = what == NULL && text != NULL ? ab_change_word(k, text, NULL, 0, &n) : -1;

	return place >= 0 ? k->changes[place].id : what;
}

bool noted_in_batch(const struct cli *cli, const struct ab_batch *b, const char *id, const char *words)
{
	for (AB_EACH(const struct ab_change_note, note, b->changes))
		if (note->adopted != AB_NO && same_change(id_of(cli->k, note->what, note->text), note->text, id, words))
			return true;
	return false;
}

const struct ab_batch *noted_in_journals(
    const struct cli *cli, const char *id, const char *words, const struct ab_when *on, const char *line)
{
	for (size_t i = 0; i < cli->n_batches; i++) {
		const struct ab_batch *b = cli->batches[i];
		bool of_line = line == NULL || (b->line != NULL && strcmp(b->line, line) == 0);
		if (of_line && b->brewed.known && day_of(&b->brewed) <= day_of(on) && noted_in_batch(cli, b, id, words))
			return b;
	}
	return NULL;
}

bool noted_for_brew(const struct ab_batch *b, const struct ab_changed *c)
{
	return b->brewed.known && c->on.known && day_of(&b->brewed) >= day_of(&c->on);
}
