/* completion.c - scripts for bash and fish, made from the tables: source <(afterboil --completion) in bash,
 * afterboil --completion-fish | source in fish
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <assert.h>

#include "base/str.h"

/* bit 0 stands for "no command yet": then only options that go without one, or with every one. */
static void add_names(struct ab_str *s, unsigned bit)
{
	for (size_t i = 0; i < n_options; i++)
		if (bit == 0 ? options[i].commands == 0 || options[i].commands == FOR_ALL
			     : (options[i].commands & bit) != 0)
			ab_str_addf(s, " --%s", options[i].name);
}

static void add_words(struct ab_str *s)
{
	for (size_t i = 0; i < n_options; i++) {
		if (options[i].kind != OPT_WORD)
			continue;
		ab_str_addf(s, "\t--%s) words='", options[i].name);
		assert(options[i].words != NULL);
		for (const char *const *w = options[i].words; *w != NULL; w++)
			ab_str_addf(s, "%s%s", w == options[i].words ? "" : " ", *w);
		ab_str_add(s, "' ;;\n");
	}
}

/* Made from the tables at run time, so it can never be older than the program. -o default leaves file
 * names to the shell, which knows them better. */
enum ab_status completion(struct cli *cli)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s,
	    "# completes afterboil in bash: source <(afterboil --completion)\n_afterboil()\n{\n\tlocal "
	    "word=${COMP_WORDS[COMP_CWORD]} words=\n\tcase ${COMP_WORDS[1]} in\n");
	for (size_t i = 0; i < n_commands; i++) {
		ab_str_addf(&s, "\t%s) words='", commands[i].name);
		add_names(&s, command_bit(&commands[i]));
		ab_str_add(&s, "' ;;\n");
	}
	ab_str_add(&s, "\t*) words='");
	for (size_t i = 0; i < n_commands; i++)
		ab_str_addf(&s, " %s", commands[i].name);
	add_names(&s, 0);
	ab_str_add(&s, "' ;;\n\tesac\n\tcase ${COMP_WORDS[COMP_CWORD - 1]} in\n");
	add_words(&s);
	ab_str_add(&s,
	    "\tesac\n\tCOMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n}\ncomplete -o default -F "
	    "_afterboil "
	    "afterboil\n");
	enum ab_status st = ab_str_ok(&s) ? out_text(cli, ab_str_text(&s)) : cli_nomem(cli);
	ab_str_clear(&s);
	return st;
}

/* In single quotes fish takes all but these two as they are. */
static void add_quoted(struct ab_str *s, const char *text)
{
	ab_str_add(s, "'");
	for (; *text != '\0'; text++)
		ab_str_addf(s, "%s%c", *text == '\'' || *text == '\\' ? "\\" : "", *text);
	ab_str_add(s, "'");
}

static void add_fish_option(struct ab_str *s, const struct option_row *row)
{
	ab_str_add(s, "complete -c afterboil");
	if (row->commands == 0)
		ab_str_add(s, " -n __fish_use_subcommand");
	else if (row->commands != FOR_ALL) {
		ab_str_add(s, " -n '__fish_seen_subcommand_from");
		for (size_t i = 0; i < n_commands; i++)
			if (row->commands & command_bit(&commands[i]))
				ab_str_addf(s, " %s", commands[i].name);
		ab_str_add(s, "'");
	}
	ab_str_addf(s, " -l %s", row->name);
	if (row->letter != 0)
		ab_str_addf(s, " -s %c", row->letter);
	if (row->kind == OPT_WORD) {
		ab_str_add(s, " -x -a '");
		for (const char *const *w = row->words; *w != NULL; w++)
			ab_str_addf(s, "%s%s", w == row->words ? "" : " ", *w);
		ab_str_add(s, "'");
	} else if (row->argument != NULL)
		ab_str_add(s, " -r");
	ab_str_add(s, " -d ");
	add_quoted(s, row->help);
	ab_str_add(s, "\n");
}

enum ab_status completion_fish(struct cli *cli)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, "# completes afterboil in fish: afterboil --completion-fish | source\n");
	for (size_t i = 0; i < n_commands; i++) {
		ab_str_addf(&s, "complete -c afterboil -f -n __fish_use_subcommand -a %s -d ", commands[i].name);
		add_quoted(&s, commands[i].summary);
		ab_str_add(&s, "\n");
	}
	for (size_t i = 0; i < n_options; i++)
		add_fish_option(&s, &options[i]);
	enum ab_status st = ab_str_ok(&s) ? out_text(cli, ab_str_text(&s)) : cli_nomem(cli);
	ab_str_clear(&s);
	return st;
}
