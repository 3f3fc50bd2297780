/* load.c - the flaw load of a batch: how bad, in one number
 *
 * The sum over found faults of severity x grade x what the fault weighs in this family; a trait the beer is
 * meant to have adds nothing. The range is what tasters one step of intensity stricter or milder would have
 * written (estimate: repeated tastings of trained panels scatter by about a step).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <assert.h>
#include <math.h>

static const double STEP = 1, STRONGEST = 5, FAINTEST = 0.5;

/* Fainter than FAINTEST is what a stricter taster would not have written down at all. */
static double load_of(const struct ab_knowledge *k, const struct ab_case *c, int fault, double intensity)
{
	int family = c->evidence.family, grade = ab_grade_of_intensity(fmin(intensity, STRONGEST));
	assert(fault >= 0 && (size_t)fault < k->n_faults);
	if (intensity < FAINTEST || ab_fault_expected(k, c->facts, family, fault, grade))
		return 0;
	return k->faults[fault].severity * grade * ab_family_factor(k, family, fault);
}

void case_load(const struct ab_knowledge *k, struct ab_case *c)
{
	/* NAN, not 0: a beer nobody tasted is not a good beer, and a mean over batches must leave it out. */
	c->load = c->load_low = c->load_high = c->tasted ? 0 : (double)NAN;
	for (int i = 0; i < (int)k->n_faults; i++) {
		double intensity = c->fault_intensity[i];
		if (!(intensity > 0))
			continue;
		c->fault_load[i] = load_of(k, c, i, intensity);
		c->load += c->fault_load[i];
		c->load_low += load_of(k, c, i, intensity - STEP);
		c->load_high += load_of(k, c, i, intensity + STEP);
	}
}
