/* cmd_init.c - afterboil init: a few questions become the brewery profile
 *
 * Every question may be left blank: what is not told stays out of the profile, and so unknown. The file is written
 * once, at the end, and only where there is none.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <errno.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <afterboil/calendar.h>
#include "base/savefile.h"
#include "base/spelled.h"
#include "base/str.h"
#include "casework/said.h"
#include "journal/edit.h"

enum want { CHOICE, SEVERAL, QUANTITY, WHOLE, MONEY, SIGN, DAYS, CLOCK };

#define CHOICES(name, ...) static const struct case_choice name[] = { __VA_ARGS__, { NULL, NULL } }
CHOICES(units, { "litres and Celsius", "metric" }, { "gallons and Fahrenheit", "us" });
CHOICES(packs, { "bottles", "bottles" }, { "keg", "keg" }, { "cask", "cask" }, { "cans", "cans" });

/* In the order they are asked and of enum place. like: the interview's row whose choices, units and range serve. */
static const struct asks { enum want want; const char *asks, *like; const struct case_choice *choices; const char *metric, *us; } questions[] = {
	{ CHOICE, "Which units do you use?", NULL, units, NULL, NULL },
	{ QUANTITY, "How much beer does a batch make?", "recipe volume", NULL, "L", "gal" },
	{ WHOLE, "How many batches do you brew in a year?", NULL, NULL, NULL, NULL },
	{ SEVERAL, "Which kinds of beer do you brew? One or more, with commas between.", "batch family", NULL, NULL, NULL },
	{ CHOICE, "What does it go into?", NULL, packs, NULL, NULL },
	{ CHOICE, "What do you ferment in?", "vessel kind", NULL, NULL, NULL },
	{ CHOICE, "How is its temperature held?", "vessel control", NULL, NULL, NULL },
	{ QUANTITY, "How warm is the room it stands in?", "vessel room", NULL, "C", "F" },
	{ CHOICE, "Where does your water come from?", "water source", NULL, NULL, NULL },
	{ CHOICE, "Is it treated against chlorine?", "water treatment", NULL, NULL, NULL },
	{ SIGN, "Which sign has your money? Such as $ or EUR.", NULL, NULL, NULL, NULL },
	{ MONEY, "How much money may go into better beer now? 0 for none.", NULL, NULL, NULL, NULL },
	{ MONEY, "And how much in a year?", NULL, NULL, NULL, NULL },
	{ QUANTITY, "How much longer may a brew day take, for better beer?", "stand time", NULL, "min", "min" },
	{ QUANTITY, "How long is nobody at home, at most, while a beer ferments?", "store for", NULL, "h", "h" },
	{ DAYS, "Which days have time for brewing? Such as: sat, sun; or tue 19:00, sat morning; or with a rota: sat, sun, not every other "
	    "sat from 2031-03-08, where that is a Saturday you work.", NULL, NULL, NULL, NULL },
	{ QUANTITY, "How much time is there on such a day?", "store for", NULL, "h", "h" },
	{ CLOCK, "At which hour does it begin? Such as 10:00, or 20:30.", NULL, NULL, NULL, NULL },
	{ QUANTITY, "And how much on any other day, such as an evening?", "stand time", NULL, "min", "min" },
	{ CLOCK, "At which hour does that begin?", NULL, NULL, NULL, NULL },
};
enum place { UNITS, BATCH, YEAR, FAMILIES, PACKS, VESSEL, CONTROL, ROOM, WATER, TREATMENT, CURRENCY, NOW, PER_YEAR, TIME, AWAY, FREE, FREE_TIME, BEGINS, OTHER, OTHER_BEGINS, N };

struct init {
	struct cli *cli;
	const char *path;
	char told[N][CASE_LINE];
	bool made;          /* the folder was not there before */
	bool hours_told;    /* the free days have hours of their own */
};

static enum ab_status say(struct cli *cli, const char *text)
{
	char safe[1200];
	snprintf(safe, sizeof safe, "%.1100s", text);
	ab_text_scrub(safe);
	enum ab_status st = out_text(cli, safe);
	return st == AB_OK ? out_text(cli, "\n") : st;
}

/* ---- answers ---- */

static const struct case_row *row_like(const char *target)
{
	for (size_t i = 0; target != NULL && i < case_n_openings; i++)
		if (strcmp(case_openings[i].target, target) == 0)
			return &case_openings[i];
	for (size_t i = 0; target != NULL && i < case_n_rows; i++)
		if (strcmp(case_rows[i].target, target) == 0)
			return &case_rows[i];
	return NULL;
}

static void asked_of(const struct init *in, const struct asks *q, struct case_row *row, struct case_asked *asked)
{
	const struct case_row *like = row_like(q->like);
	*row = (struct case_row){ .target = q->like, .choices = q->choices != NULL ? q->choices : like != NULL ? like->choices : NULL,
		.metric = q->metric, .us = q->us, .tries = like != NULL ? like->tries : "30 min" };
	*asked = (struct case_asked){ .row = row, .spec = q->like != NULL ? ab_edit_spec(q->like) : NULL, .today = "",
		.us_units = strcmp(in->told[UNITS], "us") == 0 };
	asked->choices = row->choices;
	while (row->choices != NULL && row->choices[asked->n_choices].says != NULL)
		asked->n_choices++;
}

/* Ids with blanks between; none twice. */
static bool add_said(const struct case_asked *asked, const char *one, char *to, size_t size, char *why, size_t why_size)
{
	struct case_said answer;
	case_read_said(asked, one, &answer);
	if (answer.kind == CASE_SAID_WRONG)
		snprintf(why, why_size, "%s", answer.why);
	else if (answer.kind == CASE_SAID_VALUE && strstr(to, answer.value) == NULL && strlen(to) + strlen(answer.value) + 2 <= size)
		strcat(strcat(to, to[0] != '\0' ? " " : ""), answer.value);
	return answer.kind != CASE_SAID_WRONG;
}

/* "pale and hoppy" is one kind, "stout and wheat" are two: an "and" that no choice has parts them. */
static size_t until_and(const struct case_asked *asked, const char *one)
{
	const char *and = strstr(one, " and ");
	for (size_t i = 0; and != NULL && i < asked->n_choices; i++)
		if (strstr(asked->choices[i].says, one) != NULL)
			return strlen(one);
	return and != NULL ? (size_t)(and - one) : strlen(one);
}

static bool read_several(const struct case_asked *asked, const char *said, char *to, size_t size, char *why, size_t why_size)
{
	static const char AND[] = " and ";
	to[0] = '\0';
	for (said += strspn(said, " "); *said != '\0'; said += strspn(said, " ")) {
		char one[CASE_LINE];
		size_t n = strcspn(said, ",;"), part;
		snprintf(one, sizeof one, "%.*s", (int)(n < sizeof one ? n : sizeof one - 1), said);
		part = until_and(asked, one);
		said += part < strlen(one) ? part + strlen(AND) : n + (said[n] != '\0');
		one[part] = '\0';
		if (!add_said(asked, one, to, size, why, why_size))
			return false;
	}
	return true;
}

/* A bare number, with the money's sign before or behind it or not. */
static bool read_number(const char *said, bool whole, char *to, size_t size)
{
	const char *at = said + strcspn(said, "0123456789.,-");
	char *end;
	double x = strtod(at, &end);
	if (end == at || !isfinite(x) || x < 0 || x > 1e6 || (whole && (x != floor(x) || x < 1 || x > 1000)) ||
	    strpbrk(end, "0123456789,") != NULL || at - said > 4 || (whole && end[strspn(end, " ")] != '\0'))
		return false;
	return ab_num_text(round(x * 100) / 100, to, size) != NULL;
}

/* "about 10", "10 batches a year", "a dozen", "10-12", "once a month". */
static bool read_often(const char *said, char *to, size_t size)
{
	static const struct { const char *words; int n; } rows[] = { { "monthly|once a month|every month|one a month", 12 }, { "weekly|once a week|every week|one a week", 52 },
		{ "twice a month|two a month", 24 }, { "every two weeks|every second week|every other week", 26 }, { "every other month|every two months", 6 },
		{ "a dozen|dozen", 12 }, { "two dozen", 24 }, { "a couple", 2 } };
	static const char *const behind[] = { "batches", "brews", "beers", "times", "batch", "brew", "a year", "per year", "each year", "in a year", "yearly", NULL };
	char plain[CASE_LINE], *at = plain;
	case_plain(said, plain);
	case_cut_guess(plain);
	for (size_t i = 0; behind[i] != NULL; i++) {
		size_t len = strlen(plain), n = strlen(behind[i]);
		if (len <= n + 1 || strcmp(plain + len - n, behind[i]) != 0 || plain[len - n - 1] != ' ')
			continue;
		plain[len - n - 1] = '\0';
		i = (size_t)-1;
	}
	case_cut_guess(plain);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (const char *w = rows[i].words; *w != '\0'; w += strcspn(w, "|") + (w[strcspn(w, "|")] == '|'))
			if (strlen(plain) == strcspn(w, "|") && strncmp(plain, w, strlen(plain)) == 0)
				return snprintf(to, size, "%d", rows[i].n) < (int)size;
	const char *spelled = ab_number_spelled(plain);
	int low = 0, high = 0, end = 0;
	if (sscanf(plain, "%4d-%4d%n", &low, &high, &end) == 2 || sscanf(plain, "%4d to %4d%n", &low, &high, &end) == 2) {
		snprintf(plain, sizeof plain, "%d", (low + high) / 2);
		return low > 0 && high > low && end > 0 && read_number(plain, true, to, size);
	}
	return read_number(spelled != NULL ? spelled : at, true, to, size);
}

/* By the calendar's own reader, from any day on. */
static bool is_days(struct init *in, const char *said, char *why, size_t size)
{
	static struct ab_days days;
	char found[300];
	ab_days_start(&days, 0, 0, 0);
	bool good = ab_days_free(&days, said, false, found, sizeof found);
	in->hours_told = good && ab_days_hours_told(&days);
	if (!good)
		snprintf(why, size, "Please answer with days, or leave it blank: %s.", found);
	return good;
}

static bool is_clock(const char *said, char *why, size_t size)
{
	snprintf(why, size, "Please answer with an hour from 00:00 to 23:59, or leave it blank.");
	return !isnan(ab_days_hour(said));
}

/* False: not understood, and why says what would be. */
static bool read_answer(struct init *in, size_t i, const char *said, char *why, size_t size)
{
	const struct asks *q = &questions[i];
	struct case_row row;
	struct case_asked asked;
	struct case_said answer;
	char plain[CASE_LINE];
	case_plain(said, plain);
	in->told[i][0] = '\0';
	if (case_is_unknown(plain))
		return true;
	asked_of(in, q, &row, &asked);
	if (q->want == SEVERAL)
		return read_several(&asked, said, in->told[i], CASE_LINE, why, size);
	if (q->want == MONEY || q->want == WHOLE) {
		snprintf(why, size, q->want == WHOLE ? "Please answer with a whole number, or leave it blank."
		    : "Please answer with a number, such as 50, or leave it blank.");
		case_cut_guess(plain);
		return q->want == WHOLE ? read_often(said, in->told[i], CASE_LINE) : read_number(plain, false, in->told[i], CASE_LINE);
	}
	if (q->want == SIGN) {
		snprintf(why, size, "Please answer with a sign of at most four letters, or leave it blank.");
		snprintf(in->told[i], CASE_LINE, "%.4s", strlen(said) <= 4 && strpbrk(said, " 0123456789.,-<&\"") == NULL ? said : "");
		return in->told[i][0] != '\0';
	}
	if (q->want == DAYS || q->want == CLOCK)
		return (q->want == DAYS ? is_days(in, said, why, size) : is_clock(said, why, size)) &&
		    snprintf(in->told[i], CASE_LINE, "%s", said) < CASE_LINE;
	case_read_said(&asked, said, &answer);
	snprintf(why, size, "%s", answer.why);
	if (answer.kind == CASE_SAID_VALUE)
		snprintf(in->told[i], CASE_LINE, "%s", answer.value);
	return answer.kind != CASE_SAID_WRONG;
}

/* ---- asking ---- */

static enum ab_status say_question(struct init *in, size_t i)
{
	struct case_row row;
	struct case_asked asked;
	char text[900] = "";
	asked_of(in, &questions[i], &row, &asked);
	snprintf(text, sizeof text, "\n%s%s%s%s", questions[i].asks, questions[i].want == QUANTITY ? " (" : "",
	    questions[i].want == QUANTITY ? asked.us_units ? row.us : row.metric : "", questions[i].want == QUANTITY ? ")" : "");
	enum ab_status st = out_text(in->cli, "\n");
	if (st == AB_OK)
		st = say(in->cli, text + 1);
	for (size_t k = 0; st == AB_OK && k < asked.n_choices; k++) {
		snprintf(text, sizeof text, "  %2zu %s", k + 1, asked.choices[k].says);
		st = say(in->cli, text);
	}
	return st;
}

static enum ab_status ask_all(struct init *in, enum talk *last)
{
	static const char *const stop = "stop";
	char line[TALK_LONGEST + 1], why[500], text[520];
	enum ab_status st = AB_OK;
	for (size_t i = 0; st == AB_OK && i < N;) {
		if (i == BEGINS && in->hours_told) {
			i++;
			continue;
		}
		st = say_question(in, i);
		*last = st == AB_OK ? talk_ask(in->cli, line) : TALK_END;
		if (*last == TALK_END || *last == TALK_INTERRUPTED)
			return in->cli->diag.status == AB_OK ? out_text(in->cli, "\n") : in->cli->diag.status;
		if (strcmp(line, stop) == 0)
			return AB_OK;
		bool good = *last == TALK_LINE && read_answer(in, i, line, why, sizeof why);
		i += good;
		if (good)
			continue;
		snprintf(text, sizeof text, "  %s", *last == TALK_LINE ? why : "That line held what is no text; please type it again.");
		/* Nobody is there to answer again: the next line answers the next question, and would go to this one. */
		st = talk_is_terminal() ? say(in->cli, text) : ab_fail(&in->cli->diag, AB_EUSAGE, NULL, 0, "nothing was written; the answer to \"%.200s\" was not "
		    "understood. %s", questions[i].asks, text + 2);
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
	ab_str_addf(s, "%s<%s", strcmp(element, "vessel") == 0 || strcmp(element, "water") == 0 ? "    " : "  ", element);
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
	static const struct { enum place place; const char *name; } rows[] = { { FREE, "free" }, { FREE_TIME, "time" },
		{ BEGINS, "begins" }, { OTHER, "other" }, { OTHER_BEGINS, "other-begins" } };
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
	bool usual = told[VESSEL][0] != '\0' || told[CONTROL][0] != '\0' || told[WATER][0] != '\0' || told[TREATMENT][0] != '\0';
	ab_str_add(s, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<brewery xmlns=\"urn:afterboil:profile:1\"");
	add(s, "currency", told[CURRENCY]);
	add(s, "units", told[UNITS]);
	add(s, "room", told[ROOM]);
	ab_str_add(s, ">\n");
	add_one(s, "batch-size", "volume", told[BATCH]);
	add_one(s, "per-year", "batches", told[YEAR]);
	add_families(s, told[FAMILIES]);
	add_two(s, "money", "now", told[NOW], "per-year", told[PER_YEAR]);
	add_two(s, "time", "per-batch", told[TIME], "away", told[AWAY]);
	add_one(s, "packs", "into", told[PACKS]);
	add_week(s, told);
	if (usual) {
		ab_str_add(s, "  <usual>\n");
		add_two(s, "water", "source", told[WATER], "treatment", told[TREATMENT]);
		add_two(s, "vessel", "kind", told[VESSEL], "control", told[CONTROL]);
		ab_str_add(s, "  </usual>\n");
	}
	ab_str_add(s, "</brewery>\n");
}

/* What was written is what the reader must take: it says no before anything is on the disk. */
static enum ab_status write_profile(struct init *in)
{
	struct cli *cli = in->cli;
	struct ab_profile *profile;
	struct ab_str s;
	ab_str_init(&s, 0);
	add_all(&s, in->told);
	enum ab_status st = ab_str_ok(&s) ? ab_profile_read_memory(ab_str_text(&s), s.len, in->path, cli->arena, &profile, &cli->diag)
					  : cli_nomem(cli);
	if (st == AB_OK)
		st = ab_savefile_new(in->path, ab_str_text(&s), s.len, &cli->diag);
	ab_str_clear(&s);
	if (st == AB_OK)
		st = say(cli, ab_arena_printf(cli->arena, "Your profile is %s; change it in any editor.", in->path));
	const char *slash = strrchr(in->path, '/');
	const char *next = slash == NULL ? "Next: afterboil new BEER"
					 : ab_arena_printf(cli->arena, "Next: afterboil new BEER --in %.*s", (int)(slash - in->path), in->path);
	return st != AB_OK ? st : next == NULL ? cli_nomem(cli) : say(cli, next);
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
	in->path = strcmp(folder, ".") == 0 ? "profile.xml" : ab_arena_printf(cli->arena, "%.*s/profile.xml", (int)n, folder);
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
	st = say(cli, "A few questions about how you brew. Enter leaves one out, \"stop\" leaves out the rest.");
	if (st == AB_OK)
		st = ask_all(&in, &last);
	if (st == AB_OK && last == TALK_INTERRUPTED) {
		say(cli, "Nothing was written.");
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
