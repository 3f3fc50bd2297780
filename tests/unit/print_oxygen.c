/* print_oxygen.c - what saturation.c makes of temperatures and altitudes, for tests/handbook/saturation.t to
 * compare with other programs
 *
 * Lines: "o2 TEMP_C MG_L" at 1 atm, and "atm ALTITUDE_M ATM".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include "process/saturation.h"

int main(void)
{
	for (int t = 0; t <= 40; t++)
		printf("o2 %d %.9f\n", t, ab_oxygen_in_water(t, 1));
	for (int m = 0; m <= 4000; m += 250)
		printf("atm %d %.9f\n", m, ab_pressure_at(m));
	return 0;
}
