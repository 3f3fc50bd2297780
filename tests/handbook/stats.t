# stats.t - the statistics of trend against R: t.test, power.t.test, predict.lm, integrate, fisher.test, mantelhaen.test, binom.test, and Theil-Sen
# and Poisson-binomial counts computed directly
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need Rscript
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

Rscript --vanilla "$top_srcdir/tests/handbook/stats.R" >"$work/all" || echo '# R failed'

# differ KIND FILE LEAST [SHARE [WITHIN]]: answers of print_stats that differ from the file's by more than WITHIN (1e-8) and that share of it, or too few questions
differ() {
	grep "^$1 " "$2" >"$work/want"
	"$builddir/tests/unit/print_stats" <"$work/want" >"$work/got" || echo 'print_stats failed'
	awk -F= -v least="$3" -v share="${4:-0}" -v within="${5:-1e-8}" '
	FNR == NR { want[FNR] = $2; next }
	{
		n = split($2, got, " ")
		m = split(want[FNR], wanted, " ")
		same = n == m && n > 0
		for (i = 1; i <= n && same; i++)
			same = (d = got[i] - wanted[i]) * d <= (within + share * wanted[i]) ^ 2
		if (!same) print $0 ", R has " want[FNR]
	}
	END { if (FNR < least) print FNR " questions" }' "$work/want" "$work/got"
}

ok 'two means: t.test with one variance, one-sided p and 80 % interval' "$(differ means "$work/all" 13)"
ok 'a drift and lines taken out: lm' "$(differ allow "$work/all" 8)"
ok "two shares under Jeffreys' prior: integrate" "$(differ shares "$work/all" 12)"
ok 'two Beta densities: integrate' "$(differ beta "$work/all" 5)"
ok 'Fisher: fisher.test on 39 tables and more' "$(differ fisher "$work/all" 39)"
ok 'the least p that margins allow: fisher.test over all tables' "$(differ least "$work/all" 5)"
ok 'slope and its limits: Theil-Sen directly' "$(differ slope "$work/all" 6)"
ok 'common thread: fisher.test and step-down min-P over every deal' "$(differ thread "$work/all" 6)"
ok 'by drawing: within four standard errors of every deal' "$(differ drawn "$work/all" 2 0 0.02)"
ok 'one thread given another: mantelhaen.test, exact' "$(differ given "$work/all" 8)"

# lmer stops where its deviance is flat: to a few millionths
ok 'how far scores lie apart: lmer on Dyestuff (42.001 and 49.510), Dyestuff2 and parts' "$(differ verdicts "$work/all" 4 5e-5)"
ok 'prior and data together: integrate' "$(differ learn "$work/all" 4)"

ok 'batches still needed, and the chance that they tell: power.t.test' "$(differ more "$work/all" 126 0 1e-7)"
ok 'did the promise hold: t.test' "$(differ held "$work/all" 4000)"
ok 'the next value: predict.lm, 80 %' "$(differ next "$work/all" 5)"
# Of promises that are what they say 8 in 10 hold; for two batches a side a few more, since Student's interval is read as a normal one.
for n in 2 3 5 10; do
	grep "^held 2 $n " "$work/all" >"$work/want"
	"$builddir/tests/unit/print_stats" <"$work/want" | awk -F= '{ n++; held += $2 } END { print held, n }' >"$work/held"
	ok "$n batches a side: 8 in 10 promises hold: binom.test" "$(Rscript --vanilla "$top_srcdir/tests/handbook/held.R" <"$work/held" 2>&1)"
done
ok 'blame before and after: sums of Poisson-binomial counts' "$(awk -F= '$1 ~ /^blamed/ { split($2, x, " "); print $1 "= " x[1] " " x[2] }' "$work/all" >"$work/sums"
	"$builddir/tests/unit/print_stats" <"$work/sums" | awk -F= '{ split($2, x, " "); print $1 "= " x[1] " " x[2] }' >"$work/got"
	paste -d= "$work/got" "$work/sums" | awk -F= '{ split($2, x, " "); split($4, y, " "); if ((x[1] - y[1]) ^ 2 + (x[2] - y[2]) ^ 2 > 1e-18) print } END { if (NR < 25) print NR " questions" }')"
ok 'blamed less often after: within 2 in 100 of all the counts there may be' "$(differ blamed "$work/all" 25 0 0.02)"

# An answer off by a millionth must be noticed.
printf 'fisher 3 1 1 3 = 0.485715\n' >"$work/off"
if [ -n "$(differ fisher "$work/off" 1)" ]; then seen=''; else seen='an answer off by a millionth went unnoticed'; fi
ok 'an answer off by a millionth is noticed' "$seen"
plan
