/* hygiene.h - what hygiene.c and sanitiser.c hand to each other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_HYGIENE_H
#define AB_PROCESS_HYGIENE_H

#include "process/working.h"

/* The gear to ask, and whether it is the usual one. */
struct kit { struct ab_list gear; bool usual; };

/* What the rules know of a sanitiser; NULL: nothing, or none is told. */
const struct ab_sanitiser_norm *ab_sanitiser_norm_of(const struct ab_norms *norms, int word);
/* What the sanitisers got of what their labels ask for: contact, heat, and the age of the mix. */
void ab_facts_sanitiser(struct ab_work *w, const struct kit *kit);

#endif
