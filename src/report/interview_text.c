/* interview_text.c - what an interview says between two answers, and at its end
 *
 * Short lines: the reader has a glass in one hand. Every piece is a page of its own, printed as it comes.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "report/saying.h"

enum { MOVES = 2, IN_A_ROW = 3 };
static const double EVEN = 0.5;

/* ---- questions ---- */

enum ab_status ab_report_greeting(const struct ab_interview *iv, size_t questions, const struct ab_look *look,
    char **out, struct ab_diag *diag)
{
	struct page p;
	(void)iv;
	page_start(&p, look, "Interview");
	page_para(&p, 0, PLAIN, "Pour a glass of the beer, if you can. A few plain questions come first, then at "
	    "most so many as help to find out what happened to it.");
	page_para(&p, 0, QUIET,
	    page_text(&p,
		"Answer in your own words; press Enter when you do not know. \"?\" tells why "
		"it is asked, \"back\" takes the last answer back, \"stop\" ends. At most %s after the plain ones.",
		say_count(&p, questions, "question", "questions")));
	return page_finish(&p, out, diag);
}

/* What may be answered: a numbered list, in one line where it is short. */
static void say_choices(struct page *p, const struct ab_question *q)
{
	size_t columns = 0;
	for (size_t i = 0; i < q->n_choices; i++)
		columns += strlen(q->choices[i]) + 6;
	bool row = q->n_choices <= IN_A_ROW || (int)columns < p->look->width;
	if (row)
		page_begin(p, 2);
	for (size_t i = 0; i < q->n_choices; i++) {
		if (row)
			page_say(p, PLAIN, page_text(p, "%s%zu %s", i > 0 ? ",  " : "", i + 1, q->choices[i]));
		else
			page_point(p, 2, page_text(p, "%2zu", i + 1), PLAIN, q->choices[i]);
	}
	if (row)
		page_end(p);
}

static void say_hint(struct page *p, const struct ab_question *q)
{
	if (q->wanted == AB_WANT_TASTE && !q->again)
		page_para(p, 2, QUIET,
		    "One or more, with how strong from 1 (barely there) to 5 (undrinkable): \"buttery 3\", "
		    "\"wet cardboard\". \"nothing\" when nothing is wrong, \"list\" for words to choose from.");
	else if (q->wanted == AB_WANT_TASTE)
		page_para(p, 2, QUIET, "Press Enter when that is all.");
	else if (q->wanted == AB_WANT_YESNO)
		page_para(p, 2, QUIET, "yes or no");
	else if (q->wanted == AB_WANT_NUMBER && q->example[0] != '\0')
		page_para(p, 2, QUIET, page_text(p, "such as \"%s\"", q->example));
}

enum ab_status ab_report_question(const struct ab_interview *iv, size_t questions, const struct ab_look *look,
    char **out, struct ab_diag *diag)
{
	const struct ab_question *q = ab_interview_question(iv);
	struct page p;
	assert(q != NULL);
	page_start(&p, look, "Question");
	page_begin(&p, 0);
	if (q->number > 0 && !q->again)
		page_say(&p, QUIET, page_text(&p, "%zu of %zu  ", q->number, questions));
	page_say(&p, LOUD, q->asks);
	page_end(&p);
	say_hint(&p, q);
	if (q->wanted == AB_WANT_CHOICE)
		say_choices(&p, q);
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_taste_words(const struct ab_knowledge *k, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct page p;
	page_start(&p, look, "Words");
	const char **cells = ab_arena_alloc(p.arena, 2 * k->n_faults + 1, sizeof *cells);
	for (size_t i = 0; cells != NULL && i < k->n_faults; i++) {
		const struct ab_fault *f = &k->faults[i];
		cells[2 * i] = f->n_words > 0 ? f->words[0] : f->id;
		cells[2 * i + 1] = f->title;
	}
	if (cells == NULL)
		p.bad = true;
	else
		page_table(&p, 2, "lx", false, cells, k->n_faults);
	return page_finish(&p, out, diag);
}

/* ---- answers ---- */

/* "Fermented too warm in the first days: 41 -> 78 %". */
static void say_moves(struct page *p, const struct ab_knowledge *k, const struct ab_interview *iv)
{
	struct ab_move moves[MOVES];
	size_t n = ab_interview_moves(iv, moves, MOVES);
	for (size_t i = 0; i < n; i++) {
		const struct ab_move *m = &moves[i];
		page_begin(p, 2);
		page_say(p, m->after > m->before ? BAD : GOOD, page_text(p, "%s: %.0f %s %.0f %%",
		    k->causes[m->cause].title, floor(100 * m->before + 0.5), "->",
		    floor(100 * m->after + 0.5)));
		page_end(p);
	}
}

static void say_near(struct page *p, const struct ab_reply *reply)
{
	if (reply->n_near == 0) {
		page_para(p, 2, PLAIN,
		    "Try another word, \"list\" to choose from, or \"off\" when you cannot say how it "
		    "is bad.");
		return;
	}
	page_begin(p, 2);
	page_say(p, PLAIN, "Do you mean ");
	for (size_t i = 0; i < reply->n_near; i++)
		page_say(p, LOUD,
		    reply->n_near == 1 ? page_text(p, "\"%s\"", reply->near[i])
				       : page_text(p, "%s%zu \"%s\"",
					     i == 0                      ? ""
						 : i + 1 < reply->n_near ? ", "
									 : " or ",
					     i + 1, reply->near[i]));
	page_say(p, PLAIN, reply->n_near == 1 ? "? Answer yes, or try another word; \"list\" shows what there is."
	    : "? Answer with its number, or try another word; \"list\" shows what there is.");
	page_end(p);
}

enum ab_status ab_report_reply(const struct ab_knowledge *k, const struct ab_interview *iv,
    const struct ab_reply *reply, const struct ab_look *look, char **out, struct ab_diag *diag)
{
	const struct ab_question *q = ab_interview_question(iv);
	struct page p;
	page_start(&p, look, "Answer");
	if (!reply->taken && reply->says != NULL) {
		page_para(&p, 2, PLAIN, reply->says);
		/* Only a word that is none has near ones. */
		if (q != NULL && q->wanted == AB_WANT_TASTE && strstr(reply->says, "no word") != NULL)
			say_near(&p, reply);
	}
	if (reply->taken && reply->guess)
		page_para(&p, 2, QUIET, "Noted as a guess.");
	if (reply->taken)
		say_moves(&p, k, iv);
	return page_finish(&p, out, diag);
}

/* At once and not only at the end: the bottles stand in somebody's kitchen now. */
enum ab_status ab_report_alarm(const struct ab_case *c, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	static const char *const near[] = { "bottle-pressure-near", "pressure-unjudged", "keg-warm-day",
		"fermenter-pressure", "fermenter-unrated" };
	struct page p;
	page_start(&p, look, "Take care");
	const struct ab_warning *w = ab_case_bursting(c);
	for (size_t i = 0; w == NULL && i < c->diagnosis->n_warnings; i++)
		for (size_t j = 0; j < sizeof near / sizeof *near; j++)
			if (strcmp(c->diagnosis->warnings[i].id, near[j]) == 0)
				w = &c->diagnosis->warnings[i];
	if (w != NULL)
		page_point(&p, 2, "!", CAREFUL, say_working(&p, w->text));
	return page_finish(&p, out, diag);
}

/* The plain questions come before anything can be weighed, so what they are for is told in words. */
static const char *plain_reason(const char *name)
{
	static const struct { const char *name, *says; } reasons[] = {
		{ "tasting", "Everything else is judged by what you find in the glass." },
		{ "tasting.intensity",
		    "A faint fault and a strong one come from different things, and weigh differently." },
		{ "recipe.family", "What is a fault in one kind of beer belongs to another." },
		{ "yeast.class", "What a yeast makes by nature is no fault, and each likes another temperature." },
		{ "pack.into", "Other things go wrong in bottles than in a keg or in the fermenter." },
		{ "batch.brewed", "Some faults are those of young beer and pass; others come with age." },
		{ "package.at", "Some faults come, and some go, in the weeks after packaging." },
		{ "store.days", "Some faults come, and some go, in the weeks after packaging." },
	};
	for (size_t i = 0; name != NULL && i < sizeof reasons / sizeof *reasons; i++)
		if (strcmp(reasons[i].name, name) == 0)
			return reasons[i].says;
	return "Every diagnosis needs this much to begin with.";
}

/* What stands at stake: how far the answer could move which cause. */
enum ab_status ab_report_why(const struct ab_knowledge *k, const struct ab_interview *iv,
    const struct ab_why *why, size_t n, const struct ab_look *look, char **out, struct ab_diag *diag)
{
	const struct ab_question *q = ab_interview_question(iv);
	struct page p;
	page_start(&p, look, "Why");
	if (q == NULL || q->slot < 0) {
		page_para(&p, 2, PLAIN, page_text(&p, "%s Leave it blank if you do not know.",
		    plain_reason(q == NULL ? NULL : q->name)));
		return page_finish(&p, out, diag);
	}
	page_para(&p, 2, PLAIN, "Because of what your answer could do:");
	for (size_t i = 0; i < n; i++)
		page_point(&p, 2, "*", PLAIN, page_text(&p, "%s: %s now, then somewhere from %.0f to %.0f %%.",
		    k->causes[why[i].cause].title, say_percent(&p, why[i].blame), floor(100 * why[i].lowest + 0.5),
		    floor(100 * why[i].highest + 0.5)));
	if (k->facts->defs[q->slot].minutes > 0)
		page_para(&p, 2, QUIET, page_text(&p, "To find out takes about %s.",
		    say_minutes(&p, k->facts->defs[q->slot].minutes)));
	return page_finish(&p, out, diag);
}

/* ---- the end ---- */

/* Enough said is not enough known: where no cause stands out, only a look at the beer helps. */
static const char *end_of(const struct ab_interview *iv)
{
	const struct ab_diagnosis *d = ab_interview_case(iv)->diagnosis;
	double lead = ab_diagnosis_leading(d).blame;
	switch (ab_interview_end(iv)) {
	case AB_END_SETTLED:
		return lead >= EVEN
		    ? "That is enough: whatever you would answer to what is left to ask, the advice would "
		      "stay the same."
		    : "No single answer to what is left to ask would change the advice; a check of the beer "
		        "itself tells "
		      "more.";
	case AB_END_NOTHING_WORTH: return "That is all that is worth asking.";
	case AB_END_ENOUGH: return "That was the last question.";
	case AB_END_NOT_YET: case AB_END_NOTHING_FOUND: break;
	}
	return NULL;
}

enum ab_status ab_report_last_question(const struct ab_interview *iv, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct page p;
	const char *says = end_of(iv);
	page_start(&p, look, "Interview");
	if (says != NULL)
		page_para(&p, 0, PLAIN, says);
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_interview_end(
    const struct ab_knowledge *k, struct ab_case *c, const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	page_start(&p, look, "Interview");
	report_diagnosis_short(&p, k, c);
	report_diagnosis_end(&p, k, &c, 1, NULL);
	return page_finish(&p, out, diag);
}
