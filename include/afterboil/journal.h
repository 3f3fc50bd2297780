/* journal.h - the batch journal: one brew, as the brewer wrote it down
 *
 * A journal is an XML file, namespace urn:afterboil:journal:1, root <batch>, or many in <batches>. The schema for editors is
 * rules/journal.rng; the reader here checks the same while it streams, with better messages. Elements stand in any order and,
 * unless said otherwise, any number of times. Everything but the id and the brew date may be missing. Missing means unknown.
 * guess="yes" is allowed on every element but <batch> and weighs less later.
 *
 * Units of the struct members are those in their names, kept as quantity.h says. A struct ab_num with known == false was not told;
 * an int of a word list is 0 when not told, else 1 + its place in the list named beside it; a yes/no is enum ab_yesno.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_JOURNAL_H
#define AFTERBOIL_JOURNAL_H

#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/field.h>
#include <afterboil/sensor.h>

/* Word lists, NULL-terminated. The enums, where C needs to name a word, are 1 + the place in the list. */
extern const char *const ab_words_family[];      /* pale-hoppy pale-lager amber-malty dark-roast wheat belgian-farmhouse sour-mixed strong other */
extern const char *const ab_words_malt[];        /* pale pilsner vienna munich wheat rye oats crystal roasted smoked acidulated adjunct other */
extern const char *const ab_words_sugar[];       /* sucrose dextrose candi honey lactose maltodextrin dry-extract other : priming and recipe */
extern const char *const ab_words_extract[];     /* liquid dry hopped-kit */
extern const char *const ab_words_hop_use[];     /* bittering flavour whirlpool dry */
extern const char *const ab_words_hop_keep[];    /* frozen-sealed fridge-sealed opened-cold opened-warm */
extern const char *const ab_words_crush[];       /* fine normal coarse */
extern const char *const ab_words_water[];       /* tap well softened bottled reverse-osmosis rain blend */
extern const char *const ab_words_treatment[];   /* none sulphite carbon-filter boiled stood reverse-osmosis */
extern const char *const ab_words_salts[];       /* none weighed by-eye */
extern const char *const ab_words_vigour[];      /* weak simmer rolling */
extern const char *const ab_words_lid[];         /* off partly on */
extern const char *const ab_words_chill[];       /* ice-bath coil counterflow plate overnight-closed air other */
extern const char *const ab_words_trub[];        /* little some most */
extern const char *const ab_words_yeast_form[];  /* dry liquid slurry dregs */
extern const char *const ab_words_keep[];        /* cold room warm : how yeast was kept */
extern const char *const ab_words_aerate[];      /* none pour shake whisk pump oxygen */
extern const char *const ab_words_vessel[];      /* bucket pet glass steel conical keg other */
extern const char *const ab_words_control[];     /* none room water-bath ice-bottles wet-cloth fan heat-belt fridge chamber glycol */
extern const char *const ab_words_light[];       /* dark indoor window sun */
extern const char *const ab_words_instrument[];  /* hydrometer refractometer float thermometer scale ph-meter strip */
extern const char *const ab_words_hop_open[];    /* open-lid port dropper purged while-active */
extern const char *const ab_words_airlock[];     /* airlock blow-off sealed gas-bag open top-pressure */
extern const char *const ab_words_transfer[];    /* siphon tap poured pumped closed */
extern const char *const ab_words_target[];      /* air-filled purged liquid-purged flow-purged */
extern const char *const ab_words_gear[];        /* fermenter lid airlock tap hose siphon spoon funnel chiller bottles caps wand bottling-bucket keg lines faucet starter-jar hands other */
extern const char *const ab_words_agent[];       /* none water detergent percarbonate caustic scented-soap bleach : cleaners */
extern const char *const ab_words_sanitiser[];   /* none acid iodine bleach peracetic chlorine-dioxide alcohol heat boiling steam sulphite other */
extern const char *const ab_words_rinse[];       /* none tap boiled */
extern const char *const ab_words_package[];     /* bottles keg cask cans */
extern const char *const ab_words_bottle[];      /* longneck reused-longneck heavy swing-top sparkling pet growler unknown-glass */
extern const char *const ab_words_colour[];      /* brown green clear opaque */
extern const char *const ab_words_cap[];         /* plain oxygen-absorbing swing screw twist-off-reused cork */
extern const char *const ab_words_mixing[];      /* stirred onto-syrup per-bottle drops unmixed */
extern const char *const ab_words_gas[];         /* set-and-wait shaken burst */
extern const char *const ab_words_pour[];        /* bottle tap cask can */
extern const char *const ab_words_glass[];       /* rinsed detergent dishwasher greasy unknown */
extern const char *const ab_words_place[];       /* fermenter packaging bottle tap-keg other : where a tasting's sample came from */
extern const char *const ab_words_behaviour[];   /* growing fading steady */
extern const char *const ab_words_extent[];      /* every-bottle some-bottles tap-only first-pour-only first-half last-half */

struct ab_batch;

struct ab_note { struct ab_mark mark; const char *text; };
/* <malt kind= amount= share= age= name=>; <sugar kind= amount= share=>; <extract kind= amount= share= age= /> */
struct ab_malt { struct ab_mark mark; int kind; const char *name; struct ab_num amount_g, share, age_s; };
struct ab_sugar { struct ab_mark mark; int kind; const char *name; struct ab_num amount_g, share; };
struct ab_extract { struct ab_mark mark; int kind; const char *name; struct ab_num amount_g, share, age_s; };
/* <hop use= name= amount= alpha= age= kept= /> */
struct ab_hop { struct ab_mark mark; int use, kept; const char *name; struct ab_num amount_g, alpha_share, age_s; };
/* <extra name= amount= sanitised= /> : fruit, spice, oak, coffee */
struct ab_extra { struct ab_mark mark; const char *name; struct ab_num amount_g; int sanitised; };

/* <recipe volume= og= fg= co2= bitterness=> malt sugar extract hop extra note </recipe>, at most one */
struct ab_recipe {
	struct ab_mark mark;
	struct ab_num volume_l, og_sg, fg_sg, co2_vol, bitterness_ibu;
	struct ab_list malts, sugars, extracts, hops, extras, notes;
};
/* <mash temp= time= crush= sparge-temp= last-runnings= runnings-ph= cooled-below= steeped-hot= />  at most one; crush by words */
struct ab_mash { struct ab_mark mark; struct ab_num temp_c, time_s, sparge_c, last_runnings_sg, runnings_ph, lowest_c; int crush, grain_boiled; };
/* <water source= treatment= chloramine= smells-of-chlorine= top-up= top-up-boiled= top-up-treated= salts= sulphate= chloride= sodium= iron= alkalinity= />  at most one */
struct ab_water {
	struct ab_mark mark;
	int source, treatment, chloramine, smells, topup_boiled, topup_treated, salts;
	struct ab_num topup_l, sulphate_mgl, chloride_mgl, sodium_mgl, iron_mgl, alkalinity_mgl;
	const char *supplier;
};
/* <boil time= vigour= lid= off= scorched= />  at most one; off = volume boiled away per hour as a share ("8 %") */
struct ab_boil { struct ab_mark mark; struct ab_num time_s, off_share; int vigour, lid, scorched; };
/* <stand time= temp= lid= /> : hot stand or whirlpool, at most one */
struct ab_stand { struct ab_mark mark; struct ab_num time_s, temp_c; int lid; };
/* <chill method= above-80= to-pitch= covered= trub= end-temp= />  at most one */
struct ab_chill { struct ab_mark mark; int method, covered, trub; struct ab_num above80_s, to_pitch_s, end_c; };
/* <yeast class= strain= form= amount= packs= cells= age= best-before= kept= starter= stirred= generation= rehydrated= nutrient= lot= supplier= />
 * class: an id of rules/yeasts.xml (resolved later). starter = volume of starter wort; "0 L" = none was made. Slurry amount in mL goes to volume. */
struct ab_yeast {
	struct ab_mark mark;
	const char *klass, *strain, *lot, *supplier;
	int form, kept, stirred, rehydrated, nutrient, made_starter;
	struct ab_num amount_g, volume_l, packs, cells_g, age_s, starter_l, generation;   /* cells_g in 1e9 cells */
	struct ab_when best_before;
};
/* <pitch at= temp= clean= />  at most one: the origin of relative times. clean="no": something unsanitised touched the wort */
struct ab_pitch { struct ab_mark mark; struct ab_when at; struct ab_num temp_c; int clean; };
/* <aerate method= time= /> */
struct ab_aerate { struct ab_mark mark; int method; struct ab_num time_s; };
/* <vessel id= kind= age= volume= headspace= control= target= light= sealed= scratched= second= from= until= room= held= place= /> : each vessel the beer sat in;
 * second="yes" a secondary; target = temperature aimed at; control by words; flies="yes" */
struct ab_vessel {
	struct ab_mark mark;
	const char *id, *place;
	int kind, control, light, sealed, scratched, second, flies, held_sour, rated;
	struct ab_num age_s, volume_l, headspace_l, target_c, room_c, rated_kpa;
	struct ab_when from, until;
};
/* <reading at= wort= room= gravity= instrument= sample= corrected= mixed= ph= /> */
struct ab_reading {
	struct ab_mark mark;
	struct ab_when at;
	struct ab_num wort_c, room_c, gravity_sg, sample_c, ph;
	int instrument, corrected, mixed;
};
/* <log file= utc-offset= /> : a sensor log under the journal's folder; read into sensor (NULL until then) */
struct ab_log { struct ab_mark mark; const char *file; struct ab_num utc_offset_s; struct ab_sensor *sensor; };
/* <lag first-signs= /> time from pitching to first activity, at most one */
struct ab_lag { struct ab_mark mark; struct ab_num first_s; int restarted, stalled, roused; };
/* <rest at= temp= for= />  ; <crash at= temp= for= airlock= sucked-back= /> ; <fining at= name= /> */
struct ab_rest { struct ab_mark mark; struct ab_when at; struct ab_num temp_c, for_s; };
struct ab_crash { struct ab_mark mark; struct ab_when at; struct ab_num temp_c, for_s; int airlock, sucked; };
struct ab_fining { struct ab_mark mark; struct ab_when at; const char *name; };
/* <dry-hop at= amount= opened= contact= loose= name= /> */
struct ab_dryhop { struct ab_mark mark; struct ab_when at; const char *name; struct ab_num amount_g, contact_s; int opened, loose; };
/* <transfer at= to= how= target= splashed= by-mouth= hose-age= /> ; how and target by words; to = vessel or package id */
struct ab_transfer { struct ab_mark mark; struct ab_when at; const char *to; int how, target, splashed, by_mouth; struct ab_num hose_age_s; };
/* <opened at= for= /> : the vessel stood open (a peek, a sample, an interruption) */
struct ab_opened { struct ab_mark mark; struct ab_when at; struct ab_num for_s; };
/* <gear item= id= age= cleaned= dismantled= soil= sanitiser= dose= dose-ppm= label-share= contact= mixed-age= rinse= material= shared-sour= smells= rusty= /> :
 * one piece of kit, how it was cleaned and sanitised for this batch. label-share = dose as a share of the label's ("100 %"). */
struct ab_gear {
	struct ab_mark mark;
	const char *id, *material;
	int item, cleaned, dismantled, soil, sanitiser, rinse, shared_sour, smells, rusty, scratched;
	struct ab_num age_s, dose_mll, dose_mgl, label_share, contact_s, mixed_age_s;
};
/* <package at= into= bottle= colour= neck= cap= cap-on-foam= wand= priming= sugar= mixing= volume= gravity= purges= purge-pressure= filled= fresh-yeast=
 *  bottles-washed= size= id= /> at most one; neck = empty height in the neck; filled by target words (kegs) */
struct ab_package {
	struct ab_mark mark;
	struct ab_when at;
	const char *id;
	int into, bottle, colour, cap, cap_on_foam, wand, sugar, mixing, filled, fresh_yeast, bottles_washed, seal_checked, lubricated;
	struct ab_num neck_mm, priming_g, volume_l, gravity_sg, purges, purge_kpa, size_l, headspace_l;
};
/* <carbonate pressure= temp= for= method= leak-checked= /> : a keg under gas, at most one */
struct ab_carbonate { struct ab_mark mark; struct ab_num pressure_kpa, temp_c, for_s; int method, leak_checked, lost_pressure; };
/* <store from= until= for= temp= hottest= light= upright= place= /> : in order of time; the first after packaging is conditioning */
struct ab_store { struct ab_mark mark; struct ab_when from, until; struct ab_num for_s, temp_c, hottest_c; int light; const char *place; };
/* <serve from= line-length= line-bore= line-age= line-cleaned= pressure= temp= glass= tower-warm= sediment-poured= idle= faucet-dismantled= /> ; at most one;
 * line-cleaned = time since; idle = time the line stood unused */
struct ab_serve {
	struct ab_mark mark;
	int from, glass, tower_warm, sediment_poured, faucet_dismantled;
	struct ab_num line_mm, bore_mm, line_age_s, line_cleaned_s, pressure_kpa, temp_c, idle_s;
};
/* <instrument item= checked= off= compensated= /> : checked against a known point (ice water, distilled water) */
struct ab_instrument { struct ab_mark mark; int item, checked; struct ab_num off_c, off_sg; };
/* <change what= adopted=> text </change> : something done differently since the last batch of this line; what = an id of rules/upgrades.xml when known */
struct ab_change_note { struct ab_mark mark; const char *what, *text; };

/* <found fault= intensity= from= behaviour= extent= note= at-packaging= /> ; intensity 1 (barely, or only feared) to 5 (undrinkable) */
struct ab_found { struct ab_mark mark; const char *fault; struct ab_num intensity; int behaviour, extent, at_packaging, feared; };
struct ab_absent { struct ab_mark mark; const char *fault; };
/* <tasting at= by= blind= from= temp= complete= score= score-of= fresher-bottle-same= tap-worse=> found absent note <next-time/> </tasting> */
struct ab_tasting {
	struct ab_mark mark;
	struct ab_when at;
	const char *by, *next_time;
	int blind, from, complete, every_batch, first_time;
	struct ab_num temp_c, score, score_of, panel;   /* panel = number of tasters who agreed this sheet; 1 if not told */
	struct ab_list found, absent, notes;
};
/* <test kind= result= at= /> : a check the brewer did; kind = an id of rules/checks.xml, result yes|no */
struct ab_test { struct ab_mark mark; const char *kind; int result; struct ab_when at; struct ab_num gravity_sg; };
/* <looks ...> plain sights: krausen-ring, bubbles-slow, pellicle ... */
struct ab_looks { struct ab_mark mark; struct ab_when at; int airlock_still, krausen_fell, sediment, neck_ring, film, smell_nearby; };

struct ab_batch {
	struct ab_mark mark;
	const char *id, *line, *title, *brewer, *source;   /* source = name of the file, for messages */
	struct ab_when brewed;
	int family;
	struct ab_recipe *recipe;
	struct ab_mash *mash;
	struct ab_water *water;
	struct ab_boil *boil;
	struct ab_stand *stand;
	struct ab_chill *chill;
	struct ab_pitch *pitch;
	struct ab_lag *lag;
	struct ab_package *package;
	struct ab_carbonate *carbonate;
	struct ab_serve *serve;
	struct ab_list yeasts, aerations, vessels, readings, logs, rests, crashes, finings, dryhops, transfers, openings, gear;
	struct ab_list stores, instruments, changes, tastings, tests, looks, notes;
};

/* Called with each finished batch, its relative times resolved against the pitch (or the brew date at 18:00 when the pitch time
 * is not told: marked as such by pitch_assumed in the diagnosis of times). The batch lives in the arena given to ab_journal_read;
 * the callback may keep it, or ab_arena_reset when done (streams). */
typedef enum ab_status ab_batch_done(void *ctx, struct ab_batch *batch, struct ab_diag *diag);

enum { AB_JOURNAL_LIMIT = 8 * 1024 * 1024 };

/* Reads the journals of a file. Sensor logs named in it are read from under its folder (a path that leaves it is refused).
 * AB_EINPUT, AB_ELIMIT, AB_ESYSTEM, AB_ENOMEM; nothing half-read reaches done. */
enum ab_status ab_journal_read_file(const char *path, struct ab_arena *arena, ab_batch_done *done, void *ctx, struct ab_diag *diag);
/* The same from memory; name stands in messages; folder (may be NULL: logs are refused) is where logs are looked for. */
enum ab_status ab_journal_read_memory(const char *data, size_t len, const char *name, const char *folder, struct ab_arena *arena,
    ab_batch_done *done, void *ctx, struct ab_diag *diag);
/* A stream without bound on a file descriptor; logs are refused. */
enum ab_status ab_journal_read_stream(int fd, const char *name, struct ab_arena *arena, ab_batch_done *done, void *ctx, struct ab_diag *diag);

/* Seconds from pitching to a point in time; NAN when either is unknown. */
double ab_batch_since_pitch(const struct ab_batch *batch, const struct ab_when *when);

/* Adds one element, written as XML text, as the last child of the batch with this id in the file, and replaces the file atomically.
 * Every other byte stays as it was: comments, layout, foreign elements. The result is checked by reading it before it is written:
 * AB_EINPUT if it would not read, or if no batch has this id. */
enum ab_status ab_journal_append(const char *path, const char *batch_id, const char *element, struct ab_diag *diag);

#endif
