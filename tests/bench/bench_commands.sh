#!/bin/bash
# bench_commands.sh - what whole commands cost, as ratios to a floor measured in the same run
#
# Floor of a cold start: xmllint --noout --relaxng on the rules. Floor of a long history: xmllint --huge --stream --noout on the same bytes. Runs alternate
# (floor, ours, floor, ours ...); CPU seconds, median; the floor against itself is the control: far from 1.0, the machine was busy and the run says little.
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
: "${AFTERBOIL:?path of the program}" "${srcdir:?top of the source tree}"
rules=$srcdir/rules
export AFTERBOIL_RULES=$rules
tmp=$(mktemp -d) || exit 1
trap 'rm -rf "$tmp"' EXIT
batches=${BATCHES:-10000}
rounds=${ROUNDS:-5}

# cpu COMMAND...: user + system seconds
cpu() {
	local TIMEFORMAT='%U %S' t
	t=$({ time "$@" >"$tmp/out" 2>"$tmp/err"; } 2>&1) || :
	awk '{ printf "%.3f", $1 + $2 }' <<<"$t"
}

median() {
	sort -n | awk '{ v[NR] = $1 } END { print NR % 2 ? v[(NR + 1) / 2] : (v[NR / 2] + v[NR / 2 + 1]) / 2 }'
}

# pair TITLE FLOOR-FUNCTION OUR-FUNCTION
pair() {
	local a=() b=() c=() i
	for ((i = 0; i < rounds; i++)); do
		a+=("$($2)") b+=("$($3)") c+=("$($2)")
	done
	a=$(printf '%s\n' "${a[@]}" | median) b=$(printf '%s\n' "${b[@]}" | median) c=$(printf '%s\n' "${c[@]}" | median)
	awk -v t="$1" -v a="$a" -v b="$b" -v c="$c" 'BEGIN { f = (a + c) / 2
		printf "%-58s floor %8.3f s  ours %8.3f s  ratio %5.2f  control %4.2f\n", t, f, b, b / f, c / a }'
}

# forty cold starts in one measurement: one is below the clock's step
floor_start() { cpu bash -c 'for i in {1..40}; do xmllint --noout --relaxng "$0/rules.rng" "$0"/*.xml; done' "$rules"; }
our_start() { cpu bash -c 'for i in {1..40}; do "$0" diagnose --redraws 0 --fault buttery=3; done' "$AFTERBOIL"; }

# history N FOLDER: the examples again and again under new ids, a thousand a file, without sensor logs (a stream has no folder)
history() {
	mkdir -p "$2"
	awk -v n="$1" -v folder="$2" '
		FNR == 1 { files++ }
		{ if ($0 !~ /^<\?xml/ && $0 !~ /<log /) text[files] = text[files] $0 "\n" }
		END { for (i = 0; i < n; i++) {
				if (i % 1000 == 0) { out = sprintf("%s/%05d.xml", folder, i); print "<batches xmlns=\"urn:afterboil:journal:1\">" >out }
				t = text[i % files + 1]; sub(/ id="[^"]*"/, " id=\"b" i "\"", t); printf "%s", t >out
				if (i % 1000 == 999 || i == n - 1) { print "</batches>" >out; close(out) } } }' "$srcdir"/examples/[0-9]*.xml
}
floor_read() { cpu xmllint --huge --stream --noout "$tmp"/history/*.xml; }
our_read() { cpu "$AFTERBOIL" diagnose --stream --redraws 0 <"$tmp/stream.xml"; }
our_store() { rm -f "$tmp"/history.db*; cpu "$AFTERBOIL" trend --store "$tmp/history.db" "$tmp"/history/*.xml; }

history "$batches" "$tmp/history"
{ echo '<batches xmlns="urn:afterboil:journal:1">'; cat "$tmp"/history/*.xml | grep -v 'batches'; echo '</batches>'; } >"$tmp/stream.xml"
echo "history: $batches batches, $(cat "$tmp"/history/*.xml | wc -c) bytes"
pair 'cold start, one diagnosis (aim 1.5), 40 of each' floor_start our_start
pair 'history read, checked, diagnosed, one JSON line each' floor_read our_read
pair 'history read, checked, diagnosed and stored (aim 2)' floor_read our_store
rm -f "$tmp"/history.db*
history $((batches / 10)) "$tmp/tenth"
for folder in tenth history; do
	rm -f "$tmp"/m.db*
	/usr/bin/env time -f "memory of trend on its $folder: %M KB" "$AFTERBOIL" trend --store "$tmp/m.db" "$tmp/$folder"/*.xml 2>&1 >/dev/null | tail -n 1
done
