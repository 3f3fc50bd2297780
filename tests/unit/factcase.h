/* factcase.h - for tests of facts: a journal as text goes in, one fact comes out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_FACTCASE_H
#define AB_TESTS_FACTCASE_H

#include <math.h>
#include <stdlib.h>
#include <check.h>
#include <afterboil/facts.h>

/* What stands inside <batch> (brewed 2031-03-01, pitched at 18:00 that day unless it says <pitch>), and what is
 * expected of one fact. Text that does not begin with an element stands among the attributes of <batch> or
 * <brewery>. */
struct fact_row {
	const char *title, *journal, *fact;
	double want, within;         /* AB_SILENT: unknown */
	const char *profile;         /* what stands inside <brewery>, or NULL */
	enum ab_origin origin;       /* 0: any */
	const char *word;            /* for words, in place of want */
	double u;                    /* expected uncertainty, within a tenth; 0: any */
};

#define AB_SILENT ((double)NAN)

/* A few yeasts, sanitisers and bottles of the kind rules hold; invented for tests, round numbers. */
extern const struct ab_norms fact_norms;

/* Computes the row's fact and compares; the assertion's message carries the title. */
void fact_row_check(const struct fact_row *row);

/* The batch of a journal text (as in a row). */
struct ab_batch *fact_read(const char *journal, struct ab_arena *arena);
/* Reads the journal text (as in a row) into the arena, computes all facts into facts (ab_fact_defs()->n long). */
void fact_compute(const char *journal, const char *profile, struct ab_arena *arena, struct ab_fact *facts);
/* The value of one fact of a journal text, in an arena of its own. */
double fact_value(const char *text, const char *fact);
/* A fact by name. */
const struct ab_fact *fact_get(const struct ab_fact *facts, const char *name);

/* Runs one suite of rows as a TAP program; always 0. */
int fact_rows_run(const char *name, const struct fact_row *rows, size_t n, TCase *more);

#endif
