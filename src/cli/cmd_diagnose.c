/* cmd_diagnose.c - afterboil diagnose: from faults alone, from journals, or as a stream
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <assert.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <afterboil/quantity.h>

#include "casework/casework.h"

/* Batches whose advice is worked out beside a diagnosis in about a second (measured: 3 ms a batch). */
enum { MOST_ADVISED = 200 };

/* ---- faults alone ---- */

/* "green apple=2" in two: the word, and 1..5; 3 when not told. The last "=": a word of the vocabulary
 * may hold one, a number may not. 3 is the middle of the scale. */
static enum ab_status split_fault(struct cli *cli, const char *text, const char **word, double *intensity)
{
	const char *equals = strrchr(text, '=');
	struct ab_quantity q = { .value = 3 };
	char why[512];
	if (equals != NULL && !ab_quantity_read(equals + 1, AB_DIM_NONE, &q, why, sizeof why))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--fault %.60s: after \"=\" comes the intensity, 1 (barely there) to 5 (undrinkable)",
		    text);
	*intensity = q.value;
	*word = equals == NULL ? text : ab_arena_strndup(cli->arena, text, (size_t)(equals - text));
	return *word == NULL ? cli_nomem(cli) : AB_OK;
}

/* Looked up at once, while the option that was mistyped can still be named. */
static enum ab_status add_absent(struct cli *cli, struct ab_batch *batch)
{
	struct ab_tasting *tasting = batch->tastings.items;
	assert(batch->tastings.n > 0);
	for (size_t i = 0; i < cli->o.absent.n; i++) {
		struct ab_absent *slot = ab_arena_push(
		    cli->arena, &tasting->absent.items, &tasting->absent.n, &tasting->absent.cap,
		    sizeof *slot);
		if (slot == NULL)
			return cli_nomem(cli);
		slot->fault = cli->o.absent.items[i];
		if (case_word(cli->k, slot->fault, NULL, 0, AB_EUSAGE, &cli->diag) < 0)
			return AB_EUSAGE;
	}
	return AB_OK;
}

/* A batch made of nothing but a tasting then goes the way of every other one. */
static enum ab_status from_faults(struct cli *cli)
{
	size_t n = cli->o.faults.n;
	const char **words = ab_arena_alloc(cli->arena, n, sizeof *words);
	double *intensity = ab_arena_alloc(cli->arena, n, sizeof *intensity);
	enum ab_status st = words == NULL || intensity == NULL ? cli_nomem(cli) : AB_OK;
	struct ab_batch **slot, *batch;
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = split_fault(cli, cli->o.faults.items[i], &words[i], &intensity[i]);
	if (st == AB_OK)
		st = ab_case_from_faults(
		    cli->k, words, intensity, n, cli->o.family, cli->arena, &batch, &cli->diag);
	if (st == AB_OK)
		st = add_absent(cli, batch);
	if (st != AB_OK)
		return st;
	slot = ab_arena_push(cli->arena, &cli->batches, &cli->n_batches, &cli->cap_batches, sizeof *slot);
	if (slot == NULL)
		return cli_nomem(cli);
	*slot = batch;
	return AB_OK;
}

/* ---- a stream ---- */

/* Two arenas, both emptied after each batch, so that memory stays flat however many come: the reader's
 * and the diagnosis's. The network's scratch is kept, because it is costly to make and holds no
 * results. */
struct stream { struct cli *cli; struct ab_arena *journal, *work; struct ab_net_scratch *scratch; };

/* Written before the next batch is read: a program at the other end sees each answer at once. */
static enum ab_status stream_one(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct stream *s = ctx;
	struct ab_diagnose_options options;
	struct ab_case *c;
	char *text = NULL;
	work_options(s->cli, true, &options);
	options.scratch = s->scratch;
	enum ab_status st = ab_case_work(s->cli->k, batch, s->cli->profile, &options, s->work, &c, diag);
	if (st == AB_OK) {
		s->cli->attention = s->cli->attention || ab_case_bursting(c) != NULL;
		st = ab_report_diagnosis_line(s->cli->k, c, &text, diag);
	}
	st = out_report(s->cli, st, text);
	ab_arena_reset(s->work);
	ab_arena_reset(s->journal);
	return st;
}

/* Files could be streamed as well, but their order, filters and twins could not: better to say so than
 * to ignore options. */
static enum ab_status diagnose_stream(struct cli *cli)
{
	struct stream s = { cli, ab_arena_new(), ab_arena_new(), ab_net_scratch_new() };
	enum ab_status st =
	    s.journal == NULL || s.work == NULL || s.scratch == NULL ? cli_nomem(cli) : inputs_profile(cli);
	if (st == AB_OK && cli->n_args > 0 && (cli->n_args > 1 || strcmp(cli->args[0], "-") != 0))
		st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--stream reads standard input only; give no files");
	if (st == AB_OK)
		st = ab_journal_read_stream(STDIN_FILENO, "standard input", s.journal, stream_one, &s,
		    &cli->diag);
	ab_net_scratch_free(s.scratch);
	ab_arena_free(s.work);
	ab_arena_free(s.journal);
	return st;
}

/* ---- journals ---- */

/* Before anything is diagnosed, to choose what to diagnose. */
static bool has_faults(const struct ab_batch *b)
{
	for (AB_EACH(struct ab_tasting, t, b->tastings))
		if (t->found.n > 0)
			return true;
	return false;
}

/* Which batches to show: all, or the newest with faults (else the newest). A program that reads JSON
 * gets all: a choice made for the eye would look like lost data. */
static size_t choose(struct cli *cli, struct ab_batch *const **first)
{
	*first = cli->batches;
	if (cli->n_batches <= 1 || cli->o.all || cli->o.batch.n > 0 || cli->look.format == AB_JSON)
		return cli->n_batches;
	size_t at = cli->n_batches - 1;
	while (at > 0 && !has_faults(cli->batches[at]))
		at--;
	if (!has_faults(cli->batches[at]))
		at = cli->n_batches - 1;
	*first = &cli->batches[at];
	err_note("%zu batches read; shown is the newest %s. Another: --batch ID; each of them: --all",
	    cli->n_batches, has_faults(cli->batches[at]) ? "with faults" : "one");
	return 1;
}

/* Every mixture that cannot be meant is refused with what was probably meant; guessing here would
 * diagnose the wrong beer. */
static enum ab_status read_what(struct cli *cli)
{
	bool tasted = cli->o.faults.n + cli->o.absent.n > 0;
	if (tasted && cli->n_args > 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--fault is for a beer without a journal; in a journal write <tasting><found "
		    "fault=\"...\"/></tasting>");
	if (tasted && cli->o.faults.n == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--absent goes with --fault: what did you find?");
	if (cli->o.family != NULL && !tasted)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--family goes with --fault; a journal states its family itself");
	enum ab_status st = tasted ? AB_OK : which_named(cli);
	if (st == AB_OK && !tasted)
		st = which_here(cli);
	if (st == AB_OK && !tasted && cli->n_args == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "diagnose what? There is no journal in this folder: name one, or a folder, or what you "
		    "taste: afterboil diagnose --fault buttery=3");
	if (st == AB_OK && !tasted)
		return inputs_read(cli, true);
	if (st == AB_OK)
		st = inputs_profile(cli);
	return st != AB_OK ? st : from_faults(cli);
}

/* A file or two are not all that somebody brews. */
static bool of_a_folder(const struct cli *cli)
{
	struct stat st;

	for (size_t i = 0; i < (size_t)cli->n_args; i++)
		if (stat(cli->args[i], &st) == 0 && S_ISDIR(st.st_mode))
			return true;
	return false;
}

/* The advice over all that was read, so that the cure told is the one that the plan takes; NULL where somebody
 * asked of a glass, for data, or of more than a screen's wait, and where another batch cannot be judged: that must
 * not silence this one. Figures need no redraws here, for none is shown. */
static enum ab_status advice_of(struct cli *cli, struct ab_advice **out)
{
	struct ab_batch **shown = cli->batches;
	size_t n = cli->n_batches;
	double redraws = cli->o.redraws;
	struct ab_case **cases;

	*out = NULL;
	if (cli->look.format == AB_JSON || cli->n_read == 0 || cli->n_read > MOST_ADVISED || !of_a_folder(cli))
		return AB_OK;
	cli->batches = cli->read;
	cli->n_batches = cli->n_read;
	cli->o.redraws = 0;
	enum ab_status st = advise_work(cli, &cases, out);
	cli->batches = shown;
	cli->n_batches = n;
	cli->o.redraws = redraws;
	if (st == AB_OK || st == AB_ENOMEM)
		return st;
	*out = NULL;
	ab_diag_init(&cli->diag);
	return AB_OK;
}

/* Who asks of one batch is told of the bottles of another as well; those shown say it themselves. */
static enum ab_status warn_of_others(struct cli *cli, struct ab_batch *const *shown, size_t n_shown)
{
	struct ab_batch **others = ab_arena_alloc(cli->arena, cli->n_read + 1, sizeof *others);
	const struct ab_batch *const *bursting;
	size_t n = 0;
	if (others == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < cli->n_read; i++) {
		bool is_shown = false;
		for (size_t k = 0; k < n_shown; k++)
			is_shown = is_shown || shown[k] == cli->read[i];
		if (!is_shown)
			others[n++] = cli->read[i];
	}
	enum ab_status st = work_bursting(cli, others, n, &bursting, &n);
	if (st == AB_OK)
		work_warn(cli, bursting, n);
	return st;
}

enum ab_status cmd_diagnose(struct cli *cli)
{
	struct ab_advice *advice;
	struct ab_batch *const *batches;
	struct ab_case **cases;
	char *text = NULL;
	enum ab_status st = rules_load(cli);
	if (st == AB_OK && cli->o.stream)
		return diagnose_stream(cli);
	if (st == AB_OK)
		st = read_what(cli);
	if (st != AB_OK)
		return st;
	/* After reading: currency and units come from the profile. */
	terminal_look(cli);
	size_t n = choose(cli, &batches);
	st = work_cases(cli, batches, n, REASONS_ALL, &cases);
	if (st != AB_OK)
		return st;
	for (size_t i = 0; i < n; i++) {
		work_note_yeasts(cli, batches[i]);
		cli->attention = cli->attention || ab_case_bursting(cases[i]) != NULL;
	}
	st = warn_of_others(cli, batches, n);
	if (st == AB_OK)
		st = advice_of(cli, &advice);
	if (st != AB_OK)
		return st;
	st = ab_report_diagnoses(cli->k, cases, n, advice, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
