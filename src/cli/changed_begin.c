/* changed_begin.c - a change of the plan is begun: what it promises is filed, and then it is noted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/changed.h"

#include <math.h>
#include <string.h>

#include <afterboil/advice.h>
#include <afterboil/newbatch.h>

enum { MOST_TRIALS = 1 };

static enum ab_status pick(struct cli *cli, const struct ab_advice *a, const struct ab_item **out)
{
	double step = cli->o.step;
	int place = isnan(step) ? a->next : step <= (double)a->n_plan ? a->plan[(size_t)step - 1] : -1;

	if (place < 0 && (isnan(step) || a->n_plan == 0))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "the plan holds no change to begin; \"afterboil advise\" tells why");
	if (place < 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--step %.0f: the plan has %zu; \"afterboil advise\" lists them", step, a->n_plan);
	*out = &a->items[place];
	return AB_OK;
}

/* The next step is to brew the same again: then nothing is begun unless it is asked for by its number. */
static enum ab_status not_just_so(struct cli *cli, const struct ab_advice *a)
{
	for (size_t i = 0; isnan(cli->o.step) && i < a->n_steps; i++) {
		const struct ab_next_step *s = &a->steps[i];
		if (s->kind != AB_NEXT_SAME || !(s->well || s->item >= 0))
			continue;
		const char *beer = s->batch == NULL ? "it" : s->batch->line != NULL ? s->batch->line : s->batch->id;
		return s->well
		    ? ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
			  "nothing was begun: %s, so the next "
			  "step is to brew %.60s again just so; a change you want all the same is begun with "
			  "--step N (\"afterboil advise\" "
			  "lists them)",
			  s->by_word ? "by what the profile says nothing is wrong with your beer"
				     : "your newest beer was without a flaw",
			  beer)
		    : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
			  "nothing was begun: no beer of yours was tasted yet, so nobody can tell what to "
			  "change; a change you want all the same is begun with --step N (\"afterboil advise\" "
			  "lists them)");
	}
	return AB_OK;
}

/* Advice goes on naming a step until a batch was brewed with it: no reason to note it twice. */
static enum ab_status not_noted(struct cli *cli, const char *id)
{
	char date[24];

	for (AB_EACH(const struct ab_changed, c, cli->profile->changed))
		if (c->what != NULL && strcmp(c->what, id) == 0 &&
		    (c->line == NULL || (cli->o.line != NULL && strcmp(c->line, cli->o.line) == 0)))
			return ab_fail(&cli->diag, AB_EUSAGE, cli->o.profile, 0,
			    "%s is noted already, since %s; brew with it and taste, or name another with --step N", id,
			    ab_when_write(&c->on, date, sizeof date));
	return AB_OK;
}

void changed_warn_trial(struct cli *cli, const struct ab_when *on)
{
	const struct ab_changed *trial[MOST_TRIALS] = { NULL };
	const char *line;

	if (cli->profile == NULL)
		return;
	if (ab_line_on_trial(cli->profile, cli->batches, cli->n_batches, cli->o.line, on, trial, MOST_TRIALS) == 0)
		return;
	line = changed_told(cli, trial[0]);
	err_note("on trial already, and no batch with it tasted yet: %s; one change at a time teaches most",
	    line != NULL ? line : "another change");
}

/* Of one outside the plan only its own: it may ease a burden that no beer tastes of, or stand for a purchase. */
static const char *promised(struct cli *cli, const struct ab_advice *a, const struct ab_item *item)
{
	const char *eases = a->next_eases != NULL && item == &a->items[a->next]
	    ? ab_arena_printf(
		  cli->arena, "it eases what you named (%s); ", cli->k->chores[a->next_eases->chore].title)
	    : "";

	if (eases != NULL && item->chosen)
		return ab_arena_printf(cli->arena,
		    "%sby itself it brings the flaw load of a batch from %.2f to %.2f, the whole plan to %.2f",
		    eases, a->load_before, a->load_before - item->gain, a->load_after);
	return eases == NULL ? NULL
	    : item->gain >= 0.005
	    ? ab_arena_printf(cli->arena, "%sit brings the flaw load of a batch from %.2f to %.2f", eases,
		  a->load_before, a->load_before - item->gain)
	    : ab_arena_printf(cli->arena, "%sthe flaw load of a batch stays at %.2f", eases, a->load_before);
}

static enum ab_status say_begun(struct cli *cli, const struct ab_advice *a, const struct ab_item *item,
    const struct ab_changed *c)
{
	const char *caution = ab_item_caution(cli->k, item);
	const char *line = changed_told(cli, c), *what = promised(cli, a, item);
	const char *text = line == NULL || what == NULL
	    ? NULL
	    : ab_arena_printf(cli->arena,
		  "Begun, and noted in %s: %s\n%s%s%sPromised (an estimate): "
		  "%s.\nTo take it back: afterboil changed --undo\n",
		  cli->o.profile, line, caution != NULL ? "Take care: " : "", caution != NULL ? caution : "",
		  caution != NULL ? "\n" : "", what);

	return text == NULL ? cli_nomem(cli) : out_text(cli, text);
}

enum ab_status changed_begin(struct cli *cli)
{
	struct ab_changed c = { .line = cli->o.line, .text = "" };
	struct ab_case **cases;
	struct ab_advice *advice = NULL;
	const struct ab_item *item = NULL;
	enum ab_status st = changed_day(cli, &c.on);

	if (st == AB_OK)
		st = which_folder(cli, true);
	if (st == AB_OK && cli->profile == NULL)
		st = changed_find(cli);
	if (st == AB_OK)
		st = advise_work(cli, &cases, &advice);
	if (st == AB_OK)
		st = not_just_so(cli, advice);
	if (st == AB_OK)
		st = pick(cli, advice, &item);
	if (st != AB_OK)
		return st;
	c.what = cli->k->changes[item->change].id;
	st = not_noted(cli, c.what);
	if (st == AB_OK)
		st = advise_file(cli, cases, advice);
	if (st == AB_OK)
		st = changed_write(cli, &c);
	if (st != AB_OK)
		return st;
	work_warn_of(cli, cases, cli->n_batches);
	changed_warn_trial(cli, &c.on);
	return say_begun(cli, advice, item, &c);
}
