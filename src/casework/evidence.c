/* evidence.c - several tastings of one batch into one finding per fault
 *
 * What each taster said last about a fault counts, of bottles with a mark each apart, and so bottles and a keg; a
 * sheet agreed by a panel counts as its number of tasters. Intensities are averaged, "absent" being 0. Where
 * nobody found a fault, the chance that all would have missed it is multiplied up. A fault that is only feared
 * counts as the least where nothing was tasted, and beside what was tasted not at all: what is asked about is in
 * the glass.
 *
 * What all who had found it judged absent a week later or more is gone from the beer and weighs nothing in its load,
 * but it was there: what made it is asked of what was found then, and that it faded is evidence of its own
 * (process/tasting.c). Silence of a later sheet, be it complete, is no such word (six of ten miss a fault): it stays
 * found, and only taste.fading tells that it faded.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/mentions.h"

#include <assert.h>
#include <math.h>

#include "process/slots.h"

/* However many missed it: one more may be as blind to it as they were (estimate). */
static const double MOST_SENSITIVE = 0.98;

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
		double weight = m[i].found ? tally_panel(m[i].tasting) : tally_able(t, m[i].tasting, fault);
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
		if (m[i].fault == fault && tally_same_taster(m[i].tasting->by, by))
			return &m[i];
	return NULL;
}

/* The chance that this sheet's tasters all missed the fault. Somebody who judged it absent is not counted as
 * silent, too. */
static double miss_of_sheet(const struct tally *t, const struct ab_tasting *tasting, int fault)
{
	const struct mention *m = mention_by(t, fault, tasting->by);
	if (m != NULL)
		return m->tasting == tasting
		    ? pow(t->k->norms.numbers[AB_NUM_MISSED_JUDGED], tally_able(t, tasting, fault))
		    : 1;
	return tasting->complete == AB_YES
	    ? pow(t->k->norms.numbers[AB_NUM_MISSED_UNSAID], tally_able(t, tasting, fault))
	    : 1;
}

/* Of each taster the most telling sheet: drinking the same beer twice does not make a nose keener. */
static double miss_of_all(const struct tally *t, int fault)
{
	double all = 1;
	for (AB_EACH(const struct ab_tasting, one, t->batch->tastings)) {
		double miss = miss_of_sheet(t, one, fault);
		bool counts = miss < 1;
		for (AB_EACH(const struct ab_tasting, other, t->batch->tastings))
			if (other != one && tally_same_taster(other->by, one->by)) {
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
	enum ab_status st = finding == NULL || answers == NULL || t.spoken_of == NULL ? tally_no_memory(&t) : AB_OK;
	if (st == AB_OK && profile != NULL)
		st = tally_blind_spots(&t, profile);
	for (AB_EACH(const struct ab_tasting, tasting, batch->tastings))
		if (st == AB_OK)
			st = tally_tasting(&t, tasting);
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
	*out = (struct ab_evidence){ finding, answers, batch->family - 1, !tasted };
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
