/* progress.c - a line at the terminal while a work takes long, gone when it is done
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

#include "cli/cli.h"

/* What takes less than a second needs no word; more than ten lines a second nobody can read (common practice). */
static const double PATIENCE_S = 1, PAUSE_S = 0.1;
enum { IN_SECONDS = 90, MINUTE = 60 };

/* Rounded up: a work that ends early disappoints nobody. */
void progress_line(char *text, const char *what, size_t done, size_t of, double passed_s, int width)
{
	text[0] = '\0';
	if (done == 0 || done >= of)
		return;
	double left_s = ceil(passed_s / (double)done * (double)(of - done));
	bool minutes = left_s > IN_SECONDS;
	const char *unit = minutes ? "min" : "s";
	double left = minutes ? ceil(left_s / MINUTE) : left_s;
	int most = width <= PROGRESS_LONGEST ? width : PROGRESS_LONGEST + 1;
	/* The last column stays free: some terminals go to the next line there, and could not erase this one. */
	int n = snprintf(text, PROGRESS_LONGEST + 1, "%zu of %zu %s, about %.0f %s left", done, of, what, left, unit);
	if (n >= most)
		n = snprintf(text, PROGRESS_LONGEST + 1, "about %.0f %s left", left, unit);
	if (n >= most)
		text[0] = '\0';
}

void progress_start(struct progress *p, const char *what)
{
	progress_erase(p);
	p->what = what;
	p->begun_s = p->drawn_s = p->on ? p->now_s() : 0;
}

/* Back to the first column, and erase to the end of the line (ECMA-48: EL). */
void progress_draw(struct progress *p, size_t done, size_t of)
{
	char text[PROGRESS_LONGEST + 1];
	double now_s = p->on ? p->now_s() : 0;
	if (!p->on || now_s - p->begun_s <= PATIENCE_S || (p->shown && now_s - p->drawn_s < PAUSE_S))
		return;
	progress_line(text, p->what, done, of, now_s - p->begun_s, p->width);
	if (text[0] == '\0')
		return;
	fprintf(p->to, "\r\033[K%s", text);
	fflush(p->to);
	p->shown = true;
	p->drawn_s = now_s;
}

void progress_erase(struct progress *p)
{
	if (p->shown) {
		fputs("\r\033[K", p->to);
		fflush(p->to);
	}
	p->shown = false;
}

/* ---- the one of this run ---- */

static struct progress ours;   /* off until progress_look */
static int widest;             /* what the user asked for */

/* Not the time of day, which may be set back. */
static double now_s(void)
{
	struct timespec t = { 0, 0 };
	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

void progress_look(const struct cli *cli)
{
	const char *term = getenv("TERM");
	ours = (struct progress){ .to = stderr, .now_s = now_s };
	ours.on = isatty(STDERR_FILENO) && term != NULL && *term != '\0' && strcmp(term, "dumb") != 0;
	widest = cli->look.width;
}

void progress_begin(const char *what)
{
	progress_start(&ours, what);
}

/* The terminal is asked each time, as its window may have been made narrower meanwhile. */
void progress_step(size_t done, size_t of)
{
	struct winsize size;
	if (!ours.on)
		return;
	ours.width = widest;
	if (ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 && size.ws_col < widest)
		ours.width = size.ws_col;
	progress_draw(&ours, done, of);
}

static void redrawn(void *ctx, size_t done, size_t of)
{
	(void)ctx;
	progress_step(done, of);
}

const struct ab_progress progress_redraws = { redrawn, NULL };

void progress_hide(void)
{
	progress_erase(&ours);
}
