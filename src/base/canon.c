/* canon.c - the content of a record as a digest
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/canon.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

/* Every piece is self-delimiting (a NUL after text, a fixed width for numbers), so no two different records
 * can feed the same bytes: otherwise a change that moves a letter from one value to the next would go
 * unseen and the store would keep the old revision. */
static void add(struct ab_sha256 *digest, const char *text)
{
	ab_sha256_add(digest, text, strlen(text) + 1);   /* with the NUL: "ab" + "c" is not "a" + "bc" */
}

/* A whole number below 2^8n in n bytes, the same on every machine. */
static void add_whole(struct ab_sha256 *digest, uint64_t v, size_t n)
{
	unsigned char bytes[8];

	for (size_t i = 0; i < n; i++)
		bytes[i] = (unsigned char)(v >> 8 * i);
	ab_sha256_add(digest, bytes, n);
}

/* v / 10^power; most often the power of ten is a double without rounding. Multiplying or dividing by an
 * exact power rounds once; pow() may differ in the last bit between C libraries, and the digest must be
 * the same on every machine that reads the store. */
static double scaled(double v, int power)
{
	static const double tens[] = { 1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12,
	    1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };
	const int most = sizeof tens / sizeof *tens - 1;

	return power <= 0 && power >= -most ? v * tens[-power] : v / pow(10, power);
}

/* Twelve decimal digits and a power of ten: what was written in decimals lies on that grid, so that the last
 * bits of a conversion do not show. */
static void add_number(struct ab_sha256 *digest, const char *name, double v)
{
	int power = v != 0 ? (int)floor(log10(fabs(v))) - 11 : 0;
	/* So near 0 the scaling itself could overflow; no journal's number is that small, and it counts as
	 * 0. */
	double digits = power < -290 ? 0 : round(scaled(v, power));

	/* Rounding may carry into a thirteenth digit (9.9999999999996 to 10): the same number must end up
	 * with one spelling. */
	if (fabs(digits) >= 1e12) {
		digits = round(digits / 10);
		power++;
	}
	add(digest, name);
	add_whole(digest, (uint64_t)(int64_t)digits, 8);
	add_whole(digest, (uint64_t)(int64_t)power, 2);
}

/* Untold things leave no trace at all, so that a new attribute in a later version does not change the
 * digest of journals that do not use it. */
static void add_word(struct ab_sha256 *digest, const char *name, int word)
{
	if (word == 0)
		return;
	add(digest, name);
	add_whole(digest, (uint64_t)word, 2);
}

static void add_text(struct ab_sha256 *digest, const char *name, const char *text)
{
	if (text == NULL)
		return;
	add(digest, name);
	add(digest, text);
}

static void add_ids(struct ab_sha256 *digest, const char *name, const struct ab_list *ids)
{
	const char *const *items = ids->items;

	for (size_t i = 0; i < ids->n; i++)
		add_text(digest, name, items[i]);
}

static void add_when(struct ab_sha256 *digest, const char *name, const struct ab_when *when)
{
	if (!when->known)
		return;
	add_number(digest, name, when->s);
	/* What is written as a date and what as noon of that day are the same second but not the same
	 * statement. */
	add_whole(digest, when->relative ? 'r' : when->date_only ? 'd' : 't', 1);
}

static void add_attr(struct ab_sha256 *digest, const struct ab_attr_spec *spec, const void *field)
{
	const struct ab_num *num = field;

	switch (spec->kind) {
	case AB_ATTR_TEXT:
	case AB_ATTR_ID:
		add_text(digest, spec->name, *(const char *const *)field);
		break;
	case AB_ATTR_IDS:
		add_ids(digest, spec->name, field);
		break;
	case AB_ATTR_QUANTITY:
	case AB_ATTR_NUMBER:
		if (num->known)
			add_number(digest, spec->name, num->v);
		break;
	case AB_ATTR_WORD:
	case AB_ATTR_YESNO:
		add_word(digest, spec->name, *(const int *)field);
		break;
	case AB_ATTR_WHEN:
	case AB_ATTR_DATE:
		add_when(digest, spec->name, field);
		break;
	}
}

static void add_children(struct ab_sha256 *digest, const struct ab_elem_spec *child, const char *parent)
{
	if (!child->many) {
		const void *one = *(const void *const *)(parent + child->at);

		if (one != NULL)
			ab_record_canon(child, one, digest);
		return;
	}
	const struct ab_list *list = (const void *)(parent + child->at);

	for (size_t i = 0; i < list->n; i++)
		ab_record_canon(child, (const char *)list->items + i * child->size, digest);
}

void ab_record_canon(const struct ab_elem_spec *spec, const void *record, struct ab_sha256 *digest)
{
	const char *base = record;
	assert(spec != NULL && record != NULL);

	add(digest, spec->name);
	if (((const struct ab_mark *)record)->guess)
		add(digest, "guess");
	for (const struct ab_attr_spec *a = spec->attrs; a != NULL && a->name != NULL; a++)
		add_attr(digest, a, base + a->at);
	if (spec->has_text)
		add_text(digest, "text", *(const char *const *)(const void *)(base + spec->text_at));
	for (const struct ab_elem_spec *c = spec->children; c != NULL && c->name != NULL; c++)
		add_children(digest, c, base);
	add(digest, "");   /* no name is empty: the end */
}
