/* roff.c - what the manual pages have in common: prose, sentences, lines as they stand, and the writing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/roff.h"

#include <string.h>

enum { LINE = 78 };

/* A roff text line each sentence; nothing at a line's start or after a backslash may be read as a
 * request. A dot or quote at a line's start would be a request to roff, and the line would vanish
 * without a word. */
void roff_prose(struct ab_str *s, const char *text)
{
	bool start = true;
	for (const char *at = text; *at != '\0'; at++) {
		if (start && (*at == '.' || *at == '\''))
			ab_str_add(s, "\\&");
		start = false;
		if (*at == '\\')
			ab_str_add(s, "\\e");
		else if (*at == ' ' && at > text && strchr(".!?", at[-1]) != NULL) {
			ab_str_add(s, "\n");
			start = true;
		} else
			ab_str_addn(s, at, 1);
	}
	ab_str_add(s, "\n");
}

void roff_sentence(struct ab_str *s, const char *text)
{
	ab_str_addf(s, "%c", text[0] >= 'a' && text[0] <= 'z' ? text[0] - 'a' + 'A' : text[0]);
	roff_prose(s, text + 1);
	s->len -= s->len > 0 && ab_str_ok(s);   /* the newline: the full stop goes before it */
	ab_str_add(s, ".\n");
}

/* A hyphen is written as a minus, or some roffs would print a sign that no file may hold. */
void roff_display(struct ab_str *s, const char *text)
{
	ab_str_add(s, ".Bd -literal\n");
	for (const char *at = text; *at != '\0'; at++)
		if ((at == text || at[-1] == '\n') && (*at == '.' || *at == '\''))
			ab_str_addf(s, "\\&%c", *at);
		else
			ab_str_add(s, *at == '-' ? "\\-" : *at == '\\' ? "\\e" : (char[]){ *at, '\0' });
	ab_str_add(s, ".Ed\n");
}

/* Text lines over 80 bytes broken at blanks, as mdoc wants them; request lines and displays stay whole. Long
 * lines are legal, but mandoc's lint complains and diffs of the page get unreadable. */
static void add_broken(struct ab_str *out, const char *text)
{
	bool display = false;
	while (*text != '\0') {
		size_t n = strcspn(text, "\n"), cut = n;
		display = strncmp(text, ".Bd", 3) == 0 || (display && strncmp(text, ".Ed", 3) != 0);
		if (*text != '.' && n > LINE && !display) {
			for (cut = LINE; cut > 0 && text[cut] != ' '; cut--)
				;
			cut = cut == 0 ? n : cut;
		}
		ab_str_addn(out, text, cut);
		ab_str_add(out, "\n");
		text += cut + (text[cut] != '\0');
	}
}

/* Put together first and broken after, so that who makes a page need not count columns. */
enum ab_status roff_write(struct cli *cli, struct ab_str *s)
{
	struct ab_str broken;
	ab_str_init(&broken, 0);
	add_broken(&broken, ab_str_text(s));
	enum ab_status st =
	    ab_str_ok(s) && ab_str_ok(&broken) ? out_text(cli, ab_str_text(&broken)) : cli_nomem(cli);
	ab_str_clear(s);
	ab_str_clear(&broken);
	return st;
}
