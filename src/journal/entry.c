/* entry.c - a line of plain words becomes one element of a journal
 *
 * The sentence is cut into words; the row is the one whose lead the sentence begins with (the longest); then,
 * word by word from the left, each slot that is still free is tried: first those whose little word stands
 * there, then the bare ones. What no slot takes is an error.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <afterboil/journal.h>
#include "journal/edit.h"
#include "journal/entry_values.h"

/* ---- texts ---- */

const char *ab_entry_escaped(struct ab_arena *arena, const char *text)
{
	struct ab_str safe, out;
	const char *copy = NULL;

	ab_str_init(&safe, 0);
	ab_str_init(&out, 0);
	ab_str_add_safe(&safe, text, false);
	ab_str_add(&out, "");
	ab_edit_escape(&out, ab_str_text(&safe));
	if (ab_str_ok(&safe) && ab_str_ok(&out))
		copy = ab_arena_strdup(arena, ab_str_text(&out));
	ab_str_clear(&safe);
	ab_str_clear(&out);
	return copy;
}

/* A comma between two things said is only breath; one inside a number is not ours to mend. */
static bool cut(struct sentence *s, const char *words)
{
	s->said = words;
	while (*words != '\0' && s->n < ENTRY_WORDS) {
		size_t n = strcspn(words, " \t\r\n"), keep = n;
		while (keep > 0 && strchr(",;", words[keep - 1]) != NULL)
			keep--;
		if (keep > 0) {
			char *copy = ab_arena_alloc(s->arena, keep + 1, 1);
			if (copy == NULL)
				return false;
			memcpy(copy, words, keep);
			s->raw[s->n] = words;
			s->word[s->n++] = copy;
		}
		words += n;
		words += strspn(words, " \t\r\n");
	}
	s->more = *words != '\0';
	return true;
}

/* ---- slots ---- */

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
	if (keyed ? key == 0 : !empty)
		return 0;
	n = entry_value(s, slot, at + (keyed ? key : 0), value);
	return n > 0 ? n + (keyed ? key : 0) : 0;
}

static void put(struct sentence *s, struct entry_part *part, const char *attr, const char *value)
{
	const char *safe = ab_entry_escaped(s->arena, value);
	const char *target = attr != NULL ? ab_arena_printf(s->arena, "!%s %s", part->row->element, attr) : "";

	if (safe == NULL || target == NULL) {
		part->xml.bad = true;
		return;
	}
	if (attr != NULL) {
		ab_str_addf(&part->xml, " %s=\"%s\"", attr, safe);
		part->sets[part->n_sets++] = (struct ab_entry_set){ target, value };
	}
	ab_str_addf(&s->echo, "%s%s%s%s", s->echo.len > 0 ? ", " : "", attr != NULL ? attr : "",
	    attr != NULL ? " " : "", value);
}

static bool already(const struct entry_part *part, const char *attr)
{
	for (size_t i = 0; i < ENTRY_SLOTS; i++)
		if (part->used[i] && part->row->slots[i].attr != NULL && attr != NULL &&
		    strcmp(part->row->slots[i].attr, attr) == 0)
			return true;
	return false;
}

static bool take_for(struct sentence *s, struct entry_part *part, bool keyed, const char **content)
{
	for (size_t i = 0; i < ENTRY_SLOTS && part->row->slots[i].kind != ENTRY_NONE; i++) {
		const struct entry_slot *slot = &part->row->slots[i];
		const char *value = NULL;
		size_t n = part->used[i] || already(part, slot->attr) ? 0 : fits(s, slot, s->at, keyed, &value);
		if (n == 0)
			continue;
		part->used[i] = part->any = true;
		s->at += n;
		if (slot->kind == ENTRY_REST)
			*content = value;
		put(s, part, slot->kind == ENTRY_REST ? NULL : slot->attr, value);
		return true;
	}
	return false;
}

static bool take(struct sentence *s, const char **content)
{
	for (int keyed = 1; keyed >= 0; keyed--)
		for (size_t p = 0; p < s->n_parts; p++)
			if (take_for(s, &s->part[p], keyed, content))
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

static bool pass_over(struct sentence *s)
{
	const char *word = s->word[s->at];
	bool passes = entry_is_guess(word);

	s->guess = s->guess || passes;
	for (size_t p = 0; p < s->n_parts && !leads_a_number(s); p++)
		passes = passes || entry_is_filler(s->part[p].row->fillers, word);
	s->at += passes;
	return passes;
}

/* ---- the whole ---- */

static const struct entry_row *row_of(struct sentence *s)
{
	const struct entry_row *best = NULL;
	bool empty;

	for (size_t i = 0; i < n_entry_rows; i++) {
		size_t n = entry_one_of(s, 0, entry_rows[i].leads, &empty);
		if (n > s->at) {
			s->at = n;
			best = &entry_rows[i];
		}
	}
	return best;
}

static enum ab_status no_row(const struct sentence *s, struct ab_diag *diag)
{
	char list[700] = "";

	for (size_t i = 0; i < n_entry_rows; i++) {
		size_t len = strcspn(entry_rows[i].leads, "|"), used = strlen(list);
		snprintf(list + used, sizeof list - used, "%s%.*s", i > 0 ? ", " : "", (int)len,
		    entry_rows[i].leads);
	}
	return ab_fail(diag, AB_EUSAGE, NULL, 0,
	    "\"%.40s\" begins nothing that can be logged; a line begins with one of: %s",
	    s->n > 0 ? s->word[0] : "", list);
}

static enum ab_status misunderstood(const struct sentence *s, struct ab_diag *diag)
{
	const char *why = entry_doubt(s);

	return why != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* The row, and the one that a sentence of it may tell of as well. */
static bool begin_parts(struct sentence *s)
{
	const struct entry_row *row = row_of(s);

	if (row == NULL)
		return false;
	s->part[s->n_parts++].row = row;
	for (size_t i = 0; row->with != NULL && i < n_entry_rows; i++)
		if (strcmp(entry_rows[i].element, row->with) == 0) {
			s->part[s->n_parts++].row = &entry_rows[i];
			break;
		}
	return true;
}

static enum ab_status understand(struct sentence *s, const char **content, struct ab_diag *diag)
{
	const struct entry_row *row;

	if (!begin_parts(s))
		return no_row(s, diag);
	row = s->part[0].row;
	while (s->at < s->n) {
		if (s->word[s->at][0] == '~')
			s->guess = true;
		if (!take(s, content) && !pass_over(s))
			return misunderstood(s, diag);
	}
	if (s->more && !row->text)
		return misunderstood(s, diag);
	if (!s->part[0].any && row->need)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "nothing is said about %s; write it like \"%s\"",
		    row->title, row->example);
	return AB_OK;
}

/* The element of one part; a note has no attribute for its time: the date goes before its words. */
static const char *element_of(struct sentence *s, const struct entry_part *part, const char *when, const char *content)
{
	const struct entry_row *row = part->row;
	const char *safe = content != NULL ? ab_entry_escaped(s->arena, content) : "";
	const char *time = row->at != NULL && *when != '\0' ? ab_arena_printf(s->arena, " %s=\"%s\"", row->at, when) : "";
	const char *stamp =
	    strcmp(row->element, "note") == 0 && *when != '\0' ? ab_arena_printf(s->arena, "%s: ", when) : "";

	if (safe == NULL || time == NULL || stamp == NULL || !ab_str_ok(&part->xml))
		return NULL;
	return row->text ? ab_arena_printf(s->arena, "<%s>%s%s</%s>", row->element, stamp, safe, row->element)
	    : ab_arena_printf(s->arena, "<%s%s%s%s%s/>", row->element, time, row->fixed, ab_str_text(&part->xml),
	    s->guess ? " guess=\"yes\"" : "");
}

static struct ab_entry *entry_of(struct sentence *s, const struct entry_part *part, const char *when, const char *content)
{
	struct ab_entry *entry = ab_arena_alloc(s->arena, 1, sizeof *entry);
	struct ab_entry_set *sets = ab_arena_alloc(s->arena, ENTRY_SLOTS + 1, sizeof *sets);
	const char *at = part->row->at != NULL && *when != '\0' ? ab_arena_printf(s->arena, "!%s %s", part->row->element, part->row->at) : "";
	const char *moment = ab_arena_strdup(s->arena, when);

	if (entry == NULL || sets == NULL || at == NULL || moment == NULL)
		return NULL;
	memcpy(sets, part->sets, sizeof part->sets);
	entry->said = sets;
	entry->n_said = part->n_sets;
	if (*at != '\0')
		sets[entry->n_said++] = (struct ab_entry_set){ at, moment };
	entry->element = element_of(s, part, when, content);
	entry->name = part->row->element;
	entry->once = part->row->once;
	entry->inside = part->row->inside;
	entry->guess = s->guess;
	if (part->row->sets) {
		entry->sets = sets;
		entry->n_sets = part->n_sets;
	}
	return entry->element != NULL ? entry : NULL;
}

static enum ab_status finish(struct sentence *s, const struct ab_when *at, const char *content,
    struct ab_entry **out, struct ab_diag *diag)
{
	const struct entry_row *row = s->part[0].row;
	char when[32] = "";

	if (at->known)
		ab_when_write(at, when, sizeof when);
	struct ab_entry *entry = entry_of(s, &s->part[0], when, content);
	if (entry != NULL && s->n_parts > 1 && s->part[1].any)
		entry->also = entry_of(s, &s->part[1], when, NULL);
	bool timed = row->at != NULL && *when != '\0';
	if (entry != NULL && ab_str_ok(&s->echo))
		entry->echo = ab_arena_printf(s->arena, "%s%s%s%s%s%s", row->title, s->echo.len > 0 ? ": " : "",
		    ab_str_text(&s->echo), s->guess ? " (a guess)" : "", timed ? ", at " : "", timed ? when : "");
	if (entry == NULL || entry->echo == NULL || (s->n_parts > 1 && s->part[1].any && entry->also == NULL))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*out = entry;
	return AB_OK;
}

enum ab_status ab_entry_read(const char *words, const struct ab_when *at, const struct ab_entry_help *help,
    struct ab_arena *arena, struct ab_entry **out, struct ab_diag *diag)
{
	struct sentence s = { .arena = arena, .help = help };
	const char *content = NULL;
	enum ab_status st;

	*out = NULL;
	if (help != NULL && help->doubt != NULL)
		help->doubt->n = 0;
	if (strlen(words) > AB_ENTRY_LIMIT)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "a line may be %d bytes long, this one has %zu",
		    AB_ENTRY_LIMIT, strlen(words));
	ab_str_init(&s.echo, 0);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_init(&s.part[i].xml, 0);
	st = cut(&s, words) ? understand(&s, &content, diag) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (st == AB_OK)
		st = finish(&s, at, content, out, diag);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_clear(&s.part[i].xml);
	ab_str_clear(&s.echo);
	return st;
}

const char *ab_entry_recipe_part(const char *words, struct ab_arena *arena)
{
	struct sentence s = { .arena = arena };
	const struct entry_row *row = strlen(words) <= AB_ENTRY_LIMIT && cut(&s, words) ? row_of(&s) : NULL;

	return row != NULL && row->inside != NULL && s.at == s.n ? row->element : NULL;
}

const char *ab_entry_example(size_t i)
{
	return i < n_entry_rows ? entry_rows[i].example : NULL;
}
