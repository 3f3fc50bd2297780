/* checked.c - the checks that a journal says were done, and their answers; what was tried, and whether it helped
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <stdio.h>

static enum ab_status unknown_check(
    const struct ab_knowledge *k, const struct ab_batch *batch, const struct ab_test *test, struct ab_diag *diag)
{
	enum { NEAR = 3 };
	const char *near[NEAR];
	char hint[200] = "";
	size_t n = 0, at = 0;
	int meant = ab_check_word(k, test->kind, near, NEAR, &n);
	if (meant >= 0)
		near[0] = k->checks[meant].id, n = 1;
	for (size_t i = 0; i < n && at < sizeof hint; i++)
		at += (size_t)snprintf(hint + at, sizeof hint - at,
		    "%s\"%.50s\"", i > 0 ? ", " : "; do you mean ", near[i]);
	return ab_fail(diag, AB_EINPUT, batch->source, test->mark.line,
	    "no check is called \"%.60s\"; \"afterboil rules list checks\" shows them%s%s", test->kind, hint,
	    n > 0 ? "?" : "; a test that is none of them goes into a <note>");
}

/* One finding is not to speak twice: where the fact is known that tells the same, its signs speak for it. */
static bool tells_by_fact(const struct ab_knowledge *k, int check, const struct ab_fact *facts)
{
	int slot = k->checks[check].answered_by;
	return slot >= 0 && AB_FACT_KNOWN(&facts[slot]);
}

int case_remedy(const struct ab_knowledge *k, const struct ab_remedy *r)
{
	size_t n;

	return r->what != NULL ? ab_change_find(k, r->what)
	    : r->text != NULL  ? ab_change_word(k, r->text, NULL, 0, &n)
			       : -1;
}

/* What was tried is a check made of the change itself (knowledge/remedies.c). Of several words on one, "it did not
 * help" stands: what helped once may have been luck. */
static void remedies(const struct ab_knowledge *k, const struct ab_batch *batch, signed char *answers)
{
	for (AB_EACH(const struct ab_remedy, r, batch->remedies)) {
		int change = case_remedy(k, r);
		if (change < 0 || r->helped == AB_UNKNOWN)
			continue;
		signed char *answer = &answers[k->changes[change].remedy];
		*answer = r->helped == AB_NO || *answer < 0 ? -1 : 1;
	}
}

enum ab_status case_checks(const struct ab_knowledge *k, const struct ab_batch *batch, const struct ab_fact *facts,
    signed char *answers, struct ab_diag *diag)
{
	for (AB_EACH(const struct ab_test, test, batch->tests)) {
		int check = test->kind == NULL ? -1 : ab_check_find(k, test->kind);
		if (check < 0 && test->kind != NULL)
			return unknown_check(k, batch, test, diag);
		if (check >= 0 && test->result != AB_UNKNOWN && !tells_by_fact(k, check, facts))
			answers[check] = test->result == AB_YES ? 1 : -1;
	}
	remedies(k, batch, answers);
	return AB_OK;
}
