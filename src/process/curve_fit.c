/* curve_fit.c - least squares for the gravity curve: Levenberg-Marquardt with analytic slopes, by GSL
 *
 * Rows are the readings, each divided by its u, and one more for each end known otherwise. The covariance is
 * (J'WJ)^-1 of those rows, times chi2/freedom where that is over 1: readings that scatter more than their u
 * says are believed less.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/curve_fit.h"
#include <math.h>
#include <string.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>

enum { ITERATIONS = 60 };
/* Relative step and gradient at which it has settled. */
static const double SETTLED = 1e-9, NEARLY = 1e-6;

/* known[0] is the original gravity, known[1] the final: in that order they are the places of PI and PE
 * among the parameters, which residuals() and slopes() rely on. */
struct problem { const struct ab_curve_point *at; size_t n; const struct ab_curve_known *known; };

/* exp overflows past 709; a share of 0 is right there to every digit. */
double ab_curve_left(double b, double m, double h)
{
	double x = b * (h - m);
	return x > 700 ? 0 : 1 / (1 + exp(x));
}

/* A known end is one more row that pulls on one parameter alone: the same weight of evidence, 1/u, as a
 * reading. */
static int residuals(const gsl_vector *x, void *ctx, gsl_vector *f)
{
	const struct problem *p = ctx;
	const double *v = gsl_vector_const_ptr(x, 0);
	size_t row = p->n;

	for (size_t i = 0; i < p->n; i++) {
		double left = ab_curve_left(v[AB_CURVE_B], v[AB_CURVE_M], p->at[i].h);
		double model = v[AB_CURVE_PE] + (v[AB_CURVE_PI] - v[AB_CURVE_PE]) * left;
		gsl_vector_set(f, i, (model - p->at[i].p) / p->at[i].u);
	}
	for (size_t k = 0; k < 2; k++)
		if (p->known[k].known)
			gsl_vector_set(f, row++, (v[k] - p->known[k].p) / p->known[k].u);
	return GSL_SUCCESS;
}

/* Analytic, since numerical ones would be lost in the flat ends of the logistic, where readings
 * cluster. Rows in the same order as in residuals(). */
static int slopes(const gsl_vector *x, void *ctx, gsl_matrix *j)
{
	const struct problem *p = ctx;
	const double *v = gsl_vector_const_ptr(x, 0);
	size_t row = p->n;

	gsl_matrix_set_zero(j);
	for (size_t i = 0; i < p->n; i++) {
		double h = p->at[i].h, u = p->at[i].u, left = ab_curve_left(v[AB_CURVE_B], v[AB_CURVE_M], h);
		double bend = (v[AB_CURVE_PI] - v[AB_CURVE_PE]) * left * (1 - left) / u;
		double *d = gsl_matrix_ptr(j, i, 0);
		d[AB_CURVE_PI] = left / u;
		d[AB_CURVE_PE] = (1 - left) / u;
		d[AB_CURVE_B] = -bend * (h - v[AB_CURVE_M]);
		d[AB_CURVE_M] = bend * v[AB_CURVE_B];
	}
	for (size_t k = 0; k < 2; k++)
		if (p->known[k].known)
			gsl_matrix_set(j, row++, k, 1 / p->known[k].u);
	return GSL_SUCCESS;
}

/* Over the readings only: an end that was assumed must not make the fit look better to the brewer. */
static void take_quality(const struct problem *p, struct ab_curve *out)
{
	double mean = 0, left = 0, all = 0;

	for (size_t i = 0; i < p->n; i++)
		mean += p->at[i].p / (double)p->n;
	for (size_t i = 0; i < p->n; i++) {
		double off = p->at[i].p - ab_curve_at(out, p->at[i].h);
		left += off * off;
		all += (p->at[i].p - mean) * (p->at[i].p - mean);
	}
	out->residual_sd = sqrt(left / (out->freedom > 0 ? out->freedom : 1));
	out->r2 = all > 0 ? 1 - left / all : 0;
}

/* Never narrowed when chi2 is under the freedom: few readings that happen to agree are no proof of a
 * better instrument. */
static void take(const struct problem *p, gsl_multifit_nlinear_workspace *space, gsl_matrix *cov, size_t rows,
    struct ab_curve *out)
{
	memset(out, 0, sizeof *out);
	for (size_t k = 0; k < AB_CURVE_PARAMS; k++)
		out->param[k] = gsl_vector_get(space->x, k);
	for (size_t i = 0; i < rows; i++)
		out->chi2 += gsl_vector_get(space->f, i) * gsl_vector_get(space->f, i);
	out->freedom = (int)rows - AB_CURVE_PARAMS;
	double widen = out->freedom > 0 ? fmax(1, out->chi2 / out->freedom) : 1;
	gsl_multifit_nlinear_covar(space->J, 0, cov);
	for (size_t i = 0; i < AB_CURVE_PARAMS; i++)
		for (size_t k = 0; k < AB_CURVE_PARAMS; k++)
			out->cov[i][k] = widen * gsl_matrix_get(cov, i, k);
	out->n = p->n;
	out->first_h = p->at[0].h;
	out->last_h = p->at[p->n - 1].h;
	take_quality(p, out);
}

/* GSL says "no progress" as well when it stands on the very bottom; the gradient tells the two apart. */
static bool settle(gsl_multifit_nlinear_workspace *space)
{
	int info = 0, rc = gsl_multifit_nlinear_driver(ITERATIONS, SETTLED, SETTLED, 0, NULL, NULL,
	    &info, space);

	if (rc == GSL_SUCCESS)
		return true;
	return rc == GSL_ENOPROG && gsl_multifit_nlinear_test(NEARLY, NEARLY, 0, &info, space) == GSL_SUCCESS;
}

/* GSL's default handler aborts the program; a library may not, so it is off for the while and put back
 * after. */
bool ab_curve_solve(const struct ab_curve_point *at, size_t n, const struct ab_curve_known known[2],
    const double start[AB_CURVE_PARAMS], struct ab_curve *out)
{
	struct problem p = { at, n, known };
	size_t rows = n + known[0].known + known[1].known;
	gsl_multifit_nlinear_fdf fdf = { .f = residuals, .df = slopes, .n = rows, .p = AB_CURVE_PARAMS,
	    .params = &p };
	gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
	gsl_error_handler_t *old = gsl_set_error_handler_off();
	gsl_vector_const_view x = gsl_vector_const_view_array(start, AB_CURVE_PARAMS);
	gsl_matrix *cov = gsl_matrix_alloc(AB_CURVE_PARAMS, AB_CURVE_PARAMS);
	gsl_multifit_nlinear_workspace *space = rows < AB_CURVE_PARAMS ? NULL :
	    gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, rows, AB_CURVE_PARAMS);
	bool done = cov != NULL && space != NULL &&
	    gsl_multifit_nlinear_init(&x.vector, &fdf, space) == GSL_SUCCESS && settle(space);

	if (done)
		take(&p, space, cov, rows, out);
	gsl_multifit_nlinear_free(space);
	gsl_matrix_free(cov);
	gsl_set_error_handler(old);
	return done && isfinite(out->chi2);
}
