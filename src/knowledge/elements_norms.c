/* elements_norms.c - what rules files may hold of what is normal: families, yeasts, kit, malts, numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/elements.h"

#include <afterboil/quantity.h>

static const char *const words_grade[] = { "slight", "moderate", "strong", NULL };
static const struct ab_elem_spec expects_children[] = { WHENS(raw_expects), NO_MORE };

/* ---- families, yeasts, kit ---- */

static const struct ab_attr_spec expects_attrs[] = {
	ID(raw_expects, "fault", fault), WORD(raw_expects, "up-to", up_to, words_grade), SOURCE(raw_expects),
	END
};
/* A factor on the severity: 0 for a fault that does not matter in this family. */
static const struct ab_attr_spec hurts_attrs[] = {
	ID(raw_hurts, "fault", fault), NUM(raw_hurts, "factor", factor, 0, 10), SOURCE(raw_hurts), END
};
static const struct ab_attr_spec carbonation_attrs[] = {
	QTY(raw_carbonation, "low", low, AB_DIM_CO2, 0, 10),
	QTY(raw_carbonation, "high", high, AB_DIM_CO2, 0, 10),
	SOURCE(raw_carbonation), END
};
/* In mg d/L, which no brewer writes with its unit: bare numbers. */
static const struct ab_attr_spec freshness_attrs[] = {
	NUM(raw_freshness, "fading", fading, 1, 100000), NUM(raw_freshness, "stale", stale, 1, 100000),
	NUM(raw_freshness, "long-stale", long_stale, 1, 100000), SOURCE(raw_freshness), END
};
const struct ab_attr_spec rules_family_attrs[] = { HEAD(raw_family), END };
const struct ab_elem_spec rules_family_children[] = {
	SENTENCE(raw_family, title, "title", true, "its name in plain words"),
	MANY(raw_family, expects, raw_expects, "expects", expects_attrs, expects_children,
	    "a trait it is meant to have, up to a grade"),
	MANY(raw_family, hurts, raw_hurts, "hurts", hurts_attrs, NULL,
	    "a fault that weighs more or less in it"),
	{ "carbonation", sizeof(struct raw_carbonation), offsetof(struct raw_family, carbonation), false,
	    true, carbonation_attrs, NULL, false, false, 0, "usual carbonation" },
	{ "freshness", sizeof(struct raw_freshness), offsetof(struct raw_family, freshness), false,
	    false, freshness_attrs, NULL, false, false, 0, "how much oxygen times days at 20 C it bears" },
	NO_MORE
};
/* Wide bounds, as in the journal: they catch Fahrenheit and lost digits. Attenuation may pass 100 %:
 * apparent attenuation does, since alcohol is lighter than water. */
const struct ab_attr_spec rules_yeast_attrs[] = {
	HEAD(raw_yeast), SAYS(raw_yeast, "title", title), SAYS(raw_yeast, "source", head.source),
	QTY(raw_yeast, "low", low, AB_DIM_TEMP, -5, 60), QTY(raw_yeast, "high", high, AB_DIM_TEMP, -5, 60),
	QTY(raw_yeast, "tolerated-low", tolerated_low, AB_DIM_TEMP, -5, 60),
	QTY(raw_yeast, "tolerated-high", tolerated_high, AB_DIM_TEMP, -5, 60),
	QTY(raw_yeast, "attenuation-low", att_low, AB_DIM_SHARE, 0.1, 1.1),
	QTY(raw_yeast, "attenuation-high", att_high, AB_DIM_SHARE, 0.1, 1.1),
	NUM(raw_yeast, "pitch-rate", pitch_rate, 0.05, 10), QTY(raw_yeast, "rest", rest, AB_DIM_TEMP, -5, 60),
	QTY(raw_yeast, "primary", primary_s, AB_DIM_TIME, 3600, 4e7),
	QTY(raw_yeast, "clean", clean_s, AB_DIM_TIME, 0, 4e7),
	QTY(raw_yeast, "lag", lag_s, AB_DIM_TIME, 3600, 4e6), YESNO(raw_yeast, "phenolic", phenolic),
	YESNO(raw_yeast, "diastatic", diastatic), YESNO(raw_yeast, "lager", lager),
	YESNO(raw_yeast, "sulphury", sulphury),
	YESNO(raw_yeast, "flocculent", flocculent), YESNO(raw_yeast, "fruity", fruity),
	YESNO(raw_yeast, "stands-in", stands_in), END
};
/* The id is named agent, because that is the word a brewer writes in the journal; so is kind of a bottle. */
const struct ab_attr_spec rules_sanitiser_attrs[] = {
	ID(raw_sanitiser, "agent", head.id), YESNO(raw_sanitiser, "replace", head.replace),
	QTY(raw_sanitiser, "contact", contact_s, AB_DIM_TIME, 0, 1e6),
	QTY(raw_sanitiser, "keeps", keeps_s, AB_DIM_TIME, 0, 1e9),
	ROW(raw_sanitiser, "heat", AB_ATTR_QUANTITY, heat_c, AB_DIM_TEMP, NULL, 40, 150, false),
	YESNO(raw_sanitiser, "no-rinse", no_rinse), SAYS(raw_sanitiser, "source", head.source), END
};
/* Two limits: what a maker states is mostly volumes of CO2, what bursts glass is pressure. Where none is known,
 * tell-from takes their place. */
const struct ab_attr_spec rules_bottle_attrs[] = {
	ID(raw_bottle, "kind", head.id), YESNO(raw_bottle, "replace", head.replace),
	ROW(raw_bottle, "limit", AB_ATTR_QUANTITY, limit, AB_DIM_CO2, NULL, 0.1, 20, false),
	ROW(raw_bottle, "limit-pressure", AB_ATTR_QUANTITY, limit_kpa, AB_DIM_PRESSURE, NULL, 1, 10000, false),
	ROW(raw_bottle, "tell-from", AB_ATTR_QUANTITY, tell_kpa, AB_DIM_PRESSURE, NULL, 1, 10000, false),
	TEXT(raw_bottle, "says", says),
	TEXT(raw_bottle, "care", care),
	SAYS(raw_bottle, "source", head.source), END
};

/* ---- malts ---- */

const struct ab_attr_spec rules_malt_attrs[] = {
	HEAD(raw_malt), ID(raw_malt, "kind", kind), SAYS(raw_malt, "source", head.source), END
};
const struct ab_elem_spec rules_malt_children[] = {
	NEEDS_WORDS(raw_malt, words, "word", "a name that brewers use for it"), NO_MORE
};

/* ---- numbers ---- */

/* Text at this stage: of what kind it is hangs on the id. */
const struct ab_attr_spec rules_number_attrs[] = {
	HEAD(raw_number), SAYS(raw_number, "is", is), SAYS(raw_number, "source", head.source), END
};
