/* raw.h - rules as they stand in the files, before names are resolved
 *
 * elements.c tells the record reader what may stand where and fills these structs; read.c merges the files;
 * compile.c makes the structs of afterboil/knowledge.h out of them. To add an attribute: a member here, a row
 * in elements*.c, a line in rules/rules.rng, its use in compile*.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_KNOWLEDGE_RAW_H
#define AB_KNOWLEDGE_RAW_H

#include <stddef.h>
#include <afterboil/knowledge.h>
#include "base/record.h"

#define AB_RULES_NS "urn:afterboil:rules:1"

/* First member of what stands directly in <rules>: file is set once the file was read. */
struct raw_head { struct ab_mark mark; const char *id; int replace; const char *source; const char *file; };

struct raw_text { struct ab_mark mark; const char *text; };
struct raw_when { struct ab_mark mark; const char *fact, *is, *is_not, *unless, *over, *under; int known; };
struct raw_whens { struct ab_mark mark; struct ab_list whens; };   /* only-for, not-for */
/* leak and gives: how strong. */
struct raw_strength {
	struct ab_mark mark;
	const char *fault, *source;
	struct ab_num noticeable, moderate, strong;
	struct ab_list whens;
};
struct raw_confused { struct ab_mark mark; const char *with, *source; struct ab_num share; };
struct raw_tell { struct ab_mark mark; const char *says; struct ab_list whens; };
struct raw_fault {
	struct raw_head head;
	struct ab_num severity;
	int packaged_only;
	struct raw_text *title, *like, *caution;
	struct ab_list cautions, words, opposites, leaks, confused;
};

struct raw_prior { struct ab_mark mark; const char *source; struct ab_num p; struct ab_list whens; };
struct raw_gate { struct ab_mark mark; const char *says; struct ab_list whens; };
struct raw_at { struct ab_mark mark; struct ab_num x, ratio; };
struct raw_is { struct ab_mark mark; const char *word; struct ab_num ratio; };
struct raw_sign {
	struct ab_mark mark;
	const char *fact, *unit, *group, *source, *says_for, *says_against;
	int nominal;
	struct ab_list at, is, whens;
};
struct raw_contrary { struct raw_head head; struct raw_text *says; struct ab_list whens; };
struct raw_aim { struct ab_mark mark; const char *says; struct ab_list whens; };
struct raw_box {
	struct raw_head head;
	const char *fact;
	int day, core;
	struct ab_num first_s, apart_s;
	struct raw_text *title, *caution;
	struct ab_list aims, only_for, also;
};
struct raw_kin { struct raw_head head; struct raw_text *title, *ways, *why, *next; };
struct raw_cause {
	struct raw_head head;
	int side, stage, kind, expects, at_hand;
	const char *kin;
	struct raw_text *title, *why, *next, *caution;
	struct ab_list nexts, cautions, priors, gates, signs, gives;
};

struct raw_sets { struct ab_mark mark; const char *fact, *to, *at_most, *at_least, *source; };
/* prevents, yes */
struct raw_share { struct ab_mark mark; const char *cause, *source; struct ab_num p; struct ab_list whens; };
/* needs, excludes, from */
struct raw_ref { struct ab_mark mark; const char *change, *or_thing; };
struct raw_spares {
	struct ab_mark mark;
	const char *thing, *leaves, *source;
	struct ab_num cost, running;
	int room;
};
struct raw_after { struct ab_mark mark; const char *fault, *source; };
struct raw_change {
	struct raw_head head;
	int kind, side, stage, noisy, smoky;
	const char *space, *group;
	struct ab_num cost, running, running_per_year, minutes, once_minutes, attend_s, over_room_k, slowest_s;
	struct raw_text *title, *how, *caution;
	struct ab_list words, cautions, sets, prevents, needs, excludes, only_for, not_for, practices, not_after,
	    spares;
};

struct raw_check {
	struct raw_head head;
	const char *answered_by, *about, *marked, *spared;
	int stalls;
	struct ab_num minutes, cost, wait_s, base;
	struct raw_text *title, *how, *if_yes, *if_no, *caution;
	struct ab_list yes, only_for;
};

struct raw_expects { struct ab_mark mark; const char *fault, *source; int up_to; struct ab_list whens; };
struct raw_hurts { struct ab_mark mark; const char *fault, *source; struct ab_num factor; };
struct raw_carbonation { struct ab_mark mark; const char *source; struct ab_num low, high; };
struct raw_family {
	struct raw_head head;
	struct raw_text *title;
	struct ab_list expects, hurts;
	struct raw_carbonation *carbonation;
	struct raw_freshness *freshness;   /* or NULL */
};
struct raw_freshness { struct ab_mark mark; const char *source; struct ab_num fading, stale, long_stale; };

struct raw_yeast {
	struct raw_head head;
	const char *title;
	struct ab_num low, high, tolerated_low, tolerated_high, att_low, att_high, pitch_rate, rest,
	    primary_s, clean_s, lag_s;
	int phenolic, diastatic, lager, sulphury, flocculent, fruity, stands_in;
};
struct raw_sanitiser { struct raw_head head; struct ab_num contact_s, keeps_s, heat_c; int no_rinse; };
struct raw_bottle { struct raw_head head; struct ab_num limit, limit_kpa, tell_kpa; const char *says, *care; };

struct raw_malt { struct raw_head head; const char *kind; struct ab_list words; };

struct raw_takes { struct ab_mark mark; const char *source; struct ab_num minutes, low, high; struct ab_list whens; };
struct raw_due {
	struct ab_mark mark;
	const char *source;
	int pace;
	struct ab_num from_s, share, waits_s, slow;
	struct ab_list whens;
};
struct raw_touch {
	struct raw_head head;
	const char *after, *before, *item;
	int goal, upkeep, lapses, shared, shown;
	struct ab_num hour;
	struct raw_text *title, *how, *waiting, *caution, *tell;
	struct ab_list words, tells, takes, dues, only_for, not_for;
};

struct raw_ease { struct ab_mark mark; const char *change, *source, *without; struct ab_num share; int anew; };
struct raw_chore { struct raw_head head; struct raw_text *title; struct ab_list words, eases; };

struct raw_thing { struct raw_head head; struct raw_text *title; struct ab_list words, from; };

struct raw_number { struct raw_head head; const char *is; };

/* The kinds of things that stand directly in <rules>, in the order in which they are compiled. */
enum raw_kind {
	RAW_FAULT, RAW_CAUSE, RAW_CHANGE, RAW_CHECK, RAW_FAMILY, RAW_YEAST, RAW_SANITISER,
	    RAW_BOTTLE, RAW_KIN, RAW_CONTRARY, RAW_BOX, RAW_TOUCH, RAW_CHORE, RAW_NUMBER, RAW_MALT, RAW_THING,
	    RAW_KINDS
};

/* One file. */
struct raw_rules { struct ab_mark mark; struct ab_list kinds[RAW_KINDS]; };

extern const struct ab_record_doc ab_rules_doc;
/* The row of a kind: its element's name and size. */
const struct ab_elem_spec *ab_rules_kind(enum raw_kind kind);

/* Everything of all files, replaced things gone: per kind a list of pointers to its structs (each begins with
 * a raw_head). */
struct raw_all { struct ab_list kinds[RAW_KINDS]; };
#define RAW_AT(type, all, kind, i) ((type *)((struct raw_head **)(all)->kinds[kind].items)[i])

#endif
