/* tables_cellar.c - what a journal may hold of the beer in its vessel, and of how kit was cleaned
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/batch_tables.h"

#include <afterboil/journal.h>
#include <afterboil/quantity.h>

/* volume is what it can hold, not what is in it: headspace is told apart, for the air above is what
 * matters. */
const struct ab_attr_spec ab_attrs_vessel[] = {
	AB_A_ID(ab_vessel, "id", id),
	AB_A_WORD(ab_vessel, "kind", kind, ab_words_vessel),
	AB_A_Q(ab_vessel, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_Q(ab_vessel, "volume", volume_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_Q(ab_vessel, "headspace", headspace_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_WORD(ab_vessel, "control", control, ab_words_control),
	AB_A_Q(ab_vessel, "target", target_c, AB_DIM_TEMP, BEER_C),
	AB_A_WORD(ab_vessel, "light", light, ab_words_light),
	AB_A_YESNO(ab_vessel, "sealed", sealed),
	AB_A_YESNO(ab_vessel, "scratched", scratched),
	AB_A_YESNO(ab_vessel, "second", second),
	AB_A_WHEN(ab_vessel, "from", from),
	AB_A_WHEN(ab_vessel, "until", until),
	AB_A_Q(ab_vessel, "room", room_c, AB_DIM_TEMP, ROOM_C),
	/* Of the vessel's whole past, not of this batch: wild cultures survive in scratches. */
	AB_A_YESNO(ab_vessel, "held-sour", held_sour),
	AB_A_YESNO(ab_vessel, "last-spoilt", last_spoilt),
	AB_A_YESNO(ab_vessel, "flies", flies),
	AB_A_YESNO(ab_vessel, "rated", rated),
	AB_A_Q(ab_vessel, "rated-pressure", rated_kpa, AB_DIM_PRESSURE, KPA),
	AB_A_WORD(ab_vessel, "judged", judged, ab_words_warmth),
	AB_A_YESNO(ab_vessel, "swings", swings),
	AB_A_TEXT(ab_vessel, "place", place),
	AB_A_END
};
/* wort and room are two attributes since fermenting beer is warmer than its room by degrees; a reading that
 * does not say which would be worth little. */
const struct ab_attr_spec ab_attrs_reading[] = {
	AB_A_WHEN(ab_reading, "at", at),
	AB_A_Q(ab_reading, "wort", wort_c, AB_DIM_TEMP, WORT_C),
	AB_A_Q(ab_reading, "room", room_c, AB_DIM_TEMP, ROOM_C),
	AB_A_Q(ab_reading, "gravity", gravity_sg, AB_DIM_GRAVITY, SG),
	AB_A_WORD(ab_reading, "instrument", instrument, ab_words_instrument),
	AB_A_Q(ab_reading, "sample", sample_c, AB_DIM_TEMP, WORT_C),
	/* Without it a correction already made would be made twice. */
	AB_A_YESNO(ab_reading, "corrected", corrected),
	AB_A_YESNO(ab_reading, "mixed", mixed),
	AB_A_Q(ab_reading, "ph", ph, AB_DIM_PH, 2, 9),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_log[] = {
	AB_ROW(ab_log, "file", AB_ATTR_TEXT, file, 0, NULL, 0, 0, true),
	/* Zones reach from -12 h to +14 h. */
	AB_A_Q(ab_log, "utc-offset", utc_offset_s, AB_DIM_TIME, -15 * HOUR, 15 * HOUR),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_lag[] = {
	AB_A_Q(ab_lag, "first-signs", first_s, AB_DIM_TIME, 0, 60 * DAY),
	AB_A_YESNO(ab_lag, "restarted", restarted),
	AB_A_YESNO(ab_lag, "stalled", stalled),
	AB_A_YESNO(ab_lag, "roused", roused),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_rest[] = {
	AB_A_WHEN(ab_rest, "at", at),
	AB_A_Q(ab_rest, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	AB_A_Q(ab_rest, "for", for_s, AB_DIM_TIME, SPAN),
	AB_A_END
};
/* Cooling shrinks the gas over the beer, so what the airlock could let in is asked here and not of the
 * vessel. */
const struct ab_attr_spec ab_attrs_crash[] = {
	AB_A_WHEN(ab_crash, "at", at),
	AB_A_Q(ab_crash, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	AB_A_Q(ab_crash, "for", for_s, AB_DIM_TIME, SPAN),
	AB_A_WORD(ab_crash, "airlock", airlock, ab_words_airlock),
	AB_A_YESNO(ab_crash, "sucked-back", sucked),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_fining[] = {
	AB_A_WHEN(ab_fining, "at", at),
	AB_A_TEXT(ab_fining, "name", name),
	AB_A_END
};
/* Gauge pressure, as the valve is set. */
const struct ab_attr_spec ab_attrs_spund[] = {
	AB_A_WHEN(ab_spund, "at", at),
	AB_A_Q(ab_spund, "pressure", pressure_kpa, AB_DIM_PRESSURE, KPA),
	AB_A_WHEN(ab_spund, "until", until),
	AB_A_END
};
/* How they went in matters as much as how many: an opened lid is a dose of oxygen. */
const struct ab_attr_spec ab_attrs_dryhop[] = {
	AB_A_WHEN(ab_dryhop, "at", at),
	AB_A_TEXT(ab_dryhop, "name", name),
	AB_A_Q(ab_dryhop, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_WORD(ab_dryhop, "opened", opened, ab_words_hop_open),
	AB_A_Q(ab_dryhop, "contact", contact_s, AB_DIM_TIME, SPAN),
	AB_A_YESNO(ab_dryhop, "loose", loose),
	AB_A_END
};
/* Each transfer is a chance to take up oxygen and germs, so each has its own row and none is summed up. */
const struct ab_attr_spec ab_attrs_transfer[] = {
	AB_A_WHEN(ab_transfer, "at", at),
	AB_A_ID(ab_transfer, "to", to),
	AB_A_WORD(ab_transfer, "how", how, ab_words_transfer),
	AB_A_WORD(ab_transfer, "target", target, ab_words_target),
	AB_A_YESNO(ab_transfer, "splashed", splashed),
	AB_A_YESNO(ab_transfer, "by-mouth", by_mouth),
	AB_A_Q(ab_transfer, "hose-age", hose_age_s, AB_DIM_TIME, AGE),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_opened[] = {
	AB_A_WHEN(ab_opened, "at", at),
	AB_A_Q(ab_opened, "for", for_s, AB_DIM_TIME, SPAN),
	AB_A_WORD(ab_opened, "vessel", vessel, ab_words_opened),
	AB_A_END
};
/* Dose in three ways, for labels speak in three: mL/L, ppm, and "as the label says". */
const struct ab_attr_spec ab_attrs_gear[] = {
	AB_A_NEED_WORD(ab_gear, "item", item, ab_words_gear),
	AB_A_ID(ab_gear, "id", id),
	AB_A_Q(ab_gear, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_WORD(ab_gear, "cleaned", cleaned, ab_words_agent),
	AB_A_YESNO(ab_gear, "dismantled", dismantled),
	AB_A_YESNO(ab_gear, "soil", soil),
	AB_A_WORD(ab_gear, "sanitiser", sanitiser, ab_words_sanitiser),
	AB_A_Q(ab_gear, "dose", dose_mll, AB_DIM_DOSE, 0, 1000),
	AB_A_Q(ab_gear, "dose-ppm", dose_mgl, AB_DIM_CONC, 0, 1e6),
	/* Up to a hundredfold: overdosing by eye happens. */
	AB_A_Q(ab_gear, "label-share", label_share, AB_DIM_SHARE, 0, 100),
	AB_A_Q(ab_gear, "contact", contact_s, AB_DIM_TIME, SPAN),
	AB_A_Q(ab_gear, "heat", heat_c, AB_DIM_TEMP, 0, 200),
	AB_A_Q(ab_gear, "mixed-age", mixed_age_s, AB_DIM_TIME, SPAN),
	AB_A_WORD(ab_gear, "rinse", rinse, ab_words_rinse),
	AB_A_TEXT(ab_gear, "material", material),
	AB_A_YESNO(ab_gear, "shared-sour", shared_sour),
	AB_A_YESNO(ab_gear, "smells", smells),
	AB_A_YESNO(ab_gear, "rusty", rusty),
	AB_A_YESNO(ab_gear, "for-food", for_food),
	AB_A_YESNO(ab_gear, "scratched", scratched),
	AB_A_END
};
