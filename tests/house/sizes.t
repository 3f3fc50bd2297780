# sizes.t - no function over 100 lines, no source file over 1000
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need ctags

# long_functions ROOT LINES: "length file:line name" of those longer
long_functions() {
	(cd "$1" && find src tests -name '*.c' | sort |
		ctags -L - -f - --languages=C --kinds-C=f --fields=+ne 2>/dev/null |
		awk -F '\t' -v most="$2" '{
			first = last = 0
			for (i = 4; i <= NF; i++) {
				if ($i ~ /^line:/) first = substr($i, 6)
				if ($i ~ /^end:/) last = substr($i, 5)
			}
			if (last - first + 1 > most) print last - first + 1, $2 ":" first, $1
		}')
}

# long_files ROOT LINES
long_files() {
	(cd "$1" && find src include tests \( -name '*.[ch]' -o -name '*.t' -o -name '*.sh' \) -exec wc -l {} + |
		awk -v most="$2" '$2 != "total" && $1 > most { print $1, $2 }')
}

ok 'no function over 100 lines' "$(long_functions "$top_srcdir" 100)"
ok 'no file over 1000 lines' "$(long_files "$top_srcdir" 1000)"

mkdir -p "$bad/src/base" "$bad/include" "$bad/tests"
{
	printf 'static int fine(void)\n{\n\treturn 0;\n}\n\nint big(void)\n{\n'
	for _ in $(seq 98); do echo '	fine();'; done
	printf '}\n'
} >"$bad/src/base/f.c"
finds 'a function of 101 lines is found out, and only it' '101 src/base/f.c:6 big' "$(long_functions "$bad" 100)"
finds 'the same one passes where 101 are allowed' '' "$(long_functions "$bad" 101)"
for _ in $(seq 1001); do echo '/* */'; done >"$bad/include/long.h"
finds 'a file of 1001 lines is found out' '1001 include/long.h' "$(long_files "$bad" 1000)"
plan
