/* canon.c - the content of a record as a digest
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/canon.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/copy.h"

/* Pieces are a few bytes each: they are gathered, for the sum takes its blocks best by the hundred. */
struct canon {
	struct ab_sha256 *digest;
	size_t n;
	unsigned char bytes[2048];
};

static void flush(struct canon *to)
{
	ab_sha256_add(to->digest, to->bytes, to->n);
	to->n = 0;
}

/* Room for n bytes, few enough to be gathered; the caller fills it. */
static inline unsigned char *room(struct canon *to, size_t n)
{
	assert(n <= sizeof to->bytes);
	if (n > sizeof to->bytes - to->n)
		flush(to);
	unsigned char *at = to->bytes + to->n;
	to->n += n;
	return at;
}

/* Every piece is self-delimiting (a NUL after text, a fixed width for numbers), so no two different records
 * can feed the same bytes: otherwise a change that moves a letter from one value to the next would go
 * unseen and the store would keep the old revision. */
static void add(struct canon *to, const char *text)
{
	size_t n = strlen(text) + 1;   /* with the NUL: "ab" + "c" is not "a" + "bc" */

	if (n <= sizeof to->bytes) {
		memcpy(room(to, n), text, n);
		return;
	}
	flush(to);
	ab_sha256_add(to->digest, text, n);
}

/* A name of the tables, NUL and all. */
static inline void add_name(struct canon *to, const char *name, size_t len)
{
	ab_copy_short(room(to, len), name, len);
}

/* Whole numbers in two bytes and in eight, the same on every machine. Written out, for compilers make one store of it
 * where the machine's order is the same. */
static inline void put_short(unsigned char *at, unsigned v)
{
	at[0] = (unsigned char)v;
	at[1] = (unsigned char)(v >> 8);
}

static inline void put_whole(unsigned char *at, uint64_t v)
{
	at[0] = (unsigned char)v;
	at[1] = (unsigned char)(v >> 8);
	at[2] = (unsigned char)(v >> 16);
	at[3] = (unsigned char)(v >> 24);
	at[4] = (unsigned char)(v >> 32);
	at[5] = (unsigned char)(v >> 40);
	at[6] = (unsigned char)(v >> 48);
	at[7] = (unsigned char)(v >> 56);
}

static const double tens[] = { 1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14,
    1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };
enum { TENS = sizeof tens / sizeof *tens };

/* v / 10^power; most often the power of ten is a double without rounding. Multiplying or dividing by an
 * exact power rounds once; pow() may differ in the last bit between C libraries, and the digest must be
 * the same on every machine that reads the store. */
static double scaled(double v, int power)
{
	return power <= 0 && power > -TENS ? v * tens[-power] : v / pow(10, power);
}

/* The power of ten at or below v > 0. Where the logarithm would round a number up to the next power, twelve
 * digits of it round up as well: both ways lead to one spelling. */
static int magnitude(double v)
{
	uint64_t bits;
	int power;

	if (v < tens[0] || v >= tens[TENS - 1])
		return (int)floor(log10(v));
	/* From the power of two (0 to 73 here), as an IEEE double holds it, times log10(2) = 0.30103: rounded down
	 * it is the power of ten or the one below. */
	memcpy(&bits, &v, sizeof bits);
	power = ((int)(bits >> 52) - 1023) * 1233 / 4096;
	return power + (v >= tens[power + 1]);
}

/* Nearest whole number, halves away from 0, of what is below 1e12: there a half is added without rounding. */
static int64_t nearest(double v)
{
	return (int64_t)(v < 0 ? v - 0.5 : v + 0.5);
}

/* Twelve decimal digits and a power of ten: what was written in decimals lies on that grid, so that the last
 * bits of a conversion do not show. After the name of its row; returns the place behind, with room for more. */
static unsigned char *add_number(struct canon *to, const struct ab_attr_spec *spec, double v, size_t more)
{
	const int64_t thirteen = 1000000000000;
	int power = v != 0 ? magnitude(fabs(v)) - 11 : 0;
	/* So near 0 the scaling itself could overflow; no journal's number is that small, and it counts as
	 * 0. */
	int64_t digits = power < -290 ? 0 : nearest(scaled(v, power));

	/* Rounding may carry into a thirteenth digit (9.9999999999996 to 10): the same number must end up
	 * with one spelling. */
	if (digits >= thirteen || digits <= -thirteen) {
		digits /= 10;
		power++;
	}
	unsigned char *at = room(to, spec->len + 10 + more);
	ab_copy_short(at, spec->name, spec->len);
	put_whole(at + spec->len, (uint64_t)digits);
	put_short(at + spec->len + 8, (unsigned)power);
	return at + spec->len + 10;
}

/* Untold things leave no trace at all, so that a new attribute in a later version does not change the
 * digest of journals that do not use it. */
static void add_word(struct canon *to, const struct ab_attr_spec *spec, int word)
{
	if (word == 0)
		return;
	unsigned char *at = room(to, spec->len + 2U);
	ab_copy_short(at, spec->name, spec->len);
	put_short(at + spec->len, (unsigned)word);
}

static void add_text(struct canon *to, const char *name, size_t len, const char *text)
{
	if (text == NULL)
		return;
	add_name(to, name, len);
	add(to, text);
}

static void add_ids(struct canon *to, const struct ab_attr_spec *spec, const struct ab_list *ids)
{
	const char *const *items = ids->items;

	for (size_t i = 0; i < ids->n; i++)
		add_text(to, spec->name, spec->len, items[i]);
}

static void add_when(struct canon *to, const struct ab_attr_spec *spec, const struct ab_when *when)
{
	if (!when->known && !when->packaged)
		return;
	/* What is written as a date and what as noon of that day are the same second but not the same
	 * statement. */
	*add_number(to, spec, when->s, 1) = when->packaged ? 'p' : when->relative ? 'r' : when->date_only ? 'd' : 't';
}

static void add_attr(struct canon *to, const struct ab_attr_spec *spec, const void *field)
{
	const struct ab_num *num = field;

	switch (spec->kind) {
	case AB_ATTR_TEXT:
	case AB_ATTR_ID:
		add_text(to, spec->name, spec->len, *(const char *const *)field);
		break;
	case AB_ATTR_IDS:
		add_ids(to, spec, field);
		break;
	case AB_ATTR_QUANTITY:
	case AB_ATTR_NUMBER:
		if (num->known)
			add_number(to, spec, num->v, 0);
		/* "about": the name again, which no attribute stands behind twice */
		if (num->known && (num->guess || num->bound != AB_BOUND_NONE))
			add_text(to, spec->name, spec->len, num->bound == AB_BOUND_NONE ? "about" : "beyond");
		break;
	case AB_ATTR_WORD:
	case AB_ATTR_YESNO:
		add_word(to, spec, *(const int *)field);
		break;
	case AB_ATTR_WHEN:
	case AB_ATTR_DATE:
		add_when(to, spec, field);
		break;
	}
}

static void add_record(struct canon *to, const struct ab_elem_spec *spec, size_t len, const void *record);

/* The name is measured once for all records of a list. */
static void add_children(struct canon *to, const struct ab_elem_spec *child, const char *parent)
{
	const struct ab_list *list = (const void *)(parent + child->at);
	const char *first = *(const char *const *)(const void *)(parent + child->at);
	size_t n = child->many ? list->n : first != NULL, len;

	if (n == 0)
		return;
	if (child->many)
		first = list->items;
	len = strlen(child->name) + 1;
	for (size_t i = 0; i < n; i++)
		add_record(to, child, len, first + i * child->size);
}

static void add_record(struct canon *to, const struct ab_elem_spec *spec, size_t len, const void *record)
{
	const char *base = record;
	assert(spec != NULL && record != NULL);

	add_name(to, spec->name, len);
	if (((const struct ab_mark *)record)->guess)
		add(to, "guess");
	for (const struct ab_attr_spec *a = spec->attrs; a != NULL && a->name != NULL; a++)
		add_attr(to, a, base + a->at);
	if (spec->has_text)
		add_text(to, "text", sizeof "text", *(const char *const *)(const void *)(base + spec->text_at));
	for (const struct ab_elem_spec *c = spec->children; c != NULL && c->name != NULL; c++)
		add_children(to, c, base);
	*room(to, 1) = '\0';   /* no name is empty: the end */
}

void ab_record_canon(const struct ab_elem_spec *spec, const void *record, struct ab_sha256 *digest)
{
	struct canon to;

	to.digest = digest;
	to.n = 0;
	add_record(&to, spec, strlen(spec->name) + 1, record);
	flush(&to);
}
