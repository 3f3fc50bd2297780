/* gate.c - the gate of a page: all text that reaches it, made safe and escaped, with its colour
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/layout.h"

#include <assert.h>
#include <ctype.h>

/* Meanings as the terminal and the browser show them; without colour the words alone must do. */
static const struct { const char *on, *name; } styles[TONES] = {
	[PLAIN] = { "", "" }, [LOUD] = { "\033[1m", "loud" }, [QUIET] = { "\033[2m", "quiet" },
	[GOOD] = { "\033[36m", "good" }, [BAD] = { "\033[35m", "bad" }, [CAREFUL] = { "\033[1;33m",
	    "careful" },
};

/* A journal's title may hold "<script>": nothing gets into HTML except through here. */
static void put_escaped(struct page *p, const char *text, size_t len)
{
	static const struct { char c; const char *name; } entities[] = {
		{ '&', "&amp;" }, { '<', "&lt;" }, { '>', "&gt;" }, { '"', "&quot;" }, { '\'', "&#39;" } };
	for (size_t i = 0; i < len; i++) {
		size_t e = 0;
		while (e < sizeof entities / sizeof *entities && entities[e].c != text[i])
			e++;
		if (e < sizeof entities / sizeof *entities)
			ab_str_add(&p->out, entities[e].name);
		else
			ab_str_addn(&p->out, text + i, 1);
	}
}

/* Bare text, as a title or an attribute wants it. */
void page_escaped(struct page *p, const char *text)
{
	struct ab_str safe;
	ab_str_init(&safe, 0);
	ab_str_add_safe(&safe, text, false);
	put_escaped(p, ab_str_text(&safe), safe.len);
	p->bad = p->bad || !ab_str_ok(&safe);
	ab_str_clear(&safe);
}

/* The bytes before the first date in text, len when there is none: "2031-03-07" with no letter or figure at
 * its sides. */
enum { DATE = 10 };
static size_t before_date(const char *text, size_t len)
{
	for (size_t i = 0; i + DATE <= len; i++) {
		size_t n = 0;
		while (n < DATE && (n == 4 || n == 7 ? text[i + n] == '-' : isdigit((unsigned char)text[i + n])))
			n++;
		if (n == DATE && (i == 0 || !isalnum((unsigned char)text[i - 1])) &&
		    (i + DATE == len || !isalnum((unsigned char)text[i + DATE])))
			return i;
	}
	return len;
}

/* A browser breaks lines at a hyphen; a date over two lines is misread. */
static void put_html(struct page *p, const char *text, size_t len)
{
	for (size_t n; (n = before_date(text, len)) < len; text += n + DATE, len -= n + DATE) {
		put_escaped(p, text, n);
		ab_str_add(&p->out, "<span class=\"d\">");
		put_escaped(p, text + n, DATE);
		ab_str_add(&p->out, "</span>");
	}
	put_escaped(p, text, len);
}

/* text has been made safe already (page_say, page_table) or is our own. Colour is closed after each
 * run, so a page cut off in the middle leaves no coloured terminal behind. */
void page_put(struct page *p, enum tone tone, const char *text, size_t len)
{
	assert((size_t)tone < TONES);
	bool colored = p->look->color && !p->html && tone != PLAIN && len > 0;
	bool marked = p->html && tone != PLAIN && len > 0;
	if (colored)
		ab_str_add(&p->out, styles[tone].on);
	if (marked)
		ab_str_addf(&p->out, "<span class=\"%s\">", styles[tone].name);
	if (p->html)
		put_html(p, text, len);
	else
		ab_str_addn(&p->out, text, len);
	if (colored)
		ab_str_add(&p->out, "\033[0m");
	if (marked)
		ab_str_add(&p->out, "</span>");
}

/* HTML would swallow the blanks; its indents are margins. */
void page_pad(struct page *p, int columns)
{
	while (!p->html && columns-- > 0)
		ab_str_add(&p->out, " ");
}
