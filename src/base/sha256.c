/* sha256.c - a digest that names content
 *
 * Straight from FIPS 180-4, section 6.2; the constants are the first 32 bits of the fractional parts of the
 * cube roots of the first 64 primes (section 4.2.2) and of the square roots of the first 8 (section 5.3.3).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/sha256.h"

#include <string.h>

static const uint32_t cube[64] = {
	0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
	0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
	0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa,
	0x5cb0a9dc, 0x76f988da, 0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147,
	0x06ca6351, 0x14292967, 0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb,
	0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3,
	0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070, 0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5,
	0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208,
	0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2
};

void ab_sha256_init(struct ab_sha256 *s)
{
	static const uint32_t square[8] = { 0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f,
	    0x9b05688c, 0x1f83d9ab, 0x5be0cd19 };
	memset(s, 0, sizeof *s);
	memcpy(s->state, square, sizeof square);
}

/* by is 1 to 31 in all uses: a shift by 32 would be undefined. */
static uint32_t turn(uint32_t x, int by)
{
	return x >> by | x << (32 - by);
}

/* Big-endian by shifts, not by a cast: the same on every machine, and no alignment is needed. */
static void fill_schedule(const unsigned char *block, uint32_t *w)
{
	for (int i = 0; i < 16; i++)
		w[i] = (uint32_t)block[4 * i] << 24 | (uint32_t)block[4 * i + 1] << 16 |
		    (uint32_t)block[4 * i + 2] << 8 | block[4 * i + 3];
	for (int i = 16; i < 64; i++) {
		uint32_t s0 = turn(w[i - 15], 7) ^ turn(w[i - 15], 18) ^ w[i - 15] >> 3;
		uint32_t s1 = turn(w[i - 2], 17) ^ turn(w[i - 2], 19) ^ w[i - 2] >> 10;
		w[i] = w[i - 16] + s0 + w[i - 7] + s1;
	}
}

/* Ch and Maj are written with one operation less than in the standard; the truth tables are equal. */
static void mix(struct ab_sha256 *s)
{
	uint32_t w[64], a = s->state[0], b = s->state[1], c = s->state[2], d = s->state[3], e = s->state[4],
	    f = s->state[5], g = s->state[6], h = s->state[7];
	fill_schedule(s->block, w);
	for (int i = 0; i < 64; i++) {
		uint32_t t1 = h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + (g ^ (e & (f ^ g))) +
		    cube[i] + w[i];
		uint32_t t2 = (turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) | (c & (a | b)));
		h = g, g = f, f = e, e = d + t1;
		d = c, c = b, b = a, a = t1 + t2;
	}
	const uint32_t v[8] = { a, b, c, d, e, f, g, h };
	for (int i = 0; i < 8; i++)
		s->state[i] += v[i];
}

/* The count of bytes tells how full the block is, so that no second counter can disagree with it. */
void ab_sha256_add(struct ab_sha256 *s, const void *data, size_t len)
{
	const unsigned char *from = data;
	while (len > 0) {
		size_t at = (size_t)(s->bytes % 64), n = 64 - at < len ? 64 - at : len;
		memcpy(s->block + at, from, n);
		s->bytes += n;
		from += n;
		len -= n;
		if (s->bytes % 64 == 0)
			mix(s);
	}
}

void ab_sha256_hex(struct ab_sha256 *s, char hex[65])
{
	static const char digits[] = "0123456789abcdef";
	static const unsigned char end[64] = { 0x80 };
	uint64_t bits = s->bytes * 8;
	unsigned char length[8];
	for (int i = 0; i < 8; i++)
		length[i] = (unsigned char)(bits >> (56 - 8 * i));
	/* The length goes into the last 8 bytes of a block (section 5.1.1); when the mark and the length no
	 * longer fit behind the data, a block of padding comes between. bits was taken before the padding
	 * is counted. */
	size_t at = (size_t)(s->bytes % 64);
	ab_sha256_add(s, end, at < 56 ? 56 - at : 120 - at);
	ab_sha256_add(s, length, sizeof length);
	for (int i = 0; i < 64; i++)
		hex[i] = digits[s->state[i / 8] >> (28 - 4 * (i % 8)) & 15];
	hex[64] = '\0';
}
