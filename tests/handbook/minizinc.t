#!/usr/bin/env bash
# minizinc.t - plans with diminishing returns within a cause against a constraint solver (MiniZinc with Gecode), whole numbers of millionths
#
# tests/unit/plan_mzn writes a seeded problem as a model and prints what our plan removes, and how far rounding may part the two.
# SPDX-License-Identifier: GPL-3.0-or-later
. "$top_srcdir/tests/need.sh"
need minizinc

work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
problems=16

# same OURS THEIRS WITHIN: both infeasible, or numbers as near as that
same() {
	awk -v a="$1" -v b="$2" -v e="$3" 'BEGIN {
		if (a !~ /^[0-9.]+$/ || b !~ /^[0-9.]+$/) exit !(a == b && a == "infeasible")
		d = a - b; exit !(d <= e && d >= -e) }'
}

by_minizinc() {
	timeout 120 minizinc --solver Gecode "$1" > "$work/out" 2> "$work/err"
	awk '/UNSATISFIABLE/ { print "infeasible"; found = 1; exit }
	     /^[0-9]+$/ { v = $1 } /^==========/ { printf "%.6f\n", v / 1e6; found = 1; exit }
	     END { if (!found) print "no answer" }' "$work/out"
}

echo "1..$((problems + 2))"
feasible=0
for seed in $(seq 1 $problems); do
	read -r ours within <<< "$("$builddir/tests/unit/plan_mzn" "$seed" "$work/plan.mzn" || echo 'no-answer 0')"
	theirs=$(by_minizinc "$work/plan.mzn")
	if same "$ours" "$theirs" "$within"; then echo "ok $seed - problem $seed"
	else echo "not ok $seed - problem $seed: ours $ours, theirs $theirs, rounding $within"; fi
	awk -v v="$ours" 'BEGIN { exit !(v > 0.01) }' && feasible=$((feasible + 1))
done
# the comparison must be able to fail, and most problems must have something to choose
if same 1.0002 1.0000 0.0001; then echo "not ok $((problems + 1)) - a difference is noticed"; else echo "ok $((problems + 1)) - a difference is noticed"; fi
if [ "$feasible" -ge $((problems / 2)) ]; then echo "ok $((problems + 2)) - $feasible problems have something to choose"
else echo "not ok $((problems + 2)) - only $feasible problems have something to choose"; fi
