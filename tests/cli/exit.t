# exit.t - each exit status, and what is said with it
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

ends 0 'done' facts "$data/brewery/pale-3.xml" $small
ok 'nothing is said on the side' silent err
ends 1 'a bottle that may burst needs attention' diagnose "$data/brewery/pale-4.xml" $small
ok 'and the caution is on the screen' says out '! Bottles may burst'
ends 1 'it also does in json' diagnose "$data/brewery/pale-4.xml" $small --format json
ok 'and in the data' says out '"bottle-pressure"'
ends 1 'and in advice' advise "$data/brewery" $small --no-store
ok 'with the batch named' says err 'may burst: .*pale-4'
ends 2 'an unknown command' diagnos
ok 'what is near is named' says err 'do you mean "diagnose"'
ends 2 'an unknown option' diagnose --buget 3
ok 'what is near is named' says err 'do you mean --budget'
ends 2 'an option of another command' facts --budget 3
ok 'whose it is is told' says err 'it is for: advise'
ends 2 'an option without its value' diagnose --fault
ok 'how it is written is told' says err -- '--fault WORD=N'
ends 2 'a flag with a value' diagnose --all=yes
ends 2 'a word that is none' diagnose --fault buttr $small
ok 'what is near is named' says err 'do you mean "butter"'
ends 2 'an intensity out of range' diagnose --fault buttery=6 $small
ok 'the range is told' says err '1 .*to 5'
ends 2 'an intensity that is no number' diagnose --fault buttery=much $small
ends 2 'only what is not there' diagnose --absent buttery $small
ends 2 'a family that is none' diagnose --fault buttery --family whaet $small
ok 'what is near is named' says err 'wheat'
ends 2 'a format that is none' facts x --format yaml
ok 'the formats are told' says err 'text, json, html'
ends 2 'a width too small' facts x --width 12
ends 2 'no journal named' facts $small
ends 2 'a batch that is not there' facts "$data/brewery" --batch none $small
run diagnose "$data/brewery" $small --batch pale-1 --batch pale-3
ok 'two batches named, two shown' same 2 "$(grep -c '^Diagnosis of batch' "$tmp/out")"
ends 2 'rules, explain nothing' rules explain $small
ends 2 'rules, a kind that is none' rules list sins $small
ends 2 'rules, a part that is none' rules lst $small
ok 'what is near is named' says err '"list"'
ends 2 'an empty history' trend --store "$tmp/empty.db" $small
ends 3 'a file that is not there' facts "$tmp/none.xml" $small
ends 3 'a folder without journals' facts "$tmp" $small
ends 3 'a journal that is none' facts "$data/rules/small.xml" $small
ends 4 'rules that are not there' rules list --rules-base "$tmp/none"
ends 4 'a store that cannot be' trend "$data/brewery" $small --store /dev/null/x/y.db
plan
