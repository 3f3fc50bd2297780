# lib.sh - what the house tests share: TAP lines and a folder for bad examples
#
# A house test looks at the tree and must prove, on a small bad tree, that it can fail.
#
# SPDX-License-Identifier: GPL-3.0-or-later

. "$top_srcdir/tests/need.sh"

tap_n=0
bad=$(mktemp -d)
trap 'rm -rf "$bad"' EXIT

# ok TITLE FINDINGS: passes when there are no findings, else shows them.
ok() {
	tap_n=$((tap_n + 1))
	if [ -z "$2" ]; then
		echo "ok $tap_n - $1"
	else
		echo "not ok $tap_n - $1"
		printf '%s\n' "$2" | sed 's/^/# /'
	fi
}

# finds TITLE WANTED FINDINGS: passes when the findings are exactly the lines wanted (the self-test).
finds() {
	if [ "$2" = "$3" ]; then ok "$1" ''; else ok "$1" "wanted: $2
found:  $3"; fi
}

plan() {
	echo "1..$tap_n"
}
