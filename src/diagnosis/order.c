/* order.c - in which order causes are eliminated, so that few found faults are open at once
 *
 * A fault opens at its first shared cause and closes after its last. The greedy goes from fault to fault: it closes
 * the one that costs least now and leaves least to do, and works only the causes which that needs. All others wait
 * until fewer faults are open, for each that is open doubles their work. When the tables are large it is run again
 * from other first faults and the cheapest order wins.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { WORDS = AB_NET_FAULTS / 64 };

/* Other first faults save a twentieth of the table entries where the rules' own networks are large: tried while the
 * search has cost less than such a part of them. One try goes over all pairs of faults and all causes, at about as
 * much as this many entries each. */
static const double SEARCH_SHARE = 1.0 / 16, TRY_ENTRIES = 0.5;

/* How much the causes to come weigh when a fault is chosen, in passes over a table as wide as it would leave: less
 * than they will take (four or more), for the table narrows. */
static const double AHEAD = 2;

/* The found faults as bits: union and count are all the greedy does. */
typedef struct { uint64_t w[WORDS]; } mask;

/* A cause of several found faults. */
struct shared { int cause; double passes; mask reach; };

struct order {
	const struct net *n;
	size_t words, n_shared;
	struct shared *shared;
	int *rest, *group;      /* places in shared[]: of those still to come; of those that close a fault, in order */
	int *seq, *best;        /* places in shared[], in order */
	size_t n_rest, n_group, n_seq;
	mask open;
};

static inline bool has(const mask *m, size_t slot)
{
	return m->w[slot / 64] >> slot % 64 & 1;
}

static inline bool meets(const mask *a, const mask *b, size_t words)
{
	for (size_t w = 0; w < words; w++)
		if (a->w[w] & b->w[w])
			return true;
	return false;
}

static inline void join(mask *to, const mask *m, size_t words)
{
	for (size_t w = 0; w < words; w++)
		to->w[w] |= m->w[w];
}

/* By halves, quarters and so on: without an order to the compiler the processor's own count is a call, and bit by bit
 * each count ends in a jump that cannot be foreseen. */
static inline int count(uint64_t b)
{
	b -= b >> 1 & UINT64_C(0x5555555555555555);
	b = (b & UINT64_C(0x3333333333333333)) + (b >> 2 & UINT64_C(0x3333333333333333));
	b = (b + (b >> 4)) & UINT64_C(0x0f0f0f0f0f0f0f0f);
	return (int)(b * UINT64_C(0x0101010101010101) >> 56);
}

/* How many faults of a are not in b. */
static inline int news(const mask *a, const mask *b, size_t words)
{
	int n = 0;

	for (size_t w = 0; w < words; w++)
		n += count(a->w[w] & ~b->w[w]);
	return n;
}

/* Entries of the table with these faults open. */
static inline double entries(const mask *open, size_t words)
{
	static const mask none;
	int width = news(open, &none, words);

	return width < 60 ? (double)(UINT64_C(1) << width) : 1e18;
}

static inline void swap(int *x, int *y)
{
	int z = *x;

	*x = *y;
	*y = z;
}

/* What the causes of the group from `from` on cost that open nothing; they come to its front. The rest begins at
 * *end, first the one that opens fewest. */
static inline double take_free(struct order *o, size_t from, size_t *end, size_t words)
{
	size_t at = from, best = from;
	int fewest = AB_NET_FAULTS + 1;
	double passes = 0;

	for (size_t g = from; g < o->n_group; g++) {
		const struct shared *s = &o->shared[o->group[g]];
		int opens = news(&s->reach, &o->open, words);

		if (opens == 0) {
			passes += s->passes;
			best = best == at ? g : best;   /* where the swap takes it */
			swap(&o->group[at++], &o->group[g]);
		} else if (opens < fewest) {
			fewest = opens;
			best = g;
		}
	}
	if (at < o->n_group)
		swap(&o->group[at], &o->group[best]);
	*end = at;
	return passes * entries(&o->open, words);
}

/* Puts the causes that keep a fault open into the group, in a good order; returns their cost. *left gets the number
 * of those that stay, and open what is open after them. */
static inline double close_fault(struct order *o, size_t slot, size_t *left, size_t words)
{
	mask rest = { { 0 } };
	double cost = 0;

	*left = o->n_group = 0;
	for (size_t r = 0; r < o->n_rest; r++) {
		const struct shared *s = &o->shared[o->rest[r]];

		if (has(&s->reach, slot)) {
			o->group[o->n_group++] = o->rest[r];
		} else {
			join(&rest, &s->reach, words);
			++*left;
		}
	}
	for (size_t at = 0; at < o->n_group;) {
		cost += take_free(o, at, &at, words);
		if (at < o->n_group)
			join(&o->open, &o->shared[o->group[at]].reach, words);
	}
	for (size_t w = 0; w < words; w++)
		o->open.w[w] &= rest.w[w];
	return cost;
}

/* The compiler makes a way of its own for up to 64 found faults, which is always. */
static double close_any(struct order *o, size_t slot, size_t *left)
{
	return o->words == 1 ? close_fault(o, slot, left, 1) : close_fault(o, slot, left, o->words);
}

/* The faults that are open and those next to them; all when none is open. To begin another knot of faults would hold
 * both open. */
static mask candidates(const struct order *o)
{
	mask near = o->open;
	bool any = entries(&o->open, o->words) > 1;

	for (size_t r = 0; r < o->n_rest; r++)
		if (!any || meets(&o->shared[o->rest[r]].reach, &o->open, o->words))
			join(&near, &o->shared[o->rest[r]].reach, o->words);
	return near;
}

/* The fault to close next. */
static size_t pick(struct order *o)
{
	const mask open = o->open, near = candidates(o);
	double best_score = HUGE_VAL;
	size_t best = o->n->n_found;

	for (size_t s = 0; s < o->n->n_found; s++) {
		double score;
		size_t left;

		if (!has(&near, s))
			continue;
		score = close_any(o, s, &left);
		score += AHEAD * (double)left * entries(&o->open, o->words);
		o->open = open;
		if (score < best_score) {
			best = s;
			best_score = score;
		}
	}
	return best;
}

/* The group was worked: on with the others. */
static void go_on(struct order *o, size_t closed)
{
	size_t kept = 0;

	memcpy(o->seq + o->n_seq, o->group, o->n_group * sizeof *o->seq);
	o->n_seq += o->n_group;
	for (size_t r = 0; r < o->n_rest; r++)
		if (!has(&o->shared[o->rest[r]].reach, closed))
			o->rest[kept++] = o->rest[r];
	assert(kept + o->n_group == o->n_rest);
	o->n_rest = kept;
}

static void begin(struct order *o)
{
	o->n_seq = 0;
	o->n_rest = o->n_shared;
	for (size_t i = 0; i < o->n_shared; i++)
		o->rest[i] = (int)i;
	memset(&o->open, 0, sizeof o->open);
}

/* Runs the greedy from a first fault (n_found = free choice) into seq; returns the table entries it will touch. What
 * comes to `enough` before its end is left there. */
static double run(struct order *o, size_t first, double enough)
{
	double cost = 0;

	begin(o);
	while (o->n_rest > 0 && cost < enough) {
		size_t left, slot = o->n_seq == 0 && first < o->n->n_found ? first : pick(o);

		cost += close_any(o, slot, &left);
		go_on(o, slot);
	}
	return cost;
}

/* An exact best order is NP-hard (it is akin to pathwidth), and a bad one costs time, at worst a width that is
 * refused. */
static void find_best(struct order *o)
{
	size_t n = o->n->n_found;
	double best = run(o, n, HUGE_VAL), one = TRY_ENTRIES * (double)(n * n * o->n_shared), spent = one;

	memcpy(o->best, o->seq, o->n_shared * sizeof *o->seq);
	for (size_t s = 0; s < n && spent < SEARCH_SHARE * best; s++) {
		double cost;

		if (o->n->found[s].shared == 0)
			continue;
		spent += one;
		cost = run(o, s, best);
		if (cost < best) {
			best = cost;
			memcpy(o->best, o->seq, o->n_shared * sizeof *o->seq);
		}
	}
}

static void list_shared(struct order *o)
{
	o->n_shared = 0;
	for (size_t i = 0; i < o->n->net->n_causes; i++) {
		const struct net_cause *c = &o->n->causes[i];
		struct shared *s = &o->shared[o->n_shared];

		if (c->n < 2)
			continue;
		*s = (struct shared){ .cause = (int)i, .passes = (double)(c->n + 2) };
		for (size_t k = 0; k < c->n; k++) {
			int slot = o->n->children[c->first + k].slot;

			s->reach.w[slot / 64] |= UINT64_C(1) << (slot % 64);
		}
		o->n_shared++;
	}
}

enum ab_status net_order(struct ab_net_scratch *s, bool flat, struct ab_diag *diag)
{
	struct net *n = &s->n;
	/* Each cause is one step at most, each found fault enters and leaves once. */
	size_t causes = n->net->n_causes, max = causes + 2 * n->n_found;
	struct order o = { .n = n, .words = n->n_found / 64 + 1 };
	int *ints = net_room(s, NET_R_ORDER, 4 * causes, sizeof *ints);

	o.words = o.words > WORDS ? WORDS : o.words;
	o.shared = net_room(s, NET_R_MASKS, causes, sizeof *o.shared);
	n->ops.at = net_room(s, NET_R_OPS, max, sizeof *n->ops.at);
	n->flat.at = net_room(s, NET_R_FLAT, max, sizeof *n->flat.at);
	if (ints == NULL || o.shared == NULL || n->ops.at == NULL || n->flat.at == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the order of %zu causes", causes);
	o.rest = ints;
	o.seq = ints + causes;
	o.best = ints + 2 * causes;
	o.group = ints + 3 * causes;
	list_shared(&o);
	find_best(&o);
	for (size_t i = 0; i < o.n_shared; i++)
		o.best[i] = o.shared[o.best[i]].cause;
	net_write_steps(n, o.best, o.n_shared, &n->ops, false);
	if (flat)
		net_write_steps(n, o.best, o.n_shared, &n->flat, true);
	assert(n->ops.n <= max && n->flat.n <= max);
	if (n->ops.width > AB_NET_WIDTH)
		return ab_fail(diag, AB_ELIMIT, NULL, 0,
		    "%d found faults are bound together by shared causes, and at most %d can be weighed at "
		    "once; leave out at least %d "
		    "of the %zu found faults, the slightest first", n->ops.width, AB_NET_WIDTH,
		    n->ops.width - AB_NET_WIDTH, n->n_found);
	return AB_OK;
}
