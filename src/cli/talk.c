/* talk.c - one answer a line from whoever sits at the other end of standard input
 *
 * By read(2) and not by stdio: an interrupt must be seen, and a byte 0 must not end a line unseen.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/select.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "base/str.h"
#include "report/layout.h"

static volatile sig_atomic_t interrupted;
static struct sigaction old_action;
static sigset_t old_mask;

static void on_interrupt(int signal)
{
	(void)signal;
	interrupted = 1;
}

/* Interrupts come through only while an answer is waited for (next_byte): one between the prompt and the read
 * would be noticed only after another key. Every answer is on disk by then, so there is nothing to save; what is
 * left is to say where. */
void talk_begin(void)
{
	struct sigaction action;
	sigset_t blocked;
	sigemptyset(&blocked);
	memset(&action, 0, sizeof action);
	action.sa_handler = on_interrupt;
	sigemptyset(&action.sa_mask);
	interrupted = 0;
	/* Whoever had interrupts ignored (nohup) goes on having them ignored. */
	if (sigaction(SIGINT, NULL, &old_action) == 0 && old_action.sa_handler != SIG_IGN) {
		sigaddset(&blocked, SIGINT);
		sigaction(SIGINT, &action, NULL);
	}
	sigprocmask(SIG_BLOCK, &blocked, &old_mask);
}

void talk_over(void)
{
	if (old_action.sa_handler != SIG_IGN)
		sigaction(SIGINT, &old_action, NULL);
	sigprocmask(SIG_SETMASK, &old_mask, NULL);
}

bool talk_is_terminal(void)
{
	return isatty(STDIN_FILENO) == 1;
}

bool talk_is_piped(void)
{
	struct stat is;
	struct pollfd in = { .fd = STDIN_FILENO, .events = POLLIN };

	return fstat(STDIN_FILENO, &is) == 0 && S_ISFIFO(is.st_mode) && poll(&in, 1, 0) == 1 &&
	    (in.revents & POLLIN) != 0;
}

/* The only clock of the program. */
void talk_today(char *text, size_t size)
{
	time_t now = time(NULL);
	struct tm *day = localtime(&now);
	if (day == NULL || strftime(text, size, "%Y-%m-%d", day) == 0)
		snprintf(text, size, "1970-01-01");
}

double talk_hour(void)
{
	time_t now = time(NULL);
	struct tm *day = localtime(&now);
	return day == NULL ? 0 : day->tm_hour + day->tm_min / 60.0;
}

/* One byte, or -1 at the end. */
static int next_byte(void)
{
	static unsigned char buffer[4096];
	static size_t at, n;
	if (at < n)
		return buffer[at++];
	for (;;) {
		fd_set input;
		FD_ZERO(&input);
		FD_SET(STDIN_FILENO, &input);
		if (pselect(STDIN_FILENO + 1, &input, NULL, NULL, NULL, &old_mask) < 0) {
			if (errno == EINTR && !interrupted)
				continue;
			return -1;
		}
		ssize_t got = read(STDIN_FILENO, buffer, sizeof buffer);
		if (got > 0) {
			n = (size_t)got;
			at = 1;
			return buffer[0];
		}
		if (got == 0 || errno != EINTR)
			return -1;
	}
}

/* A line with what is no text in it: scrubbed, and then not used. */
static enum talk tidy(char *text, size_t n, bool too_long)
{
	char as_typed[TALK_LONGEST + 1];
	bool odd = memchr(text, '\0', n) != NULL;
	while (n > 0 && strchr(" \t\r", text[n - 1]) != NULL)
		n--;
	text[n] = '\0';
	for (size_t i = 0; i < n; i++)
		text[i] = text[i] == '\t' ? ' ' : text[i];
	size_t lead = strspn(text, " ");
	memmove(text, text + lead, strlen(text + lead) + 1);
	memcpy(as_typed, text, strlen(text) + 1);
	ab_text_scrub(text);
	return odd || too_long || strcmp(as_typed, text) != 0 ? TALK_ODD : TALK_LINE;
}

enum talk talk_ask(struct cli *cli, char *text)
{
	size_t n = 0;
	bool too_long = false;
	int c;
	text[0] = '\0';
	if (out_text(cli, "> ") != AB_OK || fflush(stdout) != 0)
		return TALK_END;
	while ((c = next_byte()) != -1 && c != '\n') {
		too_long = too_long || n == TALK_LONGEST;
		if (n < TALK_LONGEST)
			text[n++] = (char)c;
	}
	if (interrupted)
		return TALK_INTERRUPTED;
	/* A last line without a newline still counts. */
	if (c == -1 && n == 0)
		return TALK_END;
	enum talk what = tidy(text, n, too_long);
	if (!talk_is_terminal()) {
		out_text(cli, text);
		out_text(cli, "\n");
	}
	return what;
}

/* Broken between words where a terminal would break within them, and set in as the first line is. */
static enum ab_status say_lines(struct cli *cli, const char *text, int width)
{
	size_t in = strspn(text, " ");
	enum ab_status st = AB_OK;

	for (const char *at = text; st == AB_OK;) {
		const char *lead = at == text ? "" : ab_arena_printf(cli->arena, "%*s", (int)in, "");
		size_t left = strlen(at), fit = page_fit(at, left, width - (at == text ? 0 : (int)in)), end = fit;
		while (fit < left && end > in && at[end] != ' ')
			end--;
		end = fit == left || end <= in ? fit : end;
		const char *line = ab_arena_printf(cli->arena, "%s%.*s\n", lead == NULL ? "" : lead, (int)end, at);
		st = line == NULL ? cli_nomem(cli) : out_text(cli, line);
		at += end;
		at += strspn(at, " ");
		if (*at == '\0')
			break;
	}
	return st;
}

enum ab_status talk_say(struct cli *cli, const char *text)
{
	char safe[1200];
	snprintf(safe, sizeof safe, "%.1100s", text);
	ab_text_scrub(safe);
	return say_lines(cli, safe, talk_is_terminal() && cli->look.width > 0 ? cli->look.width : (int)sizeof safe);
}

bool talk_is_word(const char *text, const char *const *words)
{
	for (; *words != NULL; words++)
		if (ab_word_cmp(text, *words) == 0)
			return true;
	return false;
}
