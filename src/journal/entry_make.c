/* entry_make.c - what a line of plain words told becomes an element, and the words for it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_take.h"

#include <string.h>

/* "cleaned bottles", and not with what: it is kept as a note, with its day, which <gear> has not. */
static bool only_a_note(const struct entry_part *part)
{
	return strcmp(part->row->element, "gear") == 0 && strncmp(part->row->leads, "cleaned", 7) == 0 &&
	    !entry_already(part, "cleaned") && !entry_already(part, "dismantled");
}

/* What was said, as attributes; false when memory is short. */
static bool write_attributes(struct sentence *s, struct entry_part *part)
{
	for (size_t i = 0; i < part->n_sets; i++) {
		const struct ab_entry_set *set = &part->sets[i];
		const char *safe = ab_entry_escaped(s->arena, set->value);
		if (safe == NULL)
			return false;
		ab_str_addf(&part->xml, " %s=\"%s%s\"", strchr(set->target, ' ') + 1,
		    set->rough && !s->guess ? "about " : "", safe);
	}
	return ab_str_ok(&part->xml);
}

/* The element of one part; a note has no attribute for its time: the date goes before its words. */
static const char *element_of(struct sentence *s, struct entry_part *part, const char *when, const char *content)
{
	const struct entry_row *row = part->row;
	const char *safe = content != NULL ? ab_entry_escaped(s->arena, content) : "";
	const char *time =
	    row->at != NULL && *when != '\0' ? ab_arena_printf(s->arena, " %s=\"%s\"", row->at, when) : "";
	const char *stamp =
	    strcmp(row->element, "note") == 0 && *when != '\0' ? ab_arena_printf(s->arena, "%s: ", when) : "";

	if (safe == NULL || time == NULL || stamp == NULL || !write_attributes(s, part))
		return NULL;
	/* " helped=..." is an attribute, "roused " the first of the words. */
	bool attribute = row->fixed[0] == ' ';
	return row->text ? ab_arena_printf(s->arena, "<%s%s>%s%s%s</%s>", row->element, attribute ? row->fixed : "",
			       stamp, attribute ? "" : row->fixed, safe, row->element)
			 : ab_arena_printf(s->arena, "<%s%s%s%s%s/>", row->element, time, row->fixed,
			       ab_str_text(&part->xml), s->guess ? " guess=\"yes\"" : "");
}

/* What the lead alone says (" into=\"keg\""). */
static bool add_fixed(struct sentence *s, const struct entry_row *row, struct ab_entry_set *sets, size_t *n)
{
	const char *name = row->fixed + strspn(row->fixed, " "), *eq = strchr(name, '='),
		   *end = eq != NULL ? strchr(eq + 2, '"') : NULL;

	if (end == NULL)
		return true;
	const char *target = ab_arena_printf(s->arena, "!%s %.*s", row->element, (int)(eq - name), name);
	const char *value = ab_arena_strndup(s->arena, eq + 2, (size_t)(end - eq - 2));
	sets[*n] = (struct ab_entry_set){ target, value, false };
	++*n;
	return target != NULL && value != NULL;
}

static struct ab_entry *entry_of(
    struct sentence *s, struct entry_part *part, const char *when, const char *content)
{
	struct ab_entry *entry = ab_arena_alloc(s->arena, 1, sizeof *entry);
	struct ab_entry_set *sets = ab_arena_alloc(s->arena, ENTRY_SLOTS + 2, sizeof *sets);
	const char *at = part->row->at != NULL && *when != '\0'
	    ? ab_arena_printf(s->arena, "!%s %s", part->row->element, part->row->at)
	    : "";
	const char *moment = ab_arena_strdup(s->arena, when);

	if (entry == NULL || sets == NULL || at == NULL || moment == NULL)
		return NULL;
	memcpy(sets, part->sets, sizeof part->sets);
	entry->said = sets;
	entry->n_said = part->n_sets;
	if (*at != '\0')
		sets[entry->n_said++] = (struct ab_entry_set){ at, moment, false };
	if (!add_fixed(s, part->row, sets, &entry->n_said))
		return NULL;
	entry->element = element_of(s, part, when, content);
	entry->name = part->row->element;
	entry->title = part->row->title;
	if (only_a_note(part)) {
		const char *item = ab_entry_escaped(s->arena, sets[0].value);
		entry->name = "note";
		entry->element = item == NULL
		    ? NULL
		    : ab_arena_printf(s->arena,
			  *when != '\0' ? "<note>%s: cleaned %s</note>" : "<note>%scleaned %s</note>", when, item);
	}
	entry->once = part->row->once;
	entry->inside = part->row->inside;
	entry->guess = s->guess;
	entry->text = part->row->text ? content : NULL;
	if (part->row->sets) {
		entry->sets = sets;
		entry->n_sets = part->n_sets;
	}
	return entry->element != NULL ? entry : NULL;
}

/* The entry once more, for another item. */
static struct ab_entry *for_item(struct sentence *s, const struct ab_entry *first, const char *item)
{
	struct ab_entry *entry = ab_arena_alloc(s->arena, 1, sizeof *entry);
	struct ab_entry_set *sets = ab_arena_alloc(s->arena, first->n_said, sizeof *sets);
	const char *old = first->said[0].value, *echo = strstr(first->echo, old), *xml = strstr(first->element, old);

	if (entry == NULL || sets == NULL || echo == NULL || xml == NULL)
		return NULL;
	*entry = *first;
	entry->next = NULL;
	memcpy(sets, first->said, first->n_said * sizeof *sets);
	sets[0].value = item;
	entry->said = sets;
	entry->element = ab_arena_printf(
	    s->arena, "%.*s%s%s", (int)(xml - first->element), first->element, item, xml + strlen(old));
	entry->echo =
	    ab_arena_printf(s->arena, "%.*s%s%s", (int)(echo - first->echo), first->echo, item, echo + strlen(old));
	return entry->element != NULL && entry->echo != NULL ? entry : NULL;
}

/* What the journal has no attribute for, as a line of its own. */
static struct ab_entry *aside_of(struct sentence *s, const struct ab_when *moment, const char *when)
{
	struct ab_entry *entry = ab_arena_alloc(s->arena, 1, sizeof *entry);
	const char *safe = ab_entry_escaped(s->arena, s->aside);

	if (entry == NULL || safe == NULL)
		return NULL;
	*entry = (struct ab_entry){ .name = "note", .title = "note", .text = s->aside, .at = *moment,
		.element = ab_arena_printf(s->arena, "<note>%s%s%s</note>", when, *when != '\0' ? ": " : "", safe),
		.echo = ab_arena_printf(s->arena, "only a note (a journal has no place of its own for that): "
		"%s", s->aside) };
	return entry->element != NULL && entry->echo != NULL ? entry : NULL;
}

enum ab_status entry_finish(struct sentence *s, const struct ab_when *at, const char *content,
    struct ab_entry **out, struct ab_diag *diag)
{
	const struct entry_row *row = s->part[0].row;
	const struct ab_when *moment = s->when.known ? &s->when : at;
	char when[32] = "";

	/* "about" of no figure */
	s->guess = s->guess || s->about;
	bool guessed = s->guess || s->any_rough;
	if (moment->known)
		ab_when_write(moment, when, sizeof when);
	struct ab_entry *entry = entry_of(s, &s->part[0], when, content);
	if (entry != NULL && s->n_parts > 1 && s->part[1].any)
		entry->also = entry_of(s, &s->part[1], when, NULL);
	bool timed = row->at != NULL && *when != '\0',
	     lost = s->when.known && row->at == NULL && !row->text && !only_a_note(&s->part[0]) &&
	    strcmp(row->element, "lag") != 0;
	if (entry != NULL && ab_str_ok(&s->echo)) {
		entry->at = *moment;
		entry->echo = ab_arena_printf(s->arena, "%s%s%s%s%s%s%s", row->title, s->echo.len > 0 ? ": " : "",
		    ab_str_text(&s->echo), guessed ? " (a guess)" : "", timed ? ", at " : "", timed ? when : "",
		    lost ? " (a journal keeps no hour of that)" : "");
	}
	if (entry == NULL || entry->echo == NULL || (s->n_parts > 1 && s->part[1].any && entry->also == NULL))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*out = entry;
	struct ab_entry *aside = s->aside != NULL ? aside_of(s, moment, when) : NULL;
	if (s->aside != NULL && aside == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	/* Nothing but that was said. */
	if (aside != NULL && s->part[0].n_sets == 0 && row->fixed[0] == '\0' && entry->also == NULL) {
		*out = aside;
		return AB_OK;
	}
	entry->next = aside;
	for (size_t i = 0; i < s->n_items; i++, entry = entry->next)
		if ((entry->next = for_item(s, *out, s->more_items[i])) == NULL)
			return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	return AB_OK;
}
