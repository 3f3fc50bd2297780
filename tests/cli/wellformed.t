# wellformed.t - HTML of every command and example: no fault for an HTML reader, well-formed for an XML reader, nothing fetched, the same words as the text
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need xmllint
examples=$top_srcdir/examples
LC_ALL=C.UTF-8
export LC_ALL

# as_xml: the page without its doctype, and with its one element that needs no end ended
as_xml() {
	sed '1{/^<!DOCTYPE html>$/d}; s/<meta charset="utf-8">/<meta charset="utf-8"\/>/' "$tmp/out" >"$tmp/x.xml"
	xmllint --noout "$tmp/x.xml"
}
as_html() {
	[ -z "$(xmllint --html --noout "$tmp/out" 2>&1)" ]
}
# fetches nothing: no address, no script, no picture, no frame
still() {
	! grep -nEi 'https?:|src=|href=|url\(|@import|<(script|img|iframe|link|object|form)' "$tmp/out"
}
count() { # XPATH
	xmllint --xpath "string(count($1))" "$tmp/x.xml"
}
page() { # TITLE ARGS...
	local title=$1
	shift
	run "$@" --format html
	ok "$title: read" test "$status" -le 1
	ok "$title: HTML" as_html
	ok "$title: well-formed" as_xml
	ok "$title: fetches nothing" still
	ok "$title: one title, one body" same '1 1' "$(count //title) $(count //body)"
	ok "$title: each row of a table is as long as the first" same 0 "$(count '//tr[count(*) != count(../tr[1]/*)]')"
	ok "$title: classes are those of the sheet" same 0 \
		"$(count '//*[@class and not(contains(" loud quiet good bad careful r o x d it in1 it in2 it in3 it ", concat(" ", @class, " ")))]')"
}

for file in "$examples"/[01]*.xml; do
	page "diagnose $(basename "$file" .xml)" diagnose "$file" --redraws 0
done
page 'diagnose, everything' diagnose "$examples" --all --redraws 0
ok 'fifteen headings' same 15 "$(count //h1)"
page facts facts "$examples" --all
ok 'fifteen headings' same 15 "$(count //h1)"
page trend trend "$examples" --no-store --all
ok 'a row for each batch, and one for the heads of each table' same "$((15 + $(count //table)))" "$(count '//table//tr')"
page advise advise "$examples" --no-store --all --redraws 0
page 'advise, small' advise "$data/brewery" $small --no-store --budget 0
page 'rules list' rules list
ok 'ten kinds' same 10 "$(count //h2)"
page 'a fault alone' diagnose --fault buttery=3 --redraws 0
for id in diacetyl ferment-too-warm water-bath-ice; do
	page "rules explain $id" rules explain "$id"
done

# the words are those of the text, in order, whatever stands around them (bars are drawn alike: both know UTF-8)
words() { tr -s '[:space:]' '\n' | grep -v '^$'; }
unmarked() {
	sed 's/<style>.*//; /^body{\|^h1{\|^td,\|^\.loud/d; s/<title>[^<]*<\/title>//; s/<\/t[dh]>/ /g; s/<[^>]*>//g; s/&lt;/</g; s/&gt;/>/g; s/&quot;/"/g; s/&#39;/'"'"'/g; s/&amp;/\&/g' "$1"
}
for file in "$examples/03-house-pale.xml" "$examples/10-storm-porter.xml" "$examples/12-house-pale.xml"; do
	run facts "$file" --format html
	unmarked "$tmp/out" | sed 's/^Facts of batch [^,]*, [^,]*//' | words | grep -oE '[a-z]+\.[a-z-]+|[0-9.]+' >"$tmp/marked"
	run facts "$file" --width 200
	words <"$tmp/out" | grep -oE '[a-z]+\.[a-z-]+|[0-9.]+' >"$tmp/bare"
	# the heading stands apart in HTML, so only what follows it is compared
	ok "$(basename "$file" .xml): names and figures of its facts are those of the text" \
		sh -c "sed -n '/^[a-z]*\\.[a-z]/,\$p' '$tmp/marked' >'$tmp/m'; sed -n '/^[a-z]*\\.[a-z]/,\$p' '$tmp/bare' >'$tmp/b'; [ \$(wc -l <'$tmp/b') -gt 40 ] && diff '$tmp/b' '$tmp/m'"
done
plan
