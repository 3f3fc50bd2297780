/* build.c - the network of one batch
 *
 * Links by the last entry of the rules whose conditions hold; what depends on no condition was reckoned when
 * the rules loaded (ab_report). An answered check is a node of its own. What was found absent may be put into
 * one factor a cause instead of a link each: most links go to faults that nobody found.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/build.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* A trait that a family is meant to have shows with this chance (estimate), at each grade up to the highest
 * expected alike. */
static const double EXPECTED = 0.9;
enum { FIRST_LINKS = 128 };
static const double ALWAYS = 500;   /* log-odds of what is always there: the limit of network.h */

struct building {
	const struct ab_knowledge *k;
	struct ab_held held;     /* on the facts */
	const struct ab_evidence *evidence;
	struct ab_arena *arena;
	struct built *b;
	unsigned want;
	struct ab_row row;       /* of the cause at work, when conditions have a say */
	double *sensitivity;     /* by fault, of those found absent that are weighed, not linked; 0 of others */
	size_t n_absent;
	int *linked;             /* nodes of the other faults */
	size_t n_linked;
	size_t room;             /* for links */
};

/* ---- nodes ---- */

static const struct ab_leak *leak_of(const struct ab_fault *fault, struct ab_held *held)
{
	size_t i = fault->n_leaks - 1;
	while (i > 0 && !ab_held_all(held, &fault->leaks[i].when))
		i--;
	return &fault->leaks[i];
}

/* Only what was looked for becomes a node: a fault of which nothing is said changes no probability, and the
 * solver's width is precious. */
static void add_fault_node(struct building *g, int fault)
{
	struct built *b = g->b;
	size_t at = b->net.n_faults++;
	const struct ab_leak *leak = leak_of(&g->k->faults[fault], &g->held);
	b->nodes[at] = (struct node){ fault, -1 };
	assert(fault >= 0 && (size_t)fault < g->k->n_faults);
	b->finding[at] = g->evidence->finding[fault];
	memcpy(b->leak[at].at, leak->tail, sizeof leak->tail);
	b->leak_estimate[at] = leak->source.estimate;
	if (!(g->want & NET_ABSENT_WEIGHED) || b->finding[at].seen != AB_SEEN_ABSENT) {
		g->linked[g->n_linked++] = (int)at;
		return;
	}
	g->n_absent++;
	g->sensitivity[fault] = b->finding[at].sensitivity;
}

/* Yes: pushed to the only grade there is. No: absent, and any contribution would have shown. */
static void add_check_node(struct building *g, int check, bool yes)
{
	struct built *b = g->b;
	size_t at = b->net.n_faults++;
	double base = g->k->checks[check].base;
	b->nodes[at] = (struct node){ -1, check };
	b->finding[at] = yes ? (struct ab_finding){ AB_SEEN_ANSWER, AB_GRADES - 1, 0 }
	    : (struct ab_finding){ AB_SEEN_ABSENT, 0, 1 };
	b->leak[at] = (struct ab_tail){ { 1, base, base, base } };
}

static void add_nodes(struct building *g)
{
	for (size_t i = 0; i < g->k->n_faults; i++)
		if (g->evidence->finding[i].seen != AB_SEEN_NOTHING)
			add_fault_node(g, (int)i);
	for (size_t i = 0; g->evidence->check != NULL && i < g->k->n_checks; i++)
		if (g->evidence->check[i] != 0)
			add_check_node(g, (int)i, g->evidence->check[i] > 0);
}

/* ---- links ---- */

/* A later entry of the rules overwrites an earlier one: the last that holds is used. */
static inline void set_tail(struct ab_row *row, int fault, const double *tail, bool estimate)
{
	assert(tail[0] >= tail[1] && tail[1] >= tail[2] && tail[2] >= tail[3]);
	memcpy(row->tail[fault], tail, sizeof row->tail[fault]);
	row->has[fault] = true;
	row->estimate[fault] = estimate;
}

/* The highest grade of a trait that is expected here, 0 = none: of several entries the last whose conditions
 * hold. */
static int expected_grade(const struct ab_family *family, const struct ab_fact *facts, int fault)
{
	int grade = 0;
	for (size_t i = 0; i < family->n_expects; i++)
		if (family->expects[i].fault == fault && ab_conds_hold(&family->expects[i].when, facts))
			grade = family->expects[i].grade;
	return grade;
}

/* A trait found no stronger than expected: what the family brings of it. One that was not found is no evidence, so it
 * gets no link. */
static bool expect(struct building *g, int fault)
{
	const struct ab_finding *found = &g->evidence->finding[fault];
	double tail[AB_GRADES] = { 1 };
	int most;

	if (g->evidence->family < 0 || (size_t)g->evidence->family >= g->k->n_families || found->seen != AB_SEEN_FOUND)
		return false;
	most = expected_grade(&g->k->families[g->evidence->family], g->held.facts, fault);
	if (found->grade > most)
		return false;
	/* Equal chance for each grade up to the highest: the tail falls in equal steps from EXPECTED. */
	for (int k = 1; k <= most; k++)
		tail[k] = EXPECTED * (most + 1 - k) / most;
	set_tail(&g->row, fault, tail, true);
	return true;
}

static void fill_row(struct building *g, const struct ab_cause *cause)
{
	memset(g->row.has, 0, g->k->n_faults * sizeof *g->row.has);
	for (const struct ab_link *l = cause->links, *end = l + cause->n_links; l < end; l++)
		if (l->when.n == 0 || ab_held_all(&g->held, &l->when))   /* most hang on nothing */
			set_tail(&g->row, l->fault, l->tail, l->source.estimate);
}

/* Links and what is known of them grow side by side; the arena keeps the smaller arrays until the batch is
 * done, which is at most as much again. */
static bool add_link(struct building *g, struct ab_link_to link, bool estimate)
{
	struct built *b = g->b;
	size_t at = b->net.n_links;
	if (at == g->room) {
		size_t room = g->room == 0 ? FIRST_LINKS : g->room * 2;
		struct ab_link_to *links = ab_arena_raw(g->arena, room, sizeof *links);
		bool *estimates = ab_arena_raw(g->arena, room, sizeof *estimates);
		if (links == NULL || estimates == NULL)
			return false;
		if (at > 0) {
			memcpy(links, b->links, at * sizeof *links);
			memcpy(estimates, b->link_estimate, at * sizeof *estimates);
		}
		b->links = links;
		b->link_estimate = estimates;
		g->room = room;
	}
	b->links[at] = link;
	b->link_estimate[at] = estimate;
	b->net.n_links++;
	return true;
}

/* The tail with which a cause is reported as a fault, under this batch's conditions; false when it is not. */
static bool report_tail(struct building *g, const struct ab_report *r, double *tail, bool *estimate)
{
	if (!r->fixed)
		return ab_row_reports(&g->row, g->k->faults, r->fault, tail, estimate);
	memcpy(tail, r->tail, sizeof r->tail);
	*estimate = r->estimate;
	return true;
}

/* The same of a cause that brings what is meant to be there. Only as itself: taken for another fault, a trait that was
 * found would speak on when it is left out of the evidence. */
static bool report_meant(struct building *g, const struct ab_report *r, double *tail, bool *estimate)
{
	double kept[AB_GRADES] = { 0 };
	/* of what the row does not have nothing stands there yet */
	bool had = g->row.has[r->fault], kept_estimate = had && g->row.estimate[r->fault], reported;

	if (had)
		memcpy(kept, g->row.tail[r->fault], sizeof kept);
	if (!expect(g, r->fault))
		return report_tail(g, r, tail, estimate);
	reported = report_tail(g, r, tail, estimate);
	if (had)
		set_tail(&g->row, r->fault, kept, kept_estimate);
	g->row.has[r->fault] = had;
	return reported;
}

/* Absent with sensitivity s: the cause, were it there, would have shown with p and been noticed with s, so the
 * evidence keeps 1 - s p of it. Where nothing was found absent s is 0; to ask first would take longer. */
static double weigh_absent(const struct building *g, const struct ab_cause *cause)
{
	double weight = 1;
	for (size_t i = 0; i < cause->n_noticed; i++)
		weight *= 1 - g->sensitivity[cause->noticed[i].fault] * cause->noticed[i].p;
	for (size_t i = 0; i < cause->n_loose; i++)
		if (g->sensitivity[cause->loose[i]] > 0)
			weight *= 1 - g->sensitivity[cause->loose[i]] *
			    ab_row_noticed(&g->row, g->k->faults, cause->loose[i]);
	return weight;
}

/* Links of one cause come together and causes in order: network.c then need not sort. */
static bool link_cause(struct building *g, int at)
{
	const struct ab_cause *cause = &g->k->causes[at];
	if (cause->n_loose > 0)
		fill_row(g, cause);
	for (size_t i = 0; i < g->n_linked; i++) {
		struct ab_link_to link = { .cause = at, .fault = g->linked[i] };
		unsigned place = g->k->report_at[(size_t)g->b->nodes[g->linked[i]].fault * g->k->n_causes + (size_t)at];
		bool estimate;
		if (place == 0 ||
		    !(cause->expects ? report_meant : report_tail)(
			g, &g->k->reported[place - 1], link.tail.at, &estimate))
			continue;
		if (!add_link(g, link, estimate))
			return false;
	}
	if (g->n_absent > 0)
		g->b->weight[at] *= weigh_absent(g, cause);
	return true;
}

static bool link_check(struct building *g, const struct ab_check *check, int node)
{
	for (size_t j = 0; j < check->n_yes; j++) {
		double p = check->yes[j].p;
		struct ab_link_to link = { check->yes[j].cause, node, { { 1, p, p, p } } };
		if (p > 0 && !isinf(g->b->log_odds[link.cause]) &&
		    !add_link(g, link, check->yes[j].source.estimate))
			return false;
	}
	return true;
}

static bool link_checks(struct building *g)
{
	for (size_t i = 0; i < g->b->net.n_faults; i++)
		if (g->b->nodes[i].check >= 0 &&
		    !link_check(g, &g->k->checks[g->b->nodes[i].check], (int)i))
			return false;
	return true;
}

/* A leak is nobody's cause, so blame could never fall on it. Made a cause that is always there, it
 * competes: its blame is the chance that the fault has no cause known here. */
static bool own_the_leaks(struct building *g)
{
	struct built *b = g->b;
	for (size_t i = 0; i < b->net.n_faults; i++) {
		struct ab_link_to link = { (int)b->net.n_causes, (int)i, b->leak[i] };
		if (b->finding[i].seen != AB_SEEN_FOUND)
			continue;
		if (!add_link(g, link, b->leak_estimate[i]))
			return false;
		b->leak[i] = (struct ab_tail){ { 1, 0, 0, 0 } };
		b->log_odds[b->net.n_causes++] = ALWAYS;
		assert(b->nodes[i].fault >= 0 && b->n_own_leaks < g->k->n_faults);
		b->leak_node[b->n_own_leaks++] = (int)i;
	}
	return true;
}

static bool is_tasted(const struct built *b, size_t at)
{
	enum ab_seen seen = b->finding[at].seen;
	return b->nodes[at].fault >= 0 && (seen == AB_SEEN_FOUND || seen == AB_SEEN_ANSWER);
}

/* By what is found now: what was excused before is looked at again. Where all is meant to be so, all of it is asked
 * about. */
void net_excuse_meant(const struct ab_knowledge *k, const struct ab_fact *facts, int family, struct built *b)
{
	bool all = true;

	for (size_t i = 0; i < b->net.n_faults; i++) {
		if (!is_tasted(b, i))
			continue;
		bool meant = ab_fault_expected(k, facts, family, b->nodes[i].fault, b->finding[i].grade);
		b->finding[i].seen = meant ? AB_SEEN_ANSWER : AB_SEEN_FOUND;
		all = all && meant;
	}
	for (size_t i = 0; all && i < b->net.n_faults; i++)
		if (is_tasted(b, i))
			b->finding[i].seen = AB_SEEN_FOUND;
}

/* ---- the whole ---- */

/* causes + faults: each found fault may bring a cause of its own for its leak. */
static bool make_room(struct building *g)
{
	struct ab_arena *a = g->arena;
	size_t faults = g->k->n_faults, nodes = faults + g->k->n_checks;
	struct built *b = g->b;
	b->nodes = ab_arena_raw(a, nodes, sizeof *b->nodes);
	b->log_odds = ab_arena_raw(a, g->k->n_causes + faults, sizeof *b->log_odds);
	b->weight = ab_arena_raw(a, g->k->n_causes + faults, sizeof *b->weight);
	b->leak = ab_arena_raw(a, nodes, sizeof *b->leak);
	b->finding = ab_arena_raw(a, nodes, sizeof *b->finding);
	b->leak_estimate = ab_arena_alloc(a, nodes, sizeof *b->leak_estimate);
	b->leak_node = ab_arena_raw(a, faults, sizeof *b->leak_node);
	g->sensitivity = ab_arena_alloc(a, faults, sizeof *g->sensitivity);
	g->linked = ab_arena_raw(a, faults, sizeof *g->linked);
	g->row.tail = ab_arena_raw(a, faults, sizeof *g->row.tail);
	g->row.has = ab_arena_alloc(a, faults, sizeof *g->row.has);
	g->row.estimate = ab_arena_raw(a, faults, sizeof *g->row.estimate);
	return b->nodes != NULL && b->log_odds != NULL && b->weight != NULL && b->leak != NULL &&
	    b->finding != NULL && b->leak_estimate != NULL && b->leak_node != NULL && g->sensitivity != NULL &&
	    g->linked != NULL && g->row.tail != NULL && g->row.has != NULL && g->row.estimate != NULL;
}

bool net_build(const struct ab_knowledge *k, const struct ab_fact *facts, const struct ab_evidence *evidence,
    unsigned want, struct ab_arena *arena, struct built *b)
{
	struct building g = { .k = k, .evidence = evidence, .arena = arena, .b = b, .want = want };
	memset(b, 0, sizeof *b);
	ab_held_begin(&g.held, facts);
	if (!make_room(&g))
		return false;
	add_nodes(&g);
	b->net.n_causes = k->n_causes;
	for (size_t i = 0; i < k->n_causes + k->n_faults; i++)
		b->weight[i] = 1;
	ab_all_log_odds(k, &g.held, b->log_odds);
	for (size_t i = 0; i < k->n_causes; i++)
		if (!isinf(b->log_odds[i]) && !link_cause(&g, (int)i))
			return false;
	net_excuse_meant(k, facts, evidence->family, b);
	if (!link_checks(&g) || ((want & NET_OWN_LEAKS) && !own_the_leaks(&g)))
		return false;
	assert(b->net.n_links <= g.room && b->net.n_faults <= k->n_faults + k->n_checks);
	/* Only now: adding links and leaks may have moved the arrays. */
	b->net.log_odds = b->log_odds;
	b->net.weight = b->weight;
	b->net.links = b->links;
	b->net.leak = b->leak;
	b->net.finding = b->finding;
	return true;
}

/* A grade that a yeast or a recipe brings less often than this is more than is meant (estimate). */
static const double COMMONLY = 0.3;

/* By a yeast: a cause of the kind "meant to be so" gives it under a condition that holds, and gives this
 * grade commonly. */
static bool expected_by_condition(const struct ab_knowledge *k, const struct ab_fact *facts,
    int fault, int grade)
{
	for (const struct ab_cause *cause = k->causes, *end = cause + k->n_causes; cause != end; cause++) {
		if (!cause->expects)
			continue;
		for (size_t j = 0; j < cause->n_links; j++) {
			const struct ab_link *link = &cause->links[j];
			if (link->fault == fault && link->when.n > 0 && link->tail[grade] >= COMMONLY &&
			    ab_conds_hold(&link->when, facts))
				return true;
		}
	}
	return false;
}

bool ab_fault_expected(const struct ab_knowledge *k, const struct ab_fact *facts, int family,
    int fault, int grade)
{
	if (family >= 0 && (size_t)family < k->n_families && grade > 0 &&
	    grade <= expected_grade(&k->families[family], facts, fault))
		return true;
	return expected_by_condition(k, facts, fault, grade);
}
