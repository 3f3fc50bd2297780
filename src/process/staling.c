/* staling.c - oxygen times time times warmth: stale.dose and stale.outlook
 *
 * mg/L of oxygen.total times days at 20 C of store.equivalent-days (Q10 2.2, its range 2 to 3 is in that
 * fact's uncertainty: storage.c). An ordinal score, no chemistry: trust C, "rule of thumb". What a style
 * family bears is trade knowledge: rules/families.xml. Formulas and sources: staling.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/staling.h"
#include <assert.h>
#include "process/words.h"
#include "process/working.h"

const char *const ab_words_outlook[] = { "fresh", "fading", "stale", "long-stale", NULL };

static const double LEAST_MGL = 0.5;

/* What seeps in over the time was there for half of it on the mean. */
double ab_stale_dose(double at_start_mgl, double closure_mgl, double equivalent_days)
{
	return (at_start_mgl + closure_mgl / 2) * equivalent_days;
}

/* Even beer without oxygen ages: it counts as if it had LEAST_MGL, or a clean beer would stay fresh for
 * ever. */
int ab_stale_outlook(double dose, double equivalent_days, const struct ab_freshness_norm *norm)
{
	const double from[] = { norm->fading, norm->stale, norm->long_stale };
	double counted = fmax(dose, LEAST_MGL * equivalent_days);
	int place = AB_OUTLOOK_FRESH;

	assert(norm->fading > 0);
	while (place < AB_OUTLOOK_LONG_STALE && counted >= from[place])
		place++;
	return place;
}

/* What the family bears; that of "other" for one that is not told. NULL where the rules do not say. */
static const struct ab_freshness_norm *freshness_of(const struct ab_work *w)
{
	int family = ab_known(w, AB_F_RECIPE_FAMILY) ? ab_word(w, AB_F_RECIPE_FAMILY) : AB_FAMILY_OTHER;
	const struct ab_freshness_norm *norm = (size_t)family <= w->norms->n_freshness
	    ? &w->norms->freshness[family - 1] : NULL;

	return norm != NULL && norm->fading > 0 ? norm : NULL;
}

void ab_facts_staling(struct ab_work *w)
{
	const struct ab_fact *oxygen = &w->facts[AB_F_OXYGEN_TOTAL], *days = &w->facts[AB_F_STORE_EQUIVALENT];
	double late = ab_known(w, AB_F_OXYGEN_CLOSURE) ? ab_value(w, AB_F_OXYGEN_CLOSURE) : 0;
	struct ab_basis basis = ab_basis_new();

	if (!AB_FACT_KNOWN(oxygen) || !AB_FACT_KNOWN(days))
		return;
	/* The total is less what yeast took up; the closure's part alone may exceed it. */
	late = fmin(late, oxygen->value);
	ab_rest_on_fact(&basis, oxygen);
	ab_rest_on_fact(&basis, days);
	double dose = ab_stale_dose(oxygen->value - late, late, days->value);
	double u = hypot(oxygen->u * days->value, days->u * (oxygen->value - late / 2));
	ab_set(w, AB_F_STALE_DOSE, &basis, dose, u, 'C',
	    "(%.2f mg/L from the start and half of the %.2f that came in meanwhile) x %.0f days at 20 C",
	    oxygen->value - late, late, days->value);
	const struct ab_freshness_norm *norm = freshness_of(w);
	if (norm == NULL)
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_RECIPE_FAMILY]);
	ab_set(w, AB_F_STALE_OUTLOOK, &basis, ab_stale_outlook(dose, days->value, norm), 0, 'C',
	    "%.0f mg d/L, and %.0f days at 20 C; such beer fades from about %.0f on, is stale from %.0f on and "
	    "long stale from %.0f on", dose, days->value, norm->fading, norm->stale, norm->long_stale);
}
