/* readcase.c - one journal read from text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "readcase.h"

#include <string.h>

struct read_case rd;

void rd_set_up(void)
{
	rd = (struct read_case){ .arena = ab_arena_new() };
	ab_diag_init(&rd.diag);
}

void rd_tear_down(void)
{
	ab_arena_free(rd.arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)ctx;
	(void)diag;
	rd.got = batch;
	return AB_OK;
}

enum ab_status rd_text(const char *text)
{
	ab_diag_init(&rd.diag);
	return ab_journal_read_memory(text, strlen(text), "j.xml", NULL, rd.arena, keep, NULL, &rd.diag);
}

enum ab_status rd_inner(const char *inner)
{
	const char *text = ab_arena_printf(
	    rd.arena, "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'>\n%s\n</batch>", inner);

	return text == NULL ? AB_ENOMEM : rd_text(text);
}
