/* entry_unlikely.c - doses and readings that are hardly so
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <string.h>

#include <afterboil/quantity.h>
#include "base/units.h"
#include "journal/moments.h"
#include "journal/odd.h"

/* Beer with yeast in it: below, it freezes before long; above, not even the hottest strains are held (working
 * estimates). */
#define COLDEST_C 0.0
#define HOTTEST_C 45.0
/* From here on the journal itself refuses it, and says why (check.c). */
#define IMPOSSIBLE_C 60.0
/* The driest beers end a little above (working estimate). */
#define LEAST_SG 0.990

static bool said(const struct ab_entry *e, const char *attr, enum ab_dim dim, double *v)
{
	struct ab_quantity q;
	char why[300];
	size_t len = strlen(attr);

	for (size_t i = 0; i < e->n_said; i++) {
		size_t n = strlen(e->said[i].target);
		bool is = n > len && strcmp(e->said[i].target + n - len, attr) == 0 &&
		    e->said[i].target[n - len - 1] == ' ';
		if (is && ab_quantity_read(e->said[i].value, dim, &q, why, sizeof why)) {
			*v = q.value;
			return true;
		}
	}
	return false;
}

/* In the brewer's units; the usual range is 4 to 8 g/L, common practice. */
static const char *odd_priming(const struct ab_entry_help *help, double g, double volume_l, struct ab_arena *arena)
{
	const char *what = g / volume_l > AB_ODD_PRIMING_MOST_G_L ? "bottles may burst" : "that hardly carbonates";
	double oz = g / AB_OUNCE_G, gal = volume_l / AB_GALLON_L;

	return help->units == 2
	    ? ab_arena_printf(arena,
		  "%.1f oz in %.1f gal are %.1f oz/gal of priming; %s (usual: 0.5 to 1.1 oz/gal, common "
		  "practice). Is that "
		  "the sugar of the whole beer?",
		  oz, gal, oz / gal, what)
	    : ab_arena_printf(arena,
		  "%.0f g in %.1f L are %.1f g/L of priming; %s (usual: 4 to 8 g/L, common practice). Is that "
		  "the sugar of the "
		  "whole beer?",
		  g, volume_l, g / volume_l, what);
}

const char *ab_entry_unlikely(const struct ab_entry *e, const struct ab_entry_help *help, struct ab_arena *arena,
    bool *grave, bool *nomem)
{
	bool package = strcmp(e->name, "package") == 0, reading = strcmp(e->name, "reading") == 0;
	double v, g, volume = help->volume_l;
	const char *why = NULL;

	*grave = true;
	*nomem = false;
	if (!package && !reading)
		return NULL;
	if (reading && help->pitched != NULL && help->pitched->known && !ab_when_before(&e->at, help->pitched) &&
	    said(e, "wort", AB_DIM_TEMP, &v) && (v < COLDEST_C || (v > HOTTEST_C && v <= IMPOSSIBLE_C)))
		why = ab_arena_printf(arena,
		    "%.0f C (%.0f F) is %s than beer with yeast in it gets; is the unit right?", v, v * 1.8 + 32,
		    v < COLDEST_C ? "colder" : "hotter");
	else if (said(e, "gravity", AB_DIM_GRAVITY, &g) && g < LEAST_SG)
		why = ab_arena_printf(arena, "a gravity of %.3f is lower than beer gets; is it a slip?", g);
	else if (said(e, "gravity", AB_DIM_GRAVITY, &g) && help->og_sg > 0 && help->pitched != NULL &&
	    help->pitched->known && g > help->og_sg + AB_ODD_GRAVITY_SG && ab_when_before(help->pitched, &e->at))
		why = ab_arena_printf(
		    arena, "a gravity of %.3f is above the original one of %.3f; is it a slip?", g, help->og_sg);
	else if (package && said(e, "priming", AB_DIM_MASS, &g) && g > 0 &&
	    (said(e, "volume", AB_DIM_VOLUME, &volume) || volume > 0) &&
	    (g / volume < AB_ODD_PRIMING_LEAST_G_L || g / volume > AB_ODD_PRIMING_MOST_G_L)) {
		*grave = false;
		why = odd_priming(help, g, volume, arena);
	} else
		return NULL;
	*nomem = why == NULL;
	return why;
}
