# completion.t - bash, fish and zsh complete commands, options, their words, batches and faults; what a journal says is never run
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

# the scripts ask the program that is found
mkdir "$tmp/bin" "$tmp/j" "$tmp/empty"
printf '#!/bin/sh\nexec "%s" "$@"\n' "$(cd "$(dirname "$AFTERBOIL")" && pwd)/$(basename "$AFTERBOIL")" >"$tmp/bin/afterboil"
chmod +x "$tmp/bin/afterboil"
PATH=$tmp/bin:$PATH
AFTERBOIL_RULES=${AFTERBOIL_RULES:-$(cd "$top_srcdir" && pwd)/rules}
export PATH AFTERBOIL_RULES

# Beers are free text, and may try. None of them may run, and each must come back whole.
evil='$(touch PWNED) `touch PWNED` "; touch PWNED; '\'' * ~ \ | & > x # é %'
journal() { printf '<batch xmlns="urn:afterboil:journal:1" id="%s" brewed="2031-0%d-01" line="%s"/>\n' "$2" "$1" "$3" >"$tmp/j/$1.xml"; }
xml=$(printf %s "$evil" | sed 's/&/\&amp;/g; s/"/\&quot;/g; s/</\&lt;/g; s/>/\&gt;/g')
journal 1 pale-1 'house pale'
journal 2 pale-2 'house pale'
journal 3 stout-1 "$xml"
journal 4 odd-1 '-rf'
batches='odd-1 stout-1 pale-2 pale-1'
harmless() { [ -z "$(find "$tmp" . -maxdepth 2 -name PWNED 2>/dev/null)" ]; }

# ---- what the program offers ----
listed() { "$AFTERBOIL" __offer "$@" 2>&1 | tr '\n' ' ' | sed 's/ $//'; }
cd_listed() { (cd "$tmp/j" && afterboil __offer "$@" 2>&1 | tr '\n' ' ' | sed 's/ $//'); }
has() { tr '\n' ',' <<<",$1" | grep -q -- ",$2,"; }
for c in log taste enter; do
	ok "$c: batches of this folder" same "$batches last" "$(cd_listed $c)"
	ok "$c: of --in" same "$batches last" "$(listed $c --in "$tmp/j")"
	ok "$c: of --in=" same "$batches last" "$(listed $c "--in=$tmp/j")"
done
ok 'compare: a batch' same "$batches" "$(cd_listed compare)"
ok 'compare: the other' same "$batches" "$(cd_listed compare pale-1)"
ok 'compare: then files' same '' "$(cd_listed compare pale-1 pale-2)"
ok '--batch: of the folder on the line' same "$batches" "$(listed diagnose "$tmp/j" --batch)"
ok '-b, too' same "$batches" "$(listed diagnose "$tmp/j" -b)"
ok '--batch: of the file on the line' same pale-2 "$(listed diagnose "$tmp/j/2.xml" --batch)"
ok 'new --like' same "$batches" "$(cd_listed new --like)"
ok 'new: the beers, each once; none that looks like an option' same "house pale $evil" "$(cd_listed new)"
ok 'sheet: both' same "$batches last house pale $evil" "$(cd_listed sheet)"
ok '--line: beers' same "house pale $evil" "$(listed trend "$tmp/j" --line)"
ok 'a value without names' same '' "$(cd_listed log --at)"
ok 'an option of another command' same '' "$(cd_listed log --batch)"
ok 'after the batch, own words' same '' "$(cd_listed log pale-1)"
ok 'help: the commands' has "$("$AFTERBOIL" __offer help)" calendar
ok 'help: one only' same '' "$(listed help calendar)"
ok 'diagnose takes files' same '' "$(cd_listed diagnose)"
ok 'a folder without journals' same '' "$(listed log --in "$tmp/empty")"
ok 'no such folder' same '' "$(listed log --in "$tmp/none")"
mkfifo "$tmp/pipe"
exec 9<>"$tmp/pipe"   # a writer that never writes
for place in - "$tmp/pipe" /dev/zero; do
	ok "$place is not waited for" same '' "$(timeout 10 "$AFTERBOIL" __offer log --in "$place" 2>&1 <&9 || echo waited)"
done
exec 9<&-
ok 'no such command' same '' "$(listed nonsense --batch)"
ok 'nothing at all' same '' "$(listed)"
for place in 'diagnose --fault' 'diagnose -f' 'interview --absent' 'taste pale-1' 'taste pale-1 buttery'; do
	ok "$place: words of faults" has "$("$AFTERBOIL" __offer $place)" buttery
done
ok 'words of two' has "$("$AFTERBOIL" __offer diagnose --fault)" 'green apple'
"$AFTERBOIL" __offer diagnose --fault | sort >"$tmp/words"
ok 'each word once' same '' "$(uniq -d "$tmp/words")"
# Every fault word is one diagnose takes.
refused=$(while IFS= read -r word; do "$AFTERBOIL" diagnose --fault "$word=2" --redraws 0 >/dev/null 2>"$tmp/err" || [ $? = 1 ] || echo "$word"; done < <(awk 'NR % 25 == 1' "$tmp/words"))
ok 'diagnose knows them' same '' "$refused"
ok 'families' has "$("$AFTERBOIL" __offer advise --family)" pale-lager
ok 'yeasts' has "$("$AFTERBOIL" __offer calendar --yeast)" lager
ok 'changes' has "$("$AFTERBOIL" __offer changed)" "$("$AFTERBOIL" rules list changes --format json | grep -o '"id": *"[^"]*"' | head -1 | cut -d'"' -f4)"
ok 'a folder of rules on the line' same '' "$(listed diagnose --rules-base "$tmp/none" --fault)"

# ---- formats: offered just where they are taken ----
for line in "diagnose $tmp/j" "advise $tmp/j --no-store" "trend $tmp/j --no-store" "facts $tmp/j" rules 'panel triangle' "compare pale-1 pale-2 $tmp/j" \
	"sheet --in $tmp/j" "calendar $tmp/j"; do
	taken=
	for format in text json html ics; do
		run $line --format $format
		grep -q -- --format "$tmp/err" || taken="$taken $format"
	done
	ok "formats of ${line%% *}" same "${taken# }" "$(listed ${line%% *} --format)"
done
ok 'words of an option of all' same 'auto always never' "$(listed facts --color)"
ok 'without a command, too' same 'auto always never' "$(listed --color)"

# ---- in this bash ----
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
ok 'the words of an option' same 'text json html' "$(offers facts --format '')"
ok 'one of them' same json "$(offers facts --format j)"
ok 'after "="' same json "$(offers facts --format = j)"
ok 'all after "="' same 'text json html' "$(offers facts --format =)"
ok 'no option where a value is wanted' same '' "$(offers advise --budget '')"
ok 'a file is left to bash' same '' "$(offers facts exam)"
ok 'a batch' same 'pale-2 pale-1' "$(offers log --in "$tmp/j" pa)"
ok 'a folder behind "="' same 'pale-2 pale-1' "$(offers log --in = "$tmp/j" pa)"
ok 'a folder in quotes' same 'pale-2 pale-1' "$(offers log --in "\"$tmp/j\"" pa)"
ok 'a folder of home' same 'pale-2 pale-1' "$(HOME=$tmp offers log --in '~/j' pa)"
ok 'a fault' same 'buttery' "$(offers diagnose --fault buttery)"
ok 'a beer, quoted' same 'house\ pale' "$(offers new --in "$tmp/j" ho)"
ok 'begun with a backslash' same 'house\ pale' "$(offers new --in "$tmp/j" 'house\ p')"
ok 'in a quote' same 'house pale' "$(offers new --in "$tmp/j" '"house p')"
ok 'in a quote nothing that would end or run' same '' "$(offers new --in "$tmp/j" '"$')"
# What is inserted is run as a line: it must be the beer and nothing else.
inserted() { (cd "$tmp/j" && COMP_WORDS=(afterboil new '') COMP_CWORD=2 && _afterboil && eval "printf '%s\n' ${COMPREPLY[1]}"); }
ok 'what is inserted is the beer' same "$evil" "$(inserted)"
for typed in '$(touch PWNED)' '`touch PWNED`' '"$(touch PWNED)' '"`touch PWNED`' ';touch' '*' '$((a[$(touch PWNED)]))' 'a[$(touch PWNED)]'; do
	offers log --in "$typed" p >/dev/null
	offers log "$typed" >/dev/null
	offers "$typed" '' >/dev/null
done
ok 'nothing was run' harmless

# ---- in a real fish ----
if command -v fish >/dev/null; then
	run --completion-fish
	cp "$tmp/out" "$tmp/afterboil.fish"
	offered() { HOME=$tmp fish --no-config -c "source $tmp/afterboil.fish; complete -C 'afterboil $*'" 2>&1 | cut -f1 | tr '\n' ' '; }
	ok 'fish: a command' same 'diagnose ' "$(offered dia)"
	ok 'fish: an option of a command' same '--budget ' "$(offered advise --bu)"
	ok 'fish: not that of another' same '' "$(offered facts --bu)"
	ok 'fish: the words of an option' same 'json ' "$(offered facts --format j)"
	ok 'fish: none the command does not take' same '' "$(offered sheet --format j)"
	ok 'fish: an option without a command' same '--man-page ' "$(offered --man-)"
	ok 'fish: a batch' same 'pale-1 pale-2 ' "$(offered log --in "$tmp/j" pa)"
	ok 'fish: in one word' same '--batch=pale-1 --batch=pale-2 ' "$(offered diagnose "$tmp/j" --batch=pa)"
	ok 'fish: a fault' same 'buttery ' "$(offered diagnose --fault buttery)"
	ok 'fish: a fault after the batch' same 'buttery ' "$(offered taste pale-1 buttery)"
	ok 'fish: the beer, whole' grep -Fqx -- "$evil" <(HOME=$tmp fish --no-config -c "source $tmp/afterboil.fish; complete -C 'afterboil new --in $tmp/j '")
	offered 'log --in \$(touch PWNED) ' >/dev/null
	ok 'fish: nothing was run' harmless
elif [ "${CI:-}" = true ]; then
	ok 'fish is there' false
fi

# ---- in a real zsh ----
if command -v zsh >/dev/null; then
	mkdir "$tmp/fpath"
	run --completion-zsh
	cp "$tmp/out" "$tmp/fpath/_afterboil"
	ok 'zsh reads it' zsh -n "$tmp/fpath/_afterboil"
	# The function found by its file name, as compinit finds it; compadd and _files only say what they got.
	cat >"$tmp/offered.zsh" <<-'Z'
		fpath=($1 $fpath); shift
		autoload -U _afterboil
		compadd() {
			local -a given; local a
			for a; do [[ $a == -a ]] && break; done
			given=("${(@P)argv[-1]}")
			for a in "${given[@]}"; do [[ $a == "$PREFIX"* ]] && print -r -- "$a"; done
		}
		compset() { PREFIX=${PREFIX#*=}; }
		_files() { print -r -- FILES; }
		words=(afterboil "$@"); CURRENT=$#words; PREFIX=$words[-1]
		_afterboil
	Z
	zoffered() { HOME=$tmp zsh -f "$tmp/offered.zsh" "$tmp/fpath" "$@" 2>&1 | tr '\n' ' '; }
	ok 'zsh: a command' same 'diagnose ' "$(zoffered dia)"
	ok 'zsh: an option of a command' same '--budget ' "$(zoffered advise --bu)"
	ok 'zsh: not that of another' same '' "$(zoffered facts --bu)"
	ok 'zsh: an option without a command' same '--man-page ' "$(zoffered --man-)"
	ok 'zsh: the words of an option' same 'text json html ' "$(zoffered facts --format '')"
	ok 'zsh: in one word' same 'json ' "$(zoffered facts --format=j)"
	ok 'zsh: a batch' same 'pale-2 pale-1 ' "$(zoffered log --in "$tmp/j" pa)"
	ok 'zsh: a folder in quotes' same 'pale-2 pale-1 ' "$(zoffered log --in "'$tmp/j'" pa)"
	ok 'zsh: a folder of home' same 'pale-2 pale-1 ' "$(zoffered log --in '~/j' pa)"
	ok 'zsh: a fault after the batch' same 'buttery ' "$(zoffered taste pale-1 buttery)"
	ok 'zsh: else files' same 'FILES ' "$(zoffered facts '')"
	ok 'zsh: the beer, whole' same "$evil " "$(zoffered new --in "$tmp/j" '$')"
	zoffered log --in '$(touch PWNED)' '' >/dev/null
	zoffered '`touch PWNED`' '' >/dev/null
	ok 'zsh: nothing was run' harmless

	# At a terminal, with its own compadd: the line after TAB, printed instead of run. None without a pty.
	cat >"$tmp/pty.zsh" <<-'Z'
		zmodload zsh/zpty || exit 9
		zpty -b z zsh -f -i || exit 9
		zpty -w z "PS1=; PS2=; fpath=($1 \$fpath); autoload -U compinit; compinit -u -D; print-line() { print -r -- \"LINE[\$BUFFER]\" >>$3; BUFFER=; zle accept-line }; zle -N print-line; bindkey '^X' print-line; bindkey '^I' complete-word; cd $2; print READY >>$3"
		for i in {1..100}; do [[ -s $3 ]] && break; sleep 0.1; done
		for line in $argv[4,-1]; do
			zpty -w -n z "$line"$'\t'$'\C-X'
			n=$(wc -l <$3)
			for i in {1..50}; do (( $(wc -l <$3) > n )) && break; sleep 0.1; done
		done
		zpty -d z
	Z
	: >"$tmp/said"
	if HOME=$tmp zsh -f "$tmp/pty.zsh" "$tmp/fpath" "$tmp/j" "$tmp/said" 'afterboil log st' 'afterboil new ho' 'afterboil new $' 'afterboil sheet --format h' 2>"$tmp/err" >"$tmp/out"; then
		ok 'zsh at a terminal: a batch' grep -Fqx 'LINE[afterboil log stout-1 ]' "$tmp/said"
		ok 'zsh at a terminal: a beer, quoted' grep -Fqx 'LINE[afterboil new house\ pale ]' "$tmp/said"
		ok 'zsh at a terminal: a word' grep -Fqx 'LINE[afterboil sheet --format html ]' "$tmp/said"
		ok 'zsh at a terminal: nothing was run' harmless
	fi
elif [ "${CI:-}" = true ]; then
	ok 'zsh is there' false
fi
plan
