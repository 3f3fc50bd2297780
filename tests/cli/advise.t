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
plan
