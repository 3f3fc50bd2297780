/* check_journal.c - the batch journal: every attribute lands in its member, every slip is named, times, logs,
 * streams, short memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700   /* mkdtemp, symlink */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <afterboil/journal.h>
#include <afterboil/quantity.h>
#include "base/alloc.h"
#include "journal/tables.h"

#define HEAD "<batch xmlns='urn:afterboil:journal:1' id='b-1' brewed='2031-03-07'"
#define BATCH(inner) HEAD ">\n" inner "\n</batch>"

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_batch *got;
static int n_got;

static void setup(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	got = NULL;
	n_got = 0;
}

static void teardown(void)
{
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	got = batch;
	n_got++;
	return AB_OK;
}

static enum ab_status read_text(const char *text)
{
	return ab_journal_read_memory(text, strlen(text), "j.xml", NULL, arena, keep, NULL, &diag);
}

static struct ab_batch *good(const char *text)
{
	enum ab_status st = read_text(text);
	ck_assert_msg(st == AB_OK, "%ld: %s\n%s", diag.line, diag.text, text);
	return got;
}

static void near(double found, double wanted, const char *what)
{
	ck_assert_msg(fabs(found - wanted) <= 1e-9 * (1 + fabs(wanted)), "%s: found %.12g, wanted %.12g", what,
	    found, wanted);
}

/* ---- each attribute of each table, by the table ---- */

static void sample(const struct ab_attr_spec *a, const char *word, char *value, size_t size)
{
	static const char *const plain[] = { [AB_ATTR_TEXT] = "some text", [AB_ATTR_ID] = "id-1", [AB_ATTR_IDS] = "a b",
		[AB_ATTR_YESNO] = "yes", [AB_ATTR_WHEN] = "2031-03-08", [AB_ATTR_DATE] = "2031-03-08" };
	double middle = (a->lo + a->hi) / 2;
	if (a->kind == AB_ATTR_QUANTITY)
		snprintf(value, size, "%.6f %s", a->dim == AB_DIM_SHARE ? middle * 100 : middle,
		    a->dim == AB_DIM_SHARE ? "%" : a->dim == AB_DIM_MONEY ? "" : ab_dim_kept((enum ab_dim)a->dim));
	else if (a->kind == AB_ATTR_NUMBER)
		snprintf(value, size, "%.0f", ceil(middle));
	else
		snprintf(value, size, "%s", a->kind == AB_ATTR_WORD ? word : plain[a->kind]);
}

static void compare(const struct ab_attr_spec *a, const char *element, const char *record, int word)
{
	char what[100];
	const char *field = record + a->at;
	snprintf(what, sizeof what, "%s of <%s>", a->name, element);
	if (a->kind == AB_ATTR_QUANTITY || a->kind == AB_ATTR_NUMBER) {
		const struct ab_num *n = (const void *)field;
		double middle = (a->lo + a->hi) / 2;
		ck_assert_msg(n->known, "%s", what);
		if (strcmp(a->name, "off-gravity") != 0)
			ck_assert_msg(fabs(n->v - (a->kind == AB_ATTR_NUMBER ? ceil(middle) : middle)) <
				1e-6 * (1 + fabs(middle)),
			    "%s: %g", what, n->v);
	} else if (a->kind == AB_ATTR_WORD || a->kind == AB_ATTR_YESNO) {
		ck_assert_msg(
		    *(const int *)(const void *)field == (a->kind == AB_ATTR_WORD ? word : AB_YES), "%s", what);
	} else if (a->kind == AB_ATTR_WHEN || a->kind == AB_ATTR_DATE) {
		ck_assert_msg(
		    ((const struct ab_when *)(const void *)field)->s == ab_when_from_civil(2031, 3, 8) + 43200,
		    "%s", what);
	} else {
		ck_assert_msg(strcmp(*(const char *const *)(const void *)field,
				  a->kind == AB_ATTR_ID ? "id-1" : "some text") == 0,
		    "%s", what);
	}
}

static void try_attribute(
    const struct ab_elem_spec *parent, const struct ab_elem_spec *e, const struct ab_attr_spec *a, int word)
{
	char text[600], value[100];
	int n = snprintf(text, sizeof text, HEAD ">%s%s%s<%s", parent ? "<" : "", parent ? parent->name : "",
	    parent ? ">" : "", e->name);
	for (const struct ab_attr_spec *r = e->attrs; r->name != NULL; r++) {
		if (r != a && !r->required)
			continue;
		sample(r,
		    r == a && word > 0     ? a->words[word - 1]
			: r->words != NULL ? r->words[0]
					   : "",
		    value, sizeof value);
		n += snprintf(text + n, sizeof text - (size_t)n, " %s='%s'", r->name, value);
	}
	snprintf(text + n, sizeof text - (size_t)n, " guess='yes'/>%s%s%s</batch>", parent ? "</" : "",
	    parent ? parent->name : "", parent ? ">" : "");
	if (a->kind == AB_ATTR_TEXT && strcmp(e->name, "log") == 0)
		return;   /* needs a file; tested below */
	const char *record = (const char *)good(text);
	for (int level = parent == NULL; level < 2; level++) {
		const struct ab_elem_spec *spec = level == 0 ? parent : e;
		void *next;
		memcpy(&next, record + spec->at, sizeof next);   /* a list starts with its items */
		record = next;
		ck_assert_msg(record != NULL, "<%s>", spec->name);
	}
	ck_assert_msg(((const struct ab_mark *)(const void *)record)->guess, "guess of <%s>", e->name);
	compare(a, e->name, record, word);
}

static int try_all(const struct ab_elem_spec *parent, const struct ab_elem_spec *specs)
{
	int tried = 0;
	for (; specs != NULL && specs->name != NULL; specs++) {
		if (strcmp(specs->name, "log") == 0)
			continue;
		for (const struct ab_attr_spec *a = specs->attrs; a != NULL && a->name != NULL; a++) {
			int words = 1;
			while (a->kind == AB_ATTR_WORD && a->words[words] != NULL)
				words++;
			for (int w = 1; w <= words; w++, tried++)
				try_attribute(parent, specs, a, a->kind == AB_ATTR_WORD ? w : 0);
		}
		tried += try_all(specs, specs->children);
	}
	return tried;
}

START_TEST(every_attribute)
{
	int tried = try_all(NULL, ab_batch_children);
	ck_assert_msg(tried > 350, "only %d values tried", tried);
}
END_TEST

/* ---- that a name means its member: told apart by values ---- */

START_TEST(members)
{
	struct ab_batch *b = good(BATCH(
	    "<recipe volume='5 gal' og='12 P' fg='10 points'><malt share='80 %' amount='9 lb' age='2 wk'/>"
	    "<hop alpha='6 %' age='1 y' kept='opened-warm'/><note> first  try </note></recipe>"
	    "<mash temp='66 C' sparge-temp='76 C' cooled-below='60 C' steeped-hot='yes'/>"
	    "<water top-up='3 L' sodium='1 mg/L' iron='2 mg/L'/>"
	    "<chill above-80='10 min' to-pitch='2 h' end-temp='68 F'/>"
	    "<yeast amount='11 g' volume='150 mL' age='90 d' starter='0 L'/>"
	    "<vessel volume='25 L' headspace='5 L' target='19 C' room='21 C' rated-pressure='2 bar' "
	    "held-sour='no' flies='yes'/>"
	    "<reading wort='20 C' room='18 C' sample='15 C' ph='4.4'/>"
	    "<package neck='1 in' priming='4 oz' volume='19 L' size='0.5 L'/>"
	    "<carbonate pressure='12 psi'/><store temp='20 C' hottest='30 C'/>"
	    "<serve line-length='6 ft' line-bore='4.8 mm' line-age='1 y' "
	    "line-cleaned='1 wk' idle='1 h'/><instrument item='hydrometer' off-gravity='-2 points'/>"
	    "<tasting score='31' score-of='50'><found fault='green apple' note='nose'/>"
	    "<next-time>cooler</next-time></tasting>"));
	near(b->recipe->volume_l.v, 18.92705892, "gallons");
	near(b->recipe->og_sg.v, ab_sg_from_plato(12), "Plato");
	near(b->recipe->fg_sg.v, 1.010, "points");
	struct ab_malt *m = b->recipe->malts.items;
	near(m->share.v, 0.8, "share");
	near(m->amount_g.v, 9 * 453.59237, "pounds");
	near(m->age_s.v, 14 * 86400.0, "weeks");
	ck_assert_str_eq(((struct ab_note *)b->recipe->notes.items)->text, "first  try");
	near(b->mash->sparge_c.v, 76, "sparge");
	near(b->mash->lowest_c.v, 60, "lowest");
	ck_assert_int_eq(b->mash->grain_boiled, AB_YES);
	near(b->water->sodium_mgl.v, 1, "sodium");
	near(b->water->iron_mgl.v, 2, "iron");
	near(b->chill->above80_s.v, 600, "above 80");
	near(b->chill->to_pitch_s.v, 7200, "to pitch");
	near(b->chill->end_c.v, 20, "Fahrenheit");
	struct ab_yeast *y = b->yeasts.items;
	near(y->volume_l.v, 0.15, "slurry");
	ck_assert_int_eq(y->made_starter, AB_NO);
	struct ab_vessel *v = b->vessels.items;
	near(v->headspace_l.v, 5, "headspace");
	near(v->rated_kpa.v, 200, "rated");
	ck_assert_int_eq(v->rated, AB_YES);
	ck_assert_int_eq(v->held_sour, AB_NO);
	ck_assert_int_eq(v->flies, AB_YES);
	struct ab_reading *r = b->readings.items;
	near(r->room_c.v, 18, "room");
	near(r->sample_c.v, 15, "sample");
	near(b->package->neck_mm.v, 25.4, "inch");
	near(b->package->size_l.v, 0.5, "size");
	near(b->carbonate->pressure_kpa.v, 12 * 6.894757293168361, "psi");   /* NIST SP 811: 1 psi = 6.894757 kPa */
	near(((struct ab_store *)b->stores.items)->hottest_c.v, 30, "hottest");
	near(b->serve->line_mm.v, 6 * 304.8, "feet");
	near(b->serve->line_cleaned_s.v, 7 * 86400.0, "cleaned");
	near(((struct ab_instrument *)b->instruments.items)->off_sg.v, -0.002, "off");
	struct ab_tasting *t = b->tastings.items;
	near(t->score_of.v, 50, "score-of");
	ck_assert_str_eq(t->next_time, "cooler");
	ck_assert_str_eq(((struct ab_found *)t->found.items)->note, "nose");
	ck_assert_str_eq(b->source, "j.xml");
}
END_TEST

START_TEST(missing_is_unknown)
{
	struct ab_batch *b = good(BATCH("<pitch/><tasting/><yeast/>"));
	struct ab_tasting *t = b->tastings.items;
	struct ab_yeast *y = b->yeasts.items;
	ck_assert(!b->pitch->at.known && !b->pitch->temp_c.known && b->pitch->clean == AB_UNKNOWN && b->recipe == NULL);
	ck_assert(t->complete == AB_UNKNOWN && t->next_time == NULL && y->made_starter == AB_UNKNOWN && b->family == 0);
	ck_assert(isnan(ab_batch_since_pitch(b, &t->at)));
}
END_TEST

/* ---- times ---- */

static const struct { const char *title, *pitch, *at; double hours; } times[] = {
	{ "after a pitch with its time", "at='2031-03-07T20:30'", "+3d 4h", 76 },
	{ "a date and time", "at='2031-03-07T20:30'", "2031-03-08T20:30", 24 },
	{ "a date alone is noon", "at='2031-03-07T20:00'", "2031-03-08", 16 },
	{ "pitch date only is noon", "at='2031-03-07'", "2031-03-08T13:00", 25 },
	{ "pitch without a time: 18:00 of the brew date", "", "2031-03-08T18:00", 24 },
	{ "relative to a pitch without a time", "", "+2d", 48 },
};

START_TEST(relative_times)
{
	char text[400];
	snprintf(text, sizeof text, BATCH("<pitch %s/><reading at='%s' wort='18 C'/>"), times[_i].pitch, times[_i].at);
	struct ab_batch *b = good(text);
	struct ab_reading *r = b->readings.items;
	ck_assert_msg(!r->at.relative, "%s", times[_i].title);
	near(ab_batch_since_pitch(b, &r->at) / 3600, times[_i].hours, times[_i].title);
}
END_TEST

/* ---- slips: line, and words the message must hold ---- */

static const struct { const char *title, *text; long line; const char *says, *also; } slips[] = {
	{ "unknown element", BATCH("<pich/>"), 2, "pich", "did you mean \"pitch\"" },
	{ "unknown attribute", BATCH("\n<pitch tmp='18 C'/>"), 3, "tmp", "did you mean \"temp\"" },
	{ "wrong unit", BATCH("<pitch temp='18 L'/>"), 2, "18 L", "C, F, K" },
	{ "no unit", BATCH("<pitch temp='18'/>"), 2, "no unit", "C, F, K" },
	{ "range", BATCH("<pitch temp='180 F'/>\n<mash temp='200 C'/>"), 3, "out of range", "30 to 90" },
	{ "bad word", BATCH("<boil vigour='roling'/>"), 2, "rolling", "weak, simmer, rolling" },
	{ "yes or no", BATCH("<pitch clean='true'/>"), 2, "no, yes", "clean" },
	{ "second pitch", BATCH("<pitch/>\n<pitch/>"), 3, "second <pitch>", "line 2" },
	{ "no id", "<batch xmlns='urn:afterboil:journal:1'\n brewed='2031-03-07'/>", 1, "no id", "batch" },
	{ "bad date", "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-02-29'/>", 1, "2031-02-29", "day" },
	{ "text", BATCH("warm day"), 2, "warm day", "holds no text" },
	{ "doctype", "<!DOCTYPE batch>\n" BATCH(""), 1, "DOCTYPE", "delete" },
	{ "wrong root", "<brew/>", 1, "brew", "urn:afterboil:journal:1" },
	{ "pitch relative", BATCH("<pitch at='+1d'/>"), 2, "itself", "2031-03-07T15:30" },
	{ "log by memory", BATCH("<log file='a.csv'/>"), 2, "a.csv", "no folder" },
	{ "id twice", "<batches xmlns='urn:afterboil:journal:1'>\n<batch id='a' brewed='2031-01-01'/>"
	    "\n<batch id='a' brewed='2031-01-01'/>"
	    "</batches>", 3, "\"a\"", "line 2" },
	{ "not well formed", BATCH("<pitch>"), 3, "well-formed", "pitch" },
	{ "starter", BATCH("<yeast starter='1 L' made-starter='no'/>"), 2, "contradict", "0 L" },
};

START_TEST(messages)
{
	enum ab_status st = read_text(slips[_i].text);
	ck_assert_msg(st == AB_EINPUT, "%s: %s", slips[_i].title, ab_status_name(st));
	ck_assert_msg(diag.line == slips[_i].line, "%s: line %ld: %s", slips[_i].title, diag.line, diag.text);
	ck_assert_msg(strcmp(diag.source, "j.xml") == 0, "%s: source %s", slips[_i].title, diag.source);
	ck_assert_msg(strstr(diag.text, slips[_i].says) != NULL && strstr(diag.text, slips[_i].also) != NULL,
	    "%s: %s", slips[_i].title, diag.text);
}
END_TEST

START_TEST(foreign)
{
	struct ab_batch *b = good(BATCH("<x:a xmlns:x='urn:x'><pitch xmlns='urn:afterboil:journal:1'/>text</x:a>"
	    "<pitch temp='18 C' x:y='1' xmlns:x='urn:x'/><note>so <e xmlns='urn:x'>very</e> good</note>"));
	near(b->pitch->temp_c.v, 18, "foreign neighbours");
	ck_assert_uint_eq(b->notes.n, 1);
}
END_TEST

START_TEST(callback_ends_it)
{
	ck_assert_int_eq(read_text("<batches xmlns='urn:afterboil:journal:1'/>"), AB_OK);
	ck_assert_int_eq(n_got, 0);
	ck_assert_int_eq(ab_journal_read_file("/nowhere/at-all.xml", arena, keep, NULL, &diag), AB_ESYSTEM);
}
END_TEST

/* ---- files and logs ---- */

static void put(const char *folder, const char *name, const char *text)
{
	char path[256];
	snprintf(path, sizeof path, "%s/%s", folder, name);
	FILE *f = fopen(path, "w");
	ck_assert(f != NULL && fputs(text, f) >= 0 && fclose(f) == 0);
}

static const struct { const char *title, *file; enum ab_status wanted; const char *says; } logs[] = {
	{ "beside", "log.csv", AB_OK, "" },
	{ "below", "sub/log.csv", AB_OK, "" },
	{ "a link that stays inside", "inside.csv", AB_OK, "" },
	{ "a link that leads out", "outside.csv", AB_EINPUT, "leads out" },
	{ "absolute", "/etc/hostname", AB_EINPUT, "outside" },
	{ "up", "sub/../log.csv", AB_EINPUT, "outside" },
	{ "only dots", "..", AB_EINPUT, "outside" },
	{ "dots in a name are a name", "a..b.csv", AB_OK, "" },
	{ "missing", "none.csv", AB_EINPUT, "cannot be opened" },
	{ "a folder", "sub", AB_EINPUT, "no regular file" },
	{ "a bad log", "bad.csv", AB_EINPUT, "warm" },
};

START_TEST(sensor_logs)
{
	char top[] = "/tmp/ab-journal-XXXXXX", folder[64], path[128], command[160];
	static const char csv[] = "time,temp\n2031-03-07T18:00Z,19.5\n";
	ck_assert(mkdtemp(top) != NULL);
	snprintf(folder, sizeof folder, "%s/in", top);
	snprintf(path, sizeof path, "%s/in/sub", top);
	ck_assert(mkdir(folder, 0700) == 0 && mkdir(path, 0700) == 0);
	put(top, "secret.csv", csv);
	put(folder, "log.csv", csv);
	put(folder, "a..b.csv", csv);
	put(folder, "bad.csv", "time,temp\n2031-03-07T18:00,warm\n");
	put(path, "log.csv", csv);
	snprintf(path, sizeof path, "%s/inside.csv", folder);
	ck_assert(symlink("log.csv", path) == 0);
	snprintf(path, sizeof path, "%s/outside.csv", folder);
	ck_assert(symlink("../secret.csv", path) == 0);
	snprintf(path, sizeof path, BATCH("<log utc-offset='2 h' file='%s'/>"), logs[_i].file);
	char text[300];
	snprintf(text, sizeof text, BATCH("<log utc-offset='2 h' file='%s'/>"), logs[_i].file);
	put(folder, "j.xml", text);
	snprintf(path, sizeof path, "%s/j.xml", folder);
	enum ab_status st = ab_journal_read_file(path, arena, keep, NULL, &diag);
	snprintf(command, sizeof command, "rm -rf %s", top);
	ck_assert(system(command) == 0);
	ck_assert_msg(
	    st == logs[_i].wanted && strstr(diag.text, logs[_i].says) != NULL, "%s: %s", logs[_i].title, diag.text);
	if (st == AB_OK)
		near(((struct ab_log *)got->logs.items)->sensor->samples[0].s,
		    ab_when_from_civil(2031, 3, 7) + 20 * 3600, "offset");
}
END_TEST

/* ---- streams and memory ---- */

static enum ab_status drop(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)batch;
	(void)d;
	n_got++;
	ab_arena_reset(ctx);
	return AB_OK;
}

static long allocations(int batches)
{
	FILE *f = tmpfile();
	ck_assert(f != NULL);
	fputs("<batches xmlns='urn:afterboil:journal:1'>\n", f);
	for (int i = 0; i < batches; i++)
		fprintf(f, "<batch id='same' brewed='2031-03-07'><pitch temp='18 C'/><note>%d</note></batch>\n", i);
	fputs("</batches>", f);
	fflush(f);
	rewind(f);
	n_got = 0;
	ab_alloc_fail_at(-1);
	enum ab_status st = ab_journal_read_stream(fileno(f), "stream", arena, drop, arena, &diag);
	long n = ab_alloc_count();
	fclose(f);
	ck_assert_msg(st == AB_OK && n_got == batches, "%s", diag.text);
	return n;
}

START_TEST(stream_in_flat_memory)
{
	long few = allocations(200), many = allocations(20000);
	ck_assert_msg(many <= few + 2, "%ld allocations for 200 batches, %ld for 20000", few, many);
}
END_TEST

START_TEST(short_memory)
{
	static const char text[] =
	    "<batches xmlns='urn:afterboil:journal:1'>"
	    "<batch id='a' brewed='2031-03-07'><recipe><malt name='x'/>"
	    "<note>text</note></recipe><tasting><found fault='sour'/></tasting></batch>"
	    "<batch id='b' brewed='2031-03-07'/></batches>";
	enum ab_status st = AB_ENOMEM;
	long k;
	for (k = 0; st != AB_OK && k < 1000; k++) {
		ab_alloc_fail_at(k);
		struct ab_arena *a = ab_arena_new();
		ab_diag_init(&diag);
		st = a == NULL ? AB_ENOMEM
			       : ab_journal_read_memory(text, sizeof text - 1, "j.xml", NULL, a, keep, NULL, &diag);
		ab_arena_free(a);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", k, diag.text);
	}
	ck_assert_msg(st == AB_OK && k > 3, "%ld", k);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("journal");
	TCase *tc = tcase_create("journal");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 120);
	tcase_add_test(tc, every_attribute);
	tcase_add_test(tc, members);
	tcase_add_test(tc, missing_is_unknown);
	tcase_add_loop_test(tc, relative_times, 0, sizeof times / sizeof *times);
	tcase_add_loop_test(tc, messages, 0, sizeof slips / sizeof *slips);
	tcase_add_test(tc, foreign);
	tcase_add_test(tc, callback_ends_it);
	tcase_add_loop_test(tc, sensor_logs, 0, sizeof logs / sizeof *logs);
	tcase_add_test(tc, stream_in_flat_memory);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
