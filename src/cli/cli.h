/* cli.h - one run of the program: what was asked, what was read, and how it ends
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_CLI_H
#define AB_CLI_CLI_H

#include <afterboil/advice.h>
#include <afterboil/arena.h>
#include <afterboil/casework.h>
#include <afterboil/dated.h>
#include <afterboil/entry.h>
#include <afterboil/history.h>
#include <afterboil/report.h>

/* The statuses the program ends with: a contract, see the manual. */
enum exit_status { EXIT_DONE, EXIT_ATTENTION, EXIT_USAGE, EXIT_INPUT, EXIT_SYSTEM };

struct texts { const char **items; size_t n, cap; };

/* Each option's value; numbers not given are NAN. Filled by option tables only. */
struct options {
	int format, color, paper;
	const char *rules_base, *store, *profile, *family, *line, *output, *date, *in, *at, *by, *score, *note, *on,
	    *export, *id, *like, *volume, *mark, *next_time, *from, *drink_on, *yeast;
	struct texts rules, faults, absent, batch, free, gone;
	double last, budget, minutes, away, horizon, running, changes, brews, redraws, seed, width, questions,
	    split, boxes, step;
	bool own, plan, rescore, undo, complete, force, no_store, all, stream, lint, help, version, man_page,
	    journal_page, rules_page, completion, completion_fish, completion_zsh;
};

struct command;
struct cli {
	const struct command *command;
	struct options o;
	char **args;                 /* what is left: files and folders */
	size_t n_args;
	struct ab_arena *arena;      /* lives as long as the run */
	struct ab_diag diag;
	struct ab_knowledge *k;
	const struct ab_alias *malts; size_t n_malts;   /* what k calls malts, for lines of the log */
	const char *rules_base;      /* where the rules were found */
	struct ab_profile *profile;
	struct ab_batch **batches;   /* in order of brew date */
	size_t n_batches, cap_batches, n_files;
	struct ab_batch **read; size_t n_read;   /* the same before any was picked by name, line or number */
	struct ab_look look;
	bool empty_is_fine;          /* a folder without a journal is no error */
	bool attention;              /* ends with EXIT_ATTENTION */
};

/* ---- options.c ---- */
/* Fills cli->o and args from argv after the command's name. */
enum ab_status options_parse(struct cli *cli, int argc, char **argv);

/* ---- help.c, manpage.c, manformats.c, completion.c ---- */
enum ab_status help_program(struct cli *cli);
enum ab_status help_command(struct cli *cli);
/* AB_EUSAGE, with the nearest that there is. */
enum ab_status help_no_command(struct cli *cli, const char *name);
enum ab_status man_page(struct cli *cli);
/* The manual pages of the formats: journals and profiles, and rules. */
enum ab_status journal_page(struct cli *cli);
enum ab_status rules_page(struct cli *cli);
/* A script for bash that completes commands, options and their words. */
enum ab_status completion(struct cli *cli);
/* The same for fish. */
enum ab_status completion_fish(struct cli *cli);
enum ab_status completion_zsh(struct cli *cli);

/* ---- offers.c ---- */
/* Lists the names that may follow these words (the command first), one a line; none where the shell knows better.
 * What cannot be read is passed over in silence. Nothing is offered that holds control characters or begins
 * with "-". */
enum ab_status offers(struct cli *cli, char **words, size_t n);

/* ---- greet.c ---- */
/* The next steps of the batches read, the most urgent ones, as text for ab_report_free. */
enum ab_status help_steps(struct cli *cli, size_t most, char **text);
enum ab_status help_greet(struct cli *cli);

/* ---- output.c ---- */
/* Writes text to standard output: AB_ESYSTEM when it cannot be written. out_close says what was lost at the
 * last moment. */
enum ab_status out_text(struct cli *cli, const char *text);
enum ab_status out_close(struct cli *cli);
/* One message on standard error: "afterboil: file:line: text". */
void err_diag(const struct ab_diag *diag);
void err_note(const char *fmt, ...) __attribute__((format(printf, 1, 2)));
/* Sees to it that descriptors 0, 1 and 2 are open, so that no store is ever opened as one of them. */
void out_prepare(void);
/* Prints a finished report and frees it; passes a failed status through. */
enum ab_status out_report(struct cli *cli, enum ab_status st, char *text);
/* The same into the file of --output, where it is given. */
enum ab_status out_document(struct cli *cli, char *text);

/* ---- terminal.c ---- */
/* Sets cli->look from the options, the terminal, the environment and the profile. The only reader of the
 * locale. */
void terminal_look(struct cli *cli);

/* ---- progress.c ---- */
/* A line on standard error that says how far a long work is: after a second, at a terminal that can erase it (TERM
 * told and not "dumb"), never else. It is off before progress_look. what: what is counted; lives as long as the
 * work. */
void progress_look(const struct cli *cli);
void progress_begin(const char *what);
void progress_step(size_t done, size_t of);
/* For the redraws of an advice, which is one work. */
extern const struct ab_progress progress_redraws;
/* At the end of the work, and before any other word. */
void progress_hide(void);

/* ---- rules.c ---- */
/* The folders of rules, base first. */
enum ab_status rules_folders(struct cli *cli, struct texts *dirs);
enum ab_status rules_load(struct cli *cli);

/* ---- inputs.c ---- */
/* Reads the profile and all journals named in args, filtered by --batch, --line and --last, in order of brew
 * date. needed: at least one batch. */
enum ab_status inputs_read(struct cli *cli, bool needed);
/* Reads the profile, then hands every batch of args to done, which may keep it or reset the arena; no filter.
 * Two batches of one id end it, after the last was handed over: who writes, writes in a transaction. */
enum ab_status inputs_each(struct cli *cli, struct ab_arena *arena, ab_batch_done *done, void *ctx);
enum ab_status inputs_profile(struct cli *cli);
/* What was named, a profile among it; where nothing was, what lies here. A profile named outright, and nothing
 * else, is what is usual, whatever lies here (here: with --profile the journals here are taken all the same). A
 * folder with a profile and no journal yet is one of somebody who has not brewed: the same. */
enum ab_status inputs_or_profile(struct cli *cli, bool here);
/* Done with a batch by keeping it among those of the run; ctx: struct cli. */
enum ab_status inputs_keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag);
enum ab_status text_push(struct cli *cli, struct texts *list, const char *text);
enum ab_status cli_nomem(struct cli *cli);

/* ---- folder.c ---- */
/* The *.xml files of a folder, drafts and backups left out, in order of name: readdir's order differs from disk to
 * disk and the first error met should not. */
enum ab_status folder_files(struct cli *cli, const char *folder, struct texts *files);
/* Is such a file a journal? What cannot be told is one. */
bool folder_journal(const char *path);
/* Is the file a profile? */
bool folder_profile(const char *path);
/* Does the folder hold a journal? */
enum ab_status folder_holds_journals(struct cli *cli, const char *folder, bool *any);

/* ---- which.c ---- */
/* Reads the journals of --in, else of the current folder. needed: none is an error. */
enum ab_status which_folder(struct cli *cli, bool needed);
/* The one batch meant, of those read: by its id, a whole part at the end of it (its number), its title or beer, the
 * beginning of one of them, any part; case does not count; "last" is the newest brewed. AB_EUSAGE when there is none,
 * or several, which are then listed. */
enum ab_status which_batch(struct cli *cli, const char *name, const struct ab_batch **out);
/* How many of the first arguments are a title or a beer's name, quotes forgotten ("Porch pale wort 19 C"): at least
 * 1, at most `most`. The last of them then holds all. */
enum ab_status which_words(struct cli *cli, size_t most, size_t *used);
/* Makes *line the line meant, as the journals write it: found like a batch, among the lines of those read. none (or
 * NULL): it failed since nothing fits. */
enum ab_status which_line(struct cli *cli, const char **line, bool *none);
/* The same among those of a history. */
enum ab_status which_past_line(struct cli *cli, const struct ab_past *past, size_t n, const char **line);
/* The same for all that --batch and --line name. */
enum ab_status which_wanted(struct cli *cli);
/* What was named is no file and no folder, and the current folder holds journals: it is one of its batches, by
 * enough of its name, as --batch. */
enum ab_status which_named(struct cli *cli);
/* Where nothing was named and the current folder holds journals: takes it, and says so on standard error. */
enum ab_status which_here(struct cli *cli);

/* ---- store.c ---- */
/* Opens the history: --store, else the user's data folder; ":memory:" for --no-store. */
/* Is there a history to read? */
bool store_there(struct cli *cli);
enum ab_status store_open(struct cli *cli, struct ab_history **out);
struct store_counts { size_t known, added, changed; };
/* Files one case under the digest of its journal (NULL: it is made here); the transaction is the caller's. */
enum ab_status store_case(struct cli *cli, struct ab_history *store, const struct ab_case *c, const char *digest,
    struct store_counts *counts);
/* Files all cases in one transaction. */
enum ab_status store_cases(struct cli *cli, struct ab_history *store, struct ab_case *const *cases, size_t n);
/* Ends a transaction: commits and says on standard error what was new, or rolls back when st is no AB_OK;
 * returns st or what went wrong. */
enum ab_status store_end(
    struct cli *cli, struct ab_history *store, enum ab_status st, const struct store_counts *counts);

/* ---- series.c ---- */
/* The trend over a history. In: line (NULL = all), last (NAN = all); n is 0 when there is no batch, and the
 * rest is only set when there is. */
struct series {
	const char *line;
	double last;
	size_t n;
	struct ab_trend_batch *batches;
	struct ab_trend *trend;
	struct ab_trend_batch *ahead; size_t n_ahead;   /* dated ahead of today, and left out */
};
enum ab_status series_read(struct cli *cli, struct ab_history *store, struct series *out);

/* ---- work.c ---- */
/* How many threads may work side by side: as many as there are processors. */
size_t work_threads(void);
/* Takes every batch through the pipe. ERRORS: only to see whether it can be (no story, no workings); else with
 * reasons for none, for the last disappointing one, for all. */
enum reasons { REASONS_ERRORS, REASONS_NONE, REASONS_LAST, REASONS_ALL };
enum ab_status work_cases(
    struct cli *cli, struct ab_batch *const *batches, size_t n, enum reasons reasons, struct ab_case ***out);
void work_options(const struct cli *cli, bool reasons, struct ab_diagnose_options *options);
/* Was a class told that the rules do not know? */
bool work_unknown_yeast(const struct cli *cli, const struct ab_yeast *yeast);
/* Today, in seconds as in when.h; and up to which day the batches read can be of. */
double work_today_s(void);
enum ab_status work_dated(struct cli *cli, struct ab_dated *limits);
/* Those of the batches whose bottles may burst (nextstep.h: ab_next_danger, by the clock), newest first. One that
 * cannot be judged is passed over: it must not silence the others. */
enum ab_status work_bursting(
    struct cli *cli, struct ab_batch *const *batches, size_t n, const struct ab_batch *const **out, size_t *n_out);
/* Says so of them on standard error, so that a script that keeps the report still shows it to somebody, and exit
 * status 1; nothing where there are none. Of cases: of those among them. Short of memory it is said all the same,
 * of one. */
void work_warn(struct cli *cli, const struct ab_batch *const *bursting, size_t n);
void work_warn_of(struct cli *cli, struct ab_case *const *cases, size_t n);
/* Says of each yeast class that the rules do not know that it tells nothing. */
void work_note_yeasts(const struct cli *cli, const struct ab_batch *b);
/* The warning of bottles that may burst, and exit status 1; near: else that of bottles near their limit, which is
 * no alarm; nothing where there is none. */
enum ab_status work_say_alarm(struct cli *cli, const struct ab_case *c, bool near);
/* After something was written: reads that journal's batch and shows its alarm, status 1 then, when bottles may burst;
 * yeast: and says whether its yeast is known; near: and that they come near their limit. */
enum ab_status work_alarm(struct cli *cli, const char *path, const char *id, bool yeast, bool near);
/* Says what to do now about a beer that the newest temperature in its journal is too warm in: what the calendar
 * says. */
enum ab_status work_cool(struct cli *cli, const char *path, const char *id);
/* Says on standard error which change is on trial, begun by that day (NULL: today) and not tasted yet. */
void changed_warn_trial(struct cli *cli, const struct ab_when *on);

/* ---- noted.c ---- */
/* Whether a change (id: of the rules, NULL: none of them; words: the brewer's, told apart only where there is no
 * id) is noted already: in the profile for this line or for all (NULL: for all), on that day (NULL: on any), or
 * NULL; as made or kept in one journal; in the journal of a batch of the line (NULL: of any) brewed by the day, or
 * NULL. */
const struct ab_changed *noted_in_profile(const struct cli *cli, const char *id, const char *words, const char *line,
    const struct ab_when *on);
bool noted_in_batch(const struct cli *cli, const struct ab_batch *b, const char *id, const char *words);
const struct ab_batch *noted_in_journals(
    const struct cli *cli, const char *id, const char *words, const struct ab_when *on, const char *line);
/* Was the batch brewed with it: on its day or later? */
bool noted_for_brew(const struct ab_batch *b, const struct ab_changed *c);

/* ---- cmd_advise.c ---- */
/* Advice under the limits of the options, over the batches that were read; and files the batches with what the plan
 * promises, unless --no-store. */
struct ab_advice;
struct ab_advice_options;
/* And what the beers that exist need next. */
enum ab_status advise_options(struct cli *cli, struct ab_case *const *cases, struct ab_advice_options *a);
enum ab_status advise_work(struct cli *cli, struct ab_case ***cases, struct ab_advice **out);
enum ab_status advise_file(struct cli *cli, struct ab_case *const *cases, const struct ab_advice *a);

/* ---- talk.c ---- */
/* One answer from standard input. TALK_ODD: it held what is no text, or was too long, and is not to be used. */
enum talk { TALK_LINE, TALK_ODD, TALK_END, TALK_INTERRUPTED };
enum { TALK_LONGEST = 1000 };
/* Prompts, and reads one line into text (TALK_LONGEST + 1 bytes), blanks at both ends cut. What is not typed
 * at a terminal is shown after the prompt, so that the whole can be read. */
enum talk talk_ask(struct cli *cli, char *text);
/* Prints a line, of 1100 bytes at most; what it took from a journal drives no terminal. */
enum ab_status talk_say(struct cli *cli, const char *text);
/* Is it one of these words (NULL-terminated), case and blanks forgotten? */
bool talk_is_word(const char *text, const char *const *words);
/* From here on an interrupt ends talk_ask and not the program; talk_over undoes it. */
void talk_begin(void);
void talk_over(void);
bool talk_is_terminal(void);
/* Does something wait in a pipe on standard input? */
bool talk_is_piped(void);
/* The day, from the clock. */
void talk_today(char *text, size_t size);
/* The hour of the day it is, 19.5 for half past seven in the evening. */
double talk_hour(void);

/* ---- asides.c ---- */
/* What a line of plain words is read with: units of the profile, words of the rules. */
struct ab_entry_help aside_help(struct cli *cli, struct ab_entry_doubt *doubt);
/* The brewer's own clock, to the minute. */
void aside_now(struct ab_when *when);
/* A time more than a day ahead: asked at a terminal, before it is written (AB_EUSAGE when it is not meant);
 * elsewhere said on standard error, when it was written. what: "this tasting". */
enum ab_status aside_future(struct cli *cli, const struct ab_when *when);
void aside_future_said(const struct ab_when *when, const char *what);
/* Asked at a terminal. AB_EUSAGE when there is no answer. question NULL: no memory. */
enum ab_status aside_yes(struct cli *cli, const char *question, bool *yes);
/* The family of a beer: --family in plain words, else *family as it is, else asked at a terminal; NULL when it is
 * not known. */
enum ab_status aside_family(struct cli *cli, const char **family);
/* At a terminal: which of these, or n for none. */
enum ab_status aside_which(struct cli *cli, const char *const *ways, size_t n, size_t *out);

/* ---- the commands ---- */
enum ab_status cmd_diagnose(struct cli *cli);
enum ab_status cmd_advise(struct cli *cli);
enum ab_status cmd_trend(struct cli *cli);
enum ab_status cmd_facts(struct cli *cli);
enum ab_status cmd_check(struct cli *cli);
enum ab_status cmd_rules(struct cli *cli);
enum ab_status cmd_calendar(struct cli *cli);
enum ab_status cmd_help(struct cli *cli);
enum ab_status cmd_panel(struct cli *cli);
enum ab_status cmd_changed(struct cli *cli);
enum ab_status cmd_compare(struct cli *cli);
enum ab_status cmd_report(struct cli *cli);
enum ab_status cmd_interview(struct cli *cli);
enum ab_status cmd_log(struct cli *cli);
enum ab_status cmd_taste(struct cli *cli);
enum ab_status cmd_new(struct cli *cli);
enum ab_status cmd_sheet(struct cli *cli);
enum ab_status cmd_enter(struct cli *cli);
enum ab_status cmd_init(struct cli *cli);

#endif
