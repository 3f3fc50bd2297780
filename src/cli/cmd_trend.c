/* cmd_trend.c - afterboil trend: what is given goes into the history, the history is shown
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include <afterboil/trend.h>
#include "base/savefile.h"

/* Only changes that were advised have one; the rest are brewers' own ideas. */
static enum ab_status promises(
    struct cli *cli, struct ab_history *store, const struct ab_trend *trend,
    struct ab_promise **made, size_t *n)
{
	*n = 0;
	*made = ab_arena_alloc(cli->arena, trend->n_changes, sizeof **made);
	if (*made == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < trend->n_changes; i++) {
		struct ab_promised was;
		if (ab_history_promise(store, trend->changes[i].id, &was))
			(*made)[(*n)++] =
			    (struct ab_promise){ trend->changes[i].id, was.load_before, was.load_after, was.alone };
	}
	return AB_OK;
}

/* Before the screen: who asked for a file and does not get it should not scroll back to see why. */
static enum ab_status export(struct cli *cli, const struct series *s)
{
	char *text = NULL;
	enum ab_status st;
	if (cli->o.export == NULL)
		return AB_OK;
	st = ab_report_trend_csv(cli->k, s->batches, s->n, s->trend, &text, &cli->diag);
	if (st == AB_OK)
		st = ab_savefile(cli->o.export, text, strlen(text), &cli->diag);
	ab_report_free(text);
	return st;
}

/* As the journals write the line, where it was typed otherwise. */
static enum ab_status read_line(struct cli *cli, struct ab_history *store, struct series *s)
{
	struct ab_past *past;
	size_t n = 0;
	enum ab_status st = ab_history_batches(store, cli->k, NULL, NULL, cli->arena, &past, &n, &cli->diag);
	if (st == AB_OK)
		st = which_past_line(cli, past, n, &s->line);
	return st == AB_OK ? series_read(cli, store, s) : st;
}

/* From the store alone, also right after filing: what is shown is what the next run will see. */
static enum ab_status show(struct cli *cli, struct ab_history *store)
{
	struct series s = { .line = cli->o.line, .last = cli->o.last };
	char *text = NULL;
	struct ab_promise *made;
	size_t n_made;
	enum ab_status st = series_read(cli, store, &s);
	if (st == AB_OK && s.n == 0 && s.line != NULL)
		st = read_line(cli, store, &s);
	if (st == AB_OK && s.n == 0 && s.n_ahead > 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "batch %s is dated ahead of today, and there is no other to show: "
		    "put its day right in its journal, then \"afterboil trend\" with that journal",
		    s.ahead[0].id);
	if (st == AB_OK && s.n == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "the history is empty: give your journals once, as in \"afterboil trend "
		    "journals/\"");
	if (st != AB_OK)
		return st;
	terminal_look(cli);
	st = export(cli, &s);
	if (st != AB_OK)
		return st;
	st = promises(cli, store, s.trend, &made, &n_made);
	if (st == AB_OK)
		st = ab_report_trend(cli->k, s.batches, s.n, s.trend, made, n_made, &cli->look, &text,
		    &cli->diag);
	return out_report(cli, st, text);
}

/* ---- filing: a few batches at a time, so that memory stays flat however long the history is ---- */

/* So many are read before the first of them is worked: reading and working need the processor's caches for tables and
 * code of their own, and batch by batch they push each other out (a quarter fewer reads from beyond a cache of 512 KiB
 * than with 1, simulated). What was read has to fit there, too: more gain little, and long sensor logs are not waited
 * with at all, or they would show in the memory. */
enum { FEW = 16, ENOUGH = 1024 * 1024 };

/* Two arenas as in cmd_diagnose.c, both emptied after each few, and one for the networks. The counts are told once at
 * the end. */
struct filing {
	struct cli *cli;
	struct ab_history *store;
	struct ab_arena *journal, *work, *passing;
	struct ab_net_scratch *scratch;
	struct store_counts counts;
	const struct ab_batch *few[FEW];
	char digest[FEW][AB_HISTORY_DIGEST];
	size_t n;
};

/* Beliefs alone: the history keeps nothing else of a diagnosis. */
static enum ab_status file_few(struct filing *f)
{
	struct ab_diagnose_options options;
	struct ab_case *cases[FEW];
	work_options(f->cli, false, &options);
	options.beliefs_only = true;
	options.scratch = f->scratch;
	options.passing = f->passing;
	enum ab_status st = ab_case_work_few(f->cli->k, f->few, f->n, f->cli->profile, &options, f->work, cases,
	    &f->cli->diag);
	for (size_t i = 0; st == AB_OK && i < f->n; i++)
		st = store_case(f->cli, f->store, cases[i], f->digest[i], &f->counts);
	ab_arena_reset(f->work);
	f->n = 0;
	ab_arena_reset(f->journal);
	return st;
}

/* The digest now, while the batch lies at hand. */
static enum ab_status file_one(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct filing *f = ctx;
	enum ab_status st = ab_history_digest(batch, f->digest[f->n], diag);
	if (st != AB_OK)
		return st;
	f->few[f->n++] = batch;
	return f->n == FEW || ab_arena_used(f->journal) > ENOUGH ? file_few(f) : AB_OK;
}

/* The batches still waiting. When a later journal could not be read they are worked all the same: whatever is wrong
 * with one of them came first, and is what the brewer should hear of. */
static enum ab_status file_rest(struct filing *f, enum ab_status st)
{
	const struct ab_diag later = f->cli->diag;
	ab_diag_init(&f->cli->diag);
	enum ab_status rest = file_few(f);
	if (rest != AB_OK)
		return rest;
	f->cli->diag = later;
	return st;
}

/* One transaction for all: a history half filed would show a trend that never was, and a commit a batch
 * would be slow by far. */
static enum ab_status file_all(struct cli *cli, struct ab_history *store)
{
	struct filing f = { .cli = cli, .store = store, .journal = ab_arena_new(), .work = ab_arena_new(),
	    .passing = ab_arena_new(), .scratch = ab_net_scratch_new() };
	enum ab_status st = f.journal == NULL || f.work == NULL || f.passing == NULL || f.scratch == NULL
	    ? cli_nomem(cli)
	    : ab_history_begin(store, &cli->diag);
	if (st == AB_OK) {
		st = file_rest(&f, inputs_each(cli, f.journal, file_one, &f));
		st = store_end(cli, store, st, &f.counts);
	}
	ab_net_scratch_free(f.scratch);
	ab_arena_free(f.passing);
	ab_arena_free(f.work);
	ab_arena_free(f.journal);
	return st;
}

/* ---- rescoring: what a change of the rules or of the profile moved ---- */

enum { MOST_MOVED = 20 };

/* Both stand in order of date, so the search goes on where the last one ended. */
static const struct ab_past *find(const struct ab_past *past, size_t n, size_t *at, const char *id)
{
	for (size_t i = 0; i < n; i++) {
		const struct ab_past *p = &past[(*at + i) % n];
		if (strcmp(p->id, id) == 0) {
			*at = (*at + i) % n;
			return p;
		}
	}
	return NULL;
}

static bool differ(const char *a, const char *b)
{
	return strcmp(a != NULL ? a : "", b != NULL ? b : "") != 0;
}

/* What was filed before profiles were has none to compare. */
static const char *why(const struct ab_past *was, const struct ab_past *now)
{
	return differ(was->hash, now->hash)   ? "the journal changed"
	    : differ(was->rules, now->rules) ? "the rules changed"
	    : was->profile == NULL           ? "filed by an older afterboil: what changed is not known"
	    : differ(was->profile, now->profile) ? "what the profile says changed"
						 : "another version of afterboil judged it";
}

/* On standard error: the report on standard output is the same as without. Batches whose journals were not
 * given keep what the older rules, profile or program said, and that is said, too. */
static void say_moved(const struct cli *cli, const struct ab_past *old, size_t n_old, const struct ab_past *now,
    size_t n_now)
{
	char profile[AB_PROFILE_DIGEST];
	size_t at = 0, moved = 0, behind = 0, elsewhere = 0, others = 0;
	ab_profile_digest(cli->profile, profile);
	for (size_t i = 0; i < n_now; i++) {
		const struct ab_past *was = find(old, n_old, &at, now[i].id);
		if (differ(now[i].rules, cli->k->version))
			behind++;
		else if (differ(now[i].profile, profile))
			elsewhere++;
		else
			others += differ(now[i].program, PACKAGE_VERSION);
		if (was == NULL || (isnan(was->load) && isnan(now[i].load)) || fabs(was->load - now[i].load) < 0.05)
			continue;
		if (moved++ < MOST_MOVED)
			err_note("rescored: %s: flaw load %.1f, was %.1f (%s)", now[i].id, now[i].load, was->load,
			    why(was, &now[i]));
	}
	err_note("rescored: the flaw load of %zu of %zu batches moved", moved, n_now);
	if (behind > 0)
		err_note("%zu batches are still as older rules judged them: give their journals, too", behind);
	if (elsewhere > 0)
		err_note(
		    "%zu batches are still as another profile, or one not known, judged them: give their journals, too",
		    elsewhere);
	if (others > 0)
		err_note(
		    "%zu batches are still as another version of afterboil judged them: give their journals, too",
		    others);
}

/* Filing does the work: under other rules or another profile a known journal is filed anew, and the old revision
 * stays. */
static enum ab_status rescore(struct cli *cli, struct ab_history *store)
{
	struct ab_past *old, *now;
	size_t n_old = 0, n_now = 0;
	enum ab_status st = ab_history_batches(store, cli->k, NULL, NULL, cli->arena, &old, &n_old, &cli->diag);
	if (st == AB_OK)
		st = file_all(cli, store);
	if (st == AB_OK)
		st = ab_history_batches(store, cli->k, NULL, NULL, cli->arena, &now, &n_now, &cli->diag);
	if (st == AB_OK)
		say_moved(cli, old, n_old, now, n_now);
	return st;
}

/* close is asked for NULL here, because an error may come before the store was opened. */
enum ab_status cmd_trend(struct cli *cli)
{
	struct ab_history *store = NULL;
	enum ab_status st = which_here(cli);
	if (st == AB_OK && cli->o.no_store && cli->n_args == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--no-store needs journals: without the history there is nothing else to show");
	if (st == AB_OK && cli->o.rescore && cli->n_args == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--rescore needs the journals: the history keeps their facts, not all that was tasted");
	if (st == AB_OK)
		st = rules_load(cli);
	if (st == AB_OK)
		st = store_open(cli, &store);
	if (st == AB_OK && cli->n_args > 0)
		st = cli->o.rescore ? rescore(cli, store) : file_all(cli, store);
	if (st == AB_OK)
		st = show(cli, store);
	if (store != NULL)
		ab_history_close(store);
	return st;
}
