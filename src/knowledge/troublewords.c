/* troublewords.c - what a word for a trouble is, where it stands in the wrong attribute
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/knowledge.h>

#include <stdio.h>

#include "base/str.h"

enum { NEAR = 4 };

static const char *const kinds[] = { [AB_TROUBLE_FAULT] = "fault", [AB_TROUBLE_CAUSE] = "cause", [AB_TROUBLE_CHORE] = "chore" };

/* The id of what the word is of that kind, or NULL; then near has what looks like it. */
static const char *id_of(const struct ab_knowledge *k, enum ab_trouble_kind kind, const char *word, const char *near[NEAR], size_t *n)
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

const char *ab_trouble_instead(const struct ab_knowledge *k, enum ab_trouble_kind kind, const char *word, char *buf, size_t size)
{
	static const enum ab_trouble_kind order[] = { AB_TROUBLE_CHORE, AB_TROUBLE_FAULT, AB_TROUBLE_CAUSE };
	const char *near[NEAR];
	size_t n, at = 0;
	const char *own = id_of(k, kind, word, near, &n);

	buf[0] = '\0';
	/* A cause by its title: advice wants the id. */
	if (own != NULL) {
		snprintf(buf, size, "write %s=\"%s\"", kinds[kind], own);
		return buf;
	}
	for (size_t i = 0; i < n && at < size; i++)
		at += (size_t)snprintf(buf + at, size - at, "%s\"%s\"", i == 0 ? "near it: " : ", ", near[i]);
	for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
		const char *id = order[i] == kind ? NULL : id_of(k, order[i], word, near, &n);
		if (id == NULL)
			continue;
		snprintf(buf, size, "it is a %s: write %s=\"%s\" in place of %s=", kinds[order[i]], kinds[order[i]],
		    order[i] == AB_TROUBLE_CAUSE ? id : word, kinds[kind]);
		break;
	}
	ab_text_scrub(buf);
	return buf;
}
