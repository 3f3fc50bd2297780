/* trend_text.c - is it getting better, and did the changes do it: a table a line, then each change in numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include <afterboil/revise.h>
#include "report/saying.h"

enum { BAR = 12, MOST_ROWS = 12, MOST_FAULTS = 3, MOST_COMMON = 3, MOST_CAUSES = 2, COLUMNS = 6, SPARK = 30 };

/* As in the other reports, plus the scale that all bars share: lines are compared by eye. */
struct telling {
	struct page *p;
	const struct ab_knowledge *k;
	const struct ab_trend_batch *batches;
	size_t n;
	const struct ab_trend *trend;
	const struct ab_promise *promises; size_t n_promises;
	double most;      /* the heaviest load of all, for the bars */
};

/* "" is the line of one-off batches: then every comparison is a plain strcmp. */
static const char *line_of(const struct ab_trend_batch *b)
{
	return b->line == NULL ? "" : b->line;
}

/* ---- the batches of a line ---- */

/* Without a flaw, yet not without taste: what it is meant to have is said, or a diagnosis would seem to speak of another
 * beer. */
static const char *traits_of(const struct telling *t, const struct ab_trend_batch *b)
{
	const char *text = "";
	for (size_t f = 0; b->fault_intensity != NULL && f < t->k->n_faults; f++)
		if (b->fault_intensity[f] > 0)
			text = page_text(t->p, "%s%s%s", text, *text == '\0' ? "" : "; ", say_lower(t->p, t->k->faults[f].title));
	return *text == '\0' ? "none" : page_text(t->p, "none (%s, as such a beer may be)", text);
}

/* The heaviest three by repeated search: easier to read than a sort, and short lists do not mind. */
static const char *faults_of(const struct telling *t, const struct ab_trend_batch *b)
{
	const char *text = "";
	int told[MOST_FAULTS];
	size_t n = 0;
	for (; n < MOST_FAULTS; n++) {
		int best = -1;
		for (size_t f = 0; f < t->k->n_faults; f++) {
			bool again = false;
			for (size_t i = 0; i < n; i++)
				again = again || told[i] == (int)f;
			if (!again && b->fault_load[f] > 0 &&
			    (best < 0 || b->fault_load[f] > b->fault_load[best]))
				best = (int)f;
		}
		if (best < 0)
			break;
		told[n] = best;
		text = page_text(t->p, "%s%s%s", text, n == 0 ? "" : "; ", say_lower(t->p, t->k->faults[best].title));
	}
	return n == 0 ? traits_of(t, b) : text;
}

/* A change the rules do not know is called what the brewer called it. */
static const char *change_title(const struct telling *t, const char *id)
{
	int place = ab_change_find(t->k, id);
	return place < 0 ? id : t->k->changes[place].title;
}

/* An untasted batch has no bar: an empty one would look like a clean beer. */
static void row_of(const struct telling *t, const struct ab_trend_batch *b, const char **cells)
{
	cells[0] = b->id;
	cells[1] = say_date(t->p, b->brewed_s);
	cells[2] = b->tasted ? say_fixed(t->p, b->load, 1) : "-";
	cells[3] = b->tasted ? page_bar(t->p, b->load / t->most, BAR) : "";
	cells[4] = b->n_changes > 0
	    ? page_text(t->p, "%s%s", "*", b->n_changes > 1 ? page_text(t->p, "%zu", b->n_changes) : "")
	    : "";
	cells[5] = b->tasted ? faults_of(t, b) : "not tasted yet";
}

/* Twelve rows fit a screen; older ones are counted, never dropped silently. A line's batches stand
 * together because only within one line does a difference mean the change and not another beer. */
static void say_line(const struct telling *t, const char *line)
{
	size_t n = 0, row = 1;
	for (size_t i = 0; i < t->n; i++)
		n += strcmp(line_of(&t->batches[i]), line) == 0;
	size_t skip = !t->p->look->verbose && n > MOST_ROWS ? n - MOST_ROWS : 0;
	const char **cells =
	    t->p->bad ? NULL : ab_arena_alloc(t->p->arena, COLUMNS * (n - skip + 1), sizeof *cells);
	static const char *const heads[COLUMNS] = { "batch", "brewed", "load", "", "", "main faults" };
	if (cells == NULL)
		return;
	memcpy(cells, heads, sizeof heads);
	for (size_t i = 0, seen = 0; i < t->n; i++)
		if (strcmp(line_of(&t->batches[i]), line) == 0 && seen++ >= skip)
			row_of(t, &t->batches[i], cells + COLUMNS * row++);
	page_section(t->p, *line == '\0' ? "One-off batches" : page_text(t->p, "Line: %s", line));
	page_table(t->p, 2, "llrolx", true, cells, row);
	if (skip > 0)
		page_para(t->p, 2, QUIET, page_text(t->p, "(%zu older; --all shows them)", skip));
}

/* Lines in the order of their first batch, each once. */
static void say_lines(const struct telling *t)
{
	for (size_t i = 0; i < t->n; i++) {
		bool seen = false;
		for (size_t j = 0; j < i && !seen; j++)
			seen = strcmp(line_of(&t->batches[i]), line_of(&t->batches[j])) == 0;
		if (!seen)
			say_line(t, line_of(&t->batches[i]));
	}
}

/* ---- did the changes do it ---- */

/* A sign is easily read the wrong way round; the word is not. */
static const char *lighter_by(const struct telling *t, double by, int digits)
{
	return page_text(t->p, "%s %s", say_fixed(t->p, fabs(by), digits), by < 0 ? "heavier" : "lighter");
}

static const char *lighter(const struct telling *t, double by)
{
	return lighter_by(t, by, 1);
}

/* A brewer gets better with every batch, change or not: what is said first is what is left when that and the beers'
 * differences are taken out. So few batches that cannot tell the two apart never get a colour; others from nine in ten on. */
static void say_odds(const struct telling *t, const struct ab_trend_change *c)
{
	const struct ab_trend_said said = ab_trend_say(c);
	if (isnan(said.p_better)) {
		page_say(t->p, PLAIN,
		    c->n_after == 0 ? " Nothing tasted since: the question stays open."
				    : " Too few tastings to compare.");
		return;
	}
	page_say(t->p, PLAIN, " ");
	page_say(t->p, said.plain ? PLAIN : said.p_better >= 0.9 ? GOOD : said.p_better <= 0.1 ? BAD : PLAIN,
	    page_text(t->p, "Better with a chance of %s", say_percent(t->p, said.p_better)));
	page_say(t->p, PLAIN, page_text(t->p, "; likely between %s and %s.", lighter(t, said.low), lighter(t, said.high)));
	if (!said.plain)
		page_say(t->p, PLAIN, page_text(t->p, " A beer that gets better or worse anyway, batch after batch,%s taken out; as it "
		    "stands the chance is %s.", c->line == NULL ? " and what differs between your beers are" : " is",
		    say_percent(t->p, c->p_better)));
}

/* Said before anything else about certainty: with two changes at once no number of batches helps. */
static void say_needed(const struct telling *t, const struct ab_trend_change *c)
{
	if (c->together)
		page_say(t->p, CAREFUL,
		    " Another change came with the same batch: the two cannot be told apart.");
	if (c->more_needed == 0 || isnan(c->p_better))
		return;
	page_say(t->p, PLAIN,
	    c->more_needed == SIZE_MAX ? " How many more batches would settle it cannot be told yet."
				       : page_text(t->p, " To settle it, if the difference is real: %s more.",
					     say_count(t->p, c->more_needed, "tasted batch",
					     "tasted batches")));
}

/* What came is put beside it, and what to believe of the two together. A whole plan's promise says so: one change alone
 * cannot be held to it. */
static void say_promise(const struct telling *t, const struct ab_trend_change *c)
{
	const struct ab_promise *promise = report_promise(t->promises, t->n_promises, c->id);
	struct ab_learned learned;
	if (promise == NULL)
		return;
	page_say(t->p, PLAIN,
	    page_text(t->p, " Promised when it was advised, %s: from %s to %s.",
		promise->alone ? "by itself" : "with the whole plan", say_fixed(t->p, promise->load_before, 1), say_fixed(t->p, promise->load_after, 1)));
	if (!ab_trend_learn_change(c, promise->load_before, promise->load_after, &learned))
		return;
	page_say(t->p, PLAIN, page_text(t->p, " That is %s; your batches say %s, give or take %s; together: %s, "
	    "give or take %s.", lighter(t, learned.prior), lighter(t, learned.data),
	    say_fixed(t->p, learned.data_sd, 1), lighter(t, learned.mean), say_fixed(t->p, learned.sd, 1)));
}

/* The tool's own record, from three on: fewer say nothing about it. */
static void say_record(const struct telling *t)
{
	size_t n = 0, held = 0, less = 0;
	for (size_t i = 0; i < t->trend->n_changes; i++) {
		const struct ab_trend_change *c = &t->trend->changes[i];
		const struct ab_promise *promise = report_promise(t->promises, t->n_promises, c->id);
		struct ab_learned l;
		if (promise == NULL || !ab_trend_learn_change(c, promise->load_before, promise->load_after, &l))
			continue;
		n++;
		held += ab_trend_held(&l);
		less += l.data < l.prior;
	}
	if (n >= 3)
		page_para(t->p, 2, PLAIN, page_text(t->p, "Of %zu promises %zu held as far as so few batches can "
		    "tell (8 in 10 should); %zu brought less than promised.", n, held, less));
}

/* Counts, not percentages: "in 2 of 3" cannot be mistaken for proof. */
static void say_shifts(const struct telling *t, const struct ab_trend_change *c)
{
	size_t n = c->n_faults < MOST_FAULTS || t->p->look->verbose ? c->n_faults : MOST_FAULTS;
	for (size_t i = 0; i < n && c->n_before > 0 && c->n_after > 0; i++) {
		const struct ab_fault_shift *s = &c->faults[i];
		size_t meant = s->before_meant + s->after_meant;
		page_para(t->p, 4, QUIET,
		    page_text(t->p, "%s: a flaw in %zu of %zu before, %zu of %zu after%s",
		    t->k->faults[s->fault].title, s->before_with, c->n_before, s->after_with, c->n_after, meant == 0 ? ""
		    : page_text(t->p, "; there, but no more than such a beer may have, in %zu before, %zu after", s->before_meant,
		    s->after_meant)));
	}
}

/* In batches' worth of blame: "1.8 of 3", for each batch leaves some doubt. What a benign explanation took is
 * nobody's fault and no change mends it. */
static void say_blamed(const struct telling *t, const struct ab_trend_change *c)
{
	size_t told = 0;
	for (size_t i = 0; i < c->n_causes && c->n_before > 0 && c->n_after > 0; i++) {
		const struct ab_cause_shift *s = &c->causes[i];
		if (t->k->causes[s->cause].benign || (told++ >= MOST_CAUSES && !t->p->look->verbose))
			continue;
		page_para(t->p, 4, QUIET, page_text(t->p, "%s: to blame in %s of %zu before, %s of %zu after",
		    t->k->causes[s->cause].title, say_fixed(t->p, s->before, 1), c->n_before,
		    say_fixed(t->p, s->after, 1), c->n_after));
	}
}

/* Once for all that it is true of. */
static void say_plain(const struct telling *t)
{
	for (size_t i = 0; i < t->trend->n_changes; i++) {
		const struct ab_trend_said said = ab_trend_say(&t->trend->changes[i]);
		if (isnan(said.p_better) || !said.plain)
			continue;
		page_para(t->p, 2, PLAIN, page_text(t->p, "Where no drift is taken out (that needs %d tasted batches) a chance proves nothing: a "
		    "beer that gets better or worse anyway, batch after batch, would look the same.", AB_TREND_DRIFT_LEAST));
		return;
	}
}

/* The figures stand before the verdict, counts beside them. */
static void say_changes(const struct telling *t)
{
	if (t->trend->n_changes == 0)
		return;
	page_section(t->p, "Did the changes help?");
	for (size_t i = 0; i < t->trend->n_changes; i++) {
		const struct ab_trend_change *c = &t->trend->changes[i];
		page_item(t->p, 2, "*", PLAIN);
		page_say(t->p, LOUD, change_title(t, c->id));
		page_say(t->p, PLAIN,
		    page_text(t->p, ", from %s%s%s.", say_date(t->p, c->date_s),
			c->line == NULL ? ", all lines" : ", line ", c->line == NULL ? "" : c->line));
		page_say(t->p, PLAIN,
		    page_text(t->p, " Mean load %s before (%s), %s after (%s).",
			c->n_before > 0 ? say_fixed(t->p, c->before, 1) : "unknown",
			say_count(t->p, c->n_before, "batch", "batches"),
			c->n_after > 0 ? say_fixed(t->p, c->after, 1) : "unknown",
			say_count(t->p, c->n_after, "batch", "batches")));
		say_odds(t, c);
		say_needed(t, c);
		say_promise(t, c);
		page_end(t->p);
		say_shifts(t, c);
		say_blamed(t, c);
	}
	say_plain(t);
	say_record(t);
}

/* ---- verdicts looked at again ---- */

/* Counts first: what it was that spoke. Only then the chances, and who leads now. */
static void say_revision(struct page *p, const struct ab_knowledge *k, const struct ab_revision *r)
{
	const char *cause = k->causes[r->cause].title;
	page_item(p, 2, "*", PLAIN);
	page_say(p, PLAIN, page_text(p, "%s: %s was laid to \"%s\". Since then", r->batch, k->faults[r->fault].title,
	    cause));
	page_say(p, PLAIN, r->acted ? ", with a change made against it," : ",");
	page_say(p, PLAIN, page_text(p, " the fault came in %zu of %s", r->found,
	    say_count(p, r->later, "batch", "batches")));
	if (r->came_without > 0)
		page_say(p, PLAIN, page_text(p, "; in %zu of them that cause should hardly have been there", r->came_without));
	if (r->stayed_away > 0)
		page_say(p, PLAIN, page_text(p, "; in %zu the cause was likely there and the fault was not", r->stayed_away));
	page_say(p, PLAIN, ". ");
	page_say(p, LOUD, page_text(p, "It is now less likely: %s, was %s.", say_percent(p, r->after),
	    say_percent(p, r->before)));
	page_say(p, PLAIN, r->leader < 0
	    ? page_text(p, " Something the rules do not name leads (%s, was %s).", say_percent(p, r->leader_after),
		  say_percent(p, r->leader_before))
	    : page_text(p, " \"%s\" leads now (%s, was %s).", k->causes[r->leader].title,
		  say_percent(p, r->leader_after), say_percent(p, r->leader_before)));
	page_end(p);
}

void report_trend_revisions(struct page *p, const struct ab_knowledge *k, const struct ab_trend *trend)
{
	if (trend->n_revisions == 0)
		return;
	page_section(p, "What looks different now");
	for (size_t i = 0; i < trend->n_revisions; i++)
		say_revision(p, k, &trend->revisions[i]);
	page_para(p, 2, QUIET, "A hint, not a proof: of a hundred such turns in "
	    "simulated brewers the old verdict was right after all in about forty. A habit is taken to stay as it is until "
	    "a change is noted.");
}

/* ---- over all ---- */

/* Called better or worse only when the whole likely range lies on one side of 0. */
static void say_slope(const struct telling *t)
{
	const struct ab_trend *r = t->trend;
	size_t tasted = 0;
	for (size_t i = 0; i < t->n; i++)
		tasted += t->batches[i].tasted;
	page_gap(t->p);
	if (isnan(r->slope_per_batch)) {
		page_para(t->p, 0, PLAIN,
		    page_text(t->p, "%s tasted so far: from four on, the trend can be told.",
			say_count(t->p, tasted, "batch", "batches")));
		return;
	}
	enum tone tone = r->slope_high < 0 ? GOOD : r->slope_low > 0 ? BAD : PLAIN;
	const char *verdict = tone == GOOD ? "Your beer is getting better"
	    : tone == BAD                  ? "Your beer is getting worse"
					   : "No clear trend yet";
	/* Hundredths of a load mean something only where the range is narrow. */
	int digits = r->slope_high - r->slope_low < 1 ? 2 : 1;
	page_begin(t->p, 0);
	page_say(t->p, tone, verdict);
	page_say(t->p, PLAIN, page_text(t->p, ": each batch %s than the one before (likely between %s and %s), over %zu tasted "
	    "batches.", lighter_by(t, -r->slope_per_batch, digits), lighter_by(t, -r->slope_high, digits),
	    lighter_by(t, -r->slope_low, digits), tasted));
	page_end(t->p);
}

/* Could the most uneven split these counts allow be told from chance (1 in 20)? If none could, "nothing stands
 * out" would be no news. */
static bool can_tell_common(const struct telling *t)
{
	for (size_t i = 0; i < t->trend->n_common; i++)
		if (t->trend->common[i].p_least <= 0.05)
			return true;
	return false;
}

/* Two names of one thing, or two things that always came together but for a batch: told once. */
static void say_beside(const struct telling *t, const struct ab_common *lead)
{
	for (size_t i = 0, told = 0; i < t->trend->n_common && told < MOST_COMMON; i++) {
		const struct ab_common *c = &t->trend->common[i];
		if (c->beside != lead)
			continue;
		told++;
		page_para(t->p, 4, QUIET, page_text(t->p, "%s %s (in %zu of %zu bad, %zu of %zu good) goes with nearly the "
		    "same batches: one find, not two.", c->factor, c->value, c->bad_with, c->bad, c->good_with, c->good));
	}
}

/* The adjusted p is shown, the plain one only decides what is worth a line. */
static void say_common(const struct telling *t)
{
	size_t told = 0;
	for (size_t i = 0; i < t->trend->n_common && told < MOST_COMMON; i++) {
		const struct ab_common *c = &t->trend->common[i];
		if ((c->p > AB_COMMON_WORTH && !t->p->look->verbose) || c->beside != NULL)
			continue;
		if (told++ == 0)
			page_section(t->p, "What the bad batches share");
		page_point(t->p, 2, "*", PLAIN,
		    page_text(t->p,
			"%s %s%s%s%s: in %zu of %zu bad batches, %zu of %zu good ones. By chance alone this often: "
			"%s%s.",
			c->factor, c->value, c->also != NULL ? " (with it always: " : "",
			c->also != NULL ? c->also : "", c->also != NULL ? ")" : "", c->bad_with, c->bad, c->good_with, c->good,
			say_percent(t->p, c->p_adjusted),
			c->p_adjusted > 0.1 ? " (may well be chance, with so many things compared)" : ""));
		say_beside(t, c);
	}
	if (told == 0 && t->trend->n_common > 0 && !can_tell_common(t)) {
		page_section(t->p, "What the bad batches share");
		page_para(t->p, 2, PLAIN, "With so few batches nothing could stand out from chance yet.");
	} else if (told == 0 && t->trend->n_common > 0) {
		page_section(t->p, "What the bad batches share");
		page_para(t->p, 2, PLAIN, "Nothing stands out so far in vessels, yeast, water or kit.");
	}
}

/* In hundredths of the most: sheets differ in theirs. */
static void say_verdicts(const struct telling *t)
{
	const struct ab_verdicts *v = &t->trend->verdicts;
	if (!(v->noise > 0))
		return;
	page_section(t->p, "How much a score tells");
	page_para(t->p, 2, PLAIN, page_text(t->p, "Of %s for %s: every other time two scores for one beer lie more than %s "
	    "points of 100 apart. Two single scores that differ by less than %s tell no difference between two beers. "
	    "The noise of one score: %s points (likely %s to %s); your batches themselves: %s.",
	    say_count(t->p, v->n, "score", "scores"), say_count(t->p, v->n_batches, "batch", "batches"),
	    say_fixed(t->p, 100 * v->apart, 0), say_fixed(t->p, 100 * v->tell, 0), say_fixed(t->p, 100 * v->noise, 0),
	    say_fixed(t->p, 100 * v->noise_low, 0), say_fixed(t->p, 100 * v->noise_high, 0),
	    say_fixed(t->p, 100 * v->between, 0)));
}

/* The newest batches as one spark, oldest first. */
static const char *spark_of(const struct telling *t)
{
	double loads[SPARK] = { 0 };
	size_t from = t->n > SPARK ? t->n - SPARK : 0;
	for (size_t i = from; i < t->n; i++)
		loads[i - from] = t->batches[i].tasted ? t->batches[i].load : (double)NAN;
	assert(t->n - from <= SPARK);
	return page_spark(t->p, loads, t->n - from);
}

/* Before anything else: who looks for a batch must learn that it is not among these. */
static void say_ahead(const struct telling *t)
{
	for (size_t i = 0; i < t->trend->n_ahead; i++)
		page_para(t->p, 0, CAREFUL, page_text(t->p, "Left out: %s is dated %s, ahead of today. Put its day right in its journal.",
		    t->trend->ahead[i].id, say_date(t->p, t->trend->ahead[i].brewed_s)));
}

/* most is 1 at least, so that clean beers do not get bars from noise. */
void report_trend_text(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *batches,
    size_t n, const struct ab_trend *trend, const struct ab_promise *promises, size_t n_promises)
{
	struct telling t = { p, k, batches, n, trend, promises, n_promises, 1 };
	for (size_t i = 0; i < n; i++)
		if (batches[i].tasted && batches[i].load > t.most)
			t.most = batches[i].load;
	page_title(p, page_text(p, "Flaw load over %s  %s", say_count(p, n, "batch", "batches"),
	    spark_of(&t)));
	say_ahead(&t);
	say_slope(&t);
	say_lines(&t);
	if (trend->n_changes > 0)
		page_para(p, 2, QUIET, "* marks the first batch with something new.");
	say_changes(&t);
	report_trend_revisions(p, k, trend);
	say_common(&t);
	report_elimination(p, k, trend->elimination);
	report_trend_charts(p, k, batches, trend);
	say_verdicts(&t);
	page_gap(p);
	page_para(p, 0, QUIET,
	    "Flaw load: each fault's weight times how strong it was; 0 is a beer without a flaw. Few batches prove "
	    "little; plain counts stand beside every chance.");
}
