/* norms.c - families, yeasts, sanitisers and bottles of the rules, compiled
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include "base/str.h"

enum { DAY = 86400, HOUR = 3600 };

/* ---- families ---- */

static void say_again(struct compiler *c, const struct raw_family *raw, const char *fault, long line)
{
	compile_wrong(c, line, "fault \"%s\" stands a second time in family \"%s\"", fault, raw->head.id);
}

/* The grade is 1 + its place in the list of words, as grades are counted everywhere: slight is 1. */
static void add_expects(struct compiler *c, const struct raw_family *raw, struct ab_family *family)
{
	const struct raw_expects *items = raw->expects.items;
	family->expects = compile_room(c, raw->expects.n, sizeof *family->expects);
	for (size_t i = 0; family->expects != NULL && i < raw->expects.n; i++) {
		int fault = compile_ref(c, RAW_FAULT, items[i].fault, items[i].mark.line);
		/* With a condition it is an exception to what stands before it: the last that holds is
		 * used. */
		for (size_t j = 0; j < family->n_expects; j++)
			if (family->expects[j].fault == fault && items[i].whens.n == 0)
				say_again(c, raw, items[i].fault, items[i].mark.line);
		if (fault >= 0)
			family->expects[family->n_expects++] = (struct ab_expects){ fault, items[i].up_to,
				compile_conds(c, &items[i].whens),
				compile_source(c, items[i].source, items[i].mark.line) };
	}
}

/* A factor is no evidence, only a weight of the load; its source is asked for all the same. */
static void add_hurts(struct compiler *c, const struct raw_family *raw, struct ab_family *family)
{
	const struct raw_hurts *items = raw->hurts.items;
	family->hurts = compile_room(c, raw->hurts.n, sizeof *family->hurts);
	for (size_t i = 0; family->hurts != NULL && i < raw->hurts.n; i++) {
		int fault = compile_ref(c, RAW_FAULT, items[i].fault, items[i].mark.line);
		compile_source(c, items[i].source, items[i].mark.line);
		for (size_t j = 0; j < family->n_hurts; j++)
			if (family->hurts[j].fault == fault)
				say_again(c, raw, items[i].fault, items[i].mark.line);
		if (fault >= 0)
			family->hurts[family->n_hurts++] = (struct ab_hurts){ fault, items[i].factor.v };
	}
}

/* A family without it gives no outlook; the lint says so. */
static void add_freshness(struct compiler *c, const struct raw_family *raw, struct ab_freshness_norm *out)
{
	const struct raw_freshness *f = raw->freshness;

	if (f == NULL) {
		compile_advise(c, raw->head.mark.line,
		    "family \"%s\" has no <freshness>: nothing will be said of how stale its beers are",
		    raw->head.id);
		return;
	}
	*out = (struct ab_freshness_norm){ f->fading.v, f->stale.v, f->long_stale.v,
	    compile_source(c, f->source, f->mark.line).text };
	if (!(out->fading < out->stale && out->stale < out->long_stale))
		compile_wrong(c, f->mark.line,
		    "freshness of family \"%s\" must rise: fading, stale, long-stale", raw->head.id);
}

static void compile_family(struct compiler *c, const struct raw_family *raw, struct ab_family *family)
{
	family->id = raw->head.id;
	family->title = compile_text(raw->title);
	family->co2_low = raw->carbonation->low.v;
	family->co2_high = raw->carbonation->high.v;
	family->line = raw->head.mark.line;
	family->file = raw->head.file;
	compile_source(c, raw->carbonation->source, raw->carbonation->mark.line);
	if (!(family->co2_low < family->co2_high))
		compile_wrong(c, raw->carbonation->mark.line,
		    "carbonation of family \"%s\": low must be below high", family->id);
	add_expects(c, raw, family);
	add_hurts(c, raw, family);
}

/* The families stand in the order of the journal's words; each must be there. */
void compile_families(struct compiler *c)
{
	const struct ab_list *list = &c->all->kinds[RAW_FAMILY];
	const char *const *words = c->vocabulary == NULL ? NULL : c->vocabulary->families;
	size_t n = list->n;
	/* The journal's list decides how many there are: a family of the rules without a word could never
	 * be named, and a word without a family would leave a batch without one. */
	for (n = words == NULL ? list->n : 0; words != NULL && words[n] != NULL; n++)
		;
	c->k->families = compile_room(c, n, sizeof *c->k->families);
	struct ab_freshness_norm *freshness = compile_room(c, n, sizeof *freshness);
	struct ab_co2_norm *carbonation = compile_room(c, n, sizeof *carbonation);
	if (c->k->families == NULL || freshness == NULL || carbonation == NULL)
		return;
	c->k->n_families = n;
	c->k->norms.freshness = freshness;
	c->k->norms.n_freshness = n;
	c->k->norms.carbonation = carbonation;
	c->k->norms.n_carbonation = n;
	for (size_t i = 0; i < list->n; i++) {
		const struct raw_family *raw = RAW_AT(const struct raw_family, c->all, RAW_FAMILY, i);
		c->file = raw->head.file;
		int word = words == NULL ? (int)i + 1 : compile_word(c, "family", raw->head.id, words,
		    raw->head.mark.line);
		if (word > 0) {
			compile_family(c, raw, &c->k->families[word - 1]);
			add_freshness(c, raw, &freshness[word - 1]);
			carbonation[word - 1] =
			    (struct ab_co2_norm){ raw->carbonation->low.v, raw->carbonation->high.v };
		}
	}
	for (size_t i = 0; i < n; i++)
		if (c->k->families[i].id == NULL)
			lint_say(c->lint, true, "rules", 0,
			    "there is no <family id=\"%s\">; each family that a journal may name needs one",
			    words[i]);
}

/* ---- yeasts ---- */

/* The temperature facts measure how far outside low and high a batch was; a crossed range would make every
 * batch too warm and too cold at once. */
static void check_order(struct compiler *c, const struct raw_yeast *raw, const struct ab_yeast_norm *y)
{
	if (!(y->tolerated_low_c <= y->low_c && y->low_c < y->high_c && y->high_c <= y->tolerated_high_c))
		compile_wrong(c, raw->head.mark.line,
		    "temperatures of yeast \"%s\" must rise: tolerated-low, low, high, tolerated-high",
		    y->id);
	if (!(y->att_low < y->att_high))
		compile_wrong(c, raw->head.mark.line,
		    "attenuation-low of yeast \"%s\" must be below attenuation-high", y->id);
}

/* Journals and rules write lengths of time alike and keep seconds; norms are read by formulas in days and
 * hours. */
static void compile_yeast(struct compiler *c, const struct raw_yeast *raw, struct ab_yeast_norm *y)
{
	c->file = raw->head.file;
	*y = (struct ab_yeast_norm){
		.id = raw->head.id, .title = raw->title, .source = compile_source(c, raw->head.source,
		    raw->head.mark.line).text,
		.low_c = raw->low.v, .high_c = raw->high.v,
		.tolerated_low_c = raw->tolerated_low.v, .tolerated_high_c = raw->tolerated_high.v,
		.att_low = raw->att_low.v, .att_high = raw->att_high.v, .pitch_rate = raw->pitch_rate.v,
		.rest_c = raw->rest.v,
		.primary_days = raw->primary_s.v / DAY, .clean_days = raw->clean_s.v / DAY,
		.lag_h = raw->lag_s.v / HOUR,
		.phenolic = raw->phenolic == AB_YES, .diastatic = raw->diastatic == AB_YES,
		.lager = raw->lager == AB_YES,
		.sulphury = raw->sulphury == AB_YES, .flocculent = raw->flocculent == AB_YES,
		.stands_in = raw->stands_in == AB_YES,
		.fruity = raw->fruity == AB_YES,
	};
	check_order(c, raw, y);
}

/* ---- kit ---- */

/* Norms of kit are found by the place of the journal's word; -1 for a word that journals do not have, which
 * has been told as an error. */
static int kit_word(struct compiler *c, const struct raw_head *head, const char *what,
    const char *const *words, size_t i)
{
	c->file = head->file;
	compile_source(c, head->source, head->mark.line);
	return words == NULL ? (int)i : compile_word(c, what, head->id, words, head->mark.line) - 1;
}

static void compile_sanitisers(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_SANITISER].n;
	const char *const *words = c->vocabulary == NULL ? NULL : c->vocabulary->sanitisers;
	struct ab_sanitiser_norm *out = compile_room(c, n, sizeof *out);
	for (size_t i = 0; out != NULL && i < n; i++) {
		const struct raw_sanitiser *raw = RAW_AT(const struct raw_sanitiser, c->all,
		    RAW_SANITISER, i);
		out[i] = (struct ab_sanitiser_norm){ .word = kit_word(c, &raw->head, "agent", words, i),
			.contact_s = raw->contact_s.v, .max_mix_age_d = raw->keeps_s.v / DAY,
			.heat_c = raw->heat_c.known ? raw->heat_c.v : 0,
			.no_rinse = raw->no_rinse == AB_YES, .source = raw->head.source };
	}
	c->k->norms.sanitisers = out;
	c->k->norms.n_sanitisers = n;
}

static void compile_bottles(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_BOTTLE].n;
	const char *const *words = c->vocabulary == NULL ? NULL : c->vocabulary->bottles;
	struct ab_bottle_norm *out = compile_room(c, n, sizeof *out);
	for (size_t i = 0; out != NULL && i < n; i++) {
		const struct raw_bottle *raw = RAW_AT(const struct raw_bottle, c->all, RAW_BOTTLE, i);
		out[i] = (struct ab_bottle_norm){ kit_word(c, &raw->head, "kind", words, i), raw->limit.v,
		    raw->limit_kpa.v, raw->head.source, raw->tell_kpa.v, raw->says, raw->care };
		if (!raw->limit.known && !raw->limit_kpa.known && !raw->tell_kpa.known)
			compile_wrong(c, raw->head.mark.line,
			    "bottle \"%s\" has no limit; where none is known, tell-from says from which pressure on "
			    "that is told",
			    raw->head.id);
	}
	c->k->norms.bottles = out;
	c->k->norms.n_bottles = n;
}

/* A way from process to the tasting words without process knowing this room: a pointer to a function that
 * takes what it needs as void. */
static int fault_of(const void *vocabulary, const char *word)
{
	return ab_fault_word(vocabulary, word, NULL, 0, NULL);
}

/* One yeast judges bottles whose class nobody told, for safety. Of two the file that is read first would decide;
 * with none nothing warns of those bottles, which a folder of its own may want, so it is only remarked. */
static void check_stand_in(struct compiler *c)
{
	const struct raw_yeast *one = NULL;
	size_t n = c->all->kinds[RAW_YEAST].n;

	for (size_t i = 0; i < n; i++) {
		const struct raw_yeast *raw = RAW_AT(const struct raw_yeast, c->all, RAW_YEAST, i);
		c->file = raw->head.file;
		if (raw->stands_in == AB_YES && one != NULL)
			compile_wrong(c, raw->head.mark.line,
			    "yeast \"%s\" has stands-in=\"yes\", as yeast \"%s\" has: only one may stand in",
			    raw->head.id, one->head.id);
		else if (raw->stands_in == AB_YES)
			one = raw;
	}
	if (n == 0 || one != NULL || c->all->kinds[RAW_BOTTLE].n == 0)
		return;
	const struct raw_yeast *first = RAW_AT(const struct raw_yeast, c->all, RAW_YEAST, 0);
	lint_say(c->lint, false, first->head.file, first->head.mark.line,
	    "no yeast has stands-in=\"yes\": bottles of a yeast whose class nobody told are judged by none, and "
	    "not warned of");
}

void compile_norms(struct compiler *c)
{
	size_t n = c->all->kinds[RAW_YEAST].n;
	struct ab_yeast_norm *yeasts = compile_room(c, n, sizeof *yeasts);
	for (size_t i = 0; yeasts != NULL && i < n; i++)
		compile_yeast(c, RAW_AT(const struct raw_yeast, c->all, RAW_YEAST, i), &yeasts[i]);
	c->k->norms.yeasts = yeasts;
	c->k->norms.n_yeasts = n;
	check_stand_in(c);
	compile_sanitisers(c);
	compile_bottles(c);
	c->k->norms.fault_of = fault_of;
	c->k->norms.vocabulary = c->k;
}
