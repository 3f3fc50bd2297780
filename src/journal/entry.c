/* entry.c - a line of plain words becomes one element of a journal
 *
 * The sentence is cut into words; the row is the one whose lead the sentence begins with (the longest); then,
 * word by word from the left, each slot that is still free is tried: first those whose little word stands
 * there, then the bare ones. What no slot takes is an error.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <afterboil/journal.h>
#include "base/spelled.h"
#include "journal/edit.h"
#include "journal/entry_dose.h"
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

/* One word of that many bytes; "@" is said "at". */
static bool add_word(struct sentence *s, const char *from, size_t len, bool breath)
{
	static const char sign[] = "at";
	bool at = len == 1 && *from == '@';
	char *copy = ab_arena_strndup(s->arena, at ? sign : from, at ? sizeof sign - 1 : len);

	if (copy == NULL)
		return false;
	s->raw[s->n] = from;
	s->breath[s->n] = breath;
	s->word[s->n++] = copy;
	return true;
}

/* A comma between two things said is only breath, and so are a colon, a full stop at the end and the "=" of "OG=1.048"; one
 * inside a number is not ours to mend. */
static bool cut(struct sentence *s, const char *words)
{
	static const char blank[] = " \t\r\n=";
	bool breath = false;

	s->said = words;
	words += strspn(words, blank);
	while (*words != '\0' && s->n < ENTRY_WORDS) {
		size_t n = *words == '@' ? 1 : strcspn(words, blank), keep = n;
		bool last = words[n + strspn(words + n, blank)] == '\0';
		while (keep > 0 && (strchr(",;:!", words[keep - 1]) != NULL || (last && words[keep - 1] == '.')))
			keep--;
		if (keep > 0 && !add_word(s, words, keep, breath))
			return false;
		breath = (breath && keep == 0) || keep < n;
		words += n;
		words += strspn(words, blank);
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
		s->guess = s->guess || (slot->kind == ENTRY_QUANTITY && entry_is_rough(s, s->at, n));
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
	bool empty, passes = entry_is_guess(word);
	size_t rough = entry_one_of(s, s->at, "or so|more or less|i think|i guess|give or take|between", &empty);

	s->guess = s->guess || passes || rough > 0;
	if (rough > 0) {
		s->at += rough;
		return true;
	}
	for (size_t p = 0; p < s->n_parts && !leads_a_number(s); p++)
		passes = passes || entry_is_filler(s->part[p].row->fillers, word);
	s->at += passes;
	return passes;
}

/* ---- the whole ---- */

/* Whoever only tries a line needs no words why not; and looking for them would try lines again, without end. */
static enum ab_status misunderstood(const struct sentence *s, struct ab_diag *diag)
{
	const char *why = s->trying ? "not understood" : entry_doubt(s);

	return why != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* Words before what happened that say nothing of it: "we added", "it is". */
static const char opening[] = "i we the my our just have has had now then and so also it it's its is was a an of in did added add threw got put took made some";

/* Past when it happened and what says nothing, to the lead. NULL when there is none, and s->at is where it would be. */
static const struct entry_row *find_lead(struct sentence *s, size_t *n, const char **why)
{
	const struct entry_row *row;

	*why = NULL;
	size_t when = entry_when_at(s, s->at, &s->when, why), from;
	/* "+3d" may be all that is said, and "2 days ago" no reading. */
	s->at += *why == NULL && s->at + when < s->n ? when : 0;
	from = s->at;
	while ((row = entry_row_at(s, s->at, n)) == NULL && s->at + 1 < s->n && entry_is_filler(opening, s->word[s->at]))
		s->at++;
	if (row == NULL && s->at + 1 == s->n && !entry_is_filler(opening, s->word[from]))
		s->at = from;
	return row;
}

/* The row, and the one that a sentence of it may tell of as well. */
static void begin_parts(struct sentence *s, const struct entry_row *row, size_t lead)
{
	s->at += lead;
	s->part[s->n_parts++].row = row;
	for (size_t i = 0; row->with != NULL && i < n_entry_rows; i++)
		if (strcmp(entry_rows[i].element, row->with) == 0) {
			s->part[s->n_parts++].row = &entry_rows[i];
			break;
		}
}

static bool would_take(const struct sentence *s, size_t at)
{
	const char *value;

	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *slot = &s->part[p].row->slots[i];
			bool free = !s->part[p].used[i] && !already(&s->part[p], slot->attr);
			if (free && (fits(s, slot, at, true, &value) > 0 || fits(s, slot, at, false, &value) > 0))
				return true;
		}
	return false;
}

/* Is what stands there a sentence of its own: behind a comma or "and" something else that happened, or one more of the
 * recipe ("malt 4.2 kg pale, 0.3 kg crystal")? *next is that sentence. */
static bool next_begins(const struct sentence *s, const char **next)
{
	static const char joints[] = "and then + & plus also";
	const struct entry_row *row = s->part[0].row;
	size_t at = s->at, n;
	bool joint = s->breath[at];

	for (; at < s->n && entry_is_filler(joints, s->word[at]); at++)
		joint = true;
	if (!joint || at >= s->n || (!s->part[0].any && row->need) || row->text || would_take(s, at))
		return false;
	bool more = row->inside != NULL && (strchr("0123456789.", s->word[at][0]) != NULL || ab_number_spelled(s->word[at]) != NULL);
	if (more && entry_row_at(s, at, &n) == NULL)
		*next = ab_arena_printf(s->arena, "%.*s %s", (int)strcspn(row->leads, "|"), row->leads, s->raw[at]);
	else
		*next = entry_row_at(s, at, &n) != NULL ? s->raw[at] : NULL;
	return *next != NULL;
}

/* "cleaned fermenter, hose and tap with percarbonate": the same of each. */
static bool take_item(struct sentence *s)
{
	const struct entry_row *row = s->part[0].row;
	const struct entry_slot *slot = &row->slots[0];
	const char *value;
	size_t joint = s->at < s->n && entry_is_filler("and + &", s->word[s->at]), n;

	if (strcmp(row->element, "gear") != 0 || !s->part[0].used[0] || s->n_items == ENTRY_ITEMS || !(joint || s->breath[s->at]) ||
	    (n = entry_value(s, slot, s->at + joint, &value)) == 0)
		return false;
	s->more_items[s->n_items++] = value;
	s->at += joint + n;
	return true;
}

/* When it happened, said behind it. */
static enum ab_status take_when(struct sentence *s, bool *taken, struct ab_diag *diag)
{
	const char *why = NULL;
	size_t n = s->when.known ? 0 : entry_when_at(s, s->at, &s->when, &why);

	*taken = n > 0 && why == NULL;
	s->at += *taken ? n : 0;
	return why == NULL ? AB_OK : *why == '\0' ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why);
}

/* "first signs" without a length of time are seen now: how long after the yeast went in. */
static void since_pitched(struct sentence *s, const struct ab_when *at)
{
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL, *now = s->when.known ? &s->when : at;
	const struct entry_row *row = s->part[0].row;
	char hours[32];

	if (strcmp(row->element, "lag") != 0 || s->part[0].any || pitched == NULL || !pitched->known || pitched->relative || pitched->date_only ||
	    !now->known || now->relative || now->date_only || now->s <= pitched->s)
		return;
	const char *value = ab_arena_printf(s->arena, "%s h", ab_num_text(floor((now->s - pitched->s) / 360 + 0.5) / 10, hours, sizeof hours));
	if (value == NULL)
		return;
	s->part[0].any = s->part[0].used[0] = true;
	put(s, &s->part[0], row->slots[0].attr, value);
}

static enum ab_status no_lead(struct sentence *s, const struct ab_when *at, const char **next, struct ab_diag *diag)
{
	const char *ways[AB_ENTRY_WAYS], *why;
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL, *now = s->when.known ? &s->when : at;
	enum { DAY = 86400 };
	if (s->trying)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "not understood");
	size_t n = entry_ways(s, ways);
	if (n == ENTRY_NOMEM)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	/* A gravity from the day after pitching on is none of before. */
	bool later = pitched != NULL && pitched->known && !pitched->relative && now->known && !now->relative && now->s > pitched->s + DAY;

	if (later && n == 2 && strncmp(ways[0], "gravity ", 8) == 0 && strncmp(ways[1], "og ", 3) == 0)
		n = 1;
	if (n == 1) {
		*next = ways[0];
		return AB_OK;
	}
	why = entry_no_lead(s);
	return why != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* All that stands behind the lead. */
static enum ab_status take_all(struct sentence *s, const char **content, const char **next, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	while (st == AB_OK && s->at < s->n) {
		bool taken = false;
		if (s->word[s->at][0] == '~')
			s->guess = true;
		if (take(s, content) || take_item(s))
			continue;
		if (next_begins(s, next))
			return AB_OK;
		st = take_when(s, &taken, diag);
		if (st == AB_OK && !taken && !pass_over(s))
			return misunderstood(s, diag);
	}
	return st == AB_OK && s->more && !s->part[0].row->text ? misunderstood(s, diag) : st;
}

/* instead: the whole line as it is to be read; next: the sentence behind this one. */
static enum ab_status understand(struct sentence *s, const struct ab_when *at, const char **content, const char **instead, const char **next,
    struct ab_diag *diag)
{
	const char *why;
	size_t lead;
	const struct entry_row *row = find_lead(s, &lead, &why);

	if (why != NULL)
		return *why == '\0' ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why);
	if (row == NULL)
		return no_lead(s, at, instead, diag);
	begin_parts(s, row, lead);
	enum ab_status st = take_all(s, content, next, diag);
	if (st != AB_OK)
		return st;
	since_pitched(s, at);
	if (s->part[0].any || !row->need)
		return AB_OK;
	const char *words = entry_words_of(s);
	return words == NULL ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : ab_fail(diag, AB_EUSAGE, NULL, 0,
	    "nothing is said about %s; write it like \"%s\"%s", row->title, row->example, words);
}

/* "cleaned bottles", and not with what: the journal has no word for that, yet it was done. It is kept as a note. */
static bool only_a_note(const struct entry_part *part)
{
	return strcmp(part->row->element, "gear") == 0 && strncmp(part->row->leads, "cleaned", 7) == 0 && !already(part, "cleaned") &&
	    !already(part, "dismantled");
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
	return row->text ? ab_arena_printf(s->arena, "<%s>%s%s%s</%s>", row->element, stamp, row->fixed, safe, row->element)
	    : ab_arena_printf(s->arena, "<%s%s%s%s%s/>", row->element, time, row->fixed, ab_str_text(&part->xml),
	    s->guess ? " guess=\"yes\"" : "");
}

/* What the lead alone says (" into=\"keg\""). */
static bool add_fixed(struct sentence *s, const struct entry_row *row, struct ab_entry_set *sets, size_t *n)
{
	const char *name = row->fixed + strspn(row->fixed, " "), *eq = strchr(name, '='), *end = eq != NULL ? strchr(eq + 2, '"') : NULL;

	if (end == NULL)
		return true;
	const char *target = ab_arena_printf(s->arena, "!%s %.*s", row->element, (int)(eq - name), name);
	const char *value = ab_arena_strndup(s->arena, eq + 2, (size_t)(end - eq - 2));
	sets[*n] = (struct ab_entry_set){ target, value };
	++*n;
	return target != NULL && value != NULL;
}

static struct ab_entry *entry_of(struct sentence *s, const struct entry_part *part, const char *when, const char *content)
{
	struct ab_entry *entry = ab_arena_alloc(s->arena, 1, sizeof *entry);
	struct ab_entry_set *sets = ab_arena_alloc(s->arena, ENTRY_SLOTS + 2, sizeof *sets);
	const char *at = part->row->at != NULL && *when != '\0' ? ab_arena_printf(s->arena, "!%s %s", part->row->element, part->row->at) : "";
	const char *moment = ab_arena_strdup(s->arena, when);

	if (entry == NULL || sets == NULL || at == NULL || moment == NULL)
		return NULL;
	memcpy(sets, part->sets, sizeof part->sets);
	entry->said = sets;
	entry->n_said = part->n_sets;
	if (*at != '\0')
		sets[entry->n_said++] = (struct ab_entry_set){ at, moment };
	if (!add_fixed(s, part->row, sets, &entry->n_said))
		return NULL;
	entry->element = element_of(s, part, when, content);
	entry->name = part->row->element;
	entry->title = part->row->title;
	if (only_a_note(part)) {
		const char *item = ab_entry_escaped(s->arena, sets[0].value);
		entry->name = "note";
		entry->element = item == NULL ? NULL : ab_arena_printf(s->arena, *when != '\0' ? "<note>%s: cleaned %s</note>"
		    : "<note>%scleaned %s</note>", when, item);
	}
	entry->once = part->row->once;
	entry->inside = part->row->inside;
	entry->guess = s->guess;
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
	entry->element = ab_arena_printf(s->arena, "%.*s%s%s", (int)(xml - first->element), first->element, item, xml + strlen(old));
	entry->echo = ab_arena_printf(s->arena, "%.*s%s%s", (int)(echo - first->echo), first->echo, item, echo + strlen(old));
	return entry->element != NULL && entry->echo != NULL ? entry : NULL;
}

static enum ab_status finish(struct sentence *s, const struct ab_when *at, const char *content,
    struct ab_entry **out, struct ab_diag *diag)
{
	const struct entry_row *row = s->part[0].row;
	const struct ab_when *moment = s->when.known ? &s->when : at;
	char when[32] = "";

	if (moment->known)
		ab_when_write(moment, when, sizeof when);
	struct ab_entry *entry = entry_of(s, &s->part[0], when, content);
	if (entry != NULL && s->n_parts > 1 && s->part[1].any)
		entry->also = entry_of(s, &s->part[1], when, NULL);
	bool timed = row->at != NULL && *when != '\0', lost = s->when.known && row->at == NULL && !row->text && !only_a_note(&s->part[0]) &&
	    strcmp(row->element, "lag") != 0;
	if (entry != NULL && ab_str_ok(&s->echo)) {
		entry->at = *moment;
		entry->echo = ab_arena_printf(s->arena, "%s%s%s%s%s%s%s", row->title, s->echo.len > 0 ? ": " : "",
		    ab_str_text(&s->echo), s->guess ? " (a guess)" : "", timed ? ", at " : "", timed ? when : "",
		    lost ? " (a journal keeps no hour of that)" : "");
	}
	if (entry == NULL || entry->echo == NULL || (s->n_parts > 1 && s->part[1].any && entry->also == NULL))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*out = entry;
	for (size_t i = 0; i < s->n_items; i++, entry = entry->next)
		if ((entry->next = for_item(s, *out, s->more_items[i])) == NULL)
			return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	return AB_OK;
}

/* One sentence; next: what stands behind it, or NULL. like: whose help, arena and trying. */
static enum ab_status read_one(const char *words, const struct ab_when *at, const struct sentence *like,
    struct ab_entry **out, const char **next, struct ab_diag *diag)
{
	struct sentence s = { .arena = like->arena, .help = like->help, .trying = like->trying };
	const char *content = NULL, *instead = NULL;
	enum ab_status st;

	*next = NULL;
	ab_str_init(&s.echo, 0);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_init(&s.part[i].xml, 0);
	st = cut(&s, words) ? understand(&s, at, &content, &instead, next, diag) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (st == AB_OK && instead != NULL)
		st = read_one(instead, s.when.known ? &s.when : at, like, out, next, diag);
	else if (st == AB_OK)
		st = finish(&s, at, content, out, diag);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_clear(&s.part[i].xml);
	ab_str_clear(&s.echo);
	return st;
}

static enum ab_status read_all(const char *words, const struct ab_when *at, const struct sentence *like, struct ab_entry **out, struct ab_diag *diag)
{
	struct ab_entry *first = NULL, **to = &first;
	struct ab_when moment = *at;
	const char *next = words;
	enum ab_status st = AB_OK;

	*out = NULL;
	if (strlen(words) > AB_ENTRY_LIMIT)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "a line may be %d bytes long, this one has %zu",
		    AB_ENTRY_LIMIT, strlen(words));
	while (st == AB_OK && next != NULL) {
		words = next;
		st = read_one(words, &moment, like, to, &next, diag);
		if (st == AB_OK) {
			moment = (*to)->at;
			while (*to != NULL)
				to = &(*to)->next;
		}
	}
	if (st == AB_OK)
		*out = first;
	return st;
}

enum ab_status ab_entry_read(const char *words, const struct ab_when *at, const struct ab_entry_help *help,
    struct ab_arena *arena, struct ab_entry **out, struct ab_diag *diag)
{
	const struct sentence like = { .arena = arena, .help = help };

	if (help != NULL && help->doubt != NULL)
		help->doubt->n = 0;
	*out = NULL;
	enum ab_status st = strlen(words) > AB_ENTRY_LIMIT ? AB_OK : entry_dose(words, help, arena, &words, diag);
	return st == AB_OK ? read_all(words, at, &like, out, diag) : st;
}

enum ab_status entry_understood(const struct sentence *s, const char *line)
{
	const struct ab_when never = { 0 }, *now = s->help != NULL ? s->help->now : NULL;
	const struct sentence like = { .arena = s->arena, .help = s->help, .trying = true };
	struct ab_entry *entry;
	struct ab_diag diag;

	ab_diag_init(&diag);
	return read_all(line, now != NULL ? now : &never, &like, &entry, &diag);
}

bool ab_entry_when(const char *words, const struct ab_when *now, struct ab_arena *arena, struct ab_when *out)
{
	const struct ab_entry_help help = { .now = now };
	struct sentence s = { .arena = arena, .help = &help };
	struct ab_when when;
	const char *why = NULL;
	bool good = strlen(words) <= AB_ENTRY_LIMIT && cut(&s, words) && s.n > 0 && entry_when_at(&s, 0, &when, &why) == s.n && why == NULL;

	if (good)
		*out = when;
	return good;
}

const char *ab_entry_recipe_part(const char *words, struct ab_arena *arena)
{
	struct sentence s = { .arena = arena };
	size_t n = 0;
	const struct entry_row *row = strlen(words) <= AB_ENTRY_LIMIT && cut(&s, words) ? entry_row_at(&s, 0, &n) : NULL;

	return row != NULL && row->inside != NULL && n == s.n ? row->element : NULL;
}

const char *ab_entry_example(size_t i)
{
	return i < n_entry_rows ? entry_rows[i].example : NULL;
}
