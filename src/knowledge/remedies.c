/* remedies.c - "did it help?", of every change: what a remedy that was tried tells of the causes
 *
 * Made of what the rules say anyway: a change that takes a cause away for the greater part is a test for that
 * cause. Where the cause was at work and the change was tried, the fault is not there the next time with the
 * change's share, as far as it was carried out; where none of its causes was at work it is gone as often as faults
 * go by themselves. So "it helped" speaks for what the change acts on, and "it did not" against it, the more so the
 * more the change takes away.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <math.h>

/* What it takes of the cause at its best: of entries with conditions, too, for what a beer was like in which it was
 * tried is not told. */
static void add_cause(struct ab_check *remedy, const struct ab_prevents *prevents, double done_right)
{
	double p = prevents->share * done_right;

	for (size_t i = 0; i < remedy->n_yes; i++)
		if (remedy->yes[i].cause == prevents->cause) {
			remedy->yes[i].p = fmax(remedy->yes[i].p, p);
			return;
		}
	remedy->yes[remedy->n_yes++] = (struct ab_check_yes){ prevents->cause, p, prevents->source };
}

/* Out of memory is noted as compile_room does it. */
static const char *text_of(struct compiler *c, const char *text)
{
	c->lint->no_memory |= text == NULL;
	return text;
}

static void add_remedy(struct compiler *c, struct ab_change *change)
{
	const double *numbers = c->k->norms.numbers;
	struct ab_check *remedy = &c->k->checks[c->k->n_checks];

	change->remedy = (int)c->k->n_checks++;
	/* No id of the rules has a blank in it, so that the name is free. */
	remedy->id = text_of(c, ab_arena_printf(c->arena, "tried %s", change->id));
	remedy->title = text_of(c, ab_arena_printf(c->arena, "Tried: %s. Did it help?", change->title));
	remedy->how = change->how;
	remedy->base = numbers[AB_NUM_GONE_ANYWAY];
	remedy->answered_by = -1;
	remedy->told_only = true;
	remedy->line = change->line;
	remedy->file = change->file;
	remedy->yes = compile_room(c, change->n_prevents, sizeof *remedy->yes);
	for (size_t i = 0; remedy->yes != NULL && i < change->n_prevents; i++)
		add_cause(remedy, &change->prevents[i], numbers[AB_NUM_DONE_RIGHT]);
}

void compile_remedies(struct compiler *c)
{
	for (size_t i = 0; i < c->k->n_changes && !c->lint->no_memory; i++)
		add_remedy(c, &c->k->changes[i]);
}
