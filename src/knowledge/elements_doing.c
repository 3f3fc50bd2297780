/* elements_doing.c - what rules files may hold of what is done: the batch sheet, changes, checks, touches, chores,
 * things
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/elements.h"

#include <afterboil/quantity.h>

/* ---- the batch sheet ---- */

static const struct ab_attr_spec aim_attrs[] = { SAYS(raw_aim, "says", says), END };
static const struct ab_elem_spec aim_children[] = { WHENS(raw_aim), NO_MORE };
const struct ab_attr_spec rules_box_attrs[] = {
	HEAD(raw_box), ID(raw_box, "fact", fact), WORD(raw_box, "day", day, ab_words_day), YESNO(raw_box, "core", core),
	ROW(raw_box, "also", AB_ATTR_IDS, also, 0, NULL, 0, 0, false),
	ROW(raw_box, "first", AB_ATTR_QUANTITY, first_s, AB_DIM_TIME, NULL, 0, 1e8, false),
	ROW(raw_box, "apart", AB_ATTR_QUANTITY, apart_s, AB_DIM_TIME, NULL, 0, 1e8, false),
	SAYS(raw_box, "source", head.source), END
};
const struct ab_elem_spec rules_box_children[] = {
	SENTENCE(raw_box, title, "title", false, "what to write into it"),
	SENTENCE(raw_box, caution, "caution", false, "what to take care of"),
	MANY(raw_box, aims, raw_aim, "aim", aim_attrs, aim_children,
	"what to aim at; the last that holds and can be told is used"),
	MANY(raw_box, only_for, raw_whens, "only-for", NULL, rules_whens_children,
	"asked only of such a batch; one of them must hold"),
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
static const struct ab_attr_spec needs_attrs[] = {
	ID(raw_ref, "change", change), MAY_ID(raw_ref, "or-thing", or_thing), END
};
static const struct ab_attr_spec spares_attrs[] = {
	ID(raw_spares, "thing", thing), MAY_NUM(raw_spares, "cost", cost, 0, 100000),
	MAY_NUM(raw_spares, "running", running, 0, 1000), YESNO(raw_spares, "room", room),
	TEXT(raw_spares, "leaves", leaves), SOURCE(raw_spares), END
};
static const struct ab_attr_spec after_attrs[] = { ID(raw_after, "fault", fault), SOURCE(raw_after), END };
/* Running cost and minutes may be negative: some changes save money or time. */
const struct ab_attr_spec rules_change_attrs[] = {
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
const struct ab_elem_spec rules_change_children[] = {
	SENTENCE(raw_change, title, "title", true, "its name in plain words"),
	SENTENCE(raw_change, how, "how", false, "how to do it"),
	SENTENCE(raw_change, caution, "caution", false, "what to take care of"),
	WORDS(raw_change, words, "word", "another word for it"),
	MANY(raw_change, cautions, raw_tell, "caution-when", rules_tell_attrs, rules_tell_children,
	    "what to take care of instead where that holds; the last that does is used"),
	MANY(raw_change, sets, raw_sets, "sets", sets_attrs, NULL, "what it makes of a fact"),
	MANY(raw_change, prevents, raw_share, "prevents", prevents_attrs, rules_share_children,
	    "the share of a cause it takes away"),
	MANY(raw_change, needs, raw_ref, "needs", needs_attrs, NULL, "a change it makes no sense without"),
	MANY(raw_change, excludes, raw_ref, "excludes", ref_attrs, NULL, "a change it makes no sense with"),
	MANY(raw_change, spares, raw_spares, "spares", spares_attrs, NULL,
	    "what a thing that is there already takes off its price"),
	MANY(raw_change, only_for, raw_whens, "only-for", NULL, rules_whens_children,
	    "for whom it is; any one is enough"),
	MANY(raw_change, not_for, raw_whens, "not-for", NULL, rules_whens_children, "for whom it is not"),
	MANY(raw_change, practices, raw_whens, "practice", NULL, rules_whens_children,
	    "what it changes is done only where this holds; any one is enough"),
	MANY(raw_change, not_after, raw_after, "not-after", after_attrs, NULL,
	"a fault of the last batch that goes on into the next with it"), NO_MORE
};

/* ---- checks ---- */

static const struct ab_attr_spec yes_attrs[] = {
	ID(raw_share, "cause", cause), NUM(raw_share, "p", p, 0, 1), SOURCE(raw_share), END
};
const struct ab_attr_spec rules_check_attrs[] = {
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
const struct ab_elem_spec rules_check_children[] = {
	SENTENCE(raw_check, title, "title", true, "its name in plain words"),
	SENTENCE(raw_check, how, "how", true, "how to do it"),
	SENTENCE(raw_check, if_yes, "if-yes", false, "what a yes means"),
	SENTENCE(raw_check, if_no, "if-no", false, "what a no means"),
	SENTENCE(raw_check, caution, "caution", false, "what to take care of"),
	NEEDS(raw_check, yes, raw_share, "yes", yes_attrs, yes_children,
	    "how surely a cause makes the answer yes"),
	MANY(raw_check, only_for, raw_whens, "only-for", NULL, rules_whens_children,
	    "when it can be done; any one is enough"),
	NO_MORE
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
const struct ab_attr_spec rules_touch_attrs[] = {
	HEAD(raw_touch), TEXT(raw_touch, "after", after), MAY_ID(raw_touch, "before", before),
	YESNO(raw_touch, "goal", goal), YESNO(raw_touch, "upkeep", upkeep), YESNO(raw_touch, "lapses", lapses),
	YESNO(raw_touch, "shared", shared), MAY_NUM(raw_touch, "hour", hour, 0, 23),
	MAY_WORD(raw_touch, "shown-by", shown, ab_words_shown), MAY_ID(raw_touch, "item", item),
	SAYS(raw_touch, "source", head.source), END
};
const struct ab_elem_spec rules_touch_children[] = {
	SENTENCE(raw_touch, title, "title", true, "its name in plain words"),
	SENTENCE(raw_touch, how, "how", false, "how to do it"),
	SENTENCE(raw_touch, waiting, "waiting", false, "what waiting does"),
	SENTENCE(raw_touch, caution, "caution", false, "what to take care of"),
	SENTENCE(raw_touch, tell, "tell", false, "what to type when it is done; BATCH stands for the batch"),
	MANY(raw_touch, tells, raw_tell, "tell-when", rules_tell_attrs, rules_tell_children,
	"what to type instead where that holds; the last that does is used"),
	WORDS(raw_touch, words, "word", "the beginning of a note that says it is done"),
	NEEDS(raw_touch, takes, raw_takes, "takes", takes_attrs, takes_children,
	    "minutes it takes; the last that holds is used"),
	MANY(raw_touch, dues, raw_due, "due", due_attrs, due_children,
	    "when it is due and how long it may wait; the last that holds is used"),
	MANY(raw_touch, only_for, raw_whens, "only-for", NULL, rules_whens_children,
	    "for whom it is; any one is enough"),
	MANY(raw_touch, not_for, raw_whens, "not-for", NULL, rules_whens_children, "for whom it is not"), NO_MORE
};

/* ---- chores ---- */

static const struct ab_attr_spec ease_attrs[] = {
	ID(raw_ease, "change", change), NUM(raw_ease, "share", share, 0, 1), YESNO(raw_ease, "anew", anew),
	MAY_ID(raw_ease, "without", without), SOURCE(raw_ease), END
};
const struct ab_attr_spec rules_chore_attrs[] = { HEAD(raw_chore), SAYS(raw_chore, "source", head.source), END };
const struct ab_elem_spec rules_chore_children[] = {
	SENTENCE(raw_chore, title, "title", true, "its name in plain words"),
	WORDS(raw_chore, words, "word", "another word for it"),
	NEEDS(raw_chore, eases, raw_ease, "ease", ease_attrs, NULL, "a change that takes some of the burden"), NO_MORE
};

/* ---- things ---- */

const struct ab_attr_spec rules_thing_attrs[] = { HEAD(raw_thing), END };
const struct ab_elem_spec rules_thing_children[] = {
	SENTENCE(raw_thing, title, "title", true, "its name in plain words, with its article"),
	WORDS(raw_thing, words, "word", "another word for it"),
	MANY(raw_thing, from, raw_ref, "from", ref_attrs, NULL,
	    "a change that is this thing when it is owned and not in use"), NO_MORE
};
