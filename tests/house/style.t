# style.t - what can be said about style without taste: licence line, tabs, no blanks at line ends, no line too wide
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"

# untidy ROOT: file:line and what is wrong there
untidy() {
	(cd "$1" && find src include tests -type f \( -name '*.[ch]' -o -name '*.t' -o -name '*.sh' \) | sort | xargs awk '
	function end() { if (file != "" && !licensed) print file ": no SPDX-License-Identifier in the first 40 lines" }
	FNR == 1 { end(); file = FILENAME; licensed = 0; c = FILENAME ~ /\.[ch]$/ }
	FNR <= 40 && /SPDX-License-Identifier: GPL-3\.0-or-later/ { licensed = 1 }
	/[ \t\r]$/ { print FILENAME ":" FNR ": blank at the end of the line" }
	c && /^        / { print FILENAME ":" FNR ": indented with spaces" }
	c && /^#pragma once/ { print FILENAME ":" FNR ": " $0 }
	END { end() }')
}

ok 'licence lines, tabs, clean line ends' "$(untidy "$top_srcdir")"

# wide ROOT ROOM...: lines over 120 columns, a tab reaching to the next eighth
wide() {
	(cd "$1" && shift && find "$@" -type f -name '*.[ch]' | sort | while IFS= read -r file; do
		expand "$file" | awk -v file="$file" 'length($0) > 120 { print file ":" FNR ": " length($0) " columns" }'
	done)
}

ok 'no line over 120 columns' "$(wide "$top_srcdir" src include tests)"

mkdir -p "$bad/src" "$bad/include" "$bad/tests"
printf '/* SPDX-License-Identifier: GPL-3.0-or-later */\nint x; \n        int y;\n\tint z;\n' >"$bad/src/a.c"
echo 'int y;' >"$bad/include/b.h"
finds 'an untidy tree is found out' "include/b.h: no SPDX-License-Identifier in the first 40 lines
src/a.c:2: blank at the end of the line
src/a.c:3: indented with spaces" "$(untidy "$bad")"
awk 'BEGIN { s = sprintf("%112s", ""); gsub(/ /, "x", s); print "\t" s; print "\t" s "x"; print s "12345678"; print s "123456789" }' >"$bad/src/a.c"
finds 'and lines too wide' "src/a.c:2: 121 columns
src/a.c:4: 121 columns" "$(wide "$bad" src)"
plan
