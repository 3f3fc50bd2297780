/* diagnose.h - from facts and findings to ranked causes
 *
 * Puts rules, facts and what was tasted together into a network (network.h), solves it exactly, and explains
 * the answer. Knows no XML, no files, no journal.
 *
 * Two probabilities per cause, both exact under the rules: present (it was so in this batch) and blame (it
 * was so and it pushed at least one found fault to its grade). Ranked by blame. A cause likely present yet
 * blameless is a risk, listed apart.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_DIAGNOSE_H
#define AFTERBOIL_DIAGNOSE_H

#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/knowledge.h>
#include <afterboil/network.h>

/* What is known about one fault, all tastings taken together. */
struct ab_evidence {
	struct ab_finding *finding;      /* one a fault of the rules, in their order */
	const signed char *check;        /* one a check of the rules (n_checks, remedies among them): 0 not done, 1
	                                  * answered yes, -1 answered no; may be NULL */
	int family;                      /* place in families, -1 unknown */
	bool feared;                     /* nothing was tasted or measured: what counts as found is a worry only */
};

struct ab_diagnose_options {
	size_t redraws;          /* for the likely range; 0 = none (blame_low = blame_high = blame) */
	unsigned long seed;      /* of the redraws; results repeat */
	bool reasons;            /* leave-one-out reasons, next checks, unknown facts (slower) */
	bool beliefs_only;       /* only present, alone and blame (a history): nothing ranked, no story; the
	                          * same numbers but for rounding */
	struct ab_arena *passing;         /* with beliefs_only: for what is not kept; emptied each time. NULL = the
	                                   * same arena as the rest */
	struct ab_net_scratch *scratch;   /* room for the solver, kept from batch to batch (streams); NULL =
	                                   * its own. One thread at a time. */
};

/* One reason: a fault or a sign, and what the blame would be without it. */
struct ab_reason {
	bool is_fault;
	int fault, slot;         /* which fault, or which fact */
	double weight;           /* log ratio a sign counted with; 0 for faults */
	double blame_without;
	const char *text;        /* "the beer was too warm in the first three days (early mean ...: 4.1 K)" */
	const char *says;        /* of a number: the rules' words alone, without the figure; may be NULL */
	bool is_check;           /* a check that was done: then fault and slot mean nothing */
	int check;
};

struct ab_suspect {
	int cause;
	double blame, blame_low, blame_high;     /* 10th and 90th percentile over redrawn estimates */
	double present, alone;
	struct ab_reason *pro, *con; size_t n_pro, n_con;   /* strongest first */
};

/* A kin of causes with more than one suspect: blame = P(at least one of them pushed a found fault to its
 * grade), exact as the others. leader: place among the suspects of its most blamed member. */
struct ab_kin_blame {
	int kin;
	double blame, low, high;
	size_t leader, n;        /* n: members among the suspects */
	struct ab_reason *pro, *con; size_t n_pro, n_con;   /* of the kin as a whole; only for lead */
};

struct ab_ask {              /* a cheap next question or check */
	bool is_check;
	int check, slot;         /* one of them */
	double bits, minutes, cost, wait_days;
	double worth;            /* what it is ranked by: bits per effort */
	/* of a question: what two of its answers do to the odds (checks.h), and which they are, as values of the
	 * fact weighed (a slot; what is asked may be plainer). NULL for a check */
	const struct ab_net_question *question;
	int weighed;
	double answer[2];
};

/* What a question or check costs in minutes of effort: its minutes, two for asking at all, ten for a dollar and
 * fifteen for a day of waiting (estimates). Never 0. */
double ab_ask_effort(const struct ab_ask *ask);

/* care: the end of text, what to do now, where it stands by itself; else NULL. */
struct ab_warning { const char *id, *text, *care; };

struct ab_diagnosis {
	int family;
	bool nothing_found;             /* no fault was found: only risks are told */
	struct ab_suspect *suspects; size_t n_suspects;     /* all causes with blame >= 0.005, ranked */
	struct ab_kin_blame *kins; size_t n_kins;           /* ranked by blame */
	const struct ab_kin_blame *lead;                    /* the kin that leads: at least as much to blame
	                                                     * as any single cause outside it, and no
	                                                     * member holds more than three quarters of
	                                                     * it; else NULL */
	int *risks; size_t n_risks;                         /* causes present >= 0.3 and blame below a tenth
	                                                     * of it, and of which something told in the
	                                                     * journal makes the odds half as high again as
	                                                     * they are usually; most likely first */
	double *present, *alone, *blame;                    /* n_causes long */
	int *story; size_t n_story;     /* best joint explanation */
	double story_share;
	double benign;                  /* blame of the most blamed benign cause minus nothing: P that the
	                                 * leading explanation is benign */
	bool verdict_benign;            /* "nothing is wrong, wait" leads: the leading cause is, or the most
	                                 * blamed member of the leading kin */
	int *unexplained; size_t n_unexplained;             /* found faults mostly given to the leak */
	int *expected; size_t n_expected;                   /* found faults that the family is meant to
	                                                     * have */
	int *unknown; size_t n_unknown; /* facts (slots) that would matter, are unknown and can be asked for:
	                                 * most useful first */
	struct ab_ask *asks; size_t n_asks;                 /* best first */
	struct ab_warning *warnings; size_t n_warnings;     /* safety and instruments; filled by casework */
	double log_evidence;
};

/* What leads: of the kin that leads its most blamed member, with the blame of the kin; else the first suspect with
 * its own. suspect NULL and blame 0 when there is no suspect. */
struct ab_leading { const struct ab_suspect *suspect; double blame, low, high; };
struct ab_leading ab_diagnosis_leading(const struct ab_diagnosis *d);

/* Diagnoses into the arena. AB_EIMPOSSIBLE with the fault's title when the evidence cannot be; AB_ELIMIT;
 * AB_ENOMEM. */
enum ab_status ab_diagnose(const struct ab_knowledge *k, const struct ab_fact *facts,
    const struct ab_evidence *evidence, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_diagnosis **out, struct ab_diag *diag);

/* The network of a batch with its evidence, as it is solved where only beliefs are asked for; its arrays are the
 * arena's. n_causes is that of the rules. AB_ENOMEM. */
enum ab_status ab_diagnose_net(const struct ab_knowledge *k, const struct ab_fact *facts,
    const struct ab_evidence *evidence, struct ab_arena *arena, struct ab_net *net, struct ab_diag *diag);

/* P(cause before tasting) for every cause on these facts (priors, gates, signs). p is n_causes long. */
void ab_alone(const struct ab_knowledge *k, const struct ab_fact *facts, double *p);

/* Is a fault found at this grade (1..3) a trait that the family (-1 unknown) is meant to have, or the yeast
 * (a cause with expects="yes" gives it under a condition that holds, this grade or above with 0.3 and
 * more)? Such a trait competes as a benign explanation and adds no flaw load. A family's expected trait is given with
 * P(level >= k) = 0.9 (n + 1 - k) / n for k up to n, the highest grade expected (estimate); found above n it
 * is not explained so. */
bool ab_fault_expected(const struct ab_knowledge *k, const struct ab_fact *facts, int family,
    int fault, int grade);

/* The words for a probability, from hardly up. What a word promises: of the causes called so, a share of
 * least to most are to blame. It is given from the probability `least` on, but only when the likely range
 * begins at `low` or above; else the next word below. Tested on simulated brewers whose worlds differ from the
 * rules by a step (priors, links, all, careless in one thing and in the next, tasters who miss and mistake):
 * the promises hold in each. */
enum { AB_LIKELY_WORDS = 5 };
extern const struct ab_likely { const char *word; double least, most, low; } ab_likely_words[AB_LIKELY_WORDS];

/* A word for a probability, the same everywhere. low..high is the likely range: a wide one gets the more
 * cautious word, and "hardly" is not said of what may be as likely as "perhaps". */
const char *ab_likely_word(double p, double low, double high);

/* Intensity 1..5 as a grade 1..3, and a grade's name. */
int ab_grade_of_intensity(double intensity);
const char *ab_grade_name(int grade);

#endif
