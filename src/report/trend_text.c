/* trend_text.c - is it getting better: over all in words, then a table a line
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/trend_telling.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "report/saying.h"

enum { BAR = 12, MOST_ROWS = 12, COLUMNS = 6, SPARK = 30 };

/* "" is the line of one-off batches: then every comparison is a plain strcmp. */
static const char *line_of(const struct ab_trend_batch *b)
{
	return b->line == NULL ? "" : b->line;
}

/* ---- the batches of a line ---- */

/* Without a flaw, yet not without taste: what it is meant to have is said, or a diagnosis would seem to speak of
 * another beer. */
static const char *traits_of(const struct telling *t, const struct ab_trend_batch *b)
{
	const char *text = "";
	for (size_t f = 0; b->fault_intensity != NULL && f < t->k->n_faults; f++)
		if (b->fault_intensity[f] > 0)
			text = page_text(t->p, "%s%s%s", text, *text == '\0' ? "" : "; ",
			    say_lower(t->p, t->k->faults[f].title));
	return *text == '\0' ? "none" : page_text(t->p, "none (%s, as such a beer may be)", text);
}

/* The heaviest three by repeated search: easier to read than a sort, and short lists do not mind. */
static const char *faults_of(const struct telling *t, const struct ab_trend_batch *b)
{
	const char *text = "";
	int told[TREND_FAULTS];
	size_t n = 0;
	for (; n < TREND_FAULTS; n++) {
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
	page_say(t->p, PLAIN,
	    page_text(t->p,
		": each batch %s than the one before (likely between %s and %s), over %zu tasted "
		"batches.",
		trend_lighter(t, -r->slope_per_batch, digits), trend_lighter(t, -r->slope_high, digits),
		trend_lighter(t, -r->slope_low, digits), tasted));
	page_end(t->p);
}

/* In hundredths of the most: sheets differ in theirs. */
static void say_verdicts(const struct telling *t)
{
	const struct ab_verdicts *v = &t->trend->verdicts;
	if (!(v->noise > 0))
		return;
	page_section(t->p, "How much a score tells");
	page_para(t->p, 2, PLAIN,
	    page_text(t->p,
		"Of %s for %s: every other time two scores for one beer lie more than %s "
		"points of 100 apart. Two single scores that differ by less than %s tell no difference between "
		"two beers. "
		"The noise of one score: %s points (likely %s to %s); your batches themselves: %s.",
		say_count(t->p, v->n, "score", "scores"), say_count(t->p, v->n_batches, "batch", "batches"),
		say_fixed(t->p, 100 * v->apart, 0), say_fixed(t->p, 100 * v->tell, 0),
		say_fixed(t->p, 100 * v->noise, 0), say_fixed(t->p, 100 * v->noise_low, 0),
		say_fixed(t->p, 100 * v->noise_high, 0), say_fixed(t->p, 100 * v->between, 0)));
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
		page_para(t->p, 0, CAREFUL,
		    page_text(t->p, "Left out: %s is dated %s, ahead of today. Put its day right in its journal.",
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
	report_trend_story(p, k, batches, n, trend);
	say_lines(&t);
	if (trend->n_changes > 0)
		page_para(p, 2, QUIET, "* marks the first batch with something new.");
	trend_say_changes(&t);
	report_trend_revisions(p, k, trend);
	trend_say_common(&t);
	report_elimination(p, k, trend->elimination);
	report_trend_charts(p, k, batches, trend);
	say_verdicts(&t);
	page_gap(p);
	page_para(p, 0, QUIET,
	    "Flaw load: each fault's weight times how strong it was; 0 is a beer without a flaw. Few batches prove "
	    "little; plain counts stand beside every chance.");
}
