# diagnose.t - the screens of diagnose, and what it makes of the examples
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

golden diagnose-newest diagnose "$data/brewery" $small
golden diagnose-warm diagnose "$data/brewery" $small --batch pale-1
golden diagnose-clean diagnose "$data/brewery" $small --batch pale-3
golden diagnose-all diagnose "$data/brewery" $small --all --width 100
golden diagnose-fault diagnose --fault buttery=2 --fault boozy --absent gusher $small
golden diagnose-html diagnose "$data/brewery" $small --batch pale-4 --format html
golden diagnose-norange diagnose "$data/brewery" $small --batch pale-4 --redraws 0

# young beer with a trace of butter: nothing is wrong, and that is said first
sed 's/at="+40d"/at="+10d"/; s/<package.*//; s/1.017/1.011/; s/intensity="4"/intensity="1"/' "$data/brewery/pale-4.xml" >"$tmp/young.xml"
run diagnose "$tmp/young.xml" $small
ok 'nothing is wrong comes before all else' says out '^(Nothing seems to be|Perhaps nothing is) wrong'
ok 'within the first four lines' sh -c "head -4 '$tmp/out' | grep -Eq 'othing (seems|is)'"
run diagnose --fault buttery=1 --fault buttery=5 $small
ok 'a fault named twice is no crash' test "$status" -le 3

run diagnose --fault buttery --absent gushr $small
ok 'an absent fault that is none is wrong usage' same 2 "$status"
ok 'and its nearest word is named' says err 'no fault is called "gushr"; do you mean "gusher"'

# the beer is still in the fermenter: what is done at packaging did not spoil it
cat >"$tmp/in.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="in" brewed="2031-09-01" family="pale-hoppy"><yeast class="clean-ale"/><pitch at="2031-09-01T18:00"/>
<tasting at="2031-09-08" from="fermenter"><found fault="green apple" intensity="2"/><found fault="yeasty" intensity="2"/></tasting></batch>
X
run diagnose "$tmp/in.xml"
ok 'young beer in the fermenter is only young' says out '^Nothing seems to be wrong'
ok 'it was not packaged too early' sh -c "! grep -Eq 'Taken off|packag' '$tmp/out'"

# the same seed, the same answer; another seed, other ranges
run diagnose "$data/brewery" $small --batch pale-2 --seed 7
cp "$tmp/out" "$tmp/seven"
run diagnose "$data/brewery" $small --batch pale-2 --seed 7
ok 'the same seed gives the same answer' cmp "$tmp/seven" "$tmp/out"

# one screen: what fits on the screen of a small terminal
for b in pale-1 pale-2 pale-3 pale-4; do
	run diagnose "$data/brewery" $small --batch $b
	ok "$b is one screen" test "$(wc -l <"$tmp/out")" -le 45
done

# the story of the examples, with the rules as they are
leads() { # BATCH CAUSE
	run diagnose "$top_srcdir/examples" --batch "$1" --format json --redraws 0
	ok "$1: $2 leads" sh -c "jq -e '.causes[0].id == \"$2\"' '$tmp/out'"
}
means() { # WORD FAULT
	run diagnose --fault "$1" --format json --redraws 0
	ok "\"$1\" is $2" sh -c "jq -e '.found[0].id == \"$2\"' '$tmp/out'"
}
need jq
means apples acetaldehyde
means 'it gushes' over-carbonated
means catty lightstruck
means muted hop-fade
means floaters haze-chill
means 'extract twang' extract-tang
means 'caramel' extract-tang
means 'darker than meant' hoppy-browning
leads house-pale-3 ferment-too-warm
leads winter-lager no-diacetyl-rest
leads chandlers-brown hot-alkaline-sparge

# an extract beer darker and sweeter than meant: common practice has the extract stirred in late, or less beer boiled
# at its full volume; grain has no extract to boil dark
mkdir "$tmp/dark"
cat >"$tmp/dark/b.xml" <<'X'
<batch xmlns="urn:afterboil:journal:1" id="dark" brewed="2031-03-07" family="amber-malty">
  <recipe volume="20 L"><extract kind="liquid" amount="3 kg" age="60 d"/></recipe><boil time="60 min"/>
  <water top-up="12 L" top-up-boiled="yes"/><tasting at="+50d"><found fault="darker than meant" intensity="3"/>
  <found fault="sweet" intensity="2"/><found fault="caramel" intensity="3"/></tasting></batch>
X
run diagnose "$tmp/dark/b.xml" --format json --redraws 0
ok 'extract in a thick wort boils dark' sh -c "jq -e '.causes[0].id == \"darkened-extract\"' '$tmp/out'"
run advise "$tmp/dark" --no-store --format json --redraws 0
ok 'and late extract is advised first' sh -c "jq -e '.plan[0].id == \"late-extract\"' '$tmp/out'"
ok 'against what was tasted, by its own name' says out 'Caramel or tang of extract|extract-tang'
sed 's/<extract[^>]*>/<malt kind="pale" share="100 %"\/>/' "$tmp/dark/b.xml" >"$tmp/grain.xml"
run diagnose "$tmp/grain.xml" --format json --redraws 0
ok 'in a beer of malt it did not' sh -c "! jq -e '.causes[] | select(.id == \"darkened-extract\" and .p > 0)' '$tmp/out'"

# a contradiction of one's own rules is told, and only when the rules say it
mkdir "$tmp/own"
cat >"$tmp/own/own.xml" <<'X'
<rules xmlns="urn:afterboil:rules:1"><contrary id="own" source="estimate"><says>Tight, and yet a ring: which is it?</says>
  <when fact="vessel.sealed" is="yes"/><when fact="looks.neck-ring" is="yes"/></contrary></rules>
X
cat >"$tmp/ring.xml" <<'X'
<batch xmlns="urn:afterboil:journal:1" id="b" brewed="2031-01-01"><vessel sealed="yes"/><looks neck-ring="yes"/>
  <tasting><found fault="sour" intensity="3"/></tasting></batch>
X
run diagnose "$tmp/ring.xml" --redraws 0 --rules "$tmp/own"
ok 'a contradiction of own rules is told' says out 'Tight, and yet a ring: which is it\?'
run diagnose "$tmp/ring.xml" --redraws 0
ok 'and not without them' sh -c "! grep -q 'which is it' '$tmp/out'"
sed 's/is="yes"\/><\/contrary/known="no"\/><\/contrary/' "$tmp/own/own.xml" >"$tmp/own/other.tmp" && mv "$tmp/own/other.tmp" "$tmp/own/own.xml"
run diagnose "$tmp/ring.xml" --redraws 0 --rules "$tmp/own"
ok 'nor when its conditions do not hold' sh -c "! grep -q 'which is it' '$tmp/out'"
# makers' dose of dry yeast, 0.5 to 0.8 g/L in wort of ordinary strength (from memory of their leaflets), is no sign of too little yeast
for grams in 3 11 15; do
	cat >"$tmp/dry.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="b" family="pale-hoppy" brewed="2031-01-01"><recipe og="1.050 SG" volume="20 L"/>
  <yeast class="clean-ale" form="dry" amount="$grams g"/><pitch temp="18 C"/><tasting at="+30d"><found fault="buttery" intensity="2"/></tasting></batch>
X
	run diagnose "$tmp/dry.xml" --redraws 0 --format json
	ok "$grams g of dry yeast in 20 L: $([ $grams = 3 ] && echo little || echo no sign of little)" \
	    sh -c "$([ $grams = 3 ] || echo '!') grep -q 'little dry yeast was pitched' '$tmp/out'"
done

# found once, gone at the next tasting: what made it is told, the beer is left alone
cat >"$tmp/gone.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="gone" family="pale-hoppy" brewed="2031-01-01"><pitch at="2031-01-01T18:00"/><package at="+14d" into="bottles"/>
  <tasting at="+18d" from="bottle"><found fault="green apple" intensity="2"/></tasting><tasting at="+50d" from="bottle"><absent fault="green apple"/></tasting></batch>
X
run diagnose "$tmp/gone.xml" --redraws 0
ok 'gone since: said of the fault' says out '^Found in the glass: green apple .*: slight \(gone since\)'
ok 'gone since: the beer is left alone' says out '^It is gone from this beer by now'
ok 'gone since: what made it' says out '^What (it most likely is|most likely happened)'
run diagnose "$tmp/gone.xml" --redraws 0 --format json
ok 'gone since: in the JSON, and no load' jq -e '.found[0].gone and .load == 0 and (.causes | length) > 0' "$tmp/out"

# what was tried, and whether it helped, is a reason
for helped in yes no; do
	cat >"$tmp/tried.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="tried" family="pale-hoppy" brewed="2031-01-01"><tried what="treat-all-water" helped="$helped"/>
  <tasting><found fault="medicinal" intensity="4"/></tasting></batch>
X
	run diagnose "$tmp/tried.xml" --format json --redraws 0
	cp "$tmp/out" "$tmp/tried-$helped"
done
ok 'tried, and it helped: speaks for the cause' jq -e '.causes[0] | .id == "chlorine-water" and any(.for[]; .id == "tried treat-all-water")' "$tmp/tried-yes"
ok 'tried in vain: its blame is far lower' jq -ne '[inputs | .causes[] | select(.id == "chlorine-water") | .blame] | .[1] < 0.6 * .[0]' "$tmp/tried-yes" "$tmp/tried-no"
run check "$tmp/tried.xml"
ok 'a known remedy is not odd' sh -c "! grep -q 'no change is called' '$tmp/out'"
sed 's/treat-all-water/treat-all-watr/' "$tmp/tried.xml" >"$tmp/tried-odd.xml"
run check "$tmp/tried-odd.xml"
ok 'an unknown one is' says out 'tried-odd.xml:1: odd: no change is called "treat-all-watr" \(<tried>\).*; near it: "treat-all-water"'
plan
