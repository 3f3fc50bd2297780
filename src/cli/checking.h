/* checking.h - what the files of "check" share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_CHECKING_H
#define AB_CLI_CHECKING_H

#include "cli/cli.h"

/* One line on standard output, made safe; NULL: out of memory. */
enum ab_status check_line(struct cli *cli, const char *text);
/* Says that a change the rules do not know is odd, with what is near; NULL is told by nobody. element: where it
 * stands. */
enum ab_status check_change(struct cli *cli, const char *file, const char *element, long line, const char *id);
/* What the rules do not know of the profile, and that it was read. */
enum ab_status check_profile(struct cli *cli);
bool check_trouble_known(const struct cli *cli, const struct ab_trouble *t);
/* Says the profile back: what it was taken for. cases: of the batches read. */
enum ab_status check_understood(struct cli *cli, struct ab_case *const *cases);

#endif
