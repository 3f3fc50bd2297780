/* sheetrun.h - one run of "sheet" or "enter": the batch, the brew before it, and their texts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_SHEETRUN_H
#define AB_CLI_SHEETRUN_H

#include "cli/cli.h"
#include <afterboil/sheet.h>

struct sheet_run {
	struct cli *cli;
	struct ab_sheet_setup setup;
	struct ab_sheet *sheet;
	struct ab_when on;
	char *text, *like_text;     /* for ab_free */
	char today[24];
};

/* next: a tasted batch, or the name of a beer, stands for the next brew of it; else it must be a batch. To be
 * followed by sheet_done, whatever is returned. */
enum ab_status sheet_prepare(struct sheet_run *r, bool next);
/* sheetdays.c: the days of the setup, and its sugar. next: for a page to print; else for what is typed in. */
enum ab_status sheet_days(struct sheet_run *r, double today_s, bool next);
void sheet_done(struct sheet_run *r);

#endif
