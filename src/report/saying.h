/* saying.h - numbers, money, dates and facts as a brewer would say them
 *
 * Texts live in the page. No locale: the point is a point.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_SAYING_H
#define AB_REPORT_SAYING_H

#include <afterboil/fact.h>
#include "report/layout.h"

/* x with exactly so many digits after the point (0..4). "unknown" when not finite. */
const char *say_fixed(struct page *p, double x, int digits);
/* x with at most so many digits, none needless. */
const char *say_short(struct page *p, double x, int digits);
/* "62 %"; below half a percent "under 1 %", above 99.5 "over 99 %". */
const char *say_percent(struct page *p, double share);
/* "$35", "$4.50", "35 EUR", "nothing" for 0, "no limit". */
const char *say_money(struct page *p, double amount);
/* "25 minutes", "2 hours", "nothing". */
const char *say_minutes(struct page *p, double minutes);
/* "a year", "2.5 years". */
const char *say_years(struct page *p, double years);
/* "2031-03-07"; "no date". */
const char *say_date(struct page *p, double s);
const char *say_count(struct page *p, size_t n, const char *one, const char *many);

/* The value of a fact in the brewer's units: "3.1 K", "22.0 C", "yes", "fridge"; the unit and u apart. */
const char *say_value(struct page *p, const struct ab_fact_def *def, const struct ab_fact *fact);
const char *say_spread(struct page *p, const struct ab_fact_def *def, const struct ab_fact *fact);
const char *say_unit(const struct page *p, const struct ab_fact_def *def);
/* The number alone as say_value shows it, for a place on a figure. */
double say_number(const struct page *p, const struct ab_fact_def *def, double value);
/* "mash temperature: 71 C"; in US units where the page asks. */
const char *say_figure(struct page *p, const struct ab_fact_def *def, const struct ab_fact *fact);
/* Words of the rules, with temperatures, pressures and lengths in them put into US units where the page
 * asks: "at 64 to 67 C" as "at 147 to 153 F". */
const char *say_words(struct page *p, const char *words);
/* A working in the brewer's units: "24.1 C" becomes "75.4 F". */
const char *say_working(struct page *p, const char *text);
const char *say_origin(enum ab_origin origin);

/* A title at the beginning and in the middle of a sentence. */
const char *say_capital(struct page *p, const char *word);
const char *say_lower(struct page *p, const char *word);

/* "a, b and c" of titles, built step by step: n so far of all. */
void say_next(struct page *p, enum tone tone, size_t i, size_t n, const char *text);

#endif
