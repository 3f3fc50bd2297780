# progress.t - the line of a long work: at a terminal, erased before any other word; never in a pipe or for a short work
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

python=$(python_that "$a_terminal")
if [ -z "$python" ]; then
	echo '1..0 # SKIP no pseudo-terminal here'
	exit 0
fi

# many N: a folder of N journals
many() {
	mkdir -p "$tmp/many"
	text=$(cat "$data/brewery/pale-1.xml")
	for ((i = 1; i <= $1; i++)); do
		printf '%s\n' "${text/id=\"pale-1\"/id=\"pale-x$i\"}" >"$tmp/many/$i.xml"
	done
}

# at COLUMNS TERM ARGS...: runs the program with standard error at a terminal
at() {
	local columns=$1 term=$2
	shift 2
	TERM=$term $python "$here/progress_pty.py" "$columns" "$tmp/out" "$tmp/err" "$AFTERBOIL" "$@"
	status=$?
}

esc=$(printf '\033')
# lines: what was drawn, one a line
lines() {
	tr '\r' '\n' <"$tmp/err" | sed -n "s/^$esc\[K\(..*\)/\1/p" | grep ' left$'
}

# erased ARGS...: what stands on the screen in the end is what the same run writes into a pipe, and nothing else
erased() {
	cp "$tmp/err.screen" "$tmp/screen"
	TERM=xterm run "$@"
	diff -u "$tmp/err" "$tmp/screen"
}

# not_wider COLUMNS
not_wider() {
	! lines | awk -v most="$1" 'length >= most' | grep .
}

none() {
	! grep "$esc\|about [0-9]* [a-z]* left" "$tmp/err"
}


# long ARGS... N: the work with N, twice as much of it each time until it takes four seconds; where even 10,000 do not, the machine
# is too fast for this test and it fails.
long() {
	local n=1000 begun
	while :; do
		begun=$(date +%s%N)
		at 80 xterm "$@" --redraws $n
		[ $(($(date +%s%N) - begun)) -lt 4000000000 ] && [ $n -lt 10000 ] || break
		n=$((n * 2 < 10000 ? n * 2 : 10000))
	done
	redraws=$n
}

own=$top_srcdir/examples
long advise "$own" --no-store
ok 'a long advice tells how far it is' sh -c "tr '\r' '\n' <'$tmp/err' | grep -Eq '[0-9]+ of $redraws trials of the plan, about [0-9]+ (s|min) left\$'"
ok 'no line is as wide as the terminal' not_wider 80
ok 'at most ten lines a second, of a work that took less than a minute' test "$(lines | wc -l)" -le 600
cp "$tmp/out" "$tmp/kept"
ok 'and erases it before the next word, and at the end' erased advise "$own" --no-store --redraws $redraws
ok 'in a pipe there is no line' none
ok 'and the answer is the same' cmp -s "$tmp/kept" "$tmp/out"

# Half of what took four seconds.
half=$((redraws / 2))
at 24 xterm advise "$own" --no-store --redraws $half
ok 'a narrow terminal: a line that fits' not_wider 24
ok 'and it is drawn' test "$(lines | wc -l)" -ge 1
ok 'and erased' erased advise "$own" --no-store --redraws $half
at 80 dumb advise "$own" --no-store --redraws $half
ok 'TERM=dumb: none' none
at 80 '' advise "$own" --no-store --redraws $half
ok 'TERM empty: none' none

at 80 xterm diagnose --fault buttery=3 $small
ok 'a short work never shows one' none
at 80 xterm check "$data/brewery" $small
ok 'nor do a few journals' none

# A folder that takes long to read: twice as many journals each time until it takes four seconds.
n=4000
while :; do
	many $n
	begun=$(date +%s%N)
	at 80 xterm trend "$tmp/many" --no-store --last 10
	[ $(($(date +%s%N) - begun)) -lt 4000000000 ] && [ $n -lt 64000 ] || break
	n=$((n * 2))
done
ok "trend of $n journals" sh -c "tr '\r' '\n' <'$tmp/err' | grep -Eq '[0-9]+ of $n journals read, about [0-9]+ (s|min) left\$'"
ok 'erased' erased trend "$tmp/many" --no-store --last 10
printf '<batch>' >"$tmp/many/zzz.xml"
at 80 xterm trend "$tmp/many" --no-store --last 10
ok 'an error in the last of them' same 3 "$status"
ok 'after a line was drawn' test "$(lines | wc -l)" -ge 1
ok 'its message stands alone' erased trend "$tmp/many" --no-store --last 10
ok 'and names the file' says err '^afterboil: .*zzz.xml:'
plan
