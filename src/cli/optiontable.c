/* optiontable.c - the one table of options, of all commands
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <stddef.h>

/* In the order of enum ab_format (report.h): options keep a word's place. */
static const char *const format_words[] = { "text", "json", "html", "ics", NULL };
/* In the order of the enum in cmd_sheet.c. */
static const char *const paper_words[] = { "auto", "a4", "letter", NULL };
/* In the order of the enum in terminal.c. */
static const char *const color_words[] = { "auto", "always", "never", NULL };

/* Offsets instead of pointers: the table is const and knows no run. */
#define AT(member) offsetof(struct options, member)
enum { FOR_JOURNALS = FOR_DIAGNOSE | FOR_ADVISE | FOR_TREND | FOR_FACTS | FOR_REPORT };

/* To add an option: a member of struct options (cli.h) and a row here. Everything else reads this
 * table: parsing, --help, the manual page, completion and their test. Options of one meaning have one
 * row, with the bits of all commands that take it. */
const struct option_row options[] = {
	{ 'f', "fault", "WORD=N",
	    "a fault you taste, in plain words, with its intensity 1 (barely there) to 5 "
	    "(undrinkable), 3 when "
	    "not told; may be repeated",
	    FOR_DIAGNOSE | FOR_INTERVIEW, OPT_LIST, AT(faults), 0, 0, NULL },
	{ 0, "absent", "WORD", "a fault you looked for and did not find; may be repeated",
	    FOR_DIAGNOSE | FOR_INTERVIEW, OPT_LIST,
	    AT(absent), 0, 0, NULL },
	{ 0, "family", "FAMILY", "the style family: of the beer tasted (diagnose, interview) or begun (new: in "
	    "plain words), or the one to advise for",
	    FOR_DIAGNOSE | FOR_ADVISE | FOR_INTERVIEW | FOR_NEW, OPT_TEXT, AT(family), 0, 0, NULL },
	{ 'b', "batch", "BATCH", "only this batch, by its name or enough of it (2 for house-pale-2); may be repeated",
	    (FOR_JOURNALS & ~FOR_TREND) | FOR_CHECK | FOR_INTERVIEW | FOR_CALENDAR, OPT_LIST, AT(batch), 0, 0, NULL },
	{ 'l', "line", "LINE", "only batches of this line (one beer brewed again and again), by its name or "
	    "enough of it; or the change is for", FOR_JOURNALS | FOR_CHANGED | FOR_CALENDAR,
	    OPT_TEXT, AT(line), 0, 0, NULL },
	{ 'n', "last", "N", "only the N newest batches; of a report, those told in full", FOR_JOURNALS, OPT_WHOLE,
	    AT(last), 1, 1e6, NULL },
	{ 'a', "all", NULL, "show everything: every batch, cause and reason", FOR_WORK & ~(
	    FOR_PANEL | FOR_INTERVIEW | FOR_CALENDAR | FOR_LOG | FOR_TASTE | FOR_CHANGED | FOR_NEW |
	    FOR_SHEET | FOR_ENTER | FOR_INIT),
	    OPT_FLAG, AT(all), 0, 0, NULL },
	{ 0, "budget", "MONEY", "money to spend now; 0 for free habits only; else what the profile states",
	    FOR_ADVISE | FOR_CHANGED | FOR_REPORT, OPT_MONEY, AT(budget), 0, 1e9, NULL },
	{ 0, "running", "MONEY", "money to spend on running costs over the horizon",
	    FOR_ADVISE | FOR_CHANGED | FOR_REPORT, OPT_MONEY,
	    AT(running), 0, 1e9, NULL },
	{ 0, "minutes", "N",
	    "extra minutes that each batch may take; for calendar, minutes you have on a day that is not free "
	    "(30 when not told)", FOR_ADVISE | FOR_CHANGED | FOR_REPORT | FOR_CALENDAR, OPT_NUMBER, AT(minutes), 0,
	    1e5, NULL },
	{ 0, "away", "HOURS", "the longest nobody is at home while a beer ferments; else what the profile states",
	    FOR_ADVISE | FOR_CHANGED | FOR_REPORT, OPT_NUMBER, AT(away), 0, 1e4, NULL },
	{ 0, "horizon", "YEARS", "years over which running costs count; 1 when not told",
	    FOR_ADVISE | FOR_CHANGED | FOR_REPORT, OPT_NUMBER,
	    AT(horizon), 0.01, 50, NULL },
	{ 0, "changes", "N", "at most so many new habits at once; 6 when not told", FOR_ADVISE | FOR_CHANGED, OPT_WHOLE,
	    AT(changes), 1, 100, NULL },
	{ 0, "brews", "N", "so many brews are still to come, and each begins one change; without it as many as "
	    "the profile tells for the horizon",
	    FOR_ADVISE | FOR_CHANGED | FOR_REPORT, OPT_WHOLE, AT(brews), 1, 1000, NULL },
	{ 0, "redraws", "N",
	    "how often every estimate is redrawn for the likely ranges; 0 for none; 200 when not told",
	    FOR_DIAGNOSE | FOR_ADVISE | FOR_REPORT | FOR_INTERVIEW, OPT_WHOLE, AT(redraws), 0, 10000, NULL },
	{ 0, "seed", "N",
	    "seed of the redraws or of the serving order; 1 when not told; the same seed gives the same answer",
	    FOR_DIAGNOSE | FOR_ADVISE | FOR_INTERVIEW | FOR_PANEL | FOR_REPORT, OPT_WHOLE, AT(seed), 0,
	    4294967295.0, NULL },
	{ 0, "stream", NULL, "read journals from standard input without end, write one JSON object a line",
	    FOR_DIAGNOSE, OPT_FLAG, AT(stream), 0, 0, NULL },
	{ 'p', "profile", "FILE",
	    "the brewery profile; else profile.xml beside the journals or one folder up",
	    FOR_WORK & ~FOR_RULES & ~FOR_PANEL & ~FOR_INIT, OPT_TEXT, AT(profile), 0, 0, NULL },
	{ 'r', "rules", "DIR",
	    "a folder of rules that adds to the base rules or replaces some; may be repeated",
	    FOR_WORK & ~(FOR_PANEL | FOR_INIT), OPT_LIST, AT(rules), 0, 0, NULL },
	{ 0, "rules-base", "DIR", "a folder of rules instead of the base rules", FOR_WORK & ~(FOR_PANEL | FOR_INIT),
	    OPT_TEXT,
	    AT(rules_base), 0, 0, NULL },
	{ 's', "store", "FILE", "the history; else afterboil/history.db in your data folder",
	    FOR_ADVISE | FOR_CHANGED | FOR_TREND | FOR_REPORT, OPT_TEXT, AT(store), 0, 0, NULL },
	{ 0, "no-store", NULL, "neither read nor write the history",
	    FOR_ADVISE | FOR_CHANGED | FOR_TREND | FOR_REPORT, OPT_FLAG,
	    AT(no_store), 0, 0, NULL },
	{ 'o', "output", "FILE",
	    "write the page (report, sheet) or the journal (interview) there; else to standard output, and a "
	    "journal to a free name such as batch-2031-03-07.xml or to the one that is continued",
	    FOR_REPORT | FOR_SHEET | FOR_INTERVIEW, OPT_TEXT, AT(output), 0, 0, NULL },
	{ 0, "force", NULL, "do not ask: overwrite the file of --output, begin a beer named much like another "
	    "or brewed twice in a day", FOR_INTERVIEW | FOR_NEW, OPT_FLAG, AT(force), 0, 0,
	    NULL },
	{ 0, "questions", "N", "at most so many questions after the plain ones; 10 when not told", FOR_INTERVIEW,
	    OPT_WHOLE, AT(questions), 0, 100, NULL },
	{ 0, "date", "DATE", "the day the beer is tasted, such as 2031-03-07; today when not told", FOR_INTERVIEW,
	    OPT_TEXT, AT(date), 0, 0, NULL },
	{ 0, "in", "PATH", "the folder with the journals, or their file; else the current folder",
	    FOR_LOG | FOR_TASTE | FOR_CHANGED | FOR_NEW | FOR_SHEET | FOR_ENTER, OPT_TEXT, AT(in), 0, 0, NULL },
	{ 0, "at", "TIME",
	    "when it happened: 2031-03-07T18:30, a date, 18:30 for today, or \"day 5\" from pitching; else now",
	FOR_LOG | FOR_TASTE, OPT_TEXT, AT(at), 0, 0, NULL },
	{ 0, "undo", NULL, "take the last entry back, whatever it was (taste: where it is a tasting; changed: "
	    "the last change, where this program noted it)", FOR_LOG | FOR_TASTE | FOR_CHANGED, OPT_FLAG,
	    AT(undo), 0, 0, NULL },
	{ 0, "by", "NAME", "who tasted", FOR_TASTE, OPT_TEXT, AT(by), 0, 0, NULL },
	{ 0, "score", "N/MAX", "a score out of a maximum, as 32/50", FOR_TASTE, OPT_TEXT, AT(score), 0, 0, NULL },
	{ 0, "note", "TEXT", "anything else about the tasting", FOR_TASTE, OPT_TEXT, AT(note), 0, 0, NULL },
	{ 0, "complete", NULL, "all faults were considered: what is not named is not there", FOR_TASTE, OPT_FLAG,
	    AT(complete), 0, 0, NULL },
	{ 0, "from", "DATE", "the first day there may be something to do; today when not told", FOR_CALENDAR, OPT_TEXT,
	    AT(from), 0, 0, NULL },
	{ 0, "drink-on", "DATE",
	    "the day the beer is wanted: it is counted back from there, with the yeast reckoned slow",
	    FOR_CALENDAR, OPT_TEXT, AT(drink_on), 0, 0, NULL },
	{ 0, "free", "DAYS",
	    "days with time to brew, such as \"sat, sun\" or 2031-03-07 or mon..thu; else what the profile "
	    "states; may be repeated", FOR_CALENDAR, OPT_LIST, AT(free), 0, 0, NULL },
	{ 0, "gone", "DAYS",
	    "days not at home, such as 2031-07-01..2031-07-14, besides those of the profile; may be repeated",
	    FOR_CALENDAR, OPT_LIST, AT(gone), 0, 0, NULL },
	{ 0, "yeast", "CLASS", "the class of yeast (afterboil rules list yeasts); else that of the last brew",
	    FOR_CALENDAR,
	    OPT_TEXT, AT(yeast), 0, 0, NULL },
	{ 0, "rescore", NULL, "say which batches the rules, profile and afterboil of today judge otherwise than "
	    "those they were filed under",
	    FOR_TREND, OPT_FLAG, AT(rescore), 0, 0, NULL },
	{ 0, "export", "FILE", "write the batches as a table for a spreadsheet (CSV), too; each row ends with "
	    "the rules, the profile and the afterboil that "
	    "judged it", FOR_TREND, OPT_TEXT,
	    AT(export), 0, 0, NULL },
	{ 0, "on", "DATE", "the day of the change or of brewing, such as 2031-03-07; today when not told",
	    FOR_CHANGED | FOR_NEW, OPT_TEXT,
	    AT(on), 0, 0, NULL },
	{ 0, "id", "ID", "the name of the new batch; else the beer's with the next number", FOR_NEW, OPT_TEXT,
	    AT(id), 0, 0, NULL },
	{ 0, "like", "BATCH", "the brew to repeat; else the last of this beer", FOR_NEW, OPT_TEXT, AT(like), 0, 0,
	    NULL },
	{ 0, "volume", "VOLUME", "how much to brew, such as \"4 L\"; the amounts of the recipe follow", FOR_NEW,
	    OPT_TEXT,
	    AT(volume), 0, 0, NULL },
	{ 0, "split", "N", "one wort into N fermenters: a journal for each", FOR_NEW, OPT_WHOLE, AT(split), 2, 9,
	    NULL },
	{ 0, "mark", "WORD", "what this bottle was marked for when it was filled, such as splashed", FOR_TASTE,
	    OPT_TEXT,
	    AT(mark), 0, 0, NULL },
	{ 0, "next-time", "TEXT", "what to do differently the next time; \"new\" and \"sheet\" bring it up again",
	    FOR_TASTE, OPT_TEXT,
	    AT(next_time), 0, 0, NULL },
	{ 0, "boxes", "N", "about so many boxes on the sheet; 16 when not told", FOR_SHEET | FOR_ENTER, OPT_WHOLE,
	    AT(boxes), 1, 100, NULL },
	{ 0, "paper", "SIZE", "auto, a4 or letter; auto goes by the units of your profile", FOR_SHEET, OPT_WORD,
	    AT(paper), 0, 0, paper_words },
	{ 0, "plan", NULL, "begin what \"afterboil advise\" says to do next, under the limits given as there",
	    FOR_CHANGED, OPT_FLAG,
	    AT(plan), 0, 0, NULL },
	{ 0, "step", "N", "with --plan: the step of this number in the plan instead", FOR_CHANGED, OPT_WHOLE,
	    AT(step), 1, 100, NULL },
	{ 0, "own", NULL, "keep your own words, whatever the rules call it", FOR_CHANGED, OPT_FLAG, AT(own), 0, 0,
	    NULL },
	{ 0, "lint", NULL, "check the rules themselves; the same as \"rules lint\"", FOR_RULES, OPT_FLAG,
	    AT(lint), 0, 0, NULL },
	{ 'F', "format", "FORMAT", "text, json or html (a sheet: text or html); a calendar ics, too",
	    FOR_WORK & ~(FOR_CHECK | FOR_REPORT | FOR_INTERVIEW | FOR_LOG | FOR_TASTE | FOR_CHANGED | FOR_NEW |
	    FOR_ENTER | FOR_INIT), OPT_WORD, AT(format), 0, 0,
	    format_words },
	{ 0, "color", "WHEN", "auto, always or never", FOR_ALL, OPT_WORD, AT(color), 0, 0, color_words },
	{ 'w', "width", "COLUMNS", "width of text, 40 to 200; else that of the terminal", FOR_ALL, OPT_WHOLE,
	    AT(width), 40, 200, NULL },
	{ 'h', "help", NULL, "show help and leave", FOR_ALL, OPT_FLAG, AT(help), 0, 0, NULL },
	{ 'V', "version", NULL, "show the version and leave", 0, OPT_FLAG, AT(version), 0, 0, NULL },
	{ 0, "completion", NULL, "write a script that completes commands and options in bash, and leave", 0,
	    OPT_FLAG, AT(completion), 0, 0, NULL },
	{ 0, "completion-fish", NULL, "the same for fish", 0, OPT_FLAG, AT(completion_fish), 0, 0, NULL },
	{ 0, "completion-zsh", NULL, "the same for zsh", 0, OPT_FLAG, AT(completion_zsh), 0, 0, NULL },
	{ 0, "man-page", NULL, "write the manual page and leave", 0, OPT_FLAG, AT(man_page), 0, 0, NULL },
	{ 0, "journal-page", NULL, "write the manual page of journals and profiles, and leave", 0, OPT_FLAG,
	    AT(journal_page), 0, 0, NULL },
	{ 0, "rules-page", NULL, "write the manual page of rules files, and leave", 0, OPT_FLAG, AT(rules_page), 0,
	    0, NULL },
};
const size_t n_options = sizeof options / sizeof *options;
