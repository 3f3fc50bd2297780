/* commands.h - the table of commands and the one table of options: parsing, help, the manual page and their
 * test all read these
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_COMMANDS_H
#define AB_CLI_COMMANDS_H

#include "cli/cli.h"

/* One bit a command, by its place in the table. */
enum {
	FOR_DIAGNOSE = 1,
	FOR_ADVISE = 2,
	FOR_TREND = 4,
	FOR_FACTS = 8,
	FOR_CHECK = 16,
	FOR_RULES = 32,
	FOR_PANEL = 64,
	FOR_REPORT = 128,
	FOR_INTERVIEW = 256,
	FOR_LOG = 512,
	FOR_TASTE = 1024,
	FOR_CHANGED = 2048,
	FOR_COMPARE = 4096,
	FOR_NEW = 8192,
	FOR_SHEET = 16384,
	FOR_ENTER = 32768,
	FOR_INIT = 65536,
	FOR_CALENDAR = 131072,
	FOR_WORK = 262143, /* all of these */
	FOR_HELP = 262144,
	FOR_ALL = 524287
};

struct command {
	const char *name;
	enum ab_status (*run)(struct cli *cli);
	const char *summary;        /* one line, no full stop */
	const char *arguments;      /* "[FILE|FOLDER...]" */
	const char *about;          /* a paragraph for --help and the manual */
	const char *const *examples;   /* pairs: command line, what it does; NULL-terminated */
};

enum option_kind { OPT_FLAG, OPT_TEXT, OPT_NUMBER, OPT_WHOLE, OPT_MONEY, OPT_WORD, OPT_LIST };

struct option_row {
	int letter;                 /* 0 = none */
	const char *name, *argument, *help;
	unsigned commands;          /* FOR_... */
	enum option_kind kind;
	size_t at;                  /* offset in struct options */
	double lo, hi;              /* of numbers */
	const char *const *words;   /* of OPT_WORD, NULL-terminated: the place is kept */
};

extern const struct command commands[];
extern const size_t n_commands;
extern const struct option_row options[];
extern const size_t n_options;

/* ---- offers.c: what may stand next on a line half typed ---- */
enum {
	NAMES_BATCHES = 1,
	NAMES_BEERS = 2,
	NAMES_FAULTS = 4,
	NAMES_CHANGES = 8,
	NAMES_FAMILIES = 16,
	NAMES_YEASTS = 32,
	NAMES_COMMANDS = 64
};
/* The names that an option's value, or a command's place (0 is the first) takes; 0 = files, numbers, own words. */
unsigned offers_value(const char *option);
unsigned offers_place(const char *command, size_t place);
/* Does the command take this word (its place) of the option? */
bool offers_word(const struct command *command, const struct option_row *row, int word);

/* The command of this name, or NULL. */
const struct command *command_find(const char *name);
unsigned command_bit(const struct command *command);

#endif
