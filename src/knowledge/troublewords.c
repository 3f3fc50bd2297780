/* troublewords.c - what a word for a trouble is, where it stands in the wrong attribute
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/knowledge.h>

#include <stdio.h>

#include "base/str.h"

enum { NEAR = 4 };

static const char *const kinds[] = {
	[AB_TROUBLE_FAULT] = "fault", [AB_TROUBLE_CAUSE] = "cause", [AB_TROUBLE_CHORE] = "chore"
};

/* The id of what the word is of that kind, or NULL; then near has what looks like it. */
static const char *id_of(
    const struct ab_knowledge *k, enum ab_trouble_kind kind, const char *word, const char *near[NEAR], size_t *n)
{
	int at;

	*n = 0;
	switch (kind) {
	case AB_TROUBLE_FAULT:
		at = ab_fault_word(k, word, near, NEAR, n);
		return at >= 0 ? k->faults[at].id : NULL;
	case AB_TROUBLE_CAUSE:
		at = ab_cause_word(k, word, near, NEAR, n);
		return at >= 0 ? k->causes[at].id : NULL;
	case AB_TROUBLE_CHORE:
		at = ab_chore_word(k, word);
		return at >= 0 ? k->chores[at].id : NULL;
	}
	return NULL;
}

const char *ab_trouble_instead(
    const struct ab_knowledge *k, enum ab_trouble_kind kind, const char *word, char *buf, size_t size)
{
	static const enum ab_trouble_kind order[] = { AB_TROUBLE_CHORE, AB_TROUBLE_FAULT, AB_TROUBLE_CAUSE };
	const char *near[NEAR];
	size_t n, n_others, at = 0;
	const char *what = "near it: ";
	const char *own = id_of(k, kind, word, near, &n);

	buf[0] = '\0';
	/* A cause by its title: advice wants the id. */
	if (own != NULL) {
		snprintf(buf, size, "write %s=\"%s\"", kinds[kind], own);
		return buf;
	}
	/* Slow chilling is a chore and a cause. */
	for (size_t i = 0; i < sizeof order / sizeof *order && at < size; i++) {
		const char *others[NEAR], *id = order[i] == kind ? NULL : id_of(k, order[i], word, others, &n_others);
		if (id != NULL)
			at += (size_t)snprintf(buf + at, size - at, "%s a %s: write %s=\"%s\"",
			    at == 0 ? "it is" : ", and", kinds[order[i]], kinds[order[i]],
			    order[i] == AB_TROUBLE_CAUSE ? id : word);
	}
	if (at > 0 && at < size)
		snprintf(buf + at, size - at, " in place of %s=", kinds[kind]);
	if (at == 0 && n == 0 && kind != AB_TROUBLE_CAUSE) {
		(void)id_of(k, AB_TROUBLE_CAUSE, word, near, &n);
		what = "causes near it: ";
	}
	for (size_t i = 0; at < size && (at == 0 || i > 0) && i < n; i++)
		at += (size_t)snprintf(buf + at, size - at, "%s\"%s\"", i == 0 ? what : ", ", near[i]);
	ab_text_scrub(buf);
	return buf;
}
