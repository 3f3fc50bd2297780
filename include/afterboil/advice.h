/* advice.h - what to do differently, or buy, with this much money and time
 *
 * For each cause: how likely it is to strike the next batch, learned from this brewer's own batches (decayed
 * mean of what is believed of them in the light of all, together.h, shrunk to the prior by a beta-binomial, kept
 * apart before and after adopted changes, noted in a journal or as <changed> in the profile). For each change: what
 * it would have done, by replay of this brewer's batches through the physics where the facts it sets are known,
 * else by the rated share of the rules. Sets of changes are replayed together; the best set under the limits is
 * found and proven (plan.h), narrowed to a livable plan by named steps (policy.h), with its frontier, its buying
 * order, and how firmly each item stays. What came of the changes that were made is learned from the batches brewed
 * without and with them (held.h) and moves what is expected of them from then on. Each batch counts once in each of
 * two figures, and these are never multiplied for the same brewing: how often a cause strikes now, with all that is
 * in force (the batches since the last change, on a prior less its share as it was expected, not as it was
 * learned); and the share a change takes, for ranking it, for a plan that would take it up (again), and to be
 * shown. A trouble the profile names (profile.h) weighs as several batches that had it and nothing else; what acts
 * on it comes first, and what is owned, not said to be in use and would help is put to use. With the profile's goal
 * "time" the plan is chosen and ordered by the minutes it saves instead; figures of load are then what such a plan
 * brings on its way, gap is 0, and there is no frontier.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_ADVICE_H
#define AFTERBOIL_ADVICE_H

#include <afterboil/casework.h>
#include <afterboil/nextstep.h>
#include <afterboil/plan.h>
#include <afterboil/policy.h>

/* Told after each redraw: done of all. The library itself reads no clock and shows nothing. */
struct ab_progress { void (*step)(void *ctx, size_t done, size_t of); void *ctx; };

struct ab_advice_options {
	double budget;            /* money up front; NAN = from the profile, else no limit (the policy then stops
	                           * at what is enough) */
	double minutes;           /* extra minutes a batch that may be spent; NAN = from the profile, else no
	                           * limit */
	double away_hours;        /* the longest nobody is at home while a beer ferments; NAN = from the profile,
	                           * else 0: somebody always is */
	double horizon_years;     /* over which running cost is counted; NAN = profile, else 1 */
	double running;           /* limit of running cost over the horizon; NAN = profile's per-year money,
	                           * else as much a year as the budget, and no limit without one */
	size_t changes;           /* at most so many new habits (changes that cost no money) at once:
	                           * attention is scarce too; 0 = as the policy says */
	size_t brews; /* so many brews are still to come, and each begins one change at most; 0 = as many as the
		       * profile brews within the horizon, else no limit */
	const struct ab_policy *policy;   /* NULL = ab_policy_usual */
	const char *family;       /* advise for this family only (word), or NULL: its own batches tell what a
	                           * change would do, all tell how often causes strike; where none is of it,
	                           * all are taken as if they had been */
	size_t redraws;           /* for `stays`; 0 = none */
	unsigned long seed;
	size_t threads; /* that may draw side by side, the caller's among them; 0 or 1 = the caller's alone. The
			 * figures are the same with any number */
	const struct ab_progress *progress;   /* NULL = nobody asks; told in the caller's thread */
	const struct ab_touch_next *touches;   /* of the folder, for the next steps; NULL = not known */
	const struct ab_next_kept *kept; size_t n_kept;   /* of changes of the profile, for the next steps */
	struct ab_when today;     /* for the next steps (nextstep.h); unknown = as the journals tell */
};

/* figure from this brewer's own batches; from the rules' rated share; some of each; from this brewer's facts
 * without the batches behind them, so that what is reckoned from a moved fact fell silent */
enum ab_basis { AB_BASIS_REPLAY, AB_BASIS_RATED, AB_BASIS_MIXED, AB_BASIS_FACTS };

/* The limits of a brewer. A sum (of the brews one a change) limits a plan, the last four single changes. */
enum ab_limit {
	AB_LIMIT_MONEY,
	AB_LIMIT_RUNNING,
	AB_LIMIT_MINUTES,
	AB_LIMIT_BREWS,
	AB_LIMIT_AWAY,
	AB_LIMIT_ROOM,
	AB_LIMIT_NOISE,
	AB_LIMIT_FUMES,
	AB_LIMITS
};
extern const char *const ab_limit_words[AB_LIMITS];   /* money now, running cost, ... */

/* What a limit costs: how much more the best plan would remove were this limit alone lifted (0 where it does
 * not bind), and the change (place in k->changes) that brings most of what then comes in; -1 = none. */
struct ab_left_out { double more; int change; };

/* What came of a change that was made, for one cause it should prevent. The prior is what the rules and the replay
 * of the batches without it expect, worth AB_HELD_SHARE_BATCHES strikes (estimate); the data are how much likelier
 * what was seen and tasted of each batch is with the cause in it than without. A batch with the change tells of how
 * it works today with a chance of 0.85 for each batch since, one without it of what it is held against with as much
 * for each batch between it and the next with it (estimate), else of nothing. Of a change made for some beers only,
 * batches of those beers tell. That the brewer gets better or worse by and by is allowed for (held.h); few: with so
 * few batches it cannot be told from what the change did. Other changes that were made are taken at the shares
 * believed of them. proved: nothing yet (the share moved by less than 0.05); failed (it lost a third or more);
 * less; as promised or better (policy by estimate). */
enum ab_proved { AB_PROVED_NOTHING, AB_PROVED_FAILED, AB_PROVED_LESS, AB_PROVED_GOOD };
struct ab_tried {
	int change, cause;
	double prior, share, sd;  /* share expected; believed now, and its standard deviation */
	size_t without, with;     /* batches in which the cause could be, of the newest AB_HELD_MOST */
	double struck, came;      /* the cause was in so many without it, and in so many with it, by all that was seen
	                           * and tasted of them: the counts of held.h with nothing faded, other changes left
	                           * aside */
	double since_s;           /* when the first batch with it was brewed */
	bool kept;                /* in force; false: a trial */
	int together;             /* another change that came with the same batches, so that the two cannot be
	                           * told apart; -1 = none */
	enum ab_proved proved;
	bool few;                 /* batches: less than AB_HELD_DRIFT_LEAST */
};
extern const char *const ab_proved_words[];   /* "did not hold as promised" ... */

/* Batches are looked at together (together.h): what the newest one with a fault was blamed on by itself, and on
 * what in the light of all batches, where that is another cause and the first lost a third or more of the blame it
 * had. change: made before against the first, in force in that batch (place in k->changes); -1 = none. */
struct ab_turned {
	bool told;                /* false: there is nothing to tell, and the rest means nothing */
	const char *batch;
	int first, now;           /* causes */
	double first_alone, first_now, now_alone, now_now;   /* their blame, by itself and in the light of all */
	int change;
};

/* the reason chain fault - cause - change, by load removed per batch. tasted: the brewer has found that fault in a
 * batch as a flaw, or named it as a trouble; else it is feared only. gone: tasted once, and after a change against
 * a cause of it that is kept not in the newest batch of that line any more. named: in the profile, and in no batch */
struct ab_because { int fault, cause; double load; bool tasted, gone, named; };

/* Where the profile does not say (estimate). */
enum { AB_BATCHES_A_YEAR = 10 };

struct ab_item {
	int change;
	const char *care; /* what to take care of in place of the change's own caution, since it holds of most of
			   * the batches (<caution-when>); NULL: that caution. Read by ab_item_caution */
	double cost, running_cost, minutes;      /* up front; per year; a batch */
	double gain;              /* flaw load removed per batch by this change alone */
	double joint_gain;        /* what it adds by joint replay to those before it in buying order (for
	                           * items of the plan): they sum to load_before - load_after */
	enum ab_basis basis;
	double stays; /* share of redraws whose best plan holds it; NAN when not redrawn. A redraw is a world in
		       * which every estimate has moved by its own step, once however often it is used: priors,
		       * signs, strengths, leaks, rated shares and what changes are meant to reach, prices and
		       * minutes (not those the brewer told), what was learned of changes (by its sd), how far the
		       * rules' loads are believed; the batches (the newest 24) are diagnosed again in it, loads
		       * and the shares of sets reckoned again, and the plan solved exactly. The same seed draws
		       * the same worlds of the same batches, whatever limits are asked in them. What is open to the
		       * plan is as the policy left it; how heavily a fault weighs is a judgement and stays */
	double place_stays; /* share of redraws whose best plan holds it or another of its group or that it
			     * excludes: that something in its place belongs there, be it this one or not. No less
			     * than stays; NAN with it */
	/* of the plan: it acts on the trouble told; without one on what was tasted and is still there: it adds a third
	 * of what the best that may be chosen takes of that, and a twentieth of all of it (estimates). Such items come
	 * first */
	bool answers;
	bool in_best;             /* in the best plan within the limits, whatever the policy says */
	bool chosen, owned, unused;   /* unused: owned but not used: costs nothing to start */
	const char *have;         /* by a thing that stands there: "you have a tub"; NULL = by none. cost is what is
	                           * left; where that is nothing of what costs something else, unused is told too */
	bool learned;             /* gain moved by what came of it in own batches */
	const struct ab_changed *begun;   /* noted in the profile, and no batch brewed with it yet: what it costs
	                                   * up front is spent. NULL = not */
	const char *barred;       /* why it may not be chosen, or NULL */
	const struct ab_change *in_place;   /* what is owned and does it already; NULL: that is not why it is barred */
	unsigned limits;          /* bits of enum ab_limit: which of them bar it by themselves */
	struct ab_because *because; size_t n_because;   /* strongest three */
};
/* What it takes off as a reader is told: of the plan what it adds, else what it does alone. */
static inline double ab_item_brings(const struct ab_item *item)
{
	return item->chosen ? item->joint_gain : item->gain;
}

/* The one estimate whose truth would change the plan most: how much a cause costs (change -1), or how much of
 * it a change takes away, among the highest or the lowest fifth of what the redraws make of it. There `take` would
 * stand in the plan and `drop` would not (places in k->changes; -1 = none), and the plan as it is falls short by
 * regret on average, all other estimates being as uncertain as they are. Unknown when no single one moves the plan
 * by what one could taste (2 % of the load), or with fewer than 50 redraws. */
struct ab_pivot { bool known, higher; int cause, change, take, drop; double regret; };

/* What doing a check on the newest batch that disappointed, or finding out a fact of it that its journal does not
 * tell, is worth before choosing: load per batch that the best plans removed more, on average over its answers, if
 * one waited for the answer (plan.h, ab_plan_informed; what changes do to a cause is as now, how much each cause
 * costs follows the answer). Of the MOST_AHEAD most telling checks, and of as many facts that can still be found
 * out (ab_fact_def.lasting), the one worth most per effort, those that are `first` before others. A fact's two
 * answers are those of the diagnosis (ab_ask.answer; yes [0] is the first), its chance by the leading cause
 * (checks.h); the signs speak for that batch alone, though a habit would tell of more: its worth is rather more.
 * The plans compared are the best under the limits and the policy's number of habits; with no limit of money told,
 * with what the plan costs. take and drop: of what costs money, the heaviest that a yes [0] or a no [1] brings in
 * or puts out, beside the plan without an answer; -1 = nothing. bought: what the purchases of the plan bring by
 * joint replay. first: to be told before anything is bought, for an answer changes what to buy by something one
 * could taste, or its worth is more than what buying now brings. */
enum { MOST_AHEAD = 4 };
struct ab_ahead {
	struct ab_ask *ask;
	const struct ab_batch *batch;
	double p_yes, worth, bought;
	int take[2], drop[2];
	bool first;
};

/* prior, batches counted (decayed), their mean, the posterior; flaw load per batch by the rules alone (a
 * trained taster's), and as expected for this brewer: what own tastings laid at its door, mixed with the
 * rules' figure brought down to what home brewers report */
struct ab_recurrence { int cause; double prior, data_weight, observed, p, expected, load; };

/* a point of the frontier, by joint replay: load = what is left; chosen: by change of the rules, 1 = in it, free
 * habits too */
/* cost: all the money over the horizon, to buy and to run. */
struct ab_step { double cost, removed, load; const unsigned char *chosen; };

/* Of the plan the dearest purchase that fewer than half of the redraws' best plans hold (`without`, a place in
 * items), where a plan of the frontier without it costs less and takes off at least policy.enough of what the plan
 * does (`step`, a place there: the best of those that keep at least what it costs in the purse, else the cheapest),
 * and in more than half of the redraws no less than it but for policy.thrift of the load. better: in which share of
 * them it does less by more than that. saves: money over the horizon, to buy and to run. Not known: there is none,
 * or nothing was redrawn. It is not begun with then, as long as the plan or the cheaper one has anything else to
 * begin with. */
struct ab_cheaper { bool known; int without, step; double saves, better; };

/* What eases a burden that the profile names (knowledge.h, chores): what may be had within the limits by itself,
 * and is not there yet. What takes the place of what failed first (anew: it may be owned); then what is free; then
 * by worth, which is the share, of what costs money a share per money over the horizon. Shares are of that burden
 * and of no flaw load. Not part of the plan and its sums. */
struct ab_eased_by { int item; double share, worth; bool free, anew; };
struct ab_easing { int chore; struct ab_eased_by *by; size_t n; };

struct ab_advice {
	double budget, minutes, horizon_years, running;   /* limits used; INFINITY = none; running over the
	                                                   * whole horizon */
	bool running_told;        /* its limit; else it follows the budget */
	double away_hours;
	size_t changes;
	double brews;             /* still to come, one change with each; INFINITY = not told */
	const char *currency;
	double room_c;                           /* of the profile, else of the newest batch that tells it; NAN */
	size_t n_batches;
	double newest_s;                         /* the day of the newest of them; NAN without any */
	double load_before, load_after;          /* expected flaw load per batch from all causes, now and with
	                                          * the plan, by joint replay where possible */
	double flawless_before, flawless_after;  /* chance of a batch without a noticeable flaw */
	double best;                             /* what the best plan within the limits would remove, by
	                                          * joint replay */
	double gap;                              /* certified: no plan removes more than this beyond `best` */
	double given_up[AB_POLICY_STEPS];        /* what the policy leaves of it on purpose: best = their sum +
	                                          * load_before - load_after */
	struct ab_item *items; size_t n_items;   /* all changes, ranked by gain per cost with habits first */
	/* Place in items of what to begin with, one change at a time; -1 = nothing. Of the plan what adds most,
	 * purchases weighed by policy.bought, and at equal worth (policy.equal) what acts on a fault that was tasted;
	 * against one that is gone only where there is nothing else; of what answers a trouble told what takes most of
	 * it by itself, weighed so; with the goal time the first of the plan. Where that is a purchase, and a free
	 * change that only it keeps out of the plan (one group) brings by itself no less than it does weighed so: that
	 * free one, to be tried first, unless ten times the price was told to be there. Where it is cheaper.without:
	 * the heaviest besides it of both plans */
	int next;
	int stands_for;                          /* that purchase, a place in items; -1 = next is of the plan */
	int until; /* that free change, where next is the purchase all the same: it helps out until
		    * that is there; -1 = none */
	const struct ab_easing *next_eases; /* of easings: what next and after ease, where no beer has anything
					     * wrong that the plan acts on, or the goal is time; next need not be of
					     * the plan then. NULL = none */
	struct ab_easing *easings; size_t n_easings;   /* of chores named, in the profile's order; n of one may be 0 */
	struct ab_cheaper cheaper;
	int after;                               /* the same among what is not begun yet */
	struct ab_next_step *steps; size_t n_steps;   /* what to do now, next and then: nextstep.h */
	int *plan; size_t n_plan;                /* places in items, in buying order: habits first, then cold
	                                          * side, then by gain per money */
	struct ab_left_out left_out[AB_LIMITS];
	struct ab_turned turned;
	bool unsettled; /* the batches together came to no rest in the rounds there were: rougher than usual */
	struct ab_tried *tried; size_t n_tried;  /* by change, most to learn from first; of one change the cause that
	                                          * would have cost most first */
	struct ab_step *frontier; size_t n_frontier;
	struct ab_recurrence *recurrences; size_t n_recurrences;   /* heaviest first */
	double regret, regret_high; /* what the plan falls short of the best when every
				     * estimate is redrawn: load per batch, mean and 90 in 100; where prices or
				     * minutes turn out beyond the limits, what can be had of it in its order.
				     * NAN when not redrawn */
	struct ab_pivot pivot;
	double minutes_added, running_added;
	double enough;            /* smallest sum (cost of a step) that gets 80 % of what any money gets */
	bool hot_side;            /* most of the expected load comes from hot-side causes: say so */
	bool buy_nothing;         /* the best plan buys nothing */
	const char *reason;       /* one paragraph in plain words: why this plan, or why none */
	struct ab_ask *first_check;   /* a check worth doing before spending, or NULL: where `next` costs money that
	                               * of ahead, if it comes first, else one of a cause that the item acts on */
	struct ab_ahead ahead;        /* ask = NULL: no check or fact at hand, or none would change what to do */
};

/* cases: this brewer's batches in order of brew date, worked with `present` at least; one that is dated ahead of
 * options' today (dated.h) counts for nothing and is told in the steps. profile may be NULL.
 * n_cases may be 0 (priors only: said so in reason).
 * AB_EINPUT when the limits are infeasible, or for a trouble that is no fault, cause or chore of the rules; AB_EUSAGE
 * for a family that is none; AB_ENOMEM. */
enum ab_status ab_advise(const struct ab_knowledge *k, struct ab_case *const *cases, size_t n_cases,
    const struct ab_profile *profile, const struct ab_advice_options *options, struct ab_arena *arena,
    struct ab_advice **out, struct ab_diag *diag);

/* What changes would have done to one batch, from its facts alone: p (n_causes, may be NULL) gets each cause's
 * probability before tasting with what the changes set, scratch the facts. Facts reckoned from a moved one
 * become unknown. Returns how many of the facts they set were known and moved. changes: places in k->changes,
 * applied together. */
size_t ab_replay(const struct ab_knowledge *k, const struct ab_fact *facts, const int *changes,
    size_t n_changes, struct ab_fact *scratch, double *p);

/* The same with the batch at hand: the physics is run again as if the moved facts were so (facts.h), and what
 * is reckoned from them follows. facts: as computed of this batch. The rules must speak of ab_fact_defs().
 * Working texts go to the arena. AB_ENOMEM. */
struct ab_replay_of { const struct ab_batch *batch; const struct ab_profile *profile; const struct ab_fact *facts; };
enum ab_status ab_replay_batch(const struct ab_knowledge *k, const struct ab_replay_of *of, const int *changes,
    size_t n_changes, struct ab_arena *arena, struct ab_fact *scratch, size_t *moved, struct ab_diag *diag);

/* What to take care of where this item's change is made, in the words for how most of the batches are packaged;
 * NULL: nothing. */
const char *ab_item_caution(const struct ab_knowledge *k, const struct ab_item *item);

#endif
