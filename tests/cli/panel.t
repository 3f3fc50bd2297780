# panel.t - blind tastings on the command line: how many, in which order, what came of it
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

need jq
golden panel-needed panel triangle
golden panel-serve panel triangle 6
golden panel-result panel triangle 7/12
golden panel-duo-trio panel duo-trio 4 --seed 3
golden panel-preference panel preference 2/10

ok 'the same seed, the same order' same "$("$AFTERBOIL" panel triangle 9 --seed 4 | cksum)" "$("$AFTERBOIL" panel triangle 9 --seed 4 | cksum)"
run panel triangle 9 --seed 4
cp "$tmp/out" "$tmp/first"
run panel triangle 9 --seed 5
ok 'another seed, another order' sh -c "! cmp -s '$tmp/first' '$tmp/out'"

run panel pair 10/12 --format json
ok 'as data: the counts' same 'pair 10 12' "$(jq -r '"\(.test) \(.right) \(.tastings)"' "$tmp/out")"
ok 'as data: p is the exact tail' jq -e '(.p - 79/4096 | fabs) < 1e-12' "$tmp/out"
ok 'as data: no order once it was tasted' jq -e '.servings == []' "$tmp/out"
run panel triangle 12 --format json
ok 'as data: twelve servings, two of each order' jq -e '[.servings[].pour] | sort | group_by(.) | map(length) == [2, 2, 2, 2, 2, 2]' "$tmp/out"
ok 'as data: the right cup is the odd one' jq -e \
	'all(.servings[]; . as $s | (.pour / "") as $b | [range(3) | select(. as $i | [$b[] | select(. == $b[$i])] | length == 1)][0] as $odd | $s.codes[$odd] == $s.right)' "$tmp/out"
run panel triangle 12 --format html
ok 'to print: a page' says out '<table'

# words | status
while IFS='|' read -r words wanted; do
	eval "ends $(echo $wanted) \"panel $words\" panel $words"
done <<'T'
	triangle           | 0
	triangle 12        | 0
	triangle 0/1       | 0
	preference 1000    | 0
	                   | 2
	trangle            | 2
	triangle 13/12     | 2
	triangle 0/0       | 2
	triangle 1001      | 2
	triangle 7/        | 2
	triangle /12       | 2
	triangle -3        | 2
	triangle 7of12     | 2
	triangle 99999999999999999999 | 2
	triangle 7/12 x    | 2
	triangle --store x | 2
	triangle --rules x | 2
T
run panel trangle
ok 'a slip of the pen is met' says err 'do you mean triangle'
plan
