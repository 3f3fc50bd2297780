/* gravity.c - degrees Plato and SG 20/20
 *
 * P = -616.868 + 1111.14 S - 630.272 S^2 + 135.997 S^3, the ASBC's fit to its table of extract (trust A, S
 * 1.000 to 1.12). Its slope has no zero (the discriminant is negative), so it can be turned round by halving
 * anywhere.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/quantity.h>

double ab_plato_from_sg(double sg)
{
	double p = -616.868 + sg * (1111.14 + sg * (-630.272 + sg * 135.997));
	/* The fit gives -0.0030 for water; beer below 1.000 has a true negative apparent extract, which
	 * stays. */
	return p < 0 && sg >= 1 ? 0 : p;
}

double ab_sg_from_plato(double plato)
{
	double lo = 0.9, hi = 1.3;
	if (plato == 0)
		return 1;  /* by definition: water */
	/* Halving needs no starting guess and cannot run away. A step of 1e-12 SG is far below the last
	 * digit of any instrument and above what doubles near 1 can tell apart, so the loop always ends
	 * (about 39 rounds). */
	while (hi - lo > 1e-12) {
		double mid = (lo + hi) / 2;
		if (ab_plato_from_sg(mid) < plato)
			lo = mid;
		else
			hi = mid;
	}
	return (lo + hi) / 2;
}
