# hostile.t - a stranger's journal drives neither the terminal nor a browser
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

esc=$(printf '\302\233')
cat >"$tmp/h.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="a" brewed="2031-01-01" title="&lt;script&gt;alert(1)&lt;/script&gt;${esc}2J" line="x&#x9;&#xA;y&#x202E;z" family="wheat">
<note>&lt;script&gt;alert(2)&lt;/script&gt; ${esc}35m note</note>
<water supplier="&#x7F;&#x85;"/>
<vessel place="&#x9B;5m" kind="bucket"/>
<change what="cool-room" adopted="yes">&#x9D;0;title&#x7;</change>
<tasting at="2031-02-01" complete="yes" by="&#x90;"><found fault="buttery" intensity="4" note="${esc}31m"/><next-time>&lt;img src=x&gt;${esc}34m</next-time></tasting>
</batch>
X
# XML itself forbids &#x7;, so the bell goes
sed -i 's/&#x7;//' "$tmp/h.xml"
# clean FILE: no C0 but newline, no DEL, no C1 in UTF-8
clean() {
	! LC_ALL=C grep -nP '[\x00-\x08\x0B-\x1F\x7F]|\xC2[\x80-\x9F]' "$tmp/$1"
}
for c in diagnose facts trend check; do
	extra=
	[ $c = trend ] && extra=--no-store
	run $c "$tmp/h.xml" $small $extra
	ok "$c reads it" test "$status" -le 1
	ok "$c: clean on standard output" clean out
	ok "$c: clean on standard error" clean err
done
run diagnose "$tmp/h.xml" $small --format html
ok 'html: no element of a stranger' sh -c "! grep -q '<script' '$tmp/out'"
ok 'html: shown as text' says out '&lt;script&gt;'
ok 'html: clean' clean out
run report "$tmp/h.xml" $small --no-store
ok 'report: the only script is ours' same 1 "$(grep -c '<script' "$tmp/out")"
ok 'report: no picture of theirs' sh -c "! grep -q '<img' '$tmp/out'"
ok 'report: what was written down is shown as text' says out '&lt;script&gt;alert.2.&lt;'
ok 'report: and what was meant for next time' says out '&lt;img src=x&gt;'
ok 'report: clean' clean out
run diagnose "$tmp/h.xml" $small --format json
ok 'json is still json' sh -c "command -v jq >/dev/null || exit 0; jq -e .batch '$tmp/out'"
sed -i 's/kind="bucket"/kind="${esc}bad"/' "$tmp/h.xml"
sed -i "s/\${esc}/$esc/" "$tmp/h.xml"
run facts "$tmp/h.xml" $small
ok 'a message quotes it' same 3 "$status"
ok 'but clean' clean err
run diagnose --fault "$(printf 'b\033[31mx')" $small
ok 'a word of the command line: clean' clean err
run "$(printf 'x\033[31m')"
ok 'a command: clean' clean err
run --"$(printf 'x\033[31m')"
ok 'an option: clean' clean err
run facts "$(printf 'no\033[31mfile')" $small
ok 'a file name: clean' clean err
plan
