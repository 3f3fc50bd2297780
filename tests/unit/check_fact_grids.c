/* check_fact_grids.c - pitch, pressure and storage over grids of the project's own yeasts and bottles, from the
 * journal's text to the fact
 *
 * The formulas alone are held against outside numbers in tests/handbook; here it is the way from an attribute to
 * the fact that is walked, for every class, form, bottle and sugar there is. Needs AFTERBOIL_RULES, as make check
 * sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>
#include <afterboil/quantity.h>
#include "factcase.h"
#include "process/words.h"
#include "process/working.h"
#include "rulecase.h"

static struct ab_arena *arena;

static void set_up(void)
{
	arena = ab_arena_new();
	rules_read();
}

static void tear_down(void)
{
	rules_drop();
	ab_arena_free(arena);
}

/* The fact of a journal; title for messages. */
static const struct ab_fact *fact(const char *journal, const char *name)
{
	return fact_get(rules_facts(journal), name);
}

static void is(const char *journal, const char *name, double want, double within)
{
	const struct ab_fact *f = fact(journal, name);

	ck_assert_msg(AB_FACT_KNOWN(f), "%s: %s is unknown, not %g", journal, name, want);
	ck_assert_msg(fabs(f->value - want) <= within, "%s: %s is %.8g (%s), not %.8g", journal, name, f->value,
	    f->working != NULL ? f->working : "as told", want);
}

static void unknown(const char *journal, const char *name)
{
	const struct ab_fact *f = fact(journal, name);
	ck_assert_msg(!AB_FACT_KNOWN(f), "%s: %s is %g", journal, name, f->value);
}

/* ---- pitch: class x form x age x keeping ---- */

static const int ages_d[] = { 0, 30, 100, 400 };
static const char *const keeps[] = { "cold", "room", "warm" };
/* How much faster than in the cold liquid yeast dies, and what share of dry yeast does in a year: pitch.h. */
static const double liquid_faster[] = { 1, 3, 6 }, dry_a_year[] = { 0.04, 0.20, 0.50 };

static double share_alive(bool dry, int keep, double days)
{
	double lost = dry ? dry_a_year[keep] * days / 365.25 : 0.0045 * liquid_faster[keep] * days;
	return lost > 0.95 ? 0.05 : 1 - lost;
}

/* What 20 L at 15 P want of a class, in 1e9 cells; and at 18 P, a quarter more. */
static double norm(const struct ab_yeast_norm *y, double plato)
{
	return y->pitch_rate * 20 * plato * (plato > 16 ? 1.25 : 1);
}

static void pitch_of(const struct ab_yeast_norm *y, double plato, int age, int keep)
{
	static const struct { const char *form, *amount; double fresh; bool dry; } forms[] = {
		{ "dry", "amount='23 g'", 23 * 8.0, true }, { "dry", "packs='2'", 2 * 11 * 8.0, true },
		{ "liquid", "packs='3'", 300, false },
		{ "slurry", "volume='200 mL'", 200, false },
	};
	for (size_t f = 0; f < sizeof forms / sizeof *forms; f++) {
		double cells = forms[f].fresh * share_alive(forms[f].dry, keep, ages_d[age]), want = norm(y, plato);
		char *head = ab_arena_printf(arena,
		    "<recipe volume='20 L' og='%.1f P'/><yeast class='%s' form='%s' %s age='%d d' kept='%s'", plato,
		    y->id, forms[f].form, forms[f].amount, ages_d[age], keeps[keep]);
		is(ab_arena_printf(arena, "%s/>", head), "pitch.rate-share", cells / want, 1e-6);
		/* A starter of two litres, stirred and not. */
		double grown = cells + 280 > 400 ? (cells > 400 ? cells : 400) : cells + 280,
		       still = cells + 140 > 400 ? (cells > 400 ? cells : 400) : cells + 140;
		is(ab_arena_printf(arena, "%s starter='2 L' stirred='yes'/>", head), "pitch.rate-share",
		    grown / want, 1e-6);
		is(ab_arena_printf(arena, "%s starter='2 L' stirred='no'/>", head), "pitch.rate-share",
		    still / want, 1e-6);
	}
}

START_TEST(pitch)
{
	const struct ab_yeast_norm *y = &rules->norms.yeasts[(size_t)_i % rules->norms.n_yeasts];

	for (int age = 0; age < 4; age++)
		pitch_of(y, _i % 2 == 0 ? 15 : 18, age, (_i + age) % 3);
	/* temperature against the top of the class's own range */
	for (double t = 5; t <= 35; t += 10) {
		char *journal = ab_arena_printf(
		    arena, "<yeast class='%s'/><pitch at='2031-03-01T18:00' temp='%.0f C'/>", y->id, t);
		is(journal, "pitch.temp-over", t - y->high_c, 1e-9);
	}
	is(ab_arena_printf(arena, "<yeast class='%s'/><lag first-signs='50 h'/>", y->id), "lag.over", 50 - y->lag_h,
	    1e-9);
	is(ab_arena_printf(arena, "<yeast class='%s'/>", y->id), "yeast.lager", y->lager, 0);
	is(ab_arena_printf(arena, "<yeast class='%s'/>", y->id), "yeast.phenolic", y->phenolic, 0);
	is(ab_arena_printf(arena, "<yeast class='%s'/>", y->id), "yeast.diastatic", y->diastatic, 0);
	is(ab_arena_printf(arena, "<yeast class='%s'/>", y->id), "yeast.fruity", y->fruity, 0);
	is(ab_arena_printf(arena, "<yeast class='%s'/>", y->id), "yeast.sulphury", y->sulphury, 0);
	is(ab_arena_printf(arena, "<yeast class='%s'/>", y->id), "yeast.flocculent", y->flocculent, 0);
}
END_TEST

/* ---- pressure: bottle x hottest storage x sugar ---- */

/* kPa over the air's, the larger of the ASBC table's curve and Henry's law (co2.h gives the sources of both). */
static double bottle_kpa(double vol, double t_c)
{
	double table = ((vol + 0.003342) / (0.01821 + 0.090115 * exp(-(1.8 * t_c) / 43.11)) - 14.695) * 6.894757293;
	double henry = vol * 1.9768 / (10 * exp(-10.73797 + 2617.25 / (t_c + 273.15))) * 100 - 101.325;
	return table > henry ? table : henry;
}

static double residual(double t_c)
{
	return 1.01325 * 10 * exp(-10.73797 + 2617.25 / (t_c + 273.15)) / 1.9768;
}

static const struct { const char *sugar; double as_sucrose; } sugars[] = {
	{ "sucrose", 1 }, { "dextrose", 0.44416 / 0.51428 }, { "candi", 1 }, { "honey", 0.8 * 0.48857 / 0.51428 },
	{ "dry-extract", 0.6 },
};
static const double hottest_c[] = { 4, 15, 25, 30, 40 };

/* How a journal tells of such a package. */
static const char *packed(const struct ab_bottle_norm *b)
{
	const char *kind = ab_words_kit[b->word];
	bool bottle = strcmp(kind, "can") != 0 && strcmp(kind, "keg") != 0 && strcmp(kind, "cask") != 0;

	return !bottle ? ab_arena_printf(arena, "into='%s'", strcmp(kind, "can") == 0 ? "cans" : kind)
		       : ab_arena_printf(arena, "into='%s' bottle='%s'",
			     strstr(kind, "keg") != NULL       ? "keg"
				 : strstr(kind, "can") != NULL ? "cans"
							       : "bottles",
			     kind);
}

START_TEST(pressure)
{
	const struct ab_bottle_norm *b = &rules->norms.bottles[(size_t)_i % rules->norms.n_bottles];
	const char *bottle = ab_words_kit[b->word];

	ck_assert_msg(b->limit_kpa > 0, "%s has no limit in kPa", bottle);
	for (size_t s = 0; s < sizeof sugars / sizeof *sugars; s++)
		for (size_t t = 0; t < sizeof hottest_c / sizeof *hottest_c; t++) {
			double rate = sugars[s].as_sucrose * 130 / 20, vol = residual(20) + rate / 4,
			       kpa = bottle_kpa(vol, hottest_c[t]);
			char *journal = ab_arena_printf(arena,
			    "<reading at='+9d' wort='20 C'/><package at='+14d' %s priming='130 g'"
			    " sugar='%s' volume='20 L'/><store temp='3 C' hottest='%.0f C'/>",
			    packed(b), sugars[s].sugar, hottest_c[t]);
			is(journal, "pack.priming-rate", rate, 1e-6);
			is(journal, "pack.co2-expected", vol, 1e-3);
			is(journal, "pack.co2-over", vol - 2.4, 1e-3);
			is(journal, "pack.pressure-worst", kpa, 0.5);
			is(journal, "pack.pressure-share", kpa / b->limit_kpa, 0.5 / b->limit_kpa);
		}
}
END_TEST

/* ---- the warning of it ---- */

/* The id of the first warning of pressure, or "none". */
static const char *warned_by(const char *journal, const struct ab_profile *profile)
{
	const struct ab_diagnose_options options = { 0 };
	struct ab_case *c = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_msg(ab_case_work(rules, fact_read(journal, arena), profile, &options, arena, &c, &diag) == AB_OK,
	    "%s", diag.text);
	for (size_t i = 0; i < c->diagnosis->n_warnings; i++) {
		const char *id = c->diagnosis->warnings[i].id;
		if (strncmp(id, "bottle-pressure", 15) == 0 || strcmp(id, "pressure-unjudged") == 0 ||
		    strncmp(id, "keg-", 4) == 0)
			return id;
	}
	return "none";
}

static const char *warned(const char *journal)
{
	return warned_by(journal, NULL);
}

/* The same of a keg of so much beer (19 or 5 L, less the half) under half a litre of its gas at 20 C and 1 atm, by
 * its mass balance: halved until it closes. */
static double keg_kpa(double vol, double beer_l, double t_c)
{
	double all = vol + 0.5 / beer_l * 273.15 / 293.15, lo = -101, hi = 3000;

	for (int i = 0; i < 60; i++) {
		double mid = (lo + hi) / 2, over = 0.5 / beer_l * (mid / 101.325 + 1) * 273.15 / (t_c + 273.15);
		if (bottle_kpa(all - over, t_c) > mid)
			lo = mid;
		else
			hi = mid;
	}
	return lo;
}

/* Primed so that the pressure at 25 C is this. */
static char *primed_to_kpa(const struct ab_bottle_norm *b, double kpa)
{
	double lo = 0, hi = 20;
	bool keg = strstr(ab_words_kit[b->word], "keg") != NULL, mini = strcmp(ab_words_kit[b->word], "mini-keg") == 0;

	for (int i = 0; i < 60; i++) {
		double mid = (lo + hi) / 2;
		if ((keg ? keg_kpa(mid, mini ? 4.5 : 18.5, 25) : bottle_kpa(mid, 25)) < kpa)
			lo = mid;
		else
			hi = mid;
	}
	double grams = (lo - residual(20)) * 4 * 20;
	return grams < 0
	    ? NULL
	    : ab_arena_printf(arena,
		  "<reading at='+9d' wort='20 C'/><package at='+14d' %s"
		  " priming='%.3f g' sugar='sucrose' volume='20.000 L'/><store temp='3 C' hottest='25.00 C'/>",
		  packed(b), grams);
}

/* To a share of what the bottle bears. */
static char *primed_to(const struct ab_bottle_norm *b, double share)
{
	return primed_to_kpa(b, share * b->limit_kpa);
}

/* A tenth below the limit it is an alarm; below that a caution as long as the reckoning's own error reaches the
 * limit. */
START_TEST(warning)
{
	const struct ab_bottle_norm *b = &rules->norms.bottles[(size_t)_i % rules->norms.n_bottles];
	const char *bottle = ab_words_kit[b->word], *over = primed_to(b, 0.905), *under = primed_to(b, 0.895),
		   *far = primed_to(b, 0.45);

	ck_assert_msg(over != NULL && under != NULL, "%s bears less than unprimed beer", bottle);
	ck_assert_msg(
	    strcmp(warned(over), "bottle-pressure") == 0, "%s at 0.905 of its limit: %s", bottle, warned(over));
	const char *below[] = { under, far };
	for (int j = 0; j < 2 && below[j] != NULL; j++) {
		const struct ab_fact *f = fact(below[j], "pack.pressure-share");
		const char *wanted = f->value + f->u > 1                       ? "bottle-pressure-near"
		    : b->tell_kpa > 0 && f->value * b->limit_kpa > b->tell_kpa ? "pressure-unjudged"
									       : "none";
		ck_assert_msg(strcmp(warned(below[j]), wanted) == 0, "%s at %.3f +- %.3f of its limit: %s", bottle,
		    f->value, f->u, warned(below[j]));
	}
}
END_TEST

/* What no limit is known of is never judged, and from where the rules say so that is told; below, an ordinary
 * pressure frightens nobody. */
START_TEST(unjudged)
{
	size_t limitless = 0;

	for (size_t i = 0; i < rules->norms.n_bottles; i++) {
		const struct ab_bottle_norm *b = &rules->norms.bottles[i];
		if (b->tell_kpa <= 0)
			continue;
		const char *kind = ab_words_kit[b->word], *over = primed_to_kpa(b, b->tell_kpa + 2),
			   *under = primed_to_kpa(b, b->tell_kpa - 2);
		limitless += b->limit_kpa <= 0;
		ck_assert_ptr_nonnull(b->says);
		ck_assert_msg(strcmp(warned(over), "pressure-unjudged") == 0, "%s over: %s", kind, warned(over));
		ck_assert_msg(strcmp(warned(under), "none") == 0, "%s under: %s", kind, warned(under));
		ck_assert_msg(AB_FACT_KNOWN(fact(over, "pack.pressure-share")) == (b->limit_kpa > 0), "%s", kind);
	}
	ck_assert_uint_ge(limitless, 4);   /* keg, cask, mini keg, plastic can */
}
END_TEST

/* Everything said of such a journal that a brewer is to take care of. */
static const char *all_warnings(const char *journal)
{
	const struct ab_diagnose_options options = { 0 };
	const char *all = "";
	struct ab_case *c = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_msg(ab_case_work(rules, fact_read(journal, arena), NULL, &options, arena, &c, &diag) == AB_OK,
	    "%s", diag.text);
	for (size_t i = 0; i < c->diagnosis->n_warnings; i++)
		all = ab_arena_printf(arena, "%s%s ", all, c->diagnosis->warnings[i].text);
	return all;
}

/* Cans, kegs and casks are spoken of as such: nobody lets a can off, or covers a keg with a cloth. What each must
 * say, and what none may. */
static const struct { const char *into, *says, *other; } own_words[] = {
	{ "into='bottles' bottle='longneck'", "bottles", "relief valve" },
	{ "into='cans'", "a can cannot be let off", "ottle" },
	{ "into='cans' bottle='plastic-can'", "A can cannot be let off", "ottle" },
	{ "into='keg'", "relief valve", "ottle" },
	{ "into='keg' bottle='mini-keg'", "never pull tap or bung under pressure", "ottle" },
	{ "into='cask'", "soft peg", "ottle" },
};

START_TEST(in_its_own_words)
{
	/* seven points left, sugar on top, found gushing */
	const char *text = all_warnings(ab_arena_printf(arena,
	    "<recipe fg='1.010 SG'/><yeast class='clean-ale'/><instrument item='hydrometer' checked='yes'/>"
	    "<reading at='+0h' gravity='1.050 SG'/><reading at='+9d' wort='20 C' gravity='1.017 SG'/>"
	    "<package at='+10d' %s volume='20 L' priming='160 g' sugar='sucrose'/>"
	    "<store hottest='28 C'/><tasting at='+40d'><found fault='too much gas' intensity='5'/></tasting>",
	    own_words[_i].into));
	ck_assert_msg(strstr(text, own_words[_i].says) != NULL, "%s: %s", own_words[_i].into, text);
	ck_assert_msg(strstr(text, own_words[_i].other) == NULL, "%s: %s", own_words[_i].into, text);
}
END_TEST

/* Whatever is said of kegs, casks and cans alone speaks of no bottle. */
static size_t of_no_bottle(const char *id, const struct ab_tell *tells, size_t n)
{
	for (size_t i = 0; i < n; i++)
		ck_assert_msg(strstr(tells[i].says, "ottle") == NULL && strlen(tells[i].says) > 20, "%s: %s", id,
		    tells[i].says);
	return n;
}

START_TEST(others_are_no_bottles)
{
	size_t n = 0;

	for (size_t i = 0; i < rules->n_causes; i++)
		n += of_no_bottle(rules->causes[i].id, rules->causes[i].cautions, rules->causes[i].n_cautions);
	for (size_t i = 0; i < rules->n_faults; i++)
		n += of_no_bottle(rules->faults[i].id, rules->faults[i].cautions, rules->faults[i].n_cautions);
	for (size_t i = 0; i < rules->n_changes; i++)
		n += of_no_bottle(rules->changes[i].id, rules->changes[i].cautions, rules->changes[i].n_cautions);
	ck_assert_uint_ge(n, 17);
	for (size_t i = 0; i < rules->norms.n_bottles; i++)
		ck_assert_msg(
		    rules->norms.bottles[i].care == NULL || strstr(rules->norms.bottles[i].care, "ottle") == NULL,
		    "%s", rules->norms.bottles[i].care);
}
END_TEST

/* A keg whose beer has points left is told of; a finished one, on gas of any usual setting and in any usual place,
 * is not. */
START_TEST(kegs_alarm)
{
#define ON_GAS(sg) "<recipe fg='1.010 SG'/><yeast class='clean-ale'/><reading at='+0h' gravity='1.050 SG'/>" \
	"<reading at='+6d' gravity='" sg " SG'/>" \
	"<reading at='+9d' wort='20 C' gravity='" sg " SG'/><package at='+10d' into='keg'/>"
	for (double kpa = 60; kpa <= 120; kpa += 20)
		for (int t = 4; t <= 28; t += 8) {
			const char *gas = ab_arena_printf(arena,
			    "<carbonate pressure='%.0f kPa' temp='4 C'/><store temp='4 C' hottest='%d C'/>", kpa,
			    t);
			const char *finished = warned(ab_arena_printf(arena, "%s%s", ON_GAS("1.010"), gas));
			ck_assert_msg(strcmp(finished, "none") == 0, "%s: %s", gas, finished);
			ck_assert_msg(t < 20 ||
				strcmp(warned(ab_arena_printf(arena, "%s%s", ON_GAS("1.018"), gas)),
				    "pressure-unjudged") == 0,
			    "%s", gas);
		}
	/* nor does a finished keg look over-primed: it cannot */
	const struct ab_diagnose_options options = { 0 };
	struct ab_case *c = NULL;
	struct ab_diag diag;
	ab_diag_init(&diag);
	ck_assert_int_eq(
	    ab_case_work(rules,
		fact_read(
		    ON_GAS(
			"1.018") "<carbonate pressure='90 kPa' temp='4 C'/><tasting at='+40d'>"
			"<found fault='too much gas' intensity='3'/>"
				 "</tasting>",
		    arena),
		NULL, &options, arena, &c, &diag),
	    AB_OK);
	ck_assert_str_eq(rules->causes[c->diagnosis->suspects[0].cause].id, "packaged-unfinished");
	for (size_t i = 0; i < c->diagnosis->n_suspects; i++)
		if (strcmp(rules->causes[c->diagnosis->suspects[i].cause].id, "over-priming") == 0)
			ck_assert_double_eq_tol(c->diagnosis->suspects[i].blame, 0, 1e-12);
}
END_TEST

/* ---- kegs nobody tells all of ---- */

/* What a careful keg user is told of a keg nobody tells the gas of, of one in the cold, and of one whose gas is not
 * reckoned. Glass filled beside a keg is judged as glass. */
static const struct { const char *title, *journal, *want; } kegs_told[] = {
	{ "untold gas, finished", ON_GAS("1.010"), "none" },
	{ "untold gas, two points, within where its class ends", ON_GAS("1.012"), "none" },
	{ "untold gas, four points over the plan, still for three days", ON_GAS("1.014"), "pressure-unjudged" },
	{ "untold gas, four points, read once",
	    "<recipe fg='1.010 SG'/><reading at='+0h' gravity='1.050 SG'/>"
	    "<reading at='+9d' wort='20 C' gravity='1.014 SG'/>"
	  "<package at='+10d' into='keg'/>", "pressure-unjudged" },
	{ "untold gas, eight points", ON_GAS("1.018"), "pressure-unjudged" },
	{ "eight points, cold on gas",
	    ON_GAS("1.018") "<carbonate pressure='80 kPa' temp='4 C'/><store temp='4 C'/>", "keg-warm-day" },
	{ "eight points, cold on gas, a valve on it", ON_GAS("1.018")
	    "<carbonate pressure='80 kPa' temp='4 C'/><store temp='4 C'/><spund at='+10d' pressure='1 bar'/>", "none" },
	{ "finished, cold on gas", ON_GAS("1.010") "<carbonate pressure='80 kPa' temp='4 C'/><store temp='4 C'/>",
	    "none" },
	{ "eight points, cold, all drunk", "<recipe fg='1.010 SG'/><yeast class='clean-ale'/>"
	    "<reading at='+0h' gravity='1.050 SG'/><reading at='+9d' wort='20 C' gravity='1.018 SG'/>"
	  "<package at='+10d' into='keg' fate='drunk'/><carbonate pressure='80 kPa' temp='4 C'/>", "none" },
	{ "mixed gas", ON_GAS("1.010") "<carbonate pressure='2 bar' temp='4 C' gas='mixed'/>", "keg-mixed-gas" },
	{ "nitrogen", ON_GAS("1.010") "<carbonate pressure='2 bar' temp='4 C' gas='nitrogen'/>", "keg-mixed-gas" },
	{ "carbon dioxide", ON_GAS("1.010") "<carbonate pressure='0.8 bar' temp='4 C' gas='co2'/>", "none" },
	{ "a growler, left in a warm room", "<package at='+10d' into='keg' bottle='growler'/>"
	    "<carbonate pressure='80 kPa' temp='4 C'/><store hottest='22 C'/>", "bottle-pressure" },
	{ "a growler in the cold", "<package at='+10d' into='keg' bottle='growler'/>"
	    "<carbonate pressure='30 kPa' temp='4 C'/><store temp='4 C' hottest='4 C'/>", "none" },
	{ "a growler beside cans", "<package at='+10d' into='cans' bottle='growler'/>"
	    "<carbonate pressure='80 kPa' temp='4 C'/><store hottest='22 C'/>", "bottle-pressure" },
	{ "a growler beside a cask", "<package at='+10d' into='cask' bottle='growler' volume='20 L' "
	    "priming='60 g' sugar='sucrose'/><store hottest='22 C'/>", "bottle-pressure" },
};

START_TEST(kegs_are_told)
{
	ck_assert_msg(strcmp(warned(kegs_told[_i].journal), kegs_told[_i].want) == 0, "%s: %s", kegs_told[_i].title,
	    warned(kegs_told[_i].journal));
}
END_TEST

/* What is usual for this brewer's bottles tells nothing of a keg. */
START_TEST(usual_bottles)
{
	static const char text[] =
	    "<brewery xmlns='urn:afterboil:profile:1'><usual><package into='bottles' bottle='growler'/></usual>"
	    "</brewery>";
	struct ab_profile *profile = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_msg(ab_profile_read_memory(text, sizeof text - 1, "profile.xml", arena, &profile, &diag) == AB_OK,
	    "%s", diag.text);
	ck_assert_str_eq(warned_by(ON_GAS("1.010") "<carbonate pressure='80 kPa' temp='4 C'/>", profile), "none");
	/* and of bottles it tells */
	ck_assert_str_eq(
	    warned_by("<package at='+10d' into='bottles' volume='20 L' priming='100 g' sugar='sucrose'/>", profile),
	    "bottle-pressure");
}
END_TEST

/* The same where such a thing is told as a bottle: an ordinary pressure frightens nobody, a high one is told. */
START_TEST(told_as_bottle)
{
	static const char *const kinds[] = { "mini-keg", "plastic-can" };
	static const struct { int grams; const char *want; } sugar[] = { { 60, "none" }, { 300, "pressure-unjudged" } };

	for (size_t i = 0; i < 4; i++) {
		const char *got = warned(ab_arena_printf(arena,
		    "<reading at='+9d' wort='20 C'/><package at='+14d' into='bottles' bottle='%s' priming='%d g'"
		    " sugar='sucrose' volume='20 L'/><store temp='3 C' hottest='25 C'/>",
		    kinds[i / 2], sugar[i % 2].grams));
		ck_assert_msg(
		    strcmp(got, sugar[i % 2].want) == 0, "%s with %d g: %s", kinds[i / 2], sugar[i % 2].grams, got);
	}
}
END_TEST

/* Drink cans: 90 psi, the industry's common rating (from memory). A can is judged by it, whatever the journal's
 * bottle field says besides. */
START_TEST(cans)
{
	const struct ab_bottle_norm *b = ab_bottle_norm_of(&rules->norms, AB_PACK_CANS, 0);

	ck_assert_double_eq_tol(b->limit_kpa, 90 * 6.894757, 1);
	/* bottles filled besides are what is judged */
	for (int into = AB_PACK_KEG; into <= AB_PACK_CANS; into++)
		ck_assert_ptr_eq(ab_bottle_norm_of(&rules->norms, into, AB_BOTTLE_GROWLER),
		    ab_bottle_norm_of(&rules->norms, AB_PACK_BOTTLES, AB_BOTTLE_GROWLER));
	ck_assert_ptr_ne(ab_bottle_norm_of(&rules->norms, AB_PACK_KEG, AB_BOTTLE_MINI_KEG),
	    ab_bottle_norm_of(&rules->norms, AB_PACK_KEG, 0));
	ck_assert_ptr_eq(ab_bottle_norm_of(&rules->norms, 0, 0),
	    ab_bottle_norm_of(&rules->norms, AB_PACK_BOTTLES, AB_BOTTLE_LONGNECK));
	ck_assert_ptr_null(ab_bottle_norm_of(&fact_norms, AB_PACK_KEG, 0));
	ck_assert_double_eq(ab_bottle_limit_kpa(NULL), 0);
	/* gas from a keg, as in bottles: 1.8 bar at 12 C, and 0.5 volumes for each point that is left */
	double table = (1.8 / 0.06894757 + 14.695) * (0.01821 + 0.090115 * exp(-(1.8 * 12) / 43.11)) - 0.003342;
	is("<package into='cans'/><carbonate pressure='1.8 bar' temp='12 C'/>", "pack.co2-expected", table, 0.005);
	const char *keg = "<package into='keg'/><carbonate pressure='2.5 bar' temp='0 C'/>";
	is(keg, "pack.pressure-worst", 250, 0.5);   /* it stands cold */
	ck_assert_double_gt(
	    fact(ab_arena_printf(arena, "%s<store hottest='30 C'/>", keg), "pack.pressure-worst")->value, 500);
	is("<package into='cans'/><carbonate pressure='1.8 bar' temp='12 C'/><store hottest='35 C'/>",
	    "pack.pressure-worst", bottle_kpa(table, 35), 1);
}
END_TEST

/* ---- kegs ---- */

/* A keg's gas by its pressure and temperature, against the same curve turned round. */
START_TEST(keg)
{
	for (double kpa = 20; kpa <= 220; kpa += 25)
		for (double t = 0; t <= 24; t += 4) {
			double vol = (kpa / 6.894757293 + 14.695) * (0.01821 + 0.090115 * exp(-(1.8 * t) / 43.11)) -
			    0.003342;
			char *journal = ab_arena_printf(
			    arena, "<package into='keg'/><carbonate pressure='%.0f kPa' temp='%.0f C'/>", kpa, t);
			is(journal, "keg.equilibrium-co2", vol, 1e-3);
			is(journal, "pack.co2-expected", vol, 1e-3);
			is(journal, "pack.pressure-worst", kpa, 0.5);   /* it stays where its gas was set */
		}
}
END_TEST

/* More gas than the keg holds as it is served; only where the gas it took up is known by itself. */
START_TEST(gas_over)
{
#define SERVED "<serve pressure='60 kPa' temp='8 C'/>"
	double at_4 = (80 / 6.894757293 + 14.695) * (0.01821 + 0.090115 * exp(-(1.8 * 4) / 43.11)) - 0.003342;
	double at_8 = (60 / 6.894757293 + 14.695) * (0.01821 + 0.090115 * exp(-(1.8 * 8) / 43.11)) - 0.003342;

	is("<package into='keg'/><carbonate pressure='80 kPa' temp='4 C'/>" SERVED, "serve.gas-over", at_4 - at_8,
	    1e-3);
	is("<package into='keg'/><carbonate pressure='80 kPa' temp='4 C'/><serve temp='4 C'/>", "serve.gas-over", 0,
	    1e-3);
	unknown("<package into='keg'/><carbonate pressure='80 kPa'/>" SERVED, "serve.gas-over");
	unknown("<package into='keg'/><carbonate temp='4 C'/>" SERVED, "serve.gas-over");
	unknown("<package into='keg'/>" SERVED, "serve.gas-over");
	unknown("<package into='bottles'/><carbonate pressure='80 kPa' temp='4 C'/>" SERVED, "serve.gas-over");
	unknown("<package into='keg'/><carbonate pressure='80 kPa' temp='4 C'/><serve pressure='60 kPa'/>",
	    "serve.gas-over");
}
END_TEST

/* ---- storage histories, hour by hour ---- */

/* Stays told by length, one after the other from packaging on day 14, tasted on a day. */
static const struct { const char *title; int days[4]; double temp[4]; int tasted; } histories[] = {
	{ "one stay, just so long", { 30 }, { 20 }, 30 }, { "one stay, tasted early", { 30 }, { 12 }, 10 },
	{ "warm, then cold", { 14, 60 }, { 22, 4 }, 74 },
	{ "cold, then a hot week, then cold", { 20, 7, 30 }, { 4, 32, 4 }, 57 },
	{ "tasted in the second stay", { 14, 60 }, { 24, 2 }, 20 },
	{ "four places", { 5, 6, 7, 8 }, { 18, 28, 8, 0 }, 26 },
	{ "the last goes on", { 10, 10 }, { 20, 10 }, 50 }, { "one hot day", { 1 }, { 40 }, 1 },
	{ "half a year", { 21, 160 }, { 20, 13 }, 181 },
};

START_TEST(storage)
{
	char stays[600] = "";
	double days = 0, warmth = 0;

	for (int i = 0, hour = 0; i < 4 && histories[_i].days[i] > 0; i++) {
		size_t n = strlen(stays);
		snprintf(stays + n, sizeof stays - n, "<store for='%d d' temp='%.0f C'/>", histories[_i].days[i],
		    histories[_i].temp[i]);
		bool last = i == 3 || histories[_i].days[i + 1] == 0;
		int end = hour + 24 * histories[_i].days[i];
		if (last && end < 24 * histories[_i].tasted)
			end = 24 * histories[_i].tasted;
		for (; hour < end && hour < 24 * histories[_i].tasted; hour++) {
			days += 1 / 24.0;
			warmth += pow(2.2, (histories[_i].temp[i] - 20) / 10) / 24;
		}
	}
	char *journal = ab_arena_printf(
	    arena, "<package at='+14d' into='bottles'/>%s<tasting at='+%dd'/>", stays, 14 + histories[_i].tasted);
	is(journal, "store.days", days, 1e-6);
	is(journal, "store.equivalent-days", warmth, 1e-6 * warmth);
	is(journal, "taste.age", histories[_i].tasted, 1e-9);
	is(journal, "taste.beer-age", 14 + histories[_i].tasted, 1e-9);
}
END_TEST

/* ---- wort: oxygen by method, warmth and strength ---- */

START_TEST(oxygen)
{
	static const struct { const char *method; double most, minutes; } methods[] = { { "pour", 4, 0 },
	    { "shake", 8, 40 / 60.0 },
		{ "whisk", 8, 40 / 60.0 }, { "pump", 8, 5 } };
	static const struct { double t, water; } warmths[] = { { 10, 11.29 }, { 20, 9.09 }, { 30, 7.56 } };
	     /* US Geological Survey */

	for (size_t m = 0; m < sizeof methods / sizeof *methods; m++)
		for (size_t w = 0; w < 3; w++)
			for (double p = 8; p <= 24; p += 4) {
				double air = warmths[w].water * exp(-0.0202 * p),
				       most = methods[m].most < air ? methods[m].most : air;
				char *head = ab_arena_printf(arena,
				    "<recipe og='%.0f P'/><pitch at='2031-03-01T18:00' temp='%.0f C'/>"
				    "<aerate method='%s'",
				    p, warmths[w].t, methods[m].method);
				is(ab_arena_printf(arena, "%s/>", head), "aerate.oxygen", most, 0.015);
				if (methods[m].minutes <= 0)
					continue;
				/* half the time: three time constants are the whole of it */
				double half = 2 + (most - 2) * (1 - exp(-1.5)) / (1 - exp(-3));
				is(ab_arena_printf(arena, "%s time='%.3f s'/>", head, methods[m].minutes * 30),
				    "aerate.oxygen", half, 0.015);
			}
}
END_TEST

/* ---- gravity: corrections on the way ---- */

START_TEST(gravity)
{
	static const double density[] = { 999.70, 999.10, 998.21, 997.05, 995.65 }; /* of water at 10 to 30 C, CRC
										       Handbook */

	for (int i = 0; i < 5; i++)
		for (double sg = 1.040; sg <= 1.071; sg += 0.010) {
			double t = 10 + 5 * i, want = sg * 998.21 / density[i] / (1 + 25e-6 * (t - 20));
			char *journal = ab_arena_printf(arena,
			    "<reading at='+0h' gravity='%.3f SG' instrument='hydrometer' sample='%.0f C'/>", sg, t);
			is(journal, "gravity.og", want, 5e-5);
			journal = ab_arena_printf(arena,
			    "<reading at='+0h' gravity='%.3f SG' instrument='hydrometer' sample='%.0f C' "
			    "corrected='yes'/>",
			    sg, t);
			is(journal, "gravity.og", sg, 1e-9);
			journal = ab_arena_printf(arena,
			    "<instrument item='hydrometer' off-gravity='2 points'/><reading at='+0h' gravity='%.3f SG'"
			    " instrument='hydrometer'/>",
			    sg);
			is(journal, "gravity.og", sg - 0.002, 1e-9);
			/* a float takes its own temperature */
			journal = ab_arena_printf(arena,
			    "<reading at='+0h' gravity='%.3f SG' instrument='float' sample='%.0f C'/>", sg, t);
			is(journal, "gravity.og", sg, 1e-9);
		}
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("fact-grids");
	TCase *tc = tcase_create("grids");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, pitch, 0, 12);
	tcase_add_loop_test(tc, pressure, 0, 9);
	tcase_add_loop_test(tc, warning, 0, 9);
	tcase_add_test(tc, unjudged);
	tcase_add_loop_test(tc, in_its_own_words, 0, sizeof own_words / sizeof *own_words);
	tcase_add_test(tc, others_are_no_bottles);
	tcase_add_test(tc, kegs_alarm);
	tcase_add_test(tc, told_as_bottle);
	tcase_add_loop_test(tc, kegs_are_told, 0, sizeof kegs_told / sizeof *kegs_told);
	tcase_add_test(tc, usual_bottles);
	tcase_add_test(tc, cans);
	tcase_add_test(tc, keg);
	tcase_add_test(tc, gas_over);
	tcase_add_loop_test(tc, storage, 0, sizeof histories / sizeof *histories);
	tcase_add_test(tc, oxygen);
	tcase_add_test(tc, gravity);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
