/* fuzz_sensor.c - any bytes as a sensor log; what is read must be in order and believable
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <afterboil/sensor.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_sensor *log = NULL;
	struct ab_diag diag;
	ab_diag_init(&diag);
	if (arena != NULL)
		ab_sensor_read((const char *)data, size, "fuzz", 3600, arena, &log, &diag);
	for (size_t i = 0; log != NULL && i < log->n; i++)
		if ((i > 0 && !(log->samples[i - 1].s < log->samples[i].s)) || log->samples[i].wort_c > 60 ||
		    log->samples[i].wort_c < -10)
			abort();
	ab_arena_free(arena);
	return 0;
}
