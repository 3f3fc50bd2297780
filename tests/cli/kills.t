# kills.t - a kill, a failing disk or a full one at any call that changes a file: what was there before or what should be there now
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need strace sqlite3 prlimit
strace -qq -e trace=none -e inject=fsync:signal=KILL:when=1 true 2>/dev/null || missing 'strace that may trace'

# The search for leaks cannot work in a process that is traced; other tests look for them.
export ASAN_OPTIONS="${ASAN_OPTIONS:+$ASAN_OPTIONS:}detect_leaks=0"

# How a try is prepared, what it is, and how the state of the files is told (on standard output).
brewery=$tmp/b
db=$tmp/b/h.db
cat >"$tmp/journal.xml" <<'X'
<?xml version="1.0" encoding="UTF-8"?>
<batch xmlns="urn:afterboil:journal:1" id="pale-14" brewed="2021-03-07">
  <pitch at="2021-03-07T18:00" temp="18 C"/>
</batch>
X
"$AFTERBOIL" trend "$data/brewery/pale-1.xml" $small --store "$tmp/old.db" >/dev/null 2>&1
restore() {
	rm -rf "$brewery"
	mkdir "$brewery"
	cp "$tmp/journal.xml" "$brewery/pale-14.xml"
	# the small rules know no diacetyl that a taster could be blind to
	sed 's/ blind-to="diacetyl"//' "$top_srcdir/examples/profile.xml" >"$brewery/profile.xml"
	cp "$tmp/old.db" "$db"
}
state() {
	cat "$brewery/pale-14.xml" "$brewery/profile.xml"
	sqlite3 "$db" 'PRAGMA integrity_check; PRAGMA user_version' .dump | sort
}
act() {
	case $1 in
	trend) set -- trend "$data/brewery" $small --store "$db" ;;
	log) set -- log 14 wort 19.5 C --at 2021-04-08T19:00 --in "$brewery" $small ;;
	taste) set -- taste 14 buttery 3 --at 2021-04-08T19:00 --in "$brewery" $small ;;
	changed) set -- changed 'moved the shed' --on 2021-03-03 --profile "$brewery/profile.xml" $small ;;
	esac
	# in a shell of its own, which would say "Killed"
	("${through[@]}" "$AFTERBOIL" "$@" >"$tmp/out" 2>"$tmp/err" </dev/null; exit $?) 2>/dev/null
	status=$?
}

# sweep COMMAND CALL HOW: HOW befalls the first CALL, the second, and so on until there is none; what is wrong afterwards.
# HOW: signal=KILL, or error=... The number of tries goes to $tries.
sweep() {
	local command=$1 call=$2 how=$3 n found left
	tries=0
	for ((n = 1; n < 400; n++)); do
		restore
		through=(strace -qq -f -o "$tmp/trace" -e "trace=$call" -e "inject=$call:$how:when=$n")
		act "$command"
		grep -q 'INJECTED\|killed by SIGKILL' "$tmp/trace" || break
		tries=$((tries + 1))
		state >"$tmp/found" 2>&1
		if cmp -s "$tmp/found" "$tmp/state.$command"; then found=new
		elif cmp -s "$tmp/found" "$tmp/state.old"; then found=old
		else echo "$call $n: neither old nor new"; diff "$tmp/found" "$tmp/state.$command" | head -5; continue; fi
		case $how in
		error=*)
			[ "$status" = 4 ] || [ "$found" = new ] || echo "$call $n: status $status"
			[ "$status" != 0 ] || [ "$found" = new ] || echo "$call $n: said to be done"
			[ "$(grep -c '^afterboil: ' "$tmp/err")" = 1 ] || [ "$status" = 0 ] || { echo "$call $n: said:"; cat "$tmp/err"; }
			left=$(find "$brewery" -name '*.saving-*')
			[ -z "$left" ] || echo "$call $n: left $left"
			;;
		*) [ "$status" = 137 ] || echo "$call $n: status $status" ;;
		esac
		through=()   # whatever was left lying there does not stand in the way
		[ "$found" = new ] || act "$command"
		[ "$status" = 0 ] || [ "$status" = 1 ] || [ "$found" = new ] || { echo "$call $n: afterwards it cannot be done"; cat "$tmp/err"; }
		state >"$tmp/found" 2>&1
		cmp -s "$tmp/found" "$tmp/state.$command" || echo "$call $n: done afterwards, but not the same"
	done
}

through=()
restore
state >"$tmp/state.old"
for command in trend log taste changed; do
	restore
	act $command
	state >"$tmp/state.$command"
	ok "$command changes something" sh -c "! cmp -s '$tmp/state.old' '$tmp/state.$command'"
done

# command | call | what befalls it
while IFS='|' read -r command call hows; do
	command=$(echo $command)
	call=$(echo $call)
	for how in $hows; do
		sweep "$command" "$call" $how >"$tmp/wrong"
		cp "$tmp/wrong" "$tmp/err"
		ok "$command: $call $how: old or new, at any of $tries" silent err
		ok "$command: $call $how: tried" test "$tries" -gt 0
	done
done <<'T'
	trend | pwrite64 | signal=KILL error=ENOSPC
	trend | fdatasync | signal=KILL error=EIO
	trend | unlink | signal=KILL error=EIO
	log | write | signal=KILL error=ENOSPC
	log | fsync | signal=KILL error=EIO
	log | rename | signal=KILL error=EIO
	taste | write | signal=KILL error=ENOSPC
	taste | rename | signal=KILL error=ENOSPC
	changed | write | signal=KILL error=ENOSPC
	changed | fsync | signal=KILL error=EIO
	changed | rename | signal=KILL error=EIO
T

# Files that may not grow: said, status 4, nothing lost
for command in trend log taste changed; do
	for bytes in 0 50 150; do
		restore
		through=(prlimit --fsize=$bytes)
		act $command
		state >"$tmp/found" 2>&1
		ok "$command: no file beyond $bytes bytes: status 4" same 4 "$status"
		ok "$command: no file beyond $bytes bytes: the old is there" cmp "$tmp/found" "$tmp/state.old"
	done
done

# A disk that is full, where one may be made
if [ "$(id -u)" = 0 ] && mkdir "$tmp/disk" && mount -t tmpfs -o size=1m tmpfs "$tmp/disk" 2>/dev/null; then
	trap 'umount "$tmp/disk"; rm -rf "$tmp"' EXIT
	brewery=$tmp/disk/b
	db=$brewery/h.db
	through=()
	for command in trend log taste changed; do
		restore
		head -c 2M /dev/zero >"$tmp/disk/rest" 2>/dev/null
		act $command
		state >"$tmp/found" 2>&1
		ok "$command: a full disk: status 4" same 4 "$status"
		ok "$command: a full disk: one line is said" same 1 "$(wc -l <"$tmp/err")"
		ok "$command: a full disk: the old is there" cmp "$tmp/found" "$tmp/state.old"
		rm "$tmp/disk/rest"
		act $command
		state >"$tmp/found" 2>&1
		ok "$command: with room again it is done" diff "$tmp/found" "$tmp/state.$command"
	done
fi
plan
