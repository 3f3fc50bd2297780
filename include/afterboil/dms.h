/* dms.h - S-methylmethionine of the malt becoming DMS, in the boil and after it
 *
 * First order. At the boil half is gone in 35 min at pH 5.36 (Wilson and Booer 1979; 38 min at pH 5.2 and
 * 32.5 min at 5.5, Dickenson 1979; quoted second-hand), and twice the time is needed for every 6 K cooler.
 * Trust B from 70 to 100 C. An open boil drives DMS off; what forms after it stays. Amounts in ug/L of DMS.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_DMS_H
#define AFTERBOIL_DMS_H

#define AB_DMS_PH 5.36   /* of those 35 min; what the two below reckon with */

/* Half-life of S-methylmethionine in minutes at t_c in wort of that pH (measured from 5.2 to 5.5). */
double ab_dms_half_life_min(double t_c, double ph);
/* Half-lives spent while it cools in so many minutes straight from one temperature to a lower one (equal: a
 * stand); minutes of 0 or more. */
double ab_dms_ramp(double from_c, double to_c, double minutes);
/* The same where it cools by itself towards a surrounding, by Newton's law with time constant tau_h (hours, over
 * 0), from one temperature to another (over the surrounding). */
double ab_dms_cooling(double from_c, double to_c, double around_c, double tau_h);
/* Share left, or formed, after so many half-lives. */
double ab_dms_left(double half_lives);

#endif
