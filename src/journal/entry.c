/* entry.c - a line of plain words becomes one element of a journal
 *
 * The sentence is cut into words; the row is the one whose lead the sentence begins with (the longest); then,
 * word by word from the left, each slot that is still free is tried: first those whose little word stands
 * there, then the bare ones. What no slot takes is an error.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <math.h>
#include <string.h>

#include "base/spelled.h"
#include "journal/entry_dose.h"
#include "journal/entry_take.h"

/* ---- the whole ---- */

/* Whoever only tries a line needs no words why not; and looking for them would try lines again, without end. */
static enum ab_status misunderstood(const struct sentence *s, struct ab_diag *diag)
{
	const char *why = s->trying ? "not understood" : entry_doubt(s);

	return why != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* Words before what happened that say nothing of it: "we added", "it is". */
static const char opening[] = "i we the my our just have has had now then and so also it it's its is was a an of in did added add threw got put took made some used still again really actually hit reached ok okay finally oh well alright today";

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
	s->lead = s->taken = s->at;
	s->part[s->n_parts++].row = row;
	for (size_t i = 0; row->with != NULL && i < n_entry_rows; i++)
		if (strcmp(entry_rows[i].element, row->with) == 0) {
			s->part[s->n_parts++].row = &entry_rows[i];
			break;
		}
}

/* What stands behind a sentence: the words of the next, and all that was said up to it. */
struct ahead { const char *words, *head; };

/* The ways in which a line without a lead can be meant; ENTRY_NOMEM. */
static size_t ways_meant(const struct sentence *s, const struct ab_when *now, const char *ways[AB_ENTRY_WAYS])
{
	enum { DAY = 86400 };
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL;
	/* What was not done is not read as done. */
	size_t n = ab_denies(s->said) || entry_is_elsewise(s, 0, entry_breath_end(s, s->at)) ? 0 : entry_ways(s, ways);
	/* A gravity from the day after pitching on is none of before. */
	bool later = pitched != NULL && pitched->known && !pitched->relative && now->known && !now->relative && now->s > pitched->s + DAY;

	return later && n == 2 && strncmp(ways[0], "gravity ", 8) == 0 && strncmp(ways[1], "og ", 3) == 0 ? 1 : n;
}

/* "fermenting at 67, basement 63": what is said up to the next comma, where that alone makes a line, its lead put before it; the
 * next line will ask where it may be two. */
static enum ab_status without_lead(const struct sentence *s, size_t at, const struct ab_when *now, const char **next)
{
	struct sentence piece = { .arena = s->arena, .help = s->help, .trying = s->trying };
	const char *ways[AB_ENTRY_WAYS];
	size_t end = entry_breath_end(s, at);
	const char *words = ab_arena_strndup(s->arena, s->raw[at], end < s->n ? (size_t)(s->raw[end] - s->raw[at]) : strlen(s->raw[at]));

	if (words == NULL || !entry_cut(&piece, words))
		return AB_ENOMEM;
	/* "pitched 1 pack, 3 hours after the boil": a length of time belongs to what was said before, if to anything. */
	if (entry_has_time(&piece))
		return AB_OK;
	size_t n = ways_meant(&piece, s->when.known ? &s->when : now, ways);
	if (n == ENTRY_NOMEM)
		return AB_ENOMEM;
	if (n == 1)
		*next = ab_arena_printf(s->arena, "%s%s%s", ways[0], end < s->n ? ", " : "", end < s->n ? s->raw[end] : "");
	else if (n > 1)
		*next = s->raw[at];
	return n == 1 && *next == NULL ? AB_ENOMEM : AB_OK;
}

/* "kegged at 12 psi": the gas is told of; but of what a keg was purged at nobody knows which pressure is which. */
static bool begins_then(const struct sentence *s, const struct entry_row *row)
{
	const struct entry_slot told = { ENTRY_QUANTITY, "", "", row->then_dim, NULL, NULL, 0, 0, NULL };
	const char *value;
	bool empty;

	for (size_t i = s->lead; row->then != NULL && i < s->at; i++)
		if (entry_is_filler(row->never, s->word[i]))
			return false;
	return row->then != NULL && entry_value(s, &told, s->at + entry_one_of(s, s->at, "at|set to|set at", &empty), &value) > 0;
}

/* Is what stands there a sentence of its own: behind a comma or "and" something else that happened, or one more of the
 * recipe ("malt 4.2 kg pale, 0.3 kg crystal")? next->words is that sentence, or stays NULL. AB_ENOMEM. */
enum { DEEPEST = 2 };
static enum ab_status next_begins(const struct sentence *s, const struct ab_when *now, struct ahead *next)
{
	static const char joints[] = "and then + & plus also";
	const struct entry_row *row = s->part[0].row;
	size_t at = s->at, n;
	bool joint = s->breath[at];
	enum ab_status st = AB_OK;

	for (; at < s->n && entry_is_filler(joints, s->word[at]); at++)
		joint = true;
	/* "19 L into the fermenter at 1.046" */
	bool gravity = !joint && entry_is_filler("at", s->word[at]) && entry_is_gravity(s, at + 1) && !entry_would_take(s, at);
	at += gravity;
	joint = joint || gravity;
	/* What is boiled for the bottles is the sugar. */
	if (strcmp(row->element, "package") == 0 && at < s->n && entry_is_filler("boiled dissolved", s->word[at]))
		return AB_OK;
	bool then = begins_then(s, row);
	if (then && (next->words = ab_arena_printf(s->arena, "%s %s", row->then, s->raw[s->at])) == NULL)
		return AB_ENOMEM;
	if (then) {
		next->head = ab_arena_printf(s->arena, "%.*s", (int)(s->raw[s->at] - s->said), s->said);
		return next->head != NULL ? AB_OK : AB_ENOMEM;
	}
	if (!joint || at >= s->n || (!s->part[0].any && row->need) || (row->text && row->slots[0].kind != ENTRY_BREATH) || entry_would_take(s, at))
		return AB_OK;
	bool more = row->inside != NULL && (strchr("0123456789.", s->word[at][0]) != NULL || ab_number_spelled(s->word[at]) != NULL);
	if (entry_row_at(s, at, &n) != NULL) {
		next->words = s->raw[at];
	} else if (more) {
		next->words = ab_arena_printf(s->arena, "%.*s %s", (int)strcspn(row->leads, "|"), row->leads, s->raw[at]);
		st = next->words != NULL ? AB_OK : AB_ENOMEM;
	} else if (gravity && (strcmp(row->element, "recipe") == 0 || strcmp(row->element, "pitch") == 0)) {
		/* What goes in has its original one. */
		next->words = ab_arena_printf(s->arena, "og %s", s->raw[at]);
		st = next->words != NULL ? AB_OK : AB_ENOMEM;
	} else if (s->trying < DEEPEST) {
		st = without_lead(s, at, now, &next->words);
	}
	next->head = next->words == NULL ? NULL : ab_arena_printf(s->arena, "%.*s%s", (int)(s->raw[gravity ? s->at : at] - s->said), s->said, gravity ? ", " : "");
	return next->words != NULL && next->head == NULL ? AB_ENOMEM : st;
}

/* When it happened, said behind it. */
static enum ab_status take_when(struct sentence *s, bool *taken, struct ab_diag *diag)
{
	const char *why = NULL;
	size_t n = s->when.known ? 0 : entry_when_at(s, s->at, &s->when, &why);

	*taken = n > 0 && why == NULL;
	s->at += *taken ? n : 0;
	s->taken = *taken ? s->at : s->taken;
	return why == NULL ? AB_OK : *why == '\0' ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why);
}

/* "first signs" without a length of time are seen now: how long after the yeast went in. Nobody waits a week for them: what
 * bubbles then bubbles again, and is no first sign (working estimate). */
enum { LONGEST_LAG_S = 7 * 86400 };
static bool first_signs_at(const struct sentence *s, const struct ab_when *at, double ago_s, double *after_s)
{
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL, *now = s->when.known ? &s->when : at;

	if (pitched == NULL || !pitched->known || pitched->relative || pitched->date_only || !now->known || now->relative || now->date_only)
		return false;
	*after_s = now->s - ago_s - pitched->s;
	return *after_s > 0 && *after_s <= LONGEST_LAG_S;
}

/* "bubbling since 12 hours": it began 12 hours ago, which is no 12 hours after the yeast went in. */
static enum ab_status since_pitched(struct sentence *s, const struct ab_when *at, struct ab_diag *diag)
{
	struct entry_part *part = &s->part[0];
	bool since = s->lead > 0 && entry_is_filler("since", s->word[s->lead - 1]), told = part->n_sets > 0;
	struct ab_quantity ago = { .value = 0 };
	char hours[32], why[300];
	double after_s;

	if (strcmp(part->row->element, "lag") != 0 || (told && (!since || !ab_quantity_read(part->sets[0].value, AB_DIM_TIME, &ago, why, sizeof why))))
		return AB_OK;
	if (!first_signs_at(s, at, ago.value, &after_s))
		return !told ? AB_OK : ab_fail(diag, AB_EUSAGE, NULL, 0, "how long after the yeast went in were the first signs? Write it like \"first signs "
		    "after 9 h\"");
	ab_num_text(floor(after_s / 360 + 0.5) / 10, hours, sizeof hours);
	const char *value = ab_arena_printf(s->arena, "%s h", hours);
	if (value == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	ab_str_clear(&part->xml);
	ab_str_clear(&s->echo);
	part->n_sets = 0;
	part->any = part->used[0] = true;
	entry_put(s, part, part->row->slots[0].attr, value);
	return AB_OK;
}

/* "forced sample ended at 1.012": did it fall lower than the beer? By more than two readings of one hydrometer differ. */
static enum ab_status forced_result(struct sentence *s, struct ab_diag *diag)
{
	struct entry_part *part = &s->part[0];
	double beer = s->help != NULL ? s->help->last_sg : 0;
	struct ab_quantity q;
	char why[300];

	if (strcmp(part->row->element, "test") != 0 || part->n_sets == 0 ||
	    !ab_quantity_read(part->sets[0].value, AB_DIM_GRAVITY, &q, why, sizeof why))
		return AB_OK;
	bool told = strstr(part->row->fixed, "result") != NULL, fell = strstr(part->row->fixed, "result=\"yes\"") != NULL;
	if (told && beer > 0 && (fell ? q.value > beer - AB_ALIKE_SG : fabs(q.value - beer) > AB_ALIKE_SG))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "the beer stands at %.3f, as told last: a sample at %.20s %s it. If the beer stands elsewhere now, "
		    "write that first, like \"gravity 1.020\"; or write \"forced sample ended at %.20s\"", beer, part->sets[0].value,
		    fell ? "did not fall below" : "did not stay at", part->sets[0].value);
	if (told)
		return AB_OK;
	if (!s->trying && !(beer > 0))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "was that lower than the beer itself? Write \"forced sample fell to %.20s\" or \"forced sample stayed "
		    "at %.20s\"", part->sets[0].value, part->sets[0].value);
	/* On its way it tells nothing yet, and taken for its end it would give leave to bottle. */
	bool lower = q.value < beer - AB_ALIKE_SG, on_its_way = q.value > beer + AB_ALIKE_SG || strcmp(part->row->title, ENTRY_FORCED_READ) == 0;
	if (!s->trying && !lower && on_its_way)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "that is not lower than the beer, which stands at %.3f: is the sample done? It tells once it has stood "
		    "still for a day or two in the warm. Write it then, like \"forced sample stayed at %.3f\" or \"forced sample fell to 1.010\"", beer, beer);
	entry_put(s, part, "result", lower ? "yes" : "no");
	return AB_OK;
}

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

static enum ab_status no_lead(struct sentence *s, const struct ab_when *at, const char **instead, struct ab_diag *diag)
{
	const char *ways[AB_ENTRY_WAYS], *why;

	if (s->trying)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "not understood");
	size_t n = ways_meant(s, s->when.known ? &s->when : at, ways);
	if (n == ENTRY_NOMEM)
		return nomem(diag);
	if (n == 1) {
		*instead = ways[0];
		return AB_OK;
	}
	why = entry_no_lead(s);
	return why != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why) : nomem(diag);
}

/* All that stands behind the lead. */
static enum ab_status take_all(struct sentence *s, const struct ab_when *at, const char **content, struct ahead *next, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	while (st == AB_OK && s->at < s->n) {
		bool taken = false;
		if (s->word[s->at][0] == '~')
			s->guess = true;
		if (entry_take(s, content) || entry_take_item(s))
			continue;
		if (next_begins(s, at, next) == AB_ENOMEM)
			return nomem(diag);
		if (next->words != NULL)
			return AB_OK;
		st = take_when(s, &taken, diag);
		if (st == AB_OK && !taken && !entry_pass_over(s))
			return misunderstood(s, diag);
	}
	return st == AB_OK && s->more && !s->part[0].row->text ? misunderstood(s, diag) : st;
}

/* "sanitised the bucket with" a name nobody knows here: it was done, with what is not told, and that is kept as a note. */
static bool unknown_agent(const struct sentence *s)
{
	bool with = s->at > 0 && s->at < s->n && entry_is_filler("with using", s->word[s->at - 1]) && s->part[0].any &&
	    strncmp(s->part[0].row->leads, "sanitised", 9) == 0 && entry_near(s, s->at) == NULL;

	for (size_t i = s->at; with && i < s->n; i++)
		with = !s->breath[i] && strspn(s->word[i], "0123456789") == 0;
	return with && !s->trying && !ab_denies(s->said);
}

static enum ab_status nothing_said(const struct sentence *s, const struct entry_row *row, struct ab_diag *diag)
{
	const char *note = s->trying || s->n < 2 ? NULL : ab_arena_printf(s->arena, "note %s", s->said);

	if (note == NULL)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "nothing is said about %s. Example: %s", row->title, entry_example_of(s));
	entry_offer(s, note);
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "nothing is said about %s. Example: %s; or write \"%.200s\"", row->title, entry_example_of(s), note);
}

/* "OG at 22 C": how warm a sample was, and by what it was read, tell nothing without what was read. */
static bool lacks_gravity(const struct sentence *s)
{
	const struct entry_part *part = &s->part[0];
	bool sample = false, read = false;

	for (size_t i = 0; strcmp(part->row->element, "reading") == 0 && i < part->n_sets; i++) {
		const char *attr = strchr(part->sets[i].target, ' ') + 1;
		bool about = strcmp(attr, "sample") == 0 || strcmp(attr, "instrument") == 0 || strcmp(attr, "corrected") == 0 || strcmp(attr, "mixed") == 0;
		sample = sample || about;
		read = read || !about;
	}
	return sample && !read;
}

/* "check hydrometer-in-water": which answer? "check yes": of which check? A journal takes none without the other. */
static enum ab_status lacks_answer(const struct sentence *s, struct ab_diag *diag)
{
	const struct entry_part *part = &s->part[0];
	const char *kind = NULL;
	bool result = false;

	if (strcmp(part->row->element, "test") != 0 || part->row->fixed[0] != '\0')
		return AB_OK;
	for (size_t i = 0; i < part->n_sets; i++) {
		const char *attr = strchr(part->sets[i].target, ' ') + 1;
		kind = strcmp(attr, "kind") == 0 ? part->sets[i].value : kind;
		result = result || strcmp(attr, "result") == 0;
	}
	return kind == NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "which check was it? Write it like \"check hydrometer-in-water no\"; \"afterboil rules list checks\" names them all")
	    : !result ? ab_fail(diag, AB_EUSAGE, NULL, 0, "what came of it? Write \"check %.64s yes\" or \"check %.64s no\"", kind, kind) : AB_OK;
}

/* instead: the whole line as it is to be read; next: the sentence behind this one. */
static enum ab_status understand(struct sentence *s, const struct ab_when *at, const char **content, const char **instead, struct ahead *next,
    struct ab_diag *diag)
{
	const char *why;
	size_t lead;
	const struct entry_row *row = find_lead(s, &lead, &why);

	if (why != NULL)
		return *why == '\0' ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why);
	if (entry_asks_back(s) && (row == NULL || !row->text))
		return (why = s->trying ? "not understood" : entry_denied(s)) != NULL ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%s", why) : nomem(diag);
	if (row == NULL)
		return no_lead(s, at, instead, diag);
	begin_parts(s, row, lead);
	enum ab_status st = take_all(s, at, content, next, diag);
	if (st == AB_EUSAGE && unknown_agent(s)) {
		ab_diag_init(diag);
		if (s->help != NULL && s->help->doubt != NULL)
			s->help->doubt->n = 0;
		*instead = ab_arena_printf(s->arena, "note %s", s->said);
		return *instead != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	}
	if (st != AB_OK)
		return st;
	st = since_pitched(s, at, diag);
	st = st == AB_OK ? forced_result(s, diag) : st;
	if (st != AB_OK)
		return st;
	if ((s->part[0].any || !row->need) && !lacks_gravity(s))
		return lacks_answer(s, diag);
	return nothing_said(s, row, diag);
}

static enum ab_status read_one(const char *words, const struct ab_when *at, const struct sentence *like,
    struct ab_entry **out, struct ahead *next, struct ab_diag *diag);

/* The line once more, without the slip of the hand that it was not understood for; the echo says so. AB_EUSAGE: that is none,
 * or not all; diag is as it was. */
static enum ab_status read_mended(const struct sentence *s, const struct ab_when *at, struct ab_entry **out, struct ahead *next, struct ab_diag *diag)
{
	enum { MOST = 3 };
	struct ab_entry_help help = s->help != NULL ? *s->help : (struct ab_entry_help){ 0 };
	const struct sentence like = { .arena = s->arena, .help = s->help != NULL ? &help : NULL, .mends = s->mends + 1 };
	const char *as, *line = NULL;
	struct ab_diag why;
	enum ab_status st = s->trying || s->mends == MOST ? AB_OK : entry_mended(s, &as, &line);

	/* What else it may be is offered of the line as it was said. */
	help.doubt = NULL;
	ab_diag_init(&why);
	if (st == AB_OK)
		st = line == NULL ? AB_EUSAGE : read_one(line, at, &like, out, next, &why);
	if (st != AB_OK && st != AB_ENOMEM)
		return AB_EUSAGE;
	if (st == AB_OK) {
		(*out)->echo = ab_arena_printf(s->arena, "%s (\"%.40s\" read as \"%s\")", (*out)->echo, strchr(as, ' ') != NULL ? entry_joined(s, s->at, 2) : s->word[s->at], as);
		st = (*out)->echo != NULL ? AB_OK : AB_ENOMEM;
	}
	if (st == AB_OK && s->help != NULL && s->help->doubt != NULL)
		s->help->doubt->n = 0;
	ab_diag_init(diag);
	return st == AB_OK ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* One sentence; next: what stands behind it, or NULL. like: whose help, arena, trying and mends. */
static enum ab_status read_one(const char *words, const struct ab_when *at, const struct sentence *like,
    struct ab_entry **out, struct ahead *next, struct ab_diag *diag)
{
	struct sentence s = { .arena = like->arena, .help = like->help, .trying = like->trying, .mends = like->mends };
	const char *content = NULL, *instead = NULL;
	enum ab_status st;

	*next = (struct ahead){ NULL, NULL };
	ab_str_init(&s.echo, 0);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_init(&s.part[i].xml, 0);
	st = entry_cut(&s, words) ? understand(&s, at, &content, &instead, next, diag) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (st == AB_OK && instead != NULL)
		st = read_one(instead, s.when.known ? &s.when : at, like, out, next, diag);
	else if (st == AB_OK)
		st = entry_finish(&s, at, content, out, diag);
	if (st == AB_EUSAGE)
		st = read_mended(&s, at, out, next, diag);
	for (size_t i = 0; i < ENTRY_PARTS; i++)
		ab_str_clear(&s.part[i].xml);
	ab_str_clear(&s.echo);
	return st;
}

/* A later sentence was refused: what can be meant is offered with all that was said before it, or that would be lost. */
static enum ab_status with_head(const struct sentence *like, const char *head, struct ab_diag *diag)
{
	struct ab_entry_doubt *d = like->help != NULL ? like->help->doubt : NULL;
	struct ab_diag why = *diag;

	for (size_t i = 0; d != NULL && i < d->n; i++) {
		d->ways[i] = ab_arena_printf(like->arena, "%s%s", head, d->ways[i]);
		if (d->ways[i] == NULL)
			return AB_ENOMEM;
	}
	ab_diag_init(diag);
	if (d != NULL && d->n > 0)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "%.700s. The whole line: \"%.400s\"", why.text, d->ways[0]);
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "%.700s. Nothing of \"%.200s\" was written either", why.text, head);
}

static enum ab_status read_all(const char *words, const struct ab_when *at, const struct sentence *like, struct ab_entry **out, struct ab_diag *diag)
{
	struct ab_entry *first = NULL, **to = &first;
	struct ab_when moment = *at;
	struct ahead next = { words, NULL };
	const char *head = "";
	enum ab_status st = AB_OK;

	*out = NULL;
	if (strlen(words) > AB_ENTRY_LIMIT)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "a line may be %d bytes long, this one has %zu",
		    AB_ENTRY_LIMIT, strlen(words));
	while (st == AB_OK && next.words != NULL) {
		words = next.words;
		st = read_one(words, &moment, like, to, &next, diag);
		if (st == AB_OK) {
			moment = (*to)->at;
			while (*to != NULL)
				to = &(*to)->next;
		}
		if (st == AB_OK && next.words != NULL && !like->trying && (head = ab_arena_printf(like->arena, "%s%s", head, next.head)) == NULL)
			return nomem(diag);
	}
	if (st == AB_OK)
		*out = first;
	if (st == AB_EUSAGE && *head != '\0' && with_head(like, head, diag) == AB_ENOMEM)
		return nomem(diag);
	return st;
}

enum ab_status ab_entry_read(const char *words, const struct ab_when *at, const struct ab_entry_help *help,
    struct ab_arena *arena, struct ab_entry **out, struct ab_diag *diag)
{
	const struct sentence like = { .arena = arena, .help = help };

	if (help != NULL && help->doubt != NULL)
		help->doubt->n = 0;
	*out = NULL;
	bool pieces = false;
	enum ab_status st = strlen(words) > AB_ENTRY_LIMIT ? AB_OK : entry_dose(words, help, arena, &words, &pieces, diag);
	if (st == AB_OK)
		st = read_all(words, at, &like, out, diag);
	/* The note on them is the last that the line says. */
	struct ab_entry *last = st == AB_OK ? *out : NULL;
	while (last != NULL && last->next != NULL)
		last = last->next;
	if (pieces && last != NULL) {
		last->echo = ab_arena_printf(arena, "%s. How much was that? Drops, cubes and spoons differ: weigh some, and write \"primed with ... g "
		    "sugar\", the sugar of the whole beer; till then nobody can tell how much gas there will be", last->echo);
		st = last->echo != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	}
	return st;
}

enum ab_status entry_understood(const struct sentence *s, const char *line)
{
	const struct ab_when never = { 0 }, *now = s->help != NULL ? s->help->now : NULL;
	const struct sentence like = { .arena = s->arena, .help = s->help, .trying = s->trying + 1 };
	struct ab_entry *entry;
	struct ab_diag diag;

	ab_diag_init(&diag);
	return read_all(line, now != NULL ? now : &never, &like, &entry, &diag);
}

bool ab_entry_when(const char *words, const struct ab_when *now, const struct ab_when *pitched, struct ab_arena *arena, struct ab_when *out)
{
	const struct ab_entry_help help = { .now = now, .pitched = pitched };
	struct sentence s = { .arena = arena, .help = &help };
	struct ab_when when;
	const char *why = NULL;
	bool good = strlen(words) <= AB_ENTRY_LIMIT && entry_cut(&s, words) && s.n > 0 && entry_when_at(&s, 0, &when, &why) == s.n && why == NULL;

	if (good)
		*out = when;
	return good;
}

const char *ab_entry_recipe_part(const char *words, struct ab_arena *arena)
{
	struct sentence s = { .arena = arena };
	size_t n = 0;
	const struct entry_row *row = strlen(words) <= AB_ENTRY_LIMIT && entry_cut(&s, words) ? entry_row_at(&s, 0, &n) : NULL;

	return row != NULL && row->inside != NULL && n == s.n ? row->element : NULL;
}
