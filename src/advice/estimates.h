/* estimates.h - the rules drawn again: each estimate moved once, however often it is used
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_ESTIMATES_H
#define AB_ADVICE_ESTIMATES_H

#include <gsl/gsl_rng.h>
#include <afterboil/knowledge.h>

/* One step of each sort of estimate: of a chance in logit, of a sign's log ratio and of money and minutes as a share
 * (estimates.c says why). */
extern const double estimates_chance, estimates_sign, estimates_price, estimates_minutes;

/* What is drawn of a change beside its shares: factors, and how far it comes short of the mark it sets (in steps). */
struct estimates_change { double price, minutes, reach; };

/* drawn: the rules as written but for their estimates; good for ab_diagnose_net and all that reads rules. Those with a
 * source stay. */
struct estimates {
	const struct ab_knowledge *k;
	struct ab_knowledge drawn;
	double **sign;                         /* by cause and sign: the factor on its log ratio */
	struct estimates_change *change;       /* n_changes */
	struct ab_arena *settled;              /* what is reckoned from the numbers of a draw */
};

/* Room from the arena; to be closed whatever happened. Stands at the rules as written. AB_ENOMEM. */
enum ab_status estimates_open(
    struct estimates *e, const struct ab_knowledge *k, struct ab_arena *arena, struct ab_diag *diag);
void estimates_close(struct estimates *e);
/* Moves every estimate by a draw of its own, in the order of the rules: the same state of the generator gives the same
 * world whatever is asked of it. rng NULL: none is moved. AB_ENOMEM. */
enum ab_status estimates_draw(struct estimates *e, gsl_rng *rng, struct ab_diag *diag);

#endif
