/* mentions.h - what evidence.c and mentions.c share: who said what of which fault, last
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_MENTIONS_H
#define AB_CASEWORK_MENTIONS_H

#include "casework/casework.h"

/* One statement about one fault. */
struct mention {
	int fault;
	const struct ab_tasting *tasting;
	size_t order;          /* of the tasting, by time */
	bool found, feared;    /* feared: found, but not tasted */
	double intensity;
	double before;         /* the most that this taster found of it a week before or more; 0 = nothing */
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

enum ab_status tally_no_memory(struct tally *t);
/* All that one tasting says, beside what the same taster said before. AB_EINPUT: a word that is no fault. */
enum ab_status tally_tasting(struct tally *t, const struct ab_tasting *tasting);
/* Who of the profile's tasters cannot taste what. */
enum ab_status tally_blind_spots(struct tally *t, const struct ab_profile *profile);
/* How many of a sheet's tasters could have noticed the fault. */
double tally_able(const struct tally *t, const struct ab_tasting *tasting, int fault);
/* How many agreed on a sheet. */
double tally_panel(const struct ab_tasting *tasting);
/* Two sheets without a name count as one taster's: taken as two, one person's silence would be multiplied up. */
bool tally_same_taster(const char *a, const char *b);

#endif
