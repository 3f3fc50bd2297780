/* record.h - XML elements into C structs, driven by tables
 *
 * The journal, the profile and the rules are all read by one engine. A table says, for each element, which
 * attributes it may carry, of what kind, where in the struct they go, and which elements it may hold. The
 * engine checks while it reads: an unknown element or attribute, a wrong unit, a word not in the list, a
 * missing required attribute, a second one of what may stand once. Every message has file and line, what was
 * found and what is allowed (and the nearest allowed name when the found one looks like a slip).
 *
 * Elements and attributes of a foreign, non-empty namespace are passed over with all they hold. Attributes of
 * our elements carry no namespace. Text between elements must be blank unless the table says the element
 * holds text.
 *
 * Every record struct starts with a struct ab_mark (its line is the first of the tag). All memory comes from
 * the arena. At most 64 attributes and 64 children in one table. An attribute of kind AB_ATTR_DATE takes no
 * time of day.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_RECORD_H
#define AB_BASE_RECORD_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/field.h>
#include "base/xmlin.h"

enum ab_attr_kind {
	AB_ATTR_TEXT,       /* const char *  ; any text, surrounding blanks cut */
	AB_ATTR_ID,         /* const char *  ; letters, digits, '.', '_', '-', at most 64 bytes, not empty */
	AB_ATTR_IDS,        /* struct ab_list of const char * : ids separated by blanks or commas */
	AB_ATTR_QUANTITY,   /* struct ab_num ; dim says which units */
	AB_ATTR_NUMBER,     /* struct ab_num ; a bare number */
	AB_ATTR_WORD,       /* int           ; index + 1 into words, 0 = not given; spaces, '_' and '-' equal,
	                     * case-blind */
	AB_ATTR_YESNO,      /* int           ; AB_NO, AB_YES, 0 = not given (AB_UNKNOWN) */
	AB_ATTR_WHEN,       /* struct ab_when */
	AB_ATTR_DATE,       /* struct ab_when ; only a date, never relative */
};

struct ab_attr_spec {
	const char *name;
	enum ab_attr_kind kind;
	size_t at;                   /* offsetof the field in the struct */
	int dim;                     /* enum ab_dim, for AB_ATTR_QUANTITY */
	const char *const *words;    /* NULL-terminated, for AB_ATTR_WORD */
	double lo, hi;               /* allowed range of a number in its kept unit; both 0 = no bound */
	bool required;
	unsigned short len;          /* of the name, with its NUL */
};

struct ab_elem_spec {
	const char *name;
	size_t size;                         /* sizeof its struct */
	size_t at;                           /* offsetof, in the parent's struct: a struct ab_list (many) or a
	                                      * pointer (one) */
	bool many, required;
	const struct ab_attr_spec *attrs;    /* ends with name == NULL; NULL = none (guess="yes|no" is allowed
	                                      * where may_guess) */
	const struct ab_elem_spec *children; /* ends with name == NULL; NULL = none */
	bool may_guess;                      /* the attribute guess="yes|no" is allowed and goes to the
	                                      * ab_mark */
	bool has_text;                       /* holds text, stored at text_at (const char *, blanks at both
	                                      * ends cut) */
	size_t text_at;
	const char *says;                    /* one line for the manual page */
};

/* Documents that people write by hand: words may be those they use (two tables, each ends with said == NULL), and
 * quantities as rough as they know them (rough.h). */
struct ab_by_hand { const struct ab_alias *aliases[2]; };

/* A kind of document. */
struct ab_record_doc {
	const char *ns;                      /* namespace every element of ours must be in */
	const struct ab_elem_spec *root;
	const char *wrapper;                 /* an element that may hold any number of roots, or NULL */
	size_t max_records;                  /* of one document, 0 = no bound */
	size_t max_elements;                 /* of one record (AB_ELIMIT beyond) */
	const struct ab_by_hand *by_hand;    /* NULL: words and quantities are those listed, exactly */
};

/* Called with each finished root record. The callback owns the arena's content from here: it may keep it or
 * reset the arena. */
typedef enum ab_status ab_record_done(void *ctx, void *record, struct ab_diag *diag);

/* Reads all records of source. Nothing half-read reaches done. limit as in ab_xml_read. */
enum ab_status ab_records_read(const struct ab_source *source, size_t limit, const struct ab_record_doc *doc,
    struct ab_arena *arena, ab_record_done *done, void *ctx, struct ab_diag *diag);

/* The name in the NULL-terminated list closest to found (edit distance at most 2 and below half its length),
 * or NULL. */
const char *ab_nearest(const char *found, const char *const *names);

#endif
