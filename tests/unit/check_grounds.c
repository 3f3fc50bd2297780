/* check_grounds.c - what facts decide, looked up once: against every rule asked again, and against rows worked by hand
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <string.h>

#include "advice/grounds.h"
#include "base/alloc.h"
#include "insidecase.h"
#include "plan_cases.h"

static struct brewery b;
static struct advising a;

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	inside_close(&a);
	brewery_close(&b);
}

/* Conditions of every sort; the last that holds is the one that counts. `sour` is a trait of an odd yeast. */
#define RULES \
	"<fault id='sour' severity='4' source='estimate'><title>Sour</title><word>sour</word>" \
	"<leak noticeable='0.01' strong='0.001' source='estimate'/>" \
	"<leak noticeable='0.03' strong='0.002' source='estimate'><when fact='t.control' is='fridge'/></leak>" \
	"<leak noticeable='0.07' strong='0.003' source='estimate'><when fact='t.odd' is='yes'/></leak></fault>\n" \
	"<fault id='nutty' severity='1' source='estimate'><title>Nutty</title><word>nutty</word>" \
	"<leak noticeable='0.02' strong='0.001' source='estimate'/>" \
	"<leak noticeable='0.04' strong='0.001' source='estimate'><when fact='t.over' over='2 K'/></leak></fault>\n" \
	"<cause id='mixed' side='cold' stage='ferment'><title>Mixed</title><why>so</why>" \
	"<prior p='0.2' source='estimate'/>" \
	"<gives fault='nutty' noticeable='0.2' strong='0.1' source='estimate'/>" \
	"<gives fault='butter' noticeable='0.3' strong='0.1' source='estimate'/>" \
	"<gives fault='butter' noticeable='0.6' strong='0.2' source='estimate'>" \
	"<when fact='t.control' is='fridge'/></gives>" \
	"<gives fault='sour' noticeable='0.5' strong='0.2' source='estimate'><when fact='t.over' over='2 K'/>" \
	"</gives></cause>\n" \
	"<cause id='odd-one' side='cold' stage='pitch' kind='benign' expects='yes'><title>Odd</title>" \
	"<why>so</why><prior p='0.3' source='estimate'/>" \
	"<gives fault='sour' noticeable='0.5' strong='0.2' source='estimate'><when fact='t.odd' is='yes'/>" \
	"</gives></cause>\n" \
	HABIT("h", COOLS PREVENTS("warm", "0.4")) BUY("x", "50", PREVENTS("warm", "0.5")) BUY("y", "50", \
	PREVENTS("stale", "0.7"))

enum { F_BUTTER, F_PAPER, F_SOUR, F_NUTTY, FAULTS };
enum { C_MIXED = C_CAUSES, C_ODD };
enum { FRIDGE = 2, FAMILY_PLAIN = 0, FAMILY_ODD = 1 };

/* ---- by hand ---- */

/* One batch. leak: of sour; may: is sour, is paper a trait; ways: of mixed, links in the order of faults, -1 ends;
 * links: that made sour, if it was found. In the rules above links of `mixed` are 0 nutty, 1 butter, 2 butter in a
 * fridge, 3 sour when warm. */
static const struct {
	const char *title;
	double over;
	int control, odd, family, leak, sour, paper, ways[4], sour_from_mixed, sour_from_odd;
} hand[] = {
	{ "nothing known", NAN, -1, -1, -1, 0, 0, 0, { 1, 0, -1 }, 0, 0 },
	{ "in a fridge", NAN, FRIDGE, -1, FAMILY_PLAIN, 1, 0, 0, { 2, 0, -1 }, 0, 0 },
	{ "an odd yeast", NAN, -1, 1, -1, 2, 1, 0, { 1, 0, -1 }, 0, 1 },
	{ "both: the last row counts", NAN, FRIDGE, 1, FAMILY_PLAIN, 2, 1, 0, { 2, 0, -1 }, 0, 1 },
	{ "another yeast", NAN, -1, 0, -1, 0, 0, 0, { 1, 0, -1 }, 0, 0 },
	{ "warm", 3, -1, 0, -1, 0, 0, 0, { 1, 3, 0, -1 }, 1, 0 },
	{ "a family that is meant to be papery", 3, FRIDGE, 0, FAMILY_ODD, 1, 0, 1, { 2, 3, 0, -1 }, 1, 0 },
};

static int fault_of_way(int link)
{
	return link == 0 ? F_NUTTY : link == 3 ? F_SOUR : F_BUTTER;
}

START_TEST(one_batch)
{
	const char *t = hand[_i].title;
	struct ab_case *c;
	size_t n, k = 0;

	brewery_open(&b, RULES);
	c = brewery_batch(&b);
	if (!isnan(hand[_i].over))
		c->facts[T_OVER] = tiny_fact(hand[_i].over);
	if (hand[_i].control >= 0)
		c->facts[T_CONTROL] = tiny_fact(hand[_i].control);
	if (hand[_i].odd >= 0)
		c->facts[T_ODD] = tiny_fact(hand[_i].odd);
	c->evidence.family = hand[_i].family;
	inside_found(&b, c, F_SOUR, 5);
	inside_open(&a, &b, b.k);
	const struct grounds *g = a.grounds;
	ck_assert_msg(g->leak[F_SOUR] == hand[_i].leak, "%s: leak %d", t, g->leak[F_SOUR]);
	ck_assert_msg(g->leak[F_NUTTY] == (hand[_i].over > 2 ? 1 : 0), "%s: leak %d", t, g->leak[F_NUTTY]);
	ck_assert_msg(g->may_mean[F_SOUR] == hand[_i].sour && g->may_mean[F_PAPER] == hand[_i].paper, "%s: traits", t);
	ck_assert_msg(g->may_mean[F_BUTTER] == 0 && g->may_mean[F_NUTTY] == 0, "%s: traits that are none", t);
	const struct ground_way *way = grounds_way(g, 1, C_MIXED, 0, &n);
	for (; hand[_i].ways[k] >= 0; k++) {
		int link = hand[_i].ways[k], fault = fault_of_way(link);
		double weight =
		    b.k->faults[fault].severity * (hand[_i].family == FAMILY_ODD && fault == F_BUTTER ? 1.5 : 1);

		ck_assert_msg(k < n && way[k].link == link && way[k].fault == fault, "%s: way %zu", t, k);
		ck_assert_msg(fabs(way[k].weight - weight) < 1e-12, "%s: weighs %g", t, way[k].weight);
	}
	ck_assert_msg(k == n, "%s: %zu ways", t, n);
	ck_assert_uint_eq(g->found_from[1], 1);
	ck_assert_int_eq(g->found[0].fault, F_SOUR);
	ck_assert_int_eq(g->found[0].leak, hand[_i].leak);
	ck_assert_msg((int)g->found[0].n == hand[_i].sour_from_mixed + hand[_i].sour_from_odd,
	    "%s: %zu causes of it", t, g->found[0].n);
	const struct ground_link *link = g->found[0].n > 0 ? g->links + g->found[0].first : NULL;
	if (hand[_i].sour_from_mixed)
		ck_assert_msg(link->cause == C_MIXED && (link++)->link == 3, "%s", t);
	if (hand[_i].sour_from_odd)
		ck_assert_msg(link->cause == C_ODD && link->link == 0, "%s", t);
}
END_TEST

/* ---- anything, by every rule asked again ---- */

static unsigned long long seed;

static int below(int n)
{
	return (int)(plan_case_random(&seed) * n);
}

static void batches_at_random(size_t n)
{
	while (n-- > 0) {
		struct ab_case *c = brewery_batch(&b);

		if (below(3) > 0)
			c->facts[T_OVER] = tiny_fact(5 * plan_case_random(&seed));
		if (below(3) > 0)
			c->facts[T_CONTROL] = tiny_fact(below(3));
		if (below(3) > 0)
			c->facts[T_ODD] = tiny_fact(below(2));
		c->evidence.family = below(3) - 1;
		ab_alone(b.k, c->facts, c->diagnosis->present);
		if (below(2) > 0)
			inside_found(&b, c, below(FAULTS), 1 + below(5));
		if (below(3) == 0 && c->fault_load != NULL)
			c->fault_load[below(FAULTS)] = 2;
		c->tasted = c->tasted && below(4) > 0;
	}
}

static int last_link(size_t cause, size_t fault, const struct ab_fact *facts)
{
	size_t i = b.k->causes[cause].n_links;

	while (i-- > 0)
		if ((size_t)b.k->causes[cause].links[i].fault == fault &&
		    ab_conds_hold(&b.k->causes[cause].links[i].when, facts))
			return (int)i;
	return -1;
}

static int last_leak(size_t fault, const struct ab_fact *facts)
{
	size_t i = b.k->faults[fault].n_leaks;

	while (i-- > 0)
		if (ab_conds_hold(&b.k->faults[fault].leaks[i].when, facts))
			return (int)i;
	return -1;
}

static void check_ways(const struct grounds *g, size_t cause, size_t set)
{
	size_t n, k = 0;
	const struct ground_way *way = grounds_way(g, a.n_sets, cause, set, &n);

	for (size_t f = 0; a.weight[set] > 0 && f < FAULTS; f++) {
		int link = last_link(cause, f, a.facts[set]);

		if (link < 0)
			continue;
		ck_assert(k < n && way[k].fault == f && way[k].link == link);
		ck_assert(way[k].weight == b.k->faults[f].severity * ab_family_factor(b.k, a.family[set], (int)f));
		k++;
	}
	ck_assert_uint_eq(k, n);
}

static size_t check_found(const struct grounds *g, const struct ab_case *c, size_t place)
{
	size_t at = g->found_from[place];

	for (size_t f = 0; f < FAULTS && c->tasted; f++) {
		const struct ground_found *found = &g->found[at];
		size_t k = 0;

		if (c->fault_load == NULL || !(c->fault_load[f] > 0))
			continue;
		ck_assert(at < g->found_from[place + 1] && found->fault == (int)f &&
		    found->leak == last_leak(f, c->facts));
		for (size_t i = 0; i < b.k->n_causes; i++) {
			int link = last_link(i, f, c->facts);

			if (link < 0)
				continue;
			ck_assert(k < found->n && g->links[found->first + k].cause == i &&
			    g->links[found->first + k].link == link);
			k++;
		}
		ck_assert_uint_eq(k, found->n);
		at++;
	}
	ck_assert_uint_eq(at, g->found_from[place + 1]);
	return g->found_from[place + 1] - g->found_from[place];
}

/* Whatever a yeast's strength is drawn as, no trait stands outside what was noted; and with links as strong as can
 * be all of it is one. */
static int check_traits(const struct grounds *g, size_t set)
{
	int n = 0;

	for (size_t f = 0; f < FAULTS; f++) {
		bool expected = ab_fault_expected(b.k, a.facts[set], a.family[set], (int)f, 1);

		ck_assert_msg(g->may_mean[set * FAULTS + f] == (a.weight[set] > 0 && expected),
		    "set %zu, fault %zu: %d", set, f, g->may_mean[set * FAULTS + f]);
		n += expected;
	}
	return n;
}

static void surely_expected(void)
{
	const struct ab_cause *c = &b.k->causes[C_ODD];

	for (size_t j = 0; j < c->n_links; j++)
		for (int grade = 1; grade < AB_GRADES; grade++)
			((struct ab_link *)(uintptr_t)&c->links[j])->tail[grade] = 1;
}

START_TEST(any_batches)
{
	size_t found = 0;
	int traits = 0;

	seed = 77 + (unsigned long long)_i;
	brewery_open(&b, RULES);
	batches_at_random(24);
	inside_open(&a, &b, b.k);
	/* batches that weigh nothing, as those of other families when advice is asked for one: nothing is noted of
	 * them */
	a.weight[3] = a.weight[7] = 0;
	surely_expected();
	ck_assert_int_eq(advising_grounds(&a, &b.diag), AB_OK);
	const struct grounds *g = a.grounds;
	for (size_t s = 0; s < a.n_sets; s++) {
		ck_assert_double_eq_tol(g->age[s], pow(0.85, (double)(a.n_cases - 1 - s)), 1e-15);
		for (size_t f = 0; f < FAULTS && a.weight[s] > 0; f++)
			ck_assert_int_eq(g->leak[s * FAULTS + f], last_leak(f, a.facts[s]));
		for (size_t i = 0; i < b.k->n_causes; i++)
			check_ways(g, i, s);
		traits += check_traits(g, s);
		found += check_found(g, b.cases[s], s);
	}
	ck_assert_uint_eq(g->found_from[a.n_cases + 1], g->found_from[a.n_cases]);   /* no trouble was told */
	ck_assert(found > 2 && traits > 2);
}
END_TEST

/* A trouble told comes after the batches, with the facts of its own. */
START_TEST(what_is_told)
{
	seed = 500 + (unsigned long long)_i;
	brewery_open(&b, RULES);
	batches_at_random(5);
	inside_open(&a, &b, b.k);
	a.told = b.cases[2];
	if (a.told->fault_load == NULL || !a.told->tasted)
		inside_found(&b, b.cases[2], F_NUTTY, 3);
	ck_assert_int_eq(advising_grounds(&a, &b.diag), AB_OK);
	ck_assert_uint_gt(check_found(a.grounds, a.told, a.n_cases), 0);
	for (size_t s = 0; s < 5; s++)
		check_found(a.grounds, b.cases[s], s);
	a.told = NULL;
}
END_TEST

/* ---- changes made, and owned ---- */

static const struct {
	const char *title, *noted, *owned;
	size_t at;
	int adopted, unused;
	size_t n_turns, n_owned;
} made[] = {
	{ "none", NULL, NULL, 0, 0, 0, 0, 0 },
	{ "one made at the third", "x", NULL, 2, AB_YES, 0, 1, 0 },
	{ "there from the first batch on", "x", NULL, 0, AB_YES, 0, 0, 0 },
	{ "a trial is not kept", "x", NULL, 2, AB_NO, 0, 0, 0 },
	{ "owned all along", NULL, "y", 0, 0, 0, 0, 1 },
	{ "owned and not in use", NULL, "y", 0, 0, AB_YES, 0, 0 },
	{ "owned, and made in the time of the batches", "y", "y", 3, AB_YES, 0, 1, 0 },
	{ "owned, and there from the first", "y", "y", 0, AB_YES, 0, 0, 1 },
	{ "no change of the rules", NULL, "something", 0, 0, 0, 0, 0 },
};

START_TEST(changes_made)
{
	brewery_open(&b, RULES);
	seed = 9;
	batches_at_random(6);
	if (made[_i].noted != NULL)
		brewery_note(&b, b.cases[made[_i].at], made[_i].noted, made[_i].adopted);
	if (made[_i].owned != NULL) {
		struct ab_list owns = b.profile->owns;
		struct ab_owns *o = brewery_push(&b, &owns, sizeof *o);

		o->change = made[_i].owned;
		o->unused = made[_i].unused;
		b.profile->owns = owns;
	}
	/* advice itself refuses to own what the rules do not know */
	struct ab_list owns = b.profile->owns;
	bool unknown = made[_i].owned != NULL && ab_change_find(b.k, made[_i].owned) < 0;
	if (unknown)
		b.profile->owns = (struct ab_list){ 0 };
	inside_open(&a, &b, b.k);
	b.profile->owns = owns;
	ck_assert_int_eq(advising_grounds(&a, &b.diag), AB_OK);
	const struct grounds *g = a.grounds;
	ck_assert_msg(g->n_turns == made[_i].n_turns && g->n_owned == made[_i].n_owned, "%s: %zu made, %zu owned",
	    made[_i].title, g->n_turns, g->n_owned);
	if (g->n_turns > 0)
		ck_assert((int)g->turns[0].change == ab_change_find(b.k, made[_i].noted) &&
		    g->turns[0].at == made[_i].at);
	if (g->n_owned > 0)
		ck_assert((int)g->owned[0] == ab_change_find(b.k, made[_i].owned));
}
END_TEST

/* The same places, whatever the numbers of the rules are drawn as. */
START_TEST(numbers_move_nothing)
{
	brewery_open(&b, RULES);
	seed = 31;
	batches_at_random(12);
	inside_open(&a, &b, b.k);
	const struct grounds *before = a.grounds;
	for (size_t i = 0; i < b.k->n_causes; i++)
		for (size_t j = 0; j < b.k->causes[i].n_links; j++)
			for (int grade = 1; grade < AB_GRADES; grade++)
				((struct ab_link *)(uintptr_t)&b.k->causes[i].links[j])->tail[grade] *= 0.37;
	ck_assert_int_eq(advising_grounds(&a, &b.diag), AB_OK);
	ck_assert_mem_eq(before->may_mean, a.grounds->may_mean, a.n_sets * FAULTS);
	ck_assert_mem_eq(before->leak, a.grounds->leak, a.n_sets * FAULTS * sizeof *before->leak);
	ck_assert_mem_eq(
	    before->ways_from, a.grounds->ways_from, (a.n_sets * b.k->n_causes + 1) * sizeof *before->ways_from);
	ck_assert_uint_eq(before->n_links, a.grounds->n_links);
}
END_TEST

START_TEST(out_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	long at = 0;

	brewery_open(&b, RULES);
	seed = 5;
	batches_at_random(40);
	inside_open(&a, &b, b.k);
	for (; st != AB_OK && at < 500; at++) {
		struct advising fresh = a;

		fresh.arena = ab_arena_new();
		ab_diag_init(&b.diag);
		ab_alloc_fail_at(at);
		st = advising_grounds(&fresh, &b.diag);
		ab_alloc_fail_at(-1);
		ab_arena_free(fresh.arena);
		ck_assert_msg(st == AB_OK || (st == AB_ENOMEM && b.diag.text[0] != '\0'),
		    "allocation %ld: status %d", at, (int)st);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 1);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("grounds");
	TCase *tc = tcase_create("grounds");

	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, one_batch, 0, (int)(sizeof hand / sizeof *hand));
	tcase_add_loop_test(tc, any_batches, 0, 30);
	tcase_add_loop_test(tc, what_is_told, 0, 10);
	tcase_add_loop_test(tc, changes_made, 0, (int)(sizeof made / sizeof *made));
	tcase_add_test(tc, numbers_move_nothing);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
