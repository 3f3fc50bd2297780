# store.t - the history: reading twice changes nothing, a changed journal makes a new revision, nothing is written unasked
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need sqlite3
db=$tmp/h.db
dump() { sqlite3 "$1" .dump | sort; }
run trend "$data/brewery" $small --store "$db"
ok 'four are new' says err '4 new, 0 changed'
cp "$tmp/out" "$tmp/first"
dump "$db" >"$tmp/dump1"
run trend "$data/brewery" $small --store "$db"
ok 'the second time nothing is said' silent err
ok 'nor shown otherwise' cmp "$tmp/first" "$tmp/out"
dump "$db" >"$tmp/dump2"
ok 'nor changed' cmp "$tmp/dump1" "$tmp/dump2"
run trend $small --store "$db"
ok 'without journals the history is shown' cmp "$tmp/first" "$tmp/out"
mkdir "$tmp/j"
cp "$data/brewery/"*.xml "$tmp/j/"
{ sed '/^<?xml/d' "$tmp/j/pale-1.xml" | sed 's/></>  </'; } >"$tmp/x" && { echo '<!-- a remark -->'; cat "$tmp/x"; } >"$tmp/j/pale-1.xml"
run trend "$tmp/j" $small --store "$db"
ok 'layout and remarks are no change' silent err
sed -i 's/intensity="4"/intensity="2"/' "$tmp/j/pale-1.xml"
run trend "$tmp/j" $small --store "$db"
ok 'a changed tasting is' says err '0 new, 1 changed, 3 known'
ok 'and is seen' sh -c "! cmp -s '$tmp/first' '$tmp/out'"
run trend --line 'shed pale' $small --store "$db"
ok 'the line is found' same 0 "$status"
run trend --line 'other' $small --store "$db"
ok 'another is not' same 2 "$status"
run advise "$data/brewery" $small --store "$tmp/a.db"
ok 'advice files the batches too' says err '4 new'
run trend $small --store "$tmp/a.db" --format json
ok 'and what it read is there' says out 'pale-4'
run advise "$data/brewery" $small --no-store
run trend "$data/brewery" $small --no-store
ok '--no-store leaves no trace' test ! -e "$tmp/share"
run trend "$data/brewery" $small
ok 'the usual place' test -s "$tmp/share/afterboil/history.db"
ok 'is private' same drwx------ "$(stat -c %A "$tmp/share/afterboil")"
run diagnose "$data/brewery" $small --format json
run facts "$data/brewery" $small
run check "$data/brewery" $small
# many journals are worked some at a time: the store is the same as when each comes alone
mkdir "$tmp/row"
for i in {10..46}; do
	sed "s/ id=\"[^\"]*\"/ id=\"row-$i\"/" "$data/brewery/pale-$((i % 4 + 1)).xml" >"$tmp/row/$i.xml"
	run trend "$tmp/row/$i.xml" $small --profile "$data/brewery/profile.xml" --store "$tmp/alone.db"
done
run trend "$tmp/row" $small --profile "$data/brewery/profile.xml" --store "$tmp/row.db"
ok 'all are new' says err '37 new, 0 changed'
ok 'worked together or alone, the same is kept' same "$(sqlite3 "$tmp/alone.db" .dump)" "$(sqlite3 "$tmp/row.db" .dump)"
ok 'and that is something' same 37 "$(sqlite3 "$tmp/row.db" 'SELECT count(*) FROM batch')"
# a journal that waits while a later one cannot be read: the earlier trouble is told
faults=$("$AFTERBOIL" rules list faults --rules-base "$top_srcdir/rules" | awk '$1 ~ /^[a-z-]+$/ { print $1 }')
{
	printf '<batches xmlns="urn:afterboil:journal:1">\n<batch id="a" brewed="2031-01-01"><tasting at="+30d">'
	printf '<found fault="%s" intensity="5"/>' $faults
	printf '</tasting></batch>\n<batch id="b" brewed="nonsense"/></batches>\n'
} >"$tmp/two.xml"
run trend "$tmp/two.xml" --rules-base "$top_srcdir/rules" --store "$tmp/two.db"
ok 'of two troubles the first is told' says err 'found faults are bound together'
ok 'as an error of the journal' same 3 "$status"
ok 'and nothing is filed' same 0 "$(sqlite3 "$tmp/two.db" 'SELECT count(*) FROM batch')"
# several at once, each with a batch of its own, into a store that is not there yet
for i in 1 2 3 4; do
	"$AFTERBOIL" trend "$data/brewery/pale-$i.xml" $small --store "$tmp/many.db" >/dev/null 2>&1 &
done
wait
ok 'four at once: all four are there' same 'pale-1 pale-2 pale-3 pale-4' "$(sqlite3 "$tmp/many.db" 'SELECT id FROM batch ORDER BY id' | tr '\n' ' ' | sed 's/ $//')"
# the same batch in two states, at once and over and over: each state that was filed is a revision, none is lost
sed 's/intensity="2"/intensity="3"/' "$tmp/j/pale-1.xml" >"$tmp/other.xml"
for i in 1 2 3; do
	for file in "$tmp/j/pale-1.xml" "$tmp/other.xml"; do
		"$AFTERBOIL" trend "$file" $small --store "$tmp/both.db" >/dev/null 2>>"$tmp/said" &
	done
done
wait
filed=$(grep -c 'history: 1 new\|history: 0 new, 1 changed' "$tmp/said")
ok 'two states of a batch at once: as many revisions as were filed' same "$filed" "$(sqlite3 "$tmp/both.db" 'SELECT count(*) FROM batch')"
ok 'numbered without a gap' same "$filed" "$(sqlite3 "$tmp/both.db" 'SELECT max(revision) FROM batch')"
ok 'both states are kept' same 2 "$(sqlite3 "$tmp/both.db" 'SELECT count(DISTINCT hash) FROM batch')"
ok 'nobody had to give up' same 0 "$(grep -c 'could not be used' "$tmp/said")"
head -c 100 /dev/urandom >"$tmp/junk.db"
ends 4 'a store that is none' trend "$data/brewery" $small --store "$tmp/junk.db"
plan
