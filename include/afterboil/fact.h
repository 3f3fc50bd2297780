/* fact.h - named, typed quantities: what the rules speak about
 *
 * A fact is what could be learned from a journal about one named quantity: "ferment.early-mean-over = 3.1 K,
 * derived". The list of facts there are (struct ab_fact_table) is handed to whoever resolves names;
 * conditions and signs then hold slots (places in the table), never names.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_FACT_H
#define AFTERBOIL_FACT_H

#include <stdbool.h>
#include <stddef.h>

enum ab_fact_kind {
	AB_FACT_NUMBER,  /* value in the unit of the definition */
	AB_FACT_FLAG,    /* value 0 no, 1 yes */
	AB_FACT_WORD,    /* value = place in words, 0 upward */
};

struct ab_fact_def {
	const char *name;            /* "ferment.early-mean-over": lower case, dots and hyphens */
	enum ab_fact_kind kind;
	const char *unit;            /* "K", "h", "d", "points", "share", ... ; "" for flags and words */
	const char *const *words;    /* NULL-terminated, for words */
	double lo, hi;               /* plausible range of a number: rules outside it are refused by the
	                              * lint */
	const char *title;           /* "mean temperature over the yeast's range, first 72 h" */
	const char *asks;            /* the question that would make it known, or NULL:
	                              * "How warm was the beer in the first three days?" */
	double minutes;              /* effort of finding out, minutes; 0 = only remembering */
	bool lasting; /* can still be found out of a batch that is long in the glass: kit, habits, what a recipe
		       * or a bottle that is left tells; not what was so on the day and nobody wrote down */
};

struct ab_fact_table { const struct ab_fact_def *defs; size_t n; };

/* Slot of a name, or -1. */
int ab_fact_slot(const struct ab_fact_table *table, const char *name);
/* Place of word in def's words, or -1; "yes" and "no" for flags. */
int ab_fact_word(const struct ab_fact_def *def, const char *word);

enum ab_origin {
	AB_ORIGIN_UNKNOWN,   /* not known: value means nothing */
	AB_ORIGIN_MEASURED,  /* read off the journal as written */
	AB_ORIGIN_DERIVED,   /* computed from what is written */
	AB_ORIGIN_USUAL,     /* from the profile's usual habits */
	AB_ORIGIN_ASSUMED,   /* a default of the model */
};

/* How many times as wide as a reading a guess is at least (estimate). */
enum { AB_GUESS_WIDENS = 3 };

enum { AB_FACT_LINES = 6 };

struct ab_fact {
	enum ab_origin origin;
	double value;
	double u;                  /* standard uncertainty, same unit; 0 for flags and words */
	bool guess;                /* rests on something marked as a guess */
	char grade;                /* trust of the formula: 'A', 'B', 'C' (rule of thumb); 0 = plain
	                            * reading */
	long lines[AB_FACT_LINES]; /* journal lines it came from, 0-terminated unless full */
	const char *working;       /* "24.1 C mean of 5 readings to 72 h, minus 20 C, the top of the clean-ale
	                            * range"; NULL = none */
};

#define AB_FACT_KNOWN(f) ((f)->origin != AB_ORIGIN_UNKNOWN)

/* What a yeast class is, as numbers (rules/yeasts.xml; read by the knowledge room, used by the process
 * room). */
struct ab_yeast_norm {
	const char *id, *title, *source;
	double low_c, high_c;            /* recommended */
	double tolerated_low_c, tolerated_high_c;
	double att_low, att_high;        /* apparent attenuation, shares */
	double pitch_rate;               /* 1e6 cells per mL and degree Plato */
	double rest_c;                   /* warm enough for a diacetyl rest */
	double primary_days, clean_days; /* usual days to final gravity; days more on the yeast for
	                                  * clean-up */
	double lag_h;                    /* longest lag that is still usual */
	bool phenolic, diastatic, lager, sulphury, flocculent, fruity;
	bool stands_in;   /* for a yeast of no told class, where bottles may burst */
};

/* What a sanitiser or a bottle is, as numbers (rules/kit.xml); word = place in the journal's list (of bottles in
 * ab_words_kit, the other packages after them), from 0. */
struct ab_sanitiser_norm {
	int word;
	double contact_s, max_mix_age_d;
	double heat_c;           /* where heat does it: how hot for contact_s; 0 else */
	bool no_rinse;
	const char *source;
};
/* tell_kpa: where no limit is known, or not of all such packages, from this pressure on it is said that nobody can
 * judge it (0: never); says: what is told beside it, NULL: nothing. */
struct ab_bottle_norm {
	int word;
	double limit_vol, limit_kpa;
	const char *source;
	double tell_kpa;
	const char *says, *care;
};

/* What dose of oxygen times days at 20 C (mg d/L) a style family bears until it fades, is stale, is long
 * stale (rules/families.xml); by place in ab_words_family. fading 0: nothing is known of it. */
struct ab_freshness_norm { double fading, stale, long_stale; const char *source; };

/* Volumes of gas usual for a family (rules/families.xml), by place in ab_words_family. */
struct ab_co2_norm { double low, high; };

/* Numbers of the trade that stand alone (rules/numbers.xml, which says what each is and where it is from). Units:
 * _D days, _K kelvin, _POINTS gravity points; the missed ones are chances, 0 to 1. */
enum ab_number {
	AB_NUM_STILL_D,           /* at one gravity: a beer that stood so long stands still */
	AB_NUM_SLOW_STILL_D,      /* the same of a yeast that goes on slowly */
	AB_NUM_HANGS_POINTS,      /* beer further over its expected end than this hangs */
	AB_NUM_HUNG_STILL_D,      /* having stood for so long, it counts as done after all */
	AB_NUM_FIRST_PACKAGED_D,  /* after brewing: no beer is packaged or tasted before */
	AB_NUM_TASTED_PACKAGED_D, /* after brewing: a tasting is of packaged beer, where nothing tells */
	AB_NUM_MOVED_D,           /* after packaging: bottles put elsewhere are put there to stay */
	AB_NUM_TOO_WARM_K,        /* less over what a yeast bears may be the thermometer */
	AB_NUM_YOUNG_D,           /* after a tasting: young flavours are waited for */
	AB_NUM_BOTTLES_D,         /* after brewing: bottles are thought to be about */
	AB_NUM_TOGETHER_D,        /* tastings further apart tell of time too and are not compared */
	AB_NUM_MISSED_JUDGED,     /* one taster misses a fault that is there: judged absent */
	AB_NUM_MISSED_UNSAID,     /* ... not spoken of, though all was considered */
	AB_NUM_MISSED_PLAIN,      /* both times this in a beer of one malt and one hop */
	/* Of a grist told without its weights: what share a part of it usually is, and how far from that it may be
	 * (standard uncertainty). In pairs. */
	AB_NUM_PILSNER_SHARE,
	AB_NUM_PILSNER_SHARE_U,
	AB_NUM_ROASTED_SHARE,
	AB_NUM_ROASTED_SHARE_U,
	AB_NUM_SMOKED_SHARE,
	AB_NUM_SMOKED_SHARE_U,
	AB_NUM_SUGAR_SHARE,
	AB_NUM_SUGAR_SHARE_U,
	AB_NUM_EXTRACT_SHARE,
	AB_NUM_EXTRACT_SHARE_U,
	AB_NUM_BESIDE_SHARE,
	AB_NUM_BESIDE_SHARE_U,
	AB_NUM_KIT_G,       /* what a hopped kit of untold weight weighs, and how far from that it may be */
	AB_NUM_KIT_G_U,
	AB_NUM_GONE_ANYWAY, /* share of faults that are not there the next time though nothing was done against them
			     */
	AB_NUM_DONE_RIGHT,  /* how much of what a remedy takes away it takes as home brewers carry it out */
	AB_NUMBERS
};

/* All norms the process room needs. Arrays borrowed. */
struct ab_norms {
	const struct ab_yeast_norm *yeasts; size_t n_yeasts;
	const struct ab_sanitiser_norm *sanitisers; size_t n_sanitisers;
	const struct ab_bottle_norm *bottles; size_t n_bottles;
	const struct ab_freshness_norm *freshness; size_t n_freshness;
	const struct ab_co2_norm *carbonation; size_t n_carbonation;
	double numbers[AB_NUMBERS];   /* rules that a program reads have them all; 0 = not told (a lone file) */
	/* The fault a tasting word means, as its place in the rules, or -1; NULL: words are compared as
	 * written. */
	int (*fault_of)(const void *vocabulary, const char *word);
	const void *vocabulary;
};

#endif
