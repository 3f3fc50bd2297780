# tastings.t - one beer over the weeks, and bottles marked when they were filled
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
# journal ID TASTINGS: a beer bottled on 15 March, and what was tasted of it
journal() {
	cat >"$tmp/$1.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="$1" brewed="2031-03-01" family="pale-hoppy">
 <pitch at="2031-03-01T18:00"/>
 <package at="+14d" into="bottles"/>
 $2
</batch>
X
}

journal weeks '<tasting at="2031-05-10" by="Ana"><found fault="papery" intensity="2"/></tasting>
 <tasting at="2031-03-29" score="38" score-of="50"><found fault="green apple" intensity="3"/><found fault="haze-chill"/></tasting>
 <tasting at="2031-04-05" complete="yes"/>'
run diagnose "$tmp/weeks.xml"
sed -n '/^From tasting to tasting/,/^$/p' "$tmp/out" >"$tmp/part"
ok 'in the order of time' same 'green apple none papery' "$(sed -n 's/.*green apple 3.*/green apple/p; s/.*nothing wrong.*/none/p; s/.*wet cardboard.*/papery/p' "$tmp/part" | tr '\n' ' ' | sed 's/ $//')"
ok 'counted from packaging' grep -q '^  13 days after packaging: green apple 3, .* (38 of 50)$' "$tmp/part"
ok 'in weeks later, with who tasted' grep -q '^  8 weeks after packaging, Ana: wet cardboard (oxidised) 2$' "$tmp/part"
ok 'a fault by its name where an id was written' sh -c '! grep -q haze-chill "$1"' - "$tmp/part"
journal oneday '<tasting at="2031-03-29" by="Ana"><found fault="papery" intensity="2"/></tasting><tasting at="2031-03-29" by="Ben"/>'
run diagnose "$tmp/oneday.xml"
ok 'tastings of one day are no course' sh -c '! grep -q "From tasting to tasting" "$1"' - "$tmp/out"

# an undated one hides nothing; days after the yeast stand among days of the calendar
journal undated '<tasting by="Cy"><found fault="green apple" intensity="1"/></tasting>
 <tasting at="2031-05-10" by="Ana"><found fault="papery" intensity="2"/></tasting>
 <tasting at="+20d" by="Ben"/><tasting at="2031-03-29" by="Dee"/>'
run diagnose "$tmp/undated.xml"
sed -n '/^From tasting to tasting/,/^$/p' "$tmp/out" >"$tmp/part"
ok 'undated: the others are told in order, and it last' same 'Ben Dee Ana Cy' "$(grep -o 'Ben\|Dee\|Ana\|Cy' "$tmp/part" | tr '\n' ' ' | sed 's/ $//')"
ok 'undated: says so' grep -q '^  undated, Cy: ' "$tmp/part"
journal alone '<tasting at="2031-03-29" by="Ana"/><tasting by="Cy"/>'
run diagnose "$tmp/alone.xml"
ok 'one dated and one not are no course' sh -c '! grep -q "From tasting to tasting" "$1"' - "$tmp/out"

# what light did: half of the bottles were shielded
journal light '<tasting at="2031-04-05" mark="light"><found fault="skunky" intensity="3"/></tasting>
 <tasting at="2031-04-05" mark="shielded"><absent fault="skunky"/></tasting>'
run diagnose "$tmp/light.xml"
ok 'a clean half does not wash the other clean' says out '^Found in the glass: skunky \(light-struck\): moderate'
ok 'the shielded half is evidence' says out '^  \+ Shield half of the batch from light: does it stay clean\? Yes\. \(without'
ok 'no second stop behind an answer' sh -c '! grep -q "[.][.]" "$1"' - "$tmp/out"
ok 'plain counts' says out 'Something wrong in 1 of 1 marked light, in 0 of 1 of the others'
ok 'and no time is made of it' sh -c '! grep -q "From tasting to tasting" "$1"' - "$tmp/out"
blame() { run diagnose "$tmp/$1.xml" --format json --redraws 0; jq -r --arg c "$2" '.causes[] | select(.id == $c) | .blame' "$tmp/out"; }
lit=$(blame light light-exposure)
journal plain '<tasting at="2031-04-05"><found fault="skunky" intensity="3"/></tasting>'
plain=$(blame plain light-exposure)
ok 'light is blamed more than without the test' jq -ne --argjson a "$lit" --argjson b "$plain" '$a > $b'

# bottles that splashed, and the others
journal splash '<tasting at="2031-04-26" mark="splashed"><found fault="papery" intensity="3"/></tasting>
 <tasting at="2031-04-26" complete="yes"/>'
journal whole '<tasting at="2031-04-26"><found fault="papery" intensity="3"/></tasting>'
journal alike '<tasting at="2031-04-26" mark="splashed"><found fault="papery" intensity="3"/></tasting>
 <tasting at="2031-04-26"><found fault="papery" intensity="3"/></tasting>'
for j in splash whole alike; do eval "$j=\$(blame $j splashy-transfer)"; done
ok 'worse where it splashed: the splash is blamed more' jq -ne --argjson a "$splash" --argjson b "$whole" '$a > $b'
ok 'as bad where it did not: less' jq -ne --argjson a "$alike" --argjson b "$whole" '$a < $b'
run diagnose "$tmp/splash.xml"
ok 'bottles are not asked for a keg' sh -c '! grep -qi "keg purged" "$1"' - "$tmp/out"

# not tasted, and it hangs: the instrument before the beer
stuck() {
	cat >"$tmp/stuck.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="stuck" brewed="2031-03-01" family="dark-roast"><recipe volume="20 L" og="1.056 SG" fg="1.014 SG"/>
<yeast class="english-ale"/><pitch at="2031-03-01T18:00" temp="19 C"/><reading at="+0d" gravity="1.056 SG"/>
<reading at="+8d" gravity="1.028 SG" instrument="$1"/><reading at="+11d" gravity="1.028 SG" instrument="$1"/></batch>
X
	run diagnose "$tmp/stuck.xml" --width 200
}
stuck hydrometer
ok 'a beer that hangs is said to' says out 'It stands at 1\.028 for 3 days, 14 points over the 1\.014 where it should end'
ok 'and the hydrometer is checked first' says out 'Check the instrument before the beer: does the hydrometer read off 1\.000 in water'
stuck refractometer
ok 'a refractometer is said to mislead' says out 'Its gravities were read by a refractometer, which alcohol makes read far too high'
ok 'no points are made of it' sh -c '! grep -q "points over" "$1"' - "$tmp/out"
run calendar "$tmp/stuck.xml" --from 2031-03-13 --width 200
ok 'nor is it said that none was written' sh -c '! grep -q "no gravity is written" "$1" && grep -q "of a refractometer and not corrected" "$1"' - "$tmp/out"
plan
