/* brute.c - small networks solved by enumeration in 128-bit floats; see brute.h
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "brute.h"

#include <math.h>
#include <string.h>

__extension__ typedef __float128 quad;

/* Of libquadmath; its header is not on every compiler's path. */
quad expq(quad x);
quad logq(quad x);

static quad prior(const struct ab_net *net, size_t i)
{
	quad o;

	if (isinf(net->log_odds[i]))
		return 0;
	o = expq(net->log_odds[i]);
	return o / (1 + o);
}

/* P(level <= g) of one contributor. */
static quad cdf(const struct ab_tail *t, int g)
{
	return g < 0 ? 0 : g >= 3 ? 1 : 1 - (quad)t->at[g + 1];
}

/* table[cause * n_faults + fault] = its link, or NULL. */
static void index_links(const struct ab_net *net, const struct ab_tail **table)
{
	memset(table, 0, net->n_causes * net->n_faults * sizeof *table);
	for (size_t l = 0; l < net->n_links; l++)
		table[(size_t)net->links[l].cause * net->n_faults + (size_t)net->links[l].fault] = &net->links[l].tail;
}

/* P(what was seen of fault f | pattern), leaving cause `but` out (-1: none). */
static quad seen(const struct ab_net *net, const struct ab_tail **table, unsigned pattern, size_t f, int but)
{
	const struct ab_finding *e = &net->finding[f];
	quad upto = cdf(&net->leak[f], e->grade), below = cdf(&net->leak[f], e->grade - 1);
	quad missed = 1 - (quad)e->sensitivity * net->leak[f].at[1];

	for (size_t i = 0; i < net->n_causes; i++) {
		const struct ab_tail *t = table[i * net->n_faults + f];

		if (t == NULL || !(pattern >> i & 1) || (int)i == but)
			continue;
		upto *= cdf(t, e->grade);
		below *= cdf(t, e->grade - 1);
		missed *= 1 - (quad)e->sensitivity * t->at[1];
	}
	return e->seen == AB_SEEN_NOTHING ? 1 : e->seen == AB_SEEN_ABSENT ? missed : upto - below;
}

/* P(evidence, and cause i pushed no found fault | pattern with i active). */
static quad innocent(
    const struct ab_net *net, const struct ab_tail **table, unsigned pattern, size_t i, const quad *like)
{
	quad p = 1;

	for (size_t f = 0; f < net->n_faults; f++) {
		const struct ab_tail *t = table[i * net->n_faults + f];

		if (t == NULL || net->finding[f].seen != AB_SEEN_FOUND)
			p *= like[f];
		else
			p *= seen(net, table, pattern, f, (int)i) * cdf(t, net->finding[f].grade - 1);
	}
	return p;
}

void brute_solve(const struct ab_net *net, struct brute_answer *a)
{
	static const struct ab_tail *table[BRUTE_CAUSES * BRUTE_FAULTS];
	static quad joint[1 << BRUTE_ENUM];
	quad present[BRUTE_CAUSES] = { 0 }, blame[BRUTE_CAUSES] = { 0 }, all = 0;
	quad like[BRUTE_FAULTS];
	unsigned end = 1u << net->n_causes;

	index_links(net, table);
	for (unsigned x = 0; x < end; x++) {
		quad p = 1, weight = 1;

		for (size_t i = 0; i < net->n_causes; i++)
			weight *= x >> i & 1 ? prior(net, i) : 1 - prior(net, i);
		for (size_t f = 0; f < net->n_faults; f++)
			p *= like[f] = seen(net, table, x, f, -1);
		joint[x] = weight * p;
		all += weight * p;
		for (size_t i = 0; i < net->n_causes; i++) {
			quad pushed;

			if (!(x >> i & 1) || weight == 0)
				continue;
			pushed = p - innocent(net, table, x, i, like);
			present[i] += weight * p;
			blame[i] += pushed > 1e-22 * p ? weight * pushed : 0;   /* below is rounding: exactly none */
		}
	}
	memset(a, 0, sizeof *a);
	a->log_evidence = all > 0 ? (double)logq(all) : (double)-INFINITY;
	for (unsigned x = 0; x < end && all > 0; x++) {
		a->pattern[x] = (double)(joint[x] / all);
		a->best = fmax(a->best, a->pattern[x]);
	}
	for (size_t i = 0; i < net->n_causes && all > 0; i++) {
		a->present[i] = (double)(present[i] / all);
		a->blame[i] = (double)(blame[i] / all);
	}
}

/* P(what was seen of fault f, and no cause of the set at its grade | pattern). */
static quad seen_without(
    const struct ab_net *net, const struct ab_tail **table, unsigned pattern, size_t f, unsigned set)
{
	const struct ab_finding *e = &net->finding[f];
	quad upto = cdf(&net->leak[f], e->grade), below = cdf(&net->leak[f], e->grade - 1), members = 1;

	if (e->seen != AB_SEEN_FOUND)
		return seen(net, table, pattern, f, -1);
	for (size_t i = 0; i < net->n_causes; i++) {
		const struct ab_tail *t = table[i * net->n_faults + f];

		if (t == NULL || !(pattern >> i & 1))
			continue;
		if (set >> i & 1) {
			members *= cdf(t, e->grade - 1);
		} else {
			upto *= cdf(t, e->grade);
			below *= cdf(t, e->grade - 1);
		}
	}
	return (upto - below) * members;
}

double brute_blame_any(const struct ab_net *net, unsigned set)
{
	static const struct ab_tail *table[BRUTE_CAUSES * BRUTE_FAULTS];
	quad all = 0, none = 0;

	index_links(net, table);
	for (unsigned x = 0; x < 1u << net->n_causes; x++) {
		quad p = 1, q = 1;

		for (size_t i = 0; i < net->n_causes; i++)
			p *= x >> i & 1 ? prior(net, i) : 1 - prior(net, i);
		q = p;
		for (size_t f = 0; f < net->n_faults; f++) {
			p *= seen(net, table, x, f, -1);
			q *= seen_without(net, table, x, f, set);
		}
		all += p;
		none += q;
	}
	return (double)(1 - none / all);
}

/* One contributor to one fault: the leak (cause -1) or an active cause. */
struct part { int fault; const struct ab_tail *tail; };

static quad walk_levels(const struct ab_net *net, const struct part *parts, size_t n, int *max, quad missed)
{
	quad sum = 0;

	if (n == 0) {
		for (size_t f = 0; f < net->n_faults; f++)
			if (net->finding[f].seen == AB_SEEN_FOUND && max[f] != net->finding[f].grade)
				return 0;
		return missed;
	}
	for (int level = 0; level < AB_GRADES; level++) {
		const struct ab_finding *e = &net->finding[parts->fault];
		quad p = cdf(parts->tail, level) - cdf(parts->tail, level - 1);
		int old = max[parts->fault];

		if (level > old)
			max[parts->fault] = level;
		if (level > 0 && e->seen == AB_SEEN_ABSENT)
			p *= 1 - (quad)e->sensitivity;
		sum += p * walk_levels(net, parts + 1, n - 1, max, missed);
		max[parts->fault] = old;
	}
	return sum;
}

double brute_levels(const struct ab_net *net)
{
	quad all = 0;

	for (unsigned x = 0; x < 1u << net->n_causes; x++) {
		struct part parts[64];
		int max[BRUTE_FAULTS] = { 0 };
		size_t n = 0;
		quad weight = 1;

		for (size_t i = 0; i < net->n_causes; i++)
			weight *= x >> i & 1 ? prior(net, i) : 1 - prior(net, i);
		for (size_t f = 0; f < net->n_faults; f++)
			parts[n++] = (struct part){ (int)f, &net->leak[f] };
		for (size_t l = 0; l < net->n_links; l++)
			if (x >> net->links[l].cause & 1)
				parts[n++] = (struct part){ net->links[l].fault, &net->links[l].tail };
		all += weight * walk_levels(net, parts, n, max, 1);
	}
	return (double)all;
}

/* splitmix64, public domain (Steele, Lea, Flood 2014, OOPSLA). */
double brute_random(uint64_t *state)
{
	uint64_t z = *state += UINT64_C(0x9e3779b97f4a7c15);

	z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
	z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
	return (double)((z ^ z >> 31) >> 11) * 0x1p-53;
}

static double between(uint64_t *r, double lo, double hi)
{
	return lo + (hi - lo) * brute_random(r);
}

static struct ab_tail link_tail(uint64_t *r, enum brute_kind kind)
{
	struct ab_tail t = { { 1, between(r, 0.2, 0.8), 0, 0 } };

	if (kind == BRUTE_STRONG || (kind == BRUTE_MIXED && brute_random(r) < 0.4))
		t.at[1] = between(r, 0.95, 0.9999);
	t.at[2] = t.at[1] * between(r, 0.4, 1);
	t.at[3] = t.at[2] * between(r, 0.1, 1);
	if (kind == BRUTE_MIXED && brute_random(r) < 0.1)
		t.at[2] = t.at[1];     /* never slight */
	if (kind == BRUTE_MIXED && brute_random(r) < 0.1)
		t.at[3] = 0;           /* never strong */
	if (kind == BRUTE_MIXED && brute_random(r) < 0.05)
		t.at[1] = 1;           /* always there */
	return t;
}

static struct ab_tail leak_tail(uint64_t *r, enum brute_kind kind)
{
	double t = kind == BRUTE_STRONG || (kind == BRUTE_MIXED && brute_random(r) < 0.4) ? 1e-6 : 0.02;

	return (struct ab_tail){ { 1, t, t * 0.4, t * 0.1 } };
}

static struct ab_finding a_finding(uint64_t *r, enum brute_kind kind)
{
	double u = brute_random(r);

	if (u < (kind == BRUTE_MIXED ? 0.6 : 0.9))
		return (struct ab_finding){ AB_SEEN_FOUND, kind == BRUTE_MILD ? 1 : 1 + (int)(3 * brute_random(r)), 0 };
	if (u < 0.9)
		return (struct ab_finding){ AB_SEEN_ABSENT, 0, brute_random(r) < 0.2 ? 1 : between(r, 0.3, 0.9) };
	return (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
}

static double a_prior(uint64_t *r, enum brute_kind kind)
{
	double p = kind == BRUTE_MILD ? 0.1 : kind == BRUTE_STRONG ? 1e-3 : between(r, 1e-4, 0.6);

	if (kind == BRUTE_MIXED && brute_random(r) < 0.15)
		return (double)-INFINITY;
	return log(p / (1 - p)) + between(r, -0.5, 0.5);
}

void brute_bind(struct brute_net *b, size_t n_causes, size_t n_faults, size_t n_links)
{
	b->net = (struct ab_net){ n_causes, n_faults, n_links, b->log_odds, b->links, b->leak, b->finding, NULL };
}

void brute_make(
    struct brute_net *b, uint64_t seed, enum brute_kind kind, size_t n_causes, size_t n_faults, double density)
{
	uint64_t r = seed * 1000003 + (uint64_t)kind;
	size_t n = 0;

	for (size_t f = 0; f < n_faults; f++) {
		b->leak[f] = leak_tail(&r, kind);
		b->finding[f] = a_finding(&r, kind);
	}
	for (size_t i = 0; i < n_causes; i++) {
		size_t first = n;

		b->log_odds[i] = a_prior(&r, kind);
		for (size_t f = 0; f < n_faults; f++)
			if (brute_random(&r) < density && n < BRUTE_LINKS)
				b->links[n++] = (struct ab_link_to){ (int)i, (int)f, link_tail(&r, kind) };
		if (kind != BRUTE_MIXED || i == 0 || brute_random(&r) > 0.1)
			continue;
		/* The twin of the cause before: a tie. */
		b->log_odds[i] = b->log_odds[i - 1];
		n = first;
		for (size_t l = 0, end = first; l < end; l++)
			if (b->links[l].cause == (int)i - 1 && n < BRUTE_LINKS)
				b->links[n++] = (struct ab_link_to){ (int)i, b->links[l].fault, b->links[l].tail };
	}
	brute_bind(b, n_causes, n_faults, n);
}
