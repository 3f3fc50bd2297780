# curve.t - the gravity curve against R's nls: parameters, chi squared and covariance, free and with known ends
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need Rscript
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

"$builddir/tests/unit/print_models" curve >"$work/ours" || echo '# print_models failed'
Rscript --vanilla "$top_srcdir/tests/handbook/curve.R" <"$work/ours" >"$work/theirs" || echo '# R failed'

# differ WHAT FILE RELATIVE: lines "set N WHAT ..." of R that the file does not have within so much of each number's size
differ() {
	awk -v what="$1" -v tol="$3" '
	$3 != what { next }
	FNR == NR { want[$2] = $0; wanted++; next }
	{
		n = split(want[$2], w, " ")
		same = n == NF
		# a covariance is small beside the product of its spreads when it is nearly none
		for (i = 4; i <= NF && same; i++) {
			size = w[i] < 0 ? -w[i] : w[i]
			if (what == "cov") { r = int((i - 4) / 4); c = (i - 4) % 4; size = sqrt(w[4 + 5 * r] * w[4 + 5 * c]) }
			same = $i - w[i] <= tol * size && w[i] - $i <= tol * size
		}
		if (!same) print "set " $2 ": " $0 ", R has " want[$2]
		got++
	}
	END { if (got != wanted || got < 9) print got + 0 " sets, R has " wanted + 0 }' "$work/theirs" "$2"
}

ok 'parameters and chi squared within 1e-6' "$(differ fit "$work/ours" 1e-6)"
ok 'covariance within 1e-4' "$(differ cov "$work/ours" 1e-4)"

# NIST's Rat42 is told from memory in check_cold.c: R must come to the same b1, b2, b3 and sum of squares.
rat42() {
	Rscript --vanilla - <<-'END'
	x <- c(9, 14, 21, 28, 42, 57, 63, 70, 79)
	y <- c(8.93, 10.80, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08)
	fit <- nls(y ~ SSlogis(x, b1, middle, scale), control = nls.control(tol = 1e-8, warnOnly = TRUE))
	b <- coef(fit)
	cat(sprintf("%.6f %.7f %.9f %.7f\n", b["b1"], b["middle"] / b["scale"], 1 / b["scale"], deviance(fit)))
	END
}
finds "NIST's Rat42, told from memory, is what R finds" '72.462238 2.6180768 0.067359200 8.0565229' "$(rat42)"

# A parameter off by 1e-5 and a covariance off by 1e-3 must be noticed.
awk '$3 == "fit" && $2 == 3 { $6 *= 1.00001 } $3 == "cov" && $2 == 5 { $5 += 0.001 * sqrt($4 * $9) } { print }' "$work/ours" >"$work/off"
finds 'a rate off by a hundred thousandth is noticed' 'set 3:' "$(differ fit "$work/off" 1e-6 | cut -d' ' -f1,2)"
finds 'a covariance off by a thousandth is noticed' 'set 5:' "$(differ cov "$work/off" 1e-4 | cut -d' ' -f1,2)"
plan
