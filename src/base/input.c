/* input.c - bytes from a file, a descriptor or memory, piece by piece and up to a limit
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/input.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "base/alloc.h"

/* libxml2 keeps what it was given twice over, and moves it: a small piece stays near. With 64 KiB filing a history
 * missed a cache of 512 KiB a twelfth more often (simulated). */
enum { CHUNK = 8 * 1024 };

/* O_NOCTTY: naming a terminal as a file must not make it ours. */
enum ab_status ab_input_open(struct ab_input *in, const struct ab_source *source, size_t limit,
    struct ab_diag *diag)
{
	*in = (struct ab_input){ .source = source, .fd = source->fd, .limit = limit };
	if (source->data != NULL)
		return AB_OK;
	if (source->path != NULL) {
		in->fd = open(source->path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
		if (in->fd < 0)
			return ab_fail(diag, AB_ESYSTEM, source->name, 0, "cannot open: %s", strerror(errno));
		in->opened = true;
	}
	in->buffer = ab_malloc(CHUNK);
	return in->buffer == NULL ? ab_fail(diag, AB_ENOMEM, source->name, 0, "out of memory") : AB_OK;
}

void ab_input_close(struct ab_input *in)
{
	if (in->opened)
		close(in->fd);
	ab_free(in->buffer);
}

/* Fills the buffer as far as it goes: a pipe gives little at a time, and libxml2 wants a few bytes to start
 * with. */
static enum ab_status fill(struct ab_input *in, size_t *len, struct ab_diag *diag)
{
	*len = 0;
	while (*len < AB_SNIFF) {
		ssize_t n = read(in->fd, in->buffer + *len, CHUNK - *len);
		if (n == 0)
			break;
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0)
			return ab_fail(diag, AB_ESYSTEM, in->source->name, 0, "cannot read: %s",
			    strerror(errno));
		*len += (size_t)n;
	}
	return AB_OK;
}

/* The next piece; *len is 0 at the end. From memory too only a chunk at a time, so that both ways take
 * the same path through the parser and a limit stops a large buffer as early as a large file. */
enum ab_status ab_input_next(struct ab_input *in, const char **piece, size_t *len, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;
	if (in->source->data != NULL) {
		size_t left = in->source->len - in->at;
		*len = left < CHUNK ? left : CHUNK;
		*piece = in->source->data + in->at;
		in->at += *len;
	} else {
		*piece = in->buffer;
		st = fill(in, len, diag);
	}
	in->total += *len;
	if (st == AB_OK && in->limit > 0 && in->total > in->limit)
		st = ab_fail(diag, AB_ELIMIT, in->source->name, 0,
		    "larger than %zu bytes, the most that is read of one file", in->limit);
	return st;
}
