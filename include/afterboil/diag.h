/* diag.h - how a function of afterboil says that it failed
 *
 * Every function that can fail returns an ab_status and takes one caller-owned record. The first error wins:
 * once a record holds an error, later calls leave it alone, so the message names the root, not the echo.
 * The library never prints and never exits; what a user reads is made from this record.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_DIAG_H
#define AFTERBOIL_DIAG_H

/* What went wrong, by whose move it is to mend it. */
enum ab_status {
	AB_OK,          /* nothing */
	AB_EUSAGE,      /* the caller asked for something that does not exist (a command, an option, an id) */
	AB_EINPUT,      /* a file says something it may not say: line and source are set */
	AB_ELIMIT,      /* the input is well formed but larger than a stated limit */
	AB_EIMPOSSIBLE, /* the evidence cannot happen under the rules (see network.h) */
	AB_ENOMEM,      /* an allocation failed */
	AB_ESYSTEM,     /* the operating system, the disk or the store refused */
	AB_STATUS_MAX_
};

enum { AB_DIAG_SOURCE = 256, AB_DIAG_TEXT = 768 };

struct ab_diag {
	enum ab_status status;
	long line;                   /* 1 upward in the source; 0 when no line applies */
	char source[AB_DIAG_SOURCE]; /* file name as given, cut if longer; "" when none applies */
	char text[AB_DIAG_TEXT];     /* one message: what was found, what is allowed, what to do; never ends
	                              * in a newline */
};

/* Makes the record empty (AB_OK). Needs no memory and cannot fail. */
void ab_diag_init(struct ab_diag *diag);

/* Records an error unless one is recorded already, and returns st, so a failing branch is one line.
 * diag may be NULL (the caller only wants the status); source may be NULL (no file). */
enum ab_status ab_fail(struct ab_diag *diag, enum ab_status st, const char *source, long line,
    const char *fmt, ...)
	__attribute__((format(printf, 5, 6)));

/* A short English name of a status ("bad input"), static. */
const char *ab_status_name(enum ab_status st);

#endif
