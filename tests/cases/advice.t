# advice.t - real set-ups put to the adviser: all are read and counted; how well we do is printed
#
# Profiles and journals hold set-up, trouble and limits as they were told; answers.tsv what was recommended, what was advised against, and the
# usual orders to compare with. The table stands in the log.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
cases=$top_srcdir/tests/cases/advice
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

run() { "$builddir/tests/cases/run_advice" "$AFTERBOIL_RULES" "$cases" "$1"; }

# unpaired: profiles without an answer, answers without a profile
unpaired() {
	diff <(cd "$cases" && printf '%s\n' adv-???.xml | sed 's/\.xml$//' | sort) <(grep -oE '^adv-[0-9]+' "$cases/answers.tsv" | sort)
}

# untold: profiles without a comment saying what was told
untold() { grep -L '^<!-- [^ ]' "$cases"/adv-???.xml; }

# sum FILE METHOD SCORE WHICH: hits (WHICH = all, or misled: the cases with tags the usual order is known to mislead on)
sum() { awk -F '\t' -v m="$2" -v s="$3" -v w="$4" '$1 == "sum" && $2 == m && $3 == s && $4 == w { print $5 }' "$1"; }

run "$cases/answers.tsv" >"$work/out" || ok 'the cases are worked' "$(cat "$work/out")"
grep -v '^sum' "$work/out" | sed 's/^/# /'
ok 'every profile has an answer and every answer a profile' "$(unpaired)"
ok 'every profile says what was told' "$(untold)"
ok '28 cases are worked' "$(grep -q '^28 cases' "$work/out" || cat "$work/out")"
ok 'the table has a row a method for all cases' "$([ "$(grep -c '^all  ' "$work/out")" = 4 ] || cat "$work/out")"
if command -v xmllint >/dev/null; then
	ok 'the profiles keep to the schema' "$(xmllint --noout --relaxng "$AFTERBOIL_RULES/profile.rng" "$cases"/adv-???.xml 2>&1 | grep -v validates)"
	ok 'the journals keep to the schema' "$(xmllint --noout --relaxng "$AFTERBOIL_RULES/journal.rng" "$cases"/adv-*-batch.xml 2>&1 | grep -v validates)"
fi

# at_least SCORE FLOOR: our hits below a floor
at_least() { [ "$(sum "$work/out" afterboil "$1" all)" -ge "$2" ] || grep "^sum.*$1" "$work/out"; }
# ahead SCORE: where we are not ahead of the guides' order on the cases it is known to mislead on, even if any change of a place counts for it
ahead() { [ "$(sum "$work/out" afterboil "$1" misled)" -gt "$(sum "$work/out" 'guides, any' "$1" misled)" ] || grep "^sum.*$1" "$work/out"; }

# The floors are what was reached when the misses had been read and mended by mechanism: a guard against going back, not a claim of how good the
# advice is elsewhere. The first run, before any mend, was 2 first, 2 in three, 0 of 17 against.
ok 'an advised change first: not fewer than before' "$(at_least first 15)"
ok 'an advised change in three: not fewer than before' "$(at_least in-three 20)"
ok 'advised against in three: not more than before' "$([ "$(sum "$work/out" afterboil against-in-three all)" -le 2 ] || grep '^sum.*against' "$work/out")"
ok 'ahead of the guides where their order misleads: first' "$(ahead first)"
ok 'ahead of the guides where their order misleads: in three' "$(ahead in-three)"

# Invented set-ups, judged by one person from common practice before the program was run on them: a guard against going back, no outside evidence.
# Counted by the same judgement the first run was 14 with what is first advised in first place, 16 with something accepted there, 16 with what is
# first advised in three, 22 with something accepted in three, 0 of 22 against; what was mended then is a mend of what these set-ups showed.
invented=$top_srcdir/tests/cases/invented
"$builddir/tests/cases/run_advice" "$AFTERBOIL_RULES" "$invented" "$invented/answers.tsv" >"$work/invented" || ok 'the invented set-ups are worked' "$(cat "$work/invented")"
grep '^inv' "$work/invented" | sed 's/^/# /'
# reached FILE SCORE FLOOR: the count where it is below the floor
reached() { [ "$(sum "$work/$1" afterboil "$2" all)" -ge "$3" ] || grep "^sum.*$2" "$work/$1"; }
# spared FILE MOST: what is advised against and stands in three nevertheless
spared() { [ "$(sum "$work/$1" afterboil against-in-three all)" -le "$2" ] || grep '^sum.*against' "$work/$1"; }
ok 'invented: an accepted change first: not fewer than before' "$(reached invented first 20)"
ok 'invented: an accepted change in three: not fewer than before' "$(reached invented in-three 23)"
ok 'invented: what is first advised in three: not fewer than before' "$(reached invented their-first-in-three 20)"
ok 'invented: nothing advised against in three' "$(spared invented 0)"

# Thirty more, written and judged by the same rules later, when the ones above had been mended. First run: 14 with what is first advised in first
# place, 17 with something accepted there, 18 with what is first advised in three, 25 with something accepted in three, 2 of 29 against; one journal
# was refused for a word ("hot of alcohol"), so it was run with another. That is the figure for set-ups nobody tuned to. The mends saw these thirty,
# and what is told before the plan (leave the beer, brew it just so) counts since then where the judgement is that nothing is to be done: two of them.
# Twenty-four more (inv-55 on), written before rules and program were looked at. First run, one word of a journal replaced: something accepted first
# in 20, in three 23, what is first advised in three in 19, against in 1 of 21 (ice-bath-and-stir lifts a hot pot; it is what that brewer does already).
more=$top_srcdir/tests/cases/invented-more
"$builddir/tests/cases/run_advice" "$AFTERBOIL_RULES" "$more" "$more/answers.tsv" >"$work/more" || ok 'the other invented set-ups are worked' "$(cat "$work/more")"
grep '^inv' "$work/more" | sed 's/^/# /'
ok 'invented, more: an accepted change first: not fewer than before' "$(reached more first 48)"
ok 'invented, more: an accepted change in three: not fewer than before' "$(reached more in-three 52)"
ok 'invented, more: what is first advised in three: not fewer than before' "$(reached more their-first-in-three 45)"
ok 'invented, more: advised against in three: not more than before' "$(spared more 1)"
if command -v xmllint >/dev/null; then
	ok 'the invented journals keep to the schema' "$(xmllint --noout --relaxng "$AFTERBOIL_RULES/journal.rng" "$invented"/inv-*-batch.xml "$more"/inv-*-batch.xml 2>&1 |
		grep -v validates)"
	ok 'so do the profiles' "$(xmllint --noout --relaxng "$AFTERBOIL_RULES/profile.rng" "$invented"/inv-??.xml "$more"/inv-??.xml 2>&1 | grep -v validates)"
fi

# With what nobody would recommend for a word, our hits must fall; and a word of no change is refused.
sed -E '/^adv/s/^(([^\t]*\t){3})[^\t]*/\1food-grade-only/' "$cases/answers.tsv" >"$work/wrong.tsv"
run "$work/wrong.tsv" >"$work/wrong" || cat "$work/wrong"
ok 'wrong answers are noticed' "$([ "$(sum "$work/wrong" afterboil in-three all)" -lt "$(sum "$work/out" afterboil in-three all)" ] || grep '^sum' "$work/wrong")"
sed -E '/^adv/s/^(([^\t]*\t){3})[^\t]*/\1no-such-change/' "$cases/answers.tsv" >"$work/dangling.tsv"
finds 'an answer that is no change is refused' 'run_advice: no-such-change: no change of the rules' "$(run "$work/dangling.tsv")"
plan
