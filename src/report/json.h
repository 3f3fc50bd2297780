/* json.h - JSON objects built without checking each step
 *
 * A value that could not be made turns the whole object to NULL at put_end, so that a report is either whole
 * or absent.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_JSON_H
#define AB_REPORT_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include <jansson.h>
#include <afterboil/diag.h>

/* A JSON object being filled: when memory is short it goes bad, later puts do nothing, and put_end says
 * so. */
struct put { json_t *object; bool bad; };

struct put put_begin(void);
/* A text that is not valid UTF-8 is scrubbed; NULL gives null. */
void put_text(struct put *p, const char *key, const char *text);
/* NAN and infinities give null: JSON has no word for "unknown" and "no limit". */
void put_number(struct put *p, const char *key, double x);
void put_count(struct put *p, const char *key, size_t n);
void put_flag(struct put *p, const char *key, bool yes);
void put_value(struct put *p, const char *key, json_t *value);   /* takes the reference; NULL makes p bad */
/* The object, the caller's now; NULL (and nothing left behind) when any put failed. */
json_t *put_end(struct put *p);

/* Values by themselves, under the same rules as put_text and put_number; NULL when memory is short. */
json_t *json_text(const char *text);
json_t *json_number(double x);
json_t *json_date(double s);   /* "2031-03-07" */
/* Appends and takes; returns the array, or NULL (array dropped) when either is NULL. */
json_t *json_add(json_t *array, json_t *value);

/* The text of a document; takes it. One line when compact. A trailing newline is added. */
enum ab_status json_finish(json_t *document, bool compact, char **out, struct ab_diag *diag);

#endif
