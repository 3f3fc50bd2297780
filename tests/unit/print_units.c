/* print_units.c - what quantity.c makes of each unit, for tests/handbook/units.t to compare with another program
 *
 * One line a unit and number: dimension, number, unit, kept value, kept unit; tabs between.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/quantity.h>

#include <stdio.h>
#include <string.h>

static const char *const numbers[] = { "0", "1", "12.5", "99" };

static int print(enum ab_dim dim, const char *number, const char *unit)
{
	struct ab_quantity q;
	char text[64], why[300];
	snprintf(text, sizeof text, "%s %s", number, unit);
	if (!ab_quantity_read(text, dim, &q, why, sizeof why)) {
		fprintf(stderr, "%s\n", why);
		return 1;
	}
	printf("%s\t%s\t%s\t%.17g\t%s\n", ab_dim_name(dim), number, unit, q.value, ab_dim_kept(dim));
	return 0;
}

int main(void)
{
	int bad = 0;
	for (int dim = 0; dim < AB_DIM_MAX_; dim++) {
		char list[120];
		if (dim == AB_DIM_NONE || dim == AB_DIM_MONEY || dim == AB_DIM_PH)
			continue;
		snprintf(list, sizeof list, "%s", ab_dim_units((enum ab_dim)dim));
		for (char *unit = strtok(list, ", "); unit != NULL; unit = strtok(NULL, ", "))
			for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
				if (strcmp(unit, "P") != 0)
					bad |= print((enum ab_dim)dim, numbers[i], unit);
	}
	/* gravity is curved: every whole degree the fit is valid for */
	for (int p = 0; p <= 28; p++) {
		char number[12];
		snprintf(number, sizeof number, "%d", p);
		bad |= print(AB_DIM_GRAVITY, number, "P");
	}
	return bad;
}
