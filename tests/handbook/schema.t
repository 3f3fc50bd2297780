# schema.t - two schema validators by other hands, and our reader, judge the same corpus alike
#
# Oracles: xmllint (libxml2's RELAX NG) and jing. Folder good: all accept. bad: all refuse. beyond: what no schema can say
# (DOCTYPE, ranges across units, what must fit together): the validators accept it, our reader refuses.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need xmllint
need jing
corpus=$top_srcdir/tests/fuzz/corpus
rules=$top_srcdir/rules
reader=$builddir/tests/unit/read_journal

# accepted_by WHO KIND FILE...: the files that WHO accepts
accepted_by() {
	local who=$1 kind=$2
	shift 2
	case $who in
	reader) "$reader" "$@" | sed -n 's/: OK$//p' ;;
	xmllint) timeout 120 xmllint --noout --relaxng "$rules/$kind.rng" "$@" 2>&1 | sed -n 's/ validates$//p' ;;
	jing)
		# all at once first; one by one only where there is something to find out
		if jing "$rules/$kind.rng" "$@" >/dev/null 2>&1; then
			printf '%s\n' "$@"
		else
			for f; do jing "$rules/$kind.rng" "$f" >/dev/null 2>&1 && echo "$f"; done
		fi
		;;
	esac
}

# differ WHO KIND FOLDER accepts|refuses: the files on which WHO says otherwise
differ() {
	local all
	all=$(ls "$corpus/$2/$3"/*.xml)
	# shellcheck disable=SC2086
	if [ "$4" = accepts ]; then
		comm -23 <(echo "$all" | sort) <(accepted_by "$1" "$2" $all | sort)
	else
		accepted_by "$1" "$2" $all
	fi
}

for kind in journal profile; do
	ok "$kind.rng is what the tables say" "$(diff <("$builddir/tests/unit/write_schema" $kind) "$rules/$kind.rng" | head -n 5)"
	for who in reader xmllint jing; do
		ok "$who accepts $kind/good" "$(differ $who $kind good accepts)"
		ok "$who refuses $kind/bad" "$(differ $who $kind bad refuses)"
	done
	ok "the reader refuses $kind/beyond" "$(differ reader $kind beyond refuses)"
	ok "xmllint accepts $kind/beyond" "$(differ xmllint $kind beyond accepts)"
	ok "jing accepts $kind/beyond" "$(differ jing $kind beyond accepts)"
done
ok 'there are 25 good and 60 bad journals at least' \
	"$([ "$(ls "$corpus"/journal/good/*.xml | wc -l)" -ge 25 ] && [ "$(ls "$corpus"/journal/bad/*.xml | wc -l)" -ge 60 ] || echo fewer)"
finds 'a wrong verdict is found out' "$corpus/journal/good/gear.xml" \
	"$(accepted_by jing journal "$corpus/journal/good/gear.xml" "$corpus/journal/bad/no-id.xml")"
plan
