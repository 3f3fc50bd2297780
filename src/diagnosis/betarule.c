/* betarule.c - Gauss quadrature for a beta distribution
 *
 * Nodes are the eigenvalues of the Jacobi matrix, weights the squares of the first parts of its eigenvectors (Golub and
 * Welsch 1969, Math. Comp. 23, 221-230), by the implicit QL method; the recurrence is that of the Jacobi polynomials
 * (Abramowitz and Stegun 22.7.1), moved from -1..1 to 0..1.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/together.h>

#include <assert.h>
#include <float.h>
#include <math.h>

/* QL takes two or three passes a node; never seen to take ten. */
enum { PASSES = 60 };

/* d: diagonal, e: e[i] beside d[i] and d[i + 1]. */
static void jacobi_matrix(double a, double b, size_t n, double *d, double *e)
{
	double al = b - 1, be = a - 1, s = al + be;

	d[0] = (be - al) / (s + 2);
	for (size_t i = 1; i < n; i++) {
		double k = (double)i, t = 2 * k + s;

		d[i] = (be * be - al * al) / (t * (t + 2));
		/* for k = 1 a factor s + 1 goes out, which may be 0 */
		e[i - 1] = i == 1 ? sqrt(4 * (1 + al) * (1 + be) / ((2 + s) * (2 + s) * (3 + s)))
		    : sqrt(4 * k * (k + al) * (k + be) * (k + s) / (t * t * (t + 1) * (t - 1)));
	}
	e[n - 1] = 0;
}

/* The end of the block at l that no small element cuts. */
static size_t block_end(size_t l, size_t n, const double *d, const double *e)
{
	size_t m = l;

	while (m < n - 1 && fabs(e[m]) > DBL_EPSILON * (fabs(d[m]) + fabs(d[m + 1])))
		m++;
	return m;
}

/* One implicit QL step on the block l..m; z: first parts of the eigenvectors. */
static void ql_step(size_t l, size_t m, double *d, double *e, double *z)
{
	double g = (d[l + 1] - d[l]) / (2 * e[l]), r = hypot(g, 1), s = 1, c = 1, p = 0;

	g = d[m] - d[l] + e[l] / (g + copysign(r, g));
	for (size_t i = m; i-- > l;) {
		double f = s * e[i], b = c * e[i], old;

		e[i + 1] = r = hypot(f, g);
		if (!(r > 0)) {   /* cut in two: begin again */
			d[i + 1] -= p;
			e[m] = 0;
			return;
		}
		s = f / r;
		c = g / r;
		g = d[i + 1] - p;
		r = (d[i] - g) * s + 2 * c * b;
		p = s * r;
		d[i + 1] = g + p;
		g = c * r - b;
		old = z[i + 1];
		z[i + 1] = s * z[i] + c * old;
		z[i] = c * z[i] - s * old;
	}
	d[l] -= p;
	e[l] = g;
	e[m] = 0;
}

static void sort(size_t n, double *d, double *z)
{
	for (size_t i = 1; i < n; i++)
		for (size_t j = i; j > 0 && d[j - 1] > d[j]; j--) {
			double x = d[j], y = z[j];

			d[j] = d[j - 1];
			d[j - 1] = x;
			z[j] = z[j - 1];
			z[j - 1] = y;
		}
}

void ab_beta_rule(double a, double b, size_t n, double *at, double *weight)
{
	double e[AB_TOGETHER_RATES];

	assert(a > 0 && b > 0 && n > 0 && n <= AB_TOGETHER_RATES);
	jacobi_matrix(a, b, n, at, e);
	for (size_t i = 0; i < n; i++)
		weight[i] = i == 0;
	for (size_t l = 0; l < n; l++)
		for (int pass = 0; pass < PASSES; pass++) {
			size_t m = block_end(l, n, at, e);

			if (m == l)
				break;
			ql_step(l, m, at, e, weight);
		}
	sort(n, at, weight);
	for (size_t i = 0; i < n; i++) {
		/* rounding may put a node that lies nearer to an end than a double can say just outside */
		at[i] = fmin(fmax((1 + at[i]) / 2, 0), 1);
		weight[i] *= weight[i];
	}
}
