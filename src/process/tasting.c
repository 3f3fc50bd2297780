/* tasting.c - what tastings say about behaviour: growth, spread, when it came
 *
 * In words first; else from the same fault's intensity at the first and the last of dated tastings a week or
 * more apart: a whole step is growth or fading (grade C, people differ). Judged absent counts as nothing
 * found. Extent "first half" or "last half" means that bottles differ.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <string.h>
#include "process/dryhop.h"
#include "process/words.h"

static const double TREND_H = 7 * 24;
enum { LEXICON = 32 };   /* words kept; more are looked up again */

/* Yes and no collect a basis each, so that the answer cites only the records behind it. One yes
 * outweighs any number of no: each "no" only says that it was not met in that glass. */
struct answer { struct ab_basis yes, no; bool any_yes, any_no; };

static struct answer answer_new(void)
{
	return (struct answer){ ab_basis_new(), ab_basis_new(), false, false };
}

static void say(struct answer *a, const struct ab_mark *mark, bool is)
{
	*(is ? &a->any_yes : &a->any_no) = true;
	ab_rest_on(is ? &a->yes : &a->no, mark, false);
}

/* Grade 0 = told in words, so "measured"; a grade means we concluded it. */
static void set_answer(struct ab_work *w, int slot, struct answer *a, char grade)
{
	struct ab_basis *basis = a->any_yes ? &a->yes : &a->no;

	if (!a->any_yes && !a->any_no)
		return;
	if (grade == 0)
		basis->origin = AB_ORIGIN_MEASURED;
	ab_set(w, slot, basis, a->any_yes, 0, grade, NULL);
}

static bool any_of_finished(const struct ab_batch *b)
{
	for (AB_EACH(struct ab_tasting, t, b->tastings))
		if (ab_is_of_finished(t))
			return true;
	return false;
}

/* Stays told by their length alone were told up to the tasting. The beer without dates still has an age
 * if its owner told how long it stood. */
static void set_undated_age(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();

	if (isfinite(w->found_after_h) || !any_of_finished(w->batch) || !ab_known(w, AB_F_STORE_DAYS))
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_STORE_DAYS]);
	ab_set(w, AB_F_TASTE_AGE, &basis, ab_value(w, AB_F_STORE_DAYS), 1, 'B',
	    "the stays told, up to the tasting");
}

/* Only the tasting asked about is cited, as it is the age that counts. */
static struct ab_basis basis_of(const struct ab_work *w, double when_h, double (*hours)(const struct ab_work *,
    const struct ab_tasting *))
{
	struct ab_basis basis = ab_basis_new();

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		double h = hours(w, t);
		if (h >= when_h && h <= when_h)
			ab_rest_on(&basis, &t->mark, false);
	}
	return basis;
}

static double since_pitch(const struct ab_work *w, const struct ab_tasting *t)
{
	return ab_hours(w, &t->at);
}

static double since_packaging(const struct ab_work *w, const struct ab_tasting *t)
{
	return ab_packaged_hours(w, &t->at);
}

static void set_ages(struct ab_work *w)
{
	set_undated_age(w);
	if (isfinite(w->found_h)) {
		struct ab_basis basis = basis_of(w, w->found_h, since_pitch);
		if (w->batch->pitch != NULL)
			ab_rest_on(&basis, &w->batch->pitch->mark, false);
		ab_set(w, AB_F_TASTE_BEER_AGE, &basis, w->found_h / 24, 0.5, 'A', NULL);
	}
	if (isfinite(w->found_after_h)) {
		struct ab_basis basis = basis_of(w, w->found_after_h, since_packaging);
		if (isfinite(w->packaged_h) && w->batch->pitch != NULL)
			ab_rest_on(&basis, &w->batch->pitch->mark, false);
		if (isfinite(w->packaged_h))
			ab_rest_on(&basis, &w->batch->package->mark, false);
		ab_set(w, AB_F_TASTE_AGE, &basis, w->found_after_h / 24, 0.5, 'A', NULL);
	}
}

/* Words of the journal and the faults they mean, each looked up once. They are told apart by where they stand. */
struct lexicon { const struct ab_norms *norms; struct { const char *word; int fault; } known[LEXICON]; size_t n; };

static int fault_of(struct lexicon *l, const char *word)
{
	for (size_t i = 0; i < l->n; i++)
		if (l->known[i].word == word)
			return l->known[i].fault;
	int fault = l->norms->fault_of(l->norms->vocabulary, word);
	if (l->n < LEXICON) {
		l->known[l->n].word = word;
		l->known[l->n++].fault = fault;
	}
	return fault;
}

/* Do two words name one fault? "buttery" and "butterscotch" do, when there is a vocabulary to say so.
 * Tasters do not keep to one word; without the vocabulary a trend from "buttery" to "butterscotch"
 * would go unseen. The function comes with the norms: this room knows no rules. */
static bool same_fault(struct lexicon *l, const char *a, const char *b)
{
	if (a == NULL || b == NULL || strcmp(a, b) == 0)
		return a != NULL && b != NULL;
	if (l->norms == NULL || l->norms->fault_of == NULL)
		return false;
	int fault = fault_of(l, a);
	return fault >= 0 && fault == fault_of(l, b);
}

/* Intensity of a fault in a tasting, 0 when judged absent, AB_NAN when not spoken of. A complete
 * tasting that does not name a fault found none of it. */
static double intensity(struct lexicon *l, const struct ab_tasting *t, const char *fault)
{
	for (AB_EACH(struct ab_found, f, t->found))
		if (same_fault(l, f->fault, fault))
			return f->intensity.known ? f->intensity.v : AB_NAN;
	for (AB_EACH(struct ab_absent, a, t->absent))
		if (same_fault(l, a->fault, fault))
			return 0;
	return t->complete == AB_YES ? 0 : AB_NAN;
}

/* From one found fault to the latest other tasting that speaks of it: the change of intensity. Each
 * pair is met from both sides; that only repeats the same answer. */
static void add_trend(const struct ab_work *w, struct lexicon *l, const struct ab_tasting *t,
    const struct ab_found *f, struct answer *growing, struct answer *fading)
{
	double now = f->intensity.known ? f->intensity.v : AB_NAN;

	for (AB_EACH(struct ab_tasting, other, w->batch->tastings)) {
		double apart = ab_same_bottles(t, other) ? ab_when_apart(&t->at, &other->at) / 3600 : AB_NAN;
		/* Words are looked up only where a trend may come of it. */
		double then = fabs(apart) >= TREND_H && isfinite(now) ? intensity(l, other, f->fault)
		    : AB_NAN;
		if (!isfinite(then))
			continue;
		double rise = apart > 0 ? then - now : now - then;
		say(growing, &other->mark, rise >= 1);
		say(fading, &other->mark, rise <= -1);
	}
}

/* Words win over our comparison: who tasted knows whether the glasses were alike. */
static void set_behaviour(struct ab_work *w)
{
	struct answer growing = answer_new(), fading = growing, up = growing, down = growing;
	struct lexicon words;

	words.norms = w->norms;
	words.n = 0;
	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		for (AB_EACH(struct ab_found, f, t->found)) {
			if (f->fault != NULL)
				add_trend(w, &words, t, f, &up, &down);
			if (f->behaviour == 0)
				continue;
			say(&growing, &f->mark, f->behaviour == AB_BEHAVE_GROWING);
			say(&fading, &f->mark, f->behaviour == AB_BEHAVE_FADING);
		}
	}
	bool told = growing.any_yes || growing.any_no;
	set_answer(w, AB_F_TASTE_GROWING, told ? &growing : &up, told ? 0 : 'C');
	set_answer(w, AB_F_TASTE_FADING, told ? &fading : &down, told ? 0 : 'C');
}

/* Was something of what the later tasting found looked for in the earlier one, and not there? */
static bool came_after(struct lexicon *l, const struct ab_tasting *sound, const struct ab_tasting *later)
{
	if (!(ab_when_apart(&sound->at, &later->at) > 0) || !ab_same_bottles(sound, later))
		return false;
	for (AB_EACH(struct ab_found, f, later->found))
		if (f->fault != NULL && f->feared != AB_YES && intensity(l, sound, f->fault) == 0)
			return true;
	return false;
}

/* The last glass in which nothing was found that a later one had. What was made before packaging does not wait so
 * long: sugar left over is eaten in three or four weeks of the bottle, strangers may need months. */
static void set_sound_days(struct ab_work *w)
{
	double last = AB_NAN;
	struct ab_basis basis = ab_basis_new();
	struct lexicon words = { .norms = w->norms };

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		double days = ab_packaged_hours(w, &t->at) / 24;
		if (t->found.n > 0 || !(days > 0) || days <= last)
			continue;
		for (AB_EACH(struct ab_tasting, later, w->batch->tastings))
			if (came_after(&words, t, later)) {
				last = days;
				ab_rest_on(&basis, &t->mark, false);
				ab_rest_on(&basis, &later->mark, false);
				break;
			}
	}
	if (!isfinite(last))
		return;
	if (isfinite(w->packaged_h))
		ab_rest_on(&basis, &w->batch->package->mark, false);
	ab_set(w, AB_F_TASTE_SOUND_DAYS, &basis, last, 0.5, 'A', NULL);
}

/* What was looked for before the last dry hop, and found after it: was it there before? Twelve hours' grace: a tasting
 * of the hops' day is mostly one before them. */
static void set_since_hops(struct ab_work *w)
{
	struct answer since = answer_new();
	struct lexicon words = { .norms = w->norms };
	double hops_h = ab_last_dry_hop_h(w) + 12;

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings))
		for (AB_EACH(struct ab_tasting, later, w->batch->tastings)) {
			if (!(ab_hours(w, &t->at) <= hops_h) || !(ab_hours(w, &later->at) > hops_h))
				continue;
			for (AB_EACH(struct ab_found, f, later->found)) {
				double before = f->fault == NULL || f->feared == AB_YES ? AB_NAN
				    : intensity(&words, t, f->fault);
				if (isfinite(before))
					say(&since, &f->mark, !(before > 0));
			}
		}
	set_answer(w, AB_F_TASTE_SINCE_HOPS, &since, 'A');
}

/* Halves of a keg are not bottles. */
static bool of_keg(const struct ab_work *w, const struct ab_tasting *t)
{
	const struct ab_package *p = w->batch->package;
	return t->from == AB_PLACE_TAP_KEG ||
	    (p != NULL && (p->into == AB_PACK_KEG || p->into == AB_PACK_CASK));
}

/* The first squirt from a fermenter tells of the fermenter's own tap, not of a line, and not of the beer behind it. */
static bool of_own_tap(const struct ab_tasting *t, const struct ab_found *f)
{
	return t->from == AB_PLACE_FERMENTER && (f->extent == AB_EXTENT_TAP || f->extent == AB_EXTENT_FIRST_POUR);
}

/* A fault of the tap says nothing about single bottles, so it is kept out of that answer. */
static void set_extent(struct ab_work *w)
{
	struct answer some = answer_new(), tap = some;

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		for (AB_EACH(struct ab_found, f, t->found)) {
			int e = f->extent;
			bool of_tap = e == AB_EXTENT_TAP || e == AB_EXTENT_FIRST_POUR;
			if (e == 0 || of_own_tap(t, f))
				continue;
			if (!of_tap && !(e > AB_EXTENT_FIRST_POUR && of_keg(w, t)))
				say(&some, &f->mark, e != AB_EXTENT_EVERY);
			say(&tap, &f->mark, of_tap);
		}
	}
	set_answer(w, AB_F_TASTE_SOME_BOTTLES, &some, 0);
	set_answer(w, AB_F_TASTE_TAP_ONLY, &tap, 0);
}

/* The last three of the extents but the tap, in their order; then a fermenter's own tap. */
const char *const ab_words_part[] = { "first-pour", "first-half", "last-half", "fermenter-tap", NULL };
enum { OWN_TAP = 3 };

static void set_one_part(struct ab_work *w, const struct ab_found *f, int part)
{
	struct ab_basis basis = ab_basis_new();

	if (ab_known(w, AB_F_TASTE_PART))
		return;
	ab_rest_on(&basis, &f->mark, false);
	basis.origin = AB_ORIGIN_MEASURED;
	ab_set(w, AB_F_TASTE_PART, &basis, part, 0, 0, NULL);
}

/* The first that is told: two parts at once are rare and would say nothing. But a fermenter's own tap goes before any:
 * the part of the bottles that it spoilt follows from it. */
static void set_part(struct ab_work *w)
{
	for (AB_EACH(struct ab_tasting, t, w->batch->tastings))
		for (AB_EACH(struct ab_found, f, t->found))
			if (of_own_tap(t, f))
				set_one_part(w, f, OWN_TAP);
	for (AB_EACH(struct ab_tasting, t, w->batch->tastings))
		for (AB_EACH(struct ab_found, f, t->found))
			if (f->extent >= AB_EXTENT_FIRST_POUR)
				set_one_part(w, f, f->extent - AB_EXTENT_FIRST_POUR);
}

/* In their order: those of ab_words_one_package. */
enum { IN_BOTTLES, IN_KEG, IN_BOTH, PACKAGES };
const char *const ab_words_one_package[] = { "bottles", "keg", "both", NULL };

/* Who has it of these two glasses: t, in which it was found, or both; PACKAGES: nobody looked for it in the other.
 * Weaker by a whole step is less (estimate, as for a trend). */
static int who_has(
    struct lexicon *l, const struct ab_tasting *t, const struct ab_found *f, const struct ab_tasting *other)
{
	double then = intensity(l, other, f->fault);
	int own = t->from == AB_PLACE_BOTTLE ? IN_BOTTLES : IN_KEG;

	for (AB_EACH(const struct ab_found, o, other->found))
		if (o->feared != AB_YES && same_fault(l, o->fault, f->fault) && !(isfinite(then) && f->intensity.known))
			return IN_BOTH;
	if (then == 0 || (f->intensity.known && f->intensity.v - then >= 1))
		return own;
	return isfinite(then) && f->intensity.known && then - f->intensity.v < 1 ? IN_BOTH : PACKAGES;
}

/* Part of a batch in bottles and part in a keg, tasted at about the same time: what one of them has and the other has
 * not was not done before they parted. Nothing where each has something of its own. */
static void set_one_package(struct ab_work *w)
{
	double together_s = w->norms->numbers[AB_NUM_TOGETHER_D] * 24 * 3600;
	struct ab_basis basis[PACKAGES] = { ab_basis_new(), ab_basis_new(), ab_basis_new() };
	struct lexicon words = { .norms = w->norms };
	bool has[PACKAGES] = { false };

	for (AB_EACH(const struct ab_tasting, t, w->batch->tastings))
		for (AB_EACH(const struct ab_found, f, t->found))
			for (AB_EACH(const struct ab_tasting, other, w->batch->tastings)) {
				if (!ab_other_package(t, other) || f->feared == AB_YES || f->fault == NULL ||
				    fabs(ab_when_apart(&t->at, &other->at)) >= together_s)
					continue;
				int who = who_has(&words, t, f, other);
				if (who == PACKAGES)
					continue;
				ab_rest_on(&basis[who], &f->mark, false);
				ab_rest_on(&basis[who], &other->mark, false);
				has[who] = true;
			}
	int who = has[IN_BOTTLES] ? IN_BOTTLES : has[IN_KEG] ? IN_KEG : IN_BOTH;
	if (!has[who] || (has[IN_BOTTLES] && has[IN_KEG]))
		return;
	basis[who].origin = AB_ORIGIN_MEASURED;
	ab_set(w, AB_F_TASTE_ONE_PACKAGE, &basis[who], who, 0, 0, NULL);
}

/* Told; or shown by a sample from before packaging: faulty means yes, complete and clean means no. An
 * hour's grace: tastings at bottling are noted around it. A worry (feared) is no finding, and what the
 * fermenter's own tap alone gives is not in the beer. */
static void set_at_packaging(struct ab_work *w)
{
	struct answer told = answer_new(), shown = told;

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		bool before = t->from == AB_PLACE_FERMENTER || t->from == AB_PLACE_PACKAGING ||
		    ab_packaged_hours(w, &t->at) < 1;
		size_t real = 0;
		for (AB_EACH(struct ab_found, f, t->found)) {
			real += f->feared != AB_YES && !of_own_tap(t, f);
			if (f->at_packaging != AB_UNKNOWN)
				say(&told, &f->mark, f->at_packaging == AB_YES);
		}
		if (before && (real > 0 || t->complete == AB_YES))
			say(&shown, &t->mark, real > 0);
	}
	bool said = told.any_yes || told.any_no;
	set_answer(w, AB_F_TASTE_AT_PACKAGING, said ? &told : &shown, said ? 0 : 'A');
}

/* Nobody told of a package, and the yeast's usual days to its final gravity (norms; common practice) are not over: such
 * a beer is still in its fermenter. A bottle wants a week more for its gas. */
static void assume_unpackaged(struct ab_work *w)
{
	const struct ab_yeast_norm *yeast = w->yeast != NULL ? w->yeast : w->stand_in;
	const struct ab_batch *b = w->batch;
	bool told = b->package != NULL || b->carbonate != NULL || b->serve != NULL || b->stores.n > 0 ||
	    ab_known(w, AB_F_TASTE_UNPACKAGED) ||
	    ab_known(w, AB_F_TASTE_SOME_BOTTLES) || ab_known(w, AB_F_TASTE_PART);
	struct ab_basis basis = ab_basis_new();

	if (told || yeast == NULL || !(w->found_h / 24 < yeast->primary_days))
		return;
	for (AB_EACH(struct ab_tasting, t, b->tastings))
		ab_rest_on(&basis, &t->mark, false);
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_TASTE_UNPACKAGED, &basis, 1, 0, 'C',
	    "no package is told of, and %.1f d after pitching such a beer still ferments", w->found_h / 24);
}

/* Was every sample taken before there was a package? Then nothing done at packaging or later can be to
 * blame. An hour around packaging is left open: the sample may be from the bucket or the first bottle.
 * One late sample makes the answer no. */
static void set_unpackaged(struct ab_work *w)
{
	struct answer before = answer_new();

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		double h = ab_packaged_hours(w, &t->at);
		bool early = t->from == AB_PLACE_FERMENTER || t->from == AB_PLACE_PACKAGING || h < -1;
		bool late = t->from == AB_PLACE_BOTTLE || t->from == AB_PLACE_TAP_KEG ||
		    t->from == AB_PLACE_PACKAGED || h > 1;

		if (early != late)
			say(&before, &t->mark, early);
	}
	if (before.any_yes && before.any_no)
		before.any_yes = false;
	set_answer(w, AB_F_TASTE_UNPACKAGED, &before, 'A');
	assume_unpackaged(w);
}

/* "First time" is a no in other words. */
static void set_every_batch(struct ab_work *w)
{
	struct answer every = answer_new();

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		if (t->every_batch != AB_UNKNOWN)
			say(&every, &t->mark, t->every_batch == AB_YES);
		if (t->first_time == AB_YES)
			say(&every, &t->mark, false);
	}
	set_answer(w, AB_F_TASTE_EVERY_BATCH, &every, 0);
}

/* Yes only when every fault named is a worry: one real finding makes it no. Turned round (yes = real)
 * so that one real finding wins by the rule of set_answer. */
static void set_feared(struct ab_work *w)
{
	struct answer real = answer_new();

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings))
		for (AB_EACH(struct ab_found, f, t->found))
			say(&real, &f->mark, f->feared != AB_YES);
	if (!real.any_yes && !real.any_no)
		return;
	struct ab_basis *basis = real.any_yes ? &real.yes : &real.no;
	basis->origin = AB_ORIGIN_MEASURED;
	ab_set(w, AB_F_TASTE_FEARED, basis, !real.any_yes, 0, 0, NULL);
}

void ab_facts_tasting(struct ab_work *w)
{
	set_ages(w);
	set_behaviour(w);
	set_sound_days(w);
	set_since_hops(w);
	set_extent(w);
	set_part(w);
	set_one_package(w);
	set_at_packaging(w);
	set_unpackaged(w);
	set_every_batch(w);
	set_feared(w);
}
