/* check_facts.c - the table of facts, and what holds for every fact of every journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>
#include "base/alloc.h"
#include "factcase.h"
#include "process/working.h"
#include "process/words.h"

/* A journal that tells much, with a reading for nearly every phenomenon. */
static const char full[] =
    "<recipe volume='20 L' og='1.050 SG' fg='1.011 SG' co2='2.4 vol' bitterness='30 IBU'>"
    "<malt kind='pilsner' amount='4 kg'/>"
    "<sugar kind='sucrose' amount='200 g'/><extract kind='liquid' amount='500 g' age='200 d'/>"
    "<hop use='bittering' name='north' amount='30 g' age='300 d' kept='fridge-sealed'/></recipe>"
    "<mash temp='66 C' time='1 h' crush='normal' sparge-temp='76 C' last-runnings='1.012 SG' runnings-ph='5.6' "
    "cooled-below='60 C' steeped-hot='no'/>"
    "<boil time='60 min' vigour='rolling' lid='off' scorched='no'/><stand time='20 min' temp='85 C' lid='on'/>"
    "<chill method='coil' above-80='5 min' to-pitch='1 h' covered='yes' trub='some' end-temp='19 C'/>"
    "<water source='tap' treatment='none' smells-of-chlorine='yes' top-up='3 L' top-up-boiled='no' "
    "salts='weighed' sulphate='100 mg/L' alkalinity='120 mg/L'"
    " sodium='20 mg/L' iron='0.1 mg/L'/>"
    "<yeast class='clean-ale' form='liquid' packs='1' age='60 d' kept='cold' starter='1 L' stirred='yes' "
    "generation='0' last-spoilt='no' nutrient='yes' judged='usual'/>"
    "<pitch at='2031-03-01T18:00' temp='21 C' clean='yes'/><aerate method='shake' time='60 s'/>"
    "<lag first-signs='20 h' restarted='no' stalled='no' roused='no'/>"
    "<vessel id='a' kind='bucket' age='2 y' control='water-bath' light='indoor' sealed='yes' scratched='no' "
    "flies='no' held-sour='no' last-spoilt='no' room='20 C' judged='right' swings='no'/>"
    "<vessel id='b' kind='glass' second='yes' headspace='2 L' from='+12d'/>"
    "<reading at='+0h' wort='21 C' room='20 C' gravity='1.050 SG' instrument='hydrometer' mixed='yes'/>"
    "<reading at='+1d' wort='22 C' room='20 C'/><reading at='+2d' wort='22.2 C' gravity='1.037 SG' "
    "instrument='hydrometer'/>"
    "<reading at='+3d' wort='21.5 C' room='20 C' gravity='1.022 SG' instrument='hydrometer'/>"
    "<reading at='+5d' wort='20.2 C' room='20 C' gravity='1.013 SG' instrument='hydrometer'/>"
    "<reading at='+9d' wort='20 C' gravity='1.013 SG' instrument='hydrometer'/>"
    "<reading at='+13d' wort='20 C' gravity='1.012 SG' instrument='hydrometer'/>"
    "<reading at='+60d' gravity='1.010 SG' instrument='hydrometer'/>"
    "<instrument item='hydrometer' checked='yes'/><instrument item='thermometer' checked='no'/>"
    "<instrument item='refractometer' checked='no'/>"
    "<rest at='+10d' temp='20 C' for='2 d'/><crash at='+13d' temp='3 C' airlock='airlock' sucked-back='yes'/>"
    "<spund at='+3d' pressure='0.1 bar'/>"
    "<dry-hop at='+7d' amount='60 g' opened='open-lid' loose='yes'/><opened at='+7d' for='2 min'/>"
    "<transfer at='+12d' to='b' how='siphon' target='air-filled' splashed='no' by-mouth='no' hose-age='2 y'/>"
    "<gear item='everything' cleaned='percarbonate' sanitiser='acid' contact='60 s' label-share='100 %' "
    "mixed-age='2 d' rinse='boiled' soil='no' rusty='no' smells='no' for-food='yes'/>"
    "<gear item='tap' dismantled='yes' age='2 y' cleaned='caustic' rinse='boiled' sanitiser='heat' heat='77 C' "
    "contact='20 min'/><gear item='bottles' cleaned='water' sanitiser='acid'/>"
    "<package at='+14d' into='bottles' bottle='longneck' colour='brown' neck='30 mm' cap='plain' "
    "cap-on-foam='no' wand='yes' priming='110 g'"
    " sugar='sucrose' mixing='stirred' volume='19 L' gravity='1.012 SG' filled='air-filled' purges='0' "
    "seal-checked='yes'/>"
    "<carbonate pressure='80 kPa' temp='4 C' method='set-and-wait'/>"
    "<store temp='20 C' for='14 d' light='dark' hottest='26 C'/><store temp='8 C' light='indoor'/>"
    "<serve from='bottle' line-length='3 m' line-bore='4.8 mm' pressure='80 kPa' line-cleaned='30 d' "
    "tower-warm='no' glass='rinsed' sediment-poured='no'/>"
    "<tasting at='2031-04-10' complete='yes' every-batch='no' score='30' score-of='50'>"
    "<found fault='buttery' intensity='3' behaviour='fading' extent='every-bottle'"
    " at-packaging='yes'/></tasting><tasting at='2031-05-10' score='38' score-of='50'>"
    "<found fault='buttery' intensity='1'/></tasting>"
    "<looks airlock-still='no' film='no' surface='clear' neck-ring='no' smell-nearby='no'/>";

static struct ab_arena *arena;
static struct ab_fact facts[AB_F_MAX_];

static void setup(void)
{
	arena = ab_arena_new();
}

static void teardown(void)
{
	ab_arena_free(arena);
}

START_TEST(table_is_sound)
{
	const struct ab_fact_table *table = ab_fact_defs();

	ck_assert_uint_eq(table->n, AB_F_MAX_);
	for (size_t i = 0; i < table->n; i++) {
		const struct ab_fact_def *d = &table->defs[i];
		ck_assert_msg(ab_fact_slot(table, d->name) == (int)i, "%s stands twice", d->name);
		ck_assert_msg(strchr(d->name, '.') != NULL && strspn(d->name,
		  "abcdefghijklmnopqrstuvwxyz0123456789.-") == strlen(d->name), "%s", d->name);
		ck_assert_msg(d->title != NULL && d->title[0] != '\0', "%s has no title", d->name);
		ck_assert_msg(d->asks == NULL || d->asks[strlen(d->asks) - 1] == '?', "%s asks no question", d->name);
		if (d->kind == AB_FACT_NUMBER)
			ck_assert_msg(d->lo < d->hi && d->unit[0] != '\0', "%s", d->name);
		else
			ck_assert_msg(d->unit[0] == '\0', "%s", d->name);
		ck_assert_msg((d->kind == AB_FACT_WORD) == (d->words != NULL), "%s", d->name);
	}
	ck_assert_int_eq(ab_fact_slot(table, "no.such"), -1);
}
END_TEST

START_TEST(words_of_facts)
{
	const struct ab_fact_def *flag = &ab_fact_defs()->defs[AB_F_PITCH_CLEAN],
	  *word = &ab_fact_defs()->defs[AB_F_VESSEL_LIGHT];

	ck_assert_int_eq(ab_fact_word(flag, "yes"), 1);
	ck_assert_int_eq(ab_fact_word(flag, "no"), 0);
	ck_assert_int_eq(ab_fact_word(flag, "perhaps"), -1);
	ck_assert_int_eq(ab_fact_word(word, "dark"), 0);
	ck_assert_int_eq(ab_fact_word(word, "sun"), 3);
	ck_assert_int_eq(ab_fact_word(word, "moon"), -1);
	ck_assert_int_eq(ab_fact_word(&ab_fact_defs()->defs[AB_F_LAG_TIME], "yes"), -1);
}
END_TEST

/* The enums of process/words.h stand for the journal's lists. */
static const struct { const char *const *list; int word; const char *text; } named[] = {
	{ ab_words_malt, AB_MALT_PILSNER, "pilsner" }, { ab_words_malt, AB_MALT_OATS, "oats" },
	{ ab_words_malt, AB_MALT_ACIDULATED, "acidulated" }, { ab_words_malt, AB_MALT_ADJUNCT, "adjunct" },
	{ ab_words_malt, AB_MALT_ROASTED, "roasted" }, { ab_words_malt, AB_MALT_SMOKED, "smoked" },
	 { ab_words_sugar, AB_SUGAR_SUCROSE, "sucrose" },
	{ ab_words_sugar, AB_SUGAR_DEXTROSE, "dextrose" }, { ab_words_sugar, AB_SUGAR_CANDI, "candi" },
	  { ab_words_sugar, AB_SUGAR_HONEY, "honey" },
	{ ab_words_sugar, AB_SUGAR_LACTOSE, "lactose" }, { ab_words_sugar, AB_SUGAR_MALTODEXTRIN, "maltodextrin" },
	{ ab_words_sugar, AB_SUGAR_DRY_EXTRACT, "dry-extract" }, { ab_words_sugar, AB_SUGAR_OTHER, "other" },
	{ ab_words_extract, AB_EXTRACT_LIQUID, "liquid" }, { ab_words_extract, AB_EXTRACT_DRY, "dry" },
	  { ab_words_extract, AB_EXTRACT_KIT, "hopped-kit" },
	{ ab_words_hop_use, AB_HOP_BITTERING, "bittering" },
	{ ab_words_hop_use, AB_HOP_DRY, "dry" }, { ab_words_water, AB_WATER_TAP, "tap" }, { ab_words_water,
	  AB_WATER_WELL, "well" },
	{ ab_words_water, AB_WATER_SOFTENED, "softened" }, { ab_words_water, AB_WATER_BOTTLED, "bottled" },
	{ ab_words_water, AB_WATER_RO, "reverse-osmosis" }, { ab_words_water, AB_WATER_RAIN, "rain" },
	  { ab_words_water, AB_WATER_BLEND, "blend" },
	{ ab_words_treatment, AB_TREAT_NONE, "none" }, { ab_words_treatment, AB_TREAT_SULPHITE, "sulphite" },
	{ ab_words_treatment, AB_TREAT_CARBON, "carbon-filter" }, { ab_words_treatment, AB_TREAT_BOILED, "boiled" },
	{ ab_words_treatment, AB_TREAT_STOOD, "stood" }, { ab_words_treatment, AB_TREAT_RO, "reverse-osmosis" },
	{ ab_words_chill, AB_CHILL_ICE_BATH, "ice-bath" }, { ab_words_chill, AB_CHILL_COIL, "coil" },
	  { ab_words_chill, AB_CHILL_COUNTERFLOW, "counterflow" },
	{ ab_words_chill, AB_CHILL_PLATE, "plate" }, { ab_words_chill, AB_CHILL_OVERNIGHT,
	  "overnight-closed" }, { ab_words_chill, AB_CHILL_AIR, "air" },
	{ ab_words_chill, AB_CHILL_OTHER, "other" }, { ab_words_yeast_form, AB_YEAST_DRY, "dry" },
	  { ab_words_yeast_form, AB_YEAST_LIQUID, "liquid" },
	{ ab_words_yeast_form, AB_YEAST_SLURRY, "slurry" }, { ab_words_yeast_form, AB_YEAST_DREGS, "dregs" },
	  { ab_words_keep, AB_KEEP_COLD, "cold" },
	{ ab_words_keep, AB_KEEP_ROOM, "room" }, { ab_words_keep, AB_KEEP_WARM, "warm" }, { ab_words_control,
	  AB_CONTROL_NONE, "none" },
	{ ab_words_control, AB_CONTROL_ROOM, "room" }, { ab_words_control, AB_CONTROL_WATER_BATH, "water-bath" },
	{ ab_words_control, AB_CONTROL_ICE_BOTTLES, "ice-bottles" }, { ab_words_control, AB_CONTROL_WET_CLOTH,
	  "wet-cloth" },
	{ ab_words_control, AB_CONTROL_FAN, "fan" }, { ab_words_control, AB_CONTROL_HEAT_BELT, "heat-belt" },
	  { ab_words_control, AB_CONTROL_FRIDGE, "fridge" },
	{ ab_words_control, AB_CONTROL_CHAMBER, "chamber" }, { ab_words_control, AB_CONTROL_GLYCOL, "glycol" },
	{ ab_words_instrument, AB_INSTR_HYDROMETER, "hydrometer" }, { ab_words_instrument,
	  AB_INSTR_REFRACTOMETER, "refractometer" },
	{ ab_words_instrument, AB_INSTR_FLOAT, "float" }, { ab_words_instrument, AB_INSTR_THERMOMETER,
	  "thermometer" },
	{ ab_words_aerate, AB_AERATE_NONE, "none" }, { ab_words_aerate, AB_AERATE_POUR, "pour" },
	{ ab_words_aerate, AB_AERATE_SHAKE, "shake" }, { ab_words_aerate, AB_AERATE_WHISK, "whisk" },
	{ ab_words_aerate, AB_AERATE_PUMP, "pump" }, { ab_words_aerate, AB_AERATE_OXYGEN, "oxygen" },
	{ ab_words_vessel, AB_VESSEL_BUCKET, "bucket" }, { ab_words_vessel, AB_VESSEL_PET, "pet" },
	{ ab_words_hop_open, AB_OPEN_LID, "open-lid" }, { ab_words_hop_open, AB_OPEN_PORT, "port" },
	{ ab_words_hop_open, AB_OPEN_DROPPER, "dropper" }, { ab_words_hop_open, AB_OPEN_PURGED, "purged" },
	{ ab_words_hop_open, AB_OPEN_ACTIVE, "while-active" }, { ab_words_hop_open, AB_OPEN_KEG, "in-keg" },
	{ ab_words_airlock, AB_LOCK_AIRLOCK, "airlock" }, { ab_words_airlock, AB_LOCK_BLOW_OFF, "blow-off" },
	{ ab_words_airlock, AB_LOCK_SEALED, "sealed" }, { ab_words_airlock, AB_LOCK_GAS_BAG, "gas-bag" },
	{ ab_words_airlock, AB_LOCK_OPEN, "open" }, { ab_words_airlock, AB_LOCK_PRESSURE, "top-pressure" },
	{ ab_words_transfer, AB_HOW_SIPHON, "siphon" }, { ab_words_transfer, AB_HOW_TAP, "tap" },
	{ ab_words_transfer, AB_HOW_PUMPED, "pumped" }, { ab_words_transfer, AB_HOW_CLOSED, "closed" },
	{ ab_words_target, AB_TARGET_AIR, "air-filled" }, { ab_words_target, AB_TARGET_PURGED, "purged" },
	{ ab_words_target, AB_TARGET_LIQUID, "liquid-purged" }, { ab_words_target, AB_TARGET_FLOW, "flow-purged" },
	{ ab_words_bottle, AB_BOTTLE_LONGNECK, "longneck" },
	{ ab_words_bottle, AB_BOTTLE_REUSED, "reused-longneck" }, { ab_words_bottle, AB_BOTTLE_HEAVY, "heavy" },
	{ ab_words_bottle, AB_BOTTLE_SWING, "swing-top" }, { ab_words_bottle, AB_BOTTLE_SPARKLING, "sparkling" },
	{ ab_words_bottle, AB_BOTTLE_PET, "pet" }, { ab_words_bottle, AB_BOTTLE_GROWLER, "growler" },
	{ ab_words_bottle, AB_BOTTLE_UNKNOWN, "unknown-glass" },
	{ ab_words_bottle, AB_BOTTLE_PLASTIC_CAN, "plastic-can" },
	{ ab_words_bottle, AB_BOTTLE_MINI_KEG, "mini-keg" }, { ab_words_kit, AB_KIT_CAN, "can" },
	{ ab_words_kit, AB_KIT_KEG, "keg" },
	{ ab_words_kit, AB_KIT_CASK, "cask" }, { ab_words_kit, AB_BOTTLE_PET, "pet" },
	{ ab_words_kit, AB_BOTTLE_MINI_KEG, "mini-keg" },
	{ ab_words_cap, AB_CAP_PLAIN, "plain" }, { ab_words_cap, AB_CAP_ABSORBING, "oxygen-absorbing" },
	{ ab_words_cap, AB_CAP_SWING, "swing" }, { ab_words_cap, AB_CAP_SCREW, "screw" },
	{ ab_words_cap, AB_CAP_TWIST, "twist-off-reused" }, { ab_words_cap, AB_CAP_CORK, "cork" },
	{ ab_words_transfer, AB_HOW_POURED, "poured" }, { ab_words_gear, AB_GEAR_FERMENTER, "fermenter" },
	  { ab_words_gear, AB_GEAR_AIRLOCK, "airlock" },
	{ ab_words_gear, AB_GEAR_TAP, "tap" }, { ab_words_gear, AB_GEAR_HOSE, "hose" }, { ab_words_gear,
	  AB_GEAR_SIPHON, "siphon" },
	{ ab_words_gear, AB_GEAR_CHILLER, "chiller" }, { ab_words_gear, AB_GEAR_BOTTLES, "bottles" },
	  { ab_words_gear, AB_GEAR_WAND, "wand" },
	{ ab_words_gear, AB_GEAR_BOTTLING_BUCKET, "bottling-bucket" }, { ab_words_gear, AB_GEAR_LINES,
	  "lines" }, { ab_words_gear, AB_GEAR_OTHER, "other" },
	{ ab_words_gear, AB_GEAR_KETTLE, "kettle" }, { ab_words_agent, AB_AGENT_OTHER, "other" },
	  { ab_words_gear, AB_GEAR_ALL, "everything" },
	{ ab_words_light, AB_LIT_DARK, "dark" },
	{ ab_words_opened, AB_OPENED_FERMENTER, "fermenter" },
	{ ab_words_opened, AB_OPENED_BOTTLING, "bottling-vessel" }, { ab_words_opened, AB_OPENED_KEG, "keg" },
	{ ab_words_agent, AB_AGENT_NONE, "none" }, { ab_words_agent, AB_AGENT_PERCARBONATE, "percarbonate" },
	  { ab_words_agent, AB_AGENT_CAUSTIC, "caustic" },
	{ ab_words_agent, AB_AGENT_SCENTED, "scented-soap" }, { ab_words_agent, AB_AGENT_BLEACH, "bleach" },
	  { ab_words_sanitiser, AB_SANI_NONE, "none" },
	{ ab_words_sanitiser, AB_SANI_BLEACH, "bleach" }, { ab_words_rinse, AB_RINSE_TAP, "tap" },
	  { ab_words_package, AB_PACK_BOTTLES, "bottles" },
	{ ab_words_fate, AB_FATE_DRUNK, "drunk" }, { ab_words_fate, AB_FATE_POURED_AWAY, "poured-away" },
	  { ab_words_fate, AB_FATE_LET_OFF, "let-off" },
	{ ab_words_package, AB_PACK_KEG, "keg" }, { ab_words_package, AB_PACK_CASK, "cask" },
	  { ab_words_package, AB_PACK_CANS, "cans" },
	{ ab_words_pour, AB_POUR_BOTTLE, "bottle" }, { ab_words_pour, AB_POUR_TAP, "tap" }, { ab_words_pour,
	  AB_POUR_CASK, "cask" },
	{ ab_words_pour, AB_POUR_CAN, "can" }, { ab_words_place, AB_PLACE_FERMENTER, "fermenter" },
	  { ab_words_place, AB_PLACE_PACKAGING, "packaging" },
	{ ab_words_behaviour, AB_BEHAVE_GROWING, "growing" }, { ab_words_behaviour, AB_BEHAVE_FADING, "fading" },
	{ ab_words_behaviour, AB_BEHAVE_STEADY, "steady" }, { ab_words_extent, AB_EXTENT_EVERY,
	  "every-bottle" }, { ab_words_extent, AB_EXTENT_SOME, "some-bottles" },
	{ ab_words_extent, AB_EXTENT_TAP, "tap-only" }, { ab_words_extent, AB_EXTENT_FIRST_POUR, "first-pour-only" },
	{ ab_words_extent, AB_EXTENT_FIRST_HALF, "first-half" }, { ab_words_extent, AB_EXTENT_LAST_HALF,
	  "last-half" },
	/* "worst first" and "worst last" lists that AB_TAKE_SMALLEST and AB_TAKE_LARGEST lean on */
	{ ab_words_target, 1, "air-filled" }, { ab_words_hop_open, 1, "open-lid" }, { ab_words_light, 4,
	  "sun" }, { ab_words_hop_keep, 4, "opened-warm" }, { ab_words_hop_keep, 5, "warm-sealed" },
	{ ab_words_aerate, 6, "oxygen" }, { ab_words_lid, 3, "on" },
};

START_TEST(words_stand_for_lists)
{
	ck_assert_str_eq(named[_i].list[named[_i].word - 1], named[_i].text);
}
END_TEST

START_TEST(silence_is_unknown)
{
	fact_compute("", NULL, arena, facts);
	for (size_t i = 0; i < AB_F_MAX_; i++)
		ck_assert_msg(!AB_FACT_KNOWN(&facts[i]), "%s is known from nothing: %g",
		  ab_fact_defs()->defs[i].name, facts[i].value);
}
END_TEST

/* A profile without a batch's facts makes facts of habit only: none may claim to be measured. */
START_TEST(habits_are_never_measured)
{
	char profile[sizeof full + 64];
	const char *cut = strstr(full, "<mash"), *end = strstr(full, "<yeast");

	snprintf(profile, sizeof profile, "<usual>%.*s</usual>", (int)(end - cut), cut);
	fact_compute("", profile, arena, facts);
	size_t known = 0;
	for (size_t i = 0; i < AB_F_MAX_; i++) {
		const char *name = ab_fact_defs()->defs[i].name;
		if (!AB_FACT_KNOWN(&facts[i]))
			continue;
		known++;
		/* assumed: how much top-up is in a batch of unknown size */
		bool assumed = strcmp(name, "water.unboiled-share") == 0 || strcmp(name, "water.top-up-share") == 0;
		ck_assert_msg(facts[i].origin == (assumed ? AB_ORIGIN_ASSUMED : AB_ORIGIN_USUAL), "%s: origin %d",
		    name, (int)facts[i].origin);
		ck_assert_msg(facts[i].lines[0] == 0, "%s: a line of another file", name);
	}
	ck_assert_uint_ge(known, 20);
}
END_TEST

/* Facts that the full journal cannot show, each with why; all others must be known, well formed, in range, with
 * lines and, when derived from several things, a working. */
static const int silent[] = {
	AB_F_RECIPE_FAMILY,          /* an attribute of <batch> itself */
	AB_F_KEG_CO2, AB_F_KEG_TO_COME, AB_F_KEG_GAS, AB_F_KEG_WARM, AB_F_SERVE_GAS_OVER, /* it is in bottles */
	AB_F_TASTE_PART,             /* every bottle has it */
	AB_F_TASTE_ONE_PACKAGE,      /* bottles only */
	AB_F_TASTE_SOUND_DAYS,       /* the first glass had it */
	AB_F_HOPS_FALL_RESTED,       /* the gravity had not stood before the hops */
	AB_F_TASTE_SINCE_HOPS,       /* nobody tasted before the hops */
};

START_TEST(all_facts_of_a_full_journal)
{
	fact_compute(full, NULL, arena, facts);
	for (size_t i = 0; i < AB_F_MAX_; i++) {
		const struct ab_fact_def *d = &ab_fact_defs()->defs[i];
		const struct ab_fact *f = &facts[i];
		bool expected = true;
		for (size_t k = 0; k < sizeof silent / sizeof *silent; k++)
			expected = expected && silent[k] != (int)i;
		ck_assert_msg(AB_FACT_KNOWN(f) == expected, "%s %s", d->name, expected ? "is unknown" : "is known");
		if (!expected)
			continue;
		ck_assert_msg(isfinite(f->value) && isfinite(f->u) && f->u >= 0, "%s: %g +- %g", d->name,
		  f->value, f->u);
		ck_assert_msg(f->lines[0] == 1, "%s rests on no line", d->name);
		ck_assert_msg(f->grade == 0 || f->grade == 'A' || f->grade == 'B' || f->grade == 'C', "%s", d->name);
		if (d->kind == AB_FACT_NUMBER)
			ck_assert_msg(f->value >= d->lo && f->value <= d->hi, "%s: %g is beyond %g to %g",
			  d->name, f->value, d->lo, d->hi);
		else
			ck_assert_msg(f->value >= 0 && f->u <= 0, "%s: %g +- %g", d->name, f->value, f->u);
		if (f->grade == 'C' && d->kind == AB_FACT_NUMBER)
			ck_assert_msg(f->working != NULL, "%s: a rule of thumb must show its working", d->name);
		ck_assert_msg(f->working == NULL || strchr(f->working, '%') == NULL || strstr(f->working,
		  " % ") != NULL || strstr(f->working, " %, ") != NULL,
		    "%s: %s", d->name, f->working);
	}
}
END_TEST

START_TEST(lines_are_those_of_the_journal)
{
	fact_compute(
	    "<mash temp='66 C'/>\n<boil time='1 h'/>\n\n<yeast class='clean-ale'/>"
	    "\n<pitch at='2031-03-01T18:00' temp='25 C'/>",
	    NULL, arena, facts);
	ck_assert_int_eq(facts[AB_F_MASH_TEMP].lines[0], 1);
	ck_assert_int_eq(facts[AB_F_BOIL_TIME].lines[0], 2);
	ck_assert_int_eq(facts[AB_F_PITCH_TEMP_OVER].lines[0], 5);
	ck_assert_int_eq(facts[AB_F_PITCH_TEMP_OVER].lines[1], 4);
	ck_assert_int_eq(facts[AB_F_PITCH_TEMP_OVER].lines[2], 0);
}
END_TEST

/* Odd journals, all of them accepted by the reader: no fact may come out as anything but a number. */
static const char *const odd[] = {
	"<recipe volume='0.1 L' og='1.000 SG' fg='1.000 SG'/><yeast class='clean-ale' form='dry' amount='11 g'/>",
	"<yeast class='clean-ale'/><reading at='+0h' gravity='1.000 SG'/><reading at='+9d' gravity='1.000 SG'/>",
	"<yeast class='clean-ale'/><reading at='+0h' gravity='1.010 SG'/><reading at='+9d' gravity='1.050 SG'/>",
	"<package at='2031-03-02' into='bottles' bottle='longneck' priming='1 g' volume='0.1 L'/>"
	"<store for='0 d' temp='50 C'/>",
	"<store from='2031-04-10' until='2031-04-10' temp='20 C'/><tasting at='2031-03-02'/>",
	"<package at='+2d'/><tasting at='+1d'><found fault='sour'/></tasting><tasting>"
	"<found fault='sour' intensity='5'/></tasting>",
	"<yeast class='lager' form='liquid' packs='0' age='0 d' starter='0 L'/><recipe volume='20 L' og='12 P'/>",
	"<yeast class='clean-ale'/><reading at='+0h' wort='20 C'/><reading at='+0h' wort='25 C'/>"
	"<reading at='+0h' wort='30 C'/>",
	"<yeast class='clean-ale'/><reading wort='20 C' gravity='1.020 SG'/><crash/><rest/><dry-hop/><opened/>"
	"<transfer/><vessel/><looks/>",
	"<serve line-length='0.1 m' line-bore='40 mm' pressure='0.1 kPa'/>"
	"<carbonate pressure='0 kPa' temp='0 C'/><package into='keg'/>",
	"<recipe/><mash/><water/><boil/><stand/><chill/><lag/><package/><carbonate/><serve/>",
	"<recipe volume='20 L'><malt/><sugar/><extract/><hop/><extra/></recipe><gear item='other'/>"
	"<instrument item='float'/>",
};

START_TEST(odd_journals)
{
	fact_compute(odd[_i], NULL, arena, facts);
	for (size_t i = 0; i < AB_F_MAX_; i++) {
		const struct ab_fact_def *d = &ab_fact_defs()->defs[i];
		if (!AB_FACT_KNOWN(&facts[i]))
			continue;
		ck_assert_msg(isfinite(facts[i].value) && isfinite(facts[i].u) && facts[i].u >= 0,
		    "%s of %s: %g +- %g", d->name, odd[_i], facts[i].value, facts[i].u);
		ck_assert_msg(d->kind != AB_FACT_FLAG || facts[i].value <= 0 || facts[i].value >= 1, "%s of %s: %g",
		    d->name, odd[_i], facts[i].value);
	}
}
END_TEST

/* One element a line. */
static const char lined[] =
    "<recipe volume='20 L' fg='1.010 SG'/>\n<yeast class='clean-ale'/>\n<pitch at='2031-03-01T18:00' temp='21 C'/>\n"
    "<reading at='+0h' gravity='1.050 SG' wort='20 C'/>\n<reading at='+9d' gravity='1.014 SG' wort='20 C'/>\n"
    "<dry-hop at='+5d' amount='60 g'/>\n<crash at='+8d'/>\n<package at='+10d' into='bottles' priming='100 g' "
    "sugar='sucrose'/>\n"
    "<store for='14 d' temp='20 C'/>\n<store for='14 d' temp='10 C'/>\n<tasting at='2031-04-10'>"
    "<found fault='sour' intensity='1'/></tasting>\n"
    "<tasting at='2031-05-10'><found fault='sour' intensity='3'/>"
    "</tasting>\n<gear item='hose' sanitiser='acid' contact='30 s'/>\n"
    "<gear item='tap' sanitiser='none' age='1 y'/>\n<opened/>";

static const struct { int slot; long lines[AB_FACT_LINES]; } rests_on[] = {
	{ AB_F_GRAVITY_OG, { 4 } }, { AB_F_GRAVITY_LAST, { 5 } }, { AB_F_GRAVITY_ATTENUATION, { 5, 4 } },
	  { AB_F_GRAVITY_OVER_EXPECTED, { 5, 1 } },
	{ AB_F_GRAVITY_READINGS, { 4, 5 } }, { AB_F_FERMENT_ON_YEAST, { 8, 3 } }, { AB_F_FERMENT_DAYS, { 8,
	  3 } }, { AB_F_FERMENT_DAYS_SHORT, { 8, 3, 2 } },
	{ AB_F_HOPS_DRY_LOAD, { 1, 6 } }, { AB_F_HOPS_DRY_CONTACT, { 6 } }, { AB_F_HOPS_DRY_TO_PACKAGE, { 6,
	  8 } }, { AB_F_PACK_PRIMING, { 8, 1 } },
	{ AB_F_PACK_CO2, { 8, 1, 5, 6 } }, { AB_F_PACK_PRESSURE, { 9, 8, 1, 5, 6 } },
	{ AB_F_HOPS_CREEP, { 1, 6, 8 } }, { AB_F_STORE_DAYS, { 8, 11,
	  12 } }, { AB_F_STORE_EQUIVALENT, { 9, 10 } },
	{ AB_F_TASTE_AGE, { 12, 3, 8 } }, { AB_F_TASTE_GROWING, { 12, 11 } }, { AB_F_SANITISE_CONTACT,
	  { 13 } }, { AB_F_SANITISE_MISSED, { 14 } },
	{ AB_F_GEAR_SOFT_AGE, { 14 } }, { AB_F_VESSEL_OPEN, { 15 } }, { AB_F_PITCH_TEMP_OVER, { 3, 2 } },
	  { AB_F_YEAST_LAGER, { 2 } },
};

START_TEST(rests_on_its_lines)
{
	const char *name = ab_fact_defs()->defs[rests_on[_i].slot].name;

	fact_compute(lined, NULL, arena, facts);
	ck_assert_msg(AB_FACT_KNOWN(&facts[rests_on[_i].slot]), "%s is unknown", name);
	for (size_t k = 0; k < AB_FACT_LINES; k++)
		ck_assert_msg(facts[rests_on[_i].slot].lines[k] == rests_on[_i].lines[k],
		  "%s: line %ld at place %d, not %ld", name,
		    facts[rests_on[_i].slot].lines[k], (int)k, rests_on[_i].lines[k]);
}
END_TEST

START_TEST(a_guess_is_passed_on)
{
	fact_compute("<recipe volume='20 L'/><package priming='120 g' sugar='sucrose' into='bottles' guess='yes'/>",
	    NULL, arena, facts);
	ck_assert(facts[AB_F_PACK_INTO].guess);
	ck_assert(facts[AB_F_PACK_PRIMING].guess);
	ck_assert(facts[AB_F_PACK_CO2].guess);
	ck_assert(facts[AB_F_PACK_PRESSURE].guess);
	fact_compute("<recipe volume='20 L'/><package priming='120 g' sugar='sucrose' into='bottles'/>", NULL,
	  arena, facts);
	ck_assert(!facts[AB_F_PACK_PRESSURE].guess);
}
END_TEST

/* ---- a rough figure among exact ones ---- */

/* Of the full journal all figures with a unit, one by one; false behind the last. from and to: the digits. */
static bool next_figure(const char **at, const char **from, const char **to)
{
	for (const char *c = *at; (c = strstr(c, "='")) != NULL;) {
		c += 2;
		size_t n = strspn(c, "0123456789.");
		if (n == 0 || c[n] != ' ')
			continue;
		*from = c;
		*to = *at = c + n;
		return true;
	}
	return false;
}

static const char *with(char *text, const char *from, const char *to, const char *in_place)
{
	snprintf(text, sizeof full + 128, "%.*s%s%s", (int)(from - full), full, in_place, to);
	return text;
}

/* A little more of it: in the last digits of a gravity, a degree or a twentieth else. */
static const char *moved(char *figure, const char *from, const char *to)
{
	double v = strtod(from, NULL);
	bool gravity = strncmp(to, " SG", 3) == 0, warmth = strncmp(to, " C", 2) == 0;

	sprintf(figure, "%.4f", gravity ? v + 0.0004 : warmth ? v + 0.4 : v * 1.02);
	return figure;
}

/* Does the fact move by more than a tenth of its own uncertainty? */
static bool moves(const struct ab_fact *from, const struct ab_fact *to)
{
	double by = fabs(from->value - to->value), u = from->u;

	return AB_FACT_KNOWN(from) && AB_FACT_KNOWN(to) && by > fmax(0.1 * u, 1e-9 * fmax(1, fabs(from->value)));
}

/* A gravity also tells when the beer was done, and so which days count: not a figure in the sum of them. */
static bool only_times(const char *unit, const char *fact)
{
	return strncmp(unit, " SG", 3) == 0 && strncmp(fact, "gravity.", 8) != 0 && strncmp(fact, "pack.", 5) != 0;
}

/* Whatever moves with a figure is a guess when the figure is one: no fact forgets what it is reckoned from. Flags and
 * words only say on which side of a limit it is. */
START_TEST(rough_figures_are_passed_on)
{
	static char text[sizeof full + 128];
	static struct ab_fact exact[AB_F_MAX_];
	char figure[64], rough[80];
	const char *at = full, *from, *to;
	int figures = 0, moved_facts = 0;

	fact_compute(full, NULL, arena, exact);
	while (next_figure(&at, &from, &to)) {
		figures++;
		snprintf(rough, sizeof rough, "about %s", moved(figure, from, to));
		fact_compute(with(text, from, to, rough), NULL, arena, facts);
		for (int f = 0; f < AB_F_MAX_; f++) {
			const struct ab_fact_def *def = &ab_fact_defs()->defs[f];
			if (def->kind != AB_FACT_NUMBER || !moves(&exact[f], &facts[f]) || only_times(to, def->name))
				continue;
			moved_facts++;
			ck_assert_msg(facts[f].guess, "%s is no guess, \"%s%.20s\" is", def->name, rough, to);
		}
	}
	ck_assert_msg(figures > 60 && moved_facts > 60, "%d figures, %d facts", figures, moved_facts);
}
END_TEST

/* The volume is a guess, and so is what is reckoned with it; what stands beside it is not. */
START_TEST(what_stands_beside_stays_exact)
{
	static const int rough[] = { AB_F_PACK_PRIMING, AB_F_PACK_CO2 };
	static const int exact[] = { AB_F_PACK_INTO, AB_F_PACK_NECK, AB_F_GRAVITY_LAST, AB_F_FERMENT_DAYS };

	fact_compute("<package at='+14d' priming='120 g' sugar='sucrose' into='bottles' volume='about 19 L' "
		     "neck='30 mm' gravity='1.010 SG'/>", NULL, arena, facts);
	for (size_t i = 0; i < sizeof rough / sizeof *rough; i++)
		ck_assert_msg(facts[rough[i]].guess, "%s", ab_fact_defs()->defs[rough[i]].name);
	for (size_t i = 0; i < sizeof exact / sizeof *exact; i++)
		ck_assert_msg(AB_FACT_KNOWN(&facts[exact[i]]) && !facts[exact[i]].guess, "%s",
		    ab_fact_defs()->defs[exact[i]].name);
}
END_TEST

/* A side told is no guess of the figure itself; what is reckoned from it is, and both say so. */
START_TEST(a_bound_says_what_it_was_taken_for)
{
	fact_compute("<package neck='more than 40 mm' into='bottles'/>"
		     "<store for='more than 3 wk' temp='20 C'/><tasting/>", NULL, arena, facts);
	const struct ab_fact *neck = &facts[AB_F_PACK_NECK], *days = &facts[AB_F_STORE_DAYS];
	ck_assert(!neck->guess && fabs(neck->value - 50) < 1e-9 && fabs(neck->u - 10) < 1e-9);
	ck_assert_str_eq(neck->working, "more than 40.0 mm is told: taken as 50.0 (estimate)");
	ck_assert(days->guess && fabs(days->value - 26.25) < 1e-9);
	/* a day of counting, and what lies beyond the three weeks */
	ck_assert(fabs(days->u - hypot(1, 5.25)) < 1e-9);
	ck_assert_str_eq(days->working, "the stays told, added up; a figure is told as \"more\" or \"less than\", "
	    "how far beyond is an estimate");
}
END_TEST

/* What may hurt is reckoned from the bound itself: it may have been so much. Sugar, volume, gravity, heat. */
static const struct { const char *side, *bound; } harmless[] = {
#define BOTTLED(priming, volume, gravity, temp) \
	"<recipe og='1.050 SG' fg='1.010 SG'/><pitch/><package at='+14d' into='bottles' priming='" priming "' " \
	"sugar='sucrose' volume='" volume "' gravity='" gravity "'/><store temp='" temp "'/>"
	{ BOTTLED("under 150 g", "20 L", "1.012 SG", "20 C"), BOTTLED("150 g", "20 L", "1.012 SG", "20 C") },
	{ BOTTLED("150 g", "over 20 L", "1.012 SG", "20 C"), BOTTLED("150 g", "20 L", "1.012 SG", "20 C") },
	{ BOTTLED("150 g", "20 L", "below 1.012 SG", "20 C"), BOTTLED("150 g", "20 L", "1.012 SG", "20 C") },
	{ BOTTLED("150 g", "20 L", "1.012 SG", "under 20 C"), BOTTLED("150 g", "20 L", "1.012 SG", "20 C") },
};

START_TEST(bottles_are_reckoned_from_the_bound)
{
	fact_compute(harmless[_i].bound, NULL, arena, facts);
	double kpa = facts[AB_F_PACK_PRESSURE].value, u = facts[AB_F_PACK_PRESSURE].u;
	fact_compute(harmless[_i].side, NULL, arena, facts);
	ck_assert_msg(kpa > 100 && fabs(facts[AB_F_PACK_PRESSURE].value - kpa) < 1e-6 * kpa, "%s: %g, not %g",
	    harmless[_i].side, facts[AB_F_PACK_PRESSURE].value, kpa);
	ck_assert_msg(facts[AB_F_PACK_PRESSURE].u >= u - 1e-9, "%s", harmless[_i].side);
}
END_TEST

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void) diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

/* Every allocation fails once: the status says so, nothing crashes, and the sanitizers watch. */
START_TEST(short_of_memory)
{
	char text[sizeof full + 128] = "<batch xmlns=\"urn:afterboil:journal:1\" id=\"t\" brewed=\"2031-03-01\">";
	struct ab_batch *batch = NULL;
	struct ab_diag diag;
	enum ab_status st = AB_ENOMEM;
	long failed = 0;

	strcat(strcat(text, full), "</batch>");
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_journal_read_memory(text, strlen(text), "t", NULL, arena, keep, &batch, &diag), AB_OK);
	for (long k = 0; st != AB_OK && k < 1000; k++) {
		struct ab_arena *own = ab_arena_new();
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_facts_compute(batch, NULL, &fact_norms, own, facts, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_int_eq(st, diag.status);
		failed += st == AB_ENOMEM;
		ab_arena_free(own);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(failed, 0);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("facts");
	TCase *tc = tcase_create("facts");
	SRunner *sr;

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, table_is_sound);
	tcase_add_test(tc, words_of_facts);
	tcase_add_loop_test(tc, words_stand_for_lists, 0, sizeof named / sizeof *named);
	tcase_add_test(tc, silence_is_unknown);
	tcase_add_test(tc, habits_are_never_measured);
	tcase_add_test(tc, all_facts_of_a_full_journal);
	tcase_add_test(tc, lines_are_those_of_the_journal);
	tcase_add_loop_test(tc, rests_on_its_lines, 0, sizeof rests_on / sizeof *rests_on);
	tcase_add_loop_test(tc, odd_journals, 0, sizeof odd / sizeof *odd);
	tcase_add_test(tc, a_guess_is_passed_on);
	tcase_add_test(tc, rough_figures_are_passed_on);
	tcase_add_test(tc, what_stands_beside_stays_exact);
	tcase_add_test(tc, a_bound_says_what_it_was_taken_for);
	tcase_add_loop_test(tc, bottles_are_reckoned_from_the_bound, 0, sizeof harmless / sizeof *harmless);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
