/* profile.h - the brewery profile: what stays the same from batch to batch
 *
 * XML, namespace urn:afterboil:profile:1, root <brewery>, schema rules/profile.rng. It may hold, all
 * optional: what is owned, usual habits, packaging, water, batch size and number, families brewed, money,
 * time, space, tasters and their blind spots, what is wrong and what is wanted.
 *
 *   <brewery xmlns="urn:afterboil:profile:1" name="..." currency="$" units="metric|us"
 *           space="none|drawer|cupboard|floor" noise-matters="yes|no" smoke-matters="yes|no" horizon="1 y"
 *           room="21 C" altitude="1500 m" goal="quality|time"    time: a shorter, easier brew day
 *           brewed-so-far="6">                      batches, with or without journals; 0: none yet
 *     <batch-size volume="20 L"/>
 *     <per-year batches="12"/>
 *     <brews family="pale-hoppy" share="60 %"/>       any number; family is needed
 *     <money now="120" per-year="60"/>                a bare number or with the currency's sign
 *     <time per-batch="45 min"                        minutes more a batch that a plan may cost
 *           away="10 h"/>                             the longest nobody is at home while a beer ferments
 *     <packs into="bottles|keg|cask|cans"/>
 *     <week free="sat, sun" time="6 h" begins="10:00"     days with time for brewing, how much, and from which hour;
 *           other="30 min" other-begins="20:30"/>         the same of any other
 *     <away days="2031-07-01..2031-07-14"/>               not at home; any number
 *     <owns change="thermostat-fridge"                an id of rules/upgrades.xml; or thing="fridge", words of
 *           since="2031-01-05" unused="yes"/>       things.xml; not told: of a change unknown, a thing is unused
 *     <trouble fault="buttery"/>                      what is wrong in batch after batch, one of three: a fault in
 *     <trouble cause="ferment-swings"/>               tasting words ("nothing": the beer is fine), a cause known (an
 *     <trouble chore="slow chilling"/>                id of rules/causes.xml), or a burden that no beer tastes of
 *     <usual>...</usual>                              elements of a <batch>, in the profile's namespace:
 *                                                     <water .../><chill .../><gear .../><vessel .../>
 *     <taster name="..." blind-to="diacetyl, dms"     name is needed
 *             panel="1"/>                             people behind this name
 *     <price change="id" cost="35" per-year="10"      what it costs this brewer: to buy, to run,
 *            time="20 min"/>                          in time a batch
 *     <refuses change="id"/>
 *     <changed what="id" on="2031-02-01"              a change made between batches, in force from the first
 *              line="house pale">in own words         batch brewed on that day or later (of that line, or of
 *     </changed>                                      any); on is needed, and an id or words
 *     <note>text</note>
 *   </brewery>           batch-size, per-year, money, time, packs, week and usual stand at most once.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_PROFILE_H
#define AFTERBOIL_PROFILE_H

#include <afterboil/journal.h>

extern const char *const ab_words_units[];   /* metric us */
extern const char *const ab_words_goal[];    /* quality time */
extern const char *const ab_words_packs[];   /* those of package, and both: then what it goes into is not known */
enum { AB_GOAL_QUALITY = 1, AB_GOAL_TIME };
extern const char *const ab_words_space[];   /* none drawer cupboard floor : the largest new thing there is
					      * room for */

struct ab_brews { struct ab_mark mark; int family; struct ab_num share; };
/* exactly one of change and thing is not NULL */
struct ab_owns { struct ab_mark mark; const char *change, *thing; struct ab_when since; int unused; };
/* exactly one of the three is not NULL */
struct ab_trouble { struct ab_mark mark; const char *fault, *cause, *chore; };
/* blind_to: list of const char * fault words */
struct ab_taster { struct ab_mark mark; const char *name; struct ab_list blind_to; struct ab_num panel; };
/* free, days: in the words of ab_days_free and ab_days_away (calendar.h), begins "10:00"; read there. */
struct ab_week { struct ab_mark mark; const char *free, *begins, *other_begins; struct ab_num time_s, other_s; };
struct ab_away { struct ab_mark mark; const char *days; };
struct ab_price { struct ab_mark mark; const char *change; struct ab_num cost, running_per_year, minutes_s; };
struct ab_refuses { struct ab_mark mark; const char *change; };

struct ab_changed { struct ab_mark mark; const char *what, *line, *text; struct ab_when on; };

struct ab_profile {
	struct ab_mark mark;
	const char *name, *currency, *source;
	int units, space, noise_matters, smoke_matters, packs, goal;
	struct ab_num brewed;        /* batches so far, with or without journals; 0: none */
	struct ab_num batch_l, batches_per_year, money_now, money_per_year, time_per_batch_s, away_s,
	    horizon_s, room_c;
	/* above the sea: thin air brings less oxygen into the wort */
	struct ab_num altitude_mm;
	struct ab_week *week;        /* NULL when not told */
	struct ab_list away;
	struct ab_list brews, troubles, owns, things;   /* both of ab_owns: changes, and things */
	const struct ab_trouble *fine; /* the first that says that nothing is wrong with the beer, which is not among
					* the troubles; none of these is a fault or cause then. NULL: not said */
	struct ab_list tasters, prices, refuses, changed, notes;
	struct ab_batch *usual;      /* times stay relative; what <usual> holds, as a batch without id and
	                              * date; NULL when not told */
};

/* Reads one profile into the arena. Errors as ab_journal_read_file. */
enum ab_status ab_profile_read_file(const char *path, struct ab_arena *arena, struct ab_profile **out,
    struct ab_diag *diag);
enum ab_status ab_profile_read_memory(const char *data, size_t len, const char *name, struct ab_arena *arena,
    struct ab_profile **out, struct ab_diag *diag);

/* A stable hex digest (SHA-256, its first 16 digits) of what judging a batch takes from a profile that was read:
 * the usual habits, batch size and packaging, the room's temperature, the altitude, the tasters. Nothing else of
 * it moves a fact or a belief, so a new price or <changed> leaves the digest as it is. NULL gives "none". */
enum { AB_PROFILE_DIGEST = 17 };
void ab_profile_digest(const struct ab_profile *profile, char out[AB_PROFILE_DIGEST]);

/* Adds one element, written as XML text, as the last child of the profile, and replaces the file atomically,
 * under a lock, so that two writers lose nothing. Every other byte stays as it was. The result is read before
 * it is written: AB_EINPUT if it would not read or holds other than one element more; AB_ELIMIT, AB_ESYSTEM,
 * AB_ENOMEM. element need not name the namespace. */
enum ab_status ab_profile_append(const char *path, const char *element, struct ab_diag *diag);
/* Takes the last <changed> out again, in the same way; nothing else. may: asked of it first, under the lock; what
 * it says but AB_OK leaves all as it is and is given back; NULL: it may. removed (in the arena) is what it said.
 * AB_EUSAGE when there is none. */
typedef enum ab_status ab_profile_may_go(void *ctx, const struct ab_changed *last, struct ab_diag *diag);
enum ab_status ab_profile_undo_changed(const char *path, ab_profile_may_go *may, void *ctx, struct ab_arena *arena,
    struct ab_changed **removed, struct ab_diag *diag);

#endif
