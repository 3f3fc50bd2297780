# loop.t - does the advice work? Simulated brewers follow it for ten batches, and so do their twins who follow something else
#
# Asserted: of what the oracle takes away ours takes a larger share than each of the others, by more than twice the standard error over the
# same brewers, in a world as the rules say and in one that differs; and the oracle, which knows the truth, is not beaten. What is lost on
# the way from who knows everything to us (pace, what nobody can know before it was brewed, what tastings do not tell, what we believe, what we plan) and
# what is taken away make the whole; a cause that is said to be likelier in the next batch is likelier, by us and by the best learner; and ours is not ahead of
# the best learner by more than twice the error (that would be no bound).
#
# The aim is nine tenths of what the oracle takes away. It is an expected failure until it is surely reached (by more than twice the error).
# Who must learn did not reach it where one change is begun a batch: the best learner we have, who knows the world and all of the brewer but
# the hidden chances, takes away 78 +- 7 and 76 +- 6 % there, and 87 +- 5 and 91 +- 4 % with three a batch (12 brewers, first 600; twice the
# error). That is no proof that nobody can: it plans batch by batch, and who is told each batch's causes takes 93 to 98 %.
# So beside the aim, and not in place of it, stands what can be asked of a learner: nine tenths of what the best learner takes away. That is
# asserted in a world as the rules say (of the mean; the error is told). Where each brewer's world differs in its own way that learner knows
# each, which nobody can: of it ours takes 87 +- 5 % (40 brewers), so there the assertion is only that ours is not surely below nine tenths,
# and of many more brewers it would not hold. BREWERS sets how many (the more, the longer).
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

# behind FILE WORLD: the policies that ours is not clearly ahead of
behind() {
	awk -F '\t' -v world="$2" '$1 == "ahead" && $2 == world { n++; if (!($4 > $5)) print $3 ": ahead by " $4 ", error " $5 }
		END { if (n < 5) print "too few policies" }' "$1"
}

# beaten FILE WORLD: the policies that took away as much as the oracle, or more (who knows the truth takes as much: unwhole)
beaten() {
	awk -F '\t' -v world="$2" '$1 == "loop" && $2 == world { n++; if ($3 == "oracle") best = $5; else if ($3 != "knowing" && !($5 < best)) print $3 " " $5 ", oracle " best }
		END { if (n < 7) print "too few policies" }' "$1"
}

# unwhole FILE WORLD: what is taken away and what is lost do not make the whole; who knows the truth does not reach the oracle
unwhole() {
	awk -F '\t' -v world="$2" '$1 == "loop" && $2 == world && $3 == "ours" { sum += $7 }
		$1 == "loop" && $2 == world && $3 == "knowing" { known = $7 }
		$1 == "lost" && $2 == world { sum += $4; n++ }
		END { if (n != 5 || sum < 0.9999 || sum > 1.0001) print n + 0 " losses and ours make " sum + 0
			if (!(known > 0.9999 && known < 1.0001)) print "who knows the truth takes " known + 0 }' "$1"
}

# unsorted FILE WORLD said|knew: said to be likelier, and is not; of what was said 100 times at least
unsorted() {
	awk -F '\t' -v world="$2" -v who="$3" '$1 == who && $2 == world && $3 >= 100 { if (n++ && !($5 > so)) print "said " $4 ", so " $5 " after " so; so = $5 }
		END { if (n < 4) print "too little said" }' "$1"
}

# short FILE WORLD WHAT ERRORS: a share that is not nine tenths, so many (doubled) errors taken off (below 0: added)
short() {
	awk -F '\t' -v world="$2" -v what="$3" -v errors="$4" '$1 == "share" && $2 == world && $3 == what { n++; if (!($4 - errors * $5 > 0.9)) printf "%.1f +- %.1f %%\n", 100 * $4, 100 * $5 }
		END { if (n != 1) print "no such share" }' "$1"
}

# unbounded FILE WORLD: ours surely takes away more than the best learner
unbounded() {
	awk -F '\t' -v world="$2" '$1 == "share" && $2 == world && $3 == "learner" { n++; if (!($4 - $5 <= 1)) print "ours takes " $4 " of it, error " $5 }
		END { if (n != 1) print "no such share" }' "$1"
}

# hoped WHAT WRONG: expected to fail
hoped() {
	tap_n=$((tap_n + 1))
	echo "$([ -z "$2" ] || echo 'not ')ok $tap_n - $1 # TODO ${2:-reached: ask for it from now on}"
}

"$builddir/tests/cases/run_loop" "$AFTERBOIL_RULES" "${BREWERS:-20}" "$top_srcdir"/examples/[0-9]*.xml "$top_srcdir"/tests/cases/plain/*.xml \
	"$top_srcdir"/tests/cases/case-*.xml >"$work/out" || ok 'brewers follow the policies' "ended early: $(tail -1 "$work/out")"
grep -vE '^(loop|ahead|bound|lost|share|said|knew)	' "$work/out" | sed 's/^/# /'
for world in itself itself-3 shifted shifted-3; do
	ok "$world: ours takes away more than any other" "$(behind "$work/out" $world)"
	ok "$world: nobody beats who knows the truth" "$(beaten "$work/out" $world)"
	ok "$world: what is taken away and what is lost make the whole" "$(unwhole "$work/out" $world)"
	ok "$world: what is said to be likelier is likelier" "$(unsorted "$work/out" $world said)"
	ok "$world: what the best learner says to be likelier is likelier" "$(unsorted "$work/out" $world knew)"
	ok "$world: the best learner bounds ours" "$(unbounded "$work/out" $world)"
	hoped "$world: the aim, nine tenths of what the oracle takes away" "$(short "$work/out" $world oracle 1)"
	case $world in
	itself*) ok "$world: nine tenths of what the best learner takes away" "$(short "$work/out" $world learner 0)" ;;
	*) ok "$world: not surely below nine tenths of what the best learner takes away" "$(short "$work/out" $world learner -1)" ;;
	esac
done

printf 'ahead\tx\ta\t0.2\t0.3\nahead\tx\tb\t1\t0.3\nahead\tx\tc\t1\t0\nahead\tx\td\t1\t0\nahead\tx\te\t1\t0\n' >"$work/bad"
finds 'a lead within its error is noticed' 'a: ahead by 0.2, error 0.3' "$(behind "$work/bad" x)"
finds 'policies that were not run are noticed' 'too few policies' "$(behind "$work/bad" y)"
printf 'loop\tx\toracle\t9\t2\nloop\tx\ta\t9\t3\n' >"$work/bad"
printf 'loop\tx\tours\t9\t2\t1\t0.5\nloop\tx\tknowing\t9\t2\t1\t0.9\nlost\tx\ta\t0.3\t0\n' >"$work/lost"
finds 'a loss that was left out is noticed' '1 losses and ours make 0.8' "$(unwhole "$work/lost" x | head -1)"
finds 'who knows the truth and falls short is noticed' 'who knows the truth takes 0.9' "$(unwhole "$work/lost" x | tail -1)"
printf 'said\tx\t200\t0.1\t0.2\nsaid\tx\t200\t0.2\t0.1\n' >"$work/lost"
finds 'chances the wrong way round are noticed' 'said 0.2, so 0.1 after 0.2' "$(unsorted "$work/lost" x said | head -1)"
printf 'share\tx\toracle\t0.93\t0.04\nshare\tx\tlearner\t1.2\t0.1\nshare\ty\tlearner\t0.95\t0.04\nshare\tz\tlearner\t0.85\t0.04\n' >"$work/bad2"
finds 'a share within its error is noticed' '93.0 +- 4.0 %' "$(short "$work/bad2" x oracle 1)"
finds 'a share surely below is noticed' '85.0 +- 4.0 %' "$(short "$work/bad2" z learner -1)"
finds 'a share that is reached is let pass' '' "$(short "$work/bad2" y learner 1)"
finds 'a bound that does not bound is noticed' 'ours takes 1.2 of it, error 0.1' "$(unbounded "$work/bad2" x)"
finds 'an oracle that is beaten is noticed' 'a 3, oracle 2' "$(beaten "$work/bad" x | head -1)"
plan
