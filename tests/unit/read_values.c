/* read_values.c - what when.c, quantity.c and sensor.c read, for tests/handbook/values.t to compare with another
 * program
 *
 * Questions on standard input, one a line, tab between; answers one a line, "no" for what is refused:
 *   when TEXT          -> ABSOLUTE|RELATIVE DATE|MOMENT seconds, and the text written back
 *   day SECONDS        -> YYYY-MM-DD by ab_when_to_civil
 *   DIMENSION TEXT     -> value and resolution; DIMENSION as ab_dim_name says
 *   log FILE OFFSET    -> rows, counts, then each sample on its own line
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/quantity.h>
#include <afterboil/sensor.h>
#include <afterboil/when.h>

static void when(const char *text)
{
	struct ab_when w;
	char why[400], back[40];

	if (!ab_when_read(text, &w, why, sizeof why)) {
		puts("no");
		return;
	}
	printf("%s %s %.0f %s\n", w.relative ? "RELATIVE" : "ABSOLUTE", w.date_only ? "DATE" : "MOMENT", w.s,
	    ab_when_write(&w, back, sizeof back));
}

static void day(const char *seconds)
{
	int year, month, d;

	ab_when_to_civil(strtod(seconds, NULL), &year, &month, &d);
	printf("%04d-%02d-%02d\n", year, month, d);
}

static void quantity(const char *dim, const char *text)
{
	struct ab_quantity q;
	char why[400];
	int i = 0;

	while (i < AB_DIM_MAX_ && strcmp(ab_dim_name((enum ab_dim)i), dim) != 0)
		i++;
	if (i == AB_DIM_MAX_) {
		printf("no dimension %s\n", dim);
		return;
	}
	if (ab_quantity_read(text, (enum ab_dim)i, &q, why, sizeof why))
		printf("%.17g %.17g\n", q.value, q.resolution);
	else
		puts("no");
}

static void log_file(const char *path, const char *offset)
{
	static char text[1 << 20];
	struct ab_arena *arena = ab_arena_new();
	struct ab_sensor *s = NULL;
	struct ab_diag diag;
	FILE *in = fopen(path, "rb");
	size_t len = in == NULL ? 0 : fread(text, 1, sizeof text, in);

	if (in != NULL)
		fclose(in);
	ab_diag_init(&diag);
	if (ab_sensor_read(text, len, "log", strtod(offset, NULL), arena, &s, &diag) != AB_OK) {
		printf("no %s\n", diag.text);
	} else {
		printf("log %zu rows %zu samples %zu duplicates %zu disorder %zu dropped %zu gaps %.0f\n", s->rows,
		    s->n, s->duplicates, s->disorder, s->dropped, s->gaps, s->longest_gap_s);
		for (size_t i = 0; i < s->n; i++)
			printf("%.3f %.9f %.9f %.9f\n", s->samples[i].s, s->samples[i].wort_c, s->samples[i].room_c,
			    s->samples[i].gravity_sg);
	}
	ab_arena_free(arena);
}

int main(void)
{
	char line[400];

	while (fgets(line, sizeof line, stdin) != NULL) {
		line[strcspn(line, "\n")] = '\0';
		char *text = strchr(line, '\t');
		if (text == NULL)
			continue;
		*text++ = '\0';
		char *more = strcmp(line, "log") == 0 ? strchr(text, '\t') : NULL;
		if (more != NULL)
			*more++ = '\0';
		if (strcmp(line, "when") == 0)
			when(text);
		else if (strcmp(line, "day") == 0)
			day(text);
		else if (more != NULL)
			log_file(text, more);
		else
			quantity(line, text);
	}
	return 0;
}
