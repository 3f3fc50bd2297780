/* questions.h - one brewer being asked, and the orders in which to ask
 *
 * run_questions.c draws the brewers, asks and counts; questions_orders.c has what can be asked, and which is asked
 * next.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TEST_QUESTIONS_H
#define AB_TEST_QUESTIONS_H

#include <gsl/gsl_rng.h>

#include <afterboil/casework.h>

#include "brewers.h"
#include "hidden.h"

enum { MOST = 20, ORDERS = 4, QUESTIONS_MAX = 400 };
enum { OURS, PRINTED, CHEAP, ANY };

struct world {
	const char *name, *title;
	enum tasting tasting;
	struct shift shift;
	double dont_know, wrong;    /* shares of answers */
	size_t brewers;
};

/* What was counted for one brewer and order. */
struct count { double questions, effort, to_lead; bool found, right[MOST + 1]; };

struct run {
	const struct ab_knowledge *k;
	struct hidden *hidden;
	struct ab_fact **journal; size_t n_journals;
	gsl_rng *rng;
	struct ab_net_scratch *scratch;
	const struct world *world;
	struct count *count[ORDERS]; size_t n;
	bool *can_be_asked;         /* by slot */
	size_t found; /* brewers with a fault found and a cause to blame; n of them are found when all is told */
};

/* A question is a fact (slot) or a check; the other is -1. */
struct question { int slot, check; };

/* One brewer being asked. */
struct asked {
	struct run *run;
	struct ab_arena *arena;
	const struct brew *brew;
	const struct ab_fact *truth;
	const signed char *outcome;           /* of each check */
	const bool *dont_know, *wrong;        /* by slot, then by check: the same for every order */
	const double *other;                  /* the wrong value */
	struct ab_fact *facts;                /* told so far */
	signed char *checks;
	bool *done;                           /* by slot, then by check */
	struct question list[QUESTIONS_MAX]; size_t n_list;   /* an order fixed beforehand */
};

/* In the arena; both end the program where memory is short. */
void *questions_room(struct ab_arena *arena, size_t n, size_t size);
_Noreturn void questions_give_up(const char *what, const char *why);

/* By slot, then by check. */
size_t questions_place(const struct run *run, struct question q);
/* A fact that is only reckoned comes with the plainer one in whose name its own begins: early-mean-over with
 * early-mean. */
bool questions_come_with(const struct ab_fact_table *facts, size_t slot, size_t asked);
/* Fills run->can_be_asked. */
void questions_find_askable(struct run *run);
/* In minutes, as the program counts it. */
double questions_effort(const struct run *run, struct question q);

/* The best of the program's own list that was not asked before; the next of the list fixed beforehand. False: no
 * more. */
bool questions_ours(const struct asked *a, const struct ab_diagnosis *d, struct question *q);
bool questions_listed(const struct asked *a, struct question *q);
/* Fix that list: all that can be asked, in any order; or that of print (by what decides most, or most for its
 * effort). */
void questions_list_any(struct asked *a);
void questions_list_printed(struct asked *a, bool cheap);

#endif
