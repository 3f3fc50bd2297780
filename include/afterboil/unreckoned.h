/* unreckoned.h - what a journal tells that no fact came of, and why
 *
 * A brewer who wrote something down wants to know whether it counted. Each entry is one field of the journal whose fact
 * stayed unknown, with what is missing beside it; or one that is kept and nothing is reckoned from.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_UNRECKONED_H
#define AFTERBOIL_UNRECKONED_H

#include <afterboil/fact.h>
#include <afterboil/journal.h>

struct ab_unreckoned {
	long line;                 /* of the first record that tells it */
	const char *element, *attr;
	const char *why;           /* "how much beer it went into is not told" */
	int slot;                  /* the fact that it would have made known; -1: none is reckoned from such a field */
};

/* At most so many there are. */
enum { AB_UNRECKONED_MOST = 64 };

/* facts: of ab_facts_compute of this batch. Into out, at least AB_UNRECKONED_MOST long, in order of their lines;
 * how many. */
size_t ab_unreckoned(const struct ab_batch *batch, const struct ab_fact *facts, struct ab_unreckoned *out);

#endif
