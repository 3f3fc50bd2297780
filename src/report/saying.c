/* saying.c - numbers, money, dates and facts as a brewer would say them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/saying.h"

#include <assert.h>
#include <math.h>
#include <ctype.h>
#include <string.h>

#include <afterboil/when.h>
#include "base/units.h"

static const double powers[] = { 1, 10, 100, 1000, 10000 };

/* By hand, because printf writes a decimal comma where the locale says so, and -0.00 where the number
 * rounds to nothing. */
const char *say_fixed(struct page *p, double x, int digits)
{
	if (!isfinite(x) || fabs(x) > 1e12)
		return x > 0 ? "no limit" : "unknown";
	double scaled = floor(fabs(x) * powers[digits] + 0.5), whole = floor(scaled / powers[digits]);
	assert(digits >= 0 && (size_t)digits < sizeof powers / sizeof *powers);
	const char *sign = x < 0 && scaled > 0 ? "-" : "";
	if (digits == 0)
		return page_text(p, "%s%lld", sign, (long long)whole);
	return page_text(
	    p, "%s%lld.%0*lld", sign, (long long)whole, digits, (long long)(scaled - whole * powers[digits]));
}

/* Without the zeros that say_fixed keeps: for figures alone in a sentence, where no column has to line
 * up. */
const char *say_short(struct page *p, double x, int digits)
{
	assert(digits >= 0 && (size_t)digits < sizeof powers / sizeof *powers);
	char buf[32];
	if (!isfinite(x))
		return x > 0 ? "no limit" : "unknown";
	double rounded = floor(fabs(x) * powers[digits] + 0.5) / powers[digits];
	return page_text(p, "%s", ab_num_text(x < 0 && rounded > 0 ? -rounded : rounded, buf, sizeof buf));
}

/* Never "100 %" and, for what is merely rare, never "0 %": neither is known of beer. */
const char *say_percent(struct page *p, double share)
{
	if (isnan(share))
		return "unknown";
	if (share < 0.005)
		return share > 0 ? "under 1 %" : "0 %";
	return floor(100 * share + 0.5) >= 100 ? "over 99 %" : page_text(p,
	    "%d %%", (int)floor(100 * share + 0.5));
}

/* A sign stands before the number, a code of letters after it; round sums lose their cents. */
const char *say_money(struct page *p, double amount)
{
	const char *sign = p->look->currency != NULL ? p->look->currency : "$";
	if (!isfinite(amount))
		return isnan(amount) ? "unknown" : "no limit";
	if (amount == 0)
		return "nothing";
	const char *number = say_fixed(p, fabs(amount), fabs(amount - floor(amount + 0.5)) < 0.005 ? 0 : 2),
		   *minus = amount < 0 ? "-" : "";
	bool after = strlen(sign) > 1 &&
	    ((sign[0] >= 'A' && sign[0] <= 'Z') || (sign[0] >= 'a' && sign[0] <= 'z'));
	return after ? page_text(p, "%s%s %s", minus, number, sign) : page_text(p,
	    "%s%s%s", minus, sign, number);
}

/* From two hours on in hours: "a quarter of 600 minutes" is no time anybody plans with. */
const char *say_minutes(struct page *p, double minutes)
{
	if (!isfinite(minutes))
		return isnan(minutes) ? "unknown" : "no limit";
	if (minutes == 0)
		return "no time";
	double m = fabs(minutes);
	const char *minus = minutes < 0 ? "-" : "";
	if (m < 120)
		return page_text(
		    p, "%s%s %s", minus, say_short(p, m, 0), m >= 0.5 && m < 1.5 ? "minute" : "minutes");
	return page_text(p, "%s%s hours", minus, say_short(p, m / 60, 1));
}

const char *say_years(struct page *p, double years)
{
	return fabs(years - 1) < 1e-9 ? "a year" : page_text(p, "%s years", say_short(p, years, 1));
}

/* By the calendar of when.h, not of the C library, which would ask for a time zone. */
const char *say_date(struct page *p, double s)
{
	int year, month, day;
	if (!isfinite(s))
		return "no date";
	ab_when_to_civil(s, &year, &month, &day);
	return page_text(p, "%04d-%02d-%02d", year, month, day);
}

const char *say_count(struct page *p, size_t n, const char *one, const char *many)
{
	return page_text(p, "%zu %s", n, n == 1 ? one : many);
}

/* ---- facts ---- */

/* Units of facts as a brewer reads them, metric and US: shown = value * factor + offset. Factors: NIST SP 811
 * (2008), appendix B. */
struct shown { const char *unit, *metric, *us; double factor, us_factor, us_offset; int digits; };
static const struct shown units[] = {
	{ "C", "C", "F", 1, 1.8, 32, 1 },
	{ "K", "K", "F degrees", 1, 1.8, 0, 1 },
	{ "L", "L", "gal", 1, 1 / AB_GALLON_L, 0, 2 },
	{ "mm", "mm", "in", 1, 1 / 25.4, 0, 2 },
	{ "kPa", "bar", "psi", 0.01, 1 / 6.894757, 0, 2 },
	{ "g/L", "g/L", "oz/gal", 1, AB_GALLON_L / AB_OUNCE_G, 0, 2 },
	{ "share", "%", "%", 100, 100, 0, 0 },
	{ "SG", "SG", "SG", 1, 1, 0, 4 },
	{ "count", "", "", 1, 1, 0, 0 },
	{ "points", "points", "points", 1, 1, 0, 1 },
};

/* A unit that is not in the table is shown as it is kept. */
static struct shown shown_as(const struct ab_fact_def *def)
{
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		if (strcmp(units[i].unit, def->unit) == 0)
			return units[i];
	return (struct shown){ def->unit, def->unit, def->unit, 1, 1, 0, 2 };
}

/* In the reader's units. */
static double shown_value(const struct page *p, struct shown s, double value)
{
	return p->look->us_units ? value * s.us_factor + s.us_offset : value * s.factor;
}

static double shown_spread(const struct page *p, struct shown s, double u)
{
	return u * (p->look->us_units ? s.us_factor : s.factor);
}

/* Two digits where a number is small, none where it is in the hundreds: nobody knows an hour to its
 * hundredth. And none finer than a tenth of its spread: 7.59 that may be 2 off is 7.6. */
static int shown_digits(const struct page *p, struct shown s, const struct ab_fact *fact)
{
	double x = fabs(shown_value(p, s, fact->value)), u = shown_spread(p, s, fact->u);
	if (s.digits != 2)
		return s.digits;
	return x >= 100 || u >= 10 ? 0 : x >= 10 || u >= 1 ? 1 : 2;
}

/* Flags and words have no unit, whatever the table says. */
const char *say_unit(const struct page *p, const struct ab_fact_def *def)
{
	struct shown s = shown_as(def);
	return def->kind != AB_FACT_NUMBER ? "" : p->look->us_units ? s.us : s.metric;
}

/* Gravities keep all four digits (1.0100): brewers read them by place. */
const char *say_value(struct page *p, const struct ab_fact_def *def, const struct ab_fact *fact)
{
	if (!AB_FACT_KNOWN(fact))
		return "unknown";
	if (def->kind == AB_FACT_FLAG)
		return fact->value > 0 ? "yes" : "no";
	if (def->kind == AB_FACT_WORD)
		return def->words[(int)fact->value];
	struct shown s = shown_as(def);
	double x = shown_value(p, s, fact->value);
	return s.digits == 4 ? say_fixed(p, x, 4) : say_short(p, x, shown_digits(p, s, fact));
}

double say_number(const struct page *p, const struct ab_fact_def *def, double value)
{
	return shown_value(p, shown_as(def), value);
}

/* A spread has no offset: 1 K is 1.8 F degrees, not 33.8. What rounds to 0 is not shown. */
const char *say_spread(struct page *p, const struct ab_fact_def *def, const struct ab_fact *fact)
{
	if (!AB_FACT_KNOWN(fact) || def->kind != AB_FACT_NUMBER || !(fact->u > 0))
		return "";
	struct shown s = shown_as(def);
	const char *text = say_short(p, shown_spread(p, s, fact->u), shown_digits(p, s, fact));
	return strcmp(text, "0") == 0 ? "" : page_text(p, "%s %s", p->look->unicode ? "\u00B1" : "+-", text);
}

const char *say_figure(struct page *p, const struct ab_fact_def *def, const struct ab_fact *fact)
{
	const char *unit = say_unit(p, def);
	return page_text(p, "%s: %s%s%s", def->title, say_value(p, def, fact), *unit != '\0' ? " " : "", unit);
}

const char *say_origin(enum ab_origin origin)
{
	static const char *const names[] = { "unknown", "measured", "derived", "usual", "assumed" };
	assert((size_t)origin < sizeof names / sizeof *names);
	return names[origin];
}

/* "a, b and c" without knowing the list beforehand. */
void say_next(struct page *p, enum tone tone, size_t i, size_t n, const char *text)
{
	if (i > 0)
		page_say(p, PLAIN, i + 1 == n ? " and " : ", ");
	page_say(p, tone, text);
}

/* ASCII only, which is what titles begin with; the locale is not ours to set. */
const char *say_capital(struct page *p, const char *word)
{
	/* "" is also what is left of a text when memory was short. */
	return word[0] == '\0' ? "" : page_text(p, "%c%s", toupper((unsigned char)word[0]), word + 1);
}

/* "DMS" and the like keep their capitals: a second capital or digit marks a name. */
const char *say_lower(struct page *p, const char *word)
{
	assert(word != NULL);
	bool name = isupper((unsigned char)word[0]) &&
	    (isupper((unsigned char)word[1]) || isdigit((unsigned char)word[1]));
	return name ? word : page_text(p, "%c%s", tolower((unsigned char)word[0]), word + 1);
}
