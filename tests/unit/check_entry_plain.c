/* check_entry_plain.c - whole sentences as people write them who never saw a list of what may be written: what is
 * understood of each, and what of them is refused, for a wrong journal is worse than none
 *
 * The sentences were written down before the tables behind were looked at; those that were refused then and are
 * taken now stand here as well.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "entrycase.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "base/spelled.h"

static const struct { char units; const char *words, *elements; } taken[] = {
	/* ---- brew day ---- */
	{ 'm', "mashed in at 67, rested 75 minutes", "<mash temp=\"67 C\" time=\"75 min\"/>" },
	{ '-', "mash 152F for 60 min", "<mash temp=\"152 F\" time=\"60 min\"/>" },
	{ '-', "mashed at 66 degres for an hour", "<mash temp=\"66 C\" time=\"1 h\"/>" },
	{ '-', "mashed at 152 degrees for an hour", "<mash temp=\"152 F\" time=\"1 h\"/>" },
	{ '-', "water straight from the tap, nothing added", "<water source=\"tap\" treatment=\"none\"/>" },
	{ '-', "used bottled water", "<water source=\"bottled\"/>" },
	{ '-', "bottled water", "<water source=\"bottled\"/>" },
	{ '-', "water bottled", "<water source=\"bottled\"/>" },
	{ '-', "boiled an hour, lid half on", "<boil time=\"1 h\" lid=\"partly\"/>" },
	{ '-', "boiled for 70 min with the lid off", "<boil time=\"70 min\" lid=\"off\"/>" },
	{ '-', "rolling boil one hour", "<boil vigour=\"rolling\" time=\"1 h\"/>" },
	{ '-', "chilled in the bathtub for 1,5 h to 26 C",
	    "<chill method=\"other\" to-pitch=\"1.5 h\" end-temp=\"26 C\"/>" },
	{ '-', "chilled in sink with ice to 75F, took 40 minutes",
	    "<chill method=\"ice-bath\" end-temp=\"75 F\" to-pitch=\"40 min\"/>" },
	{ '-', "left it to cool overnight closed", "<chill method=\"overnight-closed\"/>" },
	{ '-', "left to cool overnight open", "<chill method=\"air\"/>" },
	{ '-', "chilled in a tub of ice to 20 C", "<chill method=\"ice-bath\" end-temp=\"20 C\"/>" },
	{ '-', "chilled in ice water", "<chill method=\"ice-bath\"/>" },
	{ '-', "chilled in cold water", "<chill method=\"other\"/>" },
	{ '-', "no chill", "<chill method=\"overnight-closed\"/>" },
	{ '-', "orginal gravity 1,052", "<reading at=\"+0h\" gravity=\"1.052 SG\"/>" },
	{ '-', "OG was 1.050 at 20 degrees", "<reading at=\"+0h\" gravity=\"1.050 SG\" sample=\"20 C\"/>" },
	{ '-', "got 21 liters into the fermenter", "<recipe volume=\"21 L\"/>" },
	{ '-', "5 gallons in the bucket", "<recipe volume=\"5 gal\"/>" },
	{ '-', "topped up with 3 l of boiled water", "<water top-up=\"3 L\" top-up-boiled=\"yes\"/>" },
	/* ---- yeast ---- */
	{ 'u', "pitched 2 packs of US ale yeast at 68 F",
	    "<pitch" AT " temp=\"68 F\"/><yeast packs=\"2\" class=\"clean-ale\"/>" },
	{ 'm', "pitched 200 ml slurry from the last batch at 18 degrees",
	    "<pitch" AT " temp=\"18 C\"/><yeast volume=\"200 mL\" form=\"slurry\"/>" },
	{ 'm', "sprinkled a pack of dry yeast on top at 20",
	    "<pitch" AT " temp=\"20 C\"/><yeast packs=\"1\" form=\"dry\"/>" },
	{ '-', "yeast 3 months old", "<yeast age=\"3 mo\"/>" },
	{ '-', "yeast kept in fridge", "<yeast kept=\"cold\"/>" },
	{ '-', "yeast kept in the fridge", "<yeast kept=\"cold\"/>" },
	{ '-', "yeast is six months old, from the fridge", "<yeast age=\"6 mo\" kept=\"cold\"/>" },
	{ '-', "rehydrated the yeast first", "<yeast rehydrated=\"yes\"/>" },
	/* ---- it ferments ---- */
	{ '-', "bubbling since 9 in the morning", "<lag first-signs=\"39 h\"/>" },
	{ '-', "first bubbles at 7 this morning", "<lag first-signs=\"37 h\"/>" },
	{ '-', "first bubbles yesterday at 6 in the evening", "<lag first-signs=\"24 h\"/>" },
	{ '-', "foaming since yesterday 9 at night", "<lag first-signs=\"27 h\"/>" },
	{ '-', "airlock started bubbling after 14 hours", "<lag first-signs=\"14 h\"/>" },
	{ '-', "lag was 18 hrs", "<lag first-signs=\"18 h\"/>" },
	{ '-', "bucket at 23 C", "<reading" AT " wort=\"23 C\"/>" },
	{ 'u', "fermenter is at 68", "<reading" AT " wort=\"68 F\"/>" },
	{ '-', "basement 64F", "<reading" AT " room=\"64 F\"/>" },
	{ 'm', "it's 25 degrees in the kitchen", "<reading" AT " room=\"25 C\"/>" },
	{ '-', "room 20", "<reading" AT " room=\"20 C\"/>" }, { '-', "room 68", "<reading" AT " room=\"68 F\"/>" },
	{ '-', "gravity 1016 again", "<reading" AT " gravity=\"1.016 SG\"/>" },
	{ '-', "gravity still 1,012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "gravity hasn't changed, 1.012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "gravity down to 1.012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "hydrometer says 1,014", "<reading" AT " instrument=\"hydrometer\" gravity=\"1.014 SG\"/>" },
	{ '-', "still 1.012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "still fermenting, 1.018", "<reading" AT " gravity=\"1.018 SG\"/>" },
	{ '-', "gravitiy 1.012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "added 50 g of dry hops", "<dry-hop" AT " amount=\"50 g\"/>" },
	/* ---- clean ---- */
	{ '-', "rinsed the bucket", "<gear cleaned=\"water\" item=\"fermenter\"/>" },
	{ '-', "rinsed the bucket with tap water", "<gear cleaned=\"water\" item=\"fermenter\"/>" },
	{ '-', "soaked bottles in oxi overnight", "<gear item=\"bottles\" cleaned=\"percarbonate\"/>" },
	{ '-', "cleaned the fermentor with hot water", "<gear item=\"fermenter\" cleaned=\"water\"/>" },
	{ '-', "sanitised the turkey baster with boiling water", "<gear item=\"sampler\" sanitiser=\"boiling\"/>" },
	{ '-', "sanitised bucket with no rinse", "<gear item=\"fermenter\" rinse=\"none\"/>" },
	{ '-', "sanitzed the bottles in the oven", "<gear item=\"bottles\" sanitiser=\"heat\"/>" },
	/* ---- packed ---- */
	{ '-', "botled 19 litres with 120 gramms sugar",
	    "<package" AT " into=\"bottles\" volume=\"19 L\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	{ '-', "bottled 19 l with 120g normal white sugar",
	    "<package" AT " into=\"bottles\" volume=\"19 L\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	{ '-', "bottled 18,5 litres with 6 g/l table sugar in brown bottles", "<package" AT
	    " into=\"bottles\" volume=\"18.5 L\" priming=\"111 g\" sugar=\"sucrose\" colour=\"brown\"/>" },
	{ '-', "all drunk", "<package fate-at=\"" NOW "\" fate=\"drunk\"/>" },
	{ '-', "the bottles are all drunk", "<package fate-at=\"" NOW "\" fate=\"drunk\"/>" },
	{ '-', "poured them all away", "<package fate-at=\"" NOW "\" fate=\"poured-away\"/>" },
	{ '-', "opened and let off all bottles", "<package fate-at=\"" NOW "\" fate=\"let-off\"/>" },
	{ '-', "primed with 130g of sugar boiled in water", "<package priming=\"130 g\" sugar=\"sucrose\"/>" },
	{ '-', "transfered to bottling bucket with a hose, bit of splashing",
	    "<transfer" AT " how=\"siphon\" splashed=\"yes\"/>" },
	{ '-', "racked to the bottling bucket without splashing", "<transfer" AT " splashed=\"no\"/>" },
	{ '-', "syphoned into another bucket", "<transfer" AT " how=\"siphon\"/>" },
	{ '-', "kegged 19 l, purged 3 times with CO2", "<package" AT " into=\"keg\" volume=\"19 L\" purges=\"3\"/>" },
	{ 'm', "put bottles in the cellar, dark, 17 degrees",
	    "<store from=\"" NOW "\" light=\"dark\" temp=\"17 C\"/>" },
	{ 'm', "put the bottles in a dark cupboard at 21 C", "<store from=\"" NOW "\" light=\"dark\" temp=\"21 C\"/>" },
	{ '-', "bottles in the garage, about 15 C", "<store from=\"" NOW "\" temp=\"about 15 C\"/>" },
	{ '-', "chilled the bottles at 4 degrees", "<store from=\"" NOW "\" temp=\"4 C\"/>" },
	/* ---- forty more, written when the tables were as they are: six of them are refused ---- */
	{ '-', "boil 60 min lid ajar", "<boil time=\"60 min\" lid=\"partly\"/>" },
	{ '-', "cooled with a copper coil to 19 C in 20 min",
	    "<chill method=\"coil\" end-temp=\"19 C\" to-pitch=\"20 min\"/>" },
	{ 'm', "cooled it down in the sink to 22", "<chill method=\"other\" end-temp=\"22 C\"/>" },
	{ '-', "5.5 gal into the carboy", "<recipe volume=\"5.5 gal\"/>" },
	{ '-', "yeast 4 weeks old, kept at room temperature", "<yeast age=\"4 wk\" kept=\"room\"/>" },
	{ '-', "took off after 10 hours", "<lag first-signs=\"10 h\"/>" },
	{ '-', "bubbling since yesterday 22:00", "<lag first-signs=\"28 h\"/>" },
	{ '-', "specfic gravity 1.013", "<reading" AT " gravity=\"1.013 SG\"/>" },
	{ '-', "siphoned to the bottling bucket, no splashing", "<transfer" AT " how=\"siphon\" splashed=\"no\"/>" },
	{ '-', "bottled 4.5 gallons using 3.5 oz table sugar",
	    "<package" AT " into=\"bottles\" volume=\"4.5 gal\" priming=\"3.5 oz\" sugar=\"sucrose\"/>" },
	{ 'm', "stored at 20 degrees in the dark", "<store from=\"" NOW "\" temp=\"20 C\" light=\"dark\"/>" },
	/* ---- what a journal has no place for stands in a note, and the rest where it belongs ---- */
	{ '-', "bottled 36 x 0,5 l",
	    "<package" AT " into=\"bottles\" size=\"0.5 L\"/><note>" NOW ": 36 x 0,5 l</note>" },
	{ '-', "bottled 38 bottles", "<package" AT " into=\"bottles\"/><note>" NOW ": 38 bottles</note>" },
	{ '-', "filled 38 bottles, 2 short",
	    "<package" AT " into=\"bottles\"/><note>" NOW ": 38 bottles, 2 short</note>" },
	{ '-', "bottled twenty bottles and one broken with 110 g sugar", "<package" AT
	    " into=\"bottles\" priming=\"110 g\" sugar=\"sucrose\"/><note>" NOW
	    ": twenty bottles and one broken</note>" },
	{ '-', "filled 30 swing-tops with 100 g sugar", "<package" AT
	    " into=\"bottles\" bottle=\"swing-top\" priming=\"100 g\" sugar=\"sucrose\"/><note>" NOW
	    ": 30 swing-tops</note>" },
	{ '-', "mashed in at 67 C with 14 L", "<mash temp=\"67 C\"/><note>" NOW ": mash water 14 L</note>" },
	{ '-', "sparged with 3 gal at 170 F",
	    "<mash sparge-temp=\"170 F\"/><note>" NOW ": sparge water 3 gal</note>" },
	{ '-', "sparged 12 L", "<note>" NOW ": sparge water 12 L</note>" },
	{ '-', "mash ph was 5.32 at 20 C", "<note>" NOW ": mash pH 5.32 at 20 C</note>" },
	{ '-', "mash ph 5.4, boiled 60 min", "<note>" NOW ": mash pH 5.4</note><boil time=\"60 min\"/>" },
	{ '-', "collected 26 L preboil at 1.042", "<note>" NOW ": collected 26 L preboil at 1.042</note>" },
	{ '-', "preboil gravity 1.042", "<note>" NOW ": before the boil 1.042</note>" },
	{ 'm', "mashed 4.8 kg at 66 for an hour",
	    "<mash temp=\"66 C\" time=\"1 h\"/><note>" NOW ": grain in the mash 4.8 kg</note>" },
	{ '-', "strike water was 15 L at 74 C", "<note>" NOW ": strike water was 15 L at 74 C</note>" },
	{ '-', "topped up to 20 L", "<note>" NOW ": topped up to 20 L</note>" },
	{ '-', "canned 20 cans, 0.5 L each",
	    "<package" AT " into=\"cans\" size=\"0.5 L\"/><note>" NOW ": 20 cans, 0.5 L each</note>" },
	{ '-', "bottled 5 gal w/ 4.5 oz corn sugar, 52 bottles", "<package" AT
	    " into=\"bottles\" volume=\"5 gal\" priming=\"4.5 oz\" sugar=\"dextrose\"/><note>" NOW
	    ": 52 bottles</note>" },
	{ '-', "bottled 40 bottles 330 ml with 100 g sugar", "<package" AT
	    " into=\"bottles\" size=\"330 mL\" priming=\"100 g\" sugar=\"sucrose\"/><note>" NOW
	    ": 40 bottles 330 ml</note>" },
	{ '-', "mashed 4 kg of grain at 68 C", "<mash temp=\"68 C\"/><note>" NOW ": grain in the mash 4 kg</note>" },
	/* ---- every package a journal knows ---- */
	{ '-', "canned 24 cans", "<package" AT " into=\"cans\"/><note>" NOW ": 24 cans</note>" },
	{ '-', "canned 19 L with 80 g dextrose at 1.010",
	    "<package" AT " into=\"cans\" volume=\"19 L\" priming=\"80 g\" sugar=\"dextrose\" gravity=\"1.010 SG\"/>" },
	{ '-', "canned in plastic cans, no sugar",
	    "<package" AT " into=\"cans\" bottle=\"plastic-can\" priming=\"0 g\"/>" },
	{ '-', "filled 30 cans", "<package" AT " into=\"cans\"/><note>" NOW ": 30 cans</note>" },
	{ '-', "filled 5 mini kegs",
	    "<package" AT " into=\"keg\" bottle=\"mini-keg\"/><note>" NOW ": 5 mini kegs</note>" },
	{ '-', "filled the keg", "<package" AT " into=\"keg\"/>" },
	{ '-', "bottled 19 L into mini kegs with 60 g sugar", "<package" AT
	    " into=\"bottles\" volume=\"19 L\" bottle=\"mini-keg\" priming=\"60 g\" sugar=\"sucrose\"/>" },
	{ '-', "casked with 60 g sugar at 1.012",
	    "<package" AT " into=\"cask\" priming=\"60 g\" sugar=\"sucrose\" gravity=\"1.012 SG\"/>" },
	{ '-', "racked to the cask", "<package" AT " into=\"cask\"/>" },
	{ '-', "filled the cask with 60 g sugar", "<package" AT " into=\"cask\" priming=\"60 g\" sugar=\"sucrose\"/>" },
	{ 'm', "put the cans in the fridge", "<store from=\"" NOW "\" light=\"dark\"/>" },
	/* ---- days counted from pitching ---- */
	{ '-', "on day 2 gravity 1.030", "<reading at=\"2031-03-13\" gravity=\"1.030 SG\"/>" },
	{ '-', "day 1: wort 20 C", "<reading at=\"2031-03-12\" wort=\"20 C\"/>" },
	{ '-', "2 days after pitching dry hopped 30 g saaz",
	    "<dry-hop at=\"2031-03-13\" amount=\"30 g\" name=\"saaz\"/>" },
	{ '-', "5 hours after pitching wort 21 C", "<reading at=\"2031-03-11T23:00\" wort=\"21 C\"/>" },
	{ '-', "gravity 1.030 day 2", "<reading at=\"2031-03-13\" gravity=\"1.030 SG\"/>" },
	{ '-', "day 1 18:30 gravity 1.040", "<reading at=\"2031-03-12T18:30\" gravity=\"1.040 SG\"/>" },
	/* ---- malts by the names they are sold by; the second word of a lead mistyped ---- */
	{ '-', "biscuit malt 250g", "<malt kind=\"other\" name=\"biscuit malt\" amount=\"250 g\"/>" },
	{ '-', "0.5 lb aromatic", "<malt amount=\"0.5 lb\" kind=\"other\" name=\"aromatic\"/>" },
	{ '-', "500 g of flaked barley", "<malt amount=\"500 g\" kind=\"adjunct\"/>" },
	{ '-', "malt 200 g chocolate malt", "<malt amount=\"200 g\" kind=\"roasted\"/>" },
	{ '-', "10 lb two-row", "<malt amount=\"10 lb\" kind=\"pale\"/>" },
	{ '-', "dry hoped 2 oz mosaic", "<dry-hop" AT " amount=\"2 oz\" name=\"mosaic\"/>" },
	{ '-', "cold chrashed to 2 C", "<crash" AT " temp=\"2 C\"/>" },
	{ '-', "malt 4,5 kg pale ale malt", "<malt amount=\"4.5 kg\" kind=\"pale\"/>" },
	{ '-', "malt 10 lbs caramel", "<malt amount=\"10 lb\" kind=\"crystal\"/>" },
	/* ---- little words on the way, and names as the trade has them ---- */
	{ '-', "C60 8 oz", "<malt kind=\"crystal\" name=\"crystal 60\" amount=\"8 oz\"/>" },
	{ '-', "0.5 lb c120", "<malt amount=\"0.5 lb\" kind=\"crystal\" name=\"crystal 120\"/>" },
	{ '-', "4.5 kg maris otter and 300g crystal 60",
	    "<malt amount=\"4.5 kg\" kind=\"pale\"/><malt amount=\"300 g\" kind=\"crystal\" name=\"crystal 60\"/>" },
	{ '-', "yeast dry named C60", "<yeast form=\"dry\" strain=\"C60\"/>" },
	{ '-', "OG came in at 1.055", "<reading at=\"+0h\" gravity=\"1.055 SG\"/>" },
	{ '-', "OG 1.055 at 22 C", "<reading at=\"+0h\" gravity=\"1.055 SG\" sample=\"22 C\"/>" },
	{ '-', "gravity at 22 C 1.012", "<reading" AT " sample=\"22 C\" gravity=\"1.012 SG\"/>" },
	{ '-', "we dry hopped the beer with 50 g citra", "<dry-hop" AT " amount=\"50 g\" name=\"citra\"/>" },
	{ '-', "dry hop 2 oz golding", "<dry-hop" AT " amount=\"2 oz\" name=\"golding\"/>" },
	{ '-', "cold crashing the beer at 1 C", "<crash" AT " temp=\"1 C\"/>" },
	{ '-', "oxygenated for 60 seconds with pure O2", "<aerate method=\"oxygen\" time=\"60 s\"/>" },
	{ '-', "treated the water with half a campden tablet", "<water treatment=\"sulphite\"/>" },
	{ '-', "set the gas to 12 psi", "<carbonate pressure=\"12 psi\"/>" },
	{ '-', "pitched two packets of dry ale yeast into the fermenter at 19 C",
	    "<pitch" AT " temp=\"19 C\"/><yeast packs=\"2\" form=\"dry\" class=\"clean-ale\"/>" },
	{ '-', "all the bottles are in the fridge", "<store from=\"" NOW "\" light=\"dark\"/>" },
	{ '-', "we really just kegged it and set the gas to 12 psi",
	    "<package" AT " into=\"keg\"/><carbonate pressure=\"12 psi\"/>" },
	{ 'm', "raised temp to 20 diacetyl rest", "<rest" AT " temp=\"20 C\"/>" },
	{ '-', "airlock has stopped bubbling", "<looks" AT " airlock-still=\"yes\"/>" },
	/* ---- what was turned, and to what: below 5 C it is a crash ---- */
	{ '-', "bumped temp to 70 F", "<reading" AT " wort=\"70 F\"/>" },
	{ '-', "raised to 21 C", "<reading" AT " wort=\"21 C\"/>" },
	{ '-', "let it free rise to 21", "<reading" AT " wort=\"21 C\"/>" },
	{ 'u', "bumped it up to 70", "<reading" AT " wort=\"70 F\"/>" },
	{ '-', "dropped to 12 C", "<reading" AT " wort=\"12 C\"/>" },
	{ '-', "dropped to 34 F", "<crash" AT " temp=\"34 F\"/>" },
	{ '-', "lowered temp to 4.9 C", "<crash" AT " temp=\"4.9 C\"/>" },
	{ '-', "lowered temp to 5 C", "<reading" AT " wort=\"5 C\"/>" },
	{ '-', "dropped to 1 C for 3 days", "<crash" AT " temp=\"1 C\" for=\"3 d\"/>" },
	{ '-', "temp dropped to 17 C", "<reading" AT " wort=\"17 C\"/>" },
	{ '-', "room dropped to 12 C", "<reading" AT " room=\"12 C\"/>" },
	{ '-', "dropped to 1.014", "<reading" AT " gravity=\"1.014 SG\"/>" },
	{ '-', "raised to 21 C for 3 d", "<rest" AT " temp=\"21 C\" for=\"3 d\"/>" },
	{ '-', "set fridge to 18 C", "<reading" AT " room=\"18 C\"/>" },
	{ '-', "turned the fridge down to 2 C", "<crash" AT " temp=\"2 C\"/>" },
	{ '-', "turned fermentation chamber up to 70 F", "<reading" AT " room=\"70 F\"/>" },
	{ '-', "cooled down to 2 C", "<crash" AT " temp=\"2 C\"/>" },
	{ '-', "crash cooled to 33 F", "<crash" AT " temp=\"33 F\"/>" },
	{ '-', "brought it up to 20 C", "<reading" AT " wort=\"20 C\"/>" },
	{ '-', "turned up to 22 C for diacetyl rest", "<rest" AT " temp=\"22 C\"/>" },
	{ '-', "chilled to 20 C", "<chill end-temp=\"20 C\"/>" },
	{ '-', "cooled to 4 C in 30 min by coil", "<chill end-temp=\"4 C\" to-pitch=\"30 min\" method=\"coil\"/>" },
	/* ---- gas on the keg, in the same line and later ---- */
	{ '-', "kegged at 12 psi", "<package" AT " into=\"keg\"/><carbonate pressure=\"12 psi\"/>" },
	{ '-', "kegged it, set to 12 psi", "<package" AT " into=\"keg\"/><carbonate pressure=\"12 psi\"/>" },
	{ '-', "kegged and set at 1 bar", "<package" AT " into=\"keg\"/><carbonate pressure=\"1 bar\"/>" },
	{ '-', "kegged, 12 psi at 4 C", "<package" AT " into=\"keg\"/><carbonate pressure=\"12 psi\" temp=\"4 C\"/>" },
	{ '-', "kegged 5 gal, 30 psi for a day",
	    "<package" AT " into=\"keg\" volume=\"5 gal\"/><carbonate pressure=\"30 psi\" for=\"1 d\"/>" },
	{ '-', "kegged, flushed 3 times to 2 bar",
	    "<package" AT " into=\"keg\" purges=\"3\" purge-pressure=\"2 bar\"/>" },
	{ '-', "carbonated at 12 psi", "<carbonate pressure=\"12 psi\"/>" },
	{ '-', "set regulator to 0.8 bar", "<carbonate pressure=\"0.8 bar\"/>" },
	{ '-', "turned the gas down to 10 psi", "<carbonate pressure=\"10 psi\"/>" },
	{ '-', "burst carbed at 2 bar for 24 h", "<carbonate method=\"burst\" pressure=\"2 bar\" for=\"24 h\"/>" },
	{ '-', "put it on gas at 12 psi", "<carbonate pressure=\"12 psi\"/>" },
	{ '-', "first pour, 11 psi at 38 F", "<serve pressure=\"11 psi\" temp=\"38 F\"/>" },
	{ '-', "check hydrometer-in-water no", "<test" AT " kind=\"hydrometer-in-water\" result=\"no\"/>" },
	{ '-', "check hydrometer-in-water: yes", "<test" AT " kind=\"hydrometer-in-water\" result=\"yes\"/>" },
	/* ---- asides that add nothing, and things by their plain names ---- */
	{ '-', "FG 1.011 same as yesterday", "<reading" AT " gravity=\"1.011 SG\"/>" },
	{ '-', "took a sample, 1.019", "<reading" AT " gravity=\"1.019 SG\"/>" },
	{ '-', "added gelatin", "<fining" AT " name=\"gelatine\"/>" },
	{ '-', "closed transfer to keg, purged with co2", "<transfer" AT " how=\"closed\" target=\"purged\"/>" },
	{ '-', "bottles at room temp 21 C", "<store from=\"" NOW "\" temp=\"21 C\"/>" },
	{ '-', "added first hops, 25 g of bravo", "<hop amount=\"25 g\" name=\"bravo\"/>" },
	/* ---- slips of the hand, more than one ---- */
	{ '-', "sanitzed the botltes with acid", "<gear item=\"bottles\" sanitiser=\"acid\"/>" },
	{ '-', "hops 30 g frozne", "<hop amount=\"30 g\" kept=\"frozen-sealed\"/>" },
};

START_TEST(taken_as_meant)
{
	ec_takes(taken[_i].units, taken[_i].words, taken[_i].elements);
}
END_TEST

/* Near to what would be taken, and something else: nothing is written. */
static const struct { char units; const char *words; } refused[] = {
	{ 'm', "pitched 2 L wort" }, { '-', "gravity dropped 10 points" }, { '-', "gravity down 4 points" },
	{ '-', "cooked the wort for 60 min" }, { '-', "cracked the fermenter" },
	{ '-', "no bubbles after two days" }, { '-', "pitched 1 pack, 3 hours after the boil" },
	{ '-', "bubbling" }, { '-', "fermenter at 1.012" }, { '-', "bottles in the oven at 120 C" },
	{ '-', "rinsed the bottles with no rinse sanitizer" }, { '-', "rinsed the bottles with star stuff" },
	{ '-', "soaked the grain overnight" }, { '-', "opened 2 bottles" },
	{ '-', "mash temp dropped to 63 at the end" }, { '-', "racked with very little splashing" },
	{ '-', "put 19 l in a 30 l bucket" }, { '-', "first bubbles at 12 at night" },
	{ 'm', "mash 150 degrees" }, { '-', "filled the fermenter" }, { '-', "filled the keg with water" },
	{ '-', "filled the cask with water" }, { '-', "filled the keg with sanitiser" }, { '-', "dry hop out" },
	{ '-', "filled 20 bottles with sanitiser" }, { '-', "filled the cans with water" },
	{ '-', "day 2 and day 3 were warm" },
	{ '-', "collected 20 L in the bucket" }, { '-', "canned with 3 g per can" },
	{ '-', "got 40 x 500 ml bottles" }, { '-', "dry humped 30 g" }, { '-', "OG at 22 C" },
	{ '-', "wasted 2 bottles" }, { '-', "yeast was 2 months past its date" },
	{ '-', "moved it to the warmer room, 22 C" },
	{ '-', "krausen fell today" }, { '-', "check hydrometer-in-water" }, { '-', "check yes" },
	{ '-', "check no-such-check yes" },
	/* a step, and no temperature; of what was purged or seated; another pressure than that of the gas */
	{ '-', "raised 2 C" }, { '-', "bumped temp by 2 C" }, { '-', "raised mash to 72 C" },
	{ '-', "dropped yeast at 12 C" }, { '-', "turned heat pad on" }, { '-', "set controller to 66 F" },
	{ '-', "raised it to the shelf 21 C" },
	{ '-', "kegged at 4 C" }, { '-', "kegged, purged 3 times at 30 psi" },
	{ '-', "kegged into purged keg at 12 psi" }, { '-', "kegged, 30 psi to seat the lid" },
	{ '-', "turned gas off" }, { '-', "set spunding valve to 10 psi" },
	/* a keg that does not leak, or holds something else */
	{ '-', "keg is not leaking" }, { '-', "keg at 12 psi" }, { '-', "keg is empty" },
	{ '-', "pitched more hops" }, { '-', "pitched fresh wort" }, { '-', "pitched second batch of hops" },
	{ '-', "pitched more yeast nutrient" }, { '-', "pitched another pack of hops" },
	{ '-', "racked into house bucket" }, { '-', "cash to 2 C" },
	/* of the krausen, the starter, the trub or a pressure: no bottle is told of */
	{ '-', "all gone" }, { '-', "drunk" }, { '-', "got drunk" }, { '-', "dumped" }, { '-', "dumped it" },
	{ '-', "poured away" }, { '-', "poured it away" },
	{ '-', "let the gas off" }, { '-', "opened and let off" },
	/* what is no name of a hop, no temperature, or of minutes nobody told */
	{ '-', "hops 30 g left over" }, { '-', "dry hop 50 g floating" }, { '-', "hops 30 g Left Over" },
	{ 'm', "pitched at C20" }, { 'm', "chilled to C60" }, { 'm', "bucket 20" }, { 'm', "carboy 19" },
	{ '-', "1 oz cascade at 60" }, { '-', "moved it from the fridge at 4 C" },
	{ '-', "cold crash the beer to 2 C?" }, { '-', "dry hop 50 g Citra?" }, { '-', "gravity 1.012?" },
	{ '-', "served 3 bottles" },
};

START_TEST(refused_as_unclear)
{
	enum ab_status st = ec_say(refused[_i].units, refused[_i].words, NOW, PITCHED);

	ck_assert_msg(st == AB_EUSAGE, "%s: %s", refused[_i].words, st == AB_OK ? ec.entry->element : ec.diag.text);
	ck_assert_ptr_null(ec.entry);
}
END_TEST

/* What is to come, bought, of others or asked: a note of the whole line is all that is offered, for what is chosen
 * in haste is written. */
static const char *const elsewise[] = { "I will pitch 2 packs of yeast tomorrow",
	"going to dry hop with 50 g citra", "bought 500 g munich", "ordered 60g citra", "need 120 g hops",
	"the other batch is at 22 C", "he pitched at 30 C", "1 oz cascade costs 3 dollars",
	"if it is at 1.010 we bottle", "pitching at 18 C next time", "wort should be 18 C", "gravity 1.012?",
	"500 g munich?" };

START_TEST(only_as_a_note)
{
	char note[200];

	snprintf(note, sizeof note, "note %s", elsewise[_i]);
	ck_assert_int_eq(ec_say('m', elsewise[_i], NOW, PITCHED), AB_EUSAGE);
	ck_assert_uint_eq(ec.doubt.n, 1);
	ck_assert_str_eq(ec.doubt.ways[0], note);
	ck_assert_int_eq(ec_say('m', note, NOW, PITCHED), AB_OK);
}
END_TEST

/* Before the yeast is in, and in bottles, beer is brought to nothing: the mash may be, and a cold room. */
START_TEST(turned_while_it_ferments)
{
	static const struct { const char *words, *pitched; int packaged; const char *element; } rows[] = {
		{ "raised to 72 C", NULL, 1, NULL }, { "dropped to 20 C", NULL, 1, NULL },
		{ "raised to 21 C", PITCHED, 1, "<reading" AT " wort=\"21 C\"/>" },
		{ "raised to 21 C", PITCHED, 2, NULL },
		{ "set fridge to 3 C", NULL, 1, NULL },
		{ "set fridge to 3 C", PITCHED, 1, "<crash" AT " temp=\"3 C\"/>" },
		{ "set fridge to 3 C", PITCHED, 2, "<store from=\"" NOW "\" temp=\"3 C\"/>" },
		{ "cooled to 2 C", NULL, 1, "<chill end-temp=\"2 C\"/>" },
		{ "moved to garage, 55 F", PITCHED, 1, "<reading" AT " room=\"55 F\"/>" },
		{ "moved to garage, 55 F", PITCHED, 2, NULL },
	};
	struct ab_when now = ec_when(NOW);

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct ab_when pitched = ec_when(rows[i].pitched);
		const struct ab_entry_help help = { .units = 1,
			.now = &now,
			.pitched = rows[i].pitched != NULL ? &pitched : NULL,
			.packaged = rows[i].packaged,
			.doubt = &ec.doubt };
		ab_diag_init(&ec.diag);
		enum ab_status st = ab_entry_read(rows[i].words, &now, &help, ec.arena, &ec.entry, &ec.diag);
		ck_assert_msg(st == (rows[i].element != NULL ? AB_OK : AB_EUSAGE), "%s: %s", rows[i].words,
		    st == AB_OK ? ec.entry->element : ec.diag.text);
		if (st == AB_OK)
			ck_assert_str_eq(ec.entry->element, rows[i].element);
		else
			ck_assert_str_ne(ec.diag.text, "");
	}
}
END_TEST

/* Told beside the line (--at) when it was: the line may say the same day, and no other. */
START_TEST(given_and_said)
{
	static const struct { const char *words, *given, *element; } rows[] = {
		{ "day 2 gravity 1.020", "2031-03-13T18:30",
		    "<reading at=\"2031-03-13T18:30\" gravity=\"1.020 SG\"/>" },
		{ "gravity 1.020 today", "2031-03-13T18:30",
		    "<reading at=\"2031-03-13T18:30\" gravity=\"1.020 SG\"/>" },
		{ "gravity 1.020 now", "2031-03-12", "<reading at=\"2031-03-12\" gravity=\"1.020 SG\"/>" },
		{ "gravity 1.020", "2031-03-12", "<reading at=\"2031-03-12\" gravity=\"1.020 SG\"/>" },
		{ "day 5 gravity 1.020", "2031-03-13T18:30", NULL },
		{ "+2d gravity 1.020", "2031-03-13T18:30", NULL },
		{ "gravity 1.020 yesterday", "2031-03-13T18:30", NULL },
		{ "18:30 gravity 1.020", "2031-03-13", NULL }, { "3 hours ago gravity 1.020", "2031-03-13", NULL },
	};
	struct ab_when now = ec_when(NOW), pitched = ec_when(PITCHED), at;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const struct ab_when given = ec_when(rows[i].given);
		const struct ab_entry_help help = {
			.units = 1, .now = &now, .given = &given, .pitched = &pitched, .doubt = &ec.doubt
		};
		ab_diag_init(&ec.diag);
		enum ab_status st = ab_entry_read(rows[i].words, &given, &help, ec.arena, &ec.entry, &ec.diag);
		ck_assert_msg(st == (rows[i].element != NULL ? AB_OK : AB_EUSAGE), "%s: %s", rows[i].words,
		    st == AB_OK ? ec.entry->element : ec.diag.text);
		if (st == AB_OK)
			ck_assert_str_eq(ec.entry->element, rows[i].element);
		else
			ck_assert_msg(strstr(ec.diag.text, "and --at 2031-03-13") != NULL &&
				strstr(ec.diag.text, "leave one of them out") != NULL,
			    "%s", ec.diag.text);
	}
	/* Beside the line days are counted from pitching, too. */
	ck_assert(ab_entry_when("day 5", &now, &pitched, ec.arena, &at) && at.date_only &&
	    at.s == ec_when("2031-03-16").s);
	ck_assert(!ab_entry_when("day 5", &now, NULL, ec.arena, &at));
}
END_TEST

/* Before the yeast is in "at 60" is of the boil: minutes, up to an hour. */
static const struct { const char *words, *elements; } of_the_boil[] = {
	{ "1 oz cascade at 60", "<hop amount=\"1 oz\" name=\"cascade\" use=\"bittering\"/>" },
	{ "60 g citra at 0", "<hop amount=\"60 g\" name=\"citra\" use=\"whirlpool\"/>" },
	{ "1 oz magnum at 60, 1 oz cascade at 10",
	    "<hop amount=\"1 oz\" name=\"magnum\" use=\"bittering\"/>"
	    "<hop amount=\"1 oz\" name=\"cascade\" use=\"flavour\"/>" },
	{ "1 oz cascade at 80", NULL }, { "1 oz cascade at 60 F", NULL }, { "1 oz cascade at 15.5", NULL },
	{ "30 g sugar at 60", NULL },
};

START_TEST(hops_by_their_minutes)
{
	char found[500];
	enum ab_status st = ec_say('m', of_the_boil[_i].words, NOW, NULL);

	ck_assert_msg(st == (of_the_boil[_i].elements != NULL ? AB_OK : AB_EUSAGE), "%s: %s", of_the_boil[_i].words,
	    ec.diag.text);
	if (st != AB_OK)
		return;
	ec_elements(found, sizeof found);
	ck_assert_str_eq(found, of_the_boil[_i].elements);
	ec_reads(of_the_boil[_i].words);
}
END_TEST

/* "It" is the fermenter till there are bottles. */
START_TEST(it_in_the_fridge)
{
	static const struct { int packaged; const char *element; } rows[] = { { 1, "<reading" AT
	    " room=\"4 C\"/>" }, { 2, "<store from=\"" NOW "\" light=\"dark\" temp=\"4 C\"/>" } };
	struct ab_when now = ec_when(NOW), pitched = ec_when(PITCHED);

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const struct ab_entry_help help = { .units = 1,
			.now = &now,
			.pitched = &pitched,
			.packaged = rows[i].packaged,
			.doubt = &ec.doubt };
		ab_diag_init(&ec.diag);
		ck_assert_int_eq(
		    ab_entry_read("put it in the fridge at 4 C", &now, &help, ec.arena, &ec.entry, &ec.diag),
		    AB_OK);
		ck_assert_str_eq(ec.entry->element, rows[i].element);
		/* Without "it" it may be any fridge. */
		ck_assert_int_eq(ab_entry_read("fridge at 4 C", &now, &help, ec.arena, &ec.entry, &ec.diag), AB_EUSAGE);
		ck_assert_str_eq(
		    ec.doubt.ways[0], rows[i].packaged == 1 ? "moved it to fridge at 4 C" : "stored fridge at 4 C");
		ck_assert_uint_eq(ec.doubt.n, 2);
		ab_diag_init(&ec.diag);
	}
}
END_TEST

/* A week after pitching nothing is a first sign any more. */
START_TEST(bubbles_again)
{
	struct ab_when now = { 0 }, pitched = { 0 };
	char why[200];

	ck_assert(ab_when_read("2031-03-25T19:30", &now, why, sizeof why) &&
	    ab_when_read(PITCHED, &pitched, why, sizeof why));
	const struct ab_entry_help help = { .units = 1, .now = &now, .pitched = &pitched };
	ab_diag_init(&ec.diag);
	ck_assert_int_eq(
	    ab_entry_read("bubbling since yesterday 22:00", &now, &help, ec.arena, &ec.entry, &ec.diag), AB_EUSAGE);
	ab_diag_init(&ec.diag);
	ck_assert_int_eq(ab_entry_read("first signs after 20 h", &now, &help, ec.arena, &ec.entry, &ec.diag), AB_OK);
}
END_TEST

/* The first line of a refusal is short, and its example is taken as it stands, or begins with words that are. */
START_TEST(refusals_are_short)
{
	ec_say(refused[_i].units, refused[_i].words, NOW, PITCHED);
	const char *end = strstr(ec.diag.text, ". Example: ");
	size_t words = 1;

	for (const char *c = ec.diag.text; *c != '\0' && c != end; c++)
		words += *c == ' ';
	ck_assert_msg(words <= 32, "%zu words: %s", words, ec.diag.text);
}
END_TEST

/* A slip that was put right is said. */
START_TEST(mended_is_said)
{
	ck_assert_int_eq(ec_say('-', "botled 19 litres", NOW, PITCHED), AB_OK);
	ck_assert_ptr_nonnull(strstr(ec.entry->echo, "(\"botled\" read as \"bottled\")"));
	ck_assert_int_eq(ec_say('-', "bottled 19 litres", NOW, PITCHED), AB_OK);
	ck_assert_ptr_null(strstr(ec.entry->echo, "read as"));
}
END_TEST

static const struct { const char *typed, *meant; bool slip; } slips[] = {
	{ "botled", "bottled", true }, { "bottlled", "bottled", true }, { "botlted", "bottled", true },
	{ "Botled", "bottled", true }, { "orginal", "original", true },
	{ "bottled", "bottled", false }, { "cooked", "cooled", false }, { "cracked", "racked", false },
	{ "cold", "colds", false }, { "house", "hose", false }, { "could", "cold", false }, { "cash", "crash", false },
	{ "hot", "hott", false }, { "botle", "bottle", true }, { "bottle", "bottled", true },
	{ "", "bottled", false }, { "b", "bottled", false }, { "bottledxx", "bottled", false },
	{ "ebottled", "bottled", false }, { "obttled", "bottled", false },
};

START_TEST(slips_of_the_hand)
{
	ck_assert_msg(ab_is_slip(slips[_i].typed, slips[_i].meant) == slips[_i].slip, "%s for %s", slips[_i].typed,
	    slips[_i].meant);
}
END_TEST

START_TEST(short_of_memory)
{
	static const char *const lines[] = { "botled 19 litres with 120 gramms sugar",
		"bubbling since 9 in the morning", "yeast 3 months old, kept in fridge",
		"sanitzed the botltes with acid", "it's 25 degrees in the kitchen", "no bubbles after two days",
		"C60 8 oz and 1 oz citra at 5 min", "bucket 20", "bought 500 g munich" };

	for (size_t k = 0; k < sizeof lines / sizeof *lines; k++) {
		enum ab_status st = AB_ENOMEM, whole = ec_say('m', lines[k], NOW, PITCHED);
		for (long i = 0; i < 4000 && st == AB_ENOMEM; i++) {
			ab_alloc_fail_at(i);
			st = ec_say('m', lines[k], NOW, PITCHED);
			ab_alloc_fail_at(-1);
			ck_assert_msg(
			    st == whole || (st == AB_ENOMEM && ec.entry == NULL), "%s: %ld: %d", lines[k], i, st);
		}
		ck_assert_int_eq(st, whole);
	}
}
END_TEST

/* Kinds of malt are the journal's; what else malts are called is for the caller to know. */
START_TEST(malts_nobody_told)
{
	const struct ab_entry_help none = { .units = 1 },
				   told = { .units = 1, .words = ec_malts, .n_words = ec_n_malts };
	const struct ab_when never = { 0 };

	ab_diag_init(&ec.diag);
	ck_assert_int_eq(ab_entry_read("malt 300 g crystal", &never, &none, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ab_diag_init(&ec.diag);
	ck_assert_int_eq(ab_entry_read("malt 300 g caramel", &never, &none, ec.arena, &ec.entry, &ec.diag), AB_EUSAGE);
	ck_assert_msg(strstr(ec.diag.text, "\"caramel\" has no place") != NULL, "%s", ec.diag.text);
	ab_diag_init(&ec.diag);
	ck_assert_int_eq(ab_entry_read("malt 300 g caramel", &never, &told, ec.arena, &ec.entry, &ec.diag), AB_OK);
	/* Two words of its own show that malt is meant, and no name of a hop. */
	ck_assert_int_eq(ab_entry_read("4 kg maris otter", &never, &told, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ck_assert_str_eq(ec.entry->element, "<malt amount=\"4 kg\" kind=\"pale\"/>");
	/* With a hyphen as without. */
	ck_assert_int_eq(ab_entry_read("4 kg Maris-Otter", &never, &told, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ck_assert_str_eq(ec.entry->element, "<malt amount=\"4 kg\" kind=\"pale\"/>");
	ck_assert_int_eq(ab_entry_read("malt 4 kg Maris-Otter", &never, &told, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ck_assert_str_eq(ec.entry->element, "<malt amount=\"4 kg\" kind=\"pale\"/>");
	ck_assert_int_ne(ab_entry_read("4 kg Maris-Otters-", &never, &told, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ab_diag_init(&ec.diag);
	/* A slip for a word that the caller told is put right. */
	ck_assert_int_eq(ab_entry_read("malt 300 g carmel", &never, &told, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ck_assert_str_eq(ec.entry->element, "<malt amount=\"300 g\" kind=\"crystal\"/>");
}
END_TEST

int main(void)
{
	Suite *s = suite_create("entry_plain");
	TCase *t = tcase_create("entry_plain");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(t, ec_setup, ec_teardown);
	tcase_add_loop_test(t, taken_as_meant, 0, sizeof taken / sizeof *taken);
	tcase_add_loop_test(t, refused_as_unclear, 0, sizeof refused / sizeof *refused);
	tcase_add_loop_test(t, refusals_are_short, 0, sizeof refused / sizeof *refused);
	tcase_add_loop_test(t, slips_of_the_hand, 0, sizeof slips / sizeof *slips);
	tcase_add_loop_test(t, only_as_a_note, 0, sizeof elsewise / sizeof *elsewise);
	tcase_add_loop_test(t, hops_by_their_minutes, 0, sizeof of_the_boil / sizeof *of_the_boil);
	tcase_add_test(t, it_in_the_fridge);
	tcase_add_test(t, given_and_said);
	tcase_add_test(t, turned_while_it_ferments);
	tcase_add_test(t, bubbles_again);
	tcase_add_test(t, malts_nobody_told);
	tcase_add_test(t, mended_is_said);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
