/* panel_text.c - a blind tasting on paper: how many cups, in which order, and what came of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>

#include "report/saying.h"

/* What each test is called, what is put before a taster, what is asked, and who counts as right. */
static const struct { const char *title, *cups, *ask, *right, *able; } tests[AB_PANEL_TESTS] = {
	[AB_PANEL_TRIANGLE] = { "Triangle test", "three cups, two of one beer and one of the other",
	    "Which cup is the odd one? Guess if you cannot tell.", "right", "can truly tell" },
	[AB_PANEL_DUO_TRIO] = { "Duo-trio test", "a cup marked R, then one of each beer",
	    "Which of the two is the same as R? Guess if you cannot tell.", "right", "can truly tell" },
	[AB_PANEL_PAIR] = { "Pair test", "a cup of each beer",
	    "Which has more of it? (Name beforehand what to look for.) Guess if you cannot tell.", "right",
	    "can truly tell" },
	[AB_PANEL_PREFERENCE] = { "Preference test", "a cup of each beer",
	    "Which do you like better? Choose one.", "for the same beer", "like the same one better" },
};

/* How many of 100 that is. Of a preference the share is what one beer has more than the other, which nobody
 * would say: 50 more of 100 are 75 against 25. */
static double of_100(const struct ab_panel *t, double share)
{
	return t->test == AB_PANEL_PREFERENCE ? 50 * (1 + share) : 100 * share;
}

/* ---- the result ---- */

/* Likely from two to one on, as everywhere; certain at nineteen to one. */
static const char *verdict_of(enum ab_panel_test test, double difference)
{
	static const struct { double from; const char *taste, *like; } words[] = {
		{ 0.95, "there is almost certainly a difference", "one of the two is almost certainly liked better" },
		{ 2.0 / 3, "a difference is likely", "one of the two is likely liked better" },
		{ 1.0 / 3, "it cannot be told", "it cannot be told" },
		{ 0, "a difference is unlikely, or too small for this many tastings",
		    "there is likely no clear preference" },
	};
	size_t i = 0;

	while (difference < words[i].from)
		i++;
	return test == AB_PANEL_PREFERENCE ? words[i].like : words[i].taste;
}

static enum tone tone_of(double difference)
{
	return difference >= 0.95 ? GOOD : difference < 2.0 / 3 && difference >= 1.0 / 3 ? QUIET : PLAIN;
}

/* Luck first: the only figure that assumes nothing. */
static void say_luck(struct page *p, const struct ab_panel *t)
{
	page_para(p, 2, PLAIN, page_text(p, t->test == AB_PANEL_PREFERENCE
	    ? "If nobody cared, tossing coins would give a split at least this uneven in %s of such tastings."
	    : "Pure guessing would give as many or more right in %s of such tastings.", say_percent(p, t->p)));
	if (t->least[1] == SIZE_MAX)
		page_para(p, 2, PLAIN, page_text(p, "With %s no result at all can rule out luck (1 in 20): "
		    "taste more.", say_count(p, t->n, "tasting", "tastings")));
	else if (t->p > 0.05)
		page_para(p, 2, PLAIN, page_text(p, "To rule out luck (1 in 20) it would take %zu of %zu %s.",
		    t->least[1], t->n, tests[t->test].right));
}

static void say_belief(struct page *p, const struct ab_panel *t)
{
	const struct ab_panel_belief *b = &t->belief;

	page_para(p, 2, PLAIN, page_text(p, "Starting from even odds, that makes a difference %s likely.",
	    say_percent(p, b->difference)));
	if (b->difference < 1.0 / 3)
		return;
	page_para(p, 2, PLAIN, t->test == AB_PANEL_PREFERENCE
	    ? page_text(p, "If so, about %.0f of 100 like it better (likely %.0f to %.0f).",
		of_100(t, b->share), of_100(t, b->low), of_100(t, b->high))
	    : page_text(p, "If so, about %.0f of 100 can truly tell the two apart (likely %.0f to %.0f); the "
		"others guessed.", of_100(t, b->share), of_100(t, b->low), of_100(t, b->high)));
}

/* Few tasters miss much: "not proven" must not be read as "the same". */
static void say_blindness(struct page *p, const struct ab_panel *t)
{
	if (t->p <= 0.05)
		return;
	page_para(p, 2, CAREFUL, page_text(p, "Not proven is not the same as no difference: so many tastings "
	    "would have missed it %s of the time even if %.0f of 100 %s.",
	    say_percent(p, 1 - t->power[2]), of_100(t, ab_panel_shares[2]), tests[t->test].able));
}

static void say_result(struct page *p, const struct ab_panel *t)
{
	/* the side with more votes: the other one only says the same */
	bool other = t->test == AB_PANEL_PREFERENCE && 2 * t->right < t->n;

	page_begin(p, 0);
	page_say(p, PLAIN, page_text(p, "%zu of %zu %s: ", other ? t->n - t->right : t->right, t->n,
	    tests[t->test].right));
	page_say(p, tone_of(t->belief.difference), page_text(p, "%s%s.",
	    verdict_of(t->test, t->belief.difference),
	    t->belief.difference >= 2.0 / 3 && t->p > 0.05 ? ", though luck is not ruled out" : ""));
	page_end(p);
	page_gap(p);
	say_luck(p, t);
	say_belief(p, t);
	say_blindness(p, t);
}

/* ---- the plan ---- */

static void say_needed(struct page *p, const struct ab_panel *t)
{
	page_section(p, "How many tastings it takes");
	for (int i = AB_PANEL_SHARES; i-- > 0;)
		page_point(p, 2, "*", PLAIN, t->needed[i] == 0
		    ? page_text(p, "when %.0f of 100 %s: more than %d", of_100(t, ab_panel_shares[i]),
			tests[t->test].able, AB_PANEL_MOST)
		    : page_text(p, "when %.0f of 100 %s: %zu", of_100(t, ab_panel_shares[i]),
			tests[t->test].able, t->needed[i]));
	page_para(p, 2, QUIET, "So many that luck is ruled out (1 in 20) and such a difference is found four "
	    "times in five. One taster may take several rounds with a rest between; under pure guessing each "
	    "round counts alike.");
}

static void say_least(struct page *p, const struct ab_panel *t)
{
	page_section(p, page_text(p, "Of %s", say_count(p, t->n, "tasting", "tastings")));
	for (int i = 0; i < AB_PANEL_LEVELS; i++)
		page_point(p, 2, "*", PLAIN, t->least[i] == SIZE_MAX
		    ? page_text(p, "luck once in %.0f: no result can rule it out", 1 / ab_panel_levels[i])
		    : page_text(p, "luck less than once in %.0f: at least %zu %s", 1 / ab_panel_levels[i],
			t->least[i], tests[t->test].right));
	page_para(p, 2, PLAIN, page_text(p, "Found with so many (at 1 in 20) when %.0f of 100 %s: %s of the "
	    "time.%s", of_100(t, ab_panel_shares[2]), tests[t->test].able, say_percent(p, t->power[2]),
	    t->n < 12 ? " Fewer than a dozen prove little." : ""));
}

/* ---- the cups ---- */

static const char *cup_of(struct page *p, const struct ab_serving *s, int i)
{
	return i >= s->cups ? "" : s->code[i] == 0 ? "R" : page_text(p, "%d", s->code[i]);
}

static const char *answer_of(struct page *p, const struct ab_panel *t, const struct ab_serving *s)
{
	return s->odd >= 0 ? cup_of(p, s, s->odd) : t->test == AB_PANEL_PAIR ? "the stronger" : "";
}

/* For whoever pours and nobody else; the empty column is for the answer. */
static void say_key(struct page *p, const struct ab_panel *t)
{
	enum { COLUMNS = 7 };
	static const char *const heads[COLUMNS] = { "taster", "pour", "cup 1", "cup 2", "cup 3", "right", "said" };
	bool three = t->servings[0].cups == 3;
	const char **cells = ab_arena_alloc(p->arena, COLUMNS * (t->n + 1), sizeof *cells);

	if (cells == NULL) {
		p->bad = true;
		return;
	}
	for (int c = 0; c < COLUMNS; c++)
		cells[c] = c == 4 && !three ? "" : heads[c];
	for (size_t i = 0; i < t->n_servings; i++) {
		const struct ab_serving *s = &t->servings[i];
		const char **row = cells + COLUMNS * (i + 1);

		row[0] = page_text(p, "%zu", i + 1);
		row[1] = s->beer;
		for (int c = 0; c < 3; c++)
			row[2 + c] = cup_of(p, s, c);
		row[5] = answer_of(p, t, s);
		row[6] = "______";
	}
	page_section(p, "Who pours (tasters must not see this)");
	page_table(p, 2, "rllllll", true, cells, t->n_servings + 1);
}

/* One line a taster, to be cut apart. */
static void say_slips(struct page *p, const struct ab_panel *t)
{
	page_section(p, "Slips for the tasters");
	page_para(p, 2, PLAIN, tests[t->test].ask);
	for (size_t i = 0; i < t->n_servings; i++) {
		const struct ab_serving *s = &t->servings[i];

		page_para(p, 2, PLAIN, page_text(p, "Taster %zu, in this order: %s, %s%s%s. My answer: ______",
		    i + 1, cup_of(p, s, 0), cup_of(p, s, 1), s->cups == 3 ? ", " : "", cup_of(p, s, 2)));
	}
}

static void say_serving(struct page *p, const struct ab_panel *t)
{
	if (t->n_servings == 0)
		return;
	say_key(p, t);
	page_para(p, 2, PLAIN, page_text(p, "A and B are the two beers. Each taster gets %s, same glass, same "
	    "temperature, same fill; the code goes on the cup. Who pours does not serve. (Seed %lu: another "
	    "--seed makes another order.)", tests[t->test].cups, t->seed));
	say_slips(p, t);
	page_gap(p);
	page_para(p, 0, CAREFUL, "Take care: a few mouthfuls a cup are enough, water and bread between; who "
	    "drives does not taste.");
}

void report_panel_text(struct page *p, const struct ab_panel *panel)
{
	assert(panel->test < AB_PANEL_TESTS);
	page_title(p, tests[panel->test].title);
	if (panel->tasted)
		say_result(p, panel);
	else
		page_para(p, 0, PLAIN, page_text(p, "Each taster gets %s. %s", tests[panel->test].cups,
		    tests[panel->test].ask));
	if (panel->n > 0 && !panel->tasted)
		say_least(p, panel);
	if (!panel->tasted || panel->p > 0.05)
		say_needed(p, panel);
	say_serving(p, panel);
}
