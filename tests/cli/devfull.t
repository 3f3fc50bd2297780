# devfull.t - output that cannot be written is noticed; a reader who leaves early is not
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

[ -c /dev/full ] || missing /dev/full

# full TITLE ARGS...
full() {
	local title=$1
	shift
	"$AFTERBOIL" "$@" >/dev/full 2>"$tmp/err" </dev/null
	ok "$title: status 4" same 4 $?
	ok "$title: said" says err 'standard output cannot be written: '
}
full help --help
full manual --man-page
full greeting
full version --version
full facts facts "$data/brewery" $small
full diagnosis diagnose "$data/brewery" $small
full json diagnose "$data/brewery" $small --format json
full advice advise "$data/brewery" $small --no-store
full trend trend "$data/brewery" $small --no-store
full rules rules list $small
full check check "$data/brewery" $small

"$AFTERBOIL" facts "$data/brewery" $small >&- 2>"$tmp/err"
ok 'standard output closed: status 4' same 4 $?
"$AFTERBOIL" trend "$data/brewery" $small --store "$tmp/h.db" >&- 2>"$tmp/err"
ok 'and the store is not written into' same 'SQLite format 3' "$(head -c 15 "$tmp/h.db")"
"$AFTERBOIL" rules explain too-warm $small 2>"$tmp/err" | head -1 >/dev/null
ok 'a reader who leaves early: nothing is said' silent err
plan
