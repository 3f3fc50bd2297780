/* check_case_warnings.c - what a worked batch warns of, and what it does not say twice; on the rules of the project
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "factcase.h"
#include "rulecase.h"
#include "workcase.h"

static const struct ab_warning *warning(const struct ab_diagnosis *d, const char *id)
{
	for (size_t i = 0; i < d->n_warnings; i++)
		if (strcmp(d->warnings[i].id, id) == 0)
			return &d->warnings[i];
	return NULL;
}

static const struct { double share, u; bool warns; } pressures[] = {
	{ 0.5, 0, false }, { 0.89, 0, false }, { 0.91, 0, true }, { 1.3, 0, true }, { 0.8, 0.25, false },
	{ 0.8, 0.15, false }, { 2.9, 0, true }, { 9.4, 0, true },
};

START_TEST(bottle_pressure)
{
	struct ab_diagnosis none = { 0 };
	struct ab_case *c = wc_plainly();
	c->facts[ab_fact_slot(wc.k->facts, "pack.pressure-share")] = (struct ab_fact){ .origin = AB_ORIGIN_DERIVED,
		.value = pressures[_i].share,
		.u = pressures[_i].u,
		.working = "because" };
	c->diagnosis = &none;
	ck_assert(case_warnings(wc.k, c, wc.arena));
	const struct ab_warning *w = warning(&none, "bottle-pressure");
	ck_assert_msg((w != NULL) == pressures[_i].warns, "row %d", _i);
	if (w != NULL)
		ck_assert_ptr_nonnull(strstr(w->text, "because"));
	if (w != NULL)
		ck_assert_int_eq(strstr(w->text, "may burst") != NULL, pressures[_i].share > 1);
	if (w != NULL)   /* no figure that nobody believes */
		ck_assert_int_eq(strstr(w->text, "many times") != NULL, pressures[_i].share > 3);
	if (w != NULL)   /* what to do is the end of it, and nothing of the reckoning */
		ck_assert(w->care > w->text && strncmp(w->care, "Keep them cold", 14) == 0 &&
		    w->care + strlen(w->care) == w->text + strlen(w->text));
	/* below the alarm, but within the reckoning's own error of the limit */
	ck_assert_int_eq(warning(&none, "bottle-pressure-near") != NULL,
	    !pressures[_i].warns && pressures[_i].share + pressures[_i].u > 1);
	struct ab_fact *still = &c->facts[ab_fact_slot(wc.k->facts, "gravity.stable-days")];
	*still = (struct ab_fact){ .origin = AB_ORIGIN_UNKNOWN };
	ck_assert_ptr_eq(ab_case_near_limit(wc.k, c), warning(&none, "bottle-pressure-near"));
	*still = (struct ab_fact){ .origin = AB_ORIGIN_DERIVED, .value = 0.6 };
	ck_assert_ptr_eq(ab_case_near_limit(wc.k, c), warning(&none, "bottle-pressure-near"));
	still->value = 3.3;
	ck_assert_ptr_null(ab_case_near_limit(wc.k, c));
	ck_assert_ptr_eq(ab_case_bursting(c), w);
}
END_TEST

/* Beside pressure in a fermenter stands its care; a stronger one where the vessel is not made for it. */
static const struct { const char *title; int kind, rated; double rated_kpa, kpa; bool packaged;
    const char *warns; } fermenters[] = {
	{ "a keg", 6, 0, 0, 80, false, "fermenter-under-pressure" }, { "packaged since", 6, 0, 0, 80, true, NULL },
	{ "let off", 6, 0, 0, 0, false, NULL },
	{ "glass", 3, 0, 0, 80, false, "fermenter-pressure" },
	{ "glass, packaged since", 3, 0, 0, 80, true, "fermenter-pressure" },
	{ "a bucket", 1, 0, 0, 20, false, "fermenter-pressure" },
	{ "not rated", 4, AB_NO, 0, 80, false, "fermenter-pressure" },
	{ "stamped for less", 6, AB_YES, 70, 80, false, "fermenter-pressure" },
	{ "stamped for more", 2, AB_YES, 200, 80, false, "fermenter-under-pressure" },
};

START_TEST(fermenter_pressure)
{
	struct ab_diagnosis none = { 0 };
	struct ab_case *c = wc_plainly();
	struct ab_batch own = *c->batch;
	struct ab_package package = { .into = 0 };
	struct ab_vessel vessel = { .kind = fermenters[_i].kind, .rated = fermenters[_i].rated,
		.rated_kpa = { .known = fermenters[_i].rated_kpa > 0, .v = fermenters[_i].rated_kpa } };
	struct ab_spund spund = { .pressure_kpa = { .known = true, .v = fermenters[_i].kpa } };
	own.vessels = (struct ab_list){ .items = &vessel, .n = 1 };
	own.spunds = (struct ab_list){ .items = &spund, .n = 1 };
	own.package = fermenters[_i].packaged ? &package : NULL;
	c->batch = &own;
	c->diagnosis = &none;
	ck_assert(case_warnings(wc.k, c, wc.arena));
	static const char *const ids[] = { "fermenter-pressure", "fermenter-under-pressure", "fermenter-unrated" };
	for (size_t i = 0; i < 3; i++)
		ck_assert_msg((warning(&none, ids[i]) != NULL) ==
			(fermenters[_i].warns != NULL && strcmp(fermenters[_i].warns, ids[i]) == 0),
		    "%s: %s", fermenters[_i].title, ids[i]);
}
END_TEST

/* Each vessel by the time the beer was in it. */
#define TWO(first, second) "<vessel id='a' kind='" first "'/><vessel id='b' kind='" second "'/>"
static const struct { const char *title, *journal, *warns, *says; } stays[] = {
	{ "glass, then a keg under pressure",
	    TWO("glass", "keg") "<transfer at='+7d' to='b'/><spund at='+7d' pressure='1 bar'/>",
	"fermenter-under-pressure", "" },
	{ "a keg, then glass under pressure",
	    TWO("keg", "glass") "<transfer at='+7d' to='b'/><spund at='+8d' pressure='1 bar'/>",
	"fermenter-pressure", "(glass) is not made for" },
	{ "that let it off before the move",
	    TWO("keg", "glass") "<transfer at='+7d' to='b'/><spund at='+3d' until='+6d' pressure='1 bar'/>",
	"fermenter-under-pressure", "" },
	{ "let off by the next word",
	    TWO("keg",
	    "glass") "<transfer at='+7d'/><spund at='+3d' pressure='1 bar'/><spund at='+6d' pressure='0 bar'/>",
	"fermenter-under-pressure", "" },
	{ "and not before",
	    TWO("keg",
	    "glass") "<transfer at='+5d'/><spund at='+3d' pressure='1 bar'/><spund at='+6d' pressure='0 bar'/>",
	"fermenter-pressure", "(glass)" },
	{ "from and until",
	    "<vessel kind='glass' until='+5d'/><vessel kind='steel' from='+5d'/><spund at='+5d' pressure='1 bar'/>",
	"fermenter-under-pressure", "" },
	{ "the second too weak", "<vessel kind='keg'/><vessel kind='steel' rated-pressure='0.5 bar' from='+5d'/>"
	    "<spund at='+3d' pressure='1 bar'/>", "fermenter-pressure", "(steel)" },
	{ "each its own pressure", "<vessel kind='keg'/><vessel kind='steel' rated-pressure='0.5 bar' "
	    "from='+5d'/><spund at='+3d' pressure='1 bar'/>"
	  "<spund at='+5d' pressure='0.4 bar'/>", "fermenter-under-pressure", "" },
	{ "when, nobody told", TWO("keg", "bucket") "<spund at='+3d' pressure='1 bar'/>", "fermenter-pressure",
	    "when the beer was in it is not told" },
	{ "a move to the third tells nothing of the second",
	    "<vessel kind='keg' id='a'/><vessel kind='glass' id='b'/><vessel kind='keg' id='c'/>"
	  "<transfer at='+3d' to='c'/><spund at='+1d' pressure='1 bar'/>", "fermenter-pressure",
	  "when the beer was in it is not told" },
	{ "in both at once", "<vessel kind='glass' until='+5d'/><vessel kind='keg' from='+3d'/>"
	    "<spund at='+4d' until='+5d' pressure='1 bar'/>", "fermenter-pressure", "(glass)" },
	{ "of neither, nobody told", TWO("bucket", "keg") "<spund pressure='1 bar'/>", "fermenter-pressure",
	    "when the beer was in it is not told" },
	{ "PET, not rated as far as told", "<vessel kind='pet'/><spund at='+3d' pressure='0.5 bar'/>",
	    "fermenter-unrated", "Until you know" },
	{ "bottled since", "<vessel kind='pet'/><spund at='+3d' pressure='0.5 bar'/><package into='bottles'/>",
	    "fermenter-unrated", "before you use it so again" },
	{ "PET that is", "<vessel kind='pet' rated='yes'/><spund at='+3d' pressure='0.5 bar'/>",
	    "fermenter-under-pressure", "" },
	{ "PET for less", "<vessel kind='pet' rated-pressure='0.3 bar'/><spund at='+3d' pressure='0.5 bar'/>",
	    "fermenter-pressure", "" },
	{ "how much, nobody read", "<vessel kind='glass'/><spund at='+3d'/>", "fermenter-pressure", "This fermenter" },
	{ "glass stamped for more",
	    "<vessel kind='glass' rated-pressure='3 bar'/><spund at='+3d' pressure='1 bar'/>",
	"fermenter-under-pressure", "" },
	{ "no vessel told", "<spund at='+3d' pressure='0.5 bar'/>", "fermenter-under-pressure", "" },
	{ "no pressure", "<vessel kind='glass'/><spund at='+3d' pressure='0 bar'/>", NULL, "" },
	{ "never", "<vessel kind='glass'/>", NULL, "" },
};

/* Who sets a valve hears of it then; who has bottled the beer since does not again. */
START_TEST(valve_is_set)
{
	struct ab_warning w[] = { { "cold", "Mind the ice.", NULL }, { _i == 0 ? "fermenter-pressure" : _i == 1
	    ? "fermenter-unrated" : "fermenter-under-pressure", "x", NULL } };
	struct ab_diagnosis d = { .warnings = w, .n_warnings = 2 };
	struct ab_case *c = wc_plainly();
	struct ab_batch own = *c->batch;
	struct ab_package package = { .into = 1 };

	c->diagnosis = &d;
	c->batch = &own;
	own.package = NULL;
	ck_assert_ptr_eq(ab_case_near_limit(wc.k, c), _i < 2 ? &w[1] : NULL);
	own.package = &package;
	ck_assert_ptr_null(ab_case_near_limit(wc.k, c));
}
END_TEST

START_TEST(each_vessel)
{
	const char *id = NULL, *text = case_fermenter_says(fact_read(stays[_i].journal, wc.arena), wc.arena, &id);

	ck_assert_msg(
	    (text == NULL) == (stays[_i].warns == NULL), "%s: %s", stays[_i].title, text == NULL ? "silent" : text);
	if (text == NULL)
		return;
	ck_assert_msg(strcmp(id, stays[_i].warns) == 0, "%s: %s", stays[_i].title, text);
	ck_assert_msg(strstr(text, stays[_i].says) != NULL, "%s: %s", stays[_i].title, text);
}
END_TEST

static const struct { const char *title, *id; bool bursting, pressed; } alarms[] = {
	{ "pressure", "bottle-pressure", true, true }, { "found gushing", "bottle-bombs", true, true },
	{ "a keg's, that nobody can judge", "pressure-unjudged", false, true },
	{ "near the limit", "bottle-pressure-near", false, false },
	{ "an instrument", "hydrometer-unchecked", false, false }, { "a word alike", "bottled", false, false },
};

START_TEST(bursting)
{
	struct ab_warning w[] = { { "cold", "Mind the ice.", NULL }, { alarms[_i].id, "x", NULL } };
	struct ab_diagnosis d = { .warnings = w, .n_warnings = 2 };
	struct ab_case c = { .diagnosis = &d };
	ck_assert_msg((ab_case_bursting(&c) == &w[1]) == alarms[_i].bursting, "%s", alarms[_i].title);
	ck_assert_msg(ab_case_pressed(&c) == alarms[_i].pressed, "%s", alarms[_i].title);
	d.n_warnings = 1;
	ck_assert(!ab_case_pressed(&c));
	ck_assert_ptr_null(ab_case_bursting(&c));
}
END_TEST

START_TEST(gushers)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "over-carbonated", 3 } } };
	struct ab_package keg = { .into = 2 };
	const struct ab_diagnose_options quick = { .beliefs_only = true };
	wc_taste(&sheet);
	ck_assert_ptr_nonnull(warning(wc_plainly()->diagnosis, "bottle-bombs"));
	ck_assert_ptr_nonnull(warning(wc_work(&quick)->diagnosis, "bottle-bombs"));   /* no option silences it */
	wc.batch->package = &keg;
	ck_assert_ptr_null(warning(wc_plainly()->diagnosis, "bottle-bombs"));
}
END_TEST

/* "Too much foam" asks for the same care where it came out of a bottle or a can, not from a tap. */
START_TEST(foam_of_bottles)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "foamy-pour", 3 } } };
	struct ab_package p = { .into = 1 };
	wc_taste(&sheet);
	ck_assert_ptr_null(warning(wc_plainly()->diagnosis, "bottle-bombs"));
	wc.batch->package = &p;
	ck_assert_ptr_nonnull(warning(wc_plainly()->diagnosis, "bottle-bombs"));
	p.into = 4;
	ck_assert_ptr_nonnull(warning(wc_plainly()->diagnosis, "bottle-bombs"));
	p.into = 2;
	ck_assert_ptr_null(warning(wc_plainly()->diagnosis, "bottle-bombs"));
}
END_TEST

/* Gushers are warned of in the words of the fault's own caution; those are not said again as the fault's. */
START_TEST(no_words_twice)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "over-carbonated", 3 } } };
	wc_taste(&sheet);
	const struct ab_diagnosis *d = wc_plainly()->diagnosis;
	const char *caution = wc.k->faults[ab_fault_find(wc.k, "over-carbonated")].caution;
	size_t said = 0;
	ck_assert_ptr_nonnull(caution);
	for (size_t i = 0; i < d->n_warnings; i++)
		said += strcmp(d->warnings[i].text, caution) == 0;
	ck_assert_uint_eq(said, 1);
	ck_assert_ptr_null(warning(d, "over-carbonated"));
}
END_TEST

START_TEST(cautions_of_leading_causes)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "medicinal", 4 } } };
	wc_taste(&sheet);
	const struct ab_diagnosis *d = wc_plainly()->diagnosis;
	size_t told = 0;
	for (size_t i = 0; i < 3 && i < d->n_suspects; i++) {
		const struct ab_cause *cause = &wc.k->causes[d->suspects[i].cause];
		bool leads = d->suspects[i].blame >= 0.2 && cause->caution != NULL;
		ck_assert_msg((warning(d, cause->id) != NULL) == leads, "%s", cause->id);
		told += leads;
	}
	ck_assert_uint_ge(told, 1);
	for (size_t i = 0; i < d->n_warnings; i++)
		for (size_t j = 0; j < i; j++)
			ck_assert_str_ne(d->warnings[i].text, d->warnings[j].text);
}
END_TEST

/* A verdict of "too warm" hangs on the thermometer unless that was checked. */
START_TEST(unchecked_instruments)
{
	static const struct wc_sheet sheet = { "A", 1, 0, AB_YES, { { "solvent", 5 }, { "fusel", 5 } } };
	struct ab_diagnose_options options = { 0 };
	wc_taste(&sheet);
	struct ab_case *c = wc_plainly();
	wc_know(c, "ferment.early-mean-over", 6);
	ck_assert_int_eq(ab_diagnose(wc.k, c->facts, &c->evidence, &options, wc.arena, &c->diagnosis, &wc.diag), AB_OK);
	ck_assert(case_warnings(wc.k, c, wc.arena));
	ck_assert_ptr_nonnull(warning(c->diagnosis, "thermometer-unchecked"));
	ck_assert_ptr_null(warning(c->diagnosis, "hydrometer-unchecked"));
	wc_know(c, "instrument.thermometer-checked", 1);
	ck_assert_int_eq(ab_diagnose(wc.k, c->facts, &c->evidence, &options, wc.arena, &c->diagnosis, &wc.diag), AB_OK);
	ck_assert(case_warnings(wc.k, c, wc.arena));
	ck_assert_ptr_null(warning(c->diagnosis, "thermometer-unchecked"));
}
END_TEST

int main(void)
{
	Suite *s = suite_create("case warnings");
	TCase *tc = tcase_create("case warnings");
	tcase_set_timeout(tc, 60);
	tcase_add_unchecked_fixture(tc, wc_read_rules, rules_drop);
	tcase_add_checked_fixture(tc, wc_set_up, wc_tear_down);
	tcase_add_loop_test(tc, fermenter_pressure, 0, sizeof fermenters / sizeof *fermenters);
	tcase_add_loop_test(tc, valve_is_set, 0, 3);
	tcase_add_loop_test(tc, each_vessel, 0, sizeof stays / sizeof *stays);
	tcase_add_loop_test(tc, bottle_pressure, 0, sizeof pressures / sizeof *pressures);
	tcase_add_loop_test(tc, bursting, 0, sizeof alarms / sizeof *alarms);
	tcase_add_test(tc, gushers);
	tcase_add_test(tc, foam_of_bottles);
	tcase_add_test(tc, no_words_twice);
	tcase_add_test(tc, cautions_of_leading_causes);
	tcase_add_test(tc, unchecked_instruments);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
