/* practice.c - what acts on a practice that nobody spoke of
 *
 * Salts, dry hops, a tap: not everybody has them. Where nothing that was told shows the practice, and nothing that
 * is wrong is to a real part its doing, only what is usual for others speaks for the change, and advice against it
 * is filler.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

/* So much of the trouble told, or of what was tasted and is still there, it must take away to be worth asking about
 * (estimate). */
static const double REAL_PART = 0.2;

static double of_what_is_wrong(const struct advising *a, int change)
{
	double of = 0, sum = 0;

	if (advising_wrong(a))
		return advising_of_trouble(a, change);
	for (size_t i = 0; i < a->k->n_causes; i++) {
		of += a->there[i];
		sum += a->there[i] * a->effect[(size_t)change * a->k->n_causes + i];
	}
	return of > 0 ? sum / of : 0;
}

static bool practised(const struct advising *a, const struct ab_change *c)
{
	bool any = c->n_practices == 0;

	for (size_t i = 0; !any && i < c->n_practices; i++)
		any = advising_holds_for_most(a, &c->practices[i]);
	return any;
}

enum ab_status advising_practice(struct advising *a, struct ab_diag *diag)
{
	(void)diag;
	for (size_t u = 0; u < a->out->n_items; u++) {
		struct ab_item *item = &a->out->items[u];

		if (item->barred == NULL && !item->owned && !item->unused && item->begun == NULL &&
		    !practised(a, &a->k->changes[u]) && of_what_is_wrong(a, (int)u) < REAL_PART)
			item->barred = "nothing told speaks of what it would change";
	}
	return AB_OK;
}
