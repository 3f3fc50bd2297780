# tables.t - the published tables as tests of the rules: what causes a fault, what speaks for and against a cause, what tells causes apart
#
# A row known not to hold is told with its reason and counted; one that holds all the same fails, so that it is taken off the list.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

put() { "$builddir/tests/cases/run_tables" "$1"; }

put "$AFTERBOIL_RULES" >"$work/rows" || ok 'the tables are put to the rules' "$(cat "$work/rows")"
while IFS=$'\t' read -r held row came known; do
	tap_n=$((tap_n + 1))
	echo "$([ "$held" = held ] || echo 'not ')ok $tap_n - $row: $came${known:+ # TODO $known}"
done <"$work/rows"
echo "# $(grep -c . "$work/rows") rows; known not to hold: $(awk -F '\t' '$4 != ""' "$work/rows" | wc -l)"
ok 'more than 200 rows' "$([ "$(grep -c . "$work/rows")" -gt 200 ] || cat "$work/rows")"

# Rules that say the opposite, and rules that put one cause before all, must break many rows.
failed() { put "$1" >"$work/got" || cat "$work/got"; awk -F '\t' '$1 == "failed"' "$work/got" | wc -l; }
few() { [ "$1" -gt "$2" ] || echo "only $1 rows failed"; }
cp -r "$AFTERBOIL_RULES" "$work/turned"
chmod -R u+w "$work/turned"
turn='{ out = ""
	while (match($0, / ratio="[0-9.]+"/)) {
		out = out substr($0, 1, RSTART - 1) sprintf(" ratio=\"%.4f\"", 1 / substr($0, RSTART + 8, RLENGTH - 9))
		$0 = substr($0, RSTART + RLENGTH)
	}
	print out $0 }'
awk "$turn" "$AFTERBOIL_RULES/causes.xml" >"$work/turned/causes.xml"
ok 'signs turned round break a hundred rows' "$(few "$(failed "$work/turned")" 100)"
cp "$AFTERBOIL_RULES/causes.xml" "$work/turned/causes.xml"
sed -i -E 's/(<gives fault="[^"]*" noticeable=")[^"]*(" strong=")[^"]*/\10.1\20.03/' "$work/turned/causes.xml"
ok 'links all alike break rows' "$(few "$(failed "$work/turned")" 8)"
plan
