#!/usr/bin/env bash
# values.t - dates, lengths of time, quantities and sensor logs against Python's datetime, Fraction, Decimal and csv
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need python3
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

# differ WHAT: what Python reads otherwise
differ() {
	python3 "$top_srcdir/tests/handbook/values.py" "${2:-$builddir/tests/unit/read_values}" "$work" "$1" 2>&1 | head -8
}

ok 'dates: every month end in years of every kind, and 1500 more, with and without a time of day' "$(differ dates)"
ok 'seconds to dates, 1900 to 2999' "$(differ days)"
ok 'times after pitching, of one to four parts' "$(differ intervals)"
ok 'quantities of every unit: value and resolution, to the last digits' "$(differ numbers)"
ok 'what is no quantity is none' "$(differ malformed)"
ok 'sensor logs of many shapes: separators, zones, epochs, Fahrenheit, Plato, disorder, duplicates, gaps' "$(differ logs)"

# A reader that is a second late, or takes all for well, must be noticed.
cat >"$work/late" <<'END'
#!/bin/sh
"$REAL" | sed 's/43200 /43201 /; s/00 20/01 20/; s/^no$/0 1/'
END
chmod +x "$work/late"
REAL=$builddir/tests/unit/read_values
export REAL
for what in dates malformed; do
	if [ -n "$(differ $what "$work/late")" ]; then seen=''; else seen='an answer that is off went unnoticed'; fi
	ok "an answer that is off is noticed: $what" "$seen"
done
plan
