# changed.t - changes noted in the profile: words, days, undo, and what the trend makes of them
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
examples=$top_srcdir/examples
mkdir "$tmp/brewery"
cp "$examples/profile.xml" "$tmp/brewery"
chmod -R u+w "$tmp/brewery"
cd "$tmp/brewery" || exit 1
noted() { grep -o '<changed.*</changed>' profile.xml | tail -1; }

run changed
ok 'nothing noted yet' says out 'No change'

# words | what is written
while IFS='|' read -r words want; do
	eval "run changed $words"
	ok "changed $words" same 0 "$status"
	ok "changed $words: is noted" same "$(echo $want)" "$(noted)"
done <<'T'
	"tub of water" --on 2030-08-20 --line house-pale | <changed what="water-bath-ice" on="2030-08-20" line="house-pale">tub of water</changed>
	cap on foam --on 2031-03-01 | <changed what="cap-on-foam" on="2031-03-01">cap on foam</changed>
	cap-on-foam --on 2031-03-02 | <changed what="cap-on-foam" on="2031-03-02">cap-on-foam</changed>
	"moved the shed" --on 2031-03-03 | <changed on="2031-03-03">moved the shed</changed>
	"less & <more>" --on 2031-03-04 | <changed on="2031-03-04">less &amp; &lt;more&gt;</changed>
	"cap on foam" --own --on 2031-03-05 | <changed on="2031-03-05">cap on foam</changed>
T
ok 'the rest of the profile is as it was' same '' "$(diff "$examples/profile.xml" profile.xml | grep '^[<>]' | grep -v '<changed')"
run changed
ok 'all are listed' same 6 "$(wc -l <"$tmp/out")"
ok 'by the titles of the rules' says out '^2031-03-01  Fill higher and cap on foam$'
for n in 1 2 3 4 5 6; do run changed --undo; done
ok 'all taken back: the profile of before, byte by byte' cmp profile.xml "$examples/profile.xml"

# words | status | said
cp profile.xml before.xml
while IFS='|' read -r words wanted said; do
	eval "ends $(echo $wanted) \"changed $words\" changed $words"
	ok "changed $words: says so" says err "$(echo $said)"
	ok "changed $words: the profile is untouched" cmp profile.xml before.xml
done <<'T'
	fridge | 2 | several changes fit: .*thermostat-fridge
	cap-on-foom | 2 | do you mean cap-on-foam
	"" | 2 | what changed
	x --on yesterday | 2 | --on yesterday
	x --on 2031-02-30 | 2 | --on 2031-02-30
	x --on 2031-03-07T10:00 | 2 | a day
	x --undo | 2 | without words
	--undo | 2 | no change is noted
	x --step 2 | 2 | --step goes with --plan
	--budget 10 | 2 | --budget goes with --plan
	x --in . | 2 | --in goes with --plan
	x --no-store | 2 | --no-store goes with --plan
	--plan x | 2 | without words
	--plan --undo | 2 | without --undo
	--plan --own | 2 | without --own
	--plan --step 0 --no-store | 2 | --step
	x --format json | 2 | takes no --format
	x --profile none.xml | 4 | none.xml
T
cd "$tmp" || exit 1
ends 2 'no profile here' changed "cap on foam"
ok 'says where it looks' says err 'no profile.xml here'

# The history: a change between batches counts from the next batch of its line on, also when the history is made anew.
cp "$examples"/*.xml "$tmp/brewery"
cp -r "$examples/logs" "$tmp/brewery"
chmod -R u+w "$tmp/brewery"
cd "$tmp/brewery" || exit 1
run changed "moved the shed" --on 2030-11-01 --line house-pale
for store in one two; do
	run trend . --store "$tmp/$store.db" --format json
	ok "store $store: the first batch after it" same house-pale-5 "$(jq -r '.batches[] | select(.changes | index("moved the shed")) | .id' "$tmp/out")"
	ok "store $store: held before against after" jq -e '.changes[] | select(.id == "moved the shed") | .n_before > 0 and .n_after > 0' "$tmp/out"
done
run changed --undo
run trend . --store "$tmp/one.db" --format json
ok 'taken back: gone from the history, too' jq -e '[.changes[].id] | index("moved the shed") == null' "$tmp/out"

# What advice says is begun: the same note, the promise of advice in the store
cp -r "$data/brewery" "$tmp/advised"
chmod -R u+w "$tmp/advised"
cd "$tmp/advised" || exit 1
cp profile.xml before.xml
plan_of() { "$AFTERBOIL" advise . $small --no-store --format json "$@" 2>/dev/null >"$tmp/advice"; }
plan_of
next=$(jq -r .next "$tmp/advice")
second=$(jq -r '.plan[1].id' "$tmp/advice")
ends 1 'plan: accepted, with care for the bottles' changed --plan --on 2031-05-01 --store "$tmp/plan.db" $small
ok 'plan: what advice says to do next is noted' same "<changed what=\"$next\" on=\"2031-05-01\"></changed>" "$(noted)"
ok 'plan: what is promised' says out "from $(jq -r .load_before "$tmp/advice" | xargs printf %.2f) to $(jq -r '.load_before - .plan[0].gain' "$tmp/advice" | xargs printf %.2f)"
ok 'plan: what may burst is said here, too' says err 'may burst: pale-2, pale-4'
ok 'plan: how it is undone' says out 'changed --undo'
ok 'plan: nothing else is on trial' sh -c "! grep -q 'on trial' '$tmp/err'"
cp profile.xml noted.xml
ends 2 'plan: not noted twice' changed --plan --on 2031-05-02 --no-store $small
ok 'plan: says since when' says err "$next is noted already, since 2031-05-01"
ok 'plan: the profile is untouched' cmp profile.xml noted.xml
ends 2 'plan: no such step' changed --plan --step 99 --no-store $small
ok 'plan: says how many there are' says err "the plan has $(jq '.plan | length' "$tmp/advice")"
ends 1 'plan: another step' changed --plan --step 2 --on 2031-05-02 --no-store $small
ok 'plan: the second is noted' same "<changed what=\"$second\" on=\"2031-05-02\"></changed>" "$(noted)"
ok 'plan: one at a time' says err 'on trial already.*2031-05-01.*one change at a time'
run changed --undo $small
run changed --undo $small
ok 'plan: taken back, byte by byte' cmp profile.xml before.xml
mkdir "$tmp/empty"
cp before.xml "$tmp/empty/profile.xml"
ends 3 'plan: no journals' changed --plan --in "$tmp/empty" --no-store $small
ends 4 'plan: a store that cannot be' changed --plan --store /dev/null/x.db $small
ok 'plan: then nothing is noted' cmp profile.xml before.xml

# What is begun need not be of the plan: then only what it does itself is promised.
mkdir "$tmp/eased"
printf '<brewery xmlns="urn:afterboil:profile:1"><money now="100"/><trouble chore="slow chilling"/></brewery>\n' >"$tmp/eased/profile.xml"
cd "$tmp/eased" || exit 1
cp "$examples/12-house-pale.xml" .
chmod -R u+w .
"$AFTERBOIL" advise . --no-store --format json >"$tmp/advice" 2>/dev/null
ok 'eased: what to begin with is none of the plan' jq -e '.next as $n | .next_eases != null and ([.plan[].id] | index($n)) == null' "$tmp/advice"
run changed --plan --on 2031-05-01 --no-store
ok 'eased: begun' same "<changed what=\"$(jq -r .next "$tmp/advice")\" on=\"2031-05-01\"></changed>" "$(noted)"
ok 'eased: what it eases is promised' says out 'it eases what you named .Chilling takes too long.; the flaw load'
ok 'eased: and no plan' sh -c "! grep -q 'the whole plan' '$tmp/out'"

# The next step is to brew the same again: nothing is begun but by its number.
mkdir "$tmp/well"
cp "$examples/profile.xml" "$examples/12-house-pale.xml" "$tmp/well"
chmod -R u+w "$tmp/well"
cd "$tmp/well" || exit 1
cp profile.xml before.xml
"$AFTERBOIL" advise . --no-store --format json >"$tmp/advice" 2>/dev/null
ok 'well: the step is the same beer again, though the plan has changes' jq -e '([.steps[].do] | index("same") != null) and (.plan | length > 0)' "$tmp/advice"
ends 2 'well: nothing is begun' changed --plan --no-store
ok 'well: why, and how all the same' says err 'nothing was begun: your newest beer was without a flaw.*brew house-pale again just so.*--step N'
ok 'well: the profile is untouched' cmp profile.xml before.xml
run changed --plan --step 1 --no-store --on 2031-05-01
ok 'well: by its number it is' same "<changed what=\"$(jq -r '.plan[0].id' "$tmp/advice")\" on=\"2031-05-01\"></changed>" "$(noted)"

# a trial's beer that was poured away untasted tells nothing: nobody is sent to taste it, and the trial wants another brew
mkdir "$tmp/gone" && cd "$tmp/gone" || exit 1
gone() { # ID MONTH FATE TASTING
	cat >"$1.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="$1" line="pale" family="pale-hoppy" brewed="2021-0$2-10">
  <recipe og="1.048 SG"/>
  <yeast class="clean-ale" form="dry" amount="11 g"/>
  <pitch at="2021-0$2-10T18:00" temp="24 C"/>
  <package at="+14d" into="bottles"$3/>${4-}
</batch>
X
}
gone first 1 '' '<tasting at="+40d"><found fault="estery" intensity="3"/></tasting>'
echo '<brewery xmlns="urn:afterboil:profile:1"><changed what="pitch-cool" on="2021-02-01"/></brewery>' >profile.xml
for fate in poured-away let-off; do
	gone trial 3 " fate=\"$fate\""
	"$AFTERBOIL" >"$tmp/gone-$fate" 2>/dev/null
done
ok 'poured away: not to be tasted' sh -c "! grep -q 'Taste: trial' '$tmp/gone-poured-away'"
ok 'poured away: nothing was brewed with it' grep -q 'nothing was brewed with it' "$tmp/gone-poured-away"
ok 'the gas let off: it was' sh -c "! grep -q 'nothing was brewed with it' '$tmp/gone-let-off'"
cd "$OLDPWD" || exit 1

# a batch beside it that cannot be judged silences nobody
{ sed 's/id="first"/id="wide"/; s/<found .*//; /^<\/batch>/d' "$tmp/gone/first.xml"; grep -o '<fault id="[a-z-]*"' "$AFTERBOIL_RULES/faults.xml" |
	sed 's/.*id=\("[^"]*"\)/<found fault=\1 intensity="2"\/>/'; echo '</tasting></batch>'; } >"$tmp/gone/wide.xml"
run diagnose "$tmp/gone" --batch first --redraws 0
ok 'beside one that is too much to weigh: told all the same' same 0 "$status"
run diagnose "$tmp/gone/wide.xml" --redraws 0
ok 'which is refused by itself' says err 'can be weighed at once'

# One change noted twice is one, wherever it was noted first.
mkdir "$tmp/twice"
cp "$examples/profile.xml" "$examples/12-house-pale.xml" "$tmp/twice"
chmod -R u+w "$tmp/twice"
cd "$tmp/twice" || exit 1
run changed "tub of water" --on 2031-08-01
# what is typed | status | said | <changed> and <change> of the tub then
while IFS='|' read -r typed wanted said n; do
	eval "run $typed"
	ok "twice: $typed" same "$(echo $wanted)" "$status"
	ok "twice: $typed: says so" says out "$(echo $said)"
	ok "twice: $typed: lines in profile and journal" same "$(echo $n)" "$(grep -ch 'water-bath-ice' profile.xml 12-house-pale.xml | tr '\n' ' ' | sed 's/ $//')"
done <<'T'
	changed "tub of water" | 0 | ^Already noted in .*profile.xml: 2031-08-01 .*name its day with --on | 1 0
	changed water-bath-ice --on 2031-08-01 | 0 | ^Already noted in .*profile.xml: 2031-08-01 | 1 0
	changed water-bath-ice --on 2031-09-01 | 0 | ^Noted in | 2 0
	log last changed tub of water | 0 | something new: tub of water \(Stand the fermenter | 2 1
	log last changed in tub of water | 0 | already noted in its journal | 2 1
	log last changed the frozen bottles | 0 | already noted in its journal | 2 1
	changed tub of water --on 2032-01-01 | 0 | ^Already noted in the journal of house-pale-6 | 2 1
	log last changed moved the shed | 0 | something new: moved the shed$ | 2 1
	log last changed Moved the Shed | 0 | already noted in its journal | 2 1
	changed moved the shed --on 2032-01-01 | 0 | ^Already noted in the journal of house-pale-6 | 2 1
T
ok 'twice: one of the own words, too' same 1 "$(grep -ci 'moved the shed' 12-house-pale.xml)"
run changed --undo
run changed "cap on foam" --on 2031-01-01
run log last changed cap on foam
ok "twice: the journal's own comes before the profile's" says out 'already noted in its journal'
run changed "moved the kettle" --on 2031-01-01
run log last changed moved the kettle
ok "twice: the profile's, in force when the batch was brewed" says out 'already noted in the profile, since 2031-01-01'

plan
