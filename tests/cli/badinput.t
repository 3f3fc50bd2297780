# badinput.t - bad input is named with file and line, what is allowed is told, and nothing is half done
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

# bad NAME LINE PATTERN, journal on standard input: status 3, and the message starts with file:line
bad() {
	cat >"$tmp/bad.xml"
	ends 3 "$1: status" facts "$tmp/bad.xml" $small
	ok "$1: file and line" says err "^afterboil: $tmp/bad.xml:$2: "
	ok "$1: what and what else" says err "$3"
	ok "$1: nothing on standard output" silent out
}
open='<batch xmlns="urn:afterboil:journal:1" id="b" brewed="2031-01-01">'
bad 'a wrong unit' 2 'volume|unit' <<X
$open
<recipe volume="20 kg"/></batch>
X
bad 'a missing unit' 2 'unit' <<X
$open
<pitch temp="20"/></batch>
X
bad 'a word that is none' 2 'bucket' <<X
$open
<vessel kind="bukket"/></batch>
X
bad 'an element that is none' 2 'vesel' <<X
$open
<vesel/></batch>
X
bad 'no date' 1 'brewed' <<X
<batch xmlns="urn:afterboil:journal:1" id="b"></batch>
X
bad 'cut off' '[0-9]+' '.' <<X
$open
<recipe
X
bad 'packaged before pitching' 3 '.' <<X
$open
<pitch at="2031-01-03T10:00"/>
<package at="2031-01-02"/></batch>
X
cat >"$tmp/bad.xml" <<X
$open
<tasting complete="yes">
<found fault="buttr"/></tasting></batch>
X
ends 3 'a fault that is none, in a journal' diagnose "$tmp/bad.xml" $small
ok 'its line and a near word' says err 'bad.xml:3: .*butter'
cat >"$tmp/bad.xml" <<X
<!DOCTYPE batch [<!ENTITY e SYSTEM "file:///etc/passwd">]>
$open<note>&e;</note></batch>
X
ends 3 'an entity of a stranger' facts "$tmp/bad.xml" $small
ok 'nothing of the other file is shown' sh -c "! grep -q root: '$tmp/out' '$tmp/err'"

mkdir "$tmp/twins"
sed 's/pale-1/twin/' "$data/brewery/pale-1.xml" >"$tmp/twins/a.xml"
sed 's/pale-2/twin/' "$data/brewery/pale-2.xml" >"$tmp/twins/b.xml"
ends 3 'one id in two files' facts "$tmp/twins" $small
ok 'both are named' says err 'b.xml:[0-9]+: .*a.xml:[0-9]+'
run trend "$tmp/twins" $small --store "$tmp/twins.db"
run trend $small --store "$tmp/twins.db"
ok 'and nothing was stored' says err 'the history is empty'

mkdir "$tmp/mixed"
cp "$data/brewery/"*.xml "$data/rules/small.xml" "$tmp/mixed/"
ends 0 'a profile and rules among the journals are passed over' facts "$tmp/mixed" $small
ok 'the four batches were read' same 4 "$(grep -c '^Facts of batch' "$tmp/out")"
cp "$tmp/bad.xml" "$tmp/mixed/pale-9.xml"
ends 3 'but a bad journal among them is not' facts "$tmp/mixed" $small

sed 's/<fault /<falt /' "$data/rules/small.xml" >"$tmp/small.xml"
mkdir "$tmp/rules" && mv "$tmp/small.xml" "$tmp/rules/"
ends 3 'bad rules' rules list --rules-base "$tmp/rules"
ok 'file and line' says err 'small.xml:[0-9]+: '
ends 1 'lint lists them' rules lint --rules-base "$tmp/rules"
ok 'one a line' says out 'small.xml:[0-9]+: error: '
plan
