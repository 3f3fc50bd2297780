/* store.h - the history: every journal read, with its facts, diagnosis and the rules it was made under
 *
 * One SQLite file. Reading the same journal twice changes nothing (by content hash); a changed one makes a new revision and the old stays.
 * All of one run is one transaction. This is the only room that knows SQL.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_STORE_H
#define AFTERBOIL_STORE_H

#include <afterboil/casework.h>

struct ab_store;

/* Opens or creates; path ":memory:" for a test. Creates missing folders of the path with mode 0700. AB_ESYSTEM, also for a store of a newer format. */
enum ab_status ab_store_open(const char *path, struct ab_store **out, struct ab_diag *diag);
void ab_store_close(struct ab_store *store);

enum ab_status ab_store_begin(struct ab_store *store, struct ab_diag *diag);
enum ab_status ab_store_commit(struct ab_store *store, struct ab_diag *diag);
void ab_store_rollback(struct ab_store *store);

/* Files a case. content is the journal's canonical text (ab_store_digest of it decides what is new). added tells 1 new, 2 new revision, 0 known already. */
enum ab_status ab_store_put(struct ab_store *store, const struct ab_knowledge *k, const struct ab_case *c, const char *content_hash,
    int *added, struct ab_diag *diag);

/* A stable hex digest (SHA-256) of a batch's content as read: layout and comments of the file do not matter. out holds 65 bytes. */
enum ab_status ab_store_digest(const struct ab_batch *batch, char *out, struct ab_diag *diag);

/* One batch of the history, newest revision. Texts and arrays in the arena. */
struct ab_past {
	const char *id, *line, *family, *hash, *rules;
	double brewed_s;
	int revision;
	bool tasted;
	double load, load_low, load_high;
	double *fault_load, *fault_intensity;    /* k->n_faults, by the ids of the rules in hand */
	double *present;                         /* k->n_causes */
	const char **changes; double *changes_s; size_t n_changes;   /* change ids or texts noted in the journal */
	size_t n_facts; int *slots; double *values;
};

/* All batches in order of brew date (ties by id); line NULL = all. */
enum ab_status ab_store_history(struct ab_store *store, const struct ab_knowledge *k, const char *line, struct ab_arena *arena,
    struct ab_past **out, size_t *n, struct ab_diag *diag);

/* Files and returns promises of advice, for "promise beside outcome". */
enum ab_status ab_store_put_promise(struct ab_store *store, const char *change, double made_s, double load_before, double load_after, struct ab_diag *diag);

#endif
