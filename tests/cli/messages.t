# messages.t - each message of the commands: when it comes, with which status, and that it says what to do
#
# Asserted are the facts in it (names, options, files, counts), not the whole of its words.
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

brewery=$data/brewery
b="'$brewery' $small"
sed 's/intensity="4"/intensity="0"/' "$brewery/pale-4.xml" >"$tmp/intensity.xml"
sed '/<found /d' "$brewery/pale-1.xml" >"$tmp/clean.xml"
sed '/<tasting/,/<\/tasting>/d; s/pale-2/young/' "$brewery/pale-2.xml" >"$tmp/untasted.xml"
mkdir "$tmp/clean" "$tmp/mine"
cp "$tmp/clean.xml" "$tmp/untasted.xml" "$tmp/clean/"
sed 's/<money/<owns change="no-such-change"\/><money/' "$brewery/profile.xml" >"$tmp/owns.xml"
sed 's/<reading at="+12d" gravity="1.011 SG"/<reading at="+12d" gravity="1.111 SG"/' "$brewery/pale-1.xml" >"$tmp/odd.xml"
echo '<rules xmlns="urn:afterboil:rules:1"><fault id="x" severity="2" source="estimate"><title>X</title><like>X.</like><word>xx</word></fault></rules>' >"$tmp/mine/x.xml"

# status | file (out or err) | what stands in it | arguments
while IFS='|' read -r wanted where pattern given; do
	where=$(echo $where) pattern=$(sed 's/^ *//; s/ *$//' <<<"$pattern") given=$(sed 's/^ *//' <<<"$given")
	eval "run $given"
	title=$(sed "s#$top_srcdir/##g; s#$tmp/##g; s/--rules-base [^ ]*//" <<<"$given")
	ok "$title: status" same "$(echo $wanted)" "$status"
	ok "$title: said" says "$where" "$pattern"
done <<T
	2 | err | afterboil diagnose --fault | diagnose $small
	2 | err | --fault.*without a journal.*<found | diagnose $b --fault buttery
	2 | err | --fault is for | diagnose $b --absent buttery
	2 | err | --absent goes with --fault | diagnose --absent buttery $small
	2 | err | --family goes with --fault | diagnose $b --family wheat
	2 | err | "buttery" .*intensity 0; .*1 .*5 | diagnose --fault buttery=0 $small
	2 | err | --fault buttery=: .*1 .*5 | diagnose --fault buttery= $small
	2 | err | "zzz".*rules list faults | diagnose --fault buttery --absent zzz $small
	2 | err | "zzzz" | diagnose --fault zzzz $small
	2 | err | standard input only | diagnose --stream '$brewery' $small
	2 | err | standard input only | diagnose --stream - - $small
	1 | err | ^afterboil: 4 batches read; .*newest with faults.*--batch ID.*--all | diagnose $b
	1 | err | ^afterboil: 2 batches read; .*newest one.*--all | diagnose '$tmp/clean' $small
	3 | err | intensity.xml:[0-9]+: | diagnose '$tmp/intensity.xml' $small
	1 | err | may burst: pale-2, pale-4; | advise $b --no-store
	0 | out | Read: 1 batch\\. | advise '$brewery/pale-3.xml' $small --no-store
	2 | err | which journals.*--profile | advise $small --no-store
	2 | err | "whaet" | advise $b --no-store --family whaet
	1 | err | history: 4 new, 0 changed, 0 known | advise $b --store '$tmp/a.db'
	0 | out | over 4 batches | trend $small --store '$tmp/a.db'
	2 | err | no beer here is called "none"; .*shed pale | trend $small --store '$tmp/a.db' --line none
	2 | err | history is empty.*afterboil trend | trend $small --store '$tmp/empty.db'
	2 | err | --no-store needs journals | trend $small --no-store
	0 | err | history: 4 new, 0 changed, 0 known | trend $b --store '$tmp/t.db'
	0 | err | history: 1 new, 0 changed, 1 known | trend '$brewery/pale-1.xml' '$tmp/untasted.xml' $small --store '$tmp/t.db'
	0 | out | over 2 batches | trend $small --store '$tmp/t.db' --last 2
	2 | err | which journals.*none in this folder.*afterboil new | facts $small
	2 | err | no batch here is called "none"; .*pale-4, pale-3 | facts $b --batch none
	2 | err | no beer here is called "none"; .*shed pale | facts $b --line none
	1 | out | odd.xml:[0-9]+: odd: | check '$tmp/odd.xml' $small
	1 | out | owns.xml:[0-9]+: odd: .*"no-such-change".*rules list changes | check '$brewery/pale-3.xml' $small --profile '$tmp/owns.xml'
	0 | out | pale-3.xml:2: OK, batch pale-3 | check '$brewery/pale-3.xml' $small
	0 | out | profile.xml: OK, profile read | check '$brewery/pale-3.xml' $small
	0 | out | rules: OK, rules version [0-9a-f]{16}: 3 faults, 3 causes, [0-9]+ changes, 1 checks | check $small
	2 | err | rules explain buttery | rules explain $small
	2 | err | "rules explain" has no json | rules explain buttery --format json $small
	2 | err | "buttr".*near it: "butt | rules explain buttr $small
	2 | err | too much after "rules explain": "b" | rules explain buttery b $small
	2 | err | too much after "rules list": "b" | rules list faults b $small
	2 | err | too much after "rules lint": "b" | rules lint b $small
	2 | err | does not know "explane"; .*"explain".*list, explain and lint | rules explane buttery $small
	2 | err | does not know "zzzzzz"; it knows | rules zzzzzz $small
	2 | err | "sins"; allowed are faults, causes | rules list sins $small
	0 | out | ^OK: 0 errors, [0-9]+ pieces of advice$ | rules lint $small
	1 | out | ^not usable: [1-9][0-9]* errors?, [0-9]+ pieces? | rules lint $small --rules '$tmp/mine'
	1 | out | x.xml:1: error: | rules lint $small --rules '$tmp/mine'
	3 | err | x.xml:1: | facts $b --rules '$tmp/mine'
	2 | err | "facs".*"facts" | facs
	2 | err | "zzzzz"; "afterboil --help" | zzzzz
T

# what was promised is filed with the batch, and told again by the trend that sees the change made
run advise "$brewery" $small --store "$tmp/p.db" --budget 0
sed 's/pale-4/pale-5/; s/2031-04-12/2031-05-10/g; s/<tasting/<change what="two-gravities" adopted="yes"\/>&/' "$brewery/pale-4.xml" >"$tmp/pale-5.xml"
run trend "$tmp/pale-5.xml" $small --store "$tmp/p.db"
ok 'a promise is told again' says out 'Promised when it was advised, by itself'
run trend "$tmp/pale-5.xml" $small --no-store
ok 'without the history there is none' sh -c "! grep -q Promised '$tmp/out'"

# an error rolls all of it back
cp "$brewery/pale-1.xml" "$tmp/mine/a.xml"
rm "$tmp/mine/x.xml"
sed 's/intensity="4"/intensity="9"/' "$brewery/pale-4.xml" >"$tmp/mine/b.xml"
run trend "$tmp/mine" $small --store "$tmp/r.db"
ok 'a bad journal after a good one' same 3 "$status"
run trend $small --store "$tmp/r.db"
ok 'the good one was not filed either' says err 'history is empty'
plan
