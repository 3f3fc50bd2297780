/* knowledge.h - the trade's knowledge, read from rules files
 *
 * Rules are XML, namespace urn:afterboil:rules:1, root <rules>; schema rules/rules.rng. Every *.xml of a
 * rules folder is read in order of its name, further folders after it: a brewer's own file adds to or
 * replaces (same id, replace="yes") what is there. Every number carries source="..."; a source that begins
 * with "estimate" marks a number nobody measured (it is redrawn for the likely range and said so on screen).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_KNOWLEDGE_H
#define AFTERBOIL_KNOWLEDGE_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/fact.h>

/* The elements, with * any number, + one or more; ranges and units stand in rules/rules.rng. Any element with an
 * id takes replace="yes".
 *
 *   <fault id= severity= packaged-only= source=>
 *       <title/> <like/> <word/>* <opposite/>* <caution/>    caution-when: said instead where that holds; the last
 *       <caution-when says=><when/>+</caution-when>*            that does
 *       <leak noticeable= strong= source=><when/>*</leak>*      how often it comes without a cause known here
 *       <confused with= share= source=/>* </fault>              a fault it is sometimes taken for
 *   <kin id=>                                               causes that are one thing by several ways, as an
 *       <title/> <ways/> <why/> <next/> </kin>              infection is; ways: "the most likely way in"
 *   <contrary id= source=>                                  statements that cannot well be true together: all of
 *       <says/> <when/>+ </contrary>                        the conditions hold, and none of a guess; two facts at
 *                                                           least
 *   <box id= fact= also= day= core="yes" first= apart= source=>
 *       <title/> <caution/>                                 what a batch sheet may ask for, on which day of the
 *       <aim says=><when/>*</aim>* <only-for/>* </box>      batch; core: on every sheet. also: facts it makes known
 *                                                           besides. first, apart: days after pitching of the first
 *                                                           of two readings where the yeast is not known, and
 *                                                           between them. The last aim whose conditions hold and
 *                                                           whose names in braces can be told is shown: {yeast.low}
 *                                                           {yeast.high} {yeast.rest} (C) {yeast.days} {yeast.lag}
 *                                                           (h) {co2.low} {co2.high} {co2} {og} {fg} {fg.low}
 *                                                           {fg.high} {volume} (L)
 *   <cause id= side="hot|cold" stage= kind="process|benign" kin= expects="yes" at-hand="yes" source=>
 *                                                           at-hand: next helps the very beer it is said of
 *       <title/> <why/> <next/> <next-when says=><when/>+</next-when>* <caution/> <caution-when/>*
 *       <prior p= source=><when/>*</prior>+                     the last whose conditions all hold is used;
 *                                                               the first must have none
 *       <gate says=><when/>+</gate>*                            impossible when all conditions of one hold
 *       <sign fact= unit= group= source= for= against=>
 *           <at x= ratio=/>+ or <is word= ratio=/>+ <when/>* </sign>*
 *       <gives fault= noticeable= moderate= strong= source=>
 *           <when/>* </gives>+                                  per fault, the last whose conditions all hold
 *       </cause>
 *   <change id= kind="habit|upgrade" side= stage= cost= running= running-per-year= minutes= once-minutes=
 *       attend= over-room= slowest= space= noisy= smoky= group= source=>
 *       <title/> <how/> <caution/> <caution-when/>*         in how: {room}, the brewer's room; {room.yeasts}, the
 *                                                           classes of yeast that suit it, {room.spicy} those of
 *                                                           them that add spice; a sentence with one that is not
 *                                                           known is not said
 *       <word/>*                                            what who does it says: "a starter"; of no other change
 *       <sets fact= to= at-most= at-least= source=/>*
 *       <prevents cause= share= source=><when/>*</prevents>*
 *       <needs change= or-thing=/>* <excludes change=/>*    needs: of a habit, what must stand there already, or a
 *                                                           thing that does in its place
 *       <spares thing= cost= running= room= leaves= source=/>*  who has that thing pays so much less to buy (running:
 *                                                           a batch), needs no room for it where it stands there
 *                                                           already, and buys only what leaves says
 *       <only-for><when/>+</only-for>* <not-for><when/>+</not-for>*
 *       <practice><when/>+</practice>*                      not everybody does what it changes: without one of
 *                                                           these it is only for who has a trouble of which it
 *                                                           takes a real part
 *       <not-after fault= source=/>* </change>              not while that fault is a trouble told, nor after a
 *                                                           batch with it: the newest that was tasted
 *   <check id= minutes= cost= wait= base= answered-by= about="FAULT FAULT" stalls= marked="WORD WORD"
 *          spared="WORD WORD" source=>                      of a bottle's mark: treated so, kept from it
 *       <title/> <how/> <if-yes/> <if-no/> <caution/>
 *       <yes cause= p= source=/>+ <only-for/>* </check>
 *   <family id=>
 *       <title/> <hurts fault= factor= source=/>*
 *       <expects fault= up-to="slight|moderate|strong" source=>
 *           <when/>* </expects>*                            conditions: such a yeast, such a recipe
 *       <carbonation low= high= source=/> </family>
 *       and at most one <freshness fading= stale= long-stale= source=/>: mg/L of oxygen times days at
 *       20 C (fact stale.dose) from which such a beer is so
 *   <yeast id= (the members of ab_yeast_norm) source=/>
 *   <sanitiser agent= contact= keeps= heat= no-rinse= source=/>
 *                                                           heat: how hot for that contact
 *   <bottle kind= limit= limit-pressure= tell-from= says= care= source=/>
 *                                                           kind: a bottle of the journal, or can keg cask. A
 *                                                           limit, or the pressure from which it is told that no
 *                                                           limit is known; both where a limit holds only for some.
 *                                                           says: told beside it; care: what to do with one that
 *                                                           may hold too much, else that of a glass bottle
 *   <malt id= kind= source=> <word/>+ </malt>               what malts are called, for lines of the log; kind: of
 *                                                           the journal. No word in two of them, none that is a
 *                                                           kind itself
 *   <touch id= after="TOUCH TOUCH" before=TOUCH goal="yes" upkeep="yes" lapses="yes" shared="yes" hour= shown-by=
 *          item= source=>                                   a thing to do once a batch; hangs on the first of after
 *       <title/> <how/> <waiting/> <caution/>               that is done with this beer;
 *       <tell>log BATCH ...</tell>                          what to type when it is done; of tell-when the last
 *       <tell-when says="log BATCH ..."><when/>+</tell-when>*   whose conditions all hold goes before it. <word>: the
 *       <word/>*                                            beginning of a note that says so (that of no other touch)
 *       <takes minutes= low= high= source=><when/>*</takes>+    the last whose conditions all hold is used, of both
 *       <due from= pace="primary|clean" share= waits= slow= source=><when/>*</due>*
 *                                                           earliest from after that, or share of the yeast's
 *                                                           pace when that is later (slow: so many times it, where
 *                                                           a deadline is kept and nothing was measured); may
 *                                                           wait as long as waits; none only for the first touch
 *       <only-for/>* <not-for/>* </touch>                   before: it prepares that one, which stands after it,
 *                                                           and waits for no later day; shown-by: the record of a
 *                                                           journal that shows it done (ab_words_shown); item: the
 *                                                           kit whose cleaning shows it; lapses: few write it down,
 *                                                           so it counts as done once it may wait no longer;
 *                                                           shared: done once it is done for all batches of those
 *                                                           days
 *   <chore id= source=> <title/> <word/>*                   what is a burden though no beer tastes of it; words:
 *       <ease change= share= anew= without= source=/>+      others for it. share: how much of the burden that
 *       </chore>                                            change takes
 *   <thing id=> <title/> <word/>* <from change=/>* </thing> what stands in a house and serves a change by a part or
 *                                                           as a whole; a profile names it by id, title ("a
 *                                                           fridge") or word. from: a change that is owned and not
 *                                                           in use is such a thing
 *   <number id= is= source=>                                a number of the trade that stands alone, with its unit;
 *                                                           one for each of ab_words_number
 *   <when fact= is="word word" | not="word word" | over= | under= | known="yes|no"/>
 *       an unknown fact makes is, not, over and under false */

enum ab_side { AB_SIDE_COLD, AB_SIDE_HOT };
/* The stages of a batch in order; hot-side ones first. */
extern const char *const ab_words_stage[];   /* mash boil water ingredients chill pitch ferment transfer
					      * dry-hop package store serve measure */
extern const char *const ab_words_side[];    /* cold hot */
/* The days of a batch, as its sheet has them. */
extern const char *const ab_words_day[];     /* before brew chill pitch early ferment package store taste */
enum ab_day { AB_DAY_BEFORE, AB_DAY_BREW, AB_DAY_CHILL, AB_DAY_PITCH, AB_DAY_EARLY, AB_DAY_FERMENT, AB_DAY_PACKAGE,
    AB_DAY_STORE, AB_DAY_TASTE, AB_DAYS };
extern const char *const ab_words_change_kind[]; /* habit upgrade */
extern const char *const ab_words_number[];      /* ids of <number>, by enum ab_number */

/* How a condition compares. All but AB_CMP_UNLESS and AB_CMP_UNKNOWN are false on an unknown fact. */
enum ab_cmp { AB_CMP_IS, AB_CMP_NOT, AB_CMP_UNLESS, AB_CMP_OVER, AB_CMP_UNDER, AB_CMP_KNOWN, AB_CMP_UNKNOWN };

/* One compiled condition. IS, NOT and UNLESS: bit k of words = the k-th word of the fact (flags: bit 0 no, bit
 * 1 yes). */
struct ab_cond { int slot; enum ab_cmp cmp; double value; unsigned long long words; };
/* Conditions joined by "and"; n = 0 always holds. place: the same number, from 1, wherever the rules ask the same;
 * 0 = not numbered. */
struct ab_conds { const struct ab_cond *items; unsigned n, place; };

/* Where a number comes from; estimate: nobody measured it, text says why it is believed. */
struct ab_source_note { const char *text; bool estimate; long line; const char *file; };

/* p: P(the cause is there) in a batch of which nothing else is known, above 0 and below 1. */
struct ab_prior { double p; struct ab_conds when; struct ab_source_note source; double log_odds; };
/* says: why it is impossible then, a sentence for the brewer; NULL = not said. */
struct ab_gate { struct ab_conds when; const char *says; };

/* points of a curve, words of a fact with signs, signs of a cause: at most */
enum { AB_CURVE_POINTS = 10, AB_WORDS = 24, AB_CAUSE_SIGNS = 64 };
struct ab_sign {
	int slot;
	int group;                            /* signs of one group in a cause: only the strongest counts; -1
	                                       * = alone */
	size_t n;                             /* points of the curve; 0 = a table of words */
	/* the curve is of the figure as it is reckoned: what is uncertain in reckoning it was so in what the curve
	 * rests on, and is no doubt of the sign */
	bool nominal;
	struct ab_conds when;
	/* x rising; linear in log ratio between, flat beyond */
	double x[AB_CURVE_POINTS], log_ratio[AB_CURVE_POINTS];
	double word_log_ratio[AB_WORDS];      /* by word (flags: 0 no, 1 yes); 0 where the rules are silent */
	const char *says_for, *says_against;  /* plain words used in explanations; NULL = made from the fact's
	                                       * title */
	struct ab_source_note source;
};

/* tail[g]: P(the fault is of grade g or worse | this cause alone); g: 0 none, 1 slight, 2 moderate, 3 strong.
 * tail[0] = 1, and they never rise. */
struct ab_link { int fault; double tail[4]; struct ab_conds when; struct ab_source_note source; };
/* What a cause may be reported as: a fault it gives, or one that such a fault is mistaken for. tail and estimate
 * hold for every batch when fixed; else they hang on a condition or on what the family expects, and are 0. */
struct ab_report { int fault; bool fixed, estimate; double tail[4]; };

/* A kin: causes that a brewer calls by one name, each a way in which it comes about. title reads in
 * mid-sentence ("an infection"); ways names what a member is to it ("the most likely way in"). */
struct ab_kin { const char *id, *title, *ways, *why, *next; long line; const char *file; };

/* What a journal says that cannot well be true together; says: what the brewer is told. */
struct ab_contrary { const char *id, *says; struct ab_conds when; struct ab_source_note source; };

/* A burden of brewing that no beer tastes of ("chilling takes too long"), and what eases it. share: of the burden
 * that the change takes, by itself, 0 to 1. Such shares are no flaw load and stand in no sum with one. anew: what
 * it brings has failed, so it is had again whoever owns one, and whomever it is for otherwise; it comes first.
 * without: who owns that has nothing of it; -1 = none. */
struct ab_ease { int change; double share; bool anew; int without; struct ab_source_note source; };
struct ab_chore {
	const char *id, *title;
	const char **words; size_t n_words;
	struct ab_ease *eases; size_t n_eases;
	struct ab_source_note source;
	long line; const char *file;
};

/* What a brewer may have standing there that is no change by itself: a fridge without a controller, a tub. title reads
 * in mid-sentence, with its article. from: changes that bring it where they are owned and not in use. */
struct ab_thing {
	const char *id, *title;
	const char **words; size_t n_words;
	int *from; size_t n_from;
	long line; const char *file;
};
/* What having the thing takes off a change: of its price, of its running cost a batch; room: it takes none more.
 * leaves: what is still bought, in mid-sentence ("the controller"); NULL = not said. What several things take is
 * added up. */
struct ab_spares {
	int thing;
	double cost, running_per_batch;
	bool room;
	const char *leaves;
	struct ab_source_note source;
};

/* What a batch sheet may ask for. says: with names in braces, as above. first_d, apart_d: 0 = not told. */
struct ab_aim { const char *says; struct ab_conds when; };
struct ab_box {
	const char *id, *title, *caution;   /* title NULL: the fact's question */
	int slot, day;                      /* day: place in ab_words_day */
	int *also; size_t n_also;           /* facts it makes known besides */
	bool core;
	double first_d, apart_d;
	struct ab_aim *aims; size_t n_aims;
	struct ab_conds *only_for; size_t n_only_for;   /* any one must hold */
	struct ab_source_note source;
	long line; const char *file;
};

/* Other words, where they hold. */
struct ab_tell { const char *says; struct ab_conds when; };
struct ab_cause {
	const char *id, *title, *why, *next, *caution;
	struct ab_tell *nexts; size_t n_nexts;
	struct ab_tell *cautions; size_t n_cautions;
	int kin;                /* place in kins, -1 = of none */
	enum ab_side side;
	int stage;              /* place in ab_words_stage */
	bool benign;
	bool expects;           /* gives what the family or the yeast is meant to have: links are made from
	                         * ab_family.expects */
	bool at_hand;           /* next helps the very beer it is said of, not only those to come */
	struct ab_prior *priors; size_t n_priors;
	struct ab_gate *gates; size_t n_gates;
	struct ab_sign *signs; size_t n_signs;
	const short *sign_slots;        /* of the signs, side by side: most facts are unknown, and their signs
	                                 * need not be looked at; NULL = not made */
	struct ab_link *links; size_t n_links;
	/* What it may be reported as: the chances of any grade (tail[1]) that are fixed, and the faults of those that
	 * are not. Reckoned from the links; all of it stands in reported, below. */
	struct ab_noticed { int fault; double p; } *noticed; size_t n_noticed;
	int *loose; size_t n_loose;
	long line; const char *file;
};

/* As a link, but of no cause known here. */
struct ab_leak { double tail[4]; struct ab_conds when; struct ab_source_note source; };
struct ab_confusion { int with; double share; struct ab_source_note source; };
struct ab_fault {
	const char *id, *title, *like, *caution;
	struct ab_tell *cautions; size_t n_cautions;
	double severity;        /* flaw load of one slight grade: 0..10 */
	bool packaged_only;     /* nobody can find it before the beer is packaged and has its gas */
	const char **words; size_t n_words;   /* words[n_words] is NULL */
	const char **opposites; size_t n_opposites;   /* words for what is no fault: full-bodied, of a thin beer */
	struct ab_leak *leaks; size_t n_leaks;
	struct ab_confusion *confusions; size_t n_confusions;
	struct ab_source_note source;
	long line; const char *file;
};

struct ab_sets {
	int slot;
	enum { AB_SET_TO, AB_SET_AT_MOST, AB_SET_AT_LEAST } mode;
	double value;
	struct ab_source_note source;
};
/* share of the cause that the change takes away where its facts are unknown, 0..1. */
struct ab_prevents { int cause; double share; struct ab_conds when; struct ab_source_note source; };
/* What the last batch had of that fault goes on into the next by this change. */
struct ab_not_after { int fault; struct ab_source_note source; };
struct ab_change {
	const char *id, *title, *how, *caution, *group;
	const char **words; size_t n_words;
	struct ab_tell *cautions; size_t n_cautions;
	bool habit, noisy, smoky;
	enum ab_side side;
	int stage, space;       /* space: place in none drawer cupboard floor */
	double cost, running_per_batch, running_per_year, minutes, once_minutes;   /* US$, minutes a batch */
	double attend_h;        /* somebody must be at home at least this often while it is under way; INFINITY =
	                         * it may be left alone */
	double over_room_k, slowest_days; /* of {room.yeasts}: how much warmer than its room a beer is reckoned, and
					   * the longest primary of a class that is named; NAN where not told, and
					   * then none is named */
	struct ab_sets *sets; size_t n_sets;
	struct ab_prevents *prevents; size_t n_prevents;
	int *needs; size_t n_needs;
	int *or_thing;          /* n_needs: a thing that does in the place of that change; -1 = none */
	struct ab_spares *spares; size_t n_spares;
	int *excludes; size_t n_excludes;
	struct ab_conds *only_for; size_t n_only_for;   /* any one must hold */
	struct ab_conds *not_for; size_t n_not_for;     /* none may hold */
	int remedy;             /* place in checks of "did it help?" */
	struct ab_conds *practices; size_t n_practices; /* any one, or it is for a real part of what is wrong only */
	struct ab_not_after *not_after;
	size_t n_not_after; /* none may be a trouble told, nor a flaw of the newest batch tasted */
	struct ab_source_note source;
	long line; const char *file;
};

/* p: P(the answer is yes | the cause is there), 0..1. */
struct ab_check_yes { int cause; double p; struct ab_source_note source; };
struct ab_check {
	const char *id, *title, *how, *if_yes, *if_no, *caution;
	double minutes, cost, wait_days, base;   /* of effort; US$; until the answer; P(yes) when none of its
	                                          * causes is there */
	int answered_by;        /* slot of the fact that tells the same, and finer; -1 none. Where it is known,
	                         * the check is neither asked nor counted */
	int *about; size_t n_about;   /* faults it looks at: asked only when one of them was found; none: whatever
	                               * was found */
	/* Words of a bottle's mark, with blanks between: marked with one of the first it had the suspected
	 * treatment, with one of the second it was kept from it. Such bottles, tasted beside the others, answer the
	 * check. NULL: none. */
	const char *marked, *spared;
	bool told_only;         /* did a change that was tried help? Told in a journal, never asked nor listed */
	bool stalls; /* before a beer that hangs is blamed: is the reading true? The first such check is told */
	struct ab_check_yes *yes; size_t n_yes;
	struct ab_conds *only_for; size_t n_only_for;
	struct ab_source_note source;
	long line; const char *file;
};

/* A trait the family is meant to have, up to grade, where its conditions hold; it is no evidence up to
 * there. */
struct ab_expects { int fault, grade; struct ab_conds when; struct ab_source_note source; };
/* factor on the fault's severity in this family. */
struct ab_hurts { int fault; double factor; };
struct ab_family {
	const char *id, *title;
	struct ab_expects *expects; size_t n_expects;
	struct ab_hurts *hurts; size_t n_hurts;
	double co2_low, co2_high;                /* usual carbonation, volumes */
	long line; const char *file;
};

/* Names of malts that are one kind of a journal's. kind: that word, as the journal's list has it. */
struct ab_malt_names {
	const char *id, *kind;
	const char **words; size_t n_words;
	struct ab_source_note source;
	long line; const char *file;
};

/* What a touch takes: minutes usually, and from low to high. */
struct ab_takes { double minutes, low, high; struct ab_conds when; struct ab_source_note source; };
enum ab_pace { AB_PACE_NONE, AB_PACE_PRIMARY, AB_PACE_CLEAN };   /* days of ab_yeast_norm */
extern const char *const ab_words_pace[];   /* primary clean */
struct ab_due {
	enum ab_pace pace;
	double share, from_days, waits_days, slow;
	struct ab_conds when;
	struct ab_source_note source;
};
/* What in a journal shows that a touch was done. LOOK: any reading; GRAVITY: a gravity near the end; SAME_GRAVITY:
 * one that has stood for three days; CLEANING: the item cleaned, in the journal behind the packaging (behind the
 * pitching, of a touch that prepares another); COOL: there is no such touch but while the newest temperature of
 * the first days is too warm for the yeast. A note that begins with a word of the touch, or with "done:" and its
 * title, shows it as well, but those that need a record of their own (ab_touch_by_note). */
enum ab_shown {
	AB_SHOWN_NONE, AB_SHOWN_PITCH, AB_SHOWN_LOOK, AB_SHOWN_REST, AB_SHOWN_GRAVITY, AB_SHOWN_DRY_HOP,
	AB_SHOWN_HOPS_OUT, AB_SHOWN_SAME_GRAVITY, AB_SHOWN_PACKAGE, AB_SHOWN_TASTING, AB_SHOWN_STORE, AB_SHOWN_RETASTE,
	AB_SHOWN_CLEANING, AB_SHOWN_COOL, AB_SHOWN_FORCED
};
bool ab_touch_by_note(enum ab_shown shown); /* all but pitch, gravity, same-gravity, dry-hop, package, tasting,
					       retaste */
/* pitch look rest gravity dry-hop hops-out same-gravity package tasting store retaste cleaning cool */
extern const char *const ab_words_shown[];
struct ab_touch {
	const char *id, *title, *how, *waiting, *caution;
	const char *tell;                /* "log BATCH gravity 1.012 SG": what to type when it is done */
	struct ab_tell *tells; size_t n_tells;
	const char **words; size_t n_words;   /* beginnings of a note that says it is done */
	const char *item;                /* the kit whose cleaning shows it; NULL */
	int *after; size_t n_after;      /* earlier touches; 0 = the first of all */
	int before;                      /* the touch it prepares, a later one; -1 */
	enum ab_shown shown;
	bool goal, upkeep;               /* the beer is there; cleaning that comes with it */
	bool lapses, shared;
	double hour;                     /* of the day it is best done at; NAN = any */
	struct ab_takes *takes; size_t n_takes;
	struct ab_due *dues; size_t n_dues;
	struct ab_conds *only_for; size_t n_only_for;   /* any one must hold */
	struct ab_conds *not_for; size_t n_not_for;     /* none may hold */
	struct ab_source_note source;
	long line; const char *file;
};

struct ab_knowledge {
	const struct ab_fact_table *facts;
	struct ab_fault *faults; size_t n_faults;
	struct ab_cause *causes; size_t n_causes;
	/* [fault * n_causes + cause]: place + 1 in reported, 0 = never; reported: what the causes may be reported as,
	 * fault after fault */
	unsigned short *report_at;
	struct ab_report *reported;
	const struct ab_hearing *hearing;   /* the signs laid out for ab_all_log_odds; NULL = not made */
	struct ab_kin *kins; size_t n_kins;
	struct ab_contrary *contraries; size_t n_contraries;
	struct ab_box *boxes; size_t n_boxes;
	struct ab_change *changes; size_t n_changes;
	/* Those that may be asked, and behind them one a change, in their order: was it tried against the fault,
	 * and did it help? Those are told only. */
	struct ab_check *checks; size_t n_checks;
	struct ab_malt_names *malts; size_t n_malts;
	struct ab_chore *chores; size_t n_chores;
	struct ab_thing *things; size_t n_things;
	struct ab_touch *touches; size_t n_touches;      /* in order; at most one has no after, the first */
	struct ab_family *families; size_t n_families;   /* in the order of ab_words_family */
	struct ab_norms norms;
	/* ids, titles and words of faults in order, for ab_fault_word */
	struct ab_spoken { const char *word; int fault; } *spoken; size_t n_spoken;
	/* by ab_word_sum of a word, a power of two of them: place + 1 in spoken of the first that is spelled so, or of
	 * another, and then the next is looked at; 0 ends the search */
	unsigned *spoken_at; size_t n_spoken_at;
	char version[65];       /* a stable hash (FNV-1a, 16 hex digits) of all rule bytes read: stored beside
	                         * each diagnosis */
};

/* How many of the checks may be asked: those at the front. */
static inline size_t ab_asked_checks(const struct ab_knowledge *k)
{
	size_t n = k->n_checks;
	while (n > 0 && k->checks[n - 1].told_only)
		n--;
	return n;
}

/* The vocabularies of the journal that rules may use (so that this room need not see the journal room); numbers: ids of
 * those that the rules must tell, ab_words_number for whoever reckons with them; NULL = none must be there. */
struct ab_vocabulary {
	const char *const *families,
	    *const *sanitisers, *const *bottles, *const *spaces, *const *gear, *const *numbers, *const *malts;
};

/* Reads the folders in order (dirs[0] is the base). Refuses, with file and line, whatever ab_knowledge_lint
 * would call an error. AB_EINPUT, AB_EUSAGE (no folder), AB_ESYSTEM (none such, no rules in it), AB_ENOMEM. */
enum ab_status ab_knowledge_read(const char *const *dirs, size_t n, const struct ab_fact_table *facts,
    const struct ab_vocabulary *vocabulary, struct ab_arena *arena, struct ab_knowledge **out,
    struct ab_diag *diag);

/* One finding of the lint. Errors make the rules unusable; advice does not. */
struct ab_lint { bool error; const char *file; long line; const char *text; };
/* Checks everything that a single element cannot: dangling or duplicate ids, numbers out of range, units that
 * do not fit, a fault no cause gives, a cause that gives nothing, a curve out of order, a number without
 * source, a tasting word used twice, a requirement that can never be met, a cause no change prevents
 * (advice), a fault without words, a number that is not told. At most max findings are written; n tells how many
 * there were. Reads as far as it can. Findings are no failure: AB_EUSAGE (no folder), AB_ESYSTEM (none such, no
 * rules in it), AB_ENOMEM. */
enum ab_status ab_knowledge_lint(const char *const *dirs, size_t n, const struct ab_fact_table *facts,
    const struct ab_vocabulary *vocabulary, struct ab_arena *arena, struct ab_lint *findings, size_t max,
    size_t *n_findings, struct ab_diag *diag);

/* Reckons again what reading reckoned from the numbers of the rules: log odds of priors, reports of causes, the
 * hearing of signs. For who changed priors, links or signs in a copy: until then the copy speaks with the old numbers
 * (but signs that stand in another array are seen to be others). The priors and causes must be the caller's to
 * change. AB_ENOMEM. */
enum ab_status ab_knowledge_settle(struct ab_knowledge *k, struct ab_arena *arena, struct ab_diag *diag);

/* What one cause gives in one batch, by fault, before anything is mistaken for anything else. */
struct ab_row { double (*tail)[4]; bool *has, *estimate; };
/* The tail with which that cause is reported as a fault, itself or mistaken for it: a fault f that is really f'
 * in a share s of the reports has tail 1 - (1 - tail_f)(1 - s tail_f'). False when it never is. */
bool ab_row_reports(const struct ab_row *row, const struct ab_fault *faults, int fault, double tail[4],
    bool *estimate);
/* tail[1] of that alone; 0 when never. */
double ab_row_noticed(const struct ab_row *row, const struct ab_fault *faults, int fault);

/* Of tells the last whose conditions all hold, else the words themselves; both may be NULL. */
const char *ab_tell_of(const char *words, const struct ab_tell *tells, size_t n, const struct ab_fact *facts);
/* What to do about a cause where the beer stands (<next-when>); without facts its <next>. May be NULL. */
const char *ab_cause_next(const struct ab_cause *cause, const struct ab_fact *facts);

/* Place of an id, or -1. */
int ab_fault_find(const struct ab_knowledge *k, const char *id);
int ab_cause_find(const struct ab_knowledge *k, const char *id);
int ab_change_find(const struct ab_knowledge *k, const char *id);
/* Its title; a change the rules do not know is called what the brewer called it: by id. */
const char *ab_change_title(const struct ab_knowledge *k, const char *id);
int ab_check_find(const struct ab_knowledge *k, const char *id);
int ab_family_find(const struct ab_knowledge *k, const char *id);
int ab_touch_find(const struct ab_knowledge *k, const char *id);
/* The chore of that id, title or word, capitals aside, or -1. */
int ab_chore_word(const struct ab_knowledge *k, const char *word);
/* The thing of that id, title or word, capitals and a leading article aside, or -1; then near (may be NULL) gets the
 * ids of up to max that share a word with it. */
int ab_thing_word(const struct ab_knowledge *k, const char *word, const char **near, size_t max, size_t *n_near);
int ab_yeast_find(const struct ab_knowledge *k, const char *id);

/* How much heavier (or lighter) a fault weighs in a family (-1 unknown); 1 where the rules are silent. */
double ab_family_factor(const struct ab_knowledge *k, int family, int fault);

/* The fault a plain tasting word means ("buttery", "Green apple", "wet cardboard", or the id), or -1; then
 * near gets up to max words that look like it. */
int ab_fault_word(const struct ab_knowledge *k, const char *word, const char **near, size_t max,
    size_t *n_near);

/* The fault of which a word means the opposite, which is none ("full-bodied": a thin beer), or -1. */
int ab_opposite_word(const struct ab_knowledge *k, const char *word);

/* The change a brewer's words mean: its id, its title, one of its words ("a starter"; small words, endings and their
 * order do not matter), or words that stand in the title and id of no other ("tub of water", "cap on foam"). -1 when
 * none or several fit; then near gets the ids of up to max that fit, or, when none does, of those whose words hold
 * all that is said, or of one that is spelt nearly so. */
int ab_change_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max,
    size_t *n_near);

/* The cause a brewer's words mean, and the check, likewise; where no check fits and none is spelt nearly so, near gets
 * those that share most words, of how they are done, too. */
int ab_check_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max, size_t *n_near);
int ab_cause_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max, size_t *n_near);

/* Where a trouble's word is no fault, cause or chore as its attribute says: what it is instead and how it is
 * written, or what looks like it, small and without a full stop ("it is a cause: write cause=\"slow-chill\" in
 * place of fault=\"slow chill\""); "" when nothing is near. Returns buf. */
enum ab_trouble_kind { AB_TROUBLE_FAULT, AB_TROUBLE_CAUSE, AB_TROUBLE_CHORE };
const char *ab_trouble_instead(
    const struct ab_knowledge *k, enum ab_trouble_kind kind, const char *word, char *buf, size_t size);

/* The touch a brewer's words mean: as ab_change_word, by id, title or one of its words; near gets titles. */
int ab_touch_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max, size_t *n_near);

/* Do all conditions hold on these facts? An empty list holds. */
bool ab_conds_hold(const struct ab_conds *conds, const struct ab_fact *facts);

/* The same for who asks many things of facts that stay as they are: what dozens of signs, gates and links ask alike
 * is looked at once. One is about 1 KiB and is begun for each set of facts. */
enum { AB_HELD = 1024 };
struct ab_held { const struct ab_fact *facts; unsigned char seen[AB_HELD]; };   /* by place: 0 not yet, 1 no, 2 yes */
void ab_held_begin(struct ab_held *held, const struct ab_fact *facts);
bool ab_held_all(struct ab_held *held, const struct ab_conds *conds);

/* The log likelihood ratio a sign gives on these facts: averaged over the fact's uncertainty (five-point
 * Gauss-Hermite on value and u; the ratio is averaged, not its log), times 0.5 for a guess, 0 when the fact
 * is unknown or a condition fails. */
double ab_sign_weight(const struct ab_sign *sign, const struct ab_fact *facts);

/* The prior log-odds of a cause on these facts: its prior, plus its signs (per group the strongest only),
 * -INFINITY when gated. used (may be NULL; n_signs long) gets the weight each sign counted with. */
double ab_cause_log_odds(const struct ab_cause *cause, const struct ab_fact *facts, double *used);

/* The same of every cause, n_causes long, in the order of the rules: equal to the last bit and several times as fast,
 * for it walks the facts that are known, and what is said of each stands side by side. */
void ab_all_log_odds(const struct ab_knowledge *k, struct ab_held *held, double *log_odds);

#endif
