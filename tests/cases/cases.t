# cases.t - told stories as tests: all of them are read and counted; how well we do is printed, not asserted
#
# The journals hold what was told before anybody knew; answers.tsv holds what each story settled on. Only what must hold whatever the rules say
# is asserted, with a bound loose enough for 45 stories. The table stands in the log.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
cases=$top_srcdir/tests/cases
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

run() { "$builddir/tests/cases/run_cases" "$AFTERBOIL_RULES" "$cases" "$1"; }

# unpaired: journals without an answer, answers without a journal
unpaired() {
	diff <(cd "$cases" && printf '%s\n' case-*.xml | sed 's/\.xml$//' | sort) <(grep -v '^#' "$cases/answers.tsv" | cut -f1 | sort)
}

# untold: journals without a comment saying what the story told
untold() { grep -L '^<!-- [^ ]' "$cases"/case-*.xml; }

# sum FILE METHOD FIELD: 2 stories, 3 first, 4 in three, 5 in five
sum() { awk -F '\t' -v method="$2" -v field="$3" '$1 == "sum" && $2 == method { print $(field + 1) }' "$1"; }

# behind FILE METHOD: how ours is more than 10 points behind that method in three (or says nothing)
behind() {
	local n ours theirs
	n=$(sum "$1" afterboil 2) ours=$(sum "$1" afterboil 4) theirs=$(sum "$1" "$2" 4)
	awk -v n="${n:-0}" -v ours="${ours:-x}" -v theirs="${theirs:-x}" -v method="$2" 'BEGIN {
		if (n == 0 || ours == "x" || theirs == "x") print "no sums"
		else if (ours < theirs - n / 10) print ours " of " n " in three, " method ": " theirs
	}'
}

# citing FOLDER: sources in its rules that name a case or a story
citing() { (cd "$1" && grep -onE 'source="[^"]*"' *.xml) | grep -iE 'case-?[0-9]|[^a-z](story|stories)[^a-z]|answers\.tsv'; }

# folds FILE METHOD FIELD: as sum, of the stories in groups
folds() { awk -F '\t' -v method="$2" -v field="$3" '$1 == "fold" && $2 == method { print $(field + 1) }' "$1"; }

run "$cases/answers.tsv" >"$work/out" || ok 'the stories are worked' "$(cat "$work/out")"
grep -vE '^(sum|fold)	' "$work/out" | sed 's/^/# /'
ok 'every journal has an answer and every answer a journal' "$(unpaired)"
ok 'every journal says what was told' "$(untold)"
ok '45 stories are worked' "$([ "$(sum "$work/out" afterboil 2)" = 45 ] || cat "$work/out")"
ok 'every story stands in one group' "$([ "$(folds "$work/out" written 2) $(folds "$work/out" refitted 2)" = '45 45' ] || cat "$work/out")"
ok 'the rules as written in groups are the rules as written' "$(for i in 3 4 5; do [ "$(folds "$work/out" written $i)" = "$(sum "$work/out" afterboil $i)" ] || echo "field $i"; done)"
ok 'no number of the rules has a story for its source' "$(citing "$AFTERBOIL_RULES")"
ok 'the table has a row a level and a method' "$([ "$(grep -cE '^(confirmed|accepted|consensus|opinion|all) .*%.*%.*%' "$work/out")" = 20 ] || cat "$work/out")"
for method in 'printed table' 'faults alone' 'signs alone'; do
	ok "in three: not more than 10 points behind the $method" "$(behind "$work/out" "$method")"
done
if command -v xmllint >/dev/null; then
	ok 'the journals keep to the schema' "$(xmllint --noout --relaxng "$AFTERBOIL_RULES/journal.rng" "$cases"/case-*.xml 2>&1 | grep -v validates)"
fi

# With answers that nothing in the stories supports, the bound must break for at least one of the others.
sed '/^#/!s/\t[^\t]*\t[^\t]*$/\tunder-priming-or-dead-yeast\tunder-priming-or-dead-yeast,chlorine-sanitiser/' "$cases/answers.tsv" >"$work/wrong.tsv"
run "$work/wrong.tsv" >"$work/wrong" || cat "$work/wrong"
before=$(sum "$work/out" afterboil 4) after=$(sum "$work/wrong" afterboil 4)
ok 'wrong answers are noticed' "$([ "${after:-99}" -lt $((${before:-0} / 2)) ] || echo "$after of 45 in three with wrong answers, $before with the right ones")"
sed 's/\t[^\t]*$/\tno-such-cause/' "$cases/answers.tsv" | grep -v '^#' >"$work/dangling.tsv"
finds 'an answer that is no cause is refused' 'run_cases: no-such-cause: no cause of the rules' "$(run "$work/dangling.tsv")"
mkdir "$work/rules" && echo '<prior p="0.1" source="estimate; as in case-012"/><at source="stored cold"/>' >"$work/rules/a.xml"
finds 'a source that is a story is noticed' 'source="estimate; as in case-012"' "$(citing "$work/rules" | sed 's/^.*:source/source/')"
printf 'sum\tafterboil\t45\t1\t20\t30\nsum\tfaults alone\t45\t1\t25\t30\n' >"$work/behind"
finds 'being behind is noticed' '20 of 45 in three, faults alone: 25' "$(behind "$work/behind" 'faults alone')"
plan
