/* revise.h - a verdict looked at again: do the later batches of a line bear out what an earlier one was blamed on?
 *
 * The model. A fault of a verdict had one culprit: one of the causes it was laid on, or something the rules do not
 * name. Before the later batches each is believed as much as the verdict laid at its door. Whether a cause is there
 * is a brewer's habit: one unknown rate for the line, with a Beta prior worth AB_REVISE_RATE_BATCHES batches about
 * what the rules expect (estimate, as in held.h). The culprit was there in the verdict's batch, which counts as one
 * more; of the others that is not known. In later batches a cause there shows by its signs, unless a change took it
 * away; where the culprit is there it makes the fault with its strength, or something else does; where it is not,
 * only something else: the leak, and the other causes as often as the batch's facts say. A fault that is there is
 * mentioned with AB_REVISE_MENTIONED. The chance of the later batches under each culprit is summed over every way
 * it can have been there (Polya's urn, positive terms only), so it is exact for the model; Bayes' rule does the
 * rest. Assumed: the verdict's own odds between the causes; of the other causes, later batches teach nothing;
 * batches alike but for what is known of them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_REVISE_H
#define AFTERBOIL_REVISE_H

#include <afterboil/arena.h>
#include <afterboil/history.h>
#include <afterboil/knowledge.h>

/* Mentioned by one taster who says all that is found: 0.4, as in casework.h. Of longer lines the newest count. */
enum { AB_REVISE_MOST = 60, AB_REVISE_RATE_BATCHES = 2 };
#define AB_REVISE_MENTIONED 0.4

/* A later batch, for one suspect. sign: how many times likelier what is known of the batch, but for its tasting, is
 * with the cause than without (0 = the cause is impossible in it); strength: P(the fault | the cause is there);
 * taken: the share of it that changes in force take away and no sign shows; leak: P(the fault from
 * anything else). */
struct ab_later { bool found; double sign, strength, taken, leak; };

/* How many times likelier the later batches are, signs and tastings, with this suspect as the culprit than their signs
 * are without; 1 of none. rate: P(the cause) by the rules, moved inside 0 to 1. */
double ab_revise_chance(double rate, const struct ab_later *later, size_t n);

/* belief (n, not below 0, any sum over 0) turned by Bayes' rule with those chances, in place; the sum becomes 1.
 * Unchanged but for its sum when every chance is 0. */
void ab_revise(double *belief, const double *chance, size_t n);

/* One verdict that later batches spoke against. */
struct ab_revision {
	const char *line, *batch;              /* of the verdict */
	int fault, cause;                      /* the fault, and the cause that led then */
	double before, after;                  /* belief in that cause, then and now */
	int leader;                            /* who leads now; -1 = something the rules do not name */
	double leader_before, leader_after;
	size_t later;                          /* tasted batches of the line since */
	size_t came_without, stayed_away;      /* of them: the fault came though the cause was hardly there; the
	                                        * cause was there and the fault stayed away */
	size_t found;                          /* of them: with the fault */
	bool acted;                            /* a change against the cause came in between */
};

/* Looks at the verdicts of a line: past, the batches of one line in order of brewing, with all facts and beliefs;
 * those not tasted tell of changes alone. A verdict is a batch in which a fault was found and one cause, no benign
 * one, had half of the blame for it or more; where several say the same, the first. Told is what lost a third of
 * itself and no longer leads. Changes noted since the verdict count as in force, at the share the rules give, where
 * no fact of a batch shows their work. Texts are those of past; the list is the arena's. AB_ENOMEM. */
enum ab_status ab_revise_line(const struct ab_knowledge *k, const struct ab_past *past, size_t n,
    struct ab_arena *arena, struct ab_revision **out, size_t *n_out, struct ab_diag *diag);

#endif
