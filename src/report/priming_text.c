/* priming_text.c - how much sugar for the bottles, as a sentence, or what stands against telling it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>

#include "base/units.h"
#include "report/saying.h"

/* The sugar of all, of the whole beer or of each litre or gallon of it: in what the brewer's scale shows. A
 * hundredth of an ounce for each gallon is a tenth of a gram in four litres. */
static const char *of_all(struct page *p, double g)
{
	return p->look->us_units ? say_fixed(p, g / AB_OUNCE_G, 1) : say_fixed(p, g, 0);
}

static const char *of_each(struct page *p, double g_per_l)
{
	return p->look->us_units ? say_fixed(p, g_per_l * AB_GALLON_L / AB_OUNCE_G, 2) : say_fixed(p, g_per_l, 1);
}

static const char *weight(const struct page *p) { return p->look->us_units ? "oz" : "g"; }
static const char *each(const struct page *p) { return p->look->us_units ? "gallon" : "litre"; }

static const char *amount_of(struct page *p, const struct ab_priming *s)
{
	const struct ab_priming_rate *r = &s->rate;
	if (isnan(s->volume_l))
		return page_text(p,
		    "Prime with %s %s table sugar for each %s (%s to %s %s is the same within what is known)",
		    of_each(p, r->g_per_l), weight(p), each(p), of_each(p, r->low), of_each(p, r->high), weight(p));
	return page_text(p,
	    "Prime with %s %s table sugar for %s L (%s to %s %s is the same within what is known; %s %s for "
	    "each %s, if it "
	    "is another amount)",
	    of_all(p, r->g_per_l * s->volume_l), weight(p), say_short(p, s->volume_l, 1),
	    of_all(p, r->low * s->volume_l), of_all(p, r->high * s->volume_l), weight(p), of_each(p, r->g_per_l),
	    weight(p), each(p));
}

static const char *ready(struct page *p, const struct ab_priming *s)
{
	return page_text(p,
	    "%s: that makes %s volumes, %s; %s %s C%s%s. Measure the beer, weigh the sugar and mix it "
	    "evenly; other sugars need other weights. Too much, or sugar in beer that still works, bursts bottles%s.",
	    amount_of(p, s), say_fixed(p, s->of.volumes, 1),
	    s->usual ? "usual for its kind" : "as the recipe wants",
	    s->read_then ? "since it stood still the beer was at most" : "reckoned at",
	    say_short(p, s->of.warmest_c, 0),
	    s->read_then ? ""
		: s->cool_guess
		? ", a cool guess to be on the safe side, for nothing was read since it stands still (if it was warmer "
		  "then, it wants a little more)"
		: ", for nothing was read since it stands still",
	    s->of.over_kpa > 0 ? ", under the pressure it fermented at" : "",
	    s->told_bottle ? "" : "; an ordinary sound bottle is reckoned with, thinner or used glass bears less");
}

static const char *gravity(struct page *p, double sg) { return say_fixed(p, sg, 3); }

static const char *readings(struct page *p, const struct ab_priming *s)
{
	const char *all = "";
	for (size_t i = 0; i < s->n_read; i++)
		all = page_text(p, "%s%s%s", all, i > 0 ? ", " : "", gravity(p, s->read_sg[i]));
	return all;
}

const char *report_unready(struct page *p, const struct ab_priming *s)
{
	bool fell = s->n_read > 1 && s->read_sg[s->n_read - 1] < s->read_sg[s->n_read - 2];
	if (s->why == AB_PRIMING_NOT_STILL && s->n_read > 1)
		return page_text(p,
		    fell ? "still falling (%s): read it again. " : "not yet three days at one gravity (%s). ",
		    readings(p, s));
	if (s->misled)
		return "its gravities were read by a refractometer, which alcohol makes read far too high: read "
		    "a hydrometer, or correct "
		       "them, before you call it stuck or done. ";
	double over = 1000 * (s->last_sg - s->end_sg);
	if (s->why == AB_PRIMING_SLOW_YEAST)
		return page_text(p,
		    "its yeast eats starch and goes on slowly, whatever was planned: it stands at %s for %s%s, "
		    "and is not ready to bottle. A sample "
		    "kept warm and shaken for a week (a forced sample) tells whether more comes. ",
		    gravity(p, s->last_sg), say_count(p, (size_t)lround(s->stood_days), "day", "days"),
		    over < 0.5 ? ""
			       : page_text(p, ", %s points over the %s where such a yeast ends",
				     say_fixed(p, over, 0), gravity(p, s->end_sg)));
	if (s->why != AB_PRIMING_POINTS_LEFT)
		return "";
	return page_text(p,
	    "it stands at %s%s, %s points over the %s where it should end, and is not ready to bottle. ",
	    gravity(p, s->last_sg),
	    isnan(s->stood_days)
		? ""
		: page_text(p, " for %s", say_count(p, (size_t)lround(s->stood_days), "day", "days")),
	    say_fixed(p, over, 0), gravity(p, s->end_sg));
}

/* What stands against bottling, as far as it hangs on nothing else. */
static const char *const plainly[AB_PRIMING_WHYS] = {
	[AB_PRIMING_NO_END] =
	    "nobody knows where its gravity should end; write down the yeast (afterboil log BATCH yeast clean-ale) or "
	    "the recipe's final gravity",
	[AB_PRIMING_NOT_STILL] = "two readings at least three days apart must agree first",
	[AB_PRIMING_SUGAR_SINCE] =
	    "sugar or fruit went in since the gravity stood, or nobody told when, and what was still before it proves "
	    "nothing; read it twice after that, three days apart",
	[AB_PRIMING_HOPS_SINCE] =
	    "hops went in since the gravity stood, and they can set the yeast going again; read it twice more, three "
	    "days apart",
	[AB_PRIMING_NO_TEMPERATURE] =
	    "nobody wrote down how warm the beer was; write it down (afterboil log BATCH wort 20 C)",
};

static const char *too_high(struct page *p, const struct ab_priming *s)
{
	const char *until = s->stalled
	    ? "So much is left that no waiting makes it fit for bottles: do not bottle it, unless a sample kept warm "
	      "and shaken for a week (a forced sample) ends there as well"
	    : page_text(p, "Warmed and roused, and then at one gravity for %.0f days in all, it counts as done",
		  s->hung_days);
	return page_text(p, "it stands at %s and should end near %s; what is left would ferment in the bottle. %s",
	    gravity(p, s->last_sg), gravity(p, s->end_sg), until);
}

static const char *slow(struct page *p, const struct ab_priming *s)
{
	return s->stood_days >= s->slow_days
	    ? "this yeast goes on slowly for months, and it stands high for one of its kind: days at rest do not tell "
	      "that it is done. Warm and shake a sample for a week (a forced sample); it must end where the beer stands"
	    : page_text(p, "this yeast goes on slowly for weeks; its gravity must stand for %.0f days first",
		  s->slow_days);
}

static const char *against_bottling(struct page *p, const struct ab_priming *s)
{
	switch (s->why) {
	case AB_PRIMING_NO_GRAVITY:
		return s->misled
		    ? "its gravities are of a refractometer and not corrected for alcohol, so nobody knows whether it "
		      "is done"
		    : "no gravity is written down, so nobody knows whether it is done";
	case AB_PRIMING_POINTS_LEFT:
		return too_high(p, s);
	case AB_PRIMING_SLOW_YEAST:
		return slow(p, s);
	case AB_PRIMING_BOTTLE:
		return page_text(p,
		    "%s volumes would be more than %s bears when it gets warm; want less gas, or take stronger bottles",
		    say_fixed(p, s->of.volumes, 1), s->told_bottle ? "such a bottle" : "an ordinary bottle");
	default:
		return plainly[s->why];
	}
}

const char *report_priming(struct page *p, const struct ab_priming *s)
{
	if (s->why == AB_PRIMING_READY)
		return page_text(p, "%s%s",
		    s->forced ? "A forced sample ended there as well, so it is finished. Use sound bottles all the "
				"same, and open one early. "
			      : "",
		    say_words(p, ready(p, s)));
	if (s->why == AB_PRIMING_NOT_ASKED || s->why == AB_PRIMING_WHYS)
		return "";
	if (s->why == AB_PRIMING_HOLDS_ENOUGH)
		return page_text(
		    p, "It holds the %s volumes it wants already: no sugar.", say_fixed(p, s->of.volumes, 1));
	return page_text(p, "How much priming sugar is not said yet: %s.", against_bottling(p, s));
}

/* Nothing stands against it but that its time has not come. */
static bool only_early(const struct ab_priming *s)
{
	return !s->misled && (s->why == AB_PRIMING_NO_GRAVITY || (s->why == AB_PRIMING_NOT_STILL && s->n_read < 2));
}

const char *report_priming_ahead(struct page *p, const struct ab_priming *now, const struct ab_priming *s)
{
	const struct ab_priming_rate *r = &s->rate;
	if (!only_early(now))
		return report_priming(p, now);
	if (s->why != AB_PRIMING_READY)
		return report_priming(p, s);
	const char *all = isnan(s->volume_l)
	    ? ""
	    : page_text(p, ", so %s %s for %s L", of_all(p, r->g_per_l * s->volume_l), weight(p),
		  say_short(p, s->volume_l, 1));
	return say_words(p,
	    page_text(p,
		"Not before both gravities are the same and about where it should end: then %s %s table sugar "
		"for each %s "
		"you really have%s. That makes %s volumes, %s; reckoned at %s C%s: beer that was never so warm "
		"wants less, or bottles may burst. Other sugars need other weights. "
		"\"afterboil\" tells it again from what you wrote down. Too much, or sugar in beer that still "
		"works, bursts bottles%s.",
		of_each(p, r->g_per_l), weight(p), each(p), all, say_fixed(p, s->of.volumes, 1),
		s->usual ? "usual for its kind" : "as the recipe wants", say_short(p, s->of.warmest_c, 0),
		s->assumed ? " (assumed)" : "",
		s->told_bottle ? ""
			       : "; an ordinary sound bottle is reckoned with, thinner or used glass bears less"));
}
