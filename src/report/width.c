/* width.c - how many columns a text takes on a terminal
 *
 * The locale's own wcwidth is out of reach (the library reads no locale), so here is a short table: combining
 * marks take none, East Asian wide signs and pictures two. Source: Unicode Standard Annex 11 (East Asian
 * Width), blocks rounded to whole ranges.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/layout.h"

#include <assert.h>

/* In order, but searched straight: thirty comparisons a sign are nothing beside writing it. What is in
 * no range takes one column. */
static const struct { unsigned long first, last; int width; } ranges[] = {
	{ 0x0300, 0x036F, 0 }, { 0x0483, 0x0489, 0 }, { 0x0591, 0x05BD, 0 }, { 0x0610, 0x061A, 0 },
	{ 0x064B, 0x065F, 0 },
	{ 0x1100, 0x115F, 2 }, { 0x1AB0, 0x1AFF, 0 }, { 0x1DC0, 0x1DFF, 0 }, { 0x200B, 0x200F, 0 },
	{ 0x202A, 0x202E, 0 },
	{ 0x2060, 0x2064, 0 }, { 0x20D0, 0x20FF, 0 }, { 0x2E80, 0x303E, 2 }, { 0x3041, 0x33FF, 2 },
	{ 0x3400, 0x4DBF, 2 },
	{ 0x4E00, 0x9FFF, 2 }, { 0xA000, 0xA4CF, 2 }, { 0xAC00, 0xD7A3, 2 }, { 0xF900, 0xFAFF, 2 },
	{ 0xFE00, 0xFE0F, 0 },
	{ 0xFE20, 0xFE2F, 0 }, { 0xFE30, 0xFE6F, 2 }, { 0xFEFF, 0xFEFF, 0 }, { 0xFF00, 0xFF60, 2 },
	{ 0xFFE0, 0xFFE6, 2 },
	{ 0x1F300, 0x1F64F, 2 }, { 0x1F680, 0x1F6FF, 2 }, { 0x1F900, 0x1F9FF, 2 }, { 0x20000, 0x3FFFD, 2 },
	{ 0xE0100, 0xE01EF, 0 },
};

static int sign_width(unsigned long c)
{
	for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
		if (c >= ranges[i].first && c <= ranges[i].last)
			return ranges[i].width;
	return 1;
}

/* The sign at text, and how many bytes it has; text is valid UTF-8 (it went through ab_str_add_safe). A
 * sign cut off by len counts as far as it goes; it never reads beyond. */
static unsigned long sign_at(const char *text, size_t len, size_t *bytes)
{
	assert(len > 0);
	unsigned char lead = (unsigned char)text[0];
	size_t n = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
	unsigned long c = n == 1 ? lead : lead & (0x7FU >> n);
	if (n > len)
		n = len;
	for (size_t i = 1; i < n; i++)
		c = c << 6 | ((unsigned char)text[i] & 0x3FU);
	*bytes = n;
	return c;
}

int text_width(const char *text, size_t len)
{
	int width = 0;
	size_t bytes;
	for (size_t at = 0; at < len && text[at] != '\0'; at += bytes)
		width += sign_width(sign_at(text + at, len - at, &bytes));
	return width;
}

/* How many bytes of text fit into room columns; at least one sign. */
size_t page_fit(const char *text, size_t len, int room)
{
	size_t at = 0, bytes;
	int width = 0;
	while (at < len) {
		width += sign_width(sign_at(text + at, len - at, &bytes));
		if (width > room && at > 0)
			break;
		at += bytes;
	}
	return at;
}
