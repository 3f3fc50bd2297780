/* slots.h - the places of the facts in their table, as an enum: AB_F_LAG_TIME is "lag.time"
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_SLOTS_H
#define AB_PROCESS_SLOTS_H

#include "process/fact_list.h"

#define AB_SLOT_N(id, name, unit, lo, hi, title, asks, minutes) AB_F_##id,
#define AB_SLOT_F(id, name, title, asks, minutes) AB_F_##id,
#define AB_SLOT_W(id, name, words, title, asks, minutes) AB_F_##id,
enum ab_slot { AB_FACT_LIST(AB_SLOT_N, AB_SLOT_F, AB_SLOT_W) AB_F_MAX_ };

#endif
