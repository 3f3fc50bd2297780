#!/bin/bash
# autogen.sh - generate the build system; or, from a bare Debian 12, show afterboil (demo) or test it all (check)
#
#   ./autogen.sh         only generate (autoreconf)
#   ./autogen.sh demo    install what is missing, build in build/, walk through the example brewer's story
#   ./autogen.sh check   install what is missing, build twice (gcc; clang with sanitizers), run every test
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
cd "$(dirname "$0")" || exit 1
top=$PWD
jobs=$(nproc 2>/dev/null || echo 2)
exec </dev/null # nothing here asks; and standard input may not even exist

# what a build needs, and what the tests compare with
build_packages='gcc libc6-dev make autoconf automake pkg-config libxml2-dev libsqlite3-dev libgsl-dev libjansson-dev libical-dev nettle-dev'
test_packages='check clang libclang-rt-14-dev llvm valgrind universal-ctags mandoc jing libxml2-utils sqlite3 jq xz-utils
	python3-jsonschema locales python3-gsw python3-iapws python3-fluids python3-scipy units glpk-utils coinor-cbc minizinc jags r-base-core
	r-cran-lme4 r-cran-rjags r-cran-spc nodejs npm chromium fonts-dejavu-core fonts-liberation strace python3-vobject faketime zsh fish'

say() {
	printf '\n== %s\n' "$*"
}

die() {
	printf 'autogen.sh: %s\n' "$*" >&2
	exit 1
}

# there PACKAGE: it is installed, or a command of its name came by another way (npm within another build of nodejs, which
# refuses Debian's npm beside it)
there() {
	dpkg-query -W -f '${db:Status-Abbrev}\n' "$1" 2>/dev/null | grep -q '^.i' || type -P "$1" >/dev/null
}

# install PACKAGE...: the missing ones, through apt-get; does nothing, and asks nothing, when none is missing.
install() {
	local p root=() missing=()
	for p; do
		there "$p" || missing+=("$p")
	done
	[ ${#missing[@]} -eq 0 ] && return
	command -v apt-get >/dev/null || die "install these first (no apt-get here): ${missing[*]}"
	if [ "$(id -u)" -ne 0 ]; then
		command -v sudo >/dev/null || die "as root: apt-get install ${missing[*]}"
		root=(sudo)
	fi
	say "installing: ${missing[*]}"
	root+=(env DEBIAN_FRONTEND=noninteractive)
	"${root[@]}" apt-get -qq update || die 'apt-get update failed: is the network there?'
	"${root[@]}" apt-get -qq -y --no-install-recommends -o Dpkg::Use-Pty=0 install "${missing[@]}" >/dev/null ||
		die 'apt-get install failed'
}

generate() {
	say 'generating the build system'
	autoreconf -i
}

# build FOLDER [configure options]: configures and makes, out of tree
build() {
	local in=$1
	shift
	say "building in ${in#"$top/"}${*:+ ($*)}"
	mkdir -p "$in" && cd "$in" && "$top/configure" -q "$@" && make -s -j"$jobs"
	local rc=$?
	cd "$top" || exit 1
	return $rc
}

# show COMMAND...: prints it as typed, runs it; status 1 ("needs attention") is a fair answer
show() {
	printf '\n$ afterboil %s\n' "$*"
	build/afterboil "$@"
	[ $? -le 1 ] || die "the demo stopped at: afterboil $*"
}

demo_story() {
	local store
	store=$(mktemp -d) || die 'no room for the demo in the temporary folder'
	say 'a pale ale of high summer tastes of hot alcohol and pear drops: what was it?'
	show diagnose examples/05-house-pale.xml
	say 'after a year of twelve batches: what is the best use of 120?'
	show advise --budget 120 --store "$store/year" examples
	say 'the same beer six times, with two changes on the way: did they help?'
	show trend --line house-pale --store "$store/year" examples
	rm -rf "$store"
}

# ---- check -------------------------------------------------------------------------------------------------------

passed=0 failed=0 skipped=0 wrong=()

# tally TITLE LOG: adds Automake's summaries ("# PASS: 3" and so on) to the totals, and remembers what failed by name
tally() {
	local p f s line
	while read -r line; do
		wrong+=("$1: $line")
	done < <(grep -E '^(FAIL|ERROR|XPASS): ' "$2" | awk '!told[$0]++') # a log may tell it again
	shift
	read -r p f s <<<"$(awk '$1 == "#" && NF == 3 { n[$2] += $3 }
		END { print n["PASS:"] + n["XFAIL:"], n["FAIL:"] + n["ERROR:"] + n["XPASS:"], n["SKIP:"] + 0 }' "$1")"
	passed=$((passed + p)) failed=$((failed + f)) skipped=$((skipped + s))
	[ "$f" -gt 0 ]
}

# stage TITLE COMMAND...: runs it, shows its output, counts its tests; a failure without a failed test counts as one
stage() {
	local title=$1 log rc
	shift
	log=$(mktemp)
	say "$title"
	"$@" 2>&1 | tee "$log"
	rc=${PIPESTATUS[0]}
	if ! tally "$title" "$log" && [ "$rc" -ne 0 ]; then
		failed=$((failed + 1))
		wrong+=("$title: status $rc")
		echo "FAIL: $title (status $rc)"
	fi
	rm -f "$log"
	return "$rc"
}

# made TARGET FOLDER: make TARGET there; on failure the logs of the failed tests follow
made() {
	local log
	make -s -C "$2" -j"$jobs" "$1" && return
	find "$2" -name '*.trs' -exec grep -lE '^:test-result: (FAIL|ERROR|XPASS)' {} + | while read -r log; do
		echo "---- ${log%.trs}.log"
		tail -n 60 "${log%.trs}.log"
	done
	return 1
}

# watched COMMAND...: one afterboil command under valgrind, counted as one test
watched() {
	local verdict=PASS
	valgrind -q --leak-check=full --errors-for-leak-kinds=definite,indirect,possible --error-exitcode=99 \
		build/gcc/afterboil "$@" >/dev/null 2>build/valgrind.log
	[ $? -le 1 ] || verdict=FAIL
	echo "$verdict: valgrind afterboil $*"
	echo "# $verdict: 1"
	[ $verdict = PASS ] || cat build/valgrind.log
}

valgrind_story() {
	export AFTERBOIL_RULES=$top/rules
	export XDG_DATA_HOME=$top/build/data # not the history of whoever runs this
	watched diagnose --fault buttery=3
	watched diagnose examples
	watched advise --budget 120 examples
	watched trend examples
	watched facts examples
	watched rules lint
}

# A tarball must build, test, install and clean up after itself from a source tree nobody can write to. Root writes
# anywhere, so root proves it as nobody, in a copy.
distcheck() {
	local copy user=() rc
	copy=$(mktemp -d /tmp/afterboil-dist.XXXXXX)
	tar -C "$top" --exclude=./.git --exclude='./build*' --exclude=./autom4te.cache -cf - . | tar -C "$copy" -xf -
	if [ "$(id -u)" -eq 0 ]; then
		chown -R nobody "$copy"
		user=(runuser -u nobody --)
	fi
	(cd "$copy" && "${user[@]}" env HOME="$copy" TMPDIR="$copy" SIMULATED=yes DISTCHECK_CONFIGURE_FLAGS=-q sh -c \
		"autoreconf -i && mkdir b && cd b && ../configure -q && make -s -j$jobs distcheck")
	rc=$?
	[ $rc -eq 0 ] || find "$copy" -name test-suite.log -exec tail -n 200 {} +
	chmod -R u+w "$copy"
	rm -rf "$copy"
	return $rc
}

# built FOLDER OPTION... : as build, but a failure is counted
built() {
	build "$@" && return
	failed=$((failed + 1))
	wrong+=("building in $1")
	echo "FAIL: building in $1"
	return 1
}

check() {
	export CI=true # everything is installed now: a test that finds its oracle missing fails instead of being skipped
	export ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1
	if built build/gcc CC=gcc --enable-werror; then
		stage 'all tests, gcc' made check build/gcc
		stage 'main commands under valgrind' valgrind_story
	fi
	if built build/clang CC=clang --enable-werror --enable-sanitizers; then
		stage 'units and command line, clang with AddressSanitizer and UBSan' made check-quick build/clang
	fi
	stage 'the tarball (make distcheck)' distcheck
	# long before the end, and the end may be all that is kept
	[ ${#wrong[@]} -eq 0 ] || { say 'what failed:'; printf '%s\n' "${wrong[@]}"; }
	printf '\n%d passed, %d failed, %d skipped\n' $passed $failed $skipped
	[ $failed -eq 0 ] && [ $passed -gt 0 ]
}

case ${1:-} in
'')
	autoreconf -i
	;;
demo)
	echo 'This installs what is missing to build afterboil (apt-get), builds it in build/, and shows one brewer'"'"'s story.'
	install $build_packages
	generate || die 'autoreconf failed'
	build build || die 'the build failed'
	demo_story
	;;
check)
	echo 'This installs what is missing to build and test afterboil (apt-get), and runs every test; about half an hour.'
	install $build_packages $test_packages
	generate || die 'autoreconf failed'
	check
	;;
*)
	sed -n '4,6s/^# \{0,1\}//p' "$0" >&2
	exit 2
	;;
esac
