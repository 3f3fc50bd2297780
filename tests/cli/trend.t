# trend.t - the screens of trend
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
golden trend trend "$data/brewery" $small --no-store
golden trend-last trend "$data/brewery" $small --no-store --last 2
golden trend-html trend "$data/brewery" $small --no-store --format html
run advise "$data/brewery" $small --store "$tmp/h.db" --last 2
sed 's/pale-4/pale-5/; s/2031-04-12/2031-05-10/g; s/<tasting/<change what="two-gravities" adopted="yes"\/>&/' "$data/brewery/pale-4.xml" >"$tmp/pale-5.xml"
golden trend-promise trend "$tmp/pale-5.xml" $small --store "$tmp/h.db"
run trend "$top_srcdir/examples" --no-store --format json
ok 'the examples are in order of date' jq -e '[.batches[].brewed] == ([.batches[].brewed] | sort)' "$tmp/out"
ok 'changes noted in them are compared' jq -e '.changes | length > 0' "$tmp/out"
# many brews of one day and one beer, of which only the newest are read: a verdict of one that is not among them has no name to
# be told by (it was once read from memory given back)
mkdir "$tmp/day"
text=$(cat "$data/brewery/pale-1.xml")
for ((i = 1; i <= 40; i++)); do
	printf '%s\n' "${text/id=\"pale-1\"/id=\"pale-x$i\"}" >"$tmp/day/$i.xml"
done
run trend "$tmp/day" $small --no-store --last 5 --format json
ok 'brews of one day: done' same 0 "$status"
ok 'only what was read is named' jq -e '([.batches[].id]) as $ids | (.batches | length == 5) and ([.revisions[]?.batch] | all(. as $b | $ids | index($b) != null))' "$tmp/out"
run trend "$tmp/day" $small --no-store --last 5
ok 'brews of one day, told: done' same 0 "$status"
plan
