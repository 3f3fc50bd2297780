/* tasted.c - what was tasted, asked for and answered: how a line of it is read stands in taste_words.c
 *
 * A word that no fault has is answered with those that look like it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"
#include "casework/interviewing.h"
#include "casework/taste_words.h"

static const struct ab_tasting *last_tasting(const struct ab_interview *iv)
{
	const struct ab_list *tastings = &iv->now.batch->tastings;
	return tastings->n == 0 ? NULL : (const struct ab_tasting *)tastings->items + tastings->n - 1;
}

/* "That is all" was said, or that nobody can say. What stood in the journal before is taken as it stands. */
bool iv_is_tasted(const struct ab_interview *iv)
{
	const struct ab_tasting *t = last_tasting(iv);
	return iv->was_tasted || (t != NULL && t->complete != AB_UNKNOWN);
}

static bool is_all(const char *text)
{
	static const char *const all[] = { "", "no", "none", "nothing else", "that is all", "that's all",
		"thats all", "that is it", "that's it", "done", "all", "nothing more", "no more", "nope", "n",
		"end", "nothing", NULL };
	return case_is_one_of(text, all);
}

static void say_unknown(struct ab_interview *iv, const char *word, struct ab_reply *reply)
{
	reply->n_near = 0;
	ab_fault_word(iv->setup.k, word, reply->near, sizeof reply->near / sizeof *reply->near, &reply->n_near);
	if (reply->n_near > sizeof reply->near / sizeof *reply->near)
		reply->n_near = sizeof reply->near / sizeof *reply->near;
	snprintf(iv->says, sizeof iv->says, "\"%.60s\" is no word I know for a fault.", word);
	reply->says = iv->says;
}

static void say_how(struct ab_interview *iv, struct ab_reply *reply)
{
	snprintf(iv->says, sizeof iv->says,
	    "Name one thing in your own words, such as \"buttery\" or \"wet cardboard 4\"; "
	    "\"nothing\" when nothing is wrong; \"off\" when it is bad and you cannot say how.");
	reply->says = iv->says;
}

static void say_range(struct ab_interview *iv, const char *word, struct ab_reply *reply)
{
	snprintf(iv->says, sizeof iv->says,
	    "How strong \"%.60s\" is goes from 1 (barely there) to 5 (undrinkable).", word);
	reply->says = iv->says;
}

/* The word as it was said, not the fault's id: the journal is the brewer's own. */
static void write_taste(struct iv_writing *w, const struct case_taste *taste)
{
	char target[96] = "+tasting/found fault", extent[40] = "";
	if (taste->extent != NULL)
		snprintf(extent, sizeof extent, ";extent=%s", taste->extent);
	if (!taste->absent && taste->intensity > 0)
		snprintf(target, sizeof target, "+tasting/found(intensity=%d%s) fault", taste->intensity, extent);
	else if (taste->extent != NULL)
		snprintf(target, sizeof target, "+tasting/found(%s) fault", extent + 1);
	iv_set(w, taste->absent ? "+tasting/absent fault" : target, taste->word, false);
}

/* Everything is understood before anything is written; false after saying what is not. */
static bool is_understood(struct ab_interview *iv, const char *said, struct ab_reply *reply)
{
	struct case_taste taste;
	bool some = false;
	for (const char *rest = said; case_next_taste(iv->setup.k, &rest, &taste);)
		some = some || taste.fault >= 0;
	while (case_next_taste(iv->setup.k, &said, &taste)) {
		/* "much better, a touch of banana" */
		bool remark = some && taste.fault < 0 &&
		    (taste.rest || case_is_praise(taste.word) || case_is_compared(taste.word));
		if (remark || (taste.fault >= 0 && taste.intensity >= 0))
			continue;
		if (taste.fault < 0)
			say_unknown(iv, taste.word, reply);
		else
			say_range(iv, taste.word, reply);
		return false;
	}
	return true;
}

static enum ab_status push(struct ab_interview *iv, struct iv_writing *w, struct ab_reply *reply,
    struct ab_diag *diag)
{
	size_t len;
	char *text = iv_done(w, &len);
	enum ab_status st = text == NULL ? w->st : iv_push(iv, text, len, iv_now(iv)->asked, -1, diag);
	reply->taken = st == AB_OK;
	return st;
}

/* "I cannot say": no fault is made up for it. */
static bool ends_it(struct ab_interview *iv, const char *text)
{
	const struct ab_tasting *t = last_tasting(iv);
	bool some = t != NULL && t->found.n + t->absent.n > 0;
	return some ? is_all(text) || case_is_clean(text) || case_is_unknown(text) : case_is_clean(text);
}

enum ab_status iv_answer_taste(struct ab_interview *iv, const char *said, struct ab_reply *reply,
    struct ab_diag *diag)
{
	struct ab_edit_place place = iv_place(iv);
	struct case_taste taste;
	struct iv_writing w;
	char text[CASE_LINE];
	case_plain(said, text);
	iv_begin(&w, &place, iv->setup.today, diag);
	if (ends_it(iv, text)) {
		/* who cannot say whether there was more has not looked for everything */
		iv_set(&w, "tasting complete", case_is_unknown(text) && *text != '\0' ? "no" : "yes", false);
		return push(iv, &w, reply, diag);
	}
	if (case_is_unknown(text) || text[strcspn(text, "abcdefghijklmnopqrstuvwxyz\200")] == '\0') {
		say_how(iv, reply);
		return AB_OK;
	}
	if (!is_understood(iv, said, reply))
		return AB_OK;
	for (const char *rest = said; case_next_taste(iv->setup.k, &rest, &taste);)
		if (taste.fault >= 0)
			write_taste(&w, &taste);
		else if (taste.rest)
			iv_set(&w, "!tasting complete", "yes", false);
	struct ab_diag why;
	ab_diag_init(&why);
	enum ab_status st = push(iv, &w, reply, &why);
	if (st == AB_EIMPOSSIBLE || st == AB_EINPUT || st == AB_ELIMIT) {
		snprintf(iv->says, sizeof iv->says, "%.600s", why.text);
		reply->says = iv->says;
		return AB_OK;
	}
	return st == AB_OK ? AB_OK : ab_fail(diag, st, why.source, why.line, "%s", why.text);
}
