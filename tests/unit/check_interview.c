/* check_interview.c - which question comes, when it stops, what is kept; on the rules of the project
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/interview.h>
#include "base/alloc.h"
#include "base/savefile.h"
#include "process/slots.h"
#include "rulecase.h"

static struct ab_diag diag;
static struct ab_interview *iv;
static struct ab_interview_setup setup;

static void set_up(void)
{
	ab_diag_init(&diag);
	setup = (struct ab_interview_setup){ .k = rules, .name = "b.xml", .today = "2031-03-07", .questions = 10 };
	iv = NULL;
}

static void tear_down(void)
{
	ab_interview_free(iv);
}

static void begin(const char *text)
{
	enum ab_status st = ab_interview_new(&setup, text, text == NULL ? 0 : strlen(text), "b", &iv, &diag);
	ck_assert_msg(st == AB_OK, "%s", diag.text);
}

static struct ab_reply give(const char *said)
{
	struct ab_reply reply;
	ck_assert_msg(ab_interview_answer(iv, said, &reply, &diag) == AB_OK, "\"%s\": %s", said, diag.text);
	return reply;
}

static void take(const char *said)
{
	struct ab_reply reply = give(said);
	ck_assert_msg(reply.taken, "\"%s\": %s", said, reply.says);
}

static bool asks_for(const char *name)
{
	const struct ab_question *q = ab_interview_question(iv);
	return q != NULL && strcmp(q->name, name) == 0;
}

static const char *text_now(void)
{
	size_t len;
	return ab_interview_text(iv, &len);
}

static bool holds(const char *part)
{
	return strstr(text_now(), part) != NULL;
}

/* ---- what is tasted ---- */

static const struct { const char *said; bool taken; const char *part, *other; } tastes[] = {
	{ "buttery 3", true, "fault=\"buttery\" intensity=\"3\"", NULL },
	{ "Buttery=4", true, "fault=\"buttery\" intensity=\"4\"", NULL },
	{ "buttery (2)", true, "intensity=\"2\"", NULL },
	{ "buttery 3/5", true, "intensity=\"3\"", NULL },
	{ "5 buttery", true, "fault=\"buttery\" intensity=\"5\"", NULL },
	{ "a bit buttery", true, "fault=\"buttery\" intensity=\"2\"", NULL },
	{ "very sour", true, "fault=\"sour\" intensity=\"4\"", NULL },
	{ "it tastes like wet cardboard", true, "fault=\"wet cardboard\"", NULL },
	{ "butter, sour 4; no banana", true, "fault=\"butter\"", "<absent fault=\"banana\"/>" },
	{ "sour and flat", true, "fault=\"sour\"", "fault=\"flat\"" },
	{ "slightly sour", true, "fault=\"sour\" intensity=\"1\"", NULL },
	{ "sour and flat and buttery, banana, skunky, gusher, boozy, wet cardboard, green apple, yeasty, no "
	    "head, not corn, "
	    "no plastic, no smoke", true, "fault=\"sour\"", "<absent fault=\"smoke\"" },
	{ "not very sour", false, NULL, NULL },
	{ "no head", true, "<found fault=\"no head\"", NULL },
	{ "not sour", true, "<absent fault=\"sour\"/>", NULL },
	{ "green apple 2", true, "fault=\"green apple\" intensity=\"2\"", NULL },
	{ "nothing", true, "<tasting complete=\"yes\"/>", NULL },
	{ "All good!", true, "<tasting complete=\"yes\"/>", NULL },
	{ "quxx", false, NULL, NULL }, { "buttery 3, quxx", false, NULL, NULL }, { "", false, NULL, NULL },
	{ "don't know", false, NULL, NULL }, { "3", false, NULL, NULL }, { "<b>&", false, NULL, NULL },
	{ "buttery 9", false, NULL, NULL }, { ",,;", false, NULL, NULL },
};

START_TEST(tasted)
{
	begin(NULL);
	ck_assert(asks_for("tasting"));
	struct ab_reply reply = give(tastes[_i].said);
	ck_assert_msg(reply.taken == tastes[_i].taken, "\"%s\": %s", tastes[_i].said, reply.says);
	ck_assert_msg(reply.taken || (reply.says != NULL && asks_for("tasting")), "\"%s\"", tastes[_i].said);
	ck_assert_msg(tastes[_i].part == NULL || holds(tastes[_i].part), "\"%s\":\n%s", tastes[_i].said, text_now());
	ck_assert_msg(tastes[_i].other == NULL || holds(tastes[_i].other), "\"%s\":\n%s", tastes[_i].said, text_now());
	ck_assert_msg(reply.taken || !holds("<tasting"), "\"%s\" wrote", tastes[_i].said);
}
END_TEST

/* After one thing was found: "that is all" clears the rest, "don't know" clears nothing; both go on. */
static const struct { const char *said, *part; } ends[] = {
	{ "", "complete=\"yes\"" }, { "no", "complete=\"yes\"" }, { "that's all", "complete=\"yes\"" },
	{ "don't know", "complete=\"no\"" }, { "not sure", "complete=\"no\"" },
};

START_TEST(that_is_all)
{
	begin(NULL);
	take("sour 4");
	ck_assert(asks_for("tasting") && ab_interview_question(iv)->again);
	take(ends[_i].said);
	ck_assert_msg(holds(ends[_i].part), "\"%s\":\n%s", ends[_i].said, text_now());
	ck_assert(asks_for("recipe.family"));
}
END_TEST

/* A strength or a count has no unit to ask for. */
START_TEST(no_number)
{
	begin(NULL);
	take("buttery");
	struct ab_reply reply = give("strongish");
	ck_assert(!reply.taken);
	ck_assert_str_eq(reply.says, "Please answer with a number from 1 to 5, or leave it blank if you do not know.");
}
END_TEST

START_TEST(near_words)
{
	begin(NULL);
	struct ab_reply reply = give("puttery");
	ck_assert(!reply.taken && reply.n_near > 0);
	reply = give("cartboard");
	ck_assert(!reply.taken && reply.n_near > 0 && strstr(reply.near[0], "cardboard") != NULL);
}
END_TEST

/* One letter too few, or two in each other's place: that can be nothing else, and is written as the rules spell it. */
static const struct { const char *said; bool taken; } slips[] = {
	{ "cardbord", true }, { "much better, buttrey", true }, { "much better, very nice", false },
};

START_TEST(slips_of_the_hand)
{
	begin(NULL);
	ck_assert_msg(give(slips[_i].said).taken == slips[_i].taken, "%s", slips[_i].said);
}
END_TEST

START_TEST(how_strong)
{
	begin(NULL);
	take("buttery");
	ck_assert(asks_for("tasting.intensity"));
	ck_assert(!give("9").taken);
	take("4");
	ck_assert(holds("intensity=\"4\""));
	ck_assert(asks_for("tasting") && ab_interview_question(iv)->again);
	take("sour");
	take("");
	ck_assert(holds("Asked, not known: tasting.intensity"));
	take("");
	ck_assert(holds("complete=\"yes\""));
	ck_assert(!asks_for("tasting"));
}
END_TEST

/* ---- the plain questions ---- */

static void taste_and(const char *taste)
{
	take(taste);
	take("");
}

START_TEST(plain_questions)
{
	static const char *const order[] = { "recipe.family", "yeast.class", "pack.into", "batch.brewed",
		"package.at" };
	static const char *const said[] = { "pale lager", "lager", "in bottles", "8 weeks ago", "3 weeks ago" };
	begin(NULL);
	taste_and("buttery 4");
	for (size_t i = 0; i < 5; i++) {
		ck_assert_msg(asks_for(order[i]), "%s comes, not %s", ab_interview_question(iv)->name, order[i]);
		ck_assert(ab_interview_question(iv)->number == 0 && ab_interview_question(iv)->slot == -1);
		take(said[i]);
	}
	ck_assert(holds("brewed=\"2031-01-10\" family=\"pale-lager\"") && holds("class=\"lager\"") &&
	    holds("into=\"bottles\" at=\"2031-02-14\""));
	ck_assert(holds("from=\"bottle\" at=\"2031-03-07\"") && !holds("The day of brewing"));
	ck_assert(ab_interview_question(iv) == NULL || ab_interview_question(iv)->number == 1);
}
END_TEST

/* Without a day of brewing nothing is reckoned from the day that stands in its place. */
START_TEST(undated)
{
	begin(NULL);
	taste_and("buttery 4");
	take("");
	take("");
	take("bottles");
	take("no idea");
	ck_assert(asks_for("store.days"));
	take("3 weeks");
	const struct ab_fact *facts = ab_interview_case(iv)->facts;
	ck_assert(fabs(facts[AB_F_STORE_DAYS].value - 21) < 1e-9 && fabs(facts[AB_F_TASTE_AGE].value - 21) < 1e-9);
	ck_assert(!AB_FACT_KNOWN(&facts[AB_F_TASTE_BEER_AGE]) && !AB_FACT_KNOWN(&facts[AB_F_FERMENT_DAYS]));
	ck_assert(holds("The day of brewing") && holds("Asked, not known: batch.brewed"));
}
END_TEST

START_TEST(in_the_fermenter)
{
	begin(NULL);
	taste_and("green apple 2, yeasty 2");
	take("pale and hoppy");
	take("clean ale");
	take("still in the fermenter");
	ck_assert(asks_for("batch.brewed"));
	take("8 days ago");
	ck_assert(!asks_for("package.at") && !asks_for("store.days"));
	ck_assert(ab_interview_case(iv)->diagnosis->verdict_benign);
	while (ab_interview_question(iv) != NULL) {
		const char *name = ab_interview_question(iv)->name;
		ck_assert_msg(strncmp(name, "pack.", 5) != 0 && strncmp(name, "store.", 6) != 0,
		    "%s of beer in the fermenter", name);
		take("");
	}
	ck_assert(ab_interview_case(iv)->diagnosis->verdict_benign);
}
END_TEST

/* Times that cannot be are refused by the journal's reader, and nothing changes. */
START_TEST(impossible_time)
{
	begin(NULL);
	taste_and("buttery 4");
	take("");
	take("");
	take("bottles");
	take("2 weeks ago");
	char before[4000];
	snprintf(before, sizeof before, "%s", text_now());
	struct ab_reply reply = give("3 weeks ago");
	ck_assert(!reply.taken && strstr(reply.says, "brew date") != NULL);
	ck_assert_msg(strstr(reply.says, "it would be ") != NULL && strchr(reply.says, '<') == NULL, "%s", reply.says);
	ck_assert_str_eq(before, text_now());
	ck_assert(asks_for("package.at"));
	take("1 week ago");
}
END_TEST

START_TEST(guessed_day)
{
	begin(NULL);
	taste_and("buttery 4");
	take("");
	take("");
	take("bottles");
	struct ab_reply reply = give("about 8 weeks ago");
	ck_assert(reply.taken && reply.guess && holds("<pitch at=\"2031-01-10\" guess=\"yes\"/>"));
	ck_assert(ab_interview_case(iv)->facts[AB_F_TASTE_BEER_AGE].guess);
}
END_TEST

START_TEST(nothing_wrong)
{
	begin(NULL);
	take("nothing");
	ck_assert_ptr_null(ab_interview_question(iv));
	ck_assert_int_eq(ab_interview_end(iv), AB_END_NOTHING_FOUND);
}
END_TEST

/* ---- questions of facts ---- */

static void plain(const char *taste, const char *const *said)
{
	begin(NULL);
	taste_and(taste);
	for (; *said != NULL; said++)
		take(*said);
}

static const char *const ale[] = { "pale and hoppy", "clean ale", "in bottles", "8 weeks ago", "5 weeks ago", NULL };

/* The best question of the diagnosis that can be written, and no check. */
START_TEST(best_first)
{
	plain("boozy 3", ale);
	const struct ab_diagnosis *d = ab_interview_case(iv)->diagnosis;
	const struct ab_question *q = ab_interview_question(iv);
	ck_assert_ptr_nonnull(q);
	for (size_t i = 0; i < d->n_asks; i++) {
		if (d->asks[i].is_check || !ab_interview_can_ask(d->asks[i].slot))
			continue;
		ck_assert_int_eq(q->slot, d->asks[i].slot);
		break;
	}
	ck_assert(q->number == 1 && q->asks != NULL && q->example != NULL);
}
END_TEST

START_TEST(never_twice)
{
	char asked[16][64];
	size_t n = 0;
	plain("boozy 3", ale);
	while (ab_interview_question(iv) != NULL) {
		ck_assert(n < 16);
		snprintf(asked[n], sizeof asked[n], "%s", ab_interview_question(iv)->name);
		for (size_t i = 0; i < n; i++)
			ck_assert_msg(strcmp(asked[i], asked[n]) != 0, "%s is asked twice", asked[n]);
		n++;
		ck_assert(give("don't know").unknown);
	}
	ck_assert(n > 2 && n <= 10);
	/* nor in other words: the form of the yeast is the first part of how much there was */
	bool amount = false;
	for (size_t i = 0; i < n; i++) {
		ck_assert(!(amount && strcmp(asked[i], "yeast.form") == 0));
		amount = amount || strcmp(asked[i], "pitch.rate-share") == 0;
	}
	ck_assert(amount);
	/* nor in another sitting */
	char text[8000];
	snprintf(text, sizeof text, "%s", text_now());
	enum ab_interview_end end = ab_interview_end(iv);
	ab_interview_free(iv);
	begin(text);
	if (end == AB_END_NOTHING_WORTH)
		ck_assert_ptr_null(ab_interview_question(iv));
}
END_TEST

START_TEST(at_most)
{
	setup.questions = (size_t)_i;
	plain("off 4", ale);
	size_t n = 0;
	for (; ab_interview_question(iv) != NULL; n++)
		take("");
	ck_assert_uint_eq(n, (size_t)_i);
	ck_assert_int_eq(ab_interview_end(iv), AB_END_ENOUGH);
}
END_TEST

/* Parts of one question count as one. */
START_TEST(parts)
{
	begin(
	    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-01-01' family='pale-hoppy'>"
	    "<yeast class='clean-ale'/>"
	    "<package into='bottles' at='2031-01-20'/><tasting at='2031-03-01' from='bottle'>"
	    "<found fault='gusher' intensity='5'/>"
	    "</tasting></batch>");
	size_t n = 0;
	bool seen = false;
	for (; ab_interview_question(iv) != NULL && n < 20; n++) {
		const struct ab_question *q = ab_interview_question(iv);
		if (strcmp(q->name, "pack.priming-rate") != 0) {
			take("");
			continue;
		}
		size_t number = q->number;
		ck_assert(!q->again);
		take("150 g");
		q = ab_interview_question(iv);
		ck_assert(q != NULL && strcmp(q->name, "pack.priming-rate") == 0 && q->again && q->number == number);
		take("19 L");
		ck_assert(holds("priming=\"150 g\" volume=\"19 L\""));
		ck_assert(AB_FACT_KNOWN(&ab_interview_case(iv)->facts[AB_F_PACK_PRIMING]));
		q = ab_interview_question(iv);
		ck_assert(q == NULL || (q->number == number + 1 && !q->again));
		seen = true;
	}
	ck_assert(seen);
}
END_TEST

START_TEST(movement)
{
	plain("boozy 3", ale);
	ck_assert(asks_for("ferment.early-mean"));
	int warm = rules_cause("ferment-too-warm");
	double before = ab_interview_case(iv)->diagnosis->blame[warm];
	take("27 C");
	struct ab_move moves[3];
	size_t n = ab_interview_moves(iv, moves, 3);
	ck_assert(n > 0 && moves[0].cause == warm && moves[0].before == before && moves[0].after > before + 0.2);
	ck_assert(moves[0].after == ab_interview_case(iv)->diagnosis->blame[warm]);
	for (size_t i = 1; i < n; i++)
		ck_assert(fabs(moves[i].after - moves[i].before) <= fabs(moves[i - 1].after - moves[i - 1].before));
}
END_TEST

START_TEST(why_asked)
{
	struct ab_why why[3];
	size_t n;
	plain("boozy 3", ale);
	ck_assert_int_eq(ab_interview_why(iv, why, 3, &n, &diag), AB_OK);
	ck_assert(n > 0 && why[0].cause == rules_cause("ferment-too-warm"));
	ck_assert(why[0].lowest < why[0].blame && why[0].highest > why[0].blame);
	/* what is promised comes: the hottest try gives the highest */
	take("29 C");
	ck_assert(fabs(ab_interview_case(iv)->diagnosis->blame[why[0].cause] - why[0].highest) < 1e-12);
}
END_TEST

/* Of several faults the heaviest is meant, and named; what comes with the gas nobody can tell of before. */
START_TEST(about_one)
{
	begin(
	    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-01-01' family='pale-hoppy'>"
	    "<yeast class='clean-ale'/>"
	    "<package into='bottles' at='2031-01-20'/><tasting at='2031-03-01' from='bottle'>"
	    "<found fault='gusher' intensity='5'/>"
	    "<found fault='thin' intensity='1'/><found fault='sour' intensity='2'/></tasting></batch>");
	bool seen = false;
	for (int n = 0; ab_interview_question(iv) != NULL && n < 20; n++) {
		const struct ab_question *q = ab_interview_question(iv);
		if (strcmp(q->name, "taste.at-packaging") != 0) {
			take("");
			continue;
		}
		ck_assert_msg(strstr(q->asks, "\"sour\"") != NULL, "%s", q->asks);
		take("no");
		ck_assert_msg(holds("<found fault='sour' intensity='2' at-packaging=\"no\"/>"), "%s", text_now());
		seen = true;
	}
	ck_assert(seen);
}
END_TEST

/* ---- the stop rule ---- */

struct advice { const char *next; bool benign; };

static struct advice advice_now(void)
{
	const struct ab_diagnosis *d = ab_interview_case(iv)->diagnosis;
	return (struct advice){ d->n_suspects > 0 ? rules->causes[d->suspects[0].cause].next : NULL,
		d->verdict_benign };
}

/* After AB_END_SETTLED, answers to what was left do not change the advice: asked on by a brother who does not stop. */
START_TEST(settled_is_settled)
{
	plain("boozy 3", ale);
	take("27 C");
	ck_assert_int_eq(ab_interview_end(iv), AB_END_SETTLED);
	ck_assert_ptr_null(ab_interview_question(iv));
	struct advice now = advice_now();
	static const char *const facts[] = { "<vessel room='15 C'/>", "<vessel room='29 C'/>",
		"<lag first-signs='3 h'/>", "<lag first-signs='4 d'/>", "<pitch temp='10 C'/>",
		"<pitch temp='32 C'/>", "<aerate method='none'/>", "<aerate method='oxygen'/>" };
	for (size_t i = 0; i < sizeof facts / sizeof *facts; i++) {
		char text[4000];
		const char *end = strstr(text_now(), "</batch>");
		snprintf(text, sizeof text, "%.*s%s</batch>", (int)(end - text_now()), text_now(), facts[i]);
		struct ab_interview *mine = iv;
		begin(text);
		struct advice then = advice_now();
		ck_assert_msg(
		    now.next == then.next && now.benign == then.benign, "%s changes it to %s", facts[i], then.next);
		ab_interview_free(iv);
		iv = mine;
	}
}
END_TEST

START_TEST(open_is_not_settled)
{
	plain("boozy 3", ale);
	ck_assert_int_eq(ab_interview_end(iv), AB_END_NOT_YET);
	struct advice now = advice_now();
	take("12 C");
	ck_assert(advice_now().next != now.next);
}
END_TEST

/* ---- back, and going on another day ---- */

START_TEST(back)
{
	char texts[8][4000];
	bool went;
	begin(NULL);
	const char *said[] = { "buttery 4", "", "pale lager", "lager", "bottles", "8 weeks ago", "don't know" };
	for (size_t i = 0; i < 7; i++) {
		snprintf(texts[i], sizeof texts[i], "%s", text_now());
		take(said[i]);
	}
	for (size_t i = 7; i-- > 0;) {
		ck_assert_int_eq(ab_interview_back(iv, &went, &diag), AB_OK);
		ck_assert(went);
		ck_assert_str_eq(texts[i], text_now());
	}
	ck_assert(asks_for("tasting") && !ab_interview_question(iv)->again);
	ck_assert_int_eq(ab_interview_back(iv, &went, &diag), AB_OK);
	ck_assert(!went);
	/* and forward again as if nothing had been */
	for (size_t i = 0; i < 7; i++)
		take(said[i]);
}
END_TEST

/* A kill between any two answers: what is on disk goes on where it stood. */
START_TEST(goes_on)
{
	static const char *const said[] = { "buttery 4", "", "pale lager", "lager", "bottles", "8 weeks ago",
		"5 weeks ago", "", "", "12 C", "" };
	begin(NULL);
	for (size_t i = 0; i < sizeof said / sizeof *said && ab_interview_question(iv) != NULL; i++) {
		take(said[i]);
		if (i < 1)
			continue;
		const struct ab_question *q = ab_interview_question(iv);
		char name[64] = "", text[8000];
		snprintf(name, sizeof name, "%s", q == NULL ? "" : q->name);
		snprintf(text, sizeof text, "%s", text_now());
		struct ab_interview *mine = iv;
		begin(text);
		q = ab_interview_question(iv);
		ck_assert_msg(strcmp(name, q == NULL ? "" : q->name) == 0, "after %zu: %s, not %s", i,
		    q == NULL ? "the end" : q->name, name);
		ab_interview_free(iv);
		iv = mine;
	}
}
END_TEST

START_TEST(checks_done)
{
	int checks[4];
	plain("sour 4", ale);
	size_t n = ab_interview_checks(iv, (double)INFINITY, checks, 4);
	ck_assert(n > 0);
	int check = checks[0];
	ck_assert_int_eq(ab_interview_checked(iv, check, true, &diag), AB_OK);
	char part[160];
	snprintf(part, sizeof part, "<test kind=\"%s\" result=\"yes\"/>", rules->checks[check].id);
	ck_assert(holds(part));
	n = ab_interview_checks(iv, (double)INFINITY, checks, 4);
	for (size_t i = 0; i < n; i++)
		ck_assert(checks[i] != check);
}
END_TEST

START_TEST(journals_refused)
{
	static const struct { const char *text; enum ab_status st; } bad[] = {
		{ "<batch xmlns='urn:afterboil:journal:1' id='c' brewed='2031-01-01'/>", AB_EINPUT },
		{ "no journal", AB_EINPUT },
		{ "", AB_EINPUT }, { "<batch xmlns='urn:afterboil:journal:1' id='b'/>", AB_EINPUT },
		{ "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-01-01'><tasting>"
		    "<found fault='quxx'/></tasting></batch>", AB_EINPUT },
	};
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		ab_diag_init(&diag);
		enum ab_status st = ab_interview_new(&setup, bad[i].text, strlen(bad[i].text), "b", &iv, &diag);
		ck_assert_msg(st == bad[i].st && iv == NULL, "%s: %d %s", bad[i].text, (int)st, diag.text);
	}
}
END_TEST

/* ---- the same as diagnose ---- */

/* Answers of a random brewer who sometimes does not know. Whatever is said, the diagnosis is that of the text. */
static unsigned long seed;

static unsigned draw(unsigned n)
{
	seed = seed * 6364136223846793005UL + 1442695040888963407UL;
	return (unsigned)(seed >> 33) % n;
}

static void answer_somehow(void)
{
	static const char *const tastes_of[] = { "buttery 3", "sour 4", "wet cardboard", "gusher 4", "flat",
		"boozy 2", "skunky 3", "banana 3", "hazy 2", "green apple 3" };
	static const char *const ago[] = { "2 weeks", "5 weeks ago", "100 days", "about 2 months" };
	const struct ab_question *q = ab_interview_question(iv);
	char said[64];
	struct ab_reply reply;
	if (q->wanted == AB_WANT_TASTE)
		snprintf(said, sizeof said, "%s", q->again ? "" : tastes_of[draw(10)]);
	else if (draw(4) == 0)
		snprintf(said, sizeof said, "don't know");
	else if (q->wanted == AB_WANT_NUMBER)
		snprintf(said, sizeof said, "%s", strstr(q->asks, "hen ") != NULL ? ago[draw(4)] : q->example);
	else
		snprintf(said, sizeof said, "%u", 1 + draw((unsigned)q->n_choices));
	reply = give(said);
	if (!reply.taken)
		take("");
}

static enum ab_status on_batch(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

START_TEST(same_as_diagnose)
{
	struct ab_arena *arena = ab_arena_new();
	seed = 77 + 1000 * (unsigned long)_i;
	begin(NULL);
	for (int n = 0; ab_interview_question(iv) != NULL; n++) {
		ck_assert_msg(n < 60, "it never ends:\n%s", text_now());
		answer_somehow();
	}
	size_t len;
	const char *text = ab_interview_text(iv, &len);
	struct ab_batch *batch = NULL;
	struct ab_case *c;
	const struct ab_diagnose_options options = { .reasons = true };
	ck_assert_msg(ab_journal_read_memory(text, len, "j", NULL, arena, on_batch, &batch, &diag) == AB_OK,
	    "%s\n%s", diag.text, text);
	ck_assert_int_eq(ab_case_work(rules, batch, NULL, &options, arena, &c, &diag), AB_OK);
	const struct ab_diagnosis *a = c->diagnosis, *b = ab_interview_case(iv)->diagnosis;
	for (size_t i = 0; i < rules->n_causes; i++)
		ck_assert_msg(a->blame[i] == b->blame[i] && a->present[i] == b->present[i], "%s", rules->causes[i].id);
	ck_assert(a->n_suspects == b->n_suspects && a->verdict_benign == b->verdict_benign && a->n_asks == b->n_asks);
	ab_arena_free(arena);
}
END_TEST

/* ---- memory ---- */

START_TEST(short_memory)
{
	static const char *const said[] = { "buttery 4", "", "pale lager", "lager", "bottles", "8 weeks ago",
		"5 weeks ago", "" };
	struct ab_reply reply;
	begin(NULL);
	for (size_t i = 0; i < (size_t)_i; i++)
		take(said[i]);
	char before[4000];
	snprintf(before, sizeof before, "%s", text_now());
	enum ab_status st = AB_ENOMEM;
	long k;
	/* in steps that grow, as an answer asks for thousands of pieces */
	for (k = 0; st != AB_OK && k < 200000; k += 1 + k / 12) {
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_interview_answer(iv, said[_i], &reply, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %d %s", k, (int)st, diag.text);
		ck_assert(st == AB_OK || strcmp(before, text_now()) == 0);
		ck_assert_msg(st != AB_OK || reply.taken, "allocation %ld: %s", k, reply.says);
	}
	ck_assert_msg(st == AB_OK && k > 5, "%ld", k);
}
END_TEST

START_TEST(short_memory_at_first)
{
	enum ab_status st = AB_ENOMEM;
	for (long k = 0; st != AB_OK; k += 1 + k / 12) {
		ck_assert(k < 200000);
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_interview_new(&setup, NULL, 0, "b", &iv, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || (st == AB_ENOMEM && iv == NULL), "allocation %ld: %d", k, (int)st);
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("interview");
	TCase *tc = tcase_create("interview");
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, tasted, 0, sizeof tastes / sizeof *tastes);
	tcase_add_test(tc, near_words);
	tcase_add_loop_test(tc, slips_of_the_hand, 0, sizeof slips / sizeof *slips);
	tcase_add_loop_test(tc, that_is_all, 0, sizeof ends / sizeof *ends);
	tcase_add_test(tc, no_number);
	tcase_add_test(tc, how_strong);
	tcase_add_test(tc, plain_questions);
	tcase_add_test(tc, undated);
	tcase_add_test(tc, in_the_fermenter);
	tcase_add_test(tc, impossible_time);
	tcase_add_test(tc, guessed_day);
	tcase_add_test(tc, nothing_wrong);
	tcase_add_test(tc, best_first);
	tcase_add_test(tc, never_twice);
	tcase_add_loop_test(tc, at_most, 0, 4);
	tcase_add_test(tc, parts);
	tcase_add_test(tc, about_one);
	tcase_add_test(tc, movement);
	tcase_add_test(tc, why_asked);
	tcase_add_test(tc, settled_is_settled);
	tcase_add_test(tc, open_is_not_settled);
	tcase_add_test(tc, back);
	tcase_add_test(tc, goes_on);
	tcase_add_test(tc, checks_done);
	tcase_add_test(tc, journals_refused);
	tcase_add_loop_test(tc, same_as_diagnose, 0, 25);
	tcase_add_loop_test(tc, short_memory, 0, 8);
	tcase_add_test(tc, short_memory_at_first);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
