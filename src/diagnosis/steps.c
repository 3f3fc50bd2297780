/* steps.c - an order of causes as a list of steps on the table: faults enter, causes work, faults leave
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/net.h"

#include <assert.h>

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
void net_write_steps(struct net *n, const int *causes, size_t n_causes, struct net_ops *ops, bool flat)
{
	struct writer w = { .n = n, .ops = ops, .flat = flat };
	size_t left[AB_NET_FAULTS];   /* shared causes of each fault still to come */

	for (size_t s = 0; s < n->n_found; s++) {
		left[s] = n->found[s].shared;
		if (left[s] == 0) {
			enter(&w, (int)s);
			leave(&w, (int)s);
		}
	}
	for (size_t i = 0; i < n_causes; i++) {
		const struct net_cause *c = &n->causes[causes[i]];

		for (size_t k = 0; k < c->n; k++)
			if (!w.open[n->children[c->first + k].slot])
				enter(&w, n->children[c->first + k].slot);
		emit_cause(&w, causes[i]);
		for (size_t k = 0; k < c->n; k++)
			if (--left[n->children[c->first + k].slot] == 0)
				leave(&w, n->children[c->first + k].slot);
	}
}
