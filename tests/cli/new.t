# new.t - the journal of the next batch: what is known is not asked, what happened is not repeated, nothing is overwritten
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need xmllint
need jq
mkdir "$tmp/j"
cp -r "$top_srcdir"/examples/. "$tmp/j"
chmod -R u+w "$tmp/j"
cd "$tmp/j" || exit 1
# one that no journal notes yet: of what one does there is nothing left to try
run changed quiet-transfer --on 2031-04-01
ok 'a change is on trial' grep -q 'what="quiet-transfer"' profile.xml

listed() { run advise --no-store --budget 120; sed -n '/^The plan/,/^Why this/p' "$tmp/out" >"$1"; }
listed "$tmp/before"
golden new-again new House pale --on 2031-05-10
listed "$tmp/after"
ok 'a journal begun changes no plan' diff -u "$tmp/before" "$tmp/after"
ok 'and there was a plan' test -s "$tmp/after"
cp house-pale-7.xml "$tmp/seven"
ok 'the journal is as read' diff -u "$here/golden/new-again.xml" house-pale-7.xml
ok 'by its schema too' xmllint --noout --relaxng "$top_srcdir/rules/journal.rng" house-pale-7.xml
ends 0 'and nothing in it is odd' check house-pale-7.xml
run facts house-pale-7.xml --format json
ok 'what is measured is the recipe, and nothing else' same '"recipe.bitterness" "recipe.family" "recipe.volume"' \
	"$(jq -c '.facts[] | select(.origin == "measured") | .name' "$tmp/out" | sort | tr '\n' ' ' | sed 's/ $//')"
ok 'what is reckoned rests on the recipe' same '' \
	"$(jq -r '.facts[] | select(.origin == "derived") | .name' "$tmp/out" | grep -v '^recipe\.\|^hops\.dry-load$')"

ends 2 'the same once more: refused' new House pale --on 2031-05-10 --id house-pale-7
ok 'the journal stays' cmp house-pale-7.xml "$tmp/seven"
ends 0 'the next one' new House pale --on 2031-06-10
ok 'has the next number' test -e house-pale-8.xml
ends 2 'a name that would drive a terminal' new $'x\e[31my'
ok 'writes nothing' same '' "$(ls | grep '^x')"
ends 2 'an id that is taken, by a file of another name' new House pale --id house-pale-6
mkdir brown-3.xml
ends 2 'a folder of that name' new Brown --id brown-3 --on 2031-06-10
rmdir brown-3.xml

golden new-small new Shed IPA --volume '4 L' --on 2031-05-10
ok 'the small journal is as read' diff -u "$here/golden/new-small.xml" shed-ipa-2.xml
golden new-split new Nettle mild --split 2 --on 2031-05-10
ok 'one wort' same 2 "$(grep -l 'wort="nettle-mild-1"' nettle-mild-1?.xml | wc -l)"
ok 'a new beer has the size of the profile' grep -q '<recipe volume="20 L"/>' nettle-mild-1a.xml
cp nettle-mild-1a.xml nettle-mild-2b.xml
sed -i 's/nettle-mild-1a/other/' nettle-mild-2b.xml
ends 2 'one of the parts is there' new Nettle mild --split 3 --on 2031-05-10 --id nettle-mild-2
ok 'then none is written' test ! -e nettle-mild-2a.xml
ends 2 'a name like another, and nobody to ask: refused' new Hose pale --on 2031-05-10
ok 'asks which is meant' says err 'no beer here is called "Hose pale"; did you mean "House pale"\?.*--force'
ok 'and nothing is written' test ! -e hose-pale-1.xml
ends 0 'like another batch' new Winter brown --like chandlers --on 2031-05-10
ok 'has its family' grep -q 'family="amber-malty"' winter-brown-1.xml

# words | status | said
while IFS='|' read -r words wanted said; do
	eval "ends $(echo $wanted) 'new $words' new $words"
	ok "new $words: says so" says err "$(echo $said)"
done <<'T'
	| 2 | which beer\?.*house-pale
	" " | 2 | Say its name
	x --on yesterday | 2 | --on yesterday
	x --on 2031-03-07T10:00 | 2 | a day
	x --volume 4 | 2 | --volume
	x --volume "4 kg" | 2 | volume
	x --volume "4000 L" | 2 | half a litre
	x --id ../x | 2 | letters, digits
	x --id .x | 2 | letters, digits
	x --like nobody | 2 | no batch here is called
	x --split 1 | 2 | --split
	x --in none | 3 | none
	x --format json | 2 | takes no --format
T
mkdir "$tmp/empty"
cd "$tmp/empty" || exit 1
ends 0 'in an empty folder' new First beer --on 2031-05-10
ok 'the first of its name' same 'first-beer-1.xml' "$(ls)"
ends 0 'reads' check first-beer-1.xml
# two at once: one name each, or one of them is refused
for i in 1 2 3 4 5 6; do
	"$AFTERBOIL" new Race --on 2031-05-10 >/dev/null 2>>"$tmp/raced" &
done
wait
ok 'six at once: as many journals as were not refused' same "$((6 - $(wc -l <"$tmp/raced")))" "$(ls race-*.xml | wc -l)"
ok 'nothing half-written is left' same '' "$(ls -A | grep saving)"
ok 'and all read' sh -c "'$AFTERBOIL' check . >/dev/null"

# ---- the kind of a new beer ----
mkdir "$tmp/kinds"
k="--in $tmp/kinds $small"
run new Bench ale $k
ok 'without a terminal it is not asked' same 0 "$status"
ok 'but said, with what to type' says out 'kind is not told.*afterboil log bench-ale-1 family wheat'
run log bench-ale-1 family wheat $k
ok 'which works' grep -q 'family="wheat"' "$tmp/kinds/bench-ale-1.xml"
run new Bench ale $k
ok 'a second of that day: refused' same 2 "$status"
ok 'a second of that day: says which is there, and what to type' says err 'bench-ale-1.xml: "bench-ale-1" of the same beer is begun already for .*afterboil log bench-ale-1 .*--force'
ok 'a second of that day: nothing is written' test ! -e "$tmp/kinds/bench-ale-2.xml"
run new Bench ale --force $k
ok 'a second of that day, meant so' same 0 "$status"
rm "$tmp/kinds/bench-ale-2.xml"
run new Bench ale --id bench-ale-2 $k
ok 'a second of that day, with a name of its own: meant so' same 0 "$status"
rm "$tmp/kinds/bench-ale-2.xml"
run new Bench ale --on 2031-05-10 $k
ok 'the next brew has it' grep -q 'family="wheat"' "$tmp/kinds/bench-ale-2.xml"
ok 'and nothing is said' sh -c "! grep -q 'kind is not told' '$tmp/out'"
while IFS='|' read -r said family; do
	run new "Kind $family" --family "$said" $k
	ok "--family $said" grep -q "family=\"$family\"" "$tmp/kinds/kind-$family-1.xml"
done <<'X'
stout|dark-roast
IPA|pale-hoppy
pale-lager|pale-lager
wheat beer|wheat
6|belgian-farmhouse
X
ends 0 'a name like another, meant so' new Banch ale --force $k
run new Odd one --family unicorn $k
ok 'none such: refused' same 2 "$status"
ok 'with the list' says err 'pale and hoppy; pale lager; .*something else'
ok 'and no journal' test ! -e "$tmp/kinds/odd-one-1.xml"
python=$(python_that "$a_terminal")
if [ -n "$python" ]; then
	$python "$here/log_pty.py" 'dunno what|saison' "$AFTERBOIL" new Field beer $k >"$tmp/out" 2>"$tmp/err"
	ok 'what is none of them is said to be' same 1 "$(grep -c 'That is none of them. Its number, or words of it' "$tmp/out")"
	ok 'at a terminal it is asked, until it is understood' same 2 "$(grep -c 'Its number or its name' "$tmp/out")"
	ok 'and written' grep -q 'family="belgian-farmhouse"' "$tmp/kinds/field-beer-1.xml"
	$python "$here/log_pty.py" 'yes' "$AFTERBOIL" new Benhc ale --on 2031-05-11 $k >"$tmp/out" 2>"$tmp/err"
	ok 'a slip is asked about before anything is written' says out 'Did you mean "Bench ale"\?'
	ok 'and yes is the beer that was meant' test -e "$tmp/kinds/bench-ale-3.xml"
	$python "$here/log_pty.py" 'no' "$AFTERBOIL" new Bench ale $k >"$tmp/out" 2>"$tmp/err"
	ok 'a second of that day: asked' says out '"bench-ale-1" of the same beer is begun already for .*Begin one more'
	ok 'a second of that day: no, and nothing is written' test ! -e "$tmp/kinds/bench-ale-4.xml"
	$python "$here/log_pty.py" 'yes' "$AFTERBOIL" new Bench ale $k >"$tmp/out" 2>"$tmp/err"
	ok 'a second of that day: asked, and yes' test -e "$tmp/kinds/bench-ale-4.xml"
	$python "$here/log_pty.py" 'no|wheat' "$AFTERBOIL" new Benhc ale $k >"$tmp/out" 2>"$tmp/err"
	ok 'no is a beer of its own' test -e "$tmp/kinds/benhc-ale-1.xml"
	$python "$here/log_pty.py" '' "$AFTERBOIL" new Bunch ale $k >"$tmp/out" 2>"$tmp/err"
	ok 'no answer is nothing written' test ! -e "$tmp/kinds/bunch-ale-1.xml"
	$python "$here/log_pty.py" '|' "$AFTERBOIL" new Road beer $k >"$tmp/out" 2>"$tmp/err"
	ok 'Enter leaves it open' grep -q 'title="Road beer">' "$tmp/kinds/road-beer-1.xml"
fi
# what is piped in is no answer, and that is said where one was wanted
{ echo wheat; sleep 0.4; } | { sleep 0.2; "$AFTERBOIL" new Lane ale $k; } >"$tmp/out" 2>"$tmp/err"
ok 'piped in: not read, and said' says err 'what is piped in is not read.*--family'
ok 'piped in: the kind is open' grep -q 'title="Lane ale">' "$tmp/kinds/lane-ale-1.xml"
{ echo wheat; sleep 0.4; } | { sleep 0.2; "$AFTERBOIL" new Ford ale --family stout $k; } >"$tmp/out" 2>"$tmp/err"
ok 'piped in, and all is told: nothing is said' silent err
# a beginner reads and types the units of the profile
for units in us metric; do
	mkdir "$tmp/$units"
	echo "<brewery xmlns=\"urn:afterboil:profile:1\" units=\"$units\"><batch-size volume=\"$([ $units = us ] && echo '5 gal' || echo '19 L')\"/></brewery>" >"$tmp/$units/profile.xml"
	run new Porch ale --family 'pale ale' --on 2031-05-10 --in "$tmp/$units"
	cp "$tmp/out" "$tmp/$units.said"
done
ok 'us: gallons in the journal' grep -q '<recipe volume="5 gal"' "$tmp/us/porch-ale-1.xml"
ok 'us: pounds in what to type' grep -q 'log porch-ale-1 malt 10 lb pale' "$tmp/us.said"
ok 'metric: litres in the journal' grep -q '<recipe volume="19 L"' "$tmp/metric/porch-ale-1.xml"
ok 'metric: kilograms in what to type' grep -q 'log porch-ale-1 malt 4.5 kg pale' "$tmp/metric.said"
plan
