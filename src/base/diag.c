/* diag.c - the one record of what went wrong; the first error wins
 *
 * What a message quotes may come from a stranger's file, so the text is scrubbed here, once, for every
 * caller.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/diag.h>

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"

static const char *const names[] = {
	[AB_OK] = "ok",
	[AB_EUSAGE] = "wrong usage",
	[AB_EINPUT] = "bad input",
	[AB_ELIMIT] = "too large",
	[AB_EIMPOSSIBLE] = "impossible evidence",
	[AB_ENOMEM] = "out of memory",
	[AB_ESYSTEM] = "system trouble",
};
_Static_assert(sizeof names / sizeof *names == AB_STATUS_MAX_, "every status needs a name");

void ab_diag_init(struct ab_diag *diag)
{
	diag->status = AB_OK;
	diag->line = 0;
	diag->source[0] = '\0';
	diag->text[0] = '\0';
}

/* Marks text that did not fit: a reader must see that something is missing. A character of UTF-8 cut in
 * two would be scrubbed to '?' later, and a message would end in rubbish: the dots take the place of all
 * of it. */
static void show_cut(char *text, size_t size)
{
	memcpy(text + size - 4, "...", 4);
	/* the bytes before the dots may be half a character */
	size_t at = size - 4;
	while (at > 0 && ((unsigned char)text[at - 1] & 0xC0) == 0x80)
		at--;
	if (at > 0 && (unsigned char)text[at - 1] >= 0xC0)
		memcpy(text + at - 1, "...", 4);
}

enum ab_status ab_fail(struct ab_diag *diag, enum ab_status st, const char *source, long line,
    const char *fmt, ...)
{
	assert(st != AB_OK);
	/* Whatever fails after the first failure is mostly its echo (a file left unread, a record left half
	 * made); a user can only act on the root. NULL is for callers that want the status alone. */
	if (diag == NULL || diag->status != AB_OK)
		return st;
	diag->status = st;
	diag->line = line > 0 ? line : 0;
	int n = snprintf(diag->source, sizeof diag->source, "%s", source == NULL ? "" : source);
	if (n >= (int)sizeof diag->source)
		show_cut(diag->source, sizeof diag->source);
	va_list args;
	va_start(args, fmt);
	n = vsnprintf(diag->text, sizeof diag->text, fmt, args);
	va_end(args);
	/* A format that cannot be printed still tells what kind of trouble it is. */
	if (n < 0)
		snprintf(diag->text, sizeof diag->text, "%s", ab_status_name(st));
	if (n >= (int)sizeof diag->text)
		show_cut(diag->text, sizeof diag->text);
	size_t len = strlen(diag->text);
	/* libxml2 ends its messages with a newline. */
	while (len > 0 && (diag->text[len - 1] == '\n' || diag->text[len - 1] == ' '))
		diag->text[--len] = '\0';
	ab_text_scrub(diag->source);
	ab_text_scrub(diag->text);
	return st;
}

const char *ab_status_name(enum ab_status st)
{
	return (unsigned)st < AB_STATUS_MAX_ ? names[st] : "unknown status";
}
