/* storage.c - from packaging to the glass: days, warmth, light
 *
 * Days at 20 C with Q10 = 2.2, between 2 and 3 (storage.h; trust B). Times of a stay that are not told run
 * from the one before to the one after, the last one to the last tasting that found anything, also when less was told
 * of it. Warm enough to carbonate is 3 K below the yeast's range, but at least 10 C, or 16 C for an unknown yeast
 * (estimate). Where no stay is told, a keg is as cold as it was carbonated and bottles are at room temperature. Without
 * a date of packaging, stays told by their length alone are counted from it one after the other, up to the last
 * tasting: where that was clean and an earlier glass is asked about, they tell nothing of its age. Of a stay of which
 * only the hottest is told the usual warmth lies anywhere between that and a room's 20 C, or 5 K below the hottest
 * where that is no warmer (estimate): an assumption, as wide as that.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/storage.h"
#include "process/words.h"
#include "process/working.h"

static const double Q10 = 2.2, Q10_LOW = 2, Q10_HIGH = 3, CONDITION_H = 14 * 24, ROOM_C = 20, BELOW_PEAK_K = 5;

/* One stay in hours from pitching, with its temperature. beyond_d: of a length told as a bound, how far it may lie
 * beyond. spread_k: the temperature may be so much more or less, evenly; 0 where it is told. */
struct stay { double from, to, temp_c; struct ab_basis basis; bool warmth_known; double beyond_d, spread_k; };

/* low and high are the equivalent days at the ends of Q10; area and hours make the mean warmth of the
 * first two weeks, when bottles carbonate. */
struct sums {
	double days, equivalent, low, high, warm_days, area, hours;
	double stretched;            /* of the equivalent days, those after the last stay told */
	double beyond_d;             /* u of the days by lengths told as bounds */
	double spread_d, spread_area, spread_warm_d;   /* u of equivalent, area, warm_days where only a peak is told */
	bool gap;
	struct ab_basis basis;
};

/* Q10 law: at 20 C a day is a day whatever Q10, so only stays away from it carry its doubt. */
double ab_equivalent_days(double days, double t_c, double q10)
{
	return days * pow(q10, (t_c - 20) / 10);
}

/* A stay with a day of its own, of a beer whose packaging has none, is told on the calendar and only as long as it
 * is there; all others from packaging on. */
static double clock_h(const struct ab_work *w, bool calendar, const struct ab_when *when)
{
	return calendar ? ab_hours(w, when) : ab_packaged_hours(w, when);
}

/* Its own end, its length, the next stay's begin, the tasting: the most direct first. */
static double until_h(const struct ab_work *w, const struct ab_store *s, const struct ab_store *next,
    double from, bool calendar)
{
	double to = clock_h(w, calendar, &s->until), glass = calendar ? w->found_h : w->found_after_h;

	if (!isfinite(to) && s->for_s.known)
		to = from + s->for_s.v / 3600;
	if (!isfinite(to) && next != NULL)
		to = clock_h(w, calendar, &next->from);
	if (!isfinite(to))
		to = glass;
	/* What comes after that tasting had not spoiled anything yet. */
	return glass < to ? glass : to;
}

/* Yeast conditions a little below its fermenting range; the floors are estimates. */
double ab_conditions_from(const struct ab_work *w)
{
	return w->yeast != NULL ? fmax(10, w->yeast->low_c - 3) : 16;
}

/* Of its days, the share in which it was that warm, where its warmth may be anything between its ends. */
static double share_above(const struct stay *stay, double c)
{
	double low = stay->temp_c - stay->spread_k;

	return stay->spread_k > 0 ? fmin(1, fmax(0, 1 - (c - low) / (2 * stay->spread_k))) : stay->temp_c >= c;
}

static void add_warmth(const struct ab_work *w, struct sums *sums, const struct stay *stay, double days)
{
	double t = stay->temp_c, k = stay->spread_k, warm = share_above(stay, ab_conditions_from(w));

	sums->equivalent += ab_equivalent_days(days, t, Q10);
	sums->low += ab_equivalent_days(days, t, Q10_LOW);
	sums->high += ab_equivalent_days(days, t, Q10_HIGH);
	sums->spread_d += (ab_equivalent_days(days, t + k, Q10) - ab_equivalent_days(days, t - k, Q10)) / sqrt(12);
	sums->warm_days += warm * days;
	sums->spread_warm_d += sqrt(warm * (1 - warm)) * days;
	double early = fmin(stay->to, CONDITION_H) - stay->from;
	if (early > 0) {
		sums->hours += early;
		sums->area += early * t;
		sums->spread_area += early * k / sqrt(3);
	}
}

/* One stay of unknown warmth makes the sum of warmth unknown, though the days still count. */
static void add_stay(const struct ab_work *w, struct sums *sums, const struct stay *stay)
{
	double days = (stay->to - stay->from) / 24;

	if (!(days > 0))
		return;
	sums->days += days;
	sums->beyond_d = hypot(sums->beyond_d, stay->beyond_d);
	ab_rest_on_basis(&sums->basis, &stay->basis);
	if (!stay->warmth_known) {
		sums->gap = true;
		return;
	}
	add_warmth(w, sums, stay, days);
}

/* Only its peak is told. */
static void take_below_peak(struct stay *stay, const struct ab_store *s)
{
	double hottest = s->hottest_c.v, low = fmin(ROOM_C, hottest - BELOW_PEAK_K);

	stay->temp_c = (hottest + low) / 2;
	stay->spread_k = (hottest - low) / 2;
	stay->warmth_known = true;
	ab_rest_on_num(&stay->basis, &s->mark, &s->hottest_c, false);
}

/* Where it stood, in hours from packaging. at: where the one before ended. */
static struct stay stay_of(const struct ab_work *w, const struct ab_store *s, const struct ab_store *next, double at)
{
	bool calendar = !isfinite(w->packaged_h) && s->from.known;
	double from = clock_h(w, calendar, &s->from);
	struct stay stay = { .from = isfinite(from) ? from : at, .temp_c = s->temp_c.v, .basis = ab_basis_new(),
		.warmth_known = s->temp_c.known };

	stay.to = until_h(w, s, next, stay.from, calendar);
	if (calendar) {
		stay.to = at + stay.to - stay.from;
		stay.from = at;
	}
	if (s->for_s.bound != AB_BOUND_NONE && !s->until.known)
		stay.beyond_d = ab_num_u(&s->mark, &s->for_s, 0) / 86400;
	ab_rest_on_num(&stay.basis, &s->mark, &s->for_s, false);
	ab_rest_on_num(&stay.basis, &s->mark, &s->temp_c, false);
	if (!s->temp_c.known && s->hottest_c.known)
		take_below_peak(&stay, s);
	return stay;
}

bool ab_is_exposure(const struct ab_store *s)
{
	return s->light > AB_LIT_DARK && s->for_s.known && s->for_s.v < 24 * 3600 && !s->until.known;
}

/* Hours in the light, of which no warmth is told: it stood as warm as elsewhere, as far as is told. */
static bool is_mere_light(const struct ab_store *s)
{
	return ab_is_exposure(s) && !s->temp_c.known && !s->hottest_c.known;
}

/* The next after this one, which it lasts up to where its end is not told. */
static const struct ab_store *stay_after(const struct ab_store *s, const struct ab_store *end)
{
	for (s++; s != end && is_mere_light(s); s++)
		;
	return s == end ? NULL : s;
}

/* Laid end to end. Without a day of packaging one of unknown length is passed over. */
static void add_told_stays(const struct ab_work *w, struct sums *sums)
{
	bool dated = isfinite(w->packaged_h);
	double at = 0;
	struct stay last = { .warmth_known = false };

	for (AB_EACH(struct ab_store, s, w->batch->stores)) {
		if (is_mere_light(s))
			continue;
		struct stay stay = stay_of(w, s, stay_after(s, s_end), at);
		if (!dated && !isfinite(stay.to))
			continue;
		add_stay(w, sums, &stay);
		at = stay.to;
		last = ab_is_exposure(s) ? last : stay;
	}
	/* Told for two weeks and tasted in the sixth: most likely it stayed where it was. */
	if (w->found_after_h - at > 24 && last.warmth_known) {
		double before = sums->equivalent;
		last.from = at;
		last.beyond_d = 0;
		last.to = w->found_after_h;
		add_stay(w, sums, &last);
		sums->stretched = sums->equivalent - before;
	}
}

/* Stays without a day were told up to the last glass, in the order of the journal. Is that the one asked about? */
static bool lead_to_glass(const struct ab_work *w)
{
	const struct ab_tasting *last = NULL;
	bool found = false;

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		found |= t->found.n > 0;
		last = ab_is_of_finished(t) ? t : last;
	}
	if (last == NULL)
		return true;
	return isfinite(w->found_after_h) ? ab_packaged_hours(w, &last->at) >= w->found_after_h
	    : isfinite(w->found_h)    ? ab_hours(w, &last->at) >= w->found_h
				      : !found || last->found.n > 0;
}

/* No beer stood in its package for longer than it is old; by a guess of either it may seem so. */
static bool older_than_beer(const struct ab_work *w, const struct sums *sums)
{
	return sums->days > 1.25 * w->found_h / 24 + 1;
}

/* Something else than a few hours in the light? */
static bool is_any_kept(const struct ab_work *w)
{
	for (AB_EACH(struct ab_store, s, w->batch->stores))
		if (!ab_is_exposure(s))
			return true;
	return false;
}

static bool are_stays_told(const struct ab_work *w)
{
	return is_any_kept(w) && (w->found_after_h >= 0 || lead_to_glass(w));
}

double ab_told_stays_d(const struct ab_work *w)
{
	struct sums sums = { .basis = ab_basis_new() };

	if (are_stays_told(w))
		add_told_stays(w, &sums);
	return sums.days > 0 && !older_than_beer(w, &sums) ? sums.days : AB_NAN;
}

/* By the profile: the batch's own can only be that of hours in the light. */
static struct ab_told usual_warmth(const struct ab_work *w)
{
	if (w->usual != NULL)
		for (AB_EACH(const struct ab_store, s, w->usual->stores))
			if (s->temp_c.known && !ab_is_exposure(s))
				return ab_told_num(&s->mark, &s->temp_c, 1, true);
	return (struct ab_told){ .known = false };
}

/* Nothing told: where such a package usually stands. A keg stands cold where it was carbonated, bottles
 * stand in the room. */
static void add_usual_stay(const struct ab_work *w, struct sums *sums)
{
	bool keg = ab_word(w, AB_F_PACK_INTO) == AB_PACK_KEG;
	struct ab_told temp = usual_warmth(w);

	if (!temp.known && keg)
		temp = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, temp_c, 1);
	if (!temp.known && !keg && ab_known(w, AB_F_FERMENT_ROOM)) {
		temp = (struct ab_told){ .known = true, .v = ab_value(w, AB_F_FERMENT_ROOM),
		    .basis = ab_basis_new() };
		ab_rest_on_fact(&temp.basis, &w->facts[AB_F_FERMENT_ROOM]);
	}
	if (!temp.known)
		return;
	struct stay stay = { 0, w->found_after_h, temp.v, temp.basis, true, 0, 0 };
	add_stay(w, sums, &stay);
	sums->basis.origin = AB_ORIGIN_ASSUMED;
}

/* The calendar beats the sum of stays, which may have holes. */
static void set_days(struct ab_work *w, const struct sums *sums)
{
	struct ab_basis basis = ab_basis_new();

	if (w->found_after_h >= 0) {
		if (isfinite(w->packaged_h))
			ab_rest_on(&basis, &w->batch->package->mark, false);
		for (AB_EACH(struct ab_tasting, t, w->batch->tastings))
			ab_rest_on(&basis, &t->mark, false);
		ab_set(w, AB_F_STORE_DAYS, &basis, w->found_after_h / 24, 0.5, 'A', NULL);
	} else if (sums->days > 0) {
		ab_set(w, AB_F_STORE_DAYS, &sums->basis, sums->days, hypot(1, sums->beyond_d), 'A',
		    "the stays told, added up");
	}
}

static void set_equivalent(struct ab_work *w, const struct sums *sums, const struct ab_basis *basis, char grade)
{
	double place = hypot(0.15 * sums->equivalent, 0.4 * sums->stretched), beyond = sums->beyond_d / sums->days;
	/* Q10 is taken as evenly spread between its ends; 2 K of doubt of the place make 15 %, an untold rest
	 * four tenths of itself. */
	double u = hypot(hypot(fabs(sums->high - sums->low) / sqrt(12), sums->spread_d),
	    hypot(place, beyond * sums->equivalent));
	double low = fmin(sums->low, sums->high), high = fmax(sums->low, sums->high);
	const char *peak = sums->spread_d > 0 ? "; only the hottest is told: the usual warmth (temp) is taken to lie "
	    "below it, at 20 C or 5 K under it at the least" : "";

	if (sums->stretched < 0.05)
		ab_set(w, AB_F_STORE_EQUIVALENT, basis, sums->equivalent, u, grade,
		    "%.1f d; %.1f to %.1f with Q10 2 to 3%s", sums->days, low, high, peak);
	else
		ab_set(w, AB_F_STORE_EQUIVALENT, basis, sums->equivalent, u, grade,
		    "%.1f d, %.1f of them at 20 C after the last stay told; %.1f to %.1f with Q10 2 to 3%s",
		    sums->days, sums->stretched, low, high, peak);
}

static void set_warmth(struct ab_work *w, const struct sums *sums)
{
	struct ab_basis basis = sums->basis;
	bool assumed = basis.origin == AB_ORIGIN_ASSUMED, sure = !assumed && !(sums->spread_d > 0);
	double beyond = sums->beyond_d / sums->days;

	if (sums->gap || sums->days <= 0)
		return;
	if (!sure)
		basis.origin = AB_ORIGIN_ASSUMED;
	set_equivalent(w, sums, &basis, sure ? 'B' : 'C');
	if (sums->hours > 0)
		ab_set(w, AB_F_STORE_CONDITION_C, &basis, sums->area / sums->hours,
		    hypot(assumed ? 3 : 1, sums->spread_area / sums->hours), sure ? 'A' : 'C',
		    "mean of the first %.0f d", sums->hours / 24);
	ab_set(w, AB_F_STORE_CONDITION_D, &basis, sums->warm_days,
	    hypot(assumed ? 0.2 * sums->warm_days : hypot(1, beyond * sums->warm_days), sums->spread_warm_d), 'C',
	    "days at %.1f C or warmer", ab_conditions_from(w));
}

void ab_facts_storage(struct ab_work *w)
{
	static const struct ab_plain light = AB_MANY(AB_F_STORE_LIGHT, AB_FIELD_WORD, stores,
	    ab_store, light, 1, AB_TAKE_LARGEST);
	struct sums sums = { .basis = ab_basis_new() };

	ab_set_plain(w, &light, 1);
	if (!is_any_kept(w))
		add_usual_stay(w, &sums);
	else if (are_stays_told(w))
		add_told_stays(w, &sums);
	if (older_than_beer(w, &sums))
		return;
	set_days(w, &sums);
	set_warmth(w, &sums);
}
