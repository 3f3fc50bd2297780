# formats.t - the manual pages of the formats: clean mdoc, whole against the schemas, and their examples work as printed
#
# The schemas in rules/*.rng are the other side: what they name stands on the page, in the section of its element.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need mandoc
mkdir -p "$tmp/man/man1" "$tmp/man/man5" "$tmp/try/my-rules"
run --man-page && cp "$tmp/out" "$tmp/man/man1/afterboil.1"
run --journal-page && cp "$tmp/out" "$tmp/man/man5/afterboil-journal.5"
ok 'journal: written' same 0 "$status"
run --rules-page && cp "$tmp/out" "$tmp/man/man5/afterboil-rules.5"
ok 'rules: written' same 0 "$status"

for page in man1/afterboil.1 man5/afterboil-journal.5 man5/afterboil-rules.5; do
	ok "$page: mandoc finds nothing to say" same '' "$(mandoc -T lint -W style "$tmp/man/$page" 2>&1)"
	mandoc -T ascii -O width=200 "$tmp/man/$page" | sed 's/.\x08//g' >"$tmp/$(basename "$page").txt"
	for other in 'afterboil(1)' 'afterboil-journal(5)' 'afterboil-rules(5)'; do
		[ "$(basename "$page")" = "$(sed 's/(\(.\))/.\1/' <<<"$other")" ] ||
			ok "$page leads to $other" sh -c "sed -n '/^SEE ALSO/,/^[A-Z]*\$/!d; p' '$tmp/$(basename "$page").txt' | grep -qF '$other'"
	done
done

# missing SCHEMA PAGE: a line for each element of the schema without its place on the page, and each attribute that its
# element's section lacks. An element without attributes of its own and without children is only listed by those that hold it.
missing() {
	awk -v page="$2" '
	BEGIN {
		while ((getline line <page) > 0)
			if (line ~ /^   <[a-z-]+>$/) { at = substr(line, 5, length(line) - 5); section[at] = 1 }
			else if (line ~ /^     <[a-z-]+>/) { split(line, w, /[<> ]+/); held[w[2]] = 1 }
			else if (line ~ /^     [a-z]/) { split(line, w, " "); has[at, w[1]] = 1 }
	}
	/<element name=/ { match($0, /name="[^"]*"/); e = substr($0, RSTART + 6, RLENGTH - 7); elements++
		if (!(e in section) && !(e in held) && e != "batches") print "no element " e }
	/<attribute name=/ { match($0, /<attribute name="[^"]*"/); a = substr($0, RSTART + 17, RLENGTH - 18); attributes++
		if (a != "guess" && !((e, a) in has)) print "no attribute " a " of " e }
	END { if (elements < 30 || attributes < 60) print "only " elements " elements, " attributes " attributes" }' "$1"
}
for pair in journal:journal profile:journal rules:rules; do
	ok "all of ${pair%:*}.rng stands on its page" same '' \
		"$(missing "$top_srcdir/rules/${pair%:*}.rng" "$tmp/afterboil-${pair#*:}.5.txt")"
done
# and the judge can see: a page without one line is found out
grep -v '^     above-80' "$tmp/afterboil-journal.5.txt" >"$tmp/short.txt"
ok 'a missing attribute is found out' same 'no attribute above-80 of chill' "$(missing "$top_srcdir/rules/journal.rng" "$tmp/short.txt")"
sed 's/^     <ways>/     /' "$tmp/afterboil-rules.5.txt" >"$tmp/short.txt"
ok 'a missing element is found out' same 'no element ways' "$(missing "$top_srcdir/rules/rules.rng" "$tmp/short.txt")"
ok 'guess is told' grep -q 'guess="yes"' "$tmp/afterboil-journal.5.txt"

# the examples, as a reader would copy them off the page
cut_out() { sed -n "/^EXAMPLES/,\$p" "$tmp/$1" | sed -n "/<?xml/,/<\/$2>/p" | sed -n "/<?xml/{h;d};H;/<\/$2>/{x;p;q}" | sed 's/^     //'; }
cut_out afterboil-journal.5.txt batch >"$tmp/try/porter-4.xml"
sed -n '/<brewery xmlns/,/<\/brewery>/p' "$tmp/afterboil-journal.5.txt" | sed 's/^     //' >"$tmp/try/profile.xml"
cut_out afterboil-rules.5.txt rules >"$tmp/try/my-rules/cellar.xml"
for f in porter-4.xml profile.xml my-rules/cellar.xml; do
	ok "$f was cut out of the page" test "$(wc -l <"$tmp/try/$f")" -ge 10
done
rules_dir=$(cd "$top_srcdir/rules" && pwd)
AFTERBOIL=$(realpath "$AFTERBOIL") AFTERBOIL_RULES=$rules_dir
export AFTERBOIL_RULES
cd "$tmp/try" || exit 1
sed -n 's/^ *\(afterboil [a-z]* [-a-z].*\)$/\1/p' "$tmp/afterboil-journal.5.txt" "$tmp/afterboil-rules.5.txt" |
	grep 'porter-4.xml\|--rules my-rules' >"$tmp/typed"
ok 'six commands are shown' same 6 "$(wc -l <"$tmp/typed")"
while read -r line; do
	eval "set -- ${line#afterboil }"
	run "$@"
	ok "works as printed: $line" same 0 "$status"
	ok "says nothing of trouble: $line" silent err
	case $line in
	*check*) ok 'nothing odd in the journal' sh -c "! grep -q odd '$tmp/out'" ;;
	*lint*) ok 'the rules are without error' says out '^OK: 0 errors'
		ok 'and without advice' sh -c "! grep cellar '$tmp/out'" ;;
	*explain*) ok 'the cause is explained' says out 'air of the cellar' ;;
	*like*) ok 'the fault leads to the cause of the file' says out 'took up the air of the cellar' ;;
	*diagnose*) ok 'the heat of the first days is found' says out 'too warm' ;;
	esac
done <"$tmp/typed"
plan
