# init.t - the first run: a profile from a few questions, all of which may be left blank; and what "afterboil" alone says next
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need xmllint
cd "$tmp" || exit 1

# asked FOLDER ANSWER...
asked() {
	local folder=$1
	shift
	printf '%s\n' "$@" >answers
	"$AFTERBOIL" init $folder <answers >out 2>err
	status=$?
}

asked all metric '4 L' 10 'pale and hoppy, wheat, wheat' bottles bucket none 21 tap sulphite EUR 60 30.50 20 10 \
	'sat, sun, not every other sat from 2031-03-08' 6 20:30 25 21:00
cp out "$tmp/said"
[ "${UPDATE:-}" = 1 ] && sed "s#$tmp#TMP#g" said >"$here/golden/init" && cp all/profile.xml "$here/golden/init.xml"
ok 'the talk' diff -u "$here/golden/init" said
ok 'the profile' diff -u "$here/golden/init.xml" all/profile.xml
ok 'by its schema' xmllint --noout --relaxng "$top_srcdir/rules/profile.rng" all/profile.xml
ends 0 'check finds nothing wrong with it' check --profile all/profile.xml
cp all/profile.xml before
asked all us 5 stop
ok 'once more: refused' same 2 "$status"
ok 'and it says why' grep -q 'is not overwritten' err
ok 'the profile stays' cmp all/profile.xml before

asked blank '' '' '' '' '' '' '' '' '' '' '' '' '' '' ''
ok 'all blank: a profile that tells nothing' same '2' "$(grep -c brewery blank/profile.xml)"
ends 0 'which reads' check --profile blank/profile.xml
asked none </dev/null
ok 'no answers at all: the same' cmp none/profile.xml blank/profile.xml
asked two '' '' '' 'stout and wheat, pale and hoppy' stop
ok 'an "and" parts kinds, but for one that has it in its name' same 3 "$(grep -o 'family=' two/profile.xml | wc -l)"
# ---- as people answer; with nobody to ask again, one that is not understood ends it before anything is written
while IFS='|' read -r place said wanted; do
	blanks=()
	for ((i = 1; i < place; i++)); do blanks+=(''); done
	rm -rf plain
	asked plain "${blanks[@]}" "$said" stop
	if [ -n "$wanted" ]; then
		ok "question $place: \"$said\"" grep -q -- "$wanted" plain/profile.xml
	else
		ok "question $place: \"$said\": refused" same 2 "$status"
		ok "question $place: \"$said\": names the question" grep -q 'nothing was written; the answer to ".*" was not understood\. Please' err
		ok "question $place: \"$said\": nothing is there" test ! -e plain
	fi
done <<'T'
1|purple|
2|a lot|
2|about 20|volume="20 L"
2|20 or so|volume="20 L"
3|20 L|
3|many|
3|0|
3|about 10|batches="10"
3|10 or so|batches="10"
3|10 batches a year|batches="10"
3|10-12|batches="11"
3|a dozen|batches="12"
3|ten|batches="10"
3|once a month|batches="12"
4|gruit|
5|cup|
5|bottles with crown caps|packs into="bottles"
5|glass bottles|packs into="bottles"
5|in bottles|packs into="bottles"
5|kegs and bottles|
7|nothing|control="none"
7|nothing at all|control="none"
7|nothing but hope|
4|american pale|family="pale-hoppy"
6|plastic bucket|kind="bucket"
6|two buckets|kind="bucket"
6|a glass carboy|kind="glass"
6|barrel of oak|
12|-5|
12|about 60|now="60"
12|$120|now="120"
16|every other sat|
16|payday|
16|tuesdays, saturdays|free="tuesdays, saturdays"
16|saturdays, tuesday evening|free="saturdays, tuesday evening"
16|tuesday evening|free="tuesday evening"
16|tue+sat|free="tue+sat"
16|weekends|free="weekends"
16|every evening|free="every evening"
16|tuesday 19:00, saturday 10:00|free="tuesday 19:00, saturday 10:00"
16|tuesday evening and saturday morning|free="tuesday evening and saturday morning"
17|a while|
18|noon|
18|25:00|
T
asked hours '' '' '' '' '' '' '' '' '' '' '' '' '' '' '' 'tuesday 19:00, saturday 10:00' 5 20 18:00
ok 'days with hours of their own: none is asked for' grep -q '<week free="tuesday 19:00, saturday 10:00" time="5 h" other="20 min" other-begins="18:00"/>' hours/profile.xml
run calendar --profile hours/profile.xml --from 2031-03-03
ok 'and the calendar keeps to them' says out '(Tue 2031-03-04 19:00|Sat 2031-03-08 10:00) +Brew day'
asked us us 5 '' '' keg '' '' 68 stop
ok 'gallons and Fahrenheit' grep -q 'volume="5 gal"' us/profile.xml
ok 'as they were said' grep -q 'units="us" room="68 F"' us/profile.xml
ok 'what was left out is not there' sh -c "! grep -q 'money\|usual\|brews' us/profile.xml"
ends 0 'and it reads' check --profile us/profile.xml
asked days '' '' '' '' '' '' '' '' '' '' '' '' '' '' '' '  Sat,sun ' 6 10 '' '' stop
ok 'days and hours are taken' grep -q '<week free="Sat,sun" time="6 h" begins="10"/>' days/profile.xml
ok 'the next step names the folder' grep -q '^Next: afterboil new BEER --in days$' out
ends 2 'two folders' init a b
# ---- the calendar keeps to what was answered
run calendar --profile all/profile.xml --from 2031-03-03
ok 'a Saturday that is worked is none, and the hour is that of the answer' says out 'Sun 2031-03-09 20:30 +Brew day'
sed 's/sat, sun, not/sat, not/' all/profile.xml >saturdays.xml
run calendar --profile saturdays.xml --from 2031-03-05
ok 'the next one is free' says out 'Sat 2031-03-15 20:30 +Brew day'
ok 'on another day it begins at its own hour' says out '21:00 +Look again'
ok 'and what follows a long evening falls after midnight' says out 'Sun 2031-03-16 01:30 +Look at the'

# ---- at a terminal an odd answer is asked for again, and broken off it leaves nothing
python=$(python_that "$a_terminal")
if [ -n "$python" ]; then
	# at_terminal FOLDER ANSWER|ANSWER...
	at_terminal() {
		$python "$here/log_pty.py" "$2" "$AFTERBOIL" init "$1" >out 2>err
	}
	at_terminal odd 'purple|metric|a lot|20 L|gruit|wheat|cup|bottles|-|-|yes|many|0|12|stop'
	ok 'odd answers are asked again' same 6 "$(grep -c 'Please' out)"
	ok 'and the good ones are taken' sh -c "grep -q 'volume=\"20 L\"' odd/profile.xml && grep -q 'batches=\"12\"' odd/profile.xml && grep -q 'family=\"wheat\"' odd/profile.xml"
	at_terminal money '-|-|-|-|-|-|yes|-|-|-|-|<&|$|$120|-5|60|stop'
	ok 'money with its sign' grep -q '<money now="120" per-year="60"/>' money/profile.xml
	ok 'a sign that is markup is none' grep -q 'currency="\$"' money/profile.xml
fi
for mode in interrupt eof kill; do
	[ -n "$python" ] && ok "terminal: $mode" same '' "$($python "$here/init_pty.py" "$AFTERBOIL" "$tmp/pty" $mode 2>&1)"
done

# ---- short of memory: a whole profile, or none and a message
if [ "${SANITIZED:-}" != yes ]; then
	printf '%s\n' metric '20 L' 12 wheat bottles bucket none 21 tap sulphite EUR 60 30 20 10 'sat, sun' 6 10:00 25 21:00 >answers
	short=0 wrong=
	# starve KB: init with no more than that of address space
	starve() {
		rm -rf starved
		(ulimit -v "$1" && exec "$AFTERBOIL" init starved) <answers >out 2>err
		status=$?
		grep -q '^afterboil: ' err || return
		short=$((short + 1))
		[ $status = 4 ] && [ ! -e starved/profile.xml ] || wrong="$wrong $1: status $status"
	}
	# with how much it works; then, page by page, all that is a little less: most of it does not even start
	for ((most = 4000; most < 200000; most += 100)); do
		starve $most
		[ $status = 0 ] && break
	done
	for ((less = most - 400; less < most; less += 4)); do
		starve $less
	done
	starve $((most + 1000))
	ok 'short of memory: nothing half-written' same '' "$wrong"
	ok 'it was short of it' test $short -gt 0
	ok 'and with enough it is all there' cmp starved/profile.xml <(asked plenty metric '20 L' 12 wheat bottles bucket none 21 tap sulphite EUR 60 30 20 10 \
		'sat, sun' 6 10:00 25 21:00; cat plenty/profile.xml)
fi
echo x >file
ends 4 'a file in the way' init file/below

# ---- afterboil alone
next() { "$AFTERBOIL" "$@" | sed -n '4s/^ *//; 4s/    .*//; 4p'; }
steps() { "$AFTERBOIL" "$@" | sed -n '4,/^$/p' | tr -s ' \n' ' '; }
mkdir -p bare/here deep/er
cd bare/here || exit 1
ok 'nothing here: init' same 'afterboil init' "$(next)"
cd ../../all || exit 1
ok 'a profile: new' same 'afterboil new "House pale"' "$(next)"
"$AFTERBOIL" new Pale --on 2021-03-07 >/dev/null
ok 'a journal of years ago is not to come: it is brewed again' \
	grep -qE '^ 1. Next brew: brew pale again from 20[0-9-]+ on, .* before a beer of yours was tasted nobody can tell' <<<"$(steps)"
today=$(date +%F)
"$AFTERBOIL" new Brown --on "$today" >/dev/null 2>&1
ok 'a journal of today: brew it, and its sheet' \
	grep -qE '^ 1. Next brew: brew brown-1( on [0-9-]+| now)? and keep notes; before a beer .* usual. "afterboil sheet brown-1 -o sheet.html" makes the page for the day. $' <<<"$(steps)"
"$AFTERBOIL" log brown pitched at 19 C --at "${today}T00:01" >/dev/null
steps >steps
ok 'pitched: what it needs, and when' grep -q '^ 1. Now: brown-1 is on its way: "[^"]*" on 20' steps
rm brown-1.xml
"$AFTERBOIL" log 1 pitched at 19 C --at 2021-03-07T18:00 >/dev/null
"$AFTERBOIL" log 1 bottled, neck 2 cm --at 2021-03-21T10:00 >/dev/null || ok "bottled" false
"$AFTERBOIL" taste 1 nothing --at 2021-05-01 >/dev/null
steps >steps
ok 'a clean beer: the next brew' grep -qE '^ 1. Next brew[^:]*: ' steps
"$AFTERBOIL" taste 1 buttery 3 --at 2021-05-02 >/dev/null
steps >steps
ok 'a fault: what to begin with' grep -qE '^ 1. Next brew[^:]*: .*"afterboil advise" tells why; "afterboil changed --plan" notes that you begin it' steps
ends 0 'the advice works as it stands' advise . --no-store --redraws 0
ends 0 'and that works as it stands' diagnose . --batch pale-1 --redraws 0
echo '<batch' >bad.xml
ok 'what does not read: check' same 'afterboil check .' "$(next)"
run
ok 'quietly' silent err
ok 'and well' same 0 "$status"
AFTERBOIL_RULES=/nowhere run
ok 'wrong rules: it says so' says err '/nowhere'
ok 'and that they are needed' says out 'needs its rules'
ok 'and fails' test "$status" -gt 1
plan
