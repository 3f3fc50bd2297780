/* check_history.c - the store: nothing twice, nothing lost, nothing half
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <afterboil/history.h>
#include "base/alloc.h"
#include "rulecase.h"
#include "storecase.h"

static struct ab_knowledge *k;
static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_history *store;
static char folder[64], path[128];
static const struct ab_past_wish all = { .facts = true, .beliefs = true };

/* A copy: tests give it other versions. */
static void read_rules(void)
{
	static struct ab_knowledge copy;

	rules_read();
	copy = *rules;
	k = &copy;
}

static struct ab_history *open_store(void)
{
	struct ab_history *opened = NULL;
	enum ab_status st = ab_history_open(path, &opened, &diag);

	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return opened;
}

static void set_up(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	strcpy(folder, "/tmp/afterboil-test-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	snprintf(path, sizeof path, "%s/history.db", folder);
	store = open_store();
}

static void remove_file(const char *name)
{
	char whole[256];

	snprintf(whole, sizeof whole, "%s/%s", folder, name);
	unlink(whole);
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	ab_history_close(store);
	store = NULL;
	remove_file("history.db");
	remove_file("history.db-journal");
	remove_file("garbage");
	rmdir(folder);
	ab_arena_free(arena);
}

/* ---- cases ---- */

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static const struct ab_case *work_with(const char *inside, const struct ab_profile *profile)
{
	char text[4096];
	struct ab_batch *batch = NULL;
	struct ab_case *c = NULL;
	const struct ab_diagnose_options options = { 0 };
	int len = snprintf(text, sizeof text, "<batch xmlns='urn:afterboil:journal:1' %s</batch>", inside);

	enum ab_status st = ab_journal_read_memory(text, (size_t)len, "b.xml", NULL, arena, keep, &batch, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s", inside, diag.text);
	ck_assert_int_eq(ab_case_work(k, batch, profile, &options, arena, &c, &diag), AB_OK);
	return c;
}

static const struct ab_case *work(const char *inside)
{
	return work_with(inside, NULL);
}

static int put(struct ab_history *into, const struct ab_case *c)
{
	char hash[65];
	int added = -1;

	ck_assert_int_eq(ab_history_digest(c->batch, hash, &diag), AB_OK);
	enum ab_status st = ab_history_put(into, k, c, hash, &added, &diag);
	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return added;
}

static void put_all(struct ab_history *into, const struct ab_case *c)
{
	ck_assert_int_eq(ab_history_begin(into, &diag), AB_OK);
	put(into, c);
	ck_assert_int_eq(ab_history_commit(into, &diag), AB_OK);
}

static const struct ab_past *history(struct ab_history *from, const char *line, size_t *n)
{
	struct ab_past *past = NULL;
	enum ab_status st = ab_history_batches(from, k, line, &all, arena, &past, n, &diag);

	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return past;
}

static size_t count(struct ab_history *from)
{
	size_t n;

	history(from, NULL, &n);
	return n;
}

#define PLAIN "id='a' brewed='2031-03-07' line='pale' family='pale hoppy'>"
#define TASTED "<tasting at='2031-04-01' by='A'><found fault='buttery' intensity='4'/></tasting>"

/* ---- nothing twice ---- */

START_TEST(the_same_again)
{
	const struct ab_case *c = work(PLAIN TASTED);
	size_t n;

	ck_assert_int_eq(put(store, c), 1);
	ck_assert_int_eq(put(store, c), 0);
	ck_assert_int_eq(
	    put(store,
		work("\n family='pale hoppy' line='pale' brewed='2031-03-07' id='a'> <!-- again -->" TASTED)),
	    0);
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_eq(n, 1);
	ck_assert_int_eq(p->revision, 1);
	ck_assert_int_eq(store_number(path, "SELECT count(*) FROM batch"), 1);
}
END_TEST

START_TEST(a_change_makes_a_revision)
{
	size_t n;

	ck_assert_int_eq(put(store, work(PLAIN)), 1);
	int facts = store_number(path, "SELECT length(facts) FROM batch");
	ck_assert_int_eq(put(store, work(PLAIN TASTED)), 2);
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_eq(n, 1);   /* the newest only */
	ck_assert_int_eq(p->revision, 2);
	ck_assert(p->tasted && p->load > 0);
	ck_assert_int_eq(store_number(path, "SELECT count(*) FROM batch"), 2);   /* the old one stays */
	ck_assert_int_gt(facts, 0);
	ck_assert_int_eq(store_number(path, "SELECT length(facts) FROM batch WHERE n = 1"), facts);
	ck_assert_int_eq(put(store, work(PLAIN)), 2);   /* back again is a third */
	ck_assert_int_eq(history(store, NULL, &n)->revision, 3);
	ck_assert(!history(store, NULL, &n)->tasted);
}
END_TEST

START_TEST(other_rules_make_a_revision)
{
	const struct ab_case *c = work(PLAIN TASTED);
	char old[sizeof k->version];
	size_t n;

	ck_assert_int_eq(put(store, c), 1);
	memcpy(old, k->version, sizeof old);
	strcpy(k->version, "0123456789abcdef");
	ck_assert_int_eq(put(store, c), 2);
	ck_assert_int_eq(put(store, c), 0);
	ck_assert_str_eq(history(store, NULL, &n)->rules, "0123456789abcdef");
	memcpy(k->version, old, sizeof old);
}
END_TEST

/* ---- nothing lost ---- */

START_TEST(everything_read_back)
{
	const struct ab_case *c = work(
	    "id='a' brewed='2031-03-07' line='pale' family='pale hoppy'>"
	    "<pitch at='2031-03-07T18:00' temp='24 C'/><yeast strain='s1' lot='l1' supplier='shop'/>"
	    "<vessel id='F2'/><gear item='hose' id='H1'/>"
	    "<change what='shake-hard' adopted='yes'/><change>stood in the cellar</change>" TASTED);
	char hash[65];
	size_t n;

	put(store, c);
	ab_history_digest(c->batch, hash, &diag);
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_eq(n, 1);
	ck_assert_str_eq(p->id, "a");
	ck_assert_str_eq(p->line, "pale");
	ck_assert_str_eq(p->family, "pale-hoppy");
	ck_assert_str_eq(p->hash, hash);
	ck_assert_str_eq(p->rules, k->version);
	ck_assert_double_eq(p->brewed_s, c->batch->brewed.s);
	ck_assert(p->tasted);
	ck_assert_double_eq(p->load, c->load);
	ck_assert_double_eq(p->load_low, c->load_low);
	ck_assert_double_eq(p->load_high, c->load_high);
	for (size_t f = 0; f < k->n_faults; f++) {
		ck_assert_double_eq(p->fault_load[f], c->fault_load[f]);
		ck_assert_double_eq(p->fault_intensity[f], c->fault_intensity[f]);
	}
	ck_assert_double_eq(p->fault_intensity[ab_fault_find(k, "diacetyl")], 4);
	for (size_t i = 0; i < k->n_causes; i++)
		ck_assert_msg(fabs(p->present[i] - c->diagnosis->present[i]) < 0.01, "%s", k->causes[i].id); /* fainter
														beliefs
														are
														not
														kept
													      */
	for (size_t i = 0; i < p->n_facts; i++)
		ck_assert(AB_FACT_KNOWN(&c->facts[p->slots[i]]) && p->values[i] == c->facts[p->slots[i]].value);
	for (size_t s = 0, known = 0; s < k->facts->n; s++) {
		known += AB_FACT_KNOWN(&c->facts[s]);
		ck_assert(s + 1 < k->facts->n || known == p->n_facts);
	}
	ck_assert_uint_eq(p->n_changes, 2);
	ck_assert_str_eq(p->changes[0], "shake-hard");
	ck_assert_str_eq(p->changes[1], "stood in the cellar");
}
END_TEST

static const struct ab_factor factors[] = {
	{ "hose", "H1" }, { "vessel", "F2" }, { "yeast", "s1" }, { "yeast lot", "l1" }, { "yeast supplier", "shop" },
};

START_TEST(factors_of_the_common_thread)
{
	size_t n;

	put(store,
	    work(PLAIN
		"<yeast strain='s1' lot='l1' supplier='shop'/><vessel id='F2'/><vessel place='cellar'/>"
		"<gear item='hose' id='H1'/><gear item='tap'/>"));
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_eq(p->n_factors, sizeof factors / sizeof *factors);   /* what has no name is none */
	for (size_t i = 0; i < p->n_factors; i++) {
		ck_assert_str_eq(p->factors[i].name, factors[i].name);
		ck_assert_str_eq(p->factors[i].value, factors[i].value);
	}
}
END_TEST

START_TEST(little_known)
{
	size_t n;

	put(store, work("id='a' brewed='2031-03-07'>"));
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_ptr_null(p->line);
	ck_assert_ptr_null(p->family);
	ck_assert(!p->tasted && isnan(p->load) && isnan(p->load_low) && isnan(p->load_high));   /* not known is not 0 */
	ck_assert_uint_eq(p->n_changes + p->n_factors, 0);
}
END_TEST

START_TEST(order_and_lines)
{
	static const char *const inside[] = { "id='c' brewed='2031-05-01' line='x'>",
		"id='a' brewed='2031-03-01' line='y'>", "id='d' brewed='2031-04-01' line='x'>",
		"id='b' brewed='2031-04-01'>" };
	static const char *const in_order[] = { "a", "b", "d", "c" };
	size_t n;

	for (size_t i = 0; i < 4; i++)
		put(store, work(inside[i]));
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_eq(n, 4);
	for (size_t i = 0; i < 4; i++)
		ck_assert_str_eq(p[i].id, in_order[i]);   /* of one day by id */
	p = history(store, "x", &n);
	ck_assert_uint_eq(n, 2);
	ck_assert_str_eq(p[0].id, "d");
	ck_assert_str_eq(p[1].id, "c");
	history(store, "nothing of the kind", &n);
	ck_assert_uint_eq(n, 0);
}
END_TEST

/* Filed out of order, one of them twice: each batch gets the facts of its own newest revision. */
START_TEST(facts_to_their_batches)
{
	static const char *const inside[] = {
		"id='c' brewed='2031-05-01' line='x' family='wheat'>",
		"id='a' brewed='2031-03-01' line='x' family='strong'>",
		"id='b' brewed='2031-04-01' family='other'>",
		"id='c' brewed='2031-05-01' line='x' family='pale hoppy'>",
	};
	static const size_t filed_as[] = { 1, 2, 3 };   /* of a, b, c */
	const struct ab_case *cases[4];
	size_t n;

	for (size_t i = 0; i < 4; i++)
		put(store, cases[i] = work(inside[i]));
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_eq(n, 3);
	for (size_t i = 0; i < n; i++) {
		ck_assert_uint_gt(p[i].n_facts, 0);
		for (size_t j = 0; j < p[i].n_facts; j++)
			ck_assert_double_eq(p[i].values[j], cases[filed_as[i]]->facts[p[i].slots[j]].value);
	}
	const struct ab_past *x = history(store, "x", &n);
	ck_assert_uint_eq(n, 2);
	ck_assert_uint_eq(x[0].n_facts, p[0].n_facts);
	ck_assert_uint_eq(x[1].n_facts, p[2].n_facts);
}
END_TEST

START_TEST(promises)
{
	struct ab_promised p;

	ck_assert(!ab_history_promise(store, "shake-hard", &p));
	ck_assert_int_eq(
	    ab_history_put_promise(store, "shake-hard", 1, &(struct ab_promised){ 5, 3, true }, false, &diag),
	    AB_OK);
	ck_assert_int_eq(
	    ab_history_put_promise(store, "shake-hard", 2, &(struct ab_promised){ 9, 1, true }, true, &diag),
	    AB_OK); /* begun: it stays */
	ck_assert_int_eq(
	    ab_history_put_promise(store, "air-pump", 2, &(struct ab_promised){ 9, 1, true }, false, &diag), AB_OK);
	ck_assert(ab_history_promise(store, "shake-hard", &p));
	ck_assert(p.load_before == 5 && p.load_after == 3 && p.alone);
	ck_assert(ab_history_promise(store, "air-pump", &p));
	ck_assert(p.load_before == 9 && p.load_after == 1);
	ck_assert_int_eq(
	    ab_history_put_promise(store, "shake-hard", 3, &(struct ab_promised){ 4, 2, true }, false, &diag),
	    AB_OK); /* not begun: the last */
	ck_assert(ab_history_promise(store, "shake-hard", &p) && p.load_before == 4 && p.load_after == 2);
}
END_TEST

START_TEST(closed_and_opened_again)
{
	put_all(store, work(PLAIN TASTED));
	ab_history_close(store);
	store = open_store();
	ck_assert_uint_eq(count(store), 1);
	ck_assert_int_eq(put(store, work(PLAIN TASTED)), 0);
}
END_TEST

/* ---- nothing half ---- */

START_TEST(rolled_back)
{
	ck_assert_int_eq(ab_history_begin(store, &diag), AB_OK);
	put(store, work(PLAIN TASTED));
	ab_history_put_promise(store, "x", 1, &(struct ab_promised){ 2, 1, true }, false, &diag);
	ab_history_rollback(store);
	for (size_t i = 0; i < 6; i++) {
		char sql[64];

		snprintf(sql, sizeof sql, "SELECT count(*) FROM \"%s\"",
		    (const char *[]){ "batch", "name", "fault", "change", "factor", "promise" }[i]);
		ck_assert_msg(store_number(path, sql) == 0, "%s", sql);
	}
	ab_history_rollback(store);   /* with nothing begun: fine */
	put_all(store, work(PLAIN));
	ck_assert_uint_eq(count(store), 1);
}
END_TEST

/* A program killed before its commit leaves what was there before, whole. */
START_TEST(killed)
{
	const struct ab_case *c = work("id='z' brewed='2031-03-20'>" TASTED);
	int ends[2], status;
	char byte;

	put_all(store, work(PLAIN));
	ab_history_close(store);
	store = NULL;
	ck_assert_int_eq(pipe(ends), 0);
	pid_t child = fork();
	ck_assert_int_ge(child, 0);
	if (child == 0) {
		struct ab_history *own = open_store();

		ab_history_begin(own, &diag);
		put(own, c);
		if (write(ends[1], "x", 1) == 1)
			pause();
		_exit(1);
	}
	close(ends[1]);
	ck_assert_int_eq(read(ends[0], &byte, 1), 1);
	ck_assert_int_eq(kill(child, SIGKILL), 0);
	ck_assert_int_eq(waitpid(child, &status, 0), child);
	ck_assert(WIFSIGNALED(status));
	close(ends[0]);
	store = open_store();
	ck_assert_uint_eq(count(store), 1);
	ck_assert_int_eq(store_number(path, "SELECT count(*) FROM fault"), 0);
	put_all(store, c);   /* and it can be done again */
	ck_assert_uint_eq(count(store), 2);
}
END_TEST

/* Two programs at once: the second waits, and after five seconds says so; readers are not kept out. */
START_TEST(two_at_once)
{
	struct ab_history *other = open_store();

	ck_assert_int_eq(ab_history_begin(store, &diag), AB_OK);
	put(store, work(PLAIN));
	ck_assert_uint_eq(count(other), 0);
	ck_assert_int_eq(ab_history_begin(other, &diag), AB_ESYSTEM);
	ck_assert_ptr_nonnull(strstr(diag.text, "locked"));
	ck_assert_ptr_nonnull(strstr(diag.source, "history.db"));
	ck_assert_int_eq(ab_history_commit(store, &diag), AB_OK);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_history_begin(other, &diag), AB_OK);
	ck_assert_int_eq(put(other, work(PLAIN)), 0);   /* it sees what the first filed */
	ck_assert_int_eq(ab_history_commit(other, &diag), AB_OK);
	ab_history_close(other);
}
END_TEST

/* ---- what cannot be opened ---- */

START_TEST(a_newer_format)
{
	struct ab_history *opened = store;

	ab_history_close(store);
	store = NULL;
	store_number(path, "PRAGMA user_version = 6");
	ck_assert_int_eq(ab_history_open(path, &opened, &diag), AB_ESYSTEM);
	ck_assert_ptr_null(opened);
	ck_assert_str_eq(diag.text,
	    "this history was written by a newer afterboil (format 6, known here: 5); use that, or another file "
	    "with --store");
	ck_assert_int_eq(store_number(path, "PRAGMA user_version"), 6);   /* untouched */
}
END_TEST

/* ---- changes a profile notes ---- */

static void file_profile(const char *inside)
{
	char text[1024];
	struct ab_profile *profile;
	int len = snprintf(text, sizeof text, "<brewery xmlns='urn:afterboil:profile:1' %s</brewery>", inside);

	enum ab_status st = ab_profile_read_memory(text, (size_t)len, "p.xml", arena, &profile, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s", inside, diag.text);
	ck_assert_int_eq(ab_history_begin(store, &diag), AB_OK);
	ck_assert_int_eq(ab_history_put_changed(store, profile, &diag), AB_OK);
	ck_assert_int_eq(ab_history_commit(store, &diag), AB_OK);
}

static const struct ab_profile *profile_of(const char *inside)
{
	char text[1024];
	struct ab_profile *profile;
	int len = snprintf(text, sizeof text, "<brewery xmlns='urn:afterboil:profile:1'>%s</brewery>", inside);

	ck_assert_int_eq(ab_profile_read_memory(text, (size_t)len, "p.xml", arena, &profile, &diag), AB_OK);
	return profile;
}

/* Each step: what is put, after the profile before it was named, and what became of it. */
START_TEST(the_profile_judged_with)
{
	static const struct { const char *profile; int added; } steps[] = {
		{ "<packs into='keg'/>", 2 }, { "<packs into='keg'/>", 0 },
		{ "<packs into='keg'/><price change='kit' cost='35'/>", 0 },
		{ "<packs into='bottles'/>", 2 }, { NULL, 2 }, { NULL, 0 }, { "", 2 },
		{ "<note>only words</note>", 0 }, { "<packs into='keg'/>", 2 },
	};
	const struct ab_case *c = work(PLAIN TASTED);
	char digest[AB_PROFILE_DIGEST];
	size_t n;

	ck_assert_int_eq(put(store, c), 1);
	ck_assert_ptr_null(history(store, NULL, &n)->profile);   /* nobody told */
	for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
		const struct ab_profile *profile = steps[i].profile != NULL ? profile_of(steps[i].profile) : NULL;

		ab_history_judged_with(store, profile, "1.2");
		ck_assert_msg(put(store, c) == steps[i].added, "step %zu", i);
		ab_profile_digest(profile, digest);
		ck_assert_str_eq(history(store, NULL, &n)->profile, digest);
		ck_assert_uint_eq(n, 1);
	}
	ck_assert_int_eq(store_number(path, "SELECT count(DISTINCT profile) FROM batch"), 4); /* keg, bottles, none,
												 empty */
}
END_TEST

static bool judged_alike(const struct ab_case *a, const struct ab_case *b)
{
	bool same = a->load == b->load && a->load_low == b->load_low && a->load_high == b->load_high;

	for (size_t s = 0; s < k->facts->n; s++)
		same &= a->facts[s].origin == b->facts[s].origin && (!AB_FACT_KNOWN(&a->facts[s]) ||
		    (a->facts[s].value == b->facts[s].value && a->facts[s].u == b->facts[s].u));
	for (size_t i = 0; i < k->n_causes; i++)
		same &= a->diagnosis->present[i] == b->diagnosis->present[i] &&
		    a->diagnosis->blame[i] == b->diagnosis->blame[i];
	return same;
}

/* Why the digest may leave out what it leaves out: under profiles of one digest a batch is judged the same, and each
 * part that the digest takes in can move a fact, the load or a belief. */
START_TEST(what_the_digest_leaves_out)
{
	static const char left_out[] =
	    "<per-year batches='12'/><brews family='strong'/><money now='$120'/><time per-batch='45 min' away='10 h'/>"
	    "<owns change='fridge' since='2031-01-05'/><trouble fault='buttery'/>"
	    "<trouble cause='ferment-swings'/><price change='kit' cost='35'/>"
	    "<refuses change='x'/><week free='sat'/><changed what='x' on='2031-03-01'/><note>n</note>";
	static const char *const taken_in[] = { "<batch-size volume='9 L'/>", "<packs into='keg'/>",
		"<usual><water source='tap'/></usual>", "<taster name='A' blind-to='dms, astringent'/>" };
	static const char *const attrs[] = { "room='31 C'", "altitude='3000 m'" };
	const char *inside =
	    PLAIN "<recipe og='1.050 SG'/><pitch at='2031-03-07T18:00'/><aerate method='shake' time='1 min'/>"
		  "<yeast class='ale' form='dry' amount='11 g'/><vessel id='F2'/>"
		  "<tasting at='2031-04-01' by='A' complete='yes'><found fault='buttery' intensity='4'/></tasting>";
	const struct ab_case *bare = work(inside);

	ck_assert(judged_alike(bare, work_with(inside, profile_of(left_out))));
	for (size_t i = 0; i < sizeof taken_in / sizeof *taken_in; i++)
		ck_assert_msg(!judged_alike(bare, work_with(inside, profile_of(taken_in[i]))), "%s", taken_in[i]);
	for (size_t i = 0; i < sizeof attrs / sizeof *attrs; i++) {
		char text[128];
		struct ab_profile *profile;
		int len = snprintf(text, sizeof text, "<brewery xmlns='urn:afterboil:profile:1' %s/>", attrs[i]);

		ck_assert_int_eq(ab_profile_read_memory(text, (size_t)len, "p.xml", arena, &profile, &diag), AB_OK);
		ck_assert_msg(!judged_alike(bare, work_with(inside, profile)), "%s", attrs[i]);
	}
}
END_TEST

/* three batches: a and c of line pale, b of none; what a profile says, and the changes of a, b and c then */
static const struct { const char *title, *profile, *want; } noted[] = {
	{ "the same day", ">" "<changed what='x' on='2031-01-10'/>", "x||" },
	{ "the day after", "><changed what='x' on='2031-01-11'/>", "|x|" },
	{ "of a line", "><changed what='x' on='2031-01-11' line='pale'/>", "||x" },
	{ "of a line nobody brews", "><changed what='x' on='2031-01-11' line='stout'/>", "||" },
	{ "not brewed yet", "><changed what='x' on='2031-04-01'/>", "||" },
	{ "long before", "><changed what='x' on='2030-01-01'/>", "x||" },
	{ "own words", "><changed on='2031-02-01'>new kettle</changed>", "|new kettle|" },
	{ "two at once", "><changed what='x' on='2031-01-15'/><changed what='y' on='2031-01-20'/>", "|x y|" },
	{ "what the journal says, too", "><changed what='own' on='2031-02-20'/>", "||own" },
	{ "none", ">", "||own" },
};

START_TEST(changes_of_a_profile)
{
	char got[128] = "";
	size_t n;

	put_all(store, work("id='a' brewed='2031-01-10' line='pale'>" TASTED));
	put_all(store, work("id='b' brewed='2031-02-10'>" TASTED));
	put_all(store,
	    work(strstr(noted[_i].want, "own") != NULL && strstr(noted[_i].want, "own w") == NULL &&
			strcmp(noted[_i].want, "||own") == 0
		    ? "id='c' brewed='2031-03-10' line='pale'><change what='own'/>" TASTED
		    : "id='c' brewed='2031-03-10' line='pale'>" TASTED));
	file_profile("><changed what='old' on='2031-01-01'/>");   /* replaced by the next */
	file_profile(noted[_i].profile);
	file_profile("name='another brewery'><changed what='z' on='2039-01-01'/>");
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_eq(n, 3);
	for (size_t i = 0; i < n; i++) {
		for (size_t j = 0; j < p[i].n_changes; j++)
			snprintf(
			    got + strlen(got), sizeof got - strlen(got), "%s%s", j > 0 ? " " : "", p[i].changes[j]);
		if (i + 1 < n)
			strcat(got, "|");
	}
	ck_assert_msg(strcmp(got, noted[_i].want) == 0, "%s: %s", noted[_i].title, got);
}
END_TEST

/* Only the newest few: the same as the end of the whole, also when a profile's change came in force before them. */
START_TEST(the_last_few)
{
	static const char *const lines[] = { NULL, "x", "y" };
	const struct ab_past *whole;
	size_t n_all, n;

	for (int i = 0; i < 8; i++) {
		char inside[128];

		snprintf(inside, sizeof inside, "id='%c' brewed='2031-0%d-01' line='%s'>", 'h' - i,
		    1 + i * 5 % 8 / 2, i % 3 > 0 ? "x" : "y");
		put_all(store, work(inside));
	}
	put_all(store, work("id='h' brewed='2031-09-01' line='y'><change what='own'/>")); /* the first again, as the
											     newest */
	file_profile(
	    "><changed what='p' on='2031-02-01'/><changed what='q' on='2031-03-01' line='x'/>"
	    "<changed what='r' on='2031-08-01'/>");
	for (size_t l = 0; l < 3; l++) {
		whole = history(store, lines[l], &n_all);
		ck_assert_uint_gt(n_all, 2);
		for (size_t last = 1; last < n_all + 2; last++) {
			const struct ab_past_wish wish = { .last = last };
			struct ab_past *past;

			ck_assert_int_eq(ab_history_batches(store, k, lines[l], &wish, arena, &past, &n, &diag), AB_OK);
			ck_assert_uint_eq(n, last < n_all ? last : n_all);
			for (size_t i = 0; i < n; i++) {
				const struct ab_past *w = &whole[n_all - n + i];

				ck_assert_str_eq(past[i].id, w->id);
				ck_assert_int_eq(past[i].revision, w->revision);
				ck_assert_uint_eq(past[i].n_changes, w->n_changes);
				for (size_t c = 0; c < w->n_changes; c++)
					ck_assert_str_eq(past[i].changes[c], w->changes[c]);
			}
		}
	}
}
END_TEST

/* The days are those of the whole, in its order, whatever line; of a batch filed again the newest. */
START_TEST(days_alone)
{
	static const char *const lines[] = { NULL, "x", "y", "none" };
	struct ab_past_day *days;
	size_t n_all, n;

	ck_assert_int_eq(ab_history_days(store, NULL, arena, &days, &n, &diag), AB_OK);
	ck_assert_uint_eq(n, 0);
	for (int i = 0; i < 6; i++) {
		char inside[160];

		snprintf(inside, sizeof inside, "id='%c' brewed='2031-0%d-01' line='%s'>%s", 'h' - i,
		    1 + i * 5 % 7 / 2, i % 3 > 0 ? "x" : "y", i % 2 ? TASTED : "");
		put_all(store, work(inside));
	}
	put_all(store, work("id='h' brewed='2031-03-20' line='y'>" TASTED));   /* the first again, tasted by now */
	for (size_t l = 0; l < 4; l++) {
		const struct ab_past *whole = history(store, lines[l], &n_all);

		ck_assert_int_eq(ab_history_days(store, lines[l], arena, &days, &n, &diag), AB_OK);
		ck_assert_uint_eq(n, n_all);
		for (size_t i = 0; i < n; i++) {
			ck_assert_double_eq(days[i].brewed_s, whole[i].brewed_s);
			ck_assert_int_eq(days[i].tasted, whole[i].tasted);
		}
	}
	ck_assert_uint_eq(n, 0);
}
END_TEST

/* Blame by itself is the same blame. Names that many batches share stand once. */
START_TEST(blame_alone)
{
	const struct ab_past_wish both = { .beliefs = true }, blame = { .blame = true };
	struct ab_past *with, *only;
	size_t n;

	put_all(store, work("id='a' brewed='2031-01-10' line='pale'>" TASTED));
	put_all(store, work("id='b' brewed='2031-02-10' line='pale'>" TASTED));
	ck_assert_int_eq(ab_history_batches(store, k, NULL, &both, arena, &with, &n, &diag), AB_OK);
	ck_assert_int_eq(ab_history_batches(store, k, NULL, &blame, arena, &only, &n, &diag), AB_OK);
	ck_assert_uint_eq(n, 2);
	for (size_t b = 0; b < n; b++) {
		ck_assert_ptr_null(only[b].present);
		ck_assert_mem_eq(only[b].blame, with[b].blame, k->n_causes * sizeof *with->blame);
		ck_assert_str_eq(only[b].line, "pale");
	}
	/* names stand once, wherever two of them fall on one place; what is a batch's own does not */
	ck_assert(only[0].line == only[1].line && only[0].rules == only[1].rules && only[0].program == only[1].program);
	ck_assert(only[0].id != only[1].id && only[0].hash != only[1].hash);
}
END_TEST

START_TEST(only_what_is_asked)
{
	struct ab_past *past;
	size_t n;

	put(store, work(PLAIN TASTED));
	ck_assert_int_eq(ab_history_batches(store, k, NULL, NULL, arena, &past, &n, &diag), AB_OK);
	ck_assert_uint_eq(n, 1);
	ck_assert(past->n_facts == 0 && past->present == NULL && past->load > 0);
}
END_TEST

/* A few facts by their slots, with what they may be off by; beliefs with blame. */
START_TEST(a_few_facts_only)
{
	const int og = ab_fact_slot(k->facts, "gravity.og"), nothing = ab_fact_slot(k->facts, "serve.gas-over");
	const int slots[] = { nothing, og };
	const struct ab_past_wish wish = { .facts = true, .slots = slots, .n_slots = 2 }, beliefs = { .beliefs = true };
	const struct ab_case *c = work(PLAIN "<recipe og='1.050 SG'/>" TASTED);
	struct ab_past *past;
	size_t n, told = 0;

	put(store, c);
	ck_assert_int_eq(ab_history_batches(store, k, NULL, &wish, arena, &past, &n, &diag), AB_OK);
	ck_assert_uint_eq(past->n_facts, 1);
	ck_assert(past->slots[0] == og && past->values[0] == c->facts[og].value && past->us[0] == c->facts[og].u &&
	    past->us[0] > 0);
	ck_assert(past->present == NULL && past->blame == NULL);
	ck_assert_int_eq(ab_history_batches(store, k, NULL, &beliefs, arena, &past, &n, &diag), AB_OK);
	ck_assert_uint_eq(past->n_facts, 0);
	for (size_t i = 0; i < k->n_causes; i++)
		if (past->present[i] > 0) {
			ck_assert(past->present[i] == c->diagnosis->present[i] &&
			    past->blame[i] == c->diagnosis->blame[i]);
			told++;
		}
	ck_assert_uint_gt(told, 3);
}
END_TEST

/* The numbers of names given in a transaction are gone with it. */
START_TEST(names_after_a_rollback)
{
	const struct ab_case *c = work(PLAIN "<recipe og='1.050 SG'/>" TASTED);
	size_t n;

	ck_assert_int_eq(ab_history_begin(store, &diag), AB_OK);
	put(store, c);
	ab_history_rollback(store);
	put_all(store, c);
	const struct ab_past *p = history(store, NULL, &n);
	ck_assert_uint_gt(p->n_facts, 0);
	for (size_t i = 0; i < p->n_facts; i++)
		ck_assert_double_eq(p->values[i], c->facts[p->slots[i]].value);
}
END_TEST

START_TEST(no_store_at_all)
{
	static const char text[] =
	    "This is a letter, not a store. It is long enough to look like the head of one, though: a hundred "
	    "bytes and more of it.";
	char garbage[160];
	struct ab_history *opened = store;
	FILE *out;

	snprintf(garbage, sizeof garbage, "%s/garbage", folder);
	out = fopen(garbage, "w");
	ck_assert(out != NULL && fputs(text, out) >= 0 && fclose(out) == 0);
	ck_assert_int_eq(ab_history_open(garbage, &opened, &diag), AB_ESYSTEM);
	ck_assert_ptr_null(opened);
	ck_assert_msg(strstr(diag.text, "not a database") != NULL, "%s", diag.text);
	char back[sizeof text] = "";
	FILE *in = fopen(garbage, "r");
	ck_assert(in != NULL && fgets(back, sizeof back, in) != NULL && fclose(in) == 0);
	ck_assert_str_eq(back, text);   /* left as it was */
}
END_TEST

START_TEST(unwritable)
{
	char below[192];
	struct ab_history *opened = store;

	snprintf(below, sizeof below, "%s/sub/history.db", path);   /* under a file */
	ck_assert_int_eq(ab_history_open(below, &opened, &diag), AB_ESYSTEM);
	ck_assert_ptr_null(opened);
	ck_assert_msg(strstr(diag.text, "Not a directory") != NULL, "%s", diag.text);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_history_open(folder, &opened, &diag), AB_ESYSTEM);   /* a folder */
	ck_assert_str_ne(diag.text, "");
	if (geteuid() == 0)   /* nothing is closed to root */
		return;
	ab_diag_init(&diag);
	snprintf(below, sizeof below, "%s/sub/history.db", folder);
	chmod(folder, 0500);
	ck_assert_int_eq(ab_history_open(below, &opened, &diag), AB_ESYSTEM);
	chmod(folder, 0700);
	ck_assert_msg(strstr(diag.text, "Permission denied") != NULL, "%s", diag.text);
}
END_TEST

START_TEST(folders_are_made)
{
	char below[192];
	struct ab_history *opened = NULL;
	struct stat made;

	snprintf(below, sizeof below, "%s/sub/deep/history.db", folder);
	ck_assert_int_eq(ab_history_open(below, &opened, &diag), AB_OK);
	ab_history_close(opened);
	unlink(below);
	*strrchr(below, '/') = '\0';
	ck_assert_int_eq(stat(below, &made), 0);
	ck_assert_int_eq(made.st_mode & 0777, 0700);   /* journals are private */
	rmdir(below);
	*strrchr(below, '/') = '\0';
	rmdir(below);
}
END_TEST

START_TEST(in_memory)
{
	struct ab_history *own = NULL;

	ck_assert_int_eq(ab_history_open(":memory:", &own, &diag), AB_OK);
	ck_assert_int_eq(put(own, work(PLAIN)), 1);
	ck_assert_uint_eq(count(own), 1);
	ck_assert_uint_eq(count(store), 0);
	ab_history_close(own);
	ab_history_close(NULL);
	ck_assert_int_ne(access(":memory:", F_OK), 0);
}
END_TEST

START_TEST(out_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	long at = 0;

	for (int i = 0; i < 40; i++) {
		char inside[256];

		snprintf(inside, sizeof inside,
		    "id='b%d' brewed='2031-03-07'><vessel id='F'/><change>x</change>" TASTED, i);
		put(store, work(inside));
	}
	for (; st != AB_OK && at < 1000; at++) {
		struct ab_history *own = NULL;
		struct ab_past *past;
		struct ab_arena *short_one = ab_arena_new();
		size_t n;

		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_history_open(path, &own, &diag);
		if (st == AB_OK)
			st = ab_history_batches(own, k, NULL, &all, short_one, &past, &n, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: status %d", at, (int)st);
		ab_history_close(own);
		ab_arena_free(short_one);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 3);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("history");
	TCase *tc = tcase_create("history");
	tcase_add_unchecked_fixture(tc, read_rules, rules_drop);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, the_same_again);
	tcase_add_test(tc, a_change_makes_a_revision);
	tcase_add_test(tc, other_rules_make_a_revision);
	tcase_add_test(tc, everything_read_back);
	tcase_add_test(tc, factors_of_the_common_thread);
	tcase_add_test(tc, little_known);
	tcase_add_test(tc, order_and_lines);
	tcase_add_test(tc, facts_to_their_batches);
	tcase_add_test(tc, promises);
	tcase_add_test(tc, closed_and_opened_again);
	tcase_add_test(tc, rolled_back);
	tcase_add_test(tc, killed);
	tcase_add_test(tc, two_at_once);
	tcase_add_test(tc, a_newer_format);
	tcase_add_test(tc, the_profile_judged_with);
	tcase_add_test(tc, what_the_digest_leaves_out);
	tcase_add_loop_test(tc, changes_of_a_profile, 0, (int)(sizeof noted / sizeof *noted));
	tcase_add_test(tc, the_last_few);
	tcase_add_test(tc, days_alone);
	tcase_add_test(tc, blame_alone);
	tcase_add_test(tc, only_what_is_asked);
	tcase_add_test(tc, a_few_facts_only);
	tcase_add_test(tc, names_after_a_rollback);
	tcase_add_test(tc, no_store_at_all);
	tcase_add_test(tc, unwritable);
	tcase_add_test(tc, folders_are_made);
	tcase_add_test(tc, in_memory);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
