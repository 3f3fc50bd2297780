/* terminal.c - how wide, how colourful, which signs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <langinfo.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

enum { USUAL = 80, READABLE = 100, NARROWEST = 40 };

/* Lines over 100 columns are hard to read on the widest screen (common practice). */
static int clip(long columns)
{
	return columns < NARROWEST ? NARROWEST : columns > READABLE ? READABLE : (int)columns;
}

/* --width may ask for more than is good to read; what the terminal says may not. COLUMNS before the
 * terminal: who exports it wants it, and tests need it. */
static int width_of(const struct options *o)
{
	struct winsize size;
	const char *columns = getenv("COLUMNS");
	long told = columns == NULL ? 0 : strtol(columns, NULL, 10);
	if (!isnan(o->width))
		return (int)o->width;
	if (told > 0)
		return clip(told);
	if (isatty(STDOUT_FILENO) && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
		return clip(size.ws_col);
	return USUAL;
}

/* NO_COLOR counts when set and not empty (the manual says so). --color always overrules it: the nearer
 * word wins. */
static bool colors(const struct options *o)
{
	const char *no = getenv("NO_COLOR"), *term = getenv("TERM");
	enum { AUTO, ALWAYS, NEVER };
	if (o->color != AUTO)
		return o->color == ALWAYS;
	return isatty(STDOUT_FILENO) && (no == NULL || *no == '\0') &&
	    (term == NULL || strcmp(term, "dumb") != 0);
}

/* Called before the profile is read, for help, and again after, for units and currency. */
void terminal_look(struct cli *cli)
{
	cli->look = (struct ab_look){ .format = (enum ab_format)cli->o.format,
		.width = width_of(&cli->o),
		.color = colors(&cli->o),
		.unicode = cli->o.format == AB_HTML || strcmp(nl_langinfo(CODESET), "UTF-8") == 0,
		.verbose = cli->o.all,
		.currency = "$" };
	if (cli->profile == NULL)
		return;
	cli->look.us_units = cli->profile->units == 2;
	if (cli->profile->currency != NULL)
		cli->look.currency = cli->profile->currency;
}
