# width.t - text keeps to its width, whatever it is, and to ASCII where the locale has no more
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

LC_ALL=C.UTF-8
export LC_ALL
fits() { # COLUMNS
	! grep -nE ".{$(($1 + 1))}" "$tmp/out"
}
for w in 40 50 64 80 100 132 200; do
	for c in diagnose advise trend facts; do
		extra=
		case $c in advise | trend) extra=--no-store ;; esac
		run "$c" "$top_srcdir/examples" $extra --all --width "$w"
		ok "$c in $w columns" fits "$w"
	done
done
COLUMNS=60 run diagnose "$data/brewery" $small
ok 'COLUMNS is heard' fits 60
COLUMNS=500 run diagnose "$data/brewery" $small
ok 'lines too long to read are not made' fits 100
COLUMNS=nonsense run diagnose "$data/brewery" $small
ok 'nonsense in COLUMNS is not' fits 80
ascii() { ! LC_ALL=C grep -nP '[^\x00-\x7F]' "$tmp/out"; }
for c in diagnose advise trend facts; do
	extra=
	case $c in advise | trend) extra=--no-store ;; esac
	LC_ALL=C run "$c" "$data/brewery" $small $extra
	ok "$c is ASCII where the locale is" ascii
done
ok 'no blanks at line ends' sh -c "! grep -n ' \$' '$tmp/out'"
plan
