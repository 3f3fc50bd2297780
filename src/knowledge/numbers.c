/* numbers.c - numbers of the trade that stand alone, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <afterboil/quantity.h>
#include "base/str.h"

const char *const ab_words_number[] = {
	[AB_NUM_STILL_D] = "gravity-still", [AB_NUM_SLOW_STILL_D] = "slow-yeast-still",
	[AB_NUM_HANGS_POINTS] = "hangs-over",
	[AB_NUM_HUNG_STILL_D] = "hung-still", [AB_NUM_FIRST_PACKAGED_D] = "first-packaged",
	[AB_NUM_TASTED_PACKAGED_D] = "tasted-packaged", [AB_NUM_MOVED_D] = "moved-to-stay",
	[AB_NUM_TOO_WARM_K] = "too-warm-over",
	[AB_NUM_YOUNG_D] = "young-waits", [AB_NUM_BOTTLES_D] = "bottles-about", [AB_NUM_TOGETHER_D] = "tasted-together",
	[AB_NUM_MISSED_JUDGED] = "missed-judged", [AB_NUM_MISSED_UNSAID] = "missed-unsaid",
	[AB_NUM_MISSED_PLAIN] = "missed-plain",
	[AB_NUM_PILSNER_SHARE] = "pilsner-share", [AB_NUM_PILSNER_SHARE_U] = "pilsner-share-u",
	[AB_NUM_ROASTED_SHARE] = "roasted-share", [AB_NUM_ROASTED_SHARE_U] = "roasted-share-u",
	[AB_NUM_SMOKED_SHARE] = "smoked-share", [AB_NUM_SMOKED_SHARE_U] = "smoked-share-u",
	[AB_NUM_SUGAR_SHARE] = "sugar-share", [AB_NUM_SUGAR_SHARE_U] = "sugar-share-u",
	[AB_NUM_EXTRACT_SHARE] = "extract-share", [AB_NUM_EXTRACT_SHARE_U] = "extract-share-u",
	[AB_NUM_BESIDE_SHARE] = "beside-steeped-share", [AB_NUM_BESIDE_SHARE_U] = "beside-steeped-share-u",
	[AB_NUM_KIT_G] = "kit-weight", [AB_NUM_KIT_G_U] = "kit-weight-u",
	[AB_NUM_GONE_ANYWAY] = "gone-anyway", [AB_NUM_DONE_RIGHT] = "done-right",
	[AB_NUMBERS] = NULL
};

/* Read in the dimension's own unit, kept and bounded in one of unit. The low ends of the first four let nobody call
 * a beer done that burst its bottles: two days catch a reading in the evening and one in the morning, a week is the
 * least that rousing takes. */
static const struct { enum ab_dim dim; double unit, lo, hi; const char *name; } kinds[AB_NUMBERS] = {
	[AB_NUM_STILL_D] = { AB_DIM_TIME, 86400, 2, 30, "d" }, [AB_NUM_SLOW_STILL_D] = { AB_DIM_TIME, 86400, 7,
	365, "d" },
	[AB_NUM_HANGS_POINTS] = { AB_DIM_NONE, 1, 1, 5, "points" }, [AB_NUM_HUNG_STILL_D] = { AB_DIM_TIME,
	86400, 7, 365, "d" },
	[AB_NUM_FIRST_PACKAGED_D] = { AB_DIM_TIME, 86400, 1, 60, "d" }, [AB_NUM_TASTED_PACKAGED_D] = {
	AB_DIM_TIME, 86400, 1, 365, "d" },
	[AB_NUM_MOVED_D] = { AB_DIM_TIME, 86400, 1, 60, "d" }, [AB_NUM_TOO_WARM_K] = { AB_DIM_TEMP_DIFF, 1,
	0.1, 5, "K" },
	[AB_NUM_YOUNG_D] = { AB_DIM_TIME, 86400, 1, 365, "d" }, [AB_NUM_BOTTLES_D] = { AB_DIM_TIME, 86400, 90,
	3660, "d" },
	[AB_NUM_TOGETHER_D] = { AB_DIM_TIME, 86400, 1, 90, "d" }, [AB_NUM_MISSED_JUDGED] = { AB_DIM_NONE, 1,
	0.01, 0.99, "" },
	[AB_NUM_MISSED_UNSAID] = { AB_DIM_NONE, 1, 0.01, 0.99, "" }, [AB_NUM_MISSED_PLAIN] = { AB_DIM_NONE, 1,
	0.01, 1, "" },
	[AB_NUM_PILSNER_SHARE] = { AB_DIM_NONE, 1, 0.01, 1, "" }, [AB_NUM_PILSNER_SHARE_U] = { AB_DIM_NONE, 1,
	0.001, 0.5, "" },
	[AB_NUM_ROASTED_SHARE] = { AB_DIM_NONE, 1, 0.01, 1, "" }, [AB_NUM_ROASTED_SHARE_U] = { AB_DIM_NONE, 1,
	0.001, 0.5, "" },
	[AB_NUM_SMOKED_SHARE] = { AB_DIM_NONE, 1, 0.01, 1, "" }, [AB_NUM_SMOKED_SHARE_U] = { AB_DIM_NONE, 1,
	0.001, 0.5, "" },
	[AB_NUM_SUGAR_SHARE] = { AB_DIM_NONE, 1, 0.01, 1, "" }, [AB_NUM_SUGAR_SHARE_U] = { AB_DIM_NONE, 1,
	0.001, 0.5, "" },
	[AB_NUM_EXTRACT_SHARE] = { AB_DIM_NONE, 1, 0.01, 1, "" }, [AB_NUM_EXTRACT_SHARE_U] = { AB_DIM_NONE, 1,
	0.001, 0.5, "" },
	[AB_NUM_BESIDE_SHARE] = { AB_DIM_NONE, 1, 0.01, 1, "" }, [AB_NUM_BESIDE_SHARE_U] = { AB_DIM_NONE, 1,
	0.001, 0.5, "" },
	[AB_NUM_KIT_G] = { AB_DIM_MASS, 1, 500, 5000, "g" }, [AB_NUM_KIT_G_U] = { AB_DIM_MASS, 1, 50, 2000, "g" },
	[AB_NUM_GONE_ANYWAY] = { AB_DIM_NONE, 1, 0.01, 0.99, "" }, [AB_NUM_DONE_RIGHT] = { AB_DIM_NONE, 1,
	0.01, 0.99, "" },
};

static void compile_number(struct compiler *c, const struct raw_number *raw)
{
	long line = raw->head.mark.line;
	struct ab_quantity q;
	char why[200], lo[32], hi[32];
	c->file = raw->head.file;
	compile_source(c, raw->head.source, line);
	int at = compile_word(c, "number", raw->head.id, ab_words_number, line) - 1;
	if (at < 0)
		return;
	if (!ab_quantity_read(raw->is, kinds[at].dim, &q, why, sizeof why)) {
		compile_wrong(c, line, "is of number \"%s\": %s", raw->head.id, why);
		return;
	}
	double v = q.value / kinds[at].unit;
	if (v < kinds[at].lo || v > kinds[at].hi)
		compile_wrong(c, line, "is=\"%.40s\" is out of range; number \"%s\" goes from %s to %s %s", raw->is,
		    raw->head.id, ab_num_text(kinds[at].lo, lo, sizeof lo),
		    ab_num_text(kinds[at].hi, hi, sizeof hi), kinds[at].name);
	c->k->norms.numbers[at] = v;
}

static bool is_told(const struct ab_list *list, const struct raw_all *all, const char *id)
{
	for (size_t i = 0; i < list->n; i++)
		if (ab_word_cmp(RAW_AT(const struct raw_number, all, RAW_NUMBER, i)->head.id, id) == 0)
			return true;
	return false;
}

/* A default in the program would be the trade's knowledge in a second place, so what is reckoned with must be told. */
void compile_numbers(struct compiler *c)
{
	const struct ab_list *list = &c->all->kinds[RAW_NUMBER];
	const char *const *must = c->vocabulary == NULL ? NULL : c->vocabulary->numbers;
	for (size_t i = 0; i < list->n; i++)
		compile_number(c, RAW_AT(const struct raw_number, c->all, RAW_NUMBER, i));
	for (; must != NULL && *must != NULL; must++)
		if (!is_told(list, c->all, *must))
			lint_say(c->lint, true, "rules", 0,
			    "there is no <number id=\"%s\">; numbers.xml of the program's own rules has it", *must);
}
