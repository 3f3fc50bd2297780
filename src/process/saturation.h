/* saturation.h - oxygen before fermentation: how much wort can hold, what aeration gives, what yeast wants
 *
 * mg/L. Numbers in, numbers out: to ask "what if", call with other numbers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_SATURATION_H
#define AB_PROCESS_SATURATION_H

#include <stdbool.h>

/* Oxygen in fresh water under moist air at a pressure in atm: Benson and Krause 1984, in the form of the US
 * Geological Survey and of Standard Methods. 0 to 40 C (held at the ends), trust A. */
double ab_oxygen_in_water(double t_c, double atm);
/* Pressure in atm at so many metres above the sea: the US Standard Atmosphere 1976 below 11 km; trust A, the
 * weather apart (+-2 %). */
double ab_pressure_at(double altitude_m);
/* What is left of water's share in wort of so many degrees Plato: exp(-0.0202 P), from the pair 8.9 and 6.6
 * mg/L at 20 C and 15 P of the Oxford Companion to Beer 2012. Trust B, +-10 %; 0 to 25 P. */
double ab_oxygen_wort_share(double plato);

/* What a method (word of ab_words_aerate, 1 + place) gives in minutes (NAN = the time it was measured with):
 * pour 4, shake or whisk 40 s 8, pump and stone 5 min 8, oxygen and stone 60 s 12 mg/L (yeast makers' meter
 * tests); none under 4, taken as 2 (from memory). Less time falls off exponentially for air and in proportion
 * for oxygen (estimate). Air never gives more than saturation, oxygen not more than 25. Trust C. */
double ab_oxygen_aerated(int method, double minutes, double saturation);
/* What a yeast wants: 8 up to 12 P, 10 at 16 P, 15 from 24 P on (makers and MBAA: 8 to 10, strong 10 to 15),
 * a fifth more for lagers (estimate); dry yeast in its first pitch brings its own reserves: a quarter of that
 * (makers' advice, from memory). Trust C. */
double ab_oxygen_wanted(double plato, bool lager, bool dry_first);

#endif
