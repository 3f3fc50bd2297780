# need.sh - what scripts do without a program they compare with: skipped at home, failed where all is promised
#
# SPDX-License-Identifier: GPL-3.0-or-later

# missing WHAT: ends the test because WHAT is not there.
missing() {
	if [ "${CI:-}" = true ]; then echo '1..1'; echo "not ok 1 - $1 is missing"; else echo "1..0 # SKIP $1 is missing"; fi
	exit 0
}

# need PROGRAM...
need() {
	local program
	for program; do command -v "$program" >/dev/null || missing "$program"; done
}
