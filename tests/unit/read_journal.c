/* read_journal.c - what the readers say of a file: "OK", or the diagnostic, and the exit status to match
 *
 * read_journal FILE...; a file named *.csv is read as a sensor log, one whose root is <brewery> as a profile. For
 * tests/handbook/schema.t and for looking at messages.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include <afterboil/profile.h>
#include "base/alloc.h"
#include "base/savefile.h"

static enum ab_status on_batch(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)ctx;
	(void)batch;
	(void)diag;
	return AB_OK;
}

static enum ab_status read_one(const char *path, struct ab_arena *arena, struct ab_diag *diag)
{
	char *text;
	size_t len;
	struct ab_profile *profile;
	struct ab_sensor *sensor;
	enum ab_status st = ab_loadfile(path, AB_JOURNAL_LIMIT, &text, &len, diag);
	if (st != AB_OK)
		return st;
	if (strstr(path, ".csv") != NULL)
		st = ab_sensor_read(text, len, path, 0, arena, &sensor, diag);
	else if (strstr(text, "brewery") != NULL && strstr(text, "<batch ") == NULL)
		st = ab_profile_read_file(path, arena, &profile, diag);
	else
		st = ab_journal_read_file(path, arena, on_batch, NULL, diag);
	ab_free(text);
	return st;
}

int main(int argc, char **argv)
{
	int bad = 0;
	for (int i = 1; i < argc; i++) {
		struct ab_arena *arena = ab_arena_new();
		struct ab_diag diag;
		ab_diag_init(&diag);
		if (read_one(argv[i], arena, &diag) == AB_OK) {
			printf("%s: OK\n", argv[i]);
		} else {
			printf("%s:%ld: %s: %s\n", argv[i], diag.line, ab_status_name(diag.status), diag.text);
			bad++;
		}
		ab_arena_free(arena);
	}
	return bad > 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
