/* evidence.c - several tastings of one batch into one finding per fault
 *
 * What each taster said last about a fault counts, of bottles with a mark each apart; a sheet agreed by a panel
 * counts as its number of tasters. Intensities are averaged, "absent" being 0. Where nobody found a fault, the
 * chance that all would have missed it is multiplied up. A fault that is only feared counts as the least where
 * nothing was tasted, and beside what was tasted not at all: what is asked about is in the glass.
 *
 * What all who had found it judged absent a week later or more is gone from the beer and weighs nothing in its load,
 * but it was there: what made it is asked of what was found then, and that it faded is evidence of its own
 * (process/tasting.c). Silence of a later sheet, be it complete, is no such word (six of ten miss a fault): it stays
 * found, and only taste.fading tells that it faded.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "process/slots.h"

/* However many missed it: one more may be as blind to it as they were (estimate). */
static const double MOST_SENSITIVE = 0.98;
static const double FEARED_INTENSITY = 1;   /* the least of the scale */
/* As process/tasting.c: nearer ones tell of the taster, not of time. */
static const double TREND_S = 7 * 86400.0;

/* One statement about one fault. */
struct mention {
	int fault;
	const struct ab_tasting *tasting;
	size_t order;          /* of the tasting, by time */
	bool found, feared;    /* feared: found, but not tasted */
	double intensity;
	double before;         /* the most that this taster found of it on an earlier day; 0 = nothing */
};

/* Somebody who cannot taste a fault: their silence about it says nothing, but what they found counts like
 * anybody's. */
struct blind { const struct ab_taster *taster; int fault; };

/* One pass over the tastings fills mentions, at most one a taster and fault; everything else is asked of
 * that list. Lists are short, so they are walked. */
struct tally {
	const struct ab_knowledge *k;
	const struct ab_batch *batch;
	struct ab_arena *arena;
	struct ab_diag *diag;
	struct ab_list mentions, blinds;   /* struct mention, struct blind */
	bool *spoken_of;       /* by fault: in a mention, or somebody is blind to it */
	bool silence_known;
	double silence;        /* miss_of_all of a fault that nobody speaks of: one for all of them */
	bool plain_beer;
};

static enum ab_status no_memory(struct tally *t)
{
	return ab_fail(t->diag, AB_ENOMEM, t->batch->source, 0, "out of memory for the tastings");
}

int case_word(const struct ab_knowledge *k, const char *word, const char *source, long line,
    enum ab_status st, struct ab_diag *diag)
{
	enum { NEAR = 4 };
	const char *near[NEAR];
	char hint[200] = "";
	size_t n = 0, at = 0;
	int fault = ab_fault_word(k, word, near, NEAR, &n);
	if (fault >= 0)
		return fault;
	bool chore = ab_chore_word(k, word) >= 0;
	for (size_t i = 0; i < n && at < sizeof hint && !chore; i++)
		at += (size_t)snprintf(hint + at, sizeof hint - at,
		    "%s\"%.40s\"", i > 0 ? ", " : "; do you mean ", near[i]);
	ab_fail(diag, st, source, line, "no fault is called \"%.60s\"%s%s", word, hint,
	    chore ? "; it is no taste but a chore, and a profile names it: <trouble chore=\"...\"/>"
	    : n > 0 ? "?" : "; \"afterboil rules list faults\" shows what there is");
	return -1;
}

/* ---- who said what ---- */

/* Two sheets without a name count as one taster's: taken as two, one person's silence would be multiplied
 * up. */
static bool same_taster(const char *a, const char *b)
{
	return a == NULL || b == NULL ? a == b : ab_word_cmp(a, b) == 0;
}

static double panel_of(const struct ab_tasting *tasting)
{
	return tasting->panel.known && tasting->panel.v >= 1 ? tasting->panel.v : 1;
}

/* A date and a time since pitching cannot be compared here; then the journal's order decides, that is the
 * place in the array. */
static bool is_later(const struct ab_tasting *a, const struct ab_tasting *b)
{
	return a->at.known && b->at.known && a->at.relative == b->at.relative ? a->at.s > b->at.s : a > b;
}

/* Place of a tasting in time; those without a time stand where the journal has them. */
static size_t order_of(const struct ab_batch *batch, const struct ab_tasting *tasting)
{
	size_t n = 0;
	for (AB_EACH(const struct ab_tasting, other, batch->tastings))
		n += other != tasting && is_later(tasting, other);
	return n;
}

/* Less than a week apart, as far as is known: then the later word puts the earlier one right. */
static bool is_soon_after(const struct ab_tasting *a, const struct ab_tasting *b)
{
	return a->at.known && b->at.known && a->at.relative == b->at.relative && fabs(a->at.s - b->at.s) < TREND_S;
}

/* The later of two words of one taster on two sheets, and what the earlier one found. A fear was no taste. */
static struct mention later_of(const struct mention *older, struct mention newer)
{
	if (older->order > newer.order)
		return later_of(&newer, *older);
	newer.before = fmax(newer.before, older->before);
	if (older->found && !older->feared && !is_soon_after(older->tasting, newer.tasting))
		newer.before = fmax(newer.before, older->intensity);
	return newer;
}

/* A later word of the same taster about the same fault replaces the earlier one, unless it is of bottles with another
 * mark: those are another glass, not a later one. */
static enum ab_status add_mention(struct tally *t, struct mention m)
{
	struct mention *items = t->mentions.items;
	for (size_t i = 0; i < t->mentions.n; i++) {
		if (items[i].fault != m.fault || !same_taster(items[i].tasting->by, m.tasting->by) ||
		    !ab_same_bottles(items[i].tasting, m.tasting))
			continue;
		if (items[i].tasting != m.tasting)
			items[i] = later_of(&items[i], m);
		else if (m.found && (!items[i].found || m.intensity > items[i].intensity)) {
			m.before = items[i].before;
			items[i] = m;   /* two words for one fault on one sheet: the stronger */
		}
		return AB_OK;
	}
	struct mention *slot = ab_arena_push(t->arena, &t->mentions.items, &t->mentions.n, &t->mentions.cap,
	    sizeof *slot);
	if (slot == NULL)
		return no_memory(t);
	*slot = m;
	t->spoken_of[m.fault] = true;
	return AB_OK;
}

static enum ab_status read_tasting(struct tally *t, const struct ab_tasting *tasting)
{
	size_t order = order_of(t->batch, tasting);
	enum ab_status st = AB_OK;
	for (AB_EACH(const struct ab_found, f, tasting->found)) {
		int fault = f->fault == NULL ? -1 : case_word(t->k, f->fault, t->batch->source, f->mark.line,
		    AB_EINPUT, t->diag);
		double intensity = f->intensity.known ? f->intensity.v : CASE_UNTOLD_INTENSITY;
		if (fault < 0)
			return AB_EINPUT;
		/* Feared is not tasted: it counts, but as the least. */
		if (f->feared == AB_YES)
			intensity = FEARED_INTENSITY;
		st = add_mention(t, (struct mention){ fault, tasting, order, true, f->feared == AB_YES, intensity, 0 });
		if (st != AB_OK)
			return st;
	}
	for (AB_EACH(const struct ab_absent, a, tasting->absent)) {
		int fault = a->fault == NULL ? -1 : case_word(t->k, a->fault, t->batch->source, a->mark.line,
		    AB_EINPUT, t->diag);
		if (fault < 0)
			return AB_EINPUT;
		st = add_mention(t, (struct mention){ fault, tasting, order, false, false, 0, 0 });
		if (st != AB_OK)
			return st;
	}
	return st;
}

/* ---- blind spots ---- */

static enum ab_status read_blind_spots(struct tally *t, const struct ab_profile *profile)
{
	for (AB_EACH(const struct ab_taster, taster, profile->tasters)) {
		const char *const *words = taster->blind_to.items;
		for (size_t i = 0; i < taster->blind_to.n; i++) {
			int fault = case_word(t->k, words[i], profile->source, taster->mark.line,
			    AB_EINPUT, t->diag);
			if (fault < 0)
				return AB_EINPUT;
			struct blind *slot = ab_arena_push(t->arena, &t->blinds.items, &t->blinds.n,
			    &t->blinds.cap, sizeof *slot);
			if (slot == NULL)
				return no_memory(t);
			*slot = (struct blind){ taster, fault };
			t->spoken_of[fault] = true;
		}
	}
	return AB_OK;
}

/* How many of a sheet's tasters could have noticed the fault. */
static double able(const struct tally *t, const struct ab_tasting *tasting, int fault)
{
	const struct blind *blinds = t->blinds.items;
	double panel = panel_of(tasting);
	for (size_t i = 0; i < t->blinds.n && tasting->by != NULL; i++)
		if (blinds[i].fault == fault && blinds[i].taster->name != NULL &&
		    ab_word_cmp(blinds[i].taster->name, tasting->by) == 0)
			/* One of the sheet's tasters, the named one, is blind; the others of the panel are
			 * not. */
			return panel - 1;
	return panel;
}

/* ---- one fault ---- */

/* The mean intensity over all who found it or could have, in bottles like those of one tasting (NULL: in all); 0 when
 * nobody found it. */
static double mean_intensity(const struct tally *t, int fault, const struct ab_tasting *bottles)
{
	const struct mention *m = t->mentions.items;
	double sum = 0, tasters = 0;
	for (size_t i = 0; i < t->mentions.n; i++) {
		if (m[i].fault != fault || (bottles != NULL && !ab_same_bottles(m[i].tasting, bottles)))
			continue;
		/* Who found it weighs with the whole panel that agreed; who found nothing only with those
		 * who could have. */
		double weight = m[i].found ? panel_of(m[i].tasting) : able(t, m[i].tasting, fault);
		sum += weight * m[i].intensity;
		tasters += weight;
	}
	/* Never below 1: a fault that one of many found is slight, not gone. */
	return sum > 0 ? fmax(sum / tasters, 1) : 0;
}

/* In the bottles that have most of it: what made a fault is looked for where it is, though half the batch is clean. */
static double worst_intensity(const struct tally *t, int fault)
{
	const struct mention *m = t->mentions.items;
	double worst = 0;
	for (size_t i = 0; i < t->mentions.n; i++)
		if (m[i].fault == fault)
			worst = fmax(worst, mean_intensity(t, fault, m[i].tasting));
	return worst;
}

/* The most of it that was found once, where nobody finds it any more. */
static double gone_intensity(const struct tally *t, int fault)
{
	const struct mention *m = t->mentions.items;
	double most = 0;
	for (size_t i = 0; i < t->mentions.n; i++)
		if (m[i].fault == fault)
			most = fmax(most, m[i].before);
	return most;
}

static bool is_feared_only(const struct tally *t, int fault)
{
	const struct mention *m = t->mentions.items;
	bool feared = false;
	for (size_t i = 0; i < t->mentions.n; i++) {
		if (m[i].fault == fault && (m[i].before > 0 || (m[i].found && !m[i].feared)))
			return false;
		feared |= m[i].fault == fault && m[i].found;
	}
	return feared;
}

static bool anything_tasted(const struct tally *t)
{
	const struct mention *m = t->mentions.items;
	for (size_t i = 0; i < t->mentions.n; i++)
		if (m[i].before > 0 || (m[i].found && !m[i].feared))
			return true;
	return false;
}

static const struct mention *mention_by(const struct tally *t, int fault, const char *by)
{
	const struct mention *m = t->mentions.items;
	for (size_t i = 0; i < t->mentions.n; i++)
		if (m[i].fault == fault && same_taster(m[i].tasting->by, by))
			return &m[i];
	return NULL;
}

/* The chance that this sheet's tasters all missed the fault. Somebody who judged it absent is not counted as
 * silent, too. */
static double miss_of_sheet(const struct tally *t, const struct ab_tasting *tasting, int fault)
{
	const struct mention *m = mention_by(t, fault, tasting->by);
	if (m != NULL)
		return m->tasting == tasting ? pow(t->k->norms.numbers[AB_NUM_MISSED_JUDGED], able(t, tasting, fault)) : 1;
	return tasting->complete == AB_YES ? pow(t->k->norms.numbers[AB_NUM_MISSED_UNSAID], able(t, tasting, fault)) : 1;
}

/* Of each taster the most telling sheet: drinking the same beer twice does not make a nose keener. */
static double miss_of_all(const struct tally *t, int fault)
{
	double all = 1;
	for (AB_EACH(const struct ab_tasting, one, t->batch->tastings)) {
		double miss = miss_of_sheet(t, one, fault);
		bool counts = miss < 1;
		for (AB_EACH(const struct ab_tasting, other, t->batch->tastings))
			if (other != one && same_taster(other->by, one->by)) {
				double theirs = miss_of_sheet(t, other, fault);
				/* Of sheets that tell alike just one counts, the later in the journal:
				 * "other > one" leaves exactly one of equals. */
				counts = counts && (theirs > miss || (theirs == miss && other > one));
			}
		if (counts)
			all *= miss;
	}
	return all;
}

/* Most faults are spoken of by nobody; what silence says is the same for each. */
static double miss_of(struct tally *t, int fault)
{
	if (t->spoken_of[fault])
		return miss_of_all(t, fault);
	if (!t->silence_known)
		t->silence = miss_of_all(t, fault);
	t->silence_known = true;
	return t->silence;
}

/* Found by anybody beats judged absent by everybody else: thresholds differ so widely between people that a
 * nose which finds is worth more than one which does not. */
static struct ab_finding finding_of(struct tally *t, int fault, double intensity)
{
	if (intensity > 0)
		return (struct ab_finding){ AB_SEEN_FOUND, ab_grade_of_intensity(intensity), 0 };
	double miss = miss_of(t, fault);
	if (miss >= 1)
		return (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
	assert(miss >= 0 && miss < 1);
	if (t->plain_beer)
		miss *= t->k->norms.numbers[AB_NUM_MISSED_PLAIN];
	return (struct ab_finding){ AB_SEEN_ABSENT, 0, fmin(1 - miss, MOST_SENSITIVE) };
}

/* ---- the whole ---- */

static bool is_plain_beer(const struct ab_knowledge *k, const struct ab_fact *facts)
{
	int slot = case_slot(k->facts, AB_F_RECIPE_ONE_MALT_ONE_HOP, "recipe.one-malt-one-hop");
	return slot >= 0 && AB_FACT_KNOWN(&facts[slot]) && facts[slot].value > 0;
}

enum ab_status case_evidence(const struct ab_knowledge *k, const struct ab_batch *batch,
    const struct ab_profile *profile, const struct ab_fact *facts, struct ab_arena *arena,
    struct ab_evidence *out, double *intensity, struct ab_diag *diag)
{
	struct tally t = { .k = k, .batch = batch, .arena = arena, .diag = diag,
	    .plain_beer = is_plain_beer(k, facts) };
	/* Fresh memory is zero, which is AB_SEEN_NOTHING and "no answer": what nobody speaks of stays so. */
	struct ab_finding *finding = ab_arena_alloc(arena, k->n_faults, sizeof *finding);
	signed char *answers = ab_arena_alloc(arena, k->n_checks, sizeof *answers);
	t.spoken_of = ab_arena_alloc(arena, k->n_faults, sizeof *t.spoken_of);
	enum ab_status st = finding == NULL || answers == NULL || t.spoken_of == NULL ? no_memory(&t) : AB_OK;
	if (st == AB_OK && profile != NULL)
		st = read_blind_spots(&t, profile);
	for (AB_EACH(const struct ab_tasting, tasting, batch->tastings))
		if (st == AB_OK)
			st = read_tasting(&t, tasting);
	if (st == AB_OK)
		case_marked(k, batch, answers);
	if (st == AB_OK)   /* behind the bottles: what was told of a check in words goes before them */
		st = case_checks(k, batch, facts, answers, diag);
	bool tasted = st == AB_OK && anything_tasted(&t);
	for (size_t i = 0; st == AB_OK && i < k->n_faults; i++) {
		if (t.spoken_of[i] && tasted && is_feared_only(&t, (int)i))
			continue;
		intensity[i] = t.spoken_of[i] ? mean_intensity(&t, (int)i, NULL) : 0;
		finding[i] = finding_of(&t, (int)i, intensity[i] > 0 ? worst_intensity(&t, (int)i)
		    : t.spoken_of[i] ? gone_intensity(&t, (int)i) : 0);
	}
	assert(batch->family >= 0);
	*out = (struct ab_evidence){ finding, answers, batch->family - 1 };
	return st;
}

enum ab_status ab_case_evidence(const struct ab_knowledge *k, const struct ab_batch *batch,
    const struct ab_profile *profile, const struct ab_fact *facts, struct ab_arena *arena,
    struct ab_evidence *out, struct ab_diag *diag)
{
	double *intensity = ab_arena_alloc(arena, k->n_faults, sizeof *intensity);
	if (intensity == NULL)
		return ab_fail(diag, AB_ENOMEM, batch->source, 0, "out of memory for the tastings");
	return case_evidence(k, batch, profile, facts, arena, out, intensity, diag);
}
