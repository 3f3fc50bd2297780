# schemas.t - every result as data keeps to its schema: each example alone, every command, with limits and filters; and schemas are no open door
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
python=$(python_that 'import jsonschema')
[ -n "$python" ] || missing python3-jsonschema
examples=$top_srcdir/examples
rules=$top_srcdir/rules

# One process for all: each line of standard input is a schema and a file; what does not keep to its schema is named.
cat >"$tmp/valid.py" <<'P'
import json, sys
import jsonschema
schemas = {}
for line in sys.stdin:
    schema, path = line.split()
    if schema not in schemas:
        loaded = json.load(open(schema))
        jsonschema.Draft202012Validator.check_schema(loaded)
        schemas[schema] = jsonschema.Draft202012Validator(loaded)
    errors = sorted(schemas[schema].iter_errors(json.load(open(path))), key=str)
    if errors:
        print(path, "/".join(map(str, errors[0].absolute_path)), errors[0].message[:120])
P

# ---- what is written ----

save() { # SCHEMA NAME ARGS...
	local schema=$1 name=$2
	shift 2
	run "$@" --format json
	cp "$tmp/out" "$tmp/$name.json"
	echo "$rules/$schema.schema.json $tmp/$name.json" >>"$tmp/list"
	[ "$status" -le 1 ] || echo "$name: status $status: $(head -1 "$tmp/err")" >>"$tmp/failed"
}
: >"$tmp/failed"
for file in "$examples"/[01]*.xml; do
	b=$(basename "$file" .xml)
	save diagnose "diagnose-$b" diagnose "$file" --redraws 5
	save facts "facts-$b" facts "$file"
	save advise "advise-$b" advise "$file" --no-store --redraws 0
	save trend "trend-$b" trend "$file" --no-store
done
for fault in buttery medicinal sour papery 'green apple'; do
	save diagnose "fault-${fault% *}" diagnose --fault "$fault=4" --redraws 0
done
save diagnose none diagnose "$examples" --last 1 --redraws 0
save diagnose of-family diagnose --fault buttery=1 --family wheat --absent sour
save facts last-two facts "$examples" --last 2
save trend line trend "$examples" --no-store --line house-pale
save trend last trend "$examples" --no-store --last 3
for budget in 0 5 65 1000; do
	save advise "budget-$budget" advise "$examples" --no-store --redraws 0 --budget $budget
done
save advise limits advise "$examples" --no-store --redraws 3 --budget 100 --minutes 0 --changes 1 --running 0 --horizon 2
save advise family advise "$examples" --no-store --redraws 0 --family wheat
for words in triangle "triangle 12" "triangle 7/12" "duo-trio 5" "pair 3/4" "preference 40" "preference 1/2" pair "duo-trio 0/9" "pair 1000/1000" "triangle 1" "preference 500"; do
	save panel "panel-${words//[ \/]/-}" panel $words
done
for pair in "house-pale-1 house-pale-2" "house-pale-2 house-pale-3" "house-pale-3 house-pale-4" "house-pale-4 house-pale-5" "house-pale-5 house-pale-6" \
	"house-pale-6 house-pale-1" "house-pale-3 house-pale-1" "house-pale-3 house-pale-2" "house-pale-1 house-pale-4" "house-pale-2 house-pale-5" \
	"house-pale-3 house-pale-6" "house-pale-4 house-pale-6"; do
	save compare "compare-${pair// /-}" compare $pair "$examples"
done
for yeast in clean-ale english-ale german-wheat belgian-abbey farmhouse kveik lager warm-lager hybrid mixed-culture; do
	save calendar "calendar-$yeast" calendar --yeast $yeast --from 2031-03-03
done
save calendar calendar-line calendar "$examples" --line house-pale --from 2031-09-01 --free sat
save calendar calendar-feast calendar "$examples" --from 2031-09-01 --drink-on 2031-12-01
save calendar calendar-later calendar "$examples" --from 2031-09-01 --drink-on 2031-09-20 --free sun
save calendar calendar-running calendar "$examples" --from 2031-05-20 --free sat
save calendar calendar-pressed calendar --from 2031-03-03 --free 2031-03-08
save calendar calendar-away calendar --from 2031-03-03 --gone 2031-03-03..2039-01-01
save advise small advise "$data/brewery" $small --no-store
ok 'all were written' same '' "$(cat "$tmp/failed")"
n=0
{ echo '<batches xmlns="urn:afterboil:journal:1">'; for file in "$examples"/0*.xml; do sed '/^<?xml/d; s/ file="[^"]*"//' "$file"; done; echo '</batches>'; } >"$tmp/all.xml"
"$AFTERBOIL" diagnose --stream <"$tmp/all.xml" 2>/dev/null | while read -r line; do
	n=$((n + 1))
	echo "$line" >"$tmp/stream-$n.json"
	echo "$rules/diagnose.schema.json $tmp/stream-$n.json" >>"$tmp/list"
done
ok 'the stream was written' test -s "$tmp/stream-1.json"
"$python" "$tmp/valid.py" <"$tmp/list" >"$tmp/wrong"
for schema in diagnose facts advise trend panel compare calendar; do
	ok "$schema: every result keeps to its schema" same '' "$(for f in $(grep "/$schema.schema" "$tmp/list" | cut -d' ' -f2); do grep -F "$f " "$tmp/wrong"; done)"
	ok "$schema: there were results" test "$(grep -c "/$schema.schema" "$tmp/list")" -ge 12
done

# ---- what the schemas refuse: each row damages a good result ----

while IFS='|' read -r schema name title damage; do
	schema=$(echo $schema) name=$(echo $name)
	jq "$damage" "$tmp/$name.json" >"$tmp/damaged.json"
	ok "$schema refuses: $(echo $title)" test -n "$(echo "$rules/$schema.schema.json $tmp/damaged.json" | "$python" "$tmp/valid.py")"
	ok "$schema, $(echo $title): something was damaged" sh -c "! cmp -s '$tmp/damaged.json' '$tmp/$name.json'"
done <<'T'
	diagnose | diagnose-01-house-pale | a blame over one | .causes[0].blame = 1.5
	diagnose | diagnose-01-house-pale | a blame below nothing | .causes[0].blame = -0.1
	diagnose | diagnose-01-house-pale | a grade that is none | .found[0].grade = "huge"
	diagnose | diagnose-01-house-pale | a side that is none | .causes[0].side = "left"
	diagnose | diagnose-01-house-pale | no causes | del(.causes)
	diagnose | diagnose-01-house-pale | a load that is a word | .load = "much"
	diagnose | diagnose-01-house-pale | a question of another kind | .next[0].kind = "guess"
	facts | facts-01-house-pale | a fact without a name | del(.facts[0].name)
	facts | facts-01-house-pale | an origin that is none | .facts[0].origin = "heard"
	facts | facts-01-house-pale | lines that are words | .facts[0].lines = ["one"]
	advise | budget-65 | a gain that is a word | .ranked[0].gain = "much"
	advise | budget-65 | a kind that is none | .ranked[0].kind = "gift"
	advise | budget-65 | a basis that is none | .ranked[0].basis = "felt"
	advise | budget-65 | no frontier | del(.frontier)
	advise | budget-65 | a step without its load | del(.frontier[0].load)
	trend | line | a batch without an id | del(.batches[0].id)
	trend | line | a chance over one | .changes[0].p_better = 2
	trend | line | a count below nothing | .changes[0].n_before = -1
	trend | line | no batches | del(.batches)
	compare | compare-house-pale-2-house-pale-3 | no second batch | del(.b)
	compare | compare-house-pale-2-house-pale-3 | a fact without its value | del(.facts[0].a)
	panel | panel-triangle-7-12 | a chance over one | .p = 1.1
	panel | panel-triangle-7-12 | a test that is none | .test = "square"
	panel | panel-triangle-12 | a pour of three beers | .servings[0].pour = "ABC"
	panel | panel-triangle-12 | a code of four digits | .servings[0].codes[0] = 1000
	calendar | calendar-line | no touches | del(.touches)
	calendar | calendar-line | a day that is none | .touches[0].day = "soon"
	calendar | calendar-feast | a fit that is none | .fits = "nearly"
	calendar | calendar-line | minutes below nothing | .touches[0].minutes = -1
T

# ---- what the data hold together ----

for file in "$examples"/[01]*.xml; do
	b=$(basename "$file" .xml)
	ok "$b: blame is no more than present" jq -e 'all(.causes[]; .blame <= .present + 1e-9)' "$tmp/diagnose-$b.json"
	ok "$b: the load is the sum of its faults" jq -e '.load == null or ((([.found[].load] | add // 0) - .load) | fabs < 1e-9)' "$tmp/diagnose-$b.json"
	ok "$b: the load lies in its range" jq -e '.load == null or (.load_low <= .load and .load <= .load_high)' "$tmp/diagnose-$b.json"
	ok "$b: the story is of known causes" jq -e '.story | all(.[]; test("^[a-z-]+$"))' "$tmp/diagnose-$b.json"
	ok "$b: the trend has the load of the diagnosis" same "$(jq .load "$tmp/diagnose-$b.json")" "$(jq '.batches[0].load' "$tmp/trend-$b.json")"
	ok "$b: and its faults" same "$(jq -cS '[.found[] | select(.load > 0) | {key: .id, value: .load}] | from_entries' "$tmp/diagnose-$b.json")" \
		"$(jq -cS '.batches[0].faults' "$tmp/trend-$b.json")"
done
plan
