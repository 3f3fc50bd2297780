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
plan
