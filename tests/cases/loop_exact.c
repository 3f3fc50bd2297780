/* loop_exact.c - what can be learned of a simulated brewer's hidden chances from the tastings alone, by who knows
 * all but the brewer
 *
 * Known are the rules of the world, all facts, what each change takes, how brewers are drawn, and how they taste:
 * what is missed, and what is called by another fault's name. So this is the posterior of the simulation itself.
 * Gibbs sampling (Geman and Geman 1984, IEEE PAMI 6) over which cause was in which batch, each brewer's chances
 * summed out by a rule that is exact for so few batches; where tasters call faults by wrong names, over which fault
 * each was as well. Two kinds of exchange (Metropolis, symmetric) carry it from one explanation to another.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <math.h>
#include <string.h>

#include <afterboil/together.h>

enum { SWEEPS = 160, SETTLING = 40, TAIL = AB_GRADES + 1 };
static const double ALMOST = 1 - 1e-9;   /* no link is surer: it must be possible to divide it out again */

/* below[g]: P(the cause, where it is, leaves the fault under grade g), g 1 to 3. */
struct gives { size_t fault; double below[AB_GRADES]; };

/* Not told, or told at a grade under a name. */
struct heard { int grade, name; };

struct batch {
	struct gives **gives; size_t *n_gives;   /* by cause */
	bool *on;
	double *leak, *below;     /* n_faults x TAIL: of the leaks, and of all that is on; below[AB_GRADES] = 1 */
	int *told;                /* n_faults: the grade it was told at; 0 = not */
	struct heard *heard;      /* n_faults: what became of each */
};

/* The names a fault may be told by, the chance of each. */
enum { NAMES = 32 };
struct names { size_t n; int name[NAMES]; double chance[NAMES]; };

struct loop_exact {
	size_t n_batches;
	struct names *names;      /* n_faults */
	struct batch *batches;
	double *at, *weight;      /* n_causes x AB_TOGETHER_RATES: the beta of each */
	double *share;            /* n_causes x batches: what changes left */
};

static void *room(const struct loop_brewer *b, size_t n, size_t size)
{
	void *p = ab_arena_alloc(b->arena, n + 1, size);

	if (p == NULL)
		loop_give_up("exact", "out of memory");
	return p;
}

/* ---- the world ---- */

static bool badly(const struct loop_brewer *b)
{
	return b->world->tasting == TASTE_BADLY;
}

/* Where all is looked for a taster notices each contribution with a chance of its own, and contributions may go by
 * other names. */
static double contribution(const struct loop_brewer *b, const double *const *tail, size_t fault, int grade)
{
	const struct ab_fault *f = &b->world->truth->faults[fault];
	double under = tail[fault] != NULL ? 1 - tail[fault][grade] : 1;

	for (size_t i = 0; !badly(b) && i < f->n_confusions; i++)
		if (tail[f->confusions[i].with] != NULL)
			under *= 1 - f->confusions[i].share * tail[f->confusions[i].with][grade];
	return (1 - under) * (badly(b) ? 1 : brewers_noticed);
}

static void list_gives(const struct loop_brewer *b, const struct ab_fact *facts, struct batch *batch, size_t cause,
    const double **tail)
{
	const struct ab_knowledge *k = b->world->truth;
	const struct ab_cause *c = &k->causes[cause];
	struct gives *list = room(b, k->n_faults, sizeof *list);
	size_t n = 0;

	memset(tail, 0, k->n_faults * sizeof *tail);
	for (size_t i = 0; i < c->n_links; i++)
		if (ab_conds_hold(&c->links[i].when, facts))
			tail[c->links[i].fault] = c->links[i].tail;
	for (size_t f = 0; f < k->n_faults; f++) {
		if (!(contribution(b, tail, f, 1) > 0))
			continue;
		list[n].fault = f;
		for (int g = 1; g < AB_GRADES; g++)
			list[n].below[g] = 1 - fmin(ALMOST, contribution(b, tail, f, g));
		n++;
	}
	batch->gives[cause] = list;
	batch->n_gives[cause] = n;
}

static void list_leaks(const struct loop_brewer *b, const struct ab_fact *facts, double *leak)
{
	const struct ab_knowledge *k = b->world->truth;

	for (size_t f = 0; f < k->n_faults; f++) {
		const double *tail = NULL;
		for (size_t i = 0; i < k->faults[f].n_leaks; i++)
			if (ab_conds_hold(&k->faults[f].leaks[i].when, facts))
				tail = k->faults[f].leaks[i].tail;
		for (int g = 1; g <= AB_GRADES; g++)
			leak[f * TAIL + (size_t)g] = g < AB_GRADES && tail != NULL
			    ? 1 - fmin(ALMOST, tail[g] * (badly(b) ? 1 : brewers_noticed))
			    : 1;
	}
}

static void set_below(struct batch *batch, size_t n_faults, size_t n_causes)
{
	memcpy(batch->below, batch->leak, n_faults * TAIL * sizeof *batch->below);
	for (size_t c = 0; c < n_causes; c++)
		for (size_t i = 0; batch->on[c] && i < batch->n_gives[c]; i++)
			for (int g = 1; g < AB_GRADES; g++)
				batch->below[batch->gives[c][i].fault * TAIL + (size_t)g] *=
				    batch->gives[c][i].below[g];
}

/* ---- how well a batch explains its tasting ---- */

/* Of one fault, given what it is under each grade with. What is said of it under which name is weighed in
 * rename_faults. */
static double likely(const struct loop_brewer *b, const struct batch *batch, size_t fault, const double *below)
{
	int grade = badly(b) ? batch->heard[fault].grade : batch->told[fault];

	if (grade > 0)
		return fmax(below[grade + 1] - below[grade], 1e-300);
	return badly(b) ? brewers_missed + (1 - brewers_missed) * below[1] : below[1];
}

/* The logarithm of how many times likelier the tasting gets when the cause is put on (or off). */
static double turning(const struct loop_brewer *b, const struct batch *batch, size_t cause)
{
	double ratio = 1, sum = 0;

	for (size_t i = 0; i < batch->n_gives[cause]; i++) {
		const struct gives *to = &batch->gives[cause][i];
		const double *now = &batch->below[to->fault * TAIL];
		double then[TAIL] = { [AB_GRADES] = 1 };
		for (int g = 1; g < AB_GRADES; g++)
			then[g] = batch->on[cause] ? fmin(1, now[g] / to->below[g]) : now[g] * to->below[g];
		ratio *= likely(b, batch, to->fault, then) / likely(b, batch, to->fault, now);
		if (ratio < 1e-100 || ratio > 1e100) {
			sum += log(ratio);
			ratio = 1;
		}
	}
	return sum + log(ratio);
}

static void turn(struct batch *batch, size_t cause)
{
	for (size_t i = 0; i < batch->n_gives[cause]; i++) {
		const struct gives *to = &batch->gives[cause][i];
		double *now = &batch->below[to->fault * TAIL];
		for (int g = 1; g < AB_GRADES; g++)
			now[g] = batch->on[cause] ? fmin(1, now[g] / to->below[g]) : now[g] * to->below[g];
	}
	batch->on[cause] = !batch->on[cause];
}

/* ---- how likely it strikes where, the chance summed out ---- */

/* Of cause c by its batches but one (n_batches = none left out): the sum over the rule, and that of the chance. */
static void sum_up(const struct loop_exact *e, size_t c, size_t without, double *all, double *mean)
{
	const double *at = &e->at[c * AB_TOGETHER_RATES], *weight = &e->weight[c * AB_TOGETHER_RATES];

	*all = *mean = 0;
	for (size_t i = 0; i < AB_TOGETHER_RATES; i++) {
		double w = weight[i];
		for (size_t t = 0; t < e->n_batches; t++)
			if (t != without)
				w *= e->batches[t].on[c] ? at[i] * e->share[c * e->n_batches + t]
							 : 1 - at[i] * e->share[c * e->n_batches + t];
		*all += w;
		*mean += w * at[i];
	}
}

static bool moves(const struct loop_brewer *b, size_t c)
{
	return b->before[c] > 0 && b->before[c] < 1;
}

static void flip_all(struct loop_brewer *b, struct loop_exact *e)
{
	for (size_t c = 0; c < b->world->truth->n_causes; c++)
		for (size_t t = 0; moves(b, c) && t < e->n_batches; t++) {
			struct batch *batch = &e->batches[t];
			double all, mean, strike, odds, by = turning(b, batch, c);
			sum_up(e, c, t, &all, &mean);
			strike = fmin(fmax(mean / all * e->share[c * e->n_batches + t], 1e-300), ALMOST);
			odds = strike / (1 - strike) * exp(batch->on[c] ? -by : by);
			if ((gsl_rng_uniform(b->rng) * (1 + odds) < odds) != batch->on[c])
				turn(batch, c);
		}
}

static double log_row(const struct loop_exact *e, size_t c)
{
	double all, mean;

	sum_up(e, c, e->n_batches, &all, &mean);
	return log(fmax(all, 1e-300));
}

/* Two causes change places in the batches first to last, where one was without the other. */
static void change_places(struct loop_brewer *b, struct loop_exact *e, size_t x, size_t y, size_t first, size_t last)
{
	double before = log_row(e, x) + log_row(e, y), by = 0;

	for (int back = 0; back < 2; back++) {
		for (size_t t = first; t < last; t++) {
			struct batch *batch = &e->batches[t];
			if (batch->on[x] == batch->on[y])
				continue;
			by += turning(b, batch, x);
			turn(batch, x);
			by += turning(b, batch, y);
			turn(batch, y);
		}
		if (back == 0 && log(gsl_rng_uniform_pos(b->rng)) < by + log_row(e, x) + log_row(e, y) - before)
			return;
	}
}

static bool on_anywhere(const struct loop_exact *e, size_t c, size_t first, size_t last)
{
	bool on = false;

	for (size_t t = first; t < last; t++)
		on |= e->batches[t].on[c];
	return on;
}

/* One that is on there, and any other. */
static void exchange(struct loop_brewer *b, struct loop_exact *e, size_t first, size_t last)
{
	size_t n = b->world->truth->n_causes, x = n, y, seen = 0;

	for (size_t c = 0; c < n; c++)
		if (moves(b, c) && on_anywhere(e, c, first, last) && gsl_rng_uniform_int(b->rng, ++seen) == 0)
			x = c;
	y = gsl_rng_uniform_int(b->rng, n);
	if (x < n && x != y && moves(b, y))
		change_places(b, e, x, y, first, last);
}

/* ---- under which name ---- */

/* Would somebody else hold the name up, were fault f not told under it? */
static bool held_up(const struct loop_brewer *b, const struct batch *batch, size_t f, int name)
{
	bool held = false;

	for (size_t g = 0; g < b->world->truth->n_faults; g++)
		held |= g != f && batch->heard[g].name == name && batch->heard[g].grade == batch->told[name];
	return held;
}

static bool may_be_told(const struct batch *batch, const struct names *names)
{
	bool any = false;

	for (size_t i = 0; i < names->n; i++)
		any |= batch->told[names->name[i]] > 0;
	return any;
}

/* What became of fault f, given the causes and what became of the others: what is told under a name is the
 * strongest of it. */
static void rename_fault(struct loop_brewer *b, struct batch *batch, size_t f)
{
	const struct names *names = &b->exact->names[f];
	struct heard may[1 + NAMES * AB_GRADES];
	double weight[1 + NAMES * AB_GRADES], sum;
	const double *below = &batch->below[f * TAIL];
	int was = batch->heard[f].name;
	bool needed = was >= 0 && batch->heard[f].grade == batch->told[was] && !held_up(b, batch, f, was);
	size_t n = 1, pick = 0;

	may[0] = (struct heard){ 0, -1 };
	sum = weight[0] = needed ? 0 : brewers_missed + (1 - brewers_missed) * below[1];
	for (size_t i = 0; i < names->n; i++)
		for (int g = 1; g <= batch->told[names->name[i]] && g < AB_GRADES; g++) {
			may[n] = (struct heard){ g, names->name[i] };
			weight[n] = needed && (names->name[i] != was || g != batch->told[was]) ? 0
			    : names->chance[i] * fmax(below[g + 1] - below[g], 0);
			sum += weight[n++];
		}
	if (!(sum > 0))
		return;
	for (double u = gsl_rng_uniform(b->rng) * sum; pick + 1 < n && (u -= weight[pick]) >= 0;)
		pick++;
	batch->heard[f] = may[pick];
}

/* The place of a name among those of a fault; -1 = it is never told by it. */
static int place_of(const struct names *names, int name)
{
	for (size_t i = 0; i < names->n; i++)
		if (names->name[i] == name)
			return (int)i;
	return -1;
}

/* A name that one fault alone holds up would stay with it: another takes it over, grade and all. */
static void hand_over(struct loop_brewer *b, struct batch *batch, size_t from, size_t to)
{
	struct heard *h = &batch->heard[from];
	const struct names *names = b->exact->names;
	int place = h->name >= 0 && batch->heard[to].name < 0 ? place_of(&names[to], h->name) : -1, g = h->grade;
	const double *below = &batch->below[from * TAIL], *others = &batch->below[to * TAIL];

	if (place < 0 || from == to)
		return;
	double now = names[from].chance[place_of(&names[from], h->name)] * (below[g + 1] - below[g]) *
	    (brewers_missed + (1 - brewers_missed) * others[1]);
	double then = names[to].chance[place] * (others[g + 1] - others[g]) *
	    (brewers_missed + (1 - brewers_missed) * below[1]);
	if (gsl_rng_uniform(b->rng) * now < then) {
		batch->heard[to] = *h;
		*h = (struct heard){ 0, -1 };
	}
}

/* Of each that is told, to any other that is not. */
static void rename_faults(struct loop_brewer *b, struct batch *batch)
{
	size_t n = b->world->truth->n_faults;

	for (size_t f = 0; f < n; f++)
		if (may_be_told(batch, &b->exact->names[f])) {
			hand_over(b, batch, f, gsl_rng_uniform_int(b->rng, n));
			rename_fault(b, batch, f);
		}
}

/* ---- learning ---- */

static void add_batch(struct loop_brewer *b, struct loop_exact *e, size_t t)
{
	const struct ab_knowledge *k = b->world->truth;
	const struct ab_finding *found = b->cases[t]->evidence.finding;
	struct batch *batch = &e->batches[t];
	const double **tail = room(b, k->n_faults, sizeof *tail);

	*batch = (struct batch){ .gives = room(b, k->n_causes, sizeof *batch->gives),
		.n_gives = room(b, k->n_causes, sizeof *batch->n_gives),
		.on = room(b, k->n_causes, sizeof *batch->on),
		.leak = room(b, k->n_faults * TAIL, sizeof *batch->leak),
		.below = room(b, k->n_faults * TAIL, sizeof *batch->below),
		.told = room(b, k->n_faults, sizeof *batch->told),
		.heard = room(b, k->n_faults, sizeof *batch->heard) };
	for (size_t c = 0; c < k->n_causes; c++) {
		list_gives(b, b->was[t], batch, c, tail);
		batch->on[c] = b->before[c] >= 1;
	}
	list_leaks(b, b->was[t], batch->leak);
	for (size_t f = 0; f < k->n_faults; f++) {
		batch->told[f] = found[f].seen == AB_SEEN_FOUND ? found[f].grade : 0;
		batch->heard[f] =
		    batch->told[f] > 0 ? (struct heard){ batch->told[f], (int)f } : (struct heard){ 0, -1 };
	}
	set_below(batch, k->n_faults, k->n_causes);
}

static struct names names_of(const struct ab_knowledge *k, size_t f)
{
	struct names names = { .n = 1, .name = { (int)f } };

	for (size_t g = 0; g < k->n_faults; g++)
		for (size_t i = 0; i < k->faults[g].n_confusions; i++)
			if ((size_t)k->faults[g].confusions[i].with == f && names.n < NAMES)
				names.name[names.n++] = (int)g;
	for (size_t i = 0; i < names.n; i++)
		names.chance[i] = (1 - brewers_missed) * (i > 0 ? brewers_mistaken / (double)(names.n - 1)
		    : 1 - (names.n > 1 ? brewers_mistaken : 0));
	return names;
}

static struct loop_exact *begin(const struct loop_brewer *b)
{
	size_t n = b->world->truth->n_causes;
	struct loop_exact *e = room(b, 1, sizeof *e);

	*e = (struct loop_exact){ .names = room(b, b->world->truth->n_faults, sizeof *e->names),
	    .batches = room(b, b->world->batches, sizeof *e->batches), .at = room(b, n * AB_TOGETHER_RATES,
	    sizeof *e->at),
	    .weight = room(b, n * AB_TOGETHER_RATES, sizeof *e->weight) };
	for (size_t f = 0; f < b->world->truth->n_faults; f++)
		e->names[f] = names_of(b->world->truth, f);
	for (size_t c = 0; c < n; c++)
		if (moves(b, c) &&
		    !ab_beta_rule(loop_same_brewer * b->before[c], loop_same_brewer * (1 - b->before[c]),
			AB_TOGETHER_RATES, &e->at[c * AB_TOGETHER_RATES], &e->weight[c * AB_TOGETHER_RATES]))
			loop_give_up("exact", "out of memory");
	return e;
}

static void sweep(struct loop_brewer *b, struct loop_exact *e)
{
	const struct ab_knowledge *k = b->world->truth;

	for (size_t t = 0; t < e->n_batches; t++) {
		struct batch *batch = &e->batches[t];
		set_below(batch, k->n_faults, k->n_causes);
		if (badly(b))
			rename_faults(b, batch);
	}
	flip_all(b, e);
	for (size_t t = 0; t < e->n_batches; t++)
		for (int i = 0; i < 3; i++)
			exchange(b, e, t, t + 1);
	for (int i = 0; i < 10; i++)
		exchange(b, e, 0, e->n_batches);
}

void loop_exact(struct loop_brewer *b, double *mean)
{
	size_t n = b->world->truth->n_causes;
	struct loop_exact *e = b->exact = b->exact != NULL ? b->exact : begin(b);

	while (e->n_batches < b->n_cases)
		add_batch(b, e, e->n_batches++);
	e->share = room(b, n * e->n_batches, sizeof *e->share);
	for (size_t c = 0; c < n; c++)
		for (size_t t = 0; t < e->n_batches; t++)
			e->share[c * e->n_batches + t] = b->left[t][c];
	memset(mean, 0, n * sizeof *mean);
	for (int s = 0; s < SWEEPS + SETTLING; s++) {
		sweep(b, e);
		for (size_t c = 0; s >= SETTLING && c < n; c++) {
			double all, sum;
			if (!moves(b, c))
				continue;
			sum_up(e, c, e->n_batches, &all, &sum);
			mean[c] += sum / all / SWEEPS;
		}
	}
}
