# calibration.t - what the program calls likely is so as often as it says, for brewers simulated from its own rules; how far off, for others
#
# Asserted: from the rules themselves the calibration error keeps below what chance allows (three standard errors, run_calibration.c), and
# doubled odds do not; ranges hold the truth when estimates err as the ranges allow, and mostly when each is a whole step off; words keep what
# they promise in every world. Of worlds that differ, calibration errors and Brier scores are told, and must beat the chances before tasting.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
# long, and the same wherever it is built: autogen.sh does not ask for it again from the tarball
if [ -n "${SIMULATED:-}" ]; then
	echo '1..0 # SKIP simulated already in this run'
	exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

# over FILE NAME WHAT: the calibration error that is beyond its bound; "none" when it was not reckoned
over() {
	awk -F '\t' -v name="$2" -v what="$3" '$1 == "sum" && $2 == name && $3 == what { n = 1; if (!($5 <= $6)) print $5 " beyond " $6 }
		END { if (!n) print "none" }' "$1"
}

# worse FILE NAME WHAT: how the Brier score is no better than the chances before tasting, or than one share for all
worse() {
	awk -F '\t' -v name="$2" -v what="$3" '$1 == "sum" && $2 == name && $3 == what { n = 1
			if (!($7 < $8)) print $7 ", prior " $8
			if (!($7 < $9)) print $7 ", one share " $9 }
		END { if (!n) print "none" }' "$1"
}

# outside FILE NAME LOW HIGH: the share of ranges that hold the truth, when outside
outside() {
	awk -F '\t' -v name="$2" -v low="$3" -v high="$4" '$1 == "range" && $2 == name { n = 1; if (!($4 >= low && $4 <= high)) print $4 }
		END { if (!n) print "none" }' "$1"
}

# broken FILE NAME ERRORS: words whose share to blame lies outside what they promise, by more than so many standard errors
broken() {
	awk -F '\t' -v name="$2" -v errors="$3" '$1 == "word" && $2 == name && $4 >= 10 { n++
			if ($6 + errors * $7 < $8 || $6 - errors * $7 > $9) print $3 " " $6 ", promised " $8 " to " $9 }
		END { if (n < 4) print "too few words" }' "$1"
}

# unordered FILE NAME: words, given to 20 causes or more, of which fewer are to blame than of the word below
unordered() {
	awk -F '\t' -v name="$2" '$1 == "word" && $2 == name && $4 >= 20 { n++; if ($6 <= last) print $3 " " $6 " after " last; last = $6 }
		END { if (n < 3) print "too few words" }' "$1"
}

"$builddir/tests/cases/run_calibration" "$AFTERBOIL_RULES" "$top_srcdir"/examples/[0-9]*.xml "$top_srcdir"/tests/cases/case-*.xml >"$work/out" ||
	ok 'brewers are simulated' "$(tail -1 "$work/out")"
grep -vE '^(sum|word|range)	' "$work/out" | sed 's/^/# /'
for what in present blame; do
	ok "from the rules themselves, $what: as often as said" "$(over "$work/out" itself $what)"
	ok "doubled odds are noticed, $what" "$(over "$work/out" doubled $what | grep -q beyond || echo 'not noticed')"
	for name in itself complete links priors both together careless shifted; do
		ok "$name, $what: better than what was said before tasting, and than one share for all" "$(worse "$work/out" $name $what)"
	done
done
ok 'estimates off by what the ranges allow for: 65 to 95 % of the ranges hold the truth' "$(outside "$work/out" allowed 0.65 0.95)"
for name in links priors both together careless shifted; do
	ok "$name: 65 % of the ranges or more hold the truth" "$(outside "$work/out" $name 0.65 1)"
done
for name in itself complete links priors both together careless shifted; do
	ok "$name: the stronger the word, the more often to blame" "$(unordered "$work/out" $name)"
	ok "$name: each word keeps its promise" "$(broken "$work/out" $name 2)"
done
ok 'all worlds together: each word keeps its promise, chance apart' "$(broken "$work/out" all 0)"

printf 'word\tx\ta\t30\t0\t0.2\t0.1\t0.3\t0.6\nword\tx\tb\t30\t0\t0.2\t0.1\t0.45\t0.6\nword\tx\tc\t30\t0\t0.2\t0\t0\t0.1\nword\tx\td\t30\t0\t0.2\t0\t0.2\t1\n' >"$work/words"
finds 'broken promises are noticed, chance allowed for' 'b 0.2, promised 0.45 to 0.6
c 0.2, promised 0 to 0.1' "$(broken "$work/words" x 2)"
printf 'sum\tx\tpresent\t9\t0.02\t0.01\t0.3\t0.2\t0.4\nrange\tx\t9\t0.5\nword\tx\ta\t30\t0\t0.2\nword\tx\tb\t30\t0\t0.1\nword\tx\tc\t30\t0\t0.3\n' >"$work/bad"
finds 'an error beyond its bound is noticed' '0.02 beyond 0.01' "$(over "$work/bad" x present)"
finds 'an error that was not reckoned is noticed' none "$(over "$work/bad" x blame)"
finds 'a score worse than the prior is noticed' '0.3, prior 0.2' "$(worse "$work/bad" x present)"
finds 'ranges too narrow are noticed' 0.5 "$(outside "$work/bad" x 0.65 0.95)"
finds 'words out of order are noticed' 'b 0.1 after 0.2' "$(unordered "$work/bad" x)"
plan
