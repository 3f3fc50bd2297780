/* check_entry.c - lines of plain words become elements, and elements read back; what is not understood is said
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_entry *entry;

static void setup(void)
{
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
}

static void teardown(void)
{
	ab_arena_free(arena);
}

static enum ab_status say(const char *words, const char *at)
{
	struct ab_when when = { 0 };
	char why[200];

	ab_diag_init(&diag);
	if (at != NULL)
		ck_assert(ab_when_read(at, &when, why, sizeof why));
	return ab_entry_read(words, &when, NULL, arena, &entry, &diag);
}

static enum ab_status ignore(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

/* The journal that holds nothing but what was understood last. */
static struct ab_batch *read_back(const char *element)
{
	struct ab_batch *batch = NULL;
	char text[4000];
	bool root = strncmp(element, "<batch ", 7) == 0, inside = entry->inside != NULL;

	snprintf(text, sizeof text,
	    "<batch xmlns=\"urn:afterboil:journal:1\" id=\"a\" brewed=\"2031-03-07\"%.*s>%s%s%s</batch>",
	    root ? (int)strlen(element) - 8 : 0, element + 6, inside ? "<recipe>" : "", root ? "" : element,
	    inside ? "</recipe>" : "");
	ab_diag_init(&diag);
	ck_assert_msg(ab_journal_read_memory(text, strlen(text), "t", NULL, arena, ignore, &batch, &diag) == AB_OK,
	    "%s: %s", element, diag.text);
	ck_assert_ptr_nonnull(batch);
	return batch;
}

#define AT "2031-03-08T19:30"
static const struct { const char *words, *element; } rows[] = {
	{ "wort 19.5 C", "<reading at=\"" AT "\" wort=\"19.5 C\"/>" },
	{ "Wort at 67F, room 70 F", "<reading at=\"" AT "\" wort=\"67 F\" room=\"70 F\"/>" },
	{ "beer about 20 C", "<reading at=\"" AT "\" wort=\"about 20 C\"/>" },
	{ "gravity 1.020 SG at 22 C", "<reading at=\"" AT "\" gravity=\"1.020 SG\" sample=\"22 C\"/>" },
	{ "gravity 1.012", "<reading at=\"" AT "\" gravity=\"1.012 SG\"/>" },
	{ "SG 11.9 P by refractometer corrected",
	    "<reading at=\"" AT "\" gravity=\"11.9 P\" instrument=\"refractometer\" corrected=\"yes\"/>" },
	{ "dry hop 60 g opened lid", "<dry-hop at=\"" AT "\" amount=\"60 g\" opened=\"open-lid\"/>" },
	{ "dry hops 2 oz through port for 3 d loose",
	    "<dry-hop at=\"" AT "\" amount=\"2 oz\" opened=\"port\" contact=\"3 d\" loose=\"yes\"/>" },
	{ "racked into purged keg", "<transfer at=\"" AT "\" target=\"purged\"/>" },
	{ "racked by siphon into liquid purged keg, splashed",
	    "<transfer at=\"" AT "\" how=\"siphon\" target=\"liquid-purged\" splashed=\"yes\"/>" },
	{ "racked", "<transfer at=\"" AT "\"/>" },
	{ "crashed to 2 C under gas bag", "<crash at=\"" AT "\" temp=\"2 C\" airlock=\"gas-bag\"/>" },
	{ "cold crash to 35 F", "<crash at=\"" AT "\" temp=\"35 F\"/>" },
	{ "rest at 21 C for 3 d", "<rest at=\"" AT "\" temp=\"21 C\" for=\"3 d\"/>" },
	{ "pitched at 18 C", "<pitch at=\"" AT "\" temp=\"18 C\"/>" },
	{ "yeast clean-ale dry 11 g", "<yeast class=\"clean-ale\" form=\"dry\" amount=\"11 g\"/>" },
	{ "aerated by shaking for 2 min", "<aerate method=\"shake\" time=\"2 min\"/>" },
	{ "first signs after 9 h", "<lag first-signs=\"9 h\"/>" },
	{ "cooled in 25 min by coil to 20 C", "<chill to-pitch=\"25 min\" method=\"coil\" end-temp=\"20 C\"/>" },
	{ "boiled for 60 min lid off", "<boil time=\"60 min\" lid=\"off\"/>" },
	{ "bottled with 120 g table sugar at 1.011 SG",
	    "<package at=\"" AT "\" into=\"bottles\" priming=\"120 g\" sugar=\"sucrose\" gravity=\"1.011 SG\"/>" },
	{ "kegged into purged keg, purged 5 times to 2 bar",
	    "<package at=\"" AT "\" into=\"keg\" filled=\"purged\" purges=\"5\" purge-pressure=\"2 bar\"/>" },
	{ "carbonated at 0.9 bar and 5 C", "<carbonate pressure=\"0.9 bar\" temp=\"5 C\"/>" },
	{ "lag roused", "<lag roused=\"yes\"/>" }, { "roused it and nothing moved", "<lag roused=\"yes\"/>" },
	{ "gear for-food", "<gear item=\"other\" for-food=\"yes\"/>" },
	{ "gear hose for food", "<gear item=\"hose\" for-food=\"yes\"/>" },
	{ "gear hose not for food", "<gear item=\"hose\" for-food=\"no\"/>" },
	{ "used a garden hose", "<gear item=\"hose\" material=\"garden hose\" for-food=\"no\"/>" },
	{ "no change 1.014", "<reading at=\"" AT "\" gravity=\"1.014 SG\"/>" },
	{ "no change in gravity 1.014 at 20 C", "<reading at=\"" AT "\" gravity=\"1.014 SG\" sample=\"20 C\"/>" },
	{ "carbonated at 2 bar and 5 C with mixed gas", "<carbonate pressure=\"2 bar\" temp=\"5 C\" gas=\"mixed\"/>" },
	{ "put on gas at 30 psi nitrogen", "<carbonate pressure=\"30 psi\" gas=\"nitrogen\"/>" },
	{ "on beer gas at 2 bar", "<carbonate pressure=\"2 bar\" gas=\"mixed\"/>" },
	{ "stored at 12 C in the cellar", "<store from=\"" AT "\" temp=\"12 C\" light=\"dark\"/>" },
	{ "sanitised hose with acid for 2 min", "<gear item=\"hose\" sanitiser=\"acid\" contact=\"2 min\"/>" },
	{ "cleaned bucket with percarbonate", "<gear item=\"fermenter\" cleaned=\"percarbonate\"/>" },
	{ "cleaned all bottles", "<note>" AT ": cleaned bottles</note>" },
	{ "washed the bottles", "<note>" AT ": cleaned bottles</note>" },
	{ "cleaned faucet apart", "<gear item=\"faucet\" dismantled=\"yes\"/>" },
	{ "moved bottles to the fridge", "<store from=\"" AT "\" light=\"dark\"/>" },
	{ "put bottles in the fridge at 4 C", "<store from=\"" AT "\" light=\"dark\" temp=\"4 C\"/>" },
	{ "done wash bottles & caps", "<note>" AT ": done: wash bottles &amp; caps</note>" },
	{ "opened for 2 min", "<opened at=\"" AT "\" for=\"2 min\"/>" },
	{ "note smells of apples, <really> & \"so\"",
	    "<note>" AT ": smells of apples, &lt;really&gt; &amp; &quot;so&quot;</note>" },
	{ "changed cap on foam, each bottle", "<change>cap on foam, each bottle</change>" },
	{ "fined with gelatine", "<fining at=\"" AT "\" name=\"gelatine\"/>" },
	{ "ph 4.4", "<reading at=\"" AT "\" ph=\"4.4\"/>" },
	/* ---- as people type it ---- */
	{ "wort 19,5 C", "<reading at=\"" AT "\" wort=\"19.5 C\"/>" },
	{ "wort 19.5 \xC2\xB0" "C", "<reading at=\"" AT "\" wort=\"19.5 C\"/>" },
	{ "wort 19.5 \xC2\xB0 C", "<reading at=\"" AT "\" wort=\"19.5 C\"/>" },
	{ "wort 19.5\xC2\xBA" "C", "<reading at=\"" AT "\" wort=\"19.5 C\"/>" },
	{ "wort 19.5 degrees Celsius", "<reading at=\"" AT "\" wort=\"19.5 C\"/>" },
	{ "temperature 68 fahrenheit", "<reading at=\"" AT "\" wort=\"68 F\"/>" },
	{ "temp 19.5 celsius and room 21 C", "<reading at=\"" AT "\" wort=\"19.5 C\" room=\"21 C\"/>" },
	{ "wort ~20 C", "<reading at=\"" AT "\" wort=\"about 20 C\"/>" },
	{ "gravity 1,048", "<reading at=\"" AT "\" gravity=\"1.048 SG\"/>" },
	{ "gravity 1048", "<reading at=\"" AT "\" gravity=\"1.048 SG\"/>" },
	{ "gravity 0.998", "<reading at=\"" AT "\" gravity=\"0.998 SG\"/>" },
	{ "gravity 12,5 plato", "<reading at=\"" AT "\" gravity=\"12.5 P\"/>" },
	{ "OG 1.048", "<reading at=\"+0h\" gravity=\"1.048 SG\"/>" },
	{ "FG 1.010", "<reading at=\"" AT "\" gravity=\"1.010 SG\"/>" },
	{ "dry hopped 60g", "<dry-hop at=\"" AT "\" amount=\"60 g\"/>" },
	{ "dry hop 2 ounces for three days", "<dry-hop at=\"" AT "\" amount=\"2 oz\" contact=\"3 d\"/>" },
	{ "spunding at 0.8 bar", "<spund at=\"" AT "\" pressure=\"0.8 bar\"/>" },
	{ "fermenting under pressure 12 psi", "<spund at=\"" AT "\" pressure=\"12 psi\"/>" },
	{ "spunding valve set to 10 psi", "<spund at=\"" AT "\" pressure=\"10 psi\"/>" },
	{ "cold crash", "<crash at=\"" AT "\"/>" },
	{ "cold crashed to 2 degrees C for 3 days", "<crash at=\"" AT "\" temp=\"2 C\" for=\"3 d\"/>" },
	{ "racked to keg", "<transfer at=\"" AT "\"/>" }, { "racked into the keg", "<transfer at=\"" AT "\"/>" },
	{ "kegged", "<package at=\"" AT "\" into=\"keg\"/>" },
	{ "bottled with 120 grams sugar",
	    "<package at=\"" AT "\" into=\"bottles\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	{ "bottled with 4.5 ounces of corn sugar",
	    "<package at=\"" AT "\" into=\"bottles\" priming=\"4.5 oz\" sugar=\"dextrose\"/>" },
	{ "boiled for 1 hour and 20 minutes", "<boil time=\"1 h 20 min\"/>" },
	{ "boiled 90min", "<boil time=\"90 min\"/>" },
	{ "chilled to 20 C in half an hour", "<chill end-temp=\"20 C\" to-pitch=\"0.5 h\"/>" },
	{ "rest at 21 C for a couple of days", "<rest at=\"" AT "\" temp=\"21 C\" for=\"2 d\"/>" },
	{ "stored at 12 C for two weeks", "<store from=\"" AT "\" temp=\"12 C\" for=\"2 wk\"/>" },
	{ "opened for a minute", "<opened at=\"" AT "\" for=\"1 min\"/>" },
	{ "yeast dry 1 packet", "<yeast form=\"dry\" packs=\"1\"/>" },
	{ "yeast slurry 200 ml", "<yeast form=\"slurry\" volume=\"200 mL\"/>" },
	{ "mash 66 C for 60 minutes", "<mash temp=\"66 C\" time=\"60 min\"/>" },
	{ "water tap treated with sulphite", "<water source=\"tap\" treatment=\"sulphite\"/>" },
	{ "fermenter bucket named red, room 19 C", "<vessel kind=\"bucket\" id=\"red\" room=\"19 C\"/>" },
	{ "fermented in the bucket number 2", "<vessel kind=\"bucket\" id=\"2\"/>" },
	{ "sanitised the hose called h2 with acid for 2 min",
	    "<gear item=\"hose\" id=\"h2\" sanitiser=\"acid\" contact=\"2 min\"/>" },
	{ "cleaned wand named w1 with percarbonate", "<gear item=\"wand\" id=\"w1\" cleaned=\"percarbonate\"/>" },
	{ "rinsed siphon nr 3", "<gear cleaned=\"water\" item=\"siphon\" id=\"3\"/>" },
	{ "fermenter bucket, room 19 C, by tub of water",
	    "<vessel kind=\"bucket\" room=\"19 C\" control=\"water-bath\"/>" },
	{ "checked thermometer off by 1 C", "<instrument checked=\"yes\" item=\"thermometer\" off-temp=\"1 C\"/>" },
	/* ---- the recipe ---- */
	{ "malt 4,5 kg pale", "<malt amount=\"4.5 kg\" kind=\"pale\"/>" },
	{ "malt 10 lbs crystal", "<malt amount=\"10 lb\" kind=\"crystal\"/>" },
	{ "malt 80 percent pilsner", "<malt share=\"80 %\" kind=\"pilsner\"/>" },
	{ "extract 1.7 kg liquid 8 months old", "<extract amount=\"1.7 kg\" kind=\"liquid\" age=\"8 mo\"/>" },
	{ "sugar 300 grams candi", "<sugar amount=\"300 g\" kind=\"candi\"/>" },
	{ "hops 30 g at 60 min", "<hop amount=\"30 g\" use=\"bittering\"/>" },
	{ "hops 1 oz at 5 minutes aged 1 year kept in the freezer",
	    "<hop amount=\"1 oz\" use=\"flavour\" age=\"1 y\" kept=\"frozen-sealed\"/>" },
	{ "hop 20 g flameout 5,5 %", "<hop amount=\"20 g\" use=\"whirlpool\" alpha=\"5.5 %\"/>" },
	{ "hops 30 g Cragtop at 60 min", "<hop amount=\"30 g\" name=\"Cragtop\" use=\"bittering\"/>" },
	{ "hops About 30 g of East Hill, frozen",
	    "<hop amount=\"30 g\" name=\"East Hill\" kept=\"frozen-sealed\" guess=\"yes\"/>" },
	{ "dry hop 50 g Cragtop", "<dry-hop at=\"" AT "\" amount=\"50 g\" name=\"Cragtop\"/>" },
	{ "hops 30 g cragtop", "<hop amount=\"30 g\" name=\"cragtop\"/>" },
	{ "dry hop 50 g called cragtop", "<dry-hop at=\"" AT "\" amount=\"50 g\" name=\"cragtop\"/>" },
	{ "bottled 19 L with 130 g sugar",
	    "<package at=\"" AT "\" into=\"bottles\" volume=\"19 L\" priming=\"130 g\" sugar=\"sucrose\"/>" },
	{ "kegged 19 L of beer", "<package at=\"" AT "\" into=\"keg\" volume=\"19 L\"/>" },
	{ "topped up with 3 L tap water", "<water top-up=\"3 L\"/>" },
	{ "topped up with 3 L of boiled water", "<water top-up=\"3 L\" top-up-boiled=\"yes\"/>" },
	{ "late sugar 300 g candi", "<sugar at=\"" AT "\" amount=\"300 g\" kind=\"candi\"/>" },
	{ "extra 20 g coriander", "<extra at=\"" AT "\" amount=\"20 g\" name=\"coriander\"/>" },
	{ "recipe 20 liters OG 1,048 FG 1.010 35 IBU",
	    "<recipe volume=\"20 L\" og=\"1.048 SG\" fg=\"1.010 SG\" bitterness=\"35 IBU\"/>" },
	{ "volume 5 gallons", "<recipe volume=\"5 gal\"/>" },
	{ "family wheat", "<batch family=\"wheat\"/>" },
};

/* Attributes in whatever order: the text is that of the slots as they were said, so it is compared as a set. */
static int attrs(const char *element, char found[][80])
{
	int n = 0;

	for (const char *p = strchr(element, ' '); p != NULL && n < 16; n++) {
		const char *quote = strchr(p, '"'), *end = quote != NULL ? strchr(quote + 1, '"') : NULL;
		if (end == NULL)
			break;
		snprintf(found[n], 80, "%.*s", (int)(end - p), p);
		p = end[1] == ' ' ? end + 1 : NULL;
	}
	qsort(found, (size_t)n, 80, (int (*)(const void *, const void *))strcmp);
	return n;
}

START_TEST(understood)
{
	char have[16][80], want[16][80];

	ck_assert_msg(say(rows[_i].words, AT) == AB_OK, "%s: %s", rows[_i].words, diag.text);
	if (strstr(rows[_i].element, "</") != NULL) {
		ck_assert_str_eq(entry->element, rows[_i].element);
	} else {
		int n = attrs(entry->element, have);
		ck_assert_msg(n == attrs(rows[_i].element, want), "%s", entry->element);
		for (int i = 0; i < n; i++)
			ck_assert_str_eq(have[i], want[i]);
	}
	read_back(entry->element);
	ck_assert_ptr_nonnull(strchr(entry->echo, entry->echo[0]));
	ck_assert_uint_gt(strlen(entry->echo), 3);
}
END_TEST

static const struct { const char *words, *says; } refused[] = {
	{ "", "begins nothing" }, { "flew to the moon", "begins nothing" }, { "wort", "nothing is said" },
	{ "wort 20", "\"20\" has no unit that tells what it is; write it like \"wort 20 C\" (units: C, F, K)" },
	{ "wort 60", "\"wort 60 C\" or \"wort 60 F\" (units: C, F, K)" },
	{ "wort 20 L", "\"20 L\" has no place in a line about temperature of the beer; a temperature (C, F, K) "
	    "may have. Example: wort 19.5 C" },
	{ "room 20 degrees", "\"room 20 C\" or \"room 20 F\"" },
	{ "wort at 20, room 21 C", "\"wort at 20 C, room 21 C\"" },
	{ "chilled to 20", "\"chilled to 20 C\" (units: C, F, K)" }, { "boiled 60", "\"boiled 60 min\"" },
	{ "gravity 12", "\"gravity 12 P\" or \"gravity 12 points\" (units: SG, P, points)" },
	{ "OG 48", "write it like \"OG 48 points\"" },
	{ "yeast 11", "\"yeast 11 g\" or \"yeast 11 packs\" or \"yeast 11 L\"" },
	{ "bottled with 1,500 g sugar",
	    "may be 1.500 or 1500; write \"bottled with 1.500 g sugar\" or \"bottled with 1500 g sugar\"" },
	{ "bottled with 1.000,5 g sugar", "has no place" }, { "malt 4.5 kg plutonium", "has no place" },
	{ "family unicorn", "has no place" },
	{ "pitched warm", "has no place" }, { "pitched 2 L wort", "has no place" },
	{ "wort 19.5 C 20 C", "has no place" }, { "gravity 1.020 SG by telescope", "has no place" },
	{ "dry hop 60 g 40 g", "has no place" },
	{ "bottled with love", "has no place" }, { "rest at 21 C at 22 C", "has no place" },
	{ "note", "nothing is said" },
	{ "hops 30 g frotzem", "has no place" }, { "hops 30 g crystal", "has no place" },
	{ "OG at 22 C", "nothing is said about original gravity" },
	{ "gravity by hydrometer", "nothing is said about gravity" },
	{ "og 22 C", "\"22 C\" has no place in a line about original gravity" },
	{ "bottled 12 swing tops and 20 bottles",
	    "how many bottles there were is nothing a journal holds; write how much beer" },
	{ "topped up with 3 kg", "has no place" },
	{ "wort <b>", "has no place" }, { "kegged purged five times", "has no place" },
};
START_TEST(not_understood)
{
	ck_assert_int_eq(say(refused[_i].words, AT), AB_EUSAGE);
	ck_assert_ptr_null(entry);
	ck_assert_msg(strstr(diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].words, diag.text);
}
END_TEST

/* Every example that help and messages show is understood, and the journal reads it. */
START_TEST(examples)
{
	size_t n = 0;

	for (; ab_entry_example(n, _i, arena) != NULL; n++) {
		const char *example = ab_entry_example(n, _i, arena);
		ck_assert_msg(say(example, AT) == AB_OK, "%s: %s", example, diag.text);
		/* Of a brewer who thinks in US units no metric one is left. */
		static const char *const metric[] = { " C", " kg", " L", " bar", NULL };
		for (const char *const *m = metric; _i == 2 && *m != NULL; m++) {
			const char *at = strstr(example, *m), *past = at != NULL ? at + strlen(*m) : "x";
			ck_assert_msg(*past != '\0' && *past != ' ' && *past != ',', "%s", example);
		}
		read_back(entry->element);
	}
	ck_assert_uint_gt(n, 20);
}
END_TEST

/* What may be meant in two ways is offered as whole lines, and each is understood. */
START_TEST(doubts)
{
	static const char *const lines[] = { "wort 60", "chilled to 40", "gravity 12", "bottled with 1,500 g sugar",
		"yeast 11", "room 40 degrees", "malt 5 pale" };
	struct ab_entry_doubt doubt = { .n = 0 };
	struct ab_entry_help help = { .doubt = &doubt };
	struct ab_when never = { 0 };

	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
		ab_diag_init(&diag);
		ck_assert_int_eq(ab_entry_read(lines[i], &never, &help, arena, &entry, &diag), AB_EUSAGE);
		struct ab_entry_doubt ways = doubt;
		ck_assert_msg(ways.n >= 2, "%s: %s", lines[i], diag.text);
		for (size_t k = 0; k < ways.n; k++) {
			ab_diag_init(&diag);
			ck_assert_msg(ab_entry_read(ways.ways[k], &never, &help, arena, &entry, &diag) == AB_OK,
			    "%s: %s", ways.ways[k], diag.text);
			read_back(entry->element);
			ck_assert_uint_eq(doubt.n, 0);
		}
	}
	ab_diag_init(&diag);
	help.units = 1;
	ck_assert_int_eq(ab_entry_read("wort 20 degrees", &never, &help, arena, &entry, &diag), AB_OK);
	ck_assert_str_eq(entry->element, "<reading wort=\"20 C\"/>");
	help.units = 2;
	ck_assert_int_eq(ab_entry_read("wort 68 degrees", &never, &help, arena, &entry, &diag), AB_OK);
	ck_assert_str_eq(entry->element, "<reading wort=\"68 F\"/>");
	ck_assert_int_eq(ab_entry_read("wort 68", &never, &help, arena, &entry, &diag), AB_OK);
	ck_assert_str_eq(entry->element, "<reading wort=\"68 F\"/>");
	/* 20 F is frozen. */
	ck_assert_int_eq(ab_entry_read("wort 20", &never, &help, arena, &entry, &diag), AB_EUSAGE);
}
END_TEST

static const char *plain_word(void *ctx, const char *attr, const char *said)
{
	(void)ctx;
	return strcmp(attr, "class") == 0 && strcmp(said, "english ale") == 0 ? "english-ale"
	    : strcmp(attr, "family") == 0 && strcmp(said, "porter") == 0      ? "dark-roast"
									      : NULL;
}

/* One sentence, two elements: the pitching and the yeast. */
START_TEST(two_at_once)
{
	const struct ab_entry_help help = { .word = plain_word };
	struct ab_when at = { 0 };

	ab_diag_init(&diag);
	ck_assert_int_eq(
	    ab_entry_read("pitched 2 packets of dry english ale yeast at 18 C", &at, &help, arena, &entry, &diag),
	    AB_OK);
	ck_assert_str_eq(entry->element, "<pitch temp=\"18 C\"/>");
	ck_assert_ptr_nonnull(entry->also);
	ck_assert_str_eq(entry->also->element, "<yeast packs=\"2\" form=\"dry\" class=\"english-ale\"/>");
	ck_assert_ptr_nonnull(strstr(entry->echo, "packs 2, form dry, class english-ale, temp 18 C"));
	struct ab_entry *second = entry->also;
	read_back(entry->element);
	read_back(second->element);
	ck_assert_int_eq(ab_entry_read("pitched at 18 C", &at, &help, arena, &entry, &diag), AB_OK);
	ck_assert_ptr_null(entry->also);
	ck_assert_int_eq(ab_entry_read("family porter", &at, &help, arena, &entry, &diag), AB_OK);
	ck_assert_uint_eq(entry->n_sets, 1);
	ck_assert_str_eq(entry->sets[0].target, "!batch family");
	ck_assert_str_eq(entry->sets[0].value, "dark-roast");
}
END_TEST

static const char *plain_choice(void *ctx, const char *attr, size_t i)
{
	static const char *const classes[] = { "clean-ale", "english-ale", "lager" };
	(void)ctx;
	return strcmp(attr, "class") == 0 && i < 3 ? classes[i] : NULL;
}

/* What a yeast is called on its packet is no class: those there are come with the refusal, and each would be taken. */
static const struct { const char *words, *element, *says, *way; size_t n; } yeasts[] = {
	{ "yeast 1 packet of dry ale yeast", "<yeast packs=\"1\" form=\"dry\"/>", NULL, NULL, 0 },
	{ "yeast 1 packet of dry english ale", "<yeast packs=\"1\" form=\"dry\" class=\"english-ale\"/>", NULL,
	    NULL, 0 },
	{ "yeast XY-05 1 packet", NULL, "\"XY-05\" is no class of yeast", "yeast clean-ale called XY-05 1 packet", 3 },
	{ "yeast some maker golden 1 packet", NULL, "\"maker golden\" is no class", "yeast some clean-ale 1 packet",
	    3 },
	{ "yeast dry golden", NULL, "Example: yeast dry clean-ale", "yeast dry clean-ale", 3 },
	{ "pitched 1 packet of XY-05 at 18 C", NULL, "\"XY-05\" is no class of yeast",
	    "pitched 1 packet of clean-ale called XY-05 at 18 C", 3 },
	{ "yeast english ale XY-05", NULL, "Example: yeast english ale, note XY-05 (",
	    "yeast english ale, note XY-05", 1 },
};
static const char *known_word(void *ctx, const char *attr, const char *said)
{
	for (size_t i = 0; plain_choice(ctx, attr, i) != NULL; i++)
		if (strcmp(plain_choice(ctx, attr, i), said) == 0)
			return plain_choice(ctx, attr, i);
	return plain_word(ctx, attr, said);
}

START_TEST(class_of_yeast)
{
	struct ab_entry_doubt doubt, ways;
	const struct ab_entry_help help = { .word = known_word, .choice = plain_choice, .doubt = &doubt };
	const struct ab_when at = { 0 };

	ab_diag_init(&diag);
	enum ab_status st = ab_entry_read(yeasts[_i].words, &at, &help, arena, &entry, &diag);
	ck_assert_msg(st == (yeasts[_i].element != NULL ? AB_OK : AB_EUSAGE), "%s: %s", yeasts[_i].words, diag.text);
	if (yeasts[_i].element != NULL) {
		ck_assert_str_eq(entry->element, yeasts[_i].element);
		return;
	}
	ck_assert_msg(strstr(diag.text, yeasts[_i].says) != NULL, "%s", diag.text);
	ways = doubt;
	ck_assert_uint_eq(ways.n, yeasts[_i].n);
	for (size_t i = 0; i < ways.n; i++) {
		ab_diag_init(&diag);
		ck_assert_msg(ab_entry_read(ways.ways[i], &at, &help, arena, &entry, &diag) == AB_OK, "%s: %s",
		    ways.ways[i], diag.text);
	}
	if (ways.n > 0)
		ck_assert_str_eq(ways.ways[0], yeasts[_i].way);
}
END_TEST

/* ---- into a file ---- */

static const char *path = "check_entry.tmp";

static void put_file(const char *text)
{
	FILE *f = fopen(path, "wb");

	ck_assert_ptr_nonnull(f);
	fputs(text, f);
	ck_assert_int_eq(fclose(f), 0);
}

static void file_is(const char *wanted)
{
	char text[2000];
	FILE *f = fopen(path, "rb");

	ck_assert_ptr_nonnull(f);
	text[fread(text, 1, sizeof text - 1, f)] = '\0';
	fclose(f);
	ck_assert_str_eq(text, wanted);
}

#define HEAD "<batch xmlns=\"urn:afterboil:journal:1\" id=\"a\" brewed=\"2031-03-07\""

static void write(const char *words)
{
	ck_assert_int_eq(say(words, NULL), AB_OK);
	ck_assert_msg(ab_entry_write(path, "a", entry, &diag) == AB_OK, "%s: %s", words, diag.text);
}

START_TEST(recipe_in_a_file)
{
	char *removed;

	put_file(HEAD ">\n  <!-- mine -->\n  <note>x</note>\n</batch>\n");
	write("malt 4.5 kg pale");
	write("malt 500 g crystal");
	write("recipe 20 L og 1.048");
	write("volume 22 L");
	write("family wheat");
	file_is(HEAD
	    " family=\"wheat\">\n\t<recipe volume=\"22 L\" og=\"1.048 SG\">\n\t\t<malt amount=\"4.5 kg\" "
	    "kind=\"pale\"/>\n"
	    "\t\t<malt amount=\"500 g\" kind=\"crystal\"/>\n\t</recipe>\n  <!-- mine -->\n  <note>x</note>"
	    "\n</batch>\n");
	ck_assert_int_eq(ab_entry_take_back(path, "a", "malt", &removed, &diag), AB_OK);
	ck_assert_str_eq(removed, "<malt amount=\"500 g\" kind=\"crystal\"/>");
	ab_journal_free(removed);
	ck_assert_int_eq(ab_entry_take_back(path, "a", "hop", &removed, &diag), AB_EUSAGE);
	ck_assert_ptr_null(removed);
	ck_assert_ptr_nonnull(strstr(diag.text, "has no hop"));
	file_is(HEAD
	    " family=\"wheat\">\n\t<recipe volume=\"22 L\" og=\"1.048 SG\">\n\t\t<malt amount=\"4.5 kg\" "
	    "kind=\"pale\"/>\n"
	    "\t</recipe>\n  <!-- mine -->\n  <note>x</note>\n</batch>\n");
	remove(path);
}
END_TEST

/* What the journal would not hold is refused, and the file stays. */
START_TEST(refused_in_a_file)
{
	put_file(HEAD "/>");
	ck_assert_int_eq(say("recipe og 1.010 fg 1.048", NULL), AB_OK);
	ck_assert_int_eq(ab_entry_write(path, "a", entry, &diag), AB_EINPUT);
	file_is(HEAD "/>");
	write("hops 30 g");
	file_is(HEAD ">\n\t<recipe>\n\t\t<hop amount=\"30 g\"/>\n\t</recipe>\n</batch>");
	write("pitched 1 packet at 18 C");
	ck_assert_int_eq(say("pitched 1 packet", NULL), AB_OK);
	ck_assert_int_eq(ab_entry_write(path, "a", entry, &diag), AB_EINPUT);
	remove(path);
	ck_assert_str_eq(ab_entry_recipe_part("hops", arena), "hop");
	ck_assert_ptr_null(ab_entry_recipe_part("wort", arena));
	ck_assert_ptr_null(ab_entry_recipe_part("hops 30 g", arena));
}
END_TEST

/* A pitching told in pieces is one pitching; before: what the journal holds, after: what it holds then, or what is
 * said. */
#define PITCH "<pitch at=\"2031-03-07T18:00\" temp=\"18 C\"/>"
static const struct { const char *before, *words, *after, *echo; } pieces[] = {
	{ PITCH, "pitched 1 packet", PITCH "<yeast packs=\"1\"/>",
	    "to what is told of the pitching already: packs 1; the yeast went in, as told, at 2031-03-07T18:00" },
	{ PITCH "<yeast class=\"lager\"/>", "pitched 1 packet at 64.4 F",
	    PITCH "<yeast class=\"lager\" packs=\"1\"/>", "packs 1" },
	{ "<pitch/><yeast packs=\"1\"/>", "pitched 1 packet at 18 C",
	    "<pitch temp=\"18 C\" at=\"" AT "\"/><yeast packs=\"1\"/>", "temp 18 C, at 2031" },
	{ PITCH "<yeast class=\"lager\"/>", "pitched clean-ale",
	    PITCH "<yeast class=\"lager\"/><yeast class=\"clean-ale\"/>", "class clean-ale" },
	{ PITCH "<yeast packs=\"1\"/>", "pitched 1 packet", NULL, "adds nothing" },
	{ PITCH, "pitched", NULL, "adds nothing" },
	{ PITCH, "pitched 1 packet at 20 C", NULL, "temp 18 C, and this says 20 C" },
	{ PITCH "<yeast packs=\"1\"/>", "pitched 2 packets", NULL, "packs 1, and this says 2" },
	{ "", "pitched 1 packet at 18 C", "<pitch at=\"" AT "\" temp=\"18 C\"/><yeast packs=\"1\"/>",
	    "pitching: packs 1, temp 18 C, at" },
	{ "<yeast packs=\"1\"/>", "yeast clean-ale dry 1 packet",
	    "<yeast packs=\"1\" class=\"clean-ale\" form=\"dry\"/>", "of the yeast already: class" },
	{ "<yeast packs=\"2\" form=\"dry\"/>", "rehydrated 2 packs",
	    "<yeast packs=\"2\" form=\"dry\" rehydrated=\"yes\"/>", "already: rehydrated yes" },
	{ "<yeast packs=\"1\"/>", "rehydrated 2 packs", NULL, "packs 1, and this says 2" },
	{ "", "rehydrated 2 packs of dry ale yeast", "<yeast rehydrated=\"yes\" packs=\"2\" form=\"dry\"/>",
	    "packs 2" },
	{ "<yeast packs=\"1\"/>", "yeast 1 packet", "<yeast packs=\"1\"/><yeast packs=\"1\"/>", "yeast: packs 1" },
	{ "<yeast class=\"lager\"/>", "yeast clean-ale", "<yeast class=\"lager\"/><yeast class=\"clean-ale\"/>",
	    "yeast: class clean-ale" },
	/* what became of bottles: not before there are any, and not of those filled later */
	{ "", "all drunk", NULL, "no bottling is told yet" },
	{ "<package priming=\"110 g\"/>", "poured it all away", NULL, "no bottling is told yet" },
	{ "<package into=\"bottles\"/>", "all drunk",
	    "<package into=\"bottles\" fate-at=\"" AT "\" fate=\"drunk\"/>", "fate drunk" },
	{ "<package at=\"2031-03-07\"/>", "opened and let off all bottles",
	    "<package at=\"2031-03-07\" fate-at=\"" AT "\" fate=\"let-off\"/>", "fate let-off" },
	{ "<package at=\"2031-03-07\" fate-at=\"2031-03-08\" fate=\"let-off\"/>", "all drunk",
	    "<package at=\"2031-03-07\" fate-at=\"" AT "\" fate=\"drunk\"/>", "fate drunk" },
	{ "<package at=\"2031-03-07\" fate-at=\"2031-03-08\" fate=\"drunk\"/>", "all drunk", NULL, "adds nothing" },
	{ "<package at=\"2031-03-07\" fate=\"drunk\" fate-at=\"2031-03-08\" neck=\"2 cm\"/>", "bottled",
	    "<package at=\"2031-03-07\" neck=\"2 cm\" into=\"bottles\"/>", "counts no more" },
	{ "<package at=\"2031-03-07\" fate=\"drunk\" fate-at=\"2031-08-08\"/>", "bottled",
	    "<package at=\"2031-03-07\" fate=\"drunk\" fate-at=\"2031-08-08\" into=\"bottles\"/>",
	"as told, at 2031-03-07" },
	{ "<package  fate = 'drunk' />", "bottled", "<package at=\"" AT "\" into=\"bottles\" />", "counts no more" },
	{ "<package at=\"2031-03-07\" fate=\"drunk\" into=\"bottles\"/>", "bottled with 300 g sugar",
	    "<package at=\"2031-03-07\" into=\"bottles\" priming=\"300 g\" sugar=\"sucrose\"/>", "counts no more" },
	{ "<package at=\"" AT "\" fate=\"drunk\"/>", "bottled with 120 g sugar",
	    "<package at=\"" AT "\" fate=\"drunk\" priming=\"120 g\" sugar=\"sucrose\" into=\"bottles\"/>",
	"priming 120 g" },
	{ "<yeast class=\"lager\"/>", "wort 20 C", "<yeast class=\"lager\"/><reading at=\"" AT "\" wort=\"20 C\"/>",
	    "wort 20 C" },
};

/* Without the line ends and the indentation that each element added gets. */
static void squeeze(const char *from, char *to)
{
	for (; *from != '\0'; from++)
		if (strchr("\n\t", *from) == NULL)
			*to++ = *from;
	*to = '\0';
}

static enum ab_status merge(const char *words, const char **echo)
{
	const struct ab_entry_help help = { .word = known_word, .choice = plain_choice };
	struct ab_when when = { 0 };
	char why[200];

	ab_diag_init(&diag);
	ck_assert(ab_when_read(AT, &when, why, sizeof why));
	ck_assert_msg(ab_entry_read(words, &when, &help, arena, &entry, &diag) == AB_OK, "%s", diag.text);
	return ab_entry_merge(path, "a", entry, arena, echo, &diag);
}

START_TEST(told_in_pieces)
{
	char before[1000], text[2000], plain[2000];
	const char *echo = NULL;

	snprintf(before, sizeof before, HEAD ">%s</batch>", pieces[_i].before);
	put_file(before);
	enum ab_status st = merge(pieces[_i].words, &echo);
	ck_assert_msg(st == (pieces[_i].after != NULL ? AB_OK : AB_EINPUT), "%s: %s", pieces[_i].words, diag.text);
	const char *says = st == AB_OK ? echo : diag.text;
	ck_assert_msg(strstr(says, pieces[_i].echo) != NULL, "%s", says);
	FILE *f = fopen(path, "rb");
	ck_assert_ptr_nonnull(f);
	text[fread(text, 1, sizeof text - 1, f)] = '\0';
	fclose(f);
	remove(path);
	squeeze(text, plain);
	snprintf(
	    text, sizeof text, HEAD ">%s</batch>", pieces[_i].after != NULL ? pieces[_i].after : pieces[_i].before);
	ck_assert_str_eq(plain, text);
}
END_TEST

START_TEST(pieces_short_of_memory)
{
	const char *was = HEAD ">" PITCH "<yeast class=\"lager\"/></batch>", *echo;
	const char *will = HEAD ">" PITCH "<yeast class=\"lager\" packs=\"1\"/></batch>";
	enum ab_status st = AB_ENOMEM;

	ck_assert_int_eq(say("pitched 1 packet", NULL), AB_OK);
	for (long i = 0; i < 5000 && st != AB_OK; i++) {
		put_file(was);
		ab_diag_init(&diag);
		ab_alloc_fail_at(i);
		st = ab_entry_merge(path, "a", entry, arena, &echo, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "%ld: %s", i, diag.text);
		/* Only the words for it may be missing when it is written. */
		char text[1000];
		FILE *f = fopen(path, "rb");
		ck_assert_ptr_nonnull(f);
		text[fread(text, 1, sizeof text - 1, f)] = '\0';
		fclose(f);
		ck_assert(strcmp(text, will) == 0 || (st != AB_OK && strcmp(text, was) == 0));
	}
	ck_assert_int_eq(st, AB_OK);
	remove(path);
}
END_TEST

START_TEST(file_short_of_memory)
{
	enum ab_status st = AB_ENOMEM;

	put_file(HEAD "><note/></batch>");
	ck_assert_int_eq(say("malt 4.5 kg pale", NULL), AB_OK);
	for (long i = 0; i < 5000 && st != AB_OK; i++) {
		ab_diag_init(&diag);
		ab_alloc_fail_at(i);
		st = ab_entry_write(path, "a", entry, &diag);
		ab_alloc_fail_at(-1);
		if (st != AB_OK)
			file_is(HEAD "><note/></batch>");
	}
	ck_assert_int_eq(st, AB_OK);
	remove(path);
}
END_TEST

START_TEST(without_a_time)
{
	ck_assert_int_eq(say("wort 20 C", NULL), AB_OK);
	ck_assert_str_eq(entry->element, "<reading wort=\"20 C\"/>");
	ck_assert_int_eq(say("note good", NULL), AB_OK);
	ck_assert_str_eq(entry->element, "<note>good</note>");
}
END_TEST

START_TEST(values_are_read_back)
{
	ck_assert_int_eq(say("gravity 1.020 SG at 22 C by hydrometer", AT), AB_OK);
	struct ab_reading *r = read_back(entry->element)->readings.items;
	ck_assert_double_eq_tol(r->gravity_sg.v, 1.020, 1e-12);
	ck_assert_double_eq_tol(r->sample_c.v, 22, 1e-12);
	ck_assert_int_eq(r->instrument, 1);
	ck_assert(r->at.known);
	ck_assert_int_eq(say("wort about 68 F", AT), AB_OK);
	r = read_back(entry->element)->readings.items;
	ck_assert_double_eq_tol(r->wort_c.v, 20, 1e-12);
	ck_assert(!r->mark.guess && r->wort_c.guess && !r->gravity_sg.guess);
}
END_TEST

START_TEST(too_long)
{
	char words[AB_ENTRY_LIMIT + 10];

	memset(words, 'x', sizeof words);
	memcpy(words, "note ", 5);
	words[sizeof words - 1] = '\0';
	ck_assert_int_eq(say(words, AT), AB_ELIMIT);
	words[AB_ENTRY_LIMIT] = '\0';
	ck_assert_int_eq(say(words, AT), AB_OK);
}
END_TEST

/* A note of many words keeps them all; a reading of many words is refused. */
START_TEST(many_words)
{
	char words[600] = "note";

	for (int i = 0; i < 100; i++)
		strcat(words, " ab");
	ck_assert_int_eq(say(words, NULL), AB_OK);
	ck_assert_uint_eq(strlen(entry->element), strlen("<note></note>") + 100 * 3 - 1);
	memcpy(words, "room", 4);
	ck_assert_int_eq(say(words, NULL), AB_EUSAGE);
}
END_TEST

START_TEST(control_characters)
{
	ck_assert_int_eq(say("note a\033[31mb\xff", NULL), AB_OK);
	ck_assert_str_eq(entry->element, "<note>a?[31mb?</note>");
}
END_TEST

START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;

	for (long i = 0; i < 400 && st != AB_OK; i++) {
		ab_alloc_fail_at(i);
		st = say("racked by siphon into liquid purged keg, splashed", AT);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || (st == AB_ENOMEM && entry == NULL) || st == AB_EUSAGE);
		ck_assert_int_ne(st, AB_EUSAGE);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("entry");
	TCase *t = tcase_create("entry");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_loop_test(t, understood, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(t, not_understood, 0, sizeof refused / sizeof *refused);
	tcase_add_loop_test(t, examples, 0, 3);
	tcase_add_test(t, doubts);
	tcase_add_test(t, two_at_once);
	tcase_add_loop_test(t, class_of_yeast, 0, sizeof yeasts / sizeof *yeasts);
	tcase_add_test(t, recipe_in_a_file);
	tcase_add_test(t, refused_in_a_file);
	tcase_add_loop_test(t, told_in_pieces, 0, sizeof pieces / sizeof *pieces);
	tcase_add_test(t, pieces_short_of_memory);
	tcase_add_test(t, file_short_of_memory);
	tcase_add_test(t, without_a_time);
	tcase_add_test(t, values_are_read_back);
	tcase_add_test(t, too_long);
	tcase_add_test(t, many_words);
	tcase_add_test(t, control_characters);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
