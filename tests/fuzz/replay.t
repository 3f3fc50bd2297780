# replay.t - every fuzz entry (fuzz_X) takes its corpus (tests/fuzz/corpus/X) without falling over
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
set -- $FUZZERS
[ $# -gt 0 ] || { echo '1..0 # SKIP no fuzz entry is listed in Makefile.am'; exit 0; }
echo "1..$#"
i=0
for f; do
	i=$((i + 1))
	name=$(basename "$f")
	corpus=$top_srcdir/tests/fuzz/corpus/${name#fuzz_}
	case $("$builddir/$f" -help=1 2>&1 </dev/null) in
	*libFuzzer*) run=("$builddir/$f" -runs=0 "$corpus") ;;
	*) run=("$builddir/$f" "$corpus") ;;
	esac
	if out=$("${run[@]}" 2>&1 </dev/null); then
		echo "ok $i - $name"
	else
		echo "not ok $i - $name"
		echo "$out" | tail -n 20 | sed 's/^/# /'
	fi
done
