/* network.h - exact inference in a two-layer network of causes and graded faults. Numbers in, numbers out.
 *
 * Cause i is active with its own prior. A fault has a grade 0 none, 1 slight, 2 moderate, 3 strong: the
 * maximum of the levels its active causes and its leak contribute (graded noisy-OR, "noisy-MAX"). A link
 * gives tail[k] = P(level >= k), k = 1..3.
 *
 * Method: elimination with positive terms only (nothing is ever subtracted), a forward and a backward sweep
 * over a table of the subsets of found faults already pushed to their grade, with the frontier forgotten:
 * cost is set by the width, the most found faults open at once, not by their number. Agrees with brute force
 * in 128-bit floats to 1e-12 relative.
 * Source: our own recurrences; the textbook alternative, inclusion-exclusion (Heckerman 1989, UAI), cancels
 * with strong links.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_NETWORK_H
#define AFTERBOIL_NETWORK_H

#include <stddef.h>
#include <afterboil/diag.h>

enum { AB_GRADES = 4, AB_NET_WIDTH = 20, AB_NET_CAUSES = 512, AB_NET_FAULTS = 256 };

/* P(level >= 0..3); at[0] is always 1; must not increase. */
struct ab_tail { double at[AB_GRADES]; };

struct ab_link_to { int cause, fault; struct ab_tail tail; };

enum ab_seen {
	AB_SEEN_NOTHING,   /* no evidence about this fault */
	AB_SEEN_FOUND,     /* found, at grade 1..3 */
	AB_SEEN_ABSENT,    /* not found by tasters who would have noticed it with probability `sensitivity`
	                    * per contribution */
	AB_SEEN_ANSWER,    /* as found, but pushing it is no blame: the outcome of a check (checks.h) */
};

struct ab_finding {
	enum ab_seen seen;
	int grade;            /* 1..3 when found or an answer */
	double sensitivity;   /* 0..1 when absent */
};

/* The network with its evidence. All arrays are borrowed. */
struct ab_net {
	size_t n_causes, n_faults, n_links;
	const double *log_odds;             /* n_causes: prior log-odds after signs, within +-500; -INFINITY =
	                                     * gated, impossible */
	const struct ab_link_to *links;     /* at most one per (cause, fault) */
	const struct ab_tail *leak;         /* n_faults */
	const struct ab_finding *finding;   /* n_faults */
	const double *weight;               /* n_causes, 0..1: what evidence outside the links leaves of a
	                                     * cause that is active, P(that evidence | active) / P(it |
	                                     * not); NULL = there is none */
};

/* The answer. Arrays are the caller's, n_causes long; any may be NULL when not wanted. */
struct ab_beliefs {
	double *present;    /* P(active | evidence) */
	double *blame;      /* P(active and pushed at least one found fault to its observed grade |
	                     * evidence) */
	double *alone;      /* P(active before tasting), from log_odds */
	unsigned char *story;  /* best joint story: 1 where the cause is active in the most probable complete
	                        * explanation */
	double log_evidence;   /* ln P(evidence) */
	double story_share;    /* P(the story's on/off pattern of causes | evidence); set with story */
	int story_proven;      /* 1: no pattern is more probable; 0: the search met its work limit, this is
	                        * the best it saw and no single change betters it;
	                        * -1: its tables would pass 256 MiB (20 faults open, dozens of causes): no
	                        * story, share 0 */
	int width;             /* found faults open at once, at worst */
};

/* Computes all that beliefs asks for.
 * AB_ELIMIT: width beyond AB_NET_WIDTH (the message says how many faults to leave out), or counts beyond the
 * limits above. AB_EIMPOSSIBLE: the evidence has probability 0; diag->line is the index, from 0, of the first
 * found fault no cause and no leak can give, or -1 when each can be given but not all together.
 * AB_EUSAGE: a number outside its range, a link to a cause or fault that is not there, a second link of the
 * same pair. AB_ENOMEM. Time: proportional to links + sum over steps of 2^(faults open then); a cause with no
 * link to a found fault costs O(1), one with a single such link costs O(1) as well. Memory: at most about
 * 32 MiB, or twice the square root of the number of causes in tables of 2^width doubles where that is more;
 * the story needs one table per cause.
 *
 * The story. A table of maxima in place of sums bounds every completion from above (the sum over subsets of a
 * maximum is at least the maximum of the sum), so a depth-first search over on and off with that bound finds
 * the best pattern and proves it. */
enum ab_status ab_net_solve(const struct ab_net *net, struct ab_beliefs *beliefs, struct ab_diag *diag);

/* Workspace variant for many solves of like size (redraws, streams): the scratch grows once and is reused. One
 * thread at a time. new: NULL when memory is short; free: NULL is fine. Errors of ab_net_solve. */
struct ab_net_scratch;
struct ab_net_scratch *ab_net_scratch_new(void);
void ab_net_scratch_free(struct ab_net_scratch *scratch);
enum ab_status ab_net_solve_in(struct ab_net_scratch *scratch, const struct ab_net *net,
    struct ab_beliefs *beliefs, struct ab_diag *diag);

/* P(at least one cause of a set is active and pushed at least one found fault to its observed grade |
 * evidence): the blame of the set, at most the sum of its members' and at least the largest of them. member
 * is n_causes long, not 0 = of the set. log_evidence is that of the same network, as ab_net_solve_in tells.
 * With every member kept below the grade of each found fault the evidence has the probability Z'; the blame is
 * 1 - Z'/Z. This one subtraction is from 1, so the error is absolute: below 1e-12.
 * Time: one solve without a backward sweep. Errors of ab_net_solve. */
enum ab_status ab_net_blame_any(struct ab_net_scratch *scratch, const struct ab_net *net,
    const unsigned char *member, double log_evidence, double *blame, struct ab_diag *diag);

#endif
