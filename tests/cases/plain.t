# plain.t - the plain journals keep to the schema, state no trouble, are all asserted on, and check_plain notices when one is changed
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
cases=$top_srcdir/tests/cases
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

# stated FOLDER: journals that say outright what went wrong, or carry a brewer's opinion
stated() { (cd "$1" && grep -noE 'splashed="yes"|leaks="yes"|stalled="yes"|sucked-back="yes"|scratched="yes"|clean="no"|lost-pressure="yes"|tower-warm="yes"|<note|<next-time|note=' *.xml); }

# unasserted: journals no number and no cause is asserted of
unasserted() {
	local f
	for f in "$cases"/plain/*.xml; do
		[ "$(grep -c "\"$(basename "$f" .xml)\"," "$cases/check_plain.c")" -ge 3 ] || echo "$f"
	done
}

# changed JOURNAL SED: how many assertions fail when that journal reads otherwise
changed() {
	rm -rf "$work/tests"
	mkdir -p "$work/tests/cases"
	cp -r "$cases/plain" "$work/tests/cases"
	chmod -R u+w "$work" # a tarball's sources are read-only
	sed -i "$2" "$work/tests/cases/plain/$1.xml"
	cmp -s "$cases/plain/$1.xml" "$work/tests/cases/plain/$1.xml" && echo 'nothing changed'
	srcdir=$work "$builddir/tests/cases/check_plain" | grep -c '^not ok'
}

ok 'there are seventeen of them' "$(set -- "$cases"/plain/*.xml; [ $# -eq 17 ] || echo $#)"
ok 'none states its trouble' "$(stated "$cases/plain")"
ok 'two numbers and a cause are asserted of each' "$(unasserted)"
if command -v xmllint >/dev/null; then
	ok 'they keep to the schema' "$(xmllint --noout --relaxng "$AFTERBOIL_RULES/journal.rng" "$cases"/plain/*.xml 2>&1 | grep -v validates)"
fi
while read -r journal change; do
	ok "noticed: $journal $change" "$([ "$(changed "$journal" "$change")" -ge 1 ] 2>/dev/null || echo 'all is asserted as before')"
done <<'LIST'
bucket-on-the-shelf s/neck="40 mm"/neck="20 mm"/
carboy-crashed s/airlock="airlock"/airlock="sealed"/
cup-of-dextrose s/volume="13 L"/volume="20 L"/
bottled-on-day-eight s/gravity="1.017/gravity="1.012/
pack-from-the-back s/age="150 d"/age="15 d"/
kegged-within-the-week s/gravity="1.018/gravity="1.012/
keg-filled-by-hose s/purges="0"/purges="8"/
clear-bottles s/colour="clear"/colour="brown"/
pilsner-left-overnight s/time="45 min"/time="90 min"/
lager-chilled-at-final s/wort="10 C"/wort="17 C"/
wort-cooled-in-the-yard s/first-signs="30 h"/first-signs="8 h"/
hops-then-bottles s/amount="160 g"/amount="20 g"/
one-metre-of-line s/line-length="1 m"/line-length="5 m"/
bottled-from-the-keg s/pressure="2 bar"/pressure="0.9 bar"/
milk-sugar-stout s/kind="lactose"/kind="dextrose"/
mixed-culture-at-thirty-days s/gravity="1.01[12]/gravity="1.006/
lager-primed-out-of-the-cold s/priming="60 g"/priming="125 g"/
LIST
mkdir -p "$work/bad"
cp "$cases/plain/clear-bottles.xml" "$work/bad/b.xml"
printf '<batch><transfer splashed="yes"/></batch>\n' >"$work/bad/a.xml"
finds 'a stated trouble is noticed' 'a.xml:1:splashed="yes"' "$(stated "$work/bad")"
plan
