/* insidecase.h - advice taken apart: its steps one after the other, for tests that look at what stands between them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TEST_INSIDECASE_H
#define AB_TEST_INSIDECASE_H

#include <gsl/gsl_rng.h>

#include "advice/advising.h"
#include "advicecase.h"

/* All steps up to the order of buying, on these rules, with the brewery's cases, profile and options (family is not
 * looked at). In the brewery's arena; inside_close drops the rest. Fails the test when a step fails. */
void inside_open(struct advising *a, struct brewery *b, const struct ab_knowledge *k);
void inside_close(struct advising *a);

/* A generator of which the first `open` numbers are those of mt19937 and the rest 0: of 0 a normal draw is 0. */
gsl_rng *inside_rng(unsigned long seed, unsigned long open);
/* How many numbers of mt19937 it has given. */
unsigned long inside_rng_given(const gsl_rng *rng);
void inside_rng_free(gsl_rng *rng);

/* A batch of which this fault was found, at level 2, diagnosed on the brewery's rules; load: what it weighs. */
void inside_found(struct brewery *b, struct ab_case *c, int fault, double load);

/* As if all the rules tell had been measured: nothing of it is drawn again. */
void inside_measured(const struct ab_knowledge *k);

#endif
