/* checks.h - which cheap test, or which question about the journal, would tell the most
 *
 * Worth is expected information in bits: the sum over causes of H(P(cause)) now, minus the same sum after the
 * outcome, averaged over the outcomes with their probabilities; H(p) = -p log2 p - (1 - p) log2 (1 - p).
 * `bits` measures *present*, `blame_bits` measures *blame* of the faults found by tasting (an outcome itself
 * is never blamed on anyone). Source: expected value of sample information (Lindley 1956, Ann. Math. Stat.
 * 27); for one cause it is the mutual information.
 *
 * A check is one more finding node with a false-alarm rate: P(yes | causes) = 1 - (1 - base) prod over active
 * causes (1 - yes_i). It is put into the network as found at grade 1 for yes, as absent with sensitivity
 * 1 for no, and solved exactly: bits >= 0.
 *
 * A question asks for a fact of the journal that is unknown. Its answer a or b multiplies the odds of each
 * cause by a known ratio; how likely each answer is must follow from the ratios themselves. For one cause c
 * with ratio h = P(a|c) / P(a|not c) > 1 and l = P(b|c) / P(b|not c) < 1: with P(a|not c) = q and P(b|not c)
 * = 1 - q the answers given c sum to h q + l (1 - q) = 1, so
 *     q = (1 - l) / (h - l),   P(a|c) = h q,   P(a) = P(c) h q + (1 - P(c)) q,
 * and the expected P(c) after the answer is P(c), as it must be. With several causes no one q serves all; the
 * leading cause (highest blame now, then present, among those one answer raises and the other lowers) sets q,
 * and the others are moved by their ratios. Their sum of bits can then come out slightly below zero and is
 * given as 0.
 *
 * Rules often state what one answer means and are silent about the other (h > 1, l = 1; a gate: h = 1, l = 0).
 * Silence cannot mean 1 exactly, or that one answer would never come; it means too little to be worth a rule.
 * It is weighed as a ratio of 0.7, or of 1/0.7 (estimate: the middle between 1 and 0.5, the weakest ratio of
 * the scale that rules are rated on). With no cause moved both ways such a one leads.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_CHECKS_H
#define AFTERBOIL_CHECKS_H

#include <stdbool.h>
#include <afterboil/network.h>

/* P(yes) grows with each active cause in the list. Arrays are borrowed; a cause stands at most once in a
 * list. */
struct ab_net_check {
	double base;         /* 0..1: P(yes) when none of the causes is active */
	size_t n;
	const int *cause;
	const double *yes;   /* 0..1 each */
};

/* Natural logarithms of the ratios, each -200..200, or -INFINITY where an answer rules the cause out. */
struct ab_net_question {
	size_t n;
	const int *cause;
	const double *log_ratio_a, *log_ratio_b;
};

/* What answer a (else b) adds to the log-odds of the cause at place i: its ratio, or what stands for a silence. */
double ab_question_step(const struct ab_net_question *q, size_t i, bool is_a);
/* P(answer a) by the leading cause, on these beliefs (by cause); false: the answers move every cause alike. */
bool ab_question_chance(const struct ab_net_question *q, const double *present, const double *blame, double *p_a);

struct ab_worth {
	double bits, blame_bits;   /* >= 0 */
	double p;                  /* P(yes), P(answer a) */
	bool weighed;              /* false: the network with it is too wide, or the answers move every cause
	                            * alike; bits are 0 */
};

/* Fills worth[0..n-1]. Time: two solves each, and one for all.
 * Errors of ab_net_solve on the network as given; AB_EUSAGE: a number or a cause out of range, a cause twice;
 * AB_ENOMEM. */
enum ab_status ab_check_worths(const struct ab_net *net, const struct ab_net_check *checks, size_t n,
    struct ab_worth *worth, struct ab_diag *diag);
enum ab_status ab_question_worths(const struct ab_net *net, const struct ab_net_question *questions, size_t n,
    struct ab_worth *worth, struct ab_diag *diag);

#endif
