# stream.t - journals in on standard input, one JSON object a line out
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
{
	echo '<batches xmlns="urn:afterboil:journal:1">'
	for n in 1 2 3 4; do sed '/^<?xml/d' "$data/brewery/pale-$n.xml"; done
	echo '</batches>'
} >"$tmp/all.xml"
stream() { "$AFTERBOIL" diagnose --stream $small "$@" >"$tmp/out" 2>"$tmp/err"; status=$?; }
stream <"$tmp/all.xml"
ok 'four batches, four lines' same 4 "$(wc -l <"$tmp/out")"
ok 'each is an object' same 'pale-1 pale-2 pale-3 pale-4' "$(jq -r .batch "$tmp/out" | xargs)"
ok 'a burst ahead is told by the status' same 1 "$status"
cp "$tmp/out" "$tmp/streamed"
run diagnose "$tmp/all.xml" $small --format json
ok 'the same as read from the file' same "$(jq -cS '.[]' "$tmp/out")" "$(jq -cS . "$tmp/streamed")"
stream <<X
<batches xmlns="urn:afterboil:journal:1"><batch id="a" brewed="2031-01-01"/><batch id="b" brewed="nonsense"/></batches>
X
ok 'what came before a bad batch is out' same a "$(jq -r .batch "$tmp/out")"
ok 'the bad one ends it' same 3 "$status"
stream x.xml </dev/null
ok 'files beside --stream are refused' same 2 "$status"
stream --profile "$data/brewery/profile.xml" <"$tmp/all.xml"
ok 'a profile is welcome' same 4 "$(wc -l <"$tmp/out")"
"$AFTERBOIL" facts - $small <"$tmp/all.xml" >"$tmp/out" 2>&1
ok '- is standard input for the others' same 4 "$(grep -c '^Facts of batch' "$tmp/out")"
plan
