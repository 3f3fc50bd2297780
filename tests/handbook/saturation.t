#!/usr/bin/env bash
# saturation.t - oxygen in water and pressure at altitude against programs of oceanographers and engineers
#
# python3-gsw (TEOS-10 toolbox): O2sol_SP_pt, Garcia and Gordon 1992 on the data of Benson and Krause 1984, at salinity 0, in umol/kg.
# python3-fluids: the US Standard Atmosphere 1976. The points come from tests/unit/print_oxygen.
# SPDX-License-Identifier: GPL-3.0-or-later
python=/usr/bin/python3
. "$top_srcdir/tests/need.sh"
$python -c 'import gsw, fluids' 2>/dev/null || missing 'python3-gsw or python3-fluids'

"${builddir:-.}/tests/unit/print_oxygen" | $python -c '
import sys
import gsw
from fluids.atmosphere import ATMOSPHERE_1976

# umol/kg to mg/L: the molar mass of oxygen, and the density of fresh water at that temperature
def theirs(kind, x):
    if kind == "atm":
        return ATMOSPHERE_1976(x).P / 101325
    return float(gsw.O2sol_SP_pt(0, x)) * 31.9988e-3 * float(gsw.rho(0, gsw.CT_from_pt(0, x), 0)) / 1000

# Two fits to one set of measurements agree to 0.1 %, theirs is stated for 0 to 40 C; the atmosphere is one formula, geometric
# height here, geopotential there: 6e-4 at 4 km.
tolerance = {"o2": 1.5e-3, "atm": 1e-3}
count = {"o2": 0, "atm": 0}
n = 0
for line in sys.stdin:
    kind, x, ours = line.split()
    want = theirs(kind, float(x))
    n += 1
    count[kind] += 1
    good = abs(float(ours) / want - 1) <= tolerance[kind]
    print("%s %d - %s %s: %s (theirs %.6f)" % ("ok" if good else "not ok", n, kind, x, ours, want))
n += 1
enough = count["o2"] == 41 and count["atm"] == 17
print("%s %d - all points were compared" % ("ok" if enough else "not ok", n))
print("1..%d" % n)
'
