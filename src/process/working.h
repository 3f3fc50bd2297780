/* working.h - what the files of this room share: the batch at hand, what is told in it, and how a fact is set
 *
 * A fact rests on records. A basis collects them: the worst origin, whether anything of them it needs is a guess, and
 * the journal lines. A rough figure makes a guess of the facts that need it, guess="yes" of all that need the record.
 * What a record of the batch does not tell is looked for in the profile's usual batch; then the origin
 * is AB_ORIGIN_USUAL and no line is given (it would be one of another file).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_WORKING_H
#define AB_PROCESS_WORKING_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <afterboil/curve.h>
#include <afterboil/fact.h>
#include <afterboil/facts.h>
#include <afterboil/heat.h>
#include <afterboil/journal.h>
#include <afterboil/profile.h>
#include "process/series.h"
#include "process/slots.h"

/* bound: of one of its numbers only this side is told (field.h). */
struct ab_basis { enum ab_origin origin; bool guess; unsigned char bound; size_t n; long lines[AB_FACT_LINES]; };

/* One field as told: words as their place from 0, yes/no as 1/0. */
struct ab_told { bool known; double v, resolution; struct ab_basis basis; };

/* How warm the beer was where nobody measured it, held by a control or reconstructed from the room: mean of
 * the first days, mean and peak of the fermentation, and where it settles afterwards. */
struct ab_level {
	bool known, untraced;                        /* untraced: early, mean, peak and their u only come
	                                              * with ab_level */
	double early, early_u, mean, mean_u, peak, peak_u, after;
	char grade;
	const char *how;
	struct ab_basis basis;
};

/* What a keg's pressure is reckoned from (kegs.c). shut: volumes in the beer when it was shut in, the pressure over it,
 * gauge as at sea level, and how warm; made: volumes that what ferments yet will add to a cylinder's; asleep: what the
 * cold keeps back of it; let_off: what a valve lets off; regulator: on it, gauge, -infinity none; valve: NAN none; own:
 * nobody tells of a cylinder or sugar, so its gas is at least what is reckoned; gassed_vol: what such a keg holds if a
 * cylinder gave the usual besides, NAN: it is not thought of. */
struct ab_keg_gas {
	double shut_vol, shut_kpa, shut_c, made, asleep, let_off, regulator_kpa, valve_kpa, gassed_vol;
	bool own;
};

struct ab_work {
	const struct ab_batch *batch, *usual;        /* usual NULL when there is none */
	const struct ab_profile *profile;            /* or NULL */
	const struct ab_norms *norms;
	struct ab_arena *arena;
	struct ab_fact *facts;
	bool short_of_memory, bare;                  /* bare: no workings are wanted */
	const struct ab_as_if *as_if;                /* facts that stand as they are, whatever the journal
	                                              * says (facts.h) */
	size_t n_as_if;
	const struct ab_yeast_norm *yeast;           /* of the first yeast of a known class, or NULL */
	const struct ab_yeast_norm *stand_in;        /* where yeast is NULL and nothing is planned: what bottles are
	                                              * judged by, for safety; or NULL */
	struct ab_basis yeast_basis;
	struct ab_told volume;                       /* of the batch, L */
	/* The readings that tell a gravity or an instrument; a thermometer that notes by itself leaves hundreds of
	 * others, which need not be walked again. Use AB_EACH_SAMPLE below. */
	const struct ab_reading **samples; size_t n_samples;
	const struct ab_reading *at_pitching;        /* the first of the beer's warmth within an hour of it, or NULL */
	double pitched_s;                            /* what hours count from */
	double packaged_h;                           /* hours from pitching to packaging; NAN unknown */
	double tasted_after_h;                       /* from packaging to the last tasting; NAN unknown, as where
	                                              * a tasting tells no day */
	double found_h;                              /* from pitching to the last dated tasting that found anything;
	                                              * where none did, to the last dated one */
	double found_after_h;                        /* from packaging to such a one, also where no day is told */
	struct ab_series beer, room, gravity;        /* C, C, SG: measured values over time */
	struct ab_basis beer_basis, room_basis, gravity_basis;
	double beer_width, room_width;   /* the widest range told for a temperature (as a resolution), 0: none */
	struct ab_curve_of gravity_curve;            /* refused until ab_facts_curve */
	struct ab_level level;
	struct { struct ab_told room; int control; double early_h, end_h; } tracing;   /* of an untraced level */
	struct ab_heat_of heat;                      /* n == 0: nothing was reconstructed */
	double expected_fg, expected_fg_u;           /* SG; NAN unknown */
	double safe_fg, safe_fg_u;                   /* by stand_in where expected_fg is unknown; NAN else */
	struct ab_basis expected_basis;
	const char *expected_how;
	bool expected_by_class;                      /* from the yeast class, not from the recipe */
	bool expected_by_test;                       /* where a forced sample ended */
	double last_gravity_h;                       /* of gravity.last; NAN untold */
	struct ab_keg_gas keg;
	double half_h, final_h;                      /* half of the attenuation reached; fermentation over
	                                              * (NAN unknown) */
};

/* for (AB_EACH_SAMPLE(r, w)) ... r, a const struct ab_reading * */
#define AB_EACH_SAMPLE(r, w) \
	const struct ab_reading *r, *const *r##_at = (w)->samples, \
	    *const *r##_end = r##_at == NULL ? NULL : r##_at + (w)->n_samples; \
	r##_at != r##_end && (r = *r##_at, true); r##_at++

/* Where a field stands. size 0: batch holds a pointer to the record at `at`, else a list of records of that
 * size. */
enum ab_field_kind { AB_FIELD_NUM, AB_FIELD_WORD, AB_FIELD_YESNO };
enum ab_field_how {
	AB_TAKE_FIRST, AB_TAKE_LAST,          /* of the records that tell it */
	AB_TAKE_LARGEST, AB_TAKE_SMALLEST,    /* for yes/no: yes if any is; no if any is */
};
struct ab_plain {
	int slot;
	enum ab_field_kind kind;
	size_t at, size, field;
	double factor;                        /* from the unit kept to the fact's unit */
	enum ab_field_how how;
};

#define AB_ONE(slot, kind, record, member, factor) \
	{ slot, kind, offsetof(struct ab_batch, record), 0, offsetof(struct ab_##record, member), factor, \
	    AB_TAKE_FIRST }
#define AB_MANY(slot, kind, list, type, member, factor, how) \
	{ slot, kind, offsetof(struct ab_batch, list), sizeof(struct type), offsetof(struct type, member), \
	    factor, how }

/* Looks a field up, in the batch and then in the usual. */
struct ab_told ab_look(const struct ab_work *w, const struct ab_plain *row);
#define AB_LOOK_ONE(w, kind, record, member, factor) \
	ab_look(w, &(const struct ab_plain)AB_ONE(0, kind, record, member, factor))
#define AB_LOOK_MANY(w, kind, list, type, member, factor, how) \
	ab_look(w, &(const struct ab_plain)AB_MANY(0, kind, list, type, member, factor, how))
/* Sets the facts of all rows that are told. */
void ab_set_plain(struct ab_work *w, const struct ab_plain *rows, size_t n);

/* Sets a fact as read: origin measured or usual, u from the resolution (a digit's step / sqrt 12), widened
 * for a guess. Of a bound its working says what it was taken for. */
void ab_set_told(struct ab_work *w, int slot, const struct ab_told *told);
/* Sets a derived fact, unless value is not finite. What is reckoned from a bound is a guess, and its working says so.
 * The working's format knows %s, %d, %.Nf and %%, and no locale. fmt may be NULL. */
void ab_set(struct ab_work *w, int slot, const struct ab_basis *basis, double value, double u, char grade,
    const char *fmt, ...)
	__attribute__((format(printf, 7, 8)));

/* The ending of "readings" for so many. */
#define AB_S(n) ((n) == 1 ? "" : "s")

/* An empty basis: origin derived, nothing collected. */
struct ab_basis ab_basis_new(void);
/* On words, times and answers of a record; and on a number of it, where that is told. */
void ab_rest_on(struct ab_basis *basis, const struct ab_mark *mark, bool usual);
void ab_rest_on_num(struct ab_basis *basis, const struct ab_mark *mark, const struct ab_num *num, bool usual);
/* A number as told, for what may hurt: of "under 150 g" the 150, of "over 20 L" the 20: it may have been so. */
double ab_num_at_most(const struct ab_num *num);
double ab_num_at_least(const struct ab_num *num);
/* A number that is known of a record, by factor from the unit kept. */
struct ab_told ab_told_num(const struct ab_mark *mark, const struct ab_num *num, double factor, bool usual);
void ab_rest_on_basis(struct ab_basis *basis, const struct ab_basis *other);
void ab_rest_on_fact(struct ab_basis *basis, const struct ab_fact *fact);

/* Value and u of a fact that is known; false otherwise. */
bool ab_known(const struct ab_work *w, int slot);
double ab_value(const struct ab_work *w, int slot);
/* 1 + place of a word fact, 0 unknown: what the enums of the word lists use. */
int ab_word(const struct ab_work *w, int slot);
/* Whether a fact was given "as if": records that tell it otherwise do not count then. */
bool ab_is_as_if(const struct ab_work *w, int slot);
/* Hours from pitching; NAN when unknown. As ab_batch_since_pitch has it, which is asked only once. */
static inline double ab_hours(const struct ab_work *w, const struct ab_when *when)
{
	return !when->known ? AB_NAN : (when->relative ? when->s : when->s - w->pitched_s) / 3600;
}

/* Hours from packaging, which may be told where neither day is; NAN when unknown. */
static inline double ab_packaged_hours(const struct ab_work *w, const struct ab_when *when)
{
	return !when->known && when->packaged ? when->s / 3600 : ab_hours(w, when) - w->packaged_h;
}

/* Was it not told to be of the fermenter or of the day of packaging? */
bool ab_is_of_finished(const struct ab_tasting *t);

/* Step of a reading as a standard uncertainty; a guess is at least at_least wide. Of a number of a record; of one as
 * told. */
double ab_reading_u(double resolution, bool guess, double at_least);
double ab_num_u(const struct ab_mark *mark, const struct ab_num *num, double at_least);
double ab_told_u(const struct ab_told *told, double at_least);

/* What the brewer's thermometer is known to show too much, K (0 when nothing is known); the basis then rests
 * on that record too, and what is put right by it is more than something where the error is less. resolution: of it. */
double ab_thermometer_off(const struct ab_work *w, struct ab_basis *basis, double *resolution);
/* A temperature told, put right by it. */
void ab_put_right(const struct ab_work *w, struct ab_told *temp);

/* Volumes wanted where nobody tells (common practice). */
#define AB_PRIMING_USUAL_VOL 2.4
/* The air's pressure at the profile's altitude, atm; sea level where nobody tells (saturation.c). */
double ab_air_atm(const struct ab_work *w);
/* Sugar and fruit that went into fermenting beer (latesugar.c): when the last did, hours (-infinity: none; infinite:
 * nobody told), and what came after a gravity that was read, in points that will ferment; uncounted: of something
 * nobody told how much. Less than AB_LATE_LEAST (a pinch of spice) makes no beer unfinished: an eighth of a volume,
 * within what is never known better (estimate). */
#define AB_LATE_LEAST 0.25
struct ab_late { double last_h, points, u; bool untold, uncounted; struct ab_basis basis; };
struct ab_late ab_late_sugar(const struct ab_work *w, double after_h);
const char *ab_late_says(const struct ab_late *late);
/* Hours from then to the packaging without those of a cold crash, 0 at least; not finite where either is not told. */
double ab_warm_h(const struct ab_work *w, double from_h);
/* Points of it that a beer nobody read still holds when it is packaged, where such a wort takes so many days. */
double ab_late_left(const struct ab_work *w, double pace_days);
/* What the beer held of its own gas where it was at most so warm since it fermented, volumes (heldgas.c). u: of the
 * pressure alone. */
double ab_held_vol(const struct ab_work *w, double warmest_c, double *u);
/* When a pressure ended, seconds from pitching: as told, or when the next was set; infinite while it stands. Those
 * without a time stand in their order (heldgas.c). */
double ab_spund_ended_s(const struct ab_batch *b, const struct ab_spund *s);
/* What the rules know of such a package (pressure.c): into and bottle are words, 0 untold; NULL: nothing. Its limit,
 * kPa over the air's, by pressure or volumes at 20 C; 0: none is known. */
const struct ab_bottle_norm *ab_bottle_norm_of(const struct ab_norms *norms, int into, int bottle);
double ab_bottle_limit_kpa(const struct ab_bottle_norm *norm);
/* The hottest storage met or told, else assumed; u and what it rests on (pressure.c). */
double ab_hottest_storage(const struct ab_work *w, double *u, struct ab_basis *basis);

/* The same of a keg, which where nobody tells otherwise stands as cold as its gas was set for. */
double ab_keg_warmth(const struct ab_work *w, double *u, struct ab_basis *basis);

/* w->level with all its figures: measured beers seldom need them, and the model behind them takes long. */
const struct ab_level *ab_level(struct ab_work *w);

/* Computes all facts of w->batch into w->facts, w->as_if before everything else. */
void ab_facts_walk(struct ab_work *w);
/* As far as this phenomenon, for who wants no more; NULL: all. */
void ab_facts_walk_to(struct ab_work *w, void (*last)(struct ab_work *));

/* The phenomena, in the order they are computed. */
void ab_gather(struct ab_work *w);               /* yeast class, volume, times, and the three series */
void ab_facts_recipe(struct ab_work *w);
void ab_facts_chill(struct ab_work *w);
void ab_facts_water(struct ab_work *w);
void ab_facts_attenuation(struct ab_work *w);
void ab_facts_curve(struct ab_work *w);          /* after attenuation; the better half attenuation is the
						  * curve's */
void ab_facts_dms(struct ab_work *w);
void ab_facts_temperature(struct ab_work *w);
void ab_facts_cleanup(struct ab_work *w);
void ab_facts_growth(struct ab_work *w);
void ab_facts_light(struct ab_work *w);
void ab_facts_pitch(struct ab_work *w);
void ab_facts_saturation(struct ab_work *w);
void ab_facts_lag(struct ab_work *w);
void ab_facts_vessel(struct ab_work *w);
void ab_facts_transfer(struct ab_work *w);
void ab_facts_heldgas(struct ab_work *w);
void ab_facts_dryhop(struct ab_work *w);
void ab_facts_hygiene(struct ab_work *w);
void ab_facts_packaging(struct ab_work *w);
void ab_facts_in_package(struct ab_work *w);     /* after priming's rate, before its gas: priming.c calls it */
void ab_facts_priming(struct ab_work *w);
void ab_facts_pressure(struct ab_work *w);       /* after the gas: priming.c calls it */
void ab_facts_storage(struct ab_work *w);
void ab_facts_oxygen(struct ab_work *w);
void ab_facts_staling(struct ab_work *w);
void ab_facts_serving(struct ab_work *w);
void ab_facts_tasting(struct ab_work *w);
void ab_facts_scores(struct ab_work *w);
void ab_facts_looks(struct ab_work *w);

#endif
