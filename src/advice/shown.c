/* shown.c - what a journal shows as done of what a batch asks for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/calendar.h>

#include <math.h>
#include <string.h>

#include <afterboil/facts.h>
#include "base/str.h"
#include "process/words.h"

enum { DAY = 86400 };

static double day_of(double s) { return floor(s / DAY) * DAY; }

/* The earlier of two, where one or both are known. */
static double first_of(double a, double b) { return isnan(a) ? b : isnan(b) ? a : fmin(a, b); }
static double last_of(double a, double b) { return isnan(a) ? b : isnan(b) ? a : fmax(a, b); }

/* When it was; from_s where the journal does not tell, NAN where it was before that day. */
static double at_or_after(const struct ab_when *at, double from_s)
{
	if (!at->known || at->relative)
		return from_s;
	return day_of(at->s) >= from_s ? at->s : (double)NAN;
}

/* ---- readings ---- */

/* The first from from_s on; NAN. */
static double first_gravity(const struct ab_batch *b, double from_s)
{
	double first = (double)NAN;
	for (AB_EACH(const struct ab_reading, r, b->readings))
		if (r->gravity_sg.known && r->at.known && day_of(r->at.s) >= from_s)
			first = first_of(first, r->at.s);
	for (AB_EACH(const struct ab_log, l, b->logs))
		for (size_t i = 0; l->sensor != NULL && i < l->sensor->n; i++)
			if (!isnan(l->sensor->samples[i].gravity_sg) && day_of(l->sensor->samples[i].s) >= from_s) {
				first = first_of(first, l->sensor->samples[i].s);
				break;
			}
	return first;
}

/* The one at packaging stood as long as those before it. */
static double gravity_end(const struct ab_batch *b, double last)
{
	bool read =
	    b->package != NULL && b->package->gravity_sg.known && b->package->at.known && !b->package->at.relative;
	return read ? last_of(last, b->package->at.s) : last;
}

static double last_gravity(const struct ab_batch *b)
{
	double last = (double)NAN;
	for (AB_EACH(const struct ab_reading, r, b->readings))
		if (r->gravity_sg.known && r->at.known)
			last = last_of(last, r->at.s);
	for (AB_EACH(const struct ab_log, l, b->logs))
		for (size_t i = l->sensor == NULL ? 0 : l->sensor->n; i-- > 0;)
			if (!isnan(l->sensor->samples[i].gravity_sg)) {
				last = last_of(last, l->sensor->samples[i].s);
				break;
			}
	return last;
}

/* The room's temperature is none of the beer's. */
static bool of_room_alone(const struct ab_reading *r)
{
	return r->room_c.known && !r->wort_c.known && !r->gravity_sg.known;
}

/* What was read at pitching is no look at what became of it. */
static double looked(const struct ab_batch *b, double from_s)
{
	double first = (double)NAN;
	for (AB_EACH(const struct ab_reading, r, b->readings))
		if (r->at.known && !of_room_alone(r) && day_of(r->at.s) >= from_s &&
		    !(ab_batch_since_pitch(b, &r->at) <= 0))
			first = first_of(first, r->at.s);
	for (AB_EACH(const struct ab_log, l, b->logs))
		for (size_t i = 0; l->sensor != NULL && i < l->sensor->n; i++)
			if (day_of(l->sensor->samples[i].s) >= from_s) {
				first = first_of(first, l->sensor->samples[i].s);
				break;
			}
	return first;
}

/* ---- what is done once ---- */

static double told_pitch(const struct ab_batch *b)
{
	return b->pitch != NULL && b->pitch->at.known && !b->pitch->at.relative ? b->pitch->at.s : (double)NAN;
}

static double pitched(const struct ab_batch *b)
{
	if (!isnan(told_pitch(b)))
		return told_pitch(b);
	return b->pitch != NULL || b->readings.n > 0 || b->logs.n > 0 || b->package != NULL || b->tastings.n > 0
	    ? b->brewed.s : (double)NAN;
}

static double rested(const struct ab_batch *b, double from_s)
{
	double first = (double)NAN;
	for (AB_EACH(const struct ab_rest, r, b->rests))
		first = first_of(first, r->at.known ? r->at.s : from_s);
	return first;
}

/* The last of them: what comes after counts from there. "0 g" says that there were none. */
static double dry_hopped(const struct ab_batch *b, double from_s)
{
	double last = (double)NAN;
	for (AB_EACH(const struct ab_dryhop, h, b->dryhops))
		if (!h->amount_g.known || h->amount_g.v > 0)
			last = last_of(last, h->at.known ? h->at.s : from_s);
	return last;
}

/* A contact told is told when they go in: it is what is meant to be, and shows nothing as done. NAN: none is told of
 * the hops that went in last. */
static double hops_due(const struct ab_batch *b)
{
	double in_s = dry_hopped(b, (double)NAN), due_s = (double)NAN;
	for (AB_EACH(const struct ab_dryhop, h, b->dryhops))
		if (h->at.known && h->at.s >= in_s && h->contact_s.known)
			due_s = last_of(due_s, h->at.s + h->contact_s.v);
	return day_of(due_s);
}

/* By a transfer after they went in, or a note. A bare gravity tells nothing of hops. */
static double hops_out(const struct ab_shown_of *of, const struct ab_touch *touch, double from_s)
{
	const struct ab_batch *b = of->batch;
	double in_s = dry_hopped(b, (double)NAN), out_s = (double)NAN,
	       due_s = isnan(of->hops_due_s) ? from_s : of->hops_due_s;
	for (AB_EACH(const struct ab_transfer, t, b->transfers))
		if (t->at.known && t->at.s > in_s && day_of(t->at.s) <= of->today_s)
			out_s = first_of(out_s, t->at.s);
	return isnan(in_s) ? out_s
			   : first_of(out_s,
				 ab_shown_noted(of, touch, day_of(in_s), fmax(in_s, fmin(due_s, of->today_s))));
}

/* What a forced sample came to. */
static double forced(const struct ab_batch *b, double from_s)
{
	double first = (double)NAN;
	for (AB_EACH(const struct ab_test, t, b->tests))
		if (t->kind != NULL && strcmp(t->kind, "forced-fermentation") == 0)
			first = first_of(first, t->at.known && !t->at.relative ? t->at.s : from_s);
	return first;
}

static bool has_packaged(const struct ab_package *p)
{
	return p != NULL &&
	    (p->at.known || p->priming_g.known || p->volume_l.known || p->gravity_sg.known || p->purges.known);
}

/* Kit has no day in a journal, and most of what stands there of it was cleaned before the brew: what was written behind
 * the packaging came after it, and what was written behind the pitching is for the packaging. A fermenter with
 * another beer in it was cleaned. */
static double cleaned(const struct ab_shown_of *of, const struct ab_touch *t, double from_s)
{
	const struct ab_batch *b = of->batch;
	const struct ab_package *p = has_packaged(b->package) ? b->package : NULL;
	long behind = t->before >= 0 ? b->pitch == NULL ? 0 : b->pitch->mark.line : p == NULL ? 0 : p->mark.line;
	for (AB_EACH(const struct ab_gear, g, b->gear)) {
		bool clean = g->cleaned > AB_AGENT_NONE || (g->cleaned == 0 && g->dismantled == AB_YES);
		if (behind > 0 && g->mark.line > behind && clean && g->item > 0 && t->item != NULL &&
		    ab_word_cmp(ab_words_gear[g->item - 1], t->item) == 0)
			return from_s;
	}
	bool fermenter = t->item != NULL && ab_word_cmp(ab_words_gear[AB_GEAR_FERMENTER - 1], t->item) == 0;
	return fermenter && p != NULL ? of->reused_s : (double)NAN;
}

/* Where nobody wrote what it was poured from: a beer that is packaged, or old enough to be. */
static bool from_package(const struct ab_shown_of *of, const struct ab_tasting *t)
{
	const struct ab_batch *b = of->batch;
	const struct ab_when *packed = b->package == NULL ? NULL : &b->package->at;
	if (t->from != 0)
		return t->from != AB_PLACE_FERMENTER && t->from != AB_PLACE_PACKAGING;
	if (!t->at.known)
		return true;
	return packed != NULL && packed->known
	    ? t->at.s >= packed->s
	    : t->at.s >= b->brewed.s + of->norms->numbers[AB_NUM_TASTED_PACKAGED_D] * DAY;
}

static double tasted(const struct ab_shown_of *of, double from_s)
{
	double first = (double)NAN;
	for (AB_EACH(const struct ab_tasting, t, of->batch->tastings))
		if (from_package(of, t))
			first = first_of(first, at_or_after(&t->at, from_s));
	return first;
}

/* The first store is where it got its gas, when it was told soon after the packaging; what is told later is a
 * move, whether the first was written down or not, and before the first tasting, too. */
static double moved(const struct ab_shown_of *of, double from_s)
{
	const struct ab_batch *b = of->batch;
	const struct ab_when *packed = b->package == NULL ? NULL : &b->package->at;
	bool known = packed != NULL && packed->known && !packed->relative;
	double first = (double)NAN;
	size_t i = 0;
	for (AB_EACH(const struct ab_store, s, b->stores)) {
		bool told = s->from.known && !s->from.relative;
		if (told && known && day_of(s->from.s) >= day_of(packed->s) + of->norms->numbers[AB_NUM_MOVED_D] * DAY)
			first = first_of(first, s->from.s);
		else if (i > 0)
			first = first_of(first, told ? s->from.s : from_s);
		i++;
	}
	return first;
}

/* ---- the whole ---- */

double ab_shown_newest(const struct ab_batch *b)
{
	double s = b->pitch != NULL && b->pitch->at.known ? fmax(b->brewed.s, b->pitch->at.s) : b->brewed.s;
	for (AB_EACH(const struct ab_reading, r, b->readings))
		s = r->at.known ? fmax(s, r->at.s) : s;
	for (AB_EACH(const struct ab_log, l, b->logs))
		if (l->sensor != NULL && l->sensor->n > 0)
			s = fmax(s, l->sensor->samples[l->sensor->n - 1].s);
	for (AB_EACH(const struct ab_dryhop, h, b->dryhops))
		s = h->at.known ? fmax(s, h->at.s) : s;
	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		s = t->at.known ? fmax(s, t->at.s) : s;
	return b->package != NULL && b->package->at.known ? fmax(s, b->package->at.s) : s;
}

static double fact(const struct ab_fact *facts, const char *name)
{
	int slot = ab_fact_slot(ab_fact_defs(), name);
	return facts == NULL || slot < 0 || !AB_FACT_KNOWN(&facts[slot]) ? (double)NAN : facts[slot].value;
}

void ab_shown_read(const struct ab_batch *batch, const struct ab_norms *norms, const struct ab_fact *facts,
    double today_s, struct ab_shown_of *out)
{
	double last = last_gravity(batch), still = fact(facts, "gravity.stable-days");
	/* of a yeast that eats starch days at rest alone tell nothing: it is done once its state says so */
	bool stuck = fact(facts, "ferment.stalled") > 0 ||
	    (fact(facts, "yeast.diastatic") > 0 && isnan(fact(facts, "gravity.state"))) ||
	    (fact(facts, "gravity.over-expected") > norms->numbers[AB_NUM_HANGS_POINTS] &&
		!(still >= norms->numbers[AB_NUM_HUNG_STILL_D]));
	*out = (struct ab_shown_of){ .batch = batch,
		.norms = norms,
		.today_s = today_s,
		.gravity_s = day_of(last),
		.newest_s = day_of(ab_shown_newest(batch)),
		.hops_due_s = hops_due(batch),
		.pitched_s = told_pitch(batch),
		.reused_s = (double)NAN,
		.still_s = still >= norms->numbers[AB_NUM_STILL_D] && !stuck
		    ? day_of(gravity_end(batch, last) - still * DAY)
		    : (double)NAN };
}

bool ab_shown_too_warm(const struct ab_batch *b, const struct ab_norms *norms, double today_s, double high_c)
{
	double at_s = told_pitch(b),
	       newest_c = isnan(at_s) || !b->pitch->temp_c.known ? (double)NAN : b->pitch->temp_c.v;
	if (!(day_of(today_s) - day_of(at_s) <= (double)AB_RUSH_DAYS * DAY))
		return false;
	for (AB_EACH(const struct ab_reading, r, b->readings))
		if (r->wort_c.known && r->at.known && r->at.s >= at_s) {
			at_s = r->at.s;
			newest_c = r->wort_c.v;
		}
	return newest_c > high_c + norms->numbers[AB_NUM_TOO_WARM_K];
}

bool ab_shown_begun(const struct ab_batch *batch)
{
	return !isnan(pitched(batch));
}

bool ab_shown_on_paper(const struct ab_batch *b)
{
	const void *const once[] = { b->mash, b->boil, b->stand, b->chill, b->lag, b->carbonate, b->serve };
	const struct ab_list *const many[] = { &b->aerations, &b->rests, &b->crashes, &b->finings, &b->spunds,
		&b->dryhops, &b->transfers, &b->openings, &b->gear, &b->stores, &b->changes, &b->tests, &b->looks };
	bool paper = !ab_shown_begun(b);

	for (size_t i = 0; i < sizeof once / sizeof *once; i++)
		paper = paper && once[i] == NULL;
	for (size_t i = 0; i < sizeof many / sizeof *many; i++)
		paper = paper && many[i]->n == 0;
	return paper;
}

/* What has a record of its own. */
static double recorded(const struct ab_shown_of *of, const struct ab_touch *t, double from_s)
{
	const struct ab_batch *b = of->batch;
	double s = (double)NAN;
	switch (t->shown) {
	case AB_SHOWN_PITCH: return pitched(b);
	case AB_SHOWN_LOOK: return looked(b, from_s);
	case AB_SHOWN_REST: return rested(b, from_s);
	case AB_SHOWN_GRAVITY: return first_gravity(b, isnan(of->still_s) ? from_s : fmin(from_s, of->still_s));
	case AB_SHOWN_DRY_HOP: return dry_hopped(b, from_s);
	case AB_SHOWN_HOPS_OUT: return hops_out(of, t, from_s);
	case AB_SHOWN_SAME_GRAVITY: return !isnan(of->still_s) && of->gravity_s >= from_s ? of->gravity_s : s;
	case AB_SHOWN_PACKAGE: return !has_packaged(b->package) ? s : b->package->at.known ? b->package->at.s : from_s;
	case AB_SHOWN_TASTING: return tasted(of, day_of(b->brewed.s));
	case AB_SHOWN_STORE: return moved(of, from_s);
	case AB_SHOWN_RETASTE: return tasted(of, from_s);
	case AB_SHOWN_CLEANING: return cleaned(of, t, from_s);
	case AB_SHOWN_FORCED: return forced(b, from_s);
	case AB_SHOWN_COOL: case AB_SHOWN_NONE: break;
	}
	return s;
}

double ab_shown_day(const struct ab_shown_of *of, const struct ab_touch *touch, double from_s)
{
	double s = recorded(of, touch, from_s);
	return isnan(s) ? s : day_of(s);
}
