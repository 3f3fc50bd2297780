/* light.h - light through glass, as minutes of full sun in clear glass
 *
 * Minutes x light x glass; over 5 the skunk is likely. All factors are estimates (trust C): a published dose
 * curve was not found, only that clear glass takes half a minute to minutes of sun, that green is little
 * better, and that brown stops what does it (350 to 500 nm: Burns et al. 2001, Chem. Eur. J. 7:4553).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_LIGHT_H
#define AFTERBOIL_LIGHT_H

/* 0, 0.01, 0.1, 1 */
enum ab_light_class { AB_LIGHT_DARK, AB_LIGHT_INDOOR, AB_LIGHT_SHADE, AB_LIGHT_SUN };
/* 1, 0.7, 0.05, 0 */
enum ab_glass_class { AB_GLASS_CLEAR, AB_GLASS_GREEN, AB_GLASS_BROWN, AB_GLASS_OPAQUE };

/* Dose; minutes of 0 or more. */
double ab_light_dose(double minutes, enum ab_light_class light, enum ab_glass_class glass);

#endif
