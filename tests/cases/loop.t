# loop.t - does the advice work? Simulated brewers follow it for ten batches, and so do their twins who follow something else
#
# Asserted: of what the oracle takes away ours takes a larger share than each of the others, by more than twice the standard error over the
# same brewers, in a world as the rules say and in one that differs; and the oracle, which knows the truth, is not beaten. How near ours comes to the oracle is
# told and not asserted. BREWERS sets how many (the more, the longer).
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

# beaten FILE WORLD: the policies that took away more than the oracle
beaten() {
	awk -F '\t' -v world="$2" '$1 == "loop" && $2 == world { n++; if ($3 == "oracle") best = $5; else if (!($5 < best)) print $3 " " $5 ", oracle " best }
		END { if (n < 7) print "too few policies" }' "$1"
}

"$builddir/tests/cases/run_loop" "$AFTERBOIL_RULES" "${BREWERS:-20}" "$top_srcdir"/examples/[0-9]*.xml "$top_srcdir"/tests/cases/plain/*.xml \
	"$top_srcdir"/tests/cases/case-*.xml >"$work/out" || ok 'brewers follow the policies' "$(tail -1 "$work/out")"
grep -vE '^(loop|ahead)	' "$work/out" | sed 's/^/# /'
for world in itself itself-3 shifted shifted-3; do
	ok "$world: ours takes away more than any other" "$(behind "$work/out" $world)"
	ok "$world: nobody beats who knows the truth" "$(beaten "$work/out" $world)"
done

printf 'ahead\tx\ta\t0.2\t0.3\nahead\tx\tb\t1\t0.3\nahead\tx\tc\t1\t0\nahead\tx\td\t1\t0\nahead\tx\te\t1\t0\n' >"$work/bad"
finds 'a lead within its error is noticed' 'a: ahead by 0.2, error 0.3' "$(behind "$work/bad" x)"
finds 'policies that were not run are noticed' 'too few policies' "$(behind "$work/bad" y)"
printf 'loop\tx\toracle\t9\t2\nloop\tx\ta\t9\t3\n' >"$work/bad"
finds 'an oracle that is beaten is noticed' 'a 3, oracle 2' "$(beaten "$work/bad" x | head -1)"
plan
