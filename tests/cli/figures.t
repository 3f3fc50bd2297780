# figures.t - what the screen says in figures is what the data say: blame, load, money, facts, for every example batch
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
examples=$top_srcdir/examples
wide='--all --width 200'
# jq: as the screen rounds, halves upward
round='def pct: if . < 0.005 then (if . > 0 then "under 1" else "0" end) elif (100 * . + 0.5 | floor) >= 100 then "over 99" else (100 * . + 0.5 | floor | tostring) end;
	def digits($n): pow(10; $n) as $p | (fabs * $p + 0.5 | floor) as $s | (if . < 0 and $s > 0 then "-" else "" end) + ($s / $p | floor | tostring)
		+ (if $n == 0 then "" else "." + ("000" + ($s % $p | tostring))[-$n:] end);
	def money: if . == 0 then "nothing" elif (. - (. + 0.5 | floor) | fabs) < 0.005 then "$" + digits(0) else "$" + digits(2) end;'
of() { # FILTER: of the data
	jq -r "$round $1" "$tmp/data"
}

# the kin that leads, or null; is this cause of it?
lead='def among($k): . as $id | $k != null and ($k.causes | index($id)) != null; (first(.kins[] | select(.leads)) // null) as $k'

# ---- diagnose: each cause with its blame, in order; the range; grades and faults ----

for file in "$examples"/[01]*.xml; do
	batch=$(basename "$file" .xml)
	run diagnose "$file" --redraws 40 --format json
	cp "$tmp/out" "$tmp/data"
	run diagnose "$file" --redraws 40 $wide
	sed -n 's/.*Blame \(.*\) %: of 100.*/\1/p; s/.*\. Of 100 batches like this one, about \([0-9]*\) owe.*/\1/p' "$tmp/out" >"$tmp/said"
	sed -n '/^Other suspects/,/^$/s/^ *\(\(under \|over \)\{0,1\}[0-9]*\) %  .*/\1/p' "$tmp/out" >>"$tmp/said"
	if [ "$(of '.found | length')" = 0 ]; then
		ok "$batch: nothing found, nobody blamed" same '' "$(cat "$tmp/said")"
		continue
	fi
	ok "$batch: each blame is that of the data, in order" same "$(of "$lead | [\$k.blame // empty] + [.causes[] | select(.id | among(\$k) | not) | .blame] | .[] | pct")" "$(cat "$tmp/said")"
	ok "$batch: the ways of a kin are those of the data" same "$(of "$lead | .causes[] | select(.id | among(\$k)) | .blame | \"(\(pct) %)\"")" \
		"$(sed -n '/^What m.* likely/,/^$/p' "$tmp/out" | grep -oE '\((under |over )?[0-9]+ %\)')"
	ok "$batch: the range of the first" same "$(of "$lead | (\$k // .causes[0])"' | select(.blame_high > .blame_low) | "likely \(100 * .blame_low + 0.5 | floor) to \(100 * .blame_high + 0.5 | floor)"')" \
		"$(grep -o 'likely [0-9]* to [0-9]*)' "$tmp/out" | head -1 | tr -d ')')"
	ok "$batch: grades of what was found" same "$(of '[.found[].grade] | sort | join(" ")')" \
		"$(sed -n 's/^Found in the glass: //p' "$tmp/out" | grep -oE ': (slight|moderate|strong)' | cut -c3- | sort | xargs)"
	ok "$batch: every check and question has its number" same "$(of '.next | length')" "$(sed -n '/^What to check next/,/^$/p' "$tmp/out" | grep -cE '^ *[0-9]+\. ')"
done

# ---- trend: each load, each mean, each promise ----

run trend "$examples" --no-store --format json
cp "$tmp/out" "$tmp/data"
run trend "$examples" --no-store $wide
ok 'every batch has its row' same "$(of '.batches | length')" "$(grep -cE '^  [a-z0-9-]+ +20[0-9]{2}-' "$tmp/out")"
of '.batches[] | "\(.id) \(.brewed[:10]) \(if .tasted then (.load | digits(1)) else "-" end)"' | sort >"$tmp/wanted"
sed -nE 's/^  ([a-z0-9-]+) +(20[0-9]{2}-[0-9-]+) +([0-9.-]+)( .*|)$/\1 \2 \3/p' "$tmp/out" | sort >"$tmp/said"
ok 'loads are those of the data' diff "$tmp/wanted" "$tmp/said"
# by their plain names
named() { while read -r id; do sed -n "/<fault id=\"$id\"/,/<\/fault>/s|.*<title>\(.*\)</title>.*|\1|p" "$AFTERBOIL_RULES/faults.xml"; done; }
ok 'the first faults are the heaviest' same \
	"$(of '.batches[] | select(.id == "house-pale-3") | .faults | to_entries | sort_by(-.value) | .[:3] | map(.key)[]' | named | tr 'A-Z' 'a-z' | paste -sd ';' | sed 's/;/; /g')" \
	"$(sed -nE 's/^  house-pale-3 .*   +([a-z].*)$/\1/p' "$tmp/out")"
# no digits finer than the range is wide
fine='digits(if $r < 1 then 2 else 1 end)'
slope() { # NAME: its size, and which way it goes
	of "(.slope_high - .slope_low) as \$r | .slope_$1 | \"\(fabs | $fine) \(if . > 0 then \"heavier\" else \"lighter\" end)\""
}
ok 'the slope' grep -qF "each batch $(slope per_batch) than the one before (likely between $(slope high) and $(slope low))" \
	<(tr -s ' \n' ' ' <"$tmp/out")
of '.changes[] | select(.n_before > 0 and .n_after > 0) | "\(.before | digits(1)) before (\(.n_before) \(.after | digits(1)) after (\(.n_after)"' >"$tmp/wanted"
tr -s ' \n' ' ' <"$tmp/out" >"$tmp/flat"
grep -oE 'Mean load [0-9.]+ before \([0-9]+ batch(es)?\), [0-9.]+ after \([0-9]+' "$tmp/flat" |
	sed -E 's/Mean load ([0-9.]+ before \([0-9]+) batch(es)?\),( [0-9.]+ after \([0-9]+)/\1\3/' >"$tmp/said"
ok 'means before and after' diff "$tmp/wanted" "$tmp/said"
# from eight batches on with a drift taken out
of '.changes[] | select(.p_better != null) | (if .n_before + .n_after >= 8 then .allowed_p_better // .p_better else .p_better end) | pct' >"$tmp/wanted"
grep -oE 'Better with a chance of [^%]* %' "$tmp/flat" | sed -E 's/.* of (.*) %/\1/' >"$tmp/said"
ok 'chances' diff "$tmp/wanted" "$tmp/said"

# ---- advise: loads, prices, sums, the frontier, for several budgets ----

for budget in 0 60 400; do
	run advise "$examples" --no-store --redraws 0 --budget $budget --format json
	cp "$tmp/out" "$tmp/data"
	run advise "$examples" --no-store --redraws 0 --budget $budget $wide
	ok "$budget: load now" grep -qF "flaw load $(of '.load_before | digits(2)'), a flawless batch $(of '.flawless_before | pct') %" "$tmp/out"
	ok "$budget: load with it" grep -qF "flaw load $(of '.load_after | digits(2)'), a flawless batch $(of '.flawless_after | pct') %" "$tmp/out"
	of '.plan[] | .joint_gain | digits(2)' >"$tmp/wanted"
	sed -n '/^The plan, in this order/,/^ Together/p' "$tmp/out" | sed -nE 's/^ *[0-9]+\. +(-?[0-9.]+)  .*/\1/p' >"$tmp/said"
	ok "$budget: gains in order" diff "$tmp/wanted" "$tmp/said"
	ok "$budget: gains are the difference of the loads" jq -e '([.plan[].joint_gain] | add // 0) - (.load_before - .load_after) | fabs < 1e-6' "$tmp/data"
	of '.frontier[] | "\(.cost | money) \(.load | digits(2))"' >"$tmp/wanted"
	sed -n '/^What each budget/,/^$/p' "$tmp/out" | sed -nE 's/^ +(nothing|\$[0-9.]+) +([0-9.]+)  .*/\1 \2/p' >"$tmp/said"
	ok "$budget: each step of the frontier" diff "$tmp/wanted" "$tmp/said"
	ok "$budget: the frontier falls as money rises" jq -e '[.frontier[].cost] == ([.frontier[].cost] | sort) and [.frontier[].load] == ([.frontier[].load] | sort | reverse)' "$tmp/data"
	ok "$budget: what is enough is a step of it" jq -e '.enough as $e | any(.frontier[]; (.cost - $e | fabs) < 1e-9)' "$tmp/data"
	ok "$budget: running cost of the plan" jq -e '([.plan[].running_cost] | add // 0) - .running_added | fabs < 1e-6' "$tmp/data"
	ok "$budget: minutes of the plan" jq -e '([.plan[].minutes] | add // 0) - .minutes_added | fabs < 1e-6' "$tmp/data"
	ok "$budget: chosen ones are those of the plan" jq -e '[.ranked[] | select(.chosen).id] | sort == ($p | sort)' --argjson p "$(jq -c '[.plan[].id]' "$tmp/data")" "$tmp/data"
done

# ---- facts: each fact in metric and in US units ----

profile() { # UNITS
	sed "s/units=\"[a-z]*\"/units=\"$1\"/" "$data/us.xml" >"$tmp/$1.xml"
}
profile us
profile metric
for file in "$examples/03-house-pale.xml" "$examples/10-storm-porter.xml"; do
	batch=$(basename "$file" .xml)
	run facts "$file" --profile "$tmp/us.xml" --format json
	cp "$tmp/out" "$tmp/other"
	run facts "$file" --profile "$tmp/metric.xml" --format json
	cp "$tmp/out" "$tmp/data"
	ok "$batch: data are the same for both" cmp "$tmp/data" "$tmp/other"
	run facts "$file" --profile "$tmp/metric.xml" --width 200
	ok "$batch: as many facts as in the data" same "$(of '.facts | length')" "$(grep -cE '^  [a-z][a-z.-]+\.[a-z0-9-]+ = ' "$tmp/out")"
	of '.facts[] | select(.unit == "SG") | "  \(.name) = \(.value | digits(4)) "' >"$tmp/wanted"
	ok "$batch: gravities" same "$(wc -l <"$tmp/wanted")" "$(grep -cFf "$tmp/wanted" "$tmp/out")"
	of '.facts[] | select(.unit == "") | "  \(.name) = \(if .value == true then "yes" elif .value == false then "no" else .value end): "' >"$tmp/wanted"
	ok "$batch: words and flags" same "$(wc -l <"$tmp/wanted")" "$(grep -cFf "$tmp/wanted" "$tmp/out")"
	run facts "$file" --profile "$tmp/us.xml" --width 200
	of '.facts[] | select(.unit == "C") | (.value * 1.8 + 32) as $f | "\(.name) \($f)"' >"$tmp/wanted"
	while read -r name f; do
		said=$(sed -nE "s/^  $name = (-?[0-9.]+)( .*)? F: .*/\1/p" "$tmp/out")
		awk -v a="$said" -v b="$f" 'BEGIN { d = a - b; exit !(a != "" && d < 0.0501 && d > -0.0501) }' || echo "$name: $said, not $f"
	done <"$tmp/wanted" >"$tmp/wrong"
	ok "$batch: temperatures in F" same '' "$(cat "$tmp/wrong")"
	ok "$batch: there were some" test -s "$tmp/wanted"
done
plan
