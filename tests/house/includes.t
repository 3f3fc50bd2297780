# includes.t - nothing reaches upward: each #include is allowed by the house table
#
# A header include/afterboil/X.h belongs to the room that holds X.c; `homes` comes first: headers without
# such a .c, or with more than one.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"

# room: rooms it may include besides itself
house='
base:
journal: base
process: base journal
knowledge: base
diagnosis: base knowledge
casework: base journal process knowledge diagnosis
advice: base journal process knowledge diagnosis casework
history: base journal process knowledge diagnosis casework
trend: base journal process knowledge diagnosis casework advice history
report: base journal process knowledge diagnosis casework advice history trend
cli: base journal process knowledge diagnosis casework advice history trend report
'
# outside header: the only rooms that may include it
outside='
sqlite3.h: history
nettle/: base
libxml/: base report
gsl/: process diagnosis advice trend
stdio.h: base journal process knowledge casework advice history trend report cli
'
homes='
advice: advice
casework: casework
check: journal
diagnose: diagnosis
fact: base
facts: process
field: base
history: history
journal: journal
knowledge: knowledge
network: diagnosis
plan: advice
profile: journal
report: report
sensor: journal
trend: trend
'

# upward ROOT: one line for each include that the table forbids
upward() {
	(cd "$1" && find src include -name '*.[ch]' | sort | xargs awk -v house="$house" -v outside="$outside" \
		-v homes="$homes" -v sources="$(cd "$1" && find src -name '*.c')" '
	function table(text, into,    rows, n, i, at) {
		n = split(text, rows, "\n")
		for (i = 1; i <= n; i++)
			if ((at = index(rows[i], ":")) > 0)
				into[substr(rows[i], 1, at - 1)] = substr(rows[i], at + 1) " "
	}
	function room_of(path,    part) {
		split(path, part, "/")
		if (part[1] == "src")
			return part[2]
		sub(/\.h$/, "", part[3])
		return home[part[3]]
	}
	BEGIN {
		table(house, may)
		table(outside, only)
		table(homes, home)
		for (x in home)
			gsub(/ /, "", home[x])
		n = split(sources, list, "\n")
		for (i = 1; i <= n; i++) {
			split(list[i], part, "/")
			sub(/\.c$/, "", part[3])
			if (!(part[3] in home))
				home[part[3]] = part[2]
		}
	}
	FNR == 1 {
		room = room_of(FILENAME)
		if (!(room in may))
			print FILENAME ": belongs to no room (no src/*/X.c, not in homes)"
	}
	/^[ \t]*#[ \t]*include/ {
		what = $0
		sub(/^[^<"]*[<"]/, "", what)
		sub(/[>"].*/, "", what)
		for (o in only)
			if (index(what, o) == 1 && index(only[o], " " room " ") == 0)
				print FILENAME ":" FNR ": " room " may not include " what
		if (what ~ /^afterboil\//)
			to = room_of("include/" what)
		else if (what ~ /^[a-z]+\// && ((r = substr(what, 1, index(what, "/") - 1)) in may))
			to = r
		else if ($0 ~ /"/) {
			print FILENAME ":" FNR ": write \"ROOM/x.h\" or <afterboil/x.h>, not " what
			next
		} else
			next
		if (to != room && index(may[room], " " to " ") == 0)
			print FILENAME ":" FNR ": " room " may not include " what " of " (to == "" ? "no room" : to)
	}')
}

ok 'every include points downward' "$(upward "$top_srcdir")"

mkdir -p "$bad/src/base" "$bad/src/journal" "$bad/src/diagnosis" "$bad/src/history" "$bad/include/afterboil"
echo '#include "journal/j.h"' >"$bad/src/base/a.c"
printf '#include <sqlite3.h>\n#include <libxml/tree.h>\n#include "base/a.h"\n' >"$bad/src/journal/j.c"
printf '#include <stdio.h>\n#include <afterboil/j.h>\n#include <math.h>\n' >"$bad/src/diagnosis/d.c"
printf '#include <sqlite3.h>\n# include "x.h"\n#include <gsl/gsl_errno.h>\n' >"$bad/src/history/h.c"
echo | tee "$bad/include/afterboil/j.h" >"$bad/include/afterboil/nobody.h"
finds 'a bad tree is found out, line by line' "include/afterboil/nobody.h: belongs to no room (no src/*/X.c, not in homes)
src/base/a.c:1: base may not include journal/j.h of journal
src/diagnosis/d.c:1: diagnosis may not include stdio.h
src/diagnosis/d.c:2: diagnosis may not include afterboil/j.h of journal
src/history/h.c:2: write \"ROOM/x.h\" or <afterboil/x.h>, not x.h
src/history/h.c:3: history may not include gsl/gsl_errno.h
src/journal/j.c:1: journal may not include sqlite3.h
src/journal/j.c:2: journal may not include libxml/tree.h" "$(upward "$bad" | sort)"
plan
