/* entrycase.h - what tests of typed lines share: say one, see what was understood, have a journal read it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_ENTRYCASE_H
#define AB_TESTS_ENTRYCASE_H

#include <afterboil/entry.h>
#include <afterboil/when.h>

/* A Thursday evening, two days after the yeast went in. */
#define NOW "2031-03-13T19:30"
#define PITCHED "2031-03-11T18:00"
#define AT " at=\"" NOW "\""

/* The line said last, and what came of it. */
struct entry_case {
	struct ab_arena *arena;
	struct ab_diag diag;
	struct ab_entry *entry;
	struct ab_entry_doubt doubt;
};
extern struct entry_case ec;

/* What the rules would call malts. */
extern const struct ab_alias ec_malts[];
extern const size_t ec_n_malts;

void ec_setup(void);
void ec_teardown(void);
struct ab_when ec_when(const char *text);   /* NULL: not known */
/* What the rules would tell of the classes of yeast. */
const char *ec_word(void *ctx, const char *attr, const char *said);
const char *ec_choice(void *ctx, const char *attr, size_t i);
/* units: 'm' metric, 'u' US, '-' not known. now and pitched may be NULL: not known. */
enum ab_status ec_say(char units, const char *words, const char *now, const char *pitched);
/* All that was understood, one element behind the other. */
void ec_elements(char *to, size_t size);
/* The journal takes what was understood. */
void ec_reads(const char *words);
/* All of these: the line is understood as meant, without a doubt, and the journal takes it. */
void ec_takes(char units, const char *words, const char *elements);

#endif
