/* json.c - JSON objects built without checking each step
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"

#include <math.h>
#include <stdlib.h>

#include <afterboil/when.h>
#include "base/str.h"

enum { DIGITS = 17 };   /* enough for a double to come back as it was */

/* A put collects failure, so callers write members one after the other and ask once, in put_end. */
struct put put_begin(void)
{
	struct put p = { json_object(), false };
	p.bad = p.object == NULL;
	return p;
}

/* value is taken also on failure, and NULL (no memory) fails by itself in json_object_set_new. */
void put_value(struct put *p, const char *key, json_t *value)
{
	if (p->bad)
		json_decref(value);
	else
		p->bad = json_object_set_new(p->object, key, value) != 0;
}

/* jansson refuses what is not UTF-8; then the text is made safe instead of the whole report failing. */
json_t *json_text(const char *text)
{
	if (text == NULL)
		return json_null();
	json_t *value = json_string(text);
	if (value != NULL)
		return value;
	struct ab_str safe;
	ab_str_init(&safe, 0);
	ab_str_add_safe(&safe, text, true);
	value = ab_str_ok(&safe) ? json_string(ab_str_text(&safe)) : NULL;
	ab_str_clear(&safe);
	return value;
}

/* JSON has no NAN and no infinity: unknown and "no limit" are both null, as the schema says. */
json_t *json_number(double x)
{
	return isfinite(x) ? json_real(x) : json_null();
}

/* A day, as everywhere: the hour of a batch is nobody's business here. */
json_t *json_date(double s)
{
	char buf[32];
	struct ab_when when = { .known = true, .date_only = true, .s = s };
	return isfinite(s) ? json_text(ab_when_write(&when, buf, sizeof buf)) : json_null();
}

/* NULL becomes null: "not told" has to be visible to a program that asks for the member. */
void put_text(struct put *p, const char *key, const char *text)
{
	put_value(p, key, json_text(text));
}

/* Infinity and NAN become null in json_number. */
void put_number(struct put *p, const char *key, double x)
{
	put_value(p, key, json_number(x));
}

/* Counts stay whole numbers: 3.0 batches would be right and look wrong. */
void put_count(struct put *p, const char *key, size_t n)
{
	put_value(p, key, json_integer((json_int_t)n));
}

void put_flag(struct put *p, const char *key, bool yes)
{
	put_value(p, key, json_boolean(yes));
}

/* NULL tells the caller's put_value or json_add that something failed. */
json_t *put_end(struct put *p)
{
	if (!p->bad)
		return p->object;
	json_decref(p->object);
	return NULL;
}

/* NULL in, NULL out: a failure anywhere in an array travels up to put_value by itself. */
json_t *json_add(json_t *array, json_t *value)
{
	if (array == NULL || value == NULL) {
		json_decref(array);
		json_decref(value);
		return NULL;
	}
	if (json_array_append_new(array, value) == 0)
		return array;
	json_decref(array);
	return NULL;
}

/* -1 stops the dump: there is no use in going on without memory. */
static int collect(const char *buffer, size_t size, void *data)
{
	struct ab_str *s = data;
	ab_str_addn(s, buffer, size);
	return ab_str_ok(s) ? 0 : -1;
}

/* Through a callback into our own string, so that the caller frees it as any other report. */
enum ab_status json_finish(json_t *document, bool compact, char **out, struct ab_diag *diag)
{
	struct ab_str s;
	size_t flags =
	    JSON_REAL_PRECISION(DIGITS) | JSON_PRESERVE_ORDER | (compact ? JSON_COMPACT : JSON_INDENT(2));
	*out = NULL;
	ab_str_init(&s, 0);
	bool ok = document != NULL && json_dump_callback(document, collect, &s, flags) == 0;
	json_decref(document);
	ab_str_add(&s, "\n");
	if (!ok || !ab_str_ok(&s)) {
		ab_str_clear(&s);
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	}
	*out = s.text;
	return AB_OK;
}
