#!/usr/bin/env bash
# milp.t - linear plans against two MILP solvers, GLPK (glpsol) and COIN-OR (cbc)
#
# tests/unit/plan_lp writes a seeded problem as an LP file and prints what our plan removes; all three must agree to 1e-6.
# SPDX-License-Identifier: GPL-3.0-or-later
. "$top_srcdir/tests/need.sh"
need glpsol cbc

work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
problems=48
n=0

# same A B: equal words, or numbers within 1e-6
same() {
	awk -v a="$1" -v b="$2" 'BEGIN {
		if (a !~ /^[0-9.e+-]+$/ || b !~ /^[0-9.e+-]+$/) exit !(a == b && a == "infeasible")
		d = a - b; exit !(d <= 1e-6 && d >= -1e-6) }'
}

by_glpsol() {
	timeout 60 glpsol --lp "$1" -o "$work/glpsol.sol" > "$work/glpsol.out" 2>&1
	if grep -q '^Status: *INTEGER OPTIMAL' "$work/glpsol.sol"; then
		awk '/^Objective:/ { print $4 }' "$work/glpsol.sol"
	elif grep -Eq 'NO (PRIMAL|INTEGER) FEASIBLE' "$work/glpsol.out"; then
		echo infeasible
	else
		echo 'no answer'
	fi
}

by_cbc() {
	timeout 60 cbc "$1" ratioGap 0 allowableGap 0 solve solution "$work/cbc.sol" > "$work/cbc.out" 2>&1
	awk 'NR == 1 && /^Optimal/ { print $NF; found = 1 }
	     NR == 1 && /[Ii]nfeasible/ { print "infeasible"; found = 1 }
	     END { if (!found) print "no answer" }' "$work/cbc.sol"
}

# check TITLE OURS THEIRS
check() {
	n=$((n + 1))
	if same "$2" "$3"; then
		echo "ok $n - $1"
	else
		echo "not ok $n - $1: ours $2, theirs $3"
	fi
}

echo "1..$((2 * problems + 3))"
feasible=0
infeasible=0
for seed in $(seq 1 $problems); do
	ours=$("$builddir/tests/unit/plan_lp" "$seed" "$work/plan.lp") || ours='no answer'
	if [ "$ours" = infeasible ]; then infeasible=$((infeasible + 1)); else feasible=$((feasible + 1)); fi
	check "problem $seed, glpsol" "$ours" "$(by_glpsol "$work/plan.lp")"
	check "problem $seed, cbc" "$ours" "$(by_cbc "$work/plan.lp")"
done

# the comparison itself must be able to fail, and most problems must have something to choose
n=$((n + 1))
if same 1.00001 1 || same 'no answer' 'no answer' || same infeasible 1 || ! same 2.5 2.5000001; then
	echo "not ok $n - a wrong answer would be noticed"
else
	echo "ok $n - a wrong answer would be noticed"
fi
n=$((n + 1))
if [ $feasible -ge 40 ]; then echo "ok $n - 40 or more have a plan"; else echo "not ok $n - only $feasible have a plan"; fi
n=$((n + 1))
if [ $infeasible -ge 1 ]; then echo "ok $n - some have none"; else echo "not ok $n - all have a plan"; fi
