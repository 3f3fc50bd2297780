/* xmlin.h - XML from strangers, as events
 *
 * A thin, hardened shell around libxml2's SAX2 parser (the fastest of the ways measured). Refused with file
 * and line: a DOCTYPE of any kind (so no entities, no external files, no bombs), anything not well formed, an
 * encoding other than UTF-8/US-ASCII/UTF-16, and input beyond the limits. No network access, ever.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_XMLIN_H
#define AB_BASE_XMLIN_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/diag.h>

/* ns is NULL for an attribute without prefix; len is the length of value, which is NUL terminated too */
struct ab_xml_attr { const char *name, *ns, *value; size_t len; };

/* Where the bytes come from; exactly one of path, data, fd (>= 0) is used: data if not NULL, else path if not
 * NULL, else fd. */
struct ab_source {
	const char *name;   /* what messages call it */
	const char *path;
	const char *data; size_t len;
	int fd;
};

/* Each callback returns AB_OK to go on; any other status ends the reading and is returned by ab_xml_read. Names and
 * namespaces stand in the parser's dictionary: within one reading the same address is the same name. */
struct ab_xml_handler {
	enum ab_status (*start)(void *ctx, const char *ns, const char *name, const struct ab_xml_attr *attrs,
	    size_t n, long line, struct ab_diag *diag);
	enum ab_status (*text)(void *ctx, const char *text, size_t len, long line, struct ab_diag *diag);
	enum ab_status (*end)(void *ctx, const char *ns, const char *name, long line, struct ab_diag *diag);
};

enum {
	AB_XML_DEPTH = 24,             /* elements inside elements */
	AB_XML_ATTRS = 48,             /* attributes of one element */
	AB_XML_VALUE = 8 * 1024,       /* bytes of one attribute value */
	AB_XML_RUN = 4 * 1024 * 1024,  /* bytes of one document that is not a stream, and of one record in a
	                                * stream */
};

/* line is that of the first byte of a tag or text for start and text, of the last byte for end. A single tag,
 * comment or instruction longer than 256 KiB is AB_ELIMIT as well. The host program's libxml2 error handler
 * is set aside meanwhile.
 *
 * limit: bytes of input allowed, 0 = no bound (a stream; the record layer bounds each record).
 * AB_EINPUT, AB_ELIMIT, AB_ESYSTEM (cannot open or read), AB_ENOMEM, or what a callback returned. */
enum ab_status ab_xml_read(const struct ab_source *source, size_t limit, const struct ab_xml_handler *handler,
    void *ctx, struct ab_diag *diag);

#endif
