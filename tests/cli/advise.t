# advise.t - the screens of advise, and that limits are limits
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
golden advise advise "$data/brewery" $small --no-store
golden advise-free advise "$data/brewery" $small --no-store --budget 0
golden advise-all advise "$data/brewery" $small --no-store --all --redraws 0 --width 100
golden advise-html advise "$data/brewery" $small --no-store --format html --budget 0
printf '<brewery xmlns="urn:afterboil:profile:1"><money now="100"/><trouble chore="slow chilling"/></brewery>\n' >"$tmp/chore.xml"
golden advise-chore advise --profile "$tmp/chore.xml" $small --no-store --redraws 0
run advise --profile "$tmp/chore.xml" $small --no-store --redraws 0 --format json
ok 'what eases it, as data' same 'warm-work cool-room 0.3 old-fridge 0.8' "$(jq -r '[.next_eases, (.eases[0].by[] | .id, .share)] | join(" ")' "$tmp/out")"

for budget in 0 25 60 120 400; do
	run advise "$top_srcdir/examples" --no-store --budget $budget --redraws 0 --format json
	ok "$budget is not overspent" sh -c "jq -e '([.plan[] | .cost] | add // 0) <= $budget + 1e-9' '$tmp/out'"
	ok "$budget: the plan makes it no worse" jq -e '.load_after <= .load_before' "$tmp/out"
	jq .load_after "$tmp/out" >>"$tmp/loads"
	[ $budget = 0 ] && cp "$tmp/out" "$tmp/free"
done
ok 'more money never brings less' sh -c "sort -rg '$tmp/loads' | cmp - '$tmp/loads'"
run advise "$top_srcdir/examples" --no-store --minutes 0 --redraws 0 --format json
ok 'no minutes: none are added' jq -e '.minutes_added <= 1e-9' "$tmp/out"
run advise "$top_srcdir/examples" --no-store --changes 1 --redraws 0 --format json
ok 'one new habit at most' jq -e '[.plan[] | select(.kind == "habit")] | length <= 1' "$tmp/out"
run advise --profile "$data/brewery/profile.xml" --store "$tmp/none.db" $small
ok 'a profile alone will do' same 0 "$status"
ok 'and it says what that rests on' says out 'No batch of yours was read'
ok 'whose batches cost it is not claimed' says out 'What costs brewers most'
ok 'nothing is filed' test ! -e "$tmp/none.db"
mkdir "$tmp/new" "$tmp/bare" && cp "$data/brewery/profile.xml" "$tmp/new"
run advise "$tmp/new" --store "$tmp/none.db" $small
ok 'nor does a folder with a profile need a journal' same 0 "$status"
ok 'and is told what it rests on' says out 'No batch of yours was read'
cd "$tmp/new" && run advise --store "$tmp/none.db" $small && cd "$OLDPWD"
ok 'nor this folder' says out 'No batch of yours was read'
ends 3 'a folder with neither is most likely a slip' advise "$tmp/bare" --no-store
ok 'and so told' says err 'no batch journal in this folder'
ok '$0 is nothing to run either' sh -c "jq -e '.running_added <= 1e-9' '$tmp/free'"
ends 2 'without both it asks' advise --no-store $small
ok 'and names both' says err 'or a profile alone with --profile'
run advise "$top_srcdir/examples" --no-store --redraws 0 --format json
ok 'habits stand before what costs money' jq -e '[.plan[].kind] == ([.plan[].kind] | sort)' "$tmp/out"

# a profile alone: how warm its room is counts, in either direction
for room in 12 26; do
	mkdir "$tmp/room$room"
	cat >"$tmp/room$room/profile.xml" <<X
<brewery xmlns="urn:afterboil:profile:1" room="$room C">
  <money now="120"/>
  <usual><recipe og="1.050 SG"/><yeast class="clean-ale" form="dry"/><vessel kind="bucket" control="none"/></usual>
</brewery>
X
	run advise "$tmp/room$room" --no-store --redraws 0
	cp "$tmp/out" "$tmp/room$room.out"
done
ok 'a cold room: too cold' sh -c "tr -s '\n ' ' ' <'$tmp/room12.out' | grep -q 'What costs brewers most is: Fermented too cold'"
ok 'a hot room: too warm' sh -c "tr -s '\n ' ' ' <'$tmp/room26.out' | grep -q 'What costs brewers most is: Fermented too warm'"

# who brews clean needs nothing; the same brewer with a flaw in every batch may well
# brews that are left: one change with each, by the option before the profile
for brews in 1 3; do
	run advise --no-store --redraws 0 --brews $brews --format json "$top_srcdir/examples"
	ok "$brews to come: no more changes than that" sh -c "[ \$(jq '.brews == $brews and (.plan | length) <= $brews and (.plan | length) > 0' '$tmp/out') = true ]"
done
run advise --no-store --redraws 0 --brews 3 "$top_srcdir/examples"
ok 'it is told, and what more brews would bring' says out 'by brews to come: '
run advise --no-store --redraws 0 "$top_srcdir/examples"
ok 'with brews enough nothing is said to be kept out by them' sh -c "! grep -q 'by brews to come' '$tmp/out'"
mkdir "$tmp/clean" "$tmp/flawed"
for i in 1 2 3 4 5 6 7 8; do
	cat >"$tmp/clean/b$i.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="b$i" line="pale" family="pale-hoppy" brewed="2026-0$i-10">
  <recipe og="1.048 SG" volume="20 L"/>
  <yeast class="clean-ale" form="dry" amount="11 g"/>
  <pitch at="2026-0$i-10T18:00" temp="18 C"/>
  <vessel kind="bucket" room="17 C"/>
  <package at="+14d" into="bottles"/>
  <tasting at="+40d" by="Mo" complete="yes"/>
</batch>
X
	sed 's|complete="yes"/>|complete="yes"><found fault="antiseptic" intensity="3"/></tasting>|' "$tmp/clean/b$i.xml" >"$tmp/flawed/b$i.xml"
done
for how in clean flawed; do
	run advise "$tmp/$how" --no-store --budget 200 --redraws 0 --format json
	jq '[.plan[] | .cost + .running_cost] | add // 0' "$tmp/out" >"$tmp/$how.cost"
done
ok 'eight clean batches: nothing to buy' same 0 "$(cat "$tmp/clean.cost")"
ok 'eight flawed ones: something is' sh -c "[ '$(cat "$tmp/flawed.cost")' != 0 ]"
# a beer without a flaw whose bottles may burst is not to be brewed "just so"
mkdir "$tmp/burst"
for how in 22 10; do
	cat >"$tmp/burst/b.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="b" line="pale" family="pale-hoppy" brewed="$(date -d '-40 days' +%F)">
  <recipe og="1.050 SG" volume="20 L"/>
  <yeast class="clean-ale" form="dry" amount="11 g"/>
  <pitch temp="18 C" at="$(date -d '-40 days' +%F)T18:00"/>
  <reading at="+4d" gravity="1.0$how SG"/><reading at="+7d" gravity="1.0$((how > 10 ? 18 : 10)) SG"/>
  <package at="+7d" into="bottles" priming="100 g" sugar="sucrose" volume="20 L"/>
  <tasting at="+21d" complete="yes"/>
</batch>
X
	run advise "$tmp/burst" --no-store --redraws 0
	ok "bottled at 1.0$how and falling or not: $([ $how = 22 ] && echo changes are asked for || echo none is)" \
	    sh -c "$([ $how = 22 ] && echo '!') grep -q 'Nothing has to be changed' '$tmp/out'"
done
# the names of changes are in the units of who reads them
mkdir "$tmp/us"
cp -r "$top_srcdir"/examples/. "$tmp/us"
chmod -R u+w "$tmp/us"
for units in metric us; do
	sed -i -E '0,/<brewery /s/( units="[a-z]*")//; 0,/<brewery /s//<brewery units="'$units'" /' "$tmp/us/profile.xml"
	run advise "$tmp/us" --rules-base "$top_srcdir/rules" --all --no-store --redraws 0 --width 200
	ok "$units: a change by its degrees" says out "Rest at $([ $units = us ] && echo '149 to 153 F' || echo '65 to 67 C'), by a checked thermometer"
done
# what a change costs a year is the same where it is advised and where it is explained, at the usual batches a year
mkdir "$tmp/costs"
cat >"$tmp/costs/b.xml" <<'X'
<batch xmlns="urn:afterboil:journal:1" id="b" brewed="2031-01-01"><tasting><found fault="buttery" intensity="3"/></tasting></batch>
X
run advise "$tmp/costs" --no-store --format json --redraws 0
jq -r '.plan[], .ranked[]? | select(type == "object" and .running_cost > 0) | "\(.id) \(.running_cost | round)"' "$tmp/out" |
	sort -u | head -6 >"$tmp/yearly"
ok 'some cost money to run' test -s "$tmp/yearly"
while read -r id cost; do
	run rules explain "$id" --width 200
	ok "$id: the cost explained is the one advised" says out "Costs: .* to buy, \\\$$cost a year to run"
done <"$tmp/yearly"
plan
