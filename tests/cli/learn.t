# learn.t - changes that were made, and what advise says came of them: one that failed, one that held, one on trial
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq

# brew FOLDER N FOUND [CHANGE ADOPTED]: batch N of a line, a fault found and sugar left, or looked for in vain and none left; a change noted
brew() {
	local found='<absent fault="buttery"/>' change= gravity=1.011
	[ -z "$3" ] || { found="<found fault=\"$3\" intensity=\"4\"/>"; gravity=1.017; }
	[ -z "${4:-}" ] || change="<change what=\"$4\" adopted=\"$5\"/>"
	cat >"$1/pale-$2.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="pale-$2" brewed="2031-0$2-01" line="pale" family="pale-hoppy">
  <recipe volume="20 L" og="1.048 SG" fg="1.011 SG"/>
  <yeast class="clean-ale" form="dry" amount="11 g"/>
  <pitch at="2031-0$2-01T16:00" temp="19 C"/>
  <reading at="+12d" gravity="$gravity SG" instrument="hydrometer"/>
  <package at="+14d" into="keg" gravity="$gravity SG"/>
  $change
  <tasting at="+40d" by="me" complete="yes">$found</tasting>
</batch>
X
}

# folder NAME CHANGE ADOPTED FOUND...: six batches, buttery from the start; the change comes with the fourth (a trial: with each
# from then on), what is found since is told
folder() {
	local name=$1 change=$2 adopted=$3 n
	shift 3
	mkdir "$tmp/$name"
	for n in 1 2 3; do brew "$tmp/$name" $n buttery; done
	for n in 4 5 6; do
		if [ $n = 4 ] || [ "$adopted" = no ]; then brew "$tmp/$name" $n "$1" "$change" "$adopted"; else brew "$tmp/$name" $n "$1"; fi
		[ $# -lt 2 ] || shift
	done
}
advised() {
	ends 1 "$1: read; kegs filled with sugar left in the beer ask for care" advise "$tmp/$1" $small --no-store --redraws 0 --format json
	ok "$1: all batches" jq -e ".batches == $(ls "$tmp/$1" | grep -c pale)" "$tmp/out"
	cp "$tmp/out" "$tmp/$1.json"
	run advise "$tmp/$1" $small --no-store --redraws 0 --width 100
}

folder none '' yes buttery
folder failed two-gravities yes buttery
folder held two-gravities yes ''
for n in 7 8 9; do brew "$tmp/held" $n ''; done
folder trial two-gravities no buttery
folder good-trial two-gravities no ''

advised none
ok 'nothing made: nothing learned' jq -e '.learned == []' "$tmp/none.json"
ok 'and no word of it' sh -c "! grep -q 'Learned' '$tmp/out'"
ok 'the change leads the plan' jq -e '.next == "two-gravities"' "$tmp/none.json"

advised failed
one='.learned[] | select(.change == "two-gravities" and .cause == "rushed")'
ok 'failed: what was expected, what came, what is believed' jq -e "$one | (.prior - 0.7 | fabs) < 1e-9 and .without == 3 and .with == 3 and .kept and .came > 2 and .share < 0.47" "$tmp/failed.json"
ok 'failed: the verdict, the day' jq -e "$one | .proved == \"failed\" and .since == \"2031-04-01\" and .together == null" "$tmp/failed.json"
ok 'failed: says so' says out 'tried from 2031-04-01: did not hold as promised'
ok 'failed: an estimate' says out 'Learned from your own batches \(estimates\)'
ok 'failed: it is not told again' jq -e '[.plan[].id] | index("two-gravities") == null' "$tmp/failed.json"

advised held
# all without it first and all with it then: a brewer who gets better by and by would look the same, so hardly more is believed
ok 'held: a little more is believed' jq -e "$one | .proved == \"nothing\" and .share > .prior and .share < 0.75 and .struck > 2.5 and .came < 1 and (.few | not)" "$tmp/held.json"
ok 'held: it is not told again' jq -e '[.plan[].id] | index("two-gravities") == null' "$tmp/held.json"
ok 'held: less is left to expect than where it failed' sh -c "[ \"\$(jq -s '.[0].load_before < .[1].load_before / 2' '$tmp/held.json' '$tmp/failed.json')\" = true ]"

gain='.ranked[] | select(.id == "two-gravities") | .gain'
advised trial
ok 'a trial in vain: not in force' jq -e "$one | .kept == false and .proved == \"failed\"" "$tmp/trial.json"
ok 'a trial in vain: says so' says out 'tried from 2031-04-01: did not hold as promised'
ok 'a trial in vain: falls in the ranking' sh -c "[ \"\$(jq -n 'input as \$a | input as \$b | (\$a | $gain) < 0.7 * (\$b | $gain)' '$tmp/trial.json' '$tmp/none.json')\" = true ]"
ok 'and the ranking says it was moved' jq -e '.ranked[] | select(.id == "two-gravities") | .learned' "$tmp/trial.json"
run advise "$tmp/trial" $small --no-store --redraws 0 --all --width 100
ok 'the text too' sh -c "tr '\n' ' ' <'$tmp/out' | tr -s ' ' | grep -q 'moved by what came of it here'"
advised good-trial
ok 'a trial that helped: is what to do' jq -e '.next == "two-gravities"' "$tmp/good-trial.json"
ok 'a trial that helped: more is expected of it' jq -e "$one | .share > .prior" "$tmp/good-trial.json"

# Of a line: batches of others are without it
folder lines '' yes buttery
sed -i 's/line="pale"/line="stout"/' "$tmp/lines/pale-4.xml" "$tmp/lines/pale-6.xml"
cat >"$tmp/lines/profile.xml" <<'X'
<brewery xmlns="urn:afterboil:profile:1" name="Shed" currency="$" units="metric">
  <changed what="two-gravities" on="2031-03-15" line="pale"></changed>
</brewery>
X
advised lines
ok 'of a line: judged on its own beer' jq -e "$one | .with == 1 and .without == 3 and .few and .since == \"2031-05-01\"" "$tmp/lines.json"
ok 'of few: says what else it may be' says out 'getting better all round by yourself would look the same'

# with it and without in turns: what helps each time is no drift
mkdir "$tmp/turns"
for n in 1 3 5 7 9; do brew "$tmp/turns" $n buttery; done
for n in 2 4 6 8; do brew "$tmp/turns" $n '' two-gravities no; done
advised turns
ok 'in turns: four such batches tell as much as six that came after' sh -c "[ \"\$(jq -s '[.[].learned[] | select(.change == \"two-gravities\" and .cause == \"rushed\")] | .[0].with == 4 and .[1].with == 6 and .[0].share > .[1].share - 0.02' '$tmp/turns.json' '$tmp/held.json')\" = true ]"
ok 'the page tells it, too' sh -c "'$AFTERBOIL' report '$tmp/failed' $small --no-store -o '$tmp/page.html' >/dev/null 2>&1; grep -q 'did not hold as promised' '$tmp/page.html'"
plan
