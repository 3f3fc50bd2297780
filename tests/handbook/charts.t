# charts.t - control charts against the NIST/SEMATECH handbook's worked examples, R and its package spc
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need Rscript
Rscript --vanilla -e 'library(spc)' >/dev/null 2>&1 || missing r-cran-spc
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

Rscript --vanilla "$top_srcdir/tests/handbook/charts.R" >"$work/all" || echo '# R failed'

# answers FILE: the file's questions answered, "answer | wanted"
answers() {
	"$builddir/tests/unit/print_stats" <"$1" >"$work/got" || echo 'print_stats failed'
	paste -d'|' "$work/got" <(sed 's/.*=//' "$1")
}
# near FILE WITHIN LEAST: answers further off than so much
near() {
	answers "$1" | awk -F'|' -v within="$2" -v least="$3" '
		{
			sub(/.*=/, "", $1)
			n = split($1, got, " ")
			m = split($2, want, " ")
			same = n == m && n > 0
			for (i = 1; i <= n && same; i++)
				same = got[i] - want[i] <= within && want[i] - got[i] <= within
			if (!same) print "line " NR ": " $1 " instead of" $2
		}
		END { if (NR < least) print NR " questions" }'
}

grep '^standard ' "$work/all" >"$work/want"
ok 'self-starting values: pt and qnorm' "$(near "$work/want" 1e-7 16)"
grep '^shift ' "$work/all" >"$work/want"
ok 'the Nile fell after 1898, once' "$(near "$work/want" 0 1)"

# Drawn run lengths lie within four of their own errors of the exact ones.
grep '^runs ' "$work/all" >"$work/want"
ok 'mean run lengths: package spc' "$(answers "$work/want" | awk -F'|' '
	{
		sub(/.*=/, "", $1)
		split($1, got, " ")
		off = (got[1] - $2) / got[2]
		if (got[2] <= 0 || off > 4 || off < -4) print "line " NR ": " $1 " instead of " $2
	}
	END { if (NR < 22) print NR " questions" }')"

# ---- NIST/SEMATECH e-Handbook of Statistical Methods ----

# 6.3.2.4: weight 0.3, centre 50, s 2.0539; the limits at the end are 47.4115 and 52.5884
x='52.0 47.0 53.0 49.3 50.1 47.0 51.0 50.1 51.2 50.5 49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1'
echo "ewma 50 2.0539 0.3 3 $x" | "$builddir/tests/unit/print_stats" | sed 's/.*=//' | tr ' ' '\n' | sed '/^$/d' >"$work/pairs"
awk 'NR % 2 { printf "%.2f ", $1 }' "$work/pairs" >"$work/z"
ok 'EWMA: the sequence of 6.3.2.4' "$([ "$(cat "$work/z")" = \
	'50.60 49.52 50.56 50.18 50.16 49.21 49.75 49.85 50.26 50.33 50.11 49.36 49.52 50.05 49.38 49.92 50.73 51.23 51.94 51.99 ' ] || cat "$work/z")"
ok 'EWMA: its limits' "$(tail -1 "$work/pairs" | awk '{ if (50 + $1 < 52.5878 || 50 + $1 > 52.5890) print }')"

# 6.3.2.3.1: target 325, slack 0.3175, limit 4.1959; alarm at the 14th
x='324.925 324.675 324.725 324.350 325.350 325.225 324.125 324.525 325.225 324.600 324.625 325.150 328.325 327.250 327.829 328.500 326.675 327.775 326.875 328.350'
up='0 0 0 0 .033 0 0 0 0 0 0 0 3.007 4.940 7.452 10.634 11.992 14.449 16.007 19.039'
down='0 .007 0 .332 0 0 .558 .715 .173 .255 .312 0 0 0 0 0 0 0 0 0'
paste -d' ' <(tr ' ' '\n' <<<"$up") <(tr ' ' '\n' <<<"$down") | tr '\n' ' ' | sed "s/^/cusum 325 0.3175 $x = /" >"$work/want"
ok 'CUSUM: the sums of 6.3.2.3.1' "$(near "$work/want" 2e-3 1)"
"$builddir/tests/unit/print_stats" <"$work/want" | sed 's/.*=//' | tr ' ' '\n' | sed '/^$/d' | awk 'NR % 2 && $1 > 4.1959 { print (NR + 1) / 2; exit }' >"$work/first"
ok 'CUSUM: its alarm' "$([ "$(cat "$work/first")" = 14 ] || cat "$work/first")"

# Montgomery, Introduction to Statistical Quality Control: weight 0.1, width 2.7, mean 10, sd 1: out at 29 and 30; CUSUM 0.5, 5 likewise
x='9.45 7.99 9.29 11.66 12.16 10.18 8.04 11.46 9.20 10.34 9.03 11.47 10.51 9.40 10.08 9.37 10.62 10.31 8.52 10.84 10.90 9.33 12.29 11.50 10.60 11.08 10.38 11.62 11.31 10.52'
echo "ewma 10 1 0.1 2.7 $x" | "$builddir/tests/unit/print_stats" | sed 's/.*=//' | tr ' ' '\n' | sed '/^$/d' |
	awk 'NR % 2 { z = $1; next } z - 10 > $1 || 10 - z > $1 { printf "%d:%.4f ", NR / 2, z }' >"$work/out"
ok 'EWMA: where the textbook series is out' "$(grep -q '^29:10.6468 30:[0-9.]* $' "$work/out" || cat "$work/out")"
echo "cusum 10 0.5 $x" | "$builddir/tests/unit/print_stats" | sed 's/.*=//' | tr ' ' '\n' | sed '/^$/d' |
	awk 'NR % 2 && $1 > 5 { printf "%d:%.2f ", (NR + 1) / 2, $1 }' >"$work/out"
ok 'CUSUM: where the textbook series is out' "$(grep -qx '29:5.28 30:5.30 ' "$work/out" || cat "$work/out")"
plan
