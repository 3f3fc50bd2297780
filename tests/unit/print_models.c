/* print_models.c - gravity curves fitted to invented readings, or beer temperatures solved, for other programs to
 * do again
 *
 * "curve": a line "set N point H P U", "set N known 0|1 P U" (original, final) for each measurement, then "set N
 * fit Pi Pe B M chi2" and "set N cov" with sixteen numbers. "heat": "run N C KJ B M UA START ROOM AMPLITUDE" (the
 * room swings by a triangle over 24 h), then "run N step S at H T".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <afterboil/curve.h>
#include <afterboil/heat.h>

enum { POINTS = 10, SETS = 9, HOURS = 240 };

/* What the readings come from: the curve, their hours, how far they stray (deg P), and what is known besides. */
static const struct { double param[4], h[POINTS]; size_t n; double stray, u; struct ab_curve_known known[2];
    } sets[SETS] = {
	{ { 12, 2.5, 0.1, 36 }, { 0, 24, 36, 48, 72, 96, 168 }, 7, 0.15, 0.13, { { 0 }, { 0 } } },
	{ { 12, 2.5, 0.1, 36 }, { 0, 24, 36, 48, 72, 96, 168 }, 7, 0.02, 0.13, { { 0 }, { 0 } } },
	{ { 11, 2.8, 0.035, 110 }, { 2, 48, 80, 120, 160, 200, 260, 330 }, 8, 0.1, 0.13, { { 0 }, { 0 } } },
	{ { 15, 1.0, 0.2, 28 }, { 0, 12, 24, 30, 36, 48, 72 }, 7, 0.2, 0.25, { { 0 }, { 0 } } },
	{ { 22, 6.0, 0.05, 70 }, { 0, 20, 45, 70, 95, 120, 180, 260, 300 }, 9, 0.3, 0.5, { { 0 }, { 0 } } },
	{ { 12, 2.5, 0.1, 36 }, { 12, 24, 36, 48, 60 }, 5, 0.1, 0.13, { { true, 12.1, 0.2 }, { 0 } } },
	{ { 12, 2.5, 0.1, 36 }, { 0, 20, 34, 44, 52 }, 5, 0.1, 0.13, { { 0 }, { true, 2.4, 0.15 } } },
	{ { 12, 2.5, 0.12, 40 }, { 24, 36, 48, 60 }, 4, 0.1, 0.13, { { true, 12, 0.01 }, { true, 2.5, 0.01 } } },
	{ { 10, -0.6, 0.08, 50 }, { 0, 30, 50, 60, 80, 100, 140, 200, 240, 300 }, 10, 0.1, 0.13, { { 0 }, { 0 } } },
};

/* Strays that look like a thermometer's and a reader's, the same each time. */
static const double strays[POINTS] = { 0.6, -1.1, 0.4, 1.2, -0.7, -0.2, 0.9, -1.0, 0.3, 0.1 };

static bool print_curve(size_t s)
{
	struct ab_curve from = { .param = { 0 } }, c;
	struct ab_curve_point at[POINTS];

	memcpy(from.param, sets[s].param, sizeof from.param);
	for (size_t i = 0; i < sets[s].n; i++) {
		at[i] = (struct ab_curve_point){ sets[s].h[i],
			ab_curve_at(&from, sets[s].h[i]) + sets[s].stray * strays[(i + s) % POINTS], sets[s].u };
		printf("set %d point %.17g %.17g %.17g\n", (int)s, at[i].h, at[i].p, at[i].u);
	}
	for (int k = 0; k < 2; k++)
		if (sets[s].known[k].known)
			printf("set %d known %d %.17g %.17g\n", (int)s, k, sets[s].known[k].p, sets[s].known[k].u);
	if (ab_curve_fit(at, sets[s].n, sets[s].known[0], sets[s].known[1], &c) != AB_CURVE_FITTED)
		return false;
	printf("set %d fit %.12g %.12g %.12g %.12g %.12g\n", (int)s, c.param[0], c.param[1], c.param[2], c.param[3],
	    c.chi2);
	printf("set %d cov", (int)s);
	for (int i = 0; i < 16; i++)
		printf(" %.12g", c.cov[i / 4][i % 4]);
	putchar('\n');
	return true;
}

static const struct { double c, kj, b, m, ua, start, room, swing; } brews[] = {
	{ 83.6, 973.8, 0.10, 36, 2.5, 20, 20, 0 }, { 83.6, 973.8, 0.20, 36, 12, 20, 20, 0 },
	{ 83.6, 973.8, 0.12, 30, 1.25, 26, 20, 0 },
	{ 83.6, 973.8, 0.035, 103, 2.5, 9, 10, 2 }, { 160, 2100, 0.15, 24, 4, 18, 21, 4 },
	{ 42, 400, 0.10, 40, 1.6, 20, 19, 5 },
};

static void print_heat(int r)
{
	enum { CORNERS = HOURS / 12 + 1 };
	double h[CORNERS], room[CORNERS], c[10 * HOURS];
	struct ab_heat_in in = { brews[r].c, brews[r].kj, brews[r].b, brews[r].m, brews[r].ua, brews[r].start, h,
		room, CORNERS };

	for (int i = 0; i < CORNERS; i++) {
		h[i] = 12 * i;
		room[i] = brews[r].room + (i % 2 == 0 ? 1 : -1) * brews[r].swing / 2;
	}
	printf("run %d %g %g %g %g %g %g %g %g\n", r, brews[r].c, brews[r].kj, brews[r].b, brews[r].m, brews[r].ua,
	    brews[r].start, brews[r].room, brews[r].swing);
	for (int per_hour = 1; per_hour <= 10; per_hour += 9) {
		ab_heat_trace(&in, 1.0 / per_hour, (size_t)(per_hour * HOURS), c);
		for (int k = 6; k < HOURS; k += 6)
			printf("run %d step %g at %d %.9f\n", r, 1.0 / per_hour, k, c[k * per_hour]);
	}
}

int main(int argc, char **argv)
{
	if (argc == 2 && strcmp(argv[1], "curve") == 0) {
		for (size_t s = 0; s < SETS; s++)
			if (!print_curve(s))
				return EXIT_FAILURE;
		return EXIT_SUCCESS;
	}
	if (argc != 2 || strcmp(argv[1], "heat") != 0)
		return EXIT_FAILURE;
	for (size_t r = 0; r < sizeof brews / sizeof *brews; r++)
		print_heat((int)r);
	return EXIT_SUCCESS;
}
