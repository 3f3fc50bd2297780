/* check_sha256.c - the published examples of FIPS 180 (NIST, "Examples with Intermediate Values": SHA256.pdf; and
 * the million of FIPS 180-2, B.3)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/sha256.h"

static const struct { const char *text; size_t times; const char *want; } rows[] = {
	{ "", 1, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855" },
	{ "abc", 1, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" },
	{ "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 1,
	  "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1" },
	{ "a", 1000000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0" },
};

START_TEST(published)
{
	struct ab_sha256 s;
	char hex[65];
	ab_sha256_init(&s);
	for (size_t i = 0; i < rows[_i].times; i++)
		ab_sha256_add(&s, rows[_i].text, strlen(rows[_i].text));
	ab_sha256_hex(&s, hex);
	ck_assert_str_eq(hex, rows[_i].want);
}
END_TEST

/* However the bytes are cut into pieces, the sum is the same. */
START_TEST(in_pieces)
{
	char text[200], whole[65], cut[65];
	struct ab_sha256 s;
	for (size_t i = 0; i < sizeof text; i++)
		text[i] = (char)('!' + i % 90);
	for (size_t len = 0; len <= sizeof text; len += 7)
		for (size_t at = 0; at <= len; at += 13) {
			ab_sha256_init(&s);
			ab_sha256_add(&s, text, len);
			ab_sha256_hex(&s, whole);
			ab_sha256_init(&s);
			ab_sha256_add(&s, text, at);
			ab_sha256_add(&s, text + at, len - at);
			ab_sha256_hex(&s, cut);
			ck_assert_str_eq(whole, cut);
		}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("sha256");
	TCase *tc = tcase_create("sha256");
	tcase_add_loop_test(tc, published, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, in_pieces);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
