/* alloc.c - the one gate to the heap, with a switch for tests
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/alloc.h"

#include <stdatomic.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Only tests move these; the library has no other state of its own. Atomic, for workers ask side by side (workers.h);
 * relaxed, for nothing else hangs on them. */
static atomic_long fail_at = -1;
static atomic_long asked;

/* Once the k-th allocation has failed all later ones fail too, as on a machine that is truly out of memory:
 * a path that recovers by asking for less is not mistaken for one that copes. */
static int refused(void)
{
	long now = atomic_fetch_add_explicit(&asked, 1, memory_order_relaxed);
	long at = atomic_load_explicit(&fail_at, memory_order_relaxed);

	return at >= 0 && now >= at;
}

/* malloc(0) may give NULL, which callers would take for a failure; one byte is asked for instead. */
void *ab_malloc(size_t size)
{
	return refused() ? NULL : malloc(size > 0 ? size : 1);
}

void *ab_calloc(size_t n, size_t size)
{
	/* A product that wraps round would give a small block for a large array: a hole, not a failure. */
	if (size > 0 && n > SIZE_MAX / size)
		return NULL;
	void *p = ab_malloc(n * size);
	return p == NULL ? NULL : memset(p, 0, n * size);
}

void *ab_realloc(void *p, size_t size)
{
	return refused() ? NULL : realloc(p, size > 0 ? size : 1);
}

char *ab_strndup(const char *text, size_t len)
{
	char *copy = ab_malloc(len + 1);
	if (copy != NULL) {
		memcpy(copy, text, len);
		copy[len] = '\0';
	}
	return copy;
}

char *ab_strdup(const char *text)
{
	return ab_strndup(text, strlen(text));
}

void ab_free(void *p)
{
	free(p);
}

void ab_alloc_fail_at(long k)
{
	atomic_store(&fail_at, k);
	atomic_store(&asked, 0);
}

long ab_alloc_count(void)
{
	return atomic_load(&asked);
}
