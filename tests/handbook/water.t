#!/usr/bin/env bash
# water.t - the density of water and a hydrometer's correction against the international steam tables
#
# python3-iapws: IAPWS-95 (Wagner and Pruss 2002), liquid water at 1 atm, here 1 to 40 C; good to 0.001 kg/m3 there. The hydrometer is worked
# again from it by buoyancy with 25e-6/K of soda-lime glass. The points come from tests/unit/print_water.
# SPDX-License-Identifier: GPL-3.0-or-later
python=/usr/bin/python3
. "$top_srcdir/tests/need.sh"
$python -c 'import iapws' 2>/dev/null || missing python3-iapws

"${builddir:-.}/tests/unit/print_water" | $python -c '
import sys
from iapws import IAPWS95

def rho(t):
    return IAPWS95(T=t + 273.15, P=0.101325).rho

def theirs(kind, t):
    if kind == "rho":
        return rho(t)
    return 1.050 * rho(20) / rho(t) * (1 - 25e-6 * (t - 20))

tolerance = {"rho": 4e-3, "hydrometer": 5e-6}
count = {"rho": 0, "hydrometer": 0}
wrong = 0
n = 0
for line in sys.stdin:
    kind, x, ours = line.split()
    t, ours = float(x), float(ours)
    want = theirs(kind, t)
    n += 1
    count[kind] += 1
    good = abs(ours - want) <= tolerance[kind]
    # the polynomial of 1975 with two digits swapped, as many copies have it
    k = (999.83952 + 16.945176*t - 7.9870401e-3*t**2 - 46.170461e-6*t**3 + 105.56302e-9*t**4 - 280.54253e-12*t**5) / (1 + 16.897850e-3*t)
    wrong += kind == "rho" and abs(k - want) > tolerance["rho"]
    print("%s %d - %s at %s C: %.6f (theirs %.6f)" % ("ok" if good else "not ok", n, kind, x, ours, want))
n += 1
enough = count["rho"] == 40 and count["hydrometer"] == 40
print("%s %d - all points were compared" % ("ok" if enough else "not ok", n))
n += 1
print("%s %d - swapped digits would be noticed" % ("ok" if wrong >= 39 else "not ok", n))
print("1..%d" % n)
'
