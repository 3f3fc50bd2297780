/* held.c - Polya's urn over a brewer's batches, without and with a change
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/held.h>

#include <math.h>
#include <string.h>

/* A finding that no doubt is left about would make a later one impossible. */
#define MOST_RATIO 1e9
#define INSIDE 1e-6
/* where a drift leaves little on average, what it began with is no surer than this (estimate) */
#define MOST_RATE 0.95

enum { ROOM = AB_HELD_MOST + 1 };

/* without[m]: weight of the ways in which the cause struck in m of the batches without the change. with[m][h]: it
 * would have struck in m of those with it, and was held off in h. */
struct urn { double without[ROOM], with[ROOM][ROOM]; size_t n_without, n_with; };

double ab_exposed_ratio(double before, double after)
{
	double ratio = after / (1 - after) * (1 - before) / before;

	if (!(before > 0) || !(before < 1) || isnan(ratio))
		return 1;
	return ratio;
}

/* An infinite ratio stays one as long as anything is left. */
double ab_exposed_faded(double before, double after, double tells)
{
	return ab_exposed_ratio(before, tells * after + (1 - tells) * before);
}

double ab_exposed_beside(double ratio, double left)
{
	return left > 0 ? left * ratio + 1 - left : 1;
}

static double inside(double p)
{
	return fmin(fmax(p, INSIDE), 1 - INSIDE);
}

/* ln gamma of a, b and a + b, and of all so many steps above them that a row of n batches asks for. */
struct gammas { double a[ROOM], b[ROOM], both[ROOM]; };

static void fill_gammas(struct gammas *g, double a, double b, size_t n)
{
	for (size_t i = 0; i <= n; i++) {
		g->a[i] = lgamma(a + (double)i);
		g->b[i] = lgamma(b + (double)i);
		g->both[i] = lgamma(a + b + (double)i);
	}
}

/* ln of B(a + hits, b + misses) / B(a, b): the chance of one such row out of the urn. */
static double row(const struct gammas *g, size_t hits, size_t misses)
{
	return g->a[hits] - g->a[0] + g->b[misses] - g->b[0] - g->both[hits + misses] + g->both[0];
}

/* Downwards, so that a place is read before it is written. */
static void add_without(struct urn *u, double yes, double no)
{
	for (size_t m = ++u->n_without; m > 0; m--)
		u->without[m] = no * u->without[m] + yes * u->without[m - 1];
	u->without[0] *= no;
}

/* It struck; it would have, and was held off; it would not have. The last two look alike. */
static void add_with(struct urn *u, double yes, double no)
{
	for (size_t m = ++u->n_with; m > 0; m--)
		for (size_t h = m; h > 0; h--)
			u->with[m][h] = no * u->with[m][h] + yes * u->with[m - 1][h] + no * u->with[m - 1][h - 1];
	for (size_t m = u->n_with; m > 0; m--)
		u->with[m][0] = no * u->with[m][0] + yes * u->with[m - 1][0];
	u->with[0][0] *= no;
}

static double bounded(double ratio)
{
	return fmin(fmax(ratio, 1 / MOST_RATIO), MOST_RATIO);
}

static void fill(struct urn *u, const struct ab_exposed *batches, size_t n)
{
	memset(u, 0, sizeof *u);
	u->without[0] = u->with[0][0] = 1;
	for (size_t i = 0; i < n; i++) {
		double ratio = bounded(batches[i].ratio);

		(batches[i].with ? add_with : add_without)(u, ratio / (1 + ratio), 1 / (1 + ratio));
	}
}

/* Weight of m strikes that would have come with the change, over all that may have come without it; struck: the same
 * weight times how many did. */
static double rate_weight(const struct urn *u, const struct gammas *rate, size_t m, double *struck)
{
	double sum = 0;
	size_t n = u->n_without + u->n_with;

	*struck = 0;
	for (size_t w = 0; w <= u->n_without; w++) {
		double weight = u->without[w] * exp(row(rate, w + m, n - w - m));

		sum += weight;
		*struck += weight * (double)w;
	}
	return sum;
}

struct ab_share_learned ab_held_share(double share, double rate, const struct ab_exposed *batches, size_t n)
{
	struct ab_share_learned out = { .prior = share, .share = share };
	double a = AB_HELD_SHARE_BATCHES * inside(share), b = AB_HELD_SHARE_BATCHES - a, all = 0, mean = 0, square = 0;
	double rate_a = AB_HELD_RATE_BATCHES * inside(rate), rate_b = AB_HELD_RATE_BATCHES * (1 - inside(rate));
	struct gammas by_rate, by_share;
	struct urn u;

	fill(&u, n > AB_HELD_MOST ? batches + (n - AB_HELD_MOST) : batches, n > AB_HELD_MOST ? AB_HELD_MOST : n);
	fill_gammas(&by_rate, rate_a, rate_b, u.n_without + u.n_with);
	fill_gammas(&by_share, a, b, u.n_with);
	for (size_t m = 0; m <= u.n_with; m++) {
		double struck, of_rate = rate_weight(&u, &by_rate, m, &struck);

		for (size_t h = 0; h <= m; h++) {
			double way = u.with[m][h] * exp(row(&by_share, h, m - h)), w = of_rate * way;
			double top = a + (double)h, under = a + b + (double)m;

			all += w;
			out.struck += struck * way;
			out.would += w * (double)m;
			out.held += w * (double)h;
			mean += w * top / under;
			square += w * top * (top + 1) / (under * (under + 1));
		}
	}
	out.log_evidence = log(all);
	for (size_t i = n > AB_HELD_MOST ? n - AB_HELD_MOST : 0; i < n; i++)
		out.log_evidence += log1p(bounded(batches[i].ratio));
	out.struck /= all;
	out.would /= all;
	out.held /= all;
	if (u.n_with > 0)
		out.share = mean / all;
	out.sd = sqrt(fmax(0, square / all - mean / all * (mean / all)));
	return out;
}

/* ---- with a drift ---- */

enum { STEPS = 17 };   /* of half a standard deviation, the middle one 0 */

/* What a drift leaves of the strikes in each batch, against where it leaves most; the ratios beside it. The mean of
 * what it leaves. */
static double drift(
    double step, const struct ab_exposed *batches, const double *place, size_t n, struct ab_exposed *out)
{
	double sum = 0, full = step > 0 ? INFINITY : -INFINITY;

	for (size_t i = 0; i < n; i++)
		full = step > 0 ? fmin(full, place[i]) : fmax(full, place[i]);
	for (size_t i = 0; i < n; i++) {
		double left = exp(-step * (place[i] - full));

		sum += left;
		out[i] = (struct ab_exposed){ ab_exposed_beside(batches[i].ratio, left), batches[i].with };
	}
	return sum / (double)n;
}

/* Adds b to the mix a, both weighed: means mix, and so do squares. */
static void mix(struct ab_share_learned *a, const struct ab_share_learned *b, double weight)
{
	a->struck += weight * b->struck;
	a->would += weight * b->would;
	a->held += weight * b->held;
	a->share += weight * b->share;
	a->sd += weight * (b->sd * b->sd + b->share * b->share);
}

struct ab_share_learned ab_held_share_drifting(
    double share, double rate, const struct ab_exposed *batches, const double *place, size_t n)
{
	struct ab_share_learned of[STEPS], out = { .prior = share };
	struct ab_exposed beside[AB_HELD_MOST];
	double most = -INFINITY, all = 0;
	size_t from = n > AB_HELD_MOST ? n - AB_HELD_MOST : 0;
	bool with = false;

	for (size_t i = from; i < n; i++)
		with = with || batches[i].with;
	if (!with)
		return ab_held_share(share, rate, batches, n);
	for (int s = 0; s < STEPS; s++) {
		double z = (s - STEPS / 2) / 2.0,
		       left = drift(z * AB_HELD_DRIFT, batches + from, place + from, n - from, beside);

		of[s] = ab_held_share(share, fmin(rate / left, fmax(rate, MOST_RATE)), beside, n - from);
		of[s].log_evidence -= z * z / 2;
		most = fmax(most, of[s].log_evidence);
	}
	for (int s = 0; s < STEPS; s++) {
		double weight = exp(of[s].log_evidence - most);

		all += weight;
		mix(&out, &of[s], weight);
	}
	out.struck /= all;
	out.would /= all;
	out.held /= all;
	out.share /= all;
	out.sd = sqrt(fmax(0, out.sd / all - out.share * out.share));
	out.log_evidence = most + log(all);
	return out;
}
