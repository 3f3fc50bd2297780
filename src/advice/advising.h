/* advising.h - the insides of advice.h: what its files hand to each other, one after the other
 *
 * trouble.c takes in what the brewer says is wrong, easing.c what is a burden; limits.c reads budgets, prices and
 * what is barred; allbatches.c diagnoses the batches together; learning.c learns what came of the changes that were
 * made; grounds.c what the facts decide of the rules; recurrence.c how often each cause strikes; attribution.c what
 * it costs; practice.c bars what nobody spoke of; effects.c finds what each change would have done, by the replays
 * of replaying.c; tables.c what sets of them would have; problem.c states all that for plan.h; choose.c picks the
 * plan and its frontier; leftout.c asks what each limit costs; buying.c orders and ranks; beginning.c says what to
 * begin with; cheaper.c keeps money back that is not surely well spent; firmness.c redraws the estimates
 * (redrawing.h); ahead.c weighs a check before buying; reason.c says it in words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_ADVISING_H
#define AB_ADVICE_ADVISING_H

#include <stdbool.h>
#include <afterboil/advice.h>
#include <afterboil/facts.h>
#include <afterboil/together.h>

enum advising_axis { AXIS_MONEY, AXIS_MINUTES, AXIS_RUNNING, AXIS_HABITS, AXIS_WHOLE, AXIS_BREWS, AXIS_N };

/* The newest batch counts most: each before it this much less (estimate). */
#define ADVISING_DECAY 0.85
/* No change is believed to take away more of a cause (estimate: no habit is kept perfectly). */
#define ADVISING_CEILING 0.95
enum { ADVISING_FADED = 56 };   /* batches; older ones weigh less than one in ten thousand, and nothing */

struct advising_replays;                /* replaying.c */

/* A trouble named in the profile weighs as so many batches that had it and nothing else: it is named because
 * it keeps coming back (estimate; most of a year's brewing). */
#define ADVISING_TOLD 8

/* What a cause's load is mixed from: the rules' expectation per batch, and what own tastings laid at its door,
 * summed over `weight` batches. */
struct advising_loads { double rules, seen, weight; };
/* How many batches the rules count for beside the brewer's own, and the share of what a trained taster would
 * find that home brewers report (attribution.c). */
extern const double advising_rules_batches, advising_reported;

struct advising_needs { int *on; size_t n; };

struct advising {
	const struct ab_knowledge *k;
	struct ab_case *const *cases;
	size_t n_cases;
	struct ab_case *const *with_coming;
	size_t n_with_coming; /* those, and what is begun on paper only: it tells nothing yet */
	struct ab_case *const *dated_ahead; size_t n_dated_ahead;   /* left out of them: dated.h */
	const struct ab_profile *profile;
	const struct ab_advice_options *options;
	struct ab_arena *arena;
	struct ab_advice *out;
	size_t *adopted;                /* n_changes: advising_adopted */

	/* what the brewer says is wrong, as a case; NULL when nothing is said. told_part (n_causes): the load it lays
	 * at each cause. fine: it says that nothing is wrong, and no load is laid anywhere */
	struct ab_case *told;
	bool fine;
	double *told_part;
	unsigned char *has;             /* n_things: 1 where the brewer has it to spare (things.c) */
	struct advising_needs *needs;   /* n_changes: of its needs those in whose place no such thing does */

	/* what is worked on: the cases' facts, or one imagined batch a family when there are no cases */
	const struct ab_fact **facts;   /* n_facts_sets */
	const struct ab_batch **batch;  /* n_facts_sets: what the facts came from, or NULL: only facts at
	                                 * hand */
	int *family;                    /* n_facts_sets; -1 unknown */
	double *weight;                 /* n_facts_sets: how much each counts, the newest most; sums to 1 */
	size_t n_sets;

	unsigned char *uses;            /* n_causes x facts: 1 where the cause looks at that fact */
	int **looks;                    /* n_causes: the same as a list of slots, ended by -1 */
	struct advising_replays *replays;
	unsigned char *touches;         /* n_changes x n_causes: 1 where the change could take something of
	                                 * the cause */
	unsigned char *glass;           /* facts: 1 where a tasting told it; such facts are silent in a replay */
	double *alone; /* n_sets x n_causes: P(cause) by the facts of the set, those of the glass left out */
	double *seen;                   /* n_causes: its "present" over the sets, weighed */
	struct ab_fact *scratch;        /* room for one set of facts, and for a basis a cause */
	unsigned char *spare;
	int *list;                      /* n_changes */
	unsigned char *in_force;        /* n_changes x n_cases: 1 where the batch was brewed with the change: as
	                                 * noted from the first batch on, of a line in batches of that line, a
	                                 * trial only in its own */
	unsigned char *tells_of;        /* n_changes x n_cases: 1 where the batch tells of the change, brewed with it or
	                                 * without: of one made for some beers only, in batches of those beers */
	const struct grounds *grounds;  /* grounds.h */
	double *prior;                  /* n_causes: mean over the sets, by the sort of brewing alone */
	double *context;                /* n_cases x n_causes: P(cause) by the sort of brewing alone, before
	                                 * anything was measured or tasted */
	/* each n_cases rows of n_causes (allbatches.c): P(cause) and blame in the light of all batches; present by
	 * its own prior, facts and tasting, where only the rivals are seen so; by the facts and the other batches;
	 * in one batch more, brewed as it was; by the facts. The last three NULL where a batch stands as it was
	 * diagnosed; blame where it was not asked for. */
	const double **present, **blame, **tasted_only, **before, **next;
	double **alone_in;
	struct ab_together_of light; /* the batches from light_from on, as they were taken together, and what came
					of it */
	struct ab_together in_the_light;
	size_t light_from;
	double *held;                   /* n_changes x n_causes: what a change that was made did of what was
	                                 * expected of it; 1 where nothing was learned */
	double *recur;                  /* n_causes: P(it strikes the next batch) */
	double *brings;                 /* n_causes: flaw load it brings when it strikes */
	size_t *turn;                   /* n_causes: the first case that counts for it, after what was last
	                                 * changed about it */
	double *load;                   /* n_causes: expected per batch, rules and own glasses together
	                                 * (attribution.c) */
	struct advising_loads *loads;   /* n_causes */
	double *there; /* n_causes: of what was tasted and is not gone, what is laid at its door, the newest batch
			* counting most */
	double there_least;             /* what takes less of it does not act on it; INFINITY where nothing does */
	double *spoils;                 /* n_causes: P(a noticeable flaw | it strikes) */
	unsigned char *meant;           /* n_sets x n_faults: up to this grade the fault is a trait the beer
	                                 * is meant to have */
	double leak_clean;              /* P(no flaw comes from nowhere) */
	double *effect;                 /* n_changes x n_causes: share of the cause removed, alone */
	unsigned char *basis;           /* n_changes x n_causes: 1 replay, 2 rated, 3 both */
	struct ab_problem problem;      /* the choice as plan.h wants it, all within the limits open */
	double neglected;               /* load that the tables of the problem leave out */
	enum ab_change_state *state;    /* n_changes: what is open after the policy's first step */
	double *worlds; /* redraws rows: what the plan takes off there, and then what each of the frontier does;
			 * NULL = not redrawn (firmness.c) */
};

enum ab_status advising_told(struct advising *a, struct ab_diag *diag);
/* Does the profile say that something is wrong with the beer? */
bool advising_wrong(const struct advising *a);
void advising_told_causes(struct advising *a);
/* Is a shorter brew day wanted rather than a better beer? */
bool advising_for_time(const struct advising *a);
/* The share of the trouble told that the change takes by itself, 0 when none is; and is it a real part? */
double advising_of_trouble(const struct advising *a, int change);
bool advising_answers(const struct advising *a, int change);
enum ab_status advising_idle(struct advising *a, struct ab_diag *diag);
enum ab_status advising_limits(struct advising *a, struct ab_diag *diag);
/* What facts decide and no estimate moves. */
enum ab_status advising_grounds(struct advising *a, struct ab_diag *diag);
/* What such brewing suffers from, and what that brings. */
enum ab_status advising_priors(struct advising *a, struct ab_diag *diag);
/* What each batch's sort of brewing suffers from, for what is learned of changes. */
enum ab_status advising_contexts(struct advising *a, struct ab_diag *diag);
enum ab_status advising_recurrence(struct advising *a, struct ab_diag *diag);
/* Notes which facts each cause looks at, and what each change could touch. */
enum ab_status advising_uses(struct advising *a, struct ab_diag *diag);
/* Sums up what was seen of each cause. */
enum ab_status advising_seen(struct advising *a, struct ab_diag *diag);
/* What is believed of each batch in the light of all. */
enum ab_status advising_together(struct advising *a, struct ab_diag *diag);
/* Where that names another suspect than a batch by itself. */
void advising_turned(struct advising *a);
/* One of them with this evidence, ready to be solved. */
enum ab_status advising_batch(const struct advising *a, size_t b, const struct ab_evidence *evidence,
    struct ab_together_batch *out, struct ab_diag *diag);
/* What came of the changes that were made. */
enum ab_status advising_learn(struct advising *a, struct ab_diag *diag);
/* Was anything learned of what the change does to the cause? */
bool advising_tried(const struct advising *a, size_t change, size_t cause);
/* What a set of changes takes when one of them does the share `held` of what it would: all of the set, and the set
 * without it, as expected. */
double advising_as_learned(double all, double without, double held);
/* The share of the cause that this change alone takes away in set b. */
double advising_takes(const struct advising *a, size_t b, size_t cause, int change);
enum ab_status advising_attribution(struct advising *a, struct ab_diag *diag);
/* What is still tasted and at whose door it lies. */
enum ab_status advising_there(struct advising *a, struct ab_diag *diag);
double advising_load(const struct advising *a, size_t cause, double batches, double reported);
enum ab_status advising_effects(struct advising *a, struct ab_diag *diag);
/* Do these conditions hold in most of the batches, by weight? */
bool advising_holds_for_most(const struct advising *a, const struct ab_conds *conds);
/* Bars what acts on a practice that nobody spoke of. */
enum ab_status advising_practice(struct advising *a, struct ab_diag *diag);
enum ab_status advising_problem(struct advising *a, struct ab_diag *diag);
/* The problem as the policy left it, for other plans to be held against the chosen one: as many habits, and with no
 * limit of money told no more money than that one takes. */
struct ab_problem advising_same_money(const struct advising *a);
enum ab_status advising_choose(struct advising *a, struct ab_diag *diag);
/* What each limit costs. */
enum ab_status advising_left_out(struct advising *a, struct ab_diag *diag);
enum ab_status advising_order(struct advising *a, struct ab_diag *diag);
/* Sorts the items for showing; the last step, since all others count by change. */
void advising_rank(struct advising *a);
/* What to begin with, places in items; after advising_cheaper. */
void advising_begin(struct advising *a);
/* Of what was tasted and is still there, what the item takes by itself. */
double advising_takes_of_there(const struct advising *a, const struct ab_item *item);
/* A purchase that is not firm, and the plan that does nearly as much without it; places in items must stand. */
void advising_cheaper(struct advising *a);
/* Does it ask for no money? What it brings for its money, of what is free the whole; and is all there that it makes
 * use of? (buying.c) */
bool advising_is_free(const struct ab_item *item);
double advising_worth(const struct advising *a, const struct ab_item *item, double gain);
bool advising_needs_owned(const struct advising *a, int change);
/* What eases the burdens named that no beer tastes of. After the ranking, as it may say what to begin with.
 * AB_EINPUT for one that the rules do not know. */
enum ab_status advising_easing(struct advising *a, struct ab_diag *diag);
/* Does the change ease a burden that the profile names? Is such a burden named, and is nothing wrong with the beer,
 * as far as is told? */
bool advising_eases_named(const struct advising *a, int change);
bool advising_only_burdens(const struct advising *a);
/* What stands there (things.c): which things of the rules the profile names, and of each change what it still needs.
 * AB_EINPUT for one that the rules do not know. */
enum ab_status advising_things(struct advising *a, struct ab_diag *diag);
/* Does a thing that is there take the room the change would want? */
bool advising_spares_room(const struct advising *a, const struct ab_change *c);
/* Takes off the item's price what is there; after it was priced and marked as owned. False: short of memory. */
bool advising_spare(const struct advising *a, struct ab_item *item);
/* Does the profile say that it is owned, in use or not? */
bool advising_has(const struct advising *a, int change);
bool advising_refused(const struct advising *a, int change);
/* After the ranking: it asks what is begun with. */
void advising_first_check(struct advising *a);

/* Has this brewer tasted the fault as a flaw (or told of it), and is it gone since: after the newest batch that had
 * it another of the same line was tasted without, and a change that is kept and acts on a cause of it came in
 * between? Never tasted, gone, still there. */
enum advising_tasted { ADVISING_NEVER, ADVISING_GONE, ADVISING_THERE };
enum advising_tasted advising_tasted(const struct advising *a, int fault);
/* Has any batch it as a flaw? */
bool advising_found(const struct advising *a, int fault);
/* Is the fault told as a trouble, or a flaw of the newest beer that was tasted? What is taken from one beer into
 * the next takes it along. */
bool advising_last_had(const struct advising *a, int fault);
/* The newest beer that was tasted has no flaw, and none of those tasted before is still there; where none was tasted
 * the profile says so. By_word: the profile says so, and no beer that was tasted speaks against it. */
bool advising_well_by_word(const struct advising *a);
bool advising_well(const struct advising *a);
/* The fault a cause brings that weighs most for this brewer; -1 = none. */
int advising_heaviest_fault(const struct advising *a, size_t cause);
enum ab_status advising_firmness(struct advising *a, struct ab_diag *diag);
/* What a check is worth before buying. */
enum ab_status advising_ahead(struct advising *a, struct ab_diag *diag);
enum ab_status advising_reason(struct advising *a, struct ab_diag *diag);

/* The flaw load per batch that these changes take away together, over the whole history: joint replay where
 * facts are known, rated shares elsewhere. share (n_causes) gets the part of each cause. */
double advising_joint(const struct advising *a, const int *changes, size_t n, double *share);

/* Lists the chosen changes into set (n_changes long). Returns how many. */
size_t advising_list(size_t n_changes, const unsigned char *chosen, int *set);

/* Opens the store of replays; to be closed whatever happens. AB_ENOMEM. */
enum ab_status advising_replays_open(struct advising *a, struct ab_diag *diag);
void advising_replays_close(struct advising *a);
bool advising_short_of_memory(const struct advising *a);
/* The facts of set b that the cause looks at, as they would have been with these changes (n of them; none: as they
 * were), into their places in after; what was tasted is not among them; its others are worth nothing then. With a
 * batch at hand the physics is run again; else what was reckoned from a moved fact becomes unknown. */
void advising_replay(const struct advising *a, size_t b, size_t cause, const int *changes, size_t n,
    struct ab_fact *after);
/* Is this fact (-1: any) reckoned from the one at slot? */
bool advising_derives(const struct advising *a, int slot, int derived);

/* One cause before tasting in set b, on facts after a replay: the share that went, CEILING at most. */
double advising_fell(const struct advising *a, size_t b, size_t cause, const struct ab_fact *after);
/* What a batch counts in the mean over batches for one cause, up to a factor. */
double advising_present_in(const struct advising *a, size_t b, size_t cause);

/* Effects (n_changes x n_causes) as a list of the changes that are open in state, from the arena; NULL when
 * short of memory. Sets *n. */
struct ab_effect *advising_effect_list(const struct advising *a, const double *effect,
    const enum ab_change_state *state, size_t *n);

/* What sets of the open changes of a->problem do to each cause, as its tables; needs its state and group.
 * Adds to a->neglected what no table could hold. */
enum ab_status advising_tables(struct advising *a, struct ab_diag *diag);

/* To buy or to run; a habit does neither. */
bool advising_costs_money(const struct ab_item *item);
const struct ab_price *advising_own_price(const struct advising *a, const char *id);   /* NULL = not told */
int advising_by_size(const void *a, const void *b);   /* of doubles, for qsort */
double advising_batches_per_year(const struct advising *a);   /* 10 where not told */

/* When did change u come into force at this brewery: index of the first case brewed with it, n_cases if
 * never. Noted in a journal, or in the profile: then the first batch brewed on its day or later, of its line when
 * it names one. A trial (adopted="no") is not kept. */
size_t advising_adopted(const struct advising *a, int change);
/* Was the first batch that tells of it brewed with it? Such a change has no before. */
bool advising_from_the_first(const struct advising *a, size_t change);
/* Is a change that is in force so in most of today's brewing? One for all beers is. */
bool advising_for_most(const struct advising *a, const char *id);
/* Which batch was brewed with which change. */
enum ab_status advising_forces(struct advising *a, struct ab_diag *diag);

/* The share of a cause that the rules say a change takes away, under these facts: of its rows whose
 * conditions hold the last; 0 if none. */
bool advising_replayable(const struct advising *a, const struct ab_change *c, size_t cause,
    const struct ab_fact *facts);
double advising_rated(const struct ab_change *change, size_t cause, const struct ab_fact *facts);

/* Out of memory, said once. Returns AB_ENOMEM. */
enum ab_status advising_nomem(struct ab_diag *diag);


#endif
