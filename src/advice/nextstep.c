/* nextstep.c - from beers that exist and a plan for those to come to one list of what to do
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/listing.h"

#include <assert.h>
#include <math.h>

/* So long a verdict is news (estimate). */
enum { DAY = 86400, NEWS_DAYS = 7 };

const char *const ab_next_words[AB_NEXTS] = { [AB_NEXT_SAFE] = "safe",
	[AB_NEXT_VENT] = "vent",
	[AB_NEXT_DATE] = "date",
	[AB_NEXT_TEND] = "tend",
	[AB_NEXT_WAIT] = "wait",
	[AB_NEXT_TASTE] = "taste",
	[AB_NEXT_KEEP] = "keep",
	[AB_NEXT_CHECK] = "check",
	[AB_NEXT_BREW] = "brew",
	[AB_NEXT_BEGIN] = "begin",
	[AB_NEXT_AFTER] = "after",
	[AB_NEXT_SAME] = "same",
	[AB_NEXT_FORGOTTEN] = "forgotten" };

struct ab_next_step *listing_add(struct listing *l, enum ab_next kind, const struct ab_batch *batch)
{
	assert(l->n < AB_NEXT_MOST);
	l->out[l->n] = (struct ab_next_step){ .kind = kind, .batch = batch, .cause = -1, .item = -1 };
	return &l->out[l->n++];
}

/* ---- what a batch is at ---- */

bool ab_next_begun(const struct ab_batch *b)
{
	return b->pitch != NULL || b->package != NULL || b->readings.n > 0 || b->logs.n > 0 || b->tastings.n > 0 ||
	    b->lag != NULL || b->looks.n > 0 || b->tests.n > 0 || b->openings.n > 0 || b->serve != NULL;
}

double listing_last_tasted_s(const struct ab_batch *b)
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
		today = fmax(today, listing_last_tasted_s(of->cases[i]->batch));
	return today;
}

static double newest_brewed_of(const struct ab_next_of *of)
{
	double newest = -INFINITY;

	for (size_t i = 0; i < of->n; i++)
		if (ab_next_begun(of->cases[i]->batch) && of->cases[i]->batch->brewed.known)
			newest = fmax(newest, of->cases[i]->batch->brewed.s);
	return newest;
}

bool listing_within(const struct listing *l, double since_s, double days)
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

const struct ab_touch_due *listing_goal_of(const struct ab_next_of *of, const struct ab_batch *b)
{
	const struct ab_batch_due *d = dues_of(of, b);

	return d != NULL && d->goal.touch != NULL ? &d->goal : NULL;
}

const struct ab_touch_due *listing_next_of(const struct ab_next_of *of, const struct ab_batch *b)
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
static bool is_recent(const struct ab_norms *norms, const struct ab_case *c, double clock_s)
{
	return clock_s - c->batch->brewed.s <= norms->numbers[AB_NUM_BOTTLES_D] * DAY;
}

bool ab_next_danger(const struct ab_norms *norms, const struct ab_case *c, double clock_s)
{
	return ab_case_bursting(c) != NULL && is_recent(norms, c, clock_s);
}

/* All are named: each is glass, or a lid under pressure, in somebody's hand. */
static void add_danger(struct listing *l, enum ab_next kind, struct ab_next_step **step, const struct ab_batch *batch)
{
	if (*step == NULL)
		*step = listing_add(l, kind, batch);
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
			add_danger(l, AB_NEXT_SAFE, &step, l->of->ahead[i]->batch);
	for (size_t i = l->of->n; i-- > 0;)
		if (ab_next_danger(l->of->norms, l->of->cases[i], l->clock_s))
			add_danger(l, AB_NEXT_SAFE, &step, l->of->cases[i]->batch);
}

static bool is_to_vent(const struct ab_case *c)
{
	return ab_case_bursting(c) == NULL && ab_case_pressed(c);
}

/* What is no glass and stands under pressure asks for other care. */
static void add_vent(struct listing *l)
{
	struct ab_next_step *step = NULL;

	for (size_t i = l->of->n_ahead; i-- > 0;)
		if (is_to_vent(l->of->ahead[i]))
			add_danger(l, AB_NEXT_VENT, &step, l->of->ahead[i]->batch);
	for (size_t i = l->of->n; i-- > 0;)
		if (is_to_vent(l->of->cases[i]) && is_recent(l->of->norms, l->of->cases[i], l->clock_s))
			add_danger(l, AB_NEXT_VENT, &step, l->of->cases[i]->batch);
}

bool listing_is_running(const struct listing *l, const struct ab_case *c)
{
	return !c->tasted && ab_next_begun(c->batch) && c->batch->package == NULL &&
	    !ab_batchplan_asleep(c->batch, l->clock_s);
}

/* A beer in bottles or tasted asks for little, and its tasting is a step of its own: it is tended only when
 * something is to be done today. Bottles that may burst have their own step, before all others: nobody is to move them
 * at leisure. */
static bool needs_tending(const struct listing *l, const struct ab_case *c, const struct ab_touch_due *due)
{
	bool hands_off =
	    due != NULL && due->touch->shown == AB_SHOWN_STORE && ab_next_danger(l->of->norms, c, l->clock_s);

	return !listing_is_running(l, c) && !hands_off && ab_next_begun(c->batch) && due != NULL &&
	    !due->touch->goal && due->day_s <= l->today_s;
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
		const struct ab_touch_due *due = listing_next_of(l->of, c->batch);
		if (!(running ? listing_is_running(l, c) : needs_tending(l, c, due)) ||
		    (batch != NULL && !is_more_urgent(due, most)))
			continue;
		batch = c->batch;
		most = due;
	}
	if (batch != NULL)
		listing_add(l, AB_NEXT_TEND, batch)->due = most;
	if (batch == NULL)
		return;
	l->out[l->n - 1].then = then_of(l->of, batch);
	l->out[l->n - 1].stored_s = running ? stored_s(batch) : 0;
}

/* What leads the diagnosis, and how likely it is to blame. */
void listing_note_benign(struct ab_next_step *step, const struct ab_case *c)
{
	const struct ab_leading lead = ab_diagnosis_leading(c->diagnosis);

	step->facts = c->facts;
	step->cause = lead.suspect->cause;
	step->p = lead.blame;
	step->low = lead.low;
	step->high = lead.high;
}

/* The newest beer that was tasted; NULL. */
const struct ab_case *listing_newest_tasted(const struct ab_next_of *of)
{
	size_t i = of->n;

	while (i > 0 && !of->cases[i - 1]->tasted)
		i--;
	return i > 0 ? of->cases[i - 1] : NULL;
}

/* Only the newest that was tasted, and none whose bottles may burst: of an older one the brewer has made up his
 * mind. fresh: the news of the first week come before what is next; later there is more to be done than to be left.
 */
static void add_wait(struct listing *l, bool fresh)
{
	const struct ab_case *c = listing_newest_tasted(l->of);

	if (c == NULL || ab_case_bursting(c) != NULL)
		return;
	const struct ab_diagnosis *d = c->diagnosis;
	const struct ab_batch *b = c->batch;
	if (!d->verdict_benign || d->n_suspects == 0 ||
	    !listing_within(l, listing_last_tasted_s(b), l->of->norms->numbers[AB_NUM_YOUNG_D]) ||
	    listing_within(l, listing_last_tasted_s(b), NEWS_DAYS) != fresh)
		return;
	listing_note_benign(listing_add(l, AB_NEXT_WAIT, b), c);
}

/* Of a batch whose plan a step goes by, at the first of its steps: a beer only named, to be brewed again, has no
 * plan. */
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
	const struct ab_changed *trials[LISTING_TRIALS] = { NULL }, *forgotten = NULL;
	double clock_s = of->today.known && !of->today.relative ? of->today.s : -INFINITY;
	struct listing l = { of, out, 0, today_of(of, clock_s), clock_s, newest_brewed_of(of) };
	size_t n = listing_trials(&l, trials, &forgotten);

	add_safe(&l);
	add_vent(&l);
	if (of->n_ahead > 0)
		listing_add(&l, AB_NEXT_DATE, of->ahead[of->n_ahead - 1]->batch);
	add_tend(&l, true);
	add_tend(&l, false);
	listing_taste(&l, trials, n);
	add_wait(&l, true);
	listing_keep(&l);
	listing_next_brew(&l, trials, n);
	add_wait(&l, false);
	if (forgotten != NULL)
		listing_add(&l, AB_NEXT_FORGOTTEN, listing_brewed_with(of, forgotten))->trial = forgotten;
	for (size_t i = 0; i < l.n; i++)
		out[i].fit = fit_of(&l, i);
	return l.n;
}
