/* check_newbatch.c - a new journal repeats what was meant and tells nothing that happened
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/newbatch.h>

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"

#define NS "xmlns='urn:afterboil:journal:1'"

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_batch *batches[16];
static size_t n_batches;

static void setup(void)
{
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
	n_batches = 0;
	ab_diag_init(&diag);
}

static void teardown(void)
{
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	batches[n_batches++] = batch;
	return AB_OK;
}

static void read_all(const char *text)
{
	ck_assert_msg(ab_journal_read_memory(text, strlen(text), "t", NULL, arena, keep, NULL, &diag) == AB_OK,
	    "%s: %s", text, diag.text);
}

static struct ab_when day(const char *text)
{
	struct ab_when when;
	char why[200];

	ck_assert_msg(ab_when_read(text, &when, why, sizeof why), "%s", why);
	return when;
}

/* The new journal after the one given, read back. */
static const char *again(const char *text, const struct ab_num *volume, const char *volume_text)
{
	const char *made;

	read_all(text);
	struct ab_newbatch b = { .id = "new-1",
		.brewed = day("2031-05-10"),
		.like = batches[n_batches - 1],
		.like_text = text,
		.like_len = strlen(text),
		.volume = volume,
		.volume_text = volume_text };
	ck_assert_msg(ab_newbatch_text(&b, arena, &made, &diag) == AB_OK, "%s", diag.text);
	read_all(made);
	return made;
}

#define FULL "<batch " NS " id='a-1' brewed='2031-03-07' family='wheat'><recipe volume='20 L' og='1.048 SG'>" \
    "<malt kind='wheat' amount='2.5 kg' age='2 mo'/><hop use='dry' name='a \"b\" &amp; c' amount='50 g' " \
    "alpha='5 %' age='1 y' kept='opened-warm'/>" \
    "<note>too sweet</note></recipe><mash temp='66 C'/></batch>"

START_TEST(recipe_is_repeated)
{
	const char *text =
	    "<!-- c --><j:batches xmlns:j='urn:afterboil:journal:1'><j:batch id='b' brewed='2031-03-01'/>\n"
	    "<j:batch id='a-1' brewed='2031-03-07'><j:recipe volume='5.3 gal' og='11.9 P'>"
	    "<j:malt kind='pale' amount='9 lb' age='2 mo'/>"
	    "<j:hop use='dry' name='a \"b\" &amp; c' amount='50 g' alpha='5 %' age='1 y' kept='opened-warm' "
	    "guess='yes'/></j:recipe></j:batch></j:batches>";
	const char *made = again(text, NULL, NULL);
	const struct ab_batch *b = batches[n_batches - 1];
	const struct ab_malt *malt = b->recipe->malts.items;
	const struct ab_hop *hop = b->recipe->hops.items;

	ck_assert_ptr_nonnull(strstr(made, "<recipe volume=\"5.3 gal\" og=\"11.9 P\">"));
	ck_assert_ptr_nonnull(strstr(made, "<malt kind=\"pale\" amount=\"9 lb\"/>"));
	ck_assert(!malt->age_s.known && !hop->age_s.known && hop->kept == 0);
	ck_assert_str_eq(hop->name, "a \"b\" & c");
	ck_assert(hop->mark.guess);
}
END_TEST

/* Without its time late sugar would be part of the wort, and nobody would fear it in the bottles. */
START_TEST(late_sugar_keeps_its_time)
{
	const char *made = again(
	    "<batch " NS
	    " id='a-1' brewed='2031-03-07'><recipe volume='20 L'><sugar kind='sucrose' amount='500 g'/>"
	    "<sugar kind='candi' amount='300 g' at='2031-03-12T00:00'/>"
	    "<sugar kind='honey' amount='200 g' at='+3d 12h'/><extra name='oak' amount='50 g'/>"
	    "<sugar kind='dextrose' amount='1 kg' at='2031-03-07T12:00'/>"
	    "<extra name='cherry' amount='2 kg' sugars='8 %' at='+9d'/></recipe>"
	    "<pitch at='2031-03-07T20:10'/></batch>",
	    NULL, NULL);
	const struct ab_recipe *r = batches[n_batches - 1]->recipe;
	const struct ab_sugar *sugar = r->sugars.items;
	const struct ab_extra *extra = r->extras.items;

	ck_assert_uint_eq(r->sugars.n, 4);
	ck_assert(!sugar[0].at.known && !sugar[3].at.known && !extra[0].at.known); /* in the wort, before pitching,
										      not told */
	ck_assert_ptr_nonnull(strstr(made, "at=\"+4d 4h\""));   /* midnight, four days and not quite four hours on */
	ck_assert_double_eq(ab_batch_since_pitch(batches[n_batches - 1], &sugar[2].at), 3.5 * 86400);
	ck_assert_double_eq(ab_batch_since_pitch(batches[n_batches - 1], &extra[1].at), 9 * 86400);
	ck_assert(extra[1].sugars_share.known && fabs(extra[1].sugars_share.v - 0.08) < 1e-12);
}
END_TEST

/* Everything a journal may tell of what happened: none of it is in the new one, though all of it may be in a
 * comment. */
START_TEST(nothing_that_happened)
{
	const char *text =
	    "<batch " NS
	    " id='a-1' brewed='2031-03-07' line='a'><recipe volume='20 L'/><mash temp='66 C' runnings-ph='5.4 pH'/>"
	    "<water source='tap' smells-of-chlorine='yes'/><boil time='60 min' scorched='yes'/>"
	    "<stand time='10 min'/><chill method='coil' to-pitch='9 h'/>"
	    "<yeast class='clean-ale' age='9 mo' lot='77'/><pitch at='2031-03-07T18:00' temp='24 C' clean='no'/>"
	    "<aerate method='shake'/>"
	    "<vessel kind='bucket' scratched='yes' last-spoilt='yes'/><reading at='+1d' wort='27 C'/>"
	    "<lag first-signs='30 h'/>"
	    "<rest at='+9d' temp='21 C'/><crash at='+12d' temp='2 C' sucked-back='yes'/>"
	    "<dry-hop at='+9d' amount='60 g'/><transfer at='+9d' splashed='yes' how='siphon'/>"
	    "<opened at='+3d'/><gear item='hose' soil='yes'/>"
	    "<package at='+14d' into='bottles' gravity='1.020 SG' cap-on-foam='no'/>"
	    "<store temp='28 C' hottest='35 C'/><change what='cap-on-foam'/><tasting at='2031-05-01'>"
	    "<found fault='buttery'/><next-time>cooler -- really</next-time></tasting>"
	    "<test kind='x' result='yes'/><looks film='yes'/><note>old</note></batch>";
	const char *made = again(text, NULL, NULL);
	const struct ab_batch *b = batches[n_batches - 1];

	ck_assert(b->mash == NULL && b->water == NULL && b->boil == NULL && b->stand == NULL && b->chill == NULL);
	ck_assert(b->pitch == NULL && b->lag == NULL && b->package == NULL && b->carbonate == NULL && b->serve == NULL);
	ck_assert_uint_eq(
	    b->yeasts.n + b->aerations.n + b->vessels.n + b->readings.n + b->rests.n + b->crashes.n + b->dryhops.n,
	    0);
	ck_assert_uint_eq(
	    b->transfers.n + b->openings.n + b->gear.n + b->stores.n + b->changes.n + b->tastings.n + b->tests.n,
	    0);
	ck_assert_uint_eq(b->looks.n + b->notes.n, 0);
	/* and of what is offered in the comment none is a time, a reading or what was noticed */
	static const char *const gone[] = { "27 C", "1.020", "30 h", "T18:00", "+9d", "scratched", "soil", "spoilt",
		"buttery", "smells", "35 C", "scorched", "sucked", "splashed", "lot", "age=", "9 h", "ph=", "old",
		"cap-on-foam", "clean=\"no\"" };
	for (size_t i = 0; i < sizeof gone / sizeof *gone; i++)
		ck_assert_msg(strstr(made, gone[i]) == NULL, "%s stands in %s", gone[i], made);
	ck_assert_ptr_nonnull(strstr(made, "    <mash temp=\"66 C\"/>\n"));
	ck_assert_ptr_nonnull(strstr(made, "    <pitch temp=\"24 C\"/>\n"));
}
END_TEST

START_TEST(hyphens_in_a_comment)
{
	const char *text =
	    "<batch " NS " id='a--1' brewed='2031-03-07'><yeast class='clean-ale' strain='x---y--'/></batch>";
	const char *made = again(text, NULL, NULL);

	ck_assert_ptr_nonnull(strstr(made, "strain=\"x- - -y- -\""));
}
END_TEST

/* wanted, amount before, amount after */
static const struct { double volume; const char *text, *malt; } scaled[] = {
	{ 4, "4 L", "0.5 kg" }, { 20, "20 L", "2.5 kg" }, { 13, "13 L", "1.63 kg" }, { 60, "60 L", "7.5 kg" },
};

START_TEST(small_batches)
{
	const char *text =
	    "<batch " NS
	    " id='a-1' brewed='2031-03-07'><recipe volume='20 L' og='1.048 SG'>"
	    "<malt kind='pale' share='90 %' amount='2.5 kg'/></recipe>"
	    "<yeast form='dry' amount='11 g'/><vessel kind='bucket' volume='28 L'/>"
	    "<package into='bottles' priming='120 g' volume='19 L'/></batch>";
	const struct ab_num volume = { .known = true, .v = scaled[_i].volume };
	const char *made = again(text, &volume, scaled[_i].text);
	const struct ab_batch *b = batches[n_batches - 1];
	const struct ab_malt *malt = b->recipe->malts.items;

	ck_assert_double_eq_tol(b->recipe->volume_l.v, scaled[_i].volume, 1e-9);
	ck_assert_double_eq_tol(malt->amount_g.v, 2500 * scaled[_i].volume / 20, 6);
	ck_assert_double_eq_tol(malt->share.v, 0.9, 1e-9);
	ck_assert_ptr_nonnull(strstr(made, scaled[_i].malt));
	/* sugar for one volume must not be offered for another */
	ck_assert_ptr_null(strstr(made, "priming"));
	ck_assert_ptr_null(strstr(made, "11 g"));
	ck_assert_ptr_nonnull(strstr(made, "og=\"1.048 SG\""));
}
END_TEST

START_TEST(size_of_the_profile)
{
	struct ab_profile profile = { .batch_l = { .known = true, .v = 4.0 } };
	struct ab_newbatch b = {
		.id = "x", .brewed = day("2031-05-10"), .profile = &profile, .title = "A <b> & \"c\"", .wort = "w"
	};
	const char *const notes[] = { "one & <two>" };
	const char *made;

	b.notes = notes;
	b.n_notes = 1;
	ck_assert(ab_newbatch_text(&b, arena, &made, &diag) == AB_OK);
	read_all(made);
	ck_assert_double_eq_tol(batches[0]->recipe->volume_l.v, 4, 1e-9);
	ck_assert_str_eq(batches[0]->title, b.title);
	ck_assert_str_eq(batches[0]->wort, "w");
	const struct ab_note *note = batches[0]->notes.items;
	ck_assert_str_eq(note->text, notes[0]);
}
END_TEST

static const struct { const char *text, *slug; } slugs[] = {
	{ "House Pale!", "house-pale" }, { "  a  b ", "a-b" }, { "\303\234ber", "ber" }, { "---", "" }, { "", "" },
	{ "0123456789012345678901234567890123456789x", "0123456789012345678901234567890123456789" },
};

START_TEST(slug)
{
	ck_assert_str_eq(ab_newbatch_slug(arena, slugs[_i].text), slugs[_i].slug);
}
END_TEST

static const struct { const char *ids[4], *stem, *id; } ids[] = {
	{ { NULL }, "pale", "pale-1" }, { { "pale-1", "pale-6", "pale-2" }, "pale", "pale-7" },
	{ { "pale" }, "pale", "pale-2" }, { { "pale-3a", "pale-3b" }, "pale", "pale-4" },
	{ { "pale-ale-9", "palette-9" }, "pale", "pale-1" }, { { "pale-99999999999999999999" }, "pale", "pale-1" },
};

START_TEST(next_id)
{
	struct ab_batch made[4] = { { .id = NULL } }, *list[4];
	size_t n = 0;

	for (; n < 4 && ids[_i].ids[n] != NULL; n++) {
		made[n].id = ids[_i].ids[n];
		list[n] = &made[n];
	}
	ck_assert_str_eq(ab_newbatch_id(list, n, ids[_i].stem, arena), ids[_i].id);
}
END_TEST

START_TEST(stem)
{
	static const char *const rows[][2] = { { "house-pale-6", "house-pale" }, { "a.12", "a" },
	    { "14", "14" }, { "pale2", "pale2" }, { "-1", "-1" } };

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		ck_assert_str_eq(ab_newbatch_stem(arena, rows[i][0]), rows[i][1]);
}
END_TEST

/* ---- the line ---- */

#define LINE "<batches " NS "><batch id='p-1' brewed='2031-01-01' line='house-pale'><tasting>" \
	"<next-time>one</next-time></tasting>" \
    "<tasting><next-time>two</next-time></tasting></batch><batch id='s-1' brewed='2031-02-01' " \
    "title='Shed stout'><tasting><next-time>three</next-time></tasting></batch>" \
    "<batch id='p-2' brewed='2031-03-01' line='house-pale'><tasting/></batch></batches>"

START_TEST(line_says)
{
	const struct ab_batch *of;

	read_all(LINE);
	ck_assert_ptr_eq(ab_line_find(batches, n_batches, "House  Pale", arena), batches[2]);
	ck_assert_ptr_eq(ab_line_find(batches, n_batches, "shed-stout", arena), batches[1]);
	ck_assert_ptr_eq(ab_line_find(batches, n_batches, "P", arena), batches[2]);
	ck_assert_ptr_null(ab_line_find(batches, n_batches, "house", arena));
	ck_assert_str_eq(ab_line_next_time(batches, n_batches, batches[2], &of), "two");
	ck_assert_ptr_eq(of, batches[0]);
	ck_assert_str_eq(ab_line_next_time(batches, n_batches, batches[1], &of), "three");
}
END_TEST

/* on, line of the change, day of the new brew: on trial? */
static const struct { const char *on, *line, *brewed; bool trial; } trials[] = {
	{ "2031-03-02", NULL, "2031-05-10", true },            /* nothing brewed since */
	{ "2031-03-01", NULL, "2031-05-10", false },           /* p-2 was, and was tasted */
	{ "2031-02-15", "shed-stout", "2031-05-10", false },   /* of another beer */
	{ "2031-02-15", "house-pale", "2031-05-10", false },
	{ "2031-03-02", "house-pale", "2031-05-10", true },
	{ "2031-06-01", NULL, "2031-05-10", false },           /* not yet */
};

START_TEST(on_trial)
{
	struct ab_changed change = { .on = day(trials[_i].on), .line = trials[_i].line };
	struct ab_profile profile = { .changed = { &change, 1, 1 } };
	const struct ab_changed *out[2];
	struct ab_when brewed = day(trials[_i].brewed);

	read_all(LINE);
	ck_assert_uint_eq(
	    ab_line_on_trial(&profile, batches, n_batches, "house-pale", &brewed, out, 2), trials[_i].trial);
	ck_assert_uint_eq(ab_line_on_trial(NULL, batches, n_batches, "house-pale", &brewed, out, 2), 0);
}
END_TEST

START_TEST(newest_trials_first)
{
	struct ab_changed changes[4] = { { .on = day("2031-03-03") }, { .on = day("2031-03-05") },
	    { .on = day("2031-03-02") }, { .on = day("2031-03-04") } };
	struct ab_profile profile = { .changed = { changes, 4, 4 } };
	const struct ab_changed *out[2];
	struct ab_when brewed = day("2031-05-10");

	ck_assert_uint_eq(ab_line_on_trial(&profile, NULL, 0, NULL, &brewed, out, 2), 2);
	ck_assert_ptr_eq(out[0], &changes[1]);
	ck_assert_ptr_eq(out[1], &changes[3]);
	ck_assert_uint_eq(ab_line_on_trial(&profile, NULL, 0, NULL, &brewed, out, 0), 0);
}
END_TEST

/* ---- trouble ---- */

START_TEST(id_not_plain)
{
	const char *text = "<batch " NS " id='&#97;-1' brewed='2031-03-07'/>", *made;

	read_all(text);
	struct ab_newbatch b = { .id = "x",
		.brewed = day("2031-05-10"),
		.like = batches[0],
		.like_text = text,
		.like_len = strlen(text) };
	ck_assert(ab_newbatch_text(&b, arena, &made, &diag) == AB_EINPUT);
	ck_assert_ptr_null(made);
}
END_TEST

START_TEST(no_memory)
{
	static const char good[] = FULL;
	enum ab_status st = AB_ENOMEM;

	read_all(good);
	for (long k = 0; st == AB_ENOMEM; k++) {
		struct ab_newbatch b = { .id = "x",
			.brewed = day("2031-05-10"),
			.like = batches[0],
			.like_text = good,
			.like_len = strlen(good) };
		struct ab_arena *own = ab_arena_new();
		const char *made;
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_newbatch_text(&b, own, &made, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || (st == AB_ENOMEM && made == NULL));
		ck_assert_int_lt(k, 200);
		ck_assert(k > 0 || st == AB_ENOMEM);
		ab_arena_free(own);
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("newbatch");
	TCase *tc = tcase_create("newbatch");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, recipe_is_repeated);
	tcase_add_test(tc, late_sugar_keeps_its_time);
	tcase_add_test(tc, nothing_that_happened);
	tcase_add_test(tc, hyphens_in_a_comment);
	tcase_add_loop_test(tc, small_batches, 0, sizeof scaled / sizeof *scaled);
	tcase_add_test(tc, size_of_the_profile);
	tcase_add_loop_test(tc, slug, 0, sizeof slugs / sizeof *slugs);
	tcase_add_loop_test(tc, next_id, 0, sizeof ids / sizeof *ids);
	tcase_add_test(tc, stem);
	tcase_add_test(tc, line_says);
	tcase_add_loop_test(tc, on_trial, 0, sizeof trials / sizeof *trials);
	tcase_add_test(tc, newest_trials_first);
	tcase_add_test(tc, id_not_plain);
	tcase_add_test(tc, no_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
