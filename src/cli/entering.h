/* entering.h - one run of "enter": what is asked, what was answered, and how an answer gets into the journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_ENTERING_H
#define AB_CLI_ENTERING_H

#include "cli/logwords.h"
#include "cli/sheetrun.h"

/* One answer that was written, and the text from before it. */
struct step { size_t at; char *before, *after; size_t before_len, after_len; };

/* What is asked, one after another. */
struct item { const struct ab_sheet_box *box; const struct ab_sheet_part *part; };

struct entering {
	struct cli *cli;
	struct sheet_run run;
	const char *path, *id;
	struct item *items; size_t n, at;
	size_t later;
	double later_d; /* questions of days to come, and the first of those days, from brewing on */
	struct step *steps; size_t n_steps;   /* room for n */
	/* of the answer being written */
	const char *said;
	struct ab_sheet_reply reply;
	bool reached;                         /* the text was read, and what fails now is the answer */
	size_t written;
	bool kept;                            /* something of this sitting is kept for --undo already */
	struct undoing undo;
};

/* What became of a line: taken, to be typed again, the end, or an interrupt. */
enum heard { HEARD, AGAIN, STOPPED, BROKEN_OFF };

/* Reads one line (TALK_LONGEST + 1 bytes), with what every question knows; *st: whether talking went well. */
enum heard entering_hear(struct entering *e, char *line, enum ab_status *st);

/* entering_answer.c: an answer to the blank that is asked, into the journal. One that the journal would refuse is the
 * brewer's to mend: that is said, and AGAIN. */
enum ab_status entering_write(struct entering *e, const char *said, enum heard *heard);
/* Takes the last answer back and asks its blank again. AB_EUSAGE: the file was changed meanwhile. */
enum ab_status entering_back(struct entering *e);
void entering_forget(struct step *step);

/* Before something is written into the journal, and after it, well or not: all of a sitting is taken back as one. */
void entering_watch(struct entering *e);
void entering_keep(struct entering *e, enum ab_status st);

/* entering_told.c: what stands beside the blanks. The recipe is asked of a beer that was never brewed before, the
 * others of any; each is written when it was told. */
enum ab_status entering_recipe(struct entering *e, enum heard *heard);
enum ab_status entering_note(struct entering *e, enum heard *heard);
enum ab_status entering_tasting(struct entering *e, enum heard *heard);

#endif
