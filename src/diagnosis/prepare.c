/* prepare.c - a network into the numbers that are swept
 *
 * A finding turns every link into three numbers: below the grade, equal to it, not above it. Absent faults
 * and links that can never push only weigh a cause.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <assert.h>
#include <math.h>
#include <string.h>

bool net_is_found(const struct ab_finding *f)
{
	return f->seen == AB_SEEN_FOUND || f->seen == AB_SEEN_ANSWER;
}

/* Mostly the links stand in order of their causes: then start is found in one pass, and by stays as it is.
 * Returns how many of them do. */
static size_t links_in_order(const struct ab_net *net, size_t *start, size_t *by)
{
	size_t cause = 0, l = 0;

	start[0] = 0;
	for (; l < net->n_links && (size_t)net->links[l].cause >= cause; l++) {
		while (cause < (size_t)net->links[l].cause)
			start[++cause] = l;
		by[l] = l;
	}
	while (cause < net->n_causes)
		start[++cause] = l;
	return l;
}

/* start[i]..start[i + 1] of by are the links of cause i. Counting sort, stable: start has one place more
 * than needed so that filling moves each start to its end, which is the next one's start. */
static void sort_links(const struct ab_net *net, size_t *start, size_t *by)
{
	if (links_in_order(net, start, by) == net->n_links)
		return;
	memset(start, 0, (net->n_causes + 2) * sizeof *start);
	for (size_t l = 0; l < net->n_links; l++)
		start[net->links[l].cause + 2]++;
	for (size_t i = 1; i < net->n_causes + 2; i++)
		start[i] += start[i - 1];
	for (size_t l = 0; l < net->n_links; l++)
		by[start[net->links[l].cause + 1]++] = l;
}

/* Numbers the found faults; slot is their number, -1 for the others. An absent fault leaves only a
 * factor: its leak did not show, or was not noticed. So it takes no bit of the tables, and that is what
 * makes complete tastings cheap. */
static void number_found(struct net *n, int *slot)
{
	const struct ab_net *net = n->net;

	n->n_found = 0;
	for (size_t f = 0; f < net->n_faults; f++) {
		const struct ab_finding *seen = &net->finding[f];
		const double *tail = net->leak[f].at;

		slot[f] = -1;
		if (seen->seen == AB_SEEN_ABSENT)
			net_scaled_mul(&n->constant, fma(-seen->sensitivity, tail[1], 1));
		if (!net_is_found(seen))
			continue;
		slot[f] = (int)n->n_found;
		assert(seen->grade >= 1 && seen->grade < AB_GRADES);
		n->found[n->n_found++] = (struct net_found){ .fault = (int)f, .lo = 1 - tail[seen->grade],
			.eq = tail[seen->grade] - (seen->grade < 3 ? tail[seen->grade + 1] : 0) };
	}
}

/* hi is lo + eq, but taken as 1 - above, which rounds once. */
static struct net_child as_child(const struct ab_net *net, const struct ab_link_to *k, int slot)
{
	const struct ab_finding *seen = &net->finding[k->fault];
	double above = seen->grade < 3 ? k->tail.at[seen->grade + 1] : 0;

	return (struct net_child){ .slot = slot, .bit = 0, .counts = seen->seen == AB_SEEN_FOUND,
		.lo = 1 - k->tail.at[seen->grade], .eq = k->tail.at[seen->grade] - above, .hi = 1 - above };
}

/* Answers of checks do not count for blame and stand before what does: the backward sweep handles them as plain
 * passes before any pushing is told apart. */
static void answers_first(struct net_child *child, size_t n)
{
	size_t front = 0;

	for (size_t i = 0; i < n; i++) {
		const struct net_child one = child[i];

		if (one.counts)
			continue;
		memmove(child + front + 1, child + front, (i - front) * sizeof *child);
		child[front++] = one;
	}
}

/* Prior, then what only weighs the cause: absent faults, and found ones it never gives at just this grade. The other
 * found ones are its children. */
static void add_cause(struct net *n, size_t i, const size_t *links, size_t n_links, const int *slot)
{
	const struct ab_net *net = n->net;
	/* exp of minus the absolute value: no overflow, and the smaller of in and act keeps all its
	 * digits. */
	double x = net->log_odds[i], o = exp(-fabs(x)), alone = x > 0 ? 1 / (1 + o) : o / (1 + o), act = alone;
	struct net_child *child = n->children + n->n_children;
	size_t gives = 0, answers = 0;

	if (net->weight != NULL)
		act *= net->weight[i];
	for (size_t l = 0; l < n_links; l++) {
		const struct ab_link_to *k = &net->links[links[l]];
		const struct ab_finding *seen = &net->finding[k->fault];

		if (seen->seen == AB_SEEN_ABSENT) {
			act *= fma(-seen->sensitivity, k->tail.at[1], 1);
		} else if (slot[k->fault] >= 0) {
			const struct net_child one = as_child(net, k, slot[k->fault]);

			/* It can only stay below: a grade it never gives is as good as an absent fault. */
			if (one.eq <= 0) {
				act *= one.lo;
				continue;
			}
			child[gives++] = one;
			answers += !one.counts;
		}
	}
	/* An impossible cause touches nothing; its children would only widen the tables. */
	if (act <= 0)
		gives = 0;
	else if (answers > 0)
		answers_first(child, gives);
	n->causes[i] = (struct net_cause){ .in = x > 0 ? o / (1 + o) : 1 / (1 + o), .act = act,
	    .alone = alone, .first = n->n_children, .n = gives };
	n->n_children += gives;
}

/* A second link of the same pair would count twice. */
static bool repeats(const struct ab_net *net, size_t cause, const size_t *links, size_t n_links,
    size_t *stamp)
{
	for (size_t l = 0; l < n_links; l++) {
		int f = net->links[links[l]].fault;

		if (stamp[f] == cause + 1)
			return true;
		stamp[f] = cause + 1;
	}
	return false;
}

/* Sorts causes by how many found faults they reach: none goes into the constant, one is private to its
 * fault. A private cause is folded into a pair of numbers when its fault opens, in 2 steps instead of
 * 2^width. Many causes of a real tasting are private or childless. */
static void sort_causes(struct net *n)
{
	size_t at = 0;

	for (size_t i = 0; i < n->net->n_causes; i++) {
		const struct net_cause *c = &n->causes[i];

		if (c->n == 0)
			net_scaled_mul(&n->constant, c->in + c->act);
		for (size_t k = 0; k < c->n; k++) {
			struct net_found *f = &n->found[n->children[c->first + k].slot];

			*(c->n == 1 ? &f->n : &f->shared) += 1;
		}
	}
	for (size_t s = 0; s < n->n_found; s++) {
		n->found[s].first = at;
		at += n->found[s].n;
		n->found[s].n = 0;
	}
	for (size_t i = 0; i < n->net->n_causes; i++) {
		if (n->causes[i].n == 1) {
			struct net_found *f = &n->found[n->children[n->causes[i].first].slot];

			n->privates[f->first + f->n++] = (int)i;
		}
	}
}

enum ab_status net_prepare(struct ab_net_scratch *s, const struct ab_net *net, struct ab_diag *diag)
{
	struct net *n = &s->n;
	size_t *start = net_room(s, NET_R_START, net->n_causes + 2, sizeof *start);
	size_t *by = net_room(s, NET_R_ORDER, net->n_links, sizeof *by);
	size_t *stamp = net_room(s, NET_R_STAMP, net->n_faults, sizeof *stamp);
	int *slot = net_room(s, NET_R_SLOTS, net->n_faults, sizeof *slot);

	/* 0.5 * 2^1 is 1 in the form that frexp gives. */
	*n = (struct net){ .net = net, .constant = { 0.5, 1 } };
	n->causes = net_room(s, NET_R_CAUSES, net->n_causes, sizeof *n->causes);
	n->children = net_room(s, NET_R_CHILDREN, net->n_links, sizeof *n->children);
	n->found = net_room(s, NET_R_FOUND, net->n_faults, sizeof *n->found);
	n->privates = net_room(s, NET_R_PRIVATES, net->n_causes, sizeof *n->privates);
	if (start == NULL || by == NULL || stamp == NULL || slot == NULL || n->causes == NULL ||
	    n->children == NULL || n->found == NULL || n->privates == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for a network of %zu links",
		    net->n_links);
	number_found(n, slot);
	sort_links(net, start, by);
	assert(start[net->n_causes] == net->n_links);
	/* stamp[f] holds the last cause + 1 that linked to f, so it needs clearing once and not for every
	 * cause. */
	memset(stamp, 0, net->n_faults * sizeof *stamp);
	for (size_t i = 0; i < net->n_causes; i++) {
		const size_t *links = by + start[i];
		size_t n_links = start[i + 1] - start[i];

		if (repeats(net, i, links, n_links, stamp))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "cause %zu has two links to one fault; one is allowed", i);
		add_cause(n, i, links, n_links, slot);
	}
	sort_causes(n);
	return AB_OK;
}
