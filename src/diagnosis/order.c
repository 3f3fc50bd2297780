/* order.c - in which order causes are eliminated, so that few found faults are open at once
 *
 * A fault opens at its first shared cause and closes after its last. Greedy: among the causes that touch an
 * open fault take the one that leaves the fewest open, a cause that opens nothing at once. When the tables
 * would be large the greedy is run again from other starts and the cheapest order wins; a cause that shares
 * no fault is never in the way.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { WORDS = AB_NET_FAULTS / 64 };

/* Cost, in table entries, below which no second start is tried: it would take longer than it could save. */
#define COST_SMALL 8192.0

/* The found faults as bits: union and count are all the greedy does, for every pair of causes. */
typedef struct { uint64_t w[WORDS]; } mask;

struct order {
	const struct net *n;
	size_t words, n_shared;
	int *cause;             /* the shared causes */
	mask *reach;            /* their found faults */
	unsigned char *done;
	int *seq, *best;        /* places in cause[], in order */
	unsigned short left[AB_NET_FAULTS];  /* shared causes of each fault still to come */
	mask open, last;        /* last: with one shared cause still to come */
};

static bool meets(const mask *a, const mask *b, size_t words)
{
	for (size_t w = 0; w < words; w++)
		if (a->w[w] & b->w[w])
			return true;
	return false;
}

/* Bit by bit: there are few, and without an order to the compiler counting them at once is a call. */
static int count(uint64_t bits)
{
	int n = 0;

	for (; bits != 0; bits &= bits - 1)
		n++;
	return n;
}

static int news(const mask *a, const mask *open, size_t words)
{
	int n = 0;

	for (size_t w = 0; w < words; w++)
		n += count(a->w[w] & ~open->w[w]);
	return n;
}

static int closes(const struct order *o, size_t i)
{
	int n = 0;

	for (size_t w = 0; w < o->words; w++)
		n += count(o->reach[i].w[w] & o->last.w[w]);
	return n;
}

/* The next cause; greed weighs what opens against what closes. Staying with what touches an open fault
 * finishes one knot of faults before the next is begun; jumping about would hold both open. */
static size_t pick(const struct order *o, int greed)
{
	static const mask none;
	bool any = memcmp(&o->open, &none, sizeof none) != 0;
	size_t best = o->n_shared;
	int best_score = 0;

	for (size_t i = 0; i < o->n_shared; i++) {
		int opened, score;

		if (o->done[i] || (any && !meets(&o->reach[i], &o->open, o->words)))
			continue;
		opened = news(&o->reach[i], &o->open, o->words);
		if (opened == 0)
			return i;
		/* greed 2 hates opening, 1 weighs it against closing; neither is always better, so both are
		 * tried. */
		score = greed * opened - closes(o, i);
		if (best == o->n_shared || score < best_score) {
			best = i;
			best_score = score;
		}
	}
	return best;
}

static void flip(mask *m, int slot)
{
	m->w[slot / 64] ^= UINT64_C(1) << (slot % 64);
}

/* Opens what cause i needs, closes what it was the last of; returns the number open while it is worked on. */
static int take(struct order *o, size_t i)
{
	static const mask none;
	const struct net_cause *c = &o->n->causes[o->cause[i]];
	int width;

	for (size_t w = 0; w < o->words; w++)
		o->open.w[w] |= o->reach[i].w[w];
	width = news(&o->open, &none, o->words);
	for (size_t k = 0; k < c->n; k++) {
		int slot = o->n->children[c->first + k].slot;

		assert(o->left[slot] > 0);
		if (--o->left[slot] <= 1)
			flip(&o->last, slot);
		if (o->left[slot] == 0)
			flip(&o->open, slot);
	}
	o->done[i] = 1;
	return width;
}

static void begin(struct order *o)
{
	memset(o->done, 0, o->n_shared);
	memset(&o->open, 0, sizeof o->open);
	memset(&o->last, 0, sizeof o->last);
	for (size_t s = 0; s < o->n->n_found; s++) {
		o->left[s] = (unsigned short)o->n->found[s].shared;
		if (o->left[s] == 1)
			flip(&o->last, (int)s);
	}
}

/* Runs the greedy from a start (n_shared = free choice) into seq; returns the table entries it will touch. What comes to
 * `enough` before its end is left there. */
static double run(struct order *o, size_t start, int greed, double enough)
{
	double cost = 0;

	begin(o);
	for (size_t k = 0; k < o->n_shared && cost < enough; k++) {
		size_t i = k == 0 && start < o->n_shared ? start : pick(o, greed);
		int width = take(o, i);

		o->seq[k] = (int)i;
		cost += (double)(o->n->causes[o->cause[i]].n + 2) *
		    (width < 60 ? (double)(UINT64_C(1) << width) : 1e18);
	}
	return cost;
}

/* Trying starts costs about one for each; it goes on while what is tried costs less than what the tables
 * would. An exact best order is NP-hard (it is akin to pathwidth), and a bad one costs time, at worst a
 * width that is refused. */
static void find_best(struct order *o)
{
	double best = run(o, o->n_shared, 2, HUGE_VAL);
	double one = (double)o->n_shared * (double)o->n_shared;

	memcpy(o->best, o->seq, o->n_shared * sizeof *o->seq);
	for (size_t t = 0; t < 2 * o->n_shared && best > COST_SMALL && (double)t * one < best; t++) {
		double cost = run(o, t / 2, t % 2 == 0 ? 2 : 1, best);

		if (cost < best) {
			best = cost;
			memcpy(o->best, o->seq, o->n_shared * sizeof *o->seq);
		}
	}
}

/* The list under construction: bit_of[slot] of the open faults. A fault that leaves closes its bit:
 * those above move down by one, so the table stays dense and its size is exactly 2^open. */
struct writer {
	struct net *n;
	struct net_ops *ops;
	int width, bit_of[AB_NET_FAULTS];
	bool open[AB_NET_FAULTS], flat;
};

static void emit(struct writer *w, enum net_op_kind kind, int what, int bit)
{
	assert(bit >= 0 && w->width >= 0 && what >= 0);
	w->ops->at[w->ops->n++] = (struct net_op){ .kind = kind, .what = what, .width = w->width,
	    .bit = bit };
}

/* The bits are those of the moment: by the time another cause works, faults may have left. The pass reads
 * them from the children, which belong to this cause alone. */
static void emit_cause(struct writer *w, int cause)
{
	const struct net_cause *c = &w->n->causes[cause];

	for (size_t k = 0; k < c->n; k++)
		w->n->children[c->first + k].bit = w->bit_of[w->n->children[c->first + k].slot];
	emit(w, NET_CAUSE, cause, 0);
}

static void enter(struct writer *w, int slot)
{
	const struct net_found *f = &w->n->found[slot];

	emit(w, NET_ENTER, slot, w->width);
	w->open[slot] = true;
	w->bit_of[slot] = w->width++;
	if (w->width > w->ops->width)
		w->ops->width = w->width;
	/* The story needs a decision for each private cause, so there they are steps; the sums only need
	 * their pair. */
	for (size_t k = 0; w->flat && k < f->n; k++)
		emit_cause(w, w->n->privates[f->first + k]);
}

static void leave(struct writer *w, int slot)
{
	int bit = w->bit_of[slot];

	assert(w->open[slot] && bit < w->width);
	emit(w, NET_LEAVE, slot, bit);
	w->open[slot] = false;
	w->width--;
	for (size_t s = 0; s < w->n->n_found; s++)
		if (w->open[s] && w->bit_of[s] > bit)
			w->bit_of[s]--;
}

/* A found fault that no shared cause reaches opens and closes at once: with its private causes it is a
 * factor of its own. */
static void write_ops(struct order *o, struct net *n, struct net_ops *ops, bool flat)
{
	struct writer w = { .n = n, .ops = ops, .flat = flat };

	for (size_t s = 0; s < n->n_found; s++) {
		o->left[s] = (unsigned short)n->found[s].shared;
		if (n->found[s].shared == 0) {
			enter(&w, (int)s);
			leave(&w, (int)s);
		}
	}
	for (size_t i = 0; i < o->n_shared; i++) {
		const struct net_cause *c = &n->causes[o->cause[o->best[i]]];

		for (size_t k = 0; k < c->n; k++)
			if (!w.open[n->children[c->first + k].slot])
				enter(&w, n->children[c->first + k].slot);
		emit_cause(&w, o->cause[o->best[i]]);
		for (size_t k = 0; k < c->n; k++)
			if (--o->left[n->children[c->first + k].slot] == 0)
				leave(&w, n->children[c->first + k].slot);
	}
}

static void list_shared(struct order *o)
{
	o->n_shared = 0;
	for (size_t i = 0; i < o->n->net->n_causes; i++) {
		const struct net_cause *c = &o->n->causes[i];
		mask *m = &o->reach[o->n_shared];

		if (c->n < 2)
			continue;
		memset(m, 0, sizeof *m);
		for (size_t k = 0; k < c->n; k++) {
			int slot = o->n->children[c->first + k].slot;

			m->w[slot / 64] |= UINT64_C(1) << (slot % 64);
		}
		o->cause[o->n_shared++] = (int)i;
	}
}

enum ab_status net_order(struct ab_net_scratch *s, bool flat, struct ab_diag *diag)
{
	struct net *n = &s->n;
	/* Each cause is one step at most, each found fault enters and leaves once. */
	size_t causes = n->net->n_causes, max = causes + 2 * n->n_found;
	struct order o = { .n = n, .words = n->n_found / 64 + 1 };
	int *ints = net_room(s, NET_R_ORDER, 3 * causes + causes / sizeof(int) + 1, sizeof *ints);

	o.words = o.words > WORDS ? WORDS : o.words;
	o.reach = net_room(s, NET_R_MASKS, causes, sizeof *o.reach);
	n->ops.at = net_room(s, NET_R_OPS, max, sizeof *n->ops.at);
	n->flat.at = net_room(s, NET_R_FLAT, max, sizeof *n->flat.at);
	if (ints == NULL || o.reach == NULL || n->ops.at == NULL || n->flat.at == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the order of %zu causes", causes);
	o.cause = ints;
	o.seq = ints + causes;
	o.best = ints + 2 * causes;
	o.done = (unsigned char *)(ints + 3 * causes);
	list_shared(&o);
	find_best(&o);
	write_ops(&o, n, &n->ops, false);
	if (flat)
		write_ops(&o, n, &n->flat, true);
	assert(n->ops.n <= max && n->flat.n <= max);
	if (n->ops.width > AB_NET_WIDTH)
		return ab_fail(diag, AB_ELIMIT, NULL, 0,
		    "%d found faults are bound together by shared causes, and at most %d can be weighed at "
		    "once; leave out at least %d "
		    "of the %zu found faults, the slightest first", n->ops.width, AB_NET_WIDTH,
		    n->ops.width - AB_NET_WIDTH, n->n_found);
	return AB_OK;
}
