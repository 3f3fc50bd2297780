# lib.sh - what the tests of the command line share: runs, TAP lines, golden files
#
# A golden file holds standard output, then standard error after a line "-- stderr", then the status. UPDATE=1 rewrites it; read it then.
#
# SPDX-License-Identifier: GPL-3.0-or-later

. "$top_srcdir/tests/need.sh"

tap_n=0
here=$top_srcdir/tests/cli
data=$here/data
small="--rules-base $data/rules"
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
XDG_DATA_HOME=$tmp/share
export XDG_DATA_HOME
unset NO_COLOR COLUMNS AFTERBOIL_TRACE

# ok TITLE CONDITION...: passes when the command does; what it prints is shown when it fails.
ok() {
	local title=$1 said
	shift
	tap_n=$((tap_n + 1))
	if said=$("$@" 2>&1); then
		echo "ok $tap_n - $title"
	else
		echo "not ok $tap_n - $title"
		printf '%s\n' "$said" | head -40 | sed 's/^/# /'
	fi
}

# run ARGS...: runs the program; leaves $tmp/out, $tmp/err and $status.
run() {
	"$AFTERBOIL" "$@" >"$tmp/out" 2>"$tmp/err" </dev/null
	status=$?
}

# ends WANTED TITLE ARGS...: the status is as wanted.
ends() {
	local wanted=$1 title=$2
	shift 2
	run "$@"
	ok "$title" same "$wanted" "$status"
}

# python_that CODE: a python that can do that; nothing where there is none
python_that() {
	local python
	for python in /usr/bin/python3 python3; do
		$python -c "$1" 2>/dev/null && echo "$python" && return
	done
}
a_terminal='import pty, os; os.close(pty.openpty()[0])'

same() {
	[ "$1" = "$2" ] || { printf 'wanted: %s\nfound:  %s\n' "$1" "$2"; cat "$tmp/err"; false; }
}

# says FILE PATTERN: FILE (out or err) has a line that matches.
says() {
	grep -Eq -- "$2" "$tmp/$1" || { echo "no line matches: $2"; cat "$tmp/$1"; false; }
}

silent() {
	[ ! -s "$tmp/$1" ] || { echo "$1 is not empty:"; cat "$tmp/$1"; false; }
}

# golden NAME ARGS...: output, messages and status are those of golden/NAME, with the folder of the tests written as TESTS.
golden() {
	local name=$1
	shift
	run "$@"
	{
		cat "$tmp/out"
		echo '-- stderr'
		cat "$tmp/err"
		echo "-- status $status"
	} | sed "s#$here#TESTS#g; s#$tmp#TMP#g" >"$tmp/golden"
	if [ "${UPDATE:-}" = 1 ]; then cp "$tmp/golden" "$here/golden/$name"; fi
	ok "golden/$name" diff -u "$here/golden/$name" "$tmp/golden"
}

plan() {
	echo "1..$tap_n"
}
