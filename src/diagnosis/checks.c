/* checks.c - expected information of checks and of questions, by solving the network under each outcome
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/checks.h>

#include <assert.h>
#include <math.h>
#include <string.h>
#include "base/alloc.h"

#define RATIO_MAX 200.0
#define ODDS_MAX 500.0   /* of network.h */

struct entropy { double present, blame; };

/* One copy of the network serves all checks and questions: each writes its own change into the copy and
 * takes it back, so nothing is allocated between two solves. */
struct work {
	const struct ab_net *net;
	struct ab_net more;          /* the network under an outcome; points at the arrays below */
	double *log_odds;
	struct ab_link_to *links;
	struct ab_tail *leak;
	struct ab_finding *finding;
	double *present, *blame;     /* of the last solve */
	double *present_now, *blame_now;
	struct entropy *each_now;    /* of every cause */
	struct entropy now;
	double log_evidence;         /* as given */
	struct ab_net_scratch *scratch;
};

/* In bits. log1p keeps p near 0, where most causes are, from losing its digits. */
static double entropy_of(double p)
{
	return p > 0 && p < 1 ? -(p * log2(p) + (1 - p) * log1p(-p) / 0.693147180559945309417) : 0;
}

/* Of every cause as things are, and summed. */
static struct entropy note_entropy(struct work *w)
{
	struct entropy h = { 0, 0 };

	for (size_t i = 0; i < w->net->n_causes; i++) {
		w->each_now[i] = (struct entropy){ entropy_of(w->present_now[i]), entropy_of(w->blame_now[i]) };
		h.present += w->each_now[i].present;
		h.blame += w->each_now[i].blame;
	}
	return h;
}

static bool same(double a, double b)
{
	return !(a < b) && !(a > b);
}

/* Summed over causes as if they were independent: the joint entropy would need every pattern. As a measure
 * of what is still open it ranks the same kind of thing, and needs only the marginals. Most causes are not
 * moved by an answer at all, and logarithms take long. */
static struct entropy sum_entropy(const struct work *w)
{
	struct entropy h = { 0, 0 };

	for (size_t i = 0; i < w->net->n_causes; i++) {
		h.present += same(w->present[i], w->present_now[i]) ? w->each_now[i].present
		    : entropy_of(w->present[i]);
		h.blame += same(w->blame[i], w->blame_now[i]) ? w->each_now[i].blame
		    : entropy_of(w->blame[i]);
	}
	return h;
}

/* Room for one more fault with a link from every cause. */
static bool make_rooms(struct work *w)
{
	size_t causes = w->net->n_causes + 1, faults = w->net->n_faults + 1;

	w->log_odds = ab_calloc(causes, sizeof *w->log_odds);
	w->links = ab_calloc(w->net->n_links + causes, sizeof *w->links);
	w->leak = ab_calloc(faults, sizeof *w->leak);
	w->finding = ab_calloc(faults, sizeof *w->finding);
	w->present = ab_calloc(4 * causes, sizeof *w->present);
	w->each_now = ab_calloc(causes, sizeof *w->each_now);
	w->scratch = ab_net_scratch_new();
	if (w->log_odds == NULL || w->links == NULL || w->leak == NULL || w->finding == NULL ||
	    w->present == NULL || w->each_now == NULL || w->scratch == NULL)
		return false;
	w->blame = w->present + causes;
	w->present_now = w->present + 2 * causes;
	w->blame_now = w->present + 3 * causes;
	return true;
}

static void drop_rooms(struct work *w)
{
	ab_free(w->log_odds);
	ab_free(w->links);
	ab_free(w->leak);
	ab_free(w->finding);
	ab_free(w->present);
	ab_free(w->each_now);
	ab_net_scratch_free(w->scratch);
}

/* Solves the network as given and copies it. On failure the caller still drops the rooms. The network as
 * given is solved first: its entropies are what every outcome is compared with. */
static enum ab_status begin(struct work *w, const struct ab_net *net, struct ab_diag *diag)
{
	struct ab_beliefs b = { 0 };
	enum ab_status st;

	*w = (struct work){ .net = net };
	if (!make_rooms(w))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the next check");
	b.present = w->present_now;
	b.blame = w->blame_now;
	st = ab_net_solve_in(w->scratch, net, &b, diag);
	if (st != AB_OK)
		return st;
	w->log_evidence = b.log_evidence;
	w->now = note_entropy(w);
	w->more = *net;
	w->more.log_odds = w->log_odds;
	w->more.links = w->links;
	w->more.leak = w->leak;
	w->more.finding = w->finding;
	memcpy(w->log_odds, net->log_odds, net->n_causes * sizeof *w->log_odds);
	if (net->n_links > 0)
		memcpy(w->links, net->links, net->n_links * sizeof *w->links);
	if (net->n_faults > 0) {
		memcpy(w->leak, net->leak, net->n_faults * sizeof *w->leak);
		memcpy(w->finding, net->finding, net->n_faults * sizeof *w->finding);
	}
	return AB_OK;
}

/* What is unknown under an outcome; an impossible outcome leaves nothing to know and has probability 0. */
static enum ab_status outcome(struct work *w, struct entropy *h, double *p, struct ab_diag *diag)
{
	struct ab_beliefs b = { .present = w->present, .blame = w->blame };
	struct ab_diag own;
	enum ab_status st;

	ab_diag_init(&own);
	*h = (struct entropy){ 0, 0 };
	*p = 0;
	st = ab_net_solve_in(w->scratch, &w->more, &b, &own);
	if (st == AB_EIMPOSSIBLE)
		return AB_OK;
	/* Too wide to be weighed is no failure of the diagnosis: that check goes without a figure. */
	if (st == AB_ELIMIT)
		return st;
	if (st != AB_OK)
		return ab_fail(diag, st, NULL, 0, "%s", own.text);
	*h = sum_entropy(w);
	*p = exp(b.log_evidence - w->log_evidence);
	return AB_OK;
}

/* Never below 0: expected information is not, but this sum over marginals, and rounding, can be. */
static struct ab_worth worth_of(const struct work *w, double p, struct entropy yes, struct entropy no)
{
	assert(p > -1e-9 && p < 1 + 1e-9);
	return (struct ab_worth){ .bits = fmax(0, w->now.present - p * yes.present - (1 - p) * no.present),
		.blame_bits = fmax(0, w->now.blame - p * yes.blame - (1 - p) * no.blame), .p = p,
		.weighed = true };
}

static bool cause_ok(const struct work *w, int cause)
{
	return cause >= 0 && (size_t)cause < w->net->n_causes;
}

static enum ab_status check_check(const struct work *w, size_t k, const struct ab_net_check *c,
    struct ab_diag *diag)
{
	bool ok = c->base >= 0 && c->base <= 1 && c->n <= w->net->n_causes;

	for (size_t i = 0; ok && i < c->n; i++)
		ok = cause_ok(w, c->cause[i]) && c->yes[i] >= 0 && c->yes[i] <= 1;
	if (!ok)
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "check %zu: its probabilities must lie within 0..1 and its causes must exist, each "
		    "once", k);
	return AB_OK;
}

/* A yes is an answer and not a found fault: pushing it must not be blame, or a check would make its own
 * suspect. */
static enum ab_status weigh_check(struct work *w, const struct ab_net_check *c, struct ab_worth *worth,
    struct ab_diag *diag)
{
	/* The check becomes one more fault of one grade at the end, and is overwritten by the next check. */
	size_t node = w->net->n_faults;
	struct entropy yes, no;
	double p_yes, p_no;
	enum ab_status st;

	*worth = (struct ab_worth){ 0 };
	if (node == AB_NET_FAULTS)
		return AB_OK;
	for (size_t i = 0; i < c->n; i++)
		w->links[w->net->n_links + i] = (struct ab_link_to){ c->cause[i], (int)node,
		    { { 1, c->yes[i], 0, 0 } } };
	w->leak[node] = (struct ab_tail){ { 1, c->base, 0, 0 } };
	w->more.n_links = w->net->n_links + c->n;
	w->more.n_faults = node + 1;
	w->finding[node] = (struct ab_finding){ AB_SEEN_ANSWER, 1, 0 };
	st = outcome(w, &yes, &p_yes, diag);
	if (st == AB_OK) {
		w->finding[node] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 1 };
		st = outcome(w, &no, &p_no, diag);
	}
	if (st == AB_OK)
		/* The smaller of the two is the one with its digits; they add up to 1 but for rounding. */
		*worth = worth_of(w, p_yes < p_no ? p_yes : 1 - p_no, yes, no);
	return st == AB_ELIMIT ? AB_OK : st;
}

enum ab_status ab_check_worths(const struct ab_net *net, const struct ab_net_check *checks, size_t n,
    struct ab_worth *worth, struct ab_diag *diag)
{
	struct work w;
	enum ab_status st = begin(&w, net, diag);

	for (size_t k = 0; st == AB_OK && k < n; k++) {
		st = check_check(&w, k, &checks[k], diag);
		if (st == AB_OK)
			st = weigh_check(&w, &checks[k], &worth[k], diag);
	}
	drop_rooms(&w);
	return st;
}

static bool ratio_ok(double x)
{
	return fabs(x) <= RATIO_MAX || (isinf(x) && x < 0);
}

/* A cause moved twice would keep only the last of its steps, and nobody would see it. */
static enum ab_status check_question(const struct work *w, size_t k, const struct ab_net_question *q,
    struct ab_diag *diag)
{
	for (size_t i = 0; i < q->n; i++)
		if (!cause_ok(w, q->cause[i]) || !ratio_ok(q->log_ratio_a[i]) || !ratio_ok(q->log_ratio_b[i]))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "question %zu: a log-ratio must lie within %g..%g or be minus infinity, and its "
			    "causes must exist", k, -RATIO_MAX, RATIO_MAX);
	for (size_t i = 0; i < q->n; i++)
		for (size_t j = 0; j < i; j++)
			if (q->cause[i] == q->cause[j])
				return ab_fail(diag, AB_EUSAGE, NULL, 0, "question %zu moves cause %d twice",
				    k, q->cause[i]);
	return AB_OK;
}

static enum ab_status under_answer(struct work *w, const struct ab_net_question *q, bool is_a, struct entropy *h,
    struct ab_diag *diag)
{
	double p;

	for (size_t i = 0; i < q->n; i++) {
		double x = w->net->log_odds[q->cause[i]] + ab_question_step(q, i, is_a);

		w->log_odds[q->cause[i]] = isinf(x) ? x : fmin(fmax(x, -ODDS_MAX), ODDS_MAX);
	}
	return outcome(w, h, &p, diag);
}

static enum ab_status weigh_question(struct work *w, const struct ab_net_question *q, struct ab_worth *worth,
    struct ab_diag *diag)
{
	struct entropy a, b;
	double p;
	enum ab_status st;

	*worth = (struct ab_worth){ 0 };
	if (!ab_question_chance(q, w->present_now, w->blame_now, &p))
		return AB_OK;
	st = under_answer(w, q, true, &a, diag);
	if (st == AB_OK)
		st = under_answer(w, q, false, &b, diag);
	if (st == AB_OK)
		*worth = worth_of(w, p, a, b);
	for (size_t i = 0; i < q->n; i++)
		w->log_odds[q->cause[i]] = w->net->log_odds[q->cause[i]];
	return st;
}

enum ab_status ab_question_worths(const struct ab_net *net, const struct ab_net_question *questions, size_t n,
    struct ab_worth *worth, struct ab_diag *diag)
{
	struct work w;
	enum ab_status st = begin(&w, net, diag);

	for (size_t k = 0; st == AB_OK && k < n; k++) {
		st = check_question(&w, k, &questions[k], diag);
		if (st == AB_OK)
			st = weigh_question(&w, &questions[k], &worth[k], diag);
	}
	drop_rooms(&w);
	return st;
}
