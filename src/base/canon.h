/* canon.h - the content of a record as a digest: layout, comments and the order of attributes do not matter
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_CANON_H
#define AB_BASE_CANON_H

#include "base/record.h"
#include "base/sha256.h"

/* Feeds every told value of the record, and of all records in it, to the digest, in the order of the tables:
 * what was not told is left out. Numbers go in with 12 digits in their kept unit, so "20 L" and "20000 mL"
 * are one content. Line numbers are no content; a guess is. */
void ab_record_canon(const struct ab_elem_spec *spec, const void *record, struct ab_sha256 *digest);

#endif
