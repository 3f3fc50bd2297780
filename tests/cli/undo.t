# undo.t - what new, enter, interview and changed wrote, taken back; and what they did not write, left alone
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

real="--rules-base $top_srcdir/rules"
mkdir "$tmp/u"
cd "$tmp/u" || exit 1
typed() { printf '%s\n' "$@" >"$tmp/typed"; }

# ---- new: the journal goes as a whole, and only as it was begun ----
ends 0 'new' new Ferry pale --on 2021-06-05 --family pale-hoppy $small
run log 1 note mashed too cold $small
run log 1 --undo $small
ok 'the note goes first' says out '^ferry-pale-1: taken back: note mashed too cold '
run log 1 --undo $small
ok 'then the journal' says out '^ferry-pale-1: taken back: new Ferry pale '
ok 'which is said' says out '^ferry-pale-1: the journal was begun with that, and is gone: .*ferry-pale-1.xml$'
ok 'and is gone' test ! -e ferry-pale-1.xml
run log 1 --undo $small
ok 'again: there is none' same 3 "$status"
run log --undo $small
ok 'nor anything else' test "$status" != 0
run new Ferry pale --on 2021-06-05 --family pale-hoppy $small
echo '<!-- mine -->' >>ferry-pale-1.xml
cp ferry-pale-1.xml "$tmp/mine.xml"
run log 1 --undo $small
ok 'changed by hand since: status 2' same 2 "$status"
ok 'changed by hand since: says so' says err 'changed in another way since "new Ferry pale"'
ok 'changed by hand since: it stays' cmp ferry-pale-1.xml "$tmp/mine.xml"
# a link: what it leads to is not ours to remove
rm -f ferry-pale-1.xml .afterboil-undo
run new Ferry pale --on 2021-06-05 --family pale-hoppy $small
mv ferry-pale-1.xml "$tmp/elsewhere.xml"
ln -s "$tmp/elsewhere.xml" ferry-pale-1.xml
run log 1 --undo $small
ok 'behind a link: it stays' test -s "$tmp/elsewhere.xml"
ok 'behind a link: says so' says err 'cannot be removed'
rm ferry-pale-1.xml && mv "$tmp/elsewhere.xml" ferry-pale-1.xml

# ---- enter: a sitting is one entry ----
cp ferry-pale-1.xml "$tmp/begun.xml"
sit() { "$AFTERBOIL" enter 1 $real <"$tmp/typed" >"$tmp/out" 2>"$tmp/err"; status=$?; }
typed 'malt 4.5 kg pale' 'hops 30 g at 60 min' '' 1.050 back 1.052 19:00 stop
sit
ok 'enter' same 0 "$status"
ok 'something was written' sh -c '! cmp -s ferry-pale-1.xml "$1"' sh "$tmp/begun.xml"
cp ferry-pale-1.xml "$tmp/first.xml"
typed 19 stop
sit
ok 'a second sitting' sh -c '! cmp -s ferry-pale-1.xml "$1"' sh "$tmp/first.xml"
run log 1 --undo $small
ok 'the second sitting goes' says out '^ferry-pale-1: taken back: enter, [0-9]+ answers? \(written'
ok 'byte for byte' cmp ferry-pale-1.xml "$tmp/first.xml"
run taste 1 --undo $small
ok 'it is no tasting' says err 'is of "enter" and not of "taste"'
run log 1 --undo $small
ok 'the first sitting, its recipe too' says out '^ferry-pale-1: taken back: enter, 4 answers '
ok 'byte for byte, too' cmp ferry-pale-1.xml "$tmp/begun.xml"
typed '' 1.050 back stop
sit
ok 'all taken back in the sitting itself: the journal of before' cmp ferry-pale-1.xml "$tmp/begun.xml"
run log 1 --undo $small
ok 'and nothing of it is kept: new is the last' says out 'taken back: new Ferry pale'

# ---- interview ----
typed 'pale and hoppy' 'buttery 3' '' stop
"$AFTERBOIL" interview -o asked.xml $small <"$tmp/typed" >"$tmp/out" 2>&1
ok 'interview' test -s asked.xml
cp asked.xml "$tmp/asked.xml"
typed tap stop
"$AFTERBOIL" interview asked.xml $small <"$tmp/typed" >"$tmp/out" 2>&1
if ! cmp -s asked.xml "$tmp/asked.xml"; then
	run log asked --undo $small
	ok 'what was told later goes' says out '^asked: taken back: interview '
fi
ok 'byte for byte' cmp asked.xml "$tmp/asked.xml"
run log asked --undo $small
ok 'the whole interview goes' test ! -e asked.xml

# ---- changed: what it noted itself, and nothing else ----
cat >profile.xml <<'X'
<brewery xmlns="urn:afterboil:profile:1" units="metric">
  <changed on="2020-05-01">by hand, long ago</changed>
</brewery>
X
cp profile.xml "$tmp/hand.xml"
ends 2 'changed by hand: status 2' changed --undo $small
ok 'changed by hand: says so, and which' says err '2020-05-01  by hand, long ago, was not kept when it was noted'
ok 'changed by hand: it stays' cmp profile.xml "$tmp/hand.xml"
run changed 'moved  the <shed>' --own --on 2021-01-02 --line 'Ferry pale' $small
run changed 'a new hose' --own --on 2021-01-03 $small
cp profile.xml "$tmp/two.xml"
run log --undo $small
ok 'a change of the profile is no entry of a journal' sh -c 'cmp profile.xml "$1"' sh "$tmp/two.xml"
sed -i 's|</brewery>|  <changed on="2021-01-04">behind it, by hand</changed>\n</brewery>|; s|units="metric"|units="us"|' profile.xml
cp profile.xml "$tmp/hand2.xml"
ends 2 'one by hand behind it: status 2' changed --undo $small
ok 'one by hand behind it: it stays' cmp profile.xml "$tmp/hand2.xml"
sed -i '/behind it, by hand/d' profile.xml
run changed --undo $small
ok 'our own goes, whatever else was changed by hand' says out '^Taken back: 2021-01-03  a new hose$'
run changed --undo $small
ok 'and the one before' says out '^Taken back: 2021-01-02  moved  the <shed>, line [Ff]erry.pale$'
sed -i 's|units="us"|units="metric"|' profile.xml
ok 'the profile of before' cmp profile.xml "$tmp/hand.xml"
ends 2 'and no further' changed --undo $small
# the words of one taken back serve for no other
run changed 'a new hose' --own --on 2021-01-03 $small
run changed --undo $small
sed -i 's|</brewery>|  <changed on="2021-01-03">a new hose</changed>\n</brewery>|' profile.xml
ends 2 'the same by hand, after ours was taken back: it stays' changed --undo $small
# ---- at a terminal much is asked about first
python=$(python_that "$a_terminal")
if [ -n "$python" ]; then
	at_terminal() {
		local answers=$1
		shift
		$python "$here/log_pty.py" "$answers" "$AFTERBOIL" "$@" $small >"$tmp/out" 2>"$tmp/err"
	}
	rm -f ./*.xml .afterboil-undo
	run new Ferry pale --on 2021-06-05 --family pale-hoppy $small
	typed 'malt 4.5 kg pale' stop
	"$AFTERBOIL" enter 1 $real <"$tmp/typed" >/dev/null 2>&1
	cp ferry-pale-1.xml "$tmp/sat.xml"
	at_terminal no log 1 --undo
	ok 'a sitting: asked' says out 'all of it goes'
	ok 'a sitting, no: it stays' cmp ferry-pale-1.xml "$tmp/sat.xml"
	at_terminal yes log 1 --undo
	ok 'a sitting, yes: it goes' sh -c '! grep -q malt ferry-pale-1.xml'
	at_terminal no log 1 --undo
	ok 'a journal, no: it stays' test -s ferry-pale-1.xml
	at_terminal yes log 1 --undo
	ok 'a journal, yes: it goes' test ! -e ferry-pale-1.xml
	cp "$tmp/hand.xml" profile.xml
	at_terminal no changed --undo
	ok 'a change by hand, no: it stays' cmp profile.xml "$tmp/hand.xml"
	at_terminal yes changed --undo
	ok 'a change by hand, yes: it goes' sh -c '! grep -q "by hand" profile.xml'
fi
plan
