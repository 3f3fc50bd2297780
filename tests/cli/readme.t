# readme.t - the README tells the truth: its journal works, and its pasted answers are what the program prints
#
# A block fenced as "console" begins with "$ afterboil ..."; what follows is its output, whole, except that a line "[...]" stands for paragraphs left out.
# UPDATE=1 writes what the program prints into the README, the same paragraphs left out; read the difference before you commit it.
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need jing
readme=$top_srcdir/README.md
work=$bad/work
mkdir "$work"
cp -r "$top_srcdir/examples" "$work"
chmod -R u+w "$work"
cd "$work" || exit 1
export HOME="$work" XDG_DATA_HOME="$work" # nobody's history but ours

# blocks LANGUAGE: writes each block of the README fenced with it to block.1, block.2 ..., prints how many there are
blocks() {
	awk -v lang="$1" '/^```/ { if (on) on = 0; else if ($0 == "```" lang) { on = 1; n++ } next }
		on { print > ("block." n) } END { print n + 0 }' "$readme"
}

# differs SHOWN PRINTED: the first line of SHOWN that PRINTED does not hold in its place, or the first of PRINTED that was not shown
differs() {
	awk '
		NR == FNR { shown[++s] = $0; next }
		{ printed[++p] = $0 }
		END {
			at = 1; free = 0
			for (i = 1; i <= s; i++) {
				if (shown[i] == "[...]") { free = 1; continue }
				while (free && at <= p && printed[at] != shown[i]) at++
				if (at > p || printed[at] != shown[i]) {
					print "line " i " is shown as \"" shown[i] "\", printed as \"" printed[at] "\" (UPDATE=1 renews it)"
					exit
				}
				at++; free = 0
			}
			if (!free && at <= p) print "printed, but not shown: \"" printed[at] "\""
		}' "$1" "$2"
}

# renewed SHOWN PRINTED: PRINTED, its paragraphs left out where SHOWN has none that begins alike (figures aside)
renewed() {
	awk '
		function key(line) { gsub(/[-0-9.]+/, "", line); return substr(line, 1, 12) }
		NR == FNR { if ($0 == "[...]") fresh = 1; else if ($0 == "") fresh = 1; else { if (fresh || FNR == 1) known[key($0)]; fresh = 0 }; next }
		FNR == 1 { first = 1 }
		$0 == "" { if (keep) print; first = 1; next }
		first { keep = key($0) in known; if (!keep && !gap) print "[...]"; gap = !keep; first = 0 }
		keep' "$1" "$2"
}

# renew N FILE: puts FILE in the place of the Nth console block of the README, its first line kept
renew() {
	awk -v n="$1" -v file="$2" '
		/^```/ { if (on) on = skip = 0; else { on = 1; if ($0 == "```console") mine = (++seen == n); else mine = 0; begin = mine } print; next }
		on && mine { if (begin) { print; while ((getline line < file) > 0) print line; begin = 0 } next }
		{ print }' "$readme" >README.new && cat README.new >"$readme"
}

finds 'the journal stands in the README once' 1 "$(blocks xml)"
mv block.1 my-beer.xml
ok 'it is valid' "$(jing "$top_srcdir/rules/journal.rng" my-beer.xml 2>&1 | grep -v '^\[warning\] .*Unable to locate')"
said=$("$AFTERBOIL" check my-beer.xml 2>&1)
finds 'the program checks it' 0 $?
said=$("$AFTERBOIL" diagnose my-beer.xml 2>&1)
finds 'the program diagnoses it' 0 $?
ok 'and says that it was packaged too soon' "$(grep -q 'taken off the yeast too early' <<<"$said" || echo "$said")"

n=$(blocks console)
[ "$n" -ge 3 ]
finds 'three worked examples at least' 0 $?
for i in $(seq 1 "$n"); do
	command=$(sed -n '1s/^\$ afterboil //p' "block.$i")
	sed 1d "block.$i" >shown
	# shellcheck disable=SC2086 # the words of the command line
	"$AFTERBOIL" $command >printed 2>errors
	[ $? -le 1 ]
	rc=$?
	finds "afterboil $command" 0 $rc
	if [ "${UPDATE:-}" = 1 ] && [ $rc -eq 0 ]; then
		renewed shown printed >new
		renew "$i" new
		mv new shown
	fi
	ok 'prints what the README shows' "$(differs shown printed)"
done

printf 'a\n[...]\nd\n' >shown
printf 'a\nb\nc\nd\n' >printed
ok 'left-out lines are allowed' "$(differs shown printed)"
printf 'a\n[...]\nx\n' >shown
finds 'a changed line is found out' 'line 3' "$(differs shown printed | cut -c1-6)"
printf 'a\nb\nc\n' >shown
finds 'a missing line is found out' 'printed' "$(differs shown printed | cut -c1-7)"

plan
