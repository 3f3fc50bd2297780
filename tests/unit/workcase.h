/* workcase.h - a batch on the rules of the project, tasted and worked; for tests of the casework
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_WORKCASE_H
#define AB_TESTS_WORKCASE_H

#include "casework/casework.h"

/* The batch of the test, its facts (all unknown), and where all that lives. */
struct work_case {
	const struct ab_knowledge *k;
	struct ab_arena *arena;
	struct ab_diag diag;
	struct ab_batch *batch;
	struct ab_fact *facts;
};
extern struct work_case wc;

/* wc_read_rules and rules_drop once for all (unchecked fixtures), the others for each test. */
void wc_read_rules(void);
void wc_set_up(void);
void wc_tear_down(void);

/* A sheet: "taster day panel complete: fault=intensity fault=absent". Pointers into the list move, so it is filled
 * at once. */
struct wc_sheet { const char *by; double day, panel; int complete; struct { const char *fault;
    double intensity; } said[3]; };

/* One thing more in a list, in the arena of the test. */
void *wc_push(struct ab_list *list, size_t size);
/* One tasting more of the batch. */
void wc_taste(const struct wc_sheet *sheet);
/* What all of them come to of the fault. */
struct ab_finding wc_evidence_of(const char *fault, const struct ab_profile *profile);
/* The batch through the whole pipe; with the usual options. */
struct ab_case *wc_work(const struct ab_diagnose_options *options);
struct ab_case *wc_plainly(void);
/* The case knows that fact from now on. */
void wc_know(struct ab_case *c, const char *fact, double value);

#endif
