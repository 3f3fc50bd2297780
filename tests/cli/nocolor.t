# nocolor.t - colours come when asked for, or on a terminal, and never when NO_COLOR is set
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

esc=$(printf '\033')
colored() { grep -q "$esc" "$tmp/out"; }
plain() { ! colored; }

run diagnose "$data/brewery" $small
ok 'not a terminal: plain' plain
run diagnose "$data/brewery" $small --color always
ok 'asked for: coloured' colored
sed "s/$esc\[[0-9;]*m//g" "$tmp/out" >"$tmp/bare"
run diagnose "$data/brewery" $small --color never
ok 'never: plain' plain
ok 'colours change nothing else' cmp "$tmp/bare" "$tmp/out"
NO_COLOR=1 run diagnose "$data/brewery" $small --color always
ok 'asked for beats NO_COLOR' colored
run diagnose "$data/brewery" $small --color always --format json
ok 'data are never coloured' plain
# a bare root may have script(1) and yet no terminals to give (no /dev/pts)
if script -qec true /dev/null >/dev/null 2>&1 </dev/null; then
	# tty ENV: the same through a terminal of script(1)
	tty_run() { env TERM=xterm "$@" script -qec "'$AFTERBOIL' diagnose '$data/brewery' $small" /dev/null >"$tmp/out" 2>&1 </dev/null; }
	tty_run COLUMNS=80
	ok 'a terminal: coloured' colored
	tty_run COLUMNS=80 NO_COLOR=1
	ok 'a terminal with NO_COLOR: plain' plain
	tty_run COLUMNS=80 TERM=dumb
	ok 'a terminal that knows no colours: plain' plain
	tty_run COLUMNS=80 NO_COLOR=
	ok 'an empty NO_COLOR does not count' colored
else
	tap_n=$((tap_n + 1))
	echo "ok $tap_n # SKIP no terminal here: colours on a terminal are not looked at"
fi
plan
