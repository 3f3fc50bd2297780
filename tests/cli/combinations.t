# combinations.t - options together: what one may not change in the result of another
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
brewery=$data/brewery

# alike TITLE "ARGS" "ARGS": both give the same on standard output, the same words beside it and the same status
alike() {
	local title=$1 first
	eval "run $2"
	first=$status
	cp "$tmp/out" "$tmp/first"
	cp "$tmp/err" "$tmp/words"
	eval "run $3"
	ok "$title" cmp "$tmp/first" "$tmp/out"
	ok "$title: so are the words beside it" cmp "$tmp/words" "$tmp/err"
	ok "$title: and the status" same "$first" "$status"
}
# other TITLE "ARGS" "ARGS": the two differ
other() {
	eval "run $2"
	cp "$tmp/out" "$tmp/first"
	eval "run $3"
	ok "$1" sh -c "! cmp -s '$tmp/first' '$tmp/out'"
	ok "$1: both were written" test -s "$tmp/first" -a -s "$tmp/out"
}

base="'$brewery' $small"
while IFS='|' read -r relation title one two; do
	$(echo $relation) "$(echo $title)" "$one" "$two"
done <<T
	alike | width is nothing to data | diagnose $base --format json --width 40 | diagnose $base --format json --width 200
	alike | colour is nothing to data | diagnose $base --format json --color always | diagnose $base --format json
	alike | --all is nothing to data | diagnose $base --format json --all | diagnose $base --format json
	alike | --all is nothing to data of facts | facts $base --format json --all | facts $base --format json
	alike | colour is nothing to HTML | facts $base --format html --color always | facts $base --format html
	alike | width is nothing to HTML | trend $base --no-store --format html --width 40 | trend $base --no-store --format html
	alike | the order of options | diagnose $base --batch pale-1 --width 60 --all | diagnose --all --width 60 $base --batch pale-1
	alike | letters and names | diagnose $base -b pale-1 -a -w 60 -F text | diagnose $base --batch pale-1 --all --width 60 --format text
	alike | the last of two formats | facts $base --format json --format text | facts $base
	alike | a batch named twice | facts $base --batch pale-1 --batch pale-1 | facts $base --batch pale-1
	alike | batches in whatever order | facts $base --batch pale-3 --batch pale-1 | facts $base --batch pale-1 --batch pale-3
	alike | the newest of a line is the newest | facts $base --line 'shed pale' --last 1 | facts $base --last 1
	alike | files or their folder | facts '$brewery/pale-1.xml' '$brewery/pale-2.xml' '$brewery/pale-3.xml' '$brewery/pale-4.xml' $small | facts $base
	alike | seeds are nothing without redraws | diagnose $base --batch pale-1 --redraws 0 --seed 1 | diagnose $base --batch pale-1 --redraws 0 --seed 2
	alike | the usual seed is 1 | diagnose $base --batch pale-2 --format json | diagnose $base --batch pale-2 --format json --seed 1 --redraws 200
	alike | the same seed of advice | advise $base --no-store --seed 5 | advise $base --no-store --seed 5
	alike | habits: 6 when not told | advise $base --no-store --format json --changes 6 | advise $base --no-store --format json
	alike | what the profile states may be told | advise $base --no-store --format json --budget 100 | advise $base --no-store --format json
	alike | money without its sign | advise $base --no-store --budget 60 | advise $base --no-store --budget '\$60'
	alike | the intensity is 3 when not told | diagnose --fault buttery $small | diagnose --fault buttery=3 $small
	alike | words of one fault | diagnose --fault buttery=2 $small | diagnose --fault popcorn=2 $small
	alike | blanks and capitals | diagnose --fault Buttery=2 $small | diagnose --fault buttery=2 $small
	alike | faults in whatever order | diagnose --fault buttery=2 --fault boozy=4 $small | diagnose --fault boozy=4 --fault buttery=2 $small
	alike | the rules named twice over | rules list --rules-base '$data/rules' | rules list $small
	alike | lint both ways | rules lint $small | rules --lint $small
	alike | list is what rules does alone | rules $small | rules list $small
	alike | a kind in capitals | rules list CAUSES $small | rules list causes $small
	alike | trend of the newest is of all but the oldest | trend $base --no-store --last 4 --format json | trend $base --no-store --format json
	other | another width | diagnose $base --batch pale-1 --width 40 | diagnose $base --batch pale-1 --width 100
	other | another seed, other ranges | diagnose $base --batch pale-2 --format json --seed 1 | diagnose $base --batch pale-2 --format json --seed 2
	other | redraws make ranges | diagnose $base --batch pale-2 --format json --redraws 0 | diagnose $base --batch pale-2 --format json --redraws 50
	other | another intensity | diagnose --fault buttery=1 $small | diagnose --fault buttery=5 $small
	other | what was not found counts | diagnose --fault buttery=3 $small | diagnose --fault buttery=3 --absent boozy $small
	other | more money | advise $base --no-store --budget 0 | advise $base --no-store --budget 400
	other | one habit only | advise $base --no-store --format json --redraws 0 --changes 1 --budget 0 | advise $base --no-store --format json --redraws 0 --minutes 0 --budget 0
	other | more years of running | advise $base --no-store --format json --horizon 1 | advise $base --no-store --format json --horizon 10
	other | fewer batches | trend $base --no-store --last 2 | trend $base --no-store
	other | US units | facts $base | facts $base --profile '$data/us.xml'
	other | --all tells more | advise $base --no-store | advise $base --no-store --all
T

# units: text differs, data never do; every command that takes a profile
for c in diagnose facts advise trend; do
	extra=
	case $c in advise | trend) extra=--no-store ;; esac
	sed 's/units="metric"/units="us"/' "$brewery/profile.xml" >"$tmp/us.xml"
	alike "$c: units are nothing to data" "$c $base $extra --format json" "$c $base $extra --format json --profile '$tmp/us.xml'"
done
run facts "$brewery" $small --profile "$tmp/us.xml" --width 200
ok 'US units: no C, L, bar or mm is left' sh -c "! grep -E '^  [a-z.-]+ = [0-9.+ -]* (C|L|bar|mm|K): ' '$tmp/out'"
run facts "$brewery" $small --width 200
ok 'metric units: no F, gal, psi or in' sh -c "! grep -E '^  [a-z.-]+ = [0-9.+ -]* (F|gal|psi|in|F degrees): ' '$tmp/out'"

# currencies: before or after, on every price
for money in '$|\$90' 'EUR|90 EUR'; do
	sed "s/currency=\"[^\"]*\"/currency=\"${money%%|*}\"/" "$brewery/profile.xml" >"$tmp/money.xml"
	run advise "$brewery" $small --no-store --profile "$tmp/money.xml"
	ok "${money%%|*}: prices" says out "\\(${money#*|}, "
	run advise "$brewery" $small --no-store --profile "$tmp/money.xml" --format json
	ok "${money%%|*}: named in the data" same "${money%%|*}" "$(jq -r .currency "$tmp/out")"
done

# widths: every report at every tenth column, filled but never over
for width in 40 50 60 70 90 110 150; do
	for c in 'rules explain too-warm' 'rules list' "diagnose --fault buttery" "advise '$brewery' --no-store"; do
		eval "run $c $small --width $width"
		ok "$c, $width columns" sh -c "! grep -E '.{$((width + 1))}' '$tmp/out'"
	done
done
plan
