# log.t - a journal kept in plain words: log, taste, undo; two writers at once; what stays as it was
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need xmllint
mkdir "$tmp/j"
cat >"$tmp/j/a.xml" <<'X'
<?xml version="1.0" encoding="UTF-8"?>
<!-- kept by hand -->
<batch xmlns="urn:afterboil:journal:1" id="pale-14" brewed="2021-03-07">
  <pitch at="2021-03-07T18:00" temp="18 C"/>   <!-- cool -->
  <x:own xmlns:x="urn:mine">stays</x:own>
</batch>
X
sed 's/pale-14/pale-15/; s/2021-03-07/2021-04-07/g' "$tmp/j/a.xml" >"$tmp/j/b.xml"
cp "$tmp/j/a.xml" "$tmp/first.xml"
at='--at 2021-04-08T19:00'
in="--in $tmp/j $small"

run log
ok 'alone: what can be said' says out 'dry hop 60 g opened lid'
run log 14 wort 19.5 C $at $in
ok 'logged' same 0 "$status"
ok 'said back' says out 'pale-14: temperature of the beer: wort 19.5 C, at 2021-04-08T19:00'
ok 'one line more, where it belongs' same '5a6 >   <reading at="2021-04-08T19:00" wort="19.5 C"/>' "$(diff "$tmp/first.xml" "$tmp/j/a.xml" | tr '\n' ' ' | sed 's/ $//')"
run log 14 note "it's <odd> & \"loud\"" $at $in
ok 'a note with signs of markup' same 0 "$status"
ok 'is a note' says "j/a.xml" '&lt;odd&gt; &amp; &quot;loud&quot;'
run check "$tmp/j" $small
ok 'and the journal still reads' test "$status" -le 1
run log 14 --undo $in
ok 'taken back' says out 'taken back: note '
run log 14 --undo $in
ok 'and again' same 0 "$status"
ok 'byte for byte as before' cmp -s "$tmp/first.xml" "$tmp/j/a.xml"

# which batch
run log pale wort 19 C $at $in
ok 'a name of two' same 2 "$status"
ok 'both are named' says err 'pale-14, pale-15'
run log last wort 19 C $at $in
ok 'the newest' says out 'pale-15: '
run log LAST wort 19 C $at $in
ok 'in capitals' says out 'pale-15: '
run log wort 19 C $at $in
ok 'no batch named, where there are two' same 2 "$status"
ok 'says how' says err 'of which batch\? Write it like "afterboil log last wort 19 C", "last" being pale-15'
run log 16 wort 19 C $at $in
ok 'none' same 2 "$status"
ok 'the newest are named' says err 'pale-15, pale-14'

# not understood: nothing is written
cp "$tmp/j/a.xml" "$tmp/before.xml"
for words in 'wort' 'wort 40' 'wort 20 L' 'flew away' 'gravity 1.020 SG by telescope' 'bottled with love'; do
	run log 14 $words $at $in
	ok "\"$words\": refused" same 2 "$status"
done
run log 14 spilled some on the floor $at $in
ok 'a line that begins nothing: few words' says err '^afterboil: "spilled" begins nothing that can be logged; nearest is "chilled"$'
ok 'and how it would be kept' says err '^  Example: note spilled some on the floor \(kept in your own words; "afterboil log" lists all that can be logged\)$'
run log 14 pitched at 20 C $at $in
ok 'a second pitching that differs: refused' same 3 "$status"
ok 'says what was told and what is said' says err 'temp 18 C, and this says 20 C'
run log 14 wort 190 C $at $in
ok 'an impossible temperature: refused' same 3 "$status"
run log 14 wort 19 C --at tomorrow $in
ok 'a time that is none' same 2 "$status"
ok 'nothing was written' cmp -s "$tmp/before.xml" "$tmp/j/a.xml"

# tasting
run taste 14 buttery 3, no buttery $at $in
run taste 14 'slightly buttery' --by me --score 32/50 --note 'too warm' --complete $at $in
ok 'tasted' same 0 "$status"
ok 'as told' says j/a.xml 'by="me" complete="yes" score="32" score-of="50"><found fault="butter" intensity="1"/><note>too warm</note></tasting>'
run taste 14 puttery $at $in
ok 'a word not known: refused' same 2 "$status"
ok 'a near one is offered' says err '^afterboil: "puttery" is no fault that is known here; nearest is "butter"$'
run taste 14 buttery 9 $at $in
ok 'an intensity beyond 5: refused' same 2 "$status"
run taste 14 nothing, buttery 2 $at $in
ok 'nothing and something: refused' same 2 "$status"
run taste 15 nothing $at $in
ok 'nothing: a complete tasting' says j/b.xml '<tasting at="2021-04-08T19:00" complete="yes"></tasting>'
run diagnose "$tmp/j" --batch pale-14 $small --redraws 0
ok 'and a diagnosis reads it' test "$status" -le 1

# now is now
run log 15 room 20 C $in
ok 'the time is that of the clock, to the minute' sh -c "grep -q 'room=\"20 C\"' '$tmp/j/b.xml' && grep -Eq 'at=\"$(date +%Y-%m-%d)T[0-9]{2}:[0-9]{2}\" room' '$tmp/j/b.xml'"

# many writers at once lose nothing
cp "$tmp/first.xml" "$tmp/j/a.xml"
for i in 1 2 3 4 5 6 7 8; do
	"$AFTERBOIL" log 14 note "number $i" $at $in >/dev/null 2>&1 &
done
wait
ok 'eight writers at once, eight notes' same 8 "$(grep -c '<note>' "$tmp/j/a.xml")"
ok 'well-formed' xmllint --noout "$tmp/j/a.xml"
ok 'nothing else is left behind' same '.afterboil-undo a.xml b.xml' "$(ls -A "$tmp/j" | tr '\n' ' ' | sed 's/ $//')"

# where it cannot be written
if [ "$(id -u)" -ne 0 ]; then
	chmod a-w "$tmp/j"
	run log 14 wort 19 C $at $in
	ok 'a folder that may not be written' same 4 "$status"
	chmod u+w "$tmp/j"
fi
# ---- what was just written may be dangerous: said at once, and the line is kept ----
mkdir "$tmp/bomb"
cat >"$tmp/bomb/b.xml" <<'X'
<batch xmlns="urn:afterboil:journal:1" id="bomb-1" brewed="2031-03-07"><recipe volume="20 L" og="1.060 SG"/><yeast class="clean-ale"/></batch>
X
run log bomb-1 bottled with 250 g sucrose at 1.030 SG --at 2031-03-14T18:00 --in "$tmp/bomb" $small
ok 'bottled far too early: status 1' same 1 "$status"
ok 'says so' says out 'Bottles may burst'
ok 'and is written' grep -q '<package' "$tmp/bomb/b.xml"
cp "$tmp/bomb/b.xml" "$tmp/before.xml"
run log bomb-1 yeast nosuch 11 g --in "$tmp/bomb" $small
ok 'a class that the rules do not know is refused' same 2 "$status"
ok 'in few words' says err '^afterboil: "nosuch" is no class of yeast, and has no place in a line about yeast$'
ok 'with an example in a line of its own, and where those there are are listed' says err '^  Example: yeast [a-z-]+ 11 g \(.*afterboil rules list yeasts'
run log bomb-1 pitched 1 packet of nosuch --in "$tmp/bomb" $small
ok 'with the pitching, too' says err '"nosuch" is no class of yeast'
ok 'and nothing is written' cmp -s "$tmp/before.xml" "$tmp/bomb/b.xml"
run log bomb-1 yeast 1 packet of dry ale yeast --in "$tmp/bomb" $small
ok 'little words are no class' says out 'bomb-1: yeast: packs 1, form dry, class clean-ale$'
echo '<brewery xmlns="urn:afterboil:profile:1"><taster name="me" blind-to="no-such-fault"/></brewery>' >"$tmp/bomb/profile.xml"
run log bomb-1 wort 19 C --at 2031-03-08T18:00 --in "$tmp/bomb" $small
ok 'what is odd in the profile fails no line that is written' same 0 "$status"
ok 'but is said' says err 'could not be worked out'
ok 'once' same 1 "$(grep -c 'wort="19 C"' "$tmp/bomb/b.xml")"

# a day from pitching where nobody wrote down when the yeast went in: from the day of brewing
mkdir "$tmp/unpitched"
printf '<batch xmlns="urn:afterboil:journal:1" id="unpitched" brewed="2021-05-01">\n  <pitch temp="20 C"/>\n</batch>\n' >"$tmp/unpitched/one.xml"
run log unpitched gravity 1.014 SG --at 'day 9' --in "$tmp/unpitched" $small
ok 'a day from pitching is read without the hour of it' same 0 "$status"
ok 'and counted from the day of brewing' grep -q '<reading at="2021-05-10" gravity="1.014 SG"/>' "$tmp/unpitched/one.xml"
run log unpitched gravity 1.014 SG --at 'day nine' --in "$tmp/unpitched" $small
ok 'what --at may be is told, days from pitching too' says err 'no date and no time since pitching.*or "day 5" from pitching, "yesterday", "2 days ago"'

# ---- the yeast told by its form alone: what stopped high is not done ----
mkdir "$tmp/untold"
cat >"$tmp/untold/u.xml" <<'X'
<batch xmlns="urn:afterboil:journal:1" id="untold-1" brewed="2021-06-01"><pitch at="2021-06-01T18:10" temp="66 F"/><yeast packs="1" form="dry"/>
<reading at="+0h" gravity="1.054 SG"/><reading at="2021-06-09T18:00" gravity="1.020 SG"/><reading at="2021-06-11T18:00" gravity="1.020 SG"/>
<reading at="2021-06-14T18:00" gravity="1.018 SG"/></batch>
X
u="--in $tmp/untold --rules-base $top_srcdir/rules"
run log last bottled 4.8 gallons with 130 g of table sugar --at 2021-06-15 $u
ok 'a class untold, bottled high: status 1' same 1 "$status"
ok 'the bottles may burst' says out 'Bottles may burst'
ok 'and by what that is judged' says out 'ordinary ale'
for command in check diagnose; do
	run $command "$tmp/untold" --rules-base "$top_srcdir/rules"
	ok "$command says so, too: status 1" same 1 "$status"
	ok "$command says so" says out 'Bottles may burst'
done
run facts "$tmp/untold" --rules-base "$top_srcdir/rules"
ok 'and nothing calls it finished' same 0 "$(grep -c 'gravity.state = finished' "$tmp/out")"

# ---- the bottles are gone: the alarm ends, and is not forgotten before ----
cp "$tmp/untold/u.xml" "$tmp/untold.before"
while IFS='|' read -r words fate; do
	cp "$tmp/untold.before" "$tmp/untold/u.xml"
	run log last $words $u
	ok "\"$words\": no alarm any more" same 0 "$status"
	ok "\"$words\": written" grep -q "fate=\"$fate\"" "$tmp/untold/u.xml"
	run diagnose "$tmp/untold" --rules-base "$top_srcdir/rules"
	ok "\"$words\": nor from diagnose" same 0 "$(grep -c 'may burst' "$tmp/out")"
done <<'X'
all drunk|drunk
poured them all away|poured-away
X
# of a day before there were bottles it is of others
cp "$tmp/untold.before" "$tmp/untold/u.xml"
run log last all drunk --at 2021-06-14 $u
ok 'drunk before they were filled: the alarm stays, status 1' same 1 "$status"
ok 'drunk before they were filled: it still says that they may burst' says out 'Bottles may burst'
# to take it back is not to take the bottling back, and the alarm comes again
cp "$tmp/untold.before" "$tmp/untold/u.xml"
run log last all drunk $u
run log last --undo $u
ok 'what became of them is taken back alone' says out 'taken back: all drunk'
ok 'and the bottling stays as it was' cmp -s "$tmp/untold.before" "$tmp/untold/u.xml"
ok 'what became of them is taken back: the alarm comes at once' says out 'Bottles may burst'
ok 'what became of them is taken back: status 1' same 1 "$status"
# bottles that are moved on a later day are there
cp "$tmp/untold.before" "$tmp/untold/u.xml"
run log last all drunk --at 2021-07-14 $u
run log last moved bottles to 20 C --at 2021-07-20 $u
ok 'moved after they were drunk: the alarm is back' says out 'Bottles may burst'
# a bottle that is tasted after all were drunk was there, and so may others be
cp "$tmp/untold.before" "$tmp/untold/u.xml"
run log last all drunk --at 2021-07-14 $u
run taste last nothing --at 2021-07-14 $u
ok 'tasted on the day they were drunk: it was the last' sh -c "! grep -q 'Bottles may burst' '$tmp/out'"
run taste last nothing --at 2021-07-20 $u
ok 'tasted after they were drunk: the alarm is back' says out 'Bottles may burst'
run log last all drunk --at 2021-07-21 $u
ok 'drunk once more: taken' same 0 "$status"
ok 'drunk once more: the later day counts' grep -q 'fate-at="2021-07-21' "$tmp/untold/u.xml"
ok 'drunk once more: no alarm' sh -c "! grep -q 'Bottles may burst' '$tmp/out'"
run log last all drunk --at 2021-07-21 $u
ok 'drunk, and nothing new in it: refused' same 3 "$status"
# letting off takes the gas of the neck, a small part, and what ferments goes on
cp "$tmp/untold.before" "$tmp/untold/u.xml"
run log last opened and let off all bottles $u
ok 'let off: the alarm stays, status 1' same 1 "$status"
ok 'let off: written' grep -q 'fate="let-off"' "$tmp/untold/u.xml"
ok 'let off: it still says that they may burst' says out 'Bottles may burst'
for command in check diagnose; do
	run $command "$tmp/untold" --rules-base "$top_srcdir/rules"
	ok "let off: so does $command, status 1" same 1 "$status"
	tr -s ' \n' '  ' <"$tmp/out" >"$tmp/flat"
	ok "let off: $command says so" says flat 'Bottles may burst.*at [0-9]* % of what such a bottle bears'
	ok "let off: $command tells how to handle them" says flat 'eye protection'
done
ok 'let off: why it stays' says flat 'only until more gas comes'

# ---- as people type it, and the recipe without a line of XML ----
mkdir "$tmp/w"
echo '<batch xmlns="urn:afterboil:journal:1" id="w-1" brewed="2021-03-07" title="Shed wheat"/>' >"$tmp/w/w.xml"
w="--in $tmp/w --at 2021-03-08T19:00 --rules-base $top_srcdir/rules"
while IFS='|' read -r words echo_; do
	run log 1 $words $w
	ok "\"$words\": taken" same 0 "$status"
	ok "\"$words\": said back" says out "^w-1: ${echo_# }"
done <<'X'
family wheat beer| the kind of beer: family wheat$
recipe 20 litres OG 1,048 FG 1.010| the recipe: volume 20 L, og 1.048 SG, fg 1.010 SG
malt 2.5 kg wheat| malt: amount 2.5 kg, kind wheat
extract 1.7 kg liquid 8 months old| malt extract: amount 1.7 kg, kind liquid, age 8 mo
hops 20 grams at 60 minutes| hops: amount 20 g, use bittering
boiled 60 minutes| boil: time 60 min
pitched 1 packet of dry wheat yeast at 19,5 °C| pitching: packs 1, form dry, class german-wheat, temp 19.5 C, at 2021
temperature 20 degrees C| temperature of the beer: wort 20 C
OG 1.048| original gravity: gravity 1.048 SG
X
run log 1 bottled with 120 grams sugar $w
ok 'bottled in the hour it was pitched and never read: status 1' same 1 "$status"
ok 'taken' says out 'bottling: priming 120 g, sugar sucrose'
ok 'and unknown is not finished' says out 'Bottles may burst'
run facts "$tmp/w" --rules-base "$top_srcdir/rules"
for fact in 'recipe.family = wheat' 'recipe.extract-age' 'boil.time = 60' 'pitch.temp-over' 'gravity.og = 1.048' 'pack.co2-expected'; do
	ok "and it is a fact: $fact" says out "$fact"
done
# a day split in two: the mash in the evening, the boil and the yeast on the next morning
mkdir "$tmp/split"
echo '<batch xmlns="urn:afterboil:journal:1" id="split-1" brewed="2021-03-07"/>' >"$tmp/split/s.xml"
run log split-1 mash 66 C for 60 min --at 2021-03-07T20:00 --in "$tmp/split" $small
run log split-1 boiled 60 min, cooled in 30 min to 20 C, pitched 1 packet at 20 C --at 2021-03-08T08:00 --in "$tmp/split" $small
ok 'a brew day split over a night is taken' same 0 "$status"
ends 0 'and nothing in it is odd' check "$tmp/split" $small
run log 1 hops --undo $w
ok 'the last hops are taken back' says out 'w-1: taken back: <hop amount="20 g" use="bittering"/>'
run log 1 hops --undo $w
ok 'there are no more' same 2 "$status"
ok 'says so' says err 'has no hop that could be taken back'
cp "$tmp/w/w.xml" "$tmp/before.xml"
run log 1 hops 25 g cascade at 5 min $w
run log 1 --undo $w
ok 'without a word, the last entry, of the recipe too' says out '^w-1: taken back: hops 25 g cascade at 5 min \(written [0-9-]*T[0-9:]*\)$'
ok 'and every byte is as it was' cmp -s "$tmp/before.xml" "$tmp/w/w.xml"
run log 1 --undo $w
ok 'the line of the recipe that was taken out is put back' says out '^w-1: put back: what "--undo hops" took out'
ok 'the line of the recipe that was taken out is there' says w/w.xml '<hop amount="20 g" use="bittering"/>'
sed '/<package/d' "$tmp/before.xml" >"$tmp/w/w.xml"
run log 1 wort --undo $w
ok 'undo with another word: refused' same 2 "$status"
ok 'says with which' says err 'malt, sugar, extract, hops or extra'
run log wort 21 C $w
ok 'no batch named, where there is one' says out '^w-1: temperature of the beer: wort 21 C'
run log 1 --undo $w
run log 1 wort 20 C --in "$tmp/w" --at 'yesterday 18:00' $small
ok '--at in words' says out "wort 20 C, at $(date -d yesterday +%F)T18:00"
run log 1 day 3 wort 20 C --in "$tmp/w" --at 18:30 $small
ok 'when it happened is said twice: refused' same 2 "$status"
ok '... and both are named' says err 'both say when it happened'
run log 1 yesterday at 6pm wort 20 C --in "$tmp/w" $small
ok 'the hour in front' says out "wort 20 C, at $(date -d yesterday +%F)T18:00"
run log 1 mash 66 C, whirlpool 20 min, wort 500 C $w
ok 'of several things the one refused' same 3 "$status"
ok 'is said, and what was written' says err 'what was said before temperature of the beer is written'
run log 1 --undo $w
ok 'and what was written of it goes back with it' sh -c "! grep -Eq '<mash|<stand' '$tmp/w/w.xml'"
run log 1 room 40 $w
ok 'a missing unit: refused' same 2 "$status"
ok 'with the line mended' says err '"room 40 C" or "room 40 F" \(units: C, F, K\)'

# how much beer: planned, or what came out
run log 1 volume 19 L $w
ok 'the yeast is in: the recipe is not overwritten' same 2 "$status"
ok 'says how either is said' says err 'write "recipe 19 L" when the recipe is to be changed, "bottled 19 L"'
run log 1 bottled with 120 g sugar --in "$tmp/w" --at 2021-03-28T19:00 $small
run log 1 volume 19 L $w
ok 'packaged: that much was' says out 'w-1: packaging: volume 19 L$'
ok 'and the recipe stays' says w/w.xml '<recipe volume="20 L"'
ok 'with the package' says w/w.xml '<package .*volume="19 L"'
run log 1 recipe 21 L $w
ok 'the recipe, where it is named' says w/w.xml '<recipe volume="21 L"'
for n in 1 2 3; do run log 1 --undo $w; done
ok 'all three are taken back, the bottling too' sh -c "! grep -q '<package' '$tmp/w/w.xml'"

# ---- taken back ----
mkdir "$tmp/undo"
b="--in $tmp/undo $small"
echo '<batch xmlns="urn:afterboil:journal:1" id="u-1" brewed="2021-03-07"><recipe volume="20 L"/></batch>' >"$tmp/undo/u1.xml"
cat >"$tmp/undo/two.xml" <<'X'
<batches xmlns="urn:afterboil:journal:1">
  <batch id="two-1" brewed="2021-03-07"/> <!-- mine -->
  <batch id="two-2" brewed="2021-03-08"/>
</batches>
X
run log u-1 --undo $b
ok 'nothing was logged: nothing is taken back' same 2 "$status"
ok 'nothing was logged: that is said' says err 'no entry is kept that could be'
n=0
# each kind of entry, one after the other; then all of them back, newest first
while IFS='|' read -r command words; do
	cp "$tmp/undo/u1.xml" "$tmp/undo/$n.was"
	n=$((n + 1))
	echo "$words" >"$tmp/undo/$n.words"
	run $command u-1 $words --at 2021-03-07T18:00 $b
	ok "to take back: $command $words" same 0 "$status"
done <<'X'
log|malt 4.5 kg pale
log|og 1.048
log|pitched 11 g dry ale yeast at 18 C
log|family wheat
log|hops 30 g cascade at 60 min
log|mash 66 C, boiled 60 min
log|changed capped on foam from now on
taste|buttery 3, no hot
log|recipe 19 L
X
run taste u-1 --undo $b
ok 'no tasting is last: taste --undo is refused' same 2 "$status"
ok 'no tasting is last: it says what is' says err 'is of "log" and not of "taste": "recipe 19 L"'
while [ "$n" -gt 0 ]; do
	words=$(cat "$tmp/undo/$n.words")
	n=$((n - 1))
	run log u-1 --undo $b
	ok "taken back: $words" says out "^u-1: taken back: $words \\(written"
	ok "taken back, byte for byte: $words" cmp -s "$tmp/undo/$n.was" "$tmp/undo/u1.xml"
done
run log u-1 --undo $b
ok 'all is taken back: refused' same 2 "$status"
# what was written by hand is not lost
run log u-1 og 1.050 --at 2021-03-07T18:00 $b
run log u-1 note first $b
sed -i 's|first|first and foremost|' "$tmp/undo/u1.xml"
cp "$tmp/undo/u1.xml" "$tmp/before.xml"
run log u-1 --undo $b
ok 'changed by hand since: refused' same 2 "$status"
ok 'changed by hand since: says so' says err 'changed in another way since "note first"'
ok 'changed by hand since: it stays' cmp -s "$tmp/before.xml" "$tmp/undo/u1.xml"
run log u-1 note second $b
run log u-1 --undo $b
ok 'what is logged after it goes back' cmp -s "$tmp/before.xml" "$tmp/undo/u1.xml"
run log u-1 --undo $b
ok 'but nothing from before it' same 2 "$status"
# taken back by hand: the one before it is meant
run log u-1 note third $b
cp "$tmp/undo/u1.xml" "$tmp/third.xml"
run log u-1 note fourth $b
cp "$tmp/third.xml" "$tmp/undo/u1.xml"
run log u-1 --undo $b
ok 'the last was taken out by hand: the one before it goes' says out 'taken back: note third'
# two batches in one file, and no batch named
run log two-1 note a $b
run log two-2 note b $b
run log two-1 --undo $b
ok 'the last entry in the file is of another batch: refused' says err 'is of the batch "two-2": "note b"'
run log --undo $b
ok 'no batch named: the newest entry of all' says out '^two-2: taken back: note b'
run log --undo --in "$tmp/undo/two.xml" $small
ok 'no batch named, and a file: the one before' says out '^two-1: taken back: note a'
run log --undo --in "$tmp/undo/two.xml" $small
ok 'no batch named: an entry of a journal that is not among those' same 2 "$status"
ok 'the comment in the file is where it was' grep -q '<batch id="two-1" brewed="2021-03-07"/> <!-- mine -->' "$tmp/undo/two.xml"
# a stranger's trail is neither written through nor believed
rm "$tmp/undo/.afterboil-undo"
echo precious >"$tmp/precious"
ln -s "$tmp/precious" "$tmp/undo/.afterboil-undo"
run log u-1 note fifth $b
ok 'a link for a trail: the entry is written all the same' same 0 "$status"
ok 'a link for a trail: that it cannot be taken back is said' says err 'cannot be taken back with --undo'
ok 'a link for a trail: what it leads to stays' grep -qx precious "$tmp/precious"
rm "$tmp/undo/.afterboil-undo"
echo 'something else, longer than the mark' >"$tmp/undo/.afterboil-undo"
run log u-1 note sixth $b
ok 'no trail of ours: left alone' grep -q '^something else' "$tmp/undo/.afterboil-undo"
rm "$tmp/undo/.afterboil-undo"

# the examples are in the units of who reads them, and each stands once
mkdir "$tmp/us"
echo '<brewery xmlns="urn:afterboil:profile:1" units="us"/>' >"$tmp/us/profile.xml"
run log --in "$tmp/us" $small
ok 'examples, us: pounds' says out '^  malt 10 lb pale$'
ok 'examples, us: ounces' says out '^  dry hop 2 oz opened lid for 4 d$'
ok 'examples, us: nothing metric but a packet of yeast' sh -c "! grep -Eq ' (C|kg|L|bar)( |,|\$)|[2-9][0-9] g ' '$tmp/out'"
ok 'examples, us: none twice' same '' "$(sort "$tmp/out" | uniq -d)"
run log --in "$tmp/w" $small
ok 'examples: metric where nothing else is told' says out '^  malt 4.5 kg pale$'

# where "it" was put: the fermenter while it ferments, the bottles afterwards
mkdir "$tmp/place"
pl="--in $tmp/place $at $small"
place='<batch xmlns="urn:afterboil:journal:1" id="p-1" brewed="2021-03-07"><pitch at="2021-03-07T18:00"/>'
echo "$place</batch>" >"$tmp/place/p.xml"
run log p-1 put it in the closet $pl
ok 'it, while it ferments: the vessel' says place/p.xml '<vessel light="dark"/>'
run log p-1 put it in the garage, 15 C $pl
ok 'it, with a temperature: that of the room' says place/p.xml '<reading [^>]*room="15 C"'
run log p-1 moved it to the basement $pl
ok 'a place that tells no temperature: refused' same 2 "$status"
ok 'a place that tells no temperature: asked for, or offered as a note' says err 'temperature of the room'
ok 'a place that tells no temperature: the note' says err 'write "note moved it to the basement"'
ok 'no storage before there are bottles' sh -c "! grep -q '<store' '$tmp/place/p.xml'"
echo "$place<package at=\"2021-03-09T18:00\" into=\"bottles\"/></batch>" >"$tmp/place/p.xml"
run log p-1 put it in the closet $pl
ok 'it, when it is bottled: the storage' says place/p.xml '<store [^>]*light="dark"'
run log p-1 moved it to the fridge $pl
ok 'it, when it is bottled, moved: the storage' same 2 "$(grep -o '<store' "$tmp/place/p.xml" | wc -l)"

# a yeast by its name: its class is told once
mkdir "$tmp/strain"
s="--in $tmp/strain $at $small"
echo '<batch xmlns="urn:afterboil:journal:1" id="s-1" brewed="2021-03-01"/>' >"$tmp/strain/s1.xml"
echo '<batch xmlns="urn:afterboil:journal:1" id="s-2" brewed="2021-03-07"/>' >"$tmp/strain/s2.xml"
run log s-1 pitched 1 packet of Oakmoor Nine at 18 C --in "$tmp/strain" --at 2021-03-01T18:00 $small
ok 'a name nobody knows: refused' same 2 "$status"
ok 'a name nobody knows: its class, with its name' says err 'pitched 1 packet of [a-z-]+ called Oakmoor Nine at 18 C'
class=$(sed -n 's/.*packet of \([a-z-]*\) called.*/\1/p' "$tmp/err" | head -1)
run log s-1 pitched 1 packet of "$class" called Oakmoor Nine at 18 C --in "$tmp/strain" --at 2021-03-01T18:00 $small
ok 'with its class: written' says strain/s1.xml "<yeast [^>]*class=\"$class\"[^>]*strain=\"Oakmoor Nine\"|<yeast [^>]*strain=\"Oakmoor Nine\"[^>]*class=\"$class\""
run log s-2 pitched 1 packet of oakmoor nine at 18 C $s
ok 'the next brew: the class it had then' says strain/s2.xml "class=\"$class\" strain=\"Oakmoor Nine\""
sed -i 's/ class="[a-z-]*"//' "$tmp/strain/s1.xml"
rm "$tmp/strain/s2.xml"
echo '<batch xmlns="urn:afterboil:journal:1" id="s-2" brewed="2021-03-07"/>' >"$tmp/strain/s2.xml"
run log s-2 pitched 1 packet of Oakmoor Nine at 18 C $s
ok 'a name whose class nobody told: refused' same 2 "$status"

# a day that is still to come, and one before the brew
run log 1 room 21 C --in "$tmp/w" --at 2999-01-01T10:00 $small
ok 'the future is said' says err '2999-01-01T10:00 is in the future'
run log 1 --undo $w
run taste 1 nothing --in "$tmp/w" --at 2999-01-01 $small
ok 'of a tasting, too' says err '2999-01-01 is in the future: this tasting'
run taste 1 --undo $w
cp "$tmp/w/w.xml" "$tmp/before.xml"
run taste 1 nothing --in "$tmp/w" --at 2020-01-01 $small
ok 'a tasting before the brew: refused' same 3 "$status"
ok 'and nothing was written' cmp -s "$tmp/before.xml" "$tmp/w/w.xml"

# ---- a journal begun on one day, and brewed on another ----
mkdir "$tmp/moved"
echo '<batch xmlns="urn:afterboil:journal:1" id="moved-1" brewed="2021-03-03"><recipe/></batch>' >"$tmp/moved/m.xml"
run log 1 water tap --in "$tmp/moved" --at 2021-03-06T12:00 $small
ok 'water is no brewing yet' says moved/m.xml 'brewed="2021-03-03"'
run log 1 OG 1.048 --in "$tmp/moved" --at 2021-03-07T12:00 $small
ok 'the original gravity of a later day: said' says out '^moved-1: brewed moved to 2021-03-07, the day this was done$'
ok 'and written' says moved/m.xml 'id="moved-1" brewed="2021-03-07"'
run log 1 pitched 1 pack dry yeast at 20 C --in "$tmp/moved" --at 2021-03-08T10:00 $small
ok 'the yeast a day later still: brewed then, for nothing has happened before' says moved/m.xml 'brewed="2021-03-08"'
run log 1 wort 20 C --in "$tmp/moved" --at 2021-03-09T10:00 $small
ok 'what comes after moves nothing' says moved/m.xml 'brewed="2021-03-08"'
run check "$tmp/moved" $small
ok 'and it reads' test "$status" -le 1
ok 'a day split over a night stays the day of its mash' says split/s.xml 'brewed="2021-03-07"'
echo '<batch xmlns="urn:afterboil:journal:1" id="same-1" brewed="2021-03-07"/>' >"$tmp/moved/m.xml"
run log 1 pitched at 20 C --in "$tmp/moved" --at 2021-03-07T22:00 $small
ok 'brewed on its day: nothing is said' sh -c "! grep -q moved '$tmp/out'"
run log 1 pitched 1 pack --in "$tmp/moved" --at 2021-03-09T22:00 $small
ok 'pitched already: it stays' says moved/m.xml 'brewed="2021-03-07"'

# the first that is told of the brewing, whatever it is, on a later day
while IFS= read -r words; do
	echo '<batch xmlns="urn:afterboil:journal:1" id="later-1" brewed="2021-03-05"><recipe/></batch>' >"$tmp/moved/m.xml"
	run log 1 $words --in "$tmp/moved" --at 2021-03-06T12:00 $small
	ok "brewed a day later than planned: $words" says moved/m.xml 'brewed="2021-03-06"'
	ok "brewed a day later than planned: $words: said" says out '^later-1: brewed moved to 2021-03-06, the day this was done$'
	run log 1 --undo --in "$tmp/moved" $small
	ok "brewed a day later than planned: $words: taken back, the day too" says moved/m.xml 'brewed="2021-03-05"'
done <<'X'
boiled 60 min
mash 66 C for 60 min
cooled in 30 min by coil to 20 C
whirlpool for 20 min at 80 C
aerated by shaking for 2 min
X
echo '<batch xmlns="urn:afterboil:journal:1" id="later-1" brewed="2021-03-05"><recipe/></batch>' >"$tmp/moved/m.xml"
run log 1 malt 4 kg pale, hops 30 g at 60 min --in "$tmp/moved" --at 2021-03-06T12:00 $small
ok 'a recipe told later moves nothing' says moved/m.xml 'brewed="2021-03-05"'

# ---- too warm for its yeast in its first days: said at once, and only then ----
mkdir "$tmp/warm"
base="--rules-base $top_srcdir/rules --width 200"
yesterday=$(date -d yesterday +%F)
echo "<batch xmlns=\"urn:afterboil:journal:1\" id=\"warm-1\" brewed=\"$yesterday\"><yeast class=\"clean-ale\"/><pitch at=\"${yesterday}T12:00\" temp=\"19 C\"/></batch>" >"$tmp/warm/w.xml"
run log 1 wort 20 C --in "$tmp/warm" $base
ok 'as the yeast likes it: nothing is said' sh -c "! grep -q 'Cool it now' '$tmp/out'"
run log 1 room 30 C --in "$tmp/warm" $base
ok 'a warm room is no warm beer' sh -c "! grep -q 'Cool it now' '$tmp/out'"
run log 1 wort 30 C --in "$tmp/warm" $base
ok 'far too warm: cool it now' says out 'Cool it now: It is warmer than its yeast should have it'
ok 'with what could hurt' says out 'Keep fan, plugs and leads away from the water'
ok 'it is done, and no alarm' same 0 "$status"
run log 1 gravity 1.030 --in "$tmp/warm" $base
ok 'a line of something else does not say it again' sh -c "! grep -q 'Cool it now' '$tmp/out'"
sed -i "s/$yesterday/2021-03-07/g" "$tmp/warm/w.xml"
run log 1 wort 30 C --in "$tmp/warm" --at 2021-03-08T12:00 $base
ok 'long past: nothing is said' sh -c "! grep -q 'Cool it now' '$tmp/out'"

# ---- at a terminal it is asked ----
python=$(python_that "$a_terminal")
if [ -n "$python" ]; then
	asked() { "$python" "$here/log_pty.py" "$@" >"$tmp/out" 2>"$tmp/err"; status=$?; }
	echo "<batch xmlns=\"urn:afterboil:journal:1\" id=\"later-1\" brewed=\"$yesterday\"><recipe/></batch>" >"$tmp/moved/m.xml"
	asked 'no' "$AFTERBOIL" log 1 boiled 60 min --in "$tmp/moved" $small
	ok 'a boil told a day later: which day is asked' says out "Was it brewed on $(date +%F)\?"
	ok 'a boil told a day later: no, and the day stays' says moved/m.xml "brewed=\"$yesterday\""
	ok 'a boil told a day later: it is written' says moved/m.xml '<boil time="60 min"'
	run log 1 --undo --in "$tmp/moved" $small
	asked 'yes' "$AFTERBOIL" log 1 boiled 60 min --in "$tmp/moved" $small
	ok 'a boil told a day later: yes, and the day moves' says moved/m.xml "brewed=\"$(date +%F)\""
	asked '2' "$AFTERBOIL" log 1 room 40 $w
	ok 'which unit is asked' says out '  2\) room 40 F'
	ok 'and the answer written' says out 'w-1: temperature of the room: room 40 F'
	asked '|' "$AFTERBOIL" log 1 gravity 12 $w
	ok 'none of them: refused' same 2 "$status"
	ok 'Plato or points was asked' says out '  1\) gravity 12 P'
	asked '1' "$AFTERBOIL" log 1 yeast nosuch 1 packet $w
	ok 'which class of yeast is asked' says out '  2\) yeast [a-z-]+ 1 packet'
	ok 'and the one chosen written' says out 'w-1: yeast: class [a-z-]+, packs 1$'
	asked 'no' "$AFTERBOIL" log 1 room 20 C --in "$tmp/w" --at 2999-01-01 $small
	ok 'a future day is asked' says out 'Is that right\?'
	ok 'and refused' same 2 "$status"
	asked 'yes' "$AFTERBOIL" log 1 room 20 C --in "$tmp/w" --at 2999-01-01 $small
	ok 'or taken' same 0 "$status"
fi

# a beer that hangs, in bottles with sugar nobody weighed: what is left in it is warned of by itself; low enough, nothing is said
for end in 1.020 1.012; do
	mkdir "$tmp/pieces-$end" && cd "$tmp/pieces-$end" || exit 1
	echo '<brewery xmlns="urn:afterboil:profile:1"/>' >profile.xml
	"$AFTERBOIL" new Porch --on 2021-06-01 >/dev/null
	"$AFTERBOIL" log 1 OG 1.050 --at 2021-06-01T10:00 >/dev/null
	"$AFTERBOIL" log 1 pitched one packet of dry ale yeast, 19 C --at 2021-06-01T12:00 >/dev/null
	"$AFTERBOIL" log 1 gravity $end --at 2021-06-12T12:00 >/dev/null
	"$AFTERBOIL" log 1 gravity $end --at 2021-06-15T12:00 >/dev/null
	"$AFTERBOIL" log 1 'bottled, 2 carbonation drops per bottle' --at 2021-06-15T18:00 >out
	"$AFTERBOIL" calendar --from 2021-06-29 . >calendar 2>/dev/null
	cd "$OLDPWD" || exit 1
done
ok 'hung and bottled: warned' grep -q 'Bottles may burst' "$tmp/pieces-1.020/out"
ok 'at its end: not' sh -c "! grep -q 'may burst' '$tmp/pieces-1.012/out'"
ok 'bottled: no forced sample any more' sh -c "! grep -q 'Forced sample' '$tmp/pieces-1.020/calendar'"
# bottled with the usual sugar: silent where two readings agreed, a caution with the bottling alone where none shows that it was done
for last in 1.013 1.012; do
	mkdir "$tmp/usual-$last" && cd "$tmp/usual-$last" || exit 1
	echo '<brewery xmlns="urn:afterboil:profile:1" units="us"/>' >profile.xml
	"$AFTERBOIL" new Porch --on 2021-06-01 >/dev/null
	"$AFTERBOIL" log 1 OG 1.052 --at 2021-06-01T10:00 >/dev/null
	"$AFTERBOIL" log 1 pitched one packet of dry ale yeast, 66 F --at 2021-06-01T12:00 >/dev/null
	"$AFTERBOIL" log 1 gravity $last --at 2021-06-11T12:00 >/dev/null
	"$AFTERBOIL" log 1 gravity 1.012 --at 2021-06-14T20:00 >/dev/null
	"$AFTERBOIL" log 1 'bottled 5 gal with 5 oz corn sugar' --at 2021-06-15T10:00 >out
	echo $? >status
	"$AFTERBOIL" log 1 'bottles in the closet at 72 F' --at 2021-06-15T11:00 >after
	cd "$OLDPWD" || exit 1
done
ok 'two readings that agree: nothing is said' sh -c "! grep -q 'limit' '$tmp/usual-1.012/out'"
ok 'it still fell: said when it is bottled' grep -q 'Bottles come near their limit' "$tmp/usual-1.013/out"
ok 'which is no alarm' same 0 "$(cat "$tmp/usual-1.013/status")"
ok 'nor said at every line after' sh -c "! grep -q 'limit' '$tmp/usual-1.013/after'"
# Pressure in a vessel that does not bear it is told with the line that sets it.
mkdir -p "$tmp/valve" && cd "$tmp/valve" || exit 1
printf '%s\n' '<batch xmlns="urn:afterboil:journal:1" id="glass-1" brewed="2021-06-01"><vessel kind="glass"/></batch>' >glass-1.xml
"$AFTERBOIL" log glass-1 spunding at 0.8 bar --at 2021-06-04T10:00 >out
cd "$OLDPWD" || exit 1
ok 'a valve on glass: said when it is set' grep -q 'not made for the pressure' "$tmp/valve/out"
# What a malt is called is data: a name that the rules do not have comes with a folder of one's own.
mkdir -p "$tmp/grain" "$tmp/own" && cd "$tmp/grain" || exit 1
printf '%s\n' '<batch xmlns="urn:afterboil:journal:1" id="grain-1" brewed="2021-06-01"/>' >grain-1.xml
printf '%s\n' '<rules xmlns="urn:afterboil:rules:1"><malt id="mine" kind="roasted" source="the bag"><word>midnight husk</word></malt></rules>' >"$tmp/own/malts.xml"
"$AFTERBOIL" log grain-1 malt 4 kg pale malt and 250 g biscuit malt >out
"$AFTERBOIL" log grain-1 malt 200 g midnight husk >/dev/null 2>refused
echo $? >status
"$AFTERBOIL" log grain-1 malt 200 g midnight husk --rules "$tmp/own" >own
cd "$OLDPWD" || exit 1
ok 'malts as the rules call them' grep -q 'kind other, name biscuit malt' "$tmp/grain/out"
ok 'a name they do not have is refused' same 2 "$(cat "$tmp/grain/status")"
ok 'which is said' grep -q '"midnight" has no place in a line about malt' "$tmp/grain/refused"
ok 'a name of my own rules is known' same 'grain-1: malt: amount 200 g, kind roasted' "$(cat "$tmp/grain/own")"

# how warm it was, where nobody measured
run log 14 'fermenter too warm, temperature went up and down' $in
ok 'the brewer judged the warmth' says out 'the vessel: judged warm, swings'
run log 14 --undo $in

# a remedy stays in the brewer's words, and whether they are understood is said
mkdir "$tmp/tried"
cp "$tmp/first.xml" "$tmp/tried/a.xml"
run log 14 'helped treat all water' --in "$tmp/tried"
ok 'a remedy that helped' says out 'a remedy that helped: treat all water \(Sulphite'
ok 'is written' grep -q '<tried helped="yes">treat all water</tried>' "$tmp/tried/a.xml"
run log 14 'did not help a new shed' --in "$tmp/tried"
ok 'one that did not, and is not known' says out 'a remedy that did not help: a new shed \(kept in your words'
ok 'is written, too' grep -q '<tried helped="no">a new shed</tried>' "$tmp/tried/a.xml"
ok 'and reads by its schema' xmllint --noout --relaxng "$AFTERBOIL_RULES/journal.rng" "$tmp/tried/a.xml"
plan
