# rules_schema.t - the reader of rules and the schema rules/rules.rng agree, by two validators that know nothing of the reader
#
# tests/fuzz/corpus/rules: good ones pass both, bad ones fail both, and what is beyond a schema fails the reader only. The rules of the
# project pass. Oracles: xmllint (libxml2) and jing.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/need.sh"
need xmllint jing
read_rules=$builddir/tests/unit/read_rules
schema=$top_srcdir/rules/rules.rng
corpus=$top_srcdir/tests/fuzz/corpus/rules
n=0

# verdict TITLE WHAT-IS-WRONG
verdict() {
	n=$((n + 1))
	if [ -z "$2" ]; then
		echo "ok $n - $1"
	else
		echo "not ok $n - $1"
		echo "$2" | head -n 20 | sed 's/^/# /'
	fi
}

# Files each judge refuses, one a line.
by_reader() { "$read_rules" "$@" | sed -n 's/^bad \([^:]*\):.*/\1/p'; }
by_xmllint() { for f; do xmllint --noout --relaxng "$schema" "$f" 2>/dev/null || echo "$f"; done; }
# jing stops for good at a file that is not well formed, so those are set aside first.
by_jing() {
	local formed=()
	for f; do
		xmllint --noout "$f" 2>/dev/null && formed+=("$f") || echo "$f"
	done
	jing "$schema" "${formed[@]}" 2>/dev/null | sed -n 's/^\([^:]*\):[0-9]*:[0-9]*: .*error: .*/\1/p' | sort -u
}

# those of the files given (after --) that the list on stdin does not hold
spared() { grep -Fxv -f /dev/stdin <(printf '%s\n' "$@"); }

for judge in by_reader by_xmllint by_jing; do
	verdict "$judge: what is good passes" "$($judge "$corpus"/good/*.xml)"
	verdict "$judge: what is bad fails" "$($judge "$corpus"/bad/*.xml | spared "$corpus"/bad/*.xml)"
done
verdict 'xmllint: what is beyond the schema passes it' "$(by_xmllint "$corpus"/beyond/*.xml)"
verdict 'the reader refuses it' "$(by_reader "$corpus"/beyond/*.xml | spared "$corpus"/beyond/*.xml)"
verdict "xmllint: the project's rules pass" "$(by_xmllint "$top_srcdir"/rules/*.xml)"
verdict "jing: the project's rules pass" "$(by_jing "$top_srcdir"/rules/*.xml)"
verdict 'there is something to judge' "$([ "$(ls "$corpus"/bad/*.xml | wc -l)" -ge 50 ] || echo 'fewer than 50 bad files')"
echo "1..$n"
