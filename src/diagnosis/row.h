/* row.h - one cause over a brewer's batches: what all others say of each (together.h)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_DIAGNOSIS_ROW_H
#define AB_DIAGNOSIS_ROW_H

#include <afterboil/together.h>

/* The two unknowns of a cause as a grid of nodes: rate x how well changes hold. */
struct row {
	size_t cause, n_nodes, possible, held;   /* batches in which it can be; of them, with changes against it */
	double mean, most;                       /* of alone; the largest share expected to be held off */
	double *rate, *share, *weight;           /* n_nodes */
};

/* Room for the sweeps: as many nodes as a row can have. */
enum { ROW_NODES = AB_TOGETHER_RATES * AB_TOGETHER_SHARES };
struct row_room { double *forward, *likely, back[ROW_NODES]; };   /* n_batches x ROW_NODES, twice */

bool row_possible(double alone);
/* False when memory is short. */
bool row_open(const struct ab_together_of *of, size_t cause, struct ab_arena *arena, struct row *row);
/* The chance of the cause in each batch (n_causes apart) by its facts and what was tasted of the others. */
void row_before(const struct ab_together_of *of, const struct row *row, const double *ratio, struct row_room *room,
    double *before);
/* The same of one batch more, were it brewed as each was. */
void row_next(const struct ab_together_of *of, const struct row *row, const double *ratio, struct row_room *room,
    double *next);

#endif
