/* entry_rows.c - all sentences, in the order in which they are tried and shown
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_rows.h"

const struct entry_row *entry_row(size_t i)
{
	static const struct entry_table *const tables[] = {
		&entry_rows_brewday, &entry_rows_ferment, &entry_rows_package,
		&entry_rows_mash, &entry_rows_recipe,
	};

	for (size_t t = 0; t < sizeof tables / sizeof *tables; i -= tables[t++]->n)
		if (i < tables[t]->n)
			return &tables[t]->rows[i];
	return NULL;
}
