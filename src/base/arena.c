/* arena.c - memory that lives as long as one piece of work
 *
 * A chain of blocks, the newest first; an allocation moves a mark forward in the newest. Blocks double up to
 * 1 MiB, so a long run asks the heap rarely. What does not fit gets a block of its own size.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/arena.h>

#include <assert.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"

enum { FIRST_BLOCK = 8 * 1024, LARGEST_BLOCK = 1024 * 1024, FIRST_ITEMS = 4 };

/* A type that no other type is aligned more strictly than. */
union most_aligned { long double ld; long long ll; void *p; void (*f)(void); };
enum { ALIGN = _Alignof(union most_aligned) };

/* Older blocks are full or nearly so and are never looked at again; only the newest serves. data is a
 * flexible array of the strictest type, so every step from its start is aligned for anything. */
struct block {
	struct block *older;
	size_t size, used;
	union most_aligned data[];
};

struct ab_arena { struct block *newest; };

struct ab_arena *ab_arena_new(void)
{
	return ab_calloc(1, sizeof(struct ab_arena));
}

static void drop(struct block *b)
{
	while (b != NULL) {
		struct block *older = b->older;
		ab_free(b);
		b = older;
	}
}

void ab_arena_free(struct ab_arena *arena)
{
	if (arena != NULL)
		drop(arena->newest);
	ab_free(arena);
}

/* The newest block is the largest of the usual ones, so keeping it alone makes the next batch of a stream
 * cost no call to the heap, and memory stays flat over ten thousand of them. */
void ab_arena_reset(struct ab_arena *arena)
{
	struct block *b = arena->newest;
	if (b == NULL)
		return;
	/* An oversized block must not be kept by a stream for ever. */
	if (b->size > LARGEST_BLOCK) {
		arena->newest = NULL;
		drop(b);
		return;
	}
	drop(b->older);
	b->older = NULL;
	b->used = 0;
}

size_t ab_arena_used(const struct ab_arena *arena)
{
	size_t used = 0;
	for (const struct block *b = arena->newest; b != NULL; b = b->older)
		used += b->used;
	return used;
}

static struct block *add_block(struct ab_arena *arena, size_t need)
{
	size_t size = arena->newest == NULL ? FIRST_BLOCK : arena->newest->size * 2;
	if (size > LARGEST_BLOCK)
		size = LARGEST_BLOCK;
	if (size < need)
		size = need;
	if (size > SIZE_MAX - sizeof(struct block))
		return NULL;
	struct block *b = ab_malloc(sizeof *b + size);
	if (b == NULL)
		return NULL;
	/* The room left in the older block is given up: looking for it would make every allocation a
	 * search, and blocks that double waste at most half. */
	b->older = arena->newest;
	b->size = size;
	b->used = 0;
	arena->newest = b;
	return b;
}

/* What rounding makes of a size. */
static size_t stepped(size_t size)
{
	return (size + ALIGN - 1) / ALIGN * ALIGN;
}

/* size bytes as they come, not zeroed. */
static void *take(struct ab_arena *arena, size_t size)
{
	/* Rounding up below must not wrap round. */
	if (size > SIZE_MAX - ALIGN)
		return NULL;
	/* Even nothing takes a step, so that two empty allocations differ. */
	size_t step = size == 0 ? ALIGN : stepped(size);
	struct block *b = arena->newest;
	if (b == NULL || b->size - b->used < step)
		b = add_block(arena, step);
	assert(b == NULL || b->size - b->used >= step);
	if (b == NULL)
		return NULL;
	void *p = (char *)b->data + b->used;
	b->used += step;
	return p;
}

void *ab_arena_raw(struct ab_arena *arena, size_t n, size_t size)
{
	return size > 0 && n > SIZE_MAX / size ? NULL : take(arena, n * size);
}

void *ab_arena_alloc(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_raw(arena, n, size);
	return p == NULL ? NULL : memset(p, 0, n * size);
}

char *ab_arena_strdup(struct ab_arena *arena, const char *text)
{
	return ab_arena_strndup(arena, text, strlen(text));
}

char *ab_arena_strndup(struct ab_arena *arena, const char *text, size_t len)
{
	char *copy = len < SIZE_MAX ? take(arena, len + 1) : NULL;
	if (copy == NULL)
		return NULL;
	memcpy(copy, text, len);
	copy[len] = '\0';
	return copy;
}

/* Measured first, then written: a guess at the length would waste arena that cannot be given back. The list
 * of arguments is used up by the first pass and must be started again. */
char *ab_arena_printf(struct ab_arena *arena, const char *fmt, ...)
{
	va_list args;
	va_start(args, fmt);
	int n = vsnprintf(NULL, 0, fmt, args);
	va_end(args);
	char *text = n < 0 ? NULL : take(arena, (size_t)n + 1);
	if (text == NULL)
		return NULL;
	va_start(args, fmt);
	vsnprintf(text, (size_t)n + 1, fmt, args);
	va_end(args);
	return text;
}

/* An array that was taken last grows where it stands: no copy, and nothing left behind. */
static bool grow_in_place(struct ab_arena *arena, const void *array, size_t old, size_t more)
{
	struct block *b = arena->newest;

	if (b == NULL || old == 0 || stepped(old) > b->used ||
	    (const char *)array != (const char *)b->data + (b->used - stepped(old)) ||
	    stepped(more) - stepped(old) > b->size - b->used)
		return false;
	memset((char *)b->data + b->used, 0, stepped(more) - stepped(old));
	b->used += stepped(more) - stepped(old);
	return true;
}

/* An array that outgrows its room and cannot grow where it stands moves to a wider one and leaves the old
 * behind: at most as much again is wasted, and pointers into the old array still read what it held (never what is
 * written later). So callers must not keep pointers to elements across a push. */
void *ab_arena_push(struct ab_arena *arena, void *items, size_t *n, size_t *cap, size_t size)
{
	/* The caller's pointer has its own type: it is moved as bytes, never through a void **. */
	void *array;
	/* Reading it through void ** would break strict aliasing, and compilers use that. */
	memcpy(&array, items, sizeof array);
	assert(*n <= *cap && size > 0);
	if (*n == *cap) {
		if (*cap > SIZE_MAX / 4 / size)
			return NULL;
		size_t more = *cap == 0 ? FIRST_ITEMS : *cap * 2;
		if (!grow_in_place(arena, array, *cap * size, more * size)) {
			void *wider = ab_arena_alloc(arena, more, size);
			if (wider == NULL)
				return NULL;
			if (*n > 0)
				memcpy(wider, array, *n * size);
			array = wider;
			memcpy(items, &array, sizeof array);
		}
		*cap = more;
	}
	return (char *)array + (*n)++ * size;
}
