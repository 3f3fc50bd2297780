/* filing.c - putting a worked batch into the store
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/filing.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/canon.h"
#include "journal/tables.h"

/* Beliefs fainter than this are not filed: they would be most of the rows and say nothing. */
#define FAINT 0.01

/* The canonical form, not the file's bytes: a journal that was only re-indented is not "changed".
 * Samples of a log count as they were read, since the log is a file of its own. */
enum ab_status ab_history_digest(const struct ab_batch *batch, char out[AB_HISTORY_DIGEST], struct ab_diag *diag)
{
	struct ab_sha256 digest;

	(void)diag;
	ab_sha256_init(&digest);
	ab_record_canon(ab_journal_doc.root, batch, &digest);
	for (AB_EACH(const struct ab_log, log, batch->logs))
		if (log->sensor != NULL)
			ab_sha256_add(&digest, log->sensor->samples,
			    log->sensor->n * sizeof *log->sensor->samples);
	ab_sha256_hex(&digest, out);
	return AB_OK;
}

/* Runs a bound statement that returns no rows and makes it ready again. Bindings are cleared, or what
 * is NULL this time would keep last time's value: bind_text and bind_number bind nothing for NULL. */
static enum ab_status step(struct ab_history *store, enum filing_sql which, struct ab_diag *diag)
{
	sqlite3_stmt *q = store->stmt[which];
	enum ab_status st = sqlite3_step(q) == SQLITE_DONE ? AB_OK : filing_fail(store, diag);

	sqlite3_reset(q);
	sqlite3_clear_bindings(q);
	return st;
}

static void bind_text(sqlite3_stmt *q, int at, const char *text)
{
	if (text != NULL)
		sqlite3_bind_text(q, at, text, -1, SQLITE_STATIC);
}

/* NAN is "unknown", in the store NULL: SQL then passes over it by itself. */
static void bind_number(sqlite3_stmt *q, int at, double v)
{
	if (!isnan(v))
		sqlite3_bind_double(q, at, v);
}

void ab_history_judged_with(struct ab_history *store, const struct ab_profile *profile, const char *program)
{
	ab_profile_digest(profile, store->profile);
	snprintf(store->program, sizeof store->program, "%s", program);
}

static bool column_is(sqlite3_stmt *q, int column, const char *text)
{
	const unsigned char *stored = sqlite3_column_text(q, column);

	return strcmp(stored != NULL ? (const char *)stored : "", text) == 0;
}

/* What is known of this id: 0 nothing, 1 the same content under the same rules and profile by the same program, 2
 * something else; revision gets the newest. Other rules, another profile or another program under the same content
 * count as something else (one not known is another): the diagnosis has to be filed anew. What cannot be read is not
 * "nothing". */
static enum ab_status known(struct ab_history *store, const char *id, const char *hash, const char *rules,
    int *revision, int *found, struct ab_diag *diag)
{
	sqlite3_stmt *q = store->stmt[SQL_KNOWN];
	int rc;

	*revision = *found = 0;
	bind_text(q, 1, id);
	rc = sqlite3_step(q);
	if (rc == SQLITE_ROW) {
		*revision = sqlite3_column_int(q, 0);
		*found = column_is(q, 1, hash) && column_is(q, 2, rules) && column_is(q, 3, store->profile) &&
		    column_is(q, 4, store->program) ? 1 : 2;
	}
	enum ab_status st = rc == SQLITE_ROW || rc == SQLITE_DONE ? AB_OK : filing_fail(store, diag);
	sqlite3_reset(q);
	return st;
}

/* TRANSIENT (SQLite copies), for the one buffer is filled again for the beliefs before the row is
 * written. */
static void bind_pack(sqlite3_stmt *q, int at, const struct filing_pack *pack)
{
	if (pack->n > 0)
		sqlite3_bind_blob(q, at, pack->bytes, (int)(pack->n * FILING_ENTRY), SQLITE_TRANSIENT);
}

/* numbers[] holds the names of the facts first and of the causes after them: filing_names. */
static void pack_facts(struct ab_history *store, const struct ab_knowledge *k, const struct ab_case *c)
{
	store->pack.n = 0;
	assert(store->numbers != NULL && store->pack.room >= k->facts->n);
	for (size_t i = 0; i < k->facts->n; i++)
		if (AB_FACT_KNOWN(&c->facts[i]))
			filing_add(&store->pack, &(struct filing_entry){ store->numbers[i],
			    (unsigned char)c->facts[i].origin, c->facts[i].value, c->facts[i].u });
}

static void pack_beliefs(struct ab_history *store, const struct ab_knowledge *k, const struct ab_case *c)
{
	const struct ab_diagnosis *d = c->diagnosis;

	store->pack.n = 0;
	for (size_t i = 0; i < k->n_causes; i++) {
		double blame = d->blame != NULL ? d->blame[i] : 0;

		if (d->present[i] >= FAINT || blame >= FAINT)
			filing_add(&store->pack, &(struct filing_entry){ store->numbers[k->facts->n + i], 0,
			    d->present[i], blame });
	}
}

static enum ab_status put_batch(struct ab_history *store, const struct ab_knowledge *k,
    const struct ab_case *c, const char *hash, int revision, struct ab_diag *diag)
{
	sqlite3_stmt *q = store->stmt[SQL_BATCH];
	enum ab_status st = filing_names(store, k, diag);

	if (st != AB_OK)
		return st;
	bind_text(q, 1, c->batch->id);
	sqlite3_bind_int(q, 2, revision);
	bind_text(q, 3, hash);
	bind_text(q, 4, c->batch->line);
	sqlite3_bind_int(q, 5, c->evidence.family);
	bind_number(q, 6, c->batch->brewed.s);
	bind_text(q, 7, k->version);
	sqlite3_bind_int(q, 8, c->tasted);
	bind_number(q, 9, c->load);
	bind_number(q, 10, c->load_low);
	bind_number(q, 11, c->load_high);
	pack_facts(store, k, c);
	bind_pack(q, 12, &store->pack);
	pack_beliefs(store, k, c);
	bind_pack(q, 13, &store->pack);
	bind_text(q, 14, store->profile[0] != '\0' ? store->profile : NULL);
	bind_text(q, 15, store->program[0] != '\0' ? store->program : NULL);
	return step(store, SQL_BATCH, diag);
}

static enum ab_status put_faults(struct ab_history *store, const struct ab_knowledge *k,
    const struct ab_case *c, sqlite3_int64 n, struct ab_diag *diag)
{
	sqlite3_stmt *q = store->stmt[SQL_FAULT];
	enum ab_status st = AB_OK;

	for (size_t f = 0; st == AB_OK && f < k->n_faults; f++) {
		if (!(c->fault_intensity[f] > 0))
			continue;
		sqlite3_bind_int64(q, 1, n);
		bind_text(q, 2, k->faults[f].id);
		bind_number(q, 3, c->fault_intensity[f]);
		bind_number(q, 4, c->fault_load[f]);
		st = step(store, SQL_FAULT, diag);
	}
	return st;
}

/* A change the rules do not know is filed by its own words; the trend can still compare before and
 * after. */
static enum ab_status put_changes(struct ab_history *store, const struct ab_batch *batch, sqlite3_int64 n,
    struct ab_diag *diag)
{
	sqlite3_stmt *q = store->stmt[SQL_CHANGE];
	enum ab_status st = AB_OK;

	for (AB_EACH(const struct ab_change_note, note, batch->changes)) {
		if (st != AB_OK || (note->what == NULL && note->text == NULL))
			continue;
		sqlite3_bind_int64(q, 1, n);
		bind_text(q, 2, note->what != NULL ? note->what : note->text);
		st = step(store, SQL_CHANGE, diag);
	}
	return st;
}

static enum ab_status put_factor(struct ab_history *store, sqlite3_int64 n, const char *name,
    const char *value, struct ab_diag *diag)
{
	sqlite3_stmt *q = store->stmt[SQL_FACTOR];

	if (value == NULL)
		return AB_OK;
	sqlite3_bind_int64(q, 1, n);
	bind_text(q, 2, name);
	bind_text(q, 3, value);
	return step(store, SQL_FACTOR, diag);
}

/* What bad batches may have in common: the things with names of their own. Names of their own only: a
 * "siphon" without an id may be another one each time, and would tie batches together that share
 * nothing. */
static enum ab_status put_factors(struct ab_history *store, const struct ab_batch *batch, sqlite3_int64 n,
    struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	for (AB_EACH(const struct ab_vessel, v, batch->vessels))
		if (st == AB_OK)
			st = put_factor(store, n, "vessel", v->id, diag);
	for (AB_EACH(const struct ab_gear, g, batch->gear))
		if (st == AB_OK && g->item != 0)
			st = put_factor(store, n, ab_words_gear[g->item - 1], g->id, diag);
	for (AB_EACH(const struct ab_yeast, y, batch->yeasts)) {
		if (st == AB_OK)
			st = put_factor(store, n, "yeast", y->strain, diag);
		if (st == AB_OK)
			st = put_factor(store, n, "yeast lot", y->lot, diag);
		if (st == AB_OK)
			st = put_factor(store, n, "yeast supplier", y->supplier, diag);
	}
	if (st == AB_OK && batch->water != NULL && batch->water->source != 0)
		st = put_factor(store, n, "water", ab_words_water[batch->water->source - 1], diag);
	if (st == AB_OK && batch->water != NULL && batch->water->treatment != 0)
		st = put_factor(store, n, "water treatment", ab_words_treatment[batch->water->treatment - 1], diag);
	return st;
}

/* Nothing is ever overwritten: a changed journal becomes the next revision, and reading takes the
 * newest. */
enum ab_status ab_history_put(struct ab_history *store, const struct ab_knowledge *k, const struct ab_case *c,
    const char *content_hash, int *added, struct ab_diag *diag)
{
	int revision, found;
	sqlite3_int64 n;
	enum ab_status st = known(store, c->batch->id, content_hash, k->version, &revision, &found, diag);

	if (st != AB_OK)
		return st;
	if (added != NULL)
		*added = found == 1 ? 0 : found == 0 ? 1 : 2;
	if (found == 1)
		return AB_OK;
	st = put_batch(store, k, c, content_hash, revision + 1, diag);
	n = sqlite3_last_insert_rowid(store->db);
	if (st == AB_OK)
		st = put_faults(store, k, c, n, diag);
	if (st == AB_OK)
		st = put_changes(store, c->batch, n, diag);
	if (st == AB_OK)
		st = put_factors(store, c->batch, n, diag);
	return st;
}

/* A trend is held against what was said before the change was made. */
enum ab_status ab_history_put_promise(struct ab_history *store, const char *change, double made_s,
    const struct ab_promised *promised, bool begun, struct ab_diag *diag)
{
	sqlite3_stmt *q = store->stmt[SQL_PROMISE];

	bind_text(q, 1, change);
	bind_number(q, 2, made_s);
	bind_number(q, 3, promised->load_before);
	bind_number(q, 4, promised->load_after);
	sqlite3_bind_int(q, 5, begun);
	return step(store, SQL_PROMISE, diag);
}

/* The profile is the truth and is filed whole: what was taken back there goes here, too. */
enum ab_status ab_history_put_changed(struct ab_history *store, const struct ab_profile *profile,
    struct ab_diag *diag)
{
	const char *brewery = profile->name != NULL ? profile->name : "";
	sqlite3_stmt *q = store->stmt[SQL_CHANGED];
	enum ab_status st;

	bind_text(store->stmt[SQL_CHANGED_CLEAR], 1, brewery);
	st = step(store, SQL_CHANGED_CLEAR, diag);
	for (AB_EACH(const struct ab_changed, c, profile->changed)) {
		if (st != AB_OK)
			break;
		bind_text(q, 1, brewery);
		bind_text(q, 2, c->what != NULL ? c->what : c->text);
		bind_number(q, 3, c->on.s);
		bind_text(q, 4, c->line);
		st = step(store, SQL_CHANGED, diag);
	}
	return st;
}
