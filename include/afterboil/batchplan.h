/* batchplan.h - the batches of a folder over the brewer's days: which still ask for something, and what is next
 *
 * A batch with a journal is planned from what the journal shows (calendar.h). What a journal does not tell of the
 * plan (yeast, dry hops, packaging, grain or extract) is taken from the last brew of its line, then from the profile;
 * taken says which. The batches of a folder share the brewer's days: the oldest is laid first, and the minutes it takes
 * are gone for the next.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_BATCHPLAN_H
#define AFTERBOIL_BATCHPLAN_H

#include <afterboil/calendar.h>
#include <afterboil/priming.h>

/* A batch in whose journal nothing was written for so long is not waited for any more (estimate), nor one that was to
 * be brewed so long ago. */
enum { AB_PLAN_ASLEEP_DAYS = 180, AB_PLAN_NOT_BREWED_DAYS = 60 };

enum ab_taken { AB_TAKEN_NOWHERE, AB_TAKEN_BATCH, AB_TAKEN_LAST, AB_TAKEN_PROFILE, AB_TAKEN_TOLD };
/* A fact that decides which touches there are, and where it was taken from; never NOWHERE. Those of the yeast are not
 * among them: yeast_from tells. */
struct ab_taken_fact { int slot; double value; enum ab_taken from; };

struct ab_batchplan_asked {
	const struct ab_knowledge *k;
	const struct ab_profile *profile;             /* NULL: none */
	struct ab_batch *const *batches; size_t n;    /* of the folder, in order of brewing */
	struct ab_days *days;                         /* what a plan takes of them is put into used */
	const char *yeast;                            /* a class told otherwise; NULL */
	double drink_s;                               /* the day it is wanted; NAN */
	const double *elsewhere; /* calendar.h; set by ab_batchplan_unfinished, from one plan to the next */
};

struct ab_batchplan {
	const struct ab_batch *batch;                 /* NULL: a brew that has no journal yet */
	const struct ab_batch *last;                  /* the brew of its line before it; NULL */
	const struct ab_yeast_norm *yeast;
	enum ab_taken yeast_from;                     /* NOWHERE: the first class of the rules is assumed */
	struct ab_taken_fact *taken; size_t n_taken;
	double newest_s;                              /* day of the newest record; NAN without a journal */
	struct ab_priming priming; /* of one that is begun and still to be packaged; else NOT_ASKED */
	struct ab_calendar *calendar;
};

/* The plan of one batch, or (batch NULL) of the next brew after last (NULL: of nothing known). AB_EUSAGE: yeast is no
 * class of the rules. Else as ab_calendar_make. */
enum ab_status ab_batchplan_make(const struct ab_batchplan_asked *asked, const struct ab_batch *batch,
    const struct ab_batch *last, struct ab_arena *arena, struct ab_batchplan *out, struct ab_diag *diag);

/* Has it been pitched, or was anything done that comes after? */
bool ab_batchplan_begun(const struct ab_batch *batch);

/* Was nothing written of it for so long that nobody waits for it any more? today_s: -INFINITY = not known. */
bool ab_batchplan_asleep(const struct ab_batch *batch, double today_s);

/* What is to be done now with a beer that is too warm for its yeast in its first days (calendar.h:
 * ab_shown_too_warm): the touch that its plan has then. NULL: it is not, or nothing is to be done. Of asked, k,
 * profile, batches and yeast count. */
const struct ab_touch *ab_batchplan_too_warm(
    const struct ab_batchplan_asked *asked, const struct ab_batch *batch, double today_s);

/* Plans of those of the chosen batches (n_chosen; all of the folder when chosen is NULL) that still ask for
 * something. The day wanted is kept for those not begun, and for one that was chosen alone. Out: plans, oldest
 * first; asleep (may be NULL) the batches that were left out because nothing was written for long. Errors as
 * ab_batchplan_make. */
enum ab_status ab_batchplan_unfinished(const struct ab_batchplan_asked *asked, const struct ab_batch *const *chosen,
    size_t n_chosen, struct ab_arena *arena, struct ab_batchplan **plans, size_t *n_plans,
    const struct ab_batch **asleep, size_t *n_asleep, struct ab_diag *diag);

/* The newest brew of the batch's line that is older than it (not of the same wort); NULL. */
const struct ab_batch *ab_batchplan_last(struct ab_batch *const *batches, size_t n, const struct ab_batch *batch);

/* ---- the next touch of a folder ---- */

/* One thing to do. day_s: midnight of the day it is laid on (an overdue one: the first day with time for it); latest_s:
 * the last day it may or could wait. */
struct ab_touch_due {
	const struct ab_batch *batch;
	const struct ab_touch *touch;
	double day_s, latest_s;
	bool overdue;
	const struct ab_touch *chore;                 /* what prepares it, to be done on the same day before it; NULL */
	double supposed_s; /* as in calendar.h: pitched on that evening, if nobody is wrong */
	const struct ab_priming *priming;             /* when it is the packaging, or its readings fall or
	                                               * hang; else NULL */
	const char *tell;                             /* what to type when it is done; NULL */
	double since_s; /* it is due since this day, before today, whichever day it is laid on; 0: not */
};
enum { AB_TOUCH_OVERDUE = 8 };
/* Of one batch: the first of all it asks for, what is overdue before what is not, of one day what may wait the
 * least, and nothing before that on which it hangs; then what comes behind one that is overdue (touch NULL: none);
 * and the tasting it is made for (touch NULL: behind it). */
struct ab_batch_due { struct ab_touch_due next, goal, then; enum ab_calendar_fit fit; };
struct ab_touch_next {
	bool known;                                   /* false: no batch asks for anything */
	struct ab_touch_due next;                     /* the first of all that is not overdue; touch NULL: none */
	struct ab_touch_due overdue[AB_TOUCH_OVERDUE]; size_t n_overdue;   /* of the first so many batches */
	struct ab_batch_due *of; size_t n_of;         /* each batch that asks for something, oldest first */
	double brew_s; /* the first free day of the profile on which a brew day fits beside all
			* this; 0: it tells no free days, or none does */
};
/* What is to do next in a folder, and what is overdue, on the days of the profile. today_s: now, wall clock
 * as in when.h; what is past of today cannot be used. Errors as ab_batchplan_make, and AB_EINPUT when the days of
 * the profile are none. */
enum ab_status ab_touch_next(const struct ab_knowledge *k, const struct ab_profile *profile,
    struct ab_batch *const *batches, size_t n, double today_s, struct ab_arena *arena, struct ab_touch_next *out,
    struct ab_diag *diag);

/* The days of a profile (NULL: every day free) from first_s on. free: read its <week free=>, too. told: it names some.
 * AB_EINPUT with the profile's line. */
enum ab_status ab_days_of_profile(const struct ab_profile *profile, double first_s, bool free, struct ab_days *days,
    bool *told, struct ab_diag *diag);

#endif
