# sizes.t - advice that fits the size of the batch: no two packs, coil or keg for four litres
#
# What is too much for a small batch is arithmetic and sense: a pack of dry yeast holds about 88 thousand million living cells, and
# 4 L of 12 P want 0.75 x 4 x 12 = 36 (White and Zainasheff 2010, from memory); a cup of slurry has some 240.
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need jq

# kitchen FOLDER LITRES OG CLASS: a brewer's folder with one green and fruity batch of which no yeast was weighed
kitchen() {
	mkdir -p "$bad/$1"
	printf '<brewery xmlns="urn:afterboil:profile:1" name="K" currency="$" space="floor"><batch-size volume="%s L"/>%s%s</brewery>\n' "$2" \
		'<per-year batches="12"/><brews family="pale-hoppy"/><money now="900" per-year="300"/><time per-batch="200 min"/>' \
		'<packs into="bottles"/>' >"$bad/$1/profile.xml"
	printf '<batch xmlns="urn:afterboil:journal:1" id="a" brewed="2031-03-01" family="pale-hoppy"><yeast class="%s" form="liquid"/>%s%s</batch>\n' \
		"$4" "<reading at=\"+0d\" gravity=\"$3 SG\"/><tasting at=\"2031-04-20\" complete=\"yes\"><found fault=\"green apple\" intensity=\"3\"/>" \
		'<found fault="fruity" intensity="3"/><found fault="sweetcorn" intensity="3"/></tasting>' >"$bad/$1/a.xml"
}

# barred NAME ARGUMENTS...: ids of changes that are not for the way this brewer brews
barred() {
	local name=$1
	shift
	"$AFTERBOIL" advise --no-store --budget 900 --format json "$@" >"$bad/$name.json" 2>"$bad/words"
	jq -r '.ranked[] | select(.barred == "not for the way you brew") | .id' "$bad/$name.json" | sort
}

# among FILE CHANGE...: how many of the changes stand in the list
among() {
	local file=$1
	shift
	printf '%s\n' "$@" | sort | comm -12 "$file" - | wc -l
}

large='two-packs starter-jar stir-plate air-pump oxygen-wand immersion-chiller pump-and-plate-chiller glycol-chiller kegs
bench-capper bottle-tree bigger-kettle smaller-batch-full-boil strong-burner'

kitchen small 4 1.048 clean-ale
kitchen usual 20 1.048 clean-ale
kitchen vat 40 1.048 clean-ale
kitchen strong 9 1.090 clean-ale
kitchen lager 9 1.048 lager
for name in small usual vat strong lager; do
	barred "$name" "$bad/$name" >"$bad/$name.txt"
done
# shellcheck disable=SC2086
finds 'four litres: none of what is made for more' 14 "$(among "$bad/small.txt" $large)"
# but for two that ask for more than a size: oxygen is for lagers and strong beers, a smaller batch for who tops up
# shellcheck disable=SC2086
finds 'twenty litres: all of it may be had' 'oxygen-wand smaller-batch-full-boil' "$(printf '%s\n' $large | sort | comm -12 "$bad/usual.txt" - | paste -sd ' ')"
finds 'a lager may have oxygen' 0 "$(among "$bad/lager.txt" oxygen-wand)"
finds 'four litres may stand in a sink of ice' 0 "$(among "$bad/small.txt" ice-bath-and-stir)"
finds 'forty may not' 1 "$(among "$bad/vat.txt" ice-bath-and-stir)"
finds 'nine litres of strong beer want more than a pack' 0 "$(among "$bad/strong.txt" two-packs)"
finds 'and so does a lager' 0 "$(among "$bad/lager.txt" two-packs)"
finds 'a strong one wants more yeast, not another form of it' '1 0' "$(among "$bad/strong.txt" dry-yeast) $(among "$bad/usual.txt" dry-yeast)"
finds 'none of it is chosen either' 0 "$(jq -r '.plan[].id' "$bad/small.json" | sort >"$bad/plan.txt"; among "$bad/plan.txt" ${large//$'\n'/ })"
finds 'there is a plan all the same' true "$(jq '.plan | length > 2' "$bad/small.json")"

# slurry is offered to who buys liquid yeast or keeps some, not to who pitches a dry pack (a fresh one is cheap and sound: common practice)
for how in dry liquid journal profile small; do
	kitchen "slurry-$how" "$([ "$how" = small ] && echo 4 || echo 20)" 1.048 clean-ale
done
sed -i 's/form="liquid"/form="slurry"/' "$bad/slurry-journal/a.xml" "$bad/slurry-small/a.xml"
sed -i 's/form="liquid"/form="dry"/' "$bad/slurry-dry/a.xml"
sed -i 's|</brewery>|<owns change="reuse-fresh-slurry" unused="yes"/></brewery>|' "$bad/slurry-profile/profile.xml"
while read -r how is; do
	barred "slurry-$how" "$bad/slurry-$how" >"$bad/slurry.txt"
	finds "slurry, told by $how" "$is" "$(among "$bad/slurry.txt" reuse-fresh-slurry)"
done <<'END'
dry 1
liquid 0
journal 0
profile 0
small 1
END

# before the first batch: the profile alone
barred alone --profile "$bad/small/profile.xml" >"$bad/alone.txt"
barred alone20 --profile "$bad/usual/profile.xml" >"$bad/alone20.txt"
finds 'before the first batch: no keg, coil or smaller batch for four litres' 4 \
	"$(among "$bad/alone.txt" kegs immersion-chiller smaller-batch-full-boil bigger-kettle)"
finds 'for twenty they stand open' 0 "$(among "$bad/alone20.txt" kegs immersion-chiller bigger-kettle)"
finds 'and no line for who bottles' 1 "$(among "$bad/alone20.txt" longer-line)"

plan
