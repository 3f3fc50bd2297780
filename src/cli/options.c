/* options.c - the command line read by the table of options
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <assert.h>
#include <getopt.h>
#include <math.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/record.h"
#include "base/str.h"

enum {
	NO_LETTER = 1000,
	MOST_OPTIONS = 64
}; /* values getopt gives for options without a letter: NO_LETTER + row */

/* The value is cut at 60 signs: it may be a whole file by a slip of the shell. */
static enum ab_status bad_value(struct cli *cli, const struct option_row *row, const char *text,
    const char *why)
{
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s %.60s: %s", row->name, text, why);
}

/* Through the library's quantities: "1e3" or "0.5" are read the same here and in a journal, whatever
 * the locale. */
static enum ab_status set_number(struct cli *cli, const struct option_row *row, const char *text, double *out)
{
	struct ab_quantity q;
	char why[512], lo[32], hi[32];
	if (!ab_quantity_read(text, row->kind == OPT_MONEY ? AB_DIM_MONEY : AB_DIM_NONE, &q, why, sizeof why))
		return bad_value(cli, row, text, why);
	if (!(q.value >= row->lo && q.value <= row->hi) ||
	    (row->kind == OPT_WHOLE && q.value != floor(q.value))) {
		ab_num_text(row->lo, lo, sizeof lo);
		ab_num_text(row->hi, hi, sizeof hi);
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--%s %.60s: allowed is a%s number from %s to %s",
		    row->name, text, row->kind == OPT_WHOLE ? " whole" : "", lo, hi);
	}
	*out = q.value;
	return AB_OK;
}

/* Kept as its place, so that the enums of the readers and the words of the table must stay in step. */
static enum ab_status set_word(struct cli *cli, const struct option_row *row, const char *text, int *out)
{
	char allowed[256] = "";
	for (int i = 0; row->words[i] != NULL; i++) {
		if (strcmp(row->words[i], text) == 0) {
			*out = i;
			return AB_OK;
		}
		strncat(allowed, i == 0 ? "allowed are " : ", ", sizeof allowed - strlen(allowed) - 1);
		strncat(allowed, row->words[i], sizeof allowed - strlen(allowed) - 1);
	}
	return bad_value(cli, row, text, allowed);
}

/* The one place that writes struct options: a row's kind must match its member's type, which offsetof
 * cannot check. */
static enum ab_status set_option(struct cli *cli, const struct option_row *row, const char *text)
{
	void *at = (char *)&cli->o + row->at;
	assert(row->at < sizeof cli->o);
	switch (row->kind) {
	case OPT_FLAG:
		*(bool *)at = true;
		return AB_OK;
	case OPT_TEXT:
		*(const char **)at = text;
		return AB_OK;
	case OPT_WORD:
		return set_word(cli, row, text, at);
	case OPT_LIST:
		return text_push(cli, at, text);
	case OPT_NUMBER: case OPT_WHOLE: case OPT_MONEY:
		return set_number(cli, row, text, at);
	}
	return AB_OK;
}

/* NULL for what is no option: getopt's optopt may be anything the user typed. */
static const struct option_row *row_of(int value)
{
	if (value >= NO_LETTER)
		return &options[value - NO_LETTER];
	for (size_t i = 0; i < n_options; i++)
		if (options[i].letter == value)
			return &options[i];
	return NULL;
}

/* Is the option for this command? version and man-page only go without a command. Refused, not ignored:
 * an option without effect would be taken for one that works. */
static enum ab_status check_place(struct cli *cli, const struct option_row *row)
{
	char whose[160] = "";
	if (cli->command == NULL ? row->commands == 0 || row->commands == FOR_ALL
				 : (row->commands & command_bit(cli->command)) != 0)
		return AB_OK;
	if (cli->command != NULL && row->commands == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s goes without a command: afterboil --%s",
		    row->name, row->name);
	for (size_t i = 0; i < n_commands; i++)
		if (row->commands & 1U << i) {
			strncat(whose, *whose == '\0' ? "" : ", ", sizeof whose - strlen(whose) - 1);
			strncat(whose, commands[i].name, sizeof whose - strlen(whose) - 1);
		}
	if (cli->command == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s needs a command before it, one of: %s",
		    row->name, whose);
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "\"%s\" takes no --%s (it is for: %s)",
	    cli->command->name, row->name, whose);
}

/* What getopt did not like, said so that the next try succeeds. From optopt four cases are told apart:
 * value missing, value too much, unknown letter, unknown or ambiguous word. */
static enum ab_status unknown(struct cli *cli, char *word, bool missing)
{
	const char *names[MOST_OPTIONS + 1] = { NULL };
	char bare[64] = "";
	const char *ask = cli->command == NULL ? "afterboil --help" : "afterboil COMMAND --help";
	const struct option_row *row = row_of(optopt);
	if (missing && row != NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s needs a value: --%s %s", row->name,
		    row->name, row->argument);
	if (row != NULL && optopt != 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s takes no value", row->name);
	for (size_t i = 0; i < n_options; i++)
		names[i] = options[i].name;
	if (strncmp(word, "--", 2) == 0)
		strncat(bare, word + 2,
		    strcspn(word + 2, "=") < sizeof bare ? strcspn(word + 2, "=") : sizeof bare - 1);
	const char *near = ab_nearest(bare, names);
	if (near != NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "there is no option \"%.60s\"; do you mean --%s? \"%s\" lists all", word, near, ask);
	if (bare[0] == '\0')
		return ab_fail(
		    &cli->diag, AB_EUSAGE, NULL, 0, "there is no option \"-%c\"; \"%s\" lists all",
		    optopt, ask);
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
	    "there is no option \"%.60s\" (or it is short for several); \"%s\" lists all", word, ask);
}

/* The leading ':' makes getopt tell a missing value from an unknown option, and keeps it silent. */
static void fill_getopt(struct option *longs, char *shorts)
{
	assert(n_options <= MOST_OPTIONS);
	*shorts++ = ':';
	for (size_t i = 0; i < n_options; i++) {
		const struct option_row *row = &options[i];
		longs[i] = (struct option){ row->name,
		    row->argument == NULL ? no_argument : required_argument, NULL,
		    row->letter != 0 ? row->letter : NO_LETTER + (int)i };
		if (row->letter != 0)
			*shorts++ = (char)row->letter;
		if (row->letter != 0 && row->argument != NULL)
			*shorts++ = ':';
	}
	*shorts = '\0';
	longs[n_options] = (struct option){ NULL, 0, NULL, 0 };
}

/* Numbers start as NAN = not given, as 0 is a budget somebody may mean. opterr = 0: the messages are
 * ours. getopt moves the plain words to the end, where they become args. */
enum ab_status options_parse(struct cli *cli, int argc, char **argv)
{
	struct option longs[MOST_OPTIONS + 1];
	char shorts[3 * MOST_OPTIONS + 2];
	enum ab_status st = AB_OK;
	int value;
	struct options *o = &cli->o;
	o->last = o->budget = o->minutes = o->away = o->horizon = o->running = o->changes = o->brews = o->redraws =
	    o->seed = o->width = o->questions = o->split = o->boxes = o->step = (double)NAN;
	/* A sheet is for paper, whatever else is for the screen. */
	if (cli->command != NULL && cli->command->run == cmd_sheet)
		o->format = AB_HTML;
	fill_getopt(longs, shorts);
	opterr = 0;
	while (st == AB_OK && (value = getopt_long(argc, argv, shorts, longs, NULL)) != -1) {
		if (value == '?' || value == ':') {
			st = unknown(cli, argv[optind - 1], value == ':');
			break;
		}
		const struct option_row *row = row_of(value);
		st = check_place(cli, row);
		if (st == AB_OK)
			st = set_option(cli, row, optarg);
	}
	cli->args = argv + optind;
	cli->n_args = (size_t)(argc - optind);
	if (st == AB_OK && o->format == AB_ICS && command_bit(cli->command) != FOR_CALENDAR)
		st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--format ics is for calendar; here text, json or html");
	return st;
}
