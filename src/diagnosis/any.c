/* any.c - the blame of a set of causes: that at least one of them pushed a found fault to its grade
 *
 * A member that pushes nothing stays below the grade of each found fault. That is a factor on its odds and no
 * link any more: x' = x + sum of ln P(below). The solver divides each cause's two weights by their sum,
 * 1 + e^x; the changed network therefore stands for the wanted sum times (1 + e^x) / (1 + e^x').
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/network.h>

#include <assert.h>
#include <math.h>
#include <string.h>
#include "diagnosis/net.h"

static const double ODDS_MAX = 500;   /* of network.h */

/* ln(1 + e^x) without overflow; 0 for an impossible cause. */
static double softplus(double x)
{
	return x > 0 ? x + log1p(exp(-x)) : log1p(exp(x));
}

/* Links of members to found faults become a factor on their odds; all others are kept. Answers of checks are
 * no blame, so links to them stay. */
static size_t keep_below(const struct ab_net *net, const unsigned char *member, double *odds,
    struct ab_link_to *links)
{
	size_t n = 0;

	for (size_t l = 0; l < net->n_links; l++) {
		const struct ab_link_to *k = &net->links[l];
		const struct ab_finding *f = &net->finding[k->fault];

		if (member[k->cause] && f->seen == AB_SEEN_FOUND)
			odds[k->cause] += log1p(-k->tail.at[f->grade]);
		else
			links[n++] = *k;
	}
	return n;
}

/* ln of what the solver's division by 1 + e^x has changed. Odds beyond the solver's range are as good as
 * impossible. */
static double divided(const struct ab_net *net, double *odds)
{
	double sum = 0;

	for (size_t i = 0; i < net->n_causes; i++) {
		if (odds[i] < -ODDS_MAX)
			odds[i] = (double)-INFINITY;
		if (odds[i] < net->log_odds[i])
			sum += softplus(odds[i]) - softplus(net->log_odds[i]);
	}
	return sum;
}

enum ab_status ab_net_blame_any(struct ab_net_scratch *s, const struct ab_net *net,
    const unsigned char *member, double log_evidence, double *blame, struct ab_diag *diag)
{
	double *odds = net_room(s, NET_R_ANY_ODDS, net->n_causes, sizeof *odds);
	struct ab_link_to *links = net_room(s, NET_R_ANY_LINKS, net->n_links, sizeof *links);
	struct ab_beliefs beliefs = { .present = NULL };
	struct ab_net below = *net;
	struct ab_diag unused;

	if (odds == NULL || links == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for a network of %zu links",
		    net->n_links);
	if (net->n_causes > 0)
		memcpy(odds, net->log_odds, net->n_causes * sizeof *odds);
	below.n_links = keep_below(net, member, odds, links);
	below.log_odds = odds;
	below.links = links;
	assert(below.n_links <= net->n_links);
	double change = divided(net, odds);
	/* Impossible without them is no error here: then they are to blame for certain. */
	ab_diag_init(&unused);
	enum ab_status st = ab_net_solve_in(s, &below, &beliefs, &unused);
	if (st == AB_EIMPOSSIBLE) {
		*blame = 1;
		return AB_OK;
	}
	if (st != AB_OK)
		return ab_fail(diag, st, unused.source, unused.line, "%s", unused.text);
	*blame = fmin(fmax(-expm1(beliefs.log_evidence + change - log_evidence), 0), 1);
	return AB_OK;
}
