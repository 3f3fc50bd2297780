/* build.c - the network of one batch
 *
 * Links by the last entry of the rules whose conditions hold. A fault f that is sometimes really f' (share s)
 * is reported with tail 1 - (1 - tail_f)(1 - s tail_f'). An answered check is a node of its own.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/build.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* A trait that a family is meant to have shows with this chance (estimate), at each grade up to the highest
 * expected alike. */
static const double EXPECTED = 0.9;
static const double ALWAYS = 500;   /* log-odds of what is always there: the limit of network.h */

/* One cause's tails to all faults. A cause's links after conditions, before confusions: a fault may be
 * reported as another only once all links of the cause are known. Used again for each cause. */
struct row { double (*tail)[AB_GRADES]; bool *has, *estimate; };

struct building {
	const struct ab_knowledge *k;
	const struct ab_fact *facts;
	const struct ab_evidence *evidence;
	struct ab_arena *arena;
	struct built *b;
	struct row row;
	size_t room;             /* for links */
};

/* ---- nodes ---- */

static const struct ab_leak *leak_of(const struct ab_fault *fault, const struct ab_fact *facts)
{
	size_t i = fault->n_leaks - 1;
	while (i > 0 && !ab_conds_hold(&fault->leaks[i].when, facts))
		i--;
	return &fault->leaks[i];
}

/* Only what was looked for becomes a node: a fault of which nothing is said changes no probability, and the
 * solver's width is precious. */
static void add_fault_node(struct building *g, int fault)
{
	struct built *b = g->b;
	size_t at = b->net.n_faults++;
	const struct ab_leak *leak = leak_of(&g->k->faults[fault], g->facts);
	b->nodes[at] = (struct node){ fault, -1 };
	assert(fault >= 0 && (size_t)fault < g->k->n_faults);
	b->finding[at] = g->evidence->finding[fault];
	memcpy(b->leak[at].at, leak->tail, sizeof leak->tail);
	b->leak_estimate[at] = leak->source.estimate;
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
static void set_tail(struct row *row, int fault, const double *tail, bool estimate)
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

/* Traits found no stronger than expected. One that was not found is no evidence, so it gets no link. */
static void expect(struct building *g)
{
	const struct ab_family *family = &g->k->families[g->evidence->family];
	for (size_t i = 0; i < family->n_expects; i++) {
		const struct ab_expects *e = &family->expects[i];
		const struct ab_finding *found = &g->evidence->finding[e->fault];
		int most = expected_grade(family, g->facts, e->fault);
		double tail[AB_GRADES] = { 1 };
		if (found->seen != AB_SEEN_FOUND || found->grade > most)
			continue;
		/* Equal chance for each grade up to the highest: the tail falls in equal steps from
		 * EXPECTED. */
		for (int k = 1; k <= most; k++)
			tail[k] = EXPECTED * (most + 1 - k) / most;
		set_tail(&g->row, e->fault, tail, true);
	}
}

static void fill_row(struct building *g, const struct ab_cause *cause)
{
	memset(g->row.has, 0, g->k->n_faults * sizeof *g->row.has);
	for (size_t i = 0; i < cause->n_links; i++)
		if (ab_conds_hold(&cause->links[i].when, g->facts))
			set_tail(&g->row, cause->links[i].fault, cause->links[i].tail,
			    cause->links[i].source.estimate);
	if (cause->expects && g->evidence->family >= 0 && (size_t)g->evidence->family < g->k->n_families)
		expect(g);
}

/* Few causes give any one fault, by itself or mistaken for another: the rest is told quickly. */
static bool may_report(const struct building *g, int fault)
{
	const struct ab_fault *f = &g->k->faults[fault];
	bool any = g->row.has[fault];
	for (size_t i = 0; !any && i < f->n_confusions; i++)
		any = g->row.has[f->confusions[i].with];
	return any;
}

/* The tail with which a cause is reported as this fault; false when it never is. */
static bool reported(const struct building *g, int fault, struct ab_tail *out, bool *estimate)
{
	const struct row *row = &g->row;
	const struct ab_fault *f = &g->k->faults[fault];
	bool any = row->has[fault];
	double miss[AB_GRADES] = { 0 };
	for (int k = 1; k < AB_GRADES; k++)
		/* Ways to be reported at grade k or above are independent: the chance that all fail is a
		 * product. */
		miss[k] = any ? 1 - row->tail[fault][k] : 1;
	*estimate = any && row->estimate[fault];
	for (size_t i = 0; i < f->n_confusions; i++) {
		const struct ab_confusion *c = &f->confusions[i];
		if (!row->has[c->with])
			continue;
		for (int k = 1; k < AB_GRADES; k++)
			miss[k] *= 1 - c->share * row->tail[c->with][k];
		*estimate = *estimate || c->source.estimate || row->estimate[c->with];
		any = true;
	}
	out->at[0] = 1;
	for (int k = 1; k < AB_GRADES; k++)
		/* The products fall with k, but 1 - miss rounds; the solver refuses a tail that rises by a
		 * single bit. */
		out->at[k] = 1 - miss[k] < out->at[k - 1] ? 1 - miss[k] : out->at[k - 1];
	return any && out->at[1] > 0;
}

/* Links and what is known of them grow side by side; the arena keeps the smaller arrays until the batch is
 * done, which is at most as much again. */
static bool add_link(struct building *g, struct ab_link_to link, bool estimate)
{
	struct built *b = g->b;
	size_t at = b->net.n_links;
	if (at == g->room) {
		size_t room = g->room == 0 ? 1024 : g->room * 2;
		struct ab_link_to *links = ab_arena_alloc(g->arena, room, sizeof *links);
		bool *estimates = ab_arena_alloc(g->arena, room, sizeof *estimates);
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

/* Links of one cause come together and causes in order: network.c then need not sort. */
static bool link_cause(struct building *g, int cause)
{
	fill_row(g, &g->k->causes[cause]);
	for (size_t i = 0; i < g->b->net.n_faults; i++) {
		struct ab_link_to link = { .cause = cause, .fault = (int)i };
		bool estimate;
		int fault = g->b->nodes[i].fault;
		if (fault < 0 || !may_report(g, fault) || !reported(g, fault, &link.tail, &estimate))
			continue;
		if (!add_link(g, link, estimate))
			return false;
	}
	return true;
}

static bool link_checks(struct building *g)
{
	for (size_t i = 0; i < g->b->net.n_faults; i++) {
		const struct ab_check *check = g->b->nodes[i].check < 0
		    ? NULL : &g->k->checks[g->b->nodes[i].check];
		for (size_t j = 0; check != NULL && j < check->n_yes; j++) {
			double p = check->yes[j].p;
			struct ab_link_to link = { check->yes[j].cause, (int)i, { { 1, p, p, p } } };
			if (p > 0 && !isinf(g->b->log_odds[link.cause]) &&
			    !add_link(g, link, check->yes[j].source.estimate))
				return false;
		}
	}
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

/* ---- the whole ---- */

/* causes + faults: each found fault may bring a cause of its own for its leak. */
static bool make_room(struct building *g)
{
	struct ab_arena *a = g->arena;
	size_t faults = g->k->n_faults, nodes = faults + g->k->n_checks;
	struct built *b = g->b;
	b->nodes = ab_arena_alloc(a, nodes, sizeof *b->nodes);
	b->log_odds = ab_arena_alloc(a, g->k->n_causes + faults, sizeof *b->log_odds);
	b->leak = ab_arena_alloc(a, nodes, sizeof *b->leak);
	b->finding = ab_arena_alloc(a, nodes, sizeof *b->finding);
	b->leak_estimate = ab_arena_alloc(a, nodes, sizeof *b->leak_estimate);
	b->leak_node = ab_arena_alloc(a, faults, sizeof *b->leak_node);
	g->row.tail = ab_arena_alloc(a, faults, sizeof *g->row.tail);
	g->row.has = ab_arena_alloc(a, faults, sizeof *g->row.has);
	g->row.estimate = ab_arena_alloc(a, faults, sizeof *g->row.estimate);
	return b->nodes != NULL && b->log_odds != NULL && b->leak != NULL && b->finding != NULL &&
	    b->leak_estimate != NULL && b->leak_node != NULL && g->row.tail != NULL && g->row.has != NULL &&
	    g->row.estimate != NULL;
}

bool net_build(const struct ab_knowledge *k, const struct ab_fact *facts, const struct ab_evidence *evidence,
    bool own_leaks, struct ab_arena *arena, struct built *b)
{
	struct building g = { .k = k, .facts = facts, .evidence = evidence, .arena = arena, .b = b };
	memset(b, 0, sizeof *b);
	if (!make_room(&g))
		return false;
	add_nodes(&g);
	b->net.n_causes = k->n_causes;
	for (size_t i = 0; i < k->n_causes; i++) {
		b->log_odds[i] = ab_cause_log_odds(&k->causes[i], facts, NULL);
		if (!isinf(b->log_odds[i]) && !link_cause(&g, (int)i))
			return false;
	}
	if (!link_checks(&g) || (own_leaks && !own_the_leaks(&g)))
		return false;
	assert(b->net.n_links <= g.room && b->net.n_faults <= k->n_faults + k->n_checks);
	/* Only now: adding links and leaks may have moved the arrays. */
	b->net.log_odds = b->log_odds;
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
	for (size_t i = 0; i < k->n_causes; i++) {
		const struct ab_cause *cause = &k->causes[i];
		for (size_t j = 0; cause->expects && j < cause->n_links; j++) {
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
