# export.t - the history as a table: read back by another program, safe in a spreadsheet, whole or not there
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq sqlite3
examples=$top_srcdir/examples
run trend "$examples" --store "$tmp/h.db" --export "$tmp/t.csv" --format json
ok 'done' same 0 "$status"
sqlite3 "$tmp/t.db" ".import --csv $tmp/t.csv t"
ok 'a row a batch' same "$(jq '.batches | length' "$tmp/out")" "$(sqlite3 "$tmp/t.db" 'SELECT count(*) FROM t')"
ok 'batches, days and loads as in the data' same "$(jq -r '.batches[] | [.id, .line // "", .brewed, (.load | if . == null then "" else . * 1e6 | round / 1e6 | tostring end)] | join("|")' "$tmp/out")" \
	"$(sqlite3 "$tmp/t.db" 'SELECT batch, line, brewed, load FROM t')"
ok 'the faults add up to the load' same '' "$(sqlite3 -json "$tmp/t.db" 'SELECT * FROM t' | jq -r '.[] | select(.load != "") | . as $r |
	(keys_unsorted | .[11:] - ["changes", "rules", "profile", "program"] | map($r[.] | if . == "" then 0 else tonumber end) | add) as $sum |
	select(($sum - (.load | tonumber) | fabs) > 1e-6) | .batch')"
ok 'changes as in the data' same "$(jq -r '.batches[] | select(.changes | length > 0) | "\(.id)|\(.changes | join("; "))"' "$tmp/out")" \
	"$(sqlite3 "$tmp/t.db" "SELECT batch, changes FROM t WHERE changes <> ''")"
ok 'judged under which rules and profile and by which program, as in the data' same "$(jq -r '.batches[] | "\(.id)|\(.rules)|\(.profile)|\(.program)"' "$tmp/out")" "$(sqlite3 "$tmp/t.db" 'SELECT batch, rules, profile, program FROM t')"
ok 'the program as it tells itself' same "$("$AFTERBOIL" --version)" "afterboil $(sqlite3 "$tmp/t.db" 'SELECT DISTINCT program FROM t')"
ok 'all under one' same '1|1|16|16' "$(sqlite3 "$tmp/t.db" 'SELECT count(DISTINCT rules), count(DISTINCT profile), min(length(rules)), min(length(profile)) FROM t')"
ok 'charted habits as in the data' same "$(jq -r '.charts[] | select(.fact == "chill.to-pitch") | .points[] | "\(.batch)|\(.value * 1000 | round)"' "$tmp/out")" \
	"$(sqlite3 "$tmp/t.db" "SELECT batch, cast(round(\"chill.to-pitch\" * 1000) AS integer) FROM t WHERE \"chill.to-pitch\" <> ''")"

# texts of a stranger
cat >"$tmp/evil.xml" <<'X'
<batch xmlns="urn:afterboil:journal:1" id="a" brewed="2031-01-01" line="=HYPERLINK(&quot;http://x&quot;,1)"><change>a "b", c</change><tasting complete="yes"/></batch>
X
run trend "$tmp/evil.xml" --no-store --export "$tmp/e.csv"
sqlite3 "$tmp/e.db" ".import --csv $tmp/e.csv t"
ok 'a formula is none' same "'=HYPERLINK(\"http://x\",1)" "$(sqlite3 "$tmp/e.db" 'SELECT line FROM t')"
ok 'quotes and commas stay in their cell' same 'a "b", c' "$(sqlite3 "$tmp/e.db" 'SELECT changes FROM t')"

# it cannot be written: said, status 4, the old one stays
cp "$tmp/t.csv" "$tmp/old.csv"
mkdir "$tmp/d"
ends 4 'a folder that is not there' trend "$examples" --no-store --export "$tmp/none/t.csv"
ends 4 'a full device' trend "$examples" --no-store --export /dev/full
(ulimit -f 1; trap '' XFSZ; run trend --store "$tmp/h.db" --export "$tmp/t.csv"; exit "$status")
ok 'a full disk: status 4' same 4 $?
ok 'a full disk: the old table stays' cmp "$tmp/t.csv" "$tmp/old.csv"
ok 'and nothing half made' same '' "$(ls "$tmp" | grep saving)"

# a store on a full disk: what was there stays, and the next run goes on
"$AFTERBOIL" trend --store "$tmp/h.db" --format json >"$tmp/before" 2>/dev/null
sed 's/id="a"/id="late"/' "$tmp/evil.xml" >"$tmp/late.xml"
(ulimit -f 8; trap '' XFSZ; "$AFTERBOIL" trend "$tmp/late.xml" --store "$tmp/h.db" >/dev/null 2>"$tmp/err")
ok 'a store that cannot grow: status 4' same 4 $?
"$AFTERBOIL" trend --store "$tmp/h.db" --format json >"$tmp/after" 2>/dev/null
ok 'and what was there is there' cmp "$tmp/before" "$tmp/after"
ok 'the store is sound' same ok "$(sqlite3 "$tmp/h.db" 'PRAGMA integrity_check')"
"$AFTERBOIL" trend "$tmp/late.xml" --store "$tmp/h.db" --format json >"$tmp/after" 2>/dev/null
ok 'with room again it is filed' jq -e '[.batches[].id] | index("late") != null' "$tmp/after"

# rules change: the journals are judged anew, what moved is told, and the revisions of before stay
cp -r "$data/rules" "$tmp/rules"
chmod -R u+w "$tmp/rules"
run trend "$data/brewery" $small --store "$tmp/r.db"
run trend "$data/brewery" $small --store "$tmp/r.db" --rescore
ok 'the same rules: nothing moved' says err 'flaw load of 0 of 4 batches moved'
sed -i 's/severity="[0-9.]*"/severity="9"/' "$tmp/rules"/*.xml
run trend "$data/brewery/pale-1.xml" --rules-base "$tmp/rules" --store "$tmp/r.db" --rescore
ok 'other rules: what moved' says err 'rescored: pale-1: flaw load [0-9.]*, was 12.0'
ok 'and what is left as it was' says err '3 batches are still as older rules'
ok 'the older judgement is kept' same 2 "$(sqlite3 "$tmp/r.db" "SELECT count(*) FROM batch WHERE id = 'pale-1'")"

# another version of the program judged them: judged anew, and told; so it is when it is not known which
run trend "$data/brewery" $small --store "$tmp/v.db"
sqlite3 "$tmp/v.db" "UPDATE batch SET program = '0.0.9', load = 7 WHERE id = 'pale-1'; UPDATE batch SET program = NULL WHERE id <> 'pale-1'"
run trend "$data/brewery/pale-1.xml" $small --store "$tmp/v.db" --rescore
ok 'another program: judged anew' says err 'history: 0 new, 1 changed'
ok 'what moved, and why' says err 'rescored: pale-1: flaw load [0-9.]*, was 7.0 .another version of afterboil judged it.'
ok 'and what is left as it was' says err '3 batches are still as another version of afterboil judged them'
run trend $small --store "$tmp/v.db" --format json --export "$tmp/v.csv"
ok 'not known is null' same 3 "$(jq '[.batches[] | select(.program == null)] | length' "$tmp/out")"
ok 'and an empty cell' same 3 "$(tr -d '\r' <"$tmp/v.csv" | grep -c ',""$')"

# the profile changes: what judging takes from it counts, its money does not
cp -r "$data/brewery" "$tmp/b"
chmod -R u+w "$tmp/b"
profile() { printf '<brewery xmlns="urn:afterboil:profile:1" name="shed" currency="%s">%s</brewery>\n' "$1" "$2" >"$tmp/b/profile.xml"; }
sed -i 's|</batch>|<tasting at="+41d" by="Mo" complete="yes"><absent fault="boozy"/></tasting></batch>|' "$tmp/b/pale-1.xml"
profile EUR ''
run trend "$tmp/b" $small --store "$tmp/p.db"
profile CHF '<money now="100"/><changed what="shake-hard" on="2031-01-01"/>'
run trend "$tmp/b" $small --store "$tmp/p.db"
ok 'its money and changes: nothing is judged anew' silent err
profile CHF '<taster name="Mo" blind-to="boozy"/>'
run trend "$tmp/b" $small --store "$tmp/p.db" --rescore
ok 'a blind spot: all are judged anew' says err 'history: 0 new, 4 changed'
ok 'what moved, and why' says err 'rescored: pale-1: flaw load [0-9.]*, was 4.0 .what the profile says changed.'
profile CHF '<taster name="Mo"/>'
run trend "$tmp/b/pale-1.xml" $small --store "$tmp/p.db" --rescore
ok 'one of four given: the rest is told' says err '3 batches are still as another profile, or one not known'
run trend $small --store "$tmp/p.db" --format json
ok 'and shows in the data' same '2 1 3' "$(jq -r '[.batches[].profile] | "\(unique | length) \(map(select(. == "none" or . == null)) | length == 0 | if . then 1 else 0 end) \(group_by(.) | map(length) | max)"' "$tmp/out")"
run trend "$tmp/b/pale-1.xml" --profile /dev/null $small --store "$tmp/n.db"
rm "$tmp/b/profile.xml"
run trend "$tmp/b" $small --store "$tmp/n.db" --format json
ok 'without one: none' same none "$(jq -r '[.batches[].profile] | unique | join(" ")' "$tmp/out")"
ends 2 'without journals' trend --store "$tmp/r.db" --rescore
plan
