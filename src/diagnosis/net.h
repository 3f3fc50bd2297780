/* net.h - the network as the solver sees it: numbers prepared, found faults numbered, a list of table steps
 *
 * network.c checks, prepare.c prepares, order.c finds an order, steps.c lists the steps, sweep.c sums, story.c
 * maximises. Everything lives in one scratch whose rooms only ever grow, so a second solve of like size allocates
 * nothing.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_DIAGNOSIS_NET_H
#define AB_DIAGNOSIS_NET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <afterboil/network.h>

/* A link from a cause that can be active to a found fault, seen at the observed grade. */
struct net_child {
	int slot;            /* the found fault */
	int bit;             /* its bit in the table when the cause's turn comes (set by steps.c) */
	bool counts;         /* pushing it is blame */
	double lo, eq, hi;   /* P(level below), P(level equal), lo + eq rounded once */
};

struct net_cause {
	double in, act;      /* P(inactive), P(active and no absent fault noticed) */
	double alone;        /* P(active) before any evidence */
	size_t first, n;     /* its children, those that count last */
	double before[2];    /* a private cause: the pair of its fault before its turn, forward */
};

struct net_found {
	int fault;
	double lo, eq;       /* its leak */
	size_t first, n;     /* private causes: those with no other found child (into net.privates) */
	size_t shared;       /* number of causes it shares with other found faults */
	double pair[2];      /* leak and private causes together, forward */
};

enum net_op_kind { NET_ENTER, NET_CAUSE, NET_LEAVE };

/* One step on the table. An entering fault takes the top bit. */
struct net_op {
	enum net_op_kind kind;
	int what;            /* cause, or slot of a found fault */
	int width;           /* open faults before the step */
	int bit;             /* of the fault that leaves */
};

struct net_ops { struct net_op *at; size_t n; int width; };

/* A positive number m * 2^e with room below and above any double. */
struct net_scaled { double m; long e; };

enum net_room {
	NET_R_CAUSES,
	NET_R_CHILDREN,
	NET_R_FOUND,
	NET_R_PRIVATES,
	NET_R_SLOTS,
	NET_R_STAMP,
	NET_R_START,
	NET_R_ORDER,
	NET_R_MASKS,
	NET_R_OPS,
	NET_R_FLAT,
	NET_R_POOL,
	NET_R_CHECKPOINT,
	NET_R_TEMP,
	NET_R_OFFSET,
	NET_R_BEST,
	NET_R_ANY_ODDS,
	NET_R_ANY_LINKS,
	NET_R_ROOMS
};

struct net_room_mem { void *p; size_t size; };

struct net {
	const struct ab_net *net;
	struct net_cause *causes;      /* net->n_causes */
	struct net_child *children;
	struct net_found *found;
	int *privates;
	size_t n_found, n_children;
	struct net_ops ops;            /* private causes folded into their fault's entry */
	struct net_ops flat;           /* private causes as steps of their own, for the story */
	struct net_scaled constant;    /* leaks of absent faults, causes without a found child */
	struct net_scaled evidence;
};

struct ab_net_scratch {
	struct net_room_mem rooms[NET_R_ROOMS];
	struct net n;
};

/* A room of at least n * size bytes, contents undefined; NULL when memory is short. */
void *net_room(struct ab_net_scratch *s, enum net_room which, size_t n, size_t size);

void net_scaled_mul(struct net_scaled *x, double by);
double net_scaled_log(const struct net_scaled *x);

/* Numbers the found faults and fills s->n from a network that was checked. AB_EUSAGE: two links from one cause to
 * one fault. */
enum ab_status net_prepare(struct ab_net_scratch *s, const struct ab_net *net, struct ab_diag *diag);
bool net_is_found(const struct ab_finding *f);

/* Puts into s->n.ops (and s->n.flat when flat) an order of elimination that keeps few found faults open. */
enum ab_status net_order(struct ab_net_scratch *s, bool flat, struct ab_diag *diag);

/* The steps of the causes that share faults, in this order, into ops, which has room; when flat, private causes as
 * steps of their own. Sets the bits of the children. */
void net_write_steps(struct net *n, const int *causes, size_t n_causes, struct net_ops *ops, bool flat);

/* Sets s->n.evidence and fills present and blame (either may be NULL) of the causes that have found
 * children. */
enum ab_status net_sweep(struct ab_net_scratch *s, double *present, double *blame, struct ab_diag *diag);

/* Fills story, story_share and story_proven; net_sweep has been run. */
enum ab_status net_story(struct ab_net_scratch *s, struct ab_beliefs *beliefs, struct ab_diag *diag);

/* table.c: passes over a table of 2^width positive numbers. step is 1 << bit of the child. */
void net_pass(double *to, const double *from, size_t size, size_t step, double lo, double eq, double hi);
void net_pass_add(double *to, const double *from, const double *old, double in, size_t size, size_t step,
    double lo, double eq, double hi);
void net_pass_back(double *to, const double *from, size_t size, size_t step, double lo, double eq, double hi);
void net_push_first(double *to, const double *b, size_t size, size_t step, double eq);
void net_push_next(double *to, const double *b, double c, size_t size, size_t step, double lo,
    double eq, double hi);
void net_mix(double *b, double in, const double *rest, double rest_by, const double *push, double push_by,
    size_t size);
void net_forget(double *to, const double *from, size_t size, size_t step);
void net_unforget(double *to, const double *from, size_t size, size_t step);
double net_dot(const double *a, const double *b, size_t n);
/* Multiplies the table by a power of two that brings its largest entry to about 2^top; returns the exponent
 * taken out. */
long net_rescale(double *table, size_t n, int top);

#endif
