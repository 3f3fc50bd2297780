/* oxygen_budget.c - the oxygen each way brings in, with its range, and the sum of them all
 *
 * mg/L of beer. Arithmetic from oxygen_ways.h (trust A to B); pick-up shares are estimates within published
 * bounds (trust C). Ranges mean nine in ten; independent ones combine as a root of squares.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/oxygen_budget.h"
#include <assert.h>
#include <math.h>
#include "process/words.h"

static const double ROOM_C = 20, WIDTH_IN_U = 3.29, USUAL_LID_MIN = 2, O2_PER_ML = 1.3301;

struct ab_range ab_range_times(struct ab_range r, double f)
{
	return (struct ab_range){ r.mid * f, r.low * f, r.high * f };
}

/* Relative widths add as squares to first order only; low is kept from falling below 0. A middle of 0
 * has no relative width: then the worse of both one-sided ends. */
struct ab_range ab_range_product(struct ab_range a, struct ab_range b)
{
	double mid = a.mid * b.mid;

	if (!(mid > 0))
		return (struct ab_range){ 0, 0, fmax(a.high * b.mid, b.high * a.mid) };
	double down = hypot(1 - a.low / a.mid, 1 - b.low / b.mid),
	    up = hypot(a.high / a.mid - 1, b.high / b.mid - 1);
	return (struct ab_range){ mid, mid * fmax(0, 1 - down), mid * (1 + up) };
}

/* Up and down by themselves, for most of these ranges are lopsided. */
struct ab_range ab_range_sum(struct ab_range a, struct ab_range b)
{
	double mid = a.mid + b.mid;
	return (struct ab_range){ mid, mid - hypot(a.mid - a.low, b.mid - b.low),
		mid + hypot(a.high - a.mid, b.high - b.mid) };
}

double ab_range_u(struct ab_range r)
{
	return (r.high - r.low) / WIDTH_IN_U;
}

struct ab_range ab_oxygen_move(int how, int target, int splashed)
{
	static const struct ab_range splash = { 2.2, 1, 5 }, quiet = { 0.55, 0.3, 1 },
	    untold = { 0.8, 0.3, 3 },
	    closed = { 0.05, 0.02, 0.1 };
	static const double left[] = { 1, 1, 0.1, 0.03, 0.1 };
	struct ab_range r = untold;

	assert(target >= 0 && (size_t)target < sizeof left / sizeof *left);
	if (how == AB_HOW_CLOSED)
		return closed;
	if (splashed > 0 || (splashed < 0 && how == AB_HOW_POURED))
		r = splash;
	else if (splashed == 0)
		r = quiet;
	return ab_range_times(r, left[target]);
}

struct ab_range ab_oxygen_hose(double metres, double minutes, double beer_l)
{
	double most = ab_permeated_tube(AB_PERM_SILICONE, metres, 9.5, 12.7) * minutes / (24 * 60) / beer_l;
	return ab_range_times((struct ab_range){ 0.5, 0.1, 1 }, most);
}

struct ab_range ab_oxygen_filling(int bottom_filled)
{
	static const struct ab_range below = { 0.25, 0.1, 0.5 }, above = { 1.2, 0.5, 3 },
	    untold = { 0.5, 0.1, 2 };
	return bottom_filled > 0 ? below : bottom_filled == 0 ? above : untold;
}

/* More than it can hold and what it has used up since, no beer takes up, however much air stands over it. Held:
 * what water under air holds at 20 C (saturation.h), a little less for extract and alcohol. Used up: 18 mL of neck
 * over 355 mL lost some 0.95 mg/L a day in the head-space study of ab_oxygen_taken; three times that with yeast
 * about (estimate). */
static const double HELD = 8.5, HELD_MOST = 9.1, USED_A_DAY = 1, USED_A_DAY_MOST = 3;

struct ab_range ab_oxygen_at_most(struct ab_range r, double days, double share)
{
	double d = fmax(0, days), held = share / AB_AIR_OXYGEN, mid = HELD * held + USED_A_DAY * d;

	return (struct ab_range){ fmin(r.mid, mid), fmin(r.low, 0.3 * mid),
		fmin(r.high, HELD_MOST * held + USED_A_DAY_MOST * d) };
}

/* Of all that is there. low is three tenths of the middle: still air over still beer can be that slow (estimate). */
static struct ab_range taken_of(double head_l, double beer_l, double days, double share)
{
	double all = ab_oxygen_mg(head_l, share, ROOM_C) / beer_l, mid = all * ab_oxygen_taken(days);
	return (struct ab_range){ mid, 0.3 * mid, all * (1 - exp(-fmax(0, days) / 3)) };
}

struct ab_range ab_oxygen_over(double head_l, double beer_l, double days, double share)
{
	return ab_oxygen_at_most(taken_of(head_l, beer_l, days, share), days, share);
}

struct ab_range ab_oxygen_opened(double minutes, double head_l, double beer_l, double days)
{
	struct ab_range taken = taken_of(head_l, beer_l, days, AB_AIR_OXYGEN);
	struct ab_range changed = { 1 - exp(-minutes / 30), 1 - exp(-minutes / 120), 1 - exp(-minutes / 10) };
	return ab_oxygen_at_most(ab_range_product(taken, changed), days, AB_AIR_OXYGEN);
}

struct ab_range ab_oxygen_hops(double load_gl, int additions, int opened, bool active, double head_l,
    double beer_l, double days)
{
	/* by word: how far the lid was off, and how much of the hops' air stayed with them */
	static const struct { double lid; struct ab_range air; } ways[] = {
		[0] = { 0.5, { 1, 0.5, 1.2 } }, [AB_OPEN_LID] = { 1, { 1, 0.7, 1.2 } },
		[AB_OPEN_PORT] = { 0.3, { 1, 0.7, 1.2 } },
		[AB_OPEN_DROPPER] = { 0, { 0.7, 0.3, 1 } }, [AB_OPEN_PURGED] = { 0, { 0.1, 0.03, 0.3 } },
		[AB_OPEN_ACTIVE] = { 1, { 1, 0.7, 1.2 } }, [AB_OPEN_KEG] = { 0, { 0.7, 0.1, 1 } },
	};
	static const struct ab_range air_l_kg = { 1.5, 1, 2 }, eaten = { 0.1, 0.02, 0.3 };
	assert(opened >= 0 && (size_t)opened < sizeof ways / sizeof *ways);
	double mg_l = ab_oxygen_mg(load_gl / 1000, AB_AIR_OXYGEN, ROOM_C);
	struct ab_range air = ab_range_times(ab_range_product(air_l_kg, ways[opened].air), mg_l);
	struct ab_range lid = ab_oxygen_opened(USUAL_LID_MIN * additions * ways[opened].lid, head_l,
	    beer_l, days);
	struct ab_range both = ab_range_sum(air, lid);

	return active || opened == AB_OPEN_ACTIVE ? ab_range_product(both, eaten) : both;
}

struct ab_range ab_oxygen_crash(int lock, int sucked, double beer_l, double head_l, double from_c,
    double to_c, double days)
{
	bool shut = lock == AB_LOCK_SEALED || lock == AB_LOCK_GAS_BAG || lock == AB_LOCK_PRESSURE;
	double in = sucked > 0 ? 0.7 : sucked == 0 ? 0.15 : 0.4;

	if (shut)
		return (struct ab_range){ 0, 0, 0 };
	struct ab_range taken = ab_oxygen_over(ab_crash_air(beer_l, head_l, from_c, to_c), beer_l, days,
	    AB_AIR_OXYGEN);
	return ab_range_product(taken, (struct ab_range){ in, sucked == 0 ? 0 : 0.125, 1 });
}

struct ab_range ab_oxygen_wall(int kind, bool leaky, double beer_l, double days)
{
	/* 0.4 m2 of wall for 20 L, 2 mm of a bucket, 0.7 mm of a PET carboy; the lid's seal may double it, a
	 * loose lid three times */
	double area = 0.4 * pow(beer_l / 20, 2.0 / 3), seal = leaky ? 3 : 1;
	double a_day = kind == AB_VESSEL_BUCKET ? ab_permeated_sheet(AB_PERM_HDPE, area, 2) :
	    kind == AB_VESSEL_PET ? ab_permeated_sheet(AB_PERM_PET, area, 0.7) : 0;
	return ab_range_times((struct ab_range){ 1, 0.5, 2 }, seal * a_day * fmax(0, days) / beer_l);
}

/* A neck's shape is known to a quarter (estimate); 1.645 u make nine in ten. Untold foam reaches from
 * "driven out" to "full", with full in the middle: capping on foam is the exception. */
struct ab_range ab_oxygen_neck(int bottle, double mm, double mm_u, double litres, int on_foam)
{
	static const struct ab_range foamed = { 0.1, 0.05, 0.2 }, not_foamed = { 1, 0.9, 1 },
	    untold = { 1, 0.3, 1 };
	bool told = litres > 0;
	double size = told ? litres : ab_bottle_litres(bottle), ml = ab_neck_ml(bottle, mm);
	double rel = hypot(0.25, mm > 0 ? 1.645 * mm_u / mm : 0);
	struct ab_range neck = { ml, ml * fmax(0, 1 - rel), ml * (1 + rel) };
	struct ab_range beer = { 1, told ? 1 : 0.75, told ? 1 : 1.25 };
	struct ab_range mg = ab_range_times(ab_range_product(neck, beer),
	    ab_oxygen_mg(0.001, AB_AIR_OXYGEN, ROOM_C) / size);

	return ab_range_product(mg, on_foam > 0 ? foamed : on_foam == 0 ? not_foamed : untold);
}

/* Share of oxygen in the keg before the beer came, for so many cycles. Ways to purge multiply: cycles
 * after filling from below start from what that left. */
static double keg_share(int filled, double cycles, double gauge_kpa, double own_volumes, double pocket_l,
    double keg_l)
{
	double share = AB_AIR_OXYGEN;

	if (filled == AB_TARGET_LIQUID)
		share = ab_purged_by_liquid(pocket_l, keg_l);
	else if (filled == AB_TARGET_FLOW)
		share = ab_purged_by_flow(share, own_volumes);
	return ab_purged_by_cycles(share, gauge_kpa, cycles);
}

/* Bottled gas of 99.9 % brings some 50 ppm of its own, 200 at most (estimate of a supplier's grade). */
static double not_under(double share, double own)
{
	return fmax(share, own);
}

/* The middle takes half of the gas the beer gave as having mixed through, the low end all of it: pipes
 * and corners are not swept (estimate). 8 volumes: a usual batch into its own keg. */
struct ab_range ab_oxygen_keg(int filled, double cycles, double gauge_kpa, double own_volumes, double keg_l,
    double beer_l, struct ab_range head_l)
{
	bool purged = filled == AB_TARGET_PURGED, told = cycles >= 0, own = own_volumes >= 0;
	/* "purged" alone means one to five cycles; elsewhere no cycles were told because none were made */
	double n = told ? cycles : purged ? 3 : 0;
	double fewest = told ? cycles : purged ? 1 : 0, most = told ? cycles : purged ? 5 : 0;
	double flow = own ? own_volumes : 8;
	double mid = keg_share(filled, n, gauge_kpa, flow / 2, 0.05, keg_l);
	double high = keg_share(filled, fewest, gauge_kpa, flow / 4, 0.2, keg_l);
	double low = keg_share(filled, most, gauge_kpa, flow, 0.02, keg_l);
	/* the gas that was there before the beer, a tenth of it met on the way in; of air the move itself
	 * tells */
	double met = filled >= AB_TARGET_PURGED ? fmax(0, keg_l - head_l.mid) : 0;

	return (struct ab_range){ ab_oxygen_mg(head_l.mid + 0.1 * met, not_under(mid, 5e-5), ROOM_C) / beer_l,
		ab_oxygen_mg(head_l.low, low, ROOM_C) / beer_l,
		ab_oxygen_mg(head_l.high + 0.3 * met, not_under(high, 2e-4), ROOM_C) / beer_l };
}

struct ab_range ab_oxygen_closure(int bottle, int cap, int leaks, double litres, double days)
{
	static const struct ab_range tight = { 1, 0.7, 1.3 }, leaking = { 3, 1, 10 }, doubt = { 1, 0.3, 3 };
	double size = litres > 0 ? litres : ab_bottle_litres(bottle);
	struct ab_range a_day = ab_range_times(ab_cap_ml_day(cap), O2_PER_ML / size);

	/* a keg: lid and post seals, 0.35 m long, 3 mm of rubber seen, 6 mm deep */
	if (bottle == 0)
		a_day = ab_range_times((struct ab_range){ 1, 0.3, 2 },
		    ab_permeated_sheet(AB_PERM_EPDM, 0.35 * 0.003, 6) / litres);
	if (bottle == AB_BOTTLE_PET) {
		/* 400 cm2 and 0.3 mm of wall for half a litre */
		double wall = ab_permeated_sheet(AB_PERM_PET, 0.04 * pow(size / 0.5, 2.0 / 3), 0.3) / size;
		a_day = ab_range_sum(a_day, ab_range_times((struct ab_range){ 1, 0.5, 1.5 }, wall));
	}
	return ab_range_product(ab_range_times(a_day, fmax(0, days)),
	    leaks > 0 ? leaking : leaks == 0 ? tight :
	    doubt);
}

struct ab_range ab_oxygen_eaten(bool referments)
{
	static const struct ab_range lively = { 0.6, 0.3, 0.9 }, resting = { 0.1, 0, 0.3 };
	return referments ? lively : resting;
}

/* Yeast is one negative item, not a factor on each: the reader sees what came in and what was taken
 * back. */
void ab_oxygen_close(struct ab_oxygen *b, const bool *kept, struct ab_range eaten)
{
	double within_reach = 0, down = 0, up = 0;
	struct ab_oxygen_item *yeast = &b->items[b->n];

	assert(b->n < AB_OXYGEN_ITEMS);
	for (size_t i = 0; i < b->n; i++)
		within_reach += kept[i] ? 0 : b->items[i].mgl;
	if (within_reach > 0) {
		*yeast = (struct ab_oxygen_item){ .name = "taken up by yeast",
		    .how = "a share, and not all of it in time", .grade = 'C',
			.mgl = -eaten.mid * within_reach, .low = -eaten.high * within_reach,
			    .high = -eaten.low * within_reach };
		b->n++;
	}
	b->total = 0;
	for (size_t i = 0; i < b->n; i++) {
		const struct ab_oxygen_item *item = &b->items[i];
		/* What the yeast leaves, it leaves of every item's doubt as well. */
		double left = i + 1 == b->n && within_reach > 0 ? 1 : kept[i] ? 1 : 1 - eaten.mid;
		b->total += item->mgl;
		down = hypot(down, left * (item->mgl - item->low));
		up = hypot(up, left * (item->high - item->mgl));
	}
	b->low = fmax(0, b->total - down);
	b->high = b->total + up;
}
