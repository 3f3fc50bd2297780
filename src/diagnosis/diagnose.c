/* diagnose.c - one batch: build the network, solve it, rank what comes out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/diagnose.h>

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "diagnosis/build.h"

/* What is shown: see diagnose.h. */
static const double LEAST_BLAME = 0.005, LEAST_RISK = 0.3, RISK_BLAME = 0.1, MOSTLY = 0.5, TOLD = 1.5;

enum ab_status job_no_memory(const struct job *job)
{
	return ab_fail(job->diag, AB_ENOMEM, NULL, 0, "out of memory for the diagnosis");
}

/* exp of a huge argument is infinity and 1 / infinity is 0: an impossible cause comes out as 0 without a
 * case. */
void ab_alone(const struct ab_knowledge *k, const struct ab_fact *facts, double *p)
{
	struct ab_held held;
	ab_held_begin(&held, facts);
	ab_all_log_odds(k, &held, p);
	for (size_t i = 0; i < k->n_causes; i++)
		p[i] = 1 / (1 + exp(-p[i]));
}

/* ---- solving ---- */

/* n_causes of the network, not of the rules: leaks that are causes of their own come behind. */
static bool make_room(struct job *job, unsigned char **story)
{
	size_t n = job->b.net.n_causes + 1;
	struct ab_diagnosis *d = job->d;
	d->present = ab_arena_alloc(job->arena, n, sizeof *d->present);
	d->blame = ab_arena_alloc(job->arena, n, sizeof *d->blame);
	d->alone = ab_arena_alloc(job->arena, n, sizeof *d->alone);
	*story = ab_arena_alloc(job->arena, n, sizeof **story);
	d->story = ab_arena_alloc(job->arena, n, sizeof *d->story);
	return d->present != NULL && d->blame != NULL && d->alone != NULL && *story != NULL &&
	    d->story != NULL;
}

/* The solver speaks of places in its network; a brewer of faults and checks. line of the solver's diag
 * is a place in its network, never a line of a file; so it is not passed on. */
static enum ab_status say_unsolved(const struct job *job, enum ab_status st, const struct ab_diag *solver)
{
	const struct node *node = solver->line >= 0 && (size_t)solver->line < job->b.net.n_faults
	    ? &job->b.nodes[solver->line] : NULL;
	if (st == AB_EIMPOSSIBLE && node != NULL)
		return ab_fail(job->diag, st, NULL, 0,
		    "under the rules \"%s\" cannot have been found in this batch; check the tasting, or the "
		    "rules that "
		    "make all its causes impossible", node->fault >= 0 ? job->k->faults[node->fault].title
		    : job->k->checks[node->check].title);
	if (st == AB_EIMPOSSIBLE)
		return ab_fail(job->diag, st, NULL, 0,
		    "under the rules these faults cannot have been found together; check the tasting and the "
		    "answers of checks");
	return ab_fail(job->diag, st, solver->source, 0, "%s", solver->text);
}

/* When only beliefs are wanted (a history of thousands), the story and the leaks' own causes are left out: they
 * take most of the time. */
static enum ab_status solve(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	unsigned char *story;
	struct ab_diag solver;
	if (!make_room(job, &story))
		return job_no_memory(job);
	struct ab_beliefs beliefs = { .present = d->present, .alone = d->alone, .blame = d->blame };
	if (!job->options->beliefs_only)
		beliefs.story = story;
	ab_diag_init(&solver);
	enum ab_status st = ab_net_solve_in(job->scratch, &job->b.net, &beliefs, &solver);
	if (st != AB_OK)
		return say_unsolved(job, st, &solver);
	d->log_evidence = beliefs.log_evidence;
	d->story_share = job->options->beliefs_only ? 0 : beliefs.story_share;
	for (size_t i = 0; i < job->k->n_causes; i++)
		if (story[i])
			d->story[d->n_story++] = (int)i;
	return AB_OK;
}

/* ---- ranking ---- */

/* Ties by place in the rules, so that the order never depends on qsort. */
static int by_blame(const void *a, const void *b)
{
	const struct ab_suspect *x = a, *y = b;
	if (x->blame != y->blame)
		return x->blame < y->blame ? 1 : -1;
	return (x->cause > y->cause) - (x->cause < y->cause);
}

/* The verdict is benign only when a harmless explanation leads: a sum of many weak ones would hide a real
 * cause. */
static bool rank_suspects(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	size_t n = job->k->n_causes;
	d->suspects = ab_arena_alloc(job->arena, n, sizeof *d->suspects);
	if (d->suspects == NULL)
		return false;
	for (size_t i = 0; i < n; i++) {
		double blame = d->blame[i];
		if (job->k->causes[i].benign && blame > d->benign)
			d->benign = blame;
		if (blame >= LEAST_BLAME)
			d->suspects[d->n_suspects++] = (struct ab_suspect){ .cause = (int)i, .blame = blame,
				.blame_low = blame,
				.blame_high = blame, .present = d->present[i], .alone = d->alone[i] };
	}
	if (d->n_suspects > 0)
		qsort(d->suspects, d->n_suspects, sizeof *d->suspects, by_blame);
	assert(d->n_suspects <= n);
	d->verdict_benign = d->n_suspects > 0 && job->k->causes[d->suspects[0].cause].benign;
	return true;
}

struct ranked { double p; int at; };

static int by_p(const void *a, const void *b)
{
	const struct ranked *x = a, *y = b;
	if (x->p != y->p)
		return x->p < y->p ? 1 : -1;
	return (x->at > y->at) - (x->at < y->at);
}

/* The facts less those of tastings: how the faults found behave says nothing of a cause that is innocent of them. */
static struct ab_fact *untasted(const struct job *job)
{
	const struct ab_fact_table *table = job->k->facts;
	struct ab_fact *facts = ab_arena_alloc(job->arena, table->n, sizeof *facts);

	for (size_t i = 0; facts != NULL && i < table->n; i++)
		if (strncmp(table->defs[i].name, "taste.", 6) != 0)
			facts[i] = job->facts[i];
	return facts;
}

/* Does something told speak for it, and not only what is usual? Odds of so many times what they are of a batch of which
 * nothing is known (estimate). */
static bool is_told(const struct job *job, size_t cause, const struct ab_fact *facts)
{
	const struct ab_cause *c = &job->k->causes[cause];
	return ab_cause_log_odds(c, facts, NULL) >= c->priors[0].log_odds + log(TOLD);
}

/* Likely there by what was told, and innocent of what was found. */
static bool rank_risks(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	size_t n = job->k->n_causes;
	struct ranked *risks = ab_arena_alloc(job->arena, n, sizeof *risks);
	d->risks = ab_arena_alloc(job->arena, n, sizeof *d->risks);
	struct ab_fact *facts = untasted(job);
	if (risks == NULL || d->risks == NULL || facts == NULL)
		return false;
	for (size_t i = 0; i < n; i++)
		/* By a share of presence and not by a fixed blame: a cause sure to be there may carry a
		 * little blame and be innocent all the same. */
		if (!job->k->causes[i].benign && d->present[i] >= LEAST_RISK &&
		    d->blame[i] < RISK_BLAME * d->present[i] && is_told(job, i, facts))
			risks[d->n_risks++] = (struct ranked){ d->present[i], (int)i };
	if (d->n_risks > 0)
		qsort(risks, d->n_risks, sizeof *risks, by_p);
	for (size_t i = 0; i < d->n_risks; i++)
		d->risks[i] = risks[i].at;
	return true;
}

/* ---- faults ---- */

/* A fault is unexplained when its leak more likely than not pushed it; several found faults may be so. */
static bool sort_faults(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	const struct ab_finding *finding = job->evidence->finding;
	d->unexplained = ab_arena_alloc(job->arena, job->k->n_faults, sizeof *d->unexplained);
	d->expected = ab_arena_alloc(job->arena, job->k->n_faults, sizeof *d->expected);
	if (d->unexplained == NULL || d->expected == NULL)
		return false;
	for (size_t i = 0; i < job->b.n_own_leaks; i++)
		if (d->blame[job->k->n_causes + i] >= MOSTLY)
			d->unexplained[d->n_unexplained++] = job->b.nodes[job->b.leak_node[i]].fault;
	d->nothing_found = true;
	for (size_t i = 0; i < job->k->n_faults; i++) {
		if (finding[i].seen != AB_SEEN_FOUND)
			continue;
		d->nothing_found = false;
		if (ab_fault_expected(job->k, job->facts, job->evidence->family, (int)i, finding[i].grade))
			d->expected[d->n_expected++] = (int)i;
	}
	return true;
}

/* ---- the whole ---- */

/* Nobody looks at the network afterwards: its memory serves the next one, while it still lies in the cache. */
static enum ab_status run_for_beliefs(struct job *job)
{
	struct ab_arena *passing = job->options->passing;
	enum ab_status st = net_build(job->k, job->facts, job->evidence, NET_ABSENT_WEIGHED,
	    passing != NULL ? passing : job->arena, &job->b) ? solve(job) : job_no_memory(job);
	if (passing != NULL)
		ab_arena_reset(passing);
	return st;
}

static enum ab_status run(struct job *job)
{
	/* With single absent faults, since reasons leave each out in turn and redraws move its strength. */
	job->d->family = job->evidence->family;
	if (job->options->beliefs_only)
		return run_for_beliefs(job);
	if (!net_build(job->k, job->facts, job->evidence, NET_OWN_LEAKS, job->arena, &job->b))
		return job_no_memory(job);
	enum ab_status st = solve(job);
	if (st != AB_OK)
		return st;
	if (!rank_suspects(job) || !rank_risks(job) || !sort_faults(job))
		return job_no_memory(job);
	st = diagnose_kins(job);
	/* Ranges, reasons and questions need the ranking, since they are made for the leading suspects
	 * only. */
	if (st == AB_OK && job->options->redraws > 0)
		st = diagnose_ranges(job);
	if (st == AB_OK && job->options->reasons)
		st = diagnose_reasons(job);
	if (st == AB_OK && job->options->reasons)
		st = diagnose_asks(job);
	return st;
}

enum ab_status ab_diagnose(const struct ab_knowledge *k, const struct ab_fact *facts,
    const struct ab_evidence *evidence, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_diagnosis **out, struct ab_diag *diag)
{
	struct job job = { .k = k, .facts = facts, .evidence = evidence, .options = options,
		.scratch = options->scratch, .arena = arena,
		.diag = diag };
	enum ab_status st;
	*out = NULL;
	/* A caller with many batches keeps one scratch, whose rooms have grown; else one is made for this
	 * call. */
	if (job.scratch == NULL)
		job.scratch = ab_net_scratch_new();
	assert(k != NULL && facts != NULL && evidence != NULL && options != NULL);
	job.d = ab_arena_alloc(arena, 1, sizeof *job.d);
	st = job.scratch == NULL || job.d == NULL ? job_no_memory(&job) : run(&job);
	if (job.scratch != options->scratch)
		ab_net_scratch_free(job.scratch);
	if (st == AB_OK)
		*out = job.d;
	return st;
}

enum ab_status ab_diagnose_net(const struct ab_knowledge *k, const struct ab_fact *facts,
    const struct ab_evidence *evidence, struct ab_arena *arena, struct ab_net *net, struct ab_diag *diag)
{
	struct built b;

	if (!net_build(k, facts, evidence, NET_ABSENT_WEIGHED, arena, &b))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the diagnosis");
	*net = b.net;
	return AB_OK;
}
