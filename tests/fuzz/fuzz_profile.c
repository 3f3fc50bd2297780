/* fuzz_profile.c - any bytes as a brewery profile
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stddef.h>
#include <stdint.h>

#include <afterboil/profile.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_profile *profile;
	struct ab_diag diag;
	ab_diag_init(&diag);
	if (arena != NULL && size > 0)
		ab_profile_read_memory((const char *)data, size, "fuzz", arena, &profile, &diag);
	ab_arena_free(arena);
	return 0;
}
