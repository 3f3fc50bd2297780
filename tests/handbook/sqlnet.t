# sqlnet.t - the solver against SQL: every on/off pattern, every level of every contributor, summed by sqlite3
#
# The SQL states only the model: priors, levels, maximum, findings. It knows no elimination, no blame formula.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/house/lib.sh"
need sqlite3
work=$(mktemp -d)
trap 'rm -rf "$bad" "$work"' EXIT

# tables FILE: the network as SQL
tables() {
	sed 's/#.*//' "$1" | awk '
	BEGIN {
		print "create table cause(i, p); create table part(f, c, t1, t2, t3); create table fault(f, how, y);"
	}
	$1 == "cause" { printf "insert into cause values(%d, %s);\n", causes++, $2 }
	$1 == "fault" {
		printf "insert into part values(%d, -1, %s, %s, %s);\n", faults, $2, $3, $4
		printf "insert into fault values(%d, \047%s\047, %s);\n", faults++, $5, $6
	}
	$1 == "link" { printf "insert into part values(%d, %d, %s, %s, %s);\n", $3, $2, $4, $5, $6 }'
}

query() {
	cat <<'SQL'
-- contributors of each fault, numbered from 1, and the probability of each level
create table seq as select f, c, t1, t2, t3, row_number() over (partition by f order by c) k from part;
create table level as
	select f, k, c, 0 v, 1 - t1 p from seq union all select f, k, c, 1, t1 - t2 from seq union all
	select f, k, c, 2, t2 - t3 from seq union all select f, k, c, 3, t3 from seq;
create table pattern as
	with recursive w(i, x, p) as (select 0, 0, 1.0 union all
		select i + 1, x + b * (1 << w.i), w.p * case b when 1 then cause.p else 1 - cause.p end
		from w join cause using (i), (select 0 b union all select 1))
	select x, p from w where i = (select count(*) from cause);
-- every combination of levels: t is the cause watched, pushed = it alone, or with others, brought the grade found
create table likely as
	with recursive s(x, t, f, k, top, pushed, p) as (
		select x, i, f, 0, 0, 0, 1.0 from pattern, cause, fault where how <> 'unknown' union all
		select s.x, t, s.f, s.k + 1, max(top, v), max(pushed, c = t and how = 'found' and v = y),
			s.p * level.p * case when how = 'absent' and v > 0 then 1 - y else 1 end
		from s join fault on fault.f = s.f join level on level.f = s.f and level.k = s.k + 1
		where c < 0 or s.x >> c & 1 union all
		select s.x, t, s.f, s.k + 1, top, pushed, s.p
		from s join seq on seq.f = s.f and seq.k = s.k + 1 where c >= 0 and not s.x >> c & 1)
	select x, t, s.f, sum(p) p, sum(p * (1 - pushed)) innocent
	from s join fault on fault.f = s.f
	where k = (select count(*) from seq where seq.f = s.f) and (how <> 'found' or top = y)
	group by x, t, s.f;
create table joint as
	select x, t, pattern.p * case when count(*) < (select count(*) from fault where how <> 'unknown') or min(likely.p) <= 0 then 0
		else exp(sum(ln(likely.p))) end p,
		pattern.p * case when count(*) < (select count(*) from fault where how <> 'unknown') or min(innocent) <= 0 then 0
		else exp(sum(ln(innocent))) end innocent
	from pattern join likely using (x) group by x, t;
select 'evidence', printf('%.15g', sum(p)) from joint where t = 0;
select 'present', t, printf('%.15g', sum(p * (x >> t & 1)) / (select sum(p) from joint where t = 0)) from joint group by t;
select 'blame', t, printf('%.15g', sum((p - innocent) * (x >> t & 1)) / (select sum(p) from joint where t = 0)) from joint group by t;
select 'share', printf('%.15g', max(p) / sum(p)) from joint where t = 0;
SQL
}

# differ FILE FILE: lines of the first whose value is not that of the second, within 1e-8 relative (1e-12 where it is zero)
differ() {
	awk 'function off(a, b) { a -= b; return (a < 0 ? -a : a) > 1e-8 * (b < 0 ? -b : b) + 1e-12 }
	$1 == "story" { next }
	{ key = NF > 2 ? $1 " " $2 : $1; n++ }
	FNR == NR { want[key] = $NF; wanted++; next }
	!(key in want) || off($NF, want[key]) { print FILENAME ": " $0 ", wanted " want[key] }
	{ got++ }
	END { if (got != wanted || got < 6) print got + 0 " values, wanted " wanted + 0 }' "$1" "$2"
}

for net in plain grades strong unseen; do
	file=$top_srcdir/tests/handbook/networks/$net.txt
	"$builddir/tests/unit/solve_net" "$file" >"$work/ours" || echo "# solve_net failed on $net"
	{ tables "$file"; query; } | sqlite3 -batch -separator ' ' :memory: >"$work/sql" || echo "# sqlite3 failed on $net"
	ok "$net: evidence, present, blame and the story's share as SQL finds them" "$(differ "$work/sql" "$work/ours")"
done

# One number of the network changed by a hundredth must be noticed.
sed 's/0\.70 0\.45/0.71 0.45/' "$top_srcdir/tests/handbook/networks/grades.txt" >"$work/other.txt"
file=$top_srcdir/tests/handbook/networks/grades.txt
"$builddir/tests/unit/solve_net" "$work/other.txt" >"$work/ours"
{ tables "$file"; query; } | sqlite3 -batch -separator ' ' :memory: >"$work/sql"
if differ "$work/sql" "$work/ours" | grep -q 'evidence .*, wanted'; then seen=''; else seen='a changed link went unnoticed'; fi
ok 'a link changed by 0.01 is noticed' "$seen"
plan
