/* check_nextstep.c - one answer to "what now": danger, beers that exist, the next brew
 *
 * A folder is written as one letter a batch, brewed on the first of January, February, ... 2031: n = only its
 * journal is there, r = running, p = packaged and not tasted, f = tasted and faulty, c = tasted and clean, b =
 * tasted and most likely nothing wrong. "!" after it: its bottles may burst; "^": its keg stands under pressure;
 * "'" after it: of the line "stout", else "pale".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/nextstep.h>

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 12, DAY = 86400 };

static struct ab_batch batch[MOST];
static struct ab_case room[MOST], *cases[MOST];
static struct ab_diagnosis found[MOST];
static struct ab_suspect suspect = { .cause = 7 };
static struct ab_tasting tasting[MOST];
static char id[MOST][4];
static struct ab_pitch pitch;
static struct ab_package package;
static const struct ab_norms norms = { .numbers = { [AB_NUM_YOUNG_D] = 60, [AB_NUM_BOTTLES_D] = 365 } };
static struct ab_warning burst = { .id = "bottle-pressure", .text = "!" },
			 pressed = { .id = "pressure-unjudged", .text = "^" };

static double day(int month, int of_month)
{
	return ab_when_from_civil(2031, month, of_month) + DAY / 2;
}

static void one(size_t i, char state)
{
	snprintf(id[i], sizeof id[i], "%zu", i + 1);
	tasting[i] = (struct ab_tasting){ .at = { .known = true, .s = day((int)i + 1, 1) + 30.0 * DAY } };
	batch[i] = (struct ab_batch){ .id = id[i], .line = "pale", .brewed = { .known = true, .s = day((int)i + 1, 1) },
		.pitch = state != 'n' ? &pitch : NULL, .package = strchr("nr", state) == NULL ? &package : NULL };
	found[i] = (struct ab_diagnosis){
		.verdict_benign = state == 'b', .suspects = &suspect, .n_suspects = state != 'c'
	};
	room[i] = (struct ab_case){ .batch = &batch[i], .diagnosis = &found[i], .tasted = strchr("fcb", state) != NULL,
		.load = state == 'f' ? 2 : 0 };
	if (room[i].tasted)
		batch[i].tastings = (struct ab_list){ &tasting[i], 1, 1 };
	cases[i] = &room[i];
}

static size_t folder(const char *states)
{
	size_t n = 0;

	for (; *states != '\0'; states++)
		if (*states == '!' || *states == '^') {
			found[n - 1].warnings = *states == '!' ? &burst : &pressed;
			found[n - 1].n_warnings = 1;
		} else if (*states == '\'') {
			batch[n - 1].line = "stout";
		} else {
			ck_assert_uint_lt(n, MOST);
			one(n++, *states);
		}
	return n;
}

/* "taste 2*" is batch 2 with a change on trial. */
static const char *told(const struct ab_next_step *step, size_t n)
{
	static char text[256];

	text[0] = '\0';
	for (size_t i = 0; i < n; i++) {
		size_t len = strlen(text);
		snprintf(text + len, sizeof text - len, "%s%s%s%s%s", i > 0 ? ", " : "", ab_next_words[step[i].kind],
		    step[i].batch != NULL ? " " : "", step[i].batch != NULL ? step[i].batch->id : "",
		    step[i].trial != NULL ? "*" : "");
	}
	return text;
}

/* folder; first and second change of the profile (month it was noted on the 15th, 0 = none; line); a check before
 * buying? what is to be done */
static const struct row {
	const char *folder;
	int first, second;
	const char *line;
	bool check;
	const char *told;
} rows[] = {
	{ "", 0, 0, NULL, false, "begin" },
	{ "f", 0, 0, NULL, false, "begin" },
	{ "c", 0, 0, NULL, false, "begin" },
	{ "f", 0, 0, NULL, true, "check, begin" },
	/* a beer that is well is left alone, and the plan speaks of the next one */
	{ "fb", 0, 0, NULL, false, "wait 2, begin" },
	{ "bf", 0, 0, NULL, false, "begin" },
	{ "fbp", 0, 0, NULL, false, "taste 3, wait 2, begin" },
	/* beers that exist come before the next brew */
	{ "fr", 0, 0, NULL, false, "tend 2, begin" },
	{ "frr", 0, 0, NULL, false, "tend 3, begin" },
	{ "fp", 0, 0, NULL, false, "taste 2, begin" },
	{ "fpp", 0, 0, NULL, false, "taste 3, begin" },
	{ "fprn", 0, 0, NULL, false, "tend 3, taste 2, begin 4" },
	/* danger before all; the newest is named */
	{ "f!f!r", 0, 0, NULL, false, "safe 2, tend 3, begin" },
	{ "p!", 0, 0, NULL, false, "safe 1, taste 1, same 1" },
	/* a keg under pressure comes next, and is neither left alone nor brewed again just so: "well" is asked of
	   the advice */
	{ "fp^", 0, 0, NULL, false, "vent 2, taste 2, begin" },
	{ "f^f!r", 0, 0, NULL, false, "safe 2, vent 1, tend 3, begin" },
	/* and nothing is well, or left to wait, in bottles that may burst */
	{ "fc!", 1, 0, NULL, false, "safe 2, begin" },
	{ "fb!", 0, 0, NULL, false, "safe 2, begin" },
	/* before a beer was tasted nothing is known that could be changed */
	{ "n", 0, 0, NULL, false, "same 1" },
	{ "r", 0, 0, NULL, true, "tend 1, same 1" },
	{ "pr", 0, 0, NULL, false, "tend 2, taste 1, same 2" },
	{ "p", 1, 0, NULL, false, "taste 1, brew 1*, after" },
	/* a change on trial: brew with it, and begin no other */
	{ "f", 1, 0, NULL, false, "brew 1*, after" },
	{ "f", 1, 0, NULL, true, "brew 1*, after" },
	{ "fn", 1, 0, NULL, false, "brew 2*, after" },
	{ "ff'", 2, 0, "pale", false, "brew 1*, after" },
	{ "fn'", 1, 0, "pale", false, "brew 1*, begin 2" }, /* the trial is of the pale, and a stout comes next */
	{ "f", 1, 1, NULL, false, "brew 1*, brew 1*, after" },
	/* brewed with it: tend it, then taste it; nothing new before that */
	{ "fr", 1, 0, NULL, false, "tend 2, after" },
	{ "fp", 1, 0, NULL, false, "taste 2*, after" },
	{ "fpp'", 1, 0, "pale", false, "taste 2*, after" },
	{ "fp'", 1, 0, "pale", false, "taste 2, brew 1*, after" },
	{ "fp", 1, 3, NULL, false, "taste 2*, brew 2*, after" },
	/* noted for a day far ahead: not yet */
	{ "f", 3, 0, NULL, false, "brew 1*, after" },
	{ "f", 6, 0, NULL, false, "begin" },
	/* tasted with it: the trial is over */
	{ "ff", 1, 0, NULL, false, "begin" },
	/* and where it tasted well the change stays, and the next one is told */
	{ "fc", 1, 0, NULL, false, "keep 2*, begin" },
	{ "fb", 1, 0, NULL, false, "wait 2, keep 2*, begin" },
	{ "fcr", 1, 0, NULL, true, "tend 3, keep 2*, check, begin" },
	{ "fc", 1, 0, "stout", false, "brew*, after" },
	{ "fcf", 1, 0, NULL, false, "begin" },
	{ "fc'f", 2, 0, "stout", false, "brew 2*, after" },
	/* a trial of one beer is no business of another that is about to be brewed */
	{ "ff'n'", 1, 0, "pale", false, "brew 1*, begin 3" },
	{ "ff'n'", 1, 0, "pale", true, "check, brew 1*, begin 3" },
	{ "ff'n", 1, 0, "pale", false, "brew 3*, after" },
	{ "fpn'", 1, 0, "pale", false, "taste 2*, begin 3" },
	{ "ffn'", 2, 0, NULL, false, "brew 3*, after" },
	/* of a beer that nobody brews any more: after six brews of others it holds up nothing */
	{ "f'ffffff", 1, 0, "stout", false, "begin, forgotten*" },
	{ "f'fffff", 1, 0, "stout", false, "brew 1*, after" },
	{ "f'ffffff", 1, 0, NULL, false, "begin" },
	{ "fcf", 2, 0, "pale", false, "begin" },
};

static size_t run(const struct row *r, int item, struct ab_next_step *out)
{
	static const struct ab_ask ask;
	struct ab_changed changed[2] = { { .what = "a", .line = r->line, .on = { .known = true,
	    .s = day(r->first, 15) } },
		{ .what = "b", .on = { .known = true, .s = day(r->second, 15) } } };
	size_t n = (r->first > 0) + (r->second > 0);
	const struct ab_profile profile = { .changed = { changed, n, n } };
	const struct ab_next_of of = { cases, folder(r->folder), n > 0 ? &profile : NULL, { .known = false }, item,
		item, r->check ? &ask : NULL, NULL, NULL, 0, NULL, 0, false, &norms, NULL };

	return ab_next_steps(&of, out);
}

START_TEST(in_order)
{
	struct ab_next_step out[AB_NEXT_MOST];
	size_t n = run(&rows[_i], 3, out);

	ck_assert_str_eq(told(out, n), rows[_i].told);
	for (size_t i = 0; i < n; i++) {
		ck_assert_int_eq(out[i].item,
		    out[i].kind >= AB_NEXT_BEGIN && out[i].kind != AB_NEXT_FORGOTTEN ? 3 : -1); /* of "same": not
												   told yet */
		ck_assert_int_eq(out[i].cause, out[i].kind == AB_NEXT_WAIT ? 7 : -1);
		ck_assert_int_eq(out[i].check != NULL, out[i].kind == AB_NEXT_CHECK);
	}
}
END_TEST

/* Against what is on trial, by the place of the change in the profile; of another beer, too. */
static const struct { const char *title, *folder, *line; unsigned char same[2]; int second; const char *under;
    } unders[] = {
	{ "against something else", "f", NULL, { 0, 0 }, 0, NULL }, { "against the same", "f", NULL, { 1, 0 }, 0, "a" },
	{ "the second of two", "f", NULL, { 1, 0 }, 1, "a" }, { "the other of two", "f", NULL, { 0, 1 }, 1, "b" },
	{ "of another beer", "fn'", "pale", { 1, 0 }, 0, "a" }, { "no longer on trial", "ff", NULL, { 1, 0 }, 0, NULL },
};

START_TEST(under_trial)
{
	struct ab_next_step out[AB_NEXT_MOST];
	struct ab_changed changed[2] = { { .what = "a", .line = unders[_i].line, .on = { .known = true,
	    .s = day(1, 15) } },
		{ .what = "b", .on = { .known = true, .s = day(1, 15) } } };
	const struct ab_profile profile = { .changed = { changed, 1 + (size_t)unders[_i].second, 2 } };
	const struct ab_next_of of = { .cases = cases,
		.n = folder(unders[_i].folder),
		.profile = &profile,
		.item = 3,
		.after = 3,
		.norms = &norms,
		.same = unders[_i].same };
	size_t n = ab_next_steps(&of, out), asked = 0;

	for (size_t i = 0; i < n; i++) {
		if (out[i].item < 0)
			continue;
		asked++;
		ck_assert_msg(unders[_i].under == NULL
			? out[i].under == NULL
			: out[i].under != NULL && strcmp(out[i].under->what, unders[_i].under) == 0,
		    "%s", unders[_i].title);
	}
	ck_assert_uint_eq(asked, 1);
}
END_TEST

/* Kept somewhere, and nobody wrote that it was packaged: since when is told, so that it can be asked. */
static const struct { const char *title, *folder; bool from, relative; double stored_s; } stores[] = {
	{ "in the cellar, not packaged", "r", true, false, 9 }, { "packaged", "p", true, false, 0 },
	{ "no day of it", "r", false, false, 0 },
	{ "days after nobody knows what", "r", true, true, 0 },
};

START_TEST(stored)
{
	struct ab_store store = { .from = { .known = stores[_i].from, .relative = stores[_i].relative, .s = 9 } };
	struct ab_next_step out[AB_NEXT_MOST];
	const struct ab_next_of of = {
		.cases = cases, .n = folder(stores[_i].folder), .item = 3, .after = 3, .norms = &norms
	};

	batch[0].stores = (struct ab_list){ &store, 1, 1 };
	ck_assert_uint_gt(ab_next_steps(&of, out), 0);
	ck_assert_msg(out[0].stored_s == stores[_i].stored_s, "%s: %g", stores[_i].title, out[0].stored_s);
}
END_TEST

/* A journal of which nothing but the recipe was written: to be brewed as long as its day is not well past, by the clock
 * or by what was brewed since. The first batch is of January, the second of February. */
static const struct { const char *title, *folder; double days; const char *told; bool coming; } olds[] = {
	{ "its day is ahead", "fn", -20, "begin 2", true }, { "its day", "fn", 0, "begin 2", true },
	{ "as long as the calendar waits for it", "fn", 60, "begin 2", true }, { "longer", "fn", 61, "begin", false },
	{ "months ago", "fn", 200, "begin", false }, { "no clock", "fn", NAN, "begin 2", true },
	{ "another was brewed a month after it", "nf", 5, "begin", false },
	{ "so too without a clock", "nf", NAN, "begin", false },
	{ "two planned, the newer is ahead", "nn", -31, "same 2", true },
	{ "two planned, and no clock", "nn", NAN, "same 2", true },
	{ "nothing to change, and it is old", "n", 300, "same 1", false },
};

START_TEST(old_journals_are_not_to_come)
{
	struct ab_next_step out[AB_NEXT_MOST];
	size_t n = folder(olds[_i].folder);
	double newest = day(n > 1 ? 2 : 1, 1);
	const struct ab_next_of of = { .cases = cases,
		.n = n,
		.today = { .known = !isnan(olds[_i].days), .s = newest + olds[_i].days * DAY },
		.item = strchr(olds[_i].folder, 'f') != NULL ? 3 : -1,
		.after = -1,
		.norms = &norms };

	n = ab_next_steps(&of, out);
	const struct ab_next_step *last = NULL;
	for (size_t i = 0; i < n; i++)
		last = out[i].kind >= AB_NEXT_BREW ? &out[i] : last;
	ck_assert_msg(last != NULL, "%s", olds[_i].title);
	ck_assert_msg(strcmp(told(last, 1), olds[_i].told) == 0, "%s: %s", olds[_i].title, told(out, n));
	ck_assert_msg(last->coming == olds[_i].coming, "%s", olds[_i].title);
}
END_TEST

/* Nothing to change is an answer too; and there is always one. */
static const struct row idle[] = {
	{ "", 0, 0, NULL, false, "same" }, { "c", 0, 0, NULL, false, "same 1" }, { "cn", 0, 0, NULL, false, "same 2" },
	{ "cr", 0, 0, NULL, false, "tend 2, same 2" }, { "f", 1, 0, NULL, false, "brew 1*" },
	{ "fp", 1, 0, NULL, false, "taste 2*" },
};

START_TEST(nothing_to_change)
{
	struct ab_next_step out[AB_NEXT_MOST];

	ck_assert_str_eq(told(out, run(&idle[_i], -1, out)), idle[_i].told);
}
END_TEST

/* What the batches tell: better on the whole speaks for a change though its beer had faults; a habit of many brews
 * is no news. */
static const struct { const char *folder; double p_better; size_t n_after; double days; const char *told; } kepts[] = {
	{ "ff", 0.7, 1, 40, "keep 2*, begin" }, { "ff", 0.5, 1, 40, "keep 2*, begin" },
	{ "ff", 0.3, 1, 40, "begin" }, { "ff", NAN, 1, 40, "begin" },
	{ "fc", NAN, 1, 40, "keep 2*, begin" }, { "fc", 0.3, 1, 40, "keep 2*, begin" },
	{ "fc", 0.9, 4, 40, "begin" }, { "fc", 0.9, 3, 40, "keep 2*, begin" },
	{ "fc", 0.9, 1, 95, "begin" },
};

START_TEST(keeps)
{
	struct ab_changed changed = { .what = "a", .on = { .known = true, .s = day(1, 15) } };
	const struct ab_profile profile = { .changed = { &changed, 1, 1 } };
	const struct ab_next_kept kept = { &changed, 1, kepts[_i].n_after, 0, kepts[_i].p_better, false };
	size_t n = folder(kepts[_i].folder);
	const struct ab_next_of of = { cases, n, &profile, { .known = true, .s = day(2, 1) + kepts[_i].days * DAY },
		3, 3, NULL, NULL, &kept, 1, NULL, 0, false, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];

	n = ab_next_steps(&of, out);
	ck_assert_str_eq(told(out, n), kepts[_i].told);
	for (size_t i = 0; i < n; i++)
		ck_assert_ptr_eq(out[i].kept, out[i].kind == AB_NEXT_KEEP ? &kept : NULL);
}
END_TEST

/* Days from the brewing of two batches (tasted a month after it): what is told? "Wait" is news for a week and
 * stands last then. */
static const struct { double days; const char *told; } ages[] = {
	{ -4000, "safe 1, wait 2, begin" },   /* a clock before the journals is no clock */
	{ 0, "safe 1, wait 2, begin" }, { 37, "safe 1, wait 2, begin" }, { 38, "safe 1, begin, wait 2" },
	{ 89, "safe 1, begin, wait 2" },
	{ 91, "safe 1, begin" }, { 364, "safe 1, begin" }, { 366, "begin" }, { NAN, "safe 1, wait 2, begin" },
};

START_TEST(grows_old)
{
	size_t n = folder("f!b");
	const struct ab_next_of of = { cases, n, NULL,
		{ .known = !isnan(ages[_i].days), .s = day(1, 1) + ages[_i].days * DAY }, 3, 3, NULL, NULL, NULL, 0,
		NULL, 0, false, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];

	batch[1].brewed = batch[0].brewed;
	tasting[1].at = tasting[0].at;
	n = ab_next_steps(&of, out);
	ck_assert_str_eq(told(out, n), ages[_i].told);
}
END_TEST

/* A slip in the year of one journal: the bottles of another are no older for it. */
START_TEST(a_slip_hides_no_danger)
{
	size_t n = folder("f!c");
	const struct ab_next_of of = { cases, n, NULL, { .known = true, .s = day(3, 1) }, 3, 3, NULL, NULL, NULL, 0,
		NULL, 0, false, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];

	batch[1].brewed.s += 36525.0 * DAY;
	tasting[1].at.s += 36525.0 * DAY;
	n = ab_next_steps(&of, out);
	ck_assert_str_eq(told(out, n), "safe 1, begin");
}
END_TEST

/* days from the brewing of a batch that was never packaged: is it still tended, as the calendar does? */
static const struct { double days; const char *told; } forgotten[] = {
	{ -4000, "tend 2, begin" }, { 20, "tend 2, begin" }, { AB_PLAN_ASLEEP_DAYS - 1, "tend 2, begin" },
	{ AB_PLAN_ASLEEP_DAYS + 2, "begin" }, { NAN, "tend 2, begin" },
};

START_TEST(falls_asleep)
{
	size_t n = folder("fr");
	double days = forgotten[_i].days;
	const struct ab_next_of of = { cases, n, NULL, { .known = !isnan(days), .s = day(2, 1) + days * DAY }, 3, 3,
		NULL, NULL, NULL, 0, NULL, 0, false, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];

	n = ab_next_steps(&of, out);
	ck_assert_str_eq(told(out, n), forgotten[_i].told);
	ck_assert_int_eq(n == 1, ab_batchplan_asleep(&batch[1], of.today.known ? of.today.s : -INFINITY));
}
END_TEST

/* Each batch's own: what it needs next (days from today; o = overdue, - = nothing known) and its tasting; what is
 * told. */
static const struct { const char *folder, *next; int taste; const char *told; } dues[] = {
	{ "fr", "-4", 0, "tend 2 +4, begin" },
	{ "fr", "--", 0, "tend 2, begin" },
	/* the soonest of two; overdue before all; what is not known is last */
	{ "frr", "-52", 0, "tend 3 +2, begin" }, { "frr", "-25", 0, "tend 2 +2, begin" },
	{ "frr", "-5o", 0, "tend 3 o, begin" },
	{ "frr", "-o0", 0, "tend 2 o, begin" }, { "frr", "-5-", 0, "tend 2 +5, begin" },
	/* packaged or tasted: only what is for today, and its tasting has a step of its own */
	{ "fp", "-0", 14, "tend 2 +0, taste 2 +14, begin" }, { "fp", "-3", 14, "taste 2 +14, begin" },
	{ "fp", "-o", 14, "tend 2 o, taste 2 +14, begin" }, { "fp", "-t", 3, "taste 2 +3, begin" },
	{ "fr", "04", 0, "tend 2 +4, tend 1 +0, begin" }, { "fr", "14", 0, "tend 2 +4, begin" },
	{ "ff", "0-", 0, "tend 1 +0, begin" },
	{ "frp", "o50", 14, "tend 2 +5, tend 1 o, taste 3 +14, begin" },
	/* the day of a brew */
	{ "fn", "-6", 0, "begin 2 +6" }, { "n", "6", 0, "same 1 +6" }, { "fn", "06", 0, "tend 1 +0, begin 2 +6" },
};

/* As told(), with the days of what is due. */
static const char *told_days(const struct ab_next_step *step, size_t n, double today_s)
{
	static char text[256];

	text[0] = '\0';
	for (size_t i = 0; i < n; i++) {
		size_t len = strlen(text);
		const struct ab_touch_due *d = step[i].due;
		char day_text[16] = "";
		if (d != NULL && d->overdue)
			strcpy(day_text, " o");
		else if (d != NULL)
			snprintf(day_text, sizeof day_text, " +%.0f", (d->day_s - today_s) / DAY);
		snprintf(text + len, sizeof text - len, "%s%s%s", i > 0 ? ", " : "", told(&step[i], 1), day_text);
	}
	return text;
}

START_TEST(due)
{
	static const struct ab_touch look = { .id = "look" }, taste = { .id = "taste", .goal = true };
	struct ab_batch_due of[MOST] = { { .next = { .touch = NULL } } };
	struct ab_touch_next touches = { .known = true, .of = of };
	size_t n = folder(dues[_i].folder);
	double today = day((int)n, 1) + 40.0 * DAY;
	const struct ab_next_of asked = { cases, n, NULL, { .known = true, .s = today }, 3, 3, NULL, &touches, NULL,
		0, NULL, 0, false, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];

	for (size_t i = 0; i < n; i++) {
		char c = dues[_i].next[i];
		const struct ab_touch_due last = { &batch[i], &taste, today + dues[_i].taste * DAY,
			today + 99 * DAY, false, NULL, (double)NAN, NULL, NULL, (double)NAN };
		if (c == '-')
			continue;
		of[touches.n_of++] =
		    (struct ab_batch_due){ .goal =
					       dues[_i].taste > 0 ? last : (struct ab_touch_due){ .batch = NULL },
			    .next = c == 't'
				? last
				: (struct ab_touch_due){ &batch[i], &look, today + (c == 'o' ? 0 : c - '0') * DAY,
				      today + 99 * DAY, c == 'o', NULL, (double)NAN, NULL, NULL, (double)NAN },
			    .fit = AB_FIT_ALL };
	}
	n = ab_next_steps(&asked, out);
	ck_assert_str_eq(told_days(out, n, today), dues[_i].told);
	for (size_t i = 0; i < touches.n_of; i++)
		of[i].fit = AB_FIT_PRESSED;
	n = ab_next_steps(&asked, out);
	for (size_t i = 0; i < n; i++) {   /* said of what has a plan, and of each batch once */
		bool first = true, plan = false;
		for (size_t k = 0; k < touches.n_of; k++)
			plan = plan || of[k].next.batch == out[i].batch || of[k].goal.batch == out[i].batch;
		plan = plan && (out[i].kind == AB_NEXT_TEND || out[i].due != NULL);
		for (size_t k = 0; k < i; k++)
			first = first && !(out[k].batch == out[i].batch && out[k].fit == AB_FIT_PRESSED);
		ck_assert(out[i].fit == (plan && first && out[i].batch != NULL ? AB_FIT_PRESSED : AB_FIT_ALL));
	}
}
END_TEST

/* Whatever the folder: room enough, in the order of urgency, at most one of what comes last, and no new change
 * beside a trial. */
/* The newest beer is well and what was tasted before is gone: nothing new is begun, nor looked into; a trial goes
 * on. */
static const struct { const char *folder; int trial; double brew_s; bool has_day; const char *told; } well[] = {
	{ "c", 0, 0, false, "same 1" }, { "fc", 0, 8640000, true, "same 2" }, { "fcn", 0, 8640000, false, "same 3" },
	{ "fcr", 0, 8640000, false, "tend 3, same 3" }, { "fb", 0, 8640000, true, "wait 2, same 2" },
	{ "fc", 3, 8640000, true, "brew 2*, after" },
};

START_TEST(all_is_well)
{
	static const struct ab_ask ask;
	struct ab_changed changed = { .what = "a", .on = { .known = true, .s = day(well[_i].trial, 15) } };
	const struct ab_profile profile = { .changed = { &changed, well[_i].trial > 0, well[_i].trial > 0 } };
	const struct ab_touch_next touches = { .brew_s = well[_i].brew_s };
	const struct ab_next_of of = { cases, folder(well[_i].folder), &profile, { .known = false }, 3, 3, &ask,
		&touches, NULL, 0, NULL, 0, true, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];
	size_t n = ab_next_steps(&of, out), days = 0;

	ck_assert_str_eq(told(out, n), well[_i].told);
	for (size_t i = 0; i < n; i++) {
		ck_assert_int_eq(out[i].well, out[i].kind == AB_NEXT_SAME);
		days += out[i].brew_s > 0;
	}
	ck_assert_uint_eq(days, well[_i].has_day);
}
END_TEST

START_TEST(any_folder)
{
	static const char states[] = "nrpfcb";
	unsigned seed = 1;

	for (int trial = 0; trial < 5000; trial++) {
		char text[3 * MOST + 1] = "";
		struct ab_next_step out[AB_NEXT_MOST];
		struct row r = { text, 0, 0, NULL, false, NULL };
		size_t kinds[AB_NEXTS] = { 0 }, n;

		seed = seed * 1103515245U + 12345U;
		for (unsigned i = 0, bits = seed >> 3; i < seed % MOST; i++, bits = bits * 69069U + 1) {
			strncat(text, &states[bits / 7 % 6], 1);
			strcat(text, bits / 97 % 5 == 0 ? "!" : bits / 97 % 5 == 1 ? "'" : "");
		}
		r.first = (int)(seed / 31 % 4) * 3;
		r.second = r.first > 0 ? (int)(seed / 77 % 3) * 4 : 0;
		r.line = seed / 1001 % 2 ? "stout" : NULL;
		r.check = seed / 511 % 2;
		n = run(&r, seed / 5 % 3 == 0 ? -1 : 2, out);
		ck_assert_uint_ge(n, 1);
		ck_assert_uint_le(n, AB_NEXT_MOST);
		for (size_t i = 0; i < n; i++) {
			ck_assert(out[i].kind != AB_NEXT_SAFE || i == 0);
			/* no danger is left out */
			size_t bangs = 0;
			for (const char *c = text; *c != '\0'; c++)
				bangs += *c == '!';
			if (i == 0)
				ck_assert_uint_eq(
				    bangs, out[0].kind == AB_NEXT_SAFE ? 1 + out[0].n_also + out[0].n_more : 0);
			/* what is old news stands behind all that can be done */
			ck_assert(i == 0 || out[i - 1].kind <= out[i].kind || out[i].kind == AB_NEXT_WAIT);
			kinds[out[i].kind]++;
		}
		ck_assert_uint_le(kinds[AB_NEXT_BEGIN] + kinds[AB_NEXT_SAME] + kinds[AB_NEXT_AFTER], 1);
		/* with a change on trial another is begun only for another beer, and that is said */
		for (size_t i = 0; i < n; i++)
			if (out[i].kind == AB_NEXT_BEGIN && out[i].line != NULL)
				ck_assert(r.line != NULL && strcmp(r.line, out[i].line) != 0 &&
				    strcmp(out[i].batch->line, out[i].line) == 0);
			else if (out[i].kind == AB_NEXT_BEGIN)
				ck_assert_uint_eq(kinds[AB_NEXT_BREW], 0);
		ck_assert_uint_le(kinds[AB_NEXT_TASTE], 1);
	}
}
END_TEST

START_TEST(words)
{
	for (int i = 0; i < AB_NEXTS; i++)
		ck_assert_ptr_nonnull(ab_next_words[i]);
}
END_TEST

/* What is dated ahead is told, and its danger before that of others; it is not among the cases. */
START_TEST(dated_ahead)
{
	size_t n = folder("f!fp!");
	struct ab_case *const *ahead = cases + 2;
	const struct ab_next_of of = { cases, n - 1, NULL, { .known = true, .s = day(3, 1) }, 3, 3, NULL, NULL,
		NULL, 0, ahead, 1, false, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];

	ck_assert_str_eq(told(out, ab_next_steps(&of, out)), "safe 3, date 3, begin");
	found[2].n_warnings = 0;
	ck_assert_str_eq(told(out, ab_next_steps(&of, out)), "safe 1, date 3, begin");
}
END_TEST

/* brewed and planned up to the 1st and the 10th of March; a tasting as one that was brewed */
static const struct { char state; int brewed, tasted; bool relative, ahead; } limits_of[] = {
	{ 'r', 1, 0, false, false }, { 'r', 2, 0, false, true }, { 'n', 2, 0, false, false },
	{ 'n', 10, 0, false, false },
	{ 'n', 11, 0, false, true }, { 'f', 1, 1, false, false }, { 'f', 1, 2, false, true },
	{ 'f', 1, 20, true, false },
};

START_TEST(is_dated_ahead)
{
	const struct ab_dated limits = { day(3, 1), day(3, 10) };

	one(0, limits_of[_i].state);
	batch[0].brewed.s = day(3, limits_of[_i].brewed);
	tasting[0].at = (struct ab_when){ .known = limits_of[_i].tasted > 0,
		.relative = limits_of[_i].relative,
		.s = day(3, limits_of[_i].tasted) };
	ck_assert(ab_next_dated_ahead(&batch[0], &limits) == limits_of[_i].ahead);
	batch[0].brewed.known = false;
	ck_assert(ab_next_dated_ahead(&batch[0], &limits) == (limits_of[_i].tasted == 2));
}
END_TEST

/* days from the noting of a change, for any beer, that no batch or one never tasted was brewed with */
static const struct { const char *folder; double days; const char *told; } waits[] = {
	{ "f", 300, "brew 1*, after" }, { "f", 364, "brew 1*, after" }, { "f", 367, "begin, forgotten*" },
	{ "fp", 364, "taste 2*, after" }, { "fp", 500, "begin, forgotten 2*" },
};

START_TEST(a_forgotten_trial)
{
	struct ab_changed changed = { .what = "a", .on = { .known = true, .s = day(1, 15) } };
	const struct ab_profile profile = { .changed = { &changed, 1, 1 } };
	struct ab_next_of of = { cases, folder(waits[_i].folder), &profile,
		{ .known = true, .s = changed.on.s + waits[_i].days * DAY }, 3, 3, NULL, NULL, NULL, 0, NULL, 0,
		false, &norms, NULL };
	struct ab_next_step out[AB_NEXT_MOST];

	ck_assert_str_eq(told(out, ab_next_steps(&of, out)), waits[_i].told);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("nextstep");
	TCase *tc = tcase_create("steps");
	SRunner *sr = srunner_create(s);

	tcase_add_loop_test(tc, in_order, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(tc, under_trial, 0, sizeof unders / sizeof *unders);
	tcase_add_loop_test(tc, old_journals_are_not_to_come, 0, sizeof olds / sizeof *olds);
	tcase_add_loop_test(tc, nothing_to_change, 0, sizeof idle / sizeof *idle);
	tcase_add_loop_test(tc, keeps, 0, sizeof kepts / sizeof *kepts);
	tcase_add_loop_test(tc, grows_old, 0, sizeof ages / sizeof *ages);
	tcase_add_test(tc, a_slip_hides_no_danger);
	tcase_add_loop_test(tc, falls_asleep, 0, sizeof forgotten / sizeof *forgotten);
	tcase_add_loop_test(tc, due, 0, sizeof dues / sizeof *dues);
	tcase_add_loop_test(tc, all_is_well, 0, (int)(sizeof well / sizeof *well));
	tcase_add_loop_test(tc, stored, 0, sizeof stores / sizeof *stores);
	tcase_add_test(tc, any_folder);
	tcase_add_test(tc, words);
	tcase_add_test(tc, dated_ahead);
	tcase_add_loop_test(tc, is_dated_ahead, 0, (int)(sizeof limits_of / sizeof *limits_of));
	tcase_add_loop_test(tc, a_forgotten_trial, 0, (int)(sizeof waits / sizeof *waits));
	suite_add_tcase(s, tc);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_NORMAL);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
