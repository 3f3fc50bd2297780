/* check_overview.c - the report page: what stands on it, in which order, and what is left out where there is nothing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <afterboil/overview.h>
#include <afterboil/revise.h>

#include "base/alloc.h"

#define DAY 86400.0
#define EVIL "<script>alert(1)</script>\" onload='x'\033[31m"
enum { N = 6, MANY = 14 };

/* ---- a brewer of six batches, by hand ---- */

static const double clean[RC_FAULTS] = { 0 }, found[RC_FAULTS] = { 4, 0, 0, 0, 0 };
static const char *const began[] = { "cellar" };
static const double values[N] = { 1, 1.5, 1, 1.5, 9, 9.5 };
static const size_t places[N] = { 0, 1, 2, 3, 4, 5 };

struct world {
	struct ab_case cases[N], *list[N];
	struct ab_diagnosis diagnoses[N];
	struct ab_batch batches[N];
	struct ab_suspect suspects[2];
	struct ab_warning warning;
	struct ab_trend_batch series[N];
	struct ab_trend_change changes[2];
	struct ab_chart chart;
	struct ab_chart_shift shift;
	bool odd[N];
	struct ab_common common;
	struct ab_trend trend;
	int main_faults[1];
	struct ab_pitch pitch;
	struct ab_reading readings[MANY];
	struct ab_revision revision;
	struct ab_tasting tastings[2];
	struct ab_found smelt;
	struct ab_note notes[MANY];
	struct ab_change_note change_note;
	struct ab_recipe recipe;
	struct ab_boil boil;
	struct ab_promise promise;
	struct ab_compare_fault faults[1];
	struct ab_comparison comparison;
	struct ab_item items[2];
	struct ab_because because;
	struct ab_step steps[2];
	struct ab_next_step todo[1];
	struct ab_advice advice;
	size_t shown[2];
	int plan[2];
	struct ab_overview o;
};

static char ids[N][4];

static void fill_cases(struct world *w)
{
	for (int i = 0; i < N; i++) {
		rc_case(&w->cases[i], &w->diagnoses[i]);
		snprintf(ids[i], sizeof ids[i], "b%d", i + 1);
		w->batches[i] = rc_batch;
		w->batches[i].id = ids[i];
		w->batches[i].line = "pale";
		w->batches[i].brewed = (struct ab_when){ .known = true, .s = i * DAY };
		w->cases[i].batch = &w->batches[i];
		w->cases[i].load = i % 2 ? 0 : 4;
		w->list[i] = &w->cases[i];
		w->series[i] = (struct ab_trend_batch){ .id = ids[i],
			.line = "pale",
			.brewed_s = i * DAY,
			.tasted = true,
			.load = w->cases[i].load,
			.load_low = 0,
			.load_high = 6,
			.fault_load = i % 2 ? clean : found };
	}
	w->series[3].changes = began;
	w->series[3].n_changes = 1;
	w->suspects[0] = (struct ab_suspect){
		.cause = RC_WARM, .blame = 0.7, .blame_low = 0.5, .blame_high = 0.9, .present = 0.8
	};
	w->suspects[1] = (struct ab_suspect){
		.cause = RC_YOUNG, .blame = 0.2, .blame_low = 0.1, .blame_high = 0.3, .present = 0.4
	};
	w->diagnoses[N - 1].suspects = w->suspects;
	w->diagnoses[N - 1].n_suspects = 2;
	w->warning = (struct ab_warning){ "bottle-pressure", "Bottles may burst.", NULL };
	w->diagnoses[2].warnings = &w->warning;
	w->diagnoses[2].n_warnings = 1;
}

static void fill_trend(struct world *w)
{
	w->changes[0] = (struct ab_trend_change){ .id = "cellar",
		.date_s = 3 * DAY,
		.n_before = 3,
		.n_after = 3,
		.before = 2.67,
		.after = 1.33,
		.p_better = 0.7,
		.low = -1,
		.high = 3,
		.at = 3 };
	w->changes[1] = (struct ab_trend_change){ .id = "of my own",
		.date_s = 5 * DAY,
		.n_before = 5,
		.before = 2.4,
		.after = NAN,
		.p_better = NAN,
		.low = NAN,
		.high = NAN,
		.at = 5 };
	w->shift = (struct ab_chart_shift){ .from = 4, .seen = 5, .before = 1.25, .after = 9.25 };
	w->odd[1] = true;
	w->chart = (struct ab_chart){ .slot = RC_OVER,
		.n = N,
		.batch = places,
		.x = values,
		.odd = w->odd,
		.shifts = &w->shift,
		.n_shifts = 1,
		.mean = 9.25,
		.low = 8,
		.high = 10 };
	w->common = (struct ab_common){ .factor = "yeast",
		.value = "lot 7",
		.bad_with = 3,
		.bad = 3,
		.good_with = 0,
		.good = 3,
		.p = 0.05,
		.p_adjusted = 0.1,
		.p_least = 0.05 };
	w->trend = (struct ab_trend){ .n_batches = N,
		.charts = &w->chart,
		.n_charts = 1,
		.changes = w->changes,
		.n_changes = 2,
		.main_faults = w->main_faults,
		.n_main_faults = 1,
		.slope_per_batch = -1,
		.slope_low = -2,
		.slope_high = -0.5,
		.common = &w->common,
		.n_common = 1 };
	w->main_faults[0] = RC_BUTTER;
	w->promise = (struct ab_promise){ "cellar", 2.7, 0.9, true };
	w->faults[0] = (struct ab_compare_fault){ RC_BUTTER, 4, 0 };
	w->comparison =
	    (struct ab_comparison){ .a = &w->cases[4], .b = &w->cases[5], .faults = w->faults, .n_faults = 1 };
}

static void fill_advice(struct world *w)
{
	w->because = (struct ab_because){ RC_BUTTER, RC_WARM, 1, true, false, false };
	w->items[0] = (struct ab_item){ .change = RC_CELLAR,
		.gain = 1.2,
		.joint_gain = 1.2,
		.minutes = 10,
		.stays = 0.87,
		.because = &w->because,
		.n_because = 1,
		.chosen = true };
	w->items[1] = (struct ab_item){
		.change = RC_FRIDGE, .cost = 90, .gain = 0.4, .joint_gain = 0.4, .stays = NAN, .chosen = true
	};
	w->plan[1] = 1;
	static const unsigned char bought[RC_CHANGES] = { [RC_CELLAR] = 1, [RC_FRIDGE] = 1 };

	w->todo[0] = (struct ab_next_step){ .kind = AB_NEXT_BEGIN, .cause = -1 };
	w->steps[0] = (struct ab_step){ .cost = 0, .removed = 1.2, .load = 2.3 };
	w->steps[1] = (struct ab_step){ .cost = 90, .removed = 1.6, .load = 1.9, .chosen = bought };
	w->advice = (struct ab_advice){ .budget = 100,
		.minutes = INFINITY,
		.horizon_years = 1,
		.running = INFINITY,
		.currency = "$",
		.n_batches = N,
		.load_before = 3.5,
		.load_after = 1.9,
		.items = w->items,
		.n_items = 2,
		.plan = w->plan,
		.n_plan = 2,
		.frontier = w->steps,
		.n_frontier = 2,
		.steps = w->todo,
		.n_steps = 1,
		.regret = NAN,
		.regret_high = NAN,
		.reason = "Because." };
}

/* Words of the brewer's own in every place that takes them, of the batch that is told in full. */
static void fill_words(struct world *w)
{
	struct ab_batch *b = &w->batches[N - 1];

	w->notes[0].text = "Boiled over.";
	w->notes[1].text = " \n ";
	b->notes = (struct ab_list){ .items = w->notes, .n = 2 };
	w->recipe.notes = (struct ab_list){ .items = w->notes, .n = 1 };
	b->recipe = &w->recipe;
	w->change_note = (struct ab_change_note){ .what = "cellar", .text = "moved below" };
	b->changes = (struct ab_list){ .items = &w->change_note, .n = 1 };
	w->smelt =
	    (struct ab_found){ .fault = "buttery", .note = "like popcorn", .intensity = { .known = true, .v = 3 } };
	w->tastings[0] = (struct ab_tasting){ .at = { .known = true, .s = 30 * DAY }, .by = "me", .next_time = "cooler",
		.found = { .items = &w->smelt, .n = 1 }, .mark_on = "splashed" };
	b->tastings = (struct ab_list){ .items = w->tastings, .n = 2 };
	w->revision = (struct ab_revision){ .line = "pale",
		.batch = "b2",
		.fault = RC_BUTTER,
		.cause = RC_WARM,
		.before = 0.7,
		.after = 0.3,
		.leader = RC_YOUNG,
		.leader_before = 0.2,
		.leader_after = 0.6,
		.later = 3,
		.came_without = 2,
		.found = 2 };
	w->trend.revisions = &w->revision;
	w->trend.n_revisions = 1;
}

static struct world *world(void)
{
	static struct world w;

	memset(&w, 0, sizeof w);
	fill_cases(&w);
	fill_trend(&w);
	fill_advice(&w);
	fill_words(&w);
	w.shown[0] = N - 1;
	w.o = (struct ab_overview){ .k = &rc_rules,
		.cases = w.list,
		.n_cases = N,
		.shown = w.shown,
		.n_shown = 1,
		.advice = &w.advice,
		.trend = &w.trend,
		.batches = w.series,
		.n_batches = N,
		.promises = &w.promise,
		.n_promises = 1,
		.comparison = &w.comparison };
	return &w;
}

static char *page_of(const struct world *w)
{
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_diag diag;
	char *text = NULL;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_overview(&w->o, &look, &text, &diag), AB_OK);
	return text;
}

/* ---- all of it ---- */

static const char *const in_order[] = { "<h1>Your beer</h1>",
	"6 batches, brewed from <span class=\"d\">1970-01-01</span>", "bottles may burst", "Do this next",
	"<dt>When</dt>", "<dt>Against</dt>", "0 is a beer without a flaw", "stays in 87 %", "</header>",
	"<section id=\"plan\">", "id=\"plan-t\"", "stays 87 %", "id=\"frontier-t\"", "id=\"budget\"",
	"The plan in words", "<section id=\"trend\">", "your beer is getting better", "id=\"loads-t\"",
	"id=\"changes-t\"", "id=\"faults-t\"", "id=\"habit-1-t\"", "id=\"common-t\"", "What looks different now",
	"The trend in words", "<section id=\"brews\">", "id=\"brews-t\"", "<section id=\"batch-1\">",
	"id=\"b1-causes-t\"", "What most likely happened", "Marked bottles of b6", "marked splashed: buttery 3",
	"without a mark: nothing wrong", "What you wrote down", "The batch: </span>Boiled over.",
	"The recipe: </span>Boiled over.", "New with it: </span>moved below", "by me, buttery: </span>like popcorn",
	"for next time: </span>cooler", "local codes", "<script>", "</html>" };

START_TEST(order)
{
	char *text = page_of(world());
	size_t n = sizeof in_order / sizeof *in_order;

	for (size_t i = 0; i < n; i++)
		rc_has("is there", text, in_order[i]);
	for (size_t i = 0; i + 1 < n; i++) {
		const char *at = strstr(text, in_order[i]);
		ck_assert_msg(strstr(at, in_order[i + 1]) != NULL, "%s stands before %s", in_order[i + 1], in_order[i]);
	}
	ck_assert_uint_eq(rc_times(text, "<figure>"), rc_times(text, "role=\"img\""));
	ab_report_free(text);
}
END_TEST

/* Before a beer was tasted a plan holds only what is usual: it comes last. */
START_TEST(untasted_order)
{
	struct world *w = world();

	for (int i = 0; i < N; i++)
		w->cases[i].tasted = false;
	char *text = page_of(w);
	ck_assert_ptr_nonnull(strstr(text, "<section id=\"batch-1\">"));
	rc_has("the plan", strstr(text, "<section id=\"batch-1\">"), "<section id=\"plan\">");
	ab_report_free(text);
}
END_TEST

/* A journal begun for the next brew: counted apart, and nothing is drawn or said of how it went. */
START_TEST(on_paper)
{
	struct world *w = world();

	w->batches[N - 1].pitch = NULL;
	w->batches[N - 1].changes.n = w->batches[N - 1].tastings.n = 0;
	w->cases[N - 1].tasted = false;
	w->diagnoses[N - 1].nothing_found = true;
	char *text = page_of(w);
	rc_has("counted apart", text, "5 batches, brewed from");
	rc_has("counted apart", text, "1 journal for a brew to come");
	rc_has("its day", text, "to be brewed");
	rc_has("told", text, "Not brewed yet: its journal holds what is meant");
	rc_has("its notes", text, "Boiled over.");
	rc_lacks("nothing of how it went", text, "Course of batch");
	rc_lacks("nothing of how it tastes", text, "Not tasted yet");
	ab_report_free(text);
	w->batches[N - 1].boil = &w->boil;
	text = page_of(w);
	rc_has("a boil is no paper", text, "6 batches, brewed from");
	rc_has("a boil is no paper", text, "Course of batch b6");
	ab_report_free(text);
	w->batches[N - 1].boil = NULL;
	for (int i = 0; i < N; i++) {
		w->batches[i].pitch = NULL;
		w->cases[i].tasted = false;
	}
	text = page_of(w);
	rc_has("nothing but paper", text, "Nothing brewed yet; 6 journals for a brew to come.");
	ab_report_free(text);
}
END_TEST

/* ---- what is not there is left out, and no link leads to it ---- */

static void no_trend(struct world *w) { w->o.trend = NULL; w->o.n_batches = 0; }
static void no_brews(struct world *w) { w->o.comparison = NULL; }
static void no_advice(struct world *w) { w->o.advice = NULL; }
static void no_batch(struct world *w) { w->o.n_shown = 0; }
static void no_alarm(struct world *w) { w->diagnoses[2].n_warnings = 0; }
static void no_promise(struct world *w) { w->o.n_promises = 0; }
static void no_chart(struct world *w) { w->trend.n_charts = 0; }
static void no_thread(struct world *w) { w->common.p = 0.5; }
static void too_few(struct world *w) { w->common.p = w->common.p_least = 0.2; }
static void no_plan(struct world *w)
{
	w->advice.n_plan = 0;
	w->advice.next = -1;
	w->todo[0] = (struct ab_next_step){ .kind = AB_NEXT_SAME, .cause = -1, .item = -1 };
}
static void beside_the_plan(struct world *w) { w->items[0].chosen = false; }
static void not_moved(struct world *w) { w->chart.n_shifts = 0; w->odd[1] = false; }
static void alike(struct world *w) { w->comparison.n_faults = 0; }
static void untasted(struct world *w)
{
	w->cases[N - 1].tasted = false;
	w->todo[0] =
	    (struct ab_next_step){ .kind = AB_NEXT_TASTE, .batch = w->cases[N - 1].batch, .cause = -1, .item = -1 };
}
static void worse(struct world *w) { w->trend.slope_low = 0.1; w->trend.slope_high = 2; }
static void no_slope(struct world *w) { w->trend.slope_per_batch = NAN; }
static void asked(struct world *w) { static struct ab_ask ask = { .slot = RC_OVER }; w->advice.first_check = &ask; }
static void asked_question(struct world *w)
{
	static struct ab_ask ask = { .is_check = true, .check = RC_SNIFF };
	w->advice.first_check = &ask;
}
static void all_free(struct world *w) { w->items[1].cost = 0; }
static void runs(struct world *w) { w->items[1].running_cost = 5; }
static void silent(struct world *w)
{
	w->batches[N - 1].notes.n = w->batches[N - 1].tastings.n = w->batches[N - 1].changes.n = w->recipe.notes.n =
	    0;
}
static void only_blank(struct world *w) { silent(w); w->notes[0].text = ""; w->batches[N - 1].notes.n = 2; }
static void alike_bottles(struct world *w) { w->tastings[0].mark_on = NULL; }
static void stands(struct world *w) { w->trend.n_revisions = 0; }
static void one_only(struct world *w) { w->o.n_cases = 1; }
static void one_clean(struct world *w) { w->o.n_cases = 1; w->cases[0].load = 0; }
static void one_running(struct world *w) { w->o.n_cases = 1; w->cases[0].tasted = false; }
static void running(struct world *w) { w->cases[N - 1].tasted = false; w->diagnoses[N - 1].nothing_found = true; }
static void too_many(struct world *w)
{
	for (int i = 0; i < MANY; i++)
		w->notes[i].text = i < MANY - 1 ? "again" : "the last";
	silent(w);
	w->batches[N - 1].notes.n = MANY;
}
static void endless(struct world *w)
{
	static char text[2001];
	memset(text, 'x', sizeof text - 1);
	w->notes[0].text = text;
}
static void broken_lines(struct world *w) { w->notes[0].text = "\n\tover \n  two\tlines"; }
static void one_long(struct world *w) { silent(w); w->batches[N - 1].notes.n = 1; endless(w); }
static void no_faults(struct world *w) { w->trend.n_main_faults = 0; }
static void clean_all(struct world *w)
{
	for (int i = 0; i < N; i++)
		w->series[i].fault_load = clean;
}
static void a_course_of_one(struct world *w) { w->o.n_batches = 1; }
static void rents(struct world *w) { w->items[1].cost = 0; w->items[1].running_cost = 90; }
static void own_words(struct world *w)
{
	w->changes[1].id = "of my own and in so many words that a line of a figure would never hold them";
}
static void readings(struct world *w, int instrument, size_t n)
{
	w->pitch.at = (struct ab_when){ .known = true, .s = 0 };
	w->batches[N - 1].pitch = &w->pitch;
	for (size_t i = 0; i < n; i++)
		w->readings[i] = (struct ab_reading){ .at = { .known = true, .s = (double)i * DAY },
			.instrument = instrument,
			.gravity_sg = { .known = true, .v = 1.05 - 0.003 * (double)i } };
	w->batches[N - 1].readings = (struct ab_list){ .items = w->readings, .n = n };
}
static void by_spindle(struct world *w) { readings(w, 1, 3); }
static void by_float(struct world *w) { readings(w, 3, 3); w->readings[1].instrument = 0; }
static void with_care(struct world *w)
{
	static const char text[] = "Bottles may burst: too much sugar. Chill them.";
	w->warning.text = text;
	w->warning.care = strstr(text, "Chill");
}
static void dated(struct world *w) { w->todo[0].brew_s = 9 * DAY; }
static void named(struct world *w) { dated(w); w->todo[0].batch = w->cases[N - 1].batch; }
static void owned(struct world *w) { w->items[0].unused = true; }
static void begun(struct world *w) { static const struct ab_changed c; w->items[0].begun = &c; }
static void on_trial(struct world *w)
{
	static const struct ab_changed c = { .text = "a new hose" };
	w->todo[0].under = &c;
}

static const struct { const char *title; void (*turn)(struct world *); const char *lacks, *has; } turns[] = {
	{ "no trend", no_trend, "#trend", "#plan" }, { "no two brews of a line", no_brews, "#brews", "#trend" },
	{ "no advice", no_advice, "#plan", "Nothing new" }, { "no batch tasted", no_batch, "#batch-1", "#plan" },
	{ "no danger", no_alarm, "class=\"alarm\"", "class=\"next\"" },
	{ "no promise", no_promise, "class=\"promise\"", "changes-t" },
	{ "nothing charted", no_chart, "habit-1", "changes-t" },
	{ "no common thread", no_thread, "common-t", "Nothing stands out" },
	{ "too few to tell", too_few, "Nothing stands out", "could stand out" },
	{ "nothing to do", no_plan, "<dl>", "there is nothing to change" },
	{ "a steady habit", not_moved, ">moved<", "Steady at" },
	{ "two brews without faults", alike, "brews-t", "Nothing was found in b5 nor in b6" },
	{ "not tasted yet", untasted, "taste b5", "afterboil taste b6" },
	{ "getting worse", worse, "getting better.", "getting worse" },
	{ "a question first", asked_question, "?.", "before you spend: " },
	{ "nothing that costs", all_free, "worth-t", "id=\"plan-t\"" },
	{ "running cost counts", runs, "0.044,", "0.042, $95 in all" },
	{ "a first check that is no question", asked, "..", "before you spend: " },
	{ "no notes", silent, "What you wrote down", "id=\"b1-causes-t\"" },
	{ "blank notes", only_blank, "What you wrote down", "id=\"b1-causes-t\"" },
	{ "no marked bottle", alike_bottles, "Marked bottles", "like popcorn" },
	{ "verdicts that stand", stands, "What looks different now", "The trend in words" },
	{ "one batch", one_only, "1970-01-01</span> to", "1 batch, brewed" },
	{ "one clean batch", one_clean, "of them without", "tasted, and without a flaw" },
	{ "one batch not tasted", one_running, "of them without", "not tasted yet." },
	{ "a batch that is running", running, "Diagnosis of batch b6", "Course of batch b6" },
	{ "too many notes", too_many, "the last", "And 2 more in the journal" },
	{ "a note without an end", endless, "xxx</", "(the rest stands in the journal)" },
	{ "lines broken as they were", broken_lines, "over?", ">over two lines</p>" },
	{ "a long note unfolds", one_long, "<h3>What you wrote down", "<summary>What you wrote down, 1 note<" },
	{ "short notes lie open", no_faults, "<summary>What you wrote", "<h3>What you wrote down</h3>" },
	{ "no fault ever", no_faults, "faults-t", "loads-t" },
	{ "no fault but of long ago", clean_all, "faults-t", "loads-t" },
	{ "one batch is no course", a_course_of_one, "#trend", "#plan" },
	{ "what runs is not free", rents, "0.40, free", "<rect class=\"fill calm\"" },
	{ "words of one's own", own_words, "hold them.</p>",
	    "2 of my own and in so many words that a line\xE2\x80\xA6." },
	{ "each reading a sample", by_spindle, "sample drawn, 2 times", "sample drawn, 3 times" },
	{ "a float takes none", by_float, "sample drawn, ", ">sample drawn<" },
	{ "nothing of the plan is told at the top", untasted, " more.</p>", "has 2 changes.</p>" },
	{ "one of two is", no_faults, "2 changes", "has 1 more.</p>" },
	{ "what is told there is none of the plan", beside_the_plan, " more.</p>", "has 2 changes.</p>" },
	{ "what to do before how it is known", with_care, "1970-01-03</span>: Bottles may",
	    "Chill them.</p>\n<details class=\"part\"><summary>How that is reckoned</summary>\n<p>Bottles may "
	    "burst: too much sugar. </p>" },
	{ "no care apart: nothing unfolds", no_faults, "How that is reckoned", "Bottles may burst.</p>" },
	{ "no day for the next brew", no_faults, "The next brew", "<dt>When</dt><dd>" },
	{ "a day for it", dated, "brew: ,", "The next brew: from 1970-01-10 on, your first free day for it.</dd>" },
	{ "its journal, too", named, "brew: ,", "The next brew: b6 from 1970-01-10 on, your" },
	{ "no trend to tell", no_slope, "Yes: your beer", "four are needed" },
	{ "owned already", owned, "0.40, free", "<dt>Costs</dt><dd>You own it already: use it, 10" },
	{ "begun already", begun, "<dt>Costs</dt><dd>$", "<dt>Costs</dt><dd>Begun" },
	{ "what it is against is on trial", on_trial, "it may be done then.</dd><dd>",
	    "<dt>On trial</dt><dd>What it is against is on trial already (a new hose, noted 1970" },
};
START_TEST(left_out)
{
	struct world *w = world();
	turns[_i].turn(w);
	char *text = page_of(w);
	rc_lacks(turns[_i].title, text, turns[_i].lacks);
	rc_has(turns[_i].title, text, turns[_i].has);
	ab_report_free(text);
}
END_TEST

/* ---- the figures say what they are made of ---- */

static const struct { const char *title, *want; } told[] = {
	{ "a load", "<title>b1, 1970-01-01: flaw load 4.0 (0.0 to 6.0)</title>" },
	{ "a clean batch", "<title>b2, 1970-01-02: no flaw</title>" },
	{ "a change has its number at its batch", ">1</text>" },
	{ "loads before and after", "before 2.7 (3), after 1.3 (3)" },
	{ "a fault of a batch", "of the flaw load</title>" }, { "and its row", "<td>b1</td><td class=\"r\">4.0</td>" },
	{ "nothing tasted since", "not tasted" }, { "no chance where none can be told", "cannot tell" },
	{ "the promise", "2.7 to 0.9" },
	{ "its stroke", "class=\"promise\"" }, { "a habit that moved", "It moved with batch b5" },
	{ "its mark", ">moved</text>" },
	{ "a value that stands out", "class=\"odd ring\"" }, { "in its table, too", "stands out</td>" },
	{ "what is shared", "3 of 3 bad, 0 of 3 good" }, { "what was tasted then and now", "4, then not found" },
	{ "what is bought for a sum", "1.90</td><td class=\"x\">A fridge</td>" },
	{ "what money brings", "id=\"worth-t\">What each $10 brings" },
	{ "reckoned", "0.044, $90 in all" }, { "blame and its range", "50 % to 90 %" },
};
START_TEST(figures)
{
	char *text = page_of(world());
	rc_has(told[_i].title, text, told[_i].want);
	ab_report_free(text);
}
END_TEST

/* ---- strangers ---- */

START_TEST(strangers)
{
	struct world *w = world();
	for (int i = 0; i < N; i++) {
		w->batches[i].id = w->batches[i].line = w->batches[i].title = EVIL;
		w->series[i].id = w->series[i].line = EVIL;
	}
	w->changes[0].id = w->changes[1].id = w->common.value = w->common.factor = EVIL;
	w->warning.text = w->advice.reason = w->notes[0].text = w->change_note.text = w->smelt.note =
	    w->smelt.fault = EVIL;
	w->tastings[0].by = w->tastings[0].next_time = w->tastings[0].mark_on = w->revision.batch = EVIL;
	char *text = page_of(w);
	ck_assert_uint_eq(rc_times(text, "<script"), 1);
	rc_lacks("no escape sequence", text, "\033");
	rc_lacks("no attribute", text, "\" onload='");
	ab_report_free(text);
}
END_TEST

/* ---- short of memory: a status, no leak, no half page ---- */

START_TEST(short_of_memory)
{
	struct ab_look look = rc_look(AB_TEXT);
	enum ab_status st = AB_ENOMEM;
	struct ab_diag diag;
	size_t failed = 0;

	for (long i = 0; st != AB_OK && i < 100000; i += 1 + i / 40) {
		char *out = NULL;
		struct world *w = world();
		ab_diag_init(&diag);
		ab_alloc_fail_at(i);
		st = ab_report_overview(&w->o, &look, &out, &diag);
		ab_alloc_fail_at(-1);
		if (st == AB_OK) {
			ab_report_free(out);
			break;
		}
		ck_assert_int_eq(st, AB_ENOMEM);
		ck_assert_ptr_null(out);
		failed++;
	}
	ck_assert_uint_gt(failed, 20);
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("overview");
	TCase *t = tcase_create("page");
	SRunner *sr = srunner_create(s);

	tcase_add_test(t, order);
	tcase_add_test(t, untasted_order);
	tcase_add_test(t, on_paper);
	tcase_add_loop_test(t, left_out, 0, sizeof turns / sizeof *turns);
	tcase_add_loop_test(t, figures, 0, sizeof told / sizeof *told);
	tcase_add_test(t, strangers);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
