/* sheeting.h - what the files of the batch sheet share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_SHEETING_H
#define AB_CASEWORK_SHEETING_H

#include <afterboil/sheet.h>
#include "casework/questions.h"
#include "casework/said.h"

/* A sheet while it is made. */
struct sheeting {
	const struct ab_sheet_setup *setup;
	struct ab_arena *arena;
	struct ab_sheet *sheet;
	struct ab_fact *facts;          /* of the batch; where it is silent, of the brew before it */
	struct ab_fact *own;            /* of the batch alone */
	const struct ab_yeast_norm *yeast;   /* or NULL */
	double *bits; bool *trial;      /* by place in the rules' boxes */
	bool no_memory;
};

/* ---- sheet_parts.c ---- */
/* The parts of a box, but those an earlier box of the sheet has. */
void sheet_parts(struct sheeting *s, struct ab_sheet_box *box);
/* What an answer to the part is read against. */
void sheet_asked(const struct ab_sheet_setup *setup, const struct ab_sheet_part *part, const char *today,
    struct ab_arena *arena, struct case_asked *asked);

/* ---- sheet_aims.c ---- */
/* The yeast meant, and the days of the two gravities. */
void sheet_yeast(struct sheeting *s);
/* What to aim at, or NULL. */
const char *sheet_aim(struct sheeting *s, const struct ab_box *box);

#endif
