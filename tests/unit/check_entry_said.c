/* check_entry_said.c - lines as a tired brewer types them: without units, leads or XML, with slips and with the
 * hour in front
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "entrycase.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"

static const struct { char units; const char *words, *elements; } taken[] = {
	/* ---- the unit is the brewer's own ---- */
	{ 'm', "room 20", "<reading" AT " room=\"20 C\"/>" }, { 'u', "room 68", "<reading" AT " room=\"68 F\"/>" },
	{ 'm', "wort 20", "<reading" AT " wort=\"20 C\"/>" }, { 'u', "wort 66", "<reading" AT " wort=\"66 F\"/>" },
	{ 'm', "temp 19,5", "<reading" AT " wort=\"19.5 C\"/>" },
	{ 'm', "wort temp 20", "<reading" AT " wort=\"20 C\"/>" },
	{ 'm', "beer is 19", "<reading" AT " wort=\"19 C\"/>" },
	{ 'm', "ambient 20", "<reading" AT " room=\"20 C\"/>" },
	{ 'm', "wort 19 room 21", "<reading" AT " wort=\"19 C\" room=\"21 C\"/>" },
	{ 'm', "pitched at 19", "<pitch" AT " temp=\"19 C\"/>" },
	{ 'm', "pitched 2 packs at 19", "<pitch" AT " temp=\"19 C\"/><yeast packs=\"2\"/>" },
	{ 'u', "pitched 1 pack at 66", "<pitch" AT " temp=\"66 F\"/><yeast packs=\"1\"/>" },
	{ 'm', "stored at 12", "<store from=\"" NOW "\" temp=\"12 C\"/>" },
	{ 'u', "cold crash 38", "<crash" AT " temp=\"38 F\"/>" },
	{ 'm', "chilled 25 min to 19", "<chill to-pitch=\"25 min\" end-temp=\"19 C\"/>" },
	{ 'm', "rest at 21 for 3 days", "<rest" AT " temp=\"21 C\" for=\"3 d\"/>" },
	{ 'm', "gravity 1.020 at 22", "<reading" AT " gravity=\"1.020 SG\" sample=\"22 C\"/>" },
	{ 'm', "fermenter bucket room 18", "<vessel kind=\"bucket\" room=\"18 C\"/>" },
	{ 'm', "sparged with 76 C water", "<mash sparge-temp=\"76 C\"/>" },
	{ 'm', "cold crashed to 3", "<crash" AT " temp=\"3 C\"/>" },
	{ 'u', "cooled 20 min to 66 with immersion chiller",
	    "<chill to-pitch=\"20 min\" end-temp=\"66 F\" method=\"coil\"/>" },
	{ '-', "dry hopped 50 g cascade, lid off",
	    "<dry-hop" AT " amount=\"50 g\" name=\"cascade\" opened=\"open-lid\"/>" },
	{ 'u', "sparge 170", "<mash sparge-temp=\"170 F\"/>" },
	/* ---- malt by its colour, which is no amount ---- */
	{ '-', "malt 300 g crystal 40", "<malt amount=\"300 g\" kind=\"crystal\" name=\"crystal 40\"/>" },
	{ '-', "crystal 40 0.5 lb", "<malt kind=\"crystal\" name=\"crystal 40\" amount=\"0.5 lb\"/>" },
	{ '-', "1/2 lb crystal 60L", "<malt amount=\"0.5 lb\" kind=\"crystal\" name=\"crystal 60L\"/>" },
	{ '-', "malt 200 g caramel 150 EBC", "<malt amount=\"200 g\" kind=\"crystal\" name=\"caramel 150 EBC\"/>" },
	{ '-', "malt pale 4 kg", "<malt kind=\"pale\" amount=\"4 kg\"/>" },
	{ '-', "malt crystal 10 %", "<malt kind=\"crystal\" share=\"10 %\"/>" },
	{ '-', "malt crystal 500 g aged 8 mo", "<malt kind=\"crystal\" amount=\"500 g\" age=\"8 mo\"/>" },
	{ '-', "malt 4.5 kg pale, 300 g crystal 40",
	    "<malt amount=\"4.5 kg\" kind=\"pale\"/><malt amount=\"300 g\" kind=\"crystal\" name=\"crystal 40\"/>" },
	{ '-', "10# malt pale", "<malt amount=\"10 lb\" kind=\"pale\"/>" },
	/* ---- brew-day shorthand ---- */
	{ '-', "25g fuggle 60'", "<hop amount=\"25 g\" name=\"fuggle\" use=\"bittering\"/>" },
	{ '-', "1oz magnum FWH", "<hop amount=\"1 oz\" name=\"magnum\" use=\"bittering\"/>" },
	{ '-', "O2 60s", "<aerate method=\"oxygen\" time=\"60 s\"/>" },
	{ '-', "boil 60m", "<boil time=\"60 min\"/>" },
	{ '-', "shook a bit", "<aerate method=\"shake\" guess=\"yes\"/>" },
	{ '-', "dh 40 g x 3d", "<dry-hop" AT " amount=\"40 g\" contact=\"3 d\"/>" },
	{ '-', "crash 34F x 2d", "<crash" AT " temp=\"34 F\" for=\"2 d\"/>" },
	{ '-', "boiled for an hour and a quarter", "<boil time=\"1.25 h\"/>" },
	{ '-', "first bubbles after about eighteen hours", "<lag first-signs=\"about 18 h\"/>" },
	{ '-', "kegged 18 liters, no sugar", "<package" AT " into=\"keg\" volume=\"18 L\" priming=\"0 g\"/>" },
	{ '-', "closed transfer into purged keg", "<transfer" AT " how=\"closed\" target=\"purged\"/>" },
	{ '-', "raised it to 21 C for three days to clean up", "<rest" AT " temp=\"21 C\" for=\"3 d\"/>" },
	{ '-', "temperature in the shed fell to 14 C overnight", "<reading" AT " room=\"14 C\"/>" },
	{ '-', "garage 15 C", "<reading" AT " room=\"15 C\"/>" },
	{ '-', "sprinkled dry yeast on top without rehydrating",
	    "<pitch" AT "/><yeast form=\"dry\" rehydrated=\"no\"/>" },
	{ '-', "okay so we mashed at 66 C and let it sit for an hour", "<mash temp=\"66 C\" time=\"1 h\"/>" },
	{ '-', "gave the carboy a good shake for 2 minutes", "<aerate method=\"shake\" time=\"2 min\"/>" },
	/* ---- it bubbles: a note, which swallows no reading ---- */
	{ '-', "the airlock is going crazy this morning, room 64 F",
	    "<note>" NOW ": airlock bubbling crazy this morning</note><reading" AT " room=\"64 F\"/>" },
	{ '-', "airlock is bubbling", "<note>" NOW ": airlock bubbling </note>" },
	{ '-', "bubbling slowed way down, one every 10 seconds",
	    "<note>" NOW ": bubbling slowly way down, one every 10 seconds</note>" },
	/* ---- what the calendar asks for, in the words it asks in ---- */
	{ '-', "took the hops out", "<note>" NOW ": hops out </note>" },
	{ '-', "hops out", "<note>" NOW ": hops out </note>" },
	{ '-', "removed the hops", "<note>" NOW ": hops out </note>" },
	{ '-', "hops out, smells great", "<note>" NOW ": hops out smells great</note>" },
	{ '-', "put the fermenter in a tub of water", "<vessel control=\"water-bath\"/>" },
	{ '-', "stood the bucket in a tub of cool water", "<vessel control=\"water-bath\"/>" },
	{ '-', "threw in a packet of dry yeast", "<pitch" AT "/><yeast packs=\"1\" form=\"dry\"/>" },
	/* ---- sugar that nobody weighed ---- */
	{ '-', "bottled, 2 carbonation drops per bottle", "<package" AT
	    " into=\"bottles\" mixing=\"drops\"/><note>" NOW
	    ": sugar by the piece, its weight still to be told: 2 carbonation drops per bottle</note>" },
	{ '-', "bottled 18 L, two drops each", "<package" AT
	    " into=\"bottles\" volume=\"18 L\" mixing=\"drops\"/><note>" NOW
	    ": sugar by the piece, its weight still to be told: two drops each</note>" },
	{ '-', "half a teaspoon of sugar per bottle", "<package" AT
	    " into=\"bottles\" mixing=\"per-bottle\"/><note>" NOW
	    ": sugar by the piece, its weight still to be told: half a teaspoon of sugar per bottle</note>" },
	{ '-', "bottled 5 gal with 3/4 cup corn sugar", "<package" AT
	    " into=\"bottles\" volume=\"5 gal\" sugar=\"dextrose\"/><note>" NOW
	    ": sugar by the piece, its weight still to be told: 3/4 cup</note>" },
	{ '-', "bottled with 3/4 cup sugar in water", "<package" AT
	    " into=\"bottles\" sugar=\"sucrose\"/><note>" NOW
	    ": sugar by the piece, its weight still to be told: 3/4 cup</note>" },
	{ '-', "bottled with 120 g sugar in 1 cup water",
	    "<package" AT " into=\"bottles\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	{ '-', "one sugar cube each", "<package" AT " into=\"bottles\" mixing=\"drops\"/><note>" NOW
	    ": sugar by the piece, its weight still to be told: one sugar cube each</note>" },
	{ '-', "a teaspoon of sugar per bottle", "<package" AT
	    " into=\"bottles\" mixing=\"per-bottle\"/><note>" NOW
	    ": sugar by the piece, its weight still to be told: a teaspoon of sugar per bottle</note>" },
	{ '-', "bottled 38 bottles with 130 g sugar",
	    "<package" AT " into=\"bottles\" priming=\"130 g\" sugar=\"sucrose\"/><note>" NOW ": 38 bottles</note>" },
	{ '-', "48 bottles, 5 oz",
	    "<package" AT " into=\"bottles\" priming=\"5 oz\"/><note>" NOW ": 48 bottles</note>" },
	{ '-', "bottled 18 L, boiled 120g sugar in a cup of water",
	    "<package" AT " into=\"bottles\" volume=\"18 L\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	{ '-', "bottled 18 L with 120 g sugar in 500 ml water",
	    "<package" AT " into=\"bottles\" volume=\"18 L\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	/* ---- water that the sugar was in takes the sugar with it nowhere ---- */
	{ '-', "bottled 19 L with 300 g sugar in water",
	    "<package" AT " into=\"bottles\" volume=\"19 L\" priming=\"300 g\" sugar=\"sucrose\"/>" },
	{ '-', "bottled with 120 g sugar in water",
	    "<package" AT " into=\"bottles\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	{ '-', "primed 19 L with 120g sugar in water",
	    "<package volume=\"19 L\" priming=\"120 g\" sugar=\"sucrose\"/>" },
	{ '-', "bottled with 4 oz dextrose dissolved in hot water",
	    "<package" AT " into=\"bottles\" priming=\"4 oz\" sugar=\"dextrose\"/>" },
	/* ---- more as it is said ---- */
	{ '-', "gravity 1.020, no change", "<reading" AT " gravity=\"1.020 SG\"/>" },
	{ '-', "gravity fell from 1.020 to 1.016", "<reading" AT " gravity=\"1.016 SG\"/>" },
	{ '-', "put them in the fridge", "<store from=\"" NOW "\" light=\"dark\"/>" },
	{ '-', "bubbling like crazy", "<note>" NOW ": bubbling strongly </note>" },
	{ '-', "sanitized the bucket with zing zang", "<note>" NOW ": sanitized the bucket with zing zang</note>" },
	/* ---- a beer that hangs ---- */
	{ '-', "forced sample fell to 1.012",
	    "<test" AT " kind=\"forced-fermentation\" result=\"yes\" gravity=\"1.012 SG\"/>" },
	{ '-', "forced sample ended at 1.012",
	    "<test" AT " kind=\"forced-fermentation\" gravity=\"1.012 SG\" result=\"yes\"/>" },
	{ '-', "forced sample ended at 1.020",
	    "<test" AT " kind=\"forced-fermentation\" gravity=\"1.020 SG\" result=\"no\"/>" },
	{ '-', "forced sample stayed at 1.020",
	    "<test" AT " kind=\"forced-fermentation\" result=\"no\" gravity=\"1.020 SG\"/>" },
	{ '-', "forced sample went to 1.012",
	    "<test" AT " kind=\"forced-fermentation\" gravity=\"1.012 SG\" result=\"yes\"/>" },
	{ '-', "forced sample went to 1.020",
	    "<test" AT " kind=\"forced-fermentation\" gravity=\"1.020 SG\" result=\"no\"/>" },
	{ '-', "forced sample reads 1.012",
	    "<test" AT " kind=\"forced-fermentation\" gravity=\"1.012 SG\" result=\"yes\"/>" },
	{ '-', "forced sample stayed at 1.021",
	    "<test" AT " kind=\"forced-fermentation\" result=\"no\" gravity=\"1.021 SG\"/>" },
	{ '-', "roused the yeast", "<note>" NOW ": roused the yeast</note>" },
	{ '-', "swirled the bucket", "<note>" NOW ": swirled the bucket</note>" },
	{ '-', "pitched another packet of dry ale yeast",
	    "<note>" NOW ": pitched fresh yeast: packet of dry ale yeast</note>" },
	{ '-', "pitched more yeast", "<note>" NOW ": pitched fresh yeast: yeast</note>" },
	{ '-', "pitched a second packet", "<note>" NOW ": pitched fresh yeast: packet</note>" },
	/* ---- what was seen, and a keg that leaks ---- */
	{ '-', "keg lost pressure", "<carbonate lost-pressure=\"yes\"/>" },
	{ '-', "the keg is leaking at the lid", "<carbonate lost-pressure=\"yes\"/>" },
	{ '-', "keg holds its pressure", "<carbonate lost-pressure=\"no\"/>" },
	{ '-', "airlock is still", "<looks" AT " airlock-still=\"yes\"/>" },
	{ '-', "no bubbles in the airlock", "<looks" AT " airlock-still=\"yes\"/>" },
	{ '-', "stopped bubbling", "<looks" AT " airlock-still=\"yes\"/>" },
	{ '-', "ring in the neck of all bottles", "<looks" AT " neck-ring=\"yes\"/>" },
	{ '-', "last runnings 1.008", "<mash last-runnings=\"1.008 SG\"/>" },
	{ '-', "gravity of a degassed bottle 1.002", "<reading" AT " gravity=\"1.002 SG\"/>" },
	{ '-', "bottled with 120 g sugar from the tap",
	    "<package" AT " into=\"bottles\" priming=\"120 g\" sugar=\"sucrose\" wand=\"no\"/>" },
	{ '-', "bottled with a wand", "<package" AT " into=\"bottles\" wand=\"yes\"/>" },
	{ '-', "dry hop 60 g lid opened", "<dry-hop" AT " amount=\"60 g\" opened=\"open-lid\"/>" },
	{ '-', "tap water untreated", "<water source=\"tap\" treatment=\"none\"/>" },
	{ '-', "tap water treated with campden", "<water source=\"tap\" treatment=\"sulphite\"/>" },
	/* ---- signs and spellings ---- */
	{ '-', "og: 1.048", "<reading at=\"+0h\" gravity=\"1.048 SG\"/>" },
	{ '-', "OG=1.048", "<reading at=\"+0h\" gravity=\"1.048 SG\"/>" },
	{ '-', "gravity: 1.012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "FG 1012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "wort 19 \xC2\xB0" "C.", "<reading" AT " wort=\"19 C\"/>" },
	{ '-', "kegged!", "<package" AT " into=\"keg\"/>" },
	{ '-', "hops 30 g @ 60 min", "<hop amount=\"30 g\" use=\"bittering\"/>" },
	{ '-', "hops 30g @60min", "<hop amount=\"30 g\" use=\"bittering\"/>" },
	{ '-', "dryhopped 60 g", "<dry-hop" AT " amount=\"60 g\"/>" },
	{ '-', "dry-hopped with 60 g", "<dry-hop" AT " amount=\"60 g\"/>" },
	{ '-', "boil took 50 min", "<boil time=\"50 min\"/>" },
	{ '-', "the boil lasted an hour", "<boil time=\"1 h\"/>" },
	{ '-', "force carbed at 30 psi", "<carbonate pressure=\"30 psi\"/>" },
	{ '-', "shook for 5 min", "<aerate method=\"shake\" time=\"5 min\"/>" },
	{ '-', "we shook the bucket", "<aerate method=\"shake\"/>" },
	{ '-', "oxygen 60 s", "<aerate method=\"oxygen\" time=\"60 s\"/>" },
	{ '-', "water tap, half a campden tablet", "<water source=\"tap\" treatment=\"sulphite\"/>" },
	{ '-', "campden tablet", "<water treatment=\"sulphite\"/>" },
	{ '-', "fermenter plastic bucket", "<vessel kind=\"bucket\"/>" },
	{ '-', "primed with 110 g sugar", "<package priming=\"110 g\" sugar=\"sucrose\"/>" },
	{ '-', "bottled in 0.5 l bottles", "<package" AT " into=\"bottles\" size=\"0.5 L\"/>" },
	{ '-', "bottled 18 l in 0.5 l bottles", "<package" AT " into=\"bottles\" volume=\"18 L\" size=\"0.5 L\"/>" },
	{ '-', "added yeast", "<pitch" AT "/>" }, { '-', "yeast pitched", "<pitch" AT "/>" },
	{ '-', "i pitched the yeast", "<pitch" AT "/>" },
	/* ---- numbers ---- */
	{ '-', "wort 19-20 C", "<reading" AT " wort=\"about 19.5 C\"/>" },
	{ '-', "wort 19 to 20 C", "<reading" AT " wort=\"about 19.5 C\"/>" },
	{ '-', "wort between 19 and 20 C", "<reading" AT " wort=\"about 19.5 C\"/>" },
	{ '-', "wort 20 C or so", "<reading" AT " wort=\"about 20 C\"/>" },
	{ '-', "stored at about 12 C for 3 weeks", "<store from=\"" NOW "\" temp=\"about 12 C\" for=\"3 wk\"/>" },
	{ '-', "stored at 12 C for 3 weeks or so", "<store from=\"" NOW "\" temp=\"12 C\" for=\"about 3 wk\"/>" },
	{ '-', "stored at 12 C for 3 weeks i think",
	    "<store from=\"" NOW "\" temp=\"12 C\" for=\"3 wk\" guess=\"yes\"/>" },
	{ 'm', "wort 20ish", "<reading" AT " wort=\"about 20 C\"/>" },
	{ 'm', "room about 20", "<reading" AT " room=\"about 20 C\"/>" },
	{ '-', "hops 1/2 oz at 15 min", "<hop amount=\"0.5 oz\" use=\"flavour\"/>" },
	{ '-', "sugar 1 1/2 lb", "<sugar amount=\"1.5 lb\"/>" },
	/* ---- names ---- */
	{ '-', "hops 60 g cascade at 60 min", "<hop amount=\"60 g\" name=\"cascade\" use=\"bittering\"/>" },
	{ '-', "sanitised everything with acid", "<gear item=\"everything\" sanitiser=\"acid\"/>" },
	{ '-', "hops 30 g east hill frozen", "<hop amount=\"30 g\" name=\"east hill\" kept=\"frozen-sealed\"/>" },
	{ '-', "dry hop 60 g cascade for 4 days", "<dry-hop" AT " amount=\"60 g\" name=\"cascade\" contact=\"4 d\"/>" },
	/* ---- without a lead ---- */
	{ '-', "30 g cascade at 60 min", "<hop amount=\"30 g\" name=\"cascade\" use=\"bittering\"/>" },
	{ '-', "half an ounce cascade at 15 minutes", "<hop amount=\"0.5 oz\" name=\"cascade\" use=\"flavour\"/>" },
	{ '-', "4.2 kg pale malt", "<malt amount=\"4.2 kg\" kind=\"pale\"/>" },
	{ '-', "oats 300 g", "<malt kind=\"oats\" amount=\"300 g\"/>" },
	{ '-', "3 kg dry extract", "<extract amount=\"3 kg\" kind=\"dry\"/>" },
	{ '-', "lme 1.7 kg", "<extract kind=\"liquid\" amount=\"1.7 kg\"/>" },
	{ '-', "2 packs dry yeast", "<yeast packs=\"2\" form=\"dry\"/>" },
	{ '-', "starter 1 l", "<yeast starter=\"1 L\"/>" },
	{ '-', "20 L batch", "<recipe volume=\"20 L\"/>" },
	{ '-', "1.012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "1012", "<reading" AT " gravity=\"1.012 SG\"/>" },
	/* ---- several at once ---- */
	{ '-', "malt 4.2 kg pale, 0.3 kg crystal",
	    "<malt amount=\"4.2 kg\" kind=\"pale\"/><malt amount=\"0.3 kg\" kind=\"crystal\"/>" },
	{ '-', "malt 4 kg pale and 300 g crystal and 200 g oats",
	    "<malt amount=\"4 kg\" kind=\"pale\"/><malt amount=\"300 g\" kind=\"crystal\"/>"
	    "<malt amount=\"200 g\" kind=\"oats\"/>" },
	{ '-', "hops 30 g cascade at 60 min, 20 g cascade at 5 min",
	    "<hop amount=\"30 g\" name=\"cascade\" use=\"bittering\"/>"
	    "<hop amount=\"20 g\" name=\"cascade\" use=\"flavour\"/>" },
	{ '-', "boiled 60 min, cooled in 25 min to 20 C, OG 1.050",
	    "<boil time=\"60 min\"/><chill to-pitch=\"25 min\" end-temp=\"20 C\"/>"
	    "<reading at=\"+0h\" gravity=\"1.050 SG\"/>" },
	{ '-', "malt 4 kg pale, hops 30 g", "<malt amount=\"4 kg\" kind=\"pale\"/><hop amount=\"30 g\"/>" },
	{ '-', "racked into purged keg then cold crash to 2 C",
	    "<transfer" AT " target=\"purged\"/><crash" AT " temp=\"2 C\"/>" },
	{ '-', "cleaned fermenter, hose and tap with percarbonate",
	    "<gear item=\"fermenter\" cleaned=\"percarbonate\"/><gear item=\"hose\" cleaned=\"percarbonate\"/>"
	    "<gear item=\"tap\" cleaned=\"percarbonate\"/>" },
	{ '-', "sanitised hose and siphon with acid for 2 min",
	    "<gear item=\"hose\" sanitiser=\"acid\" contact=\"2 min\"/>"
	    "<gear item=\"siphon\" sanitiser=\"acid\" contact=\"2 min\"/>" },
	{ '-', "note boiled, then cooled, racked", "<note>" NOW ": boiled, then cooled, racked</note>" },
	{ '-', "malt 4 kg pale, malt 300 g crystal",
	    "<malt amount=\"4 kg\" kind=\"pale\"/><malt amount=\"300 g\" kind=\"crystal\"/>" },
	{ '-', "kegged, 3 kg dry extract", "<package" AT " into=\"keg\"/><extract amount=\"3 kg\" kind=\"dry\"/>" },
	{ '-', "wort 20 C, basement 17 C, gravity 1.020",
	    "<reading" AT " wort=\"20 C\"/><reading" AT " room=\"17 C\"/><reading" AT " gravity=\"1.020 SG\"/>" },
	{ '-', "racked quietly, 1.012", "<transfer" AT " splashed=\"no\"/><reading" AT " gravity=\"1.012 SG\"/>" },
	{ '-', "boiled 110 g sugar in water, bottled 19 L",
	    "<package priming=\"110 g\" sugar=\"sucrose\"/><package" AT " into=\"bottles\" volume=\"19 L\"/>" },
	{ '-', "moved the bucket to the garage, 15 C", "<reading" AT " room=\"15 C\"/>" },
	{ '-', "1.018, sample at 23 C", "<reading" AT " gravity=\"1.018 SG\" sample=\"23 C\"/>" },
	{ '-', "kegged, flushed with co2 3 times", "<package" AT " into=\"keg\" purges=\"3\"/>" },
	{ '-', "splashed it into the bucket from high up", "<aerate method=\"pour\"/>" },
	{ '-', "aerated with a whisk for 5 minutes", "<aerate method=\"whisk\" time=\"5 min\"/>" },
	{ '-', "hit it with pure oxygen for 45 s", "<aerate method=\"oxygen\" time=\"45 s\"/>" },
	{ '-', "gravity 1.016, still dropping", "<reading" AT " gravity=\"1.016 SG\"/>" },
	{ '-', "stirred up the yeast", "<note>" NOW ": stirred up the yeast </note>" },
	{ '-', "bottles in the wardrobe at 20 C", "<store from=\"" NOW "\" light=\"dark\" temp=\"20 C\"/>" },
	{ '-', "19 liters into fermenter at 1.046",
	    "<recipe volume=\"19 L\"/><reading at=\"+0h\" gravity=\"1.046 SG\"/>" },
	{ '-', "volume 5 and a half gallons", "<recipe volume=\"5.5 gal\"/>" },
	{ '-', "volume five and a half gallons", "<recipe volume=\"5.5 gal\"/>" },
	{ '-', "boiled an hour and a half", "<boil time=\"1.5 h\"/>" },
	{ '-', "boiled an hour and a half, lid off", "<boil time=\"1.5 h\" lid=\"off\"/>" },
	{ '-', "took 35 min to get it down to 20 C with the chiller",
	    "<chill to-pitch=\"35 min\" end-temp=\"20 C\"/>" },
	{ '-', "racked off quietly", "<transfer" AT " splashed=\"no\"/>" },
	{ '-', "lid on while it cooled, an hour and a half", "<chill covered=\"yes\" to-pitch=\"1.5 h\"/>" },
	{ '-', "threw in the yeast at 19 C", "<pitch" AT " temp=\"19 C\"/>" },
	{ '-', "poured it back and forth between two buckets", "<aerate method=\"pour\"/>" },
	{ '-', "all bottles in the cellar, 15 C", "<store from=\"" NOW "\" light=\"dark\" temp=\"15 C\"/>" },
	/* ---- when ---- */
	{ '-', "wort 20 C this morning at 7", "<reading at=\"2031-03-13T07:00\" wort=\"20 C\"/>" },
	{ '-', "wort 20 C last night at 11", "<reading at=\"2031-03-12T23:00\" wort=\"20 C\"/>" },
	{ '-', "wort 20 C last night at 1", "<reading at=\"2031-03-13T01:00\" wort=\"20 C\"/>" },
	{ '-', "wort 20 C yesterday at 11 at night", "<reading at=\"2031-03-12T23:00\" wort=\"20 C\"/>" },
	{ '-', "wort 20 C this evening at 6", "<reading at=\"2031-03-13T18:00\" wort=\"20 C\"/>" },
	/* ---- first signs: since a length of time is no such time after the yeast went in ---- */
	{ '-', "first signs after 9 h", "<lag first-signs=\"9 h\"/>" },
	{ '-', "bubbling after 9 h", "<lag first-signs=\"9 h\"/>" },
	{ '-', "fermenting since 12 hours", "<lag first-signs=\"37.5 h\"/>" },
	{ '-', "bubbling since 12 hours ago", "<lag first-signs=\"37.5 h\"/>" },
	{ '-', "airlock going since yesterday 8:00", "<lag first-signs=\"14 h\"/>" },
	{ '-', "still foaming, 19 C", "<reading" AT " wort=\"19 C\"/>" },
	/* ---- a word behind its number ---- */
	{ '-', "yeast 1 L starter", "<yeast starter=\"1 L\"/>" },
	{ '-', "1 qt starter", "<yeast starter=\"1 qt\"/>" },
	{ '-', "yeast 200 ml starter 1 L", "<yeast volume=\"200 mL\" starter=\"1 L\"/>" },
	{ '-', "bottled, 25 mm headspace", "<package" AT " into=\"bottles\" neck=\"25 mm\"/>" },
	{ '-', "bottled with neck 25 mm", "<package" AT " into=\"bottles\" neck=\"25 mm\"/>" },
	{ '-', "18:30 pitched", "<pitch at=\"2031-03-13T18:30\"/>" },
	{ '-', "at 18:30 pitched", "<pitch at=\"2031-03-13T18:30\"/>" },
	{ '-', "pitched at 18:30", "<pitch at=\"2031-03-13T18:30\"/>" },
	{ 'm', "pitched at 19 at 18:30", "<pitch at=\"2031-03-13T18:30\" temp=\"19 C\"/>" },
	{ '-', "6pm pitched", "<pitch at=\"2031-03-13T18:00\"/>" },
	{ '-', "6:30 pm pitched", "<pitch at=\"2031-03-13T18:30\"/>" },
	{ '-', "12 am pitched", "<pitch at=\"2031-03-13T00:00\"/>" },
	{ '-', "12pm pitched", "<pitch at=\"2031-03-13T12:00\"/>" },
	{ '-', "noon wort 19 C", "<reading at=\"2031-03-13T12:00\" wort=\"19 C\"/>" },
	{ '-', "yesterday 18:00 wort 20 C", "<reading at=\"2031-03-12T18:00\" wort=\"20 C\"/>" },
	{ '-', "yesterday wort 20 C", "<reading at=\"2031-03-12\" wort=\"20 C\"/>" },
	{ '-', "wort 20 C yesterday at 6 pm", "<reading at=\"2031-03-12T18:00\" wort=\"20 C\"/>" },
	{ '-', "this morning wort 20 C", "<reading at=\"2031-03-13\" wort=\"20 C\"/>" },
	{ '-', "this evening 8:30 bottled", "<package at=\"2031-03-13T20:30\" into=\"bottles\"/>" },
	{ '-', "yesterday evening 9:15 wort 19 C", "<reading at=\"2031-03-12T21:15\" wort=\"19 C\"/>" },
	{ '-', "last night 22:00 wort 19 C", "<reading at=\"2031-03-12T22:00\" wort=\"19 C\"/>" },
	{ '-', "last night 1:30 wort 19 C", "<reading at=\"2031-03-13T01:30\" wort=\"19 C\"/>" },
	{ '-', "2 days ago wort 21 C", "<reading at=\"2031-03-11\" wort=\"21 C\"/>" },
	{ '-', "wort 21 C 3 hours ago", "<reading at=\"2031-03-13T16:30\" wort=\"21 C\"/>" },
	{ '-', "an hour ago wort 21 C", "<reading at=\"2031-03-13T18:30\" wort=\"21 C\"/>" },
	{ '-', "on tuesday wort 21 C", "<reading at=\"2031-03-11\" wort=\"21 C\"/>" },
	{ '-', "saturday 10:00 wort 21 C", "<reading at=\"2031-03-08T10:00\" wort=\"21 C\"/>" },
	{ '-', "2031-03-09 wort 21 C", "<reading at=\"2031-03-09\" wort=\"21 C\"/>" },
	{ '-', "+2d wort 20 C", "<reading at=\"+2d\" wort=\"20 C\"/>" },
	{ '-', "now wort 20 C", "<reading" AT " wort=\"20 C\"/>" },
	{ '-', "18:00 wort 20 C, room 19 C", "<reading at=\"2031-03-13T18:00\" wort=\"20 C\" room=\"19 C\"/>" },
	{ '-', "note at 18:30 it foamed", "<note>" NOW ": at 18:30 it foamed</note>" },
	/* ---- first signs, seen now ---- */
	{ '-', "first signs", "<lag first-signs=\"49.5 h\"/>" },
	{ '-', "first bubbles at 9:00", "<lag first-signs=\"39 h\"/>" },
	{ '-', "first signs after 9 h", "<lag first-signs=\"9 h\"/>" },
	{ '-', "yesterday 06:00 first krausen", "<lag first-signs=\"12 h\"/>" },
};

START_TEST(taken_as_meant)
{
	ec_takes(taken[_i].units, taken[_i].words, taken[_i].elements);
}
END_TEST

/* says: of the message; ways: how many lines are offered, each of which is understood. */
static const struct { char units; const char *words, *says; size_t ways; } refused[] = {
	{ '-', "room 40", "has no unit", 2 }, { 'u', "wort 20", "write it like \"wort 20 C\"", 1 },
	{ 'm', "wort 60", "\"wort 60 C\" or \"wort 60 F\"", 2 },
	{ 'm', "mash 66", "\"mash 66 C\" or \"mash 66 min\"", 2 }, { 'm', "carbonated at 5", "has no unit", 2 },
	{ 'm', "wort 1.020", "\"1.020\" looks like a gravity", 2 }, { 'm', "room 1020", "looks like a gravity", 2 },
	{ 'm', "pitched at 9", "has no unit", 1 },
	{ 'u', "served at 40", "write it like \"served at 40 F\" or \"served at 40 psi\"", 2 },
	{ '-', "60 g cascade", "write \"dry hops 60 g cascade\" or \"hops 60 g cascade\"", 2 },
	{ '-', "60 g hops", "more than one thing", 2 },
	{ '-', "20 C", "write \"wort 20 C\" or \"room 20 C\"", 2 },
	{ '-', "19\xC2\xB0" "C", "\"room 19\xC2\xB0" "C\"", 2 },
	{ '-', "12 psi", "\"carbonated 12 psi\" or \"served 12 psi\"", 2 },
	{ '-', "took 50 min", "\"boiled 50 min\"", 4 },
	{ '-', "lid off", "\"boiled lid off\", \"opened lid off\" or \"note lid off\"", 3 },
	{ '-', "110 g sugar", "more than one thing", 2 }, { '-', "honey 300 g", "more than one thing", 2 },
	{ '-', "cellar 15 C", "\"room cellar 15 C\", \"stored cellar 15 C\"", 3 },
	{ '-', "foam", "\"first signs foam\" or \"note foam\"", 2 }, { '-', "bubbling", "or \"note bubbling\"", 2 },
	{ '-', "kraeusen", "\"first signs kraeusen\"", 2 },
	/* none of these is a first sign, and none of them yeast */
	{ '-', "foam is falling", "Example: note foam is falling", 1 },
	{ '-', "the krausen has dropped", "Example: note the krausen has dropped", 1 },
	{ '-', "airlock is bubbling, 76 F, smells like bananas",
	    "airlock is bubbling, wort 76 F, note smells like bananas", 2 },
	{ '-', "threw in 2 oz of Citra", "\"dry hops 2 oz of Citra\" or \"hops 2 oz of Citra\"", 2 },
	{ '-', "high krausen", "note high krausen", 1 }, { '-', "no bubbles", "note no bubbles", 1 },
	{ '-', "spilled some", "Example: note spilled some", 1 },
	{ '-', "wrot 19 C", "did you mean \"wort 19 C\"?", 1 },
	{ '-', "racked by sifon", "did you mean \"racked by siphon\"?", 1 },
	{ '-', "cleaned", "Example: cleaned fermenter with percarbonate", 0 },
	{ '-', "cleaned doorknobs", "\"doorknobs\" has no place", 0 },
	{ '-', "20:30 pitched", "of today is still to come; write \"yesterday 20:30 ...\"", 0 },
	{ '-', "last night pitched", "like \"2031-03-12 ...\"", 0 },
	{ '-', "thursday wort 20 C", "like \"2031-03-06 ...\" or \"2031-03-13 21:00", 0 },
	{ '-', "25:00 pitched", "begins nothing", 1 }, { '-', "13 pm pitched", "begins nothing", 1 },
	{ '-', "malt 4.2 kg pale, 0.3 kg plutonium",
	    "The whole line: \"malt 4.2 kg pale, malt 0.3 kg, note plutonium\"", 1 },
	{ '-', "bottled with 5 drops of vanilla", "Example: bottled, note with 5 drops of vanilla", 1 },
	{ '-', "bottled with 2 drops of vanilla extract in each bottle", "\"2\" has no unit", 1 },
	{ '-', "cooled overnight", "closed or open? Write \"cooled overnight closed\" or", 2 },
	{ '-', "cooled over night to 20 C", "\"cooled overnight open to 20 C\"", 2 },
	{ '-', "last night at 12 pitched", "like \"2031-03-12 ...\"", 0 },
	{ '-', "bubbling since 3 days", "how long after the yeast went in", 0 },
	{ '-', "wort 20 to 19 C", "has no place", 0 }, { '-', "20 L", "begins nothing", 1 },
	{ '-', "Porch pale note x", "begins nothing", 1 },
	/* ---- what has no place is handed back in a line that would do ---- */
	{ '-', "gravity 1.016, cat asleep on it",
	    "Example: gravity 1.016, note cat asleep on it (which keeps it as a note)", 1 },
	{ '-', "krausen 2 cm, beer 20.5 C, room 18 C", "Example: beer 20.5 C, room 18 C, note krausen 2 cm (", 1 },
	{ '-', "dry hop 60 g, 4 days", "\"dry hop 60 g, for 4 days\"", 1 },
	{ '-', "moved the bucket", "\"note moved the bucket\"", 1 },
	{ '-', "racked quietly, gravity 1.020, cat asleep on it",
	    "The whole line: \"racked quietly, gravity 1.020, note cat asleep on it\"", 1 },
	{ '-', "kegged, beer 2 C, 12 psi", "The whole line: \"kegged, beer 2 C, carbonated 12 psi\"", 2 },
	{ '-', "still foaming", "or write \"note still foaming\"", 1 },
	/* how large, or how full? A place without a temperature; a reading in a breath of bubbles */
	{ '-', "bucket, about 5 gallons", "\"volume about 5 gallons\" or \"fermenter bucket about 5 gallons\"", 2 },
	{ '-', "carboy 20 L", "\"volume 20 L\" or \"fermenter carboy 20 L\"", 2 },
	{ '-', "moved the bucket to the basement", "write \"note moved the bucket to the basement\"", 1 },
	{ '-', "airlock is bubbling at 76 F", "note airlock is bubbling", 1 },
	{ '-', "aged 3m", "note aged 3m", 1 }, { '-', "bottled with a little sugar", "has no place", 0 },
	{ '-', "23 C on the thermometer strip",
	    "\"wort 23 C, note on the thermometer strip\" or \"room 23 C, note on the", 2 },
	{ '-', "2 packets dry ale yeast, 68 F", "\"yeast 2 packets dry ale yeast, note 68 F\"", 1 },
	{ '-', "took it out of the tub", "Example: note took it out of the tub", 1 },
	{ '-', "pitched next morning at 9", "on which day? Write it", 0 },
	{ '-', "yeast pack was past its date", "in your own words: note yeast pack was past its date", 1 },
	{ '-', "1.020 and cats asleep on it", "write \"gravity 1.020, note cats asleep on it\"", 1 },
	{ '-', "30 seconds of oxygen", "\"oxygenated 30 seconds of oxygen\" or", 2 },
	{ '-', "kegged it, 30 psi to seat the lid",
	    "The whole line: \"kegged it, carbonated 30 psi, note to seat the lid\"", 1 },
	/* a lead alone, sugar for bottles, the other end of a range: none is parted from its line */
	/* some are left: no line is offered that tells they are gone */
	{ '-', "drank them all except two", "in your own words: note drank them all except two", 1 },
	{ '-', "poured them all away but six", "in your own words: note poured them", 1 },
	{ '-', "moved on with life", "in your own words: note moved on", 1 },
	{ '-', "bottled with 7 lumps sugar cane 3 kg", "has no place", 0 },
	{ '-', "smells like rotten eggs", "afterboil taste", 1 },
	{ '-', "gravity down 4 points", "\"down\" has no place", 1 },
	{ '-', "pitched at 18 C, 3 hours after the boil", "note 3 hours after the boil", 1 },
	{ '-', "forced sample fell to 1.026", "did not fall below it", 0 },
	{ '-', "forced sample fell to 1.019", "did not fall below it", 0 },
	{ '-', "forced sample went down to 1.026", "is the sample done?", 0 },
	{ '-', "forced sample reads 1.020", "is the sample done?", 0 },
	{ '-', "forced sample is at 1.020", "is the sample done?", 0 },
	{ '-', "forced sample 1.020", "stayed at 1.0", 0 },
	{ '-', "forced sample stayed at 1.008", "did not stay at it", 0 },
	{ '-', "forced sample stayed at 1.026", "did not stay at it", 0 },
};
START_TEST(not_plain)
{
	struct ab_entry_doubt ways;

	ck_assert_msg(ec_say(refused[_i].units, refused[_i].words, NOW, PITCHED) == AB_EUSAGE, "%s", refused[_i].words);
	ck_assert_ptr_null(ec.entry);
	ck_assert_msg(strstr(ec.diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].words, ec.diag.text);
	ways = ec.doubt;
	ck_assert_msg(ways.n == refused[_i].ways, "%s: %zu ways: %s", refused[_i].words, ways.n, ec.diag.text);
	for (size_t i = 0; i < ways.n; i++) {
		ck_assert_msg(ec_say(refused[_i].units, ways.ways[i], NOW, PITCHED) == AB_OK, "%s: %s",
		    ways.ways[i], ec.diag.text);
		ec_reads(ways.ways[i]);
	}
}
END_TEST

/* Before the yeast is in, a gravity may be the original one, and no first signs can be. */
START_TEST(before_pitching)
{
	ck_assert_int_eq(ec_say('-', "1.048", NOW, NULL), AB_EUSAGE);
	ck_assert_uint_eq(ec.doubt.n, 2);
	ck_assert_int_eq(ec_say('-', "first signs", NOW, NULL), AB_EUSAGE);
	ck_assert_int_eq(ec_say('-', "foam", NOW, NULL), AB_EUSAGE);
	ck_assert_int_eq(ec_say('-', "1.048", NOW, "2031-03-13T08:00"), AB_EUSAGE);
}
END_TEST

/* Without a clock no such words are known, and nothing is guessed. */
START_TEST(without_now)
{
	ck_assert_int_eq(ec_say('-', "18:30 pitched", NULL, NULL), AB_EUSAGE);
	ck_assert_int_eq(ec_say('-', "yesterday wort 20 C", NULL, NULL), AB_EUSAGE);
	ck_assert_int_eq(ec_say('-', "2031-03-09 wort 21 C", NULL, NULL), AB_EUSAGE);
}
END_TEST

START_TEST(when_is_told)
{
	char text[32];

	ck_assert_int_eq(ec_say('-', "yesterday 18:00 boiled 60 min", NOW, NULL), AB_OK);
	ck_assert_str_eq(ab_when_write(&ec.entry->at, text, sizeof text), "2031-03-12T18:00");
	ck_assert_ptr_nonnull(strstr(ec.entry->echo, "a journal keeps no hour of that"));
	ck_assert_int_eq(ec_say('-', "wort 20 C", NOW, NULL), AB_OK);
	ck_assert_str_eq(ab_when_write(&ec.entry->at, text, sizeof text), NOW);
}
END_TEST

/* Whatever is typed: nothing but a status, and what is understood the journal takes. */
START_TEST(any_words)
{
	static const char *const words[] = { "60 g", "cascade", "wort", "20", "20 C", "at", "18:30", "yesterday",
		"and", ",", "malt", "pale", "hops", "1.048", "og", "to", "lid", "off", "1/2", "oz", "19-20",
		"pitched", "2", "packs", "ago", "days", "note", "@", "=", "foam", "Porch", "poured", "sifon", "by",
		"half", "an", "the", "sugar", "cleaned", "hose" };
	enum { N = sizeof words / sizeof *words };
	unsigned state = 7;
	size_t understood = 0;

	for (int i = 0; i < 6000; i++) {
		char line[200] = "";
		for (int k = 0; k < 1 + i % 6; k++) {
			state = state * 1664525u + 1013904223u;
			strcat(strcat(line, words[(state >> 16) % N]), " ");
		}
		enum ab_status st = ec_say("mu-"[i % 3], line, NOW, i % 2 ? PITCHED : NULL);
		ck_assert_msg(
		    st == AB_OK || (st == AB_EUSAGE && ec.diag.text[0] != '\0' && ec.entry == NULL), "%s", line);
		understood += st == AB_OK;
		if (i % 100 == 99) {
			ab_arena_free(ec.arena);
			ec.arena = ab_arena_new();
		}
	}
	ck_assert_uint_gt(understood, 100);
}
END_TEST

START_TEST(short_of_memory)
{
	static const char *const lines[] = { "yesterday at 6 pm malt 4.2 kg pale, 0.3 kg crystal",
		"30 g cascade at 60 min", "gravitiy 1.012", "cleaned fermenter, hose with percarbonate", "foam" };

	for (size_t k = 0; k < sizeof lines / sizeof *lines; k++) {
		enum ab_status st = AB_ENOMEM, whole = ec_say('m', lines[k], NOW, PITCHED);
		for (long i = 0; i < 3000 && st == AB_ENOMEM; i++) {
			ab_alloc_fail_at(i);
			st = ec_say('m', lines[k], NOW, PITCHED);
			ab_alloc_fail_at(-1);
			ck_assert_msg(st == whole || (st == AB_ENOMEM && ec.entry == NULL) ||
				(whole == AB_EUSAGE && st == AB_EUSAGE),
			    "%s: %ld: %d", lines[k], i, st);
		}
		ck_assert_int_eq(st, whole);
	}
}
END_TEST

/* ---- sugar by the litre and by the bottle: the journal's is that of the whole beer ---- */

static const struct { const char *words, *has; double volume_l, size_l; } doses[] = {
	{ "bottled 19 l with 3 g sugar per bottle of 500 ml", "priming=\"114 g\"", 0, 0 },
	{ "bottled 19 l with 3 g sugar per bottle of 500 ml", "size=\"500 mL\"", 0, 0 },
	{ "bottled 19 l with 3 g sugar per bottle of 500 ml", "mixing=\"per-bottle\"", 0, 0 },
	{ "bottled 19 l with 3 g sugar per bottle of 500 ml", "sugar=\"sucrose\"", 0, 0 },
	{ "bottled 19 l in 0.5 l bottles, 3 g dextrose in each bottle", "priming=\"114 g\"", 0, 0 },
	{ "bottled 19 l with 2 g sugar per 330 ml bottle", "priming=\"115.2 g\"", 0, 0 },
	{ "bottled with 3 g sugar per-bottle", "priming=\"120 g\"", 20, 0.5 },
	{ "bottled 10 l with 3 g sugar per bottle", "priming=\"60 g\"", 20, 0.5 },
	{ "bottled 19 l with 3 g sugar / bottle", "priming=\"114 g\"", 0, 0.5 },
	{ "bottled 19 l with 7 g/L sugar", "priming=\"133 g\"", 0, 0 },
	{ "bottled 19 l with 7g/l sugar", "priming=\"133 g\"", 0, 0 },
	{ "bottled 19 l with 7 g sugar per litre", "priming=\"133 g\"", 0, 0 },
	{ "bottled with 7 g sugar a litre", "priming=\"140 g\"", 20, 0 },
	{ "primed with 120 g sugar for 19 l", "volume=\"19 L\"", 0, 0 },
	{ "bottled 19 l with 120 g sugar", "priming=\"120 g\"", 0, 0.5 },
	{ "bottled 19 l with 120 g sugar bottle by bottle", "priming=\"120 g\"", 0, 0.5 },
	/* refused: the size, the beer, or too much for a bottle */
	{ "bottled 19 l with 10 g sugar per bottle", NULL, 0, 0 },
	{ "bottled with 3 g sugar per bottle of 500 ml", NULL, 0, 0 },
	{ "bottled with 7 g/L sugar", NULL, 0, 0 },
	{ "bottled 19 l with 120 g sugar per bottle of 500 ml", NULL, 0, 0 },
};

START_TEST(doses_of_the_whole)
{
	const struct ab_when at = ec_when(NOW);
	const struct ab_entry_help help = {
		.units = 1, .volume_l = doses[_i].volume_l, .size_l = doses[_i].size_l, .doubt = &ec.doubt
	};
	ab_diag_init(&ec.diag);
	enum ab_status st = ab_entry_read(doses[_i].words, &at, &help, ec.arena, &ec.entry, &ec.diag);

	ck_assert_msg(st == (doses[_i].has != NULL ? AB_OK : AB_EUSAGE), "%s: %s", doses[_i].words, ec.diag.text);
	ck_assert_msg(st != AB_OK || strstr(ec.entry->element, doses[_i].has) != NULL, "%s: %s", doses[_i].words,
	    ec.entry->element);
}
END_TEST

/* What was not done is offered as a note, whatever it is near to. */
static const char *const denied[] = { "dont bottle yet", "don't bottle yet", "don\xE2\x80\x99t bottle yet",
	"Dont bottle", "not bottled yet", "didn't sanitise", "didnt pitch", "havent bottled",
	"haven't racked it yet", "no bubbles yet", "no bubbles", "i did not pitch the yeast",
	"we have not bottled yet", "never cleaned bottles", "forgot to aerate", "bottles not washed",
	"bottled not yet", "yeast not pitched yet", "pitched not yet", "racked? no", "wort not chilled",
	"cellar not dark", "not in the fridge yet", "hops not in yet", "dont open lid", "wont bottle 60 g",
	"gravity not read", NULL };

START_TEST(denied_is_a_note)
{
	for (size_t i = 0; denied[i] != NULL; i++) {
		enum ab_status st = ec_say('m', denied[i], NOW, PITCHED);
		ck_assert_msg(st == AB_EUSAGE, "%s was read as %s", denied[i],
		    st == AB_OK ? ec.entry->element : ec.diag.text);
		ck_assert_msg(ec.doubt.n == 1 && strncmp(ec.doubt.ways[0], "note ", 5) == 0, "%s: %zu ways, %s",
		    denied[i], ec.doubt.n, ec.doubt.n > 0 ? ec.doubt.ways[0] : "");
		ck_assert_msg(
		    strstr(ec.diag.text, "did you mean") == NULL && strstr(ec.diag.text, "\"done ") == NULL, "%s",
		    ec.diag.text);
	}
}
END_TEST

START_TEST(size_is_offered)
{
	const struct ab_when at = ec_when(NOW);
	const struct ab_entry_help help = { .units = 1, .doubt = &ec.doubt };

	ab_diag_init(&ec.diag);
	ck_assert_int_eq(
	    ab_entry_read("bottled 19 l with 3 g sugar per bottle", &at, &help, ec.arena, &ec.entry, &ec.diag),
	    AB_EUSAGE);
	ck_assert_uint_eq(ec.doubt.n, 3);
	ab_diag_init(&ec.diag);
	const char *way = ec.doubt.ways[1];
	ck_assert_int_eq(ab_entry_read(way, &at, &help, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ck_assert_msg(strstr(ec.entry->element, "priming=\"114 g\"") != NULL, "%s", ec.entry->element);
	const struct ab_entry_help us = { .units = 2, .doubt = &ec.doubt };
	ck_assert_int_eq(
	    ab_entry_read("bottled 5 gal with 0.1 oz sugar per bottle", &at, &us, ec.arena, &ec.entry, &ec.diag),
	    AB_EUSAGE);
	way = ec.doubt.ways[0];
	ab_diag_init(&ec.diag);
	ck_assert_msg(
	    ab_entry_read(way, &at, &us, ec.arena, &ec.entry, &ec.diag) == AB_OK, "%s: %s", way, ec.diag.text);
	/* 53.3 bottles of 12 fl oz */
	ck_assert_msg(strstr(ec.entry->element, "priming=\"151.2 g\"") != NULL, "%s", ec.entry->element);
}
END_TEST

/* 'g': it cannot be; 'n': a note; '-': nothing is said. */
static const struct { const char *words; char said; } unlikely[] = {
	{ "wort 24 F", 'g' }, { "wort 0 C", '-' }, { "wort 45 C", '-' }, { "wort 46 C", 'g' }, { "wort 19 C", '-' },
	{ "gravity 1.120", 'g' }, { "gravity 1.050", '-' }, { "gravity 0.985", 'g' }, { "gravity 0.990", '-' },
	{ "bottled 19 l with 12 g sugar", 'n' }, { "bottled 19 l with 40 g sugar", '-' },
	{ "bottled 19 l with 130 g sugar", '-' },
	{ "bottled 19 l with 230 g sugar", 'n' }, { "bottled 19 l with 120 g sugar at 1.070", 'g' },
	{ "bottled with 12 g sugar", '-' },
};

START_TEST(unlikely_is_said)
{
	const struct ab_when at = ec_when(NOW), pitched = ec_when(PITCHED);
	const struct ab_entry_help help = { .units = 1, .pitched = &pitched, .og_sg = 1.048 };
	bool grave, nomem;

	ab_diag_init(&ec.diag);
	ck_assert_msg(ab_entry_read(unlikely[_i].words, &at, &help, ec.arena, &ec.entry, &ec.diag) == AB_OK, "%s",
	    ec.diag.text);
	const char *why = ab_entry_unlikely(ec.entry, &help, ec.arena, &grave, &nomem);
	char said = why == NULL ? '-' : grave ? 'g' : 'n';
	ck_assert_msg(!nomem && said == unlikely[_i].said, "%s: %s", unlikely[_i].words, why != NULL ? why : "nothing");
}
END_TEST

/* In the units of whoever brews. 14.1 oz in 5 gal are 2.8 oz/gal: 400 g in 18.9 L. */
START_TEST(unlikely_in_their_units)
{
	const struct ab_when at = ec_when(NOW);
	const struct ab_entry_help help = { .units = 2, .doubt = &ec.doubt };
	bool grave, nomem;

	ab_diag_init(&ec.diag);
	ck_assert_int_eq(
	    ab_entry_read("bottled 5 gal with 14.1 oz sugar", &at, &help, ec.arena, &ec.entry, &ec.diag), AB_OK);
	ck_assert_str_eq(ab_entry_unlikely(ec.entry, &help, ec.arena, &grave, &nomem),
	    "14.1 oz in 5.0 gal are 2.8 oz/gal of priming; bottles may burst (usual: 0.5 to 1.1 "
	    "oz/gal, common practice). Is that the sugar of the whole beer?");
	ck_assert_int_eq(ab_entry_read("bottled 5 gal with 4 oz sugar per bottle of 12 fl oz", &at, &help, ec.arena,
			     &ec.entry, &ec.diag),
	    AB_EUSAGE);
	ck_assert_msg(
	    strstr(ec.diag.text, "4.0 oz in a bottle of 12 fl oz would burst it") != NULL, "%s", ec.diag.text);
	ab_diag_init(&ec.diag);
	ck_assert_int_eq(ab_entry_read("bottled with 0.1 oz sugar per bottle of 12 fl oz", &at, &help, ec.arena,
			     &ec.entry, &ec.diag),
	    AB_EUSAGE);
	ck_assert_msg(strstr(ec.diag.text, "12 fl oz, 5 gal\"") != NULL, "%s", ec.diag.text);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("entry_said");
	TCase *t = tcase_create("entry_said");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(t, ec_setup, ec_teardown);
	tcase_add_loop_test(t, taken_as_meant, 0, sizeof taken / sizeof *taken);
	tcase_add_loop_test(t, not_plain, 0, sizeof refused / sizeof *refused);
	tcase_add_loop_test(t, doses_of_the_whole, 0, sizeof doses / sizeof *doses);
	tcase_add_test(t, denied_is_a_note);
	tcase_add_test(t, size_is_offered);
	tcase_add_loop_test(t, unlikely_is_said, 0, sizeof unlikely / sizeof *unlikely);
	tcase_add_test(t, unlikely_in_their_units);
	tcase_add_test(t, before_pitching);
	tcase_add_test(t, without_now);
	tcase_add_test(t, when_is_told);
	/* A machine with much else to do is slow at six thousand lines. */
	tcase_set_timeout(t, 30);
	tcase_add_test(t, any_words);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
