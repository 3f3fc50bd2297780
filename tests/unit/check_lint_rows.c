/* check_lint_rows.c - the lint's rarer findings, and what is just not wrong
 *
 * The common findings are in check_lint.c. Each row adds one thing that is wrong to rules in which nothing is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

static void lint(const char *more)
{
	const char *folder = tiny_folder(tiny_body, more);
	ck_assert_msg(ab_knowledge_lint(
			  &folder, 1, &tiny_facts, &tiny_vocabulary, arena, found, MOST, &n_found, &diag) == AB_OK,
	    "%s", diag.text);
}

#define LEAK "<leak noticeable='0.02' strong='0.01' source='e'/>"
#define PEAR(inside) "<fault id='pear' severity='1' source='e'><title>Pear</title><word>pears</word>" inside \
	"</fault>" GIVES_PEAR
#define GIVES_PEAR "<cause id='p' side='cold' stage='pitch' kind='benign'><title>P</title><why>so</why>" \
	"<prior p='0.1' source='e'/>" \
	"<gives fault='pear' noticeable='0.5' strong='0.1' source='e'/></cause>"
#define GIVES "<gives fault='butter' noticeable='0.5' strong='0.1' source='e'/>"
#define PRIOR "<prior p='0.1' source='e'/>"
#define CAUSE(inside) "<cause id='x' side='cold' stage='pitch' kind='benign'><title>X</title>" \
	"<why>so</why>" inside "</cause>"
#define SIGN(attrs, inside) CAUSE(PRIOR "<sign " attrs " source='e'>" inside "</sign>" GIVES)
#define CHANGE(inside) "<change id='x' kind='habit' side='cold' stage='pitch' source='e'>" \
	"<title>X</title>" inside "</change>"
#define CONTRARY(says, whens) "<contrary id='x' source='e'>" says whens "</contrary>"
#define MALT(kind, words) "<malt id='x' kind='" kind "' source='e'>" words "</malt>"
#define BOX(fact, inside) "<box id='x' fact='" fact "' day='pitch' source='e'>" inside "</box>"
#define NO_NAME(name) "an aim knows no \"{" name "}\"; it may name yeast.low, yeast.high, yeast.rest, " \
	"yeast.days, yeast.lag, co2.low, co2.high, " \
	"co2, og, fg, fg.low, fg.high, volume"
#define PREVENTS "<prevents cause='warm' share='0.1' source='e'/>"
#define CHECK(inside) "<check id='x' minutes='1' cost='0' base='0.1' source='e'>" inside "</check>"
#define ASKED "<title>Is it?</title><how>look</how>"
#define YEAST(temps, attenuation) "<yeast id='y' title='y' " temps " " attenuation \
	" pitch-rate='1' rest='18 C' primary='7 d' clean='2 d'" \
	" lag='20 h' source='e'/>"
#define TEMPS "low='17 C' high='20 C' tolerated-low='15 C' tolerated-high='22 C'"
#define ATTENUATES "attenuation-low='70 %' attenuation-high='80 %'"
#define FAMILY(inside) "<family id='odd' replace='yes'><title>odd</title>" inside \
	"<carbonation low='2 vol' high='3 vol' source='e'/></family>"

#define COOLER "<change id='cooler' kind='habit' side='cold' stage='pitch' source='e'><title>Cooler</title>" \
	PREVENTS "</change>"
#define EASE "<ease change='cooler' share='0.5' source='e'/>"

#define SPARED(attrs) "<change id='s' kind='upgrade' side='cold' stage='pitch' cost='10' source='e'><title>S</title>" \
	PREVENTS "<spares thing='x' " attrs " source='e'/></change>"
#define AN_X "<thing id='x'><title>an X</title></thing>"

static const struct { const char *title, *more, *says; bool error; } rows[] = {
	{ "other words of care, always", CAUSE("<caution>hot</caution><caution-when says='cold'/>" PRIOR GIVES),
	    "<caution-when> of \"x\" needs a <when>, and a <caution> beside it", true },
	{ "other words of what to do, always", CAUSE("<next>cool</next><next-when says='chill'/>" PRIOR GIVES),
	    "<next-when> of \"x\" needs a <when>, and a <next> beside it", true },
	{ "other words of care, and none",
	    PEAR(LEAK "<caution-when says='cold'><when fact='t.over' over='1'/></caution-when>"),
	  "<caution-when> of \"pear\" needs a <when>, and a <caution> beside it", true },
	{ "other words of care of a change, always",
	    "<change id='cooler' kind='habit' side='cold' stage='pitch' source='e'><title>Cooler</title>"
	    "<caution>hot</caution>"
	  "<caution-when says='cold'/>" PREVENTS "</change>",
	  "<caution-when> of \"cooler\" needs a <when>, and a <caution> beside it", true },
	{ "a cause without a name", "<cause id='x' side='cold' stage='pitch' kind='benign'><title> </title>"
	    "<why>so</why>" PRIOR GIVES "</cause>",
	  "<title> of cause \"x\" is empty", true },
	{ "a fault without a name",
	    "<fault id='pear' severity='1' source='e'><title/><word>pears</word>" LEAK "</fault>" GIVES_PEAR,
	  "<title> of fault \"pear\" is empty", true },
	{ "a box of a fact there is not", BOX("t.ower", "<title>Over</title>"),
	    "there is no fact \"t.ower\"; did you mean \"t.over\"?", true },
	{ "a box without a question", BOX("t.odd", ""), "box \"x\" needs a <title>: its fact has no question", true },
	{ "an aim that cannot be told", BOX("t.over", "<title>Over</title><aim says='{yeast.lower} C'/>"),
	    NO_NAME("yeast.lower"), true },
	{ "an aim with an open brace", BOX("t.over", "<title>Over</title><aim says='{og'/>"), NO_NAME("og"), true },
	{ "a malt of no kind there is", MALT("red", "<word>red malt</word>"),
	    "kind \"red\" is not known; allowed: pale, dark, other", true },
	{ "a malt without a source", "<malt id='x' kind='pale' source=''><word>base malt</word></malt>",
	  "a number needs a source: say where it is from, or source=\"estimate\"", true },
	{ "a malt with an empty word", MALT("pale", "<word> </word>"), "<word/> is empty", true },
	{ "a word of two malts",
	    MALT("pale", "<word>base malt</word>") "<malt id='y' kind='dark' source='e'><word>Base-Malt</word></malt>",
	  "the word \"Base-Malt\" of malt \"y\" is one of malt \"x\" already", true },
	{ "a word twice in one malt", MALT("pale", "<word>base</word><word>base</word>"),
	    "the word \"base\" of malt \"x\" is one of malt \"x\" already", true },
	{ "a malt called as a kind", MALT("other", "<word>Dark</word>"),
	    "the word \"Dark\" of malt \"x\" is a kind of malt itself, and known without this", true },
	{ "contrary to nothing", CONTRARY("<says>Well.</says>", "<when fact='t.over' over='1' under='2'/>"),
	  "contrary \"x\" needs a <when> for each of at least two facts: one statement alone contradicts "
	  "nothing", true },
	{ "contrary without words",
	    CONTRARY("<says> </says>", "<when fact='t.over' over='1'/><when fact='t.control' is='room'/>"),
	  "<says> of contrary \"x\" is empty", true },
	{ "contrary of a fact there is not",
	    CONTRARY("<says>Well.</says>", "<when fact='t.ower' over='1'/><when fact='t.control' is='room'/>"),
	  "there is no fact \"t.ower\"; did you mean \"t.over\"?", true },
	{ "a chore without a name", COOLER "<chore id='x' source='e'><title/>" EASE "</chore>",
	    "<title> of chore \"x\" is empty", true },
	{ "a chore with an empty word",
	    COOLER "<chore id='x' source='e'><title>X</title><word> </word>" EASE "</chore>", "<word/> is empty",
	true },
	{ "a chore eased by nothing", "<chore id='x' source='e'><title>X</title></chore>",
	    "<chore> has no <ease>; it needs one", true },
	{ "a chore eased by what is no change",
	    "<chore id='x' source='e'><title>X</title><ease change='colder' share='1' source='e'/></chore>",
	  "there is no change \"colder\"", true },
	{ "a chore eased twice", COOLER "<chore id='x' source='e'><title>X</title>" EASE EASE "</chore>",
	    "chore \"x\" is eased by \"cooler\" twice", true },
	{ "one word for two chores", COOLER "<chore id='x' source='e'><title>X</title><word>slow</word>" EASE "</chore>"
	  "<chore id='y' source='e'><title>Y</title><word>Slow</word>" EASE "</chore>",
	  "the word \"Slow\" of chore \"y\" names another chore already", true },
	{ "one word for two chores, with a hyphen",
	    COOLER "<chore id='x' source='e'><title>X</title><word>slow boil</word>" EASE "</chore>"
	  "<chore id='y' source='e'><title>Y</title><word>slow-boil</word>" EASE "</chore>",
	  "the word \"slow-boil\" of chore \"y\" names another chore already", true },
	{ "one word for two changes, with another ending",
	    COOLER "<change id='x' kind='habit' side='cold' stage='pitch' source='e'><title>X</title>"
	  "<word>splashing less</word></change><change id='y' kind='habit' side='cold' stage='pitch' source='e'>"
	  "<title>Y</title><word>less splash</word></change>",
	  "the word \"less splash\" of change \"y\" names another change already", true },
	{ "a word that is the name of another change",
	    COOLER
	  "<change id='x' kind='habit' side='cold' stage='pitch' source='e'><title>Splash less</title></change>"
	  "<change id='y' kind='habit' side='cold' stage='pitch' source='e'><title>Y</title><word>Splash-less</word>"
	  "</change>", "the word \"Splash-less\" of change \"y\" names another change already", true },
	{ "a change with an empty word", COOLER "<change id='x' kind='habit' side='cold' stage='pitch' source='e'>"
	  "<title>X</title><word> </word></change>", "<word/> is empty", true },
	{ "a thing without a name", "<thing id='x'><title/></thing>", "<title> of thing \"x\" is empty", true },
	{ "a thing that serves nothing", "<thing id='x'><title>an X</title></thing>",
	    "thing \"x\" spares no change anything: who has it gains nothing", false },
	{ "a thing with an empty word", "<thing id='x'><title>an X</title><word> </word></thing>", "<word/> is empty",
	    true },
	{ "a word of two things, one with an article",
	    "<thing id='x'><title>an X</title><word>box</word></thing>"
	    "<thing id='y'><title>a Y</title><word>the Box</word></thing>",
	    "the word \"the Box\" of thing \"y\" names another thing already", true },
	{ "a thing from what is no change", "<thing id='x'><title>an X</title><from change='colder'/></thing>",
	    "there is no change \"colder\"", true },
	{ "spared by what is no thing", SPARED("cost='1'"), "there is no thing \"x\"", true },
	{ "more spared than it costs", SPARED("cost='11'") AN_X,
	    "thing \"x\" spares more than change \"s\" costs", true },
	{ "more running cost spared than there is", SPARED("running='1'") AN_X,
	    "thing \"x\" spares more than change \"s\" costs", true },
	{ "nothing spared", SPARED("") AN_X, "<spares> needs one of cost=, running=, room=\"yes\"", true },
	{ "spared twice", SPARED("cost='1' source='e'/><spares thing='x' cost='2'") AN_X,
	    "thing \"x\" stands a second time in change \"s\"", true },
	{ "spared without a source", "<change id='s' kind='upgrade' side='cold' stage='pitch' cost='10' source='e'>"
	    "<title>S</title>" PREVENTS "<spares thing='x' cost='1' source=''/></change>" AN_X,
	    "a number needs a source: say where it is from, or source=\"estimate\"", true },
	{ "a need met by what is no thing",
	    COOLER "<change id='s' kind='upgrade' side='cold' stage='pitch' cost='10' source='e'>"
	    "<title>S</title>" PREVENTS
	    "<needs change='cooler' or-thing='y'/></change>" AN_X, "there is no thing \"y\"", true },
	{ "a change without a name",
	    "<change id='x' kind='habit' side='cold' stage='pitch' source='e'><title/>" PREVENTS "</change>",
	  "<title> of change \"x\" is empty", true },
	{ "an empty word", PEAR(LEAK "<word/>"), "<word/> is empty", true },
	{ "confused with itself", PEAR(LEAK "<confused with='pear' share='0.1' source='e'/>"),
	    "fault \"pear\" cannot be confused with itself", true },
	{ "a link of nothing", CAUSE(PRIOR "<gives fault='butter' noticeable='0' strong='0' source='e'/>"),
	  "a link of strength 0 is no link; leave <gives> out", true },
	{ "a cause that does not say why",
	    "<cause id='x' side='cold' stage='pitch' kind='benign'><title>X</title>" PRIOR GIVES "</cause>",
	  "cause \"x\" does not say <why>", false },
	{ "is= without a word", CAUSE(PRIOR "<gate says='no'><when fact='t.control' is=''/></gate>" GIVES),
	    "is=\"\" names no word", true },
	{ "not= with a word there is not",
	    CAUSE(PRIOR "<gate says='no'><when fact='t.control' not='cellar'/></gate>" GIVES),
	  "not \"cellar\" is no word of fact \"t.control\"; allowed: none, room, fridge", true },
	{ "over= with a word", CAUSE(PRIOR "<gate says='no'><when fact='t.over' over='warm'/></gate>" GIVES),
	  "over \"warm\" is no number; fact \"t.over\" is a number in K", true },
	{ "under= beyond the fact", CAUSE(PRIOR "<gate says='no'><when fact='t.over' under='-41'/></gate>" GIVES),
	  "under \"-41\" is out of range; fact \"t.over\" goes from -40 to 50 K", true },
	{ "under= of a flag", CAUSE(PRIOR "<gate says='no'><when fact='t.odd' under='1'/></gate>" GIVES),
	  "fact \"t.odd\" is no number: ask is= or not=, not under=", true },
	{ "not= of a number", CAUSE(PRIOR "<gate says='no'><when fact='t.over' not='1'/></gate>" GIVES),
	  "fact \"t.over\" is a number: ask over= or under=, not not=", true },
	{ "a when of no fact", CAUSE(PRIOR "<gate says='no'><when fact='t.shar' over='0.1'/></gate>" GIVES),
	  "there is no fact \"t.shar\"; did you mean \"t.share\"?", true },
	{ "eleven points",
	    SIGN("fact='t.over' unit='K'",
	    "<at x='0' ratio='1'/><at x='1' ratio='1'/><at x='2' ratio='1'/><at x='3' ratio='1'/>"
	  "<at x='4' ratio='1'/><at x='5' ratio='1'/><at x='6' ratio='1'/><at x='7' ratio='1'/>"
	  "<at x='8' ratio='1'/><at x='9' ratio='1'/>"
	  "<at x='10' ratio='1'/>"), "fact \"t.over\" is a number: its sign needs 2 to 10 <at x= ratio=/>"
	  " and no <is/>", true },
	{ "two points at one place", SIGN("fact='t.over' unit='K'", "<at x='1' ratio='1'/><at x='1' ratio='2'/>"),
	  "the curve is out of order: x must rise from point to point", true },
	{ "a flag's word", SIGN("fact='t.odd'", "<is word='maybe' ratio='2'/>"),
	    "word \"maybe\" is no word of fact \"t.odd\"; allowed: no, yes", true },
	{ "a word bounded", CHANGE("<sets fact='t.control' at-most='room' source='e'/>" PREVENTS),
	  "fact \"t.control\" is no number: set it with to=", true },
	{ "sets no fact", CHANGE("<sets fact='t.contro' to='room' source='e'/>" PREVENTS),
	    "there is no fact \"t.contro\"; did you mean \"t.control\"?", true },
	{ "sets without a source", CHANGE("<sets fact='t.over' to='1' source=''/>" PREVENTS),
	  "a number needs a source: say where it is from, or source=\"estimate\"", true },
	{ "prevents nothing there is", CHANGE("<prevents cause='worm' share='0.1' source='e'/>"),
	    "there is no cause \"worm\"; did you mean \"warm\"?", true },
	{ "needs nothing there is", CHANGE(PREVENTS "<needs change='cold-room'/>"),
	    "there is no change \"cold-room\"", true },
	{ "excludes nothing there is", CHANGE(PREVENTS "<excludes change='fridg'/>"),
	    "there is no change \"fridg\"; did you mean \"fridge\"?", true },
	{ "not after a fault there is not", CHANGE(PREVENTS "<not-after fault='aple' source='e'/>"),
	    "there is no fault \"aple\"; did you mean \"apple\"?", true },
	{ "not after it, and nobody says why", CHANGE(PREVENTS "<not-after fault='apple' source=''/>"),
	  "a number needs a source: say where it is from, or source=\"estimate\"", true },
	{ "a check that asks nothing", CHECK("<title/><how>look</how><yes cause='warm' p='0.5' source='e'/>"),
	  "check \"x\" needs a <title> and a <how>, neither empty", true },
	{ "a check that says not how", CHECK("<title>Is it?</title><how> </how><yes cause='warm' p='0.5' source='e'/>"),
	  "check \"x\" needs a <title> and a <how>, neither empty", true },
	{ "a cause twice in a check",
	    CHECK(ASKED "<yes cause='warm' p='0.5' source='e'/><yes cause='warm' p='0.6' source='e'/>"),
	  "cause \"warm\" stands a second time in check \"x\"", true },
	{ "a check of no cause", CHECK(ASKED "<yes cause='wram' p='0.5' source='e'/>"),
	    "there is no cause \"wram\"", true },
	{ "base 1", "<check id='x' base='1' source='e'>" ASKED "<yes cause='warm' p='0.5' source='e'/></check>",
	  "base of check \"x\" must be above 0 and below 1, else an answer could be impossible", true },
	{ "a yeast too cold for itself",
	    YEAST("low='14 C' high='20 C' tolerated-low='15 C' tolerated-high='22 C'", ATTENUATES),
	  "temperatures of yeast \"y\" must rise: tolerated-low, low, high, tolerated-high", true },
	{ "a yeast of one degree",
	    YEAST("low='20 C' high='20 C' tolerated-low='15 C' tolerated-high='22 C'", ATTENUATES),
	  "temperatures of yeast \"y\" must rise: tolerated-low, low, high, tolerated-high", true },
	{ "a yeast too warm for itself",
	    YEAST("low='17 C' high='23 C' tolerated-low='15 C' tolerated-high='22 C'", ATTENUATES),
	  "temperatures of yeast \"y\" must rise: tolerated-low, low, high, tolerated-high", true },
	{ "a number nobody reckons with", "<number id='gravity-stil' is='3 d' source='e'/>",
	    "number \"gravity-stil\" is not known; allowed: gravity-still, "
	  "slow-yeast-still, hangs-over, hung-still, first-packaged, tasted-packaged, moved-to-stay, "
	  "too-warm-over, young-waits, bottles-about, "
	  "tasted-together, missed-judged, missed-unsaid, missed-plain, pilsner-share, pilsner-share-u, "
	  "roasted-share, roasted-share-u, smoked-share, smoked-share-u, sugar-share, sugar-share-u, "
	  "extract-share, extract-share-u, beside-steeped-share, beside-steeped-share-u, kit-weight, "
	  "kit-weight-u, gone-anyway, "
	  "done-right", true },
	{ "a number without its unit", "<number id='gravity-still' is='3' source='e'/>",
	  "is of number \"gravity-still\": \"3\" has no unit; write a length of time such as \"3d 4h\" (units: "
	  "s, min, h, d, wk, mo, y)", true },
	{ "still for less than two days", "<number id='gravity-still' is='47 h' source='e'/>",
	  "is=\"47 h\" is out of range; number \"gravity-still\" goes from 2 to 30 d", true },
	{ "hanging at six points", "<number id='hangs-over' is='6' source='e'/>",
	    "is=\"6\" is out of range; number \"hangs-over\" goes from 1 to 5 points", true },
	{ "all of it missed", "<number id='missed-judged' is='1' source='e'/>",
	    "is=\"1\" is out of range; number \"missed-judged\" goes from 0.01 to 0.99 ", true },
	{ "a number from nowhere", "<number id='hangs-over' is='3' source=''/>",
	  "a number needs a source: say where it is from, or source=\"estimate\"", true },
	{ "two yeasts that stand in", YEAST(TEMPS, ATTENUATES " stands-in='yes'"),
	  "yeast \"y\" has stands-in=\"yes\", as yeast \"ale\" has: only one may stand in", true },
	{ "no yeast that stands in", "<yeast id='ale' replace='yes' title='ale' " TEMPS " " ATTENUATES
	    " pitch-rate='1' rest='18 C' primary='7 d' clean='2 d'"
	  " lag='20 h' source='e'/>"
	  "", "no yeast has stands-in=\"yes\": bottles of a yeast whose class nobody told are judged by none, "
	  "and not warned of", false },
	{ "attenuation turned round", YEAST(TEMPS, "attenuation-low='80 %' attenuation-high='70 %'"),
	  "attenuation-low of yeast \"y\" must be below attenuation-high", true },
	{ "a trait twice", FAMILY("<expects fault='apple' up-to='slight' source='e'/>"
	    "<expects fault='apple' up-to='strong' source='e'/>"),
	  "fault \"apple\" stands a second time in family \"odd\"", true },
	{ "hurt twice",
	    FAMILY("<hurts fault='apple' factor='2' source='e'/><hurts fault='apple' factor='3' source='e'/>"),
	  "fault \"apple\" stands a second time in family \"odd\"", true },
	{ "expects nothing there is", FAMILY("<expects fault='aple' up-to='slight' source='e'/>"),
	    "there is no fault \"aple\"; did you mean \"apple\"?", true },
	{ "neither a limit nor a word that there is none", "<bottle kind='longneck' source='e'/>",
	    "bottle \"longneck\" has no limit; where none is known, "
	  "tell-from says from which pressure on that is told", true },
	{ "an unknown bottle", "<bottle kind='jar' limit='3 vol' limit-pressure='3 bar' source='e'/>",
	    "kind \"jar\" is not known; allowed: longneck, heavy",
	  true },
	{ "leak 1", PEAR("<leak noticeable='1' strong='0.5' source='e'/>"),
	    "a leak must be above 0 and below 1, else a fault found would be impossible "
	  "or sure", true },
	{ "a leak only now and then",
	    PEAR("<leak noticeable='0.1' strong='0.05' source='e'><when fact='t.odd' is='yes'/></leak>"),
	  "the first <leak> of fault \"pear\" must be there and have no <when>: every fault comes now and then "
	  "without a cause known here", true },
	{ "moderate above noticeable",
	    CAUSE(PRIOR "<gives fault='butter' noticeable='0.3' moderate='0.4' strong='0.1' source='e'/>"),
	  "strengths must not rise: noticeable is the chance of any grade, so moderate and then strong are at "
	  "most as much", true },
	{ "strong above moderate",
	    CAUSE(PRIOR "<gives fault='butter' noticeable='0.3' moderate='0.1' strong='0.2' source='e'/>"),
	  "strengths must not rise: noticeable is the chance of any grade, so moderate and then strong are at "
	  "most as much", true },
};

START_TEST(findings)
{
	bool seen = false;

	lint(rows[_i].more);
	for (size_t i = 0; i < n_found && i < MOST; i++) {
		bool same = strcmp(found[i].text, rows[_i].says) == 0;
		seen = seen || (same && found[i].error == rows[_i].error && found[i].line > 0);
		/* one slip, one error */
		ck_assert_msg(same || !found[i].error, "%s: also: %s", rows[_i].title, found[i].text);
	}
	ck_assert_msg(seen, "%s: not said: %s; but: %s", rows[_i].title, rows[_i].says,
	    n_found > 0 ? found[0].text : "nothing");
}
END_TEST

/* At the edge, nothing is wrong. */
static const struct { const char *title, *more; } right[] = {
	{ "ten points",
	    SIGN("fact='t.over' unit='K'",
	    "<at x='0' ratio='1'/><at x='1' ratio='1'/><at x='2' ratio='1'/><at x='3' ratio='1'/>"
	  "<at x='4' ratio='1'/><at x='5' ratio='1'/><at x='6' ratio='1'/><at x='7' ratio='1'/>"
	  "<at x='8' ratio='1'/><at x='9' ratio='1'/>") },
	{ "points at the ends of the fact",
	    SIGN("fact='t.over' unit='K'", "<at x='-40' ratio='1'/><at x='50' ratio='2'/>") },
	{ "even strengths",
	    CAUSE(PRIOR "<gives fault='butter' noticeable='0.3' moderate='0.3' strong='0.3' source='e'/>") },
	{ "a yeast that tolerates just its range",
	    YEAST("low='17 C' high='20 C' tolerated-low='17 C' tolerated-high='20 C'", ATTENUATES) },
	{ "another that does not stand in", YEAST(TEMPS, ATTENUATES " stands-in='no'") },
	{ "a unit in a condition", CAUSE(PRIOR "<gate says='no'><when fact='t.over' over='3 K'/></gate>" GIVES) },
	{ "two words", CAUSE(PRIOR "<gate says='no'><when fact='t.control' is='none, room'/></gate>" GIVES) },
	{ "both ends of a number",
	    CAUSE(PRIOR "<gate says='no'><when fact='t.over' over='1' under='3'/></gate>" GIVES) },
	{ "known", CAUSE(PRIOR "<gate says='no'><when fact='t.over' known='no'/></gate>" GIVES) },
	{ "excludes another", CHANGE(PREVENTS "<excludes change='cool'/>") },
	{ "not after a fault", CHANGE(PREVENTS "<not-after fault='apple' source='e'/>") },
	{ "another word list", SIGN("fact='t.control'", "<is word='fridge' ratio='2'/><is word='none' ratio='0.5'/>") },
};

START_TEST(at_the_edge)
{
	lint(right[_i].more);
	for (size_t i = 0; i < n_found && i < MOST; i++)
		ck_assert_msg(!found[i].error, "%s: %s", right[_i].title, found[i].text);
	tiny_rules(right[_i].more);
}
END_TEST

/* The version is the 64-bit FNV-1a of the bytes: its definition (Fowler, Noll and Vo), and its published value for
 * "foobar". */
static uint64_t fnv1a(const char *text)
{
	uint64_t sum = UINT64_C(14695981039346656037);
	for (; *text != '\0'; text++) {
		sum ^= (unsigned char)*text;
		sum *= UINT64_C(1099511628211);
	}
	return sum;
}

START_TEST(version)
{
	char *bytes = ab_arena_printf(arena, "%s%s%s%s", TINY_OPEN, tiny_body, right[_i].more, TINY_CLOSE);
	char hex[17];

	ck_assert(fnv1a("foobar") == UINT64_C(0x85944171f73967e8));
	snprintf(hex, sizeof hex, "%016llx", (unsigned long long)fnv1a(bytes));
	ck_assert_msg(strcmp(tiny_rules(right[_i].more)->version, hex) == 0, "%s: not %s", right[_i].title, hex);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("lint-rows");
	TCase *tc = tcase_create("rows");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, findings, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(tc, at_the_edge, 0, sizeof right / sizeof *right);
	tcase_add_loop_test(tc, version, 0, sizeof right / sizeof *right);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
