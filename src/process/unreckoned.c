/* unreckoned.c - fields that are told and no fact came of, with what was missing
 *
 * A table: the field, the facts it goes into, and what those want besides. The first want that is not known is the
 * reason; where all are known, the row's own.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/unreckoned.h>
#include <assert.h>
#include "process/words.h"
#include "process/working.h"

enum { SHOWS = 3, WANTS = 3 };

/* A fact, or a field where slot is 0 (the family is no want of anything). */
struct want { int slot; const struct ab_plain *field; const char *says; };

/* least: words before this place tell nothing that would have to be reckoned. shows ends at 0. */
struct row {
	const char *element, *attr;
	struct ab_plain field;
	int shows[SHOWS];
	struct want wants[WANTS];
	const char *why;
	double least;
};

#define ONE(kind, record, member) AB_ONE(0, AB_FIELD_##kind, record, member, 1)
#define MANY(kind, list, type, member) AB_MANY(0, AB_FIELD_##kind, list, type, member, 1, AB_TAKE_FIRST)
#define KEPT(element, attr, ...) { element, attr, __VA_ARGS__, .why = "kept; nothing is reckoned from it" }

static const struct ab_plain bore = ONE(NUM, serve, bore_mm), length = ONE(NUM, serve, line_mm),
    served_at = ONE(NUM, serve, pressure_kpa), gas = ONE(NUM, carbonate, pressure_kpa),
    cold = ONE(NUM, carbonate, temp_c);

#define CLASS { { AB_F_YEAST_LAGER, NULL, "the yeast's class is not told, and so not what it is to be held against" } }
#define YEAST { { AB_F_RECIPE_VOLUME, NULL, "how much wort it went into is not told" }, \
	{ AB_F_GRAVITY_OG, NULL, "the original gravity is not told" }, \
	{ AB_F_YEAST_FORM, NULL, "the form of the yeast is not told" } }
#define NOTHING { { 0, NULL, NULL } }
#define LIQUOR "how much beer it went into is not told"

static const struct row rows[] = {
	{ "yeast", "amount", MANY(NUM, yeasts, ab_yeast, amount_g), { AB_F_PITCH_RATE_SHARE }, YEAST,
	  "of such a yeast packs or a volume tell", 0 },
	{ "yeast", "packs", MANY(NUM, yeasts, ab_yeast, packs), { AB_F_PITCH_RATE_SHARE }, YEAST,
	  "of such a yeast an amount or a volume tells", 0 },
	{ "yeast", "volume", MANY(NUM, yeasts, ab_yeast, volume_l), { AB_F_PITCH_RATE_SHARE }, YEAST,
	  "only of slurry a volume tells", 0 },
	{ "pitch", "temp", ONE(NUM, pitch, temp_c), { AB_F_PITCH_TEMP_OVER }, CLASS, NULL, 0 },
	{ "chill", "end-temp", ONE(NUM, chill, end_c), { AB_F_PITCH_TEMP_OVER }, CLASS, NULL, 0 },
	{ "reading", "wort", MANY(NUM, readings, ab_reading, wort_c), { AB_F_FERMENT_PEAK_OVER,
	  AB_F_FERMENT_EARLY_OVER, AB_F_PITCH_TEMP_OVER },
	  CLASS, "when it was read is not told, or it was no hour of the fermentation", 0 },
	{ "reading", "room", MANY(NUM, readings, ab_reading, room_c), { AB_F_FERMENT_ROOM }, NOTHING,
	  "when it was read is not told", 0 },
	{ "vessel", "target", MANY(NUM, vessels, ab_vessel, target_c), { AB_F_FERMENT_EARLY_OVER }, CLASS,
	  "what holds it is not told, or it holds no temperature", 0 },
	{ "lag", "first-signs", ONE(NUM, lag, first_s), { AB_F_LAG_OVER }, CLASS, NULL, 0 },
	{ "dry-hop", "amount", MANY(NUM, dryhops, ab_dryhop, amount_g), { AB_F_HOPS_DRY_LOAD },
	  { { AB_F_RECIPE_VOLUME, NULL, LIQUOR } }, NULL, 0 },
	{ "vessel", "headspace", MANY(NUM, vessels, ab_vessel, headspace_l), { AB_F_VESSEL_SECOND_AIR,
	  AB_F_OXYGEN_CRASH, AB_F_OXYGEN_SECOND }, NOTHING,
	  "working beer drives its air out; it counts in a second vessel, and where the beer is cooled or opened", 0 },
	{ "vessel", "light", MANY(WORD, vessels, ab_vessel, light), { AB_F_LIGHT_DOSE },
	  { { AB_F_VESSEL_KIND, NULL, "what the fermenter is made of is not told" }, { AB_F_FERMENT_DAYS, NULL,
	  "how long it stood there is not told" } },
	  NULL, 1 },
	{ "rest", "for", MANY(NUM, rests, ab_rest, for_s), { AB_F_FERMENT_REST_DAYS }, CLASS, NULL, 0 },
	{ "crash", "airlock", MANY(WORD, crashes, ab_crash, airlock), { AB_F_OXYGEN_CRASH }, NOTHING, NULL, 0 },
	{ "gear", "sanitiser", MANY(WORD, gear, ab_gear, sanitiser), { AB_F_SANITISE_MISSED }, NOTHING,
	  "one piece tells of itself; that nothing was missed is said of item=\"everything\"", 1 },
	{ "gear", "contact", MANY(NUM, gear, ab_gear, contact_s), { AB_F_SANITISE_CONTACT }, NOTHING,
	  "the sanitiser is not told, or its label asks for no time", 0 },
	{ "gear", "mixed-age", MANY(NUM, gear, ab_gear, mixed_age_s), { AB_F_SANITISE_MIX_AGE }, NOTHING,
	  "the sanitiser is not told, or how long it keeps is not known", 0 },
	{ "gear", "dose", MANY(NUM, gear, ab_gear, dose_mll), { AB_F_SANITISE_DOSE }, NOTHING,
	  "what its label says is not known: label-share tells the dose against it", 0 },
	{ "gear", "dose-ppm", MANY(NUM, gear, ab_gear, dose_mgl), { AB_F_SANITISE_DOSE }, NOTHING,
	  "what its label says is not known: label-share tells the dose against it", 0 },
	{ "package", "priming", ONE(NUM, package, priming_g), { AB_F_PACK_PRIMING }, NOTHING, LIQUOR, 0 },
	{ "package", "neck", ONE(NUM, package, neck_mm), { AB_F_OXYGEN_HEADSPACE }, { { AB_F_PACK_INTO, NULL,
	  "that it is bottles is not told" } }, NULL, 0 },
	{ "package", "purges", ONE(NUM, package, purges), { AB_F_OXYGEN_HEADSPACE }, { { AB_F_PACK_INTO, NULL,
	  "that it is a keg is not told" } }, NULL, 0 },
	{ "carbonate", "pressure", ONE(NUM, carbonate, pressure_kpa), { AB_F_KEG_CO2 }, { { 0, &cold,
	  "how cold it stood is not told" } }, NULL, 0 },
	{ "carbonate", "temp", ONE(NUM, carbonate, temp_c), { AB_F_KEG_CO2 }, { { 0, &gas,
	  "its pressure is not told" } }, NULL, 0 },
	{ "store", "temp", MANY(NUM, stores, ab_store, temp_c), { AB_F_STORE_EQUIVALENT, AB_F_STORE_CONDITION_C },
	  { { AB_F_STORE_DAYS, NULL, "how long it stood so warm is not told" } },
	  "of another stay the warmth is not told", 0 },
	{ "store", "hottest", MANY(NUM, stores, ab_store, hottest_c), { AB_F_PACK_PRESSURE }, { { AB_F_PACK_CO2, NULL,
	  "of the pressure it tells nothing: how much gas it holds is not known" } },
	  NULL, 0 },
	{ "store", "light", MANY(WORD, stores, ab_store, light), { AB_F_LIGHT_DOSE },
	  { { AB_F_PACK_COLOUR, NULL, "the colour of the bottles is not told" }, { AB_F_STORE_DAYS, NULL,
	  "how long it stood there is not told" } }, NULL, 1 },
	{ "serve", "line-length", ONE(NUM, serve, line_mm), { AB_F_SERVE_LINE_SHARE },
	  { { 0, &bore, "how wide the line is inside is not told" }, { 0, &served_at,
	  "the keg's pressure is not told" } }, NULL, 0 },
	{ "serve", "line-bore", ONE(NUM, serve, bore_mm), { AB_F_SERVE_LINE_SHARE },
	  { { 0, &length, "how long the line is is not told" }, { 0, &served_at, "the keg's pressure is not told" } },
	  NULL, 0 },
	{ "serve", "pressure", ONE(NUM, serve, pressure_kpa), { AB_F_SERVE_LINE_SHARE, AB_F_SERVE_GAS_OVER }, NOTHING,
	  "neither line nor warmth of the served beer is told, or not what gas it was given", 0 },
	{ "serve", "temp", ONE(NUM, serve, temp_c), { AB_F_SERVE_GAS_OVER }, NOTHING,
	  "only beside the gas of a keg the warmth of the glass tells", 0 },
	KEPT("mash", "time", ONE(NUM, mash, time_s)),
	KEPT("boil", "off", ONE(NUM, boil, off_share)),
	KEPT("reading", "ph", MANY(NUM, readings, ab_reading, ph)),
	KEPT("looks", "krausen-fell", MANY(YESNO, looks, ab_looks, krausen_fell)),
	KEPT("looks", "sediment", MANY(YESNO, looks, ab_looks, sediment)),
	KEPT("package", "lubricated", ONE(YESNO, package, lubricated)),
	KEPT("store", "upright", MANY(YESNO, stores, ab_store, upright)),
	KEPT("serve", "line-age", ONE(NUM, serve, line_age_s)),
	KEPT("serve", "idle", ONE(NUM, serve, idle_s)),
	KEPT("instrument", "compensated", MANY(YESNO, instruments, ab_instrument, compensated)),
};

static bool is_shown(const struct row *row, const struct ab_fact *facts)
{
	for (size_t i = 0; i < SHOWS && row->shows[i] != 0; i++)
		if (AB_FACT_KNOWN(&facts[row->shows[i]]))
			return true;
	return false;
}

/* What is usual (which has no name) was never poured on a day. */
static const char *of_stay(const struct ab_work *w, const char *says)
{
	return w->batch->id != NULL ? says
				    : "a habit has no tasting that tells how long it stood; it counts in journals, "
				      "whose tastings do";
}

static const char *reason(const struct ab_work *w, const struct ab_fact *facts, const struct row *row)
{
	for (size_t i = 0; i < WANTS && row->wants[i].says != NULL; i++) {
		const struct want *want = &row->wants[i];
		if (want->field != NULL ? !ab_look(w, want->field).known : !AB_FACT_KNOWN(&facts[want->slot]))
			return want->slot == AB_F_STORE_DAYS ? of_stay(w, want->says) : want->says;
	}
	/* Two lines that both tell of form or amount were taken for two yeasts, and one of them tells too little. */
	if (row->shows[0] == AB_F_PITCH_RATE_SHARE && w->batch->yeasts.n > 1)
		return "these lines were taken for several yeasts, and of one the form or the amount is not told: "
		    "what is one yeast stands in one <yeast>";
	return row->why;
}

/* Of a grist in which not all is weighed only what has a usual share of its own counts (recipe.c). */
static const struct ab_mark *unweighed_malt(const struct ab_batch *batch)
{
	const struct ab_recipe *r = batch->recipe;

	if (r == NULL || r->complete == AB_YES)
		return NULL;
	for (AB_EACH(struct ab_malt, m, r->malts))
		if (!m->amount_g.known && !m->share.known)
			return &m->mark;
	return NULL;
}

/* Told that there was one, and not how long. */
static const struct ab_mark *endless_rest(const struct ab_batch *batch)
{
	for (AB_EACH(struct ab_rest, r, batch->rests))
		if (!r->for_s.known)
			return &r->mark;
	return NULL;
}

/* One rinse told of a cleaner and a sanitiser: hygiene.c takes it for that of a sanitiser which wants none. */
static const struct ab_mark *rinse_of_two(const struct ab_batch *batch)
{
	for (AB_EACH(struct ab_gear, g, batch->gear))
		if (g->item != AB_GEAR_KETTLE && g->rinse == AB_RINSE_NONE && g->cleaned > AB_AGENT_WATER &&
		    g->cleaned != AB_AGENT_OTHER && g->sanitiser > AB_SANI_NONE && g->sanitiser != AB_SANI_BLEACH)
			return &g->mark;
	return NULL;
}

/* Of two parts the first told is kept (tasting.c). */
static const struct ab_mark *second_part(const struct ab_batch *batch)
{
	int first = 0;

	for (AB_EACH(struct ab_tasting, t, batch->tastings))
		for (AB_EACH(struct ab_found, f, t->found)) {
			if (f->extent < AB_EXTENT_FIRST_POUR)
				continue;
			if (first != 0 && f->extent != first)
				return &f->mark;
			first = f->extent;
		}
	return NULL;
}

/* What wants a look at more than one field. slot: where its fact is known, all is well; -1: none. */
static const struct look {
	const struct ab_mark *(*find)(const struct ab_batch *);
	int slot;
	const char *element, *attr, *why;
} looks[] = {
	{ unweighed_malt, AB_F_RECIPE_EXTRACT_SHARE, "malt", "kind", "not all amounts are told, nor that the list is "
	  "whole (recipe complete): what was not in the beer is not known" },
	{ endless_rest, AB_F_FERMENT_REST_DAYS, "rest", "for", "how long it lasted is not told" },
	{ rinse_of_two, AB_F_CLEAN_UNRINSED, "gear", "rinse", "taken for the sanitiser's, which wants no rinse; that "
	  "the cleaner was not rinsed off is told by a line of its own: cleaned and rinse" },
	{ second_part, -1, "found", "extent", "one part is reckoned with, the first that is told; of this one only "
	  "that it was not in all" },
};

_Static_assert(sizeof rows / sizeof *rows + sizeof looks / sizeof *looks <= AB_UNRECKONED_MOST, "room for all");

/* As the reader meets them. */
static void put(struct ab_unreckoned *out, size_t n, struct ab_unreckoned one)
{
	for (; n > 0 && out[n - 1].line > one.line; n--)
		out[n] = out[n - 1];
	out[n] = one;
}

/* No usual batch: what a profile tells is no line of this journal. */
size_t ab_unreckoned(const struct ab_batch *batch, const struct ab_fact *facts, struct ab_unreckoned *out)
{
	const struct ab_work w = { .batch = batch };
	size_t n = 0;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct ab_told told = ab_look(&w, &rows[i].field);
		const char *why = told.known && told.v >= rows[i].least && !is_shown(&rows[i], facts)
		    ? reason(&w, facts, &rows[i])
		    : NULL;
		if (why == NULL)
			continue;
		put(out, n++, (struct ab_unreckoned){ told.basis.lines[0], rows[i].element, rows[i].attr, why,
		    rows[i].shows[0] != 0 ? rows[i].shows[0] : -1 });
	}
	for (size_t i = 0; i < sizeof looks / sizeof *looks; i++) {
		const struct look *l = &looks[i];
		const struct ab_mark *mark = l->slot >= 0 && AB_FACT_KNOWN(&facts[l->slot]) ? NULL : l->find(batch);
		if (mark != NULL)
			put(out, n++, (struct ab_unreckoned){ mark->line, l->element, l->attr, l->why, l->slot });
	}
	return n;
}
