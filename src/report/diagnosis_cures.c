/* diagnosis_cures.c - what to do about a cause, in one voice with the plan
 *
 * A diagnosis that says "a tub of water" beside a plan that says "another yeast" helps nobody: where a plan is at
 * hand the cure told for a cause is what the plan takes against it, or what was done already. The rules' own words
 * stand where the plan has nothing against it, and where they help the very beer.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/telling.h"

#include "report/saying.h"

/* From here on a second cause is likely enough to act on ("perhaps", ab_likely_word); as likely as not. */
/* What is less to blame has no part in where the plan begins ("possibly" begins here). */
static const double POSSIBLY = 0.1;

/* begin: what the next brew begins with, told already; NULL. */
struct cures { const struct telling *t; size_t told; const struct ab_item *begin; };

static void say_cure(struct cures *c, const char *words)
{
	if (c->told++ == 0)
		page_section(c->t->p, c->t->d->verdict_benign ? "What to do" : "What to do next time");
	page_point(c->t->p, 2, "*", PLAIN, words);
}

/* Of the plan what takes most of the cause; NULL = nothing. */
static const struct ab_item *planned(const struct ab_advice *a, int cause)
{
	const struct ab_item *best = NULL;
	double most = 0;

	for (size_t i = 0; a != NULL && i < a->n_plan; i++) {
		const struct ab_item *item = &a->items[a->plan[i]];
		for (size_t j = 0; j < item->n_because; j++)
			if (item->because[j].cause == cause && item->because[j].load > most) {
				most = item->because[j].load;
				best = item;
			}
	}
	return best;
}

/* What was done about it since this batch, the newest of it, and has not failed; NULL = nothing. */
static const struct ab_tried *made(const struct telling *t, int cause)
{
	const struct ab_tried *newest = NULL;

	for (size_t i = 0; t->a != NULL && i < t->a->n_tried; i++) {
		const struct ab_tried *x = &t->a->tried[i];

		if (x->cause == cause && x->kept && x->proved != AB_PROVED_FAILED &&
		    x->since_s > t->c->batch->brewed.s && (newest == NULL || x->since_s > newest->since_s))
			newest = x;
	}
	return newest;
}

static const char *planned_words(const struct telling *t, const struct ab_item *item)
{
	const char *how = report_how(t->p, t->k, t->a, item->change);

	return page_text(t->p, "%s (%s).%s%s", say_words(t->p, t->k->changes[item->change].title),
	    report_price(t->p, item, REPORT_SHORT), how[0] != '\0' ? " " : "", how);
}

static void say_planned(struct cures *c, const struct ab_item *item, const char *lead)
{
	const char *caution = ab_item_caution(c->t->k, item);

	say_cure(c, page_text(c->t->p, "%s%s", lead, planned_words(c->t, item)));
	if (caution != NULL)
		page_point(c->t->p, 4, "!", CAREFUL, say_words(c->t->p, caution));
}

const struct ab_next_step *tell_next_brew(const struct ab_advice *a)
{
	for (size_t i = 0; a != NULL && i < a->n_steps; i++)
		if (a->steps[i].kind == AB_NEXT_BREW || a->steps[i].kind == AB_NEXT_BEGIN ||
		    a->steps[i].kind == AB_NEXT_SAME)
			return &a->steps[i];
	return NULL;
}

const struct ab_item *tell_begins_here(const struct ab_advice *a, const struct ab_diagnosis *d)
{
	const struct ab_next_step *s = tell_next_brew(a);
	const struct ab_item *item = s == NULL || s->kind != AB_NEXT_BEGIN ? NULL : &a->items[s->item];

	for (size_t i = 0;
	     item != NULL && !d->verdict_benign && i < d->n_suspects && d->suspects[i].blame >= POSSIBLY; i++)
		for (size_t j = 0; j < item->n_because; j++)
			if (item->because[j].cause == d->suspects[i].cause)
				return item;
	return NULL;
}

/* A harmless cause asks to wait or to do nothing: not beside bottles that may burst, which are chilled now. */
static void say_of(struct cures *c, int cause)
{
	const struct telling *t = c->t;
	const struct ab_item *item = planned(t->a, cause);
	const struct ab_tried *since = made(t, cause);
	const struct ab_cause *of = &t->k->causes[cause];
	const char *next = ab_cause_next(of, t->c->facts);
	bool waits = of->benign && ab_case_bursting(t->c) != NULL;

	if (next != NULL && !waits && (of->at_hand || of->benign || (item == NULL && since == NULL)))
		say_cure(c, say_words(t->p, next));
	if (since != NULL)
		say_cure(c, page_text(t->p, "Done since %s: %s.", say_date(t->p, since->since_s),
		    say_lower(t->p, say_words(t->p, t->k->changes[since->change].title))));
	else if (item != NULL && item != c->begin)
		say_planned(c, item, c->begin != NULL ? "Later: " : "");
}

/* The blame of the process cause most blamed. */
double tell_most_guilt(const struct telling *t)
{
	double most = 0;

	for (size_t i = 0; i < t->d->n_suspects; i++)
		if (!t->k->causes[t->d->suspects[i].cause].benign && t->d->suspects[i].blame > most)
			most = t->d->suspects[i].blame;
	return most;
}

/* Two causes at most, the second only where it is likely: a list of ten changes teaches nothing; and beside "nothing is
 * wrong" only one that is as likely as not. Of a kin that leads first what mends all its ways. */
void tell_cures(const struct telling *t)
{
	size_t first = t->d->lead != NULL ? t->d->lead->leader : 0, causes = 0;
	bool innocent = t->d->verdict_benign && tell_most_guilt(t) < TELL_EVEN;
	struct cures c = { t, 0, tell_begins_here(t->a, t->d) };

	if (t->d->lead != NULL && t->k->kins[t->d->lead->kin].next != NULL) {
		say_cure(&c, say_words(t->p, t->k->kins[t->d->lead->kin].next));
		causes++;
	}
	if (c.begin != NULL)
		say_planned(&c, c.begin, "In the next brew: ");
	for (size_t i = 0; i < t->d->n_suspects && causes < 2; i++) {
		size_t at = i == 0 ? first : i <= first ? i - 1 : i;   /* the leader of the kin before the others */
		const struct ab_suspect *s = &t->d->suspects[at];
		if ((i > 0 && s->blame < TELL_LIKELY) || (innocent && !t->k->causes[s->cause].benign))
			continue;
		say_of(&c, s->cause);
		causes++;
	}
}
