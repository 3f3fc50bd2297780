/* nextstep.c - from beers that exist and a plan for those to come to one list of what to do
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/nextstep.h>

#include <assert.h>
#include <math.h>
#include <string.h>

#include <afterboil/newbatch.h>

/* A change noted for a day further ahead than AHEAD_DAYS is none of the next brew. */
enum { DAY = 86400, AHEAD_DAYS = 60, MOST_TRIALS = 2 };
/* A change that was tasted in more batches is no news (estimate). */
enum { MOST_NEWS = 3 };
/* So long a verdict is news (estimate). */
enum { NEWS_DAYS = 7 };
static const double EVEN = 0.5;

/* A change that waits for a tasting so long is forgotten, and holds up nothing: since it was noted, or since the brew
 * with it; one of a beer after so many brews of others (estimates: a year, and half a year's brewing). */
enum { FORGOTTEN_DAYS = 365, FORGOTTEN_BREWS = 6 };

const char *const ab_next_words[AB_NEXTS] = { [AB_NEXT_SAFE] = "safe", [AB_NEXT_DATE] = "date", [AB_NEXT_TEND] = "tend", [AB_NEXT_WAIT] = "wait",
	[AB_NEXT_TASTE] = "taste", [AB_NEXT_KEEP] = "keep", [AB_NEXT_CHECK] = "check", [AB_NEXT_BREW] = "brew", [AB_NEXT_BEGIN] = "begin",
	[AB_NEXT_AFTER] = "after", [AB_NEXT_SAME] = "same", [AB_NEXT_FORGOTTEN] = "forgotten" };

/* today_s: the clock, or the newest day of the journals. clock_s: the clock alone, -INFINITY when nobody told it. */
struct listing { const struct ab_next_of *of; struct ab_next_step *out; size_t n; double today_s, clock_s; };

static struct ab_next_step *add(struct listing *l, enum ab_next kind, const struct ab_batch *batch)
{
	assert(l->n < AB_NEXT_MOST);
	l->out[l->n] = (struct ab_next_step){ .kind = kind, .batch = batch, .cause = -1, .item = -1 };
	return &l->out[l->n++];
}

/* ---- what a batch is at ---- */

bool ab_next_begun(const struct ab_batch *b)
{
	return b->pitch != NULL || b->package != NULL || b->readings.n > 0 || b->logs.n > 0 || b->tastings.n > 0;
}

static double last_tasted_s(const struct ab_batch *b)
{
	double last = b->brewed.known ? b->brewed.s : -INFINITY;

	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		if (t->at.known && !t->at.relative)
			last = fmax(last, t->at.s);
	return last;
}

bool ab_next_dated_ahead(const struct ab_batch *b, const struct ab_dated *limits)
{
	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		if (t->at.known && !t->at.relative && t->at.s > limits->brewed_s)
			return true;
	return b->brewed.known && b->brewed.s > (ab_next_begun(b) ? limits->brewed_s : limits->planned_s);
}

/* A clock that stands before the journals is wrong, or the journals are an example: neither says a beer is old. */
static double today_of(const struct ab_next_of *of, double clock_s)
{
	double today = clock_s;

	for (size_t i = 0; i < of->n; i++)
		today = fmax(today, last_tasted_s(of->cases[i]->batch));
	return today;
}

static bool within(const struct listing *l, double since_s, double days)
{
	return l->today_s - since_s <= days * DAY;
}

/* ---- beers that exist ---- */

/* Of one batch; NULL when it asks for nothing. */
static const struct ab_batch_due *dues_of(const struct ab_next_of *of, const struct ab_batch *b)
{
	for (size_t i = 0; of->touches != NULL && i < of->touches->n_of; i++)
		if (of->touches->of[i].next.batch == b)
			return &of->touches->of[i];
	return NULL;
}

static const struct ab_touch_due *goal_of(const struct ab_next_of *of, const struct ab_batch *b)
{
	const struct ab_batch_due *d = dues_of(of, b);

	return d != NULL && d->goal.touch != NULL ? &d->goal : NULL;
}

static const struct ab_touch_due *next_of(const struct ab_next_of *of, const struct ab_batch *b)
{
	const struct ab_batch_due *d = b != NULL ? dues_of(of, b) : NULL;

	return d != NULL && d->next.touch != NULL ? &d->next : NULL;
}

static const struct ab_touch_due *then_of(const struct ab_next_of *of, const struct ab_batch *b)
{
	const struct ab_batch_due *d = dues_of(of, b);

	return d != NULL && d->then.touch != NULL ? &d->then : NULL;
}

/* Only the clock makes bottles old: a year that was mistyped in another journal must hide no danger. */
bool ab_next_danger(const struct ab_norms *norms, const struct ab_case *c, double clock_s)
{
	return ab_case_bursting(c) != NULL && clock_s - c->batch->brewed.s <= norms->numbers[AB_NUM_BOTTLES_D] * DAY;
}

/* All are named: each is glass in somebody's hand. */
static void add_danger(struct listing *l, struct ab_next_step **step, const struct ab_batch *batch)
{
	if (*step == NULL)
		*step = add(l, AB_NEXT_SAFE, batch);
	else if ((*step)->n_also < AB_NEXT_ALSO)
		(*step)->also[(*step)->n_also++] = batch;
	else
		(*step)->n_more++;
}

/* Also of a batch whose day is wrong. */
static void add_safe(struct listing *l)
{
	struct ab_next_step *step = NULL;

	for (size_t i = l->of->n_ahead; i-- > 0;)
		if (ab_case_bursting(l->of->ahead[i]) != NULL)
			add_danger(l, &step, l->of->ahead[i]->batch);
	for (size_t i = l->of->n; i-- > 0;)
		if (ab_next_danger(l->of->norms, l->of->cases[i], l->clock_s))
			add_danger(l, &step, l->of->cases[i]->batch);
}

static bool is_running(const struct listing *l, const struct ab_case *c)
{
	return !c->tasted && ab_next_begun(c->batch) && c->batch->package == NULL &&
	    !ab_batchplan_asleep(c->batch, l->clock_s);
}

/* A beer in bottles or tasted asks for little, and its tasting is a step of its own: it is tended only when
 * something is to be done today. Bottles that may burst have their own step, before all others: nobody is to move them
 * at leisure. */
static bool needs_tending(const struct listing *l, const struct ab_case *c, const struct ab_touch_due *due)
{
	bool hands_off = due != NULL && due->touch->shown == AB_SHOWN_STORE && ab_next_danger(l->of->norms, c, l->clock_s);

	return !is_running(l, c) && !hands_off && ab_next_begun(c->batch) && due != NULL && !due->touch->goal && due->day_s <= l->today_s;
}

/* Unknown is later than any day: the newest of them is meant. */
static bool is_more_urgent(const struct ab_touch_due *a, const struct ab_touch_due *b)
{
	if (a == NULL || b == NULL)
		return a != NULL;
	return a->overdue != b->overdue ? a->overdue : a->day_s < b->day_s;
}

/* Nobody stores a beer but in what it was packaged into. */
static double stored_s(const struct ab_batch *b)
{
	for (AB_EACH(const struct ab_store, s, b->stores))
		if (b->package == NULL && s->from.known && !s->from.relative)
			return s->from.s;
	return 0;
}

/* A fermenting beer is never hidden by a chore of bottles: each has a step. */
static void add_tend(struct listing *l, bool running)
{
	const struct ab_touch_due *most = NULL;
	const struct ab_batch *batch = NULL;

	for (size_t i = l->of->n; i-- > 0;) {
		const struct ab_case *c = l->of->cases[i];
		const struct ab_touch_due *due = next_of(l->of, c->batch);
		if (!(running ? is_running(l, c) : needs_tending(l, c, due)) || (batch != NULL && !is_more_urgent(due, most)))
			continue;
		batch = c->batch;
		most = due;
	}
	if (batch != NULL)
		add(l, AB_NEXT_TEND, batch)->due = most;
	if (batch == NULL)
		return;
	l->out[l->n - 1].then = then_of(l->of, batch);
	l->out[l->n - 1].stored_s = running ? stored_s(batch) : 0;
}

/* What leads the diagnosis, and how likely it is to blame. */
static void note_benign(struct ab_next_step *step, const struct ab_diagnosis *d)
{
	const struct ab_leading lead = ab_diagnosis_leading(d);

	step->cause = lead.suspect->cause;
	step->p = lead.blame;
	step->low = lead.low;
	step->high = lead.high;
}

/* The newest beer that was tasted; NULL. */
static const struct ab_case *newest_tasted(const struct ab_next_of *of)
{
	size_t i = of->n;

	while (i > 0 && !of->cases[i - 1]->tasted)
		i--;
	return i > 0 ? of->cases[i - 1] : NULL;
}

/* Only the newest that was tasted, and none whose bottles may burst: of an older one the brewer has made up his mind. fresh: the news of the first week come
 * before what is next; later there is more to be done than to be left. */
static void add_wait(struct listing *l, bool fresh)
{
	const struct ab_case *c = newest_tasted(l->of);

	if (c == NULL || ab_case_bursting(c) != NULL)
		return;
	const struct ab_diagnosis *d = c->diagnosis;
	const struct ab_batch *b = c->batch;
	if (!d->verdict_benign || d->n_suspects == 0 || !within(l, last_tasted_s(b), l->of->norms->numbers[AB_NUM_YOUNG_D]) ||
	    within(l, last_tasted_s(b), NEWS_DAYS) != fresh)
		return;
	note_benign(add(l, AB_NEXT_WAIT, b), d);
}

/* ---- the next brew ---- */

static bool of_line(const struct ab_batch *b, const char *line)
{
	return line == NULL || (b->line != NULL && strcmp(b->line, line) == 0);
}

/* Brewed with it: by the day, for nobody notes the hour of a change. */
static bool is_under(const struct ab_batch *b, const struct ab_changed *c)
{
	return of_line(b, c->line) && floor(b->brewed.s / DAY) >= floor(c->on.s / DAY);
}

/* Drunk or poured away: nobody can taste it any more. */
static bool is_gone(const struct ab_batch *b)
{
	return b->package != NULL && b->package->fate != 0 && b->package->fate != AB_FATE_LET_OFF;
}

/* The newest begun batch that was brewed with the change and can tell of it; NULL when none was. */
static const struct ab_batch *brewed_with(const struct ab_next_of *of, const struct ab_changed *c)
{
	for (size_t i = of->n; i-- > 0;) {
		const struct ab_batch *b = of->cases[i]->batch;

		if (ab_next_begun(b) && is_under(b, c) && (of->cases[i]->tasted || !is_gone(b)))
			return b;
	}
	return NULL;
}

static bool was_tasted_with(const struct ab_next_of *of, const struct ab_changed *c)
{
	for (size_t i = 0; i < of->n; i++)
		if (of->cases[i]->tasted && is_under(of->cases[i]->batch, c))
			return true;
	return false;
}

static bool is_forgotten(const struct listing *l, const struct ab_changed *c)
{
	const struct ab_batch *b = brewed_with(l->of, c);
	int others = 0;

	for (size_t i = 0; b == NULL && i < l->of->n; i++) {
		const struct ab_batch *other = l->of->cases[i]->batch;

		others += ab_next_begun(other) && !of_line(other, c->line) && floor(other->brewed.s / DAY) >= floor(c->on.s / DAY);
	}
	return others >= FORGOTTEN_BREWS || !within(l, b != NULL ? b->brewed.s : c->on.s, FORGOTTEN_DAYS);
}

/* The newest noted first. Of the forgotten the newest as well. */
static size_t trials_of(const struct listing *l, const struct ab_changed **trials, const struct ab_changed **forgotten)
{
	const struct ab_next_of *of = l->of;
	size_t n = 0;

	const struct ab_changed *all = of->profile != NULL ? of->profile->changed.items : NULL;
	for (size_t i = all != NULL ? of->profile->changed.n : 0; i-- > 0 && n < MOST_TRIALS;)
		if (all[i].on.known && !was_tasted_with(of, &all[i]) &&
		    (of->n == 0 || all[i].on.s - l->today_s <= (double)AHEAD_DAYS * DAY)) {
			if (of->n == 0 || !is_forgotten(l, &all[i]))
				trials[n++] = &all[i];
			else if (*forgotten == NULL)
				*forgotten = &all[i];
		}
	return n;
}

static const struct ab_next_kept *kept_of(const struct ab_next_of *of, const struct ab_changed *c)
{
	for (size_t i = 0; i < of->n_kept; i++)
		if (of->kept[i].change == c)
			return &of->kept[i];
	return NULL;
}

/* Only by the newest beer that was tasted, and the newest change it was brewed with: what is older is a habit by now. A
 * beer with faults says nothing against a change that those before had more of. */
static void add_keep(struct listing *l)
{
	const struct ab_next_of *of = l->of;
	const struct ab_case *c = newest_tasted(of);

	if (c == NULL || of->profile == NULL || !within(l, last_tasted_s(c->batch), of->norms->numbers[AB_NUM_YOUNG_D]))
		return;
	const struct ab_changed *all = of->profile->changed.items, *trial = NULL;
	for (size_t k = 0; k < of->profile->changed.n; k++)
		if (all[k].on.known && is_under(c->batch, &all[k]) && (trial == NULL || all[k].on.s >= trial->on.s))
			trial = &all[k];
	const struct ab_next_kept *kept = trial == NULL ? NULL : kept_of(of, trial);
	bool well = (c->diagnosis->verdict_benign || !(c->load > 0)) && ab_case_bursting(c) == NULL, better = kept != NULL && kept->p_better >= EVEN;
	if (trial == NULL || !(well || better) || (kept != NULL && kept->n_after > MOST_NEWS))
		return;
	add(l, AB_NEXT_KEEP, c->batch)->trial = trial;
	l->out[l->n - 1].well = well;
	l->out[l->n - 1].kept = kept;
}

/* Its journal is there, and nothing has begun. */
static const struct ab_batch *coming(const struct ab_next_of *of, const char *line)
{
	for (size_t i = of->n; i-- > 0;)
		if (!ab_next_begun(of->cases[i]->batch) && of_line(of->cases[i]->batch, line))
			return of->cases[i]->batch;
	return NULL;
}

/* What is about to be brewed, else the newest of the line: the same beer brewed again teaches most. */
static const struct ab_batch *to_brew(const struct ab_next_of *of, const char *line)
{
	if (coming(of, line) != NULL)
		return coming(of, line);
	for (size_t i = of->n; i-- > 0;)
		if (of_line(of->cases[i]->batch, line))
			return of->cases[i]->batch;
	return NULL;
}

/* Every packaged batch waits for its tasting, till it is forgotten; one is told, that of a trial before others. */
static void add_taste(struct listing *l, const struct ab_changed *const *trials, size_t n)
{
	const struct ab_next_of *of = l->of;

	for (size_t t = 0; t < n; t++) {
		const struct ab_batch *b = brewed_with(of, trials[t]);
		if (b != NULL && b->package != NULL) {
			add(l, AB_NEXT_TASTE, b)->trial = trials[t];
			l->out[l->n - 1].due = goal_of(of, b);
			return;
		}
	}
	for (size_t i = of->n; i-- > 0;)
		if (!of->cases[i]->tasted && of->cases[i]->batch->package != NULL && !is_gone(of->cases[i]->batch) &&
		    !ab_batchplan_asleep(of->cases[i]->batch, l->clock_s)) {
			add(l, AB_NEXT_TASTE, of->cases[i]->batch)->due = goal_of(of, of->cases[i]->batch);
			return;
		}
}

/* Without a beer tasted or a trouble told a plan rests on what is usual. What takes time no taste tells. */
static bool knows_trouble(const struct ab_next_of *of)
{
	if (of->n == 0 || (of->profile != NULL && (of->profile->troubles.n > 0 || of->profile->goal == AB_GOAL_TIME)))
		return true;
	for (size_t i = 0; i < of->n; i++)
		if (of->cases[i]->tasted)
			return true;
	return false;
}

static bool anything_runs(const struct listing *l)
{
	for (size_t i = 0; i < l->of->n; i++)
		if (is_running(l, l->of->cases[i]))
			return true;
	return false;
}

/* The day of a brew is known where its journal is there; else the first day that is free for it, but how many fermenters
 * there are is not told. */
static void add_brew(struct listing *l, enum ab_next kind, const struct ab_batch *b)
{
	bool coming = b != NULL && !ab_next_begun(b);
	struct ab_next_step *step = add(l, kind, b);

	step->due = coming ? next_of(l->of, b) : NULL;
	if (!coming && l->of->touches != NULL && !anything_runs(l))
		step->brew_s = l->of->touches->brew_s;
}

/* A beer about to be brewed that no change is on trial for, while each of those on trial is another beer's; else NULL. */
static const struct ab_batch *free_brew(const struct ab_next_of *of, const struct ab_changed *const *trials, size_t n)
{
	const struct ab_batch *b = n > 0 ? coming(of, NULL) : NULL;

	for (size_t t = 0; b != NULL && t < n; t++)
		if (b->line == NULL || trials[t]->line == NULL || of_line(b, trials[t]->line))
			b = NULL;
	return b;
}

static void add_next_brew(struct listing *l, const struct ab_changed *const *trials, size_t n)
{
	const struct ab_next_of *of = l->of;
	const struct ab_batch *other = free_brew(of, trials, n);
	int item = n > 0 ? of->after : knows_trouble(of) && !of->well ? of->item : -1;

	if ((n == 0 || other != NULL) && item >= 0 && of->check != NULL)
		add(l, AB_NEXT_CHECK, NULL)->check = of->check;
	for (size_t t = 0; t < n; t++)
		if (brewed_with(of, trials[t]) == NULL) {
			add_brew(l, AB_NEXT_BREW, to_brew(of, trials[t]->line));
			l->out[l->n - 1].trial = trials[t];
		}
	if (other != NULL && item >= 0) {
		add_brew(l, AB_NEXT_BEGIN, other);
		l->out[l->n - 1].item = item;
		l->out[l->n - 1].line = other->line;
	} else if (n > 0 && item >= 0)
		add(l, AB_NEXT_AFTER, NULL)->item = item;
	else if (item >= 0) {
		add_brew(l, AB_NEXT_BEGIN, coming(of, NULL));
		l->out[l->n - 1].item = item;
	} else if (n == 0) {
		add_brew(l, AB_NEXT_SAME, to_brew(of, NULL));
		l->out[l->n - 1].item = of->item;   /* -1, or not told yet */
		l->out[l->n - 1].well = of->well;
		const struct ab_case *c = of->well ? newest_tasted(of) : NULL;
		if (c != NULL && c->diagnosis->verdict_benign && c->diagnosis->n_suspects > 0)
			note_benign(&l->out[l->n - 1], c->diagnosis);
	}
}

/* Of a batch whose plan a step goes by, at the first of its steps: a beer only named, to be brewed again, has no plan. */
static enum ab_calendar_fit fit_of(const struct listing *l, size_t at)
{
	const struct ab_next_step *s = &l->out[at];
	const struct ab_batch_due *d = s->batch != NULL ? dues_of(l->of, s->batch) : NULL;

	if (d == NULL || (s->kind != AB_NEXT_TEND && s->due == NULL))
		return AB_FIT_ALL;
	for (size_t i = 0; i < at; i++)
		if (l->out[i].batch == s->batch && l->out[i].fit == d->fit)
			return AB_FIT_ALL;
	return d->fit;
}

size_t ab_next_steps(const struct ab_next_of *of, struct ab_next_step *out)
{
	const struct ab_changed *trials[MOST_TRIALS] = { NULL }, *forgotten = NULL;
	double clock_s = of->today.known && !of->today.relative ? of->today.s : -INFINITY;
	struct listing l = { of, out, 0, today_of(of, clock_s), clock_s };
	size_t n = trials_of(&l, trials, &forgotten);

	add_safe(&l);
	if (of->n_ahead > 0)
		add(&l, AB_NEXT_DATE, of->ahead[of->n_ahead - 1]->batch);
	add_tend(&l, true);
	add_tend(&l, false);
	add_taste(&l, trials, n);
	add_wait(&l, true);
	add_keep(&l);
	add_next_brew(&l, trials, n);
	add_wait(&l, false);
	if (forgotten != NULL)
		add(&l, AB_NEXT_FORGOTTEN, brewed_with(of, forgotten))->trial = forgotten;
	for (size_t i = 0; i < l.n; i++)
		out[i].fit = fit_of(&l, i);
	return l.n;
}
