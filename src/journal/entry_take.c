/* entry_take.c - what stands at a word of the line goes into a slot of its row, or is passed over
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_take.h"

#include <string.h>

#include <afterboil/journal.h>
#include "base/str.h"
#include "journal/edit.h"

/* ---- slots ---- */

/* "3 months old". Where a number follows, the word belongs to that: "100 ml starter 1 L". */
static size_t before_its_word(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	bool empty;
	size_t n = entry_value(s, slot, at, value),
	       word =
		   n > 0 && at + n < s->n && !s->breath[at + n] ? entry_one_of(s, at + n, slot->behind, &empty) : 0;
	size_t next = at + n + word;

	return word == 0 || (next < s->n && !s->breath[next] && strspn(s->word[next], "0123456789") > 0) ? 0 : n + word;
}

/* The words this slot takes from `at` on. keyed: only with its little word; else only without. */
static size_t fits(const struct sentence *s, const struct entry_slot *slot, size_t at, bool keyed,
    const char **value)
{
	bool empty;
	size_t key = entry_one_of(s, at, slot->keys, &empty), n;

	if (slot->kind == ENTRY_FIXED) {
		*value = slot->fixed;
		return keyed ? key : 0;
	}
	if (keyed && key == 0 && slot->behind != NULL)
		return before_its_word(s, slot, at, value);
	if (keyed ? key == 0 : !empty)
		return 0;
	size_t from = at + (keyed ? key : 0);
	n = entry_value(s, slot, from, value);
	/* "3 hours ago" is when. */
	if (n > 0 && slot->dim == AB_DIM_TIME && slot->kind == ENTRY_QUANTITY &&
	    entry_one_of(s, from + n, "ago|earlier", &empty) > 0)
		return 0;
	/* "kept in the fridge" */
	for (size_t i = 0; i < 2 && n == 0 && keyed && slot->kind == ENTRY_WORD && from < s->n &&
	     entry_is_filler("in at on the a an my", s->word[from]);
	     i++)
		n = entry_value(s, slot, ++from, value);
	/* "aged 3 months old" */
	if (n > 0 && keyed && slot->behind != NULL)
		n += entry_one_of(s, from + n, slot->behind, &empty);
	return n > 0 ? from + n - at : 0;
}

/* For the note behind all: the journal has no attribute for it. */
static void put_aside(struct sentence *s, struct entry_part *part, const char *words, const char *value)
{
	s->aside = ab_arena_printf(
	    s->arena, "%s%s%s%s", s->aside != NULL ? s->aside : "", s->aside != NULL ? ", " : "", words, value);
	part->xml.bad = part->xml.bad || s->aside == NULL;
}

/* Is it one that may be "about" so much? */
static bool is_figure(const char *target)
{
	const struct ab_attr_spec *spec = ab_edit_spec(target + 1);

	return spec != NULL && spec->kind == AB_ATTR_QUANTITY && spec->dim != AB_DIM_MONEY;
}

void entry_put(struct sentence *s, struct entry_part *part, const char *attr, const char *value)
{
	if (attr != NULL && *attr == '~') {
		put_aside(s, part, attr + 1, value);
		return;
	}
	const char *target = attr != NULL ? ab_arena_printf(s->arena, "!%s %s", part->row->element, attr) : "";

	if (target == NULL) {
		part->xml.bad = true;
		return;
	}
	if (attr != NULL) {
		part->sets[part->n_sets] = (struct ab_entry_set){ target, value, s->about && is_figure(target) };
		if (part->sets[part->n_sets++].rough) {
			s->about = false;
			s->any_rough = true;
		}
	}
	ab_str_addf(&s->echo, "%s%s%s%s", s->echo.len > 0 ? ", " : "", attr != NULL ? attr : "",
	    attr != NULL ? " " : "", value);
}

bool entry_already(const struct entry_part *part, const char *attr)
{
	for (size_t i = 0; i < ENTRY_SLOTS; i++)
		if (part->used[i] && part->row->slots[i].attr != NULL && attr != NULL &&
		    strcmp(part->row->slots[i].attr, attr) == 0)
			return true;
	return false;
}

/* A yeast that an earlier brew was made with, by its name: that is kept beside the class it had then. */
static void put_strain(struct sentence *s, struct entry_part *part, const struct entry_slot *slot, size_t at, size_t n)
{
	bool class = slot->kind == ENTRY_ID && slot->attr != NULL && strcmp(slot->attr, "class") == 0 &&
	    s->help != NULL && s->help->word != NULL;
	const char *said = class ? entry_joined(s, at, n) : NULL,
		   *strain = said != NULL ? s->help->word(s->help->ctx, "strain", said) : NULL;

	if (strain != NULL)
		entry_put(s, part, "strain", strain);
}

static void put_free(struct sentence *s, struct entry_part *part, const char *attr, const char *value)
{
	for (size_t i = 0; i < ENTRY_SLOTS && part->row->slots[i].kind != ENTRY_NONE; i++)
		if (part->row->slots[i].attr != NULL && strcmp(part->row->slots[i].attr, attr) == 0 &&
		    !entry_already(part, attr)) {
			part->used[i] = true;
			entry_put(s, part, attr, value);
		}
}

/* "biscuit malt" is of no kind there is, and keeps its name; "40 x 500 ml" tells how large they are, and "5 mini
 * kegs" of what kind. */
static void put_more(struct sentence *s, struct entry_part *part, const struct entry_slot *slot, const char *value,
    size_t at, size_t n)
{
	static const struct entry_slot bottle = { ENTRY_WORD, "", "", AB_DIM_NONE, ab_words_bottle, NULL, 0, 0, NULL };
	const char *said, *size = NULL;

	if (slot->words == ab_words_malt && strcmp(value, "other") == 0 &&
	    (said = entry_joined(s, at, n)) != NULL && ab_word_cmp(said, value) != 0)
		put_free(s, part, "name", said);
	/* "5 mini kegs" */
	for (size_t i = at; slot->kind == ENTRY_PIECES && i < at + n; i++)
		if (entry_value(s, &bottle, i, &said) > 0)
			put_free(s, part, "bottle", said);
	if (slot->kind == ENTRY_PIECES && entry_pieces(s, slot, at, &said, &size) > 0 && size != NULL)
		put_free(s, part, "size", size);
}

static bool take_for(struct sentence *s, struct entry_part *part, bool keyed, const char **content)
{
	for (size_t i = 0; i < ENTRY_SLOTS && part->row->slots[i].kind != ENTRY_NONE; i++) {
		const struct entry_slot *slot = &part->row->slots[i];
		const char *value = NULL;
		size_t n = part->used[i] || entry_already(part, slot->attr) ? 0 : fits(s, slot, s->at, keyed, &value);
		if (n == 0)
			continue;
		part->used[i] = part->any = true;
		s->about = s->about || (slot->kind == ENTRY_QUANTITY && entry_is_rough(s, s->at, n));
		s->at += n;
		s->taken = s->at;
		bool text = slot->kind == ENTRY_REST || slot->kind == ENTRY_BREATH;
		if (text)
			*content = value;
		entry_put(s, part, text ? NULL : slot->attr, value);
		put_strain(s, part, slot, s->at - n, n);
		put_more(s, part, slot, value, s->at - n, n);
		return true;
	}
	return false;
}

/* "in the cellar, dark": told once more, and alike. */
static bool take_again(struct sentence *s, const struct entry_part *part)
{
	for (size_t i = 0; i < ENTRY_SLOTS && part->row->slots[i].kind != ENTRY_NONE; i++) {
		const struct entry_slot *slot = &part->row->slots[i];
		const char *value = NULL;
		size_t n =
		    slot->kind != ENTRY_WORD && slot->kind != ENTRY_FIXED ? 0 : fits(s, slot, s->at, true, &value);
		n = n > 0 || slot->kind != ENTRY_WORD ? n : fits(s, slot, s->at, false, &value);
		for (size_t k = 0; n > 0 && k < part->n_sets; k++)
			if (strcmp(strchr(part->sets[k].target, ' ') + 1, slot->attr) == 0 &&
			    strcmp(part->sets[k].value, value) == 0) {
				s->taken = s->at += n;
				return true;
			}
	}
	return false;
}

/* Sugar, or what may be its weight. */
static bool is_of_sugar(const struct sentence *s, size_t at)
{
	static const struct entry_slot mass = { ENTRY_QUANTITY, "", "", AB_DIM_MASS, NULL, NULL, 0, 0, NULL };
	static const struct entry_slot sugar = { ENTRY_WORD, "", "", AB_DIM_NONE, ab_words_sugar, NULL, 0, 0, NULL };
	const char *value;

	return entry_is_filler("sugar sugars syrup", s->word[at]) || entry_value(s, &mass, at, &value) > 0 ||
	    entry_value(s, &sugar, at, &value) > 0;
}

/* "boiled 120 g sugar in a cup of water": the water is none of the beer's and no bottle's size. Sugar that stands
 * between is never stepped over with it: priming that nobody wrote down bursts bottles. */
static size_t water_for_sugar(const struct sentence *s)
{
	enum { MOST = 6 };

	if (strcmp(s->part[0].row->element, "package") != 0 || !entry_is_filler("in with into", s->word[s->at]))
		return 0;
	for (size_t n = 1; n < MOST && s->at + n < s->n && !s->breath[s->at + n]; n++)
		if (is_of_sugar(s, s->at + n))
			return 0;
		else if (entry_is_filler("water", s->word[s->at + n]))
			return n + 1;
	return 0;
}

/* "fell from 1.020 to 1.016": what it was is told already, and what stands behind "to" is the reading. "no change"
 * adds nothing. */
static size_t of_before(const struct sentence *s)
{
	bool empty;

	if (strcmp(s->part[0].row->element, "reading") != 0)
		return 0;
	size_t n = entry_one_of(s, s->at,
		   "fell from|dropped from|went from|went down from|came down from|is down from|down from|from",
		   &empty),
	       to = s->at + n + 1;
	if (n > 0 && to + 1 < s->n && strspn(s->word[s->at + n], "0123456789") > 0 &&
	    entry_is_filler("to", s->word[to]))
		return n + 2;
	return entry_one_of(s, s->at,
	    "no change|no change at all|no change yet|no change since|same as yesterday|same as before|same as "
	    "last time|same as last|same as the day before|same again",
	    &empty);
}

bool entry_take(struct sentence *s, const char **content)
{
	size_t aside = water_for_sugar(s);

	aside = aside > 0 ? aside : of_before(s);
	s->at += aside;
	s->taken = aside > 0 ? s->at : s->taken;
	if (aside > 0)
		return true;
	for (int keyed = 1; keyed >= 0; keyed--)
		for (size_t p = 0; p < s->n_parts; p++)
			if (take_for(s, &s->part[p], keyed, content))
				return true;
	for (size_t p = 0; p < s->n_parts; p++)
		if (take_again(s, &s->part[p]))
			return true;
	return false;
}

/* "to 20": the number belongs to the little word, and only its unit is missing. */
static bool leads_a_number(const struct sentence *s)
{
	bool empty;

	if (s->at + 1 >= s->n || strspn(s->word[s->at + 1], "0123456789") == 0)
		return false;
	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++)
			if (s->part[p].row->slots[i].kind == ENTRY_QUANTITY && !s->part[p].used[i] &&
			    entry_one_of(s, s->at, s->part[p].row->slots[i].keys, &empty) > 0)
				return true;
	return false;
}

/* "20 C or so": the figure that was taken last; false when none was. */
static bool last_is_rough(struct sentence *s)
{
	for (size_t p = s->n_parts; p-- > 0;)
		if (s->part[p].n_sets > 0) {
			struct ab_entry_set *last = &s->part[p].sets[s->part[p].n_sets - 1];
			last->rough = last->rough || is_figure(last->target);
			s->any_rough = s->any_rough || last->rough;
			return last->rough;
		}
	return false;
}

bool entry_pass_over(struct sentence *s)
{
	const char *word = s->word[s->at];
	bool empty, passes = entry_is_guess(word);
	size_t after = entry_one_of(s, s->at, "or so|more or less|give or take", &empty);
	size_t rough = entry_one_of(s, s->at, "i think|i guess", &empty), before = 0;

	/* "shook a bit"; but "a little sugar" is some, and nobody knows how much. */
	if (rough == 0 && strcmp(s->part[0].row->element, "aerate") == 0)
		rough = entry_one_of(s, s->at, "a bit|a little|a little bit", &empty);

	/* "between 19 and 20" */
	if (s->at + 1 < s->n && strspn(s->word[s->at + 1], "0123456789") > 0)
		before = entry_one_of(s, s->at, "between", &empty);

	s->about = s->about || passes || before > 0;
	s->guess = s->guess || rough > 0 || (after > 0 && !last_is_rough(s));
	if (after + rough + before > 0) {
		s->at += after + rough + before;
		return true;
	}
	for (size_t p = 0; p < s->n_parts && !leads_a_number(s); p++)
		passes = passes || entry_is_filler(s->part[p].row->fillers, word);
	s->at += passes;
	return passes;
}

bool entry_would_take(const struct sentence *s, size_t at)
{
	const char *value;

	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *slot = &s->part[p].row->slots[i];
			bool free = !s->part[p].used[i] && !entry_already(&s->part[p], slot->attr);
			if (free && (fits(s, slot, at, true, &value) > 0 || fits(s, slot, at, false, &value) > 0))
				return true;
		}
	return false;
}

/* "cleaned fermenter, hose and tap with percarbonate": the same of each. */
bool entry_take_item(struct sentence *s)
{
	const struct entry_row *row = s->part[0].row;
	const struct entry_slot *slot = &row->slots[0];
	const char *value;
	size_t joint = s->at < s->n && entry_is_filler("and + &", s->word[s->at]), n;

	if (strcmp(row->element, "gear") != 0 || !s->part[0].used[0] || s->n_items == ENTRY_ITEMS ||
	    !(joint || s->breath[s->at]) || (n = entry_value(s, slot, s->at + joint, &value)) == 0)
		return false;
	s->more_items[s->n_items++] = value;
	s->taken = s->at += joint + n;
	return true;
}
