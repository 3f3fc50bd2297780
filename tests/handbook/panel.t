# panel.t - blind difference tests against printed tables and R: binom.test, numerical integration
#
# The triangle's table: FAO, "Sensory evaluation" (Appendix A: significance of triangle tests), the same as ISO 4120. The duo-trio's: ISO
# 10399:2015, table A.1. Columns: tastings, then the fewest right for 0.1, 0.05, 0.01, 0.001. Numbers of tasters for a power: ISO 4120:2004,
# table A.3 (from memory).
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need Rscript
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

Rscript --vanilla "$top_srcdir/tests/handbook/panel.R" >"$work/all" || echo '# R failed'

# differ FILE LEAST: answers of print_stats that differ from the file's by more than 1e-7 of it, or too few questions
differ() {
	"$builddir/tests/unit/print_stats" <"$1" >"$work/got" || echo 'print_stats failed'
	awk -F= -v least="$2" '
	FNR == NR { want[FNR] = $2; next }
	{
		n = split($2, got, " ")
		m = split(want[FNR], wanted, " ")
		same = n == m && n > 0
		for (i = 1; i <= n && same; i++) {
			off = got[i] - wanted[i]
			same = (off < 0 ? -off : off) <= 1e-7 * (wanted[i] < 0 ? -wanted[i] : wanted[i]) + 1e-9
		}
		if (!same) print $0 ", wanted" want[FNR]
	}
	END { if (FNR < least) print FNR " questions" }' "$1" "$work/got"
}
# asked KIND LEAST: R's questions of a kind
asked() {
	grep "^$1 " "$work/all" >"$work/want"
	differ "$work/want" "$2"
}
# table TEST LEAST: a printed table on standard input
table() {
	awk -v test="$1" 'NF == 5 { gsub("-", "0"); print "enough", test, $1, "0.1 0.05 0.01 0.001 =", $2, $3, $4, $5 }' >"$work/want"
	differ "$work/want" "$2"
}

ok 'p and belief: binom.test and integration' "$(asked panel 40)"
ok 'the fewest right: binom.test, one by one' "$(asked enough 60)"
ok 'power: pbinom' "$(asked power 48)"
ok 'tastings needed: pbinom' "$(asked tasters 12)"

ok "the triangle's printed table" "$(table 0 34 <<'T'
	5 4 4 5 -
	6 5 5 6 -
	7 5 5 6 7
	8 5 6 7 8
	9 6 6 7 8
	10 6 7 8 9
	11 7 7 8 10
	12 7 8 9 10
	13 8 8 9 11
	14 8 9 10 11
	15 8 9 10 12
	16 9 9 11 12
	17 9 10 11 13
	18 10 10 12 13
	19 10 11 12 14
	20 10 11 13 14
	21 11 12 13 15
	22 11 12 14 15
	23 12 12 14 16
	24 12 13 15 16
	25 12 13 15 17
	26 13 14 15 17
	27 13 14 16 18
	28 14 15 16 18
	29 14 15 17 19
	30 14 15 17 19
	31 15 16 18 20
	32 15 16 18 20
	33 15 17 18 21
	34 16 17 19 21
	35 16 17 19 22
	36 17 18 20 22
	42 19 20 22 25
	48 21 22 25 27
	54 23 25 27 30
	60 26 27 30 33
T
)"
ok "the duo-trio's printed table" "$(table 1 9 <<'T'
	26 17 18 20 22
	27 18 19 20 22
	28 18 19 21 23
	29 19 20 22 24
	30 20 20 22 24
	32 21 22 24 26
	36 23 24 26 28
	40 25 26 28 31
	48 29 31 33 36
	56 34 35 38 40
	60 36 37 40 43
T
)"
printf 'tasters 0 0.05 0.5 0.8 = 16\ntasters 0 0.05 0.5 0.9 = 20\ntasters 0 0.05 0.5 0.95 = 23\ntasters 0 0.05 0.3 0.95 = 66\n' >"$work/want"
ok "the triangle's printed numbers of tasters" "$(differ "$work/want" 4)"
printf 'enough 3 %s 0.05 = %s\n' 6 6 10 9 12 10 16 13 20 15 24 18 30 21 40 27 60 39 >"$work/want"
ok 'two-sided: the table of paired preference' "$(differ "$work/want" 9)"

printf 'enough 0 12 0.05 = 9\n' >"$work/want"
if [ -n "$(differ "$work/want" 1)" ]; then seen=''; else seen='one too many went unnoticed'; fi
ok 'a wrong row is noticed' "$seen"
plan
