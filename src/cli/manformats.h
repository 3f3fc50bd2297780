/* manformats.h - a manual page of a file format: its prose, and the tables that its reader follows
 *
 * Elements, attributes, words, units and bounds come from the tables, so none can be missing or wrong; prose
 * and notes are data of one page each (manjournal.c, manrules.c).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_MANFORMATS_H
#define AB_CLI_MANFORMATS_H

#include "base/record.h"
#include "cli/cli.h"

/* What an attribute means where its name does not say it; small first, no full stop. element NULL: of any
 * element that has no note of its own. */
struct format_note { const char *element, *attribute, *says; };
/* A kind of document, the title of its section, and what is said before its elements. */
struct format_part { const struct ab_record_doc *doc; const char *title, *says; };
/* A file to show and what is typed to use it (lines; NULL: none), with a sentence before. */
struct format_example { const char *says, *file, *typed; };

/* What happened in plain words, the elements that say it (lines), and the fact that comes of it; says NULL and
 * written told: the beginning of a group. All NULL at the end. */
struct format_howto { const char *says, *written, *fact; };

enum { FORMAT_PARTS = 2, FORMAT_EXAMPLES = 2, FORMAT_MOST = 128 };

/* parts and examples end early with NULL in the first member of a row; notes with attribute == NULL. head: mdoc from
 * .Dd to the description; tail: mdoc from SEE ALSO to the end. */
struct format_page {
	const char *head, *tail;
	struct format_part parts[FORMAT_PARTS];
	struct format_example examples[FORMAT_EXAMPLES];
	const struct format_note *notes;
	const struct format_howto *howto;   /* NULL: none */
	const struct ab_by_hand *by_hand;   /* what people also say for words of the lists; NULL: nothing */
};

extern const struct format_howto format_howto[];
extern const struct format_page format_journal, format_rules;

/* The note of an attribute, or NULL. */
const char *format_note_of(const struct format_page *page, const char *element, const char *attribute);
/* Every element of the page that has attributes or holds others, each name once and after those that hold it;
 * returns how many. */
size_t format_elements(const struct format_page *page, const struct ab_elem_spec *out[FORMAT_MOST]);

#endif
