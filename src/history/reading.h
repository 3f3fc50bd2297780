/* reading.h - the insides of reading the history back: past.c walks the rows, unpacking.c what is packed in them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_HISTORY_READING_H
#define AB_HISTORY_READING_H

#include "history/filing.h"

enum { LATELY = 64 };

/* One reading of the store while it goes on. n[i] is the row of past[i]; there is room for cap of both. */
struct reading {
	struct ab_history *store;
	const struct ab_knowledge *k;
	struct ab_arena *arena;
	struct ab_past *past;
	sqlite3_int64 *n;      /* row of each batch */
	size_t count, cap;
	struct place *places;  /* by the numbers of names, from 0 */
	sqlite3_int64 n_places;
	struct ab_past_wish wish;
	const char *lately[LATELY];   /* texts by a digest of theirs: the same few come again and again */
};

struct place { int slot, cause; };   /* what a name means under the rules in hand; -1 = nothing wanted */

/* One row that hangs on a batch. */
typedef enum ab_status take_row(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag);

enum ab_status reading_nomem(struct ab_diag *diag);
/* What each numbered name means under the rules in hand. */
enum ab_status reading_places(struct reading *r, struct ab_diag *diag);
/* Facts and beliefs, as far as they are wished for; reading_places comes first. */
take_row reading_packed;

#endif
