/* check_savefile.c - files are replaced whole or not at all, links followed, devices left in place
 *
 * Modes, links, odd targets, limits, failures, and a kill at any moment.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/savefile.h"

#include <check.h>
#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/alloc.h"

static char home[64];
static struct ab_diag diag;

static void set_up(void)
{
	snprintf(home, sizeof home, "/tmp/check_savefile.XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(home));
	ck_assert_int_eq(chdir(home), 0);
	umask(022);
	ab_diag_init(&diag);
}

static void clear(const char *folder)
{
	DIR *dir = opendir(folder);
	struct dirent *e;
	while (dir != NULL && (e = readdir(dir)) != NULL) {
		char path[600];
		snprintf(path, sizeof path, "%s/%s", folder, e->d_name);
		if (strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0 && unlink(path) != 0) {
			clear(path);
			rmdir(path);
		}
	}
	if (dir != NULL)
		closedir(dir);
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	clear(home);
	ck_assert_int_eq(chdir("/"), 0);
	rmdir(home);
}

/* How many names a folder holds: a forgotten temporary file shows here. */
static int names_in(const char *folder)
{
	DIR *dir = opendir(folder);
	int n = -2;
	ck_assert_ptr_nonnull(dir);
	while (readdir(dir) != NULL)
		n++;
	closedir(dir);
	return n;
}

static void put(const char *path, const char *text)
{
	FILE *f = fopen(path, "w");
	ck_assert_ptr_nonnull(f);
	fputs(text, f);
	fclose(f);
}

static void holds(const char *path, const char *text)
{
	char *got;
	size_t len;
	ab_diag_init(&diag);
	ck_assert_msg(ab_loadfile(path, 1000000, &got, &len, &diag) == AB_OK, "%s", diag.text);
	ck_assert_uint_eq(len, strlen(text));
	ck_assert_str_eq(got, text);
	ab_free(got);
}

static mode_t mode_of(const char *path)
{
	struct stat st;
	ck_assert_int_eq(lstat(path, &st), 0);
	return st.st_mode;
}

START_TEST(new_file)
{
	ck_assert_int_eq(ab_savefile("a.xml", "one", 3, &diag), AB_OK);
	holds("a.xml", "one");
	ck_assert_int_eq(mode_of("a.xml") & 07777, 0644);
	ck_assert_int_eq(names_in("."), 1);
}
END_TEST

/* What is there stays, whatever it is: a file, a folder, a link that leads nowhere. */
START_TEST(only_new)
{
	ck_assert_int_eq(ab_savefile_new("a.xml", "one", 3, &diag), AB_OK);
	holds("a.xml", "one");
	ck_assert_int_eq(mode_of("a.xml") & 07777, 0644);
	ck_assert_int_eq(symlink("nowhere", "link.xml"), 0);
	ck_assert_int_eq(mkdir("folder.xml", 0777), 0);
	static const char *const there[] = { "a.xml", "link.xml", "folder.xml" };
	for (size_t i = 0; i < sizeof there / sizeof *there; i++) {
		ab_diag_init(&diag);
		ck_assert_int_eq(ab_savefile_new(there[i], "two", 3, &diag), AB_EUSAGE);
		ck_assert_ptr_nonnull(strstr(diag.text, "not overwritten"));
	}
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_savefile_new("none/a.xml", "two", 3, &diag), AB_ESYSTEM);
	holds("a.xml", "one");
	ck_assert_int_eq(names_in("."), 3);
}
END_TEST

/* Of many who want one name one gets it, and nobody's half stays. */
START_TEST(only_one_gets_the_name)
{
	enum { MANY = 8 };
	int won = 0;
	for (int i = 0; i < MANY; i++) {
		pid_t pid = fork();
		ck_assert_int_ge(pid, 0);
		if (pid == 0)
			_exit(ab_savefile_new("a.xml", "one", 3, &diag) == AB_OK ? 0 : 1);
	}
	for (int i = 0; i < MANY; i++) {
		int status;
		ck_assert_int_gt(wait(&status), 0);
		won += WIFEXITED(status) && WEXITSTATUS(status) == 0;
	}
	ck_assert_int_eq(won, 1);
	holds("a.xml", "one");
	ck_assert_int_eq(names_in("."), 1);
}
END_TEST

START_TEST(umask_is_kept)
{
	umask(077);
	ck_assert_int_eq(ab_savefile("a.xml", "one", 3, &diag), AB_OK);
	ck_assert_int_eq(mode_of("a.xml") & 07777, 0600);
}
END_TEST

static const mode_t modes[] = { 0600, 0640, 0644, 0664, 0755, 0200 };

START_TEST(mode_is_kept)
{
	put("a.xml", "old and longer");
	chmod("a.xml", modes[_i]);
	ck_assert_int_eq(ab_savefile("a.xml", "new", 3, &diag), AB_OK);
	ck_assert_int_eq(mode_of("a.xml") & 07777, modes[_i]);
	chmod("a.xml", 0600);
	holds("a.xml", "new");
	ck_assert_int_eq(names_in("."), 1);
}
END_TEST

START_TEST(empty_and_large)
{
	char *big = malloc(3000001);
	memset(big, 'x', 3000000);
	big[3000000] = '\0';
	ck_assert_int_eq(ab_savefile("big", big, 3000000, &diag), AB_OK);
	struct stat st;
	stat("big", &st);
	ck_assert_int_eq(st.st_size, 3000000);
	ck_assert_int_eq(ab_savefile("big", "", 0, &diag), AB_OK);
	holds("big", "");
	free(big);
}
END_TEST

/* Where the links lead, and which file must hold the new content afterwards. */
START_TEST(links)
{
	ck_assert_int_eq(mkdir("far", 0755), 0);
	put("far/real.xml", "old");
	ck_assert_int_eq(symlink("far/real.xml", "direct"), 0);
	ck_assert_int_eq(symlink("../direct", "far/back"), 0);
	ck_assert_int_eq(symlink("far/back", "twice"), 0);
	ck_assert_int_eq(symlink("far/not-yet.xml", "dangling"), 0);
	ck_assert_int_eq(ab_savefile("direct", "1", 1, &diag), AB_OK);
	holds("far/real.xml", "1");
	ck_assert_int_eq(ab_savefile("twice", "2", 1, &diag), AB_OK);
	holds("far/real.xml", "2");
	ck_assert_int_eq(ab_savefile("dangling", "3", 1, &diag), AB_OK);
	holds("far/not-yet.xml", "3");
	ck_assert(S_ISLNK(mode_of("direct")) && S_ISLNK(mode_of("twice")) && S_ISLNK(mode_of("far/back")) &&
	    S_ISLNK(mode_of("dangling")));
	ck_assert_int_eq(names_in("."), 4);
	ck_assert_int_eq(names_in("far"), 3);
}
END_TEST

START_TEST(absolute_link)
{
	char target[100];
	snprintf(target, sizeof target, "%s/real.xml", home);
	put("real.xml", "old");
	ck_assert_int_eq(symlink(target, "abs"), 0);
	ck_assert_int_eq(ab_savefile("abs", "new", 3, &diag), AB_OK);
	holds("real.xml", "new");
	ck_assert(S_ISLNK(mode_of("abs")));
}
END_TEST

START_TEST(link_in_circles)
{
	ck_assert_int_eq(symlink("b", "a"), 0);
	ck_assert_int_eq(symlink("a", "b"), 0);
	ck_assert_int_eq(ab_savefile("a", "x", 1, &diag), AB_ESYSTEM);
	ck_assert_str_eq(diag.source, "a");
	ck_assert(S_ISLNK(mode_of("a")));
}
END_TEST

START_TEST(null_device)
{
	ck_assert_int_eq(ab_savefile("/dev/null", "x", 1, &diag), AB_OK);
	ck_assert(S_ISCHR(mode_of("/dev/null")));
	ck_assert_int_eq(symlink("/dev/null", "sink"), 0);
	ck_assert_int_eq(ab_savefile("sink", "x", 1, &diag), AB_OK);
	ck_assert(S_ISLNK(mode_of("sink")) && S_ISCHR(mode_of("/dev/null")));
}
END_TEST

START_TEST(full_device)
{
	ck_assert_int_eq(ab_savefile("/dev/full", "x", 1, &diag), AB_ESYSTEM);
	ck_assert_msg(strstr(diag.text, "No space left") != NULL, "%s", diag.text);
	ck_assert_str_eq(diag.source, "/dev/full");
}
END_TEST

START_TEST(pipe_in_place)
{
	char got[8] = "";
	ck_assert_int_eq(mkfifo("pipe", 0600), 0);
	int fd = open("pipe", O_RDONLY | O_NONBLOCK);
	ck_assert_int_eq(ab_savefile("pipe", "flow", 4, &diag), AB_OK);
	ck_assert_int_eq(read(fd, got, sizeof got), 4);
	ck_assert_str_eq(got, "flow");
	close(fd);
	ck_assert(S_ISFIFO(mode_of("pipe")));
}
END_TEST

static const struct { const char *path; } refused[] = {
	{ "nowhere/a.xml" }, { "." }, { "" }, { "file/a.xml" }, { "closed/a.xml" },
};

START_TEST(refused_rows)
{
	put("file", "old");
	mkdir("closed", 0500);
	if (geteuid() == 0 && strcmp(refused[_i].path, "closed/a.xml") == 0)
		return;  /* root may write anywhere: nothing to see */
	ck_assert_msg(ab_savefile(refused[_i].path, "x", 1, &diag) == AB_ESYSTEM, "%s", refused[_i].path);
	ck_assert_str_eq(diag.source, refused[_i].path);
	ck_assert_msg(strlen(diag.text) > 10, "%s", diag.text);
	ck_assert_int_eq(names_in("."), 2);
	holds("file", "old");
}
END_TEST

START_TEST(long_path)
{
	char path[5000];
	memset(path, 'a', sizeof path);
	path[sizeof path - 1] = '\0';
	ck_assert_int_eq(ab_savefile(path, "x", 1, &diag), AB_ESYSTEM);
	/* the longest name there is leaves no room for a longer temporary one beside it */
	path[255] = '\0';
	ab_diag_init(&diag);
	ck_assert_msg(ab_savefile(path, "x", 1, &diag) == AB_OK, "%s", diag.text);
	ck_assert_int_eq(names_in("."), 1);
}
END_TEST

/* The disk is full half-way: the old content stays and no rubbish with it. */
START_TEST(no_room)
{
	char *big = calloc(1, 200000);
	struct rlimit small = { 100000, 100000 }, was;
	put("a.xml", "precious");
	signal(SIGXFSZ, SIG_IGN);
	getrlimit(RLIMIT_FSIZE, &was);
	small.rlim_max = was.rlim_max;
	setrlimit(RLIMIT_FSIZE, &small);
	ck_assert_int_eq(ab_savefile("a.xml", big, 200000, &diag), AB_ESYSTEM);
	setrlimit(RLIMIT_FSIZE, &was);
	ck_assert_msg(strstr(diag.text, "cannot write") != NULL, "%s", diag.text);
	holds("a.xml", "precious");
	ck_assert_int_eq(names_in("."), 1);
	free(big);
}
END_TEST

/* Whoever has the old file open keeps the whole old content. */
START_TEST(readers_see_one_or_the_other)
{
	char got[16] = "";
	put("a.xml", "old");
	int fd = open("a.xml", O_RDONLY);
	ck_assert_int_eq(ab_savefile("a.xml", "brand new", 9, &diag), AB_OK);
	ck_assert_int_eq(read(fd, got, sizeof got), 3);
	ck_assert_str_eq(got, "old");
	close(fd);
	holds("a.xml", "brand new");
}
END_TEST

START_TEST(left_over_of_a_kill)
{
	char name[64];
	snprintf(name, sizeof name, ".saving-%ld-0", (long)getpid());
	put(name, "half");
	ck_assert_int_eq(ab_savefile("a.xml", "new", 3, &diag), AB_OK);
	holds("a.xml", "new");
	holds(name, "half");
}
END_TEST

/* A saver in a loop, killed after a while that differs each time: all of one letter must be there, never a mixture. */
START_TEST(kill_at_any_moment)
{
	enum { N = 300000, KILLS = 40 };
	char *text = malloc(N), *got;
	size_t len;
	memset(text, 'a', N);
	ck_assert_int_eq(ab_savefile("a.xml", text, N, &diag), AB_OK);
	for (int k = 0; k < KILLS; k++) {
		pid_t child = fork();
		if (child == 0)
			for (int i = 0;; i++) {
				memset(text, 'a' + i % 26, N);
				ab_savefile("a.xml", text, N, NULL);
			}
		struct timespec wait = { 0, 300000L * (k + 1) };
		nanosleep(&wait, NULL);
		kill(child, SIGKILL);
		waitpid(child, NULL, 0);
		ck_assert_int_eq(ab_loadfile("a.xml", 2 * N, &got, &len, &diag), AB_OK);
		ck_assert_uint_eq(len, N);
		memset(text, got[0], N);
		ck_assert_msg(memcmp(text, got, N) == 0, "a mixture after kill %d", k);
		ab_free(got);
	}
	free(text);
}
END_TEST

static const struct { size_t size, limit; enum ab_status st; } loads[] = {
	{ 0, 0, AB_OK }, { 1, 0, AB_ELIMIT }, { 10, 10, AB_OK }, { 11, 10, AB_ELIMIT }, { 16383, 16383, AB_OK },
	{ 16384, 16384, AB_OK }, { 16385, 16385, AB_OK }, { 16386, 16385, AB_ELIMIT }, { 200000, 1000000, AB_OK },
	{ 200000, 199999, AB_ELIMIT }, { 32767, 40000, AB_OK }, { 32768, 40000, AB_OK },
};

START_TEST(load_rows)
{
	char *text = calloc(1, loads[_i].size + 1), *got;
	size_t len;
	memset(text, 'x', loads[_i].size);
	put("f", text);
	ck_assert_msg(
	    ab_loadfile("f", loads[_i].limit, &got, &len, &diag) == loads[_i].st, "row %d: %s", _i, diag.text);
	if (loads[_i].st == AB_OK) {
		ck_assert_uint_eq(len, loads[_i].size);
		ck_assert_msg(strcmp(got, text) == 0, "row %d", _i);
	} else {
		ck_assert_ptr_null(got);
		ck_assert_str_eq(diag.source, "f");
	}
	ab_free(got);
	free(text);
}
END_TEST

START_TEST(load_refused)
{
	char *got = (char *)home;
	size_t len = 7;
	ck_assert_int_eq(ab_loadfile("nowhere", 10, &got, &len, &diag), AB_ESYSTEM);
	ck_assert(got == NULL && len == 0);
	ck_assert_msg(strstr(diag.text, "No such file") != NULL, "%s", diag.text);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_loadfile(".", 10, &got, &len, &diag), AB_ESYSTEM);
	put("f", "text");
	ab_diag_init(&diag);
	ab_alloc_fail_at(0);
	ck_assert_int_eq(ab_loadfile("f", 10, &got, &len, &diag), AB_ENOMEM);
	ab_alloc_fail_at(-1);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_loadfile("/dev/zero", 100000, &got, &len, &diag), AB_ELIMIT);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("savefile");
	TCase *tc = tcase_create("savefile");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_test(tc, new_file);
	tcase_add_test(tc, only_new);
	tcase_add_test(tc, only_one_gets_the_name);
	tcase_add_test(tc, umask_is_kept);
	tcase_add_loop_test(tc, mode_is_kept, 0, sizeof modes / sizeof *modes);
	tcase_add_test(tc, empty_and_large);
	tcase_add_test(tc, links);
	tcase_add_test(tc, absolute_link);
	tcase_add_test(tc, link_in_circles);
	tcase_add_test(tc, null_device);
	tcase_add_test(tc, full_device);
	tcase_add_test(tc, pipe_in_place);
	tcase_add_loop_test(tc, refused_rows, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, long_path);
	tcase_add_test(tc, no_room);
	tcase_add_test(tc, readers_see_one_or_the_other);
	tcase_add_test(tc, left_over_of_a_kill);
	tcase_add_test(tc, kill_at_any_moment);
	tcase_add_loop_test(tc, load_rows, 0, sizeof loads / sizeof *loads);
	tcase_add_test(tc, load_refused);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
