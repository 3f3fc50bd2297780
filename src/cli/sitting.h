/* sitting.h - one interview: its journal, its file, and what has been said so far
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_SITTING_H
#define AB_CLI_SITTING_H

#include "cli/cli.h"
#include <afterboil/interview.h>

/* One sitting. */
struct sitting {
	struct cli *cli;
	struct ab_interview *iv;
	const char *path;          /* of the journal to write */
	const char *batch;         /* id */
	bool fresh;                /* the file is not there yet, or may be overwritten */
	bool named;                /* its name was given, not chosen here */
	char *saved; size_t len;   /* what is in the file as far as we know; for ab_free */
	size_t questions;
	bool warned;               /* of bursting bottles */
	size_t saves;              /* so far: all of a sitting is taken back as one */
	const char *near[6]; size_t n_near;   /* words offered for one that is none */
	char today[24], folder[512];
};

bool sitting_exists(const char *path);
/* Refuses options that do not go together. */
enum ab_status sitting_check_options(struct cli *cli);
/* Finds or reads the journal, names the batch, reads the profile beside it. */
enum ab_status sitting_prepare(struct sitting *s);
/* Replaces the file by the journal as it stands. AB_ESYSTEM when another program changed it meanwhile. */
enum ab_status sitting_save(struct sitting *s);

/* sitting_end.c: asks for a check that was done already, and its outcome; only one, for after it others may be
 * worth more. last: how the last line came. */
enum ab_status sitting_check(struct sitting *s, enum talk *last);
/* Says which question was the last and why; what the answers come to, with exit status 1 where bottles may burst;
 * in which file they are. */
enum ab_status sitting_say_last(struct sitting *s);
enum ab_status sitting_say_end(struct sitting *s);
enum ab_status sitting_say_where(struct sitting *s);

#endif
