/* commands.c - the table of commands
 *
 * To add a command, 4 things to do:
 *   1. a row in commands[] here and its bit in enum FOR_... (commands.h), in the same order
 *   2. its function in a file cmd_NAME.c, declared at the end of cli.h, and named in Makefile.am
 *   3. its bit in the rows of options[] (optiontable.c) that it takes
 *   4. a test in tests/cli/NAME.t: help.t and man.t then hold the help and the manual to the table by
 *   themselves
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <assert.h>
#include <string.h>

/* Pairs of a command line and what it is good for; the manual, --help and a test all read them. */
static const char *const diagnose_examples[] = {
	"afterboil diagnose --fault buttery=3 --fault \"green apple\"",
	"no journal at hand: only what you taste", "afterboil diagnose journals/ --batch 2031-04",
	"one batch of a folder",
	"zcat all.xml.gz | afterboil diagnose --stream", "many journals in, one JSON object a line out",
	NULL };
static const char *const advise_examples[] = {
	"afterboil advise journals/ --budget 120", "what to do differently, or buy, with so much money",
	"afterboil advise journals/ --budget 0", "free habits only",
	"afterboil advise --profile profile.xml", "before the first batch", NULL };
static const char *const trend_examples[] = {
	"afterboil trend journals/", "read what is new, then show whether it is getting better",
	"afterboil trend --line \"house pale\"", "one beer, from the history alone", NULL };
static const char *const facts_examples[] = {
	"afterboil facts journals/2031-04.xml", "every fact with its working",
	"afterboil facts journals/ --last 1 --format json", "the newest batch, for another program", NULL };
static const char *const check_examples[] = {
	"afterboil check journals/", "before you rely on what the others say",
	"afterboil check profile.xml", "how your profile was understood", NULL };
static const char *const rules_examples[] = {
	"afterboil rules list causes", "all causes in one list",
	"afterboil rules explain buttery", "one fault, cause, change or check in full, with sources",
	"afterboil rules lint --rules my-rules/", "check a rules folder of your own", NULL };

static const char *const panel_examples[] = {
	"afterboil panel triangle", "how many tasters does it take?",
	"afterboil panel triangle 12", "a blind serving order for twelve, to print",
	"afterboil panel triangle 7/12", "seven of twelve found the odd cup: is there a difference?", NULL };
static const char *const report_examples[] = {
	"afterboil report journals/ -o report.html", "a page to look at, on paper or on a phone",
	"afterboil report journals/ --last 1 --budget 60 -o report.html",
	"the newest batch in full, and a plan for 60", NULL };
static const char *const interview_examples[] = {
	"afterboil interview", "one beer in mind and no journal yet",
	"afterboil interview --fault buttery=3 --family pale-lager", "what is known already is not asked",
	"afterboil interview journals/2031-04.xml", "what a journal does not say yet",
	"afterboil interview -o batch-7.xml < answers.txt", "answers from a file, one a line", NULL };

static const char *const log_examples[] = {
	"afterboil log 14 wort 19.5 C", "into the batch whose name ends with 14, now",
	"afterboil log last gravity 1.020 SG at 22 C --at 18:30", "the newest batch, this evening at half past six",
	"afterboil log 14 dry hop 60 g opened lid", "what, how much, and how the air got in",
	"afterboil log 14 malt 4.5 kg pale", "the recipe, without a line of XML",
	"afterboil log 14 --undo", "take the last entry back", NULL };
static const char *const taste_examples[] = {
	"afterboil taste 14 buttery 3, green apple 1, no sour",
	"faults with their intensity, and one looked for and not found",
	"afterboil taste last nothing", "a clean beer: also worth knowing",
	"afterboil taste last --undo", "take the last tasting back", NULL };
static const char *const changed_examples[] = {
	"afterboil changed \"tub of water\" --on 2031-03-01", "from the next batch on, and for all beers",
	"afterboil changed cap on foam --line house-pale", "since today, for one beer",
	"afterboil changed --plan", "what advise says to do next, begun today",
	"afterboil changed", "what was noted so far", NULL };
static const char *const new_examples[] = {
	"afterboil new \"House pale\"", "the next brew of that beer, as it was meant the last time",
	"afterboil new \"Shed stout\" --in journals/ --volume \"4 L\"", "a new beer, a small batch",
	"afterboil new \"Shed stout\" --family stout", "a new beer, and what kind it is",
	"afterboil new \"House pale\" --split 2", "one wort in two fermenters, to try one thing in one of them", NULL };
static const char *const sheet_examples[] = {
	"afterboil sheet House pale -o sheet.html", "for the next brew of that beer, to print",
	"afterboil sheet --format text", "for the newest batch, on the screen", NULL };
static const char *const enter_examples[] = {
	"afterboil enter 7", "the batch whose name ends with 7",
	"afterboil enter last < answers.txt", "answers from a file, one a line", NULL };
static const char *const init_examples[] = {
	"afterboil init journals/", "the first thing to do", "afterboil init < answers.txt",
	"answers from a file, one a line", NULL };
static const char *const compare_examples[] = {
	"afterboil compare house-pale-2 house-pale-3 journals/", "two brews, side by side", NULL };

static const char *const calendar_examples[] = {
	"afterboil calendar", "what the batches of this folder ask for, from today",
	"afterboil calendar --batch 14", "one of them",
	"afterboil calendar journals/ --line \"house pale\" --free \"sat, sun\"",
	"the next brew of that beer, on weekends",
	"afterboil calendar --yeast lager --drink-on 2031-06-01 --free sat", "for a feast, counted back",
	"afterboil calendar journals/ --format ics", "for the calendar on your phone", NULL };

static const char *const help_examples[] = {
	"afterboil help", "all commands", "afterboil help advise", "what one of them does, and its options", NULL };

/* To add a command: a row here, its bit in commands.h at the same place, cmd_NAME.c, and its examples.
 * Help, manual and completion follow by themselves. */
const struct command commands[] = {
	{ "diagnose", cmd_diagnose, "find out what most likely spoiled a batch", "[FILE|FOLDER|-]...",
	    "Reads journals, or just the faults you name with --fault, and ranks what in the process most "
	    "likely caused them: how sure that is, what speaks for and against it, what else it could be, what "
	    "to check next and what to do next time. Of several batches the newest that was tasted and had "
	    "faults is shown; --batch picks another, --all shows each.",
	    diagnose_examples },
	{ "advise", cmd_advise, "rank what to change or buy next for your money and time",
	    "[FILE|FOLDER|-]...", "Reads all your journals, files them in the history, and looks for the set "
	    "of changes that takes most flaws out of your next batches within the limits you give (or your "
	    "profile states). Free habits come first. Says what each budget would buy, and when nothing needs "
	    "to be bought. What came of the changes you noted (in a journal, or by \"changed\") is held against "
	    "what was expected of them, and moves what is expected from then on: all such figures are "
	    "estimates. How firm a change stands in the plan, and what the plan may fall short by, is found by "
	    "moving every estimate at random, each change by itself; what several do together is not moved. "
	    "With a profile alone (--profile) it goes by what is usual.",
	    advise_examples },
	{ "trend", cmd_trend, "show whether your beer is getting better, and which change did it",
	    "[FILE|FOLDER|-]...",
	    "Files the journals given in the history, then shows the flaw load batch after batch, compares "
	    "before and after each change, and looks for what the bad batches share. Without files, and where "
	    "no journal lies, it shows the history as it is. Reading the same journals twice changes nothing.",
	    trend_examples },
	{ "facts", cmd_facts, "show what a journal amounts to, with the working", "[FILE|FOLDER|-]...",
	    "Lists every fact that could be learned from a journal: its value, its uncertainty, where it came "
	    "from, how far its formula can be trusted, and how it was worked out. Below them what counts and is "
	    "no number (what was judged absent, checks, changes), and what is told but could not be reckoned, "
	    "with what is missing. With --all also what is unknown.",
	    facts_examples },
	{ "check", cmd_check, "read journals, profile and rules, and say what is odd", "[FILE|FOLDER|-]...",
	    "Reads everything, a profile too where one is named or lies there, and says OK for each part that "
	    "can be read, or what is wrong and where. Odd statements (likely slips of the pen) are listed and "
	    "make the status 1. Of a profile read alone, or with --all, it says how each part of it was "
	    "understood.",
	    check_examples },
	{ "rules", cmd_rules, "list, explain or lint the rules", "list [KIND] | explain ID | lint",
	    "The trade's knowledge behind every verdict. KIND is one of faults, causes, changes, checks, "
	    "families, yeasts, chores, things, touches, boxes, facts. A folder of your own (--rules) "
	    "adds to the rules or replaces them.",
	    rules_examples },
	{ "panel", cmd_panel, "taste a rebrew blind: plan it, pour it, read it", "TEST [N] | TEST RIGHT/N",
	    "TEST is triangle (three cups, two alike: which is the odd one?), duo-trio (a reference and two "
	    "cups: which is the reference?), pair (two cups: which has more of it, bitterness say?) or "
	    "preference (two cups: which do you like better?). Alone it says how many tastings are needed; "
	    "with N it makes a blind serving order for so many; with RIGHT/N it says what so many right "
	    "answers of N prove.",
	    panel_examples },
	{ "report", cmd_report, "one page to look at: batches, trend and plan, with figures", "[FILE|FOLDER|-]...",
	    "Writes one HTML page that stands alone and prints well: what to do next, the flaw load batch after "
	    "batch, the newest tasted batches with their temperature, gravity, oxygen and pressure drawn, and "
	    "what each budget buys. The history is neither read nor changed.",
	    report_examples },
	{ "interview", cmd_interview, "ask about one disappointing batch, the most telling question next",
	    "[JOURNAL]", "Asks what you taste and a few plain things, then the question that would tell most for its "
	    "effort, again and again, at most ten times, and shows after each answer how the suspects stand. Ends "
	    "earlier when no answer would change the advice. \"Don't know\" is always an answer. All answers go into "
	    "a journal at once, after each of them, so that nothing is lost when it is broken off; a journal given is "
	    "continued, and what it says is not asked again.",
	    interview_examples },
	{ "log", cmd_log, "write what just happened into a journal, in plain words", "[BATCH] [WORD]...",
	    "BATCH is a batch's name or enough of it (14 for pale-ale-14, or \"Porch pale\" where it was brewed "
	    "once), or \"last\". The words say what happened, with units as you say them (19,5 degrees C, 60g, "
	    "two weeks); without any, all that "
	    "can be logged is shown by example. The recipe goes in the same way: family wheat; malt 4.5 kg pale;"
	    " hops 30 g at 60 min. What may be meant "
	    "in two ways is asked at a terminal, and refused elsewhere. --undo takes the last entry back, "
	    "whatever it was; without BATCH, that of the batch written to last; with a part of the recipe (malt,"
	    " hops), its last line. What enter or interview wrote in one sitting goes as one, and a journal "
	    "that was begun goes as a whole. A journal changed by hand since is left as it is. The journal is "
	    "replaced in one stroke; comments and layout stay as they were. What was "
	    "understood is said back.",
	    log_examples },
	{ "taste", cmd_taste, "write what you taste into a journal, in plain words", "BATCH WORD...",
	    "Faults in plain words with their intensity from 1 (barely there) to 5 (undrinkable), 3 when not "
	    "told; \"no\" before one that you looked for and did not find; commas between. \"nothing\" for a "
	    "clean beer, \"nothing else\" when all else was looked for too. Who has it: one bottle only, some "
	    "bottles, from the tap only, first glass only.",
	    taste_examples },
	{ "changed", cmd_changed, "note what you do differently from now on", "[WORDS]...",
	    "Notes a change in your brewery profile, with its day, so that trend can hold the batches before "
	    "against those after. In words, or by the id of a change the rules know (afterboil rules list "
	    "changes); without words it lists what was noted. With --plan it notes the change that advise says "
	    "to make next, and files what the plan promises. Everything else in the profile stays as it is.",
	    changed_examples },
	{ "compare", cmd_compare, "hold two brews side by side", "BATCH BATCH [FILE|FOLDER]...",
	    "Shows what differed between two batches: in the process, beyond what the figures may be off by and "
	    "what mattered most first, and in the glass.",
	    compare_examples },
	{ "new", cmd_new, "begin the journal of the next batch", "BEER",
	    "Writes a new journal: the recipe as it was meant the last time this beer was brewed, what you "
	    "wrote down for next time, and the change that is on trial. How the last brew was done stands in it "
	    "as a comment, of which nothing counts until you take it over. A beer never brewed before begins "
	    "with the batch size of your profile; its kind is asked at a terminal, or told with --family. A "
	    "second brew of a beer on one day is asked about, or told with --force. No journal is overwritten.",
	    new_examples },
	{ "sheet", cmd_sheet, "a page for the next brew day: only what matters to write down", "[BATCH|BEER]",
	    "Prints the few boxes worth filling, in the order of the days, each with what to aim at: those "
	    "every batch needs, those of the change on trial, and those whose answers the last batches of the "
	    "beer most lacked when it was asked what spoiled them. For a batch that is begun, else for the next "
	    "brew of a beer; without a name for the newest batch. The page is HTML, to print.",
	    sheet_examples },
	{ "enter", cmd_enter, "type a filled-in sheet into the journal", "[BATCH]",
	    "Asks in the order of the sheet, each answer saved at once. Enter leaves a blank, \"same\" is what "
	    "it was the last time, \"back\" takes the last answer back, \"stop\" ends. What the journal tells "
	    "already is not asked. At the end there is room for a note, for what it tastes of, and for next "
	    "time.",
	    enter_examples },
	{ "init", cmd_init, "begin: a few questions, and your brewery profile is written", "[FOLDER]",
	    "Asks for units, batch size, kinds of beer, packaging, fermenter and its temperature, water, money "
	    "and time, and writes profile.xml into the folder, which is made when it is not there. Every "
	    "question may be left blank; at a terminal six come first, and the others may be left for later: "
	    "they stand in the profile then, as lines to fill in. A profile that is there is not overwritten.",
	    init_examples },
	{ "calendar", cmd_calendar, "lay your batches out over the days you have", "[FILE|FOLDER|-]...",
	    "Lays what your batches still ask for over your free days, with its minutes: of every batch that is "
	    "not done with, or of the next brew when none is on its way, as soon as may be or for a day it is "
	    "wanted on. What a journal shows is done; what was missed is overdue, and the status is 1. Says "
	    "what may wait and how long, how long a beer stands alone, what upkeep there is, and which batches "
	    "meet on one day. Yeast, dry hops and packaging are those of the journal, else of the last brew of "
	    "the beer, else of the profile. The yeast's pace comes from the batch's own gravities, else from "
	    "those of earlier brews, else from what is usual for its class. Where no schedule fits it says so, "
	    "and which is nearest. With --format ics a file for any calendar program, with alarms; the same "
	    "batch planned again replaces its entries. Never package by the date alone.",
	    calendar_examples },
	{ "help", cmd_help, "tell what there is, or what one command does", "[COMMAND]",
	    "Lists the commands; with one of them what it does, its options and examples: the same as --help.",
	    help_examples },
};
const size_t n_commands = sizeof commands / sizeof *commands;

/* No short forms: "ad" today may mean two commands tomorrow, and scripts outlive versions. */
const struct command *command_find(const char *name)
{
	for (size_t i = 0; i < n_commands; i++)
		if (strcmp(commands[i].name, name) == 0)
			return &commands[i];
	return NULL;
}

/* By place in the table; 0 without a command, which no command option has. */
unsigned command_bit(const struct command *command)
{
	assert(command == NULL || (size_t)(command - commands) < n_commands);
	return command == NULL ? 0 : 1U << (command - commands);
}
