/* dryhop.h - hop creep: what the enzymes of dry hops may still let ferment
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_DRYHOP_H
#define AB_PROCESS_DRYHOP_H

struct ab_work;

/* Hours from pitching to the last dated dry hop; -infinity when none is dated. */
double ab_last_dry_hop_h(const struct ab_work *w);

/* Gravity points still to come in the package, after a dry hop of so many g per L, so many days in contact at
 * t_c and so many days before packaging. 0 to 3; the formula, its sources and its range (none to three times
 * the value) are told in dryhop.c. Trust C. */
double ab_hop_creep(double load_gl, double contact_d, double to_package_d, double t_c);

#endif
