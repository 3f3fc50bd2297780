/* brute.h - small networks solved by enumeration in 128-bit floats, and random networks to try them on
 *
 * Nothing here shares a formula with the solver: it works with distribution functions of the maximum and with plain
 * subtraction, which 113 bits of mantissa can afford.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TESTS_BRUTE_H
#define TESTS_BRUTE_H

#include <stdint.h>
#include <afterboil/network.h>

enum { BRUTE_CAUSES = 128, BRUTE_FAULTS = 64, BRUTE_LINKS = 2048, BRUTE_ENUM = 12 };

/* A network that owns its arrays. */
struct brute_net {
	struct ab_net net;
	double log_odds[BRUTE_CAUSES];
	struct ab_link_to links[BRUTE_LINKS];
	struct ab_tail leak[BRUTE_FAULTS];
	struct ab_finding finding[BRUTE_FAULTS];
};

struct brute_answer {
	double present[BRUTE_CAUSES], blame[BRUTE_CAUSES];
	double log_evidence;                /* -INFINITY when impossible */
	double pattern[1 << BRUTE_ENUM];    /* P(on/off pattern | evidence), bit i = cause i */
	double best;                        /* the largest of them */
};

/* At most BRUTE_ENUM causes. */
void brute_solve(const struct ab_net *net, struct brute_answer *answer);

/* P(at least one cause of the set, a bit each, pushed a found fault to its grade | evidence). */
double brute_blame_any(const struct ab_net *net, unsigned set);

/* P(evidence) by going through every level of every contributor, for networks of at most 9 contributions. */
double brute_levels(const struct ab_net *net);

/* A seeded stream of numbers in [0, 1). */
double brute_random(uint64_t *state);

enum brute_kind { BRUTE_MILD, BRUTE_STRONG, BRUTE_MIXED, BRUTE_KINDS };

/* Every found fault can be given. MILD: links .2-.8, leak .02, prior .1. STRONG: links .95-.9999, leak 1e-6, prior
 * 1e-3. MIXED: both at once, grades, absent faults, gates, links without a step at the observed grade, equal
 * causes. */
void brute_make(
    struct brute_net *b, uint64_t seed, enum brute_kind kind, size_t n_causes, size_t n_faults, double density);

/* Adds what is needed to make b->net point at the arrays. */
void brute_bind(struct brute_net *b, size_t n_causes, size_t n_faults, size_t n_links);

#endif
