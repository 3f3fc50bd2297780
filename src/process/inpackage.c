/* inpackage.c - gravity lost after packaging: gravity.drop-in-package, in points
 *
 * The one direct witness of fermentation in the package; it overrules every expectation in priming.c. From the
 * last gravity before packaging to the lowest-standing later one: a reading at least a day after packaging, or
 * the check "gravity-of-a-bottle".
 *
 * Priming that ferments out lowers the gravity by itself, for its sugar is gone and its alcohol is lighter than
 * water: P more of extract make, by Balling, P less and P/0.8192 less (extract.h; trust A), about half a point
 * for 6 g/L. So much is taken off; of the sugar a gravity taken before it went in knows nothing, and no other
 * is meant by gravity= of <package>. Gas left in the sample lifts a hydrometer: +-0.7 points (estimate). Where
 * the last gravity is more than three days older than the package, all that was left then may have gone before
 * it: u is as large.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>
#include <afterboil/quantity.h>
#include "process/gravities.h"
#include "process/working.h"

static const double REAL_SHARE = 0.8192, GAS_U_SG = 0.0007, DAY_H = 24, OLD_H = 72, AT_REST_D = 3;

/* h: from packaging on. */
struct later { bool known; double h, sg, u; struct ab_basis basis; };

/* The last word counts; one without its hour stands behind those with one. */
static void take(struct later *later, double h, double sg, double u, const struct ab_mark *mark,
    const struct ab_num *told)
{
	if (later->known && !(h >= later->h) && isfinite(later->h))
		return;
	*later = (struct later){ true, h, sg, hypot(u, GAS_U_SG), ab_basis_new() };
	ab_rest_on_num(&later->basis, mark, told, false);
}

static struct later find_later(const struct ab_work *w)
{
	struct later later = { .known = false };

	for (AB_EACH_SAMPLE(r, w)) {
		if (!r->gravity_sg.known || ab_gravity_misleads(w, r))
			continue;
		double h = ab_packaged_hours(w, &r->at);
		/* a day: lest the reading of bottling day be taken for one of the package */
		if (h > DAY_H)
			take(&later, h, ab_gravity_true(w, r), ab_gravity_u(r), &r->mark, &r->gravity_sg);
	}
	for (AB_EACH(struct ab_test, t, w->batch->tests)) {
		double h = ab_packaged_hours(w, &t->at);
		if (t->gravity_sg.known && strcmp(t->kind, "gravity-of-a-bottle") == 0 && !(h <= 0))
			take(&later, h, t->gravity_sg.v, hypot(0.0005, ab_num_u(&t->mark, &t->gravity_sg, 0.003)),
			    &t->mark, &t->gravity_sg);
	}
	return later;
}

/* Points by which fermented priming lowers the gravity: g/L of sucrose over ten times the density are P. */
static double by_priming(double rate_gl, double sg)
{
	double p = ab_plato_from_sg(sg), added = rate_gl / (10 * sg);

	return 1000 * (sg - ab_sg_from_plato(fmax(0, p + added - added / REAL_SHARE)));
}

/* What would have fallen, had the beer been nearer its end or at rest when it was packaged. */
static double as_if_finished(const struct ab_work *w, double fell)
{
	if (ab_is_as_if(w, AB_F_GRAVITY_POINTS_LEFT))
		fell = fmin(fell, ab_value(w, AB_F_GRAVITY_POINTS_LEFT));
	if (ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS) && ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= AT_REST_D)
		fell = fmin(fell, 0);
	return fell;
}

void ab_facts_in_package(struct ab_work *w)
{
	const struct ab_fact *last = &w->facts[AB_F_GRAVITY_LAST], *rate = &w->facts[AB_F_PACK_PRIMING];
	struct later later = find_later(w);

	if (w->batch->package == NULL || !later.known || !AB_FACT_KNOWN(last))
		return;
	double own = AB_FACT_KNOWN(rate) ? by_priming(rate->value, later.sg) : 0;
	double drop = 1000 * (last->value - later.sg), u = 1000 * hypot(last->u, later.u);
	double over = ab_value(w, AB_F_GRAVITY_OVER_EXPECTED);
	bool old = w->packaged_h - w->last_gravity_h > OLD_H;

	if (old)
		u = hypot(u, isfinite(over) ? fmax(0, over) : drop);
	ab_rest_on_fact(&later.basis, last);
	ab_set(w, AB_F_GRAVITY_DROP_PACKAGED, &later.basis, as_if_finished(w, drop - own),
	    hypot(u, own / 2), 'A',
	    "%.4f %s - %.4f in the package; %.1f points of it are the alcohol of the priming", last->value,
	    old ? "days before packaging" : "at packaging", later.sg, own);
}
