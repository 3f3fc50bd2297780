/* rulecase.h - for tests on the project's own rules: the rules once, a journal as text, chances of causes
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_RULECASE_H
#define AB_TESTS_RULECASE_H

#include "casework/casework.h"

/* The rules of the run and the arena they live in; set by rules_read, gone after rules_drop. Both are fixtures
 * (tcase_add_unchecked_fixture): rules that do not load fail the test case with file and line. */
extern const struct ab_knowledge *rules;
extern struct ab_arena *rules_arena;
void rules_read(void);
void rules_drop(void);

/* Places of ids; an id that is none fails the test. */
int rules_cause(const char *id);
int rules_change(const char *id);

/* All facts of a journal (text as in factcase.h), in rules_arena. */
struct ab_fact *rules_facts(const char *journal);
/* P(cause before tasting) on these facts, and as odds. */
double rules_chance(const struct ab_fact *facts, const char *cause);
double rules_odds(const struct ab_fact *facts, const char *cause);

#endif
