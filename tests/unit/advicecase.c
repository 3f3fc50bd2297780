/* advicecase.c - a small brewery for tests of advice
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advicecase.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char body[] =
    "<fault id='butter' severity='3' source='estimate'><title>Butter</title><word>buttery</word>"
    "<leak noticeable='0.02' strong='0.001' source='estimate'/></fault>\n"
    "<fault id='paper' severity='2' source='estimate'><title>Paper</title><word>papery</word>"
    "<leak noticeable='0.05' strong='0.001' source='estimate'/></fault>\n"
    "<cause id='warm' side='cold' stage='ferment'><title>Too warm</title><why>so</why>"
    "<prior p='0.3' source='estimate'/>"
    "<prior p='0.1' source='estimate'><when fact='t.control' is='fridge'/></prior>"
    "<sign fact='t.over' unit='K' source='estimate'><at x='0' ratio='0.5'/><at x='4' ratio='8'/></sign>"
    "<gives fault='butter' noticeable='0.5' moderate='0.2' strong='0.1' source='estimate'/></cause>\n"
    "<cause id='stale' side='cold' stage='package'><title>Gone stale</title><why>so</why>"
    "<prior p='0.2' source='estimate'/>"
    "<sign fact='t.share' unit='share' source='estimate'><at x='0' ratio='4'/><at x='1' ratio='0.25'/></sign>"
    "<gives fault='paper' noticeable='0.5' moderate='0.2' strong='0.05' source='estimate'/></cause>\n"
    "<cause id='husky' side='hot' stage='mash'><title>Husky</title><why>so</why><prior p='0.15' source='estimate'/>"
    "<gives fault='paper' noticeable='0.4' moderate='0.2' strong='0' source='estimate'/></cause>\n"
    "<cause id='young' side='cold' stage='store' kind='benign'><title>Young</title><why>so</why>"
    "<prior p='0.3' source='estimate'/>"
    "<gives fault='butter' noticeable='0.5' moderate='0.2' strong='0.1' source='estimate'/></cause>\n"
    "<family id='odd'><title>odd ones</title><expects fault='paper' up-to='slight' source='estimate'/>"
    "<hurts fault='butter' factor='1.5' source='estimate'/><carbonation low='2 vol' high='3 vol' source='estimate'/>"
    "<freshness fading='60' stale='150' long-stale='500' source='estimate'/></family>\n"
    "<family id='plain'><title>plain ones</title><carbonation low='2.2 vol' high='2.6 vol' source='estimate'/>"
    "<freshness fading='60' stale='150' long-stale='500' source='estimate'/></family>\n"
    "<yeast id='ale' title='ale' low='17 C' high='20 C' tolerated-low='60 F' tolerated-high='22 C' "
    "attenuation-low='73 %'"
    " attenuation-high='80 %' pitch-rate='0.75' rest='18 C' primary='7 d' clean='3 d' lag='24 h' source='estimate'/>\n";

void brewery_open(struct brewery *b, const char *changes)
{
	memset(b, 0, sizeof *b);
	ab_diag_init(&b->diag);
	b->k = tiny_read(body, changes);
	b->arena = ab_arena_new();
	b->profile = ab_arena_alloc(b->arena, 1, sizeof *b->profile);
	b->options = (struct ab_advice_options){
		.budget = NAN, .minutes = NAN, .away_hours = NAN, .horizon_years = NAN, .running = NAN
	};
}

void brewery_close(struct brewery *b)
{
	ab_arena_free(b->arena);
	tiny_clean();
}

void *brewery_push(struct brewery *b, struct ab_list *list, size_t size)
{
	void *p = ab_arena_push(b->arena, &list->items, &list->n, &list->cap, size);

	ck_assert_ptr_nonnull(p);
	return p;
}

struct ab_batch *brewery_brewed(struct brewery *b)
{
	struct ab_batch *batch = ab_arena_alloc(b->arena, 1, sizeof *batch);

	batch->pitch = ab_arena_alloc(b->arena, 1, sizeof *batch->pitch);
	return batch;
}

struct ab_case *brewery_batch(struct brewery *b)
{
	struct ab_case *c = ab_arena_alloc(b->arena, 1, sizeof *c);

	ck_assert(b->n < MOST_BATCHES);
	c->batch = brewery_brewed(b);
	c->facts = ab_arena_alloc(b->arena, b->k->facts->n, sizeof *c->facts);
	c->evidence.family = -1;
	c->diagnosis = ab_arena_alloc(b->arena, 1, sizeof *c->diagnosis);
	c->diagnosis->present = ab_arena_alloc(b->arena, b->k->n_causes, sizeof *c->diagnosis->present);
	c->fault_intensity = ab_arena_alloc(b->arena, b->k->n_faults, sizeof *c->fault_intensity);
	b->cases[b->n++] = c;
	return c;
}

void brewery_bad_batches(struct brewery *b, size_t n)
{
	while (n-- > 0) {
		struct ab_case *c = brewery_batch(b);

		c->facts[T_OVER] = tiny_fact(4);
		c->facts[T_SHARE] = tiny_fact(0);
	}
	brewery_ready(b);
}

void brewery_ready(struct brewery *b)
{
	for (size_t i = 0; i < b->n; i++)
		ab_alone(b->k, b->cases[i]->facts, b->cases[i]->diagnosis->present);
}

void brewery_note(struct brewery *b, struct ab_case *c, const char *what, int adopted)
{
	struct ab_list changes = c->batch->changes;
	struct ab_change_note *note = brewery_push(b, &changes, sizeof *note);
	struct ab_batch *batch = brewery_brewed(b);

	note->what = what;
	note->adopted = adopted;
	batch->changes = changes;
	c->batch = batch;
}

const struct ab_advice *brewery_advise(struct brewery *b)
{
	struct ab_advice *advice = NULL;
	enum ab_status st = ab_advise(b->k, b->cases, b->n, b->profile, &b->options, b->arena, &advice, &b->diag);

	ck_assert_msg(st == AB_OK, "status %d: %s", (int)st, b->diag.text);
	return advice;
}

const struct ab_item *brewery_item(const struct brewery *b, const struct ab_advice *advice, const char *id)
{
	for (size_t i = 0; i < advice->n_items; i++)
		if (strcmp(b->k->changes[advice->items[i].change].id, id) == 0)
			return &advice->items[i];
	ck_abort_msg("no item %s", id);
	return NULL;
}

const char *brewery_plan(const struct brewery *b, const struct ab_advice *advice, char *out, size_t size)
{
	size_t len = 0;

	out[0] = '\0';
	for (size_t i = 0; i < advice->n_plan && len < size; i++)
		len += (size_t)snprintf(out + len, size - len, "%s%s", i > 0 ? " " : "",
		    b->k->changes[advice->items[advice->plan[i]].change].id);
	return out;
}
