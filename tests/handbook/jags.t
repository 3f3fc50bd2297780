# jags.t - the solver against Gibbs sampling in JAGS: catches a wrong model, not only wrong arithmetic
#
# Two chains of 200,000 seeded draws a network; all within 3e-3 (standard error at worst 0.8e-3 if draws were independent).
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need Rscript
need jags
Rscript -e 'library(rjags)' >/dev/null 2>&1 || need r-cran-rjags
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT
here=$top_srcdir/tests/handbook

# differ FILE FILE: values of the first that the second does not have within 3e-3
differ() {
	awk '{ key = $1 " " $2 }
	FNR == NR { want[key] = $3; wanted++; next }
	$1 != "present" && $1 != "blame" { next }
	!(key in want) || $3 - want[key] > 3e-3 || want[key] - $3 > 3e-3 { print $0 ", sampled " want[key] }
	{ got++ }
	END { if (got != wanted || got < 6) print got + 0 " values, sampled " wanted + 0 }' "$1" "$2"
}

for net in plain grades strong unseen; do
	"$builddir/tests/unit/solve_net" "$here/networks/$net.txt" >"$work/ours" || echo "# solve_net failed on $net"
	Rscript "$here/jags.R" "$here/networks/$net.txt" >"$work/jags" || echo "# JAGS failed on $net"
	ok "$net: present and blame within 3e-3 of two chains of 200,000 draws" "$(differ "$work/jags" "$work/ours")"
	cp "$work/jags" "$work/jags-$net"
done

# A prior of 0.15 taken for 0.12 must be noticed.
sed 's/^cause 0\.15/cause 0.12/' "$here/networks/grades.txt" >"$work/other.txt"
"$builddir/tests/unit/solve_net" "$work/other.txt" >"$work/ours"
if differ "$work/jags-grades" "$work/ours" | grep -q 'present 1 .*sampled 0\.'; then seen=''; else seen='a changed prior went unnoticed'; fi
ok 'a prior changed from 0.15 to 0.12 is noticed' "$seen"
plan
