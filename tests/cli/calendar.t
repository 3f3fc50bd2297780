# calendar.t - a batch over a brewer's days: as text, as data, and as a file that other programs read
#
# Oracle for iCalendar: python3-vobject, which knows nothing of us.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"
examples=$top_srcdir/examples

golden calendar-plain calendar --from 2031-03-03 --free 'sat, sun'
golden calendar-line calendar "$examples" --line house-pale --from 2031-09-01 --free 'sat, sun' --width 100
golden calendar-feast calendar --yeast lager --from 2031-03-03 --drink-on 2031-04-20 --free 'sat, sun' --gone 2031-04-10..2031-04-24

for bad in '--from tomorrow' '--from 2031-02-29' '--from +3d' '--free someday' '--gone sat' '--yeast bread' '--from 2031-03-03 --drink-on 2031-03-01'; do
	ends 2 "refused: $bad" calendar $bad
done
ends 2 'no other command writes a calendar' rules list --format ics
ok 'and that is said' says err 'ics'
ends 1 'what does not fit is told by the status' calendar --from 2031-03-03 --drink-on 2031-03-10
ends 0 'a leap day' calendar --from 2032-02-29 --free 2032-02-29..2032-06-01
ok 'is a day' says out 'Sun 2032-02-29 10:00 +Brew day'

# ---- the profile's days ----
mkdir "$tmp/own"
profile() { printf '<brewery xmlns="urn:afterboil:profile:1"><packs into="keg"/>%s</brewery>\n' "$1" >"$tmp/own/profile.xml"; }
profile '<week free="sun" time="6 h" other="20 min"/><away days="2031-03-09"/>'
run calendar --profile "$tmp/own/profile.xml" --from 2031-03-03
ok 'the first Sunday is away: the second' says out 'Sun 2031-03-16 10:00 +Brew day'
ok 'a keg has a line' says out 'Clean the tap'
run calendar --profile "$tmp/own/profile.xml" --from 2031-03-03 --free sat
ok 'what is typed goes before the profile; the Saturday before the journey leaves nobody to look on Sunday' says out 'Sat 2031-03-15 10:00 +Brew day'
profile '<week free="payday"/>'
ends 3 'no day in the profile' calendar --profile "$tmp/own/profile.xml" --from 2031-03-03
ok 'with its line' says err 'profile.xml:1: '

# ---- the clock: today, by the local calendar ----
# The library by itself: its command wants shared memory, which not every user has.
fake=$(ls /usr/lib/*/faketime/libfaketime.so.1 2>/dev/null | head -n 1)
if [ -n "$fake" ] && grep -q __asan_init "$AFTERBOIL"; then
	echo "# a build with sanitizers starts before its clock can be set: the clock is looked at in the plain build"
elif [ -n "$fake" ]; then
	for row in 'Europe/Berlin|2031-03-30 01:59:59|2031-03-30' 'America/New_York|2031-11-02 01:30:00|2031-11-02' 'UTC|2032-02-29 09:58:00|2032-02-29' 'UTC|2032-02-28 19:06:00|2032-02-29' \
		'Pacific/Auckland|2031-04-06 02:30:00|2031-04-06'; do
		IFS='|' read -r zone now day <<<"$row"
		TZ=$zone LD_PRELOAD=$fake FAKETIME="@$now" "$AFTERBOIL" calendar --format json >"$tmp/out" 2>"$tmp/err" </dev/null
		ok "$zone at $now: from $day" grep -q "\"day\": \"$day\"" "$tmp/out"
	done
elif [ "${CI:-}" = true ]; then
	ok 'faketime is there' false
fi

# ---- iCalendar ----
ics() { run calendar "$examples" --line house-pale --free 'sat, sun' --format ics "$@"; cp "$tmp/out" "$tmp/$name.ics"; }
i=0
name=one ics --from 2031-09-01
name=two ics --from 2031-09-08
run calendar "$examples" --line house-pale --free 'sat, sun' --from 2031-09-01 --format json
cp "$tmp/out" "$tmp/one.json"
ok 'lines end with CR LF' test "$(grep -c $'\r$' "$tmp/one.ics")" = "$(wc -l <"$tmp/one.ics")"
ok 'no line is over 75 bytes' test -z "$(tr -d '\r' <"$tmp/one.ics" | LC_ALL=C grep -E '.{76}')"
ok 'times are floating' test -z "$(grep -aE 'DTSTART.*(TZID|Z.?$)' "$tmp/one.ics")"
uids() { grep -a '^UID' "$1" | sort; }
ok 'the same batch planned again keeps its UIDs' same "$(uids "$tmp/one.ics")" "$(uids "$tmp/two.ics")"
ok 'no UID twice' same '' "$(uids "$tmp/one.ics" | uniq -d)"
python=$(python_that 'import vobject')
[ -n "$python" ] || missing python3-vobject
cat >"$tmp/read.py" <<'PY'
import datetime, json, sys, vobject
calendar = vobject.readOne(open(sys.argv[1], newline='').read())
assert calendar.validate(raiseException=True)
data = json.load(open(sys.argv[2]))
batches = data if isinstance(data, list) else [data]
plan, past = {}, {}
for b in batches:
    key = b['batch'] or sys.argv[3]
    plan.update({'%s-%s@afterboil' % (key, t['id']): t for t in b['touches']})
    past.update({'%s-%s@afterboil' % (key, t['id']): t for t in b['past']})
care = [e for e in calendar.vevent_list if e.uid.value.endswith('-take-care@afterboil')]
for e in care:
    assert e.validate(raiseException=True) and e.summary.value.endswith('may burst') and len(e.valarm_list) == 1, e
assert {b['batch'] for b in batches if b['may_burst']} <= {e.uid.value[:-len('-take-care@afterboil')] for e in care}
events = [e for e in calendar.vevent_list if e not in care]
assert len(events) == len(plan) + len(past) == len({e.uid.value for e in events}) and len(plan) > 8, (len(events), len(plan), len(past))
for e in events:
    assert e.validate(raiseException=True)
    if e.uid.value in past:
        # behind the batch: it takes the place of what was planned, and rings no more
        was = past[e.uid.value]
        assert not hasattr(e, 'valarm') and e.dtstart.value.date().isoformat() == was['day']
        assert e.status.value == {'done': 'CONFIRMED', 'over': 'CANCELLED'}[was['state']]
        assert e.summary.value.startswith({'done': 'Done: ', 'over': 'Over: '}[was['state']])
        continue
    touch = plan[e.uid.value]
    start = e.dtstart.value
    assert start.tzinfo is None
    day = datetime.datetime.fromisoformat(touch['day'])
    assert abs((start - day).total_seconds() / 3600 - touch['hour']) < 1 / 60, (start, touch)
    assert e.duration.value == datetime.timedelta(minutes=touch['minutes'])
    assert touch['title'] in e.summary.value and e.dtstamp.value.tzinfo is not None
    assert touch['caution'] is None or touch['caution'] in e.description.value
    assert e.summary.value.startswith('OVERDUE: ') == touch['overdue']
    alarms = e.valarm_list
    assert all(a.action.value == 'DISPLAY' and a.description.value and a.validate(raiseException=True) for a in alarms)
    # when it is due (long things the evening before), and on the last day it may wait
    first = alarms[0].trigger.value
    assert first == datetime.timedelta(hours=-12 if touch['minutes'] >= 60 else 0), first
    may = touch['may_wait_until']
    if len(alarms) == 2:
        assert (start + alarms[1].trigger.value).date() - start.date() == datetime.date.fromisoformat(may) - day.date(), (touch, alarms[1])
    assert len(alarms) == (2 if may and may > touch['day'] and not touch['overdue'] and touch['id'] not in
                           ('wash-bottles', 'clean-up', 'clean-lines', 'cool-store', 'retaste') else 1), touch
assert sys.argv[4:] == [] or sum(t['overdue'] for t in plan.values()) == int(sys.argv[4])
print(len(events))
PY
ok 'read back by another program: every touch, its day, hour, minutes, alarms and caution' "$python" "$tmp/read.py" "$tmp/one.ics" "$tmp/one.json" house-pale-7

# two brews of one line to come are told apart, and each is the same when it is planned again
for day in 2031-12-01 2031-12-24 2031-12-01; do
	name=for-$((++i)) ics --from 2031-09-01 --drink-on $day
done
ok 'two days wanted: no UID in common but of bottles that may burst' same '' "$(uids "$tmp/for-1.ics" | comm -12 - <(uids "$tmp/for-2.ics") | grep -v -e '-take-care@')"
ok 'the same day again: the same UIDs' same "$(uids "$tmp/for-1.ics")" "$(uids "$tmp/for-3.ics")"

# ---- batches that run ----
mkdir "$tmp/cellar"
cd "$tmp/cellar" || exit 1
printf '<brewery xmlns="urn:afterboil:profile:1"><packs into="bottles"/><batch-size volume="20 L"/><week free="sat" time="6 h" other="20 min"/></brewery>\n' >profile.xml
write() { "$AFTERBOIL" "$@" >>"$tmp/written" 2>&1 || echo "failed: $*" >>"$tmp/failed"; }
write new Porch IPA --on 2031-01-05
write log last pitched at 19 C --at 2031-01-05T18:00
write log last dry hop 60 g opened lid --at 2031-01-13T18:00
write log last bottled --at 2031-01-20T18:00
write taste last nothing --at 2031-02-05
write taste last nothing --at 2031-03-05
write new Porch IPA --on 2031-03-01
write log last pitched at 19 C --at 2031-03-01T18:00
write new Night stout --on 2031-03-08
ok 'all was written' test ! -e "$tmp/failed"
golden calendar-several calendar --from 2031-03-05
ok 'a batch that is done with is not there' sh -c "! grep -q 'porch-ipa-1:' '$tmp/out'"
run calendar --from 2031-03-05 --format json
cp "$tmp/out" "$tmp/several.json"
run calendar --from 2031-03-05 --format ics
cp "$tmp/out" "$tmp/several.ics"
ok 'nobody looked: the status says so' same 1 "$status"
ok 'several batches read back by another program' "$python" "$tmp/read.py" "$tmp/several.ics" "$tmp/several.json" none 1
ends 1 'one of them by name' calendar --batch porch-ipa-2 --from 2031-03-05
ok 'alone' sh -c "! grep -q stout '$tmp/out'"
ok 'with its dry hop as last time' says out 'as last time \(porch-ipa-1\).*'
ok 'what to write is said' says out 'afterboil log porch-ipa-2 wort 20 C'
write log porch-ipa-2 wort 21 C --at 2031-03-05T19:00
ends 0 'once somebody looked nothing is overdue' calendar --batch porch-ipa-2 --from 2031-03-05
run calendar --batch porch-ipa-2 --from 2031-03-05 --format ics
ok 'and it rings no more' sh -c "tr -d '\r' <'$tmp/out' | sed ':a;N;\$!ba;s/\n //g' | grep -q 'SUMMARY:Done: porch-ipa-2: Look at temperature and foam'"
ok 'with the UIDs it had' same "$(uids "$tmp/several.ics" | grep porch-ipa-2)" "$(uids "$tmp/out")"
for reading in 2031-03-08 2031-03-11; do
	write log porch-ipa-2 gravity 1.012 SG --at ${reading}T19:00
done
write log porch-ipa-2 dry hop 0 g --at 2031-03-08T19:00
run calendar --batch porch-ipa-2 --from 2031-03-12
ok 'two gravities agree: package' says out 'next: Wash bottles, Sat 2031-03-15|next: Package'
ok 'done is told with its day' says out 'Second gravity reading 2031-03-11|gravity reading 2031-03-11'
ok 'no dry hops, for it says there are none' sh -c "! grep -q 'Dry hop' '$tmp/out'"
run log porch-ipa-2 done washed the bottles --at 2031-03-12T20:00
ok 'a chore told in the words of the calendar' says out 'done: Wash bottles'
run calendar --batch porch-ipa-2 --from 2031-03-12
ok 'is done' says out 'Wash bottles 2031-03-12'
run log porch-ipa-2 --undo
ok 'and taken back' says out 'porch-ipa-2: taken back: done washed the bottles '
run calendar --batch porch-ipa-2 --from 2031-03-12
ok 'to be done again' sh -c "! grep -q 'Wash bottles 2031-03-12' '$tmp/out'"
cp porch-ipa-2.xml "$tmp/before.xml"
ends 2 'a reading is not done without its figure' log porch-ipa-2 done second gravity reading
ok 'what to type instead' says err 'as in "afterboil log porch-ipa-2 gravity 1.012 SG'
ends 2 'nor is packaging' log porch-ipa-2 done package
ends 2 'two of one name' log porch-ipa-2 done clean
ok 'both are named' says err 'Clean fermenter and hoses", "Clean the tap'
ends 2 'no touch' log porch-ipa-2 done the dishes
ok 'what there is' says err 'nothing of that name.*"Wash bottles"'
ok 'nothing was written' cmp -s "$tmp/before.xml" porch-ipa-2.xml
ends 2 'no such batch' calendar --batch 77 --from 2031-03-05
ends 2 'a batch and a line that it is not of' calendar --batch porch-ipa-2 --line night-stout --from 2031-03-05
run calendar --from 2031-12-01
ok 'a batch nobody wrote of for long is left out, and that is said' says out 'Left out: porch-ipa-2'

# ---- what is due stays due since the same day, on whatever day it is asked ----
mkdir "$tmp/due"
cd "$tmp/due" || exit 1
printf '<brewery xmlns="urn:afterboil:profile:1"><packs into="bottles"/><week free="sat, sun" time="6 h"/></brewery>\n' >profile.xml
write new Plain ale --on 2031-01-04
write log last pitched at 19 C --at 2031-01-04T18:00
write log last bottled --at 2031-01-25T18:00
write log last done moved the bottles --at 2031-02-09T18:00
write taste last buttery 1 --at 2031-02-09
for row in '2031-03-08|' '2031-03-10|due since 2031-03-09' '2031-03-12|due since 2031-03-09' '2031-03-20|due since 2031-03-09' '2031-04-06|due since 2031-03-09'; do
	IFS='|' read -r day said <<<"$row"
	run calendar --batch plain-ale-1 --from "$day"
	if [ -n "$said" ]; then
		ok "second tasting, $day: its row says since when" says out "Taste again .*$said"
		ok "second tasting, $day: so does what is next" says out 'next: Taste again.*\(due since Sun 2031-03-09; it can wait'
	else
		ok "second tasting, $day: nothing is due yet" sh -c "grep -q 'Taste again' '$tmp/out' && ! grep -q 'due since' '$tmp/out'"
	fi
done
if [ -n "$fake" ] && ! grep -q __asan_init "$AFTERBOIL"; then
	for day in 2031-03-12 2031-03-20; do
		for what in '' 'report . -o -'; do
			# shellcheck disable=SC2086
			TZ=UTC LD_PRELOAD=$fake FAKETIME="@$day 09:00:00" "$AFTERBOIL" $what >"$tmp/raw" 2>"$tmp/err" </dev/null
			sed 's/<[^>]*>//g; s/&quot;/"/g' "$tmp/raw" | tr '\n' ' ' | tr -s ' ' >"$tmp/out"
			ok "second tasting, $day, ${what:-bare}: due since the same day" says out '"Taste again" is due since 2031-03-09: your next day'
		done
	done
fi

# ---- whose pace ----
mkdir "$tmp/pace"
cd "$tmp/pace" || exit 1
cp "$tmp/due/profile.xml" .
brew() { # NAME DAY GRAVITIES-BY-DAY...
	write new Plain ale --on "$1"
	write log last pitched 1 pack ale yeast at 19 C --at "$1T18:00"
	shift
	for at in "$@"; do write log last gravity "${at#*=} SG" --at "${at%=*}"; done
}
pace() { run calendar --line plain-ale --from 2031-09-01 "$@"; tr '\n' ' ' <"$tmp/out" >"$tmp/line" && mv "$tmp/line" "$tmp/out"; }
brew 2031-01-04
write log last bottled --at 2031-01-25T18:00
pace
ok 'pace: no gravities: they would help' says out 'Gravities in your journals would make it yours'
brew 2031-02-01 2031-02-01T18:00=1.048 2031-02-12T18:00=1.012
write log last bottled --at 2031-02-22T18:00
pace
ok 'pace: gravities that bear no curve: why, and what would' says out 'The gravities in your journals cannot tell yours: there are too few .*More, spread from pitching to a steady end, would'
ok 'pace: not that there are none' sh -c "! grep -q 'would make it yours' '$tmp/out'"
brew 2031-03-01 2031-03-01T18:00=1.048 2031-03-02T18:00=1.044 2031-03-03T18:00=1.034 2031-03-04T18:00=1.023 2031-03-05T18:00=1.016 2031-03-07T18:00=1.012 2031-03-10T18:00=1.011
write log last bottled --at 2031-03-22T18:00
write taste last nothing --at 2031-04-10
pace
ok 'pace: one brew with a curve: by that' says out 'Pace: your own gravities, 1 brew of this beer'
pace --yeast lager
ok 'pace: another yeast than the gravities are of' says out '1 brew of this beer has gravities that tell a pace, but by another yeast; some by this one would make it yours'
ok 'all was written there, too' test ! -e "$tmp/failed"
cd "$tmp" || exit 1

# a beer's name may hold what a calendar line may not
sed 's/line="house-pale"/line="a;b,c\&#10;BEGIN:VEVENT"/' "$examples/01-house-pale.xml" >"$tmp/odd.xml"
run calendar "$tmp/odd.xml" --from 2031-03-03 --format ics
ok 'a name cannot add an event' same "$(grep -ac '^UID' "$tmp/out")" "$(grep -ac '^BEGIN:VEVENT' "$tmp/out")"

# bottles that may burst stand before the plan, whatever was asked for, and until they are gone
mkdir "$tmp/glass" || exit 1
glass() { # ID DAY FATE
	cat >"$tmp/glass/$1.xml" <<X
<batch xmlns="urn:afterboil:journal:1" id="$1" line="pale" family="pale-hoppy" brewed="$2">
  <recipe volume="20 L" og="1.050 SG"/><yeast class="clean-ale" form="dry" amount="11 g"/>
  <pitch at="$2T18:00" temp="19 C"/><reading at="+10d" gravity="1.030 SG"/>
  <package at="+11d" into="bottles" volume="19 L"$3/>
</batch>
X
}
day=$(date -d '20 days ago' +%F)
glass sound "$(date -d '3 days ago' +%F)" '' && sed -i '/<package/d' "$tmp/glass/sound.xml"
glass wild "$day" ''
run calendar "$tmp/glass" --batch sound
ok 'bursting: said before the plan' sh -c "sed -n 2p '$tmp/out' | grep -q '^Take care: bottles of wild may burst'"
ok 'bursting: wants a look' same 1 "$status"
run calendar "$tmp/glass" --format json
ok 'bursting: in the data, of the one alone' jq -e '[.[] | {(.batch // ""): .may_burst}] | add | .wild and (.sound | not)' "$tmp/out"
run calendar "$tmp/glass" --format ics
ok 'bursting: an event with its alarm' sh -c "grep -A9 '^UID:wild-take-care@afterboil' '$tmp/out' | grep -q 'BEGIN:VALARM'"
ok 'bursting: none of what is sound' sh -c "! grep -q 'UID:sound-take-care' '$tmp/out'"
glass wild "$day" ' fate="poured-away"'
run calendar "$tmp/glass"
ok 'bursting: gone is gone' sh -c "! grep -q 'may burst' '$tmp/out'"
run calendar "$tmp/glass" --batch wild
ok 'gone: nothing is asked of it' sh -c "! grep -q 'wild: next' '$tmp/out'"

# ---- a weekend of five hours a day ----
mkdir "$tmp/weekend"
echo '<brewery xmlns="urn:afterboil:profile:1"><packs into="bottles"/><week free="sat, sun" time="5 h" begins="10:00"/></brewery>' >"$tmp/weekend/profile.xml"
ends 0 'weekend: five hours a day are enough' calendar --profile "$tmp/weekend/profile.xml" --yeast clean-ale --from 2031-03-03
ok 'weekend: a look in the evening of the brew day' says out 'Sun 2031-03-09 21:00 .*: +5 minutes'
ok 'weekend: nothing is asked beyond the days' sh -c "! grep -q 'No schedule fits' '$tmp/out'"

# what to type is told in the brewer's own units
mkdir "$tmp/own-units" && cd "$tmp/own-units" || exit 1
for units in us metric; do
	echo "<brewery xmlns=\"urn:afterboil:profile:1\" units=\"$units\"><packs into=\"bottles\"/></brewery>" >profile.xml
	echo '<batch xmlns="urn:afterboil:journal:1" id="own" brewed="2031-03-01"><pitch at="2031-03-01T18:00"/></batch>' >own.xml
	"$AFTERBOIL" calendar . 2>/dev/null | tr -s ' \n' ' ' >"$tmp/$units"
done
ok 'metric: litres in what to type' grep -q 'log own bottled 19 L with' "$tmp/metric"
ok 'us: gallons in what to type' grep -q 'log own bottled 5 gal with' "$tmp/us"
ok 'metric: litres in what the minutes are for' grep -q 'estimates for some 20 L by hand' "$tmp/metric"
ok 'us: gallons in what the minutes are for' grep -q 'estimates for some 5.3 gal by hand' "$tmp/us"

# ---- what to type follows what the beer goes into; "done package" names each way
while read -r into words; do
	mkdir "$tmp/into-$into"
	echo "<brewery xmlns=\"urn:afterboil:profile:1\" units=\"metric\"><packs into=\"$into\"/></brewery>" >"$tmp/into-$into/profile.xml"
	echo '<batch xmlns="urn:afterboil:journal:1" id="own" brewed="2031-03-01" family="pale-hoppy"><pitch at="2031-03-01T18:00"/></batch>' >"$tmp/into-$into/own.xml"
	run calendar --from 2031-03-03 "$tmp/into-$into"
	tr -s ' \n' ' ' <"$tmp/out" >"$tmp/into"
	ok "into $into: what to type" grep -q "log own $words 19 L" "$tmp/into"
	ok "into $into: and no other" same 1 "$(grep -Eo 'log own (bottled|kegged|canned|casked)' "$tmp/into" | wc -l)"
done <<'T'
bottles bottled
keg kegged
cans canned
cask casked
T
run log own done package --in "$tmp/into-keg"
ok 'done package: both ways' says err 'log own bottled 19 L .* or "afterboil log own kegged 19 L'

plan
