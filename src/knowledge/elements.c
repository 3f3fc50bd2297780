/* elements.c - which elements and attributes rules files may hold
 *
 * The schema rules/rules.rng says the same; tests/handbook/rules_schema.t holds them against each other.
 * What a row cannot say (names that must exist, one attribute instead of another) is said by compile.c and
 * lint.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/raw.h"

#include <afterboil/quantity.h>

const char *const ab_words_stage[] = { "mash", "boil", "water", "ingredients", "chill", "pitch", "ferment",
    "transfer", "dry-hop", "package", "store", "serve", "measure", NULL };
const char *const ab_words_side[] = { "cold", "hot", NULL };
const char *const ab_words_change_kind[] = { "habit", "upgrade", NULL };
const char *const ab_words_day[] = { "before", "brew", "chill", "pitch", "early", "ferment", "package", "store",
    "taste", NULL };
static const char *const words_cause_kind[] = { "process", "benign", NULL };
const char *const ab_words_pace[] = { "primary", "clean", NULL };
const char *const ab_words_shown[] = { "pitch", "look", "rest", "gravity", "dry-hop", "hops-out", "same-gravity",
    "package", "tasting", "store", "retaste", "cleaning", "cool", "forced", NULL };
static const char *const words_grade[] = { "slight", "moderate", "strong", NULL };

/* Short names, since the tables below are read as tables: one row an attribute. The macros without MAY_
 * need the attribute. */
#define ROW(T, name, kind, member, dim, words, lo, hi, must) { name, kind, offsetof(struct T, member), dim, \
    words, lo, hi, must }
#define TEXT(T, name, member) ROW(T, name, AB_ATTR_TEXT, member, 0, NULL, 0, 0, false)
#define SAYS(T, name, member) ROW(T, name, AB_ATTR_TEXT, member, 0, NULL, 0, 0, true)
#define ID(T, name, member) ROW(T, name, AB_ATTR_ID, member, 0, NULL, 0, 0, true)
#define MAY_ID(T, name, member) ROW(T, name, AB_ATTR_ID, member, 0, NULL, 0, 0, false)
#define NUM(T, name, member, lo, hi) ROW(T, name, AB_ATTR_NUMBER, member, AB_DIM_NONE, NULL, lo, hi, true)
#define MAY_NUM(T, name, member, lo, hi) ROW(T, name, AB_ATTR_NUMBER, member, AB_DIM_NONE, NULL, \
    lo, hi, false)
#define QTY(T, name, member, dim, lo, hi) ROW(T, name, AB_ATTR_QUANTITY, member, dim, NULL, lo, hi, true)
#define WORD(T, name, member, words) ROW(T, name, AB_ATTR_WORD, member, 0, words, 0, 0, true)
#define MAY_WORD(T, name, member, words) ROW(T, name, AB_ATTR_WORD, member, 0, words, 0, 0, false)
#define YESNO(T, name, member) ROW(T, name, AB_ATTR_YESNO, member, 0, NULL, 0, 0, false)
#define HEAD(T) ID(T, "id", head.id), YESNO(T, "replace", head.replace)
#define SOURCE(T) SAYS(T, "source", source)
#define END { NULL, AB_ATTR_TEXT, 0, 0, NULL, 0, 0, false }

/* Rows of elements: MANY may come any number of times, NEEDS at least once, SENTENCE at most once. None
 * takes guess="yes": rules do not guess, they name a source. */
#define MANY(P, member, T, name, attrs, children, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), true, false, attrs, children, false, \
	    false, 0, says }
#define NEEDS(P, member, T, name, attrs, children, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), true, true, attrs, children, false, \
	    false, 0, says }
#define WORDS(P, member, name, says) \
	{ name, sizeof(struct raw_text), offsetof(struct P, member), true, false, NULL, NULL, false, true, \
	  offsetof(struct raw_text, text), says }
#define NEEDS_WORDS(P, member, name, says) \
	{ name, sizeof(struct raw_text), offsetof(struct P, member), true, true, NULL, NULL, false, true, \
	  offsetof(struct raw_text, text), says }
#define SENTENCE(P, member, name, must, says) \
	{ name, sizeof(struct raw_text), offsetof(struct P, member), false, must, NULL, NULL, false, true, \
	  offsetof(struct raw_text, text), says }
#define NO_MORE { NULL, 0, 0, false, false, NULL, NULL, false, false, 0, NULL }

/* Values are text at this stage: whether one is a number or a word is known only when its fact is. */
static const struct ab_attr_spec when_attrs[] = {
	ID(raw_when, "fact", fact), TEXT(raw_when, "is", is), TEXT(raw_when, "not", is_not), TEXT(raw_when, "unless", unless),
	TEXT(raw_when, "over", over),
	TEXT(raw_when, "under", under), YESNO(raw_when, "known", known), END
};
#define WHEN_SAYS "a condition on a fact; all must hold"
#define WHENS(T) MANY(T, whens, raw_when, "when", when_attrs, NULL, WHEN_SAYS)
#define NEEDS_WHENS(T) NEEDS(T, whens, raw_when, "when", when_attrs, NULL, WHEN_SAYS)
static const struct ab_elem_spec prior_children[] = { WHENS(raw_prior), NO_MORE };
static const struct ab_elem_spec gate_children[] = { NEEDS_WHENS(raw_gate), NO_MORE };
static const struct ab_elem_spec strength_children[] = { WHENS(raw_strength), NO_MORE };
static const struct ab_elem_spec share_children[] = { WHENS(raw_share), NO_MORE };
static const struct ab_elem_spec expects_children[] = { WHENS(raw_expects), NO_MORE };
static const struct ab_elem_spec whens_children[] = { NEEDS_WHENS(raw_whens), NO_MORE };

/* ---- faults ---- */

static const struct ab_attr_spec leak_attrs[] = {
	NUM(raw_strength, "noticeable", noticeable, 0, 1), MAY_NUM(raw_strength, "moderate", moderate, 0, 1),
	NUM(raw_strength, "strong", strong, 0, 1), SOURCE(raw_strength), END
};
static const struct ab_attr_spec confused_attrs[] = {
	ID(raw_confused, "with", with), NUM(raw_confused, "share", share, 0, 1), SOURCE(raw_confused), END
};
/* severity 0 to 10 (estimates of the rules); its scale cancels where loads are compared. */
static const struct ab_attr_spec fault_attrs[] = {
	HEAD(raw_fault), NUM(raw_fault, "severity", severity, 0, 10),
	YESNO(raw_fault, "packaged-only", packaged_only),
	SAYS(raw_fault, "source", head.source), END
};
static const struct ab_attr_spec tell_attrs[] = { SAYS(raw_tell, "says", says), END };
static const struct ab_elem_spec tell_children[] = { WHENS(raw_tell), NO_MORE };
static const struct ab_elem_spec fault_children[] = {
	SENTENCE(raw_fault, title, "title", true, "its name in plain words"),
	SENTENCE(raw_fault, like, "like", false, "what it tastes, smells or looks like"),
	WORDS(raw_fault, words, "word", "another word tasters use for it"),
	MANY(raw_fault, leaks, raw_strength, "leak", leak_attrs, strength_children,
	    "how often it comes without a cause known here"),
	MANY(raw_fault, confused, raw_confused, "confused", confused_attrs, NULL,
	    "a fault that is sometimes reported as this one"),
	SENTENCE(raw_fault, caution, "caution", false, "what to take care of"),
	MANY(raw_fault, cautions, raw_tell, "caution-when", tell_attrs, tell_children, "what to take care of instead where that holds; the last that does is used"),
	NO_MORE
};

/* ---- causes ---- */

/* 0 and 1 pass here, for a range has closed ends; causes.c refuses them with the reason. */
static const struct ab_attr_spec prior_attrs[] = { NUM(raw_prior, "p", p, 0, 1), SOURCE(raw_prior), END };
static const struct ab_attr_spec gate_attrs[] = { TEXT(raw_gate, "says", says), END };
static const struct ab_attr_spec at_attrs[] = {
	/* Ratios between a thousandth and a thousand: no single reading of a home brewer is worth more, and
	 * a slip of the decimal point shows. */
	NUM(raw_at, "x", x, -1e6, 1e6), NUM(raw_at, "ratio", ratio, 0.001, 1000), END
};
static const struct ab_attr_spec is_attrs[] = {
	SAYS(raw_is, "word", word), NUM(raw_is, "ratio", ratio, 0.001, 1000), END
};
static const struct ab_attr_spec sign_attrs[] = {
	ID(raw_sign, "fact", fact), TEXT(raw_sign, "unit", unit), MAY_ID(raw_sign, "group", group),
	YESNO(raw_sign, "nominal", nominal), SOURCE(raw_sign),
	TEXT(raw_sign, "for", says_for), TEXT(raw_sign, "against", says_against), END
};
static const struct ab_elem_spec sign_children[] = {
	MANY(raw_sign, at, raw_at, "at", at_attrs, NULL, "a point of the curve: likelihood ratio at x"),
	MANY(raw_sign, is, raw_is, "is", is_attrs, NULL, "likelihood ratio when the fact is this word"),
	WHENS(raw_sign), NO_MORE
};
/* moderate may be left out: then it is the geometric mean of the other two (compile.c). */
static const struct ab_attr_spec gives_attrs[] = {
	ID(raw_strength, "fault", fault), NUM(raw_strength, "noticeable", noticeable, 0, 1),
	MAY_NUM(raw_strength, "moderate", moderate, 0, 1), NUM(raw_strength, "strong", strong, 0, 1),
	SOURCE(raw_strength), END
};
/* A cause needs no source of its own: its numbers have theirs. */
static const struct ab_attr_spec cause_attrs[] = {
	HEAD(raw_cause), WORD(raw_cause, "side", side, ab_words_side),
	WORD(raw_cause, "stage", stage, ab_words_stage),
	MAY_WORD(raw_cause, "kind", kind, words_cause_kind), MAY_ID(raw_cause, "kin", kin),
	YESNO(raw_cause, "expects", expects), YESNO(raw_cause, "at-hand", at_hand),
	TEXT(raw_cause, "source", head.source), END
};
/* Of what is tasted the rules speak with <gives>, of what is written in a journal with <sign>; a gate is
 * for what cannot be, however it tastes. */
static const struct ab_elem_spec cause_children[] = {
	SENTENCE(raw_cause, title, "title", true, "its name in plain words"),
	SENTENCE(raw_cause, why, "why", false, "how it makes its faults"),
	SENTENCE(raw_cause, next, "next", false, "what to do about it"),
	SENTENCE(raw_cause, caution, "caution", false, "what to take care of"),
	MANY(raw_cause, cautions, raw_tell, "caution-when", tell_attrs, tell_children, "what to take care of instead where that holds; the last that does is used"),
	NEEDS(raw_cause, priors, raw_prior, "prior", prior_attrs, prior_children,
	    "how often it is there; the last that holds is used"),
	MANY(raw_cause, gates, raw_gate, "gate", gate_attrs, gate_children, "when it is impossible"),
	MANY(raw_cause, signs, raw_sign, "sign", sign_attrs, sign_children,
	    "what a fact says for or against it"),
	MANY(raw_cause, gives, raw_strength, "gives", gives_attrs, strength_children,
	    "a fault it brings, and how strongly"),
	NO_MORE
};

static const struct ab_attr_spec kin_attrs[] = { HEAD(raw_kin), END };
static const struct ab_elem_spec kin_children[] = {
	SENTENCE(raw_kin, title, "title", true, "its name in plain words"),
	SENTENCE(raw_kin, ways, "ways", true, "what each of its causes is to it"),
	SENTENCE(raw_kin, why, "why", false, "how it makes its faults"),
	SENTENCE(raw_kin, next, "next", false, "what to do about it"), NO_MORE
};

static const struct ab_attr_spec contrary_attrs[] = {
	HEAD(raw_contrary), SAYS(raw_contrary, "source", head.source), END
};
static const struct ab_elem_spec contrary_children[] = {
	SENTENCE(raw_contrary, says, "says", true, "what to tell the brewer of it"),
	NEEDS_WHENS(raw_contrary), NO_MORE
};

/* ---- the batch sheet ---- */

static const struct ab_attr_spec aim_attrs[] = { SAYS(raw_aim, "says", says), END };
static const struct ab_elem_spec aim_children[] = { WHENS(raw_aim), NO_MORE };
static const struct ab_attr_spec box_attrs[] = {
	HEAD(raw_box), ID(raw_box, "fact", fact), WORD(raw_box, "day", day, ab_words_day), YESNO(raw_box, "core", core),
	ROW(raw_box, "also", AB_ATTR_IDS, also, 0, NULL, 0, 0, false),
	ROW(raw_box, "first", AB_ATTR_QUANTITY, first_s, AB_DIM_TIME, NULL, 0, 1e8, false),
	ROW(raw_box, "apart", AB_ATTR_QUANTITY, apart_s, AB_DIM_TIME, NULL, 0, 1e8, false),
	SAYS(raw_box, "source", head.source), END
};
static const struct ab_elem_spec box_children[] = {
	SENTENCE(raw_box, title, "title", false, "what to write into it"),
	SENTENCE(raw_box, caution, "caution", false, "what to take care of"),
	MANY(raw_box, aims, raw_aim, "aim", aim_attrs, aim_children, "what to aim at; the last that holds and can be told is used"),
	MANY(raw_box, only_for, raw_whens, "only-for", NULL, whens_children, "asked only of such a batch; one of them must hold"),
	NO_MORE
};

/* ---- changes ---- */

/* Values are text here, too, until the fact's kind is known. */
static const struct ab_attr_spec sets_attrs[] = {
	ID(raw_sets, "fact", fact), TEXT(raw_sets, "to", to), TEXT(raw_sets, "at-most", at_most),
	TEXT(raw_sets, "at-least", at_least),
	SOURCE(raw_sets), END
};
static const struct ab_attr_spec prevents_attrs[] = {
	ID(raw_share, "cause", cause), NUM(raw_share, "share", p, 0, 1), SOURCE(raw_share), END
};
static const struct ab_attr_spec ref_attrs[] = { ID(raw_ref, "change", change), END };
/* Running cost and minutes may be negative: some changes save money or time. */
static const struct ab_attr_spec change_attrs[] = {
	HEAD(raw_change), WORD(raw_change, "kind", kind, ab_words_change_kind),
	WORD(raw_change, "side", side, ab_words_side),
	WORD(raw_change, "stage", stage, ab_words_stage), MAY_NUM(raw_change, "cost", cost, 0, 100000),
	MAY_NUM(raw_change, "running", running, -1000, 1000),
	MAY_NUM(raw_change, "running-per-year", running_per_year, -10000, 10000),
	MAY_NUM(raw_change, "minutes", minutes, -1000, 1000),
	MAY_NUM(raw_change, "once-minutes", once_minutes, 0, 100000),
	ROW(raw_change, "attend", AB_ATTR_QUANTITY, attend_s, AB_DIM_TIME, NULL, 0, 4e7, false),
	MAY_NUM(raw_change, "over-room", over_room_k, 0, 20),
	ROW(raw_change, "slowest", AB_ATTR_QUANTITY, slowest_s, AB_DIM_TIME, NULL, 0, 4e7, false),
	TEXT(raw_change, "space", space), YESNO(raw_change, "noisy", noisy),
	YESNO(raw_change, "smoky", smoky),
	MAY_ID(raw_change, "group", group), SAYS(raw_change, "source", head.source), END
};
static const struct ab_elem_spec change_children[] = {
	SENTENCE(raw_change, title, "title", true, "its name in plain words"),
	SENTENCE(raw_change, how, "how", false, "how to do it"),
	SENTENCE(raw_change, caution, "caution", false, "what to take care of"),
	MANY(raw_change, sets, raw_sets, "sets", sets_attrs, NULL, "what it makes of a fact"),
	MANY(raw_change, prevents, raw_share, "prevents", prevents_attrs, share_children,
	    "the share of a cause it takes away"),
	MANY(raw_change, needs, raw_ref, "needs", ref_attrs, NULL, "a change it makes no sense without"),
	MANY(raw_change, excludes, raw_ref, "excludes", ref_attrs, NULL, "a change it makes no sense with"),
	MANY(raw_change, only_for, raw_whens, "only-for", NULL, whens_children,
	    "for whom it is; any one is enough"),
	MANY(raw_change, not_for, raw_whens, "not-for", NULL, whens_children, "for whom it is not"), NO_MORE
};

/* ---- checks ---- */

static const struct ab_attr_spec yes_attrs[] = {
	ID(raw_share, "cause", cause), NUM(raw_share, "p", p, 0, 1), SOURCE(raw_share), END
};
static const struct ab_attr_spec check_attrs[] = {
	HEAD(raw_check), MAY_NUM(raw_check, "minutes", minutes, 0, 100000),
	MAY_NUM(raw_check, "cost", cost, 0, 100000),
	/* A check that takes days is worth less than one that takes minutes; waiting is told apart from
	 * work. */
	ROW(raw_check, "wait", AB_ATTR_QUANTITY, wait_s, AB_DIM_TIME, NULL, 0, 4e7, false),
	NUM(raw_check, "base", base, 0, 1),
	MAY_ID(raw_check, "answered-by", answered_by),
	TEXT(raw_check, "about", about),
	YESNO(raw_check, "stalls", stalls),
	TEXT(raw_check, "marked", marked),
	TEXT(raw_check, "spared", spared),
	SAYS(raw_check, "source", head.source), END
};
static const struct ab_elem_spec yes_children[] = { NO_MORE };
static const struct ab_elem_spec check_children[] = {
	SENTENCE(raw_check, title, "title", true, "its name in plain words"),
	SENTENCE(raw_check, how, "how", true, "how to do it"),
	SENTENCE(raw_check, if_yes, "if-yes", false, "what a yes means"),
	SENTENCE(raw_check, if_no, "if-no", false, "what a no means"),
	SENTENCE(raw_check, caution, "caution", false, "what to take care of"),
	NEEDS(raw_check, yes, raw_share, "yes", yes_attrs, yes_children,
	    "how surely a cause makes the answer yes"),
	MANY(raw_check, only_for, raw_whens, "only-for", NULL, whens_children,
	    "when it can be done; any one is enough"),
	NO_MORE
};

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
static const struct ab_attr_spec family_attrs[] = { HEAD(raw_family), END };
static const struct ab_elem_spec family_children[] = {
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
static const struct ab_attr_spec yeast_attrs[] = {
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
static const struct ab_attr_spec sanitiser_attrs[] = {
	ID(raw_sanitiser, "agent", head.id), YESNO(raw_sanitiser, "replace", head.replace),
	QTY(raw_sanitiser, "contact", contact_s, AB_DIM_TIME, 0, 1e6),
	QTY(raw_sanitiser, "keeps", keeps_s, AB_DIM_TIME, 0, 1e9),
	ROW(raw_sanitiser, "heat", AB_ATTR_QUANTITY, heat_c, AB_DIM_TEMP, NULL, 40, 150, false),
	YESNO(raw_sanitiser, "no-rinse", no_rinse), SAYS(raw_sanitiser, "source", head.source), END
};
/* Two limits: what a maker states is mostly volumes of CO2, what bursts glass is pressure. Where none is known, tell-from takes their
 * place. */
static const struct ab_attr_spec bottle_attrs[] = {
	ID(raw_bottle, "kind", head.id), YESNO(raw_bottle, "replace", head.replace),
	ROW(raw_bottle, "limit", AB_ATTR_QUANTITY, limit, AB_DIM_CO2, NULL, 0.1, 20, false),
	ROW(raw_bottle, "limit-pressure", AB_ATTR_QUANTITY, limit_kpa, AB_DIM_PRESSURE, NULL, 1, 10000, false),
	ROW(raw_bottle, "tell-from", AB_ATTR_QUANTITY, tell_kpa, AB_DIM_PRESSURE, NULL, 1, 10000, false), TEXT(raw_bottle, "says", says),
	TEXT(raw_bottle, "care", care),
	SAYS(raw_bottle, "source", head.source), END
};

/* ---- touches ---- */

/* Minutes of a brewer's time; a touch of more than a day is a slip. */
static const struct ab_attr_spec takes_attrs[] = {
	NUM(raw_takes, "minutes", minutes, 0, 1440), NUM(raw_takes, "low", low, 0, 1440),
	NUM(raw_takes, "high", high, 0, 1440), SOURCE(raw_takes), END
};
static const struct ab_elem_spec takes_children[] = { WHENS(raw_takes), NO_MORE };
static const struct ab_attr_spec due_attrs[] = {
	ROW(raw_due, "from", AB_ATTR_QUANTITY, from_s, AB_DIM_TIME, NULL, 0, 4e7, false),
	MAY_WORD(raw_due, "pace", pace, ab_words_pace), MAY_NUM(raw_due, "share", share, 0, 2),
	QTY(raw_due, "waits", waits_s, AB_DIM_TIME, 0, 4e7), MAY_NUM(raw_due, "slow", slow, 1, 5),
	SOURCE(raw_due), END
};
static const struct ab_elem_spec due_children[] = { WHENS(raw_due), NO_MORE };
static const struct ab_attr_spec touch_attrs[] = {
	HEAD(raw_touch), TEXT(raw_touch, "after", after), MAY_ID(raw_touch, "before", before),
	YESNO(raw_touch, "goal", goal), YESNO(raw_touch, "upkeep", upkeep), YESNO(raw_touch, "lapses", lapses),
	YESNO(raw_touch, "shared", shared), MAY_NUM(raw_touch, "hour", hour, 0, 23),
	MAY_WORD(raw_touch, "shown-by", shown, ab_words_shown), MAY_ID(raw_touch, "item", item),
	SAYS(raw_touch, "source", head.source), END
};
static const struct ab_elem_spec touch_children[] = {
	SENTENCE(raw_touch, title, "title", true, "its name in plain words"),
	SENTENCE(raw_touch, how, "how", false, "how to do it"),
	SENTENCE(raw_touch, waiting, "waiting", false, "what waiting does"),
	SENTENCE(raw_touch, caution, "caution", false, "what to take care of"),
	SENTENCE(raw_touch, tell, "tell", false, "what to type when it is done; BATCH stands for the batch"),
	MANY(raw_touch, tells, raw_tell, "tell-when", tell_attrs, tell_children, "what to type instead where that holds; the last that does is used"),
	WORDS(raw_touch, words, "word", "the beginning of a note that says it is done"),
	NEEDS(raw_touch, takes, raw_takes, "takes", takes_attrs, takes_children,
	    "minutes it takes; the last that holds is used"),
	MANY(raw_touch, dues, raw_due, "due", due_attrs, due_children,
	    "when it is due and how long it may wait; the last that holds is used"),
	MANY(raw_touch, only_for, raw_whens, "only-for", NULL, whens_children,
	    "for whom it is; any one is enough"),
	MANY(raw_touch, not_for, raw_whens, "not-for", NULL, whens_children, "for whom it is not"), NO_MORE
};

/* ---- malts ---- */

static const struct ab_attr_spec malt_attrs[] = {
	HEAD(raw_malt), ID(raw_malt, "kind", kind), SAYS(raw_malt, "source", head.source), END
};
static const struct ab_elem_spec malt_children[] = {
	NEEDS_WORDS(raw_malt, words, "word", "a name that brewers use for it"), NO_MORE
};

/* ---- chores ---- */

static const struct ab_attr_spec ease_attrs[] = {
	ID(raw_ease, "change", change), NUM(raw_ease, "share", share, 0, 1), SOURCE(raw_ease), END
};
static const struct ab_attr_spec chore_attrs[] = { HEAD(raw_chore), SAYS(raw_chore, "source", head.source), END };
static const struct ab_elem_spec chore_children[] = {
	SENTENCE(raw_chore, title, "title", true, "its name in plain words"),
	WORDS(raw_chore, words, "word", "another word for it"),
	NEEDS(raw_chore, eases, raw_ease, "ease", ease_attrs, NULL, "a change that takes some of the burden"), NO_MORE
};

/* ---- numbers ---- */

/* Text at this stage: of what kind it is hangs on the id. */
static const struct ab_attr_spec number_attrs[] = {
	HEAD(raw_number), SAYS(raw_number, "is", is), SAYS(raw_number, "source", head.source), END
};

/* ---- the whole ---- */

/* In the order of enum raw_kind, so that a kind is its own place in this table and in every list made from
 * it. */
static const struct ab_elem_spec rules_children[] = {
	[RAW_FAULT] = MANY(raw_rules, kinds[RAW_FAULT], raw_fault, "fault", fault_attrs, fault_children,
	    "what a taster notices"),
	[RAW_CAUSE] = MANY(raw_rules, kinds[RAW_CAUSE], raw_cause, "cause", cause_attrs, cause_children,
	    "what brings faults"),
	[RAW_CHANGE] = MANY(raw_rules, kinds[RAW_CHANGE], raw_change, "change", change_attrs, change_children,
	    "what to do differently"),
	[RAW_CHECK] = MANY(raw_rules, kinds[RAW_CHECK], raw_check, "check", check_attrs, check_children,
	    "a test that tells causes apart"),
	[RAW_FAMILY] = MANY(raw_rules, kinds[RAW_FAMILY], raw_family, "family", family_attrs, family_children,
	    "a style family"),
	[RAW_YEAST] = MANY(raw_rules, kinds[RAW_YEAST], raw_yeast, "yeast", yeast_attrs, NULL,
	    "a class of yeast"),
	[RAW_SANITISER] = MANY(raw_rules, kinds[RAW_SANITISER], raw_sanitiser, "sanitiser", sanitiser_attrs,
	    NULL, "what a sanitiser needs"),
	[RAW_BOTTLE] = MANY(raw_rules, kinds[RAW_BOTTLE], raw_bottle, "bottle", bottle_attrs, NULL,
	    "what a bottle bears"),
	[RAW_KIN] = MANY(raw_rules, kinds[RAW_KIN], raw_kin, "kin", kin_attrs, kin_children,
	    "causes that are one thing by several ways"),
	[RAW_CONTRARY] = MANY(raw_rules, kinds[RAW_CONTRARY], raw_contrary, "contrary", contrary_attrs,
	    contrary_children, "statements that cannot well be true together"),
	[RAW_BOX] = MANY(raw_rules, kinds[RAW_BOX], raw_box, "box", box_attrs, box_children,
	    "what a batch sheet may ask for"),
	[RAW_TOUCH] = MANY(raw_rules, kinds[RAW_TOUCH], raw_touch, "touch", touch_attrs, touch_children,
	    "a thing to do once a batch, and when"),
	[RAW_CHORE] = MANY(raw_rules, kinds[RAW_CHORE], raw_chore, "chore", chore_attrs, chore_children,
	    "a burden of brewing that no beer tastes of"),
	[RAW_NUMBER] = MANY(raw_rules, kinds[RAW_NUMBER], raw_number, "number", number_attrs, NULL,
	    "a number of the trade that stands alone; those there are stand in numbers.xml"),
	[RAW_MALT] = MANY(raw_rules, kinds[RAW_MALT], raw_malt, "malt", malt_attrs, malt_children,
	    "what malts of one kind are called"),
	[RAW_KINDS] = NO_MORE
};
static const struct ab_elem_spec rules_root = {
	"rules", sizeof(struct raw_rules), 0, false, false, NULL, rules_children, false, false, 0,
	"a file of rules"
};

const struct ab_record_doc ab_rules_doc = { AB_RULES_NS, &rules_root, NULL, 1, 100000 };

const struct ab_elem_spec *ab_rules_kind(enum raw_kind kind)
{
	return &rules_children[kind];
}
