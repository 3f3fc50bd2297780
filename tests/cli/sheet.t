# sheet.t - the batch sheet, on paper and typed in: what it asks, what comes into the journal, and that nothing is lost on the way
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
rules="$small --rules $data/sheet-rules"
mkdir "$tmp/j"
cd "$tmp/j" || exit 1
cat >profile.xml <<'X'
<brewery xmlns="urn:afterboil:profile:1" currency="$"><changed what="cool-room" on="2031-04-01"/><changed on="2031-04-02">sang to it &lt;b&gt;</changed></brewery>
X
cat >pale-1.xml <<'X'
<batch xmlns="urn:afterboil:journal:1" id="pale-1" brewed="2031-03-07" line="pale" title="Pale &lt;script&gt; &amp; co, first" family="pale-hoppy">
  <recipe og="1.048 SG" volume="20 L"/>
  <mash temp="66 C"/>
  <water source="tap"/>
  <pitch at="2031-03-07T18:00" temp="19 C"/>
  <reading at="+1d" wort="20.5 C"/>
  <package into="bottles" at="2031-03-21"/>
  <tasting at="2031-05-01"><found fault="buttery" intensity="3"/><next-time>cooler &amp; "slower"</next-time></tasting>
</batch>
X
cat >pale-2.xml <<'X'
<?xml version="1.0" encoding="UTF-8"?>
<!-- by hand -->
<batch xmlns="urn:afterboil:journal:1" id="pale-2" brewed="2031-05-10" line="pale" title="Pale" family="pale-hoppy">
  <recipe og="1.050 SG"/>   <!-- stays -->
  <x:own xmlns:x="urn:mine">&amp; this</x:own>
</batch>
X
cp pale-2.xml "$tmp/before.xml"

golden sheet-text sheet --format text $rules
golden sheet-html sheet $rules
run sheet $rules --paper letter
ok 'letter paper' says out '@page\{size:letter portrait'
sed -i 's/currency/units="us" currency/' profile.xml
run sheet $rules
ok 'US units: letter of itself' says out '@page\{size:letter portrait'
ok 'aims in their degrees' says out 'aim: 147 to 154 F'
ok 'and blanks too' says out '</span>F'
run sheet $rules --paper a4
ok 'A4 when it is said' says out '@page\{size:A4 portrait'
sed -i 's/units="us" //' profile.xml
ok 'nothing of a journal is markup' sh -c "! grep -q '<script\|<b>&gt;\|sang to it <b>' '$tmp/out'"
run sheet $rules -o "$tmp/sheet.html"
ok 'into a file' grep -q '<h1>Pale</h1>' "$tmp/sheet.html"
run sheet pale-1 $rules --format text
ok 'of a tasted batch: for the next brew of its beer' says out '^Pale <script> & co, first$'
ok 'which has no id yet' sh -c "! grep -q 'batch pale' '$tmp/out'"
run sheet --boxes 1 --format text $rules
ok 'few boxes: still those that every batch needs' says out 'Original gravity'
ends 2 'no such batch' sheet nobody $rules
ends 2 'not as JSON' sheet $rules --format json
ok 'says what it can be' says err 'html, to print, or text'
mkdir "$tmp/none"
ends 0 'with no journal at all' sheet --in "$tmp/none" --format text $rules
ok 'a sheet for the first' says out 'The first batch'
ends 2 'nothing to type into' enter --in "$tmp/none" $rules

# ---- typed in

# entered NAME ANSWER...: types the answers, one a line, into pale-2
entered() {
	local name=$1
	shift
	printf '%s\n' "$@" >"$tmp/answers"
	"$AFTERBOIL" enter 2 $rules --width 80 <"$tmp/answers" >"$tmp/out" 2>"$tmp/err"
	status=$?
}
entered all same sulphite 66 1.052 18:45 same 19 'about 21' 20 1.012 1.012 2031-05-30 bottles 'windy & cold' 'buttery 2, no boozy' 'shorter <rest>' 2031-07-01
sed "s#$tmp#TMP#g" "$tmp/out" >"$tmp/said"
[ "${UPDATE:-}" = 1 ] && cp "$tmp/said" "$here/golden/enter-all" && cp pale-2.xml "$here/golden/enter-all.xml"
ok 'the talk' diff -u "$here/golden/enter-all" "$tmp/said"
ok 'the journal' diff -u "$here/golden/enter-all.xml" pale-2.xml
ok 'nothing on standard error' silent err
ends 0 'it reads, and nothing is odd' check pale-2.xml $small
ok 'the journal of before stands in it, byte for byte' same '' "$(diff "$tmp/before.xml" pale-2.xml | grep '^<')"
cp pale-2.xml "$tmp/after.xml"
entered again </dev/null
ok 'once more: nothing is asked twice' sh -c "! grep -q 'Mash\|Original\|Beer' '$tmp/out'"
ok 'and nothing is written' cmp pale-2.xml "$tmp/after.xml"

cp "$tmp/before.xml" pale-2.xml
entered blanks '' '' '' '' '' '' '' '' '' '' '' '' '' '' ''
ok 'all blank: nothing is written' cmp pale-2.xml "$tmp/before.xml"
ok 'and it is said' says out 'nothing was written'
entered unknown "don't know" - 'no idea' stop
ok "don't know: nothing is written" cmp pale-2.xml "$tmp/before.xml"
entered odd purple tap '' 'warm' 66 stop
ok 'an odd answer is asked again' says out 'choose one by its number'
ok 'and one for a number' says out 'number and its unit'
ok 'what was good is written' grep -q '<mash temp="66 C"/>' pale-2.xml
cp "$tmp/before.xml" pale-2.xml
entered back tap sulphite 66 back 67 back back back back stop
ok 'back to the beginning: byte for byte as before' cmp pale-2.xml "$tmp/before.xml"
ok 'and no further' says out 'nothing to take back'
entered refused tap '' 66 1.052 18:45 19 20 20 20 1.012 1.012 2031-05-01 2031-05-30 keg stop
ok 'what the journal would refuse is asked again' says out 'does not fit what is told already'
ok 'and then taken' grep -q '<package at="2031-05-30" into="keg"/>' pale-2.xml
cp "$tmp/before.xml" pale-2.xml
entered tasting '' '' '' '' '' '' '' '' '' '' '' '' '' '' 'purple' 'buttery' '' 'soon' 2031-01-01 2031-07-01
ok 'a word not known is asked again' says out 'no fault that is known'
ok 'a day that is none, too' says out 'with a day'
ok 'a day before the brew day, too' says out 'before the brew date'
ok 'tasted then' grep -q '<tasting at="2031-07-01"><found fault="butter" intensity="3"/></tasting>' pale-2.xml
cp "$tmp/before.xml" pale-2.xml
sed -i s/2031/2021/ pale-2.xml
entered today '' '' '' '' '' '' '' '' '' '' '' '' '' '' '' 'nothing' '' ''
ok 'tasted today' grep -q "<tasting at=\"$(date +%Y-%m-%d)\" complete=\"yes\"></tasting>" pale-2.xml
cp "$tmp/before.xml" pale-2.xml
entered half '' '' '' '' '' '' '' '' '' '' '' '' '' '' 'buttery' stop
ok 'broken off after the taste: that is kept' grep -q '<tasting><found fault="butter" intensity="3"/></tasting>' pale-2.xml
cp "$tmp/before.xml" pale-2.xml
printf 'tap\0x\ntap\n' | "$AFTERBOIL" enter 2 $rules >"$tmp/out" 2>&1
ok 'what is no text is not used' says out 'holds? what is no text|held what is no text'
ok 'the line after it is' grep -q 'source="tap"' pale-2.xml

# bottles that may burst are told of, whatever else
cp "$tmp/before.xml" pale-2.xml
sed -i 's#<recipe og="1.050 SG"/>#<recipe og="1.050 SG" volume="20 L"/><package priming="400 g" sugar="sucrose" volume="18 L" bottle="longneck"/>#' pale-2.xml
entered burst tap '' 66 '' '' '' '' '' '' '' '' 2031-05-30 bottles '' ''
ok 'a warning of bursting bottles' says out '[Bb]urst'
ok 'and status 1' same 1 "$status"

# another program writes meanwhile: both stay
cp "$tmp/before.xml" pale-2.xml
mkfifo "$tmp/fifo"
"$AFTERBOIL" enter 2 $rules <"$tmp/fifo" >"$tmp/out" 2>"$tmp/err" &
sitting=$!
exec 9>"$tmp/fifo"
echo tap >&9
sleep 0.5
"$AFTERBOIL" log 2 note theirs $small >/dev/null
printf '%s\n' sulphite back stop >&9
exec 9>&-
wait $sitting
ok 'a note of theirs stays' grep -q theirs pale-2.xml
ok 'and so does ours' grep -q 'source="tap"' pale-2.xml

# ---- at a terminal

python=$(python_that "$a_terminal")
if [ -n "$python" ]; then
	for mode in interrupt kill eof; do
		cp "$tmp/before.xml" pale-2.xml
		ok "terminal: $mode" same '' "$($python "$here/enter_pty.py" "$AFTERBOIL" "$tmp/j" $mode $rules 2>&1)"
	done
else
	echo '# no pseudo-terminal here: the sittings at a terminal are left out'
fi

# ---- what the journal tells in another way is not asked, and what cannot be is asked again ----
mkdir "$tmp/kept"
cd "$tmp/kept" || exit 1
real="--rules-base $top_srcdir/rules"
cat >kept-1.xml <<'X'
<batch xmlns="urn:afterboil:journal:1" id="kept-1" brewed="2021-05-10" title="Kept" family="pale-hoppy">
  <recipe volume="20 L" og="1.050 SG"><malt kind="pale"/></recipe>
  <yeast class="clean-ale" form="dry" amount="11 g"/>
  <pitch at="2021-05-10T19:00" temp="19 C"/>
  <reading at="2021-05-10T18:30" gravity="1.049 SG"/>
  <reading at="2021-05-11T20:00" wort="20 C"/>
  <reading at="2021-05-12T08:00" wort="20.5 C"/>
</batch>
X
typed() { printf '%s\n' "$@" | "$AFTERBOIL" enter 1 $real --width 80 >"$tmp/out" 2>"$tmp/err"; status=$?; }
typed '' '' '' ''
for known in 'Original gravity' 'packs' 'by weight' 'day 1,' 'day 2,'; do
	ok "told already: $known" sh -c "! grep -q '$known' '$tmp/out'"
done
ok 'not told: day 3' says out 'day 3,'
sed -i 's/ amount="11 g"//' kept-1.xml
cp kept-1.xml "$tmp/kept.xml"
for answer in 1.052 0 300 1.3; do
	typed $answer stop
	ok "$answer packs: asked again" says out 'looks like a gravity|cannot be right'
	ok "$answer packs: not written" cmp -s kept-1.xml "$tmp/kept.xml"
done
ok 'with what is allowed' says out 'from 0.25 to 40 in steps of 0.25'
typed '2 packets' stop
ok 'packets are packs' grep -q 'packs="2"' kept-1.xml
ok 'and their weight is asked no more' sh -c "! grep -q 'by weight' '$tmp/out'"
cp "$tmp/kept.xml" kept-1.xml
typed 2 back '11 g' stop
ok 'taken back, it is asked again' same 2 "$(grep -c 'How much yeast: packs' "$tmp/out")"
sed -i '/gravity=/d' kept-1.xml
cp kept-1.xml "$tmp/kept.xml"
typed 1.004 1.048 stop
ok 'an original gravity of finished beer: asked again' says out '1.004 cannot be right here'
ok 'then taken' grep -q 'gravity="1.048 SG"' kept-1.xml
cp "$tmp/kept.xml" kept-1.xml
typed '' '' '' '' '' '' '2999-01-01' '2999-01-01' stop
ok 'a day that is to come: asked again' says out '2999-01-01 is still to come'
ok 'and not written' sh -c "! grep -q 2999 kept-1.xml"

# ---- a beer never brewed before: its recipe is asked ----
mkdir "$tmp/first"
cd "$tmp/first" || exit 1
echo '<batch xmlns="urn:afterboil:journal:1" id="a-1" brewed="2021-05-10" title="First"><recipe/></batch>' >a.xml
typed 'malt 4,5 kg pale' 'wort 19 C' 'hops 30' 'hops 30 g at 60 min' 'family wheat' '' stop
ok 'asked' says out 'What went into it'
ok 'what is no part of it is said' says out 'no part of a recipe'
ok 'a missing unit, too' says out '"hops 30 g" or "hops 30 %"'
ok 'written' grep -q '<malt amount="4.5 kg" kind="pale"/>' a.xml
ok 'the hops' grep -q '<hop amount="30 g" use="bittering"/>' a.xml
ok 'the family' grep -q 'family="wheat"' a.xml
ok 'and counted' says out '^3 answers written into a.xml'
typed stop
ok 'once told it is asked no more' sh -c "! grep -q 'What went into it' '$tmp/out'"

# ---- its days and its sugar are those of the calendar ----
mkdir "$tmp/days"
cd "$tmp/days" || exit 1
profile() { echo "<brewery xmlns=\"urn:afterboil:profile:1\" room=\"19 C\">$1<packs into=\"bottles\"/><week free=\"$2\" time=\"6 h\"/></brewery>" >profile.xml; }
# brewed on a Monday by its journal, which stays ahead of today
monday=$(date -d "$(date +%F) + 30 days" +%F)
while [ "$(date -d "$monday" +%u)" != 1 ]; do monday=$(date -d "$monday + 1 day" +%F); done
on() { date -d "$monday + $1 days" "+%a %-d %b"; }
journal() { echo "<batch xmlns=\"urn:afterboil:journal:1\" id=\"d-1\" brewed=\"$monday\" title=\"Days\" family=\"pale-hoppy\">$1</batch>" >d-1.xml; }
# YEAST|free days|brewed so many days after|gravities, days after that
while IFS='|' read -r yeast free brewed first second; do
	profile '' "$free"
	journal "<recipe volume=\"19 L\"/>${yeast:+<yeast class=\"$yeast\"/>}"
	run sheet d-1 $real --format text
	ok "$yeast, $free: the day it is brewed" says out "^Days, batch d-1, $(on "$brewed")\$"
	ok "$yeast, $free: the first gravity" says out "day $first, $(on $((brewed + first))) "
	ok "$yeast, $free: the second" says out "day $second, $(on $((brewed + second))) "
	run calendar --from "$monday" $real
	ok "$yeast, $free: the calendar brews that day" says out "$(date -d "$monday + $brewed days" +%F) [0-9:]+ +Brew day"
	ok "$yeast, $free: and reads" says out "$(date -d "$monday + $((brewed + first)) days" +%F) [0-9:]+ +First gravity"
	ok "$yeast, $free: and reads again" says out "$(date -d "$monday + $((brewed + second)) days" +%F) [0-9:]+ +Second gravity"
	typed '' '' '' ''
	ok "$yeast, $free: what is typed in is of that day" says out "time of day, $(on "$brewed")\$"
	ok "$yeast, $free: before it is brewed the journal's own day needs no word" sh -c "! grep -q 'Its journal is dated' '$tmp/out'"
done <<'T'
|sat|5|7|10
|every day|0|7|10
lager|sun|6|14|28
T
# brewed on a Monday that is past: its page went by the Saturday after, and either may be right
past=$(date -d "$(date +%F) - 40 days" +%F)
while [ "$(date -d "$past" +%u)" != 1 ]; do past=$(date -d "$past - 1 day" +%F); done
profile '' sat
for at in "${past}T18:30" "$past 18:30" 18:30; do
	echo "<batch xmlns=\"urn:afterboil:journal:1\" id=\"d-1\" brewed=\"$past\" title=\"Days\"><recipe volume=\"19 L\"/></batch>" >d-1.xml
	printf '%s\n' '' '' "$at" stop | "$AFTERBOIL" enter 1 $real --width 80 >"$tmp/out" 2>"$tmp/err"
	ok "$at: the journal's own day is named beside the page's" says out "Its journal is dated $past"
	day=$past
	[ "$at" != 18:30 ] || day=$(date -d "$past + 5 days" +%F)
	ok "$at: pitched on that day" grep -q "pitch at=\"${day}T18:30\"" d-1.xml
done
profile '' sat
for size in '<recipe volume="19 L"/>' ''; do
	journal "$size"
	run sheet d-1 $real --format text --width 200
	tr -s ' \n' ' ' <"$tmp/out" >"$tmp/flat" && mv "$tmp/flat" "$tmp/out"
	ok "grams a litre${size:+, the volume told}" says out '6\.6 g table sugar for each litre you really have'
	ok 'the whole only where the volume is told' same "$([ -n "$size" ] && echo 1 || echo 0)" "$(grep -c 'so 125 g for 19 L' "$tmp/out")"
	ok 'not before it is done' says out 'Not before both gravities are the same and about where it should end'
	ok 'with its caution' says out 'sugar in beer that still works, bursts bottles'
done
# who thinks in US units weighs in ounces, for gallons: 6.6 g/L are 0.88 oz for each gallon, 125 g are 4.4 oz
journal '<recipe volume="19 L"/>'
sed 's/<brewery /<brewery units="us" /' profile.xml >profile.us && mv profile.us profile.xml
run sheet d-1 $real --format text --width 200
tr -s ' \n' ' ' <"$tmp/out" >"$tmp/flat" && mv "$tmp/flat" "$tmp/out"
ok 'us: ounces for each gallon' says out '0\.88 oz table sugar for each gallon you really have, so 4\.4 oz for 5 gal'
ok 'us: no grams' sh -c "! grep -Eq '[0-9] g |litre' '$tmp/out'"
profile '' sat
journal '<recipe volume="19 L"/><package into="keg"/>'
run sheet d-1 $real --format text
ok 'a keg: no sugar' sh -c "! grep -q 'table sugar for' '$tmp/out'"
plan
