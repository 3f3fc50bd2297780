/* carbonation.h - what priming.c and kegs.c share: the gas a beer held, the gas that what ferments yet will make, and
 * that of a cylinder
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_CARBONATION_H
#define AB_PROCESS_CARBONATION_H

#include "process/working.h"

/* Where what ferments yet makes more gas than ordinary beers hold (2.2 to 2.8 volumes, as in the rules), by what the
 * reckoning may be out besides (estimate), it is told though nobody tells of the rest. */
#define AB_TELLING_VOL 3.0

/* What the beer held before any sugar or gas from a cylinder, and the warmest it was since it fermented. */
struct ab_held_gas { double vol, u, warmest_c; };
struct ab_held_gas ab_find_held(struct ab_work *w, struct ab_basis *basis);

/* What will ferment in the package yet, and the gas of it. lost: as measured there; creep: hops' enzymes free more of
 * it; cold: it stands too cold for its yeast (kegs.c). */
struct ab_to_come { double points, vol, u; bool lost, creep, cold; };
struct ab_to_come ab_find_to_come(const struct ab_work *w, struct ab_basis *basis);
/* Endings of a working. */
const char *ab_by_creep(const struct ab_to_come *more);
const char *ab_by_pressure(const struct ab_work *w);

/* Gas the beer took up in a keg, whose record a bottled batch may bear as well: filled from a keg, or a part of it
 * kegged. full: at equilibrium; held: before; share: of the way between, in so many days. */
struct ab_taken { bool known, hurried; double vol, u, kpa, temp_c, full, held, share, days; };
struct ab_taken ab_find_taken(struct ab_work *w, bool bottled, struct ab_basis *basis);
/* pack.co2-expected of bottles filled from such a keg, and of a keg; what a keg's pressure is reckoned from, in
 * w->keg. */
void ab_set_bottled_from_keg(struct ab_work *w, const struct ab_taken *keg, struct ab_basis *basis);
void ab_set_keg_gas(struct ab_work *w, const struct ab_taken *keg, const struct ab_basis *basis);
/* That of what is primed (keg NULL: without gas from a cylinder). */
void ab_set_primed(struct ab_work *w, const struct ab_taken *keg);

#endif
