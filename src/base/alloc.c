/* alloc.c - the one gate to the heap, with a switch for tests
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/alloc.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Only tests move these; the library has no other state of its own. */
static long fail_at = -1;
static long asked;

static int refused(void)
{
	long now = asked++;
	return fail_at >= 0 && now >= fail_at;
}

void *ab_malloc(size_t size)
{
	return refused() ? NULL : malloc(size > 0 ? size : 1);
}

void *ab_calloc(size_t n, size_t size)
{
	if (size > 0 && n > SIZE_MAX / size)
		return NULL;
	void *p = ab_malloc(n * size);
	return p == NULL ? NULL : memset(p, 0, n * size);
}

void *ab_realloc(void *p, size_t size)
{
	return refused() ? NULL : realloc(p, size > 0 ? size : 1);
}

char *ab_strdup(const char *text)
{
	size_t size = strlen(text) + 1;
	char *copy = ab_malloc(size);
	return copy == NULL ? NULL : memcpy(copy, text, size);
}

void ab_free(void *p)
{
	free(p);
}

void ab_alloc_fail_at(long k)
{
	fail_at = k;
	asked = 0;
}

long ab_alloc_count(void)
{
	return asked;
}
