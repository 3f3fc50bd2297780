/* init_answer.c - the questions of afterboil init, and what an answer to one is kept as
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/init.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/calendar.h>
#include "base/spelled.h"
#include "base/str.h"
#include "journal/edit.h"

enum want { CHOICE, SEVERAL, QUANTITY, WHOLE, MONEY, SIGN, DAYS, CLOCK };

#define CHOICES(name, ...) static const struct case_choice name[] = { __VA_ARGS__, { NULL, NULL } }
CHOICES(units, { "litres and Celsius", "metric" }, { "gallons and Fahrenheit", "us" });
CHOICES(packs, { "bottles", "bottles" }, { "keg", "keg" }, { "cask", "cask" }, { "cans", "cans" });

/* In the order they are asked and of enum init_place. like: the interview's row whose choices, units and range
 * serve. */
static const struct asks {
	enum want want;
	const char *asks, *like;
	const struct case_choice *choices;
	const char *metric, *us;
} questions[INIT_QUESTIONS] = {
	{ CHOICE, "Which units do you use?", NULL, units, NULL, NULL },
	{ QUANTITY, "How much beer does a batch make?", "recipe volume", NULL, "L", "gal" },
	{ WHOLE, "How many batches do you brew in a year?", NULL, NULL, NULL, NULL },
	{ SEVERAL, "Which kinds of beer do you brew? One or more, with commas between.", "batch family", NULL, NULL,
	    NULL },
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
	{ DAYS,
	    "Which days have time for brewing? Such as: sat, sun; or tue 19:00, sat morning; or with a rota: "
	    "sat, sun, not every other sat from 2031-03-08, where that is a Saturday you work.",
	    NULL, NULL, NULL, NULL },
	{ QUANTITY, "How much time is there on such a day?", "store for", NULL, "h", "h" },
	{ CLOCK, "At which hour does it begin? Such as 10:00, or 20:30.", NULL, NULL, NULL, NULL },
	{ QUANTITY, "And how much on any other day, such as an evening?", "stand time", NULL, "min", "min" },
	{ CLOCK, "At which hour does that begin?", NULL, NULL, NULL, NULL },
};

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
	*row = (struct case_row){ .target = q->like,
		.choices = q->choices != NULL ? q->choices
		    : like != NULL            ? like->choices
					      : NULL,
		.metric = q->metric,
		.us = q->us,
		.tries = like != NULL ? like->tries : "30 min" };
	*asked = (struct case_asked){ .row = row, .spec = q->like != NULL ? ab_edit_spec(q->like) : NULL, .today = "",
		.us_units = strcmp(in->told[INIT_UNITS], "us") == 0 };
	case_take_choices(asked);
}

struct init_question init_question(const struct init *in, enum init_place i)
{
	struct case_row row;
	struct case_asked asked;
	asked_of(in, &questions[i], &row, &asked);
	return (struct init_question){ questions[i].asks,
		questions[i].want != QUANTITY ? NULL
		    : asked.us_units          ? row.us
					      : row.metric,
		asked.choices, asked.n_choices };
}

/* Ids with blanks between; none twice. */
static bool add_said(const struct case_asked *asked, const char *one, char *to, size_t size, char *why, size_t why_size)
{
	struct case_said answer;
	case_read_said(asked, one, &answer);
	if (answer.kind == CASE_SAID_WRONG)
		snprintf(why, why_size, "%s", answer.why);
	else if (answer.kind == CASE_SAID_VALUE && strstr(to, answer.value) == NULL &&
	    strlen(to) + strlen(answer.value) + 2 <= size)
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

static bool read_several(
    const struct case_asked *asked, const char *said, char *to, size_t size, char *why, size_t why_size)
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
	static const struct { const char *words; int n; } rows[] = {
	    { "monthly|once a month|every month|one a month", 12 }, { "weekly|once a week|every week|one a week", 52 },
		{ "twice a month|two a month", 24 }, { "every two weeks|every second week|every other week", 26 },
		{ "every other month|every two months", 6 },
		{ "a dozen|dozen", 12 }, { "two dozen", 24 }, { "a couple", 2 } };
	static const char *const behind[] = { "batches", "brews", "beers", "times", "batch", "brew", "a year",
		"per year", "each year", "in a year", "yearly", NULL };
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
	if (sscanf(plain, "%4d-%4d%n", &low, &high, &end) == 2 ||
	    sscanf(plain, "%4d to %4d%n", &low, &high, &end) == 2) {
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

bool init_answer(struct init *in, enum init_place i, const char *said, char *why, size_t size)
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
		return q->want == WHOLE ? read_often(said, in->told[i], CASE_LINE)
					: read_number(plain, false, in->told[i], CASE_LINE);
	}
	if (q->want == SIGN) {
		snprintf(why, size, "Please answer with a sign of at most four letters, or leave it blank.");
		snprintf(in->told[i], CASE_LINE, "%.4s",
		    strlen(said) <= 4 && strpbrk(said, " 0123456789.,-<&\"") == NULL ? said : "");
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
