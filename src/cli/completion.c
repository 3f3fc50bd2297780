/* completion.c - a script for bash, made from the tables: source <(afterboil --completion)
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
