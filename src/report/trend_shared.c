/* trend_shared.c - what the bad batches share, told with how often chance alone would bring it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/trend_telling.h"

#include "report/saying.h"

enum { MOST_COMMON = 3 };

/* Could the most uneven split these counts allow be told from chance (1 in 20)? If none could, "nothing stands
 * out" would be no news. */
static bool can_tell_common(const struct telling *t)
{
	for (size_t i = 0; i < t->trend->n_common; i++)
		if (t->trend->common[i].p_least <= 0.05)
			return true;
	return false;
}

/* Two names of one thing, or two things that always came together but for a batch: told once. */
static void say_beside(const struct telling *t, const struct ab_common *lead)
{
	for (size_t i = 0, told = 0; i < t->trend->n_common && told < MOST_COMMON; i++) {
		const struct ab_common *c = &t->trend->common[i];
		if (c->beside != lead)
			continue;
		told++;
		page_para(t->p, 4, QUIET,
		    page_text(t->p,
			"%s %s (in %zu of %zu bad, %zu of %zu good) goes with nearly the "
			"same batches: one find, not two.",
			c->factor, c->value, c->bad_with, c->bad, c->good_with, c->good));
	}
}

/* The adjusted p is shown, the plain one only decides what is worth a line. */
void trend_say_common(const struct telling *t)
{
	size_t told = 0;
	for (size_t i = 0; i < t->trend->n_common && told < MOST_COMMON; i++) {
		const struct ab_common *c = &t->trend->common[i];
		if ((c->p > AB_COMMON_WORTH && !t->p->look->verbose) || c->beside != NULL)
			continue;
		if (told++ == 0)
			page_section(t->p, "What the bad batches share");
		page_point(t->p, 2, "*", PLAIN,
		    page_text(t->p,
			"%s %s%s%s%s: in %zu of %zu bad batches, %zu of %zu good ones. By chance alone this often: "
			"%s%s.",
			c->factor, c->value, c->also != NULL ? " (with it always: " : "",
			c->also != NULL ? c->also : "", c->also != NULL ? ")" : "", c->bad_with, c->bad,
			c->good_with, c->good, say_percent(t->p, c->p_adjusted),
			c->p_adjusted > 0.1 ? " (may well be chance, with so many things compared)" : ""));
		say_beside(t, c);
	}
	if (told == 0 && t->trend->n_common > 0 && !can_tell_common(t)) {
		page_section(t->p, "What the bad batches share");
		page_para(t->p, 2, PLAIN, "With so few batches nothing could stand out from chance yet.");
	} else if (told == 0 && t->trend->n_common > 0) {
		page_section(t->p, "What the bad batches share");
		page_para(t->p, 2, PLAIN, "Nothing stands out so far in vessels, yeast, water or kit.");
	}
}
