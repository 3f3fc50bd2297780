# compare.t - what a difference between two batches weighs: the chances of the small rules' one cause that looks at it, reckoned by R
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need Rscript jq
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT
data=$top_srcdir/tests/cli/data
small="--rules-base $data/rules"

# batch ID TEMP TASTING: pale-1 with another temperature and another tasting
batch() {
	sed "s/id=\"pale-1\"/id=\"$1\"/; s/26 C/$2 C/g; s|<found.*/>|$3|" "$data/brewery/pale-1.xml" >"$work/$1.xml"
}
hot='<found fault="boozy" intensity="4"/>'
batch warm 26 "$hot"; batch cool 19 ''; batch mild 21.5 '<found fault="buttery" intensity="3"/>'; batch hotter 24 "$hot"; batch chilled 17 "$hot"

# fact ID: value, u and blame of the cause
fact() {
	"$AFTERBOIL" facts "$work/$1.xml" $small --format json | jq -r '[.facts[] | select(.name == "ferment.early-mean-over") | .value, .u] | join(" ")'
}
blame() {
	"$AFTERBOIL" diagnose "$work/$1.xml" $small --format json | jq -r '[.causes[] | select(.id == "too-warm") | .blame] + [0] | .[0]'
}
# differ A B [VALUE U]: p_a, p_b, moves, matters where they differ from R's by more than 1e-9
differ() {
	echo "${3:-$(fact "$1")} $(fact "$2") $(blame "$1") $(blame "$2")" | Rscript --vanilla "$top_srcdir/tests/handbook/compare.R" >"$work/want"
	"$AFTERBOIL" compare "$1" "$2" "$work" $small --format json |
		jq -r '.facts[] | select(.name == "ferment.early-mean-over") | "\(.p_a) \(.p_b) \(.moves) \(.matters)"' >"$work/got"
	paste -d' ' "$work/got" "$work/want" | awk 'NF != 8 { print "not told: " $0; next }
		{ for (i = 1; i <= 4; i++) if (($i - $(i + 4)) ^ 2 > 1e-18) print "figure " i ": " $i ", R has " $(i + 4) } END { if (NR != 1) print NR " rows" }'
}
for pair in 'warm cool' 'cool warm' 'warm mild' 'mild chilled' 'hotter chilled'; do
	ok "$pair: R" "$(differ $pair)"
done
# The heavier of two is named first: what moves a blamed cause before what moves none.
ok 'what matters stands first' "$("$AFTERBOIL" compare warm cool "$work" $small --format json | jq -r 'if .facts[0].name == "ferment.early-mean-over" and ([.facts[].matters] | . == (sort | reverse)) then empty else .facts[0] end')"

if [ -n "$(differ warm cool '6.001 1.1')" ]; then seen=''; else seen='a thousandth of a degree went unnoticed'; fi
ok 'a fact a thousandth of a degree off is noticed' "$seen"
plan
