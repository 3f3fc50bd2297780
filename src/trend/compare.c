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

/* One of the two batches, and the chances of all causes with nothing exchanged. facts is changed and put back. */
struct side { struct ab_fact *facts; double *base; };

/* Everything as in one of them, but for this one fact, which is as in the other. back: the first is the other. */
static void exchange(const struct ab_knowledge *k, const struct ab_comparison *c, const struct side *side, bool back,
    struct ab_compare_fact *out)
{
	struct ab_fact kept = side->facts[out->slot];
	double most = 0;

	side->facts[out->slot] = (back ? c->a : c->b)->facts[out->slot];
	out->cause = -1;
	for (size_t i = 0; i < k->n_causes; i++) {
		double was = side->base[i], is = chance(&k->causes[i], side->facts), moved = fabs(is - was);
		double blame = fmax(blame_of(c->a, i), blame_of(c->b, i));

		out->any += moved;
		out->blamed += moved * blame;
		if (moved * (blame + APART) <= most)
			continue;
		most = moved * (blame + APART);
		out->cause = (int)i;
		out->p_a = back ? is : was;
		out->p_b = back ? was : is;
	}
	side->facts[out->slot] = kept;
}

static struct ab_compare_fact weigh(
    const struct ab_knowledge *k, const struct ab_comparison *c, const struct side sides[2], int slot)
{
	struct ab_compare_fact there = { .slot = slot }, back = there;

	exchange(k, c, &sides[0], false, &there);
	exchange(k, c, &sides[1], true, &back);
	return back.blamed > there.blamed || (back.blamed >= there.blamed && back.any > there.any) ? back : there;
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

static bool lay_side(const struct ab_knowledge *k, const struct ab_case *c, struct ab_arena *arena, struct side *side)
{
	*side = (struct side){ ab_arena_alloc(arena, k->facts->n, sizeof *side->facts),
		ab_arena_alloc(arena, k->n_causes, sizeof *side->base) };
	if (side->facts == NULL || side->base == NULL)
		return false;
	for (size_t i = 0; i < k->facts->n; i++)
		side->facts[i] = c->facts[i];
	for (size_t i = 0; i < k->n_causes; i++)
		side->base[i] = chance(&k->causes[i], side->facts);
	return true;
}

static enum ab_status compare_facts(const struct ab_knowledge *k, struct ab_comparison *c,
    struct ab_arena *arena, struct ab_diag *diag)
{
	struct side sides[2];

	c->facts = ab_arena_alloc(arena, k->facts->n, sizeof *c->facts);
	c->untold = ab_arena_alloc(arena, k->facts->n, sizeof *c->untold);
	if (!lay_side(k, c->a, arena, &sides[0]) || !lay_side(k, c->b, arena, &sides[1]) || c->facts == NULL ||
	    c->untold == NULL)
		return nomem(diag);
	for (size_t i = 0; i < k->facts->n; i++) {
		const struct ab_fact *a = &c->a->facts[i], *b = &c->b->facts[i];

		if (!AB_FACT_KNOWN(a) && !AB_FACT_KNOWN(b))
			continue;
		if (AB_FACT_KNOWN(a) && AB_FACT_KNOWN(b) && !differs(&k->facts->defs[i], a, b)) {
			c->same++;
			continue;
		}
		struct ab_compare_fact fact = weigh(k, c, sides, (int)i);
		if (AB_FACT_KNOWN(a) && AB_FACT_KNOWN(b)) {
			c->facts[c->n_facts++] = fact;
			continue;
		}
		c->one_sided++;
		if (fact.blamed > 0)
			c->untold[c->n_untold++] = fact;
	}
	qsort(c->facts, c->n_facts, sizeof *c->facts, by_weight);
	qsort(c->untold, c->n_untold, sizeof *c->untold, by_weight);
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
