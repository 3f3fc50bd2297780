/* planning.h - the insides of plan.h, shared by the files that solve it and by their tests
 *
 * model.c reduces a problem to what is still open; bound.c prices it and lower.c lowers the bound; start.c finds
 * first plans; search.c proves; frontier.c repeats that over falling budgets. The inequality behind every bound
 * stands at the top of bound.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_PLANNING_H
#define AB_ADVICE_PLANNING_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/plan.h>

/* How many open changes of one cause are scanned together (2^k sets); the weaker rest is paid in full. */
enum { PLAN_SCAN = 14, PLAN_SCAN_MAX = 14 };

/* Subgradient steps at the root when the prices of a near budget are at hand; nodes when the caller sets no
 * limit. */
enum { PLAN_WARM_STEPS = 60, PLAN_NODE_LIMIT = 200000 };

_Static_assert(AB_PLAN_JOINT < 32, "a set of a table's changes is an unsigned");

enum plan_state { PLAN_OPEN, PLAN_IN, PLAN_NOT };

struct plan_arc { int change, needs; };

/* The problem without owned, ruled-out and useless changes and without causes nothing open touches. Changes
 * keep their order. An edge is one effect; the edges of a cause lie together, the strongest first. Each
 * change outside a group is its own group. */
struct plan_model {
	size_t n, m, n_edges, n_arcs, n_budgets, n_groups;
	int *original;                         /* n: index in the problem */
	double *load;                          /* m: what the owned changes leave of the cause's load */
	size_t *first;                         /* m + 1: edges of cause i are first[i] .. first[i + 1] - 1 */
	int *change, *cause, *effect;          /* n_edges: ends, and the place in the problem */
	double *share;                         /* n_edges; within a table: of the change alone */
	const double **table;                  /* m: what sets of changes remove of the cause; NULL = shares
	                                        * multiply */
	unsigned *bit;                         /* n_edges: the change's place in the table */
	int joint;                             /* most edges of a cause with a table */
	size_t *use_first, *use;               /* n + 1, n_edges: the edges of a change, by cause */
	double *cost;                          /* n x n_budgets, only budgets that limit anything */
	int axis[AB_BUDGETS];                  /* index in the problem */
	double budget[AB_BUDGETS], slack[AB_BUDGETS];
	struct plan_arc *arcs;                 /* needs, then "a copy never before its original" */
	unsigned char *has_needs;              /* n */
	int *group;                            /* n */
	size_t *group_first;                   /* n_groups + 1 */
	int *member;                           /* n */
	double before;                         /* load left with the owned changes, all causes */
	double tie;                            /* plans closer than this are equally good */
	void *block;
};

/* One node of the search: what is decided, and the prices in force. One block, so a child is one memcpy. */
struct plan_node {
	unsigned char *state;                  /* n, enum plan_state */
	double *left;                          /* m: load left by the changes taken */
	unsigned *mask;                        /* m: which of a table's changes are taken */
	double *pay;                           /* n_edges: w, what the cause pays the change */
	double *subsidy;                       /* n_arcs: mu >= 0, what a change pays the one it needs */
	double charge[AB_BUDGETS];             /* lambda >= 0 */
	double room[AB_BUDGETS];
	double value, bound;                   /* f(taken); no plan of this node removes more than bound */
	int taken;
	void *block;
	size_t size;
};

/* An arc with a decided end is settled by propagation and has no price any more. */
static inline bool plan_arc_live(const struct plan_model *m, const struct plan_node *node, size_t k)
{
	return node->state[m->arcs[k].change] == PLAN_OPEN && node->state[m->arcs[k].needs] == PLAN_OPEN;
}

/* Working space of the bound; after plan_bound_price it tells what each decision would cost. */
struct plan_bound {
	const struct plan_model *model;
	int scan;                              /* at most PLAN_SCAN_MAX; tables are always scanned whole */
	size_t n_open, n_live;
	int *open;                             /* changes still open */
	int *live;                             /* causes an open change touches */
	size_t *scan_first, *scanned;          /* the edges scanned of each live cause */
	double *worth;                         /* n: r_u */
	double *loss_in, *loss_not;            /* n: how far the bound falls when u is forced in, or out */
	double *edge_in, *edge_not;            /* n_edges: the same within one cause */
	double *slope, *best_pay, *best_subsidy, *slope_subsidy;
	double *keep, *value;                  /* 2^scan */
	unsigned *index;                       /* 2^joint */
	unsigned char *in_scan;                /* n_edges: 0 = paid in full */
	unsigned char *picked;                 /* n: its group would take it */
	double best_charge[AB_BUDGETS], slope_charge[AB_BUDGETS];
	void *block;
};

/* A feasible plan met on the way, for a later budget of the frontier. */
struct plan_met { double cost, value; unsigned char chosen[AB_PLAN_CHANGES]; };

struct plan_pool { struct plan_met *met; size_t n, room; size_t axis; };

struct plan_options {
	int scan;        /* 0 = PLAN_SCAN */
	int root_steps;  /* 0 = usual */
};

struct plan_search {
	const struct plan_model *model;
	struct plan_bound bound;
	struct plan_node *level[AB_PLAN_CHANGES + 2];
	struct plan_node *blank;               /* nothing decided: where swaps start from */
	struct plan_pool *pool;                /* NULL outside a frontier */
	bool found;
	unsigned char best[AB_PLAN_CHANGES];
	int best_count;
	double best_value, top_value;          /* of the best; the highest met (they differ by less than a
	                                        * tie) */
	double swapped_value;                  /* of the plan last improved by swaps */
	double open_bound;                     /* highest bound of a node given up at the limit */
	long nodes, node_limit, tie_nodes;
	int root_steps;
	enum ab_status status;
};

/* A set of changes while start.c builds it. */
struct plan_set {
	unsigned char in[AB_PLAN_CHANGES];
	double left[AB_PLAN_CAUSES], room[AB_BUDGETS];
	unsigned mask[AB_PLAN_CAUSES];
};

/* Rounds up so that arrays of any type can share one block. base == NULL only measures. */
void *plan_carve(char *base, size_t *used, size_t count, size_t size);

/* Edges a problem can have: its effects, then the places of its tables, one after the other. */
size_t plan_places(const struct ab_problem *problem);
/* keep_axis >= 0 keeps that budget in the model even when it is INFINITY. The model is *out's until
 * plan_model_free. */
enum ab_status plan_model_new(const struct ab_problem *problem, int keep_axis, struct plan_model **out,
    struct ab_diag *diag);
void plan_model_free(struct plan_model *model);
/* What one more edge takes of its cause when `left` of it is left and `mask` is taken. */
double plan_model_gain(const struct plan_model *model, size_t edge, double left, unsigned mask);
/* f(chosen) in a fixed order of operations, so one set has one value. */
double plan_model_value(const struct plan_model *model, const unsigned char *chosen);
double plan_model_cost(const struct plan_model *model, const unsigned char *chosen, size_t budget);

struct plan_node *plan_node_new(const struct plan_model *model);
void plan_node_free(struct plan_node *node);
void plan_node_reset(const struct plan_model *model, struct plan_node *node);   /* all open, prices kept */
void plan_node_copy(struct plan_node *to, const struct plan_node *from);
bool plan_node_fits(const struct plan_model *model, const struct plan_node *node);
void plan_node_take(const struct plan_model *model, struct plan_node *node, int u);
/* Draws every conclusion from needs, groups and budgets; false when no plan is left in the node. */
bool plan_node_propagate(const struct plan_model *model, struct plan_node *node);

bool plan_bound_init(struct plan_bound *b, const struct plan_model *model, int scan);
void plan_bound_clear(struct plan_bound *b);
/* To be called whenever a state of the node changed, before anything below. */
void plan_bound_focus(struct plan_bound *b, struct plan_node *node);
/* Fills worth: r_u of the formula in bound.c. */
void plan_bound_weigh(struct plan_bound *b, const struct plan_node *node);
/* All 2^k sets of the scanned changes of one live cause at the node's payments: the best of them; fills what
 * each decision would cost there. */
double plan_bound_scan(struct plan_bound *b, const struct plan_node *node, size_t live);
/* The bound at the node's prices; fills worth, picked and the losses. */
double plan_bound_price(struct plan_bound *b, struct plan_node *node);
/* Moves each charge to where the bound is lowest, one budget at a time. */
void plan_bound_charge(struct plan_bound *b, struct plan_node *node);
/* Coordinate descent over payments and subsidies, one pass. */
void plan_bound_sweep(struct plan_bound *b, struct plan_node *node);
/* One subgradient step; `gap` is the bound's distance to what it is hoped to reach. */
void plan_bound_step(struct plan_bound *b, struct plan_node *node, double gap, bool fresh);
void plan_bound_keep(struct plan_bound *b, const struct plan_node *node);
void plan_bound_restore(const struct plan_bound *b, struct plan_node *node);

/* First plans: greedy by gain per cost, then swaps. */
void plan_start_greedy(struct plan_search *s);
/* Swaps on the best plan, unless they were tried on it before. */
void plan_start_swap(struct plan_search *s);
/* Fills the node's taken set in the order of what the prices think of each change. */
void plan_start_priced(struct plan_search *s, const struct plan_node *node);

bool plan_search_init(struct plan_search *s, const struct plan_model *model,
    const struct plan_options *options, long node_limit);
void plan_search_clear(struct plan_search *s);
/* A feasible plan: keeps it when it is better, or as good and preferred. */
void plan_search_offer(struct plan_search *s, const unsigned char *chosen);
/* Below this no plan of a node can matter. */
double plan_search_cutoff(const struct plan_search *s);
enum ab_status plan_search_run(struct plan_search *s, struct ab_diag *diag);

/* The root prices as a certificate anyone can check; pay per place, subsidy per arc, in the problem's
 * numbering. */
struct plan_certificate {
	double bound, charge[AB_BUDGETS];
	double *pay;                           /* caller's, plan_places */
	unsigned char *open;                   /* caller's, n_changes: 1 = in the model */
	struct plan_arc *arcs;                 /* caller's, n_needs + n_changes */
	double *subsidy;                       /* the same */
	size_t n_arcs;
};
enum ab_status plan_certify(const struct ab_problem *problem, const struct plan_options *options,
    struct plan_certificate *out, struct ab_diag *diag);

/* ab_plan_solve with knobs, for tests. */
enum ab_status plan_solve_with(const struct ab_problem *problem, const struct plan_options *options,
    struct ab_choice *choice, struct ab_diag *diag);
/* Is the set within every limit, to the rounding of its sums (as plan.h)? */
bool plan_within(const struct ab_problem *problem, const unsigned char *chosen);
enum ab_status plan_check(const struct ab_problem *problem, struct ab_diag *diag);

#endif
