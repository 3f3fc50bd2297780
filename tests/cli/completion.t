# completion.t - the script for bash completes commands, the options of each, and their words
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

run --completion
ok 'written' same 0 "$status"
ok 'bash reads it' bash -n "$tmp/out"
. "$tmp/out"

# offers WORD...: what is offered for the last word
offers() {
	COMP_WORDS=(afterboil "$@")
	COMP_CWORD=$#
	COMPREPLY=()
	_afterboil
	echo "${COMPREPLY[*]}"
}
ok 'a command' same diagnose "$(offers di)"
ok 'an option without a command' same --man-page "$(offers --man)"
ok 'an option of a command' same --budget "$(offers advise --bu)"
ok 'not that of another' same '' "$(offers facts --bu)"
ok 'the words of an option' same 'text json html ics' "$(offers facts --format '')"
ok 'one of them' same json "$(offers facts --format j)"
ok 'a file is left to bash' same '' "$(offers facts exam)"

# ---- in a real fish ----
if command -v fish >/dev/null; then
	run --completion-fish
	cp "$tmp/out" "$tmp/afterboil.fish"
	offered() { HOME=$tmp fish --no-config -c "source $tmp/afterboil.fish; complete -C 'afterboil $*'" 2>&1 | cut -f1 | tr '\n' ' '; }
	ok 'fish: a command' same 'diagnose ' "$(offered dia)"
	ok 'fish: an option of a command' same '--budget ' "$(offered advise --bu)"
	ok 'fish: not that of another' same '' "$(offered facts --bu)"
	ok 'fish: the words of an option' same 'json ' "$(offered facts --format j)"
	ok 'fish: an option without a command' same '--man-page ' "$(offered --man-)"
elif [ "${CI:-}" = true ]; then
	ok 'fish is there' false
fi
plan
