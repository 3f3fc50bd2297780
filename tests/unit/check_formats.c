/* check_formats.c - the manual pages of the formats hold every row of the tables, and no note of what is not there
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "clicase.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"
#include "cli/manformats.h"

static struct cli cli;

static const struct page {
	const char *name;
	const struct format_page *page;
	enum ab_status (*write)(struct cli *cli);
	size_t least;
} pages[] = {
	{ "journal", &format_journal, journal_page, 40 },
	{ "rules", &format_rules, rules_page, 30 },
};
enum { PAGES = sizeof pages / sizeof *pages };

static char *written(const struct page *p)
{
	cc_begin(&cli, NULL);
	char *text = cc_written(p->write, &cli);
	cc_end(&cli);
	return text;
}

/* The page's section of an element, a copy for free; NULL without one. */
static char *section(const char *text, const char *name)
{
	char head[96];
	snprintf(head, sizeof head, "\n.Ss <%s>\n", name);
	const char *at = strstr(text, head);
	if (at == NULL)
		return NULL;
	ck_assert_msg(strstr(at + 1, head) == NULL, "<%s> stands twice", name);
	const char *ss = strstr(at + 1, "\n.Ss "), *sh = strstr(at + 1, "\n.Sh ");
	const char *end = ss != NULL && (sh == NULL || ss < sh) ? ss : sh;
	ck_assert_ptr_nonnull(end);
	return strndup(at, (size_t)(end - at) + 1);
}

/* What follows a row's head up to the next row, line breaks as blanks; in out. */
static void row(const char *part, const char *head, char *out, size_t size)
{
	const char *at = strstr(part, head);
	ck_assert_msg(at != NULL, "no \"%s\" in %s", head, part);
	at += strlen(head);
	const char *end = strstr(at - 1, "\n.");
	ck_assert_ptr_nonnull(end);
	snprintf(out, size, "%.*s", (int)(end >= at ? end - at : 0), at);
	for (char *c = out; *c != '\0'; c++)
		if (*c == '\n')
			*c = ' ';
}

static void holds_attribute(const char *part, const struct ab_attr_spec *a)
{
	char head[96], text[2048], word[96];
	snprintf(head, sizeof head, "\n.It Cm %s\n", a->name);
	row(part, head, text, sizeof text);
	ck_assert_msg((strstr(text, "Needed: ") != NULL) == a->required, "%s: %s", a->name, text);
	for (const char *const *w = a->kind == AB_ATTR_WORD ? a->words : NULL; w != NULL && *w != NULL; w++) {
		snprintf(word, sizeof word, " %s%s", *w, w[1] != NULL ? "," : ".");
		ck_assert_msg(strstr(text, word) != NULL, "%s: no \"%s\" in %s", a->name, word, text);
	}
	bool bound = (a->kind == AB_ATTR_QUANTITY || a->kind == AB_ATTR_NUMBER) && (a->lo != 0 || a->hi != 0);
	ck_assert_msg(
	    (strstr(text, " from ") != NULL && strstr(text, " to ") != NULL) || !bound, "%s: %s", a->name, text);
}

START_TEST(every_row_stands_there)
{
	const struct page *p = &pages[_i];
	const struct ab_elem_spec *elems[FORMAT_MOST];
	char *text = written(p), head[96], said[2048];
	size_t n = format_elements(p->page, elems);
	ck_assert_msg(n >= p->least, "%zu elements", n);
	for (size_t i = 0; i < n; i++) {
		char *part = section(text, elems[i]->name);
		ck_assert_msg(part != NULL, "no <%s>", elems[i]->name);
		for (const struct ab_attr_spec *a = elems[i]->attrs; a != NULL && a->name != NULL; a++)
			holds_attribute(part, a);
		/* usual holds what batch holds, and says so */
		bool like = strstr(part, "Holds what <batch> holds.") != NULL;
		ck_assert_int_eq(like, strcmp(elems[i]->name, "usual") == 0);
		for (const struct ab_elem_spec *c = elems[i]->children; !like && c != NULL && c->name != NULL; c++) {
			snprintf(head, sizeof head, "\n.It Ic <%s>\n", c->name);
			row(part, head, said, sizeof said);
			ck_assert_msg(strstr(said, c->says + 1) != NULL, "<%s>: %s", c->name, said);
			ck_assert_msg((strstr(said, "Needed") != NULL) == c->required, "<%s>: %s", c->name, said);
		}
		free(part);
	}
	free(text);
}
END_TEST

/* A section is found by its name alone: two elements of one name must be the same, except in what is said of them. */
START_TEST(names_mean_one_thing)
{
	const struct ab_elem_spec *elems[FORMAT_MOST];
	size_t n = format_elements(pages[_i].page, elems);
	for (size_t i = 0; i < n; i++)
		for (const struct ab_elem_spec *c = elems[i]->children; c != NULL && c->name != NULL; c++) {
			const struct ab_elem_spec *shown = NULL;
			for (size_t k = 0; k < n; k++)
				if (strcmp(elems[k]->name, c->name) == 0)
					shown = elems[k];
			ck_assert_msg((shown != NULL) == (c->attrs != NULL || c->children != NULL), "<%s>", c->name);
			ck_assert_msg(shown == NULL || (shown->attrs == c->attrs && shown->children == c->children),
			    "two kinds of <%s>", c->name);
		}
}
END_TEST

/* A note of an attribute that is gone, or that is never shown because each element has its own, is a mistake. */
START_TEST(no_note_is_left_over)
{
	const struct format_page *page = pages[_i].page;
	const struct ab_elem_spec *elems[FORMAT_MOST];
	size_t n = format_elements(page, elems);
	for (const struct format_note *note = page->notes; note->attribute != NULL; note++) {
		bool used = false;
		for (size_t i = 0; i < n; i++)
			for (const struct ab_attr_spec *a = elems[i]->attrs; a != NULL && a->name != NULL; a++)
				used |= format_note_of(page, elems[i]->name, a->name) == note->says &&
				    strcmp(a->name, note->attribute) == 0;
		ck_assert_msg(used, "%s of <%s>", note->attribute, note->element != NULL ? note->element : "any");
	}
}
END_TEST

/* Bounds in the units of the thing, worked out by hand from the tables. */
START_TEST(bounds_are_readable)
{
	static const struct { int page; const char *element, *attribute, *want; } rows[] = {
		{ 0, "malt", "age", "A length of time from 0 to 50 y." },
		{ 0, "malt", "share", "A share from 0 to 100 %." },
		{ 0, "malt", "amount", "A mass from 0 to 500 kg." },
		{ 0, "log", "utc-offset", "A length of time from -15 h to 15 h." },
		{ 0, "chill", "to-pitch", "A length of time from 0 to 100 d." },
		{ 0, "serve", "line-bore", "A length from 0.5 mm to 50 mm." },
		{ 0, "brewery", "altitude", "A length from -430 m to 5500 m." },
		{ 0, "found", "intensity", "A number from 1 to 5." },
		{ 1, "yeast", "attenuation-high", "Needed: a share from 10 % to 110 %." },
		{ 1, "change", "attend", "A length of time from 0 to 463 d." },
		{ 1, "due", "slow", "A number from 1 to 5." },
	};
	char *text = written(&pages[rows[_i].page]), *part = section(text, rows[_i].element), head[96], said[512];
	snprintf(head, sizeof head, "\n.It Cm %s\n", rows[_i].attribute);
	row(part, head, said, sizeof said);
	ck_assert_msg(strstr(said, rows[_i].want) != NULL, "%s %s: %s", rows[_i].element, rows[_i].attribute, said);
	free(part);
	free(text);
}
END_TEST

/* Half a page would look whole: short of memory anywhere nothing is written, and the status says why. */
START_TEST(short_of_memory)
{
	const struct page *p = &pages[_i];
	cc_begin(&cli, NULL);
	ab_alloc_fail_at(-1);
	free(cc_written(p->write, &cli));
	long n = ab_alloc_count();
	ck_assert_int_gt(n, 5);
	for (long k = 0; k < n; k++) {
		ab_alloc_fail_at(k);
		enum ab_status st = p->write(&cli);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_ENOMEM, "allocation %ld of %ld: status %d", k, n, (int)st);
	}
	cc_end(&cli);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("formats");
	TCase *tc = tcase_create("formats");
	tcase_add_loop_test(tc, every_row_stands_there, 0, PAGES);
	tcase_add_loop_test(tc, names_mean_one_thing, 0, PAGES);
	tcase_add_loop_test(tc, no_note_is_left_over, 0, PAGES);
	tcase_add_loop_test(tc, bounds_are_readable, 0, 11);
	tcase_add_loop_test(tc, short_of_memory, 0, PAGES);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
