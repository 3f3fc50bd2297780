# report.t - the report page: stands alone, well-formed, safe; its figures agree with the JSON of the other commands
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need xmllint
need jq
examples=$top_srcdir/examples
LC_ALL=C.UTF-8
export LC_ALL

as_xml() {
	sed '1{/^<!DOCTYPE html>$/d}; s/<meta \([^>]*\)>/<meta \1\/>/; s/<input \([^>]*\)>/<input \1\/>/; s/ hidden>/ hidden="">/' "$1" >"$tmp/x.xml"
	xmllint --noout "$tmp/x.xml"
}
count() { # XPATH
	xmllint --xpath "string(count($1))" "$tmp/x.xml"
}
text() { # XPATH
	xmllint --xpath "string($1)" "$tmp/x.xml"
}

run report "$examples" -o "$tmp/page.html"
ok 'the page is written, and bottles want a look' same 1 "$status"
ok 'and where it is, is said' says err "written: $tmp/page.html"
ok 'nothing on standard output' same '' "$(cat "$tmp/out")"
run report "$examples"
ok 'without -o the same goes to standard output' cmp -s "$tmp/page.html" "$tmp/out"
ok 'well-formed' as_xml "$tmp/page.html"
ok 'fetches nothing' sh -c "! grep -nEi 'https?:|src=|url\\(|@import|<(img|iframe|link|object|form)' '$tmp/page.html'"
ok 'links lead to places of the page' sh -c "grep -oE 'href=\"#[^\"]*\"' '$tmp/page.html' | tr -d '\"' | sed 's/href=#//' | while read -r id; do
	grep -q \"id=\\\"\$id\\\"\" '$tmp/page.html' || exit 1; done"
ok 'no id twice' same '' "$(grep -oE ' id="[^"]*"' "$tmp/page.html" | sort | uniq -d)"
ok 'one heading of the whole' same 1 "$(count //h1)"
ok 'each figure has a title and a text equivalent' same "$(count //figure)" "$(count '//figure[svg/title and svg/desc and figcaption]')"
ok 'each figure has its numbers' same "$(count //figure)" "$(count '//figure[figcaption/details//tr]')"
ok 'each figure names its text' same "$(count //svg)" "$(count '//svg[@aria-labelledby = concat(title/@id, " ", desc/@id)]')"
ok 'no coordinate is "unknown"' sh -c "! grep -nE '(nan|inf|unknown|very)[^<]*\"' '$tmp/page.html' | grep -E 'points=|cx=|x1=|width='"
ok 'some of every kind' sh -c "for f in loads plan frontier b2-causes b2-temperature b2-gravity b2-touches b2-oxygen b2-pressure; do
	grep -q \"id=\\\"\$f-t\\\"\" '$tmp/page.html' || { echo \$f; exit 1; }; done"

# the numbers are those of the other commands
"$AFTERBOIL" advise "$examples" --no-store --format json >"$tmp/advice.json" 2>/dev/null
ok 'the plan has the items of advise' same "$(jq '.plan | length' "$tmp/advice.json")" "$(count '//figure[svg/title/@id="plan-t"]/svg/rect')"
ok 'the frontier has its points' same "$(jq '.frontier | length' "$tmp/advice.json")" "$(count '//figure[svg/title/@id="frontier-t"]/svg/circle')"
ok 'load left at the end of the frontier' same "$(jq -r '.frontier[-1].load | . * 100 | round | . / 100 | tostring' "$tmp/advice.json")" \
	"$(text '//figure[svg/title/@id="frontier-t"]//tr[last()]/td[2]' | sed 's/0*$//')"
ok 'the slider stops at each of them' same "$(jq '.frontier | length' "$tmp/advice.json")" \
	"$(($(text '//input[@id="budget"]/@max') + 1))"
ok 'and says what is bought for it' same "$(jq -r '([.ranked[] | {(.id): .title}] | add) as $title | .frontier[1].buys | map($title[.]) | join("; ")' "$tmp/advice.json")" \
	"$(text '//figure[svg/title/@id="frontier-t"]//tbody/tr[2]/td[3]')"
ok 'in the currency of the profile' same 'Money to spend, in $' "$(text '//label[@for="budget"]')"
ok 'what money brings: each change of the plan that costs some' same \
	"$(jq '[.plan[] | select(.cost + .running_cost > 0)] | length' "$tmp/advice.json")" "$(count '//figure[svg/title/@id="worth-t"]/svg/rect')"
"$AFTERBOIL" trend "$examples" --no-store --format json >"$tmp/trend.json" 2>/dev/null
ok 'the loads are those of the trend' same "$(jq -r '[.batches[] | if .load > 0 then (.load * 10 | round | . / 10) else "none" end] | join(" ")' "$tmp/trend.json")" \
	"$(xmllint --xpath '//figure[svg/title/@id="loads-t"]//tr/td[3]/text()' "$tmp/x.xml" | sed 's/\.0$//' | tr '\n' ' ' | sed 's/ $//')"

# whoever thinks in US units meets no other, in words, tables and folded parts (concentrations are mg/L everywhere)
cp -R "$examples" "$tmp/us" && chmod -R u+w "$tmp/us"
sed 's/units="[a-z]*"/units="us"/' "$examples/profile.xml" >"$tmp/us/profile.xml"
sed -i 's|</brewery>|<trouble chore="slow chilling"/></brewery>|' "$tmp/us/profile.xml"
run report "$tmp/us" --no-store -o "$tmp/us.html"
ok 'what eases a burden that was named: before the plan, and among its words' same 2 "$(grep -o 'What you named: Chilling takes too long' "$tmp/us.html" | wc -l)"
metric='[0-9] (C|K|kPa|bar|mm|cm|L|kg|g\/L)([^A-Za-z]|$)'
ok 'US units: none but these' same '' "$(sed 's/<[^>]*>/\n/g' "$tmp/us.html" | grep -E "$metric")"
ok 'and the same in metric has some' test "$(sed 's/<[^>]*>/\n/g' "$tmp/page.html" | grep -cE "$metric")" -ge 20

# a stranger's journal
cat >"$tmp/h.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="a" brewed="2031-01-01" title="&lt;script&gt;alert(1)&lt;/script&gt;" family="wheat">
<change adopted="yes">&lt;/text&gt;&lt;script&gt;</change>
<tasting at="2031-02-01" complete="yes"><found fault="buttery" intensity="4"/></tasting>
</batch>
X
sed 's/id="[^"]*"/id="second"/; s/2031/2032/g' "$tmp/h.xml" >"$tmp/i.xml"
run report "$tmp/h.xml" "$tmp/i.xml" $small -o "$tmp/h.html"
ok 'a stranger: read' test "$status" -le 1
ok 'a stranger: still well-formed' as_xml "$tmp/h.html"
ok 'a stranger: no script but ours' same 1 "$(count //script)"

# nothing there, nowhere to write
run report "$examples" -o "$tmp/none/page.html"
ok 'a folder that is not there' same 4 "$status"
run report
ok 'without journals' same 2 "$status"
printf 'old' >"$tmp/keep.html"
run report "$tmp/missing.xml" -o "$tmp/keep.html"
ok 'bad input leaves the old page' same old "$(cat "$tmp/keep.html")"
plan
