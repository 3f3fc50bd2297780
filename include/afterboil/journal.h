/* journal.h - the batch journal: one brew, as the brewer wrote it down
 *
 * A journal is an XML file, namespace urn:afterboil:journal:1, root <batch>, or many in <batches>. The schema
 * for editors is rules/journal.rng; the reader here checks the same while it streams, with better messages.
 * Elements stand in any order and, unless said otherwise, any number of times. Everything but the id and the
 * brew date may be missing. Missing means unknown. guess="yes" is allowed on every element but <batch>: then
 * all it tells weighs less later. A figure told roughly ("about 20 C") weighs less alone.
 *
 * Units of the struct members are those in their names, kept as quantity.h says. A struct ab_num with known
 * == false was not told; an int of a word list (words.h) is 0 when not told, else 1 + its place in the list
 * named beside it; a yes/no is enum ab_yesno.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_JOURNAL_H
#define AFTERBOIL_JOURNAL_H

#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/field.h>
#include <afterboil/sensor.h>
#include <afterboil/words.h>

struct ab_batch;

/* How attribute values are written, in the comments below:
 *   temp= and every other temperature "19.5 C" or "67 F"; time=, for=, age= and the like a length of time
 *   "90 min", "3d 4h"; at=, from= (of vessels and stores), until= a moment: "2031-03-07T15:30", "2031-03-07"
 *   or "+3d 4h" after pitching; share= a percentage "75 %"; what is said to be "by words" a word of the list
 *   of that name; yes/no questions yes or no (clean= covered= sealed= splashed= ...); name= and the like any
 *   text; id=, to=, class=, kind= of a test and fault= an id.
 * Ranges are generous: they catch a slip of the unit or the decimal point, not an odd brewer (see check.h for
 * those). */

/* <note>free text</note>: in a batch, a recipe, a tasting */
struct ab_note { struct ab_mark mark; const char *text; };
/* <malt kind= amount= share= age= name=>; <sugar kind= amount= share= name= at=>; <extract kind= amount= share=
 * age= name= /> kind by words malt, sugar, extract; share of the fermentables by weight; age since milling,
 * boiling down or packing; at = put in while it fermented (untold: in the wort) */
struct ab_malt { struct ab_mark mark; int kind; const char *name; struct ab_num amount_g, share, age_s; };
struct ab_sugar { struct ab_mark mark; int kind; const char *name; struct ab_num amount_g, share; struct ab_when at; };
struct ab_extract { struct ab_mark mark; int kind; const char *name; struct ab_num amount_g, share, age_s; };
/* <hop use= name= amount= alpha= age= kept= /> ; use by words hop_use, kept by words hop_keep; alpha = alpha
 * acids "6.5 %" */
struct ab_hop {
	struct ab_mark mark;
	int use, kept;
	const char *name;
	struct ab_num amount_g, alpha_share, age_s;
};
/* <extra name= amount= sanitised= at= sugars= /> : fruit, spice, oak, coffee; sanitised yes/no; at = when it went
 * in; sugars = the share of its weight that ferments, "8 %" */
struct ab_extra {
	struct ab_mark mark;
	const char *name;
	struct ab_num amount_g, sugars_share;
	int sanitised;
	struct ab_when at;
};

/* <recipe volume= og= fg= co2= bitterness= complete=> : what was planned: "20 L", "1.048 SG" or "11.9 P", "2.4 vol",
 * "35 IBU"; complete = every fermentable is listed, and what is not listed was not in it; holds malt sugar extract hop
 * extra note </recipe>, at most one */
struct ab_recipe {
	struct ab_mark mark;
	struct ab_num volume_l, og_sg, fg_sg, co2_vol, bitterness_ibu;
	int complete;
	struct ab_list malts, sugars, extracts, hops, extras, notes;
};
/* <mash temp= time= crush= sparge-temp= last-runnings= runnings-ph= cooled-below= steeped-hot= />  at most
 * one; crush by words; cooled-below = the lowest temperature the mash fell to; steeped-hot = grain was
 * boiled, or steeped or squeezed very hot */
struct ab_mash {
	struct ab_mark mark;
	struct ab_num temp_c, time_s, sparge_c, last_runnings_sg, runnings_ph, lowest_c;
	int crush, grain_boiled;
};
/* <water source= treatment= chloramine= smells-of-chlorine= top-up= top-up-boiled= top-up-treated= salts=
 * sulphate= chloride= sodium= iron= alkalinity= supplier= /> at most one; source by words water, treatment,
 * salts by words; top-up "3 L", boiled and treated yes/no; minerals "80 mg/L" or ppm, alkalinity as CaCO3;
 * supplier = the works or the brand, to compare batches by */
struct ab_water {
	struct ab_mark mark;
	int source, treatment, chloramine, smells, topup_boiled, topup_treated, salts;
	struct ab_num topup_l, sulphate_mgl, chloride_mgl, sodium_mgl, iron_mgl, alkalinity_mgl;
	const char *supplier;
};
/* <boil time= vigour= lid= off= scorched= />  at most one; off = volume boiled away per hour as a share
 * ("8 %"); vigour, lid by words; scorched yes/no */
struct ab_boil { struct ab_mark mark; struct ab_num time_s, off_share; int vigour, lid, scorched; };
/* <stand time= temp= lid= /> : hot stand or whirlpool, at most one; lid by words */
struct ab_stand { struct ab_mark mark; struct ab_num time_s, temp_c; int lid; };
/* <chill method= above-80= to-pitch= covered= trub= end-temp= />  at most one; method by words chill, trub by
 * words; above-80 = time the wort stayed above 80 C after the boil; to-pitch = end of boil to pitching;
 * end-temp = as it left the chiller */
struct ab_chill {
	struct ab_mark mark;
	int method, covered, trub;
	struct ab_num above80_s, to_pitch_s, end_c;
};
/* <yeast class= strain= form= amount= volume= packs= cells= age= best-before= kept= made-starter= starter=
 * stirred= generation= last-spoilt= rehydrated=
 *  nutrient= judged= lot= supplier= />
 * class: an id of rules/yeasts.xml (resolved later). form by words yeast_form, kept by words keep. amount
 * "11 g" in all; volume = slurry, "150 mL"; packs = a bare number; cells "200 Gcells"; best-before a date.
 * starter = volume of starter wort; "0 L" = none was made (made_starter follows; made-starter=yes alone when
 * the volume is not known). generation = times the yeast was re-used, 0 = fresh;
 * last-spoilt = the beer it was taken from, or that was made with it before, was spoilt.
 * judged by words enough: how much it was by the brewer's own word, where nobody counted. */
struct ab_yeast {
	struct ab_mark mark;
	const char *klass, *strain, *lot, *supplier;
	int form, kept, stirred, rehydrated, nutrient, made_starter, judged, last_spoilt;
	/* cells_g in 1e9 cells */
	struct ab_num amount_g, volume_l, packs, cells_g, age_s, starter_l, generation;
	struct ab_when best_before;
};
/* <pitch at= temp= clean= />  at most one: the origin of relative times. clean="no": something unsanitised
 * touched the wort */
struct ab_pitch { struct ab_mark mark; struct ab_when at; struct ab_num temp_c; int clean; };
/* <aerate method= time= /> ; method by words aerate */
struct ab_aerate { struct ab_mark mark; int method; struct ab_num time_s; };
/* <vessel id= kind= age= volume= headspace= control= target= light= sealed= scratched= second= from= until=
 * room= held-sour= last-spoilt= flies=
 *  rated= rated-pressure= judged= swings= place= /> : each vessel the beer sat in
 * kind by words vessel, control, light by words; volume = what it can hold, headspace = the air over the
 * beer, both "23 L"; target = temperature aimed at, room = of the room around it; second = a secondary
 * (yes/no); scratched = inside, or it smells; held-sour = ever held a sour or wild beer;
 * last-spoilt = the batch before in it was sour or spoilt otherwise; flies = fruit flies about; rated = made to be
 * put under pressure, rated-pressure = up to "2 bar" (rated follows); judged by words warmth = how warm it stood
 * for its yeast and swings = it went up and down by degrees, both by the brewer's own word, where nobody measured
 */
struct ab_vessel {
	struct ab_mark mark;
	const char *id, *place;
	int kind, control, light, sealed, scratched, second, flies, held_sour, last_spoilt, rated, judged, swings;
	struct ab_num age_s, volume_l, headspace_l, target_c, room_c, rated_kpa;
	struct ab_when from, until;
};
/* Two readings of one hydrometer that differ by no more tell no difference (estimate: a mark and a half). */
#define AB_ALIKE_SG 0.0015
/* <reading at= wort= room= gravity= instrument= sample= corrected= mixed= ph= />
 * wort and room = temperatures; gravity with instrument by words; sample = temperature of the gravity sample;
 * corrected = for temperature (hydrometer) or alcohol (refractometer) already; mixed = the wort was well
 * mixed before */
struct ab_reading {
	struct ab_mark mark;
	struct ab_when at;
	struct ab_num wort_c, room_c, gravity_sg, sample_c, ph;
	int instrument, corrected, mixed;
};
/* <log file= utc-offset= /> : a sensor log under the journal's folder; read into sensor (NULL until then);
 * file is needed, utc-offset "2 h" or "-5 h" is added to times in UTC or with a zone */
struct ab_log {
	struct ab_mark mark;
	const char *file;
	struct ab_num utc_offset_s;
	struct ab_sensor *sensor;
};
/* <lag first-signs= restarted= stalled= roused= /> at most one; first-signs = time from pitching to first
 * activity; restarted = fermentation started again after it had ended; stalled = stopped early and stayed
 * high; roused = the yeast was stirred up or warmed */
struct ab_lag { struct ab_mark mark; struct ab_num first_s; int restarted, stalled, roused; };
/* <rest at= temp= for= />  ; <crash at= temp= for= airlock= sucked-back= /> ; <fining at= name= />
 * for = how long; airlock by words; sucked-back = airlock liquid or air was drawn in */
struct ab_rest { struct ab_mark mark; struct ab_when at; struct ab_num temp_c, for_s; };
struct ab_crash { struct ab_mark mark; struct ab_when at; struct ab_num temp_c, for_s; int airlock, sucked; };
struct ab_fining { struct ab_mark mark; struct ab_when at; const char *name; };
/* <spund at= pressure= until= /> : fermenting under pressure: from then on a valve held so much gauge pressure over
 * the beer ("0 bar": it was let off), until the next one, until the moment told, or until packaging */
struct ab_spund { struct ab_mark mark; struct ab_when at, until; struct ab_num pressure_kpa; };
/* <dry-hop at= amount= opened= contact= loose= name= /> ; opened by words hop_open: how they went in; contact
 * = how long; loose = not in a bag; amount "0 g" = there were none */
struct ab_dryhop {
	struct ab_mark mark;
	struct ab_when at;
	const char *name;
	struct ab_num amount_g, contact_s;
	int opened, loose;
};
/* <transfer at= to= how= target= splashed= by-mouth= hose-age= /> ; how by words transfer; target by words:
 * what was in the vessel it went to; to = vessel or package id; by-mouth = the siphon was started by mouth */
struct ab_transfer {
	struct ab_mark mark;
	struct ab_when at;
	const char *to;
	int how, target, splashed, by_mouth;
	struct ab_num hose_age_s;
};
/* <opened at= for= vessel= /> : the vessel stood open (a peek, a sample, an interruption); vessel by words opened:
 * which it was, the fermenter where nobody tells */
struct ab_opened { struct ab_mark mark; struct ab_when at; struct ab_num for_s; int vessel; };
/* <gear item= id= age= cleaned= dismantled= soil= sanitiser= dose= dose-ppm= label-share= contact= heat=
 * mixed-age= rinse= material= shared-sour= smells= rusty= for-food=
 *  scratched= /> : one piece of kit, how it was cleaned and sanitised for this batch
 * item (needed) by words gear, "everything" = all that cold wort or beer touched; cleaned by words agent,
 * sanitiser, rinse by words; dismantled = taken apart; soil = a ring or soil was left; dose "1.6 mL/L", dose-ppm
 * "200 ppm", label-share = dose as a share of the label's ("100 %"); contact = time; heat = how hot the piece was
 * all that time, where heat was the sanitiser; mixed-age = age of the mixed sanitiser; shared-sour = used with
 * mixed cultures or diastatic yeast too; rusty = rust or worn plating; for-food = made for food and drink, which a
 * garden hose is not */
struct ab_gear {
	struct ab_mark mark;
	const char *id, *material;
	int item, cleaned, dismantled, soil, sanitiser, rinse, shared_sour, smells, rusty, scratched, for_food;
	struct ab_num age_s, dose_mll, dose_mgl, label_share, contact_s, heat_c,
	    mixed_age_s;
};
/* <package at= into= bottle= colour= neck= cap= cap-on-foam= wand= priming= sugar= mixing= volume= gravity=
 * purges= purge-pressure= filled= fresh-yeast=
 *  bottles-washed= size= id= seal-checked= lubricated= headspace= fate= fate-at= /> at most one; fate by words:
 * what became of all its bottles: drunk and poured-away end the warning of them, let-off does not; fate-at = when
 * that was; into by words package, bottle, colour, cap, mixing by words; neck = empty height in the neck "25 mm";
 * cap-on-foam = capped on foam; wand = filled from the bottom; priming "120 g" of sugar by words for all of
 * volume; gravity at packaging; size of one bottle or keg; purges = cycles (a bare number) to purge-pressure
 * "2 bar"; filled by words target: what was in keg or bottle before the beer; seal-checked, lubricated = of a
 * keg; headspace = over the beer in a keg */
struct ab_package {
	struct ab_mark mark;
	struct ab_when at, fate_at;
	const char *id;
	int into, bottle, colour, cap, cap_on_foam, wand, sugar, mixing, filled, fresh_yeast, bottles_washed,
	    seal_checked, lubricated, fate;
	struct ab_num neck_mm, priming_g, volume_l, gravity_sg, purges, purge_kpa, size_l, headspace_l;
};
/* <carbonate pressure= temp= for= method= gas= leak-checked= lost-pressure= /> : a keg under gas, at most one;
 * pressure is gauge pressure; method by words gas; gas = what the cylinder holds, by words keg_gas, carbon dioxide
 * where it is not told; lost-pressure = it was seen to lose pressure */
struct ab_carbonate {
	struct ab_mark mark;
	struct ab_num pressure_kpa, temp_c, for_s;
	int method, gas, leak_checked, lost_pressure;
};
/* <store from= until= for= temp= hottest= light= upright= place= /> : in order of time; the first after
 * packaging is conditioning; temp is the usual one, hottest the highest it met; upright = bottles stood */
struct ab_store {
	struct ab_mark mark;
	struct ab_when from, until;
	struct ab_num for_s, temp_c, hottest_c;
	int light, upright;
	const char *place;
};
/* <serve from= line-length= line-bore= line-age= line-cleaned= pressure= temp= glass= tower-warm=
 * sediment-poured= idle= faucet-dismantled= /> ; at most one; from by words pour, glass by words; line-length
 * "3 m", line-bore "4.8 mm", line-age; line-cleaned = time since; idle = time the line stood unused; pressure
 * on the keg; temp of the beer; tower-warm = the tap or its line is warm; sediment-poured; faucet-dismantled
 * = taken apart to clean */
struct ab_serve {
	struct ab_mark mark;
	int from, glass, tower_warm, sediment_poured, faucet_dismantled;
	struct ab_num line_mm, bore_mm, line_age_s, line_cleaned_s, pressure_kpa, temp_c, idle_s;
};
/* <instrument item= checked= off-temp= off-gravity= compensated= /> : checked against a known point (ice
 * water, distilled water) item (needed) by words instrument; off-temp "1 K" or off-gravity "2 points": what
 * it shows too much, with a minus too little (off_sg is a difference: 2 points = 0.002); compensated =
 * corrects for temperature by itself */
struct ab_instrument { struct ab_mark mark; int item, checked, compensated; struct ab_num off_c, off_sg; };
/* <change what= adopted=> text </change> : something done differently since the last batch of this line; what
 * = an id of rules/upgrades.xml when known; adopted = kept from now on (yes) or a trial (no) */
struct ab_change_note { struct ab_mark mark; const char *what, *text; int adopted; };
/* <tried what= helped=> text </tried> : what was tried against what is wrong with this beer, in this or another brew;
 * what = an id of rules/upgrades.xml when known; helped (needed) = it was not there then, or less */
struct ab_remedy { struct ab_mark mark; const char *what, *text; int helped; };

/* <found fault= intensity= behaviour= extent= note= at-packaging= feared= /> ; fault (needed) in plain
 * tasting language; intensity 1 (barely, or only feared) to 5 (undrinkable); behaviour, extent by words;
 * at-packaging = it was there at packaging; feared = expected, neither tasted nor measured */
struct ab_found {
	struct ab_mark mark;
	const char *fault, *note;
	struct ab_num intensity;
	int behaviour, extent, at_packaging, feared;
};
/* <absent fault= /> : looked for and not there */
struct ab_absent { struct ab_mark mark; const char *fault; };
/* <tasting at= by= blind= from= temp= complete= score= score-of= panel= every-batch= first-time= mark=> found
 * absent note <next-time>text</next-time>
 * </tasting>; from by words place; complete = all faults were considered; score "34" out of score-of "50";
 * every-batch = every batch has what was found; first-time = no batch had it before; mark = what this bottle was
 * marked for when it was filled ("splashed"), to hold it against those without a mark. Compare a fresher
 * bottle, or tap against keg, with <test>. */
struct ab_tasting {
	struct ab_mark mark;
	struct ab_when at;
	const char *by, *mark_on, *next_time;   /* next_time = text of <next-time>, NULL when there is none */
	struct ab_note *next_note;
	int blind, from, complete, every_batch, first_time;
	struct ab_num temp_c, score, score_of, panel;   /* panel = number of tasters who agreed this sheet;
	                                                 * 1 if not told */
	struct ab_list found, absent, notes;
};
/* Is one from a bottle and the other from a keg? */
bool ab_other_package(const struct ab_tasting *a, const struct ab_tasting *b);
/* Are both of bottles with the same mark, or both of bottles without one, and not of one in a bottle and the other in a
 * keg? Tastings of others do not tell of time. */
bool ab_same_bottles(const struct ab_tasting *a, const struct ab_tasting *b);
/* <test kind= result= at= gravity= /> : a check the brewer did; kind (needed) = an id of rules/checks.xml,
 * result (needed) yes|no; gravity of a forced fermentation or the like */
struct ab_test {
	struct ab_mark mark;
	const char *kind;
	int result;
	struct ab_when at;
	struct ab_num gravity_sg;
};
/* <looks at= airlock-still= krausen-fell= sediment= neck-ring= film= surface= smell-nearby= /> : plain sights,
 * yes/no but surface, which is by words: what floats on the beer. film = a film, islands or ropes, where no
 * more is told; neck-ring = a ring inside the bottle necks; smell-nearby =
 * something near the fermenter smells so */
struct ab_looks {
	struct ab_mark mark;
	struct ab_when at;
	int airlock_still, krausen_fell, sediment, neck_ring, film, surface, smell_nearby;
};

/* <batch xmlns="urn:afterboil:journal:1" id= brewed= line= title= brewer= family= wort=> ; id and brewed (a date)
 * are needed; line = the beer brewed again and again; family by words; wort = a name that batches split from one
 * wort have in common */
struct ab_batch {
	struct ab_mark mark;
	const char *id, *line, *title, *brewer, *wort, *source;   /* source = name of the file, for messages */
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
	struct ab_list yeasts, aerations, vessels, readings, logs, rests, crashes, finings, spunds, dryhops,
	    transfers, openings, gear;
	struct ab_list stores, instruments, changes, remedies, tastings, tests, looks, notes;
};

/* Called with each finished batch, its relative times resolved against the pitch (or the brew date at 18:00
 * when the pitch time is not told: then pitch is NULL or pitch->at unknown). It has passed the checks of
 * check.h. The batch lives in the arena given to ab_journal_read; the callback may keep it, or ab_arena_reset
 * when done (streams). */
typedef enum ab_status ab_batch_done(void *ctx, struct ab_batch *batch, struct ab_diag *diag);

enum { AB_JOURNAL_LIMIT = 8 * 1024 * 1024 };

/* Reads the journals of a file. Sensor logs named in it are read from under its folder (a path that leaves it
 * is refused). AB_EINPUT (also for a second batch with the same id in the file), AB_ELIMIT, AB_ESYSTEM,
 * AB_ENOMEM, or what done returned. Nothing half-read reaches done; but when a later batch of a file is bad,
 * the ones before it have been handed over. */
enum ab_status ab_journal_read_file(const char *path, struct ab_arena *arena, ab_batch_done *done, void *ctx,
    struct ab_diag *diag);
/* The same from memory; name stands in messages; folder (may be NULL: logs are refused) is where logs are
 * looked for. */
enum ab_status ab_journal_read_memory(const char *data, size_t len, const char *name, const char *folder,
    struct ab_arena *arena, ab_batch_done *done, void *ctx, struct ab_diag *diag);
/* A stream without bound on a file descriptor; logs are refused, and ids may repeat (memory stays flat when
 * done resets the arena). Errors as above. */
enum ab_status ab_journal_read_stream(int fd, const char *name, struct ab_arena *arena, ab_batch_done *done,
    void *ctx, struct ab_diag *diag);

/* Seconds from pitching (18:00 of the brew date when the pitch time is not told) to a point in time; NAN when
 * either is unknown. */
double ab_batch_since_pitch(const struct ab_batch *batch, const struct ab_when *when);

/* Adds one element, written as XML text, as the last child of the batch with this id in the file, and
 * replaces the file atomically. Every other byte stays as it was: comments, layout, foreign elements. The
 * result is checked by reading it before it is written: AB_EINPUT if it would not read, or if no batch has
 * this id; AB_ELIMIT, AB_ESYSTEM, AB_ENOMEM. element need not name the namespace: it is that of its batch.
 * Only UTF-8 files. Of two who add at once the second waits, and nothing is lost. */
enum ab_status ab_journal_append(const char *path, const char *batch_id, const char *element,
    struct ab_diag *diag);
/* Text that a function of this or another header of journals gave for it. */
void ab_journal_free(char *text);

#endif
