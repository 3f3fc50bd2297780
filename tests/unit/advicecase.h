/* advicecase.h - a small brewery for tests of advice: four causes, two faults, batches made for the moment
 *
 * Alone: warm 0.3, with t.over 0 K it is 3/17 and with 4 K 24/31; stale 0.2, with t.share 0 it is 1/2 and with 1 it
 * is 1/17; husky (hot side) 0.15; young (benign) 0.3. Warm brings butter and weighs 2.4 a strike, stale 1.5,
 * husky 1.2.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TEST_ADVICECASE_H
#define AB_TEST_ADVICECASE_H

#include <afterboil/advice.h>
#include "tiny.h"

enum { C_WARM, C_STALE, C_HUSKY, C_YOUNG, C_CAUSES };

#define CHANGE(id, kind, side, more, body) "<change id='" id "' kind='" kind "' side='" side "' " more \
	" source='estimate'><title>" id \
	"</title><how>so</how>" body "</change>\n"
#define HABIT(id, body) CHANGE(id, "habit", "cold", "stage='ferment' cost='0'", body)
#define BUY(id, price, body) CHANGE(id, "upgrade", "cold", "stage='ferment' cost='" price "'", body)
#define PREVENTS(cause, share) "<prevents cause='" cause "' share='" share "' source='estimate'/>"
#define WARM PREVENTS("warm", "0.5")
#define STALE PREVENTS("stale", "0.5")
#define HUSKY PREVENTS("husky", "0.5")
#define COOLS "<sets fact='t.over' at-most='0 K' source='estimate'/>"
#define FRESHENS "<sets fact='t.share' at-least='1' source='estimate'/>"

enum { MOST_BATCHES = 80 };
struct brewery {
	const struct ab_knowledge *k;
	struct ab_arena *arena;
	struct ab_case *cases[MOST_BATCHES];
	size_t n;
	struct ab_profile *profile;              /* empty; NULL it for none */
	struct ab_advice_options options;        /* every number NAN or 0 */
	struct ab_diag diag;
};

/* Opens with these changes in the rules; fails the test when they do not read. */
void brewery_open(struct brewery *b, const char *changes);
/* Drops it, and the rules. */
void brewery_close(struct brewery *b);

/* An empty journal, but for that it was brewed: one that is begun on paper only counts for nothing. */
struct ab_batch *brewery_brewed(struct brewery *b);
/* A batch of no known facts; facts are set by hand, then brewery_ready makes `present` what the facts say alone. */
struct ab_case *brewery_batch(struct brewery *b);
/* n batches with t.over 4 K and t.share 0: warm and stale are likely in each. */
void brewery_bad_batches(struct brewery *b, size_t n);
void brewery_ready(struct brewery *b);
/* The batch notes a change. */
void brewery_note(struct brewery *b, struct ab_case *c, const char *what, int adopted);
/* Room for one more in a list of the arena. */
void *brewery_push(struct brewery *b, struct ab_list *list, size_t size);

/* Advice that must succeed, and one item of it by the change's id. */
const struct ab_advice *brewery_advise(struct brewery *b);
const struct ab_item *brewery_item(const struct brewery *b, const struct ab_advice *advice, const char *id);
/* The ids of the plan in buying order, with blanks between. */
const char *brewery_plan(const struct brewery *b, const struct ab_advice *advice, char *out, size_t size);

#endif
