/* advise.c - from a brewer's batches to a plan: the steps in order
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

#include <afterboil/calendar.h>

static enum ab_status make_sets(struct advising *a, size_t n, struct ab_diag *diag)
{
	a->n_sets = n;
	a->facts = ab_arena_alloc(a->arena, n, sizeof *a->facts);
	a->batch = ab_arena_alloc(a->arena, n, sizeof *a->batch);
	a->family = ab_arena_alloc(a->arena, n, sizeof *a->family);
	a->weight = ab_arena_alloc(a->arena, n, sizeof *a->weight);
	return a->facts != NULL && a->batch != NULL && a->family != NULL && a->weight != NULL
	    ? AB_OK
	    : advising_nomem(diag);
}

/* Sums to 1, so that loads read "per batch" whatever the number of batches. */
static void scale_weights(struct advising *a)
{
	double sum = 0;

	for (size_t b = 0; b < a->n_sets; b++)
		sum += a->weight[b];
	for (size_t b = 0; b < a->n_sets && sum > 0; b++)
		a->weight[b] /= sum;
}

static void assume(const struct advising *a, struct ab_fact *facts, const char *name, double value)
{
	int slot = ab_fact_slot(a->k->facts, name);

	if (slot >= 0)
		facts[slot] = (struct ab_fact){ .origin = AB_ORIGIN_USUAL, .value = value };
}

/* What the profile tells of every batch: its habits by the physics, where the facts are those of journals,
 * and what changes are chosen by: how much, and into what. */
static enum ab_status assume_profile(const struct advising *a, int family, struct ab_fact *facts,
    struct ab_diag *diag)
{
	const struct ab_profile *p = a->profile;
	struct ab_batch *batch = ab_arena_alloc(a->arena, 1, sizeof *batch);
	enum ab_status st = AB_OK;

	if (batch == NULL)
		return advising_nomem(diag);
	batch->id = "usual";
	batch->family = family + 1;
	if (p != NULL && a->k->facts == ab_fact_defs())
		st = ab_facts_compute(batch, p, &a->k->norms, a->arena, facts, diag);
	if (p != NULL && p->batch_l.known)
		assume(a, facts, "recipe.volume", p->batch_l.v);
	if (p != NULL && p->packs != 0)
		assume(a, facts, "pack.into", p->packs - 1);
	return st;
}

/* The facts of one set, as a batch of this family; from NULL = nothing is known but the profile. All is set
 * as "usual": an imagined batch must not pretend to measurements. A copy, since the case's own facts are not
 * ours to change. */
static enum ab_status imagine(struct advising *a, size_t at, const struct ab_fact *from, int family,
    double weight, struct ab_diag *diag)
{
	struct ab_fact *facts = ab_arena_alloc(a->arena, a->k->facts->n, sizeof *facts);

	if (facts == NULL)
		return advising_nomem(diag);
	if (from != NULL)
		memcpy(facts, from, a->k->facts->n * sizeof *facts);
	else if (assume_profile(a, family, facts, diag) != AB_OK)
		return AB_ENOMEM;
	if (family >= 0)
		assume(a, facts, "recipe.family", family);
	a->facts[at] = facts;
	a->batch[at] = NULL;
	a->family[at] = family;
	a->weight[at] = weight;
	return AB_OK;
}

/* Cases come oldest first; the newest gets weight 1 before scaling. */
static enum ab_status take_cases(struct advising *a, struct ab_diag *diag)
{
	enum ab_status st = make_sets(a, a->n_cases, diag);

	for (size_t b = 0; st == AB_OK && b < a->n_sets; b++) {
		a->facts[b] = a->cases[b]->facts;
		a->batch[b] = a->cases[b]->batch;
		a->family[b] = a->cases[b]->evidence.family;
		a->weight[b] =
		    a->n_sets - 1 - b > ADVISING_FADED ? 0 : pow(ADVISING_DECAY, (double)(a->n_sets - 1 - b));
	}
	return st;
}

/* Advice for one family: its own batches tell what a change would do, the others only how often causes
 * strike. Where there are none of it, all are taken as if they had been of it. */
static enum ab_status take_family(struct advising *a, int family, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;
	size_t n = 0;

	for (size_t b = 0; b < a->n_sets; b++)
		n += a->family[b] == family;
	for (size_t b = 0; b < a->n_sets && st == AB_OK; b++)
		if (n == 0)
			st = imagine(a, b, a->facts[b], family, a->weight[b], diag);
		else if (a->family[b] != family)
			a->weight[b] = 0;
	return st;
}

/* Without batches: the families of the profile by their shares, or one beer of no known family. */
static enum ab_status imagine_families(struct advising *a, struct ab_diag *diag)
{
	const struct ab_profile *p = a->profile;
	size_t n = p != NULL ? p->brews.n : 0;
	enum ab_status st = make_sets(a, n > 0 ? n : 1, diag);

	if (st != AB_OK)
		return st;
	if (n == 0)
		return imagine(a, 0, NULL, -1, 1, diag);
	n = 0;
	for (AB_EACH(const struct ab_brews, brews, p->brews)) {
		double share = brews->share.known ? brews->share.v : 1.0 / (double)a->n_sets;

		if (st == AB_OK)
			st = imagine(a, n++, NULL, brews->family - 1, share, diag);
	}
	return st;
}

/* There are few families: naming them all helps more than a guess at what was meant. */
static enum ab_status no_family(const struct advising *a, const char *word, struct ab_diag *diag)
{
	const char *list = "";

	for (size_t i = 0; i < a->k->n_families && list != NULL; i++)
		list = ab_arena_printf(a->arena, "%s%s%s", list, i > 0 ? ", " : "", a->k->families[i].id);
	if (list == NULL)
		return advising_nomem(diag);
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "there is no style family \"%.40s\"; there are %s", word,
	    list);
}

/* The only place that looks at the family option; afterwards only weights and imagined facts tell of
 * it. */
static enum ab_status make_ready(struct advising *a, struct ab_diag *diag)
{
	const char *word = a->options->family;
	int family = word != NULL ? ab_family_find(a->k, word) : -1;
	enum ab_status st;

	if (word != NULL && family < 0)
		return no_family(a, word, diag);
	a->out = ab_arena_alloc(a->arena, 1, sizeof *a->out);
	if (a->out == NULL)
		return advising_nomem(diag);
	st = a->n_cases > 0 ? take_cases(a, diag) : imagine_families(a, diag);
	if (st == AB_OK && family >= 0)
		st = take_family(a, family, diag);
	if (st == AB_OK)
		scale_weights(a);
	return st;
}

static double room_of(const struct advising *a)
{
	int slot = ab_fact_slot(a->k->facts, "ferment.room");

	if (a->profile != NULL && a->profile->room_c.known)
		return a->profile->room_c.v;
	for (size_t b = a->n_cases; slot >= 0 && b-- > 0;)
		if (AB_FACT_KNOWN(&a->cases[b]->facts[slot]))
			return a->cases[b]->facts[slot].value;
	return (double)NAN;
}

/* Which changes of the profile act on what the one to go on with is most against: by a tenth of it or more
 * (estimate: less would make nobody wait). NULL: short of memory. */
static unsigned char *same_cause(const struct advising *a)
{
	const struct ab_item *item = a->out->after >= 0 ? &a->out->items[a->out->after] : NULL;
	size_t n = a->profile != NULL ? a->profile->changed.n : 0, i = 0;
	unsigned char *same = ab_arena_alloc(a->arena, n + 1, 1);

	if (same == NULL || n == 0 || item == NULL || item->n_because == 0)
		return same;
	for (AB_EACH(const struct ab_changed, c, a->profile->changed)) {
		int u = c->what != NULL ? ab_change_find(a->k, c->what) : -1, cause = item->because[0].cause;

		same[i++] = u >= 0 && u != item->change &&
		    fmax(a->effect[(size_t)u * a->k->n_causes + (size_t)cause],
		    advising_rated(&a->k->changes[u], (size_t)cause, a->facts[a->n_sets - 1])) >= 0.1;
	}
	return same;
}

/* The last of all: it reads the finished plan. */
static enum ab_status list_steps(struct advising *a, struct ab_diag *diag)
{
	struct ab_advice *out = a->out;
	const struct ab_next_of of = { a->with_coming, a->n_with_coming, a->profile, a->options->today, out->next,
		out->after, out->ahead.first ? out->first_check : NULL, a->options->touches, a->options->kept,
		a->options->n_kept, a->dated_ahead, a->n_dated_ahead,
		advising_well(a) && !advising_for_time(a) && out->next_eases == NULL, &a->k->norms, same_cause(a) };

	out->steps = ab_arena_alloc(a->arena, AB_NEXT_MOST, sizeof *out->steps);
	if (out->steps == NULL || of.same == NULL)
		return advising_nomem(diag);
	out->n_steps = ab_next_steps(&of, out->steps);
	out->room_c = room_of(a);
	out->newest_s = a->n_cases > 0 ? a->cases[a->n_cases - 1]->batch->brewed.s : (double)NAN;
	return AB_OK;
}

/* A batch that is dated ahead would be the newest for years: nothing is learned from it before its day is right. */
static enum ab_status set_apart(struct advising *a, struct ab_case *const *cases, size_t n, struct ab_diag *diag)
{
	struct ab_case **kept = ab_arena_alloc(a->arena, n, sizeof *kept),
		       **ahead = ab_arena_alloc(a->arena, n, sizeof *ahead);
	struct ab_case **with_coming = ab_arena_alloc(a->arena, n, sizeof *with_coming);
	double *days_s = ab_arena_alloc(a->arena, n, sizeof *days_s);
	bool any = false;
	const struct ab_when *today = &a->options->today;
	struct ab_dated limits;

	if (kept == NULL || ahead == NULL || with_coming == NULL || days_s == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; i < n; i++)
		days_s[i] = cases[i]->batch->brewed.known ? cases[i]->batch->brewed.s : (double)NAN;
	limits = ab_dated_limits(days_s, n, today->known && !today->relative ? today->s : (double)-INFINITY);
	for (size_t i = 0; i < n; i++)
		if (ab_next_dated_ahead(cases[i]->batch, &limits))
			ahead[a->n_dated_ahead++] = cases[i];
		else {
			with_coming[a->n_with_coming++] = cases[i];
			any = any || !ab_shown_on_paper(cases[i]->batch);
		}
	/* counted as a batch it would thin out what the others tell; alone it has at least its recipe */
	for (size_t i = 0; i < a->n_with_coming; i++)
		if (!any || !ab_shown_on_paper(with_coming[i]->batch))
			kept[a->n_cases++] = with_coming[i];
	a->cases = kept;
	a->with_coming = with_coming;
	a->dated_ahead = ahead;
	return AB_OK;
}

enum ab_status ab_advise(const struct ab_knowledge *k, struct ab_case *const *cases, size_t n_cases,
    const struct ab_profile *profile, const struct ab_advice_options *options, struct ab_arena *arena,
    struct ab_advice **out, struct ab_diag *diag)
{
	/* The order is the data flow told in advising.h: each step reads only what those before it
	 * filled. */
	static enum ab_status (*const steps[])(struct advising *, struct ab_diag *) = {
		advising_replays_open, advising_told, advising_uses, advising_forces, advising_grounds, advising_priors,
		advising_contexts, advising_together, advising_learn, advising_recurrence, advising_seen,
		advising_things, advising_limits, advising_attribution, advising_there,
		advising_idle, advising_effects, advising_practice, advising_problem, advising_choose,
		advising_left_out, advising_order, advising_firmness, advising_ahead, advising_reason };
	struct advising a = { .k = k, .profile = profile, .options = options, .arena = arena };
	enum ab_status st = set_apart(&a, cases, n_cases, diag);

	if (st == AB_OK)
		st = make_ready(&a, diag);

	*out = NULL;
	for (size_t i = 0; st == AB_OK && i < sizeof steps / sizeof *steps; i++) {
		st = steps[i](&a, diag);
		if (st == AB_OK && advising_short_of_memory(&a))
			st = advising_nomem(diag);
	}
	advising_replays_close(&a);
	if (st != AB_OK)
		return st;
	advising_rank(&a);
	st = advising_easing(&a, diag);
	if (st != AB_OK)
		return st;
	advising_first_check(&a);
	st = list_steps(&a, diag);
	*out = st == AB_OK ? a.out : NULL;
	return st;
}
