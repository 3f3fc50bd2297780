/* progress.h - how far a long work is: its line, apart from the terminal and the clock, so that both can be tested
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_PROGRESS_H
#define AB_CLI_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { PROGRESS_LONGEST = 100 };

/* One work at a time. now_s: seconds from any start, never going back. width: columns of the terminal. */
struct progress {
	FILE *to;
	double (*now_s)(void);
	int width;
	bool on, shown;
	const char *what;                /* what is counted: "journals read" */
	double begun_s, drawn_s;
};

/* The line, into PROGRESS_LONGEST + 1 bytes: the time left is what the share done so far took, carried on. Always
 * narrower than width. Empty while nothing is done, when all is, and where there is no room. */
void progress_line(char *text, const char *what, size_t done, size_t of, double passed_s, int width);
void progress_start(struct progress *p, const char *what);
/* Draws when more than a second has passed since the start, and a tenth of one since the last line. */
void progress_draw(struct progress *p, size_t done, size_t of);
void progress_erase(struct progress *p);

#endif
