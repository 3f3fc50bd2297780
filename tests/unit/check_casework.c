/* check_casework.c - tastings into evidence, flaw load, warnings, the whole pipe; on the rules of the project
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"
#include "casework/casework.h"
#include "factcase.h"
#include "rulecase.h"

static const struct ab_knowledge *k;
static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_batch *batch;
static struct ab_fact *facts;

static void read_rules(void)
{
	rules_read();
	k = rules;
}

static void set_up(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	batch = ab_arena_alloc(arena, 1, sizeof *batch);
	batch->id = "b";
	batch->source = "b.xml";
	facts = ab_arena_alloc(arena, k->facts->n, sizeof *facts);
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

/* ---- building tastings ---- */

static void *push(struct ab_list *list, size_t size)
{
	void *p = ab_arena_push(arena, &list->items, &list->n, &list->cap, size);
	ck_assert_ptr_nonnull(p);
	return p;
}

/* A sheet: "taster day panel complete: fault=intensity fault=absent". Pointers into the list move, so it is filled at once. */
struct sheet { const char *by; double day, panel; int complete; struct { const char *fault; double intensity; } said[3]; };

static void taste(const struct sheet *sheet)
{
	struct ab_tasting *t = push(&batch->tastings, sizeof *t);
	t->by = sheet->by;
	t->complete = sheet->complete;
	t->at = (struct ab_when){ true, true, false, sheet->day * 86400 };
	t->panel = (struct ab_num){ sheet->panel, 1, sheet->panel > 0 };
	for (size_t i = 0; i < 3 && sheet->said[i].fault != NULL; i++) {
		if (sheet->said[i].intensity > 0) {
			struct ab_found *f = push(&t->found, sizeof *f);
			f->fault = sheet->said[i].fault;
			f->intensity = (struct ab_num){ sheet->said[i].intensity, 1, true };
		} else {
			((struct ab_absent *)push(&t->absent, sizeof(struct ab_absent)))->fault = sheet->said[i].fault;
		}
	}
}

static struct ab_finding evidence_of(const char *fault, const struct ab_profile *profile)
{
	struct ab_evidence e;
	enum ab_status st = ab_case_evidence(k, batch, profile, facts, arena, &e, &diag);
	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return e.finding[ab_fault_find(k, fault)];
}

/* ---- evidence ---- */

#define YES AB_YES
static const struct {
	const char *title;
	struct sheet sheets[3];
	struct ab_finding want;   /* about diacetyl */
} combined[] = {
	{ "found", { { "A", 1, 0, 0, { { "buttery", 3 } } } }, { AB_SEEN_FOUND, 2, 0 } },
	{ "found strongly", { { "A", 1, 0, 0, { { "butter", 5 } } } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "not mentioned, not complete", { { "A", 1, 0, 0, { { "papery", 2 } } } }, { AB_SEEN_NOTHING, 0, 0 } },
	{ "not mentioned, complete", { { "A", 1, 0, YES, { { "papery", 2 } } } }, { AB_SEEN_ABSENT, 0, 0.4 } },
	{ "a panel of three is silent", { { "A", 1, 3, YES, { { NULL, 0 } } } }, { AB_SEEN_ABSENT, 0, 1 - 0.6 * 0.6 * 0.6 } },
	{ "two tasters are silent", { { "A", 1, 0, YES, { { NULL, 0 } } }, { "B", 1, 0, YES, { { NULL, 0 } } } }, { AB_SEEN_ABSENT, 0, 0.64 } },
	{ "one taster is silent twice", { { "A", 1, 0, YES, { { NULL, 0 } } }, { "a", 9, 0, YES, { { NULL, 0 } } } }, { AB_SEEN_ABSENT, 0, 0.4 } },
	{ "judged absent", { { "A", 1, 0, 0, { { "diacetyl", 0 } } } }, { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "judged absent and silent", { { "A", 1, 0, YES, { { "diacetyl", 0 } } } }, { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "judged absent by one, silent the other", { { "A", 1, 0, 0, { { "diacetyl", 0 } } }, { "B", 1, 0, YES, { { NULL, 0 } } } },
	  { AB_SEEN_ABSENT, 0, 1 - 0.2 * 0.6 } },
	{ "found beats not mentioned", { { "A", 1, 0, 0, { { "buttery", 2 } } }, { "B", 1, 0, YES, { { NULL, 0 } } } }, { AB_SEEN_FOUND, 1, 0 } },
	{ "found by one, absent by the other: a lower grade", { { "A", 1, 0, 0, { { "buttery", 4 } } }, { "B", 1, 0, 0, { { "buttery", 0 } } } },
	  { AB_SEEN_FOUND, 1, 0 } },
	{ "never below slight", { { "A", 1, 0, 0, { { "buttery", 1 } } }, { "B", 1, 0, 0, { { "buttery", 0 } } } }, { AB_SEEN_FOUND, 1, 0 } },
	{ "the same taster later: gone", { { "A", 1, 0, 0, { { "buttery", 4 } } }, { "A", 20, 0, 0, { { "buttery", 0 } } } },
	  { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "the same taster later: grown; sheets out of order", { { "A", 20, 0, 0, { { "buttery", 5 } } }, { "A", 1, 0, 0, { { "buttery", 1 } } } },
	  { AB_SEEN_FOUND, 3, 0 } },
	{ "two words for one fault: the stronger", { { "A", 1, 0, 0, { { "buttery", 1 }, { "butterscotch", 4 } } } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "a panel outweighs one", { { "A", 1, 4, 0, { { "buttery", 5 } } }, { "B", 1, 0, 0, { { "buttery", 0 } } } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "nothing is surer than 0.98", { { "A", 1, 12, 0, { { "diacetyl", 0 } } } }, { AB_SEEN_ABSENT, 0, 0.98 } },
};

START_TEST(combine)
{
	for (size_t i = 0; i < 3 && (combined[_i].sheets[i].by != NULL); i++)
		taste(&combined[_i].sheets[i]);
	struct ab_finding got = evidence_of("diacetyl", NULL), want = combined[_i].want;
	ck_assert_msg(got.seen == want.seen && got.grade == want.grade, "%s: seen %d grade %d", combined[_i].title, got.seen, got.grade);
	ck_assert_msg(fabs(got.sensitivity - want.sensitivity) < 1e-12, "%s: %g", combined[_i].title, got.sensitivity);
}
END_TEST

START_TEST(one_malt_one_hop_hides_less)
{
	static const struct sheet sheet = { "A", 1, 0, YES, { { "papery", 0 } } };
	int slot = ab_fact_slot(k->facts, "recipe.one-malt-one-hop");
	facts[slot] = (struct ab_fact){ .origin = AB_ORIGIN_DERIVED, .value = 1 };
	taste(&sheet);
	ck_assert_double_eq_tol(evidence_of("diacetyl", NULL).sensitivity, 0.55, 1e-12);
	ck_assert_double_eq_tol(evidence_of("papery", NULL).sensitivity, 0.85, 1e-12);
}
END_TEST

static struct ab_profile *blind_taster(const char *name, const char *fault)
{
	struct ab_profile *p = ab_arena_alloc(arena, 1, sizeof *p);
	struct ab_taster *t = push(&p->tasters, sizeof *t);
	p->source = "brewery.xml";
	t->mark.line = 7;
	t->name = name;
	*(const char **)push(&t->blind_to, sizeof(const char *)) = fault;
	return p;
}

START_TEST(blind_spots)
{
	static const struct sheet alone = { "Ann", 1, 0, YES, { { "papery", 0 } } }, panel = { "ANN", 1, 3, YES, { { NULL, 0 } } };
	taste(&alone);
	ck_assert_int_eq(evidence_of("diacetyl", blind_taster("ann", "buttery")).seen, AB_SEEN_NOTHING);
	ck_assert_int_eq(evidence_of("papery", blind_taster("ann", "papery")).seen, AB_SEEN_NOTHING);
	ck_assert_int_eq(evidence_of("diacetyl", blind_taster("ann", "papery")).seen, AB_SEEN_ABSENT);
	batch->tastings = (struct ab_list){ 0 };
	taste(&panel);
	ck_assert_double_eq_tol(evidence_of("diacetyl", blind_taster("ann", "buttery")).sensitivity, 0.64, 1e-12);
}
END_TEST

START_TEST(feared_only)
{
	struct ab_tasting *t = push(&batch->tastings, sizeof *t);
	struct ab_found *f = push(&t->found, sizeof *f);
	*f = (struct ab_found){ .fault = "pellicle", .intensity = { 5, 1, true }, .feared = AB_YES };
	ck_assert_int_eq(evidence_of("pellicle", NULL).grade, 1);
}
END_TEST

START_TEST(intensity_not_told)
{
	struct ab_tasting *t = push(&batch->tastings, sizeof *t);
	((struct ab_found *)push(&t->found, sizeof(struct ab_found)))->fault = "pellicle";
	ck_assert_int_eq(evidence_of("pellicle", NULL).grade, 2);
}
END_TEST

START_TEST(unknown_words)
{
	struct ab_evidence e;
	struct ab_tasting *t = push(&batch->tastings, sizeof *t);
	struct ab_found *f = push(&t->found, sizeof *f);
	f->fault = "diacetil";
	f->mark.line = 12;
	ck_assert_int_eq(ab_case_evidence(k, batch, NULL, facts, arena, &e, &diag), AB_EINPUT);
	ck_assert_str_eq(diag.source, "b.xml");
	ck_assert_int_eq(diag.line, 12);
	ck_assert_str_eq(diag.text, "no fault is called \"diacetil\"; do you mean \"diacetyl\"?");
	batch->tastings = (struct ab_list){ 0 };
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_case_evidence(k, batch, blind_taster("x", "blah"), facts, arena, &e, &diag), AB_EINPUT);
	ck_assert_str_eq(diag.source, "brewery.xml");
	ck_assert_int_eq(diag.line, 7);
}
END_TEST

START_TEST(checks_done)
{
	struct ab_evidence e;
	int at = ab_check_find(k, "forced-diacetyl");
	ck_assert_int_ge(at, 0);
	*(struct ab_test *)push(&batch->tests, sizeof(struct ab_test)) = (struct ab_test){ .kind = "forced-diacetyl", .result = AB_NO };
	*(struct ab_test *)push(&batch->tests, sizeof(struct ab_test)) = (struct ab_test){ .kind = "forced-diacetyl", .result = AB_YES };
	*(struct ab_test *)push(&batch->tests, sizeof(struct ab_test)) = (struct ab_test){ .kind = "forced-diacetyl" };
	ck_assert_int_eq(ab_case_evidence(k, batch, NULL, facts, arena, &e, &diag), AB_OK);
	ck_assert_int_eq(e.check[at], 1);
	ck_assert_int_eq(e.family, -1);
	*(struct ab_test *)push(&batch->tests, sizeof(struct ab_test)) = (struct ab_test){ .mark = { 9, false }, .kind = "forced-diacetil" };
	ck_assert_int_eq(ab_case_evidence(k, batch, NULL, facts, arena, &e, &diag), AB_EINPUT);
	ck_assert_int_eq(diag.line, 9);
	ck_assert_ptr_nonnull(strstr(diag.text, "do you mean \"forced-diacetyl\"?"));
}
END_TEST

/* ---- the whole pipe ---- */

static struct ab_case *work(const struct ab_diagnose_options *options)
{
	struct ab_case *c = NULL;
	enum ab_status st = ab_case_work(k, batch, NULL, options, arena, &c, &diag);
	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return c;
}

static struct ab_case *plainly(void)
{
	static const struct ab_diagnose_options none;
	return work(&none);
}

static double severity(const char *fault)
{
	return k->faults[ab_fault_find(k, fault)].severity;
}

START_TEST(flaw_load)
{
	static const struct sheet sheet = { "A", 1, 0, 0, { { "diacetyl", 3 }, { "metallic", 1 } } };
	taste(&sheet);
	const struct ab_case *c = plainly();
	ck_assert_double_eq_tol(c->load, 2 * severity("diacetyl") + severity("metallic"), 1e-12);
	ck_assert_double_eq_tol(c->load_low, severity("diacetyl"), 1e-12);
	ck_assert_double_eq_tol(c->load_high, 3 * severity("diacetyl") + severity("metallic"), 1e-12);
	ck_assert_double_eq_tol(c->fault_load[ab_fault_find(k, "metallic")], severity("metallic"), 1e-12);
	ck_assert_double_eq(c->fault_intensity[ab_fault_find(k, "diacetyl")], 3);
	ck_assert(c->tasted);
}
END_TEST

START_TEST(load_follows_the_family)
{
	static const struct sheet sheet = { "A", 1, 0, 0, { { "diacetyl", 2 }, { "clove-phenolic", 3 } } };
	taste(&sheet);
	batch->family = 5;   /* wheat: clove belongs there */
	ck_assert_str_eq(k->families[4].id, "wheat");
	ck_assert_double_eq_tol(plainly()->load, severity("diacetyl"), 1e-12);
	batch->family = 2;   /* pale lager: butter weighs more */
	double factor = 0;
	for (size_t i = 0; i < k->families[1].n_hurts; i++)
		if (k->families[1].hurts[i].fault == ab_fault_find(k, "diacetyl"))
			factor = k->families[1].hurts[i].factor;
	ck_assert_double_gt(factor, 1);
	ck_assert_double_eq_tol(plainly()->load, factor * severity("diacetyl") + 2 * severity("clove-phenolic"), 1e-12);
}
END_TEST

START_TEST(not_tasted)
{
	const struct ab_case *c = plainly();
	ck_assert(!c->tasted && isnan(c->load) && isnan(c->load_low));
	ck_assert(c->diagnosis->nothing_found);
}
END_TEST

START_TEST(tasted_clean)
{
	static const struct sheet sheet = { "A", 1, 0, YES, { { NULL, 0 } } };
	taste(&sheet);
	ck_assert_double_eq(plainly()->load, 0);
}
END_TEST

/* ---- warnings ---- */

static const struct ab_warning *warning(const struct ab_diagnosis *d, const char *id)
{
	for (size_t i = 0; i < d->n_warnings; i++)
		if (strcmp(d->warnings[i].id, id) == 0)
			return &d->warnings[i];
	return NULL;
}

static const struct { double share, u; bool warns; } pressures[] = {
	{ 0.5, 0, false }, { 0.89, 0, false }, { 0.91, 0, true }, { 1.3, 0, true }, { 0.8, 0.25, false }, { 0.8, 0.15, false },
};

START_TEST(bottle_pressure)
{
	struct ab_diagnosis none = { 0 };
	struct ab_case *c = plainly();
	c->facts[ab_fact_slot(k->facts, "pack.pressure-share")] = (struct ab_fact){ .origin = AB_ORIGIN_DERIVED, .value = pressures[_i].share,
		.u = pressures[_i].u, .working = "because" };
	c->diagnosis = &none;
	ck_assert(case_warnings(k, c, arena));
	const struct ab_warning *w = warning(&none, "bottle-pressure");
	ck_assert_msg((w != NULL) == pressures[_i].warns, "row %d", _i);
	if (w != NULL)
		ck_assert_ptr_nonnull(strstr(w->text, "because"));
	if (w != NULL)
		ck_assert_int_eq(strstr(w->text, "may burst") != NULL, pressures[_i].share > 1);
	if (w != NULL)   /* what to do is the end of it, and nothing of the reckoning */
		ck_assert(w->care > w->text && strncmp(w->care, "Keep them cold", 14) == 0 && w->care + strlen(w->care) == w->text + strlen(w->text));
	/* below the alarm, but within the reckoning's own error of the limit */
	ck_assert_int_eq(warning(&none, "bottle-pressure-near") != NULL, !pressures[_i].warns && pressures[_i].share + pressures[_i].u > 1);
	struct ab_fact *still = &c->facts[ab_fact_slot(k->facts, "gravity.stable-days")];
	*still = (struct ab_fact){ .origin = AB_ORIGIN_UNKNOWN };
	ck_assert_ptr_eq(ab_case_near_limit(k, c), warning(&none, "bottle-pressure-near"));
	*still = (struct ab_fact){ .origin = AB_ORIGIN_DERIVED, .value = 0.6 };
	ck_assert_ptr_eq(ab_case_near_limit(k, c), warning(&none, "bottle-pressure-near"));
	still->value = 3.3;
	ck_assert_ptr_null(ab_case_near_limit(k, c));
	ck_assert_ptr_eq(ab_case_bursting(c), w);
}
END_TEST

/* Beside pressure in a fermenter stands its care; a stronger one where the vessel is not made for it. */
static const struct { const char *title; int kind, rated; double rated_kpa, kpa; bool packaged; const char *warns; } fermenters[] = {
	{ "a keg", 6, 0, 0, 80, false, "fermenter-under-pressure" }, { "packaged since", 6, 0, 0, 80, true, NULL }, { "let off", 6, 0, 0, 0, false, NULL },
	{ "glass", 3, 0, 0, 80, false, "fermenter-pressure" }, { "glass, packaged since", 3, 0, 0, 80, true, "fermenter-pressure" },
	{ "a bucket", 1, 0, 0, 20, false, "fermenter-pressure" }, { "not rated", 4, AB_NO, 0, 80, false, "fermenter-pressure" },
	{ "stamped for less", 6, AB_YES, 70, 80, false, "fermenter-pressure" }, { "stamped for more", 2, AB_YES, 200, 80, false, "fermenter-under-pressure" },
};

START_TEST(fermenter_pressure)
{
	struct ab_diagnosis none = { 0 };
	struct ab_case *c = plainly();
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
	ck_assert(case_warnings(k, c, arena));
	static const char *const ids[] = { "fermenter-pressure", "fermenter-under-pressure", "fermenter-unrated" };
	for (size_t i = 0; i < 3; i++)
		ck_assert_msg((warning(&none, ids[i]) != NULL) == (fermenters[_i].warns != NULL && strcmp(fermenters[_i].warns, ids[i]) == 0),
		    "%s: %s", fermenters[_i].title, ids[i]);
}
END_TEST

/* Each vessel by the time the beer was in it. */
#define TWO(first, second) "<vessel id='a' kind='" first "'/><vessel id='b' kind='" second "'/>"
static const struct { const char *title, *journal, *warns, *says; } stays[] = {
	{ "glass, then a keg under pressure", TWO("glass", "keg") "<transfer at='+7d' to='b'/><spund at='+7d' pressure='1 bar'/>", "fermenter-under-pressure", "" },
	{ "a keg, then glass under pressure", TWO("keg", "glass") "<transfer at='+7d' to='b'/><spund at='+8d' pressure='1 bar'/>", "fermenter-pressure", "(glass) is not made for" },
	{ "that let it off before the move", TWO("keg", "glass") "<transfer at='+7d' to='b'/><spund at='+3d' until='+6d' pressure='1 bar'/>", "fermenter-under-pressure", "" },
	{ "let off by the next word", TWO("keg", "glass") "<transfer at='+7d'/><spund at='+3d' pressure='1 bar'/><spund at='+6d' pressure='0 bar'/>", "fermenter-under-pressure", "" },
	{ "and not before", TWO("keg", "glass") "<transfer at='+5d'/><spund at='+3d' pressure='1 bar'/><spund at='+6d' pressure='0 bar'/>", "fermenter-pressure", "(glass)" },
	{ "from and until", "<vessel kind='glass' until='+5d'/><vessel kind='steel' from='+5d'/><spund at='+5d' pressure='1 bar'/>", "fermenter-under-pressure", "" },
	{ "the second too weak", "<vessel kind='keg'/><vessel kind='steel' rated-pressure='0.5 bar' from='+5d'/><spund at='+3d' pressure='1 bar'/>", "fermenter-pressure", "(steel)" },
	{ "each its own pressure", "<vessel kind='keg'/><vessel kind='steel' rated-pressure='0.5 bar' from='+5d'/><spund at='+3d' pressure='1 bar'/>"
	  "<spund at='+5d' pressure='0.4 bar'/>", "fermenter-under-pressure", "" },
	{ "when, nobody told", TWO("keg", "bucket") "<spund at='+3d' pressure='1 bar'/>", "fermenter-pressure", "when the beer was in it is not told" },
	{ "a move to the third tells nothing of the second", "<vessel kind='keg' id='a'/><vessel kind='glass' id='b'/><vessel kind='keg' id='c'/>"
	  "<transfer at='+3d' to='c'/><spund at='+1d' pressure='1 bar'/>", "fermenter-pressure", "when the beer was in it is not told" },
	{ "in both at once", "<vessel kind='glass' until='+5d'/><vessel kind='keg' from='+3d'/><spund at='+4d' until='+5d' pressure='1 bar'/>", "fermenter-pressure", "(glass)" },
	{ "of neither, nobody told", TWO("bucket", "keg") "<spund pressure='1 bar'/>", "fermenter-pressure", "when the beer was in it is not told" },
	{ "PET, not rated as far as told", "<vessel kind='pet'/><spund at='+3d' pressure='0.5 bar'/>", "fermenter-unrated", "Until you know" },
	{ "bottled since", "<vessel kind='pet'/><spund at='+3d' pressure='0.5 bar'/><package into='bottles'/>", "fermenter-unrated", "before you use it so again" },
	{ "PET that is", "<vessel kind='pet' rated='yes'/><spund at='+3d' pressure='0.5 bar'/>", "fermenter-under-pressure", "" },
	{ "PET for less", "<vessel kind='pet' rated-pressure='0.3 bar'/><spund at='+3d' pressure='0.5 bar'/>", "fermenter-pressure", "" },
	{ "how much, nobody read", "<vessel kind='glass'/><spund at='+3d'/>", "fermenter-pressure", "This fermenter" },
	{ "glass stamped for more", "<vessel kind='glass' rated-pressure='3 bar'/><spund at='+3d' pressure='1 bar'/>", "fermenter-under-pressure", "" },
	{ "no vessel told", "<spund at='+3d' pressure='0.5 bar'/>", "fermenter-under-pressure", "" },
	{ "no pressure", "<vessel kind='glass'/><spund at='+3d' pressure='0 bar'/>", NULL, "" }, { "never", "<vessel kind='glass'/>", NULL, "" },
};

/* Who sets a valve hears of it then; who has bottled the beer since does not again. */
START_TEST(valve_is_set)
{
	struct ab_warning w[] = { { "cold", "Mind the ice.", NULL }, { _i == 0 ? "fermenter-pressure" : _i == 1 ? "fermenter-unrated" : "fermenter-under-pressure", "x", NULL } };
	struct ab_diagnosis d = { .warnings = w, .n_warnings = 2 };
	struct ab_case *c = plainly();
	struct ab_batch own = *c->batch;
	struct ab_package package = { .into = 1 };

	c->diagnosis = &d;
	c->batch = &own;
	own.package = NULL;
	ck_assert_ptr_eq(ab_case_near_limit(k, c), _i < 2 ? &w[1] : NULL);
	own.package = &package;
	ck_assert_ptr_null(ab_case_near_limit(k, c));
}
END_TEST

START_TEST(each_vessel)
{
	const char *id = NULL, *text = case_fermenter_says(fact_read(stays[_i].journal, arena), arena, &id);

	ck_assert_msg((text == NULL) == (stays[_i].warns == NULL), "%s: %s", stays[_i].title, text == NULL ? "silent" : text);
	if (text == NULL)
		return;
	ck_assert_msg(strcmp(id, stays[_i].warns) == 0, "%s: %s", stays[_i].title, text);
	ck_assert_msg(strstr(text, stays[_i].says) != NULL, "%s: %s", stays[_i].title, text);
}
END_TEST

static const struct { const char *title, *id; bool bursting; } alarms[] = {
	{ "pressure", "bottle-pressure", true }, { "found gushing", "bottle-bombs", true }, { "an instrument", "hydrometer-unchecked", false }, { "a word alike", "bottled", false },
};

START_TEST(bursting)
{
	struct ab_warning w[] = { { "cold", "Mind the ice.", NULL }, { alarms[_i].id, "x", NULL } };
	struct ab_diagnosis d = { .warnings = w, .n_warnings = 2 };
	struct ab_case c = { .diagnosis = &d };
	ck_assert_msg((ab_case_bursting(&c) == &w[1]) == alarms[_i].bursting, "%s", alarms[_i].title);
	d.n_warnings = 1;
	ck_assert_ptr_null(ab_case_bursting(&c));
}
END_TEST

START_TEST(gushers)
{
	static const struct sheet sheet = { "A", 1, 0, 0, { { "over-carbonated", 3 } } };
	struct ab_package keg = { .into = 2 };
	const struct ab_diagnose_options quick = { .beliefs_only = true };
	taste(&sheet);
	ck_assert_ptr_nonnull(warning(plainly()->diagnosis, "bottle-bombs"));
	ck_assert_ptr_nonnull(warning(work(&quick)->diagnosis, "bottle-bombs"));   /* no option silences it */
	batch->package = &keg;
	ck_assert_ptr_null(warning(plainly()->diagnosis, "bottle-bombs"));
}
END_TEST

/* "Too much foam" asks for the same care where it came out of a bottle or a can, not from a tap. */
START_TEST(foam_of_bottles)
{
	static const struct sheet sheet = { "A", 1, 0, 0, { { "foamy-pour", 3 } } };
	struct ab_package p = { .into = 1 };
	taste(&sheet);
	ck_assert_ptr_null(warning(plainly()->diagnosis, "bottle-bombs"));
	batch->package = &p;
	ck_assert_ptr_nonnull(warning(plainly()->diagnosis, "bottle-bombs"));
	p.into = 4;
	ck_assert_ptr_nonnull(warning(plainly()->diagnosis, "bottle-bombs"));
	p.into = 2;
	ck_assert_ptr_null(warning(plainly()->diagnosis, "bottle-bombs"));
}
END_TEST

/* Gushers are warned of in the words of the fault's own caution; those are not said again as the fault's. */
START_TEST(no_words_twice)
{
	static const struct sheet sheet = { "A", 1, 0, 0, { { "over-carbonated", 3 } } };
	taste(&sheet);
	const struct ab_diagnosis *d = plainly()->diagnosis;
	const char *caution = k->faults[ab_fault_find(k, "over-carbonated")].caution;
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
	static const struct sheet sheet = { "A", 1, 0, 0, { { "medicinal", 4 } } };
	taste(&sheet);
	const struct ab_diagnosis *d = plainly()->diagnosis;
	size_t told = 0;
	for (size_t i = 0; i < 3 && i < d->n_suspects; i++) {
		const struct ab_cause *cause = &k->causes[d->suspects[i].cause];
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

static void know(struct ab_case *c, const char *fact, double value)
{
	c->facts[ab_fact_slot(k->facts, fact)] = (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = value };
}

/* A verdict of "too warm" hangs on the thermometer unless that was checked. */
START_TEST(unchecked_instruments)
{
	static const struct sheet sheet = { "A", 1, 0, YES, { { "solvent", 5 }, { "fusel", 5 } } };
	struct ab_diagnose_options options = { 0 };
	taste(&sheet);
	struct ab_case *c = plainly();
	know(c, "ferment.early-mean-over", 6);
	ck_assert_int_eq(ab_diagnose(k, c->facts, &c->evidence, &options, arena, &c->diagnosis, &diag), AB_OK);
	ck_assert(case_warnings(k, c, arena));
	ck_assert_ptr_nonnull(warning(c->diagnosis, "thermometer-unchecked"));
	ck_assert_ptr_null(warning(c->diagnosis, "hydrometer-unchecked"));
	know(c, "instrument.thermometer-checked", 1);
	ck_assert_int_eq(ab_diagnose(k, c->facts, &c->evidence, &options, arena, &c->diagnosis, &diag), AB_OK);
	ck_assert(case_warnings(k, c, arena));
	ck_assert_ptr_null(warning(c->diagnosis, "thermometer-unchecked"));
}
END_TEST

/* ---- marked bottles ---- */

/* A sheet about bottles with a mark; NULL: without one. */
struct glass { struct sheet sheet; const char *mark; };

static void pour(const struct glass *glass)
{
	taste(&glass->sheet);
	((struct ab_tasting *)batch->tastings.items)[batch->tastings.n - 1].mark_on = glass->mark;
}

static const struct { const char *title; struct glass glasses[3]; struct ab_finding want; } apart[] = {
	{ "other bottles are not a later glass", { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "warm" }, { { "A", 1, 0, YES, { { "buttery", 0 } } }, "cold" } },
	  { AB_SEEN_FOUND, 2, 0 } },
	{ "the same bottles: the later word", { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "warm" }, { { "A", 2, 0, 0, { { "buttery", 0 } } }, "Warm" } },
	  { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "the bottles that have most of it", { { { "A", 1, 0, 0, { { "buttery", 5 } } }, "warm" }, { { "A", 1, 0, 0, { { "buttery", 1 } } }, NULL } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "in no bottle of three kinds", { { { "A", 1, 0, 0, { { "buttery", 0 } } }, "warm" }, { { "A", 1, 0, 0, { { "buttery", 0 } } }, "cold" }, { { "A", 1, 0, 0, { { "buttery", 0 } } }, NULL } },
	  { AB_SEEN_ABSENT, 0, 0.8 } },
};

START_TEST(marks_are_kept_apart)
{
	for (size_t i = 0; i < 3 && apart[_i].glasses[i].sheet.by != NULL; i++)
		pour(&apart[_i].glasses[i]);
	struct ab_finding got = evidence_of("diacetyl", NULL), want = apart[_i].want;
	ck_assert_msg(got.seen == want.seen && got.grade == want.grade, "%s: seen %d grade %d", apart[_i].title, got.seen, got.grade);
	ck_assert_msg(fabs(got.sensitivity - want.sensitivity) < 1e-12, "%s: %g", apart[_i].title, got.sensitivity);
}
END_TEST

static const struct { const char *title, *check; int want; struct glass glasses[3]; } marks[] = {
	{ "lit, and shielded", "cover-half", 1, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" }, { { "A", 1, 0, 0, { { "skunky", 0 } } }, "shielded" } } },
	{ "shielded, and not marked", "cover-half", 1, { { { "A", 1, 0, 0, { { "skunky", 2 } } }, NULL }, { { "A", 1, 0, YES, { { NULL, 0 } } }, "in foil" } } },
	{ "not shielded, and shielded", "cover-half", 1, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "not shielded" }, { { "A", 1, 0, YES, { { NULL, 0 } } }, "Shielded" } } },
	{ "both have it", "cover-half", -1, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" }, { { "B", 1, 0, 0, { { "skunky", 3 } } }, "dark" } } },
	{ "the shielded have more of it", "cover-half", -1, { { { "A", 1, 0, 0, { { "skunky", 1 } } }, "light" }, { { "B", 1, 0, 0, { { "skunky", 4 } } }, "dark" } } },
	{ "neither has it", "cover-half", 0, { { { "A", 1, 0, YES, { { NULL, 0 } } }, "light" }, { { "B", 1, 0, YES, { { NULL, 0 } } }, "dark" } } },
	{ "of the others nobody spoke", "cover-half", 0, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" }, { { "B", 1, 0, 0, { { "papery", 3 } } }, NULL } } },
	{ "only one kind was tasted", "cover-half", 0, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" } } },
	{ "a fault that light does not make", "cover-half", 0, { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "light" }, { { "A", 1, 0, YES, { { NULL, 0 } } }, NULL } } },
	{ "three weeks later", "cover-half", 0, { { { "A", 22, 0, 0, { { "skunky", 3 } } }, "light" }, { { "A", 1, 0, YES, { { NULL, 0 } } }, NULL } } },
	{ "less than a step", "cover-half", -1, { { { "A", 1, 0, 0, { { "skunky", 2 } } }, "light" }, { { "A", 1, 0, 0, { { "skunky", 1.5 } } }, NULL } } },
	{ "lightly shaken is not lit", "cover-half", 0, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "lightly shaken" }, { { "A", 1, 0, YES, { { NULL, 0 } } }, NULL } } },
	{ "splashed", "splashed-bottles", 1, { { { "A", 1, 0, 0, { { "papery", 2 } } }, "splashed" }, { { "A", 1, 0, YES, { { NULL, 0 } } }, NULL } } },
	{ "warm, and cold", "fresh-bottle-side-by-side", 1, { { { "A", 1, 0, 0, { { "papery", 3 } } }, "attic, warm" }, { { "A", 1, 0, 0, { { "papery", 1 } } }, "fridge" } } },
	{ "another check", "splashed-bottles", 0, { { { "A", 1, 0, 0, { { "papery", 3 } } }, "warm" }, { { "A", 1, 0, 0, { { "papery", 1 } } }, "cold" } } },
	{ "no mark", "cover-half", 0, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, NULL }, { { "B", 1, 0, YES, { { NULL, 0 } } }, NULL } } },
};

START_TEST(marked_bottles)
{
	int check = ab_check_find(k, marks[_i].check);
	struct ab_evidence e;
	ck_assert_int_ge(check, 0);
	for (size_t i = 0; i < 3 && marks[_i].glasses[i].sheet.by != NULL; i++)
		pour(&marks[_i].glasses[i]);
	ck_assert_int_eq(ab_case_evidence(k, batch, NULL, facts, arena, &e, &diag), AB_OK);
	ck_assert_msg(e.check[check] == marks[_i].want, "%s: %d", marks[_i].title, e.check[check]);
}
END_TEST

/* Who tells the answer in words knows more than the glasses. */
START_TEST(told_goes_before_marks)
{
	struct ab_evidence e;
	pour(&marks[0].glasses[0]);
	pour(&marks[0].glasses[1]);
	struct ab_test *test = push(&batch->tests, sizeof *test);
	test->kind = "cover-half";
	test->result = AB_NO;
	ck_assert_int_eq(ab_case_evidence(k, batch, NULL, facts, arena, &e, &diag), AB_OK);
	ck_assert_int_eq(e.check[ab_check_find(k, "cover-half")], -1);
}
END_TEST

/* ---- questions that make no sense ---- */

static const struct { const char *title, *known; double value; const char *fault, *asked; bool kept; } moots[] = {
	{ "a taste at packaging", NULL, 0, "sour-lactic", "taste.at-packaging", true },
	{ "gas at packaging", NULL, 0, "over-carbonated", "taste.at-packaging", false },
	{ "foam at packaging", NULL, 0, "foamy-pour", "taste.at-packaging", false },
	{ "gas: another question", NULL, 0, "under-carbonated", "pack.mixing", true },
	{ "a keg nobody spoke of", NULL, 0, "sour-lactic", "taste.tap-only", false },
	{ "bottles", "pack.into", 0, "sour-lactic", "taste.tap-only", false },
	{ "a keg", "pack.into", 1, "sour-lactic", "taste.tap-only", true },
	{ "bottles: a keg's purging", "pack.into", 0, "papery", "pack.filled", false },
	{ "bottles: a keg's pressure", "pack.into", 0, "papery", "keg.equilibrium-co2", false },
	{ "a keg: its purging", "pack.into", 1, "papery", "pack.filled", true },
	{ "a keg: some bottles of it", "pack.into", 1, "under-carbonated", "taste.some-bottles", false },
	{ "bottles: some of them", "pack.into", 0, "under-carbonated", "taste.some-bottles", true },
	{ "no word of the package: some bottles", NULL, 0, "under-carbonated", "taste.some-bottles", true },
	{ "a keg: its necks", "pack.into", 1, "papery", "pack.neck", false },
	{ "no word of the package: a keg's purging", NULL, 0, "papery", "pack.filled", true },
	{ "a tap", "serve.from", 1, "sour-lactic", "taste.tap-only", true },
	{ "in the fermenter: packaging", "taste.before-packaging-only", 1, "sour-lactic", "pack.neck", false },
	{ "in the fermenter: days to packaging", "taste.before-packaging-only", 1, "sour-lactic", "ferment.days", false },
	{ "in the fermenter: warmth", "taste.before-packaging-only", 1, "sour-lactic", "ferment.early-mean", true },
	{ "packaged: days to packaging", "taste.before-packaging-only", 0, "sour-lactic", "ferment.days", true },
};

START_TEST(moot_questions)
{
	/* a month old: in its first week nobody would ask of a package */
	struct sheet sheet = { "A", 30, 0, 0, { { moots[_i].fault, 3 } } };
	int slot = ab_fact_slot(k->facts, moots[_i].asked);
	struct ab_ask asks[] = { { .is_check = true, .check = 0, .slot = -1 }, { .slot = slot, .check = -1 } };
	struct ab_diagnosis d = { .asks = asks, .n_asks = 2, .unknown = &slot, .n_unknown = 1 };
	taste(&sheet);
	struct ab_case *c = plainly();
	ck_assert_int_ge(slot, 0);
	if (moots[_i].known != NULL)
		know(c, moots[_i].known, moots[_i].value);
	c->diagnosis = &d;
	case_drop_moot(k, c);
	ck_assert_msg(d.n_asks == (moots[_i].kept ? 2 : 1), "%s: asked", moots[_i].title);
	ck_assert_msg(d.n_unknown == moots[_i].kept, "%s: unknown", moots[_i].title);
	ck_assert(asks[0].is_check);
}
END_TEST

/* The pipe does it, too. */
START_TEST(nothing_moot_is_asked)
{
	static const struct sheet sheet = { "A", 1, 0, 0, { { "over-carbonated", 4 } } };
	const struct ab_diagnose_options options = { .reasons = true };
	taste(&sheet);
	const struct ab_diagnosis *d = work(&options)->diagnosis;
	ck_assert_uint_gt(d->n_asks, 3);
	for (size_t i = 0; i < d->n_asks; i++)
		ck_assert_int_ne(d->asks[i].slot, ab_fact_slot(k->facts, "taste.at-packaging"));
}
END_TEST

/* ---- from faults alone ---- */

START_TEST(from_faults)
{
	static const char *const words[] = { "buttery", "green apple" };
	static const double intensity[] = { 5, (double)NAN };
	struct ab_batch *made;
	struct ab_evidence e;
	ck_assert_int_eq(ab_case_from_faults(k, words, intensity, 2, "Pale Lager", arena, &made, &diag), AB_OK);
	ck_assert_int_eq(made->family, 2);
	ck_assert_int_eq(ab_case_evidence(k, made, NULL, facts, arena, &e, &diag), AB_OK);
	ck_assert_int_eq(e.family, 1);
	ck_assert_int_eq(e.finding[ab_fault_find(k, "diacetyl")].grade, 3);
	ck_assert_int_eq(e.finding[ab_fault_find(k, "acetaldehyde")].grade, 2);
	ck_assert_int_eq(e.finding[ab_fault_find(k, "papery")].seen, AB_SEEN_ABSENT);
}
END_TEST

static const struct { const char *word; double intensity; const char *family, *says; } refused[] = {
	{ "butterry", 3, NULL, "no fault is called \"butterry\"" },
	{ "buttery", 6, NULL, "\"buttery\" has intensity 6; allowed is 1 (barely there) to 5 (undrinkable)" },
	{ "buttery", 0, NULL, "\"buttery\" has intensity 0; allowed is 1 (barely there) to 5 (undrinkable)" },
	{ "buttery", 3, "wheaty", "there is no style family \"wheaty\"; do you mean \"wheat\"?" },
	{ "buttery", 3, "zzz", "there is no style family \"zzz\"" },
};

START_TEST(from_faults_refused)
{
	struct ab_batch *made;
	ck_assert_int_eq(ab_case_from_faults(k, &refused[_i].word, &refused[_i].intensity, 1, refused[_i].family, arena, &made, &diag), AB_EUSAGE);
	ck_assert_msg(strncmp(diag.text, refused[_i].says, strlen(refused[_i].says)) == 0, "%s", diag.text);
	ck_assert_ptr_null(made);
}
END_TEST

START_TEST(out_of_memory)
{
	static const char *const words[] = { "buttery", "over-carbonated" };
	const struct ab_diagnose_options options = { .reasons = true, .redraws = 10 };
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 5000; at++) {
		struct ab_arena *own = ab_arena_new();
		struct ab_batch *made = NULL;
		struct ab_case *c;
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_case_from_faults(k, words, NULL, 2, NULL, own, &made, &diag);
		if (st == AB_OK)
			st = ab_case_work(k, made, NULL, &options, own, &c, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", at, diag.text);
		ab_arena_free(own);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

static void add_pipe(TCase *tc)
{
	tcase_add_test(tc, flaw_load);
	tcase_add_test(tc, load_follows_the_family);
	tcase_add_test(tc, not_tasted);
	tcase_add_test(tc, tasted_clean);
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
	tcase_add_test(tc, from_faults);
	tcase_add_loop_test(tc, from_faults_refused, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, out_of_memory);
}

int main(void)
{
	Suite *s = suite_create("casework");
	TCase *tc = tcase_create("casework");
	tcase_set_timeout(tc, 60);
	tcase_add_unchecked_fixture(tc, read_rules, rules_drop);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, combine, 0, sizeof combined / sizeof *combined);
	tcase_add_test(tc, one_malt_one_hop_hides_less);
	tcase_add_loop_test(tc, marks_are_kept_apart, 0, sizeof apart / sizeof *apart);
	tcase_add_loop_test(tc, marked_bottles, 0, sizeof marks / sizeof *marks);
	tcase_add_test(tc, told_goes_before_marks);
	tcase_add_loop_test(tc, moot_questions, 0, sizeof moots / sizeof *moots);
	tcase_add_test(tc, nothing_moot_is_asked);
	tcase_add_test(tc, blind_spots);
	tcase_add_test(tc, feared_only);
	tcase_add_test(tc, intensity_not_told);
	tcase_add_test(tc, unknown_words);
	tcase_add_test(tc, checks_done);
	add_pipe(tc);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
