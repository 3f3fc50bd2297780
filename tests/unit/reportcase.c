/* reportcase.c - a small world of rules and one batch, made by hand, that the tests of reports share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static const char *const places[] = { "cellar", "attic", "shed", NULL };
static const struct ab_fact_def defs[RC_FACTS] = {
	[RC_TEMP] = { "w.temp", AB_FACT_NUMBER, "C", NULL, 0, 100, "a temperature", "How warm was it?", 0, false },
	[RC_OVER] = { "w.over", AB_FACT_NUMBER, "K", NULL, -50, 50, "warmth over the range", NULL, 0, false },
	[RC_VOLUME] = { "w.volume", AB_FACT_NUMBER, "L", NULL, 0, 1000, "a volume", NULL, 0, false },
	[RC_HEIGHT] = { "w.height", AB_FACT_NUMBER, "mm", NULL, 0, 100, "a height", NULL, 0, false },
	[RC_PRESSURE] = { "w.pressure", AB_FACT_NUMBER, "kPa", NULL, 0, 1000, "a pressure", NULL, 0, false },
	[RC_SHARE] = { "w.share", AB_FACT_NUMBER, "share", NULL, 0, 1, "a share", NULL, 0, false },
	[RC_SG] = { "w.sg", AB_FACT_NUMBER, "SG", NULL, 0.9, 1.2, "a gravity", NULL, 0, false },
	[RC_COUNT] = { "w.count", AB_FACT_NUMBER, "count", NULL, 0, 99, "a count", NULL, 0, false },
	[RC_POINTS] = { "w.points", AB_FACT_NUMBER, "points", NULL, 0, 99, "points left", NULL, 0, false },
	[RC_PPM] = { "w.ppm", AB_FACT_NUMBER, "mg/L", NULL, 0, 99, "a trace", NULL, 0, false },
	[RC_FLAG] = { "w.flag", AB_FACT_FLAG, "", NULL, 0, 1, "a flag", "Was it so?", 0, false },
	[RC_PLACE] = { "w.place", AB_FACT_WORD, "", places, 0, 1, "a place", NULL, 0, false },
};
static const struct ab_fact_table table = { defs, RC_FACTS };

#define SOURCE(t) { .text = t }

static const char *butter_words[] = { "buttery", "popcorn", NULL };
static struct ab_cond warm_cond[] = { { RC_TEMP, AB_CMP_OVER, 22.5, 0 } },
		      two_conds[] = { { RC_PLACE, AB_CMP_IS, 0, 5 }, { RC_FLAG, AB_CMP_NOT, 0, 2 } },
		      known_conds[] = { { RC_SG, AB_CMP_KNOWN, 0, 0 }, { RC_PPM, AB_CMP_UNKNOWN, 0, 0 },
		          { RC_VOLUME, AB_CMP_UNDER, 5, 0 } };
static struct ab_leak butter_leaks[] = { { .tail = { 1, 0.03, 0.02, 0.001 }, .source = SOURCE("estimate") },
	{ .tail = { 1, 0.2, 0.1, 0.05 }, .when = { warm_cond, 1, 0 }, .source = SOURCE("a book, p. 7") } };

static struct ab_fault faults[RC_FAULTS] = {
	[RC_BUTTER] = { .id = "butter", .title = "Butter", .like = "Popcorn.", .caution = "None.",
	.severity = 1.5, .words = butter_words,
	    .n_words = 2, .leaks = butter_leaks, .n_leaks = 2 },
	[RC_DMS] = { .id = "dms", .title = "DMS", .severity = 2 },
	[RC_SOUR] = { .id = "sour", .title = "Sour milk", .severity = 3 },
	[RC_PAPER] = { .id = "paper", .title = "Wet paper", .severity = 1 },
	[RC_HAZE] = { .id = "haze", .title = "Haze", .severity = 0.25 },
};

static struct ab_prior warm_priors[] = { { 0.25, { NULL, 0, 0 }, SOURCE("survey of 40"), 0 },
    { 0.6, { two_conds, 2, 0 }, { .text = NULL }, 0 } };
static struct ab_gate warm_gates[] = { { { known_conds, 3, 0 }, "there was ice" }, { { warm_cond, 1, 0 }, NULL } };
static struct ab_sign warm_signs[] = {
	{ .slot = RC_TEMP, .n = 2, .x = { 18, 24.5 }, .log_ratio = { 0, 1.3862943611198906 },
	    .source = SOURCE("curve") },
	{ .slot = RC_FLAG, .word_log_ratio = { -0.6931471805599453, 0.6931471805599453 }, .source = SOURCE("flags") },
	{ .slot = RC_PLACE, .word_log_ratio = { 0, 1.0986122886681098 }, .when = { warm_cond, 1, 0 },
	    .source = SOURCE("words") },
};
static struct ab_sign cold_signs[] = {
	{ .slot = RC_PLACE, .word_log_ratio = { 0, 1.0986122886681098, -1.3862943611198906 },
	    .source = SOURCE("places") },
};
static struct ab_link warm_links[] = { { RC_BUTTER, { 1, 0.4, 0.2, 0.1 }, { NULL, 0, 0 }, SOURCE("linked") } },
		      dirt_links[] = { { RC_SOUR, { 1, 0.5, 0.3, 0.002 }, { NULL, 0, 0 }, SOURCE("dirt") } };

static struct ab_cause causes[RC_CAUSES] = {
	[RC_WARM] = { .id = "warm", .title = "Too warm", .why = "Yeast hurries.", .next = "Keep it cool.",
	.caution = "Mind the ice.",
	    .side = AB_SIDE_COLD, .stage = 6, .priors = warm_priors, .n_priors = 2, .gates = warm_gates, .n_gates = 2,
	    .signs = warm_signs, .n_signs = 3, .links = warm_links, .n_links = 1 },
	[RC_COLD] = { .id = "cold", .title = "Too cold", .next = "Warm it.", .side = AB_SIDE_COLD, .stage = 5,
	.signs = cold_signs,
	    .n_signs = 1 },
	[RC_YOUNG] = { .id = "young", .title = "Only young", .kin = -1, .why = "It clears.", .next = "Wait.",
	.benign = true, .stage = 10 },
	[RC_DIRT] = { .id = "dirt", .title = "Dirt", .kin = -1, .side = AB_SIDE_COLD, .stage = 9,
	.links = dirt_links, .n_links = 1 },
	[RC_AIR] = { .id = "air", .title = "Air", .kin = -1, .next = "Fill to the brim.", .side = AB_SIDE_HOT,
	.stage = 0 },
};

static struct ab_kin kins[] = { { .id = "weather", .title = "the weather got at it",
    .ways = "by what most likely", .why = "Yeast minds it.",
	.next = "Move it." } };

static struct ab_sets box_sets[] = { { RC_TEMP, AB_SET_TO, 20, SOURCE("dial") }, { RC_PRESSURE, AB_SET_AT_MOST,
    250, SOURCE("gauge") },
	{ RC_SHARE, AB_SET_AT_LEAST, 0.5, SOURCE("guess") }, { RC_FLAG, AB_SET_TO, 1, SOURCE("flag") } };
static struct ab_prevents box_prevents[] = { { RC_WARM, 0.8, { warm_cond, 1, 0 }, SOURCE("trial") } };
static struct ab_change changes[RC_CHANGES] = {
	[RC_CELLAR] = { .id = "cellar", .title = "Use the cellar", .habit = true, .how = "Carry it down.",
	.caution = "Mind the stairs.",
	    .minutes = 5 },
	[RC_BOX] = { .id = "box", .title = "A cold box", .side = AB_SIDE_COLD, .cost = 90,
	.running_per_year = 12.5, .minutes = -10,
	    .sets = box_sets, .n_sets = 4, .prevents = box_prevents, .n_prevents = 1 },
	[RC_TUBE] = { .id = "tube", .title = "A new tube", .how = "Cut it.", .cost = 4.5 },
	[RC_FRIDGE] = { .id = "fridge", .title = "A fridge", .side = AB_SIDE_HOT, .caution = "Two carry.",
	.cost = 300 },
};

static struct ab_check_yes sniff_yes[] = { { RC_WARM, 0.7, SOURCE("noses") } };
static struct ab_check checks[RC_CHECKS] = {
	[RC_SNIFF] = { .id = "sniff", .title = "Does it smell?", .how = "Sniff.", .if_yes = "Warm.",
	.if_no = "Not warm.", .caution = "Hot.",
	    .minutes = 150, .cost = 2, .base = 0.1, .yes = sniff_yes, .n_yes = 1 },
	[RC_SHAKE] = { .id = "shake", .title = "Shake it", .minutes = 1 },
};
static struct ab_family families[] = { { .id = "wheat", .title = "wheat beers" } };
static struct ab_yeast_norm yeasts[] = { { .id = "clean", .title = "clean ale" } };

const struct ab_knowledge rc_rules = { .facts = &table,
	.faults = faults, .n_faults = RC_FAULTS,
	.causes = causes, .n_causes = RC_CAUSES,
	.kins = kins, .n_kins = 1,
	.changes = changes, .n_changes = RC_CHANGES,
	.checks = checks, .n_checks = RC_CHECKS,
	.families = families, .n_families = 1,
	.norms = { .yeasts = yeasts, .n_yeasts = 1 },
	.version = "0123456789abcdef" };

struct ab_finding rc_finding[RC_FAULTS];
struct ab_fact rc_facts[RC_FACTS];
struct ab_batch rc_batch;
static struct ab_pitch pitched;   /* it was brewed */
static double load[RC_FAULTS] = { 4.5, 2 }, intensity[RC_FAULTS] = { 4.5, 1.5 },
	      present[RC_CAUSES] = { 0.7, 0.35, 0.1, 0.4, 0.31 };

struct ab_look rc_look(enum ab_format format)
{
	return (struct ab_look){ .format = format, .width = 200, .currency = "$" };
}

void rc_case(struct ab_case *c, struct ab_diagnosis *d)
{
	memset(rc_finding, 0, sizeof rc_finding);
	memset(rc_facts, 0, sizeof rc_facts);
	rc_finding[RC_BUTTER] = (struct ab_finding){ AB_SEEN_FOUND, 3, 0 };
	rc_finding[RC_DMS] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	rc_batch = (struct ab_batch){ .id = "b7",
		.line = "pale",
		.brewed = { .known = true, .date_only = true, .s = 86400 },
		.pitch = &pitched };
	*d = (struct ab_diagnosis){ .family = -1, .present = present };
	*c = (struct ab_case){ .batch = &rc_batch,
		.facts = rc_facts,
		.evidence = { .finding = rc_finding },
		.diagnosis = d,
		.load = 6.5,
		.load_low = 5,
		.load_high = 8,
		.fault_load = load,
		.fault_intensity = intensity,
		.tasted = true };
}

/* The lists are arrays of pointers to what may change; a report changes nothing. */
char *rc_diagnosis(const struct ab_case *c, const struct ab_look *look)
{
	struct ab_case copy = *c, *cases[] = { &copy };
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_diagnoses(&rc_rules, cases, 1, NULL, look, &text, &diag), AB_OK);
	return text;
}

char *rc_facts_of(const struct ab_case *c, const struct ab_look *look)
{
	struct ab_case copy = *c, *cases[] = { &copy };
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_facts(&rc_rules, cases, 1, look, &text, &diag), AB_OK);
	return text;
}

static struct ab_because because[] = { { RC_BUTTER, RC_WARM, 1.25, true, false, false }, { RC_SOUR, RC_DIRT, 0.5,
    false, false, false }, { RC_DMS, RC_AIR, 0.25, false, false, false } };
static const struct ab_item all_items[RC_CHANGES] = {
	{ .change = RC_CELLAR, .minutes = 5, .gain = 2, .joint_gain = 1.75, .basis = AB_BASIS_REPLAY, .stays = 0.9,
	    .chosen = true, .because = because, .n_because = 3 },
	{ .change = RC_BOX, .cost = 90, .running_cost = 12.5, .minutes = -10, .gain = 1, .joint_gain = 0.5,
	    .basis = AB_BASIS_RATED, .stays = NAN, .chosen = true },
	{ .change = RC_TUBE, .cost = 4.5, .gain = 0.125, .joint_gain = 9, .basis = AB_BASIS_MIXED, .stays = 0,
	    .barred = "no room" },
	{ .change = RC_FRIDGE, .gain = 0.3, .stays = NAN, .owned = true },
};
static int plan[] = { 0, 1 };
static struct ab_next_step begin_first[] = { { .kind = AB_NEXT_BEGIN, .cause = -1 } };
static struct ab_step two_steps[] = { { 0, 1.75, 3.25, NULL }, { 90, 2.25, 2.75, NULL } };

struct ab_advice rc_advice(struct ab_item items[RC_CHANGES])
{
	memcpy(items, all_items, sizeof all_items);
	return (struct ab_advice){ .budget = 90,
		.minutes = INFINITY,
		.horizon_years = 1,
		.running = INFINITY,
		.changes = 6,
		.currency = "EUR",
		.n_batches = 4,
		.load_before = 5,
		.load_after = 2.75,
		.flawless_before = 0.2,
		.flawless_after = 0.5,
		.items = items,
		.n_items = RC_CHANGES,
		.plan = plan,
		.n_plan = 2,
		.frontier = two_steps,
		.n_frontier = 2,
		.minutes_added = -5,
		.running_added = 12.5,
		.enough = 90,
		.steps = begin_first,
		.n_steps = 1 };
}

char *rc_advised(const struct ab_advice *a, const struct ab_look *look)
{
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_advice(&rc_rules, a, look, &text, &diag), AB_OK);
	return text;
}

void rc_has(const char *title, const char *text, const char *want)
{
	ck_assert_msg(strstr(text, want) != NULL, "%s: no \"%s\" in\n%s", title, want, text);
}

void rc_lacks(const char *title, const char *text, const char *unwanted)
{
	ck_assert_msg(strstr(text, unwanted) == NULL, "%s: \"%s\" in\n%s", title, unwanted, text);
}

void rc_before(const char *title, const char *text, const char *first, const char *second)
{
	const char *a = strstr(text, first), *b = strstr(text, second);
	ck_assert_msg(
	    a != NULL && b != NULL && a < b, "%s: not \"%s\" before \"%s\" in\n%s", title, first, second, text);
}

size_t rc_times(const char *text, const char *part)
{
	size_t n = 0;
	for (const char *at = text; (at = strstr(at, part)) != NULL; at += strlen(part))
		n++;
	return n;
}

json_t *rc_json(char *text)
{
	json_error_t error;
	json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &error);
	ck_assert_msg(root != NULL, "%s (line %d) in\n%s", error.text, error.line, text);
	ab_report_free(text);
	return root;
}

const char *rc_keys(const json_t *object)
{
	static char keys[1024];
	size_t at = 0;
	keys[0] = '\0';
	for (void *i = json_object_iter((json_t *)(uintptr_t)object); i != NULL;
	     i = json_object_iter_next((json_t *)(uintptr_t)object, i))
		at += (size_t)snprintf(keys + at, sizeof keys - at, "%s%s", at > 0 ? " " : "", json_object_iter_key(i));
	return keys;
}
