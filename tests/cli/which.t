# which.t - batches and beers by enough of their names, alike in every command; and the current folder where nothing is named
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

j=$tmp/j
mkdir "$j" "$tmp/empty"
brew() {   # id, day, title, line
	cat >"$j/$1.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="$1" brewed="$2" title="$3" line="$4" family="pale-hoppy">
  <yeast class="clean-ale"/><pitch at="$2T18:00" temp="18 C"/>
  <tasting at="2021-09-01"><found fault="butter" intensity="2"/></tasting>
</batch>
X
}
brew porch-pale-1 2021-03-07 'Porch pale' porch-pale
brew porch-pale-12 2021-04-07 'Porch pale, second' porch-pale
brew moor-stout-2 2021-05-07 'Moor stout' moor-stout
at='--at 2021-09-02T19:00'

# what is typed | status | what must be said: the same for every command that takes a batch
while IFS='|' read -r name want must; do
	name=${name% } want=${want# } want=${want% } must=${must# }
	run log "$name" note x $at --in "$j" $small
	ok "log $name" same "$want" "$status"
	ok "log $name: said" sh -c "cat '$tmp/out' '$tmp/err' | grep -Eq '$must'"
	[ "$status" != 0 ] || run log "$name" --undo --in "$j" $small
	run facts "$j" --batch "$name" $small
	ok "facts --batch $name" same "$want" "$status"
	ok "facts --batch $name: said" sh -c "cat '$tmp/out' '$tmp/err' | grep -Eq '$must'"
	run diagnose "$j" --batch "$name" --redraws 0 $small
	ok "diagnose --batch $name" same "$want" "$status"
	"$AFTERBOIL" enter "$name" --in "$j" $small </dev/null >"$tmp/out" 2>"$tmp/err"
	ok "enter $name" same "$want" "$?"
done <<'X'
porch-pale-1 | 0 | porch-pale-1[^2]
PORCH-PALE-12 | 0 | porch-pale-12
12 | 0 | porch-pale-12
1 | 0 | porch-pale-1[^2]
2 | 0 | moor-stout-2
stout | 0 | moor-stout-2
Moor Stout | 0 | moor-stout-2
moor | 0 | moor-stout-2
Porch pale, second | 0 | porch-pale-12
Porch pale | 2 | may be any of porch-pale-1, porch-pale-12
por | 2 | may be any of porch-pale-1, porch-pale-12
9 | 2 | no batch here is called "9"; the newest are moor-stout-2, porch-pale-12
gose | 2 | no batch here is called "gose"
X
run log last note x $at --in "$j" $small
ok 'last' says out '^moor-stout-2: '
run log moor-stout-2 --undo --in "$j" $small

# quotes forgotten
run log Moor stout note good foam $at --in "$j" $small
ok 'a title without quotes' says out '^moor-stout-2: note: good foam'
run log Moor stout --undo --in "$j" $small
ok 'and its undo' says out '^moor-stout-2: taken back: note good foam '
run taste Porch pale second buttery 3 $at --in "$j" $small
ok 'a longer one' says out '^porch-pale-12: tasting: '

# the last tasting is taken back, and nothing else
run taste 12 --undo --in "$j" $small
ok 'taste --undo' says out 'porch-pale-12: taken back: buttery 3 '
run log 12 note x $at --in "$j" $small
run taste 12 --undo --in "$j" $small
ok 'taste --undo after a note: refused' same 2 "$status"
ok 'says what is last' says err 'is of "log" and not of "taste": "note x"'
ok 'and the note stays' grep -q '<note>' "$j/porch-pale-12.xml"
run taste 12 buttery --undo --in "$j" $small
ok 'undo with words: refused' same 2 "$status"

# compare
run compare 1 12 "$j" $small
ok 'compare by numbers' test "$status" -le 1
run compare 12 porch-pale-12 "$j" $small
ok 'one batch by two names' same 2 "$status"
ok 'is said' says err 'a batch is like itself \(porch-pale-12\)'

# beers
for name in porch-pale 'Porch pale' PORCH porch por; do
	run facts "$j" --line "$name" $small
	ok "--line $name" same 2 "$(grep -c 'Facts of batch porch-pale' "$tmp/out")"
done
run facts "$j" --line o $small
ok 'a line of two' same 2 "$status"
ok 'both are named' says err 'may be any of porch-pale, moor-stout'
run facts "$j" --line porch --batch stout $small
ok 'a batch of another line' same 2 "$status"
ok 'says so' says err 'no batch is both "moor-stout-2" and of the line "porch-pale"'
run trend "$j" $small --store "$tmp/h.db"
run trend $small --store "$tmp/h.db" --line 'Porch pale'
ok 'a line of the history' says out 'porch-pale-12'
echo '<brewery xmlns="urn:afterboil:profile:1"></brewery>' >"$j/profile.xml"
cd "$j" || exit 1
run changed cap on foam --own --line 'Porch Pale' --on 2021-10-01 $small
ok 'changed takes the line of the journals' grep -q 'line="porch-pale">cap on foam' profile.xml
run changed cap on foam --own --line gose --on 2021-10-01 $small
ok 'one not brewed yet is kept' grep -q 'line="gose"' profile.xml
ok 'and said' says err 'no beer in this folder is called "gose" yet'

# in a folder of journals nothing need be named
for command in diagnose facts report check 'advise --no-store' 'trend --no-store' 'compare 1 12'; do
	run $command $small
	ok "$command here: done" test "$status" -le 1
	ok "$command here: said" says err 'those of this folder are taken'
done
# nor a folder, where a batch is: what is typed | status | what must be said
while IFS='|' read -r command want must; do
	run $command $small
	ok "$command" same "$want" "$status"
	ok "$command: said" sh -c "cat '$tmp/out' '$tmp/err' | grep -Eq '$must'"
done <<'X'
diagnose last --redraws 0|0|Diagnosis of batch moor-stout-2
diagnose moor stout --redraws 0|0|Diagnosis of batch moor-stout-2
diagnose PORCH-PALE-12 --redraws 0|0|Diagnosis of batch porch-pale-12
facts 12|0|Facts of batch porch-pale-12
advise last --no-store --redraws 0|0|Read: 1 batch
compare last 1|0|moor-stout-2
diagnose pale|2|may be any of porch-pale-1, porch-pale-12
diagnose nobody|2|no batch here is called "nobody"; the newest are moor-stout-2
diagnose nobody.xml|3|nobody.xml: No such file or directory
facts ./nobody|3|nobody: No such file or directory
facts porch-pale-1.xml|0|Facts of batch porch-pale-1[^2]
X
cp porch-pale-1.xml last
run facts last $small
ok 'a file of that name goes before' says out 'Facts of batch porch-pale-1[^2]'
rm last
cd "$tmp/empty" || exit 1
run diagnose last $small
ok 'where no journal is: a file that is not there' says err 'last: No such file or directory'
for command in diagnose facts report 'advise --no-store' 'trend --no-store' 'compare 1 12'; do
	run $command $small
	ok "$command where none is: refused" same 2 "$status"
	ok "$command where none is: says what to do" says err 'afterboil.*(afterboil|Name|name|needs journals)'
done
cd "$tmp" || exit 1
plan
