# keeping.t - one invented brew kept from the first run to the glass, as a brewer would type it
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
mkdir "$tmp/kept"
cd "$tmp/kept" || exit 1
ab() { "$AFTERBOIL" "$@" >out 2>err; }

printf '%s\n' metric '20 L' 12 wheat bottles bucket none '' tap none '$' 100 '' '' '' | "$AFTERBOIL" init >out 2>err
ok 'init' test -s profile.xml
ab new Ferry wheat --on 2021-06-05
ok 'new' test -s ferry-wheat-1.xml
ab log 1 yeast german-wheat dry 11 g
ab log 1 pitched at 27 C --at 2021-06-05T19:00
ok 'log' grep -q 'pitch at="2021-06-05T19:00" temp="27 C"' ferry-wheat-1.xml
ab sheet --format text
ok 'the sheet leaves out what was logged' sh -c "! grep -q 'Which yeast\|the wort ___' out"
ok 'and has the days by their names' grep -q 'day 1, Sun 6 Jun' out
ab sheet -o sheet.html
ok 'on paper, too' grep -q 'afterboil enter ferry-wheat-1' sheet.html
# as the sheet was filled in: only what was written on it
printf '%s\n' '' 1.050 28 29 27 1.012 1.012 2021-06-25 bottles 1.012 120 1 19 '' 'too fruity 4' 'a tub of water' 2021-07-20 | "$AFTERBOIL" enter >out 2>err
ok 'enter' grep -q 'answers written into ferry-wheat-1.xml' out
ok 'the tasting is there' grep -q '<next-time>a tub of water</next-time>' ferry-wheat-1.xml
ok 'the three warm days' same 3 "$(grep -c 'wort="2[789] C"' ferry-wheat-1.xml)"
ab diagnose . --format json --redraws 0
ok 'diagnose blames the warmth first' same '"ferment-too-warm"' "$(jq '.causes[0].id' out)"
ab changed 'tub of water' --on 2021-08-01
ab new Ferry wheat --on 2021-08-07 --split 2
ok 'the next: what was to be different is said' grep -q 'Next time, you wrote after ferry-wheat-1: a tub of water' out
ok 'and what is on trial' grep -q 'On trial' out
ok 'twice, of one wort' same 2 "$(grep -l 'wort="ferry-wheat-2"' ferry-wheat-2?.xml | wc -l)"
ab taste 2a nothing --at 2021-10-01
ab taste 2b fruity 2 --mark splashed --at 2021-10-01
ok 'a marked bottle' grep -q 'mark="splashed"' ferry-wheat-2b.xml
ends 0 'all of it reads' check .
ab compare ferry-wheat-2a ferry-wheat-2b .
ok 'compare says that they are one wort' grep -qi 'one wort' out
ok 'and shows the marked bottle' grep -q 'marked splashed: ' out
ok 'nothing is left behind' same '.afterboil-undo err ferry-wheat-1.xml ferry-wheat-2a.xml ferry-wheat-2b.xml out profile.xml sheet.html' "$(ls -A | tr '\n' ' ' | sed 's/ $//')"
plan
