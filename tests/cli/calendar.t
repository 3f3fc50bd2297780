# calendar.t - a batch over a brewer's days: as text, as data, and as a file that other programs read
#
# Oracle for iCalendar: python3-vobject, which knows nothing of us.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"
examples=$top_srcdir/examples

golden calendar-plain calendar --from 2031-03-03 --free 'sat, sun'
golden calendar-line calendar "$examples" --line house-pale --from 2031-03-03 --free 'sat, sun' --width 100
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
	for row in 'Europe/Berlin|2031-03-30 01:59:59|2031-03-30' 'America/New_York|2031-11-02 01:30:00|2031-11-02' 'UTC|2032-02-29 23:58:00|2032-02-29' \
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
name=one ics --from 2031-03-03
name=two ics --from 2031-03-10
run calendar "$examples" --line house-pale --free 'sat, sun' --from 2031-03-03 --format json
cp "$tmp/out" "$tmp/one.json"
ok 'lines end with CR LF' test "$(grep -c $'\r$' "$tmp/one.ics")" = "$(wc -l <"$tmp/one.ics")"
ok 'no line is over 75 bytes' test -z "$(tr -d '\r' <"$tmp/one.ics" | LC_ALL=C grep -E '.{76}')"
ok 'times are floating' test -z "$(grep -aE 'DTSTART.*(TZID|Z.?$)' "$tmp/one.ics")"
uids() { grep -a '^UID' "$1" | sort; }
ok 'the same batch planned again keeps its UIDs' same "$(uids "$tmp/one.ics")" "$(uids "$tmp/two.ics")"
ok 'no UID twice' same '' "$(uids "$tmp/one.ics" | uniq -d)"
for python in /usr/bin/python3 python3; do
	$python -c 'import vobject' 2>/dev/null && break
	python=
done
[ -n "$python" ] || missing python3-vobject
cat >"$tmp/read.py" <<'PY'
import datetime, json, sys, vobject
calendar = vobject.readOne(open(sys.argv[1], newline='').read())
assert calendar.validate(raiseException=True)
plan = {t['id']: t for t in json.load(open(sys.argv[2]))['touches']}
events = calendar.vevent_list
assert len(events) == len(plan) > 8, (len(events), len(plan))
for e in events:
    assert e.validate(raiseException=True)
    touch = plan[next(i for i in sorted(plan, key=len, reverse=True) if e.uid.value.endswith('-%s@afterboil' % i))]
    start = e.dtstart.value
    assert start.tzinfo is None and start.date().isoformat() == touch['day'], (start, touch)
    assert abs(start.hour + start.minute / 60 - touch['hour']) < 1 / 60, (start, touch)
    assert e.duration.value == datetime.timedelta(minutes=touch['minutes'])
    assert touch['title'] in e.summary.value and e.dtstamp.value.tzinfo is not None
    assert touch['caution'] is None or touch['caution'] in e.description.value
    assert len(e.valarm_list) == 1 and e.valarm_list[0].action.value == 'DISPLAY'
print(len(events))
PY
ok 'read back by another program: every touch, its day, hour, minutes and caution' "$python" "$tmp/read.py" "$tmp/one.ics" "$tmp/one.json"

# a beer's name may hold what a calendar line may not
sed 's/line="house-pale"/line="a;b,c\&#10;BEGIN:VEVENT"/' "$examples/01-house-pale.xml" >"$tmp/odd.xml"
run calendar "$tmp/odd.xml" --from 2031-03-03 --format ics
ok 'a name cannot add an event' same "$(grep -ac '^UID' "$tmp/out")" "$(grep -ac '^BEGIN:VEVENT' "$tmp/out")"
plan
