/* check_laws.c - what must hold across models whatever their numbers: more of this is never less of that
 *
 * Each row is a journal with one number in it (%g); as it rises, the fact must never go the other way, and must
 * move in the end. And what goes in comes out: extract, oxygen, units.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>
#include <afterboil/oxygen.h>
#include <afterboil/quantity.h>
#include "factcase.h"
#include "process/co2.h"
#include "process/extract.h"

#define ALE "<yeast class='clean-ale' form='dry' amount='11 g'/>"
#define V20 "<recipe volume='20 L' og='1.050 SG' fg='1.011 SG'/>"
#define G(when, sg) "<reading at='" when "' gravity='" sg " SG' instrument='hydrometer'/>"
#define BOTTLES(more) "<package at='+14d' into='bottles' bottle='longneck' volume='20 L' " more "/>"
#define TASTED "<tasting at='2031-06-01'/>"

static const struct { const char *title, *fact; int sign; double from, to, step; const char *journal;
    } rising[] = {
	{ "a lower fill, more oxygen", "oxygen.headspace", 1, 5, 120, 5,
	    V20 ALE BOTTLES("neck='%g mm' cap-on-foam='no'") },
	{ "and more in all", "oxygen.total", 1, 5, 120, 5,
	    V20 ALE BOTTLES("neck='%g mm' priming='110 g' sugar='sucrose'") TASTED },
	{ "and never fresher", "stale.outlook", 1, 5, 120, 5, V20 ALE BOTTLES("neck='%g mm' priming='110 g'")
	    "<store temp='24 C'/>" TASTED },
	{ "gas in the keg", "oxygen.headspace", 1, 0.2, 8, 0.2, V20 ALE
	    "<package at='+14d' into='keg' size='19 L' volume='11 L' purges='0' headspace='%g L'/>" },
	{ "purges, less of it", "oxygen.headspace", -1, 0, 12, 1,
	  V20 ALE
	    "<package at='+14d' into='keg' size='19 L' volume='17 L' headspace='2 L' purge-pressure='2 bar' purges='%g'/>" },
	{ "carboy's headspace, crash", "oxygen.crash", 1, 0.5, 12, 0.5,
	  V20 ALE
	    "<vessel kind='glass' headspace='%g L' control='fridge' target='20 C'/><crash at='+10d' temp='2 C' for='4 d' airlock='airlock'/>"
	  BOTTLES("") },
	{ "warmer, never less stale", "store.equivalent-days", 1, 0, 35, 1, BOTTLES("") "<store temp='%g C'/>"
	    TASTED },
	{ "warmer, never a smaller dose", "stale.dose", 1, 0, 35, 1,
	    V20 ALE BOTTLES("neck='30 mm' priming='110 g'") "<store temp='%g C'/>" TASTED },
	{ "warmer, never a better outlook", "stale.outlook", 1, 0, 35, 1,
	    V20 ALE BOTTLES("neck='30 mm' priming='110 g'") "<store temp='%g C'/>" TASTED },
	{ "more priming, more gas", "pack.co2-expected", 1, 10, 400, 10,
	    V20 ALE BOTTLES("sugar='dextrose' priming='%g g'") },
	{ "more priming, more pressure", "pack.pressure-worst", 1, 10, 400, 10,
	    V20 ALE BOTTLES("sugar='dextrose' priming='%g g'") },
	{ "more of the limit", "pack.pressure-share", 1, 10, 400, 10,
	    V20 ALE BOTTLES("sugar='sucrose' priming='%g g'") },
	{ "hotter, more pressure", "pack.pressure-worst", 1, 0, 45, 1, V20 ALE BOTTLES("priming='120 g'")
	    "<store temp='%g C'/>" },
	{ "more beer, less gas", "pack.co2-expected", -1, 8, 40, 1,
	  ALE "<package at='+14d' into='bottles' priming='120 g' sugar='sucrose' volume='%g L'/>" },
	{ "more hops, more creep", "hops.creep", 1, 10, 200, 10, V20 ALE "<dry-hop at='+11d' amount='%g g'/>"
	    BOTTLES("") },
	{ "more hops, more pressure", "pack.pressure-worst", 1, 10, 200, 10, V20 ALE
	    "<dry-hop at='+11d' amount='%g g'/>" BOTTLES("priming='110 g'") },
	{ "more packets, more cells", "pitch.rate-share", 1, 1, 8, 1, V20
	    "<yeast class='clean-ale' form='dry' packs='%g'/>" },
	{ "older yeast, fewer", "pitch.rate-share", -1, 0, 300, 10, V20
	    "<yeast class='clean-ale' form='liquid' packs='1' age='%g d'/>" },
	{ "more wort, fewer a litre", "pitch.rate-share", -1, 5, 60, 1,
	    "<recipe volume='%g L' og='1.050 SG'/>" ALE },
	{ "a larger starter", "pitch.rate-share", 1, 0, 4, 0.25, V20
	    "<yeast class='clean-ale' form='liquid' packs='1' age='60 d' starter='%g L'/>" },
	{ "keg pressure", "keg.equilibrium-co2", 1, 10, 200, 5,
	    "<package into='keg'/><carbonate pressure='%g kPa' temp='5 C'/>" },
	{ "a warmer keg", "keg.equilibrium-co2", -1, 0, 25, 1,
	    "<package into='keg'/><carbonate pressure='90 kPa' temp='%g C'/>" },
	{ "a warmer room", "ferment.early-mean", 1, 10, 30, 1, V20 ALE
	    "<vessel kind='bucket' control='none' room='%g C'/>" },
	{ "longer hot, more DMS", "chill.dms-potential", 1, 5, 200, 5, V20
	    "<boil time='60 min'/><chill method='coil' above-80='%g min'/>" },
	{ "longer boiled, less", "chill.dms-potential", -1, 20, 180, 5, V20
	    "<boil time='%g min'/><chill method='coil' above-80='20 min'/>" },
	{ "longer lag", "pitch.doublings-before-yeast", 1, 2, 60, 2, V20 ALE
	    "<pitch temp='20 C'/><lag first-signs='%g h'/>" },
	{ "longer at the window", "light.dose", 1, 1, 90, 1,
	  "<vessel kind='bucket'/><package at='2031-03-15' into='bottles' colour='clear'/><store for='%g d' light='window'/>" },
};

static double at(const char *journal, double x, const char *fact, struct ab_arena *arena,
    struct ab_fact *facts)
{
	char text[1000];
	const char *mark = strchr(journal, '%');
	int before = (int)(mark - journal);

	/* the number in place of %g; the rest has no marks of its own */
	snprintf(text, sizeof text, "%.*s%g%s", before, journal, x, mark + 2);
	fact_compute(text, NULL, arena, facts);
	const struct ab_fact *f = fact_get(facts, fact);
	ck_assert_msg(AB_FACT_KNOWN(f), "%s unknown in %s", fact, text);
	ck_assert_msg(f->u >= 0, "%s: u %g", fact, f->u);
	return f->value;
}

START_TEST(rises_or_falls)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
	double first = at(rising[_i].journal, rising[_i].from, rising[_i].fact, arena, facts), last = first;

	for (double x = rising[_i].from + rising[_i].step; x <= rising[_i].to; x += rising[_i].step) {
		double now = at(rising[_i].journal, x, rising[_i].fact, arena, facts);
		ck_assert_msg(rising[_i].sign * (now - last) >= -1e-9, "%s: %g then %g at %g",
		    rising[_i].title, last, now, x);
		last = now;
	}
	ck_assert_msg(rising[_i].sign * (last - first) > 0, "%s: stays at %g", rising[_i].title, first);
	ab_arena_free(arena);
}
END_TEST

/* Balling: of 2.0665 g extract 1 g ethanol, 0.9565 g CO2 and 0.11 g yeast: the three make the whole; and CO2
 * per g of sugar is never more than its carbon allows (0.5143 for sucrose, 0.4886 for glucose). */
START_TEST(extract_balances)
{
	ck_assert_double_eq_tol(1 + 0.9565 + 0.11, 2.0665, 1e-9);
	for (double og = 1.030; og < 1.1; og += 0.01)
		for (double fg = 1.004; fg < og - 0.01; fg += 0.004) {
			double oe = ab_plato_from_sg(og), re = ab_extract_real(oe, ab_plato_from_sg(fg)),
			    a = ab_alcohol_by_weight(oe, re);
			/* 100 g of beer came from 100 + 1.0665 a grams of wort: what is left, alcohol, gas
			 * and yeast are its extract */
			ck_assert_double_eq_tol((100 + 1.0665 * a) * oe / 100, re + 2.0665 * a, 0.05);
		}
	double grams = ab_co2_from_sucrose(10) * 1.9768;
	ck_assert_double_le(grams / 10, 0.5143);
	ck_assert_double_ge(grams / 10, 0.9 * 0.5143);
	ck_assert_double_eq_tol(ab_co2_from_points(8), 2 * ab_co2_from_points(4), 1e-9);
}
END_TEST

/* The items are the total, none is missing and none counted twice; a range holds its middle. */
START_TEST(oxygen_balances)
{
	static const char *const journals[] = {
		V20 ALE BOTTLES("neck='35 mm' priming='110 g' sugar='sucrose'") "<store temp='20 C'/>" TASTED,
		V20 ALE
		    "<vessel kind='bucket' headspace='8 L'/><dry-hop at='+8d' amount='60 g' opened='open-lid'/>"
		"<transfer at='+14d' how='siphon' splashed='yes'/>" BOTTLES("neck='20 mm'") TASTED,
		V20 ALE
		    "<crash at='+10d' temp='2 C' for='3 d' airlock='airlock'/><package at='+14d' into='keg' size='19 L' volume='17 L' purges='2'/>"
		TASTED,
	};
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
	struct ab_oxygen b;
	struct ab_diag diag;
	double sum = 0;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_oxygen_budget(fact_read(journals[_i], arena), NULL, &fact_norms, NULL, 0, arena,
	    &b, &diag), AB_OK);
	for (size_t i = 0; i < b.n; i++) {
		sum += b.items[i].mgl;
		ck_assert_msg(b.items[i].low <= b.items[i].mgl && b.items[i].mgl <= b.items[i].high, "%s",
		    b.items[i].name);
	}
	ck_assert_double_eq_tol(sum, b.total, 1e-9);
	ck_assert(b.low <= b.total && b.total <= b.high);
	fact_compute(journals[_i], NULL, arena, facts);
	ck_assert_double_eq_tol(fact_get(facts, "oxygen.total")->value, b.total, 1e-9);
	ab_arena_free(arena);
}
END_TEST

/* There and back: Plato, pressure and volumes by both fits. */
START_TEST(there_and_back)
{
	for (double p = 0.1; p < 25; p += 0.1)
		ck_assert_double_eq_tol(ab_plato_from_sg(ab_sg_from_plato(p)), p, 1e-6);
	for (double t = 0; t <= 40; t += 2)
		for (double vol = 1; vol < 6; vol += 0.25) {
			ck_assert_double_eq_tol(ab_co2_asbc(ab_co2_asbc_kpa(vol, t), t), vol, 1e-9);
			ck_assert_double_eq_tol(ab_co2_henry(ab_co2_henry_kpa(vol, t), t), vol, 1e-9);
			ck_assert_double_ge(ab_co2_bottle_kpa(vol, t), fmax(ab_co2_asbc_kpa(vol, t),
			    ab_co2_henry_kpa(vol, t)));
		}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("laws");
	TCase *t = tcase_create("laws");
	SRunner *sr = srunner_create(s);

	tcase_add_loop_test(t, rises_or_falls, 0, sizeof rising / sizeof *rising);
	tcase_add_test(t, extract_balances);
	tcase_add_loop_test(t, oxygen_balances, 0, 3);
	tcase_add_test(t, there_and_back);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
