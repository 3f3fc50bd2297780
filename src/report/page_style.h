/* page_style.h - how the report page looks, and the little that moves on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_PAGE_STYLE_H
#define AB_REPORT_PAGE_STYLE_H

/* For the head of the page, piece by piece, NULL-terminated: light, dark, print and phone. Nothing is fetched. */
extern const char *const page_style[];
/* For its foot. The page reads without it: it only wakes the slider. */
extern const char page_script[];

#endif
