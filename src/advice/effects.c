/* effects.c - what each change takes away of each cause, for this brewer
 *
 * Batch by batch: where a fact that the change sets and the cause looks at is known, replay; else the rated
 * share of the rules. The batches are weighed by how likely the cause was present in them. A replay never
 * promises more than ADVISING_CEILING.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <string.h>


enum { BY_REPLAY = 1, BY_RATING = 2, BY_FACTS = 4 };

/* Conditions count as well: a setting may switch a sign on or off without being its fact. */
static void note_slots(const struct ab_conds *conds, unsigned char *row)
{
	for (size_t i = 0; i < conds->n; i++)
		row[conds->items[i].slot] = 1;
}

/* Every fact a cause looks at: its signs, its priors' conditions and its gates. A setting of any other
 * fact cannot move it by replay. */
static void note_cause(const struct ab_cause *c, unsigned char *row)
{
	for (size_t i = 0; i < c->n_signs; i++) {
		row[c->signs[i].slot] = 1;
		note_slots(&c->signs[i].when, row);
	}
	for (size_t i = 0; i < c->n_priors; i++)
		note_slots(&c->priors[i].when, row);
	for (size_t i = 0; i < c->n_gates; i++)
		note_slots(&c->gates[i].when, row);
}

/* Does the cause look at a known fact that is reckoned from this one? */
static bool known_behind(const struct advising *a, const unsigned char *row, int slot, const struct ab_fact *facts)
{
	if (!advising_derives(a, slot, -1))
		return false;
	for (size_t d = 0; d < a->k->facts->n; d++)
		if (row[d] && AB_FACT_KNOWN(&facts[d]) && advising_derives(a, slot, (int)d))
			return true;
	return false;
}

static bool claims(const struct ab_change *c, size_t cause)
{
	for (size_t i = 0; i < c->n_prevents; i++)
		if ((size_t)c->prevents[i].cause == cause)
			return true;
	return false;
}

/* Known is asked of the batch as brewed: replay moves facts, it does not invent them. What the physics reckons
 * from a moved fact counts only for causes the change claims to prevent: gas in the bottle also tells of
 * infection, but a beer that was left to finish is not the cleaner for it. */
bool advising_replayable(const struct advising *a, const struct ab_change *c, size_t cause,
    const struct ab_fact *facts)
{
	const unsigned char *row = &a->uses[cause * a->k->facts->n];

	for (size_t s = 0; s < c->n_sets; s++)
		if (AB_FACT_KNOWN(&facts[c->sets[s].slot]) && (row[c->sets[s].slot] ||
		    (claims(c, cause) && known_behind(a, row, c->sets[s].slot, facts))))
			return true;
	return false;
}

/* As with links, the last share whose conditions hold. */
double advising_rated(const struct ab_change *c, size_t cause, const struct ab_fact *facts)
{
	double share = 0;

	for (size_t i = 0; i < c->n_prevents; i++)
		if ((size_t)c->prevents[i].cause == cause && ab_conds_hold(&c->prevents[i].when, facts))
			share = c->prevents[i].share;
	return share;
}

static double probability(double log_odds)
{
	return 1 / (1 + exp(-log_odds));
}

/* A share below 0 (the change makes it worse) counts as none: the planner needs shares from 0 to 1. */
static double fell(double before, double after)
{
	double share = before > 0 ? 1 - after / before : 0;

	return share < 0 ? 0 : share > ADVISING_CEILING ? ADVISING_CEILING : share;
}

double advising_fell(const struct advising *a, size_t b, size_t cause, const struct ab_fact *after)
{
	return fell(a->alone[b * a->k->n_causes + cause],
	    probability(ab_cause_log_odds(&a->k->causes[cause], after, NULL)));
}

/* Share of one cause that changes (n of them) take away in set b. by collects BY_REPLAY and BY_RATING. after:
 * room for the set's facts with all of the changes in force; they are replayed only where a change acts on facts
 * that are known, since the copying costs more than all the rest. Rated shares multiply, as if they acted one after
 * the other; replayed changes act together in one set of facts, which is what makes joint replay better
 * than the sum. */
static double removed(const struct advising *a, size_t b, size_t cause, const int *changes, size_t n,
    struct ab_fact *after, unsigned char *by)
{
	double left = 1;
	bool replay = false;

	assert(b < a->n_sets && cause < a->k->n_causes);
	for (size_t i = 0; i < n; i++) {
		const struct ab_change *change = &a->k->changes[changes[i]];
		double share;

		if (advising_replayable(a, change, cause, a->facts[b])) {
			replay = true;
			continue;
		}
		share = advising_rated(change, cause, a->facts[b]);
		if (share > 0)
			*by |= BY_RATING;
		left *= 1 - share;
	}
	if (replay) {
		*by |= a->batch[b] == NULL && a->k->facts == ab_fact_defs() ? BY_FACTS : BY_REPLAY;
		advising_replay(a, b, cause, changes, n, after);
		left *= 1 - advising_fell(a, b, cause, after);
	}
	return 1 - left;
}

/* Without cases nothing was diagnosed: then how often it strikes stands in. */
double advising_present_in(const struct advising *a, size_t b, size_t cause)
{
	return a->weight[b] * (a->n_cases > 0 ? a->present[b][cause] : a->recur[cause]);
}

/* Those of the changes that could take something of the cause. A cause is replayed with them alone, so that
 * what it loses to a set is what it loses to them. */
static size_t touching(const struct advising *a, const int *changes, size_t n, size_t cause, int *list)
{
	size_t m = 0;

	for (size_t i = 0; i < n; i++)
		if (a->touches[(size_t)changes[i] * a->k->n_causes + cause])
			list[m++] = changes[i];
	return m;
}

/* seen > 0 wherever w > 0, since seen is the sum of the same w. */
static double expected_share(const struct advising *a, size_t cause, const int *list, size_t m, unsigned char *by)
{
	double share = 0;

	for (size_t b = 0; m > 0 && b < a->n_sets; b++) {
		double w = advising_present_in(a, b, cause);

		if (w > 0)
			share += w * removed(a, b, cause, list, m, a->scratch, by) / a->seen[cause];
	}
	return share;
}

/* As tables.c reckons it: each change that was tried does of its work what it was seen to do. From `at` on in the
 * list such changes are still to be looked at; few ever are. */
static double learned_share(const struct advising *a, size_t cause, int *list, size_t m, size_t at, unsigned char *by)
{
	double all, without, held;
	int tried;

	while (at < m && !advising_tried(a, (size_t)list[at], cause))
		at++;
	all = at < m ? learned_share(a, cause, list, m, at + 1, by) : expected_share(a, cause, list, m, by);
	if (at == m)
		return all;
	tried = list[at];
	held = a->held[(size_t)tried * a->k->n_causes + cause];
	memmove(&list[at], &list[at + 1], (m - at - 1) * sizeof *list);
	without = learned_share(a, cause, list, m - 1, at, by);
	memmove(&list[at + 1], &list[at], (m - at - 1) * sizeof *list);
	list[at] = tried;
	return advising_as_learned(all, without, held);
}

/* by (n_causes) may not be NULL here. The touches table spares most of the work: few changes reach few causes. */
static void shares_of(const struct advising *a, const int *changes, size_t n, double *share,
    unsigned char *by)
{
	for (size_t i = 0; i < a->k->n_causes; i++) {
		size_t m = a->load[i] > 0 ? touching(a, changes, n, i, a->list) : 0;

		share[i] = m > 0 ? learned_share(a, i, a->list, m, 0, &by[i]) : 0;
	}
}

double advising_takes(const struct advising *a, size_t b, size_t cause, int change)
{
	unsigned char by = 0;

	return a->touches[(size_t)change * a->k->n_causes + cause]
	    ? removed(a, b, cause, &change, 1, a->scratch, &by)
	    : 0;
}

double advising_joint(const struct advising *a, const int *changes, size_t n, double *share)
{
	double sum = 0;

	shares_of(a, changes, n, share, a->spare);
	for (size_t i = 0; i < a->k->n_causes; i++)
		sum += a->load[i] * share[i];
	return sum;
}

/* Wider than replayable: by the rules alone, whatever the batch knows. */
static bool touches(const struct advising *a, const struct ab_change *c, size_t cause)
{
	const unsigned char *row = &a->uses[cause * a->k->facts->n];

	for (size_t s = 0; s < c->n_sets; s++)
		if (row[c->sets[s].slot])
			return true;
	return claims(c, cause);
}

/* The label follows the gain, for it tells the reader how far to trust the figure. */
static void effects_of(struct advising *a, size_t u)
{
	struct ab_item *item = &a->out->items[u];
	size_t n_causes = a->k->n_causes;
	double replayed = 0, rated = 0, *effect = &a->effect[u * n_causes];
	unsigned char by = 0, *basis = &a->basis[u * n_causes];
	int change = (int)u;

	shares_of(a, &change, 1, effect, basis);
	for (size_t i = 0; i < n_causes; i++) {
		double gain = a->load[i] * effect[i];

		item->gain += gain;
		item->learned = item->learned || (gain > 0 && advising_tried(a, u, i));
		by |= basis[i];
		if (basis[i] & (BY_REPLAY | BY_FACTS))
			replayed += gain;
		if (basis[i] & BY_RATING)
			rated += gain;
	}
	if (item->gain > 0)   /* by what brought the gain; where nothing did, by what was tried */
		by = (unsigned char)((replayed > 0 ? by & (BY_REPLAY | BY_FACTS) : 0) |
		    (rated > 0 ? BY_RATING : 0));
	item->basis = by == BY_RATING || by == 0 ? AB_BASIS_RATED : by & BY_RATING ? AB_BASIS_MIXED
	    : by & BY_FACTS ? AB_BASIS_FACTS : AB_BASIS_REPLAY;
}

/* Arrays by [change][cause] or [set][cause]: the inner loops run over causes. */
static bool make_room(struct advising *a)
{
	size_t n_causes = a->k->n_causes, n_changes = a->k->n_changes, n_facts = a->k->facts->n;

	a->uses = ab_arena_alloc(a->arena, n_causes * n_facts, 1);
	a->looks = ab_arena_alloc(a->arena, n_causes, sizeof *a->looks);
	a->touches = ab_arena_alloc(a->arena, n_changes * n_causes, 1);
	a->glass = ab_arena_alloc(a->arena, n_facts, 1);
	a->alone = ab_arena_alloc(a->arena, a->n_sets * n_causes, sizeof *a->alone);
	a->seen = ab_arena_alloc(a->arena, n_causes, sizeof *a->seen);
	a->effect = ab_arena_alloc(a->arena, n_changes * n_causes, sizeof *a->effect);
	a->basis = ab_arena_alloc(a->arena, n_changes * n_causes, 1);
	a->scratch = ab_arena_alloc(a->arena, n_facts, sizeof *a->scratch);
	a->spare = ab_arena_alloc(a->arena, n_causes, 1);
	a->list = ab_arena_alloc(a->arena, n_changes, sizeof *a->list);
	return a->uses != NULL && a->glass != NULL && a->looks != NULL && a->touches != NULL && a->alone != NULL &&
	    a->seen != NULL && a->effect != NULL && a->basis != NULL && a->scratch != NULL && a->spare != NULL &&
	    a->list != NULL;
}

static int *list_of(const struct advising *a, size_t cause)
{
	const unsigned char *row = &a->uses[cause * a->k->facts->n];
	int *list = ab_arena_alloc(a->arena, a->k->facts->n + 1, sizeof *list);
	size_t n = 0;

	for (size_t s = 0; list != NULL && s < a->k->facts->n; s++)
		if (row[s])
			list[n++] = (int)s;
	if (list != NULL)
		list[n] = -1;
	return list;
}

/* What a tasting told is no part of the brewing: that only the tap has it makes an unclean line likely, but clean
 * it, and the tap no longer has it. Held fast, such facts would let no change seem to help where the culprit is as
 * good as found. */
static void note_glass(struct advising *a)
{
	static const char of_tasting[] = "taste.";

	for (size_t s = 0; s < a->k->facts->n; s++)
		a->glass[s] = strncmp(a->k->facts->defs[s].name, of_tasting, sizeof of_tasting - 1) == 0;
}

/* P(cause) by the brewing alone. */
static void weigh_alone(struct advising *a, size_t b)
{
	memcpy(a->scratch, a->facts[b], a->k->facts->n * sizeof *a->scratch);
	for (size_t s = 0; s < a->k->facts->n; s++)
		if (a->glass[s])
			a->scratch[s] = (struct ab_fact){ .origin = AB_ORIGIN_UNKNOWN };
	ab_alone(a->k, a->scratch, &a->alone[b * a->k->n_causes]);
}

/* Filled once: planning asks these tables thousands of times. */
enum ab_status advising_uses(struct advising *a, struct ab_diag *diag)
{
	const struct ab_knowledge *k = a->k;

	if (!make_room(a))
		return advising_nomem(diag);
	note_glass(a);
	for (size_t b = 0; b < a->n_sets; b++)
		weigh_alone(a, b);
	for (size_t i = 0; i < k->n_causes; i++) {
		note_cause(&k->causes[i], &a->uses[i * k->facts->n]);
		a->looks[i] = list_of(a, i);
		if (a->looks[i] == NULL)
			return advising_nomem(diag);
		for (size_t u = 0; u < k->n_changes; u++)
			a->touches[u * k->n_causes + i] = touches(a, &k->changes[u], i);
	}
	return AB_OK;
}

enum ab_status advising_seen(struct advising *a, struct ab_diag *diag)
{
	(void)diag;
	for (size_t i = 0; i < a->k->n_causes; i++)
		for (size_t b = 0; b < a->n_sets; b++)
			a->seen[i] += advising_present_in(a, b, i);
	return AB_OK;
}

enum ab_status advising_effects(struct advising *a, struct ab_diag *diag)
{
	(void)diag;
	for (size_t u = 0; u < a->k->n_changes; u++)
		effects_of(a, u);
	return AB_OK;
}
