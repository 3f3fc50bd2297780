/* asks.h - what asks.c and asks_questions.c share while they weigh what to look at or ask next
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_DIAGNOSIS_ASKS_H
#define AB_DIAGNOSIS_ASKS_H

#include <afterboil/checks.h>
#include "diagnosis/build.h"

struct asking {
	struct job *job;
	struct built b;            /* solved a hundred times: without leaks of their own, absent faults weighed */
	struct ab_fact *facts;     /* a copy to put answers into */
	struct ab_ask *asks;
	size_t n;
};

/* What it tells, in bits. */
double asks_bits(const struct asking *g, const struct ab_worth *w);
/* The questions that promise most into unknown, which has room for a fact each. AB_ENOMEM, or what the network says. */
enum ab_status asks_weigh_questions(struct asking *g, struct ab_ask *unknown, size_t *n_unknown);

#endif
