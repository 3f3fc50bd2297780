/* input.h - bytes from a file, a descriptor or memory, piece by piece and up to a limit
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_INPUT_H
#define AB_BASE_INPUT_H

#include "base/xmlin.h"

/* The first piece has so many bytes at least, unless there are fewer: what libxml2 wants to see to tell the
 * encoding. */
enum { AB_SNIFF = 4 };

struct ab_input {
	const struct ab_source *source;
	int fd;
	bool opened;
	char *buffer;
	size_t at, total, limit;    /* at: how much of source->data was given out */
};

/* AB_ESYSTEM when the file cannot be opened, AB_ENOMEM. To be closed whatever it returns. limit 0: none. */
enum ab_status ab_input_open(struct ab_input *in, const struct ab_source *source, size_t limit, struct ab_diag *diag);
/* Up to 8 KiB, lent until the next call; *len 0 at the end. AB_ESYSTEM, AB_ELIMIT. */
enum ab_status ab_input_next(struct ab_input *in, const char **piece, size_t *len, struct ab_diag *diag);
void ab_input_close(struct ab_input *in);

#endif
