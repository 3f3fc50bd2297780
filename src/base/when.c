/* when.c - dates and times as a brewer writes them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/when.h>

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/decimal.h"
#include "base/plain.h"
#include "base/str.h"

/* Seconds without leap seconds, as POSIX counts. Years outside the range are slips ("0231"). */
enum { DAY = 86400, HOUR = 3600, MINUTE = 60, FIRST_YEAR = 1900, LAST_YEAR = 2999, LONGEST = 64 };

/* Days from 1970-01-01, with years that start in March so that the leap day comes last. The 400-year cycle
 * has 146097 days; 719468 of them lie between 0000-03-01 and 1970-01-01 (Howard Hinnant,
 * "chrono-Compatible Low-Level Date Algorithms", days_from_civil and civil_from_days). */
static long days_from_civil(long y, long m, long d)
{
	y -= m <= 2;
	long era = (y >= 0 ? y : y - 399) / 400;
	long yoe = y - era * 400;
	long doy = (153 * (m + (m > 2 ? -3 : 9)) + 2) / 5 + d - 1;
	long doe = yoe * 365 + yoe / 4 - yoe / 100 + doy;
	return era * 146097 + doe - 719468;
}

double ab_when_from_civil(int year, int month, int day)
{
	return (double)days_from_civil(year, month, day) * DAY;
}

/* The whole days in s, rounded down also before 1970. */
static long whole_days(double s)
{
	long days = (long)(s / DAY);
	return (double)days * DAY > s ? days - 1 : days;
}

void ab_when_to_civil(double s, int *year, int *month, int *day)
{
	long z = whole_days(s) + 719468;
	long era = (z >= 0 ? z : z - 146096) / 146097;
	long doe = z - era * 146097;
	long yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
	long doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
	long mp = (5 * doy + 2) / 153;
	*day = (int)(doy - (153 * mp + 2) / 5 + 1);
	*month = (int)(mp < 10 ? mp + 3 : mp - 9);
	*year = (int)(yoe + era * 400 + (*month <= 2));
}

/* Gregorian throughout: nobody's journal reaches back before 1582. */
static int days_in(int year, int month)
{
	static const int days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
	bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
	assert(month >= 1 && month <= 12);
	return days[month - 1] + (month == 2 && leap);
}

/* One message for all slips, showing the three forms: which of them was meant is not to be known. */
static bool refuse(char *why, size_t size, const char *text, const char *trouble)
{
	snprintf(why, size, "\"%.*s%s\" %s; write a date such as \"2031-03-07\", a date and time such as "
	    "\"2031-03-07T15:30\", "
	    "the time since pitching such as \"+3d 4h\", or since packaging such as \"package+14d\"", LONGEST, text,
	    strlen(text) > LONGEST ? "..." : "", trouble);
	ab_text_scrub(why);
	return false;
}

/* Matches text against a picture in which 'n' is a digit and every other character itself; the digits of each
 * run of n become one number. 'T' stands for a 'T' or a space. */
static bool match(const char *text, const char *picture, int *numbers)
{
	bool inside = false;
	int at = -1;
	for (; *picture != '\0'; picture++, text++) {
		if (*picture != 'n') {
			if (*text != *picture && !(*picture == 'T' && *text == ' '))
				return false;
			inside = false;
			continue;
		}
		if (*text < '0' || *text > '9')
			return false;
		if (!inside)
			numbers[++at] = 0;
		inside = true;
		numbers[at] = numbers[at] * 10 + (*text - '0');
	}
	return *text == '\0';
}

static bool read_date(const char *text, struct ab_when *out, char *why, size_t size)
{
	/* Not sscanf: it would take "2031- 3-7" and signs, and numbers of any length. */
	int n[5] = { 0 };
	bool date_only = match(text, "nnnn-nn-nn", n);
	if (!date_only && !match(text, "nnnn-nn-nnTnn:nn", n))
		return refuse(why, size, text, "is no date and no time since pitching");
	if (n[0] < FIRST_YEAR || n[0] > LAST_YEAR)
		return refuse(why, size, text, "has a year outside 1900 to 2999");
	if (n[1] < 1 || n[1] > 12)
		return refuse(why, size, text, "has a month that is not 01 to 12");
	if (n[2] < 1 || n[2] > days_in(n[0], n[1]))
		return refuse(why, size, text, "has a day that its month does not have");
	if (n[3] > 23 || n[4] > 59)
		return refuse(why, size, text, "has a time of day that is not 00:00 to 23:59");
	double s = ab_when_from_civil(n[0], n[1], n[2]);
	/* A date alone stands for its noon: the mean error is then least, and a date never falls on the day
	 * before or after by a zone's difference of hours. */
	s += date_only ? DAY / 2 : n[3] * HOUR + n[4] * MINUTE;
	*out = (struct ab_when){ .known = true, .date_only = date_only, .s = s };
	return true;
}

/* The part after '+' is a length of time like any other; a second sign would only confuse. Negative times
 * would be before pitching, where a date is plainer. */
static bool read_relative(const char *text, struct ab_when *out, char *why, size_t size)
{
	struct ab_quantity q;
	char ignored[8];
	if (text[1] == '-' || text[1] == '+' || text[1] == ' ' || !ab_quantity_read(text + 1, AB_DIM_TIME, &q,
	    ignored, sizeof ignored))
		return refuse(why, size, text,
		    "starts like a time since pitching but is none (units: s, min, h, d, wk, mo, y)");
	*out = (struct ab_when){ .known = true, .relative = true, .s = q.value };
	return true;
}

/* Behind the word for packaging and up to the plus; NULL when text does not begin so. */
static const char *past_packaging(const char *text)
{
	static const char *const words[] = { "packaging", "packaged", "package", "bottling", "bottled", "kegging",
		"kegged" };
	char word[sizeof "packaging"] = "";
	size_t n = strcspn(text, " +");
	const char *plus = text + n + strspn(text + n, " ");
	if (n >= sizeof word || *plus != '+')
		return NULL;
	memcpy(word, text, n);
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (ab_word_cmp(word, words[i]) == 0)
			return plus;
	return NULL;
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* Most are hours after pitching, as a thermometer that notes them by itself writes them. */
bool ab_when_plain(const char *text, struct ab_when *out)
{
	enum { MOST_DIGITS = 6 };
	uint64_t n = 0;
	if (*text != '+')
		return false;
	const char *s = ab_decimal_digits(text + 1, &n);
	if (s == text + 1 || s > text + 1 + MOST_DIGITS || (*s != 'h' && *s != 'd') || s[1] != '\0')
		return false;
	*out = (struct ab_when){ .known = true, .relative = true, .s = (double)((long)n * (*s == 'h' ? HOUR : DAY)) };
	return true;
}

bool ab_when_read(const char *text, struct ab_when *out, char *why, size_t size)
{
	char copy[LONGEST + 1];
	if (ab_when_plain(text, out))
		return true;
	while (is_blank(*text))
		text++;
	size_t len = strlen(text);
	while (len > 0 && is_blank(text[len - 1]))
		len--;
	if (len > LONGEST)
		return refuse(why, size, text, "is too long");
	if (text[len] != '\0') {
		memcpy(copy, text, len);
		copy[len] = '\0';
		text = copy;
	}
	const char *plus = past_packaging(text);
	if (text[0] != '+' && plus == NULL)
		return read_date(text, out, why, size);
	if (!read_relative(plus != NULL ? plus : text, out, why, size))
		return false;
	out->packaged = plus != NULL;
	return true;
}

double ab_when_apart(const struct ab_when *from, const struct ab_when *to)
{
	bool days = from->known && to->known && from->relative == to->relative && from->packaged == to->packaged;
	return days || (from->packaged && to->packaged) ? to->s - from->s : (double)NAN;
}

/* To the minute, which is what is ever written; the parts that are 0 are left out, but never all. */
static char *write_relative(double s, char *buf, size_t size)
{
	long minutes = (long)(s / MINUTE + (s < 0 ? -0.5 : 0.5));
	const char *sign = minutes < 0 ? "-" : "+";
	minutes = minutes < 0 ? -minutes : minutes;
	long d = minutes / (DAY / MINUTE), h = minutes / 60 % 24, m = minutes % 60;
	int n = snprintf(buf, size, "%s", sign);
	if (d > 0)
		n += snprintf(buf + n, size - (size_t)n, "%ldd%s", d, h > 0 || m > 0 ? " " : "");
	if (h > 0 && n < (int)size)
		n += snprintf(buf + n, size - (size_t)n, "%ldh%s", h, m > 0 ? " " : "");
	if ((m > 0 || minutes == 0) && n < (int)size)
		snprintf(buf + n, size - (size_t)n, "%ldmin", m);
	return buf;
}

char *ab_when_write(const struct ab_when *when, char *buf, size_t size)
{
	int year, month, day;
	if (when->packaged)
		snprintf(buf, size, "package");
	if (when->relative) {
		write_relative(
		    when->s, buf + (when->packaged ? strlen(buf) : 0), size - (when->packaged ? strlen(buf) : 0));
		return buf;
	}
	ab_when_to_civil(when->s, &year, &month, &day);
	/* The rest is never negative, since whole_days rounds down. */
	long second = (long)(when->s - (double)whole_days(when->s) * DAY);
	if (when->date_only)
		snprintf(buf, size, "%04d-%02d-%02d", year, month, day);
	else
		snprintf(buf, size, "%04d-%02d-%02dT%02ld:%02ld", year, month, day, second / HOUR,
		    second % HOUR / MINUTE);
	return buf;
}
