/* history.h - the history: every journal read, with its facts, diagnosis, and the rules, profile and program it was
 * made by
 *
 * One SQLite file. Reading the same journal twice changes nothing (by content hash); a changed one, or the same
 * under other rules, another profile or by another version of the program, makes a new revision and the old stays.
 * All of one run is one transaction. A store of an older format, or of some format in part, is brought up to date
 * when it is opened and loses nothing. Whatever ends a run (a kill, a full or failing disk, a power cut at any
 * call), the store then holds what it held before or all of the run, and what commit said is filed is on the disk.
 * Several programs may use one store at once. This is the only room that knows SQL.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_HISTORY_H
#define AFTERBOIL_HISTORY_H

#include <stdbool.h>
#include <afterboil/casework.h>

/* One thread at a time. */
struct ab_history;

/* Opens or creates; path ":memory:" for a test. Creates missing folders of the path with mode 0700.
 * AB_ESYSTEM, also for a store of a newer format and for a database of something else, which is left as it is. */
enum ab_status ab_history_open(const char *path, struct ab_history **out, struct ab_diag *diag);
/* Closes; an open transaction is undone. NULL is fine. */
void ab_history_close(struct ab_history *store);

/* Between begin and commit everything put is filed together or not at all. begin waits for another writer as
 * long as the store allows, then AB_ESYSTEM; commit AB_ESYSTEM when the disk refuses (then roll back).
 * rollback cannot fail and is harmless without a begin. */
enum ab_status ab_history_begin(struct ab_history *store, struct ab_diag *diag);
enum ab_status ab_history_commit(struct ab_history *store, struct ab_diag *diag);
void ab_history_rollback(struct ab_history *store);

/* Which profile the cases put from now on were judged with: its digest (ab_profile_digest) is filed with each; NULL =
 * with none. And the version of the program that judged them, as it tells it itself (what is beyond its room is cut
 * off). Without this call both are filed as not known. */
enum { AB_PROGRAM_VERSION = 32 };
void ab_history_judged_with(struct ab_history *store, const struct ab_profile *profile, const char *program);

/* Files a case, between begin and commit. content_hash: ab_history_digest of its batch, which decides with rules,
 * profile and program whether it is new. added tells 1 new, 2 new revision, 0 known already. AB_ESYSTEM, AB_ENOMEM.
 */
enum ab_status ab_history_put(struct ab_history *store, const struct ab_knowledge *k, const struct ab_case *c,
    const char *content_hash, int *added, struct ab_diag *diag);

/* A stable hex digest (SHA-256) of a batch's content as read, its sensor logs among it: layout and comments of the
 * file do not matter. Needs no memory; AB_OK. */
enum { AB_HISTORY_DIGEST = 65 };
enum ab_status ab_history_digest(const struct ab_batch *batch, char out[AB_HISTORY_DIGEST], struct ab_diag *diag);

struct ab_factor { const char *name, *value; };   /* "fermenter" = "F2" */

/* One batch of the history, newest revision. Texts and arrays in the arena. */
struct ab_past {
	const char *id, *line, *family, *hash, *rules;
	const char *profile;                     /* ab_profile_digest of the one it was judged with, "none", or NULL
	                                          * where older programs filed it: not known */
	const char *program;                     /* version of the program that judged it; NULL: not known */
	double brewed_s;
	int revision;
	bool tasted;
	double load, load_low, load_high;
	double *fault_load, *fault_intensity;    /* k->n_faults, by the ids of the rules in hand */
	double *present, *blame;                 /* k->n_causes; each NULL unless wished for */
	const char **changes; size_t n_changes;  /* change ids or texts: noted in the journal, and those of
	                                          * profiles that this batch was the first under */
	struct ab_factor *factors; size_t n_factors;   /* which vessel, hose, yeast, water: for the common
	                                                * thread */
	size_t n_facts; int *slots; double *values, *us;   /* none unless wished for; u = standard uncertainty */
};

/* What else of each batch is wanted: facts and beliefs are most of a history's bytes. */
struct ab_past_wish {
	bool facts, beliefs, blame;              /* beliefs: present and blame; blame: that alone, in half the room */
	const int *slots; size_t n_slots;        /* only these facts; NULL = all */
	size_t last;                             /* only so many batches, the newest; 0 = all */
};

/* Files the <changed> notes of a profile, in place of those filed before under the same brewery's name. Each
 * is in force from the first batch brewed on its day or later, of its line when it names one. Belongs between
 * begin and commit. AB_ESYSTEM, AB_ENOMEM. */
enum ab_status ab_history_put_changed(struct ab_history *store, const struct ab_profile *profile,
    struct ab_diag *diag);

/* All batches in order of brew date (ties by id); line NULL = of all lines; wish NULL = neither facts nor
 * beliefs. AB_ESYSTEM, AB_ENOMEM. */
enum ab_status ab_history_batches(struct ab_history *store, const struct ab_knowledge *k, const char *line,
    const struct ab_past_wish *wish, struct ab_arena *arena, struct ab_past **out, size_t *n,
    struct ab_diag *diag);

/* The day of every batch and whether it was tasted, in the order of ab_history_batches: a few bytes a batch where
 * all of a history is to be looked over before some of it is read. AB_ESYSTEM, AB_ENOMEM. */
struct ab_past_day { double brewed_s; bool tasted; };
enum ab_status ab_history_days(struct ab_history *store, const char *line, struct ab_arena *arena,
    struct ab_past_day **out, size_t *n, struct ab_diag *diag);

/* Loads per batch. alone: of this change by itself, on what was in force then; else (stores of before) of the whole
 * plan it stood in. */
struct ab_promised { double load_before, load_after; bool alone; };
/* Files what advice promised for a change by itself when it was given after the batch brewed at made_s
 * (promised->alone is not looked at): shown beside what came. The last promise before the change is begun stands:
 * begun files it only where there is none. AB_ESYSTEM, AB_ENOMEM. */
enum ab_status ab_history_put_promise(struct ab_history *store, const char *change, double made_s,
    const struct ab_promised *promised, bool begun, struct ab_diag *diag);
/* The promise filed for a change: true and the loads; false: none, or the store did not answer. */
bool ab_history_promise(struct ab_history *store, const char *change, struct ab_promised *out);

#endif
