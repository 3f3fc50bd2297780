/* diagnosis_lead.c - the answer: what most likely happened, why, and what would change it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/telling.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "report/saying.h"

static const double HARDLY = 0.1;               /* a leader below it is told as one of many */
static const double BLAMED = 0.2;               /* from here on a cause belongs in the story told */
static const double WORTH_ASKING = 0.05;        /* bits; what promises less changes no verdict */
static const double A_WAY = 0.05;               /* blame from which a way of a kin is named */
static const double HANGS = 0.6;                /* a reason without which less than this share of the blame
						 * is left carries the answer (estimate) */
static const double NOTHING_LEFT = 0.01;
static const double WORTH_NAMING = 0.02;        /* other suspects below it are noise on a screen */
enum { MOST_REASONS = 4, MOST_AGAINST = 3, MOST_OTHERS = 3, MOST_WAYS = 3, BAR = 12 };

/* ---- shared ---- */

size_t tell_most(const struct telling *t, size_t n, size_t limit)
{
	return t->p->look->verbose || n < limit ? n : limit;
}

bool tell_worth_asking(const struct ab_ask *ask)
{
	return ask->bits >= WORTH_ASKING;
}

bool tell_asks_matter(const struct telling *t)
{
	for (size_t i = 0; i < t->d->n_asks; i++)
		if (tell_worth_asking(&t->d->asks[i]))
			return true;
	return false;
}

/* In whole percents, halves upward as say_percent rounds: one figure is never told as two. */
static double whole(double share)
{
	return floor(100 * share + 0.5);
}

/* ---- who leads ---- */

/* A cause or a kin, told alike. */
struct leader {
	const char *title, *why;
	double blame, low, high;
	bool benign;
	const struct ab_reason *pro, *con;
	size_t n_pro, n_con;
};

static struct leader leader_of(const struct telling *t)
{
	const struct ab_kin_blame *kin = t->d->lead;
	const struct ab_suspect *s = &t->d->suspects[kin != NULL ? kin->leader : 0];
	const struct ab_cause *cause = &t->k->causes[s->cause];
	if (kin == NULL)
		return (struct leader){ cause->title, cause->why, s->blame, s->blame_low, s->blame_high,
			cause->benign, s->pro, s->con, s->n_pro, s->n_con };
	return (struct leader){ t->k->kins[kin->kin].title, t->k->kins[kin->kin].why, kin->blame, kin->low,
		kin->high, cause->benign, kin->pro, kin->con, kin->n_pro, kin->n_con };
}

static bool of_lead(const struct telling *t, const struct ab_suspect *s)
{
	return t->d->lead != NULL && t->k->causes[s->cause].kin == t->d->lead->kin;
}

/* No redraws were asked for, or they all agree: then a range would only look exact. */
static const char *range_of(const struct telling *t, const struct leader *l)
{
	if (!(l->high > l->low))
		return "";
	return page_text(t->p, " (likely %.0f to %.0f)", whole(l->low), whole(l->high));
}

/* "Probably nothing is wrong: ..." is a sentence; "Probably: too little yeast" needs its colon. */
static const char *headline(const struct telling *t, const struct leader *l)
{
	static const char nothing[] = "nothing is wrong";
	const char *word = l->blame < HARDLY ? "first of many" : ab_likely_word(l->blame, l->low, l->high);
	const char *title = say_lower(t->p, l->title);
	bool sentence = l->blame >= HARDLY && strncmp(title, nothing, strlen(nothing)) == 0;
	return page_text(t->p, "%s%s %s", say_capital(t->p, word), sentence ? "" : ":", title);
}

/* The ways of a kin, the likeliest first. */
static void say_ways(const struct telling *t)
{
	size_t told = 0;
	page_begin(t->p, 2);
	page_say(t->p, PLAIN, page_text(t->p, "%s: ",
	    say_capital(t->p, t->k->kins[t->d->lead->kin].ways)));
	for (size_t i = 0; i < t->d->n_suspects && told < tell_most(t, t->d->n_suspects, MOST_WAYS); i++) {
		const struct ab_suspect *s = &t->d->suspects[i];
		if (!of_lead(t, s) || (told > 0 && s->blame < A_WAY && !t->p->look->verbose))
			continue;
		page_say(t->p, PLAIN, page_text(t->p, "%s%s (%s)", told > 0 ? "; then " : "",
		    say_lower(t->p, t->k->causes[s->cause].title), say_percent(t->p, s->blame)));
		told++;
	}
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

/* Blame is told as "of 100 batches": frequencies are understood where probabilities are not. */
static void say_top(const struct telling *t, const struct leader *l)
{
	page_section(t->p, t->d->verdict_benign ? "What it most likely is" : "What most likely happened");
	page_begin(t->p, 2);
	page_say(t->p, LOUD, headline(t, l));
	page_say(t->p, PLAIN, l->benign ? ". " : page_text(t->p, ". Blame %s: ", say_percent(t->p, l->blame)));
	page_say(t->p, PLAIN, page_text(t->p, "%s 100 batches like this one, about %.0f owe what was found to it%s.",
	    l->benign ? "Of" : "of", whole(l->blame), range_of(t, l)));
	page_end(t->p);
	if (l->why != NULL)
		page_para(t->p, 2, PLAIN, say_words(t->p, l->why));
	if (t->d->lead != NULL)
		say_ways(t);
	if (l->blame < TELL_LIKELY)
		page_para(t->p, 2, PLAIN,
		    "No single cause stands out yet: a check or a few more notes will tell more "
		    "than a guess.");
}

/* ---- why ---- */

/* The rules' own words for a sign beat any title; the figure behind it stands beside them, in the brewer's
 * units. */
static const char *reason_text(const struct telling *t, const struct ab_reason *r)
{
	const struct ab_fact_def *def = r->slot >= 0 && !r->is_fault && !r->is_check
	    ? &t->k->facts->defs[r->slot] : NULL;
	if (r->says != NULL && def != NULL && def->kind == AB_FACT_NUMBER)
		return page_text(t->p, "%s (%s)", say_words(t->p, r->says),
		    say_figure(t->p, def, &t->c->facts[r->slot]));
	if (def != NULL && def->kind == AB_FACT_NUMBER && r->weight != 0)
		return say_figure(t->p, def, &t->c->facts[r->slot]);
	if (r->text != NULL)
		return say_words(t->p, r->text);
	if (r->is_check)
		return say_words(t->p, t->k->checks[r->check].title);
	return r->is_fault ? t->k->faults[r->fault].title : t->k->facts->defs[r->slot].title;
}

/* Without its only fault nothing would be to blame: that is no news, unless there is no other reason at all;
 * nor is what changes nothing. */
static bool is_news(const struct telling *t, const struct ab_reason *r, double blame, size_t n)
{
	if (fabs(blame - r->blame_without) < 0.005)
		return false;
	return n == 1 || !r->is_fault || tell_n_found(t) > 1 ||
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

/* The weightiest thing known, or NULL: a fault found alone carries any answer and is no news. */
static const struct ab_reason *weightiest(const struct telling *t, const struct leader *l)
{
	for (size_t i = 0; i < l->n_pro; i++)
		if (is_news(t, &l->pro[i], l->blame, l->n_pro) && !(l->pro[i].is_fault && tell_n_found(t) < 2))
			return &l->pro[i];
	return NULL;
}

/* An answered check ends as a sentence of its own. */
static bool ends_sentence(const char *text)
{
	size_t len = strlen(text);

	return len > 0 && text[len - 1] == '.';
}

/* One sentence: a verdict is worth more to a brewer who knows what it stands on. */
static void say_change(const struct telling *t, const struct leader *l)
{
	const struct ab_reason *r = weightiest(t, l);
	const char *text = r == NULL ? "" : reason_text(t, r);
	const char *left = r == NULL || r->blame_without < NOTHING_LEFT ? "nothing"
	    : say_percent(t->p, r->blame_without);
	page_section(t->p, "What would change this answer");
	page_begin(t->p, 2);
	if (r == NULL)
		page_say(t->p, PLAIN, "It rests on the tasting alone, and on how often such things happen.");
	else if (r->blame_without < HANGS * l->blame)
		page_say(t->p, PLAIN, page_text(t->p, "It hangs most on one thing: %s%s If that is not so, it falls to "
		    "%s.", text, ends_sentence(text) ? "" : ".", left));
	else
		page_say(t->p, PLAIN, page_text(t->p, "It does not hang on one thing: without the weightiest "
		    "reason it would still stand at %s.", left));
	if (tell_asks_matter(t))
		page_say(t->p, PLAIN, " The first check below could move it most.");
	page_end(t->p);
}

/* ---- who else ---- */

/* Of a kin that leads the ways were told already; others are those outside it. */
static void say_others(const struct telling *t)
{
	size_t n = tell_most(t, t->d->n_suspects, MOST_OTHERS), told = 0;
	const char **cells = t->p->bad ? NULL : ab_arena_alloc(t->p->arena, 4 * n, sizeof *cells);
	for (size_t i = t->d->lead != NULL ? 0 : 1; cells != NULL && i < t->d->n_suspects && told < n; i++) {
		const struct ab_suspect *s = &t->d->suspects[i];
		const struct ab_cause *cause = &t->k->causes[s->cause];
		if (of_lead(t, s) || (s->blame < WORTH_NAMING && !t->p->look->verbose))
			continue;
		const char **row = &cells[4 * told++];
		row[0] = say_percent(t->p, s->blame);
		row[1] = page_bar(t->p, s->blame, BAR);
		row[2] = page_text(t->p, "%s%s", cause->title, cause->benign ? " (harmless)" : "");
		row[3] = s->blame_high > s->blame_low
		    ? page_text(t->p, "likely %.0f to %.0f %%", whole(s->blame_low), whole(s->blame_high))
		    : "";
	}
	if (told == 0)
		return;
	page_section(t->p, "Other suspects");
	page_table(t->p, 2, "roxo", false, cells, told);
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
			    say_lower(t->p, t->k->causes[t->d->story[i]].title));
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

void tell_lead(const struct telling *t)
{
	assert(t->d->n_suspects > 0);
	struct leader l = leader_of(t);
	say_top(t, &l);
	say_reasons(t, "Why", "+", GOOD, l.blame, l.pro, l.n_pro, MOST_REASONS);
	say_reasons(t, "What speaks against it", "-", BAD, l.blame, l.con, l.n_con, MOST_AGAINST);
	say_change(t, &l);
	say_others(t);
	say_story(t);
}
