/* compare.h - two brews side by side: what differed in the process, and what in the glass
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_COMPARE_H
#define AFTERBOIL_COMPARE_H

#include <afterboil/casework.h>

/* A fact known of both that differs: flags and words at all, numbers by more than twice what both may be off
 * by together. */
struct ab_compare_fact {
	int slot;
	/* how much it matters: one batch's value in the other's place moves the chance of causes before tasting by
	 * so much, summed over causes, those first that are blamed in either. Both ways are tried and the one that
	 * moves more counts: beside another sign of the same measurement an exchange one way may show nothing. */
	double blamed, any;
	int cause;               /* the cause it moves most; -1 when it moves none */
	double p_a, p_b;         /* that cause's chance before tasting, with the first's value and the other's */
};
struct ab_compare_fault { int fault; double a, b; };   /* intensity found, 0 = not; load apart is most first */
struct ab_compare_cause { int cause; double a, b; };   /* blame */

struct ab_comparison {
	const struct ab_case *a, *b;
	struct ab_compare_fact *facts; size_t n_facts;    /* what matters most first */
	struct ab_compare_fault *faults; size_t n_faults; /* found in either; furthest apart by load first */
	struct ab_compare_cause *causes; size_t n_causes; /* blame apart by a tenth or more, most first */
	struct ab_compare_fact *untold;
	size_t n_untold;         /* known of one only, and it would matter: so much it moves to know it. The
				  * same order; p_a, p_b: with what is known of each */
	size_t same, one_sided;  /* facts known of both that agree; known of one only */
};

/* Both worked under the same rules. AB_ENOMEM. */
enum ab_status ab_compare(const struct ab_knowledge *k, const struct ab_case *a, const struct ab_case *b,
    struct ab_arena *arena, struct ab_comparison **out, struct ab_diag *diag);

#endif
