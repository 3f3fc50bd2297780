/* diagnosis_text.c - one screen that says what most likely went wrong with a batch, why, and what to do
 *
 * The order is that of two brewers over one glass: is it bad at all, what it was, why, what else, what to
 * look at, what to do, what to mind.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "report/saying.h"

/* How much of each list fits on one screen; all of it when verbose. */
static const double LIKELY = 0.3, EVEN = 0.5, SURE = 0.6;   /* where "perhaps" and "probably" begin
							     * (ab_likely_word) */
static const double HARDLY = 0.1;               /* a leader below it is told as one of many */
static const double BLAMED = 0.2;               /* from here on a cause belongs in the story told, and its
						 * caution is said */
static const double WORTH_ASKING = 0.05;        /* bits; what promises less changes no verdict */
enum {
	MOST_REASONS = 4,
	MOST_AGAINST = 3,
	MOST_OTHERS = 3,
	MOST_RISKS = 3,
	MOST_ASKS = 2,
	MOST_UNKNOWN = 4,
	BAR = 12
};

/* The page, the rules, the case and its diagnosis: what every part below reads. */
struct telling {
	struct page *p;
	const struct ab_knowledge *k;
	const struct ab_case *c;
	const struct ab_diagnosis *d;
};

/* The one rule of brevity: a limit for the screen, none when everything was asked for. */
static size_t most(const struct telling *t, size_t n, size_t limit)
{
	return t->p->look->verbose || n < limit ? n : limit;
}

/* In whole percents, halves upward as say_percent rounds: one figure is never told as two. */
static double whole(double share)
{
	return floor(100 * share + 0.5);
}

/* No redraws were asked for, or they all agree: then a range would only look exact. */
static const char *range_of(const struct telling *t, const struct ab_suspect *s)
{
	if (!(s->blame_high > s->blame_low))
		return "";
	return page_text(t->p, " (likely %.0f to %.0f)", whole(s->blame_low), whole(s->blame_high));
}

/* ASCII only, which is what titles begin with; the locale is not ours to set. */
static const char *capital(struct page *p, const char *word)
{
	return page_text(p, "%c%s", toupper((unsigned char)word[0]), word + 1);
}

/* "DMS" and the like keep their capitals: a second capital or digit marks a name. */
static const char *lower_first(struct page *p, const char *word)
{
	assert(word != NULL);
	bool name = isupper((unsigned char)word[0]) &&
	    (isupper((unsigned char)word[1]) || isdigit((unsigned char)word[1]));
	return name ? word : page_text(p, "%c%s", tolower((unsigned char)word[0]), word + 1);
}

/* ---- what was tasted ---- */

/* Lists of a diagnosis are a few numbers long. */
static bool in(const int *list, size_t n, int x)
{
	while (n > 0)
		if (list[--n] == x)
			return true;
	return false;
}

/* Expected traits count as found too: they were tasted. */
static size_t n_found(const struct telling *t)
{
	size_t n = 0;
	for (size_t f = 0; f < t->k->n_faults; f++)
		n += t->c->evidence.finding[f].seen == AB_SEEN_FOUND;
	return n;
}

/* Repeated first, in the rules' words, so that a word understood wrongly shows at once. */
static void say_tasted(const struct telling *t)
{
	size_t i = 0;
	if (n_found(t) == 0)
		return;
	page_begin(t->p, 0);
	page_say(t->p, PLAIN, "Found in the glass: ");
	for (size_t f = 0; f < t->k->n_faults; f++) {
		const struct ab_finding *found = &t->c->evidence.finding[f];
		if (found->seen != AB_SEEN_FOUND)
			continue;
		page_say(t->p, PLAIN,
		    page_text(t->p, "%s%s: %s%s", i++ > 0 ? "; " : "",
		    lower_first(t->p, t->k->faults[f].title), ab_grade_name(found->grade),
			in(t->d->expected, t->d->n_expected, (int)f) ? " (this beer is meant to have some)"
								     : ""));
	}
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

/* ---- the leading cause ---- */

/* Blame is told as "of 100 batches": frequencies are understood where probabilities are not. */
static void say_top(const struct telling *t, const struct ab_suspect *s)
{
	const struct ab_cause *cause = &t->k->causes[s->cause];
	const char *word = s->blame < HARDLY ? "first of many" : ab_likely_word(s->blame, s->blame_low,
	    s->blame_high);
	page_section(t->p, t->d->verdict_benign ? "What it most likely is" : "What most likely happened");
	page_begin(t->p, 2);
	page_say(t->p, LOUD, page_text(t->p, "%s: %s", capital(t->p, word), lower_first(t->p, cause->title)));
	page_say(t->p, PLAIN,
	    page_text(t->p,
		cause->benign
		    ? ". %s: in 100 beers like this one, it explains what was found in about %.0f%s."
		    : ". Blame %s: of 100 batches like this one, about %.0f owe what was found to it%s.",
		say_percent(t->p, s->blame), whole(s->blame), range_of(t, s)));
	page_end(t->p);
	if (cause->why != NULL)
		page_para(t->p, 2, PLAIN, cause->why);
	if (s->blame < LIKELY)
		page_para(t->p, 2, PLAIN,
		    "No single cause stands out yet: a check or a few more notes will tell more "
		    "than a guess.");
}

/* The rules' own words for a sign beat any title. */
static const char *reason_text(const struct telling *t, const struct ab_reason *r)
{
	if (r->text != NULL)
		return r->text;
	if (r->is_check)
		return t->k->checks[r->check].title;
	return r->is_fault ? t->k->faults[r->fault].title : t->k->facts->defs[r->slot].title;
}

/* Without its only fault nothing would be to blame: that is no news, unless there is no other reason at all;
 * nor is what changes nothing. */
static bool is_news(const struct telling *t, const struct ab_reason *r, double blame, size_t n)
{
	if (fabs(blame - r->blame_without) < 0.005)
		return false;
	return n == 1 || !r->is_fault || n_found(t) > 1 ||
	    t->c->evidence.finding[r->fault].seen != AB_SEEN_FOUND;
}

/* The blame without each reason stands beside it, so that the reader can weigh it against a memory that
 * says otherwise. */
static void say_reasons(const struct telling *t, const char *title, const char *mark, enum tone tone,
    double blame, const struct ab_reason *reasons, size_t n, size_t limit)
{
	size_t told = 0;
	for (size_t i = 0; i < n && (told < limit || t->p->look->verbose); i++) {
		const struct ab_reason *r = &reasons[i];
		if (!is_news(t, r, blame, n))
			continue;
		if (told++ == 0)
			page_section(t->p, title);
		page_item(t->p, 2, mark, tone);
		page_say(t->p, PLAIN, reason_text(t, r));
		page_say(t->p, QUIET,
		    page_text(t->p, " (without this: %s)", say_percent(t->p, r->blame_without)));
		page_end(t->p);
	}
}

static void say_others(const struct telling *t)
{
	size_t n = most(t, t->d->n_suspects - 1, MOST_OTHERS);
	assert(t->d->n_suspects > 0);
	const char **cells = n == 0 || t->p->bad ? NULL : ab_arena_alloc(t->p->arena, 4 * n, sizeof *cells);
	if (cells == NULL)
		return;
	for (size_t i = 0; i < n; i++) {
		const struct ab_suspect *s = &t->d->suspects[i + 1];
		const struct ab_cause *cause = &t->k->causes[s->cause];
		cells[4 * i] = say_percent(t->p, s->blame);
		cells[4 * i + 1] = page_bar(t->p, s->blame, BAR);
		cells[4 * i + 2] = page_text(t->p, "%s%s", cause->title, cause->benign ? " (harmless)" : "");
		cells[4 * i + 3] = s->blame_high > s->blame_low
		    ? page_text(t->p, "likely %.0f to %.0f %%", whole(s->blame_low), whole(s->blame_high))
		    : "";
	}
	page_section(t->p, "Other suspects");
	page_table(t->p, 2, "roxo", false, cells, n);
}

/* Causes are few and stories short: a search is fine. */
static double blame_of(const struct telling *t, int cause)
{
	for (size_t i = 0; i < t->d->n_suspects; i++)
		if (t->d->suspects[i].cause == cause)
			return t->d->suspects[i].blame;
	return 0;
}

/* What is likely so but blamed for nothing would only cloud the story. One cause is no story: it was
 * told above. Blame, not probability, decides, for two likely causes may share one fault. */
static void say_story(const struct telling *t)
{
	size_t n = 0, told = 0;
	for (size_t i = 0; i < t->d->n_story; i++)
		n += blame_of(t, t->d->story[i]) >= BLAMED;
	if (n < 2)
		return;
	page_gap(t->p);
	page_begin(t->p, 0);
	page_say(t->p, PLAIN, "The best single story has more than one cause: ");
	for (size_t i = 0; i < t->d->n_story; i++)
		if (blame_of(t, t->d->story[i]) >= BLAMED)
			say_next(t->p, LOUD, told++, n,
			    lower_first(t->p, t->k->causes[t->d->story[i]].title));
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

/* ---- beside the verdict ---- */

/* Kept apart from suspects: what is likely so but made nothing must not read as an accusation. */
static void say_risks(const struct telling *t)
{
	size_t n = most(t, t->d->n_risks, MOST_RISKS);
	if (n == 0)
		return;
	page_section(t->p,
	    t->d->nothing_found ? "What may show up later, or in another batch"
				: "Likely so in this batch, but innocent of what was found");
	for (size_t i = 0; i < n; i++) {
		int cause = t->d->risks[i];
		page_item(t->p, 2, "~", QUIET);
		page_say(t->p, PLAIN, t->k->causes[cause].title);
		page_say(t->p, QUIET,
		    page_text(t->p, " (so with %s)", say_percent(t->p, t->d->present[cause])));
		page_end(t->p);
	}
}

/* Time, money and waiting, for a check may be cheap and still come too late. */
static const char *cost_of(const struct telling *t, const struct ab_ask *ask)
{
	const char *time =
	    ask->minutes > 0 ? page_text(t->p, "about %s", say_minutes(t->p, ask->minutes))
	    : "only remembering";
	const char *money = ask->cost > 0 ? page_text(t->p, ", %s", say_money(t->p, ask->cost)) : ", free";
	const char *wait = ask->wait_days > 0
	    ? page_text(t->p, ", answer after %s", say_count(t->p, (size_t)(ask->wait_days + 0.5),
	    "day", "days"))
	    : "";
	return page_text(t->p, "%s%s%s", time, money, wait);
}

/* The checks' instructions go along, since "do a forced test" helps nobody who does not know how. */
static void say_ask(const struct telling *t, size_t place, const struct ab_ask *ask)
{
	const struct ab_fact_def *def = ask->is_check ? NULL : &t->k->facts->defs[ask->slot];
	page_item(t->p, 2, page_text(t->p, "%zu.", place), PLAIN);
	page_say(t->p, LOUD,
	    ask->is_check           ? t->k->checks[ask->check].title
		: def->asks != NULL ? def->asks
				    : def->title);
	page_say(t->p, QUIET, page_text(t->p, " (%s)", cost_of(t, ask)));
	if (ask->is_check && t->k->checks[ask->check].how != NULL)
		page_say(t->p, PLAIN, page_text(t->p, " %s", t->k->checks[ask->check].how));
	page_end(t->p);
}

/* Below WORTH_ASKING no answer would change what is said here. */
static bool asks_matter(const struct telling *t)
{
	for (size_t i = 0; i < t->d->n_asks; i++)
		if (t->d->asks[i].bits >= WORTH_ASKING)
			return true;
	return false;
}

/* Two at most: a list of ten questions gets no answer at all. */
static void say_asks(const struct telling *t)
{
	size_t limit = most(t, t->d->n_asks, MOST_ASKS), told = 0;
	page_section(t->p, "What to check next");
	for (size_t i = 0; i < t->d->n_asks && told < limit; i++)
		if (t->p->look->verbose || t->d->asks[i].bits >= WORTH_ASKING)
			say_ask(t, ++told, &t->d->asks[i]);
	if (!asks_matter(t))
		page_para(t->p, 2, PLAIN, "Nothing cheap to find out would change this answer.");
}

/* Two pieces of advice at most, the second only where its cause is likely: a list of ten changes
 * teaches nothing. */
static void say_next_time(const struct telling *t)
{
	size_t told = 0;
	for (size_t i = 0; i < t->d->n_suspects && told < 2; i++) {
		const struct ab_suspect *s = &t->d->suspects[i];
		const struct ab_cause *cause = &t->k->causes[s->cause];
		if (cause->next == NULL || (i > 0 && s->blame < LIKELY))
			continue;
		if (told++ == 0)
			page_section(t->p, t->d->verdict_benign ? "What to do" : "What to do next time");
		page_point(t->p, 2, "*", PLAIN, cause->next);
	}
}

/* Said openly, or the causes named would seem to explain it. */
static void say_unexplained(const struct telling *t)
{
	if (t->d->n_unexplained == 0)
		return;
	page_begin(t->p, 2);
	page_say(t->p, PLAIN, "No cause in the rules explains it well: ");
	for (size_t i = 0; i < t->d->n_unexplained; i++)
		page_say(t->p, PLAIN,
		    page_text(t->p, "%s%s", i > 0 ? "; " : "",
			lower_first(t->p, t->k->faults[t->d->unexplained[i]].title)));
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

/* As the questions they are: a bare title would be a riddle. */
static void say_unknown(const struct telling *t, size_t n)
{
	size_t shown = most(t, n, MOST_UNKNOWN);
	if (n == 0)
		return;
	page_begin(t->p, 2);
	page_say(t->p, PLAIN, "The journal does not say, and it would matter:");
	for (size_t i = 0; i < shown; i++) {
		const struct ab_fact_def *def = &t->k->facts->defs[t->d->unknown[i]];
		page_say(t->p, PLAIN,
		    def->asks != NULL ? page_text(t->p, " %s", def->asks)
				      : page_text(t->p, " %s?", capital(t->p, def->title)));
	}
	if (shown < n)
		page_say(t->p, PLAIN, page_text(t->p, " And %zu more.", n - shown));
	page_end(t->p);
}

/* Where no answer could change the verdict, gaps in the journal are not worth a reader's time. */
static void say_unjudged(const struct telling *t)
{
	bool matters = t->p->look->verbose || asks_matter(t);
	size_t n = matters ? t->d->n_unknown : 0;
	if (n == 0 && t->d->n_unexplained == 0)
		return;
	page_section(t->p, "What could not be judged");
	say_unexplained(t);
	say_unknown(t, n);
}

/* Warnings of bottles that may burst stand above all else; ids as in casework.h. Only danger to people
 * counts: everything else may wait for its place on the page. */
static bool is_alarm(const struct ab_warning *w)
{
	return strcmp(w->id, "bottle-pressure") == 0 || strcmp(w->id, "bottle-bombs") == 0;
}

/* A cause's caution alone would be a riddle: "vent the jar" needs to be told of what. */
static const char *warning_text(const struct telling *t, const struct ab_warning *w)
{
	int cause = ab_cause_find(t->k, w->id);
	return cause < 0 ? w->text : page_text(t->p, "%s: %s", t->k->causes[cause].title,
	    lower_first(t->p, w->text));
}

/* One alarm: the reckoned pressure and the gushing found ask for the same care, and said twice it would be
 * skipped. */
static void say_alarm(const struct telling *t)
{
	for (size_t i = 0; i < t->d->n_warnings; i++) {
		if (!is_alarm(&t->d->warnings[i]))
			continue;
		page_gap(t->p);
		page_point(t->p, 0, "!", CAREFUL, t->d->warnings[i].text);
		page_gap(t->p);
		return;
	}
}

/* Alarms are left out, as they stand above all else already. */
static void say_warnings(const struct telling *t)
{
	size_t told = 0;
	for (size_t i = 0; i < t->d->n_warnings; i++) {
		const struct ab_warning *w = &t->d->warnings[i];
		if (is_alarm(w))
			continue;
		if (told++ == 0)
			page_section(t->p, "Take care");
		page_point(t->p, 2, "!", CAREFUL, warning_text(t, w));
	}
}

/* ---- the whole ---- */

/* The blame of the process cause most blamed: what is wrong beside a harmless explanation. */
static double most_guilt(const struct telling *t)
{
	double most = 0;
	for (size_t i = 0; i < t->d->n_suspects; i++)
		if (!t->k->causes[t->d->suspects[i].cause].benign)
			most = fmax(most, t->d->suspects[i].blame);
	return most;
}

/* Never a clean bill while a process cause is as likely as not. */
static void say_harmless(const struct telling *t)
{
	double guilt = most_guilt(t);
	if (guilt >= EVEN)
		page_para(t->p, 0, PLAIN,
		    "Part of what was found is harmless in such a beer, but not all: a cause in the process "
		    "stands among "
		    "the other suspects.");
	else if (t->d->suspects[0].blame >= SURE && guilt < LIKELY)
		page_para(t->p, 0, GOOD, "Nothing seems to be wrong with this beer. Change nothing yet.");
	else
		page_para(t->p, 0, GOOD,
		    "Perhaps nothing is wrong with this beer. Change nothing yet; look first at "
		    "what is listed "
		    "below to check.");
}

/* "Not tasted" and "nothing found" are different news, and only one is good. */
static void say_first(const struct telling *t)
{
	const struct ab_diagnosis *d = t->d;
	if (d->verdict_benign)
		say_harmless(t);
	else if (d->nothing_found && t->c->tasted)
		page_para(t->p, 0, GOOD,
		    "No fault was found in this batch. Well brewed: keep doing what you did.");
	else if (d->nothing_found)
		page_para(t->p, 0, PLAIN,
		    "Not tasted yet, so there is nothing to explain. Taste it and write down what you "
		    "find; what "
		    "the journal alone tells is below.");
	else if (d->n_suspects == 0)
		page_para(t->p, 0, PLAIN, "None of the causes in the rules fits what was found.");
}

/* Order of the page: danger, what was found, the answer, why, what else, what to do. Who stops reading
 * anywhere has the most important part. */
void report_diagnosis_text(struct page *p, const struct ab_knowledge *k, const struct ab_case *c)
{
	struct telling t = { p, k, c, c->diagnosis };
	const struct ab_suspect *top = t.d->n_suspects > 0 && !t.d->nothing_found ? &t.d->suspects[0] : NULL;
	report_heading(p, c, "Diagnosis");
	say_alarm(&t);
	say_tasted(&t);
	say_first(&t);
	if (top != NULL) {
		say_top(&t, top);
		say_reasons(&t, "Why", "+", GOOD, top->blame, top->pro, top->n_pro, MOST_REASONS);
		say_reasons(&t, "What speaks against it", "-", BAD, top->blame, top->con, top->n_con,
		    MOST_AGAINST);
		say_others(&t);
		say_story(&t);
	}
	say_risks(&t);
	if (!t.d->nothing_found) {
		say_asks(&t);
		say_next_time(&t);
		say_unjudged(&t);
	}
	say_warnings(&t);
}

/* Once after all batches, not once a batch. */
void report_diagnosis_end(struct page *p, struct ab_case *const *cases, size_t n)
{
	bool spoiled = false, judged = false;
	for (size_t i = 0; i < n; i++) {
		judged = judged || !cases[i]->diagnosis->nothing_found;
		spoiled = spoiled ||
		    (!cases[i]->diagnosis->nothing_found && !cases[i]->diagnosis->verdict_benign);
	}
	if (!judged)
		return;
	page_gap(p);
	if (spoiled)
		page_para(p, 0, PLAIN,
		    "Most brewers spoil a batch now and then; one batch understood is worth three "
		    "that just came "
		    "out well.");
	page_para(
	    p, 0, QUIET,
	    "Percentages are estimates from the strengths that the rules state, not measurements.");
}
