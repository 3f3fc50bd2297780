/* check_batchplan.c - batches that run: what is behind them, what is due and overdue, and what is taken from where
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/batchplan.h>
#include <afterboil/facts.h>
#include <afterboil/when.h>
#include "base/alloc.h"
#include "rulecase.h"

enum { DAY = 86400, MOST = 6, TEXT = 3000 };

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_batch *batches[MOST];
static size_t n;

static void begin(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	n = 0;
}

static void end(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	batches[n++] = batch;
	return AB_OK;
}

/* head: attributes of <batch>; body: what stands in it. */
static struct ab_batch *journal(const char *head, const char *body)
{
	char text[TEXT];
	int len = snprintf(text, sizeof text, "<batch xmlns='urn:afterboil:journal:1' %s>%s</batch>", head, body);
	ck_assert_int_lt(len, TEXT);
	ck_assert_msg(ab_journal_read_memory(text, (size_t)len, "own.xml", NULL, arena, keep, NULL, &diag) == AB_OK,
	    "%s", diag.text);
	return batches[n - 1];
}

static struct ab_profile *profile(const char *body)
{
	char text[TEXT];
	struct ab_profile *p;
	int len = snprintf(text, sizeof text, "<brewery xmlns='urn:afterboil:profile:1'>%s</brewery>", body);
	ck_assert_msg(
	    ab_profile_read_memory(text, (size_t)len, "profile.xml", arena, &p, &diag) == AB_OK, "%s", diag.text);
	return p;
}

static double day(const char *text)
{
	struct ab_when when;
	char why[300];
	ck_assert_msg(ab_when_read(text, &when, why, sizeof why), "%s: %s", text, why);
	return floor(when.s / DAY) * DAY;
}

static struct ab_days *days_from(const char *today)
{
	struct ab_days *days = ab_arena_alloc(arena, 1, sizeof *days);
	ab_days_start(days, day(today), 720, 30);
	return days;
}

static struct ab_batchplan plan_of(const struct ab_profile *p, const struct ab_batch *batch, const char *today)
{
	struct ab_batchplan plan;
	struct ab_batchplan_asked asked = { .k = rules,
		.profile = p,
		.batches = batches,
		.n = n,
		.days = days_from(today),
		.drink_s = (double)NAN };
	const struct ab_batch *last =
	    batch == NULL ? n > 0 ? batches[n - 1] : NULL : ab_batchplan_last(batches, n, batch);
	ck_assert_msg(ab_batchplan_make(&asked, batch, last, arena, &plan, &diag) == AB_OK, "%s", diag.text);
	return plan;
}

static const struct ab_calendar_touch *find(const struct ab_calendar *c, const char *id)
{
	for (size_t i = 0; i < c->n; i++)
		if (strcmp(c->touches[i].touch->id, id) == 0)
			return &c->touches[i];
	for (size_t i = 0; i < c->n_past; i++)
		if (strcmp(c->past[i].touch->id, id) == 0)
			return &c->past[i];
	return NULL;
}

/* ---- what is behind a batch ---- */

/* Pitched on Saturday the first at 18:00, on a clean ale: primary 7 days, clean 3 more. tells: touches in order,
 * each with
 * '+' done, '-' moot, '=' to do, '!' overdue, '0' there is none, and the day of March it stands on. */
#define PITCH "<yeast class='clean-ale'/><pitch at='2031-03-01T18:00' temp='19 C'/>"
#define LOOKED "<reading at='2031-03-01T22:00' wort='20 C'/><reading at='2031-03-02T19:00' wort='21 C'/>" \
	"<reading at='2031-03-03T19:00' wort='21 C'/>"
#define FELL "<reading at='2031-03-08T19:00' gravity='1.014 SG'/>"
#define STOOD "<reading at='2031-03-11T19:00' gravity='1.014 SG'/>"
#define HANGS "<recipe volume='20 L' og='1.050 SG' fg='1.011 SG'/>" PITCH LOOKED \
	"<reading at='2031-03-01T17:00' gravity='1.050 SG'/>" \
	"<reading at='2031-03-08T19:00' gravity='1.015 SG'/><reading at='2031-03-11T19:00' gravity='1.015 SG'/>"
#define HOPS_4_D PITCH LOOKED FELL "<dry-hop at='2031-03-08T19:00' amount='60 g' contact='4 d'/>"
#define PACKED_15 "<package at='2031-03-15T10:00' into='bottles'/>"
#define CLEANED(item, with) "\n<gear item='" item "' cleaned='" with "'/>\n"
#define UNTOLD "<yeast class='clean-ale'/><reading at='+0h' gravity='1.050 SG'/>"
#define TASTED_19 "<tasting at='2031-03-19' from='bottle'/>"
#define BURSTING "<package at='2031-03-15T10:00' into='bottles' bottle='longneck' priming='400 g' volume='20 L'/>"
#define TASTED_29 "<tasting at='2031-03-29' from='bottle'/>"
#define NOTE(when, text) "<note>2031-03-" when ": " text "</note>"
/* Roused, a week waited for, and where it was. */
#define STUCK "<recipe volume='20 L' og='1.060 SG' fg='1.012 SG'/>" PITCH LOOKED \
	"<reading at='2031-03-01T17:00' gravity='1.060 SG'/>" \
	"<reading at='2031-03-08T19:00' gravity='1.030 SG'/>" \
	"<reading at='2031-03-12T19:00' gravity='1.030 SG'/>" NOTE("13T19:00", "roused the yeast") \
	"<reading at='2031-03-20T19:00' gravity='1.030 SG'/>"
#define FORCED(result, sg) "<test at='2031-03-23T19:00' kind='forced-fermentation' result='" result \
	"' gravity='" sg " SG'/>"
#define IN_BOTTLES "<package into='bottles'/>"
static const struct { const char *title, *body, *today, *tells; } stories[] = {
	{ "not brewed yet", "", "2031-02-27", "brew-day=1 first-look=1 reading-1=8 package=11" },
	{ "to be brewed on a day that is past: brew today", "", "2031-03-03", "brew-day=3 reading-1=10" },
	{ "just pitched", PITCH, "2031-03-01",
	    "brew-day+1 first-look=1 second-look=2 third-look=3 reading-1=8 reading-2=11" },
	{ "what was read at pitching is no look",
	    PITCH "<reading at='2031-03-01T18:00' wort='19 C' gravity='1.050 SG'/>", "2031-03-01", "first-look=1" },
	{ "nobody looked: one look makes up for all", PITCH, "2031-03-05",
	    "first-look-2 second-look-3 third-look!5 reading-1=8" },
	{ "a look that was missed is dropped when the first gravity is due", PITCH, "2031-03-08",
	    "first-look-2 second-look-3 third-look-8 reading-1=8" },
	{ "the last is due and not overdue, the ones before are", PITCH, "2031-03-03",
	    "first-look-2 second-look-3 third-look!3" },
	{ "too warm: cool it, today", PITCH "<reading at='2031-03-02T08:00' wort='30 C'/>", "2031-03-02",
	    "cool-now=2" },
	{ "pitched too warm", "<yeast class='clean-ale'/><pitch at='2031-03-01T18:00' temp='27 C'/>", "2031-03-01",
	    "cool-now=1" },
	{ "it was cooled",
	    PITCH "<reading at='2031-03-02T08:00' wort='30 C'/><reading at='2031-03-02T19:00' wort='20 C'/>",
	"2031-03-02", "cool-now0" },
	{ "said to be cooled",
	    PITCH "<reading at='2031-03-02T08:00' wort='30 C'/>" NOTE("02T10:00", "cooled it in the tub"),
	"2031-03-02", "cool-now+2" },
	{ "a yeast that likes it so", "<yeast class='kveik'/><pitch at='2031-03-01T18:00' temp='30 C'/>",
	    "2031-03-01", "cool-now0" },
	{ "after the first days it does little", PITCH "<reading at='2031-03-05T08:00' wort='30 C'/>", "2031-03-05",
	    "cool-now0" },
	{ "a room is no beer", PITCH "<reading at='2031-03-01T19:00' room='23 C'/>", "2031-03-01",
	    "first-look=1 cool-now0" },
	{ "all is looked at", PITCH LOOKED, "2031-03-05", "first-look+1 second-look+2 third-look+3 reading-1=8" },
	{ "a look on the third day counts for the first two", PITCH "<reading at='2031-03-03T19:00' wort='21 C'/>",
	    "2031-03-05",
	  "first-look+3 second-look+3 third-look+3" },
	{ "a reading far too early is not the first",
	    PITCH LOOKED "<reading at='2031-03-04T19:00' gravity='1.030 SG'/>", "2031-03-05", "reading-1=8" },
	{ "one gravity: the second three days on", PITCH LOOKED FELL, "2031-03-09",
	    "reading-1+8 reading-2=11 package=11" },
	{ "it fell: three days from there", PITCH LOOKED FELL "<reading at='2031-03-11T19:00' gravity='1.011 SG'/>",
	    "2031-03-11",
	  "reading-1+8 reading-2=14 package=14" },
	{ "a mark lower after three days has sunk, too",
	    PITCH LOOKED FELL "<reading at='2031-03-11T19:00' gravity='1.013 SG'/>", "2031-03-12",
	  "reading-1+8 reading-2=14 package=14" },
	{ "a mark each time is a fall, however long",
	    PITCH LOOKED FELL "<reading at='2031-03-11T19:00' gravity='1.013 SG'/>"
	  "<reading at='2031-03-14T19:00' gravity='1.012 SG'/>"
	  "<reading at='2031-03-17T19:00' gravity='1.011 SG'/>", "2031-03-17",
	  "reading-1+8 reading-2=20 package=20" },
	{ "once it stands, it stands", PITCH LOOKED FELL "<reading at='2031-03-11T19:00' gravity='1.013 SG'/>"
	  "<reading at='2031-03-14T19:00' gravity='1.013 SG'/>", "2031-03-14", "reading-1+8 reading-2+14 package=14" },
	{ "up a mark and back is no fall", PITCH LOOKED FELL "<reading at='2031-03-11T19:00' gravity='1.015 SG'/>"
	  "<reading at='2031-03-14T19:00' gravity='1.014 SG'/>", "2031-03-14", "reading-1+8 reading-2+14 package=14" },
	{ "it hangs: rouse it, and no packaging before a week is over", HANGS, "2031-03-12",
	    "reading-1+8 rouse=12 reading-2=19 package=19" },
	{ "roused: a week from there", HANGS NOTE("13T19:00", "roused it"), "2031-03-14",
	    "rouse+13 reading-2=20 package=20" },
	{ "two weeks at one gravity: done",
	    HANGS NOTE("13T19:00", "roused it") "<reading at='2031-03-22T19:00' gravity='1.015 SG'/>", "2031-03-22",
	  "rouse0 reading-1+8 reading-2+22 package=22" },
	{ "roused and a week waited for: a forced sample", STUCK, "2031-03-20",
	    "rouse+13 forced-sample=20 fresh-yeast=20 reading-2=27" },
	{ "it is asked for until it is done", STUCK "<reading at='2031-03-27T19:00' gravity='1.030 SG'/>",
	    "2031-03-27", "rouse+13 forced-sample=27" },
	{ "the forced sample fell: fresh yeast", STUCK FORCED("yes", "1.014"), "2031-03-23",
	    "forced-sample+23 fresh-yeast=23 reading-2=27" },
	{ "fresh yeast went in",
	    STUCK FORCED("yes", "1.014") NOTE("24T19:00", "pitched fresh yeast: packet of dry ale yeast"), "2031-03-24",
	  "forced-sample+23 fresh-yeast+24 reading-2=27" },
	{ "the forced sample ended there, too: done", STUCK FORCED("no", "1.030"), "2031-03-23",
	    "rouse0 fresh-yeast0 reading-2+20 package=23" },
	{ "no bottles are washed for a beer that hangs", IN_BOTTLES HANGS, "2031-03-12", "wash-bottles0 rouse=12" },
	{ "nor for one that is stuck for weeks",
	    IN_BOTTLES STUCK "<reading at='2031-03-27T19:00' gravity='1.030 SG'/>", "2031-03-27",
	"wash-bottles0 forced-sample=27" },
	{ "a forced sample that ended there lets them be washed", IN_BOTTLES STUCK FORCED("no", "1.030"),
	    "2031-03-23", "wash-bottles=23 package=23" },
	{ "a note that it is not done does not tick it", HANGS NOTE("13T19:00", "roused it? not yet"), "2031-03-14",
	    "rouse=14" },
	{ "it stood: package", PITCH LOOKED FELL STOOD, "2031-03-12",
	    "reading-1+8 reading-2+11 package=12 clean-up=12" },
	{ "it stands where no beer ends: not finished",
	    "<recipe volume='20 L' og='1.060 SG' fg='1.012 SG'/>" PITCH LOOKED
	  "<reading at='2031-03-01T17:00' gravity='1.060 SG'/><reading at='2031-03-08T19:00' gravity='1.035 SG'/>"
	  "<reading at='2031-03-12T19:00' gravity='1.035 SG'/>", "2031-03-12", "rouse=12 reading-2=19 package=19" },
	{ "packaging that waited too long is overdue", PITCH LOOKED FELL STOOD, "2031-03-26", "package!26" },
	{ "packaged without a reading", PITCH LOOKED "<package at='2031-03-15T10:00' into='bottles'/>", "2031-03-15",
	  "reading-1-15 reading-2-15 wash-bottles-15 package+15 clean-up=15 first-tasting=29" },
	{ "drunk: nobody tastes it again or puts it away",
	    PITCH LOOKED "<package at='2031-03-15T10:00' into='bottles' fate='drunk' fate-at='2031-03-30T10:00'/>"
	  TASTED_29, "2031-03-30", "first-tasting+29 cool-store-30 retaste-30" },
	{ "drunk before it was tasted", PITCH LOOKED "<package at='2031-03-15T10:00' into='bottles' fate='drunk'/>",
	    "2031-03-20", "first-tasting-20 retaste-20" },
	{ "opened and let off, it is still there",
	    PITCH LOOKED "<package at='2031-03-15T10:00' into='bottles' fate='let-off'/>", "2031-03-20",
	  "first-tasting=29" },
	{ "poured away while it worked: only the fermenter is left",
	    PITCH LOOKED "<package fate='poured-away' fate-at='2031-03-05T10:00'/>", "2031-03-06",
	  "reading-1-5 reading-2-5 package-5 clean-up=6 first-tasting-5" },
	{ "cleaning is not written down: done once it could wait no longer",
	    PITCH "<package at='2031-03-15T10:00' into='bottles'/>", "2031-03-17",
	  "clean-up-16 first-tasting=29" },
	{ "cleaned after packaging", PITCH PACKED_15 CLEANED("fermenter", "percarbonate"), "2031-03-15",
	    "package+15 clean-up+15 first-tasting=29" },
	{ "cleaned before the brew tells nothing of it", CLEANED("fermenter", "percarbonate") PITCH PACKED_15,
	    "2031-03-15", "clean-up=15" },
	{ "another piece is not the fermenter", PITCH PACKED_15 CLEANED("bottles", "percarbonate"), "2031-03-15",
	    "clean-up=15" },
	{ "nor is not cleaned clean", PITCH PACKED_15 CLEANED("fermenter", "none"), "2031-03-15", "clean-up=15" },
	{ "nor is it packaged by what is meant to be",
	    PITCH "<package into='bottles'/>" CLEANED("fermenter", "percarbonate"), "2031-03-05",
	"package=11 clean-up=11" },
	{ "a taste from the fermenter is no first tasting",
	    PITCH LOOKED "<tasting at='2031-03-08' from='fermenter'/>", "2031-03-08", "first-tasting=25" },
	{ "dry hops in: out after three days, and three more to stand",
	    PITCH LOOKED FELL "<dry-hop at='2031-03-08T19:00' amount='60 g'/>", "2031-03-09",
	  "dry-hop+8 hops-out=11 reading-2=14 package=14" },
	{ "dry hops in early are in", PITCH LOOKED "<dry-hop at='2031-03-04T19:00' amount='60 g'/>", "2031-03-05",
	    "dry-hop+4 hops-out=7 reading-1=8" },
	{ "no dry hops, as it says", PITCH LOOKED "<dry-hop amount='0 g'/>", "2031-03-05", "dry-hop0 hops-out0" },
	{ "a bare gravity takes no hops out",
	    PITCH LOOKED FELL "<dry-hop at='2031-03-08T19:00' amount='60 g'/>" STOOD, "2031-03-12",
	  "hops-out=12 reading-2=15" },
	{ "a contact told is when they are to come out", HOPS_4_D, "2031-03-09", "dry-hop+8 hops-out=12" },
	{ "and on that day it is still to do", HOPS_4_D, "2031-03-12", "hops-out=12 reading-2=15" },
	{ "and the day after", HOPS_4_D, "2031-03-13", "hops-out=13" },
	{ "and then overdue, though a gravity was read",
	    HOPS_4_D "<reading at='2031-03-14T19:00' gravity='1.014 SG'/>", "2031-03-15", "hops-out!15" },
	{ "a longer contact is waited for",
	    PITCH LOOKED FELL "<dry-hop at='2031-03-08T19:00' amount='60 g' contact='7 d'/>", "2031-03-12",
	"hops-out=15" },
	{ "hops out by a note, on the day they were to be", HOPS_4_D "<note>Hops out, lid open for a minute</note>",
	    "2031-03-13", "hops-out+12 reading-2=15" },
	{ "a note of today is no later than today", HOPS_4_D "<note>hops out</note>", "2031-03-10",
	    "hops-out+10 reading-2=13" },
	{ "a note that log wrote has its day", HOPS_4_D "<note>2031-03-11T19:00: hops out</note>", "2031-03-20",
	    "hops-out+11 reading-2=20" },
	{ "one of before they went in is of others", HOPS_4_D "<note>2031-03-07T19:00: hops out</note>",
	    "2031-03-13", "hops-out=13" },
	{ "a reminder that log wrote shows nothing", HOPS_4_D "<note>2031-03-11T19:00: must get hops out</note>",
	    "2031-03-13", "hops-out=13" },
	{ "a reminder shows nothing", HOPS_4_D "<note>must get hops out</note>", "2031-03-13", "hops-out=13" },
	{ "hops out by a transfer", HOPS_4_D "<transfer at='2031-03-11T19:00'/>", "2031-03-13",
	    "hops-out+11 reading-2=14" },
	{ "not by one before they went in", HOPS_4_D "<transfer at='2031-03-07T19:00'/>", "2031-03-13", "hops-out=13" },
	{ "nor by one that is planned", HOPS_4_D "<transfer at='2031-03-17T19:00'/>", "2031-03-13", "hops-out=13" },
	{ "hops out by packaging", HOPS_4_D "<package at='2031-03-14T10:00' into='keg'/>", "2031-03-14",
	    "hops-out-14 package+14" },
	{ "a keg has a line", PITCH LOOKED FELL STOOD "<package at='2031-03-15' into='keg'/>", "2031-03-20",
	    "clean-lines=36 first-tasting=22 wash-bottles0" },
	/* nobody wrote when it was pitched: supposed to be the evening of the brew day, and a day more must pass */
	{ "pitching untold: the day after nothing is overdue", UNTOLD, "2031-03-02",
	    "brew-day+1 first-look-2 second-look=2" },
	{ "but on the day after that", UNTOLD, "2031-03-03", "second-look-3 third-look!3" },
	{ "pitched in the evening: by the next morning it is looked at, and not overdue", PITCH, "2031-03-02",
	    "first-look-2 second-look=2" },
	{ "pitched in the morning: twelve hours are over that day", "<pitch at='2031-03-01T09:00' temp='19 C'/>",
	    "2031-03-02", "first-look-2 second-look!2" },
	/* chores, by what is logged, by a note, or by a later step */
	{ "bottles washed, written behind the pitching", PITCH LOOKED FELL CLEANED("bottles", "percarbonate"),
	    "2031-03-09", "wash-bottles+8 package=11" },
	{ "bottles washed before the brew are others", CLEANED("bottles", "percarbonate") PITCH LOOKED FELL,
	    "2031-03-09", "wash-bottles=9" },
	{ "bottles washed by a note", PITCH LOOKED FELL NOTE("09T19:00", "washed bottles, all fifty"), "2031-03-10",
	    "wash-bottles+9 package=11 reading-2=11" },
	{ "in the words of the calendar", PITCH LOOKED FELL NOTE("09T19:00", "done: Wash bottles"), "2031-03-10",
	    "wash-bottles+9 package=11" },
	{ "of before the brew", PITCH LOOKED FELL "<note>2031-02-20T19:00: washed bottles</note>", "2031-03-10",
	    "wash-bottles=10" },
	{ "a reminder washes none", PITCH LOOKED FELL NOTE("09T19:00", "must have washed bottles by Friday"),
	    "2031-03-10", "wash-bottles=10" },
	{ "without its day: no later than today", PITCH LOOKED FELL "<note>washed bottles</note>", "2031-03-10",
	    "wash-bottles+8" },
	{ "packaging implies clean bottles", PITCH LOOKED FELL STOOD PACKED_15, "2031-03-15",
	    "wash-bottles-15 package+15" },
	{ "the fermenter, by a note", PITCH PACKED_15 NOTE("15T18:00", "cleaned fermenter"), "2031-03-15",
	    "clean-up+15 package+15 first-tasting=29" },
	{ "not by one of before the packaging, and nothing is packaged by it",
	    PITCH NOTE("05T18:00", "cleaned fermenter"), "2031-03-06",
	  "clean-up=11 package=11 reading-1=8" },
	{ "a look by a note ticks no other", PITCH NOTE("02T08:00", "done: look again after a day"), "2031-03-02",
	    "second-look+2 first-look-2 third-look=3 reading-1=8" },
	{ "no gravity is read by a note", PITCH LOOKED FELL NOTE("11T19:00", "done: Second gravity reading"),
	    "2031-03-12", "reading-2=12 package=12" },
	{ "nor packaged", PITCH LOOKED FELL STOOD NOTE("12T19:00", "done: Package"), "2031-03-12", "package=12" },
	{ "bottles put away weeks after packaging, in the only store there is",
	    PITCH PACKED_15 TASTED_29 "<store from='2031-04-01' temp='8 C'/>", "2031-04-02",
	  "first-tasting+29 cool-store+32" },
	{ "a bottle opened early gives the others no gas: they stay till they have it", PITCH PACKED_15 TASTED_19,
	    "2031-03-21", "first-tasting+19 cool-store=29 retaste=47" },
	{ "what may burst is chilled at once, gas or not", PITCH BURSTING TASTED_19, "2031-03-19",
	    "first-tasting+19 cool-store=19" },
	{ "and before the first is tasted, which is still to be",
	    PITCH PACKED_15 "<store from='2031-03-25' temp='8 C'/>", "2031-03-26", "cool-store+25 first-tasting=29" },
	{ "where they get their gas is no move", PITCH PACKED_15 TASTED_29 "<store from='2031-03-15' temp='20 C'/>",
	    "2031-03-30", "cool-store=30" },
	{ "by a note", PITCH PACKED_15 TASTED_29 "<note>2031-04-01T19:00: moved bottles to the fridge</note>",
	    "2031-04-02", "cool-store+32 retaste=57" },
	{ "hops out ticks no gravity",
	    PITCH LOOKED "<dry-hop at='2031-03-05T19:00' amount='60 g'/>" NOTE("08T19:00", "hops out"), "2031-03-09",
	  "hops-out+8 dry-hop+5 reading-1=9 reading-2=11" },
	{ "tasted, and nothing written about packaging", PITCH "<tasting at='2031-03-29' from='bottle'/>", "2031-03-30",
	  "reading-1-29 reading-2-29 package-29 first-tasting+29 retaste=57" },
};

/* A day of March 2031, by which the stories count; April goes on from 31. */
static int of_march(double s) { return (int)lround((s - day("2031-03-01")) / DAY) + 1; }

START_TEST(behind)
{
	char ids[300], *save, *word;
	const struct ab_profile *p = profile("<batch-size volume='20 L'/><packs into='bottles'/>");
	struct ab_batchplan plan =
	    plan_of(p, journal("id='own-1' brewed='2031-03-01'", stories[_i].body), stories[_i].today);
	snprintf(ids, sizeof ids, "%s", stories[_i].tells);
	for (word = strtok_r(ids, " ", &save); word != NULL; word = strtok_r(NULL, " ", &save)) {
		/* ids hold hyphens and digits: the mark stands before the digits at the end */
		size_t at = strlen(word);
		while (at > 0 && word[at - 1] >= '0' && word[at - 1] <= '9')
			at--;
		bool none = strchr("+-=!", word[at - 1]) == NULL;
		char id[40], mark = none ? '0' : word[at - 1];
		int want = atoi(word + at);
		snprintf(id, sizeof id, "%.*s", none ? (int)strlen(word) - 1 : (int)at - 1, word);
		const struct ab_calendar_touch *t = find(plan.calendar, id);
		if (mark == '0') {
			ck_assert_msg(t == NULL, "%s: there is a %s", stories[_i].title, id);
			continue;
		}
		ck_assert_msg(t != NULL, "%s: there is no %s", stories[_i].title, id);
		char is = t->state == AB_TOUCH_DONE ? '+' : t->state == AB_TOUCH_MOOT ? '-' : t->overdue ? '!' : '=';
		ck_assert_msg(is == mark && of_march(t->day_s) == want, "%s: %s%c%d, not %c%d", stories[_i].title,
		    id, is, of_march(t->day_s), mark, want);
	}
}
END_TEST

/* Whatever day it is looked at: no touch is lost, none is both, what is to do is never before today, packaging
 * never before the second reading. */
START_TEST(any_day)
{
	const struct ab_profile *p = profile("<packs into='bottles'/><week free='sat, sun'/>");
	const struct ab_batch *b = journal("id='own-1' brewed='2031-03-01'", stories[_i].body);
	size_t total = 0;
	for (int d = 0; d < 60; d++) {
		struct ab_days *days = days_from("2031-03-01");
		struct ab_batchplan plan;
		char why[200];
		days->first_s += (double)d * DAY;
		ck_assert(ab_days_free(days, "sat, sun", false, why, sizeof why));
		struct ab_batchplan_asked asked = {
			.k = rules, .profile = p, .batches = batches, .n = n, .days = days, .drink_s = (double)NAN
		};
		ck_assert_int_eq(ab_batchplan_make(&asked, b, NULL, arena, &plan, &diag), AB_OK);
		const struct ab_calendar *c = plan.calendar;
		/* cooling is asked for in the first days alone, and on none of them twice */
		size_t cool = find(c, "cool-now") != NULL, all = c->n + c->n_past - cool;
		ck_assert(cool == 0 || d <= AB_RUSH_DAYS);
		total = total > 0 ? total : all;
		ck_assert_uint_eq(all, total);
		for (size_t i = 0; i < c->n; i++) {
			const struct ab_calendar_touch *t = &c->touches[i];
			ck_assert(t->state == AB_TOUCH_TO_DO && t->day_s >= days->first_s && !(t->day_s < t->due_s));
			ck_assert(t->overdue == (t->latest_s < days->first_s));
			ck_assert(t->before < 0 || t->day_s <= c->touches[t->before].day_s);
			ck_assert(t->before < 0 || t->overdue || t->latest_s <= c->touches[t->before].day_s ||
			    c->touches[t->before].after == (int)i);
		}
		const struct ab_calendar_touch *package = find(c, "package"), *second = find(c, "reading-2");
		if (package->state == AB_TOUCH_TO_DO)
			ck_assert(second->day_s <= package->day_s);
	}
}
END_TEST

/* ---- what is taken from where ---- */

#define RECIPE "<recipe volume='20 L'><hop use='bittering' amount='20 g'/></recipe>"
static const struct { const char *title, *before, *own, *profile, *fact; double value; enum ab_taken from;
    const char *yeast; enum ab_taken yeast_from; } taken[] = {
	{ "nothing is known", NULL, "", "", "pack.into", -1, AB_TAKEN_NOWHERE, "clean-ale", AB_TAKEN_NOWHERE },
	{ "bottles from the profile", NULL, "", "<packs into='keg'/>", "pack.into", 1, AB_TAKEN_PROFILE,
	    "clean-ale", AB_TAKEN_NOWHERE },
	{ "the last brew before the profile", "<yeast class='lager'/><package into='bottles'/>", "",
	    "<packs into='keg'/>", "pack.into", 0, AB_TAKEN_LAST,
	  "lager", AB_TAKEN_LAST },
	{ "its own word before all", "<yeast class='lager'/><package into='bottles'/>",
	    "<yeast class='kveik'/><package into='keg'/>", "", "pack.into", 1,
	  AB_TAKEN_BATCH, "kveik", AB_TAKEN_BATCH },
	{ "lager yeast as last time: a rest", "<yeast class='lager'/>", RECIPE, "", "yeast.lager", 1,
	    AB_TAKEN_NOWHERE, "lager", AB_TAKEN_LAST },
	{ "dry hops as last time, though the recipe lists none", RECIPE "<dry-hop at='+7d' amount='60 g'/>", RECIPE,
	    "", "hops.dry-load", 3, AB_TAKEN_LAST,
	  "clean-ale", AB_TAKEN_NOWHERE },
	{ "no dry hops this time, as it says", RECIPE "<dry-hop at='+7d' amount='60 g'/>",
	    RECIPE "<dry-hop amount='0 g'/>", "", "hops.dry-load", 0,
	  AB_TAKEN_BATCH, "clean-ale", AB_TAKEN_NOWHERE },
	{ "dry hops in the recipe", NULL, "<recipe volume='20 L'><hop use='dry' amount='40 g'/></recipe>", "",
	    "hops.dry-load", 2, AB_TAKEN_BATCH,
	  "clean-ale", AB_TAKEN_NOWHERE },
};

START_TEST(from_where)
{
	int slot = ab_fact_slot(ab_fact_defs(), taken[_i].fact);
	if (taken[_i].before != NULL)
		journal("id='own-1' brewed='2031-01-01' line='own'", taken[_i].before);
	struct ab_batch *own = journal("id='own-2' brewed='2031-03-01' line='own'", taken[_i].own);
	struct ab_batchplan plan = plan_of(profile(taken[_i].profile), own, "2031-02-27");
	const struct ab_taken_fact *f = NULL;
	for (size_t i = 0; i < plan.n_taken; i++)
		f = plan.taken[i].slot == slot ? &plan.taken[i] : f;
	ck_assert_msg((f == NULL) == (taken[_i].from == AB_TAKEN_NOWHERE), "%s", taken[_i].title);
	ck_assert_msg(f == NULL || (f->from == taken[_i].from && fabs(f->value - taken[_i].value) < 1e-9),
	    "%s: %d, %g", taken[_i].title, (int)f->from, f->value);
	ck_assert_msg(strcmp(plan.yeast->id, taken[_i].yeast) == 0 && plan.yeast_from == taken[_i].yeast_from,
	    "%s: %s", taken[_i].title, plan.yeast->id);
	bool lager = strcmp(taken[_i].yeast, "lager") == 0;
	ck_assert((find(plan.calendar, "rest") != NULL) == lager);
	ck_assert(strcmp(taken[_i].fact, "hops.dry-load") != 0 ||
	    (find(plan.calendar, "dry-hop") != NULL) == (taken[_i].value > 0));
}
END_TEST

/* The next brew without a journal is planned as the last was. */
START_TEST(next_brew)
{
	journal("id='own-1' brewed='2031-01-01' line='own'",
	    RECIPE
	    "<yeast class='lager'/><dry-hop at='+7d' amount='60 g'/><package at='2031-02-10' into='bottles'/>");
	struct ab_batchplan plan = plan_of(NULL, NULL, "2031-03-01");
	ck_assert(!plan.calendar->begun && plan.calendar->n_past == 0);
	ck_assert(find(plan.calendar, "dry-hop") != NULL && find(plan.calendar, "rest") != NULL &&
	    find(plan.calendar, "wash-bottles") != NULL);
}
END_TEST

/* Another line, an older brew of the same wort, and itself are no "last time". */
START_TEST(last_time)
{
	struct ab_batch *first = journal("id='a-1' brewed='2031-01-01' line='a'", ""), *a, *b;
	journal("id='x-1' brewed='2031-01-02' line='x'", "");
	a = journal("id='a-2a' brewed='2031-02-01' line='a' wort='w'", "");
	b = journal("id='a-2b' brewed='2031-02-01' line='a' wort='w'", "");
	ck_assert_ptr_eq(ab_batchplan_last(batches, n, b), first);
	ck_assert_ptr_eq(ab_batchplan_last(batches, n, a), first);
	ck_assert_ptr_null(ab_batchplan_last(batches, n, first));
}
END_TEST

/* The batch's own gravities tell its end before any usual pace does: the logistic of check_calendar, 75.55 h. */
START_TEST(own_gravities)
{
	static const double p[] = { 11.838, 10.927, 7.5, 4.073, 3.162, 3.022 };
	char text[TEXT];
	size_t len = (size_t)snprintf(text, sizeof text, "<pitch at='2031-03-01T12:00' temp='20 C'/>");
	for (size_t i = 0; i < 6; i++)
		len += (size_t)snprintf(text + len, sizeof text - len,
		    "<reading at='+%zuh' wort='20 C' gravity='%.2f P'/>", 20 * i, p[i]);
	struct ab_batchplan plan = plan_of(NULL, journal("id='own-1' brewed='2031-03-01'", text), "2031-03-06");
	ck_assert(plan.calendar->pace.own);
	ck_assert_double_eq_tol(plan.calendar->pace.primary, 75.55 / 24, 0.3);
}
END_TEST

/* ---- a folder ---- */

static void folder(void)
{
	journal("id='old-1' brewed='2030-03-01'", "<pitch at='2030-03-01T18:00'/>");                       /* asleep */
	journal("id='done-1' brewed='2030-12-01'",
	    "<pitch at='2030-12-01T18:00'/><tasting at='2031-01-02' from='bottle'/>"
	    "<tasting at='2031-01-30' from='bottle'/>");
	journal("id='run-1' brewed='2031-03-01'", PITCH LOOKED);
	journal("id='run-2' brewed='2031-03-02'", "<pitch at='2031-03-02T18:00'/>");
	journal("id='new-1' brewed='2031-03-08'", "");
}

START_TEST(unfinished)
{
	struct ab_batchplan_asked asked = {
		.k = rules, .batches = batches, .days = days_from("2031-03-06"), .drink_s = (double)NAN
	};
	const struct ab_batch *asleep[MOST];
	struct ab_batchplan *plans;
	size_t n_plans, n_asleep, minutes = 0, used = 0;
	folder();
	asked.n = n;
	ck_assert_int_eq(
	    ab_batchplan_unfinished(&asked, NULL, 0, arena, &plans, &n_plans, asleep, &n_asleep, &diag), AB_OK);
	ck_assert_uint_eq(n_plans, 3);
	ck_assert_str_eq(plans[0].batch->id, "run-1");
	ck_assert_str_eq(plans[2].batch->id, "new-1");
	ck_assert_uint_eq(n_asleep, 1);
	ck_assert_str_eq(asleep[0]->id, "old-1");
	ck_assert(plans[1].calendar->n_overdue == 1 && plans[0].calendar->n_overdue == 0 && !plans[2].calendar->begun);
	for (size_t i = 0; i < n_plans; i++)
		minutes += (size_t)plans[i].calendar->minutes;
	for (int i = 0; i < AB_CALENDAR_DAYS; i++)
		used += (size_t)asked.days->used[i];
	ck_assert_uint_eq(minutes, used);
	/* only those that were chosen */
	const struct ab_batch *one[] = { batches[3] };
	asked.days = days_from("2031-03-06");
	ck_assert_int_eq(ab_batchplan_unfinished(&asked, one, 1, arena, &plans, &n_plans, NULL, NULL, &diag), AB_OK);
	ck_assert(n_plans == 1 && plans[0].batch == batches[3]);
}
END_TEST

/* Two brews of five hours on a day of six: the second goes to another day. */
START_TEST(share_the_days)
{
	struct ab_days *days = days_from("2031-03-06");
	struct ab_batchplan_asked asked = { .k = rules, .batches = batches, .days = days, .drink_s = (double)NAN };
	struct ab_batchplan *plans;
	size_t n_plans;
	char why[200];
	journal("id='a-1' brewed='2031-03-08'", "");
	journal("id='b-1' brewed='2031-03-08'", "");
	asked.n = n;
	days->free_minutes = 360;
	ck_assert(ab_days_free(days, "sat, sun", false, why, sizeof why));
	ck_assert_int_eq(ab_batchplan_unfinished(&asked, NULL, 0, arena, &plans, &n_plans, NULL, NULL, &diag), AB_OK);
	ck_assert_int_eq(of_march(find(plans[0].calendar, "brew-day")->day_s), 8);
	ck_assert_int_eq(of_march(find(plans[1].calendar, "brew-day")->day_s), 9);
}
END_TEST

START_TEST(next_touch)
{
	struct ab_touch_next next;
	ck_assert_int_eq(ab_touch_next(rules, NULL, NULL, 0, day("2031-03-06"), arena, &next, &diag), AB_OK);
	ck_assert(!next.known && next.next.touch == NULL && next.n_overdue == 0);
	folder();
	ck_assert_int_eq(ab_touch_next(rules, profile("<week free='sat, sun'/>"), batches, n,
			     day("2031-03-06") + 40000, arena, &next, &diag),
	    AB_OK);
	ck_assert(next.known);
	ck_assert_uint_eq(next.n_overdue, 1);
	ck_assert_str_eq(next.overdue[0].batch->id, "run-2");
	ck_assert_str_eq(next.overdue[0].touch->id, "third-look");
	ck_assert_int_eq(of_march(next.overdue[0].day_s), 6);
	/* pitched at 18:00 on the second: twelve hours end on the third */
	ck_assert_int_eq(of_march(next.overdue[0].latest_s), 3);
	ck_assert(isnan(next.overdue[0].supposed_s));
	/* the reading of run-1 and the brew day of new-1 fall on the eighth: the one that was there first */
	ck_assert_int_eq(of_march(next.next.day_s), 8);
	ck_assert_str_eq(next.next.batch->id, "run-1");
	/* each batch's own, in the order of their brewing: the overdue one first, and when it is to be tasted */
	ck_assert_uint_ge(next.n_of, 3);
	for (size_t i = 0; i < next.n_of; i++) {
		const struct ab_touch_due *own = &next.of[i].next;
		ck_assert_ptr_nonnull(own->touch);
		ck_assert(i == 0 || next.of[i - 1].next.batch->brewed.s <= own->batch->brewed.s);
		ck_assert_int_eq(own->overdue, strcmp(own->batch->id, "run-2") == 0);
		ck_assert(own->overdue || own->day_s >= next.next.day_s);
		ck_assert(next.of[i].goal.touch == NULL || next.of[i].goal.touch->goal);
		ck_assert(next.of[i].goal.touch == NULL || next.of[i].goal.day_s >= own->day_s);
	}
	ck_assert_int_eq(ab_touch_next(rules, profile("<week free='payday'/>"), batches, n, day("2031-03-06"),
			     arena, &next, &diag),
	    AB_EINPUT);
	ck_assert(strstr(diag.text, "payday") != NULL);
}
END_TEST

/* Five hours of brewing do not begin in the evening; a short look still does. */
START_TEST(from_now_on)
{
	static const struct { double hour; int brews; } rows[] = { { 0, 8 }, { 10, 8 }, { 16, 8 }, { 17.5, 9 },
	    { 19.1, 9 }, { 23.9, 9 } };
	struct ab_touch_next next;
	journal("id='own-1' brewed='2031-03-08'", "");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_int_eq(ab_touch_next(rules, NULL, batches, n, day("2031-03-08") + rows[i].hour * 3600,
				     arena, &next, &diag),
		    AB_OK);
		ck_assert_str_eq(next.next.touch->id, "brew-day");
		ck_assert_int_eq(of_march(next.next.day_s), rows[i].brews);
	}
	n = 0;
	journal("id='own-2' brewed='2031-03-08'", "<pitch at='2031-03-08T18:00'/>");
	ck_assert_int_eq(
	    ab_touch_next(rules, NULL, batches, n, day("2031-03-08") + 23.5 * 3600, arena, &next, &diag), AB_OK);
	ck_assert_str_eq(next.next.touch->id, "first-look");
	ck_assert_int_eq(of_march(next.next.day_s), 8);
}
END_TEST

/* Hops in early: they are to come out on the day the first gravity is due. They may not wait as long. */
START_TEST(least_waiting_first)
{
	struct ab_touch_next next;
	journal("id='own-1' brewed='2031-03-01'",
	    PITCH LOOKED "<dry-hop at='2031-03-04T19:00' amount='60 g' contact='4 d'/>");
	ck_assert_int_eq(ab_touch_next(rules, profile("<batch-size volume='20 L'/>"), batches, n, day("2031-03-08"),
			     arena, &next, &diag),
	    AB_OK);
	ck_assert_str_eq(next.next.touch->id, "hops-out");
	ck_assert_str_eq(next.of[0].next.touch->id, "hops-out");
	ck_assert_int_eq(of_march(next.next.day_s), 8);
	/* packaging before the cleaning after it, though that waits a day only */
	n = 0;
	journal("id='own-2' brewed='2031-03-01'", PITCH LOOKED FELL STOOD);
	ck_assert_int_eq(ab_touch_next(rules, profile("<packs into='keg'/>"), batches, n, day("2031-03-12"), arena,
			     &next, &diag),
	    AB_OK);
	ck_assert_str_eq(next.next.touch->id, "package");
}
END_TEST

/* Washing prepares packaging and hides it on no day, however long nobody writes it down. */
START_TEST(chore_hides_nothing)
{
	struct ab_touch_next next;
	const struct ab_profile *p = profile("<packs into='bottles'/>");
	journal("id='own-1' brewed='2031-03-01'", PITCH LOOKED FELL STOOD);
	for (int d = 12; d <= 30; d++) {
		ck_assert_int_eq(
		    ab_touch_next(rules, p, batches, n, day("2031-03-01") + (d - 1.0) * DAY, arena, &next, &diag),
		    AB_OK);
		ck_assert_str_eq(next.of[0].next.touch->id, "package");
		ck_assert_ptr_nonnull(next.of[0].next.chore);
		ck_assert_str_eq(next.of[0].next.chore->id, "wash-bottles");
		ck_assert_int_eq(next.of[0].next.overdue, d > 25);
	}
	/* on a day before that it is a step like any other */
	n = 0;
	journal("id='own-2' brewed='2031-03-01'", PITCH LOOKED FELL);
	ck_assert_int_eq(ab_touch_next(rules, p, batches, n, day("2031-03-09"), arena, &next, &diag), AB_OK);
	ck_assert_str_eq(next.of[0].next.touch->id, "wash-bottles");
	ck_assert_ptr_null(next.of[0].next.chore);
}
END_TEST

/* Nobody wrote when it was pitched: that is said beside what hangs on it. */
START_TEST(supposed)
{
	struct ab_touch_next next;
	journal("id='own-1' brewed='2031-03-01'", UNTOLD);
	ck_assert_int_eq(ab_touch_next(rules, NULL, batches, n, day("2031-03-03"), arena, &next, &diag), AB_OK);
	ck_assert_uint_eq(next.n_overdue, 1);
	ck_assert_int_eq(of_march(next.overdue[0].supposed_s), 1);
}
END_TEST

/* A line serves all kegs on it: cleaned once, or laid once, for all of those days. */
static bool asks_for_line(const struct ab_batchplan *plans, size_t n_plans, const char *id)
{
	for (size_t i = 0; i < n_plans; i++) {
		const struct ab_calendar_touch *t = find(plans[i].calendar, "clean-lines");
		if (strcmp(plans[i].batch->id, id) == 0)
			return t != NULL && t->state == AB_TOUCH_TO_DO;
	}
	return false;
}

START_TEST(one_line)
{
	static const struct { const char *title, *packed, *note; bool first, second; } rows[] = {
		{ "two kegs of one week", "2031-03-20", "", true, false },
		{ "a month apart: each its own", "2031-04-15", "", true, true },
		{ "cleaned for the other one; the next time is two weeks on", "2031-03-20",
		    "<note>2031-03-30T10:00: cleaned lines</note>", false, true } };
	const struct ab_profile *p = profile("<packs into='keg'/>");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char body[TEXT];
		struct ab_batchplan *plans;
		size_t n_plans;
		n = 0;
		journal("id='keg-1' brewed='2031-03-01'",
		    PITCH "<package at='2031-03-15T10:00' into='keg'/><tasting at='2031-03-22' from='tap-keg'/>");
		snprintf(body, sizeof body, "<pitch at='2031-03-02T18:00'/><package at='%sT10:00' into='keg'/>%s",
		    rows[i].packed, rows[i].note);
		journal("id='keg-2' brewed='2031-03-02'", body);
		struct ab_batchplan_asked asked = { .k = rules,
			.profile = p,
			.batches = batches,
			.n = n,
			.days = days_from("2031-03-31"),
			.drink_s = (double)NAN };
		ck_assert_int_eq(
		    ab_batchplan_unfinished(&asked, NULL, 0, arena, &plans, &n_plans, NULL, NULL, &diag), AB_OK);
		ck_assert_msg(asks_for_line(plans, n_plans, "keg-1") == rows[i].first, "%s", rows[i].title);
		ck_assert_msg(asks_for_line(plans, n_plans, "keg-2") == rows[i].second, "%s", rows[i].title);
	}
}
END_TEST

/* The next beer is in that fermenter: it was cleaned. */
START_TEST(fermenter_again)
{
	struct ab_batch *b =
	    journal("id='own-1' brewed='2031-03-01'", "<vessel id='blue' kind='bucket'/>" PITCH PACKED_15);
	ck_assert_int_eq(find(plan_of(NULL, b, "2031-03-16").calendar, "clean-up")->state, AB_TOUCH_TO_DO);
	journal("id='other-1' brewed='2031-03-16'", "<vessel id='red' kind='bucket'/><pitch at='2031-03-16T18:00'/>");
	ck_assert_int_eq(find(plan_of(NULL, b, "2031-03-16").calendar, "clean-up")->state, AB_TOUCH_TO_DO);
	journal("id='other-2' brewed='2031-03-16'", "<vessel id='blue' kind='bucket'/><pitch at='2031-03-16T18:00'/>");
	ck_assert_int_eq(find(plan_of(NULL, b, "2031-03-16").calendar, "clean-up")->state, AB_TOUCH_DONE);
}
END_TEST

/* Every touch of the rules can be seen as done: by a record, or by a note in its own words; and it says what to
 * type. */
START_TEST(all_can_be_told)
{
	for (size_t i = 0; i < rules->n_touches; i++) {
		const struct ab_touch *t = &rules->touches[i];
		const char *near[4];
		size_t n_near;
		ck_assert_msg(t->shown != AB_SHOWN_NONE || ab_touch_by_note(t->shown), "%s", t->id);
		ck_assert_msg(t->tell != NULL && strstr(t->tell, " BATCH ") != NULL, "%s", t->id);
		ck_assert_int_eq(ab_touch_word(rules, t->title, near, 4, &n_near), (int)i);
		ck_assert_int_eq(ab_touch_word(rules, t->id, near, 4, &n_near), (int)i);
	}
	const char *near[8];
	size_t n_near;
	ck_assert_str_eq(
	    rules->touches[ab_touch_word(rules, "the bottles washed", near, 8, &n_near)].id, "wash-bottles");
	ck_assert_int_eq(ab_touch_word(rules, "clean", near, 8, &n_near), -1);
	ck_assert_uint_gt(n_near, 1);
	ck_assert_int_eq(ab_touch_word(rules, "the dog", near, 8, &n_near), -1);
	ck_assert_uint_eq(n_near, 0);
}
END_TEST

START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	folder();
	long at = 0;
	for (; st != AB_OK && at < 4000; at++) {
		struct ab_touch_next next;
		struct ab_diag d;
		ab_diag_init(&d);
		ab_alloc_fail_at(at);
		struct ab_arena *own = ab_arena_new();
		st = own == NULL ? AB_ENOMEM
				 : ab_touch_next(rules, NULL, batches, n, day("2031-03-06"), own, &next, &d);
		ab_alloc_fail_at(-1);
		ab_arena_free(own);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 2);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("batchplan");
	TCase *tc = tcase_create("batchplan");
	tcase_set_timeout(tc, 120);
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, begin, end);
	tcase_add_loop_test(tc, behind, 0, sizeof stories / sizeof *stories);
	tcase_add_loop_test(tc, any_day, 0, sizeof stories / sizeof *stories);
	tcase_add_loop_test(tc, from_where, 0, sizeof taken / sizeof *taken);
	tcase_add_test(tc, next_brew);
	tcase_add_test(tc, last_time);
	tcase_add_test(tc, own_gravities);
	tcase_add_test(tc, unfinished);
	tcase_add_test(tc, share_the_days);
	tcase_add_test(tc, next_touch);
	tcase_add_test(tc, chore_hides_nothing);
	tcase_add_test(tc, supposed);
	tcase_add_test(tc, one_line);
	tcase_add_test(tc, fermenter_again);
	tcase_add_test(tc, all_can_be_told);
	tcase_add_test(tc, least_waiting_first);
	tcase_add_test(tc, from_now_on);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
