/* revising.c - the verdicts of a line, each held against what the line's later batches said
 *
 * The store keeps facts and beliefs of each batch; from these come the odds between the suspects of a verdict and
 * what is known of the later batches. Whether a fault was looked for and not found is not kept: a fault that is not
 * mentioned weighs little (revise.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/revise.h>

#include <assert.h>
#include <math.h>
#include <string.h>
#include <afterboil/diagnose.h>
#include <afterboil/held.h>

/* A verdict: half of the blame for a fault or more on one cause. Fainter suspects than FAINT are not followed. A
 * verdict is told as overturned when LOST of it is gone (policy by estimate). */
#define VERDICT 0.5
#define FAINT 0.005
#define LOST (1.0 / 3)
/* A sign that makes a cause three times likelier, or as much less, speaks of whether it was there (policy). */
#define SPEAKS 3.0

/* facts, prior, alone: of every batch, n x facts or n x causes. */
struct revising {
	const struct ab_knowledge *k;
	const struct ab_past *past;
	size_t n;
	struct ab_fact *facts;
	double *prior, *alone;
	double *belief, *chance;     /* n_causes + 1: the last is what the rules do not name */
	int *suspect;                /* n_causes + 1 */
	size_t n_suspects;
	struct ab_later *later;      /* n */
	int *place; /* of each change noted with the batches, among the rules' or -1, one batch after the other */
	size_t *first;               /* n + 1: the places of batch b are place[first[b]] .. place[first[b + 1] - 1] */
	double *left;                /* n x n_causes: 1 - taken(), of verdict `left_of`; NAN: not asked for yet */
	size_t left_of;
	struct ab_revision *out;
	size_t n_out, room;
	struct ab_arena *arena;
};

static const struct ab_fact *facts_of(const struct revising *r, size_t b)
{
	return r->facts + b * r->k->facts->n;
}

/* Words alone say what sort of brewing it is; the rest of the facts is evidence. context: scratch. */
static void read_facts(struct revising *r, size_t b, struct ab_fact *context)
{
	size_t n = r->k->facts->n;
	struct ab_fact *facts = r->facts + b * n;

	for (size_t i = 0; i < r->past[b].n_facts; i++)
		facts[r->past[b].slots[i]] = (struct ab_fact){
			.origin = AB_ORIGIN_DERIVED, .value = r->past[b].values[i], .u = r->past[b].us[i]
		};
	memset(context, 0, n * sizeof *context);
	for (size_t s = 0; s < n; s++)
		if (r->k->facts->defs[s].kind == AB_FACT_WORD)
			context[s] = facts[s];
	ab_alone(r->k, context, r->prior + b * r->k->n_causes);
	ab_alone(r->k, facts, r->alone + b * r->k->n_causes);
}

/* As with all links and leaks, the last whose conditions hold. */
static double strength(const struct revising *r, size_t b, size_t cause, size_t fault)
{
	const struct ab_cause *c = &r->k->causes[cause];
	double tail = 0;

	for (size_t i = 0; i < c->n_links; i++)
		if ((size_t)c->links[i].fault == fault && ab_conds_hold(&c->links[i].when, facts_of(r, b)))
			tail = c->links[i].tail[1];
	return tail;
}

static double leak(const struct revising *r, size_t b, size_t fault)
{
	const struct ab_fault *f = &r->k->faults[fault];
	double tail = 0;

	for (size_t i = 0; i < f->n_leaks; i++)
		if (ab_conds_hold(&f->leaks[i].when, facts_of(r, b)))
			tail = f->leaks[i].tail[1];
	return tail;
}

static bool found(const struct revising *r, size_t b, size_t fault)
{
	return r->past[b].tasted && r->past[b].fault_intensity[fault] > 0;
}

/* The suspects of one fault of a verdict, with its blame dealt out among them as advice deals it: by blame and
 * strength, a part to the leak. Returns the place of the leader among them, -1 when none has half of it. */
static int suspects(struct revising *r, size_t v, size_t fault)
{
	double sum = leak(r, v, fault);
	int leader = -1;

	r->n_suspects = 0;
	for (size_t i = 0; i < r->k->n_causes; i++)
		sum += r->past[v].blame[i] * strength(r, v, i, fault);
	for (size_t i = 0; sum > 0 && i < r->k->n_causes; i++) {
		double part = r->past[v].blame[i] * strength(r, v, i, fault) / sum;

		if (part < FAINT)
			continue;
		if (part >= VERDICT && !r->k->causes[i].benign)
			leader = (int)r->n_suspects;
		r->suspect[r->n_suspects] = (int)i;
		r->belief[r->n_suspects++] = part;
	}
	r->suspect[r->n_suspects] = -1;
	r->belief[r->n_suspects++] = sum > 0 ? leak(r, v, fault) / sum : 1;
	return leader;
}

/* Does a fact that the change sets, and the cause has a sign of, tell of this batch by itself? */
static bool shows(const struct revising *r, const struct ab_change *u, size_t cause, size_t b)
{
	const struct ab_cause *c = &r->k->causes[cause];

	for (size_t s = 0; s < u->n_sets; s++)
		for (size_t i = 0; i < c->n_signs; i++)
			if (c->signs[i].slot == u->sets[s].slot && AB_FACT_KNOWN(&facts_of(r, b)[u->sets[s].slot]))
				return true;
	return false;
}

static double work_left(const struct revising *r, size_t v, size_t b, size_t cause)
{
	double left = 1;

	for (size_t i = r->first[v + 1]; i < r->first[b + 1]; i++) {
		const struct ab_change *u = r->place[i] >= 0 ? &r->k->changes[r->place[i]] : NULL;
		double share = 0;

		for (size_t p = 0; u != NULL && p < u->n_prevents; p++)
			if ((size_t)u->prevents[p].cause == cause &&
			    ab_conds_hold(&u->prevents[p].when, facts_of(r, b)))
				share = u->prevents[p].share;
		if (u != NULL && !shows(r, u, cause, b))
			left *= 1 - share;
	}
	return left;
}

/* What the changes noted since the verdict take of a cause in batch b, where its facts do not show it. Asked for
 * every suspect of every fault, so it is kept until the next verdict is looked at. */
static double taken(struct revising *r, size_t v, size_t b, size_t cause)
{
	size_t at = b * r->k->n_causes + cause;

	if (r->left_of != v)
		for (size_t i = 0; i < r->n * r->k->n_causes; i++)
			r->left[i] = NAN;
	r->left_of = v;
	if (isnan(r->left[at]))
		r->left[at] = work_left(r, v, b, cause);
	return 1 - r->left[at];
}

/* P(the fault without this suspect): from nowhere, or from the other causes as often as the batch's facts say. */
static double otherwise(struct revising *r, size_t v, size_t b, int suspect, size_t fault)
{
	double clean = 1 - leak(r, b, fault);

	for (size_t i = 0; i < r->k->n_causes; i++)
		if ((int)i != suspect)
			clean *= 1 -
			    r->alone[b * r->k->n_causes + i] * (1 - taken(r, v, b, i)) * strength(r, b, i, fault);
	return 1 - clean;
}

/* What is known of batch b for one suspect; cause -1: no sign tells of what the rules do not name. */
static struct ab_later look(struct revising *r, size_t v, size_t b, int cause, size_t fault)
{
	struct ab_later l = { .found = found(r, b, fault), .sign = 1, .strength = 1,
		.leak = otherwise(r, v, b, cause, fault) };
	double prior;

	if (cause < 0)
		return l;
	prior = r->prior[b * r->k->n_causes + (size_t)cause];
	l.sign = prior > 0 ? ab_exposed_ratio(prior, r->alone[b * r->k->n_causes + (size_t)cause]) : 0;
	l.strength = strength(r, b, (size_t)cause, fault);
	l.taken = taken(r, v, b, (size_t)cause);
	return l;
}

static double rate_of(const struct revising *r, size_t v, int cause, size_t fault)
{
	return cause < 0 ? leak(r, v, fault) : r->prior[v * r->k->n_causes + (size_t)cause];
}

/* What spoke, in plain counts, for the leading cause of the verdict. */
static void count(struct ab_revision *x, const struct ab_later *l)
{
	bool hardly = l->sign <= 1 / SPEAKS || l->taken >= VERDICT;

	x->later++;
	x->found += l->found;
	x->came_without += l->found && hardly;
	x->stayed_away += !l->found && l->sign >= SPEAKS && !hardly;
	x->acted = x->acted || l->taken > 0;
}

/* Every suspect's chance of what came later, and what Bayes makes of the verdict. Fills x; false when it stands. */
static bool turn(struct revising *r, size_t v, size_t fault, int leader, struct ab_revision *x)
{
	size_t now = 0;

	*x = (struct ab_revision){ .line = r->past[v].line, .batch = r->past[v].id, .fault = (int)fault,
		.cause = r->suspect[leader], .before = r->belief[leader] };
	for (size_t i = 0; i < r->n_suspects; i++) {
		size_t n = 0;

		for (size_t b = v + 1; b < r->n; b++) {
			if (!r->past[b].tasted)
				continue;
			r->later[n] = look(r, v, b, r->suspect[i], fault);
			if ((int)i == leader)
				count(x, &r->later[n]);
			n++;
		}
		r->chance[i] = ab_revise_chance(rate_of(r, v, r->suspect[i], fault), r->later, n);
	}
	memcpy(r->chance + r->k->n_causes + 1, r->belief, r->n_suspects * sizeof *r->belief);
	ab_revise(r->belief, r->chance, r->n_suspects);
	for (size_t i = 1; i < r->n_suspects; i++)
		if (r->belief[i] > r->belief[now])
			now = i;
	x->after = r->belief[leader];
	x->leader = r->suspect[now];
	x->leader_before = r->chance[r->k->n_causes + 1 + now];
	x->leader_after = r->belief[now];
	return now != (size_t)leader && x->after <= (1 - LOST) * x->before;
}

/* Was the same said of an earlier batch? Then that one is looked at, with all that came since. */
static bool said_before(struct revising *r, size_t v, size_t fault, int cause)
{
	for (size_t b = 0; b < v; b++) {
		int leader = found(r, b, fault) ? suspects(r, b, fault) : -1;

		if (leader >= 0 && r->suspect[leader] == cause)
			return true;
	}
	return false;
}

static bool keep(struct revising *r, const struct ab_revision *x)
{
	if (r->n_out == r->room) {
		size_t room = r->room > 0 ? 2 * r->room : 4;
		struct ab_revision *list = ab_arena_alloc(r->arena, room, sizeof *list);

		if (list == NULL)
			return false;
		if (r->n_out > 0)
			memcpy(list, r->out, r->n_out * sizeof *list);
		r->out = list;
		r->room = room;
	}
	r->out[r->n_out++] = *x;
	return true;
}

static bool judge(struct revising *r, size_t v, size_t fault)
{
	struct ab_revision x;
	int leader = found(r, v, fault) ? suspects(r, v, fault) : -1;

	if (leader < 0 || said_before(r, v, fault, r->suspect[leader]))
		return true;
	leader = suspects(r, v, fault);   /* said_before used the same room */
	return !turn(r, v, fault, leader, &x) || keep(r, &x);
}

static bool find_places(struct revising *r)
{
	size_t n = 0;

	r->first = ab_arena_alloc(r->arena, r->n + 1, sizeof *r->first);
	for (size_t b = 0; b < r->n; b++)
		n += r->past[b].n_changes;
	r->place = ab_arena_alloc(r->arena, n, sizeof *r->place);
	if (r->first == NULL || r->place == NULL)
		return false;
	for (size_t b = 0; b < r->n; b++) {
		r->first[b + 1] = r->first[b];
		for (size_t j = 0; j < r->past[b].n_changes; j++)
			r->place[r->first[b + 1]++] = ab_change_find(r->k, r->past[b].changes[j]);
	}
	return true;
}

static bool make_room(struct revising *r, struct ab_fact **context)
{
	size_t n_causes = r->k->n_causes, n_facts = r->k->facts->n;

	r->facts = ab_arena_alloc(r->arena, r->n * n_facts, sizeof *r->facts);
	r->prior = ab_arena_alloc(r->arena, r->n * n_causes, sizeof *r->prior);
	r->alone = ab_arena_alloc(r->arena, r->n * n_causes, sizeof *r->alone);
	r->belief = ab_arena_alloc(r->arena, n_causes + 1, sizeof *r->belief);
	r->chance = ab_arena_alloc(r->arena, 2 * (n_causes + 1), sizeof *r->chance);
	r->suspect = ab_arena_alloc(r->arena, n_causes + 1, sizeof *r->suspect);
	r->later = ab_arena_alloc(r->arena, r->n, sizeof *r->later);
	r->left = ab_arena_alloc(r->arena, r->n * n_causes, sizeof *r->left);
	r->left_of = r->n;
	*context = ab_arena_alloc(r->arena, n_facts, sizeof **context);
	return r->facts != NULL && r->prior != NULL && r->alone != NULL && r->belief != NULL && r->chance != NULL &&
	    r->suspect != NULL && r->later != NULL && r->left != NULL && *context != NULL && find_places(r);
}

enum ab_status ab_revise_line(const struct ab_knowledge *k, const struct ab_past *past, size_t n,
    struct ab_arena *arena, struct ab_revision **out, size_t *n_out, struct ab_diag *diag)
{
	struct revising r = { .k = k, .past = n > AB_REVISE_MOST ? past + (n - AB_REVISE_MOST) : past,
		.n = n > AB_REVISE_MOST ? AB_REVISE_MOST : n, .arena = arena };
	struct ab_fact *context;
	bool ok = make_room(&r, &context);

	*out = NULL;
	*n_out = 0;
	for (size_t b = 0; ok && b < r.n; b++) {
		assert(r.past[b].blame != NULL);
		read_facts(&r, b, context);
	}
	for (size_t v = 0; ok && v + 1 < r.n; v++)
		for (size_t f = 0; ok && f < k->n_faults; f++)
			ok = judge(&r, v, f);
	if (!ok)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while looking at past verdicts again");
	*out = r.out;
	*n_out = r.n_out;
	return AB_OK;
}
