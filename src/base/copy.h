/* copy.h - a few bytes copied without a call
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_COPY_H
#define AB_BASE_COPY_H

#include <string.h>

/* As memcpy, which it is for more than 16 bytes. Names and values have a dozen, which two moves that overlap copy
 * sooner than a call would. */
static inline void ab_copy_short(void *to, const void *from, size_t len)
{
	char *at = to;
	const char *of = from;
	if (len >= 8 && len <= 16) {
		memcpy(at, of, 8);
		memcpy(at + len - 8, of + len - 8, 8);
	} else if (len >= 4 && len < 8) {
		memcpy(at, of, 4);
		memcpy(at + len - 4, of + len - 4, 4);
	} else if (len >= 2 && len < 4) {
		memcpy(at, of, 2);
		memcpy(at + len - 2, of + len - 2, 2);
	} else {
		memcpy(at, of, len);
	}
}

#endif
