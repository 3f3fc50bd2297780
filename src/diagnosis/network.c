/* network.c - exact inference on causes and graded faults: the public face, and its checks
 *
 * What was checked is prepared by prepare.c and goes to order.c, sweep.c and story.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/network.h>

#include <math.h>
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
	double m = x->m * by;
	int e;

	/* Most products stay where they are, and frexp would hand them back. */
	if (m >= 0.5 && m < 1) {
		x->m = m;
		return;
	}
	x->m = frexp(m, &e);
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

static bool finding_ok(const struct ab_finding *f)
{
	if (net_is_found(f))
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
		st = net_prepare(s, net, diag);
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
