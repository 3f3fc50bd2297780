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

/* What a sanitiser or a bottle is, as numbers (rules/kit.xml); word = place in the journal's list (of bottles in ab_words_kit, the other
 * packages after them), from 0. */
struct ab_sanitiser_norm {
	int word;
	double contact_s, max_mix_age_d;
	double heat_c;           /* where heat does it: how hot for contact_s; 0 else */
	bool no_rinse;
	const char *source;
};
/* tell_kpa: where no limit is known, or not of all such packages, from this pressure on it is said that nobody can judge it (0: never);
 * says: what is told beside it, NULL: nothing. */
struct ab_bottle_norm { int word; double limit_vol, limit_kpa; const char *source; double tell_kpa; const char *says; };

/* What dose of oxygen times days at 20 C (mg d/L) a style family bears until it fades, is stale, is long
 * stale (rules/families.xml); by place in ab_words_family. fading 0: nothing is known of it. */
struct ab_freshness_norm { double fading, stale, long_stale; const char *source; };

/* Volumes of gas usual for a family (rules/families.xml), by place in ab_words_family. */
struct ab_co2_norm { double low, high; };

/* All norms the process room needs. Arrays borrowed. */
struct ab_norms {
	const struct ab_yeast_norm *yeasts; size_t n_yeasts;
	const struct ab_sanitiser_norm *sanitisers; size_t n_sanitisers;
	const struct ab_bottle_norm *bottles; size_t n_bottles;
	const struct ab_freshness_norm *freshness; size_t n_freshness;
	const struct ab_co2_norm *carbonation; size_t n_carbonation;
	/* The fault a tasting word means, as its place in the rules, or -1; NULL: words are compared as
	 * written. */
	int (*fault_of)(const void *vocabulary, const char *word);
	const void *vocabulary;
};

#endif
