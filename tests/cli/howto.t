# howto.t - what afterboil-journal(5) says of how to say it: each example is read, and yields the fact it names
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

run --journal-page
sed -n '/^\.Sh HOW TO SAY IT/,/^\.Sh ELEMENTS/p' "$tmp/out" | sed 's/\\-/-/g; s/\\&//g; s/\\e/\\/g' >"$tmp/section"

# Lines that begin with a blank are elements; the others of a display: what happened, and "fact = value" behind the last colon.
awk '/^\.Bd/ { in_it = 1; next } /^\.Ed/ { in_it = 0 } !in_it { next }
	/^ / { print > file; next }
	{ n++; file = sprintf("'"$tmp"'/%02d.rows", n); fact = $0; sub(/.*: /, "", fact); print fact > ("'"$tmp"'/" sprintf("%02d", n) ".fact"); print $0 > ("'"$tmp"'/" sprintf("%02d", n) ".says") }' "$tmp/section"
n=$(ls "$tmp"/*.rows | wc -l)
ok 'the section has forty events at least' [ "$n" -ge 40 ]

for rows in "$tmp"/*.rows; do
	at=${rows%.rows}
	{
		printf '<batch xmlns="urn:afterboil:journal:1" id="a" brewed="2031-03-07">\n'
		cat "$rows"
		printf '</batch>\n'
	} >"$at.xml"
	read -r fact _ value unit <"$at.fact"
	run check "$at.xml"
	checked=$status
	run facts "$at.xml" --width 200
	want="^  ${fact//./\\.} = ${value//./\\.}( \\+- [0-9.]+)?${unit:+ $unit}: "
	ok "$(cat "$at.says")" says out "$want"
	ok '... and nothing about it is odd' same 0 "$checked"
done
plan
