/* attribution.c - the flaw load each cause is expected to bring per batch: what the rules expect, and what
 * this brewer's own glasses showed
 *
 * What tasters found in a batch is dealt out among the causes by blame and strength, each fault by itself; a
 * leak takes its part, and what a benign explanation takes is nobody's fault. The mean over the batches since
 * the cause was last worked on is mixed with what the rules expect, which counts as advising_rules_batches batches.
 * The rules speak of a trained taster and of causes clearly there: multiplied out they predict faults two to
 * six times as often as home brewers report them (working frequencies, estimate), so their part is taken at
 * advising_reported of its size. Both are redrawn with the other estimates (firmness.c).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <string.h>

const double advising_rules_batches = 4, advising_reported = 1.0 / 3;

/* How surely the cause, where it is, makes the fault at least noticeable in such a batch; 0 without a
 * link. Later links override earlier ones: the rules list the general case first. tail[1]: P(at least
 * noticeable). */
static double strength(const struct advising *a, size_t cause, const struct ab_fact *facts, size_t fault)
{
	const struct ab_cause *c = &a->k->causes[cause];
	double tail = 0;

	for (size_t i = 0; i < c->n_links; i++)
		if ((size_t)c->links[i].fault == fault && ab_conds_hold(&c->links[i].when, facts))
			tail = c->links[i].tail[1];
	return tail;
}

/* As with links, the last leak whose conditions hold is the one that counts. */
static double leak(const struct advising *a, const struct ab_fact *facts, size_t fault)
{
	const struct ab_fault *f = &a->k->faults[fault];
	double tail = 0;

	for (size_t i = 0; i < f->n_leaks; i++)
		if (ab_conds_hold(&f->leaks[i].when, facts))
			tail = f->leaks[i].tail[1];
	return tail;
}

/* A case with the blame it is dealt by. */
struct dealt { const struct ab_case *c; const struct ab_fact *facts; const double *blame; };

/* Adds one fault's load of one batch to the causes' parts. share is scratch, n_causes long. Shares
 * follow blame times strength, not blame alone: a surely present cause that hardly makes this fault
 * should not carry it. */
static void deal_out(const struct advising *a, const struct dealt *of, size_t fault, double *share, double *part)
{
	/* a trouble told that is a false alarm is a trouble all the same, and goes when the alarm is found out */
	bool benign_too = of->c == a->told;
	double sum = leak(a, of->facts, fault);

	assert(fault < a->k->n_faults);
	for (size_t i = 0; i < a->k->n_causes; i++) {
		share[i] = of->blame != NULL ? of->blame[i] * strength(a, i, of->facts, fault) : 0;
		sum += share[i];
	}
	for (size_t i = 0; sum > 0 && i < a->k->n_causes; i++)
		part[i] += a->k->causes[i].benign && !benign_too ? 0 : of->c->fault_load[fault] * share[i] / sum;
}

/* All faults of a case. */
static void deal_case(const struct advising *a, const struct dealt *of, double *share, double *part)
{
	memset(part, 0, a->k->n_causes * sizeof *part);
	for (size_t f = 0; of->c->tasted && of->c->fault_load != NULL && f < a->k->n_faults; f++)
		if (of->c->fault_load[f] > 0)
			deal_out(a, of, f, share, part);
}

static bool made(const struct advising *a, int change)
{
	size_t at = advising_adopted(a, change);

	return at > 0 && at < a->n_cases;
}

/* An owned change that is in use lowers what the rules expect, where this brewer's facts do not tell by
 * themselves. The newest batch's facts stand for today's brewery. Where they let the change be
 * replayed, they show its effect already, and it must not count twice; nor one that was noted when it came, for how
 * often the cause strikes was learned with it (recurrence.c). */
static double left_by_owned(const struct advising *a, size_t cause)
{
	const struct ab_fact *facts = a->facts[a->n_sets - 1];
	double left = 1;

	if (a->profile == NULL)
		return 1;
	for (AB_EACH(const struct ab_owns, owns, a->profile->owns)) {
		int u = ab_change_find(a->k, owns->change);

		if (u >= 0 && owns->unused != AB_YES && !made(a, u) &&
		    !advising_replayable(a, &a->k->changes[u], cause, facts))
			left *= 1 - advising_rated(&a->k->changes[u], cause, facts);
	}
	return left;
}

/* A beta-binomial in spirit: so many imagined batches of the rules' expectation beside the real ones. */
double advising_load(const struct advising *a, size_t cause, double batches, double reported)
{
	const struct advising_loads *l = &a->loads[cause];

	return (batches * l->rules * reported + l->seen) / (batches + l->weight);
}

/* P(a flaw | it strikes) follows the load: what is reported less heavily than expected is also noticed
 * less often. */
static void settle(struct advising *a, size_t cause)
{
	double expected = a->recur[cause] * a->brings[cause];

	a->loads[cause].rules = expected * left_by_owned(a, cause);
	a->load[cause] = advising_load(a, cause, advising_rules_batches, advising_reported);
	if (expected > 0)
		a->spoils[cause] = fmin(1, a->spoils[cause] * a->load[cause] / expected);
}

/* Insertion keeps equal loads in the order of the rules, so reports do not change with the library's
 * qsort. */
static void sort_recurrences(struct ab_recurrence *r, size_t n)
{
	for (size_t i = 1; i < n; i++) {
		struct ab_recurrence x = r[i];
		size_t j = i;

		for (; j > 0 && r[j - 1].load < x.load; j--)
			r[j] = r[j - 1];
		r[j] = x;
	}
}

/* The loads go out, heaviest first. load_before is their sum: every share shown later is a share of it. */
static void give_loads(struct advising *a)
{
	struct ab_advice *out = a->out;

	for (size_t i = 0; i < out->n_recurrences; i++) {
		out->recurrences[i].load = a->load[out->recurrences[i].cause];
		out->load_before += out->recurrences[i].load;
	}
	sort_recurrences(out->recurrences, out->n_recurrences);
}

/* A batch before the turn of a cause still tells of the other causes; hence the weight a cause. */
enum ab_status advising_attribution(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->n_causes;
	double *part = ab_arena_alloc(a->arena, n, sizeof *part),
	    *share = ab_arena_alloc(a->arena, n, sizeof *share);

	a->loads = ab_arena_alloc(a->arena, n, sizeof *a->loads);
	if (part == NULL || share == NULL || a->loads == NULL)
		return advising_nomem(diag);
	for (size_t b = 0; b < a->n_cases; b++) {
		double w = pow(ADVISING_DECAY, (double)(a->n_cases - 1 - b));

		if (!a->cases[b]->tasted || a->cases[b]->fault_load == NULL)
			continue;
		deal_case(a, &(struct dealt){ a->cases[b], a->facts[b], a->blame[b] }, share, part);
		for (size_t i = 0; i < n; i++)
			if (b >= a->turn[i]) {
				a->loads[i].weight += w;
				a->loads[i].seen += w * part[i];
			}
	}
	if (a->told != NULL)
		deal_case(a, &(struct dealt){ a->told, a->told->facts, a->told->diagnosis->blame }, share, a->told_part);
	advising_told_causes(a);
	for (size_t i = 0; i < n; i++) {
		if (a->told != NULL) {
			a->loads[i].weight += ADVISING_TOLD;
			a->loads[i].seen += ADVISING_TOLD * a->told_part[i];
		}
		settle(a, i);
	}
	a->leak_clean = pow(a->leak_clean, advising_reported);
	give_loads(a);
	return AB_OK;
}
