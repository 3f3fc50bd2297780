/* pitch.h - how many living cells went into the wort
 *
 * Cells in 1e9. All of it is grade C (rule of thumb) but the norm itself; the uncertainties say so.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_PITCH_H
#define AB_PROCESS_PITCH_H

/* rate in 1e6 cells per mL and deg P (ale 0.75, hybrid 1.0, lager 1.5: brewing texts), volume in L: the norm
 * in 1e9 cells. From 16 P on a quarter more (grade C). Trust B. */
double ab_pitch_norm(double rate, double volume_l, double plato);
/* Share alive of a liquid pack or slurry after days in the cold: between 0.2 and 0.7 % a day are reported, so
 * 0.45 % linear; three times as fast at room temperature, six times in the warm (estimate). keep is a word of
 * ab_words_keep, 1 + place, 0 unknown = cold. Not below 0.05. */
double ab_yeast_alive_liquid(double days, int keep);
/* The same for dry yeast: 4 % a year in the cold, 20 % at room temperature, half in the warm (from
 * memory). */
double ab_yeast_alive_dry(double days, int keep);
/* Cells after a starter of volume_l of wort at about 1.037: min(200 V, start + 140 V) stirred, half the
 * growth unstirred (published rule). */
double ab_starter_end(double start, double volume_l, int stirred);

#endif
