# words.t - what must not be written: paths of one machine, download hosts, and calls the library has sworn off
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"

# The patterns are put together here so that this file does not hold what it forbids.
s=/
machine="${s}work${s}|${s}home${s}[a-z]+${s}|${s}Users${s}|${s}var${s}tmp${s}"
hosts='registry\.npm|pypi\.org|deb\.debian\.org|proxy\.golang|crates\.io|rubygems\.org'

# written ROOT: lines with a forbidden word in the files of the project
written() {
	(cd "$1" && find .ci src include rules tests examples autogen.sh configure.ac Makefile.am README.md DEVELOPERS.md \
		-type f ! -name '*.o' 2>/dev/null | sort | xargs grep -InE "($machine|$hosts)" | cut -c1-160)
	(cd "$1" && find . -name '*lock*' -type f ! -path './.git/*' ! -path './build*' -exec grep -InH 'http' {} + |
		cut -c1-160)
}

# The library never prints, exits, or reads the clock, the environment or the locale (src/cli may).
sworn='(printf|vprintf|puts|putchar|perror|exit|_exit|abort|getenv|secure_getenv|setlocale|time|clock|gettimeofday'
sworn="$sworn|clock_gettime|localtime|localtime_r|mktime|system|popen|rand|srand)"

# sworn_off ROOT: calls of those in library code; comments and strings do not count
sworn_off() {
	(cd "$1" && find src -name '*.[ch]' ! -path 'src/cli/*' | sort | while read -r f; do
		sed -E 's/\\"//g; s/"[^"]*"/""/g; s#//.*##; s#/\*[^*]*\*/##g; s#^[ \t]*/?\*[^/]*(\*/)?$##' "$f" |
			grep -nE "(^|[^A-Za-z0-9_>.])$sworn *\(|std(out|err)\b" | sed "s#^#$f:#"
	done)
}

ok 'no path of a machine, no download host in the project' "$(written "$top_srcdir")"
ok 'the library keeps off the screen, the clock and the environment' "$(sworn_off "$top_srcdir")"

mkdir -p "$bad/src/base" "$bad/src/cli"
cat >"$bad/src/base/b.c" <<'C'
/* printf( in a comment is fine */
	n = snprintf(buf, 10, "exit(1)");
	ab_fail(d, "call time( please"); x->time(3);
	t = time(NULL);
	fprintf(stderr, "no\n");
	if (getenv("HOME"))
C
echo '	printf("hello");' >"$bad/src/cli/c.c"
echo "see ${s}work${s}main" >"$bad/README.md"
printf '"%s": "%s:' resolved http >"$bad/x-lock.json"
finds 'a forbidden call is found out' 'src/base/b.c:4 src/base/b.c:5 src/base/b.c:6 ' \
	"$(sworn_off "$bad" | cut -d: -f1,2 | tr '\n' ' ')"
finds 'a forbidden word is found out' 'README.md ./x-lock.json ' "$(written "$bad" | cut -d: -f1 | tr '\n' ' ')"
plan
