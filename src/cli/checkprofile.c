/* checkprofile.c - "check" on a profile: its ids and words held against the rules
 *
 * Only what the rules do not know is odd here; the profile's own slips were errors when it was read.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/checking.h"

#include <string.h>

#include <afterboil/batchplan.h>

enum { NEAR = 5 };

bool check_trouble_known(const struct cli *cli, const struct ab_trouble *t)
{
	size_t n_near = 0;
	return t->fault != NULL ? ab_fault_word(cli->k, t->fault, NULL, 0, &n_near) >= 0
	    : t->cause != NULL  ? ab_cause_find(cli->k, t->cause) >= 0
				: ab_chore_word(cli->k, t->chore) >= 0;
}

/* A fault or chore in no word of the rules, or a cause by no id of theirs: "advise" would refuse the profile for it. */
static enum ab_status check_trouble(struct cli *cli, const struct ab_trouble *t)
{
	static const char *const kinds[] = { "fault", "cause", "chore" };
	char instead[300];
	enum ab_trouble_kind kind = t->fault != NULL ? AB_TROUBLE_FAULT
	    : t->cause != NULL                       ? AB_TROUBLE_CAUSE
						     : AB_TROUBLE_CHORE;
	const char *named = t->fault != NULL ? t->fault : t->cause != NULL ? t->cause : t->chore;
	if (check_trouble_known(cli, t))
		return AB_OK;
	cli->attention = true;
	ab_trouble_instead(cli->k, kind, named, instead, sizeof instead);
	return check_line(cli,
	    ab_arena_printf(cli->arena,
		"%s:%ld: odd: no %s is called \"%s\"; \"afterboil rules list %ss\" shows them%s%s", cli->o.profile,
		t->mark.line, kinds[kind], named, kinds[kind], instead[0] != '\0' ? "; " : "", instead));
}

/* "; near it: ..." of n ids, "" of none; NULL: short of memory. */
static const char *near_them(struct cli *cli, const char *const *near, size_t n)
{
	const char *list = "";
	for (size_t i = 0; list != NULL && i < n; i++)
		list = ab_arena_printf(cli->arena, "%s%s\"%s\"", list, i == 0 ? "; near it: " : ", ", near[i]);
	return list;
}

/* "fridge" is no id, and may be any of several. */
enum ab_status check_change(struct cli *cli, const char *file, const char *element, long line, const char *id)
{
	const char *near[NEAR] = { NULL };
	size_t n = 0;
	if (id == NULL || ab_change_find(cli->k, id) >= 0)
		return AB_OK;
	int meant = ab_change_word(cli->k, id, near, NEAR, &n);
	if (meant >= 0) {
		near[0] = cli->k->changes[meant].id;
		n = 1;
	}
	const char *list = near_them(cli, near, n);
	int thing = strcmp(element, "owns") == 0 ? ab_thing_word(cli->k, id, NULL, 0, NULL) : -1;
	if (list != NULL && thing >= 0)
		list = ab_arena_printf(cli->arena, "; it is a thing: write thing=\"%s\"", cli->k->things[thing].id);
	cli->attention = true;
	return list == NULL ? cli_nomem(cli)
			    : check_line(cli,
				  ab_arena_printf(cli->arena,
				      "%s:%ld: odd: no change is called \"%s\" (<%s>); "
				      "\"afterboil rules list changes\" shows them%s",
				      file, line, id, element, list));
}

static enum ab_status check_thing(struct cli *cli, const struct ab_owns *owns)
{
	const char *near[NEAR];
	size_t n = 0;
	if (ab_thing_word(cli->k, owns->thing, near, NEAR, &n) >= 0)
		return AB_OK;
	const char *list = near_them(cli, near, n);
	cli->attention = true;
	return list == NULL ? cli_nomem(cli)
			    : check_line(cli,
				  ab_arena_printf(cli->arena,
				      "%s:%ld: odd: no thing is called \"%s\" (<owns>); "
				      "\"afterboil rules list things\" shows them%s",
				      cli->o.profile, owns->mark.line, owns->thing, list));
}

/* By the calendar's own reader: what it would refuse is refused here, before somebody wants a calendar. */
static enum ab_status check_days(struct cli *cli)
{
	struct ab_days *days = ab_arena_alloc(cli->arena, 1, sizeof *days);
	bool told;
	return days == NULL
	    ? cli_nomem(cli)
	    : ab_days_of_profile(cli->profile, work_today_s(), true, days, &told, &cli->diag);
}

enum ab_status check_profile(struct cli *cli)
{
	const struct ab_profile *p = cli->profile;
	if (p == NULL)
		return AB_OK;
	enum ab_status st = check_days(cli);
	for (AB_EACH(struct ab_owns, o, p->owns))
		st = st != AB_OK ? st : check_change(cli, cli->o.profile, "owns", o->mark.line, o->change);
	for (AB_EACH(struct ab_owns, o, p->things))
		st = st != AB_OK ? st : check_thing(cli, o);
	for (AB_EACH(struct ab_refuses, r, p->refuses))
		st = st != AB_OK ? st : check_change(cli, cli->o.profile, "refuses", r->mark.line, r->change);
	for (AB_EACH(struct ab_price, r, p->prices))
		st = st != AB_OK ? st : check_change(cli, cli->o.profile, "price", r->mark.line, r->change);
	for (AB_EACH(struct ab_changed, c, p->changed))
		st = st != AB_OK ? st : check_change(cli, cli->o.profile, "changed", c->mark.line, c->what);
	for (AB_EACH(struct ab_trouble, t, p->troubles))
		st = st != AB_OK ? st : check_trouble(cli, t);
	return st != AB_OK ? st : check_line(cli, ab_arena_printf(cli->arena, "%s: OK, profile read", cli->o.profile));
}
