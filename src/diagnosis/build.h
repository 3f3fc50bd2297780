/* build.h - from rules, facts and findings to a network, and back from the network to faults
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_DIAGNOSIS_BUILD_H
#define AB_DIAGNOSIS_BUILD_H

#include <afterboil/diagnose.h>
#include <afterboil/redraw.h>

/* What a node of the network stands for. */
struct node { int fault, check; };   /* one of them, the other -1 */

/* The network holds only what there is evidence about: faults found or absent, checks answered. With
 * NET_OWN_LEAKS the leak of each found fault is a cause of its own, always active, after the causes of the rules:
 * its blame is the chance that the fault came to its grade without any cause known here. */
struct built {
	struct ab_net net;
	struct node *nodes;               /* net.n_faults */
	double *log_odds, *weight;
	struct ab_link_to *links;
	struct ab_tail *leak;
	struct ab_finding *finding;
	bool *link_estimate;              /* net.links order: rests on an estimate */
	bool *leak_estimate;              /* nodes */
	int *leak_node;                   /* own leaks: node of the cause n_causes + j */
	size_t n_own_leaks;
};

/* NET_ABSENT_WEIGHED: what was found absent is in the causes' weights, and no link goes there. The answers are
 * the same but for rounding; but nobody can take a single absent fault out again or draw its strength anew. */
enum net_want { NET_OWN_LEAKS = 1, NET_ABSENT_WEIGHED = 2 };

/* Everything of *b in the arena. want: of the two above. False when memory is short. */
bool net_build(const struct ab_knowledge *k, const struct ab_fact *facts, const struct ab_evidence *evidence,
    unsigned want, struct ab_arena *arena, struct built *b);

/* What the beer is meant to have is evidence, but where something else is wrong whoever brings it is not to blame
 * for that: else rotten egg in a lager would tell that all is well with one that stopped high. Such findings are
 * marked as answers, and when nothing else is found as found again. Again after a finding was taken out or put
 * back. */
void net_excuse_meant(const struct ab_knowledge *k, const struct ab_fact *facts, int family, struct built *b);

/* ---- what diagnose.c hands to the rest ---- */

struct job {
	const struct ab_knowledge *k;
	const struct ab_fact *facts;
	const struct ab_evidence *evidence;
	const struct ab_diagnose_options *options;
	struct ab_net_scratch *scratch;
	struct ab_arena *arena;
	struct ab_diagnosis *d;
	struct built b;
	struct ab_diag *diag;
};

/* reasons.c: pro and con of every suspect. */
enum ab_status diagnose_reasons(struct job *job);
/* ranges.c: blame_low and blame_high of every suspect. */
enum ab_status diagnose_ranges(struct job *job);
/* kin.c: kins, lead and, where a kin leads, the verdict. The sets of the redraws. The blame of the leading
 * kin as the network now stands, with other log-odds of its causes (NULL: its own). */
enum ab_status diagnose_kins(struct job *job);
enum ab_status diagnose_kin_sets(struct job *job, struct ab_range *range);
enum ab_status diagnose_kin_without(struct job *job, const double *log_odds, double *blame);
/* asks.c: asks and unknown. */
enum ab_status diagnose_asks(struct job *job);

/* Out of memory, recorded. */
enum ab_status job_no_memory(const struct job *job);

#endif
