/* unpacking.c - facts and beliefs out of a batch's own row (packing.c puts them in)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/reading.h"

/* Numbers from a store of other rules, or a damaged one, are no index to trust. */
static struct place place_of(const struct reading *r, sqlite3_int64 name)
{
	return name > 0 && name < r->n_places ? r->places[name] : (struct place){ -1, -1 };
}

/* Whole entries only; a blob cut short loses its tail instead of being read beyond. */
static size_t entries(sqlite3_stmt *q, int column, const unsigned char **bytes)
{
	*bytes = sqlite3_column_blob(q, column);
	return *bytes == NULL ? 0 : (size_t)sqlite3_column_bytes(q, column) / FILING_ENTRY;
}

/* Names of older rules that mean nothing now are left out one by one, so an old history stays readable. A
 * wish for a few facts takes room for no more. */
static enum ab_status take_facts(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	const unsigned char *bytes;
	size_t n = entries(q, 0, &bytes), room = n;

	if (r->wish.slots != NULL && room > r->wish.n_slots)
		room = r->wish.n_slots;
	p->slots = ab_arena_alloc(r->arena, room, sizeof *p->slots);
	p->values = ab_arena_alloc(r->arena, 2 * room, sizeof *p->values);
	if (p->slots == NULL || p->values == NULL)
		return reading_nomem(diag);
	p->us = p->values + room;
	for (size_t i = 0; i < n && p->n_facts < room; i++) {
		struct filing_entry e = filing_entry(bytes, i);

		if (place_of(r, e.name).slot < 0)
			continue;
		p->slots[p->n_facts] = place_of(r, e.name).slot;
		p->us[p->n_facts] = e.b;
		p->values[p->n_facts++] = e.a;
	}
	return AB_OK;
}

static enum ab_status take_beliefs(struct reading *r, struct ab_past *p, sqlite3_stmt *q,
    struct ab_diag *diag)
{
	const unsigned char *bytes;
	size_t n = entries(q, 1, &bytes);

	p->blame = ab_arena_alloc(r->arena, (r->wish.beliefs ? 2 : 1) * r->k->n_causes, sizeof *p->blame);
	if (p->blame == NULL)
		return reading_nomem(diag);
	p->present = r->wish.beliefs ? p->blame + r->k->n_causes : NULL;
	for (size_t i = 0; i < n; i++) {
		struct filing_entry e = filing_entry(bytes, i);
		int cause = place_of(r, e.name).cause;

		if (cause < 0)
			continue;
		p->blame[cause] = e.b;
		if (p->present != NULL)
			p->present[cause] = e.a;
	}
	return AB_OK;
}

enum ab_status reading_packed(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	enum ab_status st = r->wish.facts ? take_facts(r, p, q, diag) : AB_OK;

	return st == AB_OK && (r->wish.beliefs || r->wish.blame) ? take_beliefs(r, p, q, diag) : st;
}

/* The slot of a fact that is wanted, or -1. */
static int wanted(const struct reading *r, const char *name)
{
	int slot = ab_fact_slot(r->k->facts, name);

	if (slot < 0 || r->wish.slots == NULL)
		return slot;
	for (size_t i = 0; i < r->wish.n_slots; i++)
		if (r->wish.slots[i] == slot)
			return slot;
	return -1;
}

/* What each numbered name means here. Highest first, so one allocation is enough. */
enum ab_status reading_places(struct reading *r, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	enum ab_status st = AB_OK;
	int rc = SQLITE_DONE;

	if (sqlite3_prepare_v2(r->store->db, "SELECT k, name FROM name ORDER BY k DESC", -1, &q,
	    NULL) != SQLITE_OK)
		return filing_fail(r->store, diag);
	while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW) {
		const char *name = (const char *)sqlite3_column_text(q, 1);

		if (r->places == NULL) {   /* the first is the highest */
			r->n_places = sqlite3_column_int64(q, 0) + 1;
			r->places = ab_arena_alloc(r->arena, (size_t)r->n_places, sizeof *r->places);
		}
		if (r->places == NULL || name == NULL)
			st = reading_nomem(diag);
		else
			r->places[sqlite3_column_int64(q, 0)] =
			    (struct place){ wanted(r, name), ab_cause_find(r->k, name) };
	}
	if (st == AB_OK && rc != SQLITE_DONE)
		st = filing_fail(r->store, diag);
	sqlite3_finalize(q);
	return st;
}
