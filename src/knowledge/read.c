/* read.c - rules folders into merged raw records
 *
 * Every *.xml of a folder in order of its bytes' names, then the next folder. A later thing with
 * replace="yes" takes the place of the one with its id. A file that is not well formed is one finding, and
 * the others are still read.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/lint.h"

#include <assert.h>
#include <dirent.h>
#include <errno.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"
#include "base/savefile.h"

enum { FILE_LIMIT = 4 * 1024 * 1024, MAX_FILES = 1000 };

/* What reading adds to, file after file. Merged lists hold pointers and not structs, so that a replacement
 * changes one pointer and the order of the rest stays. */
struct gather {
	struct ab_arena *arena;
	struct lint *lint;
	struct raw_all *all;
	uint64_t sum;
	const char *file;          /* now read */
};

static enum ab_status no_memory(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* ---- the version ---- */

/* FNV-1a, 64 bits (Fowler, Noll and Vo; RFC 9923). It tells rules apart for the record and guards
 * nothing; SHA-256 took longer than all the reading. Over the bytes of all files in reading order: any
 * change of the rules, even of a comment, is another version. Better a diagnosis redone for nothing than
 * one kept that is out of date. */
static void add_to_sum(uint64_t *sum, const char *text, size_t len)
{
	for (size_t i = 0; i < len; i++)
		*sum = (*sum ^ (unsigned char)text[i]) * 0x100000001b3;
}

static void write_sum(uint64_t sum, char *hex)
{
	static const char digits[] = "0123456789abcdef";
	for (int i = 0; i < 16; i++)
		hex[i] = digits[sum >> (60 - 4 * i) & 15];
	hex[16] = '\0';
}

/* ---- merging ---- */

static struct raw_head **find(const struct ab_list *list, const char *id)
{
	struct raw_head **items = list->items;
	for (size_t i = 0; i < list->n; i++)
		if (strcmp(items[i]->id, id) == 0)
			return &items[i];
	return NULL;
}

/* Two of one id without replace= are an error; which of them stays does not matter then, but references
 * to the id must not become errors, too. */
static enum ab_status merge_one(struct gather *g, enum raw_kind kind, struct raw_head *head,
    struct ab_diag *diag)
{
	struct ab_list *into = &g->all->kinds[kind];
	const char *what = ab_rules_kind(kind)->name;
	struct raw_head **old = find(into, head->id);
	assert(head->id != NULL && g->file != NULL);
	head->file = g->file;
	if (old != NULL) {
		if (head->replace != AB_YES)
			lint_say(g->lint, true, g->file, head->mark.line,
			    "<%s> \"%s\" is there already, in %s:%ld; give it another name, or "
			    "replace=\"yes\" to put it in the place of the first", what, head->id,
			    (*old)->file, (*old)->mark.line);
		*old = head;
		return AB_OK;
	}
	if (head->replace == AB_YES)
		lint_say(g->lint, true, g->file, head->mark.line,
		    "<%s> \"%s\" says replace=\"yes\", but there is none of this name before it; "
		    "correct the name or leave replace out", what, head->id);
	struct raw_head **slot = ab_arena_push(g->arena, &into->items, &into->n, &into->cap, sizeof *slot);
	if (slot == NULL)
		return no_memory(diag);
	*slot = head;
	return AB_OK;
}

/* Every raw struct begins with its raw_head, so that one loop merges all kinds. */
static enum ab_status merge(void *ctx, void *record, struct ab_diag *diag)
{
	struct gather *g = ctx;
	struct raw_rules *rules = record;
	for (enum raw_kind kind = 0; kind < RAW_KINDS; kind++) {
		size_t size = ab_rules_kind(kind)->size;
		char *items = rules->kinds[kind].items;
		for (size_t i = 0; i < rules->kinds[kind].n; i++) {
			enum ab_status st = merge_one(g, kind, (struct raw_head *)(void *)(items + i * size),
			    diag);
			if (st != AB_OK)
				return st;
		}
	}
	return AB_OK;
}

/* ---- files and folders ---- */

/* What is wrong inside the text is a finding; only what stops the reading is an error. */
static enum ab_status read_text(struct gather *g, const char *name, const char *text, size_t len,
    struct ab_diag *diag)
{
	struct ab_source source = { .name = name, .data = text, .len = len, .fd = -1 };
	/* Its own diag: the first error of the caller's would otherwise be a finding. */
	struct ab_diag local;
	ab_diag_init(&local);
	g->file = name;
	add_to_sum(&g->sum, text, len);
	enum ab_status st = ab_records_read(&source, FILE_LIMIT, &ab_rules_doc, g->arena, merge, g, &local);
	if (st == AB_EINPUT || st == AB_ELIMIT) {
		lint_say(g->lint, true, name, local.line, "%s", local.text);
		st = AB_OK;
	} else if (st != AB_OK) {
		ab_fail(diag, st, local.source, local.line, "%s", local.text);
	}
	return st;
}

static enum ab_status read_file(struct gather *g, const char *path, struct ab_diag *diag)
{
	char *text = NULL;
	size_t len = 0;
	enum ab_status st = ab_loadfile(path, FILE_LIMIT, &text, &len, diag);
	if (st == AB_OK)
		st = read_text(g, path, text, len, diag);
	ab_free(text);
	return st;
}

enum ab_status rules_gather_text(const char *name, const char *text, size_t len, struct ab_arena *arena,
    struct lint *lint, struct raw_all *all, struct ab_diag *diag)
{
	struct gather g = { .arena = arena, .lint = lint, .all = all };
	return read_text(&g, name, text, len, diag);
}

/* By bytes: the order in which rules replace each other must not depend on a locale. */
static int by_name(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* Hidden files are what editors leave behind; a backup read as rules would define everything twice. */
static bool is_rules_name(const char *name)
{
	size_t len = strlen(name);
	return len > 4 && name[0] != '.' && strcmp(name + len - 4, ".xml") == 0;
}

/* Paths of the rules files of a folder, sorted. readdir gives any order, and a version would change from
 * disk to disk: so sorted. */
static enum ab_status list_folder(const char *dir, struct ab_arena *arena, struct ab_list *paths,
    struct ab_diag *diag)
{
	struct dirent *e;
	enum ab_status st = AB_OK;
	DIR *d = opendir(dir);
	if (d == NULL)
		return ab_fail(diag, AB_ESYSTEM, dir, 0, "the folder of rules cannot be read: %s",
		    strerror(errno));
	while (st == AB_OK && (e = readdir(d)) != NULL) {
		if (!is_rules_name(e->d_name))
			continue;
		const char **slot = ab_arena_push(arena, &paths->items, &paths->n, &paths->cap, sizeof *slot);
		if (slot == NULL || (*slot = ab_arena_printf(arena, "%s/%s", dir, e->d_name)) == NULL)
			st = no_memory(diag);
		else if (paths->n > MAX_FILES)
			st = ab_fail(diag, AB_ELIMIT, dir, 0,
			    "more than %d rules files in one folder", MAX_FILES);
	}
	closedir(d);
	/* An empty folder is most often a mistyped path, and no rules at all would look like a healthy
	 * beer. */
	if (st == AB_OK && paths->n == 0)
		st = ab_fail(diag, AB_ESYSTEM, dir, 0,
		    "no rules in this folder; it should hold files named *.xml");
	if (st == AB_OK)
		qsort(paths->items, paths->n, sizeof(const char *), by_name);
	return st;
}

enum ab_status rules_gather(const char *const *dirs, size_t n, struct ab_arena *arena, struct lint *lint,
    struct raw_all *all, char *version, struct ab_diag *diag)
{
	struct gather g = { .arena = arena, .lint = lint, .all = all, .sum = 0xcbf29ce484222325 };
	if (n == 0)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "no folder of rules was named");
	for (size_t i = 0; i < n; i++) {
		struct ab_list paths = { 0 };
		enum ab_status st = list_folder(dirs[i], arena, &paths, diag);
		for (size_t j = 0; st == AB_OK && j < paths.n; j++)
			st = read_file(&g, ((const char **)paths.items)[j], diag);
		if (st != AB_OK)
			return st;
	}
	write_sum(g.sum, version);
	return lint->no_memory ? no_memory(diag) : AB_OK;
}
