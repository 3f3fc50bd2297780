/* contraries.c - statements that cannot well be true together, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

/* Two conditions on one fact are a range and no contradiction. */
static bool is_of_two_facts(const struct ab_conds *conds)
{
	for (size_t i = 1; i < conds->n; i++)
		if (conds->items[i].slot != conds->items[0].slot)
			return true;
	return false;
}

void compile_contraries(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_CONTRARY].n;
	c->k->contraries = compile_room(c, n, sizeof *c->k->contraries);
	for (size_t i = 0; c->k->contraries != NULL && i < n; i++) {
		const struct raw_contrary *raw = RAW_AT(const struct raw_contrary, c->all, RAW_CONTRARY, i);
		struct ab_contrary *contrary = &c->k->contraries[c->k->n_contraries++];
		long line = raw->head.mark.line;
		size_t before = c->lint->errors;
		c->file = raw->head.file;
		*contrary = (struct ab_contrary){ .id = raw->head.id, .says = compile_text(raw->says),
			.when = compile_conds(c, &raw->whens), .source = compile_source(c, raw->head.source, line) };
		if (contrary->says == NULL)
			compile_wrong(c, line, "<says> of contrary \"%s\" is empty", contrary->id);
		/* Not when a fact's name was wrong: that was said. */
		if (c->lint->errors == before && !is_of_two_facts(&contrary->when))
			compile_wrong(c, line, "contrary \"%s\" needs a <when> for each of at least two facts: one "
			    "statement alone contradicts nothing", contrary->id);
	}
}
