# told.t - invented stories as tests: what common practice would settle on is asked for, so that what is known stays known
#
# They stand apart from the stories that were really told (cases.t): nobody outside has judged them. What they are good
# for is a word that is not understood, a fact that is lost on the way, a cause that crowds out another.
#
# The first 131 are plainer than life. First run of the rules against them: 121 first and 130 in three of 131 where the
# words were understood, and thirteen journals refused for a word.
# The next 40 are asked as people ask: terse, the asker's own wrong theory, normal practice told proudly, the key fact
# missing. First run: five refused for a word; of the other 35, 24 first and 32 in three, and of four "nothing is wrong"
# was said though something was. With the words understood 29 first and 37 in three of 40. Four journals were written
# anew after that: three had lost a fact of their story, one could not yet say that a single keg of several has it.
# The last 20 were written after the mends that came of the 40: three refused for a word; of the other 17, 15 first and
# 17 in three, and so many before those mends, too.
# Forty more, written before rules and program were looked at, with the causes in the shares of the real ones. First run: 23 refused for a word
# (31 phrases, put in as the asker had them); with other words for those 35 first and 38 in three of 40. Ten of them turned out to be close to
# stories told before, all ten first: without them 25 and 28 of 30. Two journals tell a fact now that the format could not hold then.
# After mends: 227 and 231 of 232. The floors are two and one less; such figures say no more than that what was mended stays so.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
told=$top_srcdir/tests/cases/told
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

run() { "$builddir/tests/cases/run_cases" "$AFTERBOIL_RULES" "$told" "$1"; }

# sum FILE FIELD: of ours: 2 stories, 3 first, 4 in three, 5 in five
sum() { awk -F '\t' -v field="$2" '$1 == "sum" && $2 == "afterboil" { print $(field + 1) }' "$1"; }

# under FILE FIELD FLOOR: says how many there are when they are fewer
under() { [ "$(sum "$1" "$2")" -ge "$3" ] 2>/dev/null || echo "$(sum "$1" "$2") instead of $3"; }

# unpaired: journals without an answer, answers without a journal
unpaired() {
	diff <(cd "$told" && printf '%s\n' *.xml | sed 's/\.xml$//' | sort) <(grep -v '^#' "$told/answers.tsv" | cut -f1 | sort)
}

run "$told/answers.tsv" >"$work/out" || ok 'the stories are worked' "$(cat "$work/out")"
sed -n '/^missed/,/^$/p' "$work/out" | sed 's/^/# /'
ok 'every journal has an answer and every answer a journal' "$(unpaired)"
ok '232 stories are worked' "$([ "$(sum "$work/out" 2)" = 232 ] || sum "$work/out" 2)"
ok 'the settled cause comes first in 225' "$(under "$work/out" 3 225)"
ok 'the settled cause is among three in 229' "$(under "$work/out" 4 229)"
ok 'nothing wrong is never said where something is' \
	"$(grep -E '^afterboil +nothing wrong' "$work/out" | grep -vE 'others: +0 ')"
if command -v xmllint >/dev/null; then
	ok 'they keep to the schema' "$(xmllint --noout --relaxng "$AFTERBOIL_RULES/journal.rng" "$told"/*.xml 2>&1 | grep -v validates)"
fi
sed '/^#/!s/\t[^\t]*\t[^\t]*$/\tunder-priming-or-dead-yeast\tunder-priming-or-dead-yeast/' "$told/answers.tsv" >"$work/wrong.tsv"
run "$work/wrong.tsv" >"$work/wrong"
finds 'wrong answers are noticed' 'instead of 188' "$(under "$work/wrong" 3 188 | sed 's/^[0-9]* //')"
plan
