/* profile.c - reading the brewery profile
 *
 * Some elements (<batch-size>, <money> ...) hold one or two numbers that the profile keeps flat; they are
 * read into a wider struct and moved.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/profile.h>

#include <assert.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/canon.h"
#include "base/str.h"
#include "journal/finish.h"
#include "journal/moments.h"
#include "journal/tables.h"

enum { YEAR = 365 * 86400 + 86400 / 4, DAY = 86400 };

/* a and b are what the row of the table says they are: two numbers serve for four elements. */
struct numbers { struct ab_mark mark; struct ab_num a, b; };
struct packs { struct ab_mark mark; int into; };
enum { AB_PACKS_BOTH = 5 };   /* its place in ab_words_packs */

/* The profile first, so that a pointer to one is a pointer to the other, and rows of ab_profile may be used
 * in the table of raw; what is read wide stands behind it. */
struct raw {
	struct ab_profile p;
	struct numbers *batch_size, *per_year, *money, *time;
	struct packs *packs;
};

/* From a jug to a shared pilot kit (estimate, as in batch_tables.h). */
static const struct ab_attr_spec batch_size[] = {
	AB_A_Q(numbers, "volume", a, AB_DIM_VOLUME, 0.1, 2000), AB_A_END
};
static const struct ab_attr_spec per_year[] = {
	AB_A_N(numbers, "batches", a, 0.1, 1000), AB_A_END
};
/* In the brewer's own currency: amounts are only ever compared with amounts of the same profile. */
static const struct ab_attr_spec money[] = {
	AB_A_Q(numbers, "now", a, AB_DIM_MONEY, 0, 1e9),
	AB_A_Q(numbers, "per-year", b, AB_DIM_MONEY, 0, 1e9),
	AB_A_END
};
static const struct ab_attr_spec time_attrs[] = {
	AB_A_Q(numbers, "per-batch", a, AB_DIM_TIME, 0, 30.0 * DAY),
	AB_A_Q(numbers, "away", b, AB_DIM_TIME, 0, 365.0 * DAY), AB_A_END
};
static const struct ab_attr_spec packs[] = {
	AB_A_WORD(packs, "into", into, ab_words_packs), AB_A_END
};
/* Which days: read with the calendar, which knows from when on. */
static const struct ab_attr_spec week[] = {
	AB_A_TEXT(ab_week, "free", free), AB_A_TEXT(ab_week, "begins", begins),
	AB_A_TEXT(ab_week, "other-begins", other_begins),
	AB_A_Q(ab_week, "time", time_s, AB_DIM_TIME, 0, 1.0 * DAY),
	AB_A_Q(ab_week, "other", other_s, AB_DIM_TIME, 0, 1.0 * DAY),
	AB_A_END
};
static const struct ab_attr_spec away[] = {
	AB_ROW(ab_away, "days", AB_ATTR_TEXT, days, 0, NULL, 0, 0, true), AB_A_END
};
static const struct ab_attr_spec brews[] = {
	AB_A_NEED_WORD(ab_brews, "family", family, ab_words_family),
	AB_A_Q(ab_brews, "share", share, AB_DIM_SHARE, 0, 1),
	AB_A_END
};
/* The word of a fault or chore and the id of a cause are looked up later, with the rules at hand. */
static const struct ab_attr_spec trouble[] = {
	AB_A_TEXT(ab_trouble, "fault", fault),
	AB_A_ID(ab_trouble, "cause", cause),
	AB_A_TEXT(ab_trouble, "chore", chore),
	AB_A_END
};
/* since parts the batches before from those after, from which the worth of a change is learned. What the word of a
 * thing means is looked up later, with the rules at hand. */
static const struct ab_attr_spec owns[] = {
	AB_A_ID(ab_owns, "change", change),
	AB_A_TEXT(ab_owns, "thing", thing),
	AB_A_DATE(ab_owns, "since", since),
	AB_A_YESNO(ab_owns, "unused", unused),
	AB_A_END
};
/* blind-to holds tasting words; which fault each means is found out later, with the rules at hand. */
static const struct ab_attr_spec taster[] = {
	AB_ROW(ab_taster, "name", AB_ATTR_TEXT, name, 0, NULL, 0, 0, true),
	AB_ROW(ab_taster, "blind-to", AB_ATTR_IDS, blind_to, 0, NULL, 0, 0, false),
	AB_A_N(ab_taster, "panel", panel, 1, 1000),
	AB_A_END
};
/* A price of one's own country beats that of the rules, whose figures come from elsewhere. */
static const struct ab_attr_spec price[] = {
	AB_A_NEED_ID(ab_price, "change", change),
	AB_A_Q(ab_price, "cost", cost, AB_DIM_MONEY, 0, 1e9),
	AB_A_Q(ab_price, "per-year", running_per_year, AB_DIM_MONEY, 0, 1e9),
	AB_A_Q(ab_price, "time", minutes_s, AB_DIM_TIME, 0, 30.0 * DAY),
	AB_A_END
};
/* A change not wanted, for a reason that is nobody's business: the planner leaves it out and does not
 * argue. */
static const struct ab_attr_spec refuses[] = {
	AB_A_NEED_ID(ab_refuses, "change", change), AB_A_END
};

/* A change belongs to no batch's journal when it is made: the next one is not begun. */
static const struct ab_attr_spec changed[] = {
	AB_A_ID(ab_changed, "what", what),
	AB_ROW(ab_changed, "on", AB_ATTR_DATE, on, 0, NULL, 0, 0, true),
	AB_A_TEXT(ab_changed, "line", line),
	AB_A_END
};

static const struct ab_elem_spec brewery_children[] = {
	AB_E_ONE(raw, batch_size, numbers, "batch-size", batch_size, "the usual batch"),
	AB_E_ONE(raw, per_year, numbers, "per-year", per_year, "batches a year"),
	AB_E_MANY(ab_profile, brews, ab_brews, "brews", brews,
	    "a family of beers, and its share of the batches"),
	AB_E_ONE(raw, money, numbers, "money", money, "money for changes, now and a year"),
	AB_E_ONE(raw, time, numbers, "time", time_attrs, "time more that a batch may take"),
	AB_E_ONE(raw, packs, packs, "packs", packs, "what the beer mostly goes into"),
	AB_E_ONE(ab_profile, week, ab_week, "week", week, "days with time for brewing"),
	AB_E_MANY(ab_profile, away, ab_away, "away", away, "days not at home"),
	AB_E_MANY(ab_profile, owns, ab_owns, "owns", owns, "a change made or a thing owned"),
	AB_E_MANY(ab_profile, troubles, ab_trouble, "trouble", trouble,
	    "what is wrong in batch after batch: a fault (or \"nothing\"), its cause where that is known, or a burden "
	    "that no beer tastes of"),
	/* A whole batch of habits: any element of a journal may be usual, with no second list of what may
	 * be said. */
	AB_E_HOLDS(ab_profile, usual, ab_batch, "usual", NULL, ab_batch_children, false,
	    "habits, as elements of a batch"),
	AB_E_MANY(ab_profile, tasters, ab_taster, "taster", taster, "who tastes, and what they cannot taste"),
	AB_E_MANY(ab_profile, prices, ab_price, "price", price, "what a change costs here"),
	AB_E_MANY(ab_profile, refuses, ab_refuses, "refuses", refuses, "a change not wanted"),
	AB_E_TEXT(ab_profile, changed, ab_changed, "changed", changed, true,
	    "a change made between batches, and since when"),
	AB_E_TEXT(ab_profile, notes, ab_note, "note", NULL, true, "free text"),
	AB_E_END
};
/* Everything may be missing here as well: an empty profile is a profile, and says only that a brewer has
 * one. */
static const struct ab_attr_spec brewery[] = {
	AB_A_TEXT(ab_profile, "name", name),
	AB_A_TEXT(ab_profile, "currency", currency),
	AB_A_WORD(ab_profile, "units", units, ab_words_units),
	AB_A_WORD(ab_profile, "space", space, ab_words_space),
	AB_A_WORD(ab_profile, "goal", goal, ab_words_goal),
	/* A life's brewing, at one a day (estimate). */
	AB_A_N(ab_profile, "brewed-so-far", brewed, 0, 30000),
	AB_A_YESNO(ab_profile, "noise-matters", noise_matters),
	AB_A_YESNO(ab_profile, "smoke-matters", smoke_matters),
	AB_A_Q(ab_profile, "horizon", horizon_s, AB_DIM_TIME, 1.0 * DAY, 50.0 * YEAR),
	AB_A_Q(ab_profile, "room", room_c, AB_DIM_TEMP, -40, 60),
	/* From the shore of the Dead Sea to above the highest towns. */
	AB_A_Q(ab_profile, "altitude", altitude_mm, AB_DIM_LENGTH, -430e3, 5500e3),
	AB_A_END
};
static const struct ab_elem_spec root = {
	"brewery", sizeof(struct raw), 0, false, true, brewery, brewery_children, false, false, 0,
	"a home brewery"
};

const struct ab_record_doc ab_profile_doc = { AB_PROFILE_NS, &root, NULL, 1, 100000, &ab_by_hand };

/* What facts and evidence look at (gather.c, temperature.c, packaging.c, saturation.c, evidence.c): a row more
 * there is a row more here. check_profile.c holds that a profile without these judges as none does. */
static const struct ab_elem_spec judging_children[] = {
	AB_E_ONE(raw, batch_size, numbers, "batch-size", batch_size, ""),
	AB_E_ONE(raw, packs, packs, "packs", packs, ""),
	AB_E_HOLDS(ab_profile, usual, ab_batch, "usual", NULL, ab_batch_children, false, ""),
	AB_E_MANY(ab_profile, tasters, ab_taster, "taster", taster, ""),
	AB_E_END
};
static const struct ab_attr_spec judging_attrs[] = {
	AB_A_Q(ab_profile, "room", room_c, AB_DIM_TEMP, -40, 60),
	AB_A_Q(ab_profile, "altitude", altitude_mm, AB_DIM_LENGTH, -430e3, 5500e3),
	AB_A_END
};
static const struct ab_elem_spec judging = {
	"brewery", sizeof(struct raw), 0, false, true, judging_attrs, judging_children, false, false, 0, ""
};

void ab_profile_digest(const struct ab_profile *profile, char out[AB_PROFILE_DIGEST])
{
	struct ab_sha256 digest;
	char hex[65] = "none";

	if (profile != NULL) {
		ab_sha256_init(&digest);
		ab_record_canon(&judging, profile, &digest);
		ab_sha256_hex(&digest, hex);
	}
	hex[AB_PROFILE_DIGEST - 1] = '\0';
	memcpy(out, hex, AB_PROFILE_DIGEST);
}

struct reading { const char *name; struct ab_arena *arena; struct ab_profile *profile; };

static struct ab_num first_of(const struct numbers *n)
{
	return n != NULL ? n->a : (struct ab_num){ 0 };
}

/* Habits have no day of packaging: from there nothing can be counted. */
static enum ab_status no_packaged(
    void *ctx, const struct ab_batch *usual, const struct ab_moment *m, struct ab_diag *diag)
{
	(void)ctx;
	return !m->when->packaged ? AB_OK
				  : ab_fail(diag, AB_EINPUT, usual->source, m->line,
					"%s of <%s> counts from packaging, which what is usual has no "
					"day of; write the time since pitching such as \"+14d\", or leave it out",
					m->attribute, m->element);
}

static enum ab_status check_owns(const struct reading *r, const struct ab_owns *o, struct ab_diag *diag)
{
	if ((o->change != NULL) + (o->thing != NULL) != 1)
		return ab_fail(diag, AB_EINPUT, r->name, o->mark.line,
		    "<owns> names %s; write change= with an id of the rules, or thing= for what stands there and is no "
		    "change by itself, such as thing=\"fridge\", and another <owns> for another",
		    o->change == NULL ? "nothing" : "two things");
	if (o->thing != NULL && o->since.known)
		return ab_fail(diag, AB_EINPUT, r->name, o->mark.line,
		    "since says from when on a change was in use, and a thing is none; leave it out, or name the "
		    "change with change=");
	return AB_OK;
}

/* Who asks for changes that are owned must not meet things among them. */
static enum ab_status part_things(struct reading *r, struct ab_profile *p, struct ab_diag *diag)
{
	struct ab_owns *all = p->owns.items, *things = ab_arena_alloc(r->arena, p->owns.n, sizeof *things);
	size_t n = 0;
	if (things == NULL)
		return ab_fail(diag, AB_ENOMEM, r->name, 0, "out of memory");
	for (size_t i = 0; i < p->owns.n; i++) {
		enum ab_status st = check_owns(r, &all[i], diag);
		if (st != AB_OK)
			return st;
		if (all[i].thing != NULL)
			things[p->things.n++] = all[i];
		else
			all[n++] = all[i];
	}
	p->owns.n = n;
	p->things.items = things;
	return AB_OK;
}

/* Words for no fault at all, where a fault is asked for. */
static bool is_nothing(const char *fault)
{
	static const char *const words[] = { "nothing", "none", "nothing wrong", "nothing is wrong", "no fault",
		"no faults", "no trouble" };
	for (size_t i = 0; fault != NULL && i < sizeof words / sizeof *words; i++)
		if (ab_word_cmp(fault, words[i]) == 0)
			return true;
	return false;
}

/* What says that nothing is wrong is no trouble, and the beer has none then. */
static enum ab_status part_fine(struct reading *r, struct ab_profile *p, struct ab_diag *diag)
{
	struct ab_trouble *all = p->troubles.items, *fine = NULL;
	const struct ab_trouble *wrong = NULL;
	size_t n = 0;
	for (size_t i = 0; i < p->troubles.n; i++) {
		if (is_nothing(all[i].fault)) {
			if (fine == NULL && (fine = ab_arena_alloc(r->arena, 1, sizeof *fine)) == NULL)
				return ab_fail(diag, AB_ENOMEM, r->name, 0, "out of memory");
			*fine = fine->fault == NULL ? all[i] : *fine;
		} else
			all[n++] = all[i];
	}
	p->troubles.n = n;
	p->fine = fine;
	for (size_t i = n; i-- > 0;)
		if (all[i].chore == NULL)
			wrong = &all[i];
	return fine == NULL || wrong == NULL ? AB_OK
	    : ab_fail(diag, AB_EINPUT, r->name, fine->mark.line,
		  "<trouble fault=\"%.40s\"/> says that nothing is wrong with the beer, and line %ld says what is; "
		  "take one of the two out (a burden, chore=, may stand beside either)",
		  fine->fault, wrong->mark.line);
}

static enum ab_status on_brewery(void *ctx, void *record, struct ab_diag *diag)
{
	struct reading *r = ctx;
	struct raw *raw = record;
	struct ab_profile *p = &raw->p;
	p->source = ab_arena_strdup(r->arena, r->name);
	if (p->source == NULL)
		return ab_fail(diag, AB_ENOMEM, r->name, 0, "out of memory");
	p->batch_l = first_of(raw->batch_size);
	p->batches_per_year = first_of(raw->per_year);
	p->money_now = first_of(raw->money);
	p->money_per_year = raw->money != NULL ? raw->money->b : (struct ab_num){ 0 };
	p->time_per_batch_s = first_of(raw->time);
	p->away_s = raw->time != NULL ? raw->time->b : (struct ab_num){ 0 };
	/* Both is what is usual of neither. */
	p->packs = raw->packs != NULL && raw->packs->into != AB_PACKS_BOTH ? raw->packs->into : 0;
	assert((void *)p == record);
	r->profile = p;
	for (AB_EACH(struct ab_taster, t, p->tasters))
		if (t->name[0] == '\0')
			return ab_fail(diag, AB_EINPUT, r->name, t->mark.line,
			    "name of <taster> is empty; write who tastes");
	for (AB_EACH(struct ab_trouble, t, p->troubles))
		if ((t->fault != NULL) + (t->cause != NULL) + (t->chore != NULL) != 1)
			return ab_fail(diag, AB_EINPUT, r->name, t->mark.line,
			    "<trouble> names %s; write one of fault, cause and chore, and another <trouble> for "
			    "another",
			    t->fault == NULL && t->cause == NULL && t->chore == NULL ? "nothing"
										     : "several things");
	for (AB_EACH(struct ab_changed, c, p->changed))
		if (c->what == NULL && (c->text == NULL || c->text[0] == '\0'))
			return ab_fail(diag, AB_EINPUT, r->name, c->mark.line,
			    "<changed> says nothing; write the id of a change (what=) or your own words");
	enum ab_status st = part_things(r, p, diag);
	st = st == AB_OK ? part_fine(r, p, diag) : st;
	if (st != AB_OK)
		return st;
	/* Habits are derived but not checked or resolved: they happened at no time. */
	if (p->usual == NULL)
		return AB_OK;
	p->usual->source = p->source;
	st = ab_batch_derive(p->usual, diag);
	return st != AB_OK ? st : ab_batch_each_moment(p->usual, no_packaged, NULL, diag);
}

static enum ab_status read_one(struct reading *r, const struct ab_source *source, struct ab_profile **out,
    struct ab_diag *diag)
{
	*out = NULL;
	enum ab_status st = ab_records_read(source, AB_JOURNAL_LIMIT, &ab_profile_doc, r->arena,
	    on_brewery, r, diag);
	if (st == AB_OK)
		*out = r->profile;
	return st;
}

enum ab_status ab_profile_read_file(const char *path, struct ab_arena *arena, struct ab_profile **out,
    struct ab_diag *diag)
{
	const struct ab_source source = { .name = path, .path = path, .fd = -1 };
	struct reading r = { .name = path, .arena = arena };
	return read_one(&r, &source, out, diag);
}

enum ab_status ab_profile_read_memory(const char *data, size_t len, const char *name, struct ab_arena *arena,
    struct ab_profile **out, struct ab_diag *diag)
{
	const struct ab_source source = { .name = name, .data = data, .len = len, .fd = -1 };
	struct reading r = { .name = name, .arena = arena };
	return read_one(&r, &source, out, diag);
}
