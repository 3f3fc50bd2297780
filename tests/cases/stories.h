/* stories.h - the told stories, and what came of each
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_STORIES_H
#define AB_TESTS_STORIES_H

#include <afterboil/casework.h>

enum { STORIES = 300, ACCEPTED = 8, FIRST = 5, METHODS = 4, LEVELS = 4, DEEP = 1000 };

struct story {
	char id[32];
	int level, main, accept[ACCEPTED];
	size_t n_accept;
	bool benign, contested;
	int rank[METHODS];                   /* of the first accepted cause, from 1; DEEP = not given */
	int given[FIRST];                    /* ours, -1 beyond the last */
	double blame[FIRST];
	bool verdict[METHODS];               /* "nothing is wrong" leads */
};

struct run {
	const struct ab_knowledge *k;
	const char *cases;
	struct ab_diag diag;
	struct ab_arena *arena;
	struct ab_batch *batch;
	struct story story[STORIES];
	size_t n;
};

_Noreturn void stories_give_up(const char *what, const char *why);

/* run_cases.c: reads a story's journal into run->arena and works it as the program does. */
struct ab_case *stories_work(struct run *run, const struct story *s);

/* A count, its share and Wilson's interval, in per cent. */
void stories_print_share(int hits, int n);

/* folds.c: how well each group of stories goes; and what would come of refitting the rules to the others. */
void folds_print(struct run *run);

#endif
