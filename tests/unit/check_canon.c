/* check_canon.c - a journal's digest: content counts, layout does not
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/history.h>
#include <afterboil/quantity.h>
#include "base/canon.h"
#include "journal/tables.h"

static struct ab_arena *arena;
static struct ab_diag diag;

static void set_up(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static void digest_of(const char *inside, char *out)
{
	char text[4096];
	struct ab_batch *batch = NULL;
	int len = snprintf(text, sizeof text, "<batch xmlns='urn:afterboil:journal:1' %s</batch>", inside);

	enum ab_status st = ab_journal_read_memory(text, (size_t)len, "b.xml", NULL, arena, keep, &batch, &diag);
	ck_assert_msg(st == AB_OK && batch != NULL, "%s: line %ld: %s", inside, diag.line, diag.text);
	ck_assert_int_eq(ab_history_digest(batch, out, &diag), AB_OK);
	ck_assert_uint_eq(strlen(out), 64);
}

#define HEAD "id='b' brewed='2031-03-07'>"
static const struct { const char *title, *one, *other; bool same; } pairs[] = {
	{ "the same", HEAD "<note>x</note>", HEAD "<note>x</note>", true },
	{ "layout", HEAD "<pitch at='2031-03-07T15:30'/><note>x</note>",
	    HEAD "\n  <pitch\n\tat='2031-03-07T15:30' />\n\n<note>  x </note>\n", true },
	{ "comments", HEAD "<note>x</note>", HEAD "<!-- c --><note>x</note><!-- d -->", true },
	{ "foreign elements", HEAD "<note>x</note>", HEAD "<z:y xmlns:z='urn:z' a='1'>t</z:y><note>x</note>", true },
	{ "order of attributes", "id='b' brewed='2031-03-07'>", "brewed='2031-03-07' id='b'>", true },
	{ "order of kinds of elements", HEAD "<note>x</note><pitch at='2031-03-07T15:30'/>",
	    HEAD "<pitch at='2031-03-07T15:30'/><note>x</note>", true },
	{ "entities", HEAD "<note>a &amp; b</note>", HEAD "<note>a &#38; b</note>", true },
	{ "units of one size", HEAD "<fining at='+1d' name='x'/><transfer at='+240h'/>",
	    HEAD "<fining at='+24h' name='x'/><transfer at='+10d'/>", true },
	{ "litres and millilitres", HEAD "<package volume='20 L'/>", HEAD "<package volume='20000 mL'/>", true },
	{ "zeros behind the point", HEAD "<package volume='20 L'/>", HEAD "<package volume='20.00 L'/>", true },
	{ "another id", "id='b' brewed='2031-03-07'>", "id='c' brewed='2031-03-07'>", false },
	{ "another day", "id='b' brewed='2031-03-07'>", "id='b' brewed='2031-03-08'>", false },
	{ "another number", HEAD "<package volume='20 L'/>", HEAD "<package volume='20.1 L'/>", false },
	{ "a little more", HEAD "<package volume='20 L'/>", HEAD "<package volume='20.00001 L'/>", false },
	{ "told or not", HEAD "<package/>", HEAD "<package volume='20 L'/>", false },
	{ "a guess", HEAD "<package volume='20 L'/>", HEAD "<package volume='20 L' guess='yes'/>", false },
	{ "a rough figure", HEAD "<package volume='20 L'/>", HEAD "<package volume='about 20 L'/>", false },
	{ "a rough figure is no guess of all", HEAD "<package volume='20 L' guess='yes'/>",
	    HEAD "<package volume='about 20 L'/>", false },
	{ "which figure is rough", HEAD "<package volume='20 L' size='about 0.5 L'/>",
	    HEAD "<package volume='about 20 L' size='0.5 L'/>", false },
	{ "a bound, and what it is taken for", HEAD "<package volume='25 L'/>", HEAD "<package volume='over 20 L'/>",
	    false },
	{ "yes and no", HEAD "<package wand='yes'/>", HEAD "<package wand='no'/>", false },
	{ "no and not told", HEAD "<package wand='no'/>", HEAD "<package/>", false },
	{ "another word", HEAD "<package into='keg'/>", HEAD "<package into='bottles'/>", false },
	{ "a note", HEAD "<note>x</note>", HEAD "<note>y</note>", false },
	{ "one more note", HEAD "<note>x</note>", HEAD "<note>x</note><note>x</note>", false },
	{ "where one note ends", HEAD "<note>ab</note><note>c</note>", HEAD "<note>a</note><note>bc</note>", false },
	{ "order of notes", HEAD "<note>x</note><note>y</note>", HEAD "<note>y</note><note>x</note>", false },
	{ "which attribute", HEAD "<change what='a'/>", HEAD "<change>a</change>", false },
	{ "a time after pitching, and the same by the clock",
	    HEAD "<pitch at='2031-03-07T15:30'/><fining at='+1d' name='x'/>",
	  HEAD "<pitch at='2031-03-07T15:30'/><fining at='2031-03-08T15:30' name='x'/>", true },
	{ "a day, and its midnight", HEAD "<fining at='2031-03-08' name='x'/>",
	    HEAD "<fining at='2031-03-08T00:00' name='x'/>", false },
	{ "what a tasting found", HEAD "<tasting at='2031-04-01'><found fault='buttery' intensity='3'/></tasting>",
	  HEAD "<tasting at='2031-04-01'><found fault='buttery' intensity='4'/></tasting>", false },
	{ "found and absent", HEAD "<tasting at='2031-04-01'><found fault='buttery'/></tasting>",
	  HEAD "<tasting at='2031-04-01'><absent fault='buttery'/></tasting>", false },
};

START_TEST(pair)
{
	char one[65], other[65];

	digest_of(pairs[_i].one, one);
	digest_of(pairs[_i].other, other);
	ck_assert_msg((strcmp(one, other) == 0) == pairs[_i].same, "%s: %s", pairs[_i].title,
	    pairs[_i].same ? "differ" : "are the same");
}
END_TEST

/* A digest is kept in stores for years: how it is made may not change unseen. Each hash here is from sha256sum, of
 * the bytes beside it. */
static const struct ab_attr_spec attrs[] = {
	AB_A_TEXT(ab_fining, "name", name), AB_A_END,
};
static const struct ab_elem_spec fining = { "fining", sizeof(struct ab_fining), 0, false, false, attrs, NULL, true,
	false, 0, NULL };

/* printf 'fining\0name\0moss\0\0' | sha256sum */
START_TEST(bytes)
{
	const struct ab_fining record = { .name = "moss" };
	struct ab_sha256 digest;
	char out[65];

	ab_sha256_init(&digest);
	ab_record_canon(&fining, &record, &digest);
	ab_sha256_hex(&digest, out);
	ck_assert_str_eq(out, "54f6d979e0cee75a58f76f875e7ee36fd40202912e364d7475b5c15745e3ed09");
}
END_TEST

/* Numbers go in as twelve digits (eight bytes) and a power of ten (two), the lowest byte first. */
static const struct { double v; const char *hash; } numbers[] = {
	{ 20, "a4d99cad40108abd480fc6280441237c4099260108bd5904d34c9c66d0c042c9" },
	/* r\0n\0, 200000000000, -10, \0 */
	{ 19.999999999999996, "a4d99cad40108abd480fc6280441237c4099260108bd5904d34c9c66d0c042c9" },
	/* r\0n\0, 200000000000, -10, \0 */
	{ 9.9999999999999, "ba062eb785dc435656b2bfeadf49b456a8b3cb1d7072e3574203c050870a4528" },
	/* r\0n\0, 100000000000, -10, \0 */
	{ 10, "ba062eb785dc435656b2bfeadf49b456a8b3cb1d7072e3574203c050870a4528" },
	/* r\0n\0, 100000000000, -10, \0 */
	{ 0, "07be05eff7a21721c3b5fc1e5b12883fcf2743b5548c07b64bed5569dbcb338a" },   /* r\0n\0, 0, 0, \0 */
	{ -0.0, "07be05eff7a21721c3b5fc1e5b12883fcf2743b5548c07b64bed5569dbcb338a" },   /* r\0n\0, 0, 0, \0 */
	{ 1.048, "43fff793234ef5769be51f790d1a90a1467a056caa0ecbf346442cafafcbf1fc" },
	/* r\0n\0, 104800000000, -11, \0 */
	{ -20.5, "10285dd32d5ae8451ff2dd9379dfee993d6185a97de18f68a1afb1bfe442c109" },
	/* r\0n\0, -205000000000, -10, \0 */
	{ 1.23456789012e-5, "a3d68cd6bd3ca4c2f7ba8609e52d24d406c8b7f5468abcab8c1c2cf687690d1e" },
	/* r\0n\0, 123456789012, -16, \0 */
	{ 6.02e23, "9c0b0820eaa1d9478ca7448ab27a8e7a6b5026a349572caaaf1bfb93f5214b10" },
	/* r\0n\0, 602000000000, 12, \0 */
};
static const struct ab_attr_spec number_attrs[] = { AB_A_N(ab_rest, "n", temp_c, 0, 0), AB_A_END };
static const struct ab_elem_spec rest = { "r", sizeof(struct ab_rest), 0, false, false, number_attrs, NULL, true,
	false, 0, NULL };

START_TEST(number)
{
	const struct ab_rest record = { .temp_c = { numbers[_i].v, 0, true, false, 0 } };
	struct ab_sha256 digest;
	char out[65];

	ab_sha256_init(&digest);
	ab_record_canon(&rest, &record, &digest);
	ab_sha256_hex(&digest, out);
	ck_assert_msg(strcmp(out, numbers[_i].hash) == 0, "%.17g: %s", numbers[_i].v, out);
}
END_TEST

/* The spelling of stores that exist, by its definition: logarithm, floor, round to twelve digits. */
static void defined(double v, char *out)
{
	int power = v != 0 ? (int)floor(log10(fabs(v))) - 11 : 0;
	double digits = power < -290 ? 0 : round(power <= 0 && power >= -22 ? v * pow(10, -power) : v / pow(10, power));
	struct ab_sha256 digest;
	unsigned char piece[] = "r\0n\0..........";

	if (fabs(digits) >= 1e12) {
		digits = round(digits / 10);
		power++;
	}
	for (int i = 0; i < 8; i++)
		piece[4 + i] = (unsigned char)((uint64_t)(int64_t)digits >> 8 * i);
	for (int i = 0; i < 2; i++)
		piece[12 + i] = (unsigned char)((uint64_t)(int64_t)power >> 8 * i);
	ab_sha256_init(&digest);
	ab_sha256_add(&digest, piece, sizeof piece);
	ab_sha256_hex(&digest, out);
}

static void spelled_as_defined(double v)
{
	const struct ab_rest record = { .temp_c = { v, 0, true, false, 0 } };
	struct ab_sha256 digest;
	char out[65], want[65];

	ab_sha256_init(&digest);
	ab_record_canon(&rest, &record, &digest);
	ab_sha256_hex(&digest, out);
	defined(v, want);
	ck_assert_msg(strcmp(out, want) == 0, "%.17g", v);
}

/* Around every power of ten, where a logarithm rounds, and at random places of all sizes. */
START_TEST(number_by_definition)
{
	uint64_t x = 88172645463325252;

	for (int power = -30; power <= 30; power++) {
		double v = pow(10, power), low = v, high = v;

		for (int i = 0; i < 40; i++, low = nextafter(low, 0), high = nextafter(high, 1e300)) {
			spelled_as_defined(low);
			spelled_as_defined(-high);
		}
		for (int i = 1; i < 200; i++)
			spelled_as_defined(v * i / 7);
	}
	for (int i = 0; i < 20000; i++) {
		x ^= x << 13, x ^= x >> 7, x ^= x << 17;   /* xorshift64, Marsaglia 2003 */
		spelled_as_defined(ldexp((double)(int64_t)x, (int)(x % 160) - 130));
		spelled_as_defined((double)(int64_t)(x % 2000000) / 1000);
	}
}
END_TEST

/* Longer than what is gathered before it is summed, and just as long. printf 'r\0text\0' ... is done here piece by
 * piece. */
START_TEST(long_text)
{
	static const struct ab_elem_spec note = { "n", sizeof(struct ab_fining), 0, false, true, NULL, NULL, true, true,
		offsetof(struct ab_fining, name), NULL };
	static char text[5000];
	char out[65], want[65];

	memset(text, 'x', sizeof text - 1);
	for (size_t cut = 1; cut < sizeof text; cut += cut < 2000 || cut > 2100 ? 97 : 1) {
		const struct ab_fining record = { .name = text + sizeof text - cut };
		struct ab_sha256 digest;

		ab_sha256_init(&digest);
		ab_record_canon(&note, &record, &digest);
		ab_sha256_hex(&digest, out);
		ab_sha256_init(&digest);
		ab_sha256_add(&digest, "n\0text", 7);
		ab_sha256_add(&digest, record.name, strlen(record.name) + 1);
		ab_sha256_add(&digest, "", 1);
		ab_sha256_hex(&digest, want);
		ck_assert_str_eq(out, want);
	}
}
END_TEST

/* The host program's locale is none of its business; where no such locale is installed there is nothing to see. */
START_TEST(locale)
{
	char plain[65], comma[65];

	digest_of(HEAD "<package volume='20.5 L'/>", plain);
	setlocale(LC_ALL, "de_DE.UTF-8");
	digest_of(HEAD "<package volume='20.5 L'/>", comma);
	setlocale(LC_ALL, "C");
	ck_assert_str_eq(plain, comma);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("canon");
	TCase *tc = tcase_create("canon");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, pair, 0, sizeof pairs / sizeof *pairs);
	tcase_add_test(tc, bytes);
	tcase_add_loop_test(tc, number, 0, sizeof numbers / sizeof *numbers);
	tcase_add_test(tc, number_by_definition);
	tcase_add_test(tc, long_text);
	tcase_add_test(tc, locale);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
