/* print_urn.c - what held.h and revise.h say to questions on standard input, for comparison with another program
 *
 * A question a line: "held SHARE RATE (RATIO WITH).." answers share and its scatter; "verdict RATE (FOUND SIGN
 * STRENGTH TAKEN LEAK).." the chance of the later tastings; "drift SHARE RATE (RATIO PLACE WITH).." share and its
 * scatter, a drift allowed for; "faded SHARE RATE (BEFORE AFTER TELLS LEFT WITH).." share, its scatter, and the
 * strikes without, those that would have come with it and those held off; "next KEEPS (ALONE HELD RATIO).." the
 * chance in one batch more, brewed as each was. What stands after '=' is passed over. Prints the question, '=' and
 * the answers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/held.h>
#include <afterboil/revise.h>
#include <afterboil/together.h>

enum { MOST = 60, NUMBERS = 5 * MOST + 2 };

static void held(const double *x, size_t n)
{
	struct ab_exposed b[MOST];
	struct ab_share_learned l;

	for (size_t i = 0; 2 * i + 3 < n; i++)
		b[i] = (struct ab_exposed){ x[2 * i + 2], x[2 * i + 3] > 0 };
	l = ab_held_share(x[0], x[1], b, (n - 2) / 2);
	printf(" %.15g %.15g", l.share, l.sd);
}

static void drifting(const double *x, size_t n)
{
	struct ab_exposed b[MOST];
	double place[MOST];
	struct ab_share_learned l;

	for (size_t i = 0; 3 * i + 4 < n; i++) {
		b[i] = (struct ab_exposed){ x[3 * i + 2], x[3 * i + 4] > 0 };
		place[i] = x[3 * i + 3];
	}
	l = ab_held_share_drifting(x[0], x[1], b, place, (n - 2) / 3);
	printf(" %.15g %.15g", l.share, l.sd);
}

static void faded(const double *x, size_t n)
{
	struct ab_exposed b[MOST];
	struct ab_share_learned l;

	for (size_t i = 0; 5 * i + 6 < n; i++) {
		const double *q = x + 5 * i + 2;

		b[i] = (struct ab_exposed){ ab_exposed_beside(ab_exposed_faded(q[0], q[1], q[2]), q[3]), q[4] > 0 };
	}
	l = ab_held_share(x[0], x[1], b, (n - 2) / 5);
	printf(" %.15g %.15g %.15g %.15g %.15g", l.share, l.sd, l.struck, l.would, l.held);
}

static void verdict(const double *x, size_t n)
{
	struct ab_later b[MOST];

	for (size_t i = 0; 5 * i + 5 < n; i++)
		b[i] = (struct ab_later){ x[5 * i + 1] > 0, x[5 * i + 2], x[5 * i + 3], x[5 * i + 4], x[5 * i + 5] };
	printf(" %.15g", ab_revise_chance(x[0], b, (n - 1) / 5));
}

static void next(const double *x, size_t n)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_together_batch b[MOST];
	struct ab_together t;
	struct ab_diag diag;
	struct ab_together_of of = { .batches = b,
		.n_batches = (n - 1) / 3,
		.n_causes = 1,
		.rate_batches = AB_HELD_RATE_BATCHES,
		.share_batches = AB_HELD_SHARE_BATCHES,
		.keeps = x[0],
		.rounds = 1 };

	ab_diag_init(&diag);
	for (size_t i = 0; i < of.n_batches; i++)
		b[i] = (struct ab_together_batch){
			.alone = &x[3 * i + 1], .held = &x[3 * i + 2], .ratio = &x[3 * i + 3]
		};
	if (arena == NULL || ab_together_solve(&of, arena, &t, &diag) != AB_OK)
		exit(1);
	for (size_t i = 0; i < of.n_batches; i++)
		printf(" %.15g", t.next[i]);
	ab_arena_free(arena);
}

int main(void)
{
	static char line[8192];
	double x[NUMBERS];

	while (fgets(line, sizeof line, stdin) != NULL) {
		size_t n = 0;
		char *at = line + strcspn(line, " "), *end;

		line[strcspn(line, "=\n")] = '\0';
		for (double v = strtod(at, &end); end != at && n < NUMBERS; v = strtod(at, &end)) {
			x[n++] = v;
			at = end;
		}
		printf("%s=", line);
		if (strncmp(line, "held ", 5) == 0)
			held(x, n);
		else if (strncmp(line, "drift ", 6) == 0)
			drifting(x, n);
		else if (strncmp(line, "faded ", 6) == 0)
			faded(x, n);
		else if (strncmp(line, "next ", 5) == 0)
			next(x, n);
		else
			verdict(x, n);
		putchar('\n');
	}
	return 0;
}
