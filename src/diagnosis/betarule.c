/* betarule.c - Gauss quadrature for a beta distribution
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/together.h>

#include <assert.h>
#include <math.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>

/* GSL's weights are those of x^(a-1) (1-x)^(b-1): their sum is the beta function. */
bool ab_beta_rule(double a, double b, size_t n, double *at, double *weight)
{
	/* The handler is the whole process's and would abort it: off for this one call, then whoever had it has it
	 * again. */
	gsl_error_handler_t *old = gsl_set_error_handler_off();
	gsl_integration_fixed_workspace *w;
	double sum = 0;

	assert(a > 0 && b > 0 && a + b <= AB_TOGETHER_SURE * (1 + 1e-12) && n > 0 && n <= AB_TOGETHER_RATES);
	w = gsl_integration_fixed_alloc(gsl_integration_fixed_jacobi, n, 0, 1, b - 1, a - 1);
	gsl_set_error_handler(old);
	if (w == NULL)
		return false;
	for (size_t i = 0; i < n; i++)
		sum += gsl_integration_fixed_weights(w)[i];
	for (size_t i = 0; i < n; i++) {
		/* rounding may put a node that lies nearer to an end than a double can say just outside */
		at[i] = fmin(fmax(gsl_integration_fixed_nodes(w)[i], 0), 1);
		weight[i] = gsl_integration_fixed_weights(w)[i] / sum;
	}
	gsl_integration_fixed_free(w);
	return true;
}
