/* alloc.h - the one gate to the heap, with a switch for tests
 *
 * ab_alloc_fail_at(k) makes the k-th allocation from now (0 = the next) and every later one fail, until
 * ab_alloc_fail_at(-1). The library itself never calls it. Tests hand the same functions to libxml2 and
 * jansson.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_ALLOC_H
#define AB_BASE_ALLOC_H

#include <stddef.h>

/* As the functions of the C library, but a size of 0 gives memory too. NULL when memory is short, or when a
 * test wants it so; a refused ab_realloc leaves p as it was. Free with ab_free; NULL is fine. */
void *ab_malloc(size_t size);
void *ab_calloc(size_t n, size_t size);
void *ab_realloc(void *p, size_t size);
char *ab_strdup(const char *text);
/* The first len bytes of text, which need not end there, and a NUL. */
char *ab_strndup(const char *text, size_t len);
void ab_free(void *p);

/* See the top. Also begins the count below anew. */
void ab_alloc_fail_at(long k);
/* Allocations asked for since the last ab_alloc_fail_at. */
long ab_alloc_count(void);

#endif
