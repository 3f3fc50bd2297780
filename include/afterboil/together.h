/* together.h - a brewer's batches diagnosed together. Numbers in, numbers out.
 *
 * A batch diagnosed alone knows of a cause what the rules say of its facts, and what was tasted of it. But a
 * brewer's batches tell of each other: what struck in four of them is likelier in the fifth, and a fault that stays
 * after a change against its first suspect speaks for another.
 *
 * The model. What the rules make of a batch's facts is its own (`alone`: prior and signs). How this brewer differs
 * from that is one unknown rate a cause, with a Beta prior about the mean of `alone` over the batches, worth
 * rate_batches of them. A batch whose facts say less than the mean has that part of the strikes, one whose facts
 * say more is spared that part of what would not have struck; so without anything tasted each batch keeps `alone`
 * as its mean. Changes in force hold off what was expected of them (`held`), but how well changes hold against this
 * cause here is unknown as well: a Beta prior worth share_batches strikes about the largest share expected in any
 * batch, the others in proportion. From a batch to the next both stay as they are with the chance `keeps`, else
 * they are drawn anew. What was tasted of a batch hangs on all its causes by its network (network.h). Assumed:
 * given rates and shares, batches and causes are independent but for what is tasted; facts tell of their own batch
 * only (habits make them alike in batch after batch, so that they are no new testimony each time).
 *
 * The method. Sum-product messages between the batches' networks and the causes' rows, all at once, damped by half,
 * to a fixed point: expectation propagation with the causes of a batch as independent (Minka 2001, UAI; with
 * yes-or-no variables it is belief propagation, Pearl 1988; damping and its fixed points: Murphy, Weiss and Jordan
 * 1999, UAI). To a batch goes the chance of each cause by all OTHER batches, never by its own tasting; back comes
 * how many times likelier its tasting is with the cause than without. Each message is exact: the networks by
 * network.h, a row by a forward and a backward sweep over the nodes of Gauss-Jacobi quadrature (Golub and Welsch
 * 1969, Math. Comp. 23), which is exact for a rate that stays for 2 AB_TOGETHER_RATES - 2 batches and a share over
 * 2 AB_TOGETHER_SHARES - 2 with changes. The next batch (`next`): its chance is taken over the rate and the share
 * as all batches left them, one step of `keeps` on, so what own tastings taught and what changes held here is in it
 * once, and its facts once. It is that of a brewer who goes on as in that batch: with what it was brewed of, with,
 * and how. How far facts themselves differ from batch to batch is for who asks to weigh, over the rows. What is not
 * exact is that a batch's causes are taken as independent in what it tells: against every vector of causes, over
 * 300 invented small stories (2 or 3 causes, 2 faults, 3 to 6 batches), present was off by 0.083 at worst and by
 * 0.001 to 0.005 on average (next by 0.021, and 0.0004 to 0.002); each batch alone is off by up to 0.66, and 0.09
 * to 0.14 on average.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_TOGETHER_H
#define AFTERBOIL_TOGETHER_H

#include <stdbool.h>
#include <afterboil/arena.h>
#include <afterboil/network.h>

/* SURE: from about 145 on the products behind the quadrature are too large for a double. */
enum { AB_TOGETHER_RATES = 16, AB_TOGETHER_SHARES = 8, AB_TOGETHER_SURE = 100 };

/* One batch, oldest first; all arrays are borrowed, n_causes long. A cause with `alone` 0 or 1 there (to 1e-9) is left
 * out: it stays what it is, and tells nothing. */
struct ab_together_batch {
	const double *alone;
	const struct ab_net *net;     /* with its evidence; its log_odds are those of alone. NULL: `ratio` tells */
	const double *ratio; /* how many times likelier all that was tasted is with the cause than without; NULL,
			      * and net NULL: nothing was tasted */
	const double *held;  /* 0 to 1: the share expected to be held off, where alone does not know of it; NULL = 0
			      */
};

struct ab_together_of {
	const struct ab_together_batch *batches;
	size_t n_batches, n_causes;
	double rate_batches, share_batches;   /* over 0, at most AB_TOGETHER_SURE */
	double keeps;                 /* 0 to 1 */
	int rounds;                   /* at most; 1 or more */
	double settled;               /* no `present` may move by more in a round */
	struct ab_net_scratch *scratch;   /* NULL = its own */
};

/* Rows by batch, n_causes each, in the arena. */
struct ab_together {
	double *before; /* the chance of each cause before the batch was tasted, by its facts and the others */
	double *ratio;                /* what its tasting tells: that of a net within 1e-9 to 1e9 */
	double *present, *blame;      /* as in network.h; blame 0 where there is no net */
	double *next; /* the chance of each cause in one batch more, with the facts and the changes of each */
	int rounds;
	double moved;                 /* by the last round */
	bool settled;
};

/* With one batch and nothing held, before is alone and the rest is that of its network to the last bit.
 * Time: rounds times a solve a batch (of one whose causes hardly moved none) and n_batches x n_causes x nodes.
 * Errors of ab_net_solve; AB_EUSAGE for a number outside its range; AB_ENOMEM. */
enum ab_status ab_together_solve(const struct ab_together_of *of, struct ab_arena *arena, struct ab_together *out,
    struct ab_diag *diag);

/* One batch again, on `before` as the others left it, with other evidence in its net: present and blame (either may be
 * NULL) and ln P(evidence). */
enum ab_status ab_together_again(const struct ab_together_batch *batch, size_t n_causes, const double *before,
    struct ab_net_scratch *scratch, struct ab_beliefs *beliefs, struct ab_diag *diag);

/* `next` again, should this batch be found to have had the causes with the chances `present` (n_causes; by other
 * evidence on the same before): n_batches rows. What the others were taught by it stays. AB_ENOMEM. */
enum ab_status ab_together_next(const struct ab_together_of *of, const struct ab_together *found, size_t batch,
    const double *present, double *next, struct ab_diag *diag);

/* The rule of n nodes for the distribution Beta(a, b): sum of weight f(at) = mean of f, exact for polynomials up to
 * the degree 2n - 1. a, b over 0, together at most AB_TOGETHER_SURE; n at most AB_TOGETHER_RATES. Nodes lie from 0
 * to 1, ascending; weights sum to 1. By GSL; false: out of memory. */
bool ab_beta_rule(double a, double b, size_t n, double *at, double *weight);

#endif
