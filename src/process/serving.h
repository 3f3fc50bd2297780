/* serving.h - the length of line that balances a keg
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_SERVING_H
#define AB_PROCESS_SERVING_H

/* Resistance of vinyl beer line, psi per foot, by its bore in mm at about 1 US gal/min: 3.0 at 3/16 in,
 * 0.85 at 1/4 in (draught quality manual of the US brewers' association, 2nd ed.), 0.40 at 5/16 and 0.165 at
 * 3/8 in (from memory); a straight line in the logarithms between. Grade C: at the slow pour of a home tap it
 * is less. */
double ab_line_resistance(double bore_mm);
/* Feet of line that take up psi, less 0.5 psi a foot of rise. */
double ab_line_balance_ft(double psi, double rise_ft, double psi_per_ft);

#endif
