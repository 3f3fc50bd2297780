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
		printf "%-62s floor %8.3f s  ours %8.3f s  ratio %5.2f  control %4.2f\n", t, f, b, b / f, c / a }'
}

# forty cold starts in one measurement: one is below the clock's step
floor_start() { cpu bash -c 'for i in {1..40}; do xmllint --noout --relaxng "$0/rules.rng" "$0"/*.xml; done' "$rules"; }
our_start() { cpu bash -c 'for i in {1..40}; do "$0" diagnose --redraws 0 --fault buttery=3; done' "$AFTERBOIL"; }

# history N FOLDER READINGS: the examples again and again under new ids and ten years earlier (ahead of today they would be told of, and read twice), a thousand a file, without sensor logs (a stream has no folder), each with so
# many temperatures more, and then with two tastings more: journals as a thermometer on the vessel makes them
history() {
	mkdir -p "$2"
	awk -v n="$1" -v folder="$2" -v readings="$3" '
		FNR == 1 { files++ }
		{ if ($0 !~ /^<\?xml/ && $0 !~ /<log /) text[files] = text[files] $0 "\n" }
		END { for (i = 0; i < readings; i++)
				more = more sprintf("  <reading at=\"+%dh\" wort=\"%.1f C\"/>\n", 4 + 2 * i, 18 + i * 37 % 50 / 10)
			for (i = 1; readings > 0 && i <= 2; i++)
				more = more sprintf("  <tasting at=\"+%dd\" by=\"guest %d\" from=\"bottle\"><found fault=\"fruity\" intensity=\"%d\"/><absent fault=\"sour\"/></tasting>\n", 40 + i, i, i)
			for (i = 0; i < n; i++) {
				if (i % 1000 == 0) { out = sprintf("%s/%05d.xml", folder, i); print "<batches xmlns=\"urn:afterboil:journal:1\">" >out }
				t = text[i % files + 1]; gsub(/"203/, "\"202", t); sub(/ id="[^"]*"/, " id=\"b" i "\"", t); sub(/<\/batch>/, more "</batch>", t); printf "%s", t >out
				if (i % 1000 == 999 || i == n - 1) { print "</batches>" >out; close(out) } } }' "$srcdir"/examples/[0-9]*.xml
}

# folder COPIES FOLDER: each example so many times, each two years before the last and its temperatures a little off, so that no two are alike
folder() {
	mkdir -p "$2"
	for f in "$srcdir"/examples/[0-9]*.xml; do
		awk -v n="$1" -v to="$2/$(basename "$f" .xml)" '
			function moved(line, c, out) {
				while (match(line, /"203[0-9]-/)) {
					out = out substr(line, 1, RSTART) substr(line, RSTART + 1, 4) - 5 - 2 * c "-"
					line = substr(line, RSTART + RLENGTH) }
				line = out line
				out = ""
				while (match(line, /"[0-9.]+ C"/)) {
					out = out substr(line, 1, RSTART - 1) sprintf("\"%.2f C\"", substr(line, RSTART + 1, RLENGTH - 4) + (c * 7 + NR) % 20 / 40)
					line = substr(line, RSTART + RLENGTH) }
				return out line }
			{ for (c = 0; c < n; c++) {
				line = moved($0, c)
				if (line ~ /<batch /) sub(/ id="[^"]*/, "&-" c, line)
				if (line !~ /<log /) print line >(to "-" c ".xml") } }' "$f"
	done
}

floor_read() { cpu xmllint --huge --stream --noout "$tmp/history"/*.xml; }
our_check() { cpu "$AFTERBOIL" check "$tmp/history"/*.xml; }
our_store() { rm -f "$tmp"/history.db*; cpu "$AFTERBOIL" trend --last 12 --store "$tmp/history.db" "$tmp/history"/*.xml; }
our_trend() { cpu "$AFTERBOIL" trend --store "$tmp/history.db"; }
our_read() { cpu "$AFTERBOIL" diagnose --stream --redraws 0 <"$tmp/stream.xml"; }

# What the store's rows cost without us: all of them copied into a store of the same tables
sqlite_alone() {
	rm -f "$tmp"/copy.db*
	sqlite3 "$tmp/history.db" .schema | sqlite3 "$tmp/copy.db"
	cpu sqlite3 "$tmp/copy.db" "ATTACH '$tmp/history.db' AS o; BEGIN; INSERT INTO batch SELECT * FROM o.batch; INSERT INTO fault SELECT * FROM o.fault;
		INSERT INTO change SELECT * FROM o.change; INSERT INTO factor SELECT * FROM o.factor; COMMIT"
}

pair 'cold start, one diagnosis (aim 1.5), 40 of each' floor_start our_start
folder 14 "$tmp/folder"
cp "$srcdir/examples/profile.xml" "$tmp/folder"
export XDG_DATA_HOME=$tmp/data
for ((i = 0; i < rounds; i++)); do
	/usr/bin/env time -f "the page about $(ls "$tmp"/folder/[0-9]*.xml | wc -l) batches: %e s by the clock (aim 1, with two processors at rest), %U of the user's" \
		"$AFTERBOIL" report "$tmp/folder" -o "$tmp/page.html" 2>&1 >/dev/null | tail -n 1
done
for readings in 0 115; do
	rm -rf "$tmp/history" "$tmp/tenth"
	history "$batches" "$tmp/history" $readings
	{ echo '<batches xmlns="urn:afterboil:journal:1">'; cat "$tmp"/history/*.xml | grep -v 'batches'; echo '</batches>'; } >"$tmp/stream.xml"
	bytes=$(cat "$tmp"/history/*.xml | wc -c)
	echo "history: $batches batches of $((bytes / batches)) bytes, $bytes in all"
	pair 'the command check: as far as the diagnosis, all batches kept' floor_read our_check
	pair 'read, checked, diagnosed and stored (aim 2)' floor_read our_store
	command -v sqlite3 >/dev/null && pair 'SQLite alone: the rows of that store copied' floor_read sqlite_alone
	pair 'the whole store shown' floor_read our_trend
	pair 'read, checked, diagnosed, one JSON line each' floor_read our_read
	history $((batches / 10)) "$tmp/tenth" $readings
	for folder in tenth history; do
		rm -f "$tmp"/m.db*
		/usr/bin/env time -f "its $folder, read, stored and shown: %M KB, %U s" "$AFTERBOIL" trend --store "$tmp/m.db" "$tmp/$folder"/*.xml 2>&1 >/dev/null | tail -n 1
	done
done
