/* reportcase.h - a small world of rules and one batch, made by hand, that the tests of reports share
 *
 * Five faults, five causes, four changes, two checks, every unit a fact may have. What a test wants otherwise it
 * changes in its own copy: every getter fills a struct of the caller's.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_REPORTCASE_H
#define AB_TESTS_REPORTCASE_H

#include <jansson.h>
#include <afterboil/report.h>

/* Places in the world's tables. */
enum { RC_BUTTER, RC_DMS, RC_SOUR, RC_PAPER, RC_HAZE, RC_FAULTS };
enum { RC_WARM, RC_COLD, RC_YOUNG, RC_DIRT, RC_AIR, RC_CAUSES };
enum { RC_CELLAR, RC_BOX, RC_TUBE, RC_FRIDGE, RC_CHANGES };
enum { RC_SNIFF, RC_SHAKE, RC_CHECKS };
enum { RC_TEMP, RC_OVER, RC_VOLUME, RC_HEIGHT, RC_PRESSURE, RC_SHARE, RC_SG, RC_COUNT, RC_POINTS, RC_PPM,
    RC_FLAG, RC_PLACE,
	RC_FACTS };

extern const struct ab_knowledge rc_rules;

struct ab_look rc_look(enum ab_format format);

/* A case with butter (strong) and DMS (slight) found, no suspects yet. d is filled, and c points at it. */
void rc_case(struct ab_case *c, struct ab_diagnosis *d);
/* Room for findings and facts, all unknown at the start, that rc_case hands out. */
extern struct ab_finding rc_finding[RC_FAULTS];
extern struct ab_fact rc_facts[RC_FACTS];
extern struct ab_batch rc_batch;

/* The report of one case; fails the test when there is none. The caller frees it with ab_report_free. */
char *rc_diagnosis(const struct ab_case *c, const struct ab_look *look);
char *rc_facts_of(const struct ab_case *c, const struct ab_look *look);

/* Advice with everything told of a plan of two (the cellar, then the box); the items are the caller's copy. */
struct ab_advice rc_advice(struct ab_item items[RC_CHANGES]);
/* The report of it, as rc_diagnosis. */
char *rc_advised(const struct ab_advice *a, const struct ab_look *look);

void rc_has(const char *title, const char *text, const char *want);
void rc_lacks(const char *title, const char *text, const char *unwanted);
/* Both stand there, and first before second. */
void rc_before(const char *title, const char *text, const char *first, const char *second);
/* How often part stands in text. */
size_t rc_times(const char *text, const char *part);
/* text as JSON, freeing text; fails the test when it is none. */
json_t *rc_json(char *text);
/* The keys of an object in order, with blanks between; lives until the next call. */
const char *rc_keys(const json_t *object);

#endif
