/* check_lint.c - what the lint finds, word for word
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"
#include "tiny.h"

enum { MOST = 16 };
static struct ab_arena *arena;
static struct ab_lint found[MOST];
static size_t n_found;
static struct ab_diag diag;

static void set_up(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void tear_down(void)
{
	ab_arena_free(arena);
	tiny_clean();
}

static enum ab_status lint(const char *folder, size_t max)
{
	return ab_knowledge_lint(&folder, 1, &tiny_facts, &tiny_vocabulary, arena, found, max, &n_found, &diag);
}

#define FAULT(inside) "<fault id='pear' severity='1' source='e'><title>Pear</title><word>pears</word>" inside "</fault>"
#define LEAK "<leak noticeable='0.02' strong='0.01' source='e'/>"
#define GIVES "<gives fault='butter' noticeable='0.5' strong='0.1' source='e'/>"
#define CAUSE(inside) "<cause id='x' side='cold' stage='pitch' kind='benign'><title>X</title>" \
	"<why>so</why>" inside "</cause>"
#define PRIOR "<prior p='0.1' source='e'/>"
#define SIGN(attrs, inside) CAUSE(PRIOR "<sign " attrs " source='e'>" inside "</sign>" GIVES)
#define CHANGE(inside) "<change id='x' kind='habit' side='cold' stage='pitch' source='e'>" \
	"<title>X</title>" inside "</change>"
#define FRESH(inside) "<family id='odd' replace='yes'><title>x</title>" \
	"<carbonation low='1 vol' high='2 vol' source='e'/><" inside "/></family>"
#define PREVENTS "<prevents cause='warm' share='0.1' source='e'/>"

/* Each adds one thing that is wrong to rules in which nothing is. */
static const struct { const char *title, *more, *says; bool error; } rows[] = {
	{ "dangling fault", CAUSE(PRIOR "<gives fault='buter' noticeable='0.5' strong='0.1' source='e'/>"),
	  "there is no fault \"buter\"; did you mean \"butter\"?", true },
	{ "dangling fact", SIGN("fact='t.ovr' unit='K'", "<at x='0' ratio='1'/><at x='1' ratio='2'/>"),
	  "there is no fact \"t.ovr\"; did you mean \"t.over\"?", true },
	{ "dangling confusion", FAULT(LEAK "<confused with='plum' share='0.1' source='e'/>"),
	    "there is no fault \"plum\"", true },
	{ "wrong unit", SIGN("fact='t.over' unit='C'", "<at x='0' ratio='1'/><at x='1' ratio='2'/>"),
	  "the unit of fact \"t.over\" is \"K\", not \"C\"; its points are read in that unit", true },
	{ "no unit", SIGN("fact='t.over'", "<at x='0' ratio='1'/><at x='1' ratio='2'/>"),
	  "the unit of fact \"t.over\" is \"K\", not \"\"; its points are read in that unit", true },
	{ "unit of a word", SIGN("fact='t.control' unit='K'", "<is word='none' ratio='2'/>"),
	  "fact \"t.control\" has no unit; leave unit=\"K\" out", true },
	{ "curve out of order", SIGN("fact='t.over' unit='K'", "<at x='1' ratio='1'/><at x='0' ratio='2'/>"),
	  "the curve is out of order: x must rise from point to point", true },
	{ "curve out of range", SIGN("fact='t.over' unit='K'", "<at x='1' ratio='1'/><at x='51' ratio='2'/>"),
	  "x is out of range; fact \"t.over\" goes from -40 to 50 K", true },
	{ "one point", SIGN("fact='t.over' unit='K'", "<at x='1' ratio='1'/>"),
	  "fact \"t.over\" is a number: its sign needs 2 to 10 <at x= ratio=/> and no <is/>", true },
	{ "words for a number", SIGN("fact='t.over' unit='K'", "<is word='none' ratio='1'/>"),
	  "fact \"t.over\" is a number: its sign needs 2 to 10 <at x= ratio=/> and no <is/>", true },
	{ "points for a word", SIGN("fact='t.control'", "<at x='1' ratio='1'/>"),
	  "fact \"t.control\" is no number: its sign needs <is word= ratio=/> and no <at/>", true },
	{ "no such word", SIGN("fact='t.control'", "<is word='cellar' ratio='2'/>"),
	  "word \"cellar\" is no word of fact \"t.control\"; allowed: none, room, fridge", true },
	{ "word of a sign twice", SIGN("fact='t.odd'", "<is word='yes' ratio='2'/><is word='yes' ratio='3'/>"),
	  "the word \"yes\" stands a second time in this sign", true },
	{ "no source", CAUSE("<prior p='0.1' source=''/>" GIVES),
	  "a number needs a source: say where it is from, or source=\"estimate\"", true },
	{ "prior 1", CAUSE("<prior p='1' source='e'/>" GIVES),
	  "a prior must be above 0 and below 1; what cannot be is said by a <gate>", true },
	{ "first prior bound", CAUSE("<prior p='0.1' source='e'><when fact='t.odd' is='yes'/></prior>" GIVES),
	  "the first <prior> must have no <when>: it is used when no other holds", true },
	{ "second prior free", CAUSE(PRIOR PRIOR GIVES),
	  "only the first <prior> may have no <when>: the last that holds is used, so this one hides those "
	  "before it", true },
	{ "gives nothing", CAUSE(PRIOR), "cause \"x\" gives no fault; it needs a <gives/>, or expects=\"yes\"", true },
	{ "gives twice", CAUSE(PRIOR GIVES GIVES),
	  "cause \"x\" gives fault \"butter\" a second time without a <when>; the last that holds is used, so "
	  "this one hides the first", true },
	{ "strength rises", CAUSE(PRIOR "<gives fault='butter' noticeable='0.1' strong='0.5' source='e'/>"),
	  "strengths must not rise: noticeable is the chance of any grade, so moderate and then strong are at "
	  "most as much", true },
	{ "a when asks nothing",
	    CAUSE("<prior p='0.1' source='e'/><prior p='0.2' source='e'><when fact='t.odd'/></prior>" GIVES),
	  "<when> asks nothing of fact \"t.odd\"; it needs is=, not=, unless=, over=, under= or known=", true },
	{ "over a word", CAUSE(PRIOR "<gate says='no'><when fact='t.odd' over='1'/></gate>" GIVES),
	  "fact \"t.odd\" is no number: ask is= or not=, not over=", true },
	{ "is a number", CAUSE(PRIOR "<gate says='no'><when fact='t.over' is='1'/></gate>" GIVES),
	  "fact \"t.over\" is a number: ask over= or under=, not is=", true },
	{ "condition in another unit", CAUSE(PRIOR "<gate says='no'><when fact='t.over' over='1 F'/></gate>" GIVES),
	  "over \"1 F\" has the wrong unit; fact \"t.over\" is in K", true },
	{ "no leak", FAULT(""), "the first <leak> of fault \"pear\" must be there and have no <when>: every "
	    "fault comes now and then without a "
	  "cause known here", true },
	{ "leak 0", FAULT("<leak noticeable='0.1' strong='0' source='e'/>"),
	  "a leak must be above 0 and below 1, else a fault found would be impossible or sure", true },
	{ "fault nobody gives", FAULT(LEAK),
	    "no cause gives fault \"pear\"; a fault that nothing brings cannot be diagnosed", true },
	{ "sets two ways", CHANGE("<sets fact='t.over' to='1' at-most='2' source='e'/>"),
	    "<sets> needs one of to=, at-most=, at-least=", true },
	{ "sets out of range", CHANGE("<sets fact='t.share' to='2' source='e'/>" PREVENTS),
	  "to \"2\" is out of range; fact \"t.share\" goes from 0 to 1 share", true },
	{ "a habit that costs",
	    "<change id='x' kind='habit' cost='3' side='cold' stage='pitch' source='e'><title>X</title>" PREVENTS
	  "</change>", "change \"x\" is a habit, and a habit is free: cost must be 0, or kind=\"upgrade\"", true },
	{ "no such space",
	    "<change id='x' kind='habit' space='barn' side='cold' stage='pitch' source='e'><title>X</title>" PREVENTS
	  "</change>", "space \"barn\" is not known; allowed: none, drawer, cupboard, floor", true },
	{ "needs itself", CHANGE(PREVENTS "<needs change='x'/>"), "change \"x\" needs itself", true },
	{ "needs what excludes it", CHANGE(PREVENTS "<needs change='cool'/><excludes change='cool'/>"),
	  "what change \"x\" needs can never be had together: \"x\" excludes \"cool\"", true },
	{ "base 0", "<check id='x' base='0' source='e'><title>x</title><how>y</how>"
	    "<yes cause='warm' p='1' source='e'/></check>",
	  "base of check \"x\" must be above 0 and below 1, else an answer could be impossible", true },
	{ "unknown family",
	    "<family id='oddd'><title>x</title><carbonation low='1 vol' high='2 vol' source='e'/></family>",
	  "family \"oddd\" is not known; allowed: plain, odd", true },
	{ "carbonation turned round", "<family id='odd' replace='yes'><title>x</title>"
	    "<carbonation low='3 vol' high='2 vol' source='e'/></family>",
	  "carbonation of family \"odd\": low must be below high", true },
	{ "freshness turned round", FRESH("freshness fading='9' stale='5' long-stale='20' source='e'"),
	  "freshness of family \"odd\" must rise: fading, stale, long-stale", true },
	{ "freshness without a reason", FRESH("freshness fading='3' stale='5' long-stale='20' source=''"),
	  "a number needs a source: say where it is from, or source=\"estimate\"", true },
	{ "no freshness", FRESH("hurts fault='apple' factor='2' source='e'"),
	  "family \"odd\" has no <freshness>: nothing will be said of how stale its beers are", false },
	{ "answered by no fact",
	    "<check id='x' base='0.1' answered-by='t.nothing' source='e'><title>x</title><how>y</how>"
	  "<yes cause='warm' p='1' source='e'/></check>", "there is no fact \"t.nothing\"", true },
	{ "about no fault", "<check id='x' base='0.1' about='apple haze' source='e'><title>x</title><how>y</how>"
	  "<yes cause='warm' p='1' source='e'/></check>", "there is no fault \"haze\"", true },
	{ "about nothing", "<check id='x' base='0.1' about=' ' source='e'><title>x</title><how>y</how>"
	  "<yes cause='warm' p='1' source='e'/></check>", "about=\"\" names no fault", true },
	{ "unknown agent", "<sanitiser agent='soap' contact='1 min' keeps='1 d' source='e'/>",
	  "agent \"soap\" is not known; allowed: none, acid", true },
	{ "a word of two faults", FAULT(LEAK "<word>Pop Corn</word><word>CIDERY</word>")
	    "<cause id='x' side='cold' stage='pitch' kind='benign'>"
	  "<title>X</title><why>so</why>" PRIOR
	  "<gives fault='pear' noticeable='0.5' strong='0.1' source='e'/></cause>",
	  "the word \"CIDERY\" means both fault \"apple\" and fault \"pear\"; it may mean one", true },
	{ "no words", "<fault id='pear' severity='1' source='e'><title>Pear</title>" LEAK "</fault>"
	  CAUSE(PRIOR "<gives fault='pear' noticeable='0.5' strong='0.1' source='e'/>"),
	  "fault \"pear\" has no <word>: tasters must use its id or title", false },
	{ "no change prevents it",
	    "<cause id='x' side='cold' stage='pitch'><title>X</title><why>so</why>" PRIOR GIVES "</cause>",
	  "no change prevents cause \"x\": advice can do nothing about it", false },
	{ "a change that does nothing", CHANGE(""), "change \"x\" prevents no cause, sets no fact, saves no "
	    "time and eases no chore: no plan will choose it, it can only be noted", false },
};

START_TEST(findings)
{
	const char *folder = tiny_folder(tiny_body, rows[_i].more);
	ck_assert_msg(lint(folder, MOST) == AB_OK, "%s: %s", rows[_i].title, diag.text);
	ck_assert_msg(n_found >= 1, "%s: nothing was found", rows[_i].title);
	for (size_t i = 1; i < n_found && rows[_i].error; i++)
		ck_assert_msg(!found[i].error, "%s: also: %s", rows[_i].title, found[i].text);
	ck_assert_str_eq(found[0].text, rows[_i].says);
	ck_assert_msg(found[0].error == rows[_i].error, "%s", rows[_i].title);
	ck_assert_msg(found[0].line > 0 && strncmp(found[0].file, folder, strlen(folder)) == 0, "%s: %s:%ld",
	    rows[_i].title, found[0].file, found[0].line);
}
END_TEST

/* What the lint calls an error is refused when read, and nothing else is. */
START_TEST(reading_agrees)
{
	const char *folder = tiny_folder(tiny_body, rows[_i].more);
	struct ab_knowledge *k;
	enum ab_status st = ab_knowledge_read(&folder, 1, &tiny_facts, &tiny_vocabulary, arena, &k, &diag);
	ck_assert_msg(st == (rows[_i].error ? AB_EINPUT : AB_OK), "%s: %s", rows[_i].title, diag.text);
	if (rows[_i].error)
		ck_assert_msg(strncmp(diag.text, rows[_i].says, strlen(rows[_i].says)) == 0, "%s: %s",
		    rows[_i].title, diag.text);
}
END_TEST

START_TEST(nothing_is_wrong)
{
	ck_assert_int_eq(lint(tiny_folder(tiny_body, ""), MOST), AB_OK);
	ck_assert_msg(n_found == 0, "%s", found[0].text);
}
END_TEST

/* Who wants time chooses what saves it. */
START_TEST(what_saves_time_is_of_use)
{
	ck_assert_int_eq(
	    lint(
		tiny_folder(tiny_body,
		    "<change id='x' kind='habit' side='cold' stage='pitch' minutes='-30' source='e'>"
		    "<title>X</title></change>"),
		MOST),
	    AB_OK);
	ck_assert_msg(n_found == 0, "%s", found[0].text);
}
END_TEST

/* What eases a chore does something, though no plan holds it. */
START_TEST(what_eases_is_of_use)
{
	ck_assert_int_eq(lint(tiny_folder(tiny_body, CHANGE("") "<chore id='c' source='e'><title>C</title>"
	    "<ease change='x' share='0.5' source='e'/></chore>"), MOST), AB_OK);
	ck_assert_msg(n_found == 0, "%s", found[0].text);
}
END_TEST

START_TEST(a_missing_family)
{
	ck_assert_int_eq(
	    lint(
		tiny_folder(
		    "<yeast id='y' title='y' low='17 C' high='20 C' tolerated-low='16 C' tolerated-high='22 C' "
		    "attenuation-low='70 %' attenuation-high='80 %' pitch-rate='1' rest='18 C' primary='7 d' "
		    "clean='1 d' lag='9 h' source='e'/>",
		    ""),
		MOST),
	    AB_OK);
	ck_assert_uint_eq(n_found, 2);
	ck_assert_str_eq(
	    found[0].text, "there is no <family id=\"plain\">; each family that a journal may name needs one");
}
END_TEST

START_TEST(each_file_is_read)
{
	const char *folder = tiny_folder("<fault/>", "");
	tiny_file(folder, "more.xml", "<rules/>");
	ck_assert_int_eq(lint(folder, MOST), AB_OK);
	ck_assert_uint_eq(n_found, 2);
	ck_assert_ptr_nonnull(strstr(found[0].text, "no namespace"));
	ck_assert_ptr_nonnull(strstr(found[1].text, "<fault> has no id"));
	ck_assert_int_eq(found[1].line, 2);
}
END_TEST

START_TEST(more_than_fit)
{
	const char *folder = tiny_folder(tiny_body, CAUSE(PRIOR PRIOR PRIOR PRIOR GIVES));
	ck_assert_int_eq(lint(folder, 1), AB_OK);
	ck_assert_uint_eq(n_found, 3);
	ck_assert_int_eq(lint(folder, 0), AB_OK);
	ck_assert_uint_eq(n_found, 3);
}
END_TEST

START_TEST(out_of_memory)
{
	const char *folder = tiny_folder(tiny_body, CAUSE(PRIOR PRIOR GIVES));
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 5000; at++) {
		struct ab_arena *own = ab_arena_new();
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_knowledge_lint(&folder, 1, &tiny_facts, &tiny_vocabulary, own, found, MOST, &n_found, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "%s", diag.text);
		ab_arena_free(own);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("lint");
	TCase *tc = tcase_create("lint");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, findings, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(tc, reading_agrees, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, nothing_is_wrong);
	tcase_add_test(tc, what_saves_time_is_of_use);
	tcase_add_test(tc, what_eases_is_of_use);
	tcase_add_test(tc, a_missing_family);
	tcase_add_test(tc, each_file_is_read);
	tcase_add_test(tc, more_than_fit);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
