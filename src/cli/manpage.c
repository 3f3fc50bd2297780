/* manpage.c - the manual page in mdoc, its commands and options made from the tables
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <string.h>

#include "cli/roff.h"

/* The page's prose stands here, what the tables know comes from them: an option cannot be forgotten in
 * the manual. */
static const char HEAD[] = ".Dd November 25, 2026\n.Dt AFTERBOIL 1\n.Os\n.Sh NAME\n.Nm "
    "afterboil\n.Nd find out "
			   "what spoiled a batch of home-brewed beer\n.Sh SYNOPSIS\n";

static const char DESCRIPTION[] =
    ".Sh DESCRIPTION\n.Nm\nreads batch journals and what a taster found, works out which causes in the process "
    "most likely spoiled a batch, ranks what to change or buy next against a budget, and shows, batch after "
    "batch, whether the changes worked.\nIt looks hardest at the cold side: everything after the boil.\n.Pp\nA "
    "file is a batch journal in XML; a folder stands for the journals in it, and a single dash for standard "
    "input.\nWhere nothing is named and journals lie in the current folder, those are taken, and it is said.\nA "
    "batch is named by its id, its number (2 for house-pale-2), its title or beer, or the beginning of one of "
    "them; a beer likewise.\nCase does not count, and where several fit they are listed.\nA brewery profile is "
    "looked for beside the journals and one folder up.\n.Pp\nAll percentages are estimates worked out exactly "
    "from the strengths that the rules state; they are not measurements.\nThe rules are plain XML, each number "
    "with its source, and can be added to.\n.Sh COMMANDS\n";

/* What a program may rely on; the schemas say the rest. */
static const char JSON[] =
    ".Sh JSON RESULTS\nThe shapes are a contract, in JSON Schema beside the rules: diagnose.schema.json, "
    "facts.schema.json, advise.schema.json, trend.schema.json, compare.schema.json and "
    "panel.schema.json.\nSeveral batches make an array, one batch an object; what is unknown or without limit "
    "is null.\nLater versions may add members, and will not take any away.\nIn a stream each batch is one "
    "object on one line.\n";

/* Variables and files by hand, as no table lists them; a new getenv belongs here too. */
static const char TAIL[] = ".Sh ENVIRONMENT\n"
			   ".Bl -tag -width AFTERBOIL_RULES\n"
			   ".It Ev AFTERBOIL_RULES\n"
			   "A folder of rules used instead of the installed ones.\n"
			   ".It Ev COLUMNS\n"
			   "The width of text.\n"
			   ".It Ev LC_ALL , LC_CTYPE , LANG\n"
			   "Bars are drawn with signs beyond ASCII where the locale is a UTF-8 one.\n"
			   ".It Ev NO_COLOR\n"
			   "When set and not empty, no colour is used unless asked for.\n"
			   ".It Ev XDG_DATA_HOME\n"
			   "The folder that holds the history.\n"
			   ".El\n"
			   ".Sh FILES\n"
			   ".Bl -tag -width Ds\n"
			   ".It Pa ~/.local/share/afterboil/history.db\n"
			   "The history: every journal read, its facts and its diagnosis.\n"
			   ".It Pa profile.xml\n"
			   "The brewery profile, beside the journals or one folder up.\n"
			   ".It Pa .afterboil-undo\n"
			   "Beside the journals: what --undo takes back; it may be deleted.\n"
			   ".El\n"
			   ".Sh EXIT STATUS\n"
			   ".Bl -tag -width Ds\n"
			   ".It 0\nDone.\n"
			   ".It 1\nDone, and something needs attention: bottles that may burst, an "
			       "odd statement in a journal, an error in the rules; not what a journal leaves untold.\n"
			   ".It 2\nWrong usage.\n"
			   ".It 3\nBad input; the message says file and line.\n"
			   ".It 4\nSystem trouble: no memory, no rules, a full disk.\n"
			   ".El\n"
			   ".Sh EXAMPLES\n";

static const char END[] =
    ".Sh CAVEATS\n"
    "Bottles, kegs, acids, caustic, hot liquids and carbon dioxide in closed rooms can hurt.\n"
    "What is said about them here does not replace the maker's instructions, local codes or licensed "
    "practice.\n";
static const char SEE[] = ".Sh SEE ALSO\n.Xr afterboil-journal 5 ,\n.Xr afterboil-rules 5\n";

/* "Ar" before the first sign only: the arguments are one word to mdoc. */
static void add_commands(struct ab_str *s)
{
	ab_str_add(s, ".Bl -tag -width Ds\n");
	for (size_t i = 0; i < n_commands; i++) {
		ab_str_addf(s, ".It Ic %s", commands[i].name);
		for (const char *at = commands[i].arguments; *at != '\0'; at++)
			if (at == commands[i].arguments)
				ab_str_addf(s, " Ar %c", *at);
			else
				ab_str_addn(s, at, 1);
		ab_str_add(s, "\n");
		roff_prose(s, commands[i].about);
	}
	ab_str_add(s, ".El\n");
}

/* Bits of no command are the options that go without one. */
static void add_whose(struct ab_str *s, unsigned bits)
{
	const char *mark = "For ";
	if (bits == FOR_ALL || bits == 0) {
		ab_str_add(s, bits == 0 ? "Goes without a command.\n" : "For every command.\n");
		return;
	}
	for (size_t i = 0; i < n_commands; i++)
		if (bits & 1U << i) {
			ab_str_addf(s, "%s%s", mark, commands[i].name);
			mark = ", ";
		}
	ab_str_add(s, ".\n");
}

static void add_options(struct ab_str *s)
{
	ab_str_add(s, ".Sh OPTIONS\n.Bl -tag -width Ds\n");
	for (size_t i = 0; i < n_options; i++) {
		const struct option_row *row = &options[i];
		ab_str_add(s, ".It ");
		if (row->letter != 0)
			ab_str_addf(s, "Fl %c , ", row->letter);
		ab_str_addf(s, "Fl Fl %s%s%s\n", row->name, row->argument == NULL ? "" : " Ar ",
		    row->argument == NULL ? "" : row->argument);
		roff_sentence(s, row->help);
		add_whose(s, row->commands);
	}
	ab_str_add(s, ".El\n");
}

/* Quotes and backslashes are roff's own, so they are written by name. */
static void add_examples(struct ab_str *s)
{
	for (size_t i = 0; i < n_commands; i++)
		for (const char *const *e = commands[i].examples; *e != NULL; e += 2) {
			ab_str_addf(s, "%s%c%s:\n.Pp\n.Dl ",
			    i == 0 && e == commands[0].examples ? "" : ".Pp\n",
			    e[1][0] >= 'a' && e[1][0] <= 'z' ? e[1][0] - 'a' + 'A' : e[1][0], e[1] + 1);
			for (const char *at = e[0]; *at != '\0'; at++)
				ab_str_add(s,
				    *at == '"' ? "\\(dq" : *at == '\\' ? "\\e" : (char[]){ *at, '\0' });
			ab_str_add(s, "\n");
		}
}

/* Put together first and broken after, so that none of the parts above has to count columns. */
enum ab_status man_page(struct cli *cli)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, HEAD);
	ab_str_add(&s, ".Nm\n.Ar command\n.Op Ar options\n.Op Ar\n");
	for (size_t i = 0; i < n_options; i++)
		if (options[i].commands == 0)
			ab_str_addf(&s, ".Nm\n.Fl Fl %s\n", options[i].name);
	ab_str_add(&s, DESCRIPTION);
	add_commands(&s);
	add_options(&s);
	ab_str_add(&s, JSON);
	ab_str_add(&s, TAIL);
	add_examples(&s);
	ab_str_add(&s, SEE);
	ab_str_add(&s, END);
	return roff_write(cli, &s);
}
