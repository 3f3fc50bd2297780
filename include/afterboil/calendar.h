/* calendar.h - a batch laid out over a brewer's days: every touch, its minutes, and what may wait
 *
 * The touches and their windows come from the rules (rules/touches.xml), the pace from earlier brews of the same
 * beer where their gravities were measured, else from the class of yeast; which touches there are (a keg's line, a
 * dry hop) from the facts of the last brew or the profile. The days are laid out by schedule.h, exactly. Dates
 * are local midnights, seconds since 1970 on the wall clock, as in when.h. No clock is read: day 0 of the days is
 * today, or the first day there may be something to do.
 *
 * A batch that runs: what its journal shows as done (ab_shown_read) is left out, what hangs on that is due from the
 * day it was done, and what should have been done and was not is overdue. Which batches those are, and what is taken
 * from where, is batchplan.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_CALENDAR_H
#define AFTERBOIL_CALENDAR_H

#include <afterboil/curve.h>
#include <afterboil/facts.h>
#include <afterboil/knowledge.h>
#include <afterboil/schedule.h>

enum { AB_CALENDAR_DAYS = 800 };

/* A day: the brewer is at home with little time, is free, or is away. */
enum ab_day_kind { AB_DAY_HOME, AB_DAY_FREE, AB_DAY_AWAY };
struct ab_days {
	double first_s;                    /* midnight of day 0 */
	enum ab_day_kind day[AB_CALENDAR_DAYS];
	int free_minutes, home_minutes;    /* of a free day, of any other at home */
	bool evenings; /* those of a free day are a part of it: its evening has home_minutes besides */
	double free_hour, home_hour;       /* of the day at which they begin; NAN: not told */
	double own_hour[AB_CALENDAR_DAYS]; /* of a free day that was told with its hour; NAN: free_hour */
	double now_hour;                   /* of day 0, before which nothing can be laid; NAN: any */
	int used[AB_CALENDAR_DAYS]; /* minutes that are promised already, to other batches; and of such evenings */
	int used_evening[AB_CALENDAR_DAYS];
};

/* All AB_DAY_FREE from that day on. */
void ab_days_start(struct ab_days *days, double first_s, int free_minutes, int home_minutes);
/* The hour at which the time of day i begins; NAN: not told. And: does every free day have one of its own? */
double ab_days_begin(const struct ab_days *days, int i);
bool ab_days_hours_told(const struct ab_days *days);
/* Free days in words: "sat, sun", "tuesdays and weekends", "tue 19:00, sat morning", "every evening", "weeknights",
 * "2031-12-05", "mon to thu", "2031-12-05..2031-12-09", parted by commas, "+" or "and"; an hour or a part of the
 * day behind them is when such a day begins; "every other sat from 2031-12-06" those weeks only, of which that day
 * is the first; "not ..." takes days away again that were free by what stands before: "sat, sun, not every other
 * sat from 2031-12-06" is a rota. Days that are none of them and not away become AB_DAY_HOME when they were never
 * told before in these days (told = false), else stay. False: why says what was found and what is allowed; days
 * are then of no use. */
bool ab_days_free(struct ab_days *days, const char *text, bool told, char *why, size_t size);
/* The hour at which something of so many minutes begins on such a day: the one told, else 10:00 when the day is
 * free or the thing takes an hour or more, and 19:00 after work (working estimate). The one place that knows. */
double ab_day_begins(enum ab_day_kind kind, double told_hour, double minutes);
/* Day 0 is today and it is that hour: of its time only what comes after is left, and the minutes of an evening at
 * home in any case. To be called when all else is told. */
void ab_days_now(struct ab_days *days, double hour);
/* "20:30", "7:00" or "4" as an hour of the day; NAN when it is none. */
double ab_days_hour(const char *text);
/* Days away, "2031-07-01..2031-07-14" or one date, parted by commas; both ends are away. */
bool ab_days_away(struct ab_days *days, const char *text, char *why, size_t size);

/* Takes the minutes of what is to do off the days, for the next batch. */
struct ab_calendar;
void ab_days_take(struct ab_days *days, const struct ab_calendar *calendar);

/* What the journal of a batch shows as done, and when (ab_shown: the day of the first such record from a day on). */
struct ab_shown_of {
	const struct ab_batch *batch;
	const struct ab_norms *norms;      /* borrowed: its numbers say what is still, packaged, moved */
	double today_s, gravity_s, still_s; /* day of the last gravity, and of the first since which it has stood
					     * for three days; NAN. A gravity that is stuck (ferment.stalled) does
					     * not stand */
	double hops_due_s;                 /* the day hops are to come out by the contact told with them; NAN */
	double newest_s;                   /* of all records; of the brew date when there are none */
	double pitched_s;                  /* told, with its hour; NAN: nobody wrote it down */
	bool too_warm; /* by the newest temperature of its first days (ab_shown_too_warm; batchplan.h sets it) */
	double reused_s;                   /* the day its fermenter took another beer; NAN (batchplan.h sets it) */
};
/* facts: of this batch, or NULL when the gravity does not matter. today_s: a transfer planned for later shows no
 * hops out. */
void ab_shown_read(const struct ab_batch *batch, const struct ab_norms *norms, const struct ab_fact *facts,
    double today_s, struct ab_shown_of *out);
/* Was it warmer than high_c by more than a thermometer is out (AB_NUM_TOO_WARM_K) when it was last read, and no
 * more than AB_RUSH_DAYS ago pitched, on a day that was told? Later the warmth does little (common practice: most
 * of what a warm fermentation makes comes with the growth of the first three days). */
enum { AB_RUSH_DAYS = 3 };
bool ab_shown_too_warm(const struct ab_batch *batch, const struct ab_norms *norms, double today_s, double high_c);
/* Midnight of the day on which its record shows the touch done; NAN: none does from from_s on. What was done
 * without a date was done on from_s; what was done too early was done all the same, but a look, or a gravity that
 * still may fall. */
double ab_shown_day(const struct ab_shown_of *of, const struct ab_touch *touch, double from_s);
/* The same by a note of since_s or later that says so (knowledge.h: <word>, "done: " and its title); from_s, but
 * today at most, for one without its day. A note ticks its own touch only, and none that needs a record. */
double ab_shown_noted(const struct ab_shown_of *of, const struct ab_touch *touch, double since_s, double from_s);
/* The newest time any record of it tells, seconds; of the brew date when there are none. */
double ab_shown_newest(const struct ab_batch *batch);
/* Has it been pitched, or was anything done that comes after? */
bool ab_shown_begun(const struct ab_batch *batch);
/* Does the journal hold what is meant and nothing that happened, as "new" writes it: a recipe, notes, what yeast
 * and what fermenter? A change noted in it has begun. */
bool ab_shown_on_paper(const struct ab_batch *batch);

/* The pace of the yeast, in days: primary to final gravity and clean after it. brews: how many of the brewer's
 * own it was taken from; 0: the usual of the class. slow_primary: the slow end of it, which a deadline is reckoned
 * with. Own brews: two standard deviations above the mean; else NAN, and the rules' factor is used. own: by the
 * gravities of this very batch. tried: how many batches have gravities that bear no curve, refusal why the last of them
 * does not; others: how many of this beer have a curve, but by another yeast (0 where brews or tried are over 0). */
struct ab_calendar_pace {
	double primary, clean, slow_primary;
	size_t brews;
	bool own;
	size_t tried;
	enum ab_curve_refusal refusal;
	size_t others;
};
/* How long the fermentations of these batches took to one gravity point (0.25 deg P) above their end, by the curve
 * through their gravities (curve.h); those without a curve are left out. out: the norm's where none has one.
 * AB_ENOMEM. */
enum ab_status ab_calendar_pace_of(const struct ab_yeast_norm *norm, const struct ab_batch *const *batches, size_t n,
    const struct ab_profile *profile, const struct ab_norms *norms, struct ab_arena *arena,
    struct ab_calendar_pace *out, struct ab_diag *diag);

struct ab_calendar_asked {
	const struct ab_days *days;
	double drink_s;                    /* the day the beer is wanted; NAN: as soon as may be */
	const struct ab_shown_of *shown;   /* what its journal shows; NULL: nothing is done yet */
	double brew_s;                     /* the brew day is not before that; NAN or 0: any */
	struct ab_calendar_pace pace;
	const struct ab_fact *facts;       /* ab_fact_defs()->n: which touches there are */
	const double *elsewhere; /* of each touch of the rules that is shared: the day on which another batch has
				  * it, NAN = none has; NULL: none of all */
};

/* TO_DO; DONE: the journal shows it; MOOT: what it was for is over, or nobody writes it down and its time is past. */
enum ab_touch_state { AB_TOUCH_TO_DO, AB_TOUCH_DONE, AB_TOUCH_MOOT };
struct ab_calendar_touch {
	const struct ab_touch *touch;
	enum ab_touch_state state;
	bool overdue;                      /* it could not wait until day 0 */
	bool waiting; /* it could have been done before day 0 (due_s), but may wait: every day it is
		       * laid on is later than the one first told */
	int before;                        /* place in touches of what it prepares; -1 */
	const struct ab_takes *takes;
	const char *tell;                  /* what to type when it is done; NULL */
	const struct ab_due *due;          /* NULL for the first */
	int after;                         /* place in touches; -1: on nothing, or on what is done */
	double day_s, due_s, latest_s;     /* laid on, or done on; due from; may wait until (all before it on
	                                    * its day; a day that is wanted is still kept; what it prepares on
	                                    * its day) */
	bool pressed;                      /* the day is not free, or has less time than it takes */
	enum ab_day_kind day;                   /* what kind of day it fell on */
	double hour;                       /* of the day, by the rules; NAN = any */
	double from_hour;                  /* at which the time of such a day begins; NAN: not told */
	double now_hour;                   /* it cannot begin before; NAN: any hour */
	double supposed_s; /* it counts from a pitching of which nobody wrote the day: supposed to be the
			    * evening of this one, and nothing is overdue a day sooner than it must be; NAN */
};

/* How far the wishes were met: all; the day wanted cannot be kept, the earliest is shown; only with days that are
 * not free, only with days away (pressed tells which). NONE: not even so within AB_CALENDAR_DAYS. */
enum ab_calendar_fit { AB_FIT_ALL, AB_FIT_LATER, AB_FIT_PRESSED, AB_FIT_AWAY, AB_FIT_NONE };

struct ab_calendar {
	enum ab_calendar_fit fit;
	struct ab_calendar_touch *touches; size_t n;   /* still to do, in order of days */
	struct ab_calendar_touch *past; size_t n_past; /* done or moot, in the order of the rules */
	bool begun;                        /* the first of them is past */
	size_t n_overdue;
	double ready_s, drink_s;           /* first tasting (NAN: was done); the day wanted, NAN */
	double minutes, low, high;         /* of all touches to do */
	double upkeep_minutes;             /* of those that are cleaning */
	size_t quiet;                      /* the longest stretch alone ends with this touch, of those up to
	                                    * packaging; n when there is none */
	double quiet_s;                    /* it begins on this day */
	int quiet_days, quiet_most_days;   /* and lasts so long; the touch may wait until then */
	struct ab_calendar_pace pace;
	bool slow;                         /* the slow end of the pace was reckoned with */
	/* AB_FIT_LATER: days that, were they free as well, would keep the day wanted; 0 = none would. */
	double *wanted_s; size_t n_wanted;
};

/* What is to be done first of all that is overdue (or is not), its place in touches; n: nothing. Of one day what
 * may wait the least, and nothing before that on which it hangs; a chore (upkeep) that prepares a step of the same
 * day does not come before that step: chore is then its place, else -1 (NULL: not wanted). */
size_t ab_calendar_first(const struct ab_calendar *calendar, bool overdue, int *chore);

/* AB_EINPUT: the rules have no touches. AB_EUSAGE: the day wanted is outside the days. AB_ELIMIT as
 * ab_schedule_solve. AB_ENOMEM. */
enum ab_status ab_calendar_make(const struct ab_knowledge *k, const struct ab_calendar_asked *asked,
    struct ab_arena *arena, struct ab_calendar **out, struct ab_diag *diag);

#endif
