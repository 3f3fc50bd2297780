# memory.t - with ever less memory each command ends cleanly: all of its work or a message and status 4, and the history whole
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"
if [ "${SANITIZED:-}" = yes ]; then
	echo '1..0 # SKIP the sanitizers want terabytes of address space'
	exit 0
fi
need sqlite3

# within KIB ARGS...: a run that may map so much
within() {
	local most=$1
	shift
	(ulimit -v "$most" && exec "$AFTERBOIL" "$@") >"$tmp/out" 2>"$tmp/err" </dev/null
	status=$?
}

# the least in which the program can be loaded at all
floor=20000
while within $floor --version; [ $status -ne 0 ] && [ $floor -lt 2000000 ]; do floor=$((floor + 250)); done
ok 'there is a floor' test $floor -lt 2000000

# starved ARGS...: from the floor up until it is done; prints what was neither done nor a clean end, and how many clean ends there were
starved() {
	local most=$floor ends=0
	while [ $most -lt $((floor + 40000)) ]; do
		within $most "$@"
		case $status in
		0 | 1)
			[ -s "$tmp/out" ] || echo "$most: nothing on standard output"
			break
			;;
		4)
			ends=$((ends + 1))
			[ -s "$tmp/out" ] && echo "$most: half a result"
			grep -q '^afterboil: ' "$tmp/err" || echo "$most: no message"
			;;
		*) echo "$most: status $status: $(head -c 200 "$tmp/err")" ;;
		esac
		most=$((most + 200))
	done
	[ $most -lt $((floor + 40000)) ] || echo 'never done'
	[ $ends -gt 0 ] || echo 'never short of memory: the test tests nothing'
}

for c in diagnose facts advise trend check; do
	extra=
	case $c in advise | trend) extra=--no-store ;; esac
	ok "$c" same '' "$(starved $c "$top_srcdir/examples" $extra)"
done
ok 'json' same '' "$(starved diagnose "$top_srcdir/examples" --format json)"
ok 'rules list' same '' "$(starved rules list)"

run trend "$data/brewery/pale-1.xml" $small --store "$tmp/h.db"
ok 'trend that files' same '' "$(starved trend "$data/brewery" $small --store "$tmp/h.db")"
ok 'the history is whole' same ok "$(sqlite3 "$tmp/h.db" 'PRAGMA integrity_check')"
run trend $small --store "$tmp/h.db"
ok 'and has all four' same 4 "$(grep -c '^  pale-' "$tmp/out")"
plan
