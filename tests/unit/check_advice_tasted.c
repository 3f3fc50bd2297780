/* check_advice_tasted.c - what was tasted leads a plan, what is gone does not, and a beer without a flaw is left alone
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "advicecase.h"

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

/* At equal worth (within 5 %) what acts on a fault that was tasted is begun with; what is worth more is, tasted or
 * not. */
static const struct { const char *stale; bool tasted, leads; } ties[] = { { "0.59", false, false },
    { "0.59", true, true },
	{ "0.5", true, false }, { "0.5", false, false } };

START_TEST(tasted_leads_at_equal_worth)
{
	char body[2000];

	snprintf(body, sizeof body, HABIT("x", PREVENTS("warm", "0.25")) HABIT("y", PREVENTS("stale", "%s")),
	    ties[_i].stale);
	brewery_open(&b, body);
	brewery_batch(&b);
	brewery_ready(&b);
	b.cases[0]->fault_intensity[1] = ties[_i].tasted ? 3 : 0;
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_uint_eq(advice->n_plan, 2);
	ck_assert_int_ge(advice->next, 0);
	ck_assert(&advice->items[advice->next] == brewery_item(&b, advice, ties[_i].leads ? "y" : "x"));
	ck_assert_int_eq(brewery_item(&b, advice, "y")->because[0].tasted, ties[_i].tasted);
	ck_assert(!brewery_item(&b, advice, "x")->because[0].tasted);
}
END_TEST

/* Of the faults a cause brings the reason names one this brewer has tasted; else the heaviest. */
START_TEST(because_it_was_tasted)
{
	brewery_open(&b,
	    "<cause id='dirty' side='cold' stage='ferment'><title>Dirty</title><why>so</why>"
	    "<prior p='0.5' source='estimate'/>"
	    "<gives fault='butter' noticeable='0.5' strong='0.1' source='estimate'/>"
	    "<gives fault='paper' noticeable='0.5' strong='0.1' source='estimate'/></cause>" HABIT(
		"x", PREVENTS("dirty", "0.5")));
	brewery_batch(&b);
	brewery_ready(&b);
	ck_assert_int_eq(brewery_item(&b, brewery_advise(&b), "x")->because[0].fault, 0);
	b.cases[0]->fault_intensity[1] = 3;
	ck_assert_int_eq(brewery_item(&b, brewery_advise(&b), "x")->because[0].fault, 1);
}
END_TEST

/* A letter a batch: b = butter, p = wet paper, . = tasted and neither, - = not tasted; "'" of another line; "|" a
 * change is made against butter,
 * "!" one against wet paper, "?" one is tried. What then is of butter, and is all well? 0 never, 1 gone, 2 there */
static const struct { const char *title, *batches; int butter; bool well; } courses[] = {
	{ "never", "..", 0, true },
	{ "once, and only one batch", "b", 2, false },
	{ "not in the newest, but by luck", "b.", 2, false },
	{ "not in the newest after a change", "b|.", 1, true },
	{ "and stays gone", "b|...", 1, true },
	{ "came again", "b|.b", 2, false },
	{ "came again, and another change was made", "b|.b|.", 1, true },
	{ "a change was made, and nothing tasted with it", "b|-", 2, false },
	{ "another beer proves nothing", "b|.'", 2, false },
	{ "it is gone, and something else came", "b|p", 1, false },
	{ "something else is there still", "bp|.p", 1, false },
	{ "a trial is no cure that lasts", "b?.", 2, false },
	{ "a change before it was no help", "|b.", 2, false },
	{ "a change against something else", "b!.", 2, false },
	{ "nothing was tasted", "--", 0, false },
};

static void course(const char *letters)
{
	static const char *const kept[] = { "z", "y" };
	size_t n_kept = 0;
	char made = '\0';
	for (; *letters != '\0'; letters++) {
		if (strchr("|!?", *letters) != NULL) {
			made = *letters;
			continue;
		}
		struct ab_case *c = brewery_batch(&b);
		c->tasted = *letters != '-';
		c->fault_load = ab_arena_alloc(b.arena, b.k->n_faults, sizeof *c->fault_load);
		c->fault_load[0] = c->fault_intensity[0] = *letters == 'b' ? 3 : 0;
		c->fault_load[1] = c->fault_intensity[1] = *letters == 'p' ? 3 : 0;
		const char *line = letters[1] == '\'' ? "stout" : "pale";
		letters += letters[1] == '\'';
		if (made != '\0')
			brewery_note(&b, c,
			    made == '|'       ? kept[n_kept++]
				: made == '!' ? "w"
					      : "x",
			    made == '?' ? AB_NO : AB_YES);
		made = '\0';
		struct ab_batch *batch = brewery_brewed(&b);   /* behind the note, which makes a new one */
		*batch = *c->batch;
		batch->line = line;
		c->batch = batch;
	}
}

START_TEST(gone_and_well)
{
	brewery_open(&b,
	    HABIT("x", PREVENTS("warm", "0.25")) HABIT("y", PREVENTS("warm", "0.1"))
		HABIT("z", PREVENTS("warm", "0.1")) HABIT("w", PREVENTS("stale", "0.1")));
	course(courses[_i].batches);
	brewery_ready(&b);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_because *why = brewery_item(&b, advice, "x")->because;
	bool same = advice->steps[advice->n_steps - 1].kind == AB_NEXT_SAME && advice->steps[advice->n_steps - 1].well;
	ck_assert_msg(why->tasted == (courses[_i].butter > 0) && why->gone == (courses[_i].butter == 1),
	    "%s: tasted %d, gone %d", courses[_i].title, why->tasted, why->gone);
	ck_assert_msg(same == courses[_i].well, "%s: well is %d", courses[_i].title, same);
}
END_TEST

/* What was wrong with the newest beer that was tasted goes on with what is taken from it; an older one's does not,
 * nor another fault. */
static const struct { const char *title, *batches; bool barred; } carried[] = {
	{ "the newest has it", "b", true }, { "it has another", "p", false }, { "an older one had it", "b.", false },
	{ "the newest was not tasted", "b-", true }, { "none was", "--", false },
};

START_TEST(carried_on)
{
	brewery_open(&b,
	    HABIT("x", PREVENTS("warm", "0.25") "<not-after fault='butter' source='estimate'/>") HABIT("y",
		PREVENTS("warm", "0.1")) HABIT("z", PREVENTS("warm", "0.1")) HABIT("w", PREVENTS("stale", "0.1")));
	course(carried[_i].batches);
	brewery_ready(&b);
	const char *why = brewery_item(&b, brewery_advise(&b), "x")->barred;
	ck_assert_msg((why != NULL) == carried[_i].barred &&
		(why == NULL || strcmp(why, "it would carry on what was wrong with the last batch") == 0),
	    "%s: %s", carried[_i].title, why != NULL ? why : "open");
}
END_TEST

/* What may burst, or stands under more than anybody can judge, is not to be brewed again just so, however clean it
 * tastes. */
static const struct { const char *id; bool well; } warned[] = { { "cold", true }, { "pressure-unjudged",
    false }, { "bottle-pressure", false } };
START_TEST(pressed_is_not_well)
{
	struct ab_warning w = { warned[_i].id, "x", NULL };
	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.25")));
	course("..");
	brewery_ready(&b);
	b.cases[b.n - 1]->diagnosis->warnings = &w;
	b.cases[b.n - 1]->diagnosis->n_warnings = 1;
	const struct ab_advice *advice = brewery_advise(&b);
	bool well = advice->steps[advice->n_steps - 1].kind == AB_NEXT_SAME && advice->steps[advice->n_steps - 1].well;
	ck_assert_msg(well == warned[_i].well, "%s", warned[_i].id);
}
END_TEST

/* What is gone is not begun with while there is anything else, however much it would bring. */
START_TEST(what_is_gone_does_not_lead)
{
	for (int other = 0; other < 2; other++) {
		brewery_open(&b,
		    other ? HABIT("x", PREVENTS("warm", "0.9")) HABIT("y", PREVENTS("stale", "0.3"))
				HABIT("z", PREVENTS("warm", "0.2"))
			  : HABIT("x", PREVENTS("warm", "0.9")) HABIT("z", PREVENTS("warm", "0.2")));
		course("bp|p");
		brewery_ready(&b);
		const struct ab_advice *advice = brewery_advise(&b);
		ck_assert_int_ge(advice->next, 0);
		ck_assert(&advice->items[advice->next] == brewery_item(&b, advice, other ? "y" : "x"));
		brewery_close(&b);
	}
	brewery_open(&b, "");
}
END_TEST

/* What acts on what was tasted comes first in the plan and is begun with, bought or free, whatever else brings
 * more; without anything tasted, or once it is gone, the old order stands. */
static const struct { const char *title, *changes, *batches, *plan, *next, *answers; } firsts[] = {
	{ "nothing tasted: by gain", HABIT("x", PREVENTS("warm", "0.9")) HABIT("y", PREVENTS("stale", "0.4")), ".",
	    "x y", "x", "" },
	{ "the one tasted", HABIT("x", PREVENTS("warm", "0.9")) HABIT("y", PREVENTS("stale", "0.4")), "p", "y x",
	    "y", "y" },
	{ "though it costs money", HABIT("x", PREVENTS("warm", "0.9")) BUY("y", "5", PREVENTS("stale", "0.4")), "p",
	    "y x", "y", "y" },
	{ "free ones of them first",
	    BUY("x", "5", PREVENTS("warm", "0.9")) HABIT("y", PREVENTS("stale", "0.4")) HABIT("z",
	    PREVENTS("warm", "0.4")), "bp", "y z x", "x", "y z x" },
	{ "what does little beside the best is not of them",
	    HABIT("x", PREVENTS("warm", "0.9")) HABIT("y", PREVENTS("stale", "0.9")) HABIT("z",
	    PREVENTS("stale", "0.1") PREVENTS("husky", "0.9")),
	  "p", "y x z", "y", "y" },
	{ "what may not be chosen is no measure of it",
	    HABIT("x", PREVENTS("warm", "0.9")) HABIT("y", PREVENTS("stale", "0.3")) HABIT("w",
	    PREVENTS("stale", "0.95") "<needs change='q'/>")
	  BUY("q", "5", PREVENTS("husky", "0.01")), "p", "y x", "y", "y" },
	{ "gone after a change",
	    HABIT("x", PREVENTS("warm", "0.9")) HABIT("y", PREVENTS("stale", "0.4")) HABIT("w",
	    PREVENTS("stale", "0.3")), "p!.", "x y", "x", "" },
};

START_TEST(tasted_comes_first)
{
	char plan[64] = "", answers[64] = "";

	brewery_open(&b, firsts[_i].changes);
	course(firsts[_i].batches);
	brewery_ready(&b);
	for (size_t i = 0; i < b.n; i++) {
		b.cases[i]->diagnosis->blame = ab_arena_alloc(b.arena, b.k->n_causes, sizeof(double));
		b.cases[i]->diagnosis->blame[C_WARM] = b.cases[i]->diagnosis->blame[C_STALE] = 0.8;
	}
	const struct ab_advice *advice = brewery_advise(&b);
	for (size_t i = 0; i < advice->n_plan; i++) {
		const struct ab_item *item = &advice->items[advice->plan[i]];
		snprintf(plan + strlen(plan), sizeof plan - strlen(plan), "%s%s", i > 0 ? " " : "",
		    b.k->changes[item->change].id);
		if (item->answers)
			snprintf(answers + strlen(answers), sizeof answers - strlen(answers), "%s%s",
			    answers[0] != '\0' ? " " : "", b.k->changes[item->change].id);
	}
	ck_assert_msg(strcmp(plan, firsts[_i].plan) == 0 && strcmp(answers, firsts[_i].answers) == 0,
	    "%s: plan %s, of them %s", firsts[_i].title, plan, answers);
	ck_assert_str_eq(b.k->changes[advice->items[advice->next].change].id, firsts[_i].next);
}
END_TEST

/* Found, and most likely nothing is wrong: no flaw, and the step says what it is. Too unsure, and it is one. */
START_TEST(a_false_alarm_is_no_flaw)
{
	for (int sure = 0; sure < 2; sure++) {
		struct ab_suspect young = { .cause = C_YOUNG, .blame = sure ? 0.8 : 0.4 };

		brewery_open(&b, HABIT("x", PREVENTS("warm", "0.9")));
		course("b");
		brewery_ready(&b);
		b.cases[0]->diagnosis->suspects = &young;
		b.cases[0]->diagnosis->n_suspects = 1;
		b.cases[0]->diagnosis->verdict_benign = true;
		const struct ab_advice *advice = brewery_advise(&b);
		const struct ab_next_step *step = &advice->steps[0];
		for (size_t i = 0; i < advice->n_steps; i++)
			step = advice->steps[i].kind == AB_NEXT_SAME || advice->steps[i].kind == AB_NEXT_BEGIN
			    ? &advice->steps[i]
			    : step;
		ck_assert_int_eq(step->kind, sure ? AB_NEXT_SAME : AB_NEXT_BEGIN);
		ck_assert(!sure || (step->well && step->cause == C_YOUNG && step->p > 0.79));
		brewery_close(&b);
	}
	brewery_open(&b, "");
}
END_TEST

/* What is wrong beside a false alarm is not talked away by it: it clears what it gives, and nothing else. */
START_TEST(a_false_alarm_clears_its_own_faults)
{
	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.9")));
	course("b");
	brewery_ready(&b);
	struct ab_suspect young = { .cause = C_YOUNG, .blame = 0.8 };
	int given = b.k->causes[C_YOUNG].links[0].fault, other = given == 0 ? 1 : 0;
	b.cases[0]->fault_load[given] = b.cases[0]->fault_intensity[given] = 2;
	b.cases[0]->fault_load[other] = b.cases[0]->fault_intensity[other] = 3;
	b.cases[0]->diagnosis->suspects = &young;
	b.cases[0]->diagnosis->n_suspects = 1;
	b.cases[0]->diagnosis->verdict_benign = true;
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_int_eq(advice->steps[advice->n_steps - 1].kind, AB_NEXT_BEGIN);
	b.cases[0]->fault_load[other] = b.cases[0]->fault_intensity[other] = 0;
	advice = brewery_advise(&b);
	ck_assert_int_eq(advice->steps[advice->n_steps - 1].kind, AB_NEXT_SAME);
}
END_TEST

/* Whoever wants time back is told what saves some, however good the beer is. */
START_TEST(a_good_beer_wants_time_all_the_same)
{
	for (const char *batch = ".-"; *batch != '\0'; batch++) {   /* a beer without a flaw; one that nobody tasted */
		char course_of[] = { *batch, '\0' };

		brewery_open(&b, CHANGE("x", "habit", "cold", "stage='ferment' cost='0' minutes='-30'", WARM));
		course(course_of);
		brewery_ready(&b);
		b.profile->goal = AB_GOAL_TIME;
		const struct ab_advice *advice = brewery_advise(&b);
		ck_assert_int_eq(advice->steps[advice->n_steps - 1].kind, AB_NEXT_BEGIN);
		brewery_close(&b);
	}
	brewery_open(&b, "");
}
END_TEST

/* What was tasted heads the reason; what is only feared is said to be. */
static const struct { const char *batches, *reason; } heads[] = {
	{ "bbb", "What costs you most, over your batches, is: Too warm (it would strike about " },
	{ "ppp", "What you tasted is laid most to: Gone stale (it would strike about " },
	{ "ppp", "Feared more, and never tasted: Too warm (" },
	{ "...", "Feared most, and never tasted: Too warm (it would strike about " },
	{ "b|..", "What you tasted before is gone from your newest beers. Feared most, though what you tasted "
	    "of it is gone: Too warm (" },
};

START_TEST(heads_with_what_was_tasted)
{
	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.25")) HABIT("z", PREVENTS("warm", "0.02")));
	course(heads[_i].batches);
	brewery_ready(&b);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_msg(strstr(advice->reason, heads[_i].reason) != NULL, "%s: %s", heads[_i].batches, advice->reason);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("advice_tasted");
	TCase *tc = tcase_create("advice_tasted");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, tasted_leads_at_equal_worth, 0, sizeof ties / sizeof *ties);
	tcase_add_test(tc, because_it_was_tasted);
	tcase_add_loop_test(tc, gone_and_well, 0, (int)(sizeof courses / sizeof *courses));
	tcase_add_loop_test(tc, carried_on, 0, (int)(sizeof carried / sizeof *carried));
	tcase_add_loop_test(tc, pressed_is_not_well, 0, (int)(sizeof warned / sizeof *warned));
	tcase_add_test(tc, what_is_gone_does_not_lead);
	tcase_add_loop_test(tc, tasted_comes_first, 0, (int)(sizeof firsts / sizeof *firsts));
	tcase_add_test(tc, a_false_alarm_is_no_flaw);
	tcase_add_test(tc, a_false_alarm_clears_its_own_faults);
	tcase_add_test(tc, a_good_beer_wants_time_all_the_same);
	tcase_add_loop_test(tc, heads_with_what_was_tasted, 0, (int)(sizeof heads / sizeof *heads));
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
