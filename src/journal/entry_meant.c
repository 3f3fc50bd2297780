/* entry_meant.c - what a sentence means beyond its words: first signs, forced samples, readings and checks that
 * lack something
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_read.h"

#include <math.h>
#include <string.h>

/* "first signs" without a length of time are seen now: how long after the yeast went in. Nobody waits a week for
 * them: what bubbles then bubbles again, and is no first sign (working estimate). */
enum { LONGEST_LAG_S = 7 * 86400 };
static bool first_signs_at(const struct sentence *s, const struct ab_when *at, double ago_s, double *after_s)
{
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL, *now = s->when.known ? &s->when : at;

	if (pitched == NULL || !pitched->known || pitched->relative || pitched->date_only || !now->known ||
	    now->relative || now->date_only)
		return false;
	*after_s = now->s - ago_s - pitched->s;
	return *after_s > 0 && *after_s <= LONGEST_LAG_S;
}

/* "bubbling since 12 hours": it began 12 hours ago, which is no 12 hours after the yeast went in. */
enum ab_status entry_since_pitched(struct sentence *s, const struct ab_when *at, struct ab_diag *diag)
{
	struct entry_part *part = &s->part[0];
	bool since = s->lead > 0 && entry_is_filler("since", s->word[s->lead - 1]), told = part->n_sets > 0;
	struct ab_quantity ago = { .value = 0 };
	char hours[32], why[300];
	double after_s;

	if (strcmp(part->row->element, "lag") != 0 || part->row->fixed[0] != '\0' ||
	    (told && (!since || !ab_quantity_read(part->sets[0].value, AB_DIM_TIME, &ago, why, sizeof why))))
		return AB_OK;
	if (!first_signs_at(s, at, ago.value, &after_s))
		return !told
		    ? AB_OK
		    : ab_fail(diag, AB_EUSAGE, NULL, 0,
			  "how long after the yeast went in were the first signs? Write it like \"first signs "
			  "after 9 h\"");
	ab_num_text(floor(after_s / 360 + 0.5) / 10, hours, sizeof hours);
	const char *value = ab_arena_printf(s->arena, "%s h", hours);
	if (value == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	ab_str_clear(&part->xml);
	ab_str_clear(&s->echo);
	part->n_sets = 0;
	part->any = part->used[0] = true;
	entry_put(s, part, part->row->slots[0].attr, value);
	return AB_OK;
}

/* "forced sample ended at 1.012": did it fall lower than the beer? By more than two readings of one hydrometer
 * differ. */
enum ab_status entry_forced_result(struct sentence *s, struct ab_diag *diag)
{
	struct entry_part *part = &s->part[0];
	double beer = s->help != NULL ? s->help->last_sg : 0;
	struct ab_quantity q;
	char why[300];

	if (strcmp(part->row->element, "test") != 0 || part->n_sets == 0 ||
	    !ab_quantity_read(part->sets[0].value, AB_DIM_GRAVITY, &q, why, sizeof why))
		return AB_OK;
	bool told = strstr(part->row->fixed, "result") != NULL,
	     fell = strstr(part->row->fixed, "result=\"yes\"") != NULL;
	if (told && beer > 0 && (fell ? q.value > beer - AB_ALIKE_SG : fabs(q.value - beer) > AB_ALIKE_SG))
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "the beer stands at %.3f, as told last: a sample at %.20s %s it. If the beer stands elsewhere now, "
		    "write that first, like \"gravity 1.020\"; or write \"forced sample ended at %.20s\"",
		    beer, part->sets[0].value, fell ? "did not fall below" : "did not stay at",
		    part->sets[0].value);
	if (told)
		return AB_OK;
	if (!s->trying && !(beer > 0))
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "was that lower than the beer itself? Write \"forced sample fell to %.20s\" or \"forced "
		    "sample stayed "
		    "at %.20s\"",
		    part->sets[0].value, part->sets[0].value);
	/* On its way it tells nothing yet, and taken for its end it would give leave to bottle. */
	bool lower = q.value<beer - AB_ALIKE_SG, on_its_way = q.value> beer + AB_ALIKE_SG ||
	    strcmp(part->row->title, ENTRY_FORCED_READ) == 0;
	if (!s->trying && !lower && on_its_way)
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "that is not lower than the beer, which stands at %.3f: is the sample done? It tells once "
		    "it has stood "
		    "still for a day or two in the warm. Write it then, like \"forced sample stayed at %.3f\" "
		    "or \"forced sample fell to 1.010\"",
		    beer, beer);
	entry_put(s, part, "result", lower ? "yes" : "no");
	return AB_OK;
}

/* "OG at 22 C": how warm a sample was, and by what it was read, tell nothing without what was read. */
bool entry_lacks_gravity(const struct sentence *s)
{
	const struct entry_part *part = &s->part[0];
	bool sample = false, read = false;

	for (size_t i = 0; strcmp(part->row->element, "reading") == 0 && i < part->n_sets; i++) {
		const char *attr = strchr(part->sets[i].target, ' ') + 1;
		bool about = strcmp(attr, "sample") == 0 || strcmp(attr, "instrument") == 0 ||
		    strcmp(attr, "corrected") == 0 || strcmp(attr, "mixed") == 0;
		sample = sample || about;
		read = read || !about;
	}
	return sample && !read;
}

/* "check hydrometer-in-water": which answer? "check yes": of which check? A journal takes none without the other. */
enum ab_status entry_lacks_answer(const struct sentence *s, struct ab_diag *diag)
{
	const struct entry_part *part = &s->part[0];
	const char *kind = NULL;
	bool result = false;

	if (strcmp(part->row->element, "test") != 0 || part->row->fixed[0] != '\0')
		return AB_OK;
	for (size_t i = 0; i < part->n_sets; i++) {
		const char *attr = strchr(part->sets[i].target, ' ') + 1;
		kind = strcmp(attr, "kind") == 0 ? part->sets[i].value : kind;
		result = result || strcmp(attr, "result") == 0;
	}
	return kind == NULL
	    ? ab_fail(diag, AB_EUSAGE, NULL, 0,
		  "which check was it? Write it like \"check hydrometer-in-water no\"; \"afterboil rules list "
		  "checks\" names them all")
	    : !result ? ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "what came of it? Write \"check %.64s yes\" or \"check %.64s no\"", kind, kind)
		      : AB_OK;
}
