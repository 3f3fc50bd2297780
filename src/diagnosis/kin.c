/* kin.c - causes that are one thing by several ways: what the whole of them is to blame for
 *
 * An infection may have come in by six ways, each with a small blame of its own; a brewer wants to hear first
 * that it is an infection. The blame of a kin is exact (ab_net_blame_any), never a sum.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/build.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* A member that holds more of it than this is the answer itself, and told as such (estimate). */
static const double ONE_OF_MANY = 0.75;

/* 1 where a cause is of the kin. Leaks that are causes of their own come behind the causes of the rules and
 * are of no kin. */
static unsigned char *members(const struct job *job, int kin)
{
	unsigned char *member = ab_arena_alloc(job->arena, job->b.net.n_causes + 1, sizeof *member);
	for (size_t i = 0; member != NULL && i < job->k->n_causes; i++)
		member[i] = job->k->causes[i].kin == kin;
	return member;
}

/* Members among the suspects. Ranked, so the first met is the leader. sum bounds the blame of the whole from
 * above. */
static struct ab_kin_blame count(const struct job *job, int kin, double *sum)
{
	const struct ab_diagnosis *d = job->d;
	struct ab_kin_blame found = { .kin = kin };
	*sum = 0;
	for (size_t i = 0; i < d->n_suspects; i++) {
		if (job->k->causes[d->suspects[i].cause].kin != kin)
			continue;
		if (found.n++ == 0)
			found.leader = i;
		*sum += d->suspects[i].blame;
	}
	return found;
}

static int by_blame(const void *a, const void *b)
{
	const struct ab_kin_blame *x = a, *y = b;
	if (x->blame != y->blame)
		return x->blame < y->blame ? 1 : -1;
	return (x->kin > y->kin) - (x->kin < y->kin);
}

/* Blame of the most blamed cause outside the kin. */
static double most_outside(const struct job *job, int kin)
{
	const struct ab_diagnosis *d = job->d;
	for (size_t i = 0; i < d->n_suspects; i++)
		if (job->k->causes[d->suspects[i].cause].kin != kin)
			return d->suspects[i].blame;
	return 0;
}

static void choose_lead(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	const struct ab_kin_blame *first = d->n_kins > 0 ? &d->kins[0] : NULL;
	if (first == NULL || first->blame < most_outside(job, first->kin) ||
	    d->suspects[first->leader].blame > ONE_OF_MANY * first->blame)
		return;
	d->lead = first;
	/* Whether all is well depends on which member it is: a reading taken wrongly is harmless, a
	 * thermometer that is off is not. */
	d->verdict_benign = job->k->causes[d->suspects[first->leader].cause].benign;
}

/* A kin whose members together could not reach the leading cause is not solved for unless reasons are wanted:
 * a history of thousands is read for its verdicts alone. */
enum ab_status diagnose_kins(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	enum ab_status st = AB_OK;
	d->kins = ab_arena_alloc(job->arena, job->k->n_kins + 1, sizeof *d->kins);
	if (d->kins == NULL)
		return job_no_memory(job);
	for (size_t i = 0; st == AB_OK && i < job->k->n_kins; i++) {
		double sum;
		struct ab_kin_blame kin = count(job, (int)i, &sum);
		if (kin.n < 2 || (!job->options->reasons && sum < d->suspects[0].blame))
			continue;
		unsigned char *member = members(job, (int)i);
		if (member == NULL)
			return job_no_memory(job);
		st = ab_net_blame_any(job->scratch, &job->b.net, member, d->log_evidence, &kin.blame,
		    job->diag);
		kin.low = kin.high = kin.blame;
		d->kins[d->n_kins++] = kin;
	}
	if (st == AB_OK && d->n_kins > 1)
		qsort(d->kins, d->n_kins, sizeof *d->kins, by_blame);
	if (st == AB_OK)
		choose_lead(job);
	return st;
}

enum ab_status diagnose_kin_sets(struct job *job, struct ab_range *range)
{
	const struct ab_diagnosis *d = job->d;
	const unsigned char **set = ab_arena_alloc(job->arena, d->n_kins + 1, sizeof *set);
	range->set_low = ab_arena_alloc(job->arena, d->n_kins + 1, sizeof *range->set_low);
	range->set_high = ab_arena_alloc(job->arena, d->n_kins + 1, sizeof *range->set_high);
	if (set == NULL || range->set_low == NULL || range->set_high == NULL)
		return job_no_memory(job);
	/* Only of the kin that leads: its range chooses the word on the screen. */
	range->n_sets = d->lead != NULL ? 1 : 0;
	range->set = set;
	if (d->lead != NULL && (set[0] = members(job, d->lead->kin)) == NULL)
		return job_no_memory(job);
	return AB_OK;
}

enum ab_status diagnose_kin_without(struct job *job, const double *log_odds, double *blame)
{
	struct ab_net net = job->b.net;
	struct ab_beliefs beliefs = { .present = NULL };
	unsigned char *member = members(job, job->d->lead->kin);
	if (member == NULL)
		return job_no_memory(job);
	if (log_odds != NULL)
		net.log_odds = log_odds;
	enum ab_status st = ab_net_solve_in(job->scratch, &net, &beliefs, job->diag);
	if (st == AB_OK)
		st = ab_net_blame_any(job->scratch, &net, member, beliefs.log_evidence, blame, job->diag);
	return st;
}

struct ab_leading ab_diagnosis_leading(const struct ab_diagnosis *d)
{
	const struct ab_suspect *first = d->suspects;
	const struct ab_kin_blame *kin = d->lead;

	if (d->n_suspects == 0)
		return (struct ab_leading){ .suspect = NULL };
	return kin != NULL ? (struct ab_leading){ &first[kin->leader], kin->blame, kin->low, kin->high }
	    : (struct ab_leading){ first, first->blame, first->blame_low, first->blame_high };
}
