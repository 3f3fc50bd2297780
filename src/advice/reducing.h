/* reducing.h - a planning problem less its decided parts, on its way to the model (planning.h)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_REDUCING_H
#define AB_ADVICE_REDUCING_H

#include "advice/planning.h"

/* Reduction in progress: which changes stay, and where causes and changes go. A plan of the smaller
 * problem is a plan of the whole: only what no preferred plan could hold is dropped. Each change
 * dropped can halve the search. */
struct plan_reduction {
	const struct ab_problem *problem;
	int keep_axis;
	bool stays[AB_PLAN_CHANGES], owned[AB_PLAN_CHANGES];
	int change_at[AB_PLAN_CHANGES], cause_at[AB_PLAN_CAUSES];
	double load[AB_PLAN_CAUSES];
};

/* An effect of the problem, or a place in one of its tables, as an edge to be. */
struct plan_place { int cause, change, effect; double share; unsigned bit; };

/* The place k of plan_places(): effects first, then the places of the tables, one after the other. */
struct plan_place plan_place_at(const struct ab_problem *p, size_t k);
/* -1: in none. */
int plan_group_of(const struct ab_problem *p, size_t u);
/* problem and keep_axis are given, the rest is filled. Returns how many changes stay; n_causes: how many
 * causes they touch, n_edges: at how many places. */
size_t plan_reduce(struct plan_reduction *r, size_t *n_causes, size_t *n_edges);

bool plan_has_arc(const struct plan_model *m, int change, int needs);
/* Adds to the arcs of a model that has its needs: what outdoes a change comes before it. */
void plan_order_copies(struct plan_model *m);

#endif
