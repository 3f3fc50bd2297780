/* nextstep_text.c - what to do now, next and then, as sentences
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>

#include "report/nextstep_telling.h"
#include "report/saying.h"

/* So many brews ahead are no figure to wait for. */
enum { MOST_MORE = 20 };

/* "" where it is not known. */
static const char *brew_day(struct page *p, const struct ab_next_step *s)
{
	if (s->due == NULL)
		return !(s->brew_s > 0)
		    ? ""
		    : page_text(p, " from %s on, your first free day for it", say_date(p, s->brew_s));
	return s->due->overdue ? " now" : page_text(p, " on %s", say_date(p, s->due->day_s));
}

const char *report_step_brew(struct page *p, const struct ab_next_step *s)
{
	const char *day = s->kind == AB_NEXT_BEGIN ? brew_day(p, s) : "";
	return s->kind == AB_NEXT_BEGIN && s->batch != NULL ? page_text(p, "%s%s", s->batch->id, day)
	    : *day == ' '                                   ? day + 1
							    : day;
}

const char *report_step_lead(struct page *p, const struct ab_next_step *step)
{
	static const char *const leads[AB_NEXTS] = { [AB_NEXT_SAFE] = "Take care", [AB_NEXT_VENT] = "Take care",
		[AB_NEXT_DATE] = "Put right",
		[AB_NEXT_TEND] = "Now",
		[AB_NEXT_WAIT] = "Wait", [AB_NEXT_TASTE] = "Taste", [AB_NEXT_KEEP] = "Go on so",
		[AB_NEXT_CHECK] = "Check first",
		[AB_NEXT_BREW] = "Next brew", [AB_NEXT_BEGIN] = "Next brew", [AB_NEXT_AFTER] = "After that",
		[AB_NEXT_SAME] = "Next brew", [AB_NEXT_FORGOTTEN] = "Forgotten?" };
	const char *brew = report_step_brew(p, step);
	return brew[0] == '\0'      ? leads[step->kind]
	    : step->batch != NULL ? page_text(p, "%s (%s)", leads[step->kind], brew)
				  : page_text(p, "%s, %s", leads[step->kind], brew);
}

const char *report_step_caution(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_next_step *s)
{
	int place = s->kind == AB_NEXT_BREW && s->trial != NULL && s->trial->what != NULL
	    ? ab_change_find(k, s->trial->what) : -1;

	for (size_t i = 0; place >= 0 && a != NULL && i < a->n_items; i++)
		if (a->items[i].change == place)
			return say_words(p, ab_item_caution(k, &a->items[i]));
	return place >= 0 ? say_words(p, k->changes[place].caution) : NULL;
}

/* How sure that is: the trend's own figures. */
static const char *how_sure(struct page *p, const struct ab_next_kept *kept)
{
	if (kept == NULL || kept->n_before == 0)
		return "whether the change did it nobody can tell yet, for nothing was tasted of before it";
	if (isnan(kept->p_better))
		return page_text(p, "whether the change did it nobody can tell yet, by %s before it and %s with it",
		    say_count(p, kept->n_before, "tasted brew", "tasted brews"),
		    say_short(p, (double)kept->n_after, 0));
	const char *more = kept->more_needed == 0 || kept->more_needed > MOST_MORE
	    ? ""
	    : page_text(p, "; %s more would tell", say_count(p, kept->more_needed, "tasted brew", "tasted brews"));
	return page_text(p, "by %s before and %s with it, beers are better with it with a chance of %s%s%s",
	    say_count(p, kept->n_before, "tasted brew", "tasted brews"), say_short(p, (double)kept->n_after, 0),
	    say_percent(p, kept->p_better), more,
	    kept->together ? "; another change came with the same brew, and the two cannot be told apart" : "");
}

static const char *keep_words(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s)
{
	return page_text(p, "%s (noted %s) stays: %s was brewed with it and tasted %s; %s.",
	    ab_changed_title(k, s->trial), say_date(p, s->trial->on.s), s->batch->id,
	    s->well ? "well" : "better than those before", how_sure(p, s->kept));
}

/* Of two changes on trial: the one that waits for the other. */
static bool is_second(const struct ab_advice *a, const struct ab_next_step *s)
{
	return s > a->steps && s[-1].kind == AB_NEXT_BREW && s[-1].trial != NULL;
}

/* A beer with nothing found in it, or with something found that is no flaw. */
static const char *well_words(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s)
{
	const struct ab_cause *cause = s->cause >= 0 ? &k->causes[s->cause] : NULL;
	const char *next = cause != NULL ? ab_cause_next(cause, s->facts) : NULL;
	return s->by_word ? "by what you say nothing is wrong with your beer."
	    : cause == NULL
	    ? "your newest beer was without a flaw, and nothing you tasted before is left."
	    : page_text(p, "%s nothing is wrong with your newest beer (%s).%s%s",
		  ab_likely_word(s->p, s->low, s->high), say_lower(p, tell_benign(cause->title)),
		  next != NULL ? " " : "", next != NULL ? say_words(p, next) : "");
}

/* The line, not the batch: it is the beer that is brewed again. */
static const char *brew_again(struct page *p, const struct ab_batch *b, bool well)
{
	const char *beer = b->line != NULL ? b->line : b->title != NULL ? b->title : b->id;

	return page_text(p, "brew %s again%s", beer, well ? " just so" : "");
}

static const char *brew_words(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_next_step *s)
{
	const struct ab_batch *b = s->batch;
	bool coming = b != NULL && s->coming;
	const char *unknown = s->trial != NULL ? s->trial->line : NULL;
	const char *what = b == NULL && unknown != NULL ? page_text(p, "brew %s", unknown)
	    : b == NULL                                 ? s->by_word ? "brew as you do" : "brew"
	    : coming                                    ? page_text(p, "brew %s%s", b->id, brew_day(p, s))
							: brew_again(p, b, s->well);
	what = page_text(p, "%s%s", what, coming ? "" : brew_day(p, s));
	const char *comma = s->due == NULL && s->brew_s > 0 ? "," : "";   /* after "your first free day for it" */
	const char *how = coming
	    ? page_text(p, "\"afterboil sheet %s -o sheet.html\" makes the page for the day.", b->id)
	    : b == NULL && unknown == NULL ? "\"afterboil new\" makes its journal."
					   : page_text(p, "\"afterboil new %s\" makes its journal.",
						 b == NULL             ? unknown
						     : b->line != NULL ? b->line
								       : b->id);
	if (s->trial == NULL && s->well)
		return page_text(p,
		    "%s%s: %s Nothing has to be changed or bought now; what may yet come, and what keeps it off, "
		    "\"afterboil advise\" tells. %s",
		    what, coming ? " just so" : "", well_words(p, k, s), how);
	if (s->trial == NULL)
		return page_text(p, "%s%s and keep notes; %s. %s", what, comma,
		    s->item < 0
			? "there is nothing to change"
			: "before a beer of yours was tasted nobody can tell what to change, only what is usual",
		    how);
	if (is_second(a, s))
		return page_text(p,
		    "%s (noted %s), in the brew after that: of two changes at once none can be told from the "
		    "other.",
		    ab_changed_title(k, s->trial), say_date(p, s->trial->on.s));
	return page_text(p, "%s%s with: %s (noted %s). Change nothing else: then its taste tells what this did. %s",
	    what, comma, ab_changed_title(k, s->trial), say_date(p, s->trial->on.s), how);
}

static const char *forgotten_words(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s)
{
	const char *what = page_text(p, "%s, noted %s", ab_changed_title(k, s->trial), say_date(p, s->trial->on.s));
	return s->batch != NULL
	    ? page_text(p, "%s: %s was brewed with it and never tasted. It holds up nothing any more.", what,
		  s->batch->id)
	    : page_text(p,
		  "%s%s%s: nothing was brewed with it since. It holds up nothing any more; is it over, take its "
		  "line out of "
		  "the profile.",
		  what, s->trial->line != NULL ? " for " : "", s->trial->line != NULL ? s->trial->line : "");
}

/* Feared and tasted faults weigh together: say which it is. */
static const char *against_words(
    struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, const struct ab_item *item)
{
	if (a->next_eases != NULL)
		return page_text(p, "; against what you named (%s)", k->chores[a->next_eases->chore].title);
	if (item->n_because == 0 || item->because[0].fault < 0)
		return "";
	const char *fault = k->faults[item->because[0].fault].title;
	return item->because[0].tasted ? page_text(p, "; against %s%s", fault, report_tasted(&item->because[0]))
	    : a->n_batches > 0 ? page_text(p, "; nothing you tasted: it keeps %s from coming", fault)
	    : page_text(p, "; against %s", fault);
}

/* Where the days there are do not do for what a batch asks. */
static const char *fit_words(struct page *p, const struct ab_next_step *s)
{
	static const char *const says[] = { [AB_FIT_ALL] = "", [AB_FIT_LATER] = "",
		[AB_FIT_PRESSED] = "No schedule fits the days you have: some steps stand on days that are not free.",
		[AB_FIT_AWAY] = "No schedule fits the days you have: some steps stand on days when you are away.",
		[AB_FIT_NONE] = "No schedule fits at all: look at your days in the profile." };
	bool of_plan = s->kind == AB_NEXT_TEND || s->kind == AB_NEXT_BREW || s->kind == AB_NEXT_BEGIN ||
	    s->kind == AB_NEXT_SAME;
	return !of_plan || says[s->fit][0] == '\0'
	    ? ""
	    : page_text(p, " %s \"afterboil calendar\" shows which.", says[s->fit]);
}

/* Two against one cause at once, and neither is told from the other. */
const char *report_under(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s)
{
	return s->under == NULL
	    ? ""
	    : page_text(p,
		  " What it is against is on trial already (%s, noted %s): wait until the brews with that were "
		  "tasted, it may be done then.",
		  ab_changed_title(k, s->under), say_date(p, s->under->on.s));
}

static const char *how_of(
    struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, const struct ab_next_step *s)
{
	return report_how(p, k, a, a->items[s->item].change);
}

static const char *words_of(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_next_step *s);

const char *report_tasted(const struct ab_because *because)
{
	return because->gone ? ", which is gone from your newest beers"
	    : because->named ? ", which you named"
	    : because->tasted ? ", which you found"
			      : "";
}

const char *report_stands_for(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_item *item)
{
	const struct ab_item *bought = a->stands_for >= 0 ? &a->items[a->stands_for] : NULL;

	if (a->until >= 0 && a->until != a->next && item == &a->items[a->next] && item->begun == NULL)
		return page_text(p, " Until you have it: \"%s\", which costs nothing and brings about %s of it.",
		    say_words(p, k->changes[a->items[a->until].change].title),
		    say_percent(p, fmin(1, a->items[a->until].gain / item->gain)));
	if (bought == NULL || item->chosen || item != &a->items[a->next])
		return "";
	return page_text(p,
	    " It costs nothing and brings about %s of what \"%s\" (%s) would: try it first, and buy that when it "
	    "helps and is too much toil.",
	    say_percent(p, fmin(1, item->gain / bought->gain)), say_words(p, k->changes[bought->change].title),
	    bought->have == NULL || !(bought->cost > 0)
		? report_price(p, bought, REPORT_SHORT)
		: page_text(p, "%s; %s, an estimate", report_price(p, bought, REPORT_SHORT), bought->have));
}

const char *report_step_words(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_next_step *s)
{
	return page_text(p, "%s%s", words_of(p, k, a, s), fit_words(p, s));
}

static const char *words_of(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_next_step *s)
{
	assert(s->kind < AB_NEXTS);
	switch (s->kind) {
	case AB_NEXT_SAFE:
		return report_may_burst(p, s->batch, s->also, s->n_also, s->n_more);
	case AB_NEXT_VENT:
		return tell_vent(p, s);
	case AB_NEXT_DATE:
		return page_text(p,
		    "%s is dated ahead of today (brewed %s, or a tasting of it). Until its day is put right in its "
		    "journal it is left out here.",
		    s->batch->id, say_date(p, s->batch->brewed.s));
	case AB_NEXT_TEND:
		return tell_tend(p, s);
	case AB_NEXT_WAIT:
		return tell_wait(p, k, s);
	case AB_NEXT_TASTE:
		return tell_taste(p, k, s);
	case AB_NEXT_KEEP:
		return keep_words(p, k, s);
	case AB_NEXT_CHECK:
		return page_text(p, "%s (%s), before anything is bought.", report_ask(p, k, s->check),
		    report_ask_takes(p, s->check));
	case AB_NEXT_BREW:
	case AB_NEXT_SAME:
		return brew_words(p, k, a, s);
	case AB_NEXT_BEGIN:
	case AB_NEXT_AFTER:
		return page_text(p, "%s (%s%s).%s%s%s%s%s%s",
		    say_words(p, k->changes[a->items[s->item].change].title),
		    report_price(p, &a->items[s->item], REPORT_SHORT), against_words(p, k, a, &a->items[s->item]),
		    report_under(p, k, s), report_stands_for(p, k, a, &a->items[s->item]),
		    s->kind == AB_NEXT_BEGIN && how_of(p, k, a, s)[0] != '\0' ? " " : "",
		    s->kind == AB_NEXT_BEGIN ? how_of(p, k, a, s) : "",
		    s->kind == AB_NEXT_AFTER
			? ""
			: page_text(p,
			      " \"afterboil advise\" tells why; \"afterboil changed --plan%s\" notes that you "
			      "begin it%s.",
			      s->line != NULL ? page_text(p, " --line \'%s\'", s->line) : "",
			      s->line != NULL ? ", for this beer alone: another has a change on trial" : ""),
		    s->batch != NULL
			? page_text(
			      p, " \"afterboil sheet %s -o sheet.html\" makes the page for the day.", s->batch->id)
			: "");
	case AB_NEXT_FORGOTTEN:
		return forgotten_words(p, k, s);
	case AB_NEXTS:
		break;
	}
	return "";
}

void report_steps(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, size_t most)
{
	for (size_t i = 0; i < a->n_steps && i < most; i++) {
		page_item(p, 1, page_text(p, "%zu.", i + 1), PLAIN);
		page_say(p, LOUD, page_text(p, "%s: ", report_step_lead(p, &a->steps[i])));
		page_say(p, PLAIN, report_step_words(p, k, a, &a->steps[i]));
		page_end(p);
		if (report_step_caution(p, k, a, &a->steps[i]) != NULL)
			page_point(p, 3, "!", CAREFUL, report_step_caution(p, k, a, &a->steps[i]));
	}
}

enum ab_status ab_report_now(const struct ab_touch *touch, const char *id, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct page p;
	page_start(&p, look, "Take care");
	page_point(&p, 2, "!", CAREFUL,
	    page_text(&p, "%s: %s%s%s", touch->title, report_named(&p, say_words(&p, touch->how), id),
		touch->caution == NULL ? "" : " ", touch->caution == NULL ? "" : touch->caution));
	return page_finish(&p, out, diag);
}
