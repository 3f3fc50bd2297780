/* warnings.c - what may hurt somebody, and which instrument the verdict hangs on
 *
 * They are made for every case, whatever the options: no option silences a bottle's pressure.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/warning.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "base/str.h"
#include "process/slots.h"
#include "process/words.h"
#include "process/working.h"

static const double LEADS = 0.2;        /* blame from which a cause's caution is told */
static const double DECIDES = 0.69;     /* log ratio from which a sign decides: it doubles or halves the
					 * odds */
enum { LEADERS = 3 };

void case_warn(struct warner *w, const char *id, const char *text)
{
	for (size_t i = 0; text != NULL && i < w->d->n_warnings; i++)
		if (strcmp(w->d->warnings[i].text, text) == 0)
			return;
	struct ab_warning *slot = text == NULL ? NULL
		: ab_arena_push(w->arena, &w->d->warnings, &w->d->n_warnings, &w->cap, sizeof *slot);
	if (slot == NULL)
		w->failed = true;
	else
		*slot = (struct ab_warning){ id, text, NULL };
}

void case_warn_with_care(struct warner *w, const char *id, const char *reckoned, const char *care)
{
	char *text = reckoned == NULL ? NULL : ab_arena_printf(w->arena, "%s %s", reckoned, care);
	size_t n = w->d->n_warnings;

	case_warn(w, id, text);
	if (w->d->n_warnings > n)
		w->d->warnings[n].care = text + strlen(text) - strlen(care);
}

const struct ab_fact *case_warner_fact(const struct warner *w, int usual, const char *name)
{
	int slot = case_slot(w->k->facts, usual, name);
	return slot >= 0 && AB_FACT_KNOWN(&w->c->facts[slot]) ? &w->c->facts[slot] : NULL;
}

static bool is_yes(const struct ab_fact *fact)
{
	return fact != NULL && fact->value > 0;
}

/* ---- a fermenter under pressure ---- */

static void warn_of_fermenter(struct warner *w)
{
	const char *id = NULL, *text = case_fermenter_says(w->c->batch, w->arena, &id);

	if (id != NULL)
		case_warn(w, id, text);
}

/* ---- beer that gushes ---- */

/* Or in cans. A package that is not told is taken for bottles: the warning is then perhaps needless, the other mistake
 * is glass in a hand. */
static bool in_bottles(const struct ab_batch *batch)
{
	const struct ab_package *p = batch->package;
	return p == NULL || p->into == 0 || p->into == AB_PACK_BOTTLES || p->into == AB_PACK_CANS;
}

/* The fault of that id, where it was found; else NULL. */
static const struct ab_fault *found_fault(const struct warner *w, const char *id)
{
	for (size_t i = 0; i < w->k->n_faults; i++)
		if (strcmp(w->k->faults[i].id, id) == 0)
			return w->c->fault_intensity[i] > 0 ? &w->k->faults[i] : NULL;
	return NULL;
}

/* "Too much foam" is the tap's where there is one; of what is told to be in bottles or cans it is the gas. */
static bool foams_in_bottles(const struct warner *w)
{
	int into = case_packaged_into(w);

	return (into == AB_PACK_BOTTLES || into == AB_PACK_CANS) && found_fault(w, "foamy-pour") != NULL;
}

static const char *fault_caution(const struct warner *w, const struct ab_fault *f)
{
	return ab_tell_of(f->caution, f->cautions, f->n_cautions, w->c->facts);
}

static void warn_of_gushers(struct warner *w)
{
	const char *caution = NULL;

	if ((found_fault(w, "over-carbonated") == NULL && !foams_in_bottles(w)) || !in_bottles(w->c->batch) ||
	    case_are_gone(w))
		return;
	for (size_t i = 0; i < w->k->n_faults; i++)
		if (strcmp(w->k->faults[i].id, "over-carbonated") == 0)
			caution = fault_caution(w, &w->k->faults[i]);
	/* in the words of the rules where they have any, so that they are not said again as the fault's
	 * own */
	case_warn(w, "bottle-bombs", caution != NULL ? caution : "Beer that gushes was found, and bottles with "
	    "too much gas burst and cut. Chill them before you touch them, wear eye "
	    "protection and gloves, keep them in a closed box away from people, and let the gas off a little "
	    "at a time.");
	case_warn_of_let_off(w);
}

/* ---- cautions of the rules ---- */

static void warn_of_faults(struct warner *w)
{
	for (size_t i = 0; i < w->k->n_faults; i++)
		if (w->c->fault_intensity[i] > 0 && fault_caution(w, &w->k->faults[i]) != NULL)
			case_warn(w, w->k->faults[i].id, fault_caution(w, &w->k->faults[i]));
}

/* The first few: a caution for each remote suspect would be read by nobody. */
static size_t leaders(const struct warner *w)
{
	size_t n = 0;
	assert(w->d != NULL);
	while (n < LEADERS && n < w->d->n_suspects && w->d->suspects[n].blame >= LEADS)
		n++;
	return n;
}

static void warn_of_causes(struct warner *w)
{
	for (size_t i = 0; i < leaders(w); i++) {
		const struct ab_cause *cause = &w->k->causes[w->d->suspects[i].cause];
		const char *caution = ab_tell_of(cause->caution, cause->cautions, cause->n_cautions, w->c->facts);
		if (caution != NULL)
			case_warn(w, cause->id, caution);
	}
}

/* ---- instruments ---- */

/* Does a leading cause rest on a reading of this kind? */
static bool decides(const struct warner *w, const char *const *prefixes)
{
	for (size_t i = 0; i < leaders(w); i++) {
		const struct ab_cause *cause = &w->k->causes[w->d->suspects[i].cause];
		double used[AB_CAUSE_SIGNS];
		ab_cause_log_odds(cause, w->c->facts, used);
		for (size_t j = 0; j < cause->n_signs; j++) {
			const struct ab_fact_def *def = &w->k->facts->defs[cause->signs[j].slot];
			for (size_t p = 0; prefixes[p] != NULL; p++)
				if (fabs(used[j]) >= DECIDES && def->kind == AB_FACT_NUMBER &&
				    strncmp(def->name, prefixes[p], strlen(prefixes[p])) == 0)
					return true;
		}
	}
	return false;
}

/* Not checked and not told are one here: what was not checked may be wrong either way. */
static void warn_of_instruments(struct warner *w)
{
	static const char *const gravity[] = { "gravity.", NULL };
	static const char *const temperature[] = { "ferment.early", "ferment.peak", "ferment.below",
	    "ferment.swing", "ferment.largest", "pitch.temp", "mash.temp", "store.conditioning-temp", NULL };
	if (leaders(w) == 0)
		return;
	if (!is_yes(case_warner_fact(w, AB_F_INSTRUMENT_HYDROMETER, "instrument.hydrometer-checked")) &&
	    decides(w, gravity))
		case_warn(w, "hydrometer-unchecked",
		    "The answer hangs on gravity readings, and nothing tells that the hydrometer was "
		    "checked: it should read "
		    "1.000 in distilled water at its own temperature.");
	if (!is_yes(case_warner_fact(w, AB_F_INSTRUMENT_THERMOMETER, "instrument.thermometer-checked")) &&
	    decides(w, temperature))
		case_warn(w, "thermometer-unchecked",
		    "The answer hangs on temperatures, and nothing tells that the thermometer was checked: "
		    "it should read 0 C "
		    "(32 F) in stirred ice water.");
}

/* ---- contradictions ---- */

/* A guess that contradicts a statement is only a wrong guess. */
bool case_is_contrary(const struct ab_contrary *contrary, const struct ab_fact *facts)
{
	for (size_t i = 0; i < contrary->when.n; i++)
		if (facts[contrary->when.items[i].slot].guess)
			return false;
	return ab_conds_hold(&contrary->when, facts);
}

/* The diagnosis takes every statement as it stands; where two speak against each other the brewer is told, for
 * one is wrong, or something else went on. Of one statement alone src/journal/odd.c speaks. */
static void warn_of_contraries(struct warner *w)
{
	for (size_t i = 0; i < w->k->n_contraries; i++)
		if (case_is_contrary(&w->k->contraries[i], w->c->facts))
			case_warn(w, w->k->contraries[i].id, w->k->contraries[i].says);
}

bool case_warnings(const struct ab_knowledge *k, const struct ab_case *c, struct ab_arena *arena)
{
	struct warner w = { .k = k, .c = c, .arena = arena, .d = c->diagnosis };
	case_warn_of_pressure(&w);
	case_warn_of_mixed_gas(&w);
	warn_of_fermenter(&w);
	warn_of_gushers(&w);
	warn_of_faults(&w);
	warn_of_causes(&w);
	warn_of_contraries(&w);
	warn_of_instruments(&w);
	return !w.failed;
}

const struct ab_warning *ab_case_near_limit(const struct ab_knowledge *k, const struct ab_case *c)
{
	int slot = case_slot(k->facts, AB_F_GRAVITY_STABLE_DAYS, "gravity.stable-days");

	for (size_t i = 0; i < c->diagnosis->n_warnings; i++) {
		const char *id = c->diagnosis->warnings[i].id;
		bool now = c->batch->package == NULL &&
		    (strcmp(id, "fermenter-pressure") == 0 || strcmp(id, "fermenter-unrated") == 0);
		if (now || strcmp(id, "pressure-unjudged") == 0 || strcmp(id, "keg-warm-day") == 0)
			return &c->diagnosis->warnings[i];
	}
	if (slot >= 0 && AB_FACT_KNOWN(&c->facts[slot]) && c->facts[slot].value >= k->norms.numbers[AB_NUM_STILL_D])
		return NULL;
	for (size_t i = 0; i < c->diagnosis->n_warnings; i++)
		if (strcmp(c->diagnosis->warnings[i].id, "bottle-pressure-near") == 0)
			return &c->diagnosis->warnings[i];
	return NULL;
}

bool ab_case_pressed(const struct ab_case *c)
{
	bool any = ab_case_bursting(c) != NULL;

	for (size_t i = 0; i < c->diagnosis->n_warnings; i++)
		any = any || strcmp(c->diagnosis->warnings[i].id, "pressure-unjudged") == 0;
	return any;
}

const struct ab_warning *ab_case_bursting(const struct ab_case *c)
{
	for (size_t i = 0; i < c->diagnosis->n_warnings; i++)
		if (strcmp(c->diagnosis->warnings[i].id, "bottle-pressure") == 0 ||
		    strcmp(c->diagnosis->warnings[i].id, "bottle-bombs") == 0)
			return &c->diagnosis->warnings[i];
	return NULL;
}
