/* pressed.c - what the pressure in a package is warned of, and with what care: too near its limit, or not judged
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/warning.h"

#include <math.h>

#include "base/str.h"
#include "process/slots.h"
#include "process/words.h"
#include "process/working.h"

/* Glass scatters: bottles are warned of from a tenth below their limit (estimate), and wherever the
 * uncertainty reaches the limit. */
static const double MARGIN = 0.1;
/* A figure of so many times the limit rests on a limit that is no more than a guess (estimate). */
static const double FAR_BEYOND = 3;

static int fate(const struct warner *w)
{
	return w->c->batch->package != NULL ? w->c->batch->package->fate : 0;
}

int case_packaged_into(const struct warner *w)
{
	const struct ab_fact *into = case_warner_fact(w, AB_F_PACK_INTO, "pack.into");
	return into != NULL ? 1 + (int)into->value : 0;
}

static bool is_day_before(const struct ab_when *a, const struct ab_when *b)
{
	static const double DAY_S = 86400;

	return a->known && b->known && floor(a->s / DAY_S) < floor(b->s / DAY_S);
}

/* Nobody holds them any more. What became of bottles on a day before they were filled, put elsewhere or tasted, is
 * of others, or a slip: there was one left, and where one was there may be more. */
bool case_are_gone(const struct warner *w)
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
void case_warn_of_let_off(struct warner *w)
{
	if (fate(w) == AB_FATE_LET_OFF && case_packaged_into(w) != AB_PACK_KEG && case_packaged_into(w) != AB_PACK_CASK)
		case_warn(w, "bottles-let-off",
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
	bool beside = p != NULL && p->bottle != 0 && p->bottle < AB_BOTTLE_PLASTIC_CAN;

	return beside ? AB_PACK_BOTTLES : case_packaged_into(w);
}

/* What the rules know of such a package; NULL: nothing. */
static const struct ab_bottle_norm *norm_of(const struct warner *w)
{
	const struct ab_package *p = w->c->batch->package;
	return ab_bottle_norm_of(&w->k->norms, case_packaged_into(w), p != NULL ? p->bottle : 0);
}

static const char *care_of(const struct ab_bottle_norm *norm, const char *else_care)
{
	return norm != NULL && norm->care != NULL ? norm->care : else_care;
}

/* Of the keg, cask or cans themselves, whatever else was filled besides. */
static const struct ab_bottle_norm *own_norm_of(const struct warner *w)
{
	bool glass = judged_as(w) == AB_PACK_BOTTLES && case_packaged_into(w) > AB_PACK_BOTTLES;
	return glass ? ab_bottle_norm_of(&w->k->norms, case_packaged_into(w), 0) : norm_of(w);
}

/* A keg that stands cold with gravity left says nothing until the day it is carried out. */
static void warn_of_warm_day(struct warner *w, const struct ab_bottle_norm *norm)
{
	const struct ab_fact *kpa = case_warner_fact(w, AB_F_KEG_WARM, "keg.pressure-if-warm");

	if (kpa == NULL || norm == NULL || !(norm->tell_kpa > 0) || kpa->value <= norm->tell_kpa)
		return;
	case_warn_with_care(w, "keg-warm-day",
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
	const struct ab_fact *kpa = case_warner_fact(w, AB_F_PACK_PRESSURE, "pack.pressure-worst");
	const struct ab_bottle_norm *norm = own_norm_of(w);
	bool told_from = norm != NULL && norm->tell_kpa > 0;

	if (kpa == NULL || (told_from ? kpa->value <= norm->tell_kpa : share != NULL)) {
		warn_of_warm_day(w, norm);
		return;
	}
	case_warn_with_care(w, "pressure-unjudged",
	    ab_arena_printf(w->arena, "%s At the hottest storage the pressure is reckoned at %.0f kPa%s%s%s.",
		norm != NULL && norm->says != NULL ? norm->says : "What this package bears is not known here.",
		round(kpa->value), kpa->working != NULL ? " (" : "", kpa->working != NULL ? kpa->working : "",
		kpa->working != NULL ? ")" : ""),
	    care_of(norm, UNJUDGED_CARE));
}

/* Over the limit, or within a tenth of it, is an alarm; so near that the reckoning's own error reaches it is
 * a caution, under another id: who cries wolf is not heard. */
void case_warn_of_pressure(struct warner *w)
{
	const struct ab_fact *share = case_warner_fact(w, AB_F_PACK_PRESSURE_SHARE, "pack.pressure-share");
	const char *working = share != NULL && share->working != NULL ? share->working : "";
	bool over = share != NULL && share->value > 1 - MARGIN;
	char buf[32];

	if (case_are_gone(w))
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
	bool far = share->value > FAR_BEYOND;
	case_warn_with_care(w, over ? "bottle-pressure" : "bottle-pressure-near",
	    ab_arena_printf(w->arena,
		"%s %s: at the hottest storage the pressure is reckoned at %s%s what such a %s bears%s%s%s.",
		such[0], share->value > 1 ? "may burst" : "come near their limit", far ? "many times" : buf,
		far ? "" : " % of", such[1],
		*working != '\0' ? " (" : "", working, *working != '\0' ? ")" : ""),
	    care_of(norm_of(w), over ? OVER_CARE : NEAR_CARE));
	case_warn_of_let_off(w);
}

/* Silence about its pressure would be taken for leave. */
void case_warn_of_mixed_gas(struct warner *w)
{
	const struct ab_fact *gas = case_warner_fact(w, AB_F_KEG_GAS, "keg.gas");

	if (gas != NULL && (int)gas->value + 1 > AB_KEG_GAS_CO2 && case_packaged_into(w) != AB_PACK_BOTTLES &&
	    !case_are_gone(w))
		case_warn(w, "keg-mixed-gas",
		    "The keg stands under mixed gas or nitrogen: how much carbonation that makes, and what "
		    "pressure the keg may come "
		    "to, is not reckoned here. Keep the regulator below what is stamped on the keg, with a "
		    "relief valve of its own that works.");
}
