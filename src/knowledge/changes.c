/* changes.c - changes and checks of the rules, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "base/str.h"

/* ---- changes ---- */

/* to= says what the fact becomes; at-most= and at-least= only better it, so that a brewer who is better
 * already loses nothing by the change. */
static void add_sets(struct compiler *c, const struct raw_change *raw, struct ab_change *change)
{
	static const char *const attr[] = { "to", "at-most", "at-least" };
	const struct raw_sets *items = raw->sets.items;
	change->sets = compile_room(c, raw->sets.n, sizeof *change->sets);
	for (size_t i = 0; change->sets != NULL && i < raw->sets.n; i++) {
		const char *text[] = { items[i].to, items[i].at_most, items[i].at_least };
		struct ab_sets *sets = &change->sets[change->n_sets];
		long line = items[i].mark.line;
		int slot = compile_slot(c, items[i].fact, line), mode = 0;
		if (slot < 0)
			continue;
		if ((text[0] != NULL) + (text[1] != NULL) + (text[2] != NULL) != 1) {
			compile_wrong(c, line, "<sets> needs one of to=, at-most=, at-least=");
			continue;
		}
		/* Ends, for just one of the three is there. */
		while (text[mode] == NULL)
			mode++;
		if (mode > 0 && c->facts->defs[slot].kind != AB_FACT_NUMBER)
			compile_wrong(c, line, "fact \"%s\" is no number: set it with to=", items[i].fact);
		if (!compile_value(c, slot, attr[mode], text[mode], line, &sets->value))
			continue;
		sets->slot = slot;
		sets->mode = mode == 0 ? AB_SET_TO : mode == 1 ? AB_SET_AT_MOST : AB_SET_AT_LEAST;
		sets->source = compile_source(c, items[i].source, line);
		change->n_sets++;
	}
}

/* The share serves where the fact is not known, for then there is nothing to replay. */
static void add_prevents(struct compiler *c, const struct raw_change *raw, struct ab_change *change)
{
	const struct raw_share *items = raw->prevents.items;
	change->prevents = compile_room(c, raw->prevents.n, sizeof *change->prevents);
	for (size_t i = 0; change->prevents != NULL && i < raw->prevents.n; i++) {
		/* A cause that is not there has been told; the rest of the change is still compiled, so
		 * that one lint shows all of its mistakes. */
		int cause = compile_ref(c, RAW_CAUSE, items[i].cause, items[i].mark.line);
		if (cause < 0)
			continue;
		change->prevents[change->n_prevents++] = (struct ab_prevents){ cause, items[i].p.v,
		    compile_conds(c, &items[i].whens),
		    compile_source(c, items[i].source, items[i].mark.line) };
	}
}

static size_t add_refs(struct compiler *c, const struct ab_list *list, int **out)
{
	const struct raw_ref *items = list->items;
	size_t n = 0;
	*out = compile_room(c, list->n, sizeof **out);
	for (size_t i = 0; *out != NULL && i < list->n; i++) {
		int change = compile_ref(c, RAW_CHANGE, items[i].change, items[i].mark.line);
		if (change >= 0)
			(*out)[n++] = change;
	}
	return n;
}

static void add_not_after(struct compiler *c, const struct ab_list *list, struct ab_change *change)
{
	const struct raw_after *items = list->items;

	change->not_after = compile_room(c, list->n, sizeof *change->not_after);
	for (size_t i = 0; change->not_after != NULL && i < list->n; i++) {
		int fault = compile_ref(c, RAW_FAULT, items[i].fault, items[i].mark.line);

		if (fault >= 0)
			change->not_after[change->n_not_after++] = (struct ab_not_after){ fault,
				compile_source(c, items[i].source, items[i].mark.line) };
	}
}

/* The lists of words belong to the journal, a room this one must not know: the caller hands them over.
 * Without them (a test, a lint of one file) space counts as none. */
static int space_of(struct compiler *c, const struct raw_change *raw)
{
	if (raw->space == NULL || c->vocabulary == NULL || c->vocabulary->spaces == NULL)
		return 0;
	int word = compile_word(c, "space", raw->space, c->vocabulary->spaces, raw->head.mark.line);
	return word > 0 ? word - 1 : 0;
}

/* Money is in the currency of the rules' own prices; a profile's price replaces it later. */
static void set_costs(const struct raw_change *raw, struct ab_change *change)
{
	change->cost = raw->cost.v;
	change->running_per_batch = raw->running.v;
	change->running_per_year = raw->running_per_year.v;
	change->minutes = raw->minutes.v;
	change->once_minutes = raw->once_minutes.v;
	change->over_room_k = raw->over_room_k.known ? raw->over_room_k.v : (double)NAN;
	change->slowest_days = raw->slowest_s.known ? raw->slowest_s.v / (24 * 3600) : (double)NAN;
	change->attend_h = raw->attend_s.known ? raw->attend_s.v / 3600 : (double)INFINITY;
}

static bool eases_a_chore(const struct compiler *c, const char *id)
{
	for (size_t i = 0; i < c->all->kinds[RAW_CHORE].n; i++) {
		const struct raw_chore *chore = RAW_AT(const struct raw_chore, c->all, RAW_CHORE, i);
		const struct raw_ease *eases = chore->eases.items;

		for (size_t j = 0; j < chore->eases.n; j++)
			if (strcmp(eases[j].change, id) == 0)
				return true;
	}
	return false;
}

void compile_change(struct compiler *c, const struct raw_change *raw, struct ab_change *change)
{
	c->file = raw->head.file;
	change->id = raw->head.id;
	change->title = compile_text(raw->title);
	change->how = compile_text(raw->how);
	change->caution = compile_text(raw->caution);
	change->cautions =
	    compile_tells(c, &raw->cautions, "caution", change->caution, change->id, &change->n_cautions);
	change->group = raw->group;
	change->habit = raw->kind == 1;
	change->noisy = raw->noisy == AB_YES;
	change->smoky = raw->smoky == AB_YES;
	change->side = (enum ab_side)(raw->side - 1);
	change->stage = raw->stage - 1;
	change->line = raw->head.mark.line;
	change->file = raw->head.file;
	change->space = space_of(c, raw);
	change->source = compile_source(c, raw->head.source, change->line);
	set_costs(raw, change);
	change->n_words = compile_names(c, &raw->words, "change", change->id, 0, NULL, &change->words);
	if (change->title == NULL)
		compile_wrong(c, change->line, "<title> of change \"%s\" is empty", change->id);
	/* Habits head the advice because they are free: a paid habit would be bought before the budget is
	 * asked. */
	if (change->habit && change->cost > 0)
		compile_wrong(c, change->line,
		    "change \"%s\" is a habit, and a habit is free: cost must be 0, or kind=\"upgrade\"",
		    change->id);
	/* Advice and not an error: a rule that is being written may be left so for a while. What eases a chore is
	 * listed there, and what saves time is chosen by who wants that. */
	if (raw->sets.n == 0 && raw->prevents.n == 0 && !(change->minutes < 0) && !eases_a_chore(c, change->id))
		compile_advise(c, change->line,
		    "change \"%s\" prevents no cause, sets no fact, saves no time and eases no chore: no plan will "
		    "choose it, it can only be noted",
		    change->id);
	add_sets(c, raw, change);
	add_prevents(c, raw, change);
	change->n_needs = add_refs(c, &raw->needs, &change->needs);
	compile_or_things(c, raw, change);
	change->n_excludes = add_refs(c, &raw->excludes, &change->excludes);
	compile_spares(c, raw, change);
	assert(change->n_sets <= raw->sets.n && change->n_prevents <= raw->prevents.n);
	/* Each entry holds conditions that must all be met; one entry met is enough. */
	change->only_for = compile_alternatives(c, &raw->only_for);
	change->n_only_for = raw->only_for.n;
	change->not_for = compile_alternatives(c, &raw->not_for);
	change->n_not_for = raw->not_for.n;
	change->practices = compile_alternatives(c, &raw->practices);
	change->n_practices = raw->practices.n;
	add_not_after(c, &raw->not_after, change);
}

/* ---- checks ---- */

/* p is the chance that this cause alone makes the answer yes; several join as a noisy-or, so a second entry
 * for one cause would count it twice. */
static void add_yes(struct compiler *c, const struct raw_check *raw, struct ab_check *check)
{
	const struct raw_share *items = raw->yes.items;
	check->yes = compile_room(c, raw->yes.n, sizeof *check->yes);
	for (size_t i = 0; check->yes != NULL && i < raw->yes.n; i++) {
		int cause = compile_ref(c, RAW_CAUSE, items[i].cause, items[i].mark.line);
		if (cause < 0)
			continue;
		for (size_t j = 0; j < check->n_yes; j++)
			if (check->yes[j].cause == cause)
				compile_wrong(c, items[i].mark.line,
				    "cause \"%s\" stands a second time in check \"%s\"", items[i].cause,
				    raw->head.id);
		check->yes[check->n_yes++] = (struct ab_check_yes){ cause, items[i].p.v,
			compile_source(c, items[i].source, items[i].mark.line) };
	}
}

/* about="haze-chill haze-biological" */
static void add_about(struct compiler *c, const struct raw_check *raw, struct ab_check *check)
{
	const char *text = raw->about;
	char id[72];
	size_t n = 0;
	if (text == NULL)
		return;
	check->about = compile_room(c, strlen(text) / 2 + 1, sizeof *check->about);
	for (; check->about != NULL && compile_next(&text, id, sizeof id); n++) {
		int fault = compile_ref(c, RAW_FAULT, id, raw->head.mark.line);
		if (fault >= 0)
			check->about[check->n_about++] = fault;
	}
	if (n == 0)
		compile_wrong(c, raw->head.mark.line, "about=\"\" names no fault");
}

void compile_check(struct compiler *c, const struct raw_check *raw, struct ab_check *check)
{
	enum { DAY = 86400 };
	c->file = raw->head.file;
	check->id = raw->head.id;
	check->title = compile_text(raw->title);
	check->how = compile_text(raw->how);
	check->if_yes = compile_text(raw->if_yes);
	check->if_no = compile_text(raw->if_no);
	check->caution = compile_text(raw->caution);
	check->minutes = raw->minutes.v;
	check->cost = raw->cost.v;
	/* Days, since waiting is weighed in days where minutes of work are weighed in minutes. */
	check->wait_days = raw->wait_s.v / DAY;
	check->base = raw->base.v;
	check->answered_by = raw->answered_by == NULL ? -1 : compile_slot(c, raw->answered_by,
	    raw->head.mark.line);
	check->stalls = raw->stalls == AB_YES;
	check->marked = raw->marked;
	check->spared = raw->spared;
	check->line = raw->head.mark.line;
	check->file = raw->head.file;
	check->source = compile_source(c, raw->head.source, check->line);
	if (check->title == NULL || check->how == NULL)
		compile_wrong(c, check->line, "check \"%s\" needs a <title> and a <how>, neither empty",
		    check->id);
	/* base is the chance of a yes from none of the causes listed. */
	if (!(check->base > 0 && check->base < 1))
		compile_wrong(c, check->line,
		    "base of check \"%s\" must be above 0 and below 1, else an answer could be impossible",
		    check->id);
	add_yes(c, raw, check);
	add_about(c, raw, check);
	check->only_for = compile_alternatives(c, &raw->only_for);
	check->n_only_for = raw->only_for.n;
}
