/* compare.c - two brews side by side
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/compare.h>

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Further apart than chance: twice the standard uncertainty of the difference. */
#define BEYOND 2.0
/* A difference of blame worth a line. */
#define APART 0.1

/* Standard uncertainties add in squares; numbers without any are counts, and differ when they differ. */
static bool differs(const struct ab_fact_def *def, const struct ab_fact *a, const struct ab_fact *b)
{
	double u = sqrt(a->u * a->u + b->u * b->u), apart = fabs(a->value - b->value);

	return def->kind == AB_FACT_NUMBER ? apart > fmax(BEYOND * u, 1e-9) : a->value != b->value;
}

static double chance(const struct ab_cause *cause, const struct ab_fact *facts)
{
	return 1 / (1 + exp(-ab_cause_log_odds(cause, facts, NULL)));
}

static double blame_of(const struct ab_case *c, size_t cause)
{
	return c->diagnosis->blame != NULL ? c->diagnosis->blame[cause] : 0;
}

/* Everything as in a, but for this one fact; facts is a's, and is so again afterwards. base: the chances
 * with nothing exchanged. */
static void weigh(const struct ab_knowledge *k, const struct ab_comparison *c, struct ab_fact *facts,
    const double *base, struct ab_compare_fact *out)
{
	struct ab_fact kept = facts[out->slot];
	double most = 0;

	facts[out->slot] = c->b->facts[out->slot];
	out->cause = -1;
	for (size_t i = 0; i < k->n_causes; i++) {
		double p = chance(&k->causes[i], facts), moved = fabs(p - base[i]);
		double blame = fmax(blame_of(c->a, i), blame_of(c->b, i));

		out->any += moved;
		out->blamed += moved * blame;
		if (moved * (blame + APART) <= most)
			continue;
		most = moved * (blame + APART);
		out->cause = (int)i;
		out->p_a = base[i];
		out->p_b = p;
	}
	facts[out->slot] = kept;
}

static int by_weight(const void *x, const void *y)
{
	const struct ab_compare_fact *a = x, *b = y;

	if (a->blamed != b->blamed)
		return a->blamed < b->blamed ? 1 : -1;
	if (a->any != b->any)
		return a->any < b->any ? 1 : -1;
	return a->slot - b->slot;
}

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while comparing two batches");
}

static enum ab_status compare_facts(const struct ab_knowledge *k, struct ab_comparison *c,
    struct ab_arena *arena, struct ab_diag *diag)
{
	struct ab_fact *facts = ab_arena_alloc(arena, k->facts->n, sizeof *facts);
	double *base = ab_arena_alloc(arena, k->n_causes, sizeof *base);

	c->facts = ab_arena_alloc(arena, k->facts->n, sizeof *c->facts);
	if (facts == NULL || base == NULL || c->facts == NULL)
		return nomem(diag);
	for (size_t i = 0; i < k->facts->n; i++)
		facts[i] = c->a->facts[i];
	for (size_t i = 0; i < k->n_causes; i++)
		base[i] = chance(&k->causes[i], facts);
	for (size_t i = 0; i < k->facts->n; i++) {
		const struct ab_fact *a = &c->a->facts[i], *b = &c->b->facts[i];

		if (!AB_FACT_KNOWN(a) || !AB_FACT_KNOWN(b)) {
			c->one_sided += AB_FACT_KNOWN(a) || AB_FACT_KNOWN(b);
			continue;
		}
		if (!differs(&k->facts->defs[i], a, b)) {
			c->same++;
			continue;
		}
		c->facts[c->n_facts] = (struct ab_compare_fact){ .slot = (int)i };
		weigh(k, c, facts, base, &c->facts[c->n_facts++]);
	}
	qsort(c->facts, c->n_facts, sizeof *c->facts, by_weight);
	return AB_OK;
}

static double load_apart(const struct ab_comparison *c, int fault)
{
	return fabs(c->a->fault_load[fault] - c->b->fault_load[fault]);
}

/* Few faults are found in any batch: put in order as they come. */
static enum ab_status compare_faults(const struct ab_knowledge *k, struct ab_comparison *c,
    struct ab_arena *arena, struct ab_diag *diag)
{
	c->faults = ab_arena_alloc(arena, k->n_faults, sizeof *c->faults);
	if (c->faults == NULL)
		return nomem(diag);
	for (size_t f = 0; f < k->n_faults; f++) {
		double a = c->a->fault_intensity[f], b = c->b->fault_intensity[f];
		size_t j = c->n_faults;

		if (!(a > 0 || b > 0))
			continue;
		for (; j > 0 && load_apart(c, c->faults[j - 1].fault) < load_apart(c, (int)f); j--)
			c->faults[j] = c->faults[j - 1];
		c->faults[j] = (struct ab_compare_fault){ (int)f, a, b };
		c->n_faults++;
	}
	return AB_OK;
}

static enum ab_status compare_causes(const struct ab_knowledge *k, struct ab_comparison *c,
    struct ab_arena *arena, struct ab_diag *diag)
{
	c->causes = ab_arena_alloc(arena, k->n_causes, sizeof *c->causes);
	if (c->causes == NULL)
		return nomem(diag);
	for (size_t i = 0; i < k->n_causes; i++) {
		double a = blame_of(c->a, i), b = blame_of(c->b, i);
		size_t j = c->n_causes;

		if (!(fabs(a - b) >= APART))
			continue;
		for (; j > 0 && fabs(c->causes[j - 1].a - c->causes[j - 1].b) < fabs(a - b); j--)
			c->causes[j] = c->causes[j - 1];
		c->causes[j] = (struct ab_compare_cause){ (int)i, a, b };
		c->n_causes++;
	}
	return AB_OK;
}

enum ab_status ab_compare(const struct ab_knowledge *k, const struct ab_case *a, const struct ab_case *b,
    struct ab_arena *arena, struct ab_comparison **out, struct ab_diag *diag)
{
	struct ab_comparison *c = ab_arena_alloc(arena, 1, sizeof *c);
	enum ab_status st;

	assert(a->facts != NULL && b->facts != NULL);
	*out = NULL;
	if (c == NULL)
		return nomem(diag);
	c->a = a;
	c->b = b;
	st = compare_facts(k, c, arena, diag);
	if (st == AB_OK)
		st = compare_faults(k, c, arena, diag);
	if (st == AB_OK)
		st = compare_causes(k, c, arena, diag);
	if (st == AB_OK)
		*out = c;
	return st;
}
