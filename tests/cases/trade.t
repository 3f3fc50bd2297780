# trade.t - does the simulated brewer learn as brewers say they do? What the trade takes for granted, put to the rules and the advice
#
# Common practice, no source; the bounds were written down before the first run and are the words' own ("usually", "most": more than half;
# "now and then": more than 1 in 50 and fewer than 1 in 3; "a limited budget goes to": two thirds and more). An error is one standard error
# over brewers; a bound counts as kept only when it is by two. BREWERS sets how many (the more,
# the longer).
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

# beyond FILE NAME over|under BOUND: how the figure is not over (or under) the bound by two of its errors; "none" when it was not reckoned
beyond() {
	awk -F '\t' -v name="$2" -v way="$3" -v bound="$4" '$1 == "trade" && $2 == name { n = 1; s = way == "over" ? 1 : -1
			if (!(s * ($4 - bound) > 2 * $5)) print name " " $4 " +- " $5 ", wanted " way " " bound }
		END { if (!n) print name ": none" }' "$1"
}

for part in rebrew beginner sides; do
	"$builddir/tests/cases/run_trade" $part "$AFTERBOIL_RULES" "${BREWERS:-0}" "$top_srcdir"/examples/[0-9]*.xml "$top_srcdir"/tests/cases/plain/*.xml \
		"$top_srcdir"/tests/cases/case-*.xml >>"$work/out" || ok "$part is simulated" "$(tail -1 "$work/out")"
done
grep -v '^trade	' "$work/out" | sed 's/^/# /'

# "two or three rebrews of one beer, changing a little at a time, usually settle it"
ok 'a little at a time: after three rebrews the trouble is usually gone' "$(beyond "$work/out" settled-anew-3 over 0.5)"
ok 'and after the fourth batch its cause usually stands first' "$(beyond "$work/out" named-anew-4 over 0.5)"
# "change everything at once and you learn nothing": of three changes a guess finds the one that helped in a third
ok 'one at a time: the change that helped is found more often than by guessing' "$(beyond "$work/out" credited-ahead over 0)"
ok 'the same with two brews a change' "$(beyond "$work/out" credited-ahead-2 over 0)"
# "most first batches disappoint; experienced brewers still spoil one now and then"
ok 'most first batches have a fault that is noticed' "$(beyond "$work/out" noticed-1 over 0.5)"
ok 'the true load falls by a third and more over fifteen batches' "$(beyond "$work/out" fallen over 0.3333)"
ok 'of the batches 11 to 15 some are spoiled still: more than 1 in 50' "$(beyond "$work/out" spoiled-late over 0.02)"
ok 'and fewer than 1 in 3' "$(beyond "$work/out" spoiled-late under 0.3333)"
# "a limited budget goes to the cold side first"
for budget in 25 50; do
	ok "of a budget of $budget two thirds and more go to the cold side" "$(beyond "$work/out" cold-$budget over 0.6667)"
done
ok 'what is bought first is cold, two times in three and more' "$(beyond "$work/out" first-cold-50 over 0.6667)"

printf 'trade\ta\t9\t0.6\t0.06\ntrade\tb\t9\t0.6\t0.04\ntrade\tc\t9\t0.2\t0.01\n' >"$work/bad"
finds 'a figure within two errors of its bound is noticed' 'a 0.6 +- 0.06, wanted over 0.5' "$(beyond "$work/bad" a over 0.5)"
finds 'a figure on the wrong side is noticed' 'c 0.2 +- 0.01, wanted over 0.5' "$(beyond "$work/bad" c over 0.5)"
finds 'under works the other way' 'b 0.6 +- 0.04, wanted under 0.5' "$(beyond "$work/bad" b under 0.5)"
finds 'a figure that was not reckoned is noticed' 'd: none' "$(beyond "$work/bad" d over 0.5)"
ok 'and what is beyond it passes' "$(beyond "$work/bad" b over 0.5)"
plan
