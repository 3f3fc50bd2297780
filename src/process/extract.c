/* extract.c - gravity, extract and alcohol
 *
 * Sources, units and trust of each formula: extract.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/extract.h"
#include <afterboil/quantity.h>

/* The hydrometer reads alcohol as missing extract; these two weights undo that. */
double ab_extract_real(double oe_p, double ae_p)
{
	return 0.1808 * oe_p + 0.8192 * ae_p;
}

/* The denominator falls with strength because CO2 and yeast leave: 100 g of wort end as less than 100 g
 * of beer. */
double ab_alcohol_by_weight(double oe_p, double re_p)
{
	return (oe_p - re_p) / (2.0665 - 0.010665 * oe_p);
}

/* From weight to volume with the beer's own density, fg_sg. */
double ab_alcohol_by_volume(double og_sg, double fg_sg)
{
	double oe = ab_plato_from_sg(og_sg), ae = ab_plato_from_sg(fg_sg);
	return ab_alcohol_by_weight(oe, ab_extract_real(oe, ae)) * fg_sg / 0.7907;
}

double ab_extract_original(double abw, double re_p)
{
	return 100 * (2.0665 * abw + re_p) / (100 + 1.0665 * abw);
}

double ab_attenuation(double og_sg, double fg_sg)
{
	double oe = ab_plato_from_sg(og_sg);
	return (oe - ab_plato_from_sg(fg_sg)) / oe;
}

double ab_water_density(double t_c)
{
	double d = t_c - 3.983035;
	return 999.974950 * (1 - d * d * (t_c + 301.797) / (522528.9 * (t_c + 69.34881)));
}

/* Two effects: wort gets thinner with warmth, and the glass a little bigger, which lifts it again. */
double ab_hydrometer_correct(double sg, double t_c, double calibrated_c)
{
	return sg * ab_water_density(calibrated_c) / ab_water_density(t_c) *
	    (1 - 25e-6 * (t_c - calibrated_c));
}
