/* warnings.c - what may hurt somebody, and which instrument the verdict hangs on
 *
 * They are made for every case, whatever the options: no option silences a bottle's pressure.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "base/str.h"
#include "process/slots.h"
#include "process/words.h"
#include "process/working.h"

/* Glass scatters: bottles are warned of from a tenth below their limit (estimate), and wherever the
 * uncertainty reaches the limit. */
static const double MARGIN = 0.1;
static const double LEADS = 0.2;        /* blame from which a cause's caution is told */
static const double DECIDES = 0.69;     /* log ratio from which a sign decides: it doubles or halves the
					 * odds */
enum { LEADERS = 3 };

/* Warnings go into the diagnosis itself, so that whoever shows it shows them; no report can forget the
 * list. */
struct warner {
	const struct ab_knowledge *k;
	const struct ab_case *c;
	struct ab_arena *arena;
	struct ab_diagnosis *d;
	size_t cap;
	bool failed;
};

/* The same words twice would only dull them. text may be NULL when memory was short. */
static void warn(struct warner *w, const char *id, const char *text)
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

/* reckoned: how it is known. */
static void warn_with_care(struct warner *w, const char *id, const char *reckoned, const char *care)
{
	char *text = reckoned == NULL ? NULL : ab_arena_printf(w->arena, "%s %s", reckoned, care);
	size_t n = w->d->n_warnings;

	warn(w, id, text);
	if (w->d->n_warnings > n)
		w->d->warnings[n].care = text + strlen(text) - strlen(care);
}

static const struct ab_fact *fact_of(const struct warner *w, int usual, const char *name)
{
	int slot = case_slot(w->k->facts, usual, name);
	return slot >= 0 && AB_FACT_KNOWN(&w->c->facts[slot]) ? &w->c->facts[slot] : NULL;
}

static bool is_yes(const struct ab_fact *fact)
{
	return fact != NULL && fact->value > 0;
}

/* ---- pressure ---- */

static int fate(const struct warner *w)
{
	return w->c->batch->package != NULL ? w->c->batch->package->fate : 0;
}

static int packaged_into(const struct warner *w)
{
	const struct ab_fact *into = fact_of(w, AB_F_PACK_INTO, "pack.into");
	return into != NULL ? 1 + (int)into->value : 0;
}

static bool is_day_before(const struct ab_when *a, const struct ab_when *b)
{
	static const double DAY_S = 86400;

	return a->known && b->known && floor(a->s / DAY_S) < floor(b->s / DAY_S);
}

/* Nobody holds them any more. What became of bottles on a day before they were filled, put elsewhere or tasted, is
 * of others, or a slip: there was one left, and where one was there may be more. */
static bool are_gone(const struct warner *w)
{
	const struct ab_batch *b = w->c->batch;

	if (fate(w) != AB_FATE_DRUNK && fate(w) != AB_FATE_POURED_AWAY)
		return false;
	for (AB_EACH(const struct ab_store, s, b->stores))
		if (is_day_before(&b->package->fate_at, &s->from))
			return false;
	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		if (is_day_before(&b->package->fate_at, &t->at))
			return false;
	return !is_day_before(&b->package->fate_at, &b->package->at);
}

/* Letting off ends no alarm. Of the gas, the neck holds 6 to 8 % (mass balance, pressure.c); the rest leaves the
 * beer after the cap is on again. Nor does a journal tell when it was done: before the sugar had fermented it
 * changes nothing. */
static void warn_of_let_off(struct warner *w)
{
	if (fate(w) == AB_FATE_LET_OFF && packaged_into(w) != AB_PACK_KEG && packaged_into(w) != AB_PACK_CASK)
		warn(w, "bottles-let-off",
		    "The bottles were opened and let off: that lowers the pressure only until more gas comes, out of "
		    "the beer or from what ferments yet. The warning stays until they are drunk or poured away.");
}

/* What only may come near is not chilled: it would not carbonate. */
#define OVER_CARE "Keep them cold, covered and away from people; wear eye protection and gloves; let the gas " \
	"off a little at a " \
	"time once they are cold."
#define NEAR_CARE "Keep them boxed, away from people and from summer heat; open one after a week with eyes and hands " \
	"protected, and chill them all as soon as one gushes or hisses hard."

/* These are of bottles; of what else there is the rules may tell (care of its <bottle>). */
#define UNJUDGED_CARE "Keep it cold and away from people until you know; protect eyes and hands when you open it."

/* Gas is what there is to let off; what the yeast made of it is gone for good. */
#define WARM_DAY_CARE "Before it may stand warm, let it ferment out under a valve, or let the gas off through " \
	"its relief valve, a little at a " \
	"time and in a room that is aired."

/* Bottles beside a keg, a cask or cans are what is judged (pressure.c). */
static int judged_as(const struct warner *w)
{
	const struct ab_package *p = w->c->batch->package;
	return p != NULL && p->bottle != 0 && p->bottle < AB_BOTTLE_PLASTIC_CAN ? AB_PACK_BOTTLES : packaged_into(w);
}

/* What the rules know of such a package; NULL: nothing. */
static const struct ab_bottle_norm *norm_of(const struct warner *w)
{
	const struct ab_package *p = w->c->batch->package;
	return ab_bottle_norm_of(&w->k->norms, packaged_into(w), p != NULL ? p->bottle : 0);
}

static const char *care_of(const struct ab_bottle_norm *norm, const char *else_care)
{
	return norm != NULL && norm->care != NULL ? norm->care : else_care;
}

/* Of the keg, cask or cans themselves, whatever else was filled besides. */
static const struct ab_bottle_norm *own_norm_of(const struct warner *w)
{
	bool glass = judged_as(w) == AB_PACK_BOTTLES && packaged_into(w) > AB_PACK_BOTTLES;
	return glass ? ab_bottle_norm_of(&w->k->norms, packaged_into(w), 0) : norm_of(w);
}

/* A keg that stands cold with gravity left says nothing until the day it is carried out. */
static void warn_of_warm_day(struct warner *w, const struct ab_bottle_norm *norm)
{
	const struct ab_fact *kpa = fact_of(w, AB_F_KEG_WARM, "keg.pressure-if-warm");

	if (kpa == NULL || norm == NULL || !(norm->tell_kpa > 0) || kpa->value <= norm->tell_kpa)
		return;
	warn_with_care(w, "keg-warm-day",
	    ab_arena_printf(w->arena,
		"Keep this keg cold: gravity is left in it, and standing warm it would come to "
		"%.0f kPa%s%s%s. %s",
		round(kpa->value), kpa->working != NULL ? " (" : "", kpa->working != NULL ? kpa->working : "",
		kpa->working != NULL ? ")" : "", norm->says != NULL ? norm->says : ""),
	    WARM_DAY_CARE);
}

/* Where no limit is known, or only that of a soundly made one, silence would be taken for leave. */
static void warn_of_unjudged(struct warner *w, const struct ab_fact *share)
{
	const struct ab_fact *kpa = fact_of(w, AB_F_PACK_PRESSURE, "pack.pressure-worst");
	const struct ab_bottle_norm *norm = own_norm_of(w);
	bool told_from = norm != NULL && norm->tell_kpa > 0;

	if (kpa == NULL || (told_from ? kpa->value <= norm->tell_kpa : share != NULL)) {
		warn_of_warm_day(w, norm);
		return;
	}
	warn_with_care(w, "pressure-unjudged",
	    ab_arena_printf(w->arena, "%s At the hottest storage the pressure is reckoned at %.0f kPa%s%s%s.",
		norm != NULL && norm->says != NULL ? norm->says : "What this package bears is not known here.",
		round(kpa->value), kpa->working != NULL ? " (" : "", kpa->working != NULL ? kpa->working : "",
		kpa->working != NULL ? ")" : ""),
	    care_of(norm, UNJUDGED_CARE));
}

/* Over the limit, or within a tenth of it, is an alarm; so near that the reckoning's own error reaches it is
 * a caution, under another id: who cries wolf is not heard. */
static void warn_of_pressure(struct warner *w)
{
	const struct ab_fact *share = fact_of(w, AB_F_PACK_PRESSURE_SHARE, "pack.pressure-share");
	const char *working = share != NULL && share->working != NULL ? share->working : "";
	bool over = share != NULL && share->value > 1 - MARGIN;
	char buf[32];

	if (are_gone(w))
		return;
	if (share == NULL || !(over || share->value + share->u > 1)) {
		warn_of_unjudged(w, share);
		return;
	}
	static const char *const what[][2] = { [0] = { "Bottles", "bottle" },
		[AB_PACK_BOTTLES] = { "Bottles", "bottle" },
		[AB_PACK_KEG] = { "Kegs", "keg" },
		[AB_PACK_CASK] = { "Casks", "cask" },
		[AB_PACK_CANS] = { "Cans", "can" } };
	const char *const *such = what[judged_as(w)];
	ab_num_text(round(share->value * 100), buf, sizeof buf);
	warn_with_care(w, over ? "bottle-pressure" : "bottle-pressure-near",
	    ab_arena_printf(w->arena,
		"%s %s: at the hottest storage the pressure is reckoned at %s %% of what such a %s bears%s%s%s.",
		such[0], share->value > 1 ? "may burst" : "come near their limit", buf, such[1],
		*working != '\0' ? " (" : "", working, *working != '\0' ? ")" : ""),
	    care_of(norm_of(w), over ? OVER_CARE : NEAR_CARE));
	warn_of_let_off(w);
}

/* Silence about its pressure would be taken for leave. */
static void warn_of_mixed_gas(struct warner *w)
{
	const struct ab_fact *gas = fact_of(w, AB_F_KEG_GAS, "keg.gas");

	if (gas != NULL && (int)gas->value + 1 > AB_KEG_GAS_CO2 && packaged_into(w) != AB_PACK_BOTTLES && !are_gone(w))
		warn(w, "keg-mixed-gas",
		    "The keg stands under mixed gas or nitrogen: how much carbonation that makes, and what "
		    "pressure the keg may come "
		    "to, is not reckoned here. Keep the regulator below what is stamped on the keg, with a "
		    "relief valve of its own that works.");
}

/* ---- a fermenter under pressure ---- */

static void warn_of_fermenter(struct warner *w)
{
	const char *id = NULL, *text = case_fermenter_says(w->c->batch, w->arena, &id);

	if (id != NULL)
		warn(w, id, text);
}

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
	int into = packaged_into(w);

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
	    are_gone(w))
		return;
	for (size_t i = 0; i < w->k->n_faults; i++)
		if (strcmp(w->k->faults[i].id, "over-carbonated") == 0)
			caution = fault_caution(w, &w->k->faults[i]);
	/* in the words of the rules where they have any, so that they are not said again as the fault's
	 * own */
	warn(w, "bottle-bombs", caution != NULL ? caution : "Beer that gushes was found, and bottles with "
	    "too much gas burst and cut. Chill them before you touch them, wear eye "
	    "protection and gloves, keep them in a closed box away from people, and let the gas off a little "
	    "at a time.");
	warn_of_let_off(w);
}

/* ---- cautions of the rules ---- */

static void warn_of_faults(struct warner *w)
{
	for (size_t i = 0; i < w->k->n_faults; i++)
		if (w->c->fault_intensity[i] > 0 && fault_caution(w, &w->k->faults[i]) != NULL)
			warn(w, w->k->faults[i].id, fault_caution(w, &w->k->faults[i]));
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
			warn(w, cause->id, caution);
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
	if (!is_yes(fact_of(w, AB_F_INSTRUMENT_HYDROMETER, "instrument.hydrometer-checked")) && decides(w, gravity))
		warn(w, "hydrometer-unchecked",
		    "The answer hangs on gravity readings, and nothing tells that the hydrometer was "
		    "checked: it should read "
		    "1.000 in distilled water at its own temperature.");
	if (!is_yes(fact_of(w, AB_F_INSTRUMENT_THERMOMETER, "instrument.thermometer-checked")) &&
	    decides(w, temperature))
		warn(w, "thermometer-unchecked",
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
			warn(w, w->k->contraries[i].id, w->k->contraries[i].says);
}

bool case_warnings(const struct ab_knowledge *k, const struct ab_case *c, struct ab_arena *arena)
{
	struct warner w = { .k = k, .c = c, .arena = arena, .d = c->diagnosis };
	warn_of_pressure(&w);
	warn_of_mixed_gas(&w);
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
