/* check_trait_rules.c - what the project's rules hold for meant to be so: by family, yeast and recipe, and never by
 * the family alone where another yeast brings it
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdlib.h>
#include <afterboil/diagnose.h>
#include "rulecase.h"

#define Y(class) "<yeast class='" class "'/>"

/* Is the fault at this grade meant to be in such a beer? Two rows or more a trait, one for either side. */
static const struct { const char *family, *journal, *fault; int grade; bool meant; } rows[] = {
	{ "amber-malty", Y("english-ale"), "diacetyl", 1, true },
	{ "amber-malty", Y("english-ale"), "diacetyl", 2, false },
	{ "amber-malty", Y("clean-ale"), "diacetyl", 1, false },
	{ "amber-malty", Y("lager"), "diacetyl", 1, false },
	{ "amber-malty", "", "diacetyl", 1, false },
	{ "pale-lager", Y("english-ale"), "diacetyl", 1, false },
	{ "amber-malty", Y("english-ale"), "estery", 1, true },
	{ "amber-malty", Y("lager"), "estery", 1, false },
	{ "amber-malty", "", "estery", 1, true },
	{ "amber-malty", "<package into='cask'/>", "under-carbonated", 1, true },
	{ "amber-malty", "<package into='bottles'/>", "under-carbonated", 1, false },
	{ "amber-malty", "", "under-carbonated", 1, false },
	{ "pale-hoppy", Y("clean-ale"), "estery", 1, true },
	{ "pale-hoppy", Y("clean-ale"), "estery", 2, false },
	{ "pale-hoppy", Y("english-ale"), "estery", 2, true },
	{ "pale-hoppy", Y("english-ale"), "estery", 3, false },
	{ "pale-hoppy", Y("lager"), "estery", 1, false },
	{ "pale-hoppy", Y("belgian-abbey"), "clove-phenolic", 1, false },
	{ "wheat", Y("german-wheat"), "clove-phenolic", 3, true },
	{ "wheat", Y("clean-ale"), "clove-phenolic", 1, false },
	{ "wheat", "", "clove-phenolic", 3, true },
	{ "wheat", Y("german-wheat"), "estery", 3, true },
	{ "wheat", Y("clean-ale"), "estery", 1, true },
	{ "wheat", Y("clean-ale"), "estery", 2, false },
	{ "belgian-farmhouse", Y("belgian-abbey"), "clove-phenolic", 2, true },
	{ "belgian-farmhouse", Y("clean-ale"), "clove-phenolic", 1, false },
	{ "belgian-farmhouse", Y("belgian-abbey"), "barnyard", 1, false },
	{ "belgian-farmhouse", Y("farmhouse"), "barnyard", 1, true },
	{ "belgian-farmhouse", "<reading at='+0h' gravity='1.045 SG'/><reading at='+240h' gravity='1.008 SG'/>",
	    "fusel", 1, false },
	{ "belgian-farmhouse", "<reading at='+0h' gravity='1.080 SG'/><reading at='+240h' gravity='1.010 SG'/>",
	    "fusel", 1, true },
	{ "pale-lager", Y("lager"), "sulphidic", 1, true },
	{ "pale-lager", Y("clean-ale"), "sulphidic", 1, false },
	{ "pale-lager", "<recipe><malt kind='pilsner' amount='4 kg'/></recipe>", "dms", 1, true },
	{ "pale-lager", "<recipe><malt kind='pale' amount='4 kg'/></recipe>", "dms", 1, false },
	{ "pale-hoppy", "<recipe volume='20 L'/><dry-hop at='+5d' amount='100 g'/>", "grassy", 1, true },
	{ "pale-hoppy", "<recipe volume='20 L'/><dry-hop at='+5d' amount='20 g'/>", "grassy", 1, false },
	{ "pale-hoppy", "<recipe volume='20 L'/><dry-hop at='+5d' amount='100 g'/>", "haze-chill", 2, true },
	{ "pale-hoppy", "", "haze-chill", 2, false },
	{ "pale-hoppy", "", "haze-chill", 1, true },
	{ "dark-roast", "", "sweet-underattenuated", 1, false },
	{ "dark-roast", "", "astringent", 1, true },
	{ "strong", "", "sherry-honey", 1, true },
	{ "strong", "<recipe volume='20 L'/><dry-hop at='+5d' amount='100 g'/>", "sherry-honey", 1, false },
	{ "strong", Y("lager"), "estery", 2, false },
	{ "strong", Y("clean-ale"), "estery", 2, true },
	{ "sour-mixed", "", "sour-lactic", 3, true },
};

static struct ab_fact *of_family(struct ab_fact *facts, int family)
{
	facts[ab_fact_slot(ab_fact_defs(), "recipe.family")] =
	    (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = family };
	return facts;
}

/* What is meant may be blamed on the trait; what is not, may not be excused by it. */
START_TEST(meant)
{
	struct ab_fact *facts = of_family(rules_facts(rows[_i].journal), ab_family_find(rules, rows[_i].family));
	struct ab_finding *finding = ab_arena_alloc(rules_arena, rules->n_faults, sizeof *finding);
	int fault = ab_fault_find(rules, rows[_i].fault), family = ab_family_find(rules, rows[_i].family);
	const struct ab_evidence evidence = { .finding = finding, .family = family };
	const struct ab_diagnose_options plainly = { 0 };
	struct ab_diagnosis *d;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert(fault >= 0 && family >= 0);
	ck_assert_msg(ab_fault_expected(rules, facts, family, fault, rows[_i].grade) == rows[_i].meant,
	    "%s %d in %s with %s", rows[_i].fault, rows[_i].grade, rows[_i].family, rows[_i].journal);
	finding[fault] = (struct ab_finding){ AB_SEEN_FOUND, rows[_i].grade, 0 };
	ck_assert_int_eq(ab_diagnose(rules, facts, &evidence, &plainly, rules_arena, &d, &diag), AB_OK);
	double excused = d->blame[rules_cause("expected-character")];
	ck_assert_msg(rows[_i].meant ? excused > 0.1 : excused < 0.3, "%s %d in %s with %s: excused with %g",
	    rows[_i].fault, rows[_i].grade, rows[_i].family, rows[_i].journal, excused);
}
END_TEST

/* Clove from a Belgian yeast in a pale ale is the strain's doing, not a trait of the beer. */
START_TEST(wrong_strain)
{
	int family = ab_family_find(rules, "pale-hoppy");
	const struct ab_evidence evidence = {
		.finding = ab_arena_alloc(rules_arena, rules->n_faults, sizeof *evidence.finding), .family = family
	};
	const struct ab_diagnose_options plainly = { 0 };
	struct ab_diagnosis *d;
	struct ab_diag diag;

	ab_diag_init(&diag);
	evidence.finding[ab_fault_find(rules, "clove-phenolic")] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	ck_assert_int_eq(ab_diagnose(rules, of_family(rules_facts(Y("belgian-abbey")), family), &evidence, &plainly,
			     rules_arena, &d, &diag),
	    AB_OK);
	ck_assert_int_eq(d->suspects[0].cause, rules_cause("strain-choice"));
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("traits in the rules");
	TCase *tc = tcase_create("rules");
	SRunner *sr;

	tcase_add_checked_fixture(tc, rules_read, rules_drop);
	tcase_add_loop_test(tc, meant, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, wrong_strain);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
