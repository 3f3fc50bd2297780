/* init.h - afterboil init between its files: what is asked, and how an answer is read
 *
 * cmd_init.c asks and writes the profile; init_answer.c has the questions and reads what is said to them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_INIT_H
#define AB_CLI_INIT_H

#include "cli/cli.h"
#include "casework/said.h"

/* The questions, in the order they are asked. */
enum init_place {
	INIT_UNITS,
	INIT_BATCH,
	INIT_YEAR,
	INIT_FAMILIES,
	INIT_PACKS,
	INIT_VESSEL,
	INIT_CONTROL,
	INIT_ROOM,
	INIT_WATER,
	INIT_TREATMENT,
	INIT_CURRENCY,
	INIT_NOW,
	INIT_PER_YEAR,
	INIT_TIME,
	INIT_AWAY,
	INIT_FREE,
	INIT_FREE_TIME,
	INIT_BEGINS,
	INIT_OTHER,
	INIT_OTHER_BEGINS,
	INIT_QUESTIONS
};

struct init {
	struct cli *cli;
	const char *path;
	char told[INIT_QUESTIONS][CASE_LINE];   /* as the profile takes it; "" = left blank */
	bool made;          /* the folder was not there before */
	bool hours_told;    /* the free days have hours of their own */
	bool left[INIT_QUESTIONS];   /* not asked, for it can wait */
};

/* One question as it is shown. unit: of a quantity, NULL else; choices: n of them, to be named by number or by what
 * they say. Borrowed. */
struct init_question { const char *asks, *unit; const struct case_choice *choices; size_t n_choices; };
struct init_question init_question(const struct init *in, enum init_place i);

/* Reads what was said into told[i]; a blank, or that it is not known, leaves it blank. False: not understood, and
 * why says what would be, a sentence. */
bool init_answer(struct init *in, enum init_place i, const char *said, char *why, size_t size);

#endif
