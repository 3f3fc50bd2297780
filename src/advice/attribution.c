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

#include <math.h>
#include <string.h>

#include "advice/grounds.h"

const double advising_rules_batches = 4, advising_reported = 1.0 / 3;

/* A case with the blame it is dealt by, and what was found in it. only: n_faults, the faults that are dealt out;
 * NULL = all. */
struct dealt {
	const struct ab_case *c;
	const double *blame;
	const struct ground_found *found;
	size_t n_found;
	const bool *only;
};

static struct dealt dealt_of(const struct advising *a, size_t b, const struct ab_case *c, const double *blame)
{
	const size_t *from = a->grounds->found_from + b;

	return (struct dealt){ c, blame, from[1] > from[0] ? a->grounds->found + from[0] : NULL, from[1] - from[0],
		NULL };
}

/* How surely the cause, where it is, makes the fault at least noticeable in such a batch: tail[1]. */
static double strength(const struct advising *a, const struct ground_link *link)
{
	return a->k->causes[link->cause].links[link->link].tail[1];
}

/* Adds one fault's load of one batch to the causes' parts. share is scratch, n_causes long. Shares
 * follow blame times strength, not blame alone: a surely present cause that hardly makes this fault
 * should not carry it. */
static void deal_out(
    const struct advising *a, const struct dealt *of, const struct ground_found *found, double *share, double *part)
{
	/* a trouble told that is a false alarm is a trouble all the same, and goes when the alarm is found out */
	bool benign_too = of->c == a->told;
	const struct ground_link *link = found->n > 0 ? a->grounds->links + found->first : NULL;
	double sum = found->leak >= 0 ? a->k->faults[found->fault].leaks[found->leak].tail[1] : 0;

	for (size_t i = 0; i < found->n; i++) {
		share[i] = of->blame != NULL ? of->blame[link[i].cause] * strength(a, &link[i]) : 0;
		sum += share[i];
	}
	for (size_t i = 0; sum > 0 && i < found->n; i++)
		part[link[i].cause] += a->k->causes[link[i].cause].benign && !benign_too ? 0
		    : of->c->fault_load[found->fault] * share[i] / sum;
}

/* All faults of a case, or those named. */
static void deal_case(const struct advising *a, const struct dealt *of, double *share, double *part)
{
	memset(part, 0, a->k->n_causes * sizeof *part);
	for (size_t i = 0; i < of->n_found; i++)
		if (of->only == NULL || of->only[of->found[i].fault])
			deal_out(a, of, &of->found[i], share, part);
}

/* An owned change that is in use lowers what the rules expect, where this brewer's facts do not tell by
 * themselves. The newest batch's facts stand for today's brewery. Where they let the change be
 * replayed, they show its effect already, and it must not count twice; nor one that was noted when it came, for how
 * often the cause strikes was learned with it (recurrence.c). */
static double left_by_owned(const struct advising *a, size_t cause)
{
	const struct ab_fact *facts = a->facts[a->n_sets - 1];
	double left = 1;

	for (size_t i = 0; i < a->grounds->n_owned; i++) {
		const struct ab_change *c = &a->k->changes[a->grounds->owned[i]];

		if (!advising_replayable(a, c, cause, facts))
			left *= 1 - advising_rated(c, cause, facts);
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

/* Was it tasted, and is known by how much it suffered? */
static bool tells(const struct ab_case *c)
{
	return c->tasted && c->fault_load != NULL;
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
		double w = a->grounds->age[b];
		struct dealt of = dealt_of(a, b, a->cases[b], a->blame[b]);

		if (!tells(a->cases[b]))
			continue;
		deal_case(a, &of, share, part);
		for (size_t i = 0; i < n; i++)
			if (b >= a->turn[i]) {
				a->loads[i].weight += w;
				a->loads[i].seen += w * part[i];
			}
	}
	if (a->told != NULL) {
		struct dealt of = dealt_of(a, a->n_cases, a->told, a->told->diagnosis->blame);

		deal_case(a, &of, share, a->told_part);
	}
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

/* No estimate moves what is still tasted: reckoned once, not in every world. */
enum ab_status advising_there(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->n_causes;
	double *part = ab_arena_alloc(a->arena, n, sizeof *part),
	    *share = ab_arena_alloc(a->arena, n, sizeof *share);
	bool *only = ab_arena_alloc(a->arena, a->k->n_faults, sizeof *only);

	a->there = ab_arena_alloc(a->arena, n, sizeof *a->there);
	if (part == NULL || share == NULL || only == NULL || a->there == NULL)
		return advising_nomem(diag);
	for (size_t f = 0; f < a->k->n_faults; f++)
		only[f] = advising_tasted(a, (int)f) == ADVISING_THERE;
	for (size_t b = 0; b < a->n_cases; b++) {
		struct dealt of = dealt_of(a, b, a->cases[b], a->blame[b]);

		of.only = only;
		if (tells(a->cases[b]))
			deal_case(a, &of, share, part);
		for (size_t i = 0; tells(a->cases[b]) && i < n; i++)
			a->there[i] += b >= a->turn[i] ? a->grounds->age[b] * part[i] : 0;
	}
	return AB_OK;
}
