# listed.t - Makefile.am names every file of the project, and none that is not there: the build and the tarball are whole
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"

# unlisted ROOT: files that Makefile.am names neither themselves nor by a folder they are in
unlisted() {
	(cd "$1" && {
		tr -s ' \t\\' '\n' <Makefile.am | sed 's/[;)]*$//'
		echo ./
		find src include rules tests examples -type f ! -name '.*' | sort
	} | awk '
		$0 == "./" { files = 1; next }
		!files { named[$0] = 1; next }
		{
			path = $0
			while (!(path in named) && path ~ /\/.*\//)
				sub(/\/[^\/]*$/, "", path)
			# programs under tests/ are named without the .c
			base = $0
			sub(/\.c$/, "", base)
			if (!(path in named) && !(base in named && base ~ /^tests\//))
				print $0
		}')
}

# missing ROOT: sources, headers, rules and scripts that Makefile.am names and the tree does not have
missing() {
	(cd "$1" && tr -s ' \t\\' '\n' <Makefile.am | grep -E '^(src|include|rules|examples|tests)/[^$*]+\.(c|h|xml|rng|t|sh)$' |
		sort -u | while read -r f; do [ -f "$f" ] || echo "$f"; done)
}

ok 'Makefile.am names nothing that is missing' "$(missing "$top_srcdir")"
ok 'Makefile.am names every file' "$(unlisted "$top_srcdir")"

mkdir -p "$bad/src/base" "$bad/tests/unit" "$bad/tests/cases/one" "$bad/include" "$bad/rules" "$bad/examples"
touch "$bad/src/base/a.c" "$bad/src/base/b.c" "$bad/tests/unit/check_a.c" "$bad/tests/unit/check_b.c" \
	"$bad/tests/cases/one/x.xml" "$bad/rules/c.xml"
printf 'base = src/base/a.c \\\n\tsrc/base/a.h\nunit_tests = tests/unit/check_a\nEXTRA_DIST = tests/cases\nx: ; find src\n' >"$bad/Makefile.am"
finds 'a file that is not named is found out' "rules/c.xml
src/base/b.c
tests/unit/check_b.c" "$(unlisted "$bad")"
finds 'a name without its file is found out' src/base/a.h "$(missing "$bad")"
plan
