# readme.t - the README tells the truth: its journal works, and its pasted answers are what the program prints
#
# A block fenced as "console" begins with "$ afterboil ..."; what follows is its output, whole, except that a line "[...]" stands for any lines left out.
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need jing
work=$bad/work
mkdir "$work"
cp -r "$top_srcdir/examples" "$work"
chmod -R u+w "$work"
cd "$work" || exit 1

# blocks LANGUAGE README: writes each block fenced with it to block.1, block.2 ..., prints how many there are
blocks() {
	awk -v lang="$1" '/^```/ { if (on) on = 0; else if ($0 == "```" lang) { on = 1; n++ } next }
		on { print > ("block." n) } END { print n + 0 }' "$2"
}

# differs SHOWN PRINTED: the first part of SHOWN that PRINTED does not hold in its place
differs() {
	awk '
		NR == FNR { shown[++s] = $0; next }
		{ printed[++p] = $0 }
		END {
			at = 1; free = 0
			for (i = 1; i <= s; i++) {
				if (shown[i] == "[...]") { free = 1; continue }
				while (free && at <= p && printed[at] != shown[i]) at++
				if (at > p || printed[at] != shown[i]) { print "line " i " is shown as \"" shown[i] "\" but printed as \"" printed[at] "\""; exit }
				at++; free = 0
			}
			if (!free && at <= p) print "printed, but not shown: \"" printed[at] "\""
		}' "$1" "$2"
}

finds 'the journal stands in the README once' 1 "$(blocks xml "$top_srcdir/README.md")"
mv block.1 my-beer.xml
ok 'it is valid' "$(jing "$top_srcdir/rules/journal.rng" my-beer.xml 2>&1 | grep -v '^\[warning\] .*Unable to locate')"
said=$("$AFTERBOIL" check my-beer.xml 2>&1)
finds 'the program checks it' 0 $?
said=$("$AFTERBOIL" diagnose my-beer.xml 2>&1)
finds 'the program diagnoses it, and warns' 1 $?
ok 'and says that it was packaged too soon' "$(grep -q 'Taken off the yeast too early' <<<"$said" || echo "$said")"

n=$(blocks console "$top_srcdir/README.md")
[ "$n" -ge 3 ]
finds 'three worked examples at least' 0 $?
for i in $(seq 1 "$n"); do
	command=$(sed -n '1s/^\$ afterboil //p' "block.$i")
	sed 1d "block.$i" >shown
	# shellcheck disable=SC2086 # the words of the command line
	"$AFTERBOIL" $command >printed 2>errors
	[ $? -le 1 ]
	finds "afterboil $command" 0 $?
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
