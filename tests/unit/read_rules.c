/* read_rules.c - prints, for each rules file given, "good FILE" or "bad FILE:LINE: why"; a file stands alone,
 * families may be missing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <afterboil/casework.h>

#include "base/alloc.h"
#include "base/savefile.h"
#include "knowledge/compile.h"

static enum ab_status read_one(const char *path, struct ab_arena *arena, struct lint *lint, struct ab_diag *diag)
{
	struct raw_all all = { { { 0 } } };
	struct ab_knowledge k = { 0 };
	char *text = NULL;
	size_t len;
	enum ab_status st = ab_loadfile(path, 1 << 22, &text, &len, diag);
	if (st == AB_OK)
		st = rules_gather_text(path, text, len, arena, lint, &all, diag);
	if (st == AB_OK && lint->errors == 0)
		st = rules_compile(&all, ab_fact_defs(), NULL, arena, lint, &k, diag);
	ab_free(text);
	return st;
}

int main(int argc, char **argv)
{
	for (int i = 1; i < argc; i++) {
		struct ab_arena *arena = ab_arena_new();
		struct lint lint = { .arena = arena };
		struct ab_diag diag;
		ab_diag_init(&diag);
		if (read_one(argv[i], arena, &lint, &diag) != AB_OK) {
			fprintf(stderr, "%s: %s\n", argv[i], diag.text);
			return EXIT_FAILURE;
		}
		if (lint.errors == 0)
			printf("good %s\n", argv[i]);
		else
			printf("bad %s:%ld: %s\n", argv[i], lint.first.line, lint.first.text);
		ab_arena_free(arena);
	}
	return EXIT_SUCCESS;
}
