/* extract.h - extract and alcohol (Balling), density of water, the hydrometer's temperature
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_EXTRACT_H
#define AB_PROCESS_EXTRACT_H

/* Real extract (deg P) from original and apparent extract. Balling, in ASBC's rounding; trust A; the
 * constants from memory. */
double ab_extract_real(double oe_p, double ae_p);
/* Alcohol, % by weight, and % by volume (20 C, density of ethanol 0.7907), from extracts in deg P and final
 * SG 20/20. Balling: 2.0665 g extract give 1 g ethanol, 0.9565 g CO2 and 0.11 g yeast; trust A; from
 * memory. */
double ab_alcohol_by_weight(double oe_p, double re_p);
double ab_alcohol_by_volume(double og_sg, double fg_sg);
/* Original extract back from alcohol (% w/w) and real extract. */
double ab_extract_original(double abw, double re_p);
/* Apparent attenuation as a share, from two SG 20/20 by way of deg P. */
double ab_attenuation(double og_sg, double fg_sg);

/* Density of air-free water, kg/m3, 0 to 40 C, 1 atm: Tanaka et al. 2001, as CIPM recommends it; trust A;
 * from memory. */
double ab_water_density(double t_c);
/* SG 20/20 from a hydrometer made for calibrated_c that read sg in wort at t_c. Buoyancy with glass of
 * 25e-6/K; 0 to 40 C; trust B: within 0.0003 at 30 C, because wort expands a little more than water. */
double ab_hydrometer_correct(double sg, double t_c, double calibrated_c);

#endif
