/* clicase.h - one run of the program without its main, for the tests of its parts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_CLICASE_H
#define AB_TESTS_CLICASE_H

#include "cli/commands.h"

/* An empty run of a command (NULL: without one), as main begins it; ends with cc_end, which removes its folder. */
void cc_begin(struct cli *cli, const struct command *command);
void cc_end(struct cli *cli);

/* What f writes to standard output; fails the test unless f ends with AB_OK. The caller frees it. */
char *cc_written(enum ab_status (*f)(struct cli *cli), struct cli *cli);

/* A folder for this test alone, with a slash at its end; cc_put writes a file into it and returns its path, which
 * lives as long as the test's arena. */
const char *cc_folder(struct cli *cli);
const char *cc_put(struct cli *cli, const char *folder, const char *name, const char *text);

#endif
