/* check_undo.c - the last entries of a journal, taken back byte for byte or not at all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700   /* mkdtemp */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <afterboil/journal.h>
#include <afterboil/undo.h>
#include "base/alloc.h"
#include "base/savefile.h"
#include "base/sha256.h"

#define B "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'>\n</batch>\n"

static char top[64], path[96], trail[128];
static struct ab_diag diag;
static struct ab_arena *arena;

static void setup(void)
{
	strcpy(top, "/tmp/ab-undo-XXXXXX");
	ck_assert(mkdtemp(top) != NULL);
	snprintf(path, sizeof path, "%s/j.xml", top);
	snprintf(trail, sizeof trail, "%s/" AB_UNDO_NAME, top);
	ab_diag_init(&diag);
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
}

static void teardown(void)
{
	char command[128];

	ab_arena_free(arena);
	snprintf(command, sizeof command, "rm -rf %s", top);
	ck_assert(system(command) == 0);
}

static void put(const char *to, const char *text, size_t len)
{
	FILE *f = fopen(to, "w");
	ck_assert(f != NULL && fwrite(text, 1, len, f) == len && fclose(f) == 0);
}

static char *got(const char *from, size_t *len)
{
	char *text;
	struct ab_diag d;

	ab_diag_init(&d);
	ck_assert_msg(ab_loadfile(from, 1 << 22, &text, len, &d) == AB_OK, "%s", d.text);
	return text;
}

static void holds(const char *wanted, const char *title)
{
	size_t len;
	char *text = got(path, &len);

	ck_assert_msg(strcmp(text, wanted) == 0, "%s:\n%s\nwanted:\n%s", title, text, wanted);
	ab_free(text);
}

/* One entry, as a command makes it. */
static void enter(const char *text, const char *words)
{
	const struct ab_undo_entry e = { "log", NULL, "a", words, "2031-03-07T18:00", false, false };
	struct ab_undo *undo;
	char element[200];

	snprintf(element, sizeof element, "<note>%s</note>", text);
	ck_assert_msg(ab_undo_begin(path, &undo, &diag) == AB_OK, "%s", diag.text);
	ck_assert_msg(ab_journal_append(path, "a", element, &diag) == AB_OK, "%s", diag.text);
	ck_assert_msg(ab_undo_end(undo, &e, &diag) == AB_OK, "%s", diag.text);
}

static enum ab_status take(const char **words)
{
	struct ab_undo_entry e = { .words = NULL };

	ab_diag_init(&diag);
	enum ab_status st = ab_undo_take(path, "a", NULL, arena, &e, &diag);
	*words = e.words;
	return st;
}

START_TEST(one_by_one)
{
	enum { N = 40 };
	static char *was[N];
	char words[32];
	const char *said;
	size_t len;

	put(path, B, strlen(B));
	for (int i = 0; i < N; i++) {
		was[i] = got(path, &len);
		snprintf(words, sizeof words, "note %d", i);
		enter(words, words);
	}
	for (int i = N - 1; i >= 0; i--) {
		ck_assert_msg(take(&said) == AB_OK, "%d: %s", i, diag.text);
		snprintf(words, sizeof words, "note %d", i);
		ck_assert_str_eq(said, words);
		holds(was[i], words);
		ab_free(was[i]);
	}
	ck_assert_int_eq(take(&said), AB_EUSAGE);
}
END_TEST

/* Any change of the text, at any place, by whatever wrote it: back again. */
START_TEST(any_change)
{
	static const char *const texts[] = { B,
		"<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-08'>\n<note>x</note></batch>\n",
		"<!-- c -->" B, "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'/>",
		B "<!-- behind -->" };
	enum { N = sizeof texts / sizeof *texts };
	const struct ab_undo_entry e = { "taste", NULL, "a", "x\x1b[2Jy", "2031", false, false };
	const char *said;
	struct ab_undo *undo;

	for (int i = 0; i < N * N; i++) {
		put(path, texts[i / N], strlen(texts[i / N]));
		ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_OK);
		put(path, texts[i % N], strlen(texts[i % N]));
		ck_assert_int_eq(ab_undo_end(undo, &e, &diag), AB_OK);
		if (i / N == i % N)
			continue;   /* nothing changed, and nothing is kept */
		ck_assert_msg(take(&said) == AB_OK, "%d: %s", i, diag.text);
		ck_assert_str_eq(said, "x?[2Jy");
		holds(texts[i / N], "any change");
	}
	ck_assert_int_eq(take(&said), AB_EUSAGE);
}
END_TEST

/* Killed at any byte of the trail, or a bit of it turned: the journal is what it was before the entry, or after it,
 * never else. */
START_TEST(broken_trail)
{
	const char *said;
	size_t len, n, back = 0;

	put(path, B, strlen(B));
	enter("one", "note one");
	char *one = got(path, &n);
	enter("two", "note two");
	char *two = got(path, &n), *whole = got(trail, &len), *turned = got(trail, &len);
	for (size_t i = 0; i < 2 * len; i += 3) {
		memcpy(turned, whole, len);
		turned[i % len] ^= 1;
		put(path, two, n);
		put(trail, i < len ? whole : turned, i < len ? i : len);
		enum ab_status st = take(&said);
		ck_assert_msg(st == AB_OK || st == AB_EUSAGE || st == AB_EINPUT, "%zu: %s", i, diag.text);
		holds(st == AB_OK ? one : two, "broken trail");
		back += st == AB_OK;
	}
	/* Of the older record, and of the words and the time of this one, a bit may be turned; of those cut short
	 * none is whole. */
	ck_assert_msg(back > 0 && back < len / 3, "%zu of %zu", back, len);
	ab_free(one);
	ab_free(two);
	ab_free(whole);
	ab_free(turned);
}
END_TEST

/* newest: what is said of the newest entry of the folder. */
static const struct { const char *title, *line; enum ab_status newest; } strange[] = {
	{ "lengths that run over", "entry log 2031 0 18446744073709551615 1 1 1 18446744073709551615 a b\njax\n",
	    AB_EUSAGE },
	{ "a name that runs over", "entry log 2031 0 0 0 18446744073709551615 7 1 a b\nj.xmlax\n", AB_EUSAGE },
	{ "a batch that runs over", "entry log 2031 0 0 0 5 18446744073709551611 7 a b\nj.xmlax\n", AB_EUSAGE },
	{ "longer than there is", "entry log 2031 0 900 1 5 1 1 a b\nj.xmlax\n", AB_EUSAGE },
	{ "no figures", "entry log 2031 zero 0 0 5 1 1 a b\nj.xmlax\n", AB_EUSAGE },
	{ "no line feed behind", "entry log 2031 0 0 0 5 1 1 a b\nj.xmlaxy", AB_EUSAGE },
	{ "digests that fit nothing", "entry log 2031 0 0 0 5 1 1 a b\nj.xmlax\n", AB_OK },
};
START_TEST(strange_trail)
{
	char text[500];
	struct ab_undo_entry e;
	const char *said;

	put(path, B, strlen(B));
	snprintf(text, sizeof text, "afterboil undo 1\n%s", strange[_i].line);
	put(trail, text, strlen(text));
	ck_assert_msg(
	    ab_undo_newest(path, arena, &e, &diag) == strange[_i].newest, "%s: %s", strange[_i].title, diag.text);
	ck_assert_msg(take(&said) == AB_EUSAGE, "%s: %s", strange[_i].title, diag.text);
	holds(B, strange[_i].title);
	/* and what is entered next goes back */
	enter("x", "note x");
	ck_assert_msg(take(&said) == AB_OK, "%s: %s", strange[_i].title, diag.text);
	holds(B, strange[_i].title);
}
END_TEST

static void hex_of(const char *text, size_t len, char hex[65])
{
	struct ab_sha256 s;

	ab_sha256_init(&s);
	ab_sha256_add(&s, text, len);
	ab_sha256_hex(&s, hex);
}

/* A trail whose digests fit: what it asks for is still bounded by the journal, and read as one, before a byte is
 * changed. */
static const struct { const char *title, *figures, *old, *was; size_t n_old, n_was; enum ab_status st; } forged[] = {
	{ "a NUL put in", "0 1 0", "\0", "\0" B, 1, sizeof B, AB_EINPUT },
	{ "all of it NUL", "0 4 76", "\0\0\0", "\0\0\0", 4, 4, AB_EINPUT },
	{ "no journal", "0 1 76", "x", "x", 1, 1, AB_EINPUT },
	{ "what stood there is damaged", "0 1 0", " ", "\n" B, 1, sizeof B, AB_EINPUT },
	{ "from behind its end", "900 1 0", "x", "x", 1, 1, AB_EUSAGE },
	{ "more than it has", "40 1 900", "x", "x", 1, 1, AB_EUSAGE },
};

START_TEST(forged_trail)
{
	char text[1000], before[65], after[65];
	const char *said;

	ck_assert_uint_eq(strlen(B), 76);   /* as the rows have it */
	hex_of(forged[_i].was, forged[_i].n_was, before);
	hex_of(B, strlen(B), after);
	int n = snprintf(text, sizeof text, "afterboil undo 1\nentry log 2031 %s 5 1 1 %s %s\nj.xmlax",
	    forged[_i].figures, before, after);
	memcpy(text + n, forged[_i].old, forged[_i].n_old);
	text[(size_t)n + forged[_i].n_old] = '\n';
	put(path, B, strlen(B));
	put(trail, text, (size_t)n + forged[_i].n_old + 1);
	enum ab_status st = take(&said);
	ck_assert_msg(st == forged[_i].st, "%s: %d %s", forged[_i].title, (int)st, diag.text);
	holds(B, forged[_i].title);
}
END_TEST

/* A folder from a stranger must not choose what is written to, nor what is read without end. */
START_TEST(no_trail_of_ours)
{
	static const char *const texts[] = { "a letter\n", "afterboil undo 2\n", "x" };
	char other[128];
	const char *said;
	struct ab_undo *undo;
	size_t len;

	put(path, B, strlen(B));
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		put(trail, texts[i], strlen(texts[i]));
		ab_diag_init(&diag);
		ck_assert_msg(
		    ab_undo_begin(path, &undo, &diag) == AB_EINPUT && undo == NULL, "%s: %s", texts[i], diag.text);
		char *left = got(trail, &len);
		ck_assert_str_eq(left, texts[i]);
		ab_free(left);
	}
	ck_assert_int_eq(truncate(trail, 2 * AB_UNDO_LIMIT + 1), 0);
	ck_assert_int_eq(take(&said), AB_ELIMIT);
	ck_assert_int_eq(unlink(trail), 0);
	snprintf(other, sizeof other, "%s/other", top);
	put(other, "", 0);
	ck_assert_int_eq(symlink("other", trail), 0);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_ESYSTEM);
	ab_free(got(other, &len));
	ck_assert_uint_eq(len, 0);
	ck_assert_int_eq(unlink(trail), 0);
	ck_assert_int_eq(mkfifo(trail, 0600), 0);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_EINPUT);
}
END_TEST

/* Killed between the journal and the trail: what is gone already is not asked for again, the one before it is meant. */
START_TEST(killed_between)
{
	const char *said;
	size_t len;

	put(path, B, strlen(B));
	enter("one", "note one");
	enter("two", "note two");
	char *whole = got(trail, &len);
	ck_assert_int_eq(take(&said), AB_OK);
	ck_assert_str_eq(said, "note two");
	put(trail, whole, len);
	ck_assert_msg(take(&said) == AB_OK, "%s", diag.text);
	ck_assert_str_eq(said, "note one");
	holds(B, "killed between");
	put(trail, whole, len);
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	holds(B, "killed between");
	ab_free(whole);
}
END_TEST

/* Of two who write at once each waits for the other, or the second would write over the first one's record. */
START_TEST(one_at_a_time)
{
	struct ab_undo *undo;
	int how, go[2];

	put(path, B, strlen(B));
	ck_assert_int_eq(pipe(go), 0);
	/* Begun after the fork, for a lock goes along with the file that is open. */
	pid_t other = fork();
	if (other == 0) {
		char byte;
		_exit(read(go[0], &byte, 1) == 1 && ab_undo_begin(path, &undo, &diag) == AB_OK ? 7 : 1);
	}
	ck_assert_int_gt(other, 0);
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_OK);
	ck_assert_int_eq(write(go[1], "x", 1), 1);
	nanosleep(&(struct timespec){ .tv_nsec = 200000000 }, NULL);
	ck_assert_int_eq(waitpid(other, &how, WNOHANG), 0);
	ck_assert_int_eq(
	    ab_undo_end(undo, &(struct ab_undo_entry){ "log", NULL, "a", "x", "2031", false, false }, &diag),
	    AB_OK);
	ck_assert_int_eq(waitpid(other, &how, 0), other);
	ck_assert(WIFEXITED(how) && WEXITSTATUS(how) == 7);
}
END_TEST

/* One larger than all that is kept goes, and those before it with it. */
START_TEST(too_large)
{
	enum { HUGE = AB_UNDO_LIMIT + 1000 };
	static char text[HUGE + 2 * sizeof B];
	const struct ab_undo_entry e = { "log", NULL, "a", "huge", "2031", false, false };
	const char *said;
	struct ab_undo *undo;
	struct stat sb;

	put(path, B, strlen(B));
	enter("x", "note x");
	memset(text, ' ', HUGE);
	memcpy(text + HUGE, B, sizeof B);
	put(path, text, strlen(text));
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_OK);
	put(path, B, strlen(B));
	ck_assert_int_eq(ab_undo_end(undo, &e, &diag), AB_OK);
	ck_assert_int_eq(stat(trail, &sb), 0);
	ck_assert_int_lt(sb.st_size, 100);
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	holds(B, "too large");
}
END_TEST

/* It does not grow without end, and the newest are those that stay. */
START_TEST(bounded)
{
	static char words[4001];
	const char *said;
	struct stat sb;
	int n = 0;

	memset(words, 'x', sizeof words - 1);
	put(path, B, strlen(B));
	for (int i = 0; i < 100; i++)
		enter("x", words);
	ck_assert(stat(trail, &sb) == 0 && sb.st_size <= AB_UNDO_LIMIT + 64 && sb.st_size > AB_UNDO_LIMIT / 2);
	while (take(&said) == AB_OK)
		n++;
	ck_assert_msg(n > 50 && n < 70, "%d", n);
}
END_TEST

START_TEST(other_files)
{
	struct ab_undo_entry e;
	const char *said;

	put(path, B, strlen(B));
	enter("x", "note x");
	ck_assert_int_eq(ab_undo_newest(path, arena, &e, &diag), AB_OK);
	ck_assert_str_eq(e.file, "j.xml");
	ck_assert_str_eq(e.batch, "a");
	ck_assert_int_eq(ab_undo_take(path, "b", NULL, arena, &e, &diag), AB_EUSAGE);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_undo_take(path, "a", "taste", arena, &e, &diag), AB_EUSAGE);
	snprintf(path, sizeof path, "%s/k.xml", top);
	put(path, B, strlen(B));
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	/* a name that begins as the other does is another's */
	snprintf(path, sizeof path, "%s/j.xml.xml", top);
	put(path, B, strlen(B));
	enter("y", "note y");
	snprintf(path, sizeof path, "%s/j.xml", top);
	ck_assert_int_eq(take(&said), AB_OK);
	ck_assert_str_eq(said, "note x");
	enter("z", "note z");
	snprintf(path, sizeof path, "%s/j.xml.xml", top);
	ck_assert_int_eq(take(&said), AB_OK);
	ck_assert_str_eq(said, "note y");
	snprintf(path, sizeof path, "%s/j.xml", top);
	ck_assert_int_eq(unlink(trail), 0);
	ck_assert_int_eq(ab_undo_newest(path, arena, &e, &diag), AB_EUSAGE);
	ab_diag_init(&diag);
	ck_assert_int_eq(mkdir(trail, 0700), 0);
	struct ab_undo *undo;
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_ESYSTEM);
	ck_assert_ptr_null(undo);
	ck_assert_int_eq(ab_undo_end(NULL, &e, &diag), AB_OK);
}
END_TEST

/* One answer of a sitting. */
static void answer(const char *text, bool goes_on)
{
	const struct ab_undo_entry e = { "enter", NULL, "a", text, "2031", goes_on, false };
	struct ab_undo *undo;

	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_OK);
	put(path, text, strlen(text));
	ck_assert_msg(ab_undo_end(undo, &e, &diag) == AB_OK, "%s", diag.text);
}

#define S(more) "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'>\n" more "</batch>\n"

/* All answers of a sitting go back as one, wherever in the file they were; a second sitting is one of its own. */
START_TEST(one_sitting)
{
	const char *said;

	put(path, B, strlen(B));
	enter("before", "note before");
	answer(S("<note>before</note><note>1</note>\n"), false);
	answer("<!-- c -->" S("<note>before</note><note>1</note>\n"), true);
	answer("<!-- c -->" S("<note>2</note>\n"), true);
	answer(S("<note>second</note>\n"), false);
	ck_assert_int_eq(take(&said), AB_OK);
	ck_assert_ptr_nonnull(strstr(said, "second"));
	holds("<!-- c -->" S("<note>2</note>\n"), "the second sitting");
	ck_assert_int_eq(take(&said), AB_OK);
	size_t len;
	char *now = got(path, &len);
	ck_assert_ptr_nonnull(strstr(now, "before"));
	ck_assert_ptr_null(strstr(now, "1</note>"));
	ab_free(now);
	ck_assert_int_eq(take(&said), AB_OK);
	ck_assert_str_eq(said, "note before");
	holds(B, "and what was there before");
}
END_TEST

/* Who wrote meanwhile keeps what he wrote: the sitting is then two, and neither takes it along. */
START_TEST(sitting_parted)
{
	const char *said;

	put(path, B, strlen(B));
	answer(S("<note>1</note>\n"), false);
	enter("log", "note log");
	size_t len;
	char *logged = got(path, &len);
	answer(S("<note>3</note>\n"), true);
	ck_assert_int_eq(take(&said), AB_OK);
	holds(logged, "the second half");
	ck_assert_int_eq(take(&said), AB_OK);
	ck_assert_str_eq(said, "note log");
	ck_assert_int_eq(take(&said), AB_OK);
	holds(B, "the first half");
	ab_free(logged);
	/* by hand meanwhile: what was typed after it goes back, and no more */
	answer(S("<note>1</note>\n"), false);
	put(path, S("<note>hand</note>\n"), strlen(S("<note>hand</note>\n")));
	answer(S("<note>hand</note><note>2</note>\n"), true);
	ck_assert_int_eq(take(&said), AB_OK);
	holds(S("<note>hand</note>\n"), "by hand meanwhile");
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	holds(S("<note>hand</note>\n"), "by hand meanwhile");
}
END_TEST

/* Records of other journals stay where a sitting's own is replaced; one taken back while it lasts leaves none. */
START_TEST(sitting_among_others)
{
	struct ab_undo_entry e;
	const char *said;
	char mine[96];

	put(path, B, strlen(B));
	answer(S("<note>1</note>\n"), false);
	strcpy(mine, path);
	snprintf(path, sizeof path, "%s/k.xml", top);
	put(path, B, strlen(B));
	enter("k", "note k");
	strcpy(path, mine);
	answer(S("<note>12</note>\n"), true);
	answer(B, true);
	ck_assert_int_eq(ab_undo_newest(path, arena, &e, &diag), AB_OK);
	ck_assert_str_eq(e.words, "note k");
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_undo_last(path, arena, &e, &diag), AB_EUSAGE);
	ab_diag_init(&diag);
	answer(S("<note>1</note>\n"), true);
	ck_assert_int_eq(ab_undo_last(path, arena, &e, &diag), AB_OK);
	ck_assert(!e.begun);
	ck_assert_int_eq(take(&said), AB_OK);
	holds(B, "among others");
	snprintf(path, sizeof path, "%s/k.xml", top);
	ck_assert_int_eq(take(&said), AB_OK);
	holds(B, "the other");
}
END_TEST

/* A journal that was begun goes as a file, but only as it was begun; a forged record must not choose another. */
START_TEST(begun)
{
	struct ab_undo_entry e;
	const char *said;
	struct ab_undo *undo;

	answer(S("<note>1</note>\n"), false);
	answer(S("<note>12</note>\n"), true);
	ck_assert_int_eq(ab_undo_last(path, arena, &e, &diag), AB_OK);
	ck_assert(e.begun);
	ck_assert_int_eq(take(&said), AB_OK);
	ck_assert_int_ne(access(path, F_OK), 0);
	answer(B, false);
	put(path, B " ", strlen(B) + 1);
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	holds(B " ", "changed since");
	/* nothing came of it */
	ck_assert_int_eq(unlink(path), 0);
	ck_assert_int_eq(unlink(trail), 0);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_OK);
	ck_assert_int_eq(
	    ab_undo_end(
		undo, &(struct ab_undo_entry){ .kind = "new", .batch = "a", .words = "", .at = "2031" }, &diag),
	    AB_OK);
	ck_assert_int_eq(ab_undo_newest(path, arena, &e, &diag), AB_EUSAGE);
	/* of a part of the file only, "there was none" is a forgery */
	char text[500], hex[65];
	hex_of(B, strlen(B), hex);
	put(path, B, strlen(B));
	put(trail, text,
	    (size_t)snprintf(
		text, sizeof text, "afterboil undo 1\nentry log 2031 0 0 4 5 1 1 absent %s\nj.xmlax\n", hex));
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	holds(B, "a forgery");
	/* a pipe is not waited for */
	ck_assert_int_eq(unlink(path), 0);
	ck_assert_int_eq(mkfifo(path, 0600), 0);
	(void)unlink(trail);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_EINPUT);
	/* nor is anything begun beside it: it may be a device of everybody's */
	ck_assert_int_ne(access(trail, F_OK), 0);
}
END_TEST

/* What is noted in a profile is no entry of a journal, and is known by its words. */
START_TEST(kept_words)
{
	struct ab_undo_entry e;
	struct ab_undo *undo;
	bool kept = true;

	put(path, B, strlen(B));
	ck_assert_int_eq(ab_undo_kept(path, AB_UNDO_CHANGED, "x", false, &kept, &diag), AB_OK);
	ck_assert(!kept);
	for (int i = 0; i < 2; i++) {
		ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_OK);
		put(path, i == 0 ? B " " : B "  ", strlen(B) + 1 + (size_t)i);
		ck_assert_int_eq(
		    ab_undo_end(undo,
			&(struct ab_undo_entry){
			    .kind = AB_UNDO_CHANGED, .batch = "", .words = i == 0 ? "x" : "y", .at = "2031" },
			&diag),
		    AB_OK);
	}
	ck_assert_int_eq(ab_undo_newest(path, arena, &e, &diag), AB_EUSAGE);
	ab_diag_init(&diag);
	ck_assert(ab_undo_kept(path, "log", "x", false, &kept, &diag) == AB_OK && !kept);
	ck_assert(ab_undo_kept(path, AB_UNDO_CHANGED, "xy", false, &kept, &diag) == AB_OK && !kept);
	ck_assert(ab_undo_kept(path, AB_UNDO_CHANGED, "x", true, &kept, &diag) == AB_OK && kept);
	ck_assert(ab_undo_kept(path, AB_UNDO_CHANGED, "x", false, &kept, &diag) == AB_OK && !kept);
	ck_assert(ab_undo_kept(path, AB_UNDO_CHANGED, "y", false, &kept, &diag) == AB_OK && kept);
	snprintf(path, sizeof path, "%s/k.xml", top);
	ck_assert(ab_undo_kept(path, AB_UNDO_CHANGED, "y", false, &kept, &diag) == AB_OK && !kept);
}
END_TEST

START_TEST(short_memory)
{
	const struct ab_undo_entry e = { "log", NULL, "a", "note y", "2031", false, false };
	enum ab_status st = AB_ENOMEM;
	const char *said;
	size_t n, len;

	put(path, B, strlen(B));
	enter("x", "note x");
	char *one = got(path, &n), *whole = got(trail, &len);
	for (long i = 0; st != AB_OK && i < 2000; i++) {
		put(path, one, n);
		put(trail, whole, len);
		ab_alloc_fail_at(i);
		st = take(&said);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", i, diag.text);
		holds(st == AB_OK ? B : one, "short memory");
	}
	ck_assert_int_eq(st, AB_OK);
	st = AB_ENOMEM;
	for (long i = 0; st != AB_OK && i < 2000; i++) {
		struct ab_undo *undo;
		ab_diag_init(&diag);
		ab_alloc_fail_at(i);
		st = ab_undo_begin(path, &undo, &diag);
		put(path, one, n);
		if (st == AB_OK)
			st = ab_undo_end(undo, &e, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", i, diag.text);
		put(path, B, strlen(B));
	}
	ck_assert_int_eq(st, AB_OK);
	ab_free(one);
	ab_free(whole);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("undo");
	TCase *tc = tcase_create("undo");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);   /* each of hundreds of journals is brought to the disk */
	tcase_add_test(tc, one_by_one);
	tcase_add_test(tc, any_change);
	tcase_add_test(tc, broken_trail);
	tcase_add_loop_test(tc, strange_trail, 0, sizeof strange / sizeof *strange);
	tcase_add_loop_test(tc, forged_trail, 0, sizeof forged / sizeof *forged);
	tcase_add_test(tc, no_trail_of_ours);
	tcase_add_test(tc, killed_between);
	tcase_add_test(tc, one_at_a_time);
	tcase_add_test(tc, too_large);
	tcase_add_test(tc, bounded);
	tcase_add_test(tc, other_files);
	tcase_add_test(tc, one_sitting);
	tcase_add_test(tc, sitting_parted);
	tcase_add_test(tc, sitting_among_others);
	tcase_add_test(tc, begun);
	tcase_add_test(tc, kept_words);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
