# man.t - the manual page is clean mdoc and says what is a contract
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need mandoc
run --man-page
ok 'written' same 0 "$status"
# under its own name: mandoc reads a section out of whatever stands behind the last dot of a path
cp "$tmp/out" "$tmp/afterboil.1"
ok 'mandoc finds nothing to say' same '' "$(mandoc -T lint -W style "$tmp/afterboil.1" 2>&1)"
mandoc -T ascii "$tmp/out" 2>/dev/null | sed 's/.\x08//g' >"$tmp/man"
for section in NAME SYNOPSIS DESCRIPTION COMMANDS OPTIONS 'JSON RESULTS' ENVIRONMENT FILES 'EXIT STATUS' EXAMPLES CAVEATS; do
	ok "section $section" grep -qx "$section" "$tmp/man"
done
for n in 0 1 2 3 4; do
	ok "status $n is told" grep -q "^     $n  " "$tmp/man"
done
# every example of the manual is one the program understands (its files need not be there)
grep -o 'afterboil [a-z]* .*' "$tmp/man" | grep -v '|\|zcat\|reads batch' | sed -n '/ --\|journals\|rules /p' | sort -u >"$tmp/examples"
# some write where they stand, and some ask: neither the build folder nor the list of examples is theirs
mkdir "$tmp/away" && cd "$tmp/away" || exit 1
while read -r line; do
	eval "set -- ${line#afterboil }" 2>/dev/null || continue
	run "$@" </dev/null
	ok "understood: $line" sh -c "! grep -Eq 'no option|no command|takes no|does not know' '$tmp/err'"
done <"$tmp/examples"
ok 'examples were found' test "$(wc -l <"$tmp/examples")" -ge 8
plan
