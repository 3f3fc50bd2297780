#!/usr/bin/env bash
# heat.t - the beer's temperature against scipy: solve_ivp (Dormand and Prince, steps controlled) on the differential equation itself
#
# Rooms are constant, or swing day and night. Steps of an hour, as the facts take them, within 0.02 K; of six minutes within 5e-4 K. With
# 1.217 kJ/g in place of 0.5866 (the trap) the same runs must fail.
# SPDX-License-Identifier: GPL-3.0-or-later
python=/usr/bin/python3
. "$top_srcdir/tests/need.sh"
$python -c 'import scipy' 2>/dev/null || missing 'python3-scipy'

"${builddir:-.}/tests/unit/print_models" heat | $python -c '
import math
import sys
from scipy.integrate import solve_ivp

def solved(run, heat=1.0):
    c, kj, b, m, ua, start, room, swing = run
    def outside(t):
        part = t % 24 / 12
        return room + swing / 2 * (1 - 2 * part if part < 1 else 2 * part - 3)
    def slope(t, y):
        e = math.exp(-abs(b * (t - m)))
        return [(heat * kj * b * e / (1 + e) ** 2 - 3.6 * ua * (y[0] - outside(t))) / c]
    # a room with corners: from corner to corner
    at, y, parts = 0, start, []
    while at < 240:
        s = solve_ivp(slope, (at, at + 12), [y], rtol=1e-10, atol=1e-10, dense_output=True)
        parts.append(s.sol)
        at, y = at + 12, s.y[0][-1]
    return lambda h: float(parts[min(int(h // 12), 19)](h)[0])

runs, rows = {}, {}
for line in sys.stdin:
    word = line.split()
    if word[2] == "step":
        rows.setdefault((word[1], word[3]), []).append((float(word[5]), float(word[6])))
    else:
        runs[word[1]] = [float(x) for x in word[2:]]
n = 0
for (run, step), got in rows.items():
    theirs, trap = solved(runs[run]), solved(runs[run], 1.217 / 0.5866)
    worst = max(abs(ours - theirs(h)) for h, ours in got)
    wrong = max(abs(ours - trap(h)) for h, ours in got)
    within = 0.02 if step == "1" else 5e-4
    n += 1
    good = worst <= within and wrong > 0.5 and len(got) == 39
    print("%s %d - run %s, step %s h: worst %.6f K of %d (with the trap %.2f K)" % ("ok" if good else "not ok", n, run, step, worst, len(got), wrong))
n += 1
print("%s %d - all runs were compared" % ("ok" if len(rows) == 12 else "not ok", n))
print("1..%d" % n)
'
