/* check_profile.c - the brewery profile; and that each word list stands in a schema, word for word
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/profile.h>
#include "base/alloc.h"
#include "base/savefile.h"
#include "journal/tables.h"

#define BREWERY(attrs, inner) "<brewery xmlns='urn:afterboil:profile:1' " attrs ">\n" inner "\n</brewery>"

static struct ab_arena *arena;
static struct ab_diag diag;

static void setup(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void teardown(void)
{
	ab_arena_free(arena);
}

static const char whole[] = BREWERY(
    "name='Shed' currency='$' units='us' space='cupboard' noise-matters='yes' smoke-matters='no' horizon='2 y' "
    "room='70 F' altitude='5000 ft' goal='time' brewed-so-far='6'",
    "<batch-size volume='5 gal'/><per-year batches='12'/><brews family='pale-hoppy' share='60 %'/>"
    "<brews family='strong'/>"
    "<money now='$120' per-year='60'/><time per-batch='45 min' away='10 h'/><packs into='keg'/>"
    "<owns thing='large kettle'/><owns change='fridge' since='2031-01-05' unused='yes'/><owns thing='tub' "
    "unused='no'/>"
    "<trouble fault='green apple'/><trouble cause='ferment-swings'/><trouble chore='slow chilling'/>"
    "<usual><water source='tap'/><gear item='hose' age='1 y'/><yeast starter='1 L'/>"
    "<reading at='+1d' wort='18 C'/></usual>"
    "<taster name='Mo' blind-to='diacetyl, dms' panel='3'/><price change='kit' cost='35' per-year='10' "
    "time='20 min'/><refuses change='x'/>"
    "<note>n</note>");

START_TEST(members)
{
	struct ab_profile *p;
	enum ab_status st = ab_profile_read_memory(whole, sizeof whole - 1, "p.xml", arena, &p, &diag);
	ck_assert_msg(st == AB_OK, "%s", diag.text);
	ck_assert_str_eq(p->name, "Shed");
	ck_assert_str_eq(p->currency, "$");
	ck_assert(p->altitude_mm.known && fabs(p->altitude_mm.v - 1524000) < 1e-6);
	ck_assert_str_eq(p->source, "p.xml");
	ck_assert_str_eq(ab_words_units[p->units - 1], "us");
	ck_assert_str_eq(ab_words_space[p->space - 1], "cupboard");
	ck_assert_str_eq(ab_words_package[p->packs - 1], "keg");
	ck_assert(p->noise_matters == AB_YES && p->smoke_matters == AB_NO);
	ck_assert_double_eq_tol(p->horizon_s.v, 2 * 365.25 * 86400, 1e-6);
	ck_assert_double_eq_tol(p->room_c.v, 38 * 5.0 / 9, 1e-9);
	ck_assert_double_eq_tol(p->batch_l.v, 18.92705892, 1e-9);
	ck_assert(p->batches_per_year.v == 12 && p->money_now.v == 120 && p->money_per_year.v == 60 &&
	    p->time_per_batch_s.v == 2700 && p->away_s.v == 36000);
	ck_assert_uint_eq(p->brews.n, 2);
	struct ab_owns *o = p->owns.items;
	ck_assert_str_eq(o->change, "fridge");
	ck_assert(o->since.known && o->unused == AB_YES && o->thing == NULL);
	ck_assert(p->brewed.known && p->brewed.v == 6);
	ck_assert(p->owns.n == 1 && p->things.n == 2);
	const struct ab_owns *thing = p->things.items;
	ck_assert_str_eq(thing[0].thing, "large kettle");
	ck_assert(thing[0].change == NULL && thing[0].unused == 0);
	ck_assert_str_eq(thing[1].thing, "tub");
	ck_assert_int_eq(thing[1].unused, AB_NO);
	ck_assert_int_eq(p->goal, AB_GOAL_TIME);
	ck_assert_str_eq(ab_words_goal[AB_GOAL_TIME - 1], "time");
	ck_assert_uint_eq(p->troubles.n, 3);
	const struct ab_trouble *trouble = p->troubles.items;
	ck_assert_str_eq(trouble[0].fault, "green apple");
	ck_assert(trouble[0].cause == NULL && trouble[1].fault == NULL);
	ck_assert_str_eq(trouble[1].cause, "ferment-swings");
	ck_assert_str_eq(trouble[2].chore, "slow chilling");
	ck_assert(trouble[2].fault == NULL && trouble[2].cause == NULL && trouble[0].chore == NULL);
	struct ab_taster *t = p->tasters.items;
	ck_assert_uint_eq(t->blind_to.n, 2);
	ck_assert_str_eq(((const char **)t->blind_to.items)[1], "dms");
	ck_assert(t->panel.v == 3);
	struct ab_price *c = p->prices.items;
	ck_assert(c->cost.v == 35 && c->running_per_year.v == 10 && c->minutes_s.v == 1200);
	ck_assert_uint_eq(p->refuses.n, 1);
	ck_assert_ptr_nonnull(p->usual);
	ck_assert_str_eq(p->usual->source, "p.xml");
	struct ab_yeast *y = p->usual->yeasts.items;
	struct ab_reading *r = p->usual->readings.items;
	ck_assert(y->made_starter == AB_YES && r->at.relative && r->at.s == 86400);
	ck_assert(isnan(ab_batch_since_pitch(p->usual, &(struct ab_when){ .known = true, .s = 1 })));
}
END_TEST

START_TEST(missing_is_unknown)
{
	struct ab_profile *p;
	ck_assert_int_eq(
	    ab_profile_read_memory(BREWERY("", ""), strlen(BREWERY("", "")), "p.xml", arena, &p, &diag), AB_OK);
	ck_assert(!p->batch_l.known && !p->money_now.known && p->units == 0 && p->usual == NULL &&
	    p->name == NULL && p->packs == 0);
	ck_assert(p->goal == 0 && p->troubles.n == 0 && !p->brewed.known);
	ck_assert_int_eq(ab_profile_read_file("/nowhere/p.xml", arena, &p, &diag), AB_ESYSTEM);
	ck_assert_ptr_null(p);
}
END_TEST

static const struct { const char *title, *text; long line; const char *says; } slips[] = {
	{ "as high as the moon", BREWERY("altitude='384 400 000 m'", ""), 1, "altitude" },
	{ "higher than people live", BREWERY("altitude='9000 m'", ""), 1, "altitude" },
	{ "units", BREWERY("units='imperial'", ""), 1, "metric, us" },
	{ "space", BREWERY("", "<note/>\n<packs into='crates'/>"), 3, "bottles, keg, cask, cans" },
	{ "twice", BREWERY("", "<money now='1'/>\n<money now='2'/>"), 3, "second <money>" },
	{ "no name", BREWERY("", "<taster name=' '/>"), 2, "empty" },
	{ "no change", BREWERY("", "<owns/>"), 2, "<owns> names nothing; write change=" },
	{ "a change and a thing", BREWERY("", "<note/>\n<owns change='a' thing='b'/>"), 3, "<owns> names two things" },
	{ "a thing since", BREWERY("", "<owns thing='fridge' since='2031-01-05'/>"), 2,
	    "a thing is none; leave it out" },
	{ "no trouble", BREWERY("", "<trouble/>"), 2, "<trouble> names nothing; write one of fault, cause and chore" },
	{ "two troubles in one", BREWERY("", "\n<trouble fault='butter' cause='ferment-swings'/>"), 3,
	    "several things" },
	{ "a fault and a chore in one", BREWERY("", "\n<trouble fault='butter' chore='slow chilling'/>"), 3,
	    "several things" },
	{ "nothing, and a fault", BREWERY("", "<trouble fault='butter'/>\n<trouble fault='nothing'/>"), 3,
	    "says that nothing is wrong with the beer, and line 2 says what is; take one of the two out" },
	{ "a cause, and nothing", BREWERY("", "<trouble fault='None'/>\n\n<trouble cause='under-pitch'/>"), 2,
	    "and line 4 says what is" },
	{ "hours away in words", BREWERY("", "<time away='long'/>"), 2, "long" },
	{ "brewed less than nothing", BREWERY("brewed-so-far='-1'", ""), 1, "brewed-so-far" },
	{ "goal", BREWERY("goal='fame'", ""), 1, "quality, time" },
	{ "money", BREWERY("", "<money now='1,200'/>"), 2, "1,200" },
	{ "a journal", "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'/>", 1, "brewery" },
	{ "usual", BREWERY("", "<usual>\n<water source='sea'/></usual>"), 3, "reverse-osmosis" },
	{ "contradiction", BREWERY("", "<usual><yeast starter='1 L' made-starter='no'/></usual>"), 2, "contradict" },
};

/* Nothing is wrong: no trouble of the beer, so it stands apart from those that are; burdens may stand beside it. */
static const struct { const char *inner; bool fine; size_t n; } fines[] = {
	{ "<trouble fault='nothing'/>", true, 0 }, { "<trouble fault='Nothing wrong'/>", true, 0 },
	{ "<trouble fault='none'/>", true, 0 }, { "<trouble fault='no faults'/>", true, 0 },
	{ "<trouble fault='nothing'/><trouble fault='none'/>", true, 0 },
	{ "<trouble chore='lifting'/><trouble fault='nothing'/><trouble chore='slow boil'/>", true, 2 },
	{ "<trouble fault='nothing much'/>", false, 1 }, { "<trouble chore='nothing'/>", false, 1 },
	{ "<trouble fault='butter'/>", false, 1 }, { "", false, 0 },
};

START_TEST(nothing_is_wrong)
{
	char *text = ab_arena_printf(arena, BREWERY("", "%s"), fines[_i].inner);
	struct ab_profile *p = NULL;

	ck_assert_int_eq(ab_profile_read_memory(text, strlen(text), "p.xml", arena, &p, &diag), AB_OK);
	ck_assert_msg((p->fine != NULL) == fines[_i].fine, "%s", fines[_i].inner);
	ck_assert_uint_eq(p->troubles.n, fines[_i].n);
	for (AB_EACH(const struct ab_trouble, t, p->troubles))
		ck_assert_msg(!fines[_i].fine || t->chore != NULL, "%s", fines[_i].inner);
}
END_TEST

START_TEST(messages)
{
	struct ab_profile *p;
	enum ab_status st = ab_profile_read_memory(slips[_i].text, strlen(slips[_i].text), "p.xml", arena, &p, &diag);
	ck_assert_msg(st == AB_EINPUT && p == NULL, "%s: %s", slips[_i].title, ab_status_name(st));
	ck_assert_msg(diag.line == slips[_i].line && strstr(diag.text, slips[_i].says) != NULL, "%s: %ld: %s",
	    slips[_i].title, diag.line, diag.text);
}
END_TEST

START_TEST(short_memory)
{
	enum ab_status st = AB_ENOMEM;
	long k;
	for (k = 0; st != AB_OK && k < 500; k++) {
		struct ab_profile *p;
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		struct ab_arena *a = ab_arena_new();
		st = a == NULL ? AB_ENOMEM : ab_profile_read_memory(whole, sizeof whole - 1, "p.xml", a, &p, &diag);
		ab_arena_free(a);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", k, diag.text);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

/* ---- words.c against the schemas ---- */

static char *load_schema(const char *name)
{
	char path[512], *text;
	size_t len;
	const char *top = getenv("top_srcdir");
	snprintf(path, sizeof path, "%s/rules/%s", top != NULL ? top : ".", name);
	ck_assert_msg(ab_loadfile(path, 1 << 20, &text, &len, &diag) == AB_OK, "%s", diag.text);
	return text;
}

/* Whether the schema defines the list, with these words and no others, in this order. */
static bool defines(const char *schema, const struct ab_word_list *list)
{
	char define[80], value[80];
	snprintf(define, sizeof define, "<define name=\"words-%s\">", list->name);
	const char *p = strstr(schema, define);
	if (p == NULL)
		return false;
	const char *end = strstr(p, "</define>");
	for (size_t i = 0; list->words[i] != NULL; i++) {
		snprintf(value, sizeof value, "<value>%s</value>", list->words[i]);
		p = strstr(p + 1, "<value>");
		ck_assert_msg(p != NULL && p < end && strncmp(p, value, strlen(value)) == 0, "%s: %s", list->name,
		    list->words[i]);
	}
	p = strstr(p + 1, "<value>");
	ck_assert_msg(p == NULL || p > end, "%s: a word more in the schema", list->name);
	return true;
}

START_TEST(word_lists)
{
	char *journal = load_schema("journal.rng"), *profile = load_schema("profile.rng");
	int n = 0;
	for (const struct ab_word_list *l = ab_word_lists; l->name != NULL; l++, n++) {
		bool in_journal = defines(journal, l), in_profile = defines(profile, l);
		ck_assert_msg(in_journal || in_profile, "%s is in no schema", l->name);
	}
	ck_assert_int_gt(n, 40);
	ab_free(journal);
	ab_free(profile);
}
END_TEST

/* ---- the digest of what a batch is judged with ---- */

static void digest_of(const char *attrs, const char *inner, char *out)
{
	char text[1024];
	struct ab_profile *p;
	int len = snprintf(text, sizeof text, "<brewery xmlns='urn:afterboil:profile:1' %s>%s</brewery>", attrs, inner);
	enum ab_status st = ab_profile_read_memory(text, (size_t)len, "p.xml", arena, &p, &diag);

	ck_assert_msg(st == AB_OK, "%s %s: %s", attrs, inner, diag.text);
	ab_profile_digest(p, out);
	ck_assert_uint_eq(strspn(out, "0123456789abcdef"), AB_PROFILE_DIGEST - 1);
}

/* Everything a profile may say beside a room of 20 C: does it count? */
static const struct { const char *attrs, *inner; bool counts; } said[] = {
	{ "room='20 C'", "", false }, { "room='68 F'", "  <!-- a remark -->", false },
	{ "room='20 C' name='Shed' currency='$' units='us' space='cupboard' goal='time'", "", false },
	{ "room='20 C' noise-matters='yes' smoke-matters='no' horizon='2 y'", "", false },
	{ "room='20 C'",
	    "<per-year batches='12'/><brews family='strong'/><money now='$120'/><time per-batch='45 min'/>", false },
	{ "room='20 C'", "<owns change='fridge'/><trouble fault='green apple'/><price change='kit' cost='35'/>"
	    "<refuses change='x'/>", false },
	{ "room='20 C'", "<week free='sat'/><away days='2031-05-01 to 2031-05-03'/>"
	    "<changed what='x' on='2031-05-01'/><note>n</note>", false },
	{ "", "", true }, { "room='21 C'", "", true }, { "room='20 C' altitude='100 m'", "", true },
	{ "room='20 C'", "<batch-size volume='20 L'/>", true },
	{ "room='20 C'", "<batch-size volume='20 L' guess='yes'/>", true },
	{ "room='20 C'", "<packs into='keg'/>", true }, { "room='20 C'", "<packs into='cans'/>", true },
	{ "room='20 C'", "<usual><water source='tap'/></usual>", true },
	{ "room='20 C'", "<usual><water source='well'/></usual>", true },
	{ "room='20 C'", "<taster name='Mo'/>", true }, { "room='20 C'", "<taster name='Mo' blind-to='dms'/>", true },
	{ "room='20 C'", "<taster name='Mo' panel='3'/>", true },
};
enum { SAID = sizeof said / sizeof *said };

START_TEST(digest_rows)
{
	char all[SAID][AB_PROFILE_DIGEST];

	for (size_t i = 0; i < SAID; i++) {
		digest_of(said[i].attrs, said[i].inner, all[i]);
		ck_assert_msg((strcmp(all[0], all[i]) != 0) == said[i].counts, "%s %s", said[i].attrs, said[i].inner);
		for (size_t j = 1; said[i].counts && j < i; j++)
			ck_assert_msg(strcmp(all[i], all[j]) != 0, "%zu and %zu are one", i, j);
	}
	ab_profile_digest(NULL, all[0]);
	ck_assert_str_eq(all[0], "none");
}
END_TEST

int main(void)
{
	Suite *s = suite_create("profile");
	TCase *tc = tcase_create("profile");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, members);
	tcase_add_test(tc, missing_is_unknown);
	tcase_add_loop_test(tc, nothing_is_wrong, 0, (int)(sizeof fines / sizeof *fines));
	tcase_add_loop_test(tc, messages, 0, sizeof slips / sizeof *slips);
	tcase_add_test(tc, short_memory);
	tcase_add_test(tc, word_lists);
	tcase_add_test(tc, digest_rows);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
