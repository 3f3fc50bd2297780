/* completion.c - scripts for bash, fish and zsh, made from the tables: source <(afterboil --completion) in bash,
 * afterboil --completion-fish | source in fish, source <(afterboil --completion-zsh) in zsh
 *
 * Commands and options stand in the scripts; names (batches, faults) the program is asked for (offers.c). What it
 * answers is only ever data to the shell: quoted, never evaluated.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include "base/str.h"

/* bit 0 stands for "no command yet": then only options that go without one, or with every one. */
static void add_names(struct ab_str *s, unsigned bit)
{
	for (size_t i = 0; i < n_options; i++)
		if (bit == 0 ? options[i].commands == 0 || options[i].commands == FOR_ALL
			     : (options[i].commands & bit) != 0)
			ab_str_addf(s, " --%s", options[i].name);
}

static void add_command_names(struct ab_str *s)
{
	for (size_t i = 0; i < n_commands; i++)
		ab_str_addf(s, " %s", commands[i].name);
}

/* A pattern of all options a value follows: there no option is offered. */
static void add_asking(struct ab_str *s)
{
	const char *bar = "";
	for (size_t i = 0; i < n_options; i++) {
		if (options[i].argument == NULL)
			continue;
		ab_str_addf(s, "%s--%s", bar, options[i].name);
		bar = "|";
		if (options[i].letter != 0)
			ab_str_addf(s, "|-%c", options[i].letter);
	}
}

static enum ab_status written(struct cli *cli, struct ab_str *s)
{
	enum ab_status st = ab_str_ok(s) ? out_text(cli, ab_str_text(s)) : cli_nomem(cli);
	ab_str_clear(s);
	return st;
}

/* ---- bash ---- */

/* Words come as they were typed. Quotes are taken off without eval: a line half typed must run nothing. bash
 * splits at "=", so that "--in=x" is three words. */
static const char BASH_HEAD[] =
    "# completes afterboil in bash: source <(afterboil --completion)\n"
    "_afterboil()\n{\n"
    "\tlocal word=${COMP_WORDS[COMP_CWORD]} words= last= line at\n"
    "\tlocal -a before=()\n"
    "\tfor ((at = 1; at < COMP_CWORD; at++)); do\n"
    "\t\tline=${COMP_WORDS[at]}\n"
    "\t\t[[ $line == = && $last == --* ]] && continue\n"
    "\t\tline=${line//[\\\"\\'\\\\]/}\n"
    "\t\t[[ $line == '~/'* ]] && line=$HOME/${line:2}\n"
    "\t\tlast=$line\n"
    "\t\tbefore+=(\"$line\")\n"
    "\tdone\n"
    "\t[[ $word == = && $last == --* ]] && word=\n"
    "\tcase ${COMP_WORDS[1]} in\n";

/* Options are offered once a word begins like one. Inside a quote that is open only what needs no quoting there is
 * offered. */
static const char BASH_TAIL[] =
    ") words= ;;\n\tesac\n"
    "\t[[ $word != -* && $COMP_CWORD -gt 1 ]] && words=\n"
    "\tCOMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
    "\t[[ $word == -* ]] && return\n"
    "\twhile IFS= read -r line; do\n"
    "\t\tif [[ $word == [\\\"\\']* ]]; then\n"
    "\t\t\t[[ $line != *[\\\"\\'\\\\\\`\\$\\!]* && $line == \"${word:1}\"* ]] && COMPREPLY+=(\"$line\")\n"
    "\t\telse\n"
    "\t\t\tprintf -v line %q \"$line\"\n"
    "\t\t\t[[ $line == \"$word\"* ]] && COMPREPLY+=(\"$line\")\n"
    "\t\tfi\n"
    "\tdone < <(command afterboil __offer \"${before[@]}\" 2>/dev/null)\n"
    "}\ncomplete -o default -F _afterboil afterboil\n";

/* Made from the tables at run time, so it can never be older than the program. -o default leaves file
 * names to the shell, which knows them better. */
enum ab_status completion(struct cli *cli)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, BASH_HEAD);
	for (size_t i = 0; i < n_commands; i++) {
		ab_str_addf(&s, "\t%s) words='", commands[i].name);
		add_names(&s, command_bit(&commands[i]));
		ab_str_add(&s, "' ;;\n");
	}
	ab_str_add(&s, "\t*) words='");
	add_command_names(&s);
	add_names(&s, 0);
	ab_str_add(&s, "' ;;\n\tesac\n\tcase $last in\n\t");
	add_asking(&s);
	ab_str_add(&s, BASH_TAIL);
	return written(cli, &s);
}

/* ---- fish ---- */

/* The option is told apart, for its value may be in the same word ("--fault=but"). fish quotes by itself. */
static const char FISH_HEAD[] =
    "# completes afterboil in fish: afterboil --completion-fish | source\n"
    "function __afterboil_offer\n"
    "\tset -l before (commandline -opc)\n"
    "\tset -e before[1]\n"
    "\tcommand afterboil __offer $before $argv 2>/dev/null\n"
    "end\n"
    "complete -c afterboil -n 'not __fish_use_subcommand' -a '(__afterboil_offer)'\n";

/* In single quotes fish takes all but these two as they are. */
static void add_fish_quoted(struct ab_str *s, const char *text)
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
	if (row->kind == OPT_WORD || offers_value(row->name) != 0)
		ab_str_addf(s, " -x -a '(__afterboil_offer --%s)'", row->name);
	else if (row->argument != NULL)
		ab_str_add(s, " -r");
	ab_str_add(s, " -d ");
	add_fish_quoted(s, row->help);
	ab_str_add(s, "\n");
}

enum ab_status completion_fish(struct cli *cli)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, FISH_HEAD);
	for (size_t i = 0; i < n_commands; i++) {
		ab_str_addf(&s, "complete -c afterboil -f -n __fish_use_subcommand -a %s -d ", commands[i].name);
		add_fish_quoted(&s, commands[i].summary);
		ab_str_add(&s, "\n");
	}
	for (size_t i = 0; i < n_options; i++)
		add_fish_option(&s, &options[i]);
	return written(cli, &s);
}

/* ---- zsh ---- */

static const char ZSH_HEAD[] =
    "#compdef afterboil\n"
    "# completes afterboil in zsh: source <(afterboil --completion-zsh), or this file as _afterboil in a folder "
    "of $fpath\n"
    "_afterboil()\n{\n"
    "\temulate -L zsh\n"
    "\tlocal -a before names options shown\n"
    "\tlocal -A about\n"
    "\tlocal name\n"
    "\tabout=(\n";

/* (Q) takes quotes off and runs nothing; compadd quotes what it inserts. */
static const char ZSH_TAIL[] =
    ") options=() ;;\n\tesac\n"
    "\tif [[ $PREFIX == -* ]]; then\n"
    "\t\tnames=(\"${options[@]}\")\n"
    "\telif (( CURRENT > 2 )); then\n"
    "\t\tnames=(\"${(@f)$(command afterboil __offer \"${before[@]}\" 2>/dev/null)}\")\n"
    "\t\tnames=(${names:#})\n"
    "\t\tif (( $#names )); then compadd -a names; else _files; fi\n"
    "\t\treturn\n"
    "\tfi\n"
    "\tfor name in \"${names[@]}\"; do shown+=(\"$name -- ${about[$name]}\"); done\n"
    "\tcompadd -l -d shown -a names\n"
    "}\n"
    "if [[ ${funcstack[1]} == _afterboil ]]; then _afterboil \"$@\"; else compdef _afterboil afterboil; fi\n";

static void add_zsh_about(struct ab_str *s, const char *dashes, const char *name, const char *text)
{
	ab_str_addf(s, "\t\t%s%s '", dashes, name);
	for (; *text != '\0'; text++)
		if (*text == '\'')
			ab_str_add(s, "'\\''");
		else
			ab_str_addn(s, text, 1);
	ab_str_add(s, "'\n");
}

enum ab_status completion_zsh(struct cli *cli)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, ZSH_HEAD);
	for (size_t i = 0; i < n_commands; i++)
		add_zsh_about(&s, "", commands[i].name, commands[i].summary);
	for (size_t i = 0; i < n_options; i++)
		add_zsh_about(&s, "--", options[i].name, options[i].help);
	ab_str_add(&s, "\t)\n\tbefore=(\"${(@Q)words[2,CURRENT-1]}\")\n"
	    "\tbefore=(\"${before[@]/#\\~\\//$HOME/}\")\n"
	    "\tif [[ $PREFIX == --*=* ]]; then\n\t\tbefore+=(\"${PREFIX%%=*}\")\n\t\tcompset -P 1 '*='\n\tfi\n"
	    "\tcase ${before[1]} in\n");
	for (size_t i = 0; i < n_commands; i++) {
		ab_str_addf(&s, "\t%s) options=(", commands[i].name);
		add_names(&s, command_bit(&commands[i]));
		ab_str_add(&s, ") ;;\n");
	}
	ab_str_add(&s, "\t*) options=(");
	add_names(&s, 0);
	ab_str_add(&s, ")\n\t\tnames=(");
	add_command_names(&s);
	ab_str_add(&s, ") ;;\n\tesac\n\tcase ${before[-1]} in\n\t");
	add_asking(&s);
	ab_str_add(&s, ZSH_TAIL);
	return written(cli, &s);
}
