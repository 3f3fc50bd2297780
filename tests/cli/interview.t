# interview.t - the interview: piped answers, files, terminals, breaking off at every question, hostile lines
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

cd "$tmp" || exit 1
day='--date 2031-03-07'

# answers LINE...: what is typed, one a line
answers() { printf '%s\n' "$@" >"$tmp/answers"; }
# sit ARGS...: an interview with these answers
sit() {
	rm -f "$tmp"/batch-*.xml
	"$AFTERBOIL" interview $day "$@" >"$tmp/out" 2>"$tmp/err" <"$tmp/answers"
	status=$?
}
# transcript NAME ARGS...: the sitting, its messages and its journal are those of golden/NAME
transcript() {
	local name=$1
	shift
	sit "$@"
	{
		cat "$tmp/out"
		echo '-- stderr'
		cat "$tmp/err"
		echo "-- status $status"
		cat "$tmp"/batch-*.xml
	} | sed "s#$here#TESTS#g; s#$tmp#TMP#g" >"$tmp/golden"
	if [ "${UPDATE:-}" = 1 ]; then cp "$tmp/golden" "$here/golden/$name"; fi
	ok "golden/$name" diff -u "$here/golden/$name" "$tmp/golden"
}

# ---- three beers, on the small rules

answers 'boozy 3' '' 'pale ale' '1' 'bottles' '6 weeks ago' '3 weeks ago' '' '' '' '' ''
transcript interview-warm $small
answers 'putter' 'buttery' '2' 'list' '' 'ipa' '?' '' 'in a keg' '2031-02-01' 'back' 'about 5 weeks' '' 'maybe' '?' 'stop'
transcript interview-words $small
answers nothing
transcript interview-good $small

# ---- on the rules as they are

need jq
leads() { # CAUSE: the journal says so to diagnose
	run diagnose "$tmp"/batch-*.xml --format json --redraws 0
	ok "$1 leads" sh -c "jq -e '.causes[0].id == \"$1\"' '$tmp/out'"
}
answers 'hot alcohol 4' 'solvent 2' '' 'belgian' 'belgian abbey' 'bottles' '8 weeks ago' '5 weeks ago' '31 C' '' '' '' '' '' '' '' '' ''
sit
ok 'fermented hot: done' same 0 "$status"
ok 'it shows how the suspects move' says out '^  Fermented too warm in the first days: [0-9]+ -> [0-9]+ %'
ok 'and what to do next time' says out '^What to do next time'
leads ferment-too-warm
answers 'green apple 2' 'yeasty 2' '' 'pale ale' 'clean ale' 'still in the fermenter' '6 days ago' '' '' '' '' '' '' '' '' '' ''
sit
ok 'young beer: nothing is wrong' says out 'othing (seems to be|is) wrong'
leads still-young

# the diagnosis told is the one that diagnose tells
blame() { sed -n 's/.*Blame \([0-9]*\) %.*/\1/p' "$tmp/out" | head -1; }
answers 'boozy 3' '' 'pale ale' 'clean ale' 'bottles' '6 weeks ago' '3 weeks ago' '26 C' '' '' '' '' '' '' '' ''
sit
told=$(blame)
run diagnose "$tmp"/batch-*.xml
ok 'the same figure as diagnose' same "$(blame)" "$told"
ok 'there is one' test -n "$told"

# ---- files

answers 'buttery 3' '' ''
sit $small -o a.xml
ok 'written where it was wanted' test -s a.xml
ok 'and said so' says out '^Your answers are in a.xml$'
cp a.xml before.xml
sit $small -o a.xml
ok 'piped, it overwrites nothing' same 2 "$status"
ok 'the file is as it was' cmp a.xml before.xml
ok 'and it is said what helps' says err 'a.xml: the file is there already; --force'
sit $small -o a.xml --force
ok 'unless forced' same 0 "$status"
sit $small
sit_first=$(ls batch-*.xml)
"$AFTERBOIL" interview $day $small <answers >/dev/null 2>&1
ok 'a free name each time' same 'batch-2031-03-07-2.xml batch-2031-03-07.xml ' "$(ls batch-*.xml | tr '\n' ' ')"
ok 'each with an id of its own' same '2' "$(grep -ho ' id="[^"]*"' batch-*.xml | sort -u | wc -l)"
ok 'the first was that of the day' same batch-2031-03-07.xml "$sit_first"
: >answers
rm -f batch-*.xml
sit $small
ok 'no answer: nothing is written' sh -c "! ls '$tmp'/batch-*.xml"
ok 'and that is said' says out '^Nothing was answered'
answers 'buttery 3'
sit $small -o no/such/folder.xml
ok 'a folder that is not there' same 4 "$status"

# a journal goes on: comments and order stay, what it says is not asked
cat >j.xml <<X
<?xml version="1.0"?>
<!-- mine -->
<batch xmlns="urn:afterboil:journal:1" id="j" brewed="2031-01-01" family="pale-hoppy"><!-- here -->
  <yeast class="clean-ale"/>
  <tasting at="2031-03-01"><found fault="buttery" intensity="4"/></tasting>
</batch>
X
answers 'in bottles' '5 weeks ago'
sit $small j.xml
ok 'a journal is continued' same 0 "$status"
ok 'what it says is not asked' sh -c "! grep -Eq 'What do you taste|kind of beer|Which yeast' '$tmp/out'"
ok 'comments stay' sh -c "grep -q -- '<!-- mine -->' j.xml && grep -q -- '<!-- here -->' j.xml"
ok 'the answer stands in it' grep -q '<package into="bottles" at="2031-01-31"/>' j.xml
cp j.xml before.xml
: >answers
sit $small j.xml -o k.xml
ok 'without an answer nothing is changed' cmp j.xml before.xml
printf '<batches xmlns="urn:afterboil:journal:1"><batch id="a" brewed="2031-01-01"/><batch id="b" brewed="2031-01-02"/></batches>' >two.xml
sit $small two.xml
ok 'of two batches one must be named' same 2 "$status"
answers 'buttery 3' ''
sit $small two.xml --batch b
ok 'named, it goes on' grep -q '<batch id="b" brewed="2031-01-02">' two.xml
ok 'and the other is as it was' grep -q '<batch id="a" brewed="2031-01-01"/>' two.xml
echo '<batch' >bad.xml
sit $small bad.xml
ok 'a bad journal' same 3 "$status"
ok 'is not touched' same '<batch' "$(cat bad.xml)"
sit $small nowhere.xml
ok 'a journal that is not there' same 4 "$status"

# ---- options

: >answers
sit $small --fault buttery=4 --absent gusher --family pale-lager
ok 'what is told before is written' sh -c "grep -q 'fault=\"buttery\" intensity=\"4\"' batch-*.xml && grep -q 'absent fault=\"gusher\"' batch-*.xml"
ok 'and the family not asked for' grep -q 'family="pale-lager"' "$tmp/batch-2031-03-07.xml"
for bad in '--fault quxx' '--absent sour' '--family cider' '--date soon' '--batch x' 'a.xml b.xml' '--questions -1' '--format json'; do
	sit $small $bad
	ok "refused: $bad" same 2 "$status"
done
answers 'off 4' '' '' '' '' '' '' '' '' '' '' '' '' '' '' '' '' ''
sit --questions 2
ok 'no more questions than wanted' same 2 "$(grep -c '^[0-9]* of 2' out)"
sit --questions 0
ok 'none at all' same 0 "$(grep -c '^[0-9]* of 0' out)"

# units of the profile
cat >profile.xml <<X
<brewery xmlns="urn:afterboil:profile:1" units="us"/>
X
answers 'boozy 3' '' 'pale ale' 'clean ale' 'bottles' '6 weeks ago' '3 weeks ago' '77'
sit
ok 'a bare number is in the units of the profile' grep -q 'wort="77 F"' "$tmp/batch-2031-03-07.xml"
rm profile.xml

# ---- hostile lines

long=$(head -c 20000 /dev/zero | tr '\0' x)
printf 'buttery 3\n\n\033[31mred\007\n%s\n\377\376\300\n\000zero\n\342\200\256back\n<b a="1">&amp;\n%%s%%n%%s\n' "$long" >"$tmp/answers"
sit $small
ok 'hostile lines end well' same 0 "$status"
ok 'clean on standard output' sh -c "! LC_ALL=C grep -qP '[\x00-\x08\x0B-\x1F\x7F]|\xC2[\x80-\x9F]' '$tmp/out'"
ok 'clean on standard error' sh -c "! LC_ALL=C grep -qP '[\x00-\x08\x0B-\x1F\x7F]' '$tmp/err'"
run check "$tmp"/batch-*.xml $small
ok 'and the journal is valid' test "$status" -le 1
printf '%s\n' 'buttery 3' '' '1' '1' '1' '<x>&"' 'back' 'back' 'back' 'back' 'back' 'back' 'back' 'back' >"$tmp/answers"
sit $small
ok 'back and back again' says out 'There is nothing to take back'
printf 'buttery 3\r\n\r\nipa\r\n' >"$tmp/answers"
sit $small
ok 'lines of another system' grep -q 'family="pale-hoppy"' "$tmp/batch-2031-03-07.xml"
printf 'buttery 3\n\nipa' >"$tmp/answers"
sit $small
ok 'a last line without its end' grep -q 'family="pale-hoppy"' "$tmp/batch-2031-03-07.xml"
if [ -e /dev/full ]; then
	"$AFTERBOIL" interview $day $small -o f.xml <"$tmp/answers" >/dev/full 2>"$tmp/err"
	ok 'a full standard output is told' same 4 $?
fi

# it would wait for the second reader of a pipe for ever
mkfifo taken
ends 2 'a pipe for the journal is refused' interview $day $small --fault buttery=3 -o taken --force
ok 'and it is said why' says err 'takes it only once; give --output the name of a file'
rm taken
# another program writes the journal meanwhile: its work is not lost
trap '' PIPE
echo '<batch xmlns="urn:afterboil:journal:1" id="j" brewed="2031-01-01"><tasting><found fault="buttery"/></tasting></batch>' >j.xml
mkfifo pipe
"$AFTERBOIL" interview $day $small j.xml <pipe >"$tmp/out" 2>"$tmp/err" &
sitting=$!
exec 9>pipe
echo ipa >&9
for _ in $(seq 200); do grep -q pale-hoppy j.xml && break; sleep 0.05; done
echo '<!-- theirs -->' >>j.xml
echo 1 >&9
exec 9>&-
wait $sitting
ok 'a journal changed meanwhile is not overwritten' same 4 $?
ok 'theirs is there' grep -q theirs j.xml
ok 'and it is said' says err 'another program changed this file'

# ---- at a terminal

python=$(python_that "$a_terminal")
if [ -n "$python" ]; then
	for mode in kill hangup interrupt eof work looks overwrite; do
		mkdir "$tmp/pty-$mode"
		ok "terminal: $mode" same '' "$($python "$here/interview_pty.py" "$AFTERBOIL" "$tmp/pty-$mode" $mode $small 2>&1)"
	done
else
	echo '# no pseudo-terminal here: the sittings at a terminal are left out'
fi
plan
