# dated.t - a journal dated ahead of today, "2126" for "2026": said everywhere, and it moves nothing
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
mkdir "$tmp/b"
# batch ID DAY BEFORE-LINE: one that was tasted, and bad
batch() {
	cat >"$tmp/b/$1.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="$1" line="pale" family="pale-hoppy" brewed="$2">
  <recipe og="1.048 SG"/>
  <yeast class="clean-ale" form="dry" amount="11 g"/>
  <pitch at="$2T18:00" temp="24 C"/>
  <package at="+14d" into="bottles"/>
  <tasting at="+40d" by="Mo" complete="yes"><found fault="$3" intensity="3"/></tasting>
</batch>
X
}
batch p-1 2021-01-10 boozy
batch p-2 2021-03-10 boozy
batch p-3 2021-05-10 buttery
batch p-4 2021-07-10 boozy
see() { # NAME: what all four say
	(cd "$tmp/b" && "$AFTERBOIL" advise . --store "$tmp/$1.db" --format json >"$tmp/$1.advise" 2>/dev/null
	"$AFTERBOIL" trend --store "$tmp/$1.db" --format json >"$tmp/$1.trend" 2>/dev/null
	"$AFTERBOIL" trend --last 2 --store "$tmp/$1.db" --format json >"$tmp/$1.last" 2>/dev/null
	"$AFTERBOIL" >"$tmp/$1.bare" 2>/dev/null
	"$AFTERBOIL" check . >"$tmp/$1.check" 2>/dev/null)
}
see before
ok 'nothing to say' sh -c "! grep -q 'ahead of today\|not come yet' '$tmp'/before.*"
ok 'four batches' same 4 "$(jq '.batches | length' "$tmp/before.trend")"
batch p-5 2126-09-10 sour
see slip
for what in advise trend last; do
	jq -S 'del(.ahead) | if .steps then .steps |= map(select(.do != "date")) else . end' "$tmp/before.$what" >"$tmp/a"
	jq -S 'del(.ahead) | if .steps then .steps |= map(select(.do != "date")) else . end' "$tmp/slip.$what" >"$tmp/c"
	[ "$what" != advise ] || { jq -S '.ahead' "$tmp/before.$what" >>"$tmp/a"; jq -S '.ahead' "$tmp/slip.$what" >>"$tmp/c"; }
	ok "$what: it moves nothing" diff "$tmp/a" "$tmp/c"
done
ok 'advise says it' same p-5 "$(jq -r '.steps[] | select(.do == "date") | .batch' "$tmp/slip.advise")"
ok 'trend says it' same 'p-5 2126-09-10' "$(jq -r '.ahead[] | "\(.id) \(.brewed)"' "$tmp/slip.trend")"
ok 'the last two are the last two' same 'p-3 p-4' "$(jq -r '[.batches[].id] | join(" ")' "$tmp/slip.last")"
ok 'afterboil alone says it' grep -q 'Put right: p-5 is dated ahead of today (brewed 2126-09-10' "$tmp/slip.bare"
ok 'check says it, with its line' grep -q 'p-5.xml:1: odd: brewed 2126-09-10 or a tasting of it has not come yet' "$tmp/slip.check"
run check "$tmp/b"
ok 'check: something wants a look' same 1 "$status"
run trend --store "$tmp/slip.db"
ok 'trend says it on screen' says out 'Left out: p-5 is dated 2126-09-10, ahead of today'

# more of them than --last asks for, one that is only planned among them: the last two are the last two
for i in 6 7; do batch p-$i 2126-0$i-10 sour; done
printf '<batch xmlns="urn:afterboil:journal:1" id="p-9" line="pale" brewed="2126-09-01"/>\n' >"$tmp/b/p-9.xml"
see many
ok 'several ahead: the last two are the last two' same 'p-3 p-4' "$(jq -r '[.batches[].id] | join(" ")' "$tmp/many.last")"
ok 'several ahead: each is said' same 'p-6 p-7 p-9 p-5' "$(jq -r '[.ahead[].id] | join(" ")' "$tmp/many.last")"
run trend --last 9 --store "$tmp/many.db" --format json
ok 'more asked for than there are: all that are not ahead' same 'p-1 p-2 p-3 p-4' "$(jq -r '[.batches[].id] | join(" ")' "$tmp/out")"
rm "$tmp"/b/p-[679].xml

# put right, it counts
batch p-5 2021-09-10 sour
see right
ok 'put right: five batches' same 5 "$(jq '.batches | length' "$tmp/right.trend")"
ok 'put right: nothing to say' sh -c "! grep -q 'ahead of today\|not come yet' '$tmp'/right.*"
ok 'put right: it counts' sh -c "! cmp -s '$tmp/before.advise' '$tmp/right.advise'"

# a tasting that is dated ahead; what may hurt somebody is told whatever its day
sed -i 's/at="+40d"/at="2121-11-01"/' "$tmp/b/p-5.xml"
run advise "$tmp/b" --no-store --format json
ok 'a tasting ahead: said' same p-5 "$(jq -r '.steps[] | select(.do == "date") | .batch' "$tmp/out")"
batch p-5 2126-09-10 sour
sed -i 's|<package .*|<package at="+14d" into="bottles" bottle="reused-longneck" priming="400 g" sugar="sucrose" volume="19 L"/>|' "$tmp/b/p-5.xml"
run advise "$tmp/b" --no-store --format json
ok 'a danger is told, whatever its day' same p-5 "$(jq -r '.steps[] | select(.do == "safe") | .batch' "$tmp/out")"

# a keg under a high pressure asks for care of its own, and makes the status 1; finished beer under the same gas does not
pressed() {
	batch p-5 2126-09-10 sour
	sed -i "s|<package .*|<reading at=\"+13d\" gravity=\"$1 SG\"/><package at=\"+14d\" into=\"keg\"/><carbonate pressure=\"12 psi\" temp=\"4 C\"/><store temp=\"4 C\" hottest=\"25 C\"/>|" "$tmp/b/p-5.xml"
	run advise "$tmp/b" --no-store --format json
	jq -r '.steps[] | select(.do == "vent") | .batch' "$tmp/out"
}
ok 'a keg that ferments on: told to be let off' same p-5 "$(pressed 1.024)"
run advise "$tmp/b" --no-store
ok 'with where to read on' says out 'the beer of p-5 may stand under a high pressure in its keg'
ok 'and a status that says so' same 1 "$status"
ok 'a finished one is not' same '' "$(pressed 1.010)"

# alone in a new history: said, with what to do
rm "$tmp"/b/p-[1234].xml
run trend "$tmp/b" --store "$tmp/alone.db"
ok 'alone: status 2' same 2 "$status"
ok 'alone: what to do' says err 'batch p-5 is dated ahead of today, and there is no other to show'

# a story that lies ahead as a whole is none
run advise "$top_srcdir/examples" --no-store --format json
ok 'the examples are not ahead' same 0 "$(jq '[.steps[] | select(.do == "date")] | length' "$tmp/out")"

# the calendar: a slip is left out and said; a folder that lies ahead as a whole is planned from its own last day
rm "$tmp/b"/*
batch p-1 2021-01-10 boozy
batch p-2 2021-03-10 boozy
batch p-3 2021-05-10 buttery
batch p-6 2126-09-10 sour
run calendar --from 2022-01-10 "$tmp/b"
ok 'calendar: a slip is said' says out 'Left out: p-6. It is dated ahead of today'
ok 'calendar: and wants a look' same 1 "$status"
ok 'calendar: it is not planned' sh -c "! grep -q '2126' '$tmp/out'"
run calendar --batch p-6 "$tmp/b"
ok 'calendar: asked for by name, it says why not' says err 'p-6 is dated ahead of today'
ok 'calendar: as bad input' same 3 "$status"
rm "$tmp/b/p-6.xml"
run calendar --from 2022-01-10 "$tmp/b"
ok 'calendar: nothing to say without it' sh -c "! grep -q 'ahead of' '$tmp/out'"
mkdir "$tmp/e"
for f in "$tmp"/b/*.xml; do sed 's/2021-/2521-/g' "$f" >"$tmp/e/${f##*/}"; done
run calendar "$tmp/e"
ok 'calendar: all ahead, as of the last day' says out "lie ahead of this computer's clock. Planned as of the last day"
ok 'calendar: that is the last tasting' sh -c "tr -d '\n' <'$tmp/out' | grep -q '2521-06-19'"
ok 'calendar: and it is a plan' sh -c "! grep -q 'No schedule' '$tmp/out'"
run calendar --from 2521-11-01 "$tmp/e"
ok 'calendar: a day told goes before it' sh -c "! grep -q 'ahead of this' '$tmp/out'"

plan
