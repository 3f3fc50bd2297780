/* check_diag.c - the first error wins, and no message can drive a terminal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/diag.h>

#include <check.h>
#include <stdlib.h>
#include <string.h>

static const struct { const char *title, *given, *kept; } texts[] = {
	{ "plain", "no unit", "no unit" },
	{ "trailing newline", "bad tag\n", "bad tag" },
	{ "trailing blanks", "bad tag \n \n", "bad tag" },
	{ "newline inside", "one\ntwo", "one?two" },
	{ "escape sequence", "a\x1b[2Jb", "a?[2Jb" },
	{ "delete", "a\x7f", "a?" },
	{ "C1 control in UTF-8", "a\xc2\x9b" "31m", "a?31m" },
	{ "letters in UTF-8 stay", "K\xc3\xb6lsch \xe2\x82\xac \xf0\x9f\x8d\xba",
	    "K\xc3\xb6lsch \xe2\x82\xac \xf0\x9f\x8d\xba" },
	{ "no-break space is no control", "a\xc2\xa0z", "a\xc2\xa0z" },
	{ "stray continuation", "a\x80z", "a?z" },
	{ "overlong slash", "\xc0\xaf", "??" },
	{ "surrogate", "\xed\xa0\x80", "???" },
	{ "cut short", "a\xe2\x82", "a??" },
	{ "beyond Unicode", "\xf4\x90\x80\x80", "????" },
	{ "empty", "", "" },
};

START_TEST(text_rows)
{
	struct ab_diag d;
	ab_diag_init(&d);
	ck_assert_int_eq(ab_fail(&d, AB_EINPUT, "f.xml", 3, "%s", texts[_i].given), AB_EINPUT);
	ck_assert_msg(strcmp(d.text, texts[_i].kept) == 0, "%s: %s", texts[_i].title, d.text);
	/* a file's name is a stranger's too */
	ab_diag_init(&d);
	ab_fail(&d, AB_EINPUT, texts[_i].given, 3, "x");
	ck_assert_msg(strpbrk(d.source, "\x1b\x7f\n") == NULL, "%s: %s", texts[_i].title, d.source);
}
END_TEST

START_TEST(starts_empty)
{
	struct ab_diag d;
	memset(&d, 0x55, sizeof d);
	ab_diag_init(&d);
	ck_assert_int_eq(d.status, AB_OK);
	ck_assert_int_eq(d.line, 0);
	ck_assert_str_eq(d.source, "");
	ck_assert_str_eq(d.text, "");
}
END_TEST

START_TEST(first_wins)
{
	struct ab_diag d;
	ab_diag_init(&d);
	ck_assert_int_eq(ab_fail(&d, AB_EINPUT, "a.xml", 7, "root %d", 1), AB_EINPUT);
	ck_assert_int_eq(ab_fail(&d, AB_ENOMEM, "b.xml", 8, "echo"), AB_ENOMEM);
	ck_assert_int_eq(d.status, AB_EINPUT);
	ck_assert_int_eq(d.line, 7);
	ck_assert_str_eq(d.source, "a.xml");
	ck_assert_str_eq(d.text, "root 1");
}
END_TEST

START_TEST(nobody_listens)
{
	struct ab_diag d;
	ck_assert_int_eq(ab_fail(NULL, AB_ELIMIT, NULL, 0, "x"), AB_ELIMIT);
	ab_diag_init(&d);
	ab_fail(&d, AB_ESYSTEM, NULL, -4, "x");
	ck_assert_str_eq(d.source, "");
	ck_assert_int_eq(d.line, 0);
}
END_TEST

/* Too long a text is cut where a character ends, and shows it. */
START_TEST(cut_rows)
{
	char big[2000];
	struct ab_diag d;
	size_t n = 0;
	for (int i = 0; i < _i; i++)
		big[n++] = 'x';
	while (n + 3 < sizeof big) {
		memcpy(big + n, "\xe2\x82\xac", 3);
		n += 3;
	}
	big[n] = '\0';
	ab_diag_init(&d);
	ab_fail(&d, AB_EINPUT, big, 1, "%s", big);
	ck_assert_uint_lt(strlen(d.text), AB_DIAG_TEXT);
	ck_assert_uint_gt(strlen(d.text), AB_DIAG_TEXT - 8);
	ck_assert_str_eq(d.text + strlen(d.text) - 3, "...");
	ck_assert_str_eq(d.source + strlen(d.source) - 3, "...");
	ck_assert_ptr_null(strchr(d.text, '?'));
	ck_assert_ptr_null(strchr(d.source, '?'));
}
END_TEST

START_TEST(names)
{
	for (int st = AB_OK; st < AB_STATUS_MAX_; st++) {
		ck_assert_str_ne(ab_status_name(st), "unknown status");
		for (int other = AB_OK; other < st; other++)
			ck_assert_str_ne(ab_status_name(st), ab_status_name(other));
	}
	ck_assert_str_eq(ab_status_name(AB_EINPUT), "bad input");
	ck_assert_str_eq(ab_status_name(AB_STATUS_MAX_), "unknown status");
	ck_assert_str_eq(ab_status_name((enum ab_status)-1), "unknown status");
}
END_TEST

int main(void)
{
	Suite *s = suite_create("diag");
	TCase *tc = tcase_create("diag");
	tcase_add_test(tc, starts_empty);
	tcase_add_test(tc, first_wins);
	tcase_add_test(tc, nobody_listens);
	tcase_add_loop_test(tc, text_rows, 0, sizeof texts / sizeof *texts);
	tcase_add_loop_test(tc, cut_rows, 0, 4);
	tcase_add_test(tc, names);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
