# help.t - every command and every option of the tables stands in the help, in the manual, and is understood by the parser
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

run --help
cp "$tmp/out" "$tmp/help"
run --man-page
cp "$tmp/out" "$tmp/man"
commands=$(sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p' "$tmp/help")

# rows of the table of commands as the source has them
ok 'the help lists the commands of the table' same "$(sed -n 's/^	{ "\([a-z]*\)", cmd_.*/\1/p' "$top_srcdir/src/cli/commands.c")" "$commands"
for c in $commands; do
	ok "$c stands in the manual" grep -q "^\.It Ic $c" "$tmp/man"
	ends 0 "$c --help ends well" "$c" --help
	ok "$c --help shows its use and an example" sh -c "grep -q '^Usage: afterboil $c ' '$tmp/out' && grep -q '^  .*afterboil $c' '$tmp/out'"
	cat "$tmp/out" >>"$tmp/helps"
	cp "$tmp/out" "$tmp/one"
	ends 0 "help $c ends well" help "$c"
	ok "help $c says what $c --help does" cmp -s "$tmp/one" "$tmp/out"
done
run help
ok 'help alone says what --help does' cmp -s "$tmp/help" "$tmp/out"
ends 2 'help of no command' help advice
ok '... says which is near' says err 'there is no command "advice"; do you mean "advise"'
ends 2 'help of two' help advise trend
ok '... says what is allowed' says err '"help" takes one command at most'
cat "$tmp/help" >>"$tmp/helps"

options=$(sed -n 's/^	{ \(0\|.[A-Za-z].\), "\([a-z-]*\)", .*/\2/p' "$top_srcdir/src/cli/optiontable.c")
ok 'the table of options was found' test "$(echo "$options" | wc -l)" -ge 25
for o in $options; do
	ok "--$o stands in a help" grep -q -- "--$o\b" "$tmp/helps"
	ok "--$o stands in the manual" grep -q "Fl Fl $o\b" "$tmp/man"
	run diagnose "--$o=" --help
	ok "--$o is known to the parser" sh -c "! grep -q 'there is no option' '$tmp/err'"
done

# and nothing stands there that is not in the table
for o in $(grep -o -- '--[a-z][a-z-]*' "$tmp/helps" | sort -u); do
	ok "$o of the help is in the table" grep -qx -- "${o#--}" <<<"$options"
done

run
ok 'alone it greets and shows a next step' says out 'afterboil diagnose --fault'
ok 'alone it ends well' same 0 "$status"
ok 'no help line is over 80 columns' sh -c "! grep -E '.{81}' '$tmp/helps'"
plan
