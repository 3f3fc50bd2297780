/* fuzz_journal.c - any bytes as a journal: read, checked, and looked at for oddities; no log is opened
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stddef.h>
#include <stdint.h>

#include <afterboil/check.h>
#include <afterboil/journal.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static enum ab_status on_batch(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct ab_list odd = { 0 };
	return ab_batch_odd(batch, ctx, &odd, diag);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_diag diag;
	ab_diag_init(&diag);
	if (arena != NULL && size > 0)
		ab_journal_read_memory((const char *)data, size, "fuzz", NULL, arena, on_batch, arena, &diag);
	ab_arena_free(arena);
	return 0;
}
