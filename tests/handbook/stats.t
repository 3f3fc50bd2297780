# stats.t - the statistics of trend against R: t.test, integrate, fisher.test, mantelhaen.test, and Theil-Sen computed directly
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

# An answer off by a millionth must be noticed.
printf 'fisher 3 1 1 3 = 0.485715\n' >"$work/off"
if [ -n "$(differ fisher "$work/off" 1)" ]; then seen=''; else seen='an answer off by a millionth went unnoticed'; fi
ok 'an answer off by a millionth is noticed' "$seen"
plan
