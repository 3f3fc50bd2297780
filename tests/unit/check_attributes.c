/* check_attributes.c - every attribute of every element of a journal and a profile, by the reader's tables: what is
 * allowed is kept, what is not is refused
 *
 * A row is an attribute; those added to journal/tables.c are tested without a word here. That the tables say the
 * right thing is for check_journal.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include <afterboil/quantity.h>
#include "journal/tables.h"

/* An attribute, the element it stands on and the one that holds that; the kind of file. */
struct row {
	const struct ab_record_doc *doc;
	const struct ab_elem_spec *parent, *element;
	const struct ab_attr_spec *attribute;
};

enum { MOST_ROWS = 400 };
static struct row rows[MOST_ROWS];
static int n_rows;

static void list_rows(
    const struct ab_record_doc *doc, const struct ab_elem_spec *parent, const struct ab_elem_spec *element)
{
	/* A profile's <usual> holds what a batch holds. */
	bool again = parent != NULL && element->children == ab_batch_children;

	for (const struct ab_attr_spec *a = element->attrs; a != NULL && a->name != NULL && n_rows < MOST_ROWS; a++)
		rows[n_rows++] = (struct row){ doc, parent, element, a };
	for (const struct ab_elem_spec *c = element->children; c != NULL && c->name != NULL && !again; c++)
		list_rows(doc, element, c);
}

static struct ab_arena *arena;
static struct ab_diag diag;
static const void *got;

static void set_up(void)
{
	arena = ab_arena_new();
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, void *record, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	got = record;
	return AB_OK;
}

/* ---- a journal of one attribute ---- */

/* A value for what must be there besides. */
static const char *needed(const struct ab_attr_spec *a)
{
	return a->kind == AB_ATTR_WORD ? a->words[0]
	    : a->kind == AB_ATTR_YESNO ? "yes"
	    : a->kind == AB_ATTR_DATE  ? "2031-03-01"
				       : "x";
}

static char *with_needs(const struct row *row, const char *value)
{
	char *text = ab_arena_strdup(arena, "");

	for (const struct ab_attr_spec *a = row->element->attrs; a->name != NULL; a++)
		if (a != row->attribute && a->required)
			text = ab_arena_printf(arena, "%s %s='%s'", text, a->name, needed(a));
	return value == NULL ? text : ab_arena_printf(arena, "%s %s='%s'", text, row->attribute->name, value);
}

/* Reads by the tables alone, without the checks of one statement against another. value NULL: the attribute is left
 * out. */
static enum ab_status read_with(const struct row *row, const char *value)
{
	const char *top = row->doc->root->name, *tag = with_needs(row, value);
	const char *head = ab_arena_printf(arena, "<%s xmlns='%s'", top, row->doc->ns);
	const char *needs = row->doc == &ab_journal_doc ? " id='a' brewed='2031-03-01'" : "";
	char *text;

	if (row->parent == NULL)
		text = ab_arena_printf(arena, "%s%s/>", head, tag);
	else if (row->parent == row->doc->root)
		text = ab_arena_printf(arena, "%s%s>\n<%s%s/></%s>", head, needs, row->element->name, tag, top);
	else
		text = ab_arena_printf(arena, "%s%s><%s>\n<%s%s/></%s></%s>", head, needs, row->parent->name,
		    row->element->name, tag, row->parent->name, top);
	struct ab_source source = { .name = "a.xml", .data = text, .len = strlen(text), .fd = -1 };
	got = NULL;
	ab_diag_init(&diag);
	return ab_records_read(&source, 0, row->doc, arena, keep, NULL, &diag);
}

/* Where the record of the row's element stands in a record of its parent. */
static const char *child_in(const char *record, const struct ab_elem_spec *element)
{
	struct ab_list list = { 0 };

	if (element->many)
		memcpy(&list, record + element->at, sizeof list);
	else
		memcpy(&list.items, record + element->at, sizeof list.items);
	return list.items;
}

static const char *field(const struct row *row)
{
	const char *record = got;

	ck_assert_ptr_nonnull(record);
	if (row->parent != NULL && row->parent != row->doc->root)
		record = child_in(record, row->parent);
	if (row->parent != NULL)
		record = child_in(record, row->element);
	ck_assert_ptr_nonnull(record);
	return record + row->attribute->at;
}

static void title(const struct row *row, const char *value, char *out, size_t size)
{
	snprintf(out, size, "%s='%.60s' of <%s>", row->attribute->name, value, row->element->name);
}

static void accepted(const struct row *row, const char *value)
{
	char t[200];
	title(row, value, t, sizeof t);
	ck_assert_msg(read_with(row, value) == AB_OK, "%s: %s", t, diag.text);
}

/* The message names the attribute and the element, and holds a piece that says what is wrong. */
static void refused(const struct row *row, const char *value, const char *says)
{
	char t[200];
	title(row, value, t, sizeof t);
	ck_assert_msg(read_with(row, value) == AB_EINPUT, "%s is not refused", t);
	ck_assert_msg(
	    strstr(diag.text, row->attribute->name) != NULL && strstr(diag.text, row->element->name) != NULL,
	    "%s: %s", t, diag.text);
	ck_assert_msg(strstr(diag.text, says) != NULL, "%s: no \"%s\" in: %s", t, says, diag.text);
	ck_assert_msg(diag.line == (row->parent == NULL ? 1 : 2), "%s: line %ld", t, diag.line);
}

/* ---- by kind ---- */

/* A number in the kept unit as text; gravities may also be read in points, which is no unit of theirs here. */
static char *kept_text(const struct ab_attr_spec *a, double v)
{
	double shown = a->dim == AB_DIM_SHARE ? v * 100 : v;
	const char *unit = a->kind == AB_ATTR_NUMBER ? ""
	    : a->dim == AB_DIM_SHARE                 ? "%"
						     : ab_dim_kept((enum ab_dim)a->dim);
	return ab_arena_printf(arena, "%.7f %s", shown, unit);
}

static void number_is(const struct row *row, const char *value, double want)
{
	struct ab_num n;

	accepted(row, value);
	memcpy(&n, field(row), sizeof n);
	ck_assert_msg(n.known && fabs(n.v - want) <= 1e-9 * fmax(1, fabs(want)), "%s of <%s>: '%s' is kept as %g",
	    row->attribute->name, row->element->name, value, n.v);
	ck_assert_msg(
	    n.resolution > 0, "%s of <%s>: resolution %g", row->attribute->name, row->element->name, n.resolution);
}

static void check_number(const struct row *row)
{
	const struct ab_attr_spec *a = row->attribute;
	double width = a->hi - a->lo, step = fmax(width * 1e-3, 1e-6);

	ck_assert_msg(width > 0, "%s of <%s> has no bounds", a->name, row->element->name);
	number_is(row, kept_text(a, a->lo), a->lo);
	number_is(row, kept_text(a, a->hi), a->hi);
	number_is(row, kept_text(a, a->lo + width / 4),
	    strtod(kept_text(a, a->lo + width / 4), NULL) / (a->dim == AB_DIM_SHARE ? 100 : 1));
	refused(row, kept_text(a, a->lo - step), "");
	refused(row, kept_text(a, a->hi + step), "out of range");
	refused(row, "", "");
	refused(row, "much", "");
	refused(row, "1e3", "");
	refused(row, "12 parsecs", "");
	if (a->kind == AB_ATTR_QUANTITY && a->dim != AB_DIM_PH && a->dim != AB_DIM_MONEY)
		refused(row, "1", "no unit");
}

static void check_word(const struct row *row)
{
	const struct ab_attr_spec *a = row->attribute;
	int kept;

	for (int i = 0; a->words[i] != NULL; i++) {
		char *loud = ab_arena_strdup(arena, a->words[i]);
		accepted(row, a->words[i]);
		memcpy(&kept, field(row), sizeof kept);
		ck_assert_msg(
		    kept == i + 1, "%s of <%s>: %s is kept as %d", a->name, row->element->name, a->words[i], kept);
		for (char *c = loud; *c != '\0'; c++)
			*c = *c == '-' ? '_' : (char)toupper((unsigned char)*c);
		accepted(row, loud);
		memcpy(&kept, field(row), sizeof kept);
		ck_assert_msg(kept == i + 1, "%s of <%s>: %s is kept as %d", a->name, row->element->name, loud, kept);
		/* every word allowed is told */
		refused(row, "no-such-word", a->words[i]);
	}
	refused(row, "", "");
}

static void check_yesno(const struct row *row)
{
	static const struct { const char *text; int kept; } answers[] = { { "yes", AB_YES }, { "no", AB_NO } };
	int kept;

	for (size_t i = 0; i < 2; i++) {
		accepted(row, answers[i].text);
		memcpy(&kept, field(row), sizeof kept);
		ck_assert_msg(kept == answers[i].kept, "%s of <%s>: %s is kept as %d", row->attribute->name,
		    row->element->name, answers[i].text, kept);
	}
	refused(row, "maybe", "yes");
	refused(row, "1", "no");
	refused(row, "", "");
}

static void check_text(const struct row *row)
{
	const char *kept;

	accepted(row, "  two words ");
	memcpy(&kept, field(row), sizeof kept);
	ck_assert_msg(kept != NULL && strcmp(kept, "two words") == 0, "%s of <%s> is kept as \"%s\"",
	    row->attribute->name, row->element->name, kept);
}

static void check_id(const struct row *row)
{
	static const char longest[] = "a23456789b123456789c123456789d123456789e123456789f123456789g1234";
	const char *kept;

	accepted(row, longest);
	memcpy(&kept, field(row), sizeof kept);
	ck_assert_str_eq(kept, longest);
	accepted(row, "A.z_0-9");
	refused(row, "a b", "id");
	refused(row, "caf\xC3\xA9", "id");
	refused(row, "", "id");
	refused(row, ab_arena_printf(arena, "%s5", longest), "64");
}

/* Several ids, by blanks or commas. */
static void check_ids(const struct row *row)
{
	struct ab_list kept;

	accepted(row, " a, b-2\tc.3 ");
	memcpy(&kept, field(row), sizeof kept);
	const char *const *ids = kept.items;
	ck_assert_uint_eq(kept.n, 3);
	ck_assert(strcmp(ids[0], "a") == 0 && strcmp(ids[1], "b-2") == 0 && strcmp(ids[2], "c.3") == 0);
	refused(row, "a; b", "id");
}

static void check_moment(const struct row *row)
{
	bool date = row->attribute->kind == AB_ATTR_DATE;
	struct ab_when w;

	accepted(row, "2032-02-29");
	memcpy(&w, field(row), sizeof w);
	ck_assert_msg(
	    w.known && w.date_only && !w.relative && fabs(w.s - ab_when_from_civil(2032, 2, 29) - 43200) < 1,
	    "%s of <%s> is kept as %g", row->attribute->name, row->element->name, w.s);
	refused(row, "2031-02-29", "day");
	refused(row, "29.2.2032", "2031-03-07");
	refused(row, "", "");
	if (date) {
		refused(row, "2031-03-07T15:30", "only the date");
		refused(row, "+3d", "");
		return;
	}
	accepted(row, "2031-03-07T15:30");
	memcpy(&w, field(row), sizeof w);
	ck_assert(!w.date_only && fabs(w.s - ab_when_from_civil(2031, 3, 7) - 55800) < 1);
	accepted(row, "+3d 4h");
	memcpy(&w, field(row), sizeof w);
	ck_assert_msg(w.relative && fabs(w.s - 76 * 3600) < 1, "%s of <%s>: +3d 4h is kept as %g",
	    row->attribute->name, row->element->name, w.s);
	refused(row, "+4h 3d", "");
	refused(row, "2031-03-07T24:00", "time of day");
}

START_TEST(attribute)
{
	static void (*const by_kind[])(const struct row *) = {
		[AB_ATTR_TEXT] = check_text, [AB_ATTR_ID] = check_id, [AB_ATTR_IDS] = check_ids,
		[AB_ATTR_QUANTITY] = check_number, [AB_ATTR_NUMBER] = check_number,
		[AB_ATTR_WORD] = check_word, [AB_ATTR_YESNO] = check_yesno, [AB_ATTR_WHEN] = check_moment,
		[AB_ATTR_DATE] = check_moment,
	};
	by_kind[rows[_i].attribute->kind](&rows[_i]);
}
END_TEST

/* Not given is not known, and one that is needed is missed by name. */
START_TEST(left_out)
{
	const struct row *row = &rows[_i];
	const struct ab_attr_spec *a = row->attribute;
	static const char zero[sizeof(struct ab_when) + sizeof(struct ab_num)];
	size_t size = a->kind == AB_ATTR_WHEN                          ? sizeof(struct ab_when)
	    : a->kind == AB_ATTR_QUANTITY || a->kind == AB_ATTR_NUMBER ? sizeof(struct ab_num)
	    : a->kind == AB_ATTR_WORD || a->kind == AB_ATTR_YESNO      ? sizeof(int)
	    : a->kind == AB_ATTR_IDS                                   ? sizeof(struct ab_list)
								       : sizeof(char *);

	if (a->required) {
		ck_assert_int_eq(read_with(row, NULL), AB_EINPUT);
		char *wanted = ab_arena_printf(arena, "<%s> has no %s", row->element->name, a->name);
		ck_assert_msg(strstr(diag.text, wanted) != NULL, "%s: %s", wanted, diag.text);
		return;
	}
	ck_assert_int_eq(read_with(row, NULL), AB_OK);
	ck_assert_msg(memcmp(field(row), zero, size) == 0, "%s of <%s> was not given and is not unknown", a->name,
	    row->element->name);
}
END_TEST

/* A slip of a letter in the name is refused, and the name that was meant is offered when it is long enough to tell. */
START_TEST(name_misspelt)
{
	struct row row = rows[_i];
	struct ab_attr_spec slip = *row.attribute;
	char name[80];
	size_t len = strlen(slip.name);

	snprintf(name, sizeof name, "%s", slip.name);
	name[len - 1] = name[len - 1] == 'q' ? 'z' : 'q';
	slip.name = name;
	slip.required = false;
	row.attribute = &slip;
	if (rows[_i].attribute->required)
		return;
	ck_assert_int_eq(read_with(&row, "yes"), AB_EINPUT);
	ck_assert_msg(strstr(diag.text, name) != NULL && strstr(diag.text, row.element->name) != NULL, "%s", diag.text);
	ck_assert_msg(strstr(diag.text, rows[_i].attribute->name) != NULL, "%s is not among what is allowed: %s",
	    rows[_i].attribute->name, diag.text);
	if (len > 5)
		ck_assert_msg(strstr(diag.text, "did you mean") != NULL, "%s: %s", name, diag.text);
}
END_TEST

/* Every list of words: none twice, none empty, all in the form words are compared in. */
START_TEST(word_lists)
{
	for (const struct ab_word_list *l = ab_word_lists; l->name != NULL; l++)
		for (int i = 0; l->words[i] != NULL; i++) {
			const char *w = l->words[i];
			ck_assert_msg(
			    w[0] != '\0' && strspn(w, "abcdefghijklmnopqrstuvwxyz0123456789-") == strlen(w),
			    "%s: \"%s\"", l->name, w);
			for (int j = 0; j < i; j++)
				ck_assert_msg(strcmp(w, l->words[j]) != 0, "%s: \"%s\" stands twice", l->name, w);
		}
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("attributes");
	TCase *tc = tcase_create("attributes");

	list_rows(&ab_journal_doc, NULL, ab_journal_doc.root);
	list_rows(&ab_profile_doc, NULL, ab_profile_doc.root);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 30);
	tcase_add_loop_test(tc, attribute, 0, n_rows);
	tcase_add_loop_test(tc, left_out, 0, n_rows);
	tcase_add_loop_test(tc, name_misspelt, 0, n_rows);
	tcase_add_test(tc, word_lists);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
