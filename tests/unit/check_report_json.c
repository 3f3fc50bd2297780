/* check_report_json.c - the small JSON builder: numbers come back as they were, bad text is scrubbed, what cannot
 * be made leaves nothing half
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"

#include <check.h>
#include <float.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/alloc.h"
#include "reportcase.h"

static char *written(json_t *document, bool compact)
{
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(json_finish(document, compact, &text, &diag), AB_OK);
	ck_assert_ptr_nonnull(text);
	return text;
}

/* ---- numbers ---- */

static const struct { const char *title; double x; } numbers[] = {
	{ "nothing", 0 }, { "a tenth", 0.1 }, { "a third", 1.0 / 3 }, { "the largest", DBL_MAX },
	{ "the smallest", DBL_MIN }, { "below that", 4.9e-324 },
	{ "one and the least more", 1 + DBL_EPSILON }, { "minus pi", -3.141592653589793 }, { "a gravity", 1.0482 },
	{ "a whole one", 1e15 },
};

START_TEST(numbers_come_back)
{
	struct put p = put_begin();
	put_number(&p, "x", numbers[_i].x);
	json_t *root = rc_json(written(put_end(&p), true)), *x = json_object_get(root, "x");
	ck_assert_msg(json_is_real(x) && json_real_value(x) == numbers[_i].x, "%s: %.17g", numbers[_i].title,
	    json_real_value(x));
	json_decref(root);
}
END_TEST

static const struct { const char *title; double x; } strange[] = { { "unknown", NAN },
    { "no limit", INFINITY }, { "no limit below", -INFINITY } };

START_TEST(what_json_has_no_word_for)
{
	struct put p = put_begin();
	put_number(&p, "x", strange[_i].x);
	char *text = written(put_end(&p), true);
	ck_assert_msg(strcmp(text, "{\"x\":null}\n") == 0, "%s: %s", strange[_i].title, text);
	ab_report_free(text);
}
END_TEST

/* ---- texts ---- */

static const struct { const char *title, *text, *want; } texts[] = {
	{ "plain", "beer", "beer" },
	{ "empty", "", "" },
	{ "umlaut", "K\u00F6lsch", "K\u00F6lsch" },
	{ "quotes and a backslash", "a \"b\" \\c", "a \"b\" \\c" },
	{ "a line's end is kept: JSON can say it", "a\nb", "a\nb" },
	{ "no UTF-8", "a\xFFz", "a?z" },
	{ "cut off in the middle of a sign", "a\xC3", "a?" },
};

START_TEST(texts_come_back)
{
	struct put p = put_begin();
	put_text(&p, "x", texts[_i].text);
	json_t *root = rc_json(written(put_end(&p), true));
	const char *found = json_string_value(json_object_get(root, "x"));
	ck_assert_msg(found != NULL && strcmp(found, texts[_i].want) == 0, "%s: %s", texts[_i].title,
	    found == NULL ? "nothing" : found);
	json_decref(root);
}
END_TEST

/* ---- objects ---- */

START_TEST(keys_keep_their_order)
{
	struct put p = put_begin();
	put_text(&p, "z", NULL);
	put_flag(&p, "a", true);
	put_flag(&p, "no", false);
	put_count(&p, "m", 12);
	put_value(&p, "list", json_add(json_add(json_array(), json_text("one")), json_number(0.5)));
	char *text = written(put_end(&p), true);
	ck_assert_str_eq(text, "{\"z\":null,\"a\":true,\"no\":false,\"m\":12,\"list\":[\"one\",0.5]}\n");
	ab_report_free(text);
}
END_TEST

START_TEST(one_line_or_many)
{
	struct put p = put_begin(), q = put_begin();
	put_flag(&p, "a", true);
	put_flag(&q, "a", true);
	char *one = written(put_end(&p), true), *many = written(put_end(&q), false);
	ck_assert_str_eq(one, "{\"a\":true}\n");
	ck_assert_str_eq(many, "{\n  \"a\": true\n}\n");
	ab_report_free(one);
	ab_report_free(many);
}
END_TEST

/* One value that could not be made spoils the whole object, whatever comes after it. */
START_TEST(bad_is_bad_for_good)
{
	struct put p = put_begin();
	struct ab_diag diag;
	char *text = (char *)(uintptr_t)"not touched";
	put_flag(&p, "a", true);
	put_value(&p, "b", NULL);
	put_flag(&p, "c", true);
	ab_diag_init(&diag);
	json_t *made = put_end(&p);
	ck_assert_ptr_null(made);
	ck_assert_int_eq(json_finish(made, true, &text, &diag), AB_ENOMEM);
	ck_assert_int_eq(diag.status, AB_ENOMEM);
	ck_assert_ptr_null(text);
}
END_TEST

START_TEST(lists_take_all_or_nothing)
{
	ck_assert_ptr_null(json_add(NULL, json_true()));
	ck_assert_ptr_null(json_add(json_array(), NULL));
	ck_assert_ptr_null(json_add(NULL, NULL));
	json_t *two = json_add(json_add(json_array(), json_true()), json_false());
	ck_assert_uint_eq(json_array_size(two), 2);
	ck_assert(json_is_true(json_array_get(two, 0)));
	json_decref(two);
}
END_TEST

/* Whichever allocation fails: a whole text or none, and nothing leaked (ASan tells). */
START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 200; at++) {
		struct ab_diag diag;
		char *text = NULL;
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		struct put p = put_begin();
		put_text(&p, "bad", "a\xFFz");
		put_number(&p, "x", 0.1);
		put_value(&p, "list", json_add(json_add(json_array(), json_text("one")), json_number(NAN)));
		st = json_finish(put_end(&p), false, &text, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_int_eq(st == AB_OK, text != NULL);
		ck_assert(st == AB_OK || (st == AB_ENOMEM && diag.status == AB_ENOMEM));
		ab_report_free(text);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

/* ---- the shapes: members are a contract, in this order, none taken away ---- */

START_TEST(members_of_a_diagnosis)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect one[] = { { .cause = RC_WARM, .blame = 0.5 } };
	struct ab_ask ask[] = { { .slot = RC_TEMP } };
	struct ab_warning warning[] = { { "cold", "Mind.", NULL } };
	struct ab_look look = rc_look(AB_JSON);
	rc_case(&c, &d);
	d.suspects = one;
	d.asks = ask;
	d.warnings = warning;
	d.n_suspects = d.n_asks = d.n_warnings = 1;
	json_t *root = rc_json(rc_diagnosis(&c, &look));
	ck_assert_str_eq(rc_keys(root),
	    "batch line family tasted benign load load_low load_high found causes kins story story_share risks "
	    "warnings unknown "
	    "unexplained expected next");
	ck_assert_str_eq(rc_keys(json_array_get(json_object_get(root, "found"), 0)), "id grade intensity load gone");
	ck_assert_str_eq(rc_keys(json_array_get(json_object_get(root, "causes"), 0)),
	    "id title side stage kind blame blame_low blame_high present for against");
	ck_assert_str_eq(
	    rc_keys(json_array_get(json_object_get(root, "next"), 0)), "id kind title bits minutes cost wait_days");
	ck_assert_str_eq(rc_keys(json_array_get(json_object_get(root, "warnings"), 0)), "id text");
	json_decref(root);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("report_json");
	TCase *tc = tcase_create("report_json");
	json_set_alloc_funcs(ab_malloc, ab_free);
	tcase_add_loop_test(tc, numbers_come_back, 0, sizeof numbers / sizeof *numbers);
	tcase_add_loop_test(tc, what_json_has_no_word_for, 0, sizeof strange / sizeof *strange);
	tcase_add_loop_test(tc, texts_come_back, 0, sizeof texts / sizeof *texts);
	tcase_add_test(tc, keys_keep_their_order);
	tcase_add_test(tc, one_line_or_many);
	tcase_add_test(tc, bad_is_bad_for_good);
	tcase_add_test(tc, lists_take_all_or_nothing);
	tcase_add_test(tc, short_of_memory);
	tcase_add_test(tc, members_of_a_diagnosis);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
