#!/usr/bin/env bash
# units.t - every unit of quantity.c against GNU units, and degrees Plato against NIST Circular 440 as GNU units carries it
#
# The list comes from tests/unit/print_units, which asks the program itself: a unit added there without a counterpart
# here is a failure, not a gap.
# SPDX-License-Identifier: GPL-3.0-or-later
. "$top_srcdir/tests/need.sh"
need units

work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
tab=$'\t'

# ours -> what GNU units calls it, by dimension and unit. "-": a name of the trade that GNU units does not have; its factor is
# checked by hand below. Temperatures are functions there.
cat > "$work/names" <<END
a volume|L|L|L
a volume|mL|mL|L
a volume|hL|hL|L
a volume|gal|usgallon|L
a volume|qt|usquart|L
a volume|pt|uspint|L
a volume|floz|usfluidounce|L
a volume|impgal|brgallon|L
a volume|cup|uscup|L
a mass|g|g|g
a mass|kg|kg|g
a mass|mg|mg|g
a mass|oz|oz|g
a mass|lb|lb|g
a temperature|C|tempC()|tempC
a temperature|F|tempF()|tempC
a temperature|K|K|tempC
a temperature difference|K|K|K
a temperature difference|C|degC|K
a temperature difference|F|degF|K
a length of time|s|s|s
a length of time|min|min|s
a length of time|h|hour|s
a length of time|d|day|s
a length of time|wk|week|s
a length of time|mo|julianyear/12|s
a length of time|y|julianyear|s
a gauge pressure|kPa|kPa|kPa
a gauge pressure|bar|bar|kPa
a gauge pressure|mbar|mbar|kPa
a gauge pressure|psi|psi|kPa
a gauge pressure|atm|atm|kPa
a gravity|SG|1|1
a gravity|points|-|-
a gravity|P|brix()|brix
a length|mm|mm|mm
a length|cm|cm|mm
a length|m|m|mm
a length|in|inch|mm
a length|ft|ft|mm
a share|%|%|1
an amount of CO2|vol|1|1
an amount of CO2|g/L|(1/1.9768)|1
a concentration|mg/L|mg/L|mg/L
a concentration|ppm|ppm kg/L|mg/L
a concentration|g/L|g/L|mg/L
a concentration|ug/L|ug/L|mg/L
a concentration|ppb|ppb kg/L|mg/L
a dose|mL/L|mL/L|mL/L
a dose|mL/gal|mL/usgallon|mL/L
a dose|floz/gal|usfluidounce/usgallon|mL/L
a dose|oz/gal|usfluidounce/usgallon|mL/L
a number of cells|Gcells|giga|giga
a number of cells|Mcells|mega|giga
a bitterness|IBU|1|1
an area|m2|m^2|m^2
an area|cm2|cm^2|m^2
an area|ft2|ft^2|m^2
a number of yeast packs|packs|1|1
a number of yeast packs|pack|1|1
a number of yeast packs|packet|1|1
a number of yeast packs|packets|1|1
END

if ! "${builddir:-.}/tests/unit/print_units" > "$work/ours"; then
	echo '1..1'
	echo 'not ok 1 - print_units failed'
	exit 0
fi

# One question to GNU units a row: "have" and "want" lines in one run; rows without counterpart ask for themselves.
awk -F"$tab" -v names="$work/names" -v rows="$work/rows" '
	BEGIN { while ((getline line < names) > 0) { split(line, n, "|"); have[n[1], n[2]] = n[3]; want[n[1], n[2]] = n[4] } }
	{
		h = have[$1, $3]; w = want[$1, $3]; kind = "plain"
		if (h == "") { kind = "unlisted"; ask = "1"; w = "1" }
		else if (h == "-") { kind = "points"; ask = "1"; w = "1" }
		else if (w == "brix") { kind = "brix"; ask = "brix(" $2 ")"; w = "brix(0)" }
		else if (h ~ /\(\)$/) { kind = "temp"; ask = substr(h, 1, length(h) - 1) $2 ")" }
		else ask = "(" $2 ") " h
		print ask; print w
		printf "%s\t%s\n", kind, $0 > rows
	}' "$work/ours" > "$work/questions"
units -1 -t -q -o '%.15g' < "$work/questions" > "$work/theirs"

paste "$work/rows" "$work/theirs" | awk -F"$tab" '
	function abs(x) { return x < 0 ? -x : x }
	{
		n++; ours = $5; theirs = $7; tol = 1e-12
		# Differences of Celsius lose digits to the 273.15 between them.
		if ($2 == "a temperature") tol = 1e-11
		if ($1 == "points") theirs = 1 + $3 / 1000
		# The ASBC fit follows the table (five decimals) to its rounding up to 20 P and strays above; 1e-4 is a
		# tenth of a hydrometer step, and what the handbook allows between table and fit.
		if ($1 == "brix") tol = $3 <= 20 ? 1e-5 : 1e-4
		good = $1 != "unlisted" && theirs ~ /^-?[0-9.]+(e[-+]?[0-9]+)?$/ && abs(ours - theirs) <= tol * (abs(theirs) > 1 ? abs(theirs) : 1)
		printf "%s %d - %s %s is %s %s (GNU units: %s%s)\n", good ? "ok" : "not ok", n, $3, $4, ours, $6, theirs,
		    $1 == "unlisted" ? ", but it is not listed in this test" : ""
	}
	END { enough = (n > 200); printf "%s %d - %d rows were compared\n", enough ? "ok" : "not ok", n + 1, n; print "1.." (n + 1) }'
