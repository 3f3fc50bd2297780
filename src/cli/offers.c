/* offers.c - what may stand next on a line half typed: batches, beers, words of the rules, words of an option.
 * The scripts of completion.c ask for it as "afterboil __offer WORD...", with the words before the one that is
 * being typed.
 *
 * Nothing here may say anything but names, or fail: somebody is in the middle of a line.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <math.h>
#include <string.h>
#include <sys/stat.h>

#include "base/str.h"

/* ---- what each place takes ---- */

/* The places after a command; the last stands for all that follow. sheet takes a beer or a batch. */
static const struct { const char *command; unsigned places[3]; } places[] = {
	{ "log", { NAMES_BATCHES, 0, 0 } },
	{ "taste", { NAMES_BATCHES, NAMES_FAULTS, NAMES_FAULTS } },
	{ "changed", { NAMES_CHANGES, 0, 0 } },
	{ "compare", { NAMES_BATCHES, NAMES_BATCHES, 0 } },
	{ "new", { NAMES_BEERS, 0, 0 } },
	{ "sheet", { NAMES_BATCHES | NAMES_BEERS, 0, 0 } },
	{ "enter", { NAMES_BATCHES, 0, 0 } },
	{ "help", { NAMES_COMMANDS, 0, 0 } },
};

static const struct { const char *option; unsigned names; } values[] = {
	{ "batch", NAMES_BATCHES }, { "like", NAMES_BATCHES }, { "line", NAMES_BEERS }, { "fault", NAMES_FAULTS },
	{ "absent", NAMES_FAULTS }, { "family", NAMES_FAMILIES }, { "yeast", NAMES_YEASTS },
};

unsigned offers_value(const char *option)
{
	for (size_t i = 0; i < sizeof values / sizeof *values; i++)
		if (strcmp(values[i].option, option) == 0)
			return values[i].names;
	return 0;
}

unsigned offers_place(const char *command, size_t place)
{
	for (size_t i = 0; i < sizeof places / sizeof *places; i++)
		if (strcmp(places[i].command, command) == 0)
			return places[i].places[place < 2 ? place : 2];
	return 0;
}

/* A sheet is to print, and only days go into a calendar. */
bool offers_word(const struct command *command, const struct option_row *row, int word)
{
	unsigned bit = command_bit(command);
	if (strcmp(row->name, "format") != 0)
		return true;
	return word == AB_ICS ? bit == FOR_CALENDAR : word != AB_JSON || bit != FOR_SHEET;
}

/* ---- the line so far ---- */

/* A line half typed is no line options_parse would take, so it is only looked through. */
struct line {
	const struct option_row *last;  /* the last word is this option, and its value comes next */
	size_t n_plain;                 /* plain words, without values */
	struct texts plain;
	struct texts in;
};

/* The option a word is, when a value follows in a word of its own. */
static const struct option_row *asks(const char *word)
{
	for (size_t i = 0; i < n_options; i++) {
		const struct option_row *row = &options[i];
		bool is_long = strncmp(word, "--", 2) == 0 && strcmp(word + 2, row->name) == 0;
		bool is_short = row->letter != 0 && word[0] == '-' && word[1] == row->letter && word[2] == '\0';
		if (row->argument != NULL && (is_long || is_short))
			return row;
	}
	return NULL;
}

/* The few options that decide where names come from. */
static enum ab_status take_value(struct cli *cli, struct line *line, const char *option, const char *value)
{
	if (strcmp(option, "in") == 0)
		return text_push(cli, &line->in, value);
	if (strcmp(option, "rules") == 0)
		return text_push(cli, &cli->o.rules, value);
	if (strcmp(option, "rules-base") == 0)
		cli->o.rules_base = value;
	return AB_OK;
}

static enum ab_status take_joined(struct cli *cli, struct line *line, const char *word)
{
	const char *is = strchr(word, '=');
	const char *option =
	    is == NULL || word[1] != '-' ? NULL : ab_arena_strndup(cli->arena, word + 2, (size_t)(is - word - 2));
	return option == NULL ? AB_OK : take_value(cli, line, option, is + 1);
}

static enum ab_status look_through(struct cli *cli, char **words, size_t n, struct line *line)
{
	enum ab_status st = AB_OK;
	line->last = n > 0 ? asks(words[n - 1]) : NULL;
	for (size_t i = cli->command != NULL; st == AB_OK && i < n; i++) {
		const struct option_row *row = asks(words[i]);
		if (row != NULL && i + 1 < n)
			st = take_value(cli, line, row->name, words[++i]);
		else if (words[i][0] == '-' && words[i][1] != '\0')
			st = take_joined(cli, line, words[i]);
		else
			st = text_push(cli, &line->plain, words[i]);
	}
	line->n_plain = line->plain.n;
	return st;
}

/* ---- the names ---- */

/* One a line, so a name that would break the line is left out; so is one that begins like an option, which
 * nobody could give without more ado. */
static void add(struct ab_str *s, const char *name)
{
	if (name == NULL || *name == '\0' || *name == '-')
		return;
	for (const unsigned char *at = (const unsigned char *)name; *at != '\0'; at++)
		if (*at < ' ' || *at == 127)
			return;
	ab_str_addf(s, "%s\n", name);
}

/* A pipe, a device or "-" would be waited for. */
static bool can_hold_batches(const char *name)
{
	struct stat info;
	return strcmp(name, "-") != 0 && stat(name, &info) == 0 && (S_ISDIR(info.st_mode) || S_ISREG(info.st_mode));
}

/* --in is where the batches are, else folders and journals of the line, else they are here. */
static enum ab_status read_batches(struct cli *cli, const struct line *line)
{
	const struct texts *named = line->in.n > 0 ? &line->in : &line->plain;
	struct texts from = { NULL, 0, 0 };
	enum ab_status st = AB_OK;
	for (size_t i = 0; st == AB_OK && i < named->n; i++)
		if (can_hold_batches(named->items[i]))
			st = text_push(cli, &from, named->items[i]);
	if (st == AB_OK && from.n == 0 && line->in.n == 0)
		st = text_push(cli, &from, ".");
	for (size_t i = 0; st == AB_OK && i < from.n; i++) {
		char *one = ab_arena_strdup(cli->arena, from.items[i]);
		cli->args = &one;
		cli->n_args = 1;
		cli->empty_is_fine = true;
		st = one == NULL ? cli_nomem(cli) : inputs_read(cli, false);
	}
	return st;
}

static bool again(struct cli *cli, size_t i)
{
	for (size_t k = 0; k < i; k++)
		if (cli->batches[k]->line != NULL && strcmp(cli->batches[k]->line, cli->batches[i]->line) == 0)
			return true;
	return false;
}

/* Broken journals end the reading; the batches before them are offered all the same. */
static void add_read(struct cli *cli, const struct line *line, unsigned names, struct ab_str *s)
{
	read_batches(cli, line);
	for (size_t i = cli->n_batches; (names & NAMES_BATCHES) && i-- > 0;)
		add(s, cli->batches[i]->id);
	if ((names & NAMES_BATCHES) && cli->n_batches > 0 && line->last == NULL && cli->command != NULL &&
	    command_bit(cli->command) != FOR_COMPARE)
		add(s, "last");
	for (size_t i = 0; (names & NAMES_BEERS) && i < cli->n_batches; i++)
		if (cli->batches[i]->line != NULL && !again(cli, i))
			add(s, cli->batches[i]->line);
}

static void add_rules(struct cli *cli, unsigned names, struct ab_str *s)
{
	if (rules_load(cli) != AB_OK)
		return;
	const struct ab_knowledge *k = cli->k;
	for (size_t i = 0; (names & NAMES_FAULTS) && i < k->n_faults; i++) {
		add(s, k->faults[i].id);
		for (size_t w = 0; w < k->faults[i].n_words; w++)
			if (strcmp(k->faults[i].words[w], k->faults[i].id) != 0)
				add(s, k->faults[i].words[w]);
	}
	for (size_t i = 0; (names & NAMES_CHANGES) && i < k->n_changes; i++)
		add(s, k->changes[i].id);
	for (size_t i = 0; (names & NAMES_FAMILIES) && i < k->n_families; i++)
		add(s, k->families[i].id);
	for (size_t i = 0; (names & NAMES_YEASTS) && i < k->norms.n_yeasts; i++)
		add(s, k->norms.yeasts[i].id);
}

static unsigned names_of(const struct cli *cli, const struct line *line)
{
	if (line->last != NULL)
		return line->last->commands & command_bit(cli->command) ? offers_value(line->last->name) : 0;
	return offers_place(cli->command->name, line->n_plain);
}

enum ab_status offers(struct cli *cli, char **words, size_t n)
{
	struct line line = { NULL, 0, { NULL, 0, 0 }, { NULL, 0, 0 } };
	struct ab_str s;
	cli->o.last = (double)NAN;
	cli->command = n > 0 ? command_find(words[0]) : NULL;
	/* Some options go without a command: --color. */
	if (look_through(cli, words, n, &line) != AB_OK || (cli->command == NULL && line.last == NULL))
		return cli->diag.status;
	ab_str_init(&s, 0);
	const struct option_row *row = line.last;
	for (int i = 0; row != NULL && row->kind == OPT_WORD && row->words[i] != NULL; i++)
		if (offers_word(cli->command, row, i))
			add(&s, row->words[i]);
	unsigned names = cli->command == NULL ? 0 : names_of(cli, &line);
	for (size_t i = 0; (names & NAMES_COMMANDS) && i < n_commands; i++)
		add(&s, commands[i].name);
	if (names & (NAMES_BATCHES | NAMES_BEERS))
		add_read(cli, &line, names, &s);
	if (names & (NAMES_FAULTS | NAMES_CHANGES | NAMES_FAMILIES | NAMES_YEASTS))
		add_rules(cli, names, &s);
	ab_diag_init(&cli->diag);
	enum ab_status st = ab_str_ok(&s) ? out_text(cli, ab_str_text(&s)) : cli_nomem(cli);
	ab_str_clear(&s);
	return st;
}
