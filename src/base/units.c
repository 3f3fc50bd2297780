/* units.c - the units of each dimension: one table, a row a spelling
 *
 * kept = written * factor + offset. Only gravity is curved (gravity.c). Factors are exact by definition unless
 * marked (NIST SP 811:2008, appendix B.8), written as products of definitions where that is the definition.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/units.h"

/* US customary unless it says imperial: an imperial pint is a fifth larger, and guessing between them would
 * be worse than having no "pint" for imperial at all. */
static const struct unit volume_units[] = {
	{ "L", 1, 0, STRAIGHT },
	{ "mL", 0.001, 0, STRAIGHT },
	{ "hL", 100, 0, STRAIGHT },
	{ "gal", AB_GALLON_L, 0, STRAIGHT },
	{ "qt", AB_GALLON_L / 4, 0, STRAIGHT },
	{ "pt", AB_GALLON_L / 8, 0, STRAIGHT },
	{ "floz", AB_FLOZ_ML / 1000, 0, STRAIGHT },
	{ "impgal", 4.54609, 0, STRAIGHT },
	{ "cup", AB_GALLON_L / 16, 0, STRAIGHT },
	{ 0 }
};
static const struct unit mass_units[] = {
	{ "g", 1, 0, STRAIGHT },
	{ "kg", 1000, 0, STRAIGHT },
	{ "mg", 0.001, 0, STRAIGHT },
	{ "oz", AB_OUNCE_G, 0, STRAIGHT },
	{ "lb", AB_POUND_G, 0, STRAIGHT },
	{ 0 }
};
static const struct unit temp_units[] = {
	{ "C", 1, 0, STRAIGHT },
	{ "F", 5.0 / 9, -160.0 / 9, FAHRENHEIT },
	{ "K", 1, -273.15, STRAIGHT },
	{ 0 }
};
/* A difference has no offset: 2 F of spread are 1.1 K, whereas the temperature 2 F is -16.7 C. This is the
 * trap of mixing the two tables up, so they are dimensions of their own. */
static const struct unit temp_diff_units[] = {
	{ "K", 1, 0, STRAIGHT },
	{ "C", 1, 0, STRAIGHT },
	{ "F", 5.0 / 9, 0, STRAIGHT },
	{ 0 }
};
static const struct unit time_units[] = {
	{ "s", 1, 0, STRAIGHT },
	{ "min", 60, 0, STRAIGHT },
	{ "h", 3600, 0, STRAIGHT },
	{ "d", 86400, 0, STRAIGHT },
	{ "wk", 7 * 86400, 0, STRAIGHT },
	/* The mean month and year of the Julian calendar (365.25 days): "2 mo" of storage is not meant to
	 * the day. */
	{ "mo", 30.4375 * 86400, 0, STRAIGHT },
	{ "y", 365.25 * 86400, 0, STRAIGHT },
	{ 0 }
};
/* Gauge pressure, as every regulator shows it; "0 psi" is the open air. psi = pound-force on a square inch,
 * with standard gravity 9.80665 m/s2. */
static const struct unit pressure_units[] = {
	{ "kPa", 1, 0, STRAIGHT },
	{ "bar", 100, 0, STRAIGHT },
	{ "mbar", 0.1, 0, STRAIGHT },
	{ "psi", AB_POUND_G * 9.80665 / (25.4 * 25.4), 0, STRAIGHT },
	{ "atm", 101.325, 0, STRAIGHT },
	{ 0 }
};
/* Points are counted from water: 48 points are 1.048. Kept as SG at 20/20 C. */
static const struct unit gravity_units[] = {
	{ "SG", 1, 0, STRAIGHT },
	{ "P", 1, 0, PLATO },
	{ "points", 0.001, 1, STRAIGHT },
	{ 0 }
};
static const struct unit length_units[] = {
	{ "mm", 1, 0, STRAIGHT },
	{ "cm", 10, 0, STRAIGHT },
	{ "m", 1000, 0, STRAIGHT },
	{ "in", 25.4, 0, STRAIGHT },
	{ "ft", 304.8, 0, STRAIGHT },
	{ 0 }
};
static const struct unit share_units[] = {
	{ "%", 0.01, 0, STRAIGHT },
	{ 0 }
};
static const struct unit co2_units[] = {
	{ "vol", 1, 0, STRAIGHT },
	{ "g/L", 1 / 1.9768, 0, STRAIGHT },  /* density of the real gas at 0 C, 1 atm: 1.9768 g/L (from
	                                      * memory) */
	{ 0 }
};
static const struct unit conc_units[] = {
	{ "mg/L", 1, 0, STRAIGHT },
	{ "ppm", 1, 0, STRAIGHT },  /* of water and beer: 1 mg in about 1 kg, taken as 1 L */
	{ "g/L", 1000, 0, STRAIGHT },
	/* Small letters only: U+00B5 and U+03BC both look like the sign for micro, and a file typed on one
	 * machine would not match on another. */
	{ "ug/L", 0.001, 0, STRAIGHT },
	{ "ppb", 0.001, 0, STRAIGHT },
	{ 0 }
};
/* Sanitiser labels say "oz per gallon" and mean fluid ounces, so oz is a volume here and nowhere else. */
static const struct unit dose_units[] = {
	{ "mL/L", 1, 0, STRAIGHT },
	{ "mL/gal", 1 / AB_GALLON_L, 0, STRAIGHT },
	{ "floz/gal", AB_FLOZ_ML / AB_GALLON_L, 0, STRAIGHT },
	{ "oz/gal", AB_FLOZ_ML / AB_GALLON_L, 0, STRAIGHT },
	{ 0 }
};
/* In thousand millions: a pitch is hundreds of them, and no exponent has to be written. */
static const struct unit cells_units[] = {
	{ "Gcells", 1, 0, STRAIGHT },
	{ "Mcells", 0.001, 0, STRAIGHT },
	{ 0 }
};
static const struct unit bitterness_units[] = {
	{ "IBU", 1, 0, STRAIGHT },
	{ 0 }
};
static const struct unit ph_units[] = {
	{ "pH", 1, 0, STRAIGHT },
	{ 0 }
};
static const struct unit area_units[] = {
	{ "m2", 1, 0, STRAIGHT },
	{ "cm2", 1e-4, 0, STRAIGHT },
	{ "ft2", 0.3048 * 0.3048, 0, STRAIGHT },
	{ 0 }
};
static const struct unit packs_units[] = {
	{ "packs", 1, 0, STRAIGHT },
	{ "pack", 1, 0, STRAIGHT },
	{ "packet", 1, 0, STRAIGHT },
	{ "packets", 1, 0, STRAIGHT },
	{ 0 }
};

const struct dim ab_dims[] = {
	[AB_DIM_NONE] = { "a number", "none (a bare number)", "", "12", true, NULL },
	[AB_DIM_VOLUME] = { "a volume", "L, mL, hL, gal, qt, pt, floz, impgal, cup", "L",
	    "20 L", false, volume_units },
	[AB_DIM_MASS] = { "a mass", "g, kg, mg, oz, lb", "g", "11 g", false, mass_units },
	[AB_DIM_TEMP] = { "a temperature", "C, F, K", "C", "19.5 C", false, temp_units },
	[AB_DIM_TEMP_DIFF] = { "a temperature difference", "K, C, F", "K", "2 K", false, temp_diff_units },
	[AB_DIM_TIME] = { "a length of time", "s, min, h, d, wk, mo, y", "s", "3d 4h", false, time_units },
	[AB_DIM_PRESSURE] = { "a gauge pressure", "kPa, bar, mbar, psi, atm", "kPa",
	    "12 psi", false, pressure_units },
	[AB_DIM_GRAVITY] = { "a gravity", "SG, P, points", "SG", "1.048 SG", false, gravity_units },
	[AB_DIM_LENGTH] = { "a length", "mm, cm, m, in, ft", "mm", "30 cm", false, length_units },
	[AB_DIM_SHARE] = { "a share", "%", "", "75 %", false, share_units },
	[AB_DIM_CO2] = { "an amount of CO2", "vol, g/L", "vol", "2.4 vol", false, co2_units },
	[AB_DIM_CONC] = { "a concentration", "mg/L, ppm, g/L, ug/L, ppb", "mg/L",
	    "8 mg/L", false, conc_units },
	[AB_DIM_DOSE] = { "a dose", "mL/L, mL/gal, floz/gal, oz/gal", "mL/L", "1.6 mL/L", false, dose_units },
	[AB_DIM_CELLS] = { "a number of cells", "Gcells, Mcells", "Gcells", "200 Gcells", false,
	    cells_units },
	[AB_DIM_BITTERNESS] = { "a bitterness", "IBU", "IBU", "35 IBU", false, bitterness_units },
	[AB_DIM_PH] = { "a pH", "pH, or none", "pH", "4.4", true, ph_units },
	[AB_DIM_AREA] = { "an area", "m2, cm2, ft2", "m2", "0.5 m2", false, area_units },
	[AB_DIM_PACKS] = { "a number of yeast packs", "packs, pack, packet, packets", "packs",
	    "2 packs", false, packs_units },
	[AB_DIM_MONEY] = { "an amount of money", "a currency sign or 3-letter code, or none", "",
	    "12.50", true, NULL },
};
_Static_assert(sizeof ab_dims / sizeof *ab_dims == AB_DIM_MAX_, "every dimension needs its words");


const char *ab_dim_units(enum ab_dim dim)
{
	return ab_dims[dim].units;
}

const char *ab_dim_name(enum ab_dim dim)
{
	return ab_dims[dim].name;
}

const char *ab_dim_kept(enum ab_dim dim)
{
	return ab_dims[dim].kept;
}
