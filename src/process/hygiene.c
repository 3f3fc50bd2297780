/* hygiene.c - cleaning and sanitising of what touched cold wort and beer
 *
 * Each question is asked of every piece of gear in the journal, and of the profile's usual gear when the
 * journal lists none. Soil keeps any sanitiser from working, so it counts apart; what its label asks for: sanitiser.c.
 * A coil that went into the boil needs no sanitiser; every other chiller does.
 * One piece is enough for "yes, something was". "Nothing was" is said of everything (item "everything"), or taken,
 * as a guess, from three pieces or more (estimate: who tells of so many tells of the cleaning as a whole); one
 * piece tells of itself.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include "process/hygiene.h"
#include "process/words.h"

static const struct ab_plain rows[] = {
	AB_MANY(AB_F_SANITISE_DOSE, AB_FIELD_NUM, gear, ab_gear, label_share, 1, AB_TAKE_SMALLEST),
};

/* All or nothing: a journal that lists some gear was written by someone who looked, and mixing in the
 * usual would blame pieces that were not used. */
static struct kit find_kit(const struct ab_work *w)
{
	struct kit kit = { w->batch->gear, false };
	if (kit.gear.n == 0 && w->usual != NULL)
		kit = (struct kit){ w->usual->gear, true };
	return kit;
}

static bool has_kettle(const struct ab_list *gear)
{
	for (AB_EACH(struct ab_gear, g, *gear))
		if (g->item == AB_GEAR_KETTLE)
			return true;
	return false;
}

/* Without the kettle: wort boils in it, so how it was cleaned and sanitised neither blames nor clears anything. */
static struct ab_list off_the_boil(struct ab_work *w, const struct ab_list *gear)
{
	struct ab_list out = { .n = 0 };

	if (!has_kettle(gear))
		return *gear;
	struct ab_gear *items = ab_arena_alloc(w->arena, gear->n, sizeof *items);
	w->short_of_memory |= items == NULL;
	for (AB_EACH(struct ab_gear, g, items == NULL ? out : *gear))
		if (g->item != AB_GEAR_KETTLE)
			items[out.n++] = *g;
	out.items = items;
	return out;
}

static struct kit cold_kit(struct ab_work *w)
{
	struct kit kit = { off_the_boil(w, &w->batch->gear), false };

	if (kit.gear.n == 0 && w->usual != NULL)
		kit = (struct kit){ off_the_boil(w, &w->usual->gear), true };
	return kit;
}

/* A chiller of unknown kind is not held against anybody. */
static bool touches_cold(const struct ab_work *w, const struct ab_gear *g)
{
	if (g->item == AB_GEAR_CHILLER)
		return ab_word(w, AB_F_CHILL_METHOD) != AB_CHILL_COIL && ab_known(w, AB_F_CHILL_METHOD);
	return g->item != 0 && g->item != AB_GEAR_OTHER;
}

/* What a question of yes and no over all gear found: of whom it was said that it was not so. */
struct verdict { struct ab_basis yes, no; bool any_yes, all_no, piece[AB_GEAR_MAX_]; };

enum { MANY_PIECES = 3 };

static struct verdict verdict_new(void)
{
	return (struct verdict){ .yes = ab_basis_new(), .no = ab_basis_new() };
}

static void judge_yes(struct verdict *v, const struct ab_mark *mark, bool usual)
{
	v->any_yes = true;
	ab_rest_on(&v->yes, mark, usual);
}

/* Yes and no keep a basis each, so that the answer cites only the records that say so. */
static void judge(struct verdict *v, const struct ab_gear *g, bool usual, bool is)
{
	assert(g->item >= 0 && g->item < AB_GEAR_MAX_);
	if (is) {
		judge_yes(v, &g->mark, usual);
		return;
	}
	v->all_no |= g->item == AB_GEAR_ALL;
	v->piece[g->item] = true;
	ab_rest_on(&v->no, &g->mark, usual);
}

/* in_a_yes: the fact's value where it is so of one piece. */
static void set_verdict_as(struct ab_work *w, int slot, const struct verdict *v, double in_a_yes)
{
	struct ab_basis basis = v->yes;
	int pieces = 0;

	for (size_t i = 0; i < AB_GEAR_MAX_; i++)
		pieces += v->piece[i];
	if (v->any_yes)
		ab_set(w, slot, &basis, in_a_yes, 0, 'A', NULL);
	basis = v->no;
	if (v->any_yes || (!v->all_no && pieces < MANY_PIECES))
		return;
	if (!v->all_no) {
		basis.guess = true;
		basis.origin = AB_ORIGIN_ASSUMED;
	}
	ab_set(w, slot, &basis, 1 - in_a_yes, 0, v->all_no ? 'A' : 'C', v->all_no ? "said of everything"
	    : "so of %d kinds of kit that are told of; that it was of all is taken from them", pieces);
}

static void set_verdict(struct ab_work *w, int slot, const struct verdict *v)
{
	set_verdict_as(w, slot, v, 1);
}

/* Yes for one thing missed. An answer about pitching alone cannot say no. */
static void set_missed(struct ab_work *w, const struct kit *kit)
{
	const struct ab_batch *b = w->batch;
	struct verdict v = verdict_new();

	for (AB_EACH(struct ab_gear, g, kit->gear))
		if (g->sanitiser != 0 && touches_cold(w, g))
			judge(&v, g, kit->usual, g->sanitiser == AB_SANI_NONE);
	if (b->pitch != NULL && b->pitch->clean == AB_NO)
		judge_yes(&v, &b->pitch->mark, false);
	for (AB_EACH(struct ab_extra, e, b->recipe != NULL ? b->recipe->extras : (struct ab_list){ 0 }))
		if (e->sanitised == AB_NO)
			judge_yes(&v, &e->mark, false);
	set_verdict(w, AB_F_SANITISE_MISSED, &v);
}

/* One line tells one rinse. A sanitiser whose label asks for none has it for itself, as that is how it is used; of any
 * other the line speaks for both, surely of bleach, which asks for one as the cleaner does. */
static bool is_rinse_of_sanitiser(const struct ab_work *w, const struct ab_gear *g)
{
	const struct ab_sanitiser_norm *norm = g->sanitiser == AB_SANI_NONE ? NULL : ab_sanitiser_norm_of(w->norms,
	    g->sanitiser);

	return norm != NULL && norm->no_rinse;
}

/* Water leaves nothing behind. */
static void judge_left(struct verdict *left, const struct ab_work *w, const struct ab_gear *g, bool usual)
{
	bool kept = g->rinse == AB_RINSE_NONE;

	if (g->cleaned <= AB_AGENT_WATER || g->rinse == 0 || (kept && is_rinse_of_sanitiser(w, g)))
		return;
	judge(left, g, usual, kept);
	if (kept && g->sanitiser > AB_SANI_NONE && g->sanitiser != AB_SANI_BLEACH)
		left->yes.guess = true;
}

/* Bleach counts as cleaner and as sanitiser: either way it may leave chlorine. Percarbonate and caustic
 * are the strongly alkaline ones. */
static void set_agents(struct ab_work *w, const struct kit *kit)
{
	struct verdict rinsed = verdict_new(), bleach = rinsed, scented = rinsed, alkaline = rinsed,
	    left = rinsed;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		/* Rinsing what was never sanitised is only cleaning. */
		if (g->rinse != 0 && g->sanitiser != AB_SANI_NONE)
			judge(&rinsed, g, kit->usual, g->rinse == AB_RINSE_TAP);
		bool bleached = g->cleaned == AB_AGENT_BLEACH || g->sanitiser == AB_SANI_BLEACH;
		bool strong = g->cleaned == AB_AGENT_PERCARBONATE || g->cleaned == AB_AGENT_CAUSTIC;
		/* What only its cleaner is told of may have been sanitised with it; an unnamed cleaner may be it. */
		if (bleached || (g->sanitiser != 0 && g->cleaned != AB_AGENT_OTHER))
			judge(&bleach, g, kit->usual, bleached);
		if (g->cleaned == 0 || g->cleaned == AB_AGENT_OTHER)
			continue;
		judge_left(&left, w, g, kit->usual);
		judge(&scented, g, kit->usual, g->cleaned == AB_AGENT_SCENTED);
		judge(&alkaline, g, kit->usual, strong);
	}
	set_verdict(w, AB_F_SANITISE_RINSED_TAP, &rinsed);
	set_verdict(w, AB_F_SANITISE_BLEACH, &bleach);
	set_verdict(w, AB_F_CLEAN_SCENTED, &scented);
	set_verdict(w, AB_F_CLEAN_ALKALINE, &alkaline);
	set_verdict(w, AB_F_CLEAN_UNRINSED, &left);
}

/* Taps, wands and faucets hide soil inside: one that is never opened makes it no. Few pieces come apart, so one that is
 * taken apart speaks for the habit. */
static void set_dismantled(struct ab_work *w, const struct kit *kit)
{
	struct ab_basis open = ab_basis_new(), closed = open;
	bool any_open = false, any_closed = false;
	const struct ab_serve *serve = w->batch->serve;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (g->dismantled == AB_UNKNOWN)
			continue;
		*(g->dismantled == AB_NO ? &any_closed : &any_open) = true;
		ab_rest_on(g->dismantled == AB_NO ? &closed : &open, &g->mark, kit->usual);
	}
	if (serve != NULL && serve->faucet_dismantled != AB_UNKNOWN) {
		*(serve->faucet_dismantled == AB_NO ? &any_closed : &any_open) = true;
		ab_rest_on(serve->faucet_dismantled == AB_NO ? &closed : &open, &serve->mark, false);
	}
	if (any_open || any_closed)
		ab_set(w, AB_F_CLEAN_DISMANTLED, any_closed ? &closed : &open, !any_closed, 0, 'A', NULL);
}

static void set_soil(struct ab_work *w, const struct kit *kit)
{
	struct verdict soil = verdict_new();

	for (AB_EACH(struct ab_gear, g, kit->gear))
		if (g->soil != AB_UNKNOWN)
			judge(&soil, g, kit->usual, g->soil == AB_YES);
	set_verdict(w, AB_F_CLEAN_SOIL, &soil);
}

/* How the pieces are, the kettle too: rusty, smelling of what they held, not made for food. */
static void set_state(struct ab_work *w, const struct kit *kit)
{
	struct verdict rust = verdict_new(), smell = rust, no_food = rust;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (g->rusty != AB_UNKNOWN)
			judge(&rust, g, kit->usual, g->rusty == AB_YES);
		if (g->smells != AB_UNKNOWN)
			judge(&smell, g, kit->usual, g->smells == AB_YES);
		if (g->for_food != AB_UNKNOWN)
			judge(&no_food, g, kit->usual, g->for_food == AB_NO);
	}
	set_verdict(w, AB_F_GEAR_RUSTY, &rust);
	set_verdict(w, AB_F_GEAR_SMELLS, &smell);
	set_verdict_as(w, AB_F_GEAR_FOOD, &no_food, 0);
}

/* What has rubber or soft plastic in it, where soil hides as it ages; glass and steel do not count. */
static bool is_soft(int item)
{
	return item == AB_GEAR_TAP || item == AB_GEAR_HOSE || item == AB_GEAR_SIPHON ||
	    item == AB_GEAR_AIRLOCK || item == AB_GEAR_WAND || item == AB_GEAR_LINES;
}

static void set_soft_age(struct ab_work *w, const struct kit *kit)
{
	struct ab_told oldest = AB_LOOK_MANY(w, AB_FIELD_NUM, transfers, ab_transfer, hose_age_s, 1 / 86400.0,
	    AB_TAKE_LARGEST);

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (is_soft(g->item) && g->age_s.known && !(oldest.known && g->age_s.v / 86400 <= oldest.v))
			oldest = ab_told_num(&g->mark, &g->age_s, 1 / 86400.0, kit->usual);
	}
	ab_set_told(w, AB_F_GEAR_SOFT_AGE, &oldest);
}

/* Clean means washed and sanitised and no soil; one missing makes it no; silence about one leaves it
 * open. Several records of bottles may disagree; the last one that says anything stands, as it was
 * written last. */
static void set_bottles(struct ab_work *w, const struct kit *kit)
{
	struct ab_told washed = AB_LOOK_ONE(w, AB_FIELD_YESNO, package, bottles_washed, 1);

	bool bottled =
	    w->batch->package == NULL || w->batch->package->into == 0 || w->batch->package->into == AB_PACK_BOTTLES;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (g->item != AB_GEAR_BOTTLES && !(bottled && g->item == AB_GEAR_ALL))
			continue;
		bool no = g->sanitiser == AB_SANI_NONE || g->cleaned == AB_AGENT_NONE || g->soil == AB_YES;
		bool yes = g->sanitiser != 0 && (g->cleaned != 0 || (washed.known && washed.v > 0));
		struct ab_basis basis = ab_basis_new();
		ab_rest_on(&basis, &g->mark, kit->usual);
		if (no || (yes && !(washed.known && washed.v <= 0)))
			ab_set(w, AB_F_BOTTLES_CLEAN, &basis, !no, 0, 'A', NULL);
	}
	if (!ab_known(w, AB_F_BOTTLES_CLEAN))
		ab_set_told(w, AB_F_BOTTLES_CLEAN, &washed);
}

void ab_facts_hygiene(struct ab_work *w)
{
	struct kit kit = find_kit(w), cold = cold_kit(w);

	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	ab_facts_sanitiser(w, &cold);
	set_missed(w, &cold);
	set_agents(w, &cold);
	set_dismantled(w, &kit);
	set_soft_age(w, &cold);
	set_soil(w, &cold);
	set_state(w, &kit);
	set_bottles(w, &cold);
}
