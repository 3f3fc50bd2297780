# urn.t - what is learned of a change's share, of a verdict and of the next batch, against R's integrals over the unknowns
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need Rscript
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

Rscript --vanilla "$top_srcdir/tests/handbook/urn.R" >"$work/all" || echo '# R failed'

# differ KIND FILE LEAST: answers that differ from the file's by more than 1e-6 (R's integral in an integral), or too few questions
differ() {
	grep "^$1 " "$2" >"$work/want"
	"$builddir/tests/unit/print_urn" <"$work/want" >"$work/got" || echo 'print_urn failed'
	awk -F= -v least="$3" '
	FNR == NR { want[FNR] = $2; next }
	{
		n = split($2, got, " ")
		m = split(want[FNR], wanted, " ")
		same = n == m && n > 0
		for (i = 1; i <= n && same; i++)
			same = got[i] - wanted[i] <= 1e-6 && wanted[i] - got[i] <= 1e-6
		if (!same) print $0 ", R has " want[FNR]
	}
	END { if (FNR < least) print FNR " questions" }' "$work/want" "$work/got"
}

ok 'the share of a change, and its scatter: integrate twice' "$(differ held "$work/all" 9)"
ok 'the same of batches that fade, beside other changes, and the counts' "$(differ faded "$work/all" 3)"
ok 'the share where the brewer drifts by one of 17 steps: trapezoids' "$(differ drift "$work/all" 2)"
ok 'the chance of later tastings under a suspect: integrate' "$(differ verdict "$work/all" 14)"
ok 'a cause in one batch more: integrate twice, over every way of being drawn anew' "$(differ next "$work/all" 6)"
# An answer off by a hundred-thousandth must be noticed.
printf 'verdict 0.5 1 1 0.8 0 0 = 0.213343\n' >"$work/off"   # 2/3 x 0.8 x 0.4
if [ -n "$(differ verdict "$work/off" 1)" ]; then seen=''; else seen='an answer that is off went unnoticed'; fi
ok 'an answer that is off is noticed' "$seen"
plan
