/* sweep.c - sums over all explanations: a forward sweep, then a backward sweep that gives every marginal
 *
 * Recurrences, all terms positive (A forward, B backward, per child the pair x = without the fault, y = with
 * it pushed):
 *   forward   A <- in A + act L A,   L per child: x <- lo x, y <- hi y + eq x_old
 *   backward  the part P of L^T B in which the cause pushed something: P <- step(P) + eq c B(pushed), c <- c
 *   lo;
 *             the rest is c B. So blame = act <A, P>, present = blame + act c <A, B>, all = present + in <A,
 *             B>, and B <- (in + act c) B + act P. Normalising by `all` makes the scale of A and B
 *             irrelevant.
 * Tables before each step are kept for the backward sweep; past a budget only one per segment is kept and the
 * segment is run again when its turn comes.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { TOP_FORWARD = 600, TOP_BACKWARD = 300 };   /* exponents tables are scaled to; their products stay
						   * finite */

#define BUDGET ((size_t)4 << 20)   /* doubles kept without segments: 32 MiB */
#define GUARD 0x1p-200             /* scale again when a table may have shrunk by this much */

/* In short: pool holds the tables before each step of the segment at work, checkpoint the first table of
 * every segment, temp, b and back one table each. */
struct sweep {
	struct net *n;
	double *present, *blame;   /* may be NULL */
	size_t *offset;            /* of the table before each op within its segment; [n_ops] is the end */
	size_t *segment;           /* op at which each segment starts; [n_segments] = n_ops */
	size_t n_segments;
	double *pool, *checkpoint, *temp, *b, *back;
	long e;                    /* exponent taken out going forward */
	double guard;              /* how far the largest entry may have shrunk since the last scaling */
	bool counting;             /* first pass: exponents count */
};

static size_t size_of(int width)
{
	return (size_t)1 << width;
}

/* Leak, then the private causes of one found fault, on a table of two. */
static void stem_forward(struct net *n, struct net_found *f, long *e)
{
	double x = f->lo, y = f->eq;

	for (size_t k = 0; k < f->n; k++) {
		struct net_cause *c = &n->causes[n->privates[f->first + k]];
		const struct net_child *h = &n->children[c->first];

		/* Kept for the way back, where each private cause needs the pair as it found it. */
		c->before[0] = x;
		c->before[1] = y;
		y = (c->in + c->act * h->hi) * y + c->act * h->eq * x;
		x = (c->in + c->act * h->lo) * x;
		if (x < GUARD && y < GUARD && (x > 0 || y > 0)) {
			x *= 1 / GUARD;
			y *= 1 / GUARD;
			*e -= 200;
		}
	}
	f->pair[0] = x;
	f->pair[1] = y;
}

static void answer(struct sweep *w, int cause, double in, double none, double push, bool counts)
{
	double all = in + none + push;

	if (w->present != NULL)
		w->present[cause] = (none + push) / all;
	if (w->blame != NULL)
		w->blame[cause] = counts ? push / all : 0;
}

/* b[0], b[1]: what the rest of the network makes of the fault not pushed, pushed. Here a pair of numbers
 * stands for the whole rest of the network, so a private cause costs a dozen operations whatever the
 * width. */
static void stem_backward(struct sweep *w, const struct net_found *f, double b0, double b1)
{
	for (size_t k = f->n; k-- > 0;) {
		int cause = w->n->privates[f->first + k];
		const struct net_cause *c = &w->n->causes[cause];
		const struct net_child *h = &w->n->children[c->first];
		double a0 = c->before[0], a1 = c->before[1];
		double all = a0 * b0 + a1 * b1;

		answer(w, cause, c->in * all, c->act * h->lo * all, c->act * h->eq * b1 * (a0 + a1),
		    h->counts);
		b0 = (c->in + c->act * h->lo) * b0 + c->act * h->eq * b1;
		b1 = (c->in + c->act * h->hi) * b1;
		if (b0 < GUARD && b1 < GUARD) {
			b0 *= 1 / GUARD;
			b1 *= 1 / GUARD;
		}
	}
}

/* Returns a lower bound of the factor by which the largest entry may have shrunk. */
static double cause_forward(const struct sweep *w, int cause, const double *a, double *to, size_t size)
{
	const struct net_cause *c = &w->n->causes[cause];
	const struct net_child *h = &w->n->children[c->first];
	const double *from = a;
	double scale = c->act, stay = 1;

	/* act goes into the first pass and the inactive part into the last one: two sweeps over the table
	 * less. */
	for (size_t k = 0; k + 1 < c->n; k++) {
		net_pass(w->temp, from, size, size_of(h[k].bit), scale * h[k].lo, scale * h[k].eq,
		    scale * h[k].hi);
		from = w->temp;
		scale = 1;
		stay *= h[k].lo;
	}
	assert(c->n >= 2);
	h += c->n - 1;
	net_pass_add(to, from, a, c->in, size, size_of(h->bit), scale * h->lo, scale * h->eq, scale * h->hi);
	return c->in + c->act * stay * h->lo;
}

static void enter_forward(const struct net_found *f, const double *a, double *to, size_t size)
{
	for (size_t i = 0; i < size; i++) {
		to[i] = f->pair[0] * a[i];
		to[i + size] = f->pair[1] * a[i];
	}
}

/* Scaled only when the largest entry may have become small: a maximum over the table costs as much as a
 * pass. guard multiplies up how much each step may shrink it at worst. */
static void op_forward(struct sweep *w, const struct net_op *op, const double *a, double *to)
{
	size_t size = size_of(op->width);
	long e;

	switch (op->kind) {
	case NET_ENTER:
		enter_forward(&w->n->found[op->what], a, to, size);
		w->guard *= fmax(w->n->found[op->what].pair[0], w->n->found[op->what].pair[1]);
		size *= 2;
		break;
	case NET_CAUSE:
		w->guard *= cause_forward(w, op->what, a, to, size);
		break;
	case NET_LEAVE:
		/* Half the entries go, perhaps the large ones: nothing is known any more, so scale. */
		net_forget(to, a, size, size_of(op->bit));
		size /= 2;
		w->guard = 0;
		break;
	}
	if (w->guard >= GUARD)
		return;
	e = net_rescale(to, size, TOP_FORWARD);
	w->guard = 1;
	if (w->counting)
		w->e += e;
}

/* Leaves the table before each op of the segment in the pool, and the one after its last op at its end.
 * Runs the same steps with the same numbers as the first time, so the tables are equal to the last bit. */
static const double *run_segment(struct sweep *w, size_t g)
{
	size_t first = w->segment[g], end = w->segment[g + 1];
	const double *from = w->checkpoint;
	size_t at = 0;

	for (size_t k = 0; k < g; k++)
		from += size_of(w->n->ops.at[w->segment[k]].width);
	assert(g < w->n_segments);
	memcpy(w->pool, from, size_of(w->n->ops.at[first].width) * sizeof *from);
	w->guard = 0;
	for (size_t i = first; i < end; i++) {
		w->offset[i - first] = at;
		at += size_of(w->n->ops.at[i].width);
		op_forward(w, &w->n->ops.at[i], w->pool + w->offset[i - first], w->pool + at);
	}
	return w->pool + at;
}

/* The first forward pass: fills the checkpoints; returns A[all], unscaled by w->e. */
static double forward(struct sweep *w)
{
	double *mark = w->checkpoint;
	const double *last = mark;

	*mark = ldexp(1, TOP_FORWARD);
	w->e = -TOP_FORWARD;
	w->counting = true;
	for (size_t s = 0; s < w->n->n_found; s++)
		stem_forward(w->n, &w->n->found[s], &w->e);
	for (size_t g = 0; g < w->n_segments; g++) {
		last = run_segment(w, g);
		if (g + 1 < w->n_segments) {
			mark += size_of(w->n->ops.at[w->segment[g]].width);
			memcpy(mark, last, size_of(w->n->ops.at[w->segment[g + 1]].width) * sizeof *last);
		}
	}
	w->counting = false;
	return *last;
}

static void cause_backward(struct sweep *w, int cause, const double *a, size_t size)
{
	const struct net_cause *c = &w->n->causes[cause];
	const struct net_child *h = &w->n->children[c->first], *end = h + c->n;
	const double *rest = w->b;
	double stay = 1, none, push = 0;
	bool counts = false;

	for (; h < end && !h->counts; h++) {
		net_pass_back(w->back, rest, size, size_of(h->bit), h->lo, h->eq, h->hi);
		rest = w->back;
	}
	for (; h < end; h++, counts = true) {
		if (!counts)
			net_push_first(w->temp, rest, size, size_of(h->bit), h->eq);
		else
			net_push_next(w->temp, rest, stay, size, size_of(h->bit), h->lo, h->eq, h->hi);
		stay *= h->lo;
	}
	/* Read before b is overwritten below: in, act and push all need the b from after the cause. */
	none = net_dot(a, w->b, size);
	if (counts)
		push = net_dot(a, w->temp, size);
	answer(w, cause, c->in * none, c->act * stay * (rest == w->b ? none : net_dot(a, rest, size)),
	    c->act * push, counts);
	net_mix(w->b, c->in, rest, c->act * stay, counts ? w->temp : NULL, c->act, size);
	for (h = &w->n->children[c->first]; h < end && !h->counts; h++)
		stay *= h->lo;
	w->guard *= c->in + c->act * stay;
}

/* The fault's private causes get their answers here, where the pair and the rest of the network meet. */
static void enter_backward(struct sweep *w, const struct net_found *f, const double *a, size_t size)
{
	if (f->n > 0)
		stem_backward(w, f, net_dot(a, w->b, size), net_dot(a, w->b + size, size));
	for (size_t i = 0; i < size; i++)
		w->b[i] = f->pair[0] * w->b[i] + f->pair[1] * w->b[i + size];
}

static void op_backward(struct sweep *w, const struct net_op *op, const double *a)
{
	size_t size = size_of(op->width);
	double *other = w->back;

	switch (op->kind) {
	case NET_ENTER:
		enter_backward(w, &w->n->found[op->what], a, size);
		w->guard = 0;
		break;
	case NET_CAUSE:
		cause_backward(w, op->what, a, size);
		break;
	case NET_LEAVE:
		net_unforget(other, w->b, size, size_of(op->bit));
		w->back = w->b;
		w->b = other;
		break;
	}
}

static void backward(struct sweep *w)
{
	const struct net_op *ops = w->n->ops.at;

	w->b[0] = ldexp(1, TOP_BACKWARD);
	for (size_t g = w->n_segments; g-- > 0;) {
		/* The last segment is still in the pool from the forward pass. */
		if (g + 1 < w->n_segments)
			(void)run_segment(w, g);
		w->guard = 0;
		for (size_t i = w->segment[g + 1]; i-- > w->segment[g];) {
			op_backward(w, &ops[i], w->pool + w->offset[i - w->segment[g]]);
			if (w->guard < GUARD) {
				(void)net_rescale(w->b, size_of(ops[i].width), TOP_BACKWARD);
				w->guard = 1;
			}
		}
	}
}

/* Cuts the ops into segments: one when all tables fit the budget, else about the square root of their
 * number. Time twice, memory by the square root: with all tables kept a network of width 20 would take 8
 * MiB a step. */
static void cut(struct sweep *w, size_t *pool, size_t *checkpoints)
{
	const struct net_ops *ops = &w->n->ops;
	size_t total = 0, per = ops->n, room = 0;

	for (size_t i = 0; i < ops->n; i++)
		total += size_of(ops->at[i].width);
	if (total > BUDGET)
		per = (size_t)ceil(sqrt((double)ops->n));
	*checkpoints = *pool = 1;
	w->n_segments = 0;
	for (size_t i = 0; i < ops->n; i++) {
		if (i % per == 0) {
			w->segment[w->n_segments++] = i;
			*checkpoints += size_of(ops->at[i].width);
			room = 0;
		}
		room += size_of(ops->at[i].width);
		if (room > *pool)
			*pool = room;
	}
	w->segment[w->n_segments] = ops->n;
}

/* Two lists of size_t in one room, and three tables in one: fewer rooms to keep, and the tables lie side by
 * side. */
static bool make_rooms(struct ab_net_scratch *s, struct sweep *w)
{
	size_t top = size_of(w->n->ops.width), n = w->n->ops.n, pool, checkpoints;

	w->offset = net_room(s, NET_R_OFFSET, 2 * n + 3, sizeof *w->offset);
	if (w->offset == NULL)
		return false;
	w->segment = w->offset + n + 1;
	cut(w, &pool, &checkpoints);
	w->pool = net_room(s, NET_R_POOL, pool + top, sizeof *w->pool);
	w->checkpoint = net_room(s, NET_R_CHECKPOINT, checkpoints, sizeof *w->checkpoint);
	w->temp = net_room(s, NET_R_TEMP, 3 * top, sizeof *w->temp);
	if (w->pool == NULL || w->checkpoint == NULL || w->temp == NULL)
		return false;
	w->b = w->temp + top;
	w->back = w->temp + 2 * top;
	return true;
}

enum ab_status net_sweep(struct ab_net_scratch *s, double *present, double *blame, struct ab_diag *diag)
{
	struct sweep w = { .n = &s->n, .present = present, .blame = blame };
	double all;

	if (!make_rooms(s, &w))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for %d found faults open at once",
		    s->n.ops.width);
	all = forward(&w);
	assert(w.n_segments > 0 || s->n.ops.n == 0);
	s->n.evidence = s->n.constant;
	s->n.evidence.e += w.e;
	net_scaled_mul(&s->n.evidence, all);
	/* A sum of positive terms is 0 only when every term is: no cancellation can hide or feign it. */
	if (all <= 0)
		return ab_fail(diag, AB_EIMPOSSIBLE, NULL, -1,
		    "the findings cannot all hold together: what gives one of them always gives another at a "
		    "higher grade, or rules it "
		    "out; look at the grades again");
	if (present != NULL || blame != NULL)
		backward(&w);
	return AB_OK;
}
