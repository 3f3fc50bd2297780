# headers.t - each header compiles alone, with gcc and with clang, under the warnings of the build
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need gcc
need clang
warn='-std=c11 -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Wstrict-prototypes
	-Wmissing-prototypes -Wpointer-arith -Wcast-qual -Wwrite-strings -Wundef -Wformat=2 -Wvla -Werror'

# broken COMPILER ROOT: the first message for each header of ROOT that needs another before it
broken() {
	(cd "$2" && find include src -name '*.h' | sort | while read -r h; do
		printf '#include "%s"\nstruct alone;\n' "$PWD/$h" >"$bad/alone.c"
		"$1" $warn -D_POSIX_C_SOURCE=200809L -Iinclude -Isrc $TEST_CPPFLAGS -fsyntax-only "$bad/alone.c" 2>&1 |
			grep -m1 'error:' | sed "s#^#$h: #"
	done)
}

mkdir -p "$bad/tree/include/afterboil" "$bad/tree/src"
echo 'int f(size_t n);' >"$bad/tree/include/afterboil/needs_stddef.h"
printf '#include <stddef.h>\nint g(size_t n);\n' >"$bad/tree/include/afterboil/good.h"
for cc in gcc clang; do
	ok "every header compiles alone with $cc" "$(broken "$cc" "$top_srcdir")"
	finds "a header that needs another is found out by $cc" include/afterboil/needs_stddef.h \
		"$(broken "$cc" "$bad/tree" | cut -d: -f1)"
done
plan
