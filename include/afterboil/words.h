/* words.h - the words a journal may have where one of a few is asked for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_WORDS_H
#define AFTERBOIL_WORDS_H

/* Word lists, NULL-terminated. The enums, where C needs to name a word, are 1 + the place in the list. */
extern const char *const ab_words_family[];      /* pale-hoppy pale-lager amber-malty dark-roast wheat
						  * belgian-farmhouse sour-mixed strong other */
extern const char *const ab_words_malt[];        /* pale pilsner vienna munich wheat rye oats crystal roasted
						  * smoked acidulated adjunct other */
extern const char *const ab_words_sugar[];       /* sucrose dextrose candi honey lactose maltodextrin
						  * dry-extract other : priming and recipe */
extern const char *const ab_words_extract[];     /* liquid dry hopped-kit */
extern const char *const ab_words_hop_use[];     /* bittering flavour whirlpool dry */
extern const char *const ab_words_hop_keep[];    /* frozen-sealed fridge-sealed opened-cold
						  * opened-warm warm-sealed */
extern const char *const ab_words_crush[];       /* fine normal coarse */
extern const char *const ab_words_water[];       /* tap well softened bottled reverse-osmosis rain blend */
extern const char *const ab_words_treatment[];   /* none sulphite carbon-filter boiled stood
						  * reverse-osmosis */
extern const char *const ab_words_salts[];       /* none weighed by-eye added : added, nobody tells how much */
extern const char *const ab_words_vigour[];      /* weak simmer rolling */
extern const char *const ab_words_lid[];         /* off partly on */
extern const char *const ab_words_chill[];       /* ice-bath coil counterflow plate overnight-closed air
						  * other */
extern const char *const ab_words_trub[];        /* little some most */
extern const char *const ab_words_yeast_form[];  /* dry liquid slurry dregs */
extern const char *const ab_words_keep[];        /* cold room warm : how yeast was kept */
extern const char *const ab_words_aerate[];      /* none pour shake whisk pump oxygen */
extern const char *const ab_words_vessel[];      /* bucket pet glass steel conical keg other */
extern const char *const ab_words_control[];     /* none room water-bath ice-bottles wet-cloth fan heat-belt
						  * fridge chamber glycol */
extern const char *const ab_words_light[];       /* dark indoor window sun */
extern const char *const ab_words_instrument[];  /* hydrometer refractometer float thermometer scale ph-meter
						  * strip */
extern const char *const ab_words_hop_open[];    /* open-lid port dropper purged while-active */
extern const char *const ab_words_opened[];      /* fermenter second bottling-vessel keg */
extern const char *const ab_words_airlock[];     /* airlock blow-off sealed gas-bag open top-pressure */
extern const char *const ab_words_transfer[];    /* siphon tap poured pumped closed */
extern const char *const ab_words_target[];      /* air-filled purged liquid-purged flow-purged */
extern const char *const ab_words_gear[];        /* fermenter lid airlock tap hose siphon spoon funnel chiller
						  * bottles caps wand bottling-bucket keg lines faucet
						  * starter-jar hands other everything */
extern const char *const ab_words_agent[];       /* none water detergent percarbonate caustic scented-soap
						  * bleach : cleaners */
extern const char *const ab_words_sanitiser[];   /* none acid iodine bleach peracetic chlorine-dioxide alcohol
						  * heat boiling steam sulphite other */
extern const char *const ab_words_rinse[];       /* none tap boiled */
extern const char *const ab_words_package[];     /* bottles keg cask cans */
extern const char *const ab_words_fate[];        /* drunk poured-away let-off : enum below */
extern const char *const ab_words_bottle[];      /* longneck reused-longneck heavy swing-top sparkling pet
						  * growler unknown-glass plastic-can mini-keg */
extern const char *const ab_words_kit[];         /* the same, then can keg cask: what rules tell limits of */
extern const char *const ab_words_colour[];      /* brown green clear opaque */
extern const char *const ab_words_cap[];         /* plain oxygen-absorbing swing screw twist-off-reused
						  * cork */
extern const char *const ab_words_mixing[];      /* stirred onto-syrup per-bottle drops unmixed */
extern const char *const ab_words_gas[];         /* set-and-wait shaken burst */
extern const char *const ab_words_keg_gas[];     /* co2 mixed nitrogen */
extern const char *const ab_words_pour[];        /* bottle tap cask can */
extern const char *const ab_words_glass[];       /* rinsed detergent dishwasher greasy unknown */
extern const char *const ab_words_place[];       /* fermenter packaging bottle tap-keg other packaged : where a
						  * tasting's sample came from */
extern const char *const ab_words_behaviour[];   /* growing fading steady */
extern const char *const ab_words_extent[];      /* every-bottle some-bottles tap-only first-pour-only
						  * first-half last-half */
extern const char *const ab_words_surface[];     /* clear foam hop-bits yeast-islands film mould : what floats
						  * on the beer; islands are wet rafts that sink, a film is
						  * a skin, often dry, wrinkled or in big bubbles */
extern const char *const ab_words_enough[];      /* little usual plenty */
extern const char *const ab_words_warmth[];      /* cold right warm */

/* What became of all the bottles; 0: nothing told, they are where they were. */
enum { AB_PLACE_FERMENTER = 1, AB_PLACE_PACKAGING, AB_PLACE_BOTTLE, AB_PLACE_TAP_KEG, AB_PLACE_OTHER,
	AB_PLACE_PACKAGED };
enum { AB_FATE_DRUNK = 1, AB_FATE_POURED_AWAY, AB_FATE_LET_OFF };

#endif
