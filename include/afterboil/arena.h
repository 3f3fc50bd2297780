/* arena.h - memory that lives as long as one piece of work
 *
 * Facts, rules, journals and results are built up, used and dropped together: they come from an arena, are
 * never freed singly and go with ab_arena_free. Everything is aligned for any type and, but for ab_arena_raw,
 * zeroed. All memory of the library passes through alloc.h of the base room, where a test can make the n-th
 * allocation fail.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_ARENA_H
#define AFTERBOIL_ARENA_H

#include <stddef.h>

struct ab_arena;

/* A new, empty arena, or NULL when memory is short. */
struct ab_arena *ab_arena_new(void);

/* Drops the arena and everything in it; NULL is fine. */
void ab_arena_free(struct ab_arena *arena);

/* Forgets everything in it but keeps one block for reuse (a stream of batches in flat memory). */
void ab_arena_reset(struct ab_arena *arena);

/* Bytes handed out since it was made or reset, rounding and old copies included. */
size_t ab_arena_used(const struct ab_arena *arena);

/* n objects of size bytes each, zeroed. NULL when memory is short or n * size overflows; n == 0 gives a valid
 * pointer. */
void *ab_arena_alloc(struct ab_arena *arena, size_t n, size_t size);

/* The same, not zeroed: for what is written whole before it is read. */
void *ab_arena_raw(struct ab_arena *arena, size_t n, size_t size);

/* Copies of text; NULL when memory is short. text must not be NULL. */
char *ab_arena_strdup(struct ab_arena *arena, const char *text);
char *ab_arena_strndup(struct ab_arena *arena, const char *text, size_t len);

/* printf into the arena; NULL when memory is short. */
char *ab_arena_printf(struct ab_arena *arena, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

/* Grows an array that lives in the arena: returns room for one more element after the *n there (and counts
 * it), or NULL when memory is short (then nothing changed). items points at the array pointer; n and cap are
 * its bookkeeping, all zero at first. Old copies stay in the arena until it goes (at most as much again as
 * the array). */
void *ab_arena_push(struct ab_arena *arena, void *items, size_t *n, size_t *cap, size_t size);

#endif
