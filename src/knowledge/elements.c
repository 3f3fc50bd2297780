/* elements.c - which elements and attributes rules files may hold: faults, causes, and the whole
 *
 * The schema rules/rules.rng says the same; tests/handbook/rules_schema.t holds them against each other.
 * What a row cannot say (names that must exist, one attribute instead of another) is said by compile.c and
 * lint.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/elements.h"

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

/* Values are text at this stage: whether one is a number or a word is known only when its fact is. */
const struct ab_attr_spec rules_when_attrs[] = {
	ID(raw_when, "fact", fact), TEXT(raw_when, "is", is), TEXT(raw_when, "not", is_not), TEXT(raw_when,
	"unless", unless),
	TEXT(raw_when, "over", over),
	TEXT(raw_when, "under", under), YESNO(raw_when, "known", known), END
};
static const struct ab_elem_spec prior_children[] = { WHENS(raw_prior), NO_MORE };
static const struct ab_elem_spec gate_children[] = { NEEDS_WHENS(raw_gate), NO_MORE };
static const struct ab_elem_spec strength_children[] = { WHENS(raw_strength), NO_MORE };
const struct ab_elem_spec rules_share_children[] = { WHENS(raw_share), NO_MORE };
const struct ab_elem_spec rules_whens_children[] = { NEEDS_WHENS(raw_whens), NO_MORE };

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
const struct ab_attr_spec rules_tell_attrs[] = { SAYS(raw_tell, "says", says), END };
const struct ab_elem_spec rules_tell_children[] = { WHENS(raw_tell), NO_MORE };
static const struct ab_elem_spec fault_children[] = {
	SENTENCE(raw_fault, title, "title", true, "its name in plain words"),
	SENTENCE(raw_fault, like, "like", false, "what it tastes, smells or looks like"),
	WORDS(raw_fault, words, "word", "another word tasters use for it"),
	WORDS(raw_fault, opposites, "opposite", "a word for its opposite, which is no fault"),
	MANY(raw_fault, leaks, raw_strength, "leak", leak_attrs, strength_children,
	    "how often it comes without a cause known here"),
	MANY(raw_fault, confused, raw_confused, "confused", confused_attrs, NULL,
	    "a fault that is sometimes reported as this one"),
	SENTENCE(raw_fault, caution, "caution", false, "what to take care of"),
	MANY(raw_fault, cautions, raw_tell, "caution-when", rules_tell_attrs, rules_tell_children,
	"what to take care of instead where that holds; the last that does is used"),
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
	MANY(raw_cause, nexts, raw_tell, "next-when", rules_tell_attrs, rules_tell_children,
	"what to do about it instead where that holds; the last that does is used"),
	SENTENCE(raw_cause, caution, "caution", false, "what to take care of"),
	MANY(raw_cause, cautions, raw_tell, "caution-when", rules_tell_attrs, rules_tell_children,
	"what to take care of instead where that holds; the last that does is used"),
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

/* ---- the whole ---- */

/* In the order of enum raw_kind, so that a kind is its own place in this table and in every list made from
 * it. */
static const struct ab_elem_spec rules_children[] = {
	[RAW_FAULT] = MANY(raw_rules, kinds[RAW_FAULT], raw_fault, "fault", fault_attrs, fault_children,
	    "what a taster notices"),
	[RAW_CAUSE] = MANY(raw_rules, kinds[RAW_CAUSE], raw_cause, "cause", cause_attrs, cause_children,
	    "what brings faults"),
	[RAW_CHANGE] = MANY(raw_rules, kinds[RAW_CHANGE], raw_change, "change", rules_change_attrs,
	rules_change_children,
	    "what to do differently"),
	[RAW_CHECK] = MANY(raw_rules, kinds[RAW_CHECK], raw_check, "check", rules_check_attrs, rules_check_children,
	    "a test that tells causes apart"),
	[RAW_FAMILY] = MANY(raw_rules, kinds[RAW_FAMILY], raw_family, "family", rules_family_attrs,
	rules_family_children,
	    "a style family"),
	[RAW_YEAST] = MANY(raw_rules, kinds[RAW_YEAST], raw_yeast, "yeast", rules_yeast_attrs, NULL,
	    "a class of yeast"),
	[RAW_SANITISER] = MANY(raw_rules, kinds[RAW_SANITISER], raw_sanitiser, "sanitiser", rules_sanitiser_attrs,
	    NULL, "what a sanitiser needs"),
	[RAW_BOTTLE] = MANY(raw_rules, kinds[RAW_BOTTLE], raw_bottle, "bottle", rules_bottle_attrs, NULL,
	    "what a bottle bears"),
	[RAW_KIN] = MANY(raw_rules, kinds[RAW_KIN], raw_kin, "kin", kin_attrs, kin_children,
	    "causes that are one thing by several ways"),
	[RAW_CONTRARY] = MANY(raw_rules, kinds[RAW_CONTRARY], raw_contrary, "contrary", contrary_attrs,
	    contrary_children, "statements that cannot well be true together"),
	[RAW_BOX] = MANY(raw_rules, kinds[RAW_BOX], raw_box, "box", rules_box_attrs, rules_box_children,
	    "what a batch sheet may ask for"),
	[RAW_TOUCH] = MANY(raw_rules, kinds[RAW_TOUCH], raw_touch, "touch", rules_touch_attrs, rules_touch_children,
	    "a thing to do once a batch, and when"),
	[RAW_CHORE] = MANY(raw_rules, kinds[RAW_CHORE], raw_chore, "chore", rules_chore_attrs, rules_chore_children,
	    "a burden of brewing that no beer tastes of"),
	[RAW_NUMBER] = MANY(raw_rules, kinds[RAW_NUMBER], raw_number, "number", rules_number_attrs, NULL,
	    "a number of the trade that stands alone; those there are stand in numbers.xml"),
	[RAW_MALT] = MANY(raw_rules, kinds[RAW_MALT], raw_malt, "malt", rules_malt_attrs, rules_malt_children,
	    "what malts of one kind are called"),
	[RAW_THING] = MANY(raw_rules, kinds[RAW_THING], raw_thing, "thing", rules_thing_attrs, rules_thing_children,
	    "what may stand in a house and serve a change"),
	[RAW_KINDS] = NO_MORE
};
static const struct ab_elem_spec rules_root = {
	"rules", sizeof(struct raw_rules), 0, false, false, NULL, rules_children, false, false, 0,
	"a file of rules"
};

const struct ab_record_doc ab_rules_doc = { AB_RULES_NS, &rules_root, NULL, 1, 100000, NULL };

const struct ab_elem_spec *ab_rules_kind(enum raw_kind kind)
{
	return &rules_children[kind];
}
