# compare.t - two brews side by side
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
examples=$top_srcdir/examples
golden compare compare pale-1 pale-3 "$data/brewery" $small
run compare house-pale-2 house-pale-3 "$examples" --format json
cp "$tmp/out" "$tmp/there"
run compare house-pale-3 house-pale-2 "$examples" --format json
ok 'the other way round: the same facts differ' same "$(jq -cS '[.facts[].name] | sort' "$tmp/there")" "$(jq -cS '[.facts[].name] | sort' "$tmp/out")"
ok 'with the values exchanged' same "$(jq -cS '[.facts[] | {name, x: .a, y: .b}] | sort' "$tmp/there")" "$(jq -cS '[.facts[] | {name, x: .b, y: .a}] | sort' "$tmp/out")"
ok 'the heat stands first' same ferment.early-mean-over "$(jq -r '.facts[0].name' "$tmp/there")"
ok 'what matters most first' jq -e '[.facts[].matters] == ([.facts[].matters] | sort | reverse)' "$tmp/there"
run facts "$examples" --batch house-pale-2 --format json
jq -c '[.facts[] | {key: .name, value: .value}] | from_entries' "$tmp/out" >"$tmp/facts"
ok 'values are those of the facts' jq -e --slurpfile f "$tmp/facts" 'all(.facts[]; .a == $f[0][.name])' "$tmp/there"
run diagnose "$examples" --batch house-pale-3 --format json --redraws 0
jq -c '[.causes[] | {key: .id, value: .blame}] | from_entries' "$tmp/out" >"$tmp/blame"
ok 'blame is that of the diagnosis' jq -e --slurpfile d "$tmp/blame" 'all(.causes[]; (.b - $d[0][.id] | fabs) < 1e-9)' "$tmp/there"
run compare house-pale-2 slipway-stout-1 "$examples"
ok 'another beer is said to be one' test "$status" -ne 0 -o -n "$(grep -o 'not written as brews of one line' "$tmp/out")"

# words | status
while IFS='|' read -r words wanted; do
	eval "ends $(echo $wanted) \"compare $words\" compare $words"
done <<'T'
	| 2
	pale-1 | 2
	pale-1 pale-2 | 2
	pale-1 pale-1 "$data/brewery" $small | 2
	pale-1 pale-9 "$data/brewery" $small | 2
	pale-1 pale-2 "$data/nowhere" $small | 3
	pale-1 pale-2 "$data/brewery" $small --format html | 1
	pale-1 pale-2 "$data/brewery" $small --all | 1
	pale-1 pale-2 "$data/brewery" $small --store x | 2
T
plan
