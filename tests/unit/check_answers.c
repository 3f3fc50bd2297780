/* check_answers.c - what a brewer types, and that each answer lands in the journal and gives its fact back
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/facts.h>
#include "base/alloc.h"
#include "casework/interviewing.h"
#include "process/slots.h"
#include "rulecase.h"

static const char today[] = "2031-03-07";

/* ---- what is typed ---- */

/* The row of a fact, by number of its part. */
static const struct case_row *row_of(int slot, size_t part)
{
	for (size_t i = 0; i < case_n_rows; i++)
		if (case_rows[i].slot == slot && part-- == 0)
			return &case_rows[i];
	ck_abort_msg("no row");
	return NULL;
}

static const struct case_choice yes_no[] = { { "yes", "yes" }, { "no", "no" } };

static struct case_asked asked_of(const struct case_row *row, bool us)
{
	struct case_asked a = { .row = row, .spec = ab_edit_spec(row->target), .today = today, .us_units = us };
	if (row->choices != NULL) {
		a.choices = row->choices;
		while (row->choices[a.n_choices].says != NULL)
			a.n_choices++;
	} else if (a.spec->kind == AB_ATTR_YESNO) {
		a.choices = yes_no;
		a.n_choices = 2;
	}
	return a;
}

enum { V = CASE_SAID_VALUE, U = CASE_SAID_UNKNOWN, W = CASE_SAID_WRONG };

static const struct { int slot; size_t part; bool us; const char *said; int kind; const char *value;
    bool guess; } said[] = {
	/* yes and no */
	{ AB_F_LOOKS_FILM, 0, false, "yes", V, "yes", false }, { AB_F_LOOKS_FILM, 0, false, " Y ", V, "yes", false },
	{ AB_F_LOOKS_FILM, 0, false, "No.", V, "no", false }, { AB_F_LOOKS_FILM, 0, false, "nope", V, "no", false },
	{ AB_F_LOOKS_FILM, 0, false, "I think yes", V, "yes", true },
	{ AB_F_LOOKS_FILM, 0, false, "probably not", V, "no", true },
	{ AB_F_LOOKS_FILM, 0, false, "yes?", V, "yes", true }, { AB_F_LOOKS_FILM, 0, false, "2", V, "no", false },
	{ AB_F_LOOKS_FILM, 0, false, "purple", W, "", false }, { AB_F_LOOKS_FILM, 0, false, "3", W, "", false },
	/* turned round: something unsanitised touched it */
	{ AB_F_PITCH_CLEAN, 0, false, "yes", V, "no", false }, { AB_F_PITCH_CLEAN, 0, false, "no", V, "yes", false },
	/* a word that several answers hold, and that is the journal's own for one of them */
	{ AB_F_WATER_SOURCE, 0, false, "tap", V, "tap", false },
	{ AB_F_WATER_SOURCE, 0, false, "tap, through a softener", V, "softened", false },
	/* not known */
	{ AB_F_LOOKS_FILM, 0, false, "", U, "", false }, { AB_F_LOOKS_FILM, 0, false, "  ", U, "", false },
	{ AB_F_LOOKS_FILM, 0, false, "don't know", U, "", false },
	{ AB_F_LOOKS_FILM, 0, false, "No idea", U, "", false },
	{ AB_F_FERMENT_ROOM, 0, false, "not sure", U, "", false }, { AB_F_PACK_CAP, 0, false, "dunno", U, "", false },
	/* choices: number, words, the beginning, a word inside */
	{ AB_F_CHILL_METHOD, 0, false, "2", V, "coil", false },
	{ AB_F_CHILL_METHOD, 0, false, "immersion coil", V, "coil", false },
	{ AB_F_CHILL_METHOD, 0, false, "counter", V, "counterflow", false },
	{ AB_F_CHILL_METHOD, 0, false, "overnight", V,
	    "overnight-closed", false }, { AB_F_CHILL_METHOD, 0, false, "8", W, "", false }, {
	    AB_F_CHILL_METHOD, 0, false, "0", W, "", false },
	{ AB_F_CHILL_METHOD, 0, false, "chiller", W, "", false },
	{ AB_F_CHILL_METHOD, 0, false, "plate?", V, "plate", true },
	{ AB_F_YEAST_KEPT, 0, false, "yes", V, "cold", false },
	{ AB_F_YEAST_KEPT, 0, false, "fridge", V, "cold", false },
	{ AB_F_YEAST_KEPT, 0, false, "no", V, "room", false }, { AB_F_BOIL_LID, 0, false, "on", V, "on", false },
	{ AB_F_BOIL_LID, 0, false, "off", V, "off", false },
	{ AB_F_CRASH_AIRLOCK, 0, false, "I did not chill it", U, "", false },
	{ AB_F_RECIPE_FAMILY, 0, false, "an american pale ale", V, "pale-hoppy", false },
	{ AB_F_RECIPE_FAMILY, 0, false, "IPA", V, "pale-hoppy", false },
	{ AB_F_RECIPE_FAMILY, 0, false, "imperial stout", V, "strong", false },
	{ AB_F_RECIPE_FAMILY, 0, false, "stout", V, "dark-roast", false },
	{ AB_F_RECIPE_FAMILY, 0, false, "saison", V, "belgian-farmhouse", false },
	{ AB_F_RECIPE_FAMILY, 0, false, "no", W, "", false },
	{ AB_F_RECIPE_FAMILY, 0, false, "s", W, "", false }, { AB_F_RECIPE_FAMILY, 0, false, "porters", W, "", false },
	/* temperatures */
	{ AB_F_FERMENT_ROOM, 0, false, "20", V, "20 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "20 C", V, "20 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "68 F", V, "68 F", false },
	{ AB_F_FERMENT_ROOM, 0, false, "68f", V, "68 F", false },
	{ AB_F_FERMENT_ROOM, 0, true, "68", V, "68 F", false },
	{ AB_F_FERMENT_ROOM, 0, true, "20 c", V, "20 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "68", W, "", false },
	{ AB_F_FERMENT_ROOM, 0, false, "19,5", V, "19.5 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "20 degrees", V, "20 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "20 \302\260C", V, "20 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "20\302\260", V, "20 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "20 degrees celsius", V, "20 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "about 20", V, "20 C", true },
	{ AB_F_FERMENT_ROOM, 0, false, "20?", V, "20 C", true },
	{ AB_F_FERMENT_ROOM, 0, false, "20 C or so", V, "20 C", true },
	{ AB_F_FERMENT_ROOM, 0, false, "~20", V, "20 C", true },
	{ AB_F_FERMENT_ROOM, 0, false, "18-20", V, "19 C", true },
	{ AB_F_FERMENT_ROOM, 0, false, "18 to 21 C", V, "19.5 C", true },
	{ AB_F_FERMENT_ROOM, 0, false, "-5 C", V, "-5 C", false },
	{ AB_F_FERMENT_ROOM, 0, false, "warm", W, "", false },
	{ AB_F_FERMENT_ROOM, 0, false, "20 psi", W, "", false }, { AB_F_FERMENT_ROOM, 0, false, "20 30", W, "", false },
	/* amounts */
	{ AB_F_PACK_PRIMING, 0, false, "120", V, "120 g", false },
	{ AB_F_PACK_PRIMING, 0, true, "4.5", V, "4.5 oz", false },
	{ AB_F_PACK_PRIMING, 0, false, "120 grams of sugar", W, "", false },
	{ AB_F_PACK_PRIMING, 0, false, "120 grams", V, "120 g", false },
	{ AB_F_PACK_PRIMING, 0, false, "4 ounces", V, "4 oz", false },
	{ AB_F_PACK_PRIMING, 0, false, "none", V, "0 g", false },
	{ AB_F_PACK_PRIMING, 1, false, "five gallons", V, "5 gal", false },
	{ AB_F_PACK_PRIMING, 1, false, "20 litres", V, "20 L", false },
	{ AB_F_PACK_PRIMING, 1, false, "20l", V, "20 L", false },
	{ AB_F_PACK_NECK, 0, true, "1 inch", V, "1 in", false },
	{ AB_F_PACK_NECK, 0, false, "3 cm", V, "3 cm", false }, { AB_F_KEG_CO2, 0, true, "12", V, "12 psi", false },
	{ AB_F_PITCH_RATE_SHARE, 1, false, "two", V, "2", false },
	{ AB_F_PITCH_RATE_SHARE, 1, false, "1.5", V, "1.5", false },
	/* gravities */
	{ AB_F_GRAVITY_OG, 0, false, "1.050", V, "1.050 SG", false },
	{ AB_F_GRAVITY_OG, 0, false, "1050", V, "1.05 SG", false },
	{ AB_F_GRAVITY_OG, 0, false, "12 P", V, "12 P", false },
	{ AB_F_GRAVITY_OG, 0, false, "12 plato", V, "12 P", false },
	{ AB_F_GRAVITY_OG, 0, false, "12", W, "", false },
	{ AB_F_GRAVITY_OG, 0, false, "50 points", V, "50 points", false },
	{ AB_F_GRAVITY_OG, 0, false, "about 1.050", V, "1.050 SG", true },
	{ AB_F_GRAVITY_OG, 0, false, "1.5", W, "", false },
	/* lengths of time */
	{ AB_F_LAG_TIME, 0, false, "12", V, "12 h", false }, { AB_F_LAG_TIME, 0, false, "two days", V, "2 d", false },
	{ AB_F_LAG_TIME, 0, false, "a day", V, "1 d", false },
	{ AB_F_LAG_TIME, 0, false, "1 h 30 min", V, "1 h 30 min", false },
	{ AB_F_LAG_TIME, 0, false, "an hour and 30 minutes", V, "1 h 30 min", false },
	{ AB_F_LAG_TIME, 0, false, "12-24 hours", V, "18 h", true },
	{ AB_F_VESSEL_AGE, 0, false, "half a year", V, "0.5 y", false },
	{ AB_F_VESSEL_AGE, 0, false, "3", V, "3 y", false },
	{ AB_F_VESSEL_AGE, 0, false, "90 years", W, "", false },
	{ AB_F_FERMENT_REST_DAYS, 0, false, "no", V, "0 d", false },
	{ AB_F_HOPS_AGE, 0, false, "2 years old", V, "2 y", false },
	/* days */
	{ AB_F_STORE_DAYS, 0, false, "2 weeks ago", V, "2031-02-21", false },
	{ AB_F_STORE_DAYS, 0, false, "yesterday", V, "2031-03-06", false },
	{ AB_F_STORE_DAYS, 0, false, "2031-02-01", V, "2031-02-01", false },
	{ AB_F_STORE_DAYS, 0, false, "2031-02-30", W, "", false },
	{ AB_F_STORE_DAYS, 0, false, "about 10 days", V, "2031-02-25", true },
	{ AB_F_STORE_DAYS, 0, false, "in May", W, "", false },
	{ AB_F_FERMENT_DAYS, 0, false, "14", V, "+14d", false },
	{ AB_F_FERMENT_DAYS, 0, false, "2 weeks", V, "+14d", false },
	{ AB_F_FERMENT_DAYS, 0, false, "2031-02-01", W, "", false },
};

START_TEST(typed)
{
	const struct case_row *row = row_of(said[_i].slot, said[_i].part);
	struct case_asked asked = asked_of(row, said[_i].us);
	struct case_said out;
	case_read_said(&asked, said[_i].said, &out);
	ck_assert_msg((int)out.kind == said[_i].kind, "\"%s\": %d \"%s\" %s", said[_i].said, (int)out.kind,
	    out.value, out.why);
	if (said[_i].kind == V) {
		ck_assert_msg(strcmp(out.value, said[_i].value) == 0, "\"%s\": %s", said[_i].said, out.value);
		ck_assert_msg(out.guess == said[_i].guess, "\"%s\": a guess?", said[_i].said);
	}
	if (said[_i].kind == W)
		ck_assert_msg(strlen(out.why) > 10, "\"%s\" is not explained", said[_i].said);
}
END_TEST

/* Whatever is typed, nothing breaks and nothing is written past its end. */
START_TEST(anything)
{
	static const char bits[] = "0123456789.,-+?~ abcdefghijklmnopqrstuvwxyz\302\260'%)(=";
	unsigned long seed = 12345 + (unsigned long)_i;
	char text[1200];
	const struct case_row *row = &case_rows[(size_t)_i % case_n_rows];
	if (strcmp(row->target, "yeast class") == 0)
		return;
	for (int k = 0; k < 300; k++) {
		size_t n = 0, len = (seed >> 7) % (k % 10 == 0 ? 1100 : 24);
		for (; n < len; n++) {
			seed = seed * 6364136223846793005UL + 1442695040888963407UL;
			text[n] = bits[(seed >> 33) % (sizeof bits - 1)];
		}
		text[n] = '\0';
		struct case_asked asked = asked_of(row, k % 2 == 0);
		struct case_said out;
		case_read_said(&asked, text, &out);
		ck_assert(strlen(out.value) < sizeof out.value && strlen(out.why) < sizeof out.why);
		ck_assert_msg(out.kind != CASE_SAID_VALUE || out.edits != NULL || out.value[0] != '\0', "\"%s\"", text);
		ck_assert_msg(out.kind != CASE_SAID_WRONG || out.why[0] != '\0', "\"%s\"", text);
	}
}
END_TEST

/* ---- the table ---- */

START_TEST(table_is_sound)
{
	for (size_t i = 0; i < case_n_rows; i++) {
		const struct case_row *row = &case_rows[i];
		const struct ab_fact_def *def = &ab_fact_defs()->defs[row->slot];
		const struct ab_attr_spec *spec = ab_edit_spec(row->target);
		ck_assert_msg(spec != NULL, "%s: no place \"%s\"", def->name, row->target);
		ck_assert_msg(row->asks != NULL || def->asks != NULL, "%s has no question", def->name);
		bool number =
		    spec->kind == AB_ATTR_QUANTITY || spec->kind == AB_ATTR_NUMBER || spec->kind == AB_ATTR_WHEN;
		ck_assert_msg(
		    row->choices != NULL || !number || row->tries != NULL, "%s has nothing to try", def->name);
		ck_assert_msg(spec->kind != AB_ATTR_QUANTITY || row->choices != NULL ||
			(row->metric != NULL && row->us != NULL),
		    "%s: what is a bare number?", def->name);
	}
}
END_TEST

/* Every word of a list of the journal can be chosen where a question offers words of that list. */
START_TEST(all_words_offered)
{
	for (size_t i = 0; i < case_n_rows; i++) {
		const struct ab_attr_spec *spec = ab_edit_spec(case_rows[i].target);
		const struct case_choice *c = case_rows[i].choices;
		if (spec->kind != AB_ATTR_WORD || c == NULL || strcmp(spec->name, "sanitiser") == 0 ||
		    strcmp(spec->name, "rinse") == 0 || strcmp(spec->name, "extent") == 0)
			continue;   /* the rest of these is another question's answer */
		for (size_t w = 0; spec->words[w] != NULL; w++) {
			/* Cleaned with who knows what answers nothing that is asked of cleaners. */
			bool offered = strcmp(spec->words[w], "unknown") == 0 ||
			    (strcmp(spec->name, "cleaned") == 0 && strcmp(spec->words[w], "other") == 0);
			for (size_t j = 0; c[j].says != NULL; j++)
				offered = offered || (c[j].value != NULL && strcmp(c[j].value, spec->words[w]) == 0);
			ck_assert_msg(offered, "%s: \"%s\" cannot be chosen", case_rows[i].target, spec->words[w]);
		}
	}
}
END_TEST

/* ---- there and back ---- */

/* A journal in which every fact could be told: dated, packaged, tasted. */
static const char dated[] =
    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-01-01'>\n<yeast class='clean-ale'/>\n"
    "<package into='%s' at='2031-02-01'/>\n<tasting at='2031-03-07'><found fault='buttery' intensity='3'/>"
    "</tasting>\n</batch>\n";

static struct ab_interview *interview_on(const char *text)
{
	struct ab_interview *iv;
	struct ab_diag diag;
	const struct ab_interview_setup setup = { .k = rules, .name = "b.xml", .today = today, .questions = 10 };
	ab_diag_init(&diag);
	enum ab_status st = ab_interview_new(&setup, text, strlen(text), "b", &iv, &diag);
	ck_assert_msg(st == AB_OK, "%s\n%s", diag.text, text);
	return iv;
}

/* The journal for a fact: its own row must not be told in it. */
static void journal_for(const struct case_row *row, char *text, size_t size)
{
	const char *name = ab_fact_defs()->defs[row->slot].name;
	bool keg = strncmp(name, "keg.", 4) == 0 || strcmp(name, "serve.gas-over") == 0;
	if (row->when == CASE_UNDATED)
		snprintf(text, size,
		    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-03-07'>\n<note>" IV_NO_DATE
		    "</note>\n"
		    "<package into='bottles'/>\n<tasting><found fault='buttery' intensity='3'/></tasting>\n</batch>\n");
	else if (row->when == CASE_UNPACKAGED || row->slot == AB_F_PACK_INTO || row->slot == AB_F_SERVE_FROM)
		snprintf(text, size,
		    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-03-01'>\n<yeast class='clean-ale'/>\n"
		    "<tasting at='2031-03-07'><found fault='buttery' intensity='3'/></tasting>\n</batch>\n");
	else if (row->when == CASE_SLURRY)
		snprintf(text, size,
		    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-01-01'>"
		    "\n<yeast class='clean-ale' form='slurry'/>\n"
		    "<tasting at='2031-03-07'><found fault='buttery' intensity='3'/></tasting>\n</batch>\n");
	else if (row->slot == AB_F_FERMENT_DAYS || row->slot == AB_F_STORE_DAYS)
		snprintf(text, size,
		    "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2030-09-01'>\n<yeast class='clean-ale'/>\n"
		    "<package into='bottles'/>\n<tasting at='2031-03-07'><found fault='buttery' intensity='3'/>"
		    "</tasting>\n</batch>\n");
	else if (row->slot == AB_F_TASTE_BEER_AGE)
		snprintf(text, size, "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-01-01'>\n"
		    "<tasting><found fault='buttery' intensity='3'/></tasting>\n</batch>\n");
	else if (row->slot == AB_F_YEAST_PHENOLIC)
		snprintf(text, size, "<batch xmlns='urn:afterboil:journal:1' id='b' brewed='2031-01-01'>\n"
		    "<tasting at='2031-03-07'><found fault='buttery' intensity='3'/></tasting>\n</batch>\n");
	else
		snprintf(text, size, dated, keg ? "keg" : "bottles");
}

struct answer { const char *said; size_t number; };

static bool next_try(const struct case_asked *asked, size_t i, char *to, size_t size)
{
	const char *at = asked->row->tries;
	if (asked->n_choices > 0) {
		snprintf(to, size, "%zu", i + 1);
		return i < asked->n_choices;
	}
	for (; at != NULL && i > 0; i--)
		at = strchr(at, '|') == NULL ? NULL : strchr(at, '|') + 1;
	if (at != NULL)
		snprintf(to, size, "%.*s", (int)strcspn(at, "|"), at);
	return at != NULL;
}

/* Does the row come into play in this journal? */
static bool plays(const struct ab_interview *iv, const struct case_row *row)
{
	bool packaged = iv->now.batch->package != NULL && iv->now.batch->package->into != 0, is_dated = iv_is_dated(iv);
	const struct ab_fact *form = &iv->now.c->facts[AB_F_YEAST_FORM];
	bool is_slurry = AB_FACT_KNOWN(form) && strcmp(ab_words_yeast_form[(int)form->value], "slurry") == 0;
	struct ab_edit_place place = iv_place(iv);
	char target[IV_TARGET];
	iv_target(iv, row, target, sizeof target);
	if ((row->when == CASE_DATED && !(packaged && is_dated)) ||
	    (row->when == CASE_UNDATED && !(packaged && !is_dated)) || (row->when == CASE_SLURRY && !is_slurry) ||
	    (row->when == CASE_NO_SLURRY && is_slurry) || (row->when == CASE_PACKAGED && !packaged) ||
	    (row->when == CASE_UNPACKAGED && packaged))
		return false;
	return !(row->own != 0 && AB_FACT_KNOWN(&iv->now.c->facts[row->own])) && !ab_edit_told(&place, target);
}

/* Gives the try of this row, and of all other rows of its fact the first; the case of the text then. */
static bool give(struct ab_interview *iv, const struct case_row *vary, size_t number, bool guess, struct iv_work *w)
{
	struct ab_edit_place place = iv_place(iv);
	char *text = NULL;
	size_t len = 0;
	bool given = false, unknown = false;
	struct ab_diag diag;
	ab_diag_init(&diag);
	for (size_t i = 0; i < case_n_rows; i++) {
		const struct case_row *row = &case_rows[i];
		struct case_asked asked;
		struct case_said out;
		char word[64], line[80];
		if (row->slot != vary->slot || !plays(iv, row))
			continue;
		iv_asked(iv, row, &asked);
		if (!next_try(&asked, row == vary ? number : 0, word, sizeof word))
			break;
		snprintf(line, sizeof line, "%s%s", guess && row == vary ? "about " : "", word);
		case_read_said(&asked, line, &out);
		ck_assert_msg(out.kind != CASE_SAID_WRONG, "%s: \"%s\": %s", row->target, line, out.why);
		unknown = unknown || (row == vary && out.kind == CASE_SAID_UNKNOWN);
		char *next;
		enum ab_status st = iv_written(iv, &place, row, &out, &next, &len, &diag);
		ck_assert_msg(st == AB_OK, "%s: \"%s\": %s", row->target, word, diag.text);
		ab_free(text);
		text = next;
		place.text = next;
		place.len = len;
		given = given || row == vary;
	}
	if (!given || unknown) {
		ab_free(text);
		return false;
	}
	enum ab_status st = iv_work(iv, text, len, false, w, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s\n%s", vary->target, diag.text, text);
	ab_free(text);
	return true;
}

/* What no answer of this row alone can make known, with the reason. */
static bool may_stay_open(int slot, const char *target, size_t number)
{
	/* boiling or standing helps against chlorine, not against chloramine: which of them it is must be known too */
	/* slurry is measured by volume, which is another row */
	if (slot == AB_F_PITCH_RATE_SHARE && strcmp(target, "yeast form") == 0)
		return number == 2;
	if (slot == AB_F_WATER_CHLORINE && strcmp(target, "water treatment") == 0)
		return number == 3 || number == 4;
	return false;
}

START_TEST(there_and_back)
{
	const struct case_row *row = &case_rows[_i];
	const char *name = ab_fact_defs()->defs[row->slot].name;
	char text[700];
	size_t times = 0;
	journal_for(row, text, sizeof text);
	struct ab_interview *iv = interview_on(text);
	ck_assert_msg(!AB_FACT_KNOWN(&iv->now.c->facts[row->slot]), "%s is told before it is asked", name);
	for (size_t number = 0; number < 20; number++) {
		struct iv_work w;
		struct case_asked asked;
		iv_asked(iv, row, &asked);
		if (!plays(iv, row) || !give(iv, row, number, false, &w))
			continue;
		times++;
		bool known = AB_FACT_KNOWN(&w.c->facts[row->slot]);
		ck_assert_msg(known || may_stay_open(row->slot, row->target, number),
		    "%s is not known after answer %zu", name, number);
		ck_assert_msg(!known || !w.c->facts[row->slot].guess, "%s became a guess", name);
		iv_drop(&w);
	}
	ck_assert_msg(times > 0, "%s was never given (%s)", name, row->target);
	ab_interview_free(iv);
}
END_TEST

/* Number n of the tries gives the fact the value that was typed, in the fact's own unit. */
static const struct { const char *fact; double want[8]; } values[] = {
	{ "ferment.early-mean", { 10, 14, 18, 20, 22, 25, 29 } }, { "ferment.room", { 8, 12, 16, 19, 22, 25, 29 } },
	{ "mash.temp", { 60, 63, 66, 69, 74 } }, { "boil.time", { 15, 45, 60, 90, 120 } },
	{ "chill.above-80", { 5, 20, 45, 180 } },
	{ "chill.to-pitch", { 1, 4, 12, 36, 120 } }, { "lag.time", { 4, 12, 24, 48, 96 } },
	{ "vessel.age", { 91.3125, 730.5, 2191.5 } },
	{ "gravity.og", { 1.050, 1.036, 1.070 } }, { "pack.neck", { 10, 25, 40, 70 } },
	{ "store.conditioning-temp", { 4, 12, 16, 20, 24 } },
	{ "pack.priming-rate", { 5.4, 1.8, 4.05, 7.2, 11.25 } }, { "hops.dry-load", { 0, 2, 5, 12.5 } },
	{ "vessel.open-time", { 0, 2, 15, 120, 2880 } },
	{ "serve.line-cleaned", { 7, 30.4375, 182.625 } }, { "ferment.days", { 4, 8, 14, 28, 90 } },
	{ "taste.beer-age", { 5, 14, 30, 90, 400 } },
	{ "ferment.rest-days", { 0, 1, 2, 4, 10 } }, { "gear.soft-age", { 60.875, 365.25, 1461 } },
	{ "sanitise.dose-share", { 0.3, 0.7, 1, 2 } },
	{ "yeast.age", { 14, 91.3125, 243.5, 730.5 } }, { "hops.age", { 30.4375, 365.25, 1095.75 } },
};

START_TEST(same_value)
{
	int slot = ab_fact_slot(ab_fact_defs(), values[_i].fact);
	char text[700];
	ck_assert_int_ge(slot, 0);
	const struct case_row *row = row_of(slot, 0);
	journal_for(row, text, sizeof text);
	struct ab_interview *iv = interview_on(text);
	for (size_t n = 0; n < 8; n++) {
		struct iv_work w;
		double want = values[_i].want[n];
		if (!give(iv, row, n, false, &w))
			break;
		double found = w.c->facts[slot].value;
		ck_assert_msg(
		    fabs(found - want) < 1e-6 * (1 + fabs(want)), "%s: %g, not %g", values[_i].fact, found, want);
		iv_drop(&w);
	}
	ab_interview_free(iv);
}
END_TEST

/* Words and flags: what each choice makes of the fact. */
static const struct { const char *fact, *said; const char *word; } words[] = {
	{ "pitch.clean", "yes", "no" }, { "pitch.clean", "no", "yes" }, { "water.chlorine-left", "no", "yes" },
	{ "sanitise.missed", "no, everything was sanitised", "no" }, { "sanitise.missed", "yes: hands", "yes" },
	{ "sanitise.missed", "yes: hose or siphon", "yes" }, { "sanitise.rinsed-tap", "yes", "yes" },
	{ "sanitise.rinsed-tap", "no", "no" },
	{ "sanitise.bleach", "yes", "yes" }, { "sanitise.bleach", "no", "no" },
	{ "clean.alkaline", "percarbonate", "yes" },
	{ "clean.alkaline", "water only", "no" }, { "taste.some-bottles", "yes", "no" },
	{ "taste.some-bottles", "no", "yes" },
	{ "taste.tap-only", "yes", "no" }, { "taste.tap-only", "no", "yes" },
	{ "taste.growing", "getting stronger", "yes" },
	{ "taste.growing", "fading", "no" }, { "taste.fading", "fading", "yes" },
	{ "taste.at-packaging", "yes", "yes" },
	{ "taste.every-batch", "no", "no" }, { "vessel.second", "yes", "yes" }, { "vessel.second", "no", "no" },
	{ "bottles.clean", "rinsed only", "no" }, { "bottles.clean", "yes", "yes" }, { "pack.leaks", "yes", "yes" },
	{ "pack.leaks", "no", "no" },
	{ "water.unboiled-share", "no", NULL }, { "yeast.starter", "no", "no" },
	{ "gravity.unmixed-sample", "no", "yes" },
	{ "gravity.unmixed-sample", "yes", "no" }, { "instrument.hydrometer-checked", "no", "no" },
};

START_TEST(same_word)
{
	const struct ab_fact_table *table = ab_fact_defs();
	int slot = ab_fact_slot(table, words[_i].fact);
	char text[700];
	ck_assert_int_ge(slot, 0);
	size_t parts = 0;
	while (parts + 1 < 4 && row_of(slot, 0) + parts + 1 < case_rows + case_n_rows &&
	    row_of(slot, 0)[parts + 1].slot == slot)
		parts++;
	const struct case_row *row = row_of(slot, parts);
	journal_for(row, text, sizeof text);
	struct ab_interview *iv = interview_on(text);
	struct case_asked asked;
	struct case_said out;
	iv_asked(iv, row, &asked);
	size_t number = 0;
	case_read_said(&asked, words[_i].said, &out);
	ck_assert_msg(out.kind == CASE_SAID_VALUE, "%s: \"%s\": %s", words[_i].fact, words[_i].said, out.why);
	for (; number < asked.n_choices; number++) {
		struct case_said other;
		char digits[24];
		snprintf(digits, sizeof digits, "%zu", number + 1);
		case_read_said(&asked, digits, &other);
		if (strcmp(other.value, out.value) == 0 && other.edits == out.edits)
			break;
	}
	struct iv_work w;
	ck_assert(give(iv, row, number, false, &w));
	double want = words[_i].word == NULL ? 0 : ab_fact_word(&table->defs[slot], words[_i].word);
	ck_assert_msg(fabs(w.c->facts[slot].value - want) < 1e-9, "%s after \"%s\": %g", words[_i].fact, words[_i].said,
	    w.c->facts[slot].value);
	iv_drop(&w);
	ab_interview_free(iv);
}
END_TEST

/* A guess is one in the fact, too. */
START_TEST(guesses)
{
	const struct case_row *row = &case_rows[_i];
	const char *name = ab_fact_defs()->defs[row->slot].name;
	char text[700];
	struct iv_work w;
	struct case_asked asked;
	journal_for(row, text, sizeof text);
	struct ab_interview *iv = interview_on(text);
	iv_asked(iv, row, &asked);
	/* batch attributes bear no mark, nor do edits of their own */
	bool marked = asked.n_choices == 0 && plays(iv, row);
	if (marked && give(iv, row, 1, true, &w)) {
		if (AB_FACT_KNOWN(&w.c->facts[row->slot]))
			ck_assert_msg(w.c->facts[row->slot].guess, "%s is no guess", name);
		iv_drop(&w);
	}
	ab_interview_free(iv);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("answers");
	TCase *said_tc = tcase_create("said"), *back = tcase_create("back");
	int n = (int)case_n_rows;
	tcase_add_loop_test(said_tc, typed, 0, sizeof said / sizeof *said);
	tcase_add_loop_test(said_tc, anything, 0, n);
	tcase_add_test(said_tc, table_is_sound);
	tcase_add_test(said_tc, all_words_offered);
	tcase_add_unchecked_fixture(back, rules_read, rules_drop);
	tcase_set_timeout(back, 60);
	tcase_add_loop_test(back, there_and_back, 0, n);
	tcase_add_loop_test(back, same_value, 0, sizeof values / sizeof *values);
	tcase_add_loop_test(back, same_word, 0, sizeof words / sizeof *words);
	tcase_add_loop_test(back, guesses, 0, n);
	suite_add_tcase(s, said_tc);
	suite_add_tcase(s, back);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
