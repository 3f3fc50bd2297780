/* check_replay_physics.c - what every change of the project's rules does to a batch by way of the physics: what
 * must follow from the facts it sets, in which direction, and what must stay
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>
#include <afterboil/advice.h>
#include "advice/moving.h"
#include "base/alloc.h"
#include "factcase.h"
#include "rulecase.h"

#define G(at, sg) "<reading at='" at "' gravity='" sg " SG' instrument='hydrometer' sample='20 C'/>"
#define T(at, c) "<reading at='" at "' wort='" c " C'/>"
#define VOLUME "<recipe volume='20 L' og='1.050 SG'/>"
#define ALE "<yeast class='clean-ale' form='liquid' packs='1' age='150 d' kept='cold' made-starter='no'/>"
#define AT "at='2031-03-15T18:00' "
/* a week at 24 to 26 C, cooler after */
#define WARM VOLUME ALE "<vessel kind='bucket' control='none'/>" G("+0h", "1.050") G("+10d", "1.011") \
	T("+6h", "24") T("+1d", "26") T("+2d", "25") \
	T("+3d", "24") T("+5d", "21") T("+8d", "20") "<package " AT "into='bottles'/>"
#define ROOM VOLUME ALE "<vessel kind='bucket' control='none' room='25 C'/>" G("+0h", "1.050") \
	G("+10d", "1.011") "<package " AT "into='bottles'/>"
#define COLDLAGER VOLUME "<yeast class='lager'/><vessel control='fridge' target='9 C'/>" G("+0h", "1.050") \
	"<package " AT "into='bottles'/>"
#define UNFINISHED "<recipe volume='20 L' og='1.050 SG' fg='1.010 SG'/>" ALE G("+0h", "1.050") \
	G("+12d", "1.019") G("+13d", "1.018") \
	"<package " AT "into='bottles' bottle='longneck' priming='120 g' volume='19 L'/><store for='40 d' temp='20 C'/>"
#define BOTTLES VOLUME ALE "<vessel kind='bucket' light='window' sealed='no'/>" G("+0h", "1.050") \
	G("+5d", "1.011") "<package " AT \
	"into='bottles' bottle='longneck' size='500 mL' neck='45 mm' cap='plain' cap-on-foam='no' wand='no' " \
	"colour='clear' priming='110 g' volume='19 L'/>" \
	"<store for='60 d' temp='24 C' light='window'/><tasting at='2031-05-20T18:00'/>"
#define SWEET VOLUME ALE G("+0h", "1.050") G("+10d", "1.010") G("+14d", "1.010") "<package " AT \
	"into='bottles' bottle='longneck' priming='200 g' volume='19 L'/>" \
	"<store for='40 d' temp='20 C'/>"
#define KEG(filled) VOLUME ALE G("+0h", "1.050") G("+5d", "1.011") \
	"<transfer how='siphon' target='air-filled' splashed='yes'/><package " AT \
	"into='keg' size='19 L' volume='18 L' headspace='1 L' " filled \
	"/><store for='60 d' temp='20 C'/><tasting at='2031-05-20T18:00'/>"
#define DRYHOP(more) "<recipe volume='20 L' og='1.050 SG'/>" ALE "<vessel kind='glass' headspace='4 L'/>" \
	G("+0h", "1.050") G("+7d", "1.011") \
	"<dry-hop at='+12d' amount='150 g' " more "/><package " AT \
	"into='bottles' bottle='longneck' size='500 mL' neck='30 mm'/>"
#define CRASH VOLUME ALE "<vessel kind='glass' headspace='5 L'/>" G("+0h", "1.050") G("+7d", "1.011") \
	"<crash at='+10d' temp='2 C' airlock='airlock'/>" \
	"<package " AT "into='bottles' bottle='longneck' size='500 mL' neck='30 mm'/>" \
	"<store for='60 d' temp='20 C'/><tasting at='2031-05-20T18:00'/>"
#define SECOND VOLUME ALE G("+0h", "1.050") G("+6d", "1.011") \
	"<vessel kind='glass'/><vessel kind='glass' second='yes' headspace='4 L' from='+6d'/>" \
	"<package " AT "into='bottles' bottle='longneck' size='500 mL' neck='30 mm'/>"
#define HOT "<recipe volume='20 L' og='1.048 SG'><malt kind='pilsner' amount='4 kg'/></recipe>" \
	"<boil time='60 min' lid='on' vigour='weak'/>" \
	"<chill method='overnight-closed' above-80='90 min' to-pitch='20 h' end-temp='26 C'/>" \
	"<lag first-signs='20 h'/>" ALE
#define AIRED(how) VOLUME "<yeast class='clean-ale' form='liquid'/>" G("+0h", "1.060") "<aerate method='" how \
	"' time='1 min'/>"
#define OPENED VOLUME ALE "<vessel kind='bucket' sealed='no'/><opened at='+10d' for='3 h'/>" G("+0h", "1.050") \
	G("+6d", "1.011") "<package " AT "into='bottles'/>"

enum { FALLS = -1, RISES = 1, CHANGES = 2 };
static const struct { const char *change, *journal, *moves; int how; const char *stays; } rows[] = {
	/* held cooler: the first days as a whole */
	{ "coolest-room", WARM, "ferment.early-mean", FALLS, "gravity.attenuation" },
	{ "coolest-room", WARM, "ferment.hours-out", FALLS, "ferment.rest-days" },
	{ "water-bath-ice", WARM, "ferment.early-mean", FALLS, "pitch.rate-share" },
	{ "wet-cloth-fan", WARM, "ferment.hours-out", FALLS, "pitch.rate-share" },
	{ "match-yeast-to-season", WARM, "ferment.peak-over", FALLS, "ferment.swing" },
	/* sets the mean; the peak follows */
	{ "match-yeast-to-season", ROOM, "ferment.peak-over", FALLS, "gravity.attenuation" },
	/* the same where nobody measured */
	{ "thermostat-fridge", WARM, "ferment.early-mean", FALLS, "gravity.attenuation" },
	{ "probe-on-vessel", WARM, "ferment.early-mean", FALLS, "gravity.attenuation" },
	{ "ready-wired-controller", WARM, "ferment.hours-out", FALLS, "gravity.attenuation" },
	{ "ice-box-thermostat-fan", WARM, "ferment.early-mean", FALLS, "gravity.attenuation" },
	{ "cool-bag", WARM, "ferment.early-mean", FALLS, "gravity.attenuation" },
	{ "use-owned-fridge", WARM, "ferment.peak-over", FALLS, "gravity.attenuation" },
	{ "glycol-chiller", WARM, "ferment.hours-out", FALLS, "gravity.attenuation" },
	/* rested: the reckoned clean-up falls silent, the days decide */
	{ "longer-warm-rest", COLDLAGER, "ferment.cleanup-share", CHANGES, "ferment.days" },
	{ "heat-wrap-with-controller", COLDLAGER, "ferment.cleanup-share", CHANGES, "ferment.days" },
	{ "heat-source-in-chamber", COLDLAGER, "ferment.cleanup-share", CHANGES, "ferment.days" },
	/* yeast: more of it alive */
	{ "fresh-packs-instead-of-starter", WARM, "pitch.rate-share", RISES, "ferment.early-mean-over" },
	{ "starter-jar", WARM, "pitch.rate-share", RISES, "yeast.age" },
	{ "stir-plate", WARM, "pitch.rate-share", RISES, "yeast.age" },
	/* air before */
	{ "shake-hard", AIRED("none"), "aerate.oxygen-short", FALLS, "gravity.og" },
	{ "air-pump", AIRED("pour"), "aerate.oxygen", RISES, "gravity.og" },
	{ "oxygen-wand", AIRED("pour"), "aerate.oxygen", RISES, "gravity.og" },
	/* chilled in less time */
	{ "ice-bath-and-stir", HOT, "chill.dms-potential", FALLS, "pitch.temp-over" },
	{ "immersion-chiller", HOT, "chill.dms-potential", FALLS, "pitch.temp-over" },
	{ "immersion-chiller", HOT, "pitch.doublings-before-yeast", FALLS, "gravity.og" },
	{ "yeast-at-hand", HOT, "pitch.doublings-before-yeast", FALLS, "gravity.og" },
	{ "pump-and-plate-chiller", HOT, "pitch.doublings-before-yeast", FALLS, "gravity.og" },
	{ "lid-off-rolling-boil", HOT, "chill.dms-potential", FALLS, "chill.above-80" },
	/* left to finish: less gas, less pressure, nothing falls in the bottle */
	{ "two-equal-gravities", UNFINISHED, "pack.co2-expected", FALLS, "pack.priming-rate" },
	{ "two-equal-gravities", UNFINISHED, "pack.pressure-worst", FALLS, "gravity.og" },
	{ "two-equal-gravities", UNFINISHED, "gravity.over-expected", FALLS, "gravity.attenuation" },
	{ "wait-a-week-more", UNFINISHED, "pack.co2-over", FALLS, "pack.priming-rate" },
	{ "measure-with-hydrometer", UNFINISHED, "pack.co2-over", FALLS, "pack.priming-rate" },
	{ "wait-after-dry-hop", DRYHOP("opened='open-lid'"), "hops.creep", FALLS, "oxygen.headspace" },
	{ "shorter-dry-hop", DRYHOP("opened='open-lid' contact='6 d'"), "hops.creep", FALLS, "oxygen.headspace" },
	{ "weigh-priming", SWEET, "pack.pressure-worst", FALLS, "gravity.over-expected" },
	/* oxygen after: its own item falls, the total with it, the others stay */
	{ "fill-from-bottom", BOTTLES, "oxygen.transfer", CHANGES, "oxygen.headspace" },
	{ "cap-on-foam", BOTTLES, "oxygen.headspace", FALLS, "oxygen.closure" },
	{ "cap-on-foam", BOTTLES, "oxygen.total", FALLS, "store.equivalent-days" },
	{ "cap-on-foam", BOTTLES, "stale.dose", FALLS, "light.dose" },
	{ "quiet-transfer", KEG("filled='air-filled' purges='1'"), "oxygen.transfer", FALLS, "oxygen.headspace" },
	{ "siphon-pump", KEG("filled='air-filled' purges='1'"), "oxygen.transfer", FALLS, "oxygen.headspace" },
	{ "closed-transfer", KEG("filled='air-filled' purges='1'"), "oxygen.transfer", FALLS, "store.equivalent-days" },
	{ "closed-transfer", KEG("filled='air-filled'"), "oxygen.headspace", FALLS, "store.equivalent-days" },
	{ "pressure-fermenter", KEG("filled='air-filled' purges='1'"), "oxygen.transfer", FALLS, "oxygen.headspace" },
	{ "pressure-fermenter", CRASH, "oxygen.crash", FALLS, "oxygen.headspace" },
	{ "liquid-purge-keg", KEG("filled='air-filled'"), "oxygen.headspace", FALLS, "oxygen.transfer" },
	{ "ferment-gas-purge", KEG("filled='air-filled'"), "oxygen.headspace", FALLS, "oxygen.transfer" },
	{ "purge-five-times", KEG("filled='air-filled' purges='1'"), "oxygen.headspace", FALLS, "oxygen.transfer" },
	{ "purge-five-times", KEG("filled='air-filled' purges='1'"), "stale.dose", FALLS, "store.equivalent-days" },
	{ "stop-crash-suckback", CRASH, "oxygen.crash", FALLS, "oxygen.headspace" },
	{ "stop-crash-suckback", CRASH, "oxygen.total", FALLS, "ferment.days" },
	{ "dry-hop-while-active", DRYHOP("opened='open-lid'"), "oxygen.dry-hop", FALLS, "oxygen.headspace" },
	{ "hop-dropper", DRYHOP("opened='open-lid'"), "oxygen.dry-hop", FALLS, "oxygen.headspace" },
	{ "dry-hop-in-purged-keg", DRYHOP("opened='open-lid'"), "oxygen.dry-hop", FALLS, "oxygen.headspace" },
	{ "skip-second-vessel", SECOND, "oxygen.second-vessel", CHANGES, "oxygen.headspace" },
	{ "leak-check", KEG("filled='air-filled' purges='3'"), NULL, 0, "oxygen.closure" },
	/* a keg's seal is reckoned as sound */
	{ "steel-bucket", BOTTLES, "oxygen.permeation", FALLS, "oxygen.headspace" },
	{ "keep-it-shut", OPENED, "oxygen.opened", FALLS, "oxygen.headspace" },
	{ "sample-less", OPENED, "oxygen.opened", FALLS, "ferment.days" },
	/* kept cold, kept dark */
	{ "cold-store", BOTTLES, "stale.dose", FALLS, "oxygen.total" },
	{ "used-storage-fridge", BOTTLES, "stale.dose", FALLS, "oxygen.total" },
	{ "cover-with-towel", BOTTLES, "light.dose", FALLS, "oxygen.total" },
	{ "brown-bottles", BOTTLES, "light.dose", FALLS, "oxygen.total" },
	{ "swap-sugar-for-malt", BOTTLES, NULL, 0, "gravity.over-expected" },
	/* the gravity reached was of the old recipe */
};

static struct ab_fact *replayed(const char *journal, int change, const struct ab_fact *before)
{
	struct ab_fact *after = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *after);
	struct ab_replay_of of = { .batch = fact_read(journal, rules_arena), .facts = before };
	struct ab_diag diag;
	size_t moved;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_replay_batch(rules, &of, &change, 1, rules_arena, after, &moved, &diag), AB_OK);
	return after;
}

START_TEST(follows)
{
	struct ab_fact *before = rules_facts(rows[_i].journal),
		       *after = replayed(rows[_i].journal, rules_change(rows[_i].change), before);
	const struct ab_fact *stays = fact_get(before, rows[_i].stays), *still = fact_get(after, rows[_i].stays);

	ck_assert_msg(stays->origin == still->origin &&
		(!AB_FACT_KNOWN(stays) || (stays->value == still->value && stays->u == still->u)),
	    "%s: %s was %g and is %g", rows[_i].change, rows[_i].stays, stays->value, still->value);
	if (rows[_i].moves == NULL)
		return;
	const struct ab_fact *was = fact_get(before, rows[_i].moves), *is = fact_get(after, rows[_i].moves);
	ck_assert_msg(AB_FACT_KNOWN(was), "%s: %s is not known to begin with", rows[_i].change, rows[_i].moves);
	if (rows[_i].how == CHANGES)
		ck_assert_msg(!AB_FACT_KNOWN(is) || is->value != was->value, "%s: %s stays %g", rows[_i].change,
		    rows[_i].moves, was->value);
	else
		ck_assert_msg(AB_FACT_KNOWN(is) && rows[_i].how * (is->value - was->value) > 0,
		    "%s: %s was %g and is %g", rows[_i].change, rows[_i].moves, was->value,
		    AB_FACT_KNOWN(is) ? is->value : (double)NAN);
}
END_TEST

/* What the moved facts of one change drag along by the table of facts.h. */
static bool drags(const struct ab_change *c)
{
	struct ab_fact *facts = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *facts);

	for (size_t s = 0; s < c->n_sets; s++) {
		for (size_t i = 0; i < ab_fact_defs()->n; i++)
			facts[i].origin = AB_ORIGIN_DERIVED;
		ab_facts_outdate(facts, c->sets[s].slot);
		for (size_t i = 0; i < ab_fact_defs()->n; i++)
			if (!AB_FACT_KNOWN(&facts[i]))
				return true;
	}
	return false;
}

/* A change whose facts others are reckoned from has a row above, also one that comes new into the rules. */
START_TEST(none_is_forgotten)
{
	for (size_t u = 0; u < rules->n_changes; u++) {
		bool found = !drags(&rules->changes[u]);

		for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
			found = found || strcmp(rows[i].change, rules->changes[u].id) == 0;
		ck_assert_msg(found, "what %s does by way of the physics is not tested", rules->changes[u].id);
	}
}
END_TEST

/* Every setting of the rules is read and moves its fact: from far on the other side to the value it names, once,
 * and not back. */
START_TEST(settings)
{
	struct ab_fact *before = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *before),
		       *after = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *after);
	struct moving m;
	int tested = 0;

	for (size_t u = 0; u < rules->n_changes; u++)
		for (size_t s = 0; s < rules->changes[u].n_sets; s++) {
			const struct ab_sets *set = &rules->changes[u].sets[s];
			const struct ab_fact_def *def = &ab_fact_defs()->defs[set->slot];
			struct ab_fact *f = &before[set->slot];
			int change = (int)u;

			memset(before, 0, ab_fact_defs()->n * sizeof *before);
			f->origin = AB_ORIGIN_MEASURED;
			f->value = set->mode == AB_SET_AT_MOST ? def->hi
			    : set->mode == AB_SET_AT_LEAST     ? def->lo
			    : set->value > 0                   ? 0
							       : 1;
			f->guess = true;
			moving_apply(rules, before, &change, 1, after, &m);
			ck_assert_msg(m.n == 1 && m.n_moved >= 1 && m.moved[0].slot == set->slot, "%s sets %s",
			    rules->changes[u].id, def->name);
			ck_assert(after[set->slot].value == m.moved[0].value && !after[set->slot].guess);
			tested++;
			if (m.n_moved > 1)   /* two settings of one fact: between them */
				continue;
			ck_assert_msg(after[set->slot].value == set->value, "%s: %s %g", rules->changes[u].id,
			    def->name, after[set->slot].value);
			moving_apply(rules, after, &change, 1, before, &m);
			ck_assert_uint_eq(m.n, 0);
		}
	ck_assert_int_gt(tested, 100);
}
END_TEST

/* Facts that the table does not name as following may differ by a hair only: less than half of their own
 * uncertainty. */
START_TEST(the_table_is_complete)
{
	const char *journal = rows[_i].journal;
	struct ab_fact *before = rules_facts(journal),
		       *again = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *again),
		       *silent = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *silent);
	const int change = rules_change(rows[_i].change);
	struct ab_diag diag;
	struct moving m;

	ab_diag_init(&diag);
	moving_apply(rules, before, &change, 1, silent, &m);
	moving_outdate(&m, silent);
	ck_assert_int_eq(ab_facts_recompute(fact_read(journal, rules_arena), NULL, &rules->norms, m.moved, m.n,
			     rules_arena, again, &diag),
	    AB_OK);
	for (size_t i = 0; i < ab_fact_defs()->n; i++) {
		if (!AB_FACT_KNOWN(&before[i]) || !AB_FACT_KNOWN(&silent[i]) || moving_has(&m, (int)i))
			continue;
		ck_assert_msg(
		    AB_FACT_KNOWN(&again[i]) && fabs(again[i].value - before[i].value) <= 0.5 * before[i].u,
		    "%s: %s %g, then %g (u %g)", rows[_i].change, ab_fact_defs()->defs[i].name, before[i].value,
		    AB_FACT_KNOWN(&again[i]) ? again[i].value : (double)NAN, before[i].u);
	}
}
END_TEST

/* Without the batch what follows falls silent; with it, it speaks. Either way the moved fact is the same. */
START_TEST(without_the_batch)
{
	const int five = rules_change("purge-five-times");
	struct ab_fact *before = rules_facts(KEG("filled='air-filled' purges='1'")),
		       *scratch = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *scratch),
		       *after = replayed(KEG("filled='air-filled' purges='1'"), five, before);

	ck_assert_uint_eq(ab_replay(rules, before, &five, 1, scratch, NULL), 1);
	ck_assert(!AB_FACT_KNOWN(fact_get(scratch, "oxygen.headspace")) &&
	    AB_FACT_KNOWN(fact_get(after, "oxygen.headspace")));
	ck_assert_double_eq(fact_get(scratch, "pack.purges")->value, 5);
	ck_assert_double_eq(fact_get(after, "pack.purges")->value, 5);
	ck_assert_double_lt(
	    rules_chance(after, "open-fill-headspace"), 0.5 * rules_chance(before, "open-fill-headspace"));
}
END_TEST

/* ---- whole advice on real rules: tables and joint replay are one ---- */

static struct ab_case *cases[4];

static const struct ab_advice *advise(const struct ab_policy *policy, struct ab_arena *arena)
{
	static const char *const journals[] = { WARM, UNFINISHED, BOTTLES, KEG("filled='air-filled' purges='1'") };
	const struct ab_advice_options options = { .budget = 150,
		.minutes = 60,
		.away_hours = NAN,
		.horizon_years = NAN,
		.running = NAN,
		.policy = policy };
	struct ab_advice *advice = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	for (size_t i = 0; i < 4; i++) {
		const struct ab_diagnose_options all = { .redraws = 0 };
		ck_assert_int_eq(
		    ab_case_work(rules, fact_read(journals[i], arena), NULL, &all, arena, &cases[i], &diag), AB_OK);
	}
	ck_assert_msg(ab_advise(rules, cases, 4, NULL, &options, arena, &advice, &diag) == AB_OK, "%s", diag.text);
	return advice;
}

START_TEST(tables_are_joint_replay)
{
	static const struct ab_policy none;
	const struct ab_policy *const policies[] = { &none, &ab_policy_usual };
	struct ab_arena *arena = ab_arena_new();
	const struct ab_advice *advice = advise(policies[_i], arena);
	double given_up = 0, sum = 0;

	for (int i = 0; i < AB_POLICY_STEPS; i++)
		given_up += advice->given_up[i];
	ck_assert_double_eq_tol(
	    advice->best - given_up, advice->load_before - advice->load_after, 1e-10 * advice->load_before);
	for (size_t i = 0; i < advice->n_plan; i++)
		sum += advice->items[advice->plan[i]].joint_gain;
	ck_assert_double_eq_tol(sum, advice->load_before - advice->load_after, 1e-10 * advice->load_before);
	ck_assert_double_eq(advice->gap, 0);
	ck_assert_double_gt(sum, 0.1 * advice->load_before);
	ab_arena_free(arena);
}
END_TEST

/* Every allocation may fail, also in the middle of a replay: the status says so, nothing leaks, nothing is half
 * told. Every seventh: there are thousands on real rules. */
START_TEST(memory_runs_out)
{
	const int change = rules_change("purge-five-times");
	const char *journal = KEG("filled='air-filled' purges='1'");
	struct ab_fact *before = rules_facts(journal),
		       *after = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *after);
	struct ab_replay_of of = { .batch = fact_read(journal, rules_arena), .facts = before };
	enum ab_status st = AB_ENOMEM;
	long at = 0;
	size_t moved;

	for (; st != AB_OK && at < 1000; at++) {
		struct ab_arena *arena = ab_arena_new();
		struct ab_diag diag;

		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_replay_batch(rules, &of, &change, 1, arena, after, &moved, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
		ab_arena_free(arena);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

START_TEST(memory_runs_out_of_advice)
{
	static const char *const journals[] = { WARM, KEG("filled='air-filled' purges='1'") };
	const struct ab_diagnose_options all = { .redraws = 0 };
	const struct ab_advice_options options = {
		.budget = 40, .minutes = 20, .away_hours = NAN, .horizon_years = NAN, .running = NAN
	};
	struct ab_diag diag;
	enum ab_status st = AB_ENOMEM;
	long n;

	ab_diag_init(&diag);
	for (size_t i = 0; i < 2; i++)
		ck_assert_int_eq(ab_case_work(rules, fact_read(journals[i], rules_arena), NULL, &all, rules_arena,
				     &cases[i], &diag),
		    AB_OK);
	for (long at = 0; st != AB_OK && at < 20000; at += 7) {
		struct ab_arena *arena = ab_arena_new();
		struct ab_advice *advice = NULL;

		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_advise(rules, cases, 2, NULL, &options, arena, &advice, &diag);
		n = ab_alloc_count();
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: status %d", at, (int)st);
		ck_assert((advice != NULL) == (st == AB_OK));
		ab_arena_free(arena);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(n, 50);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("replay by physics");
	TCase *tc = tcase_create("rules");
	SRunner *sr;

	tcase_set_timeout(tc, 60);   /* the frontier of all changes of the rules at once, on a busy machine */
	tcase_add_checked_fixture(tc, rules_read, rules_drop);
	tcase_add_loop_test(tc, follows, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, none_is_forgotten);
	tcase_add_test(tc, settings);
	tcase_add_loop_test(tc, the_table_is_complete, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, without_the_batch);
	tcase_add_loop_test(tc, tables_are_joint_replay, 0, 2);
	tcase_add_test(tc, memory_runs_out);
	tcase_add_test(tc, memory_runs_out_of_advice);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
