/* network.c - exact inference on causes and graded faults: the public face, checks, preparation
 *
 * A finding turns every link into three numbers: below the grade, equal to it, not above it. Absent faults
 * and links that can never push only weigh a cause. What is left goes to order.c, sweep.c and story.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/network.h>

#include <assert.h>
#include <math.h>
#include <string.h>
#include "base/alloc.h"
#include "diagnosis/net.h"

/* Beyond this a cause is as good as certain or impossible; the products of a whole network stay in range. */
#define LOG_ODDS_MAX 500.0

struct ab_net_scratch *ab_net_scratch_new(void)
{
	return ab_calloc(1, sizeof(struct ab_net_scratch));
}

void ab_net_scratch_free(struct ab_net_scratch *scratch)
{
	if (scratch == NULL)
		return;
	for (int i = 0; i < NET_R_ROOMS; i++)
		ab_free(scratch->rooms[i].p);
	ab_free(scratch);
}

/* Never shrinks, and the old content is not carried over: no room is needed from one solve to the next. A
 * little more than asked for, so that an empty array has an address as well. */
void *net_room(struct ab_net_scratch *s, enum net_room which, size_t n, size_t size)
{
	struct net_room_mem *room = &s->rooms[which];
	size_t want;

	if (n > SIZE_MAX / 2 / size)
		return NULL;
	want = n * size + 64;
	if (room->size < want) {
		ab_free(room->p);
		room->size = 0;
		room->p = ab_malloc(want);
		if (room->p != NULL)
			room->size = want;
	}
	return room->p;
}

/* Renormalised at every step: a product of hundreds of probabilities leaves the range of double (1e-308),
 * and its log taken at each step would cost more and round worse. */
void net_scaled_mul(struct net_scaled *x, double by)
{
	int e;

	x->m = frexp(x->m * by, &e);
	x->e += e;
}

double net_scaled_log(const struct net_scaled *x)
{
	return x->m > 0 ? log(x->m) + (double)x->e * 0.693147180559945309417 : (double)-INFINITY;
}

static bool unit(double x)
{
	return x >= 0 && x <= 1;
}

/* Falling from 1 to no less than 0, so that all of it is within; what is no number fails. */
static bool tail_ok(const struct ab_tail *t)
{
	bool ok = t->at[0] >= 1 && t->at[0] <= 1;
	for (int k = 1; k < AB_GRADES; k++)
		ok = ok && t->at[k] <= t->at[k - 1];
	return ok && t->at[AB_GRADES - 1] >= 0;
}

static bool is_found(const struct ab_finding *f)
{
	return f->seen == AB_SEEN_FOUND || f->seen == AB_SEEN_ANSWER;
}

static bool finding_ok(const struct ab_finding *f)
{
	if (is_found(f))
		return f->grade >= 1 && f->grade < AB_GRADES;
	if (f->seen == AB_SEEN_ABSENT)
		return unit(f->sensitivity);
	return f->seen == AB_SEEN_NOTHING;
}

static enum ab_status check_faults(const struct ab_net *net, struct ab_diag *diag)
{
	for (size_t f = 0; f < net->n_faults; f++) {
		if (!tail_ok(&net->leak[f]))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "leak of fault %zu: its tail must start at 1 and fall within 0..1", f);
		if (!finding_ok(&net->finding[f]))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "finding of fault %zu: a grade is 1 to 3, a sensitivity 0 to 1", f);
	}
	return AB_OK;
}

/* Input of a library's caller, so refused with a message and not asserted. All is checked before any work:
 * the sweep itself relies on it and looks at nothing. */
static enum ab_status check(const struct ab_net *net, struct ab_diag *diag)
{
	if (net->n_causes > AB_NET_CAUSES || net->n_faults > AB_NET_FAULTS)
		return ab_fail(diag, AB_ELIMIT, NULL, 0,
		    "%zu causes and %zu faults; at most %d and %d are allowed", net->n_causes,
		    net->n_faults, AB_NET_CAUSES, AB_NET_FAULTS);
	for (size_t i = 0; i < net->n_causes; i++) {
		double x = net->log_odds[i];

		if (!(fabs(x) <= LOG_ODDS_MAX) && !(isinf(x) && x < 0))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "cause %zu: log-odds %g; allowed are -%g to %g, or minus infinity for a cause "
			    "that is impossible", i, x, LOG_ODDS_MAX, LOG_ODDS_MAX);
		if (net->weight != NULL && !unit(net->weight[i]))
			return ab_fail(diag, AB_EUSAGE, NULL, 0, "cause %zu: weight %g; allowed is 0 to 1", i,
			    net->weight[i]);
	}
	for (size_t l = 0; l < net->n_links; l++) {
		const struct ab_link_to *k = &net->links[l];

		if (k->cause < 0 || (size_t)k->cause >= net->n_causes || k->fault < 0 ||
		    (size_t)k->fault >= net->n_faults)
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "link %zu goes from cause %d to fault %d, which is not there", l,
			    k->cause, k->fault);
		if (!tail_ok(&k->tail))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "link %zu: its tail must start at 1 and fall within 0..1", l);
	}
	return check_faults(net, diag);
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
		if (!is_found(seen))
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

/* Prior, then what only weighs the cause: absent faults, and found ones it never gives at just this grade.
 * Returns how many found faults it may give. */
static size_t weigh_cause(struct net *n, size_t i, const size_t *links, size_t n_links, const int *slot)
{
	const struct ab_net *net = n->net;
	struct net_cause *c = &n->causes[i];
	/* exp of minus the absolute value: no overflow, and the smaller of in and act keeps all its
	 * digits. */
	double x = net->log_odds[i], o = exp(-fabs(x)), act = x > 0 ? 1 / (1 + o) : o / (1 + o);
	size_t gives = 0;
	double alone = act;

	if (net->weight != NULL)
		act *= net->weight[i];
	for (size_t l = 0; l < n_links; l++) {
		const struct ab_link_to *k = &net->links[links[l]];
		const struct ab_finding *seen = &net->finding[k->fault];

		if (seen->seen == AB_SEEN_ABSENT) {
			act *= fma(-seen->sensitivity, k->tail.at[1], 1);
		} else if (slot[k->fault] >= 0) {
			struct net_child child = as_child(net, k, slot[k->fault]);

			/* It can only stay below: a grade it never gives is as good as an absent fault. */
			if (child.eq <= 0)
				act *= child.lo;
			gives += child.eq > 0;
		}
	}
	*c = (struct net_cause){ .in = x > 0 ? o / (1 + o) : 1 / (1 + o), .act = act,
	    .alone = alone, .first = n->n_children };
	return gives;
}

/* Those that do not count for blame (answers of checks) first: the backward sweep handles them as plain
 * passes before any pushing is told apart. */
static void add_children(struct net *n, size_t i, const size_t *links, size_t n_links, const int *slot)
{
	struct net_cause *c = &n->causes[i];

	/* An impossible cause touches nothing; its children would only widen the tables. */
	if (c->act <= 0)
		return;
	for (int counts = 0; counts < 2; counts++) {
		for (size_t l = 0; l < n_links; l++) {
			const struct ab_link_to *k = &n->net->links[links[l]];
			struct net_child child;

			if (slot[k->fault] < 0)
				continue;
			child = as_child(n->net, k, slot[k->fault]);
			if (child.eq > 0 && child.counts == counts)
				n->children[n->n_children++] = child;
		}
	}
	c->n = n->n_children - c->first;
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

static enum ab_status prepare(struct ab_net_scratch *s, const struct ab_net *net, struct ab_diag *diag)
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
		if (weigh_cause(n, i, links, n_links, slot) > 0)
			add_children(n, i, links, n_links, slot);
	}
	sort_causes(n);
	return AB_OK;
}

/* What can be seen to be impossible fault by fault; the sweep finds the rest. Only to name the fault:
 * the sweep would find a sum of 0 as well, but not say which finding made it so. */
static enum ab_status check_possible(const struct net *n, struct ab_diag *diag)
{
	for (size_t f = 0; f < n->net->n_faults; f++)
		if (n->net->finding[f].seen == AB_SEEN_ABSENT &&
		    fma(-n->net->finding[f].sensitivity, n->net->leak[f].at[1], 1) <= 0)
			return ab_fail(diag, AB_EIMPOSSIBLE, NULL, (long)f,
			    "fault %zu is said to be absent for certain, but it is always there by itself",
			    f);
	for (size_t s = 0; s < n->n_found; s++) {
		const struct net_found *f = &n->found[s];

		if (f->eq <= 0 && f->n == 0 && f->shared == 0)
			return ab_fail(diag, AB_EIMPOSSIBLE, NULL, f->fault,
			    "fault %d was found at grade %d, but no cause that is possible here gives it at "
			    "that grade, nor does it "
			    "come by itself; take the finding out, or lift what rules its causes out",
			    f->fault, n->net->finding[f->fault].grade);
	}
	return AB_OK;
}

/* Causes the evidence touches only through absent faults, and the probabilities before tasting. */
static void fill_simple(const struct net *n, struct ab_beliefs *b)
{
	for (size_t i = 0; i < n->net->n_causes; i++) {
		const struct net_cause *c = &n->causes[i];

		if (b->alone != NULL)
			b->alone[i] = c->alone;
		if (c->n > 0)
			continue;
		if (b->present != NULL)
			b->present[i] = c->act / (c->in + c->act);
		if (b->blame != NULL)
			b->blame[i] = 0;
	}
}

enum ab_status ab_net_solve_in(struct ab_net_scratch *s, const struct ab_net *net, struct ab_beliefs *b,
    struct ab_diag *diag)
{
	enum ab_status st = check(net, diag);

	if (st == AB_OK)
		st = prepare(s, net, diag);
	if (st == AB_OK)
		st = check_possible(&s->n, diag);
	if (st == AB_OK)
		st = net_order(s, b->story != NULL, diag);
	if (st == AB_OK)
		st = net_sweep(s, b->present, b->blame, diag);
	if (st == AB_OK && b->story != NULL)
		st = net_story(s, b, diag);
	if (st != AB_OK)
		return st;
	fill_simple(&s->n, b);
	b->log_evidence = net_scaled_log(&s->n.evidence);
	b->width = s->n.ops.width;
	return AB_OK;
}

enum ab_status ab_net_solve(const struct ab_net *net, struct ab_beliefs *beliefs, struct ab_diag *diag)
{
	struct ab_net_scratch *s = ab_net_scratch_new();
	enum ab_status st;

	if (s == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the diagnosis");
	st = ab_net_solve_in(s, net, beliefs, diag);
	ab_net_scratch_free(s);
	return st;
}
