/* sha256.h - a digest that names content
 *
 * SHA-256 (FIPS 180-4). For telling contents apart (rules, journals), not for secrets.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_SHA256_H
#define AB_BASE_SHA256_H

#include <stddef.h>
#include <nettle/sha2.h>

struct ab_sha256 { struct sha256_ctx state; };

/* init, then add as often as wanted (len may be 0), then hex once. Nothing can fail. */
void ab_sha256_init(struct ab_sha256 *s);
void ab_sha256_add(struct ab_sha256 *s, const void *data, size_t len);
/* 64 small hex digits and a NUL into hex. The sum is used up. */
void ab_sha256_hex(struct ab_sha256 *s, char hex[65]);

#endif
