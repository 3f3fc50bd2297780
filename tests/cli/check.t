# check.t - the screens of check, facts and rules
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

golden check check "$data/brewery" $small
run facts "$data/brewery/pale-4.xml" $small --width 200
ok 'a fact: name, value, spread, unit, title, origin, grade, lines' says out \
	'^  ferment\.early-mean = 19 \+- [0-9.]+ C: .* \(derived, grade B, lines'
ok 'a bare reading says so' says out '^  gravity\.last = 1\.0170 \+- 0\.0006 SG: .*\(measured, as read,'
ok 'grade C is called a rule of thumb' says out 'rule of thumb'
ok 'the working is shown' says out '^      1\.0170 before packaging - 1\.0110, planned'
run facts "$data/brewery/pale-4.xml" $small --profile "$data/us.xml" --width 200
ok 'a brewer of US units reads F' says out 'ferment\.early-mean = 66\.2 \+- [0-9.]+ F:'
ok 'and differences in F degrees' says out 'pitch\.temp-over = -1\.8 \+- 1 F degrees:'
ok 'and psi' says out 'pack\.pressure-worst = [0-9.]+ \+- [0-9.]+ psi:'
golden rules-list rules list $small
golden rules-cause rules explain too-warm $small
golden rules-fault rules explain buttery $small
golden rules-change rules explain old-fridge $small
golden rules-check rules explain warm-smell $small
golden rules-lint rules lint $small
golden rules-lint rules --lint $small
sed 's/<reading at="+1d" wort="26 C"/<reading at="+1d" wort="2 C"/; s/<yeast /<serve temp="45 C"\/>&/' "$data/brewery/pale-1.xml" >"$tmp/odd.xml"
run check "$tmp/odd.xml" $small
ok 'what is odd is told with its line, or nothing is' sh -c "[ $status = 0 ] || grep -Eq 'odd.xml:[0-9]+: odd: ' '$tmp/out'"
printf '<batch xmlns="urn:afterboil:journal:1" id="a" brewed="2031-03-07">\n<tasting><found fault="gravity too high"/>\n<absent fault="sweet"/></tasting></batch>\n' >"$tmp/both.xml"
run check "$tmp/both.xml"
ok 'one fault found and absent in two words is odd' same 1 "$status"
ok 'and both words, their lines and the fault are told' says out 'both.xml:3: odd: "sweet" is absent and "gravity too high" found \(line 2\) .*"Too sweet, gravity too high"'
sed 's/class="clean-ale"/class="stout-ale"/' "$data/brewery/pale-1.xml" >"$tmp/yeast.xml"
run check "$tmp/yeast.xml" $small
ok 'a yeast class that is none is odd' same 1 "$status"
ok 'and said so, with its line' says out 'yeast.xml:4: odd: no yeast class is called "stout-ale"'
run diagnose "$tmp/yeast.xml" $small
ok 'the diagnosis says it, too' says err 'yeast.xml:4: no yeast class is called "stout-ale"'
printf '<brewery xmlns="urn:afterboil:profile:1">\n<trouble fault="goblins"/>\n<trouble cause="gremlins"/>\n<trouble chore="elves"/>\n<trouble fault="slow chilling"/>\n<trouble chore="slow chilling"/></brewery>\n' >"$tmp/trouble.xml"
run check --profile "$tmp/trouble.xml" $small
ok 'troubles in no word of the rules are odd' same 1 "$status"
ok 'a fault that is none, with its line' says out 'trouble.xml:2: odd: no fault is called "goblins"'
ok 'a cause that is none, with its line' says out 'trouble.xml:3: odd: no cause is called "gremlins"'
ok 'a chore that is none, with its line' says out 'trouble.xml:4: odd: no chore is called "elves"; "afterboil rules list chores" shows them'
ok 'a chore among the faults is told to be one' says out 'trouble.xml:5: odd: no fault is called "slow chilling"; "afterboil rules list faults" shows them; it is a chore: write chore="slow chilling" in place of fault='
ok 'a chore in its words is not' same 0 "$(grep -c 'trouble.xml:6' "$tmp/out")"
run advise --no-store --profile "$tmp/trouble.xml" $small
ok 'advice refuses them' same 3 "$status"
run check $small
ok 'without files the rules are checked' says out 'OK, rules version'
run check "$top_srcdir/examples"
ok 'the examples are read' same 15 "$(grep -c 'OK, batch' "$tmp/out")"

# a profile alone, in a folder, by its name, or where one stands
mkdir "$tmp/alone" "$tmp/alone/later" "$tmp/none"
printf '<brewery xmlns="urn:afterboil:profile:1">\n<owns change="fridge"/>\n<refuses change="zzz"/>\n<owns change="old-frigde"/></brewery>\n' >"$tmp/alone/profile.xml"
for place in "$tmp/alone" "$tmp/alone/profile.xml"; do
	run check "$place" $small
	ok "$(basename "$place"): a profile without a journal is read" says out 'profile.xml: OK, profile read'
	ok '... what it says that is none is odd' same 1 "$status"
	ok '... a change refused, too' says out 'profile.xml:3: odd: no change is called "zzz" \(<refuses>\)'
	ok '... and what is near is named' says out 'profile.xml:2: odd: no change is called "fridge" \(<owns>\); "afterboil rules list changes" shows them; near it: "old-fridge"'
	ok '... of a slip, too' says out 'profile.xml:4: odd: .*; near it: "old-fridge"'
done
# things that stand there, by the rules themselves
mkdir "$tmp/things"
printf '<brewery xmlns="urn:afterboil:profile:1">\n<owns thing="large kettle"/>\n<owns thing="fridges"/>\n<owns change="fridge"/></brewery>\n' >"$tmp/things/profile.xml"
run check "$tmp/things"
ok 'a thing by its word is none' same 0 "$(grep -c 'profile.xml:2' "$tmp/out")"
ok 'a thing nearly so is told what is near' says out 'profile.xml:3: odd: no thing is called "fridges" \(<owns>\); "afterboil rules list things" shows them; near it: "fridge"'
ok 'a thing told as a change is told to be one' says out 'profile.xml:4: odd: no change is called "fridge" .*; it is a thing: write thing="fridge"'
ok '... and all that asks for a look' same 1 "$status"
ok '... a thing that is none is said back as none' says out '"fridges" is no thing of the rules: nothing comes of it'
(cd "$tmp/alone" && "$AFTERBOIL" check $small >"$tmp/here") || true
ok 'where one stands, too' grep -q '^profile.xml: OK, profile read' "$tmp/here"
run check "$tmp/none" $small
ok 'a folder of nothing is a slip' same 3 "$status"
run check "$tmp/alone/later" $small
ok 'so is one with a profile a folder up' same 3 "$status"
run advise --no-store "$tmp/alone/profile.xml" $small
ok 'advice takes a profile by its name' same 0 "$status"
# a profile alone is said back, with journals where that is asked for
golden check-understood check "$data/understood.xml" $small
run check --profile "$data/understood.xml" "$data/brewery" $small
ok 'beside journals it is not said back' sh -c "! grep -q 'How the profile' '$tmp/out'"
run check --all --profile "$data/understood.xml" "$data/brewery" $small
ok 'unless all is wanted' says out 'How the profile was understood'
ok 'and the batches are read' says out 'OK, batch pale-4'
run check --all "$data/brewery/pale-1.xml" $small --profile "$tmp/trouble.xml"
ok 'troubles that are none do not hide the rest' says out 'line 2, trouble: "goblins" is nothing that the rules know'
ok 'which is said' says out 'line 6, trouble: "slow chilling" is the burden "Keeping it cool is a'
run check "$data/understood.xml"
ok 'by the rules there are, what is owned in words that they lack is told' says out 'owns: "old-fridge" is no change of the rules'
printf '<brewery xmlns="urn:afterboil:profile:1"><owns change="thermostat-fridge"/></brewery>\n' >"$tmp/owned.xml"
run check "$tmp/owned.xml" --width 200
ok 'what is not advised beside what is owned is named' says out '\(thermostat-fridge\): owned and in use; not advised again; nor are "Stand the fermenter in a tub of water'

# days that are none are refused, and not kept until somebody wants a calendar
for days in '<week free="blurps"/>' '<week free="sat" begins="noonish"/>' '<away days="weeknights"/>'; do
	printf '<brewery xmlns="urn:afterboil:profile:1">\n<money now="40"/>\n%s</brewery>\n' "$days" >"$tmp/days.xml"
	run check "$tmp/days.xml" $small
	ok "$days is refused" same 3 "$status"
	ok '... with file and line, what was found and what is allowed' says err 'days.xml:3: (free of <week>: "blurps" is no day; allowed: sun mon|begins of <week>: "noonish" is no hour of the day; allowed: 00:00|days of <away>: "weeknights" is no day; allowed: a date as 2031-03-07)'
	run advise --no-store --profile "$tmp/days.xml" "$data/brewery" $small
	ok '... and advice says what it goes without' says err 'days.xml:3: .* of <.*; without it, what your batches ask for'
	ok '... and goes on' says out 'flaw'
	run check "$tmp/days.xml" $small
	ok '... and not called OK' sh -c "! grep -q 'profile read' '$tmp/out'"
done
printf '<brewery xmlns="urn:afterboil:profile:1"><week free="weeknights, sat"/><away days="2031-07-01..2031-07-14"/></brewery>\n' >"$tmp/days.xml"
run check "$tmp/days.xml" $small
ok 'days that are days are read, weeknights too' same 0 "$status"
sed 's/class="clean-ale"/class="american-ale"/' "$data/brewery/pale-1.xml" >"$tmp/named.xml"
run check "$tmp/named.xml" $small
ok 'a class by another name is told' says out 'named.xml:4: odd: no yeast class is called "american-ale"; .*; did you mean "clean-ale"\?'
ok 'and the batch is read for all that' says out 'named.xml:[0-9]+: OK, batch pale-1'
printf '<brewery xmlns="urn:afterboil:profile:1"><trouble fault="too-warm"/></brewery>\n' >"$tmp/cause.xml"
run check --profile "$tmp/cause.xml" $small
ok 'a cause among the faults is told to be one' says out 'it is a cause: write cause="too-warm" in place of fault='
run advise --no-store --profile "$tmp/cause.xml" $small
ok 'by advice, too' says err 'no fault is called "too-warm"; it is a cause: write cause="too-warm" in place of fault='

# rules of one's own: added to, and replaced
mkdir "$tmp/own"
cat >"$tmp/own/own.xml" <<X
<rules xmlns="urn:afterboil:rules:1">
<fault id="soapy" severity="2" source="estimate"><title>Soap</title><like>Soap.</like><word>soapy</word><leak noticeable="0.01" strong="0.001" source="estimate"/></fault>
<cause id="soap-left" side="cold" stage="serve"><title>Soap left in the glass</title><why>Not rinsed.</why><next>Rinse.</next><prior p="0.1" source="estimate"/>
<gives fault="soapy" noticeable="0.5" strong="0.1" source="estimate"/></cause>
</rules>
X
run diagnose --fault soapy $small --rules "$tmp/own"
ok 'a fault of my own is known' says out 'soap left in the glass'
AFTERBOIL_RULES=$data/rules run rules list faults
ok 'AFTERBOIL_RULES is heard' says out 'gushing'
ok 'and is the base' sh -c "! grep -q diacetyl '$tmp/out'"
# what is left out is allowed: it is told, and needs no attention
cat >"$tmp/untold.xml" <<'X'
<batch xmlns="urn:afterboil:journal:1" id="untold" brewed="2021-03-07"><tasting at="2021-04-20"><found fault="buttery" intensity="2"/></tasting>
  <tasting><found fault="buttery" intensity="3"/></tasting></batch>
X
run check "$tmp/untold.xml" $small
ok 'a tasting without its day is no slip' same 0 "$status"
ok 'and yet told of' says out 'untold.xml:2: untold: <tasting> has no at, .*behaviour of <found> says it too'
sed 's/intensity="3"/& behaviour="growing"/' "$tmp/untold.xml" >"$tmp/grows.xml"
run check "$tmp/grows.xml" $small
ok 'not where it is told to grow' sh -c "! grep -q 'has no at' '$tmp/out'"
plan
