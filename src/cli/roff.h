/* roff.h - parts of a manual page in mdoc
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_ROFF_H
#define AB_CLI_ROFF_H

#include "base/str.h"
#include "cli/cli.h"

/* Text, a line each sentence, with nothing in it that roff would take for its own; a newline at its end. */
void roff_prose(struct ab_str *s, const char *text);
/* The same of a text that begins small and has no full stop, as a sentence. */
void roff_sentence(struct ab_str *s, const char *text);
/* Lines as they stand; each ends in a newline. */
void roff_display(struct ab_str *s, const char *text);
/* Breaks the long lines, writes the page and clears s. */
enum ab_status roff_write(struct cli *cli, struct ab_str *s);

#endif
