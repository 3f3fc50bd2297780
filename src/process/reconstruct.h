/* reconstruct.h - the beer's temperature where nobody measured it, from its room and its own heat
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_RECONSTRUCT_H
#define AB_PROCESS_RECONSTRUCT_H

#include "process/working.h"

/* Fills w->level and w->heat from the room; early_h and end_h end the first days and the fermentation. */
void ab_reconstruct(struct ab_work *w, const struct ab_told *room, int control, double early_h, double end_h);
/* Facts of the vessel's heat: the rise over the room, and its UA where beer and room were both logged. */
void ab_set_heat(struct ab_work *w, const struct ab_told *room, int control, double end_h);

#endif
