/* weight.c - what facts say: conditions, signs, and the odds of a cause before tasting
 *
 * The mean over a fact's uncertainty uses the five-point Gauss-Hermite rule for a normal weight: nodes 0,
 * +-sqrt(5 - sqrt 10), +-sqrt(5 + sqrt 10); weights 8/15, (7 + 2 sqrt 10)/60, (7 - 2 sqrt 10)/60 (Abramowitz
 * and Stegun 1964, table 25.10, rescaled).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/knowledge.h>

#include <assert.h>
#include <math.h>
#include <string.h>

/* A guess counts with the square root of its ratio (estimate): half the log, so twice as many guesses are
 * needed for the same odds. */
static const double GUESS_POWER = 0.5;

/* An unknown fact meets no condition but "unknown": neither "is" nor "not", for missing is never "no". */
static bool cond_holds(const struct ab_cond *cond, const struct ab_fact *fact)
{
	if (!AB_FACT_KNOWN(fact))
		return cond->cmp == AB_CMP_UNKNOWN;
	assert((cond->cmp != AB_CMP_IS && cond->cmp != AB_CMP_NOT) || (fact->value >= 0 && fact->value < 64));
	switch (cond->cmp) {
	case AB_CMP_IS: return cond->words >> (int)fact->value & 1;
	case AB_CMP_NOT: return !(cond->words >> (int)fact->value & 1);
	case AB_CMP_OVER: return fact->value > cond->value;
	case AB_CMP_UNDER: return fact->value < cond->value;
	case AB_CMP_KNOWN: return true;
	case AB_CMP_UNKNOWN: return false;
	}
	return false;
}

static inline bool all_hold(const struct ab_conds *conds, const struct ab_fact *facts)
{
	for (size_t i = 0; i < conds->n; i++)
		if (!cond_holds(&conds->items[i], &facts[conds->items[i].slot]))
			return false;
	return true;
}

bool ab_conds_hold(const struct ab_conds *conds, const struct ab_fact *facts)
{
	return all_hold(conds, facts);
}

/* The curve at x: linear in log ratio between points, flat beyond. Flat beyond its ends: no rule may
 * grow beyond what its author looked at. */
static double curve(const struct ab_sign *sign, double x)
{
	assert(sign->n >= 2 && sign->n <= AB_CURVE_POINTS);
	size_t n = sign->n, i = 1;
	if (x <= sign->x[0])
		return sign->log_ratio[0];
	if (x >= sign->x[n - 1])
		return sign->log_ratio[n - 1];
	while (x > sign->x[i])
		i++;
	double t = (x - sign->x[i - 1]) / (sign->x[i] - sign->x[i - 1]);
	return sign->log_ratio[i - 1] + t * (sign->log_ratio[i] - sign->log_ratio[i - 1]);
}

/* Nodes and weights of the rule. */
static const double NEAR = 1.3556261799742659, FAR = 2.8569700138728056;
static const double MIDDLE = 0.53333333333333333, BESIDE = 0.22207592200561264, OUTER = 0.011257411327720689;

/* The mean of the ratio and not of its log: P(reading | cause) is what is averaged over the true value, and
 * the log comes after. A steep curve is so blunted by a poor thermometer. */
static double log_mean_ratio(const struct ab_sign *sign, double x, double u)
{
	const double far = FAR * u, near = NEAR * u;
	size_t i = 1;
	while (i < sign->n && x - far >= sign->x[i])
		i++;
	/* Mostly all five lie on one straight piece: their ratios are then powers of two numbers. */
	if (x - far >= sign->x[0] && i < sign->n && x + far <= sign->x[i]) {
		double slope = (sign->log_ratio[i] - sign->log_ratio[i - 1]) / (sign->x[i] - sign->x[i - 1]);
		double a = exp(slope * near), b = exp(slope * far);
		return curve(sign, x) + log(MIDDLE + BESIDE * (a + 1 / a) + OUTER * (b + 1 / b));
	}
	return log(OUTER * (exp(curve(sign, x - far)) + exp(curve(sign, x + far))) +
	    BESIDE * (exp(curve(sign, x - near)) + exp(curve(sign, x + near))) +
	    MIDDLE * exp(curve(sign, x)));
}

/* Between the two ends of the curve on both sides of x, nothing is to be averaged where it is flat that
 * far. */
static bool is_flat(const struct ab_sign *sign, double x, double u)
{
	return x + 3 * u <= sign->x[0] || x - 3 * u >= sign->x[sign->n - 1];
}

double ab_sign_weight(const struct ab_sign *sign, const struct ab_fact *facts)
{
	const struct ab_fact *fact = &facts[sign->slot];
	double weight;
	if (!AB_FACT_KNOWN(fact) || !all_hold(&sign->when, facts))
		return 0;
	if (sign->n == 0) {
		int word = (int)fact->value;
		weight = word >= 0 && word < AB_WORDS ? sign->word_log_ratio[word] : 0;
	} else if (fact->u > 0 && !is_flat(sign, fact->value, fact->u)) {
		weight = log_mean_ratio(sign, fact->value, fact->u);
	} else {
		weight = curve(sign, fact->value);
	}
	return fact->guess ? GUESS_POWER * weight : weight;
}

/* The first prior has no condition (compile.c), so the walk
 * always ends at one that holds. */
static double prior_log_odds(const struct ab_cause *cause, const struct ab_fact *facts)
{
	assert(cause->n_priors > 0);
	size_t i = cause->n_priors - 1;
	while (i > 0 && !all_hold(&cause->priors[i].when, facts))
		i--;
	return cause->priors[i].log_odds;
}

static bool is_gated(const struct ab_cause *cause, const struct ab_fact *facts)
{
	for (size_t i = 0; i < cause->n_gates; i++)
		if (all_hold(&cause->gates[i].when, facts))
			return true;
	return false;
}

/* The signs of one cause that speak on these facts: places and weights. Most are silent, and are not walked
 * again. */
struct spoken { size_t n; short at[AB_CAUSE_SIGNS]; double w[AB_CAUSE_SIGNS]; };

static void hear(const struct ab_cause *cause, const struct ab_fact *facts, struct spoken *s)
{
	s->n = 0;
	for (size_t i = 0; i < cause->n_signs; i++) {
		int slot = cause->sign_slots != NULL ? cause->sign_slots[i] : cause->signs[i].slot;
		if (!AB_FACT_KNOWN(&facts[slot]))
			continue;
		s->w[s->n] = ab_sign_weight(&cause->signs[i], facts);
		s->at[s->n] = (short)i;
		s->n += s->w[s->n] != 0;
	}
}

/* Leaves only the strongest of each group (the first of equals): the others weigh 0. Signs of one group are
 * views of one measurement: counted together they would weigh the same thermometer twice. */
static void keep_strongest(const struct ab_cause *cause, struct spoken *s)
{
	for (size_t i = 0; i < s->n; i++) {
		int group = cause->signs[s->at[i]].group;
		if (group < 0)
			continue;
		for (size_t j = 0; j < i; j++) {
			if (cause->signs[s->at[j]].group != group || s->w[j] == 0)
				continue;
			if (fabs(s->w[i]) > fabs(s->w[j]))
				s->w[j] = 0;
			else
				s->w[i] = 0;
		}
	}
}

double ab_cause_log_odds(const struct ab_cause *cause, const struct ab_fact *facts, double *used)
{
	static const double LIMIT = 500;   /* what network.h takes */
	struct spoken s;
	assert(cause->n_signs <= AB_CAUSE_SIGNS);
	if (used != NULL)
		memset(used, 0, cause->n_signs * sizeof *used);
	/* The signs are silent too, so that nobody is told of a sign for what is impossible. */
	if (is_gated(cause, facts))
		return -HUGE_VAL;
	double sum = prior_log_odds(cause, facts);
	hear(cause, facts, &s);
	keep_strongest(cause, &s);
	for (size_t i = 0; i < s.n; i++) {
		sum += s.w[i];
		if (used != NULL)
			used[s.at[i]] = s.w[i];
	}
	return fmin(fmax(sum, -LIMIT), LIMIT);
}
