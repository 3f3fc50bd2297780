/* panel.h - can anyone taste the difference? Blind difference tests, exact
 *
 * Triangle (three cups, two alike: which is the odd one; ISO 4120), duo-trio (a reference and two cups: which
 * is the reference; ISO 10399), pair (two cups: which has more of something named beforehand; ISO 5495, one-
 * sided) and preference (two cups: which do you like better; two-sided). Who cannot tell guesses right once
 * in three, or once in two, so the number of right answers is binomial, and every figure here is exact.
 *
 * Taste trials by the same person count alike under pure guessing, so p holds for few tasters with several
 * rounds each too; what `share` says is then about rounds, not people.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_PANEL_H
#define AFTERBOIL_PANEL_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>

enum ab_panel_test { AB_PANEL_TRIANGLE, AB_PANEL_DUO_TRIO, AB_PANEL_PAIR, AB_PANEL_PREFERENCE, AB_PANEL_TESTS };
extern const char *const ab_panel_words[];   /* triangle duo-trio pair preference; NULL-terminated */

enum {
	AB_PANEL_MOST = 1000,    /* tastings that may be counted in one test */
	AB_PANEL_SERVED = 120,   /* tastings a serving order is made for */
	AB_PANEL_SHARES = 3,
	AB_PANEL_LEVELS = 3
};
/* What a share of tasters who can truly tell is called: ISO 4120 calls up to 25 % small, up to 35 % medium,
 * more large. Of a preference: how many more of 100 prefer one than the other. */
extern const double ab_panel_shares[AB_PANEL_SHARES];   /* 0.25, 0.35, 0.5 */
extern const double ab_panel_levels[AB_PANEL_LEVELS];   /* 0.1, 0.05, 0.01 : chance of a false alarm */

/* Chance that a guess is right: 1/3 or 1/2. */
double ab_panel_guess(enum ab_panel_test test);

/* Chance that pure guessing gives at least so many right of n (right <= n). A preference: that it gives a
 * split at least as uneven, either way (the tail doubled, at most 1). */
double ab_panel_p(enum ab_panel_test test, size_t right, size_t n);

/* The fewest right answers of n whose p is at most level; SIZE_MAX when even n of n is not enough. Of a
 * preference: the fewest on the side that has more. */
size_t ab_panel_least(enum ab_panel_test test, size_t n, double level);

/* Chance that n tastings reach ab_panel_least when a share (0..1) of the tasters can truly tell and the
 * others guess; 0 when it cannot be reached. Of a preference: when share more prefer the one than the
 * other. */
double ab_panel_power(enum ab_panel_test test, size_t n, double level, double share);

/* The fewest tastings whose power is at least power (0..1, below 1); 0 when AB_PANEL_MOST are too few. */
size_t ab_panel_tasters(enum ab_panel_test test, double level, double share, double power);

/* How likely is it that there is a difference at all, with even odds beforehand and, if there is one, every
 * share of tasters who can tell held equally likely; and that share, if so: mean and 80 % credible range. Of
 * a preference: any split equally likely; share = how many more of all prefer the one with more votes, low
 * may be below 0. n >= 1. Closed forms (incomplete beta); checked against numerical integration by R. */
struct ab_panel_belief { double difference, share, low, high; };
void ab_panel_believe(enum ab_panel_test test, size_t right, size_t n, struct ab_panel_belief *out);

/* One taster's cups in the order served: A and B are the two beers; of a duo-trio the first is the
 * reference, named as such. odd = place of the right answer, from 0; -1 where there is none (pair,
 * preference). code = what is written on the cup, 3 digits, another on each of one taster's cups; 0 on the
 * reference. */
struct ab_serving { char beer[4]; int cups, odd, code[3]; };

/* A serving order for n tasters. Every order of cups comes equally often (6 of a triangle, 4 of a duo-trio, 2
 * of a pair), in blocks shuffled from the seed, so that position tells nothing; of a block that is cut short,
 * none comes twice. The same seed gives the same order on every machine. n from 1 to AB_PANEL_SERVED.
 * AB_EUSAGE, AB_ENOMEM. */
enum ab_status ab_panel_serve(enum ab_panel_test test, size_t n, unsigned long seed, struct ab_arena *arena,
    struct ab_serving **out, struct ab_diag *diag);

/* All of it for one question, for a report. */
struct ab_panel {
	enum ab_panel_test test;
	size_t n;                                       /* tastings; 0 = how many are needed? */
	bool tasted; size_t right;
	double p;                                       /* NAN unless tasted */
	size_t least[AB_PANEL_LEVELS];                  /* of n */
	double power[AB_PANEL_SHARES];                  /* of n, at level 0.05 */
	size_t needed[AB_PANEL_SHARES];                 /* tastings for power 0.8 at level 0.05 */
	struct ab_panel_belief belief;                  /* when tasted */
	struct ab_serving *servings; size_t n_servings; /* when not tasted yet and n <= AB_PANEL_SERVED */
	unsigned long seed;
};

/* AB_EUSAGE: more right than tastings, more tastings than AB_PANEL_MOST. right is read when tasted. */
enum ab_status ab_panel_work(enum ab_panel_test test, size_t n, bool tasted, size_t right,
    unsigned long seed, struct ab_arena *arena, struct ab_panel **out, struct ab_diag *diag);

#endif
