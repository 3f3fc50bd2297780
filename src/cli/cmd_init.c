/* cmd_init.c - afterboil init: a few questions become the brewery profile
 *
 * Every question may be left blank: what is not told stays out of the profile, and so unknown. The file is written
 * once, at the end, and only where there is none.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/init.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/savefile.h"
#include "base/str.h"
#include "journal/edit.h"

/* ---- asking ---- */

static enum ab_status say_question(struct init *in, enum init_place i)
{
	const struct init_question q = init_question(in, i);
	char text[900];
	snprintf(text, sizeof text, "%s%s%s%s", q.asks, q.unit != NULL ? " (" : "", q.unit != NULL ? q.unit : "",
	    q.unit != NULL ? ")" : "");
	enum ab_status st = out_text(in->cli, "\n");
	if (st == AB_OK)
		st = talk_say(in->cli, text);
	for (size_t k = 0; st == AB_OK && k < q.n_choices; k++) {
		snprintf(text, sizeof text, "  %2zu %s", k + 1, q.choices[k].says);
		st = talk_say(in->cli, text);
	}
	return st;
}

/* What a first diagnosis and a first plan hang on most comes first where somebody sits and answers; a script
 * answers in the order of the list. */
static const enum init_place at_first[] = { INIT_UNITS, INIT_BATCH, INIT_FAMILIES, INIT_PACKS, INIT_VESSEL,
	INIT_CONTROL };
enum { AT_FIRST = sizeof at_first / sizeof *at_first };

static void put_in_order(enum init_place order[INIT_QUESTIONS])
{
	size_t n = 0;
	for (size_t i = 0; talk_is_terminal() && i < AT_FIRST; i++)
		order[n++] = at_first[i];
	for (enum init_place i = 0; i < INIT_QUESTIONS; i++) {
		bool there = false;
		for (size_t k = 0; k < n && talk_is_terminal() && k < AT_FIRST; k++)
			there = there || at_first[k] == i;
		if (!there)
			order[n++] = i;
	}
}

/* After the first of them, at a terminal: is that all for now? *all: it is. */
static enum ab_status enough(struct init *in, bool *all, enum talk *last)
{
	static const char *const yes[] = { "yes", "y", "more", "now", "go on", NULL };
	char line[TALK_LONGEST + 1];
	enum ab_status st = out_text(in->cli, "\n");
	if (st == AB_OK)
		st = talk_say(in->cli,
		    "That is enough to begin with. The rest can wait: your water and your room make a diagnosis "
		    "sharper, your money and minutes make a plan fit, and your days the calendar. Enter leaves "
		    "them for later, \"yes\" goes on now.");
	*last = st == AB_OK ? talk_ask(in->cli, line) : TALK_END;
	*all = *last != TALK_LINE || !talk_is_word(line, yes);
	return st != AB_OK ? st : in->cli->diag.status;
}

static enum ab_status ask_all(struct init *in, enum talk *last)
{
	static const char *const stop = "stop";
	char line[TALK_LONGEST + 1], why[500], text[520];
	enum ab_status st = AB_OK;
	enum init_place order[INIT_QUESTIONS];
	bool all = false, offered = !talk_is_terminal();
	put_in_order(order);
	for (size_t at = 0; st == AB_OK && at < INIT_QUESTIONS;) {
		const enum init_place i = order[at];
		if (!offered && at == AT_FIRST) {
			offered = true;
			st = enough(in, &all, last);
			for (size_t k = at; all && k < INIT_QUESTIONS; k++)
				in->left[order[k]] = true;
			if (st != AB_OK || all)
				return st;
		}
		if (i == INIT_BEGINS && in->hours_told) {
			at++;
			continue;
		}
		st = say_question(in, i);
		*last = st == AB_OK ? talk_ask(in->cli, line) : TALK_END;
		if (*last == TALK_END || *last == TALK_INTERRUPTED)
			return in->cli->diag.status == AB_OK ? out_text(in->cli, "\n") : in->cli->diag.status;
		if (strcmp(line, stop) == 0)
			return AB_OK;
		bool good = *last == TALK_LINE && init_answer(in, i, line, why, sizeof why);
		at += good;
		if (good)
			continue;
		snprintf(text, sizeof text, "  %s",
		    *last == TALK_LINE ? why : "That line held what is no text; please type it again.");
		/* Nobody is there to answer again: the next line answers the next question, and would go to this
		 * one. */
		st = talk_is_terminal() ? talk_say(in->cli, text)
					: ab_fail(&in->cli->diag, AB_EUSAGE, NULL, 0,
					      "nothing was written; the answer to \"%.200s\" was not "
					      "understood. %s",
					      init_question(in, i).asks, text + 2);
	}
	return st;
}

/* ---- writing ---- */

static void add(struct ab_str *s, const char *name, const char *value)
{
	if (value[0] == '\0')
		return;
	ab_str_addf(s, " %s=\"", name);
	ab_edit_escape(s, value);
	ab_str_add(s, "\"");
}

static void add_one(struct ab_str *s, const char *element, const char *name, const char *value)
{
	if (value[0] == '\0')
		return;
	ab_str_addf(s, "  <%s", element);
	add(s, name, value);
	ab_str_add(s, "/>\n");
}

static void add_two(struct ab_str *s, const char *element, const char *a, const char *x, const char *b, const char *y)
{
	if (x[0] == '\0' && y[0] == '\0')
		return;
	ab_str_addf(
	    s, "%s<%s", strcmp(element, "vessel") == 0 || strcmp(element, "water") == 0 ? "    " : "  ", element);
	add(s, a, x);
	add(s, b, y);
	ab_str_add(s, "/>\n");
}

static void add_families(struct ab_str *s, const char *list)
{
	while (*list != '\0') {
		size_t n = strcspn(list, " ");
		ab_str_addf(s, "  <brews family=\"%.*s\"/>\n", (int)n, list);
		list += n + (list[n] == ' ');
	}
}

static void add_week(struct ab_str *s, char (*told)[CASE_LINE])
{
	static const struct { enum init_place place; const char *name; } rows[] = { { INIT_FREE, "free" },
	    { INIT_FREE_TIME, "time" },
		{ INIT_BEGINS, "begins" }, { INIT_OTHER, "other" }, { INIT_OTHER_BEGINS, "other-begins" } };
	bool any = false;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		any = any || told[rows[i].place][0] != '\0';
	if (!any)
		return;
	ab_str_add(s, "  <week");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		add(s, rows[i].name, told[rows[i].place]);
	ab_str_add(s, "/>\n");
}

static void add_all(struct ab_str *s, char (*told)[CASE_LINE])
{
	bool usual = told[INIT_VESSEL][0] != '\0' || told[INIT_CONTROL][0] != '\0' || told[INIT_WATER][0] != '\0' ||
	    told[INIT_TREATMENT][0] != '\0';
	ab_str_add(s, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<brewery xmlns=\"urn:afterboil:profile:1\"");
	add(s, "currency", told[INIT_CURRENCY]);
	add(s, "units", told[INIT_UNITS]);
	add(s, "room", told[INIT_ROOM]);
	ab_str_add(s, ">\n");
	add_one(s, "batch-size", "volume", told[INIT_BATCH]);
	add_one(s, "per-year", "batches", told[INIT_YEAR]);
	add_families(s, told[INIT_FAMILIES]);
	add_two(s, "money", "now", told[INIT_NOW], "per-year", told[INIT_PER_YEAR]);
	add_two(s, "time", "per-batch", told[INIT_TIME], "away", told[INIT_AWAY]);
	add_one(s, "packs", "into", told[INIT_PACKS]);
	add_week(s, told);
	if (usual) {
		ab_str_add(s, "  <usual>\n");
		add_two(s, "water", "source", told[INIT_WATER], "treatment", told[INIT_TREATMENT]);
		add_two(s, "vessel", "kind", told[INIT_VESSEL], "control", told[INIT_CONTROL]);
		ab_str_add(s, "  </usual>\n");
	}
	ab_str_add(s, "</brewery>\n");
}

/* What was left for later, as lines to be filled in: nobody has to know how they are written. */
static void add_left(struct ab_str *s, const struct init *in)
{
	static const struct { enum init_place place; const char *line; } rows[] = {
	    { INIT_YEAR, "<per-year batches=\"12\"/>" },
		{ INIT_NOW, "<money now=\"100\" per-year=\"50\"/>   what may go into better beer" },
		    { INIT_NOW, "<owns thing=\"fridge\"/>   what you have to spare makes a change cheaper; "
		    "\"afterboil rules list things\" shows them" },
		    { INIT_TIME, "<time per-batch=\"30 min\" away=\"10 h\"/>   how much longer a brew day may "
		    "take; the longest nobody is at home" },
		{ INIT_FREE, "<week free=\"sat, sun\" time=\"6 h\" begins=\"10:00\"/>   days with time for brewing" },
		{ INIT_WATER, "<water source=\"tap\" treatment=\"sulphite\"/>   inside of <usual>" },
		{ INIT_ROOM, "room=\"20 C\"   in the first tag, beside units: how warm the room is" },
		{ INIT_CURRENCY, "currency=\"$\"   there, too" } };
	bool any = false;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		any = any || in->left[rows[i].place];
	if (!any)
		return;
	ab_str_add(s, "<!-- Left for later. Take a line to the others above, with what is so for you:\n");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (in->left[rows[i].place])
			ab_str_addf(s, "  %s\n", rows[i].line);
	ab_str_add(s, "-->\n");
}

/* What was written is what the reader must take: it says no before anything is on the disk. */
static enum ab_status write_profile(struct init *in)
{
	struct cli *cli = in->cli;
	struct ab_profile *profile;
	struct ab_str s;
	ab_str_init(&s, 0);
	add_all(&s, in->told);
	add_left(&s, in);
	enum ab_status st = ab_str_ok(&s)
	    ? ab_profile_read_memory(ab_str_text(&s), s.len, in->path, cli->arena, &profile, &cli->diag)
	    : cli_nomem(cli);
	if (st == AB_OK)
		st = ab_savefile_new(in->path, ab_str_text(&s), s.len, &cli->diag);
	ab_str_clear(&s);
	if (st == AB_OK)
		st = talk_say(
		    cli, ab_arena_printf(cli->arena, "Your profile is %s; change it in any editor.", in->path));
	if (st == AB_OK && in->left[INIT_YEAR])
		st = talk_say(cli,
		    "At its end stands what was left for later, as lines to fill in; until then advise knows no "
		    "limit but those it is told (--budget 100), and the calendar "
		    "takes any day for free.");
	const char *slash = strrchr(in->path, '/');
	const char *next = slash == NULL
	    ? "Next: afterboil new BEER"
	    : ab_arena_printf(cli->arena, "Next: afterboil new BEER --in %.*s", (int)(slash - in->path), in->path);
	return st != AB_OK ? st : next == NULL ? cli_nomem(cli) : talk_say(cli, next);
}

/* ---- the whole ---- */

static enum ab_status prepare(struct init *in)
{
	struct cli *cli = in->cli;
	const char *folder = cli->n_args > 0 ? cli->args[0] : ".";
	size_t n = strlen(folder);
	if (cli->n_args > 1)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "one folder, please");
	while (n > 1 && folder[n - 1] == '/')
		n--;
	in->path = strcmp(folder, ".") == 0 ? "profile.xml"
					    : ab_arena_printf(cli->arena, "%.*s/profile.xml", (int)n, folder);
	if (in->path == NULL)
		return cli_nomem(cli);
	if (access(in->path, F_OK) == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, in->path, 0, "is there already, and is not overwritten");
	in->made = mkdir(folder, 0777) == 0;
	if (!in->made && errno != EEXIST)
		return ab_fail(&cli->diag, AB_ESYSTEM, folder, 0, "cannot make the folder: %s", strerror(errno));
	return AB_OK;
}

enum ab_status cmd_init(struct cli *cli)
{
	static struct init in;
	enum talk last = TALK_LINE;
	in = (struct init){ .cli = cli };
	enum ab_status st = prepare(&in);
	if (st != AB_OK)
		return st;
	talk_begin();
	st = talk_say(cli, "A few questions about how you brew. Enter leaves one out, \"stop\" leaves out the rest.");
	if (st == AB_OK)
		st = ask_all(&in, &last);
	if (st == AB_OK && last == TALK_INTERRUPTED) {
		talk_say(cli, "Nothing was written.");
		fflush(stdout);
		talk_over();
		raise(SIGINT);
		return AB_OK;
	}
	talk_over();
	if (st == AB_OK)
		return write_profile(&in);
	if (in.made)
		rmdir(cli->args[0]);
	return st;
}
