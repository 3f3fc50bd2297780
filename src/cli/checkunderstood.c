/* checkunderstood.c - "check" says a profile back: what it was taken for
 *
 * By the advice that it would get, so that what is said here is what is done there.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/checking.h"

#include <math.h>
#include <string.h>

#include <afterboil/batchplan.h>
#include <afterboil/unreckoned.h>
#include "journal/tables.h"

/* Of a trouble in no word of the rules advice would refuse everything; "check" has said that it is odd. */
static enum ab_status known_troubles(struct cli *cli, struct ab_profile *p)
{
	struct ab_trouble *known = ab_arena_alloc(cli->arena, p->troubles.n + 1, sizeof *known);
	size_t n = 0;
	if (known == NULL)
		return cli_nomem(cli);
	for (AB_EACH(const struct ab_trouble, t, p->troubles))
		if (check_trouble_known(cli, t))
			known[n++] = *t;
	p->troubles = (struct ab_list){ .items = known, .n = n, .cap = n };
	return AB_OK;
}

/* Of a thing in no word of the rules, too. */
static enum ab_status known_things(struct cli *cli, struct ab_profile *p)
{
	struct ab_owns *known = ab_arena_alloc(cli->arena, p->things.n + 1, sizeof *known);
	size_t n = 0;
	if (known == NULL)
		return cli_nomem(cli);
	for (AB_EACH(const struct ab_owns, o, p->things))
		if (ab_thing_word(cli->k, o->thing, NULL, 0, NULL) >= 0)
			known[n++] = *o;
	p->things = (struct ab_list){ .items = known, .n = n, .cap = n };
	return AB_OK;
}

static enum ab_status work_advice(
    struct cli *cli, struct ab_profile *p, struct ab_case *const *cases, const struct ab_advice **out)
{
	const struct ab_advice_options options = { .budget = (double)NAN, .minutes = (double)NAN,
		.away_hours = (double)NAN, .horizon_years = (double)NAN, .running = (double)NAN, .threads = 1 };
	struct ab_advice *advice = NULL;
	enum ab_status st = known_troubles(cli, p);
	if (st == AB_OK)
		st = known_things(cli, p);
	if (st == AB_OK)
		st = ab_advise(cli->k, cases, cli->n_batches, p, &options, cli->arena, &advice, &cli->diag);
	*out = advice;
	return st;
}

static bool same_facts(const struct ab_fact *a, const struct ab_fact *b, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (a[i].origin != b[i].origin || a[i].guess != b[i].guess ||
		    (AB_FACT_KNOWN(&a[i]) && (a[i].value < b[i].value || a[i].value > b[i].value ||
						 a[i].u < b[i].u || a[i].u > b[i].u)))
			return false;
	return true;
}

/* Takes an element out of the habits: the line of the first of them, 0 when there is none. */
static long take_out(struct ab_batch *usual, const struct ab_elem_spec *spec)
{
	static const struct ab_list empty;
	char *at = (char *)usual + spec->at;
	struct ab_list list = empty;
	void *one = NULL;
	if (spec->many) {
		memcpy(&list, at, sizeof list);
		memcpy(at, &empty, sizeof empty);
		return list.n > 0 ? ((const struct ab_mark *)list.items)->line : 0;
	}
	memcpy(&one, at, sizeof one);
	memset(at, 0, sizeof one);
	return one != NULL ? ((const struct ab_mark *)one)->line : 0;
}

static bool is_said(const struct ab_understood *u, const char *element)
{
	for (size_t i = 0; i < u->n_unreckoned; i++)
		if (strcmp(u->unreckoned[i].element, element) == 0)
			return true;
	return false;
}

/* Habits without which every fact is as it was. */
static enum ab_status find_mute(
    struct cli *cli, const struct ab_batch *nothing, struct ab_understood *u, struct ab_unreckoned *kept)
{
	struct ab_profile p = *u->profile;
	struct ab_batch *usual = ab_arena_alloc(cli->arena, 1, sizeof *usual);
	struct ab_fact *facts = ab_arena_alloc(cli->arena, cli->k->facts->n, sizeof *facts);
	enum ab_status st = usual == NULL || facts == NULL ? cli_nomem(cli) : AB_OK;
	p.usual = usual;
	for (const struct ab_elem_spec *spec = ab_batch_children; st == AB_OK && spec->name != NULL; spec++) {
		*usual = *u->profile->usual;
		long line = spec->has_text ? 0 : take_out(usual, spec);
		if (line == 0 || is_said(u, spec->name))
			continue;
		st = ab_facts_bare(nothing, &p, &cli->k->norms, cli->arena, facts, &cli->diag);
		if (st == AB_OK && u->n_unreckoned < AB_UNRECKONED_MOST &&
		    same_facts(facts, u->usual->facts, cli->k->facts->n))
			kept[u->n_unreckoned++] = (struct ab_unreckoned){ line, spec->name, NULL,
				"by itself no fact comes of it", -1 };
	}
	return st;
}

/* What the habits amount to: a batch of which nothing else is told. */
static enum ab_status work_usual(struct cli *cli, const struct ab_profile *p, struct ab_understood *u)
{
	static const struct ab_batch nothing;
	struct ab_batch *batch = ab_arena_alloc(cli->arena, 1, sizeof *batch);
	struct ab_unreckoned *kept = ab_arena_alloc(cli->arena, AB_UNRECKONED_MOST, sizeof *kept);
	struct ab_fact *without = ab_arena_alloc(cli->arena, cli->k->facts->n, sizeof *without);
	struct ab_diagnose_options options;
	struct ab_case *usual = NULL;
	if (batch == NULL || kept == NULL || without == NULL)
		return cli_nomem(cli);
	*batch = nothing;
	batch->id = "usual";
	batch->source = p->source;
	work_options(cli, false, &options);
	options.beliefs_only = true;
	enum ab_status st = ab_case_work(cli->k, batch, p, &options, cli->arena, &usual, &cli->diag);
	if (st == AB_OK)
		st = ab_facts_bare(batch, NULL, &cli->k->norms, cli->arena, without, &cli->diag);
	u->usual = usual;
	u->without = without;
	u->unreckoned = kept;
	if (st != AB_OK || p->usual == NULL)
		return st;
	u->n_unreckoned = ab_unreckoned(p->usual, usual->facts, kept);
	return find_mute(cli, batch, u, kept);
}

enum ab_status check_understood(struct cli *cli, struct ab_case *const *cases)
{
	struct ab_profile *p = ab_arena_alloc(cli->arena, 1, sizeof *p);
	struct ab_days *days = ab_arena_alloc(cli->arena, 1, sizeof *days);
	struct ab_understood u = { .profile = cli->profile, .days = days };
	char *text = NULL;
	if (p == NULL || days == NULL)
		return cli_nomem(cli);
	*p = *cli->profile;
	enum ab_status st = work_advice(cli, p, cases, &u.advice);
	if (st == AB_OK)
		st = work_usual(cli, p, &u);
	if (st == AB_OK)
		st = ab_days_of_profile(p, work_today_s(), true, days, &u.days_told, &cli->diag);
	if (st != AB_OK)
		return st;
	terminal_look(cli);
	st = ab_report_profile(cli->k, &u, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
