# json.t - results as data keep to their schemas in rules/, on the small brewery and on the examples
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
python=$(python_that 'import jsonschema')
[ -n "$python" ] || need python3-jsonschema

cat >"$tmp/valid.py" <<'P'
import json, sys
import jsonschema
schema, data = (json.load(open(p)) for p in sys.argv[1:3])
jsonschema.Draft202012Validator.check_schema(schema)
errors = list(jsonschema.Draft202012Validator(schema).iter_errors(data))
for e in errors[:5]:
    print("/".join(map(str, e.absolute_path)), e.message[:200])
sys.exit(len(errors) > 0)
P

# valid COMMAND: $tmp/out keeps to the schema, and the schema is not so loose that it would take anything
valid() {
	"$python" "$tmp/valid.py" "$top_srcdir/rules/$1.schema.json" "$tmp/out"
}
invalid() {
	! valid "$1" >/dev/null
}

for folder in "$data/brewery $small" "$top_srcdir/examples"; do
	for command in diagnose facts advise trend; do
		extra=
		case $command in advise | trend) extra=--no-store ;; esac
		run "$command" $folder $extra --format json
		ok "$command on ${folder##*/} keeps to its schema" valid "$command"
		jq 'if type == "array" then .[0] else . end | del(.batch, .batches)' "$tmp/out" >"$tmp/less"
		cp "$tmp/less" "$tmp/out"
		ok "$command without its batches does not" invalid "$command"
	done
done

run diagnose "$data/brewery" $small --format json
ok 'several batches are an array in order of date' same 'pale-1 pale-2 pale-3 pale-4' "$(jq -r '[.[].batch] | join(" ")' "$tmp/out")"
ok 'causes are ranked by blame' jq -e 'all(.[]; [.causes[].blame] == ([.causes[].blame] | sort | reverse))' "$tmp/out"
ok 'the likely range holds the blame' jq -e 'all(.[].causes[]; .blame_low <= .blame and .blame <= .blame_high)' "$tmp/out"
run diagnose "$data/brewery" $small --format json --batch pale-1
ok 'one batch is an object' same object "$(jq -r type "$tmp/out")"
ok 'the warm batch was too warm' same too-warm "$(jq -r '.causes[0].id' "$tmp/out")"
ok 'what is found has its grade' same 'hot strong 4' "$(jq -r '.found[0] | "\(.id) \(.grade) \(.intensity)"' "$tmp/out")"
run advise "$data/brewery" $small --format json --no-store --budget 0
ok 'budget 0 buys nothing' jq -e '.budget == 0 and ([.plan[].cost] | add // 0) == 0' "$tmp/out"
ok 'no limit is null' jq -e '.minutes == null' "$tmp/out"
run rules list causes --format json $small
ok 'rules list' same 3 "$(jq '.causes | length' "$tmp/out")"
plan
