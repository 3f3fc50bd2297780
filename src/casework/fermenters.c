/* fermenters.c - does every vessel the beer was in bear the pressure that was held while it was in it?
 *
 * Glass, buckets and ordinary plastic carboys bear none at all; what others bear is stamped on them (common
 * practice; the standing rule of every maker). A vessel of PET is most often of the ordinary kind, so where nobody
 * wrote that it is made for it that is said, and not in passing. Where times are not told, a vessel that may have
 * held it is told of as such.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <math.h>
#include <string.h>

#include "process/working.h"

/* Rising: what the strongest word is said of. */
enum finding { BEARS, PERHAPS_NOT, UNTOLD, BEARS_NOT };

struct stay { double from, until; };   /* seconds from pitching; NAN: not told */

static double first_of(double a, double b)
{
	return isnan(a) || b < a ? b : a;
}

/* As it tells, else when beer was moved to it; a move that does not tell where to is to the second. */
static double began(const struct ab_batch *b, const struct ab_vessel *v)
{
	const struct ab_vessel *all = b->vessels.items;
	double named = AB_NAN, moved = AB_NAN;

	if (v->from.known || v == all)
		return v->from.known ? ab_batch_since_pitch(b, &v->from) : -AB_INF;
	for (AB_EACH(struct ab_transfer, t, b->transfers)) {
		double at = ab_batch_since_pitch(b, &t->at);
		if (t->to != NULL && v->id != NULL && strcmp(t->to, v->id) == 0)
			named = first_of(named, at);
		else if (t->to == NULL && v == all + 1)
			moved = first_of(moved, at);
	}
	return isnan(named) ? moved : named;
}

static struct stay stay_of(const struct ab_batch *b, const struct ab_vessel *v)
{
	struct stay s = { began(b, v), ab_batch_since_pitch(b, &v->until) };
	const struct ab_vessel *end = (const struct ab_vessel *)b->vessels.items + b->vessels.n;
	bool open = !isfinite(s.until);

	/* until the next that it was moved to; of one whose time nobody told the end is not known */
	for (const struct ab_vessel *next = v + 1; open && next < end; next++)
		s.until = first_of(s.until, began(b, next));
	if (open && v + 1 == end)
		s.until = AB_INF;
	return s;
}

/* Of the pressure of s in v: 0 for sure not while the beer was in it, 1 perhaps, 2 for sure. */
static int met(const struct ab_batch *b, const struct ab_vessel *v, const struct ab_spund *s)
{
	struct stay stay = stay_of(b, v);
	double at = ab_batch_since_pitch(b, &s->at);

	if (stay.until <= at || stay.from >= ab_spund_ended_s(b, s))
		return 0;
	return b->vessels.n == 1 || !(isnan(stay.from) || isnan(stay.until) || isnan(at)) ? 2 : 1;
}

static bool is_kind(const struct ab_vessel *v, const char *kind)
{
	return v->kind > 0 && strcmp(ab_words_vessel[v->kind - 1], kind) == 0;
}

static enum finding bears(const struct ab_vessel *v, const struct ab_num *kpa)
{
	bool told = v->rated == AB_YES || v->rated_kpa.known;

	if (v->rated == AB_NO || (v->rated_kpa.known && kpa->known && v->rated_kpa.v < kpa->v) ||
	    (!v->rated_kpa.known && (is_kind(v, "glass") || is_kind(v, "bucket"))))
		return BEARS_NOT;
	return told || !is_kind(v, "pet") ? BEARS : UNTOLD;
}

/* A pressure that nobody read is one all the same. */
static bool is_on(const struct ab_spund *s)
{
	return !s->pressure_kpa.known || s->pressure_kpa.v > 0;
}

static enum finding worst_of(const struct ab_batch *b, const struct ab_vessel **which)
{
	enum finding worst = BEARS;

	for (AB_EACH(struct ab_spund, s, b->spunds))
		for (AB_EACH(struct ab_vessel, v, b->vessels)) {
			int how = is_on(s) ? met(b, v, s) : 0;
			enum finding f = how == 0 ? BEARS : bears(v, &s->pressure_kpa);
			f = how == 1 && f != BEARS ? PERHAPS_NOT : f;
			if (f > worst) {
				worst = f;
				*which = v;
			}
		}
	return worst;
}

static bool is_under_pressure(const struct ab_batch *b)
{
	for (AB_EACH(struct ab_spund, s, b->spunds))
		if (is_on(s))
			return b->package == NULL;
	return false;
}

const char *case_fermenter_says(const struct ab_batch *b, struct ab_arena *arena, const char **id)
{
	const struct ab_vessel *v = NULL;
	enum finding worst = worst_of(b, &v);
	const char *kind = v == NULL || v->kind == 0 ? "" : ab_words_vessel[v->kind - 1];
	const char *one = v == NULL || b->vessels.n == 1 || *kind == '\0' ? "This fermenter"
	    : ab_arena_printf(arena, "One of its vessels (%s)", kind);

	if (one == NULL)
		*id = "fermenter-pressure";
	if (one == NULL || (worst == BEARS && !is_under_pressure(b)))
		return NULL;
	*id = worst == BEARS  ? "fermenter-under-pressure"
	    : worst == UNTOLD ? "fermenter-unrated"
			      : "fermenter-pressure";
	if (worst == BEARS_NOT)
		return ab_arena_printf(arena,
		    "%s is not made for the pressure it was put under: let it off slowly and keep away from it. "
		    "Glass, buckets "
		    "and plastic not made for it burst; use a vessel stamped for more, with its own relief valve.",
		    one);
	if (worst == UNTOLD)
		return ab_arena_printf(arena,
		    "%s is of plastic, and nobody wrote that it is made for pressure: ordinary ones bear none "
		    "at all, and burst. "
		    "%s; never let it hold gas unless a pressure is stamped on it that is more than the valve "
		    "holds, with a relief valve of its own and a "
		    "test that is not out of date.",
		    one,
		    b->package == NULL ? "Until you know, let the pressure off slowly and keep away from it"
				       : "See what it is before you use it so again");
	if (worst == PERHAPS_NOT)
		return ab_arena_printf(arena,
		    "%s is not known to bear pressure, and when the beer was in it is not told: if that was "
		    "while pressure was held, "
		    "let it off slowly and keep away from it. Glass, buckets and plastic not made for it burst.",
		    one);
	return "A fermenter under pressure: keep below what is stamped on the vessel, with a relief valve of "
	    "its own that works, and "
	       "see that foam cannot block it; let the pressure off before you open anything.";
}
