/* print_water.c - what extract.c makes of water and hydrometers, for tests/handbook/water.t to compare with another
 * program
 *
 * Lines: "rho TEMP_C KG_M3", and "hydrometer TEMP_C SG": a reading of 1.050 made for 20 C.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include "process/extract.h"

int main(void)
{
	for (int t = 1; t <= 40; t++)
		printf("rho %d %.9f\n", t, ab_water_density(t));
	for (int t = 1; t <= 40; t++)
		printf("hydrometer %d %.9f\n", t, ab_hydrometer_correct(1.050, t, 20));
	return 0;
}
