/* facts_text.c - the facts of a batch, each with the working shown
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <string.h>

#include <afterboil/calendar.h>
#include "report/saying.h"

bool report_on_paper(const struct ab_case *c)
{
	return !c->tasted && ab_shown_on_paper(c->batch);
}

/* HTML shows it as a title, text as the first words of a paragraph: three lines saved on a small
 * screen. */
void report_heading(struct page *p, const struct ab_case *c, const char *what)
{
	const struct ab_batch *b = c->batch;
	char when[32];
	const char *name = b->brewed.known ? page_text(p, "%s of batch %s", what, b->id) : what;
	if (b->title != NULL || b->line != NULL)
		name = page_text(p, "%s, %s", name, b->title != NULL ? b->title : b->line);
	if (p->html)
		page_title(p, name);
	page_begin(p, 0);
	if (!p->html)
		page_say(p, LOUD, page_text(p, "%s, ", name));
	if (b->title != NULL && b->line != NULL && strcmp(b->title, b->line) != 0)
		page_say(p, QUIET, page_text(p, "line %s, ", b->line));
	if (b->brewed.known)
		page_say(p, QUIET,
		    page_text(p, "%s %.10s, ", report_on_paper(c) ? "to be brewed" : "brewed",
			ab_when_write(&b->brewed, when, sizeof when)));
	page_say(p, QUIET,
	    b->family > 0 ? page_text(p, "family %s", ab_words_family[b->family - 1])
	    : "no style family given");
	page_end(p);
}

/* No grade means that nothing was computed: it is as the brewer wrote it. */
static const char *trust(char grade)
{
	return grade == 'C' ? "rule of thumb" : grade == 'B' ? "grade B" : grade == 'A'
	    ? "grade A" : "as read";
}

/* The lines make a fact checkable: the reader can look where it came from. */
static const char *lines_of(struct page *p, const struct ab_fact *f)
{
	const char *text = "";
	for (int i = 0; i < AB_FACT_LINES && f->lines[i] > 0; i++)
		text = page_text(
		    p, "%s%s%ld", text, i == 0 ? f->lines[1] > 0 ? "lines " : "line " : ", ", f->lines[i]);
	return text;
}

/* What a fact is; of one that is not so, that it is not: "no: every batch has it" would read as its contrary. */
static const char *what_it_is(struct page *p, const struct ab_fact_def *def, const struct ab_fact *f)
{
	bool denied = def->kind == AB_FACT_FLAG && f->value <= 0;
	return page_text(p, denied ? ": not \"%s\"" : ": %s", say_words(p, def->title));
}

/* The name first and in bold: it is what rules and questions call it, and what a reader searches for. */
static void say_fact(struct page *p, const struct ab_fact_def *def, const struct ab_fact *f)
{
	const char *unit = say_unit(p, def), *spread = say_spread(p, def, f), *lines = lines_of(p, f);
	page_begin(p, 2);
	p->hang = 6;
	page_say(p, LOUD, def->name);
	page_say(p, PLAIN, page_text(p, " = %s", say_value(p, def, f)));
	if (*spread != '\0')
		page_say(p, PLAIN, page_text(p, " %s", spread));
	if (*unit != '\0')
		page_say(p, PLAIN, page_text(p, " %s", unit));
	page_say(p, PLAIN, what_it_is(p, def, f));
	page_say(p, QUIET,
	    page_text(p, " (%s%s, %s%s%s)", say_origin(f->origin), f->guess ? ", a guess" : "",
	    trust(f->grade), *lines != '\0' ? ", " : "", lines));
	page_end(p);
	if (f->working != NULL)
		page_para(p, 6, QUIET, say_working(p, f->working));
}

static void say_line(struct page *p, long line, const char *text)
{
	page_begin(p, 2);
	p->hang = 6;
	page_say(p, QUIET, page_text(p, "line %ld, ", line));
	page_say(p, PLAIN, text);
	page_end(p);
}

/* So that nobody wonders whether it was understood, and whether it counted. */
static void say_told(struct page *p, const struct ab_case *c)
{
	if (c->n_counted > 0)
		page_section(p, "Counted besides");
	for (size_t i = 0; i < c->n_counted; i++)
		say_line(p, c->counted[i].line, c->counted[i].text);
	if (c->n_unreckoned > 0)
		page_section(p, "Told, but not reckoned");
	for (size_t i = 0; i < c->n_unreckoned; i++) {
		const struct ab_unreckoned *u = &c->unreckoned[i];
		say_line(p, u->line, page_text(p, "%s %s: %s", u->element, u->attr, u->why));
	}
}

/* Unknown facts only on demand: they would bury the known ones. */
void report_facts_text(struct page *p, const struct ab_knowledge *k, const struct ab_case *c)
{
	size_t known = 0;
	report_heading(p, c, "Facts");
	page_gap(p);
	for (size_t i = 0; i < k->facts->n; i++)
		if (AB_FACT_KNOWN(&c->facts[i])) {
			known++;
			say_fact(p, &k->facts->defs[i], &c->facts[i]);
		}
	const char *sugar =
	    c->batch->readings.n > 0 ? report_named(p, report_priming(p, &c->priming), c->batch->id) : "";
	if (sugar[0] != '\0') {
		page_gap(p);
		page_para(p, 0, c->priming.why == AB_PRIMING_READY ? LOUD : PLAIN, sugar);
	}
	page_gap(p);
	page_para(p, 0, QUIET,
	    page_text(p,
		"%zu of %zu facts are known. Grade A: a tested formula; B: sound, with wider error; rule of "
		"thumb: not well tested by anybody. "
		"\"Usual\" comes from your profile, not from this batch.",
		known, k->facts->n));
	say_told(p, c);
	if (!p->look->verbose)
		return;
	page_section(p, "Unknown");
	for (size_t i = 0; i < k->facts->n; i++)
		if (!AB_FACT_KNOWN(&c->facts[i]))
			page_para(
			    p, 2, PLAIN, page_text(p, "%s: %s", k->facts->defs[i].name,
			    say_words(p, k->facts->defs[i].title)));
}
