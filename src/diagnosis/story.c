/* story.c - the most probable on/off pattern of causes, given the evidence
 *
 * Forward, a table of maxima: M <- max(in M, act L M), sums kept inside L. M bounds from above what any
 * pattern of the causes so far can put into each entry, because the maximum of a sum never exceeds the sum of
 * maxima; so <M, B> bounds every completion of a pattern whose later causes gave B. A depth-first search from
 * the last cause back, likelier branch first, with that bound, is exact. Stretches between two steps with no
 * fault open are searched apart.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define WORK_LIMIT 1e8      /* table entries touched in one search: about a tenth of a second */
#define TABLES_MAX ((size_t)1 << 25)   /* doubles in each of the two families of tables: 256 MiB */
/* relative gain below which two patterns count as equally probable: the first seen stays */
#define SAME 1e-12

/* Tables stand before every step, for the search walks back through them: max is filled once going forward,
 * back is written anew whenever the search comes to its step. */
struct story {
	struct net *n;
	size_t *offset;          /* of the tables before each op */
	double *max, *back;      /* M and B, before each op */
	double *max_log;         /* log2 of the power taken out of M before each op */
	unsigned char *on, *best;  /* the pattern under work, the best found; by cause */
	size_t first;            /* where the stretch under search starts */
	double best_log;         /* log2 of its probability */
	double work;
	bool any, cut;
};

static size_t size_of(int width)
{
	return (size_t)1 << width;
}

static void max_cause(struct story *s, const struct net_cause *c, const double *m, double *to, size_t size)
{
	const struct net_child *h = &s->n->children[c->first];
	const double *from = m;

	for (size_t k = 0; k < c->n; k++) {
		net_pass(to, from, size, size_of(h[k].bit), h[k].lo, h[k].eq, h[k].hi);
		from = to;
	}
	for (size_t i = 0; i < size; i++) {
		double off = c->in * m[i], on = c->act * to[i];

		to[i] = on > off ? on : off;
	}
}

static void max_op(struct story *s, size_t i)
{
	const struct net_op *op = &s->n->flat.at[i];
	const double *m = s->max + s->offset[i];
	double *to = s->max + s->offset[i + 1];
	size_t size = size_of(op->width);

	if (op->kind == NET_CAUSE) {
		max_cause(s, &s->n->causes[op->what], m, to, size);
	} else if (op->kind == NET_ENTER) {
		for (size_t k = 0; k < size; k++) {
			to[k] = s->n->found[op->what].lo * m[k];
			to[k + size] = s->n->found[op->what].eq * m[k];
		}
		size *= 2;
	} else {
		net_forget(to, m, size, size_of(op->bit));
		size /= 2;
	}
	s->max_log[i + 1] = s->max_log[i] + (double)net_rescale(to, size, 300);
}

/* The first of equals stays, so the choice does not hang on the last bit and the story cannot flip when an
 * order of summing changes. */
static void finish(struct story *s, size_t end, double log_b)
{
	assert(s->first < end);
	if (s->any && log_b <= s->best_log + SAME)
		return;
	s->any = true;
	s->best_log = log_b;
	for (size_t i = s->first; i < end; i++)
		if (s->n->flat.at[i].kind == NET_CAUSE)
			s->best[s->n->flat.at[i].what] = s->on[s->n->flat.at[i].what];
}

/* B after op i comes from `from`; leaves the one before it in the op's own table and returns the power
 * taken out. The transposes of the forward steps, in reverse: so that <M, B> means the same whichever
 * step it is taken at. */
static double back_op(struct story *s, size_t i, const double *from)
{
	const struct net_op *op = &s->n->flat.at[i];
	size_t size = size_of(op->width);
	double *to = s->back + s->offset[i];

	if (op->kind == NET_ENTER) {
		const struct net_found *f = &s->n->found[op->what];

		for (size_t k = 0; k < size; k++)
			to[k] = f->lo * from[k] + f->eq * from[k + size];
	} else if (op->kind == NET_LEAVE) {
		net_unforget(to, from, size, size_of(op->bit));
	} else {
		const struct net_cause *c = &s->n->causes[op->what];
		const struct net_child *h = &s->n->children[c->first];

		for (size_t k = 0; k < c->n; k++, h++)
			net_pass_back(to, k == 0 ? from : to, size, size_of(h->bit), h->lo, h->eq, h->hi);
	}
	s->work += (double)size;
	return (double)net_rescale(to, size, 300);
}

static double bound(struct story *s, size_t i, const double *b)
{
	size_t size = size_of(s->n->flat.at[i].width);

	/* The search is bounded by what it touches and not by a clock: the same evidence gives the same
	 * story on a slow machine. */
	s->work += (double)size;
	return log2(net_dot(s->max + s->offset[i], b, size)) + s->max_log[i];
}

/* A first pattern is always finished, however long: only then is there anything to stop with. */
static bool worth(struct story *s, double upper)
{
	bool stop = s->any && s->work > WORK_LIMIT;

	s->cut = s->cut || stop;
	return !stop && (s->any ? upper > s->best_log + SAME : upper > (double)-INFINITY);
}

/* Ops first..i are undecided; b, scaled by 2^log_b, is what the decided ones make of each subset after op
 * i. */
static void search(struct story *s, size_t end, size_t i, const double *b, double log_b)
{
	const struct net_op *op = &s->n->flat.at[i - 1];
	const double *on_b = s->back + s->offset[i - 1];

	if (op->kind != NET_CAUSE) {
		log_b += back_op(s, i - 1, b);
		if (i - 1 == s->first)
			finish(s, end, log_b + log2(*on_b));
		else
			search(s, end, i - 1, on_b, log_b);
	} else {
		const struct net_cause *c = &s->n->causes[op->what];
		double on = log_b + back_op(s, i - 1, b) + log2(c->act), off = log_b + log2(c->in);
		/* Bits of log2: a common power was taken out of each table, and comparing logs puts it back
		 * without leaving the range of double. */
		double upper[2] = { off + bound(s, i - 1, b), on + bound(s, i - 1, on_b) };
		bool on_first = upper[1] > upper[0];

		for (int turn = 0; turn < 2; turn++) {
			bool active = (turn == 0) == on_first;

			if (!worth(s, upper[active]))
				continue;
			s->on[op->what] = active;
			search(s, end, i - 1, active ? on_b : b, active ? on : off);
		}
	}
}

/* Every stretch starts and ends with no fault open, so its first op is an entry. Stretches share no
 * fault, so their best patterns are independent, and cutting there turns a product of searches into a
 * sum. */
static void search_all(struct story *s)
{
	const struct net_ops *ops = &s->n->flat;
	static const double one = 1;
	size_t start = 0;

	for (size_t i = 0; i < ops->n; i++) {
		int after = ops->at[i].width + (ops->at[i].kind == NET_ENTER) -
		    (ops->at[i].kind == NET_LEAVE);

		if (i == start) {
			s->max[s->offset[i]] = 1;
			s->max_log[i] = 0;
		}
		max_op(s, i);
		if (after > 0)
			continue;
		s->first = start;
		s->any = false;
		s->work = 0;
		search(s, i + 1, i + 1, &one, 0);
		start = i + 1;
	}
}

/* P(pattern and evidence), straight from the model. */
static struct net_scaled pattern(struct net *n, const unsigned char *story)
{
	struct net_scaled p = n->constant;

	for (size_t s = 0; s < n->n_found; s++)
		n->found[s].pair[0] = n->found[s].lo, n->found[s].pair[1] = n->found[s].eq;
	for (size_t i = 0; i < n->net->n_causes; i++) {
		const struct net_cause *c = &n->causes[i];

		assert(c->first + c->n <= n->n_children);
		if (c->n == 0)  /* in the constant with in + act */
			net_scaled_mul(&p, (story[i] ? c->act : c->in) / (c->in + c->act));
		else
			net_scaled_mul(&p, story[i] ? c->act : c->in);
		for (size_t k = 0; story[i] && k < c->n; k++) {
			const struct net_child *h = &n->children[c->first + k];
			double *pair = n->found[h->slot].pair;

			pair[1] = h->hi * pair[1] + h->eq * pair[0];
			pair[0] *= h->lo;
		}
	}
	for (size_t s = 0; s < n->n_found; s++)
		net_scaled_mul(&p, n->found[s].pair[1]);
	return p;
}

/* After a search cut short: single changes, as long as one helps. */
static struct net_scaled polish(struct story *s, unsigned char *story)
{
	struct net_scaled best = pattern(s->n, story);
	bool better = s->cut;

	while (better) {
		better = false;
		for (size_t i = 0; i < s->n->net->n_causes; i++) {
			struct net_scaled p;

			story[i] = !story[i];
			p = pattern(s->n, story);
			if (net_scaled_log(&p) > net_scaled_log(&best) + SAME) {
				best = p;
				better = true;
			} else {
				story[i] = !story[i];
			}
		}
	}
	return best;
}

static enum ab_status make_rooms(struct ab_net_scratch *scratch, struct story *s, struct ab_diag *diag)
{
	const struct net_ops *ops = &s->n->flat;
	size_t at = 0, causes = s->n->net->n_causes;

	s->offset = net_room(scratch, NET_R_OFFSET, ops->n + 1, sizeof *s->offset);
	s->max_log = net_room(scratch, NET_R_CHECKPOINT, ops->n + 1, sizeof *s->max_log);
	s->on = net_room(scratch, NET_R_BEST, causes, 1);
	if (s->offset == NULL || s->max_log == NULL || s->on == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for %zu steps", ops->n);
	for (size_t i = 0; i < ops->n; i++) {
		s->offset[i] = at;
		at += size_of(ops->at[i].width);
	}
	s->offset[ops->n] = at;
	/* Too wide for the tables of both families at once: the sums are answered all the same, and the
	 * story says that it is missing. */
	s->cut = at > TABLES_MAX;
	if (s->cut)
		return AB_OK;
	s->max = net_room(scratch, NET_R_POOL, at + 1, sizeof *s->max);
	s->back = net_room(scratch, NET_R_TEMP, at + 1, sizeof *s->back);
	if (s->max == NULL || s->back == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the best joint story");
	return AB_OK;
}

enum ab_status net_story(struct ab_net_scratch *scratch, struct ab_beliefs *b, struct ab_diag *diag)
{
	struct story s = { .n = &scratch->n, .best = b->story };
	enum ab_status st = make_rooms(scratch, &s, diag);
	struct net_scaled p;

	if (st != AB_OK)
		return st;
	if (s.cut) {
		memset(b->story, 0, s.n->net->n_causes);
		b->story_share = 0;
		b->story_proven = -1;
		return AB_OK;
	}
	for (size_t i = 0; i < s.n->net->n_causes; i++)
		s.best[i] = s.n->causes[i].n == 0 && s.n->causes[i].act > s.n->causes[i].in;
	search_all(&s);
	p = polish(&s, s.best);
	b->story_share = p.m / s.n->evidence.m * exp2((double)(p.e - s.n->evidence.e));
	b->story_proven = !s.cut;
	return AB_OK;
}
