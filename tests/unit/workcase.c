/* workcase.c - a batch on the rules of the project, for tests of the casework
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "workcase.h"

#include <check.h>

#include "rulecase.h"

struct work_case wc;

void wc_read_rules(void)
{
	rules_read();
	wc.k = rules;
}

void wc_set_up(void)
{
	wc.arena = ab_arena_new();
	ab_diag_init(&wc.diag);
	wc.batch = ab_arena_alloc(wc.arena, 1, sizeof *wc.batch);
	wc.batch->id = "b";
	wc.batch->source = "b.xml";
	wc.facts = ab_arena_alloc(wc.arena, wc.k->facts->n, sizeof *wc.facts);
}

void wc_tear_down(void)
{
	ab_arena_free(wc.arena);
}

void *wc_push(struct ab_list *list, size_t size)
{
	void *p = ab_arena_push(wc.arena, &list->items, &list->n, &list->cap, size);
	ck_assert_ptr_nonnull(p);
	return p;
}

void wc_taste(const struct wc_sheet *sheet)
{
	struct ab_tasting *t = wc_push(&wc.batch->tastings, sizeof *t);
	t->by = sheet->by;
	t->complete = sheet->complete;
	t->at = (struct ab_when){ .known = true, .relative = true, .s = sheet->day * 86400 };
	t->panel = (struct ab_num){ .v = sheet->panel, .resolution = 1, .known = sheet->panel > 0 };
	for (size_t i = 0; i < 3 && sheet->said[i].fault != NULL; i++) {
		if (sheet->said[i].intensity > 0) {
			struct ab_found *f = wc_push(&t->found, sizeof *f);
			f->fault = sheet->said[i].fault;
			f->intensity = (struct ab_num){ .v = sheet->said[i].intensity, .resolution = 1, .known = true };
		} else {
			((struct ab_absent *)wc_push(&t->absent, sizeof(struct ab_absent)))->fault =
			    sheet->said[i].fault;
		}
	}
}

struct ab_finding wc_evidence_of(const char *fault, const struct ab_profile *profile)
{
	struct ab_evidence e;
	enum ab_status st = ab_case_evidence(wc.k, wc.batch, profile, wc.facts, wc.arena, &e, &wc.diag);
	ck_assert_msg(st == AB_OK, "%s", wc.diag.text);
	return e.finding[ab_fault_find(wc.k, fault)];
}

struct ab_case *wc_work(const struct ab_diagnose_options *options)
{
	struct ab_case *c = NULL;
	enum ab_status st = ab_case_work(wc.k, wc.batch, NULL, options, wc.arena, &c, &wc.diag);
	ck_assert_msg(st == AB_OK, "%s", wc.diag.text);
	return c;
}

struct ab_case *wc_plainly(void)
{
	static const struct ab_diagnose_options none;
	return wc_work(&none);
}

void wc_know(struct ab_case *c, const char *fact, double value)
{
	c->facts[ab_fact_slot(wc.k->facts, fact)] = (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = value };
}
