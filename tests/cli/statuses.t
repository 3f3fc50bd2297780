# statuses.t - the exit status of each command with each kind of bad input: a table, so that none is forgotten
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

pale=$data/brewery/pale-3.xml
open='<batch xmlns="urn:afterboil:journal:1" id="b" brewed="2031-01-01">'
echo "$open<tasting complete=\"yes\"><found fault=\"buttr\"/></tasting></batch>" >"$tmp/word.xml"
echo "$open<recipe volume=\"20 kg\"/></batch>" >"$tmp/unit.xml"
echo "$open<vesel/></batch>" >"$tmp/element.xml"
echo "$open<recipe" >"$tmp/cut.xml"
echo 'nothing of the kind' >"$tmp/noxml.xml"
: >"$tmp/empty.xml"
head -c 300 /dev/urandom >"$tmp/noise.xml"
echo '<batches xmlns="urn:afterboil:journal:1"/>' >"$tmp/none.xml"
echo '<batch id="b" brewed="2031-01-01"/>' >"$tmp/namespace.xml"
sed 's/id="pale-3"/id="a b"/' "$pale" >"$tmp/id.xml"
mkdir "$tmp/bare" "$tmp/twins" "$tmp/badrules" "$tmp/norules"
cp "$pale" "$tmp/twins/a.xml"
cp "$pale" "$tmp/twins/b.xml"
echo '<brewery xmlns="urn:afterboil:profile:1" units="furlongs"/>' >"$tmp/profile.xml"
sed 's/<fault /<falt /' "$data/rules/small.xml" >"$tmp/badrules/small.xml"

commands='diagnose facts advise trend check'
extra() { # what a command needs to leave no trace
	case $1 in advise | trend) echo --no-store ;; esac
}

# name of the kind | status | what is given
while IFS='|' read -r title wanted given; do
	title=$(echo $title)
	for c in $commands; do
		eval "ends $wanted \"$c: $title\" $c $(extra $c) \$small $given"
		ok "$c: $title: said once, by name" same "1 1" "$(wc -l <"$tmp/err") $(grep -c '^afterboil: ' "$tmp/err")"
		ok "$c: $title: nothing but on standard error" silent out
	done
done <<'T'
	a fault that is none          | 3 | "$tmp/word.xml"
	a wrong unit                  | 3 | "$tmp/unit.xml"
	an element that is none       | 3 | "$tmp/element.xml"
	cut off                       | 3 | "$tmp/cut.xml"
	no XML                        | 3 | "$tmp/noxml.xml"
	an empty file                 | 3 | "$tmp/empty.xml"
	noise                         | 3 | "$tmp/noise.xml"
	no namespace                  | 3 | "$tmp/namespace.xml"
	an id with a blank            | 3 | "$tmp/id.xml"
	a file that is not there      | 3 | "$tmp/absent.xml"
	a file as a folder            | 3 | "$pale/x.xml"
	an empty folder               | 3 | "$tmp/bare"
	one id twice                  | 3 | "$tmp/twins"
	one file twice                | 3 | "$pale" "$pale"
	good and bad                  | 3 | "$pale" "$tmp/unit.xml"
	a wrong profile               | 3 | "$pale" --profile "$tmp/profile.xml"
	wrong rules                   | 3 | "$pale" --rules-base "$tmp/badrules"
	wrong rules of one's own      | 3 | "$pale" --rules "$tmp/badrules"
	no rules in the folder        | 4 | "$pale" --rules-base "$tmp/norules"
	no folder of rules            | 4 | "$pale" --rules-base "$tmp/absent"
	an option that is none        | 2 | "$pale" --zzzzzzzzz
	no value                      | 2 | "$pale" --rules
	a width that is none          | 2 | "$pale" --width 1
	a colour that is none         | 2 | "$pale" --color blue
T

# options only some take: where not taken, wrong usage
while read -r wanted c words; do
	eval "set -- $words"
	ends "$wanted" "$c $words" "$c" $(extra "$c") $small "$pale" "$@"
done <<'T'
	2 facts --budget 3
	2 facts --stream
	2 facts --fault buttery
	2 facts --store x.db
	2 facts --seed 3
	0 check --all
	2 check --format json
	2 check --last 1
	2 check --line pale
	2 trend --batch pale-3
	2 trend --profile
	2 trend --seed 1
	2 trend --last 0
	2 advise --budget much
	2 advise --budget -1
	2 advise --minutes -1
	2 advise --horizon 0
	2 advise --changes 0
	2 advise --changes 1.5
	2 advise --redraws 10001
	2 advise --family whaet
	2 advise --line none
	2 advise --batch none
	2 advise --stream
	2 diagnose --redraws -1
	2 diagnose --seed 1.5
	2 diagnose --fault buttery
	2 diagnose --family wheat
	2 diagnose --stream
	2 diagnose --batch none
	2 diagnose --line none
	2 facts --line none
	2 check --batch none
	0 check --batch pale-3
	0 facts --last 1
	2 diagnose --line "shed pale" --batch pale-3 --line moor
	0 diagnose --line moor --batch pale-3 --line "shed pale"
	0 trend --line "shed pale"
	0 advise --line "shed pale" --budget 0
T

# rules: its parts, and what they do not take
while read -r wanted words; do
	eval "set -- $words"
	ends "$wanted" "rules $words" rules $small "$@"
done <<'T'
	0
	0 list
	0 list faults
	0 list Faults
	2 list fault
	2 list faults causes
	0 list --format json
	0 list yeasts --format html
	2 explain
	0 explain buttery
	0 explain too-warm --format html
	2 explain buttr
	2 explain buttery too-warm
	2 explain buttery --format json
	0 lint
	0 --lint
	2 lint faults
	2 explain ""
	2 lint --batch x
	2 lnit
	4 lint --rules-base /nonexistent
	4 list --rules-base /nonexistent
T
ends 1 'rules lint: errors need attention' rules lint --rules-base "$tmp/badrules"
ends 3 'rules list: errors are bad input' rules list --rules-base "$tmp/badrules"

# without a command
for word in --help --version --man-page --completion ''; do
	ends 0 "alone: ${word:-nothing}" $word
	ok "alone: ${word:-nothing}: nothing on the side" silent err
done
for word in diag Facts fact --last=3 --zzz -z --version=1 ./x.xml; do
	ends 2 "alone: $word" "$word"
	ok "alone: $word: says what to do" says err 'afterboil|--'
done
# status 4 leaves no half of a report
ends 4 'a store in a folder that is a file' trend "$pale" $small --store "$pale/x.db"
ok 'and shows nothing' silent out
plan
