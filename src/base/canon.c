/* canon.c - the content of a record as a digest
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/canon.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void add(struct ab_sha256 *digest, const char *text)
{
	ab_sha256_add(digest, text, strlen(text) + 1);   /* with the NUL: "ab" + "c" is not "a" + "bc" */
}

/* Twelve digits and an exponent; no decimal point, which would be the locale's. */
static void add_number(struct ab_sha256 *digest, const char *name, double v)
{
	char text[64];
	int power = v != 0 ? (int)floor(log10(fabs(v))) - 11 : 0;
	double digits = power < -290 ? 0 : round(v / pow(10, power));

	if (fabs(digits) >= 1e12) {
		digits /= 10;
		power++;
	}
	snprintf(text, sizeof text, "%.0fe%d", digits + 0.0, power);
	add(digest, name);
	add(digest, text);
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
	add(digest, when->relative ? "after pitching" : when->date_only ? "day" : "time");
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
		if (*(const int *)field != 0)
			add_number(digest, spec->name, *(const int *)field);
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

	add(digest, spec->name);
	if (((const struct ab_mark *)record)->guess)
		add(digest, "guess");
	for (const struct ab_attr_spec *a = spec->attrs; a != NULL && a->name != NULL; a++)
		add_attr(digest, a, base + a->at);
	if (spec->has_text)
		add_text(digest, "text", *(const char *const *)(const void *)(base + spec->text_at));
	for (const struct ab_elem_spec *c = spec->children; c != NULL && c->name != NULL; c++)
		add_children(digest, c, base);
	add(digest, "end");
}
